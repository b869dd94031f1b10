//! Figures that are one of a few words, and what the words are called.

use engine::car::{Form, Key};

/// Whether one of a few words is taken for it.
pub(super) const fn is_choice(key: &Key) -> bool {
    matches!(key.form, Form::Word(_) | Form::Flag)
}

/// What a word of a choice is called.
pub(super) fn word(word: &str) -> String {
    match word {
        "true" => "yes".to_owned(),
        "false" => "no".to_owned(),
        other => other.replace('-', " "),
    }
}

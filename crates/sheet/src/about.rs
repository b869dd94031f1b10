//! A key in a sentence or two: what it is, what is usual, what is taken without it, how it is found out.

use engine::car::{Form, Key, Need};

/// What a key is, what is usual, and what is taken without it.
pub(crate) fn about(key: &Key) -> String {
    let mut about = key.help_as_text();
    if let Some((low, high)) = key.usual {
        about.push_str(&format!(" Usual: {low} to {high}."));
    }
    if let Form::Word(words) = key.form
        && words.iter().any(|word| !key.help.contains(word))
    {
        about.push_str(&format!(" One of: {}.", words.join(", ")));
    }
    if let Some(default) = taken(key) {
        let when = if key.need == Need::Never {
            "Without it"
        } else {
            "As a guess"
        };
        about.push_str(&format!(" {when}: {default}."));
    }
    about
}

/// The same, with how it is found out and when it is needed.
pub(crate) fn explained(key: &Key) -> String {
    let mut about = about(key);
    if !key.when.is_empty() {
        about.push_str(&format!(" Needed {}.", key.when));
    }
    if !key.how.is_empty() {
        about.push_str(&format!(" How: {}", key.how));
    }
    about
}

/// What is taken where a key is left out or guessed.
pub(crate) fn taken(key: &Key) -> Option<&'static str> {
    key.default
        .map(|default| default.strip_prefix("by rule: ").unwrap_or(default))
}

//! Keys of the sheet in a text, each a link to the card that says how its figure is measured.

use engine::car::KeyId;
use maud::{Markup, html};
use questions::measuring::{self, InText};

use super::address;

/// A sentence in which names of keys stand between back quotes. `car`: the car that is asked about; none where nothing can
/// be opened, such as in a file that is handed on.
pub(crate) fn linked(car: Option<&str>, text: &str) -> Markup {
    html! {
        @for piece in measuring::pieces(text) {
            @match piece {
                InText::Words(words) => (words),
                InText::Key(path) => (key(car, path)),
                // Its words stand before it already.
                InText::Behind(path) => span class="typed" { " (" (link(car, path)) ")" },
            }
        }
    }
}

/// A key's name, and the way to its card where a person measures it. On paper, where nothing is typed, it is said in words.
pub(crate) fn key(car: Option<&str>, path: &str) -> Markup {
    html! {
        (link(car, path))
        @if let Some(words) = measuring::in_words(path) { span class="printed" { (words) } }
    }
}

fn link(car: Option<&str>, path: &str) -> Markup {
    let drawing = measuring::of_path(path).and_then(|key| KeyId::key(key).drawing);
    html! {
        @match car.zip(drawing) {
            Some((car, drawing)) => {
                a class="to-card" href=(address::how(drawing, Some(car), Some(path))) title="How to measure it" {
                    code { (path) }
                }
            },
            None => code { (path) },
        }
    }
}

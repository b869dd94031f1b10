//! How far something is that takes long. Whoever shows answers says once who is told; nothing here knows a clock or a
//! screen.

use std::sync::OnceLock;

/// Takes what is done, in a few words, and how much of it, from 0 to 1.
pub type Tell = fn(&str, f64);

static TELLS: OnceLock<Tell> = OnceLock::new();

/// Says who is told. The first who is named stays.
pub fn tell_to(tell: Tell) {
    let _ = TELLS.set(tell);
}

/// Tells how far it is.
pub(crate) fn tell(what: &str, share: f64) {
    if let Some(tell) = TELLS.get() {
        tell(what, share.clamp(0.0, 1.0));
    }
}

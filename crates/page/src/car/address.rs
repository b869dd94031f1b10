//! The address of a page of a car.

use percent_encoding::{AsciiSet, NON_ALPHANUMERIC, utf8_percent_encode};

const IN_A_PATH: &AsciiSet = &NON_ALPHANUMERIC
    .remove(b'-')
    .remove(b'.')
    .remove(b'_')
    .remove(b'~');

/// A car's name as a part of a path.
pub(crate) fn segment(name: &str) -> String {
    utf8_percent_encode(name, IN_A_PATH).to_string()
}

/// The path of a room of a car.
pub(crate) fn path(car: &str, room: &str) -> String {
    format!("/car/{}/{room}", segment(car))
}

//! The address of a page of a car.

use engine::car::Drawing;
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

/// The page of the cards of measuring, from a car or from none.
pub(crate) fn all_hows(car: Option<&str>) -> String {
    format!("/how{}", said(&[("car", car)]))
}

/// A card of measuring, from a car or from none, for a figure or for all of its own.
pub(crate) fn how(drawing: Drawing, car: Option<&str>, key: Option<&str>) -> String {
    format!("/how/{}{}", drawing.name(), said(&[("car", car), ("key", key)]))
}

/// Where a card's form puts a figure onto a car's sheet.
pub(crate) fn put_on(car: &str, drawing: Drawing) -> String {
    format!("/car/{}/how/{}", segment(car), drawing.name())
}

/// What stands behind a path: nothing, or `?…`.
fn said(pairs: &[(&str, Option<&str>)]) -> String {
    let said: Vec<String> = pairs
        .iter()
        .filter_map(|(name, value)| value.map(|value| format!("{name}={}", segment(value))))
        .collect();
    if said.is_empty() {
        String::new()
    } else {
        format!("?{}", said.join("&"))
    }
}

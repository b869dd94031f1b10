//! Readers of what is said of a turn.

use engine::turn::{After, Bend, MOST_CELLS, Release};
use quantity::Dimension;
use quantity::si::{Angle, Duration, Length};

use crate::state::{MOMENT, Range, figure};
use crate::trouble::Wrong;

const TURNED: Range = ("1 deg", "680 deg");

/// The clutch while the hand pulls.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Pressed {
    /// Left alone.
    Up,
    /// Pushed down before the pull.
    Down,
}

/// Where the clutch is.
///
/// # Errors
/// Any other word.
pub(crate) fn pressed(text: &str) -> Result<Pressed, Wrong> {
    match text.trim() {
        "down" => Ok(Pressed::Down),
        "up" => Ok(Pressed::Up),
        other => Err(no_such_word("--clutch", other, "down or up")),
    }
}

/// What the wheel does after the lever is let go.
///
/// # Errors
/// Any other word.
pub(crate) fn after(text: &str) -> Result<After, Wrong> {
    match text.trim() {
        "hold" => Ok(After::Hold),
        "into-slide" => Ok(After::IntoSlide),
        "drives" => Ok(After::Drives),
        other => Err(no_such_word("--after", other, "drives, hold or into-slide")),
    }
}

fn no_such_word(option: &str, text: &str, words: &str) -> Wrong {
    let what = format!("`{text}` is none of the words that are known here");
    let remedy = format!("write {words}");
    Wrong::option(option, text, 0..text.len(), "unknown-word", what, remedy)
}

/// A moment, a heading, the best moment, or never.
///
/// # Errors
/// What is none of them.
pub(crate) fn release(text: &str) -> Result<Release, Wrong> {
    match text.trim() {
        "never" => return Ok(Release::Never),
        "best" => return Ok(Release::Best),
        _ => {}
    }
    if quantity::parse(text, Dimension::Angle).is_ok() {
        return figure("--release", text, Dimension::Angle, TURNED)
            .map(|angle| Release::Heading(Angle::from_rad(angle)));
    }
    figure("--release", text, Dimension::Duration, MOMENT).map(|at| Release::At(Duration::from_s(at)))
}

/// The bend that a turn is driven for: `hairpin`, `junction`, or as [`hairpin`] reads it.
///
/// # Errors
/// What is no such bend.
pub(crate) fn bend(text: &str) -> Result<Bend, Wrong> {
    match text.trim() {
        "hairpin" => Ok(Bend::HAIRPIN),
        "junction" => Ok(Bend::JUNCTION),
        _ => {
            let bend = read_bend("--bend", text, "hairpin, junction, or ")?;
            // It turns to the side that the driver steers to.
            let angle = Angle::from_rad(bend.angle.rad().abs());
            Ok(Bend { angle, ..bend })
        }
    }
}

/// A bend to look a way through: `180 deg, 7 m, 5 m`, angle, radius of the middle of the road, width of the road.
///
/// # Errors
/// What is no such bend.
pub(crate) fn hairpin(text: &str) -> Result<Bend, Wrong> {
    read_bend("--search", text, "")
}

fn read_bend(option: &'static str, text: &str, or: &str) -> Result<Bend, Wrong> {
    let parts: Vec<&str> = text.split(", ").map(str::trim).collect();
    let [angle, radius, width] = parts.as_slice() else {
        let what = format!("`{text}` is not a bend");
        let remedy =
            format!("write {or}angle, radius of the middle of the road and its width: \"180 deg, 7 m, 5 m\"");
        return Err(Wrong::option(
            option,
            text,
            0..text.len(),
            "not-a-bend",
            what,
            remedy,
        ));
    };
    let mut wrong = Wrong::default();
    let mut read = |text: &str, dimension, range| wrong.note(figure(option, text, dimension, range));
    let angle = read(angle, Dimension::Angle, ("-270 deg", "270 deg"));
    let radius = read(radius, Dimension::Length, ("1 m", "100 m"));
    let width = read(width, Dimension::Length, ("2 m", "50 m"));
    match (angle, radius, width) {
        (Some(angle), Some(radius), Some(width)) => Ok(Bend {
            angle: Angle::from_rad(angle),
            radius: Length::from_m(radius),
            width: Length::from_m(width),
        }),
        _ => Err(wrong),
    }
}

/// Rows and columns of a map: `64x64`.
///
/// # Errors
/// What is no such size, or more than is computed.
pub(crate) fn map_size(text: &str) -> Result<(usize, usize), Wrong> {
    let read = |part: &str| {
        part.trim()
            .parse()
            .ok()
            .filter(|count| (2..=MOST_CELLS).contains(count))
    };
    let size = text
        .split_once(['x', '×'])
        .and_then(|(rows, columns)| Some((read(rows)?, read(columns)?)));
    size.ok_or_else(|| {
        let what = format!("`{text}` is no size of a map");
        let remedy = format!("write rows x columns, 2 to {MOST_CELLS} each: 64x64");
        Wrong::option("--map", text, 0..text.len(), "not-a-size", what, remedy)
    })
}

//! How hot it gets, and how long it holds.

mod hold;
mod stage;

pub use hold::{HoldCurves, HoldLine};
pub use stage::StageHeat;

use quantity::{Dimension, Unit, find_unit, units_of};

use crate::geometry::Point;

fn unit(symbol: &str, dimension: Dimension) -> Unit {
    find_unit(symbol, dimension).unwrap_or(units_of(dimension)[0])
}

/// Degrees Celsius: on a car nobody reads others.
fn celsius() -> Unit {
    unit("C", Dimension::Temperature)
}

fn minutes() -> Unit {
    unit("min", Dimension::Duration)
}

/// Points of a curve without those that nobody could tell from the one before.
fn thinned(points: impl IntoIterator<Item = Point>) -> Vec<Point> {
    let mut kept: Vec<Point> = Vec::new();
    let mut waiting = None;
    for point in points {
        if kept.last().is_none_or(|last| last.distance(point) >= 0.8) {
            kept.push(point);
            waiting = None;
        } else {
            waiting = Some(point);
        }
    }
    kept.extend(waiting);
    kept
}

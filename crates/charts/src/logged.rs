//! A stop as it was logged: both pressures over time, and what was computed for the rear.

use quantity::si::{Duration, Pressure};
use quantity::{Dimension, units_of};

use crate::axes::{ABOVE, Axis, BELOW, LABELS, Place, Plot};
use crate::card::Card;
use crate::geometry::Point;
use crate::ink::Line;
use crate::labels::{Labels, Side, along};
use crate::picture::{Look, Picture, PictureTable};
use crate::svg::Hand;
use wording::Column;

/// A moment of it: time from the brake's coming on, front and rear as logged, rear as computed.
pub type LoggedMoment = (Duration, [Pressure; 3]);

/// Everything that the picture shows.
#[derive(Clone, Debug, PartialEq)]
pub struct LoggedStop {
    /// Its moments, in order.
    pub moments: Vec<LoggedMoment>,
}

/// Rows of the table.
const ROWS: usize = 12;

impl LoggedStop {
    /// Draws it.
    #[must_use]
    pub fn draw(&self, look: &Look<'_>) -> Picture {
        let mut card = Card::new(look, "logged", "The hardest stop of the log");
        let end = self.moments.last().map_or(1.0, |moment| moment.0.s()).max(0.1);
        let most = self
            .moments
            .iter()
            .flat_map(|moment| moment.1)
            .map(Pressure::pa)
            .fold(1e6, f64::max);
        let (left, right) = card.sides();
        let place = Place {
            left,
            right,
            top: card.filled + ABOVE,
            height: if look.narrow() { 200.0 } else { 240.0 },
        };
        let seconds = units_of(Dimension::Duration)[0];
        let plot = Plot::new(
            place,
            Axis::over("time", seconds, 0.0, end),
            Axis::over("pressure", look.units.pressure, 0.0, most),
        );
        plot.draw_ground(&mut card.out);
        let mut labels = Labels::within(plot.label_room());
        let lines = [
            (0, Line::Front, "front"),
            (1, Line::Rear, "rear"),
            (2, Line::Ideal, "rear, computed"),
        ];
        let mut named: Vec<(&str, Vec<Point>)> = Vec::new();
        for (which, line, name) in lines {
            let points = thinned(
                self.moments
                    .iter()
                    .map(|moment| plot.point(moment.0.s(), moment.1[which].pa().max(0.0))),
            );
            card.out.line(line, &points);
            labels.avoid_line(&points);
            named.push((name, points));
        }
        for ((name, points), start) in named.iter().zip([0.5, 0.65, 0.3]) {
            labels.name(
                Hand::plain("label", LABELS).bold(),
                name,
                &along(points, start, 1.0),
                &[
                    Side::Above,
                    Side::Below,
                    Side::AboveLeft,
                    Side::BelowRight,
                    Side::Right,
                ],
            );
        }
        labels.draw(&mut card.out);
        card.filled = plot.area.bottom + BELOW;
        let table = self.table(look);
        card.finish(true, table)
    }

    fn table(&self, look: &Look<'_>) -> PictureTable {
        let times = Column::of(units_of(Dimension::Duration)[0], [10.0]);
        let all = self.moments.iter().flat_map(|moment| moment.1).map(Pressure::pa);
        let pressure = Column::of(look.units.pressure, all);
        let step = (self.moments.len() / ROWS).max(1);
        let rows = self
            .moments
            .iter()
            .step_by(step)
            .map(|(time, pressures)| {
                let mut row = vec![times.show(time.s())];
                row.extend(pressures.iter().map(|at| pressure.show(at.pa())));
                row
            })
            .collect();
        let named = |name: &str| wording::named(name, look.units.pressure);
        PictureTable {
            caption: "The hardest stop of the log".to_owned(),
            head: vec![
                "time, s".to_owned(),
                named("front"),
                named("rear"),
                named("rear, computed"),
            ],
            rows,
        }
    }
}

/// Points that nobody could tell from the one before are left out.
fn thinned(points: impl Iterator<Item = Point>) -> Vec<Point> {
    let mut kept: Vec<Point> = Vec::new();
    let mut last = None;
    for point in points {
        if kept.last().is_none_or(|before| before.distance(point) >= 0.8) {
            kept.push(point);
        }
        last = Some(point);
    }
    kept.extend(last);
    kept
}

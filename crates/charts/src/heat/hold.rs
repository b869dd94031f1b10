//! Pressure and holding over the hour after a lever was latched.

use engine::hold::{Hold, HoldMoment};
use engine::thresholds::{SERVICE, START_LINE};

use super::{minutes, thinned};
use crate::axes::{ABOVE, Axis, BELOW, LABELS, Place, Plot};
use crate::card::Card;
use crate::geometry::{Point, at};
use crate::ink::Line;
use crate::labels::{Labels, Side, along, apart};
use crate::picture::{Look, Picture, PictureTable, bare};
use crate::svg::Hand;
use wording::Column;

/// One arrival.
#[derive(Clone, Debug, PartialEq)]
pub struct HoldLine {
    /// `cold`, `warm`, `hot`.
    pub from: &'static str,
    /// Its first hour.
    pub way: Vec<HoldMoment>,
}

/// Everything that the picture shows.
#[derive(Clone, Debug, PartialEq)]
pub struct HoldCurves {
    /// Cold, warm, hot.
    pub lines: Vec<HoldLine>,
}

/// Beyond this torque over torque needed nothing is to be told apart.
const MOST_RATIO: f64 = 6.0;
/// Minutes that have a row in the table.
const ROWS_MIN: [f64; 10] = [0.0, 1.0, 2.0, 5.0, 10.0, 15.0, 20.0, 30.0, 45.0, 60.0];

impl HoldCurves {
    /// Of what came out.
    #[must_use]
    pub fn of(hold: &Hold) -> Self {
        Self {
            lines: hold
                .arrivals
                .iter()
                .map(|arrival| HoldLine {
                    from: arrival.from.name(),
                    way: arrival.way.clone(),
                })
                .collect(),
        }
    }

    /// Draws it.
    #[must_use]
    pub fn draw(&self, look: &Look<'_>) -> Picture {
        let mut card = Card::new(look, "hold", "How long it holds");
        let table = self.table(look);
        let pressures: Vec<(&'static str, Vec<(f64, f64)>)> = self
            .lines
            .iter()
            .map(|line| {
                let points = line
                    .way
                    .iter()
                    .filter_map(|moment| Some((moment.time.s(), moment.pressure?.pa())));
                (line.from, points.collect())
            })
            .filter(|(_, points): &(_, Vec<_>)| points.len() > 1)
            .collect();
        if !pressures.is_empty() {
            let most = pressures
                .iter()
                .flat_map(|(_, points)| points)
                .map(|point| point.1)
                .fold(1e6, f64::max);
            let axis = Axis::over("lowest pressure at a rear brake", look.units.pressure, 0.0, most);
            plot(&mut card, look, axis, &pressures, None);
        }
        let ratios: Vec<(&'static str, Vec<(f64, f64)>)> = self
            .lines
            .iter()
            .map(|line| {
                let points = line
                    .way
                    .iter()
                    .map(|moment| (moment.time.s(), moment.ratio.min(MOST_RATIO)));
                (line.from, points.collect())
            })
            .collect();
        let most = ratios
            .iter()
            .flat_map(|(_, points)| points)
            .map(|point| point.1)
            .fold(1.5, f64::max);
        let axis = Axis::over("holding torque over torque needed", bare(), 0.0, most);
        plot(&mut card, look, axis, &ratios, Some(1.0));
        card.say(
            "Below 1 it rolls. Marked: a start line at 2 min, service at 10 min. Nothing here is parking.",
        );
        card.finish(true, table)
    }

    fn table(&self, look: &Look<'_>) -> PictureTable {
        let times = Column::of(minutes(), [3600.0]);
        let highest = self.lines.iter().flat_map(|line| &line.way);
        let pressure = Column::of(
            look.units.pressure,
            highest
                .filter_map(|moment| moment.pressure)
                .map(|pressure| pressure.pa()),
        );
        let ratio = Column::of(bare(), [2.0]);
        let mut head = vec!["time, min".to_owned()];
        for line in &self.lines {
            head.push(wording::named(
                &format!("{}, pressure", line.from),
                look.units.pressure,
            ));
            head.push(format!("{}, over needed", line.from));
        }
        let rows = ROWS_MIN
            .iter()
            .map(|after| {
                let time_s = after * 60.0;
                let mut row = vec![times.show(time_s)];
                for line in &self.lines {
                    let (pressure_pa, over) = at_time(&line.way, time_s);
                    row.push(pressure.maybe(pressure_pa));
                    row.push(ratio.show(over));
                }
                row
            })
            .collect();
        PictureTable {
            caption: "Pressure and holding after the lever was latched".to_owned(),
            head,
            rows,
        }
    }
}

/// Pressure and ratio at a time, straight between two moments.
fn at_time(way: &[HoldMoment], time_s: f64) -> (Option<f64>, f64) {
    let behind = way.partition_point(|moment| moment.time.s() < time_s);
    let Some((before, after)) = way
        .get(behind.saturating_sub(1))
        .zip(way.get(behind).or_else(|| way.last()))
    else {
        return (None, f64::NAN);
    };
    let span = (after.time - before.time).s();
    let share = if span > 0.0 {
        ((time_s - before.time.s()) / span).clamp(0.0, 1.0)
    } else {
        1.0
    };
    let pressure = before
        .pressure
        .zip(after.pressure)
        .map(|(before, after)| (before + (after - before) * share).pa());
    (pressure, before.ratio + (after.ratio - before.ratio) * share)
}

/// One diagram over the hour, each arrival named on its line.
fn plot(
    card: &mut Card<'_>,
    look: &Look<'_>,
    axis: Axis,
    lines: &[(&'static str, Vec<(f64, f64)>)],
    limit: Option<f64>,
) {
    let (left, right) = card.sides();
    let place = Place {
        left,
        right,
        top: card.filled + ABOVE,
        height: if look.narrow() { 180.0 } else { 200.0 },
    };
    let plot = Plot::new(place, Axis::over("time latched", minutes(), 0.0, 3600.0), axis);
    plot.draw_ground(&mut card.out);
    let mut labels = Labels::within(plot.label_room());
    for mark in [START_LINE, SERVICE] {
        let x = plot.across(mark.s());
        let line = [at(x, plot.area.top), at(x, plot.area.bottom)];
        card.out.line(Line::Hair, &line);
        labels.avoid_thin_line(&line);
    }
    if let Some(limit) = limit {
        let line = [plot.point(0.0, limit), plot.point(3600.0, limit)];
        card.out.line(Line::Limit, &line);
        labels.avoid_thin_line(&line);
    }
    let drawn: Vec<(&str, Vec<Point>)> = lines
        .iter()
        .map(|(from, points)| {
            (
                *from,
                thinned(points.iter().map(|&(time_s, value)| plot.point(time_s, value))),
            )
        })
        .collect();
    for (_, points) in &drawn {
        card.out.line(Line::Rear, points);
        labels.avoid_line(points);
    }
    if let Some(limit) = limit {
        // Where there is no room for it the remark says it.
        let line = [plot.point(0.0, limit), plot.point(3600.0, limit)];
        labels.name_if_clear(
            Hand::plain("label", LABELS),
            "rolls\u{A0}below",
            &along(&line, 0.0, 1.0),
            &[Side::Below, Side::Above],
        );
    }
    for (place, (from, points)) in drawn.iter().enumerate() {
        let others = drawn.iter().enumerate().filter(|(other, _)| *other != place);
        labels.name(
            Hand::plain("label", LABELS).bold(),
            from,
            &apart(along(points, 0.1, 1.0), others.map(|(_, (_, other))| &**other)),
            &[
                Side::Above,
                Side::AboveLeft,
                Side::Below,
                Side::BelowRight,
                Side::Right,
            ],
        );
    }
    labels.draw(&mut card.out);
    card.filled = plot.area.bottom + BELOW;
}

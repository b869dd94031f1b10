//! Speeds and heading of a run over time.

use engine::car::Axle;
use quantity::si::Duration;
use quantity::{Dimension, Unit, find_unit, units_of};

use super::TurnRun;
use crate::axes::{ABOVE, Axis, BELOW, LABELS, Place, Plot};
use crate::card::Card;
use crate::geometry::{Point, at, clipped, thinned};
use crate::ink::Line;
use crate::labels::{Labels, Side, along, apart};
use crate::svg::Hand;

fn unit(symbol: &str, dimension: Dimension) -> Unit {
    find_unit(symbol, dimension).unwrap_or(units_of(dimension)[0])
}

pub(super) fn draw(card: &mut Card<'_>, run: &TurnRun, named: bool) {
    let trace = &run.turn.trace;
    let end = trace.t_s.last().copied().unwrap_or(1.0);
    let (left, right) = card.sides();
    let speeds: [(&str, Line, Vec<f64>); 3] = [
        (
            "car",
            Line::Car,
            trace
                .u_m_s
                .iter()
                .zip(&trace.v_m_s)
                .map(|(u, v)| u.hypot(*v))
                .collect(),
        ),
        (
            "front rolls",
            Line::Front,
            (0..trace.t_s.len())
                .map(|index| run.rolling_m_s(Axle::Front, index))
                .collect(),
        ),
        (
            "rear rolls",
            Line::Rear,
            (0..trace.t_s.len())
                .map(|index| run.rolling_m_s(Axle::Rear, index))
                .collect(),
        ),
    ];
    let name = if named {
        "speed (below: heading) of this run"
    } else {
        "speed"
    };
    let all = speeds.iter().flat_map(|(_, _, values)| values.iter().copied());
    strip(
        card,
        (left, right),
        150.0,
        Axis::over(
            name,
            unit("km/h", Dimension::Speed),
            lowest(all.clone()),
            highest(all),
        ),
        (run, end),
        &speeds,
    );
    let headings = [("heading", Line::Car, trace.heading_rad.clone())];
    let all = trace.heading_rad.iter().copied();
    strip(
        card,
        (left, right),
        110.0,
        Axis::over(
            "heading",
            unit("deg", Dimension::Angle),
            lowest(all.clone()),
            highest(all),
        ),
        (run, end),
        &headings,
    );
}

fn lowest(values: impl Iterator<Item = f64>) -> f64 {
    values.filter(|value| value.is_finite()).fold(0.0, f64::min)
}

fn highest(values: impl Iterator<Item = f64>) -> f64 {
    values.filter(|value| value.is_finite()).fold(0.1, f64::max)
}

fn strip(
    card: &mut Card<'_>,
    (left, right): (f64, f64),
    height: f64,
    axis: Axis,
    (run, end): (&TurnRun, f64),
    curves: &[(&str, Line, Vec<f64>)],
) {
    let place = Place {
        left,
        right,
        top: card.filled + ABOVE,
        height,
    };
    let seconds = units_of(Dimension::Duration)[0];
    let plot = Plot::new(place, Axis::over("time", seconds, 0.0, end), axis);
    plot.draw_ground(&mut card.out);
    let mut labels = Labels::within(plot.label_room());
    let technique = &run.turn.technique;
    let moments = [
        (technique.hand.n() > 0.0).then_some((technique.lever_at.s(), "pulled")),
        run.turn.released.map(|at| (Duration::s(at), "let go")),
    ];
    for (time_s, _) in moments.into_iter().flatten() {
        let x = plot.across(time_s);
        let line = [at(x, plot.area.top), at(x, plot.area.bottom)];
        card.out.line(Line::Limit, &line);
        labels.avoid_thin_line(&line);
    }
    let mut named: Vec<(&str, Vec<Point>)> = Vec::new();
    for (name, line, values) in curves {
        let points: Vec<Point> = run
            .turn
            .trace
            .t_s
            .iter()
            .zip(values)
            .map(|(&time_s, &value)| plot.point(time_s, value))
            .collect();
        for piece in clipped(&points, &plot.area.grown(0.5)) {
            let piece = thinned(&piece, 0.1);
            card.out.line(*line, &piece);
            labels.avoid_line(&piece);
        }
        named.push((name, points));
    }
    for (time_s, words) in moments.into_iter().flatten() {
        let x = plot.across(time_s);
        let line = [at(x, plot.area.top + 8.0), at(x, plot.area.bottom - 8.0)];
        let hand = Hand::plain("label", 14.0).italic(true);
        labels.name(hand, words, &along(&line, 0.0, 1.0), &[Side::Right, Side::Left]);
    }
    for (place, (name, points)) in named.iter().enumerate() {
        let others = named.iter().enumerate().filter(|(other, _)| *other != place);
        labels.name(
            Hand::plain("label", LABELS).bold(),
            name,
            &apart(along(points, 0.1, 1.0), others.map(|(_, (_, other))| &**other)),
            &[
                Side::AboveRight,
                Side::BelowLeft,
                Side::Above,
                Side::Below,
                Side::Right,
            ],
        );
    }
    labels.draw(&mut card.out);
    card.filled = plot.area.bottom + BELOW;
}

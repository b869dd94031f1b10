//! Speed and discs over a stage's way, fluid over time until an hour after.

use engine::heat::{Heat, Moment};
use quantity::Dimension;
use quantity::si::Temperature;

use super::{celsius, minutes, thinned, unit};
use crate::axes::{ABOVE, Axis, BELOW, LABELS, Place, Plot};
use crate::card::Card;
use crate::geometry::{Point, at};
use crate::ink::Line;
use crate::labels::{Labels, Side, along, apart};
use crate::picture::{Look, Picture, PictureTable};
use crate::svg::Hand;
use wording::{Column, NONE};

/// Everything that the picture shows.
#[derive(Clone, Debug, PartialEq)]
pub struct StageHeat {
    /// What the stage is called.
    pub stage: String,
    /// What came of it.
    pub heat: Heat,
}

/// A curve by its name: how it is drawn, and what of a moment it shows.
type Curve = (&'static str, Line, fn(&Moment) -> Temperature);

const DISCS: [Curve; 2] = [
    ("front", Line::Front, |moment| moment.front_disc),
    ("rear", Line::Rear, |moment| moment.rear_disc),
];
const FLUID: [Curve; 2] = [
    ("front", Line::Front, |moment| moment.front_fluid),
    ("rear", Line::Rear, |moment| moment.rear_fluid),
];

/// Where names of curves may stand.
const SIDES: [Side; 5] = [
    Side::AboveLeft,
    Side::Above,
    Side::BelowRight,
    Side::Below,
    Side::Right,
];

/// Rows of the table on the way, and minutes after stopping that have one.
const ROWS: u8 = 10;
const AFTER_MIN: [f64; 6] = [0.0, 5.0, 10.0, 20.0, 40.0, 60.0];

impl StageHeat {
    /// Draws it.
    #[must_use]
    pub fn draw(&self, look: &Look<'_>) -> Picture {
        let mut card = Card::new(look, "stage-heat", format!("How hot it gets: {}", self.stage));
        let table = self.table();
        let running = self.running();
        if running.len() < 2 {
            card.empty("Nothing is driven in this stage.");
            return card.finish(true, table);
        }
        self.speed(&mut card, look, &running);
        self.discs(&mut card, look, &running);
        self.fluid(&mut card, look);
        self.say(&mut card);
        card.finish(true, table)
    }

    fn running(&self) -> Vec<&Moment> {
        let driven = self.heat.driven;
        self.heat
            .way
            .iter()
            .filter(|moment| moment.time <= driven)
            .collect()
    }

    fn place(card: &Card<'_>, height: f64) -> Place {
        let (left, right) = card.sides();
        Place {
            left,
            right,
            top: card.filled + ABOVE,
            height,
        }
    }

    /// The stage itself: the speed that is driven.
    fn speed(&self, card: &mut Card<'_>, look: &Look<'_>, running: &[&Moment]) {
        let fastest = running
            .iter()
            .map(|moment| moment.speed.m_s())
            .fold(10.0, f64::max);
        let height = if look.narrow() { 80.0 } else { 90.0 };
        let plot = Plot::new(
            Self::place(card, height),
            Axis::over(
                "distance",
                unit("km", Dimension::Length),
                0.0,
                self.heat.distance.m(),
            ),
            Axis::over("speed", unit("km/h", Dimension::Speed), 0.0, fastest),
        );
        plot.draw_ground(&mut card.out);
        let line = thinned(
            running
                .iter()
                .map(|moment| plot.point(moment.distance.m(), moment.speed.m_s())),
        );
        card.out.line(Line::Outline, &line);
        card.filled = plot.area.bottom + BELOW;
    }

    fn discs(&self, card: &mut Card<'_>, look: &Look<'_>, running: &[&Moment]) {
        let heat = &self.heat;
        let hottest = running
            .iter()
            .flat_map(|moment| [moment.front_disc.k(), moment.rear_disc.k()])
            .fold(f64::NEG_INFINITY, f64::max);
        let coolest = running.first().map_or(hottest, |first| first.front_disc.k());
        let plot = Plot::new(
            Self::place(card, if look.narrow() { 190.0 } else { 220.0 }),
            Axis::over("distance", unit("km", Dimension::Length), 0.0, heat.distance.m()),
            Axis::over("disc or drum", celsius(), coolest.min(273.15), hottest),
        );
        plot.draw_ground(&mut card.out);
        let mut labels = Labels::within(plot.label_room());
        let top_k = plot.top_si();
        let mut limits = vec![
            ("front\u{A0}pads\u{A0}fade", heat.front.fades_at),
            ("rear\u{A0}pads\u{A0}fade", heat.rear.fades_at),
        ];
        if (heat.front.fades_at - heat.rear.fades_at).dk().abs() < 5.0 {
            limits = vec![("pads\u{A0}fade", heat.front.fades_at)];
        }
        let limits: Vec<(&str, Vec<Point>)> = limits
            .into_iter()
            .filter(|(_, limit)| limit.k() <= top_k)
            .map(|(name, limit)| {
                (
                    name,
                    vec![
                        plot.point(0.0, limit.k()),
                        plot.point(heat.distance.m(), limit.k()),
                    ],
                )
            })
            .collect();
        for (_, limit) in &limits {
            card.out.line(Line::Limit, limit);
            labels.avoid_thin_line(limit);
        }
        let drawn = curves(card, &mut labels, &DISCS, running, |moment, of| {
            plot.point(moment.distance.m(), of.k())
        });
        name(&mut labels, &drawn, 0.35);
        for (limit, line) in &limits {
            labels.name(
                Hand::plain("label", LABELS),
                limit,
                &along(line, 0.02, 0.5),
                &SIDES,
            );
        }
        labels.draw(&mut card.out);
        card.filled = plot.area.bottom + BELOW;
    }

    fn fluid(&self, card: &mut Card<'_>, look: &Look<'_>) {
        let heat = &self.heat;
        let all: Vec<&Moment> = heat.way.iter().collect();
        let end = all.last().map_or(1.0, |last| last.time.s());
        let boiling = &heat.boiling;
        let hottest = heat.front.fluid_soak.max(heat.rear.fluid_soak).max(boiling.dry);
        let coolest = all.first().map_or(273.15, |first| first.front_fluid.k());
        let plot = Plot::new(
            Self::place(card, if look.narrow() { 190.0 } else { 220.0 }),
            Axis::over("time", minutes(), 0.0, end),
            Axis::over(
                "fluid in the caliper",
                celsius(),
                coolest.min(273.15),
                hottest.k(),
            ),
        );
        plot.draw_ground(&mut card.out);
        let mut labels = Labels::within(plot.label_room());
        let stops = plot.across(heat.driven.s());
        let stop = [at(stops, plot.area.top), at(stops, plot.area.bottom)];
        card.out.line(Line::Hair, &stop);
        labels.avoid_thin_line(&stop);
        let limits = [("boils\u{A0}dry", boiling.dry), ("boils\u{A0}wet", boiling.wet)]
            .map(|(name, limit)| (name, [plot.point(0.0, limit.k()), plot.point(end, limit.k())]));
        for (_, limit) in &limits {
            card.out.line(Line::Limit, limit);
            labels.avoid_thin_line(limit);
        }
        let drawn = curves(card, &mut labels, &FLUID, &all, |moment, of| {
            plot.point(moment.time.s(), of.k())
        });
        name(&mut labels, &drawn, 0.55);
        let hand = Hand::plain("label", LABELS);
        for (limit, line) in &limits {
            labels.name(hand, limit, &along(line, 0.02, 0.9), &SIDES);
        }
        let foot_first = [stop[1], stop[0]];
        labels.name(
            hand,
            "stops",
            &along(&foot_first, 0.05, 0.5),
            &[Side::Right, Side::Left],
        );
        labels.draw(&mut card.out);
        card.filled = plot.area.bottom + BELOW;
    }

    fn say(&self, card: &mut Card<'_>) {
        let heat = &self.heat;
        let at = wording::celsius;
        card.say(format!(
            "Discs: front up to {}, rear up to {}.",
            at(heat.front.disc_peak),
            at(heat.rear.disc_peak)
        ));
        card.say(format!(
            "Fluid: front up to {} running and {} in the soak, rear {} and {}.",
            at(heat.front.fluid_running),
            at(heat.front.fluid_soak),
            at(heat.rear.fluid_running),
            at(heat.rear.fluid_soak)
        ));
    }

    fn table(&self) -> PictureTable {
        let (km, celsius, minutes) = (unit("km", Dimension::Length), celsius(), minutes());
        let ways = Column::of(km, [self.heat.distance.m()]);
        let times = Column::of(minutes, [self.heat.driven.s() + 3600.0]);
        let warm = Column::of(celsius, [self.heat.front.disc_peak.k().max(373.15)]);
        let driven_s = self.heat.driven.s();
        let running = (0..=ROWS).map(|row| (driven_s * f64::from(row) / f64::from(ROWS), true));
        let soaking = AFTER_MIN
            .iter()
            .skip(1)
            .map(|after| (driven_s + after * 60.0, false));
        let rows = running
            .chain(soaking)
            .filter_map(|(time_s, driven)| {
                let moment = self.at(time_s)?;
                Some(vec![
                    times.show(time_s),
                    if driven {
                        ways.show(moment.distance.m())
                    } else {
                        NONE.to_owned()
                    },
                    warm.show(moment.front_disc.k()),
                    warm.show(moment.rear_disc.k()),
                    warm.show(moment.front_fluid.k()),
                    warm.show(moment.rear_fluid.k()),
                ])
            })
            .collect();
        PictureTable {
            caption: format!("Temperatures over {} and an hour after", self.stage),
            head: [
                "time, min",
                "distance, km",
                "front disc, °C",
                "rear disc, °C",
                "front fluid, °C",
                "rear fluid, °C",
            ]
            .map(str::to_owned)
            .to_vec(),
            rows,
        }
    }

    /// The moment at a time, straight between the two that were stepped to.
    fn at(&self, time_s: f64) -> Option<Moment> {
        let way = &self.heat.way;
        let behind = way.partition_point(|moment| moment.time.s() < time_s);
        let (before, after) = (
            way.get(behind.saturating_sub(1))?,
            way.get(behind).or_else(|| way.last())?,
        );
        let span = (after.time - before.time).s();
        let share = if span > 0.0 {
            ((time_s - before.time.s()) / span).clamp(0.0, 1.0)
        } else {
            1.0
        };
        let between =
            |from: Temperature, to: Temperature| Temperature::from_k(from.k() + (to.k() - from.k()) * share);
        Some(Moment {
            time: before.time + (after.time - before.time) * share,
            distance: before.distance + (after.distance - before.distance) * share,
            speed: before.speed + (after.speed - before.speed) * share,
            front_disc: between(before.front_disc, after.front_disc),
            front_fluid: between(before.front_fluid, after.front_fluid),
            rear_disc: between(before.rear_disc, after.rear_disc),
            rear_fluid: between(before.rear_fluid, after.rear_fluid),
        })
    }
}

/// Draws curves, the rear's first so that the front's lies over it.
fn curves(
    card: &mut Card<'_>,
    labels: &mut Labels,
    curves: &[Curve],
    moments: &[&Moment],
    place: impl Fn(&Moment, Temperature) -> Point,
) -> Vec<(&'static str, Vec<Point>)> {
    let mut drawn = Vec::new();
    for &(name, line, of) in curves.iter().rev() {
        let points = thinned(moments.iter().map(|moment| place(moment, of(moment))));
        card.out.line(line, &points);
        labels.avoid_line(&points);
        drawn.push((name, points));
    }
    drawn
}

fn name(labels: &mut Labels, drawn: &[(&'static str, Vec<Point>)], from: f64) {
    for (place, (name, points)) in drawn.iter().enumerate() {
        let others = drawn.iter().enumerate().filter(|(other, _)| *other != place);
        labels.name(
            Hand::plain("label", LABELS).bold(),
            name,
            &apart(along(points, from, 1.0), others.map(|(_, (_, other))| &**other)),
            &SIDES,
        );
    }
}

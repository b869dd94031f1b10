//! The pull of a cylinder, drawn.

use core::ops::Deref;

use engine::curves::{CylinderPull, Station};
use engine::hydraulics::TravelEnd;
use quantity::si::{Force, Length, Pressure};

use super::DRIVER;
use crate::axes::{ABOVE, Axis, BELOW, LABELS, Place, Plot, VALUES, ticks};
use crate::card::Card;
use crate::geometry::{Point, Rect, at, clipped};
use crate::ink::Line;
use crate::labels::{Labels, Side, along};
use crate::picture::{Look, Picture, PictureTable};
use crate::svg::{Anchor, Hand, polygon};
use wording::{Column, NONE, named, number};

/// Where the rear locks, warm and cold.
const LOCKS: [&str; 2] = ["locks warm", "locks cold"];

/// A pull to be drawn.
pub(super) struct Drawn<'a>(pub(super) &'a CylinderPull);

impl Deref for Drawn<'_> {
    type Target = CylinderPull;

    fn deref(&self) -> &CylinderPull {
        self.0
    }
}

impl Drawn<'_> {
    fn marks(&self) -> [(&'static str, Option<Station>); 3] {
        [
            (LOCKS[0], self.warm),
            (LOCKS[1], self.cold),
            (DRIVER, Some(self.driver)),
        ]
    }

    pub(super) fn draw(&self, mut card: Card<'_>) -> Picture {
        let look = card.look;
        let (left, right) = card.sides();
        let place = Place {
            left,
            right,
            top: card.filled + ABOVE,
            height: if look.narrow() { 230.0 } else { 280.0 },
        };
        let plot = self.ground(place, look);
        plot.draw_ground(&mut card.out);
        let mut labels = Labels::within(plot.label_room());
        let limits = self.draw_limits(&mut card, &plot, &mut labels);
        self.draw_curve(&mut card, &plot, &mut labels);
        self.draw_needed(&mut card, &plot, &mut labels);
        let hand = Hand::plain("label", LABELS);
        for (words, line) in &limits {
            labels.name(hand, words, &along(line, 0.05, 0.95), &[Side::Left, Side::Right]);
        }
        self.draw_marks(&mut card, &plot, &mut labels);
        labels.draw(&mut card.out);
        card.filled = plot.area.bottom + BELOW + 6.0;
        self.draw_shares(&mut card, &plot);
        self.say(&mut card);
        let table = self.table(look);
        card.finish(true, table)
    }

    fn ground(&self, place: Place, look: &Look<'_>) -> Plot {
        let stations = || self.marks().into_iter().filter_map(|(_, station)| station);
        let finite = |value: &f64| value.is_finite();
        let end = self.room.m().min(self.stroke_ends.m());
        let wide = stations()
            .map(|station| station.travel.m() * 1.06)
            .filter(finite)
            .fold(0.0, f64::max)
            .min((end * 2.5).max(0.25))
            .max(self.room.m() * 1.06)
            .max((self.stroke_ends.m() * 1.06).min(self.room.m() * 1.6));
        let levels = if self.warm.is_none() {
            self.needed
        } else {
            [None; 2]
        };
        let high = stations()
            .filter(|station| station.travel.m() <= wide)
            .map(|station| station.pressure.pa())
            .chain(levels.into_iter().flatten().map(Pressure::pa))
            .filter(finite)
            .fold(10e5, f64::max)
            * 1.12;
        Plot::new(
            place,
            Axis::over("travel of the grip", look.units.length, 0.0, wide),
            Axis::over("pressure at the rear brakes", look.units.pressure, 0.0, high),
        )
    }

    /// Room and stroke as upright limits; gives what they are called.
    fn draw_limits(
        &self,
        card: &mut Card<'_>,
        plot: &Plot,
        labels: &mut Labels,
    ) -> Vec<(String, [Point; 2])> {
        let units = card.look.units;
        let limits = [("room", self.room), ("stroke ends", self.stroke_ends)].map(|(name, travel)| {
            let x = plot.across(travel.m());
            let words = format!("{name} {}", units.say_length(travel)).replace(' ', "\u{A0}");
            (words, [at(x, plot.area.bottom), at(x, plot.area.top - 8.0)])
        });
        let shown: Vec<(String, [Point; 2])> = limits
            .into_iter()
            .filter(|(_, line)| (plot.area.left..=plot.area.right).contains(&line[0].x))
            .collect();
        for (_, line) in &shown {
            card.out.line(Line::Limit, line);
            labels.avoid_line(line);
        }
        shown
    }

    /// Pressures that cannot be reached as level limits.
    fn draw_needed(&self, card: &mut Card<'_>, plot: &Plot, labels: &mut Labels) {
        let (units, precision) = (card.look.units, card.look.precision);
        let hand = Hand::plain("label", LABELS);
        if self.warm.is_none() {
            for (name, needed) in [("warm", self.needed[0]), ("cold", self.needed[1])] {
                let Some(needed) = needed else { continue };
                let y = plot.up(needed.pa());
                let line = [at(plot.area.left, y), at(plot.area.right, y)];
                card.out.line(Line::Limit, &line);
                labels.avoid_line(&line);
                let words = format!("{name} lock needs {}", precision.pressure(needed, &units))
                    .replace(' ', "\u{A0}");
                labels.name(hand, &words, &along(&line, 0.1, 0.8), &[Side::Above, Side::Below]);
            }
        }
    }

    fn draw_curve(&self, card: &mut Card<'_>, plot: &Plot, labels: &mut Labels) {
        let end = self.room.m().min(self.stroke_ends.m());
        let start = Station {
            hand: Force::ZERO,
            travel: Length::ZERO,
            pressure: Pressure::ZERO,
        };
        let spot = |station: &Station| plot.point(station.travel.m(), station.pressure.pa());
        let points: Vec<Point> = core::iter::once(&start).chain(&self.stations).map(spot).collect();
        let reach = Rect {
            right: plot.across(end).min(plot.area.right),
            ..plot.area
        };
        let beyond = Rect {
            left: reach.right,
            ..plot.area
        };
        for piece in clipped(&points, &beyond) {
            if beyond.width() > 0.5 {
                card.out.line(Line::Ideal, &piece);
                labels.avoid_line(&piece);
            }
        }
        for piece in clipped(&points, &reach) {
            card.out.line(Line::Hand, &piece);
            labels.avoid_line(&piece);
        }
        for &(travel, pressure) in &self.measured {
            let point = plot.point(travel.m(), pressure.pa());
            if plot.area.has(point) {
                let stroke = |dx: f64, dy: f64| {
                    crate::svg::polyline(&[at(point.x - dx, point.y - dy), at(point.x + dx, point.y + dy)])
                };
                card.out
                    .shape("mark reading", &(stroke(4.0, 4.0) + &stroke(4.0, -4.0)), false);
                labels.avoid_mark(point, 4.5);
            }
        }
    }

    fn draw_marks(&self, card: &mut Card<'_>, plot: &Plot, labels: &mut Labels) {
        let (units, precision) = (card.look.units, card.look.precision);
        let mut named: Vec<(String, Point)> = Vec::new();
        for (name, station) in self.marks() {
            let Some(station) = station else { continue };
            let point = plot.point(station.travel.m(), station.pressure.pa());
            if !point.is_finite() || !plot.area.grown(0.5).has(point) {
                continue;
            }
            match name {
                "locks warm" => card.out.disc("mark lock-warm", point, 5.0, true),
                "locks cold" => card.out.disc("mark lock-cold", point, 5.0, false),
                _ => {
                    let diamond = [at(0.0, -6.5), at(6.5, 0.0), at(0.0, 6.5), at(-6.5, 0.0)]
                        .map(|corner| at(point.x + corner.x, point.y + corner.y));
                    card.out.shape("mark driver", &polygon(&diamond), false);
                }
            }
            labels.avoid_mark(point, 7.0);
            let hand = if name == DRIVER {
                units.say_force(station.hand)
            } else {
                precision.hand(station.hand, &units)
            };
            let name = match (name, card.look.narrow()) {
                ("locks warm", true) => "warm",
                ("locks cold", true) => "cold",
                (_, true) => "driver",
                (name, false) => name,
            };
            let words = if self.ended_by.is_some() && station == self.driver {
                "as far as it goes".to_owned()
            } else {
                format!("{name}, {hand}")
            };
            named.push((words, point));
        }
        let hand = Hand::plain("label", LABELS);
        let sides = [
            Side::Left,
            Side::AboveLeft,
            Side::Right,
            Side::BelowRight,
            Side::Above,
        ];
        for (words, point) in named {
            labels.name(hand.bold(), &words.replace(' ', "\u{A0}"), &[point], &sides);
        }
        if let Some(&(travel, pressure)) = self.measured.last() {
            let point = plot.point(travel.m(), pressure.pa());
            if plot.area.has(point) {
                labels.name(
                    hand,
                    "measured",
                    &[point],
                    &[Side::Right, Side::BelowRight, Side::Left, Side::AboveLeft],
                );
            }
        }
        self.draw_forces(card, plot, labels);
    }

    /// Round forces of the hand along the curve.
    fn draw_forces(&self, card: &mut Card<'_>, plot: &Plot, labels: &mut Labels) {
        let unit = card.look.units.force;
        let end = self.room.m().min(self.stroke_ends.m());
        let reached = self
            .stations
            .iter()
            .filter(|station| station.travel.m() <= end)
            .map(|station| station.hand.n());
        let most = unit.from_si(reached.fold(0.0, f64::max));
        let round = ticks(0.0, most, if card.look.narrow() { 3 } else { 6 });
        for &value in round.at.iter().filter(|&&value| value > 0.0) {
            let Some(pair) = self
                .stations
                .windows(2)
                .find(|pair| pair[1].hand.n() > pair[0].hand.n() && pair[1].hand.n() >= unit.to_si(value))
            else {
                continue;
            };
            let share = (unit.to_si(value) - pair[0].hand.n()) / (pair[1].hand.n() - pair[0].hand.n());
            let [from, to] =
                [pair[0], pair[1]].map(|station| plot.point(station.travel.m(), station.pressure.pa()));
            let point = from.towards(to, share);
            if !plot.area.has(point) {
                continue;
            }
            let long = from.distance(to).max(1e-9);
            let (nx, ny) = ((from.y - to.y) / long * 7.0, (to.x - from.x) / long * 7.0);
            card.out.line(
                Line::Outline,
                &[at(point.x - nx, point.y - ny), at(point.x + nx, point.y + ny)],
            );
            let words = format!("{}\u{A0}{}", number(value, unit, round.places), unit.shown());
            labels.name_if_clear(
                Hand::plain("value", VALUES),
                &words,
                &[point],
                &[Side::BelowRight, Side::Right, Side::AboveLeft, Side::Left],
            );
        }
    }

    /// What takes the travel: each part a bar that begins where the one before it ended, under the same scale.
    fn draw_shares(&self, card: &mut Card<'_>, plot: &Plot) {
        let (left, right) = card.sides();
        let units = card.look.units;
        let (small, label) = (
            Hand::plain("shares-title", LABELS).bold(),
            Hand::plain("share", VALUES),
        );
        let at_what = if self.warm.is_some() {
            "to the warm lock"
        } else {
            "at the driver's pull"
        };
        let travel = if self.warm.is_some() {
            card.look.precision.travel(self.shared_at.travel, &units)
        } else {
            units.say_length(self.shared_at.travel)
        };
        let title = format!("Travel {at_what}, {travel}");
        card.out.group("shares");
        let mut y = card.filled + 14.0;
        card.out.text_in(small, &title, at(left, y), right - left);
        y += 8.0;
        card.out.line(Line::Hair, &[at(left, y), at(right, y)]);
        let mut until = Length::ZERO;
        for &(name, length) in self.shares.iter().filter(|share| share.1.m() > 1e-6) {
            let (from, to) = (plot.across(until.m()), plot.across((until + length).m()));
            until = until + length;
            let (from, to) = (from.min(plot.area.right), to.min(plot.area.right));
            let rect = Rect::new(from, y + 5.0, to.max(from + 1.5), y + 16.0);
            card.out.bar("share-bar", &rect);
            let words = format!("{name} {}", units.say_length(length)).replace(' ', "\u{A0}");
            let wide = label.width(&words);
            let base = y + 15.5;
            if rect.right + 8.0 + wide <= right {
                card.out.text(label, &words, at(rect.right + 8.0, base));
            } else if rect.left - 8.0 - wide >= left {
                card.out
                    .text(label.anchored(Anchor::End), &words, at(rect.left - 8.0, base));
            } else {
                // As wide as the card: the words stand on the bar.
                card.out
                    .text_in(label, &words, at(rect.left + 6.0, base), rect.width() - 12.0);
            }
            y += 22.0;
            card.out.line(Line::Hair, &[at(left, y), at(right, y)]);
        }
        card.out.close("g");
        card.filled = y;
    }

    fn say(&self, card: &mut Card<'_>) {
        let (units, precision) = (card.look.units, card.look.precision);
        for (name, lock, needed) in [
            ("Warm", self.warm, self.needed[0]),
            ("Cold", self.cold, self.needed[1]),
        ] {
            match (lock, needed) {
                (Some(lock), _) => {
                    let over_room = lock.travel > self.room;
                    let over_stroke = lock.travel > self.stroke_ends;
                    let there_is = match (over_room, over_stroke) {
                        (false, false) => String::new(),
                        (_, true) => ", more than the stroke gives".to_owned(),
                        (true, false) => ", more than there is room for".to_owned(),
                    };
                    card.say(format!(
                        "{name} the rear locks at {}: {} of hand, {} of travel{there_is}.",
                        precision.pressure(lock.pressure, &units),
                        precision.pull(lock.hand, &units),
                        precision.travel(lock.travel, &units),
                    ));
                }
                (None, Some(needed)) => card.say(format!(
                    "{name} the rear would lock at {}: the limiting valve behind the lever lets no such pressure through.",
                    precision.pressure(needed, &units),
                )),
                (None, None) => {}
            }
        }
        let driver = self.driver;
        let ended = match self.ended_by {
            Some(TravelEnd::Room) => "; the room ends there",
            Some(TravelEnd::Stroke) => "; the stroke ends there",
            None => "",
        };
        card.say(format!(
            "The driver's {} makes {} at {}{ended}.",
            wording::pull(driver.hand, &units),
            units.say_pressure(driver.pressure),
            units.say_length(driver.travel),
        ));
    }

    fn table(&self, look: &Look<'_>) -> PictureTable {
        let (units, precision) = (look.units, look.precision);
        let named_stations = self
            .marks()
            .into_iter()
            .filter_map(|(name, station)| Some((name, station?)));
        let all: Vec<(&str, Station)> = self
            .stations
            .iter()
            .step_by(4)
            .map(|&station| ("along the pull", station))
            .chain(named_stations)
            .collect();
        let hand = Column::of(units.force, all.iter().map(|(_, station)| station.hand.n()));
        let ends = [self.room.m(), self.stroke_ends.m()];
        let travels = all.iter().map(|(_, station)| station.travel.m());
        let travel = Column::of(units.length, travels.chain(ends));
        let pressure = Column::of(
            units.pressure,
            all.iter().map(|(_, station)| station.pressure.pa()),
        );
        let mut rows: Vec<Vec<String>> = all
            .iter()
            .map(|(name, station)| {
                // The pulls that lock are the answer's own figures.
                let known = |range| if LOCKS.contains(name) { range } else { None };
                vec![
                    (*name).to_owned(),
                    hand.known(station.hand.n(), known(precision.hand)),
                    travel.known(station.travel.m(), known(precision.travel)),
                    pressure.known(station.pressure.pa(), known(precision.pressure)),
                ]
            })
            .collect();
        let only_travel =
            |name: String, length: Length| vec![name, NONE.into(), travel.show(length.m()), NONE.into()];
        rows.push(only_travel("room".into(), self.room));
        rows.push(only_travel("stroke ends".into(), self.stroke_ends));
        for &(name, length) in &self.shares {
            rows.push(only_travel(format!("taken by {name}"), length));
        }
        for &(length, read) in &self.measured {
            rows.push(vec![
                "measured".into(),
                NONE.into(),
                travel.show(length.m()),
                pressure.show(read.pa()),
            ]);
        }
        PictureTable {
            caption: "The hand's pull: force, travel and pressure, and what takes the travel".into(),
            head: vec![
                "at".into(),
                named("hand", units.force),
                named("travel of the grip", units.length),
                named("pressure at the rear brakes", units.pressure),
            ],
            rows,
        }
    }
}

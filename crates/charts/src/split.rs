//! The split of the braking force: front against rear, the ideal, what this car does, where it first locks.

use core::ops::Deref;

use engine::balance::{Braking, First, Lock};
use engine::curves::SplitLines;
use quantity::Unit;
use quantity::si::Force;

use crate::axes::{ABOVE, Axis, BELOW, LABELS, Place, Plot};
use crate::card::Card;
use crate::geometry::{Point, at, clipped};
use crate::ink::Line;
use crate::labels::{Labels, Side, along, length};
use crate::picture::{Look, Picture, PictureTable, bare, per_cent};
use crate::svg::{Hand, polygon};
use wording::{Column, NONE, named, ratio};

/// What the axes count in.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum ForceScale {
    /// Forces.
    #[default]
    Force,
    /// Shares of the car's weight.
    ShareOfWeight,
}

/// The ideal split is drawn up to this braking rate.
const HIGHEST_RATE: f64 = 1.2;

/// The picture of a split.
#[derive(Clone, Debug, PartialEq)]
pub struct SplitCurves(pub SplitLines);

impl Deref for SplitCurves {
    type Target = SplitLines;

    fn deref(&self) -> &SplitLines {
        &self.0
    }
}

impl SplitCurves {
    /// Draws it.
    #[must_use]
    pub fn draw(&self, look: &Look<'_>, scale: ForceScale) -> Picture {
        let (unit, names) = match scale {
            ForceScale::Force => (look.units.force, ["front braking force", "rear braking force"]),
            ForceScale::ShareOfWeight => (per_cent(), ["front force over weight", "rear force over weight"]),
        };
        let counted = |force: Force| match scale {
            ForceScale::Force => force.n(),
            ForceScale::ShareOfWeight => force / self.weight,
        };
        let mut card = Card::new(look, "split", "Split of the braking force");
        let (left, right) = card.sides();
        let place = Place {
            left,
            right,
            top: card.filled + ABOVE,
            height: if look.narrow() { 250.0 } else { 330.0 },
        };
        let plot = self.ground(place, unit, names, counted);
        plot.draw_ground(&mut card.out);
        let spot = |front: Force, rear: Force| plot.point(counted(front), counted(rear));
        let mut labels = Labels::within(plot.label_room());

        for ground in &self.equal_grip {
            for (line, ends) in [
                (Line::FrontEdge, ground.front_locks),
                (Line::RearEdge, ground.rear_locks),
            ] {
                for piece in clipped(&ends.map(|(front, rear)| spot(front, rear)), &plot.area) {
                    card.out.line(line, &piece);
                    labels.avoid_thin_line(&piece);
                }
            }
        }
        let ideal = self.ideal_curve(&spot);
        for piece in clipped(&ideal, &plot.area) {
            card.out.line(Line::Ideal, &piece);
            labels.avoid_line(&piece);
        }
        let actual: Vec<Point> = self
            .actual
            .iter()
            .map(|braking| spot(braking.front, braking.rear))
            .collect();
        let pieces = clipped(&actual, &plot.area);
        for piece in &pieces {
            card.out.line(Line::Car, piece);
            labels.avoid_line(piece);
        }
        self.draw_rates(&mut card, &plot, &mut labels, &spot);
        self.draw_marks(&mut card, &plot, &mut labels, &spot);

        let hand = Hand::plain("label", LABELS);
        // A curve shorter than its own name is told apart by the remarks.
        let longest = pieces
            .iter()
            .map(|piece| (length(piece), piece))
            .max_by(|one, other| one.0.total_cmp(&other.0));
        let named = longest.is_some_and(|(long, longest)| {
            long > 50.0
                && labels.name_if_clear(
                    hand.bold(),
                    "this car",
                    &along(longest, 0.3, 1.0),
                    &[Side::BelowRight, Side::AboveLeft, Side::Below, Side::Above],
                )
        });
        if !named {
            card.say("The thick line is this car.");
        }
        let inside: Vec<Point> = along(&ideal, 0.2, 1.0)
            .into_iter()
            .filter(|&point| plot.area.has(point))
            .collect();
        labels.name(
            hand,
            "ideal",
            &inside,
            &[Side::Above, Side::AboveLeft, Side::Below, Side::AboveRight],
        );
        let above = |point: Point| is_above(&ideal, point);
        let words = Hand::plain("area", LABELS).italic(true);
        let (far, near) = (
            at(plot.area.left, plot.area.top),
            at(plot.area.right, plot.area.bottom),
        );
        let said = labels.area(words, "rear locks first", far, above)
            & labels.area(words, "front locks first", near, |point| !above(point));
        labels.draw(&mut card.out);

        card.filled = plot.area.bottom + BELOW;
        if !said {
            card.say("Above the dotted curve the rear locks first, below it the front.");
        }
        self.say(&mut card);
        card.finish(true, self.table(unit, counted))
    }

    fn ground(
        &self,
        place: Place,
        unit: Unit,
        names: [&'static str; 2],
        counted: impl Fn(Force) -> f64,
    ) -> Plot {
        let highest_grip = self
            .equal_grip
            .iter()
            .map(|ground| ground.grip)
            .fold(0.0, f64::max);
        let shown_to = (highest_grip * 1.15).clamp(0.9, HIGHEST_RATE);
        let shown = || self.ideal.iter().filter(|ideal| ideal.rate <= shown_to + 1e-9);
        let largest = |forces: &mut dyn Iterator<Item = f64>| {
            forces.filter(|force| force.is_finite()).fold(0.0, f64::max)
        };
        let front = largest(&mut shown().map(|ideal| counted(ideal.front)));
        let rear = largest(&mut shown().map(|ideal| counted(ideal.rear)));
        let own = largest(
            &mut self
                .actual
                .iter()
                .filter(|braking| counted(braking.front) <= front)
                .map(|braking| counted(braking.rear)),
        );
        let (wide, high) = (front * 1.04, rear.max(own.min(rear * 2.2)) * 1.12);
        Plot::new(
            place,
            Axis::over(names[0], unit, 0.0, wide),
            Axis::over(names[1], unit, 0.0, high),
        )
    }

    fn ideal_curve(&self, spot: &impl Fn(Force, Force) -> Point) -> Vec<Point> {
        // The curve is a parabola in the braking rate: between the points that are given it is filled in by three each.
        let mut points = vec![spot(Force::ZERO, Force::ZERO)];
        let known: Vec<(f64, Force, Force)> = core::iter::once((0.0, Force::ZERO, Force::ZERO))
            .chain(
                self.ideal
                    .iter()
                    .map(|ideal| (ideal.rate, ideal.front, ideal.rear)),
            )
            .collect();
        for (index, pair) in known.windows(2).enumerate() {
            let third = known[if index + 2 < known.len() {
                index + 2
            } else {
                index.saturating_sub(1)
            }];
            for quarter in 1..=4_u8 {
                let rate = pair[0].0 + (pair[1].0 - pair[0].0) * f64::from(quarter) / 4.0;
                let through = |of: fn(&(f64, Force, Force)) -> Force| {
                    let [a, b, c] = [pair[0], pair[1], third];
                    let weight = |at: f64, one: f64, other: f64| {
                        (rate - one) * (rate - other) / ((at - one) * (at - other))
                    };
                    of(&a) * weight(a.0, b.0, c.0)
                        + of(&b) * weight(b.0, a.0, c.0)
                        + of(&c) * weight(c.0, a.0, b.0)
                };
                let point = if quarter == 4 {
                    spot(pair[1].1, pair[1].2)
                } else {
                    spot(
                        through(|known| known.1),
                        through(|known| known.2).max(Force::ZERO),
                    )
                };
                points.push(point);
            }
        }
        points
    }

    /// Marks of the braking rate across the ideal, every second with its figure.
    fn draw_rates(
        &self,
        card: &mut Card<'_>,
        plot: &Plot,
        labels: &mut Labels,
        spot: &impl Fn(Force, Force) -> Point,
    ) {
        let value = Hand::plain("value", 14.0);
        let points: Vec<Point> = self
            .ideal
            .iter()
            .map(|ideal| spot(ideal.front, ideal.rear))
            .collect();
        for (index, (ideal, &point)) in self.ideal.iter().zip(&points).enumerate() {
            if !plot.area.has(point) {
                continue;
            }
            let before = index
                .checked_sub(1)
                .map_or_else(|| spot(Force::ZERO, Force::ZERO), |before| points[before]);
            let after = points.get(index + 1).copied().unwrap_or(point);
            let long = before.distance(after).max(1e-9);
            let (nx, ny) = (
                (before.y - after.y) / long * 5.0,
                (after.x - before.x) / long * 5.0,
            );
            card.out.line(
                Line::Outline,
                &[at(point.x - nx, point.y - ny), at(point.x + nx, point.y + ny)],
            );
            if index % 2 == 1 {
                // What finds no place stands in the table.
                let words = format!("{} g", ratio(ideal.rate)).replace(' ', "\u{A0}");
                labels.name_if_clear(
                    value,
                    &words,
                    &[point],
                    &[Side::Above, Side::AboveLeft, Side::Below, Side::BelowRight],
                );
            }
        }
    }

    fn draw_marks(
        &self,
        card: &mut Card<'_>,
        plot: &Plot,
        labels: &mut Labels,
        spot: &impl Fn(Force, Force) -> Point,
    ) {
        let hand = Hand::plain("label", LABELS);
        let locks: Vec<(&Lock, Point)> = self
            .locks
            .iter()
            .filter_map(|(lock, forces)| forces.map(|forces| (lock, spot(forces.front, forces.rear))))
            .filter(|&(_, point)| plot.area.has(point))
            .collect();
        for &(lock, point) in &locks {
            card.out.group("first-lock");
            match lock.first {
                First::Front => card.out.disc("mark front-first", point, 5.0, true),
                First::Rear => card.out.disc("mark rear-first", point, 5.0, false),
                First::Together | First::Neither => {
                    let square = [at(-4.5, -4.5), at(4.5, -4.5), at(4.5, 4.5), at(-4.5, 4.5)]
                        .map(|corner| at(point.x + corner.x, point.y + corner.y));
                    card.out.shape("mark together", &polygon(&square), false);
                }
            }
            card.out.close("g");
            labels.avoid_mark(point, 6.0);
        }
        if let Some((forces, pressure)) = self.knee {
            let point = spot(forces.front, forces.rear);
            if plot.area.has(point) {
                let triangle = [at(0.0, -3.0), at(6.0, 8.0), at(-6.0, 8.0)]
                    .map(|corner| at(point.x + corner.x, point.y + corner.y));
                card.out.shape("mark knee", &polygon(&triangle), true);
                labels.avoid_mark(at(point.x, point.y + 3.0), 7.0);
                let at_pressure = card.look.units.say_pressure(pressure);
                let words = if card.look.narrow() {
                    card.say(format!("The valve's knee is at {at_pressure}."));
                    "knee".to_owned()
                } else {
                    format!("knee {at_pressure}")
                };
                labels.name(
                    hand,
                    &words.replace(' ', "\u{A0}"),
                    &[at(point.x, point.y + 3.0)],
                    &[Side::Below, Side::BelowRight, Side::AboveLeft, Side::Left],
                );
            }
        }
        // From the right: there the room is least.
        for (lock, point) in locks.into_iter().rev() {
            // Which end it is, is told by the mark and below the drawing.
            let words = if card.look.narrow() {
                ratio(lock.grip)
            } else {
                format!("grip {}", ratio(lock.grip))
            };
            labels.name(
                hand,
                &words.replace(' ', "\u{A0}"),
                &[point],
                &[
                    Side::BelowRight,
                    Side::AboveLeft,
                    Side::Right,
                    Side::Left,
                    Side::Below,
                ],
            );
        }
    }

    fn say(&self, card: &mut Card<'_>) {
        let by = |first: First| -> Vec<String> {
            self.locks
                .iter()
                .filter(|(lock, _)| lock.first == first)
                .map(|(lock, _)| ratio(lock.grip))
                .collect()
        };
        for (first, words) in [
            (First::Front, "Front locks first at grip"),
            (First::Rear, "Rear locks first at grip"),
            (First::Together, "All four lock together at grip"),
        ] {
            let grips = by(first);
            if !grips.is_empty() {
                card.say(format!("{words} {}.", grips.join(", ")));
            }
        }
        let none = by(First::Neither);
        if !none.is_empty() {
            let hardest = card.look.units.say_force(self.hardest);
            card.say(format!(
                "Nothing locks at grip {} with up to {hardest} of foot.",
                none.join(", ")
            ));
        }
        if self.tied {
            card.say(
                "The centre ties the axles: one alone locks only once it has more than the coupling carries.",
            );
        }
        card.say(
            "Thin lines bound what the ground of each grip holds: over the solid edge the front locks, over the dashed \
             one the rear. Marks on the dotted curve are braking rates.",
        );
    }

    fn table(&self, unit: Unit, counted: impl Fn(Force) -> f64) -> PictureTable {
        let all = self
            .ideal
            .iter()
            .flat_map(|ideal| [counted(ideal.front), counted(ideal.rear)]);
        let column = Column::of(unit, all);
        let (rate, cell) = (Column::of(bare(), [0.5]), |force: Force| {
            column.show(counted(force))
        });
        let mut rows: Vec<Vec<String>> = Vec::new();
        for (ideal, own) in self.ideal.iter().zip(&self.at_rates) {
            let own = |which: fn(&(Force, Force)) -> Force| {
                own.as_ref().map_or_else(|| NONE.into(), |own| cell(which(own)))
            };
            rows.push(vec![
                "braking rate".into(),
                ratio(ideal.rate),
                cell(ideal.front),
                cell(ideal.rear),
                own(|own| own.0),
                own(|own| own.1),
            ]);
        }
        if let Some((braking, _)) = self.knee {
            rows.push(vec![
                "knee of the valve".into(),
                rate.show(braking.rate),
                NONE.into(),
                NONE.into(),
                cell(braking.front),
                cell(braking.rear),
            ]);
        }
        for (lock, forces) in &self.locks {
            let of = |which: fn(&Braking) -> Force| {
                forces
                    .as_ref()
                    .map_or_else(|| NONE.into(), |forces| cell(which(forces)))
            };
            rows.push(vec![
                format!("grip {}: {}", ratio(lock.grip), first_word(lock.first)),
                rate.maybe(lock.at.map(|at| at.rate)),
                NONE.into(),
                NONE.into(),
                of(|forces| forces.front),
                of(|forces| forces.rear),
            ]);
        }
        PictureTable {
            caption: "Front and rear braking force: the ideal split, and this car's".into(),
            head: vec![
                "at".into(),
                "braking rate, g".into(),
                named("ideal front", unit),
                named("ideal rear", unit),
                named("this car front", unit),
                named("this car rear", unit),
            ],
            rows,
        }
    }
}

/// Which end locks first, in two words.
pub(crate) const fn first_word(first: First) -> &'static str {
    match first {
        First::Front => "front first",
        First::Rear => "rear first",
        First::Together => "all together",
        First::Neither => "no lock",
    }
}

/// Whether a point lies above a curve that runs to the right, or left of its start.
fn is_above(curve: &[Point], point: Point) -> bool {
    for pair in curve.windows(2) {
        if (pair[0].x..=pair[1].x).contains(&point.x) && pair[1].x > pair[0].x {
            let share = (point.x - pair[0].x) / (pair[1].x - pair[0].x);
            return point.y < pair[0].towards(pair[1], share).y;
        }
    }
    curve.last().is_some_and(|last| point.y < last.y)
}

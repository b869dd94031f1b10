//! The car from above: its circuits as they run, and at each wheel the figure of the question at hand.
//!
//! A plan of fixed places, not to scale, nose up. Components and runs come from the engine's circuit; nothing of the
//! topology is known here.

pub(crate) mod fluid;
mod layout;
mod symbols;
mod wheels;

use engine::car::circuit::{Circuit, Piece};
use engine::car::{Brake, Car, LeverKind, Master};

pub use wheels::{AtWheel, WheelFigure, WheelState};

use crate::axes::LABELS;
use crate::card::Card;
use crate::geometry::{Point, Rect, at};
use crate::ink::Line;
use crate::labels::{Labels, Side, along, length};
use crate::part;
use crate::picture::{Look, Picture, PictureTable};
use crate::svg::{Anchor, Hand, polyline, rounded};
use fluid::Fed;
use layout::Layout;
use wording::NONE;

/// Everything that the picture shows.
#[derive(Clone, Debug, PartialEq)]
pub struct FromAbove {
    /// The question at hand, in a few words: `pressure at 300 N of foot`.
    pub question: String,
    /// Components and runs.
    pub circuit: Circuit,
    /// At the four wheels, in the order of every list of wheels.
    pub wheels: [AtWheel; 4],
    /// Whether two cylinders stand where a tandem would.
    pub twin: bool,
    /// Whether a cable runs from the lever to the rear brakes.
    pub cable: bool,
    /// Whether front and rear brakes are drums.
    pub drums: [bool; 2],
}

impl FromAbove {
    /// Of a car with a circuit: its own, or one to compare with.
    #[must_use]
    pub fn of(car: &Car, circuit: Circuit, question: impl Into<String>, wheels: [AtWheel; 4]) -> Self {
        let drum = |brake: &Brake| matches!(brake, Brake::Drum(_));
        Self {
            question: question.into(),
            circuit,
            wheels,
            twin: matches!(car.master, Master::Twin { .. }),
            cable: car
                .lever
                .as_ref()
                .is_some_and(|lever| matches!(lever.kind, LeverKind::Cable(_))),
            drums: [drum(&car.front_brake), drum(&car.rear_brake)],
        }
    }

    /// Draws it.
    #[must_use]
    pub fn draw(&self, look: &Look<'_>) -> Picture {
        let mut card = Card::new(look, "plan", "The car from above");
        let fed = fluid::feeds(&self.circuit);
        let (left, right) = card.sides();
        let question = Hand::plain("question", 14.0);
        card.out.text_in(
            question,
            &self.question,
            at(left, card.filled + 18.0),
            right - left,
        );
        let layout = Layout::of(self, look, card.filled + 46.0);
        let mut labels = Labels::within(Rect::new(left, card.filled + 24.0, right, layout.bottom()));
        symbols::body(&mut card.out, &layout);
        for (wheel, at_wheel) in engine::car::Wheel::ALL.into_iter().zip(&self.wheels) {
            let taken = wheels::draw(&mut card, &layout, wheel, at_wheel);
            for rect in taken {
                labels.avoid(rect);
            }
        }
        let paths = self.draw_runs(&mut card, &layout, &fed, &mut labels);
        self.draw_cable(&mut card, &layout, &mut labels);
        for (index, component) in self.circuit.components.iter().enumerate() {
            let spot = layout.spot(index);
            let lever = matches!(component.part, Piece::LeverCylinder | Piece::LeverMaster);
            labels.avoid(if lever {
                layout.with_handle(&spot)
            } else {
                spot.grown(1.0)
            });
            symbols::component(&mut card.out, self, component, spot, &layout);
        }
        self.name_components(&layout, &mut labels);
        self.name_circuits(&paths, &fed, &mut labels);
        labels.draw(&mut card.out);
        card.filled = layout.bottom();
        self.say(&mut card, &fed);
        let table = self.table(&fed, look);
        card.finish(false, table)
    }

    fn draw_runs(
        &self,
        card: &mut Card<'_>,
        layout: &Layout,
        fed: &[Fed],
        labels: &mut Labels,
    ) -> Vec<Vec<Point>> {
        let mut paths = Vec::with_capacity(self.circuit.runs.len());
        for (run, &fed) in self.circuit.runs.iter().zip(fed) {
            let points = layout.route(&self.circuit, run.from, run.to);
            let path = rounded(&points, 9.0);
            let line = fed.line();
            card.out.group("run");
            card.out.bridge(&path, if line == Line::Hand { 9.0 } else { 7.0 });
            card.out.path(line, fed.class(), &path);
            card.out.close("g");
            labels.avoid_line(&points);
            paths.push(points);
        }
        paths
    }

    fn draw_cable(&self, card: &mut Card<'_>, layout: &Layout, labels: &mut Labels) {
        if !self.cable {
            return;
        }
        let (lever, [left, right]) = layout.cable();
        let spread = at(lever.x, left.y);
        card.out.group("cable");
        for points in [vec![at(lever.x, lever.bottom), spread], vec![left, right]] {
            let path = polyline(&points);
            card.out.bridge(&path, 9.0);
            card.out.path(Line::Hand, "cable", &path);
            labels.avoid_line(&points);
        }
        let bar = Rect::new(spread.x - 9.0, spread.y - 4.0, spread.x + 9.0, spread.y + 4.0);
        card.out
            .boxed("component equaliser", &bar, 2.0, crate::ink::PAPER, Some(1.6));
        symbols::lever(&mut card.out, &layout.cable_lever(), layout);
        card.out.close("g");
        let hand = Hand::plain("label", LABELS);
        labels.avoid(layout.with_handle(&layout.cable_lever()));
        labels.name(
            hand,
            "lever",
            &[layout.cable_lever().corners()[0]],
            &[Side::Left, Side::AboveLeft],
        );
        labels.name(
            hand,
            "cable",
            &along(&[at(lever.x, lever.bottom), spread], 0.3, 0.8),
            &[Side::Right, Side::Left],
        );
    }

    fn name_components(&self, layout: &Layout, labels: &mut Labels) {
        let hand = Hand::plain("label", LABELS);
        for (index, component) in self.circuit.components.iter().enumerate() {
            let Some(words) = part::words(component, self.twin) else {
                continue;
            };
            let spot = layout.spot(index);
            let middle = f64::midpoint(spot.top, spot.bottom);
            let points = [at(spot.right, middle), at(spot.left, middle)];
            let left_first = component.name.ends_with("_left");
            let (points, sides) = if left_first || (layout.leans() && component.part != Piece::LeverMaster) {
                (
                    [points[1], points[0]],
                    [Side::Left, Side::BelowLeft, Side::AboveLeft, Side::Right],
                )
            } else {
                (
                    points,
                    [Side::Right, Side::BelowRight, Side::AboveRight, Side::Left],
                )
            };
            labels.name(hand, &words.replace(' ', "\u{A0}"), &points, &sides);
        }
    }

    /// Each circuit by its name, beside its longest run.
    fn name_circuits(&self, paths: &[Vec<Point>], fed: &[Fed], labels: &mut Labels) {
        let hand = Hand::plain("circuit-name", 14.0).italic(true);
        for circuit in Fed::ALL {
            let longest = paths
                .iter()
                .zip(fed)
                .filter(|&(_, &fed)| fed == circuit)
                .map(|(path, _)| path)
                .max_by(|one, other| length(one).total_cmp(&length(other)));
            if let Some(path) = longest {
                let words = circuit.name(self.diagonal()).replace(' ', "\u{A0}");
                labels.name(
                    hand,
                    &words,
                    &along(path, 0.15, 0.85),
                    &[
                        Side::Right,
                        Side::Above,
                        Side::Below,
                        Side::Left,
                        Side::BelowRight,
                    ],
                );
            }
        }
    }

    fn diagonal(&self) -> bool {
        self.circuit
            .components
            .iter()
            .any(|component| component.part == Piece::Master && component.ports.len() > 3)
    }

    fn fed_by(&self, wheel: engine::car::Wheel, fed: &[Fed], lever: bool) -> Option<Fed> {
        let wanted = if lever {
            Piece::LeverBrake(wheel)
        } else {
            Piece::Brake(wheel)
        };
        let component = self
            .circuit
            .components
            .iter()
            .position(|component| component.part == wanted)?;
        let run = self
            .circuit
            .runs
            .iter()
            .position(|run| run.to.component == component || run.from.component == component)?;
        fed.get(run).copied()
    }

    fn say(&self, card: &mut Card<'_>, fed: &[Fed]) {
        let units = card.look.units;
        card.say(format!("{}.", self.question.trim_end_matches('.')));
        for (wheel, at_wheel) in engine::car::Wheel::ALL.into_iter().zip(&self.wheels) {
            let mut words = vec![wheels::name(wheel).to_owned()];
            words.extend(at_wheel.figure.words(&units));
            words.extend(
                at_wheel
                    .lever
                    .words(&units)
                    .map(|words| format!("{words} by the lever")),
            );
            words.extend(
                at_wheel
                    .note
                    .as_ref()
                    .map(|(what, figure)| format!("{what} {figure}")),
            );
            words.extend(at_wheel.state.word().map(str::to_owned));
            words.extend(
                self.fed_by(wheel, fed, false)
                    .map(|fed| format!("on the {}", fed.name(self.diagonal()))),
            );
            card.say(format!("{}.", words.join(", ")));
        }
    }

    fn table(&self, fed: &[Fed], look: &Look<'_>) -> PictureTable {
        let has_lever = self.wheels.iter().any(|wheel| wheel.lever != WheelFigure::None);
        let mut head = vec!["wheel".to_owned(), self.question.clone()];
        if has_lever {
            head.push("by the lever".into());
        }
        head.extend(["locks or rolls".into(), "fed by".into()]);
        let rows = engine::car::Wheel::ALL
            .into_iter()
            .zip(&self.wheels)
            .map(|(wheel, at_wheel)| {
                let cell = |figure: &WheelFigure| figure.words(&look.units).unwrap_or_else(|| NONE.into());
                let mut figure = cell(&at_wheel.figure);
                if let Some((what, note)) = &at_wheel.note {
                    figure = format!("{figure}, {what} {note}");
                }
                let mut row = vec![wheels::name(wheel).to_owned(), figure];
                if has_lever {
                    row.push(cell(&at_wheel.lever));
                }
                row.push(at_wheel.state.word().unwrap_or(NONE).to_owned());
                let by = |lever| {
                    self.fed_by(wheel, fed, lever)
                        .map(|fed| fed.name(self.diagonal()).to_owned())
                };
                let all: Vec<String> = [by(false), by(true)].into_iter().flatten().collect();
                row.push(if all.is_empty() {
                    NONE.into()
                } else {
                    all.join(" and ")
                });
                row
            })
            .collect();
        PictureTable {
            caption: self.question.clone(),
            head,
            rows,
        }
    }
}

/// Texts on this side of the car end at the wheel, on the other they start there.
const fn outward(side: f64) -> Anchor {
    if side < 0.0 { Anchor::End } else { Anchor::Start }
}

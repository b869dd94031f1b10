//! The plumbing drawing: the car from above on a sheet of A4, every joint numbered as on the list, every run with its
//! length, and the list beneath.
//!
//! Fixed places, not to scale, nose up. Components, runs and joints come from [`plumbing::Plumbing`]; nothing of the
//! topology is known here. What can be told from a colour can be told from a line's style and a mark's shape.

mod layout;
mod list;
mod symbols;

use engine::car::circuit::{Circuit, Piece};
use engine::car::{Car, LeverKind, Master, Wheel};
use plumbing::{Cut, End, Joint, Made, Meeting, Plumbing};

use crate::card::Card;
use crate::from_above::fluid::{Fed, feeds};
use crate::geometry::{Point, Rect, at};
use crate::ink::Line;
use crate::labels::{Labels, Side, along, length};
use crate::part;
use crate::picture::{Look, Picture, PictureTable, Width};
use crate::svg::{Anchor, Hand, rounded};
use layout::Layout;

/// From a port to the middle of its joint's mark.
const FROM_PORT: f64 = 17.0;
/// Half of a mark.
pub(super) const MARK: f64 = 9.5;

/// How a joint is marked.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum JointSign {
    /// It mates: a ring.
    Mates,
    /// With an adapter: a double ring.
    Adapter,
    /// Nothing joins it: a square.
    NothingJoins,
    /// Nobody says what the port is: a broken ring.
    NotKnown,
    /// It is not touched: a thin ring.
    Stays,
}

impl JointSign {
    const ALL: [Self; 5] = [
        Self::Mates,
        Self::Adapter,
        Self::NothingJoins,
        Self::NotKnown,
        Self::Stays,
    ];

    const fn words(self) -> &'static str {
        match self {
            Self::Mates => "mates as it is",
            Self::Adapter => "with an adapter",
            Self::NothingJoins => "nothing joins it: change one of the two",
            Self::NotKnown => "port not known: look first",
            Self::Stays => "stays",
        }
    }
}

/// A joint as the drawing shows it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct DrawnJoint {
    /// Number on the list.
    pub number: usize,
    /// Number of the run in the circuit.
    pub run: usize,
    /// Whether it is at the run's first end.
    pub first_end: bool,
    /// How it is marked.
    pub sign: JointSign,
    /// Where it is, in words.
    pub place: String,
    /// Thread and seat, in words.
    pub spec: String,
}

/// Everything that the drawing shows.
#[derive(Clone, Debug, PartialEq)]
pub struct LinesDrawing {
    /// Components and runs.
    pub circuit: Circuit,
    /// Joints, as numbered on the list.
    pub joints: Vec<DrawnJoint>,
    /// What each run is cut to, in words: `480 mm`, or that it wants a tape; empty where nothing is cut.
    pub lengths: Vec<String>,
    /// Whether two cylinders stand where a tandem would.
    pub twin: bool,
    /// Whether a cable runs from the lever to the rear brakes.
    pub cable: bool,
}

impl LinesDrawing {
    /// Of a car and its plumbing, lengths in a unit.
    #[must_use]
    pub fn of(car: &Car, plumbing: &Plumbing, length: quantity::Unit) -> Self {
        let words = |cut: &Cut| match cut.made {
            Made::Direct => String::new(),
            _ if cut.wants_tape() => "tape it".to_owned(),
            _ => cut
                .cut()
                .map_or_else(String::new, |to| wording::figure(to.m(), length)),
        };
        Self {
            circuit: plumbing.circuit.clone(),
            joints: plumbing.joints.iter().map(drawn).collect(),
            lengths: plumbing.cuts.iter().map(words).collect(),
            twin: matches!(car.master, Master::Twin { .. }),
            cable: car
                .lever
                .as_ref()
                .is_some_and(|lever| matches!(lever.kind, LeverKind::Cable(_))),
        }
    }

    fn diagonal(&self) -> bool {
        self.circuit
            .components
            .iter()
            .any(|component| component.part == Piece::Master && component.ports.len() > 3)
    }

    /// Draws it. It is as wide as a sheet of paper whatever the look asks for: numbers on a narrow one could not be read.
    #[must_use]
    pub fn draw(&self, look: &Look<'_>) -> Picture {
        let wide = Look {
            width: Width::Wide,
            ..*look
        };
        let mut card = Card::new(&wide, "lines-drawing", "Lines and joints");
        let fed = feeds(&self.circuit);
        let (left, right) = card.sides();
        let layout = Layout::of(self, card.width() / 2.0, card.filled + 22.0);
        let bounds = Rect::new(left, card.filled + 4.0, right, layout.bottom());
        let mut labels = Labels::within(bounds);
        symbols::body(&mut card.out, &layout);
        for wheel in Wheel::ALL {
            labels.avoid(symbols::wheel(&mut card.out, &layout, wheel));
        }
        let paths = self.runs(&mut card, &layout, &fed, &mut labels);
        self.cable(&mut card, &layout, &mut labels);
        for (index, component) in self.circuit.components.iter().enumerate() {
            let spot = layout.spot(index);
            labels.avoid(symbols::taken(component, &spot));
            symbols::component(&mut card.out, self, component, &spot);
        }
        self.marks(&mut card, &paths, &mut labels);
        self.names(&layout, &mut labels);
        self.run_lengths(&paths, &mut labels);
        labels.draw(&mut card.out);
        card.filled = layout.bottom();
        list::legend(&mut card, self, &fed);
        if look.listed {
            list::joints(&mut card, self);
        }
        self.say(&mut card, &fed);
        card.finish(false, self.table())
    }

    fn runs(
        &self,
        card: &mut Card<'_>,
        layout: &Layout,
        fed: &[Fed],
        labels: &mut Labels,
    ) -> Vec<Vec<Point>> {
        let mut paths = Vec::with_capacity(self.circuit.runs.len());
        for (run, fed) in self.circuit.runs.iter().zip(fed) {
            let points = layout.route(&self.circuit, run.from, run.to);
            let path = rounded(&points, 10.0);
            let line = fed.line();
            card.out.group("run");
            card.out
                .bridge(&path, if line == Line::Hand { 10.0 } else { 8.0 });
            card.out.path(line, fed.class(), &path);
            card.out.close("g");
            labels.avoid_line(&points);
            paths.push(points);
        }
        paths
    }

    fn cable(&self, card: &mut Card<'_>, layout: &Layout, labels: &mut Labels) {
        if !self.cable {
            return;
        }
        let (lever, points) = layout.cable();
        card.out.group("cable");
        for points in points {
            let path = rounded(&points, 10.0);
            card.out.bridge(&path, 10.0);
            card.out.path(Line::Hand, "cable", &path);
            labels.avoid_line(&points);
        }
        symbols::lever(&mut card.out, &lever);
        card.out.close("g");
        labels.avoid(symbols::with_handle(&lever));
        let hand = Hand::plain("label", 12.0);
        labels.name(
            hand,
            "lever and\u{A0}cable",
            &[at(lever.left, lever.top)],
            &[Side::Left, Side::AboveLeft],
        );
    }

    fn marks(&self, card: &mut Card<'_>, paths: &[Vec<Point>], labels: &mut Labels) {
        for joint in &self.joints {
            let Some(path) = paths.get(joint.run) else {
                continue;
            };
            let far = length(path);
            let share = if far > 0.0 {
                (FROM_PORT / far).min(0.3)
            } else {
                0.0
            };
            let share = if joint.first_end { share } else { 1.0 - share };
            let Some(&spot) = along(path, share, share).first() else {
                continue;
            };
            symbols::mark(&mut card.out, joint.sign, &joint.number.to_string(), spot);
            labels.avoid_mark(spot, MARK + 1.0);
        }
    }

    fn names(&self, layout: &Layout, labels: &mut Labels) {
        let hand = Hand::plain("label", 12.0);
        for (index, component) in self.circuit.components.iter().enumerate() {
            let Some(words) = part::words(component, self.twin) else {
                continue;
            };
            let spot = layout.spot(index);
            let middle = f64::midpoint(spot.top, spot.bottom);
            let (near, far) = (at(spot.right, middle), at(spot.left, middle));
            let left_first =
                component.name.ends_with("_left") || (layout.leans() && component.part != Piece::LeverMaster);
            let (points, sides) = if left_first {
                (
                    [far, near],
                    [Side::Left, Side::BelowLeft, Side::AboveLeft, Side::Right],
                )
            } else {
                (
                    [near, far],
                    [Side::Right, Side::BelowRight, Side::AboveRight, Side::Left],
                )
            };
            labels.name(hand, &words.replace(' ', "\u{A0}"), &points, &sides);
        }
    }

    fn run_lengths(&self, paths: &[Vec<Point>], labels: &mut Labels) {
        let hand = Hand::plain("run-length", 11.0).italic(true);
        for (path, words) in paths.iter().zip(&self.lengths) {
            if words.is_empty() {
                continue;
            }
            labels.name(
                hand,
                words,
                &along(path, 0.35, 0.65),
                &[Side::Above, Side::Below, Side::Right, Side::Left],
            );
        }
    }

    fn say(&self, card: &mut Card<'_>, fed: &[Fed]) {
        for (run, fed) in self.circuit.runs.iter().zip(fed) {
            card.say(format!(
                "{}: {}.",
                plumbing::run_words(run.name),
                fed.name(self.diagonal())
            ));
        }
    }

    fn table(&self) -> PictureTable {
        PictureTable {
            caption: "Joints, as numbered on the drawing".to_owned(),
            head: ["joint", "where", "run", "thread and seat", "mates"]
                .map(str::to_owned)
                .to_vec(),
            rows: self
                .joints
                .iter()
                .map(|joint| {
                    let run = self
                        .circuit
                        .runs
                        .get(joint.run)
                        .map_or_else(String::new, |run| plumbing::run_words(run.name));
                    vec![
                        joint.number.to_string(),
                        joint.place.clone(),
                        run,
                        joint.spec.clone(),
                        joint.sign.words().to_owned(),
                    ]
                })
                .collect(),
        }
    }
}

fn drawn(joint: &Joint) -> DrawnJoint {
    DrawnJoint {
        number: joint.number,
        run: joint.run,
        first_end: joint.end == End::A,
        sign: match joint.meeting {
            Meeting::Mates { .. } | Meeting::Crimped => JointSign::Mates,
            Meeting::Adapter { .. } => JointSign::Adapter,
            Meeting::None { .. } | Meeting::Joins => JointSign::NothingJoins,
            Meeting::Stays => JointSign::Stays,
            Meeting::NotKnown => JointSign::NotKnown,
        },
        place: joint.place.clone(),
        spec: match (joint.spec, &joint.meeting) {
            (Some(spec), _) => spec.to_string(),
            (None, Meeting::Crimped) => "hose's own end".to_owned(),
            (None, Meeting::Stays) => "as it is".to_owned(),
            (None, _) => "not known".to_owned(),
        },
    }
}

/// Texts left of the car end there, on the right they start there.
const fn outward(side: f64) -> Anchor {
    if side < 0.0 { Anchor::End } else { Anchor::Start }
}

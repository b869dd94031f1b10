//! A turn, run: seen from above with the tracks of the wheels, and its speeds over time; and a map of many.

mod above;
mod map;
mod over_time;

use engine::car::{Axle, Car};
use engine::turn::Turn;
use quantity::si::{Angle, Speed};
use quantity::{Dimension, find_unit, units_of};

use crate::card::Card;
use crate::picture::{Look, Picture, PictureTable};
use wording::{Column, NONE, degrees, seconds};

pub use map::TurnMap;

/// One run, with what is needed to draw it.
#[derive(Clone, Debug, PartialEq)]
pub struct TurnRun {
    /// What is run: the car, or what is changed on it; any text.
    pub name: String,
    /// What came of it.
    pub turn: Turn,
    /// Rolling radius of the front and rear tyres (m).
    pub radii_m: [f64; 2],
}

/// One run, or several set-ups beside each other on the same ground and scale.
#[derive(Clone, Debug, PartialEq)]
pub struct TurnFromAbove {
    /// The runs; at most three are drawn.
    pub runs: Vec<TurnRun>,
    /// Whether the speeds over time stand below.
    pub over_time: bool,
    /// Whether the drawing carries where the four wheels are at every moment, for whoever moves a car over it: an empty
    /// group of the class `moving` for each run, its `data-poses` written as `x,y x,y x,y x,y m;`, wheel by wheel in the
    /// order of every list of wheels, `m` the sum of 1, 2, 4, 8 for those that stand; its `data-times` in seconds, its
    /// `data-speeds` in km/h.
    pub playable: bool,
}

/// Most runs that stand beside each other.
const MOST_RUNS: usize = 3;

impl TurnRun {
    /// Of a car's run.
    #[must_use]
    pub fn of(name: impl Into<String>, car: &Car, turn: Turn) -> Self {
        Self {
            name: name.into(),
            turn,
            radii_m: [car.tyres.front_radius.m(), car.tyres.rear_radius.m()],
        }
    }

    /// Rolling speed of an axle at a moment of the trace, both wheels' mean (m/s).
    fn rolling_m_s(&self, axle: Axle, index: usize) -> f64 {
        let (first, radius) = match axle {
            Axle::Front => (0, self.radii_m[0]),
            Axle::Rear => (2, self.radii_m[1]),
        };
        let spin = |wheel: usize| {
            let spins: &Vec<f64> = &self.turn.trace.wheel_rad_s[wheel];
            spins.get(index).copied().unwrap_or(f64::NAN)
        };
        0.5 * (spin(first) + spin(first + 1)) * radius
    }
}

impl TurnFromAbove {
    /// One run by itself, its speeds over time below.
    #[must_use]
    pub fn one(run: TurnRun) -> Self {
        Self {
            runs: vec![run],
            over_time: true,
            playable: false,
        }
    }

    /// Draws it.
    #[must_use]
    pub fn draw(&self, look: &Look<'_>) -> Picture {
        let mut card = Card::new(look, "turn", "Does it come round?");
        let table = self.table();
        let runs: Vec<&TurnRun> = self.runs.iter().take(MOST_RUNS).collect();
        if runs.iter().all(|run| run.turn.trace.t_s.len() < 2) {
            card.empty("Nothing was run.");
            return card.finish(true, table);
        }
        above::draw(&mut card, &runs, self.playable);
        if self.over_time {
            for run in &runs {
                over_time::draw(&mut card, run, runs.len() > 1);
            }
        }
        for run in &runs {
            card.say(said(run, runs.len() > 1));
        }
        card.say(
            "Thin: the wheel rolls; thick: it is locked and slides. Front solid, rear dashed. Double: the handbrake is \
             pulled. The outline is the rectangle of the wheels, and the shade what it sweeps; overhangs are not counted. Dotted: the edges of the road, \
             the run begun where it goes best.",
        );
        card.finish(true, table)
    }

    /// Draws the speeds over time alone.
    #[must_use]
    pub fn draw_speeds(&self, look: &Look<'_>) -> Picture {
        let mut card = Card::new(look, "turn speeds", "Speeds over time");
        let table = self.table();
        let runs: Vec<&TurnRun> = self.runs.iter().take(MOST_RUNS).collect();
        if runs.iter().all(|run| run.turn.trace.t_s.len() < 2) {
            card.empty("Nothing was run.");
            return card.finish(true, table);
        }
        for run in &runs {
            over_time::draw(&mut card, run, runs.len() > 1);
        }
        card.finish(true, table)
    }

    /// The motion in steps that can be read.
    fn table(&self) -> PictureTable {
        let several = self.runs.len() > 1;
        let mut head: Vec<String> = Vec::new();
        if several {
            head.push("run".into());
        }
        head.extend(
            [
                "time, s",
                "along, m",
                "to the left, m",
                "heading, °",
                "speed, km/h",
                "front rolls, km/h",
                "rear rolls, km/h",
                "stand",
            ]
            .map(str::to_owned),
        );
        let mut rows = Vec::new();
        for run in self.runs.iter().take(MOST_RUNS) {
            let trace = &run.turn.trace;
            let column = |dimension, symbol: &str, si: f64| {
                let unit = find_unit(symbol, dimension).unwrap_or(units_of(dimension)[0]);
                Column::of(unit, [unit.to_si(20.0)]).show(si)
            };
            for index in (0..trace.t_s.len()).step_by(10) {
                let speed = trace.u_m_s[index].hypot(trace.v_m_s[index]);
                let mut row = Vec::new();
                if several {
                    row.push(run.name.clone());
                }
                row.push(column(Dimension::Duration, "s", trace.t_s[index]));
                row.push(column(Dimension::Length, "m", trace.x_m[index]));
                row.push(column(Dimension::Length, "m", trace.y_m[index]));
                row.push(wording::whole_degrees(Angle::from_rad(trace.heading_rad[index])));
                for m_s in [
                    speed,
                    run.rolling_m_s(Axle::Front, index),
                    run.rolling_m_s(Axle::Rear, index),
                ] {
                    row.push(wording::kilometres_an_hour(Speed::from_m_s(m_s)));
                }
                row.push(standing(run, index));
                rows.push(row);
            }
        }
        PictureTable {
            caption: "The run, every fifth of a second".into(),
            head,
            rows,
        }
    }
}

fn standing(run: &TurnRun, index: usize) -> String {
    let names = ["front left", "front right", "rear left", "rear right"];
    let standing: Vec<&str> = names
        .into_iter()
        .enumerate()
        .filter(|(wheel, _)| {
            run.turn.tracks.stands[*wheel]
                .get(index)
                .copied()
                .unwrap_or(false)
        })
        .map(|(_, name)| name)
        .collect();
    match standing.as_slice() {
        [] => NONE.to_owned(),
        ["rear left", "rear right"] => "rear".to_owned(),
        [_, _, _, _] => "all four".to_owned(),
        some => some.join(", "),
    }
}

/// A run in one sentence.
fn said(run: &TurnRun, named: bool) -> String {
    let turn = &run.turn;
    let name = if named {
        format!("{}: {}", run.name, turn.verdict.words())
    } else {
        let mut word = turn.verdict.words().to_owned();
        word[..1].make_ascii_uppercase();
        word
    };
    let at = match turn.heading.at_release {
        Some(heading) => format!("{} when the handbrake is let go", degrees(heading)),
        None => format!("{} at the end", degrees(turn.heading.end)),
    };
    let without = turn.without_lever.at_release.unwrap_or(turn.without_lever.end);
    let rear = match turn.locking.rear_from {
        Some(from) => format!(
            "the rear locks at {}, for {}",
            seconds(from),
            seconds(turn.locking.rear_for)
        ),
        None => "the rear never locks".to_owned(),
    };
    format!(
        "{name}: {at}, {} without the handbrake; {rear}.",
        degrees(without)
    )
}

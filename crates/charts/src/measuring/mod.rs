//! Drawings that show how a figure is measured: what lies where, where the tape or the gauge goes, and which length is
//! meant. One a card of the table of keys.
//!
//! A drawing is the same for every car and has one width, that of a phone. Letters on it are explained below it and in
//! its table. Front solid, rear dashed, the hand double, dimensions thin with arrows.

mod brakes;
mod car;
mod drivetrain;
mod foot;
mod hand;
mod lines;
mod sketch;
mod tools;
mod valve;

use engine::car::Drawing;

use crate::card::Card;
use crate::picture::{Look, Picture, PictureTable, Width};
use sketch::Sketch;

/// The drawing of a card.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct HowMeasured(pub Drawing);

/// What a drawing leaves on its ground.
struct Scene {
    /// How high it is.
    high: f64,
    /// Letters, each with what it stands for; words that are on it, with what is meant.
    marks: &'static [(&'static str, &'static str)],
}

impl HowMeasured {
    /// Draws it, as wide as a phone whatever the look says; it knows no car and no units.
    #[must_use]
    pub fn draw(&self, look: &Look<'_>) -> Picture {
        let look = Look {
            car: "",
            state: "",
            width: Width::Narrow,
            ..*look
        };
        let mut card = Card::new(&look, "measuring", self.0.title());
        let mut sketch = Sketch::new(card.filled);
        let scene = self.scene(&mut sketch);
        card.out.group("sketch");
        card.out.append(&sketch.out);
        card.out.close("g");
        card.filled += scene.high;
        for (letter, what) in scene.marks {
            card.say(format!("{letter}: {what}"));
        }
        let table = PictureTable {
            caption: format!("{}: what is marked", self.0.title()),
            head: vec!["mark".to_owned(), "what it is".to_owned()],
            rows: scene
                .marks
                .iter()
                .map(|(letter, what)| vec![(*letter).to_owned(), (*what).to_owned()])
                .collect(),
        };
        card.finish(true, table)
    }

    fn scene(self, sketch: &mut Sketch) -> Scene {
        match self.0 {
            Drawing::Scales => car::scales(sketch),
            Drawing::Raised => car::raised(sketch),
            Drawing::Wheelbase => car::wheelbase(sketch),
            Drawing::Tracks => car::tracks(sketch),
            Drawing::Weight => car::weight(sketch),
            Drawing::Aboard => car::aboard(sketch),
            Drawing::Tank => car::tank(sketch),
            Drawing::Tyre => car::tyre(sketch),
            Drawing::Stop => car::stop(sketch),
            Drawing::Pedal => foot::pedal(sketch),
            Drawing::Foot => foot::against_gauge(sketch),
            Drawing::Master => foot::master(sketch),
            Drawing::Bore => foot::bore(sketch),
            Drawing::Stroke => foot::stroke(sketch),
            Drawing::Bar => foot::bar(sketch),
            Drawing::Knob => valve::knob(sketch),
            Drawing::ValveGauges => valve::two_gauges(sketch),
            Drawing::LoadValve => valve::load(sketch),
            Drawing::LeverKind => hand::kinds(sketch),
            Drawing::LeverRatio => hand::ratio(sketch),
            Drawing::FreePlay => hand::free_play(sketch),
            Drawing::HandPull => hand::pull(sketch),
            Drawing::SlowPull => hand::slow_pull(sketch),
            Drawing::Cable => hand::cable(sketch),
            Drawing::Room => hand::room(sketch),
            Drawing::Mount => hand::mount(sketch),
            Drawing::Caliper => brakes::kinds(sketch),
            Drawing::PadTrack => brakes::pad_track(sketch),
            Drawing::Disc => brakes::disc(sketch),
            Drawing::Wrench => brakes::wrench(sketch),
            Drawing::Drum => brakes::drum(sketch),
            Drawing::Shoe => brakes::shoe(sketch),
            Drawing::Differential => drivetrain::differential(sketch),
            Drawing::Centre => drivetrain::centre(sketch),
            Drawing::CentreWrench => drivetrain::wrench(sketch),
            Drawing::Shafts => drivetrain::shafts(sketch),
            Drawing::Film => drivetrain::film(sketch),
            Drawing::Lines => lines::along(sketch),
            Drawing::Pipe => lines::pipe(sketch),
            Drawing::Thread => lines::thread(sketch),
            Drawing::Fluid => lines::fluid(sketch),
            Drawing::Held => lines::held(sketch),
            Drawing::Papers => lines::papers(sketch),
        }
    }
}

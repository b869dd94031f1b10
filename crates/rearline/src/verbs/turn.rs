//! `turn`: whether the car comes round, simulated.

use clap::Args;
use engine::turn::{Found, Grid, Hairpin, StoppedBy, Technique};
use questions::answers::turn::{Beside, Outcome};
use questions::{Opened, TurnText, Wrong};
use wording::Units;

use crate::ending::{Ending, Stop};
use crate::options::{
    self, CarOption, DrawOptions, IdleStrict, OutputOptions, SheetOptions, StateOptions, SvgOption, help,
};
use crate::print;
use crate::views::turn::{MapView, SearchView, TurnView};
use crate::views::{self, Head, Headed};
use crate::voice::Voice;

/// Name of the verb.
pub(crate) const NAME: &str = "turn";

/// Whether the car comes round
///
/// A handbrake turn, simulated: tyres, drivetrain, body and driver. One sentence, then what wheels, heading and speed
/// do, how far the tolerances move it, and what moves it most.
#[derive(Args, Debug)]
#[command(after_long_help = help::TURN)]
pub(crate) struct TurnVerb {
    #[command(flatten)]
    car: CarOption,
    #[command(flatten)]
    driver: DriverOptions,
    /// Run another car beside it: a name or a path, as its sheet has it
    ///
    /// The same car's name compares what --with and --valve change with what it is now.
    #[arg(long, value_name = "CAR", conflicts_with_all = ["map", "search"])]
    against: Option<String>,
    /// Run it at many entry speeds (rows) and pulls (columns): 64x64
    #[arg(long, value_name = "ROWSxCOLUMNS", conflicts_with = "search")]
    map: Option<String>,
    /// Look for the fastest way through a bend: "180 deg, 7 m, 5 m"
    ///
    /// Its angle, the radius of the middle of the road, the width of the road. Hand, clutch, lock and quickness stay as
    /// asked; entry, steer, moments and the heading at release are looked for.
    #[arg(long, value_name = "ANGLE, RADIUS, WIDTH", allow_hyphen_values = true)]
    search: Option<String>,
    #[command(flatten)]
    changes: SheetOptions,
    #[command(flatten)]
    state: StateOptions,
    #[command(flatten)]
    draws: DrawOptions,
    #[command(flatten)]
    svg: SvgOption,
    #[command(flatten)]
    output: OutputOptions,
    #[command(flatten)]
    strict: IdleStrict,
}

/// What the driver does.
#[derive(Args, Debug)]
#[command(next_help_heading = "What the driver does")]
struct DriverOptions {
    /// Speed at the start, straight ahead [default: 50 km/h]
    #[arg(
        long,
        visible_alias = "speed",
        value_name = "SPEED",
        allow_hyphen_values = true
    )]
    entry: Option<String>,
    /// Steer of the front wheels, positive to the left [default: 0.25 rad]
    #[arg(long, value_name = "ANGLE", allow_hyphen_values = true)]
    steer: Option<String>,
    /// When steering starts [default: 0.2 s]
    #[arg(long, value_name = "TIME", allow_hyphen_values = true)]
    steer_at: Option<String>,
    /// Time that it takes [default: 0.3 s]
    #[arg(long, value_name = "TIME", allow_hyphen_values = true)]
    steer_in: Option<String>,
    /// The driver's pull, in place of the sheet's hand_pull: "200 N"
    #[arg(long, value_name = "FORCE", allow_hyphen_values = true)]
    hand: Option<String>,
    /// When the hand pulls [default: 0.5 s]
    #[arg(long, value_name = "TIME", allow_hyphen_values = true)]
    lever_at: Option<String>,
    /// Time in which the pull comes, and goes [default: 0.1 s]
    #[arg(long, value_name = "TIME", allow_hyphen_values = true)]
    lever_rise: Option<String>,
    /// The clutch: down or up [default: down]
    #[arg(long, value_name = "down|up")]
    clutch: Option<String>,
    /// When it goes down [default: 0.1 s before the pull]
    #[arg(long, value_name = "TIME", allow_hyphen_values = true)]
    clutch_at: Option<String>,
    /// When the lever is let go: "1.8 s", "90 deg", never [default: 1.3 s after the pull on hard gravel, later on less grip]
    #[arg(long, value_name = "TIME|ANGLE|never", allow_hyphen_values = true)]
    release: Option<String>,
    /// The wheel after that: hold, or into-slide [default: hold]
    #[arg(long, value_name = "hold|into-slide")]
    after: Option<String>,
    /// Torque of the engine after that, at the crank: "120 N m" [default: throttle closed]
    #[arg(long, value_name = "TORQUE", allow_hyphen_values = true)]
    throttle: Option<String>,
    /// A foot on the brake until the hand pulls: "200 N"
    #[arg(long, value_name = "FORCE", allow_hyphen_values = true)]
    foot: Option<String>,
    /// When it presses [default: 0 s]
    #[arg(long, value_name = "TIME", allow_hyphen_values = true)]
    foot_at: Option<String>,
    /// When it is taken off [default: as the hand pulls]
    #[arg(long, value_name = "TIME", allow_hyphen_values = true)]
    foot_off: Option<String>,
    /// How long all of it is followed [default: 1.2 s after letting go on hard gravel, longer on less grip]
    #[arg(long, value_name = "TIME", allow_hyphen_values = true)]
    until: Option<String>,
}

impl DriverOptions {
    fn text(&self) -> TurnText {
        TurnText {
            entry: self.entry.clone(),
            steer: self.steer.clone(),
            steer_at: self.steer_at.clone(),
            steer_in: self.steer_in.clone(),
            hand: self.hand.clone(),
            lever_at: self.lever_at.clone(),
            lever_rise: self.lever_rise.clone(),
            clutch: self.clutch.clone(),
            clutch_at: self.clutch_at.clone(),
            release: self.release.clone(),
            after: self.after.clone(),
            throttle: self.throttle.clone(),
            foot: self.foot.clone(),
            foot_at: self.foot_at.clone(),
            foot_off: self.foot_off.clone(),
            until: self.until.clone(),
        }
    }
}

impl TurnVerb {
    /// Opens the car and drives it.
    pub(crate) fn run(&self, voice: &mut Voice<'_>) -> Result<Ending, Stop> {
        let mut wrong = Wrong::default();
        let plan = wrong.note(questions::plan(self.draws.draws, self.draws.seed));
        let units = wrong.note(questions::units(self.output.units.list.as_deref()));
        let map = wrong.note(self.map.as_deref().map(questions::map_size).transpose());
        let bend = wrong.note(self.search.as_deref().map(questions::hairpin).transpose());
        let said = wrong.note(self.driver.text().read());
        let opened = options::open(&mut wrong, &self.car, &self.changes, &self.state)?;
        let (Some(mut opened), Some(said)) = (opened, said) else {
            return Err(wrong.into());
        };
        for option in self.strict.given() {
            opened.warn(option, format!("has no effect on `{NAME}`"));
        }
        for option in self.state.slope_said() {
            opened.warn(option, format!("has no effect on `{NAME}`"));
        }
        let technique = wrong.note(said.technique(&opened));
        let (Some(plan), Some(units), Some(map), Some(bend), Some(technique)) =
            (plan, units, map, bend, technique)
        else {
            return Err(wrong.into());
        };
        if let Some((rows, columns)) = map {
            return self.many(voice, &opened, &units, &technique, (rows, columns));
        }
        if let Some(bend) = bend {
            return self.through(voice, &opened, &units, &technique, &bend);
        }
        let bench = questions::turn_bench(&opened)?;
        let in_words = |no_turn: engine::turn::NoTurn| questions::no_turn_in_words(&opened, &no_turn);
        let turn = bench.turn(&technique).map_err(in_words)?;
        let swings = bench.swings(&technique).map_err(in_words)?.to_vec();
        let drawn = (plan.draws > 0).then(|| questions::turn_study(&opened, &technique, plan));
        let otherwise = questions::turn_read_otherwise(&opened, &technique);
        let outcome = Outcome {
            turn,
            drawn,
            swings,
            against: self.beside(&technique)?,
        };
        if let Some(path) = &self.svg.svg {
            crate::picture::write(path, &opened, &units, |look| {
                questions::picture::turn(&opened, look, &outcome)
            })?;
        }
        self.tell(
            voice,
            &opened,
            || TurnView::of(&outcome, &otherwise),
            || print::turn::page(&opened, &outcome, &otherwise, &units),
        )
    }

    /// The other car doing the same.
    fn beside(&self, technique: &Technique) -> Result<Option<Beside>, Stop> {
        let Some(car) = &self.against else { return Ok(None) };
        let folder = questions::find(&self.car.folder.cars, car)?;
        Ok(Some(Beside::of(&folder, &self.state.text(), technique)?))
    }

    fn many(
        &self,
        voice: &mut Voice<'_>,
        opened: &Opened,
        units: &Units,
        technique: &Technique,
        (rows, columns): (usize, usize),
    ) -> Result<Ending, Stop> {
        let grid: Grid = questions::turn_bench(opened)?
            .grid(technique, rows, columns)
            .map_err(|no_turn| questions::no_turn_in_words(opened, &no_turn))?;
        if let Some(path) = &self.svg.svg {
            crate::picture::write(path, opened, units, |look| {
                questions::picture::turn_map(look, &grid, technique)
            })?;
        }
        self.tell(
            voice,
            opened,
            || MapView::of(&grid),
            || print::turn::map_page(opened, &grid, units),
        )
    }

    fn through(
        &self,
        voice: &mut Voice<'_>,
        opened: &Opened,
        units: &Units,
        technique: &Technique,
        bend: &Hairpin,
    ) -> Result<Ending, Stop> {
        let found: Result<Found, StoppedBy> = questions::turn_bench(opened)?
            .search(technique, bend)
            .map_err(|no_turn| questions::no_turn_in_words(opened, &no_turn))?;
        if let (Some(path), Ok(way)) = (&self.svg.svg, &found) {
            crate::picture::write(path, opened, units, |look| {
                questions::picture::turn_found(opened, look, way)
            })?;
        }
        self.tell(
            voice,
            opened,
            || SearchView::of(&found),
            || print::turn::search_page(opened, bend, &found, units),
        )
    }

    fn tell<View: serde::Serialize>(
        &self,
        voice: &mut Voice<'_>,
        opened: &Opened,
        view: impl FnOnce() -> View,
        page: impl FnOnce() -> String,
    ) -> Result<Ending, Stop> {
        if self.output.json.json {
            let view = Headed {
                head: Head::of(NAME, opened),
                answer: view(),
            };
            voice.say_json(&views::to_json(&view)?)?;
        } else {
            voice.say(&page())?;
        }
        Ok(Ending::Fine)
    }
}

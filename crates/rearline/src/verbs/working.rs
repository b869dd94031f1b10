//! `working`: how one figure came about, with the numbers in.

use clap::Args;
use engine::Conditions;
use engine::ranges::Sampling;
use engine::working::{FIGURES, Working};
use questions::options::{AMBIENT, STAGE, Said};
use questions::{Case, Wrong, nearest};

use crate::ending::{Ending, Stop};
use crate::options::{
    self, COMMAND_LINE, CarOption, IdleDraws, IdleFoot, IdleStrict, JsonOption, SheetOptions, SpeedOption,
    StateOptions, help,
};
use crate::print;

use crate::views::working::WorkingView;
use crate::views::{self, Head, Headed};
use crate::voice::Voice;

/// Name of the verb.
pub(crate) const NAME: &str = "working";

/// How one figure came about
///
/// The arithmetic behind a figure, line by line: in symbols, with the numbers in, and where each equation comes from.
/// Without a figure: those that there are.
#[derive(Args, Debug)]
#[command(after_long_help = help::WORKING)]
pub(crate) struct WorkingVerb {
    #[command(flatten)]
    car: CarOption,
    /// The figure, as results call it: hand_force_n, front_first_by, knee_pa, ...
    #[arg(value_name = "FIGURE")]
    figure: Option<String>,
    /// The driver's pull, in place of the sheet's hand_pull: "200 N"
    #[arg(long, value_name = "FORCE", allow_hyphen_values = true)]
    hand: Option<String>,
    /// What is wanted at first lock, for knee_pa
    #[arg(long, value_name = "WISH", default_value = "front-first 5 %")]
    wanted: String,
    /// The stage, for the figures of heat: a name, or a file [default: twisty gravel]
    #[arg(long, value_name = "FILE|NAME")]
    stage: Option<String>,
    /// Temperature of the air, for the figures of heat and holding: "15 C"
    #[arg(long, value_name = "TEMPERATURE", allow_hyphen_values = true)]
    ambient: Option<String>,
    #[command(flatten)]
    speed: SpeedOption,
    #[command(flatten)]
    changes: SheetOptions,
    #[command(flatten)]
    state: StateOptions,
    #[command(flatten)]
    json: JsonOption,
    #[command(flatten)]
    draws: IdleDraws,
    #[command(flatten)]
    foot: IdleFoot,
    #[command(flatten)]
    strict: IdleStrict,
    /// Units of the numbers in each line: psi,in,lbf
    #[arg(long = "units", value_name = "LIST")]
    units: Option<String>,
}

impl WorkingVerb {
    /// Opens the car and shows the arithmetic.
    pub(crate) fn run(&self, voice: &mut Voice<'_>) -> Result<Ending, Stop> {
        let mut wrong = Wrong::default();
        let hand = wrong.note(self.hand.as_deref().map(questions::hand).transpose());
        let wish = wrong.note(questions::wish(&self.wanted));
        let speed = wrong.note(questions::speed(self.speed.speed.as_deref()));
        let units = wrong.note(questions::units(self.units.as_deref()));
        wrong.note(self.figure.as_deref().map(known).transpose());
        let mut said = Said::default();
        for (row, text) in [(&STAGE, &self.stage), (&AMBIENT, &self.ambient)] {
            if let Some(text) = text {
                said.say(row, text);
            }
        }
        wrong.add(said.wrong());
        let opened = options::open(&mut wrong, &self.car, &self.changes, &self.state)?;
        let (Some(hand), Some(wish), Some(speed), Some(units), Some(mut opened)) =
            (hand, wish, speed, units, opened)
        else {
            return Err(wrong.into());
        };
        if !wrong.is_empty() {
            return Err(wrong.into());
        }
        for option in self
            .draws
            .given()
            .chain(self.foot.given())
            .chain(self.strict.given())
        {
            opened.warn(option, format!("has no effect on `{NAME}`"));
        }
        let state = &opened.state;
        let conditions = Conditions {
            hand,
            speed,
            ambient: said.ambient(),
            ..state.conditions.clone()
        };
        let case = Case {
            opened: &opened,
            said: &said,
            sampling: Sampling::default(),
            units,
            brief: false,
        };
        let stage = questions::heat::stage(&case)?;
        let asked = questions::working_bench(&opened, &conditions, Some(stage), wish);
        let Some(figure) = &self.figure else {
            let all: Vec<Working> = FIGURES
                .iter()
                .filter_map(|(name, _)| asked.working(name))
                .collect();
            if self.json.json {
                let view = Headed {
                    head: Head::of(NAME, &opened),
                    answer: views::working::AllView::of(&all),
                };
                voice.say_json(&views::to_json(&view)?)?;
            } else {
                voice.say(&print::report::text(&questions::working::list(&case, &all)))?;
            }
            return Ok(Ending::Fine);
        };
        let Some(working) = asked.working(figure) else {
            let what = format!("this car has no `{figure}` in this state");
            let remedy = "nothing locks, no knee gives the wish, a valve caps the pressure, a cable moves no fluid or a latch outlasts the night: \
                          `rearline lever`, `rearline balance` and `rearline hold` say which"
                .to_owned();
            return Err(Wrong::plain(COMMAND_LINE, "no-such-figure-here", what, remedy).into());
        };
        if self.json.json {
            let head = Head::of(NAME, &opened).leaning_on(&working.keys());
            voice.say_json(&views::to_json(&Headed {
                head,
                answer: WorkingView::of(&working),
            })?)?;
        } else {
            voice.say(&print::report::text(&questions::working::report(&case, &working)))?;
        }
        Ok(Ending::Fine)
    }
}

/// A figure that can explain itself.
fn known(figure: &str) -> Result<(), Wrong> {
    if FIGURES.iter().any(|(name, _)| *name == figure) {
        return Ok(());
    }
    let names = || FIGURES.iter().map(|(name, _)| *name);
    let remedy = match nearest(figure, names()) {
        Some(near) => format!("did you mean `{near}`?"),
        None => format!("there are: {}", names().collect::<Vec<_>>().join(", ")),
    };
    let what = format!("no figure is called `{figure}`");
    Err(Wrong::option(
        "FIGURE",
        figure,
        0..figure.len(),
        "unknown-figure",
        what,
        remedy,
    ))
}

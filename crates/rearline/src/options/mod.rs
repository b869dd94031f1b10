//! What can be said on the command line, in groups that a verb takes as it needs them.
//!
//! Figures arrive here as text; `state` reads them, so that everything that is wrong is said at once.

pub(crate) mod help;

use std::path::PathBuf;

use clap::Args;
use questions::{Changes, Opened, StateText, Stop, Wrong};

/// What the command line is called where a file would be named.
pub(crate) const COMMAND_LINE: &str = "command line";

/// The name of the argument that says which car.
pub(crate) const CAR: &str = "car";

/// Which car, and where cars are kept.
#[derive(Args, Debug)]
pub(crate) struct CarOption {
    /// Name in the cars folder, or path to a sheet
    ///
    /// Whatever holds a path separator or ends in `.toml` is taken as a path.
    #[arg(value_name = "CAR")]
    pub(crate) car: String,
    #[command(flatten)]
    pub(crate) folder: FolderOption,
}

/// Where cars are kept.
#[derive(Args, Debug)]
pub(crate) struct FolderOption {
    /// The cars folder
    #[arg(long, value_name = "DIR", default_value = Self::USUAL)]
    pub(crate) cars: PathBuf,
}

impl FolderOption {
    /// Where cars are kept unless somebody says otherwise.
    pub(crate) const USUAL: &str = "cars";
    /// The option, as it is written.
    pub(crate) const DASHED: &str = "--cars";
}

/// Changes to what the sheet says, for this once.
#[derive(Args, Debug)]
#[command(next_help_heading = "What is on the car")]
pub(crate) struct SheetOptions {
    /// Open the car with a proposal that was kept beside it
    ///
    /// Its keys stand in the place of the sheet's; --with goes before them. `proposal list` names what there is.
    #[arg(long, value_name = "NAME")]
    pub(crate) proposal: Option<String>,
    /// Take another value for one key of the sheet
    ///
    /// May be given again and again. The value is written and checked as on the sheet; the sheet itself stays as it
    /// is.
    #[arg(long, value_name = "KEY=VALUE")]
    pub(crate) with: Vec<String>,
    /// Setting of the bias valve: "2.5 turns", or a position
    #[arg(long, value_name = "SETTING", allow_hyphen_values = true)]
    pub(crate) valve: Option<String>,
}

/// What is aboard, what the car stands on, which day it is.
#[derive(Args, Debug, Default)]
#[command(next_help_heading = "The state of the car")]
pub(crate) struct StateOptions {
    /// What it drives on [default: hard gravel]
    ///
    /// One that is built in (dry tarmac, wet tarmac, hard gravel, loose gravel, packed snow, ice) or one of the
    /// sheet's own.
    #[arg(long, value_name = "NAME")]
    pub(crate) surface: Option<String>,
    /// The most grip that the surface gives: force over load
    #[arg(long, value_name = "RATIO", allow_hyphen_values = true)]
    pub(crate) grip: Option<String>,
    /// Fuel aboard: "30 L", dry, half or full [default: half]
    #[arg(long, value_name = "VOLUME", allow_hyphen_values = true)]
    pub(crate) fuel: Option<String>,
    /// Nobody and nothing aboard but fuel
    #[arg(long)]
    pub(crate) no_crew: bool,
    /// Pads or linings are cold
    #[arg(long)]
    pub(crate) cold: bool,
    /// Slope of the road: "10 %" [default: 0]
    #[arg(long, value_name = "SLOPE")]
    pub(crate) slope: Option<String>,
    /// Which way the car faces on its slope [default: up]
    #[arg(long, value_name = "up|down")]
    pub(crate) facing: Option<String>,
    /// The day [default: today]
    #[arg(long, value_name = "YYYY-MM-DD")]
    pub(crate) on: Option<String>,
}

/// What foot and hand do.
#[derive(Args, Debug)]
#[command(next_help_heading = "What the driver does")]
pub(crate) struct ForceOptions {
    /// Force of the foot on the pedal: "300 N"
    #[arg(long, value_name = "FORCE", allow_hyphen_values = true)]
    pub(crate) foot: Option<String>,
    /// Force of the hand on the lever's grip: "150 N"
    #[arg(long, value_name = "FORCE", allow_hyphen_values = true)]
    pub(crate) hand: Option<String>,
}

/// How the result is written.
#[derive(Args, Debug)]
#[command(next_help_heading = "What comes out")]
pub(crate) struct OutputOptions {
    #[command(flatten)]
    pub(crate) units: UnitsOption,
    #[command(flatten)]
    pub(crate) json: JsonOption,
}

/// A picture beside the answer.
#[derive(Args, Debug)]
#[command(next_help_heading = "What comes out")]
pub(crate) struct SvgOption {
    /// Write the picture that belongs to the answer, as SVG
    #[arg(long, value_name = "FILE")]
    pub(crate) svg: Option<PathBuf>,
}

/// For people.
#[derive(Args, Debug)]
#[command(next_help_heading = "What comes out")]
pub(crate) struct UnitsOption {
    /// Units to show, commas between [default: bar,mm,N]
    ///
    /// A unit each for pressure, length, force, torque, mass and volume, in any order; those left out follow the
    /// others or stay as they are.
    #[arg(long = "units", value_name = "LIST")]
    pub(crate) list: Option<String>,
}

/// For other programs.
#[derive(Args, Debug)]
#[command(next_help_heading = "What comes out")]
pub(crate) struct JsonOption {
    /// One JSON object in SI units, for other programs
    #[arg(long)]
    pub(crate) json: bool,
}

/// How fast the car goes.
#[derive(Args, Debug)]
#[command(next_help_heading = "What the driver does")]
pub(crate) struct SpeedOption {
    /// Speed of the car [default: 50 km/h]
    #[arg(long, value_name = "SPEED", allow_hyphen_values = true)]
    pub(crate) speed: Option<String>,
}

/// How sure it is.
#[derive(Args, Debug)]
#[command(next_help_heading = "How sure it is")]
pub(crate) struct DrawOptions {
    /// Cars to draw from the tolerances [default: 1024; 0: none]
    #[arg(long, value_name = "N")]
    pub(crate) draws: Option<u32>,
    /// Seed of the draws: the same seed gives the same ranges [default: 1]
    #[arg(long, value_name = "N")]
    pub(crate) seed: Option<u32>,
}

/// Whether a grave finding ends the run as one.
#[derive(Args, Debug)]
#[command(next_help_heading = "What comes out")]
pub(crate) struct StrictOption {
    /// Exit with status 1 if a finding says stop
    #[arg(long)]
    pub(crate) strict: bool,
}

/// Options that every computing verb takes, so that a script can give all verbs the same ones, and that change nothing
/// in some. They are not shown there, and the result says so.
macro_rules! idle {
    ($(#[$doc:meta])* $name:ident { $($(#[$arg:meta])* $field:ident: $kind:ty = $option:literal),+ }) => {
        $(#[$doc])*
        #[derive(Args, Debug)]
        pub(crate) struct $name {
            $($(#[$arg])* $field: $kind,)+
        }

        impl $name {
            /// Those that were given.
            pub(crate) fn given(&self) -> impl Iterator<Item = &'static str> + use<> {
                [$((self.$field != <$kind>::default()).then_some($option)),+].into_iter().flatten()
            }
        }
    };
}

idle!(
    /// Draws, where nothing is ranged.
    IdleDraws {
        #[arg(long, value_name = "N", hide = true)] draws: Option<u32> = "--draws",
        #[arg(long, value_name = "N", hide = true)] seed: Option<u32> = "--seed"
    }
);
idle!(
    /// Foot, where only the hand works.
    IdleFoot { #[arg(long, value_name = "FORCE", hide = true)] foot: Option<String> = "--foot" }
);
idle!(
    /// Strictness, where nothing is found.
    IdleStrict { #[arg(long, hide = true)] strict: bool = "--strict" }
);

impl SheetOptions {
    fn changes(&self) -> Changes {
        Changes {
            proposal: self.proposal.clone(),
            with: self.with.clone(),
            valve: self.valve.clone(),
        }
    }
}

impl StateOptions {
    /// As text, on the day that it is.
    pub(crate) fn text(&self) -> StateText {
        StateText {
            surface: self.surface.clone(),
            grip: self.grip.clone(),
            fuel: self.fuel.clone(),
            no_crew: self.no_crew,
            cold: self.cold,
            slope: self.slope.clone(),
            facing: self.facing.clone(),
            on: self.on.clone(),
            today: today(),
        }
    }
}

/// The only place where the day is read.
pub(crate) fn today() -> engine::car::Date {
    jiff::ZonedDateTime::now().date()
}

/// Opens the car that the options name. What is wrong with them joins what is wrong already.
pub(crate) fn open(
    wrong: &mut Wrong,
    car: &CarOption,
    changes: &SheetOptions,
    state: &StateOptions,
) -> Result<Option<Opened>, Stop> {
    match Opened::of(&car.folder.cars, &car.car, &changes.changes(), &state.text()) {
        Err(Stop::Wrong(more)) => Ok(wrong.note(Err(more))),
        opened => opened.map(Some),
    }
}

//! No verb: the cars folder, made where there is none, and what a push and a pull do in each car.

use clap::Args;
use engine::hydraulics::Forces;
use engine::ranges::Sampling;
use page::{ListenAt, Reach, ServerLimits, Workshop};
use quantity::si::Force;
use questions::assess as assessment;
use questions::pressures::Outcome;
use questions::{Opened, Sheet, Wrong};
use records::{Cars, Listing};
use wording::Units;

use crate::demonstration;
use crate::ending::{Ending, Stop};
use crate::options::{FolderOption, UnitsOption, today};
use crate::print;
use crate::print::overview::{PushAndPull, Seen};
use crate::serving;
use crate::verbs::{build_book, logbook};
use crate::voice::{self, Voice};

/// So many cars are said beside the page, which has them all.
const MOST_SAID: usize = 12;
/// A foot as in a hard stop, in newtons.
const FOOT_N: f64 = 300.0;
/// A hand as in a turn, in newtons.
const HAND_N: f64 = 150.0;

/// What can be said where no verb is.
#[derive(Args, Debug)]
pub(crate) struct Overview {
    #[command(flatten)]
    folder: FolderOption,
    #[command(flatten)]
    units: UnitsOption,
    /// Serve the page to paired devices of the network too, and not to this machine alone
    ///
    /// A device is paired with a code that is shown here. What is sent is not encrypted.
    #[arg(long, conflicts_with = "no_page")]
    lan: bool,
    /// Port of the workshop page [default: 7410, or one that is free]
    #[arg(long, value_name = "N", conflicts_with = "no_page")]
    port: Option<u16>,
    /// Open the page in this machine's browser
    #[arg(long, conflicts_with = "no_page")]
    open: bool,
    /// Say how the cars are, and serve no page
    #[arg(long)]
    no_page: bool,
}

impl Overview {
    /// Makes the folder if it is not there, and looks at each car.
    pub(crate) fn run(&self, voice: &mut Voice<'_>) -> Result<Ending, Stop> {
        let units = questions::units(self.units.list.as_deref())?;
        let folder = &self.folder.cars;
        let made = folder.symlink_metadata().is_err();
        if made {
            self.may_be_made(voice)?;
            demonstration::make(folder)?;
        }
        let refused = |fault| questions::of_records(&folder.display().to_string(), &fault, None);
        let Listing { found, left_out } = Cars::open(folder).and_then(|cars| cars.list()).map_err(refused)?;
        let left_out: Vec<String> = left_out
            .iter()
            .map(|left| format!("{}: {}", left.path.display(), left.why))
            .collect();
        if self.no_page {
            let seen = found.into_iter().map(|car| see(car, &units)).collect::<Vec<_>>();
            voice.say(&print::overview::page(folder, made, &seen, &left_out, &units))?;
            let lost = |seen: &Seen| seen.outcome.as_ref().is_ok_and(|done| done.assessed.logbook_lost);
            return Ok(if seen.iter().any(lost) {
                Ending::File
            } else {
                Ending::Fine
            });
        }
        let workshop = Workshop {
            cars: folder.clone(),
            units: self.units.list.is_some().then_some(units),
            reach: if self.lan {
                Reach::Network
            } else {
                Reach::ThisMachine
            },
            limits: ServerLimits::default(),
            today,
            stamp: logbook::stamp_of,
            build: build(),
            press: Some(page::Press {
                print: build_book::beside_the_sheet,
                sheet_of: book::sheet_of,
            }),
            tell: Box::new(|text| voice::aside(&format!("{text}\n"))),
        };
        let port = self.port.map_or(ListenAt::Usual, ListenAt::Given);
        voice.say(&print::overview::head(folder, made, found.len()))?;
        let (first, more) = (
            found.first().map(|car| car.name().to_owned()),
            found.len().saturating_sub(MOST_SAID),
        );
        serving::serve(workshop, port, self.open, voice, |voice, served, address| {
            for car in found.into_iter().take(MOST_SAID) {
                // Whoever reads no more, or has ended the page, is told no more.
                if !served()
                    || voice
                        .say(&print::overview::of_car(&see(car, &units), &units))
                        .is_err()
                {
                    return;
                }
            }
            let foot = print::overview::foot(&left_out, more, first.as_deref());
            let _ = voice.say(&format!("{foot}{address}"));
        })
    }
}

impl Overview {
    /// A folder that was named may be a slip of the pen: nobody makes it unasked.
    fn may_be_made(&self, voice: &mut Voice<'_>) -> Result<(), Wrong> {
        let folder = self.folder.cars.display().to_string();
        if folder == FolderOption::USUAL || voice.agreed(&format!("There is no folder {folder}. Make it?")) {
            return Ok(());
        }
        let what = "there is no such folder, and none was made".to_owned();
        let remedy = format!("look at the name; or make it first, with `mkdir {folder}`");
        Err(Wrong::plain(&folder, "missing", what, remedy))
    }
}

/// Which build this is: its version, and the program's own file, which another build replaces.
fn build() -> String {
    let program = std::env::current_exe().ok();
    let lies = program.map(|program| records::TextFile::at(program).lies());
    format!("{} {}", env!("CARGO_PKG_VERSION"), lies.unwrap_or_default())
}

fn see(car: records::CarFolder, units: &Units) -> Seen {
    let name = car.name().to_owned();
    let outcome = match Sheet::read(car).and_then(|sheet| Opened::as_it_is(sheet, today())) {
        Ok(opened) => push_and_pull(opened, units).map(Box::new),
        Err(questions::Stop::Wrong(wrong) | questions::Stop::File(wrong)) => Err(wrong),
    };
    Seen { name, outcome }
}

fn push_and_pull(opened: Opened, units: &Units) -> Result<PushAndPull, Wrong> {
    let assessed = assessment::Outcome::of(&opened, questions::speed(None)?, Sampling::default(), units)?;
    let speed = questions::speed(None)?;
    let outcome = |foot_n, hand_n| {
        let asked = Forces {
            foot: Force::from_n(foot_n),
            hand: Force::from_n(hand_n),
        };
        Outcome::of(opened.car(), &opened.state, asked, speed)
    };
    let push = outcome(FOOT_N, 0.0);
    let pull = opened.car().lever.is_some().then(|| outcome(0.0, HAND_N));
    Ok(PushAndPull {
        opened,
        assessed,
        push,
        pull,
    })
}

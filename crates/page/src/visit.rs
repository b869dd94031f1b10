//! A car, opened as the address asks.

use core::cell::OnceCell;

use engine::car::{Knee, KnobScale};
use engine::ranges::Plan;
use proving::{Entry, Fact};
use quantity::si::{Force, Speed};
use questions::answers::assessment::Outcome as Assessed;
use questions::answers::proving::Outcome as Proving;
use questions::options::{HAND, Said};
use questions::writing::{entries_of, write};
use questions::{Case, History, Opened, Sheet, Stop, Wrong};
use records::logbook::{Filter, Logbook, WAIT};
use wording::Units;

use crate::asking::{Asking, Screens};
use crate::desk::Desk;
use crate::guard::{Caller, Sent};

/// Draws for a few words: enough to tell a yes from too little known.
const FEW_DRAWS: u32 = 64;

/// A car, and what is asked of it.
pub(crate) struct Visit<'d> {
    pub(crate) desk: &'d Desk,
    pub(crate) caller: &'d Caller,
    /// What the address says.
    pub(crate) asking: Asking,
    /// The car in the state that was asked for; as the sheet has it where `wrong` says why not.
    pub(crate) opened: Opened,
    pub(crate) wrong: Option<Wrong>,
    pub(crate) units: Units,
    /// What the address says, by the table of options.
    pub(crate) said: Said,
    assessed: OnceCell<Option<Assessed>>,
    glanced: OnceCell<Option<Assessed>>,
    page_id: OnceCell<String>,
    history: OnceCell<History>,
    proving: OnceCell<Proving>,
}

/// Why a car cannot be asked anything.
pub(crate) enum Refused {
    /// It is not there, or its file would not be read.
    Stop(Stop),
    /// Its sheet has faults.
    Sheet(Box<Sheet>, Wrong),
}

impl From<Stop> for Refused {
    fn from(stop: Stop) -> Self {
        Self::Stop(stop)
    }
}

impl<'d> Visit<'d> {
    /// Opens a car of the folder. What is wrong with the asking is kept beside the car; what is wrong with the car's
    /// sheet refuses it.
    pub(crate) fn enter(desk: &'d Desk, caller: &'d Caller, car: &str, query: &str) -> Result<Self, Refused> {
        let (asking, mut wrong) = match Asking::read(query) {
            Ok(asking) => (asking, Wrong::default()),
            Err(wrong) => (Asking::default(), wrong),
        };
        let sheet = find(desk, car)?;
        let turns = counts_turns(&sheet);
        let said = asking.said(turns);
        let opened = wrong.note(match Opened::as_said(sheet, &said, desk.today()) {
            Err(Stop::Wrong(more)) => Err(more),
            Err(stop) => return Err(stop.into()),
            Ok(opened) => Ok(opened),
        });
        let opened = match opened {
            Some(opened) if wrong.is_empty() => opened,
            _ => match Opened::as_it_is(find(desk, car)?, desk.today()) {
                Ok(opened) => opened,
                Err(Stop::Wrong(faults)) => return Err(Refused::Sheet(Box::new(find(desk, car)?), faults)),
                Err(stop) => return Err(stop.into()),
            },
        };
        Ok(Self {
            desk,
            caller,
            opened,
            units: desk.units(),
            said,
            wrong: (!wrong.is_empty()).then_some(wrong),
            assessed: OnceCell::new(),
            glanced: OnceCell::new(),
            page_id: OnceCell::new(),
            history: OnceCell::new(),
            proving: OnceCell::new(),
            asking,
        })
    }

    /// Name of the car's folder.
    pub(crate) fn name(&self) -> &str {
        self.opened.sheet.name()
    }

    /// The car with what is asked of it.
    pub(crate) fn case(&self) -> Case<'_> {
        Case {
            opened: &self.opened,
            said: &self.said,
            plan: self.plan(),
            units: self.units,
            brief: self.asking.part,
        }
    }

    pub(crate) fn speed(&self) -> Speed {
        self.said.speed()
    }

    /// The pull that was asked for.
    pub(crate) fn hand(&self) -> Option<Force> {
        self.said.force(&HAND)
    }

    /// The driver's pull: as asked, as on the sheet, none without a lever.
    pub(crate) fn pull(&self) -> Force {
        let of_sheet = self.opened.car().lever.as_ref().map(|lever| lever.hand_pull);
        self.hand().or(of_sheet).unwrap_or(Force::ZERO)
    }

    /// The assessment, with draws; a brief look while a handle moves. `None`: the car does not know the surface, which
    /// opening it has ruled out.
    pub(crate) fn assessed(&self) -> Option<&Assessed> {
        if self.asking.part {
            return self.glanced();
        }
        let look = || Assessed::of(&self.opened, self.speed(), Plan::default(), &self.units).ok();
        self.assessed.get_or_init(look).as_ref()
    }

    /// A brief look at the assessment, for a few words.
    pub(crate) fn glanced(&self) -> Option<&Assessed> {
        if let Some(assessed) = self.assessed.get() {
            return assessed.as_ref();
        }
        let draws = if self.asking.part { 0 } else { FEW_DRAWS };
        let look = || Assessed::briefly(&self.opened, self.speed(), draws, &self.units).ok();
        self.glanced.get_or_init(look).as_ref()
    }

    /// A word that no other page has, to make ids of entries from.
    pub(crate) fn page_id(&self) -> &str {
        self.page_id.get_or_init(|| {
            let random = crate::pairing::random().unwrap_or_default();
            crate::pairing::hex(&random[..12])
        })
    }

    /// What the car's logbook says of plumbing, or why it does not read; read once for a page.
    pub(crate) fn history(&self) -> &History {
        self.history.get_or_init(|| History::of(&self.opened))
    }

    /// Where proving stands, by what of the logbook can be read.
    pub(crate) fn proving(&self) -> &Proving {
        self.proving
            .get_or_init(|| Proving::of(&self.opened, self.history()))
    }

    /// Writes facts into the logbook, once however often they arrive; the numbers of their entries.
    pub(crate) fn note(&self, sent: &Sent, facts: &[Fact]) -> Result<Vec<i64>, Wrong> {
        let entries = entries_of("form", facts).map_err(|stop| told_of(&stop))?;
        self.keep(sent, &entries)
    }

    /// Writes entries into the logbook, once however often they arrive; their numbers.
    pub(crate) fn keep(&self, sent: &Sent, entries: &[Entry]) -> Result<Vec<i64>, Wrong> {
        let id = self.entry_id(sent)?;
        let stamp = |number: usize| {
            let id = if number == 0 {
                id.clone()
            } else {
                format!("{id}.{number}")
            };
            self.desk.stamp(&self.caller.device, &id)
        };
        let folder = &self.opened.sheet.folder;
        let written = write(folder, Some(&self.opened), entries, self.desk.today(), stamp);
        let written = written.map_err(|stop| told_of(&stop))?;
        Ok(written.iter().map(|appended| appended.entry.id).collect())
    }

    /// The id that the device gave what it sends.
    pub(crate) fn entry_id(&self, sent: &Sent) -> Result<String, Wrong> {
        let id = sent.get("entry");
        if id.is_empty() || id.len() > 60 {
            let what = "what was sent has no id of its own".to_owned();
            return Err(Wrong::plain(
                "form",
                "no-id",
                what,
                "load the page again".to_owned(),
            ));
        }
        Ok(id.to_owned())
    }

    /// The entries that this device has sent under an id before, if it has.
    pub(crate) fn sent_before(&self, id: &str) -> Result<Option<Vec<i64>>, Wrong> {
        let path = self.opened.sheet.folder.logbook();
        let refused = |fault| told_of(&questions::of_records(&path.display().to_string(), &fault, None));
        let Some(book) = Logbook::open_if_there(&path, WAIT).map_err(refused)? else {
            return Ok(None);
        };
        let more = format!("{id}.");
        let there: Vec<i64> = book
            .list(&Filter::default())
            .map_err(refused)?
            .iter()
            .filter(|entry| entry.device == self.caller.device)
            .filter(|entry| entry.device_entry == id || entry.device_entry.starts_with(&more))
            .map(|entry| entry.id)
            .collect();
        Ok((!there.is_empty()).then_some(there))
    }

    /// What is wanted at first lock.
    pub(crate) fn wanted(&self) -> &str {
        self.asking.get("wanted").unwrap_or("front-first 5 %")
    }

    /// How often tolerances are drawn: not while a handle moves.
    pub(crate) fn plan(&self) -> Plan {
        if self.asking.part { none() } else { Plan::default() }
    }

    pub(crate) const fn wide(&self) -> bool {
        !matches!(self.asking.screens, Screens::Narrow)
    }

    pub(crate) const fn narrow(&self) -> bool {
        !matches!(self.asking.screens, Screens::Wide)
    }
}

/// What kept something from being done, without the difference between a wrong word and a wrong file.
pub(crate) fn told_of(stop: &Stop) -> Wrong {
    match stop {
        Stop::Wrong(wrong) | Stop::File(wrong) => wrong.clone(),
    }
}

/// No draws at all.
pub(crate) fn none() -> Plan {
    Plan {
        draws: 0,
        ..Plan::default()
    }
}

/// The sheet of a car of the folder. The name is only compared with those that are there.
pub(crate) fn find(desk: &Desk, car: &str) -> Result<Sheet, Stop> {
    let folder = desk
        .cars()?
        .named(car)
        .map_err(|fault| questions::of_records(car, &fault, None))?;
    Sheet::read(folder)
}

fn counts_turns(sheet: &Sheet) -> bool {
    let scale =
        |assembled: &engine::car::Assembled| match assembled.car.bias_valve.as_ref().map(|valve| &valve.knee)
        {
            Some(Knee::Knob { scale, .. }) => matches!(scale, KnobScale::Turns(_)),
            _ => false,
        };
    sheet.read.assemble().is_ok_and(|assembled| scale(&assembled))
}

//! A car, opened as the address asks.

use core::cell::{Cell, OnceCell};
use std::sync::Arc;

use engine::ranges::Sampling;
use quantity::si::{Force, Speed};
use questions::assess::Outcome as Assessed;
use questions::options::{AGAINST, HAND, STAGE, Said};
use questions::prove::Outcome as Proving;
use questions::{Beside, Case, History, Opened, Sheet, Stop, Wrong};
use records::CarFolder;
use wording::{Precision, Units};

use super::asking::{Asking, Screens};
use super::desk::Desk;
use super::glances::{Glance, Grounds};
use super::stands;
use crate::shell::frame::Stands;
use crate::web::guard::Caller;
use crate::web::pairing;

/// A car, and what is asked of it.
pub(crate) struct Visit<'d> {
    pub(crate) desk: &'d Desk,
    pub(crate) caller: &'d Caller,
    /// What the address says.
    pub(crate) asking: Asking,
    /// How its files stood before they were read.
    pub(crate) stands: Stands,
    /// The car in the state that was asked for; as the sheet has it where `wrong` says why not.
    pub(crate) opened: Opened,
    pub(crate) wrong: Option<Wrong>,
    /// What is wrong with the person's own prices, for answers that lean on them.
    pub(crate) of_prices: Wrong,
    pub(crate) units: Units,
    /// What the address says, by the table of options.
    pub(crate) said: Said,
    /// What others have found who looked at the same.
    glance: Arc<Glance>,
    page_id: OnceCell<String>,
    proving: OnceCell<Proving>,
    /// The room that is shown.
    room: OnceCell<&'static str>,
    /// Whether it is written into a file that stands alone: then nothing can be opened from it.
    handed_on: Cell<bool>,
    /// Forms of its report so far, counted from where those of the rooms' own end.
    forms: Cell<usize>,
}

/// Why a car cannot be asked anything.
pub(crate) enum Refused {
    /// It is not there, or its file would not be read.
    Stop(Stop),
    /// Its sheet has faults.
    Sheet(Box<Sheet>, Wrong, Stands),
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
        let stands = stands::of_car(desk, car, &asking);
        let sheet = find(desk, car)?;
        let turns = desk.counts_turns(&sheet);
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
                Err(Stop::Wrong(faults)) => {
                    return Err(Refused::Sheet(Box::new(find(desk, car)?), faults, stands));
                }
                Err(stop) => return Err(stop.into()),
            },
        };
        let mut opened = opened;
        desk.counts.opened();
        let history = desk.history(&opened.sheet.folder);
        opened.know(Arc::clone(&history));
        opened.know_of_precisions(Arc::clone(&desk.precisions));
        if let Some(other) = said.text(&AGAINST).filter(|_| wrong.is_empty()) {
            let state = said.state(desk.today());
            match folder(desk, other).and_then(|folder| Beside::of(&folder, &state)) {
                Ok(beside) => opened.beside = Some(Box::new(beside)),
                Err(stop) => wrong.add(told_of(&stop)),
            }
        }
        let mut of_prices = Wrong::default();
        match questions::prices(&desk.folder, &mut of_prices) {
            Ok(prices) => opened.prices = prices,
            Err(stop) => of_prices.add(told_of(&stop)),
        }
        if said.force(&HAND).is_some() {
            opened.warn_of_hand("hand");
        }
        let units = desk.units();
        // A handle that moves is seen by nobody else; a stage and a car beside it are files of their own, read each time.
        let alone = asking.part || said.has(&STAGE) || said.has(&AGAINST);
        let glance = if alone {
            Arc::default()
        } else {
            desk.glances.on(Grounds {
                car: opened.sheet.path(),
                sheet: opened.sheet.digest,
                overrides: opened.overrides.clone(),
                query: asking.query(),
                day: opened.state.day,
                units,
                history,
                prices: opened.prices.clone(),
            })
        };
        Ok(Self {
            desk,
            caller,
            stands,
            opened,
            units,
            said,
            wrong: (!wrong.is_empty()).then_some(wrong),
            of_prices,
            glance,
            page_id: OnceCell::new(),
            proving: OnceCell::new(),
            room: OnceCell::new(),
            handed_on: Cell::new(false),
            forms: Cell::new(1000),
            asking,
        })
    }

    /// Says which room is shown.
    pub(crate) fn show_room(&self, room: &'static str) {
        let _ = self.room.set(room);
    }

    /// The room that is shown.
    pub(crate) fn room(&self) -> &'static str {
        self.room.get().copied().unwrap_or("assessment")
    }

    /// Says that it is written into a file that stands alone.
    pub(crate) fn hand_on(&self) {
        self.handed_on.set(true);
    }

    /// The car that links lead to; none in a file that stands alone.
    pub(crate) fn links_to(&self) -> Option<&str> {
        (!self.handed_on.get()).then(|| self.name())
    }

    /// A number for a form that is unique on the page.
    pub(crate) fn next_form(&self) -> usize {
        let number = self.forms.get();
        self.forms.set(number + 1);
        number
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
            sampling: self.sampling(),
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

    /// A brief look at the assessment, for a few words.
    pub(crate) fn glanced(&self) -> Option<&Assessed> {
        let draws = if self.asking.part {
            0
        } else {
            Precision::DRAWN.draws
        };
        let look = || Assessed::briefly(&self.opened, self.speed(), draws, &self.units).ok();
        self.glance.assessed.get_or_init(look).as_ref()
    }

    /// The answer of a room in a few words: made anew only where what it rests on is other than at the last look.
    pub(crate) fn short(&self, room: &'static str, make: impl FnOnce() -> String) -> String {
        self.glance.short(room, make)
    }

    /// A word that no other page has.
    pub(crate) fn page_id(&self) -> &str {
        self.page_id.get_or_init(pairing::once)
    }

    /// What the car's logbook says of plumbing, or why it does not read; read once for a page.
    pub(crate) fn history(&self) -> &History {
        self.opened.history()
    }

    /// Where proving stands, by what of the logbook can be read.
    pub(crate) fn proving(&self) -> &Proving {
        self.proving
            .get_or_init(|| Proving::of(&self.opened, self.history()))
    }

    /// What is wanted at first lock.
    pub(crate) fn wanted(&self) -> &str {
        self.asking.get("wanted").unwrap_or("front-first 5 %")
    }

    /// How often tolerances are drawn: not while a handle moves.
    pub(crate) fn sampling(&self) -> Sampling {
        if self.asking.part {
            none()
        } else {
            Sampling::default()
        }
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
pub(crate) fn none() -> Sampling {
    Sampling {
        draws: 0,
        ..Sampling::default()
    }
}

/// A car of the cars folder. The name is only compared with those that are there.
pub(crate) fn folder(desk: &Desk, car: &str) -> Result<CarFolder, Stop> {
    desk.cars()?.named(car).map_err(|fault| {
        // Whoever asks for a car that is not there has typed nothing wrong: it may have been there a moment ago.
        match questions::of_records(car, &fault, None) {
            Stop::Wrong(wrong) | Stop::File(wrong) => Stop::File(wrong),
        }
    })
}

/// Its sheet.
pub(crate) fn find(desk: &Desk, car: &str) -> Result<Sheet, Stop> {
    desk.sheet(folder(desk, car)?)
}

//! The car that a command names: found, read, changed for this once as asked, assembled, and put into its state.

use std::collections::BTreeSet;
use std::path::Path;
use std::sync::{Arc, OnceLock};

use engine::Conditions;
use engine::car::{Assembled, Date};
use engine::headline::Headlines;
use engine::loads::Grade;
use engine::ranges::Sampling;
use plumbing::prices::Prices;
use quantity::Dimension;
use quantity::si::{Length, Mass, Speed};
use records::{CarFolder as Folder, Cars, Digest, Fault};
use wording::Precision;

use crate::exchanged::carry_over;
use crate::history::History;
use crate::onto_sheet::stands;
use crate::precisions::Precisions;
use crate::proposed::{self, Proposed};
use crate::state::{State, StateText};
use crate::trouble::{Stop, Wrong, of_records};
use crate::turn_study::TurnStudy;

/// What a warning of a logbook that does not read is about.
pub(crate) const LOGBOOK: &str = "logbook";

/// What a warning of prices that nothing needs is about.
pub(crate) const PRICES: &str = "prices";

/// Sizes closer than this are one.
pub(crate) const SAME_SIZE: Length = Length::from_m(5e-6);

/// The key that `--valve` stands for.
const VALVE: &str = "bias_valve.setting";

/// Changes to what the sheet says, for this once, as a person writes them.
#[derive(Clone, Debug, Default)]
pub struct Changes {
    /// Name of the proposal that the car is opened with.
    pub proposal: Option<String>,
    /// `KEY=VALUE`, each; they go before those of the proposal.
    pub with: Vec<String>,
    /// Setting of the bias valve.
    pub valve: Option<String>,
}

/// Finds a car's folder: by its name in the cars folder, or by the path of a sheet.
///
/// # Errors
/// Where there is none, with the nearest name.
pub fn find(cars: &Path, car: &str) -> Result<Folder, Stop> {
    Cars::find(cars, car.as_ref()).map_err(|fault| not_found(cars, car, &fault))
}

/// A sheet as it lies on the disk, read.
#[derive(Debug)]
pub struct Sheet {
    /// The car's folder.
    pub folder: Folder,
    /// Digest of the sheet's bytes.
    pub digest: Digest,
    /// What it says, and what is wrong with it.
    pub read: sheet::ReadSheet,
}

/// A car, ready to be asked.
#[derive(Debug)]
pub struct Opened {
    /// Its sheet.
    pub sheet: Sheet,
    /// The car, and what was said while it was put together.
    pub assembled: Assembled,
    /// Keys that the proposal and the command replaced, in their order, then those that go with them, each with its text.
    pub overrides: Vec<(String, String)>,
    /// How many of those, at the end, go with the others.
    carried: usize,
    /// The proposal that it was opened with.
    pub proposal: Option<Proposed>,
    /// What it is asked in.
    pub state: State,
    /// The person's own prices, for a question that asks for them.
    pub prices: Prices,
    /// Another car beside it, where a question takes one and one was named.
    pub beside: Option<Box<Beside>>,
    history: OnceLock<Arc<History>>,
    precision: OnceLock<(Speed, Precision)>,
    precisions: OnceLock<Arc<Precisions>>,
    turn_study: OnceLock<TurnStudy>,
    /// Its sheet as it lies on the disk, where something is overridden.
    on_the_disk: OnceLock<sheet::ReadSheet>,
}

/// Another car, opened as its sheet has it, in the state that this one is asked in.
#[derive(Debug)]
pub struct Beside {
    /// That car.
    pub opened: Opened,
    /// What is not the same for both.
    pub mind: Option<&'static str>,
}

impl Beside {
    /// The car of a folder in the same state: same ground, same fuel, same people aboard. Where its tank does not hold the
    /// fuel, it has what it was weighed with, and that is said.
    ///
    /// # Errors
    /// Its sheet does not read; it knows no such ground.
    pub fn of(folder: &Folder, state: &StateText) -> Result<Self, Stop> {
        let open =
            |state: &StateText| Opened::of_sheet(Sheet::read(folder.clone())?, &Changes::default(), state);
        match open(state) {
            Err(stop) if state.fuel.is_some() => {
                let as_weighed = StateText {
                    fuel: None,
                    ..state.clone()
                };
                Ok(Self {
                    opened: open(&as_weighed).map_err(|_| stop)?,
                    mind: Some(
                        "Its tank does not hold the fuel that was asked for: it has what it was weighed with.",
                    ),
                })
            }
            other => Ok(Self {
                opened: other?,
                mind: None,
            }),
        }
    }
}

impl Sheet {
    /// Finds and reads the sheet of a car: a name in the cars folder, or a path.
    ///
    /// # Errors
    /// Where there is none, or it cannot be read. What is wrong *on* the sheet is in the result.
    pub fn of(cars: &Path, car: &str) -> Result<Self, Stop> {
        Self::read(find(cars, car)?)
    }

    /// Reads the sheet of a car that was found, and no more of a file than a sheet may have.
    ///
    /// # Errors
    /// Where the file cannot be read.
    pub fn read(folder: Folder) -> Result<Self, Stop> {
        Self::read_unless(folder, |_, _| None)
    }

    /// The same; what the very bytes of a path were read as before is taken as it is.
    ///
    /// # Errors
    /// Where the file cannot be read.
    pub fn read_unless(
        folder: Folder,
        known: impl FnOnce(&Path, &Digest) -> Option<sheet::ReadSheet>,
    ) -> Result<Self, Stop> {
        let path = folder.sheet().path().to_path_buf();
        let bytes = Self::bytes(&folder)?;
        let digest = Digest::of(&bytes);
        let read = known(&path, &digest).unwrap_or_else(|| sheet::read(&bytes, &path.display().to_string()));
        Ok(Self { folder, digest, read })
    }

    /// Digest of the sheet of a car as it lies on the disk, without a look at what it says: that of [`Sheet::read`].
    ///
    /// # Errors
    /// Where the file cannot be read.
    pub fn digest(folder: &Folder) -> Result<Digest, Stop> {
        Ok(Digest::of(&Self::bytes(folder)?))
    }

    fn bytes(folder: &Folder) -> Result<Vec<u8>, Stop> {
        let most = u64::try_from(sheet::MAX_BYTES)
            .unwrap_or(u64::MAX)
            .saturating_add(1);
        let refused = |fault| of_records(&folder.sheet().path().display().to_string(), &fault, None);
        folder.sheet().beginning(most).map_err(refused)
    }

    /// Where the sheet is.
    #[must_use]
    pub fn path(&self) -> String {
        self.folder.sheet().path().display().to_string()
    }

    /// What the car is called: its folder's name.
    #[must_use]
    pub fn name(&self) -> &str {
        self.folder.name()
    }
}

impl Opened {
    /// Opens a car. Everything that is wrong with the sheet, the overrides and the state is told at once, as far as
    /// one can be read without the other.
    ///
    /// # Errors
    /// Everything that is wrong, or why the file cannot be read.
    pub fn of(cars: &Path, car: &str, changes: &Changes, state: &StateText) -> Result<Self, Stop> {
        Self::of_sheet(Sheet::of(cars, car)?, changes, state)
    }

    /// The same of a sheet that was found and read already.
    ///
    /// # Errors
    /// Everything that is wrong.
    pub fn of_sheet(mut sheet: Sheet, changes: &Changes, state: &StateText) -> Result<Self, Stop> {
        let mut wrong = Wrong::default();
        let proposal = match &changes.proposal {
            Some(name) => wrong.note(match proposed::read(&sheet.folder, name) {
                Err(Stop::Wrong(more)) => Err(more),
                Err(stop) => return Err(stop),
                Ok(proposal) => Ok(proposal),
            }),
            None => None,
        };
        let replaced = replace(&mut sheet.read, proposal.as_ref(), changes, &mut wrong);
        let assembled = wrong.note(sheet.read.assemble().map_err(Wrong::from));
        let assembled = assembled.map(|mut assembled| {
            let warning = |text: &&'static str| engine::car::Unusual {
                path: "--with".to_owned(),
                text: (*text).into(),
            };
            assembled.warnings.extend(replaced.said.iter().map(warning));
            assembled
        });
        // The figures of the state's options need no car to be read, but surface and tank do.
        let state = match &assembled {
            Some(assembled) => wrong.note(State::of(&assembled.car, state)),
            None => None,
        };
        match (assembled, state) {
            (Some(assembled), Some(state)) if wrong.is_empty() => Ok(Self {
                sheet,
                assembled,
                overrides: replaced.overrides,
                carried: replaced.carried,
                proposal,
                state,
                prices: Prices::default(),
                beside: None,
                history: OnceLock::new(),
                precision: OnceLock::new(),
                precisions: OnceLock::new(),
                turn_study: OnceLock::new(),
                on_the_disk: OnceLock::new(),
            }),
            _ => Err(wrong.into()),
        }
    }

    /// The same car with other keys of its sheet, put together; what goes with an old part goes.
    ///
    /// # Errors
    /// Everything that is wrong with the keys, or with the car that they make.
    pub fn fitted(&self, with: &[String]) -> Result<Assembled, Wrong> {
        self.sheet_with(with)?.assemble().map_err(Wrong::from)
    }

    /// The same as the sheet would read.
    ///
    /// # Errors
    /// Everything that is wrong with the keys.
    pub(crate) fn sheet_with(&self, with: &[String]) -> Result<sheet::ReadSheet, Wrong> {
        let mut read = self.sheet.read.clone();
        let mut wrong = Wrong::default();
        let changes = Changes {
            with: with.to_vec(),
            ..Changes::default()
        };
        replace(&mut read, None, &changes, &mut wrong);
        if wrong.is_empty() { Ok(read) } else { Err(wrong) }
    }

    /// Keys that the proposal and the command replaced, without those that go with them.
    #[must_use]
    pub fn own_overrides(&self) -> &[(String, String)] {
        let own = self.overrides.len().saturating_sub(self.carried);
        self.overrides.get(..own).unwrap_or_default()
    }

    /// What the car has at a key, as it is written: by the command, or on the sheet, without a text's quotes.
    #[must_use]
    pub fn says(&self, key: &str) -> Option<String> {
        let replaced = self.overrides.iter().rev().find(|(replaced, _)| replaced == key);
        replaced
            .map(|(_, text)| text.clone())
            .or_else(|| Some(self.stands(key)?.trim_matches('"').to_owned()))
    }

    /// What the sheet on the disk has at a key, as the file writes it; nothing of what the command replaced.
    #[must_use]
    pub fn stands(&self, key: &str) -> Option<String> {
        let read = &self.sheet.read;
        if self.overrides.is_empty() {
            return stands(read, key);
        }
        let on_the_disk = || sheet::read(read.text().as_bytes(), "");
        stands(self.on_the_disk.get_or_init(on_the_disk), key)
    }

    /// A size that the car has, as its sheet writes it, without its tolerance: `5/8 in`. Where that is another one, in the
    /// usual unit.
    #[must_use]
    pub fn size_as_written(&self, key: &str, size: Length) -> String {
        let written = self.says(key).and_then(|said| {
            let value = said
                .split(['±', '+'])
                .next()
                .unwrap_or_default()
                .trim()
                .to_owned();
            let amount = quantity::parse(&value, Dimension::Length).ok()?;
            ((amount.si - size.m()).abs() <= SAME_SIZE.m()).then_some(value)
        });
        written.unwrap_or_else(|| {
            wording::figure(size.m(), quantity::units_of(Dimension::Length)[0]).replace('\u{a0}', " ")
        })
    }

    /// A car as its sheet has it, in the state that is taken when nothing is said.
    ///
    /// # Errors
    /// Everything that is wrong on the sheet.
    pub fn as_it_is(sheet: Sheet, today: Date) -> Result<Self, Stop> {
        let assembled = sheet.read.assemble().map_err(Wrong::from)?;
        let state = State::of(&assembled.car, &StateText::silent(today))?;
        Ok(Self {
            sheet,
            assembled,
            overrides: Vec::new(),
            carried: 0,
            proposal: None,
            state,
            prices: Prices::default(),
            beside: None,
            history: OnceLock::new(),
            precision: OnceLock::new(),
            precisions: OnceLock::new(),
            turn_study: OnceLock::new(),
            on_the_disk: OnceLock::new(),
        })
    }

    /// Takes what the car's logbook says from somebody who has read it, before it is asked for.
    pub fn know(&self, history: Arc<History>) {
        let _ = self.history.set(history);
    }

    /// Takes digits that were decided for others like it: a handle that moves does not have them drawn again.
    pub fn know_of_precisions(&self, kept: Arc<Precisions>) {
        let _ = self.precisions.set(kept);
    }

    /// Takes how far somebody is who studies its turn, or what came of it: the answer then waits for none.
    pub fn know_of_turn(&self, study: TurnStudy) {
        let _ = self.turn_study.set(study);
    }

    /// What is known of a study of its turn that is made elsewhere.
    pub(crate) fn turn_study(&self) -> Option<&TurnStudy> {
        self.turn_study.get()
    }

    /// What the car's logbook says; read once, when it is first asked for.
    #[must_use]
    pub fn history(&self) -> &History {
        self.history
            .get_or_init(|| Arc::new(History::of(&self.sheet.folder)))
    }

    /// How far the figures are known that every answer begins with: it decides their digits, in sentences, pictures and
    /// the index alike. Drawn once for a speed.
    #[must_use]
    pub fn precision(&self, speed: Speed) -> Precision {
        let drawn = || {
            // On the level, as an assessment is: a slope moves no digit.
            let conditions = Conditions {
                speed,
                grade: Grade::LEVEL,
                ..self.state.conditions.clone()
            };
            let draw = || {
                let drawn = headlines(self, &conditions, Precision::DRAWN);
                drawn.as_ref().map_or_else(Precision::default, Precision::of)
            };
            match self.precisions.get() {
                Some(kept) => kept.of(self.sheet.digest, &self.overrides, &conditions, draw),
                None => draw(),
            }
        };
        match self.precision.get_or_init(|| (speed, drawn())) {
            (of, precision) if of.m_s().total_cmp(&speed.m_s()).is_eq() => *precision,
            _ => drawn(),
        }
    }

    /// A logbook that does not read stands among the warnings of a result too.
    pub fn warn_of_the_logbook(&mut self) {
        if let Some((said, remedy)) = self.history().stop() {
            self.warn(LOGBOOK, format!("stop: {said}. {remedy}"));
        }
    }

    /// Adds a warning about an option to those about the sheet.
    pub fn warn(&mut self, option: &str, text: impl Into<engine::car::Remark>) {
        self.assembled.warnings.push(engine::car::Unusual {
            path: option.to_owned(),
            text: text.into(),
        });
    }

    /// The crew that is counted.
    #[must_use]
    pub fn crew_aboard(&self) -> Mass {
        let crew = self
            .car()
            .load
            .crew
            .as_ref()
            .filter(|_| self.state.conditions.aboard.crew);
        crew.map_or(Mass::ZERO, |crew| crew.mass)
    }

    /// Everything else that came aboard, without fuel.
    #[must_use]
    pub fn load_aboard(&self) -> Mass {
        let items = &self.car().load.items;
        let kg = items
            .iter()
            .filter(|_| self.state.conditions.aboard.crew)
            .map(|item| item.mass.kg())
            .sum();
        Mass::from_kg(kg)
    }

    /// The car.
    #[must_use]
    pub fn car(&self) -> &engine::car::Car {
        &self.assembled.car
    }
}

/// The headline figures of an opened car under conditions. `None` where the car does not know the surface, which opening
/// it has ruled out.
#[must_use]
pub fn headlines(opened: &Opened, conditions: &Conditions, sampling: Sampling) -> Option<Headlines> {
    let inputs = &opened.sheet.read.inputs;
    Headlines::of(
        opened.car(),
        inputs,
        &opened.assembled.toleranced,
        conditions,
        sampling,
    )
}

/// What was replaced on a sheet.
#[derive(Debug, Default)]
struct Overridden {
    overrides: Vec<(String, String)>,
    carried: usize,
    said: Vec<&'static str>,
}

/// Takes a proposal, then what was said, in the place of what a sheet says, and what goes with them.
fn replace(
    read: &mut sheet::ReadSheet,
    proposal: Option<&Proposed>,
    changes: &Changes,
    wrong: &mut Wrong,
) -> Overridden {
    if proposal.is_none() && changes.with.is_empty() && changes.valve.is_none() {
        return Overridden::default();
    }
    let before = read.clone();
    let mut overrides: Vec<(String, String)> = Vec::new();
    let mut say = |slot: engine::car::Slot, value: &str| {
        let (path, value) = (slot.path(), value.trim().to_owned());
        match overrides.iter_mut().find(|(key, _)| *key == path) {
            Some(said) => said.1 = value,
            None => overrides.push((path, value)),
        }
    };
    let value_of = |written: &str| written.split_once('=').map_or("", |(_, value)| value).to_owned();
    if let Some(Proposed { proposal, .. }) = proposal {
        match read.propose(proposal) {
            Ok(slots) => {
                for (slot, written) in slots.into_iter().zip(&proposal.with) {
                    say(slot, &value_of(written));
                }
            }
            Err(problems) => problems.into_iter().for_each(|problem| wrong.add(problem.into())),
        }
    }
    let mut given = BTreeSet::new();
    for written in &changes.with {
        if let Some(slot) = wrong.note(read.with(written)) {
            if !given.insert(slot.path()) {
                wrong.add(given_twice("--with", written, &slot));
            }
            say(slot, &value_of(written));
        }
    }
    if let Some(setting) = &changes.valve
        && let Some(slot) = wrong.note(valve(read, setting))
    {
        if given.contains(&slot.path()) {
            wrong.add(given_twice("--valve", setting, &slot));
        }
        say(slot, setting);
    }
    let keys: BTreeSet<String> = overrides.iter().map(|(key, _)| key.clone()).collect();
    let carried = if wrong.is_empty() {
        carry_over(read, &before, &keys)
    } else {
        crate::exchanged::Carried::default()
    };
    let count = carried.keys.len();
    overrides.extend(carried.keys);
    Overridden {
        overrides,
        carried: count,
        said: carried.said,
    }
}

/// A key that is given by two options, or twice by one.
fn given_twice(option: &str, written: &str, slot: &engine::car::Slot) -> Wrong {
    let what = format!("`{}` is given twice", slot.path());
    let remedy = "give each key once".to_owned();
    Wrong::option(option, written, 0..written.len(), "given-twice", what, remedy)
}

/// Takes the valve's setting in the place of the sheet's.
fn valve(read: &mut sheet::ReadSheet, setting: &str) -> Result<engine::car::Slot, Wrong> {
    if !read.inputs.has_table("bias_valve") {
        let what = "this car has no bias valve to set".to_owned();
        let remedy = "leave the option out, or write [bias_valve] on the sheet".to_owned();
        return Err(Wrong::option(
            "--valve",
            setting,
            0..setting.len(),
            "no-bias-valve",
            what,
            remedy,
        ));
    }
    let written = format!("{VALVE}={setting}");
    read.with(&written).map_err(|problem| {
        let key_bytes = written.len() - setting.len();
        let span = problem.span.start.saturating_sub(key_bytes)..problem.span.end.saturating_sub(key_bytes);
        Wrong::option(
            "--valve",
            setting,
            span,
            problem.slug(),
            problem.text(),
            problem.remedy(),
        )
    })
}

/// A car that is not there is a file that is missing; a name that no car can have is wrong input.
fn not_found(folder: &Path, car: &str, fault: &Fault) -> Stop {
    let remedy = match fault {
        Fault::NoSuchCar {
            nearest: None, cars, ..
        } => Some(known(cars)),
        Fault::Missing { path } if *path == folder => Some(
            "`rearline` by itself makes the folder with demonstration cars; --cars names another".to_owned(),
        ),
        _ => None,
    };
    of_records(car, fault, remedy)
}

/// Which cars there are.
fn known(cars: &Path) -> String {
    let names: Vec<String> = Cars::open(cars)
        .and_then(|cars| cars.list())
        .map(|listing| listing.found.iter().map(|car| car.name().to_owned()).collect())
        .unwrap_or_default();
    if names.is_empty() {
        "that folder holds no car yet: `rearline new NAME` writes a sheet to fill in".to_owned()
    } else {
        format!("there are: {}", names.join(", "))
    }
}

//! What the list shows of a car, as data: made from the car, kept beside the cars.

use assess::{Finding, Verdict, Weight};
use engine::car::Date;
use engine::ranges::Sampling;
use proving::due::{Urgency, changes_on};
use quantity::si::{Force, Length};
use questions::assess as assessment;
use questions::due::due_of;
use questions::on_the_car::OnTheCar;
use questions::plan::order_of;
use questions::report::Frame;
use questions::{Opened, Sheet, Stop};
use records::logbook::{self, WAIT};
use records::{CarFolder, KeptAnswer};
use serde::{Deserialize, Serialize};
use wording::Units;

/// What the list shows of a car.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub(crate) struct Row {
    /// What the sheet calls it.
    pub(crate) name: String,
    pub(crate) build: Option<String>,
    pub(crate) says: Says,
}

/// What there is to say of it.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub(crate) enum Says {
    /// It answers.
    Answer(Box<Answered>),
    /// Its sheet wants figures: `6 left to a first answer`.
    Unfinished(String),
    /// Its sheet has so many faults.
    Faults(usize),
}

/// The answer, in the words of its assessment.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub(crate) struct Answered {
    /// What stops it first: slug and title, and how many more.
    pub(crate) stop: Option<(String, String, usize)>,
    /// The stamp.
    pub(crate) word: String,
    pub(crate) frame: Framed,
    /// What stops a car before what does not; then the worst word first.
    pub(crate) rank: u8,
    /// Name and figure.
    pub(crate) figures: Vec<(String, String)>,
    pub(crate) next: String,
    /// The worst finding that is no stop: its weight and its title.
    pub(crate) worst: Option<(String, String)>,
    /// What falls due first: how soon, what, and how many more.
    pub(crate) due: Option<(HowSoon, String, usize)>,
    /// Which fault kept its logbook from being read, in a word.
    pub(crate) book_lost: Option<String>,
}

/// The frame of a stamp.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub(crate) enum Framed {
    Solid,
    Heavy,
    Broken,
}

impl From<Frame> for Framed {
    fn from(frame: Frame) -> Self {
        match frame {
            Frame::Solid => Self::Solid,
            Frame::Heavy => Self::Heavy,
            Frame::Broken => Self::Broken,
        }
    }
}

impl From<Framed> for Frame {
    fn from(framed: Framed) -> Self {
        match framed {
            Framed::Solid => Self::Solid,
            Framed::Heavy => Self::Heavy,
            Framed::Broken => Self::Broken,
        }
    }
}

/// How soon something falls due.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub(crate) enum HowSoon {
    Now,
    Soon,
    NotKnown,
}

impl HowSoon {
    const fn of(urgency: Urgency) -> Self {
        match urgency {
            Urgency::Now => Self::Now,
            Urgency::Soon => Self::Soon,
            Urgency::NotKnown => Self::NotKnown,
        }
    }

    /// The word for it.
    pub(crate) const fn word(self) -> &'static str {
        match self {
            Self::Now => Urgency::Now.word(),
            Self::Soon => Urgency::Soon.word(),
            Self::NotKnown => Urgency::NotKnown.word(),
        }
    }
}

/// What an answer is made for, beside the car's own files.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct MadeFor {
    pub(crate) units: Units,
    pub(crate) day: Date,
    /// Units and the program's build, in words.
    pub(crate) words: String,
}

impl MadeFor {
    pub(crate) fn of(units: Units, build: &str, day: Date) -> Self {
        let symbols = [
            units.pressure,
            units.length,
            units.force,
            units.torque,
            units.mass,
            units.fluid,
        ]
        .map(|unit| unit.symbol());
        Self {
            units,
            day,
            words: format!("{} {build}", symbols.join(",")),
        }
    }
}

/// Answers for a car. Whatever is wrong with its sheet is an answer too; a file that would not be read is none.
///
/// # Errors
/// Why the sheet would not be read.
pub(crate) fn made(car: CarFolder, made_for: &MadeFor) -> Result<(KeptAnswer, Row), Stop> {
    let folder = car.name().to_owned();
    // Looked at before they are read: what is written meanwhile is seen at the next look.
    let book = car.book_lies();
    let head = logbook::newest(&car.logbook(), WAIT)
        .ok()
        .and_then(|newest| newest.hash);
    let sheet = Sheet::read(car)?;
    let digest = sheet.digest;
    let (row, until) = answered(sheet, made_for)?;
    let answer = KeptAnswer {
        car: folder,
        sheet: digest,
        book,
        head,
        made_for: made_for.words.clone(),
        made_on: made_for.day,
        until,
        said: serde_json::to_string(&row).unwrap_or_default(),
    };
    Ok((answer, row))
}

fn answered(sheet: Sheet, made_for: &MadeFor) -> Result<(Row, Option<Date>), Stop> {
    let folder = sheet.name().to_owned();
    let says = |says| Row {
        name: folder.clone(),
        build: None,
        says,
    };
    let on_the_car = OnTheCar::of(sheet.read.text());
    let unfinished = on_the_car.left() > 0 && on_the_car.is_only_unfinished();
    let opened = match Opened::as_it_is(sheet, made_for.day) {
        Ok(opened) => opened,
        Err(Stop::Wrong(_)) if unfinished => return Ok((says(Says::Unfinished(on_the_car.short())), None)),
        Err(Stop::Wrong(wrong)) => return Ok((says(Says::Faults(wrong.troubles.len() + wrong.more)), None)),
        Err(stop) => return Err(stop),
    };
    let outcome = match questions::speed(None)
        .and_then(|speed| assessment::Outcome::of(&opened, speed, Sampling::default(), &made_for.units))
    {
        Ok(outcome) => outcome,
        Err(wrong) => return Ok((says(Says::Faults(wrong.troubles.len() + wrong.more)), None)),
    };
    let until = changes_on(opened.car(), &opened.history().noted, made_for.day);
    let row = Row {
        name: opened.car().name.to_string(),
        build: opened.car().build.as_ref().map(ToString::to_string),
        says: Says::Answer(Box::new(of_outcome(&opened, &outcome, &made_for.units))),
    };
    Ok((row, until))
}

fn of_outcome(opened: &Opened, outcome: &assessment::Outcome, units: &Units) -> Answered {
    let found = &outcome.assessment;
    let stops: Vec<&Finding> = found.stops().collect();
    let due = due_of(opened);
    Answered {
        stop: stops
            .first()
            .map(|stop| (stop.slug.to_string(), stop.title.to_string(), stops.len() - 1)),
        word: found.answer.said.to_owned(),
        frame: outcome.frame().into(),
        rank: rank(found.answer.verdict) + if stops.is_empty() { 10 } else { 0 },
        figures: figures(outcome, units)
            .map(|(name, text)| (name.to_owned(), text))
            .to_vec(),
        next: order_of(opened).short(),
        worst: found
            .findings
            .iter()
            .find(|finding| finding.weight != Weight::Stop)
            .map(|worst| (worst.weight.word().to_owned(), worst.title.to_string())),
        due: due
            .first()
            .map(|first| (HowSoon::of(first.urgency), first.what.clone(), due.len() - 1)),
        book_lost: opened.history().lost.as_ref().map(|stop| {
            let (Stop::Wrong(wrong) | Stop::File(wrong)) = stop;
            let first = wrong.troubles.first();
            first.map_or_else(String::new, |trouble| trouble.slug.clone())
        }),
    }
}

/// The worst word first.
const fn rank(verdict: Verdict) -> u8 {
    match verdict {
        Verdict::No => 0,
        Verdict::NotWithThisCentre => 1,
        Verdict::Half => 2,
        Verdict::Open => 3,
        Verdict::NoLever => 4,
        Verdict::Yes => 5,
    }
}

/// The three figures that cars are compared by, rounded as they are everywhere else.
fn figures(outcome: &assessment::Outcome, units: &Units) -> [(&'static str, String); 3] {
    let middle = &outcome.figures.headlines.middle;
    let shown = |text: Option<String>| text.unwrap_or_else(|| "–".to_owned());
    let force = |hand: Force| outcome.precision.hand(hand, units);
    let length = |travel: Length| outcome.precision.travel(travel, units);
    [
        ("torque", shown(middle.in_hand.map(wording::per_cent))),
        ("pull", shown(middle.hand.map(force))),
        ("travel", shown(middle.travel.map(length))),
    ]
}

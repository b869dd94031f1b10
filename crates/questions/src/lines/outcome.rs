//! What comes out, what to buy, how long to cut it, what is screwed into what.

use assess::{Assessment, ComesOut, comes_out};
use engine::Conditions;
use engine::balance::{Leaking, leaking_runs};
use engine::hydraulics::{Forces, Hydraulics};
use engine::lever::{LeverBench, Pull, ToLock};
use plumbing::layouts::{Layout, Layouts, NotOnThis};
use plumbing::prices::Prices;
use plumbing::rules::{Caught, caught};
use plumbing::{Joint, Meeting, Plumbing, run_words};
use proving::Fact;
use quantity::si::{Force, Length, Pressure, Volume};

use crate::history::History;
use crate::opened::Opened;
use crate::options::HAND;
use crate::question::Case;
use crate::trouble::{Quotation, Trouble, Wrong};

/// What hoses give back as travel at the driver's pull.
#[derive(Clone, Copy, Debug)]
pub(super) struct HoseTravel {
    /// In the lever's cylinder.
    pub pressure: Pressure,
    /// That the hoses grow by.
    pub volume: Volume,
    /// At the grip.
    pub travel: Length,
    /// Of all the travel that there is at that pull.
    pub share: f64,
}

/// A layout, and what the car does with it.
#[derive(Debug)]
pub(super) struct Compared {
    /// Its plumbing, what it costs.
    pub layout: Layout,
    /// What the hand has to do; `None` without a lever.
    pub to_lock: Option<ToLock>,
    /// Every run, open.
    pub leaking: Vec<Leaking>,
}

impl Compared {
    fn of(layout: Layout, opened: &Opened, pull: Pull) -> Self {
        let (car, state) = (&layout.car, &opened.state);
        let bench = LeverBench::of(car, state.conditions.warmth);
        Self {
            to_lock: bench.map(|bench| bench.answer(&state.laden, pull).to_lock),
            leaking: leaking_runs(car, &layout.plumbing.circuit, &state.laden, pull.grip),
            layout,
        }
    }

    /// The run whose leak leaves least: by deceleration, then by what the hand still has.
    #[must_use]
    pub(super) fn worst(&self) -> Option<&Leaking> {
        self.leaking.iter().min_by(|one, other| {
            one.rate
                .m_s2()
                .total_cmp(&other.rate.m_s2())
                .then(one.hand.len().cmp(&other.hand.len()))
        })
    }

    /// How many of its runs, open, take the hand too.
    #[must_use]
    pub(super) fn runs_that_take_the_hand(&self) -> usize {
        let takes = |leaking: &&Leaking| leaking.hand.is_empty();
        self.leaking.iter().filter(takes).count()
    }
}

/// What came out.
#[derive(Debug)]
pub(super) struct Outcome {
    /// Joints, parts, cuts.
    pub plumbing: Plumbing,
    /// Rules of the trade that the sheet breaks or asks to mind.
    pub caught: Vec<Caught>,
    /// Layouts that this car can have, side by side, the sheet's own first.
    pub can: Vec<Compared>,
    /// Those that it cannot.
    pub cannot: Vec<NotOnThis>,
    /// What the new parts replace or make useless.
    pub comes_out: Vec<ComesOut>,
    /// The person's own prices.
    pub prices: Prices,
    /// Prices that nothing of this car needs, in words.
    pub(super) idle_prices: Option<String>,
    /// What hoses give back as travel; `None` without a lever's cylinder.
    pub hoses: Option<HoseTravel>,
    /// What the logbook says is bought, or cut: codes of parts, names of runs.
    pub got: Vec<String>,
    /// Whether it has a logbook that does not read: then nobody knows what is.
    pub logbook_lost: bool,
    /// What stops the car before anything is bought for it.
    pub assessment: Assessment,
}

impl Outcome {
    /// Of a car.
    ///
    /// # Errors
    /// Ports of the sheet that are not listed.
    pub(super) fn of(case: &Case<'_>) -> Result<Self, Wrong> {
        let opened = case.opened;
        let prices = opened.prices.clone();
        let (car, pull) = (opened.car(), pull(case));
        let plumbing = Plumbing::of(car);
        let unlisted = unlisted(opened, &plumbing);
        if !unlisted.is_empty() {
            return Err(unlisted);
        }
        let Layouts { can, cannot } = Layouts::of(car, &prices);
        let parts = can.iter().flat_map(|layout| &layout.plumbing.parts);
        let idle_prices = crate::prices::idle_among(&parts.collect::<Vec<_>>(), opened, &prices);
        let assessed = crate::assess::Outcome::briefly(opened, pull.speed, 0, &case.units)?;
        Ok(Self {
            assessment: assessed.assessment,
            caught: caught(car, &plumbing),
            can: can
                .into_iter()
                .map(|layout| Compared::of(layout, opened, pull))
                .collect(),
            cannot,
            comes_out: comes_out(car),
            hoses: hoses(opened, pull.hand),
            got: got(opened.history()),
            logbook_lost: assessed.logbook_lost,
            prices,
            idle_prices,
            plumbing,
        })
    }

    /// The sheet's own layout.
    pub(super) fn own(&self) -> Option<&Compared> {
        self.can.first()
    }

    /// How many joints meet so.
    pub(super) fn joints_that(&self, meet: impl Fn(&Meeting) -> bool) -> usize {
        let joints = self.plumbing.joints.iter();
        joints.filter(|joint| meet(&joint.meeting)).count()
    }

    /// Whether something of the list is bought or cut already.
    pub(super) fn is_got(&self, code: &str) -> bool {
        self.got.iter().any(|got| got == code)
    }

    /// The runs that are not touched, in words; `None` where every run is made anew.
    #[must_use]
    pub(super) fn stays(&self) -> Vec<String> {
        let staying = self.plumbing.cuts.iter().filter(|cut| cut.stays);
        staying.map(|cut| run_words(&cut.run)).collect()
    }

    /// What is left out of the list of parts, because nobody knows it yet: a sentence each.
    #[must_use]
    pub(super) fn not_listed(&self) -> Vec<String> {
        let to_tape = self.plumbing.cuts.iter().filter(|cut| cut.wants_tape()).count();
        let made = |joint: &&Joint| !self.plumbing.cuts[joint.run].stays;
        let to_look_at = self
            .plumbing
            .joints
            .iter()
            .filter(made)
            .filter(|joint| joint.meeting == Meeting::NotKnown)
            .count();
        let mut said = Vec::new();
        if to_tape > 0 {
            said.push(format!(
                "Not on the list: pipe, hose and clips for {}, not measured. Tape first, then order.",
                wording::counted(to_tape, "one run", &format!("{to_tape} runs"))
            ));
        }
        if to_look_at > 0 {
            said.push(format!(
                "Not on the list: nuts, ends and adapters at {} whose thread and seat nobody gave. Look first, then \
                 order.",
                wording::counted(to_look_at, "one port", &format!("{to_look_at} ports"))
            ));
        }
        said
    }
}

/// The short answer: `73 parts, 8.0 m`, or `41 parts, 3.5 m and 2 runs to tape`.
pub(super) fn in_short(car: &engine::car::Car) -> String {
    let layouts = Layouts::of(car, &Prices::default());
    let Some(own) = layouts.can.first() else {
        return String::new();
    };
    let line = match (own.line > Length::ZERO, own.to_tape) {
        (_, 0) => wording::metres(own.line),
        (true, runs) => format!(
            "{} and {} to tape",
            wording::metres(own.line),
            runs_in_words(runs)
        ),
        (false, runs) => format!("{} to tape", runs_in_words(runs)),
    };
    format!("{} parts, {line}", wording::whole(own.pieces))
}

/// `2 runs`
pub(super) fn runs_in_words(count: usize) -> String {
    format!("{count} {}", wording::counted(count, "run", "runs"))
}

/// The driver's pull: as asked, or as on the sheet.
fn pull(case: &Case<'_>) -> Pull {
    let opened = case.opened;
    let conditions = Conditions {
        hand: case.said.force(&HAND),
        speed: case.said.speed(),
        ..opened.state.conditions.clone()
    };
    conditions.pull_at(opened.car(), opened.state.surface.peak)
}

fn got(history: &History) -> Vec<String> {
    let what = |noted: &proving::Noted| match &noted.fact {
        Fact::Got { what } => Some(what.clone()),
        _ => None,
    };
    history.noted.iter().filter_map(what).collect()
}

fn hoses(opened: &Opened, hand: Force) -> Option<HoseTravel> {
    let car = opened.car();
    let lever = car.lever.as_ref()?;
    let cylinder = lever.cylinder()?;
    let asked = Forces {
        foot: Force::ZERO,
        hand,
    };
    let answer = Hydraulics::of(car, opened.state.conditions.warmth).answer(&opened.state.laden, asked);
    let lever = answer.lever?;
    let volume = lever.taken.hoses;
    let travel = Length::from_m(volume.m3() / cylinder.pressed_area_m2() * cylinder.ratio);
    let all = lever.travel?;
    Some(HoseTravel {
        pressure: lever.own?,
        volume,
        travel,
        share: if all > Length::ZERO { travel / all } else { 0.0 },
    })
}

/// Ports of the sheet that are not listed are wrong input here.
#[must_use]
pub fn unlisted(opened: &Opened, plumbing: &Plumbing) -> Wrong {
    let mut wrong = Wrong::default();
    for unlisted in &plumbing.unlisted {
        wrong.add(
            Trouble {
                file: opened.sheet.path(),
                place: None,
                key: Some(unlisted.key.to_owned()),
                slug: "unlisted-port".to_owned(),
                text: format!("{}: {}", unlisted.key, unlisted.fault),
                remedy: unlisted.fault.help(),
                shown: Quotation::Nothing,
            }
            .into(),
        );
    }
    wrong
}

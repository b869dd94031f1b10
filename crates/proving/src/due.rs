//! What falls due, and why: fluid by age and heat, pads by trend, hoses by age, joints after the first event.

use engine::car::{Car, Date, FluidGrade, Pipe};

use crate::{Fact, JointFound, Noted};
use plumbing::Plumbing;

/// How soon.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Urgency {
    /// Before the car is driven again.
    Now,
    /// Before long.
    Soon,
    /// Nobody knows: look, and write it down.
    NotKnown,
}

impl Urgency {
    /// The word for it.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Now => "now",
            Self::Soon => "soon",
            Self::NotKnown => "not known",
        }
    }
}

/// One thing that falls due.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Due {
    /// A word for it that never changes.
    pub slug: &'static str,
    /// How soon.
    pub urgency: Urgency,
    /// What.
    pub what: String,
    /// Why.
    pub why: String,
    /// What to do.
    pub remedy: &'static str,
}

/// A season: fluid in a car that is driven hard is changed after it (common practice, no source).
pub const FLUID_DAYS: i32 = 365;
/// It is time to think of it after this.
pub const FLUID_SOON_DAYS: i32 = 300;
/// Rubber hoses (common practice, no source: makers say six to ten years from the date on the hose).
pub const RUBBER_DAYS: i32 = 6 * 365;
/// Braided hoses in competition (common practice, no source: five years, or as the event's rules say).
pub const BRAIDED_DAYS: i32 = 5 * 365;
/// So long before that it is time to think of them.
pub const HOSES_SOON_DAYS: i32 = 180;
/// Thinnest lining that is driven on (common practice, no source).
pub const THINNEST_M: f64 = 3e-3;
/// How near to its wet boiling point fluid is let (judgement).
pub const NEAR_WET_K: f64 = 15.0;

/// Days between two days; negative where the second comes first.
fn days(from: Date, to: Date) -> i32 {
    to.since(from).map_or(0, |span| span.get_days())
}

/// What falls due on a day, most urgent first. `history` is the logbook, oldest first, without what was struck.
#[must_use]
pub fn due(car: &Car, plumbing: &Plumbing, history: &[Noted], today: Date) -> Vec<Due> {
    let mut all: Vec<Due> = [
        fluid_age(car, history, today),
        fluid_heat(car, history),
        due_joints(plumbing, history),
    ]
    .into_iter()
    .flatten()
    .chain(hoses(plumbing, history, today))
    .chain(
        ["front", "rear"]
            .into_iter()
            .filter_map(|axle| pads(history, axle)),
    )
    .collect();
    all.sort_by_key(|due| due.urgency);
    all
}

/// When fluid was last changed: by the logbook or by the sheet, whichever is later.
#[must_use]
pub fn fluid_changed(car: &Car, history: &[Noted]) -> Option<Date> {
    let logged = history
        .iter()
        .filter(|entry| entry.fact == Fact::FluidChanged)
        .map(|entry| entry.day)
        .max();
    logged.max(car.fluid.fitted)
}

/// The short answer: `fluid 8 months old`, or what is most urgent.
#[must_use]
pub fn short(car: &Car, history: &[Noted], all: &[Due], today: Date) -> String {
    if let Some(first) = all.first().filter(|due| due.urgency == Urgency::Now) {
        return format!("due: {}", first.what);
    }
    match fluid_changed(car, history).map(|changed| days(changed, today)) {
        Some(age) if age >= 61 => format!("fluid {} months old", age * 12 / 365),
        Some(age) if age >= 0 => format!("fluid {age} days old"),
        _ => "nobody knows how old the fluid is".to_owned(),
    }
}

/// The first day after `today` on which something of the car may fall due, or cease to, by the day alone; `None`: no day
/// changes it. Until then [`due`] names the same things with the same urgency, and the sheet's fluid is of the same
/// season. A logbook or a sheet that changes is another matter.
#[must_use]
pub fn changes_on(car: &Car, history: &[Noted], today: Date) -> Option<Date> {
    let fitted = history
        .iter()
        .filter(|entry| entry.fact == Fact::HosesFitted)
        .map(|entry| entry.day)
        .max();
    let fluid = [car.fluid.fitted, fluid_changed(car, history)];
    let fluid = fluid
        .into_iter()
        .flatten()
        .flat_map(|changed| [0, FLUID_SOON_DAYS + 1, FLUID_DAYS + 1].map(|days| (changed, days)));
    let hoses = fitted.into_iter().flat_map(|fitted| {
        let most = [BRAIDED_DAYS, RUBBER_DAYS];
        most.into_iter()
            .flat_map(move |most| [most - HOSES_SOON_DAYS, most].map(|days| (fitted, days + 1)))
    });
    fluid
        .chain(hoses)
        .filter_map(|(from, days)| from.checked_add(jiff::Span::new().days(days)).ok())
        .filter(|day| *day > today)
        .min()
}

fn fluid_age(car: &Car, history: &[Noted], today: Date) -> Option<Due> {
    let Some(changed) = fluid_changed(car, history) else {
        return Some(Due {
            slug: "fluid-age",
            urgency: Urgency::NotKnown,
            what: "brake fluid".to_owned(),
            why: "neither sheet nor logbook says when it was changed; it draws water from the first day"
                .to_owned(),
            remedy: "change it, and write it down",
        });
    };
    // Silicone draws none.
    if car.fluid.grade == FluidGrade::Dot5 {
        return None;
    }
    let age = days(changed, today);
    let urgency = match age {
        old if old > FLUID_DAYS => Urgency::Now,
        old if old > FLUID_SOON_DAYS => Urgency::Soon,
        _ => return None,
    };
    Some(Due {
        slug: "fluid-age",
        urgency,
        what: "brake fluid".to_owned(),
        why: format!("changed on {changed}, {age} days ago; a season is {FLUID_DAYS}"),
        remedy: "change it, all corners and the lever's cylinder",
    })
}

fn fluid_heat(car: &Car, history: &[Noted]) -> Option<Due> {
    let changed = fluid_changed(car, history);
    let since = |entry: &&Noted| changed.is_none_or(|changed| entry.day >= changed);
    let hottest = history
        .iter()
        .filter(since)
        .filter_map(|entry| match entry.fact {
            Fact::FluidHeat { celsius } => Some((celsius, entry.day)),
            _ => None,
        })
        .max_by(|one, other| one.0.total_cmp(&other.0));
    let tested = history
        .iter()
        .filter(since)
        .filter_map(|entry| match entry.fact {
            Fact::FluidTested { boils_c } => Some((boils_c, entry.day)),
            _ => None,
        })
        .next_back();
    let wet_c = car.fluid.boiling_wet.celsius();
    if let Some((boils_c, day)) = tested.filter(|&(boils_c, _)| boils_c < wet_c + NEAR_WET_K) {
        return Some(Due {
            slug: "fluid-tested",
            urgency: Urgency::Now,
            what: "brake fluid".to_owned(),
            why: format!(
                "tested on {day}: it boils at {boils_c:.0} °C, and wet fluid of its grade at {wet_c:.0} °C"
            ),
            remedy: "change it",
        });
    }
    let (celsius, day) = hottest?;
    (celsius > wet_c - NEAR_WET_K).then(|| Due {
        slug: "fluid-heat",
        urgency: Urgency::Now,
        what: "brake fluid".to_owned(),
        why: format!("it got to {celsius:.0} °C on {day}; with its share of water it boils at {wet_c:.0} °C"),
        remedy: "change it, and look where the heat comes from",
    })
}

/// Pads by trend: two or more measurements since they were fitted make a straight line.
fn pads(history: &[Noted], axle: &str) -> Option<Due> {
    let mut measured: Vec<(Date, f64)> = Vec::new();
    for entry in history {
        if let Fact::Pads {
            axle: of,
            left_m,
            fitted,
        } = &entry.fact
            && of == axle
        {
            if *fitted {
                measured.clear();
            }
            measured.push((entry.day, *left_m));
        }
    }
    let &(day, left_m) = measured.last()?;
    let mm = |m: f64| format!("{:.1} mm", m * 1e3);
    if left_m <= THINNEST_M {
        return Some(Due {
            slug: "pads",
            urgency: Urgency::Now,
            what: format!("{axle} pads"),
            why: format!("{} left on {day}; {} is the least", mm(left_m), mm(THINNEST_M)),
            remedy: "new pads, and bed them in",
        });
    }
    let &(first_day, first_m) = measured.first()?;
    let times = u32::try_from(measured.len() - 1).unwrap_or(u32::MAX);
    let lost_m = first_m - left_m;
    if times == 0 || lost_m <= 0.0 {
        return None;
    }
    // What an interval between two measurements takes: an event, as a rule.
    let per_time_m = lost_m / f64::from(times);
    let times_left = (left_m - THINNEST_M) / per_time_m;
    (times_left < 1.5).then(|| Due {
        slug: "pads",
        urgency: if times_left < 1.0 { Urgency::Now } else { Urgency::Soon },
        what: format!("{axle} pads"),
        why: format!(
            "{} left on {day}; since {first_day} they lost {} from one measurement to the next, which leaves {:.1} more \
             of those",
            mm(left_m),
            mm(per_time_m),
            times_left
        ),
        remedy: "take a set along, or fit it before",
    })
}

fn hoses(plumbing: &Plumbing, history: &[Noted], today: Date) -> Option<Due> {
    let has = |pipe: Pipe| plumbing.cuts.iter().any(|cut| cut.pipe == pipe);
    let most = match (has(Pipe::Rubber), has(Pipe::Braided3)) {
        (_, true) => BRAIDED_DAYS,
        (true, false) => RUBBER_DAYS,
        (false, false) => return None,
    };
    let fitted = history
        .iter()
        .filter(|entry| entry.fact == Fact::HosesFitted)
        .map(|entry| entry.day)
        .max();
    let Some(fitted) = fitted else {
        return Some(Due {
            slug: "hoses",
            urgency: Urgency::NotKnown,
            what: "hoses".to_owned(),
            why: "nobody wrote down when they were fitted".to_owned(),
            remedy: "read the date on the hoses, and write it down",
        });
    };
    let age = days(fitted, today);
    (age > most - HOSES_SOON_DAYS).then(|| Due {
        slug: "hoses",
        urgency: if age > most { Urgency::Now } else { Urgency::Soon },
        what: "hoses".to_owned(),
        why: format!(
            "fitted on {fitted}, {:.1} years ago; {} are usual",
            f64::from(age) / 365.25,
            most / 365
        ),
        remedy: "new hoses; look at the old ones for cracks, rust under the cover and kinks",
    })
}

/// Joints after the first event since they were last made or remade: each is felt again.
#[must_use]
pub fn due_joints(plumbing: &Plumbing, history: &[Noted]) -> Option<Due> {
    let opened = history.iter().rposition(|entry| {
        matches!(
            entry.fact,
            Fact::Touched { .. }
                | Fact::Joint {
                    found: JointFound::Marked | JointFound::Remade,
                    ..
                }
        )
    })?;
    let event = opened
        + history[opened..]
            .iter()
            .position(|entry| matches!(entry.fact, Fact::Event { .. }))?;
    let felt: Vec<&str> = history[event..]
        .iter()
        .filter_map(|entry| match &entry.fact {
            Fact::Joint {
                joint,
                found: JointFound::Dry | JointFound::Weep,
            } => Some(joint.as_str()),
            _ => None,
        })
        .collect();
    let waiting = plumbing
        .joints
        .iter()
        .filter(|joint| !felt.iter().any(|felt| plumbing.joint(felt) == Some(joint)))
        .count();
    let Fact::Event { name } = &history[event].fact else {
        return None;
    };
    (waiting > 0).then(|| Due {
        slug: "joints-after-event",
        urgency: Urgency::Now,
        what: format!("{waiting} joints"),
        why: format!(
            "{name} was the first event after they were made; seals and flares have bedded in since, and nobody has felt \
             them again"
        ),
        remedy: "look at every witness mark, feel every joint under pressure, write down what was found",
    })
}

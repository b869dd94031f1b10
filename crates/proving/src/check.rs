//! The checks beside the joints, and how a reading is judged.

use engine::car::{Car, Driven, LeverKind};
use quantity::Dimension;
use quantity::si::Length;
use serde_json::{Value, json};

use crate::data::{EntryFault, Range, wanted};
use crate::judged::CheckResult;

/// A check.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Check {
    /// Bled until clear, in the order of the plan.
    Bled,
    /// Bleed screws closed, dry and capped.
    Screws,
    /// Pressure held while alone, low and high, joints felt round.
    Pressed,
    /// Pressure held shut, judged against temperature.
    Soak,
    /// Two presses of the pedal feel and travel alike.
    FirmPedal,
    /// Two pulls of the handbrake travel alike.
    FirmHand,
    /// The by-pass is open at rest: rear wheels turn by hand, cold.
    ByPassCold,
    /// Walking-pace brake test.
    Walking,
    /// The by-pass again, after three hard stops.
    ByPassHot,
    /// Left and right alike.
    Even,
    /// What holds the parked car does, on a slope, facing both ways.
    Slope,
}

impl Check {
    /// All of them, in the order of the work.
    pub const ALL: [Self; 11] = [
        Self::Bled,
        Self::Screws,
        Self::Pressed,
        Self::Soak,
        Self::FirmPedal,
        Self::FirmHand,
        Self::ByPassCold,
        Self::Walking,
        Self::ByPassHot,
        Self::Even,
        Self::Slope,
    ];

    /// Those that a car has: a car without a lever's cylinder has no by-pass and no second pull.
    #[must_use]
    pub fn of(car: &Car) -> Vec<Self> {
        let kind = car.lever.as_ref().map(|lever| &lever.kind);
        let inline = matches!(kind, Some(LeverKind::Inline(_)));
        let hydraulic = inline || matches!(kind, Some(LeverKind::Separate(..)));
        Self::ALL
            .into_iter()
            .filter(|check| match check {
                Self::ByPassCold | Self::ByPassHot => hydraulic,
                Self::FirmHand => kind.is_some(),
                _ => true,
            })
            .collect()
    }

    /// The word for it in entries.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Bled => "bled",
            Self::Screws => "screws",
            Self::Pressed => "pressed",
            Self::Soak => "soak",
            Self::FirmPedal => "firm-pedal",
            Self::FirmHand => "firm-hand",
            Self::ByPassCold => "bypass-cold",
            Self::Walking => "walking",
            Self::ByPassHot => "bypass-hot",
            Self::Even => "even",
            Self::Slope => "slope",
        }
    }

    /// A check by its word.
    #[must_use]
    pub fn named(name: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|check| check.name() == name)
    }

    /// All words.
    #[must_use]
    pub fn names() -> Vec<&'static str> {
        Self::ALL.map(Self::name).to_vec()
    }

    /// What it is, in a few words.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::Bled => "bled until clear",
            Self::Screws => "bleed screws closed, dry, capped",
            Self::Pressed => "pressure held, joints felt round",
            Self::Soak => "pressure held shut",
            Self::FirmPedal => "pedal: second press like the first",
            Self::FirmHand => "handbrake: second pull like the first",
            Self::ByPassCold => "by-pass open at rest, cold",
            Self::Walking => "brake test at walking pace",
            Self::ByPassHot => "by-pass open after three hard stops",
            Self::Even => "left and right alike",
            Self::Slope => "holds on a slope",
        }
    }

    /// What to do and what to see.
    #[must_use]
    pub fn how(self, car: &Car) -> String {
        let separate = matches!(
            car.lever.as_ref().map(|lever| &lever.kind),
            Some(LeverKind::Separate(..))
        );
        match self {
            Self::Bled => "Each corner in its turn, until what comes is clear and without a bubble; reservoir never \
                below its mark; knob of the bias valve put back afterwards."
                .to_owned(),
            Self::Screws => "Closed by hand's feel, wiped, capped; felt again under pressure.".to_owned(),
            Self::Pressed => format!(
                "Wash down, let everything dry: water is not fluid. First light pressure (a hand's weight on the pedal) for \
                 five minutes, since some seals leak only at low pressure; then the pedal propped hard against the \
                 seat{}, ten minutes each; feel round every joint with a dry paper.",
                if car.lever.as_ref().is_some_and(|lever| lever.cylinder().is_some()) {
                    " and the lever strapped back"
                } else {
                    ""
                }
            ),
            Self::Soak => "A gauge at a rear bleed screw, pressure closed in. Read it at once and after ten minutes, and the \
                air beside it. A degree moves it as much as a weep does."
                .to_owned(),
            Self::FirmPedal => "Engine running. Press, let go, press at once: the second travel is the first. Then hold \
                for a minute: it stays where it is."
                .to_owned(),
            Self::FirmHand => "Pull to the same force twice, luggage scale and a tape at the grip: note both travels."
                .to_owned(),
            Self::ByPassCold if separate => "Lever right off: the rear wheels turn by hand at once.".to_owned(),
            Self::ByPassCold => "Lever right off. Press the pedal hard, let go: the rear wheels turn by hand at once. Pull \
                the lever, let go: the same. The grip has a little play before the cylinder moves."
                .to_owned(),
            Self::Walking => "A flat place with nothing in the way, belts on, engine running. Stop from walking pace with \
                the foot, then with the hand, before anything faster. Pedal where it was; no pull to a side."
                .to_owned(),
            Self::ByPassHot => "Three hard stops in a row, then lift the rear: wheels turn by hand at once. Hot discs and \
                fluid: keep fingers off."
                .to_owned(),
            Self::Even => {
                let how = "Each rear wheel clear of the ground, the same pressure held on a gauge. A torque wrench on the hub, \
                    read as it slips: left and right within 30 % of the greater";
                if coupled(car) {
                    format!(
                        "{how}. All wheels of this car are coupled: NEVER on an ordinary roller tester. It turns one \
                         axle while the other stands: the car climbs off the rollers, or its centre breaks. A tester for \
                         four-wheel drive, a deceleration meter on a straight, or the torque wrench."
                    )
                } else {
                    format!("{how}; or on a roller tester.")
                }
            }
            Self::Slope => "Chocks a hand's width behind the wheels, nobody behind the car. What is meant to hold it holds \
                for five minutes, facing up and facing down. Pressure behind a latch is not a parking brake."
                .to_owned(),
        }
    }

    /// What has to stand before this can hold: checks, and whether every joint is dry. Nobody drives at walking pace on
    /// joints that nobody felt.
    #[must_use]
    pub const fn stands_on(self) -> (&'static [Self], bool) {
        match self {
            Self::Soak => (&[Self::Bled, Self::Screws, Self::Pressed], true),
            Self::Walking => (
                &[
                    Self::Bled,
                    Self::Screws,
                    Self::Pressed,
                    Self::Soak,
                    Self::FirmPedal,
                    Self::FirmHand,
                    Self::ByPassCold,
                ],
                true,
            ),
            Self::ByPassHot | Self::Slope => (&[Self::Walking], true),
            Self::Bled
            | Self::Screws
            | Self::Pressed
            | Self::FirmPedal
            | Self::FirmHand
            | Self::ByPassCold
            | Self::Even => (&[], false),
        }
    }

    /// Whether *not done, because …* is taken: what needs a place or a tool that is not to be had here. Never of what the
    /// first metre rests on.
    #[must_use]
    pub const fn may_be_left(self) -> bool {
        matches!(self, Self::Soak | Self::ByPassHot | Self::Even | Self::Slope)
    }
}

/// Whether all wheels of a car are coupled, so that an ordinary roller tester must not turn one axle of it.
#[must_use]
pub fn coupled(car: &Car) -> bool {
    car.drivetrain.driven == Driven::All || car.drivetrain.centre != engine::car::Centre::None
}

/// What came of a check.
#[derive(Clone, Debug, PartialEq)]
pub enum CheckFound {
    /// It holds.
    Held,
    /// It does not.
    Failed,
    /// It was not done, because of something.
    NotDone(String),
    /// Figures, to be judged.
    Read(CheckReading),
}

/// Figures of a check.
#[derive(Clone, Debug, PartialEq)]
pub enum CheckReading {
    /// Two travels at one force.
    Travels {
        /// First.
        first: Length,
        /// Second, at once after it.
        second: Length,
    },
    /// A pressure closed in.
    Soak(crate::soak::Soak),
    /// Two sides of an axle, in whatever it was read in.
    Sides {
        /// Left.
        left: f64,
        /// Right.
        right: f64,
        /// On a roller tester.
        on_rollers: bool,
    },
}

/// Two travels count as one within this (judgement: what a tape at a grip can tell).
pub const TRAVELS_ALIKE: Length = Length::from_m(4e-3);
/// Or within this share of the longer.
pub const TRAVELS_SHARE: f64 = 0.05;
/// Two sides count as one if they differ by no more than this share of the greater (common at road tests; from memory).
pub const SIDES_SHARE: f64 = 0.30;

/// Travel at a pedal or a grip.
const TRAVEL: Range = Range {
    dimension: Dimension::Length,
    least: "0 mm",
    most: "1 m",
};
/// Torque at a hub.
const SIDE_TORQUE: Range = Range {
    dimension: Dimension::Torque,
    least: "0 N m",
    most: "20 kN m",
};
/// Force at a wheel, as a roller tester shows it.
const SIDE_FORCE: Range = Range {
    dimension: Dimension::Force,
    least: "0 N",
    most: "50 kN",
};

impl CheckReading {
    /// Reads a check's figures.
    ///
    /// # Errors
    /// Figures that are missing or cannot be read, and checks that have none.
    pub fn read(check: Check, data: &Value) -> Result<Self, EntryFault> {
        match check {
            Check::FirmHand | Check::FirmPedal => Ok(Self::Travels {
                first: Length::from_m(wanted(data, "first", TRAVEL)?),
                second: Length::from_m(wanted(data, "second", TRAVEL)?),
            }),
            Check::Soak => crate::soak::Soak::read(data).map(Self::Soak),
            Check::Even => {
                // Both sides in one and the same: a torque wrench's, or a roller tester's.
                let both = |range: Range| {
                    Ok::<_, EntryFault>((wanted(data, "left", range)?, wanted(data, "right", range)?))
                };
                let (left, right) = match both(SIDE_TORQUE) {
                    Ok(both) => both,
                    Err(why) => both(SIDE_FORCE).map_err(|_| why)?,
                };
                let on_rollers = match data.get("how").and_then(Value::as_str) {
                    None if data.get("how").is_none() => false,
                    Some("rollers") => true,
                    Some("torque wrench") => false,
                    _ => {
                        return Err(EntryFault("`how` is \"rollers\" or \"torque wrench\"".to_owned()));
                    }
                };
                Ok(Self::Sides {
                    left,
                    right,
                    on_rollers,
                })
            }
            _ => Err(EntryFault(format!(
                "`{}` has no figures: say \"result\": \"held\" or \"failed\", or \"not_done\" with why",
                check.name()
            ))),
        }
    }

    pub(crate) fn words(&self) -> String {
        match self {
            Self::Travels { first, second } => {
                format!(
                    "first {:.0} mm, second {:.0} mm",
                    first.m() * 1e3,
                    second.m() * 1e3
                )
            }
            Self::Soak(soak) => format!(
                "{:.1} bar to {:.1} bar in {:.0} min",
                soak.from.pa() / 1e5,
                soak.to.pa() / 1e5,
                soak.held_for.s() / 60.0
            ),
            Self::Sides { left, right, .. } => format!("left {left:.0}, right {right:.0}"),
        }
    }

    pub(crate) fn data(&self) -> Value {
        match self {
            Self::Travels { first, second } => json!({
                "first": format!("{:.1} mm", first.m() * 1e3),
                "second": format!("{:.1} mm", second.m() * 1e3),
            }),
            Self::Soak(soak) => soak.data(),
            Self::Sides {
                left,
                right,
                on_rollers,
            } => json!({
                "left": format!("{left} N m"),
                "right": format!("{right} N m"),
                "how": if *on_rollers { "rollers" } else { "torque wrench" },
            }),
        }
    }
}

/// Judges what was said of a check.
#[must_use]
pub fn judged(check: Check, said: &CheckFound, car: &Car) -> CheckResult {
    match said {
        CheckFound::Held => CheckResult::Holds("held".to_owned()),
        CheckFound::Failed => CheckResult::Fails("does not hold".to_owned()),
        CheckFound::NotDone(because) if check.may_be_left() => CheckResult::Left(because.clone()),
        CheckFound::NotDone(because) => CheckResult::TellsNothing(format!(
            "this one is not left out: the first metre rests on it ({because})"
        )),
        CheckFound::Read(CheckReading::Travels { first, second }) => travels(*first, *second),
        CheckFound::Read(CheckReading::Soak(soak)) => crate::soak::judged(soak, car),
        CheckFound::Read(CheckReading::Sides { on_rollers: true, .. }) if coupled(car) => CheckResult::TellsNothing(
            "all wheels of this car are coupled: no ordinary roller tester; look at centre and brakes before it is driven"
                .to_owned(),
        ),
        CheckFound::Read(CheckReading::Sides { left, right, .. }) => sides(*left, *right),
    }
}

fn travels(first: Length, second: Length) -> CheckResult {
    let apart = Length::from_m((first - second).m().abs());
    let allowed = TRAVELS_ALIKE.max(first.max(second) * TRAVELS_SHARE);
    let said = format!(
        "{:.0} and {:.0} mm, {:.0} mm apart",
        first.m() * 1e3,
        second.m() * 1e3,
        apart.m() * 1e3
    );
    if apart <= allowed {
        CheckResult::Holds(said)
    } else if second < first {
        CheckResult::Fails(format!(
            "{said}: the first pull takes up air or clearance; bleed again, or look at the shoes"
        ))
    } else {
        CheckResult::Fails(format!(
            "{said}: the second goes further; something gives way or seeps"
        ))
    }
}

fn sides(left: f64, right: f64) -> CheckResult {
    let greater = left.max(right);
    if greater <= 0.0 || left < 0.0 || right < 0.0 {
        return CheckResult::TellsNothing("no side brakes: nothing to compare".to_owned());
    }
    let apart = (left - right).abs() / greater;
    let said = format!("{left:.0} and {right:.0}, {:.0} % apart", apart * 100.0);
    if apart <= SIDES_SHARE {
        CheckResult::Holds(said)
    } else {
        CheckResult::Fails(format!("{said}, where {:.0} % is the most", SIDES_SHARE * 100.0))
    }
}

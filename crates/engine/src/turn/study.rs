//! How sure a turn is: the cars that a sheet's tolerances allow, and the three inputs that move it most, one by one.

use quantity::si::Duration;

use super::technique::Technique;
use super::{Assumed, Headings, NoTurn, TurnBench, TurnVerdict};
use crate::car::{Car, Inputs, Slot};
use crate::conditions::Conditions;
use crate::loads::Laden;
use crate::ranges::{Plan, Study, study};

/// What a technique amounts to, without its trace.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Brief {
    /// In a word.
    pub verdict: TurnVerdict,
    /// Headings.
    pub heading: Headings,
    /// Headings of the same without the lever.
    pub without_lever: Headings,
    /// For how long both rear wheels stood.
    pub rear_for: Duration,
    /// Front wheels' rolling speed over their hubs' speed while the lever was pulled.
    pub front_speed_ratio: Option<f64>,
}

/// An input that moves a turn more than any arithmetic does.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Varied {
    /// Inertia about the vertical.
    YawInertia,
    /// Grip of the ground, its shape kept.
    Grip,
    /// The front axle's share of the sideways load transfer.
    RollShare,
}

impl Varied {
    /// All of them.
    pub const ALL: [Self; 3] = [Self::YawInertia, Self::Grip, Self::RollShare];

    /// Name in machine-read results.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::YawInertia => "yaw_inertia",
            Self::Grip => "grip",
            Self::RollShare => "roll_share_front",
        }
    }

    /// How far it is moved either way: of itself for inertia and grip, as a difference for the share (what a workshop
    /// does not know without measuring; judgement).
    #[must_use]
    pub const fn by(self) -> f64 {
        match self {
            Self::YawInertia => 0.15,
            Self::Grip | Self::RollShare => 0.10,
        }
    }
}

/// One input moved down and up.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Swing {
    /// Which.
    pub varied: Varied,
    /// With less of it.
    pub less: Brief,
    /// With more of it.
    pub more: Brief,
}

/// What the drawn cars are driven through, on the level: surface, grip and load of the conditions.
#[derive(Clone, Debug, PartialEq)]
pub struct Manoeuvre {
    /// The operating point.
    pub conditions: Conditions,
    /// How what the sheet leaves open is read.
    pub reading: Assumed,
    /// What the driver does, in every car the same.
    pub technique: Technique,
}

impl Manoeuvre {
    /// A car made ready as asked.
    ///
    /// # Errors
    /// As [`TurnBench::of`]; a car that does not know the surface has [`NoTurn::NoSurface`].
    pub fn bench(&self, car: &Car) -> Result<TurnBench, NoTurn> {
        let surface = self.conditions.surface_of(car).ok_or(NoTurn::NoSurface)?;
        TurnBench::of(
            car,
            &Laden::of(car, self.conditions.aboard),
            &surface,
            self.reading,
        )
    }

    /// The technique in every car that the tolerances allow. A drawn car that makes no turn is left out and counted as
    /// impossible.
    #[must_use]
    pub fn study(&self, inputs: &Inputs, toleranced: &[Slot], plan: Plan) -> Study<Brief> {
        let drawn = study(inputs, toleranced, plan, |car| {
            self.bench(car)
                .and_then(|bench| bench.brief_of(&self.technique))
                .ok()
        });
        let all = drawn.answers.len();
        let answers: Vec<Brief> = drawn.answers.into_iter().flatten().collect();
        let left_out = u32::try_from(all - answers.len()).unwrap_or(u32::MAX);
        Study {
            answers,
            impossible: drawn.impossible.saturating_add(left_out),
        }
    }
}

impl TurnBench {
    /// The technique with inertia, grip and roll share moved one by one.
    ///
    /// # Errors
    /// As [`turn`](Self::turn).
    pub fn swings(&self, technique: &Technique) -> Result<[Swing; 3], NoTurn> {
        let swing = |varied| -> Result<Swing, NoTurn> {
            Ok(Swing {
                varied,
                less: self.varied(varied, false).brief_of(technique)?,
                more: self.varied(varied, true).brief_of(technique)?,
            })
        };
        let [inertia, grip, share] = Varied::ALL.map(swing);
        Ok([inertia?, grip?, share?])
    }
}

//! How sure a turn is: the cars that a sheet's tolerances allow, and the three inputs that move it most, one by one.

use super::technique::Technique;
use super::varied::Varied;
use super::{Assumed, Brief, TurnBench, TurnFault};
use crate::car::{Car, Inputs, Slot};
use crate::conditions::Conditions;
use crate::loads::Laden;
use crate::ranges::{Plan, Study, study};

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
    /// As [`TurnBench::of`]; a car that does not know the surface has [`TurnFault::NoSurface`].
    pub fn bench(&self, car: &Car) -> Result<TurnBench, TurnFault> {
        let surface = self.conditions.surface_of(car).ok_or(TurnFault::NoSurface)?;
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
    pub fn swings(&self, technique: &Technique) -> Result<[Swing; 3], TurnFault> {
        let swing = |varied| -> Result<Swing, TurnFault> {
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

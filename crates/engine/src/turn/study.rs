//! How sure a turn is: the cars that a sheet's tolerances allow, and the three inputs that move it most, one by one.

use rayon::prelude::{IndexedParallelIterator, IntoParallelIterator, ParallelIterator};

use super::best::{Asked, Depth};
use super::integrate::MotionFault;
use super::judged::briefs_of_each;
use super::many::Cores;
use super::run::Ready;
use super::technique::Technique;
use super::together::runs;
use super::varied::Varied;
use super::{Assumed, Brief, TurnBench, TurnFault};
use crate::car::{Car, Inputs, Slot};
use crate::conditions::Conditions;
use crate::loads::Laden;
use crate::ranges::{Drawn, MOST_DRAWS, Sampling, Study};

/// How many of so many drawn cars a core takes at a time: enough to keep its lanes full, few enough that every core has some.
fn at_a_time(draws: u32) -> usize {
    let cores = rayon::current_num_threads();
    let draws = usize::try_from(draws).unwrap_or(usize::MAX);
    let few = draws.div_ceil(cores).clamp(1, 16);
    draws.div_ceil(2 * cores).clamp(few, 128)
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

    /// The technique in every car that the tolerances allow, each let go at its own best moment where that is asked. A drawn car that makes no turn is left out and counted as
    /// impossible.
    #[must_use]
    pub fn study(&self, inputs: &Inputs, toleranced: &[Slot], sampling: Sampling) -> Study<Brief> {
        let draws = sampling.draws.min(MOST_DRAWS);
        let wanted = crate::wanted::asked();
        let drawn = Drawn::of(inputs, toleranced, sampling);
        let answers: Vec<Option<Brief>> = (0..draws)
            .into_par_iter()
            .chunks(at_a_time(draws))
            .flat_map_iter(|numbers| {
                wanted.go_on();
                let benches: Vec<Option<TurnBench>> = numbers
                    .into_iter()
                    .map(|number| self.bench(&drawn.car(number)?).ok())
                    .collect();
                let asked: Vec<Asked<'_>> = benches
                    .iter()
                    .flatten()
                    .map(|bench| Asked {
                        bench,
                        technique: self.technique,
                        depth: Depth::Moment,
                        unless: None,
                    })
                    .collect();
                let mut found = if self.technique.check().is_ok() {
                    runs(&asked, Cores::One)
                } else {
                    Vec::new()
                }
                .into_iter();
                let found: Vec<Option<Brief>> = benches
                    .iter()
                    .map(|bench| {
                        bench
                            .as_ref()
                            .and_then(|_| found.next()?.ok().map(|run| run.brief()))
                    })
                    .collect();
                found
            })
            .collect();
        let all = answers.len();
        let answers: Vec<Brief> = answers.into_iter().flatten().collect();
        let impossible = u32::try_from(all - answers.len()).unwrap_or(u32::MAX);
        Study { answers, impossible }
    }
}

impl Swing {
    /// Of runs with each input moved down and up, in the order of [`Varied::ALL`].
    pub(crate) fn each(mut next: impl FnMut() -> Result<Brief, TurnFault>) -> Result<[Self; 3], TurnFault> {
        let mut swing = |varied| -> Result<Self, TurnFault> {
            Ok(Self {
                varied,
                less: next()?,
                more: next()?,
            })
        };
        let [inertia, grip, share] = Varied::ALL.map(&mut swing);
        Ok([inertia?, grip?, share?])
    }
}

impl TurnBench {
    /// The technique with inertia, grip and roll share moved one by one.
    ///
    /// # Errors
    /// As [`turn`](Self::turn).
    pub fn swings(&self, technique: &Technique) -> Result<[Swing; 3], TurnFault> {
        technique.check()?;
        let mut found = briefs_of_each(&self.varied_each_way(technique), Depth::Moment).into_iter();
        Swing::each(|| found.next().unwrap_or(Err(MotionFault { at_s: 0.0 }.into())))
    }

    /// Each input moved down and up, in the order of [`Varied::ALL`].
    pub(crate) fn varied_each_way(&self, technique: &Technique) -> Vec<Ready> {
        Varied::ALL
            .into_iter()
            .flat_map(|varied| [(varied, false), (varied, true)])
            .map(|(varied, up)| Ok((self.varied(varied, up), *technique)))
            .collect()
    }
}

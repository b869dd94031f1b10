//! What readings say of a sheet's tolerances: three readings, and it is your car.
//!
//! Each toleranced key is a standard normal deviate: the one whose share of the normal distribution is the share of the
//! key's own tolerance. Before any reading these are independent, of mean 0 and standard deviation 1. A reading is what the
//! car makes of it, and an error of instruments and equations. The deviates that are most likely under both make
//! `|u|² + Σ((read − made(u))/σ)²` least; they are found by Gauss-Newton steps, damped where one does not help. Round that place
//! the deviates are taken as normal, with the covariance `(1 + JᵀJ)⁻¹`, J the slopes of the readings in their own σ. That is
//! the least-squares criterion with a Gaussian prior of Tarantola, Inverse Problem Theory and Methods for Model Parameter
//! Estimation, SIAM 2005, chapter 3 (from memory).
//!
//! A draw of the tolerances becomes a draw of what the readings leave by a linear map of its deviates, so that whatever
//! asks drawn cars can ask these. What keys do together stays: a ratio and an efficiency that are each known badly, with
//! their product known well.
//!
//! A reading that the others and the sheet do not explain is never absorbed: it is named, and left out. It is one whose
//! distance from what all the others foretell is more than [`EXPLAINED_WITHIN`] standard deviations of that foretelling.

mod kit;
mod matrix;
mod next;
mod reading;

use statrs::function::erf::{erfc, erfc_inv};

use crate::car::{Assembled, Car, Draw, Inputs, KeyId, Prepared, Slot, Value};
use crate::conditions::Conditions;
use crate::figures::Headlined;
use crate::headline::HeadlineFigures;
use crate::ranges::{MOST_DRAWS, Range, Sampling, Study, draw};
use crate::sensitivity::Point;
use crate::settles::DrawnFrom;
use crate::spread::drawn_si;
use matrix::Upper;
use quantity::si::Force;
use rayon::prelude::{IntoParallelIterator, ParallelIterator};

pub use kit::Kit;
pub use next::{NextReading, ReadingWay};
pub use reading::{Read, Reading};

use reading::{Bench, could_be_taken, on_the_sheet};

/// Standard deviations within which a reading is explained (common practice in least squares: three).
pub const EXPLAINED_WITHIN: f64 = 3.0;

/// Deviates are moved by this much for a slope.
const STEP: f64 = 0.05;
/// Most steps of a search.
const MOST_STEPS: usize = 40;
/// Deviates beyond this are not tried: the tolerance does not reach there.
const FARTHEST: f64 = 5.0;

/// A reading held against the sheet, and against what all the others say.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Held {
    /// The reading.
    pub reading: Reading,
    /// What the sheet's own figures make of it, in SI.
    pub by_sheet_si: f64,
    /// How far that may be off by tolerances, instruments and equations: standard deviation, in SI.
    pub by_sheet_sd_si: f64,
    /// What the car makes of it that the readings found, in SI.
    pub found_si: f64,
    /// How far it lies from what the sheet and all other readings foretell, in standard deviations of that.
    pub off_sds: f64,
    /// Whether it took part: a gauge can tell it, and the others explain it.
    pub counts: Counts,
}

/// Whether a reading took part.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Counts {
    /// It did.
    Yes,
    /// The sheet and the other readings do not explain it: it was left out.
    NotExplained,
    /// The sheet does not explain it, and it stands in the place of the sheet's figures: see
    /// [`Assembled::replaced`](crate::car::Assembled::replaced).
    Replaces,
    /// No gauge tells it, or the car has nothing that is read so.
    TellsNothing,
}

/// What the readings made of one key.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Learned {
    /// The key.
    pub slot: Slot,
    /// Before: middle, and the range that holds nine tenths; in SI.
    pub before: (f64, Range),
    /// After.
    pub after: (f64, Range),
    /// Standard deviation of its deviate that is left, of 1.
    pub left: f64,
}

/// A figure before and after.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Collapsed {
    /// The figure.
    pub figure: Headlined,
    /// Before: middle, and the range that holds nine tenths; in SI.
    pub before: (Option<f64>, Option<Range>),
    /// After.
    pub after: (Option<f64>, Option<Range>),
}

/// A sheet with what its readings say of it.
#[derive(Clone, Debug)]
pub struct Updated {
    inputs: Inputs,
    slots: Vec<Slot>,
    /// Deviates that are most likely.
    middle: Vec<f64>,
    /// `1 + JᵀJ` as the product of an upper triangle and its mirror image.
    triangle: Upper,
    /// Standard deviation that is left of each deviate by itself.
    alone: Vec<f64>,
    kit: Kit,
    /// Every reading, in the order of the sheet.
    pub held: Vec<Held>,
}

/// The share of a normal distribution that lies below a deviate.
fn share_of(deviate: f64) -> f64 {
    0.5 * erfc(-deviate / core::f64::consts::SQRT_2)
}

/// The deviate below which a share of a normal distribution lies.
fn deviate_of(share: f64) -> f64 {
    -core::f64::consts::SQRT_2 * erfc_inv(2.0 * share)
}

/// The preload of a pedal: it acts only without assistance, and is then not drawn with the others.
const PRELOAD: &str = "pedal.preload";
/// Readings that a car is put together with, where the sheet cannot explain them.
const PEDAL: &str = "measured.pedal";

impl Updated {
    /// Of a sheet and its readings. `None` where the sheet without them makes no car.
    #[must_use]
    pub fn of(inputs: &Inputs, assembled: &Assembled, kit: Kit) -> Option<Self> {
        let readings = on_the_sheet(&assembled.car);
        let updated = Self::by(inputs, &readings, kit)?;
        let of_pedal = |reading: &Reading| matches!(reading.read, Read::Pedal { .. });
        let unexplained = |held: &Held| of_pedal(&held.reading) && held.counts == Counts::NotExplained;
        let replaces = assembled
            .replaced
            .iter()
            .any(|replaced| replaced.by.starts_with(PEDAL));
        if !(replaces && updated.held.iter().any(unexplained)) {
            return Some(updated);
        }
        // What the pedal's readings put in the place of the sheet's figures counts, as everywhere.
        let others: Vec<Reading> = readings
            .iter()
            .copied()
            .filter(|reading| !of_pedal(reading))
            .collect();
        let mut kept = Self::without(inputs, &["measured.pull", "measured.wheel"], &others, kit)?;
        let found = kept.made(&kept.prepared(), &kept.middle, &readings);
        let mut rest = core::mem::take(&mut kept.held).into_iter();
        kept.held = updated
            .held
            .iter()
            .zip(found)
            .filter_map(|(held, (found_si, _))| {
                if of_pedal(&held.reading) {
                    let counts = match held.counts {
                        Counts::TellsNothing => Counts::TellsNothing,
                        _ => Counts::Replaces,
                    };
                    Some(Held {
                        found_si,
                        counts,
                        ..*held
                    })
                } else {
                    rest.next()
                }
            })
            .collect();
        Some(kept)
    }

    /// Of a sheet, without what it says of its readings, and readings.
    #[must_use]
    pub fn by(inputs: &Inputs, readings: &[Reading], kit: Kit) -> Option<Self> {
        // The valve's gauges have taken the valve's place already; the others are fitted here, and counted once.
        Self::without(inputs, &[PEDAL, "measured.pull", "measured.wheel"], readings, kit)
    }

    fn without(inputs: &Inputs, tables: &[&str], readings: &[Reading], kit: Kit) -> Option<Self> {
        let inputs = tables
            .iter()
            .fold(inputs.clone(), |inputs, table| inputs.without(table));
        let assembled = Car::assemble(&inputs).ok()?;
        let mut slots = assembled.toleranced;
        let preload = KeyId::of(PRELOAD).map(|key| Slot { key, entry: 0 })?;
        let unassisted = |reading: &Reading| matches!(reading.read, Read::Pedal { engine_on: false, .. });
        if !slots.contains(&preload) && readings.iter().any(unassisted) {
            slots.push(preload);
        }
        let prior = Self {
            triangle: Upper::one(slots.len()),
            middle: vec![0.0; slots.len()],
            alone: vec![1.0; slots.len()],
            slots,
            inputs,
            kit,
            held: Vec::new(),
        };
        Some(prior.taking(readings))
    }

    /// How much of a key's tolerance the readings leave: the standard deviation of its deviate, of 1.
    #[must_use]
    pub fn left(&self, slot: Slot) -> f64 {
        let at = self.slots.iter().position(|known| *known == slot);
        at.map_or(1.0, |at| self.alone[at])
    }

    /// Whether any reading took part.
    #[must_use]
    pub fn has_learned(&self) -> bool {
        self.held.iter().any(|held| held.counts == Counts::Yes)
    }

    /// The sheet, ready for many cars.
    fn prepared(&self) -> Prepared<'_> {
        Prepared::of(&self.inputs, &self.slots)
    }

    /// The car of given deviates.
    fn with(&self, prepared: &Prepared<'_>, deviates: &[f64]) -> Option<Car> {
        let shares = deviates.iter().map(|&deviate| share_of(deviate));
        let draw = Draw::of(self.slots.iter().copied().zip(shares).collect());
        let mut car = prepared.drawn(&draw)?;
        // Behind a booster it is not drawn: it acts only while that does not help.
        if car.pedal.booster.is_some()
            && let Some(at) = self.slots.iter().position(|slot| slot.key.key().path == PRELOAD)
            && let Some(preload_n) = self.value_si(self.slots[at], deviates[at])
        {
            car.pedal.preload = Force::from_n(preload_n);
        }
        Some(car)
    }

    /// The car that is most likely.
    #[must_use]
    pub fn likeliest(&self) -> Option<Car> {
        self.with(&self.prepared(), &self.middle)
    }

    /// Independent deviates as the readings leave them.
    fn moved(&self, even: &[f64]) -> Vec<f64> {
        let spread = self.triangle.solve(even);
        self.middle
            .iter()
            .zip(spread)
            .map(|(middle, off)| middle + off)
            .collect()
    }

    /// Asks a question of every car that the tolerances allow, as the readings leave them.
    pub fn study<T: Send>(&self, sampling: Sampling, question: impl Fn(&Car) -> T + Sync) -> Study<T> {
        let (prepared, asked) = (self.prepared(), crate::wanted::asked());
        let drawn = |number: u32| {
            asked.go_on();
            let draw = draw(&self.slots, sampling, number);
            let shares = self.slots.iter().map(|&slot| draw.share(slot).unwrap_or(0.5));
            let even: Vec<f64> = shares.map(deviate_of).collect();
            self.with(&prepared, &self.moved(&even))
        };
        let answers: Vec<Option<T>> = (0..sampling.draws.min(MOST_DRAWS))
            .into_par_iter()
            .map(|number| drawn(number).map(|car| question(&car)))
            .collect();
        let all = answers.len();
        let answers: Vec<T> = answers.into_iter().flatten().collect();
        let impossible = u32::try_from(all - answers.len()).unwrap_or(u32::MAX);
        Study { answers, impossible }
    }

    /// Each key by itself as the readings leave it; what they say of several together is left out.
    #[must_use]
    pub fn narrowed(&self) -> Narrowed<'_> {
        Narrowed {
            updated: self,
            prepared: self.prepared(),
        }
    }

    /// The sheet before its readings.
    #[must_use]
    pub fn before(&self) -> Self {
        Self {
            middle: vec![0.0; self.slots.len()],
            triangle: Upper::one(self.slots.len()),
            alone: vec![1.0; self.slots.len()],
            held: Vec::new(),
            ..self.clone()
        }
    }

    /// Every headline figure before and after.
    #[must_use]
    pub fn collapsed(&self, conditions: &Conditions, sampling: Sampling) -> Vec<Collapsed> {
        let figures = |updated: &Self| {
            let middle = updated
                .likeliest()
                .and_then(|car| HeadlineFigures::of(&car, conditions));
            let study = updated.study(sampling, |car| HeadlineFigures::of(car, conditions));
            Headlined::ALL.map(|figure| {
                let value = middle.as_ref().and_then(|headline| figure.of(headline));
                let range =
                    study.range(|headline| headline.as_ref().and_then(|headline| figure.of(headline)));
                (value, range)
            })
        };
        let (before, after) = (figures(&self.before()), figures(self));
        Headlined::ALL
            .into_iter()
            .zip(before.into_iter().zip(after))
            .map(|(figure, (before, after))| Collapsed {
                figure,
                before,
                after,
            })
            .collect()
    }

    /// What the readings made of each key, what they say most of first. Keys whose figure follows from a rule of the
    /// arrangement, not from a tolerance of their own, are left out.
    #[must_use]
    pub fn learned(&self) -> Vec<Learned> {
        let mut learned: Vec<Learned> = self
            .slots
            .iter()
            .enumerate()
            .filter_map(|(at, &slot)| {
                let left = self.alone[at];
                let value = |deviate: f64| self.value_si(slot, deviate);
                // 5 % and 95 % of a normal distribution.
                let ninety = |middle: f64, sd: f64| {
                    let (one, other) = (value(middle - 1.644_854 * sd)?, value(middle + 1.644_854 * sd)?);
                    Some((
                        value(middle)?,
                        Range {
                            low: one.min(other),
                            high: one.max(other),
                        },
                    ))
                };
                Some(Learned {
                    slot,
                    before: ninety(0.0, 1.0)?,
                    after: ninety(self.middle[at], left)?,
                    left,
                })
            })
            .collect();
        learned.sort_by(|one, other| one.left.total_cmp(&other.left));
        learned
    }

    /// The value of a key's own tolerance at a deviate, in SI.
    fn value_si(&self, slot: Slot, deviate: f64) -> Option<f64> {
        let amount = match self.inputs.get(slot) {
            Some(Value::Amount(amount) | Value::ByLabel(amount)) => *amount,
            Some(Value::Guess) | None => slot.key.default_amount()?,
            Some(_) => return None,
        };
        Some(drawn_si(&amount, share_of(deviate), slot.key.hard_si()))
    }

    /// What the car of given deviates makes of each reading, with the standard deviation of its error; not a number where it
    /// makes nothing of it.
    fn made(&self, prepared: &Prepared<'_>, deviates: &[f64], readings: &[Reading]) -> Vec<(f64, f64)> {
        let Some(car) = self.with(prepared, deviates) else {
            return vec![(f64::NAN, f64::NAN); readings.len()];
        };
        let bench = Bench::of(&car, readings);
        readings
            .iter()
            .map(|reading| {
                bench
                    .makes(reading, &self.kit)
                    .map_or((f64::NAN, f64::NAN), |made| {
                        let equations = self.kit.equations / crate::fit::SD_IN_HALF_WIDTH * made.value;
                        let instrument = reading.instrument_sd(&self.kit, made.value);
                        let sd = instrument
                            .hypot(made.beside_sd)
                            .hypot(made.open_sd)
                            .hypot(equations);
                        (made.value, sd)
                    })
            })
            .collect()
    }

    /// With readings taken in.
    fn taking(self, readings: &[Reading]) -> Self {
        let prepared = self.prepared();
        let by_sheet = self.made(&prepared, &self.middle, readings);
        let mut counts: Vec<Counts> = readings
            .iter()
            .zip(&by_sheet)
            .map(|(reading, (made, sd))| {
                let can = reading.tells(&self.kit) && made.is_finite() && *sd > 0.0;
                if can { Counts::Yes } else { Counts::TellsNothing }
            })
            .collect();
        let sheet_slopes = self.slopes(&prepared, &self.middle, readings, &by_sheet);
        loop {
            let taking: Vec<usize> = (0..readings.len())
                .filter(|&at| counts[at] == Counts::Yes)
                .collect();
            let fitted = self.fitted(&prepared, readings, &taking);
            let off = fitted.off(readings);
            let worst = taking
                .iter()
                .copied()
                .max_by(|&one, &other| off[one].abs().total_cmp(&off[other].abs()))
                .filter(|&at| off[at].abs() > EXPLAINED_WITHIN);
            if let Some(worst) = worst {
                counts[worst] = Counts::NotExplained;
                continue;
            }
            let held = (0..readings.len())
                .map(|at| Held {
                    reading: readings[at],
                    by_sheet_si: by_sheet[at].0,
                    by_sheet_sd_si: by_sheet[at].1
                        * (1.0 + sheet_slopes[at].iter().map(|slope| slope * slope).sum::<f64>()).sqrt(),
                    found_si: fitted.made[at].0,
                    off_sds: off[at],
                    counts: counts[at],
                })
                .collect();
            return Self {
                alone: (0..self.slots.len()).map(|at| fitted.triangle.sd(at)).collect(),
                middle: fitted.middle,
                triangle: fitted.triangle,
                held,
                ..self
            };
        }
    }

    /// Slopes of what is made of each reading over each deviate, in standard deviations of its error.
    fn slopes(
        &self,
        prepared: &Prepared<'_>,
        at: &[f64],
        readings: &[Reading],
        made: &[(f64, f64)],
    ) -> Vec<Vec<f64>> {
        let moved = |input: usize, by: f64| {
            let mut moved = at.to_vec();
            moved[input] += by;
            self.made(prepared, &moved, readings)
        };
        let columns: Vec<Vec<f64>> = (0..at.len())
            .into_par_iter()
            .map(|input| {
                let (more, less) = (moved(input, STEP), moved(input, -STEP));
                (0..readings.len())
                    .map(|number| {
                        let slope = (more[number].0 - less[number].0) / (2.0 * STEP) / made[number].1;
                        // A car that the tolerance does not make says nothing.
                        if slope.is_finite() { slope } else { 0.0 }
                    })
                    .collect()
            })
            .collect();
        (0..readings.len())
            .map(|number| columns.iter().map(|column| column[number]).collect())
            .collect()
    }

    /// Misfit of a reading, in standard deviations.
    fn misfit(&self, reading: &Reading, made: (f64, f64)) -> f64 {
        let off = (reading.value_si() - made.0) / made.1;
        if reading.is_bound(&self.kit) {
            // The gauge showed nothing: what is made is no more than what it can tell.
            off.min(0.0)
        } else {
            off
        }
    }

    /// The likeliest deviates with some of the readings.
    fn fitted(&self, prepared: &Prepared<'_>, readings: &[Reading], taking: &[usize]) -> Fitted<'_> {
        let cost = |deviates: &[f64], made: &[(f64, f64)]| {
            let far: f64 = deviates.iter().map(|deviate| deviate * deviate).sum();
            let off: f64 = taking
                .iter()
                .map(|&at| self.misfit(&readings[at], made[at]).powi(2))
                .sum();
            far + off
        };
        let mut middle = vec![0.0; self.slots.len()];
        let mut made = self.made(prepared, &middle, readings);
        // Spreads stay those of the sheet's car: a larger one would else explain a reading by itself.
        let sds: Vec<f64> = made.iter().map(|made| made.1).collect();
        let with_sds = |made: Vec<(f64, f64)>| -> Vec<(f64, f64)> {
            made.into_iter()
                .zip(&sds)
                .map(|((value, _), &sd)| (value, sd))
                .collect()
        };
        let mut least = cost(&middle, &made);
        let mut slopes = self.slopes(prepared, &middle, readings, &made);
        let mut damped = 0.0;
        for _ in 0..MOST_STEPS {
            let mut pull: Vec<f64> = middle.iter().map(|deviate| -deviate).collect();
            let acting = self.acting(readings, taking, &made);
            for &at in &acting {
                let off = self.misfit(&readings[at], made[at]);
                for (pull, slope) in pull.iter_mut().zip(&slopes[at]) {
                    *pull += slope * off;
                }
            }
            let rows: Vec<&[f64]> = acting.iter().map(|&at| slopes[at].as_slice()).collect();
            let Some(triangle) = Upper::of(&rows, middle.len(), 1.0 + damped) else {
                break;
            };
            let step = triangle.solve_whole(&pull);
            let tried: Vec<f64> = middle
                .iter()
                .zip(&step)
                .map(|(deviate, step)| (deviate + step).clamp(-FARTHEST, FARTHEST))
                .collect();
            let would = with_sds(self.made(prepared, &tried, readings));
            let costs = cost(&tried, &would);
            if costs.is_finite() && costs <= least {
                let settled = least - costs < 1e-9 * (1.0 + least);
                (middle, made, least) = (tried, would, costs);
                slopes = self.slopes(prepared, &middle, readings, &made);
                damped = if damped < 1e-3 { 0.0 } else { damped / 10.0 };
                if settled {
                    break;
                }
            } else {
                damped = if damped == 0.0 { 0.1 } else { damped * 10.0 };
                if damped > 1e6 {
                    break;
                }
            }
        }
        let acting = self.acting(readings, taking, &made);
        let rows: Vec<&[f64]> = acting.iter().map(|&at| slopes[at].as_slice()).collect();
        let triangle = Upper::of(&rows, middle.len(), 1.0).unwrap_or_else(|| Upper::one(middle.len()));
        Fitted {
            updated: self,
            taking: taking.to_vec(),
            middle,
            made,
            slopes,
            triangle,
        }
    }

    /// Readings that pull: a bound that is kept does not.
    fn acting(&self, readings: &[Reading], taking: &[usize], made: &[(f64, f64)]) -> Vec<usize> {
        taking
            .iter()
            .copied()
            .filter(|&at| !readings[at].is_bound(&self.kit) || self.misfit(&readings[at], made[at]) < 0.0)
            .collect()
    }
}

/// Keys that are drawn one by one, each as far as the readings leave it.
#[derive(Debug)]
pub struct Narrowed<'a> {
    updated: &'a Updated,
    prepared: Prepared<'a>,
}

impl DrawnFrom for Narrowed<'_> {
    fn slots(&self) -> &[Slot] {
        &self.updated.slots
    }

    fn car(&self, point: &Point) -> Option<Car> {
        let Updated { middle, alone, .. } = self.updated;
        let deviates: Vec<f64> = middle
            .iter()
            .zip(alone)
            .zip(point)
            .map(|((middle, sd), &share)| middle + sd * deviate_of(share))
            .collect();
        self.updated.with(&self.prepared, &deviates)
    }
}

/// A fit that is being looked at.
struct Fitted<'a> {
    updated: &'a Updated,
    taking: Vec<usize>,
    middle: Vec<f64>,
    made: Vec<(f64, f64)>,
    slopes: Vec<Vec<f64>>,
    triangle: Upper,
}

impl Fitted<'_> {
    /// How far each reading lies from what the sheet and all the others foretell, in standard deviations of that. With one
    /// that took part its own pull is taken out again: `r/√(1 − h)`, h its leverage.
    fn off(&self, readings: &[Reading]) -> Vec<f64> {
        (0..readings.len())
            .map(|at| {
                let misfit = self.updated.misfit(&readings[at], self.made[at]);
                if !misfit.is_finite() {
                    return 0.0;
                }
                let leverage = self.triangle.variance(&self.slopes[at]);
                if self.taking.contains(&at) {
                    misfit / (1.0 - leverage).max(1e-6).sqrt()
                } else {
                    misfit / (1.0 + leverage).sqrt()
                }
            })
            .collect()
    }
}

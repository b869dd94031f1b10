//! Which parts? A search over sold sizes for what keeps a driver's limits: of every car that they make, what the hand and
//! the foot have to do, and which end locks first.
//!
//! All that is fitted at wheels, pedal and valve decides a pressure and a volume; bore and ratio of the lever's cylinder
//! only what the hand does for them. So a car is put together for each set of the former, and of the cylinders only those
//! are asked that a bound leaves:
//!
//! - hand: `F = p A/(i η)` rises with the bore, so that behind one that asks too much every larger one does too;
//! - travel: `s = i (V/A + free strokes) + play` falls with the bore, so that before one that runs out every smaller one does too;
//! - a pedal, a lock order or a fluid that breaks a limit breaks it with every cylinder.

mod best;
mod driven;

use core::sync::atomic::{AtomicUsize, Ordering};
use std::collections::BTreeSet;

use quantity::si::{Force, Length, Pressure, TemperatureDifference};
use rayon::prelude::{IntoParallelIterator, IntoParallelRefMutIterator, ParallelIterator};

pub use best::Best;
pub use driven::{FluidLimit, MOST_TURNS, is_as_good, turned};

use crate::balance::Balance;
use crate::car::{Car, Inputs, LeverCylinder, Prepared, Slot, Value};
use crate::conditions::Conditions;
use crate::hydraulics::{Forces, Hydraulics};
use crate::lever::{CylinderTask, LeverBench};
use crate::loads::Laden;
use crate::turn::TurnVerdict;

/// One of the sizes or kinds that a part may have.
#[derive(Clone, Debug, PartialEq)]
pub struct SizeChoice {
    /// What a sheet says with it; empty: what it says now.
    pub patch: Vec<(Slot, Value)>,
    /// Whether it is what the car has.
    pub own: bool,
}

/// All that is searched: every choice of every part with every one of the others.
#[derive(Clone, Debug)]
pub struct Space<'a> {
    /// The sheet.
    pub inputs: &'a Inputs,
    /// Bores of the lever's cylinder, rising.
    pub bores: Vec<SizeChoice>,
    /// Ratios of the lever.
    pub ratios: Vec<SizeChoice>,
    /// Everything else that may be exchanged, a list of choices a part.
    pub others: Vec<Vec<SizeChoice>>,
}

/// What a car has to keep.
#[derive(Clone, Debug, PartialEq)]
pub struct Limits {
    /// The most that the hand pulls.
    pub hand: Force,
    /// The most that the grip travels; the room of the sheet and the stroke of the cylinder hold beside it.
    pub travel: Length,
    /// The most that the foot presses at first lock, on the ground where it takes most.
    pub foot: Force,
    /// The most that the foot pad travels there; `None`: until the master runs out.
    pub pedal_travel: Option<Length>,
    /// The least by which the front leads at first lock, on every ground.
    pub lead: f64,
    /// Grips of the grounds that it runs on; the hand is asked at the conditions' own.
    pub grips: Vec<f64>,
    /// What the fluid has to keep; `None`: it is not looked at.
    pub fluid: Option<FluidLimit>,
    /// The least that the usual turn has to come to; `None`: it is not driven.
    pub turn: Option<TurnVerdict>,
}

/// A limit that a car breaks, or what keeps it from being one.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Breaks {
    /// The figures together make no car.
    NoCar,
    /// The coupling drags the front wheels to a stop.
    Centre,
    /// A limiting valve behind the lever lets too little through.
    Valve,
    /// The hand.
    Hand,
    /// The grip's travel, the room or the stroke.
    Travel,
    /// The foot.
    Foot,
    /// The pedal's travel, or the master's stroke.
    PedalTravel,
    /// Which end locks first.
    LockOrder,
    /// What is left to the fluid's boiling.
    Fluid,
    /// What the turn comes to.
    Turn,
}

impl Breaks {
    /// All of them, as they are counted.
    pub const ALL: [Self; 10] = [
        Self::NoCar,
        Self::Centre,
        Self::Valve,
        Self::Hand,
        Self::Travel,
        Self::Foot,
        Self::PedalTravel,
        Self::LockOrder,
        Self::Fluid,
        Self::Turn,
    ];
}

/// Which choices: by their places in the space.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Picked {
    /// Of everything but the lever's cylinder, in the order of the space.
    pub others: Vec<usize>,
    /// Of the ratios.
    pub ratio: usize,
    /// Of the bores.
    pub bore: usize,
}

/// What hand and foot have to do. Of all the readings of a centre coupling that a sheet leaves open, the worst a figure.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Figures {
    /// Force of the hand that stops the rear axle.
    pub hand: Force,
    /// Travel of the grip for it.
    pub travel: Length,
    /// Stroke of the cylinder for it.
    pub stroke: Length,
    /// Whether stroke and room are enough.
    pub fits: bool,
    /// Pressure at the brakes for it.
    pub pressure: Pressure,
    /// Force of the foot at first lock, on the ground where it takes most.
    pub foot: Force,
    /// Travel of the foot pad there.
    pub pedal_travel: Length,
    /// By how much the front leads at first lock, on the ground where it leads least.
    pub lead: f64,
}

/// A car that keeps the limits.
#[derive(Clone, Debug, PartialEq)]
pub struct FoundRow {
    /// Its parts.
    pub picked: Picked,
    /// How many parts are other than the car's own.
    pub changes: usize,
    /// What hand and foot have to do.
    pub figures: Figures,
}

/// What came of a search.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Found {
    /// Cars that were asked.
    pub computed: usize,
    /// Cars that a bound left out.
    pub excluded: usize,
    /// Cars that keep every limit, as far as they were not driven for it.
    pub met: usize,
    /// Of those, the ones that no other is better than; where a turn is wanted, all of them come round.
    pub best: Best,
    /// Cars that were driven through the turn.
    pub driven: usize,
    /// Cars that no other is better than, and that nobody came to drive.
    pub undriven: usize,
    /// How many cars break each limit, as far as they were asked that or a bound says it; a car may break several.
    pub broken: [usize; Breaks::ALL.len()],
}

/// A car that breaks a limit, and how far it is off.
#[derive(Clone, Debug, PartialEq)]
pub struct Miss {
    /// The car.
    pub row: FoundRow,
    /// By how much all limits together are overrun, each over its limit.
    pub off_by: f64,
    /// Which.
    pub breaks: Vec<Breaks>,
}

/// What the pedal does and the lever is asked, with one set of brakes.
struct Brakes {
    asks: Vec<CylinderTask>,
    hydraulics: Hydraulics,
    foot: Force,
    pedal_travel: Length,
    runs_out: bool,
    lead: f64,
}

impl Space<'_> {
    /// How many cars it holds.
    #[must_use]
    pub fn cars(&self) -> usize {
        self.sets()
            .saturating_mul(self.ratios.len())
            .saturating_mul(self.bores.len())
    }

    /// How many sets of everything but the lever's cylinder.
    fn sets(&self) -> usize {
        self.others
            .iter()
            .fold(1, |all, choices| all.saturating_mul(choices.len()))
    }

    /// The choices of a set, by its number.
    fn set(&self, mut number: usize) -> Vec<usize> {
        let place = |choices: &Vec<SizeChoice>| {
            let place = number % choices.len();
            number /= choices.len();
            place
        };
        self.others.iter().map(place).collect()
    }

    /// What a sheet says with these parts.
    #[must_use]
    pub fn patch(&self, picked: &Picked) -> Vec<(Slot, Value)> {
        let cylinder = [self.bores.get(picked.bore), self.ratios.get(picked.ratio)];
        self.patch_of(&picked.others)
            .into_iter()
            .chain(
                cylinder
                    .into_iter()
                    .flatten()
                    .flat_map(|choice| choice.patch.clone()),
            )
            .collect()
    }

    fn patch_of(&self, others: &[usize]) -> Vec<(Slot, Value)> {
        self.others
            .iter()
            .zip(others)
            .filter_map(|(choices, &place)| choices.get(place))
            .flat_map(|choice| choice.patch.clone())
            .collect()
    }

    /// How many of the parts are other than the car's own.
    fn changes(&self, picked: &Picked) -> usize {
        let of = |choices: &[SizeChoice], place: usize| {
            usize::from(choices.get(place).is_some_and(|choice| !choice.own))
        };
        self.others
            .iter()
            .zip(&picked.others)
            .map(|(choices, &place)| of(choices, place))
            .sum::<usize>()
            + of(&self.ratios, picked.ratio)
            + of(&self.bores, picked.bore)
    }

    /// The cylinder of every ratio and bore; `None` where a sheet with it is refused.
    fn cylinders(&self, prepared: &Prepared<'_>) -> Vec<Vec<Option<LeverCylinder>>> {
        let cylinder = |ratio: &SizeChoice, bore: &SizeChoice| {
            let patch: Vec<_> = ratio.patch.iter().chain(&bore.patch).cloned().collect();
            let car = prepared.with(&patch).ok()?;
            car.lever.as_ref()?.cylinder().copied()
        };
        self.ratios
            .iter()
            .map(|ratio| self.bores.iter().map(|bore| cylinder(ratio, bore)).collect())
            .collect()
    }

    /// Looks through all of it but some cars. `told` hears how much is done, from 0 to 1.
    fn search_but(
        &self,
        away: &BTreeSet<Picked>,
        limits: &Limits,
        conditions: &Conditions,
        told: &(dyn Fn(f64) + Sync),
    ) -> Found {
        let prepared = Prepared::of(self.inputs, &[]);
        let cylinders = self.cylinders(&prepared);
        let (sets, done) = (self.sets(), AtomicUsize::new(0));
        (0..sets)
            .into_par_iter()
            .fold(Found::default, |mut found, number| {
                self.look(
                    &prepared,
                    &cylinders,
                    self.set(number),
                    (limits, conditions, away),
                    &mut found,
                );
                let done = done.fetch_add(1, Ordering::Relaxed) + 1;
                if done % 1024 == 0 || done == sets {
                    told(share(done, sets));
                }
                found
            })
            .reduce(Found::default, Found::with)
    }

    /// One set of brakes with every cylinder.
    fn look(
        &self,
        prepared: &Prepared<'_>,
        cylinders: &[Vec<Option<LeverCylinder>>],
        others: Vec<usize>,
        (limits, conditions, away): (&Limits, &Conditions, &BTreeSet<Picked>),
        found: &mut Found,
    ) {
        let all = self.ratios.len() * self.bores.len();
        let (car, brakes) = match self.brakes(prepared, &others, limits, conditions) {
            Ok(brakes) => brakes,
            Err(why) => return found.left_out(&[why], 1, all),
        };
        // Driven once, where a cylinder keeps all else.
        let mut stays_cool = None;
        let breaks = brakes.breaks(limits);
        if !breaks.is_empty() {
            return found.left_out(&breaks, 1, all);
        }
        for (ratio, of_ratio) in cylinders.iter().enumerate() {
            let able: Vec<(usize, &LeverCylinder)> = of_ratio
                .iter()
                .enumerate()
                .filter_map(|(bore, cylinder)| Some((bore, cylinder.as_ref()?)))
                .collect();
            let refused = of_ratio.len() - able.len();
            found.left_out(&[Breaks::NoCar], 0, refused);
            let mut asked = vec![None; able.len()];
            let mut at = |place: usize| {
                *asked[place].get_or_insert_with(|| brakes.figures(able[place].1, &mut found.computed))
            };
            let too_hard = first(able.len(), |place| !within_hand(&at(place), limits));
            let enough = first(able.len(), |place| within_travel(&at(place), limits));
            let rows: Vec<(usize, Figures)> = (enough..too_hard)
                .map(|place| (able[place].0, at(place)))
                .collect();
            let computed = asked.iter().flatten().count();
            found.excluded += able.len() - computed;
            found.broken[Breaks::Hand as usize] += able.len() - too_hard;
            found.broken[Breaks::Travel as usize] += enough;
            if rows.is_empty() {
                continue;
            }
            if !*stays_cool.get_or_insert_with(|| limits.off_boiling(&car, conditions) <= 0.0) {
                found.broken[Breaks::Fluid as usize] += rows.len();
                continue;
            }
            for (bore, figures) in rows {
                let picked = Picked {
                    others: others.clone(),
                    ratio,
                    bore,
                };
                if away.contains(&picked) {
                    continue;
                }
                found.met += 1;
                found.best.take(FoundRow {
                    changes: self.changes(&picked),
                    picked,
                    figures,
                });
            }
        }
    }

    fn brakes(
        &self,
        prepared: &Prepared<'_>,
        others: &[usize],
        limits: &Limits,
        conditions: &Conditions,
    ) -> Result<(Car, Brakes), Breaks> {
        let car = prepared.with(&self.patch_of(others)).map_err(|_| Breaks::NoCar)?;
        let brakes = Brakes::of(&car, limits, conditions)?;
        Ok((car, brakes))
    }

    /// The car that is least off where none keeps the limits. What cannot be measured against a limit (a locked centre, a
    /// valve that caps) is not among them; the turn is not looked at, and the fluid of those alone that are least off in all
    /// else.
    #[must_use]
    pub fn nearest(&self, limits: &Limits, conditions: &Conditions) -> Option<Miss> {
        let prepared = Prepared::of(self.inputs, &[]);
        let cylinders = self.cylinders(&prepared);
        let of_set = |number: usize| self.least_off(&prepared, &cylinders, number, limits, conditions);
        let mut misses: Vec<(usize, Miss)> = (0..self.sets()).into_par_iter().filter_map(of_set).collect();
        misses.sort_by(|(_, one), (_, other)| one.against(other));
        if limits.fluid.is_some() {
            misses.truncate(driven::MOST_STAGES);
            misses.par_iter_mut().for_each(|(number, miss)| {
                let car = prepared.with(&self.patch_of(&self.set(*number)));
                let too_hot = car.map_or(1.0, |car| limits.off_boiling(&car, conditions));
                if too_hot > 0.0 {
                    miss.off_by += too_hot;
                    miss.breaks.push(Breaks::Fluid);
                }
            });
        }
        let nearest = misses
            .into_iter()
            .min_by(|(_, one), (_, other)| one.against(other));
        nearest.map(|(_, miss)| miss)
    }

    /// Of one set of brakes the cylinder with which it is least off.
    fn least_off(
        &self,
        prepared: &Prepared<'_>,
        cylinders: &[Vec<Option<LeverCylinder>>],
        number: usize,
        limits: &Limits,
        conditions: &Conditions,
    ) -> Option<(usize, Miss)> {
        let others = self.set(number);
        let (_, brakes) = self.brakes(prepared, &others, limits, conditions).ok()?;
        let each = |ratio: usize, bore: usize| {
            let figures = brakes.figures(cylinders[ratio][bore].as_ref()?, &mut 0);
            let off_by = off_by(&figures, brakes.runs_out, limits);
            Some((off_by, ratio, bore, figures))
        };
        let (off_by, ratio, bore, figures) = (0..self.ratios.len())
            .flat_map(|ratio| (0..self.bores.len()).map(move |bore| (ratio, bore)))
            .filter_map(|(ratio, bore)| each(ratio, bore))
            .min_by(|one, other| one.0.total_cmp(&other.0))?;
        let picked = Picked { others, ratio, bore };
        let mut breaks = brakes.breaks(limits);
        if !within_hand(&figures, limits) {
            breaks.push(Breaks::Hand);
        }
        if !within_travel(&figures, limits) {
            breaks.push(Breaks::Travel);
        }
        let row = FoundRow {
            changes: self.changes(&picked),
            picked,
            figures,
        };
        Some((number, Miss { row, off_by, breaks }))
    }
}

impl Miss {
    /// The least off first, then the least change.
    fn against(&self, other: &Self) -> core::cmp::Ordering {
        let order = self.off_by.total_cmp(&other.off_by);
        let order = order.then_with(|| self.row.changes.cmp(&other.row.changes));
        order.then_with(|| self.row.picked.cmp(&other.row.picked))
    }
}

impl Brakes {
    fn of(car: &Car, limits: &Limits, conditions: &Conditions) -> Result<Self, Breaks> {
        let laden = conditions.laden(car);
        let hydraulics = Hydraulics::of(car, conditions.warmth);
        let grip = conditions.grip_of(car).ok_or(Breaks::NoCar)?;
        let bench = LeverBench::with(car, conditions.warmth, &hydraulics).ok_or(Breaks::NoCar)?;
        let asks = bench.asks(&laden, conditions.pull_at(car, grip));
        if asks.iter().any(|ask| ask.front_dragged) {
            return Err(Breaks::Centre);
        }
        if asks.iter().any(|ask| ask.own.is_none()) {
            return Err(Breaks::Valve);
        }
        let (foot, pedal_travel, runs_out, lead) =
            at_the_pedal(car, &hydraulics, laden, limits, conditions).ok_or(Breaks::Foot)?;
        Ok(Self {
            asks,
            hydraulics,
            foot,
            pedal_travel,
            runs_out,
            lead,
        })
    }

    /// Which limits of the pedal and of the lock order are broken.
    fn breaks(&self, limits: &Limits) -> Vec<Breaks> {
        let mut breaks = Vec::new();
        if self.foot > limits.foot {
            breaks.push(Breaks::Foot);
        }
        if self.runs_out || limits.pedal_travel.is_some_and(|most| self.pedal_travel > most) {
            breaks.push(Breaks::PedalTravel);
        }
        if self.lead < limits.lead {
            breaks.push(Breaks::LockOrder);
        }
        breaks
    }

    fn figures(&self, cylinder: &LeverCylinder, computed: &mut usize) -> Figures {
        *computed += 1;
        let mut figures = Figures {
            hand: Force::ZERO,
            travel: Length::ZERO,
            stroke: Length::ZERO,
            fits: true,
            pressure: Pressure::ZERO,
            foot: self.foot,
            pedal_travel: self.pedal_travel,
            lead: self.lead,
        };
        for ask in &self.asks {
            let own = ask.own.unwrap_or(Pressure::ZERO);
            let Some(effort) = self.hydraulics.effort_with(cylinder, own, ask.taken) else {
                continue;
            };
            figures.hand = figures.hand.max(effort.hand);
            figures.travel = figures.travel.max(effort.travel);
            figures.stroke = figures.stroke.max(effort.stroke);
            figures.fits &= effort.fits;
            figures.pressure = figures.pressure.max(ask.pressure);
        }
        figures
    }
}

/// Foot and travel of the pedal at first lock, whether the master runs out, and the front's lead, each on the ground where
/// it is worst; `None` where no foot locks a wheel.
fn at_the_pedal(
    car: &Car,
    hydraulics: &Hydraulics,
    laden: Laden,
    limits: &Limits,
    conditions: &Conditions,
) -> Option<(Force, Length, bool, f64)> {
    let balance = Balance::of(car, hydraulics.clone(), laden, conditions.speed);
    let (mut foot, mut travel, mut runs_out, mut lead) = (Force::ZERO, Length::ZERO, false, f64::INFINITY);
    for &grip in &limits.grips {
        let at = balance.lock(grip).at?;
        let forces = Forces {
            foot: at.foot,
            hand: Force::ZERO,
        };
        let pedal = hydraulics.answer(&laden, forces).pedal;
        foot = foot.max(at.foot);
        travel = travel.max(pedal.travel);
        runs_out |= pedal.runs_out;
        lead = lead.min(at.front_first_by);
    }
    Some((foot, travel, runs_out, lead))
}

impl Figures {
    /// Of one car by itself, asked as every other question asks it.
    ///
    /// # Errors
    /// Why it has none: a centre that drags, a valve that caps, a pedal that locks nothing, no lever with a cylinder.
    pub fn of(car: &Car, limits: &Limits, conditions: &Conditions) -> Result<(Self, Vec<Breaks>), Breaks> {
        let cylinder = car.lever.as_ref().and_then(|lever| lever.cylinder());
        let cylinder = cylinder.ok_or(Breaks::NoCar)?;
        let brakes = Brakes::of(car, limits, conditions)?;
        let figures = brakes.figures(cylinder, &mut 0);
        let mut breaks = brakes.breaks(limits);
        if !within_hand(&figures, limits) {
            breaks.push(Breaks::Hand);
        }
        if !within_travel(&figures, limits) {
            breaks.push(Breaks::Travel);
        }
        if limits.off_boiling(car, conditions) > 0.0 {
            breaks.push(Breaks::Fluid);
        }
        if let Some(wanted) = limits.turn {
            let verdict = turned(core::slice::from_ref(car), conditions)[0];
            if !is_as_good(verdict, wanted) {
                breaks.push(Breaks::Turn);
            }
        }
        Ok((figures, breaks))
    }
}

/// So much too hot is as far off as a pull of twice the driver's (judgement).
const AS_FAR_OFF: TemperatureDifference = TemperatureDifference::from_dk(100.0);

impl Limits {
    /// By how much a car misses the fluid's limit, over [`AS_FAR_OFF`]: 0 where it keeps it, or where there is none.
    fn off_boiling(&self, car: &Car, conditions: &Conditions) -> f64 {
        let off = |fluid: &FluidLimit| match fluid.kept_by(car, conditions) {
            Some(kept) => (-kept.dk() / AS_FAR_OFF.dk()).max(0.0),
            None => 1.0,
        };
        self.fluid.as_ref().map_or(0.0, off)
    }
}

impl Found {
    fn left_out(&mut self, breaks: &[Breaks], asked: usize, cars: usize) {
        let asked = asked.min(cars);
        self.computed += asked;
        self.excluded += cars - asked;
        for &why in breaks {
            self.broken[why as usize] += cars;
        }
    }

    /// How many cars break a limit.
    #[must_use]
    pub const fn breaking(&self, limit: Breaks) -> usize {
        self.broken[limit as usize]
    }

    fn with(mut self, other: Self) -> Self {
        self.computed += other.computed;
        self.excluded += other.excluded;
        self.met += other.met;
        self.driven += other.driven;
        self.undriven += other.undriven;
        for (mine, others) in self.broken.iter_mut().zip(other.broken) {
            *mine += others;
        }
        for row in other.best.into_rows() {
            self.best.take(row);
        }
        self
    }
}

fn within_hand(figures: &Figures, limits: &Limits) -> bool {
    figures.hand <= limits.hand
}

fn within_travel(figures: &Figures, limits: &Limits) -> bool {
    figures.fits && figures.travel <= limits.travel
}

/// By how much all limits together are overrun, each over its limit.
fn off_by(figures: &Figures, runs_out: bool, limits: &Limits) -> f64 {
    let over = |is: f64, most: f64| (is / most - 1.0).max(0.0);
    let pedal = limits
        .pedal_travel
        .map_or(0.0, |most| over(figures.pedal_travel.m(), most.m()));
    over(figures.hand.n(), limits.hand.n())
        + over(figures.travel.m(), limits.travel.m())
        + over(figures.foot.n(), limits.foot.n())
        + pedal
        + (limits.lead - figures.lead).max(0.0)
        // What runs out is off, however little.
        + if figures.fits { 0.0 } else { 0.1 }
        + if runs_out { 0.1 } else { 0.0 }
}

/// The first place of a rising row at which something is true; its length where it is nowhere. It stays true behind it.
fn first(places: usize, mut holds: impl FnMut(usize) -> bool) -> usize {
    let (mut low, mut high) = (0, places);
    while low < high {
        let middle = usize::midpoint(low, high);
        if holds(middle) {
            high = middle;
        } else {
            low = middle + 1;
        }
    }
    low
}

fn share(done: usize, all: usize) -> f64 {
    let of = |count: usize| f64::from(u32::try_from(count).unwrap_or(u32::MAX));
    of(done) / of(all.max(1))
}

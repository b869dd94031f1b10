//! A sheet made ready for many cars of it: of each only those parts are put together anew that ask for something that
//! is other than on the sheet. The rules are the ones of the one assembly.

use core::ops::{Index, IndexMut};

use super::super::inputs::{Draw, Inputs, Laws, Reader, Slot, Value};
use super::super::key_id::KeySet;
use super::super::refusal::Refusal;
use super::super::{Assembled, Car};
use super::{Bench, checks};

/// A part of a car that is put together by itself.
#[derive(Clone, Copy, Debug)]
pub(super) enum Part {
    Weighed,
    Geometry,
    Load,
    Tyres,
    Surfaces,
    Master,
    Measured,
    LeverBrake,
    Lever,
    BiasValve,
    Pedal,
    FrontBrake,
    RearBrake,
    Drivetrain,
    Fluid,
    Routes,
    Lines,
    About,
    Ports,
    Places,
    Before,
    Air,
}

/// Something of every part.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Parts<T>([T; Part::Air as usize + 1]);

impl<T> Index<Part> for Parts<T> {
    type Output = T;
    fn index(&self, part: Part) -> &T {
        &self.0[part as usize]
    }
}

impl<T> IndexMut<Part> for Parts<T> {
    fn index_mut(&mut self, part: Part) -> &mut T {
        &mut self.0[part as usize]
    }
}

/// A car of which parts are kept, and what each of them asked for.
#[derive(Clone, Debug)]
pub(super) struct Kept {
    pub(super) car: Car,
    pub(super) asked: Parts<KeySet>,
}

/// A sheet from which many cars are made: drawn ones, and ones with other figures at a few keys. Each is the very car
/// that [`Car::drawn`] and [`Car::assemble`] would make.
#[derive(Clone, Debug)]
pub struct Prepared<'a> {
    inputs: &'a Inputs,
    /// `None` where the sheet itself makes no car: every part is then put together anew.
    kept: Option<Kept>,
    laws: Laws,
}

impl<'a> Prepared<'a> {
    /// Prepares a sheet of which these slots are drawn, in this order.
    #[must_use]
    pub fn of(inputs: &'a Inputs, toleranced: &[Slot]) -> Self {
        let mut bench = Bench::new(Reader::new(inputs));
        let car = bench.car();
        checks::stands(&mut bench, car.as_ref());
        let kept = car.filter(|_| bench.refusals.is_empty()).map(|car| Kept {
            car,
            asked: bench.asked,
        });
        Self {
            inputs,
            kept,
            laws: Laws::of(toleranced, bench.read),
        }
    }

    /// One car of the many that the tolerances allow: as [`Car::drawn`].
    #[must_use]
    pub fn drawn(&self, draw: &Draw) -> Option<Car> {
        let read = Reader::silent(self.inputs, &[], Some(draw), Some(&self.laws));
        self.bench(read, draw.keys()).standing().ok()
    }

    /// The car of the sheet with other values at some slots, each slot named once.
    ///
    /// # Errors
    /// As [`Car::assemble`] of a sheet with these values.
    pub fn with(&self, patch: &[(Slot, Value)]) -> Result<Car, Vec<Refusal>> {
        let fits = patch.iter().all(|(slot, value)| self.inputs.takes(*slot, value));
        if !fits || self.kept.is_none() {
            // Tables come or go: what a sheet needs is looked at anew.
            let mut inputs = self.inputs.clone();
            for (slot, value) in patch {
                inputs.set(*slot, value.clone());
            }
            return Car::assemble(&inputs).map(|Assembled { car, .. }| car);
        }
        let read = Reader::silent(self.inputs, patch, None, Some(&self.laws));
        let mut bench = self.bench(read, patch.iter().map(|(slot, _)| slot.key).collect());
        for (slot, value) in patch {
            checks::range(&mut bench, *slot, value);
        }
        bench.standing()
    }

    fn bench<'b>(&'b self, read: Reader<'b>, changed: KeySet) -> Bench<'b> {
        let mut bench = Bench::new(read);
        bench.kept = self.kept.as_ref().map(|kept| (kept, changed));
        bench
    }
}

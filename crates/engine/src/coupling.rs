//! A centre coupling that the sheet leaves open, in a turn: which reading of it decides, and what the others come to.

use crate::brake::Warmth;
use crate::car::{Car, Surface};
use crate::conditions::Pull;
use crate::drivetrain::CouplingReading;
use crate::lever::LeverBench;
use crate::loads::Laden;
use crate::turn::{Assumed, Brief, Depth, Ready, Technique, TurnBench, at_their_entries, briefs_of_each};

/// The reading of the centre coupling that leaves a pull least in hand, where the sheet leaves several open: it decides.
#[must_use]
pub fn deciding(car: &Car, laden: &Laden, pull: Pull, warmth: Warmth) -> Assumed {
    let reading = LeverBench::of(car, warmth)
        .and_then(|bench| bench.answer(laden, pull).to_lock.reading)
        .map_or_else(Assumed::default, |reading| Assumed::of(&reading));
    Assumed { warmth, ..reading }
}

/// How fast a driver comes in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Entry {
    /// As fast as the technique says.
    AsSaid,
    /// As fast as it comes best through its bend, up to that.
    ItsOwn,
}

/// A technique with the centre coupling read in every other way that the sheet leaves open than the one of `used`: where
/// it turns, and how its curve goes on. None where the sheet leaves nothing open that matters at this speed.
#[must_use]
pub fn read_otherwise(
    car: &Car,
    laden: &Laden,
    surface: &Surface,
    (technique, entry): (&Technique, Entry),
    used: Assumed,
) -> Vec<(CouplingReading, Brief)> {
    let pull = Pull {
        hand: technique.hand,
        grip: surface.peak,
        speed: technique.entry,
    };
    let Some(bench) = LeverBench::of(car, used.warmth) else {
        return Vec::new();
    };
    let answer = bench.answer(laden, pull);
    let (readings, ready): (Vec<CouplingReading>, Vec<Ready>) = answer
        .to_lock
        .reading
        .into_iter()
        .chain(answer.also.iter().map(|(reading, _)| *reading))
        .map(|reading| {
            let run = Assumed {
                warmth: used.warmth,
                stepping: used.stepping,
                ..Assumed::of(&reading)
            };
            (reading, run)
        })
        .filter(|(_, run)| *run != used)
        .map(|(reading, run)| {
            let bench = TurnBench::of(car, laden, surface, run);
            (reading, bench.map(|bench| (bench, *technique)))
        })
        .unzip();
    let briefs = match entry {
        Entry::AsSaid => briefs_of_each(&ready, Depth::Moment),
        Entry::ItsOwn => at_their_entries(&ready)
            .into_iter()
            .map(|found| found.map(|(_, brief)| brief))
            .collect(),
    };
    readings
        .into_iter()
        .zip(briefs)
        .filter_map(|(reading, brief)| Some((reading, brief.ok()?)))
        .collect()
}

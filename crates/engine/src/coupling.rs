//! A centre coupling that the sheet leaves open, in a turn: which reading of it decides, and what the others come to.

use crate::brake::Warmth;
use crate::car::{Car, Surface};
use crate::conditions::Pull;
use crate::drivetrain::CouplingReading;
use crate::lever::LeverBench;
use crate::loads::Laden;
use crate::turn::{Assumed, Brief, Ready, Technique, Turn, TurnBench, TurnFault};

/// The reading of the centre coupling that leaves a pull least in hand, where the sheet leaves several open: it decides.
#[must_use]
pub fn deciding(car: &Car, laden: &Laden, pull: Pull, warmth: Warmth) -> Assumed {
    let reading = LeverBench::of(car, warmth)
        .and_then(|bench| bench.answer(laden, pull).to_lock.reading)
        .map_or_else(Assumed::default, |reading| Assumed::of(&reading));
    Assumed { warmth, ..reading }
}

/// What comes of a technique; and what it amounts to with the centre coupling read in every other way that the sheet leaves
/// open than the one of `used`: where it turns, and how its curve goes on. None where the sheet leaves nothing open that
/// matters at this speed.
///
/// # Errors
/// As [`TurnBench::of`] and [`TurnBench::turn`].
pub fn turn_each_way(
    car: &Car,
    laden: &Laden,
    surface: &Surface,
    technique: &Technique,
    used: Assumed,
) -> Result<(Turn, Vec<(CouplingReading, Brief)>), TurnFault> {
    let (readings, ready): (Vec<CouplingReading>, Vec<Ready>) =
        other_readings(car, laden, surface, technique, used)
            .into_iter()
            .unzip();
    let (turn, others) = TurnBench::of(car, laden, surface, used)?.turn_among(technique, &ready)?;
    let otherwise = readings
        .into_iter()
        .zip(others)
        .filter_map(|(reading, brief)| Some((reading, brief.ok()?)));
    Ok((turn, otherwise.collect()))
}

/// A technique with the centre coupling read in those other ways, made ready.
pub(crate) fn other_readings(
    car: &Car,
    laden: &Laden,
    surface: &Surface,
    technique: &Technique,
    used: Assumed,
) -> Vec<(CouplingReading, Ready)> {
    let pull = Pull {
        hand: technique.hand,
        grip: surface.peak,
        speed: technique.entry,
    };
    let Some(bench) = LeverBench::of(car, used.warmth) else {
        return Vec::new();
    };
    let answer = bench.answer(laden, pull);
    answer
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
        .collect()
}

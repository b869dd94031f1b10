//! The turn, run: on the surface that was asked about, with the axles free, on the other surfaces and over grip.

use std::sync::Arc;

use quantity::si::Speed;

use super::surfaces;
use crate::car::{Car, Centre, Surface};
use crate::conditions::Conditions;
use crate::coupling::{deciding, other_readings};
use crate::loads::Laden;
use crate::turn::{
    Brief, Depth, Ready, Swing, Technique, Turn, TurnBench, TurnFault, at_their_entries, briefs,
};

/// Grips over which a turn is tried: a tenth to 1.2.
const GRIPS: core::ops::RangeInclusive<u8> = 1..=12;

/// The run on one surface.
#[derive(Clone, Debug, PartialEq)]
pub struct TurnedRow {
    /// Surface.
    pub surface: Arc<str>,
    /// What it comes to; `None` where that surface makes no grip curve, or the motion could not be followed.
    pub brief: Option<Brief>,
}

/// What runs of the turn say. The driver does what is usual on each surface, with the sheet's own pull, comes in as fast as
/// was asked about or slower, whichever comes best through the bend, and lets go at the best moment.
#[derive(Clone, Debug, PartialEq)]
pub struct Turned {
    /// On the surface that was asked about.
    pub turn: Turn,
    /// Were the axles not coupled; `None` where they are not, and where it was looked at briefly and comes round as it is,
    /// whichever way the coupling is read.
    pub uncoupled: Option<Brief>,
    /// With the centre coupling read in the other ways that the sheet leaves open.
    pub otherwise: Vec<(crate::drivetrain::CouplingReading, Brief)>,
    /// On every surface that the car runs on; empty where it was looked at briefly.
    pub rows: Vec<TurnedRow>,
    /// The asked surface's shape with its peak moved, the entry kept: grips, rising, each with whether the car comes round, in
    /// time or late; empty where it was looked at briefly.
    pub over_grip: Vec<(f64, bool)>,
    /// Inertia, grip and roll share moved one by one; empty where it was looked at briefly.
    pub swings: Vec<Swing>,
}

impl Turned {
    pub(super) fn of(
        car: &Car,
        laden: &Laden,
        conditions: &Conditions,
        briefly: bool,
        surface: &Surface,
    ) -> Result<Self, TurnFault> {
        let pull = conditions.pull_at(car, surface.peak);
        let reading = deciding(car, laden, pull, conditions.warmth);
        let bench = TurnBench::of(car, laden, surface, reading)?;
        let asked = usual(surface, car, conditions.speed);
        let ready = |car: &Car, surface: &Surface| -> Ready {
            let bench = TurnBench::of(car, laden, surface, reading)?;
            Ok((bench, usual(surface, car, conditions.speed)))
        };
        let (readings, otherwise): (Vec<_>, Vec<Ready>) =
            other_readings(car, laden, surface, &asked, reading)
                .into_iter()
                .unzip();
        let uncoupled = (car.drivetrain.centre != Centre::None).then(|| {
            let mut free = car.clone();
            free.drivetrain.centre = Centre::None;
            ready(&free, surface)
        });
        let (at_once, if_need_be) = if briefly {
            (None, uncoupled)
        } else {
            (uncoupled, None)
        };
        let runs: Vec<Ready> = core::iter::once(Ok((bench.clone(), asked)))
            .chain(otherwise)
            .chain(at_once)
            .collect();
        let mut found = at_their_entries(&runs).into_iter();
        let (technique, as_it_is) = found.next().unwrap_or(Err(TurnFault::NoSurface))?;
        let mut next = || found.next()?.ok().map(|(_, brief)| brief);
        let otherwise: Vec<_> = readings
            .into_iter()
            .filter_map(|reading| Some((reading, next()?)))
            .collect();
        let mut uncoupled = next();
        let all_round = core::iter::once(&as_it_is)
            .chain(otherwise.iter().map(|(_, brief)| brief))
            .all(|brief| brief.verdict.is_round());
        if let Some(free) = if_need_be.filter(|_| !all_round) {
            uncoupled = at_their_entries(&[free])
                .pop()
                .and_then(|found| found.ok())
                .map(|(_, brief)| brief);
        }
        let turned = Self {
            turn: bench.turn(&technique)?,
            otherwise,
            uncoupled,
            rows: Vec::new(),
            over_grip: Vec::new(),
            swings: Vec::new(),
        };
        if briefly {
            return Ok(turned);
        }
        let also = surfaces(car, surface);
        let on_others: Vec<Ready> = also.iter().map(|surface| ready(car, surface)).collect();
        let rows = also
            .iter()
            .zip(at_their_entries(&on_others))
            .map(|(surface, found)| TurnedRow {
                surface: Arc::clone(&surface.name),
                brief: found.ok().map(|(_, brief)| brief),
            })
            .collect();
        // All that is like it, at once: on other grip, with other figures of the car.
        let grips: Vec<f64> = GRIPS.map(|tenth| f64::from(tenth) / 10.0).collect();
        let on_other_grip: Vec<Ready> = grips
            .iter()
            .map(|&grip| {
                let bench = TurnBench::of(car, laden, &surface.with_peak(grip), reading)?;
                Ok((bench, technique))
            })
            .collect();
        let varied = bench.varied_each_way(&technique);
        let near = turned.turn.near();
        let alike = on_other_grip.iter().map(|ready| (ready, near));
        let mut found = briefs(alike.chain(varied.iter().map(|ready| (ready, Depth::Moment)))).into_iter();
        let mut next = || found.next().unwrap_or(Err(TurnFault::NoSurface));
        Ok(Self {
            over_grip: grips
                .iter()
                .map(|&grip| (grip, next().is_ok_and(|found| found.verdict.is_round())))
                .collect(),
            swings: Swing::each(next)?.to_vec(),
            rows,
            ..turned
        })
    }

    /// The grips over which it comes round, as stretches from the lowest to the highest of each.
    #[must_use]
    pub fn works_in(&self) -> Vec<(f64, f64)> {
        let mut stretches: Vec<(f64, f64)> = Vec::new();
        let mut goes_on = false;
        for &(grip, works) in &self.over_grip {
            match stretches.last_mut() {
                Some(stretch) if works && goes_on => stretch.1 = grip,
                _ if works => stretches.push((grip, grip)),
                _ => {}
            }
            goes_on = works;
        }
        stretches
    }
}

/// What a driver usually does on a surface, entering at a speed.
pub(crate) fn usual(surface: &Surface, car: &Car, speed: Speed) -> Technique {
    Technique {
        entry: speed,
        ..Technique::on(surface, car).at_best()
    }
}

//! The turn, run: on the surface that was asked about, with the axles free, on the other surfaces and over grip.

use std::sync::Arc;

use quantity::si::Speed;

use super::surfaces;
use crate::car::{Car, Centre, Surface};
use crate::conditions::Conditions;
use crate::coupling::{deciding, other_readings};
use crate::loads::Laden;
use crate::turn::{Brief, Company, CompanyFound, Ready, Swing, Technique, Turn, TurnBench, TurnFault};

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
        let as_it_is: Ready = Ok((bench.clone(), asked));
        let (also, grips) = if briefly {
            (Vec::new(), Vec::new())
        } else {
            (
                surfaces(car, surface),
                GRIPS.map(|tenth| f64::from(tenth) / 10.0).collect(),
            )
        };
        let on_others: Vec<Ready> = also.iter().map(|surface| ready(car, surface)).collect();
        let on_other_grip: Vec<Ready> = grips
            .iter()
            .map(|&grip| ready(car, &surface.with_peak(grip)))
            .collect();
        let varied = if briefly {
            Vec::new()
        } else {
            bench.varied_each_way(&asked)
        };
        let mut company = Company {
            cars: core::iter::once(&as_it_is).chain(&otherwise).collect(),
            round: on_other_grip.iter().collect(),
            like_it: varied.iter().collect(),
            ..Company::default()
        };
        if briefly {
            company.if_need_be.extend(&uncoupled);
        } else {
            company.cars.extend(uncoupled.iter().chain(&on_others));
        }
        let CompanyFound {
            turn,
            cars,
            if_need_be,
            round,
            like_it,
            ..
        } = company.driven();
        // The other readings, the axles free, the other surfaces.
        let mut briefs = cars
            .into_iter()
            .skip(1)
            .map(|found| found.ok().map(|(_, brief)| brief));
        let otherwise = readings
            .into_iter()
            .filter_map(|reading| Some((reading, briefs.next()??)))
            .collect();
        let uncoupled = if briefly {
            if_need_be
                .into_iter()
                .next()
                .and_then(|found| found.ok().map(|(_, brief)| brief))
        } else {
            uncoupled.and_then(|_| briefs.next()?)
        };
        let rows = also
            .iter()
            .zip(briefs)
            .map(|(surface, brief)| TurnedRow {
                surface: Arc::clone(&surface.name),
                brief,
            })
            .collect();
        let is_round = |found: Result<Brief, TurnFault>| found.is_ok_and(|brief| brief.verdict.is_round());
        let mut like_it = like_it.into_iter();
        let swings = if briefly {
            Vec::new()
        } else {
            Swing::each(|| like_it.next().unwrap_or(Err(TurnFault::NoSurface)))?.to_vec()
        };
        Ok(Self {
            turn: turn?,
            otherwise,
            uncoupled,
            rows,
            over_grip: grips.into_iter().zip(round.into_iter().map(is_round)).collect(),
            swings,
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

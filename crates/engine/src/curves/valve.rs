//! The bias valve: pressure out over pressure in, the knee, how far the knob moves it, and what was read on gauges.

use quantity::si::Pressure;

use crate::car::{Car, Knee, KnobScale, MeasuredValve, Setting};
use crate::loads::AxleLoads;
use crate::network::behind_valve;

/// What a knee belongs to.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum KneeOf {
    /// The knob as it is set.
    Set(f64, KnobScale),
    /// An end of the knob.
    KnobEnd(f64, KnobScale),
    /// A valve without a knob.
    Fitted,
    /// The rear axle as it stands.
    Standing,
    /// The light rear of a load-sensing valve's two points.
    LightRear,
    /// The laden one.
    LadenRear,
}

/// A knee, and what it belongs to.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct NamedKnee {
    /// What it belongs to.
    pub of: KneeOf,
    /// Where the valve begins to reduce.
    pub knee: Pressure,
}

/// A reading of two gauges.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct GaugePair {
    /// At what setting, where it was said.
    pub setting: Option<Setting>,
    /// Pressure before the valve.
    pub inlet: Pressure,
    /// Pressure behind it.
    pub outlet: Pressure,
}

/// The lines of a bias valve.
#[derive(Clone, Debug, PartialEq)]
pub struct Valve {
    /// As it stands; `None`: the car has no bias valve.
    pub set: Option<NamedKnee>,
    /// Outlet's rise over inlet's above the knee.
    pub slope: f64,
    /// Other knees that the same valve has: the ends of its knob, or other loads.
    pub others: Vec<NamedKnee>,
    /// Readings.
    pub readings: Vec<GaugePair>,
}

impl Valve {
    /// Of a car, with its rear axle loaded as it stands.
    #[must_use]
    pub fn of(car: &Car, loads: AxleLoads) -> Self {
        let readings = car.measured.valve.iter().map(pair).collect();
        let Some(valve) = &car.bias_valve else {
            return Self {
                set: None,
                slope: 1.0,
                others: Vec::new(),
                readings,
            };
        };
        let knee = |of: KneeOf, knee: Pressure| NamedKnee { of, knee };
        let (set, others) = match &valve.knee {
            Knee::Knob { at, scale, setting } => {
                let ends = [at.first(), at.last()].into_iter().flatten();
                (
                    KneeOf::Set(*setting, *scale),
                    ends.filter(|(end, _)| (end - setting).abs() > 1e-9)
                        .map(|&(end, pressure)| knee(KneeOf::KnobEnd(end, *scale), pressure))
                        .collect(),
                )
            }
            Knee::Fixed(_) => (KneeOf::Fitted, Vec::new()),
            Knee::OverRearLoad { empty, laden } => (
                KneeOf::Standing,
                vec![knee(KneeOf::LightRear, empty.1), knee(KneeOf::LadenRear, laden.1)],
            ),
        };
        Self {
            set: Some(knee(set, valve.knee_at(loads.rear))),
            slope: valve.slope,
            others,
            readings,
        }
    }

    /// Pressure behind it, were its knee there.
    #[must_use]
    pub fn behind(&self, inlet: Pressure, knee: Pressure) -> Pressure {
        behind_valve(inlet, knee, self.slope)
    }
}

fn pair(measured: &MeasuredValve) -> GaugePair {
    GaugePair {
        setting: measured.setting,
        inlet: measured.front,
        outlet: measured.rear,
    }
}

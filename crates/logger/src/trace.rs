//! One stop as it was logged, with what the car of the sheet would have made of it beside it.

use engine::car::{Car, Master};
use engine::loads::Laden;
use engine::network::behind_valve;
use quantity::si::{Duration, Pressure};

use crate::events::{Event, Looked, WorkedBy};
use crate::log::Log;

/// A row of it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct StopPoint {
    /// From the brake's coming on.
    pub time: Duration,
    /// Over the sensor's zero.
    pub front: Pressure,
    /// Over the sensor's zero.
    pub rear: Pressure,
    /// What the sheet's valve or bar lets through at that front pressure and the deceleration that was logged.
    pub computed: Pressure,
}

/// A stop by the foot.
#[derive(Clone, Debug, PartialEq)]
pub struct StopTrace {
    /// When in the log it began.
    pub from: Duration,
    /// Its rows.
    pub points: Vec<StopPoint>,
}

impl StopTrace {
    /// How far the rear was from what the sheet says, where it was computed above the knee and more: the middle of all
    /// rows with at least a third of the highest front pressure, as a share of what was computed.
    #[must_use]
    pub fn off(&self) -> Option<f64> {
        let most = self
            .points
            .iter()
            .map(|point| point.front.pa())
            .fold(0.0, f64::max);
        let mut off: Vec<f64> = self
            .points
            .iter()
            .filter(|point| point.front.pa() > most / 3.0 && point.computed.pa() > 1e5)
            .map(|point| point.rear / point.computed - 1.0)
            .collect();
        off.sort_by(f64::total_cmp);
        off.get(off.len() / 2).copied()
    }
}

/// The stop with the highest front pressure that was logged without a gap; `None` where both pressures were never logged
/// in one.
#[must_use]
pub fn hardest_stop(log: &Log, events: &[Event], car: &Car, laden: &Laden) -> Option<StopTrace> {
    let looked = Looked::at(log);
    let event = events
        .iter()
        .filter(|event| event.by == WorkedBy::Foot && !event.has_gap && event.rear_peak.is_some())
        .max_by(|one, other| {
            let peak = |event: &Event| event.front_peak.map_or(0.0, Pressure::pa);
            peak(one).total_cmp(&peak(other))
        })?;
    let begun = log.time_s.get(event.rows.0)?;
    let points: Vec<StopPoint> = (event.rows.0..=event.rows.1)
        .filter_map(|row| {
            let (front, rear) = (looked.front(row)?, looked.rear(row)?);
            let slows = looked.slowing(row).unwrap_or(0.0).max(0.0) / engine::GRAVITY_M_S2;
            Some(StopPoint {
                time: Duration::from_s(log.time_s[row] - begun),
                front: Pressure::from_pa(front),
                rear: Pressure::from_pa(rear),
                computed: computed(car, laden, Pressure::from_pa(front), slows),
            })
        })
        .collect();
    (points.len() > 2).then_some(StopTrace {
        from: event.from,
        points,
    })
}

/// Rear pressure of the sheet's car: through the bar where there are twin cylinders, then through the valve.
fn computed(car: &Car, laden: &Laden, front: Pressure, rate: f64) -> Pressure {
    let into = match &car.master {
        Master::Tandem { .. } => front,
        Master::Twin {
            front_bore,
            rear_bore,
            bar,
            ..
        } => {
            let share = bar.front_share;
            front * ((1.0 - share) / share * (*front_bore / *rear_bore).powi(2))
        }
    };
    match &car.bias_valve {
        Some(valve) => {
            let load = laden.axle_loads(rate).rear;
            behind_valve(into, valve.knee_at(load), valve.slope)
        }
        None => into,
    }
}

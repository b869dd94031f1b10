//! What was measured, held against what the sheet's figures compute.

use quantity::si::{Duration, Pressure};

use crate::brake::{TorqueLaw, Warmth};
use crate::car::{Car, Wheel};
use crate::foot::FootLaw;
use crate::network::behind_valve;

/// What a reading is of; its figures are in the unit named.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ReadingKind {
    /// Line pressure at a foot force (Pa).
    Pedal,
    /// Pressure behind the bias valve (Pa).
    Valve,
    /// Torque of a wheel's brake at a pressure (N·m).
    Wheel(Wheel),
}

/// One reading against what is computed.
#[derive(Clone, Debug, PartialEq)]
pub struct HeldAgainst {
    /// What it is of.
    pub kind: ReadingKind,
    /// Which entry of its table, counted from 1.
    pub entry: usize,
    /// As read, in SI; of several points the middle one.
    pub measured_si: f64,
    /// Computed for it: from and to (cold and warm brakes), in SI.
    pub computed_si: (f64, f64),
    /// `measured/computed − 1` against the nearer end; 0 between them.
    pub off_by: f64,
}

/// Left and right wheel of one axle, measured at one pressure or nearly.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Sides {
    /// The weaker wheel.
    pub weaker: Wheel,
    /// `1 − weaker/stronger`, torque per pressure above the threshold.
    pub less_by: f64,
}

/// Pressure held shut.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Soaked {
    /// Pressure at the start.
    pub from: Pressure,
    /// Pressure at the end.
    pub to: Pressure,
    /// How long.
    pub held_for: Duration,
    /// Share of the pressure that went.
    pub lost: f64,
}

/// Pressures below this are not held against anything (Pa): gauges of brake lines are blind there.
const GAUGE_BLIND_PA: f64 = 5e5;

/// Every reading that something is computed for.
pub(super) fn against_the_sheet(car: &Car) -> Vec<HeldAgainst> {
    let mut readings = Vec::new();
    let (helped, mut bare) = (FootLaw::of(car), car.clone());
    bare.pedal.booster = None;
    let unhelped = FootLaw::of(&bare);
    for (number, reading) in (1..).zip(&car.measured.pedal) {
        let law = if reading.engine_on { helped } else { unhelped };
        let points: Vec<(f64, f64)> = reading
            .points
            .iter()
            .filter(|(_, pressure)| pressure.pa() > GAUGE_BLIND_PA)
            .map(|&(foot, pressure)| (pressure.pa(), law.pressures(law.push_rod(foot))[0].pa()))
            .collect();
        readings.extend(off_by(ReadingKind::Pedal, number, &points));
    }
    if let Some(valve) = &car.bias_valve {
        for (number, reading) in (1..).zip(&car.measured.valve) {
            // A reading at another setting has taken part in the knob's own line.
            let knee = match (&valve.knee, reading.setting) {
                (crate::car::Knee::Knob { at, .. }, Some(setting)) => {
                    let at: Vec<(f64, f64)> = at.iter().map(|&(turns, knee)| (turns, knee.pa())).collect();
                    let setting = match setting {
                        crate::car::Setting::Turns(turns) => turns.turns(),
                        crate::car::Setting::Position(position) => f64::from(position),
                    };
                    Pressure::from_pa(crate::interpolate::clamped(&at, setting, |setting| setting))
                }
                (crate::car::Knee::OverRearLoad { .. }, _) => continue,
                _ => valve.knee_at(quantity::si::Force::ZERO),
            };
            let computed = behind_valve(reading.front, knee, valve.slope).pa();
            readings.extend(off_by(
                ReadingKind::Valve,
                number,
                &[(reading.rear.pa(), computed)],
            ));
        }
    }
    for (number, reading) in (1..).zip(&car.measured.wheel) {
        let torque_nm = |warmth: Warmth| {
            TorqueLaw::of(car.brake(reading.wheel.axle()), warmth)
                .torque(reading.pressure)
                .nm()
        };
        let (cold, warm) = (torque_nm(Warmth::Cold), torque_nm(Warmth::Warm));
        let (low, high) = (cold.min(warm), cold.max(warm));
        if low <= 0.0 {
            continue;
        }
        let measured = reading.torque.nm();
        let off_by = if measured > high {
            measured / high
        } else {
            (measured / low).min(1.0)
        } - 1.0;
        readings.push(HeldAgainst {
            kind: ReadingKind::Wheel(reading.wheel),
            entry: number,
            measured_si: measured,
            computed_si: (low, high),
            off_by,
        });
    }
    readings
}

/// The middle of several points, measured and computed; `None` where there is nothing to hold against.
fn off_by(kind: ReadingKind, entry: usize, points: &[(f64, f64)]) -> Option<HeldAgainst> {
    let mut points: Vec<(f64, f64)> = points
        .iter()
        .copied()
        .filter(|&(_, computed)| computed > 0.0)
        .collect();
    points.sort_by(|one, other| (one.0 / one.1).total_cmp(&(other.0 / other.1)));
    let &(measured, computed) = points.get(points.len() / 2)?;
    let off_by = measured / computed - 1.0;
    Some(HeldAgainst {
        kind,
        entry,
        measured_si: measured,
        computed_si: (computed, computed),
        off_by,
    })
}

/// Left and right of each axle, the newest reading of each wheel.
pub(super) fn side_to_side(car: &Car) -> Vec<Sides> {
    let gain = |wheel: Wheel| {
        let reading = car
            .measured
            .wheel
            .iter()
            .rev()
            .find(|reading| reading.wheel == wheel)?;
        let law = TorqueLaw::of(car.brake(wheel.axle()), Warmth::Warm);
        let above_pa = (reading.pressure - law.threshold).pa();
        (above_pa > 0.0).then(|| reading.torque.nm() / above_pa)
    };
    [
        [Wheel::FrontLeft, Wheel::FrontRight],
        [Wheel::RearLeft, Wheel::RearRight],
    ]
    .into_iter()
    .filter_map(|[left, right]| {
        let (of_left, of_right) = (gain(left)?, gain(right)?);
        let weaker = if of_left < of_right { left } else { right };
        Some(Sides {
            weaker,
            less_by: 1.0 - of_left.min(of_right) / of_left.max(of_right),
        })
    })
    .collect()
}

/// Every soak on the sheet.
pub(super) fn soaked(car: &Car) -> Vec<Soaked> {
    car.measured
        .soak
        .iter()
        .filter(|soak| soak.from > Pressure::ZERO)
        .map(|soak| Soaked {
            from: soak.from,
            to: soak.to,
            held_for: soak.held_for,
            lost: 1.0 - soak.to / soak.from,
        })
        .collect()
}

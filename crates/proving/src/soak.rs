//! A pressure closed in: what temperature explains of its fall, what a gauge can see, and what is left (P10).

use engine::car::circuit::{Circuit, Port};
use engine::car::{Car, LeverKind, MeasuredSoak, Wheel};
use engine::network::{Acting, Network, brake_fluid};
use quantity::Dimension;
use quantity::si::{Duration, Pressure, Temperature, Volume};
use serde_json::{Value, json};

use crate::data::{EntryFault, Range, wanted, within};
use crate::judged::CheckResult;

/// Expansion of brake fluid by volume (1/K; from memory).
pub const FLUID_EXPANDS_PER_K: f64 = 9.5e-4;
/// Three times that of an alloy body by length (1/K; from memory).
pub const BODY_EXPANDS_PER_K: f64 = 5.1e-5;
/// Share of the volume taken that rubber creeps by, and how soon: 6 % of half, in 240 s (from memory).
pub const CREEP_SHARE: f64 = 0.03;
/// Time of that creep.
pub const CREEP_IN: Duration = Duration::from_s(240.0);
/// What a workshop gauge is read to (judgement).
pub const GAUGE: Pressure = Pressure::from_pa(1e5);
/// What two readings of the air tell of the fluid's temperature (judgement: it lags).
pub const THERMOMETER_K: f64 = 0.5;
/// How sure the volume law is for this (judgement: clearance, flex and hoses are seldom measured).
pub const LAW_SHARE: f64 = 0.35;
/// A weep that is worth finding: one drop, 0.05 cm³.
pub const DROP: Volume = Volume::from_m3(0.05e-6);

/// A line's pressure: a hard foot makes 150 bar (from memory).
const PRESSURE: Range = Range {
    dimension: Dimension::Pressure,
    least: "0 bar",
    most: "400 bar",
};
/// How long it is held: a day and a night are watched by nobody.
const HELD: Range = Range {
    dimension: Dimension::Duration,
    least: "0 s",
    most: "1440 min",
};
/// Air in a workshop.
const AIR: Range = Range {
    dimension: Dimension::Temperature,
    least: "-50 C",
    most: "70 C",
};
const AIR_IS: &str = "`air` is its temperature at the start and at the end, such as [\"18 C\", \"17 C\"]";

/// A pressure closed in.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Soak {
    /// At the start.
    pub from: Pressure,
    /// At the end.
    pub to: Pressure,
    /// How long.
    pub held_for: Duration,
    /// Air at start and end, if read.
    pub air: Option<(Temperature, Temperature)>,
}

impl Soak {
    /// Reads one as a sheet or an entry writes it: `from`, `to`, `in`, `air`.
    ///
    /// # Errors
    /// What is missing or cannot be read.
    pub fn read(data: &Value) -> Result<Self, EntryFault> {
        let air = match data.get("air") {
            None | Some(Value::Null) => None,
            Some(Value::Array(both)) => match both.as_slice() {
                [Value::String(start), Value::String(end)] => Some((
                    Temperature::from_k(within("air", start, AIR)?),
                    Temperature::from_k(within("air", end, AIR)?),
                )),
                _ => return Err(EntryFault(AIR_IS.to_owned())),
            },
            Some(_) => return Err(EntryFault(AIR_IS.to_owned())),
        };
        let soak = Self {
            from: Pressure::from_pa(wanted(data, "from", PRESSURE)?),
            to: Pressure::from_pa(wanted(data, "to", PRESSURE)?),
            held_for: Duration::from_s(wanted(data, "in", HELD)?),
            air,
        };
        if soak.from <= Pressure::ZERO || soak.held_for <= Duration::ZERO || soak.to < Pressure::ZERO {
            return Err(EntryFault(
                "pressures and time of a soak are above nothing".to_owned(),
            ));
        }
        Ok(soak)
    }

    pub(crate) fn data(&self) -> Value {
        let celsius = |at: Temperature| format!("{:.1} C", at.celsius());
        let mut data = json!({
            "from": format!("{:.2} bar", self.from.pa() / 1e5),
            "to": format!("{:.2} bar", self.to.pa() / 1e5),
            "in": format!("{:.1} min", self.held_for.s() / 60.0),
        });
        if let (Some((start, end)), Value::Object(data)) = (self.air, &mut data) {
            data.insert("air".to_owned(), json!([celsius(start), celsius(end)]));
        }
        data
    }
}

/// What a gauge can and cannot see in a closed part of this car.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Closed {
    /// Fluid that is closed in.
    pub fluid: Volume,
    /// Volume that has been taken at the pressure.
    pub taken: Volume,
    /// How much of pressure a volume is worth there (Pa/m³).
    pub stiffness_pa_m3: f64,
    /// What a degree moves it by (Pa/K).
    pub per_degree_pa_k: f64,
    /// What one drop lost moves it by.
    pub per_drop: Pressure,
}

/// What is closed in behind a lever's cylinder, or behind the pedal's second chamber where no lever has one, at a
/// pressure. `dp/dT = (β − 3α) V/(dV/dp)`, V all fluid there, V(p) the volume law of travel. `None` where it has no
/// stiffness to tell.
#[must_use]
pub fn closed_off(car: &Car, pressure: Pressure) -> Option<Closed> {
    let network = Network::of(car);
    let by_lever = matches!(
        car.lever.as_ref().map(|lever| &lever.kind),
        Some(LeverKind::Inline(_) | LeverKind::Separate(..))
    );
    let taken_at = |pressure: Pressure| {
        let acting = Acting {
            first: Pressure::ZERO,
            second: if by_lever { Pressure::ZERO } else { pressure },
            own: by_lever.then_some(pressure),
            // The gauge stands where the pressure is: a valve behind the lever is taken as passing it.
            knee: Pressure::from_pa(1e9),
        };
        let pressures = network.pressures(&acting);
        if by_lever {
            network.taken_behind_lever(&pressures)
        } else {
            network.taken_by_chambers(&pressures)[1]
        }
    };
    let fluid = if by_lever {
        network.totals_behind_lever().fluid
    } else {
        behind_second(car, &network)
    };
    let step = Pressure::from_pa(0.5e5).min(pressure / 4.0);
    let change = (taken_at(pressure + step) - taken_at(pressure - step)).m3();
    if change.is_nan() || change <= 0.0 {
        return None;
    }
    let stiffness_pa_m3 = 2.0 * step.pa() / change;
    Some(Closed {
        fluid,
        taken: taken_at(pressure),
        stiffness_pa_m3,
        per_degree_pa_k: (FLUID_EXPANDS_PER_K - BODY_EXPANDS_PER_K) * fluid.m3() * stiffness_pa_m3,
        per_drop: Pressure::from_pa(DROP.m3() * stiffness_pa_m3),
    })
}

/// Fluid in lines and brakes that the second chamber reaches.
fn behind_second(car: &Car, network: &Network) -> Volume {
    let circuit = Circuit::of(car);
    let acting = Acting {
        first: Pressure::ZERO,
        second: GAUGE,
        own: None,
        knee: Pressure::from_pa(1e9),
    };
    let pressures = network.pressures(&acting);
    let reached = |port: Port| {
        network
            .at_port(&pressures, port)
            .is_some_and(|pressure| pressure > Pressure::ZERO)
    };
    let lines: Volume = circuit
        .runs
        .iter()
        .filter(|run| reached(run.from) || reached(run.to))
        .map(|run| Volume::from_m3(run.run.pipe.section().m2() * run.run.length.m()))
        .sum();
    let brakes: Volume = Wheel::ALL
        .into_iter()
        .filter(|&wheel| network.at_wheel(&pressures, wheel) > Pressure::ZERO)
        .map(|wheel| brake_fluid(car.brake(wheel.axle())))
        .sum();
    lines + brakes
}

/// What a soak tells.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SoakVerdict {
    /// What was closed in.
    pub closed: Closed,
    /// Fall that was read; below zero: it rose.
    pub fell: Pressure,
    /// Fall that temperature and creeping rubber explain.
    pub explained: Pressure,
    /// How far the rest may be off: gauge, thermometer, volume law.
    pub unsure: Pressure,
    /// Whether the air was read at all.
    pub air_read: bool,
    /// Volume lost in an hour, if the rest is a weep.
    pub loses: Volume,
}

impl SoakVerdict {
    /// What is left over.
    #[must_use]
    pub fn rest(&self) -> Pressure {
        self.fell - self.explained
    }

    /// Whether more is left than could be the readings.
    #[must_use]
    pub fn weeps(&self) -> bool {
        self.rest() > self.unsure
    }
}

/// The newest soak on a car's sheet, judged; `None` where there is none, or none that tells anything. Whoever speaks of the
/// sheet's soak speaks of this one.
#[must_use]
pub fn newest(car: &Car) -> Option<(MeasuredSoak, SoakVerdict)> {
    let measured = *car.measured.soak.iter().max_by_key(|soak| soak.on)?;
    let soak = Soak {
        from: measured.from,
        to: measured.to,
        held_for: measured.held_for,
        air: measured.air,
    };
    Some((measured, judge(&soak, car)?))
}

/// Judges a soak of a car. `None` where the closed part has no stiffness to tell.
#[must_use]
pub fn judge(soak: &Soak, car: &Car) -> Option<SoakVerdict> {
    let closed = closed_off(car, soak.from)?;
    let warmer_k = soak.air.map_or(0.0, |(start, end)| (end - start).dk());
    let by_heat_pa = -closed.per_degree_pa_k * warmer_k;
    let crept = 1.0 - (-soak.held_for.s() / CREEP_IN.s()).exp();
    let by_creep_pa = CREEP_SHARE * closed.taken.m3() * crept * closed.stiffness_pa_m3;
    let explained = Pressure::from_pa(by_heat_pa + by_creep_pa);
    // Without a thermometer a workshop drifts by a degree or two in the time.
    let degrees = if soak.air.is_some() { THERMOMETER_K } else { 2.0 };
    let law_pa = LAW_SHARE * (by_heat_pa.abs() + by_creep_pa);
    let unsure_pa = (GAUGE.pa().powi(2) + (degrees * closed.per_degree_pa_k).powi(2) + law_pa.powi(2)).sqrt();
    let fell = soak.from - soak.to;
    let rest_pa = (fell - explained).pa().max(0.0);
    Some(SoakVerdict {
        loses: Volume::from_m3(rest_pa / closed.stiffness_pa_m3 * 3600.0 / soak.held_for.s()),
        closed,
        fell,
        explained,
        unsure: Pressure::from_pa(unsure_pa),
        air_read: soak.air.is_some(),
    })
}

pub(crate) fn judged(soak: &Soak, car: &Car) -> CheckResult {
    let Some(verdict) = judge(soak, car) else {
        return CheckResult::TellsNothing("what is closed in has no stiffness to tell".to_owned());
    };
    let bar = |pressure: Pressure| format!("{:.1} bar", pressure.pa() / 1e5);
    let said = format!(
        "fell {}, of which temperature and creep explain {}; a degree is worth {}, a drop {}",
        bar(verdict.fell),
        bar(verdict.explained),
        bar(Pressure::from_pa(verdict.closed.per_degree_pa_k)),
        bar(verdict.closed.per_drop)
    );
    if verdict.weeps() {
        CheckResult::Fails(format!(
            "{said}; {} is left, as if {:.2} cm³ an hour were lost",
            bar(verdict.rest()),
            verdict.loses.m3() * 1e6
        ))
    } else if -verdict.rest() > verdict.unsure {
        CheckResult::TellsNothing(format!(
            "{said}; it stands {} higher than that, which no closed line does by itself: look at the gauge, the sun on the \
             car, a lever that was still being pulled",
            bar(-verdict.rest())
        ))
    } else if !verdict.air_read && verdict.unsure.pa() > 3.0 * GAUGE.pa() {
        CheckResult::TellsNothing(format!(
            "{said}; without the air's temperature that tells nothing: read it too"
        ))
    } else {
        CheckResult::Holds(format!(
            "{said}; a weep of less than {} is not seen so",
            bar(verdict.unsure)
        ))
    }
}

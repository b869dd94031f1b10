//! What belongs to an old part while another is tried in its place.
//!
//! A booster pushes as hard whatever cylinder stands behind it, but its figures are written as line pressures: behind another
//! bore they are others. A reading says what the part did that was read, and nothing of another one.

use std::collections::BTreeSet;

use engine::car::{Booster, Car, KeyId, Master, Pedal, Slot, Value};
use quantity::si::Pressure;
use quantity::{Amount, Dimension, Spread, units_of};

/// What a sheet says of itself once other parts are fitted.
#[derive(Debug, Default)]
pub(crate) struct Carried {
    /// Keys that go with the old part, each with what it is now.
    pub(crate) keys: Vec<(String, String)>,
    /// What no longer counts, in words behind the option's name.
    pub(crate) said: Vec<&'static str>,
}

const PEDAL: &str = "measured.pedal";
const VALVE: &str = "measured.valve";
const PULL: &str = "measured.pull";
const BORES: [&str; 4] = [
    "master.kind",
    "master.bore",
    "master.front_bore",
    "master.rear_bore",
];

/// What is to be minded of a key that goes onto a sheet with such readings of the old part, and counts no reading wrongly by
/// itself.
pub(crate) fn minded(key: &str) -> Option<&'static str> {
    let said = "pulls on the sheet were made with the old part: measure one anew";
    (readings_of(key) == Some(PULL)).then_some(said)
}

/// The readings that were taken of the part that a key describes.
pub(crate) fn readings_of(key: &str) -> Option<&'static str> {
    if key.starts_with("master.") || key.starts_with("pedal.") {
        return Some(PEDAL);
    }
    let pulled = [
        "lever.kind",
        "lever.bore",
        "lever.ratio",
        "rear_brake.cylinder_bore",
        "rear_brake.caliper.pistons",
    ];
    if pulled.contains(&key) {
        return Some(PULL);
    }
    let turned = key.ends_with(".setting") || key.ends_with(".place");
    (key.starts_with("bias_valve.") && !turned).then_some(VALVE)
}

/// Carries over what the old parts were: `before` is the sheet as it was, `read` the same with the keys of `given` changed.
pub(crate) fn carry_over(
    read: &mut sheet::ReadSheet,
    before: &sheet::ReadSheet,
    given: &BTreeSet<String>,
) -> Carried {
    let mut carried = Carried::default();
    let changes = |readings: &str| given.iter().any(|key| readings_of(key) == Some(readings));
    if changes(VALVE) && read.inputs.entries(VALVE) > 0 {
        read.inputs = read.inputs.without(VALVE);
        carried
            .said
            .push("changes the bias valve: what two gauges said of the old one does not count");
    }
    let bores = BORES.iter().any(|key| given.contains(*key));
    if changes(PULL) && read.inputs.entries(PULL) > 0 {
        read.inputs = read.inputs.without(PULL);
        carried
            .said
            .push("changes the lever or what it moves: pulls that were measured before do not count");
    }
    if !changes(PEDAL) {
        return carried;
    }
    let Ok(old) = before.assemble() else {
        return carried;
    };
    let was_read = read.inputs.entries(PEDAL) > 0;
    if was_read {
        read.inputs = read.inputs.without(PEDAL);
        carried
            .said
            .push("changes pedal or cylinder: what was read of the old ones is carried over, not read anew");
    }
    let replaced: BTreeSet<&str> = old
        .replaced
        .iter()
        .filter(|replaced| replaced.by.starts_with(PEDAL))
        .flat_map(|replaced| replaced.keys.iter().copied())
        .collect();
    let factor = if bores { bore_factor(read, &old.car) } else { 1.0 };
    for (key, si) in figures(&old.car.pedal) {
        // A booster that is taken away takes its figures along.
        let table_given = key
            .rsplit_once('.')
            .is_some_and(|(table, _)| given.contains(table));
        if given.contains(key) || table_given {
            continue;
        }
        let is_pressure = key.ends_with("run_out") || key.ends_with("jump_in");
        let factor = if is_pressure { factor } else { 1.0 };
        let amount = if replaced.contains(key) {
            Amount::exact(if is_pressure { Dimension::Pressure } else { of(key) }, si)
        } else {
            match on_sheet(before, key) {
                Some(amount) if is_pressure && (factor - 1.0).abs() > 1e-9 => amount,
                _ => continue,
            }
        };
        let text = quantity::print(&scaled(amount, factor), units_of(amount.dimension)[0]);
        if read.with(&format!("{key}={text}")).is_ok() {
            carried.keys.push((key.to_owned(), text));
        }
    }
    carried
}

fn of(key: &str) -> Dimension {
    if key.ends_with("preload") {
        Dimension::Force
    } else {
        Dimension::Ratio
    }
}

/// The figures of a pedal that a reading may have put in the place of the sheet's, in SI.
fn figures(pedal: &Pedal) -> Vec<(&'static str, f64)> {
    let mut figures = vec![
        ("pedal.efficiency", pedal.efficiency),
        ("pedal.preload", pedal.preload.n()),
    ];
    if let Some(Booster {
        gain,
        run_out,
        jump_in,
    }) = pedal.booster
    {
        figures.extend([
            ("pedal.booster.gain", gain),
            ("pedal.booster.run_out", run_out.pa()),
            ("pedal.booster.jump_in", jump_in.pa()),
        ]);
    }
    figures
}

/// How much higher the line pressure of the same push rod's force is behind the new bores.
fn bore_factor(read: &sheet::ReadSheet, old: &Car) -> f64 {
    let area = |master: &Master| master.boosted_area().m2();
    read.assemble()
        .map_or(1.0, |new| area(&old.master) / area(&new.car.master))
}

/// What the sheet has at a key, or what stands in for it.
fn on_sheet(read: &sheet::ReadSheet, key: &str) -> Option<Amount> {
    let key = KeyId::of(key)?;
    match read.inputs.get(Slot { key, entry: 0 }) {
        Some(Value::Amount(amount)) => Some(*amount),
        Some(Value::Guess) | None => quantity::parse(key.key().default?, Dimension::Pressure).ok(),
        _ => None,
    }
}

/// Rounded to what a gauge shows, so that it reads as a figure does.
fn scaled(amount: Amount, factor: f64) -> Amount {
    if amount.dimension != Dimension::Pressure {
        let to_four = |si: f64| (si * 1e4).round() / 1e4;
        return Amount::exact(amount.dimension, to_four(amount.si));
    }
    let times = |si: f64| Pressure::from_pa((si * factor / 1e3).round() * 1e3).pa();
    Amount {
        dimension: amount.dimension,
        si: times(amount.si),
        spread: match amount.spread {
            Spread::Exact => Spread::Exact,
            Spread::Normal { half_width_si } => Spread::Normal {
                half_width_si: times(half_width_si),
            },
            Spread::Uniform { low_si, high_si } => Spread::Uniform {
                low_si: times(low_si),
                high_si: times(high_si),
            },
        },
    }
}

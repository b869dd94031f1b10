use quantity::Amount;

use super::super::aboard::{Aboard, Fuel, static_loads_n};
use super::super::inputs::{Slot, Value};
use super::super::key::{Form, Need};
use super::super::key_id::KeyId;
use super::super::{Brake, Car, Remark};
use super::Bench;

/// Refuses for every key that has to be there and is not.
pub(super) fn needed(bench: &mut Bench<'_>) {
    let inputs = bench.read.inputs();
    for id in KeyId::all() {
        let key = id.key();
        let table = key.table();
        let entries = match (key.need, table.strip_suffix("[]")) {
            (Need::Always, _) => 1,
            (Need::InItsTable, Some(group)) => inputs.entries(group),
            (Need::InItsTable, None) => usize::from(inputs.has_table(table)),
            _ => 0,
        };
        // The first format took silence for front-wheel drive.
        let entries = if key.path == "drivetrain.driven" && bench.read.is_first_format() {
            0
        } else {
            entries
        };
        for entry in 0..entries {
            if inputs.get(Slot { key: id, entry }).is_none() {
                bench.read.entry = entry;
                let because = if key.need == Need::Always {
                    "every sheet needs it"
                } else {
                    "its table needs it"
                };
                bench.missing(key.path, because);
            }
        }
    }
    bench.read.entry = 0;
}

/// Refuses figures outside the hard range, warns of those outside the usual.
pub(super) fn ranges(bench: &mut Bench<'_>) {
    for (slot, value) in bench.read.inputs().slots() {
        range(bench, slot, value);
    }
}

/// The same at one slot.
pub(super) fn range(bench: &mut Bench<'_>, slot: Slot, value: &Value) {
    let key = slot.key.key();
    let amounts: Vec<Amount> = match value {
        Value::Amount(amount) | Value::ByLabel(amount) => vec![*amount],
        Value::Amounts(amounts) => amounts.clone(),
        Value::Rows(rows) => rows.iter().filter_map(|row| row.first().copied()).collect(),
        Value::Count(count) => match key.form {
            Form::Count => vec![Amount {
                dimension: quantity::Dimension::Ratio,
                si: f64::from(*count),
                spread: quantity::Spread::Exact,
            }],
            _ => Vec::new(),
        },
        _ => Vec::new(),
    };
    bench.read.entry = slot.entry;
    let outside = |range: Option<(f64, f64)>| {
        range.is_some_and(|(low, high)| amounts.iter().any(|amount| amount.si < low || amount.si > high))
    };
    if outside(slot.key.hard_si()) {
        let (low, high) = key.hard.unwrap_or_default();
        bench.refuse_named(
            key.path,
            "out-of-range",
            &format!("is outside what physics allows: {low} to {high}"),
            range_help(key.usual, &key.help_as_text()),
        );
    } else if outside(slot.key.usual_si()) {
        let (low, high) = key.usual.unwrap_or_default();
        let (low_si, high_si) = slot.key.usual_si().unwrap_or_default();
        let told = match amounts.first() {
            Some(amount) => Remark::from("unusual: ")
                .figure(amount.dimension, low_si, low)
                .words(" to ")
                .figure(amount.dimension, high_si, high),
            None => Remark::from(format!("unusual: {low} to {high}")),
        };
        bench.warn(key.path, told.words(" is usual here"));
    }
    bench.read.entry = 0;
}

fn range_help(usual: Option<(&str, &str)>, help: &str) -> String {
    usual.map_or_else(
        || help.to_owned(),
        |(low, high)| format!("{low} to {high} is usual. {help}"),
    )
}

/// Refuses a car of which an axle carries nothing as it stands, with whoever and whatever may be aboard.
pub(super) fn stands(bench: &mut Bench<'_>, car: Option<&Car>) {
    let Some(car) = car else { return };
    let states = [true, false]
        .into_iter()
        .flat_map(|crew| [Fuel::AsWeighed, Fuel::Dry, Fuel::Full].map(|fuel| Aboard { crew, fuel }));
    for aboard in states {
        let [front_n, rear_n] = static_loads_n(car, aboard);
        let (axle, load_n, ahead) = if rear_n <= 0.0 {
            ("rear", rear_n, true)
        } else if front_n <= 0.0 {
            ("front", front_n, false)
        } else {
            continue;
        };
        // What takes most load off it: the moment about the other axle that is furthest beyond.
        let wheelbase_m = car.geometry.wheelbase.m();
        let takes_kg = |mass_kg: f64, aft_m: f64| {
            let arm_m = if ahead { -aft_m } else { aft_m - wheelbase_m };
            mass_kg * arm_m / wheelbase_m
        };
        let crew = car.load.crew.iter().map(|crew| (crew, None));
        let items = car
            .load
            .items
            .iter()
            .enumerate()
            .map(|(entry, item)| (item, Some(entry)));
        let lifts = crew
            .chain(items)
            .filter(|_| aboard.crew)
            .map(|(item, entry)| (takes_kg(item.mass.kg(), item.aft.m()), item, entry))
            .filter(|&(kg, ..)| kg > 0.0)
            .max_by(|one, other| one.0.total_cmp(&other.0));
        let (path, who) = match lifts {
            Some((_, item, Some(entry))) => {
                bench.read.entry = entry;
                ("load.item[].aft_of_front_axle", format!("`{}`", item.name))
            }
            Some((_, _, None)) => ("load.crew.aft_of_front_axle", "the crew".to_owned()),
            None => ("load.tank.aft_of_front_axle", "the fuel in its tank".to_owned()),
        };
        bench.refuse(
            path,
            "axle-lifted",
            format!("{who} lifts the {axle} axle of the standing car: {load_n:.0} N would be left on it"),
            "look at its mass, and at where it lies: metres behind the front axle",
        );
        bench.read.entry = 0;
        return;
    }
}

/// Warns of what is possible but odd, and of keys that nothing reads.
pub(super) fn unusual(bench: &mut Bench<'_>, car: &Option<Car>) {
    if let Some(car) = car {
        for (path, brake) in [("front_brake", &car.front_brake), ("rear_brake", &car.rear_brake)] {
            piston_over_edge(bench, path, brake);
        }
    }
    let unread: Vec<Slot> = bench.read.unread();
    for slot in unread {
        bench.read.entry = slot.entry;
        bench.warn(slot.key.key().path, "has no effect in this arrangement");
    }
    bench.read.entry = 0;
    unused_readings(bench, car.as_ref());
}

/// Warns of readings that were taken in, units and all, and that nothing is computed with.
fn unused_readings(bench: &mut Bench<'_>, car: Option<&Car>) {
    let inputs = bench.read.inputs();
    for entry in 0..inputs.entries("measured.pedal") {
        bench.read.entry = entry;
        let rows = bench.read.rows("measured.pedal[].points").unwrap_or_default();
        if rows.iter().any(|row| row.len() > 2) {
            bench.warn(
                "measured.pedal[].points",
                "the pedal's travel, third in a row, is read and checked; nothing is computed with it yet",
            );
        }
    }
    if car.is_some_and(|car| car.bias_valve.is_none()) {
        for entry in 0..inputs.entries("measured.valve") {
            bench.read.entry = entry;
            bench.warn(
                "measured.valve[].rear",
                "is read and checked; nothing is computed with it, since there is no [bias_valve]",
            );
        }
    }
    bench.read.entry = 0;
}

fn piston_over_edge(bench: &mut Bench<'_>, path: &str, brake: &Brake) {
    let Brake::Disc(disc_brake) = brake else { return };
    let Some(edge) = disc_brake.disc.and_then(|disc| disc.outer_diameter) else {
        return;
    };
    let widest = disc_brake
        .caliper
        .pistons
        .iter()
        .fold(quantity::si::Length::ZERO, |widest, &bore| widest.max(bore));
    let reach = disc_brake.effective_radius + widest / 2.0;
    if reach > edge / 2.0 {
        let over = reach - edge / 2.0;
        bench.warn(
            &format!("{path}.effective_radius"),
            Remark::from("the piston reaches ")
                .figure(
                    quantity::Dimension::Length,
                    over.m(),
                    format!("{:.1} mm", over.m() * 1000.0),
                )
                .words(" beyond the disc's edge: measure where the pad's middle runs"),
        );
    }
}

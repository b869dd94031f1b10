//! The state of an opened car in words.

use engine::brake::Warmth;
use engine::loads::Grade;
use quantity::si::Mass;
use wording::Units;

use crate::opened::Opened;

/// The state in a few words.
#[must_use]
pub fn state_in_words(opened: &Opened, units: &Units) -> String {
    let state = &opened.state;
    let fuel = if opened.car().load.tank.is_some() {
        format!("{} of fuel", wording::fuel(state.laden.fuel, units))
    } else {
        "fuel as weighed".to_owned()
    };
    let mut said = vec![
        format!(
            "{}, grip\u{a0}{}",
            state.surface.name,
            wording::ratio(state.surface.peak)
        ),
        aboard_in_words(opened, units),
        fuel,
        warmth_in_words(opened).to_owned(),
    ];
    if state.slope_given {
        said.push(grade_in_words(state.laden.grade));
    }
    said.join("; ")
}

/// The slope, and which way the car faces on it.
#[must_use]
pub fn grade_in_words(grade: Grade) -> String {
    if grade.slope > 0.0 {
        format!(
            "facing {} a slope of {}",
            grade.facing.name(),
            wording::per_cent(grade.slope)
        )
    } else {
        "on the level".to_owned()
    }
}

/// Readings that stand in the place of the sheet's figures, each with what is computed with now.
pub fn measured_in_words<'o>(opened: &'o Opened, units: &'o Units) -> impl Iterator<Item = String> + 'o {
    let replaced = opened.assembled.replaced.iter();
    replaced.map(|replaced| {
        let said = wording::remark(&replaced.said, units);
        format!("read at the {}: {said}", read_at(&replaced.by))
    })
}

/// What is other than on the sheet for this once, each key behind what it is called: `Other than on the sheet: ratio of the
/// lever (`lever.ratio`) 8.5`. `None`: nothing is.
#[must_use]
pub fn other_in_words(opened: &Opened) -> Option<String> {
    let others = opened.overrides.iter().map(|(key, value)| {
        let value = value.trim_matches('"').replace(' ', "\u{a0}");
        match crate::measuring::in_words(key) {
            Some(called) => format!("{called} (`{key}`) {value}"),
            None => format!("`{key}` {value}"),
        }
    });
    let others: Vec<String> = others.collect();
    (!others.is_empty()).then(|| format!("Other than on the sheet: {}", others.join("; ")))
}

/// Where a reading of the sheet was taken: `measured.pedal[2]` is `pedal, entry 2`.
fn read_at(entry: &str) -> String {
    let named = entry.strip_prefix("measured.").unwrap_or(entry);
    let (table, number) = named.split_once('[').unwrap_or((named, "1"));
    let part = match table {
        "valve" => "bias valve",
        "pull" | "soak" => "handbrake",
        other => other,
    };
    match number.trim_end_matches(']') {
        "1" => part.to_owned(),
        number => format!("{part}, entry {number}"),
    }
}

/// Whether the brakes are warm.
#[must_use]
pub fn warmth_in_words(opened: &Opened) -> &'static str {
    match opened.state.conditions.warmth {
        Warmth::Cold => "brakes cold",
        Warmth::Warm => "brakes warm",
    }
}

/// Who and what is counted, and whether the sheet says so: `crew 160 kg, taken; nothing else aboard`.
#[must_use]
pub fn aboard_in_words(opened: &Opened, units: &Units) -> String {
    if !opened.state.conditions.aboard.crew {
        return "nobody aboard".to_owned();
    }
    let mass = |kg: f64| wording::mass(Mass::from_kg(kg), units);
    let load = &opened.car().load;
    let is_crew = |leaned: &&engine::car::DefaultUsed| leaned.slot.key.key().path == "load.crew.mass";
    let crew = load.crew.as_ref().map_or_else(
        || "no crew counted".to_owned(),
        |crew| {
            let how = match opened.assembled.defaults_used.iter().find(is_crew) {
                None => "",
                Some(leaned) if leaned.guess => ", a guess",
                Some(_) => ", taken",
            };
            format!("crew {}{how}", mass(crew.mass.kg()))
        },
    );
    let items = if load.items.is_empty() {
        "nothing else aboard".to_owned()
    } else {
        format!("{} of load aboard", mass(opened.load_aboard().kg()))
    };
    format!("{crew}; {items}")
}

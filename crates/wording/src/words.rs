//! Figures as they stand in sentences.

use engine::GRAVITY_M_S2;
use engine::car::{DefaultUsed, Form, Slot};
use engine::drivetrain::{Beyond, TurnsAt};
use engine::figures::Headlined;
use engine::ranges::Range;
use engine::thresholds::DragGrade;
use quantity::si::{Force, Mass, Volume};
use quantity::{Digits, Dimension, digits_for_range, find_unit, show};

use crate::fixed::{places, turns};
use crate::measured::Measured;
use crate::rounding::figure;
use crate::units::Units;

/// A ratio of two digits behind the point, such as a grip.
#[must_use]
pub fn ratio(value: f64) -> String {
    places(value, 2)
}

/// A share in whole per cent.
#[must_use]
pub fn per_cent(share: f64) -> String {
    format!("{}\u{a0}%", places(share * 100.0, 0))
}

/// A deceleration over g.
#[must_use]
pub fn rate(rate: f64) -> String {
    format!("{}\u{a0}g", ratio(rate))
}

/// A pull, with what a luggage scale says beside it.
#[must_use]
pub fn pull(force: Force, units: &Units) -> String {
    pull_in(force, None, units)
}

/// The same, rounded to what its range supports.
#[must_use]
pub fn pull_in(force: Force, range: Option<Range>, units: &Units) -> String {
    let shown = Measured::new(force.n(), range, units.force).value.text;
    match find_unit("kgf", Dimension::Force) {
        Ok(kilograms) if kilograms != units.force => {
            let digits = match range {
                Some(range) => digits_for_range(range.low, range.high, kilograms),
                None => Digits::Places(1),
            };
            // On the scale it is called a kilogram.
            let on_scale = show(force.n(), kilograms, digits).replace("kgf", "kg");
            format!("{shown} ({on_scale})")
        }
        _ => shown,
    }
}

/// What scales show under a load.
#[must_use]
pub fn scales(load: Force, units: &Units) -> String {
    mass(Mass::from_kg(load.n() / GRAVITY_M_S2), units)
}

/// A mass, as scales show it.
#[must_use]
pub fn mass(mass: Mass, units: &Units) -> String {
    show(mass.kg(), units.mass, Digits::Places(0))
}

/// Fuel, as it is filled in.
#[must_use]
pub fn fuel(volume: Volume, units: &Units) -> String {
    figure(volume.m3(), units.fuel)
}

/// `a, b and c`.
#[must_use]
pub fn list(members: &[String]) -> String {
    match members.split_last() {
        None => String::new(),
        Some((last, [])) => last.clone(),
        Some((last, others)) => format!("{} and {last}", others.join(", ")),
    }
}

/// What a key of the sheet is called away from its table.
#[must_use]
pub fn key_name(slot: Slot) -> String {
    key_called(&slot.path(), slot.key.key().label)
}

/// The same of a key by its path and its name beside it: with the axle of its brakes, or the valve that it is of.
#[must_use]
pub fn key_called(path: &str, label: &str) -> String {
    let is_bare = !label.contains(' ');
    match path.split_once('.') {
        Some(("front_brake", _)) if is_bare => format!("{label} of the front brakes"),
        Some(("rear_brake", _)) if is_bare => format!("{label} of the rear brakes"),
        Some(("front_brake", _)) => format!("{label}, front"),
        Some(("rear_brake", _)) => format!("{label}, rear"),
        Some(("bias_valve", _)) if !label.contains("valve") => format!("{label} of the bias valve"),
        _ => label.to_owned(),
    }
}

/// A default as it is shown: its units as a page shows them, nothing in it broken: `0.008 cm³/bar ± 0.004 cm³/bar`. What is
/// no quantity stands as the table of keys has it.
#[must_use]
pub fn taken(default: &DefaultUsed) -> String {
    let dimension = match default.slot.key.key().form {
        Form::Quantity(dimension) => dimension,
        Form::RollingRadius => Dimension::Length,
        _ => return default.value.replace(' ', "\u{a0}"),
    };
    let shown = |part: &str| {
        let unit = part.split_once(' ').and_then(|(number, unit)| {
            let unit = find_unit(unit, dimension).ok()?;
            Some(format!("{number}\u{a0}{}", unit.shown()))
        });
        unit.unwrap_or_else(|| part.replace(' ', "\u{a0}"))
    };
    let parts: Vec<String> = default.value.split(" ± ").map(shown).collect();
    parts.join("\u{a0}±\u{a0}")
}

/// The same as a line begins, with the key by which the sheet knows it behind.
#[must_use]
pub fn name_and_key(slot: Slot) -> String {
    format!("{} (`{}`)", capital(&key_name(slot)), slot.path())
}

/// A figure of the headline, as it is named in a sentence.
#[must_use]
pub const fn headlined(of: Headlined) -> &'static str {
    match of {
        Headlined::FrontFirstBy => "the front's lead",
        Headlined::InHand => "what is in hand",
        Headlined::HandForce => "the pull needed",
        Headlined::Travel => "the travel",
        Headlined::Pressure => "the pressure needed",
        Headlined::RearStops => "whether the rear stops",
    }
}

/// The same as it stands over its figure.
#[must_use]
pub const fn headline_label(of: Headlined) -> &'static str {
    match of {
        Headlined::FrontFirstBy => "front leads by",
        Headlined::InHand => "torque there is over torque needed",
        Headlined::HandForce => "pull needed",
        Headlined::Travel => "travel at the grip",
        Headlined::Pressure => "pressure needed",
        Headlined::RearStops => "the rear stops",
    }
}

/// The sentences of a text: one ends where a stop is followed by a capital letter, a figure or nothing.
#[must_use]
pub fn sentences(text: &str) -> Vec<String> {
    let words: Vec<&str> = text.split(' ').filter(|word| !word.is_empty()).collect();
    let mut all = Vec::new();
    let mut from = 0;
    for (at, word) in words.iter().enumerate() {
        let next = words.get(at + 1).and_then(|next| next.chars().next());
        let begins = next.is_none_or(|first| !first.is_lowercase());
        if word.trim_end_matches(['`', '"', ')']).ends_with(['.', '?', '!']) && begins {
            all.push(words[from..=at].join(" "));
            from = at + 1;
        }
    }
    if from < words.len() {
        all.push(words[from..].join(" "));
    }
    all
}

/// With a capital letter, as a sentence begins.
#[must_use]
pub fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters
        .next()
        .map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

/// With a small letter, as it stands inside a sentence.
#[must_use]
pub fn lower(text: &str) -> String {
    let mut letters = text.chars();
    letters
        .next()
        .map_or_else(String::new, |first| first.to_lowercase().chain(letters).collect())
}

/// `one` where there is one, otherwise `several`.
#[must_use]
pub const fn counted<'a>(count: usize, one: &'a str, several: &'a str) -> &'a str {
    if count == 1 { one } else { several }
}

/// A name as a shell takes it.
#[must_use]
pub fn quoted(name: &str) -> String {
    if name
        .chars()
        .all(|c| c.is_alphanumeric() || matches!(c, '-' | '_' | '.'))
    {
        name.to_owned()
    } else {
        format!("\"{name}\"")
    }
}

/// By how much the front leads, or the rear: `7 %`.
#[must_use]
pub fn front_first(margin: f64) -> String {
    if margin.is_finite() {
        per_cent(margin.abs())
    } else {
        "everything".to_owned()
    }
}

/// The margin with its sign: above zero the front leads.
#[must_use]
pub fn margin(margin: f64) -> String {
    if !margin.is_finite() {
        return "–".to_owned();
    }
    let sign = if margin > 0.0 { "+" } else { "" };
    format!("{sign}{}", per_cent(margin))
}

/// A share of the draws.
#[must_use]
pub fn chance(share: f64) -> String {
    match share {
        none if none <= 0.0 => "none".to_owned(),
        all if all >= 1.0 => "all".to_owned(),
        few if few < 0.01 => "fewer than 1\u{a0}%".to_owned(),
        most if most > 0.99 && most < 1.0 => "more than 99\u{a0}%".to_owned(),
        share => per_cent(share),
    }
}

/// A count with its thousands apart: `648 000`.
#[must_use]
pub fn grouped(count: usize) -> String {
    let digits = count.to_string();
    let mut said = String::new();
    for (at, digit) in digits.chars().enumerate() {
        if at > 0 && (digits.len() - at).is_multiple_of(3) {
            said.push('\u{202f}');
        }
        said.push(digit);
    }
    said
}

/// `1.4 times`.
#[must_use]
pub fn times(ratio: f64) -> String {
    format!("{} times", places(ratio, 1))
}

/// A count of turns or a position, with its range behind it.
#[must_use]
pub fn ranged(value: f64, range: Option<Range>) -> String {
    match range {
        Some(range) => format!("{} ({} to {})", turns(value), turns(range.low), turns(range.high)),
        None => turns(value),
    }
}

/// What a centre's drag means for a turn.
#[must_use]
pub fn graded(drag: f64) -> &'static str {
    match DragGrade::of(Some(drag)) {
        DragGrade::Turns => "the car can turn",
        DragGrade::Partly => "the car turns partly",
        DragGrade::Spoilt => "the turn is spoilt",
        DragGrade::AllFour => "all four stop",
    }
}

/// How a coupling was read.
#[must_use]
pub fn read_as(reading: &engine::drivetrain::CouplingReading) -> String {
    let place = match reading.turns_at {
        TurnsAt::Given => format!("{} turns a wheel turn, as on the sheet", ratio(reading.turns)),
        TurnsAt::Propshaft => format!(
            "on the propshaft, {} turns a wheel turn: the sheet does not say",
            ratio(reading.turns)
        ),
        TurnsAt::FrontOutput => format!(
            "between the centre differential's case and its front output, {} turns a wheel turn: the sheet does not say",
            ratio(reading.turns)
        ),
        TurnsAt::RearOutput => format!(
            "between the centre differential's case and its rear output, {} turns a wheel turn: the sheet does not say",
            ratio(reading.turns)
        ),
        TurnsAt::Wheels => "behind the final drive: the sheet does not say".to_owned(),
    };
    let place = match reading.supposed {
        Some(supposed) if reading.turns_at == TurnsAt::Given => {
            return format!("as if {supposed}: nobody knows");
        }
        Some(supposed) => format!("as if {supposed}: nobody knows; {place}"),
        None => place,
    };
    match (reading.off_the_curve, reading.beyond) {
        (false, _) => place,
        (true, Beyond::HeldFlat) => format!("{place}; beyond its curve's end, held flat"),
        (true, Beyond::GoesOn) => format!("{place}; beyond its curve's end, going on as it did"),
    }
}

/// The same as a condition.
#[must_use]
pub fn if_read(reading: &engine::drivetrain::CouplingReading) -> String {
    let place = match reading.turns_at {
        TurnsAt::Given => "",
        TurnsAt::Propshaft => "the coupling turns on the propshaft",
        TurnsAt::FrontOutput => {
            "the coupling sits between the centre differential's case and its front output"
        }
        TurnsAt::RearOutput => "the coupling sits between the centre differential's case and its rear output",
        TurnsAt::Wheels => "the coupling turns as fast as the wheels",
    };
    let way = match (reading.off_the_curve, reading.beyond) {
        (true, Beyond::GoesOn) => "the curve goes on rising",
        (true, Beyond::HeldFlat) => "the curve stays flat",
        (false, _) => "",
    };
    let supposed;
    let place = match (reading.supposed, place) {
        (None, place) => place,
        (Some(known), "") => {
            supposed = format!("the coupling is {known}");
            &supposed
        }
        (Some(known), place) => {
            supposed = format!(
                "the coupling is {known}, and {}",
                place.trim_start_matches("the coupling ")
            );
            &supposed
        }
    };
    match (place, way) {
        ("", way) => way.to_owned(),
        (place, "") => place.to_owned(),
        (place, way) => format!("{place} and {way}"),
    }
}

/// `one reading`, `3 readings`.
#[must_use]
pub fn readings(count: usize) -> String {
    match count {
        1 => "one reading".to_owned(),
        several => format!("{several} readings"),
    }
}

#[cfg(test)]
mod tests {
    use engine::drivetrain::CouplingReading;

    use super::*;

    #[test]
    fn a_default_has_the_units_that_are_shown() {
        let default = |path: &str, value: &'static str| {
            let key = engine::car::KeyId::of(path).unwrap();
            let slot = Slot { key, entry: 0 };
            let source = "";
            taken(&DefaultUsed {
                slot,
                value,
                source,
                guess: true,
            })
        };
        let flex = default("rear_brake.volume.flex", "0.008 cm3/bar ± 0.004 cm3/bar");
        assert_eq!(flex, "0.008\u{a0}cm³/bar\u{a0}±\u{a0}0.004\u{a0}cm³/bar");
        assert_eq!(
            default("drivetrain.input_inertia", "0.08 kg m2"),
            "0.08\u{a0}kg·m²"
        );
        assert_eq!(default("pedal.ratio", "4.5 ± 1.2"), "4.5\u{a0}±\u{a0}1.2");
        assert_eq!(default("fluid.grade", "DOT 4"), "DOT\u{a0}4");
    }

    #[test]
    fn a_reading_of_a_coupling_as_a_condition() {
        let reading = |supposed, turns_at, beyond, off_the_curve| CouplingReading {
            supposed,
            turns_at,
            turns: 4.0,
            beyond,
            off_the_curve,
        };
        let read = |turns_at, beyond, off_the_curve| if_read(&reading(None, turns_at, beyond, off_the_curve));
        assert_eq!(read(TurnsAt::Given, Beyond::HeldFlat, false), "");
        assert_eq!(
            read(TurnsAt::Propshaft, Beyond::HeldFlat, false),
            "the coupling turns on the propshaft"
        );
        assert_eq!(
            read(TurnsAt::FrontOutput, Beyond::GoesOn, false),
            "the coupling sits between the centre differential's case and its front output"
        );
        assert_eq!(
            read(TurnsAt::RearOutput, Beyond::HeldFlat, false),
            "the coupling sits between the centre differential's case and its rear output"
        );
        assert_eq!(
            read(TurnsAt::Wheels, Beyond::HeldFlat, false),
            "the coupling turns as fast as the wheels"
        );
        // How its curve goes on is said only where the answer lies beyond it.
        assert_eq!(
            read(TurnsAt::Given, Beyond::GoesOn, true),
            "the curve goes on rising"
        );
        assert_eq!(
            read(TurnsAt::Given, Beyond::HeldFlat, true),
            "the curve stays flat"
        );
        assert_eq!(
            read(TurnsAt::Wheels, Beyond::GoesOn, true),
            "the coupling turns as fast as the wheels and the curve goes on rising"
        );
        let supposed = |turns_at, off| if_read(&reading(Some("locked"), turns_at, Beyond::HeldFlat, off));
        assert_eq!(supposed(TurnsAt::Given, false), "the coupling is locked");
        assert_eq!(
            supposed(TurnsAt::Propshaft, false),
            "the coupling is locked, and turns on the propshaft"
        );
        assert_eq!(
            supposed(TurnsAt::Given, true),
            "the coupling is locked and the curve stays flat"
        );
    }
}

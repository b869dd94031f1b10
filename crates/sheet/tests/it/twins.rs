//! A value may reach a car in three ways: typed as an override, written into the sheet by an edit, or standing in a sheet
//! that somebody wrote anew, in another order and without a comment. All three give the same car, with the same warnings
//! and defaults; or none does. Shared with the fuzz target.

use engine::car::Assembled;
use toml::de::{DeTable, DeValue};

/// A text in quotes, as TOML writes it.
fn in_quotes(text: &str) -> String {
    let letter = |letter: char| match letter {
        '"' | '\\' => format!("\\{letter}"),
        _ if letter.is_control() => format!("\\u{:04X}", u32::from(letter)),
        _ => letter.to_string(),
    };
    format!("\"{}\"", text.chars().map(letter).collect::<String>())
}

fn value(from: &DeValue<'_>) -> String {
    match from {
        DeValue::String(text) => in_quotes(text),
        DeValue::Integer(number) => number.to_string(),
        DeValue::Float(number) => number.to_string(),
        DeValue::Boolean(flag) => flag.to_string(),
        DeValue::Datetime(date) => date.to_string(),
        DeValue::Array(list) => {
            let members: Vec<String> = list.iter().map(|member| value(member.get_ref())).collect();
            format!("[{}]", members.join(", "))
        }
        DeValue::Table(table) => format!("{{ {} }}", keys(table).join(", ")),
    }
}

/// Keys and values, the last first.
fn keys(table: &DeTable<'_>) -> Vec<String> {
    let all: Vec<_> = table.iter().collect();
    let last_first = all.into_iter().rev();
    last_first
        .map(|(key, found)| format!("{} = {}", in_quotes(key.get_ref()), value(found.get_ref())))
        .collect()
}

/// The same sheet as somebody else would write it: a line a table, the last first, no comment.
pub(crate) fn written_anew(text: &str) -> Option<String> {
    let tree = DeTable::parse(text).ok()?;
    Some(keys(tree.get_ref()).join("\n") + "\n")
}

/// All that a sheet amounts to, as text.
fn amounts_to(assembled: &Assembled) -> String {
    let warnings: Vec<String> = assembled
        .warnings
        .iter()
        .map(|warning| format!("{}: {}", warning.path, warning.text))
        .collect();
    format!(
        "{:#?}\n{warnings:#?}\n{:#?}",
        assembled.car, assembled.defaults_used
    )
}

/// Takes a value in each of the ways. `true` where it gives a car.
pub(crate) fn alike(sheet: &str, path: &str, typed: &str) -> bool {
    let mut read = sheet::read(sheet.as_bytes(), "car.toml");
    let overridden = read
        .with(&format!("{path}={typed}"))
        .is_ok()
        .then(|| read.assemble());
    if path == "format" {
        assert!(overridden.is_none(), "no override tells how a sheet is read");
        return false;
    }
    let edited = sheet::splice(sheet, path, typed);
    assert_eq!(
        overridden.is_some(),
        edited.is_ok(),
        "{path} = {typed}: {edited:?}"
    );
    let (Some(overridden), Ok(edited)) = (overridden, edited) else {
        return false;
    };
    let anew = written_anew(&edited).expect("an edited sheet is TOML");
    let of = |text: &str| sheet::read(text.as_bytes(), "car.toml").assemble();
    match (overridden, of(&edited), of(&anew)) {
        (Ok(overridden), Ok(edited), Ok(anew)) => {
            assert_eq!(amounts_to(&overridden), amounts_to(&edited), "{path} = {typed}");
            assert_eq!(
                amounts_to(&anew),
                amounts_to(&edited),
                "{path} = {typed}:\n{anew:?}"
            );
            true
        }
        (Err(overridden), Err(edited), Err(anew)) => {
            assert_eq!(
                overridden.count(),
                edited.count(),
                "{path} = {typed}: {overridden}\n{edited}"
            );
            assert_eq!(anew.count(), edited.count(), "{path} = {typed}: {anew}\n{edited}");
            false
        }
        _ => panic!("{path} = {typed} gives a car in one way and none in another"),
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::{alike, written_anew};
    use crate::FULL;

    /// What a person may type, right for some keys and wrong for the others.
    const TYPED: &[&str] = &[
        "5/8 in",
        "guess",
        "none",
        "12 bar ± 10 %",
        "0.4",
        "true",
        "inline",
        "4.5",
        "340 mm",
        "2026-03-14",
        "11 kg",
        "70 °C",
        "[\"20 C\", 0.3]",
        "axle",
        "between 2 mm and 3 mm",
        "a \"quoted\" name",
        "-1 m",
        "front",
        "8 mm ± 1 mm",
        "1200 N/mm",
    ];

    proptest! {
        #![proptest_config(crate::cases())]

        #[test]
        fn a_value_gives_the_same_car_in_every_way(
            key in proptest::sample::select(crate::overrides_pool()),
            typed in prop_oneof![proptest::sample::select(TYPED).prop_map(str::to_owned), "\\PC{1,12}"],
        ) {
            alike(FULL, &key, &typed);
        }
    }

    /// Each key of the full sheet, typed as it stands: the way leads to a car, for one at least in every table.
    #[test]
    fn what_stands_there_may_be_typed_again() {
        let read = sheet::read(FULL.as_bytes(), "car.toml");
        let mut cars = 0;
        for (slot, _) in read.inputs.slots() {
            let place = read.places.value(slot).unwrap();
            let typed = FULL[place.value.clone()].trim_matches('"');
            cars += usize::from(alike(FULL, &slot.path(), typed));
        }
        assert!(cars > 100, "{cars}");
    }

    /// One end of the car is written for itself; the other keeps what stood for both, and one value may stand for both again.
    #[test]
    fn the_other_end_keeps_what_stood_for_both() {
        let of = |text: &str, path: &str| {
            let slot = sheet::slot_of(path).unwrap();
            sheet::read(text.as_bytes(), "car.toml").inputs.get(slot).cloned()
        };
        let both = of(FULL, "tyres.rolling_radius");
        for (end, other) in [("front", "rear"), ("rear", "front")] {
            let path = format!("tyres.rolling_radius.{end}");
            assert!(alike(FULL, &path, "340 mm"));
            let parted = sheet::splice(FULL, &path, "340 mm").unwrap();
            assert_eq!(of(&parted, &format!("tyres.rolling_radius.{other}")), both);
            assert_ne!(of(&parted, &path), both);
            assert_eq!(of(&parted, "tyres.rolling_radius"), None);
            assert!(alike(&parted, "tyres.rolling_radius", "0.3 m"));
        }
        assert!(both.is_some());
        // What is wrong with one end is said of that end, and of nothing else.
        let mut read = sheet::read(FULL.as_bytes(), "car.toml");
        read.with("tyres.rolling_radius.rear=-1 m").unwrap();
        assert_eq!(read.assemble().unwrap_err().count(), 1);
    }

    /// A word stands where the table above the table goes: a key in it takes the word's place.
    #[test]
    fn a_word_gives_way_to_what_stands_further_in() {
        const SHEET: &str = "format = 2\nbias_valve = \"none\" # the bar does it\n[car]\nname = \"Scree\"\n";
        let edited = sheet::splice(SHEET, "bias_valve.knee.positions", "7").unwrap();
        assert_eq!(edited, SHEET.replace("\"none\"", "{ knee = { positions = 7 } }"));
        assert!(!alike(SHEET, "bias_valve.knee.positions", "7"));
    }

    /// A table under a header of its own gives way to the word or the one value that stands for all of it.
    #[test]
    fn a_table_gives_way_to_a_word() {
        const SHEET: &str = "format = 2\n[car]\nname = \"Scree\"\n# its valve\n[bias_valve] # old\nkind = \"fixed\"\nknee = \"30 bar\"\n";
        let edited = sheet::splice(SHEET, "bias_valve", "none").unwrap();
        assert_eq!(
            edited,
            "format = 2\nbias_valve = \"none\"\n[car]\nname = \"Scree\"\n# its valve\n"
        );
        assert!(alike(FULL, "bias_valve", "none"));
    }

    /// A number of turns that TOML does not read as a number.
    #[test]
    fn turns_are_counted_as_they_are_typed() {
        for typed in [
            "2",
            "2.",
            "2,5",
            ".5",
            "\"2\"",
            "2 turns",
            "\"2 turns\"",
            "'2.5'",
            "two",
        ] {
            alike(FULL, "bias_valve.knee.turns", typed);
        }
        let written = |typed| sheet::splice("", "bias_valve.knee.turns", typed).unwrap();
        assert!(written("2,5").contains("turns = \"2,5 turns\""));
        assert!(written("2").contains("turns = 2"));
    }

    /// What a sheet of an older format means is not changed by trying another number.
    #[test]
    fn how_a_sheet_is_read_is_no_figure() {
        let mut read = sheet::read(FULL.as_bytes(), "car.toml");
        for number in ["1", "2", "3"] {
            let refused = read.with(&format!("format={number}")).unwrap_err();
            assert_eq!((refused.slug(), &refused.span), ("tells-how", &(0..6)));
        }
        assert!(read.assemble().is_ok());
    }

    #[test]
    fn a_sheet_that_is_written_anew_has_nothing_of_the_old_order() {
        let anew = written_anew(FULL).unwrap();
        assert!(!anew.contains('#') && !anew.contains("\n["), "{anew}");
        let lines: Vec<&str> = anew.lines().collect();
        assert!(
            lines.len() > 10 && lines.is_sorted_by(|one, other| one > other),
            "{anew}"
        );
    }
}

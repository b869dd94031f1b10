//! What is typed at a figure becomes a value of the sheet.

use engine::car::KeyId;
use questions::on_the_car::{Typed, sures, unit_keys};

fn value(path: &str, figure: &str, unit: &str, sure: &str) -> String {
    let key = KeyId::of(path).unwrap().key();
    Typed { figure, unit, sure }.value(key)
}

#[test]
fn a_bare_number_takes_the_unit_that_was_pressed() {
    assert_eq!(value("lever.bore", "5/8", "in", ""), "5/8 in");
    assert_eq!(value("lever.bore", "15,9", "mm", "calipers"), "15,9 mm ± 0.1 mm");
    assert_eq!(value("lever.bore", "5/8 in", "mm", ""), "5/8 in");
    assert_eq!(
        value("lever.bore", "15.9 ± 0.2", "mm", "ruler"),
        "15.9 mm ± 0.2 mm"
    );
    assert_eq!(value("pedal.ratio", "4.3", "", "twice"), "4.3 ± 2 %");
    assert_eq!(value("lever.bore", "guess", "mm", "ruler"), "guess");
    assert_eq!(
        value("geometry.wheelbase", "between 2.5 m and 2.6 m", "m", "tape"),
        "between 2.5 m and 2.6 m"
    );
}

#[test]
fn pistons_are_a_list_and_a_label_is_a_radius() {
    assert_eq!(
        value("front_brake.caliper.pistons", "41.3; 36.5", "mm", ""),
        "[\"41.3 mm\", \"36.5 mm\"]"
    );
    for typed in ["205/55 16", "205/55R16", "205/55 R16", "205 55 16"] {
        assert_eq!(
            value("tyres.rolling_radius", typed, "label", "tape"),
            "205/55 R16"
        );
    }
    assert_eq!(
        value("tyres.rolling_radius", "0.31", "m", "tape"),
        "0.31 m ± 5 mm"
    );
    assert_eq!(value("bias_valve.setting", "2.5", "", ""), "2.5 turns");
    assert_eq!(value("bias_valve.setting", "3", "", ""), "3");
}

#[test]
fn every_unit_key_and_every_tolerance_reads() {
    let mut read = 0;
    for id in KeyId::all() {
        let key = id.key();
        let Some(dimension) = key.dimension() else {
            continue;
        };
        for unit in unit_keys(key).iter().filter(|unit| **unit != "label") {
            assert!(
                quantity::find_unit(unit, dimension).is_ok() || *unit == "kg",
                "{} {unit}",
                key.path
            );
            for sure in sures(key) {
                let typed = Typed {
                    figure: "10",
                    unit,
                    sure: sure.word,
                };
                // A member of a list stands quoted in it.
                let text = typed.value(key);
                let text = text.trim_matches(['[', ']', '"']);
                assert!(
                    quantity::parse(text, dimension).is_ok() && text.ends_with(sure.tolerance),
                    "{}: {text}",
                    key.path
                );
                read += 1;
            }
        }
    }
    assert!(read > 200, "{read}");
}

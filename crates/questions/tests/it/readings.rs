//! Readings taken at the car come onto the sheet as a person would write them.

use engine::car::{Car, Date};
use questions::onto_sheet::{changed, written};
use questions::readings::ReadingForm;
use wording::Units;

use crate::onto_sheet::sedge;

const TODAY: Date = Date::constant(2026, 5, 1);

fn car(text: &str) -> Car {
    sheet::read(text.as_bytes(), "car.toml").assemble().unwrap().car
}

/// Every key with its value and how far it may be off.
fn says(text: &str) -> Vec<String> {
    let read = sheet::read(text.as_bytes(), "");
    let slots = read.inputs.slots();
    slots
        .map(|(slot, value)| format!("{} {value:?}", slot.path()))
        .collect()
}

fn typed(text: &str, reading: ReadingForm, on: Date, units: &str, said: &[(&str, &str)]) -> String {
    let units = if units.is_empty() {
        Units::default()
    } else {
        Units::of(units).unwrap()
    };
    let value = |name: &str| {
        said.iter()
            .find(|(of, _)| *of == name)
            .map_or_else(String::new, |(_, value)| (*value).to_owned())
    };
    let changes = reading.changes(&car(text), text, on, &units, &value).unwrap();
    changed("car.toml", text, &changes).unwrap()
}

#[test]
fn points_of_one_day_are_one_pull_and_another_day_begins_another() {
    let bare = sedge();
    let before = ReadingForm::Pull.entered(&bare).len();
    let mut text = bare.clone();
    for (travel, pressure, force) in [("0", "0", ""), ("40", "3", "20"), ("62,5", "18 bar", "61")] {
        let said = [("travel", travel), ("pressure", pressure), ("force", force)];
        text = typed(&text, ReadingForm::Pull, TODAY, "", &said);
    }
    let entry = format!("measured.pull[{}]", before + 1);
    assert_eq!(
        written(&text, &format!("{entry}.points")).as_deref(),
        Some(r#"[["0 mm", "0 bar"], ["40 mm", "3 bar", "20 N"], ["62,5 mm", "18 bar", "61 N"]]"#)
    );
    assert_eq!(
        written(&text, &format!("{entry}.on")).as_deref(),
        Some("2026-05-01")
    );
    let read = car(&text);
    let pull = read.measured.pull.last().unwrap();
    assert!((pull.points[2].travel.m() - 0.0625).abs() < 1e-12);
    let next = typed(
        &text,
        ReadingForm::Pull,
        Date::constant(2026, 5, 2),
        "",
        &[("travel", "10"), ("pressure", "1")],
    );
    assert_eq!(ReadingForm::Pull.entered(&next).len(), before + 2);
    // Taken off again, nothing of it is left.
    let mut back = next;
    for _ in 0..2 {
        let last = ReadingForm::Pull.entered(&back).pop().unwrap();
        back = changed("car.toml", &back, &last.off).unwrap();
    }
    assert_eq!(ReadingForm::Pull.entered(&back).len(), before);
    assert_eq!(says(&back), says(&bare));
}

#[test]
fn a_bare_number_is_in_the_persons_unit_and_another_unit_is_taken_as_it_is() {
    let said = [
        ("wheel", "rear left"),
        ("pressure", "218"),
        ("torque", "99 lbf ft"),
        ("brake", "warm"),
    ];
    let text = typed(&sedge(), ReadingForm::Wheel, TODAY, "psi,in,lbf", &said);
    let wheel = car(&text).measured.wheel.pop().unwrap();
    assert!((wheel.pressure.pa() / 6894.757 - 218.0).abs() < 1e-3);
    assert!((wheel.torque.nm() / 1.355_818 - 99.0).abs() < 1e-3);
    assert_eq!(wheel.cold, Some(false));
}

#[test]
fn engine_off_is_an_entry_of_its_own() {
    let press = |engine: &str, foot: &str, text: &str| {
        let said = [
            ("engine", engine),
            ("press", "first"),
            ("foot", foot),
            ("pressure", "19"),
        ];
        typed(text, ReadingForm::Pedal, TODAY, "", &said)
    };
    let bare = sedge();
    let before = ReadingForm::Pedal.entered(&bare).len();
    let text = press("off", "200", &press("on", "200", &press("on", "100", &bare)));
    assert_eq!(ReadingForm::Pedal.entered(&text).len(), before + 2);
    let entries = car(&text).measured.pedal;
    assert_eq!(entries[before].points.len(), 2);
    assert_eq!(entries[before + 1].points.len(), 1);
}

#[test]
fn what_is_missing_is_named_and_what_is_no_reading_is_refused() {
    let text = sedge();
    let units = Units::default();
    let none = |_: &str| String::new();
    let wrong = ReadingForm::Pull
        .changes(&car(&text), &text, TODAY, &units, &none)
        .unwrap_err();
    assert_eq!(wrong.troubles.len(), 2, "the pull is optional: {wrong:?}");
    for hostile in ["\"]]\nformat = 9 #", "\\", "1e999", "40 bar", "\u{202e}40"] {
        let said = |name: &str| match name {
            "travel" => hostile.to_owned(),
            _ => "3".to_owned(),
        };
        let changes = ReadingForm::Pull
            .changes(&car(&text), &text, TODAY, &units, &said)
            .unwrap();
        assert!(changed("car.toml", &text, &changes).is_err(), "{hostile:?}");
    }
}

/// Everything that a log offers can be taken over as it stands, one by one and all together, and counts then.
#[test]
fn every_offer_of_a_log_can_be_taken_over() {
    use questions::options::{DEMONSTRATION, Said};
    use questions::report::Block;
    use questions::{Case, Question as _};

    let mut taken = 0;
    for name in ["tarn", "sedge", "scree"] {
        let folder = tempfile::tempdir().unwrap();
        let there = folder.path().join(name);
        std::fs::create_dir(&there).unwrap();
        let demo = format!("{}/../../demo/{name}/car.toml", env!("CARGO_MANIFEST_DIR"));
        std::fs::copy(demo, there.join("car.toml")).unwrap();
        let offers = |said: &Said| {
            let logger = questions::logger::Ask;
            let opened = questions::open(folder.path(), name, &logger, said, TODAY).unwrap();
            let case = Case {
                opened: &opened,
                said,
                sampling: said.sampling(0).unwrap(),
                units: Units::default(),
                brief: false,
            };
            let report = logger.answer(&case).unwrap().report();
            let blocks = report.sections.into_iter().flat_map(|section| section.blocks);
            blocks
                .filter_map(|block| match block {
                    Block::Offers(offers) => Some(offers),
                    _ => None,
                })
                .flatten()
                .collect::<Vec<_>>()
        };
        let mut said = Said::default();
        said.say(&DEMONSTRATION, "");
        let before = offers(&said);
        for offer in &before {
            let text = std::fs::read_to_string(there.join("car.toml")).unwrap();
            let after = changed("car.toml", &text, &offer.changes).unwrap();
            assert_ne!(after, text, "{name}: {offer:?}");
            // People read words; the file's own writing is what the key puts onto the sheet.
            let said = [&offer.name, &offer.value, &offer.now, &offer.because];
            assert!(
                said.iter().all(|said| !said.contains(['{', '"', '_', '`'])),
                "{offer:?}"
            );
            car(&after);
            assert_ne!(says(&after), says(&text), "{name}: {} counts", offer.key);
            std::fs::write(there.join("car.toml"), after).unwrap();
            taken += 1;
        }
        // What was taken over is not offered once more, but said to stand there.
        for offer in offers(&said).iter().filter(|offer| !offer.key.ends_with("[]")) {
            let same = before
                .iter()
                .any(|old| old.key == offer.key && old.value == offer.value);
            assert!(!same || offer.changes.is_empty(), "{name}: {offer:?}");
        }
    }
    assert!(taken >= 4, "{taken}");
}

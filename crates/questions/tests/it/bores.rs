//! Bores as they are sold, one by one: the car's own is the answer itself, and the others follow the area of a circle.

use core::f64::consts::PI;
use std::path::PathBuf;

use engine::car::Date;
use questions::options::{BORES, HAND, RATIOS, Row, Said, VALVE, WITH};
use questions::report::{Block, Report, Table};
use questions::{Case, Opened, Question, Stop};
use serde_json::Value;

const TODAY: Date = Date::constant(2026, 5, 1);

/// The folder of the demonstration cars.
pub(crate) fn demo() -> PathBuf {
    PathBuf::from(concat!(env!("CARGO_MANIFEST_DIR"), "/../../demo"))
}

/// A question, what was said, and the car that it is asked of.
pub(crate) struct Asked {
    pub(crate) question: &'static dyn Question,
    pub(crate) said: Said,
    pub(crate) opened: Opened,
}

impl Asked {
    pub(crate) fn of(question: &str, car: &str, options: &[(&'static Row, &str)]) -> Result<Self, Stop> {
        let question = questions::named(question).unwrap();
        let mut said = Said::default();
        for (row, text) in options {
            said.say(row, *text);
        }
        let opened = questions::open(&demo(), car, question, &said, TODAY)?;
        Ok(Self {
            question,
            said,
            opened,
        })
    }

    pub(crate) fn case(&self) -> Case<'_> {
        Case {
            opened: &self.opened,
            said: &self.said,
            sampling: questions::sampling(Some(0), None).unwrap(),
            units: questions::units(None).unwrap(),
            brief: false,
        }
    }

    pub(crate) fn result(&self) -> Value {
        self.question.answer(&self.case()).unwrap().result().unwrap()
    }

    pub(crate) fn report(&self) -> Report {
        self.question.answer(&self.case()).unwrap().report()
    }
}

fn rows(result: &Value) -> &Vec<Value> {
    result["bores"].as_array().unwrap()
}

fn number(row: &Value, key: &str) -> f64 {
    row[key].as_f64().unwrap_or_else(|| panic!("{key} in {row}"))
}

fn own(result: &Value) -> &Value {
    rows(result).iter().find(|row| row["own"] == true).unwrap()
}

#[test]
fn the_cars_own_bore_is_the_answer_digit_by_digit() {
    for car in ["tarn", "tarn-let-go", "bin", "scree", "sedge", "half-known"] {
        let result = Asked::of("lever", car, &[(&BORES, "1")]).unwrap().result();
        let (own, answer) = (own(&result), &result["to_lock"]);
        for key in ["hand_force_n", "travel_m", "pressure_pa", "in_hand"] {
            assert_eq!(own[key], answer[key], "{key} of {car}");
        }
        assert_eq!(own["in_hand_cold"], result["cold"]["in_hand"], "{car}");
        let result = Asked::of("balance", car, &[(&BORES, "1")]).unwrap().result();
        let grip = result["state"]["grip"].as_f64().unwrap();
        let here = Asked::of("balance", car, &[(&questions::options::GRIPS, &grip.to_string())])
            .unwrap()
            .result();
        assert_eq!(
            rows(&result).iter().find(|row| row["own"] == true).unwrap()["foot_force_n"],
            here["lock"][0]["foot_force_n"],
            "{car}"
        );
    }
}

/// What the pull makes is what the question of pressures says of it.
#[test]
fn the_pressure_at_the_pull_is_the_other_questions_own() {
    let bores = Asked::of("lever", "tarn", &[(&BORES, "1"), (&HAND, "210 N")])
        .unwrap()
        .result();
    let pressures = Asked::of("pressures", "tarn", &[(&HAND, "210 N")])
        .unwrap()
        .result();
    assert_eq!(own(&bores)["pulled_pa"], pressures["lever"]["own_pa"]);
}

/// A bore that is tried is the car with that bore on its sheet.
#[test]
fn a_bore_tried_is_the_car_with_it() {
    let all = Asked::of("lever", "sedge", &[(&BORES, "1")]).unwrap().result();
    let with = [(&WITH, "lever.bore=5/8 in"), (&WITH, "lever.ratio=7")];
    let one = Asked::of("lever", "sedge", &with).unwrap().result();
    let tried = rows(&all)
        .iter()
        .find(|row| row["bore"] == "5/8 in" && row["ratio"] == 7.0)
        .unwrap();
    for key in ["hand_force_n", "travel_m", "in_hand"] {
        assert_eq!(tried[key], one["to_lock"][key], "{key}");
    }
}

/// Outside check, closed form (statics of a piston, any textbook of hydraulics): at one pressure the force goes with the
/// area of the bore, and what is left of the travel behind free play and free stroke goes with its inverse.
#[test]
fn force_goes_with_the_area_and_travel_with_its_inverse() {
    let result = Asked::of("lever", "tarn", &[(&BORES, "1"), (&RATIOS, "7, 9.5")])
        .unwrap()
        .result();
    let (free_play, free_stroke) = (0.003, 0.0012);
    let own = own(&result);
    let moved = |row: &Value| (number(row, "travel_m") - free_play) / number(row, "ratio") - free_stroke;
    let mut seen = 0;
    for row in rows(&result) {
        let area = (number(row, "bore_m") / number(own, "bore_m")).powi(2);
        let ratio = number(row, "ratio") / number(own, "ratio");
        let force = number(row, "hand_force_n") / number(own, "hand_force_n");
        assert!((force / (area / ratio) - 1.0).abs() < 1e-8, "{row}");
        assert!((moved(row) / moved(own) * area - 1.0).abs() < 1e-8, "{row}");
        seen += 1;
    }
    assert_eq!(seen, 32);
}

/// The same of the master cylinder. Without a booster and preload `F = p A / (ratio η)`; a booster pushes with the same
/// force whatever stands behind it, so that its two lines move only by the area.
#[test]
fn the_foot_goes_with_the_area_of_the_master() {
    let bare = [
        (&BORES, "1"),
        (&WITH, "pedal.booster=none"),
        (&WITH, "pedal.preload=0 N"),
    ];
    let result = Asked::of("balance", "tarn", &bare).unwrap().result();
    let here = own(&result).clone();
    for row in rows(&result) {
        if row["does_it"] != true || row["foot_force_n"].is_null() {
            continue;
        }
        let area = (number(row, "bore_m") / number(&here, "bore_m")).powi(2);
        let foot = number(row, "foot_force_n") / number(&here, "foot_force_n");
        assert!((foot / area - 1.0).abs() < 1e-8, "{row}");
        assert!(
            (number(row, "travel_m") * area / number(&here, "travel_m") - 1.0).abs() < 1e-8,
            "{row}"
        );
    }
    // Behind a booster: rod = gain · F · ratio · η + jump, below its run-out; the rod that a pressure takes is p A.
    let asked = Asked::of("balance", "bin", &[(&BORES, "1")]).unwrap();
    let pedal = asked.opened.car().pedal;
    let booster = pedal.booster.unwrap();
    let result = asked.result();
    let here = own(&result);
    let area_m2 = |row: &Value| PI / 4.0 * number(row, "bore_m").powi(2);
    let per_foot = booster.gain * pedal.ratio * pedal.efficiency;
    let jump_n = booster.jump_in.pa() * area_m2(here);
    let pressure_pa = (number(here, "foot_force_n") * per_foot + jump_n) / area_m2(here);
    let mut seen = 0;
    for row in rows(&result).iter().filter(|row| !row["foot_force_n"].is_null()) {
        let rod_n = pressure_pa * area_m2(row);
        if rod_n >= booster.run_out.pa() * area_m2(here) * 0.98 {
            continue;
        }
        let foot_n = ((rod_n - jump_n) / per_foot).max(20.0);
        // Run-out and jump-in are carried over as a gauge shows them, to a hundredth of a bar.
        assert!(
            (number(row, "foot_force_n") - foot_n).abs() < 0.2,
            "{row}: {foot_n}"
        );
        seen += 1;
    }
    assert!(seen > 8, "{seen}");
}

fn tables(report: &Report) -> Vec<&Table> {
    let blocks = report.sections.iter().flat_map(|section| &section.blocks);
    blocks
        .filter_map(|block| match block {
            Block::Table(table) if table.heads[0] == "bore" => Some(table),
            _ => None,
        })
        .collect()
}

#[test]
fn what_cannot_do_it_is_struck_through_in_words_too_and_the_own_is_marked() {
    let asked = Asked::of("lever", "tarn", &[(&BORES, "1"), (&RATIOS, "7,10")]).unwrap();
    let report = asked.report();
    let tables = tables(&report);
    assert_eq!(tables.len(), 2, "a table a ratio");
    let rows = || tables.iter().flat_map(|table| &table.rows);
    assert!(rows().all(|row| row.struck
        == matches!(
            row.cells[6].split(',').next(),
            Some("pull" | "stroke" | "room" | "valve" | "centre")
        )));
    let own: Vec<_> = rows().filter(|row| row.own).collect();
    assert_eq!(own.len(), 1);
    assert_eq!(own[0].cells[0], "own: 5/8 in");
    // A small bore with a long lever ends at the room, a large one at the driver's pull.
    let last = tables[1].rows.first().unwrap();
    assert_eq!(
        (last.cells[0].as_str(), last.cells[6].as_str()),
        ("1/2 in", "room")
    );
    assert_eq!(tables[0].rows.last().unwrap().cells[6], "pull");
}

#[test]
fn a_cable_has_no_bore_and_a_ratio_is_a_number() {
    let cable = [
        (&WITH, "lever.kind=cable"),
        (&WITH, "lever.cable.ratio=28"),
        (&WITH, "lever.cable.efficiency=0.6"),
        (&BORES, "1"),
    ];
    let asked = Asked::of("lever", "sedge", &cable).unwrap();
    let wrong = asked.question.answer(&asked.case()).err().unwrap();
    assert_eq!(wrong.troubles[0].slug, "no-bore");
    let Err(Stop::Wrong(wrong)) = Asked::of("lever", "tarn", &[(&RATIOS, "7, seven, 70")]) else {
        panic!("taken");
    };
    assert_eq!(wrong.troubles.len(), 2);
}

/// Nothing of an old part is taken for a new one's: the booster's line pressures move with the bore, and readings of the
/// pedal do not count as readings of another cylinder.
#[test]
fn another_cylinder_takes_the_booster_along_and_not_the_readings() {
    let plain = Asked::of("balance", "tarn", &[]).unwrap();
    let other = Asked::of("balance", "tarn", &[(&WITH, "master.bore=7/8 in")]).unwrap();
    let (old, new) = (plain.opened.car(), other.opened.car());
    let (old_booster, new_booster) = (old.pedal.booster.unwrap(), new.pedal.booster.unwrap());
    let factor = (25.4_f64 / 22.225).powi(2);
    assert!((new_booster.run_out.pa() / old_booster.run_out.pa() / factor - 1.0).abs() < 1e-3);
    assert!((new_booster.jump_in.pa() / old_booster.jump_in.pa() / factor - 1.0).abs() < 1e-3);
    assert!(
        (new_booster.gain - old_booster.gain).abs() < 1e-3,
        "as it was read"
    );
    assert!(new.measured.pedal.is_empty() && !old.measured.pedal.is_empty());
    let said = |opened: &Opened| {
        let warned = opened.assembled.warnings.iter();
        warned.filter(|warning| warning.path == "--with").count()
    };
    assert_eq!((said(&plain.opened), said(&other.opened)), (0, 1));
    assert!(
        other
            .opened
            .overrides
            .iter()
            .any(|(key, _)| key == "pedal.booster.run_out")
    );
    // What turns the knob is no other valve: its readings still count.
    let turned = Asked::of("balance", "tarn", &[(&VALVE, "3 turns")]).unwrap();
    assert!(!turned.opened.car().measured.valve.is_empty());
    let swapped = Asked::of("balance", "tarn", &[(&WITH, "bias_valve.slope=0.3")]).unwrap();
    assert!(swapped.opened.car().measured.valve.is_empty());
}

#[test]
fn sizes_are_in_order_and_are_what_they_say() {
    use engine::car::sold::{
        CALIPER_PISTONS, LEVER_BORES, LEVER_RATIOS, MASTER_BORES, Series, WHEEL_CYLINDER_BORES,
    };
    for list in [LEVER_BORES, MASTER_BORES, WHEEL_CYLINDER_BORES, CALIPER_PISTONS] {
        assert!(
            list.windows(2).all(|pair| pair[0].length() < pair[1].length()),
            "{list:?}"
        );
        for size in list {
            assert_eq!(
                size.text.ends_with(" in"),
                size.series == Series::Inch,
                "{size:?}"
            );
            assert!(
                size.length().m() > 0.012 && size.length().m() < 0.0601,
                "{size:?}"
            );
        }
    }
    assert!(LEVER_RATIOS.is_sorted());
    // By hand: 1-1/16 in is 26.9875 mm.
    let size = MASTER_BORES.iter().find(|size| size.text == "1-1/16 in").unwrap();
    assert!((size.length().m() - 0.026_987_5).abs() < 1e-12);
}

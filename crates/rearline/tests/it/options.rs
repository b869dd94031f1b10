//! What the options do.

use crate::bench::{Bench, assert_near, number};

fn pressures(bench: &Bench, more: &[&str]) -> serde_json::Value {
    bench.json(&[&["pressures", "tarn", "--json"], more].concat())
}

#[test]
fn the_state_is_what_was_asked_for() {
    let bench = Bench::with_cars();
    let usual = pressures(&bench, &["--foot", "100 N"]);
    assert_eq!(usual["state"]["surface"], "hard gravel");
    assert_eq!(usual["state"]["grip"], 0.65);
    assert_eq!(usual["state"]["crew"], true);
    assert_eq!(usual["state"]["fuel_l"], 27.5);
    assert_eq!(usual["state"]["overrides"], serde_json::json!({}));
    let other = pressures(
        &bench,
        &[
            "--foot",
            "100 N",
            "--surface",
            "Wet Clay",
            "--grip",
            "0,5",
            "--fuel",
            "10 L",
            "--no-crew",
            "--on",
            "2026-05-01",
        ],
    );
    assert_eq!(other["state"]["surface"], "wet clay");
    assert_eq!(other["state"]["grip"], 0.5);
    assert_eq!(other["state"]["crew"], false);
    assert_eq!(other["state"]["fuel_l"], 10.0);
    assert_eq!(other["state"]["day"], "2026-05-01");
    // As weighed, 764 + 556 kg with 15 L; 5 L less at 0.74 kg/L.
    assert_near(number(&other, "/load/mass_kg"), 1320.0 - 5.0 * 0.74);
    // Crew 168 kg and wheels 43 kg, and half of 55 L.
    assert_near(
        number(&usual, "/load/mass_kg"),
        1320.0 + 168.0 + 43.0 + 12.5 * 0.74,
    );
    for (word, litres) in [("dry", 0.0), ("half", 27.5), ("full", 55.0)] {
        assert_near(
            number(
                &pressures(&bench, &["--foot", "1 N", "--fuel", word]),
                "/state/fuel_l",
            ) + 1.0,
            litres + 1.0,
        );
    }
}

#[test]
fn the_valve_is_set_for_this_once() {
    let bench = Bench::with_cars();
    // Read with two gauges at 2 turns: 41 = k + 0.40 (60 − k). From there to 65 bar at five turns in.
    let read = 17.0 / 0.60;
    let three = read + (65.0 - read) / 3.0;
    let knee = |more: &[&str]| {
        number(
            &pressures(&bench, &[&["--foot", "300 N"], more].concat()),
            "/knee_pa",
        )
    };
    assert_near(knee(&[]), read * 1e5);
    assert_near(knee(&["--valve", "3 turns"]), three * 1e5);
    assert_near(knee(&["--with", "bias_valve.setting=3 turns"]), three * 1e5);
    let value = pressures(&bench, &["--foot", "300 N", "--valve", "3 turns"]);
    assert_eq!(
        value["state"]["overrides"],
        serde_json::json!({ "bias_valve.setting": "3 turns" })
    );
    let error = bench.first_error(
        2,
        &[
            "pressures",
            "scree",
            "--foot",
            "1 N",
            "--valve",
            "3 turns",
            "--json",
        ],
    );
    assert_eq!(
        (&error["file"], &error["slug"]),
        (&"--valve".into(), &"no-bias-valve".into())
    );
    let error = bench.first_error(
        2,
        &[
            "pressures",
            "tarn",
            "--foot",
            "1 N",
            "--valve",
            "3 trns",
            "--json",
        ],
    );
    assert_eq!((&error["file"], &error["column"]), (&"--valve".into(), &3.into()));
}

#[test]
fn overrides_chain_and_each_key_is_given_once() {
    let bench = Bench::with_cars();
    let value = pressures(
        &bench,
        &[
            "--hand",
            "100 N",
            "--with",
            "lever.bore = 0.7 in",
            "--with",
            "lever.ratio=6.5",
        ],
    );
    assert_eq!(
        value["state"]["overrides"],
        serde_json::json!({ "lever.ratio": "6.5", "lever.bore": "0.7 in" })
    );
    let area_m2 = core::f64::consts::PI / 4.0 * 0.017_78 * 0.017_78;
    assert_near(number(&value, "/lever/own_pa"), 100.0 * 6.5 * 0.9 / area_m2);
    let unchanged = pressures(&bench, &["--hand", "100 N"]);
    assert_eq!(
        value["sheet_sha256"], unchanged["sheet_sha256"],
        "the sheet itself stays"
    );
}

#[test]
fn everything_that_is_wrong_is_said_at_once() {
    let bench = Bench::with_cars();
    let run = bench.run(&[
        "pressures",
        "tarn",
        "--json",
        "--foot",
        "300 bat",
        "--hand",
        "-5 N",
        "--with",
        "lever.boer=2",
        "--with",
        "lever.ratio=60",
        "--grip",
        "9",
        "--surface",
        "hard grave",
        "--fuel",
        "80 L",
        "--on",
        "1.5.2026",
        "--units",
        "bra,psi,bar",
    ]);
    assert_eq!(run.status, Some(2));
    let value = crate::bench::one_object(&run.out);
    let found: Vec<(&str, &str)> = value["errors"]
        .as_array()
        .unwrap()
        .iter()
        .map(|error| (error["file"].as_str().unwrap(), error["slug"].as_str().unwrap()))
        .collect();
    assert_eq!(
        found,
        [
            ("--grip", "out-of-range"),
            ("--foot", "quantity-unknown-unit"),
            ("--hand", "out-of-range"),
            ("--units", "quantity-unknown-unit"),
            ("--units", "unit-twice"),
            ("--with", "unknown-key"),
            ("--with", "out-of-range"),
        ]
    );
    // The state hangs on the car, so it is looked at once there is one.
    let run = bench.run(&[
        "pressures",
        "tarn",
        "--json",
        "--foot",
        "300 N",
        "--grip",
        "9",
        "--fuel",
        "80 L",
        "--on",
        "1.5.2026",
    ]);
    let value = crate::bench::one_object(&run.out);
    let slugs: Vec<&str> = value["errors"]
        .as_array()
        .unwrap()
        .iter()
        .map(|e| e["slug"].as_str().unwrap())
        .collect();
    assert_eq!(slugs, ["out-of-range", "beyond-tank", "not-a-day"]);
}

/// A luggage scale shows kilograms, and a pull is printed in them: what is printed is taken.
#[test]
fn a_pull_may_be_written_as_a_luggage_scale_shows_it() {
    let bench = Bench::with_cars();
    let asked =
        |hand: &str| bench.json(&["pressures", "tarn", "--json", "--hand", hand])["asked"]["hand_n"].clone();
    assert_eq!(asked("25kg"), 245.16625, "25 × 9.80665");
    assert_eq!(asked("25 kg"), asked("25 kgf"));
    let changed = bench.json(&[
        "lever",
        "tarn",
        "--json",
        "--draws",
        "0",
        "--with",
        "lever.hand_pull=25kg",
    ]);
    assert_eq!(changed["state"]["overrides"]["lever.hand_pull"], "25kg");
}

/// The word that two surfaces share offers both.
#[test]
fn a_word_of_a_surfaces_name_offers_those_that_have_it() {
    let bench = Bench::with_cars();
    let error = bench.first_error(2, &["lever", "tarn", "--json", "--surface", "gravel"]);
    assert_eq!(error["do"], "did you mean \"hard gravel\" or \"loose gravel\"?");
}

#[test]
fn a_wrong_value_points_at_itself() {
    let bench = Bench::with_cars();
    for (option, text, slug, column) in [
        ("--foot", "300", "quantity-missing-unit", 1),
        ("--foot", "30 lb", "quantity-unit-refused", 4),
        ("--foot", "300 N ± 10 N", "option-tolerance", 1),
        ("--foot", "guess", "quantity-guess-not-taken", 1),
        ("--foot", "5000 N", "out-of-range", 1),
        ("--grip", "0.6 bar", "quantity-wrong-dimension", 1),
        ("--surface", "hard grabel", "unknown-surface", 1),
        ("--surface", "", "unknown-surface", 1),
        ("--fuel", "20 kg", "quantity-wrong-dimension", 1),
        ("--on", "2026-02-30", "not-a-day", 1),
        ("--units", "", "quantity-missing-unit", 1),
        ("--units", "bar,,mm", "quantity-missing-unit", 5),
        ("--with", "lever.bore", "with-no-equals", 1),
    ] {
        let force: &[&str] = if option == "--foot" {
            &[]
        } else {
            &["--foot", "300 N"]
        };
        let arguments = [&["pressures", "tarn", "--json", option, text], force].concat();
        let error = bench.first_error(2, &arguments);
        assert_eq!(
            (&error["file"], &error["slug"], &error["column"]),
            (&option.into(), &slug.into(), &column.into()),
            "{text}"
        );
        assert!(!error["do"].as_str().unwrap().is_empty());
    }
    let error = bench.first_error(
        2,
        &[
            "pressures",
            "tarn",
            "--json",
            "--foot",
            "1 N",
            "--surface",
            "hard grabel",
        ],
    );
    assert_eq!(error["do"], "did you mean \"hard gravel\"?");
}

#[test]
fn an_option_without_effect_is_named() {
    let bench = Bench::with_cars();
    let value = pressures(&bench, &["--foot", "1 N", "--speed", "20 km/h", "--seed", "3"]);
    let warned: Vec<&str> = value["warnings"]
        .as_array()
        .unwrap()
        .iter()
        .filter_map(|w| w["key"].as_str())
        .collect();
    assert!(
        warned.contains(&"--speed") && warned.contains(&"--seed") && !warned.contains(&"--draws"),
        "{warned:?}"
    );
}

#[test]
fn figures_come_in_the_units_asked_for() {
    let bench = Bench::with_cars();
    let page = bench
        .run(&[
            "pressures",
            "tarn",
            "--foot",
            "60 lbf",
            "--hand",
            "30 lbf",
            "--units",
            "in,psi,lbf",
        ])
        .out;
    for unit in ["psi", " in ", "lbf", "lbf·ft", "in³", " lb "] {
        assert!(page.contains(unit), "{unit} is missing:\n{page}");
    }
    for unit in [" bar", " mm", " N ", "N·m", "cm³"] {
        assert!(
            !page
                .lines()
                .take_while(|line| !line.starts_with("Look"))
                .any(|line| line.contains(unit)),
            "{unit}:\n{page}"
        );
    }
    // A pull of 30 lbf is 13.6 kg on a luggage scale.
    assert!(page.contains("30.0 lbf (13.6 kg)"), "{page}");
    let mixed = bench
        .run(&["pressures", "tarn", "--foot", "100 N", "--units", "lbf,N m"])
        .out;
    assert!(
        mixed.contains("N·m") && mixed.contains("bar") && mixed.contains("lbf"),
        "{mixed}"
    );
}

#[test]
fn a_car_is_a_name_or_a_path() {
    let bench = Bench::with_cars();
    for car in [
        "tarn",
        "TARN",
        "cars/tarn/car.toml",
        "./cars/tarn/car.toml",
        "cars/tarn",
    ] {
        let value = bench.json(&["pressures", car, "--foot", "300 N", "--json"]);
        assert_eq!(value["car"], "tarn", "{car}");
    }
    std::fs::copy(bench.path("cars/tarn/car.toml"), bench.path("proposed.toml")).unwrap();
    assert_eq!(
        bench.json(&["check-sheet", "proposed.toml", "--json"])["car"],
        "proposed"
    );
    std::fs::rename(bench.path("cars"), bench.path("other folder")).unwrap();
    let value = bench.json(&[
        "pressures",
        "tarn",
        "--cars",
        "other folder",
        "--foot",
        "300 N",
        "--json",
    ]);
    assert_eq!(value["car"], "tarn");
}

//! `turn` as other programs read it, on every demonstration car.

use serde_json::Value;

use crate::bench::{Bench, CARS, assert_near, number, one_object};
use crate::machine::{assert_explained, assert_valid, schema};

/// The ways in which it is asked here, after the car.
const ASKED: [&[&str]; 8] = [
    &["--draws", "16"],
    &["--draws", "0", "--surface", "ice", "--cold", "--no-crew"],
    &[
        "--draws",
        "0",
        "--release",
        "90 deg",
        "--after",
        "into-slide",
        "--until",
        "4 s",
    ],
    &[
        "--draws",
        "0",
        "--release",
        "never",
        "--clutch",
        "up",
        "--steer",
        "-10 deg",
    ],
    &[
        "--draws",
        "0",
        "--entry",
        "70 km/h",
        "--hand",
        "0 N",
        "--foot",
        "200 N",
        "--foot-off",
        "0.4 s",
    ],
    &[
        "--draws",
        "0",
        "--throttle",
        "100 N m",
        "--against",
        "sedge",
        "--strict",
    ],
    &["--map", "3x4", "--grip", "0.4"],
    &["--search", "90 deg, 9 m, 7 m", "--surface", "loose gravel"],
];

#[test]
fn every_answer_keeps_to_its_schema_and_explains_what_is_missing() {
    let bench = Bench::with_cars();
    let schema = schema(&bench, "turn");
    for car in CARS {
        for asked in ASKED {
            let arguments = [&["turn", car, "--json"], asked].concat();
            let what = arguments.join(" ");
            let value = bench.json(&arguments);
            assert_explained(&value, &what);
            assert_valid(&schema, &value, &what);
            assert_eq!(value["verb"], "turn");
        }
    }
}

#[test]
fn the_keys_of_the_contract_are_there() {
    let bench = Bench::with_cars();
    let value = bench.json(&["turn", "tarn", "--json", "--draws", "0"]);
    for key in [
        "/technique/entry_m_s",
        "/technique/steer_rad",
        "/technique/hand_n",
        "/technique/clutch_down",
        "/technique/release_at_s",
        "/technique/release_at_rad",
        "/rear_locked_from_s",
        "/rear_locked_for_s",
        "/front_locked_for_s",
        "/front_speed_ratio",
        "/heading_at_release_rad",
        "/heading_end_rad",
        "/heading_without_lever_at_release_rad",
        "/heading_without_lever_rad",
        "/yaw_rate_peak_rad_s",
        "/speed_at_release_m_s",
        "/room_m/1",
        "/verdict",
        "/on_the_border",
        "/released_at_s",
        "/nose_in_at_release_rad",
        "/nose_in_without_lever_rad",
        "/bend/angle_rad",
        "/bend/radius_m",
        "/bend/width_m",
        "/trace/wheel_rad_s/3/0",
    ] {
        assert!(value.pointer(key).is_some(), "{key}");
    }
    let length = value["trace"]["t_s"].as_array().unwrap().len();
    for key in ["x_m", "y_m", "heading_rad", "u_m_s", "v_m_s", "yaw_rate_rad_s"] {
        assert_eq!(value["trace"][key].as_array().unwrap().len(), length, "{key}");
    }
    // What is done where nothing is said.
    assert_near(number(&value, "/technique/entry_m_s"), 50.0 / 3.6);
    assert_near(number(&value, "/technique/steer_rad"), 0.25);
    assert_near(number(&value, "/technique/hand_n"), 250.0);
    // Let go at the best moment, driven for a hairpin.
    assert_near(
        number(&value, "/technique/release_at_s"),
        number(&value, "/released_at_s"),
    );
    assert_eq!(value["technique"]["after"], "drives");
    assert!(value["best"].is_null());
    assert_near(number(&value, "/bend/angle_rad"), core::f64::consts::PI);
    assert_near(number(&value, "/bend/radius_m"), 7.0);
    assert_near(number(&value, "/bend/width_m"), 5.0);
    // As given, with the best beside it.
    let given = bench.json(&[
        "turn",
        "tarn",
        "--json",
        "--draws",
        "0",
        "--release",
        "1.8 s",
        "--bend",
        "junction",
    ]);
    assert_near(number(&given, "/released_at_s"), 1.8);
    assert!(given["best"]["verdict"].is_string());
    assert_near(number(&given, "/bend/angle_rad"), core::f64::consts::FRAC_PI_2);
    assert_eq!(value["technique"]["clutch_down"], true);
    // Ends of the trace and the figures are the same run.
    let last = number(&value, &format!("/trace/heading_rad/{}", length - 1));
    assert_near(last, number(&value, "/heading_end_rad"));
    assert_near(number(&value, "/trace/u_m_s/0"), 50.0 / 3.6);
}

/// The trade's question: the same car, its centre let go. And the same seed draws the same ranges.
#[test]
fn a_centre_that_lets_go_brings_it_round() {
    let bench = Bench::with_cars();
    let asked = [
        "turn",
        "tarn-let-go",
        "--json",
        "--draws",
        "64",
        "--seed",
        "5",
        "--against",
        "tarn",
    ];
    let value = bench.json(&asked);
    assert_eq!(value["against"]["car"], "tarn");
    // The parted centre leaves the front wheels their own speed; the coupling drags them.
    let ratios = |value: &Value| {
        (
            number(value, "/front_speed_ratio"),
            number(value, "/against/front_speed_ratio"),
        )
    };
    let (parted, tied) = ratios(&value);
    assert!(parted > tied + 0.05, "{parted} {tied}");
    let chances = value["chances"].as_object().unwrap();
    let all: f64 = chances.values().map(|chance| chance.as_f64().unwrap()).sum();
    assert_near(all, 1.0);
    let range = &value["ranges"]["heading_at_release_rad"];
    let (low, middle, high) = (
        number(range, "/low"),
        number(range, "/value"),
        number(range, "/high"),
    );
    assert!(low < high && low < middle, "{range}");
    assert_eq!(bench.json(&asked)["ranges"], value["ranges"]);
    // The same name compares what is changed for this once with what the sheet says.
    let changed = bench.json(&[
        "turn",
        "tarn",
        "--json",
        "--draws",
        "0",
        "--with",
        "drivetrain.centre.kind=open",
        "--against",
        "tarn",
    ]);
    let (parted, tied) = ratios(&changed);
    assert!(parted > tied + 0.05, "{parted} {tied}");
}

#[test]
fn a_map_is_as_large_as_asked_and_its_middle_is_the_run() {
    let bench = Bench::with_cars();
    let map = bench.json(&["turn", "sedge", "--json", "--map", "3x5"]);
    assert_eq!(map["entry_m_s"].as_array().unwrap().len(), 3);
    assert_eq!(map["hand_n"].as_array().unwrap().len(), 5);
    for key in ["heading_end_rad", "rear_locked_for_s", "verdict"] {
        let rows = map[key].as_array().unwrap();
        assert!(
            rows.len() == 3 && rows.iter().all(|row| row.as_array().unwrap().len() == 5),
            "{key}"
        );
    }
    let hand = format!("{} N", number(&map, "/hand_n/3"));
    let run = bench.json(&["turn", "sedge", "--json", "--draws", "0", "--hand", &hand]);
    assert_near(number(&map, "/entry_m_s/1"), 50.0 / 3.6);
    let (cell, end) = (
        number(&map, "/heading_end_rad/1/3"),
        number(&run, "/heading_end_rad"),
    );
    // The run is driven once from its start, the cell branches off a pulled run.
    assert!((cell - end).abs() < 5e-3, "{cell} {end}");
    assert_eq!(map["verdict"][1][3], run["verdict"]);
}

#[test]
fn a_search_finds_a_way_or_says_what_stops_it() {
    let bench = Bench::with_cars();
    let found = bench.json(&["turn", "scree", "--json", "--search", "180 deg, 8 m, 6 m"]);
    assert_eq!(found["found"], true);
    assert_eq!(found["result"]["verdict"], "comes-round");
    assert!(found["stopped_by"].is_null());
    assert!(number(&found, "/to_spare_m") >= 0.0);
    assert!(number(&found, "/result/out_at_s") > 0.0);
    assert!(number(&found, "/result/to_spare_m") >= 0.0);
    let narrow = bench.json(&["turn", "scree", "--json", "--search", "180 deg, 3 m, 2 m"]);
    assert_eq!(narrow["found"], false);
    assert_eq!(narrow["stopped_by"], "width");
    assert!(number(&narrow, "/too_wide_by_m") > 0.0);
    assert!(narrow["technique"].is_null());
}

#[test]
fn wrong_options_are_all_told_at_once() {
    let bench = Bench::with_cars();
    let run = bench.run(&[
        "turn",
        "tarn",
        "--json",
        "--entry",
        "50 bar",
        "--steer",
        "3 rad",
        "--release",
        "soon",
        "--clutch",
        "sideways",
        "--after",
        "spin",
    ]);
    assert_eq!(run.status, Some(2));
    let errors = one_object(&run.out);
    let said: Vec<&str> = errors["errors"]
        .as_array()
        .unwrap()
        .iter()
        .map(|error: &Value| error["file"].as_str().unwrap())
        .collect();
    for option in ["--entry", "--steer", "--release", "--clutch", "--after"] {
        assert!(said.contains(&option), "{option}: {said:?}");
    }
    for (arguments, slug) in [
        (vec!["--map", "64"], "not-a-size"),
        (vec!["--map", "1x9999"], "not-a-size"),
        (vec!["--search", "180 deg, 7 m"], "not-a-bend"),
        (vec!["--bend", "chicane"], "not-a-bend"),
        (vec!["--bend", "120 deg, 7 m, 20 m"], "out-of-range"),
        (
            vec!["--throttle", "120 N m", "--throttle-at", "0.6 s"],
            "out-of-range",
        ),
        (vec!["--search", "180 deg, 7 m, 90 m"], "out-of-range"),
        (
            vec!["--with", "lever.kind=cable", "--entry", "900 km/h"],
            "out-of-range",
        ),
    ] {
        let run = bench.run(&[&["turn", "tarn", "--json"], &arguments[..]].concat());
        assert_eq!(run.status, Some(2), "{arguments:?}: {}", run.out);
        let slugs = one_object(&run.out)["errors"].to_string();
        assert!(slugs.contains(slug), "{arguments:?}: {slugs}");
    }
    let against = bench.run(&["turn", "tarn", "--against", "tarm"]);
    assert_eq!(against.status, Some(3));
    assert!(against.aside.contains("tarn"), "{}", against.aside);
}

#[test]
fn pictures_are_written_for_each_way_of_asking() {
    let bench = Bench::with_cars();
    for asked in [
        vec!["--draws", "0"],
        vec!["--draws", "0", "--against", "scree"],
        vec!["--map", "4x4"],
        vec!["--search", "90 deg, 9 m, 7 m"],
    ] {
        let svg = bench.path("turn.svg");
        let _ = std::fs::remove_file(&svg);
        let path = svg.display().to_string();
        let run = bench.run(&[&["turn", "scree", "--svg", &path], &asked[..]].concat());
        assert_eq!(run.status, Some(0), "{asked:?}: {}", run.aside);
        let text = std::fs::read_to_string(&svg).unwrap();
        assert!(
            text.starts_with("<svg") && text.trim_end().ends_with("</svg>"),
            "{asked:?}"
        );
    }
}

/// What the sheet leaves open of the coupling is run too; once it is written down, there is nothing left to read otherwise
/// and the answer is that run.
#[test]
fn a_coupling_that_may_turn_elsewhere_is_run_there_too() {
    let bench = Bench::with_cars();
    let open = bench.json(&["turn", "tarn", "--json", "--draws", "0"]);
    let also = open["also"].as_array().unwrap();
    let read = also
        .iter()
        .find(|read| read["if"] == "the coupling turns as fast as the wheels")
        .unwrap();
    let written = bench.json(&[
        "turn",
        "tarn",
        "--json",
        "--draws",
        "0",
        "--with",
        "drivetrain.centre.turns_per_wheel_turn=1",
    ]);
    assert_eq!(written["also"], serde_json::json!([]));
    assert_eq!(written["verdict"], read["verdict"]);
    let apart = number(read, "/heading_end_rad") - number(&written, "/heading_end_rad");
    assert!(apart.abs() < 5e-3, "{apart}");
}

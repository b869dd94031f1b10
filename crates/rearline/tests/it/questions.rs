//! `balance`, `settings`, `lever` and `working` as other programs read them, on every demonstration car.

use std::sync::LazyLock;

use ::questions::options::Said;
use ::questions::{Case, Changes, Opened, StateText};
use engine::Conditions;
use engine::car::Date;
use engine::ranges::Sampling;
use engine::working::{FIGURES, Working};
use serde_json::Value;

use crate::bench::{Bench, CARS, assert_near, number};
use crate::machine::{assert_explained, assert_valid, schema};

/// The ways in which the three are asked here, after the car.
const ASKED: [(&str, &[&str]); 17] = [
    ("assess", &["--draws", "64", "--on", "2026-05-01"]),
    (
        "assess",
        &["--draws", "0", "--cold", "--surface", "ice", "--fuel", "dry"],
    ),
    ("balance", &["--draws", "64"]),
    (
        "balance",
        &["--draws", "0", "--grips", "0.25,0.9", "--no-crew", "--cold"],
    ),
    (
        "balance",
        &[
            "--draws", "16", "--foot", "300 N", "--strict", "--speed", "80 km/h",
        ],
    ),
    ("settings", &["--draws", "64"]),
    (
        "settings",
        &[
            "--draws",
            "0",
            "--wanted",
            "even",
            "--surface",
            "wet tarmac",
            "--fuel",
            "full",
        ],
    ),
    (
        "settings",
        &["--draws", "0", "--wanted", "rear-first 3 %", "--grip", "0.8"],
    ),
    ("lever", &["--draws", "64"]),
    (
        "lever",
        &[
            "--draws",
            "0",
            "--hand",
            "40 kgf",
            "--cold",
            "--surface",
            "packed snow",
        ],
    ),
    ("conditions", &[]),
    (
        "conditions",
        &[
            "--draws",
            "0",
            "--cold",
            "--surface",
            "packed snow",
            "--fuel",
            "dry",
        ],
    ),
    ("heat", &["--draws", "16"]),
    (
        "heat",
        &[
            "--draws",
            "0",
            "--stage",
            "fast tarmac",
            "--ambient",
            "35 C",
            "--no-crew",
        ],
    ),
    ("hold", &["--draws", "16"]),
    (
        "hold",
        &[
            "--draws",
            "0",
            "--slope",
            "0 %",
            "--facing",
            "down",
            "--hand",
            "150 N",
            "--surface",
            "ice",
        ],
    ),
    ("working", &[]),
];

/// All of that, asked once.
fn all_asked() -> &'static [(&'static str, String, Value)] {
    static ALL: LazyLock<Vec<(&str, String, Value)>> = LazyLock::new(|| {
        let bench = Bench::with_cars();
        let every = CARS.iter().flat_map(|car| ASKED.map(|asked| (car, asked)));
        let asked = every.map(|(car, (verb, asked))| {
            let arguments = [&[verb, car, "--json"], asked].concat();
            (verb, arguments.join(" "), bench.json(&arguments))
        });
        asked.collect()
    });
    &ALL
}

#[test]
fn every_answer_keeps_to_its_schema_and_explains_what_is_missing() {
    let bench = Bench::with_cars();
    let schemas =
        ["assess", "balance", "settings", "lever", "heat", "hold"].map(|verb| (verb, schema(&bench, verb)));
    for (verb, what, value) in all_asked() {
        assert_explained(value, what);
        assert_eq!(value["verb"], *verb);
        if let Some((_, schema)) = schemas.iter().find(|(known, _)| known == verb) {
            assert_valid(schema, value, what);
        }
    }
}

#[test]
fn the_keys_of_the_contract_are_there() {
    let lock = [
        "grip",
        "first",
        "braking_rate",
        "efficiency",
        "foot_force_n",
        "master_pa",
        "rear_pa",
        "front_first_by",
    ];
    let setting = [
        "surface",
        "grip",
        "fuel_l",
        "wanted",
        "wanted_by",
        "knee_pa",
        "turns",
        "bar_front_share",
        "bar_turns",
        "reachable",
        "rear_first_below_grip",
        "for",
    ];
    let to_lock = [
        "outcome",
        "rear_load_n",
        "torque_needed_nm",
        "of_which_coupling_nm",
        "pressure_pa",
        "hand_force_n",
        "travel_m",
        "enough_force",
        "enough_travel",
        "in_hand",
        "seconds_to_lock_s",
        "drag",
        "coupling_read",
        "own_pa",
    ];
    for (verb, what, value) in all_asked() {
        let rows: Vec<(&Value, &[&str])> = match *verb {
            "balance" => {
                assert_eq!(value["failed_circuit"].as_array().unwrap().len(), 2, "{what}");
                assert!(
                    value["utilisation"][0]["rear"].is_number() && value["ideal"][0]["rear_n"].is_number(),
                    "{what}"
                );
                assert!(value["road_rules"]["applies"].is_boolean(), "{what}");
                value["lock"]
                    .as_array()
                    .unwrap()
                    .iter()
                    .map(|row| (row, &lock[..]))
                    .collect()
            }
            "settings" => value["settings"]
                .as_array()
                .unwrap()
                .iter()
                .map(|row| (row, &setting[..]))
                .collect(),
            "lever" => {
                assert!(
                    value["front_dragged"].is_boolean() && value["also"].is_array(),
                    "{what}"
                );
                vec![(&value["to_lock"], &to_lock[..]), (&value["cold"], &to_lock[..])]
            }
            _ => continue,
        };
        assert!(!rows.is_empty(), "{what}");
        for (row, keys) in rows {
            for key in keys {
                assert!(row.get(key).is_some(), "{what}: {key} is missing of {row}");
            }
        }
    }
}

#[test]
fn a_setting_that_is_taken_gives_what_was_wanted() {
    let bench = Bench::with_cars();
    for (car, wanted, margin) in [
        ("sedge", "front-first 5 %", 0.05),
        ("sedge", "even", 0.0),
        ("sedge", "rear-first 3 %", -0.03),
    ] {
        let asked = [
            "settings", car, "--json", "--draws", "0", "--grip", "0.7", "--fuel", "dry", "--wanted", wanted,
        ];
        let row = &bench.json(&asked)["settings"][0];
        assert_eq!(row["reachable"], true, "{wanted}: {row}");
        let turns = format!("{} turns", row["turns"]);
        let check = [
            "balance", car, "--json", "--draws", "0", "--grips", "0.7", "--fuel", "dry", "--valve", &turns,
        ];
        let found = number(&bench.json(&check), "/lock/0/front_first_by");
        assert!((found - margin).abs() < 1e-6, "{wanted}: {found} at {turns}");
    }
}

#[test]
fn the_same_seed_gives_the_same_ranges_and_another_seed_nearly() {
    let bench = Bench::with_cars();
    let ask = |seed: &str| {
        bench.json(&["lever", "tarn", "--json", "--draws", "512", "--seed", seed])["ranges"].clone()
    };
    assert_eq!(ask("7"), ask("7"));
    let (one, other) = (ask("7"), ask("8"));
    assert_ne!(one, other);
    for end in ["/in_hand/low", "/in_hand/high", "/travel_m/low", "/travel_m/high"] {
        let (one, other) = (number(&one, end), number(&other, end));
        assert!((one / other - 1.0).abs() < 0.02, "{end}: {one} and {other}");
    }
}

/// What the numbers in a formula come to, by a small reckoner of the test's own.
fn reckoned(text: &str) -> f64 {
    let mut words = Words {
        rest: text.as_bytes(),
    };
    let value = words.sum();
    assert!(
        words.rest.iter().all(u8::is_ascii_whitespace),
        "left over in {text}"
    );
    value
}

struct Words<'a> {
    rest: &'a [u8],
}

impl Words<'_> {
    fn next(&mut self) -> Option<u8> {
        while let [b' ', rest @ ..] = self.rest {
            self.rest = rest;
        }
        self.rest.first().copied()
    }

    fn take(&mut self, sign: u8) -> bool {
        let there = self.next() == Some(sign);
        if there {
            self.rest = &self.rest[1..];
        }
        there
    }

    fn sum(&mut self) -> f64 {
        let mut value = self.product();
        loop {
            if self.take(b'+') {
                value += self.product();
            } else if self.take(b'-') {
                value -= self.product();
            } else {
                return value;
            }
        }
    }

    fn product(&mut self) -> f64 {
        let mut value = self.power();
        loop {
            if self.take(b'*') {
                value *= self.power();
            } else if self.take(b'/') {
                value /= self.power();
            } else {
                return value;
            }
        }
    }

    fn power(&mut self) -> f64 {
        let base = self.atom();
        if self.take(b'^') {
            base.powf(self.atom())
        } else {
            base
        }
    }

    fn atom(&mut self) -> f64 {
        if self.take(b'(') {
            let value = self.sum();
            assert!(self.take(b')'));
            return value;
        }
        for (name, fold) in [
            ("max(", f64::max as fn(f64, f64) -> f64),
            ("min(", f64::min),
            ("sqrt(", f64::max),
        ] {
            self.next();
            if let Some(rest) = self.rest.strip_prefix(name.as_bytes()) {
                self.rest = rest;
                let mut value = self.sum();
                while self.take(b',') {
                    value = fold(value, self.sum());
                }
                assert!(self.take(b')'));
                return if name == "sqrt(" { value.sqrt() } else { value };
            }
        }
        self.next();
        let length = (1..=self.rest.len())
            .rev()
            .find(|&length| {
                std::str::from_utf8(&self.rest[..length]).is_ok_and(|text| text.parse::<f64>().is_ok())
            })
            .unwrap_or_else(|| panic!("no number in {:?}", String::from_utf8_lossy(self.rest)));
        let (number, rest) = self.rest.split_at(length);
        self.rest = rest;
        std::str::from_utf8(number).unwrap().parse().unwrap()
    }
}

/// Every line of every working, evaluated with the numbers that it shows, gives what it says: on every demonstration
/// car, warm and cold, on three grounds. The verb lists the same figures, and of one of them prints the same lines.
#[test]
fn workings_reckon_up() {
    let bench = Bench::with_cars();
    assert_near(reckoned("2 * (3 - 1e0) / max(4, sqrt(16)) ^ 0.5 - -1"), 3.0);
    let on = Date::constant(2026, 5, 1);
    let silent = StateText::silent(on);
    let cold = StateText {
        cold: true,
        grip: Some("0.35".to_owned()),
        ..silent.clone()
    };
    let tarmac = StateText {
        surface: Some("dry tarmac".to_owned()),
        ..silent.clone()
    };
    let mut lines = 0;
    for (at, car) in CARS.into_iter().enumerate() {
        for (ground, (state, wanted, asked)) in [
            (&silent, "front-first 5 %", &[][..]),
            (&cold, "front-first 5 %", &["--cold", "--grip", "0.35"]),
            (
                &tarmac,
                "rear-first 3 %",
                &["--surface", "dry tarmac", "--wanted", "rear-first 3 %"],
            ),
        ]
        .into_iter()
        .enumerate()
        {
            let workings = workings(&bench, car, state, wanted);
            for working in &workings {
                for step in &working.steps {
                    let shown = step.formula.with_numbers(17);
                    let (found, said) = (reckoned(&shown), step.result.value);
                    assert!(
                        (found - said).abs() <= 1e-9 * said.abs() + 1e-18,
                        "{car} {}: {shown} is {found}, not {said}",
                        working.figure
                    );
                    lines += 1;
                }
            }
            let run = |figure: &[&str]| {
                let what = ["working", car, "--json", "--on", "2026-05-01"];
                bench.json(&[&what, figure, asked].concat())
            };
            let list = run(&[]);
            let listed = list["figures"].as_array().unwrap().iter();
            let listed: Vec<&str> = listed.map(|figure| figure["figure"].as_str().unwrap()).collect();
            let names: Vec<&str> = workings.iter().map(|working| working.figure).collect();
            assert_eq!(listed, names, "{car}");
            // Another figure with every car and ground.
            let working = &workings[(3 * at + ground) % workings.len()];
            let value = run(&[working.figure]);
            let steps = value["steps"].as_array().unwrap();
            assert_eq!(steps.len(), working.steps.len(), "{car} {}", working.figure);
            for (printed, step) in steps.iter().zip(&working.steps) {
                assert_eq!(
                    printed["with_numbers"],
                    step.formula.with_numbers(17),
                    "{car} {}",
                    working.figure
                );
                assert_near(number(printed, "/value"), step.result.value);
            }
            assert_eq!(value["value"], steps.last().unwrap()["value"]);
        }
    }
    assert!(lines > 1500, "only {lines} lines");
}

/// Every working of a car in a state.
fn workings(bench: &Bench, car: &str, state: &StateText, wanted: &str) -> Vec<Working> {
    let opened = Opened::of(&bench.path("cars"), car, &Changes::default(), state).unwrap();
    let said = Said::default();
    let case = Case {
        opened: &opened,
        said: &said,
        sampling: Sampling::default(),
        units: ::questions::units(None).unwrap(),
        brief: false,
    };
    let conditions = Conditions {
        speed: ::questions::speed(None).unwrap(),
        ambient: said.ambient(),
        ..opened.state.conditions.clone()
    };
    let stage = ::questions::heat::stage(&case).unwrap();
    let wish = ::questions::wish(wanted).unwrap();
    let asked = ::questions::working_bench(&opened, &conditions, Some(stage), wish);
    let figures = FIGURES.iter();
    figures.filter_map(|(name, _)| asked.working(name)).collect()
}

/// A working's figure is the one that the verb gives.
#[test]
fn a_working_explains_the_figure_that_was_given() {
    let bench = Bench::with_cars();
    for car in ["tarn", "sedge", "scree"] {
        let lever = bench.json(&["lever", car, "--json", "--draws", "0"]);
        for figure in [
            "hand_force_n",
            "travel_m",
            "in_hand",
            "torque_needed_nm",
            "pressure_pa",
        ] {
            let working = bench.json(&["working", car, figure, "--json"]);
            assert_near(
                number(&working, "/value"),
                number(&lever, &format!("/to_lock/{figure}")),
            );
        }
    }
}

/// Those of heat and of holding too: of the usual stage, on the usual slope.
#[test]
fn workings_of_heat_and_hold_explain_what_was_given() {
    let bench = Bench::with_cars();
    for car in ["tarn", "sedge"] {
        let heat = bench.json(&["heat", car, "--json", "--draws", "0"]);
        let hold = bench.json(&["hold", car, "--json", "--draws", "0"]);
        let explained = |figure: &str| number(&bench.json(&["working", car, figure, "--json"]), "/value");
        let of_axles =
            |figure: &str| ["front", "rear"].map(|axle| number(&heat, &format!("/corners/{axle}/{figure}")));
        let [front, rear] = of_axles("disc_peak_k");
        assert_near(explained("disc_peak_k"), front.max(rear));
        let [front, rear] = of_axles("fluid_margin_now_dk");
        assert_near(explained("fluid_margin_now_dk"), front.min(rear));
        let [front_soak, rear_soak] = of_axles("fluid_soak_k");
        assert_near(
            explained("fluid_soak_k"),
            if rear < front { rear_soak } else { front_soak },
        );
        assert_near(
            explained("steepest_for_two_minutes"),
            number(&hold, "/steepest_for_two_minutes"),
        );
        let arrivals = hold["arrivals"].as_array().unwrap();
        let shortest = arrivals
            .iter()
            .filter_map(|arrival| arrival["minutes"].as_f64())
            .fold(f64::INFINITY, f64::min);
        // One that outlasts what is looked at has no minutes to explain.
        if shortest.is_finite() {
            assert_near(explained("minutes"), shortest);
        }
    }
}

#[test]
fn wishes_and_figures_that_are_none_say_what_may_be_said() {
    let bench = Bench::with_cars();
    for (arguments, slug) in [
        (
            vec!["settings", "tarn", "--wanted", "front 5", "--json"],
            "unknown-wish",
        ),
        (
            vec!["settings", "tarn", "--wanted", "soon", "--json"],
            "unknown-wish",
        ),
        (
            vec!["balance", "tarn", "--grips", "0.3,x", "--json"],
            "quantity-not-a-number",
        ),
        (
            vec!["balance", "tarn", "--draws", "100000", "--json"],
            "too-many-draws",
        ),
        (
            vec!["lever", "tarn", "--speed", "50", "--json"],
            "quantity-missing-unit",
        ),
        (vec!["working", "tarn", "hand_force", "--json"], "unknown-figure"),
        (
            vec!["working", "bin", "travel_m", "--json"],
            "no-such-figure-here",
        ),
    ] {
        let error = bench.first_error(2, &arguments);
        assert_eq!(error["slug"], slug, "{arguments:?}: {error}");
        assert!(!error["do"].as_str().unwrap().is_empty(), "{error}");
    }
}

#[test]
fn a_stop_ends_a_strict_run_with_its_own_status() {
    let bench = Bench::with_cars();
    assert_eq!(
        bench.run(&["assess", "bin", "--draws", "0", "--strict"]).status,
        Some(1)
    );
    assert_eq!(bench.run(&["assess", "bin", "--draws", "0"]).status, Some(0));
    assert_eq!(
        bench.run(&["assess", "scree", "--draws", "0", "--strict"]).status,
        Some(0)
    );
}

#[test]
fn a_picture_is_written_beside_the_answer() {
    let bench = Bench::with_cars();
    for car in CARS {
        for (verb, asked) in [
            ("pressures", &["--foot", "300 N"][..]),
            ("balance", &["--draws", "0"]),
            ("settings", &["--draws", "0"]),
            ("lever", &["--draws", "0", "--units", "psi,in,lbf"]),
        ] {
            let file = format!("{car}-{verb}.svg");
            let run = bench.run(&[&[verb, car, "--svg", &file], asked].concat());
            assert_eq!(run.status, Some(0), "{}", run.aside);
            let svg = std::fs::read_to_string(bench.path(&file)).unwrap();
            assert!(
                svg.starts_with("<svg") && svg.contains("<title") && svg.trim_end().ends_with("</svg>"),
                "{file}"
            );
        }
    }
    let error = bench.first_error(
        3,
        &[
            "lever",
            "tarn",
            "--draws",
            "0",
            "--svg",
            "no/such/folder/a.svg",
            "--json",
        ],
    );
    assert!(!error["do"].as_str().unwrap().is_empty(), "{error}");
}

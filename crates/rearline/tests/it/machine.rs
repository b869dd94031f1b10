//! What other programs read: the JSON of every verb on every demonstration car, against its schema and the contract.

use std::sync::LazyLock;

use jsonschema::Validator;
use serde_json::Value;

use crate::bench::{Bench, CARS, assert_near, number, one_object};

/// The ways in which `pressures` is asked here.
const ASKED: [&[&str]; 5] = [
    &["--foot", "300 N"],
    &["--hand", "250 N", "--cold", "--surface", "loose gravel"],
    &[
        "--foot", "900 N", "--hand", "400 N", "--fuel", "full", "--grip", "0.3",
    ],
    &[
        "--foot",
        "40 N",
        "--no-crew",
        "--on",
        "2026-05-01",
        "--with",
        "weighed.cg_height=0.6 m",
    ],
    &[
        "--hand", "0 N", "--speed", "20 km/h", "--draws", "0", "--seed", "1", "--strict",
    ],
];

/// Keys that the contract names.
const PROMISED: [&str; 36] = [
    "/contract",
    "/rearline",
    "/verb",
    "/car",
    "/sheet_sha256",
    "/state/surface",
    "/state/grip",
    "/state/crew",
    "/state/fuel_l",
    "/state/day",
    "/state/overrides",
    "/defaults",
    "/warnings",
    "/load/mass_kg",
    "/load/cg_aft_m",
    "/load/cg_height_m",
    "/load/front_static_n",
    "/load/rear_static_n",
    "/pedal/pushrod_n",
    "/pedal/master_pa",
    "/pedal/front_master_pa",
    "/pedal/rear_master_pa",
    "/pedal/travel_m",
    "/pedal/runs_out",
    "/lever/own_pa",
    "/lever/travel_m",
    "/lever/runs_out",
    "/wheels/front_left/pressure_pa",
    "/wheels/front_left/torque_nm",
    "/wheels/front_left/ground_force_n",
    "/wheels/front_right/pressure_pa",
    "/wheels/rear_left/pressure_pa",
    "/wheels/rear_right/lever_pressure_pa",
    "/wheels/rear_right/ground_force_n",
    "/braking_rate",
    "/front_share",
];

/// All of that, asked once.
fn all_asked() -> &'static [(String, Value)] {
    static ALL: LazyLock<Vec<(String, Value)>> = LazyLock::new(|| {
        let bench = Bench::with_cars();
        let every = CARS.iter().flat_map(|car| ASKED.map(|asked| (*car, asked)));
        // A car whose height was found by raising it takes no height besides.
        let takes = every.filter(|(car, asked)| *car != "scree" || !asked.contains(&"--with"));
        let asked = takes.map(|(car, asked)| {
            let arguments = [&["pressures", car, "--json"], asked].concat();
            (arguments.join(" "), bench.json(&arguments))
        });
        asked.collect()
    });
    &ALL
}

/// The schema of a verb's result, with every key forbidden that it does not name.
pub(crate) fn schema(bench: &Bench, of: &str) -> Validator {
    let run = bench.run(&["schema", of]);
    assert_eq!(run.status, Some(0), "{}", run.aside);
    jsonschema::validator_for(&closed(serde_json::from_str(&run.out).unwrap())).unwrap()
}

/// The schema with every key forbidden that it does not name.
fn closed(mut schema: Value) -> Value {
    match &mut schema {
        Value::Object(keys) => {
            for value in keys.values_mut() {
                *value = closed(value.take());
            }
            if keys.contains_key("properties") {
                keys.insert("additionalProperties".to_owned(), Value::Bool(false));
            }
        }
        Value::Array(members) => members
            .iter_mut()
            .for_each(|member| *member = closed(member.take())),
        _ => {}
    }
    schema
}

pub(crate) fn assert_valid(schema: &Validator, value: &Value, what: &str) {
    let faults: Vec<String> = schema
        .iter_errors(value)
        .map(|fault| format!("{}: {fault}", fault.instance_path()))
        .collect();
    assert!(faults.is_empty(), "{what}: {faults:#?}");
}

#[test]
fn every_result_keeps_to_its_schema() {
    let bench = Bench::with_cars();
    let pressures = schema(&bench, "pressures");
    for (what, value) in all_asked() {
        assert_valid(&pressures, value, what);
    }
    let fine = schema(&bench, "check-sheet");
    for car in CARS {
        assert_valid(&fine, &bench.json(&["check-sheet", car, "--json"]), car);
    }
    let errors = schema(&bench, "errors");
    for (status, arguments) in [
        (2, vec!["pressures", "tarn", "--json"]),
        (
            2,
            vec![
                "pressures",
                "tarn",
                "--foot",
                "3 bar",
                "--with",
                "lever.bore=1",
                "--json",
            ],
        ),
        (2, vec!["pressures", "tarn", "--fot", "300 N", "--json"]),
        (3, vec!["check-sheet", "trn", "--json"]),
    ] {
        let run = bench.run(&arguments);
        assert_eq!(run.status, Some(status), "{arguments:?}");
        assert_valid(&errors, &one_object(&run.out), &arguments.join(" "));
    }
}

#[test]
fn a_schema_refuses_what_is_no_result() {
    let bench = Bench::with_cars();
    let schema = schema(&bench, "pressures");
    let good = bench.json(&["pressures", "tarn", "--foot", "300 N", "--json"]);
    assert!(schema.is_valid(&good));
    for path in PROMISED {
        let mut bad = good.clone();
        *bad.pointer_mut(path).unwrap() = serde_json::json!([[]]);
        assert!(!schema.is_valid(&bad), "{path} may be anything");
    }
}

#[test]
fn the_sheets_own_schema_is_one() {
    schema(&Bench::empty(), "sheet");
}

#[test]
fn the_keys_of_the_contract_are_there() {
    for (what, value) in all_asked() {
        for path in PROMISED {
            assert!(value.pointer(path).is_some(), "{what}: {path} is missing");
        }
        assert_eq!(value["contract"], 1);
        assert_eq!(value["verb"], "pressures");
    }
}

/// What is null says why, and figures have ten digits at most.
pub(crate) fn assert_explained(value: &Value, what: &str) {
    match value {
        Value::Object(keys) => {
            for (key, value) in keys {
                let why = keys.get(&format!("{key}_why"));
                assert_eq!(
                    value.is_null(),
                    why.is_some_and(Value::is_string),
                    "{what}: {key}"
                );
                assert_explained(value, what);
            }
        }
        Value::Array(members) => members.iter().for_each(|member| assert_explained(member, what)),
        Value::Number(number) => {
            let written = format!("{:e}", number.as_f64().unwrap());
            let mantissa = written.split('e').next().unwrap();
            let digits = mantissa.chars().filter(char::is_ascii_digit).count();
            assert!(digits <= 10, "{what}: {number}");
        }
        _ => {}
    }
}

#[test]
fn what_is_null_says_why_and_figures_have_ten_digits() {
    for (what, value) in all_asked() {
        assert_explained(value, what);
    }
}

#[test]
fn the_fingerprint_is_that_of_the_sheets_bytes() {
    let bench = Bench::with_cars();
    let path = bench.path("cars/tarn/car.toml");
    let mut bytes = std::fs::read(&path).unwrap();
    bytes.extend(b"# \xc2\xb1\r\n");
    std::fs::write(&path, &bytes).unwrap();
    let found = bench.json(&["check-sheet", "tarn", "--json"]);
    assert_eq!(found["sheet_sha256"], records::Digest::of(&bytes).to_string());
}

/// `p = F · ratio · η / A`: 150 N × 7.0 × 0.90 over a bore of 5/8 in, by hand.
#[test]
fn the_levers_own_pressure_is_what_a_pocket_calculator_says() {
    let bench = Bench::with_cars();
    let value = bench.json(&["pressures", "tarn", "--hand", "150 N", "--json"]);
    let area_m2 = core::f64::consts::PI / 4.0 * 0.015_875 * 0.015_875;
    assert_near(number(&value, "/lever/own_pa"), 945.0 / area_m2);
    assert_eq!(value["pedal"]["travel_m"], 0.0);
    assert_eq!(value["wheels"]["front_left"]["torque_nm"], 0.0);
    assert_eq!(value["front_share"], 0.0);
}

#[test]
fn every_port_that_feeds_a_wheel_has_the_wheels_pressure() {
    let bench = Bench::with_cars();
    for car in CARS {
        let value = bench.json(&["pressures", car, "--foot", "300 N", "--hand", "150 N", "--json"]);
        for wheel in ["front_left", "front_right", "rear_left", "rear_right"] {
            let port = value["ports"]
                .as_array()
                .unwrap()
                .iter()
                .find(|port| port["port"] == format!("{wheel}.in"));
            assert_eq!(
                port.unwrap()["pressure_pa"],
                value["wheels"][wheel]["pressure_pa"],
                "{car}: {wheel}"
            );
        }
    }
}

/// The braking rate that the ground allows, taken back out of the loads: what the wheels get from the ground has to
/// make just that rate.
#[test]
fn what_the_ground_gives_brakes_the_car_as_its_loads_say() {
    for (what, value) in all_asked() {
        let (front_n, rear_n) = (
            number(value, "/load/front_static_n"),
            number(value, "/load/rear_static_n"),
        );
        let weight_n = front_n + rear_n;
        let wheelbase_m = number(value, "/load/cg_aft_m") * weight_n / rear_n;
        let grip = number(value, "/state/grip");
        let of = |wheel: &str, key: &str| number(value, &format!("/wheels/{wheel}/{key}"));
        let shifted_n = 2.0 * of("front_left", "grip_gives_n") / grip - front_n;
        let rate = shifted_n * wheelbase_m / (weight_n * number(value, "/load/cg_height_m"));
        let mut got_n = 0.0;
        for wheel in ["front_left", "front_right", "rear_left", "rear_right"] {
            let (asked_n, gives_n) = (of(wheel, "ground_force_n"), of(wheel, "grip_gives_n"));
            got_n += asked_n.min(gives_n);
            assert_eq!(
                value["wheels"][wheel]["asks_more_than_grip"],
                asked_n > gives_n,
                "{what}"
            );
        }
        assert!(
            (got_n - weight_n * rate).abs() < 1e-5 * weight_n,
            "{what}: {got_n} N at a rate of {rate}"
        );
    }
}

#[test]
fn a_cable_and_a_car_without_a_handbrake_say_what_they_lack() {
    let bench = Bench::with_cars();
    let sheet = std::fs::read_to_string(bench.path("cars/scree/car.toml")).unwrap();
    let (before, rest) = sheet.split_once("[lever]").unwrap();
    let (lever, after) = rest.split_once("[lever_brake]").unwrap();
    assert!(lever.contains("separate"));
    let (_, after) = after.split_once("[front_brake]").unwrap();
    let bare = format!("{before}[front_brake]{after}");
    std::fs::create_dir_all(bench.path("cars/bare")).unwrap();
    std::fs::write(bench.path("cars/bare/car.toml"), &bare).unwrap();
    let value = bench.json(&[
        "pressures",
        "bare",
        "--foot",
        "300 N",
        "--hand",
        "100 N",
        "--json",
    ]);
    assert_eq!(value["lever"]["own_pa_why"], "this car has no handbrake lever");
    assert!(value["warnings"].to_string().contains("--hand"));

    let cable =
        "[lever]\nkind = \"cable\"\ncable = { ratio = 28, efficiency = 0.6 }\nhand_pull = \"250 N\"\n";
    std::fs::write(
        bench.path("cars/bare/car.toml"),
        format!("{before}{cable}[front_brake]{after}"),
    )
    .unwrap();
    let value = bench.json(&["pressures", "bare", "--hand", "100 N", "--json"]);
    assert_eq!(value["lever"]["own_pa_why"], "a cable makes no pressure");
    // 2 μ F r: friction 0.42, 100 N × 28 × 0.6 halved over two wheels, 116 mm.
    assert_near(
        number(&value, "/wheels/rear_left/torque_nm"),
        2.0 * 0.42 * 840.0 * 0.116,
    );
    let page = bench.run(&["pressures", "bare", "--hand", "100 N"]);
    assert!(page.out.contains("no fluid moves"), "{}", page.out);
}

//! `heat` and `hold`: stages by name and by file, what a slope changes, and what is never missing.

use serde_json::Value;

use crate::bench::{Bench, CARS, assert_near, number};

fn heat(bench: &Bench, more: &[&str]) -> Value {
    bench.json(&[&["heat", "tarn", "--json", "--draws", "0"], more].concat())
}

#[test]
fn a_stage_is_one_that_comes_along_one_of_the_cars_own_or_a_file() {
    let bench = Bench::with_cars();
    assert_eq!(heat(&bench, &[])["stage"]["name"], "twisty gravel");
    assert_eq!(
        heat(&bench, &["--stage", "Fast Tarmac"])["stage"]["name"],
        "fast tarmac"
    );
    let own = heat(&bench, &["--stage", "service-loop"]);
    assert_eq!(own["stage"]["name"], "service-loop");
    assert_near(number(&own, "/stage/lasts_s"), 1185.0);
    let file = bench.path("moor.csv");
    std::fs::write(&file, "time [s],speed [km/h]\n0,90\n5,30\n60,90\n65,0\n").unwrap();
    let trace = heat(&bench, &["--stage", file.to_str().unwrap()]);
    assert_eq!(trace["stage"]["name"], "moor");
    assert_eq!(trace["stage"]["brakings"], 2);
    assert!(number(&trace, "/corners/front/disc_peak_k") > 320.0);
}

/// 20 stops from 120 to 50 km/h: the heat that the brakes make, by hand.
#[test]
fn the_heat_of_a_stop_list_is_what_a_pocket_calculator_says() {
    let bench = Bench::with_cars();
    let file = bench.path("twenty.toml");
    let text = "[[stop]]\nfrom = \"120 km/h\"\nto = \"50 km/h\"\nrate = 0.7\nevery = \"18 s\"\nrepeat = 20\n";
    std::fs::write(&file, text).unwrap();
    let value = heat(&bench, &["--stage", file.to_str().unwrap()]);
    let loads = bench.json(&["pressures", "tarn", "--json", "--foot", "100 N"]);
    let kg = number(&loads, "/load/mass_kg");
    let by_hand = 20.0 * 1.05 * 0.5 * kg * ((120.0_f64 / 3.6).powi(2) - (50.0_f64 / 3.6).powi(2));
    let made = number(&value, "/account/made_j");
    assert!((made / by_hand - 1.0).abs() < 1e-6, "{made} {by_hand}");
    let gone: f64 = ["held_j", "to_air_j", "radiated_j"]
        .iter()
        .map(|key| number(&value, &format!("/account/{key}")))
        .sum();
    assert!((gone / made - 1.0).abs() < 1e-6);
}

#[test]
fn a_stage_that_is_not_there_or_not_right_is_told_with_its_place() {
    let bench = Bench::with_cars();
    let run = bench.run(&["heat", "tarn", "--stage", "twisty gravle"]);
    assert_eq!(run.status, Some(2));
    assert!(
        run.aside.contains("did you mean \"twisty gravel\"?"),
        "{}",
        run.aside
    );
    let file = bench.path("wrong.toml");
    std::fs::write(
        &file,
        "[[stop]]\nfrom = \"120 km\"\nto = \"50 km/h\"\nrate = 0.7\nevery = \"18 s\"\n",
    )
    .unwrap();
    let run = bench.run(&["heat", "tarn", "--stage", file.to_str().unwrap()]);
    assert_eq!(run.status, Some(2));
    assert!(run.aside.contains("wrong.toml:2:9"), "{}", run.aside);
    let run = bench.run(&["heat", "tarn", "--stage", "nowhere/at/all.toml", "--json"]);
    assert_ne!(run.status, Some(0));
}

#[test]
fn hold_alone_takes_ten_per_cent_and_says_so() {
    let bench = Bench::with_cars();
    let hold = bench.json(&["hold", "tarn", "--json", "--draws", "0"]);
    assert_near(number(&hold, "/slope"), 0.10);
    assert_near(number(&hold, "/state/slope"), 0.10);
    let down = bench.json(&[
        "hold", "tarn", "--json", "--draws", "0", "--slope", "1 in 5", "--facing", "down",
    ]);
    assert_near(number(&down, "/slope"), 0.2);
    assert_eq!(down["state"]["facing"], "down");
    let level = bench.json(&["lever", "tarn", "--json", "--draws", "0"]);
    assert_near(number(&level, "/state/slope"), 0.0);
    // m g sin θ R: a slope of one in five has the sine 0.196116.
    let (one, two) = (
        number(&hold, "/torque_needed_nm"),
        number(&down, "/torque_needed_nm"),
    );
    assert!((two / one - 0.196_116 / 0.099_504).abs() < 1e-4);
}

#[test]
fn a_slope_changes_what_the_lever_needs_and_is_refused_where_it_is_none() {
    let bench = Bench::with_cars();
    let needed = |more: &[&str]| {
        let asked = [&["lever", "sedge", "--json", "--draws", "0"], more].concat();
        number(&bench.json(&asked), "/to_lock/torque_needed_nm")
    };
    let cosine = 0.2_f64.atan().cos();
    assert!((needed(&["--slope", "20 %"]) / (needed(&[]) * cosine) - 1.0).abs() < 1e-9);
    assert_eq!(bench.run(&["hold", "tarn", "--slope", "200 %"]).status, Some(2));
    assert_eq!(
        bench.run(&["hold", "tarn", "--facing", "sideways"]).status,
        Some(2)
    );
    let turn = bench.json(&["turn", "tarn", "--json", "--slope", "10 %"]);
    assert!(
        turn["warnings"].to_string().contains("--slope"),
        "{}",
        turn["warnings"]
    );
}

/// Wherever a hydraulic lever holds, the caution stands: on a terminal, in full, before the end.
#[test]
fn the_caution_is_never_missing() {
    let bench = Bench::with_cars();
    for car in CARS {
        let page = bench.run(&["hold", car, "--draws", "0"]).out;
        let plain = page.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(plain.contains("Parking: no."), "{page}");
        assert!(plain.contains("not a parking brake"), "{page}");
        assert!(plain.contains("Chock the wheels, leave it in gear"), "{page}");
        let value = bench.json(&["hold", car, "--json", "--draws", "0"]);
        assert_eq!(value["parking"], false);
    }
}

#[test]
fn without_a_lever_hold_is_told_what_is_missing() {
    let bench = Bench::with_cars();
    let sheet = std::fs::read_to_string(bench.path("cars/tarn/car.toml")).unwrap();
    let (before, rest) = sheet.split_once("[lever]").unwrap();
    let (_, after) = rest.split_once("[front_brake]").unwrap();
    std::fs::create_dir_all(bench.path("cars/none")).unwrap();
    let text = format!("{before}[front_brake]{after}");
    std::fs::write(bench.path("cars/none/car.toml"), text).unwrap();
    let run = bench.run(&["hold", "none"]);
    assert_eq!(run.status, Some(2), "{}", run.aside);
    assert!(run.aside.contains("no handbrake lever"), "{}", run.aside);
}

//! "What is wrong?" and "Where is the leak?", as a person and as other programs read them.

use serde_json::Value;

use crate::bench::{Bench, CARS};
use crate::machine::{assert_explained, assert_valid, schema};

const SAYS: &str = "long, then firm on the second pull";

fn json(bench: &Bench, arguments: &[&str]) -> Value {
    let run = bench.run(&[arguments, &["--json"]].concat());
    assert_eq!(run.status, Some(0), "{arguments:?}: {}{}", run.out, run.aside);
    serde_json::from_str(&run.out).unwrap()
}

fn weight(answer: &Value, cause: &str) -> f64 {
    let causes = answer["causes"].as_array().unwrap();
    let found = causes.iter().find(|one| one["slug"] == cause);
    found.map_or(0.0, |one| one["weight"].as_f64().unwrap())
}

#[test]
fn results_keep_to_their_schema() {
    let bench = Bench::with_cars();
    for verb in ["symptom", "leak"] {
        let schema = schema(&bench, verb);
        for car in CARS {
            let mut arguments = vec![verb, car];
            if verb == "symptom" {
                arguments.push(SAYS);
            }
            let answer = json(&bench, &arguments);
            assert_valid(&schema, &answer, car);
            assert_explained(&answer, car);
        }
    }
}

#[test]
fn what_a_test_said_is_kept_narrows_the_rest_and_ends_when_it_is_put_right() {
    let bench = Bench::with_cars();
    let before = json(&bench, &["symptom", "tarn", SAYS]);
    let test = before["test"]["slug"].as_str().unwrap().to_owned();
    let first = before["causes"][0]["slug"].as_str().unwrap().to_owned();
    let found = format!("{test}=yes");
    let once = json(&bench, &["symptom", "tarn", SAYS, "--found", &found]);
    assert!((weight(&once, &first) - weight(&before, &first)).abs() > 0.05);
    assert_eq!(
        json(&bench, &["symptom", "tarn", SAYS]),
        before,
        "said, not written"
    );
    let kept = json(
        &bench,
        &["symptom", "tarn", SAYS, "--found", &found, "--write-down"],
    );
    assert_eq!(kept["causes"], once["causes"]);
    let later = json(&bench, &["symptom", "tarn", SAYS]);
    assert_eq!(later["causes"], once["causes"]);
    assert_ne!(later["test"]["slug"], before["test"]["slug"], "it is done");
    let page = bench.run(&["symptom", "tarn", SAYS]).out;
    assert!(page.contains("in the logbook on"), "{page}");
    // Another sentence is another fault.
    let other = json(&bench, &["symptom", "tarn", "pedal soft"]);
    assert_eq!(other["done"], Value::Array(Vec::new()));
    // Said the other way round now, that counts.
    let other_way = json(
        &bench,
        &["symptom", "tarn", SAYS, "--found", &format!("{test}=no")],
    );
    assert!(weight(&other_way, &first) < weight(&before, &first));
    let right = json(&bench, &["symptom", "tarn", SAYS, "--right"]);
    assert_eq!(right["causes"], before["causes"]);
    let list = json(&bench, &["logbook", "list", "tarn"]);
    let entries = list["entries"].as_array().unwrap();
    let faults: Vec<&Value> = entries.iter().filter(|entry| entry["kind"] == "fault").collect();
    assert_eq!(faults.len(), 2, "{list}");
}

#[test]
fn what_would_mean_nothing_is_refused_before_it_is_written() {
    let bench = Bench::with_cars();
    for (arguments, slug) in [
        (&["symptom", "tarn", SAYS, "--write-down"][..], "nothing-found"),
        (&["symptom", "tarn", "xyzzy", "--right"], "no-such-symptom"),
        (
            &["symptom", "tarn", SAYS, "--found", "two-pulls", "--write-down"],
            "no-such-test",
        ),
        (&["leak", "tarn", "--sign", "hisses"], "no-such-sign"),
        (&["leak", "tarn", "--still", "yes,perhaps"], "not-yes-or-no"),
    ] {
        let run = bench.run(&[arguments, &["--json"]].concat());
        assert_eq!(run.status, Some(2), "{arguments:?}: {}", run.out);
        let told: Value = serde_json::from_str(&run.out).unwrap();
        assert_eq!(told["errors"][0]["slug"], slug, "{told}");
    }
    for data in [
        r#"{"symptom":"long-then-firm","test":"dance","said":"yes"}"#,
        r#"{"symptom":"hisses","right":true}"#,
        r#"{"symptom":"long-then-firm","test":"two-pulls","said":"perhaps"}"#,
        r#"{"test":"two-pulls","said":"yes"}"#,
    ] {
        let run = bench.run(&[
            "logbook", "add", "tarn", "--kind", "fault", "--text", "x", "--data", data,
        ]);
        assert_eq!(run.status, Some(2), "{data}: {}", run.out);
    }
    assert!(!bench.path("cars/tarn/logbook.db").exists());
}

#[test]
fn a_round_of_cuts_goes_on_from_what_was_said() {
    let bench = Bench::with_cars();
    let all = json(&bench, &["leak", "tarn"]);
    let count = |answer: &Value| answer["suspects"].as_array().unwrap().len();
    let (still, holds) = (
        json(&bench, &["leak", "tarn", "--still", "yes"]),
        json(&bench, &["leak", "tarn", "--still", "no"]),
    );
    assert_eq!(count(&still) + count(&holds), count(&all));
    assert_eq!(still["made"][0]["still"], true);
    let wet = json(&bench, &["leak", "tarn", "--sign", "Rear Left wet"]);
    assert!(wet["next"].is_null() && wet["next_why"].is_string(), "{wet}");
    assert!(count(&wet) < count(&all));
    // A joint that weeps comes first, once others are dry.
    let joint = all["suspects"]
        .as_array()
        .unwrap()
        .iter()
        .filter_map(|one| one["joint"].as_str())
        .next_back()
        .unwrap()
        .to_owned();
    let others: Vec<String> = json(&bench, &["lines", "tarn"])["joints"]
        .as_array()
        .unwrap()
        .iter()
        .map(|one| one["id"].as_str().unwrap().to_owned())
        .filter(|id| *id != joint)
        .collect();
    for state in ["marked", "dry"] {
        for id in &others {
            let data = format!(r#"{{"joint":"{id}","state":"{state}"}}"#);
            let run = bench.run(&[
                "logbook", "add", "tarn", "--kind", "joint", "--text", state, "--data", &data,
            ]);
            assert_eq!(run.status, Some(0), "{}", run.aside);
        }
    }
    let now = json(&bench, &["leak", "tarn"]);
    assert_eq!(now["suspects"][0]["joint"], joint.as_str(), "{now}");
}

#[test]
fn what_was_done_between_two_pulls_stands_beside_what_changed() {
    let bench = Bench::with_cars();
    let sheet = bench.path("cars/sedge/car.toml");
    let text = std::fs::read_to_string(&sheet).unwrap();
    // The later pull is one of days to come: what is written today lies between.
    std::fs::write(&sheet, text.replace("on = 2026-09-19", "on = 2099-01-01")).unwrap();
    let add = |kind: &str, data: &str| {
        let run = bench.run(&[
            "logbook", "add", "sedge", "--kind", kind, "--text", "x", "--data", data,
        ]);
        assert_eq!(run.status, Some(0), "{}", run.aside);
    };
    let before = bench.run(&["pull", "sedge"]).out;
    assert!(!before.contains("By the logbook"), "{before}");
    add("pads", r#"{"axle":"rear","left":"4.0 mm"}"#);
    assert!(
        !bench.run(&["pull", "sedge"]).out.contains("By the logbook"),
        "once is no wear"
    );
    add("note", r#"{"hoses":"fitted"}"#);
    add("note", r#"{"step":"bleed"}"#);
    let after = bench.run(&["pull", "sedge"]).out;
    for said in ["By the logbook, between the two", "hoses fitted", ": bled"] {
        assert!(after.contains(said), "{said}: {after}");
    }
}

#[test]
fn the_hardest_stop_is_drawn_with_what_was_computed() {
    let bench = Bench::with_cars();
    let file = bench.path("stop.svg");
    let run = bench.run(&[
        "logger",
        "tarn",
        "--demonstration",
        "--svg",
        file.to_str().unwrap(),
    ]);
    assert_eq!(run.status, Some(0), "{}", run.aside);
    let svg = std::fs::read_to_string(file).unwrap();
    for said in [
        "The hardest stop of the log",
        "rear, computed",
        "class=\"line front\"",
    ] {
        assert!(svg.contains(said), "{said}");
    }
}

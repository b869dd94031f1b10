//! Which parts: the limits that are kept, rows that go back through `--with`, and what is said where nothing keeps them.

use serde_json::Value;

use crate::bench::{Bench, number};

/// The keys of a row as `--with` takes them.
fn with(row: &Value) -> Vec<String> {
    let keys = row
        .as_object()
        .unwrap()
        .iter()
        .filter(|(key, _)| key.contains('.'));
    keys.map(|(key, value)| {
        let text = value.as_str().map_or_else(|| value.to_string(), str::to_owned);
        format!("{key}={text}")
    })
    .collect()
}

#[test]
fn each_row_keeps_the_limits_and_goes_back_through_with() {
    let bench = Bench::with_cars();
    let asked = [
        "size",
        "tarn-let-go",
        "--json",
        "--change",
        "lever, pads, master",
        "--hand",
        "300 N",
        "--room",
        "170 mm",
        "--wanted",
        "rear-first 20 %",
    ];
    let found = bench.json(&asked);
    let counted = number(&found, "/computed") + number(&found, "/excluded");
    assert!((number(&found, "/searched") - counted).abs() < 0.5, "{found}");
    let best = found["best"].as_array().unwrap();
    assert!(!best.is_empty() && number(&found, "/met") >= 1.0, "{found}");
    for row in best {
        assert!(number(row, "/hand_force_n") <= 300.0 && number(row, "/travel_m") <= 0.17);
        let with = with(row);
        let mut again = vec![
            "lever",
            "tarn-let-go",
            "--json",
            "--draws",
            "0",
            "--hand",
            "300 N",
        ];
        for key in &with {
            again.extend(["--with", key.as_str()]);
        }
        let lever = bench.json(&again);
        let (alone, row_n) = (
            number(&lever, "/to_lock/hand_force_n"),
            number(row, "/hand_force_n"),
        );
        // The worst reading of the centre decides both; what reads otherwise asks for no more.
        assert!(
            (row_n / alone - 1.0).abs() < 1e-9,
            "{with:?}: {row_n} and {alone}"
        );
    }
    let changes: Vec<f64> = best.iter().map(|row| number(row, "/changes")).collect();
    assert!(changes.windows(2).all(|pair| pair[0] <= pair[1]), "{changes:?}");
}

#[test]
fn where_nothing_keeps_the_limits_the_nearest_miss_is_named() {
    let bench = Bench::with_cars();
    let asked = ["size", "tarn-let-go", "--hand", "20 N", "--change", "lever"];
    let found = bench.json(&[&asked[..], &["--json"]].concat());
    assert!(number(&found, "/met").abs() < 0.5, "{found}");
    assert!(number(&found, "/broken/hand") > 0.0, "{found}");
    let breaks = found["nearest"]["breaks"].as_array().unwrap();
    assert!(breaks.iter().any(|limit| limit == "hand"), "{found}");
    let said = bench.run(&asked);
    assert_eq!(said.status, Some(0));
    assert!(
        said.out.contains("NOTHING KEEPS THEM") || said.out.contains("Nothing keeps them"),
        "{}",
        said.out
    );
    assert!(said.out.contains("The nearest miss"), "{}", said.out);
}

#[test]
fn parts_that_are_none_are_named_with_those_that_there_are() {
    let bench = Bench::with_cars();
    let error = bench.first_error(2, &["size", "tarn", "--change", "levr", "--json"]);
    assert_eq!(error["slug"], "unknown-part");
    assert!(error["do"].as_str().unwrap().contains("lever"), "{error}");
}

//! The logbook from the command line: what is printed is on the disk, and a damaged file is noticed.

use serde_json::json;

use crate::bench::{Bench, one_object};

#[test]
fn what_is_added_is_listed_struck_and_exported() {
    let bench = Bench::with_cars();
    assert!(
        bench
            .run(&["logbook", "list", "tarn"])
            .out
            .contains("Nothing is written down yet")
    );
    let first = bench.json(&[
        "logbook",
        "add",
        "tarn",
        "--kind",
        "setting",
        "--text",
        "2.5 turns",
        "--data",
        "{\"event\":\"Fell\"}",
    ]);
    assert_eq!((&first["id"], &first["kind"]), (&json!(1), &json!("setting")));
    assert_eq!(first["data"], json!({ "text": "2.5 turns", "event": "Fell" }));
    // The same name is written once.
    let named = [
        "logbook", "add", "tarn", "--kind", "note", "--text", "wet", "--id", "a-1",
    ];
    assert_eq!(bench.json(&named), bench.json(&named));
    let struck = bench.json(&["logbook", "strike", "tarn", "1", "--why", "wrong car"]);
    assert_eq!(struck["strikes"], 1);
    let list = bench.json(&["logbook", "list", "tarn", "--json"]);
    assert_eq!(list["entries"].as_array().unwrap().len(), 3);
    assert_eq!(list["entries"][0]["struck_by"], 3);
    let csv = bench.run(&["logbook", "export", "tarn"]).out;
    assert_eq!(csv.lines().count(), 4, "{csv}");
    let whole = bench.json(&["logbook", "verify", "tarn", "--json"]);
    assert_eq!(
        (&whole["ok"], &whole["entries"], &whole["head"]),
        (&json!(true), &json!(3), &struck["hash"])
    );
}

#[test]
fn a_damaged_book_and_a_lost_tail_are_noticed() {
    let bench = Bench::with_cars();
    bench.json(&[
        "logbook",
        "add",
        "tarn",
        "--kind",
        "note",
        "--text",
        "the pedal is firm today",
    ]);
    let head = bench.json(&["logbook", "verify", "tarn", "--json"])["head"]
        .as_str()
        .unwrap()
        .to_owned();
    assert_eq!(
        bench.run(&["logbook", "verify", "tarn", "--head", &head]).status,
        Some(0)
    );
    let other = "0".repeat(64);
    let run = bench.run(&["logbook", "verify", "tarn", "--head", &other, "--json"]);
    assert_eq!(
        (run.status, &one_object(&run.out)["ok"]),
        (Some(1), &json!(false))
    );
    let path = bench.path("cars/tarn/logbook.db");
    let mut bytes = std::fs::read(&path).unwrap();
    let at = bytes.windows(4).position(|window| window == b"firm").unwrap();
    bytes[at] = b'F';
    std::fs::write(&path, bytes).unwrap();
    let run = bench.run(&["logbook", "verify", "tarn", "--json"]);
    assert_eq!(
        (run.status, &one_object(&run.out)["first_bad"]),
        (Some(1), &json!(1))
    );
}

#[test]
fn wrong_kinds_data_and_entries_say_what_may_be_said() {
    let bench = Bench::with_cars();
    for (status, arguments) in [
        (
            2,
            vec![
                "logbook", "add", "tarn", "--kind", "jont", "--text", "x", "--json",
            ],
        ),
        (
            2,
            vec![
                "logbook", "add", "tarn", "--kind", "note", "--text", "x", "--data", "{", "--json",
            ],
        ),
        (
            2,
            vec![
                "logbook", "add", "tarn", "--kind", "note", "--text", "x", "--id", "a b", "--json",
            ],
        ),
        (2, vec!["logbook", "strike", "tarn", "7", "--why", "no", "--json"]),
        (2, vec!["logbook", "verify", "tarn", "--head", "xyz", "--json"]),
        (
            3,
            vec!["logbook", "add", "trn", "--kind", "note", "--text", "x", "--json"],
        ),
    ] {
        let error = bench.first_error(status, &arguments);
        assert!(
            !error["do"].as_str().unwrap().is_empty(),
            "{arguments:?}: {error}"
        );
    }
    assert!(
        !bench.path("cars/tarn/logbook.db").exists(),
        "nothing was written"
    );
}

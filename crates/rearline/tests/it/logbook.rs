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

/// Whatever leans on the logbook says first that it does not read; what can be said without it is said all the same.
#[test]
fn a_logbook_that_does_not_read_is_a_stop_everywhere() {
    let bench = Bench::with_cars();
    let joint = "master.rear–master_to_bulkhead.a";
    for (kind, data) in [
        ("joint", format!("{{\"joint\":\"{joint}\",\"state\":\"weep\"}}")),
        ("note", "{}".to_owned()),
    ] {
        bench.json(&[
            "logbook",
            "add",
            "tarn",
            "--kind",
            kind,
            "--text",
            "wet below",
            "--data",
            &data,
        ]);
    }
    let assess = ["assess", "tarn", "--draws", "0", "--json"];
    let stops = |value: &serde_json::Value| -> Vec<String> {
        value["findings"]
            .as_array()
            .unwrap()
            .iter()
            .filter(|finding| finding["weight"] == "stop")
            .map(|finding| finding["slug"].as_str().unwrap().to_owned())
            .collect()
    };
    assert!(stops(&bench.json(&assess)).contains(&"joint-weeps".to_owned()));
    let path = bench.path("cars/tarn/logbook.db");
    let whole = std::fs::read(&path).unwrap();
    let at = whole
        .windows(9)
        .position(|window| window == b"wet below")
        .unwrap();
    let mut flipped = whole.clone();
    flipped[at] ^= 1;
    for damaged in [&flipped, &whole[..whole.len() / 2], b"", b"no database"] {
        std::fs::write(&path, damaged).unwrap();
        for arguments in [
            &["assess", "tarn", "--draws", "0"][..],
            &["prove", "tarn"],
            &["plan", "tarn"],
            &["logbook", "due", "tarn"],
            &["--no-page"],
        ] {
            let run = bench.run(arguments);
            assert_eq!(run.status, Some(3), "{arguments:?}: {}{}", run.out, run.aside);
            let out = run.out.split_whitespace().collect::<Vec<_>>().join(" ");
            assert!(
                out.to_lowercase().contains("the logbook does not read"),
                "{arguments:?}: {out}"
            );
            assert!(
                out.contains("top:") || out.contains("stop"),
                "{arguments:?}: {out}"
            );
        }
        let run = bench.run(&assess);
        assert_eq!(run.status, Some(3));
        assert!(stops(&one_object(&run.out)).contains(&"logbook-lost".to_owned()));
        let run = bench.run(&["prove", "tarn", "--json"]);
        let proof = one_object(&run.out);
        assert_eq!((run.status, &proof["may_sign"]), (Some(3), &json!(false)));
        assert!(
            proof["open"][0].as_str().unwrap().contains("does not read"),
            "{}",
            proof["open"]
        );
        assert_eq!(
            bench.first_error(3, &["logbook", "list", "tarn", "--json"])["place"],
            json!(null)
        );
        // Nothing is written beside what cannot be read.
        bench.first_error(3, &["prove", "tarn", "--joint", "1", "--is", "dry", "--json"]);
        bench.first_error(3, &["plan", "tarn", "--done", "buy", "--json"]);
        assert_eq!(&std::fs::read(&path).unwrap(), damaged);
    }
    std::fs::write(&path, &whole).unwrap();
    assert!(stops(&bench.json(&assess)).contains(&"joint-weeps".to_owned()));
}

/// What an ordinary write takes is waited for.
#[test]
fn a_logbook_in_use_is_waited_for() {
    let bench = Bench::with_cars();
    bench.json(&["logbook", "add", "tarn", "--kind", "note", "--text", "one"]);
    let path = bench.path("cars/tarn/logbook.db");
    let other = rusqlite::Connection::open(&path).unwrap();
    other.execute_batch("BEGIN EXCLUSIVE").unwrap();
    let waiting = std::thread::spawn({
        let mut command = bench.command(&["logbook", "due", "tarn"]);
        move || crate::bench::finished(&mut command)
    });
    std::thread::sleep(std::time::Duration::from_secs(1));
    other.execute_batch("COMMIT").unwrap();
    let run = waiting.join().unwrap();
    assert_eq!(run.status, Some(0), "{}{}", run.out, run.aside);
    other.execute_batch("BEGIN EXCLUSIVE").unwrap();
    let run = bench.run(&["logbook", "due", "tarn"]);
    assert_eq!(run.status, Some(3));
    let out = run.out.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(out.contains("in use by another program"), "{out}");
}

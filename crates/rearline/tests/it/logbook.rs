//! The logbook from the command line: what is printed is on the disk, and a damaged file is noticed.

use serde_json::json;

use records::logbook::{Data, Draft, EntryKind, Logbook, Stamp, WAIT};

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

/// Joints and parts are told as people call them; their ids stay in the data.
#[test]
fn entries_name_joints_as_people_call_them() {
    let bench = Bench::with_cars();
    for arguments in [
        &["prove", "tarn", "--joint", "9", "--is", "marked"][..],
        &["prove", "tarn", "--touched", "lever"],
        &[
            "logbook",
            "add",
            "tarn",
            "--kind",
            "joint",
            "--text",
            "wet below",
            "--data",
            "{\"joint\": \"9\", \"state\": \"weep\"}",
        ],
        &[
            "logbook",
            "add",
            "tarn",
            "--kind",
            "pads",
            "--text",
            "by eye",
            "--data",
            "{\"axle\": \"rear\", \"left\": \"6.2 mm\"}",
        ],
    ] {
        let run = bench.run(arguments);
        assert_eq!(run.status, Some(0), "{}", run.aside);
    }
    let listed = bench.run(&["logbook", "list", "tarn"]).out;
    for said in [
        "joint 9, master cylinder rear: marked\n",
        "lever cylinder was opened\n",
        "joint 9, master cylinder rear: weep; wet below\n",
        "by eye\n",
        "rear: 6.2 mm left\n",
    ] {
        assert!(listed.contains(said), "{said}: {listed}");
    }
    assert!(!listed.contains("master.rear"), "{listed}");
    let data = bench.json(&["logbook", "list", "tarn", "--json"]);
    assert_eq!(
        data["entries"][0]["data"]["joint"],
        "master.rear\u{2013}master_to_bulkhead.a"
    );
    // A sheet that does not read keeps nobody from reading what was done.
    std::fs::write(bench.path("cars/tarn/car.toml"), "name = ").unwrap();
    let listed = bench.run(&["logbook", "list", "tarn"]);
    assert_eq!(listed.status, Some(0), "{}", listed.aside);
    assert!(
        listed.out.contains("a joint at master rear: marked\n"),
        "{}",
        listed.out
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
            &["lines", "tarn"],
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
        let lists = bench.run(&["lines", "tarn"]).out;
        assert!(lists.contains("What is ticked off is not known"), "{lists}");
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

/// What would never count is not written; the exit status and the words say so.
#[test]
fn an_entry_that_would_never_count_is_refused() {
    let bench = Bench::with_cars();
    let add = |kind: &'static str, data: &'static str| {
        vec![
            "logbook", "add", "tarn", "--kind", kind, "--text", "x", "--data", data, "--json",
        ]
    };
    let joint = "master.rear–master_to_bulkhead.a";
    assert!(
        bench.json(&["lines", "tarn", "--json"])["joints"]
            .to_string()
            .contains(joint)
    );
    for (kind, data, expected) in [
        (
            "joint",
            "{\"joint\":\"master.rear–master_to_bulkhead.a\",\"state\":\"wep\"}",
            "marked, dry, weep, remade",
        ),
        (
            "joint",
            "{\"joint\":\"master.rear–nowhere.a\",\"state\":\"weep\"}",
            "no joint of this car",
        ),
        ("joint", "{\"touched\":\"levr\"}", "no component, run or joint"),
        ("pads", "{\"axle\":\"rear\"}", "6.2 mm"),
        ("pads", "{\"axle\":\"rear\",\"left\":\"-1 mm\"}", "0 mm to 40 mm"),
        ("pads", "{\"axle\":\"rear\",\"left\":\"62 cm\"}", "0 mm to 40 mm"),
        ("fluid", "{\"boils\":\"1000000000 C\"}", "90 C to 400 C"),
        ("fluid", "{}", "`changed`: true"),
        (
            "reading",
            "{\"check\":\"walking\",\"result\":\"held\"}",
            "joints are not dry",
        ),
        (
            "signoff",
            "{\"by\":\"A. Preparer\"}",
            "it signs while something is open",
        ),
        ("note", "{\"step\":\"byu\"}", "no step of the work"),
        ("note", "{\"got\":\"nothing of the list\"}", "no part or run"),
        ("note", "{\"hose\":\"fitted\"}", "did you mean `hoses`?"),
    ] {
        let error = bench.first_error(2, &add(kind, data));
        let text = error["text"].as_str().unwrap();
        assert!(text.contains(expected), "{kind} {data}: {error}");
    }
    assert!(
        !bench.path("cars/tarn/logbook.db").exists(),
        "nothing was written"
    );
    bench.first_error(2, &["prove", "tarn", "--check", "walking", "--held", "--json"]);
    bench.json(&["prove", "tarn", "--check", "walking", "--failed", "--json"]);
    // Sent again under its name, an entry is one that counts, whatever has become of the joint since.
    let named = [
        "logbook", "add", "tarn", "--kind", "joint", "--text", "x", "--id", "j1", "--data",
    ];
    let marked = "{\"joint\":\"master.rear–master_to_bulkhead.a\",\"state\":\"marked\"}";
    let first = bench.json(&[&named[..], &[marked]].concat());
    bench.json(&["prove", "tarn", "--joint", joint, "--is", "weep", "--json"]);
    assert_eq!(bench.json(&[&named[..], &[marked]].concat()), first);
}

/// A sheet with a typing mistake keeps nobody from writing down what was done; it is not signed, though.
#[test]
fn a_car_with_a_faulty_sheet_takes_entries() {
    let bench = Bench::with_cars();
    let sheet = bench.path("cars/tarn/car.toml");
    let text = std::fs::read_to_string(&sheet).unwrap();
    std::fs::write(&sheet, format!("{text}\n[lever_]\n")).unwrap();
    let data = "{\"joint\":\"master.rear–master_to_bulkhead.a\",\"state\":\"weep\"}";
    let add = ["logbook", "add", "tarn", "--text", "x", "--kind"];
    bench.json(&[&add[..], &["joint", "--data", data]].concat());
    bench.json(&[&add[..], &["note"]].concat());
    let error = bench.first_error(
        2,
        &[&add[..], &["signoff", "--data", "{\"by\":\"A\"}", "--json"]].concat(),
    );
    assert_eq!(error["slug"], "not-yet");
    std::fs::write(&sheet, text).unwrap();
    let assessed = bench.json(&["assess", "tarn", "--draws", "0", "--json"]);
    assert!(assessed["findings"].to_string().contains("joint-weeps"));
}

/// Writes an entry past what reads entries before they are written, as an older program may have done.
pub(crate) fn older_entry(bench: &Bench, kind: EntryKind, data: &str) {
    let mut book = Logbook::open_or_create(&bench.path("cars/tarn/logbook.db"), WAIT).unwrap();
    let at = "2026-05-01T07:30:00Z".parse().unwrap();
    book.append(&Draft {
        stamp: Stamp::new(at, jiff::tz::Offset::UTC, "older", "1").unwrap(),
        kind,
        data: Data::parse(data).unwrap(),
    })
    .unwrap();
}

/// An entry that an older program wrote and that cannot be read is not dropped in silence.
#[test]
fn entries_that_do_not_count_are_told() {
    let bench = Bench::with_cars();
    older_entry(&bench, EntryKind::Joint, "{\"joint\":\"x\",\"state\":\"wep\"}");
    let assessed = bench.json(&["assess", "tarn", "--draws", "0", "--json"]);
    let finding = assessed["findings"]
        .as_array()
        .unwrap()
        .iter()
        .find(|finding| finding["slug"] == "entries-not-counted")
        .unwrap();
    assert!(
        finding["because"].as_str().unwrap().contains("`wep` is no state"),
        "{finding}"
    );
}

//! Making and checking sheets, and the cars folder.

use std::fs;

use crate::bench::{Bench, CARS};

#[test]
fn alone_it_makes_the_folder_once_and_never_again() {
    let bench = Bench::empty();
    let run = bench.run(&["--no-page"]);
    assert_eq!((run.status, run.aside.as_str()), (Some(0), ""));
    assert!(run.out.contains("Made the folder cars"), "{}", run.out);
    assert!(run.out.contains("invented"));
    for car in CARS {
        assert!(run.out.contains(&format!("\n{car}: ")), "{car}:\n{}", run.out);
    }
    let sheet = bench.path("cars/tarn/car.toml");
    fs::write(&sheet, "mine").unwrap();
    let again = bench.run(&["--no-page"]);
    assert_eq!(again.status, Some(0));
    assert!(!again.out.contains("Made"));
    assert!(again.out.contains("rearline check-sheet tarn"), "{}", again.out);
    assert_eq!(fs::read_to_string(&sheet).unwrap(), "mine");
    fs::remove_dir_all(bench.path("cars/bin")).unwrap();
    bench.run(&["--no-page"]);
    assert!(!bench.path("cars/bin").exists(), "what was taken out stays out");
}

#[test]
fn a_folder_that_was_named_is_not_made_unasked() {
    let bench = Bench::empty();
    let run = bench.run(&["--cars", "typo", "--no-page"]);
    assert_eq!((run.status, run.out.as_str()), (Some(2), ""));
    assert!(
        run.aside.contains("no such folder") && run.aside.contains("mkdir typo"),
        "{}",
        run.aside
    );
    assert!(!bench.path("typo").exists());
}

#[test]
fn the_folder_may_stand_before_the_verb() {
    let bench = Bench::with_cars();
    fs::rename(bench.path("cars"), bench.path("elsewhere")).unwrap();
    let behind = bench.run(&["assess", "tarn", "--cars", "elsewhere", "--json"]);
    assert_eq!(behind.status, Some(0), "{}", behind.aside);
    // Before a verb that has verbs of its own, and between the two.
    for words in [
        ["--cars", "elsewhere", "logbook", "list", "tarn"].as_slice(),
        &["--cars=elsewhere", "logbook", "list", "tarn"],
        &["logbook", "--cars", "elsewhere", "list", "tarn"],
        &["proposal", "--cars=elsewhere", "list", "tarn"],
    ] {
        let run = bench.run(words);
        assert_eq!(run.status, Some(0), "{words:?}: {}", run.aside);
    }
    let run = bench.run(&["--cars", "nowhere", "logbook", "list", "tarn"]);
    assert_eq!(run.status, Some(3), "{}", run.aside);
    for before in [["--cars", "elsewhere"].as_slice(), &["--cars=elsewhere"]] {
        let run = bench.run(&[before, &["assess", "tarn", "--json"]].concat());
        assert_eq!(
            (run.status, run.out == behind.out),
            (Some(0), true),
            "{}",
            run.aside
        );
    }
}

#[test]
fn an_empty_folder_says_what_to_do() {
    let bench = Bench::empty();
    fs::create_dir(bench.path("cars")).unwrap();
    let run = bench.run(&["--no-page"]);
    assert_eq!(run.status, Some(0));
    assert!(
        run.out.contains("holds no car yet") && run.out.contains("rearline new NAME"),
        "{}",
        run.out
    );
    let run = bench.run(&["check-sheet", "tarn"]);
    assert_eq!(run.status, Some(3));
    assert!(run.aside.contains("holds no car yet"), "{}", run.aside);
}

#[test]
fn another_folder_is_looked_at_where_it_is_asked_for() {
    let bench = Bench::empty();
    fs::create_dir_all(bench.path("here/and there")).unwrap();
    assert_eq!(
        bench.run(&["--cars", "here/and there", "--no-page"]).status,
        Some(0)
    );
    fs::write(bench.path("file"), "").unwrap();
    assert_eq!(bench.run(&["--cars", "file"]).status, Some(3));
    assert_eq!(bench.run(&["--cars", "file/cars"]).status, Some(2));
}

#[test]
fn a_new_sheet_is_written_once() {
    let bench = Bench::empty();
    let run = bench.run(&["new", "fell mk2"]);
    assert_eq!(run.status, Some(0), "{}", run.aside);
    assert!(
        run.out.contains("rearline check-sheet \"fell mk2\""),
        "{}",
        run.out
    );
    let path = bench.path("cars/fell mk2/car.toml");
    let sheet = fs::read_to_string(&path).unwrap();
    assert!(sheet.contains("fell mk2"));
    // It is to be filled in, and says where.
    let run = bench.run(&["check-sheet", "fell mk2"]);
    assert_eq!(run.status, Some(2));
    assert!(run.aside.contains("wheelbase"), "{}", run.aside);
    for name in ["fell mk2", "Fell MK2"] {
        assert_eq!(
            bench.first_error(2, &["check-sheet", "fell mk2", "--json"])["file"],
            "cars/fell mk2/car.toml"
        );
        assert_eq!(bench.run(&["new", name]).status, Some(2), "{name}");
    }
    assert_eq!(fs::read_to_string(&path).unwrap(), sheet);
    for name in ["", "con", "a/b", "..", "x.toml"] {
        assert_eq!(bench.run(&["new", name]).status, Some(2), "{name}");
    }
}

#[test]
fn a_new_sheet_is_for_the_kind_of_car_that_was_named() {
    let bench = Bench::empty();
    let run = bench.run(&[
        "new",
        "fell",
        "--with",
        "rear_brake.kind=drum",
        "--with",
        "master.split=diagonal",
    ]);
    assert_eq!(run.status, Some(0), "{}", run.aside);
    let sheet = fs::read_to_string(bench.path("cars/fell/car.toml")).unwrap();
    assert!(sheet.contains("drum") && sheet.contains("diagonal"));
    let run = bench.run(&[
        "new",
        "moss",
        "--with",
        "rear_brake.kind=drun",
        "--with",
        "lever.bore=5/8 in",
    ]);
    assert_eq!(run.status, Some(2));
    assert!(
        run.aside.contains("--with:1:17:") && run.aside.contains("did you mean \"drum\"?"),
        "{}",
        run.aside
    );
    assert!(!bench.path("cars/moss").exists());
}

#[test]
fn a_sheet_is_checked_and_nothing_else() {
    let bench = Bench::with_cars();
    for car in CARS {
        let run = bench.run(&["check-sheet", car]);
        assert_eq!((run.status, run.aside.as_str()), (Some(0), ""), "{car}");
        assert!(run.out.contains("nothing is wrong"), "{}", run.out);
        let run = bench.run(&["check-sheet", car, "--upgrade"]);
        assert_eq!(run.status, Some(0), "{car}");
        assert!(run.out.contains("nothing to rewrite"), "{}", run.out);
    }
    let bin = fs::read_to_string(bench.path("cars/bin/car.toml")).unwrap();
    let line = 1 + bin
        .lines()
        .position(|line| line.starts_with("free_play"))
        .unwrap();
    let page = bench.run(&["check-sheet", "bin"]).out;
    assert!(page.contains(&format!("line {line}, lever.free_play")), "{page}");
    let path = bench.path("cars/tarn/car.toml");
    let sheet = fs::read_to_string(&path).unwrap();
    fs::write(
        &path,
        sheet.replace("bore     = \"5/8 in\"", "boer     = \"5/8\""),
    )
    .unwrap();
    let run = bench.run(&["check-sheet", "tarn"]);
    assert_eq!((run.status, run.out.as_str()), (Some(2), ""));
    assert!(
        run.aside.contains("cars/tarn/car.toml:") && run.aside.contains("did you mean"),
        "{}",
        run.aside
    );
    let error = bench.first_error(2, &["check-sheet", "tarn", "--json"]);
    assert_eq!(error["slug"], "unknown-key");
    assert!(error["line"].as_u64().unwrap() > 50);
}

#[test]
fn a_car_is_copied_renamed_and_put_away_and_nothing_is_deleted() {
    let bench = Bench::with_cars();
    let sheet = fs::read_to_string(bench.path("cars/tarn/car.toml")).unwrap();
    let run = bench.run(&["copy", "tarn", "tarn wet"]);
    assert_eq!(run.status, Some(0), "{}", run.aside);
    assert_eq!(
        fs::read_to_string(bench.path("cars/tarn wet/car.toml")).unwrap(),
        sheet
    );
    let list = bench.run(&["logbook", "list", "tarn wet"]);
    assert!(list.out.contains("copied from tarn"), "{}", list.out);
    for taken in [vec!["copy", "tarn", "BIN"], vec!["rename", "tarn wet", "bin"]] {
        assert_eq!(bench.run(&taken).status, Some(2), "{taken:?}");
    }
    let run = bench.run(&["rename", "tarn wet", "moor"]);
    assert_eq!(run.status, Some(0), "{}", run.aside);
    let run = bench.run(&["put-away", "moor"]);
    assert_eq!(run.status, Some(0), "{}", run.aside);
    assert!(run.out.contains("put-away"), "{}", run.out);
    assert_eq!(
        fs::read_to_string(bench.path("cars/put-away/moor/car.toml")).unwrap(),
        sheet
    );
    assert_eq!(bench.run(&["assess", "moor"]).status, Some(3));
}

/// A car of each older format: nothing of it is written over, what is shown is what `patch` takes, and the answer stays.
#[test]
fn an_older_sheet_is_upgraded_by_what_is_shown_and_answers_as_before() {
    let bench = Bench::with_cars();
    let kept = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("../sheet/tests/fixtures/formats");
    let mut older = 0;
    let path = bench.path("cars/older/car.toml");
    fs::create_dir_all(bench.path("cars/older")).unwrap();
    let full = |format: u32| fs::read_to_string(kept.join(format!("{format}.toml"))).unwrap();
    // What it leaves out meant something, and has to be written out.
    let silent = |text: String| {
        let cut = ["load.crew", "pedal.booster", "drivetrain.centre"];
        cut.iter()
            .fold(text, |text, table| sheet::cut(&text, table).unwrap())
    };
    for text in (1..sheet::FORMAT).flat_map(|format| [full(format), silent(full(format))]) {
        fs::write(&path, &text).unwrap();
        let before = bench.json(&[
            "pressures",
            "older",
            "--foot",
            "300 N",
            "--hand",
            "150 N",
            "--json",
        ]);
        let shown = bench.run(&["check-sheet", "older", "--upgrade"]);
        assert_eq!(shown.status, Some(0), "{}", shown.aside);
        assert!(
            shown.out.contains(&format!("+format = {}", sheet::FORMAT)),
            "{}",
            shown.out
        );
        assert_eq!(fs::read_to_string(&path).unwrap(), text, "nothing is written");
        let newer = sheet::upgrade(&text, "car.toml").unwrap().text;
        assert_eq!(
            patched(&text, &shown.out),
            newer,
            "what is shown is all that changes"
        );
        fs::write(&path, newer).unwrap();
        let after = bench.json(&[
            "pressures",
            "older",
            "--foot",
            "300 N",
            "--hand",
            "150 N",
            "--json",
        ]);
        let answer = |result: &serde_json::Value| {
            let mut result = result.clone();
            let head = result.as_object_mut().unwrap();
            for of_the_sheet in ["sheet_sha256", "warnings", "defaults"] {
                head.remove(of_the_sheet);
            }
            result
        };
        assert_eq!(answer(&before), answer(&after));
        assert!(
            bench
                .run(&["check-sheet", "older", "--upgrade"])
                .out
                .contains("nothing to rewrite")
        );
        older += 1;
    }
    assert!(older > 0);
}

/// The lines of a text with a difference taken over: kept, taken out, put in, hunk by hunk.
fn patched(text: &str, difference: &str) -> String {
    let old: Vec<&str> = text.split_inclusive('\n').collect();
    let (mut new, mut at) = (String::new(), 0);
    for line in difference.split_inclusive('\n').skip(2) {
        if let Some(hunk) = line.strip_prefix("@@ -") {
            let first: usize = hunk.split([',', ' ']).next().unwrap().parse().unwrap();
            while at + 1 < first {
                new.push_str(old[at]);
                at += 1;
            }
        } else if let Some(put_in) = line.strip_prefix('+') {
            new.push_str(put_in);
        } else {
            assert_eq!(old[at], &line[1..], "line {at}");
            if line.starts_with(' ') {
                new.push_str(old[at]);
            }
            at += 1;
        }
    }
    new.extend(old[at..].iter().copied());
    new
}

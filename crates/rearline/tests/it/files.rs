//! What is written to and what is left alone; what a terminal is spared.

use std::fs;
use std::process::Command;

use crate::bench::Bench;

#[test]
fn a_picture_replaces_a_picture_of_ours_and_nothing_else() {
    let bench = Bench::with_cars();
    let draw = |to: &str| bench.run(&["lever", "tarn", "--svg", to]).status;
    assert_eq!(draw("a.svg"), Some(0));
    assert_eq!(draw("a.svg"), Some(0), "its own is drawn anew");
    bench.json(&["logbook", "add", "tarn", "--kind", "note", "--text", "one"]);
    let book = bench.path("cars/tarn/logbook.db");
    fs::write(bench.path("theirs.svg"), "<svg/>").unwrap();
    for theirs in ["cars/tarn/car.toml", "cars/tarn/logbook.db", "theirs.svg"] {
        let before = fs::read(bench.path(theirs)).unwrap();
        assert_eq!(draw(theirs), Some(3), "{theirs}");
        assert_eq!(fs::read(bench.path(theirs)).unwrap(), before, "{theirs}");
    }
    assert!(book.exists());
    // Tables go the same way: all of them, or none.
    assert_eq!(bench.run(&["lines", "tarn", "--csv", "t"]).status, Some(0));
    assert_eq!(bench.run(&["lines", "tarn", "--csv", "t"]).status, Some(0));
    fs::create_dir(bench.path("u")).unwrap();
    fs::write(bench.path("u/joints.csv"), "mine\n").unwrap();
    assert_eq!(bench.run(&["lines", "tarn", "--csv", "u"]).status, Some(3));
    assert_eq!(fs::read_dir(bench.path("u")).unwrap().count(), 1);
    let export = |to: &str| bench.run(&["logbook", "export", "tarn", "--out", to]).status;
    assert_eq!((export("e.csv"), export("e.csv")), (Some(0), Some(0)));
    assert_eq!(export("theirs.svg"), Some(3));
    let left: Vec<_> = fs::read_dir(bench.path("."))
        .unwrap()
        .map(|entry| entry.unwrap().file_name().into_string().unwrap())
        .filter(|name| name.starts_with('.'))
        .collect();
    assert!(left.is_empty(), "{left:?}");
}

#[test]
fn standard_output_is_written_to() {
    let bench = Bench::with_cars();
    let piped = bench.run(&["lever", "tarn", "--svg", "/dev/stdout"]);
    assert_eq!(piped.status, Some(0), "{}", piped.aside);
    assert!(piped.out.contains("<svg") && piped.out.contains("</svg>"));
    let file = fs::File::create(bench.path("out")).unwrap();
    let mut command = bench.command(&["lever", "tarn", "--svg", "/dev/stdout"]);
    assert!(command.stdout(file).status().unwrap().success());
    let text = fs::read_to_string(bench.path("out")).unwrap();
    assert!(text.starts_with("<svg") && text.contains("</svg>") && text.contains("Tarn 4"));
}

#[test]
fn a_pipe_in_the_place_of_a_sheet_is_refused() {
    let bench = Bench::with_cars();
    let sheet = bench.path("cars/tarn/car.toml");
    fs::remove_file(&sheet).unwrap();
    assert!(Command::new("mkfifo").arg(&sheet).status().unwrap().success());
    for car in ["tarn", "cars/tarn/car.toml"] {
        let run = bench.run(&["assess", car, "--draws", "0"]);
        assert_eq!(run.status, Some(3), "{}", run.aside);
        assert!(run.aside.contains("is not a file"), "{}", run.aside);
    }
}

#[test]
fn a_key_that_is_given_twice_is_refused() {
    let bench = Bench::with_cars();
    let twice = [
        "lever",
        "tarn",
        "--with",
        "lever.ratio=6",
        "--with",
        "lever.ratio=7",
        "--json",
    ];
    assert_eq!(bench.first_error(2, &twice)["slug"], "given-twice");
}

#[test]
fn nothing_that_was_written_down_steers_a_terminal() {
    let bench = Bench::with_cars();
    let nasty = "a\u{1b}]0;owned\u{7}b\u{9b}2Jc\u{202e}d\u{1b}[31me";
    bench.json(&["logbook", "add", "tarn", "--kind", "note", "--text", nasty]);
    let steers = |text: &str| {
        text.chars()
            .any(|c| (c.is_control() && c != '\n') || c == '\u{202e}')
    };
    for arguments in [
        vec!["logbook", "list", "tarn"],
        vec!["logbook", "list", "tarn", "--json"],
        vec!["assess", nasty],
        vec!["lever", "tarn", "--surface", nasty],
        vec!["lever", "tarn", "--with", nasty],
    ] {
        let mut command = bench.command(&arguments);
        let run = crate::bench::finished(command.env("CLICOLOR_FORCE", "1"));
        let both = format!("{}{}", run.out, run.aside);
        let said = both
            .split("\u{1b}[")
            .map(|part| part.split_once('m').map_or(part, |(_, rest)| rest));
        assert!(!steers(&said.collect::<String>()), "{arguments:?}: {both:?}");
        assert!(!both.contains("\u{1b}]") && !both.contains("\u{9b}"), "{both:?}");
    }
    let listed = bench.run(&["logbook", "list", "tarn"]).out;
    assert!(
        listed.contains("a‹001B›]0;owned‹0007›b‹009B›2Jc‹202E›d‹001B›[31me"),
        "{listed}"
    );
}

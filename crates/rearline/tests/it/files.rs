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
    let valve = [
        "lever",
        "tarn",
        "--with",
        "bias_valve.setting=2 turns",
        "--valve",
        "3 turns",
        "--json",
    ];
    assert_eq!(bench.first_error(2, &valve)["slug"], "given-twice");
    // The option alone, and another key of the valve beside it, are fine.
    let both = [
        "balance",
        "tarn",
        "--with",
        "bias_valve.slope=0.4",
        "--valve",
        "3 turns",
        "--draws",
        "0",
        "--json",
    ];
    bench.json(&both);
}

#[test]
fn readings_that_nothing_is_computed_with_are_checked_and_said_to_be_unused() {
    let bench = Bench::with_cars();
    let warned = |car: &str, with: &[&str], key: &str| -> bool {
        let mut arguments = vec!["lever", car, "--draws", "0", "--json"];
        arguments.extend(with.iter().flat_map(|with| ["--with", *with]));
        let value = bench.json(&arguments);
        let all = value["warnings"].as_array().unwrap();
        all.iter().any(|warning| {
            warning["key"] == key && warning["text"].as_str().unwrap().contains("nothing is computed")
        })
    };
    let gauges = ["measured.valve[1].front=60 bar", "measured.valve[1].rear=41 bar"];
    assert!(warned("scree", &gauges, "measured.valve[1].rear"));
    assert!(!warned("tarn", &gauges, "measured.valve[1].rear"));
    assert!(
        !warned("scree", &[], "measured.pull[1].points"),
        "`pull` is computed with it"
    );
    let wrong = [
        "lever",
        "tarn",
        "--with",
        "measured.pull[1].points=40, 3 bar",
        "--json",
    ];
    assert_eq!(bench.first_error(2, &wrong)["key"], "measured.pull[1].points");
}

/// What a terminal shows of a run that is forced to be in colour.
fn in_colour(bench: &Bench, arguments: &[&str]) -> String {
    let run = crate::bench::finished(bench.command(arguments).env("CLICOLOR_FORCE", "1"));
    format!("{}{}", run.out, run.aside)
}

#[test]
fn nothing_that_was_written_down_steers_a_terminal() {
    let bench = Bench::with_cars();
    // Nobody but the texts below makes anything blink: ours is bold, dimmed, or one of eight colours.
    const COLOUR: &str = "\u{1b}[5;35m";
    let nasty = &format!("a\u{1b}]0;owned\u{7}b\u{9b}2Jc\u{202e}d{COLOUR}e");
    let sheet = bench.path("cars/tarn/car.toml");
    let text = fs::read_to_string(&sheet).unwrap();
    let escaped = nasty.replace('\u{1b}', "\\u001b").replace('\u{7}', "\\u0007");
    let escaped = escaped
        .replace('\u{9b}', "\\u009b")
        .replace('\u{202e}', "\\u202e");
    let name = text.lines().find(|line| line.starts_with("name")).unwrap();
    let text = text.replacen(name, &format!("name = \"{escaped}\""), 1);
    fs::write(&sheet, &text).unwrap();
    bench.json(&["logbook", "add", "tarn", "--kind", "note", "--text", nasty]);
    // A folder, and a sheet with a fault, that are named so.
    fs::create_dir_all(bench.path(&format!("cars/{COLOUR}"))).unwrap();
    fs::write(
        bench.path(&format!("cars/{COLOUR}/car.toml")),
        text.replacen("format", &format!("x{escaped} = 1\nformat"), 1),
    )
    .unwrap();
    let steers = |text: &str| {
        text.chars()
            .any(|c| (c.is_control() && c != '\n') || c == '\u{202e}')
    };
    let with = format!("car.name={nasty}");
    let question = |verb: &'static str| vec![verb, "tarn", "--foot", "300 N", "--surface", nasty];
    for arguments in [
        vec!["logbook", "list", "tarn"],
        vec!["logbook", "list", "tarn", "--json"],
        vec!["logbook", "due", "tarn"],
        vec!["logbook", "verify", COLOUR],
        vec!["assess", nasty],
        vec!["assess", "tarn", "--draws", "0"],
        vec!["balance", "tarn", "--draws", "0"],
        vec!["pressures", "tarn", "--foot", "300 N"],
        vec!["settings", "tarn", "--draws", "0"],
        vec!["lever", "tarn", "--draws", "0"],
        vec!["turn", "tarn", "--draws", "0"],
        vec!["lines", "tarn"],
        vec!["prove", "tarn"],
        vec!["prove", "tarn", "--blank"],
        vec!["plan", "tarn"],
        vec!["working", "tarn", "hand-force"],
        vec!["check-sheet", "tarn"],
        vec!["check-sheet", COLOUR],
        vec!["lever", "tarn", "--with", &with, "--draws", "0"],
        vec!["lever", "tarn", "--with", nasty],
        vec!["lever", "tarn", "--grip", nasty],
        vec!["turn", "tarn", "--hand", nasty],
        vec!["prove", "tarn", "--joint", nasty, "--is", "dry"],
        vec!["new", nasty, "--with", nasty],
        vec!["new", "car", nasty],
        vec!["schema", nasty],
        vec!["manual", "--verb", nasty],
        vec![nasty],
        vec!["lever", "tarn", &format!("--{nasty}")],
        question("pressures"),
    ] {
        let both = in_colour(&bench, &arguments);
        let said = both
            .split("\u{1b}[")
            .map(|part| part.split_once('m').map_or(part, |(_, rest)| rest));
        assert!(!steers(&said.collect::<String>()), "{arguments:?}: {both:?}");
        assert!(
            !both.contains("\u{1b}]") && !both.contains("\u{9b}"),
            "{arguments:?}: {both:?}"
        );
        assert!(!both.contains(COLOUR), "{arguments:?}: {both:?}");
    }
    let listed = bench.run(&["logbook", "list", "tarn"]).out;
    assert!(
        listed.contains("a‹001B›]0;owned‹0007›b‹009B›2Jc‹202E›d‹001B›[5;35me"),
        "{listed}"
    );
    // What is made for a file is as it is, into a pipe too; a terminal is shown marks.
    let exported = bench.run(&["logbook", "export", "tarn"]).out;
    assert!(exported.contains(nasty), "{exported:?}");
}

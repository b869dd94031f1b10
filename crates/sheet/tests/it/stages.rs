//! Stages: what they say, and what is said of one that is wrong.

use engine::heat::{By, StagePart};
use sheet::{BUILT_IN_STAGES, built_in_stage, stage};

const STOP: &str =
    "[[stop]]\nfrom = \"120 km/h\"\nto = \"50 km/h\"\nrate = 0.7\nevery = \"18 s\"\nrepeat = 20\n";

/// Line, column, slug of everything that is wrong.
fn wrong(text: &str, file: &str) -> Vec<(usize, usize, String)> {
    match stage(text.as_bytes(), file) {
        Ok(stage) => panic!("{stage:?}"),
        Err(problems) => problems
            .shown()
            .iter()
            .map(|problem| (problem.line, problem.column, problem.slug().to_owned()))
            .collect(),
    }
}

fn with(old: &str, new: &str) -> String {
    assert!(STOP.contains(old), "{old}");
    STOP.replace(old, new)
}

#[test]
fn a_list_of_stops_is_read() {
    let read = stage(STOP.as_bytes(), "stages/moor.toml").unwrap();
    assert_eq!(&*read.name, "moor");
    assert!((read.lasts().s() - 360.0).abs() < 1e-9);
    assert_eq!(read.brakings(), 20);
    // Straight between the speeds, 18 s each: 1530 m a minute at the mean of both.
    assert!((read.length().m() - 360.0 * 85.0 / 3.6).abs() < 1e-6);
    let StagePart::Stops(stops) = &read.parts[0] else {
        panic!("{read:?}")
    };
    assert_eq!((stops.by, stops.slope), (By::Pedal, 0.0));
}

#[test]
fn the_order_of_the_file_is_the_order_of_the_road() {
    let text = format!(
        "name = \"down and out\"\nabout = \"both\"\n\n{STOP}\n[[descent]]\nat = \"50 km/h\"\nslope = \"-8 %\"\nfor = \"2 min\"\n\n{}",
        with("repeat = 20", "by = \"handbrake\"\nslope = \"3 %\"")
    );
    let read = stage(text.as_bytes(), "x.toml").unwrap();
    assert_eq!((&*read.name, &*read.about), ("down and out", "both"));
    let kinds: Vec<&str> = read
        .parts
        .iter()
        .map(|part| match part {
            StagePart::Stops(stops) if stops.by == By::Handbrake => "handbrake",
            StagePart::Stops(_) => "stops",
            StagePart::Descent(_) => "descent",
            StagePart::Trace(_) => "trace",
        })
        .collect();
    assert_eq!(kinds, ["stops", "descent", "handbrake"]);
}

#[test]
fn the_stages_that_come_with_the_program_read_and_say_that_they_are_invented() {
    for (name, text) in BUILT_IN_STAGES {
        assert!(text.starts_with("# Invented:"), "{name}");
        let read = built_in_stage(&name.to_uppercase()).unwrap();
        assert_eq!(&*read.name, name);
        assert!(!read.about.is_empty());
        assert!(read.ends().1.m_s().abs() < 1e-12, "{name} ends standing");
    }
    let gravel = built_in_stage("twisty gravel").unwrap();
    assert!(
        (gravel.length().m() / 12_000.0 - 1.0).abs() < 0.05,
        "{:?}",
        gravel.length()
    );
    assert!(built_in_stage("moon").is_none());
}

#[test]
fn every_fault_is_found_at_once_and_pointed_at() {
    let text =
        "[[stop]]\nfrom = \"120 km\"\nto = \"50 km/h ± 3 km/h\"\nrate = 3\nevry = \"18 s\"\nrepeat = 0.5\n";
    assert_eq!(
        wrong(text, "moor.toml"),
        [
            (1, 1, "missing-key".to_owned()),
            (2, 9, "quantity-wrong-dimension".to_owned()),
            (3, 6, "stage-tolerance".to_owned()),
            (5, 1, "unknown-key".to_owned()),
            (6, 10, "not-a-count".to_owned()),
        ]
    );
    let problems = stage(text.as_bytes(), "moor.toml").unwrap_err();
    let unknown = problems.shown().iter().find(|problem| problem.line == 5).unwrap();
    assert!(unknown.remedy().contains("`every`"), "{}", unknown.remedy());
}

#[test]
fn what_no_car_does_is_refused_with_the_reason() {
    for (old, new, slug, line) in [
        ("to = \"50 km/h\"", "to = \"130 km/h\"", "contradiction", 3),
        ("every = \"18 s\"", "every = \"2 s\"", "contradiction", 5),
        ("every = \"18 s\"", "every = \"3 s\"", "contradiction", 1),
        ("rate = 0.7", "rate = 9", "out-of-range", 4),
        ("from = \"120 km/h\"", "from = \"900 km/h\"", "out-of-range", 2),
        ("repeat = 20", "repeat = 5000", "not-a-count", 6),
        ("repeat = 20", "repeat = 20\nby = \"anchor\"", "unknown-word", 7),
        ("repeat = 20", "repeat = 20\nslope = \"60 %\"", "out-of-range", 7),
        ("[[stop]]", "[stop]", "table-brackets", 1),
        ("[[stop]]", "[[stops]]", "unknown-key", 1),
        ("rate = 0.7", "rate = \"soft\"", "quantity-not-a-number", 4),
        ("rate = 0.7", "rate = true", "wrong-type", 4),
    ] {
        let found = wrong(&with(old, new), "moor.toml");
        assert!(
            found.iter().any(|(at, _, which)| *at == line && which == slug),
            "{new}: {found:?}"
        );
    }
    assert_eq!(wrong("", "moor.toml")[0].2, "stage-empty");
    assert_eq!(wrong("name = 4\n", "moor.toml").len(), 2);
    let long = with("every = \"18 s\"", "every = \"18 min\"");
    assert!(stage(long.as_bytes(), "x.toml").is_ok(), "six hours");
    assert_eq!(
        wrong(&with("every = \"18 s\"", "every = \"30 min\""), "x.toml")[0].2,
        "stage-too-long"
    );
}

#[test]
fn no_toml_is_told_as_of_a_sheet() {
    let found = wrong("[[stop]\nfrom = \"120 km/h\"\n", "moor.toml");
    assert_eq!((found[0].0, found[0].1), (1, 1), "{found:?}");
    let found = wrong("[[stop]]\nfrom = 120 km/h\n", "moor.toml");
    assert_eq!(found[0].0, 2, "{found:?}");
    // A character that nobody sees is pointed at, as in a sheet.
    assert_eq!(wrong("\u{0}\u{0}", "moor.toml")[0].2, "text-unseen-character");
}

#[test]
fn a_speed_trace_is_read_with_its_units_and_separators() {
    let plain = "time [s],speed [km/h],slope [%]\n# gravel\n10,0,0\n12,36,-5\n14.5,36,0\n";
    let read = stage(plain.as_bytes(), "stages/moor.csv").unwrap();
    assert_eq!((&*read.name, read.lasts().s()), ("moor", 4.5));
    assert!((read.length().m() - (10.0 + 25.0)).abs() < 1e-9);
    let other = "Speed [m/s];rpm;Time [min]\r\n0;900;0\r\n10;3000;0,033333333\r\n\r\n10;3000;0,075\r\n";
    let read = stage(other.as_bytes(), "moor.CSV").unwrap();
    assert!((read.lasts().s() - 4.5).abs() < 1e-6);
    let StagePart::Trace(points) = &read.parts[0] else {
        panic!("{read:?}")
    };
    assert!((points[1].speed.m_s() - 10.0).abs() < 1e-12);
}

#[test]
fn a_trace_points_at_its_faults() {
    for (text, line, column, slug) in [
        ("time,speed [km/h]\n0,0\n1,5\n", 1, 1, "trace-unit"),
        ("time [s],velocity [km/h]\n0,0\n", 1, 1, "trace-head"),
        (
            "time [s],speed [km/h]\n0,0\n1,fast\n",
            3,
            3,
            "quantity-not-a-number",
        ),
        ("time [s],speed [km/h]\n0,0\n1,5\n1,6\n", 4, 1, "trace-time"),
        ("time [s],speed [km/h]\n0,0\n1\n", 3, 1, "row-length"),
        ("time [s],speed [km/h]\n0,0\n1,-5\n", 3, 3, "out-of-range"),
        ("time [s],speed [km/h]\n0,0\n", 1, 1, "stage-too-long"),
        ("\n\n", 1, 1, "file-empty"),
    ] {
        let found = wrong(text, "moor.csv");
        assert_eq!(found[0], (line, column, slug.to_owned()), "{text}");
    }
}

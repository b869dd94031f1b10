//! How a figure is measured, and what is worked out from readings.

use std::fs;

use crate::bench::Bench;
use crate::machine::{assert_valid, schema};

#[test]
fn the_cards_are_listed_and_each_is_told() {
    let bench = Bench::with_cars();
    let list = bench.run(&["how"]);
    assert_eq!(list.status, Some(0));
    for card in engine::car::Drawing::ALL {
        assert!(list.out.contains(&format!("  {} ", card.name())), "{}", list.out);
        let run = bench.run(&["how", card.name()]);
        assert_eq!((run.status, run.aside.as_str()), (Some(0), ""), "{}", card.name());
        assert!(run.out.starts_with(card.title()), "{}", run.out);
        assert!(
            run.out.lines().all(|line| line.chars().count() <= 80),
            "{}",
            run.out
        );
    }
}

#[test]
fn a_card_of_a_key() {
    let bench = Bench::with_cars();
    insta::assert_snapshot!(
        "how_raised_axle",
        bench.run(&["how", "weighed.cg_height", "--car", "tarn"]).out
    );
}

/// 278/62 = 4.4839; with 1 mm and 0.5 mm: 0.040. 195/65 R15: 0.97 of half of 634.5 mm, ± 1.5 %.
#[test]
fn readings_become_a_figure() {
    let bench = Bench::with_cars();
    let run = bench.run(&["how", "lever.ratio", "a=278mm", "b=62", "--car", "tarn"]);
    assert_eq!(run.status, Some(0), "{}", run.aside);
    assert!(
        run.out
            .contains("\nLever ratio: 4.48\nOn the sheet: `lever.ratio = 4.48`\n"),
        "{}",
        run.out
    );
    assert!(run.out.contains("tarn has 7.0."), "{}", run.out);
    let run = bench.run(&["how", "lever.ratio", "a=278 ± 1", "b=62 ± 0.5", "--units", "mm"]);
    assert!(run.out.contains("`lever.ratio = \"4.48 ± 0.04\"`"), "{}", run.out);
    let run = bench.run(&["how", "tyres.rolling_radius", "label=195/65 R15"]);
    assert!(run.out.contains("By its label: 308 mm ± 5 mm"), "{}", run.out);
    // A card's own name: no key whose ranges it is held against, and no line for the sheet.
    let run = bench.run(&["how", "tyre", "a=1.948 m", "turns=1"]);
    assert!(
        run.out.contains("By chalk: 310 mm") && !run.out.contains("On the sheet"),
        "{}",
        run.out
    );
}

#[test]
fn what_cannot_be_is_told() {
    let bench = Bench::with_cars();
    for (arguments, slug, says) in [
        (
            &["how", "lever.ratoi"][..],
            "unknown-figure",
            "did you mean `lever.ratio`?",
        ),
        (
            &["how", "geometry.yaw_inertia"],
            "unknown-figure",
            "keep the guess",
        ),
        (&["how", "car.name"], "unknown-figure", "What the car is called"),
        (
            &["how", "lever.ratio", "c=3"],
            "unknown-reading",
            "it asks for a, b",
        ),
        (
            &["how", "lever.room", "a=3"],
            "unknown-reading",
            "what is read is the figure",
        ),
        (&["how", "lever.ratio", "a=278"], "missing", "pivot to push rod"),
        (
            &["how", "lever.ratio", "a=278", "b=0"],
            "cannot-be",
            "read them again",
        ),
        (
            &["how", "lever.ratio", "a=278", "b=1"],
            "out-of-range",
            "1 to 30 can be",
        ),
    ] {
        let arguments = [arguments, &["--json"]].concat();
        let error = bench.first_error(2, &arguments);
        assert_eq!(error["slug"], slug, "{arguments:?}: {error}");
        assert!(
            error["do"].as_str().unwrap().contains(says),
            "{arguments:?}: {error}"
        );
    }
    assert_eq!(
        bench.run(&["how", "lever.ratio", "--car", "nobody"]).status,
        Some(3)
    );
}

#[test]
fn other_programs_read_it() {
    let bench = Bench::with_cars();
    let shape = schema(&bench, "how");
    for arguments in [
        &["how", "lever.ratio", "a=278mm", "b=62", "--car", "tarn", "--json"][..],
        &["how", "raised-axle", "--json"],
        &["how", "lever.hand_pull", "--car", "half-known", "--json"],
    ] {
        let value = bench.json(arguments);
        assert_valid(&shape, &value, &arguments.join(" "));
    }
    let worked = bench.json(&["how", "lever.ratio", "a=278mm", "b=62", "--json"]);
    assert_eq!(worked["worked"]["value"], "4.48");
    let cards = bench.json(&["how", "--json"]);
    assert_eq!(
        cards["cards"].as_array().unwrap().len(),
        engine::car::Drawing::ALL.len()
    );
}

#[test]
fn its_drawing_is_written() {
    let bench = Bench::with_cars();
    let run = bench.run(&["how", "pad-track", "--svg", "pads.svg"]);
    assert_eq!(run.status, Some(0), "{}", run.aside);
    let svg = fs::read_to_string(bench.path("pads.svg")).unwrap();
    assert!(
        svg.starts_with("<svg") && svg.contains("Where the pads rub"),
        "{svg}"
    );
}

/// A sheet that does not read, and one that leans on guesses, lead to the card.
#[test]
fn faults_and_guesses_lead_to_it() {
    let bench = Bench::with_cars();
    let path = bench.path("cars/tarn/car.toml");
    let text = fs::read_to_string(&path).unwrap();
    fs::write(&path, text.replacen("ratio    = 7.0", "ratio    = 700", 1)).unwrap();
    let run = bench.run(&["check-sheet", "tarn"]);
    assert!(
        run.aside
            .ends_with("How a figure is measured: `rearline how lever.ratio`\n"),
        "{}",
        run.aside
    );
    let run = bench.run(&["check-sheet", "half-known"]);
    assert!(
        run.out.contains("how one of them is measured: `rearline how "),
        "{}",
        run.out
    );
    let run = bench.run(&["lever", "half-known"]);
    assert!(run.out.contains("`rearline how KEY`"), "{}", run.out);
}

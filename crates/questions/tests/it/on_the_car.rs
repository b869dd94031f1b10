//! The sheet figure by figure: a fresh one, a whole one, what is typed, undone, guessed.

use engine::car::Date;
use proving::{Fact, Noted, SheetChange};
use questions::on_the_car::{CostOfGuess, OnTheCar, Stands, Steps, Typed, check, keep, several};
use questions::onto_sheet::{Leaves, changed, changed_and};
use questions::{Opened, Sheet};
use records::Cars;
use sheet::{Blank, FIRST_QUESTIONS};

use crate::onto_sheet::sedge;

fn fresh(words: [&str; 6]) -> String {
    let mut blank = Blank::new("Fell");
    for (question, word) in FIRST_QUESTIONS.iter().zip(words) {
        blank = blank.answered(question.answer(word).unwrap());
    }
    blank.to_string()
}

const PLAIN: [&str; 6] = ["front", "disc", "axle", "none", "none", "inline"];

fn typed<'t>(figure: &'t str, unit: &'t str, sure: &'t str) -> Typed<'t> {
    Typed { figure, unit, sure }
}

fn put(text: &str, path: &str, figure: &str, unit: &str) -> String {
    let change = keep(text, path, typed(figure, unit, ""), "").unwrap();
    changed_and(Leaves::Unfinished, "car.toml", text, &[change]).unwrap()
}

/// A car typed figure by figure, in the order in which they are asked.
#[test]
fn a_fresh_sheet_is_filled_in_by_what_is_asked_next() {
    let mut text = fresh(PLAIN);
    let mut left = Vec::new();
    let mut asked = Vec::new();
    for _ in 0..40 {
        let car = OnTheCar::of(&text);
        left.push(car.left());
        if car.left() == 0 {
            break;
        }
        let next = car.next(None).unwrap().path.clone();
        let (figure, unit) = match next.as_str() {
            "weighed.front" => ("612", "kg"),
            "weighed.rear" => ("398", "kg"),
            "geometry.wheelbase" => ("2.45", "m"),
            "tyres.rolling_radius" => ("185/60 14", "label"),
            "pedal.ratio" => ("4,2", ""),
            "master.bore" => ("13/16", "in"),
            "lever.bore" => ("5/8", "in"),
            "lever.ratio" => ("7", ""),
            "front_brake.caliper.layout" | "rear_brake.caliper.layout" => ("sliding", ""),
            "front_brake.caliper.pistons" => ("48", "mm"),
            "rear_brake.caliper.pistons" => ("34", "mm"),
            "front_brake.effective_radius" => ("100", "mm"),
            "rear_brake.effective_radius" => ("98", "mm"),
            other => panic!("{other} was not expected"),
        };
        text = put(&text, &next, figure, unit);
        asked.push(next);
    }
    assert_eq!(left, (0..=14).rev().collect::<Vec<_>>());
    assert_eq!(asked[0], "weighed.front");
    assert!(text.contains("rolling_radius = \"185/60 R14\""), "{text}");
    let car = OnTheCar::of(&text);
    assert!(car.is_only_unfinished());
    // By hand: 3 on the scales, 1 length, crew, tyre, 2 at the pedal, 3 at the cylinder, valve, 6 at the lever, 5 in front, 6
    // behind, 1 driven. Guessed: height, crew, both frictions, stroke, pull, room, clearance.
    assert_eq!(car.short(), "22 of 30 known, 8 guessed");
    // From here on the guesses are asked, each once.
    assert_eq!(
        car.next(None).unwrap().stands,
        Stands::Guessed,
        "nothing is left but guesses"
    );
}

#[test]
fn a_change_of_an_unfinished_sheet_is_taken_back_and_made_again() {
    let text = fresh(PLAIN);
    let change = keep(&text, "lever.bore", typed("5/8", "in", ""), "").unwrap();
    assert_eq!(change.now.as_deref(), Some("\"5/8 in\""));
    let after = changed_and(Leaves::Unfinished, "x", &text, core::slice::from_ref(&change)).unwrap();
    let noted = |changes: Vec<SheetChange>| Noted {
        id: 1,
        day: Date::constant(2026, 5, 1),
        fact: Fact::Sheet { changes },
    };
    let mut book = vec![noted(vec![change.clone()])];
    let steps = Steps::of(&book, &after);
    let undo = steps.undo.unwrap();
    assert_eq!(
        (undo.as_slice(), steps.redo),
        ([change.undone()].as_slice(), None)
    );
    let back = changed_and(Leaves::Unfinished, "x", &after, &undo).unwrap();
    assert_eq!(OnTheCar::of(&back).left(), 14);
    book.push(noted(undo));
    let steps = Steps::of(&book, &back);
    assert_eq!(
        (steps.undo, steps.redo.clone()),
        (None, Some(vec![change.clone()]))
    );
    let again = changed_and(Leaves::Unfinished, "x", &back, &steps.redo.unwrap()).unwrap();
    assert_eq!(OnTheCar::of(&again).figure("lever.bore").unwrap().says, "5/8 in");
    book.push(noted(vec![change.clone()]));
    assert!(Steps::of(&book, &again).redo.is_none());
    // What another hand changed since is not taken back.
    let other = changed_and(
        Leaves::Unfinished,
        "x",
        &again,
        &[SheetChange {
            key: "lever.bore".to_owned(),
            was: change.now.clone(),
            now: Some("\"3/4 in\"".to_owned()),
        }],
    )
    .unwrap();
    assert_eq!(Steps::of(&book, &other), Steps::default());
}

#[test]
fn the_second_tablet_sees_the_first_ones_change_before_it_saves() {
    let text = sedge();
    let seen = questions::onto_sheet::written(&text, "lever.bore").unwrap();
    let first = keep(&text, "lever.bore", typed("3/4", "in", ""), &seen).unwrap();
    let after = changed("car.toml", &text, &[first]).unwrap();
    let second = keep(&after, "lever.bore", typed("11/16", "in", ""), &seen).unwrap();
    let refused = changed("car.toml", &after, &[second]).unwrap_err();
    assert!(
        refused.troubles[0].text.contains("\"3/4 in\" by now"),
        "{}",
        refused.troubles[0].text
    );
}

#[test]
fn what_is_typed_is_read_while_it_is_typed() {
    let text = fresh(PLAIN);
    let checked = check(&text, "lever.bore", typed("5/8", "in", "calipers")).unwrap();
    assert_eq!(checked.means, "15.9\u{a0}mm ± 0.1 mm");
    let usual = checked.usual.unwrap();
    // By hand: 15.875 mm between 9 mm and 23 mm.
    assert!((usual.at.unwrap() - 6.875 / 14.0).abs() < 1e-9);
    assert!(!usual.is_unusual());
    let wide = check(&text, "lever.bore", typed("1-1/16", "in", "")).unwrap();
    assert!(wide.usual.unwrap().is_unusual());
    for (path, figure, unit, slug) in [
        ("lever.bore", "70", "bar", "quantity-wrong-dimension"),
        ("lever.bore", "0", "mm", "out-of-range"),
        ("lever.bore", "5/", "in", ""),
        ("lever.bore", "", "in", "no-value"),
        ("tyres.rolling_radius", "205/55", "label", "not-a-tyre"),
    ] {
        let wrong = check(&text, path, typed(figure, unit, "")).unwrap_err();
        assert!(
            slug.is_empty() || wrong.troubles[0].slug == slug,
            "{path} {figure}: {}",
            wrong.troubles[0].slug
        );
    }
}

#[test]
fn another_kind_of_brake_asks_for_its_own_figures_and_drops_none() {
    let text =
        std::fs::read_to_string(concat!(env!("CARGO_MANIFEST_DIR"), "/../../demo/tarn/car.toml")).unwrap();
    let before = OnTheCar::of(&text);
    assert_eq!(before.left(), 0);
    let seen = questions::onto_sheet::written(&text, "master.kind").unwrap();
    let change = keep(&text, "master.kind", typed("twin", "", ""), &seen).unwrap();
    assert!(changed("car.toml", &text, core::slice::from_ref(&change)).is_err());
    let after = changed_and(Leaves::Unfinished, "car.toml", &text, &[change]).unwrap();
    let car = OnTheCar::of(&after);
    assert_eq!(car.left(), 2, "both bores of twin cylinders");
    assert!(after.contains("bore"), "what stood there stays");
    assert!(car.is_only_unfinished());
}

#[test]
fn edges_of_the_track_take_the_place_of_the_radius() {
    let text = fresh(PLAIN);
    let edges = several("rear-edges").unwrap();
    let changes = edges.changes(&text, |_| typed("92; 132", "mm", "ruler")).unwrap();
    let after = changed_and(Leaves::Unfinished, "x", &text, &changes).unwrap();
    assert!(
        after.contains("= [\"92 mm ± 1 mm\", \"132 mm ± 1 mm\"]"),
        "{after}"
    );
    let car = OnTheCar::of(&after);
    assert_eq!(car.left(), 13);
    assert!(!car.figure("rear_brake.effective_radius").unwrap().asked);
    // An entry more of a list; what may be left out may stay empty.
    let item = several("item").unwrap();
    let changes = item
        .changes(&sedge(), |key| match key.rsplit('.').next().unwrap() {
            "name" => typed("jack", "", ""),
            "mass" => typed("9", "kg", ""),
            "aft_of_front_axle" => typed("2.9", "m", ""),
            _ => typed("", "m", ""),
        })
        .unwrap();
    let after = changed("car.toml", &sedge(), &changes).unwrap();
    assert!(
        after.contains("name = \"jack\"\nmass = \"9 kg\"\naft_of_front_axle = \"2.9 m\""),
        "{after}"
    );
    let wrong = item.changes(&sedge(), |_| typed("", "", "")).unwrap_err();
    assert_eq!(wrong.troubles.len(), 3);
}

#[test]
fn a_guess_is_told_by_how_much_wider_it_makes_the_answer() {
    let cars = Cars::open(concat!(env!("CARGO_MANIFEST_DIR"), "/../../demo")).unwrap();
    let open = |car: &str| {
        let sheet = Sheet::read(cars.named(car).unwrap()).unwrap();
        Opened::as_it_is(sheet, Date::constant(2026, 5, 1)).unwrap()
    };
    let opened = open("half-known");
    let cost = CostOfGuess::of(&opened, "rear_brake.pad.friction").unwrap();
    assert!(cost.is_torque);
    let width = |range: engine::ranges::Range| range.high - range.low;
    assert!(width(cost.known) < width(cost.guessed), "{cost:?}");
    // The pedal does nothing to what the hand can do.
    let idle = CostOfGuess::of(&opened, "pedal.ratio").unwrap();
    assert_eq!(idle.known, idle.guessed);
    assert!(idle.in_words().contains("costs the answer nothing"));
    assert!(
        CostOfGuess::of(&opened, "lever.bore").is_none(),
        "a bore is not guessed"
    );
}

//! The cards of measuring: every figure that a person measures has one, whole and readable, and its sums give what a hand
//! works out.

use std::collections::HashSet;

use charts::{HowMeasured, Look};
use engine::car::{Drawing, KEYS, KeyId};
use questions::Wrong;
use questions::measuring::{CARDS, Card, Present, Worked, card, named, of_path, present};
use wording::Units;

fn of(name: &str) -> &'static Card {
    card(Drawing::named(name).unwrap()).unwrap()
}

fn worked_in(
    name: &str,
    number: usize,
    typed: &[(&str, &str)],
    units: &str,
    key: &str,
) -> Result<Worked, Wrong> {
    let said = |ask: &str| {
        let said = typed.iter().find(|(name, _)| *name == ask);
        said.map_or_else(String::new, |(_, text)| (*text).to_owned())
    };
    let units = if units.is_empty() {
        Units::default()
    } else {
        Units::of(units).unwrap()
    };
    of(name).sums[number].worked(&said, &units, KeyId::of(key))
}

fn worked(name: &str, number: usize, typed: &[(&str, &str)], key: &str) -> Worked {
    worked_in(name, number, typed, "", key).unwrap()
}

#[test]
fn every_figure_that_is_measured_has_a_card_with_its_drawing() {
    for (card, drawing) in CARDS.iter().zip(Drawing::ALL) {
        assert_eq!(card.drawing, drawing);
        let keys: Vec<_> = card.keys().collect();
        assert!(!keys.is_empty(), "{}", card.name());
        let drawn = HowMeasured(drawing).draw(&Look::default());
        assert!(drawn.svg.len() > 1500, "{}", card.name());
    }
    for key in KEYS.iter().filter(|key| key.drawing.is_some()) {
        let (card, found) = named(key.path).unwrap();
        assert_eq!(Some(card.drawing), key.drawing);
        assert_eq!(found.map(|found| found.key().path), Some(key.path));
    }
    assert!(named("car.name").is_none() && named("no-such-card").is_none());
    assert!(named("geometry.yaw_inertia").is_none(), "no workshop measures it");
    assert_eq!(of_path("load.item[2].mass"), KeyId::of("load.item[].mass"));
}

#[test]
fn a_card_is_short_and_plain() {
    for card in CARDS {
        let name = card.name();
        assert!((1..=3).contains(&card.steps.len()), "{name}");
        assert!(
            !card.tool.is_empty() && !card.trick.is_empty() && !card.source.is_empty(),
            "{name}"
        );
        let texts = card
            .steps
            .iter()
            .chain(card.cautions)
            .chain([&card.tool, &card.trick]);
        for text in texts {
            assert!(text.ends_with('.') && !text.contains("  "), "{name}: {text}");
            for sentence in text
                .split_inclusive(['.', '?'])
                .filter(|piece| piece.contains(' '))
            {
                let words = sentence.split_whitespace().count();
                assert!(words <= 20, "{name}, {words} words: {sentence}");
            }
        }
    }
}

/// Whatever raises a wheel, opens a line or is pulled hard says what to mind.
#[test]
fn work_that_can_hurt_has_its_caution() {
    let says = |card: &Card, caution: &str| card.cautions.contains(&caution);
    for name in [
        "raised-axle",
        "torque-wrench",
        "drum",
        "shoe",
        "differential",
        "centre",
        "centre-wrench",
        "shafts",
        "film",
        "load-valve",
    ] {
        assert!(says(of(name), assess::cautions::RAISED), "{name}");
    }
    for card in CARDS {
        let all = [card.tool]
            .into_iter()
            .chain(card.steps.iter().copied())
            .collect::<Vec<_>>()
            .join(" ");
        let lower = all.to_lowercase();
        if lower.contains("gauge") && !lower.contains("thread gauge") && card.name() != "tank" {
            assert!(says(card, assess::cautions::GAUGE), "{}: {all}", card.name());
        }
        if lower.contains("off the ground") || lower.contains("drum off") || lower.contains("wheel off") {
            assert!(says(card, assess::cautions::RAISED), "{}: {all}", card.name());
        }
        if lower.contains("torque wrench") || lower.contains("luggage scale that") {
            assert!(says(card, assess::cautions::PULLED), "{}: {all}", card.name());
        }
    }
    assert!(says(of("held-pressure"), assess::cautions::LATCH));
    assert!(
        of("stop")
            .cautions
            .iter()
            .any(|caution| caution.contains("closed, empty place"))
    );
    assert!(
        of("tank")
            .cautions
            .iter()
            .any(|caution| caution.contains("vapour"))
    );
}

#[test]
fn what_a_sum_asks_for_is_marked_on_its_drawing() {
    for card in CARDS {
        let drawn = HowMeasured(card.drawing).draw(&Look::default());
        let marks: HashSet<String> = drawn
            .table
            .rows
            .iter()
            .flat_map(|row| row[0].split(", ").map(str::to_owned))
            .collect();
        for sum in card.sums {
            let names: HashSet<&str> = sum.asks.iter().map(|ask| ask.name).collect();
            assert_eq!(names.len(), sum.asks.len(), "{}", card.name());
            for letter in names.iter().filter(|name| name.len() == 1) {
                assert!(
                    marks.contains(*letter),
                    "{}: {letter} is nowhere drawn",
                    card.name()
                );
            }
            assert!(
                card.keys().any(|key| sum.gives(key)),
                "{}: {}",
                card.name(),
                sum.title
            );
            for from in sum.asks.iter().filter_map(|ask| ask.from) {
                assert!(KeyId::of(from).is_some(), "{from}");
            }
        }
    }
}

/// 275/61 = 4.508; off by 1 mm each: √((1/61)² + (275/61²)²) = √(0.01639² + 0.07391²) = 0.0757.
#[test]
fn two_lengths_and_their_tolerance() {
    let plain = worked("pedal-ratio", 0, &[("a", "275"), ("b", "61 mm")], "pedal.ratio");
    assert_eq!(
        (plain.shown.as_str(), plain.written.as_str(), plain.mind),
        ("4.51", "4.51", None)
    );
    let off = worked(
        "pedal-ratio",
        0,
        &[("a", "275 ± 1"), ("b", "61 ± 1 mm")],
        "pedal.ratio",
    );
    assert_eq!(off.written, "4.51 ± 0.08");
    // The same in inches, and in the person's own unit.
    let inches = worked_in(
        "pedal-ratio",
        0,
        &[("a", "11"), ("b", "2 1/2")],
        "in",
        "pedal.ratio",
    )
    .unwrap();
    assert_eq!(inches.written, "4.40");
    let odd = worked(
        "pedal-ratio",
        0,
        &[("a", "275 mm"), ("b", "30 mm")],
        "pedal.ratio",
    );
    assert!(odd.mind.unwrap().contains("3 to 7"));
}

/// Worked by hand in `engine`'s own test: 555.9 mm with radii of 290 and 310 mm; with 300 mm both, R = 0.300: 557.1 mm.
#[test]
fn the_height_from_a_raised_axle() {
    let typed = [
        ("front", "560 kg"),
        ("rear", "440 kg"),
        ("a", "30"),
        ("H", "700"),
        ("wheelbase", "2.5 m"),
        ("radius", "0.3 m"),
    ];
    let found = worked("raised-axle", 0, &typed, "weighed.cg_height");
    assert_eq!(
        (found.shown.as_str(), found.written.as_str()),
        ("557\u{a0}mm", "557 mm")
    );
    // ± 1 kg of 30 is 1/30 of 257 mm: 9 mm.
    let mut off = typed;
    off[2] = ("a", "30 kg ± 1 kg");
    assert_eq!(
        worked("raised-axle", 0, &off, "weighed.cg_height").written,
        "557 mm ± 9 mm"
    );
}

/// ⅔ (150³ − 104³)/(150² − 104²) = ⅔ · 2250136/11684 = 128.39 mm; 1.948/6.2832 = 310.0 mm; 40 km/h over 9 m: 0.699;
/// 203.2/2 = 101.6 mm; 12 frames of 240 a second: 50 ms.
#[test]
fn the_other_sums() {
    let edges = [("a", "104"), ("b", "150")];
    assert_eq!(
        worked("pad-track", 0, &edges, "rear_brake.effective_radius").written,
        "128 mm"
    );
    let rolled = [("a", "1.948"), ("turns", "1")];
    assert_eq!(
        worked("tyre", 0, &rolled, "tyres.rolling_radius").written,
        "310 mm"
    );
    let stopped = [("speed", "40"), ("a", "9")];
    assert_eq!(worked("stop", 0, &stopped, "surface[].grip").written, "0.699");
    assert_eq!(
        worked("drum", 0, &[("a", "8 in")], "rear_brake.drum_radius").written,
        "102 mm"
    );
    let film = worked(
        "film",
        0,
        &[("frames", "12"), ("rate", "240")],
        "drivetrain.centre.in",
    );
    assert_eq!(film.written, "0.0500 s");
    let pulled = [("a", "200"), ("b", "3000"), ("ratio", "25")];
    assert_eq!(
        worked("cable", 1, &pulled, "lever.cable.efficiency").written,
        "0.600"
    );
    let bar = [
        ("front", "40"),
        ("front-bore", "20"),
        ("rear", "50"),
        ("rear-bore", "16"),
    ];
    assert_eq!(
        worked("balance-bar", 0, &bar, "master.bar.front_share").written,
        "0.556"
    );
    assert_eq!(
        worked(
            "shafts",
            0,
            &[("shaft", "41"), ("wheel", "10")],
            "drivetrain.final_drive"
        )
        .written,
        "4.10"
    );
}

/// A published size: 195/65 R15 has 634.5 mm across (ETRTO); 0.97 of half of it is 307.7 mm, ± 1.5 % is 4.6 mm.
#[test]
fn a_label_gives_a_radius_with_its_tolerance() {
    let found = worked("tyre", 1, &[("label", "195/65 R15 91T")], "tyres.rolling_radius");
    assert_eq!(found.written, "308 mm ± 5 mm");
    let wrong = worked_in("tyre", 1, &[("label", "15 inch")], "", "tyres.rolling_radius").unwrap_err();
    assert_eq!(wrong.troubles[0].slug, "not-a-label");
}

#[test]
fn what_is_written_reads_back_as_the_sheet_would_read_it() {
    for (name, number, typed, key) in [
        (
            "pedal-ratio",
            0,
            vec![("a", "275 ± 1"), ("b", "61 ± 1")],
            "pedal.ratio",
        ),
        ("tyre", 1, vec![("label", "205/55 R16")], "tyres.rolling_radius"),
        (
            "film",
            0,
            vec![("frames", "12"), ("rate", "240")],
            "drivetrain.centre.in",
        ),
    ] {
        let found = worked(name, number, &typed, key);
        let dimension = KeyId::of(key).unwrap().key().dimension().unwrap();
        let read = quantity::parse(&found.written, dimension).unwrap();
        assert!((read.si / found.amount.si - 1.0).abs() < 0.005, "{found:?}");
    }
}

#[test]
fn what_cannot_be_is_told() {
    let slug = |name: &str, typed: &[(&str, &str)], key: &str| {
        let wrong = worked_in(name, 0, typed, "", key).unwrap_err();
        wrong
            .troubles
            .iter()
            .map(|trouble| trouble.slug.clone())
            .collect::<Vec<_>>()
    };
    assert_eq!(slug("pedal-ratio", &[], "pedal.ratio"), ["missing", "missing"]);
    assert_eq!(
        slug("pedal-ratio", &[("a", "275"), ("b", "0")], "pedal.ratio"),
        ["cannot-be"]
    );
    assert_eq!(
        slug("pedal-ratio", &[("a", "275"), ("b", "5")], "pedal.ratio"),
        ["out-of-range"]
    );
    assert_eq!(
        slug(
            "pad-track",
            &[("a", "150"), ("b", "104")],
            "rear_brake.effective_radius"
        ),
        ["cannot-be"]
    );
    assert_eq!(
        slug("pedal-ratio", &[("a", "27 bar"), ("b", "61")], "pedal.ratio").len(),
        1
    );
}

#[test]
fn what_the_sheet_has_already_stands_beside_it() {
    let text = "format = 2\n[pedal]\nratio = 4.2\n[lever]\nbore = \"5/8 in\"\n[tyres]\nrolling_radius = \"195/65 R15\"\n";
    assert_eq!(present(text, None, "pedal.ratio"), Present::Says("4.2".into()));
    assert_eq!(present(text, None, "lever.bore"), Present::Says("5/8 in".into()));
    assert_eq!(present(text, None, "lever.ratio"), Present::Nothing);
    let ask = of("raised-axle").sums[0]
        .asks
        .iter()
        .find(|ask| ask.name == "radius")
        .unwrap();
    assert_eq!(ask.on_the_sheet(text, None, &Units::default()), "308 mm ± 5 mm");
}

#[test]
fn a_key_is_said_in_words_and_one_behind_its_words_is_known_as_such() {
    use questions::measuring::{InText, in_words, pieces};
    assert_eq!(in_words("lever.ratio").as_deref(), Some("lever ratio"));
    assert_eq!(
        in_words("rear_brake.pad_edges").as_deref(),
        Some("edges of the pad's track, rear")
    );
    assert_eq!(in_words("lever"), None);
    let found = pieces("Lever ratio (`lever.ratio`) settles it; not `x`, nor (`y` or `z`)");
    let wanted = [
        InText::Words("Lever ratio"),
        InText::Behind("lever.ratio"),
        InText::Words(" settles it; not "),
        InText::Key("x"),
        InText::Words(", nor ("),
        InText::Key("y"),
        InText::Words(" or "),
        InText::Key("z"),
        InText::Words(")"),
    ];
    assert_eq!(found, wanted);
    assert_eq!(pieces("no key"), [InText::Words("no key")]);
    assert_eq!(pieces(""), []);
}

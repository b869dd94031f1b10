//! What holds for every assessment of every car.

use assess::{Assessment, Finding, Weight, assess, assess_in};
use engine::car::{Form, KeyId};
use quantity::{Dimension, find_unit};
use wording::Units;

use crate::looked::{BRIEF, CARS, Looked, look, look_at, look_drawn, plain, sheet_text, usual};

/// Endings that machine-read results allow.
const UNITS: [&str; 15] = [
    "_pa", "_n", "_nm", "_m", "_m3", "_kg", "_s", "_k", "_dk", "_rad", "_m_s", "_m_s2", "_turns", "_j", "_l",
];
/// Figures that are ratios or counts.
const BARE: [&str; 27] = [
    "joints",
    "front_keeps",
    "front_speed_ratio",
    "drag",
    "in_hand",
    "in_hand_cold",
    "in_hand_uncoupled",
    "other_in_hand",
    "front_first_by",
    "from_grip",
    "to_grip",
    "rear_first_below_grip",
    "efficiency",
    "travel_per_wear",
    "hose_share",
    "rear_stops",
    "rear_locks_first",
    "less_by",
    "cold_friction",
    "friction",
    "days",
    "bolt_used",
    "floor_used",
    "least_turns",
    "most_turns",
    "stage_turns",
    "road_turns",
];

fn check(name: &str, assessment: &Assessment) {
    let texts = |finding: &Finding| {
        [
            finding.title.clone(),
            finding.because.clone(),
            finding.remedy.clone(),
        ]
    };
    let mut all: Vec<String> = assessment.findings.iter().flat_map(texts).collect();
    all.push(assessment.answer.in_sentences());
    for text in &all {
        let plain = plain(text);
        assert!(!plain.is_empty(), "{name}: an empty text");
        for word in plain.split(|letter: char| !letter.is_alphanumeric()) {
            let word = word.to_lowercase();
            assert!(
                !["safe", "safely", "nan", "inf"].contains(&word.as_str()),
                "{name}: {plain}"
            );
        }
        assert!(
            !plain.contains("  ") && !plain.contains(" .") && !plain.contains(" ,") && !plain.contains(".."),
            "{name}: {plain}"
        );
        assert!(
            !plain.contains('–'),
            "{name}: a figure that is not there: {plain}"
        );
    }
    for finding in &assessment.findings {
        assert!(!finding.title.ends_with('.'), "{name}: {}", finding.title);
        assert!(
            finding.because.ends_with('.') && finding.remedy.ends_with('.'),
            "{name}: {}",
            finding.slug
        );
        assert!(
            finding
                .slug
                .chars()
                .all(|letter| letter.is_ascii_lowercase() || letter == '-')
        );
        for (key, value) in &finding.figures {
            assert!(value.is_finite(), "{name}: {key}");
            assert!(
                BARE.contains(key) || UNITS.iter().any(|unit| key.ends_with(unit)),
                "{name}: {key}"
            );
        }
    }
    assert!(
        assessment.findings.is_sorted_by_key(|finding| finding.weight),
        "{name}: worst first"
    );
    let answer = &assessment.answer;
    // A figure and its unit are one word.
    let count = |text: &str| text.split(' ').count();
    assert!(
        count(answer.said) <= 4 && count(&answer.because) <= 14,
        "{name}: {answer:?}"
    );
    let sentences = answer.though.iter().chain(&answer.first);
    for sentence in sentences.chain([&answer.because]) {
        assert!(
            count(sentence) <= 20 && sentence.ends_with('.'),
            "{name}: {sentence}"
        );
        assert!(!sentence.contains(['`', '_']), "{name}: a key in {sentence}");
    }
    assert!(assessment.cautions.contains(&assess::cautions::FIRST_DRIVE));
}

#[test]
fn demonstration_cars() {
    for car in CARS {
        for looked in [look_drawn(car), look(car, &[])] {
            check(car, &looked.assessment);
            for finding in &looked.assessment.findings {
                let words = finding.title.split(' ').count();
                assert!(words <= 8, "{car}: {words} words: {}", finding.title);
            }
        }
    }
}

/// A quarter of all keys in each car, every key in one car or two; all in all where more cases are asked for.
fn is_asked(car: usize, key: usize) -> bool {
    let more = std::env::var("PROPTEST_CASES")
        .ok()
        .and_then(|cases| cases.parse().ok());
    more.is_some_and(|cases: u32| cases > 64) || (car + key).is_multiple_of(4)
}

/// Every figure of every sheet at both ends of what is taken at all: an answer or a refusal, and never nonsense.
#[test]
fn both_ends_of_every_key() {
    let mut looked_at = 0;
    for (place, car) in CARS.into_iter().enumerate() {
        let text = sheet_text(car);
        for (_, id) in (0..).zip(KeyId::all()).filter(|(at, _)| is_asked(place, *at)) {
            let key = id.key();
            let (Form::Quantity(_), Some((low, high)), false) = (key.form, key.hard, key.path.contains("[]"))
            else {
                continue;
            };
            for end in [low, high] {
                let written = format!("{}={end}", key.path);
                if let Some(looked) = look_at(&text, &[&written], &usual(), BRIEF) {
                    check(&format!("{car} {written}"), &looked.assessment);
                    looked_at += 1;
                }
            }
        }
    }
    assert!(looked_at > 200, "{looked_at}");
}

/// Every word of every key.
#[test]
fn every_word_of_every_key() {
    for (place, car) in CARS.into_iter().enumerate() {
        let text = sheet_text(car);
        for (_, id) in (0..).zip(KeyId::all()).filter(|(at, _)| is_asked(place, *at)) {
            let key = id.key();
            let words: Vec<&str> = match key.form {
                Form::Word(words) => words.to_vec(),
                Form::Flag => vec!["true", "false"],
                _ => continue,
            };
            for word in words.into_iter().filter(|_| !key.path.contains("[]")) {
                let written = format!("{}={word}", key.path);
                if let Some(looked) = look_at(&text, &[&written], &usual(), BRIEF) {
                    check(&format!("{car} {written}"), &looked.assessment);
                }
            }
        }
    }
}

#[test]
fn findings_from_elsewhere_are_sorted_in() {
    let Looked {
        assembled, figures, ..
    } = look_at(&sheet_text("scree"), &[], &usual(), BRIEF).unwrap();
    let own = assess(&assembled.car, &figures, Vec::new()).findings;
    let other = Finding {
        slug: "joint-open",
        weight: Weight::Stop,
        title: "A joint was undone and not found dry again".to_owned(),
        because: "It was.".to_owned(),
        remedy: "Look.".to_owned(),
        caution: None,
        figures: Vec::new(),
    };
    let with = assess(&assembled.car, &figures, vec![other.clone()]);
    assert_eq!(with.findings[0], other);
    assert_eq!(with.findings[1..], own[..], "the others keep their order");
    assert_eq!(with.answer.stops_first[0].0, "joint-open");
    assert!(with.answer.in_sentences().starts_with("Stop: A joint was undone"));
    // A stop never changes the word.
    assert_eq!(
        with.answer.verdict,
        assess(&assembled.car, &figures, Vec::new()).answer.verdict
    );
}

#[test]
fn a_persons_own_units() {
    let Looked {
        assembled, figures, ..
    } = look_drawn("tarn-let-go");
    let unit = |symbol, dimension| find_unit(symbol, dimension).unwrap();
    let units = Units {
        pressure: unit("psi", Dimension::Pressure),
        length: unit("in", Dimension::Length),
        force: unit("lbf", Dimension::Force),
        torque: unit("lbf ft", Dimension::Torque),
        ..Units::default()
    };
    let assessment = assess_in(
        &assembled.car,
        figures,
        units,
        wording::Precision::default(),
        Vec::new(),
    );
    let mut said = plain(&assessment.answer.in_sentences());
    for finding in &assessment.findings {
        said.push_str(&plain(&finding.because));
    }
    assert!(said.contains(" lbf ") && said.contains(" in "), "{said}");
    let own = plain(&assessment.answer.in_sentences());
    assert!(!own.contains(" mm") && !own.contains(" N "), "{own}");
}

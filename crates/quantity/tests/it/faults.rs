//! What is refused, and in which words. `faults.txt` holds a block for each text: dimension and text, the fault's slug
//! and the part that it points at, what is wrong, what to write instead.

use std::collections::BTreeSet;

use quantity::{Dimension, Fault, find_unit, parse, parse_written, unit_named, units_of};

const BLOCKS: &str = include_str!("faults.txt");

/// Every fault there is, by its slug.
const SLUGS: [&str; 22] = [
    "quantity-ambiguous-comma",
    "quantity-below-absolute-zero",
    "quantity-between-ends",
    "quantity-between-order",
    "quantity-empty",
    "quantity-fraction",
    "quantity-grouped-digits",
    "quantity-guess-not-taken",
    "quantity-missing-unit",
    "quantity-not-a-number",
    "quantity-not-finite",
    "quantity-number-pair",
    "quantity-range-spelling",
    "quantity-tolerance-missing",
    "quantity-tolerance-negative",
    "quantity-tolerance-unit",
    "quantity-too-long",
    "quantity-too-small",
    "quantity-trailing-text",
    "quantity-unit-refused",
    "quantity-unknown-unit",
    "quantity-wrong-dimension",
];

fn dimension(name: &str) -> Dimension {
    Dimension::ALL
        .into_iter()
        .find(|dimension| format!("{dimension:?}") == name)
        .unwrap()
}

#[track_caller]
fn fault(text: &str, wanted: Dimension) -> Fault {
    match parse(text, wanted) {
        Ok(amount) => panic!("{text:?} was read as {amount:?}"),
        Err(fault) => fault,
    }
}

fn block(text: &str, wanted: Dimension) -> String {
    let fault = fault(text, wanted);
    let at = &text[fault.span()];
    format!(
        "{wanted:?}: {text}\n  {} at {at}\n  {fault}\n  {}\n",
        fault.slug(),
        fault.help()
    )
}

#[test]
fn every_fault_in_its_words() {
    let mut seen = BTreeSet::new();
    let mut wrong = String::new();
    for expected in BLOCKS.split_inclusive("\n\n") {
        let expected = expected.trim_end().to_owned() + "\n";
        let (name, text) = expected.lines().next().unwrap().split_once(": ").unwrap();
        let found = block(text, dimension(name));
        if found != expected {
            wrong += &format!("expected\n{expected}found\n{found}\n");
        }
        seen.insert(fault(text, dimension(name)).slug());
    }
    assert!(wrong.is_empty(), "{wrong}");
    // These are looked at below.
    seen.extend(["quantity-empty", "quantity-too-long", "quantity-guess-not-taken"]);
    assert_eq!(seen.into_iter().collect::<Vec<_>>(), SLUGS);
}

#[test]
fn nothing() {
    for text in ["", " ", "\t\u{a0}\u{2009}\u{feff}\n"] {
        let fault = fault(text, Dimension::Force);
        assert_eq!(
            fault,
            Fault::Empty {
                span: 0..text.len(),
                wanted: Dimension::Force
            }
        );
        assert_eq!(fault.to_string(), "there is nothing here");
        assert_eq!(fault.help(), "write a force, such as `250 N`");
    }
}

#[test]
fn too_much() {
    let longest = format!("5 mm{}", " ".repeat(196));
    assert!(parse(&longest, Dimension::Length).is_ok());
    let longer = longest + " ";
    let fault = fault(&longer, Dimension::Length);
    assert_eq!(fault.span(), 200..201);
    let quoted = format!("5 mm{}", " ".repeat(56));
    let words = format!("`{quoted}…` is too long for a quantity: 200 characters are the most");
    assert_eq!(fault.to_string(), words);
    assert_eq!(fault.help(), "keep only the number, its unit and its tolerance");

    let umlauts = "ä".repeat(100_000);
    assert_eq!(
        parse(&umlauts, Dimension::Length).unwrap_err().span(),
        400..200_000,
        "counted in characters"
    );
    assert_eq!(
        parse_written(&umlauts, Dimension::Length).unwrap_err().slug(),
        "quantity-too-long"
    );
    assert_eq!(
        find_unit(&umlauts, Dimension::Length).unwrap_err().slug(),
        "quantity-too-long"
    );
}

#[test]
fn a_guess_without_a_default() {
    let fault = fault(" guess ", Dimension::Mass);
    assert_eq!(fault.span(), 1..6);
    assert_eq!(
        fault.to_string(),
        "`guess` is allowed only where there is a default"
    );
    assert_eq!(fault.help(), "write a mass, such as `25 kg`");
}

#[test]
fn nothing_that_a_terminal_would_obey_is_quoted() {
    for text in [
        "\u{1b}[31m5 mm",
        "5 \u{1b}[31mmm",
        "5 \u{202e}mm",
        "5 mm\u{7}",
        "5 m\u{0}m",
        "5 mm \u{2066}x",
    ] {
        let fault = fault(text, Dimension::Length);
        let words = format!("{fault}{}", fault.help());
        let obeyed = words
            .chars()
            .find(|c| c.is_control() || ('\u{202a}'..='\u{2069}').contains(c));
        assert_eq!(obeyed, None, "{words:?}");
    }
    assert_eq!(
        fault("5 \u{1b}[31mmm", Dimension::Length).to_string(),
        "`\\u{1b}[31mmm` is not a unit that is known here"
    );
}

#[test]
fn long_texts_are_cut_where_they_are_quoted() {
    let text = "x".repeat(150);
    let fault = fault(&text, Dimension::Ratio);
    assert_eq!(fault.span(), 0..150);
    assert_eq!(
        fault.to_string(),
        format!("`{}…` cannot be read as a number", "x".repeat(60))
    );
}

#[test]
fn a_unit_alone() {
    let found = |text: &str, wanted| find_unit(text, wanted).map(|unit| unit.symbol());
    assert_eq!(found(" bar ", Dimension::Pressure), Ok("bar"));
    assert_eq!(found("", Dimension::Ratio), Ok(""));
    assert_eq!(found("%", Dimension::Ratio), Ok("%"));
    assert_eq!(
        found("", Dimension::Pressure).unwrap_err().slug(),
        "quantity-missing-unit"
    );
    assert_eq!(
        found("", Dimension::Pressure).unwrap_err().to_string(),
        "the unit is missing, and a pressure needs one"
    );
    assert_eq!(
        found("", Dimension::Pressure).unwrap_err().help(),
        "write `bar`, `psi`, `kPa` or `MPa`"
    );
    assert_eq!(
        found("mm", Dimension::Pressure).unwrap_err().to_string(),
        "`mm` is a length, and here a pressure is wanted"
    );
    assert_eq!(
        found("BAR", Dimension::Pressure).unwrap_err().slug(),
        "quantity-unit-refused"
    );
    assert_eq!(
        found("70 bar", Dimension::Pressure).unwrap_err().slug(),
        "quantity-unknown-unit"
    );
    assert_eq!(
        found("bar 5", Dimension::Pressure).unwrap_err().slug(),
        "quantity-unknown-unit"
    );
}

#[test]
fn a_unit_of_anything() {
    let found = |text: &str| unit_named(text).map(|unit| (unit.dimension(), unit.symbol()));
    assert_eq!(found("bar"), Some((Dimension::Pressure, "bar")));
    assert_eq!(found(" ft-lb "), Some((Dimension::Torque, "lbf ft")));
    assert_eq!(found("%"), Some((Dimension::Ratio, "%")));
    for text in ["", "BAR", "brr", "gal", "5 mm"] {
        assert_eq!(found(text), None, "{text:?}");
    }
    for dimension in Dimension::ALL {
        for unit in units_of(dimension)
            .iter()
            .filter(|unit| !unit.symbol().is_empty())
        {
            assert_eq!(find_unit(unit.symbol(), dimension), Ok(*unit));
            assert_eq!(find_unit(unit.shown(), dimension), Ok(*unit));
            assert!(unit_named(unit.symbol()).is_some_and(|found| found == *unit || unit.symbol() == "%"));
        }
    }
}

#[test]
fn every_example_is_read() {
    for dimension in Dimension::ALL {
        parse(dimension.example(), dimension).unwrap();
        assert!(!units_of(dimension).is_empty());
    }
}

//! An entry is made by one reading.

use proptest::prelude::*;
use proving::{Check, Fact, NewEntry};
use serde_json::{Value, json};

fn why(kind: &str, data: &Value) -> String {
    match NewEntry::read(kind, &data.to_string()) {
        Ok(entry) => panic!("{kind} {data}: taken as {entry:?}"),
        Err(refused) => refused.to_string(),
    }
}

/// What would mean nothing is refused, and it is said what was expected.
#[test]
fn what_would_never_count_is_no_entry() {
    let cases = [
        ("jont", json!({}), "note, joint, reading"),
        ("joint", json!({ "text": "wet" }), "`joint` and `state`"),
        (
            "joint",
            json!({ "joint": "a", "state": "wep" }),
            "marked, dry, weep, remade",
        ),
        (
            "joint",
            json!({ "joint": "a", "state": "weep", "stat": 1 }),
            "did you mean `state`?",
        ),
        ("pads", json!({ "text": "thin" }), "front, rear"),
        ("pads", json!({ "axle": "left", "left": "6 mm" }), "front, rear"),
        ("pads", json!({ "axle": "rear" }), "\"6.2 mm\""),
        ("pads", json!({ "axle": "rear", "left": 6.2 }), "quotes"),
        (
            "pads",
            json!({ "axle": "rear", "left": "-1 mm" }),
            "0 mm to 40 mm",
        ),
        (
            "pads",
            json!({ "axle": "rear", "left": "62 cm" }),
            "0 mm to 40 mm",
        ),
        ("pads", json!({ "axle": "rear", "left": "6 bar" }), "left: "),
        (
            "pads",
            json!({ "axle": "rear", "left": "6 mm", "fitted": "yes" }),
            "neither true nor false",
        ),
        ("fluid", json!({ "text": "changed" }), "`changed`: true"),
        ("fluid", json!({ "boils": "1000000000 C" }), "90 C to 400 C"),
        ("fluid", json!({ "boils": "20 C" }), "90 C to 400 C"),
        (
            "fluid",
            json!({ "changed": true, "boils": "200 C" }),
            "two entries",
        ),
        ("reading", json!({ "text": "168 C" }), "a note"),
        ("reading", json!({ "fluid": "1e9 C" }), "fluid"),
        (
            "reading",
            json!({ "check": "wlking", "result": "held" }),
            "walking",
        ),
        (
            "reading",
            json!({ "check": "walking", "result": "yes" }),
            "held, failed",
        ),
        (
            "reading",
            json!({ "check": "soak", "from": "50 bar", "to": "47 bar" }),
            "`in` is missing",
        ),
        (
            "reading",
            json!({ "check": "soak", "from": "50 bar", "to": "47 bar", "in": "10 min", "air": "18 C" }),
            "[\"18 C\", \"17 C\"]",
        ),
        (
            "reading",
            json!({ "check": "soak", "from": "5000 bar", "to": "47 bar", "in": "10 min" }),
            "0 bar to 400 bar",
        ),
        (
            "reading",
            json!({ "check": "even", "left": "300 N m", "right": "1200 N" }),
            "right: ",
        ),
        (
            "reading",
            json!({ "check": "even", "left": "3 kN", "right": "3 kN", "how": "roler" }),
            "torque wrench",
        ),
        (
            "reading",
            json!({ "check": "slope", "not_done": "no hill", "result": "held" }),
            "no `result`",
        ),
        ("signoff", json!({ "text": "fine" }), "`by`"),
        ("note", json!({}), "says nothing"),
        ("note", json!({ "text": " " }), "says nothing"),
        ("note", json!({ "hose": "fitted" }), "did you mean `hoses`?"),
        ("note", json!({ "hoses": "fited" }), "fitted"),
        ("note", json!({ "step": "buy", "event": "Fell" }), "an entry each"),
        (
            "setting",
            json!({ "text": "x", "evnt": "Fell" }),
            "did you mean `event`?",
        ),
        (
            "fault",
            json!({ "text": "x", "part": "seal" }),
            "text, symptom, test, said, right",
        ),
        ("strike", json!({ "text": "x" }), "no kind"),
        ("note", json!(["x"]), "no JSON object"),
    ];
    for (kind, data, expected) in cases {
        let why = why(kind, &data);
        assert!(why.contains(expected), "{kind} {data}: {why}");
    }
    assert!(NewEntry::read("note", "{").is_err());
}

/// Words that nothing counts stay possible, and what was written is kept to the byte.
#[test]
fn words_alone_are_a_note_a_setting_or_a_fault() {
    for kind in ["note", "setting", "fault"] {
        let data = r#"{ "text": "the pedal  is firm", "text2": 1 }"#.replace(", \"text2\": 1", "");
        let entry = NewEntry::read(kind, &data).unwrap();
        assert_eq!(
            (entry.kind(), entry.data(), entry.fact()),
            (kind, data.as_str(), None)
        );
    }
    let data = r#"{"left":"6.20 mm", "axle":"rear"}"#;
    let entry = NewEntry::read("pads", data).unwrap();
    assert_eq!(entry.data(), data);
    assert_eq!(
        entry.fact(),
        Some(&Fact::Pads {
            axle: "rear".to_owned(),
            left_m: 6.2e-3,
            fitted: false
        })
    );
}

proptest! {
    /// Any data is read or refused; what is taken says something.
    #[test]
    fn any_entry_is_read_or_refused(
        kind in "note|joint|reading|setting|fluid|pads|fault|signoff",
        key in "text|joint|state|touched|check|result|fluid|boils|changed|axle|left|by|step|hoses|.{0,6}",
        word in "held|dry|front|6 mm|182 C|walking|fitted|.{0,8}",
    ) {
        if let Ok(entry) = NewEntry::read(&kind, &json!({ key: word }).to_string()) {
            prop_assert!(entry.fact().is_some() || entry.data().contains("text"));
        }
    }
}

/// The order of the work: what holds stands on what comes before it.
#[test]
fn every_check_stands_on_earlier_ones() {
    for check in Check::ALL {
        let place = |of: &Check| Check::ALL.iter().position(|other| other == of);
        let (before, _) = check.stands_on();
        assert!(
            before.iter().all(|earlier| place(earlier) < place(&check)),
            "{check:?}"
        );
    }
}

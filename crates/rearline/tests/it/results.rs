//! `docs/results.md`: an example of every verb's machine-read result, from real runs of a demonstration car.

use std::fs;
use std::path::Path;

use serde_json::Value;

use crate::bench::Bench;

const HEAD: &str = "\
# What a machine reads

<!-- Written from real runs of the demonstration cars (`cargo test -p rearline results`, REARLINE_WRITE_DOCS=1); do not edit. -->

Every verb that answers takes `--json` and then prints one JSON object on standard output. `rearline schema VERB` prints the JSON
Schema of it. What is meant here is an example: lists are cut short, figures are those of an invented car.

- **SI**: a key ends in its unit: `_pa _n _nm _m _m3 _kg _s _k` (absolute) `_dk` (difference) `_rad _m_s` and the like. Without one
  it is a ratio, a count, a word, or a figure with its range, `{ \"value\", \"low\", \"high\" }` (5 to 95 %).
- **Null** has its reason beside it, under the same key with `_why`.
- **Keys may be added**, never renamed while `contract` is the same number.
- **Exit status**: 0 fine; 1 a *stop* was found (with `--strict`), or the logbook's check found a fault; 2 wrong input; 3 a file, a
  port or the disk; 101 a bug; 130 interrupted.
";

/// Keys of the head, shown once.
const SHARED: [&str; 9] = [
    "contract",
    "rearline",
    "verb",
    "car",
    "sheet_sha256",
    "state",
    "defaults",
    "measured",
    "warnings",
];

/// A run for every verb that has a result of its own.
const RUNS: &[&[&str]] = &[
    &["assess", "tarn"],
    &["sure", "tarn"],
    &["pressures", "tarn", "--foot", "300 N", "--hand", "150 N"],
    &["balance", "tarn"],
    &["settings", "tarn"],
    &["lever", "tarn"],
    &["size", "tarn", "--change", "lever"],
    &["conditions", "tarn"],
    &["turn", "tarn"],
    &["heat", "tarn"],
    &["hold", "tarn"],
    &["lines", "tarn"],
    &["prove", "tarn"],
    &["plan", "tarn"],
    &["pull", "tarn"],
    &["logger", "tarn", "--demonstration"],
    &["symptom", "tarn", "long, then firm"],
    &["leak", "tarn"],
    &["working", "tarn", "in_hand"],
    &["how", "lever.ratio", "a=278 mm", "b=62 mm"],
    &["logbook", "add", "tarn", "--kind", "note", "--text", "pedal firm"],
    &["logbook", "list", "tarn"],
    &["logbook", "verify", "tarn"],
    &["logbook", "due", "tarn"],
    &["build-book", "tarn"],
    &["check-sheet", "tarn"],
];

/// When an entry was written and what chains it to the one before, where a book lies: another with every run.
const OF_A_RUN: [(&str, &str); 6] = [
    ("at", "2026-05-01T16:40:00Z"),
    ("device_entry", "… what the device calls it"),
    ("hash", "… sixty-four digits"),
    ("head", "… sixty-four digits"),
    ("path", "cars/tarn/book.pdf"),
    ("sha256", "… sixty-four digits"),
];

/// Lists cut to their first two figures or words, or to one of what is larger.
fn short(value: Value) -> Value {
    match value {
        Value::Array(members) => {
            let plain = members
                .iter()
                .all(|member| !member.is_object() && !member.is_array());
            let most = if plain { 2 } else { 1 };
            let more = members.len().saturating_sub(most);
            let mut kept: Vec<Value> = members.into_iter().take(most).map(short).collect();
            if more > 0 {
                kept.push(Value::String(format!("… and {more} more")));
            }
            Value::Array(kept)
        }
        Value::Object(members) => members
            .into_iter()
            .map(|(key, member)| {
                let of_a_run = OF_A_RUN
                    .iter()
                    .find(|(name, _)| *name == key && member.is_string());
                let member = match of_a_run {
                    Some((_, example)) => Value::String((*example).to_owned()),
                    None => short(member),
                };
                (key, member)
            })
            .collect(),
        other => other,
    }
}

/// Every key, with the keys that it stands in; members of a list count as one.
fn keys(value: &Value, at: &str, found: &mut Vec<String>) {
    match value {
        Value::Array(members) => members.iter().for_each(|member| keys(member, at, found)),
        Value::Object(members) => {
            for (key, member) in members {
                let path = format!("{at}.{key}");
                keys(member, &path, found);
                found.push(path);
            }
        }
        _ => {}
    }
}

fn block(heading: &str, value: &Value) -> String {
    let json = serde_json::to_string_pretty(value).unwrap();
    format!("\n## {heading}\n\n```json\n{json}\n```\n")
}

fn page() -> String {
    let bench = Bench::with_cars();
    let mut page = HEAD.to_owned();
    for (at, run) in RUNS.iter().enumerate() {
        let mut arguments = run.to_vec();
        arguments.push("--json");
        if !matches!(
            run,
            ["logbook", "add" | "list" | "verify", ..] | ["check-sheet" | "how", ..]
        ) {
            arguments.extend(["--on", "2026-05-01"]);
        }
        let Value::Object(mut whole) = short(bench.json(&arguments)) else {
            panic!("{run:?} gives no object");
        };
        let head: Value = SHARED
            .iter()
            .filter_map(|key| Some(((*key).to_owned(), whole.remove(*key)?)))
            .collect();
        if at == 0 {
            page.push_str(&block("The head of every answer", &head));
        }
        let said: Vec<String> = run.iter().map(|word| wording::quoted(word)).collect();
        page.push_str(&block(
            &format!("`rearline {} --json`", said.join(" ")),
            &Value::Object(whole),
        ));
    }
    let wrong = bench.run(&["lever", "tarn", "--json", "--surface", "gravel"]);
    let wrong: Value = serde_json::from_str(&wrong.out).unwrap();
    page.push_str(&block(
        "What is wrong: `rearline lever tarn --surface gravel --json`",
        &short(wrong),
    ));
    page
}

/// Headings, and the keys below each.
fn shape(page: &str) -> Vec<(String, Vec<String>)> {
    page.split("\n## ")
        .skip(1)
        .map(|section| {
            let (heading, rest) = section.split_once('\n').unwrap();
            let json = rest.split("```json").nth(1).unwrap().split("```").next().unwrap();
            let mut found = Vec::new();
            keys(&serde_json::from_str(json).unwrap(), "", &mut found);
            found.sort();
            found.dedup();
            (heading.to_owned(), found)
        })
        .collect()
}

/// Its keys are compared: figures and sentences of an example may be those of an earlier day.
#[test]
fn every_result_has_a_current_example() {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../docs/results.md");
    let page = page();
    if std::env::var_os("REARLINE_WRITE_DOCS").is_some() {
        fs::write(&path, &page).unwrap();
    }
    let kept = fs::read_to_string(&path).unwrap();
    for (kept, now) in shape(&kept).into_iter().zip(shape(&page)) {
        assert_eq!(
            kept, now,
            "docs/results.md is old; write it with REARLINE_WRITE_DOCS=1"
        );
    }
    assert_eq!(shape(&kept).len(), RUNS.len() + 2);
}

//! What is made from the table of keys: the blank sheet, the page of keys, the schema.

use engine::car::KeyId;
use serde_json::{Map, Value, json};
use sheet::{Arrangement, Blank, FIRST_QUESTIONS, Problem};
use toml::de::{DeTable, DeValue};

use crate::FULL;

/// Every combination of what can be answered first; and the words that only the command line chooses, each by itself.
fn blanks() -> Vec<(String, Blank)> {
    let mut blanks = vec![(String::new(), Blank::new("Fjell 2"))];
    for question in FIRST_QUESTIONS {
        blanks = blanks
            .into_iter()
            .flat_map(|(said, blank)| {
                question.answers.iter().map(move |answer| {
                    (
                        format!("{said} {}={}", question.name, answer.word),
                        blank.clone().answered(answer),
                    )
                })
            })
            .collect();
    }
    assert_eq!(blanks.len(), 3 * 3 * 3 * 2 * 5 * 4);
    let alone = |explained: bool| {
        let begin = move || {
            if explained {
                Blank::new("Fjell 2").explained()
            } else {
                Blank::new("Fjell 2")
            }
        };
        Blank::new("")
            .choices()
            .flat_map(|(path, words, _)| words.iter().map(move |word| (path, *word)))
            .map(move |(path, word)| (format!("{path}={word}"), begin().choose(path, word).unwrap()))
            .collect::<Vec<_>>()
    };
    blanks.extend(alone(false));
    blanks.extend(alone(true));
    blanks
}

/// The blank sheet with a middling figure at everything that is to be filled in.
fn filled(blank: &Blank) -> String {
    let text = blank.to_string();
    let problems = sheet::read(text.as_bytes(), "car.toml").problems();
    let mut filled = text.clone();
    for problem in problems.shown().iter().rev() {
        assert_eq!(problem.slug(), "to-fill-in", "{problem}");
        let key = problem.key.as_deref().unwrap();
        let raw = &text[problem.span.clone()];
        let value = match key.rsplit('.').next().unwrap() {
            "gain" => "3.5",
            "at_fewest" => "8 bar",
            "at_most" => "60 bar",
            "turns" => "5 turns",
            "knee" => "30 bar",
            "empty" if raw.contains("kN") => "4 kN",
            "empty" => "20 bar",
            "laden" if raw.contains("kN") => "6 kN",
            "laden" => "45 bar",
            "ratio" if key == "lever.cable.ratio" => "28",
            "ratio" => "5",
            "wheelbase" => "2.5 m",
            "front" | "rear" => "600 kg",
            "rolling_radius" => "0.31 m",
            "bore" | "front_bore" | "rear_bore" | "cylinder_bore" => "20 mm",
            "layout" => "sliding",
            "pistons" => "40 mm",
            "effective_radius" | "drum_radius" => "115 mm",
            "shoe_factor" => "2.1",
            "driven" => "front",
            "kind" => "viscous",
            other => panic!("nothing to fill in at {other}"),
        };
        let value = if key == "drivetrain.centre.kind" {
            "open"
        } else {
            value
        };
        assert!(raw.starts_with('"') && raw.ends_with('"'), "{raw}");
        filled.replace_range(problem.span.clone(), &format!("\"{value}\""));
    }
    filled
}

#[test]
fn a_blank_sheet_reads_once_it_is_filled_in() {
    for (said, blank) in blanks() {
        let filled = filled(&blank);
        let read = sheet::read(filled.as_bytes(), "car.toml");
        match read.assemble() {
            Ok(assembled) => assert_eq!(&*assembled.car.name, "Fjell 2"),
            Err(problems) => panic!("{said}: {problems}"),
        }
    }
}

#[test]
fn an_explained_sheet_holds_every_key_once() {
    let text = Blank::new("Fjell 2").explained().to_string();
    let mut header = String::new();
    let mut seen = Vec::new();
    for line in text
        .lines()
        .filter(|line| !line.starts_with("# ") && !line.is_empty() && *line != "#")
    {
        let line = line.trim_start_matches('#');
        if line.starts_with('[') {
            let name = line.trim_matches(['[', ']']);
            header = if line.starts_with("[[") {
                format!("{name}[].")
            } else {
                format!("{name}.")
            };
        } else {
            let name = line.split(" = ").next().unwrap();
            seen.push(format!("{header}{name}"));
        }
    }
    let keys: Vec<&str> = KeyId::all().map(|id| id.key().path).collect();
    for key in &keys {
        assert_eq!(seen.iter().filter(|seen| seen == key).count(), 1, "{key}");
    }
    assert_eq!(seen.len(), keys.len());
}

#[test]
fn what_is_commented_out_reads_when_it_is_taken_in() {
    // All of it at once contradicts itself, but no value in it is at fault.
    let text = Blank::new("Fjell 2").explained().to_string();
    let all: String = text
        .lines()
        .map(|line| match line.strip_prefix('#') {
            Some(rest) if !rest.is_empty() && !rest.starts_with(' ') => format!("{rest}\n"),
            _ => format!("{line}\n"),
        })
        .collect();
    // A name that is a key and a table in one sheet cannot be both.
    let either = [
        "knee = ",
        "rolling_radius = ",
        "crew = ",
        "booster = ",
        "bias_valve = ",
    ];
    let all: String = all
        .lines()
        .filter(|line| !either.iter().any(|start| line.starts_with(start)))
        .map(|line| format!("{line}\n"))
        .collect();
    let problems = sheet::read(all.as_bytes(), "car.toml").problems();
    let others: Vec<&Problem> = problems
        .shown()
        .iter()
        .filter(|problem| problem.slug() != "to-fill-in")
        .collect();
    assert!(others.is_empty(), "{others:#?}");
}

/// Keys that are still to be filled in, each once.
fn open_keys(blank: &Blank) -> Vec<String> {
    let text = blank.to_string();
    let problems = sheet::read(text.as_bytes(), "car.toml").assemble().unwrap_err();
    let mut keys: Vec<String> = Vec::new();
    for problem in problems.shown() {
        assert_eq!(problem.slug(), "to-fill-in", "{problem}");
        let key = problem.key.clone().unwrap();
        if !keys.contains(&key) {
            keys.push(key);
        }
    }
    keys
}

#[test]
fn a_new_sheet_is_short_and_only_asks_for_what_its_kind_of_car_needs() {
    let mut counts = Vec::new();
    for (said, blank) in blanks().into_iter().take(1080) {
        let text = blank.to_string();
        assert!(text.lines().count() <= 70, "{said}:\n{text}");
        assert!(!text.contains('#'), "{said}");
        counts.push(open_keys(&blank).len());
        // What a sheet says of its kind is found again on it.
        let read = sheet::read(text.as_bytes(), "car.toml");
        let found = Arrangement::of(&read.inputs);
        for ((path, _, chosen), (_, _, again)) in blank.choices().zip(found.choices()) {
            if chosen.is_some() {
                assert_eq!(again, chosen, "{said}: {path}");
            }
        }
        for id in KeyId::all().filter(|id| found.asks_for(id.key())) {
            let key = id.key();
            assert!(
                found.belongs(key) || key.path == "rear_brake.caliper.parking_mechanism",
                "{said}: {}",
                key.path
            );
        }
    }
    // By hand: two weights, wheelbase, radius, pedal; no lever, no booster, no valve: 1 bore; three figures a disc brake.
    assert_eq!(counts.iter().min(), Some(&12));
    // A booster's gain, twin bores, three at the knob, bore and ratio of the lever, three at its own calipers, the centre.
    assert_eq!(counts.iter().max(), Some(&23));
}

#[test]
fn the_short_sheet_of_a_plain_car() {
    let mut blank = Blank::new("Fjell 2");
    for (question, word) in FIRST_QUESTIONS
        .iter()
        .zip(["front", "disc", "axle", "none", "none", "inline"])
    {
        blank = blank.answered(question.answer(word).unwrap());
    }
    assert_eq!(open_keys(&blank).len(), 14);
    insta::assert_snapshot!("short", blank);
}

#[test]
fn every_answer_decides_something_that_can_be_chosen() {
    for question in FIRST_QUESTIONS {
        for answer in question.answers {
            for (path, word) in answer.decides {
                assert!(Blank::new("x").choose(path, word).is_ok(), "{path} = {word}");
            }
            assert_eq!(question.answer(answer.word), Some(answer));
        }
    }
}

#[test]
fn a_name_with_quotes_is_kept() {
    let filled = filled(&Blank::new("Fjell \"2\" \\ ä"));
    let read = sheet::read(filled.as_bytes(), "car.toml");
    assert_eq!(&*read.assemble().unwrap().car.name, "Fjell \"2\" \\ ä");
}

#[test]
fn choices_are_checked() {
    assert_eq!(
        Blank::new("x").choose("lever.bore", "3 mm").unwrap_err().slug(),
        "unknown-key"
    );
    let fault = Blank::new("x").choose("master.split", "diagnal").unwrap_err();
    assert_eq!(fault.remedy(), "did you mean \"diagonal\"?");
}

#[test]
fn the_blank_sheet_explains_itself() {
    let text = Blank::new("Fjell 2").explained().to_string();
    let head: Vec<&str> = text
        .lines()
        .take_while(|line| !line.starts_with("[weighed]"))
        .collect();
    insta::assert_snapshot!("blank_head", head.join("\n"));
    assert!(
        text.lines()
            .all(|line| !line.starts_with("# ") || line.chars().count() <= 100),
        "long comments"
    );
}

#[test]
fn the_page_of_keys_is_current() {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/../../docs/sheet.md");
    let page = sheet::reference();
    if std::env::var_os("REARLINE_WRITE_DOCS").is_some() {
        std::fs::write(path, &page).unwrap();
    }
    let kept = std::fs::read_to_string(path).unwrap();
    assert!(
        kept == page,
        "docs/sheet.md is not what the table of keys says; write it with REARLINE_WRITE_DOCS=1"
    );
    for id in KeyId::all() {
        let last = id.key().name();
        assert!(
            page.contains(last) && page.contains(&id.key().help.replace('|', "\\|")),
            "{}",
            id.key().path
        );
    }
}

/// A sheet as JSON, days as texts.
fn as_json(sheet: &str) -> Value {
    fn table(table: &DeTable<'_>) -> Value {
        Value::Object(
            table
                .iter()
                .map(|(key, each)| (key.get_ref().to_string(), value(each.get_ref())))
                .collect::<Map<_, _>>(),
        )
    }
    fn value(each: &DeValue<'_>) -> Value {
        match each {
            DeValue::String(text) => json!(text),
            DeValue::Integer(number) => json!(number.as_str().parse::<i64>().unwrap()),
            DeValue::Float(number) => json!(number.as_str().parse::<f64>().unwrap()),
            DeValue::Boolean(flag) => json!(flag),
            DeValue::Datetime(day) => json!(day.to_string()),
            DeValue::Array(array) => array.iter().map(|each| value(each.get_ref())).collect(),
            DeValue::Table(each) => table(each),
        }
    }
    table(DeTable::parse(sheet).unwrap().get_ref())
}

#[test]
fn every_good_sheet_is_valid_by_the_schema() {
    let schema = sheet::json_schema();
    jsonschema::meta::validate(&schema).unwrap();
    let validator = jsonschema::draft202012::new(&schema).unwrap();
    let mut sheets = vec![FULL.to_owned()];
    sheets.extend(blanks().iter().map(|(_, blank)| filled(blank)));
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/../../demo");
    for car in std::fs::read_dir(folder).unwrap() {
        sheets.extend(std::fs::read_to_string(car.unwrap().path().join("car.toml")));
    }
    for sheet in sheets {
        let errors: Vec<String> = validator
            .iter_errors(&as_json(&sheet))
            .map(|error| format!("{} at {}", error, error.instance_path()))
            .collect();
        assert!(errors.is_empty(), "{errors:#?}");
    }
}

#[test]
fn the_schema_refuses_what_the_reader_refuses() {
    let validator = jsonschema::draft202012::new(&sheet::json_schema()).unwrap();
    let full = as_json(FULL);
    assert!(validator.is_valid(&full));
    let changes: [(&str, Value); 14] = [
        ("/lever/bore", json!(15.9)),
        ("/lever/bore", json!("15.9")),
        ("/lever/bore", json!("bore")),
        ("/lever/bore", json!("guess")),
        ("/lever/boar", json!("15.9 mm")),
        ("/lever/latch", json!("no")),
        ("/lever/kind", json!("outline")),
        ("/format", json!(3)),
        ("/pedal/ratio", json!(40)),
        ("/pedal/ratio", json!("4.3 x 2")),
        ("/front_brake/caliper/pistons", json!([])),
        ("/front_brake/caliper/pistons", json!("40 mm")),
        ("/measured/pull/0/points", json!([["0 mm"]])),
        ("/fluid/fitted", json!("14.03.2026")),
    ];
    for (at, value) in changes {
        let mut changed = full.clone();
        let (table, name) = at.rsplit_once('/').unwrap();
        changed
            .pointer_mut(table)
            .unwrap()
            .as_object_mut()
            .unwrap()
            .insert(name.to_owned(), value.clone());
        // A ratio with nonsense behind it is beyond a pattern that lets fractions and tolerances pass.
        let beyond = value == json!("4.3 x 2");
        assert_eq!(validator.is_valid(&changed), beyond, "{at} = {value}");
    }
    let mut nameless = full;
    nameless
        .pointer_mut("/car")
        .unwrap()
        .as_object_mut()
        .unwrap()
        .remove("name");
    assert!(!validator.is_valid(&nameless));
}

//! `lines`, `prove`, `plan` and `logbook due`, as a person and as other programs read them.

use serde_json::Value;
use unicode_width::UnicodeWidthStr as _;

use crate::bench::{Bench, CARS, assert_near, number};
use crate::logbook::older_entry;
use crate::machine::{assert_explained, assert_valid, schema};

/// Keys that the contract names, with an array's first member.
const PROMISED: [(&str, &[&str]); 3] = [
    (
        "lines",
        &[
            "/parts/0/what",
            "/parts/0/count",
            "/parts/0/spec",
            "/parts/0/each",
            "/parts/0/sum",
            "/cuts/0/run",
            "/cuts/0/length_m",
            "/joints/0/id",
            "/joints/0/between/1",
            "/joints/0/thread",
            "/joints/0/seat",
            "/joints/0/mates",
            "/joints/0/adapter",
            "/joints/0/in_cabin",
            "/joints/0/torque_band_nm",
            "/layouts",
            "/comes_out",
            "/fluid_m3",
        ],
    ),
    (
        "prove",
        &[
            "/bleed/0/corner",
            "/bleed/0/run_m3",
            "/bleed/0/through_m3",
            "/bleed/0/valve",
            "/bleed/0/lever",
            "/buy_m3",
            "/round/0/joint",
            "/round/0/state",
            "/open",
            "/may_sign",
        ],
    ),
    (
        "plan",
        &["/steps/0/step", "/steps/0/done", "/steps/0/may_stop_after"],
    ),
];

#[test]
fn every_result_keeps_to_its_schema_and_to_the_contract() {
    let bench = Bench::with_cars();
    for (verb, promised) in PROMISED {
        let schema = schema(&bench, verb);
        for car in CARS {
            let value = bench.json(&[verb, car, "--json", "--on", "2026-05-01"]);
            assert_valid(&schema, &value, &format!("{verb} {car}"));
            assert_explained(&value, &format!("{verb} {car}"));
            assert_eq!(value["verb"], verb);
            for path in promised {
                assert!(value.pointer(path).is_some(), "{verb} {car}: {path} is missing");
            }
        }
    }
    let due = schema(&bench, "due");
    for car in CARS {
        assert_valid(&due, &bench.json(&["logbook", "due", car, "--json"]), car);
    }
    let seats = bench.json(&["lines", "--seats", "--json"]);
    assert_valid(&schema(&bench, "seats"), &seats, "seats");
    assert_eq!(seats["seats"].as_array().unwrap().len(), 16);
}

#[test]
fn pages_fit_80_columns() {
    let bench = Bench::with_cars();
    let mut asked: Vec<Vec<&str>> = vec![vec!["lines", "--seats"]];
    for car in CARS {
        for verb in ["lines", "prove", "plan"] {
            asked.push(vec![verb, car]);
            asked.push(vec![verb, car, "--units", "psi,in,lbf"]);
        }
        asked.push(vec!["prove", car, "--blank"]);
        asked.push(vec!["logbook", "due", car]);
    }
    for arguments in asked {
        let run = bench.run(&arguments);
        assert_eq!(run.status, Some(0), "{arguments:?}: {}", run.aside);
        for line in run.out.lines() {
            assert!(
                line.width() <= 80,
                "{arguments:?}, {} columns: {line}",
                line.width()
            );
            assert_eq!(line.trim_end(), line, "{arguments:?}: blanks at the end");
        }
    }
}

/// Every measured route of the sheet, hoses too: 7.75 m on `tarn`.
#[test]
fn every_measured_route_is_in_the_cuts() {
    let bench = Bench::with_cars();
    let value = bench.json(&["lines", "tarn", "--json"]);
    let all_m: f64 = value["cuts"]
        .as_array()
        .unwrap()
        .iter()
        .map(|cut| cut["length_m"].as_f64().unwrap())
        .sum();
    assert_near(all_m, 7.75);
    let ids: Vec<&str> = value["joints"]
        .as_array()
        .unwrap()
        .iter()
        .map(|joint| joint["id"].as_str().unwrap())
        .collect();
    assert!(ids.contains(&"master.rear–master_to_bulkhead.a"), "{ids:?}");
}

/// What nobody taped, or looked at, is told as such: machine-read, on paper and in the spreadsheet.
#[test]
fn lists_tell_only_what_is_known() {
    let bench = Bench::with_cars();
    let untaped = ["--with", "routes.bulkhead_to_lever=guess"];
    let value = bench.json(&[&["lines", "tarn", "--json"], &untaped[..]].concat());
    let cut = |run: &str| {
        let cuts = value["cuts"].as_array().unwrap();
        cuts.iter().find(|cut| cut["run"] == run).unwrap().clone()
    };
    let guessed = cut("bulkhead_to_lever");
    for key in ["length_m", "cut_m"] {
        assert!(guessed[key].is_null(), "{guessed}");
        assert_eq!(guessed[format!("{key}_why")], "not measured: tape it first");
    }
    assert!(cut("lever_to_rear_tee")["cut_m"].is_number());
    let front = cut("master_to_front_left");
    assert!(front["stays"] == true && front["cut_m"].is_null() && front["length_m"].is_number());
    assert!(
        value["not_listed"][0]
            .as_str()
            .unwrap()
            .contains("one run, not measured"),
        "{value}"
    );
    let page = bench.run(&[&["lines", "tarn"], &untaped[..]].concat()).out;
    let row = page
        .lines()
        .find(|line| line.contains("bulkhead to lever: not measured"))
        .unwrap();
    assert!(row.starts_with("   –  tape first"), "{row}");
    assert!(page.contains("These stay"), "{page}");
    // Wherever thread or seat is not known, nothing is said to mate.
    for joint in bench.json(&["lines", "half-known", "--json"])["joints"]
        .as_array()
        .unwrap()
    {
        let known = joint["thread"] != "not known" && joint["seat"] != "not known";
        assert_eq!(joint["mates"].is_null(), !known, "{joint}");
    }
    let folder = bench.path("tables");
    let folder = folder.to_str().unwrap();
    assert_eq!(
        bench.run(&["lines", "half-known", "--csv", folder]).status,
        Some(0)
    );
    let table = |name: &str| std::fs::read_to_string(format!("{folder}/{name}")).unwrap();
    let line = |name: &str, begins: &str| {
        let table = table(name);
        table
            .lines()
            .find(|line| line.starts_with(begins))
            .unwrap()
            .to_owned()
    };
    assert!(
        line("cuts.csv", "master_to_bulkhead,")
            .contains("not measured: tape it first,not measured: tape it first")
    );
    assert!(line("cuts.csv", "master_to_front_left,").contains(",stays,"));
    assert!(
        line("joints.csv", "9,").contains(",look first,"),
        "{}",
        table("joints.csv")
    );
    assert!(
        table("parts.csv")
            .lines()
            .nth(1)
            .unwrap()
            .contains("Stop first: rear wheels alone hardly stop the car")
    );
    assert_eq!(
        line("parts.csv", "steel pipe 3/16 in,")
            .split(',')
            .take(3)
            .collect::<Vec<_>>(),
        ["steel pipe 3/16 in", "0", "5"]
    );
}

/// What stops the car stands on top of the list of what to buy for it; the tee that would join its circuits is not on it.
#[test]
fn a_shopping_list_carries_its_stop_on_top() {
    let bench = Bench::with_cars();
    let joined = ["--with", "lever.outlets=one"];
    let page = bench.run(&[&["lines", "sedge"], &joined[..]].concat()).out;
    let first = page.lines().next().unwrap();
    assert!(
        first.starts_with("stop: One leak empties both circuits"),
        "{page}"
    );
    assert!(page.contains("What to buy"), "{page}");
    assert!(page.contains("NOT TO BE FITTED"), "{page}");
    let value = bench.json(&[&["lines", "sedge", "--json"], &joined[..]].concat());
    assert_eq!(value["stops"][0]["slug"], "circuits-joined");
    let tees: Vec<&Value> = value["parts"]
        .as_array()
        .unwrap()
        .iter()
        .filter(|part| part["what"].as_str().unwrap().starts_with("tee"))
        .collect();
    assert_eq!(tees.len(), 1, "the rear tee alone: {tees:?}");
    assert_near(number(tees[0], "/count"), 1.0);
    let page = bench.run(&["lines", "sedge"]).out;
    let row = page
        .lines()
        .find(|line| line.starts_with("STOP: joins circuits"))
        .unwrap();
    assert!(row.contains("no") && row.contains("YES"), "{row}");
}

#[test]
fn an_unlisted_port_is_wrong_input() {
    let bench = Bench::with_cars();
    for verb in ["lines", "prove"] {
        let error = bench.first_error(
            2,
            &[verb, "tarn", "--with", "lines.ports.lever=M10x1 buble", "--json"],
        );
        assert_eq!(error["slug"], "unlisted-port");
        assert_eq!(error["key"], "lines.ports.lever");
        assert!(error["do"].as_str().unwrap().contains("M10x1 bubble"));
    }
}

/// For everything else it is only unusual.
#[test]
fn check_sheet_names_an_unlisted_port() {
    let bench = Bench::with_cars();
    let path = bench.path("cars/tarn/car.toml");
    let sheet = std::fs::read_to_string(&path).unwrap();
    std::fs::write(&path, sheet.replace("M10x1 bubble", "M10x1 buble")).unwrap();
    let value = bench.json(&["check-sheet", "tarn", "--json"]);
    assert!(value["warnings"].to_string().contains("did you mean"), "{value}");
    assert_eq!(bench.run(&["assess", "tarn", "--draws", "0"]).status, Some(0));
}

#[test]
fn own_prices_are_added_up_and_wrong_ones_pointed_at() {
    let bench = Bench::with_cars();
    let preferences = bench.path("cars/preferences.toml");
    std::fs::write(
        &preferences,
        "[prices]\ncurrency = \"EUR\"\nbraided-hose-3 = 9.5\nlever = 120\nlevre = 1\n",
    )
    .unwrap();
    let value = bench.json(&["lines", "tarn", "--json"]);
    // 6.5 m of hose to order.
    assert_near(number(&value, "/cost/sum"), 6.5 * 9.5 + 120.0);
    assert_eq!(value["cost"]["currency"], "EUR");
    assert!(value["warnings"].to_string().contains("levre"));
    let separate = value["layouts"]
        .as_array()
        .unwrap()
        .iter()
        .find(|layout| layout["layout"] == "separate second calipers");
    // A line of its own that nobody has taped yet is in no sum.
    assert!(number(separate.unwrap(), "/cost/to_tape") > 0.0);
    assert_near(number(&value, "/cost/to_tape"), 0.0);
    std::fs::write(&preferences, "[prices]\nlever = \"dear\"\n").unwrap();
    let error = bench.first_error(2, &["lines", "tarn", "--json"]);
    assert_eq!(
        (&error["slug"], &error["line"], &error["column"]),
        (&"price".into(), &2.into(), &9.into())
    );
}

#[test]
fn tables_and_drawing_are_written() {
    let bench = Bench::with_cars();
    let run = bench.run(&["lines", "sedge", "--csv", "out/tables", "--svg", "sedge.svg"]);
    assert_eq!(run.status, Some(0), "{}", run.aside);
    let joints = std::fs::read_to_string(bench.path("out/tables/joints.csv")).unwrap();
    let value = bench.json(&["lines", "sedge", "--json"]);
    assert_eq!(
        joints.lines().count(),
        1 + value["joints"].as_array().unwrap().len()
    );
    for name in ["parts", "cuts", "layouts", "comes-out"] {
        assert!(bench.path(&format!("out/tables/{name}.csv")).exists());
    }
    let svg = std::fs::read_to_string(bench.path("sedge.svg")).unwrap();
    assert!(svg.starts_with("<svg") && svg.contains("lines-drawing"));
}

fn state_of(value: &Value, number: usize) -> &str {
    value["round"][number - 1]["state"].as_str().unwrap()
}

/// The whole round on a real logbook: marked, felt, one weep, remade, checked, signed; then the lever is touched.
#[test]
fn the_whole_round_is_written_down_and_signed() {
    let bench = Bench::with_cars();
    let prove = |more: &[&str]| bench.json(&[&["prove", "scree", "--json"], more].concat());
    assert_eq!(prove(&["--joint", "all", "--is", "marked"])["may_sign"], false);
    let wet = prove(&["--joint", "4", "--is", "weep"]);
    assert_eq!(state_of(&wet, 4), "weep");
    let refused = bench.first_error(2, &["prove", "scree", "--joint", "4", "--is", "dry", "--json"]);
    assert_eq!(refused["slug"], "does-not-count");
    prove(&["--joint", "4", "--is", "remade"]);
    prove(&["--joint", "all", "--is", "dry"]);
    let refused = bench.first_error(2, &["prove", "scree", "--sign", "A. Preparer", "--json"]);
    assert_eq!(refused["slug"], "not-yet");
    for check in ["bled", "screws", "pressed", "firm-pedal", "bypass-cold"] {
        prove(&["--check", check, "--held"]);
    }
    // The walk comes after what it stands on.
    let early = bench.first_error(2, &["prove", "scree", "--check", "walking", "--held", "--json"]);
    assert_eq!(early["slug"], "not-yet");
    assert!(early["text"].as_str().unwrap().contains("firm-hand"), "{early}");
    prove(&[
        "--check",
        "firm-hand",
        "--read",
        "{\"first\": \"84 mm\", \"second\": \"82 mm\"}",
    ]);
    prove(&[
        "--check",
        "soak",
        "--read",
        "{\"from\": \"50 bar\", \"to\": \"48.6 bar\", \"in\": \"10 min\", \"air\": [\"18 C\", \"18 C\"]}",
    ]);
    for check in ["walking", "bypass-hot", "even"] {
        prove(&["--check", check, "--held"]);
    }
    let almost = prove(&["--check", "slope", "--not-done", "no slope within an hour"]);
    assert_eq!(almost["may_sign"], true, "{}", almost["open"]);
    let signed = prove(&["--sign", "A. Preparer", "--checked-by", "B. Driver"]);
    assert_eq!(signed["signed"]["checked_by"], "B. Driver");
    let page = bench.run(&["prove", "scree"]).out;
    assert!(
        page.contains("NOT DONE: HOLDS ON A SLOPE, BECAUSE no slope within an hour."),
        "{page}"
    );
    let plan = bench.json(&["plan", "scree", "--json"]);
    assert_eq!(plan["next"], "first-event");
    let touched = prove(&["--touched", "lever"]);
    assert_eq!(touched["may_sign"], false);
    assert!(touched["signed"].is_null());
    let verify = bench.json(&["logbook", "verify", "scree", "--json"]);
    assert_eq!(verify["ok"], true);
}

#[test]
fn an_assessment_says_what_the_logbook_says_of_joints() {
    let bench = Bench::with_cars();
    let slugs = |bench: &Bench| -> Vec<String> {
        let value = bench.json(&["assess", "tarn", "--draws", "0", "--on", "2026-12-01", "--json"]);
        let findings = value["findings"].as_array().unwrap();
        assert_valid(&schema(bench, "assess"), &value, "assess");
        findings
            .iter()
            .map(|finding| finding["slug"].as_str().unwrap().to_owned())
            .collect()
    };
    assert!(!slugs(&bench).iter().any(|slug| slug.starts_with("joint")));
    bench.json(&["prove", "tarn", "--joint", "all", "--is", "marked", "--json"]);
    assert!(slugs(&bench).contains(&"joints-not-proved".to_owned()));
    bench.json(&["prove", "tarn", "--joint", "7", "--is", "weep", "--json"]);
    let found = slugs(&bench);
    assert!(
        found.contains(&"joint-weeps".to_owned()) && found.contains(&"falls-due".to_owned()),
        "{found:?}"
    );
    let strict = bench.run(&["assess", "tarn", "--draws", "0", "--strict"]);
    assert_eq!(strict.status, Some(1));
}

/// Cars without a lever, and with a cable: nothing hydraulic of the hand is asked for.
#[test]
fn cars_without_a_levers_cylinder() {
    let bench = Bench::with_cars();
    let sheet = std::fs::read_to_string(bench.path("cars/scree/car.toml")).unwrap();
    let (before, rest) = sheet.split_once("[lever]").unwrap();
    let (_, after) = rest.split_once("[front_brake]").unwrap();
    let cable =
        "[lever]\nkind = \"cable\"\ncable = { ratio = 28, efficiency = 0.6 }\nhand_pull = \"250 N\"\n";
    std::fs::create_dir_all(bench.path("cars/bare")).unwrap();
    for lever in ["", cable] {
        let text = format!("{before}{lever}[front_brake]{after}");
        std::fs::write(bench.path("cars/bare/car.toml"), text).unwrap();
        let lines = bench.json(&["lines", "bare", "--json"]);
        assert_explained(&lines, "lines");
        assert_eq!(lines["hoses"], Value::Null);
        assert_eq!(lines["layouts"].as_array().unwrap().len(), 1);
        assert!(!lines["no_layouts"].as_array().unwrap().is_empty());
        let prove = bench.json(&["prove", "bare", "--json"]);
        assert_eq!(prove["alone"]["strapped_pa"], Value::Null);
        let checks: Vec<&str> = prove["checks"]
            .as_array()
            .unwrap()
            .iter()
            .map(|check| check["check"].as_str().unwrap())
            .collect();
        assert!(!checks.contains(&"bypass-cold"), "{checks:?}");
        assert_eq!(checks.contains(&"firm-hand"), !lever.is_empty());
        let page = bench.run(&["prove", "bare"]).out;
        assert!(!page.contains("lever strapped back"), "{page}");
        assert_eq!(bench.run(&["plan", "bare"]).status, Some(0));
        assert_eq!(bench.run(&["lines", "bare", "--svg", "bare.svg"]).status, Some(0));
    }
}

#[test]
fn a_struck_entry_does_not_count() {
    let bench = Bench::with_cars();
    bench.json(&["prove", "tarn", "--joint", "1", "--is", "marked", "--json"]);
    let listed = bench.json(&["prove", "tarn", "--joint", "1", "--is", "dry", "--json"]);
    assert_eq!(state_of(&listed, 1), "dry");
    bench.json(&["logbook", "strike", "tarn", "2", "--why", "wrong joint"]);
    assert_eq!(state_of(&bench.json(&["prove", "tarn", "--json"]), 1), "marked");
}

#[test]
fn an_entry_that_cannot_be_read_is_said_and_stops_nothing() {
    let bench = Bench::with_cars();
    older_entry(
        &bench,
        records::logbook::EntryKind::Joint,
        "{\"joint\": \"3\", \"state\": \"damp\"}",
    );
    let value = bench.json(&["prove", "tarn", "--json"]);
    assert_eq!(value["ignored"][0]["entry"], 1);
    assert!(value["ignored"][0]["why"].as_str().unwrap().contains("damp"));
}

#[test]
fn wrong_names_are_refused_with_the_nearest_and_nothing_is_written() {
    let bench = Bench::with_cars();
    for (arguments, near) in [
        (vec!["--joint", "1", "--is", "dri"], "dry"),
        (vec!["--touched", "levre"], "lever"),
        (vec!["--check", "walkin", "--held"], "walking"),
        (vec!["--check", "walking"], "--held"),
        (
            vec!["--check", "soak", "--read", "{\"from\": \"50 bar\"}"],
            "soak",
        ),
        (vec!["--check", "slope", "--not-done", " "], "why"),
    ] {
        let all = [&["prove", "tarn", "--json"], arguments.as_slice()].concat();
        let error = bench.first_error(2, &all);
        assert!(
            error["do"].as_str().unwrap().contains(near),
            "{arguments:?}: {error}"
        );
    }
    let error = bench.first_error(2, &["plan", "tarn", "--done", "rout", "--json"]);
    assert!(error["do"].as_str().unwrap().contains("route"));
    assert!(!bench.path("cars/tarn/logbook.db").exists());
}

#[test]
fn what_falls_due_is_said_for_a_day() {
    let bench = Bench::with_cars();
    let slugs = |on: &str| -> Vec<String> {
        let value = bench.json(&["logbook", "due", "tarn", "--on", on, "--json"]);
        let due = value["due"].as_array().unwrap();
        due.iter()
            .map(|due| due["slug"].as_str().unwrap().to_owned())
            .collect()
    };
    assert_eq!(slugs("2026-05-01"), ["hoses"]);
    assert_eq!(slugs("2027-05-01"), ["fluid-age", "hoses"]);
    bench.json(&[
        "logbook",
        "add",
        "tarn",
        "--kind",
        "note",
        "--text",
        "new hoses",
        "--data",
        "{\"hoses\": \"fitted\"}",
    ]);
    assert!(slugs("2026-12-01").is_empty());
}

//! What if: proposals beside a car, and one question of both.

use std::fs;
use std::path::Path;

use questions::options::{ASKED, HAND, PROPOSAL, Row, Said, VALVE, WITH};
use questions::proposals::{changed, keep, names, onto_sheet, put_aside};
use questions::report::{Block, Report};
use questions::{Case, Changes, Opened, Sheet, StateText, Stop, parts};
use serde_json::Value;

use crate::bores::demo;

const TODAY: engine::car::Date = engine::car::Date::constant(2026, 5, 1);

/// A cars folder with one of the demonstration cars in it.
fn cars(car: &str) -> tempfile::TempDir {
    let folder = tempfile::tempdir().unwrap();
    fs::create_dir(folder.path().join(car)).unwrap();
    fs::copy(
        demo().join(car).join("car.toml"),
        folder.path().join(car).join("car.toml"),
    )
    .unwrap();
    folder
}

fn opened(cars: &Path, car: &str, proposal: Option<&str>, with: &[&str]) -> Result<Opened, Stop> {
    let changes = Changes {
        proposal: proposal.map(str::to_owned),
        with: with.iter().map(|with| (*with).to_owned()).collect(),
        valve: None,
    };
    Opened::of_sheet(Sheet::of(cars, car)?, &changes, &StateText::silent(TODAY))
}

fn asked(cars: &Path, question: &str, car: &str, options: &[(&'static Row, &str)]) -> (Report, Value) {
    let question = questions::named(question).unwrap();
    let mut said = Said::default();
    for (row, text) in options {
        said.say(row, *text);
    }
    let opened = questions::open(cars, car, question, &said, TODAY).unwrap();
    let case = Case {
        opened: &opened,
        said: &said,
        sampling: questions::sampling(Some(0), None).unwrap(),
        units: questions::units(None).unwrap(),
        brief: false,
    };
    let answer = question.answer(&case).unwrap();
    (answer.report(), answer.result().unwrap())
}

#[test]
fn a_proposal_is_kept_opened_taken_over_key_by_key_and_put_aside() {
    let folder = cars("sedge");
    let cars = folder.path();
    let before = fs::read_to_string(cars.join("sedge/car.toml")).unwrap();
    let proposed = opened(cars, "sedge", None, &["lever.bore=9/16 in", "lever.ratio=8"]).unwrap();
    assert_eq!(keep(&proposed, "small", "lighter to pull").unwrap(), "small");
    let text = fs::read_to_string(cars.join("sedge/proposals/small.toml")).unwrap();
    assert_eq!(
        text,
        "note = \"lighter to pull\"\nwith = [\n  \"lever.bore=9/16 in\",\n  \"lever.ratio=8\",\n]\n"
    );
    // Every question takes it, and its head says so.
    let (report, result) = asked(cars, "lever", "sedge", &[(&PROPOSAL, "small")]);
    assert_eq!(
        report.proposal.as_deref(),
        Some("as proposed: small. Lighter to pull.")
    );
    assert_eq!(result["state"]["proposal"], "small");
    assert_eq!(result["state"]["overrides"]["lever.bore"], "9/16 in");
    let with = [(&WITH, "lever.bore=9/16 in"), (&WITH, "lever.ratio=8")];
    assert_eq!(
        result["to_lock"],
        asked(cars, "lever", "sedge", &with).1["to_lock"]
    );
    // What is said goes before what was kept.
    let (_, other) = asked(
        cars,
        "lever",
        "sedge",
        &[(&PROPOSAL, "small"), (&WITH, "lever.ratio=9")],
    );
    assert_eq!(other["state"]["overrides"]["lever.ratio"], "9");
    // One key goes onto the sheet, and no other byte changes.
    let taken = opened(cars, "sedge", Some("small"), &[]).unwrap();
    let changes = onto_sheet(&taken, &["lever.bore".to_owned()]).unwrap();
    assert!(questions::onto_sheet::put_on(&taken.sheet.folder, &changes).unwrap());
    let after = fs::read_to_string(cars.join("sedge/car.toml")).unwrap();
    assert_eq!(
        after,
        before.replace("bore     = \"1/2 in\"", "bore     = \"9/16 in\"")
    );
    assert_ne!(after, before);
    let now = opened(cars, "sedge", Some("small"), &[]).unwrap();
    let stands: Vec<bool> = changed(&now).iter().map(|change| change.stands).collect();
    assert_eq!(stands, [true, false]);
    // Another under the same name puts the first aside; dropping it puts it there too. Nothing is deleted.
    let other = opened(cars, "sedge", None, &["lever.ratio=9"]).unwrap();
    keep(&other, "small", "").unwrap();
    put_aside(&other.sheet.folder, "small").unwrap();
    assert!(names(&other.sheet.folder).unwrap().is_empty());
    let aside = cars.join("sedge/proposals/dropped");
    assert_eq!(fs::read_to_string(aside.join("small.toml")).unwrap(), text);
    assert!(
        fs::read_to_string(aside.join("small-2.toml"))
            .unwrap()
            .contains("lever.ratio=9")
    );
    assert!(matches!(
        put_aside(&other.sheet.folder, "small"),
        Err(Stop::Wrong(_))
    ));
}

#[test]
fn what_is_wrong_with_a_proposal_is_pointed_at_and_loses_nothing() {
    let folder = cars("tarn");
    let cars = folder.path();
    fs::create_dir(cars.join("tarn/proposals")).unwrap();
    let file = cars.join("tarn/proposals/odd.toml");
    fs::write(
        &file,
        "with = [\n  \"lever.bore=9/16 in\",\n  \"lever.bor=1 in\",\n]\n",
    )
    .unwrap();
    let Err(Stop::Wrong(wrong)) = opened(cars, "tarn", Some("odd"), &[]) else {
        panic!("taken");
    };
    assert_eq!(wrong.troubles.len(), 1);
    let trouble = &wrong.troubles[0];
    assert_eq!(
        (trouble.place, trouble.slug.as_str()),
        (Some((3, 10)), "unknown-key")
    );
    assert!(
        trouble.file.ends_with("odd.toml") && trouble.remedy.contains("lever.bore"),
        "{trouble:?}"
    );
    fs::write(&file, "with = 3\n").unwrap();
    assert!(matches!(
        opened(cars, "tarn", Some("odd"), &[]),
        Err(Stop::Wrong(_))
    ));
    let Err(Stop::Wrong(wrong)) = opened(cars, "tarn", Some("od"), &[]) else {
        panic!("taken");
    };
    assert_eq!(wrong.troubles[0].remedy, "did you mean `odd`?");
    assert_eq!(fs::read_to_string(&file).unwrap(), "with = 3\n");
    // Nothing reaches outside the car's folder.
    for name in ["../../tarn/car", "/etc/passwd", ""] {
        assert!(opened(cars, "tarn", Some(name), &[]).is_err(), "{name}");
        let proposed = opened(cars, "tarn", None, &["lever.ratio=8"]).unwrap();
        assert!(keep(&proposed, name, "").is_err(), "{name}");
    }
    let nothing = opened(cars, "tarn", None, &[]).unwrap();
    assert!(keep(&nothing, "nothing", "").is_err());
}

/// Readings on the sheet would count for the new part as soon as it is there: it does not get there with them.
#[test]
fn a_part_that_was_read_is_not_exchanged_on_the_sheet_under_its_readings() {
    let folder = cars("tarn");
    let proposed = opened(
        folder.path(),
        "tarn",
        None,
        &["master.bore=7/8 in", "lever.bore=9/16 in"],
    )
    .unwrap();
    let refused = onto_sheet(&proposed, &[]).unwrap_err();
    assert_eq!(refused.troubles[0].slug, "read-before");
    let lever = onto_sheet(&proposed, &["lever.bore".to_owned()]).unwrap();
    assert_eq!(lever.len(), 1);
    let minded: Vec<&str> = changed(&proposed)
        .iter()
        .filter(|change| change.mind.is_some())
        .map(|change| change.key.as_str())
        .map(|key| {
            if key == "lever.bore" {
                "lever.bore"
            } else {
                "another"
            }
        })
        .collect();
    assert_eq!(minded, ["lever.bore"], "pulls were measured with the old one");
    assert_eq!(
        onto_sheet(&proposed, &["lever.boar".to_owned()])
            .unwrap_err()
            .troubles[0]
            .slug,
        "not-proposed"
    );
}

#[test]
fn both_are_each_questions_own_answers() {
    let cars = demo();
    for question in questions::compare::COMPARED {
        // A question that does not take the hand would say that it has no effect.
        let takes = questions::named(question).unwrap().takes().contains(&&HAND);
        let mut force: Vec<(&'static Row, &str)> = if takes { vec![(&HAND, "230 N")] } else { Vec::new() };
        let mut with = vec![(&ASKED, question), (&WITH, "lever.bore=9/16 in")];
        with.extend(force.iter().copied());
        if question == "pressures" {
            force.push((&questions::options::FOOT, "300 N"));
        }
        let force = &force[..];
        let (report, result) = asked(&cars, "compare", "sedge", &with);
        let plain = asked(&cars, question, "sedge", force);
        let mut other = force.to_vec();
        other.push((&WITH, "lever.bore=9/16 in"));
        let other = asked(&cars, question, "sedge", &other);
        assert_eq!(result["first"]["result"], plain.1, "{question}");
        assert_eq!(result["second"]["result"], other.1, "{question}");
        assert_eq!(report.headline.stamp, other.0.headline.stamp, "{question}");
        assert_eq!(report.headline.figures, other.0.headline.figures, "{question}");
        let said: Vec<String> = report
            .sections
            .iter()
            .flat_map(|section| &section.blocks)
            .filter_map(|block| match block {
                Block::Details(facts) => Some(facts.iter().map(|fact| fact.text.clone())),
                _ => None,
            })
            .flatten()
            .collect();
        for headline in [&plain.0.headline, &other.0.headline] {
            assert!(
                said.iter().any(|said| said.contains(&headline.stamp)),
                "{question}: {said:?}"
            );
        }
    }
    // Two cars by the same means.
    let against = [(&questions::options::OTHER, "scree"), (&ASKED, "lever")];
    let (report, result) = asked(&cars, "compare", "tarn", &against);
    assert_eq!(result["second"]["result"]["car"], "scree");
    assert_eq!(
        result["first"]["result"]["to_lock"],
        asked(&cars, "lever", "tarn", &[]).1["to_lock"]
    );
    assert!(
        report
            .sections
            .iter()
            .any(|section| section.title == "Parts that are not the same")
    );
    // Nothing proposed: said so, and no second side.
    let (report, result) = asked(&cars, "compare", "tarn", &[]);
    assert_eq!(report.headline.stamp, "Nothing tried yet");
    assert!(result["second"].is_null());
    // The answer's own sections say what moved.
    let (report, _) = asked(
        &cars,
        "compare",
        "sedge",
        &[(&ASKED, "lever"), (&WITH, "lever.bore=9/16 in")],
    );
    let rows: Vec<(String, bool)> = report
        .sections
        .iter()
        .flat_map(|section| &section.blocks)
        .find_map(|block| match block {
            Block::Table(table) => Some(
                table
                    .rows
                    .iter()
                    .map(|row| (row.cells[3].clone(), row.own))
                    .collect(),
            ),
            _ => None,
        })
        .unwrap();
    assert_eq!(
        rows.iter().map(|(change, _)| change.as_str()).collect::<Vec<_>>(),
        ["less", "more", "less"]
    );
    assert!(rows.iter().all(|(_, marked)| *marked));
}

/// Every choice of every part makes a car, of every car that is asked; what a car has not got is not offered.
#[test]
fn whatever_is_offered_can_be_tried() {
    let cars = demo();
    for car in ["tarn", "tarn-let-go", "bin", "scree", "sedge", "half-known"] {
        let plain = opened(&cars, car, None, &[]).unwrap();
        let all = parts::parts(&plain);
        for part in &all {
            assert_eq!(
                part.choices.iter().filter(|choice| choice.is_now).count().max(1),
                1,
                "{car}: {}",
                part.name
            );
            for choice in part.choices.iter().filter(|choice| !choice.is_now) {
                let fitted = plain.fitted(&choice.sets);
                assert!(
                    fitted.is_ok(),
                    "{car}: {} {:?}: {:?}",
                    part.name,
                    choice.sets,
                    fitted.err()
                );
            }
        }
        let has = |name: &str| all.iter().any(|part| part.name == name);
        assert_eq!(
            has("bias valve"),
            plain.car().bias_valve.is_some() && car != "scree",
            "{car}"
        );
        assert_eq!(
            has("centre"),
            ["tarn", "tarn-let-go", "bin", "half-known"].contains(&car),
            "{car}"
        );
        assert_eq!(has("rear differential"), car != "sedge", "{car}");
        assert!(has("lever bore") && has("lever ratio"), "{car}");
    }
    let tarn = opened(&cars, "tarn", None, &["lever.bore=9/16 in"]).unwrap();
    let bore = &parts::parts(&tarn)[0];
    assert_eq!(
        (bore.now.as_str(), bore.was.as_deref()),
        ("9/16 in", Some("5/8 in"))
    );
    let beside = bore.beside().map(|choice| choice.unwrap().label.clone());
    assert_eq!(beside, ["14 mm", "15 mm"]);
    // A cable has neither bore nor ratio, and a car without a lever has no place of its valve by it.
    let cable = opened(
        &cars,
        "sedge",
        None,
        &[
            "lever.kind=cable",
            "lever.cable.ratio=28",
            "lever.cable.efficiency=0.6",
        ],
    )
    .unwrap();
    let names: Vec<&str> = parts::parts(&cable).iter().map(|part| part.name).collect();
    assert!(
        !names.contains(&"lever bore") && !names.contains(&"bias valve"),
        "{names:?}"
    );
}

/// The setting of the valve is said by one of both.
#[test]
fn a_setting_is_said_once() {
    let question = questions::named("lever").unwrap();
    let mut said = Said::default();
    said.say(&VALVE, "2 turns");
    said.say(&WITH, "bias_valve.setting=3 turns");
    let twice = questions::open(&demo(), "tarn", question, &said, TODAY);
    assert!(matches!(twice, Err(Stop::Wrong(wrong)) if wrong.troubles[0].slug == "given-twice"));
}

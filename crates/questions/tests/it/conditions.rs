//! The set-up over ground, fuel and warmth: each cell is the assessment in that state, and the worst decides the word.

use questions::options::{COLD, FUEL, GRIP, NO_CREW, Row, SURFACE};
use questions::report::{Block, Report, Table};
use serde_json::Value;

use crate::bores::Asked;

const CARS: [&str; 6] = ["bin", "half-known", "scree", "sedge", "tarn", "tarn-let-go"];

fn asked(car: &str, options: &[(&'static Row, &str)]) -> (Report, Value) {
    let asked = Asked::of("conditions", car, options).unwrap();
    let answer = asked.question.answer(&asked.case()).unwrap();
    (answer.report(), answer.result().unwrap())
}

fn states(result: &Value) -> &Vec<Value> {
    result["states"].as_array().unwrap()
}

fn table(report: &Report) -> &Table {
    let blocks = report.sections.iter().flat_map(|section| &section.blocks);
    let tables = blocks.filter_map(|block| match block {
        Block::Table(table) => Some(table),
        _ => None,
    });
    tables.into_iter().next().unwrap()
}

#[test]
fn a_cell_is_the_assessment_in_its_state() {
    for car in CARS {
        let (_, result) = asked(car, &[(&NO_CREW, "")]);
        // Both ends of the list: the most grip, warm, dry; the least, cold, full.
        for state in [&states(&result)[0], states(&result).last().unwrap()] {
            let (surface, fuel) = (
                state["surface"].as_str().unwrap(),
                format!("{} L", state["fuel_l"]),
            );
            let mut said: Vec<(&'static Row, &str)> = vec![(&NO_CREW, ""), (&SURFACE, surface)];
            // A car without a tank on its sheet takes no fuel.
            if Asked::of("assess", car, &[(&FUEL, &fuel)]).is_ok() {
                said.push((&FUEL, &fuel));
            }
            if state["cold"] == true {
                said.push((&COLD, ""));
            }
            let assess = Asked::of("assess", car, &said).unwrap();
            let alone = assess.question.answer(&assess.case()).unwrap().result().unwrap();
            assert_eq!(state["word"], alone["verdict"]["word"], "{car}: {state}");
            assert_eq!(state["because"], alone["verdict"]["because"], "{car}: {state}");
            for figure in ["in_hand", "front_first_by"] {
                assert_eq!(
                    state[figure], alone["figures"][figure]["value"],
                    "{car}: {figure}"
                );
            }
        }
    }
}

#[test]
fn the_worst_stands_first_and_in_the_headline() {
    for car in CARS {
        let (report, result) = asked(car, &[]);
        let worst = &states(&result)[usize::try_from(result["worst"].as_u64().unwrap()).unwrap()];
        let surface = worst["surface"].as_str().unwrap();
        let first = &table(&report).rows[0];
        assert_eq!(first.cells[0], surface, "{car}");
        assert!(report.headline.because.contains(surface), "{car}");
        let rank = |state: &Value| {
            let words = ["no", "not-with-this-centre", "open", "half", "yes", "no-lever"];
            words.iter().position(|word| state["word"] == **word).unwrap()
        };
        assert!(
            states(&result).iter().all(|state| rank(state) >= rank(worst)),
            "{car}"
        );
        // A stamp has at most four words, a reason at most 14.
        assert!(report.headline.stamp.split(' ').count() <= 4, "{car}");
        assert!(report.headline.because.split(' ').count() <= 14, "{car}");
    }
}

#[test]
fn what_was_said_narrows_it_down() {
    let (_, all) = asked("scree", &[]);
    assert!(states(&all).len() >= 12 && states(&all).len().is_multiple_of(6));
    let said: &[(&'static Row, &str)] = &[(&SURFACE, "ice"), (&FUEL, "20 L"), (&COLD, "")];
    let (_, one) = asked("scree", said);
    assert_eq!(states(&one).len(), 1);
    assert_eq!(states(&one)[0]["fuel_l"], 20.0);
    let (_, grip) = asked("scree", &[(&GRIP, "0.5")]);
    assert_eq!(states(&grip).len(), 6);
    assert!(states(&grip).iter().all(|state| state["grip"] == 0.5));
}

#[test]
fn a_cell_leads_to_its_assessment_with_no_more_than_the_tank_holds() {
    let (report, _) = asked("tarn", &[]);
    for row in &table(&report).rows {
        assert_eq!(row.leads.len(), 2);
        for lead in &row.leads {
            assert_eq!(lead.question, "assess");
            let said: Vec<(&'static Row, &str)> = lead
                .says
                .iter()
                .map(|(row, text)| (*row, text.as_str()))
                .collect();
            assert!(Asked::of("assess", "tarn", &said).is_ok(), "{lead:?}");
        }
    }
}

/// Common practice, no source: cold pads bite less, and a tank behind loads the rear, which then locks later.
#[test]
fn cold_takes_from_the_hand_and_fuel_behind_holds_the_rear() {
    let (_, result) = asked("tarn", &[]);
    let figure = |state: &Value, key: &str| state[key].as_f64().unwrap();
    for warm in states(&result).iter().filter(|state| state["cold"] == false) {
        let cold = states(&result).iter().find(|state| {
            state["cold"] == true && state["surface"] == warm["surface"] && state["fuel_l"] == warm["fuel_l"]
        });
        assert!(
            figure(cold.unwrap(), "in_hand") < figure(warm, "in_hand"),
            "{warm}"
        );
        let dry = states(&result).iter().find(|state| {
            state["cold"] == false && state["surface"] == warm["surface"] && state["fuel_l"] == 0.0
        });
        let (warm, dry) = (
            figure(warm, "front_first_by"),
            figure(dry.unwrap(), "front_first_by"),
        );
        assert!(warm >= dry, "{warm} under {dry}");
    }
}

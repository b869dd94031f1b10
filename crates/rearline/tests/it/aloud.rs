//! Every answer is read aloud: no sentence of a report is longer than one breath.

use ::questions::Question;
use ::questions::report::{Block, Report};
use wording::sentences;

use crate::reports::every_report;

/// Words that a sentence may have; a figure and its unit are one word.
const MOST: usize = 20;

/// What stands beside a name is a row of short things, a breath each.
fn parts(text: &str) -> impl Iterator<Item = String> {
    text.split("; ")
        .flat_map(|part| part.split(" stop: "))
        .map(str::to_owned)
}

/// What a report says in sentences.
fn said(report: &Report) -> Vec<String> {
    let mut said: Vec<String> = vec![report.headline.because.clone()];
    said.extend(report.headline.though.iter().cloned());
    said.extend(report.headline.first.iter().cloned());
    said.extend(report.cautions.iter().cloned());
    for finding in &report.findings {
        said.extend([finding.because.clone(), finding.remedy.clone()]);
        said.extend(finding.caution.map(str::to_owned));
    }
    for block in report.sections.iter().flat_map(|section| &section.blocks) {
        match block {
            Block::Text(text) | Block::Caution(text) => said.push(text.clone()),
            Block::List(items) => said.extend(items.iter().cloned()),
            Block::Details(details) => said.extend(details.iter().flat_map(|detail| parts(&detail.text))),
            Block::Ticks(ticks) => said.extend(ticks.iter().flat_map(|tick| parts(&tick.text))),
            Block::Choose(ways) => said.extend(ways.iter().flat_map(|way| parts(&way.text))),
            Block::Steps(lines) => said.extend(lines.iter().map(|line| line.source.clone())),
            Block::Table(table) => {
                said.push(table.caption.clone());
                let rows = table.rows.iter().filter(|_| table.of_words);
                said.extend(rows.flat_map(|row| &row.cells).flat_map(|cell| parts(cell)));
            }
            _ => {}
        }
    }
    said
}

/// Words that are said; what is typed stands between backticks, and is not.
fn words(sentence: &str) -> usize {
    let said: String = sentence.split('`').step_by(2).collect();
    said.split(' ').filter(|word| !word.is_empty()).count()
}

fn too_long(question: &dyn Question, report: &Report) -> Vec<String> {
    let sentences = said(report).into_iter().flat_map(|text| sentences(&text));
    sentences
        .filter(|sentence| words(sentence) > MOST)
        .map(|sentence| format!("{}: {} words: {sentence}", question.name(), words(&sentence)))
        .collect()
}

#[test]
fn no_sentence_of_a_report_is_longer_than_a_breath() {
    let mut found: Vec<String> = every_report()
        .flat_map(|asked| too_long(asked.question, &asked.report))
        .collect();
    found.sort();
    found.dedup();
    assert!(found.is_empty(), "{found:#?}");
}

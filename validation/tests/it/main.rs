//! Every outside check holds, and none is left out.

#![allow(clippy::unwrap_used, reason = "helpers of tests fail by panicking")]

mod bibliography;

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};

use validation::{Block, Row};

fn blocks() -> Vec<Block> {
    validation::run().unwrap()
}

fn here() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR"))
}

#[test]
fn every_figure_holds() {
    let blocks = blocks();
    let off: Vec<String> = blocks
        .iter()
        .flat_map(|block| block.rows.iter().map(move |row| (block.folder, row)))
        .filter(|(_, row)| !row.holds())
        .map(|(folder, row)| format!("{folder}: {}: {}, not {}", row.quantity, row.got, row.expected))
        .collect();
    assert!(off.is_empty(), "{}", off.join("\n"));
    let counted = blocks
        .iter()
        .flat_map(|block| &block.rows)
        .filter(|row| row.counts())
        .count();
    assert!(counted > 300, "only {counted} rows that can fail");
}

#[test]
fn every_folder_with_data_is_checked() {
    let on_disk: BTreeSet<String> = std::fs::read_dir(here())
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .filter(|path| path.join("data.toml").exists())
        .map(|path| path.file_name().unwrap().to_string_lossy().into_owned())
        .collect();
    assert_eq!(on_disk, validation::folders().map(str::to_owned).collect());
}

#[test]
fn every_tolerance_has_its_reason_and_every_block_its_source() {
    for block in blocks() {
        assert!(block.source.len() > 15, "{}", block.folder);
        for Row {
            quantity, because, ..
        } in &block.rows
        {
            assert!(because.len() > 4, "{}: {quantity}", block.folder);
        }
    }
}

#[test]
fn the_table_is_no_wider_than_a_page() {
    let mut out = Vec::new();
    validation::print(&mut out, &blocks()).unwrap();
    let text = String::from_utf8(out).unwrap();
    for line in text.lines() {
        assert!(line.chars().count() <= 118, "{line}");
    }
    assert!(
        text.trim_end().ends_with("known to be"),
        "the sum stands at the end"
    );
}

/// A bound on one side holds any better figure, a row that restates its input holds whatever the engine does: neither is
/// counted, and the sum is that of the rest, status by status.
#[test]
fn only_what_can_fail_is_counted() {
    let blocks = blocks();
    let rows: Vec<&Row> = blocks.iter().flat_map(|block| &block.rows).collect();
    for row in &rows {
        let bound = ["<", ">"].iter().any(|sign| row.expected.starts_with(sign));
        assert!(!bound || !row.counts(), "{}: {}", row.quantity, row.expected);
        assert!(
            row.definition.as_ref().is_none_or(|why| why.len() > 10),
            "{}",
            row.quantity
        );
    }
    let counted = rows.iter().filter(|row| row.counts()).count();
    assert!(counted < rows.len());
    let mut out = Vec::new();
    validation::print(&mut out, &blocks).unwrap();
    let text = String::from_utf8(out).unwrap();
    let sum = text
        .lines()
        .find(|line| line.contains("rows that can fail"))
        .unwrap();
    let numbers: Vec<usize> = sum
        .split(|letter: char| !letter.is_ascii_digit())
        .filter_map(|digits| digits.parse().ok())
        .collect();
    assert_eq!(numbers[0], counted, "{sum}");
    assert_eq!(numbers[1..5].iter().sum::<usize>(), counted, "{sum}");
    assert_eq!(numbers[5], rows.len() - counted, "{sum}");
}

/// A figure that does not agree is said to be off, unless it is known to be; one that agrees must not be known to be off.
#[test]
fn a_wrong_figure_cannot_hold() {
    let row = blocks().swap_remove(0).rows.swap_remove(0);
    assert!(row.holds());
    let wrong = Row {
        passed: false,
        ..row.clone()
    };
    assert!(!wrong.holds());
    assert!(
        Row {
            known_failure: Some("why".to_owned()),
            ..wrong
        }
        .holds()
    );
    assert!(
        !Row {
            known_failure: Some("why".to_owned()),
            ..row
        }
        .holds()
    );
}

#[test]
fn a_file_of_other_cases_is_read_and_a_missing_one_named() {
    let path = here().join("second_reading").join("expected.json");
    let block = validation::second_reading(&path).unwrap();
    assert!(block.rows.len() >= 150, "{}", block.rows.len());
    let missing = validation::second_reading(Path::new("no-such-file.json")).unwrap_err();
    assert!(missing.to_string().contains("no-such-file.json"), "{missing}");
}

//! Every outside check holds, and none is left out.

#![allow(clippy::unwrap_used, reason = "helpers of tests fail by panicking")]

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
    let figures: usize = blocks.iter().map(|block| block.rows.len()).sum();
    assert!(figures > 300, "only {figures} rows");
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

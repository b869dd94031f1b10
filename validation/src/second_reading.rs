//! The Python implementation in `second_reading/`: every result that it wrote down, computed again by the engine.

mod options;
mod results;

use std::path::{Path, PathBuf};

use serde_json::Value as Json;

use crate::row::{Block, Row, Status};
use crate::{Error, second_reading::options::Case};

const FOLDER: &str = "second_reading";
const ALLOWED_RELATIVE: f64 = 1e-6;
const ALLOWED_ABSOLUTE: f64 = 1e-8;
/// A grip found by a search whose every step searches for a first lock.
const SEARCH_OF_A_SEARCH: (&str, f64) = ("rear_first_below_grip", 1e-5);

/// Where the two readings are known to differ: part of the case's name, key, and why.
const KNOWN: [(&str, &str, &str); 0] = [];

/// Every case of `expected.json`, or of another file with results for the same cars, a row a case: how many figures, how many agree, and the worst.
pub(crate) fn check(cases: Option<&Path>) -> Result<Block, Error> {
    let folder = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join(FOLDER);
    let path = cases.map_or_else(|| folder.join("expected.json"), Path::to_path_buf);
    let file = |why: String| Error::File {
        path: path.display().to_string(),
        why,
    };
    let text = std::fs::read_to_string(&path).map_err(|error| file(error.to_string()))?;
    let expected: Json = serde_json::from_str(&text).map_err(|error| file(error.to_string()))?;
    let cases = expected["cases"]
        .as_array()
        .ok_or_else(|| file("no cases".to_owned()))?;
    let mut rows = Vec::new();
    for case in cases {
        let got = Case::read(&folder, case).and_then(|read| results::of(&read));
        rows.push(row(&options::name(case), &case["result"], got));
    }
    Ok(Block {
        folder: FOLDER,
        source:
            "A second implementation, in Python, from the same equations (numpy, scipy); no published figures"
                .to_owned(),
        inputs_are: None,
        note: None,
        rows,
    })
}

fn row(name: &str, expected: &Json, got: Result<Json, Error>) -> Row {
    let mut compared = Compared::default();
    match got {
        Ok(got) => compared.walk("", expected, &got),
        Err(error) => {
            compared.figures = 1;
            compared.wrong.push(error.to_string());
        }
    }
    let known = KNOWN
        .iter()
        .find(|(part, key, _)| name.contains(part) && compared.wrong.iter().any(|wrong| wrong.contains(key)))
        .map(|&(_, _, why)| why.to_owned());
    let agree = compared.figures - compared.wrong.len();
    let mut quantity = name.to_owned();
    if compared.wrong.is_empty() {
        quantity = shortened(name);
    }
    for wrong in &compared.wrong {
        quantity.push_str("\n  ");
        quantity.push_str(wrong);
    }
    Row {
        quantity,
        status: Status::Recomputed,
        expected: format!("{} agree", compared.figures),
        got: agree.to_string(),
        off_by: format!("{:.0e}", compared.worst),
        allowed: format!("{ALLOWED_RELATIVE:.0e}"),
        because: "results are written with ten digits, and roots solved to twelve".to_owned(),
        passed: compared.wrong.is_empty(),
        definition: None,
        known_failure: known,
    }
}

/// As much of a case's name as a line holds.
fn shortened(name: &str) -> String {
    const LINE: usize = 46;
    if name.chars().count() <= LINE {
        return name.to_owned();
    }
    let cut: String = name.chars().take(LINE).collect();
    let words = cut.rsplit_once(' ').map_or(cut.as_str(), |(words, _)| words);
    format!("{words} …")
}

#[derive(Default)]
struct Compared {
    figures: usize,
    worst: f64,
    wrong: Vec<String>,
}

impl Compared {
    fn walk(&mut self, path: &str, expected: &Json, got: &Json) {
        match (expected, got) {
            (Json::Object(expected), got) => {
                for (key, value) in expected {
                    if !matches!(key.as_str(), "coupling_read" | "if" | "wanted" | "wanted_by") {
                        self.walk(&format!("{path}.{key}"), value, &got[key]);
                    }
                }
            }
            (Json::Array(expected), Json::Array(got)) => {
                if expected.len() != got.len() {
                    self.wrong
                        .push(format!("{path}: {} rows, not {}", got.len(), expected.len()));
                }
                for (index, (expected, got)) in expected.iter().zip(got).enumerate() {
                    self.walk(&format!("{path}[{index}]"), expected, got);
                }
            }
            (Json::Number(_), Json::Number(_)) => self.number(path, expected, got),
            _ => {
                self.figures += 1;
                if expected != got {
                    self.wrong.push(format!("{path}: {got}, not {expected}"));
                }
            }
        }
    }

    fn number(&mut self, path: &str, expected: &Json, got: &Json) {
        self.figures += 1;
        let (Some(expected), Some(got)) = (expected.as_f64(), got.as_f64()) else {
            return;
        };
        let off = (got - expected).abs();
        let (searched, wider) = SEARCH_OF_A_SEARCH;
        let relative = if path.ends_with(searched) {
            wider
        } else {
            ALLOWED_RELATIVE
        };
        let size = got.abs().max(expected.abs());
        if off > relative * size + ALLOWED_ABSOLUTE {
            self.wrong.push(format!("{path}: {got}, not {expected}"));
        }
        if off > ALLOWED_ABSOLUTE {
            self.worst = self.worst.max(off / size);
        }
    }
}

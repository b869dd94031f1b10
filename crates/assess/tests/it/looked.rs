//! A demonstration car, edited and assessed.

use std::collections::BTreeMap;
use std::path::PathBuf;
use std::sync::{Mutex, OnceLock};

use assess::{Assessment, Finding, Weight, assess};
use engine::Conditions;
use engine::car::{Assembled, Inputs};
use engine::figures::{Depth, Figures};
use engine::ranges::Sampling;

use crate::plain::faults;

/// The demonstration cars.
pub(crate) const CARS: [&str; 6] = ["tarn", "tarn-let-go", "sedge", "scree", "half-known", "bin"];

/// An assessed car.
pub(crate) struct Looked {
    pub(crate) assembled: Assembled,
    pub(crate) figures: Figures,
    pub(crate) assessment: Assessment,
}

/// Nothing drawn.
pub(crate) const UNDRAWN: Depth = Depth {
    sampling: Sampling { draws: 0, seed: 1 },
    briefly: false,
};

/// Nothing drawn, the turn run once: for sweeps over many cars.
pub(crate) const BRIEF: Depth = Depth {
    briefly: true,
    ..UNDRAWN
};

/// The usual conditions, on a day that all demonstration cars have seen.
pub(crate) fn usual() -> Conditions {
    Conditions {
        day: Some("2026-10-01".parse().unwrap()),
        ..Conditions::default()
    }
}

pub(crate) fn sheet_text(car: &str) -> String {
    let path = PathBuf::from(env!("CARGO_MANIFEST_DIR"))
        .join("../../demo")
        .join(car)
        .join("car.toml");
    std::fs::read_to_string(path).unwrap()
}

/// The sheet's inputs with overrides; `None` where together they make no car.
pub(crate) fn read(text: &str, overrides: &[&str]) -> Option<(Inputs, Assembled)> {
    let mut read = sheet::read(text.as_bytes(), "car.toml");
    for written in overrides {
        if let Err(problem) = read.with(written) {
            panic!("{written}: {problem:?}");
        }
    }
    let assembled = read.assemble().ok()?;
    Some((read.inputs.clone(), assembled))
}

pub(crate) fn look_at(
    text: &str,
    overrides: &[&str],
    conditions: &Conditions,
    depth: Depth,
) -> Option<Looked> {
    let (inputs, assembled) = read(text, overrides)?;
    let figures = Figures::of(&inputs, &assembled, conditions, depth).ok()?;
    let assessment = assess(&assembled.car, &figures, Vec::new());
    read_aloud(&assessment.findings);
    Some(Looked {
        assembled,
        figures,
        assessment,
    })
}

/// Nothing drawn, in the usual conditions: looked at once, whoever asks.
pub(crate) fn look(car: &str, overrides: &[&str]) -> &'static Looked {
    once(car, overrides, UNDRAWN)
}

/// The same as its sheet says it, drawn.
pub(crate) fn look_drawn(car: &str) -> &'static Looked {
    once(car, &[], Depth::default())
}

fn once(car: &str, overrides: &[&str], depth: Depth) -> &'static Looked {
    /// Car, overrides and draws.
    type Asked = (String, Vec<String>, u32);
    static ALL: Mutex<BTreeMap<Asked, &'static OnceLock<Looked>>> = Mutex::new(BTreeMap::new());
    let overrides_kept = overrides.iter().map(|written| (*written).to_owned());
    let asked = (car.to_owned(), overrides_kept.collect(), depth.sampling.draws);
    let mut all = ALL.lock().unwrap();
    let place = *all
        .entry(asked)
        .or_insert_with(|| Box::leak(Box::new(OnceLock::new())));
    // Others look at other cars meanwhile.
    drop(all);
    place.get_or_init(|| {
        look_at(&sheet_text(car), overrides, &usual(), depth)
            .unwrap_or_else(|| panic!("{car} with {overrides:?} is no car"))
    })
}

impl Looked {
    pub(crate) fn finding(&self, slug: &str) -> Option<&Finding> {
        self.assessment
            .findings
            .iter()
            .find(|finding| finding.slug == slug)
    }

    pub(crate) fn weight(&self, slug: &str) -> Option<Weight> {
        self.finding(slug).map(|finding| finding.weight)
    }
}

/// Every finding that a test looks at is told in plain sentences.
#[track_caller]
pub(crate) fn read_aloud(findings: &[Finding]) {
    let faults: Vec<String> = findings.iter().flat_map(faults).collect();
    assert!(faults.is_empty(), "{faults:#?}");
}

/// Text with plain blanks.
pub(crate) fn plain(text: &str) -> String {
    text.replace('\u{A0}', " ")
}

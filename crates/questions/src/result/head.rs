//! The head that every computed result begins with.

use std::collections::BTreeMap;

use crate::opened::Opened;
use engine::car::Assembled;
use schemars::JsonSchema;
use serde::Serialize;

use super::{CONTRACT, Num};

/// A computed result: its head, then what the verb answers.
#[derive(Serialize, JsonSchema)]
pub struct Headed<T> {
    /// Which car, which state, what was leaned on.
    #[serde(flatten)]
    pub head: Head,
    /// The verb's own keys.
    #[serde(flatten)]
    pub answer: T,
}

/// What a result was computed from.
#[derive(Serialize, JsonSchema)]
pub struct Head {
    /// Rises when a key changes its meaning; keys may be added without.
    contract: u32,
    /// Version of the program.
    rearline: &'static str,
    /// What was asked.
    verb: &'static str,
    /// Name of the car's folder, or of the sheet's file.
    car: String,
    /// Fingerprint of the sheet's bytes, in hexadecimal.
    sheet_sha256: String,
    /// The state that was computed for.
    state: StateView,
    /// Defaults that were taken where the sheet says nothing, or `guess`.
    defaults: Vec<DefaultView>,
    /// Readings on the sheet that stand in the place of its figures.
    measured: Vec<MeasuredView>,
    /// What is unusual, or has no effect.
    warnings: Vec<WarningView>,
}

#[derive(Serialize, JsonSchema)]
struct StateView {
    /// Name of the surface.
    surface: String,
    /// Its peak, or what `--grip` put in its place: force over load.
    grip: Num,
    /// Whether crew and items are aboard.
    crew: bool,
    /// The crew that is counted; 0 where nobody is.
    crew_kg: Num,
    /// Everything else that came aboard, without fuel.
    load_kg: Num,
    /// Fuel in the tank, in litres.
    fuel_l: Num,
    /// Whether the pads or linings are cold.
    cold: bool,
    /// Rise over run of the road that it is on.
    slope: Num,
    /// Which way the car faces on it: `up` or `down`.
    facing: &'static str,
    /// The civil day.
    #[schemars(extend("format" = "date"))]
    day: String,
    /// Keys of the sheet that the command replaced, and what goes with them, each with its text.
    overrides: BTreeMap<String, String>,
    /// The proposal that the car was opened with; only where there is one.
    #[serde(skip_serializing_if = "Option::is_none")]
    proposal: Option<String>,
}

/// A reading in the place of a figure.
#[derive(Serialize, JsonSchema)]
struct MeasuredView {
    /// The entry that was read.
    by: String,
    /// Keys whose figures it replaces.
    replaces: Vec<&'static str>,
    /// What is computed with.
    text: String,
}

/// A default that was taken.
#[derive(Serialize, JsonSchema)]
pub struct DefaultView {
    /// Where.
    key: String,
    /// As a sheet would write it.
    value: &'static str,
    /// Where it comes from.
    source: &'static str,
    /// Whether the sheet says `guess`, or nothing.
    guess: bool,
}

/// Something unusual.
#[derive(Serialize, JsonSchema)]
pub struct WarningView {
    /// The key or option that it concerns.
    key: String,
    /// What is unusual about it.
    text: String,
}

impl Head {
    /// Head of a verb's result for a car in its state.
    pub fn of(verb: &'static str, opened: &Opened) -> Self {
        let state = &opened.state;
        Self {
            contract: CONTRACT,
            rearline: env!("CARGO_PKG_VERSION"),
            verb,
            car: opened.sheet.name().to_owned(),
            sheet_sha256: opened.sheet.digest.to_string(),
            state: StateView {
                surface: state.surface.name.to_string(),
                grip: state.surface.peak.into(),
                crew: state.conditions.aboard.crew,
                crew_kg: opened.crew_aboard().kg().into(),
                load_kg: opened.load_aboard().kg().into(),
                fuel_l: (state.laden.fuel.m3() * 1000.0).into(),
                cold: state.conditions.warmth == engine::brake::Warmth::Cold,
                slope: state.laden.grade.slope.into(),
                facing: state.laden.grade.facing.name(),
                day: state.day.to_string(),
                overrides: opened.overrides.iter().cloned().collect(),
                proposal: opened.proposal.as_ref().map(|proposed| proposed.name.clone()),
            },
            defaults: defaults(&opened.assembled),
            measured: measured(&opened.assembled),
            warnings: warnings(&opened.assembled),
        }
    }
}

fn measured(assembled: &Assembled) -> Vec<MeasuredView> {
    let view = |replaced: &engine::car::Replaced| MeasuredView {
        by: replaced.by.clone(),
        replaces: replaced.keys.clone(),
        text: replaced.said.to_string(),
    };
    assembled.replaced.iter().map(view).collect()
}

impl Head {
    /// The same head of a car on another slope than its state's.
    pub fn on(mut self, grade: engine::loads::Grade) -> Self {
        self.state.slope = grade.slope.into();
        self.state.facing = grade.facing.name();
        self
    }

    /// The same head with only those defaults that stand at some keys.
    pub fn leaning_on(mut self, keys: &[&str]) -> Self {
        self.defaults
            .retain(|default| keys.contains(&default.key.as_str()));
        self
    }
}

/// The defaults that a car leans on.
#[must_use]
pub fn defaults(assembled: &Assembled) -> Vec<DefaultView> {
    let view = |leaned: &engine::car::DefaultUsed| DefaultView {
        key: leaned.slot.path(),
        value: leaned.value,
        source: leaned.source,
        guess: leaned.guess,
    };
    assembled.defaults_used.iter().map(view).collect()
}

/// What is unusual on its sheet.
#[must_use]
pub fn warnings(assembled: &Assembled) -> Vec<WarningView> {
    let view = |warning: &engine::car::Unusual| WarningView {
        key: warning.path.clone(),
        text: warning.text.to_string(),
    };
    assembled.warnings.iter().map(view).collect()
}

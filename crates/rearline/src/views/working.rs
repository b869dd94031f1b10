//! What `working` answers, as other programs read it.

use engine::working::{Step, Working};
use questions::working::meaning;
use schemars::JsonSchema;
use serde::Serialize;

use super::Num;

/// Digits that give a number back exactly.
const EXACT: usize = 17;

/// How one figure came about. Formulas are written with `+ - * / ^ max() min() sqrt()`.
#[derive(Serialize, JsonSchema)]
pub(crate) struct WorkingView {
    figure: &'static str,
    /// As the formula writes it.
    symbol: &'static str,
    /// In symbols.
    formula: String,
    /// With the numbers in, in SI; it evaluates to the value.
    with_numbers: String,
    value: f64,
    /// SI unit; empty for a bare number.
    unit: &'static str,
    source: &'static str,
    /// Every line of the arithmetic, from the sheet's figures to this one.
    steps: Vec<StepView>,
    /// Keys of the sheet that it rests on.
    keys: Vec<&'static str>,
}

#[derive(Serialize, JsonSchema)]
struct StepView {
    symbol: &'static str,
    /// What it is.
    meaning: &'static str,
    formula: String,
    with_numbers: String,
    value: f64,
    unit: &'static str,
    source: &'static str,
    /// What it assumes or leaves out.
    assumes: &'static str,
}

/// Every figure that can explain itself.
#[derive(Serialize, JsonSchema)]
pub(crate) struct AllView {
    figures: Vec<OneView>,
}

#[derive(Serialize, JsonSchema)]
struct OneView {
    figure: &'static str,
    /// What it is.
    meaning: &'static str,
    value: Num,
}

impl AllView {
    /// Of all workings that a car has.
    pub(crate) fn of(all: &[Working]) -> Self {
        let one = |working: &Working| OneView {
            figure: working.figure,
            meaning: meaning(working.figure),
            value: working.last().map_or(f64::NAN, |step| step.result.value).into(),
        };
        Self {
            figures: all.iter().map(one).collect(),
        }
    }
}

impl WorkingView {
    /// Of a working.
    pub(crate) fn of(working: &Working) -> Self {
        let last = working.last();
        Self {
            figure: working.figure,
            symbol: last.map_or("", |step| step.result.sign),
            formula: last.map_or_else(String::new, |step| step.formula.in_symbols()),
            with_numbers: last.map_or_else(String::new, |step| step.formula.with_numbers(EXACT)),
            value: last.map_or(f64::NAN, |step| step.result.value),
            unit: last.map_or("", |step| step.result.si_unit()),
            source: last.map_or("", |step| step.source),
            steps: working.steps.iter().map(step).collect(),
            keys: working.keys(),
        }
    }
}

fn step(step: &Step) -> StepView {
    StepView {
        symbol: step.result.sign,
        meaning: step.result.meaning,
        formula: step.formula.in_symbols(),
        with_numbers: step.formula.with_numbers(EXACT),
        value: step.result.value,
        unit: step.result.si_unit(),
        source: step.source,
        assumes: step.assumes,
    }
}

//! How one figure came about, as it is shown: each line in symbols, with the numbers in, and where it comes from.

use engine::working::{BEFORE_UNIT, Expr, FIGURES, Notation, Quantities, Symbol, Working, WorkingBench};
use quantity::Unit;
use quantity::si::{Temperature, TemperatureDifference};
use wording::Units;

use crate::question::Case;
use crate::report::{Block, Detail, Frame, Headline, Report, Section, WorkingLine, sentence};

/// The verb.
pub const NAME: &str = "working";

/// Significant digits of the numbers in a formula, and of what comes of it.
const DIGITS: (usize, usize) = (5, 6);

/// What a figure is, in a few words.
#[must_use]
pub fn meaning(figure: &str) -> &'static str {
    FIGURES
        .iter()
        .find(|(name, _)| *name == figure)
        .map_or("", |(_, meaning)| meaning)
}

/// The arithmetic of a figure, line by line.
#[must_use]
pub fn report(case: &Case<'_>, working: &Working) -> Report {
    let units = &case.units;
    let last = working.last().map(|step| &step.result);
    let stamp = last.map_or_else(String::new, |result| stamp(case, working.figure, result));
    let headline = headline(stamp, sentence(meaning(working.figure)));
    let mut report = Report::named(NAME, "How did it come about?", case, headline);
    let count = working.steps.len();
    let summary = format!("{count} {}", wording::counted(count, "line", "lines"));
    report.section(Section::new("Line by line", summary, None).with(Block::Steps(steps(working, units))));
    report
}

/// The figures that a car can explain.
#[must_use]
pub fn list(case: &Case<'_>, all: &[Working]) -> Report {
    let count = all.len();
    let headline = headline(
        format!("{count} {}", wording::counted(count, "figure", "figures")),
        "These explain themselves; name one to see its arithmetic.".to_owned(),
    );
    let mut report = Report::named(NAME, "How did it come about?", case, headline);
    let facts = all
        .iter()
        .filter_map(|working| {
            let value = stamp(case, working.figure, &working.last()?.result);
            Some(Detail::new(
                working.figure,
                format!("{value}: {}", meaning(working.figure)),
            ))
        })
        .collect();
    report.section(Section::new("Figures", "name, value and meaning", None).with(Block::Details(facts)));
    report
}

/// Workings of several figures behind each other, in the order of the list. A step that several lean on stands once, where
/// it comes first; a figure of which nothing is left is left out.
#[must_use]
pub fn each_step_once(bench: &WorkingBench<'_>, wanted: impl Fn(&str) -> bool) -> Vec<Working> {
    let mut shown: Vec<(&str, String)> = Vec::new();
    let mut found = Vec::new();
    for (name, _) in FIGURES.iter().filter(|(name, _)| wanted(name)) {
        let Some(mut working) = bench.working(name) else {
            continue;
        };
        working.steps.retain(|step| {
            let key = (step.result.sign, step.formula.with_numbers(DIGITS.1));
            let new = !shown.contains(&key);
            shown.push(key);
            new
        });
        if !working.steps.is_empty() {
            found.push(working);
        }
    }
    found
}

fn headline(stamp: String, because: String) -> Headline {
    Headline {
        stamp,
        frame: Frame::Solid,
        because,
        though: Vec::new(),
        stops_first: Vec::new(),
        figures: Vec::new(),
        first: None,
    }
}

/// The figure as every answer says it.
fn stamp(case: &Case<'_>, figure: &str, result: &Symbol) -> String {
    let (precision, units) = (case.precision(), &case.units);
    let known = match figure {
        "hand_force_n" => precision.hand,
        "travel_m" => precision.travel,
        "pressure_pa" => precision.pressure,
        "foot_force_n" => precision.foot,
        "in_hand" | "front_first_by" | "drag" | "over_needed" | "steepest_for_two_minutes" => {
            return wording::per_cent(result.value);
        }
        "disc_peak_k" | "fluid_running_k" | "fluid_soak_k" => {
            return wording::celsius(Temperature::from_k(result.value));
        }
        "braking_rate" => return wording::ratio(result.value),
        "minutes" => return format!("{}\u{a0}min", wording::whole(result.value)),
        "cooling_time_s" => return format!("{}\u{a0}s", wording::whole(result.value)),
        "fluid_margin_now_dk" => return wording::apart(TemperatureDifference::from_dk(result.value)),
        _ => None,
    };
    match own_unit(result.unit, units) {
        Some(unit) => wording::Measured::new(result.value, known, unit).value.text,
        None => value(result, units),
    }
}

fn steps(working: &Working, units: &Units) -> Vec<WorkingLine> {
    working
        .steps
        .iter()
        .map(|step| {
            let keys = step.formula.symbols().into_iter();
            WorkingLine {
                meaning: step.result.meaning,
                sign: step.result.sign,
                formula: step.formula.clone(),
                units: *units,
                value: value(&step.result, units),
                source: if step.assumes.is_empty() {
                    step.source.to_owned()
                } else {
                    format!("{}; {}", step.source, step.assumes)
                },
                keys: keys
                    .filter_map(|symbol| Some((symbol.sign, symbol.key?)))
                    .collect(),
            }
        })
        .collect()
}

impl WorkingLine {
    /// Whether it was found by search: then there is no formula to put numbers into.
    #[must_use]
    pub const fn is_found(&self) -> bool {
        matches!(self.formula, Expr::Number(_))
    }

    /// The formula in symbols, as text.
    #[must_use]
    pub fn in_symbols(&self) -> String {
        self.formula.in_symbols()
    }

    /// The formula with the numbers in, each with its unit, as text.
    #[must_use]
    pub fn with_numbers(&self) -> String {
        self.formula.with_said(&|symbol| self.number(symbol))
    }

    /// The formula in symbols, as mathematics.
    #[must_use]
    pub fn symbols(&self) -> Notation {
        self.formula.written(Quantities::Signs)
    }

    /// The formula with the numbers in, each with its unit, as mathematics.
    #[must_use]
    pub fn numbers(&self) -> Notation {
        self.formula
            .written(Quantities::Numbers(&|symbol| self.number(symbol)))
    }

    /// A quantity's number in the person's unit, as it stands in the formula.
    fn number(&self, symbol: &Symbol) -> String {
        said(symbol, &self.units, DIGITS.0)
    }
}

/// A value with its unit, in the person's own where there is one.
fn value(symbol: &Symbol, units: &Units) -> String {
    said(symbol, units, DIGITS.1)
}

fn said(symbol: &Symbol, units: &Units, digits: usize) -> String {
    let shown = units.in_formula(symbol.value, symbol.unit);
    let number = Symbol {
        value: shown.number,
        ..symbol.clone()
    };
    let text = Expr::from(number).with_numbers(digits);
    if shown.unit.is_empty() {
        return text;
    }
    format!("{text}{BEFORE_UNIT}{}", shown.unit)
}

/// The unit that a person reads such a figure in.
fn own_unit(si: &str, units: &Units) -> Option<Unit> {
    match si {
        "Pa" => Some(units.pressure),
        "N" => Some(units.force),
        "m" => Some(units.length),
        "N m" => Some(units.torque),
        "kg" => Some(units.mass),
        "m³" => Some(units.fluid),
        _ => None,
    }
}

use core::fmt;

use quantity::{Dimension, units_of};
use serde::Deserialize;

use crate::Error;
use crate::row::{Block, Row, Status};

/// A source: its folder, its data, and what asks our code for the same figures.
#[derive(Clone, Copy)]
pub(crate) struct Source {
    pub(crate) folder: &'static str,
    pub(crate) data: &'static str,
    pub(crate) check: fn(&Inputs) -> Result<Answers, Error>,
}

/// `data.toml`.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Data {
    /// As cited.
    source: String,
    /// How far the inputs are the source's own.
    inputs_are: Status,
    /// What else should be known.
    note: Option<String>,
    #[serde(default)]
    inputs: toml::Table,
    expected: Vec<Expected>,
}

/// What a source says of one quantity, at one place or at several.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Expected {
    /// What the check calls it.
    key: String,
    /// What a person calls it.
    quantity: String,
    /// Unit of the value.
    #[serde(default)]
    unit: String,
    /// Where, one a value.
    #[serde(default)]
    at: Vec<String>,
    value: OneOrMany,
    #[serde(default)]
    is: Comparison,
    status: Status,
    /// What a value may be off, in its unit.
    #[serde(default)]
    allowed: f64,
    /// What a value may be off, over itself.
    #[serde(default)]
    allowed_relative: f64,
    /// Why so much.
    because: String,
    /// Why it can hardly fail, where it cannot.
    definition: Option<String>,
    /// The places at which alone that is so; none: at all of them.
    #[serde(default)]
    definition_at: Vec<String>,
    /// Why it is off, as long as it is.
    known_failure: Option<String>,
}

impl Expected {
    /// Why the row at a place can hardly fail, where it cannot.
    fn definition(&self, index: usize) -> Option<String> {
        let here = self.definition_at.is_empty()
            || self
                .at
                .get(index)
                .is_some_and(|at| self.definition_at.contains(at));
        match &self.definition {
            Some(why) if here => Some(why.clone()),
            _ if self.is != Comparison::Near => Some("a bound on one side".to_owned()),
            _ => None,
        }
    }
}

#[derive(Deserialize)]
#[serde(untagged)]
enum OneOrMany {
    One(Figure),
    Many(Vec<Figure>),
}

/// A number or a word.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(untagged)]
pub(crate) enum Figure {
    Number(f64),
    Word(String),
}

#[derive(Clone, Copy, Default, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case")]
enum Comparison {
    #[default]
    Near,
    AtLeast,
    AtMost,
    Above,
    Below,
}

impl fmt::Display for Comparison {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Near => "",
            Self::AtLeast => ">= ",
            Self::AtMost => "<= ",
            Self::Above => "> ",
            Self::Below => "< ",
        })
    }
}

/// What a source puts in.
pub(crate) struct Inputs {
    folder: &'static str,
    table: toml::Table,
}

impl Inputs {
    fn wrong(&self, key: &str, why: impl fmt::Display) -> Error {
        Error::Data {
            folder: self.folder,
            why: format!("inputs.{key}: {why}"),
        }
    }

    fn get(&self, key: &str) -> Result<&toml::Value, Error> {
        self.table.get(key).ok_or_else(|| self.wrong(key, "missing"))
    }

    fn si_of(&self, key: &str, value: &toml::Value, dimension: Dimension) -> Result<f64, Error> {
        match value {
            toml::Value::Float(number) if dimension == Dimension::Ratio => Ok(*number),
            toml::Value::String(text) => quantity::parse(text, dimension)
                .map(|amount| amount.si)
                .map_err(|fault| self.wrong(key, fault)),
            other => Err(self.wrong(key, format!("{} is no quantity", other.type_str()))),
        }
    }

    /// A quantity, in SI.
    pub(crate) fn si(&self, key: &str, dimension: Dimension) -> Result<f64, Error> {
        self.si_of(key, self.get(key)?, dimension)
    }

    /// A bare number.
    pub(crate) fn number(&self, key: &str) -> Result<f64, Error> {
        self.si(key, Dimension::Ratio)
    }

    /// A list of quantities, in SI.
    pub(crate) fn list(&self, key: &str, dimension: Dimension) -> Result<Vec<f64>, Error> {
        let list = self
            .get(key)?
            .as_array()
            .ok_or_else(|| self.wrong(key, "not a list"))?;
        list.iter()
            .map(|value| self.si_of(key, value, dimension))
            .collect()
    }

    /// A list of texts.
    pub(crate) fn texts(&self, key: &str) -> Result<Vec<&str>, Error> {
        let list = self
            .get(key)?
            .as_array()
            .ok_or_else(|| self.wrong(key, "not a list"))?;
        list.iter()
            .map(|text| text.as_str().ok_or_else(|| self.wrong(key, "not a text")))
            .collect()
    }

    /// Text, as written.
    pub(crate) fn text(&self, key: &str) -> Result<&str, Error> {
        self.get(key)?
            .as_str()
            .ok_or_else(|| self.wrong(key, "not a text"))
    }
}

/// What our code answers, by the keys of the data; numbers in SI.
#[derive(Default)]
pub(crate) struct Answers(Vec<(&'static str, Vec<Figure>)>);

impl Answers {
    fn add(&mut self, key: &'static str, figure: Figure) {
        match self.0.iter_mut().find(|(known, _)| *known == key) {
            Some((_, figures)) => figures.push(figure),
            None => self.0.push((key, vec![figure])),
        }
    }

    /// One more value of a quantity.
    pub(crate) fn put(&mut self, key: &'static str, si: f64) {
        self.add(key, Figure::Number(si));
    }

    /// One more word.
    pub(crate) fn say(&mut self, key: &'static str, word: impl Into<String>) {
        self.add(key, Figure::Word(word.into()));
    }

    /// Whether something is so.
    pub(crate) fn tell(&mut self, key: &'static str, so: bool) {
        self.say(key, if so { "yes" } else { "no" });
    }
}

impl Source {
    /// Every figure of the source against ours.
    pub(crate) fn run(&self) -> Result<Block, Error> {
        let folder = self.folder;
        let data: Data = toml::from_str(self.data).map_err(|error| Error::Data {
            folder,
            why: error.to_string(),
        })?;
        let mut answers = (self.check)(&Inputs {
            folder,
            table: data.inputs,
        })?;
        let mut rows = Vec::new();
        for expected in &data.expected {
            let found = answers.0.iter().position(|(key, _)| *key == expected.key);
            let found = found.ok_or_else(|| self.unfit(format!("nothing answers `{}`", expected.key)))?;
            let (_, got) = answers.0.swap_remove(found);
            rows.extend(self.rows(expected, &got)?);
        }
        if let Some((key, _)) = answers.0.first() {
            return Err(self.unfit(format!("nothing is expected of `{key}`")));
        }
        Ok(Block {
            folder,
            source: data.source,
            inputs_are: Some(data.inputs_are),
            note: data.note,
            rows,
        })
    }

    fn unfit(&self, why: String) -> Error {
        Error::Check {
            folder: self.folder,
            why,
        }
    }

    fn rows(&self, expected: &Expected, got: &[Figure]) -> Result<Vec<Row>, Error> {
        let values = match &expected.value {
            OneOrMany::One(value) => core::slice::from_ref(value),
            OneOrMany::Many(values) => values,
        };
        let labels_fit = expected.at.is_empty() && values.len() == 1 || expected.at.len() == values.len();
        if got.len() != values.len() || !labels_fit {
            let (values, labels) = (values.len(), expected.at.len());
            return Err(self.unfit(format!(
                "{}: {values} values at {labels} places, {} answers",
                expected.key,
                got.len()
            )));
        }
        let label = |index: usize| {
            expected.at.get(index).map_or_else(
                || expected.quantity.clone(),
                |at| format!("{}, {at}", expected.quantity),
            )
        };
        let lost = expected.definition_at.iter().find(|at| !expected.at.contains(at));
        if let Some(lost) = lost {
            return Err(self.unfit(format!("{}: no place `{lost}`", expected.key)));
        }
        let one = |(index, (value, got)): (usize, (&Figure, &Figure))| {
            let definition = expected.definition(index);
            self.row(expected, label(index), value, got)
                .map(|row| Row { definition, ..row })
        };
        values.iter().zip(got).enumerate().map(one).collect()
    }

    fn row(&self, expected: &Expected, quantity: String, value: &Figure, got: &Figure) -> Result<Row, Error> {
        let row = |expected_text, got, off_by, allowed, passed| Row {
            quantity,
            status: expected.status,
            expected: expected_text,
            got,
            off_by,
            allowed,
            because: expected.because.clone(),
            passed,
            definition: None,
            known_failure: expected.known_failure.clone(),
        };
        match (value, got) {
            (Figure::Word(value), Figure::Word(got)) => Ok(row(
                value.clone(),
                got.clone(),
                String::new(),
                String::new(),
                value == got,
            )),
            (&Figure::Number(value), &Figure::Number(si)) => {
                let got = self.in_unit(si, &expected.unit)?;
                let allowed = expected.allowed + expected.allowed_relative * value.abs();
                let off = got - value;
                let passed = match expected.is {
                    Comparison::Near => off.abs() <= allowed,
                    Comparison::AtLeast => off >= -allowed,
                    Comparison::AtMost => off <= allowed,
                    Comparison::Above => off > allowed,
                    Comparison::Below => off < -allowed,
                };
                let unit = &expected.unit;
                Ok(row(
                    format!("{}{} {unit}", expected.is, shown(value))
                        .trim_end()
                        .to_owned(),
                    shown(got),
                    format!("{off:.0e}"),
                    format!("{allowed:.0e}"),
                    passed && got.is_finite(),
                ))
            }
            _ => Err(self.unfit(format!("{}: a word against a number", expected.key))),
        }
    }

    fn in_unit(&self, si: f64, unit: &str) -> Result<f64, Error> {
        // Units that no sheet has.
        let size = match unit {
            "" | "m/s2" => Some(1.0),
            "cm3/(m bar)" => Some(1e-11),
            "cm3/(m MPa)" => Some(1e-12),
            _ => None,
        };
        if let Some(size) = size {
            return Ok(si / size);
        }
        let known = Dimension::ALL
            .iter()
            .flat_map(|&dimension| units_of(dimension))
            .find(|known| known.symbol() == unit);
        known
            .map(|known| known.from_si(si))
            .ok_or_else(|| self.unfit(format!("no unit `{unit}`")))
    }
}

/// Eight significant digits, without trailing zeros.
fn shown(value: f64) -> String {
    if value == 0.0 || !value.is_finite() {
        return value.to_string();
    }
    let rounded: f64 = format!("{value:.7e}").parse().unwrap_or(value);
    if (1e-4..1e9).contains(&rounded.abs()) {
        rounded.to_string()
    } else {
        format!("{rounded:e}")
    }
}

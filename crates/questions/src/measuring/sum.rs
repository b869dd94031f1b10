//! The arithmetic of a card: what is asked, and the figure that it gives, with its tolerance where one was typed.

use engine::car::{Assembled, Form, Key, KeyId, TyreSize};
use quantity::{Amount, Dimension, Spread, Unit, find_unit, units_of};
use wording::Units;

use super::{Present, present};
use crate::trouble::Wrong;

/// From readings to a figure.
#[derive(Clone, Copy, Debug)]
pub struct Sum {
    /// What it works out, as a person asks it.
    pub title: &'static str,
    /// What is read, in order.
    pub asks: &'static [SumReading],
    /// The formula, in the letters of the drawing.
    pub formula: &'static str,
    /// The end of the paths of the keys that take its figure.
    pub key: &'static str,
    /// Dimension of its figure.
    pub dimension: Dimension,
    /// How it is worked out.
    pub work: Work,
}

/// How a sum is worked out.
#[derive(Clone, Copy, Debug)]
pub enum Work {
    /// From figures in SI, in the order of what is asked; `None` where they cannot be.
    Figures(fn(&[f64]) -> Option<f64>),
    /// From a tyre's label.
    Label,
}

/// One reading.
#[derive(Clone, Copy, Debug)]
pub struct SumReading {
    /// Its letter or word on the drawing, and its name in a form.
    pub name: &'static str,
    /// What it is.
    pub what: &'static str,
    /// Its dimension; `None`: a text.
    pub dimension: Option<Dimension>,
    /// The unit that a bare number has, where it is not the person's own.
    pub unit: Option<&'static str>,
    /// The key of the sheet that it may be taken from.
    pub from: Option<&'static str>,
}

/// A figure that was worked out.
#[derive(Clone, Debug, PartialEq)]
pub struct Worked {
    /// In SI, with its tolerance where the readings had one.
    pub amount: Amount,
    /// For the eye.
    pub shown: String,
    /// As a sheet takes it.
    pub written: String,
    /// What is unusual about it.
    pub mind: Option<String>,
}

impl SumReading {
    /// A length in the person's unit.
    pub(super) const fn length(name: &'static str, what: &'static str) -> Self {
        Self::of(name, what, Dimension::Length)
    }

    pub(super) const fn of(name: &'static str, what: &'static str, dimension: Dimension) -> Self {
        Self {
            name,
            what,
            dimension: Some(dimension),
            unit: None,
            from: None,
        }
    }

    pub(super) const fn text(name: &'static str, what: &'static str) -> Self {
        Self {
            name,
            what,
            dimension: None,
            unit: None,
            from: None,
        }
    }

    /// A bare number has this unit.
    pub(super) const fn bare(mut self, unit: &'static str) -> Self {
        self.unit = Some(unit);
        self
    }

    /// What the sheet says already.
    pub(super) const fn taken_from(mut self, key: &'static str) -> Self {
        self.from = Some(key);
        self
    }

    /// The unit of a bare number; none of a bare ratio or a text.
    #[must_use]
    pub fn unit(&self, units: &Units) -> Option<Unit> {
        let dimension = self.dimension?;
        if dimension == Dimension::Ratio {
            return None;
        }
        let own = self.unit.and_then(|unit| find_unit(unit, dimension).ok());
        Some(own.unwrap_or_else(|| of_person(dimension, units)))
    }

    /// What a sheet has for it already, as it may be typed; empty where nothing.
    #[must_use]
    pub fn on_the_sheet(&self, text: &str, assembled: Option<&Assembled>, units: &Units) -> String {
        let Some((key, dimension)) = self.from.zip(self.dimension) else {
            return String::new();
        };
        let stands = match present(text, assembled, key) {
            Present::Says(value) | Present::Taken { value, .. } => value,
            Present::Nothing => return String::new(),
        };
        if let Some(size) = TyreSize::read(&stands) {
            return told(&size.rolling_radius(), of_person(dimension, units)).1;
        }
        if quantity::parse(&stands, dimension).is_ok() {
            stands
        } else {
            String::new()
        }
    }

    fn read(&self, text: &str, units: &Units) -> Result<Amount, Wrong> {
        let text = text.trim();
        if text.is_empty() {
            let what = format!("`{}` is missing", self.name);
            return Err(Wrong::plain(
                self.name,
                "missing",
                what,
                format!("type {}", self.what),
            ));
        }
        let dimension = self.dimension.unwrap_or(Dimension::Ratio);
        let typed = match self.unit(units) {
            Some(unit) => with_unit(text, unit),
            None => text.to_owned(),
        };
        quantity::parse(&typed, dimension).map_err(|fault| Wrong::quantity(self.name, &typed, &fault))
    }
}

/// A bare number with its unit, which stands before a tolerance: `275 ± 1` is `275 mm ± 1`.
fn with_unit(text: &str, unit: Unit) -> String {
    let sign = ["±", "+/-", "+-"]
        .into_iter()
        .filter_map(|sign| text.find(sign))
        .min();
    let (value, tolerance) = text.split_at(sign.unwrap_or(text.len()));
    if value.chars().any(char::is_alphabetic) || value.contains(['"', '\'']) {
        return text.to_owned();
    }
    format!("{} {} {tolerance}", value.trim_end(), unit.symbol())
        .trim_end()
        .to_owned()
}

/// The unit that a person reads a dimension in.
fn of_person(dimension: Dimension, units: &Units) -> Unit {
    match dimension {
        Dimension::Length => units.length,
        Dimension::Pressure => units.pressure,
        Dimension::Force => units.force,
        Dimension::Mass => units.mass,
        Dimension::Torque => units.torque,
        other => units_of(other)[0],
    }
}

impl Sum {
    /// Whether a key takes its figure.
    #[must_use]
    pub fn gives(&self, key: &Key) -> bool {
        let is_figure = matches!(key.form, Form::Quantity(_) | Form::RollingRadius);
        is_figure && key.dimension() == Some(self.dimension) && key.path.ends_with(self.key)
    }

    /// Works it out from what was typed. `key`: where the figure goes, whose ranges it is held against.
    ///
    /// # Errors
    /// What does not read; what cannot be; a figure that no sheet takes.
    pub fn worked(
        &self,
        typed: &dyn Fn(&str) -> String,
        units: &Units,
        key: Option<KeyId>,
    ) -> Result<Worked, Wrong> {
        let amount = match self.work {
            Work::Figures(work) => self.of_figures(work, typed, units)?,
            Work::Label => self.of_label(typed)?,
        };
        let unit = self.unit(units);
        let (shown, written) = told(&amount, unit);
        let mut mind = None;
        if let Some(key) = key {
            let within =
                |range: Option<(f64, f64)>| range.is_none_or(|(low, high)| (low..=high).contains(&amount.si));
            let says = |range: Option<(&str, &str)>| {
                range.map_or_else(String::new, |(low, high)| format!("{low} to {high}"))
            };
            if !within(key.hard_si()) {
                let what = format!("that gives {shown}, which no sheet takes");
                let remedy = format!("{} can be: look at the readings again", says(key.key().hard));
                return Err(Wrong::plain(self.title, "out-of-range", what, remedy));
            }
            if !within(key.usual_si()) {
                mind = Some(format!(
                    "Usual is {}. Read again before you keep it.",
                    says(key.key().usual)
                ));
            }
        }
        Ok(Worked {
            amount,
            shown,
            written,
            mind,
        })
    }

    /// The unit of its figure.
    fn unit(&self, units: &Units) -> Unit {
        of_person(self.dimension, units)
    }

    fn of_figures(
        &self,
        work: fn(&[f64]) -> Option<f64>,
        typed: &dyn Fn(&str) -> String,
        units: &Units,
    ) -> Result<Amount, Wrong> {
        let mut wrong = Wrong::default();
        let read: Vec<Amount> = self
            .asks
            .iter()
            .filter_map(|ask| wrong.note(ask.read(&typed(ask.name), units)))
            .collect();
        if !wrong.is_empty() {
            return Err(wrong);
        }
        let figures: Vec<f64> = read.iter().map(|amount| amount.si).collect();
        let Some(si) = work(&figures).filter(|si| si.is_finite()) else {
            let what = "these readings cannot be: there is no figure for them".to_owned();
            let remedy = "look at the drawing, and read them again".to_owned();
            return Err(Wrong::plain(self.title, "cannot-be", what, remedy));
        };
        // Each reading to its two ends, the others as they are; readings are off by themselves, so that squares add up.
        let mut squares = 0.0;
        for (index, amount) in read.iter().enumerate() {
            let (low, high) = amount.ends_si();
            let at = |end: f64| {
                let mut figures = figures.clone();
                figures[index] = end;
                work(&figures).filter(|si| si.is_finite())
            };
            if let (Some(low), Some(high)) = (at(low), at(high)) {
                squares += ((high - low) / 2.0).powi(2);
            }
        }
        let half_width_si = f64::sqrt(squares);
        let spread = if half_width_si > 0.0 {
            Spread::Normal { half_width_si }
        } else {
            Spread::Exact
        };
        Ok(Amount {
            dimension: self.dimension,
            si,
            spread,
        })
    }

    fn of_label(&self, typed: &dyn Fn(&str) -> String) -> Result<Amount, Wrong> {
        let Some(ask) = self.asks.first() else {
            return Err(Wrong::default());
        };
        let label = typed(ask.name);
        let size = TyreSize::read(&label).ok_or_else(|| {
            let what = format!("`{}` is no tyre's label", label.trim());
            let remedy = format!("write it as on the tyre: {}", TyreSize::FORM);
            Wrong::option(ask.name, &label, 0..label.len(), "not-a-label", what, remedy)
        })?;
        Ok(size.rolling_radius())
    }
}

/// A figure as far rounded as its tolerance supports: for the eye, and as a sheet reads it.
fn told(amount: &Amount, unit: Unit) -> (String, String) {
    let (low, high) = amount.ends_si();
    let range = (low < high).then_some((low, high));
    let digits = match range {
        Some((low, high)) => quantity::digits_for_range(low, high, unit),
        None => wording::column([amount.si], unit),
    };
    let shown = |si: f64| quantity::show(si, unit, digits);
    let number = |si: f64| {
        let shown = shown(si);
        shown
            .strip_suffix(unit.shown())
            .unwrap_or(&shown)
            .trim_end()
            .replace('−', "-")
    };
    let value = shown(amount.si);
    let on_the_sheet = |si: f64| format!("{} {}", number(si), unit.symbol()).trim_end().to_owned();
    match range {
        None => (value, on_the_sheet(amount.si)),
        Some((low, high)) => {
            let half = (high - low) / 2.0;
            (
                format!("{value} ±\u{a0}{}", shown(half)),
                format!("{} ± {}", on_the_sheet(amount.si), on_the_sheet(half)),
            )
        }
    }
}

use quantity::{Amount, Dimension};

use super::drawing::Drawing;

/// What may stand at a key.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Form {
    /// One quantity, as a string with its unit; a bare number where the dimension is [`Dimension::Ratio`].
    Quantity(Dimension),
    /// A length, or a tyre's designation ([`TyreSize`](super::TyreSize)), which gives one.
    RollingRadius,
    /// A list of quantities of one kind, at least one.
    Quantities(Dimension),
    /// One row of quantities, a dimension a column.
    Row(&'static [Dimension]),
    /// Rows of quantities, a dimension a column. The number says how many columns must be there; the rest may be left out.
    Rows {
        /// The columns, in order.
        columns: &'static [Dimension],
        /// Columns that every row must have.
        needed: usize,
    },
    /// Turns of a knob (`"2.5 turns"`) or a position counted from 1 (`3`).
    Setting,
    /// A whole number.
    Count,
    /// `true` or `false`.
    Flag,
    /// One of these words.
    Word(&'static [&'static str]),
    /// Free text.
    Text,
    /// A list of texts.
    Texts,
    /// A civil date, without quotes.
    Date,
}

/// Whether a key must be there.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Need {
    /// A sheet without it is refused.
    Always,
    /// Needed as soon as its table is there.
    InItsTable,
    /// Needed only in some arrangements; which, [`Key::when`] says and [`Car::assemble`](super::Car::assemble) checks.
    Sometimes,
    /// May be left out.
    Never,
}

/// How a figure is found out, and the card that shows it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Way {
    how: &'static str,
    drawing: Option<Drawing>,
}

impl Way {
    /// A way that a card shows.
    pub(super) const fn shown(drawing: Drawing, how: &'static str) -> Self {
        Self {
            how,
            drawing: Some(drawing),
        }
    }

    /// What a workshop does not measure.
    pub(super) const fn kept(how: &'static str) -> Self {
        Self { how, drawing: None }
    }
}

/// One row of the table of keys: everything that is known about a key of the sheet apart from what it does.
#[derive(Clone, Copy, Debug)]
pub struct Key {
    /// Where it stands: tables joined by dots, `[]` behind a repeated table.
    pub path: &'static str,
    /// What it is called where a person reads it, at most six words. Whoever shows it says which part of the car it is of:
    /// [`Key::part`].
    pub label: &'static str,
    /// What may stand there.
    pub form: Form,
    /// Whether it must.
    pub need: Need,
    /// Outside it: refused. Both ends allowed; written as on a sheet.
    pub hard: Option<(&'static str, &'static str)>,
    /// Outside it: a warning. Written as on a sheet.
    pub usual: Option<(&'static str, &'static str)>,
    /// What is taken where the key is left out or says `guess`, with its tolerance; or, after `by rule:`, what it follows
    /// from.
    pub default: Option<&'static str>,
    /// Where the default comes from.
    pub source: &'static str,
    /// One or two sentences for the person who fills it in.
    pub help: &'static str,
    /// What only whoever writes the sheet as text has to know of it, as a sentence. Often empty.
    pub as_text: &'static str,
    /// In which cars a key of [`Need::Sometimes`] is needed: `with twin cylinders`. Empty for the others.
    pub when: &'static str,
    /// How it is found out, tool and steps. Empty where a person knows it without looking, or where it is a choice.
    pub how: &'static str,
    /// The card that shows where it is measured. None where nobody measures it.
    pub drawing: Option<Drawing>,
}

/// The figures of a key, read once.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Figures {
    pub(super) hard_si: Option<(f64, f64)>,
    pub(super) usual_si: Option<(f64, f64)>,
    pub(super) default: Option<Amount>,
}

impl Key {
    /// The dimension of the key's figure: of the single quantity, of a list's members, of a row's first column.
    #[must_use]
    pub fn dimension(&self) -> Option<Dimension> {
        match self.form {
            Form::Quantity(dimension) | Form::Quantities(dimension) => Some(dimension),
            Form::Row(columns) | Form::Rows { columns, .. } => columns.first().copied(),
            Form::RollingRadius => Some(Dimension::Length),
            Form::Setting => Some(Dimension::Turns),
            Form::Count => Some(Dimension::Ratio),
            _ => None,
        }
    }

    /// The table that the key stands in: `"load.item[]"` of `"load.item[].mass"`, empty at the top.
    #[must_use]
    pub fn table(&self) -> &'static str {
        self.path.rsplit_once('.').map_or("", |(table, _)| table)
    }

    /// The last part of the path.
    #[must_use]
    pub fn name(&self) -> &'static str {
        self.path.rsplit_once('.').map_or(self.path, |(_, name)| name)
    }

    /// Which part of the car it is of, as a heading: `Rear brake`.
    #[must_use]
    pub fn part(&self) -> &'static str {
        let table = self.path.split(['.', '[']).next().unwrap_or_default();
        match table {
            "weighed" => "On the scales",
            "geometry" => "Lengths",
            "load" => "What comes aboard",
            "tyres" => "Tyres",
            "surface" => "Surfaces",
            "pedal" => "Pedal and booster",
            "master" => "Master cylinder",
            "bias_valve" => "Bias valve",
            "lever" => "Handbrake",
            "front_brake" => "Front brake",
            "rear_brake" => "Rear brake",
            "lever_brake" => "Handbrake's own calipers",
            "drivetrain" => "Drivetrain",
            "fluid" => "Fluid",
            "routes" | "lines" => "Pipes and hoses",
            "places" => "Places",
            "before" => "What the car had",
            "air" => "Air",
            "measured" => "Readings",
            _ => "The car",
        }
    }

    /// The help of whoever writes the sheet as text.
    #[must_use]
    pub fn help_as_text(&self) -> String {
        if self.as_text.is_empty() {
            self.help.to_owned()
        } else {
            format!("{} {}", self.help, self.as_text)
        }
    }

    pub(super) fn figures(&self) -> Figures {
        let read = |text: &str| {
            self.dimension()
                .and_then(|dimension| quantity::parse(text, dimension).ok())
        };
        let range =
            |ends: Option<(&str, &str)>| ends.and_then(|(low, high)| Some((read(low)?.si, read(high)?.si)));
        Figures {
            hard_si: range(self.hard),
            usual_si: range(self.usual),
            default: self.default.and_then(read),
        }
    }
}

/// A quantity that may be left out.
pub(super) const fn quantity(
    path: &'static str,
    label: &'static str,
    dimension: Dimension,
    help: &'static str,
) -> Key {
    key(path, label, Form::Quantity(dimension), help)
}

/// Any key that may be left out.
pub(super) const fn key(path: &'static str, label: &'static str, form: Form, help: &'static str) -> Key {
    Key {
        path,
        label,
        form,
        need: Need::Never,
        hard: None,
        usual: None,
        default: None,
        source: "",
        help,
        as_text: "",
        when: "",
        how: "",
        drawing: None,
    }
}

impl Key {
    pub(super) const fn always(mut self) -> Self {
        self.need = Need::Always;
        self
    }

    pub(super) const fn in_its_table(mut self) -> Self {
        self.need = Need::InItsTable;
        self
    }

    pub(super) const fn sometimes(mut self, when: &'static str) -> Self {
        self.need = Need::Sometimes;
        self.when = when;
        self
    }

    /// Another way to write it, which keys by thumb find by themselves.
    pub(super) const fn as_text(mut self, said: &'static str) -> Self {
        self.as_text = said;
        self
    }

    /// A way that is this row's own.
    pub(super) const fn how(self, how: &'static str, drawing: Drawing) -> Self {
        self.way(Way::shown(drawing, how))
    }

    /// A way that several rows share.
    pub(super) const fn way(mut self, way: Way) -> Self {
        self.how = way.how;
        self.drawing = way.drawing;
        self
    }

    pub(super) const fn hard(mut self, low: &'static str, high: &'static str) -> Self {
        self.hard = Some((low, high));
        self
    }

    pub(super) const fn usual(mut self, low: &'static str, high: &'static str) -> Self {
        self.usual = Some((low, high));
        self
    }

    pub(super) const fn default(mut self, value: &'static str, source: &'static str) -> Self {
        self.default = Some(value);
        self.source = source;
        self
    }
}

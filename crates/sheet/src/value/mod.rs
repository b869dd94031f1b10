//! From a value of TOML to what a key holds.

mod inside;
mod meant;

use core::ops::Range;
use nearest::nearest_one;
use std::borrow::Cow;

use engine::car::{Date, Form, Key, TyreSize, Value};
use quantity::{Amount, Dimension, Written};
use toml::Spanned;
use toml::de::{DeArray, DeValue};

use crate::about::explained;
use crate::example::{self, TO_FILL_IN};
use crate::fault::{CountFlaw, Fault, Kind};
use crate::source::is_unseen;

use inside::inside;
use meant::{day_meant, flag_meant, like, wanted};

/// The most members of a list, rows of a curve, entries of a repeated table.
pub const MOST_MEMBERS: usize = 10_000;
/// The most surfaces of one's own: every answer goes through all of them.
const MOST_SURFACES: usize = 50;

/// Most entries of a repeated table.
pub(crate) fn most_entries(group: &str) -> usize {
    if group == "surface" {
        MOST_SURFACES
    } else {
        MOST_MEMBERS
    }
}
/// The most characters of a name.
pub const LONGEST_NAME: usize = 80;
/// The most characters of any other text.
pub const LONGEST_TEXT: usize = 300;

/// Whether `guess` may stand at a key.
pub(crate) fn may_be_guessed(key: &Key) -> bool {
    matches!(key.form, Form::Quantity(_) | Form::RollingRadius | Form::Setting) && key.default.is_some()
}

/// Reads the values of one key. Faults are gathered with the bytes that are at fault.
pub(crate) struct ValueReader<'a> {
    /// The text that the spans count in.
    pub(crate) text: &'a str,
    /// What has to be added to a span to count from the beginning of the text.
    pub(crate) base: usize,
    /// Whether it is a file, where texts stand in quotes.
    pub(crate) in_file: bool,
    /// Whether the parser could not read a scalar.
    pub(crate) is_unreadable: &'a dyn Fn(&Range<usize>) -> Option<Option<Fault>>,
    pub(crate) key: &'static Key,
    pub(crate) faults: Vec<(Range<usize>, Fault)>,
}

type Node<'i> = Spanned<DeValue<'i>>;

impl ValueReader<'_> {
    pub(crate) fn read(&mut self, value: &Node<'_>) -> Option<Value> {
        match self.key.form {
            Form::Quantity(dimension) => match self.written(value, dimension)? {
                Written::Amount(amount) => Some(Value::Amount(amount)),
                Written::Guess => Some(Value::Guess),
            },
            Form::RollingRadius => self.rolling_radius(value),
            Form::Setting => self.setting(value),
            Form::Quantities(dimension) => {
                let amounts = self.members(value, |reader, member| reader.amount(member, dimension))?;
                Some(Value::Amounts(amounts))
            }
            Form::Row(columns) => {
                let row = self.row(value, columns, columns.len())?;
                Some(Value::Rows(vec![row]))
            }
            Form::Rows { columns, needed } => {
                if let DeValue::Array(array) = value.get_ref()
                    && !array.is_empty()
                    && !array.iter().any(|member| member.get_ref().is_array())
                {
                    return self.wrong(value);
                }
                let rows = self.members(value, |reader, member| reader.row(member, columns, needed))?;
                Some(Value::Rows(rows))
            }
            Form::Count => self.count(value).map(Value::Count),
            Form::Flag => match value.get_ref() {
                DeValue::Boolean(flag) if self.readable(value)? => Some(Value::Flag(*flag)),
                _ => self.wrong(value),
            },
            Form::Word(words) => self.word(value, words),
            Form::Text => self.text_of(value).map(|text| Value::Text(text.into())),
            Form::Texts => self.texts(value),
            Form::Date => self.date(value),
        }
    }

    fn span(&self, value: &Node<'_>) -> Range<usize> {
        let span = value.span();
        self.base + span.start..self.base + span.end
    }

    fn raw(&self, value: &Node<'_>) -> &str {
        self.text.get(self.span(value)).unwrap_or_default()
    }

    fn fault(&mut self, span: Range<usize>, fault: Fault) {
        self.faults.push((span, fault));
    }

    /// `Some(true)`, or a fault if the parser could not read the scalar.
    fn readable(&mut self, value: &Node<'_>) -> Option<bool> {
        let Some(reason) = (self.is_unreadable)(&value.span()) else {
            return Some(true);
        };
        let span = self.span(value);
        let found = self.raw(value).to_owned();
        let fault = reason.unwrap_or_else(|| Fault::Unreadable {
            found,
            written: self.written_as(value),
        });
        self.fault(span, fault);
        None
    }

    /// The content of a text, quoted or not.
    fn content<'v>(&mut self, value: &'v Node<'_>) -> Option<&'v str> {
        let DeValue::String(content) = value.get_ref() else {
            return self.wrong(value);
        };
        if self.is_bare(value) {
            let (span, found) = (self.span(value), content.to_string());
            self.fault(span, Fault::Unquoted { found });
            // With a quote in it, the text is not what was meant.
            return Some(content.as_ref()).filter(|content| !content.contains(['"', '\'']));
        }
        self.readable(value)?;
        if self.is_still_to_come(content) {
            return self.not_filled_in(value);
        }
        Some(content)
    }

    /// Whether a text is the sign of a blank sheet for what is still to come.
    fn is_still_to_come(&self, content: &str) -> bool {
        match self.key.form {
            Form::Text | Form::Texts => content == TO_FILL_IN,
            _ => content.contains(TO_FILL_IN),
        }
    }

    fn not_filled_in<T>(&mut self, value: &Node<'_>) -> Option<T> {
        let fault = Fault::ToFillIn {
            name: self.key.name().to_owned(),
            about: explained(self.key),
        };
        let span = self.span(value);
        self.fault(span, fault);
        None
    }

    /// Whether a text stands in a file without quotes.
    fn is_bare(&self, value: &Node<'_>) -> bool {
        self.in_file && !self.raw(value).starts_with(['"', '\''])
    }

    fn wrong<T>(&mut self, value: &Node<'_>) -> Option<T> {
        if value
            .get_ref()
            .as_str()
            .is_some_and(|content| self.is_still_to_come(content))
        {
            return self.not_filled_in(value);
        }
        let scalar = !matches!(value.get_ref(), DeValue::Array(_) | DeValue::Table(_));
        if scalar && !matches!(value.get_ref(), DeValue::String(_)) {
            self.readable(value)?;
        }
        let fault = Fault::WrongType {
            name: format!("`{}`", self.key.name()),
            wanted: wanted(self.key),
            found: kind(value.get_ref()),
            written: self.written_as(value),
        };
        let span = self.span(value);
        self.fault(span, fault);
        None
    }

    /// `key = value` as it may have been meant.
    fn written_as(&self, value: &Node<'_>) -> String {
        let raw = self.raw(value).trim();
        let content = match value.get_ref() {
            DeValue::String(content) => content.trim(),
            _ => raw,
        };
        if raw.chars().chain(content.chars()).any(is_unseen) {
            return like(self.key);
        }
        let number = matches!(value.get_ref(), DeValue::Integer(_) | DeValue::Float(_)) && !raw.contains('_');
        let meant = match self.key.form {
            Form::Quantity(dimension) if number && dimension != Dimension::Ratio => {
                Some(example::with_unit(raw, self.key, dimension))
            }
            Form::RollingRadius if number => Some(example::with_unit(raw, self.key, Dimension::Length)),
            // What TOML does not read as a number may be one all the same: `.5`, `5.`.
            Form::Quantity(Dimension::Ratio) if number => {
                let amount = quantity::parse(raw.trim_end_matches('.'), Dimension::Ratio);
                amount.ok().map(|amount| amount.si.to_string())
            }
            Form::Setting if number => Some(format!("\"{raw} turns\"")),
            Form::Quantities(_)
                if quantity::parse(content, self.key.dimension().unwrap_or(Dimension::Ratio)).is_ok() =>
            {
                Some(format!("[\"{content}\"]"))
            }
            Form::Count if content.parse::<u32>().is_ok() => Some(content.to_owned()),
            Form::Flag => flag_meant(content).map(str::to_owned),
            Form::Date => day_meant(content),
            Form::Text if number => Some(format!("\"{raw}\"")),
            Form::Texts if matches!(value.get_ref(), DeValue::String(_)) && content.len() < 60 => {
                Some(format!("[\"{content}\"]"))
            }
            Form::Rows { .. } if value.get_ref().is_array() && raw.len() < 60 => Some(format!("[{raw}]")),
            Form::Quantity(_) | Form::RollingRadius | Form::Word(_) | Form::Text => match value.get_ref() {
                DeValue::Array(array) if array.len() == 1 => Some(self.raw(&array[0]).to_owned()),
                _ => None,
            },
            _ => None,
        };
        let name = self.key.name();
        meant.map_or_else(|| like(self.key), |meant| format!("{name} = {meant}"))
    }

    /// A quantity, or the word `guess`.
    fn written(&mut self, value: &Node<'_>, dimension: Dimension) -> Option<Written> {
        let counts_turns = self.key.form == Form::Quantity(Dimension::Turns);
        let (content, may_guess) = match value.get_ref() {
            DeValue::String(typed)
                if counts_turns && !self.in_file && quantity::parse(typed, Dimension::Ratio).is_ok() =>
            {
                (Cow::Owned(format!("{typed} turns")), false)
            }
            DeValue::String(_) => (Cow::Borrowed(self.content(value)?), true),
            DeValue::Integer(_) | DeValue::Float(_) if dimension == Dimension::Ratio => {
                self.readable(value)?;
                (number_of(value.get_ref()), false)
            }
            // How many turns there are is a count.
            DeValue::Integer(_) | DeValue::Float(_) if counts_turns => {
                self.readable(value)?;
                (Cow::Owned(format!("{} turns", number_of(value.get_ref()))), false)
            }
            _ => return self.wrong(value),
        };
        match quantity::parse_written(&content, dimension) {
            Ok(Written::Guess) if may_guess && !may_be_guessed(self.key) => {
                let span = self.span(value);
                self.fault(
                    span,
                    Fault::NothingToGuess {
                        name: self.key.name().to_owned(),
                    },
                );
                None
            }
            Ok(written) => Some(written),
            Err(fault) => self.quantity_fault(value, &content, fault),
        }
    }

    /// A length, or a tyre's label in its place.
    fn rolling_radius(&mut self, value: &Node<'_>) -> Option<Value> {
        if let DeValue::String(content) = value.get_ref()
            && !self.is_bare(value)
            && content.contains('/')
            && !self.is_still_to_come(content)
            && quantity::parse(content, Dimension::Length).is_err()
        {
            self.readable(value)?;
            if let Some(size) = TyreSize::read(content) {
                return Some(Value::ByLabel(size.rolling_radius()));
            }
            // A fraction with something wrong behind it is told as the length that it was meant for.
            if !content.contains(['"', '\''])
                && content.trim().bytes().take(3).all(|byte| byte.is_ascii_digit())
            {
                let (span, found) = (self.span(value), content.to_string());
                self.fault(span, Fault::NotATyre { found });
                return None;
            }
        }
        match self.written(value, Dimension::Length)? {
            Written::Amount(amount) => Some(Value::Amount(amount)),
            Written::Guess => Some(Value::Guess),
        }
    }

    /// A quantity in a list, where no guess may stand.
    fn amount(&mut self, value: &Node<'_>, dimension: Dimension) -> Option<Amount> {
        let content = match value.get_ref() {
            DeValue::String(_) => Cow::Borrowed(self.content(value)?),
            DeValue::Integer(_) | DeValue::Float(_) => {
                self.readable(value)?;
                number_of(value.get_ref())
            }
            _ => return self.wrong_member(value, dimension.with_article().to_owned()),
        };
        match quantity::parse(&content, dimension) {
            Ok(amount) => Some(amount),
            Err(fault) => self.quantity_fault(value, &content, fault),
        }
    }

    fn wrong_member<T>(&mut self, value: &Node<'_>, wanted: String) -> Option<T> {
        let scalar = !matches!(value.get_ref(), DeValue::Array(_) | DeValue::Table(_));
        if scalar {
            self.readable(value)?;
        }
        let fault = Fault::WrongType {
            name: format!("each member of `{}`", self.key.name()),
            wanted,
            found: kind(value.get_ref()),
            written: like(self.key),
        };
        let span = self.span(value);
        self.fault(span, fault);
        None
    }

    fn quantity_fault<T>(&mut self, value: &Node<'_>, content: &str, fault: quantity::Fault) -> Option<T> {
        let inner = fault.span();
        let span = if matches!(value.get_ref(), DeValue::String(_)) {
            inside(self.raw(value), self.in_file, content, inner)
        } else {
            0..self.raw(value).len()
        };
        let start = self.span(value).start;
        self.fault(start + span.start..start + span.end, Fault::Quantity(fault));
        None
    }

    fn setting(&mut self, value: &Node<'_>) -> Option<Value> {
        match value.get_ref() {
            DeValue::Integer(_) => self.count(value).map(Value::Count),
            _ => match self.written(value, Dimension::Turns)? {
                Written::Amount(amount) => Some(Value::Amount(amount)),
                Written::Guess => Some(Value::Guess),
            },
        }
    }

    /// The members of a list that is not empty; none where one of them is at fault.
    fn members<T>(
        &mut self,
        value: &Node<'_>,
        mut one: impl FnMut(&mut Self, &Node<'_>) -> Option<T>,
    ) -> Option<Vec<T>> {
        let DeValue::Array(array) = value.get_ref() else {
            return self.wrong(value);
        };
        self.sized(value, array)?;
        if array.is_empty() {
            let span = self.span(value);
            self.fault(
                span,
                Fault::EmptyList {
                    written: like(self.key),
                },
            );
            return None;
        }
        let read: Vec<Option<T>> = array.iter().map(|member| one(self, member)).collect();
        read.into_iter().collect()
    }

    fn sized(&mut self, value: &Node<'_>, array: &DeArray<'_>) -> Option<()> {
        if array.len() <= MOST_MEMBERS {
            return Some(());
        }
        let span = self.span(value);
        self.fault(
            span,
            Fault::TooMany {
                found: array.len(),
                most: MOST_MEMBERS,
            },
        );
        None
    }

    fn row(&mut self, value: &Node<'_>, columns: &'static [Dimension], needed: usize) -> Option<Vec<Amount>> {
        let DeValue::Array(array) = value.get_ref() else {
            let is_row = matches!(self.key.form, Form::Rows { .. });
            return if is_row {
                self.wrong_member(value, "a list".to_owned())
            } else {
                self.wrong(value)
            };
        };
        if !(needed..=columns.len()).contains(&array.len()) {
            let span = self.span(value);
            self.fault(
                span,
                Fault::RowLength {
                    found: array.len(),
                    needed,
                    columns,
                },
            );
            return None;
        }
        let read: Vec<Option<Amount>> = array
            .iter()
            .zip(columns)
            .map(|(member, &column)| self.amount(member, column))
            .collect();
        read.into_iter().collect()
    }

    fn count(&mut self, value: &Node<'_>) -> Option<u32> {
        let found = self.raw(value).to_owned();
        let flaw = match value.get_ref() {
            DeValue::Integer(integer) => {
                self.readable(value)?;
                let digits = integer.as_str();
                match u32::from_str_radix(digits.strip_prefix('+').unwrap_or(digits), integer.radix()) {
                    Ok(count) => return Some(count),
                    Err(_)
                        if digits.starts_with('-')
                            && digits.trim_start_matches(['-', '0', '_']).is_empty() =>
                    {
                        return Some(0);
                    }
                    Err(_) if digits.starts_with('-') => CountFlaw::Negative,
                    Err(_) => CountFlaw::TooLarge,
                }
            }
            DeValue::Float(_) => {
                self.readable(value)?;
                CountFlaw::Fractional
            }
            _ => return self.wrong(value),
        };
        let span = self.span(value);
        self.fault(span, Fault::NotACount { found, flaw });
        None
    }

    fn word(&mut self, value: &Node<'_>, words: &'static [&'static str]) -> Option<Value> {
        let content = self.content(value)?;
        if let Some(word) = words.iter().find(|word| **word == content) {
            return Some(Value::Word(word));
        }
        let (found, near) = (content.to_owned(), nearest_one(content, words.iter().copied()));
        let span = self.span(value);
        self.fault(span, Fault::UnknownWord { found, words, near });
        None
    }

    fn text_of<'v>(&mut self, value: &'v Node<'_>) -> Option<&'v str> {
        let content = self.content(value)?;
        let most = if self.key.name() == "name" {
            LONGEST_NAME
        } else {
            LONGEST_TEXT
        };
        let found = content.chars().count();
        let fault = if let Some((at, character)) = content.char_indices().find(|&(_, c)| is_unseen(c)) {
            let inner = inside(
                self.raw(value),
                self.in_file,
                content,
                at..at + character.len_utf8(),
            );
            let start = self.span(value).start;
            self.fault(
                start + inner.start..start + inner.end,
                Fault::UnseenCharacter { character },
            );
            return None;
        } else if found > most {
            Fault::LongText { found, most }
        } else if content.trim().is_empty() {
            Fault::EmptyText
        } else {
            return Some(content);
        };
        let span = self.span(value);
        self.fault(span, fault);
        None
    }

    fn texts(&mut self, value: &Node<'_>) -> Option<Value> {
        let DeValue::Array(array) = value.get_ref() else {
            return self.wrong(value);
        };
        self.sized(value, array)?;
        let read: Vec<Option<&str>> = array.iter().map(|member| self.text_of(member)).collect();
        let texts: Option<Vec<&str>> = read.into_iter().collect();
        Some(Value::Texts(texts?.into_iter().map(Into::into).collect()))
    }

    fn date(&mut self, value: &Node<'_>) -> Option<Value> {
        let DeValue::Datetime(moment) = value.get_ref() else {
            return self.wrong(value);
        };
        self.readable(value)?;
        let day = moment.date.and_then(|date| {
            let (year, month, day) = (
                i16::try_from(date.year).ok()?,
                i8::try_from(date.month).ok()?,
                i8::try_from(date.day).ok()?,
            );
            Date::new(year, month, day).ok()
        });
        if let (Some(day), None, None) = (day, moment.time, moment.offset) {
            return Some(Value::Date(day));
        }
        let found = self.raw(value).to_owned();
        let span = self.span(value);
        self.fault(
            span,
            Fault::NotADay {
                found,
                day: day.map(|day| day.to_string()),
            },
        );
        None
    }
}

pub(crate) fn kind(value: &DeValue<'_>) -> Kind {
    match value {
        DeValue::String(_) => Kind::Text,
        DeValue::Integer(_) | DeValue::Float(_) => Kind::Number,
        DeValue::Boolean(_) => Kind::Flag,
        DeValue::Datetime(_) => Kind::Date,
        DeValue::Array(_) => Kind::List,
        DeValue::Table(_) => Kind::Table,
    }
}

/// A bare number as the reader of quantities takes it.
fn number_of<'v>(value: &'v DeValue<'_>) -> Cow<'v, str> {
    let (digits, radix) = match value {
        DeValue::Integer(integer) => (integer.as_str(), integer.radix()),
        DeValue::Float(float) => (float.as_str(), 10),
        _ => ("", 10),
    };
    let digits = digits.strip_prefix('+').unwrap_or(digits);
    if radix == 10 {
        return Cow::Borrowed(digits);
    }
    u64::from_str_radix(digits, radix).map_or(Cow::Borrowed(digits), |number| Cow::Owned(number.to_string()))
}

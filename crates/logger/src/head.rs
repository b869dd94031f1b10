//! The head of a log: which line names the columns, what each is of and in which unit.

use sheet::{ColumnMap, MappedColumn};

use crate::channel::{Channel, RollingRadius, Scale};
use crate::fault::Fault;

/// Lines in which the names of the columns are looked for; what stands above them is the logger's own.
const LINES_LOOKED_AT: usize = 200;

/// How the head is to be read.
#[derive(Clone, Debug)]
pub(crate) struct Head {
    pub(crate) delimiter: u8,
    pub(crate) decimal_comma: bool,
    /// Line from 0 at which figures begin.
    pub(crate) first_row: usize,
    pub(crate) time: TimeColumn,
    pub(crate) columns: Vec<Column>,
    /// Heads that were passed over, with why.
    pub(crate) passed_over: Vec<(String, &'static str)>,
}

#[derive(Clone, Copy, Debug)]
pub(crate) struct TimeColumn {
    pub(crate) number: usize,
    /// Seconds in one.
    pub(crate) times: f64,
}

#[derive(Clone, Copy, Debug)]
pub(crate) struct Column {
    pub(crate) number: usize,
    pub(crate) channel: Channel,
    pub(crate) scale: Scale,
}

/// A head's words and its unit: `rear pressure [bar]`, `P_BRK_R (kPa)`.
fn split(head: &str) -> (Vec<String>, Option<String>) {
    let head = head.trim().trim_matches('"').trim();
    let (name, unit) = match (head.find(['[', '(']), head.rfind([']', ')'])) {
        (Some(open), Some(close)) if close > open => {
            (&head[..open], Some(head[open + 1..close].trim().to_owned()))
        }
        _ => (head, None),
    };
    let words = name
        .to_lowercase()
        .split(|letter: char| !letter.is_alphanumeric())
        .filter(|word| !word.is_empty())
        .map(str::to_owned)
        .collect();
    (words, unit.filter(|unit| !unit.is_empty()))
}

fn is_time(words: &[String]) -> bool {
    matches!(words, [one] if matches!(one.as_str(), "time" | "t" | "timestamp" | "elapsed"))
        || matches!(words, [one, other] if (one == "elapsed" || one == "log" || one == "session") && other == "time")
}

/// Seconds in a unit of time.
fn seconds(unit: &str) -> Option<f64> {
    match unit.trim() {
        "us" | "µs" => Some(1e-6),
        other => quantity::find_unit(other, quantity::Dimension::Duration)
            .ok()
            .map(|unit| unit.difference_to_si(1.0)),
    }
}

/// The delimiter that cuts the most lines of a sample into the same number of fields.
fn delimiter(sample: &[String]) -> u8 {
    let lines: Vec<&String> = sample
        .iter()
        .filter(|line| !line.trim().is_empty())
        .take(300)
        .collect();
    let of = |delimiter: char| {
        let mut counts: Vec<usize> = lines
            .iter()
            .map(|line| line.matches(delimiter).count())
            .filter(|count| *count > 0)
            .collect();
        counts.sort_unstable();
        let mut best = (0, 0);
        for group in counts.chunk_by(|one, other| one == other) {
            best = best.max((group.len(), group.first().copied().unwrap_or(0)));
        }
        best
    };
    // At a tie the one that stands first here: a comma may be decimal where another delimiter is there too.
    let mut best = (b',', (0, 0));
    for (byte, letter) in [(b'\t', '\t'), (b';', ';'), (b'|', '|'), (b',', ',')] {
        let found = of(letter);
        if found.0 > best.1.0 {
            best = (byte, found);
        }
    }
    best.0
}

pub(crate) fn fields(line: &str, delimiter: u8) -> Vec<String> {
    let mut fields = vec![String::new()];
    let mut quoted = false;
    for letter in line.chars() {
        match letter {
            '"' => quoted = !quoted,
            _ if letter == char::from(delimiter) && !quoted => fields.push(String::new()),
            _ => {
                if let Some(last) = fields.last_mut() {
                    last.push(letter);
                }
            }
        }
    }
    fields
}

/// What the map says of a head, its words, and its unit.
fn known<'m>(map: &'m ColumnMap, field: &str) -> (Option<&'m MappedColumn>, Vec<String>, Option<String>) {
    let mapped = map
        .columns
        .iter()
        .find(|column| column.head.trim() == field.trim());
    let (words, unit) = split(field);
    match mapped {
        Some(column) => (Some(column), words, column.unit.clone().or(unit)),
        None => (None, words, unit),
    }
}

fn names_time(map: &ColumnMap, field: &str) -> bool {
    let (mapped, words, _) = known(map, field);
    mapped.map_or_else(|| is_time(&words), |column| column.is.trim() == "time")
}

/// The line that names the columns: the first of several fields of which one is the time.
fn names_columns(lines: &[&str], delimiter: u8, map: &ColumnMap) -> Option<usize> {
    lines.iter().position(|line| {
        let fields = fields(line, delimiter);
        fields.len() >= 2 && fields.iter().any(|field| names_time(map, field))
    })
}

/// Where no line names the time: the first line without figures that has as many fields as most lines have.
fn likely_heads(lines: &[&str], delimiter: u8) -> Option<usize> {
    let counts: Vec<usize> = lines.iter().map(|line| fields(line, delimiter).len()).collect();
    let usual = (2..=counts.iter().copied().max()?)
        .max_by_key(|wide| (counts.iter().filter(|count| *count == wide).count(), *wide))?;
    let is_figure = |field: &String| field.trim().replace(',', ".").parse::<f64>().is_ok();
    let without_figures = |at: &usize| !fields(lines[*at], delimiter).iter().any(is_figure);
    let mut wide = (0..lines.len()).filter(|at| counts[*at] == usual);
    wide.clone().find(without_figures).or_else(|| wide.next())
}

/// What a column of a file is taken for.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct NamedColumn {
    /// Its head, as the file has it.
    pub head: String,
    /// What it is of; `None` where that is not known.
    pub is: Option<Is>,
    /// Its unit, where the head or the map says it.
    pub unit: Option<String>,
}

/// What a map says that a column is of.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Is {
    /// When a row was written.
    Time,
    /// What a sensor showed.
    Of(Channel),
    /// To be passed over.
    Nothing,
}

impl Is {
    /// As a map writes it.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Time => "time",
            Self::Of(channel) => channel.name(),
            Self::Nothing => "nothing",
        }
    }

    /// What a map's word means.
    #[must_use]
    pub fn named(name: &str) -> Option<Self> {
        match name.trim() {
            "time" => Some(Self::Time),
            "nothing" => Some(Self::Nothing),
            other => Channel::named(other).map(Self::Of),
        }
    }

    /// Whether a column of that kind can be in that unit. Wheels may turn as well as roll.
    #[must_use]
    pub fn takes(self, unit: &str) -> bool {
        match self {
            Self::Time => seconds(unit).is_some(),
            Self::Of(channel) => Scale::new(channel, unit, Some([1.0; 2])).is_some(),
            Self::Nothing => true,
        }
    }
}

/// What the columns are taken for, by their heads and the map.
pub(crate) fn named(sample: &[String], map: &ColumnMap) -> Vec<NamedColumn> {
    let delimiter = map.delimiter.unwrap_or_else(|| delimiter(sample));
    let lines: Vec<&str> = sample.iter().map(String::as_str).take(LINES_LOOKED_AT).collect();
    let Some(at) = names_columns(&lines, delimiter, map).or_else(|| likely_heads(&lines, delimiter)) else {
        return Vec::new();
    };
    let heads = fields(lines[at], delimiter);
    let below = units_below(&lines, at, delimiter);
    let heads = heads.iter().enumerate();
    heads
        .filter(|(_, head)| !head.trim().is_empty())
        .map(|(number, head)| {
            let (mapped, words, unit) = known(map, head);
            let is = match mapped {
                Some(column) => Is::named(&column.is),
                None if is_time(&words) => Some(Is::Time),
                None => Channel::of_words(&words).map(Is::Of),
            };
            NamedColumn {
                head: head.trim().to_owned(),
                is,
                unit: unit.or_else(|| unit_at(below.as_deref(), number)),
            }
        })
        .collect()
}

/// A line of units below the names, as some loggers write it: words, no figures.
fn units_below(lines: &[&str], at: usize, delimiter: u8) -> Option<Vec<String>> {
    let below = fields(lines.get(at + 1)?, delimiter);
    let are_words = below.iter().all(|field| {
        !field
            .trim()
            .starts_with(|letter: char| letter.is_ascii_digit() || letter == '-' || letter == '+')
    });
    (are_words && below.iter().any(|field| !field.trim().is_empty())).then_some(below)
}

fn unit_at(below: Option<&[String]>, number: usize) -> Option<String> {
    let unit = below?.get(number)?.trim().trim_matches(['[', ']', '(', ')']);
    (!unit.is_empty()).then(|| unit.to_owned())
}

/// Reads a head off the first bytes of a file.
pub(crate) fn head(sample: &[String], map: &ColumnMap, radius: Option<RollingRadius>) -> Result<Head, Fault> {
    let delimiter = map.delimiter.unwrap_or_else(|| delimiter(sample));
    let lines: Vec<&str> = sample.iter().map(String::as_str).take(LINES_LOOKED_AT).collect();
    let Some(at) = names_columns(&lines, delimiter, map) else {
        let likely = likely_heads(&lines, delimiter).map(|at| fields(lines[at], delimiter));
        return Err(Fault::NoTime {
            heads: likely
                .unwrap_or_default()
                .iter()
                .map(|head| clipped(head))
                .take(12)
                .collect(),
        });
    };
    let heads = fields(lines[at], delimiter);
    let below = units_below(&lines, at, delimiter);
    let mut time = None;
    let mut columns: Vec<Column> = Vec::new();
    let mut passed_over = Vec::new();
    for (number, head) in heads.iter().enumerate() {
        let (mapped, words, unit) = known(map, head);
        let unit = unit.or_else(|| unit_at(below.as_deref(), number));
        if names_time(map, head) {
            if time.is_none() {
                let times = unit
                    .as_deref()
                    .map_or(Some(1.0), seconds)
                    .ok_or_else(|| Fault::Unit {
                        head: clipped(head),
                        unit: clipped(unit.as_deref().unwrap_or("")),
                        wanted: "a unit of time, such as s or ms",
                    })?;
                time = Some(TimeColumn { number, times });
            }
            continue;
        }
        let channel = match mapped {
            Some(column) if column.is.trim() == "nothing" => None,
            Some(column) => Some(Channel::named(&column.is).ok_or_else(|| Fault::NoChannel {
                head: clipped(head),
                said: clipped(&column.is),
            })?),
            None => Channel::of_words(&words),
        };
        let Some(channel) = channel else {
            if !head.trim().is_empty() {
                passed_over.push((clipped(head), "not one of the columns that are looked for"));
            }
            continue;
        };
        if columns.iter().any(|column| column.channel == channel) {
            passed_over.push((clipped(head), "a column before it is of the same"));
            continue;
        }
        let Some(unit) = unit else {
            passed_over.push((clipped(head), "its unit is not said"));
            continue;
        };
        let Some(mut scale) = Scale::new(channel, &unit, radius) else {
            return Err(Fault::Unit {
                head: clipped(head),
                unit: clipped(&unit),
                wanted: channel.name(),
            });
        };
        if let Some(column) = mapped {
            scale.plus += column.plus * scale.times;
            scale.times *= column.times;
        }
        columns.push(Column {
            number,
            channel,
            scale,
        });
    }
    let Some(time) = time else {
        return Err(Fault::NoTime { heads: Vec::new() });
    };
    if columns.is_empty() {
        return Err(Fault::NoColumns {
            heads: heads.iter().map(|head| clipped(head)).take(12).collect(),
        });
    }
    let first_row = at + 1 + usize::from(below.is_some());
    let decimal_comma = map.decimal_comma.unwrap_or_else(|| {
        delimiter != b','
            && lines.iter().skip(first_row).any(|line| line.contains(','))
            && !lines.iter().skip(first_row).any(|line| line.contains('.'))
    });
    Ok(Head {
        delimiter,
        decimal_comma,
        first_row,
        time,
        columns,
        passed_over,
    })
}

/// A head as a message shows it.
fn clipped(text: &str) -> String {
    let text: String = text
        .trim()
        .chars()
        .filter(|letter| !letter.is_control())
        .collect();
    if text.chars().count() > 40 {
        text.chars().take(39).chain(['…']).collect()
    } else {
        text
    }
}

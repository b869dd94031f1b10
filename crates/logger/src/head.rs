//! The head of a log: which line names the columns, what each is of and in which unit.

use sheet::ColumnMap;

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

/// Reads a head off the first bytes of a file.
pub(crate) fn head(sample: &[String], map: &ColumnMap, radius: Option<RollingRadius>) -> Result<Head, Fault> {
    let delimiter = map.delimiter.unwrap_or_else(|| delimiter(sample));
    let lines: Vec<&str> = sample.iter().map(String::as_str).take(LINES_LOOKED_AT).collect();
    let known = |field: &str| {
        let mapped = map
            .columns
            .iter()
            .find(|column| column.head.trim() == field.trim());
        let (words, unit) = split(field);
        match mapped {
            Some(column) => (Some(column), words, column.unit.clone().or(unit)),
            None => (None, words, unit),
        }
    };
    let names_time = |field: &str| {
        let (mapped, words, _) = known(field);
        mapped.map_or_else(|| is_time(&words), |column| column.is.trim() == "time")
    };
    let found = lines.iter().position(|line| {
        let fields = fields(line, delimiter);
        fields.len() >= 2 && fields.iter().any(|field| names_time(field))
    });
    let Some(at) = found else {
        let first: Vec<String> = lines
            .iter()
            .map(|line| fields(line, delimiter))
            .find(|fields| fields.len() >= 2)
            .unwrap_or_default();
        return Err(Fault::NoTime {
            heads: first.into_iter().map(|head| clipped(&head)).take(12).collect(),
        });
    };
    let heads = fields(lines[at], delimiter);
    // A line of units below the names, as some loggers write it: words, no figures.
    let below: Vec<String> = lines
        .get(at + 1)
        .map(|line| fields(line, delimiter))
        .unwrap_or_default();
    let are_units = !below.is_empty()
        && below.iter().all(|field| {
            !field
                .trim()
                .starts_with(|letter: char| letter.is_ascii_digit() || letter == '-' || letter == '+')
        })
        && below.iter().any(|field| !field.trim().is_empty());
    let unit_below = |number: usize| {
        below
            .get(number)
            .filter(|_| are_units)
            .map(|unit| unit.trim().trim_matches(['[', ']', '(', ')']).to_owned())
            .filter(|unit| !unit.is_empty())
    };
    let mut time = None;
    let mut columns: Vec<Column> = Vec::new();
    let mut passed_over = Vec::new();
    for (number, head) in heads.iter().enumerate() {
        let (mapped, words, unit) = known(head);
        let unit = unit.or_else(|| unit_below(number));
        if names_time(head) {
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
        let Some(mut scale) = Scale::of(channel, &unit, radius) else {
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
    let first_row = at + 1 + usize::from(are_units);
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

//! From bytes to columns.

use core::ops::Range;
use std::io::{self, Read};

use csv::{ByteRecord, ReaderBuilder, Terminator, Trim};
use sheet::ColumnMap;

use crate::channel::{Channel, RollingRadius};
use crate::clean;
use crate::fault::{Fault, MAX_BYTES, MAX_LINE, MAX_ROWS};
use crate::head::{self, Head, NamedColumn, head};
use crate::log::{Log, Mended};

/// Bytes in which the head is looked for.
const SAMPLE: usize = 1 << 16;
/// Rows between two reports of progress.
const ROWS_A_REPORT: usize = 1 << 14;
/// A time that falls back by more than this is the logger's clock set anew (s).
const RESTART_S: f64 = 1.0;

/// How far reading has come.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Progress {
    /// Bytes so far.
    pub bytes: u64,
    /// Rows so far.
    pub rows: usize,
}

/// Refuses files that are too large and lines that do not end, before anything holds them.
struct Guard<R> {
    inner: R,
    bytes: u64,
    line: usize,
    /// The text begins as one of two bytes a letter does.
    is_utf16: bool,
    refused: Option<Refused>,
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum Refused {
    TooLarge,
    LongLine,
    Binary,
}

impl<R: Read> Read for Guard<R> {
    fn read(&mut self, into: &mut [u8]) -> io::Result<usize> {
        let count = self.inner.read(into)?;
        let new = &into[..count];
        if self.bytes == 0 {
            self.is_utf16 = new.starts_with(&[0xFF, 0xFE]) || new.starts_with(&[0xFE, 0xFF]);
        }
        self.bytes += count as u64;
        if self.bytes > MAX_BYTES {
            self.refused = Some(Refused::TooLarge);
        }
        if new.contains(&0) {
            self.refused = Some(Refused::Binary);
        }
        let mut since = 0;
        for piece in new.split_inclusive(|byte| *byte == b'\n' || *byte == b'\r') {
            let length = piece.len() + if since == 0 { self.line } else { 0 };
            if length > MAX_LINE {
                self.refused = Some(Refused::LongLine);
            }
            since += piece.len();
            self.line = if piece.ends_with(b"\n") || piece.ends_with(b"\r") {
                0
            } else {
                length
            };
        }
        match self.refused {
            Some(_) => Err(io::Error::other("refused")),
            None => Ok(count),
        }
    }
}

/// What the columns of a file are taken for, by its first bytes and a map; nothing of what is no table of text. A person
/// may know better: what they say belongs into the map.
#[must_use]
pub fn named_columns(sample: &[u8], map: &ColumnMap) -> Vec<NamedColumn> {
    let sample = &sample[..sample.len().min(SAMPLE)];
    let text = sample.strip_prefix(&[0xEF, 0xBB, 0xBF]).unwrap_or(sample);
    if text.contains(&0) {
        return Vec::new();
    }
    let lines = lines(text).into_iter();
    head::named(&lines.map(|line| as_text(&text[line])).collect::<Vec<_>>(), map)
}

/// Reads a log. `radius` (front, rear) turns wheel speeds in rpm into speeds; `progress` is told now and then.
///
/// # Errors
/// What keeps it from being read.
pub fn read(
    from: impl Read,
    map: &ColumnMap,
    radius: Option<[quantity::si::Length; 2]>,
    progress: &mut dyn FnMut(Progress),
) -> Result<Log, Fault> {
    let radius: Option<RollingRadius> = radius.map(|radius| radius.map(|radius| radius.m()));
    let mut guard = Guard {
        inner: from,
        bytes: 0,
        line: 0,
        is_utf16: false,
        refused: None,
    };
    let mut sample = Vec::new();
    let taken = (&mut guard).take(SAMPLE as u64).read_to_end(&mut sample);
    if guard.is_utf16 {
        return Err(Fault::Utf16);
    }
    taken.map_err(|error| guard.refused.map_or(Fault::File(error), Fault::from))?;
    let begins = if sample.starts_with(&[0xEF, 0xBB, 0xBF]) {
        3
    } else {
        0
    };
    if sample[begins..].trim_ascii().is_empty() {
        return Err(Fault::Empty);
    }
    let lines = lines(&sample[begins..]);
    let texts: Vec<String> = lines
        .iter()
        .map(|line| as_text(&sample[begins..][line.clone()]))
        .collect();
    let head = head(&texts, map, radius)?;
    // What stands above the figures is not the reader's.
    let begins = begins
        + lines
            .get(head.first_row)
            .map_or(sample.len() - begins, |line| line.start);
    let reader = ReaderBuilder::new()
        .delimiter(head.delimiter)
        .has_headers(false)
        .flexible(true)
        .quoting(true)
        .trim(Trim::None)
        .terminator(Terminator::CRLF)
        .from_reader(sample[begins..].chain(&mut guard));
    let rows = rows(reader, &head, progress);
    // What the guard refused stands above what it looked like to the reader.
    let (mut log, bytes) = match (rows, guard.refused) {
        (_, Some(refused)) => return Err(refused.into()),
        (rows, None) => rows?,
    };
    let bytes = bytes + begins as u64;
    progress(Progress {
        bytes,
        rows: log.rows(),
    });
    clean::mend(&mut log);
    Ok(log)
}

impl From<Refused> for Fault {
    fn from(refused: Refused) -> Self {
        match refused {
            Refused::TooLarge => Self::TooLarge,
            Refused::LongLine => Self::LongLine,
            Refused::Binary => Self::Binary,
        }
    }
}

/// Lines of a sample without their ends, whichever of the three ends they have; the last may be cut.
fn lines(sample: &[u8]) -> Vec<Range<usize>> {
    let mut lines = Vec::new();
    let mut start = 0;
    for (at, byte) in sample.iter().enumerate() {
        match byte {
            b'\n' if at > 0 && sample[at - 1] == b'\r' => start = at + 1,
            b'\n' | b'\r' => {
                lines.push(start..at);
                start = at + 1;
            }
            _ => {}
        }
    }
    if start < sample.len() {
        lines.push(start..sample.len());
    }
    lines
}

/// UTF-8, or each byte a letter of Latin-1, as older loggers write a degree sign.
fn as_text(bytes: &[u8]) -> String {
    match core::str::from_utf8(bytes) {
        Ok(text) => text.to_owned(),
        // The sample may end within a letter.
        Err(error) if error.error_len().is_none() => {
            String::from_utf8_lossy(&bytes[..error.valid_up_to()]).into_owned()
        }
        Err(_) => bytes.iter().map(|&byte| char::from(byte)).collect(),
    }
}

fn rows<R: Read>(
    mut reader: csv::Reader<R>,
    head: &Head,
    progress: &mut dyn FnMut(Progress),
) -> Result<(Log, u64), Fault> {
    let mut time_s: Vec<f64> = Vec::new();
    let mut columns: Vec<Vec<f32>> = vec![Vec::new(); head.columns.len()];
    let mut mended = Mended::default();
    let mut record = ByteRecord::new();
    let mut shift_s = 0.0;
    let (mut first_s, mut last_s) = (None, f64::NEG_INFINITY);
    loop {
        match reader.read_byte_record(&mut record) {
            Ok(true) => {}
            Ok(false) => break,
            Err(error) => {
                return Err(match error.into_kind() {
                    csv::ErrorKind::Io(error) => Fault::File(error),
                    _ => Fault::LongLine,
                });
            }
        }
        let time = record.get(head.time.number).and_then(|field| time(field, head));
        let Some(read_s) = time else {
            mended.rows_without_time += 1;
            continue;
        };
        let mut now_s = read_s + shift_s;
        if now_s < last_s - RESTART_S {
            // The clock was set anew: what follows goes on from there, with a gap.
            shift_s += last_s - now_s + RESTART_S;
            now_s = read_s + shift_s;
            mended.clock_set_anew += 1;
        }
        if now_s <= last_s {
            if now_s < last_s {
                mended.times_backward += 1;
            } else {
                mended.times_twice += 1;
            }
            continue;
        }
        last_s = now_s;
        let first_s = *first_s.get_or_insert(now_s);
        if time_s.len() >= MAX_ROWS {
            return Err(Fault::TooManyRows);
        }
        time_s.push(now_s - first_s);
        for (values, column) in columns.iter_mut().zip(&head.columns) {
            let value = record
                .get(column.number)
                .and_then(|field| number(field, head.decimal_comma));
            #[allow(
                clippy::cast_possible_truncation,
                reason = "seven digits are more than any sensor has"
            )]
            values.push(value.map_or(f32::NAN, |value| column.scale.si(value) as f32));
        }
        if time_s.len().is_multiple_of(ROWS_A_REPORT) {
            progress(Progress {
                bytes: reader.position().byte(),
                rows: time_s.len(),
            });
        }
    }
    if time_s.len() < 2 {
        return Err(Fault::NoRows);
    }
    let mut channels = vec![None; Channel::ALL.len()];
    for (values, column) in columns.into_iter().zip(&head.columns) {
        channels[column.channel.index()] = Some(values);
    }
    let bytes = reader.position().byte();
    let log = Log {
        step_s: middle_step(&time_s),
        time_s,
        channels,
        mended,
        passed_over: head.passed_over.clone(),
    };
    Ok((log, bytes))
}

/// The middle one of some of the steps, spread over the whole.
fn middle_step(time_s: &[f64]) -> f64 {
    let every = (time_s.len() / 4000).max(1);
    let mut steps: Vec<f64> = time_s
        .windows(2)
        .step_by(every)
        .map(|pair| pair[1] - pair[0])
        .collect();
    steps.sort_by(f64::total_cmp);
    steps.get(steps.len() / 2).copied().unwrap_or(1.0).max(1e-6)
}

/// A figure of a field; blanks, words and endless numbers are none.
fn number(field: &[u8], decimal_comma: bool) -> Option<f64> {
    let field = field.trim_ascii();
    if field.is_empty() || field.len() > 40 {
        return None;
    }
    let value: f64 = if decimal_comma && field.contains(&b',') {
        let mut with_point = [0_u8; 40];
        for (into, byte) in with_point.iter_mut().zip(field) {
            *into = if *byte == b',' { b'.' } else { *byte };
        }
        core::str::from_utf8(&with_point[..field.len()])
            .ok()?
            .parse()
            .ok()?
    } else {
        core::str::from_utf8(field).ok()?.parse().ok()?
    };
    value.is_finite().then_some(value)
}

/// Seconds of a field: a figure in the column's unit, or a time of the day.
fn time(field: &[u8], head: &Head) -> Option<f64> {
    let value = if field.contains(&b':') {
        let text = core::str::from_utf8(field).ok()?.trim();
        // A date may stand before it.
        let clock = text.rsplit([' ', 'T']).next()?;
        let mut all = 0.0;
        for part in clock.trim_end_matches('Z').split(':') {
            all = all * 60.0 + number(part.as_bytes(), true)?;
        }
        all
    } else {
        number(field, head.decimal_comma)? * head.time.times
    };
    (value.abs() < 1e12).then_some(value)
}

//! A speed over time, a row a moment.

use std::sync::Arc;

use engine::heat::{Stage, StagePart, TracePoint};
use quantity::si::{Duration, Speed};
use quantity::{Amount, Dimension, Spread};

use super::{FASTEST_M_S, LONGEST_STAGE, MOST_ROWS, Reader, STEEPEST};
use crate::fault::Fault;

impl Reader<'_> {
    /// A speed over time: a head of `time [s], speed [km/h]` and, if known, `slope [%]`; a row a moment.
    pub(super) fn trace(&mut self, called: &str) -> Option<Stage> {
        let mut lines = lines(self.text)
            .filter(|line| !line.1.trim().is_empty() && !line.1.trim_start().starts_with('#'));
        let Some((start, head)) = lines.next() else {
            self.fault(0..0, None, Fault::Empty);
            return None;
        };
        let separator = [';', '\t', ',']
            .into_iter()
            .find(|&sign| head.contains(sign))
            .unwrap_or(',');
        let columns = self.columns(start, head, separator)?;
        let mut points: Vec<TracePoint> = Vec::new();
        let mut first_s = None;
        for (number, (start, line)) in lines.enumerate() {
            if number >= MOST_ROWS {
                let fault = format!("the trace has more than {MOST_ROWS} rows");
                self.refuse(
                    start..start + line.len(),
                    "too-many",
                    fault,
                    "ten rows a second are plenty",
                );
                return None;
            }
            let point = self.row(start, line, separator, &columns)?;
            let since_s = point.time.s() - *first_s.get_or_insert(point.time.s());
            if points.last().is_some_and(|last| since_s <= last.time.s()) {
                self.refuse(
                    start..start + line.len(),
                    "trace-time",
                    "the time does not rise here",
                    "sort the rows by time, and keep one row a moment",
                );
                return None;
            }
            points.push(TracePoint {
                time: Duration::from_s(since_s),
                ..point
            });
        }
        let lasts = points.last().map_or(Duration::ZERO, |last| last.time);
        if points.len() < 2 || lasts > LONGEST_STAGE {
            self.refuse(
                start..start + head.len(),
                "stage-too-long",
                "a trace has at least two rows, and lasts no more than six hours",
                "look at the column of time and its unit",
            );
            return None;
        }
        Some(Stage {
            name: Arc::from(called),
            about: Arc::from("a speed trace"),
            parts: vec![StagePart::Trace(points)],
        })
    }

    fn columns(&mut self, start: usize, head: &str, separator: char) -> Option<Columns> {
        let mut columns = Columns::default();
        let mut fine = true;
        for (place, (at, cell)) in cells(start, head, separator).enumerate() {
            let name = cell.trim().to_lowercase();
            let (name, unit) = match name.split_once('[') {
                Some((name, unit)) => (
                    name.trim().to_owned(),
                    unit.trim_end_matches(']').trim().to_owned(),
                ),
                None => (name, String::new()),
            };
            let (slot, dimension) = match name.as_str() {
                "time" => (&mut columns.time, Dimension::Duration),
                "speed" => (&mut columns.speed, Dimension::Speed),
                "slope" => (&mut columns.slope, Dimension::Slope),
                _ => continue,
            };
            // A unit is known where one of it reads.
            if quantity::parse(&format!("1 {unit}"), dimension).is_err() {
                fine = false;
                self.refuse(
                    at..at + cell.len(),
                    "trace-unit",
                    format!(
                        "the head of `{name}` names no unit of {}",
                        dimension.with_article()
                    ),
                    "write time [s], speed [km/h], slope [%]",
                );
            }
            *slot = Some((place, unit));
        }
        for (slot, name) in [(&columns.time, "time [s]"), (&columns.speed, "speed [km/h]")] {
            if slot.is_none() {
                fine = false;
                self.refuse(
                    start..start + head.len(),
                    "trace-head",
                    format!("no column is headed {name}"),
                    "the first row names the columns: time [s], speed [km/h], slope [%]",
                );
            }
        }
        fine.then_some(columns)
    }

    fn row(&mut self, start: usize, line: &str, separator: char, columns: &Columns) -> Option<TracePoint> {
        let all: Vec<(usize, &str)> = cells(start, line, separator).collect();
        let mut read = |column: &Option<(usize, String)>,
                        dimension: Dimension,
                        most: (f64, f64)|
         -> Option<Option<f64>> {
            let Some((place, unit)) = column else {
                return Some(None);
            };
            let Some(&(at, cell)) = all.get(*place) else {
                self.refuse(
                    start..start + line.len(),
                    "row-length",
                    "the row is shorter than its head",
                    "give every row every column",
                );
                return None;
            };
            let span = at..at + cell.len();
            // Where no comma parts the cells, it is a decimal comma.
            let number = if separator == ',' {
                cell.trim().to_owned()
            } else {
                cell.trim().replace(',', ".")
            };
            match quantity::parse(&format!("{number} {unit}"), dimension) {
                Ok(Amount {
                    si,
                    spread: Spread::Exact,
                    ..
                }) if (most.0..=most.1).contains(&si) => Some(Some(si)),
                Ok(_) => {
                    self.refuse(
                        span,
                        "out-of-range",
                        format!("`{}` is far outside what is driven", cell.trim()),
                        "look at number and unit",
                    );
                    None
                }
                Err(fault) => {
                    self.fault(span, None, Fault::Quantity(fault));
                    None
                }
            }
        };
        let time = read(&columns.time, Dimension::Duration, (-1e9, 1e9));
        let speed = read(&columns.speed, Dimension::Speed, (0.0, FASTEST_M_S));
        let slope = read(&columns.slope, Dimension::Slope, (-STEEPEST, STEEPEST));
        Some(TracePoint {
            time: Duration::from_s(time??),
            speed: Speed::from_m_s(speed??),
            slope: slope?.unwrap_or(0.0),
        })
    }
}

/// Where the columns of a trace stand, and their units.
#[derive(Default)]
struct Columns {
    time: Option<(usize, String)>,
    speed: Option<(usize, String)>,
    slope: Option<(usize, String)>,
}

/// Lines with the place where each begins.
fn lines(text: &str) -> impl Iterator<Item = (usize, &str)> {
    let mark = usize::from(text.starts_with('\u{feff}')) * '\u{feff}'.len_utf8();
    let mut at = mark;
    text[mark..].split_inclusive('\n').map(move |line| {
        let start = at;
        at += line.len();
        (start, line.trim_end_matches(['\n', '\r']))
    })
}

/// Cells of a line with the place where each begins.
fn cells(start: usize, line: &str, separator: char) -> impl Iterator<Item = (usize, &str)> {
    let mut at = start;
    line.split(separator).map(move |cell| {
        let start = at;
        at += cell.len() + separator.len_utf8();
        (start, cell)
    })
}

//! The book's data as the typesetter's values. A text becomes a string value, which the template prints as it is.

use charts::Width;
use questions::measuring::{InText, in_words, pieces};
use questions::report::{Detail, Figure, Frame, Headline, Stroke, Table, Tick, WorkingLine};
use typst::foundations::{Array, Bytes, Dict, Value};

use super::mathematics;
use super::plain::{code, dict, in_a_column, list, text, unset};
use crate::document::{Begins, Card, Document, Paper, Part, Piece};

/// Names of no more letters take the room that they need.
const SHORT_NAME: usize = 8;
/// Names of no more letters leave room for what is said of them.
const USUAL_NAME: usize = 26;
/// A list of more than so many items stands in two columns, where each is as short as this.
const MANY: usize = 20;
/// See [`MANY`].
const SHORT_ITEM: usize = 90;

/// What has no more rows, and no more letters in all, does not end on a further page.
const FEW: (usize, usize) = (9, 900);

fn is_few<'t>(rows: usize, texts: impl Iterator<Item = &'t str>) -> Value {
    let letters: usize = texts.map(str::len).sum();
    Value::Bool(rows <= FEW.0 && letters <= FEW.1)
}

/// A text in which names of keys stand between back quotes: on paper nothing is typed, so that a key is said in words.
fn spans(said: &str) -> Value {
    let mut spans = Array::new();
    for piece in pieces(said) {
        match piece {
            InText::Words(words) => spans.push(text(words)),
            InText::Key(path) => {
                let words = in_words(path);
                spans.push(words.map_or_else(|| code(path), |words| dict([("word", text(&words))])));
            }
            // Its words stand before it.
            InText::Behind(path) if in_words(path).is_some() => {}
            InText::Behind(path) => spans.extend([text(" ("), code(path), text(")")]),
        }
    }
    Value::Array(spans)
}

/// Somebody's own words: a back quote in them is one.
fn plain(said: &str) -> Value {
    list([text(said)])
}

fn maybe(said: Option<&str>) -> Value {
    said.filter(|said| !said.is_empty()).map_or(Value::None, spans)
}

/// Everything that the template prints.
pub(crate) fn of(document: &Document, pictures_flow: usize) -> Dict {
    let day = [
        document.day.year(),
        document.day.month().into(),
        document.day.day().into(),
    ];
    let paper = match document.paper {
        Paper::A4 => "a4",
        Paper::Letter => "us-letter",
    };
    let book = dict([
        ("title", unset(&document.title)),
        ("description", unset(&document.description)),
        ("keywords", list(document.keywords.iter().map(|word| unset(word)))),
        ("running", text(&document.running)),
        ("day", list(day.map(|part| Value::Int(part.into())))),
        ("paper", text(paper)),
        ("parts", list(document.parts.iter().map(part))),
    ]);
    let mut inputs = Dict::new();
    inputs.insert("book".into(), book);
    let pictures_flow = i64::try_from(pictures_flow).unwrap_or(i64::MAX);
    inputs.insert("pictures-flow".into(), Value::Int(pictures_flow));
    inputs
}

fn part(part: &Part) -> Value {
    dict([
        ("title", plain(&part.title)),
        ("on-its-own", Value::Bool(part.begins == Begins::OnItsOwn)),
        ("pieces", list(part.pieces.iter().map(piece))),
    ])
}

fn piece(piece: &Piece) -> Value {
    let of_kind = |kind: &str, key: &str, value: Value| dict([("kind", text(kind)), (key, value)]);
    match piece {
        Piece::Heading { level, title, stroke } => dict([
            ("kind", text("heading")),
            ("level", Value::Int(i64::from(*level))),
            ("title", spans(title)),
            ("stroke", self::stroke(*stroke)),
        ]),
        Piece::Headline(headline) => self::headline(headline),
        Piece::Finding(finding) => dict([
            ("kind", text("finding")),
            ("weight", text(finding.weight.word())),
            ("title", spans(&finding.title)),
            ("because", spans(&finding.because)),
            ("remedy", maybe(Some(&finding.remedy))),
            ("caution", maybe(finding.caution)),
        ]),
        Piece::Details(facts) => dict([
            ("kind", text("facts")),
            ("facts", list(facts.iter().map(fact))),
            (
                "whole",
                is_few(
                    facts.len(),
                    facts
                        .iter()
                        .flat_map(|fact| [fact.name.as_str(), fact.text.as_str()]),
                ),
            ),
            ("names", text(width_of_names(facts))),
        ]),
        Piece::Keys(keys) => dict([
            ("kind", text("facts")),
            ("facts", list(keys.iter().map(key))),
            (
                "whole",
                is_few(keys.len(), keys.iter().map(|(_, said)| said.as_str())),
            ),
            ("names", text("long")),
        ]),
        Piece::Text(said) => of_kind("text", "text", spans(said)),
        Piece::Aside(said) => of_kind("aside", "text", spans(said)),
        Piece::Large(said) => of_kind("large", "text", spans(said)),
        Piece::List(items) => dict([
            ("kind", text("list")),
            ("items", list(items.iter().map(|item| spans(item)))),
            (
                "narrow",
                Value::Bool(items.len() > MANY && items.iter().all(|item| item.chars().count() < SHORT_ITEM)),
            ),
        ]),
        Piece::Table { table, blanks } => self::table(table, blanks),
        Piece::Ticks(ticks) => of_kind("ticks", "ticks", list(ticks.iter().map(tick))),
        Piece::Caution(said) => of_kind("caution", "text", spans(said)),
        Piece::Picture { svg, said } => dict([
            ("kind", text("picture")),
            ("svg", Value::Bytes(Bytes::new(svg.clone().into_bytes()))),
            ("aspect", Value::Float(aspect(svg))),
            ("said", text(said)),
        ]),
        Piece::Steps(steps) => of_kind("steps", "steps", list(steps.iter().map(step))),
        Piece::Line(said) => of_kind("line", "text", spans(said)),
        Piece::Card(card) => self::card(card),
        Piece::Contents => dict([("kind", text("contents"))]),
    }
}

fn card(card: &Card) -> Value {
    let columns = card.columns.iter();
    dict([
        ("kind", text("card")),
        ("title", plain(&card.title)),
        ("print", spans(&card.print)),
        (
            "columns",
            list(columns.map(|pieces| list(pieces.iter().map(piece)))),
        ),
        ("foot", list(card.foot.iter().map(|said| spans(said)))),
    ])
}

fn headline(of: &Headline) -> Value {
    let frame = match of.frame {
        Frame::Solid => "solid",
        Frame::Heavy => "heavy",
        Frame::Broken => "broken",
    };
    dict([
        ("kind", text("headline")),
        ("stamp", spans(&of.stamp)),
        ("frame", text(frame)),
        ("because", spans(&of.because)),
        ("though", list(of.though.iter().map(|said| spans(said)))),
        ("stops", list(of.stops_first.iter().map(|said| spans(said)))),
        ("first", maybe(of.first.as_deref())),
        ("figures", list(of.figures.iter().map(figure))),
    ])
}

fn figure(of: &Figure) -> Value {
    let measured = &of.measured;
    let range = measured.range.as_ref();
    let bar = range.map(|range| {
        let limit = of.limit.as_ref();
        dict([
            ("low", Value::Float(range.low.number)),
            ("value", Value::Float(measured.value.number)),
            ("high", Value::Float(range.high.number)),
            (
                "limit",
                limit.map_or(Value::None, |limit| Value::Float(limit.shown.number)),
            ),
        ])
    });
    let limit = of
        .limit
        .as_ref()
        .map(|limit| format!("{} {}", limit.name, limit.shown.text));
    dict([
        ("name", spans(of.name)),
        ("value", spans(&measured.value.text)),
        ("range", maybe(range.map(|range| range.text.as_str()))),
        ("bar", bar.unwrap_or(Value::None)),
        ("limit", maybe(limit.as_deref())),
    ])
}

/// How wide the column of names is, as the template names it.
fn width_of_names(facts: &[Detail]) -> &'static str {
    match facts.iter().map(|fact| fact.name.chars().count()).max() {
        Some(..=SHORT_NAME) => "short",
        Some(..=USUAL_NAME) => "usual",
        _ => "long",
    }
}

fn fact(of: &Detail) -> Value {
    // A box that leads a name stands in one column with those above and below it. What is typed for it stands behind in
    // brackets, and on paper nothing is typed.
    let name = match of.name.split_at_checked(3) {
        Some((sign, rest)) if sign.starts_with('[') && sign.ends_with(']') => {
            let said = match rest.rsplit_once(" (") {
                Some((said, typed)) if typed.ends_with(')') => said,
                _ => rest,
            };
            list([code(sign), text(said)])
        }
        _ => spans(&of.name),
    };
    dict([("name", name), ("text", spans(&of.text))])
}

/// What a key is called, with the key itself: who opens the sheet looks for that.
fn key((key, said): &(String, String)) -> Value {
    let name = match in_words(key) {
        Some(words) => list([text(&format!("{words} ")), code(key)]),
        None => list([code(key)]),
    };
    dict([("name", name), ("text", spans(said))])
}

fn tick(of: &Tick) -> Value {
    dict([
        ("boxed", Value::Bool(of.code.is_some())),
        ("done", Value::Bool(of.done)),
        ("name", spans(&of.name)),
        ("text", spans(&of.text)),
    ])
}

const fn stroke_name(of: Stroke) -> &'static str {
    match of {
        Stroke::Front => "front",
        Stroke::Rear => "rear",
        Stroke::Hand => "hand",
    }
}

fn stroke(of: Option<Stroke>) -> Value {
    of.map_or(Value::None, |stroke| text(stroke_name(stroke)))
}

fn table(of: &Table, blanks: &[String]) -> Value {
    let rows = of.rows.iter().map(|row| {
        dict([
            ("stroke", stroke(row.stroke)),
            ("cells", list(row.cells.iter().map(|cell| in_a_column(cell)))),
        ])
    });
    let names_row = i64::try_from(of.names_row).unwrap_or(0);
    dict([
        ("kind", text("table")),
        ("caption", spans(&of.caption)),
        ("heads", list(of.heads.iter().map(|head| spans(head)))),
        ("names-row", Value::Int(names_row)),
        ("words", Value::Bool(of.of_words)),
        (
            "stroked",
            Value::Bool(of.rows.iter().any(|row| row.stroke.is_some())),
        ),
        ("rows", list(rows)),
        (
            "whole",
            is_few(
                of.rows.len(),
                of.rows
                    .iter()
                    .flat_map(|row| row.cells.iter().map(String::as_str)),
            ),
        ),
        ("blanks", list(blanks.iter().map(|head| spans(head)))),
    ])
}

fn step(of: &WorkingLine) -> Value {
    let keys: Vec<String> = of
        .keys
        .iter()
        .map(|(sign, key)| format!("{sign} is `{key}`"))
        .collect();
    let mut source = of.source.clone();
    if !keys.is_empty() {
        source.push_str(&format!(". {}", keys.join(", ")));
    }
    dict([
        ("meaning", spans(of.meaning)),
        ("found", Value::Bool(of.is_found())),
        ("sign", mathematics::sign(of.sign)),
        ("sign-said", text(of.sign)),
        ("symbols", mathematics::formula(&of.symbols())),
        ("symbols-said", text(&of.in_symbols())),
        ("numbers", mathematics::formula(&of.numbers())),
        ("numbers-said", text(&of.with_numbers())),
        ("value", spans(&of.value)),
        ("source", spans(&source)),
    ])
}

/// Width over height of a drawing, as its own frame says.
fn aspect(svg: &str) -> f64 {
    let frame = svg
        .split_once("viewBox=\"")
        .and_then(|(_, rest)| rest.split_once('"'))
        .map_or("", |(frame, _)| frame);
    let sides: Vec<f64> = frame.split(' ').filter_map(|side| side.parse().ok()).collect();
    match sides.as_slice() {
        [_, _, width, height] if *height > 0.0 => width / height,
        _ => Width::Wide.units() / Width::Narrow.units(),
    }
}

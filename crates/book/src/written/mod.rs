//! The book's data as values under the names that the press's template knows.

mod mathematics;

use crate::document::{Begins, Card, Document, Paper, Part, Piece};
use charts::Width;
use manuscript::{Manuscript, Matter, code, group, in_a_column, list, text, unset};
use questions::measuring::{InText, in_words, pieces};
use questions::report::{Detail, Figure, Frame, Headline, Stroke, Table, Tick, WorkingLine};

/// How the book looks.
const TEMPLATE: &str = include_str!("book.typ");

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

fn is_few<'t>(rows: usize, texts: impl Iterator<Item = &'t str>) -> Matter {
    let letters: usize = texts.map(str::len).sum();
    Matter::Whether(rows <= FEW.0 && letters <= FEW.1)
}

/// A text in which names of keys stand between back quotes: on paper nothing is typed, so that a key is said in words.
fn spans(said: &str) -> Matter {
    let mut spans = Vec::new();
    for piece in pieces(said) {
        match piece {
            InText::Words(words) => spans.push(text(words)),
            InText::Key(path) => {
                let words = in_words(path);
                spans.push(words.map_or_else(|| code(path), |words| group([("word", text(&words))])));
            }
            // Its words stand before it.
            InText::Behind(path) if in_words(path).is_some() => {}
            InText::Behind(path) => spans.extend([text(" ("), code(path), text(")")]),
        }
    }
    Matter::List(spans)
}

/// Somebody's own words: a back quote in them is one.
fn plain(said: &str) -> Matter {
    list([text(said)])
}

fn maybe(said: Option<&str>) -> Matter {
    said.filter(|said| !said.is_empty())
        .map_or(Matter::Nothing, spans)
}

/// Everything that the press is handed. `maker`: the program with its build, as the PDF's properties name it.
pub(crate) fn of(document: &Document, maker: &str) -> Manuscript {
    let day = [
        document.day.year(),
        document.day.month().into(),
        document.day.day().into(),
    ];
    let paper = match document.paper {
        Paper::A4 => "a4",
        Paper::Letter => "us-letter",
    };
    let book = group([
        ("title", unset(&document.title)),
        ("description", unset(&document.description)),
        ("keywords", list(document.keywords.iter().map(|word| unset(word)))),
        ("running", text(&document.running)),
        ("day", list(day.map(|part| Matter::Whole(part.into())))),
        ("paper", text(paper)),
        ("parts", list(document.parts.iter().map(part))),
    ]);
    Manuscript {
        version: env!("CARGO_PKG_VERSION").to_owned(),
        maker: maker.to_owned(),
        identity: format!("{}\n{}", document.title, document.keywords.join("\n")),
        template: TEMPLATE.to_owned(),
        book,
    }
}

fn part(part: &Part) -> Matter {
    group([
        ("title", plain(&part.title)),
        ("on-its-own", Matter::Whether(part.begins == Begins::OnItsOwn)),
        ("pieces", list(part.pieces.iter().map(piece))),
    ])
}

fn piece(piece: &Piece) -> Matter {
    let of_kind = |kind: &str, key: &str, value: Matter| group([("kind", text(kind)), (key, value)]);
    match piece {
        Piece::Heading { level, title, stroke } => group([
            ("kind", text("heading")),
            ("level", Matter::Whole(i64::from(*level))),
            ("title", spans(title)),
            ("stroke", self::stroke(*stroke)),
        ]),
        Piece::Headline(headline) => self::headline(headline),
        Piece::Finding(finding) => group([
            ("kind", text("finding")),
            ("weight", text(finding.weight.word())),
            ("title", spans(&finding.title)),
            ("because", spans(&finding.because)),
            ("remedy", maybe(Some(&finding.remedy))),
            ("caution", maybe(finding.caution)),
        ]),
        Piece::Details(facts) => group([
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
        Piece::Keys(keys) => group([
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
        Piece::List(items) => group([
            ("kind", text("list")),
            ("items", list(items.iter().map(|item| spans(item)))),
            (
                "narrow",
                Matter::Whether(
                    items.len() > MANY && items.iter().all(|item| item.chars().count() < SHORT_ITEM),
                ),
            ),
        ]),
        Piece::Table { table, blanks } => self::table(table, blanks),
        Piece::Ticks(ticks) => of_kind("ticks", "ticks", list(ticks.iter().map(tick))),
        Piece::Caution(said) => of_kind("caution", "text", spans(said)),
        Piece::Picture { svg, said } => group([
            ("kind", text("picture")),
            ("svg", Matter::Drawing(svg.clone())),
            ("aspect", Matter::Number(aspect(svg))),
            ("said", text(said)),
        ]),
        Piece::Steps(steps) => of_kind("steps", "steps", list(steps.iter().map(step))),
        Piece::Line(said) => of_kind("line", "text", spans(said)),
        Piece::Card(card) => self::card(card),
        Piece::Contents => group([("kind", text("contents"))]),
    }
}

fn card(card: &Card) -> Matter {
    let columns = card.columns.iter();
    group([
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

fn headline(of: &Headline) -> Matter {
    let frame = match of.frame {
        Frame::Solid => "solid",
        Frame::Heavy => "heavy",
        Frame::Broken => "broken",
    };
    group([
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

fn figure(of: &Figure) -> Matter {
    let measured = &of.measured;
    let range = measured.range.as_ref();
    let bar = range.map(|range| {
        let limit = of.limit.as_ref();
        group([
            ("low", Matter::Number(range.low.number)),
            ("value", Matter::Number(measured.value.number)),
            ("high", Matter::Number(range.high.number)),
            (
                "limit",
                limit.map_or(Matter::Nothing, |limit| Matter::Number(limit.shown.number)),
            ),
        ])
    });
    let limit = of
        .limit
        .as_ref()
        .map(|limit| format!("{} {}", limit.name, limit.shown.text));
    group([
        ("name", spans(of.name)),
        ("value", spans(&measured.value.text)),
        ("range", maybe(range.map(|range| range.text.as_str()))),
        ("bar", bar.unwrap_or(Matter::Nothing)),
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

fn fact(of: &Detail) -> Matter {
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
    group([("name", name), ("text", spans(&of.text))])
}

/// What a key is called, with the key itself: who opens the sheet looks for that.
fn key((key, said): &(String, String)) -> Matter {
    let name = match in_words(key) {
        Some(words) => list([text(&format!("{words} ")), code(key)]),
        None => list([code(key)]),
    };
    group([("name", name), ("text", spans(said))])
}

fn tick(of: &Tick) -> Matter {
    group([
        ("boxed", Matter::Whether(of.code.is_some())),
        ("done", Matter::Whether(of.done)),
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

fn stroke(of: Option<Stroke>) -> Matter {
    of.map_or(Matter::Nothing, |stroke| text(stroke_name(stroke)))
}

fn table(of: &Table, blanks: &[String]) -> Matter {
    let rows = of.rows.iter().map(|row| {
        group([
            ("stroke", stroke(row.stroke)),
            ("cells", list(row.cells.iter().map(|cell| in_a_column(cell)))),
        ])
    });
    let names_row = i64::try_from(of.names_row).unwrap_or(0);
    group([
        ("kind", text("table")),
        ("caption", spans(&of.caption)),
        ("heads", list(of.heads.iter().map(|head| spans(head)))),
        ("names-row", Matter::Whole(names_row)),
        ("words", Matter::Whether(of.of_words)),
        (
            "stroked",
            Matter::Whether(of.rows.iter().any(|row| row.stroke.is_some())),
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

fn step(of: &WorkingLine) -> Matter {
    let keys: Vec<String> = of
        .keys
        .iter()
        .map(|(sign, key)| format!("{sign} is `{key}`"))
        .collect();
    let mut source = of.source.clone();
    if !keys.is_empty() {
        source.push_str(&format!(". {}", keys.join(", ")));
    }
    group([
        ("meaning", spans(of.meaning)),
        ("found", Matter::Whether(of.is_found())),
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

//! What is read in one look, as markup of plain data: the stamp, a figure with its range against its limit.

use maud::{Markup, html};
use questions::report::Frame;
use wording::{Measured, Shown};

/// Width and height of a bar, in its own units.
const WIDE: f64 = 300.0;
/// So many letters stand side by side below the narrowest bar.
const ABREAST: usize = 26;
/// What is left free at each end of a bar, of its length.
const FREE: f64 = 0.02;

/// The verdict in its frame: words and frame, never colour alone.
pub(crate) fn stamp(word: &str, frame: Frame) -> Markup {
    let frame = match frame {
        Frame::Solid => "solid",
        Frame::Heavy => "heavy",
        Frame::Broken => "broken",
    };
    html! { p class={ "stamp " (frame) } { (word) } }
}

/// A figure: what it is, how large, its range as a bar with both ends numbered, and what it is held against.
pub(crate) fn figure(name: &str, measured: &Measured, limit: Option<(&str, &Shown)>) -> Markup {
    html! {
        div class="figure" {
            dt { (name) }
            dd {
                strong { (measured.value.text) }
                @if let Some(range) = &measured.range { " " span class="range" { (range.text) } }
                @if let Some((what, shown)) = limit { " " span class="limit" { (what) " " (shown.text) } }
                (bar(measured, limit))
            }
        }
    }
}

/// The bar: nine times in ten the figure lies in the box; the tick is the middle, the dotted line the limit.
fn bar(measured: &Measured, limit: Option<(&str, &Shown)>) -> Markup {
    let (what, limit) = limit.unzip();
    let value = measured.value.number;
    let (low, high) = measured
        .range
        .as_ref()
        .map_or((value, value), |range| (range.low.number, range.high.number));
    let known = [
        Some(low),
        Some(high),
        Some(value),
        limit.map(|limit| limit.number),
    ];
    let known = || known.into_iter().flatten();
    let (least, most) = (
        known().fold(f64::INFINITY, f64::min),
        known().fold(f64::NEG_INFINITY, f64::max),
    );
    let room = most - least;
    let drawn = room.is_finite() && room > 0.0;
    let at = |number: f64| {
        format!(
            "{:.1}",
            WIDE * (FREE + (1.0 - 2.0 * FREE) * (number - least) / room)
        )
    };
    let range = measured.range.as_ref();
    let said_of_limit = limit.map(|limit| format!("{} {}", what.unwrap_or_default(), limit.text));
    let known = |number: f64, one: &Shown| one.number.total_cmp(&number).is_eq();
    // An end of the range that reads as the limit does: it is numbered at the end, and the limit below it.
    let twin = limit.zip(range).and_then(|(limit, range)| {
        let mut ends = [&range.low, &range.high].into_iter();
        ends.find(|end| end.text == limit.text)
    });
    let end = |number: f64| -> String {
        let shown = match range {
            Some(range) if known(number, &range.low) => &range.low,
            Some(range) if known(number, &range.high) => &range.high,
            _ => &measured.value,
        };
        match (limit, &said_of_limit, twin) {
            (Some(limit), Some(said), None) if known(number, limit) => said.clone(),
            (Some(limit), _, Some(twin)) if known(number, limit) => twin.text.clone(),
            _ => shown.text.clone(),
        }
    };
    // What stands between them is numbered there too.
    let mut within: Vec<(String, f64)> = Vec::new();
    if let Some(range) = range {
        let ends = [("from", &range.low), ("to", &range.high)];
        let ends = ends
            .into_iter()
            .filter(|(_, end)| limit.is_none_or(|limit| limit.text != end.text));
        within.extend(ends.map(|(word, end)| (format!("{word} {}", end.text), end.number)));
    }
    within.extend(said_of_limit.clone().zip(limit.map(|limit| limit.number)));
    let ends = [end(least), end(most)];
    within.retain(|(text, number)| {
        let between = *number > least && *number < most;
        (between || twin.is_some() && said_of_limit.as_ref() == Some(text)) && !ends.contains(text)
    });
    let share = |number: f64| FREE + (1.0 - 2.0 * FREE) * (number - least) / room;
    let letters = |text: &String| text.chars().count();
    // Words that would run into each other stand on two lines.
    let first = 1 + usize::from(letters(&ends[0]) + letters(&ends[1]) + 2 > ABREAST);
    let rows = first + within.len();
    let line = |row: usize| format!("{:.1}em", 1.0 + 1.3 * row as f64);
    html! {
        @if drawn {
            svg class="bar" viewBox="0 0 300 30" preserveAspectRatio="none" aria-hidden="true" {
                line x1="0" x2="300" y1="15" y2="15" stroke="#c3bdae" {}
                @if high > low {
                    rect x=(at(low)) y="8" width=(format!("{:.1}", WIDE * (1.0 - 2.0 * FREE) * (high - low) / room)) height="14"
                        fill="#c3bdae" stroke="#1d2328" {}
                }
                line x1=(at(value)) x2=(at(value)) y1="2" y2="28" stroke="#1d2328" stroke-width="4" {}
                @if let Some(limit) = limit {
                    line x1=(at(limit.number)) x2=(at(limit.number)) y1="0" y2="30" stroke="#1d2328" stroke-width="2" stroke-dasharray="3 4" {}
                }
            }
            // What stands at an end is numbered there; what stands between, below its tick.
            svg class="ends" width="100%" height=(format!("{:.1}em", 1.3 * rows as f64)) aria-hidden="true" {
                text x="0" y=(line(0)) { (ends[0]) }
                text x="100%" y=(line(first - 1)) text-anchor="end" { (ends[1]) }
                @for (row, (text, number)) in within.iter().enumerate() {
                    text x=(format!("{:.1}%", 100.0 * share(*number))) y=(line(first + row))
                        text-anchor=(anchor(share(*number))) { (text) }
                }
            }
        }
    }
}

/// A number stands under its tick, and never beyond the bar.
fn anchor(share: f64) -> &'static str {
    if share < 0.35 {
        "start"
    } else if share > 0.65 {
        "end"
    } else {
        "middle"
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn shown(number: f64) -> Shown {
        Shown {
            text: format!("{number:.0} N"),
            number,
        }
    }

    #[test]
    fn a_bar_stands_where_its_numbers_are() {
        let measured = Measured {
            value: shown(322.0),
            range: Some(wording::Between {
                low: shown(300.0),
                high: shown(350.0),
                text: "300 to 350 N".to_owned(),
            }),
        };
        let limit = shown(250.0);
        let drawn = figure("pull", &measured, Some(("driver's pull", &limit))).into_string();
        // From 250 (the limit) to 350 over 96 % of 300: 300 lies in the middle, at 150; 322 at 6 + 288 * 0.72.
        for part in [
            "x=\"150.0\"",
            "width=\"144.0\"",
            "x1=\"213.4\"",
            "x1=\"6.0\"",
            ">driver's pull 250 N<",
            ">350 N<",
            "x=\"50.0%\" y=\"2.3em\" text-anchor=\"middle\">from 300 N<",
        ] {
            assert!(drawn.contains(part), "{part}: {drawn}");
        }
        // An end that reads as the limit does is numbered once, and the limit stands below it, on whichever side it lies.
        let close = Shown {
            text: "300 N".to_owned(),
            number: 301.0,
        };
        let below = Shown {
            text: "300 N".to_owned(),
            number: 299.0,
        };
        for limit in [&close, &below] {
            let drawn = figure("pull", &measured, Some(("at least", limit))).into_string();
            for part in [
                "<text x=\"0\" y=\"1.0em\">300 N<",
                "y=\"2.3em\" text-anchor=\"start\">at least 300 N<",
            ] {
                assert_eq!(drawn.matches(part).count(), 1, "{part}: {drawn}");
            }
            assert!(!drawn.contains("from 300 N"), "{drawn}");
        }
        // What would run into each other stands on two lines.
        let most = shown(900.0);
        let drawn = figure("pull", &measured, Some(("the strongest driver of all", &most))).into_string();
        for part in [
            "<text x=\"0\" y=\"1.0em\">300 N<",
            "y=\"2.3em\" text-anchor=\"end\">the strongest driver of all 900 N<",
            "y=\"3.6em\" text-anchor=\"start\">to 350 N<",
        ] {
            assert!(drawn.contains(part), "{part}: {drawn}");
        }
        // Nothing to hold it against, nothing drawn.
        let alone = Measured {
            value: shown(322.0),
            range: None,
        };
        assert!(!figure("pull", &alone, None).into_string().contains("<svg"));
    }
}

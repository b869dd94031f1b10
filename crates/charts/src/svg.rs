//! A small writer of SVG. Every element has a class and presentation attributes; there is no style attribute and no
//! script; text is escaped; a number that is not finite is never written.

use core::fmt::Write as _;

use crate::geometry::{Point, Rect};
use crate::ink::{FAINT, HAND_CORE, INK, Line, PAPER};
use crate::text::{Weight, cut, width};

/// Where a text stands to its point.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Anchor {
    Start,
    Middle,
    End,
}

/// How a text is written.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Hand {
    pub(crate) class: &'static str,
    pub(crate) size: f64,
    pub(crate) weight: Weight,
    pub(crate) italic: bool,
    pub(crate) anchor: Anchor,
}

impl Hand {
    pub(crate) const fn plain(class: &'static str, size: f64) -> Self {
        Self {
            class,
            size,
            weight: Weight::Plain,
            italic: false,
            anchor: Anchor::Start,
        }
    }

    pub(crate) const fn bold(mut self) -> Self {
        self.weight = Weight::Bold;
        self
    }

    pub(crate) const fn italic(mut self, italic: bool) -> Self {
        self.italic = italic;
        self
    }

    pub(crate) const fn anchored(mut self, anchor: Anchor) -> Self {
        self.anchor = anchor;
        self
    }

    pub(crate) fn width(&self, text: &str) -> f64 {
        width(text, self.size, self.weight)
    }

    /// The box that a text takes, written at a point of its base line.
    pub(crate) fn boxed(&self, text: &str, base: Point) -> Rect {
        self.boxed_so_wide(self.width(text), base)
    }

    /// The same of a text whose width is known.
    pub(crate) fn boxed_so_wide(&self, wide: f64, base: Point) -> Rect {
        let left = match self.anchor {
            Anchor::Start => base.x,
            Anchor::Middle => base.x - wide / 2.0,
            Anchor::End => base.x - wide,
        };
        Rect::new(
            left,
            base.y - 0.8 * self.size,
            left + wide,
            base.y + 0.24 * self.size,
        )
    }
}

/// The text of a drawing as it grows.
#[derive(Clone, Debug, Default)]
pub(crate) struct Writer {
    out: String,
}

/// An element whose attributes are being written.
#[derive(Debug)]
#[must_use = "an element has to be ended"]
pub(crate) struct Element<'w> {
    writer: &'w mut Writer,
    name: &'static str,
}

impl Writer {
    /// Starts an element.
    pub(crate) fn element(&mut self, name: &'static str, class: &str) -> Element<'_> {
        self.out.push('<');
        self.out.push_str(name);
        Element { writer: self, name }.word("class", class)
    }

    /// Ends an element that was left open.
    pub(crate) fn close(&mut self, name: &'static str) {
        self.out.push_str("</");
        self.out.push_str(name);
        self.out.push_str(">\n");
    }

    /// A group, closed by `close("g")`.
    pub(crate) fn group(&mut self, class: &str) {
        self.element("g", class).open();
    }

    /// What another writer wrote.
    pub(crate) fn append(&mut self, other: &Self) {
        self.out.push_str(&other.out);
    }

    pub(crate) fn finish(self) -> String {
        self.out
    }

    /// A line through points, as what it stands for.
    pub(crate) fn line(&mut self, line: Line, points: &[Point]) {
        if points.len() > 1 {
            self.path(line, "", &polyline(points));
        }
    }

    /// A path, as what it stands for, with a further class.
    pub(crate) fn path(&mut self, line: Line, class: &str, path: &str) {
        let (kind, ink, wide, dashes) = line.look();
        let all = if class.is_empty() {
            kind.to_owned()
        } else {
            format!("{kind} {class}")
        };
        let mut element = self
            .element("path", &all)
            .word("d", path)
            .word("fill", "none")
            .word("stroke", ink)
            .number("stroke-width", wide)
            .word("stroke-linejoin", "round");
        if let Some(dashes) = dashes {
            element = element.word("stroke-dasharray", dashes);
        }
        element.end();
        if line == Line::Hand {
            self.element("path", "line hand-core")
                .word("d", path)
                .word("fill", "none")
                .word("stroke", PAPER)
                .number("stroke-width", HAND_CORE)
                .word("stroke-linejoin", "round")
                .end();
        }
    }

    /// A strip of paper under a line, so that lines which cross without meeting do not touch.
    pub(crate) fn bridge(&mut self, path: &str, wide: f64) {
        self.element("path", "paper-line")
            .word("d", path)
            .word("fill", "none")
            .word("stroke", PAPER)
            .number("stroke-width", wide)
            .end();
    }

    /// A box with an ink and a ground.
    pub(crate) fn boxed(&mut self, class: &str, rect: &Rect, round: f64, fill: &str, stroke: Option<f64>) {
        let mut element = self
            .element("rect", class)
            .number("x", rect.left)
            .number("y", rect.top)
            .number("width", rect.width().max(0.0))
            .number("height", rect.height().max(0.0));
        if round > 0.0 {
            element = element.number("rx", round);
        }
        element = element.word("fill", fill);
        if let Some(wide) = stroke {
            element = element.word("stroke", INK).number("stroke-width", wide);
        }
        element.end();
    }

    /// Paper under a text.
    pub(crate) fn paper(&mut self, rect: &Rect) {
        self.boxed("paper", rect, 0.0, PAPER, None);
    }

    /// A disc (filled) or ring.
    pub(crate) fn disc(&mut self, class: &str, centre: Point, radius: f64, filled: bool) {
        self.element("circle", class)
            .number("cx", centre.x)
            .number("cy", centre.y)
            .number("r", radius)
            .word("fill", if filled { INK } else { PAPER })
            .word("stroke", INK)
            .number("stroke-width", 1.8)
            .end();
    }

    /// A filled or hollow shape.
    pub(crate) fn shape(&mut self, class: &str, path: &str, filled: bool) {
        self.element("path", class)
            .word("d", path)
            .word("fill", if filled { INK } else { PAPER })
            .word("stroke", INK)
            .number("stroke-width", 1.4)
            .word("stroke-linejoin", "round")
            .end();
    }

    /// A bar of the card's faint ink, with an outline.
    pub(crate) fn bar(&mut self, class: &str, rect: &Rect) {
        self.boxed(class, rect, 0.0, FAINT, Some(1.2));
    }

    /// A text at a point of its base line.
    pub(crate) fn text(&mut self, hand: Hand, text: &str, base: Point) {
        self.titled_text(hand, text, None, base);
    }

    /// A text that is cut where there is not room enough; the whole of it then stands in its title.
    pub(crate) fn text_in(&mut self, hand: Hand, text: &str, base: Point, room: f64) {
        let short = cut(text, hand.size, hand.weight, room);
        let title = (short != text).then_some(text);
        self.titled_text(hand, &short, title, base);
    }

    fn titled_text(&mut self, hand: Hand, text: &str, title: Option<&str>, base: Point) {
        let mut element = self
            .element("text", hand.class)
            .number("x", base.x)
            .number("y", base.y)
            .number("font-size", hand.size)
            .word("fill", INK);
        match hand.anchor {
            Anchor::Start => {}
            Anchor::Middle => element = element.word("text-anchor", "middle"),
            Anchor::End => element = element.word("text-anchor", "end"),
        }
        if hand.weight == Weight::Bold {
            element = element.word("font-weight", "bold");
        }
        if hand.italic {
            element = element.word("font-style", "italic");
        }
        element.words(title, text);
    }
}

impl Element<'_> {
    /// An attribute with words, escaped.
    pub(crate) fn word(self, name: &str, value: &str) -> Self {
        let out = &mut self.writer.out;
        out.push(' ');
        out.push_str(name);
        out.push_str("=\"");
        escape(out, value);
        out.push('"');
        self
    }

    /// An attribute with a number.
    pub(crate) fn number(self, name: &str, value: f64) -> Self {
        let out = &mut self.writer.out;
        out.push(' ');
        out.push_str(name);
        out.push_str("=\"");
        push_number(out, value);
        out.push('"');
        self
    }

    /// Ends an element without content.
    pub(crate) fn end(self) {
        self.writer.out.push_str("/>\n");
    }

    /// Leaves it open for children.
    pub(crate) fn open(self) {
        self.writer.out.push_str(">\n");
    }

    /// Ends an element with text, and the whole of a text that was cut.
    pub(crate) fn words(self, title: Option<&str>, text: &str) {
        let out = &mut self.writer.out;
        out.push('>');
        if let Some(title) = title {
            out.push_str("<title class=\"whole\">");
            escape(out, title);
            out.push_str("</title>");
        }
        escape(out, text);
        let name = self.name;
        self.writer.close(name);
    }
}

/// A number with at most two places. What is not finite is written as 0, and nothing lies beyond a million.
pub(crate) fn push_number(out: &mut String, value: f64) {
    let value = if value.is_finite() {
        value.clamp(-1e6, 1e6)
    } else {
        0.0
    };
    let hundredths = value * 100.0;
    #[expect(
        clippy::cast_possible_truncation,
        reason = "at most a hundred million, and rounded"
    )]
    let mut whole = hundredths.round() as i64;
    // Which way half a hundredth goes, only the whole of its digits tell.
    if (hundredths.abs().fract() - 0.5).abs() < 1e-6 {
        whole = format!("{value:.2}").replace('.', "").parse().unwrap_or(whole);
    }
    let sign = if whole < 0 { "-" } else { "" };
    let (units, behind) = (whole.unsigned_abs() / 100, whole.unsigned_abs() % 100);
    // Writing into a string does not fail.
    let _ = match behind {
        0 => write!(out, "{sign}{units}"),
        tenths if tenths % 10 == 0 => write!(out, "{sign}{units}.{}", tenths / 10),
        _ => write!(out, "{sign}{units}.{behind:02}"),
    };
}

fn push_point(out: &mut String, command: char, point: Point) {
    out.push(command);
    push_number(out, point.x);
    out.push(' ');
    push_number(out, point.y);
}

/// Path through points.
pub(crate) fn polyline(points: &[Point]) -> String {
    let mut path = String::with_capacity(points.len() * 14);
    for (index, &point) in points.iter().enumerate() {
        push_point(&mut path, if index == 0 { 'M' } else { 'L' }, point);
    }
    path
}

/// Path round points and back to the first.
pub(crate) fn polygon(points: &[Point]) -> String {
    polyline(points) + "Z"
}

/// Path through points with its corners rounded.
pub(crate) fn rounded(points: &[Point], radius: f64) -> String {
    let mut path = String::with_capacity(points.len() * 28);
    for (index, &corner) in points.iter().enumerate() {
        let (before, after) = (
            index.checked_sub(1).and_then(|before| points.get(before)),
            points.get(index + 1),
        );
        match (before, after) {
            (None, _) => push_point(&mut path, 'M', corner),
            (Some(_), None) => push_point(&mut path, 'L', corner),
            (Some(&before), Some(&after)) => {
                let (into, out) = (corner.distance(before), corner.distance(after));
                let cut = radius.min(into / 2.0).min(out / 2.0);
                if cut < 0.5 {
                    push_point(&mut path, 'L', corner);
                    continue;
                }
                push_point(&mut path, 'L', corner.towards(before, cut / into));
                push_point(&mut path, 'Q', corner);
                path.push(' ');
                let end = corner.towards(after, cut / out);
                push_number(&mut path, end.x);
                path.push(' ');
                push_number(&mut path, end.y);
            }
        }
    }
    path
}

/// Escapes text for content and quoted attributes. Characters that XML forbids are left out.
pub(crate) fn escape(out: &mut String, text: &str) {
    for character in text.chars() {
        match character {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            '\n' | '\t' | '\r' => out.push(' '),
            '\u{0}'..='\u{1F}' | '\u{7F}'..='\u{9F}' | '\u{FFFE}' | '\u{FFFF}' => {}
            // Marks that turn the direction of what follows would reach beyond the name that they stand in.
            '\u{202A}'..='\u{202E}' | '\u{2066}'..='\u{2069}' => {}
            other => out.push(other),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_are_short_and_always_numbers() {
        let text = |value: f64| {
            let mut out = String::new();
            push_number(&mut out, value);
            out
        };
        assert_eq!(text(12.0), "12");
        assert_eq!(text(-0.004), "0");
        assert_eq!(text(0.126), "0.13");
        assert_eq!(text(f64::NAN), "0");
        assert_eq!(text(f64::NEG_INFINITY), "0");
        assert_eq!(text(1e300), "1000000");
        // As the standard library rounds it, halves and their neighbours too.
        for thousandths in -2100..2100_i32 {
            let middle = f64::from(thousandths) / 1000.0;
            for value in [middle.next_down(), middle, middle.next_up(), middle + 7_654.0] {
                let written = format!("{value:.2}");
                let trimmed = written.trim_end_matches('0').trim_end_matches('.');
                let wanted = if trimmed == "-0" { "0" } else { trimmed };
                assert_eq!(text(value), wanted, "{value}");
            }
        }
    }

    #[test]
    fn nothing_in_a_name_becomes_markup() {
        let mut out = String::new();
        escape(&mut out, "<b a='1' c=\"2\">&\u{0}\u{202E}x</b>");
        assert_eq!(out, "&lt;b a='1' c=&quot;2&quot;&gt;&amp;x&lt;/b&gt;");
    }
}

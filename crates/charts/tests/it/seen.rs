//! What a drawing shows, read back from its text.

use roxmltree::{Document, Node};

/// A text on the drawing.
#[derive(Clone, Debug)]
pub(crate) struct Seen {
    pub(crate) words: String,
    pub(crate) left: f64,
    pub(crate) right: f64,
    pub(crate) top: f64,
    pub(crate) bottom: f64,
}

pub(crate) fn number(node: Node<'_, '_>, name: &str) -> f64 {
    node.attribute(name)
        .unwrap_or_else(|| panic!("{name}"))
        .parse()
        .unwrap()
}

/// Width of text in a common sans-serif, counted in another way than the drawing does: by kinds of letters.
fn width(text: &str, size: f64, bold: bool) -> f64 {
    let ems: f64 = text
        .chars()
        .map(|character| match character {
            'i' | 'j' | 'l' | 'I' | '.' | ',' | ':' | ';' | '\'' | '|' | ' ' | '\u{A0}' => 0.28,
            'f' | 't' | 'r' | '(' | ')' | '-' | '/' => 0.36,
            'm' | 'w' | 'M' | 'W' | '→' | '…' => 0.82,
            'A'..='Z' => 0.64,
            '0'..='9' => 0.63,
            '\u{2E80}'.. => 1.0,
            _ => 0.57,
        })
        .sum();
    ems * size * if bold { 1.08 } else { 1.0 }
}

/// All texts of a drawing.
pub(crate) fn texts(document: &Document<'_>) -> Vec<Seen> {
    document
        .descendants()
        .filter(|node| node.has_tag_name("text"))
        .map(|node| {
            let words: String = node
                .children()
                .filter(Node::is_text)
                .filter_map(|text| text.text())
                .collect();
            let size = number(node, "font-size");
            let wide = width(&words, size, node.attribute("font-weight") == Some("bold"));
            let (x, y) = (number(node, "x"), number(node, "y"));
            let left = match node.attribute("text-anchor") {
                None => x,
                Some("middle") => x - wide / 2.0,
                Some("end") => x - wide,
                Some(other) => panic!("{other}"),
            };
            // From the top of a digit to just below the base line: descenders may touch what is under them.
            Seen {
                words,
                left,
                right: left + wide,
                top: y - 0.72 * size,
                bottom: y + 0.04 * size,
            }
        })
        .collect()
}

/// Points of a path; those of a curve as the corners that it is drawn in.
pub(crate) fn points(path: &str) -> Vec<(f64, f64)> {
    let numbers: Vec<f64> = path
        .split(|letter: char| letter.is_ascii_whitespace() || letter == ',' || letter.is_ascii_alphabetic())
        .filter(|piece| !piece.is_empty())
        .map(|piece| piece.parse().unwrap())
        .collect();
    numbers.chunks_exact(2).map(|pair| (pair[0], pair[1])).collect()
}

/// Paths whose class holds a word.
pub(crate) fn paths(document: &Document<'_>, class: &str) -> Vec<Vec<(f64, f64)>> {
    document
        .descendants()
        .filter(|node| node.has_tag_name("path"))
        .filter(|node| {
            node.attribute("class")
                .is_some_and(|classes| classes.split(' ').any(|known| known == class))
        })
        .map(|node| points(node.attribute("d").unwrap()))
        .collect()
}

/// A figure of a table.
pub(crate) fn figure(cell: &str) -> Option<f64> {
    cell.replace('−', "-").parse().ok()
}

/// The scales of a diagram, read from the values on its axes.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Scales {
    x: (f64, f64),
    y: (f64, f64),
}

impl Scales {
    pub(crate) fn read(document: &Document<'_>) -> Self {
        let ground = document
            .descendants()
            .find(|node| node.attribute("class") == Some("ground"))
            .unwrap();
        let values: Vec<(f64, f64, f64, bool)> = ground
            .descendants()
            .filter(|node| node.attribute("class") == Some("value"))
            .filter_map(|node| {
                let upright = node.attribute("text-anchor") == Some("end");
                Some((
                    figure(node.text()?)?,
                    number(node, "x"),
                    number(node, "y"),
                    upright,
                ))
            })
            .collect();
        let bottom = values
            .iter()
            .filter(|value| !value.3)
            .map(|value| value.2)
            .fold(0.0, f64::max);
        let line = |pairs: Vec<(f64, f64)>| {
            let (first, last) = (pairs[0], pairs[pairs.len() - 1]);
            let slope = (last.1 - first.1) / (last.0 - first.0);
            (slope, first.1 - slope * first.0)
        };
        Self {
            x: line(
                values
                    .iter()
                    .filter(|value| !value.3)
                    .map(|value| (value.0, value.1))
                    .collect(),
            ),
            // Values stand four units above their lines.
            y: line(
                values
                    .iter()
                    .filter(|value| value.3 && value.2 < bottom - 10.0)
                    .map(|value| (value.0, value.2 + 4.0))
                    .collect(),
            ),
        }
    }

    pub(crate) fn point(&self, x: f64, y: f64) -> (f64, f64) {
        (self.x.0 * x + self.x.1, self.y.0 * y + self.y.1)
    }
}

/// How far a point lies from the nearest stretch of some paths.
pub(crate) fn distance(point: (f64, f64), paths: &[Vec<(f64, f64)>]) -> f64 {
    paths
        .iter()
        .flat_map(|path| path.windows(2))
        .map(|pair| {
            let ((ax, ay), (bx, by)) = (pair[0], pair[1]);
            let (dx, dy) = (bx - ax, by - ay);
            let long = dx * dx + dy * dy;
            let share = if long > 0.0 {
                (((point.0 - ax) * dx + (point.1 - ay) * dy) / long).clamp(0.0, 1.0)
            } else {
                0.0
            };
            (point.0 - ax - share * dx).hypot(point.1 - ay - share * dy)
        })
        .fold(f64::INFINITY, f64::min)
}

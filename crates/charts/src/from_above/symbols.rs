//! The body's outline and the components' shapes.

use engine::car::circuit::{Component, Piece};

use super::FromAbove;
use super::layout::Layout;
use crate::geometry::{Point, Rect, at};
use crate::ink::{INK, Line, PAPER};
use crate::part;
use crate::svg::{Anchor, Hand, Writer, polyline, rounded};

/// The body: a plain outline that belongs to no make, with its two screens and the word at its nose.
pub(super) fn body(out: &mut Writer, layout: &Layout) {
    let (middle, top, tail) = (layout.middle, layout.top, layout.tail());
    let wide = layout.half - 16.0;
    let right: [(f64, f64); 4] = [(0.74, top), (1.0, top + 46.0), (1.0, tail - 40.0), (0.8, tail)];
    let mut points: Vec<Point> = vec![at(middle, top)];
    points.extend(right.iter().map(|&(share, y)| at(middle + share * wide, y)));
    points.extend(right.iter().rev().map(|&(share, y)| at(middle - share * wide, y)));
    points.push(at(middle, top));
    out.group("body");
    out.path(Line::Outline, "body-line", &rounded(&points, 30.0));
    let screen = |y: f64, bow: f64, share: f64| {
        let half = wide * share;
        rounded(
            &[
                at(middle - half, y + bow),
                at(middle - half * 0.8, y),
                at(middle + half * 0.8, y),
                at(middle + half, y + bow),
            ],
            18.0,
        )
    };
    out.path(Line::Hair, "screen", &screen(layout.bulkhead(), 14.0, 0.98));
    out.path(Line::Hair, "screen", &screen(tail - 46.0, -14.0, 0.94));
    out.text(
        Hand::plain("nose", 14.0).anchored(Anchor::Middle),
        "front",
        at(middle, top - 8.0),
    );
    out.close("g");
}

/// A component as its trade shape, with its name for who points at it.
pub(super) fn component(
    out: &mut Writer,
    seen: &FromAbove,
    component: &Component,
    spot: Rect,
    layout: &Layout,
) {
    out.group(part::class(component.part));
    out.element("title", "name")
        .words(None, &component.name.replace('_', " "));
    let centre = at(
        f64::midpoint(spot.left, spot.right),
        f64::midpoint(spot.top, spot.bottom),
    );
    match component.part {
        Piece::Master if seen.twin => {
            for (from, to) in [(spot.left, centre.x - 3.0), (centre.x + 3.0, spot.right)] {
                out.boxed(
                    "shape",
                    &Rect::new(from, spot.top, to, spot.bottom),
                    3.0,
                    PAPER,
                    Some(1.8),
                );
            }
            out.line(
                Line::Rule,
                &[
                    at(spot.left + 8.0, spot.bottom + 3.0),
                    at(spot.right - 8.0, spot.bottom + 3.0),
                ],
            );
        }
        Piece::Master => {
            out.boxed("shape", &spot, 4.0, PAPER, Some(1.8));
            out.line(
                Line::Outline,
                &[at(centre.x, spot.top), at(centre.x, spot.bottom)],
            );
        }
        Piece::Union => out.disc("shape", centre, 4.5, false),
        Piece::Tee => out.disc("shape", centre, 4.5, true),
        Piece::Bracket => out.boxed("shape", &spot, 1.0, INK, None),
        Piece::BiasValve => {
            out.boxed("shape", &spot, 2.0, PAPER, Some(1.8));
            // Its own curve: up to the knee, then flatter.
            let knee = [
                at(spot.left + 3.0, spot.bottom - 3.0),
                at(centre.x, centre.y - 1.0),
                at(spot.right - 3.0, centre.y - 4.0),
            ];
            out.path(Line::Outline, "valve-curve", &polyline(&knee));
        }
        Piece::LeverCylinder | Piece::LeverMaster => lever(out, &spot, layout),
        Piece::Brake(wheel) => {
            let drum = seen.drums[usize::from(wheel.axle() == engine::car::Axle::Rear)];
            if drum {
                out.disc("shape", centre, 9.0, false);
                out.disc("shape", centre, 3.0, false);
            } else {
                out.boxed("shape", &spot, 3.0, PAPER, Some(1.8));
            }
        }
        Piece::LeverBrake(_) => out.boxed("shape", &spot, 3.0, PAPER, Some(1.8)),
    }
    out.close("g");
}

/// A lever: the cylinder, its rod and the grip.
pub(super) fn lever(out: &mut Writer, spot: &Rect, layout: &Layout) {
    out.boxed("shape", spot, 3.0, PAPER, Some(1.8));
    let middle = f64::midpoint(spot.top, spot.bottom);
    let grip = layout.grip(spot);
    out.path(Line::Hand, "handle", &polyline(&[at(spot.right, middle), grip]));
    out.disc("grip", grip, 4.5, true);
}

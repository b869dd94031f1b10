//! The body's outline, wheels, components and the marks of joints.

use engine::car::Wheel;
use engine::car::circuit::{Component, Piece};

use super::layout::{Layout, side};
use super::{JointSign, LinesDrawing, MARK, outward};
use crate::geometry::{Point, Rect, at};
use crate::ink::{INK, Line, PAPER};
use crate::part;
use crate::svg::{Anchor, Hand, Writer, polyline, rounded};

/// A plain outline that belongs to no make.
pub(super) fn body(out: &mut Writer, layout: &Layout) {
    let body = layout.body();
    let middle = f64::midpoint(body.left, body.right);
    let half = body.width() / 2.0;
    let right: [(f64, f64); 4] = [
        (0.76, body.top),
        (1.0, body.top + 56.0),
        (1.0, body.bottom - 46.0),
        (0.82, body.bottom),
    ];
    let mut points: Vec<Point> = vec![at(middle, body.top)];
    points.extend(right.iter().map(|&(share, y)| at(middle + share * half, y)));
    points.extend(right.iter().rev().map(|&(share, y)| at(middle - share * half, y)));
    points.push(at(middle, body.top));
    out.group("body");
    out.path(Line::Hair, "body-line", &rounded(&points, 36.0));
    let [front, rear] = layout.screens();
    for (y, bow) in [(front, 16.0), (rear, -16.0)] {
        let screen = [
            at(middle - half * 0.95, y + bow),
            at(middle - half * 0.75, y),
            at(middle + half * 0.75, y),
            at(middle + half * 0.95, y + bow),
        ];
        out.path(Line::Hair, "screen", &rounded(&screen, 20.0));
    }
    out.text(
        Hand::plain("nose", 12.0).anchored(Anchor::Middle),
        "front",
        at(middle, body.top - 5.0),
    );
    out.close("g");
}

/// A wheel and its name. Gives what that takes.
pub(super) fn wheel(out: &mut Writer, layout: &Layout, wheel: Wheel) -> Rect {
    let centre = layout.wheel(wheel);
    let tyre = Rect::new(centre.x - 15.0, centre.y - 46.0, centre.x + 15.0, centre.y + 46.0);
    out.group("wheel");
    out.boxed("tyre", &tyre, 7.0, PAPER, Some(1.2));
    let hand = Hand::plain("wheel-name", 12.0).anchored(outward(side(wheel)));
    let words = wheel.name().replace('_', "\u{A0}");
    out.text(hand, &words, at(centre.x + side(wheel) * 22.0, centre.y + 4.0));
    out.close("g");
    tyre.grown(2.0)
}

/// What a component takes of the drawing.
pub(super) fn taken(component: &Component, spot: &Rect) -> Rect {
    match component.part {
        Piece::LeverCylinder | Piece::LeverMaster => with_handle(spot),
        _ => spot.grown(1.0),
    }
}

/// A component as its trade shape, with its name for who points at it.
pub(super) fn component(out: &mut Writer, drawing: &LinesDrawing, component: &Component, spot: &Rect) {
    out.group(part::class(component.part));
    out.element("title", "name")
        .words(None, &component.name.replace('_', " "));
    let centre = at(
        f64::midpoint(spot.left, spot.right),
        f64::midpoint(spot.top, spot.bottom),
    );
    match component.part {
        Piece::Master if drawing.twin => {
            for (from, to) in [(spot.left, centre.x - 4.0), (centre.x + 4.0, spot.right)] {
                let half = Rect::new(from, spot.top, to, spot.bottom);
                out.boxed("shape", &half, 3.0, PAPER, Some(1.8));
            }
        }
        Piece::Master => {
            out.boxed("shape", spot, 4.0, PAPER, Some(1.8));
            out.line(
                Line::Outline,
                &[at(spot.left + 10.0, centre.y), at(spot.right - 10.0, centre.y)],
            );
        }
        Piece::Union => out.disc("shape", centre, 6.0, false),
        Piece::Tee => out.disc("shape", centre, 5.5, true),
        Piece::Bracket => out.boxed("shape", spot, 1.0, INK, None),
        Piece::BiasValve => {
            out.boxed("shape", spot, 2.0, PAPER, Some(1.8));
            // Its own curve: up to the knee, then flatter.
            let knee = [
                at(spot.left + 4.0, spot.bottom - 4.0),
                at(centre.x, centre.y - 1.0),
                at(spot.right - 4.0, centre.y - 5.0),
            ];
            out.path(Line::Outline, "valve-curve", &polyline(&knee));
        }
        Piece::LeverCylinder | Piece::LeverMaster => lever(out, spot),
        Piece::Brake(_) | Piece::LeverBrake(_) => out.boxed("shape", spot, 3.0, PAPER, Some(1.8)),
    }
    out.close("g");
}

/// A lever: the cylinder, its rod and the grip.
pub(super) fn lever(out: &mut Writer, spot: &Rect) {
    let middle = f64::midpoint(spot.top, spot.bottom);
    let grip = at(spot.right + 26.0, middle - 12.0);
    out.path(
        Line::Outline,
        "handle",
        &polyline(&[at(spot.right, middle), grip]),
    );
    out.disc("grip", grip, 4.5, true);
    out.boxed("shape", spot, 3.0, PAPER, Some(1.8));
}

/// A lever's cylinder with its handle.
pub(super) fn with_handle(spot: &Rect) -> Rect {
    Rect {
        right: spot.right + 32.0,
        ..*spot
    }
}

/// The mark of a joint, with its number.
pub(super) fn mark(out: &mut Writer, sign: JointSign, number: &str, spot: Point) {
    let class = match sign {
        JointSign::Mates => "joint mates",
        JointSign::Adapter => "joint adapter",
        JointSign::NothingJoins => "joint nothing-joins",
        JointSign::NotKnown => "joint not-known",
        JointSign::Stays => "joint stays",
    };
    match sign {
        JointSign::NothingJoins => {
            let square = Rect::new(spot.x, spot.y, spot.x, spot.y).grown(MARK - 0.5);
            out.boxed(class, &square, 0.0, PAPER, Some(2.6));
        }
        JointSign::NotKnown => ring(out, class, spot, MARK - 0.5, 1.2, Some("2.5 2")),
        JointSign::Mates => ring(out, class, spot, MARK - 0.5, 1.2, None),
        JointSign::Stays => ring(out, class, spot, MARK - 0.5, 0.5, None),
        JointSign::Adapter => {
            ring(out, class, spot, MARK, 1.2, None);
            ring(out, class, spot, MARK - 1.6, 1.0, None);
        }
    }
    let hand = Hand::plain("joint-number", 10.5).bold().anchored(Anchor::Middle);
    out.text(hand, number, at(spot.x, spot.y + 0.36 * hand.size));
}

fn ring(out: &mut Writer, class: &str, centre: Point, radius: f64, wide: f64, dashes: Option<&str>) {
    let mut ring = out
        .element("circle", class)
        .number("cx", centre.x)
        .number("cy", centre.y)
        .number("r", radius)
        .word("fill", PAPER)
        .word("stroke", INK)
        .number("stroke-width", wide);
    if let Some(dashes) = dashes {
        ring = ring.word("stroke-dasharray", dashes);
    }
    ring.end();
}

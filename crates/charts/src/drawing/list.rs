//! What stands under the car: the code of lines and marks, and the list of joints.

use super::{JointSign, LinesDrawing, symbols};
use crate::card::Card;
use crate::from_above::fluid::Fed;
use crate::geometry::at;
use crate::ink::Line;
use crate::svg::Hand;

/// From one line of the list to the next.
const PITCH: f64 = 13.4;
/// Room between columns.
const GAP: f64 = 14.0;

/// What each line and each mark stands for, as far as the drawing has it.
pub(super) fn legend(card: &mut Card<'_>, drawing: &LinesDrawing, fed: &[Fed]) {
    let (left, right) = card.sides();
    let hand = Hand::plain("legend", 11.0);
    let mut x = left;
    let mut y = card.filled + 14.0;
    card.out.group("legend");
    let place = |x: &mut f64, y: &mut f64, wide: f64| {
        if *x + wide > right && *x > left {
            *x = left;
            *y += 22.0;
        }
        let here = at(*x, *y);
        *x += wide + 16.0;
        here
    };
    for circuit in Fed::ALL.into_iter().filter(|circuit| fed.contains(circuit)) {
        let words = circuit.name(drawing.diagonal());
        let here = place(&mut x, &mut y, 40.0 + hand.width(words));
        card.out.line(
            circuit.line(),
            &[at(here.x, here.y - 4.0), at(here.x + 34.0, here.y - 4.0)],
        );
        card.out.text(hand, words, at(here.x + 40.0, here.y));
    }
    if drawing.cable {
        let here = place(&mut x, &mut y, 40.0 + hand.width("cable"));
        card.out.line(
            Line::Hand,
            &[at(here.x, here.y - 4.0), at(here.x + 34.0, here.y - 4.0)],
        );
        card.out.text(hand, "cable", at(here.x + 40.0, here.y));
    }
    for sign in JointSign::ALL {
        if !drawing.joints.iter().any(|joint| joint.sign == sign) {
            continue;
        }
        let words = sign.words();
        let here = place(&mut x, &mut y, 24.0 + hand.width(words));
        symbols::mark(&mut card.out, sign, "", at(here.x + 10.0, here.y - 4.0));
        card.out.text(hand, words, at(here.x + 24.0, here.y));
    }
    card.out.close("g");
    card.filled = y + 8.0;
}

/// The joints in two columns.
pub(super) fn joints(card: &mut Card<'_>, drawing: &LinesDrawing) {
    let (left, right) = card.sides();
    let rows = drawing.joints.len().div_ceil(2).max(1);
    let wide = (right - left - GAP) / 2.0;
    let top = card.filled + 4.0;
    let (bold, plain) = (Hand::plain("list-number", 10.5).bold(), Hand::plain("list", 10.5));
    card.out.group("list");
    card.out.line(Line::Rule, &[at(left, top), at(right, top)]);
    let mut y = top;
    for (index, joint) in drawing.joints.iter().enumerate() {
        let start = if index < rows { left } else { left + wide + GAP };
        if index == rows {
            y = top;
        }
        y += PITCH;
        card.out.text(bold, &joint.number.to_string(), at(start, y));
        let spec_room = 96.0;
        card.out
            .text_in(plain, &joint.place, at(start + 20.0, y), wide - 24.0 - spec_room);
        card.out
            .text_in(plain, &joint.spec, at(start + wide - spec_room, y), spec_room);
        card.out
            .line(Line::Hair, &[at(start, y + 3.4), at(start + wide, y + 3.4)]);
    }
    card.out.close("g");
    let high = drawing.joints.len().min(rows);
    card.filled = top + PITCH * f64::from(u16::try_from(high).unwrap_or(u16::MAX)) + 5.0;
}

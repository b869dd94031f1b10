//! The four wheels with their figures.

use engine::car::Wheel;
use engine::hydraulics::Response;
use quantity::si::{Force, Pressure, Torque};

use super::layout::{Layout, side};
use super::outward;
use crate::card::Card;
use crate::geometry::{Rect, at};
use crate::ink::{Line, PAPER};
use crate::svg::Hand;
use wording::Units;

/// A figure at a wheel.
#[derive(Clone, Debug, Default, PartialEq)]
pub enum WheelFigure {
    /// None.
    #[default]
    None,
    /// A pressure.
    Pressure(Pressure),
    /// A torque.
    Torque(Torque),
    /// A force.
    Force(Force),
    /// A word or two: `dry`, `never felt`.
    Text(String),
}

/// What a wheel does.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum WheelState {
    /// Nobody asked.
    #[default]
    NotAsked,
    /// It turns.
    Rolls,
    /// It stands while the car moves.
    Locks,
    /// It stands before any other does.
    LocksFirst,
}

/// What stands at one wheel.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct AtWheel {
    /// The figure of the question.
    pub figure: WheelFigure,
    /// The same of a separate lever's caliper.
    pub lever: WheelFigure,
    /// A second figure under it: what it is, and the figure, a line each: `fluid`, `148 °C`.
    pub note: Option<(&'static str, String)>,
    /// What the wheel does.
    pub state: WheelState,
}

impl WheelFigure {
    pub(super) fn words(&self, units: &Units) -> Option<String> {
        match self {
            Self::None => None,
            Self::Pressure(pressure) => Some(units.say_pressure(*pressure)),
            Self::Torque(torque) => Some(units.say_torque(*torque)),
            Self::Force(force) => Some(units.say_force(*force)),
            Self::Text(text) => Some(text.clone()).filter(|text| !text.trim().is_empty()),
        }
    }
}

impl WheelState {
    pub(super) const fn word(self) -> Option<&'static str> {
        match self {
            Self::NotAsked => None,
            Self::Rolls => Some("rolls"),
            Self::Locks => Some("locks"),
            Self::LocksFirst => Some("locks first"),
        }
    }

    const fn stands(self) -> bool {
        matches!(self, Self::Locks | Self::LocksFirst)
    }
}

impl AtWheel {
    /// Pressures of an answer; what the wheels do is for the caller to say.
    #[must_use]
    pub fn pressures(answer: &Response) -> [Self; 4] {
        answer.wheels.map(|wheel| Self {
            figure: WheelFigure::Pressure(wheel.pressure),
            lever: wheel
                .lever_pressure
                .map_or(WheelFigure::None, WheelFigure::Pressure),
            ..Self::default()
        })
    }

    /// Torques of an answer.
    #[must_use]
    pub fn torques(answer: &Response) -> [Self; 4] {
        answer.wheels.map(|wheel| Self {
            figure: WheelFigure::Torque(wheel.torque),
            ..Self::default()
        })
    }

    /// The same with what the wheel does.
    #[must_use]
    pub fn that(mut self, state: WheelState) -> Self {
        self.state = state;
        self
    }
}

/// What a wheel is called.
pub(super) const fn name(wheel: Wheel) -> &'static str {
    match wheel {
        Wheel::FrontLeft => "front left",
        Wheel::FrontRight => "front right",
        Wheel::RearLeft => "rear left",
        Wheel::RearRight => "rear right",
    }
}

/// Draws a wheel and writes what stands at it. Gives what that takes.
pub(super) fn draw(card: &mut Card<'_>, layout: &Layout, wheel: Wheel, at_wheel: &AtWheel) -> Vec<Rect> {
    let units = card.look.units;
    let (left, right) = card.sides();
    let centre = layout.wheel(wheel);
    let tyre = Rect::new(centre.x - 13.0, centre.y - 38.0, centre.x + 13.0, centre.y + 38.0);
    let stands = at_wheel.state.stands();
    let class = if stands { "wheel stands" } else { "wheel" };
    card.out.group(class);
    card.out
        .boxed("tyre", &tyre, 6.0, PAPER, Some(if stands { 3.2 } else { 1.4 }));
    // A wheel that stands is struck through, a rolling one shows its tread.
    if stands {
        for step in 0..5_u8 {
            let y = tyre.top + 14.0 + 13.0 * f64::from(step);
            card.out.line(
                Line::Rule,
                &[at(tyre.left + 3.0, y + 5.0), at(tyre.right - 3.0, y - 7.0)],
            );
        }
    } else {
        for share in [0.33, 0.67] {
            let x = tyre.left + tyre.width() * share;
            card.out
                .line(Line::Hair, &[at(x, tyre.top + 6.0), at(x, tyre.bottom - 6.0)]);
        }
    }
    let side = side(wheel);
    let start = centre.x + side * 23.0;
    let room = if side < 0.0 { start - left } else { right - start };
    let big = if card.look.narrow() { 15.0 } else { 20.0 };
    let small = Hand::plain("wheel-name", 14.0);
    let mut lines: Vec<(Hand, String)> = vec![(small, name(wheel).to_owned())];
    lines.extend(
        at_wheel
            .figure
            .words(&units)
            .map(|words| (Hand::plain("wheel-figure", big).bold(), words)),
    );
    if let Some(words) = at_wheel.lever.words(&units) {
        lines.push((small, "by the lever".to_owned()));
        lines.push((Hand::plain("wheel-figure", big).bold(), words));
    }
    if let Some((what, figure)) = &at_wheel.note {
        lines.push((small, (*what).to_owned()));
        lines.push((small.bold(), figure.clone()));
    }
    lines.extend(at_wheel.state.word().map(|word| {
        let hand = Hand::plain("wheel-state", 14.0);
        (if stands { hand.bold() } else { hand }, word.to_owned())
    }));
    let high: f64 = lines.iter().map(|(hand, _)| hand.size * 1.3).sum();
    let mut y = centre.y - high / 2.0;
    let mut taken = vec![tyre.grown(2.0)];
    for (hand, words) in lines {
        y += hand.size * 1.3;
        let hand = hand.anchored(outward(side));
        let base = at(start, y - hand.size * 0.3);
        card.out.text_in(hand, &words, base, room);
        let shown = hand.boxed(&words, base);
        taken.push(Rect::new(
            shown.left.max(left),
            shown.top,
            shown.right.min(right),
            shown.bottom,
        ));
    }
    card.out.close("g");
    taken
}

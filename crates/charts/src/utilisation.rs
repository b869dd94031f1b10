//! How much of its grip each axle uses, over the braking rate, with the road rule's limits.

use core::ops::Deref;

use engine::balance::Utilisation;
use engine::curves::Used;

use crate::axes::{ABOVE, Axis, BELOW, LABELS, Place, Plot};
use crate::card::Card;
use crate::geometry::{Point, at, clipped};
use crate::ink::Line;
use crate::labels::{Labels, Side, along};
use crate::picture::{Look, Picture, PictureTable, bare};
use crate::svg::Hand;
use wording::{Column, NONE, ratio};

/// The road rule's limit, `z ≥ 0.1 + 0.7 (k − 0.2)` for k between 0.2 and 0.8, as its two ends: braking rate and
/// utilisation (UN Regulation 13-H, Annex 5; from memory).
const LIMIT: [(f64, f64); 2] = [(0.1, 0.2), (0.52, 0.8)];

/// Utilisation beyond this is cut.
const FURTHEST: f64 = 1.6;

/// The picture of both axles' utilisation.
#[derive(Clone, Debug, PartialEq)]
pub struct UtilisationCurves(pub Used);

impl Deref for UtilisationCurves {
    type Target = Used;

    fn deref(&self) -> &Used {
        &self.0
    }
}

impl UtilisationCurves {
    /// Draws it.
    #[must_use]
    pub fn draw(&self, look: &Look<'_>) -> Picture {
        let mut card = Card::new(look, "utilisation", "How much of its grip each axle uses");
        let table = self.table();
        let used = || self.points.iter().filter_map(|(_, used)| *used);
        let Some(reached) = used().map(|used| used.rate).max_by(f64::total_cmp) else {
            card.empty("The foot that is looked at does not reach the lowest braking rate.");
            return card.finish(true, table);
        };
        let (left, right) = card.sides();
        let place = Place {
            left,
            right,
            top: card.filled + ABOVE,
            height: if look.narrow() { 240.0 } else { 310.0 },
        };
        let fastest = self.points.iter().map(|(rate, _)| *rate).fold(0.5, f64::max);
        let most = used()
            .flat_map(|used| [used.front, used.rear])
            .filter(|used| used.is_finite())
            .fold(0.9, f64::max)
            .min(FURTHEST);
        let plot = Plot::new(
            place,
            Axis::over("braking rate, g", bare(), 0.0, fastest),
            Axis::over("force over load", bare(), 0.0, most),
        );
        plot.draw_ground(&mut card.out);
        let mut labels = Labels::within(plot.label_room());
        let end = fastest.min(plot.top_si());
        let ideal = [plot.point(0.0, 0.0), plot.point(end, end)];
        card.out.line(Line::Ideal, &ideal);
        labels.avoid_line(&ideal);
        let mut limit: Vec<Point> = Vec::new();
        if self.rules.is_some() {
            limit = LIMIT.map(|(rate, used)| plot.point(rate, used)).to_vec();
            draw_limit(&mut card, &limit);
            labels.avoid_line(&limit);
        }
        let curve = |of: fn(&Utilisation) -> f64| -> Vec<Point> {
            core::iter::once(plot.point(0.0, 0.0))
                .chain(self.points.iter().map(|(rate, used)| {
                    used.map_or(at(f64::NAN, f64::NAN), |used| plot.point(*rate, of(&used)))
                }))
                .collect()
        };
        let mut named: Vec<(&str, Vec<Point>)> = Vec::new();
        for (name, line, points) in [
            ("front", Line::Front, curve(|used| used.front)),
            ("rear", Line::Rear, curve(|used| used.rear)),
        ] {
            for piece in clipped(&points, &plot.area) {
                card.out.line(line, &piece);
                labels.avoid_line(&piece);
                named.push((name, piece));
            }
        }
        let hand = Hand::plain("label", LABELS);
        let sides = [
            Side::AboveLeft,
            Side::BelowRight,
            Side::Above,
            Side::Below,
            Side::Right,
        ];
        for name in ["front", "rear"] {
            let longest = named
                .iter()
                .filter(|known| known.0 == name)
                .max_by_key(|known| known.1.len());
            if let Some((_, piece)) = longest {
                labels.name(hand.bold(), name, &along(piece, 0.5, 1.0), &sides);
            }
        }
        labels.name(hand, "ideal", &along(&ideal, 0.3, 1.0), &sides);
        if !limit.is_empty() {
            labels.name(
                hand,
                "road\u{A0}limit",
                &along(&limit, 0.3, 1.0),
                &[Side::AboveLeft, Side::Left, Side::Above],
            );
        }
        labels.draw(&mut card.out);
        card.filled = plot.area.bottom + BELOW;
        self.say(&mut card, reached, fastest);
        card.finish(true, table)
    }

    fn say(&self, card: &mut Card<'_>, reached: f64, fastest: f64) {
        if reached < fastest - 1e-9 {
            card.say(format!(
                "The curves end at {} g: the foot that is looked at reaches no more.",
                ratio(reached)
            ));
        }
        if let Some(rules) = self.rules {
            card.say(if rules.rear_below_front {
                "Road rule: the rear stays below the front from 0.15 to 0.80 g."
            } else {
                "Road rule not met: between 0.15 and 0.80 g the rear rises above the front."
            });
            card.say(if rules.least_rate_met {
                "Road rule: both curves stay below the limit."
            } else {
                "Road rule not met: a curve crosses the limit, so the ground is used too unevenly."
            });
        } else {
            card.say(
                "The curve that is higher is the axle that locks first. No road rule applies to this car.",
            );
        }
    }

    fn table(&self) -> PictureTable {
        let column = Column::of(bare(), [0.5]);
        let head = [
            "braking rate, g",
            "front, force over load",
            "rear, force over load",
            "road limit",
        ];
        let limited = self.rules.is_some();
        let rows = self
            .points
            .iter()
            .map(|&(rate, used)| {
                let [(low, at_low), (high, at_high)] = LIMIT;
                let share = (rate - low) / (high - low);
                let limit = (-1e-9..=1.0 + 1e-9)
                    .contains(&share)
                    .then_some(at_low + (at_high - at_low) * share);
                let mut row = vec![
                    column.show(rate),
                    column.maybe(used.map(|used| used.front)),
                    column.maybe(used.map(|used| used.rear)),
                ];
                if limited {
                    row.push(limit.map_or_else(|| NONE.to_owned(), |limit| column.show(limit)));
                }
                row
            })
            .collect();
        PictureTable {
            caption: "Adhesion utilisation: each axle's braking force over its load".into(),
            head: head
                .iter()
                .take(if limited { 4 } else { 3 })
                .map(|&head| head.to_owned())
                .collect(),
            rows,
        }
    }
}

/// The limit, hatched on the side that is not allowed.
fn draw_limit(card: &mut Card<'_>, limit: &[Point]) {
    card.out.group("limit-edge");
    card.out.line(Line::Limit, limit);
    let [from, to] = [limit[0], limit[limit.len() - 1]];
    let steps = 14_u8;
    for step in 0..=steps {
        let point = from.towards(to, f64::from(step) / f64::from(steps));
        card.out
            .line(Line::Outline, &[point, at(point.x - 5.0, point.y - 5.0)]);
    }
    card.out.close("g");
}

//! Which end locks first, over grip and load.

use core::ops::Deref;

use engine::balance::{First, Lock};
use engine::curves::LockCurves;

use crate::axes::{ABOVE, Axis, BELOW, LABELS, Place, Plot, VALUES};
use crate::card::Card;
use crate::geometry::{Point, Rect, at, clipped};
use crate::ink::Line;
use crate::labels::Labels;
use crate::picture::{Look, Picture, PictureTable, bare, per_cent};
use crate::split::first_word;
use crate::svg::{Anchor, Hand, Writer, polygon};
use wording::{Column, NONE, named, ratio};

/// Margins beyond these are cut: a rear that does nothing leads by an endless margin.
const FURTHEST: (f64, f64) = (-0.8, 2.0);

/// The picture of the lock order.
#[derive(Clone, Debug, PartialEq)]
pub struct LockOrder(pub LockCurves);

impl Deref for LockOrder {
    type Target = LockCurves;

    fn deref(&self) -> &LockCurves {
        &self.0
    }
}

impl LockOrder {
    /// Grips that are looked at where nothing else is said: 0.1 to 1.2.
    #[must_use]
    pub fn usual_grips() -> Vec<f64> {
        (1..=12_u8).map(|tenth| f64::from(tenth) / 10.0).collect()
    }

    /// Draws it.
    #[must_use]
    pub fn draw(&self, look: &Look<'_>) -> Picture {
        let mut card = Card::new(look, "lock-order", "Which end locks first");
        let table = self.table();
        let margins: Vec<f64> = self
            .loads
            .iter()
            .flat_map(|load| load.locks.iter().filter_map(margin))
            .collect();
        if margins.is_empty() {
            let hardest = look.units.say_force(self.hardest);
            card.empty(&format!(
                "Nothing locks at any of these grips with up to {hardest} of foot."
            ));
            return card.finish(true, table);
        }
        let (left, right) = card.sides();
        let place = Place {
            left,
            right,
            top: card.filled + ABOVE,
            height: if look.narrow() { 230.0 } else { 300.0 },
        };
        let low = margins.iter().copied().fold(-0.04, f64::min).max(FURTHEST.0);
        let high = margins.iter().copied().fold(0.04, f64::max).min(FURTHEST.1);
        let air = (high - low) * 0.10;
        let grips = || {
            self.loads
                .iter()
                .flat_map(|load| load.locks.iter().map(|lock| lock.grip))
        };
        let most = grips().filter(|grip| grip.is_finite()).fold(0.1, f64::max);
        // The names of the loads stand right of where the curves end.
        let label = Hand::plain("label", LABELS);
        let widest = self
            .loads
            .iter()
            .map(|load| label.width(&load.name))
            .fold(0.0, f64::max)
            .min((right - left) * 0.4);
        let names = (widest + 24.0) / (right - left - 56.0);
        let plot = Plot::new(
            place,
            Axis::over("grip of the surface", bare(), 0.0, most.min(5.0) / (1.0 - names)),
            Axis::over(
                "front uses more of its grip than the rear, by",
                per_cent(),
                low - air,
                high + air,
            ),
        );
        plot.draw_ground(&mut card.out);
        let mut labels = Labels::within(plot.label_room());
        let zero = [
            at(plot.area.left, plot.up(0.0)),
            at(plot.area.right, plot.up(0.0)),
        ];
        card.out.line(Line::Rule, &zero);
        labels.avoid_line(&zero);
        for (_, grip) in &self.surfaces {
            let x = plot.across(*grip);
            if (plot.area.left..=plot.area.right).contains(&x) {
                let line = [at(x, plot.area.top), at(x, plot.area.bottom)];
                card.out.line(Line::Hair, &line);
                labels.avoid_thin_line(&line);
            }
        }
        self.draw_curves(
            &mut card.out,
            &plot,
            &mut labels,
            widest,
            if look.narrow() { 3.0 } else { 4.5 },
        );
        let words = Hand::plain("area", LABELS).italic(true);
        let level = plot.up(0.0);
        let far = plot.area.left + plot.area.width() * 0.2;
        labels.area(words, "front locks first", at(far, plot.area.top), |point| {
            point.y < level - 4.0
        });
        labels.area(words, "rear locks first", at(far, plot.area.bottom), |point| {
            point.y > level + 4.0
        });
        labels.draw(&mut card.out);
        card.filled = self.draw_surfaces(&mut card.out, &plot, right);
        self.say(&mut card);
        card.finish(true, table)
    }

    fn draw_curves(&self, out: &mut Writer, plot: &Plot, labels: &mut Labels, widest: f64, half: f64) {
        let curves: Vec<Vec<Point>> = self
            .loads
            .iter()
            .map(|load| {
                let spot =
                    |lock: &Lock| margin(lock).map_or(at(f64::NAN, f64::NAN), |by| plot.point(lock.grip, by));
                load.locks.iter().map(spot).collect()
            })
            .collect();
        for (load, curve) in self.loads.iter().zip(&curves) {
            out.group("load");
            for piece in clipped(curve, &plot.area) {
                out.line(Line::Outline, &piece);
                labels.avoid_line(&piece);
            }
            for (lock, &point) in load.locks.iter().zip(curve) {
                if point.is_finite() && plot.area.has(point) {
                    tank(out, point, half, load.fill, lock.first == First::Together);
                    labels.avoid_mark(point, half + 1.0);
                }
            }
            out.close("g");
        }
        let hand = Hand::plain("label", LABELS);
        let short: Vec<(std::borrow::Cow<'_, str>, Point)> = self
            .loads
            .iter()
            .zip(&curves)
            .filter_map(|(load, curve)| {
                let end = *curve
                    .iter()
                    .rev()
                    .find(|point| point.is_finite() && plot.area.has(**point))?;
                Some((crate::text::cut(&load.name, hand.size, hand.weight, widest), end))
            })
            .collect();
        let named: Vec<(&str, Point)> = short.iter().map(|(name, end)| (name.as_ref(), *end)).collect();
        let furthest = named.iter().map(|(_, end)| end.x).fold(plot.area.left, f64::max);
        labels.ends(hand, &named, furthest + 22.0);
    }

    /// Names of surfaces under the axis, at their grips, in as many rows as it takes. Gives where the drawing ends.
    fn draw_surfaces(&self, out: &mut Writer, plot: &Plot, right: f64) -> f64 {
        let hand = Hand::plain("surface", VALUES);
        let first = plot.area.bottom + BELOW + 18.0;
        let mut rows: Vec<f64> = Vec::new();
        let mut surfaces: Vec<&(String, f64)> = self
            .surfaces
            .iter()
            .filter(|(_, grip)| (plot.area.left..=plot.area.right).contains(&plot.across(*grip)))
            .collect();
        surfaces.sort_by(|one, other| one.1.total_cmp(&other.1));
        if surfaces.is_empty() {
            return plot.area.bottom + BELOW;
        }
        out.group("surfaces");
        for (name, grip) in surfaces {
            let x = plot.across(*grip);
            let words = format!("{name} {}", ratio(*grip));
            let wide = hand.width(&words);
            // To the left of its mark or to the right, in the first row that has room.
            let sides = [
                (x - 8.0 - wide, x + 5.0, Anchor::End),
                (x - 5.0, x + 8.0 + wide, Anchor::Start),
            ];
            let fits = |row: usize, from: f64, to: f64| {
                from >= plot.area.left - 20.0
                    && to <= right
                    && rows.get(row).is_none_or(|&until| until + 10.0 < from)
            };
            let found = (0..=rows.len()).find_map(|row| {
                sides
                    .into_iter()
                    .find(|&(from, to, _)| fits(row, from, to))
                    .map(|side| (row, side))
            });
            let (row, (_, to, anchor)) = found.unwrap_or((rows.len(), sides[0]));
            if let Some(until) = rows.get_mut(row) {
                *until = to;
            } else {
                rows.push(to);
            }
            let y = first + 19.0 * f64::from(u8::try_from(row).unwrap_or(u8::MAX));
            let flag = [at(x, y - 11.0), at(x + 4.5, y - 1.0), at(x - 4.5, y - 1.0)];
            out.shape("mark surface-mark", &polygon(&flag), true);
            let start = if anchor == Anchor::Start { x + 8.0 } else { x - 8.0 };
            let room = if anchor == Anchor::Start {
                right - start
            } else {
                start - plot.area.left + 20.0
            };
            out.text_in(hand.anchored(anchor), &words, at(start, y), room);
        }
        out.close("g");
        first + 19.0 * f64::from(u8::try_from(rows.len()).unwrap_or(u8::MAX)) - 8.0
    }

    fn say(&self, card: &mut Card<'_>) {
        let hardest = card.look.units.say_force(self.hardest);
        for load in &self.loads {
            let says: Vec<String> = [First::Front, First::Rear, First::Together, First::Neither]
                .into_iter()
                .filter_map(|first| {
                    let grips = stretches(&load.locks, first)?;
                    Some(match first {
                        First::Front => format!("front first at grip {grips}"),
                        First::Rear => format!("rear first at grip {grips}"),
                        First::Together => format!("all four together at grip {grips}"),
                        First::Neither => format!("no lock at grip {grips} with up to {hardest} of foot"),
                    })
                })
                .collect();
            if !says.is_empty() {
                card.say(format!("{}: {}.", load.name, says.join("; ")));
            }
        }
        if self.tied {
            card.say(
                "The centre ties the axles. A square marks where all four stop at once; its height still tells which \
                 axle asks more of the ground.",
            );
        }
        let endless = |lock: &Lock| {
            lock.at
                .is_some_and(|at| !at.front_first_by.is_finite() || at.front_first_by > FURTHEST.1)
        };
        if self.loads.iter().any(|load| load.locks.iter().any(endless)) {
            card.say("Where the curve leaves the top the rear does next to nothing.");
        }
    }

    fn table(&self) -> PictureTable {
        let mut head = vec!["grip".to_owned()];
        for load in &self.loads {
            head.push(format!("{}: first", load.name));
            head.push(named(&format!("{}: front leads by", load.name), per_cent()));
        }
        let by = Column::of(
            per_cent(),
            self.loads
                .iter()
                .flat_map(|load| load.locks.iter().filter_map(margin)),
        );
        let longest = self.loads.iter().map(|load| load.locks.len()).max().unwrap_or(0);
        let rows = (0..longest)
            .map(|index| {
                let grip = self
                    .loads
                    .iter()
                    .find_map(|load| load.locks.get(index))
                    .map(|lock| ratio(lock.grip));
                let mut row = vec![grip.unwrap_or_else(|| NONE.into())];
                for load in &self.loads {
                    let lock = load.locks.get(index);
                    row.push(lock.map_or(NONE, |lock| first_word(lock.first)).to_owned());
                    row.push(by.maybe(lock.and_then(margin)));
                }
                row
            })
            .collect();
        PictureTable {
            caption: "First lock over grip and load".into(),
            head,
            rows,
        }
    }
}

/// The grips at which an end locks first, neighbours drawn together: `0.1 to 0.4, 0.9`.
fn stretches(locks: &[Lock], first: First) -> Option<String> {
    let mut stretches: Vec<(f64, f64)> = Vec::new();
    let mut goes_on = false;
    for lock in locks {
        if lock.first != first {
            goes_on = false;
            continue;
        }
        match stretches.last_mut() {
            Some(last) if goes_on => last.1 = lock.grip,
            _ => stretches.push((lock.grip, lock.grip)),
        }
        goes_on = true;
    }
    let words: Vec<String> = stretches
        .into_iter()
        .map(|(low, high)| {
            if high > low {
                format!("{} to {}", ratio(low), ratio(high))
            } else {
                ratio(low)
            }
        })
        .collect();
    (!words.is_empty()).then(|| words.join(", "))
}

/// The margin of a lock, where there is a finite one.
fn margin(lock: &Lock) -> Option<f64> {
    lock.at.map(|at| at.front_first_by).filter(|by| by.is_finite())
}

/// A point's mark: a little tank, filled as the car's is; square where all four stop together.
fn tank(out: &mut Writer, point: Point, half: f64, fill: f64, together: bool) {
    let fill = if fill.is_finite() {
        fill.clamp(0.0, 1.0)
    } else {
        0.0
    };
    let round = if together { 0.0 } else { half };
    let rect = |top: f64| Rect::new(point.x - half, top, point.x + half, point.y + half);
    out.boxed(
        "mark tank",
        &rect(point.y - half),
        round,
        crate::ink::PAPER,
        Some(1.5),
    );
    let level = half - 2.0 * half * fill;
    if together {
        out.boxed(
            "mark tank-fill",
            &rect(point.y + level),
            0.0,
            crate::ink::INK,
            None,
        );
    } else if fill > 0.0 {
        // The part of the disc below the level, from its right end round the bottom to its left.
        let from = (level / half).clamp(-1.0, 1.0).asin();
        let to = core::f64::consts::PI - from;
        let round_bottom: Vec<Point> = (0..=16_u8)
            .map(|step| from + (to - from) * f64::from(step) / 16.0)
            .map(|angle| at(point.x + half * angle.cos(), point.y + half * angle.sin()))
            .collect();
        out.shape("mark tank-fill", &polygon(&round_bottom), true);
    }
}

//! Rear brakes that drag, because the lever's by-pass stays covered and warm fluid cannot leave.
//!
//! Between two points of the way each temperature follows the cubic that has its values and slopes. Fluid that is shut in
//! takes what warmth adds, which is straight in the temperatures and so a cubic too.

use quantity::si::{Duration, Pressure};

use super::Drags;
use super::shared::Shares;
use super::vehicle::Vehicle;
use super::way::{Cubic, Point};
use crate::solve::root_within;
use crate::thermal::Nodes;
use crate::trapped::Part;

/// A drag of the rear brakes at which nobody drives on: a tenth of the car's weight (judgement).
pub const NOBODY_DRIVES_ON: f64 = 0.10;

/// A drag that is felt: a hundredth of the car's weight (judgement).
const FELT: f64 = 0.01;

/// So many pieces of the way between two points are looked at, where the drag may be enough.
const PIECES: u8 = 16;

impl Vehicle {
    /// Force of both rear brakes that drag.
    pub(super) fn drag_n(&self, shares: &Shares, rear: Nodes) -> f64 {
        self.held_n(shares, |part| self.warmth_m3(part, rear)) * self.fades[1].torque_k(rear.disc_k)
    }

    /// The same with warm friction, of what warmth has added to each part.
    fn held_n(&self, shares: &Shares, added_m3: impl Fn(&Part) -> f64) -> f64 {
        if self.dragging.is_empty() {
            return 0.0;
        }
        let (gain_n_pa, threshold_pa) = shares.rear_law();
        let wheels: usize = self.dragging.iter().map(|part| part.wheels.len()).sum();
        let mean_pa: f64 = self
            .dragging
            .iter()
            .map(|part| {
                #[allow(clippy::cast_precision_loss, reason = "at most four wheels")]
                let share = part.wheels.len() as f64 / wheels as f64;
                share * (part.pressure_pa(added_m3(part)) - threshold_pa).max(0.0)
            })
            .sum();
        gain_n_pa * mean_pa
    }

    fn warmth_m3(&self, part: &Part, rear: Nodes) -> f64 {
        part.warmth_m3(self.as_the_air(), rear)
    }

    /// Whether nobody drives on at a point.
    pub(super) fn nobody_drives_on(&self, shares: &Shares, at: &Point) -> bool {
        self.drag_n(shares, at.rear()) >= NOBODY_DRIVES_ON * self.weight_n
    }

    /// The time between two points from which on nobody drives on; `None` where somebody does up to the second.
    pub(super) fn stops_driving_s(&self, shares: &Shares, from: &Point, to: &Point) -> Option<f64> {
        self.reaches_s(shares, from, to, NOBODY_DRIVES_ON * self.weight_n)
    }

    /// When the drag first reaches a force between two points.
    fn reaches_s(&self, shares: &Shares, from: &Point, to: &Point, force_n: f64) -> Option<f64> {
        let [disc, caliper] = [2, 3].map(|figure| Cubic::between(from, to, figure));
        let over = |share: f64| {
            let rear = Nodes {
                disc_k: disc.at(share),
                caliper_k: caliper.at(share),
            };
            self.drag_n(shares, rear) - force_n
        };
        let at_s = |share: f64| from.time_s + share * (to.time_s - from.time_s);
        // No cubic leaves the span of its four corners, and no pad rubs better than its best.
        let corners = disc.corners().into_iter().zip(caliper.corners());
        let most_n = self.held_n(shares, |part| {
            corners
                .clone()
                .map(|(disc_k, caliper_k)| self.warmth_m3(part, Nodes { disc_k, caliper_k }))
                .fold(0.0, f64::max)
        });
        if most_n * self.fades[1].torque_k(self.fades[1].best_k()) < force_n {
            return None;
        }
        if over(0.0) >= 0.0 {
            return Some(at_s(0.0));
        }
        let mut low = 0.0;
        for piece in 1..=PIECES {
            let high = f64::from(piece) / f64::from(PIECES);
            if over(high) >= 0.0 {
                return Some(at_s(root_within(low, high, 1e-9, over).unwrap_or(high)));
            }
            low = high;
        }
        None
    }
}

/// What is noticed of the drag along the way.
#[derive(Debug)]
pub(super) struct Noticed<'a> {
    vehicle: &'a Vehicle,
    felt_s: Option<f64>,
    /// The most that warmth added to each part (m³).
    most_m3: Vec<f64>,
}

impl<'a> Noticed<'a> {
    /// Nothing yet; `None` where nothing can drag.
    pub(super) fn of(vehicle: &'a Vehicle) -> Option<Self> {
        (!vehicle.dragging.is_empty()).then(|| Self {
            vehicle,
            felt_s: None,
            most_m3: vec![0.0; vehicle.dragging.len()],
        })
    }

    /// Along the points of a stretch.
    pub(super) fn along(&mut self, shares: &Shares, points: &[Point]) {
        for pair in points.windows(2) {
            let (from, to) = (&pair[0], &pair[1]);
            if self.felt_s.is_none() {
                self.felt_s = self
                    .vehicle
                    .reaches_s(shares, from, to, FELT * self.vehicle.weight_n);
            }
            let [disc, caliper] = [2, 3].map(|figure| Cubic::between(from, to, figure));
            for (part, most_m3) in self.vehicle.dragging.iter().zip(&mut self.most_m3) {
                let added = disc.with(&caliper, |disc_k, caliper_k| {
                    self.vehicle.warmth_m3(part, Nodes { disc_k, caliper_k })
                });
                *most_m3 = most_m3.max(added.peak().0);
            }
        }
    }

    /// All that was noticed; `ends_s`: when nobody drove on.
    pub(super) fn drags(&self, ends_s: Option<f64>) -> Drags {
        let pressed = self.vehicle.dragging.iter().zip(&self.most_m3);
        Drags {
            felt_at: self.felt_s.map(Duration::from_s),
            ends_at: ends_s.map(Duration::from_s),
            pressure: pressed
                .map(|(part, &added_m3)| Pressure::from_pa(part.pressure_pa(added_m3)))
                .fold(Pressure::ZERO, Pressure::max),
        }
    }
}

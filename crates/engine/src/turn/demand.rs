//! From foot and hand to what is asked of every brake, moment by moment.
//!
//! Everything on the way is straight between kinks: the forces over time, the booster up to its run-out, the valve up to
//! its knee, the lever where it takes over from the pedal or its stroke ends, a brake's threshold. The kinks are found, and
//! a segment of time ends at each, so nothing is lost by a table.

use quantity::si::{Force, Pressure};

use crate::car::Wheel;
use crate::hydraulics::{Forces, Hydraulics};
use crate::loads::Laden;
use crate::network::Acting;

use super::script::{ActingLines, Course, Engine, Segment, Steering};
use super::technique::{After, Clutch, Release, Technique};

/// Foot forces at which chambers and stroke are worked out; straight between them.
const FOOT_STEPS: u32 = 32;

/// A kink is looked for as closely as this share of a stretch.
const KINK_SHARE: f64 = 1e-5;

/// What counts as straight, over the largest value there.
const STRAIGHT: f64 = 1e-5;

/// A force over time: up, on, and down again.
#[derive(Clone, Copy, Debug)]
struct Push {
    force: f64,
    at_s: f64,
    rise_s: f64,
    off_s: f64,
}

impl Push {
    fn value(&self, time_s: f64) -> f64 {
        let up = |time_s: f64| {
            if time_s < self.at_s {
                0.0
            } else if time_s >= self.at_s + self.rise_s {
                self.force
            } else {
                self.force * (time_s - self.at_s) / self.rise_s
            }
        };
        if time_s < self.off_s {
            return up(time_s);
        }
        let gone = time_s - self.off_s;
        if gone >= self.rise_s {
            0.0
        } else {
            up(self.off_s) * (1.0 - gone / self.rise_s)
        }
    }

    fn breaks(&self) -> [f64; 4] {
        [
            self.at_s,
            self.at_s + self.rise_s,
            self.off_s,
            self.off_s + self.rise_s,
        ]
    }

    /// From when to when there is any.
    fn lasts(&self) -> Option<(f64, f64)> {
        (self.force > 0.0 && self.off_s > self.at_s).then_some((self.at_s, self.off_s + self.rise_s))
    }
}

/// Everything asked at a moment, in the order front torque, rear pressure, lever, two chambers, the hand's own pressure.
type Asks = [f64; 6];

/// A car's pedal, circuit and lever, ready to be asked.
#[derive(Clone, Debug)]
pub(super) struct Demand {
    hydraulics: Hydraulics,
    knee: Pressure,
    senses_load: bool,
    cable: bool,
    foot_n: f64,
    /// Furthest that a driver points the front wheels off their way (rad).
    most_slip_rad: f64,
    /// Chambers' pressures and most own pressure of the hand, over foot force.
    over_foot: Vec<([f64; 2], f64)>,
    own_per_hand: f64,
}

impl Demand {
    /// For a technique on ground where a tyre gives most at a slip.
    pub(super) fn of(
        hydraulics: &Hydraulics,
        laden: &Laden,
        slip_at_peak: f64,
        technique: &Technique,
    ) -> Self {
        let foot_n = technique.foot.map_or(0.0, |foot| foot.force.n());
        let cylinder = hydraulics.lever_cylinder();
        let steps = if foot_n > 0.0 { FOOT_STEPS } else { 0 };
        let over_foot = (0..=steps)
            .map(|step| {
                let foot = Force::from_n(foot_n * f64::from(step) / f64::from(FOOT_STEPS));
                let answer = hydraulics.answer(
                    laden,
                    Forces {
                        foot,
                        hand: technique.hand,
                    },
                );
                let chambers = answer.pedal.chambers.map(Pressure::pa);
                let runs_out = answer.lever.filter(|lever| lever.runs_out.is_some());
                (
                    chambers,
                    runs_out
                        .and_then(|lever| lever.own)
                        .map_or(f64::INFINITY, Pressure::pa),
                )
            })
            .collect();
        let load = laden.axle_loads(0.0).rear;
        Self {
            knee: hydraulics.knee(load).unwrap_or(Pressure::ZERO),
            senses_load: hydraulics.senses_load(),
            cable: hydraulics.cable_torque(Force::ZERO).is_some(),
            foot_n,
            most_slip_rad: slip_at_peak.atan(),
            over_foot,
            own_per_hand: cylinder.map_or(0.0, crate::car::LeverCylinder::pressure_per_hand_pa_n),
            hydraulics: hydraulics.clone(),
        }
    }

    fn at_foot(&self, foot_n: f64) -> ([f64; 2], f64) {
        let Some(&last) = self.over_foot.last() else {
            return ([0.0; 2], f64::INFINITY);
        };
        if self.over_foot.len() == 1 || foot_n >= self.foot_n {
            return last;
        }
        let place = (foot_n / self.foot_n).max(0.0) * f64::from(FOOT_STEPS);
        #[allow(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "between 0 and 32"
        )]
        let index = (place as usize).min(self.over_foot.len() - 2);
        #[allow(clippy::cast_precision_loss, reason = "at most 32")]
        let share = place - index as f64;
        let ((low, low_cap), (high, high_cap)) = (self.over_foot[index], self.over_foot[index + 1]);
        let between = |low: f64, high: f64| low + (high - low) * share;
        let cap = if share > 0.0 && high_cap.is_finite() && low_cap.is_finite() {
            between(low_cap, high_cap)
        } else {
            low_cap.min(high_cap)
        };
        ([between(low[0], high[0]), between(low[1], high[1])], cap)
    }

    /// What foot and hand ask of the brakes.
    fn asks(&self, foot_n: f64, hand_n: f64) -> Asks {
        let (chambers, cap) = self.at_foot(foot_n);
        let own = (hand_n * self.own_per_hand).min(cap);
        let pulled = hand_n > 0.0 && self.own_per_hand > 0.0;
        let network = &self.hydraulics.network;
        let nodes = network.pressures(&Acting {
            first: Pressure::from_pa(chambers[0]),
            second: Pressure::from_pa(chambers[1]),
            own: pulled.then(|| Pressure::from_pa(own)),
            knee: self.knee,
        });
        let front = self.hydraulics.wheels[0].torque(network.at_wheel(&nodes, Wheel::FrontLeft));
        let lever = if self.cable {
            hand_n
        } else {
            network
                .at_lever_brake(&nodes, Wheel::RearLeft)
                .map_or(0.0, Pressure::pa)
        };
        [
            front.nm(),
            network.at_wheel(&nodes, Wheel::RearLeft).pa(),
            lever,
            chambers[0],
            chambers[1],
            own,
        ]
    }

    /// The segments of a technique. `released_s`: when the lever is let go; `None`: not before the end.
    pub(super) fn segments(
        &self,
        technique: &Technique,
        released_s: Option<f64>,
        centre_delay_s: f64,
    ) -> Vec<Segment> {
        self.segments_from(technique, released_s, centre_delay_s, 0.0)
    }

    /// Those that begin at a moment or later; it has to be one at which something begins.
    pub(super) fn segments_from(
        &self,
        technique: &Technique,
        released_s: Option<f64>,
        centre_delay_s: f64,
        first_s: f64,
    ) -> Vec<Segment> {
        let end = technique.until.s();
        let off = released_s.unwrap_or(f64::INFINITY);
        let hand = Push {
            force: technique.hand.n(),
            at_s: technique.lever_at.s(),
            rise_s: technique.lever_rise.s(),
            off_s: off,
        };
        let foot = technique.foot.map_or(
            Push {
                force: 0.0,
                at_s: 0.0,
                rise_s: 0.0,
                off_s: 0.0,
            },
            |foot| Push {
                force: foot.force.n(),
                at_s: foot.at.s(),
                rise_s: foot.rise.s(),
                off_s: foot.off.map_or(f64::INFINITY, |off| off.s()),
            },
        );
        let (steer_from, steer_to) = (
            technique.steer_at.s(),
            technique.steer_at.s() + technique.steer_in.s(),
        );
        // A wheel turned in no time is turned in a hundredth of a second.
        let steer_to = steer_to.max(steer_from + 0.01);
        let steer_rate = technique.steer.rad() / (steer_to - steer_from);
        let clutch_s = match technique.clutch {
            Clutch::Up => f64::INFINITY,
            Clutch::DownAt(at) => at.s(),
        };
        let let_go = hand
            .lasts()
            .map(|(from, to)| (from + centre_delay_s, to + centre_delay_s));
        let (throttle_from, throttle_to) =
            technique
                .throttle
                .map_or((f64::INFINITY, f64::INFINITY), |throttle| {
                    let from = throttle.at.map_or(off + throttle.wait.s(), |at| at.s());
                    (from, from + throttle.rise.s())
                });
        let mut breaks: Vec<f64> = [
            0.0,
            end,
            steer_from,
            steer_to,
            clutch_s,
            throttle_from,
            throttle_to,
        ]
        .into_iter()
        .chain(hand.breaks())
        .chain(foot.breaks())
        .chain(let_go.into_iter().flat_map(|(from, to)| [from, to]))
        .filter(|at| (0.0..=end).contains(at))
        .collect();
        breaks.sort_by(f64::total_cmp);
        breaks.dedup_by(|later, earlier| *later - *earlier < 1e-9);
        let mut segments = Vec::with_capacity(2 * breaks.len());
        for pair in breaks.windows(2) {
            let (from, to) = (pair[0], pair[1]);
            if from < first_s - 1e-9 {
                continue;
            }
            let middle = 0.5 * (from + to);
            // Forces straight through the stretch, whatever happens at its very ends.
            let through = |push: &Push| {
                let (early, late) = (0.75 * from + 0.25 * to, 0.25 * from + 0.75 * to);
                let (early, late) = (push.value(early), push.value(late));
                let half = 0.5 * (late - early);
                ((early - half).max(0.0), (late + half).max(0.0))
            };
            let ((foot_from, foot_to), (hand_from, hand_to)) = (through(&foot), through(&hand));
            let asks = |share: f64| {
                self.asks(
                    foot_from + (foot_to - foot_from) * share,
                    hand_from + (hand_to - hand_from) * share,
                )
            };
            let plain = Segment {
                steering: if middle > steer_from && middle < steer_to {
                    Steering::Rate(steer_rate)
                } else if middle > off && technique.after == After::IntoSlide {
                    Steering::IntoSlide {
                        lock_rad: technique.lock.rad(),
                        rate_rad_s: steer_rate.abs().max(0.5),
                    }
                } else if middle > off && technique.after == After::Drives {
                    Steering::Round {
                        lock_rad: technique.lock.rad(),
                        towards_rad: technique.side() * technique.bend.angle.rad().abs(),
                        most_rad: self.most_slip_rad,
                    }
                } else {
                    Steering::Rate(0.0)
                },
                let_go: let_go.is_some_and(|(from, to)| middle > from && middle < to),
                engine: match technique.throttle {
                    Some(throttle) if middle > throttle_from => {
                        let torque = |at: f64| {
                            let share = if throttle.rise.s() > 0.0 {
                                (at - throttle_from) / throttle.rise.s()
                            } else {
                                1.0
                            };
                            throttle.torque.nm() * share.clamp(0.0, 1.0)
                        };
                        let slope = torque(to) - torque(from);
                        let course = Course {
                            from: if slope.abs() > 0.0 {
                                torque(from)
                            } else {
                                torque(middle)
                            },
                            to: torque(to),
                        };
                        if throttle.eases {
                            Engine::Easing(course)
                        } else {
                            Engine::Pulling(course)
                        }
                    }
                    _ if middle > clutch_s => Engine::Parted,
                    _ => Engine::Closed,
                },
                pulled: hand
                    .lasts()
                    .is_some_and(|(from, _)| middle > from && middle < off),
                ..Segment::coasting(from, to)
            };
            let steady = (hand_to - hand_from).abs() <= 0.0 && (foot_to - foot_from).abs() <= 0.0;
            let kinks = if steady {
                vec![(0.0, asks(0.0)), (1.0, asks(1.0))]
            } else {
                straight_parts(&asks)
            };
            for ends in kinks.windows(2) {
                let ((start, first), (stop, last)) = (ends[0], ends[1]);
                let line = |part: usize| Course {
                    from: first[part],
                    to: last[part],
                };
                segments.push(Segment {
                    front_nm: line(0),
                    rear_pa: line(1),
                    lever: line(2),
                    acting: self.senses_load.then(|| ActingLines {
                        chambers: [line(3), line(4)],
                        own: (hand_from > 0.0 || hand_to > 0.0).then(|| line(5)),
                    }),
                    ..plain.over(
                        from + (to - from) * start,
                        if stop < 1.0 { from + (to - from) * stop } else { to },
                    )
                });
            }
        }
        segments
    }

    /// When a technique lets the lever go, where that is known beforehand.
    pub(super) fn known_release_s(technique: &Technique) -> Option<f64> {
        match technique.release {
            Release::At(at) if at < technique.until => Some(at.s().max(technique.lever_at.s())),
            _ => None,
        }
    }
}

impl Segment {
    /// The same over a part of its time, the figures asked of the brakes still to be set.
    fn over(&self, from_s: f64, to_s: f64) -> Self {
        let cut = Self::coasting(from_s, to_s);
        Self {
            steering: self.steering,
            let_go: self.let_go,
            engine: self.engine.over(self, from_s, to_s),
            pulled: self.pulled,
            ..cut
        }
    }
}

impl Engine {
    fn over(self, whole: &Segment, from_s: f64, to_s: f64) -> Self {
        match self {
            Self::Pulling(course) => Self::Pulling(course.over(whole, from_s, to_s)),
            Self::Easing(course) => Self::Easing(course.over(whole, from_s, to_s)),
            Self::Parted | Self::Closed => self,
        }
    }
}

impl Course {
    fn over(&self, whole: &Segment, from_s: f64, to_s: f64) -> Self {
        Self {
            from: self.at(whole, from_s),
            to: self.at(whole, to_s),
        }
    }
}

/// The straight parts of what is asked over a stretch, by their ends.
fn straight_parts(asks: &impl Fn(f64) -> Asks) -> Vec<(f64, Asks)> {
    let mut nodes = vec![(0.0, asks(0.0))];
    let (whole, end) = (asks(0.5), asks(1.0));
    let mut scale = [0.0_f64; 6];
    for values in [&nodes[0].1, &whole, &end] {
        for (most, value) in scale.iter_mut().zip(values) {
            *most = most.max(value.abs());
        }
    }
    split((0.0, nodes[0].1), (1.0, end), asks, &scale, &mut nodes);
    // What the halving cut without need is joined again.
    let mut parts = vec![nodes[0]];
    let mut from = 0;
    for index in 1..nodes.len() {
        let bends = index + 1 < nodes.len()
            && !(from + 1..=index).all(|inner| {
                let (start, stop) = (nodes[from], nodes[index + 1]);
                let share = (nodes[inner].0 - start.0) / (stop.0 - start.0);
                straight(&start.1, &stop.1, share, &nodes[inner].1, &scale)
            });
        if bends || index + 1 == nodes.len() {
            parts.push(nodes[index]);
            from = index;
        }
    }
    parts
}

fn straight(first: &Asks, last: &Asks, share: f64, between: &Asks, scale: &Asks) -> bool {
    (0..6).all(|part| {
        let expected = first[part] + (last[part] - first[part]) * share;
        (between[part] - expected).abs() <= STRAIGHT * scale[part]
    })
}

fn split(
    from: (f64, Asks),
    to: (f64, Asks),
    asks: &impl Fn(f64) -> Asks,
    scale: &Asks,
    nodes: &mut Vec<(f64, Asks)>,
) {
    let width = to.0 - from.0;
    let whole = width < KINK_SHARE
        || [0.31, 0.5, 0.73]
            .into_iter()
            .all(|share| straight(&from.1, &to.1, share, &asks(from.0 + width * share), scale));
    if whole {
        nodes.push(to);
        return;
    }
    let middle = (from.0 + 0.5 * width, asks(from.0 + 0.5 * width));
    split(from, middle, asks, scale, nodes);
    split(middle, to, asks, scale, nodes);
}

//! Stops of the foot, pulls of the hand, and wheels that stood.

use engine::car::Axle;
use quantity::si::{Duration, Pressure, Speed, Temperature};

use crate::channel::Channel;
use crate::clean::gap_before;
use crate::log::Log;

/// A brake is on from this pressure, and off below half of it (bar over its sensor's zero; judgement).
const ON_PA: f64 = 2e5;
/// Shorter than this is a touch (s).
const SHORTEST_S: f64 = 0.4;
/// A stop or pull takes off this much speed at least (m/s).
const LEAST_SLOWING_M_S: f64 = 1.0;
/// A wheel stands below this share of the car's speed, or where its sensor is blind (m/s).
const STANDS_SHARE: f64 = 0.1;
const BLIND_M_S: f64 = 0.45;
/// And the car moves (m/s).
const MOVES_M_S: f64 = 1.5;
/// For at least this long (s).
const STANDS_S: f64 = 0.05;
/// Beyond this share of slip a wheel no longer tells what its brake makes.
pub(crate) const SLIPS: f64 = 0.15;

/// What worked the brakes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum WorkedBy {
    /// The pedal.
    Foot,
    /// The handbrake.
    Hand,
}

/// A stop or a pull.
#[derive(Clone, Debug, PartialEq)]
pub struct Event {
    /// What worked the brakes.
    pub by: WorkedBy,
    /// From the first row.
    pub from: Duration,
    /// To.
    pub to: Duration,
    /// Speed when the brake came on.
    pub speed_from: Speed,
    /// And when it was let go.
    pub speed_to: Speed,
    /// Highest front pressure, over the sensor's zero.
    pub front_peak: Option<Pressure>,
    /// Highest rear pressure.
    pub rear_peak: Option<Pressure>,
    /// Mean deceleration over g.
    pub mean_rate: f64,
    /// Hottest disc at the end, front and rear.
    pub disc: [Option<Temperature>; 2],
    /// A gap of the log lies within it.
    pub has_gap: bool,
    pub(crate) rows: (usize, usize),
}

/// Wheels of an axle that stood while the car moved.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Lockup {
    /// Which axle.
    pub axle: Axle,
    /// From.
    pub from: Duration,
    /// To.
    pub to: Duration,
    /// Front pressure when they stopped.
    pub front: Option<Pressure>,
    /// Rear pressure when they stopped.
    pub rear: Option<Pressure>,
    /// The car's speed then.
    pub speed: Speed,
    /// What worked the brakes.
    pub by: WorkedBy,
}

/// What sensors show where nothing acts: pressures without a brake, acceleration at a standstill. SI.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct Zeros {
    pub(crate) front_pa: f64,
    pub(crate) rear_pa: f64,
    pub(crate) acceleration: f64,
}

/// A log with its zeros found.
pub(crate) struct Looked<'a> {
    pub(crate) log: &'a Log,
    pub(crate) zeros: Zeros,
}

impl<'a> Looked<'a> {
    pub(crate) fn at(log: &'a Log) -> Self {
        let pressure = |channel| {
            // Where it is low: a pressure sensor is off by less than 4 bar.
            middle(
                (0..log.rows())
                    .filter_map(|row| log.at(channel, row))
                    .filter(|pa| pa.abs() < 4e5 && *pa < ON_PA),
            )
        };
        let looked = Self {
            log,
            zeros: Zeros {
                front_pa: pressure(Channel::FrontPressure).unwrap_or(0.0),
                rear_pa: pressure(Channel::RearPressure).unwrap_or(0.0),
                acceleration: 0.0,
            },
        };
        let standing = middle(
            (0..log.rows())
                .filter(|&row| looked.speed(row).is_some_and(|speed| speed < 0.15))
                .filter_map(|row| log.at(Channel::Acceleration, row)),
        );
        Self {
            zeros: Zeros {
                acceleration: standing.filter(|zero| zero.abs() < 2.0).unwrap_or(0.0),
                ..looked.zeros
            },
            log,
        }
    }

    /// Pressure over the sensor's zero (Pa).
    pub(crate) fn front(&self, row: usize) -> Option<f64> {
        Some(self.log.at(Channel::FrontPressure, row)? - self.zeros.front_pa)
    }

    pub(crate) fn rear(&self, row: usize) -> Option<f64> {
        Some(self.log.at(Channel::RearPressure, row)? - self.zeros.rear_pa)
    }

    pub(crate) fn wheels(&self, axle: Axle, row: usize) -> [Option<f64>; 2] {
        let channels = match axle {
            Axle::Front => [Channel::WheelFrontLeft, Channel::WheelFrontRight],
            Axle::Rear => [Channel::WheelRearLeft, Channel::WheelRearRight],
        };
        channels.map(|channel| self.log.at(channel, row))
    }

    /// Speed of the car: its own column, or the fastest wheel (m/s).
    pub(crate) fn speed(&self, row: usize) -> Option<f64> {
        self.log.at(Channel::Speed, row).or_else(|| {
            [Axle::Front, Axle::Rear]
                .into_iter()
                .flat_map(|axle| self.wheels(axle, row))
                .flatten()
                .reduce(f64::max)
        })
    }

    /// Deceleration, positive while the car slows (m/s²): the sensor's, or the speed's over a fifth of a second.
    pub(crate) fn slowing(&self, row: usize) -> Option<f64> {
        if let Some(acceleration) = self.log.at(Channel::Acceleration, row) {
            return Some(self.zeros.acceleration - acceleration);
        }
        let time = &self.log.time_s;
        let before = time.partition_point(|&at| at < time[row] - 0.1);
        let after = time.partition_point(|&at| at <= time[row] + 0.1) - 1;
        let over = time[after] - time[before];
        if !(0.1..=0.5).contains(&over) {
            return None;
        }
        Some((self.speed(before)? - self.speed(after)?) / over)
    }

    /// Whether an axle's wheels stand while the car moves; `None` where nothing tells.
    fn stands(&self, axle: Axle, row: usize) -> Option<bool> {
        let speed = self.speed(row)?;
        let fastest = self.wheels(axle, row).into_iter().flatten().reduce(f64::max)?;
        Some(speed > MOVES_M_S && fastest < (STANDS_SHARE * speed).max(BLIND_M_S))
    }

    /// The greatest slip of any wheel that has a sensor.
    pub(crate) fn slip(&self, row: usize) -> Option<f64> {
        let speed = self.speed(row)?;
        let slowest = [Axle::Front, Axle::Rear]
            .into_iter()
            .flat_map(|axle| self.wheels(axle, row))
            .flatten()
            .reduce(f64::min)?;
        (speed > MOVES_M_S).then(|| 1.0 - slowest / speed)
    }

    pub(crate) fn events(&self) -> Vec<Event> {
        let mut events = Vec::new();
        let mut begun: Option<(usize, WorkedBy)> = None;
        // A lost sample or two does not end a stop.
        let mut silent = 0;
        for row in 0..self.log.rows() {
            let (front, rear) = (self.front(row), self.rear(row));
            let on = |pressure: Option<f64>, border: f64| pressure.is_some_and(|pa| pa > border);
            match begun {
                None => {
                    if on(front, ON_PA) {
                        begun = Some((row, WorkedBy::Foot));
                    } else if on(rear, ON_PA) {
                        let by_hand = self.log.has(Channel::FrontPressure) && front.is_some();
                        begun = Some((row, if by_hand { WorkedBy::Hand } else { WorkedBy::Foot }));
                    }
                    silent = 0;
                }
                Some((first, by)) => {
                    let holds = match by {
                        WorkedBy::Foot if self.log.has(Channel::FrontPressure) => front,
                        WorkedBy::Foot | WorkedBy::Hand => rear,
                    };
                    silent = if holds.is_none() { silent + 1 } else { 0 };
                    let by = if by == WorkedBy::Hand && on(front, ON_PA) && row - first < 8 {
                        // The rear sensor was the first to see a stop of the foot.
                        WorkedBy::Foot
                    } else {
                        by
                    };
                    begun = Some((first, by));
                    let over =
                        holds.is_some_and(|pa| pa < 0.5 * ON_PA) || silent > 60 || row + 1 == self.log.rows();
                    if over {
                        events.extend(self.event(first, row, by));
                        begun = None;
                    }
                }
            }
        }
        events
    }

    fn event(&self, first: usize, last: usize, by: WorkedBy) -> Option<Event> {
        let time = &self.log.time_s;
        let lasts_s = time[last] - time[first];
        // A sample of the speed may be missing at either end.
        let near =
            |row: usize| (row.saturating_sub(3)..(row + 4).min(time.len())).find_map(|row| self.speed(row));
        let (from, to) = (near(first)?, near(last)?);
        if lasts_s < SHORTEST_S || from - to < LEAST_SLOWING_M_S {
            return None;
        }
        let peak = |of: &dyn Fn(usize) -> Option<f64>| {
            (first..=last)
                .filter_map(of)
                .reduce(f64::max)
                .map(Pressure::from_pa)
        };
        let disc = |channel| {
            (first..=last)
                .filter_map(|row| self.log.at(channel, row))
                .reduce(f64::max)
                .map(Temperature::from_k)
        };
        // Until it stands: a car that is held does not slow.
        let stood = (first..=last).find(|&row| self.speed(row).is_some_and(|speed| speed < 0.15));
        let moving_s = time[stood.unwrap_or(last)] - time[first];
        Some(Event {
            by,
            from: Duration::from_s(time[first]),
            to: Duration::from_s(time[last]),
            speed_from: Speed::from_m_s(from),
            speed_to: Speed::from_m_s(to.max(0.0)),
            front_peak: peak(&|row| self.front(row)),
            rear_peak: peak(&|row| self.rear(row)),
            mean_rate: (from - to) / moving_s.max(self.log.step_s) / engine::GRAVITY_M_S2,
            disc: [disc(Channel::FrontDisc), disc(Channel::RearDisc)],
            has_gap: (first + 1..=last).any(|row| gap_before(self.log, row)),
            rows: (first, last),
        })
    }

    pub(crate) fn locks(&self, events: &[Event]) -> Vec<Lockup> {
        let mut locks = Vec::new();
        for event in events {
            for axle in [Axle::Front, Axle::Rear] {
                let mut since: Option<usize> = None;
                for row in event.rows.0..=event.rows.1 {
                    let stands = self.stands(axle, row).unwrap_or(since.is_some());
                    match (since, stands) {
                        (None, true) => since = Some(row),
                        (Some(first), false) => {
                            locks.extend(self.lock(axle, first, row, event.by));
                            since = None;
                        }
                        _ => {}
                    }
                }
                if let Some(first) = since {
                    locks.extend(self.lock(axle, first, event.rows.1, event.by));
                }
            }
        }
        locks.sort_by(|one, other| one.from.s().total_cmp(&other.from.s()));
        locks
    }

    fn lock(&self, axle: Axle, first: usize, last: usize, by: WorkedBy) -> Option<Lockup> {
        let time = &self.log.time_s;
        if time[last] - time[first] < STANDS_S {
            return None;
        }
        let pressure = |value: Option<f64>| value.map(Pressure::from_pa);
        Some(Lockup {
            axle,
            from: Duration::from_s(time[first]),
            to: Duration::from_s(time[last]),
            front: pressure(self.front(first)),
            rear: pressure(self.rear(first)),
            speed: Speed::from_m_s(self.speed(first)?),
            by,
        })
    }
}

/// The middle of figures; `None` where there are none.
pub(crate) fn middle(values: impl Iterator<Item = f64>) -> Option<f64> {
    let mut values: Vec<f64> = values.collect();
    if values.is_empty() {
        return None;
    }
    let at = values.len() / 2;
    let (_, middle, _) = values.select_nth_unstable_by(at, f64::total_cmp);
    Some(*middle)
}

/// Which step of so wide steps a figure lies in.
#[allow(
    clippy::cast_possible_truncation,
    reason = "temperatures and pressures over steps are small numbers"
)]
pub(crate) fn step_of(value: f64, wide: f64) -> i64 {
    (value / wide).floor() as i64
}

//! The actual split: rear pressure over front pressure while both stand still, and how far the rear lags.

use engine::car::{Car, MeasuredValve};
use engine::gauges::{GaugesFault, ValveRead, read_valve};
use engine::network::behind_valve;
use quantity::si::{Duration, Pressure};

use crate::events::{Event, Looked, WorkedBy, step_of};

/// A window in which both pressures stand (s), and what they may move in it (Pa).
const WINDOW_S: f64 = 0.10;
const STANDS_STILL_PA: f64 = 5e5;
/// After a stop begins the rear follows for a while (s).
const SETTLES_S: f64 = 0.30;
/// Windows of like front pressure are told as one reading, so many bar wide.
const BIN_PA: f64 = 2e5;
/// What a pressure sensor is off by beside its zero, 95 % half-width (judgement: half a per cent of 100 bar).
const SENSOR_PA: f64 = 0.5e5;
/// Lags that are tried, to so many hundredths of a second.
const LONGEST_LAG_S: f64 = 0.4;

/// The actual split.
#[derive(Clone, Debug, PartialEq)]
pub struct SplitRead {
    /// Knee, slope and how they stand to the sheet's.
    pub read: ValveRead,
    /// Pairs that it was read from: front and rear pressure, and how many windows.
    pub readings: Vec<(Pressure, Pressure, usize)>,
    /// How far the rear pressure follows behind.
    pub lag: Option<Lag>,
}

/// How far the rear pressure follows behind the valve's law.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Lag {
    /// Time constant.
    pub lag: Duration,
    /// Half of the step it was looked for in.
    pub unsure: Duration,
}

impl Looked<'_> {
    /// Reads the valve off all stops of the foot.
    pub(crate) fn split(&self, events: &[Event], car: &Car) -> Result<SplitRead, GaugesFault> {
        let mut windows: Vec<(f64, f64)> = Vec::new();
        for event in events.iter().filter(|event| event.by == WorkedBy::Foot) {
            self.still(event, &mut windows);
        }
        windows.sort_by(|one, other| one.0.total_cmp(&other.0));
        let readings: Vec<(Pressure, Pressure, usize)> = windows
            .chunk_by(|one, other| step_of(one.0, BIN_PA) == step_of(other.0, BIN_PA))
            .filter(|bin| bin.len() >= 2)
            .map(|bin| {
                let count = f64::from(u32::try_from(bin.len()).unwrap_or(u32::MAX));
                let mean =
                    |of: fn(&(f64, f64)) -> f64| Pressure::from_pa(bin.iter().map(of).sum::<f64>() / count);
                (mean(|pair| pair.0), mean(|pair| pair.1), bin.len())
            })
            .collect();
        let measured: Vec<MeasuredValve> = readings
            .iter()
            .map(|&(front, rear, _)| MeasuredValve {
                setting: None,
                front,
                rear,
            })
            .collect();
        let read = read_valve(car, &measured, Pressure::from_pa(SENSOR_PA))?;
        let knee = read
            .settings
            .first()
            .and_then(|at| at.knee)
            .map(|knee| knee.value);
        let lag = self.lag(events, knee, read.slope_taken);
        Ok(SplitRead { read, readings, lag })
    }

    /// Windows of a stop in which both pressures stand still: their means.
    fn still(&self, event: &Event, windows: &mut Vec<(f64, f64)>) {
        let time = &self.log.time_s;
        let (first, last) = event.rows;
        let mut row = first + time[first..=last].partition_point(|&at| at < time[first] + SETTLES_S);
        while row < last {
            let end = row + time[row..=last].partition_point(|&at| at < time[row] + WINDOW_S);
            let pairs: Vec<(f64, f64)> = (row..end)
                .filter_map(|row| Some((self.front(row)?, self.rear(row)?)))
                .collect();
            row = end.max(row + 1);
            if pairs.len() < 4 {
                continue;
            }
            let still = |of: fn(&(f64, f64)) -> f64| {
                let (low, high) = pairs
                    .iter()
                    .map(of)
                    .fold((f64::MAX, f64::MIN), |(low, high), value| {
                        (low.min(value), high.max(value))
                    });
                high - low < STANDS_STILL_PA
            };
            // Ends against beginning: a pressure that climbs through the window has not settled.
            let half = pairs.len() / 2;
            let mean = |pairs: &[(f64, f64)], of: fn(&(f64, f64)) -> f64| {
                pairs.iter().map(of).sum::<f64>() / f64::from(u32::try_from(pairs.len().max(1)).unwrap_or(1))
            };
            let climbs = (mean(&pairs[half..], |pair| pair.1) - mean(&pairs[..half], |pair| pair.1)).abs();
            if still(|pair| pair.0) && still(|pair| pair.1) && climbs < 0.1 * STANDS_STILL_PA {
                windows.push((mean(&pairs, |pair| pair.0), mean(&pairs, |pair| pair.1)));
            }
        }
    }

    /// The lag whose simulated rear pressure comes nearest to the one that was logged, over the first second of stops.
    fn lag(&self, events: &[Event], knee: Option<Pressure>, slope: f64) -> Option<Lag> {
        let time = &self.log.time_s;
        let law = |front_pa: f64| {
            let front = Pressure::from_pa(front_pa);
            knee.map_or(front_pa, |knee| behind_valve(front, knee, slope).pa())
        };
        let stops: Vec<(usize, usize)> = events
            .iter()
            .filter(|event| event.by == WorkedBy::Foot && !event.has_gap)
            .take(200)
            .map(|event| {
                let first = event.rows.0.saturating_sub(20);
                (
                    first,
                    (event.rows.0
                        + time[event.rows.0..=event.rows.1].partition_point(|&at| at < event.from.s() + 1.0))
                    .min(event.rows.1),
                )
            })
            .collect();
        let misfit = |lag_s: f64| {
            let (mut sum, mut count) = (0.0, 0_u32);
            for &(first, last) in &stops {
                let mut follows = self.front(first).map_or(0.0, law);
                for row in first + 1..last {
                    let Some(front) = self.front(row) else { continue };
                    let share = 1.0 - (-(time[row] - time[row - 1]) / lag_s.max(1e-4)).exp();
                    follows += share * (law(front.max(0.0)) - follows);
                    if let Some(rear) = self.rear(row) {
                        sum += (rear - follows).powi(2);
                        count += 1;
                    }
                }
            }
            (count > 50).then(|| sum / f64::from(count))
        };
        let step = (self.log.step_s / 2.0).clamp(0.0025, 0.02);
        let mut best: Option<(f64, f64)> = None;
        let mut lag_s = step;
        while lag_s <= LONGEST_LAG_S {
            let here = misfit(lag_s)?;
            if best.is_none_or(|(_, least)| here < least) {
                best = Some((lag_s, here));
            }
            lag_s += step;
        }
        best.map(|(lag, _)| Lag {
            lag: Duration::from_s(lag),
            unsure: Duration::from_s(step.max(self.log.step_s)),
        })
    }
}

//! Readings that say something of a sheet's tolerances, and what a car makes of each.

use quantity::si::{Force, Length, Pressure, Torque};

use super::kit::Kit;
use crate::brake::{TorqueLaw, Warmth};
use crate::car::{Car, Wheel};
use crate::fit::SD_IN_HALF_WIDTH;
use crate::foot::FootLaw;
use crate::hydraulics::{Forces, Hydraulics};
use crate::loads::{Aboard, Laden};
use crate::pull::PullCurve;

/// A gauge tells nothing below this many of its half-widths.
const BLIND_BELOW: f64 = 2.0;

/// What was read, at what.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Read {
    /// Line pressure under a foot.
    Pedal {
        /// Whether the booster worked.
        engine_on: bool,
        /// The foot.
        foot: Force,
        /// The gauge.
        pressure: Pressure,
    },
    /// Pressure at the rear under a hand.
    Hand {
        /// The hand.
        hand: Force,
        /// The gauge.
        pressure: Pressure,
    },
    /// Travel of the grip at a pressure.
    Travel {
        /// The gauge.
        pressure: Pressure,
        /// The tape.
        travel: Length,
    },
    /// Torque at which a held hub slips.
    Wheel {
        /// Which.
        wheel: Wheel,
        /// Whether the brake was cold or warm, where that is known.
        warmth: Option<Warmth>,
        /// The gauge.
        pressure: Pressure,
        /// The wrench.
        torque: Torque,
    },
}

/// A reading of a sheet.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Reading {
    /// What was read.
    pub read: Read,
    /// Which entry of its table, counted from 1; 0: it has not been taken.
    pub entry: usize,
    /// Which point of the entry, counted from 1.
    pub point: usize,
}

/// What a reading gives: its figure, what a car makes of it, in SI.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Made {
    /// What the car gives.
    pub(super) value: f64,
    /// How much that moves with what was set or read beside it, times that instrument's standard deviation.
    pub(super) beside_sd: f64,
    /// Further spread of what is not known beside the tolerances: cold or warm.
    pub(super) open_sd: f64,
}

impl Reading {
    /// The table of the sheet that it stands in.
    #[must_use]
    pub const fn table(&self) -> &'static str {
        match self.read {
            Read::Pedal { .. } => "measured.pedal",
            Read::Hand { .. } | Read::Travel { .. } => "measured.pull",
            Read::Wheel { .. } => "measured.wheel",
        }
    }

    /// The figure that was read, in SI.
    #[must_use]
    pub const fn value_si(&self) -> f64 {
        match self.read {
            Read::Pedal { pressure, .. } | Read::Hand { pressure, .. } => pressure.pa(),
            Read::Travel { travel, .. } => travel.m(),
            Read::Wheel { torque, .. } => torque.nm(),
        }
    }

    /// Whether it only says that what is computed is no more than this: a gauge at zero.
    pub(super) fn is_bound(&self, kit: &Kit) -> bool {
        match self.read {
            Read::Pedal { pressure, .. } => pressure.pa() < BLIND_BELOW * kit.gauge.pa(),
            _ => false,
        }
    }

    /// Whether a gauge can tell it at all.
    pub(super) fn tells(&self, kit: &Kit) -> bool {
        let seen = |pressure: Pressure| pressure.pa() >= BLIND_BELOW * kit.gauge.pa();
        match self.read {
            // Below what wakes a booster nobody knows where on its leap it is.
            Read::Pedal { engine_on, foot, .. } => !engine_on || foot >= crate::car::Booster::WAKES,
            Read::Hand { pressure, .. } | Read::Travel { pressure, .. } | Read::Wheel { pressure, .. } => {
                seen(pressure)
            }
        }
    }

    /// Standard deviation of the instrument that reads a figure of this size.
    pub(super) fn instrument_sd(&self, kit: &Kit, value_si: f64) -> f64 {
        let half_width = match self.read {
            Read::Pedal { .. } | Read::Hand { .. } => kit.gauge.pa(),
            Read::Travel { .. } => kit.tape.m(),
            Read::Wheel { .. } => kit.slip * value_si,
        };
        half_width / SD_IN_HALF_WIDTH
    }
}

/// A car made ready to say what instruments would read at it, standing and with nobody aboard.
pub(super) struct Bench<'a> {
    car: &'a Car,
    laden: Laden,
    hydraulics: Hydraulics,
    helped: FootLaw,
    unhelped: FootLaw,
    pull: Option<PullCurve>,
}

impl<'a> Bench<'a> {
    /// Of a car; its pull is looked at only where one of the readings is of it.
    pub(super) fn of(car: &'a Car, readings: &[Reading]) -> Self {
        let laden = Laden::of(car, Aboard::AS_WEIGHED);
        let hydraulics = Hydraulics::of(car, Warmth::Warm);
        // A load-sensing valve stands where the standing car puts it.
        let knee = hydraulics.knee(laden.axle_loads(0.0).rear);
        let hydraulics = match knee {
            Some(knee) => hydraulics.with_knee(knee),
            None => hydraulics,
        };
        let mut bare = car.clone();
        bare.pedal.booster = None;
        let of_travel = readings
            .iter()
            .any(|reading| matches!(reading.read, Read::Travel { .. }));
        Self {
            car,
            laden,
            hydraulics,
            helped: FootLaw::of(car),
            unhelped: FootLaw::of(&bare),
            pull: of_travel.then(|| PullCurve::of(car)).flatten(),
        }
    }

    /// What a reading would be of this car. `None` where it has nothing that could be read so.
    pub(super) fn makes(&self, reading: &Reading, kit: &Kit) -> Option<Made> {
        let sd = |half_width: f64| half_width / SD_IN_HALF_WIDTH;
        match reading.read {
            Read::Pedal { engine_on, foot, .. } => {
                let law = if engine_on { &self.helped } else { &self.unhelped };
                let at = |foot_n: f64| law.pressures(law.push_rod(Force::from_n(foot_n)))[0].pa();
                let step_n = kit.foot_scale.n();
                let foot_n = foot.n();
                // Not down into a booster's leap: beside it the slope says nothing.
                let (less, more) = (at((foot_n - step_n).max(0.0)), at(foot_n + step_n));
                let value = at(foot_n);
                let slope = ((more - value) / step_n).min(((more - less) / (2.0 * step_n)).abs());
                Some(Made {
                    value,
                    beside_sd: slope * sd(step_n),
                    open_sd: 0.0,
                })
            }
            Read::Hand { hand, .. } => {
                let lever = self.car.lever.as_ref()?;
                lever.cylinder()?;
                let at = |hand_n: f64| {
                    let forces = Forces {
                        foot: Force::ZERO,
                        hand: Force::from_n(hand_n),
                    };
                    let wheel = self.hydraulics.answer(&self.laden, forces).wheels[Wheel::RearLeft.index()];
                    wheel.lever_pressure.unwrap_or(wheel.pressure).pa()
                };
                let (hand_n, step_n) = (hand.n(), kit.hand_scale.n());
                Some(Made {
                    value: at(hand_n),
                    beside_sd: (at(hand_n + step_n) - at((hand_n - step_n).max(0.0))) / (2.0 * step_n)
                        * sd(step_n),
                    open_sd: 0.0,
                })
            }
            Read::Travel { pressure, .. } => {
                let curve = self.pull.as_ref()?;
                let bar = pressure.pa() / 1e5;
                if bar >= curve.cap_bar() {
                    return None;
                }
                let (mm, rise_mm_bar) = curve.travel_mm(bar, &curve.sheet());
                Some(Made {
                    value: mm / 1e3,
                    beside_sd: rise_mm_bar / 1e3 * sd(kit.gauge.pa() / 1e5),
                    open_sd: 0.0,
                })
            }
            Read::Wheel {
                wheel,
                warmth,
                pressure,
                ..
            } => {
                let law = |warmth| TorqueLaw::of(self.car.brake(wheel.axle()), warmth);
                let (cold, warm) = (law(Warmth::Cold), law(Warmth::Warm));
                let torque = |law: TorqueLaw| law.torque(pressure).nm();
                let (value, gain, open_sd) = match warmth {
                    Some(Warmth::Cold) => (torque(cold), cold.gain_nm_pa, 0.0),
                    Some(Warmth::Warm) => (torque(warm), warm.gain_nm_pa, 0.0),
                    // Anything from cold to warm, as likely as any other.
                    None => (
                        f64::midpoint(torque(cold), torque(warm)),
                        f64::midpoint(cold.gain_nm_pa, warm.gain_nm_pa),
                        (torque(warm) - torque(cold)).abs() / 12.0_f64.sqrt(),
                    ),
                };
                (value > 0.0).then_some(Made {
                    value,
                    beside_sd: gain * sd(kit.gauge.pa()),
                    open_sd,
                })
            }
        }
    }
}

/// Every reading of a car that an update can use, in the order of the sheet. The travel of the newest pull alone: pads,
/// fluid and hoses were others before.
pub(super) fn on_the_sheet(car: &Car) -> Vec<Reading> {
    let mut readings = Vec::new();
    let mut take = |read: Read, entry: usize, point: usize| readings.push(Reading { read, entry, point });
    for (entry, pedal) in (1..).zip(&car.measured.pedal) {
        let has_booster = car.pedal.booster.is_some();
        for (point, &(foot, pressure)) in (1..).zip(&pedal.points) {
            let read = Read::Pedal {
                engine_on: pedal.engine_on && has_booster,
                foot,
                pressure,
            };
            take(read, entry, point);
        }
    }
    let newest = (1..)
        .zip(&car.measured.pull)
        .max_by_key(|(entry, pull)| (pull.on, *entry))
        .map(|(entry, _)| entry);
    for (entry, pull) in (1_usize..).zip(&car.measured.pull) {
        for (point, read) in (1..).zip(&pull.points) {
            if let Some(hand) = read.hand {
                take(
                    Read::Hand {
                        hand,
                        pressure: read.pressure,
                    },
                    entry,
                    point,
                );
            }
            if Some(entry) == newest {
                take(
                    Read::Travel {
                        pressure: read.pressure,
                        travel: read.travel,
                    },
                    entry,
                    point,
                );
            }
        }
    }
    for (entry, wheel) in (1..).zip(&car.measured.wheel) {
        let read = Read::Wheel {
            wheel: wheel.wheel,
            warmth: wheel
                .cold
                .map(|cold| if cold { Warmth::Cold } else { Warmth::Warm }),
            pressure: wheel.pressure,
            torque: wheel.torque,
        };
        take(read, entry, 1);
    }
    readings
}

/// Readings that could be taken next, a list a way of taking them: what each would be set to.
pub(super) fn could_be_taken(car: &Car) -> Vec<Vec<Read>> {
    let pressed = |engine_on: bool, feet_n: [f64; 2]| {
        feet_n
            .map(|foot_n| Read::Pedal {
                engine_on,
                foot: Force::from_n(foot_n),
                pressure: Pressure::ZERO,
            })
            .to_vec()
    };
    let mut ways = Vec::new();
    if car.pedal.booster.is_some() {
        ways.push(pressed(true, [60.0, 150.0]));
    }
    ways.push(pressed(false, [200.0, 400.0]));
    let lever = car.lever.as_ref().filter(|lever| lever.cylinder().is_some());
    if let Some(lever) = lever {
        let pulls = [0.5, 1.0].map(|share| Read::Hand {
            hand: lever.hand_pull * share,
            pressure: Pressure::ZERO,
        });
        ways.push(pulls.to_vec());
        let travels = [6.0, 15.0, 30.0].map(|bar| Read::Travel {
            pressure: Pressure::from_pa(bar * 1e5),
            travel: Length::ZERO,
        });
        ways.push(travels.to_vec());
    }
    for wheel in [Wheel::RearLeft, Wheel::FrontLeft] {
        ways.push(vec![Read::Wheel {
            wheel,
            warmth: Some(Warmth::Cold),
            pressure: Pressure::from_pa(15e5),
            torque: Torque::ZERO,
        }]);
    }
    ways
}

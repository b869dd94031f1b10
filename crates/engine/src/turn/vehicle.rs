//! A car in plain numbers, and its equations of motion.
//!
//! A planar body on four wheels:
//!
//! ```text
//! m (u̇ − r v) = ΣF_x      m (v̇ + r u) = ΣF_y      I_z ṙ = Σ(x_i F_yi − y_i F_xi)
//! (diag(J) + I_in c cᵀ) ω̇ = T_ties + T_engine − T_brakes − R F_along
//! ```
//!
//! Loads follow the body's own accelerations with a lag; along the car by the height of the centre of gravity over the
//! wheelbase, across it by that over the track, each axle taking its share of the roll. Left out: rolling resistance,
//! air, the difference between the steer of the two front wheels, the suspension's own motions.

use quantity::si::{Force, Pressure};

use crate::GRAVITY_M_S2;
use crate::brake::TorqueLaw;
use crate::car::{Axle, BiasValve, Car, Wheel};
use crate::loads::Laden;
use crate::network::{Acting, Network};

use super::contact::{Contact, Tyre};
use super::driveline::{Driveline, Tie};
use super::friction::{Mode, STOPS};
use super::motion::{
    FORWARD, HEADING, INPUT, LEVER, Motion, PUSH, REAR, SIDEWAYS, SPIN, STATES, STEER, SWAY, State, X, Y,
    YAW, spin,
};
use super::script::{Engine, Segment, Steering};

/// How the wheels' loads follow the body.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Transfer {
    /// After the accelerations, with a lag.
    Lagged {
        /// Time constant (s).
        time_s: f64,
    },
    /// At what the motion started with, whatever the body does.
    Held,
}

/// What works on the rear wheels beside the circuit's own brakes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum LeverBrake {
    /// Nothing.
    None,
    /// Calipers of the lever's own.
    Caliper(TorqueLaw),
    /// A cable: torque of each wheel per force of the hand (m).
    Cable(f64),
}

/// A valve whose knee hangs on the rear axle's load of the moment.
#[derive(Clone, Debug)]
pub struct LiveValve {
    pub(super) network: Network,
    pub(super) valve: BiasValve,
}

/// A car in plain numbers.
#[derive(Clone, Debug)]
pub struct Vehicle<T> {
    /// All of it (kg).
    pub mass_kg: f64,
    /// About the vertical through the centre of gravity [kg m²].
    pub yaw_inertia_kg_m2: f64,
    /// Centre of gravity behind the front axle (a) (m).
    pub cg_aft_m: f64,
    /// Front axle to rear axle (m).
    pub wheelbase_m: f64,
    /// Centre of gravity above the ground (m).
    pub cg_height_m: f64,
    /// Front and rear track (m); zero: the axle's two wheels stand in one place.
    pub tracks_m: [f64; 2],
    /// The front axle's share of the sideways load transfer.
    pub roll_share_front: f64,
    /// Rolling radius of front and rear wheels (m).
    pub radii_m: [f64; 2],
    /// Gravity (m/s²).
    pub gravity_m_s2: f64,
    /// What ties the wheels to each other and to the engine.
    pub driveline: Driveline,
    /// Each rear wheel's brake, over the rear circuit's pressure.
    pub rear_brake: TorqueLaw,
    /// What else works on the rear wheels.
    pub lever_brake: LeverBrake,
    /// A load-sensing valve.
    pub live_valve: Option<LiveValve>,
    /// Time in which the rear brakes follow what is asked of them (s).
    pub pressure_lag_s: f64,
    /// How the wheels' loads follow the body.
    pub transfer: Transfer,
    /// The tyres on their ground.
    pub tyre: T,
}

/// Time constant of the load transfer (s) (from memory, judgement).
pub const TRANSFER_LAG_S: f64 = 0.06;

/// Time constant of the rear brakes' pressure (s) (from memory, judgement).
pub const PRESSURE_LAG_S: f64 = 0.05;

/// How fast plates feel what enters their differential (s): so short that it is known at any moment, and not so short that the
/// equations have to be solved within themselves.
const INPUT_LAG_S: f64 = 0.003;

/// How fast a driver who steers into the slide closes in on where the front axle is going (s) (judgement).
const STEERING_LAG_S: f64 = 0.08;

/// Everything that one look at the equations gives.
#[derive(Clone, Copy, Debug)]
pub(super) struct Rates {
    pub(super) rates: State,
    /// Torques on the wheels without any dry friction [N m].
    pub(super) torques_nm: [f64; 4],
    /// What each stop can hold [N m].
    pub(super) frictions_nm: [f64; STOPS],
}

impl<T: Tyre> Vehicle<T> {
    /// Of a laden car.
    pub(super) fn new(car: &Car, laden: &Laden, driveline: Driveline, brakes: Brakes, tyre: T) -> Self {
        Self {
            mass_kg: laden.mass.kg(),
            yaw_inertia_kg_m2: laden.yaw_inertia.kg_m2(),
            cg_aft_m: laden.cg_aft.m(),
            wheelbase_m: laden.wheelbase.m(),
            cg_height_m: laden.cg_height.m(),
            tracks_m: [car.geometry.front_track.m(), car.geometry.rear_track.m()],
            roll_share_front: car.geometry.roll_share_front,
            radii_m: [car.tyres.front_radius.m(), car.tyres.rear_radius.m()],
            gravity_m_s2: GRAVITY_M_S2,
            driveline,
            rear_brake: brakes.rear,
            lever_brake: brakes.lever,
            live_valve: brakes.live_valve,
            pressure_lag_s: PRESSURE_LAG_S,
            transfer: Transfer::Lagged {
                time_s: TRANSFER_LAG_S,
            },
            tyre,
        }
    }

    /// Where a wheel stands from the centre of gravity: ahead and to the left (m).
    pub(super) fn place(&self, wheel: usize) -> (f64, f64) {
        let ahead = if wheel < 2 {
            self.cg_aft_m
        } else {
            self.cg_aft_m - self.wheelbase_m
        };
        let half = 0.5 * self.tracks_m[wheel / 2];
        (ahead, if wheel.is_multiple_of(2) { half } else { -half })
    }

    /// Loads of the four wheels (N). Along the car no axle gives more than it carries; across it no wheel does.
    #[inline]
    fn loads_n(&self, push_m_s2: f64, sway_m_s2: f64) -> [f64; 4] {
        let weight = self.mass_kg * self.gravity_m_s2;
        let rear_static = weight * self.cg_aft_m / self.wheelbase_m;
        let rearward = (self.mass_kg * push_m_s2 * self.cg_height_m / self.wheelbase_m)
            .clamp(-rear_static, weight - rear_static);
        let axles = [weight - rear_static - rearward, rear_static + rearward];
        let shares = [self.roll_share_front, 1.0 - self.roll_share_front];
        let mut loads = [0.0; 4];
        for axle in 0..2 {
            let half = 0.5 * axles[axle];
            let across = if self.tracks_m[axle] > 0.0 {
                let moved = shares[axle] * self.mass_kg * sway_m_s2 * self.cg_height_m / self.tracks_m[axle];
                moved.clamp(-half, half)
            } else {
                0.0
            };
            loads[2 * axle] = half - across;
            loads[2 * axle + 1] = half + across;
        }
        loads
    }

    /// How a wheel meets the ground.
    #[inline]
    fn contact(&self, wheel: usize, state: &State, load_n: f64, cos: f64, sin: f64) -> Contact {
        let (ahead, left) = self.place(wheel);
        let along = state[FORWARD] - state[YAW] * left;
        let across = state[SIDEWAYS] + state[YAW] * ahead;
        let (axle, along, across) = if wheel < 2 {
            (
                Axle::Front,
                along * cos + across * sin,
                across * cos - along * sin,
            )
        } else {
            (Axle::Rear, along, across)
        };
        Contact {
            axle,
            load_n,
            along_m_s: along,
            across_m_s: across,
            rolling_m_s: state[SPIN + wheel] * self.radii_m[wheel / 2],
        }
    }

    /// How the four wheels meet the ground in a motion.
    pub(super) fn contacts(&self, state: &State) -> [Contact; 4] {
        let loads = self.loads_n(state[PUSH], state[SWAY]);
        let (sin, cos) = state[STEER].sin_cos();
        [0, 1, 2, 3].map(|wheel| self.contact(wheel, state, loads[wheel], cos, sin))
    }

    /// What a moment's motion and the driver's doings make of the motion: the rates of all its figures, with stops held
    /// and turning as a fresh look at them decides.
    #[must_use]
    pub fn rates(&self, motion: &Motion, doing: &Segment, time_s: f64) -> Motion {
        let state = motion.state();
        let mode = self.mode(&state, doing, time_s);
        Motion::of(&self.look(&mode, doing, time_s, &state).rates)
    }

    /// Kinetic energy (J), of the body and everything that turns with the wheels.
    #[must_use]
    pub fn energy_j(&self, motion: &Motion, engine_joined: bool) -> f64 {
        let mass = super::friction::mass(&self.driveline, engine_joined);
        let spin = motion.wheel_rad_s;
        let turning: f64 = (0..4)
            .map(|row| spin[row] * (0..4).map(|column| mass[row][column] * spin[column]).sum::<f64>())
            .sum();
        0.5 * (self.mass_kg * (motion.forward_m_s.powi(2) + motion.sideways_m_s.powi(2))
            + self.yaw_inertia_kg_m2 * motion.yaw_rate_rad_s.powi(2)
            + turning)
    }

    /// Which stops are held at a moment.
    pub(super) fn mode(&self, state: &State, doing: &Segment, time_s: f64) -> Mode {
        let nothing = Mode::decide(
            &self.driveline,
            doing.joined(),
            &spin(state),
            &[0.0; 4],
            &[0.0; STOPS],
        );
        let look = self.look(&nothing, doing, time_s, state);
        Mode::decide(
            &self.driveline,
            doing.joined(),
            &spin(state),
            &look.torques_nm,
            &look.frictions_nm,
        )
    }

    /// What the brakes and the engine can hold [N m].
    #[inline]
    fn frictions_nm(&self, doing: &Segment, time_s: f64, state: &State) -> [f64; STOPS] {
        let front = doing.front_nm.at(doing, time_s).max(0.0);
        let law = &self.rear_brake;
        let mut rear = law.gain_nm_pa * (state[REAR] - law.threshold.pa()).max(0.0);
        rear += match self.lever_brake {
            LeverBrake::None => 0.0,
            LeverBrake::Caliper(law) => law.gain_nm_pa * (state[LEVER] - law.threshold.pa()).max(0.0),
            LeverBrake::Cable(torque_per_force) => torque_per_force * state[LEVER].max(0.0),
        };
        let engine = if matches!(doing.engine, Engine::Closed) {
            self.driveline.engine_drag_nm
        } else {
            0.0
        };
        [front, front, rear, rear, engine]
    }

    /// Engine's torque at the pinion as the differentials feel it [N m].
    #[inline]
    fn engine_nm(&self, mode: &Mode, doing: &Segment, time_s: f64) -> f64 {
        match doing.engine {
            Engine::Parted => 0.0,
            Engine::Closed => -mode.ways[4] * self.driveline.engine_drag_nm,
            Engine::Pulling(at_crank) => at_crank.at(doing, time_s) * self.driveline.gear,
        }
    }

    /// Pressure that the rear brakes are asked for (Pa).
    #[inline]
    fn rear_asked_pa(&self, doing: &Segment, time_s: f64, loads: &[f64; 4]) -> f64 {
        match (&self.live_valve, &doing.acting) {
            (Some(live), Some(lines)) => {
                let at = |line: &super::script::Course| Pressure::from_pa(line.at(doing, time_s));
                let nodes = live.network.pressures(&Acting {
                    first: at(&lines.chambers[0]),
                    second: at(&lines.chambers[1]),
                    own: lines.own.as_ref().map(at),
                    knee: live.valve.knee_at(Force::from_n(loads[2] + loads[3])),
                });
                live.network.at_wheel(&nodes, Wheel::RearLeft).pa()
            }
            _ => doing.rear_pa.at(doing, time_s),
        }
    }

    /// One look at the equations.
    pub(super) fn look(&self, mode: &Mode, doing: &Segment, time_s: f64, state: &State) -> Rates {
        let loads = self.loads_n(state[PUSH], state[SWAY]);
        let (sin, cos) = state[STEER].sin_cos();
        let (mut force_x, mut force_y, mut moment) = (0.0, 0.0, 0.0);
        let engine_nm = self.engine_nm(mode, doing, time_s);
        let spins = spin(state);
        let mut torques = self
            .driveline
            .torques_nm(&spins, doing.let_go, engine_nm, &state[INPUT..]);
        for wheel in 0..4 {
            let force = self
                .tyre
                .force(&self.contact(wheel, state, loads[wheel], cos, sin));
            torques[wheel] -= self.radii_m[wheel / 2] * force.along_n;
            let (x, y) = if wheel < 2 {
                (
                    force.along_n * cos - force.across_n * sin,
                    force.along_n * sin + force.across_n * cos,
                )
            } else {
                (force.along_n, force.across_n)
            };
            let (ahead, left) = self.place(wheel);
            force_x += x;
            force_y += y;
            moment += ahead * y - left * x;
        }
        if matches!(doing.engine, Engine::Pulling(_)) {
            for (torque, turns) in torques.iter_mut().zip(&self.driveline.pinion_turns) {
                *torque += engine_nm * turns;
            }
        }
        let frictions = self.frictions_nm(doing, time_s, state);
        let with_friction = mode.with_friction(&self.driveline, &torques, &frictions);
        let spun_up = mode.accelerations(&with_friction);
        let (push, sway) = (force_x / self.mass_kg, force_y / self.mass_kg);
        let (sin_heading, cos_heading) = state[HEADING].sin_cos();
        let mut rates = [0.0; STATES];
        rates[X] = state[FORWARD] * cos_heading - state[SIDEWAYS] * sin_heading;
        rates[Y] = state[FORWARD] * sin_heading + state[SIDEWAYS] * cos_heading;
        rates[HEADING] = state[YAW];
        rates[FORWARD] = push + state[YAW] * state[SIDEWAYS];
        rates[SIDEWAYS] = sway - state[YAW] * state[FORWARD];
        rates[YAW] = moment / self.yaw_inertia_kg_m2;
        rates[SPIN..SPIN + 4].copy_from_slice(&spun_up);
        if let Transfer::Lagged { time_s } = self.transfer {
            rates[PUSH] = (push - state[PUSH]) / time_s;
            rates[SWAY] = (sway - state[SWAY]) / time_s;
        }
        rates[REAR] = (self.rear_asked_pa(doing, time_s, &loads) - state[REAR]) / self.pressure_lag_s;
        rates[LEVER] = (doing.lever.at(doing, time_s) - state[LEVER]) / self.pressure_lag_s;
        rates[STEER] = self.steer_rate(doing, state);
        let feel = self.driveline.feel();
        if feel != [false; 2] {
            let inputs = self.inputs_nm(mode, doing, engine_nm, &spins, &with_friction, &spun_up);
            for axle in 0..2 {
                if feel[axle] {
                    rates[INPUT + axle] = (inputs[axle] - state[INPUT + axle]) / INPUT_LAG_S;
                }
            }
        }
        Rates {
            rates,
            torques_nm: torques,
            frictions_nm: frictions,
        }
    }

    /// What enters the differentials of front and rear axle at the half-shafts [N m]: what the centre takes from the front
    /// and gives to the rear, and each axle's share of what comes through the pinion, the inertia before it taken off. A
    /// locked centre and an engine that stands give what their constraint takes; where wheels of both axles are held by
    /// their brakes that cannot be told apart from the brakes' own, and nothing is counted.
    fn inputs_nm(
        &self,
        mode: &Mode,
        doing: &Segment,
        engine_nm: f64,
        spins: &[f64; 4],
        torques_nm: &[f64; 4],
        spun_up: &[f64; 4],
    ) -> [f64; 2] {
        let driveline = &self.driveline;
        let turns = [driveline.axle_turns(0), driveline.axle_turns(1)];
        let joined = doing.joined();
        let inertia = driveline.input_inertia_kg_m2
            + if joined.engine {
                driveline.engine_inertia_kg_m2
            } else {
                0.0
            };
        let pinion: f64 = driveline
            .pinion_turns
            .iter()
            .zip(spun_up)
            .map(|(turns, spun_up)| turns * spun_up)
            .sum();
        let locked = *driveline.centre_now(joined.let_go) == Tie::Locked;
        let stands = mode.held[4];
        let mut bracket = if stands { 0.0 } else { engine_nm - inertia * pinion };
        let mut centre = if locked {
            0.0
        } else {
            driveline.centre_nm(spins, joined.let_go, engine_nm)
        };
        if locked || stands {
            let missing = mode.constrained_nm(torques_nm, spun_up);
            let of_axle = |axle: usize| missing[2 * axle] + missing[2 * axle + 1];
            let free = |axle: usize| !mode.held[2 * axle] && !mode.held[2 * axle + 1];
            match (free(0), free(1)) {
                (true, true) => {
                    if stands && turns[0] + turns[1] > 0.0 {
                        bracket = (of_axle(0) + of_axle(1)) / (turns[0] + turns[1]);
                    }
                    if locked {
                        centre = turns[0] * bracket * f64::from(u8::from(stands)) - of_axle(0);
                    }
                }
                (true, false) if locked => centre = -of_axle(0),
                (false, true) if locked => centre = of_axle(1),
                (true, false) if turns[0] > 0.0 => bracket = of_axle(0) / turns[0],
                (false, true) if turns[1] > 0.0 => bracket = of_axle(1) / turns[1],
                _ => {}
            }
        }
        [turns[0] * bracket - centre, turns[1] * bracket + centre]
    }

    fn steer_rate(&self, doing: &Segment, state: &State) -> f64 {
        match doing.steering {
            Steering::Rate(rate) => rate,
            Steering::IntoSlide { lock_rad, rate_rad_s } => {
                let across = state[SIDEWAYS] + state[YAW] * self.cg_aft_m;
                let going = across.atan2(state[FORWARD].max(0.1)).clamp(-lock_rad, lock_rad);
                ((going - state[STEER]) / STEERING_LAG_S).clamp(-rate_rad_s, rate_rad_s)
            }
        }
    }

    /// Slopes of the rates of u, v, r and the four wheels over those seven, the loads taken as they are.
    pub(super) fn slopes(&self, mode: &Mode, doing: &Segment, time_s: f64, state: &State) -> [[f64; 7]; 7] {
        let loads = self.loads_n(state[PUSH], state[SWAY]);
        let (sin, cos) = state[STEER].sin_cos();
        let engine_nm = self.engine_nm(mode, doing, time_s);
        let ties = self
            .driveline
            .slopes(&spin(state), doing.let_go, engine_nm, &state[INPUT..]);
        let mut slopes = [[0.0; 7]; 7];
        let mut torques = [[0.0; 7]; 4];
        for wheel in 0..4 {
            let radius = self.radii_m[wheel / 2];
            let tyre = self
                .tyre
                .slopes(&self.contact(wheel, state, loads[wheel], cos, sin));
            let (cos, sin) = if wheel < 2 { (cos, sin) } else { (1.0, 0.0) };
            let (ahead, left) = self.place(wheel);
            // Speeds of the hub along and across the wheel over u, v and r.
            let along = [cos, sin, ahead * sin - left * cos];
            let across = [-sin, cos, ahead * cos + left * sin];
            let chain = |of: &[f64; 3]| {
                let mut all = [0.0; 4];
                for part in 0..3 {
                    all[part] = of[0] * along[part] + of[1] * across[part];
                }
                all[3] = of[2] * radius;
                all
            };
            let (force_along, force_across) = (chain(&tyre.along_n_s_m), chain(&tyre.across_n_s_m));
            for part in 0..4 {
                let column = if part < 3 { part } else { 3 + wheel };
                let x = force_along[part] * cos - force_across[part] * sin;
                let y = force_along[part] * sin + force_across[part] * cos;
                slopes[0][column] += x / self.mass_kg;
                slopes[1][column] += y / self.mass_kg;
                slopes[2][column] += (ahead * y - left * x) / self.yaw_inertia_kg_m2;
                torques[wheel][column] -= radius * force_along[part];
            }
            for other in 0..4 {
                torques[wheel][3 + other] += ties[wheel][other];
            }
        }
        slopes[0][1] += state[YAW];
        slopes[0][2] += state[SIDEWAYS];
        slopes[1][0] -= state[YAW];
        slopes[1][2] -= state[FORWARD];
        for row in 0..4 {
            for column in 0..7 {
                slopes[3 + row][column] = (0..4)
                    .map(|wheel| mode.response[row][wheel] * torques[wheel][column])
                    .sum();
            }
        }
        slopes
    }

    /// Rates of the lagged figures over themselves, by their place in a state.
    pub(super) fn lags(&self) -> [(usize, f64); 6] {
        let transfer = match self.transfer {
            Transfer::Lagged { time_s } => -1.0 / time_s,
            Transfer::Held => 0.0,
        };
        let pressure = -1.0 / self.pressure_lag_s;
        [
            (PUSH, transfer),
            (SWAY, transfer),
            (REAR, pressure),
            (LEVER, pressure),
            (INPUT, -1.0 / INPUT_LAG_S),
            (INPUT + 1, -1.0 / INPUT_LAG_S),
        ]
    }
}

/// What the car's brakes bring into a [`Vehicle`].
#[derive(Clone, Debug)]
pub(super) struct Brakes {
    pub(super) rear: TorqueLaw,
    pub(super) lever: LeverBrake,
    pub(super) live_valve: Option<LiveValve>,
}

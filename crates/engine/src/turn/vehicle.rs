//! A car in plain numbers; [`dynamics`](super::dynamics) say how it moves.

use std::sync::Arc;

use quantity::si::{Force, Pressure};

use crate::GRAVITY_M_S2;
use crate::brake::TorqueLaw;
use crate::car::{Axle, BiasValve, Car, Wheel};
use crate::loads::Laden;
use crate::network::{Acting, Network};

use super::contact::{Contact, Tyre};
use super::driveline::{Carried, Driveline};
use super::dynamics::{Any, Between, Body, Doing, Equations, Look, Meets, Parts};
use super::friction::Mode;
use super::motion::{Motion, STEER, State, spin};
use super::script::{Course, Segment};

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
    pub(super) network: Arc<Network>,
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

    /// Its figures as the equations read them.
    pub(super) fn body(&self) -> Body<f64> {
        let driveline = &self.driveline;
        let weight_n = self.mass_kg * self.gravity_m_s2;
        let rear_n = weight_n * self.cg_aft_m / self.wheelbase_m;
        // Wheels of one axle in one place carry the same, whatever rolls.
        let track = |axle: usize| {
            if self.tracks_m[axle] > 0.0 {
                self.tracks_m[axle]
            } else {
                f64::INFINITY
            }
        };
        let (lever_gain, lever_threshold) = match self.lever_brake {
            LeverBrake::None => (0.0, 0.0),
            LeverBrake::Caliper(law) => (law.gain_nm_pa, law.threshold.pa()),
            LeverBrake::Cable(torque_per_force) => (torque_per_force, 0.0),
        };
        Body {
            mass_kg: self.mass_kg,
            per_mass: self.mass_kg,
            per_yaw_inertia: self.yaw_inertia_kg_m2,
            cg_height_m: self.cg_height_m,
            per_wheelbase: self.wheelbase_m,
            per_track: [track(0), track(1)],
            rolled_kg: [
                self.roll_share_front * self.mass_kg,
                (1.0 - self.roll_share_front) * self.mass_kg,
            ],
            axles_n: [weight_n - rear_n, rear_n],
            ahead_m: [self.cg_aft_m, self.cg_aft_m - self.wheelbase_m],
            half_track_m: self.tracks_m.map(|track| 0.5 * track),
            radii_m: self.radii_m,
            gear: driveline.gear,
            pinion_turns: driveline.pinion_turns,
            axle_turns: [driveline.axle_turns(0), driveline.axle_turns(1)],
            centre_turns: driveline.centre_turns,
            per_centre_turns: driveline.centre_turns,
            rear_gain: self.rear_brake.gain_nm_pa,
            rear_threshold: self.rear_brake.threshold.pa(),
            lever_gain,
            lever_threshold,
            per_transfer_lag: match self.transfer {
                Transfer::Lagged { time_s } => time_s,
                Transfer::Held => f64::INFINITY,
            },
            per_pressure_lag: self.pressure_lag_s,
            feel: driveline.feel().map(|feels| f64::from(u8::from(feels))),
        }
    }

    /// Where a wheel stands from the centre of gravity: ahead and to the left (m).
    pub(super) fn place(&self, wheel: usize) -> (f64, f64) {
        self.body().place(wheel)
    }

    /// How the four wheels meet the ground in a motion.
    pub(super) fn contacts(&self, state: &State) -> [Contact; 4] {
        let body = self.body();
        let loads = body.loads_n(state);
        let steer = state[STEER].sin_cos();
        [0, 1, 2, 3].map(|wheel| contact(wheel, &body.meets(wheel, state, loads[wheel], steer)))
    }

    /// What a moment's motion and the driver's doings make of the motion: the rates of all its figures, with stops held
    /// and turning as a fresh look at them decides.
    #[must_use]
    pub fn rates(&self, motion: &Motion, doing: &Segment, time_s: f64) -> Motion {
        let state = motion.state();
        let mode = self.mode(&state, doing, time_s);
        let stretch = Stretch::new(self, doing, mode);
        Motion::of(&stretch.look(time_s, &state).rates)
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
        let turning = Mode::turning(&self.driveline, &spin(state));
        let look = Stretch::new(self, doing, turning).look(time_s, state);
        Mode::decide(
            &self.driveline,
            doing.joined(),
            &spin(state),
            &look.torques_nm,
            &look.frictions_nm,
        )
    }
}

/// A wheel on the ground as tyres from elsewhere are told of it.
fn contact(wheel: usize, meets: &Meets<f64>) -> Contact {
    Contact {
        axle: if wheel < 2 { Axle::Front } else { Axle::Rear },
        load_n: meets.load_n,
        along_m_s: meets.along_m_s,
        across_m_s: meets.across_m_s,
        rolling_m_s: meets.rolling_m_s,
    }
}

/// A vehicle on its way through a segment.
pub(super) struct Stretch<'a, T> {
    pub(super) vehicle: &'a Vehicle<T>,
    pub(super) segment: Segment,
    pub(super) mode: Mode,
    pub(super) body: Body<f64>,
    pub(super) doing: Doing<f64>,
    pub(super) any: Any,
}

impl<'a, T: Tyre> Stretch<'a, T> {
    pub(super) fn new(vehicle: &'a Vehicle<T>, segment: &Segment, mode: Mode) -> Self {
        let mut stretch = Self {
            vehicle,
            segment: *segment,
            body: vehicle.body(),
            doing: segment.doing(vehicle.driveline.engine_drag_nm),
            any: Any::default(),
            mode,
        };
        stretch.any.feel = vehicle.driveline.feel();
        stretch.enter(segment);
        stretch
    }

    /// Goes on with another segment.
    pub(super) fn enter(&mut self, segment: &Segment) {
        self.segment = *segment;
        self.doing = segment.doing(self.vehicle.driveline.engine_drag_nm);
        self.any.pulling = self.doing.pulling > 0.0;
        self.any.into = self.doing.into > 0.0;
        self.any.eases = self.doing.eases > 0.0;
        self.any.round = self.doing.round > 0.0;
    }

    pub(super) fn equations(&self) -> Equations<'_, f64, Self> {
        Equations {
            body: &self.body,
            doing: &self.doing,
            firm: &self.mode.firm,
            any: Any {
                constrained: self.mode.constrained,
                ..self.any
            },
            parts: self,
        }
    }

    /// One look at the equations.
    pub(super) fn look(&self, time_s: f64, state: &State) -> Look<f64> {
        self.equations().look(time_s, state)
    }
}

impl<T: Tyre> Parts<f64> for Stretch<'_, T> {
    #[inline(always)]
    fn force(&self, wheel: usize, meets: &Meets<f64>) -> (f64, f64) {
        let force = self.vehicle.tyre.force(&contact(wheel, meets));
        (force.along_n, force.across_n)
    }

    #[inline(always)]
    fn slopes(&self, wheel: usize, meets: &Meets<f64>) -> [[f64; 4]; 2] {
        let slopes = self.vehicle.tyre.slopes(&contact(wheel, meets));
        let with = |[along, across, rolling]: [f64; 3], load| [along, across, rolling, load];
        let [along_load, across_load] = slopes.over_load;
        [
            with(slopes.along_n_s_m, along_load),
            with(slopes.across_n_s_m, across_load),
        ]
    }

    #[inline(always)]
    fn tie(&self, between: Between, difference_rad_s: f64, input_nm: f64) -> Carried<f64> {
        let driveline = &self.vehicle.driveline;
        match between {
            Between::FrontWheels => &driveline.front,
            Between::RearWheels => &driveline.rear,
            Between::Axles => driveline.centre_now(self.segment.let_go),
        }
        .carries(difference_rad_s, input_nm)
    }

    #[inline(always)]
    fn rear_asked_pa(&self, said_pa: f64, time_s: f64, loads_n: &[f64; 4]) -> f64 {
        match (&self.vehicle.live_valve, &self.segment.acting) {
            (Some(live), Some(lines)) => {
                let at = |line: &Course| Pressure::from_pa(line.at(&self.segment, time_s));
                let nodes = live.network.pressures(&Acting {
                    first: at(&lines.chambers[0]),
                    second: at(&lines.chambers[1]),
                    own: lines.own.as_ref().map(at),
                    knee: live.valve.knee_at(Force::from_n(loads_n[2] + loads_n[3])),
                });
                live.network.at_wheel(&nodes, Wheel::RearLeft).pa()
            }
            _ => said_pa,
        }
    }
}

/// What the car's brakes bring into a [`Vehicle`].
#[derive(Clone, Debug)]
pub(super) struct Brakes {
    pub(super) rear: TorqueLaw,
    pub(super) lever: LeverBrake,
    pub(super) live_valve: Option<LiveValve>,
}

#[cfg(test)]
mod tests {
    use super::super::contact::SurfaceGrip;
    use super::super::driveline::Tie;
    use super::super::dynamics::BEHIND;
    use super::super::motion::{FORWARD, INPUT, LEVER, PUSH, REAR, SIDEWAYS, SPIN, STATES, SWAY, YAW};
    use super::super::script::Engine;
    use super::*;
    use crate::tyre::GripCurve;

    fn vehicle(centre: Tie) -> Vehicle<SurfaceGrip> {
        let curve = GripCurve {
            stiffness_factor: 12.0,
            shape_factor: 1.5,
            peak_factor: 0.7,
            curvature_factor: 0.2,
        };
        let plates = |bias| Tie::Plates {
            preload_nm: 60.0,
            bias,
        };
        let law = |gain_nm_pa| TorqueLaw {
            gain_nm_pa,
            threshold: Pressure::from_pa(1e5),
        };
        Vehicle {
            mass_kg: 1200.0,
            yaw_inertia_kg_m2: 1600.0,
            cg_aft_m: 1.2,
            wheelbase_m: 2.5,
            cg_height_m: 0.5,
            tracks_m: [1.5, 1.4],
            roll_share_front: 0.6,
            radii_m: [0.3, 0.31],
            gravity_m_s2: GRAVITY_M_S2,
            driveline: Driveline {
                wheel_inertia_kg_m2: [1.2; 4],
                pinion_turns: [1.0, 1.0, 1.2, 1.2],
                input_inertia_kg_m2: 0.08,
                engine_inertia_kg_m2: 1.5,
                engine_drag_nm: 60.0,
                gear: 2.0,
                front: plates(0.3),
                rear: plates(0.4),
                centre,
                centre_let_go: None,
                centre_delay_s: 0.0,
                centre_turns: 1.1,
            },
            rear_brake: law(1e-4),
            lever_brake: LeverBrake::Caliper(law(2e-4)),
            live_valve: None,
            pressure_lag_s: PRESSURE_LAG_S,
            transfer: Transfer::Lagged {
                time_s: TRANSFER_LAG_S,
            },
            tyre: SurfaceGrip::new(&curve, 0.1, 1200.0 * GRAVITY_M_S2),
        }
    }

    /// The steps are as exact with wrong slopes, only shorter: nothing else would tell. Against differences of the rates.
    #[test]
    fn slopes_are_those_of_the_rates() {
        // Wheels that turn so nearly alike that no plates give all they have.
        let mut state = [0.0; STATES];
        (state[FORWARD], state[SIDEWAYS], state[YAW]) = (12.0, -0.4, 0.3);
        for (wheel, rad_s) in [39.55, 39.50, 39.48, 39.52].into_iter().enumerate() {
            state[SPIN + wheel] = rad_s;
        }
        (state[PUSH], state[SWAY], state[STEER]) = (-1.5, 1.0, 0.05);
        (state[REAR], state[LEVER]) = (1e6, 2e6);
        (state[INPUT], state[INPUT + 1]) = (80.0, -150.0);
        let segment = Segment {
            engine: Engine::Pulling(Course::steady(100.0)),
            ..Segment::coasting(0.0, 1.0)
        };
        let plates = Tie::Plates {
            preload_nm: 50.0,
            bias: 0.2,
        };
        for centre in [Tie::Open, plates, Tie::Locked] {
            let vehicle = vehicle(centre);
            let mode = vehicle.mode(&state, &segment, 0.0);
            let stretch = Stretch::new(&vehicle, &segment, mode);
            let slopes = stretch.equations().slopes(0.0, &state);
            let differences = |figure: usize, by: f64| -> State {
                let rates = |by: f64| {
                    let mut moved = state;
                    moved[figure] += by;
                    stretch.look(0.0, &moved).rates
                };
                let (ahead, behind) = (rates(by), rates(-by));
                core::array::from_fn(|row| (ahead[row] - behind[row]) / (2.0 * by))
            };
            // Of the largest slope of its kind: a thousandth; over the steer, in which forces are taken to keep their
            // direction, a tenth.
            let near = |found: &[f64], wanted: &[f64], share: f64, of: &str| {
                let largest = wanted.iter().fold(1e-9, |most: f64, slope| most.max(slope.abs()));
                for (found, wanted) in found.iter().zip(wanted) {
                    assert!(
                        (found - wanted).abs() < share * largest,
                        "{of}, {:?}: {found}, by differences {wanted}",
                        vehicle.driveline.centre
                    );
                }
            };
            for column in 0..7 {
                let wanted = differences(FORWARD + column, 1e-5);
                let found: Vec<f64> = slopes.moving.iter().map(|row| row[column]).collect();
                near(&found, &wanted[FORWARD..PUSH], 1e-3, &format!("over {column}"));
                for place in (0..BEHIND).filter(|&place| slopes.comes_back[place]) {
                    let all: Vec<f64> = (0..7)
                        .map(|column| differences(FORWARD + column, 1e-5)[PUSH + place])
                        .collect();
                    near(
                        &slopes.back[place],
                        &all,
                        1e-3,
                        &format!("{place} over the seven"),
                    );
                }
            }
            for place in 0..BEHIND {
                let usual = [1e-4, 1e-4, 10.0, 10.0, 1e-6, 1e-2, 1e-2][place];
                let wanted = differences(PUSH + place, usual);
                let share = if PUSH + place == STEER { 0.1 } else { 1e-3 };
                near(
                    &slopes.over[place],
                    &wanted[FORWARD..PUSH],
                    share,
                    &format!("over {place} behind"),
                );
            }
        }
    }
}

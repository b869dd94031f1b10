//! A log made by simulation: a car of the sheet driven straight through stops and a pull, and what its sensors would say.
//!
//! Two axles on a level road; foot and hand to pressure, pressure to torque, grip over slip and the centre coupling are
//! the engine's own. The rear pressure follows with a lag. The car differs from its sheet as [`Truth`] says, which is what
//! a reader of the log has to find again; sensors have noise, zeros that are off, and a plug that lets go for a moment.
//! The same seed gives the same bytes.

use std::io::{self, Write};

use engine::GRAVITY_M_S2;
use engine::brake::{TorqueLaw, Warmth};
use engine::car::{Brake, Car, Coupling, LeverKind, Surface};
use engine::drivetrain::{Beyond, TurnsAt, acting, turns_per_wheel_turn};
use engine::hydraulics::{Forces, Hydraulics};
use engine::loads::{Aboard, Laden};
use engine::network::torque_laws;
use engine::tyre::GripCurve;
use quantity::si::{Duration, Force, Length, Pressure, Rotation};

/// Steps of the simulation (s), and of them a row.
const STEP_S: f64 = 0.0005;
const STEPS_A_ROW: u32 = 20;
/// No way through the program takes longer (s).
const LONGEST_S: f64 = 400.0;

/// How the simulated car differs from its sheet.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Truth {
    /// Friction in front over the sheet's.
    pub front_friction: f64,
    /// Friction behind over the sheet's.
    pub rear_friction: f64,
    /// Knee of the bias valve over the sheet's.
    pub knee: f64,
    /// Slope of the bias valve over the sheet's.
    pub slope: f64,
    /// Time constant with which the rear pressure follows.
    pub lag: Duration,
    /// What the pressure sensors show at rest, front and rear.
    pub zeros: [Pressure; 2],
}

impl Default for Truth {
    fn default() -> Self {
        Self {
            front_friction: 0.94,
            rear_friction: 0.99,
            knee: 0.955,
            slope: 0.95,
            lag: Duration::from_s(0.05),
            zeros: [Pressure::from_pa(0.1e5), Pressure::from_pa(0.3e5)],
        }
    }
}

/// What the simulated driver did, as it happened.
#[derive(Clone, Debug, PartialEq)]
pub struct Happened {
    /// From the first row.
    pub at: Duration,
    /// In words.
    pub what: String,
}

/// A generator with a seed: splitmix64, and the normal distribution by Box and Muller.
struct Dice(u64);

impl Dice {
    #[allow(clippy::cast_precision_loss, reason = "53 bits fit")]
    fn share(&mut self) -> f64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut bits = self.0;
        bits = (bits ^ (bits >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        bits = (bits ^ (bits >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        ((bits ^ (bits >> 31)) >> 11) as f64 / 9_007_199_254_740_992.0
    }

    fn normal(&mut self) -> f64 {
        let radius = (-2.0 * (1.0 - self.share()).ln()).sqrt();
        radius * (core::f64::consts::TAU * self.share()).cos()
    }
}

/// What the driver does next.
#[derive(Clone, Copy, Debug)]
enum Act {
    /// Stands or rolls, foot and hand off.
    Wait(f64),
    /// Onto another ground.
    Ground(usize),
    /// To a speed (m/s).
    Accelerate(f64),
    /// A foot that makes about this pressure in front (bar), down to a speed (m/s).
    Brake(f64, f64),
    /// Stamped on, and eased once wheels stand.
    Stamp(f64, f64),
    /// The hand's pull until the car stands.
    Pull,
}

const PROGRAM: [Act; 23] = [
    Act::Wait(3.0),
    Act::Accelerate(23.0),
    Act::Brake(25.0, 8.0),
    Act::Accelerate(27.0),
    Act::Brake(44.0, 7.0),
    Act::Accelerate(28.0),
    Act::Brake(60.0, 6.0),
    Act::Accelerate(25.0),
    Act::Brake(18.0, 9.0),
    Act::Accelerate(27.0),
    Act::Brake(36.0, 7.0),
    Act::Accelerate(26.0),
    Act::Brake(52.0, 6.0),
    Act::Accelerate(26.0),
    Act::Stamp(100.0, 6.0),
    Act::Accelerate(9.5),
    Act::Ground(1),
    Act::Accelerate(15.5),
    Act::Wait(1.2),
    Act::Pull,
    Act::Wait(3.0),
    Act::Accelerate(11.5),
    Act::Brake(19.0, 0.0),
];

struct Drive<'a> {
    car: &'a Car,
    laden: Laden,
    hydraulics: Hydraulics,
    laws: [TorqueLaw; 2],
    second: Option<TorqueLaw>,
    grounds: [GripCurve; 2],
    ground: usize,
    truth: Truth,
    dice: Dice,
    time_s: f64,
    steps: u32,
    speed: f64,
    omega: [f64; 2],
    slowing: f64,
    foot_n: f64,
    hand_n: f64,
    front_pa: f64,
    rear_pa: f64,
    second_pa: f64,
    wander: f64,
    disc_c: [f64; 2],
    stands: [bool; 2],
    rows: Vec<[f64; 9]>,
    happened: Vec<Happened>,
    plug_off: Option<(f64, f64)>,
}

/// Drives a car and writes its log. What happened comes back, in order.
///
/// # Errors
/// Where the text cannot be written; a surface whose four figures make no grip curve is passed over for tarmac.
pub fn write_log(car: &Car, truth: Truth, seed: u64, into: &mut impl Write) -> io::Result<Vec<Happened>> {
    let laden = Laden::of(car, Aboard::default());
    let mut drive = Drive::of(car, laden, truth, seed);
    for act in PROGRAM {
        drive.act(act);
    }
    drive.write(into)?;
    Ok(drive.happened)
}

impl<'a> Drive<'a> {
    fn of(car: &'a Car, laden: Laden, truth: Truth, seed: u64) -> Self {
        let hydraulics = Hydraulics::of(car, Warmth::Warm);
        let laws = torque_laws(car, Warmth::Warm);
        let power = |brake: &Brake| {
            if matches!(brake, Brake::Drum(_)) {
                1.35
            } else {
                1.0
            }
        };
        let scaled = |law: TorqueLaw, brake: &Brake, friction: f64| TorqueLaw {
            gain_nm_pa: law.gain_nm_pa * friction.powf(power(brake)),
            ..law
        };
        let second = match car.lever.as_ref().map(|lever| &lever.kind) {
            Some(LeverKind::Separate(_, brake)) => Some(TorqueLaw::of_disc(brake, Warmth::Warm)),
            _ => None,
        };
        let surface = |name: &str, otherwise: [f64; 4]| {
            let [peak, slip_at_peak, slide_over_peak, stiffness] = otherwise;
            let plain = Surface {
                name: name.into(),
                peak,
                slip_at_peak,
                slide_over_peak,
                stiffness,
            };
            car.surface(name)
                .and_then(|surface| GripCurve::of(surface).ok())
                .or_else(|| GripCurve::of(&plain).ok())
                .unwrap_or(GripCurve {
                    stiffness_factor: 16.0,
                    shape_factor: 1.0,
                    peak_factor: 1.0,
                    curvature_factor: 0.0,
                })
        };
        Self {
            laws: [
                scaled(laws[0], &car.front_brake, truth.front_friction),
                scaled(laws[2], &car.rear_brake, truth.rear_friction),
            ],
            second,
            grounds: [
                surface("dry tarmac", [1.0, 0.14, 0.80, 16.0]),
                surface("hard gravel", [0.65, 0.30, 0.93, 7.0]),
            ],
            car,
            laden,
            hydraulics,
            ground: 0,
            truth,
            dice: Dice(seed),
            time_s: 0.0,
            steps: 0,
            speed: 0.0,
            omega: [0.0; 2],
            slowing: 0.0,
            foot_n: 0.0,
            hand_n: 0.0,
            front_pa: 0.0,
            rear_pa: 0.0,
            second_pa: 0.0,
            wander: 0.0,
            disc_c: [48.0, 44.0],
            stands: [false; 2],
            rows: Vec::new(),
            happened: Vec::new(),
            plug_off: None,
        }
    }

    fn say(&mut self, what: String) {
        self.happened.push(Happened {
            at: Duration::from_s(self.time_s),
            what,
        });
    }

    fn act(&mut self, act: Act) {
        let going = |drive: &Self| drive.time_s < LONGEST_S;
        match act {
            Act::Wait(seconds) => self.wait(seconds),
            Act::Ground(ground) => self.ground = ground,
            Act::Accelerate(target) => {
                self.wait(0.35);
                let mass_kg = self.laden.mass.kg();
                let begun = self.time_s;
                while self.speed < target && self.time_s < begun + 30.0 && going(self) {
                    let fade = ((target - self.speed) / 2.0 + 0.25).min(1.0);
                    let ease = ((self.time_s - begun) / 0.5).min(1.0);
                    self.step(0.0, 0.0, mass_kg * 3.0 * fade * ease);
                }
                self.wait(0.25);
            }
            Act::Brake(bar, to) => {
                let foot_n = self.foot_for(bar);
                self.say(format!(
                    "a stop of the foot, {bar:.0} bar in front, from {:.0} km/h",
                    self.speed * 3.6
                ));
                let begun = self.time_s;
                while self.speed > to + 1e-9 && self.time_s < begun + 30.0 && going(self) {
                    if self.plug_off.is_none() && bar > 55.0 && self.time_s > begun + 0.9 {
                        self.plug_off = Some((self.time_s, self.time_s + 0.42));
                        self.say("the plug of the rear sensors lets go for 0.42 s".to_owned());
                    }
                    self.step(foot_n, 0.0, 0.0);
                }
                self.wait(0.4);
            }
            Act::Stamp(bar, to) => {
                let foot_n = self.foot_for(bar);
                self.say(format!(
                    "stamped on from {:.0} km/h, eased when wheels lock",
                    self.speed * 3.6
                ));
                let begun = self.time_s;
                let mut noticed: Option<f64> = None;
                while self.speed > to && self.time_s < begun + 30.0 && going(self) {
                    if self.stands[0] || self.stands[1] {
                        // A driver's reaction.
                        noticed = noticed.or(Some(self.time_s + 0.3));
                    }
                    let foot = match noticed {
                        Some(at) if self.time_s > at + 0.25 => 0.55 * foot_n,
                        Some(at) if self.time_s > at => 0.2 * foot_n,
                        _ => foot_n,
                    };
                    self.step(foot, 0.0, 0.0);
                }
                self.wait(0.4);
            }
            Act::Pull => {
                let Some(hand_n) = self.car.lever.as_ref().map(|lever| lever.hand_pull.n()) else {
                    return;
                };
                self.say(format!(
                    "a pull of the hand, {hand_n:.0} N, from {:.0} km/h",
                    self.speed * 3.6
                ));
                let begun = self.time_s;
                while self.speed > 0.0 && self.time_s < begun + 20.0 && going(self) {
                    self.step(0.0, hand_n, 0.0);
                }
                for _ in 0..2000 {
                    self.step(0.0, hand_n, 0.0);
                }
                self.wait(0.3);
            }
        }
    }

    /// Foot force that makes a pressure in front.
    fn foot_for(&self, bar: f64) -> f64 {
        let rod = self.hydraulics.foot.push_rod_for(0, Pressure::from_pa(bar * 1e5));
        self.hydraulics.foot.foot(rod).n().min(1200.0)
    }

    fn wait(&mut self, seconds: f64) {
        let until = self.time_s + seconds;
        while self.time_s < until {
            self.step(0.0, 0.0, 0.0);
        }
    }

    fn step(&mut self, foot_n: f64, hand_n: f64, drive_n: f64) {
        let dt = STEP_S;
        // Nobody holds a force still: it wanders by a fortieth, over some 0.4 s.
        self.wander += -self.wander * dt / 0.4 + (2.0 * dt / 0.4).sqrt() * self.dice.normal();
        let towards =
            |now: f64, wanted: f64, on: f64, off: f64| now + (wanted - now).clamp(-off * dt, on * dt);
        let unsteady = 1.0 + 0.025 * self.wander;
        self.foot_n = towards(self.foot_n, foot_n * unsteady, 1500.0, 2500.0);
        self.hand_n = towards(self.hand_n, hand_n * unsteady, 2500.0, 4000.0);
        if self.steps.is_multiple_of(4) {
            self.pressures(4.0 * dt);
        }
        self.wheels(dt, drive_n);
        self.time_s += dt;
        self.steps += 1;
        if self.steps.is_multiple_of(STEPS_A_ROW) {
            self.rows.push([
                self.time_s,
                self.front_pa,
                self.rear_pa.max(self.second_pa),
                self.speed,
                self.omega[0],
                self.omega[1],
                -self.slowing,
                self.disc_c[0],
                self.disc_c[1],
            ]);
        }
    }

    fn pressures(&mut self, dt: f64) {
        let asked = Forces {
            foot: Force::from_n(self.foot_n.max(0.0)),
            hand: Force::from_n(self.hand_n.max(0.0)),
        };
        // The valve is not quite the sheet's.
        let mut car_knee = self
            .hydraulics
            .knee(self.laden.axle_loads(self.slowing / GRAVITY_M_S2).rear);
        let slope = self.hydraulics.slope();
        if let Some(knee) = &mut car_knee {
            *knee = *knee * self.truth.knee;
        }
        let (front, rear, second) = if self.foot_n < 0.5 && self.hand_n < 0.5 {
            (0.0, 0.0, 0.0)
        } else {
            let answer = self.hydraulics.answer(&self.laden, asked);
            let front = answer.wheels[0].pressure.pa();
            let mut rear = answer.wheels[2].pressure.pa();
            if let (Some(knee), Some(slope), true) = (car_knee, slope, self.hand_n < 0.5) {
                rear = engine::network::behind_valve(
                    Pressure::from_pa(answer.pedal.chambers[1].pa()),
                    knee,
                    slope * self.truth.slope,
                )
                .pa();
            }
            let second = answer.wheels[2].lever_pressure.map_or(0.0, Pressure::pa);
            (front, rear, second)
        };
        let share = 1.0 - (-dt / self.truth.lag.s().max(1e-4)).exp();
        self.front_pa = front;
        self.rear_pa += share * (rear - self.rear_pa);
        self.second_pa += share * (second - self.second_pa);
    }

    fn wheels(&mut self, dt: f64, drive_n: f64) {
        let loads = self.laden.axle_loads(self.slowing / GRAVITY_M_S2);
        let loads_n = [loads.front.n().max(0.0), loads.rear.n().max(0.0)];
        let radius = [self.car.tyres.front_radius.m(), self.car.tyres.rear_radius.m()];
        let torque = |law: &TorqueLaw, pa: f64| 2.0 * law.torque(Pressure::from_pa(pa)).nm();
        let mut brake_nm = [
            torque(&self.laws[0], self.front_pa),
            torque(&self.laws[1], self.rear_pa),
        ];
        if let Some(second) = &self.second {
            brake_nm[1] += torque(second, self.second_pa);
        }
        let tie_nm = self.tie_nm();
        let inertia = 2.0 * self.car.tyres.wheel_inertia.kg_m2()
            + self.car.drivetrain.input_inertia.kg_m2() * (self.car.drivetrain.final_drive / 2.0).powi(2);
        let curve = self.grounds[self.ground];
        let ground = |axle: usize, omega: f64| {
            let rolling = omega * radius[axle];
            let slip = (self.speed - rolling) / rolling.abs().max(0.1);
            -loads_n[axle] * curve.grip(slip.abs()).copysign(slip)
        };
        let mut forces = 0.0;
        let mut next = self.omega;
        for axle in 0..2 {
            let omega = self.omega[axle];
            let force = ground(axle, omega);
            forces += force;
            let tied = if axle == 0 { -tie_nm } else { tie_nm };
            let push = 0.5 * drive_n * radius[axle] + tied - radius[axle] * force;
            if omega.abs() < 1e-6 && push.abs() <= brake_nm[axle] {
                next[axle] = 0.0;
                continue;
            }
            let against = if omega.abs() > 1e-6 { omega } else { push };
            // The tyre's own stiffness is taken at the step's end, so that a rolling wheel does not ring.
            let stiffer = dt * radius[axle] * ((ground(axle, omega + 1e-4) - force) / 1e-4).abs();
            let rate = (push - brake_nm[axle].copysign(against)) / (inertia + stiffer);
            let moved = omega + rate * dt;
            next[axle] = if omega > 0.0 && moved < 0.0 {
                0.0
            } else {
                moved.max(0.0)
            };
        }
        self.omega = next;
        let resists_n = if self.speed > 0.05 {
            0.015 * self.laden.weight_n() + 0.5 * 1.2 * 0.8 * self.speed * self.speed
        } else {
            0.0
        };
        let mut acceleration = (forces - resists_n) / self.laden.mass.kg();
        if self.speed < 0.15 && acceleration < 0.0 && drive_n == 0.0 {
            self.speed = 0.0;
            self.omega = [0.0; 2];
            acceleration = 0.0;
        }
        self.speed = (self.speed + acceleration * dt).max(0.0);
        self.slowing += dt / 0.06 * (-acceleration - self.slowing);
        for axle in 0..2 {
            let power_w = 0.5 * brake_nm[axle] * self.omega[axle];
            let loss_w = (4.0 + 5.0 * self.speed.powf(0.8)) * [0.19, 0.08][axle] * (self.disc_c[axle] - 15.0);
            let capacity = [6.8, 4.2][axle] * (450.0 + 0.4 * self.disc_c[axle]);
            self.disc_c[axle] += dt * (0.93 * power_w - loss_w) / capacity;
            self.stands[axle] = self.omega[axle] * radius[axle] < 0.05 && self.speed > 1.0;
        }
    }

    /// What the centre passes on at the half-shafts, from the faster to the slower axle.
    fn tie_nm(&self) -> f64 {
        let turns = turns_per_wheel_turn(self.car, TurnsAt::Given);
        let difference = self.omega[0] - self.omega[1];
        // The lever parts a centre that can be parted.
        let carried = match acting(&self.car.drivetrain.centre, self.hand_n > 1.0) {
            None | Some(Coupling::Open) => 0.0,
            // A tie as stiff as the step allows.
            Some(Coupling::Locked) => 4000.0 * difference.abs(),
            Some(Coupling::Plates { preload, .. }) => turns * preload.nm() * (difference.abs() / 0.1).tanh(),
            Some(Coupling::Viscous(curve)) => {
                turns
                    * curve
                        .torque(Rotation::from_rad_s(difference.abs() * turns), Beyond::HeldFlat)
                        .nm()
            }
        };
        carried.copysign(difference)
    }

    fn write(&mut self, into: &mut impl Write) -> io::Result<()> {
        const HEADS: &str = "time [s],front pressure [bar],rear pressure [bar],speed [km/h],wheel front left [km/h],\
wheel front right [km/h],wheel rear left [km/h],wheel rear right [km/h],longitudinal acceleration [m/s2],\
front disc [C],rear disc [C]";
        writeln!(into, "{HEADS}")?;
        let radius = [self.car.tyres.front_radius, self.car.tyres.rear_radius].map(Length::m);
        let half_track_m = 0.5 * self.car.geometry.rear_track.m();
        let rows = core::mem::take(&mut self.rows);
        for row in &rows {
            let [
                time_s,
                front_pa,
                rear_pa,
                speed,
                front,
                rear,
                acceleration,
                front_c,
                rear_c,
            ] = *row;
            let off = self
                .plug_off
                .is_some_and(|(from, to)| (from..to).contains(&time_s));
            // The road is not quite straight.
            let bend = 0.0025 * (time_s / 5.3).sin() + 0.0012 * (time_s / 1.9 + 1.0).sin();
            let mut wheels = Vec::with_capacity(4);
            for (number, (omega, radius)) in [
                (front, radius[0]),
                (front, radius[0]),
                (rear, radius[1]),
                (rear, radius[1]),
            ]
            .into_iter()
            .enumerate()
            {
                let side = if number % 2 == 0 { -1.0 } else { 1.0 };
                let true_kmh = omega * radius * 3.6 * (1.0 + side * bend * half_track_m);
                // A wheel sensor is blind at a crawl, and tyres are not quite alike.
                let shown = if true_kmh > 1.5 {
                    true_kmh * [1.002, 0.999, 1.001, 0.998][number]
                        + self.dice.normal() * (0.12 + 0.0015 * true_kmh)
                } else {
                    0.0
                };
                wheels.push(if off && number >= 2 {
                    String::new()
                } else {
                    format!("{:.1}", shown.max(0.0))
                });
            }
            let zeros = self.truth.zeros.map(|zero| zero.pa() / 1e5);
            let front_bar = front_pa / 1e5 + zeros[0] + 0.18 * self.dice.normal();
            let rear_bar = rear_pa / 1e5 + zeros[1] + 0.18 * self.dice.normal();
            let rear_bar = if off {
                String::new()
            } else {
                format!("{rear_bar:.1}")
            };
            let speed_kmh = (speed * 3.6 + 0.1 * self.dice.normal()).max(0.0);
            let shakes = if speed > 0.5 { 0.15 } else { 0.03 };
            let acceleration = acceleration + 0.04 + shakes * self.dice.normal();
            let (front_c, rear_c) = (
                front_c + 0.6 * self.dice.normal(),
                rear_c + 0.6 * self.dice.normal(),
            );
            writeln!(
                into,
                "{time_s:.2},{front_bar:.1},{rear_bar},{speed_kmh:.1},{},{acceleration:.2},{front_c:.0},{rear_c:.0}",
                wheels.join(",")
            )?;
        }
        Ok(())
    }
}

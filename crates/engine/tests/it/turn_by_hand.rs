//! Loads and ties of the turn, each worked out by hand.

use engine::car::Curve;
use engine::drivetrain::Beyond;
use engine::loads::{Aboard, Laden};
use engine::turn::{
    Assumed, Contact, Course, Driveline, GroundForce, LeverBrake, Motion, Segment, Stepping, SurfaceGrip,
    Tie, TorqueCurve, Transfer, TurnBench, Tyre, Vehicle, follow,
};
use engine::tyre::GripCurve;
use quantity::si::{Duration, Rotation, Torque};

use crate::bench::{lever, near, plain};

/// Wheel and pinion in the cases below: inertia of each wheel, of the pinion, and the pinion's turns per turn of each rear
/// wheel.
const WHEEL_KG_M2: f64 = 1.2;
const PINION_KG_M2: f64 = 0.08;
const PINION_TURNS: f64 = 2.25;

/// A car of round figures on any tyre: 1200 kg, 1.2 m behind the front axle of 2.5 m, half a metre up, tracks of 1.5 m and
/// 1.4 m, six tenths of the roll in front; wheels of 0.3 m, all of its differentials open, nothing before them.
fn round<T: Tyre>(tyre: T) -> Vehicle<T> {
    let car = plain().with(&lever()).car();
    let laden = Laden::of(&car, Aboard::default());
    let surface = car.surface("hard gravel").unwrap();
    let bench = TurnBench::of(&car, &laden, surface, Assumed::default()).unwrap();
    let like = bench.vehicle();
    Vehicle {
        mass_kg: 1200.0,
        yaw_inertia_kg_m2: 1600.0,
        cg_aft_m: 1.2,
        wheelbase_m: 2.5,
        cg_height_m: 0.5,
        tracks_m: [1.5, 1.4],
        roll_share_front: 0.6,
        radii_m: [0.3, 0.3],
        gravity_m_s2: 9.81,
        driveline: Driveline {
            wheel_inertia_kg_m2: [WHEEL_KG_M2; 4],
            pinion_turns: [0.0; 4],
            input_inertia_kg_m2: 0.0,
            engine_inertia_kg_m2: 0.0,
            front: Tie::Open,
            rear: Tie::Open,
            centre: Tie::Open,
            centre_let_go: None,
            ..like.driveline.clone()
        },
        rear_brake: like.rear_brake,
        lever_brake: LeverBrake::None,
        live_valve: None,
        pressure_lag_s: like.pressure_lag_s,
        transfer: Transfer::Lagged { time_s: 0.06 },
        tyre,
    }
}

/// A tyre that pushes its wheel back with what it carries: how fast a wheel is braked says its load.
#[derive(Clone)]
struct Scales;

impl Tyre for Scales {
    fn force(&self, contact: &Contact) -> GroundForce {
        GroundForce {
            along_n: contact.load_n,
            across_n: 0.0,
        }
    }
}

/// Loads of the four wheels (N) once the springs have followed these accelerations.
fn loads(vehicle: &Vehicle<Scales>, push_m_s2: f64, sway_m_s2: f64) -> [f64; 4] {
    let motion = Motion {
        lagged_forward_m_s2: push_m_s2,
        lagged_sideways_m_s2: sway_m_s2,
        ..Motion::rolling(15.0, 0.3, 0.3)
    };
    let rates = vehicle.rates(&motion, &Segment::coasting(0.0, 1.0), 0.0);
    rates
        .wheel_rad_s
        .map(|rate_rad_s2| -rate_rad_s2 * WHEEL_KG_M2 / 0.3)
}

fn four_near(found: [f64; 4], by_hand: [f64; 4]) {
    for (found, by_hand) in found.into_iter().zip(by_hand) {
        assert!((found - by_hand).abs() < 1e-6, "{found}, by hand {by_hand}");
    }
}

/// Standing: 11 772 N, 12/25 of it behind. Braking at 3 m/s²: 1200 · 3 · 0.5/2.5 = 720 N go forward. In a steady bend to the
/// left at 4 m/s²: of 1200 · 4 · 0.5 = 2400 N m the front takes 0.6 over 1.5 m, 960 N, the rear 0.4 over 1.4 m, 685.7 N, from
/// the left to the right.
#[test]
fn loads_move_as_moments_about_the_ground_say() {
    let vehicle = round(Scales);
    four_near(loads(&vehicle, 0.0, 0.0), [3060.72, 3060.72, 2825.28, 2825.28]);
    four_near(loads(&vehicle, -3.0, 0.0), [3420.72, 3420.72, 2465.28, 2465.28]);
    let (front, rear) = (960.0, 2400.0 * 0.4 / 1.4);
    four_near(
        loads(&vehicle, 0.0, 4.0),
        [3060.72 - front, 3060.72 + front, 2825.28 - rear, 2825.28 + rear],
    );
    four_near(
        loads(&vehicle, -3.0, -4.0),
        [3420.72 + front, 3420.72 - front, 2465.28 + rear, 2465.28 - rear],
    );
}

/// All of the roll in front: 2400/1.5 = 1600 N there, none behind. None in front: 2400/1.4 = 1714.3 N behind.
#[test]
fn each_axle_takes_its_share_of_the_roll() {
    let mut vehicle = round(Scales);
    vehicle.roll_share_front = 1.0;
    four_near(loads(&vehicle, 0.0, 4.0), [1460.72, 4660.72, 2825.28, 2825.28]);
    vehicle.roll_share_front = 0.0;
    let rear = 2400.0 / 1.4;
    four_near(
        loads(&vehicle, 0.0, 4.0),
        [3060.72, 3060.72, 2825.28 - rear, 2825.28 + rear],
    );
}

/// A wheel gives no more than it carries, nor an axle: at 20 m/s² sideways the front would move 4800 N and has 3060.72 N on
/// a side; braked at 60 m/s² the rear would give 14 400 N and has 5650.56 N.
#[test]
fn no_wheel_carries_less_than_nothing() {
    let vehicle = round(Scales);
    four_near(loads(&vehicle, 0.0, 20.0), [0.0, 6121.44, 0.0, 5650.56]);
    four_near(loads(&vehicle, -60.0, 0.0), [5886.0, 5886.0, 0.0, 0.0]);
}

/// A tyre that pushes with 600 N whatever it carries.
#[derive(Clone)]
struct Steady;

impl Tyre for Steady {
    fn force(&self, _contact: &Contact) -> GroundForce {
        GroundForce {
            along_n: -600.0,
            across_n: 0.0,
        }
    }
}

/// Four times 600 N slow 1200 kg by 2 m/s², and the springs follow as 1 − e^(−t/0.06 s).
#[test]
fn the_springs_follow_a_step_with_their_lag() {
    let vehicle = round(Steady);
    let tight = Stepping::Adaptive { tolerance: 1e-9 };
    let start = Motion::rolling(15.0, 0.3, 0.3);
    let path = follow(&vehicle, &start, &[Segment::coasting(0.0, 0.3)], tight).unwrap();
    let mut compared = 0;
    for (time, motion) in path {
        let by_hand = -2.0 * (1.0 - (-time.s() / 0.06).exp());
        assert!(
            (motion.lagged_forward_m_s2 - by_hand).abs() < 1e-6,
            "{time:?}: {}, by hand {by_hand}",
            motion.lagged_forward_m_s2
        );
        compared += usize::from(time > Duration::from_s(0.01) && time < Duration::from_s(0.2));
    }
    assert!(compared > 5, "{compared} moments on the way");
}

/// Sliding across at one slip, an axle whose wheels carry N ± Δ gives 2 μN (1 − k(N/N₀ − 1)) − 2 μ k Δ²/N₀: what load
/// sensitivity takes goes by the square of what has moved. N₀ a quarter of 11 772 N, 2943 N; k = 0.1. At 4 m/s² the front's
/// Δ is 960 N with six tenths of the roll and 1440 N with nine, the rear's 685.7 N and 171.4 N.
#[test]
fn what_moves_across_costs_grip_by_its_square() {
    let car = plain().with(&lever()).car();
    let curve = GripCurve::of(car.surface("hard gravel").unwrap()).unwrap();
    // Rolling at 15 m/s, going 4.5 m/s across: slip 0.3, where hard gravel gives its 0.65.
    let motion = Motion {
        sideways_m_s: 4.5,
        lagged_sideways_m_s2: 4.0,
        ..Motion::rolling(15.0, 0.3, 0.3)
    };
    let axle = |load_n: f64, moved_n: f64| {
        let side = 0.5 * load_n;
        let (middle, k) = (2943.0, 0.1);
        0.65 * (2.0 * side * (1.0 - k * (side / middle - 1.0)) - 2.0 * k * moved_n * moved_n / middle)
    };
    for (share, front_moved, rear_moved) in [(0.6, 960.0, 960.0 / 1.4), (0.9, 1440.0, 240.0 / 1.4)] {
        let mut vehicle = round(SurfaceGrip::new(&curve, 0.1, 11_772.0));
        vehicle.roll_share_front = share;
        let rates = vehicle.rates(&motion, &Segment::coasting(0.0, 1.0), 0.0);
        let (front, rear) = (axle(6121.44, front_moved), axle(5650.56, rear_moved));
        near(rates.sideways_m_s, -(front + rear) / 1200.0, 1e-6);
        near(rates.yaw_rate_rad_s, (-1.2 * front + 1.3 * rear) / 1600.0, 1e-5);
    }
}

/// In the air, so that only the driveline is left; the rear axle driven.
fn afloat(rear: Tie) -> Vehicle<Scales> {
    let mut vehicle = round(Scales);
    vehicle.gravity_m_s2 = 0.0;
    vehicle.driveline.rear = rear;
    vehicle.driveline.pinion_turns = [0.0, 0.0, PINION_TURNS, PINION_TURNS];
    vehicle.driveline.input_inertia_kg_m2 = PINION_KG_M2;
    vehicle
}

/// What the rear wheels' speeds do, the left one slower by so much.
fn rear_rates(vehicle: &Vehicle<Scales>, slower_rad_s: f64, doing: &Segment) -> (f64, f64) {
    let motion = Motion {
        wheel_rad_s: [50.0, 50.0, 50.0 - slower_rad_s, 50.0],
        ..Motion::rolling(15.0, 0.3, 0.3)
    };
    let rates = vehicle.rates(&motion, doing, 0.0);
    (rates.wheel_rad_s[2], rates.wheel_rad_s[3])
}

/// An open differential passes nothing from wheel to wheel, whatever they do; with the pinion turning behind it both
/// wheels' brakes slow both: `(J + α) ω̇ₗ + α ω̇ᵣ = −T`, α = I c², the same for the right.
#[test]
fn an_open_differential_moves_no_torque_across() {
    let vehicle = afloat(Tie::Open);
    let coasting = Segment::coasting(0.0, 1.0);
    let (left, right) = rear_rates(&vehicle, 17.0, &coasting);
    assert!(left.abs() < 1e-12 && right.abs() < 1e-12, "{left} {right}");
    // 300 N m on each front wheel: they are tied to nothing.
    let mut braked = coasting;
    braked.front_nm = Course::steady(300.0);
    let motion = Motion::rolling(15.0, 0.3, 0.3);
    let rates = vehicle.rates(&motion, &braked, 0.0);
    near(rates.wheel_rad_s[0], -300.0 / WHEEL_KG_M2, 1e-12);
    near(rates.wheel_rad_s[1], -300.0 / WHEEL_KG_M2, 1e-12);
    assert!(rates.wheel_rad_s[2].abs() < 1e-12);
    // The rear brakes through the pressure that has arrived: T each, both wheels and twice α.
    let motion = Motion {
        rear_pa: 30e5,
        ..motion
    };
    let torque = vehicle.rear_brake.gain_nm_pa * (30e5 - vehicle.rear_brake.threshold.pa());
    let alpha = PINION_KG_M2 * PINION_TURNS * PINION_TURNS;
    let rates = vehicle.rates(&motion, &coasting, 0.0);
    near(rates.wheel_rad_s[2], -torque / (WHEEL_KG_M2 + 2.0 * alpha), 1e-12);
    near(rates.wheel_rad_s[3], -torque / (WHEEL_KG_M2 + 2.0 * alpha), 1e-12);
}

/// Plates of 80 N m: wheels 0.05 rad/s apart feel 80 tanh(0.5), 5 rad/s apart all of it, from the faster to the slower. What
/// the left gains the right loses, so the pinion feels nothing.
#[test]
fn plates_move_their_preload_from_the_faster_wheel() {
    let vehicle = afloat(Tie::Plates {
        preload_nm: 80.0,
        bias: 0.0,
    });
    let coasting = Segment::coasting(0.0, 1.0);
    for (slower, torque) in [
        (0.05, 80.0 * 0.462_117_157_260_009_8),
        (5.0, 80.0),
        (-5.0, -80.0),
        (0.0, 0.0),
    ] {
        let (left, right) = rear_rates(&vehicle, slower, &coasting);
        assert!((left - torque / WHEEL_KG_M2).abs() < 1e-9, "{slower}: {left}");
        assert!((right + torque / WHEEL_KG_M2).abs() < 1e-9, "{slower}: {right}");
    }
}

/// A viscous differential of 40 N m at 10 rad/s and 80 at 30: 20 apart it moves 60, 5 apart 20, beyond its end 80.
#[test]
fn a_viscous_differential_moves_what_its_curve_says() {
    let curve = Curve {
        points: [(10.0, 40.0), (30.0, 80.0)]
            .map(|(speed, torque)| (Rotation::from_rad_s(speed), Torque::from_nm(torque)))
            .to_vec(),
        guessed: false,
    };
    let vehicle = afloat(Tie::Viscous(TorqueCurve::new(&curve, Beyond::HeldFlat)));
    let coasting = Segment::coasting(0.0, 1.0);
    for (slower, torque) in [(20.0, 60.0), (5.0, 20.0), (-20.0, -60.0), (45.0, 80.0)] {
        let (left, right) = rear_rates(&vehicle, slower, &coasting);
        assert!((left - torque / WHEEL_KG_M2).abs() < 1e-9, "{slower}: {left}");
        assert!((right + torque / WHEEL_KG_M2).abs() < 1e-9, "{slower}: {right}");
    }
}

/// A locked differential: one speed, so one brake of T slows both wheels and the pinion: 2 J + 4 α.
#[test]
fn a_locked_differential_shares_one_wheels_brake() {
    let mut vehicle = afloat(Tie::Locked);
    vehicle.lever_brake = LeverBrake::Cable(0.5);
    let motion = Motion {
        lever: 200.0,
        ..Motion::rolling(15.0, 0.3, 0.3)
    };
    let rates = vehicle.rates(&motion, &Segment::coasting(0.0, 1.0), 0.0);
    // 100 N m on each wheel.
    let alpha = PINION_KG_M2 * PINION_TURNS * PINION_TURNS;
    let by_hand = -200.0 / (2.0 * WHEEL_KG_M2 + 4.0 * alpha);
    near(rates.wheel_rad_s[2], by_hand, 1e-9);
    near(rates.wheel_rad_s[3], by_hand, 1e-9);
}

//! The terms of the turn's equations one by one, each against a closed form or a case worked by hand.

use engine::car::{Axle, Car, Curve, LeverKind, Surface};
use engine::drivetrain::Beyond;
use engine::loads::{Aboard, Laden};
use engine::turn::{
    Assumed, CLOSED_THROTTLE_NM, Contact, Course, Engine, GroundForce, LeverBrake, Motion, PRESSURE_LAG_S,
    Release, Segment, Steering, Stepping, SurfaceGrip, TRANSFER_LAG_S, Technique, Tie, TorqueCurve,
    TurnBench, Tyre, Vehicle, follow,
};
use engine::tyre::GripCurve;
use quantity::si::{Angle, Duration, Force, Length, Rotation, Speed, Torque};

use crate::bench::Said::{Si, Word};
use crate::bench::{lever, plain};

fn gravel(car: &Car) -> Surface {
    car.surface("hard gravel").unwrap().clone()
}

fn bench(car: &Car) -> TurnBench {
    let laden = Laden::of(car, Aboard::default());
    TurnBench::of(car, &laden, &gravel(car), Assumed::default()).unwrap()
}

fn plain_car() -> Car {
    plain().with(&lever()).car()
}

/// D(1 − k(N/N₀ − 1)): a wheel under twice the middle load gives 0.9 of its grip at k = 0.1, under half of it 1.05.
#[test]
fn more_load_gives_less_grip_a_newton() {
    let car = plain_car();
    let curve = GripCurve::of(&gravel(&car)).unwrap();
    let tyre = SurfaceGrip::new(&curve, 0.10, 4.0 * 3000.0);
    let grip = |load_n: f64| {
        let contact = Contact {
            axle: Axle::Rear,
            load_n,
            along_m_s: 13.0,
            across_m_s: 0.0,
            rolling_m_s: 10.0,
        };
        -tyre.force(&contact).along_n / load_n
    };
    // Slip 0.3 is where hard gravel gives most: 0.65.
    assert!((grip(3000.0) - 0.65).abs() < 1e-6, "{}", grip(3000.0));
    assert!((grip(6000.0) - 0.65 * 0.90).abs() < 1e-6, "{}", grip(6000.0));
    assert!((grip(1500.0) - 0.65 * 1.05).abs() < 1e-6, "{}", grip(1500.0));
}

/// A step of pressure arrives as 1 − e^(−t/τ).
#[test]
fn pressure_follows_its_step_with_its_lag() {
    let car = plain_car();
    let bench = bench(&car);
    let start = Motion::rolling(15.0, 0.31, 0.31);
    let mut asked = Segment::coasting(0.0, 0.3);
    // Below the brakes' threshold, so that nothing else happens.
    asked.rear_pa = Course::steady(1e4);
    let tight = Stepping::Adaptive { tolerance: 1e-9 };
    for (time, motion) in follow(bench.vehicle(), &start, &[asked], tight).unwrap() {
        let by_hand = 1e4 * (1.0 - (-time.s() / PRESSURE_LAG_S).exp());
        assert!(
            (motion.rear_pa - by_hand).abs() < 0.1,
            "{time:?}: {} Pa, by hand {by_hand}",
            motion.rear_pa
        );
    }
    assert!((PRESSURE_LAG_S - 0.05).abs() < 1e-12 && (TRANSFER_LAG_S - 0.06).abs() < 1e-12);
}

/// The springs follow the body's accelerations at (what it is − where they are)/τ.
#[test]
fn load_transfer_follows_with_its_lag() {
    let car = plain_car();
    let bench = bench(&car);
    let mut motion = Motion::rolling(15.0, 0.31, 0.31);
    motion.lagged_forward_m_s2 = 2.0;
    motion.lagged_sideways_m_s2 = -3.0;
    // Wheels rolling and nothing across: no force at all.
    let rates = bench.vehicle().rates(&motion, &Segment::coasting(0.0, 1.0), 0.0);
    assert!((rates.lagged_forward_m_s2 + 2.0 / 0.06).abs() < 1e-9);
    assert!((rates.lagged_sideways_m_s2 - 3.0 / 0.06).abs() < 1e-9);
    // And sliding across, towards what the ground gives.
    motion.sideways_m_s = 1.0;
    let rates = bench.vehicle().rates(&motion, &Segment::coasting(0.0, 1.0), 0.0);
    let sway = rates.sideways_m_s + motion.yaw_rate_rad_s * motion.forward_m_s;
    assert!(sway < -1.0);
    assert!((rates.lagged_sideways_m_s2 - (sway + 3.0) / 0.06).abs() < 1e-9);
}

/// Rolling at ω all of the driveline stores ½ (4 J + (I_in + I_e gear²) i²) ω²: the engine by its gear squared, both by the
/// final drive squared.
#[test]
fn the_driveline_stores_what_its_gearing_squared_says() {
    let car = plain()
        .with(&lever())
        .with(&[
            ("drivetrain.final_drive", Si(4.5)),
            ("drivetrain.gear", Si(1.6)),
            ("drivetrain.input_inertia", Si(0.09)),
            ("drivetrain.engine_inertia", Si(0.20)),
            ("drivetrain.rear_diff.kind", Word("open")),
        ])
        .car();
    let bench = bench(&car);
    let omega = 40.0;
    let turning = Motion {
        wheel_rad_s: [omega; 4],
        ..Motion::default()
    };
    let wheels = 4.0 * car.tyres.wheel_inertia.kg_m2();
    let down = 0.5 * (wheels + 0.09 * 4.5 * 4.5) * omega * omega;
    let up = 0.5 * (wheels + (0.09 + 0.20 * 1.6 * 1.6) * 4.5 * 4.5) * omega * omega;
    assert!((bench.vehicle().energy_j(&turning, false) / down - 1.0).abs() < 1e-12);
    assert!((bench.vehicle().energy_j(&turning, true) / up - 1.0).abs() < 1e-12);
}

/// With a locked centre the rear plates hold by what the centre brings: no engine, no preload, and bias alone moves the
/// heading, the more of it the more.
#[test]
fn plates_behind_a_locked_centre_feel_what_it_brings() {
    use engine::car::{Centre, Coupling};
    use quantity::si::{Force, Torque};
    let heading = |bias: f64| {
        let mut car = plain()
            .with(&lever())
            .with(&[
                ("drivetrain.driven", Word("all")),
                ("drivetrain.centre.kind", Word("locked")),
            ])
            .car();
        car.drivetrain.centre = Centre::Fixed(Coupling::Locked);
        car.drivetrain.rear_diff = Coupling::Plates {
            preload: Torque::from_nm(0.0),
            bias,
        };
        let surface = gravel(&car);
        let technique = Technique {
            hand: Force::from_n(350.0),
            ..Technique::on(&surface, &car)
        };
        let path = bench(&car).motion(&technique).unwrap();
        path.last().unwrap().1.heading_rad.to_degrees()
    };
    let found = [0.0, 0.1, 0.35, 0.5].map(heading);
    for pair in found.windows(2) {
        assert!((pair[1] - pair[0]).abs() > 0.5, "{found:?}");
    }
}

/// Coasting down straight with the clutch down, the pinion's inertia works on the differential: front-driven with plates,
/// one wheel on more grip than the other would feel it; here the state it is kept in comes to share · i · I_in · ω̇_in.
#[test]
fn what_enters_a_differential_is_what_its_wheels_do_not_keep() {
    use engine::car::Coupling;
    use quantity::si::Torque;
    // Both rear wheels braked alike and sliding nowhere: each slows by T/(J + half of what the pinion stores).
    let mut car = plain()
        .with(&lever())
        .with(&[
            ("drivetrain.final_drive", Si(4.0)),
            ("drivetrain.input_inertia", Si(0.10)),
        ])
        .car();
    car.drivetrain.rear_diff = Coupling::Plates {
        preload: Torque::from_nm(0.0),
        bias: 0.5,
    };
    let wheel = car.tyres.wheel_inertia.kg_m2();
    let bench = bench(&car);
    let mut vehicle = bench.vehicle().clone();
    // No load, no ground.
    vehicle.gravity_m_s2 = 0.0;
    let mut start = Motion::rolling(15.0, 0.31, 0.31);
    // The left one turns faster, so that the plates move torque to the right.
    start.wheel_rad_s[2] += 40.0;
    start.rear_pa = 3e6;
    let mut braked = Segment::coasting(0.0, 0.06);
    braked.rear_pa = Course::steady(3e6);
    let path = follow(
        &vehicle,
        &start,
        &[braked],
        Stepping::Adaptive { tolerance: 1e-8 },
    )
    .unwrap();
    let torque = vehicle.rear_brake.gain_nm_pa * (3e6 - vehicle.rear_brake.threshold.pa());
    let pinion = 0.10 * 4.0 * 4.0;
    let slows = 2.0 * torque / (2.0 * wheel + pinion);
    let input = pinion * slows;
    // Once the 3 ms are over, the two wheels drift together by 2 · bias · input / J.
    let apart = |motion: &Motion| motion.wheel_rad_s[2] - motion.wheel_rad_s[3];
    let at = |from: f64| path.iter().find(|(time, _)| time.s() >= from).unwrap();
    let ((from, first), (to, last)) = (at(0.03), at(0.055));
    let closing = (apart(first) - apart(last)) / (to.s() - from.s());
    let by_hand = 2.0 * 0.5 * input / wheel;
    assert!(
        (closing / by_hand - 1.0).abs() < 1e-3,
        "{closing} rad/s², by hand {by_hand}"
    );
}

/// A tyre that gives its force and lets its slopes be taken by differences.
struct ByDifferences<'a>(&'a SurfaceGrip);

impl Tyre for ByDifferences<'_> {
    fn force(&self, contact: &Contact) -> GroundForce {
        self.0.force(contact)
    }
}

#[test]
fn the_slopes_of_a_tyres_force_are_those_of_its_differences() {
    let car = plain_car();
    let curve = GripCurve::of(&gravel(&car)).unwrap();
    let tyre = SurfaceGrip::new(&curve, 0.10, 4.0 * 3000.0);
    for (along_m_s, across_m_s, rolling_m_s) in [
        (12.0, 0.0, 11.0),
        (12.0, 3.0, 10.0),
        (8.0, -4.0, 2.0),
        (5.0, 2.0, -1.0),
        (6.0, 1.0, 0.03),
    ] {
        let contact = Contact {
            axle: Axle::Rear,
            load_n: 4000.0,
            along_m_s,
            across_m_s,
            rolling_m_s,
        };
        let (told, taken) = (tyre.slopes(&contact), ByDifferences(&tyre).slopes(&contact));
        for part in 0..3 {
            for (told, taken) in [
                (told.along_n_s_m[part], taken.along_n_s_m[part]),
                (told.across_n_s_m[part], taken.across_n_s_m[part]),
            ] {
                assert!(
                    (told - taken).abs() < 1e-3 + 1e-5 * taken.abs(),
                    "{part} of {contact:?}: {told}, by differences {taken}"
                );
            }
        }
    }
}

/// The bench's car without weight, so that the ground gives nothing, its pinion without inertia: what is left on a wheel is
/// what the ties put there.
fn afloat(car: &Car) -> Vehicle<SurfaceGrip> {
    let mut vehicle = bench(car).vehicle().clone();
    vehicle.gravity_m_s2 = 0.0;
    vehicle.driveline.input_inertia_kg_m2 = 0.0;
    vehicle
}

/// Wheels at 60 rad/s, the front ones faster by so much.
fn front_faster(by_rad_s: f64) -> Motion {
    Motion {
        forward_m_s: 15.0,
        wheel_rad_s: [60.0 + by_rad_s, 60.0 + by_rad_s, 60.0, 60.0],
        ..Motion::default()
    }
}

/// 100 N·m at 10 rad/s, 200 at 20, 240 at 40; two turns a wheel turn: n T(n Δ) between the axles, half of it a wheel. Beyond
/// its last point 240 · 2^n, n = ln(240/200)/ln 2: 288 at 80 rad/s.
#[test]
fn a_viscous_centre_takes_from_the_front_what_its_curve_says() {
    let curve = Curve {
        points: [(10.0, 100.0), (20.0, 200.0), (40.0, 240.0)]
            .map(|(speed, torque)| (Rotation::from_rad_s(speed), Torque::from_nm(torque)))
            .to_vec(),
        guessed: false,
    };
    let car = plain_car();
    let wheel = car.tyres.wheel_inertia.kg_m2();
    for (by_rad_s, beyond, curve_nm) in [
        (2.5, Beyond::HeldFlat, 50.0),
        (7.5, Beyond::HeldFlat, 150.0),
        (15.0, Beyond::HeldFlat, 220.0),
        (-15.0, Beyond::GoesOn, -220.0),
        (40.0, Beyond::HeldFlat, 240.0),
        (40.0, Beyond::GoesOn, 288.0),
    ] {
        let mut vehicle = afloat(&car);
        vehicle.driveline.centre = Tie::Viscous(TorqueCurve::new(&curve, beyond));
        vehicle.driveline.centre_turns = 2.0;
        let rates = vehicle.rates(&front_faster(by_rad_s), &Segment::coasting(0.0, 1.0), 0.0);
        let by_hand = 0.5 * 2.0 * curve_nm / wheel;
        let [front, _, rear, _] = rates.wheel_rad_s;
        assert!(
            (front + by_hand).abs() < 1e-9 * by_hand.abs() && (rear - by_hand).abs() < 1e-9 * by_hand.abs(),
            "{by_rad_s} {beyond:?}: {front} and {rear}, by hand {by_hand}"
        );
    }
}

/// Plates in the centre hold by what the engine brings: closed, 30 N·m at the crank by the gear; pulling, the crank's torque
/// by the gear; clutch down, nothing. Each wheel turns the pinion by c, so 4 c of it reaches the axles.
#[test]
fn plates_in_the_centre_feel_the_engine() {
    let car = plain_car();
    let wheel = car.tyres.wheel_inertia.kg_m2();
    let mut vehicle = afloat(&car);
    vehicle.driveline.engine_inertia_kg_m2 = 0.0;
    vehicle.driveline.pinion_turns = [1.1; 4];
    vehicle.driveline.gear = 1.6;
    vehicle.driveline.engine_drag_nm = CLOSED_THROTTLE_NM * 1.6;
    vehicle.driveline.centre_turns = 2.0;
    vehicle.driveline.centre = Tie::Plates {
        preload_nm: 0.0,
        bias: 0.4,
    };
    for (engine, pinion_nm) in [
        (Engine::Parted, 0.0),
        (Engine::Closed, -30.0 * 1.6),
        (Engine::Pulling(Course::steady(50.0)), 50.0 * 1.6),
    ] {
        let mut doing = Segment::coasting(0.0, 1.0);
        doing.engine = engine;
        let [front, _, rear, _] = vehicle.rates(&front_faster(20.0), &doing, 0.0).wheel_rad_s;
        let from_engine = 1.1 * pinion_nm / wheel;
        let from_centre = 0.5 * 0.4 * 4.0 * 1.1 * f64::abs(pinion_nm) / wheel;
        assert!(
            (front - (from_engine - from_centre)).abs() < 1e-9,
            "{engine:?}: {front}"
        );
        assert!(
            (rear - (from_engine + from_centre)).abs() < 1e-9,
            "{engine:?}: {rear}"
        );
    }
}

/// A cable brakes each rear wheel by so much a newton; what has not arrived brakes nothing.
#[test]
fn a_cable_brakes_by_what_has_arrived() {
    let car = plain_car();
    let wheel = car.tyres.wheel_inertia.kg_m2();
    let mut vehicle = afloat(&car);
    vehicle.driveline.pinion_turns = [0.0; 4];
    vehicle.lever_brake = LeverBrake::Cable(0.7);
    for (arrived_n, brakes_nm) in [(200.0, 140.0), (-1.0, 0.0)] {
        let mut motion = front_faster(0.0);
        motion.lever = arrived_n;
        let rates = vehicle
            .rates(&motion, &Segment::coasting(0.0, 1.0), 0.0)
            .wheel_rad_s;
        for (rate, by_hand) in rates
            .into_iter()
            .zip([0.0, 0.0, -brakes_nm / wheel, -brakes_nm / wheel])
        {
            assert!((rate - by_hand).abs() < 1e-9, "{rates:?}, by hand {by_hand}");
        }
    }
}

/// Into the slide the wheels go towards where the front axle goes, `atan((v + r a)/u)`, the closer the slower (80 ms), no
/// further than the lock and no faster than the arms. Going backwards it is taken as going aside.
#[test]
fn a_driver_steers_to_where_the_front_axle_goes() {
    let car = plain_car();
    let bench = bench(&car);
    let vehicle = bench.vehicle();
    let mut doing = Segment::coasting(0.0, 1.0);
    doing.steering = Steering::IntoSlide {
        lock_rad: 0.6,
        rate_rad_s: 8.0,
    };
    let steers = |forward_m_s: f64| {
        let motion = Motion {
            forward_m_s,
            sideways_m_s: 2.0,
            yaw_rate_rad_s: 0.5,
            steer_rad: 0.1,
            ..Motion::rolling(10.0, 0.31, 0.31)
        };
        vehicle.rates(&motion, &doing, 0.0).steer_rad
    };
    let going = (2.0 + 0.5 * vehicle.cg_aft_m).atan2(10.0);
    assert!(
        (steers(10.0) - (going - 0.1) / 0.08).abs() < 1e-9,
        "{}",
        steers(10.0)
    );
    assert!(
        (steers(-10.0) - (0.6 - 0.1) / 0.08).abs() < 1e-9,
        "{}",
        steers(-10.0)
    );
    assert!((steers(1.0) - (0.6 - 0.1) / 0.08).abs() < 1e-9, "{}", steers(1.0));
}

/// The corners of wheelbase and tracks along the whole path, from the first thing that the driver does: what they span.
#[test]
fn the_room_is_what_the_corners_span() {
    let car = plain_car();
    let bench = bench(&car);
    let technique = Technique {
        hand: Force::from_n(350.0),
        ..Technique::on(&gravel(&car), &car)
    };
    let from = technique.steer_at.s().min(technique.lever_at.s());
    let turn = bench.turn(&technique).unwrap();
    let vehicle = bench.vehicle();
    let (mut xs, mut ys) = (Vec::new(), Vec::new());
    for (_, at) in bench
        .motion(&technique)
        .unwrap()
        .iter()
        .filter(|(time, _)| time.s() >= from)
    {
        let (sin, cos) = at.heading_rad.sin_cos();
        for wheel in 0..4_usize {
            let ahead = vehicle.cg_aft_m - if wheel < 2 { 0.0 } else { vehicle.wheelbase_m };
            let half = 0.5 * vehicle.tracks_m[wheel / 2];
            let left = if wheel % 2 == 0 { half } else { -half };
            xs.push(at.x_m + ahead * cos - left * sin);
            ys.push(at.y_m + ahead * sin + left * cos);
        }
    }
    let span = |places: &[f64]| {
        let most = places.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        most - places.iter().copied().fold(f64::INFINITY, f64::min)
    };
    assert!(span(&ys) > 2.0 && span(&xs) > 5.0);
    assert!((turn.room[0].m() - span(&ys)).abs() < 1e-9, "{:?}", turn.room);
    assert!((turn.room[1].m() - span(&xs)).abs() < 1e-9, "{:?}", turn.room);
    // The lever stops the rear, and the rear alone.
    let stood = |wheel: usize| turn.tracks.stands[wheel].iter().any(|&stands| stands);
    assert_eq!([0, 1, 2, 3].map(stood), [false, false, true, true]);
}

/// Below 2 m/s no ratio of speeds says anything: none is told, rather than one that is no number.
#[test]
fn too_slow_for_a_ratio_of_speeds_none_is_told() {
    let car = plain_car();
    let technique = Technique {
        entry: Speed::from_m_s(1.5),
        until: Duration::from_s(1.0),
        ..Technique::on(&gravel(&car), &car)
    };
    let turn = bench(&car).turn(&technique).unwrap();
    assert_eq!(turn.locking.front_speed_ratio, None);
}

/// x' = u cos ψ − v sin ψ, y' = u sin ψ + v cos ψ, ψ' = r: at 30°, 12 m/s ahead and 5 m/s to the left.
#[test]
fn a_car_goes_where_its_speeds_point() {
    let moving = Motion {
        heading_rad: core::f64::consts::FRAC_PI_6,
        forward_m_s: 12.0,
        sideways_m_s: 5.0,
        yaw_rate_rad_s: 0.4,
        wheel_rad_s: [40.0; 4],
        ..Motion::default()
    };
    let rates = afloat(&plain_car()).rates(&moving, &Segment::coasting(0.0, 1.0), 0.0);
    let (sin, cos) = (0.5, 0.75_f64.sqrt());
    assert!(
        (rates.x_m - (12.0 * cos - 5.0 * sin)).abs() < 1e-12,
        "{}",
        rates.x_m
    );
    assert!(
        (rates.y_m - (12.0 * sin + 5.0 * cos)).abs() < 1e-12,
        "{}",
        rates.y_m
    );
    assert_eq!(rates.heading_rad, 0.4);
}

/// A curve that does not begin at nothing begins there all the same: half of 100 N·m at half of 10 rad/s, though its own first
/// stretch points elsewhere. One whose last but one point has no speed or no torque goes on in proportion.
#[test]
fn a_curve_begins_at_nothing_and_goes_on_by_its_last_two_points() {
    let car = plain_car();
    let wheel = car.tyres.wheel_inertia.kg_m2();
    let carried = |points: &[(f64, f64)], by_rad_s: f64| {
        let curve = Curve {
            points: points
                .iter()
                .map(|&(speed, torque)| (Rotation::from_rad_s(speed), Torque::from_nm(torque)))
                .collect(),
            guessed: false,
        };
        let mut vehicle = afloat(&car);
        vehicle.driveline.centre = Tie::Viscous(TorqueCurve::new(&curve, Beyond::GoesOn));
        vehicle.driveline.centre_turns = 1.0;
        let rates = vehicle.rates(&front_faster(by_rad_s), &Segment::coasting(0.0, 1.0), 0.0);
        -2.0 * wheel * rates.wheel_rad_s[0]
    };
    let near =
        |got: f64, by_hand: f64| assert!((got - by_hand).abs() < 1e-9 * by_hand, "{got}, not {by_hand}");
    near(carried(&[(10.0, 100.0), (20.0, 300.0)], 5.0), 50.0);
    near(carried(&[(0.0, 50.0), (10.0, 100.0)], 20.0), 200.0);
    near(carried(&[(0.0, 0.0), (5.0, 0.0), (10.0, 100.0)], 20.0), 200.0);
}

/// How the four wheels stood, counted again from the trace alone: rear ones below 0.05 m/s, front ones below a tenth of their
/// hub's speed along them, hubs above 1 m/s; both dragged below
/// the share at which they steer, until the lever is let go and ever.
struct Recount {
    rear_s: f64,
    inner_s: f64,
    front_s: f64,
    dragged_s: f64,
    dragged_ever_s: f64,
    stands: [Vec<bool>; 4],
}

fn recount(bench: &TurnBench, turn: &engine::turn::Turn) -> Recount {
    let (vehicle, trace) = (bench.vehicle(), &turn.trace);
    let mut counted = Recount {
        rear_s: 0.0,
        inner_s: 0.0,
        front_s: 0.0,
        dragged_s: 0.0,
        dragged_ever_s: 0.0,
        stands: Default::default(),
    };
    for at in 0..trace.t_s.len() {
        let (u, v, r) = (trace.u_m_s[at], trace.v_m_s[at], trace.yaw_rate_rad_s[at]);
        let mut dragged = true;
        let stands = [0, 1, 2, 3].map(|wheel: usize| {
            let ahead = vehicle.cg_aft_m - if wheel < 2 { 0.0 } else { vehicle.wheelbase_m };
            let half = 0.5 * vehicle.tracks_m[wheel / 2];
            let left = if wheel.is_multiple_of(2) { half } else { -half };
            let (along, across) = (u - r * left, v + r * ahead);
            let rolling = trace.wheel_rad_s[wheel][at] * vehicle.radii_m[wheel / 2];
            if wheel < 2 {
                let (sin, cos) = trace.steer_rad[at].sin_cos();
                let along = (along * cos + across * sin).abs();
                dragged &= rolling < turn.front_keeps * along && along > 1.0;
                rolling.abs() < 0.1 * along && along > 1.0
            } else {
                rolling.abs() < 0.05 && along.hypot(across) > 1.0
            }
        });
        let step_s = at
            .checked_sub(1)
            .map_or(0.0, |before| trace.t_s[at] - trace.t_s[before]);
        let inner = if r >= 0.0 { stands[2] } else { stands[3] };
        counted.rear_s += if stands[2] && stands[3] { step_s } else { 0.0 };
        counted.inner_s += if inner && !(stands[2] && stands[3]) {
            step_s
        } else {
            0.0
        };
        counted.front_s += if stands[0] && stands[1] { step_s } else { 0.0 };
        let pulled = turn.released.is_none_or(|released| trace.t_s[at] <= released.s());
        counted.dragged_s += if dragged && pulled { step_s } else { 0.0 };
        counted.dragged_ever_s += if dragged { step_s } else { 0.0 };
        for (all, stands) in counted.stands.iter_mut().zip(stands) {
            all.push(stands);
        }
    }
    counted
}

/// Two samples of a trace at either end of a stretch.
const STRETCH_S: f64 = 0.09;

/// What locking says, to the left and to the right, against the recount; corners that stay a rectangle.
#[test]
fn how_wheels_stood_is_what_the_trace_shows() {
    let (mut inner_s, mut front_s, mut dragged_s) = (0.0, 0.0, 0.0);
    // Let go; pulled until the run ends with wheels that stand; pulled until the car stands.
    for (centre, hand, pulled_until_s) in [
        ("none", 150.0, None),
        ("none", 350.0, None),
        ("locked", 900.0, None),
        ("locked", 900.0, Some(1.5)),
        ("locked", 900.0, Some(6.0)),
    ] {
        let mut car = plain_car();
        if centre == "locked" {
            car.drivetrain.driven = engine::car::Driven::All;
            car.drivetrain.centre = engine::car::Centre::Fixed(engine::car::Coupling::Locked);
            // Room and stroke for all the force there is.
            let lever = car.lever.as_mut().unwrap();
            lever.room = Length::from_m(1.0);
            if let LeverKind::Inline(cylinder) = &mut lever.kind {
                cylinder.stroke = Length::from_m(0.2);
            }
        }
        let bench = bench(&car);
        let usual = Technique::on(&gravel(&car), &car);
        let to_the_left = Technique {
            hand: Force::from_n(hand),
            // Going straight both front wheels stand with the rear ones.
            steer: if centre == "locked" {
                Angle::ZERO
            } else {
                usual.steer
            },
            release: pulled_until_s.map_or(usual.release, |_| Release::Never),
            until: pulled_until_s.map_or(usual.until, Duration::from_s),
            ..usual
        };
        for technique in [to_the_left, to_the_left.mirrored()] {
            let turn = bench.turn(&technique).unwrap();
            let counted = recount(&bench, &turn);
            let near = |told: Duration, counted_s: f64, what: &str| {
                let off = (told.s() - counted_s).abs();
                assert!(
                    off < STRETCH_S,
                    "{centre} {hand} {what}: {told:?}, counted {counted_s}"
                );
            };
            near(turn.locking.rear_for, counted.rear_s, "rear");
            near(turn.locking.inner_only_for, counted.inner_s, "inner");
            near(turn.locking.front_for, counted.front_s, "front");
            // The rear brakes are on until some moment after the lever is let go.
            let dragged = turn.locking.front_dragged_for.s();
            assert!(
                (counted.dragged_s - STRETCH_S..counted.dragged_ever_s + STRETCH_S).contains(&dragged),
                "{centre} {hand} dragged: {dragged}, counted {} to {}",
                counted.dragged_s,
                counted.dragged_ever_s
            );
            assert_eq!(turn.tracks.stands, counted.stands);
            inner_s += counted.inner_s;
            front_s += counted.front_s;
            dragged_s += counted.dragged_s;
            for at in 0..turn.trace.t_s.len() {
                let place = |wheel: usize| (turn.tracks.x_m[wheel][at], turn.tracks.y_m[wheel][at]);
                let apart = |one: usize, other: usize| {
                    let ((x, y), (to_x, to_y)) = (place(one), place(other));
                    (x - to_x).hypot(y - to_y)
                };
                let vehicle = bench.vehicle();
                assert!((apart(0, 1) - vehicle.tracks_m[0]).abs() < 1e-9);
                assert!((apart(2, 3) - vehicle.tracks_m[1]).abs() < 1e-9);
                let skew = 0.5 * (vehicle.tracks_m[0] + vehicle.tracks_m[1]);
                let diagonal = vehicle.wheelbase_m.hypot(skew);
                assert!((apart(0, 3) - diagonal).abs() < 1e-9 && (apart(1, 2) - diagonal).abs() < 1e-9);
            }
        }
    }
    assert!(
        inner_s > 0.3 && front_s > 0.3 && dragged_s > 0.3,
        "{inner_s} {front_s} {dragged_s}"
    );
}

/// With a locked centre all four wheels and the pinion slow as one: a = 2 T/(4 J + i² I). What comes through each
/// differential is what its wheels do not keep, 2 J a at the front and 2 T − 2 J a behind, and its plates move twice their
/// bias of it from the faster wheel to the slower.
#[test]
fn plates_feel_what_a_locked_centre_and_the_pinion_bring() {
    use engine::car::{Centre, Coupling, Driven};
    let (ratio, pinion_kg_m2, bias) = (4.0, 0.10, 0.3);
    let mut car = plain_car();
    car.drivetrain.driven = Driven::All;
    car.drivetrain.centre = Centre::Fixed(Coupling::Locked);
    let plates = Coupling::Plates {
        preload: Torque::from_nm(0.0),
        bias,
    };
    (car.drivetrain.front_diff, car.drivetrain.rear_diff) = (plates.clone(), plates);
    let wheel = car.tyres.wheel_inertia.kg_m2();
    let mut vehicle = afloat(&car);
    vehicle.driveline.input_inertia_kg_m2 = pinion_kg_m2;
    vehicle.driveline.pinion_turns = [0.25 * ratio; 4];
    // The left ones turn faster, front and rear alike.
    let mut start = front_faster(0.0);
    for (wheel, by) in start.wheel_rad_s.iter_mut().zip([20.0, -20.0, 20.0, -20.0]) {
        *wheel += by;
    }
    start.rear_pa = 3e6;
    let mut braked = Segment::coasting(0.0, 0.04);
    braked.rear_pa = Course::steady(3e6);
    let path = follow(
        &vehicle,
        &start,
        &[braked],
        Stepping::Adaptive { tolerance: 1e-8 },
    )
    .unwrap();
    let torque = vehicle.rear_brake.gain_nm_pa * (3e6 - vehicle.rear_brake.threshold.pa());
    let slows = 2.0 * torque / (4.0 * wheel + ratio * ratio * pinion_kg_m2);
    let at = |from: f64| path.iter().find(|(time, _)| time.s() >= from).unwrap();
    let ((from, first), (to, last)) = (at(0.025), at(0.035));
    // Once the 3 ms are over.
    let closing = |left: usize| {
        let apart = |motion: &Motion| motion.wheel_rad_s[left] - motion.wheel_rad_s[left + 1];
        (apart(first) - apart(last)) / (to.s() - from.s())
    };
    for (left, input) in [(0, 2.0 * wheel * slows), (2, 2.0 * torque - 2.0 * wheel * slows)] {
        let by_hand = 2.0 * bias * input / wheel;
        assert!(
            (closing(left) / by_hand - 1.0).abs() < 1e-3,
            "wheel {left}: {} rad/s², by hand {by_hand}",
            closing(left)
        );
    }
}

/// Driven in front, its front wheels held by their brakes and the engine with them: a rear axle that nothing drives rolls on.
#[test]
fn an_engine_that_stands_asks_nothing_of_an_axle_that_is_not_driven() {
    use engine::car::Coupling;
    let mut car = plain_car();
    let plates = Coupling::Plates {
        preload: Torque::from_nm(20.0),
        bias: 0.3,
    };
    (car.drivetrain.front_diff, car.drivetrain.rear_diff) = (plates.clone(), plates);
    let mut vehicle = afloat(&car);
    vehicle.driveline.input_inertia_kg_m2 = 0.1;
    vehicle.driveline.pinion_turns = [2.0, 2.0, 0.0, 0.0];
    let mut start = front_faster(0.0);
    (start.wheel_rad_s[0], start.wheel_rad_s[1]) = (0.0, 0.0);
    let mut held = Segment::coasting(0.0, 0.02);
    held.engine = Engine::Closed;
    held.front_nm = Course::steady(500.0);
    let path = follow(&vehicle, &start, &[held], Stepping::Adaptive { tolerance: 1e-8 }).unwrap();
    assert!(path.len() > 1);
    for (_, motion) in &path {
        assert_eq!(motion.wheel_rad_s, [0.0, 0.0, 60.0, 60.0]);
    }
}

/// A ground that pulls each wheel of an axle back with one force, whatever it does.
#[derive(Clone, Copy)]
struct Pulling {
    front_n: f64,
    rear_n: f64,
}

impl Tyre for Pulling {
    fn force(&self, contact: &Contact) -> GroundForce {
        let along_n = match contact.axle {
            Axle::Front => self.front_n,
            Axle::Rear => self.rear_n,
        };
        GroundForce {
            along_n,
            across_n: 0.0,
        }
    }
}

/// A closed engine that stands while the two wheels of each axle turn against each other, pulled by the ground with R P_f
/// and R P_r each. Its reaction λ keeps the pinion at rest, c·ω̇ = 0.
///
/// - Open centre: λ = R (c_f P_f + c_r P_r)/(c_f² + c_r²), and each axle's differential takes 2 c λ.
/// - Locked centre: all four axle halves are held, so each differential takes what the ground pulls at it, 2 R P.
///
/// The plates close each axle by twice their bias of that over J.
#[test]
fn plates_feel_an_engine_that_stands_while_wheels_turn_against_each_other() {
    use engine::car::{Centre, Coupling, Driven};
    let (bias, turns, pulls) = (0.3, [1.0, 3.0], [200.0, 120.0]);
    for centre in [Coupling::Open, Coupling::Locked] {
        let locked = centre == Coupling::Locked;
        let mut car = plain_car();
        car.drivetrain.driven = Driven::All;
        car.drivetrain.centre = Centre::Fixed(centre);
        let plates = Coupling::Plates {
            preload: Torque::from_nm(0.0),
            bias,
        };
        (car.drivetrain.front_diff, car.drivetrain.rear_diff) = (plates.clone(), plates);
        let (wheel, radius) = (car.tyres.wheel_inertia.kg_m2(), car.tyres.rear_radius.m());
        let afloat = afloat(&car);
        let mut vehicle = Vehicle {
            mass_kg: afloat.mass_kg,
            yaw_inertia_kg_m2: afloat.yaw_inertia_kg_m2,
            cg_aft_m: afloat.cg_aft_m,
            wheelbase_m: afloat.wheelbase_m,
            cg_height_m: afloat.cg_height_m,
            tracks_m: afloat.tracks_m,
            roll_share_front: afloat.roll_share_front,
            radii_m: [radius; 2],
            gravity_m_s2: 0.0,
            driveline: afloat.driveline.clone(),
            rear_brake: afloat.rear_brake,
            lever_brake: LeverBrake::None,
            live_valve: None,
            pressure_lag_s: afloat.pressure_lag_s,
            transfer: afloat.transfer,
            tyre: Pulling {
                front_n: pulls[0],
                rear_n: pulls[1],
            },
        };
        vehicle.driveline.input_inertia_kg_m2 = 0.1;
        vehicle.driveline.pinion_turns = [turns[0], turns[0], turns[1], turns[1]];
        // It can hold whatever comes.
        vehicle.driveline.engine_drag_nm = 1e4;
        let mut start = front_faster(0.0);
        start.wheel_rad_s = [20.0, -20.0, 20.0, -20.0];
        let mut stands = Segment::coasting(0.0, 0.04);
        stands.engine = Engine::Closed;
        let path = follow(
            &vehicle,
            &start,
            &[stands],
            Stepping::Adaptive { tolerance: 1e-8 },
        )
        .unwrap();
        let at = |from: f64| path.iter().find(|(time, _)| time.s() >= from).unwrap();
        let ((from, first), (to, last)) = (at(0.025), at(0.035));
        let pinion = |motion: &Motion| {
            let spin = motion.wheel_rad_s;
            turns[0] * (spin[0] + spin[1]) + turns[1] * (spin[2] + spin[3])
        };
        assert!(pinion(last).abs() < 1e-6, "the engine turns: {}", pinion(last));
        let pulled = [0, 1].map(|axle: usize| radius * pulls[axle]);
        let reaction = (turns[0] * pulled[0] + turns[1] * pulled[1]) / (turns[0].powi(2) + turns[1].powi(2));
        for axle in [0, 1] {
            let input = if locked {
                2.0 * pulled[axle]
            } else {
                2.0 * turns[axle] * reaction
            };
            let apart = |motion: &Motion| motion.wheel_rad_s[2 * axle] - motion.wheel_rad_s[2 * axle + 1];
            let closing = (apart(first) - apart(last)) / (to.s() - from.s());
            let by_hand = 2.0 * bias * input / wheel;
            assert!(
                (closing / by_hand - 1.0).abs() < 1e-3,
                "axle {axle}, locked {locked}: {closing} rad/s², by hand {by_hand}"
            );
        }
    }
}

/// One wheel held by its brake, locked centre: its neighbour takes half of what the centre brings, c/2, and slows twice as
/// fast as the other axle, which gives c: J a = − T + c/2 and c = − J a, so c = T/1.5. The other axle's plates feel it.
#[test]
fn plates_feel_a_locked_centre_across_from_a_wheel_that_is_held() {
    use engine::car::{Centre, Coupling, Driven};
    let bias = 0.3;
    for held in 0..4_usize {
        let far = if held < 2 { 2 } else { 0 };
        let mut car = plain_car();
        car.drivetrain.driven = Driven::All;
        car.drivetrain.centre = Centre::Fixed(Coupling::Locked);
        let plates = Coupling::Plates {
            preload: Torque::from_nm(0.0),
            bias,
        };
        if held < 2 {
            car.drivetrain.rear_diff = plates;
        } else {
            car.drivetrain.front_diff = plates;
        }
        let wheel = car.tyres.wheel_inertia.kg_m2();
        let vehicle = afloat(&car);
        let torque = vehicle.rear_brake.gain_nm_pa * (3e6 - vehicle.rear_brake.threshold.pa());
        let mut start = front_faster(0.0);
        (start.wheel_rad_s[held], start.wheel_rad_s[held ^ 1]) = (0.0, 60.0);
        (start.wheel_rad_s[far], start.wheel_rad_s[far + 1]) = (50.0, 10.0);
        let mut braked = Segment::coasting(0.0, 0.03);
        if held < 2 {
            braked.front_nm = Course::steady(torque);
        } else {
            start.rear_pa = 3e6;
            braked.rear_pa = Course::steady(3e6);
        }
        let path = follow(
            &vehicle,
            &start,
            &[braked],
            Stepping::Adaptive { tolerance: 1e-8 },
        )
        .unwrap();
        let at = |from: f64| path.iter().find(|(time, _)| time.s() >= from).unwrap();
        let ((from, first), (to, last)) = (at(0.022), at(0.028));
        assert_eq!(last.wheel_rad_s[held], 0.0);
        let apart = |motion: &Motion| motion.wheel_rad_s[far] - motion.wheel_rad_s[far + 1];
        let closing = (apart(first) - apart(last)) / (to.s() - from.s());
        let by_hand = 2.0 * bias * torque / 1.5 / wheel;
        assert!(
            (closing / by_hand - 1.0).abs() < 2e-3,
            "wheel {held}: {closing} rad/s², by hand {by_hand}"
        );
    }
}

/// A sharp curve is followed as closely as a soft one: within a hundred-thousandth of its peak, between the table's points
/// too.
#[test]
fn a_sharp_curve_takes_a_finer_table() {
    let curve = GripCurve {
        stiffness_factor: 300.0,
        shape_factor: 1.6,
        peak_factor: 1.0,
        curvature_factor: 0.0,
    };
    let tyre = SurfaceGrip::new(&curve, 0.0, 4.0 * 3000.0);
    for thousandth in 1..1000_u16 {
        let bounded = f64::from(thousandth) / 1000.0;
        let contact = Contact {
            axle: Axle::Rear,
            load_n: 3000.0,
            along_m_s: 10.0,
            across_m_s: 0.0,
            rolling_m_s: 10.0 * (1.0 - bounded),
        };
        let grip = tyre.force(&contact).along_n.abs() / 3000.0;
        let by_curve = curve.grip(bounded / (1.0 - bounded));
        assert!(
            (grip - by_curve).abs() < 1e-3,
            "{bounded}: {grip}, not {by_curve}"
        );
    }
}

/// Between two points far apart a path is drawn by its speeds: straight on, 30° off the way in. It ends where it ends.
#[test]
fn a_path_is_drawn_by_its_speeds() {
    use engine::turn::sampled;
    let (sin, cos) = (0.5, 0.75_f64.sqrt());
    let speeds = (12.0 * cos - 5.0 * sin, 12.0 * sin + 5.0 * cos);
    let at = |time_s: f64| {
        let motion = Motion {
            x_m: speeds.0 * time_s,
            y_m: speeds.1 * time_s,
            heading_rad: core::f64::consts::FRAC_PI_6,
            forward_m_s: 12.0,
            sideways_m_s: 5.0,
            ..Motion::default()
        };
        (Duration::from_s(time_s), motion)
    };
    let trace = sampled(&[at(0.0), at(1.0)], Duration::from_s(0.3));
    assert_eq!(trace.t_s.len(), 5);
    assert_eq!(trace.t_s.last(), Some(&1.0));
    for ((time_s, x_m), y_m) in trace.t_s.iter().zip(&trace.x_m).zip(&trace.y_m) {
        assert!(
            (x_m - speeds.0 * time_s).abs() < 1e-9 && (y_m - speeds.1 * time_s).abs() < 1e-9,
            "{x_m} and {y_m} m at {time_s} s"
        );
    }
}

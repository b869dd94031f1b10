//! What has to be equal, on every written car and in a list of states.

use engine::brake::Warmth;
use engine::car::{Car, Master, Pipe, Split, Wheel};
use engine::hydraulics::{Forces, Hydraulics, Response};
use engine::loads::{Aboard, Fuel, Laden};
use engine::network::Taken;
use quantity::si::{Force, Length, Volume};

use crate::bench::{ask, valve_behind_lever, with_endless_pedal, written};

/// Sums of a few terms of one size: some last bits.
const BITS: f64 = 1e-12;

fn close(one: f64, other: f64, relative: f64) -> bool {
    (one - other).abs() <= relative * one.abs().max(other.abs())
}

fn states(car: &Car) -> Vec<Laden> {
    [true, false]
        .into_iter()
        .flat_map(|crew| {
            [
                Fuel::AsWeighed,
                Fuel::Dry,
                Fuel::Half,
                Fuel::Full,
                Fuel::Of(Volume::from_m3(0.007)),
            ]
            .map(|fuel| Laden::of(car, Aboard { crew, fuel }))
        })
        .collect()
}

#[test]
fn axle_loads_sum_to_weight() {
    for (name, car) in written() {
        for laden in states(&car) {
            for rate in [-0.3, 0.0, 0.15, 0.5, 1.0, 3.0] {
                let loads = laden.axle_loads(rate);
                assert!(
                    close((loads.front + loads.rear).n(), laden.weight_n(), BITS),
                    "{name} at {rate}"
                );
            }
        }
    }
}

#[test]
fn moments_of_all_masses_about_the_front_axle_are_the_rear_load() {
    for (name, car) in written() {
        let aboard = Aboard {
            crew: true,
            fuel: Fuel::Full,
        };
        let laden = Laden::of(&car, aboard);
        let (front_kg, rear_kg) = (car.weighed.front.kg(), car.weighed.rear.kg());
        let mut moment = rear_kg * car.geometry.wheelbase.m();
        let mut kg = front_kg + rear_kg;
        for item in car.load.crew.iter().chain(&car.load.items) {
            moment += item.mass.kg() * item.aft.m();
            kg += item.mass.kg();
        }
        if let Some(tank) = car.load.tank {
            let fuel_kg = (tank.capacity - car.weighed.fuel_aboard).m3() * 740.0;
            moment += fuel_kg * tank.aft.m();
            kg += fuel_kg;
        }
        assert!(close(laden.mass.kg(), kg, BITS), "{name}");
        let rear_n = moment * 9.81 / car.geometry.wheelbase.m();
        assert!(close(laden.axle_loads(0.0).rear.n(), rear_n, BITS), "{name}");
    }
}

/// Weighed yaw inertia moves with the centre of gravity; what came aboard enters as points about the new one.
#[test]
fn yaw_inertia_about_another_point_is_that_of_all_parts() {
    for (name, car) in written() {
        let as_weighed = Laden::of(&car, Aboard::AS_WEIGHED);
        let laden = Laden::of(
            &car,
            Aboard {
                crew: true,
                fuel: Fuel::AsWeighed,
            },
        );
        // About the front axle, both ways.
        let whole = laden.yaw_inertia.kg_m2() + laden.mass.kg() * laden.cg_aft.m().powi(2);
        let mut parts = as_weighed.yaw_inertia.kg_m2() + as_weighed.mass.kg() * as_weighed.cg_aft.m().powi(2);
        for item in car.load.crew.iter().chain(&car.load.items) {
            parts += item.mass.kg() * item.aft.m().powi(2);
        }
        assert!(close(whole, parts, BITS), "{name}: {whole} {parts}");
    }
}

#[test]
fn front_rod_plus_rear_rod_is_the_pedal_rod() {
    let mut twins = 0;
    for (name, car) in written() {
        if !matches!(car.master, Master::Twin { .. }) {
            continue;
        }
        twins += 1;
        let foot = Hydraulics::of(&car, Warmth::Warm).foot;
        for force_n in [1.0, 120.0, 480.0, 3000.0] {
            let rod = foot.push_rod(Force::from_n(force_n));
            let pressures = foot.pressures(rod);
            let both = pressures[0].pa() * foot.area(0).m2() + pressures[1].pa() * foot.area(1).m2();
            assert!(close(both, rod.n(), BITS), "{name}");
        }
    }
    assert!(twins >= 3);
}

#[test]
fn foot_and_push_rod_and_pressure_lead_back_to_each_other() {
    for (name, car) in written() {
        let foot = Hydraulics::of(&car, Warmth::Warm).foot;
        for force_n in [0.5, 60.0, 250.0, 900.0] {
            let rod = foot.push_rod(Force::from_n(force_n));
            // A foot that moves nothing is not found again.
            assert!(
                rod == Force::ZERO || close(foot.foot(rod).n(), force_n, BITS),
                "{name}"
            );
            for chamber in [0, 1] {
                let again = foot.push_rod_for(chamber, foot.pressures(rod)[chamber]);
                assert!(close(again.n(), rod.n(), BITS), "{name}");
            }
        }
    }
}

/// No losses, no free stroke, no free play, no booster.
fn without_losses(car: &Car) -> Car {
    let mut car = with_endless_pedal(car.clone());
    car.pedal.efficiency = 1.0;
    if let Some(lever) = &mut car.lever {
        use engine::car::LeverKind::{Cable, Inline, Separate};
        match &mut lever.kind {
            Inline(cylinder) | Separate(cylinder, _) => {
                cylinder.efficiency = 1.0;
                cylinder.free_stroke = Length::ZERO;
                cylinder.stroke = Length::from_m(100.0);
            }
            Cable(_) => {}
        }
        lever.free_play = Length::ZERO;
        lever.room = Length::from_m(1e4);
    }
    car
}

/// Everything between two answers is straight or nearly so: the mean force over the way, the mean pressure over the
/// volume. Both follow the same curve, so that they agree to the last bits however large the step.
fn work(low: f64, high: f64, from: f64, to: f64) -> f64 {
    0.5 * (low + high) * (to - from)
}

#[test]
fn force_times_travel_at_the_hand_is_pressure_times_volume() {
    let mut tried = 0;
    for (name, car) in written() {
        let car = without_losses(&car);
        if car.lever.as_ref().is_none_or(|lever| lever.cylinder().is_none()) || valve_behind_lever(&car) {
            continue;
        }
        for (low_n, high_n) in [(150.0, 150.5), (20.0, 21.0), (100.0, 400.0)] {
            let [low, high] = [low_n, high_n].map(|hand_n| ask(&car, 0.0, hand_n).lever.unwrap());
            let travel = |answer: &engine::hydraulics::LeverSide| answer.travel.unwrap().m();
            let own = |answer: &engine::hydraulics::LeverSide| answer.own.unwrap().pa();
            let into = work(low_n, high_n, travel(&low), travel(&high));
            let out = work(
                own(&low),
                own(&high),
                low.taken.total().m3(),
                high.taken.total().m3(),
            );
            // Travels differ in their last digits only by what the step leaves of them.
            assert!(close(into, out, 1e-10), "{name}: {into} J in, {out} J out");
            tried += 1;
        }
    }
    assert!(tried >= 30, "{tried}");
}

#[test]
fn force_times_travel_at_the_foot_is_pressure_times_volume() {
    for (name, car) in written() {
        let mut car = without_losses(&car);
        car.bias_valve = None;
        let hydraulics = Hydraulics::of(&car, Warmth::Warm);
        let at = |foot_n: f64| -> (Response, [f64; 2]) {
            let laden = Laden::of(&car, Aboard::default());
            let asked = Forces {
                foot: Force::from_n(foot_n),
                hand: Force::ZERO,
            };
            let answer = hydraulics.answer(&laden, asked);
            let taken = hydraulics
                .network
                .taken_by_chambers(&answer.nodes)
                .map(Volume::m3);
            (answer, taken)
        };
        let joined = hydraulics.network.chambers_joined();
        for (low_n, high_n) in [(2.0, 2.01), (3.0, 9.0)] {
            let ((low, low_m3), (high, high_m3)) = (at(low_n), at(high_n));
            let into = work(low_n, high_n, low.pedal.travel.m(), high.pedal.travel.m());
            let out = if joined {
                let [low_pa, high_pa] = [&low, &high].map(|answer| answer.pedal.chambers[0].pa());
                work(
                    low_pa,
                    high_pa,
                    low.pedal.taken.total().m3(),
                    high.pedal.taken.total().m3(),
                )
            } else {
                (0..2)
                    .map(|chamber| {
                        let [low_pa, high_pa] =
                            [&low, &high].map(|answer| answer.pedal.chambers[chamber].pa());
                        work(low_pa, high_pa, low_m3[chamber], high_m3[chamber])
                    })
                    .sum()
            };
            assert!(close(into, out, 1e-10), "{name}: {into} J in, {out} J out");
        }
    }
}

/// The bar's middle moves by the shares, so what goes in comes out even where the two strokes differ.
#[test]
fn what_takes_the_fluid_adds_up_to_it() {
    let sum = |taken: &Taken| taken.clearance + taken.flex + taken.hoses + taken.fluid + taken.air;
    for (name, car) in written() {
        let hydraulics = Hydraulics::of(&car, Warmth::Warm);
        for (foot_n, hand_n) in [(200.0, 0.0), (0.0, 200.0), (60.0, 260.0)] {
            let answer = ask(&car, foot_n, hand_n);
            let behind = hydraulics.network.shares_behind_lever(&answer.nodes);
            let all = hydraulics.network.taken_behind_lever(&answer.nodes);
            assert!(close(sum(&behind).m3(), all.m3(), BITS), "{name}");
            assert!(close(sum(&behind).m3(), behind.total().m3(), BITS), "{name}");
        }
    }
}

/// The same car seen in a mirror.
fn mirrored(car: &Car) -> Car {
    let mut other = car.clone();
    let routes = &mut other.routes;
    for (left, right) in [
        (&mut routes.tee_to_rear_left, &mut routes.tee_to_rear_right),
        (
            &mut routes.master_to_front_left,
            &mut routes.master_to_front_right,
        ),
        (&mut routes.lever_tee_to_left, &mut routes.lever_tee_to_right),
    ] {
        core::mem::swap(left, right);
    }
    other
}

#[test]
fn a_mirrored_car_mirrors() {
    use engine::balance::{First, failed_circuits};
    let across = |wheel: Wheel| match wheel {
        Wheel::FrontLeft => Wheel::FrontRight,
        Wheel::FrontRight => Wheel::FrontLeft,
        Wheel::RearLeft => Wheel::RearRight,
        Wheel::RearRight => Wheel::RearLeft,
    };
    for (name, car) in written() {
        let other = mirrored(&car);
        for (foot_n, hand_n) in [(220.0, 0.0), (0.0, 180.0), (40.0, 300.0), (900.0, 0.0)] {
            let (one, two) = (ask(&car, foot_n, hand_n), ask(&other, foot_n, hand_n));
            for wheel in Wheel::ALL {
                let (here, there) = (one.wheels[wheel.index()], two.wheels[across(wheel).index()]);
                assert!(
                    close(here.pressure.pa(), there.pressure.pa(), 1e-9),
                    "{name} {}",
                    wheel.name()
                );
                assert!(
                    close(here.torque.nm(), there.torque.nm(), 1e-9),
                    "{name} {}",
                    wheel.name()
                );
            }
            assert!(close(one.pedal.travel.m(), two.pedal.travel.m(), 1e-9), "{name}");
            let travel =
                |answer: &Response| answer.lever.and_then(|lever| lever.travel).map_or(0.0, Length::m);
            assert!(close(travel(&one), travel(&two), 1e-9), "{name}");
        }
        let laden = Laden::of(&car, Aboard::default());
        let failed = |car: &Car| failed_circuits(car, &Hydraulics::of(car, Warmth::Warm), &laden, 0.7);
        let ([first, second], mut there) = (failed(&car), failed(&other));
        if car.master.split() == Split::Diagonal {
            there.swap(0, 1);
        }
        for (here, there) in [first, second].iter().zip(&there) {
            assert!(close(here.rate.m_s2(), there.rate.m_s2(), 1e-9), "{name}");
            assert!(close(here.travel.m(), there.travel.m(), 1e-9), "{name}");
        }
        let lock = |car: &Car| {
            let hydraulics = Hydraulics::of(car, Warmth::Warm);
            engine::balance::Balance::of(car, hydraulics, laden, crate::bench::SPEED).lock(0.6)
        };
        let (one, two) = (lock(&car), lock(&other));
        assert_eq!(one.first, two.first, "{name}");
        assert!(
            one.first == First::Neither || close(one.at.unwrap().foot.n(), two.at.unwrap().foot.n(), 1e-9)
        );
    }
}

/// Water hammer, mass and friction of the fluid are left out: a pipe is its volume and its growth, wherever it lies.
#[test]
fn a_pipe_is_its_bore_and_its_growth() {
    for pipe in [
        Pipe::Steel316,
        Pipe::CopperNickel316,
        Pipe::Steel14,
        Pipe::CopperNickel14,
    ] {
        assert!(!pipe.is_hose() && pipe.growth_m2_pa() == 0.0);
    }
    for pipe in [Pipe::Braided3, Pipe::Rubber] {
        assert!(pipe.is_hose() && pipe.growth_m2_pa() > 0.0);
        // A metre at 100 bar grows by less than its own content.
        assert!(pipe.growth_m2_pa() * 100e5 < pipe.section().m2());
    }
}

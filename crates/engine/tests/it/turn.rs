//! The turn's simulation: facts of the trade (common practice, no source), closed forms, symmetry.

use engine::car::Car;
use engine::loads::{Aboard, Laden};
use engine::turn::{Clutch, Technique, Turn, run};
use quantity::si::{Angle, Duration, Force, Speed};

use crate::bench::written;

fn car(name: &str) -> Car {
    let sheet = format!("demo/{name}/car.toml");
    let (_, car) = written()
        .into_iter()
        .find(|(known, _)| known.ends_with(&sheet))
        .unwrap();
    car
}

fn on_gravel(car: &Car, change: impl Fn(&mut Technique)) -> Turn {
    let laden = Laden::of(car, Aboard::default());
    let surface = car.surface("hard gravel").unwrap();
    let mut technique = Technique::on(surface, car);
    change(&mut technique);
    run(car, &laden, surface, &technique).unwrap()
}

/// The centre that drags the front wheels keeps the rear rolling for longer, slows the front and turns the car less;
/// let go, it does not. Pressing the clutch or not changes little of either.
#[test]
fn a_dragging_centre_spoils_the_turn_and_letting_go_restores_it() {
    let (held, gone) = (car("tarn"), car("tarn-let-go"));
    for clutch in [Clutch::DownAt(Duration::from_s(0.4)), Clutch::Up] {
        let (held, gone) = (
            on_gravel(&held, |technique| technique.clutch = clutch),
            on_gravel(&gone, |technique| technique.clutch = clutch),
        );
        let at_release = |turn: &Turn| turn.heading.at_release.unwrap().rad().to_degrees();
        assert!(at_release(&gone) > at_release(&held) + 10.0, "{clutch:?}");
        assert!(gone.locking.rear_for > held.locking.rear_for, "{clutch:?}");
        assert!(
            held.locking.front_speed_ratio.unwrap() < 0.9 && gone.locking.front_speed_ratio.unwrap() > 0.9,
            "{clutch:?}"
        );
    }
}

/// The same pull rotates a steered car, and hardly one that goes straight.
#[test]
fn a_pull_rotates_a_steered_car_and_hardly_a_straight_one() {
    let car = car("tarn-let-go");
    let straight = on_gravel(&car, |technique| technique.steer = Angle::ZERO);
    let steered = on_gravel(&car, |_| {});
    assert!(straight.heading.end.rad().abs() < 0.02, "{:?}", straight.heading);
    let added = steered.heading.end - steered.without_lever.end;
    assert!(
        added.rad().to_degrees() > 45.0,
        "{:?} and {:?}",
        steered.heading,
        steered.without_lever
    );
}

#[test]
fn a_mirrored_technique_gives_a_mirrored_turn() {
    for name in ["tarn", "scree", "sedge"] {
        let car = car(name);
        let left = on_gravel(&car, |_| {});
        let right = on_gravel(&car, |technique| *technique = technique.mirrored());
        let off = left.heading.end.rad() + right.heading.end.rad();
        assert!(off.abs() < 1e-6, "{name}: {off}");
    }
}

/// With the rear locked and the front rolling freely a car going straight slows by the closed form of the lever's own
/// answer, `a = μ_slide g (a/L)/(1 + μ_slide h/L)`, less what its turning wheels give back.
#[test]
fn a_straight_stop_on_locked_rear_wheels_meets_the_closed_form() {
    let mut car = car("sedge");
    car.tyres.load_sensitivity = 0.0;
    let laden = Laden::of(&car, Aboard::default());
    let surface = car.surface("hard gravel").unwrap().clone();
    let mut technique = Technique::on(&surface, &car);
    technique.entry = Speed::from_m_s(25.0);
    technique.steer = Angle::ZERO;
    technique.hand = Force::from_n(600.0);
    technique.until = Duration::from_s(2.5);
    technique.release = engine::turn::Release::Never;
    let turn = run(&car, &laden, &surface, &technique).unwrap();
    let speeds = &turn.trace.u_m_s;
    let (from, to) = (100, 120);
    let slowed = (speeds[from] - speeds[to]) / (turn.trace.t_s[to] - turn.trace.t_s[from]);
    let slide = surface.peak * surface.slide_over_peak;
    let (aft, height, wheelbase) = (laden.cg_aft.m(), laden.cg_height.m(), laden.wheelbase.m());
    let closed = slide * 9.81 * aft / wheelbase / (1.0 + slide * height / wheelbase);
    // The free front wheels, turning with the car, count as 2 J/R² more mass.
    let mass = laden.mass.kg();
    let rolling = 2.0 * car.tyres.wheel_inertia.kg_m2() / car.tyres.front_radius.m().powi(2);
    let closed = closed * mass / (mass + rolling);
    assert!(
        (slowed / closed - 1.0).abs() < 0.02,
        "{slowed} m/s², by hand {closed}"
    );
}

/// Whatever is asked of whichever car on whichever ground, the motion stays finite, and a car that is not driven never
/// gains energy.
#[test]
fn no_car_gains_energy_or_loses_its_footing() {
    for (name, car) in written() {
        if car.lever.is_none() {
            continue;
        }
        let laden = Laden::of(&car, Aboard::default());
        for surface in &car.surfaces {
            let technique = Technique::on(surface, &car);
            let turn = run(&car, &laden, surface, &technique).unwrap();
            let trace = &turn.trace;
            let mass = laden.mass.kg();
            let inertia = laden.yaw_inertia.kg_m2();
            let mut before = f64::INFINITY;
            for at in 0..trace.t_s.len() {
                let energy = 0.5 * mass * (trace.u_m_s[at].powi(2) + trace.v_m_s[at].powi(2))
                    + 0.5 * inertia * trace.yaw_rate_rad_s[at].powi(2);
                assert!(energy.is_finite(), "{name} on {}", surface.name);
                // Wheels that spin up or down trade some energy with the body: the gearbox side is the most of it.
                assert!(
                    energy <= before + 0.01 * energy + 2000.0,
                    "{name} on {}: {before} to {energy} J",
                    surface.name
                );
                before = before.min(energy);
            }
        }
    }
}

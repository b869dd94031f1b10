//! Heat and hold: a stage of twenty minutes and its soak, the draws, and the same equations in SciPy to the same error.

use std::fmt::Write as _;
use std::hint::black_box;
use std::path::Path;

use engine::Conditions;
use engine::brake::Warmth;
use engine::car::{Brake, Car, Friction, Wheel};
use engine::heat::{By, Exactness, Heat, HeatBench, Heats, SOAK, Stage, StagePart, Stops, TURNING_PARTS};
use engine::hold::{HoldBench, Holds};
use engine::hydraulics::Hydraulics;
use engine::loads::{Aboard, Facing, Grade, Laden};
use engine::ranges::Sampling;
use quantity::si::{Duration, Force, Speed};

use crate::{beside, read, rivals_at, shown, timed};

/// Twenty minutes with 75 stops, the last to a standstill.
fn twenty_minutes() -> Stage {
    let stops = |from: f64, to: f64, every_s: f64, repeat: u32| {
        StagePart::Stops(Stops {
            from: Speed::from_m_s(from / 3.6),
            to: Speed::from_m_s(to / 3.6),
            rate: 0.45,
            every: Duration::from_s(every_s),
            repeat,
            slope: 0.0,
            by: By::Pedal,
        })
    };
    Stage {
        name: "twenty minutes".into(),
        about: "".into(),
        parts: vec![
            stops(116.0, 66.0, 18.0, 25),
            stops(88.0, 44.0, 13.0, 34),
            stops(92.0, 30.0, 20.0, 15),
            stops(100.0, 0.0, 8.0, 1),
        ],
    }
}

/// How long the questions take.
pub(crate) fn questions(top: &Path) {
    let Some((inputs, assembled)) = read(&top.join("demo/tarn/car.toml")) else {
        return;
    };
    let (car, stage, sampling) = (&assembled.car, twenty_minutes(), Sampling::default());
    println!(
        "\n{:22} {:>12} {:>12}   {:.0} min, {} brakings, an hour of soak",
        "heat and hold",
        "median",
        "99 %",
        stage.lasts().s() / 60.0,
        stage.brakings()
    );
    let line = |name: &str, timing: crate::Timing| {
        println!(
            "{name:22} {:>12} {:>12}",
            shown(timing.median_s),
            shown(timing.late_s)
        );
    };
    let bench = HeatBench::of(car, &Conditions::default());
    line("a stage", timed(1000, || drop(black_box(bench.drive(&stage)))));
    line(
        "1024 drawn cars",
        timed(10, || {
            drop(black_box(Heats::of(
                car,
                &inputs,
                &assembled.toleranced,
                &Conditions::default(),
                &stage,
                sampling,
            )))
        }),
    );
    let conditions = Conditions {
        grade: Grade {
            slope: 0.1,
            facing: Facing::Up,
        },
        grip: Some(0.65),
        ..Conditions::default()
    };
    if let Some(bench) = HoldBench::of(car, &conditions) {
        line(
            "hold, three arrivals",
            timed(1000, || drop(black_box(bench.hold()))),
        );
    }
    line(
        "1024 held cars",
        timed(10, || {
            drop(black_box(Holds::of(
                car,
                &inputs,
                &assembled.toleranced,
                &conditions,
                sampling,
            )))
        }),
    );
}

fn peaks(heat: &Heat) -> [f64; 4] {
    let fluid = |corner: &engine::heat::CornerHeat| corner.fluid_running.max(corner.fluid_soak).k();
    [
        heat.front.disc_peak.k(),
        fluid(&heat.front),
        heat.rear.disc_peak.k(),
        fluid(&heat.rear),
    ]
}

/// Our stage and SciPy's, to the same error in the same run. The rear-driven car: no valve, discs all round.
pub(crate) fn against_scipy(top: &Path) {
    let Some((_, assembled)) = read(&top.join("demo/scree/car.toml")) else {
        return;
    };
    let (car, stage) = (&assembled.car, twenty_minutes());
    let bench = HeatBench::of(car, &Conditions::default());
    let close = Exactness {
        relative: 1e-13,
        absolute_k: 1e-10,
    };
    let (Ok(usual), Ok(exact)) = (bench.drive(&stage), bench.clone().as_exactly(close).drive(&stage)) else {
        return;
    };
    let (exact, usual) = (peaks(&exact), peaks(&usual));
    let error = exact
        .iter()
        .zip(usual)
        .map(|(exact, usual)| (exact - usual).abs())
        .fold(0.0, f64::max);
    let ours = timed(1000, || drop(black_box(bench.drive(&stage))));
    println!(
        "\n{:22} {:>12} {:>12}   error of a peak, K",
        "a stage", "median", "99 %"
    );
    println!(
        "{:22} {:>12} {:>12}   {error:.1e}",
        "this engine",
        shown(ours.median_s),
        shown(ours.late_s)
    );
    // Below a hundredth of a kelvin nobody reads, and the rival reads its peaks off its steps.
    let Some(text) = described(car, &stage, &exact, error.max(0.01)) else {
        return;
    };
    let rivals = rivals_at(top, "heat_rival.py", &text);
    if rivals.is_empty() {
        eprintln!("benches: Python with scipy and numba is not at hand; no ratio to SciPy");
    }
    for (name, timing, off) in rivals {
        beside(&name, timing, off, ours);
    }
}

/// The car, the stretches of the stage and the exact peaks, in lines of a word and numbers.
fn described(car: &Car, stage: &Stage, exact: &[f64; 4], error: f64) -> Option<String> {
    let laden = Laden::of(car, Aboard::default());
    let hydraulics = Hydraulics::of(car, Warmth::Warm);
    let mut text = String::new();
    let mut line = |name: &str, numbers: &[f64]| {
        let _ = write!(text, "{name}");
        for number in numbers {
            let _ = write!(text, " {number:e}");
        }
        text.push('\n');
    };
    let mut fades = Vec::new();
    line("car", &[Conditions::USUAL_AIR.k(), laden.weight_n()]);
    for (name, brake, wheel, caliper) in [
        ("front", &car.front_brake, Wheel::FrontLeft, 3000.0),
        ("rear", &car.rear_brake, Wheel::RearLeft, 2400.0),
    ] {
        let Brake::Disc(disc) = brake else { return None };
        let iron = disc.disc?;
        let (outer, inner) = (iron.outer_diameter?.m() / 2.0, iron.inner_diameter?.m() / 2.0);
        let plain = 2.0 * std::f64::consts::PI * (outer * outer - inner * inner);
        let law = hydraulics.wheels[wheel.index()];
        let gain = 2.0 * law.gain_nm_pa / hydraulics.radius(wheel.axle()).m();
        let blown = if iron.vented { 2.0 * plain } else { plain };
        fades.push(fade(&disc.friction)?);
        line(
            name,
            &[
                iron.mass.kg(),
                blown,
                plain,
                caliper,
                0.30,
                1.0,
                gain,
                law.threshold.pa(),
            ],
        );
    }
    let pressed = hydraulics.foot.pressures(Force::from_n(1.0));
    line("pressed", &pressed.map(|pressure| pressure.pa()));
    for (name, fade) in ["front_fade", "rear_fade"].into_iter().zip(&fades) {
        line(name, fade);
    }
    let course = stage.course();
    for pair in course.windows(2) {
        let ((from, _, fast), (to, _, slow)) = (pair[0], pair[1]);
        let rate = (fast - slow).m_s() / (to - from).s() / engine::GRAVITY_M_S2;
        let braked = if rate > 0.4 { TURNING_PARTS * rate } else { 0.0 };
        line("stretch", &[from.s(), to.s(), fast.m_s(), slow.m_s(), braked]);
    }
    let end = course.last()?.0.s();
    line("stretch", &[end, end + SOAK.s(), 0.0, 0.0, 0.0]);
    line("exact", exact);
    line("error", &[error]);
    Some(text)
}

/// Four temperatures, the share of the warm friction at each, and the fall a kelvin beyond the last: the sheet's curve, or
/// the rule for pads without one.
fn fade(friction: &Friction) -> Option<[f64; 9]> {
    let warm = friction.warm;
    let given: Vec<(f64, f64)> = friction
        .at
        .iter()
        .map(|&(at, value)| (at.k(), value / warm))
        .collect();
    let points = match given[..] {
        [] => [
            (20.0, friction.cold / warm),
            (150.0, 1.0),
            (350.0, 1.0),
            (600.0, 0.86),
        ]
        .map(|(celsius, share)| (celsius + 273.15, share)),
        [one, two, three, four] => [one, two, three, four],
        _ => return None,
    };
    let fall = ((points[3].1 - points[2].1) / (points[3].0 - points[2].0)).min(-0.14 / 250.0);
    let mut numbers = [fall; 9];
    for (place, (at, share)) in points.into_iter().enumerate() {
        (numbers[place], numbers[4 + place]) = (at, share);
    }
    Some(numbers)
}

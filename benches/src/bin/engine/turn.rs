//! The turn: how much faster than real time a run is, and the same equations in general methods to the same error.

use std::fmt::Write as _;
use std::hint::black_box;
use std::path::Path;

use engine::car::{Car, Centre, Coupling};
use engine::loads::{Aboard, Laden};
use engine::turn::{
    Assumed, Course, Motion, Segment, Steering, Stepping, SurfaceGrip, Technique, Tie, TurnBench, Vehicle,
    follow,
};
use engine::tyre::GripCurve;
use quantity::si::Duration;

use crate::compiled::{self, Method};
use crate::{CARS, beside, median, once, read, rivals_at, shown, timed};

/// Pressure that the rear brakes are asked for in the comparison (Pa).
const ASKED_PA: f64 = 60e5;

fn bench(car: &Car) -> Option<(TurnBench, Technique)> {
    let surface = car.surface("hard gravel")?;
    let laden = Laden::of(car, Aboard::default());
    let bench = TurnBench::of(car, &laden, surface, Assumed::default()).ok()?;
    Some((bench, Technique::on(surface, car)))
}

/// A run of every demonstration car over real time.
pub(crate) fn over_real_time(top: &Path) {
    println!(
        "\n{:22} {:>12} {:>12}   times real time",
        "one run", "median", "99 %"
    );
    for name in CARS {
        let Some((_, assembled)) = read(&top.join(format!("demo/{name}/car.toml"))) else {
            continue;
        };
        let Some((bench, technique)) = bench(&assembled.car) else {
            continue;
        };
        let timing = timed(1000, || drop(black_box(bench.motion(&technique))));
        println!(
            "{name:22} {:>12} {:>12}   {:.0} (99 %: {:.0})",
            shown(timing.median_s),
            shown(timing.late_s),
            technique.until.s() / timing.median_s,
            technique.until.s() / timing.late_s
        );
    }
    for name in ["tarn"] {
        let Some((inputs, assembled)) = read(&top.join(format!("demo/{name}/car.toml"))) else {
            continue;
        };
        let Some((bench, technique)) = bench(&assembled.car) else {
            continue;
        };
        let best = technique.at_best();
        let whole = timed(1000, || drop(black_box(bench.turn(&best))));
        println!(
            "{:22} {:>12} {:>12}   let go at its best, the word by its bend and on 3 % more and less grip",
            "whole answer",
            shown(whole.median_s),
            shown(whole.late_s)
        );
        let given = timed(1000, || drop(black_box(bench.turn_alone(&technique))));
        println!(
            "{:22} {:>12} {:>12}   let go at a given moment, with and without lever, trace, tracks",
            "a given run",
            shown(given.median_s),
            shown(given.late_s)
        );
        let grid = timed(10, || drop(black_box(bench.grid(&technique, (64, 64), &|_| {}))));
        println!(
            "{:22} {:>12} {:>12}   all cores",
            "map, 64 x 64",
            shown(grid.median_s),
            shown(grid.late_s)
        );
        let manoeuvre = engine::turn::Manoeuvre {
            conditions: engine::Conditions::default(),
            reading: Assumed::default(),
            technique,
        };
        let sampling = engine::ranges::Sampling::default();
        let study = timed(10, || {
            drop(black_box(manoeuvre.study(
                &inputs,
                &assembled.toleranced,
                sampling,
            )))
        });
        println!(
            "{:22} {:>12} {:>12}   all cores",
            "1024 drawn cars",
            shown(study.median_s),
            shown(study.late_s)
        );
    }
}

/// The map and the draws of every demonstration car on one core, beside the same runs made one by one.
pub(crate) fn many_against_one(top: &Path) {
    let Ok(one_core) = rayon::ThreadPoolBuilder::new().num_threads(1).build() else {
        return;
    };
    println!(
        "\n{:22} {:>12} {:>12}   one by one over many at once, one core",
        "a run of many", "map", "draws"
    );
    for name in CARS {
        let Some((inputs, assembled)) = read(&top.join(format!("demo/{name}/car.toml"))) else {
            continue;
        };
        let Some((bench, technique)) = bench(&assembled.car) else {
            continue;
        };
        let manoeuvre = engine::turn::Manoeuvre {
            conditions: engine::Conditions::default(),
            reading: Assumed::default(),
            technique,
        };
        let sampling = engine::ranges::Sampling { draws: 256, seed: 1 };
        one_core.install(|| {
            let (mut map, mut map_alone) = (Vec::new(), Vec::new());
            let (mut draws, mut draws_alone) = (Vec::new(), Vec::new());
            for _ in 0..7 {
                let mut cells = Vec::new();
                map.push(once(|| {
                    cells.extend(bench.grid(&technique, (24, 24), &|_| {}).ok())
                }));
                map_alone.push(once(|| {
                    for grid in &cells {
                        for &entry in &grid.entries {
                            for &hand in &grid.hands {
                                let technique = Technique {
                                    entry,
                                    hand,
                                    ..technique
                                };
                                black_box(bench.brief_of(&technique).ok());
                            }
                        }
                    }
                }));
                draws.push(once(|| {
                    black_box(manoeuvre.study(&inputs, &assembled.toleranced, sampling));
                }));
                draws_alone.push(once(|| {
                    black_box(engine::ranges::study(
                        &inputs,
                        &assembled.toleranced,
                        sampling,
                        |car| {
                            let ready = manoeuvre.bench(car);
                            ready.and_then(|bench| bench.brief_of(&technique)).ok()
                        },
                    ));
                }));
            }
            let (map, draws) = (median(map) / 576.0, median(draws) / 256.0);
            println!(
                "{name:22} {:>12} {:>12}   {:.1} {:.1}",
                shown(map),
                shown(draws),
                median(map_alone) / 576.0 / map,
                median(draws_alone) / 256.0 / draws
            );
        });
    }
}

/// The two methods at the same error, on plates, on fluid, and with a locked centre: the step that the explicit one needs.
pub(crate) fn methods(top: &Path) {
    println!(
        "\n{:22} {:>12} {:>12}   explicit over implicit",
        "one manoeuvre", "implicit", "explicit"
    );
    for (name, locked) in [("scree", false), ("tarn", false), ("tarn", true)] {
        let Some((_, assembled)) = read(&top.join(format!("demo/{name}/car.toml"))) else {
            continue;
        };
        let mut car = assembled.car;
        if locked {
            car.drivetrain.centre = Centre::Fixed(Coupling::Locked);
        }
        let Some((bench, _)) = bench(&car) else { continue };
        let vehicle = bench.vehicle();
        let start = Motion::rolling(50.0 / 3.6, vehicle.radii_m[0], vehicle.radii_m[1]);
        let run = |stepping| end(vehicle, &start, stepping);
        let exact = run(Stepping::Adaptive { tolerance: 1e-10 });
        let (Some(exact), Some(usual)) = (exact, run(Stepping::default())) else {
            continue;
        };
        let error = apart(&usual, &exact);
        let fixed = |step_s: f64| Stepping::Fixed {
            step: Duration::from_s(step_s),
        };
        let needed = [2e-3, 1e-3, 5e-4, 2.5e-4, 1.25e-4, 6e-5, 3e-5, 1.5e-5]
            .into_iter()
            .find(|&step_s| run(fixed(step_s)).is_some_and(|found| apart(&found, &exact) <= error));
        let implicit = timed(300, || {
            black_box(run(Stepping::default()));
        });
        let label = format!("{name}{}", if locked { ", locked centre" } else { "" });
        match needed {
            Some(step_s) => {
                let explicit = timed(20, || {
                    black_box(run(fixed(step_s)));
                });
                println!(
                    "{label:22} {:>12} {:>12}   {:.0} (steps of {:.0} µs, both off by {error:.0e})",
                    shown(implicit.median_s),
                    shown(explicit.median_s),
                    explicit.median_s / implicit.median_s,
                    step_s * 1e6
                );
            }
            None => println!(
                "{label:22} {:>12}   no step tried is as exact",
                shown(implicit.median_s)
            ),
        }
    }
}

/// What the driver does in the comparison: steer, pull, let go; the clutch down.
fn segments() -> Vec<Segment> {
    let part = |from: f64, to: f64, steer: f64, from_pa: f64, to_pa: f64| {
        let mut part = Segment::coasting(from, to);
        part.steering = Steering::Rate(steer);
        part.rear_pa = Course {
            from: from_pa,
            to: to_pa,
        };
        part
    };
    vec![
        part(0.0, 0.2, 0.0, 0.0, 0.0),
        part(0.2, 0.5, 0.25 / 0.3, 0.0, 0.0),
        part(0.5, 0.6, 0.0, 0.0, ASKED_PA),
        part(0.6, 1.8, 0.0, ASKED_PA, ASKED_PA),
        part(1.8, 1.9, 0.0, ASKED_PA, 0.0),
        part(1.9, 3.0, 0.0, 0.0, 0.0),
    ]
}

fn end(vehicle: &Vehicle<SurfaceGrip>, start: &Motion, stepping: Stepping) -> Option<Motion> {
    let path = follow(vehicle, start, &segments(), stepping).ok()?;
    path.last().map(|(_, motion)| *motion)
}

/// Where it stands and looks, apart (m and rad taken alike).
fn apart(one: &Motion, other: &Motion) -> f64 {
    (one.x_m - other.x_m)
        .hypot(one.y_m - other.y_m)
        .hypot(one.heading_rad - other.heading_rad)
}

/// Our run and general methods, compiled and SciPy's, to the same error in the same run.
pub(crate) fn against_general_methods(top: &Path) {
    let Some((_, assembled)) = read(&top.join("demo/scree/car.toml")) else {
        return;
    };
    let car = &assembled.car;
    let Some((bench, _)) = bench(car) else { return };
    let vehicle = bench.vehicle();
    let start = Motion::rolling(50.0 / 3.6, vehicle.radii_m[0], vehicle.radii_m[1]);
    let exact = end(vehicle, &start, Stepping::Adaptive { tolerance: 1e-10 });
    let usual = end(vehicle, &start, Stepping::default());
    let (Some(exact), Some(usual)) = (exact, usual) else {
        return;
    };
    let error = apart(&usual, &exact);
    let ours = timed(1000, || {
        black_box(end(vehicle, &start, Stepping::default()));
    });
    println!(
        "\n{:22} {:>12} {:>12}   error",
        "steer, pull, let go", "median", "99 %"
    );
    println!(
        "{:22} {:>12} {:>12}   {error:.1e}",
        "this engine",
        shown(ours.median_s),
        shown(ours.late_s)
    );
    let Some(task) = Task::of(car, vehicle, &exact) else {
        return;
    };
    for (name, method) in [
        ("DOP853, compiled", Method::Dop853),
        ("Radau5, compiled", Method::Radau5),
    ] {
        let off = |rtol: f64| {
            let [x, y, heading] = compiled::end(&task, method, rtol)?;
            let [exact_x, exact_y, exact_heading] = task.exact;
            Some((x - exact_x).hypot(y - exact_y).hypot(heading - exact_heading))
        };
        let found = TRIED
            .into_iter()
            .find_map(|rtol| off(rtol).filter(|&off| off <= error).map(|off| (rtol, off)));
        match found {
            Some((rtol, off)) => {
                let timing = timed(1000, || {
                    black_box(compiled::end(&task, method, rtol));
                });
                beside(&format!("{name} {rtol:.0e}"), timing, off, ours);
            }
            None => println!("{name:22} never as exact at any tolerance tried"),
        }
    }
    let rivals = rivals_at(top, "turn_rival.py", &task.in_lines(error));
    if rivals.is_empty() {
        eprintln!("benches: Python with scipy and numba is not at hand; no ratio to SciPy");
    }
    for (name, timing, off) in rivals {
        beside(&name, timing, off, ours);
    }
}

/// Tolerances that are tried, the loosest first.
const TRIED: [f64; 13] = [
    1e-2, 3e-3, 1e-3, 3e-4, 1e-4, 3e-5, 1e-5, 3e-6, 1e-6, 3e-7, 1e-7, 1e-8, 1e-9,
];

/// One car, its ground, what is done and where it ends, in plain numbers: what the general methods are handed.
pub(crate) struct Task {
    pub(crate) mass_kg: f64,
    pub(crate) yaw_inertia_kg_m2: f64,
    pub(crate) cg_aft_m: f64,
    pub(crate) wheelbase_m: f64,
    pub(crate) cg_height_m: f64,
    pub(crate) roll_share_front: f64,
    pub(crate) tracks_m: [f64; 2],
    pub(crate) radii_m: [f64; 2],
    /// Stiffness, shape, peak and curvature of the curve of grip over slip.
    pub(crate) grip: [f64; 4],
    pub(crate) load_sensitivity: f64,
    pub(crate) wheel_inertia_kg_m2: f64,
    pub(crate) input_inertia_kg_m2: f64,
    pub(crate) turns: f64,
    pub(crate) preload_nm: f64,
    pub(crate) gain_nm_pa: f64,
    pub(crate) threshold_pa: f64,
    pub(crate) pressure_lag_s: f64,
    pub(crate) transfer_lag_s: f64,
    /// From, to (s), rate of steering (rad/s), pressure asked for at both ends (Pa).
    pub(crate) segments: Vec<[f64; 5]>,
    pub(crate) start_m_s: f64,
    /// Where a far finer run ends: along, across (m), heading (rad).
    pub(crate) exact: [f64; 3],
}

impl Task {
    fn of(car: &Car, vehicle: &Vehicle<SurfaceGrip>, exact: &Motion) -> Option<Self> {
        let curve = GripCurve::of(car.surface("hard gravel")?).ok()?;
        let driveline = &vehicle.driveline;
        let Tie::Plates { preload_nm, .. } = driveline.rear else {
            return None;
        };
        let engine::turn::Transfer::Lagged { time_s } = vehicle.transfer else {
            return None;
        };
        let mut parts = Vec::new();
        for part in segments() {
            let Steering::Rate(rate) = part.steering else {
                return None;
            };
            parts.push([part.from_s, part.to_s, rate, part.rear_pa.from, part.rear_pa.to]);
        }
        Some(Self {
            mass_kg: vehicle.mass_kg,
            yaw_inertia_kg_m2: vehicle.yaw_inertia_kg_m2,
            cg_aft_m: vehicle.cg_aft_m,
            wheelbase_m: vehicle.wheelbase_m,
            cg_height_m: vehicle.cg_height_m,
            roll_share_front: vehicle.roll_share_front,
            tracks_m: vehicle.tracks_m,
            radii_m: vehicle.radii_m,
            grip: [
                curve.stiffness_factor,
                curve.shape_factor,
                curve.peak_factor,
                curve.curvature_factor,
            ],
            load_sensitivity: car.tyres.load_sensitivity,
            wheel_inertia_kg_m2: driveline.wheel_inertia_kg_m2[2],
            input_inertia_kg_m2: driveline.input_inertia_kg_m2,
            turns: driveline.pinion_turns[2],
            preload_nm,
            gain_nm_pa: vehicle.rear_brake.gain_nm_pa,
            threshold_pa: vehicle.rear_brake.threshold.pa(),
            pressure_lag_s: vehicle.pressure_lag_s,
            transfer_lag_s: time_s,
            segments: parts,
            start_m_s: 50.0 / 3.6,
            exact: [exact.x_m, exact.y_m, exact.heading_rad],
        })
    }

    /// In lines of a word and numbers.
    fn in_lines(&self, error: f64) -> String {
        let mut text = String::new();
        let mut line = |name: &str, numbers: &[f64]| {
            let _ = write!(text, "{name}");
            for number in numbers {
                let _ = write!(text, " {number:e}");
            }
            text.push('\n');
        };
        line(
            "body",
            &[
                self.mass_kg,
                self.yaw_inertia_kg_m2,
                self.cg_aft_m,
                self.wheelbase_m,
                self.cg_height_m,
                self.roll_share_front,
            ],
        );
        line("tracks", &self.tracks_m);
        line("radii", &self.radii_m);
        let [stiffness, shape, peak, curvature] = self.grip;
        line(
            "grip",
            &[stiffness, shape, peak, curvature, self.load_sensitivity],
        );
        line(
            "wheels",
            &[
                self.wheel_inertia_kg_m2,
                self.input_inertia_kg_m2,
                self.turns,
                self.preload_nm,
            ],
        );
        line(
            "brake",
            &[
                self.gain_nm_pa,
                self.threshold_pa,
                self.pressure_lag_s,
                self.transfer_lag_s,
            ],
        );
        for segment in &self.segments {
            line("segment", segment);
        }
        line("start", &[self.start_m_s]);
        line("exact", &self.exact);
        line("error", &[error]);
        text
    }
}

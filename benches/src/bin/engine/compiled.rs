//! The turn's equations handed to general methods that are compiled as this engine is: what is gained is then not the language.
//!
//! The right-hand side is written out once more, as plainly as in `turn_rival.py`: of the rear-driven car with plates, the
//! clutch down, nothing but what one manoeuvre needs. The moments at which a rear wheel stops or lets go are found by the
//! library's events.

use differential_equations::prelude::{
    CrossingDirection, Event, EventConfig, ExplicitRungeKutta, IVP, ImplicitRungeKutta, ODE, Status,
};

use crate::turn::Task;

const STATES: usize = 14;
type State = [f64; STATES];

/// What an error of one in each figure of the state weighs.
const SCALE: State = [
    1.0, 1.0, 0.2, 2.0, 2.0, 0.5, 5.0, 5.0, 5.0, 5.0, 5.0, 5.0, 1e6, 0.2,
];

/// The general methods that are tried.
#[derive(Clone, Copy, Debug)]
pub(crate) enum Method {
    /// Explicit, of order eight.
    Dop853,
    /// Implicit, of order five.
    Radau5,
}

/// Between two events: which rear wheels stand, and the way the others slide.
struct Stretch<'a> {
    task: &'a Task,
    segment: [f64; 5],
    stands: [bool; 2],
    ways: [f64; 2],
}

/// What the rear wheels want: what each lacks to stand still, and what its brake can hold (N m).
struct Wanted {
    lacks: [f64; 2],
    holds: f64,
}

impl Stretch<'_> {
    fn look(&self, t: f64, y: &State, rates: &mut State) -> Wanted {
        let Task {
            mass_kg,
            yaw_inertia_kg_m2,
            cg_aft_m,
            wheelbase_m,
            cg_height_m,
            roll_share_front,
            tracks_m,
            radii_m,
            grip: [stiffness, shape, peak, curvature],
            load_sensitivity,
            wheel_inertia_kg_m2,
            input_inertia_kg_m2,
            turns,
            preload_nm,
            gain_nm_pa,
            threshold_pa,
            pressure_lag_s,
            transfer_lag_s,
            ..
        } = *self.task;
        let [_, _, heading, u, v, r, ..] = *y;
        let (ax, ay, pressure, steer) = (y[10], y[11], y[12], y[13]);
        let weight = mass_kg * 9.81;
        let rear = weight * cg_aft_m / wheelbase_m;
        let moved = (mass_kg * ax * cg_height_m / wheelbase_m).clamp(-rear, weight - rear);
        let (mut fx, mut fy, mut mz) = (0.0, 0.0, 0.0);
        let mut torque = [0.0; 4];
        let (sine, cosine) = steer.sin_cos();
        for (wheel, torque) in torque.iter_mut().enumerate() {
            let axle = wheel / 2;
            let front = axle == 0;
            let load = if front {
                weight - rear - moved
            } else {
                rear + moved
            };
            let share = if front {
                roll_share_front
            } else {
                1.0 - roll_share_front
            };
            let across = (share * mass_kg * ay * cg_height_m / tracks_m[axle]).clamp(-load / 2.0, load / 2.0);
            let left = wheel % 2 == 0;
            let load = if left {
                load / 2.0 - across
            } else {
                load / 2.0 + across
            };
            let px = if front { cg_aft_m } else { cg_aft_m - wheelbase_m };
            let py = if left {
                tracks_m[axle] / 2.0
            } else {
                -tracks_m[axle] / 2.0
            };
            let (mut along, mut side) = (u - r * py, v + r * px);
            if front {
                (along, side) = (along * cosine + side * sine, side * cosine - along * sine);
            }
            let rolling = y[6 + wheel] * radii_m[axle];
            let over = rolling.abs().max(0.1);
            let (sx, sy) = ((along - rolling) / over, side / over);
            let slip = sx.hypot(sy);
            let factor = (1.0 - load_sensitivity * (load * 4.0 / weight - 1.0)).max(0.1);
            let over_slip = if slip > 1e-12 {
                let bent = stiffness * slip;
                let bent = bent - curvature * (bent - bent.atan());
                peak * (shape * bent.atan()).sin() / slip
            } else {
                stiffness * shape * peak
            };
            let force = -load * factor * over_slip;
            let (mut lx, mut ly) = (force * sx, force * sy);
            *torque = -radii_m[axle] * lx;
            if front {
                (lx, ly) = (lx * cosine - ly * sine, lx * sine + ly * cosine);
            }
            fx += lx;
            fy += ly;
            mz += px * ly - py * lx;
        }
        let tie = preload_nm * ((y[8] - y[9]) / 0.1).tanh();
        torque[2] -= tie;
        torque[3] += tie;
        let holds = gain_nm_pa * (pressure - threshold_pa).max(0.0);
        let one = input_inertia_kg_m2 * turns * turns;
        let both = wheel_inertia_kg_m2 + one;
        let pull = [torque[2] - self.ways[0] * holds, torque[3] - self.ways[1] * holds];
        let spun = match self.stands {
            [true, true] => [0.0, 0.0],
            [true, false] => [0.0, pull[1] / both],
            [false, true] => [pull[0] / both, 0.0],
            [false, false] => {
                let determinant = both * both - one * one;
                [
                    (both * pull[0] - one * pull[1]) / determinant,
                    (both * pull[1] - one * pull[0]) / determinant,
                ]
            }
        };
        let [from_s, to_s, steering, from_pa, to_pa] = self.segment;
        let asked = from_pa + (to_pa - from_pa) * (t - from_s) / (to_s - from_s);
        *rates = [
            u * heading.cos() - v * heading.sin(),
            u * heading.sin() + v * heading.cos(),
            r,
            fx / mass_kg + r * v,
            fy / mass_kg - r * u,
            mz / yaw_inertia_kg_m2,
            torque[0] / wheel_inertia_kg_m2,
            torque[1] / wheel_inertia_kg_m2,
            spun[0],
            spun[1],
            (fx / mass_kg - ax) / transfer_lag_s,
            (fy / mass_kg - ay) / transfer_lag_s,
            (asked - pressure) / pressure_lag_s,
            steering,
        ];
        Wanted {
            lacks: [
                both * spun[0] + one * spun[1] - torque[2],
                one * spun[0] + both * spun[1] - torque[3],
            ],
            holds,
        }
    }
}

impl ODE<f64, State> for Stretch<'_> {
    fn diff(&self, t: f64, y: &State, dydt: &mut State) {
        self.look(t, y, dydt);
    }
}

/// A rear wheel comes to rest, or its brake can no longer hold it.
struct Turns<'a>(&'a Stretch<'a>, usize);

impl Event<f64, State> for Turns<'_> {
    fn config(&self) -> EventConfig {
        EventConfig::new(CrossingDirection::Negative, Some(1))
    }

    fn event(&self, t: f64, y: &State) -> f64 {
        let Turns(stretch, wheel) = *self;
        let wanted = stretch.look(t, y, &mut [0.0; STATES]);
        if stretch.stands[wheel] {
            wanted.holds - wanted.lacks[wheel].abs()
        } else if wanted.holds > 0.0 {
            stretch.ways[wheel] * y[8 + wheel]
        } else {
            1.0
        }
    }
}

/// Where the manoeuvre ends: along, across, heading. `None` where the method gives up.
pub(crate) fn end(task: &Task, method: Method, rtol: f64) -> Option<[f64; 3]> {
    let mut y = [0.0; STATES];
    y[3] = task.start_m_s;
    for (wheel, spin) in y[6..10].iter_mut().enumerate() {
        *spin = task.start_m_s / task.radii_m[wheel / 2];
    }
    let (mut stands, mut ways) = ([false; 2], [1.0_f64; 2]);
    for &segment in &task.segments {
        let mut t = segment[0];
        let mut events = 0;
        while t < segment[1] - 1e-12 {
            let stretch = Stretch {
                task,
                segment,
                stands,
                ways,
            };
            let (left, right) = (Turns(&stretch, 0), Turns(&stretch, 1));
            let problem = IVP::ode(&stretch, t, segment[1], y);
            let atol = SCALE.map(|scale| scale * rtol);
            let run = match method {
                Method::Dop853 => problem
                    .method(ExplicitRungeKutta::dop853().rtol(rtol).atol(atol))
                    .event(&left)
                    .event(&right)
                    .solve(),
                Method::Radau5 => problem
                    .method(ImplicitRungeKutta::radau5().rtol(rtol).atol(atol))
                    .event(&left)
                    .event(&right)
                    .solve(),
            }
            .ok()?;
            (t, y) = (*run.t.last()?, *run.y.last()?);
            if !matches!(run.status, Status::Interrupted) {
                break;
            }
            events += 1;
            if events > 100 {
                return None;
            }
            let happened = |turns: &Turns<'_>| turns.event(t, &y).abs();
            // Whichever is at its border; both are looked at in the units of their own.
            let of_wheel = if stands[0] == stands[1] {
                usize::from(happened(&right) < happened(&left))
            } else {
                let near =
                    |wheel: usize, turns: &Turns<'_>| happened(turns) / if stands[wheel] { 1e3 } else { 1e1 };
                usize::from(near(1, &right) < near(0, &left))
            };
            let lets_go = |y: &State, stands: [bool; 2], ways: [f64; 2]| {
                let after = Stretch {
                    task,
                    segment,
                    stands,
                    ways,
                };
                let wanted = after.look(t, y, &mut [0.0; STATES]);
                (wanted.lacks[of_wheel], wanted.holds)
            };
            if stands[of_wheel] {
                let (lack, _) = lets_go(&y, stands, ways);
                stands[of_wheel] = false;
                ways[of_wheel] = -lack.signum();
                continue;
            }
            y[8 + of_wheel] = 0.0;
            stands[of_wheel] = true;
            ways[of_wheel] = 0.0;
            let (lack, holds) = lets_go(&y, stands, ways);
            if lack.abs() > holds {
                stands[of_wheel] = false;
                ways[of_wheel] = -lack.signum();
            }
        }
    }
    y.iter()
        .all(|figure| figure.is_finite())
        .then_some([y[0], y[1], y[2]])
}

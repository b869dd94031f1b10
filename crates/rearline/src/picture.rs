//! `--svg FILE`: the picture that belongs to a verb's answer.

use std::path::Path;

use asked::{Opened, Units};
use charts::{AtWheel, ForceScale, LinesDrawing, Look, Plan, PullCurve, SplitCurves, ValveCurve, WheelState};
use engine::balance::Balance;
use engine::car::Wheel;
use engine::car::circuit::Circuit;
use engine::hydraulics::Hydraulics;
use quantity::si::Speed;

use crate::ending::Stop;
use crate::print::title;
use crate::verbs::{lever, pressures};

/// Grips whose first lock is marked on the split curves.
const GRIPS: [f64; 5] = [0.2, 0.4, 0.6, 0.8, 1.0];

/// Writes a picture in the place of an older one.
fn write(
    path: &Path,
    opened: &Opened,
    units: &Units,
    draw: impl FnOnce(&Look<'_>) -> charts::Picture,
) -> Result<(), Stop> {
    let state = title::state(opened, units);
    let look = Look {
        car: &opened.car().name,
        state: &state,
        units: charts::Units {
            pressure: units.pressure,
            length: units.length,
            force: units.force,
            torque: units.torque,
        },
        ..Look::default()
    };
    let svg = draw(&look).svg;
    records::replace(path, svg.as_bytes())
        .map_err(|fault| asked::of_records(&path.display().to_string(), &fault, None).into())
}

/// The car from above with the pressure at each wheel.
pub(crate) fn pressures(
    path: &Path,
    opened: &Opened,
    units: &Units,
    outcome: &pressures::Outcome,
) -> Result<(), Stop> {
    let wheels = AtWheel::pressures(&outcome.answer);
    let wheels = Wheel::ALL.map(|wheel| {
        let asks = outcome.answer.wheels[wheel.index()].ground_force;
        let locks = asks > outcome.ground.gives(wheel.axle());
        wheels[wheel.index()].clone().that(if locks {
            WheelState::Locks
        } else {
            WheelState::Rolls
        })
    });
    let car = opened.car();
    let plan = Plan::of(car, Circuit::of(car), "pressure at each wheel", wheels);
    write(path, opened, units, |look| plan.draw(look))
}

/// The split curves.
pub(crate) fn balance(path: &Path, opened: &Opened, units: &Units, speed: Speed) -> Result<(), Stop> {
    let (car, state) = (opened.car(), &opened.state);
    let balance = Balance::of(car, Hydraulics::of(car, state.warmth), state.laden, speed);
    let split = SplitCurves::of(&balance, &GRIPS);
    write(path, opened, units, |look| split.draw(look, ForceScale::Force))
}

/// The bias valve's curve.
pub(crate) fn settings(path: &Path, opened: &Opened, units: &Units) -> Result<(), Stop> {
    let valve = ValveCurve::of(opened.car(), opened.state.laden.axle_loads(0.0));
    write(path, opened, units, |look| valve.draw(look))
}

/// Pressure over travel as the lever is pulled.
pub(crate) fn lever(
    path: &Path,
    opened: &Opened,
    units: &Units,
    outcome: &lever::Outcome,
) -> Result<(), Stop> {
    let (car, state) = (opened.car(), &opened.state);
    let hydraulics = Hydraulics::of(car, state.warmth);
    let pull = PullCurve::of(car, &hydraulics, &state.laden, outcome.pull.hand, &outcome.answer);
    write(path, opened, units, |look| pull.draw(look))
}

/// The plumbing drawing.
pub(crate) fn lines(
    path: &Path,
    opened: &Opened,
    units: &Units,
    plumbing: &plumbing::Plumbing,
) -> Result<(), Stop> {
    let drawing = LinesDrawing::of(opened.car(), plumbing, units.length);
    write(path, opened, units, |look| {
        drawing.draw(&Look { state: "", ..*look })
    })
}

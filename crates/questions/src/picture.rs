//! The picture that belongs to an answer.

use ::proving::{Proof, Standing};
use charts::{
    AtWheel, ForceScale, FromAbove, LinesDrawing, LoggedStop, Look, Picture, PullCurve, SplitCurves,
    ValveCurve, WheelFigure, WheelState,
};
use engine::balance::Balance;
use engine::car::circuit::{Circuit, Piece};
use engine::car::{Axle, Wheel};
use engine::heat::Heat;
use engine::hold::{From, Hold};
use engine::hydraulics::Hydraulics;
use quantity::si::Speed;

use crate::opened::Opened;
use crate::{lever, pressures};

/// Grips whose first lock is marked on the split curves.
const GRIPS: [f64; 5] = [0.2, 0.4, 0.6, 0.8, 1.0];

/// The car from above with the pressure at each wheel.
#[must_use]
pub fn pressures(opened: &Opened, look: &Look<'_>, outcome: &pressures::Outcome) -> Picture {
    let wheels = AtWheel::pressures(&outcome.answer);
    let wheels = Wheel::ALL.map(|wheel| {
        wheels[wheel.index()]
            .clone()
            .that(if outcome.stands[wheel.index()] {
                WheelState::Locks
            } else {
                WheelState::Rolls
            })
    });
    let car = opened.car();
    let plan = FromAbove::of(car, Circuit::of(car), "pressure at each wheel", wheels);
    plan.draw(look)
}

/// The split curves.
#[must_use]
pub fn balance(opened: &Opened, look: &Look<'_>, speed: Speed) -> Picture {
    let (car, state) = (opened.car(), &opened.state);
    let balance = Balance::of(
        car,
        Hydraulics::of(car, state.conditions.warmth),
        state.laden,
        speed,
    );
    let split = SplitCurves(engine::curves::SplitLines::of(&balance, &GRIPS));
    split.draw(look, ForceScale::Force)
}

/// The bias valve's curve.
#[must_use]
pub fn settings(opened: &Opened, look: &Look<'_>) -> Picture {
    let valve = ValveCurve(engine::curves::Valve::of(
        opened.car(),
        opened.state.laden.axle_loads(0.0),
    ));
    valve.draw(look)
}

/// A stop as it was logged, with what was computed over it.
#[must_use]
pub fn logged_stop(look: &Look<'_>, stop: &logger::StopTrace) -> Picture {
    let moments = stop.points.iter();
    let stop = LoggedStop {
        moments: moments
            .map(|point| (point.time, [point.front, point.rear, point.computed]))
            .collect(),
    };
    stop.draw(look)
}

/// What was read of a pull, on the curve that the sheet makes; without a lever what runs where.
#[must_use]
pub fn measured_pull(opened: &Opened, look: &Look<'_>) -> Picture {
    let (car, state) = (opened.car(), &opened.state);
    let of_lever = car.lever.as_ref().and_then(|_| {
        let pull = state.conditions.pull_at(car, state.surface.peak);
        Some((
            pull.hand,
            engine::lever::LeverBench::of(car, state.conditions.warmth)?.answer(&state.laden, pull),
        ))
    });
    match of_lever {
        Some((hand, answer)) => {
            let hydraulics = Hydraulics::of(car, state.conditions.warmth);
            PullCurve(engine::curves::Pulled::of(
                car,
                &hydraulics,
                &state.laden,
                hand,
                &answer,
            ))
            .draw(look)
        }
        None => circuit(opened, look),
    }
}

/// Pressure over travel as the lever is pulled.
#[must_use]
pub fn lever(opened: &Opened, look: &Look<'_>, outcome: &lever::Outcome) -> Picture {
    let (car, state) = (opened.car(), &opened.state);
    let hydraulics = Hydraulics::of(car, state.conditions.warmth);
    let pull = PullCurve(engine::curves::Pulled::of(
        car,
        &hydraulics,
        &state.laden,
        outcome.pull.hand,
        &outcome.answer,
    ));
    pull.draw(look)
}

/// The plumbing drawing, every joint numbered as on the list.
#[must_use]
pub fn lines(opened: &Opened, look: &Look<'_>, plumbing: &plumbing::Plumbing) -> Picture {
    let drawing = LinesDrawing::of(opened.car(), plumbing, look.units.length);
    // Neither surface nor load changes it.
    drawing.draw(&Look { state: "", ..*look })
}

/// The car from above without a figure at its wheels: what runs where.
#[must_use]
pub fn circuit(opened: &Opened, look: &Look<'_>) -> Picture {
    let car = opened.car();
    let wheels = Wheel::ALL.map(|_| AtWheel::default());
    FromAbove::of(car, Circuit::of(car), "what runs where", wheels).draw(look)
}

/// The car from above with the hottest that discs and fluid get at each wheel.
#[must_use]
pub fn heat(opened: &Opened, look: &Look<'_>, heat: &Heat) -> Picture {
    let car = opened.car();
    let wheels = Wheel::ALL.map(|wheel| {
        let corner = match wheel.axle() {
            Axle::Front => &heat.front,
            Axle::Rear => &heat.rear,
        };
        let fluid = corner.fluid_running.max(corner.fluid_soak);
        AtWheel {
            figure: WheelFigure::Text(wording::celsius(corner.disc_peak)),
            note: Some(("fluid", wording::celsius(fluid))),
            ..AtWheel::default()
        }
    });
    FromAbove::of(
        car,
        Circuit::of(car),
        "hottest disc or drum; hottest fluid",
        wheels,
    )
    .draw(look)
}

/// The car from above with what is shut in at the rear wheels, warm, and how long it holds.
#[must_use]
pub fn hold(opened: &Opened, look: &Look<'_>, hold: &Hold, lasts: &str) -> Picture {
    let car = opened.car();
    let warm = hold.arrivals.iter().find(|arrival| arrival.from == From::Warm);
    let shut_in = warm.and_then(|arrival| arrival.way.first()?.pressure);
    let wheels = Wheel::ALL.map(|wheel| match wheel.axle() {
        Axle::Front => AtWheel::default(),
        Axle::Rear => AtWheel {
            figure: shut_in.map_or(WheelFigure::None, WheelFigure::Pressure),
            note: Some(("holds", lasts.to_owned())),
            ..AtWheel::default()
        },
    });
    FromAbove::of(car, Circuit::of(car), "latched warm", wheels).draw(look)
}

/// The car from above with how far the round of joints has come at each wheel: the joints of the runs that end there.
#[must_use]
pub fn proving(opened: &Opened, look: &Look<'_>, plumbing: &plumbing::Plumbing, proof: &Proof) -> Picture {
    let car = opened.car();
    let circuit = &plumbing.circuit;
    let wheels = Wheel::ALL.map(|wheel| {
        let ends_here = |run: usize| {
            circuit.runs.get(run).is_some_and(|run| {
                [run.from, run.to].into_iter().any(|port| {
                    let part = circuit.components[port.component].part;
                    part == Piece::Brake(wheel) || part == Piece::LeverBrake(wheel)
                })
            })
        };
        let states: Vec<Standing> = proof
            .joints
            .iter()
            .filter(|joint| ends_here(plumbing.joints[joint.index].run))
            .map(|joint| joint.state)
            .collect();
        let dry = states.iter().filter(|state| **state == Standing::Dry).count();
        let words = if states.contains(&Standing::Weep) {
            "weeps".to_owned()
        } else if dry == states.len() {
            "dry".to_owned()
        } else {
            format!("{dry}/{} dry", states.len())
        };
        AtWheel {
            figure: WheelFigure::Text(words),
            ..AtWheel::default()
        }
    });
    FromAbove::of(car, circuit.clone(), "joints of the last runs", wheels).draw(look)
}

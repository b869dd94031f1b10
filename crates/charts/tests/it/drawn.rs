//! Every picture of a car.

use charts::{
    AtWheel, Bar, BarGroup, BarTurns, BarTurnsRow, Bars, CellFrame, ForceScale, FromAbove, HoldCurves,
    LinesDrawing, LockOrder, Look, Picture, PullCurve, SplitCurves, StageHeat, StateCell, StatesGrid,
    TurnFromAbove, TurnMap, TurnRun, UtilisationCurves, ValveCurve, WheelState, Width,
};
use engine::Conditions;
use engine::balance::Balance;
use engine::brake::Warmth;
use engine::car::circuit::Circuit;
use engine::car::{Axle, Car, Wheel};
use engine::heat::{By, HeatBench, Stage, StagePart, Stops};
use engine::hold::HoldBench;
use engine::hydraulics::{Forces, Hydraulics, Response};
use engine::lever::{LeverBench, Pull};
use engine::loads::{Aboard, Facing, Fuel, Grade, Laden};
use engine::turn::{Assumed, Technique, TurnBench};
use quantity::si::{Duration, Force, Speed, Turns};

/// Grips at which first locks are shown.
pub(crate) const GRIPS: [f64; 5] = [0.2, 0.4, 0.6, 0.8, 1.0];

pub(crate) fn look<'a>(prefix: &'a str, car: &'a str, width: Width) -> Look<'a> {
    Look {
        prefix,
        car,
        state: "crew, half tank, hard gravel",
        width,
        ..Look::default()
    }
}

/// What the wheels do at a grip.
pub(crate) fn states(answer: &Response, laden: &Laden, grip: f64) -> [WheelState; 4] {
    let loads = laden.axle_loads(answer.braking_rate.min(grip));
    Wheel::ALL.map(|wheel| {
        let load = if wheel.axle() == Axle::Front {
            loads.front
        } else {
            loads.rear
        };
        if answer.wheels[wheel.index()].ground_force.n() > grip * load.n() / 2.0 {
            WheelState::Locks
        } else {
            WheelState::Rolls
        }
    })
}

/// A car prepared for every question.
pub(crate) struct Prepared<'c> {
    pub(crate) car: &'c Car,
    pub(crate) hydraulics: Hydraulics,
    pub(crate) laden: Laden,
    pub(crate) balance: Balance,
    pub(crate) hand: Force,
}

impl<'c> Prepared<'c> {
    pub(crate) fn of(car: &'c Car) -> Self {
        let laden = Laden::of(car, Aboard::default());
        let hydraulics = Hydraulics::of(car, Warmth::Warm);
        let balance = Balance::of(car, hydraulics.clone(), laden, Speed::from_m_s(50.0 / 3.6));
        let hand = car
            .lever
            .as_ref()
            .map_or(Force::from_n(250.0), |lever| lever.hand_pull);
        Self {
            car,
            hydraulics,
            laden,
            balance,
            hand,
        }
    }

    pub(crate) fn lock_order(&self) -> LockOrder {
        let loads = [
            ("dry", 0.0, Fuel::Dry),
            ("half tank", 0.5, Fuel::Half),
            ("full", 1.0, Fuel::Full),
        ]
        .map(|(name, fill, fuel)| (name, fill, Laden::of(self.car, Aboard { crew: true, fuel })));
        LockOrder(engine::curves::LockCurves::of(
            self.car,
            &self.balance,
            &loads,
            &LockOrder::usual_grips(),
        ))
    }

    pub(crate) fn pull(&self) -> PullCurve {
        let Some(bench) = LeverBench::of(self.car, Warmth::Warm) else {
            return PullCurve(engine::curves::Pulled::NoLever);
        };
        let pull = Pull {
            hand: self.hand,
            grip: 0.65,
            speed: Speed::from_m_s(50.0 / 3.6),
        };
        let answer = bench.answer(&self.laden, pull);
        PullCurve(engine::curves::Pulled::of(
            self.car,
            &self.hydraulics,
            &self.laden,
            self.hand,
            &answer,
        ))
    }

    pub(crate) fn plan(&self, foot_n: f64, hand: Force) -> FromAbove {
        let answer = self.hydraulics.answer(
            &self.laden,
            Forces {
                foot: Force::from_n(foot_n),
                hand,
            },
        );
        let states = states(&answer, &self.laden, 0.65);
        let mut wheels = AtWheel::pressures(&answer);
        for (wheel, state) in wheels.iter_mut().zip(states) {
            *wheel = wheel.clone().that(state);
        }
        let question = if foot_n > 0.0 {
            "pressure, foot 300 N"
        } else {
            "pressure at the driver's pull"
        };
        FromAbove::of(self.car, Circuit::of(self.car), question, wheels)
    }
}

/// The turn, run; two set-ups beside each other; a map. A car without a lever has none of them.
fn turns(car: &Car, laden: &Laden) -> Option<(TurnFromAbove, TurnFromAbove, TurnMap)> {
    let surface = car.surface("hard gravel")?;
    let bench = TurnBench::of(car, laden, surface, Assumed::default()).ok()?;
    let technique = Technique::on(surface, car);
    let run = |technique: &Technique| {
        let turn = bench.turn(technique).ok()?;
        Some(TurnRun::of(car.name.to_string(), car, turn))
    };
    let beside = TurnFromAbove {
        runs: vec![run(&technique)?, run(&technique.mirrored())?],
        over_time: false,
        playable: false,
    };
    let map = TurnMap {
        grid: bench.grid(&technique, (6, 7), &|_| {}).ok()?,
        technique,
    };
    Some((TurnFromAbove::one(run(&technique)?), beside, map))
}

/// Every picture, by name.
pub(crate) fn all(car: &Car, width: Width) -> Vec<(&'static str, Picture)> {
    let prepared = Prepared::of(car);
    let look = |prefix: &'static str| look(prefix, &car.name, width);
    let split = SplitCurves(engine::curves::SplitLines::of(&prepared.balance, &GRIPS));
    let mut pictures = vec![
        ("split", split.draw(&look("split"), ForceScale::Force)),
        (
            "split-share",
            split.draw(&look("share"), ForceScale::ShareOfWeight),
        ),
        ("lock-order", prepared.lock_order().draw(&look("order"))),
        (
            "utilisation",
            UtilisationCurves(engine::curves::Used::of(car, &prepared.balance)).draw(&look("used")),
        ),
        ("pull", prepared.pull().draw(&look("pull"))),
        (
            "valve",
            ValveCurve(engine::curves::Valve::of(car, prepared.laden.axle_loads(0.0))).draw(&look("valve")),
        ),
        ("plan-foot", prepared.plan(300.0, Force::ZERO).draw(&look("foot"))),
        ("plan-hand", prepared.plan(0.0, prepared.hand).draw(&look("hand"))),
        (
            "lines",
            LinesDrawing::of(
                car,
                &plumbing::Plumbing::of(car),
                wording::Units::default().length,
            )
            .draw(&look("lines")),
        ),
    ];
    if let Some((one, beside, map)) = turns(car, &prepared.laden) {
        pictures.push(("turn", one.draw(&look("turn"))));
        pictures.push(("turn-beside", beside.draw(&look("beside"))));
        pictures.push(("turn-map", map.draw(&look("map"))));
    }
    pictures.push(("states", states_grid().draw(&look("states"))));
    pictures.push(("bars", bars().draw(&look("bars"))));
    pictures.push(("bar-turns", bar_turns().draw(&look("bar-turns"))));
    pictures.push(("stage-heat", stage_heat(car).draw(&look("heat"))));
    if let Some(hold) = held(car) {
        pictures.push(("hold", hold.draw(&look("hold"))));
    }
    pictures
}

/// Every frame and the longest words, over the longest names.
fn states_grid() -> StatesGrid {
    let words = [
        ("yes", CellFrame::Solid),
        ("no: tied", CellFrame::Heavy),
        ("front first", CellFrame::Broken),
    ];
    let mut cells = Vec::new();
    for (ground, least) in [("hard gravel", 0.62), ("a surface of somebody's own", 1.4)] {
        for ((word, frame), load) in words.into_iter().zip(["tank dry", "tank half", "tank full"]) {
            for (warmth, lead) in [("brakes warm", 0.07), ("brakes cold", -0.12)] {
                cells.push(StateCell {
                    ground: ground.to_owned(),
                    load: load.to_owned(),
                    warmth: warmth.to_owned(),
                    word: word.to_owned(),
                    frame,
                    in_hand: Some(least),
                    front_first_by: Some(lead),
                });
            }
        }
    }
    StatesGrid {
        cells,
        worst: Some("Worst on hard gravel, tank dry, brakes cold: 62 % of the torque.".to_owned()),
        tied: true,
    }
}

/// Three turns to the front, three to the rear and none, one without a range, on a ground with a long name.
pub(crate) fn bar_turns() -> BarTurns {
    let row = |ground: &str, turns: f64, range: Option<[f64; 2]>| BarTurnsRow {
        ground: ground.to_owned(),
        load: "fuel 24.0\u{a0}L".to_owned(),
        turns: Turns::from_turns(turns),
        range: range.map(|ends| ends.map(Turns::from_turns)),
        figure: "3.0 front (12.0 rear to 12.0 front)".to_owned(),
        here: turns < 0.0,
    };
    BarTurns {
        rows: vec![
            row("dry tarmac", 3.0, Some([-12.0, 12.0])),
            row("dry tarmac", -3.0, Some([-4.0, -1.0])),
            row(
                "a surface of somebody's own, with a name that goes on and on",
                0.0,
                None,
            ),
        ],
    }
}

/// A head that takes two lines, a name that is cut, a bar beyond its whole and one of nothing.
fn bars() -> Bars {
    let bar = |name: &str, share: f64, figure: &str| Bar {
        name: name.to_owned(),
        share,
        figure: figure.to_owned(),
    };
    let group = |head: &str| BarGroup {
        head: head.to_owned(),
        bars: vec![
            bar("pull", 0.64, "160\u{a0}N of 250\u{a0}N"),
            bar(
                "a name that is longer than any bar could leave room for",
                1.3,
                "130\u{a0}mm",
            ),
            bar("foot", 0.0, "0\u{a0}N"),
        ],
    };
    Bars {
        title: "How much of each limit is used",
        heads: ["parts", "limit", "figure", "of it"],
        groups: vec![
            group("as it is"),
            group(
                "front pads rally; lever bore 5/8 in; lever ratio 7; rear pistons 2 of 36 mm; master bore 3/4 in",
            ),
        ],
        whole: "A full bar is the whole limit.",
        none: "Nothing keeps the limits.",
    }
}

/// A stage of a few stops.
fn stage_heat(car: &Car) -> StageHeat {
    let stops = Stops {
        from: Speed::from_m_s(30.0),
        to: Speed::from_m_s(12.0),
        rate: 0.5,
        every: Duration::from_s(15.0),
        repeat: 20,
        slope: 0.0,
        by: By::Pedal,
    };
    let stage = Stage {
        name: "twenty stops & more".into(),
        about: "".into(),
        parts: vec![StagePart::Stops(stops)],
    };
    StageHeat {
        stage: stage.name.to_string(),
        heat: HeatBench::of(car, &Conditions::default()).drive(&stage).unwrap(),
    }
}

fn held(car: &Car) -> Option<HoldCurves> {
    let conditions = Conditions {
        grade: Grade {
            slope: 0.1,
            facing: Facing::Up,
        },
        grip: Some(0.65),
        ..Conditions::default()
    };
    let hold = HoldBench::of(car, &conditions)?.hold().unwrap();
    Some(HoldCurves::of(&hold))
}

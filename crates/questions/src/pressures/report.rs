//! What foot and hand do, as it is shown.

use engine::car::{Axle, Car, Centre, Coupling, LeverKind, Wheel};
use engine::hydraulics::TravelEnd as Ends;
use engine::network::Taken;
use quantity::{Digits, Unit, show};
use wording::{Measured, Units};

use super::Ask;
use super::outcome::Outcome;
use crate::opened::Opened;
use crate::question::Case;
use crate::report::{
    Block, Detail, Figure, Frame, Headline, Limit, Report, Section, Side, Stroke, Table, TableRow,
};

pub(super) fn of(case: &Case<'_>, outcome: &Outcome) -> Report {
    let (opened, units) = (case.opened, &case.units);
    let mut report = Report::of(&Ask, case, headline(opened, outcome, units));
    report.section(wheels(outcome, units));
    report.section(pedal(outcome, units));
    report.section(handbrake(opened.car(), outcome, units));
    report.section(load(opened, units));
    report
}

/// The pressures in a few words.
pub(super) fn in_short(outcome: &Outcome, units: &Units) -> String {
    let [front, _, rear, _] = outcome
        .answer
        .wheels
        .map(|wheel| wording::figure(wheel.pressure.pa(), units.pressure));
    format!("front {front}, rear {rear}")
}

fn headline(opened: &Opened, outcome: &Outcome, units: &Units) -> Headline {
    let answer = &outcome.answer;
    let beyond = (
        beyond_grip(outcome, Axle::Front),
        beyond_grip(outcome, Axle::Rear),
    );
    let runs_out = answer.pedal.runs_out || answer.lever.is_some_and(|lever| lever.runs_out.is_some());
    let (stamp, frame) = match (answer.front_share, runs_out, beyond) {
        (None, ..) => ("No braking", Frame::Broken),
        (_, true, _) if answer.pedal.runs_out => ("The pedal runs out", Frame::Heavy),
        (_, true, _) => ("The lever runs out", Frame::Heavy),
        (_, _, (false, false)) => ("Within the grip", Frame::Solid),
        (_, _, (true, false)) => ("The front locks", Frame::Solid),
        // Under the foot it is the wrong end.
        (_, _, (false, true)) if outcome.asked.foot.n() > 0.0 => ("The rear locks", Frame::Heavy),
        (_, _, (false, true)) => ("The rear locks", Frame::Solid),
        (_, _, (true, true)) => ("All four lock", Frame::Solid),
    };
    Headline {
        stamp: stamp.to_owned(),
        frame,
        because: because(outcome, units),
        though: though(opened, outcome, beyond),
        stops_first: Vec::new(),
        figures: figures(opened.car(), outcome, units),
        first: None,
    }
}

fn because(outcome: &Outcome, units: &Units) -> String {
    let asked = outcome.asked;
    let forces: Vec<String> = [(asked.foot, "foot"), (asked.hand, "hand")]
        .into_iter()
        .filter(|(force, _)| force.n() > 0.0)
        .map(|(force, name)| format!("{} of {name}", wording::figure(force.n(), units.force)))
        .collect();
    match (forces.as_slice(), outcome.answer.front_share) {
        ([], _) => "No force, no braking.".to_owned(),
        (_, None) => format!("{} brake no wheel.", wording::list(&forces)),
        (several, Some(_)) => format!(
            "{} {} for {}.",
            wording::list(&forces),
            wording::counted(several.len(), "asks", "ask"),
            wording::rate(outcome.answer.braking_rate)
        ),
    }
}

fn though(opened: &Opened, outcome: &Outcome, beyond: (bool, bool)) -> Vec<String> {
    let answer = &outcome.answer;
    let mut said = Vec::new();
    said.extend(answer.front_share.map(|share| match share {
        share if share >= 1.0 => "All of the braking is in front.".to_owned(),
        share if share <= 0.0 => "All of the braking is behind.".to_owned(),
        share => format!("{} of the braking is in front.", wording::per_cent(share)),
    }));
    let surface = &opened.state.surface;
    let gives = format!("than {} gives, {}", surface.name, wording::ratio(surface.peak));
    said.extend(match beyond {
        (false, false) => None,
        (true, false) => Some(format!("The front wheels ask for more {gives}.")),
        (false, true) => Some(format!("The rear wheels ask for more {gives}.")),
        (true, true) => Some(format!("All four wheels ask for more {gives}.")),
    });
    if outcome.valve_holds {
        said.push(
            "The rear has lightened, but the valve keeps what it let through: nothing flows back while the foot rises."
                .to_owned(),
        );
    }
    if answer.pedal.runs_out {
        said.push("The pedal's stroke ends before the foot's force does.".to_owned());
    }
    match answer.lever.as_ref().and_then(|lever| lever.runs_out) {
        Some(Ends::Stroke) => {
            said.push("The lever's cylinder is at its end before the hand's force is.".to_owned());
        }
        Some(Ends::Room) => {
            said.push("The lever has no more room before the hand's force is reached.".to_owned());
        }
        None => {}
    }
    if ties(opened.car()) && beyond.0 != beyond.1 {
        said.push(
            "The centre ties front to rear: an axle beyond its grip is dragged on by the other.".to_owned(),
        );
    }
    said
}

fn figures(car: &Car, outcome: &Outcome, units: &Units) -> Vec<Figure> {
    let answer = &outcome.answer;
    let figure = |name: &'static str, si: f64, unit: Unit, limit: Option<Limit>| Figure {
        name,
        measured: Measured::new(si, None, unit),
        limit,
        working: None,
    };
    let [front, _, rear, _] = answer.wheels;
    let rear = rear
        .lever_pressure
        .filter(|own| *own > rear.pressure)
        .unwrap_or(rear.pressure);
    let mut figures = vec![
        figure("front brakes", front.pressure.pa(), units.pressure, None),
        figure("rear brakes", rear.pa(), units.pressure, None),
    ];
    let pulled = (outcome.asked.hand.n() > 0.0)
        .then(|| answer.lever.and_then(|lever| lever.travel))
        .flatten();
    if let (Some(travel), Some(lever)) = (pulled, &car.lever) {
        let room = Limit {
            name: "room",
            shown: Measured::new(lever.room.m(), None, units.length).value,
            side: Side::AtMost,
        };
        figures.push(figure("travel at the grip", travel.m(), units.length, Some(room)));
    } else {
        figures.push(figure(
            "travel at the foot",
            answer.pedal.travel.m(),
            units.length,
            None,
        ));
    }
    figures
}

fn beyond_grip(outcome: &Outcome, axle: Axle) -> bool {
    Wheel::ALL
        .into_iter()
        .filter(|wheel| wheel.axle() == axle)
        .any(|wheel| outcome.answer.wheels[wheel.index()].ground_force > outcome.ground.gives(axle))
}

/// Whether a centre ties the axles.
fn ties(car: &Car) -> bool {
    match &car.drivetrain.centre {
        Centre::None => false,
        Centre::Fixed(coupling) => *coupling != Coupling::Open,
        Centre::Disengaging { .. } | Centre::Guess { .. } => true,
    }
}

fn wheels(outcome: &Outcome, units: &Units) -> Section {
    let answers = &outcome.answer.wheels;
    let separate = answers.iter().any(|wheel| wheel.lever_pressure.is_some());
    let gives = |wheel: Wheel| outcome.ground.gives(wheel.axle()).n();
    let pressures = Column::of(
        answers
            .iter()
            .flat_map(|wheel| [Some(wheel.pressure), wheel.lever_pressure])
            .flatten()
            .map(|pressure| pressure.pa()),
        units.pressure,
    );
    let torques = Column::of(answers.iter().map(|wheel| wheel.torque.nm()), units.torque);
    let forces = Column::of(
        answers
            .iter()
            .map(|wheel| wheel.ground_force.n())
            .chain(Wheel::ALL.map(gives)),
        units.force,
    );
    let mut heads = vec![
        "wheel",
        "pressure",
        "torque",
        "at the ground",
        "grip gives",
        "so it",
    ];
    if separate {
        heads.insert(2, "lever's");
    }
    let rows = Wheel::ALL
        .into_iter()
        .zip(answers)
        .map(|(wheel, answer)| {
            let mut cells = vec![name(wheel).to_owned(), pressures.cell(answer.pressure.pa())];
            if separate {
                let own = answer.lever_pressure;
                cells.push(own.map_or_else(|| "–".to_owned(), |own| pressures.cell(own.pa())));
            }
            let locks = answer.ground_force.n() > gives(wheel);
            cells.extend([
                torques.cell(answer.torque.nm()),
                forces.cell(answer.ground_force.n()),
                forces.cell(gives(wheel)),
                if locks { "locks" } else { "rolls" }.to_owned(),
            ]);
            TableRow {
                stroke: Some(stroke(wheel.axle())),
                cells,
                ..TableRow::default()
            }
        })
        .collect();
    Section::new("Wheels", "pressure, torque, force at the ground", None).with(Block::Table(Table {
        caption: "What each wheel asks of the ground".to_owned(),
        heads: heads.into_iter().map(str::to_owned).collect(),
        names_row: 0,
        rows,
        of_words: false,
    }))
}

const fn stroke(axle: Axle) -> Stroke {
    match axle {
        Axle::Front => Stroke::Front,
        Axle::Rear => Stroke::Rear,
    }
}

const fn name(wheel: Wheel) -> &'static str {
    match wheel {
        Wheel::FrontLeft => "front left",
        Wheel::FrontRight => "front right",
        Wheel::RearLeft => "rear left",
        Wheel::RearRight => "rear right",
    }
}

/// Figures of one unit, rounded at one place.
struct Column {
    unit: Unit,
    digits: Digits,
}

impl Column {
    fn of(si: impl IntoIterator<Item = f64>, unit: Unit) -> Self {
        Self {
            unit,
            digits: wording::column(si, unit),
        }
    }

    fn cell(&self, si: f64) -> String {
        show(si, self.unit, self.digits)
    }
}

fn pedal(outcome: &Outcome, units: &Units) -> Section {
    let pedal = &outcome.answer.pedal;
    let pressure = |pa: f64| wording::figure(pa, units.pressure);
    let section = Section::new("Pedal", "push rod, pressure, travel", None);
    if outcome.asked.foot.n() <= 0.0 {
        return section.with(Block::Details(vec![Detail::new("foot", "off the pedal")]));
    }
    let [first, second] = pedal.chambers.map(|chamber| pressure(chamber.pa()));
    let mut facts = vec![
        Detail::new(
            "foot",
            format!(
                "{}; {} on the push rod",
                wording::pull(outcome.asked.foot, units),
                wording::figure(pedal.push_rod.n(), units.force)
            ),
        ),
        Detail::new(
            "pressure",
            if outcome.twin {
                format!("front {first}, rear {second}")
            } else {
                first
            },
        ),
    ];
    if let Some(knee) = outcome.answer.knee {
        facts.push(Detail::new(
            "valve",
            format!("lets less through above {}", pressure(knee.pa())),
        ));
    }
    let end = if pedal.runs_out {
        "; the stroke ends here"
    } else {
        ""
    };
    facts.push(Detail::new(
        "travel",
        format!(
            "{} at the foot{end}",
            wording::figure(pedal.travel.m(), units.length)
        ),
    ));
    facts.extend(taken(&pedal.taken, units));
    section.with(Block::Details(facts))
}

fn handbrake(car: &Car, outcome: &Outcome, units: &Units) -> Section {
    Section::new(
        "Handbrake",
        "pressure, travel, what takes fluid",
        Some(Stroke::Hand),
    )
    .with(Block::Details(pulled(car, outcome, units)))
}

fn pulled(car: &Car, outcome: &Outcome, units: &Units) -> Vec<Detail> {
    let (Some(lever), Some(answer)) = (&car.lever, &outcome.answer.lever) else {
        return vec![Detail::new("none", "this car has no lever")];
    };
    if outcome.asked.hand.n() <= 0.0 {
        return vec![Detail::new("hand", "off the lever")];
    }
    let mut facts = vec![Detail::new("hand", wording::pull(outcome.asked.hand, units))];
    let (Some(own), Some(travel)) = (answer.own, answer.travel) else {
        if let LeverKind::Cable(cable) = &lever.kind {
            facts.push(Detail::new(
                "cable",
                format!(
                    "pulls {} as hard, less what it loses; no fluid moves",
                    wording::times(cable.ratio)
                ),
            ));
        }
        return facts;
    };
    facts.push(Detail::new(
        "pressure",
        format!("{} of its own", wording::figure(own.pa(), units.pressure)),
    ));
    let end = match answer.runs_out {
        Some(Ends::Stroke) => "; the cylinder's stroke ends here",
        Some(Ends::Room) => "; the room ends here",
        None => "",
    };
    facts.push(Detail::new(
        "travel",
        format!(
            "{} of {} at the grip{end}",
            wording::figure(travel.m(), units.length),
            wording::figure(lever.room.m(), units.length)
        ),
    ));
    facts.extend(taken(&answer.taken, units));
    facts
}

/// What takes fluid, and with it travel.
fn taken(taken: &Taken, units: &Units) -> Option<Detail> {
    let all = taken.total().m3();
    if all <= 0.0 {
        return None;
    }
    let by: Vec<String> = [
        ("clearance", taken.clearance),
        ("brakes giving way", taken.flex),
        ("hoses", taken.hoses),
        ("squeezed fluid", taken.fluid),
        ("air", taken.air),
    ]
    .into_iter()
    .filter(|(_, volume)| volume.m3() > 0.0)
    .map(|(name, volume)| format!("{name} {}", wording::per_cent(volume.m3() / all)))
    .collect();
    Some(Detail::new(
        "fluid",
        format!("{}: {}", wording::figure(all, units.fluid), by.join(", ")),
    ))
}

fn load(opened: &Opened, units: &Units) -> Section {
    let laden = &opened.state.laden;
    let standing = laden.axle_loads(0.0);
    Section::new("Load", "on the scales, and where the weight is", None).with(Block::Details(vec![
        Detail::new(
            "on scales",
            format!(
                "{} in front, {} behind",
                wording::scales(standing.front, units),
                wording::scales(standing.rear, units)
            ),
        ),
        Detail::new(
            "weight at",
            format!(
                "{} behind the front axle, {} up",
                wording::figure(laden.cg_aft.m(), units.length),
                wording::figure(laden.cg_height.m(), units.length)
            ),
        ),
    ]))
}

//! The page of `pressures`.

use engine::car::{Axle, Car, Centre, Coupling, LeverKind, Wheel};
use engine::hydraulics::{LeverAnswer, Limit};
use engine::network::Taken;
use quantity::{Unit, show};
use questions::Opened;
use wording::Units;

use super::page::{Page, Stroke, Table};
use super::{ink, leaned, title};
use questions::answers::pressures::Outcome;

/// One sentence, the wheels, pedal and handbrake, the load, and what it all rests on.
pub(crate) fn page(opened: &Opened, outcome: &Outcome, units: &Units) -> String {
    let mut page = Page::default();
    title::onto(&mut page, opened, units);
    page.gap();
    page.paragraph(ink::heavy, &answer(opened, outcome, units));
    if let Some(note) = tied(opened.car(), outcome) {
        page.plain(note);
    }
    page.gap();
    wheels(outcome, units).onto(&mut page);
    page.gap();
    pedal(&mut page, outcome, units);
    handbrake(&mut page, opened.car(), outcome, units);
    load(&mut page, opened, units);
    leaned::foot(&mut page, &opened.assembled);
    page.into_text()
}

/// The one sentence that is read first, and the one behind it.
fn answer(opened: &Opened, outcome: &Outcome, units: &Units) -> String {
    let asked = outcome.asked;
    let mut forces = Vec::new();
    if asked.foot.n() > 0.0 {
        forces.push(format!(
            "{} of foot",
            wording::figure(asked.foot.n(), units.force)
        ));
    }
    if asked.hand.n() > 0.0 {
        forces.push(format!("{} of hand", wording::pull(asked.hand, units)));
    }
    let answer = &outcome.answer;
    let Some(front_share) = answer.front_share else {
        return match forces.as_slice() {
            [] => "No force, no braking.".to_owned(),
            _ => format!("{} brake no wheel.", wording::list(&forces)),
        };
    };
    let ask = wording::counted(forces.len(), "asks", "ask");
    let mut said = format!(
        "{} {ask} for {}",
        wording::list(&forces),
        wording::rate(answer.braking_rate)
    );
    said.push_str(&match front_share {
        share if share >= 1.0 => ", all of it in front".to_owned(),
        share if share <= 0.0 => ", all of it behind".to_owned(),
        share => format!(", {} of it in front", wording::per_cent(share)),
    });
    said.push_str(". ");
    let surface = &opened.state.surface;
    let gives = format!(
        "{} gives (grip\u{a0}{})",
        surface.name,
        wording::ratio(surface.peak)
    );
    let beyond: Vec<&str> = [(Axle::Front, "front"), (Axle::Rear, "rear")]
        .into_iter()
        .filter(|&(axle, _)| beyond_grip(outcome, axle))
        .map(|(_, name)| name)
        .collect();
    said.push_str(&match beyond.as_slice() {
        [] => format!("No wheel asks for more than {gives}."),
        [axle] => format!("The {axle} wheels ask for more than {gives}."),
        _ => format!("All four wheels ask for more than {gives}."),
    });
    if answer.pedal.runs_out {
        said.push_str(" The pedal's stroke ends before the foot's force does.");
    }
    match answer.lever.as_ref().and_then(|lever| lever.runs_out) {
        Some(Limit::Stroke) => {
            said.push_str(" The lever's cylinder is at its end before the hand's force is.")
        }
        Some(Limit::Room) => said.push_str(" The lever has no more room before the hand's force is reached."),
        None => {}
    }
    said
}

fn beyond_grip(outcome: &Outcome, axle: Axle) -> bool {
    Wheel::ALL
        .into_iter()
        .filter(|wheel| wheel.axle() == axle)
        .any(|wheel| outcome.answer.wheels[wheel.index()].ground_force > outcome.ground.gives(axle))
}

/// What a centre that ties the axles makes of it.
fn tied(car: &Car, outcome: &Outcome) -> Option<&'static str> {
    let ties = match &car.drivetrain.centre {
        Centre::None => false,
        Centre::Fixed(coupling) => *coupling != Coupling::Open,
        Centre::Disengaging { .. } | Centre::Guess { .. } => true,
    };
    let one = beyond_grip(outcome, Axle::Front) != beyond_grip(outcome, Axle::Rear);
    (ties && one).then_some(
        "The centre ties front to rear: an axle that asks for more than its grip is dragged on by the other.",
    )
}

fn wheels(outcome: &Outcome, units: &Units) -> Table {
    let answers = &outcome.answer.wheels;
    let separate = answers.iter().any(|wheel| wheel.lever_pressure.is_some());
    let mut heads = vec!["pressure", "torque", "at the ground", "grip gives"];
    if separate {
        heads.insert(1, "lever's");
    }
    let mut table = Table::new(heads);
    let pressures = Column::of(
        answers
            .iter()
            .flat_map(|wheel| [Some(wheel.pressure), wheel.lever_pressure])
            .flatten()
            .map(|p| p.pa()),
        units.pressure,
    );
    let torques = Column::of(answers.iter().map(|wheel| wheel.torque.nm()), units.torque);
    let gives = |wheel: Wheel| outcome.ground.gives(wheel.axle()).n();
    let forces = Column::of(
        answers
            .iter()
            .map(|wheel| wheel.ground_force.n())
            .chain(Wheel::ALL.map(gives)),
        units.force,
    );
    for (wheel, answer) in Wheel::ALL.into_iter().zip(answers) {
        match wheel {
            Wheel::FrontLeft => table.rule(Stroke::Front, "front"),
            Wheel::RearLeft => table.rule(Stroke::Rear, "rear"),
            Wheel::FrontRight | Wheel::RearRight => {}
        }
        let mut cells = vec![pressures.cell(answer.pressure.pa())];
        if separate {
            cells.push(
                answer
                    .lever_pressure
                    .map_or_else(String::new, |p| pressures.cell(p.pa())),
            );
        }
        cells.extend([
            torques.cell(answer.torque.nm()),
            forces.cell(answer.ground_force.n()),
            forces.cell(gives(wheel)),
        ]);
        let side = if matches!(wheel, Wheel::FrontLeft | Wheel::RearLeft) {
            "left"
        } else {
            "right"
        };
        let remark = if answer.ground_force.n() > gives(wheel) {
            "beyond"
        } else {
            ""
        };
        table.row(side, cells, remark);
    }
    table
}

/// Figures of one unit, rounded at one place.
struct Column {
    unit: Unit,
    digits: quantity::Digits,
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

fn pedal(page: &mut Page, outcome: &Outcome, units: &Units) {
    let pedal = &outcome.answer.pedal;
    let pressure = |pa: f64| wording::figure(pa, units.pressure);
    page.line(&ink::heavy("pedal"));
    if outcome.asked.foot.n() <= 0.0 {
        page.labelled("foot", "off the pedal");
        return;
    }
    page.labelled(
        "foot",
        &format!(
            "{}; {} on the push rod",
            wording::pull(outcome.asked.foot, units),
            wording::figure(pedal.push_rod.n(), units.force)
        ),
    );
    let [first, second] = pedal.chambers.map(|chamber| pressure(chamber.pa()));
    page.labelled(
        "pressure",
        &if outcome.twin {
            format!("front {first}, rear {second}")
        } else {
            first
        },
    );
    if let Some(knee) = outcome.answer.knee {
        page.labelled(
            "valve",
            &format!("lets less through above {}", pressure(knee.pa())),
        );
    }
    let end = if pedal.runs_out {
        "; the stroke ends here"
    } else {
        ""
    };
    page.labelled(
        "travel",
        &format!(
            "{} at the foot{end}",
            wording::figure(pedal.travel.m(), units.length)
        ),
    );
    taken(page, &pedal.taken, units);
}

fn handbrake(page: &mut Page, car: &Car, outcome: &Outcome, units: &Units) {
    page.gap();
    page.rule(Stroke::Hand, "handbrake");
    let (Some(lever), Some(answer)) = (&car.lever, &outcome.answer.lever) else {
        page.labelled("none", "this car has no lever");
        return;
    };
    if outcome.asked.hand.n() <= 0.0 {
        page.labelled("hand", "off the lever");
        return;
    }
    page.labelled("hand", &wording::pull(outcome.asked.hand, units));
    let LeverAnswer {
        own,
        travel,
        runs_out,
        taken: fluid,
    } = answer;
    let (Some(own), Some(travel)) = (own, travel) else {
        let ratio = match &lever.kind {
            LeverKind::Cable(cable) => cable.ratio,
            LeverKind::Inline(_) | LeverKind::Separate(..) => return,
        };
        page.labelled(
            "cable",
            &format!("pulls {ratio:.0} times as hard, less what it loses; no fluid moves"),
        );
        return;
    };
    page.labelled(
        "pressure",
        &format!("{} of its own", wording::figure(own.pa(), units.pressure)),
    );
    let end = match runs_out {
        Some(Limit::Stroke) => "; the cylinder's stroke ends here",
        Some(Limit::Room) => "; the room ends here",
        None => "",
    };
    page.labelled(
        "travel",
        &format!(
            "{} of {} at the grip{end}",
            wording::figure(travel.m(), units.length),
            wording::figure(lever.room.m(), units.length)
        ),
    );
    taken(page, fluid, units);
}

/// What takes fluid, and with it travel.
fn taken(page: &mut Page, taken: &Taken, units: &Units) {
    let all = taken.total().m3();
    if all <= 0.0 {
        return;
    }
    let column = Column::of([all], units.fluid);
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
    page.labelled("fluid", &format!("{}: {}", column.cell(all), by.join(", ")));
}

fn load(page: &mut Page, opened: &Opened, units: &Units) {
    let laden = &opened.state.laden;
    let standing = laden.axle_loads(0.0);
    page.heading("load");
    page.labelled(
        "on scales",
        &format!(
            "{} in front, {} behind",
            wording::scales(standing.front, units),
            wording::scales(standing.rear, units)
        ),
    );
    page.labelled(
        "weight at",
        &format!(
            "{} behind the front axle, {} up",
            wording::figure(laden.cg_aft.m(), units.length),
            wording::figure(laden.cg_height.m(), units.length)
        ),
    );
}

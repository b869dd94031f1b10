//! The list of parts, and what it weighs.

use std::collections::BTreeMap;

use engine::car::circuit::{Circuit, Piece, Pipework, Port};
use engine::car::{BiasValve, Car, FluidGrade, Knee, Lever, LeverKind, Outlets, Pipe, Place};
use quantity::si::{Length, Mass};

use crate::bleeding;
use crate::cuts::{Cut, Made, PER_SPOILT_FLARE, end_words, up_to};
use crate::flow::DENSITY_KG_M3;
use crate::joint::Joint;
use crate::mating::Meeting;
use crate::part::{Part, PartKind};
use crate::path::{bracket_pipes, is_brake};
use crate::rules::CLIP_EVERY;
use crate::seat::PortSpec;
use crate::stays::was_there;
use crate::system::Plumbing;

/// Steps in which pipe and hose are ordered.
const ORDER_STEP_M: f64 = 0.5;

impl Plumbing {
    /// Runs of a kind of pipe or hose that are to be made and that nobody measured.
    #[must_use]
    pub fn to_tape(&self, pipe: Pipe) -> usize {
        self.cuts
            .iter()
            .filter(|cut| cut.pipe == pipe && cut.wants_tape())
            .count()
    }

    /// How much pipe or hose of a kind is ordered for what was measured.
    #[must_use]
    pub fn order(&self, pipe: Pipe) -> Length {
        let of_kind = || {
            self.cuts
                .iter()
                .filter(move |cut| cut.pipe == pipe && matches!(cut.made, Made::Flared | Made::MadeUp))
                .filter(|cut| cut.cut().is_some())
        };
        let cut_m: f64 = of_kind().map(|cut| cut.as_cut.m()).sum();
        let mut spare_m = 0.0;
        for cut in of_kind() {
            spare_m += match cut.made {
                Made::Flared => 2.0 * PER_SPOILT_FLARE.m(),
                _ => 0.1,
            };
        }
        if cut_m > 0.0 {
            Length::from_m(up_to(cut_m + spare_m, ORDER_STEP_M))
        } else {
            Length::ZERO
        }
    }
}

/// What pipes, hoses, fittings and the fluid in them weigh, those that stay too.
pub(crate) fn mass(car: &Car, plumbing: &Plumbing) -> Mass {
    // Fitted pipe weighs as cut, not as ordered.
    let pipe_kg: f64 = plumbing
        .cuts
        .iter()
        .filter(|cut| matches!(cut.made, Made::Flared | Made::MadeUp))
        .filter_map(|cut| Some(PartKind::Pipe(cut.pipe).mass()?.kg() * cut.as_cut.m()))
        .sum();
    let parts_kg: f64 = parts(car, plumbing, Scope::All)
        .iter()
        .filter(|part| !matches!(part.kind, PartKind::Pipe(_)))
        .filter_map(|part| Some(part.kind.mass()?.kg() * part.count))
        .sum();
    Mass::from_kg(pipe_kg + parts_kg + plumbing.fluid.lines.m3() * DENSITY_KG_M3)
}

/// What is bought: for what is made anew, and was measured.
pub(crate) fn to_buy(car: &Car, plumbing: &Plumbing) -> Vec<Part> {
    parts(car, plumbing, Scope::ToBuy)
}

/// Whether parts are counted of every run, or of what is made anew alone.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Scope {
    All,
    ToBuy,
}

fn parts(car: &Car, plumbing: &Plumbing, scope: Scope) -> Vec<Part> {
    let all = scope == Scope::All;
    let anew = |cut: &Cut| all || !cut.stays;
    let mut counts: BTreeMap<PartKind, f64> = BTreeMap::new();
    let mut add = |kind: PartKind, count: f64| *counts.entry(kind).or_insert(0.0) += count;
    if let Some(lever) = &car.lever {
        if let Some(text) = lever_spec(car, lever) {
            add(PartKind::Lever(text), 1.0);
        }
        if let LeverKind::Separate(_, brake) = &lever.kind {
            let pistons: Vec<String> = brake
                .caliper
                .pistons
                .iter()
                .map(|piston| format!("{:.1} mm", piston.m() * 1e3))
                .collect();
            let text = format!("pistons {}, one a rear wheel", pistons.join(" and "));
            add(PartKind::SecondCaliper(text), 2.0);
        }
    }
    let (mut sealed, mut screws) = (false, 0.0);
    for component in &plumbing.circuit.components {
        match component.part {
            Piece::BiasValve => add(PartKind::BiasValve(valve_spec(car)), 1.0),
            _ if is_brake(component.part) => screws += 1.0,
            _ => {}
        }
    }
    for pipe in [
        Pipe::Steel316,
        Pipe::CopperNickel316,
        Pipe::Steel14,
        Pipe::CopperNickel14,
        Pipe::Braided3,
    ] {
        let order = plumbing.order(pipe);
        if order > Length::ZERO || plumbing.to_tape(pipe) > 0 {
            add(PartKind::Pipe(pipe), order.m());
        }
    }
    let made = plumbing
        .joints
        .iter()
        .filter(|joint| anew(&plumbing.cuts[joint.run]));
    for joint in made {
        for kind in joint.meeting.needs() {
            match kind {
                PartKind::RubberEnd(_) => {}
                PartKind::Sealant => sealed = true,
                other => add(other.clone(), 1.0),
            }
        }
    }
    fittings(plumbing, all, &mut add);
    if sealed {
        add(PartKind::Sealant, 1.0);
    }
    let clips: f64 = plumbing
        .circuit
        .runs
        .iter()
        .zip(&plumbing.cuts)
        .filter(|(run, cut)| anew(cut) && (all || cut.taped) && !hangs_free(&plumbing.circuit, run))
        .map(|(run, _)| (run.run.length.m() / CLIP_EVERY.m()).ceil())
        .sum();
    if clips > 0.0 {
        add(PartKind::Clip, clips);
    }
    let through = through_sheet(car, plumbing, anew);
    if through > 0.0 {
        add(PartKind::Grommet, through);
    }
    if !car.places.rear_guard {
        add(PartKind::Guard, 1.0);
    }
    add(PartKind::BleedCap, screws);
    let bottles = bleeding::in_order(car, plumbing).bottles;
    let grade = match car.fluid.grade {
        FluidGrade::Dot3 => "DOT 3",
        FluidGrade::Dot4 => "DOT 4",
        FluidGrade::Dot5 => "DOT 5",
        FluidGrade::Dot51 => "DOT 5.1",
    };
    add(PartKind::Fluid(grade), f64::from(bottles));
    counts
        .into_iter()
        .map(|(kind, count)| {
            let to_tape = match kind {
                PartKind::Pipe(pipe) => plumbing.to_tape(pipe),
                _ => 0,
            };
            Part { kind, count, to_tape }
        })
        .collect()
}

/// Unions, tees, brackets and whole rubber hoses.
fn fittings(plumbing: &Plumbing, all: bool, add: &mut impl FnMut(PartKind, f64)) {
    let circuit = &plumbing.circuit;
    let stays: Vec<bool> = plumbing.cuts.iter().map(|cut| cut.stays).collect();
    let spec_at = |component: usize, port: usize| {
        let port = Port { component, port };
        plumbing
            .joints
            .iter()
            .find(|joint| joint.port == port)
            .and_then(|joint| joint.spec)
    };
    for (index, component) in circuit.components.iter().enumerate() {
        let offered = Some(index) != circuit.where_joined() && (all || !was_there(circuit, &stays, index));
        let Some(spec) = spec_at(index, 0).filter(|_| offered) else {
            continue;
        };
        match component.part {
            Piece::Union => add(PartKind::Union(spec), 1.0),
            Piece::Tee => add(PartKind::Tee(spec), 1.0),
            Piece::Bracket if bracket_pipes(circuit, index).1 == Pipe::Rubber => {
                add(PartKind::ClipBracket, 1.0)
            }
            Piece::Bracket => add(PartKind::BulkheadUnion(spec), 1.0),
            _ => {}
        }
    }
    let bought = plumbing
        .cuts
        .iter()
        .filter(|cut| cut.made == Made::Bought && (all || !cut.stays));
    for cut in bought {
        let run = &circuit.runs[cut.index];
        let end = |joint: &Joint| match (&joint.meeting, joint.known) {
            (Meeting::Crimped, _) => spec_at(run.from.component, 0)
                .map_or_else(|| "female end".to_owned(), |spec| format!("female {spec}")),
            (Meeting::NotKnown, _) => "to suit the port".to_owned(),
            _ => end_words(joint),
        };
        let ends = [0, 1].map(|at| end(&plumbing.joints[2 * cut.index + at]));
        let mut length_mm = 0_u32;
        while f64::from(length_mm) < cut.as_cut.m() * 1e3 - 1e-6 {
            length_mm += 10;
        }
        add(
            PartKind::RubberHose {
                length_mm: (all || cut.taped).then_some(length_mm),
                ends: ends.join(" / "),
            },
            1.0,
        );
    }
}

/// Whether a run is the hose that moves with a wheel: it hangs free and takes no clip.
fn hangs_free(circuit: &Circuit, run: &Pipework) -> bool {
    run.run.pipe.is_hose()
        && [run.from, run.to]
            .iter()
            .any(|port| circuit.components[port.component].part == Piece::Bracket)
}

/// How often lines go through sheet metal: between what stands inside and outside.
fn through_sheet(car: &Car, plumbing: &Plumbing, anew: impl Fn(&Cut) -> bool) -> f64 {
    let (circuit, cabin) = (&plumbing.circuit, &plumbing.cabin);
    let mut holes = 0.0;
    for (run, _) in circuit
        .runs
        .iter()
        .zip(&plumbing.cuts)
        .filter(|(_, cut)| anew(cut))
    {
        let inside = [run.from, run.to].map(|port| cabin.holds(circuit, port.component));
        if inside[0] != inside[1] {
            holes += 1.0;
        }
    }
    if car.lever.is_none() && car.places.rear_run == Place::Outside {
        0.0
    } else {
        holes
    }
}

fn lever_spec(car: &Car, lever: &Lever) -> Option<String> {
    let cylinder = lever.cylinder()?;
    let outlets = match cylinder.outlets {
        Outlets::One => "one outlet",
        Outlets::Tandem => "two outlets, tandem",
        Outlets::SideBySide => "two bores abreast, two outlets",
    };
    let ports = ports_said(car.ports.lever.as_deref());
    Some(format!(
        "bore {}, stroke {:.0} mm, ratio {:.1}, {outlets}, {ports}",
        quantity::show_bore(cylinder.bore),
        cylinder.stroke.m() * 1e3,
        cylinder.ratio
    ))
}

/// Thread and seat as the trade says them, whatever way the sheet writes them.
fn ports_said(written: Option<&str>) -> String {
    written.map_or_else(
        || "ports to be looked at".to_owned(),
        |written| match PortSpec::read(written) {
            Ok(port) => format!("ports {port}"),
            Err(_) => format!("ports {written}"),
        },
    )
}

fn valve_spec(car: &Car) -> String {
    let ports = ports_said(car.ports.bias_valve.as_deref());
    let kind = match &car.bias_valve {
        Some(BiasValve {
            knee: Knee::Knob { .. },
            ..
        }) => "adjustable",
        Some(BiasValve {
            knee: Knee::OverRearLoad { .. },
            ..
        }) => "load-sensing",
        Some(valve) if valve.slope <= 0.0 => "limiting",
        _ => "fixed",
    };
    format!("{kind}, {ports}")
}

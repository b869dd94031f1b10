//! The plumbing of a car, put together: what is at each port, which joints that makes, what is cut and what is bought.

use engine::car::circuit::{Circuit, Component, Piece, Pipework, Port};
use engine::car::{Car, LeverKind, Pipe, Place};
use engine::network::{brake_fluid, caliper_fluid};
use quantity::si::{Mass, Volume};

use crate::joint::{End, Joint, Known, band, joint_id};
use crate::mating::{BUBBLE, INVERTED, INVERTED_WIDE, JAPANESE, MALE_3, Meeting, meeting};
use crate::part::PartKind;
use crate::path::{bracket_pipes, is_brake, is_direct};
use crate::places::Cabin;
use crate::seat::{PortSpec, Seat};
use crate::stays::{stays, was_there};
use crate::system::{FluidVolumes, Plumbing, Unlisted};
use crate::words::{component_words, port_words};
use crate::{bleeding, cuts, list};

/// The sheet's ports, read.
#[derive(Clone, Copy, Debug, Default)]
struct Ports {
    master: Option<PortSpec>,
    bias_valve: Option<PortSpec>,
    lever: Option<PortSpec>,
    caliper: Option<PortSpec>,
    tee: Option<PortSpec>,
}

impl Ports {
    fn of(car: &Car, unlisted: &mut Vec<Unlisted>) -> Self {
        let mut read = |key: &'static str, text: &Option<std::sync::Arc<str>>| {
            let text = text.as_deref()?;
            PortSpec::read(text)
                .map_err(|fault| unlisted.push(Unlisted { key, fault }))
                .ok()
        };
        let ports = &car.ports;
        Self {
            master: read("lines.ports.master", &ports.master),
            bias_valve: read("lines.ports.bias_valve", &ports.bias_valve),
            lever: read("lines.ports.lever", &ports.lever),
            caliper: read("lines.ports.caliper", &ports.caliper),
            tee: read("lines.ports.tee", &ports.tee),
        }
    }

    /// The flare that a plain fitting gets: the one that the car's own ports have, so that one tool makes all.
    fn family(&self, pipe: Pipe) -> PortSpec {
        if matches!(pipe, Pipe::Steel14 | Pipe::CopperNickel14) {
            return INVERTED_WIDE;
        }
        let flares = [self.master, self.bias_valve, self.lever, self.caliper];
        flares
            .into_iter()
            .flatten()
            .find_map(|port| match port.seat {
                Seat::Bubble => Some(BUBBLE),
                Seat::Japanese => Some(JAPANESE),
                Seat::Inverted => Some(INVERTED),
                _ => None,
            })
            .unwrap_or(BUBBLE)
    }
}

impl Plumbing {
    /// Of a car.
    #[must_use]
    pub fn of(car: &Car) -> Self {
        let circuit = Circuit::of(car);
        let mut unlisted = Vec::new();
        let ports = Ports::of(car, &mut unlisted);
        let cabin = Cabin::of(car);
        let stays = stays(car, &circuit);
        let joints = joints(&circuit, &ports, &cabin, &stays);
        let cuts = cuts::cuts(&circuit, &joints, &stays);
        let fluid = fluid(car, &circuit, &cabin);
        let mut plumbing = Self {
            circuit,
            joints,
            cuts,
            parts: Vec::new(),
            fluid,
            mass: Mass::ZERO,
            unlisted,
            cabin,
        };
        plumbing.parts = list::to_buy(car, &plumbing);
        plumbing.mass = list::mass(car, &plumbing);
        plumbing
    }
}

/// What a component's port is.
fn spec_of(circuit: &Circuit, ports: &Ports, port: Port) -> (Option<PortSpec>, Known) {
    let Some(component) = circuit.components.get(port.component) else {
        return (None, Known::No);
    };
    let sheet = |spec: Option<PortSpec>| (spec, if spec.is_some() { Known::Sheet } else { Known::No });
    match component.part {
        Piece::Master => sheet(ports.master),
        Piece::BiasValve => sheet(ports.bias_valve),
        Piece::LeverCylinder | Piece::LeverMaster => sheet(ports.lever),
        Piece::Brake(_) | Piece::LeverBrake(_) => sheet(ports.caliper),
        Piece::Tee if ports.tee.is_some() => sheet(ports.tee),
        Piece::Tee | Piece::Union => (Some(plain_fitting(circuit, ports, port.component)), Known::Chosen),
        Piece::Bracket => bracket(circuit, ports, port),
    }
}

fn pipes_at(circuit: &Circuit, component: usize) -> Vec<Pipe> {
    circuit
        .runs
        .iter()
        .filter(|run| run.from.component == component || run.to.component == component)
        .map(|run| run.run.pipe)
        .collect()
}

/// A tee's or union's ports: cones of −3 where only braided hose meets, otherwise the flare of the car.
fn plain_fitting(circuit: &Circuit, ports: &Ports, component: usize) -> PortSpec {
    let pipes = pipes_at(circuit, component);
    if !pipes.is_empty() && pipes.iter().all(|&pipe| pipe == Pipe::Braided3) {
        return MALE_3;
    }
    let rigid = pipes.iter().copied().find(|pipe| !pipe.is_hose());
    ports.family(rigid.unwrap_or(Pipe::Steel316))
}

/// A bracket: a bulkhead union where braided hose begins, a clip round the hose's own end where rubber hose does.
fn bracket(circuit: &Circuit, ports: &Ports, port: Port) -> (Option<PortSpec>, Known) {
    let (pipe, hose) = bracket_pipes(circuit, port.component);
    let pipe_side = if pipe == Pipe::Braided3 {
        MALE_3
    } else {
        ports.family(pipe)
    };
    match (port.port, hose) {
        (0, _) => (Some(pipe_side), Known::Chosen),
        (_, Pipe::Rubber) => (None, Known::OwnEnd),
        (_, _) => (Some(MALE_3), Known::Chosen),
    }
}

fn joints(circuit: &Circuit, ports: &Ports, cabin: &Cabin, stays: &[bool]) -> Vec<Joint> {
    let meet = circuit.where_joined();
    let mut joints = Vec::with_capacity(2 * circuit.runs.len());
    for (index, run) in circuit.runs.iter().enumerate() {
        let spec_of = |port: Port| match spec_of(circuit, ports, port) {
            (None, Known::No) if stays[index] => (None, Known::Stays),
            // What was there before was chosen by somebody else.
            (_, Known::Chosen) if was_there(circuit, stays, port.component) => {
                (None, if stays[index] { Known::Stays } else { Known::No })
            }
            found => found,
        };
        let ends = [(End::A, run.from), (End::B, run.to)].map(|(end, port)| (end, port, spec_of(port)));
        let meets = [run.from, run.to].iter().any(|port| Some(port.component) == meet);
        let direct = is_direct(run).then(|| direct(ends[0].2.0, ends[1].2.0));
        for (at, &(end, port, (spec, known))) in ends.iter().enumerate() {
            let meeting = match (&direct, spec, known) {
                _ if Some(port.component) == meet || (meets && direct.is_some()) => Meeting::Joins,
                (Some(direct), ..) => direct[at].clone(),
                (None, _, Known::OwnEnd) => Meeting::Crimped,
                (None, None, Known::Stays) => Meeting::Stays,
                (None, Some(spec), _) => meeting(spec, run.run.pipe),
                (None, None, _) => Meeting::NotKnown,
            };
            let component = &circuit.components[port.component];
            joints.push(Joint {
                number: joints.len() + 1,
                id: joint_id(circuit, port, index, end),
                port,
                run: index,
                end,
                between: [circuit.port_name(port), format!("{}.{}", run.name, end.letter())],
                place: place(component, port),
                spec,
                known,
                torque_band: band(spec, &meeting, run.run.pipe),
                meeting,
                in_cabin: cabin.holds(circuit, port.component),
            });
        }
    }
    joints
}

/// Two ports right beside each other: what goes between stands at the first.
fn direct(one: Option<PortSpec>, other: Option<PortSpec>) -> [Meeting; 2] {
    let (Some(one), Some(other)) = (one, other) else {
        return [Meeting::NotKnown, Meeting::NotKnown];
    };
    let behind = Meeting::Mates { needs: Vec::new() };
    if one.seat == Seat::Bleed || other.seat == Seat::Bleed {
        return [meeting(one, Pipe::Steel316), meeting(other, Pipe::Steel316)];
    }
    if one == other && matches!(one.seat, Seat::Bubble | Seat::Japanese | Seat::Inverted) {
        let needs = vec![PartKind::Nipple(one)];
        return [Meeting::Mates { needs }, behind];
    }
    let into = |port: PortSpec| match port.seat {
        Seat::Male37 => format!("{} female 37° swivel", port.thread_name()),
        _ => format!("{} male, {} end", port.thread.name(), port.seat.word()),
    };
    let text = format!("{} to {}", into(one), into(other));
    let needs = vec![PartKind::Adapter(text.clone())];
    [Meeting::Adapter { adapter: text, needs }, behind]
}

/// Where a joint is, in words.
fn place(component: &Component, port: Port) -> String {
    let words = component_words(component);
    let name = component.ports.get(port.port).copied().unwrap_or_default();
    if is_brake(component.part) {
        words
    } else {
        format!("{words} {}", port_words(name))
    }
}

fn fluid(car: &Car, circuit: &Circuit, cabin: &Cabin) -> FluidVolumes {
    let of_run = |run: &Pipework| Volume::from_m3(run.run.pipe.section().m2() * run.run.length.m());
    let second = match car.lever.as_ref().map(|lever| &lever.kind) {
        Some(LeverKind::Separate(_, brake)) => caliper_fluid(brake),
        _ => Volume::ZERO,
    };
    let brakes = circuit
        .components
        .iter()
        .map(|component| match component.part {
            Piece::Brake(wheel) => brake_fluid(car.brake(wheel.axle())),
            Piece::LeverBrake(_) => second,
            _ => Volume::ZERO,
        })
        .sum();
    let separate = second > Volume::ZERO;
    let inside = |place: Place, there: bool| {
        if there && place == Place::Cabin {
            bleeding::RESERVOIR
        } else {
            Volume::ZERO
        }
    };
    FluidVolumes {
        lines: circuit.runs.iter().map(of_run).sum(),
        brakes,
        cabin_lines: circuit
            .runs
            .iter()
            .filter(|run| cabin.holds_run(circuit, run))
            .map(of_run)
            .sum(),
        cabin_reservoirs: inside(car.places.reservoir, true) + inside(car.places.lever_reservoir, separate),
    }
}

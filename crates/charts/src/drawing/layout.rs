//! Where everything stands on the drawing, and how the runs go: along and across the car, with room at both ends of each
//! for the marks of its joints.

use engine::car::Wheel;
use engine::car::circuit::{Circuit, Component, Piece, Port};

use super::LinesDrawing;
use crate::geometry::{Point, Rect, at};

/// Distances from the top of the nose.
const FRONT_AXLE: f64 = 92.0;
const MASTER: f64 = 168.0;
const BULKHEAD: f64 = 250.0;
const INLET_TEE: f64 = 320.0;
const LEVER: f64 = 408.0;
const AFTER_LEVER: f64 = 500.0;
const REAR_AXLE: f64 = 588.0;
const TAIL: f64 = 668.0;
/// How far a lever's caliper and the foot's stand from the axle, where a wheel has both.
const BESIDE_AXLE: f64 = 27.0;
/// From the middle: wheels, brakes, brackets.
const WHEEL: f64 = 206.0;
const BRAKE: f64 = 174.0;
const BRACKET: f64 = 98.0;
/// From the middle: two rear runs abreast.
const ABREAST: f64 = 44.0;

/// The drawing's places.
#[derive(Clone, Debug)]
pub(super) struct Layout {
    middle: f64,
    top: f64,
    leans: bool,
    twin: bool,
    spots: Vec<Rect>,
}

/// Along or across the car.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Leaves {
    Along,
    Across,
}

impl Layout {
    pub(super) fn of(drawing: &LinesDrawing, middle: f64, top: f64) -> Self {
        let circuit = &drawing.circuit;
        let separate = circuit
            .components
            .iter()
            .any(|component| component.part == Piece::LeverMaster);
        let mut layout = Self {
            middle,
            top,
            leans: separate || drawing.cable,
            twin: drawing.twin,
            spots: Vec::new(),
        };
        layout.spots = circuit
            .components
            .iter()
            .enumerate()
            .map(|(index, component)| {
                let centre = layout.centre(circuit, index, component);
                let (wide, high) = half_size(component);
                Rect::new(centre.x - wide, centre.y - high, centre.x + wide, centre.y + high)
            })
            .collect();
        layout
    }

    pub(super) fn bottom(&self) -> f64 {
        self.top + TAIL + 10.0
    }

    /// The body: left, nose, right, tail.
    pub(super) fn body(&self) -> Rect {
        Rect::new(
            self.middle - WHEEL + 12.0,
            self.top,
            self.middle + WHEEL - 12.0,
            self.top + TAIL,
        )
    }

    /// Heights of the two screens.
    pub(super) fn screens(&self) -> [f64; 2] {
        [self.top + BULKHEAD - 34.0, self.top + TAIL - 44.0]
    }

    pub(super) const fn leans(&self) -> bool {
        self.leans
    }

    pub(super) fn spot(&self, component: usize) -> Rect {
        self.spots.get(component).copied().unwrap_or_default()
    }

    pub(super) fn wheel(&self, wheel: Wheel) -> Point {
        let y = match wheel {
            Wheel::FrontLeft | Wheel::FrontRight => FRONT_AXLE,
            Wheel::RearLeft | Wheel::RearRight => REAR_AXLE,
        };
        at(self.middle + side(wheel) * WHEEL, self.top + y)
    }

    fn spine(&self) -> f64 {
        if self.leans { -LEVER_COLUMN } else { 0.0 }
    }

    /// Columns of rear runs; they give way to the left where a lever has a line of its own.
    fn column(&self, name: &str) -> f64 {
        match (name.ends_with("_left"), name.ends_with("_right"), self.leans) {
            (true, _, true) => -1.3 * ABREAST,
            (true, _, false) => -ABREAST,
            (_, true, true) => -0.2 * ABREAST,
            (_, true, false) => ABREAST,
            _ => self.spine(),
        }
    }

    fn rear_brake(&self) -> f64 {
        if self.leans {
            REAR_AXLE - BESIDE_AXLE
        } else {
            REAR_AXLE
        }
    }

    fn brake_y(&self, wheel: Wheel, lever: bool) -> f64 {
        match (wheel, lever) {
            (Wheel::FrontLeft | Wheel::FrontRight, _) => FRONT_AXLE,
            (_, true) => REAR_AXLE + BESIDE_AXLE,
            (_, false) => self.rear_brake(),
        }
    }

    fn centre(&self, circuit: &Circuit, index: usize, component: &Component) -> Point {
        let here = |x: f64, y: f64| at(self.middle + x, self.top + y);
        match component.part {
            Piece::Master => here(0.0, MASTER),
            Piece::Brake(wheel) => here(side(wheel) * BRAKE, self.brake_y(wheel, false)),
            Piece::LeverBrake(wheel) => here(side(wheel) * BRAKE, self.brake_y(wheel, true)),
            Piece::Bracket => {
                let (wheel, lever) = neighbours(circuit, index)
                    .find_map(|other| match other.part {
                        Piece::Brake(wheel) => Some((wheel, false)),
                        Piece::LeverBrake(wheel) => Some((wheel, true)),
                        _ => None,
                    })
                    .unwrap_or((Wheel::RearLeft, false));
                here(side(wheel) * BRACKET, self.brake_y(wheel, lever))
            }
            Piece::LeverCylinder => here(0.0, LEVER),
            Piece::LeverMaster => here(LEVER_COLUMN, LEVER),
            Piece::Tee if neighbours(circuit, index).any(|other| other.part == Piece::LeverMaster) => {
                here(LEVER_COLUMN, REAR_AXLE + BESIDE_AXLE)
            }
            Piece::Tee if component.ports.contains(&"out") => here(0.0, INLET_TEE),
            Piece::Tee => here(self.spine(), self.rear_brake()),
            Piece::BiasValve if fed_by_lever(circuit, index) => {
                here(self.column(component.name), AFTER_LEVER)
            }
            Piece::Union if !neighbours(circuit, index).any(|other| other.part == Piece::Master) => {
                here(self.column(component.name), AFTER_LEVER)
            }
            Piece::BiasValve | Piece::Union => here(self.column(component.name), BULKHEAD),
        }
    }

    /// Where a run leaves a port, and which way.
    fn leaves(&self, circuit: &Circuit, port: Port) -> (Point, Leaves) {
        let spot = self.spot(port.component);
        let centre = at(
            f64::midpoint(spot.left, spot.right),
            f64::midpoint(spot.top, spot.bottom),
        );
        let Some(component) = circuit.components.get(port.component) else {
            return (centre, Leaves::Along);
        };
        let name = component.ports.get(port.port).copied().unwrap_or("");
        let top = |x: f64| (at(self.middle + x, spot.top), Leaves::Along);
        let bottom = |x: f64| (at(self.middle + x, spot.bottom), Leaves::Along);
        let across = |right: bool| {
            let x = if right { spot.right } else { spot.left };
            (at(x, centre.y), Leaves::Across)
        };
        let x = centre.x - self.middle;
        match (component.part, name) {
            // Of twin cylinders the left one feeds the front, the right one the rear.
            (Piece::Master, "front_left") => top(if self.twin { -58.0 } else { -28.0 }),
            (Piece::Master, "front_right") => top(if self.twin { -24.0 } else { 28.0 }),
            (Piece::Master, "rear_left") => bottom(self.column("_left")),
            (Piece::Master, "rear_right") => bottom(self.column("_right")),
            (Piece::Master, _) if self.twin => bottom(if self.leans { 40.0 } else { 24.0 }),
            (Piece::Master, _) => bottom(self.spine()),
            (Piece::Union | Piece::BiasValve, "in") => top(x),
            (Piece::Union | Piece::BiasValve, _) => bottom(x),
            (Piece::Tee, "in") => top(x),
            (Piece::Tee, "out") => bottom(x),
            (Piece::Tee, name) => across(name == "right"),
            (Piece::LeverCylinder, "in_left") => top(-ABREAST),
            (Piece::LeverCylinder, "in_right") => top(ABREAST),
            (Piece::LeverCylinder, "in") => top(x),
            (Piece::LeverCylinder | Piece::LeverMaster, "out") => bottom(x),
            (Piece::LeverCylinder, "out_left") => bottom(-ABREAST),
            (Piece::LeverCylinder, _) => bottom(ABREAST),
            (Piece::LeverMaster, "out_left") => bottom(x - 15.0),
            (Piece::LeverMaster, _) => bottom(x + 15.0),
            (Piece::Bracket, "pipe") => across(x < 0.0),
            (Piece::Bracket, _) => across(x > 0.0),
            (Piece::Brake(wheel) | Piece::LeverBrake(wheel), _) => across(side(wheel) < 0.0),
        }
    }

    /// The way of a run.
    pub(super) fn route(&self, circuit: &Circuit, from: Port, to: Port) -> Vec<Point> {
        let (start, leaves) = self.leaves(circuit, from);
        let (end, arrives) = self.leaves(circuit, to);
        let mut points = vec![start];
        match (leaves, arrives) {
            (Leaves::Along, Leaves::Along) if (start.x - end.x).abs() > 0.5 => {
                let turn = f64::midpoint(start.y, end.y);
                points.extend([at(start.x, turn), at(end.x, turn)]);
            }
            (Leaves::Across, Leaves::Across) if (start.y - end.y).abs() > 0.5 => {
                let turn = f64::midpoint(start.x, end.x);
                points.extend([at(turn, start.y), at(turn, end.y)]);
            }
            (Leaves::Along, Leaves::Across) => points.push(at(start.x, end.y)),
            (Leaves::Across, Leaves::Along) => points.push(at(end.x, start.y)),
            _ => {}
        }
        points.push(end);
        points
    }

    /// A cable lever's place, and its cable.
    pub(super) fn cable(&self) -> (Rect, Vec<Vec<Point>>) {
        let (x, y) = (self.middle + LEVER_COLUMN, self.top + LEVER);
        let lever = Rect::new(x - 9.0, y - 20.0, x + 9.0, y + 20.0);
        let across = self.top + REAR_AXLE + BESIDE_AXLE;
        let end = |side: f64| at(self.middle + side * (WHEEL - 16.0), across);
        (
            lever,
            vec![
                vec![at(x, lever.bottom), at(x, across)],
                vec![end(-1.0), end(1.0)],
            ],
        )
    }
}

/// From the middle to a lever with a line of its own.
const LEVER_COLUMN: f64 = 36.0;

fn half_size(component: &Component) -> (f64, f64) {
    match component.part {
        Piece::Master => (76.0, 15.0),
        Piece::Union => (6.0, 6.0),
        Piece::Tee => (5.5, 5.5),
        Piece::Bracket => (4.0, 10.0),
        Piece::BiasValve => (12.0, 12.0),
        Piece::LeverCylinder if component.ports.len() > 2 => (ABREAST + 14.0, 22.0),
        Piece::LeverCylinder => (11.0, 22.0),
        Piece::LeverMaster if component.ports.len() > 1 => (24.0, 22.0),
        Piece::LeverMaster => (11.0, 22.0),
        Piece::Brake(_) | Piece::LeverBrake(_) => (8.0, 15.0),
    }
}

pub(super) const fn side(wheel: Wheel) -> f64 {
    match wheel {
        Wheel::FrontLeft | Wheel::RearLeft => -1.0,
        Wheel::FrontRight | Wheel::RearRight => 1.0,
    }
}

fn neighbours(circuit: &Circuit, index: usize) -> impl Iterator<Item = &Component> {
    circuit.runs.iter().filter_map(move |run| {
        let other = match (run.from.component, run.to.component) {
            (from, to) if from == index => to,
            (from, to) if to == index => from,
            _ => return None,
        };
        circuit.components.get(other)
    })
}

/// Whether a component's inlet hangs on a lever's cylinder.
fn fed_by_lever(circuit: &Circuit, index: usize) -> bool {
    let inlet = Port {
        component: index,
        port: 0,
    };
    circuit.runs.iter().any(|run| {
        let other = match () {
            () if run.to == inlet => run.from,
            () if run.from == inlet => run.to,
            () => return false,
        };
        circuit
            .components
            .get(other.component)
            .is_some_and(|other| other.part == Piece::LeverCylinder)
    })
}

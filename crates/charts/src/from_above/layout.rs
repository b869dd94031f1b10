//! Where everything stands on the plan, and how the runs go from one to the other: straight along and across the car,
//! with one or two corners.

use engine::car::Wheel;
use engine::car::circuit::{Circuit, Component, Piece, Port};

use super::FromAbove;
use crate::geometry::{Point, Rect, at};
use crate::picture::Look;

/// Distances from the top of the nose.
const FRONT_AXLE: f64 = 84.0;
const MASTER: f64 = 146.0;
const BULKHEAD: f64 = 204.0;
const INLET_TEE: f64 = 250.0;
const LEVER: f64 = 306.0;
const AFTER_LEVER: f64 = 372.0;
const REAR_AXLE: f64 = 448.0;
const TAIL: f64 = 536.0;
/// How far a lever's caliper and the foot's stand from the axle, where a wheel has both.
const BESIDE_AXLE: f64 = 19.0;

/// Places on the plan.
#[derive(Clone, Debug)]
pub(super) struct Layout {
    pub(super) middle: f64,
    pub(super) top: f64,
    /// From the middle to a wheel.
    pub(super) half: f64,
    narrow: bool,
    leans: bool,
    diagonal: bool,
    spots: Vec<Rect>,
}

/// Along or across the car.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Leaves {
    Along,
    Across,
}

/// Where a lever's cable starts.
#[derive(Clone, Copy, Debug)]
pub(super) struct CableStart {
    pub(super) x: f64,
    pub(super) bottom: f64,
}

impl Layout {
    pub(super) fn of(seen: &FromAbove, look: &Look<'_>, top: f64) -> Self {
        let narrow = look.narrow();
        let circuit = &seen.circuit;
        let separate = circuit
            .components
            .iter()
            .any(|component| component.part == Piece::LeverMaster);
        let mut layout = Self {
            middle: look.width.units() / 2.0,
            top,
            half: if narrow { 68.0 } else { 124.0 },
            narrow,
            leans: separate || seen.cable,
            diagonal: seen.diagonal(),
            spots: Vec::new(),
        };
        layout.spots = circuit
            .components
            .iter()
            .enumerate()
            .map(|(index, component)| {
                let centre = layout.centre(circuit, index, component);
                let (wide, high) = layout.half_size(seen, component);
                Rect::new(centre.x - wide, centre.y - high, centre.x + wide, centre.y + high)
            })
            .collect();
        layout
    }

    pub(super) fn bottom(&self) -> f64 {
        self.top + TAIL + 12.0
    }

    pub(super) fn tail(&self) -> f64 {
        self.top + TAIL
    }

    pub(super) fn bulkhead(&self) -> f64 {
        self.top + BULKHEAD
    }

    /// Whether the rear run keeps to the left, so that the lever has room on the right.
    pub(super) fn leans(&self) -> bool {
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
        at(self.middle + side(wheel) * self.half, self.top + y)
    }

    /// Apart from the middle: where two rear runs go side by side.
    fn abreast(&self) -> f64 {
        if self.narrow { 17.0 } else { 26.0 }
    }

    /// Columns of the rear runs: one, or left and right. They give way where a lever has a line of its own.
    fn spine(&self) -> f64 {
        if self.leans { -self.abreast() } else { 0.0 }
    }

    fn left_run(&self) -> f64 {
        if self.leans {
            -1.1 * self.abreast()
        } else {
            -self.abreast()
        }
    }

    fn right_run(&self) -> f64 {
        if self.leans {
            -0.1 * self.abreast()
        } else {
            self.abreast()
        }
    }

    fn lever_column(&self) -> f64 {
        if self.diagonal {
            1.1 * self.abreast()
        } else if self.narrow {
            14.0
        } else {
            30.0
        }
    }

    fn column(&self, name: &str) -> f64 {
        if name.ends_with("_left") {
            self.left_run()
        } else if name.ends_with("_right") {
            self.right_run()
        } else {
            self.spine()
        }
    }

    fn rear_brake(&self) -> f64 {
        if self.leans {
            REAR_AXLE - BESIDE_AXLE
        } else {
            REAR_AXLE
        }
    }

    fn centre(&self, circuit: &Circuit, index: usize, component: &Component) -> Point {
        let here = |x: f64, y: f64| at(self.middle + x, self.top + y);
        let beside = |part: fn(&Piece) -> bool| beside(circuit, index, part);
        match component.part {
            Piece::Master => here(0.0, MASTER),
            Piece::Brake(wheel) | Piece::LeverBrake(wheel) => {
                let lever = matches!(component.part, Piece::LeverBrake(_));
                here(side(wheel) * (self.half - 23.0), self.brake_y(wheel, lever))
            }
            Piece::Bracket => {
                let brake = neighbours(circuit, index).find_map(|other| match other.part {
                    Piece::Brake(wheel) => Some((wheel, false)),
                    Piece::LeverBrake(wheel) => Some((wheel, true)),
                    _ => None,
                });
                let (wheel, lever) = brake.unwrap_or((Wheel::RearLeft, false));
                let inward = if self.narrow { 40.0 } else { 62.0 };
                here(side(wheel) * (self.half - inward), self.brake_y(wheel, lever))
            }
            Piece::LeverCylinder => here(0.0, LEVER),
            Piece::LeverMaster => here(self.lever_column(), LEVER),
            Piece::Tee if beside(|part| *part == Piece::LeverMaster) => {
                here(self.lever_column(), REAR_AXLE + BESIDE_AXLE)
            }
            Piece::Tee if component.ports.contains(&"out") => here(0.0, INLET_TEE),
            Piece::Tee => here(self.spine(), self.rear_brake()),
            // A valve that the lever feeds stands behind it: its inlet hangs on the lever.
            Piece::BiasValve if fed_by_lever(circuit, index) => {
                here(self.column(component.name), AFTER_LEVER)
            }
            Piece::Union if !beside(|part| *part == Piece::Master) => {
                here(self.column(component.name), AFTER_LEVER)
            }
            Piece::BiasValve | Piece::Union => here(self.column(component.name), BULKHEAD),
        }
    }

    fn brake_y(&self, wheel: Wheel, lever: bool) -> f64 {
        match (wheel, lever) {
            (Wheel::FrontLeft | Wheel::FrontRight, _) => FRONT_AXLE,
            (_, true) => REAR_AXLE + BESIDE_AXLE,
            (_, false) => self.rear_brake(),
        }
    }

    fn half_size(&self, seen: &FromAbove, component: &Component) -> (f64, f64) {
        match component.part {
            Piece::Master => (self.abreast() + 8.0, 11.0),
            Piece::Union => (5.0, 5.0),
            Piece::Tee => (4.5, 4.5),
            Piece::Bracket => (3.5, 6.5),
            Piece::BiasValve => (9.0, 9.0),
            Piece::LeverCylinder if component.ports.len() > 2 => (self.abreast() + 8.0, 19.0),
            Piece::LeverCylinder => (9.0, 19.0),
            Piece::LeverMaster if component.ports.len() > 1 => (11.0, 19.0),
            Piece::LeverMaster => (9.0, 19.0),
            Piece::Brake(wheel) => {
                let drum = seen.drums[usize::from(matches!(wheel, Wheel::RearLeft | Wheel::RearRight))];
                if drum { (9.0, 9.0) } else { (6.5, 13.0) }
            }
            Piece::LeverBrake(_) => (6.5, 11.0),
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
        let abreast = self.abreast();
        let top = |x: f64| (at(self.middle + x, spot.top), Leaves::Along);
        let bottom = |x: f64| (at(self.middle + x, spot.bottom), Leaves::Along);
        let outer = |right: bool| {
            (
                at(if right { spot.right } else { spot.left }, centre.y),
                Leaves::Across,
            )
        };
        let on_right = centre.x > self.middle;
        match (component.part, name) {
            (Piece::Master, "front_left") => top(-abreast),
            (Piece::Master, "front_right") => top(abreast),
            (Piece::Master, "rear_left") => bottom(self.left_run()),
            (Piece::Master, "rear_right") => bottom(self.right_run()),
            (Piece::Master, _) => bottom(self.spine()),
            (Piece::Brake(_) | Piece::LeverBrake(_), _) | (Piece::Bracket, "pipe") => outer(!on_right),
            (Piece::Bracket, _) => outer(on_right),
            (Piece::LeverCylinder, "in_left") => top(-abreast),
            (Piece::LeverCylinder, "in_right") => top(abreast),
            (Piece::LeverCylinder, "out_left") => bottom(-abreast),
            (Piece::LeverCylinder, "out_right") => bottom(abreast),
            (Piece::LeverMaster, "out_left") => (at(centre.x - 6.0, spot.bottom), Leaves::Along),
            (Piece::LeverMaster, "out_right") => (at(centre.x + 6.0, spot.bottom), Leaves::Along),
            (Piece::Tee, "left") => outer(false),
            (Piece::Tee, "right") => outer(true),
            (_, "in") => (at(centre.x, spot.top), Leaves::Along),
            _ => (at(centre.x, spot.bottom), Leaves::Along),
        }
    }

    /// The way of a run.
    pub(super) fn route(&self, circuit: &Circuit, from: Port, to: Port) -> Vec<Point> {
        let ((start, leaves), (end, arrives)) = (self.leaves(circuit, from), self.leaves(circuit, to));
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

    /// A cable lever's place.
    pub(super) fn cable_lever(&self) -> Rect {
        let centre = at(self.middle + self.lever_column(), self.top + LEVER);
        Rect::new(centre.x - 6.0, centre.y - 14.0, centre.x + 6.0, centre.y + 14.0)
    }

    /// Where the cable starts, and its two ends.
    pub(super) fn cable(&self) -> (CableStart, [Point; 2]) {
        let lever = self.cable_lever();
        let y = self.top + REAR_AXLE + BESIDE_AXLE;
        let start = CableStart {
            x: f64::midpoint(lever.left, lever.right),
            bottom: lever.bottom,
        };
        (
            start,
            [-1.0, 1.0].map(|side| at(self.middle + side * (self.half - 16.0), y)),
        )
    }

    /// Where the grip of a lever is, whose cylinder stands there.
    pub(super) fn grip(&self, cylinder: &Rect) -> Point {
        let reach = if self.narrow { 16.0 } else { 26.0 };
        at(
            cylinder.right + reach,
            f64::midpoint(cylinder.top, cylinder.bottom) - reach * 0.45,
        )
    }

    /// A cylinder with its lever's handle.
    pub(super) fn with_handle(&self, cylinder: &Rect) -> Rect {
        let grip = self.grip(cylinder);
        Rect {
            right: grip.x + 7.0,
            top: cylinder.top.min(grip.y - 7.0),
            ..*cylinder
        }
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

fn beside(circuit: &Circuit, index: usize, part: fn(&Piece) -> bool) -> bool {
    neighbours(circuit, index).any(|other| part(&other.part))
}

/// Whether a component's inlet hangs on a lever's cylinder.
fn fed_by_lever(circuit: &Circuit, index: usize) -> bool {
    let is_lever = |port: Port| {
        circuit
            .components
            .get(port.component)
            .is_some_and(|other| other.part == Piece::LeverCylinder)
    };
    circuit.runs.iter().any(|run| {
        let inlet = Port {
            component: index,
            port: 0,
        };
        (run.to == inlet && is_lever(run.from)) || (run.from == inlet && is_lever(run.to))
    })
}

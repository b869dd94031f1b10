//! What a given foot and a given hand do at every wheel: pressures, torques, volumes, travel.

use std::sync::Arc;

use quantity::si::{Force, Length, Pressure, Torque, Volume};

use crate::brake::{TorqueLaw, Warmth};
use crate::car::circuit::Circuit;
use crate::car::{Axle, Brake, Cable, Car, LeverCylinder, LeverKind, Tyres, Wheel};
use crate::equations;
use crate::foot::FootLaw;
use crate::loads::Laden;
use crate::network::{Acting, Network, NodePressures, Taken, torque_laws};
use crate::solve::{Passes, passes, root, settles};

/// A car's hydraulics, prepared for solving.
#[derive(Clone, Debug)]
pub struct Hydraulics {
    /// The prepared circuit.
    pub network: Arc<Network>,
    /// Pedal and master.
    pub foot: FootLaw,
    /// Torque over pressure of the four wheels.
    pub wheels: [TorqueLaw; 4],
    /// Torque over pressure of a separate lever's calipers.
    pub lever_brake: Option<TorqueLaw>,
    lever: Option<PreparedLever>,
    valve: Option<crate::car::BiasValve>,
    fixed_knee: Pressure,
    tyres: Tyres,
}

#[derive(Clone, Copy, Debug)]
enum PreparedLever {
    Cylinder {
        cylinder: LeverCylinder,
        free_play: Length,
        room: Length,
    },
    Cable {
        cable: Cable,
        torque_per_force_m: f64,
    },
}

/// Foot and hand.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Forces {
    /// Force of the foot on the pedal.
    pub foot: Force,
    /// Force of the hand on the grip; zero: the lever is at rest.
    pub hand: Force,
}

/// One wheel's answer.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WheelAnswer {
    /// Pressure at its brake; of the foot's circuit where a separate lever has calipers of its own.
    pub pressure: Pressure,
    /// Pressure at a separate lever's caliper.
    pub lever_pressure: Option<Pressure>,
    /// Torque of all its brakes.
    pub torque: Torque,
    /// What the torque asks of the ground, before grip limits it: `T/R`.
    pub ground_force: Force,
}

/// Pedal side of an answer.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PedalAnswer {
    /// Force on the master's push rod, behind the booster.
    pub push_rod: Force,
    /// Pressures of the chambers: first and second; equal in a tandem that does not run out.
    pub chambers: [Pressure; 2],
    /// At the foot pad.
    pub travel: Length,
    /// Whether the stroke is used up before the force is; the pressures are then those that it does reach.
    pub runs_out: bool,
    /// What takes the fluid.
    pub taken: Taken,
}

/// What ended a lever's travel before its force did.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum TravelEnd {
    /// The cylinder's stroke.
    Stroke,
    /// The room in the cabin.
    Room,
}

/// Lever side of an answer.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LeverSide {
    /// Pressure that the hand alone makes in the cylinder; `None` with a cable.
    pub own: Option<Pressure>,
    /// At the grip; `None` with a cable.
    pub travel: Option<Length>,
    /// What ran out before the force did; the pressures are then those that it does reach.
    pub runs_out: Option<TravelEnd>,
    /// What takes the fluid that the lever moves.
    pub taken: Taken,
}

/// What it takes to make a pressure with the lever.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Effort {
    /// Force of the hand.
    pub hand: Force,
    /// Stroke of the cylinder.
    pub stroke: Length,
    /// Travel of the grip.
    pub travel: Length,
    /// Whether stroke and room are enough.
    pub fits: bool,
}

/// What [`Forces`] do.
#[derive(Clone, Debug, PartialEq)]
pub struct Response {
    /// Pressure at every node of the network.
    pub nodes: NodePressures,
    /// The pedal's side.
    pub pedal: PedalAnswer,
    /// The lever's side; `None` on a car without one.
    pub lever: Option<LeverSide>,
    /// The four wheels.
    pub wheels: [WheelAnswer; 4],
    /// Sum of what is asked of the ground over weight, before grip limits it.
    pub braking_rate: f64,
    /// The front wheels' share of what is asked of the ground; `None` where nothing is.
    pub front_share: Option<f64>,
    /// Knee of the bias valve at this rear axle load.
    pub knee: Option<Pressure>,
}

impl Hydraulics {
    /// Prepares a car.
    #[must_use]
    pub fn of(car: &Car, warmth: Warmth) -> Self {
        Self::with_network(car, warmth, Arc::new(Network::of(car)))
    }

    /// The same car's hydraulics at another warmth of its brakes: the circuit is the same.
    #[must_use]
    pub fn at_warmth(&self, car: &Car, warmth: Warmth) -> Self {
        Self::with_network(car, warmth, Arc::clone(&self.network))
    }

    /// Prepares a car with another circuit than its own (a run missing, a layout to compare with).
    #[must_use]
    pub fn of_circuit(car: &Car, warmth: Warmth, circuit: &Circuit) -> Self {
        Self::with_network(car, warmth, Arc::new(Network::of_circuit(car, circuit)))
    }

    fn with_network(car: &Car, warmth: Warmth, network: Arc<Network>) -> Self {
        let lever = car.lever.as_ref().map(|lever| match &lever.kind {
            LeverKind::Inline(cylinder) | LeverKind::Separate(cylinder, _) => PreparedLever::Cylinder {
                cylinder: *cylinder,
                free_play: lever.free_play,
                room: lever.room,
            },
            LeverKind::Cable(cable) => PreparedLever::Cable {
                cable: *cable,
                torque_per_force_m: torque_per_pad_force_m(&car.rear_brake, warmth),
            },
        });
        let lever_brake = car.lever.as_ref().and_then(|lever| match &lever.kind {
            LeverKind::Separate(_, brake) => Some(TorqueLaw::of_disc(brake, warmth)),
            _ => None,
        });
        Self {
            network,
            foot: FootLaw::of(car),
            wheels: torque_laws(car, warmth),
            lever_brake,
            lever,
            fixed_knee: car
                .bias_valve
                .as_ref()
                .map_or(Pressure::ZERO, |valve| valve.knee_at(Force::ZERO)),
            valve: car.bias_valve.clone(),
            tyres: car.tyres,
        }
    }

    /// Rolling radius of an axle's tyres.
    #[must_use]
    pub const fn radius(&self, axle: Axle) -> Length {
        match axle {
            Axle::Front => self.tyres.front_radius,
            Axle::Rear => self.tyres.rear_radius,
        }
    }

    /// Whether the valve's knee hangs on the rear axle's load.
    #[must_use]
    pub fn senses_load(&self) -> bool {
        self.valve
            .as_ref()
            .is_some_and(crate::car::BiasValve::senses_load)
    }

    /// Knee of the bias valve at a rear axle load; `None` without a valve.
    #[must_use]
    pub fn knee(&self, rear_load: Force) -> Option<Pressure> {
        self.valve.as_ref().map(|valve| {
            if valve.senses_load() {
                valve.knee_at(rear_load)
            } else {
                self.fixed_knee
            }
        })
    }

    /// Slope of the bias valve above its knee; `None` without a valve.
    #[must_use]
    pub fn slope(&self) -> Option<f64> {
        self.valve.as_ref().map(|valve| valve.slope)
    }

    /// The same hydraulics with the knee somewhere else.
    #[must_use]
    pub fn with_knee(&self, knee: Pressure) -> Self {
        let mut other = self.clone();
        if let Some(valve) = &mut other.valve {
            valve.knee = crate::car::Knee::Fixed(knee);
        }
        other.fixed_knee = knee;
        other
    }

    /// What foot and hand do, with all of the car's weight behind it. A load-sensing valve's knee is found at the rear
    /// axle's load under the very braking that it lets through.
    #[must_use]
    pub fn answer(&self, laden: &Laden, forces: Forces) -> Response {
        let acting = (self.foot.push_rod(forces.foot), forces.hand);
        self.answer_to(laden, acting)
    }

    /// What a force on the master's push rod does by itself. Within a booster's leap no foot makes it for long.
    #[must_use]
    pub fn answer_to_push_rod(&self, laden: &Laden, push_rod: Force) -> Response {
        self.answer_to(laden, (push_rod, Force::ZERO))
    }

    fn answer_to(&self, laden: &Laden, asked: (Force, Force)) -> Response {
        if !self.senses_load() {
            return self.answer_at_knee(laden, asked, self.knee(Force::ZERO));
        }
        let knee_at = |rate: f64| self.knee(laden.axle_loads(rate).rear);
        // More braking lightens the rear, lowers the knee and brakes less: one crossing, far below the upper end, which
        // no car reaches.
        let rate = settles(100.0, |rate| {
            self.answer_at_knee(laden, asked, knee_at(rate)).braking_rate
        });
        let inlet = self.foot.pressures(asked.0)[1];
        let lawful = knee_at(rate).map(|knee| self.held_knee(laden, inlet, knee));
        self.answer_at_knee(laden, asked, lawful)
    }

    /// The knee that a load-sensing valve acts with, given that by its law at this braking: while the foot rises nothing
    /// flows back, so the outlet is the greatest that the law gave at any foot up to this one. Before the knee the
    /// outlet is the inlet; behind it it falls where the rear lightens faster than the inlet rises.
    #[must_use]
    pub fn held_knee(&self, laden: &Laden, inlet: Pressure, lawful: Pressure) -> Pressure {
        let slope = self.slope().unwrap_or(1.0);
        if inlet <= lawful || slope >= 1.0 {
            return lawful;
        }
        // Where the rising inlet meets the knee, the car braking as without a valve.
        let unreduced = Pressure::from_pa(1e12);
        let over_knee = |push_rod_n: f64| {
            let push_rod = Force::from_n(push_rod_n);
            let answer = self.answer_at_knee(laden, (push_rod, Force::ZERO), Some(unreduced));
            let knee = self
                .knee(laden.axle_loads(answer.braking_rate).rear)
                .unwrap_or(unreduced);
            self.foot.pressures(push_rod)[1].pa() - knee.pa()
        };
        let here_n = self.foot.push_rod_for(1, inlet).n();
        let Some(met) = root(0.0, here_n, over_knee) else {
            return lawful;
        };
        let met = self.foot.pressures(Force::from_n(met))[1];
        // The outlet there, as a knee for the inlet of now.
        let holding = Pressure::from_pa(equations::knee(met.pa(), inlet.pa(), slope));
        lawful.max(holding)
    }

    /// Whether the valve holds more than its law would give at this foot: nothing flows back.
    #[must_use]
    pub fn holds(&self, laden: &Laden, answer: &Response) -> bool {
        let lawful = self.knee(laden.axle_loads(answer.braking_rate).rear);
        self.senses_load()
            && matches!((answer.knee, lawful), (Some(acts), Some(lawful)) if acts.pa() > lawful.pa() + 1.0)
    }

    fn answer_at_knee(
        &self,
        laden: &Laden,
        (push_rod, hand): (Force, Force),
        knee: Option<Pressure>,
    ) -> Response {
        let valve_knee = knee.unwrap_or(Pressure::ZERO);
        let (pedal, rest) = self.pedal(push_rod, valve_knee);
        let (lever, nodes) = match self.lever {
            Some(prepared) if hand > Force::ZERO => {
                let (lever, nodes) = self.pull(prepared, hand, pedal.chambers, valve_knee, &rest);
                (Some(lever), nodes)
            }
            Some(PreparedLever::Cylinder { .. }) => {
                let at_rest = LeverSide {
                    own: Some(Pressure::ZERO),
                    travel: Some(Length::ZERO),
                    runs_out: None,
                    taken: Taken::default(),
                };
                (Some(at_rest), rest)
            }
            Some(PreparedLever::Cable { .. }) => (
                Some(LeverSide {
                    own: None,
                    travel: None,
                    runs_out: None,
                    taken: Taken::default(),
                }),
                rest,
            ),
            None => (None, rest),
        };
        let wheels = Wheel::ALL.map(|wheel| self.wheel(wheel, &nodes, hand));
        let sum = |axle: Axle| -> f64 {
            Wheel::ALL
                .into_iter()
                .filter(|wheel| wheel.axle() == axle)
                .map(|wheel| wheels[wheel.index()].ground_force.n())
                .sum()
        };
        let (front_n, rear_n) = (sum(Axle::Front), sum(Axle::Rear));
        let all_n = front_n + rear_n;
        Response {
            nodes,
            pedal,
            lever,
            wheels,
            braking_rate: equations::braking_rate(front_n, rear_n, laden.weight_n()),
            front_share: (all_n > 0.0).then(|| front_n / all_n),
            knee,
        }
    }

    fn wheel(&self, wheel: Wheel, nodes: &NodePressures, hand: Force) -> WheelAnswer {
        let pressure = self.network.at_wheel(nodes, wheel);
        let mut torque = self.wheels[wheel.index()].torque(pressure);
        let lever_pressure = self.network.at_lever_brake(nodes, wheel);
        if let (Some(law), Some(pressure)) = (self.lever_brake, lever_pressure) {
            torque = torque + law.torque(pressure);
        }
        if let (
            Some(PreparedLever::Cable {
                cable,
                torque_per_force_m,
            }),
            Axle::Rear,
        ) = (self.lever, wheel.axle())
        {
            torque = torque + cable_torque(cable, torque_per_force_m, hand);
        }
        let ground_force = Force::from_n(equations::over(torque.nm(), self.radius(wheel.axle()).m()));
        WheelAnswer {
            pressure,
            lever_pressure,
            torque,
            ground_force,
        }
    }

    /// The pedal alone, the lever at rest.
    fn pedal(&self, push_rod: Force, knee: Pressure) -> (PedalAnswer, NodePressures) {
        let mut chambers = self.foot.pressures(push_rod);
        let nodes_at = |chambers: [Pressure; 2]| {
            self.network.pressures(&Acting {
                first: chambers[0],
                second: chambers[1],
                own: None,
                knee,
            })
        };
        let mut nodes = nodes_at(chambers);
        let mut taken = self.network.taken_by_chambers(&nodes);
        let mut runs_out = false;
        if self.foot.is_twin() {
            for chamber in 0..2 {
                let there_is = self.foot.volume_of_stroke(chamber);
                if taken[chamber] > there_is {
                    runs_out = true;
                    chambers[chamber] = taking(there_is, chambers[chamber], |pressure| {
                        let mut trial = chambers;
                        trial[chamber] = pressure;
                        self.network.taken_by_chambers(&nodes_at(trial))[chamber]
                    });
                }
            }
        } else {
            let there_is = self.foot.volume_of_stroke(0);
            if self.filled(&nodes) > there_is {
                runs_out = true;
                chambers = [taking(there_is, chambers[0], |pressure| {
                    self.filled(&nodes_at([pressure; 2]))
                }); 2];
            }
        }
        if runs_out {
            nodes = nodes_at(chambers);
            taken = self.network.taken_by_chambers(&nodes);
        }
        let travel = if self.foot.is_twin() {
            self.foot.travel(taken)
        } else {
            self.foot.travel([self.filled(&nodes), Volume::ZERO])
        };
        let shares = self.network.shares_of_pedal(&nodes);
        (
            PedalAnswer {
                push_rod,
                chambers,
                travel,
                runs_out,
                taken: shares,
            },
            nodes,
        )
    }

    /// Volume that both chambers have filled; what they share counts once.
    fn filled(&self, nodes: &NodePressures) -> Volume {
        self.network.shares_of_pedal(nodes).total()
    }

    fn pull(
        &self,
        prepared: PreparedLever,
        hand: Force,
        chambers: [Pressure; 2],
        knee: Pressure,
        rest: &NodePressures,
    ) -> (LeverSide, NodePressures) {
        let PreparedLever::Cylinder {
            cylinder,
            free_play,
            room,
        } = prepared
        else {
            return (
                LeverSide {
                    own: None,
                    travel: None,
                    runs_out: None,
                    taken: Taken::default(),
                },
                *rest,
            );
        };
        let before = self.network.shares_behind_lever(rest);
        let pulled = |own_pa: f64| {
            let acting = Acting {
                first: chambers[0],
                second: chambers[1],
                own: Some(Pressure::from_pa(own_pa)),
                knee,
            };
            self.network.pressures(&acting)
        };
        let moved = |nodes: &NodePressures| {
            (self.network.taken_behind_lever(nodes) - before.total()).max(Volume::ZERO)
        };
        let mut own_pa = equations::pressure_of_hand(hand.n(), cylinder.pressure_per_hand_pa_n());
        let (usable, limit) = usable_stroke(&cylinder, free_play, room);
        let there_is = Volume::from_m3(
            (usable - taken_up_free_stroke(&cylinder)).max(Length::ZERO).m() * cylinder.pressed_area_m2(),
        );
        let mut nodes = pulled(own_pa);
        let mut runs_out = None;
        if taken_up_free_stroke(&cylinder) > usable {
            // It ends before the by-pass is covered: no pressure at all.
            runs_out = Some(limit);
            own_pa = 0.0;
            nodes = pulled(own_pa);
        } else if moved(&nodes) > there_is {
            runs_out = Some(limit);
            own_pa = taking(there_is, Pressure::from_pa(own_pa), |own| {
                moved(&pulled(own.pa()))
            })
            .pa();
            nodes = pulled(own_pa);
        }
        let stroke = stroke_for(&cylinder, moved(&nodes));
        let stroke = if runs_out.is_some() { usable } else { stroke };
        let answer = LeverSide {
            own: Some(Pressure::from_pa(own_pa)),
            travel: Some(grip_travel(&cylinder, stroke, free_play)),
            runs_out,
            taken: self.network.shares_behind_lever(&nodes) - before,
        };
        (answer, nodes)
    }

    /// What it takes to make a pressure in the lever's cylinder with no foot on the pedal, whatever hand, stroke and
    /// room there are; `None` with a cable or without a lever. A load-sensing valve behind the lever is taken at the knee
    /// of an unloaded rear axle unless [`with_knee`](Self::with_knee) has set another.
    #[must_use]
    pub fn effort(&self, own: Pressure) -> Option<Effort> {
        self.effort_with(self.lever_cylinder()?, own, self.taken_at(own))
    }

    /// Fluid that the circuit behind the lever takes at a pressure in its cylinder, with no foot on the pedal: whatever
    /// the cylinder's bore.
    #[must_use]
    pub fn taken_at(&self, own: Pressure) -> Volume {
        let acting = Acting {
            first: Pressure::ZERO,
            second: Pressure::ZERO,
            own: Some(own),
            knee: self.fixed_knee,
        };
        self.network.taken_behind_lever(&self.network.pressures(&acting))
    }

    /// The same as [`effort`](Self::effort) with another cylinder at this lever, which has to move so much fluid.
    #[must_use]
    pub fn effort_with(&self, cylinder: &LeverCylinder, own: Pressure, taken: Volume) -> Option<Effort> {
        let Some(PreparedLever::Cylinder { free_play, room, .. }) = self.lever else {
            return None;
        };
        let stroke = stroke_for(cylinder, taken);
        Some(Effort {
            hand: Force::from_n(equations::hand_for_pressure(
                own.pa(),
                cylinder.pressure_per_hand_pa_n(),
            )),
            stroke,
            travel: grip_travel(cylinder, stroke, free_play),
            fits: stroke <= usable_stroke(cylinder, free_play, room).0,
        })
    }

    /// Torque that a cable's lever makes at each rear wheel; `None` where a cylinder does the work.
    #[must_use]
    pub fn cable_torque(&self, hand: Force) -> Option<Torque> {
        match self.lever? {
            PreparedLever::Cable {
                cable,
                torque_per_force_m,
            } => Some(cable_torque(cable, torque_per_force_m, hand)),
            PreparedLever::Cylinder { .. } => None,
        }
    }

    /// The lever's cylinder, unless a cable does the work.
    #[must_use]
    pub const fn lever_cylinder(&self) -> Option<&LeverCylinder> {
        match &self.lever {
            Some(PreparedLever::Cylinder { cylinder, .. }) => Some(cylinder),
            _ => None,
        }
    }
}

/// Pressure from nothing to `most` at which a rising volume is all that there is.
fn taking(there_is: Volume, most: Pressure, taken: impl Fn(Pressure) -> Volume) -> Pressure {
    let over = |pressure_pa: f64| taken(Pressure::from_pa(pressure_pa)).m3() - there_is.m3();
    match passes(0.0, most.pa(), 0.0, over) {
        Passes::Before => Pressure::ZERO,
        Passes::At(pressure_pa) => Pressure::from_pa(pressure_pa),
        Passes::Beyond => most,
    }
}

/// Free strokes that a pull has to take up: two where two pistons stand one behind the other.
fn taken_up_free_stroke(cylinder: &LeverCylinder) -> Length {
    Length::from_m(equations::free_strokes(
        cylinder.free_stroke.m(),
        cylinder.pistons_in_line(),
    ))
}

/// Stroke of a lever's cylinder that moves a volume.
fn stroke_for(cylinder: &LeverCylinder, volume: Volume) -> Length {
    let free_m = taken_up_free_stroke(cylinder).m();
    Length::from_m(equations::stroke(volume.m3(), cylinder.pressed_area_m2(), free_m))
}

/// Travel of the grip for a stroke.
fn grip_travel(cylinder: &LeverCylinder, stroke: Length, free_play: Length) -> Length {
    Length::from_m(equations::grip_travel(stroke.m(), cylinder.ratio, free_play.m()))
}

/// Stroke that cylinder and room allow, and which of them is the less.
fn usable_stroke(cylinder: &LeverCylinder, free_play: Length, room: Length) -> (Length, TravelEnd) {
    let of_room = (room - free_play).max(Length::ZERO) / cylinder.ratio;
    if of_room < cylinder.stroke {
        (of_room, TravelEnd::Room)
    } else {
        (cylinder.stroke, TravelEnd::Stroke)
    }
}

/// Torque at one wheel of a cable's force, halved over the wheels: disc `2 μ F rₑ`, drum `C* F r`.
pub(crate) fn cable_torque(cable: Cable, torque_per_force_m: f64, hand: Force) -> Torque {
    Torque::from_nm(equations::cable_torque(
        hand.n(),
        cable.ratio,
        cable.efficiency,
        torque_per_force_m,
    ))
}

pub(crate) fn torque_per_pad_force_m(brake: &Brake, warmth: Warmth) -> f64 {
    match (brake, warmth) {
        (Brake::Disc(disc), Warmth::Warm) => {
            equations::disc_per_force(disc.friction.warm, disc.effective_radius.m())
        }
        (Brake::Disc(disc), Warmth::Cold) => {
            equations::disc_per_force(disc.friction.cold, disc.effective_radius.m())
        }
        (Brake::Drum(drum), Warmth::Warm) => equations::drum_per_force(drum.factor, drum.drum_radius.m()),
        (Brake::Drum(drum), Warmth::Cold) => {
            equations::drum_per_force(drum.cold_factor, drum.drum_radius.m())
        }
    }
}

//! Workings of what the hand has to do and can do.

use quantity::si::{Force, Pressure, Torque};

use super::brakes::WorkedBrake;
use super::{Arithmetic, Expr, Symbol};
use crate::ATMOSPHERE_PA;
use crate::car::{Axle, Brake, Lever, LeverCylinder, LeverKind, ValvePlace, circle};
use crate::drivetrain::{CouplingReading, TurnsAt};
use crate::equations::{self, Num};
use crate::fluid::{REFERENCE_TEMPERATURE, bulk_modulus_pa};
use crate::hydraulics::{Forces, TravelEnd};
use crate::lever::ToLock;
use crate::network::Acting;

const REAR_LOCKED: &str = "equilibrium of the car with its rear axle locked";

impl Arithmetic<'_> {
    fn to_lock(&self) -> Option<ToLock> {
        self.asked.lever.as_ref().map(|answer| answer.to_lock)
    }

    fn lever(&self) -> Option<&Lever> {
        self.asked.car.lever.as_ref()
    }

    fn cylinder(&self) -> Option<LeverCylinder> {
        self.lever()?.cylinder().copied()
    }

    /// Torque that the centre coupling could carry, at the wheels; `None` where it is locked.
    fn coupling(&mut self, to_lock: &ToLock) -> Option<Symbol> {
        let carried = to_lock.drag? * self.front_can_give(to_lock);
        let result = Symbol::computed(
            "T_c",
            "what the centre coupling could carry, at the wheels",
            carried,
            "N m",
        );
        let Some(CouplingReading { turns, turns_at, .. }) = to_lock.reading else {
            return Some(self.line(result, Expr::from(0.0), "nothing ties the axles", ""));
        };
        let turns_symbol = Symbol::of_key(
            "n",
            "turns of the coupling a wheel turn",
            turns,
            "",
            match turns_at {
                TurnsAt::Propshaft => "drivetrain.final_drive",
                TurnsAt::FrontOutput | TurnsAt::RearOutput => "drivetrain.front_share",
                TurnsAt::Given | TurnsAt::Wheels => "drivetrain.centre.turns_per_wheel_turn",
            },
        );
        let at_coupling = Symbol::of_key(
            "T_coupling",
            "torque of the coupling at its speed difference",
            carried / turns,
            "N m",
            "drivetrain.centre.torque_at",
        );
        Some(self.line(
            result,
            equations::at_the_wheels(Expr::from(turns_symbol), at_coupling.into()),
            "the coupling's curve (or preload) where it turns",
            "the curve is read at n v/R, straight between its points",
        ))
    }

    fn front_can_give(&self, to_lock: &ToLock) -> f64 {
        let load = self.asked.laden.axle_loads(to_lock.rate).front.n();
        equations::grip_torque(
            self.asked.grip,
            load,
            self.asked.hydraulics.radius(Axle::Front).m(),
        )
    }

    /// Deceleration with the rear axle locked.
    fn rate_locked(&mut self, to_lock: &ToLock) -> Option<Symbol> {
        let result = Symbol::computed(
            "z",
            self.rate_is(
                "deceleration over g with the rear axle locked",
                "braking force over weight with the rear axle locked",
            ),
            to_lock.rate,
            "",
        );
        let coupling = self.coupling(to_lock);
        let dragged = self
            .asked
            .lever
            .as_ref()
            .is_some_and(|answer| answer.front_dragged);
        let grip = self.grip();
        let (Some(coupling), false) = (coupling, dragged) else {
            return Some(self.line(
                result,
                equations::ground_gives(Expr::from(grip), self.presses()),
                REAR_LOCKED,
                "the coupling drags the front wheels to a stop too",
            ));
        };
        let (aft, height, wheelbase) = (self.cg_aft(), self.cg_height()?, self.wheelbase());
        let weight = self.weight();
        let radius = self.radius(Axle::Front);
        let formula = equations::rate_rear_locked(
            Expr::from(grip),
            [aft.into(), height.into()],
            wheelbase.into(),
            self.presses(),
            equations::over(Expr::from(coupling), radius.into()),
            weight,
        );
        Some(self.line(
            result,
            formula,
            REAR_LOCKED,
            "straight ahead, the coupling pulls the front wheels back",
        ))
    }

    pub(super) fn torque_needed(&mut self) -> Option<Symbol> {
        let to_lock = self.to_lock()?;
        let rate = self.rate_locked(&to_lock)?;
        let rear = self.axle_load(Axle::Rear, &rate);
        let front = self.axle_load(Axle::Front, &rate);
        let grip = self.grip();
        let give = Symbol::computed(
            "T_front",
            "what the front wheels can give",
            self.front_can_give(&to_lock),
            "N m",
        );
        let radius = self.radius(Axle::Front);
        let give = self.line(
            give,
            equations::grip_torque(Expr::from(&grip), front.into(), radius.into()),
            "Coulomb friction: grip times load",
            "",
        );
        let carried = Symbol::computed(
            "T_back",
            "what the coupling carries back",
            to_lock.of_which_coupling.nm(),
            "N m",
        );
        let formula = match self.known("T_c") {
            Some(coupling) => Expr::from(coupling).least(give.into()),
            None => Expr::from(give),
        };
        let carried = self.line(
            carried,
            formula,
            "the coupling, or the front wheels' grip if it is less",
            "",
        );
        let radius = self.radius(Axle::Rear);
        Some(self.line(
            Symbol::computed(
                "T_need",
                "torque that stops the rear axle",
                to_lock.torque_needed.nm(),
                "N m",
            ),
            equations::torque_to_stop(
                equations::grip_torque(Expr::from(grip), rear.into(), radius.into()),
                carried.into(),
            ),
            REAR_LOCKED,
            "both rear wheels together",
        ))
    }

    pub(super) fn drag(&mut self) -> Option<Symbol> {
        let to_lock = self.to_lock()?;
        let drag = to_lock.drag?;
        self.torque_needed()?;
        let (coupling, give) = (self.known("T_c")?, self.known("T_front")?);
        Some(self.line(
            Symbol::computed(
                "d",
                "what the coupling could carry over what the front wheels can give",
                drag,
                "",
            ),
            equations::over(Expr::from(coupling), give.into()),
            "definition; graded by simulation",
            "below 0.4 the car turns, above 0.65 the turn is spoilt",
        ))
    }

    /// Which brake the lever works.
    fn place(&self) -> Option<WorkedBrake> {
        let second = matches!(self.lever()?.kind, LeverKind::Separate(..));
        Some(WorkedBrake {
            axle: Axle::Rear,
            second,
        })
    }

    pub(super) fn lever_pressure(&mut self) -> Option<Symbol> {
        let to_lock = self.to_lock()?;
        let pressure = to_lock.pressure?;
        let needed = self.torque_needed()?;
        let place = self.place()?;
        let [gain, threshold] = self.gain(place)?;
        Some(self.line(
            Symbol::computed("p", "pressure at the brakes", pressure.pa(), "Pa"),
            equations::pressure_for_torque(
                threshold.into(),
                equations::each_wheel(needed.into()),
                gain.into(),
            ),
            "torque law, read backwards, two wheels",
            "",
        ))
    }

    /// Pressure in the lever's own cylinder.
    fn own_pressure(&mut self) -> Option<Symbol> {
        let own = self.to_lock()?.own?;
        let pressure = self.lever_pressure()?;
        let result = Symbol::computed("p_own", "pressure in the lever's cylinder", own.pa(), "Pa");
        let after = self
            .asked
            .car
            .bias_valve
            .as_ref()
            .is_some_and(|valve| valve.place == ValvePlace::AfterLever);
        let inline = matches!(self.lever()?.kind, LeverKind::Inline(_));
        if !(after && inline && own.pa() > pressure.value) {
            return Some(self.line(result, Expr::from(pressure), "no valve between", ""));
        }
        let knee = self.asked.hydraulics.knee(self.to_lock()?.rear_load)?;
        let knee = Symbol::knee(knee);
        let slope = Symbol::slope(self.asked.hydraulics.slope()?);
        Some(self.line(
            result,
            equations::before_knee(Expr::from(knee), slope.into(), pressure.into()),
            "bias valve behind the lever, read backwards",
            "",
        ))
    }

    /// Area that the push rod presses on.
    fn lever_area(&mut self) -> Option<Symbol> {
        let cylinder = self.cylinder()?;
        let bores = cylinder.bores_abreast();
        let bore = Symbol::of_key(
            "d_lever",
            "bore of the lever's cylinder",
            cylinder.bore.m(),
            "m",
            "lever.bore",
        );
        let quarter_pi = Symbol::computed(
            "pi/4",
            "a circle's area over its diameter squared",
            core::f64::consts::FRAC_PI_4,
            "",
        );
        let circle_of_bore = equations::circle(Expr::from(quarter_pi), bore.into());
        Some(self.line(
            Symbol::computed(
                "A_lever",
                "area that the lever's push rod presses on",
                cylinder.pressed_area_m2(),
                "m²",
            ),
            equations::pressed_area(bores.into(), circle_of_bore),
            "area of a circle",
            if bores > 1.0 { "two bores abreast" } else { "" },
        ))
    }

    pub(super) fn hand_force(&mut self) -> Option<Symbol> {
        let to_lock = self.to_lock()?;
        let hand = to_lock.hand?;
        let result = Symbol::computed(
            "F_hand",
            "force of the hand that stops the rear axle",
            hand.n(),
            "N",
        );
        if let LeverKind::Cable(_) = self.lever()?.kind {
            let needed = self.torque_needed()?;
            let per_hand = self.torque_per_hand()?;
            return Some(self.line(
                result,
                equations::over(equations::each_wheel(Expr::from(needed)), per_hand.into()),
                "cable and lever",
                "the cable's force is halved over the wheels",
            ));
        }
        let own = self.own_pressure()?;
        let area = self.lever_area()?;
        let cylinder = self.cylinder()?;
        let ratio = Symbol::lever_ratio(&cylinder);
        let efficiency = Symbol::lever_efficiency(&cylinder);
        Some(self.line(
            result,
            equations::hand_for_pressure(
                Expr::from(own),
                equations::pressure_per_hand(Expr::from(ratio), efficiency.into(), area.into()),
            ),
            "law of the lever; pressure is force over area",
            "no foot on the pedal",
        ))
    }

    /// Torque of a rear wheel per hand force of a cable.
    fn torque_per_hand(&mut self) -> Option<Symbol> {
        let LeverKind::Cable(cable) = self.lever()?.kind else {
            return None;
        };
        let ratio = Symbol::of_key("i_cable", "cable ratio", cable.ratio, "", "lever.cable.ratio");
        let efficiency = Symbol::of_key(
            "eta_cable",
            "efficiency of the cable",
            cable.efficiency,
            "",
            "lever.cable.efficiency",
        );
        let each = self
            .asked
            .hydraulics
            .cable_torque(Force::from_n(1.0))
            .map(Torque::nm)?;
        let warm = self.asked.warmth == crate::brake::Warmth::Warm;
        let per_force = match &self.asked.car.rear_brake {
            Brake::Disc(disc) => {
                let friction = if warm {
                    disc.friction.warm
                } else {
                    disc.friction.cold
                };
                let friction = Symbol::computed("mu_rear", "friction of the pads", friction, "");
                let radius = Symbol::computed("r_rear", "effective radius", disc.effective_radius.m(), "m");
                equations::disc_per_force(Expr::from(friction), radius.into())
            }
            Brake::Drum(drum) => {
                let factor = if warm { drum.factor } else { drum.cold_factor };
                let factor = Symbol::computed("C_shoes", "shoe factor", factor, "");
                let radius =
                    Symbol::computed("r_drum", "inside radius of the drum", drum.drum_radius.m(), "m");
                equations::drum_per_force(Expr::from(factor), radius.into())
            }
        };
        Some(self.line(
            Symbol::computed(
                "T_hand",
                "torque of a rear wheel per newton of hand",
                each,
                "N m/N",
            ),
            equations::cable_torque(Expr::from(1.0), ratio.into(), efficiency.into(), per_force),
            "cable and brake",
            "its force is halved over the wheels",
        ))
    }

    pub(super) fn travel(&mut self) -> Option<Symbol> {
        let to_lock = self.to_lock()?;
        let (travel, stroke) = (to_lock.travel?, to_lock.stroke?);
        let own = self.own_pressure()?;
        let pressure = self.known("p")?;
        let cylinder = self.cylinder()?;
        let free_play = self.lever()?.free_play;
        let volume = self.volume_behind(Pressure::from_pa(own.value), &pressure)?;
        let area = self.lever_area()?;
        let free = Symbol::of_key(
            "s_free",
            "free stroke",
            cylinder.free_stroke.m(),
            "m",
            "lever.free_stroke",
        );
        let free = equations::free_strokes(Expr::from(free), cylinder.pistons_in_line().into());
        let stroke = self.line(
            Symbol::computed("s_lever", "stroke of the lever's cylinder", stroke.m(), "m"),
            equations::stroke(Expr::from(volume), area.into(), free),
            "geometry: a cylinder's volume over its area",
            "no foot on the pedal; lever and bracket are rigid",
        );
        let ratio = Symbol::lever_ratio(&cylinder);
        let play = Symbol::of_key(
            "s_play",
            "free play at the grip",
            free_play.m(),
            "m",
            "lever.free_play",
        );
        Some(self.line(
            Symbol::computed("s_grip", "travel of the grip", travel.m(), "m"),
            equations::grip_travel(Expr::from(stroke), ratio.into(), play.into()),
            "law of the lever: travel in the ratio of its arms",
            "",
        ))
    }

    /// Volume that the lever has to move, by what takes it.
    fn volume_behind(&mut self, own: Pressure, pressure: &Symbol) -> Option<Symbol> {
        let network = &self.asked.hydraulics.network;
        let knee = self
            .asked
            .hydraulics
            .knee(self.to_lock()?.rear_load)
            .unwrap_or(Pressure::ZERO);
        let acting = Acting {
            first: Pressure::ZERO,
            second: Pressure::ZERO,
            own: Some(own),
            knee,
        };
        let nodes = network.pressures(&acting);
        let taken = network.shares_behind_lever(&nodes);
        let totals = network.totals_behind_lever();
        let place = self.place()?;
        let (area_m2, clearance, flex, keys) = match (
            self.asked.car.lever.as_ref().map(|lever| &lever.kind)?,
            &self.asked.car.rear_brake,
        ) {
            (LeverKind::Separate(_, brake), _) => (
                brake.caliper.piston_area().m2(),
                brake.clearance,
                brake.flex,
                ["lever_brake.volume.clearance", "lever_brake.volume.flex"],
            ),
            (_, Brake::Disc(brake)) => (
                brake.caliper.piston_area().m2(),
                brake.clearance,
                brake.flex,
                ["rear_brake.volume.clearance", "rear_brake.volume.flex"],
            ),
            (_, Brake::Drum(brake)) => (
                circle(brake.cylinder_bore).m2(),
                brake.clearance,
                brake.flex,
                ["rear_brake.volume.clearance", "rear_brake.volume.flex"],
            ),
        };
        let [_, threshold] = self.gain(place)?;
        let area = Symbol::computed("A_piston", "piston area of one wheel, one side", area_m2, "m²");
        let clearance = Symbol::of_key(
            "c",
            "clearance of each pad or piston",
            clearance.m(),
            "m",
            keys[0],
        );
        let taken_up = equations::taken_up(
            equations::clearance(Expr::from(area), clearance.into()),
            pressure.into(),
            threshold.into(),
        );
        let clearance = self.line(
            Symbol::computed(
                "V_clearance",
                "pads or shoes coming up",
                taken.clearance.m3(),
                "m³",
            ),
            equations::both_wheels(taken_up),
            "geometry: clearance times piston area, two wheels",
            "taken up by the time the brake bears",
        );
        let flex = Symbol::of_key(
            "e",
            "flex of one caliper or cylinder",
            flex.m3_pa(),
            "m³/Pa",
            keys[1],
        );
        let flex = self.line(
            Symbol::computed("V_flex", "calipers giving way", taken.flex.m3(), "m³"),
            equations::given_way(equations::both_wheels(Expr::from(flex)), pressure.into()),
            "spring, two wheels",
            "",
        );
        let growth = Symbol::computed(
            "e_hoses",
            "growth of all hoses behind the lever",
            totals.hose_growth_m3_pa,
            "m³/Pa",
        );
        let hoses = self.line(
            Symbol::computed("V_hoses", "hoses growing", taken.hoses.m3(), "m³"),
            equations::given_way(Expr::from(growth), pressure.into()),
            "spring; growth per length from memory",
            "pipe is rigid",
        );
        let fluid = Symbol::computed("V_system", "fluid behind the lever", totals.fluid.m3(), "m³");
        let modulus = Symbol::computed(
            "K",
            "bulk modulus of the fluid",
            bulk_modulus_pa(REFERENCE_TEMPERATURE),
            "Pa",
        );
        let fluid = self.line(
            Symbol::computed("V_fluid", "fluid squeezed", taken.fluid.m3(), "m³"),
            equations::fluid_given_up(Expr::from(fluid), pressure.into(), modulus.into()),
            "compressibility; modulus from memory",
            "20 °C",
        );
        let at_rest = Symbol::of_key("V_air0", "air at rest", totals.air.m3(), "m³", "air.rear");
        let atmosphere = Symbol::computed("p_atm", "the day's air", ATMOSPHERE_PA, "Pa");
        let air = self.line(
            Symbol::computed("V_air", "air squeezed", taken.air.m3(), "m³"),
            equations::air_given_up(Expr::from(at_rest), atmosphere.into(), pressure.into()),
            "Boyle's law",
            "slow enough to stay at one temperature",
        );
        let parts = [clearance, flex, hoses, fluid, air];
        Some(self.line(
            Symbol::computed("V", "volume that the lever moves", taken.total().m3(), "m³"),
            equations::sum(parts.map(Expr::from)),
            "what the brakes, hoses, fluid and air take, together",
            "",
        ))
    }

    /// Torque of both rear wheels at the driver's pull.
    fn torque_available(&mut self) -> Option<Symbol> {
        let to_lock = self.to_lock()?;
        let pull = self.asked.pull?;
        let result = Symbol::computed(
            "T_have",
            "torque at the driver's pull",
            to_lock.torque_available.nm(),
            "N m",
        );
        let hand = Symbol::of_key(
            "F_pull",
            "what the driver will pull",
            pull.hand.n(),
            "N",
            "lever.hand_pull",
        );
        if let LeverKind::Cable(_) = self.lever()?.kind {
            let per_hand = self.torque_per_hand()?;
            let torque = equations::given_way(per_hand.into(), Expr::from(hand));
            return Some(self.line(result, equations::both_wheels(torque), "cable and lever", ""));
        }
        let cylinder = self.cylinder()?;
        let place = self.place()?;
        let set = match self.asked.hydraulics.knee(to_lock.rear_load) {
            Some(knee) if self.asked.hydraulics.senses_load() => self.asked.hydraulics.with_knee(knee),
            _ => self.asked.hydraulics.clone(),
        };
        let answer = set.answer(
            &self.asked.laden,
            Forces {
                foot: Force::ZERO,
                hand: pull.hand,
            },
        );
        let lever = answer.lever?;
        let own_pa = lever.own?.pa();
        let area = self.lever_area()?;
        let ratio = Symbol::lever_ratio(&cylinder);
        let efficiency = Symbol::lever_efficiency(&cylinder);
        let own = Symbol::computed("p_pull", "pressure in the cylinder at that pull", own_pa, "Pa");
        let own = match lever.runs_out {
            None => self.line(
                own,
                equations::pressure_of_hand(
                    Expr::from(hand),
                    equations::pressure_per_hand(Expr::from(ratio), efficiency.into(), area.into()),
                ),
                "law of the lever; pressure is force over area",
                "",
            ),
            Some(limit) => self.line(
                own.clone(),
                Expr::from(own_pa),
                match limit {
                    TravelEnd::Stroke => "where the cylinder's stroke is used up, found by search",
                    TravelEnd::Room => "where the room in the cabin is used up, found by search",
                },
                "more hand makes no more pressure",
            ),
        };
        let wheel = answer.wheels[crate::car::Wheel::RearLeft.index()];
        let at_brakes = wheel.lever_pressure.unwrap_or(wheel.pressure);
        let after = self
            .asked
            .car
            .bias_valve
            .as_ref()
            .is_some_and(|valve| valve.place == ValvePlace::AfterLever);
        let at_brakes_symbol = Symbol::computed(
            "p_brakes",
            "pressure at the brakes at that pull",
            at_brakes.pa(),
            "Pa",
        );
        let formula = match (after && !place.second, answer.knee, self.asked.hydraulics.slope()) {
            (true, Some(knee), Some(slope)) => {
                let (knee, slope) = (Symbol::knee(knee), Symbol::slope(slope));
                let above = equations::above_knee(Expr::from(knee), slope.into(), (&own).into());
                Expr::from(&own).least(above)
            }
            _ => Expr::from(&own),
        };
        let at_brakes = self.line(
            at_brakes_symbol,
            formula,
            "the valve stands behind the lever, or nothing does",
            "",
        );
        let [gain, threshold] = self.gain(place)?;
        let torque = equations::torque(Expr::from(gain), at_brakes.into(), threshold.into());
        Some(self.line(
            result,
            equations::both_wheels(torque),
            "torque of a brake over its pressure, two wheels",
            "",
        ))
    }

    pub(super) fn in_hand(&mut self) -> Option<Symbol> {
        let to_lock = self.to_lock()?;
        let needed = self.torque_needed()?;
        let have = self.torque_available()?;
        Some(self.line(
            Symbol::computed(
                "in hand",
                "torque that the driver's pull makes over torque needed",
                to_lock.in_hand,
                "",
            ),
            equations::over(Expr::from(have), needed.into()),
            "definition: torque there is over torque needed",
            "below 1 the rear does not stop; below 1.3 late; above 1.4 prompt",
        ))
    }
}

//! Workings of lock order and settings.

use quantity::si::{Force, Pressure};

use super::{Arithmetic, Expr, Symbol};
use crate::balance::{First, KneeAnswer, USUAL_SLOPE, knee_for};
use crate::car::{Axle, Booster, Master, ValvePlace, Wheel};
use crate::equations::{self, Num};

const DEFINITION: &str = "definition: UN Regulation 13-H, Annex 5 (from memory)";

/// What a booster does to the force behind the pedal.
const BOOSTER: &str = "booster: jump-in, gain up to run-out, then one for one";

impl Arithmetic<'_> {
    /// Foot force at first lock, read backwards from the axle that goes first. The deceleration at which it does was
    /// searched for.
    pub(super) fn foot_force(&mut self) -> Option<Symbol> {
        let point = self.asked.lock_point()?;
        let push_rod = self.rod_at_lock()?;
        let rod = Symbol::computed("F_rod", "force on the master's push rod", push_rod.n(), "N");
        let formula = match self.asked.lock.first {
            First::Front => self.rod_from_pressure(0, Axle::Front),
            First::Rear => self.rod_from_pressure(1, Axle::Rear),
            First::Together | First::Neither => None,
        };
        let searched = match self.asked.lock.first {
            First::Together | First::Neither => {
                "the force at which all four are at the limit, found by search"
            }
            First::Front | First::Rear => "the force at which the axle is at its limit, found by search",
        };
        let rod = match formula {
            Some(formula) => self.line(rod, formula, "area, and the bar's share where there is one", ""),
            None => self.line(rod.clone(), Expr::from(push_rod.n()), searched, ""),
        };
        let pedal = self.asked.car.pedal;
        let ratio = Symbol::pedal_ratio(&pedal);
        let efficiency = Symbol::pedal_efficiency(&pedal);
        let foot = Symbol::computed("F_foot", "force of the foot at first lock", point.foot.n(), "N");
        let per_foot = equations::rod_per_foot(Expr::from(ratio), efficiency.into());
        let Some(booster) = pedal.booster else {
            let preload = Symbol::preload(&pedal);
            return Some(self.line(
                foot,
                equations::unhelped_foot(Expr::from(preload), rod.into(), per_foot),
                "lever, behind the preload",
                "pedal and bracket are rigid",
            ));
        };
        if self.is_within_leap(push_rod) {
            let wakes = "the booster leaps past it: the foot that wakes it";
            return Some(self.line(foot, Expr::from(Booster::WAKES.n()), wakes, ""));
        }
        let [jump_in, run_out] = self.booster_ends()?;
        let gain = Symbol::booster_gain(&booster);
        let formula = if push_rod.n() <= run_out.value {
            equations::helped_foot(Expr::from(rod), jump_in.into(), gain.into(), per_foot)
        } else {
            let at_run_out = self.run_out_foot(&gain, per_foot.clone())?;
            equations::foot_beyond(Expr::from(at_run_out), rod.into(), run_out.into(), per_foot)
        };
        Some(self.line(foot, formula, BOOSTER, "pedal and bracket are rigid"))
    }

    /// The push rod's force at first lock: the foot's, or, within a booster's leap, that of the pressure there.
    fn rod_at_lock(&self) -> Option<Force> {
        let point = self.asked.lock_point()?;
        let law = &self.asked.hydraulics.foot;
        Some(
            if self.asked.car.pedal.booster.is_some() && point.foot <= Booster::WAKES {
                // A cylinder whose stroke has ended stays behind the rod's force.
                let of = |chamber: usize| law.push_rod_for(chamber, point.chambers[chamber]);
                of(0).max(of(1))
            } else {
                law.push_rod(point.foot)
            },
        )
    }

    /// Whether a booster leaps past a rod force.
    fn is_within_leap(&self, rod: Force) -> bool {
        rod.n() < self.asked.hydraulics.foot.push_rod(Booster::WAKES).n() * (1.0 - 1e-12)
    }

    /// Rod forces at jump-in and run-out.
    fn booster_ends(&self) -> Option<[Symbol; 2]> {
        let ([jump_in, run_out], _) = self.asked.hydraulics.foot.helped_ends()?;
        Some([Symbol::jump_in_n(jump_in.n()), Symbol::run_out_n(run_out.n())])
    }

    /// Foot at run-out.
    fn run_out_foot(&mut self, gain: &Symbol, per_foot: Expr) -> Option<Symbol> {
        let (_, foot) = self.asked.hydraulics.foot.helped_ends()?;
        let [jump_in, run_out] = self.booster_ends()?;
        Some(self.line(
            Symbol::computed("F_full", "force of the foot at run-out", foot.n(), "N"),
            equations::helped_foot(Expr::from(run_out), jump_in.into(), gain.into(), per_foot),
            BOOSTER,
            "",
        ))
    }

    /// Rod force from the pressure that takes an axle to its limit; `None` where a limiting valve stands between, or where
    /// a stroke has ended and force makes no pressure.
    fn rod_from_pressure(&mut self, chamber: usize, axle: Axle) -> Option<Expr> {
        let point = self.asked.lock_point()?;
        let rod = self.rod_at_lock()?;
        let answer = self.asked.hydraulics.answer_to_push_rod(&self.asked.laden, rod);
        if answer.pedal.runs_out {
            return None;
        }
        // A load-sensing valve acts with the knee that it held while the foot rose.
        let knee = answer.knee;
        let slope = self.asked.hydraulics.slope();
        let behind_knee = axle == Axle::Rear && knee.is_some_and(|knee| point.chambers[1] > knee);
        if behind_knee && slope.is_some_and(|slope| slope <= 0.0) {
            return None;
        }
        let rate = Symbol::computed(
            "z",
            self.rate_is(
                "deceleration over g at first lock, found by search",
                "braking force over weight at first lock, found by search",
            ),
            point.rate,
            "",
        );
        let load = self.axle_load(axle, &rate);
        let grip = self.grip();
        let front = axle == Axle::Front;
        let radius = self.radius(axle);
        let carried_nm = self.asked.tie.carries_nm;
        let what = (
            if front { "B_f" } else { "B_r" },
            "what takes the axle to its limit",
            "N",
        );
        let formula = if carried_nm > 0.0 {
            let carried = Symbol::computed(
                "T_c",
                "what the centre coupling carries, at the wheels",
                carried_nm,
                "N m",
            );
            equations::force_at_limit(Expr::from(grip), load.into(), carried.into(), (&radius).into())
        } else {
            // Nothing ties the axles: the second term is nothing, and is not written.
            equations::ground_gives(Expr::from(grip), load.into())
        };
        let force = self.worked(what, formula, "friction, and the coupling's help", "");
        let [gain, threshold] = self.gain(super::brakes::WorkedBrake { axle, second: false })?;
        let pressure = if front { point.chambers[0] } else { point.rear };
        let at_brakes = self.line(
            Symbol::computed(
                if front { "p_front" } else { "p_rear" },
                if front {
                    "pressure at the front brakes"
                } else {
                    "pressure at the rear brakes"
                },
                pressure.pa(),
                "Pa",
            ),
            equations::pressure_for_torque(
                threshold.into(),
                equations::torque_of(Expr::from(force), radius.into()),
                gain.into(),
            ),
            "torque law, read backwards",
            "",
        );
        let inlet = if front {
            at_brakes
        } else {
            let inlet = Symbol::computed(
                "p_in",
                "pressure into the rear line",
                point.chambers[1].pa(),
                "Pa",
            );
            let formula = match (knee, slope) {
                (Some(knee), Some(slope)) if behind_knee => {
                    let knee = Symbol::knee(knee);
                    let slope = Symbol::slope(slope);
                    equations::before_knee(Expr::from(knee), slope.into(), at_brakes.into())
                }
                _ => Expr::from(at_brakes),
            };
            self.line(inlet, formula, "bias valve, read backwards", "")
        };
        let per_pressure = self.rod_per_pressure(chamber);
        Some(equations::rod_for_pressure(Expr::from(inlet), per_pressure))
    }

    /// Rod force per pressure of a chamber.
    fn rod_per_pressure(&self, chamber: usize) -> Expr {
        match self.asked.car.master {
            Master::Tandem { bore, .. } => Symbol::master_area(bore).into(),
            Master::Twin {
                front_bore,
                rear_bore,
                bar,
                ..
            } => {
                let share = Expr::from(Symbol::bar_share(&bar));
                let (area, share) = if chamber == 0 {
                    (Symbol::front_cylinder_area(front_bore), share)
                } else {
                    (
                        Symbol::rear_cylinder_area(rear_bore),
                        equations::other_share(share),
                    )
                };
                equations::rod_per_pressure(area.into(), share)
            }
        }
    }

    /// Force on the master's push rod at first lock.
    fn push_rod(&mut self, foot: Force) -> Option<Symbol> {
        let pedal = self.asked.car.pedal;
        let out = self.rod_at_lock()?;
        let rod = Symbol::computed("F_rod", "force on the master's push rod", out.n(), "N");
        let foot_symbol = Symbol::computed("F_foot", "force of the foot", foot.n(), "N");
        let ratio = Symbol::pedal_ratio(&pedal);
        let efficiency = Symbol::pedal_efficiency(&pedal);
        let per_foot = equations::rod_per_foot(Expr::from(ratio), efficiency.into());
        let Some(booster) = pedal.booster else {
            let preload = Symbol::preload(&pedal);
            return Some(self.line(
                rod,
                equations::unhelped_rod(Expr::from(foot_symbol), preload.into(), per_foot),
                "lever, behind the preload",
                "pedal and bracket are rigid",
            ));
        };
        if self.is_within_leap(out) {
            let searched = "within the booster's leap, found by search";
            return Some(self.line(rod, Expr::from(out.n()), searched, ""));
        }
        let [jump_in, run_out] = self.booster_ends()?;
        let gain = Symbol::booster_gain(&booster);
        let formula = if out.n() <= run_out.value {
            equations::helped_rod(Expr::from(jump_in), gain.into(), foot_symbol.into(), per_foot)
        } else {
            let at_run_out = self.run_out_foot(&gain, per_foot.clone())?;
            equations::rod_beyond(
                Expr::from(run_out),
                foot_symbol.into(),
                at_run_out.into(),
                per_foot,
            )
        };
        Some(self.line(rod, formula, BOOSTER, "pedal and bracket are rigid"))
    }

    /// Pressure of a chamber of the master from the push rod.
    fn chamber(&mut self, chamber: usize, push_rod: &Symbol, pressure: Pressure, runs_out: bool) -> Symbol {
        let sign = if chamber == 0 { "p_front" } else { "p_in" };
        let meaning = if chamber == 0 {
            "pressure at the front brakes"
        } else {
            "pressure into the rear line"
        };
        let result = Symbol::computed(sign, meaning, pressure.pa(), "Pa");
        let formula = equations::chamber_pressure(Expr::from(push_rod), self.rod_per_pressure(chamber));
        let short = runs_out && formula.value() > pressure.pa() * (1.0 + 1e-9);
        if short {
            let searched = "its stroke ends before: what it does reach, found by search";
            return self.line(result, Expr::from(pressure.pa()), searched, "");
        }
        self.line(result, formula, "pressure is force over area", "")
    }

    /// Pressure at the rear brakes behind the bias valve.
    fn rear_pressure(&mut self, inlet: &Symbol, pressure: Pressure, knee: Option<Pressure>) -> Symbol {
        let result = Symbol::computed("p_rear", "pressure at the rear brakes", pressure.pa(), "Pa");
        let formula = match (knee, self.asked.hydraulics.slope()) {
            (Some(knee), Some(slope)) => {
                let (knee, slope) = (Symbol::knee(knee), Symbol::slope(slope));
                let above = equations::above_knee(Expr::from(knee), slope.into(), inlet.into());
                Expr::from(inlet).least(above)
            }
            _ => Expr::from(inlet),
        };
        self.line(
            result,
            formula,
            "bias valve: equal up to the knee, the slope above",
            "",
        )
    }

    /// From the foot to both axles' forces at first lock. Gives `B_f`, `B_r`.
    fn forces_at_lock(&mut self) -> Option<[Symbol; 2]> {
        let point = self.asked.lock_point()?;
        let push_rod = self.push_rod(point.foot)?;
        let rod = self.rod_at_lock()?;
        let answer = self.asked.hydraulics.answer_to_push_rod(&self.asked.laden, rod);
        let front = self.chamber(0, &push_rod, point.chambers[0], answer.pedal.runs_out);
        let inlet = self.chamber(1, &push_rod, point.chambers[1], answer.pedal.runs_out);
        let rear = self.rear_pressure(&inlet, point.rear, answer.knee);
        let force = |wheels: [Wheel; 2]| {
            wheels
                .iter()
                .map(|wheel| answer.wheels[wheel.index()].ground_force.n())
                .sum()
        };
        let front = self.axle_force(Axle::Front, &front, force([Wheel::FrontLeft, Wheel::FrontRight]))?;
        let rear = self.axle_force(Axle::Rear, &rear, force([Wheel::RearLeft, Wheel::RearRight]))?;
        Some([front, rear])
    }

    pub(super) fn braking_rate(&mut self) -> Option<Symbol> {
        let point = self.asked.lock_point()?;
        let [front, rear] = self.forces_at_lock()?;
        let weight = self.weight();
        Some(self.line(
            Symbol::computed(
                "z",
                self.rate_is(
                    "deceleration over g at first lock",
                    "braking force over weight at first lock",
                ),
                point.rate,
                "",
            ),
            equations::braking_rate(Expr::from(front), rear.into(), weight),
            "Newton's second law",
            "no drag, no engine braking",
        ))
    }

    pub(super) fn front_first_by(&mut self) -> Option<Symbol> {
        let point = self.asked.lock_point()?;
        let rate = self.braking_rate()?;
        let (front, rear) = (self.known("B_f")?, self.known("B_r")?);
        let front_load = self.axle_load(Axle::Front, &rate);
        let rear_load = self.axle_load(Axle::Rear, &rate);
        let used_front = self.worked(
            ("f_1", "what the front axle uses of its load", ""),
            equations::over(Expr::from(front), front_load.into()),
            DEFINITION,
            "",
        );
        let used_rear = self.worked(
            ("f_2", "what the rear axle uses of its load", ""),
            equations::over(Expr::from(rear), rear_load.into()),
            DEFINITION,
            "",
        );
        Some(self.line(
            Symbol::computed("M", "front first by", point.front_first_by, ""),
            equations::front_first_by(Expr::from(used_front), used_rear.into()),
            "the front axle's use over the rear's, less one; a margin of our own",
            "above zero: the front locks first",
        ))
    }

    /// Knee for the wish at the grip and load asked for.
    pub(super) fn knee(&mut self) -> Option<Symbol> {
        let asked = self.asked;
        let KneeAnswer::At(knee) = knee_for(&asked.hydraulics, &asked.laden, asked.grip, asked.wish) else {
            return None;
        };
        let grip = self.grip();
        let wish = asked.wish.margin();
        let margin = Symbol::computed("M", "wanted at first lock", wish, "");
        let [front_formula, rear_formula] =
            equations::used_for_wish(Expr::from(grip), margin.into(), wish < 0.0);
        let front_used = self.worked(
            ("f_1", "what the front axle uses", ""),
            front_formula,
            DEFINITION,
            "",
        );
        let rear_used = self.worked(
            ("f_2", "what the rear axle uses", ""),
            rear_formula,
            DEFINITION,
            "",
        );
        let (aft, height, wheelbase) = (self.cg_aft(), self.cg_height()?, self.wheelbase());
        let meaning = self.rate_is("deceleration over g", "braking force over weight");
        let rate = self.worked(
            ("z", meaning, ""),
            equations::rate_using(
                self.presses(),
                [Expr::from(&front_used), Expr::from(&rear_used)],
                wheelbase.into(),
                aft.into(),
                height.into(),
            ),
            "both axles' forces over weight, loads at that deceleration",
            "axles free of one another",
        );
        let front = self.pressure_for(Axle::Front, &front_used, &rate, "p_front")?;
        let rear = self.pressure_for(Axle::Rear, &rear_used, &rate, "p_rear")?;
        let inlet = match asked.car.master {
            Master::Tandem { .. } => self.line(
                Symbol::computed("p_in", "pressure into the rear line", front.value, "Pa"),
                Expr::from(&front),
                "hydrostatics: one bore, one pressure",
                "",
            ),
            Master::Twin { .. } => {
                let rod = equations::rod_for_pressure(Expr::from(&front), self.rod_per_pressure(0));
                let inlet = equations::chamber_pressure(rod, self.rod_per_pressure(1));
                let what = ("p_in", "pressure into the rear line", "Pa");
                self.worked(what, inlet, "the bar shares the rod's force", "")
            }
        };
        let slope = asked.hydraulics.slope().unwrap_or(USUAL_SLOPE);
        let slope = Symbol::slope(slope);
        Some(
            self.line(
                Symbol::computed("p_knee", "knee that gives the wish", knee.pa(), "Pa"),
                equations::knee(Expr::from(rear), inlet.into(), slope.into()),
                "bias valve, read backwards",
                if asked
                    .car
                    .bias_valve
                    .as_ref()
                    .is_some_and(|valve| valve.place == ValvePlace::AfterLever)
                {
                    "the valve cuts the lever's pressure too"
                } else {
                    ""
                },
            ),
        )
    }

    /// Pressure at an axle's brakes that uses so much of its load.
    fn pressure_for(
        &mut self,
        axle: Axle,
        used: &Symbol,
        rate: &Symbol,
        sign: &'static str,
    ) -> Option<Symbol> {
        let load = self.axle_load(axle, rate);
        let [gain, threshold] = self.gain(super::brakes::WorkedBrake { axle, second: false })?;
        let front = axle == Axle::Front;
        let radius = self.radius(axle);
        let meaning = if front {
            "pressure at the front brakes"
        } else {
            "pressure at the rear brakes"
        };
        Some(self.worked(
            (sign, meaning, "Pa"),
            equations::pressure_for_torque(
                threshold.into(),
                equations::torque_using(Expr::from(used), load.into(), radius.into()),
                gain.into(),
            ),
            "torque law, read backwards",
            "",
        ))
    }
}

//! Workings of a latched lever: what is in closed form; pressures and temperatures that were followed say so.

use super::{Arithmetic, Expr, Symbol};
use crate::car::Axle;
use crate::equations::{self, Num};
use crate::hold::{Arrival, Hold, HoldMoment};
use crate::loads::Facing;
use crate::thresholds::START_LINE;

const FOLLOWED: &str = "cooling, seeping and creeping followed over time (integrated)";
const STATICS: &str = "statics of a car on a slope";

impl Arithmetic<'_> {
    fn parked(&self) -> Option<Hold> {
        self.asked.parked.as_ref()?.hold().ok()
    }

    /// Sine of the slope's angle.
    fn slope_sine(&mut self, hold: &Hold) -> Symbol {
        let slope = Symbol::computed("i", "rise over run of the slope", hold.grade.slope, "");
        self.line(
            Symbol::computed(
                "s_s",
                "sine of the slope's angle",
                hold.grade.pulls_back().abs(),
                "",
            ),
            equations::sine_of_slope(Expr::from(slope)),
            "trigonometry: the sine from the tangent",
            "",
        )
    }

    /// Torque that holds the car.
    fn holding_torque(&mut self, hold: &Hold) -> Symbol {
        let sine = self.slope_sine(hold);
        let weight = self.weight();
        let radius = self.radius(Axle::Rear);
        self.line(
            Symbol::computed(
                "T_need",
                "torque that holds the car on its slope",
                hold.needed.nm(),
                "N m",
            ),
            equations::torque_to_hold(weight, sine.into(), radius.into()),
            STATICS,
            "both rear wheels together; no gear, no rolling resistance",
        )
    }

    /// Torque of both rear wheels at a moment.
    fn torque_at(&mut self, hold: &Hold, moment: &HoldMoment, late: bool) -> Option<Symbol> {
        let bench = self.asked.parked.as_ref()?;
        let [torque, pressure, share] = if late {
            ["T_end", "p_end", "k_end"]
        } else {
            ["T_0", "p_0", "k_0"]
        };
        let friction = Symbol::computed(
            share,
            "torque at the discs' or drums' temperature over the warm one",
            bench.torque_share(moment.disc),
            "",
        );
        let formula = match (bench.law(), bench.cable(), moment.pressure) {
            (Some((law, wheels)), _, Some(at)) => {
                let pressure = Symbol::computed(
                    pressure,
                    if late {
                        "pressure then, integrated"
                    } else {
                        "pressure on latching"
                    },
                    at.pa(),
                    "Pa",
                );
                let threshold = Symbol::computed(
                    "p_thr",
                    "pressure that only moves pads or shoes",
                    law.threshold.pa(),
                    "Pa",
                );
                let gain = Symbol::computed(
                    "g_warm",
                    "torque of a wheel a pascal above that, warm",
                    law.gain_nm_pa,
                    "N m/Pa",
                );
                let torque = equations::torque(Expr::from(gain), pressure.into(), threshold.into());
                equations::at_that_friction(torque * Expr::from(wheels), friction.into())
            }
            (_, Some(cable), _) => {
                let cable = Symbol::computed("T_cable", "torque of the cable, warm", cable.nm(), "N m");
                equations::at_that_friction(Expr::from(cable), friction.into())
            }
            _ => return None,
        };
        let value = moment.ratio * hold.needed.nm();
        Some(self.line(
            Symbol::computed(
                torque,
                if late {
                    "torque of both rear wheels then"
                } else {
                    "torque of both rear wheels on latching"
                },
                value,
                "N m",
            ),
            formula,
            "torque law, at the friction of that temperature",
            if late { FOLLOWED } else { "" },
        ))
    }

    /// What the lever holds over what it has to, on latching, at the worst arrival.
    pub(super) fn over_needed(&mut self) -> Option<Symbol> {
        let hold = self.parked()?;
        let worst = least(&hold, |arrival| arrival.ratio)?;
        let first = worst.way.first().filter(|first| first.ratio.is_finite())?;
        let needed = self.holding_torque(&hold);
        let there_is = self.torque_at(&hold, first, false)?;
        Some(self.line(
            Symbol::computed(
                "r_0",
                "torque there is over torque needed, on latching",
                first.ratio,
                "",
            ),
            equations::over(Expr::from(there_is), needed.into()),
            "definition: torque there is over torque needed",
            "the arrival that has least of it",
        ))
    }

    /// How long it holds, from the worst arrival.
    pub(super) fn minutes(&mut self) -> Option<Symbol> {
        let hold = self.parked()?;
        let worst = hold.worst()?.clone();
        let held = worst.holds_for.filter(|held| held.s() > 0.0)?;
        let last = worst
            .way
            .iter()
            .rfind(|moment| moment.time <= held && moment.ratio.is_finite())?;
        // Of two parts that the lever shuts in, each has a pressure of its own then: no one figure stands for both.
        let one = self.asked.parked.as_ref()?.shuts_in_one_part();
        if one && (last.time - held).s().abs() < 1e-6 {
            let needed = self.holding_torque(&hold);
            let there_is = self.torque_at(&hold, last, true)?;
            self.line(
                Symbol::computed(
                    "r_end",
                    "torque there is over torque needed, then",
                    last.ratio,
                    "",
                ),
                equations::over(Expr::from(there_is), needed.into()),
                "definition: torque there is over torque needed",
                "it holds until this is 1",
            );
        }
        let seconds = Symbol::computed("t_end", "time at which that ratio falls to 1", held.s(), "s");
        Some(self.line(
            Symbol::computed("t_min", "minutes that it holds", held.s() / 60.0, "min"),
            Expr::from(seconds) / Expr::from(60.0),
            FOLLOWED,
            "the arrival that holds for the shortest time",
        ))
    }

    /// The steepest slope for two minutes.
    pub(super) fn steepest(&mut self) -> Option<Symbol> {
        let hold = self.parked()?;
        let worst = least(&hold, |arrival| arrival.steepest)?;
        let weakest = worst
            .way
            .iter()
            .filter(|moment| moment.time <= START_LINE)
            .map(|moment| moment.ratio)
            .fold(worst.ratio, f64::min);
        let weakest_nm = weakest * hold.needed.nm();
        if !weakest_nm.is_finite() {
            return None;
        }
        let weakest = Symbol::computed(
            "T_least",
            "least torque of both rear wheels within two minutes, integrated",
            weakest_nm,
            "N m",
        );
        let weight = self.weight();
        let radius = self.radius(Axle::Rear);
        let sine = self.worked(
            ("s_held", "sine that this torque holds", ""),
            equations::sine_held(Expr::from(weakest), weight, radius.into()),
            STATICS,
            "",
        );
        let (aft, height, wheelbase) = (self.cg_aft(), self.cg_height()?, self.wheelbase());
        let bench = self.asked.parked.as_ref()?;
        let grip = Symbol::computed("mu", "grip of the surface", bench.grip(), "");
        let by_grip = equations::slope_of_grip(
            Expr::from(grip),
            aft.into(),
            wheelbase.into(),
            height.into(),
            hold.grade.facing == Facing::Up,
        );
        if by_grip.value() <= 0.0 || sine.value >= 1.0 {
            return None;
        }
        let what = ("i_grip", "slope that the rear tyres hold it on", "");
        let by_grip = self.worked(what, by_grip, STATICS, "moments about the front wheels' feet");
        let by_torque = equations::slope_of_sine(Expr::from(sine));
        Some(self.line(
            Symbol::computed(
                "i_max",
                "steepest slope that it holds on for two minutes",
                worst.steepest,
                "",
            ),
            by_torque.least(by_grip.into()),
            "sine to slope; the tyres if they hold less",
            "the arrival that holds least",
        ))
    }
}

fn least(hold: &Hold, of: impl Fn(&Arrival) -> f64) -> Option<Arrival> {
    hold.arrivals
        .iter()
        .min_by(|one, other| of(one).total_cmp(&of(other)))
        .cloned()
}

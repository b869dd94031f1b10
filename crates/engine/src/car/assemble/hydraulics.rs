use quantity::si::{Force, Length, Pressure, Turns};

use super::super::Remark;
use super::super::brakes::DiscBrake;
use super::super::hydraulics::{
    BalanceBar, BiasValve, Cable, Knee, KnobScale, Lever, LeverCylinder, LeverFrame, LeverKind, Master,
    Mount, Outlets, Setting, Split, ValvePlace,
};
use super::super::inputs::Value;
use super::super::surroundings::MeasuredValve;
use super::{Bench, Replaced};

impl Bench<'_> {
    /// Leans on there being none of what a table would describe, unless the sheet says so.
    pub(super) fn none_taken(&mut self, table: &str) {
        if !self.read.says_none(table) && !self.read.is_first_format() {
            self.read.word(table);
        }
    }

    pub(super) fn master(&mut self) -> Option<Master> {
        let diagonal = self.read.word("master.split") == Some("diagonal");
        let kind = self.read.word("master.kind")?;
        let stroke = Length::from_m(self.read.si("master.stroke")?);
        let residual_valve = self.read.flag("master.residual_valve");
        if kind == "twin" {
            if diagonal {
                self.refuse(
                    "master.split",
                    "contradiction",
                    "twin cylinders feed one axle each; a diagonal split needs a tandem cylinder",
                    "write split = \"axle\", or kind = \"tandem\" with its bore",
                );
            }
            let front_bore = self.wanted("master.front_bore", "twin cylinders have a bore each");
            let rear_bore = self.wanted("master.rear_bore", "twin cylinders have a bore each");
            return Some(Master::Twin {
                front_bore: Length::from_m(front_bore?),
                rear_bore: Length::from_m(rear_bore?),
                stroke,
                bar: BalanceBar {
                    front_share: self.read.si("master.bar.front_share")?,
                    share_per_turn: self.read.si("master.bar.share_per_turn")?,
                },
                residual_valve,
            });
        }
        let bore = self.wanted("master.bore", "a tandem master cylinder has one bore")?;
        let split = if diagonal { Split::Diagonal } else { Split::Axle };
        Some(Master::Tandem {
            bore: Length::from_m(bore),
            split,
            stroke,
            residual_valve,
        })
    }

    pub(super) fn bias_valve(&mut self, readings: &[MeasuredValve]) -> Option<Option<BiasValve>> {
        if !self.read.inputs().has_table("bias_valve") {
            self.none_taken("bias_valve");
            return Some(None);
        }
        let place = match self.read.word("bias_valve.place") {
            Some("after-lever") => ValvePlace::AfterLever,
            _ => ValvePlace::BeforeLever,
        };
        let kind = self.read.word("bias_valve.kind")?;
        let slope = if kind == "limiting" {
            0.0
        } else {
            let usual = if kind == "adjustable" {
                "0.43 ± 0.08"
            } else {
                "0.30 ± 0.05"
            };
            self.read.si_or(
                "bias_valve.slope",
                usual,
                "as such valves are: see the table of keys",
            )?
        };
        let knee = match kind {
            "adjustable" => self.knob(readings, slope)?,
            "load-sensing" => {
                let empty = self.load_and_knee("bias_valve.knee.empty");
                let laden = self.load_and_knee("bias_valve.knee.laden");
                let (empty, laden) = (empty?, laden?);
                if laden.0.n() - empty.0.n() < 1.0 {
                    self.refuse(
                        "bias_valve.knee.laden",
                        "contradiction",
                        "the laden point has no more load than the empty one",
                        "give the rear axle's load at both points, the heavier under laden",
                    );
                }
                if laden.1 < empty.1 {
                    self.warn(
                        "bias_valve.knee.laden",
                        "the knee falls as the load rises: look whether the two points are swapped",
                    );
                }
                Knee::OverRearLoad { empty, laden }
            }
            _ => Knee::Fixed(self.fixed_knee(readings, slope)?),
        };
        Some(Some(BiasValve { knee, slope, place }))
    }

    /// The knee of a valve without a knob: what gauges say above it, or the sheet's figure.
    fn fixed_knee(&mut self, readings: &[MeasuredValve], slope: f64) -> Option<Pressure> {
        let because = "a valve without a knob has one knee pressure";
        let knees: Vec<f64> = readings
            .iter()
            .filter_map(|reading| knee_pa(reading, slope))
            .collect();
        if knees.is_empty() {
            return self.wanted("bias_valve.knee", because).map(Pressure::from_pa);
        }
        let read = mean(&knees);
        self.read.value("bias_valve.knee");
        if let Some(sheet) = self.read.given_nominal_si("bias_valve.knee") {
            self.misfit(read, sheet, "the sheet");
        }
        self.valve_measured(
            vec!["bias_valve.knee"],
            Remark::from("the valve's knee is ").bar(read),
        );
        Some(Pressure::from_pa(read))
    }

    /// Says where gauges and the sheet's figures for the knee are apart. What was read is computed with.
    fn misfit(&mut self, read_pa: f64, said_pa: f64, who: &str) {
        let (read, said) = (read_pa / 1e5, said_pa / 1e5);
        if (read - said).abs() > 0.05 * said + 0.5 {
            self.warn(
                "bias_valve.knee",
                Remark::from("the gauges put the knee at ")
                    .bar(read_pa)
                    .words(format!(", {who} at "))
                    .bar(said_pa)
                    .words("; what was read is computed with"),
            );
        }
    }

    fn valve_measured(&mut self, keys: Vec<&'static str>, said: Remark) {
        self.replaced.push(Replaced {
            by: "measured.valve".to_owned(),
            keys,
            said,
        });
    }

    fn load_and_knee(&mut self, path: &str) -> Option<(Force, Pressure)> {
        let row = self.read.rows(path).and_then(|rows| rows.into_iter().next());
        match row.as_deref() {
            Some([load, knee]) => Some((Force::from_n(*load), Pressure::from_pa(*knee))),
            _ => {
                self.missing(
                    path,
                    "a load-sensing valve needs two points: rear axle load and knee",
                );
                None
            }
        }
    }

    /// The knob's curve: a straight line between its ends, or, where the ends are left out or two settings and more
    /// were read with gauges, what the gauges say.
    fn knob(&mut self, readings: &[MeasuredValve], slope: f64) -> Option<Knee> {
        let measured = measured_knees(readings, slope);
        let has_ends = self.read.given("bias_valve.knee.at_fewest")
            || self.read.given("bias_valve.knee.at_most")
            || self.read.given("bias_valve.knee.turns")
            || self.read.given("bias_valve.knee.positions");
        if !has_ends {
            return self.knob_from_readings(measured);
        }
        let because = "a knob's knee is given at both ends of its travel";
        let at_fewest = self.wanted("bias_valve.knee.at_fewest", because);
        let at_most = self.wanted("bias_valve.knee.at_most", because);
        self.only_one("bias_valve.knee.turns", "bias_valve.knee.positions");
        let positions = self.read.count("bias_valve.knee.positions");
        let (scale, first, last) = match positions {
            Some(positions) => (KnobScale::Positions(positions), 1.0, f64::from(positions)),
            None => {
                let turns = self.wanted("bias_valve.knee.turns", "or positions, for a stepped lever")?;
                (KnobScale::Turns(Turns::from_turns(turns)), 0.0, turns)
            }
        };
        let ends = [
            (first, Pressure::from_pa(at_fewest?)),
            (last, Pressure::from_pa(at_most?)),
        ];
        if ends[1].1 <= ends[0].1 {
            self.refuse(
                "bias_valve.knee.at_most",
                "contradiction",
                "the knee fully in is not above the knee fully out",
                "count turns from the end with the lower knee: at_fewest is that end's knee",
            );
        }
        let setting = self.setting(scale, first, last)?;
        let line = |at: f64| ends[0].1 + (ends[1].1 - ends[0].1) * ((at - first) / (last - first));
        let mut at = measured;
        at.retain(|&(setting, _)| setting >= first && setting <= last);
        for &(setting, knee) in &at {
            self.misfit(
                knee.pa(),
                line(setting).pa(),
                &format!("the knob's ends, at setting {setting},"),
            );
        }
        if !at.is_empty() {
            let mut said = Remark::from("the knob's line goes through ");
            for (number, (setting, knee)) in at.iter().enumerate() {
                let joined = if number == 0 { "" } else { " and " };
                said = said
                    .words(joined)
                    .bar(knee.pa())
                    .words(format!(" at setting {setting}"));
            }
            self.valve_measured(vec!["bias_valve.knee.at_fewest", "bias_valve.knee.at_most"], said);
        }
        if at.first().is_none_or(|&(setting, _)| setting > first) {
            at.insert(0, ends[0]);
        }
        if at.last().is_none_or(|&(setting, _)| setting < last) {
            at.push(ends[1]);
        }
        if at.windows(2).any(|pair| pair[1].1 < pair[0].1) {
            self.warn(
                "bias_valve.knee",
                "readings and ends together make the knee fall as the knob goes in: one of them is wrong",
            );
        }
        Some(Knee::Knob { at, scale, setting })
    }

    fn knob_from_readings(&mut self, at: Vec<(f64, Pressure)>) -> Option<Knee> {
        let (Some(&(first, _)), Some(&(last, _))) = (at.first(), at.last()) else {
            self.missing(
                "bias_valve.knee.at_fewest",
                "give the knob's knee at both ends (at_fewest, at_most, turns), or read it with two gauges above the knee ([[measured.valve]])",
            );
            return None;
        };
        let scale = KnobScale::Turns(Turns::from_turns(last));
        let setting = match self.read.value("bias_valve.setting") {
            Some(Value::Count(position)) => f64::from(*position),
            Some(_) => self.read.si("bias_valve.setting")?,
            None => first,
        };
        if setting < first - 1e-9 || setting > last + 1e-9 {
            self.refuse(
                "bias_valve.setting",
                "setting-not-measured",
                format!("the valve was read from {first} to {last} only, and its ends are not given"),
                "read it at this setting too, or give the knob's ends (at_fewest, at_most, turns)",
            );
        }
        Some(Knee::Knob { at, scale, setting })
    }

    fn setting(&mut self, scale: KnobScale, first: f64, last: f64) -> Option<f64> {
        let given = self.read.value("bias_valve.setting");
        let setting = match (given, scale) {
            (Some(Value::Count(position)), KnobScale::Positions(_)) => f64::from(*position),
            (Some(Value::Count(_)), KnobScale::Turns(_)) => {
                self.refuse(
                    "bias_valve.setting",
                    "missing-unit",
                    "this knob is counted in turns",
                    "write the unit: setting = \"2.5 turns\"",
                );
                return None;
            }
            (Some(_), KnobScale::Positions(_)) => {
                self.refuse(
                    "bias_valve.setting",
                    "contradiction",
                    "this valve has positions, not turns",
                    "write the position as a bare number: setting = 3",
                );
                return None;
            }
            (None, KnobScale::Positions(_)) => first,
            (_, KnobScale::Turns(_)) => self.read.si("bias_valve.setting")?,
        };
        if setting < first - 1e-9 || setting > last + 1e-9 {
            self.refuse(
                "bias_valve.setting",
                "out-of-range",
                format!("the knob goes from {first} to {last}, not to {setting}"),
                "count the turns in from fully out",
            );
        }
        Some(setting.clamp(first, last))
    }

    /// The lever: `Some(None)` where the car has none.
    pub(super) fn lever(&mut self, lever_brake: Option<&DiscBrake>) -> Option<Option<Lever>> {
        if !self.read.inputs().has_table("lever") {
            return Some(None);
        }
        let kind = self.read.word("lever.kind")?;
        let has_cable = self.read.inputs().has_table("lever.cable");
        let cable = if kind == "cable" || has_cable {
            Some(self.cable())
        } else {
            None
        };
        let kind = match (kind, cable) {
            ("cable", cable) => LeverKind::Cable(cable??),
            ("separate", _) => {
                let cylinder = self.lever_cylinder();
                if lever_brake.is_none() {
                    self.refuse(
                        "lever_brake.kind",
                        "missing-table",
                        "a separate lever works its own calipers, and [lever_brake] is missing",
                        "describe the second calipers under [lever_brake] as under [rear_brake], without the disc",
                    );
                }
                LeverKind::Separate(cylinder?, lever_brake?.clone())
            }
            _ => LeverKind::Inline(self.lever_cylinder()?),
        };
        Some(Some(Lever {
            free_play: Length::from_m(self.read.si("lever.free_play")?),
            hand_pull: Force::from_n(self.read.si("lever.hand_pull")?),
            room: Length::from_m(self.read.si("lever.room")?),
            latch: self.read.flag("lever.latch"),
            switch: self.read.flag("lever.switch"),
            cable_kept: self.read.flag("lever.cable_kept"),
            parking_cable: cable.flatten(),
            frame: if self.read.word("lever.frame") == Some("apart") {
                LeverFrame::Apart
            } else {
                LeverFrame::Closed
            },
            mount: self.mount()?,
            kind,
        }))
    }

    fn cable(&mut self) -> Option<Cable> {
        let ratio = self.wanted(
            "lever.cable.ratio",
            "a cable needs the force at pads or shoes over the hand's",
        );
        Some(Cable {
            ratio: ratio?,
            efficiency: self.read.si("lever.cable.efficiency")?,
        })
    }

    fn lever_cylinder(&mut self) -> Option<LeverCylinder> {
        let bore = self.wanted("lever.bore", "the lever's cylinder has a bore");
        let ratio = self.wanted("lever.ratio", "travel of the grip over travel of the push rod");
        let rear_seal = self.read.given_si("lever.rear_seal");
        if let (Some(seal), Some(bore)) = (rear_seal, bore)
            && seal > bore * (1.0 + 1e-9)
        {
            self.refuse(
                "lever.rear_seal",
                "contradiction",
                "the rear seal is larger than the bore it runs in",
                "leave it out where both seals are alike",
            );
        }
        Some(LeverCylinder {
            bore: Length::from_m(bore?),
            ratio: ratio?,
            stroke: Length::from_m(self.read.si("lever.stroke")?),
            efficiency: self.read.si("lever.efficiency")?,
            free_stroke: Length::from_m(self.read.si("lever.free_stroke")?),
            rear_seal: Length::from_m(rear_seal.or(bore)?),
            outlets: match self.read.word("lever.outlets") {
                Some("tandem") => Outlets::Tandem,
                Some("side-by-side") => Outlets::SideBySide,
                _ => Outlets::One,
            },
        })
    }

    fn mount(&mut self) -> Option<Option<Mount>> {
        if !self.read.inputs().has_table("lever.mount") {
            return Some(None);
        }
        let pattern = match self.read.list("lever.mount.pattern").as_deref() {
            Some([along, across]) => Some((Length::from_m(*along), Length::from_m(*across))),
            Some(_) => {
                self.refuse(
                    "lever.mount.pattern",
                    "wrong-count",
                    "the bolt pattern has two spacings: along and across the car",
                    "pattern = [\"80 mm\", \"60 mm\"]",
                );
                None
            }
            None => None,
        };
        Some(Some(Mount {
            bolts: self.read.text("lever.mount.bolts"),
            pattern,
            floor_sheet: Length::from_m(self.read.si("lever.mount.floor_sheet")?),
            spreader: Length::from_m(self.read.si("lever.mount.spreader")?),
            pivot_above_floor: Length::from_m(self.read.si("lever.mount.pivot_above_floor")?),
            grip_above_pivot: Length::from_m(self.read.si("lever.mount.grip_above_pivot")?),
        }))
    }
}

/// Knees that gauge readings give, one a setting, settings rising. A reading at or below the knee only says that the
/// knee is higher, and gives none.
fn measured_knees(readings: &[MeasuredValve], slope: f64) -> Vec<(f64, Pressure)> {
    let mut found: Vec<(f64, Vec<f64>)> = Vec::new();
    for reading in readings {
        let setting = match reading.setting {
            Some(Setting::Turns(turns)) => turns.turns(),
            Some(Setting::Position(position)) => f64::from(position),
            None => continue,
        };
        let Some(knee) = knee_pa(reading, slope) else {
            continue;
        };
        match found.iter_mut().find(|(known, _)| (known - setting).abs() < 1e-6) {
            Some((_, knees)) => knees.push(knee),
            None => found.push((setting, vec![knee])),
        }
    }
    found.sort_by(|one, other| one.0.total_cmp(&other.0));
    found
        .into_iter()
        .map(|(setting, knees)| (setting, Pressure::from_pa(mean(&knees))))
        .collect()
}

/// The knee that a reading above it gives (Pa); `None` at or below it.
fn knee_pa(reading: &MeasuredValve, slope: f64) -> Option<f64> {
    let (front, rear) = (reading.front.pa(), reading.rear.pa());
    (rear < front * 0.995 && slope < 1.0).then(|| ((rear - slope * front) / (1.0 - slope)).max(0.0))
}

fn mean(figures: &[f64]) -> f64 {
    let count = u32::try_from(figures.len()).map_or(1.0, f64::from);
    figures.iter().sum::<f64>() / count
}

use quantity::si::{Duration, Force, Length, Pressure, Temperature, Torque, Turns, Volume};

use super::super::Wheel;
use super::super::hydraulics::{Lever, LeverKind, Master, Outlets, Setting, Split};
use super::super::inputs::Value;
use super::super::key_id::KeyId;
use super::super::surroundings::{
    Air, AllMeasured, Before, Fluid, FluidGrade, Line, MeasuredPull, MeasuredSoak, MeasuredValve,
    MeasuredWheel, OldParking, PedalReadings, Pipe, Place, Places, Ports, PullPoint, Route, Routes,
};
use super::Bench;

impl Bench<'_> {
    pub(super) fn fluid(&mut self) -> Option<Fluid> {
        let grade = match self.read.word("fluid.grade")? {
            "DOT 3" => FluidGrade::Dot3,
            "DOT 5" => FluidGrade::Dot5,
            "DOT 5.1" => FluidGrade::Dot51,
            _ => FluidGrade::Dot4,
        };
        let [dry, wet] = grade.promises();
        let source = "the grade's minimum, 49 CFR 571.116 S5.1";
        let boiling_dry = Temperature::from_k(self.read.si_or("fluid.boiling.dry", dry, source)?);
        let boiling_wet = Temperature::from_k(self.read.si_or("fluid.boiling.wet", wet, source)?);
        if boiling_wet > boiling_dry {
            self.refuse(
                "fluid.boiling.wet",
                "contradiction",
                "wet fluid boils lower than dry",
                "the two figures on the bottle are dry (the higher) and wet",
            );
        }
        Some(Fluid {
            grade,
            fitted: self.read.date("fluid.fitted"),
            boiling_dry,
            boiling_wet,
        })
    }

    /// Only the routes that this arrangement has are read; the others are zero.
    pub(super) fn routes(&mut self, master: Option<&Master>, lever: Option<&Lever>) -> Option<Routes> {
        let _ = master?.split() == Split::Diagonal;
        let inline = lever.and_then(|lever| match &lever.kind {
            LeverKind::Inline(cylinder) => Some(cylinder),
            _ => None,
        });
        let separate = lever.is_some_and(|lever| matches!(lever.kind, LeverKind::Separate(..)));
        let own_tee = lever.is_some_and(
            |lever| matches!(&lever.kind, LeverKind::Separate(cylinder, _) if cylinder.outlets == Outlets::One),
        );
        let two_outlets = inline.is_some_and(|cylinder| cylinder.outlets != Outlets::One);
        let mut route = |path: &str, used: bool| {
            let figure = if used {
                self.read.si(path)
            } else {
                self.read.given_si(path)
            };
            figure.map_or(Route::NONE, |length_m| Route {
                length: Length::from_m(length_m),
                taped: self.read.measured(path, Route::ROUGH.m()),
            })
        };
        Some(Routes {
            master_to_bulkhead: route("routes.master_to_bulkhead", true),
            bulkhead_to_lever: route("routes.bulkhead_to_lever", inline.is_some()),
            lever_to_rear_tee: route("routes.lever_to_rear_tee", inline.is_some() && !two_outlets),
            bulkhead_to_rear_tee: route("routes.bulkhead_to_rear_tee", inline.is_none()),
            tee_to_rear_left: route("routes.tee_to_rear_left", true),
            tee_to_rear_right: route("routes.tee_to_rear_right", true),
            master_to_front_left: route("routes.master_to_front_left", true),
            master_to_front_right: route("routes.master_to_front_right", true),
            lever_to_lever_tee: route("routes.lever_to_lever_tee", own_tee),
            lever_tee_to_left: route("routes.lever_tee_to_left", separate),
            lever_tee_to_right: route("routes.lever_tee_to_right", separate),
        })
    }

    pub(super) fn lines(&mut self, lever_line: bool) -> [Line; 3] {
        ["front", "rear", "lever"].map(|which| {
            if which == "lever" && !lever_line && !self.read.inputs().has_table("lines.lever") {
                return Line {
                    pipe: Pipe::Steel316,
                    flexible_last: Route::NONE,
                    flexible: Pipe::Rubber,
                };
            }
            self.line(which)
        })
    }

    fn line(&mut self, which: &str) -> Line {
        let at = |name: &str| match which {
            "front" => KeyId::path_in("lines.front", name),
            "rear" => KeyId::path_in("lines.rear", name),
            _ => KeyId::path_in("lines.lever", name),
        };
        let pipe = self.read.word(&at("pipe")).map_or(Pipe::Steel316, pipe);
        let last = at("flexible_last");
        let is_hose = matches!(pipe, Pipe::Braided3 | Pipe::Rubber);
        let flexible_last = if self.read.inputs().has_table(&format!("lines.{which}")) {
            self.read.given_si(&last)
        } else {
            self.read.si_or(
                &last,
                "0.40 m ± 0.10 m",
                "the line is not described: taken as pipe with a hose at each wheel",
            )
        };
        let flexible_last = flexible_last.map_or(Route::NONE, |length_m| Route {
            length: Length::from_m(length_m),
            taped: self.read.measured(&last, Route::ROUGH.m()),
        });
        let flexible = if is_hose && flexible_last.length == Length::ZERO {
            pipe
        } else {
            self.read.word(&at("flexible")).map_or(Pipe::Rubber, self::pipe)
        };
        Line {
            pipe,
            flexible_last,
            flexible,
        }
    }

    pub(super) fn ports(&self) -> Ports {
        Ports {
            master: self.read.text("lines.ports.master"),
            bias_valve: self.read.text("lines.ports.bias_valve"),
            lever: self.read.text("lines.ports.lever"),
            caliper: self.read.text("lines.ports.caliper"),
            tee: self.read.text("lines.ports.tee"),
        }
    }

    pub(super) fn places(&mut self) -> Places {
        let mut place = |path: &str| {
            if self.read.word(path) == Some("cabin") {
                Place::Cabin
            } else {
                Place::Outside
            }
        };
        let (reservoir, lever_reservoir) = (place("places.reservoir"), place("places.lever_reservoir"));
        Places {
            reservoir,
            lever_reservoir,
            rear_run: if self.read.word("places.rear_run") == Some("inside") {
                Place::Cabin
            } else {
                Place::Outside
            },
            rear_clips: self.read.count("places.rear_clips"),
            rear_guard: self.read.flag("places.rear_guard"),
        }
    }

    pub(super) fn before(&mut self) -> Before {
        Before {
            factory_valve: self.read.flag("before.factory_valve"),
            parking: match self.read.word("before.parking") {
                Some("cable shoes") => OldParking::CableShoes,
                Some("cable in-caliper") => OldParking::CableInCaliper,
                Some("cable drum-in-disc") => OldParking::CableDrumInDisc,
                Some("electric") => OldParking::Electric,
                _ => OldParking::None,
            },
            old_rear_pipe: self
                .read
                .text("before.old_rear_pipe")
                .filter(|text| text.trim() != "none"),
        }
    }

    pub(super) fn air(&mut self) -> Option<Air> {
        Some(Air {
            front: Volume::from_m3(self.read.si("air.front")?),
            rear: Volume::from_m3(self.read.si("air.rear")?),
            lever: Volume::from_m3(self.read.si("air.lever")?),
        })
    }

    pub(super) fn measured(&mut self) -> AllMeasured {
        AllMeasured {
            valve: self.entries("measured.valve", Self::measured_valve),
            pull: self.entries("measured.pull", Self::measured_pull),
            pedal: self.entries("measured.pedal", Self::measured_pedal),
            wheel: self.entries("measured.wheel", Self::measured_wheel),
            soak: self.entries("measured.soak", Self::measured_soak),
        }
    }

    fn entries<T>(&mut self, group: &str, one: fn(&mut Self) -> Option<T>) -> Vec<T> {
        let mut all = Vec::new();
        for entry in 0..self.read.inputs().entries(group) {
            self.read.entry = entry;
            all.extend(one(self));
        }
        self.read.entry = 0;
        all
    }

    fn measured_valve(&mut self) -> Option<MeasuredValve> {
        let setting = match self.read.value("measured.valve[].setting") {
            Some(Value::Count(position)) => Some(Setting::Position(*position)),
            Some(_) => self
                .read
                .si("measured.valve[].setting")
                .map(|turns| Setting::Turns(Turns::from_turns(turns))),
            None => None,
        };
        self.read.date("measured.valve[].on");
        Some(MeasuredValve {
            setting,
            front: Pressure::from_pa(self.read.si("measured.valve[].front")?),
            rear: Pressure::from_pa(self.read.si("measured.valve[].rear")?),
        })
    }

    fn measured_pull(&mut self) -> Option<MeasuredPull> {
        let points = self.read.rows("measured.pull[].points")?;
        Some(MeasuredPull {
            on: self.read.date("measured.pull[].on"),
            points: points
                .iter()
                .filter_map(|row| {
                    Some(PullPoint {
                        travel: Length::from_m(*row.first()?),
                        pressure: Pressure::from_pa(*row.get(1)?),
                        hand: row.get(2).map(|&force| Force::from_n(force)),
                    })
                })
                .collect(),
        })
    }

    fn measured_pedal(&mut self) -> Option<PedalReadings> {
        let points = self.read.rows("measured.pedal[].points")?;
        Some(PedalReadings {
            on: self.read.date("measured.pedal[].on"),
            engine_on: self.read.word("measured.pedal[].engine") != Some("off"),
            second_press: self.read.value("measured.pedal[].press") == Some(&Value::Word("second")),
            points: points
                .iter()
                .filter_map(|row| Some((Force::from_n(*row.first()?), Pressure::from_pa(*row.get(1)?))))
                .collect(),
        })
    }

    fn measured_wheel(&mut self) -> Option<MeasuredWheel> {
        Some(MeasuredWheel {
            on: self.read.date("measured.wheel[].on"),
            wheel: match self.read.word("measured.wheel[].wheel")? {
                "front left" => Wheel::FrontLeft,
                "front right" => Wheel::FrontRight,
                "rear left" => Wheel::RearLeft,
                _ => Wheel::RearRight,
            },
            cold: self
                .read
                .word("measured.wheel[].brake")
                .map(|word| word == "cold"),
            pressure: Pressure::from_pa(self.read.si("measured.wheel[].pressure")?),
            torque: Torque::from_nm(self.read.si("measured.wheel[].torque")?),
        })
    }

    fn measured_soak(&mut self) -> Option<MeasuredSoak> {
        let air = match self.read.list("measured.soak[].air").as_deref() {
            Some([start, end]) => Some((Temperature::from_k(*start), Temperature::from_k(*end))),
            _ => None,
        };
        Some(MeasuredSoak {
            on: self.read.date("measured.soak[].on"),
            from: Pressure::from_pa(self.read.si("measured.soak[].from")?),
            to: Pressure::from_pa(self.read.si("measured.soak[].to")?),
            held_for: Duration::from_s(self.read.si("measured.soak[].in")?),
            air,
        })
    }
}

fn pipe(word: &str) -> Pipe {
    match word {
        "copper-nickel 3/16 in" => Pipe::CopperNickel316,
        "steel 1/4 in" => Pipe::Steel14,
        "copper-nickel 1/4 in" => Pipe::CopperNickel14,
        "braided hose -3" => Pipe::Braided3,
        "rubber hose" => Pipe::Rubber,
        _ => Pipe::Steel316,
    }
}

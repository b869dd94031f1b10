use std::sync::Arc;

use quantity::si::{Inertia, Length, Mass, Volume};

use super::super::body::{CgHeight, Geometry, Item, Lifted, Load, Tank, Tyres, Weighed, built_in_surfaces};
use super::Bench;
use crate::tyre::{GripCurve, Surface};

impl Bench<'_> {
    pub(super) fn weighed(&mut self) -> Option<Weighed> {
        let front = self.read.si("weighed.front").map(Mass::from_kg);
        let rear = self.read.si("weighed.rear").map(Mass::from_kg);
        let cg_height = self.cg_height();
        let has_tank = self.read.inputs().has_table("load.tank");
        let fuel_aboard = if has_tank {
            self.read.si("weighed.fuel_aboard")
        } else {
            self.read.given_si("weighed.fuel_aboard")
        };
        Some(Weighed {
            front: front?,
            rear: rear?,
            fuel_aboard: Volume::from_m3(fuel_aboard.unwrap_or(0.0)),
            cg_height: cg_height?,
        })
    }

    fn cg_height(&mut self) -> Option<CgHeight> {
        let raised = self.read.inputs().has_table("weighed.cg_raise");
        if !raised {
            return self
                .wanted(
                    "weighed.cg_height",
                    "give it, say \"guess\", or weigh the car with an axle lifted (cg_raise)",
                )
                .map(|height| CgHeight::Height(Length::from_m(height)));
        }
        if self.read.given("weighed.cg_height") {
            self.refuse_named(
                "weighed.cg_height",
                "contradiction",
                "and `weighed.cg_raise` both give the height of the centre of gravity",
                "keep cg_raise if the car was weighed with an axle lifted, and take cg_height out",
            );
        }
        let by = self.read.si("weighed.cg_raise.by")?;
        let (lifted, gains) = match self.read.word("weighed.cg_raise.lifted")? {
            "front" => (Lifted::Front, "weighed.cg_raise.rear_gains"),
            _ => (Lifted::Rear, "weighed.cg_raise.front_gains"),
        };
        let gain = self.wanted(gains, "what the scales under the other axle gained")?;
        if let Some(wheelbase) = self.read.si("geometry.wheelbase")
            && by > wheelbase / 3.0
        {
            self.refuse(
                "weighed.cg_raise.by",
                "lifted-too-far",
                format!("lifted by {by:.2} m, more than a third of the wheelbase ({:.2} m)", wheelbase / 3.0),
                "lift less: the formula holds up to a third of the wheelbase, and the car stays on its stands",
            );
        }
        Some(CgHeight::Raised {
            lifted,
            by: Length::from_m(by),
            gain: Mass::from_kg(gain),
        })
    }

    pub(super) fn geometry(&mut self) -> Option<Geometry> {
        let yaw_inertia = self
            .read
            .given_si("geometry.yaw_inertia")
            .map(Inertia::from_kg_m2);
        let rule = if yaw_inertia.is_none() {
            self.read.rule(
                "geometry.yaw_inertia",
                "0.95 × mass × a × b ± 15 %",
                YAW_INERTIA_RULE,
                0.15 * YAW_INERTIA_RULE,
            )
        } else {
            YAW_INERTIA_RULE
        };
        Some(Geometry {
            wheelbase: Length::from_m(self.read.si("geometry.wheelbase")?),
            front_track: Length::from_m(self.read.si("geometry.front_track")?),
            rear_track: Length::from_m(self.read.si("geometry.rear_track")?),
            yaw_inertia,
            yaw_inertia_rule: rule,
            roll_share_front: self.read.si("geometry.roll_share_front")?,
        })
    }

    pub(super) fn load(&mut self) -> Option<Load> {
        let is_silent = self.read.says_none("load.crew") || self.read.is_first_format();
        let crew = if self.read.inputs().has_table("load.crew") || !is_silent {
            Some(Item {
                name: Arc::from("crew"),
                mass: Mass::from_kg(self.read.si("load.crew.mass")?),
                aft: Length::from_m(self.read.si("load.crew.aft_of_front_axle")?),
                height: Length::from_m(self.read.si("load.crew.height")?),
            })
        } else {
            None
        };
        let tank = if self.read.inputs().has_table("load.tank") {
            Some(self.tank()?)
        } else {
            None
        };
        let mut items = Vec::new();
        for entry in 0..self.read.inputs().entries("load.item") {
            self.read.entry = entry;
            let item = self.item();
            self.read.entry = 0;
            items.push(item?);
        }
        Some(Load { crew, tank, items })
    }

    fn tank(&mut self) -> Option<Tank> {
        let capacity = self.read.si("load.tank.capacity")?;
        if let Some(aboard) = self.read.given_si("weighed.fuel_aboard")
            && aboard > capacity
        {
            self.refuse(
                "weighed.fuel_aboard",
                "contradiction",
                "more fuel aboard than the tank holds",
                "check the litres in the tank on the day of weighing, and `load.tank.capacity`",
            );
        }
        Some(Tank {
            capacity: Volume::from_m3(capacity),
            aft: Length::from_m(self.read.si("load.tank.aft_of_front_axle")?),
            height: Length::from_m(self.read.si("load.tank.height")?),
        })
    }

    fn item(&mut self) -> Option<Item> {
        Some(Item {
            name: self.read.text("load.item[].name")?,
            mass: Mass::from_kg(self.read.si("load.item[].mass")?),
            aft: Length::from_m(self.read.si("load.item[].aft_of_front_axle")?),
            height: Length::from_m(self.read.si("load.item[].height")?),
        })
    }

    pub(super) fn tyres(&mut self) -> Option<Tyres> {
        let both = "both axles have to be given where they differ";
        let under = self.read.inputs().has_table("tyres.rolling_radius");
        let (front_at, rear_at) = if under {
            ("tyres.rolling_radius.front", "tyres.rolling_radius.rear")
        } else {
            ("tyres.front", "tyres.rear")
        };
        let (front, rear) = if self.read.given(front_at) || self.read.given(rear_at) {
            self.only_one(front_at, "tyres.rolling_radius");
            self.only_one(rear_at, "tyres.rolling_radius");
            (self.wanted(front_at, both), self.wanted(rear_at, both))
        } else {
            let all = self.wanted(
                "tyres.rolling_radius",
                "every sheet needs it (or `tyres.front` and `tyres.rear`)",
            );
            (all, all)
        };
        Some(Tyres {
            front_radius: Length::from_m(front?),
            rear_radius: Length::from_m(rear?),
            wheel_inertia: Inertia::from_kg_m2(self.read.si("tyres.wheel_inertia")?),
            load_sensitivity: self.read.si("tyres.load_sensitivity")?,
        })
    }

    pub(super) fn surfaces(&mut self) -> Vec<Surface> {
        let mut surfaces = built_in_surfaces();
        for entry in 0..self.read.inputs().entries("surface") {
            self.read.entry = entry;
            if let Some(surface) = self.surface(&surfaces) {
                match surfaces
                    .iter_mut()
                    .find(|known| same_name(&known.name, &surface.name))
                {
                    Some(known) => *known = surface,
                    None => surfaces.push(surface),
                }
            }
            self.read.entry = 0;
        }
        surfaces
    }

    fn surface(&mut self, known: &[Surface]) -> Option<Surface> {
        let name = self.read.text("surface[].name")?;
        let base = known.iter().find(|surface| same_name(&surface.name, &name));
        let mut figure = |path: &str, of_base: Option<f64>| {
            self.read.given_si(path).or(of_base).or_else(|| {
                self.wanted(
                    path,
                    &format!("`{name}` is not a built-in surface, so all four figures are needed"),
                )
            })
        };
        let peak = figure("surface[].grip", base.map(|surface| surface.peak));
        let slip_at_peak = figure("surface[].slip_at_peak", base.map(|surface| surface.slip_at_peak));
        let slide_over_peak = figure(
            "surface[].slide_over_peak",
            base.map(|surface| surface.slide_over_peak),
        );
        let stiffness = figure("surface[].stiffness", base.map(|surface| surface.stiffness));
        let surface = Surface {
            name: Arc::clone(&name),
            peak: peak?,
            slip_at_peak: slip_at_peak?,
            slide_over_peak: slide_over_peak?,
            stiffness: stiffness?,
        };
        if let Err(why) = GripCurve::of(&surface) {
            self.refuse(
                "surface[].name",
                "impossible-surface",
                format!("surface `{name}`: {why}"),
                "take a built-in surface as a pattern: hard gravel is grip 0.65, slip_at_peak 0.30, slide_over_peak 0.93, stiffness 7",
            );
        }
        Some(surface)
    }

    pub(super) fn runs_on(&mut self, surfaces: &[Surface]) -> Vec<Arc<str>> {
        let names = self.read.texts("car.runs_on");
        for name in &names {
            if !surfaces.iter().any(|surface| same_name(&surface.name, name)) {
                let known: Vec<&str> = surfaces.iter().map(|surface| &*surface.name).collect();
                self.refuse(
                    "car.runs_on",
                    "unknown-surface",
                    format!("no surface is called `{name}`"),
                    format!("one of: {}; or describe it under [[surface]]", known.join(", ")),
                );
            }
        }
        names
    }
}

/// Yaw inertia over mass × the axles' distances from the centre of gravity, where it was not given.
const YAW_INERTIA_RULE: f64 = 0.95;

fn same_name(one: &str, other: &str) -> bool {
    one.trim().to_lowercase() == other.trim().to_lowercase()
}

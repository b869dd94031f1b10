//! From inputs to a car: defaults are taken, arrangements checked, and whatever physics does not allow is refused.
//! All refusals are found in one go.

mod body;
mod brakes;
mod checks;
mod drivetrain;
mod hydraulics;
mod pedal;
mod prepared;
mod surroundings;

use std::sync::Arc;

pub use prepared::Prepared;

use prepared::{Kept, Part, Parts};

use super::inputs::{DefaultUsed, Draw, Inputs, Reader, Slot};
use super::key_id::KeySet;
use super::refusal::{Refusal, Remedy};
use super::{Abs, Car, Remark, Surface};

/// A car, with what was said on the way to it.
#[derive(Clone, Debug)]
pub struct Assembled {
    /// The car, every toleranced figure at its middle.
    pub car: Car,
    /// Defaults that were taken, in the order in which they were needed.
    pub defaults_used: Vec<DefaultUsed>,
    /// Keys in use that carry a tolerance: what a draw may vary.
    pub toleranced: Vec<Slot>,
    /// Unusual figures, and keys without effect.
    pub warnings: Vec<Unusual>,
    /// What readings on the sheet put in the place of its figures.
    pub replaced: Vec<Replaced>,
}

/// A figure of the sheet in whose place a reading stands.
#[derive(Clone, Debug, PartialEq)]
pub struct Replaced {
    /// The entry that was read, counted from 1: `measured.pedal[1]`.
    pub by: String,
    /// Keys whose figures it replaces.
    pub keys: Vec<&'static str>,
    /// What is computed with now.
    pub said: Remark,
}

/// Something unusual that does not stop the computation.
#[derive(Clone, Debug, PartialEq)]
pub struct Unusual {
    /// Path of the key that it concerns.
    pub path: String,
    /// What is unusual about it, with the usual range.
    pub text: Remark,
}

impl Car {
    /// Builds the car that a sheet describes.
    ///
    /// # Errors
    /// Every missing key, every figure outside what physics allows and every arrangement that contradicts itself.
    pub fn assemble(inputs: &Inputs) -> Result<Assembled, Vec<Refusal>> {
        let mut bench = Bench::new(Reader::new(inputs));
        checks::needed(&mut bench);
        checks::ranges(&mut bench);
        let car = bench.car();
        checks::stands(&mut bench, car.as_ref());
        if bench.read.is_first_format() {
            bench.warn(
                "format",
                "format 1 is read with its old meanings: no crew, no booster and front-wheel drive where nothing is said; `check-sheet --upgrade` writes them out",
            );
        }
        if bench.refusals.is_empty() {
            checks::unusual(&mut bench, &car);
        }
        match car {
            Some(car) if bench.refusals.is_empty() => Ok(Assembled {
                car,
                defaults_used: bench.read.defaults_used,
                toleranced: bench.read.toleranced,
                warnings: bench.warnings,
                replaced: bench.replaced,
            }),
            _ => Err(bench.refusals),
        }
    }

    /// Builds one car of the many that the tolerances allow. `None` where the drawn figures together are impossible
    /// (a shoe that locks itself, say), though each is possible by itself. For many of them, see [`Prepared`].
    #[must_use]
    pub fn drawn(inputs: &Inputs, draw: &Draw) -> Option<Self> {
        Bench::new(Reader::silent(inputs, &[], Some(draw), None))
            .standing()
            .ok()
    }
}

/// What a car is called and where it runs.
struct About {
    name: Arc<str>,
    build: Option<Arc<str>>,
    road_registered: bool,
    runs_on: Vec<Arc<str>>,
    abs: Abs,
}

impl About {
    fn of(car: &Car) -> Self {
        Self {
            name: Arc::clone(&car.name),
            build: car.build.clone(),
            road_registered: car.road_registered,
            runs_on: car.runs_on.clone(),
            abs: car.abs,
        }
    }
}

/// Where a car is put together.
struct Bench<'a> {
    read: Reader<'a>,
    refusals: Vec<Refusal>,
    warnings: Vec<Unusual>,
    replaced: Vec<Replaced>,
    /// Keys that each part asked for.
    asked: Parts<KeySet>,
    /// A car of which parts are kept, and the keys that are other than its sheet's.
    kept: Option<(&'a Kept, KeySet)>,
    /// Parts that were put together anew.
    anew: Parts<bool>,
}

impl<'a> Bench<'a> {
    fn new(read: Reader<'a>) -> Self {
        Self {
            read,
            refusals: Vec::new(),
            warnings: Vec::new(),
            replaced: Vec::new(),
            asked: Parts::default(),
            kept: None,
            anew: Parts::default(),
        }
    }

    /// The car, if it stands on its wheels.
    fn standing(mut self) -> Result<Car, Vec<Refusal>> {
        let car = self.car();
        checks::stands(&mut self, car.as_ref());
        match car {
            Some(car) if self.refusals.is_empty() => Ok(car),
            _ => Err(self.refusals),
        }
    }

    /// A part of the car: as it is kept, where nothing changed of what it asks for; otherwise made. `after`: parts that
    /// it is made from.
    fn part<T>(
        &mut self,
        part: Part,
        after: &[Part],
        kept_of: impl Fn(&Car) -> T,
        make: impl FnOnce(&mut Self) -> Option<T>,
    ) -> Option<T> {
        if let Some((kept, changed)) = self.kept
            && !kept.asked[part].meets(&changed)
            && !after.iter().any(|&before| self.anew[before])
        {
            return Some(kept_of(&kept.car));
        }
        self.anew[part] = true;
        self.read.take_asked();
        let made = make(self);
        self.asked[part] = self.read.take_asked();
        made
    }

    fn car(&mut self) -> Option<Car> {
        let weighed = self.part(Part::Weighed, &[], |car| car.weighed, Self::weighed);
        let geometry = self.part(Part::Geometry, &[], |car| car.geometry, Self::geometry);
        let load = self.part(Part::Load, &[], |car| car.load.clone(), Self::load);
        let tyres = self.part(Part::Tyres, &[], |car| car.tyres, Self::tyres);
        let surfaces = self.part(
            Part::Surfaces,
            &[],
            |car| car.surfaces.clone(),
            |bench| Some(bench.surfaces()),
        )?;
        let master = self.part(Part::Master, &[], |car| car.master, Self::master);
        let measured = self.part(
            Part::Measured,
            &[],
            |car| car.measured.clone(),
            |bench| Some(bench.measured()),
        )?;
        let lever_brake = self.part(
            Part::LeverBrake,
            &[],
            |car| car.lever_brake.clone(),
            |bench| Some(bench.lever_brake()),
        )?;
        let lever = self.part(
            Part::Lever,
            &[Part::LeverBrake],
            |car| car.lever.clone(),
            |bench| bench.lever(lever_brake.as_ref()),
        );
        let bias_valve = self.part(
            Part::BiasValve,
            &[Part::Measured],
            |car| car.bias_valve.clone(),
            |bench| bench.bias_valve(&measured.valve),
        );
        let pedal = self.part(
            Part::Pedal,
            &[Part::Measured, Part::Master],
            |car| car.pedal,
            |bench| bench.pedal(&measured.pedal, master.as_ref()),
        );
        let front_brake = self.part(
            Part::FrontBrake,
            &[],
            |car| car.front_brake.clone(),
            |bench| bench.brake("front_brake"),
        );
        let rear_brake = self.part(
            Part::RearBrake,
            &[],
            |car| car.rear_brake.clone(),
            |bench| bench.brake("rear_brake"),
        );
        let drivetrain = self.part(
            Part::Drivetrain,
            &[],
            |car| car.drivetrain.clone(),
            Self::drivetrain,
        );
        let fluid = self.part(Part::Fluid, &[], |car| car.fluid, Self::fluid);
        let routes = self.part(
            Part::Routes,
            &[Part::Master, Part::Lever],
            |car| car.routes,
            |bench| bench.routes(master.as_ref(), lever.as_ref().and_then(Option::as_ref)),
        );
        let [front_line, rear_line, lever_line] = self.part(
            Part::Lines,
            &[Part::LeverBrake],
            |car| [car.front_line, car.rear_line, car.lever_line],
            |bench| Some(bench.lines(lever_brake.is_some())),
        )?;
        self.read.count("format");
        let about = self.part(Part::About, &[Part::Surfaces], About::of, |bench| {
            bench.about(&surfaces)
        })?;
        Some(Car {
            name: about.name,
            build: about.build,
            road_registered: about.road_registered,
            runs_on: about.runs_on,
            abs: about.abs,
            weighed: weighed?,
            geometry: geometry?,
            load: load?,
            tyres: tyres?,
            surfaces,
            pedal: pedal?,
            master: master?,
            bias_valve: bias_valve?,
            lever: lever?,
            front_brake: front_brake?,
            rear_brake: rear_brake?,
            lever_brake,
            drivetrain: drivetrain?,
            fluid: fluid?,
            routes: routes?,
            front_line,
            rear_line,
            lever_line,
            ports: self.part(
                Part::Ports,
                &[],
                |car| car.ports.clone(),
                |bench| Some(bench.ports()),
            )?,
            places: self.part(Part::Places, &[], |car| car.places, |bench| Some(bench.places()))?,
            before: self.part(
                Part::Before,
                &[],
                |car| car.before.clone(),
                |bench| Some(bench.before()),
            )?,
            air: self.part(Part::Air, &[], |car| car.air, Self::air)?,
            measured,
        })
    }

    fn about(&mut self, surfaces: &[Surface]) -> Option<About> {
        Some(About {
            name: self.read.text("car.name")?,
            build: self.read.text("car.build"),
            road_registered: self.read.flag("car.road_registered"),
            runs_on: self.runs_on(surfaces),
            abs: match self.read.word("car.abs") {
                Some("fitted") => Abs::Fitted,
                Some("removed") => Abs::Removed,
                _ => Abs::None,
            },
        })
    }

    fn refuse(&mut self, path: &str, slug: &'static str, text: impl Into<String>, remedy: impl Into<Remedy>) {
        self.push(Refusal {
            path: self.full(path),
            slug,
            text: text.into(),
            names_its_key: false,
            remedy: remedy.into(),
        });
    }

    /// Refuses in words that begin with the key itself.
    fn refuse_named(&mut self, path: &str, slug: &'static str, text: &str, remedy: impl Into<Remedy>) {
        let path = self.full(path);
        self.push(Refusal {
            text: format!("`{path}` {text}"),
            path,
            slug,
            names_its_key: true,
            remedy: remedy.into(),
        });
    }

    fn push(&mut self, refusal: Refusal) {
        if !self.refusals.contains(&refusal) {
            self.refusals.push(refusal);
        }
    }

    /// A path with the number of the entry that is being read.
    fn full(&self, path: &str) -> String {
        self.read
            .slot(path)
            .map_or_else(|| path.to_owned(), |slot| slot.path())
    }

    fn warn(&mut self, path: &str, text: impl Into<Remark>) {
        if !self.read.tells {
            return;
        }
        self.warnings.push(Unusual {
            path: self.full(path),
            text: text.into(),
        });
    }

    /// The figure at a key that this arrangement needs.
    fn wanted(&mut self, path: &str, because: &str) -> Option<f64> {
        let figure = if self.read.given(path) {
            self.read.si(path)
        } else {
            None
        };
        if figure.is_none() {
            self.missing(path, because);
        }
        figure
    }

    /// Refuses for want of a key, unless that was said already.
    fn missing(&mut self, path: &str, because: &str) {
        let find_out =
            super::KeyId::of(path).map_or_else(|| "look at the keys there are".into(), Remedy::FindOut);
        self.refuse_named(path, "missing-key", &format!("is missing: {because}"), find_out);
    }

    /// Refuses two keys of which only one may stand.
    fn only_one(&mut self, one: &str, other: &str) {
        if self.read.given(one) && self.read.given(other) {
            self.refuse_named(
                other,
                "contradiction",
                &format!("says the same thing as `{one}`"),
                "keep the one that was measured and take the other out",
            );
        }
    }
}

//! From inputs to a car: defaults are taken, arrangements checked, and whatever physics does not allow is refused.
//! All refusals are found in one go.

mod body;
mod brakes;
mod checks;
mod drivetrain;
mod hydraulics;
mod pedal;
mod surroundings;

use super::inputs::{DefaultUsed, Draw, Inputs, Reader, Slot};
use super::refusal::Refusal;
use super::{Abs, Car, Remark};

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
        let mut bench = Bench::new(inputs, None);
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
    /// (a shoe that locks itself, say), though each is possible by itself.
    #[must_use]
    pub fn drawn(inputs: &Inputs, draw: &Draw) -> Option<Self> {
        let mut bench = Bench::new(inputs, Some(draw));
        let car = bench.car();
        checks::stands(&mut bench, car.as_ref());
        car.filter(|_| bench.refusals.is_empty())
    }
}

/// Where a car is put together.
struct Bench<'a> {
    read: Reader<'a>,
    refusals: Vec<Refusal>,
    warnings: Vec<Unusual>,
    replaced: Vec<Replaced>,
}

impl<'a> Bench<'a> {
    fn new(inputs: &'a Inputs, draw: Option<&'a Draw>) -> Self {
        Self {
            read: Reader::new(inputs, draw),
            refusals: Vec::new(),
            warnings: Vec::new(),
            replaced: Vec::new(),
        }
    }

    fn car(&mut self) -> Option<Car> {
        let (weighed, geometry, load, tyres) = (self.weighed(), self.geometry(), self.load(), self.tyres());
        let surfaces = self.surfaces();
        let master = self.master();
        let measured = self.measured();
        let lever_brake = self.lever_brake();
        let lever = self.lever(lever_brake.as_ref());
        let bias_valve = self.bias_valve(&measured.valve);
        let pedal = self.pedal(&measured.pedal, master.as_ref());
        let (front_brake, rear_brake) = (self.brake("front_brake"), self.brake("rear_brake"));
        let drivetrain = self.drivetrain();
        let fluid = self.fluid();
        let routes = self.routes(master.as_ref(), lever.as_ref().and_then(Option::as_ref));
        let [front_line, rear_line, lever_line] = self.lines(lever_brake.is_some());
        self.read.count("format");
        Some(Car {
            name: self.read.text("car.name")?,
            build: self.read.text("car.build"),
            road_registered: self.read.flag("car.road_registered"),
            runs_on: self.runs_on(&surfaces),
            abs: match self.read.word("car.abs") {
                Some("fitted") => Abs::Fitted,
                Some("removed") => Abs::Removed,
                _ => Abs::None,
            },
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
            ports: self.ports(),
            places: self.places(),
            before: self.before(),
            air: self.air()?,
            measured,
        })
    }

    fn refuse(&mut self, path: &str, slug: &'static str, text: impl Into<String>, remedy: impl Into<String>) {
        let path = self
            .read
            .slot(path)
            .map_or_else(|| path.to_owned(), |slot| slot.path());
        let refusal = Refusal {
            path,
            slug,
            text: text.into(),
            remedy: remedy.into(),
        };
        if !self.refusals.contains(&refusal) {
            self.refusals.push(refusal);
        }
    }

    fn warn(&mut self, path: &str, text: impl Into<Remark>) {
        let path = self
            .read
            .slot(path)
            .map_or_else(|| path.to_owned(), |slot| slot.path());
        self.warnings.push(Unusual {
            path,
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
        let help = super::KeyId::of(path).map_or_else(String::new, |id| id.key().help_as_text());
        self.refuse(
            path,
            "missing-key",
            format!("`{path}` is missing: {because}"),
            help,
        );
    }

    /// Refuses two keys of which only one may stand.
    fn only_one(&mut self, one: &str, other: &str) {
        if self.read.given(one) && self.read.given(other) {
            self.refuse(
                other,
                "contradiction",
                format!("`{one}` and `{other}` both say the same thing"),
                "keep the one that was measured and take the other out",
            );
        }
    }
}

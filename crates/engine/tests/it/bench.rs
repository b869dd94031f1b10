//! Cars to test on: a plain one with changes, and the written ones; and how many random ones a property is tried on.

use std::path::{Path, PathBuf};

use engine::brake::Warmth;
use engine::car::{Assembled, Car, Inputs, KeyId, LeverKind, Refusal, Slot, Value, ValvePlace};
use engine::hydraulics::{Forces, Hydraulics, Response};
use engine::loads::{Aboard, Laden};
use proptest::prelude::ProptestConfig;
use quantity::si::{Force, Length, Speed};
use quantity::{Amount, Dimension};

use Said::{Count, Flag, List, Rows, Si, Text, Word};

/// 50 km/h.
pub(crate) const SPEED: Speed = Speed::from_m_s(50.0 / 3.6);

/// 64 cases a property, or as many as `PROPTEST_CASES` says.
pub(crate) fn cases() -> ProptestConfig {
    let cases = std::env::var("PROPTEST_CASES")
        .ok()
        .and_then(|cases| cases.parse().ok())
        .unwrap_or(64);
    ProptestConfig {
        cases,
        failure_persistence: None,
        ..ProptestConfig::default()
    }
}

/// What a sheet says at one key, in SI.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Said {
    Si(f64),
    List(Vec<f64>),
    Rows(Vec<Vec<(Dimension, f64)>>),
    Word(&'static str),
    Text(&'static str),
    Flag(bool),
    Count(u32),
}

/// A sheet, key by key. Later keys overrule earlier ones.
#[derive(Clone, Default, PartialEq)]
pub(crate) struct Sheet(pub(crate) Vec<(String, Said)>);

impl core::fmt::Debug for Sheet {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        self.0
            .iter()
            .try_for_each(|(path, said)| writeln!(f, "{path} = {said:?}"))
    }
}

impl Sheet {
    pub(crate) fn of(keys: &[(&str, Said)]) -> Self {
        Self(
            keys.iter()
                .map(|(path, said)| ((*path).to_owned(), said.clone()))
                .collect(),
        )
    }

    pub(crate) fn with(mut self, keys: &[(&str, Said)]) -> Self {
        self.0.extend(Self::of(keys).0);
        self
    }

    pub(crate) fn inputs(&self) -> Inputs {
        let mut inputs = Inputs::default();
        for (path, said) in &self.0 {
            put(&mut inputs, path, said);
        }
        inputs
    }

    pub(crate) fn assemble(&self) -> Result<Assembled, Vec<Refusal>> {
        Car::assemble(&self.inputs())
    }

    pub(crate) fn car(&self) -> Car {
        self.assemble()
            .unwrap_or_else(|refusals| panic!("{refusals:#?}\n{self:?}"))
            .car
    }
}

/// Writes one key down. `load.item[2].mass` is the second entry's.
pub(crate) fn put(inputs: &mut Inputs, path: &str, said: &Said) {
    let (path, entry) = match (path.find('['), path.find(']')) {
        (Some(open), Some(close)) => {
            let entry: usize = path[open + 1..close].parse().unwrap();
            (format!("{}[]{}", &path[..open], &path[close + 1..]), entry - 1)
        }
        _ => (path.to_owned(), 0),
    };
    let key = KeyId::of(&path).unwrap_or_else(|| panic!("no key {path}"));
    let dimension = key.key().dimension().unwrap_or(Dimension::Ratio);
    let value = match said {
        Si(si) => Value::Amount(Amount::exact(dimension, *si)),
        List(list) => Value::Amounts(list.iter().map(|&si| Amount::exact(dimension, si)).collect()),
        Rows(rows) => Value::Rows(
            rows.iter()
                .map(|row| {
                    row.iter()
                        .map(|&(dimension, si)| Amount::exact(dimension, si))
                        .collect()
                })
                .collect(),
        ),
        Word(word) => Value::Word(word),
        Text(text) => Value::Text((*text).into()),
        Flag(flag) => Value::Flag(*flag),
        Count(count) => Value::Count(*count),
    };
    inputs.set(Slot { key, entry }, value);
}

/// A rear-driven car with discs, a tandem cylinder, no valve and no lever; invented.
pub(crate) fn plain() -> Sheet {
    let mut sheet = Sheet::of(&[
        ("format", Count(2)),
        ("load.crew", Word("none")),
        ("pedal.booster", Word("none")),
        ("bias_valve", Word("none")),
        ("car.name", Text("Plain")),
        ("weighed.front", Si(700.0)),
        ("weighed.rear", Si(550.0)),
        ("weighed.cg_height", Si(0.52)),
        ("geometry.wheelbase", Si(2.55)),
        ("tyres.rolling_radius", Si(0.31)),
        ("pedal.ratio", Si(5.0)),
        ("master.kind", Word("tandem")),
        ("master.bore", Si(0.0222)),
        ("master.split", Word("axle")),
        ("drivetrain.driven", Word("rear")),
    ]);
    for (end, piston) in [("front", 0.054), ("rear", 0.038)] {
        let at = |name: &str| format!("{end}_brake.{name}");
        sheet.0.extend([
            (at("kind"), Word("disc")),
            (at("caliper.layout"), Word("sliding")),
            (at("caliper.pistons"), List(vec![piston])),
            (at("effective_radius"), Si(0.115)),
            (at("pad.friction"), Si(0.40)),
        ]);
    }
    sheet
}

/// An inline lever.
pub(crate) fn lever() -> Vec<(&'static str, Said)> {
    vec![
        ("lever.kind", Word("inline")),
        ("lever.bore", Si(0.0175)),
        ("lever.ratio", Si(7.0)),
        ("lever.hand_pull", Si(280.0)),
        ("lever.stroke", Si(0.026)),
        ("lever.room", Si(0.22)),
    ]
}

/// A separate lever with its own calipers.
pub(crate) fn separate() -> Vec<(&'static str, Said)> {
    let mut keys = lever();
    keys[0].1 = Word("separate");
    keys.extend([
        ("lever_brake.kind", Word("disc")),
        ("lever_brake.caliper.layout", Word("opposed")),
        ("lever_brake.caliper.pistons", List(vec![0.034])),
        ("lever_brake.effective_radius", Si(0.11)),
        ("lever_brake.pad.friction", Si(0.42)),
    ]);
    keys
}

/// The car's own answer with nobody aboard.
pub(crate) fn ask(car: &Car, foot_n: f64, hand_n: f64) -> Response {
    ask_with(&Hydraulics::of(car, Warmth::Warm), car, foot_n, hand_n)
}

/// An answer of other hydraulics.
pub(crate) fn ask_with(hydraulics: &Hydraulics, car: &Car, foot_n: f64, hand_n: f64) -> Response {
    let asked = Forces {
        foot: Force::from_n(foot_n),
        hand: Force::from_n(hand_n),
    };
    hydraulics.answer(&Laden::of(car, Aboard::default()), asked)
}

/// Whether a valve stands behind an inline lever.
pub(crate) fn valve_behind_lever(car: &Car) -> bool {
    let inline = car
        .lever
        .as_ref()
        .is_some_and(|lever| matches!(lever.kind, LeverKind::Inline(_)));
    inline
        && car
            .bias_valve
            .as_ref()
            .is_some_and(|valve| valve.place == ValvePlace::AfterLever)
}

/// Whether the valve's knee hangs on the load.
pub(crate) fn senses_load(car: &Car) -> bool {
    car.bias_valve
        .as_ref()
        .is_some_and(engine::car::BiasValve::senses_load)
}

/// The repository.
pub(crate) fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../../..")
}

/// Every written car: the demonstration's and the second reading's, by name.
pub(crate) fn written() -> Vec<(String, Car)> {
    written_inputs()
        .into_iter()
        .map(|(name, inputs)| {
            let car = Car::assemble(&inputs)
                .unwrap_or_else(|refusals| panic!("{name}: {refusals:#?}"))
                .car;
            (name, car)
        })
        .collect()
}

/// The same, as the sheets say it.
pub(crate) fn written_inputs() -> Vec<(String, Inputs)> {
    let folder = |path: &str| {
        let mut paths: Vec<PathBuf> = std::fs::read_dir(root().join(path))
            .unwrap()
            .map(|entry| entry.unwrap().path())
            .collect();
        paths.sort();
        paths
    };
    let demo = folder("demo")
        .into_iter()
        .map(|path| path.join("car.toml"))
        .filter(|path| path.exists());
    let second = folder("validation/second_reading/cars").into_iter();
    let cars: Vec<(String, Inputs)> = demo
        .chain(second)
        .map(|path| {
            let name = path.strip_prefix(root()).unwrap().display().to_string();
            let read = sheet::read(&std::fs::read(&path).unwrap(), &name);
            assert!(read.problems().is_empty(), "{name}: {:?}", read.problems());
            (name, read.inputs)
        })
        .collect();
    assert!(cars.len() >= 18, "{} cars", cars.len());
    cars
}

/// A demonstration car, and what its sheet says.
pub(crate) fn demo(name: &str) -> (Assembled, Inputs) {
    let wanted = format!("demo/{name}/car.toml");
    let (_, inputs) = written_inputs()
        .into_iter()
        .find(|(path, _)| *path == wanted)
        .unwrap_or_else(|| panic!("no {wanted}"));
    let assembled = Car::assemble(&inputs).unwrap_or_else(|refusals| panic!("{name}: {refusals:#?}"));
    (assembled, inputs)
}

/// A figure as it was worked out by hand, to so much of it.
#[track_caller]
pub(crate) fn near(got: f64, by_hand: f64, relative: f64) {
    assert!(
        (got - by_hand).abs() <= relative * by_hand.abs(),
        "{got}, by hand {by_hand}"
    );
}

/// A car with nobody aboard.
pub(crate) fn as_weighed(car: &Car) -> Laden {
    Laden::of(car, Aboard::AS_WEIGHED)
}

/// The pedal so strong, and its stroke so long, that it decides nothing.
pub(crate) fn with_endless_pedal(mut car: Car) -> Car {
    car.pedal.ratio *= 100.0;
    car.pedal.booster = None;
    let long = Length::from_m(100.0);
    match &mut car.master {
        engine::car::Master::Tandem { stroke, .. } | engine::car::Master::Twin { stroke, .. } => {
            *stroke = long
        }
    }
    car
}

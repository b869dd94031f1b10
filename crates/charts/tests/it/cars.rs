//! Cars to draw: the demonstration cars, and arrangements that none of them has.

use engine::car::{Cable, Car, Knee, LeverKind, Master, Outlets, Split, ValvePlace};
use engine::lever::other_layout;
use engine::thresholds::FOOT_LIMIT;
use quantity::si::{Force, Length, Pressure};

/// The demonstration cars, by folder.
pub(crate) const DEMO: [&str; 6] = ["bin", "half-known", "scree", "sedge", "tarn", "tarn-let-go"];

/// A demonstration car.
pub(crate) fn demo(name: &str) -> Car {
    let path = format!("{}/../../demo/{name}/car.toml", env!("CARGO_MANIFEST_DIR"));
    let bytes = std::fs::read(&path).unwrap();
    match sheet::assemble(&bytes, &path) {
        Ok((assembled, _)) => assembled.car,
        Err(problems) => panic!("{problems}"),
    }
}

fn split(car: &mut Car, to: Split) {
    if let Master::Tandem { split, .. } = &mut car.master {
        *split = to;
    }
}

fn outlets(car: &mut Car, to: Outlets) {
    if let Some(lever) = &mut car.lever
        && let LeverKind::Inline(cylinder) | LeverKind::Separate(cylinder, _) = &mut lever.kind
    {
        cylinder.outlets = to;
    }
}

/// Every arrangement of circuit and lever, by name.
pub(crate) fn arrangements() -> Vec<(String, Car)> {
    let tarn = demo("tarn");
    let with = |change: &dyn Fn(&mut Car)| {
        let mut car = tarn.clone();
        change(&mut car);
        car
    };
    let cable = Cable {
        ratio: 14.0,
        efficiency: 0.75,
    };
    let separate = other_layout(&tarn).unwrap().1;
    let mut all: Vec<(String, Car)> = [
        ("no lever", with(&|car| car.lever = None)),
        (
            "no lever, no valve",
            with(&|car| (car.lever, car.bias_valve) = (None, None)),
        ),
        (
            "cable",
            with(&|car| car.lever.as_mut().unwrap().kind = LeverKind::Cable(cable)),
        ),
        ("two outlets", with(&|car| outlets(car, Outlets::Tandem))),
        (
            "valve after two outlets",
            with(&|car| {
                outlets(car, Outlets::SideBySide);
                car.bias_valve.as_mut().unwrap().place = ValvePlace::AfterLever;
            }),
        ),
        ("diagonal, joined", with(&|car| split(car, Split::Diagonal))),
        (
            "diagonal, two outlets",
            with(&|car| {
                split(car, Split::Diagonal);
                outlets(car, Outlets::Tandem);
            }),
        ),
        (
            "diagonal, no lever",
            with(&|car| {
                split(car, Split::Diagonal);
                car.lever = None;
            }),
        ),
        (
            "diagonal, cable",
            with(&|car| {
                split(car, Split::Diagonal);
                car.lever.as_mut().unwrap().kind = LeverKind::Cable(cable);
            }),
        ),
        ("separate", separate.clone()),
    ]
    .into_iter()
    .map(|(name, car)| (name.to_owned(), car))
    .collect();
    let mut two = separate.clone();
    outlets(&mut two, Outlets::SideBySide);
    all.push(("separate, two outlets".into(), two));
    let mut across = separate;
    split(&mut across, Split::Diagonal);
    all.push(("diagonal, separate".into(), across));
    let mut sensing = tarn.clone();
    sensing.bias_valve.as_mut().unwrap().knee = Knee::OverRearLoad {
        empty: (Force::from_n(4000.0), Pressure::from_pa(15e5)),
        laden: (Force::from_n(7000.0), Pressure::from_pa(60e5)),
    };
    all.push(("load-sensing valve".into(), sensing));
    all
}

/// Cars at the ends of what can be.
pub(crate) fn extremes() -> Vec<(String, Car)> {
    let tarn = demo("tarn");
    let mut weak = tarn.clone();
    weak.pedal.booster = None;
    weak.pedal.ratio = 0.05;
    let mut strong = tarn.clone();
    strong.pedal.ratio = 900.0;
    strong.weighed.front = strong.weighed.front * 300.0;
    strong.weighed.rear = strong.weighed.rear * 300.0;
    let mut named = tarn.clone();
    named.name =
        "<script>alert('& \"long\"')</script> ラリー車 a name that goes on and on and on and on".into();
    let mut stuck = tarn;
    let lever = stuck.lever.as_mut().unwrap();
    lever.room = Length::from_m(1e-4);
    lever.hand_pull = FOOT_LIMIT * 1e3;
    [
        ("never locks", weak),
        ("a million newtons", strong),
        ("a name", named),
        ("no room", stuck),
    ]
    .into_iter()
    .map(|(name, car)| (name.to_owned(), car))
    .collect()
}

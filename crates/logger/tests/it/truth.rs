//! The demonstration log, and whether what was hidden in it is found again.

use std::path::Path;

use engine::car::{Axle, Brake, Car};
use engine::loads::{Aboard, Laden};
use logger::demonstration::{Truth, write_log};
use logger::{Examined, Log, PadsFound, WorkedBy, examine, read};
use sheet::ColumnMap;

pub(crate) fn car(name: &str) -> Car {
    let path = Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("../../demo")
        .join(name)
        .join("car.toml");
    let read = sheet::read(&std::fs::read(path).unwrap(), name);
    assert!(read.problems().is_empty(), "{:?}", read.problems());
    Car::assemble(&read.inputs).unwrap().car
}

pub(crate) fn made(car: &Car, truth: Truth, seed: u64) -> Vec<u8> {
    let mut bytes = Vec::new();
    write_log(car, truth, seed, &mut bytes).unwrap();
    bytes
}

pub(crate) fn log(bytes: &[u8]) -> Log {
    read(bytes, &ColumnMap::default(), None, &mut |_| ()).unwrap()
}

fn found(car: &Car, bytes: &[u8]) -> Examined {
    examine(&log(bytes), car, &Laden::of(car, Aboard::default()))
}

/// Valve, lag, pads, zeros, stops, the pull and the locked wheels of the demonstration car, with three seeds.
#[test]
fn the_truth_is_found_again_within_its_errors() {
    let car = car("tarn");
    let truth = Truth::default();
    for seed in [1, 2, 3] {
        let found = found(&car, &made(&car, truth, seed));
        let valve = car.bias_valve.as_ref().unwrap();
        let split = found.split.as_ref().unwrap();
        let knee = split.read.settings[0].knee.unwrap();
        let true_knee = valve.knee_at(quantity::si::Force::ZERO).pa() * truth.knee;
        assert!(
            (knee.value.pa() - true_knee).abs() < (2.6 * knee.se.pa()).min(1.5e5),
            "{seed}: {knee:?} {true_knee}"
        );
        let slope = split.read.slope.unwrap();
        let true_slope = valve.slope * truth.slope;
        assert!(
            (slope.value - true_slope).abs() < (2.6 * slope.se).min(0.03),
            "{seed}: {slope:?}"
        );
        let lag = split.lag.unwrap();
        assert!(
            (lag.lag.s() - truth.lag.s()).abs() <= lag.unsure.s() + 0.005,
            "{seed}: {lag:?}"
        );
        let Some(PadsFound::Both(front, rear)) = &found.pads else {
            panic!("{seed}: {:?}", found.pads)
        };
        assert!(
            (front.over_sheet.0 - truth.front_friction).abs() < (2.0 * front.over_sheet.1).min(0.05),
            "{seed}: {front:?}"
        );
        assert!(
            (rear.over_sheet.0 - truth.rear_friction).abs() < (2.0 * rear.over_sheet.1).min(0.12),
            "{seed}: {rear:?}"
        );
        for (zero, true_zero) in found.zeros.iter().zip(truth.zeros) {
            assert!((zero.pa() - true_zero.pa()).abs() < 0.06e5, "{seed}: {zero:?}");
        }
        let feet = found
            .events
            .iter()
            .filter(|event| event.by == WorkedBy::Foot)
            .count();
        let hands = found
            .events
            .iter()
            .filter(|event| event.by == WorkedBy::Hand)
            .count();
        assert_eq!((feet, hands), (8, 1), "{seed}: {:#?}", found.events);
        assert!(found.events.iter().all(|event| !event.has_gap));
        // Stamped on, wheels stand; the coupling ties the axles, so that both do.
        let stood = |axle| {
            found
                .locks
                .iter()
                .any(|lock| lock.axle == axle && lock.by == WorkedBy::Foot)
        };
        assert!(stood(Axle::Front), "{seed}: {:?}", found.locks);
        assert_eq!(found.heat.len(), 2);
    }
}

#[test]
fn offers_name_keys_that_the_sheet_takes() {
    let name = "tarn";
    let car = car(name);
    let found = found(&car, &made(&car, Truth::default(), 4));
    let keys: Vec<&str> = found.offers.iter().map(|offer| offer.key.as_str()).collect();
    assert_eq!(
        keys,
        [
            "bias_valve.slope",
            "measured.valve[]",
            "front_brake.pad.friction",
            "rear_brake.pad.friction"
        ]
    );
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../demo/tarn/car.toml");
    let mut text = std::fs::read_to_string(path).unwrap();
    for offer in &found.offers {
        text = match offer.key.strip_suffix("[]") {
            Some(table) => {
                let inside = offer.value.trim_matches(['{', '}', ' ']).replace(", ", "\n");
                format!("{text}\n[[{table}]]\n{inside}\n")
            }
            None => sheet::splice(&text, &offer.key, &offer.value).unwrap(),
        };
    }
    let read = sheet::read(text.as_bytes(), name);
    assert!(read.problems().is_empty(), "{:?}", read.problems());
    let taken = Car::assemble(&read.inputs).unwrap().car;
    let Brake::Disc(front) = &taken.front_brake else {
        panic!()
    };
    assert!(
        (front.friction.warm - 0.43 * 0.94).abs() < 0.015,
        "{:?}",
        front.friction
    );
}

/// The same seed gives the same bytes, another one others; every demonstration car can be driven.
#[test]
fn the_demonstration_is_the_same_every_time_on_every_car() {
    for name in ["tarn", "tarn-let-go", "sedge", "scree", "half-known", "bin"] {
        let car = car(name);
        let bytes = made(&car, Truth::default(), 1);
        assert_eq!(bytes, made(&car, Truth::default(), 1), "{name}");
        assert_ne!(bytes, made(&car, Truth::default(), 2), "{name}");
        let found = found(&car, &bytes);
        assert!(found.events.len() >= 6, "{name}: {}", found.events.len());
    }
}

/// Twin cylinders without a valve: both pressures give the bar.
#[test]
fn a_balance_bar_is_read_off_both_pressures() {
    let car = car("scree");
    assert!(car.bias_valve.is_none());
    let found = found(
        &car,
        &made(
            &car,
            Truth {
                zeros: [quantity::si::Pressure::ZERO; 2],
                ..Truth::default()
            },
            1,
        ),
    );
    let engine::car::Master::Twin { bar, .. } = car.master else {
        panic!()
    };
    let (share, scatter) = found.bar.unwrap();
    assert!(
        (share - bar.front_share).abs() < 0.01,
        "{share} ± {scatter}, {bar:?}"
    );
}

/// The log that lies beside the demonstration car was made by a model of its own (`demo/make_logs.py`), by none of this
/// program's code: what it hides, as `demo/README.md` lists it, is found again.
#[test]
fn a_log_made_by_another_program_gives_up_what_it_hides() {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../demo/tarn/logs/shakedown.csv");
    let car = car("tarn");
    let found = found(&car, &std::fs::read(path).unwrap());
    let split = found.split.as_ref().unwrap();
    let knee = split.read.settings[0].knee.unwrap();
    let (low, high) = (knee.low.pa() / 1e5, knee.high.pa() / 1e5);
    assert!(
        (knee.value.pa() / 1e5 - 29.5).abs() < 0.5 && low < 29.5 && high > 29.5,
        "{knee:?}"
    );
    let slope = split.read.slope.unwrap();
    assert!(
        (slope.value - 0.38).abs() < 0.01 && slope.low < 0.38 && slope.high > 0.38,
        "{slope:?}"
    );
    assert!((split.lag.unwrap().lag.s() - 0.05).abs() < 0.012);
    let Some(PadsFound::Both(front, rear)) = &found.pads else {
        panic!("{:?}", found.pads)
    };
    assert!((front.friction.0 - 0.405).abs() < 0.008, "{front:?}");
    assert!((rear.friction.0 - 0.415).abs() < 0.012, "{rear:?}");
    let zeros = found.zeros.map(|zero| zero.pa() / 1e5);
    assert!(
        (zeros[0] - 0.1).abs() < 0.06 && (zeros[1] - 0.3).abs() < 0.06,
        "{zeros:?}"
    );
    let feet = found
        .events
        .iter()
        .filter(|event| event.by == WorkedBy::Foot)
        .count();
    assert_eq!((feet, found.events.len()), (5, 6));
    // All four stand at the panic stop, within a few hundredths; the rear alone at the end of the pull, below 10 km/h.
    let [front, rear, pulled] = found.locks[..] else {
        panic!("{:?}", found.locks)
    };
    assert_eq!(
        (front.axle, rear.axle, pulled.axle),
        (Axle::Front, Axle::Rear, Axle::Rear)
    );
    assert!((rear.from.s() - front.from.s()).abs() < 0.1);
    assert!((front.to.s() - front.from.s() - 0.4).abs() < 0.1);
    assert!(pulled.by == WorkedBy::Hand && pulled.speed.m_s() * 3.6 < 10.0);
}

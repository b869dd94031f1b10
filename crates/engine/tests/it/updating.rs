//! Readings against tolerances: closed forms, readings that nothing explains, and intervals that keep their promise.

use engine::Conditions;
use engine::brake::{TorqueLaw, Warmth};
use engine::car::{Axle, Car, Inputs, KeyId, Slot, Value, Wheel};
use engine::figures::Headlined;
use engine::foot::FootLaw;
use engine::headline::HeadlineFigures;
use engine::hydraulics::{Forces, Hydraulics};
use engine::ranges::Sampling;
use engine::updating::{Counts, Kit, Read, Reading, ReadingWay, Updated};
use quantity::si::{Force, Length, Pressure, Torque};
use quantity::{Amount, Spread};
use rayon::prelude::{IntoParallelIterator, ParallelIterator};
use statrs::distribution::{ContinuousCDF, Normal};

use crate::bench::{as_weighed, demo, lever, near, plain};
use crate::coverage::{Dice, many};

fn slot(path: &str) -> Slot {
    Slot {
        key: KeyId::of(path).unwrap(),
        entry: 0,
    }
}

fn with_spread(inputs: &mut Inputs, path: &str, half_width_si: f64) {
    let Some(Value::Amount(amount)) = inputs.get(slot(path)).cloned() else {
        panic!("{path}");
    };
    let spread = Spread::Normal { half_width_si };
    inputs.set(slot(path), Value::Amount(Amount { spread, ..amount }));
}

fn taken(read: Read) -> Reading {
    Reading {
        read,
        entry: 1,
        point: 1,
    }
}

fn wheel(pressure_bar: f64, torque_nm: f64) -> Reading {
    taken(Read::Wheel {
        wheel: Wheel::RearLeft,
        warmth: Some(Warmth::Warm),
        pressure: Pressure::from_pa(pressure_bar * 1e5),
        torque: Torque::from_nm(torque_nm),
    })
}

fn pressed(foot_n: f64, bar: f64) -> Reading {
    taken(Read::Pedal {
        engine_on: false,
        foot: Force::from_n(foot_n),
        pressure: Pressure::from_pa(bar * 1e5),
    })
}

/// A plain car of which only the rear pads' friction is not known.
fn unsure_of_friction() -> Inputs {
    let mut inputs = plain().with(&lever()).inputs();
    with_spread(&mut inputs, "rear_brake.pad.friction", 0.08);
    inputs
}

/// One reading of one key, straight over it: the posterior of two normal distributions.
#[test]
fn one_reading_of_one_key_in_closed_form() {
    let inputs = unsure_of_friction();
    let car = Car::assemble(&inputs).unwrap().car;
    let kit = Kit::default();
    let law = TorqueLaw::of(car.brake(Axle::Rear), Warmth::Warm);
    let by_sheet = law.torque(Pressure::from_pa(20e5)).nm();
    let read = 1.12 * by_sheet;
    let updated = Updated::by(&inputs, &[wheel(20.0, read)], kit).unwrap();
    // Errors at the sheet's own torque: wrench 8 %, equations 3 %, gauge 1 bar of 19.5 above the pads' threshold.
    let sd =
        by_sheet / 1.959_964 * (kit.slip.powi(2) + kit.equations.powi(2) + (1.0_f64 / 19.5).powi(2)).sqrt();
    let before = by_sheet * 0.08 / 0.40 / 1.959_964;
    let weight = before * before / (before * before + sd * sd);
    let learned = updated
        .learned()
        .into_iter()
        .find(|learned| learned.slot == slot("rear_brake.pad.friction"))
        .unwrap();
    near(learned.before.0, 0.40, 1e-9);
    near(learned.after.0, 0.40 * (1.0 + 0.12 * weight), 1e-5);
    near(learned.left, (1.0 - weight).sqrt(), 1e-5);
    near(
        learned.after.1.high - learned.after.1.low,
        learned.left * (learned.before.1.high - learned.before.1.low),
        1e-4,
    );
    let held = updated.held[0];
    assert_eq!(held.counts, Counts::Yes);
    near(held.off_sds, 0.12 * by_sheet / before.hypot(sd), 1e-4);
    near(held.by_sheet_si, by_sheet, 1e-9);
    near(held.by_sheet_sd_si, before.hypot(sd), 1e-4);
}

#[test]
fn without_readings_nothing_is_learned() {
    let inputs = unsure_of_friction();
    let updated = Updated::by(&inputs, &[], Kit::default()).unwrap();
    assert!(!updated.has_learned());
    for collapsed in updated.collapsed(&Conditions::default(), Sampling { draws: 64, seed: 1 }) {
        assert_eq!(collapsed.before, collapsed.after, "{:?}", collapsed.figure);
    }
    assert!(updated.learned().iter().all(|learned| learned.left == 1.0));
}

/// A reading of half as much again is not what a tolerance of 20 % and such instruments make: it is named, and the one
/// beside it counts as if it were alone.
#[test]
fn what_nothing_explains_is_left_out_and_said() {
    let inputs = unsure_of_friction();
    let car = Car::assemble(&inputs).unwrap().car;
    let by_sheet = TorqueLaw::of(car.brake(Axle::Rear), Warmth::Warm)
        .torque(Pressure::from_pa(20e5))
        .nm();
    let good = wheel(20.0, by_sheet * 1.05);
    let alone = Updated::by(&inputs, &[good], Kit::default()).unwrap();
    let both = Updated::by(&inputs, &[good, wheel(20.0, by_sheet * 1.8)], Kit::default()).unwrap();
    assert_eq!(both.held[0].counts, Counts::Yes);
    assert_eq!(both.held[1].counts, Counts::NotExplained);
    assert!(both.held[1].off_sds > 3.0, "{:?}", both.held[1]);
    assert_eq!(both.learned(), alone.learned());
    // A gauge that is blind there, and a hub that was never read.
    let blind = Updated::by(&inputs, &[wheel(1.0, 50.0)], Kit::default()).unwrap();
    assert_eq!(blind.held[0].counts, Counts::TellsNothing);
    assert!(!blind.has_learned());
}

/// Two presses without assistance: of the pedal's ratio and its efficiency each stays badly known, their product does
/// not; and a press that moves nothing only says that the preload is no less.
#[test]
fn what_only_a_product_is_known_of() {
    let mut inputs = plain().with(&lever()).inputs();
    for (path, half) in [("pedal.ratio", 0.5), ("master.bore", 1e-7)] {
        with_spread(&mut inputs, path, half);
    }
    let car = Car::assemble(&inputs).unwrap().car;
    let law = FootLaw::of(&car);
    let read = |foot_n: f64| {
        let pressure = law.pressures(law.push_rod(Force::from_n(foot_n)))[0];
        pressed(foot_n, pressure.pa() / 1e5)
    };
    let updated = Updated::by(&inputs, &[read(200.0), read(400.0), read(600.0)], Kit::default()).unwrap();
    let ratio = updated.left(slot("pedal.ratio"));
    let study = updated.study(Sampling { draws: 512, seed: 1 }, |car| {
        [
            car.pedal.ratio * car.pedal.efficiency,
            car.pedal.ratio,
            car.pedal.efficiency,
        ]
    });
    let width = |at: usize| {
        let range = study.range(|drawn| Some(drawn[at])).unwrap();
        (range.high - range.low) / (range.high + range.low)
    };
    // Were the two known apart from one another, the product would be as wide as both together.
    assert!(
        ratio > 0.3 && width(0) < 0.75 * width(1).hypot(width(2)),
        "{ratio} {} {} {}",
        width(0),
        width(1),
        width(2)
    );
    let none = Updated::by(&inputs, &[pressed(90.0, 0.0)], Kit::default()).unwrap();
    let preload = none
        .learned()
        .into_iter()
        .find(|learned| learned.slot == slot("pedal.preload"))
        .unwrap();
    assert!(preload.after.0 > preload.before.0 + 5.0, "{preload:?}");
    let kept = Updated::by(&inputs, &[pressed(30.0, 0.0)], Kit::default()).unwrap();
    assert!(
        kept.learned().iter().all(|learned| learned.left == 1.0),
        "a bound that is kept says nothing"
    );
}

/// The reading that is named next settles what taking it then settles.
#[test]
fn the_next_reading_keeps_its_word() {
    let inputs = unsure_of_friction();
    let before = Updated::by(&inputs, &[], Kit::default()).unwrap();
    let next = before.next(&Conditions::default());
    let hand: Vec<_> = next
        .iter()
        .filter(|next| next.figure == Headlined::HandForce)
        .collect();
    assert_eq!(hand[0].way, ReadingWay::RearWheel, "{hand:?}");
    assert!(hand.windows(2).all(|pair| pair[0].settles >= pair[1].settles));
    // Taken as the sheet foretells it, cold as it was named.
    let car = before.likeliest().unwrap();
    let Read::Wheel { pressure, warmth, .. } = hand[0].reads[0] else {
        panic!("{hand:?}");
    };
    let torque = TorqueLaw::of(car.brake(Axle::Rear), warmth.unwrap()).torque(pressure);
    let reading = taken(Read::Wheel {
        wheel: Wheel::RearLeft,
        warmth,
        pressure,
        torque,
    });
    let after = Updated::by(&inputs, &[reading], Kit::default()).unwrap();
    let sampling = Sampling { draws: 1024, seed: 1 };
    let collapsed = after.collapsed(&Conditions::default(), sampling);
    let hand_force = collapsed
        .iter()
        .find(|of| of.figure == Headlined::HandForce)
        .unwrap();
    let width = |range: Option<engine::ranges::Range>| range.map(|range| range.high - range.low).unwrap();
    let left = (width(hand_force.after.1) / width(hand_force.before.1)).powi(2);
    assert!(
        (1.0 - left - hand[0].settles).abs() < 0.06,
        "{left} {}",
        hand[0].settles
    );
}

/// A car's truth, read with instruments that err as they are said to.
struct Workshop<'a> {
    truth: &'a Car,
    dice: Dice,
    normal: Normal,
    kit: Kit,
}

impl Workshop<'_> {
    /// An error with that 95 % half-width.
    fn error(&mut self, half_width: f64) -> f64 {
        half_width / 1.959_964 * self.normal.inverse_cdf(self.dice.even())
    }

    /// What is computed is not quite what a car does.
    fn near(&mut self, value: f64) -> f64 {
        value * (1.0 + self.error(self.kit.equations))
    }

    fn gauge(&mut self, pa: f64) -> Pressure {
        let read = self.near(pa) + self.error(self.kit.gauge.pa());
        Pressure::from_pa(read.max(0.0))
    }

    fn readings(&mut self) -> Vec<Reading> {
        let mut readings = Vec::new();
        let mut bare = self.truth.clone();
        bare.pedal.booster = None;
        let has_booster = self.truth.pedal.booster.is_some();
        let (helped, unhelped) = (FootLaw::of(self.truth), FootLaw::of(&bare));
        let feet = [(false, 250.0), (false, 450.0), (true, 70.0), (true, 140.0)];
        for (engine_on, foot_n) in feet
            .into_iter()
            .filter(|(engine_on, _)| has_booster || !engine_on)
        {
            let law = if engine_on { helped } else { unhelped };
            let real = foot_n + self.error(self.kit.foot_scale.n());
            let pressure = self.gauge(law.pressures(law.push_rod(Force::from_n(real)))[0].pa());
            readings.push(taken(Read::Pedal {
                engine_on,
                foot: Force::from_n(foot_n),
                pressure,
            }));
        }
        let hydraulics = Hydraulics::of(self.truth, Warmth::Warm);
        let laden = as_weighed(self.truth);
        for hand_n in [100.0, 180.0] {
            let real = hand_n + self.error(self.kit.hand_scale.n());
            let forces = Forces {
                foot: Force::ZERO,
                hand: Force::from_n(real),
            };
            let pressure = hydraulics.answer(&laden, forces).wheels[2].pressure;
            let pressure = self.gauge(pressure.pa());
            readings.push(taken(Read::Hand {
                hand: Force::from_n(hand_n),
                pressure,
            }));
        }
        for bar in [6.0, 15.0, 30.0] {
            let real = bar + self.error(1.0);
            let travel = hydraulics
                .effort(Pressure::from_pa(real * 1e5))
                .unwrap()
                .travel
                .m();
            let travel = self.near(travel) + self.error(self.kit.tape.m());
            readings.push(taken(Read::Travel {
                pressure: Pressure::from_pa(bar * 1e5),
                travel: Length::from_m(travel),
            }));
        }
        for wheel in [Wheel::RearLeft, Wheel::FrontLeft] {
            let law = TorqueLaw::of(self.truth.brake(wheel.axle()), Warmth::Cold);
            let real = 15.0 + self.error(1.0);
            let torque = law.torque(Pressure::from_pa(real * 1e5)).nm();
            let slips = self.near(torque) * (1.0 + self.error(self.kit.slip));
            readings.push(taken(Read::Wheel {
                wheel,
                warmth: Some(Warmth::Cold),
                pressure: Pressure::from_pa(15e5),
                torque: Torque::from_nm(slips),
            }));
        }
        readings
    }
}

/// Of one synthetic car: for each figure whether the 95 % interval holds its truth, and how much narrower it became.
fn held_in(inputs: &Inputs, number: u32) -> Vec<(Headlined, bool, f64)> {
    let toleranced = Car::assemble(inputs).unwrap().toleranced;
    let mut dice = Dice(9_000 + u64::from(number));
    let draw = dice.truth(&toleranced);
    let Some(mut truth) = Car::drawn(inputs, &draw) else {
        return Vec::new();
    };
    let normal = Normal::new(0.0, 1.0).unwrap();
    if truth.pedal.booster.is_some() {
        // Its preload is not drawn with the others: 65 ± 20 N.
        truth.pedal.preload = Force::from_n(65.0 + 20.0 / 1.959_964 * normal.inverse_cdf(dice.even()));
    }
    let readings = Workshop {
        truth: &truth,
        dice,
        normal,
        kit: Kit::default(),
    }
    .readings();
    let updated = Updated::by(inputs, &readings, Kit::default()).unwrap();
    let conditions = Conditions::default();
    let real = HeadlineFigures::of(&truth, &conditions).unwrap();
    let sampling = Sampling {
        draws: 256,
        seed: number,
    };
    let study = updated.study(sampling, |car| HeadlineFigures::of(car, &conditions));
    let before = updated
        .before()
        .study(sampling, |car| HeadlineFigures::of(car, &conditions));
    [
        Headlined::FrontFirstBy,
        Headlined::HandForce,
        Headlined::Travel,
        Headlined::InHand,
    ]
    .into_iter()
    .filter_map(|figure| {
        let of = |headline: &Option<HeadlineFigures>| {
            headline
                .as_ref()
                .and_then(|headline| figure.of(headline))
                .filter(|value| value.is_finite())
        };
        let (range, was) = (study.range_of(0.95, of)?, before.range_of(0.95, of)?);
        let truth = figure.of(&real).filter(|value| value.is_finite())?;
        let narrower = (range.high - range.low) / (was.high - was.low);
        Some((figure, (range.low..=range.high).contains(&truth), narrower))
    })
    .collect()
}

#[test]
fn the_interval_holds_the_truth_in_nineteen_cars_of_twenty() {
    let cars = many(48);
    let sheets = ["half-known", "bin"].map(|name| demo(name).1.without_measured());
    let all: Vec<(Headlined, bool, f64)> = (0..cars)
        .into_par_iter()
        .flat_map_iter(|number| held_in(&sheets[(number % 2) as usize], number))
        .collect();
    let count = |found: &[&(Headlined, bool, f64)]| {
        let inside = found.iter().filter(|found| found.1).count();
        let narrower = found.iter().map(|found| found.2).sum::<f64>() / found.len() as f64;
        (inside as f64 / found.len() as f64, narrower)
    };
    for figure in [
        Headlined::FrontFirstBy,
        Headlined::HandForce,
        Headlined::Travel,
        Headlined::InHand,
    ] {
        let of: Vec<_> = all.iter().filter(|found| found.0 == figure).collect();
        let (share, narrower) = count(&of);
        println!(
            "{figure:?}: {:.2} % of {}, width {:.2} of what it was",
            100.0 * share,
            of.len(),
            narrower
        );
        let off = 3.0 * (0.95 * 0.05 / of.len() as f64).sqrt();
        assert!(
            (share - 0.95).abs() <= off.max(0.01),
            "{figure:?}: {share} of {}",
            of.len()
        );
        assert!(narrower < 0.9, "{figure:?}: {narrower}");
    }
    let (share, _) = count(&all.iter().collect::<Vec<_>>());
    println!("together: {:.2} %", 100.0 * share);
    let allowed = if cars >= 1000 { 0.01 } else { 0.04 };
    assert!((share - 0.95).abs() <= allowed, "{share}");
}

/// Every demonstration car takes its own readings in, and says which the sheet does not explain.
#[test]
fn the_demonstration_cars_read() {
    for name in ["tarn", "sedge", "bin", "scree", "half-known"] {
        let (assembled, inputs) = demo(name);
        let updated = Updated::of(&inputs, &assembled, Kit::default()).unwrap();
        println!("{name}");
        for held in &updated.held {
            println!(
                "  {:?} {:?}: {:.4e} by sheet {:.4e} ± {:.1e}, off {:.2}",
                held.reading.read,
                held.counts,
                held.reading.value_si(),
                held.by_sheet_si,
                held.by_sheet_sd_si,
                held.off_sds
            );
        }
        assert_eq!(updated.has_learned(), name != "half-known", "{name}");
        assert!(updated.learned().iter().all(|learned| learned.left <= 1.0 + 1e-9));
    }
}

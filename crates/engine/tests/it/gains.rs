//! What changes of a car gain in its turn.

use engine::Conditions;
use engine::car::{Brake, Car, Centre};
use engine::gains::stand;
use engine::turn::{Technique, TurnVerdict};

use crate::bench::demo;

fn changed(car: &Car, change: impl Fn(&mut Car)) -> Car {
    let mut car = car.clone();
    change(&mut car);
    car
}

/// A centre that is let go turns the coupled car; the front pads do nothing for a turn, and stand last.
#[test]
fn what_helps_stands_first_and_what_cannot_help_last() {
    let (tarn, _) = demo("tarn");
    let tarn = tarn.car;
    let free = changed(&tarn, |car| car.drivetrain.centre = Centre::None);
    let friction = |of: fn(&mut Car) -> &mut Brake, by: f64| {
        changed(&tarn, |car| {
            if let Brake::Disc(disc) = of(car) {
                disc.friction.warm *= by;
            }
        })
    };
    let front = friction(|car| &mut car.front_brake, 1.2);
    let weak = friction(|car| &mut car.rear_brake, 0.5);
    let conditions = Conditions::default();
    let surface = conditions.surface_of(&tarn).unwrap();
    let technique = Technique::on(&surface, &tarn);
    let found: Vec<_> = stand(&[&tarn, &front, &free, &weak], &conditions, &technique)
        .into_iter()
        .map(Result::unwrap)
        .collect();
    let [as_it_is, same, let_go, weak] = found.as_slice() else {
        panic!("four cars");
    };
    assert_eq!(as_it_is, same, "the front brakes have no part in it");
    assert!(same.order(as_it_is).is_eq() && let_go.order(as_it_is).is_gt());
    assert!(as_it_is.brief.verdict != TurnVerdict::ComesRound && let_go.brief.verdict.is_round());
    assert!(let_go.gains_on(as_it_is).unwrap().rad() > 0.2);
    assert!(weak.order(as_it_is).is_lt() && weak.hand.unwrap() > as_it_is.hand.unwrap());
    // Without what the centre carries back, the rear wheels stop at less.
    assert!(let_go.hand.unwrap() < as_it_is.hand.unwrap());
}

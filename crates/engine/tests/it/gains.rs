//! What changes of a car gain in its turn.

use engine::Conditions;
use engine::car::{Brake, Car, Centre};
use engine::gains::stand;
use engine::turn::Technique;
use quantity::si::Speed;

use crate::bench::demo;

fn changed(car: &Car, change: impl Fn(&mut Car)) -> Car {
    let mut car = car.clone();
    change(&mut car);
    car
}

/// A locked centre that is let go turns the car more (a fact of the trade: common practice, no source); the front brakes have
/// no part in it, and a weaker rear brake gives less.
#[test]
fn what_helps_stands_first_and_what_cannot_help_last() {
    let (gill, _) = demo("gill");
    let gill = gill.car;
    let free = changed(&gill, |car| car.drivetrain.centre = Centre::None);
    let friction = |of: fn(&mut Car) -> &mut Brake, by: f64| {
        changed(&gill, |car| {
            if let Brake::Disc(disc) = of(car) {
                disc.friction.warm *= by;
            }
        })
    };
    let front = friction(|car| &mut car.front_brake, 1.2);
    let weak = friction(|car| &mut car.rear_brake, 0.5);
    let conditions = Conditions::default();
    let surface = conditions.surface_of(&gill).unwrap();
    let technique = Technique {
        entry: Speed::from_m_s(35.0 / 3.6),
        ..Technique::on(&surface, &gill)
    };
    let found: Vec<_> = stand(&[&gill, &front, &free, &weak], &conditions, &technique)
        .into_iter()
        .map(Result::unwrap)
        .collect();
    let [as_it_is, same, let_go, weak] = found.as_slice() else {
        panic!("four cars");
    };
    assert_eq!(as_it_is, same, "the front brakes have no part in it");
    assert!(same.order(as_it_is).is_eq() && let_go.order(as_it_is).is_gt());
    assert!(let_go.gains_on(as_it_is).unwrap().rad() > 0.0, "{let_go:?}");
    assert!(weak.order(as_it_is).is_le() && weak.hand.unwrap() > as_it_is.hand.unwrap());
    assert!(
        weak.falls_short_of(as_it_is, technique.hand) && !let_go.falls_short_of(as_it_is, technique.hand)
    );
    // Without what the centre carries back, the rear wheels stop at less.
    assert!(let_go.hand.unwrap() < as_it_is.hand.unwrap());
}

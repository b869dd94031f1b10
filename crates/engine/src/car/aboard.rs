//! What stands on the wheels: the car as weighed, and who and what is aboard.

use quantity::si::{Length, Mass, Volume};

use super::{Car, CgHeight, Item};
use crate::measuring::AxleRaised;
use crate::{FUEL_KG_L, GRAVITY_M_S2, equations};

/// Fuel in the tank.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Fuel {
    /// As on the scales.
    AsWeighed,
    /// None.
    Dry,
    /// Half of the tank.
    Half,
    /// Full.
    Full,
    /// So much of it.
    Of(Volume),
}

/// Who and what is aboard.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Aboard {
    /// Crew and listed items.
    pub crew: bool,
    /// Fuel.
    pub fuel: Fuel,
}

impl Aboard {
    /// Nobody aboard, fuel as weighed.
    pub const AS_WEIGHED: Self = Self {
        crew: false,
        fuel: Fuel::AsWeighed,
    };
}

impl Default for Aboard {
    fn default() -> Self {
        Self {
            crew: true,
            fuel: Fuel::Half,
        }
    }
}

/// A mass at a place.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PointMass {
    /// How heavy; fuel that was weighed and is gone counts as negative.
    pub mass: Mass,
    /// Behind the front axle.
    pub aft: Length,
    /// Above the ground.
    pub height: Length,
}

impl PointMass {
    /// Several masses as one, at their common centre.
    pub(crate) fn together<'p>(points: impl Iterator<Item = &'p Self> + Clone) -> Self {
        let kg = equations::sum(points.clone().map(|point| point.mass.kg()));
        let mean = |place: fn(&Self) -> Length| {
            let places = points.clone().map(|point| (point.mass.kg(), place(point).m()));
            Length::from_m(equations::common_centre(places, kg))
        };
        Self {
            mass: Mass::from_kg(kg),
            aft: mean(|point| point.aft),
            height: mean(|point| point.height),
        }
    }
}

/// Loads of front and rear axle of the standing car, on the level (N).
pub(super) fn static_loads_n(car: &Car, aboard: Aboard) -> [f64; 2] {
    let [crew, items, tank] = aboard_parts(car, aboard.crew, fuel(car, aboard.fuel));
    let points = [Some(weighed_point(car)), crew, items, tank];
    let whole = PointMass::together(points.iter().flatten());
    let weight = equations::weight(whole.mass.kg(), GRAVITY_M_S2);
    let (wheelbase, aft, height) = (car.geometry.wheelbase.m(), whole.aft.m(), whole.height.m());
    equations::axle_loads(weight, wheelbase, aft, height, 1.0, 0.0)
}

/// Fuel aboard; nothing where the sheet has no tank.
pub(crate) fn fuel(car: &Car, fuel: Fuel) -> Volume {
    let Some(tank) = car.load.tank else {
        return Volume::ZERO;
    };
    match fuel {
        Fuel::AsWeighed => car.weighed.fuel_aboard,
        Fuel::Dry => Volume::ZERO,
        Fuel::Half => tank.capacity / 2.0,
        Fuel::Full => tank.capacity,
        Fuel::Of(volume) => volume,
    }
}

fn point(item: &Item) -> PointMass {
    PointMass {
        mass: item.mass,
        aft: item.aft,
        height: item.height,
    }
}

pub(crate) fn each_aboard(car: &Car, crew: bool) -> impl Iterator<Item = PointMass> {
    car.load
        .crew
        .iter()
        .chain(&car.load.items)
        .filter(move |_| crew)
        .map(point)
}

pub(crate) fn aboard_parts(car: &Car, crew: bool, fuel: Volume) -> [Option<PointMass>; 3] {
    let person = car.load.crew.as_ref().filter(|_| crew).map(point);
    let items = Some(&car.load.items)
        .filter(|items| crew && !items.is_empty())
        .map(|items| {
            let kg: f64 = items.iter().map(|item| item.mass.kg()).sum();
            let mean = |place: fn(&Item) -> Length| {
                if kg > 0.0 {
                    Length::from_m(
                        items
                            .iter()
                            .map(|item| item.mass.kg() * place(item).m())
                            .sum::<f64>()
                            / kg,
                    )
                } else {
                    Length::ZERO
                }
            };
            PointMass {
                mass: Mass::from_kg(kg),
                aft: mean(|item| item.aft),
                height: mean(|item| item.height),
            }
        });
    let tank = car.load.tank.map(|tank| PointMass {
        mass: Mass::from_kg((fuel - car.weighed.fuel_aboard).m3() * 1000.0 * FUEL_KG_L),
        aft: tank.aft,
        height: tank.height,
    });
    [person, items, tank]
}

pub(crate) fn weighed_point(car: &Car) -> PointMass {
    let (front, rear) = (car.weighed.front, car.weighed.rear);
    let mass = front + rear;
    PointMass {
        mass,
        aft: Length::from_m(equations::aft_by_scales(
            car.geometry.wheelbase.m(),
            rear.kg(),
            mass.kg(),
        )),
        height: cg_height_as_weighed(car),
    }
}

/// Height of the centre of gravity as weighed: as given, or from the weighing with an axle raised
/// ([`AxleRaised::cg_height`]).
#[must_use]
pub fn cg_height_as_weighed(car: &Car) -> Length {
    match car.weighed.cg_height {
        CgHeight::Height(height) => height,
        // The same for a raised front: only the gain of the standing axle and the lift enter.
        CgHeight::Raised { by, gain, .. } => AxleRaised {
            front: car.weighed.front,
            rear: car.weighed.rear,
            gain,
            by,
            wheelbase: car.geometry.wheelbase,
            front_radius: car.tyres.front_radius,
            rear_radius: car.tyres.rear_radius,
        }
        .height(),
    }
}

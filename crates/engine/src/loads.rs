//! What the wheels carry: who and what is aboard, where the centre of gravity lies, what braking moves forward.

use quantity::si::{Force, Inertia, Length, Mass, Volume};

use crate::car::{Car, CgHeight, Item};
use crate::measuring::AxleRaised;
use crate::{FUEL_KG_L, GRAVITY_M_S2};

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

/// Which way a car faces on its slope.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum Facing {
    /// Nose uphill.
    #[default]
    Up,
    /// Nose downhill.
    Down,
}

impl Facing {
    /// Its word.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Up => "up",
            Self::Down => "down",
        }
    }
}

/// The slope that a car is on.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Grade {
    /// Rise over run, never below zero.
    pub slope: f64,
    /// Which way the car faces.
    pub facing: Facing,
}

impl Grade {
    /// No slope.
    pub const LEVEL: Self = Self {
        slope: 0.0,
        facing: Facing::Up,
    };

    /// Share of the weight that presses on the road: the cosine of the slope's angle.
    #[must_use]
    pub fn presses(self) -> f64 {
        1.0 / self.slope.hypot(1.0)
    }

    /// Share of the weight that pulls the car back: the sine, below zero where the nose points downhill.
    #[must_use]
    pub fn pulls_back(self) -> f64 {
        let sine = self.slope / self.slope.hypot(1.0);
        match self.facing {
            Facing::Up => sine,
            Facing::Down => -sine,
        }
    }
}

/// A car as it stands on its wheels.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Laden {
    /// All of it.
    pub mass: Mass,
    /// Centre of gravity behind the front axle (a).
    pub cg_aft: Length,
    /// Centre of gravity above the ground (h).
    pub cg_height: Length,
    /// Front axle to rear axle (L).
    pub wheelbase: Length,
    /// Whether crew and items are aboard.
    pub crew: bool,
    /// Fuel in the tank.
    pub fuel: Volume,
    /// About the vertical through the centre of gravity.
    pub yaw_inertia: Inertia,
    /// The slope that it is on.
    pub grade: Grade,
}

/// Loads of the two axles.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct AxleLoads {
    /// Front axle.
    pub front: Force,
    /// Rear axle. Below zero: it has left the ground.
    pub rear: Force,
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

impl Laden {
    /// The car with what is aboard. Crew and items come on top of the weighing; the weighed litres are replaced by the
    /// asked ones at the tank's place (0.74 kg/L).
    #[must_use]
    pub fn of(car: &Car, aboard: Aboard) -> Self {
        let fuel = fuel(car, aboard.fuel);
        let weighed = weighed_point(car);
        let weighed_yaw = yaw_inertia_as_weighed(car, &weighed);
        let [crew, items, tank] = aboard_parts(car, aboard.crew, fuel);
        let points = [Some(weighed), crew, items, tank];
        let all = || points.iter().flatten();
        let kg: f64 = all().map(|point| point.mass.kg()).sum();
        let aft_m = all().map(|point| point.mass.kg() * point.aft.m()).sum::<f64>() / kg;
        let height_m = all().map(|point| point.mass.kg() * point.height.m()).sum::<f64>() / kg;
        // The weighed car's own inertia moves with its centre of gravity; what came aboard enters as points.
        let moved = weighed.mass.kg() * (weighed.aft.m() - aft_m).powi(2);
        let added: f64 = each_aboard(car, aboard.crew)
            .chain(tank)
            .map(|point| point.mass.kg() * (point.aft.m() - aft_m).powi(2))
            .sum();
        Self {
            mass: Mass::from_kg(kg),
            cg_aft: Length::from_m(aft_m),
            cg_height: Length::from_m(height_m),
            wheelbase: car.geometry.wheelbase,
            crew: aboard.crew,
            fuel,
            yaw_inertia: Inertia::from_kg_m2(weighed_yaw + moved + added),
            grade: Grade::LEVEL,
        }
    }

    /// The same car on a slope.
    #[must_use]
    pub const fn on(self, grade: Grade) -> Self {
        Self { grade, ..self }
    }

    /// Deceleration over g that a braking force over weight makes: on a slope the car's own weight adds to it, nose
    /// uphill, or takes from it.
    #[must_use]
    pub fn deceleration(&self, braked: f64) -> f64 {
        braked + self.grade.pulls_back()
    }

    /// The most braking force over weight that a grip gives, all of the ground used: `μ cos θ`.
    #[must_use]
    pub fn ground_gives(&self, grip: f64) -> f64 {
        grip * self.grade.presses()
    }

    /// Loads of the standing car, held by its brakes on its slope.
    #[must_use]
    pub fn standing(&self) -> AxleLoads {
        self.axle_loads(-self.grade.pulls_back())
    }

    /// What came aboard: the crew, all items together at their common centre, and the fuel over what was weighed.
    #[must_use]
    pub fn aboard_parts(&self, car: &Car) -> [Option<PointMass>; 3] {
        aboard_parts(car, self.crew, self.fuel)
    }

    /// Weight (N).
    #[must_use]
    pub fn weight_n(&self) -> f64 {
        self.mass.kg() * GRAVITY_M_S2
    }

    /// Braking rate that brakes and ground reach together: `z = Σ min(F, μ N(z))/(m g)` over the axles, F what an
    /// axle's brakes ask of the ground. An axle past its grip is given the peak; one that has left the ground nothing.
    #[must_use]
    pub fn rate_on_ground(&self, grip: f64, front: Force, rear: Force) -> f64 {
        let reached = |rate: f64| {
            let loads = self.axle_loads(rate);
            let given = |asked: Force, load: Force| asked.n().min(grip * load.n().max(0.0));
            (given(front, loads.front) + given(rear, loads.rear)) / self.weight_n()
        };
        // Shifting load never wins more than it costs: one crossing, at most where all that is asked for is reached.
        crate::solve::settles((front + rear).n() / self.weight_n(), reached)
    }

    /// Axle loads at a braking: its force over the car's weight, which on the level is the braking rate z.
    ///
    /// `N_f = m g (b cos θ + z h)/L`, `N_r = m g (a cos θ − z h)/L`, b = L − a, θ the slope's angle.
    ///
    /// Steady braking, no air. Source: the form of UN Regulation 13-H, Annex 5 (from memory); on a slope, moments about
    /// the wheels' feet.
    #[must_use]
    pub fn axle_loads(&self, braked: f64) -> AxleLoads {
        let (aft, height, wheelbase) = (self.cg_aft.m(), self.cg_height.m(), self.wheelbase.m());
        let per_m = self.weight_n() / wheelbase;
        let presses = self.grade.presses();
        AxleLoads {
            front: Force::from_n(per_m * ((wheelbase - aft) * presses + braked * height)),
            rear: Force::from_n(per_m * (aft * presses - braked * height)),
        }
    }
}

/// Fuel aboard; nothing where the sheet has no tank.
fn fuel(car: &Car, fuel: Fuel) -> Volume {
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

fn each_aboard(car: &Car, crew: bool) -> impl Iterator<Item = PointMass> {
    car.load
        .crew
        .iter()
        .chain(&car.load.items)
        .filter(move |_| crew)
        .map(point)
}

fn aboard_parts(car: &Car, crew: bool, fuel: Volume) -> [Option<PointMass>; 3] {
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

fn weighed_point(car: &Car) -> PointMass {
    let (front, rear) = (car.weighed.front, car.weighed.rear);
    let mass = front + rear;
    PointMass {
        mass,
        aft: car.geometry.wheelbase * (rear / mass),
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

fn yaw_inertia_as_weighed(car: &Car, weighed: &PointMass) -> f64 {
    car.geometry.yaw_inertia.map_or_else(
        || {
            let ahead = car.geometry.wheelbase.m() - weighed.aft.m();
            car.geometry.yaw_inertia_rule * weighed.mass.kg() * weighed.aft.m() * ahead
        },
        Inertia::kg_m2,
    )
}

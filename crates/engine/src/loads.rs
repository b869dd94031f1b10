//! What the wheels carry: who and what is aboard, where the centre of gravity lies, what braking moves forward.

use quantity::si::{Force, Inertia, Length, Mass, Volume};

use crate::car::Car;
use crate::car::aboard::{aboard_parts, each_aboard, fuel, weighed_point};

use crate::{GRAVITY_M_S2, equations};

pub use crate::car::aboard::{Aboard, Fuel, PointMass, cg_height_as_weighed};

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
        if self.slope == 0.0 {
            return 1.0;
        }
        1.0 / self.slope.hypot(1.0)
    }

    /// Share of the weight that pulls the car back: the sine, below zero where the nose points downhill.
    #[must_use]
    pub fn pulls_back(self) -> f64 {
        let sine = equations::sine_of_slope(self.slope);
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
        let PointMass { mass, aft, height } = PointMass::together(points.iter().flatten());
        let aft_m = aft.m();
        // The weighed car's own inertia moves with its centre of gravity; what came aboard enters as points.
        let moved = weighed.mass.kg() * (weighed.aft.m() - aft_m).powi(2);
        let added: f64 = each_aboard(car, aboard.crew)
            .chain(tank)
            .map(|point| point.mass.kg() * (point.aft.m() - aft_m).powi(2))
            .sum();
        Self {
            mass,
            cg_aft: aft,
            cg_height: height,
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
        equations::ground_gives(grip, self.grade.presses())
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
        equations::weight(self.mass.kg(), GRAVITY_M_S2)
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
        let presses = self.grade.presses();
        let [front, rear] = equations::axle_loads(self.weight_n(), wheelbase, aft, height, presses, braked)
            .map(Force::from_n);
        AxleLoads { front, rear }
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

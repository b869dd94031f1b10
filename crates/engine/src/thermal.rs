//! How a wheel's brake takes up heat and gives it off: two nodes, disc or drum with its friction face, and caliper or
//! wheel cylinder with its fluid.
//!
//! ```text
//! m c(T) dT_d/dt = γ q − h(v) A (T_d − T_a) − ε σ A_plain (T_d⁴ − T_a⁴) − G (T_d − T_c)
//! C_c dT_c/dt    = (1 − γ) φ q + G (T_d − T_c) − hA_c(v) (T_c − T_a)
//! ```
//!
//! q heat of the wheel's brake; γ what goes into disc or drum, the rest into pads or shoes; φ what of that reaches the
//! caliper, the rest leaves the pads to the air at once. A gives off heat by the air that moves past it, A_plain by
//! radiation. T in kelvin. Source: balance of two lumps; the figures are from memory unless they say otherwise.

use crate::equations;
use crate::thresholds::{IRON_UP_TO, PAD_FADED_AT};
use quantity::si::{Area, Duration, Mass, Speed, Temperature};

use crate::car::{Brake, DiscBrake, DrumBrake, Friction};
use crate::lining::factor_at;

/// What of a brake's heat goes into disc or drum (γ; from memory).
pub const INTO_DISC: f64 = 0.93;

/// What of the pads' heat reaches caliper and fluid (φ; from memory).
pub const PADS_TO_CALIPER: f64 = 0.30;

/// Emissivity of a used iron face (ε; from memory).
pub const EMISSIVITY: f64 = 0.6;

/// Stefan–Boltzmann constant (W/(m²·K⁴); exact by the SI of 2019).
pub const STEFAN_BOLTZMANN_W_M2_K4: f64 = 5.670_374_419e-8;

/// From disc to caliper by touch and radiation (G; W/K, from memory).
pub const DISC_TO_CALIPER_W_K: f64 = 1.0;

/// Radius of a disc's outer edge over the radius at which the pads act, where no diameter is given (from memory,
/// judgement).
pub const OUTER_OVER_EFFECTIVE: f64 = 1.20;

/// The same of the friction ring's inner edge.
pub const INNER_OVER_EFFECTIVE: f64 = 0.72;

/// A pad without a curve keeps this of its friction at [`PAD_FADED_AT`] (from memory).
pub const FADED: f64 = 0.86;

/// No pad is taken to lose more than this leaves of it, however hot (judgement: far outside every table).
const LEAST_FRICTION: f64 = 0.25;

/// What the rule for pads loses a kelvin, as a share of the warm friction.
const FADE_PER_K: f64 = (1.0 - FADED) / 250.0;

const ZERO_CELSIUS_K: f64 = 273.15;

/// Heat transfer by air from a disc at a speed, without radiation: `h = 4 + 5 v^0.8` W/(m²·K), v in m/s (from memory; 4
/// at a standstill lies in the 3 to 5 that were measured, see the validation crate).
#[must_use]
pub fn convection_w_m2_k(speed: Speed) -> f64 {
    Moving::at(speed.m_s()).disc_w_m2_k
}

/// What a caliper gives off at a speed: `hA = 0.60 + 0.16 v^0.8` W/K (from memory).
#[must_use]
pub fn caliper_w_k(speed: Speed) -> f64 {
    Moving::at(speed.m_s()).caliper_w_k
}

/// Specific heat of cast iron: `c = 450 + 0.40 T` J/(kg·K), T in °C (from memory), held at its end beyond 700 °C.
#[must_use]
pub fn iron_j_kg_k(temperature: Temperature) -> f64 {
    450.0 + 0.40 * temperature.min(IRON_UP_TO).celsius()
}

/// Heat that a kilogram of iron holds over 0 °C: the integral of [`iron_j_kg_k`] (J/kg).
#[must_use]
pub fn iron_heat_j_kg(temperature: Temperature) -> f64 {
    let known = temperature.min(IRON_UP_TO).celsius();
    let beyond = (temperature.celsius() - IRON_UP_TO.celsius()).max(0.0);
    known * (450.0 + 0.20 * known) + beyond * iron_j_kg_k(IRON_UP_TO)
}

/// Temperature of iron that holds so much heat over 0 °C a kilogram: [`iron_heat_j_kg`] read backwards.
#[must_use]
pub fn iron_temperature(heat_j_kg: f64) -> Temperature {
    let known = iron_heat_j_kg(IRON_UP_TO);
    Temperature::from_celsius(if heat_j_kg <= known {
        ((450.0_f64 * 450.0 + 0.80 * heat_j_kg).max(0.0).sqrt() - 450.0) / 0.40
    } else {
        IRON_UP_TO.celsius() + (heat_j_kg - known) / iron_j_kg_k(IRON_UP_TO)
    })
}

/// What is not on any sheet and differs from car to car by much: factors on the figures of this module. 1: as they
/// stand.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Unsure {
    /// On all heat that the air takes.
    pub convection: f64,
    /// On what of the pads' heat reaches the caliper.
    pub to_caliper: f64,
    /// On what goes over from disc to caliper.
    pub disc_to_caliper: f64,
    /// On what a caliper holds.
    pub caliper: f64,
}

impl Default for Unsure {
    fn default() -> Self {
        Self {
            convection: 1.0,
            to_caliper: 1.0,
            disc_to_caliper: 1.0,
            caliper: 1.0,
        }
    }
}

/// How far each factor of [`Unsure`] may be off, both ways, 95 % (judgement): in the order of its fields.
pub const UNSURE_BY: [f64; 4] = [0.30, 0.40, 0.40, 0.20];

/// One wheel's brake as a store of heat.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Corner {
    iron_kg: f64,
    /// Area times what the air's speed does for it, over that of a plain disc (m²).
    blown_m2: f64,
    /// Area that radiates (m²).
    plain_m2: f64,
    caliper_j_k: f64,
    caliper_convection: f64,
    to_caliper: f64,
    disc_to_caliper_w_k: f64,
}

/// Temperatures of a corner's two nodes (K).
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Nodes {
    pub(crate) disc_k: f64,
    pub(crate) caliper_k: f64,
}

/// What a corner's nodes gain, and what leaves it (W).
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Flow {
    pub(crate) disc_w: f64,
    pub(crate) caliper_w: f64,
    pub(crate) to_air_w: f64,
    pub(crate) radiated_w: f64,
}

/// Heat that a corner's nodes hold over 0 °C (J).
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Held {
    pub(crate) disc_j: f64,
    pub(crate) caliper_j: f64,
}

/// How the air moves past: `v^0.8`, worked out once for all corners.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Moving {
    disc_w_m2_k: f64,
    caliper_w_k: f64,
}

impl Moving {
    pub(crate) fn at(speed_m_s: f64) -> Self {
        let moved = speed_m_s.max(0.0).powf(0.8);
        Self {
            disc_w_m2_k: 4.0 + 5.0 * moved,
            caliper_w_k: 0.60 + 0.16 * moved,
        }
    }
}

impl Corner {
    /// Of a wheel's brake. Disc: both faces of the friction ring; vented, its air counts twice, its radiation does not.
    /// Drum: `1.3 · 2π r w + π r²`, and 0.7 of the air's effect. `front` only sets what the caliper holds: 3000 J/K in
    /// front, 2400 behind, 1500 for a drum's cylinder and back plate (from memory).
    #[must_use]
    pub fn of(brake: &Brake, front: bool, unsure: Unsure) -> Self {
        let (iron_kg, blown_m2, plain_m2, caliper_j_k) = match brake {
            Brake::Disc(disc) => {
                let plain = ring_m2(disc);
                let (mass, vented) = disc
                    .disc
                    .map_or((1.0, false), |disc| (disc.mass.kg(), disc.vented));
                let blown = plain * if vented { 2.0 } else { 1.0 };
                (mass, blown, plain, if front { 3000.0 } else { 2400.0 })
            }
            Brake::Drum(drum) => {
                let plain = drum_m2(drum);
                (drum.drum.mass.kg(), 0.7 * plain, plain, 1500.0)
            }
        };
        Self {
            iron_kg,
            blown_m2: blown_m2 * unsure.convection,
            plain_m2,
            caliper_j_k: caliper_j_k * unsure.caliper,
            caliper_convection: unsure.convection,
            to_caliper: (PADS_TO_CALIPER * unsure.to_caliper).min(1.0),
            disc_to_caliper_w_k: DISC_TO_CALIPER_W_K * unsure.disc_to_caliper,
        }
    }

    /// The same corner with more or less iron, area and air: what a change of parts would do.
    #[must_use]
    pub fn changed(self, iron: f64, area: f64, air: f64) -> Self {
        Self {
            iron_kg: self.iron_kg * iron,
            blown_m2: self.blown_m2 * area * air,
            plain_m2: self.plain_m2 * area,
            ..self
        }
    }

    /// Iron of its disc or drum.
    #[must_use]
    pub fn iron(&self) -> Mass {
        Mass::from_kg(self.iron_kg)
    }

    /// Area that moving air takes heat from; a vented disc's counts twice.
    #[must_use]
    pub fn blown(&self) -> Area {
        Area::from_m2(self.blown_m2)
    }

    /// Area that radiates.
    #[must_use]
    pub fn plain(&self) -> Area {
        Area::from_m2(self.plain_m2)
    }

    /// Share of a brake's heat that leaves its pads to the air at once.
    #[must_use]
    pub fn lost_at_once(&self) -> f64 {
        (1.0 - INTO_DISC) * (1.0 - self.to_caliper)
    }

    /// Heat that both nodes hold.
    pub(crate) fn held(&self, nodes: Nodes) -> Held {
        Held {
            disc_j: self.iron_kg * iron_heat_j_kg(Temperature::from_k(nodes.disc_k)),
            caliper_j: self.caliper_j_k * (nodes.caliper_k - ZERO_CELSIUS_K),
        }
    }

    /// How warm that makes them.
    pub(crate) fn nodes(&self, held: Held) -> Nodes {
        Nodes {
            disc_k: iron_temperature(held.disc_j / self.iron_kg).k(),
            caliper_k: held.caliper_j / self.caliper_j_k + ZERO_CELSIUS_K,
        }
    }

    /// How fast nodes warm that gain so much heat (K/s).
    pub(crate) fn warming(&self, nodes: Nodes, disc_w: f64, caliper_w: f64) -> (f64, f64) {
        let specific = iron_j_kg_k(Temperature::from_k(nodes.disc_k));
        (disc_w / (self.iron_kg * specific), caliper_w / self.caliper_j_k)
    }

    /// Time in which a disc would lose what it holds over the air at the rate of now, its caliper apart:
    /// `m c/(h A + ε σ A (T² + T_a²)(T + T_a))`.
    #[must_use]
    pub fn cooling_time(&self, disc: Temperature, air: Temperature, speed: Speed) -> Duration {
        let (disc_k, air_k) = (disc.k(), air.k());
        let radiated =
            equations::radiated_per_k(EMISSIVITY, STEFAN_BOLTZMANN_W_M2_K4, self.plain_m2, disc_k, air_k);
        let blown = equations::blown_per_k(convection_w_m2_k(speed), self.blown_m2);
        Duration::from_s(equations::cooling_time(
            self.iron_kg,
            iron_j_kg_k(disc),
            blown,
            radiated,
        ))
    }

    /// The shortest time (s) in which anything of this corner settles at a speed: steps of several times that are not
    /// steady, however little happens.
    pub(crate) fn quickest_s(&self, speed_m_s: f64) -> f64 {
        /// As hot as anything gets (K): radiation is quickest there.
        const HOTTEST_K: f64 = 1300.0;
        let moving = Moving::at(speed_m_s);
        let radiation = 4.0 * EMISSIVITY * STEFAN_BOLTZMANN_W_M2_K4 * self.plain_m2 * HOTTEST_K.powi(3);
        let disc = moving.disc_w_m2_k * self.blown_m2 + radiation + self.disc_to_caliper_w_k;
        let caliper = self.caliper_convection * moving.caliper_w_k + self.disc_to_caliper_w_k;
        (self.iron_kg * iron_j_kg_k(Temperature::from_celsius(0.0)) / disc).min(self.caliper_j_k / caliper)
    }

    pub(crate) fn flow(&self, nodes: Nodes, heat_w: f64, moving: Moving, air_k: f64) -> Flow {
        let Nodes { disc_k, caliper_k } = nodes;
        let to_caliper = self.disc_to_caliper_w_k * (disc_k - caliper_k);
        let blown = moving.disc_w_m2_k * self.blown_m2 * (disc_k - air_k);
        let squares = disc_k * disc_k + air_k * air_k;
        let radiated = EMISSIVITY
            * STEFAN_BOLTZMANN_W_M2_K4
            * self.plain_m2
            * squares
            * (disc_k + air_k)
            * (disc_k - air_k);
        let from_caliper = self.caliper_convection * moving.caliper_w_k * (caliper_k - air_k);
        Flow {
            disc_w: INTO_DISC * heat_w - blown - radiated - to_caliper,
            caliper_w: (1.0 - INTO_DISC) * self.to_caliper * heat_w + to_caliper - from_caliper,
            to_air_w: blown + from_caliper,
            radiated_w: radiated,
        }
    }
}

/// Both faces of a disc's friction ring (m²).
fn ring_m2(brake: &DiscBrake) -> f64 {
    let effective_m = brake.effective_radius.m();
    let edge = |given: Option<quantity::si::Length>, over: f64| {
        given.map_or(effective_m * over, |diameter| diameter.m() / 2.0)
    };
    let outer = edge(
        brake.disc.and_then(|disc| disc.outer_diameter),
        OUTER_OVER_EFFECTIVE,
    );
    let inner = edge(
        brake.disc.and_then(|disc| disc.inner_diameter),
        INNER_OVER_EFFECTIVE,
    );
    2.0 * core::f64::consts::PI * (outer * outer - inner * inner).max(0.0)
}

/// A drum's outside (m²): `1.3 · 2π r w + π r²`.
fn drum_m2(brake: &DrumBrake) -> f64 {
    let radius = brake.drum_radius.m();
    core::f64::consts::PI * radius * (2.6 * brake.drum.width.m() + radius)
}

/// Friction of a pad or lining over its temperature, as shares of the warm friction.
#[derive(Clone, Debug, PartialEq)]
pub struct Fade {
    /// Kelvin and share of the warm friction, rising; never empty.
    at: Vec<(f64, f64)>,
    /// Loss a kelvin beyond the last point.
    beyond_per_k: f64,
    /// Whether the sheet gives it.
    given: bool,
    /// Of a drum: shares of the shoe factor go as the friction's to this power; 1 for a pad.
    power: f64,
}

impl Fade {
    /// Of a wheel's brake: the sheet's curve, or cold at 20 °C, warm from 150 to 350 °C and 86 % of it at 600 °C (from
    /// memory). Beyond the end it goes on falling: by the curve's last slope, or by the rule's where that is steeper,
    /// down to a quarter. A drum's shoe factor follows between its two known frictions by a power.
    #[must_use]
    pub fn of(brake: &Brake) -> Self {
        match brake {
            Brake::Disc(disc) => Self::of_disc(disc),
            Brake::Drum(drum) => {
                let (warm, cold) = (drum.friction.warm, drum.friction.cold);
                let between = (drum.cold_factor / drum.factor).ln() / (cold / warm).ln();
                let power = if between.is_finite() && between > 0.0 {
                    between
                } else {
                    factor_at(1.0, 1.0, core::f64::consts::E).ln()
                };
                Self::of_friction(&drum.friction, power)
            }
        }
    }

    /// Of a disc brake's pads.
    #[must_use]
    pub fn of_disc(brake: &DiscBrake) -> Self {
        Self::of_friction(&brake.friction, 1.0)
    }

    fn of_friction(friction: &Friction, power: f64) -> Self {
        let warm = friction.warm;
        let given = !friction.at.is_empty();
        let at: Vec<(f64, f64)> = if given {
            friction
                .at
                .iter()
                .map(|&(at, value)| (at.k(), value / warm))
                .collect()
        } else {
            [
                (20.0, friction.cold / warm),
                (150.0, 1.0),
                (350.0, 1.0),
                (PAD_FADED_AT.celsius(), FADED),
            ]
            .map(|(celsius, share)| (celsius + ZERO_CELSIUS_K, share))
            .to_vec()
        };
        let last_slope = match at[..] {
            [.., (from, before), (to, last)] if to > from => (last - before) / (to - from),
            _ => 0.0,
        };
        Self {
            beyond_per_k: last_slope.min(-FADE_PER_K),
            at,
            given,
            power,
        }
    }

    /// The same pads with a curve that reaches so many kelvin further up: what another pad would do.
    #[must_use]
    pub fn shifted_up(&self, by_k: f64) -> Self {
        let mut other = self.clone();
        let top_k = self.best_k();
        for (at, _) in &mut other.at {
            if *at >= top_k {
                *at += by_k;
            }
        }
        other
    }

    /// Friction at a temperature over the warm friction.
    #[must_use]
    pub fn friction(&self, temperature: Temperature) -> f64 {
        self.friction_k(temperature.k())
    }

    pub(crate) fn friction_k(&self, at_k: f64) -> f64 {
        match self.at.last() {
            Some(&(end_k, end)) if at_k > end_k => {
                (end + self.beyond_per_k * (at_k - end_k)).max(LEAST_FRICTION.min(end))
            }
            _ => crate::interpolate::clamped(&self.at, at_k, |at| at),
        }
    }

    /// Torque at a temperature over the warm torque, at one pressure.
    #[must_use]
    pub fn torque(&self, temperature: Temperature) -> f64 {
        self.torque_k(temperature.k())
    }

    pub(crate) fn torque_k(&self, at_k: f64) -> f64 {
        let friction = self.friction_k(at_k);
        if (self.power - 1.0).abs() < 1e-12 {
            friction
        } else {
            friction.powf(self.power)
        }
    }

    /// Where the friction is greatest, and above which it fades: the last such place (K).
    pub(crate) fn best_k(&self) -> f64 {
        let best = self
            .at
            .iter()
            .map(|&(_, share)| share)
            .fold(f64::NEG_INFINITY, f64::max);
        self.at
            .iter()
            .rev()
            .find(|&&(_, share)| share >= best - 1e-12)
            .map_or(f64::INFINITY, |&(at, _)| at)
    }

    /// How much of the warm friction is left at a temperature above that of the greatest friction; 1 below it, where a
    /// pad is cold and not faded.
    #[must_use]
    pub fn left(&self, temperature: Temperature) -> f64 {
        if temperature.k() <= self.best_k() {
            1.0
        } else {
            self.friction(temperature).min(1.0)
        }
    }

    /// End of the curve: beyond it nobody measured.
    #[must_use]
    pub fn ends_at(&self) -> Temperature {
        Temperature::from_k(self.at.last().map_or(f64::NAN, |&(at, _)| at))
    }

    /// Temperature above which less than a share of the warm friction is left.
    #[must_use]
    pub fn falls_below(&self, share: f64) -> Temperature {
        let best_k = self.best_k();
        let (mut low, mut high) = (best_k, best_k + 2000.0);
        if self.friction_k(low) < share {
            return Temperature::from_k(low);
        }
        for _ in 0..60 {
            let middle = 0.5 * (low + high);
            if self.friction_k(middle) < share {
                high = middle;
            } else {
                low = middle;
            }
        }
        Temperature::from_k(0.5 * (low + high))
    }

    /// Whether the sheet gives the curve.
    #[must_use]
    pub const fn is_given(&self) -> bool {
        self.given
    }
}

/// Steps to a time. The last step may end a rounding short of it and leave one that is too short to be made: then the time
/// is moved by a tenth of a microsecond, in which nothing warms, until the steps fit.
pub(crate) fn to_the_end<Solution, Fault>(
    until_s: f64,
    solve: impl Fn(f64) -> Result<Solution, Fault>,
) -> Result<Solution, Fault> {
    const TRIES: u8 = 12;
    let mut solution = solve(until_s);
    for later in 1..TRIES {
        if solution.is_ok() {
            break;
        }
        solution = solve(until_s + 1e-7 * f64::from(later));
    }
    solution
}

//! Every equation that a working shows, once: computed with numbers, it gives the physics its value; computed with formulas, it
//! gives the working its line. Nothing else in this crate writes one of them a second time.
//!
//! SI throughout. What an equation leaves out stands with the room that uses it, and in the working's line.

use core::ops::{Add, Div, Mul, Sub};

/// What an equation is computed with: a number, or a formula that stands for one.
pub(crate) trait Num:
    Clone + From<f64> + Add<Output = Self> + Sub<Output = Self> + Mul<Output = Self> + Div<Output = Self>
{
    /// The smaller of two.
    fn least(self, other: Self) -> Self;
    /// The larger of two.
    fn most(self, other: Self) -> Self;
    /// Multiplied by itself.
    fn squared(self) -> Self;
    /// To a fixed power.
    fn to_the(self, power: f64) -> Self;
    /// Square root.
    fn root(self) -> Self;
    /// `√(1 + x²)`.
    fn hypotenuse(self) -> Self;
}

impl Num for f64 {
    #[inline]
    fn least(self, other: Self) -> Self {
        self.min(other)
    }
    #[inline]
    fn most(self, other: Self) -> Self {
        self.max(other)
    }
    #[inline]
    fn squared(self) -> Self {
        self * self
    }
    #[inline]
    fn to_the(self, power: f64) -> Self {
        self.powf(power)
    }
    #[inline]
    fn root(self) -> Self {
        self.sqrt()
    }
    #[inline]
    fn hypotenuse(self) -> Self {
        self.hypot(1.0)
    }
}

/// All together.
#[inline]
pub(crate) fn sum<N: Num>(parts: impl IntoIterator<Item = N>) -> N {
    parts
        .into_iter()
        .reduce(|sum, part| sum + part)
        .unwrap_or_else(|| N::from(0.0))
}

/// One over another: what is used of a load, what is there over what is needed, torque over the radius it acts at.
#[inline]
pub(crate) fn over<N: Num>(one: N, other: N) -> N {
    one / other
}

/// What both wheels of an axle do, one doing so much.
#[inline]
pub(crate) fn both_wheels<N: Num>(one: N) -> N {
    one * N::from(2.0)
}

/// What one wheel of an axle does of what both do.
#[inline]
pub(crate) fn each_wheel<N: Num>(both: N) -> N {
    both / N::from(2.0)
}

/// `π/4 · d²`, the π/4 as a quantity of its own.
#[inline]
pub(crate) fn circle<N: Num>(quarter_pi: N, diameter: N) -> N {
    quarter_pi * diameter.clone() * diameter
}

// What the wheels carry.

/// Weight: `m g`.
#[inline]
pub(crate) fn weight<N: Num>(mass: N, gravity: N) -> N {
    mass * gravity
}

/// Common centre of masses, from `m x` of each: `Σ m x/Σ m`.
#[inline]
pub(crate) fn common_centre<N: Num>(points: impl IntoIterator<Item = (N, N)>, whole: N) -> N {
    sum(points.into_iter().map(|(mass, place)| mass * place)) / whole
}

/// Centre of gravity behind the front axle, from the scales: `L · m_r/m`.
#[inline]
pub(crate) fn aft_by_scales<N: Num>(wheelbase: N, rear: N, whole: N) -> N {
    wheelbase * (rear / whole)
}

/// Height of the line between the hubs under the centre of gravity: `(R_f (L − a) + R_r a)/L`.
#[inline]
pub(crate) fn hub_line<N: Num>(front_radius: N, rear_radius: N, wheelbase: N, aft: N) -> N {
    (front_radius * (wheelbase.clone() - aft.clone()) + rear_radius * aft) / wheelbase
}

/// Height of the centre of gravity, by an axle that was lifted: `R_cg + Δm L √(L² − H²)/(m H)`.
///
/// Source: moments about the standing axle.
#[inline]
pub(crate) fn height_by_lifting<N: Num>(hub_line: N, gained: N, wheelbase: N, lifted: N, whole: N) -> N {
    let reach = (wheelbase.clone().squared() - lifted.clone().squared()).root();
    hub_line + gained * wheelbase * reach / (whole * lifted)
}

/// Loads of front and rear axle: `m g ((L − a) c + z h)/L`, `m g (a c − z h)/L`; c presses on the road, 1 on the level.
///
/// Source: the form of UN Regulation 13-H, Annex 5 (from memory); on a slope, moments about the wheels' feet.
#[inline]
pub(crate) fn axle_loads<N: Num>(
    weight: N,
    wheelbase: N,
    aft: N,
    height: N,
    presses: N,
    braked: N,
) -> [N; 2] {
    let per_m = weight / wheelbase.clone();
    let moved = braked * height;
    [
        per_m.clone() * ((wheelbase - aft.clone()) * presses.clone() + moved.clone()),
        per_m * (aft * presses - moved),
    ]
}

/// The most braking force over weight that a grip gives: `μ c`.
#[inline]
pub(crate) fn ground_gives<N: Num>(grip: N, presses: N) -> N {
    grip * presses
}

// From pressure to torque, and back.

/// Torque of one wheel's disc brake per pressure: `2 μ A η r`. Both pads rub, hence the 2.
#[inline]
pub(crate) fn disc_gain<N: Num>(friction: N, area: N, efficiency: N, radius: N) -> N {
    N::from(2.0) * friction * area * efficiency * radius
}

/// Torque of one wheel's drum brake per pressure: `C A η r`.
#[inline]
pub(crate) fn drum_gain<N: Num>(factor: N, area: N, efficiency: N, radius: N) -> N {
    factor * area * efficiency * radius
}

/// Torque of a wheel: `k (p − p₀)⁺`.
#[inline]
pub(crate) fn torque<N: Num>(gain: N, pressure: N, threshold: N) -> N {
    gain * (pressure - threshold).most(N::from(0.0))
}

/// Pressure for a wheel's torque: `p₀ + T/k`.
#[inline]
pub(crate) fn pressure_for_torque<N: Num>(threshold: N, torque: N, gain: N) -> N {
    threshold + torque / gain
}

/// Torque of each wheel of an axle that uses so much of its load: `f N R/2`.
#[inline]
pub(crate) fn torque_using<N: Num>(used: N, load: N, radius: N) -> N {
    each_wheel(used * load * radius)
}

/// Torque of each wheel of an axle that brakes with a force: `B R/2`.
#[inline]
pub(crate) fn torque_of<N: Num>(force: N, radius: N) -> N {
    each_wheel(force * radius)
}

/// Outlet of a bias valve above its knee: `p_k + s (p_in − p_k)`.
#[inline]
pub(crate) fn above_knee<N: Num>(knee: N, slope: N, inlet: N) -> N {
    knee.clone() + slope * (inlet - knee)
}

/// Inlet for an outlet above the knee: `p_k + (p_out − p_k)/s`.
#[inline]
pub(crate) fn before_knee<N: Num>(knee: N, slope: N, outlet: N) -> N {
    knee.clone() + (outlet - knee) / slope
}

/// Knee that makes an outlet of an inlet: `(p_out − s p_in)/(1 − s)`.
#[inline]
pub(crate) fn knee<N: Num>(outlet: N, inlet: N, slope: N) -> N {
    (outlet - inlet * slope.clone()) / (N::from(1.0) - slope)
}

// From the foot to the master cylinder, and back.

/// Rod force per foot force, without help: `i η`.
#[inline]
pub(crate) fn rod_per_foot<N: Num>(ratio: N, efficiency: N) -> N {
    ratio * efficiency
}

/// Rod force without a booster: `(F − preload)⁺ i η`.
#[inline]
pub(crate) fn unhelped_rod<N: Num>(foot: N, preload: N, per_foot: N) -> N {
    (foot - preload).most(N::from(0.0)) * per_foot
}

/// Foot for a rod force without a booster.
#[inline]
pub(crate) fn unhelped_foot<N: Num>(preload: N, rod: N, per_foot: N) -> N {
    preload + rod / per_foot
}

/// Rod force up to a booster's run-out: `F_jump + G F i η`.
#[inline]
pub(crate) fn helped_rod<N: Num>(jump_in: N, gain: N, foot: N, per_foot: N) -> N {
    jump_in + gain * foot * per_foot
}

/// Foot for a rod force up to run-out; for that at run-out itself, the foot there.
#[inline]
pub(crate) fn helped_foot<N: Num>(rod: N, jump_in: N, gain: N, per_foot: N) -> N {
    (rod - jump_in) / (gain * per_foot)
}

/// Rod force beyond run-out: `F_ro + (F − F at run-out) i η`.
#[inline]
pub(crate) fn rod_beyond<N: Num>(run_out: N, foot: N, run_out_foot: N, per_foot: N) -> N {
    run_out + (foot - run_out_foot) * per_foot
}

/// Foot for a rod force beyond run-out.
#[inline]
pub(crate) fn foot_beyond<N: Num>(run_out_foot: N, rod: N, run_out: N, per_foot: N) -> N {
    run_out_foot + (rod - run_out) / per_foot
}

/// Rod force per pressure of a cylinder that gets a share of it: `A/share`.
#[inline]
pub(crate) fn rod_per_pressure<N: Num>(area: N, share: N) -> N {
    area / share
}

/// What a second of two shares gets: `1 − share`.
#[inline]
pub(crate) fn other_share<N: Num>(share: N) -> N {
    N::from(1.0) - share
}

/// Pressure under a rod force.
#[inline]
pub(crate) fn chamber_pressure<N: Num>(rod: N, per_pressure: N) -> N {
    rod / per_pressure
}

/// Rod force for a pressure.
#[inline]
pub(crate) fn rod_for_pressure<N: Num>(pressure: N, per_pressure: N) -> N {
    pressure * per_pressure
}

// Lock order and settings.

/// Braking force over weight: `(B_f + B_r)/(m g)`.
#[inline]
pub(crate) fn braking_rate<N: Num>(front: N, rear: N, weight: N) -> N {
    (front + rear) / weight
}

/// Front first by: `f₁/f₂ − 1`.
#[inline]
pub(crate) fn front_first_by<N: Num>(front_used: N, rear_used: N) -> N {
    front_used / rear_used - N::from(1.0)
}

/// Force that takes an axle to its limit, a coupling helping: `μ N + T_c/R`.
#[inline]
pub(crate) fn force_at_limit<N: Num>(grip: N, load: N, carried: N, radius: N) -> N {
    grip * load + carried / radius
}

/// What front and rear axle use of their loads where the first of them is at its grip and the wished margin lies between:
/// `μ`, `μ/(1 + M)`; with the rear first `μ (1 + M)`, `μ`.
#[inline]
pub(crate) fn used_for_wish<N: Num>(grip: N, margin: N, rear_first: bool) -> [N; 2] {
    let share = N::from(1.0) + margin;
    if rear_first {
        [grip.clone() * share, grip]
    } else {
        [grip.clone(), grip / share]
    }
}

/// Braking rate at which two axles use so much of their loads: `c (f₁ (L − a) + f₂ a)/(L − (f₁ − f₂) h)`.
#[inline]
pub(crate) fn rate_using<N: Num>(
    presses: N,
    [front_used, rear_used]: [N; 2],
    wheelbase: N,
    aft: N,
    height: N,
) -> N {
    let forces = front_used.clone() * (wheelbase.clone() - aft.clone()) + rear_used.clone() * aft;
    presses * forces / (wheelbase - (front_used - rear_used) * height)
}

// The rear axle stopped by the hand.

/// Torque that a coupling carries at the wheels: `n · T`, T read at its own speed.
#[inline]
pub(crate) fn at_the_wheels<N: Num>(turns: N, torque: N) -> N {
    turns * torque
}

/// Braking rate with the rear axle locked and a coupling pulling the front wheels back:
/// `(μ a c/L + X/(m g))/(1 + μ h/L)`, X what the coupling pulls, `T_c/R`.
#[inline]
pub(crate) fn rate_rear_locked<N: Num>(
    grip: N,
    [aft, height]: [N; 2],
    wheelbase: N,
    presses: N,
    pull: N,
    weight: N,
) -> N {
    (grip.clone() * (aft * presses) / wheelbase.clone() + pull / weight)
        / (N::from(1.0) + grip * height / wheelbase)
}

/// Torque that an axle's grip gives: `μ N R`.
#[inline]
pub(crate) fn grip_torque<N: Num>(grip: N, load: N, radius: N) -> N {
    grip * load * radius
}

/// Torque that stops the rear axle: its grip's, and what the coupling carries back.
#[inline]
pub(crate) fn torque_to_stop<N: Num>(grip_torque: N, back: N) -> N {
    grip_torque + back
}

/// Area that the lever's push rod presses on: one bore, or two abreast.
#[inline]
pub(crate) fn pressed_area<N: Num>(bores: N, circle: N) -> N {
    bores * circle
}

/// Pressure per force of the hand: `i η/A`.
#[inline]
pub(crate) fn pressure_per_hand<N: Num>(ratio: N, efficiency: N, area: N) -> N {
    ratio * efficiency / area
}

/// Pressure of a hand.
#[inline]
pub(crate) fn pressure_of_hand<N: Num>(hand: N, per_hand: N) -> N {
    hand * per_hand
}

/// Hand for a pressure.
#[inline]
pub(crate) fn hand_for_pressure<N: Num>(pressure: N, per_hand: N) -> N {
    pressure / per_hand
}

/// Torque of a disc per force at its pads: `2 μ r`.
#[inline]
pub(crate) fn disc_per_force<N: Num>(friction: N, radius: N) -> N {
    N::from(2.0) * friction * radius
}

/// Torque of a drum per force at its shoes: `C r`.
#[inline]
pub(crate) fn drum_per_force<N: Num>(factor: N, radius: N) -> N {
    factor * radius
}

/// Torque of one wheel by a cable whose force is halved over two: `F i η/2 · T per force`.
#[inline]
pub(crate) fn cable_torque<N: Num>(hand: N, ratio: N, efficiency: N, per_force: N) -> N {
    hand * ratio * efficiency / N::from(2.0) * per_force
}

/// Stroke of a cylinder: `V/A`, and the free stroke before it.
#[inline]
pub(crate) fn stroke<N: Num>(volume: N, area: N, free: N) -> N {
    volume / area + free
}

/// Free strokes that a pull takes up: two where two pistons stand one behind the other.
#[inline]
pub(crate) fn free_strokes<N: Num>(free: N, pistons: N) -> N {
    free * pistons
}

/// Travel of the grip: stroke times ratio, and the free play.
#[inline]
pub(crate) fn grip_travel<N: Num>(stroke: N, ratio: N, play: N) -> N {
    stroke * ratio + play
}

// What takes fluid.

/// Volume of one wheel's pads or pistons coming up: `2 A c`.
#[inline]
pub(crate) fn clearance<N: Num>(area: N, clearance: N) -> N {
    N::from(2.0) * area * clearance
}

/// So much of it as a pressure has taken up: all from the brake's threshold on.
#[inline]
pub(crate) fn taken_up<N: Num>(volume: N, pressure: N, threshold: N) -> N {
    volume * (pressure / threshold).least(N::from(1.0))
}

/// Volume of what gives way like a spring.
#[inline]
pub(crate) fn given_way<N: Num>(per_pressure: N, pressure: N) -> N {
    per_pressure * pressure
}

/// Volume that fluid gives up: `V p/K`.
#[inline]
pub(crate) fn fluid_given_up<N: Num>(volume: N, pressure: N, bulk_modulus: N) -> N {
    volume * (pressure / bulk_modulus)
}

/// Volume that air gives up: `V₀ (1 − p_atm/(p_atm + p))`. Source: Boyle's law.
#[inline]
pub(crate) fn air_given_up<N: Num>(at_rest: N, atmosphere: N, pressure: N) -> N {
    at_rest * (N::from(1.0) - atmosphere.clone() / (atmosphere + pressure))
}

// Heat.

/// Heat radiated a kelvin over the air: `ε σ A (T² + T_a²)(T + T_a)`.
#[inline]
pub(crate) fn radiated_per_k<N: Num>(emissivity: N, constant: N, area: N, hot: N, air: N) -> N {
    emissivity * constant * area * (hot.clone().squared() + air.clone().squared()) * (hot + air)
}

/// Time in which iron would lose what it holds at the rate of now: `m c/(h A + radiated)`.
#[inline]
pub(crate) fn cooling_time<N: Num>(mass: N, specific: N, blown: N, radiated: N) -> N {
    mass * specific / (blown + radiated)
}

/// Heat that moving air takes a kelvin: `h A`.
#[inline]
pub(crate) fn blown_per_k<N: Num>(convection: N, area: N) -> N {
    convection * area
}

/// Share of the way from dry to wet that a fluid has gone.
#[inline]
pub(crate) fn share_aged<N: Num>(days: N, wet_after: N) -> N {
    (days / wet_after).least(N::from(1.0))
}

/// Boiling point at an age: `dry − (dry − wet) s^0.6` (from memory, judgement).
#[inline]
pub(crate) fn boiling_point<N: Num>(dry: N, wet: N, share: N) -> N {
    dry.clone() - (dry - wet) * share.to_the(0.6)
}

/// What is left to the boiling point.
#[inline]
pub(crate) fn left_to_boil<N: Num>(boils: N, hottest: N) -> N {
    boils - hottest
}

// A latched lever on a slope.

/// Sine of a slope's angle, from its rise over run: `i/√(1 + i²)`.
#[inline]
pub(crate) fn sine_of_slope<N: Num>(slope: N) -> N {
    slope.clone() / slope.hypotenuse()
}

/// Rise over run from a sine: `s/√(1 − s²)`.
#[inline]
pub(crate) fn slope_of_sine<N: Num>(sine: N) -> N {
    sine.clone() / (N::from(1.0) - sine.squared()).root()
}

/// Torque that holds a car on its slope: `m g sin θ R`.
#[inline]
pub(crate) fn torque_to_hold<N: Num>(weight: N, sine: N, radius: N) -> N {
    weight * sine * radius
}

/// Sine of the angle that a torque holds a car on.
#[inline]
pub(crate) fn sine_held<N: Num>(torque: N, weight: N, radius: N) -> N {
    torque / (weight * radius)
}

/// Slope that the rear tyres hold a car on: `μ a/(L ∓ μ h)`, the upper sign nose up.
#[inline]
pub(crate) fn slope_of_grip<N: Num>(grip: N, aft: N, wheelbase: N, height: N, nose_up: bool) -> N {
    let lever = grip.clone() * height;
    let under = if nose_up {
        wheelbase - lever
    } else {
        wheelbase + lever
    };
    grip * aft / under
}

/// Torque at a friction that is so much of the warm one.
#[inline]
pub(crate) fn at_that_friction<N: Num>(warm: N, share: N) -> N {
    warm * share
}

use quantity::si::{Area, Flex, Length, Mass, Temperature};

/// Friction of a pad or lining, warm, cold and over temperature.
#[derive(Clone, Debug, PartialEq)]
pub struct Friction {
    /// Warm.
    pub warm: f64,
    /// Cold.
    pub cold: f64,
    /// Over temperature, rising; empty: by rule.
    pub at: Vec<(Temperature, f64)>,
}

/// How a caliper clamps.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum CaliperLayout {
    /// Pistons on both sides; the sheet lists one side's.
    Opposed,
    /// Pistons on one side; the caliper slides.
    Sliding,
}

/// What a caliper or disc holds for parking.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Parking {
    /// Nothing.
    None,
    /// A mechanism in the caliper.
    InCaliper,
    /// A mechanism in the caliper whose inner parts were taken out.
    InCaliperGutted,
    /// Small shoes inside the disc.
    DrumInDisc,
}

/// A caliper.
#[derive(Clone, Debug, PartialEq)]
pub struct Caliper {
    /// How it clamps.
    pub layout: CaliperLayout,
    /// Piston diameters: one side's if opposed, all if sliding.
    pub pistons: Vec<Length>,
    /// What it holds for parking.
    pub parking: Parking,
}

impl Caliper {
    /// Area that presses one pad: the pistons of one side if opposed, all there are if sliding.
    #[must_use]
    pub fn piston_area(&self) -> Area {
        self.pistons.iter().map(|&bore| circle(bore)).sum()
    }
}

/// Area of a circle.
#[must_use]
pub fn circle(diameter: Length) -> Area {
    Area::from_m2(crate::equations::circle(
        core::f64::consts::FRAC_PI_4,
        diameter.m(),
    ))
}

/// A disc, as far as heat needs it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Disc {
    /// With its bell.
    pub mass: Mass,
    /// Outer edge of the friction ring.
    pub outer_diameter: Option<Length>,
    /// Inner edge of the friction ring.
    pub inner_diameter: Option<Length>,
    /// Over both faces.
    pub thickness: Length,
    /// Whether air passes between the faces.
    pub vented: bool,
}

/// One wheel's disc brake.
#[derive(Clone, Debug, PartialEq)]
pub struct DiscBrake {
    /// The caliper.
    pub caliper: Caliper,
    /// Radius at which the pads' force acts.
    pub effective_radius: Length,
    /// Pad friction.
    pub friction: Friction,
    /// Pad thickness as it is now.
    pub pad_thickness: Length,
    /// The disc; a separate lever's second caliper has none of its own.
    pub disc: Option<Disc>,
    /// Pad to disc, each side.
    pub clearance: Length,
    /// Volume taken per pressure by the caliper.
    pub flex: Flex,
}

/// What takes up the wear of drum linings.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ShoeAdjuster {
    /// The parking cable's lever and its ratchet.
    LeverRatchet,
    /// The brake itself.
    Automatic,
    /// A spanner.
    Manual,
}

/// A drum, as far as heat needs it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Drum {
    /// What it weighs.
    pub mass: Mass,
    /// Of the friction face.
    pub width: Length,
}

/// One wheel's drum brake.
#[derive(Clone, Debug, PartialEq)]
pub struct DrumBrake {
    /// Wheel cylinder bore.
    pub cylinder_bore: Length,
    /// Inside of the drum.
    pub drum_radius: Length,
    /// Drum friction force over applied force, warm.
    pub factor: f64,
    /// The same with cold linings.
    pub cold_factor: f64,
    /// Lining friction.
    pub friction: Friction,
    /// The drum.
    pub drum: Drum,
    /// What takes up wear.
    pub adjuster: ShoeAdjuster,
    /// Travel of each cylinder piston before the shoes touch.
    pub clearance: Length,
    /// Volume taken per pressure.
    pub flex: Flex,
}

/// One wheel's brake.
#[derive(Clone, Debug, PartialEq)]
pub enum Brake {
    /// Disc and caliper.
    Disc(DiscBrake),
    /// Drum and shoes.
    Drum(DrumBrake),
}

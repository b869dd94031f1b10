/// What kind of thing a quantity is. Temperatures and temperature differences are told apart, as are torque and
/// work, which share a unit but are never meant for one another on a sheet.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Dimension {
    /// A bare number: a ratio, a friction coefficient. SI unit 1.
    Ratio,
    /// SI unit m.
    Length,
    /// SI unit m³. Fuel in litres, air in cm³.
    Volume,
    /// SI unit kg.
    Mass,
    /// SI unit N.
    Force,
    /// SI unit N·m.
    Torque,
    /// Gauge pressure. SI unit Pa.
    Pressure,
    /// SI unit m/s.
    Speed,
    /// A point on the scale. SI unit K (absolute); written in °C or °F.
    Temperature,
    /// SI unit rad; written in degrees or radians.
    Angle,
    /// Rise over run. SI unit 1; written in per cent, or as `1 in 6`.
    Slope,
    /// Turns of a knob or a bar, counted in from fully out. Unit: one turn.
    Turns,
    /// SI unit s.
    Duration,
    /// Speed of rotation. SI unit rad/s; written in rpm.
    Rotation,
    /// Moment of inertia. SI unit kg·m².
    Inertia,
    /// Flex of a caliper or hose: volume taken per pressure. SI unit m³/Pa; written in cm3/bar.
    Flex,
}

impl Dimension {
    /// Every dimension, in the order of their declaration.
    pub const ALL: [Self; 16] = [
        Self::Ratio,
        Self::Length,
        Self::Volume,
        Self::Mass,
        Self::Force,
        Self::Torque,
        Self::Pressure,
        Self::Speed,
        Self::Temperature,
        Self::Angle,
        Self::Slope,
        Self::Turns,
        Self::Duration,
        Self::Rotation,
        Self::Inertia,
        Self::Flex,
    ];

    /// Its name with the article, as it stands in a sentence: `a length`, `an angle`.
    #[must_use]
    pub const fn with_article(self) -> &'static str {
        match self {
            Self::Ratio => "a ratio",
            Self::Length => "a length",
            Self::Volume => "a volume",
            Self::Mass => "a mass",
            Self::Force => "a force",
            Self::Torque => "a torque",
            Self::Pressure => "a pressure",
            Self::Speed => "a speed",
            Self::Temperature => "a temperature",
            Self::Angle => "an angle",
            Self::Slope => "a slope",
            Self::Turns => "a number of turns",
            Self::Duration => "a time",
            Self::Rotation => "a speed of rotation",
            Self::Inertia => "a moment of inertia",
            Self::Flex => "a volume per pressure",
        }
    }

    /// A quantity of this kind as it might be written.
    #[must_use]
    pub const fn example(self) -> &'static str {
        match self {
            Self::Ratio => "0.42",
            Self::Length => "15.9 mm",
            Self::Volume => "12 L",
            Self::Mass => "25 kg",
            Self::Force => "250 N",
            Self::Torque => "60 N m",
            Self::Pressure => "70 bar",
            Self::Speed => "45 km/h",
            Self::Temperature => "20 C",
            Self::Angle => "15 deg",
            Self::Slope => "12 %",
            Self::Turns => "2.5 turns",
            Self::Duration => "60 ms",
            Self::Rotation => "200 rpm",
            Self::Inertia => "1.1 kg m2",
            Self::Flex => "0.01 cm3/bar",
        }
    }
}

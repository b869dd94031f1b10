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

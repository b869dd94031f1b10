//! Quantities in SI, one type a dimension. `Length::from_m(0.5).m()`; sums and differences within a type, products
//! with a bare number, and the ratio of two of a kind. Anything else is written out in `f64` with the unit in its name.

macro_rules! quantity {
    ($(#[$doc:meta])* $name:ident, $from:ident, $get:ident) => {
        $(#[$doc])*
        #[derive(Clone, Copy, Debug, Default, PartialEq, PartialOrd)]
        pub struct $name(f64);

        impl $name {
            /// Nothing of it.
            pub const ZERO: Self = Self(0.0);

            /// From the unit in the name.
            #[must_use]
            pub const fn $from(value: f64) -> Self {
                Self(value)
            }

            /// In the unit of the name.
            #[must_use]
            pub const fn $get(self) -> f64 {
                self.0
            }

            /// The smaller of the two.
            #[must_use]
            pub const fn min(self, other: Self) -> Self {
                Self(self.0.min(other.0))
            }

            /// The larger of the two.
            #[must_use]
            pub const fn max(self, other: Self) -> Self {
                Self(self.0.max(other.0))
            }
        }

        impl core::ops::Add for $name {
            type Output = Self;
            fn add(self, other: Self) -> Self {
                Self(self.0 + other.0)
            }
        }

        impl core::ops::Sub for $name {
            type Output = Self;
            fn sub(self, other: Self) -> Self {
                Self(self.0 - other.0)
            }
        }

        impl core::ops::Neg for $name {
            type Output = Self;
            fn neg(self) -> Self {
                Self(-self.0)
            }
        }

        impl core::ops::Mul<f64> for $name {
            type Output = Self;
            fn mul(self, factor: f64) -> Self {
                Self(self.0 * factor)
            }
        }

        impl core::ops::Div<f64> for $name {
            type Output = Self;
            fn div(self, divisor: f64) -> Self {
                Self(self.0 / divisor)
            }
        }

        impl core::ops::Div for $name {
            type Output = f64;
            fn div(self, other: Self) -> f64 {
                self.0 / other.0
            }
        }

        impl core::iter::Sum for $name {
            fn sum<I: Iterator<Item = Self>>(parts: I) -> Self {
                Self(parts.map(|part| part.0).sum())
            }
        }
    };
}

quantity!(
    /// A length, in m.
    Length, from_m, m
);
quantity!(
    /// An area, in m².
    Area, from_m2, m2
);
quantity!(
    /// A volume, in m³.
    Volume, from_m3, m3
);
quantity!(
    /// A mass, in kg.
    Mass, from_kg, kg
);
quantity!(
    /// A force, in N.
    Force, from_n, n
);
quantity!(
    /// A torque, in N·m.
    Torque, from_nm, nm
);
quantity!(
    /// A gauge pressure, in Pa: zero is the air of the day.
    Pressure, from_pa, pa
);
quantity!(
    /// A speed, in m/s.
    Speed, from_m_s, m_s
);
quantity!(
    /// An acceleration, in m/s².
    Acceleration, from_m_s2, m_s2
);
quantity!(
    /// An angle, in rad.
    Angle, from_rad, rad
);
quantity!(
    /// Turns of a knob or a bar, counted in from fully out.
    Turns, from_turns, turns
);
quantity!(
    /// A stretch of time, in s.
    Duration, from_s, s
);
quantity!(
    /// A speed of rotation, in rad/s.
    Rotation, from_rad_s, rad_s
);
quantity!(
    /// A moment of inertia, in kg·m².
    Inertia, from_kg_m2, kg_m2
);
quantity!(
    /// Volume taken per pressure, in m³/Pa.
    Flex, from_m3_pa, m3_pa
);
quantity!(
    /// A difference of two temperatures, in K.
    TemperatureDifference, from_dk, dk
);

/// A temperature, in K, absolute. Two temperatures cannot be added; their difference is a [`TemperatureDifference`].
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct Temperature(f64);

impl Temperature {
    /// From kelvin.
    #[must_use]
    pub const fn from_k(kelvin: f64) -> Self {
        Self(kelvin)
    }

    /// From degrees Celsius.
    #[must_use]
    pub const fn from_celsius(degrees: f64) -> Self {
        Self(degrees + 273.15)
    }

    /// In kelvin.
    #[must_use]
    pub const fn k(self) -> f64 {
        self.0
    }

    /// In degrees Celsius.
    #[must_use]
    pub const fn celsius(self) -> f64 {
        self.0 - 273.15
    }

    /// The lower of the two.
    #[must_use]
    pub const fn min(self, other: Self) -> Self {
        Self(self.0.min(other.0))
    }

    /// The higher of the two.
    #[must_use]
    pub const fn max(self, other: Self) -> Self {
        Self(self.0.max(other.0))
    }
}

impl core::ops::Sub for Temperature {
    type Output = TemperatureDifference;
    fn sub(self, other: Self) -> TemperatureDifference {
        TemperatureDifference::from_dk(self.0 - other.0)
    }
}

impl core::ops::Add<TemperatureDifference> for Temperature {
    type Output = Self;
    fn add(self, difference: TemperatureDifference) -> Self {
        Self(self.0 + difference.dk())
    }
}

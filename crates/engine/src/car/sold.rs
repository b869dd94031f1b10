//! Sizes as they are sold: what is tried one by one, here and wherever sizes are searched.
//!
//! They are common practice, no source: a list of what the trade usually has on its shelves, in its two series. A shelf may
//! lack some, and have others; every answer takes any size that is said.

use quantity::si::Length;
use quantity::{Dimension, parse};

/// The series that a size belongs to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Series {
    /// Sold in inches.
    Inch,
    /// Sold in millimetres.
    Metric,
}

/// A size as a shelf label says it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Size {
    /// As it is written on a sheet: `5/8 in`.
    pub text: &'static str,
    /// Its series.
    pub series: Series,
}

impl Size {
    /// How large it is.
    #[must_use]
    pub fn length(self) -> Length {
        Length::from_m(parse(self.text, Dimension::Length).map_or(0.0, |amount| amount.si))
    }
}

const fn inch(text: &'static str) -> Size {
    Size {
        text,
        series: Series::Inch,
    }
}

const fn metric(text: &'static str) -> Size {
    Size {
        text,
        series: Series::Metric,
    }
}

/// Bores of cylinders that a hand works, from the least. Common practice, no source.
pub const LEVER_BORES: &[Size] = &[
    inch("1/2 in"),
    metric("13 mm"),
    metric("14 mm"),
    inch("9/16 in"),
    metric("15 mm"),
    inch("5/8 in"),
    metric("16 mm"),
    metric("17 mm"),
    inch("0.70 in"),
    metric("18 mm"),
    metric("19 mm"),
    inch("3/4 in"),
    metric("20 mm"),
    inch("13/16 in"),
    metric("22 mm"),
    inch("7/8 in"),
];

/// Bores of cylinders that a foot works, from the least. Common practice, no source.
pub const MASTER_BORES: &[Size] = &[
    inch("5/8 in"),
    metric("16 mm"),
    metric("17 mm"),
    inch("0.70 in"),
    metric("18 mm"),
    metric("19 mm"),
    inch("3/4 in"),
    metric("20 mm"),
    inch("13/16 in"),
    metric("22 mm"),
    inch("7/8 in"),
    metric("23 mm"),
    inch("15/16 in"),
    metric("24 mm"),
    metric("25 mm"),
    inch("1 in"),
    inch("1-1/16 in"),
    inch("1-1/8 in"),
];

/// Bores of wheel cylinders in drums, from the least. Common practice, no source.
pub const WHEEL_CYLINDER_BORES: &[Size] = &[
    inch("5/8 in"),
    inch("11/16 in"),
    metric("18 mm"),
    metric("19 mm"),
    inch("3/4 in"),
    metric("20 mm"),
    inch("13/16 in"),
    metric("22 mm"),
    inch("7/8 in"),
    inch("15/16 in"),
    inch("1 in"),
];

/// Pistons of calipers, from the least. Common practice, no source.
pub const CALIPER_PISTONS: &[Size] = &[
    inch("1-1/8 in"),
    metric("30 mm"),
    inch("1-1/4 in"),
    metric("32 mm"),
    metric("34 mm"),
    inch("1-3/8 in"),
    metric("36 mm"),
    metric("38 mm"),
    inch("1-1/2 in"),
    metric("40 mm"),
    inch("1-5/8 in"),
    metric("42 mm"),
    inch("1-3/4 in"),
    metric("45 mm"),
    metric("48 mm"),
    metric("51 mm"),
    metric("54 mm"),
    metric("57 mm"),
    metric("60 mm"),
];

/// Ratios of levers, from the least: what most linkages can be drilled to. Common practice, no source.
pub const LEVER_RATIOS: &[f64] = &[5.0, 6.0, 7.0, 8.0, 10.0];

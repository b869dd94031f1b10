//! The middle layer: markup that knows no car.

pub(crate) mod assets;
mod formula;
pub(crate) mod frame;
pub(crate) mod look;
pub(crate) mod parts;
pub(crate) mod trouble;

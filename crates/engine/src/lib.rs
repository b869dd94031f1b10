//! The physics of a rally car's brakes. A module is a question of the trade.
//!
//! Everything here is computed from plain data; no file, socket, clock or terminal is known in this crate. Inside, SI
//! units; x forward, y left, z up (ISO 8855); a deceleration is positive where a name says so.

pub mod balance;
pub mod brake;
pub mod car;
pub mod conditions;
pub mod coupling;
pub mod curves;
pub mod drivetrain;
mod equations;
pub mod figures;
pub mod fit;
pub mod fluid;
pub mod foot;
pub mod gains;
pub mod gauges;
pub mod headline;
pub mod heat;
pub mod hold;
pub mod hydraulics;
mod interpolate;
pub mod lever;
pub mod lining;
pub mod loads;
pub mod measuring;
pub mod mount;
pub mod network;
pub mod pull;
pub mod ranges;
pub mod sensitivity;
pub mod settles;
pub mod sizing;
mod solve;
pub mod spread;
pub mod thermal;
pub mod thresholds;
pub mod trapped;
pub mod turn;
pub mod tyre;
pub mod updating;
pub mod wanted;
pub mod working;

pub use conditions::Conditions;

/// Gravity (m/s²).
pub const GRAVITY_M_S2: f64 = 9.81;

/// The day's air, absolute (Pa).
pub const ATMOSPHERE_PA: f64 = 101_325.0;

/// Petrol (kg/L).
pub const FUEL_KG_L: f64 = 0.74;

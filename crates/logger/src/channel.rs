//! What a column can be of.

use quantity::{Dimension, find_unit};

/// What a column is of.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Channel {
    /// Pressure of the front brakes.
    FrontPressure,
    /// Pressure of the rear brakes.
    RearPressure,
    /// The car over the ground.
    Speed,
    /// Speed of a wheel's tread.
    WheelFrontLeft,
    /// Speed of a wheel's tread.
    WheelFrontRight,
    /// Speed of a wheel's tread.
    WheelRearLeft,
    /// Speed of a wheel's tread.
    WheelRearRight,
    /// Positive forwards.
    Acceleration,
    /// Temperature of a front disc.
    FrontDisc,
    /// Temperature of a rear disc.
    RearDisc,
    /// Temperature of the fluid in a front caliper.
    FrontFluid,
    /// Temperature of the fluid in a rear caliper.
    RearFluid,
    /// Travel of the handbrake's grip.
    LeverTravel,
}

impl Channel {
    /// All of them.
    pub const ALL: [Self; 13] = [
        Self::FrontPressure,
        Self::RearPressure,
        Self::Speed,
        Self::WheelFrontLeft,
        Self::WheelFrontRight,
        Self::WheelRearLeft,
        Self::WheelRearRight,
        Self::Acceleration,
        Self::FrontDisc,
        Self::RearDisc,
        Self::FrontFluid,
        Self::RearFluid,
        Self::LeverTravel,
    ];

    /// As heads and the map write it.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::FrontPressure => "front pressure",
            Self::RearPressure => "rear pressure",
            Self::Speed => "speed",
            Self::WheelFrontLeft => "wheel front left",
            Self::WheelFrontRight => "wheel front right",
            Self::WheelRearLeft => "wheel rear left",
            Self::WheelRearRight => "wheel rear right",
            Self::Acceleration => "longitudinal acceleration",
            Self::FrontDisc => "front disc",
            Self::RearDisc => "rear disc",
            Self::FrontFluid => "front fluid",
            Self::RearFluid => "rear fluid",
            Self::LeverTravel => "lever travel",
        }
    }

    /// Place in a list of all.
    pub(crate) fn index(self) -> usize {
        Self::ALL.iter().position(|channel| *channel == self).unwrap_or(0)
    }

    /// Least and greatest that a car can show, in SI; beyond it a sensor is off.
    pub(crate) const fn possible(self) -> (f64, f64) {
        match self {
            Self::FrontPressure | Self::RearPressure => (-2e6, 4e7),
            Self::Speed
            | Self::WheelFrontLeft
            | Self::WheelFrontRight
            | Self::WheelRearLeft
            | Self::WheelRearRight => (-20.0, 120.0),
            Self::Acceleration => (-40.0, 40.0),
            Self::FrontDisc | Self::RearDisc => (200.0, 1600.0),
            Self::FrontFluid | Self::RearFluid => (200.0, 700.0),
            Self::LeverTravel => (-0.1, 1.0),
        }
    }

    /// A single sample that stands off both neighbours by more than this, in SI, is a spike (judgement: no brake and no
    /// car moves there and back within two samples).
    pub(crate) const fn spike(self) -> f64 {
        match self {
            // Off the tenths of a bar that loggers write, so that no unit decides.
            Self::FrontPressure | Self::RearPressure => 1.505e6,
            Self::Speed
            | Self::WheelFrontLeft
            | Self::WheelFrontRight
            | Self::WheelRearLeft
            | Self::WheelRearRight => 8.0,
            Self::Acceleration => 12.0,
            Self::FrontDisc | Self::RearDisc | Self::FrontFluid | Self::RearFluid => 60.0,
            Self::LeverTravel => 0.05,
        }
    }

    /// The channel of that name, however it is spaced.
    pub(crate) fn named(name: &str) -> Option<Self> {
        let wanted = name.trim().to_lowercase();
        Self::ALL.into_iter().find(|channel| channel.name() == wanted)
    }

    /// The channel that a head's words mean; `None` where they could mean two.
    pub(crate) fn of_words(words: &[String]) -> Option<Self> {
        let has = |any: &[&str]| any.iter().any(|one| words.iter().any(|word| word == one));
        let (front, rear) = (has(&["front", "f", "frt", "fr"]), has(&["rear", "r", "rr"]));
        let axle = |of_front: Self, of_rear: Self| match (front, rear) {
            (true, false) => Some(of_front),
            (false, true) => Some(of_rear),
            _ => None,
        };
        let corner = {
            let (left, right) = (
                has(&["left", "l"]),
                has(&["right"]) || (has(&["r"]) && has(&["front", "f"])),
            );
            if has(&["fl"]) || (front && left) {
                Some(Self::WheelFrontLeft)
            } else if has(&["fr"]) && !left && !right || (front && right) {
                Some(Self::WheelFrontRight)
            } else if has(&["rl"]) || (rear && left) {
                Some(Self::WheelRearLeft)
            } else if has(&["rr"]) || (rear && right) {
                Some(Self::WheelRearRight)
            } else {
                None
            }
        };
        if has(&["wheel", "wheelspeed", "ws"]) {
            return corner;
        }
        if has(&["pressure", "press", "prs"]) {
            return axle(Self::FrontPressure, Self::RearPressure);
        }
        if has(&["disc", "disk", "rotor"]) {
            return axle(Self::FrontDisc, Self::RearDisc);
        }
        if has(&["fluid"]) {
            return axle(Self::FrontFluid, Self::RearFluid);
        }
        if has(&["lever", "handbrake", "grip"]) && has(&["travel", "stroke", "position"]) {
            return Some(Self::LeverTravel);
        }
        if has(&["acceleration", "accel", "acc"]) {
            return (has(&["longitudinal", "long", "x"]) && !has(&["lateral", "lat", "y", "z", "vertical"]))
                .then_some(Self::Acceleration);
        }
        if has(&["ax"]) {
            return Some(Self::Acceleration);
        }
        (has(&["speed", "velocity"]) && !has(&["engine", "shaft", "wind"])).then_some(Self::Speed)
    }
}

/// From a column's unit to SI: `si = value · times + plus`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Scale {
    pub(crate) times: f64,
    pub(crate) plus: f64,
}

/// How far an axle's wheels roll in a radian, where wheel speeds come as turns; m.
pub(crate) type RollingRadius = [f64; 2];

impl Scale {
    /// Of a channel in a unit; `None` where the unit is none of its kind.
    pub(crate) fn new(channel: Channel, unit: &str, radius: Option<RollingRadius>) -> Option<Self> {
        let wheel = match channel {
            Channel::WheelFrontLeft | Channel::WheelFrontRight => Some(0),
            Channel::WheelRearLeft | Channel::WheelRearRight => Some(1),
            _ => None,
        };
        let dimension = match channel {
            Channel::FrontPressure | Channel::RearPressure => Dimension::Pressure,
            Channel::FrontDisc | Channel::RearDisc | Channel::FrontFluid | Channel::RearFluid => {
                Dimension::Temperature
            }
            Channel::LeverTravel => Dimension::Length,
            Channel::Acceleration => return acceleration(unit),
            _ => Dimension::Speed,
        };
        if let Ok(unit) = find_unit(unit, dimension) {
            let zero = unit.to_si(0.0);
            return Some(Self {
                times: unit.difference_to_si(1.0),
                plus: zero,
            });
        }
        let turning = find_unit(unit, Dimension::Rotation).ok()?;
        let radius_m = radius?[wheel?];
        Some(Self {
            times: turning.difference_to_si(1.0) * radius_m,
            plus: 0.0,
        })
    }

    pub(crate) fn si(self, value: f64) -> f64 {
        value.mul_add(self.times, self.plus)
    }
}

fn acceleration(unit: &str) -> Option<Scale> {
    let times = match unit.trim() {
        "m/s2" | "m/s²" | "m/s^2" | "m/s/s" => 1.0,
        "g" | "G" => engine::GRAVITY_M_S2,
        _ => return None,
    };
    Some(Scale { times, plus: 0.0 })
}

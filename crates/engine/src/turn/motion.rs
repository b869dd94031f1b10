//! Where a car is and how it moves.

/// Number of figures that a motion is made of.
pub(super) const STATES: usize = 17;

/// How many of them are the motion's own: errors are counted over these.
pub(super) const MOVING: usize = 15;

/// A motion as the integration sees it.
pub(super) type State = [f64; STATES];

/// Places of the figures in a [`State`]. The seven from [`FORWARD`] on are those that the implicit part solves for.
pub(super) const X: usize = 0;
pub(super) const Y: usize = 1;
pub(super) const HEADING: usize = 2;
pub(super) const FORWARD: usize = 3;
pub(super) const SIDEWAYS: usize = 4;
pub(super) const YAW: usize = 5;
pub(super) const SPIN: usize = 6;
pub(super) const PUSH: usize = 10;
pub(super) const SWAY: usize = 11;
pub(super) const REAR: usize = 12;
pub(super) const LEVER: usize = 13;
pub(super) const STEER: usize = 14;
/// What enters an axle's differential, front and rear, as its plates have felt it.
pub(super) const INPUT: usize = 15;

/// Where a car is and how it moves, at one moment. x forward and y left at the start, heading and steer positive to the
/// left.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Motion {
    /// Centre of gravity, along the way in (m).
    pub x_m: f64,
    /// Centre of gravity, to the left of the way in (m).
    pub y_m: f64,
    /// Heading, not wrapped (rad).
    pub heading_rad: f64,
    /// Speed along the car (u) (m/s).
    pub forward_m_s: f64,
    /// Speed across the car, to the left (v) (m/s).
    pub sideways_m_s: f64,
    /// Yaw rate (rad/s).
    pub yaw_rate_rad_s: f64,
    /// The four wheels (rad/s).
    pub wheel_rad_s: [f64; 4],
    /// Acceleration along the car as the springs have followed it (m/s²).
    pub lagged_forward_m_s2: f64,
    /// Acceleration across the car as the springs have followed it (m/s²).
    pub lagged_sideways_m_s2: f64,
    /// Pressure in the rear brakes as it has arrived (Pa).
    pub rear_pa: f64,
    /// What has arrived at a lever's own brakes: pressure (Pa), or the hand's force on a cable (N).
    pub lever: f64,
    /// Steer of the front wheels (rad).
    pub steer_rad: f64,
}

impl Motion {
    /// Straight ahead at a speed, wheels rolling.
    #[must_use]
    pub fn rolling(speed_m_s: f64, front_radius_m: f64, rear_radius_m: f64) -> Self {
        let (front, rear) = (speed_m_s / front_radius_m, speed_m_s / rear_radius_m);
        Self {
            forward_m_s: speed_m_s,
            wheel_rad_s: [front, front, rear, rear],
            ..Self::default()
        }
    }

    pub(super) fn state(&self) -> State {
        let mut state = [0.0; STATES];
        state[X] = self.x_m;
        state[Y] = self.y_m;
        state[HEADING] = self.heading_rad;
        state[FORWARD] = self.forward_m_s;
        state[SIDEWAYS] = self.sideways_m_s;
        state[YAW] = self.yaw_rate_rad_s;
        state[SPIN..SPIN + 4].copy_from_slice(&self.wheel_rad_s);
        state[PUSH] = self.lagged_forward_m_s2;
        state[SWAY] = self.lagged_sideways_m_s2;
        state[REAR] = self.rear_pa;
        state[LEVER] = self.lever;
        state[STEER] = self.steer_rad;
        state
    }

    pub(super) fn of(state: &State) -> Self {
        Self {
            x_m: state[X],
            y_m: state[Y],
            heading_rad: state[HEADING],
            forward_m_s: state[FORWARD],
            sideways_m_s: state[SIDEWAYS],
            yaw_rate_rad_s: state[YAW],
            wheel_rad_s: spin(state),
            lagged_forward_m_s2: state[PUSH],
            lagged_sideways_m_s2: state[SWAY],
            rear_pa: state[REAR],
            lever: state[LEVER],
            steer_rad: state[STEER],
        }
    }
}

#[inline]
pub(super) fn spin(state: &State) -> [f64; 4] {
    [state[SPIN], state[SPIN + 1], state[SPIN + 2], state[SPIN + 3]]
}

//! How things are measured that more than one key stands for: tool and steps, with what a small workshop has. Where one
//! key alone is measured so, its row says how.

use super::super::drawing::Drawing;
use super::super::key::Way;

pub(super) const BORE: Way = Way::shown(
    Drawing::Bore,
    "Read the size cast or stamped into the cylinder; or a vernier on the piston of a spare.",
);
pub(super) const BOTH_GAUGES: Way = Way::shown(
    Drawing::ValveGauges,
    "Two gauges, one before and one behind the valve: press, hold, read both.",
);
pub(super) const CORNER_SCALES: Way = Way::shown(
    Drawing::Scales,
    "Corner scales on a level floor, fluids in, nobody aboard. Read twice, and roll the car off between.",
);
pub(super) const FOLLOW: Way = Way::shown(Drawing::Lines, "Look, and follow the line by hand.");
pub(super) const FOOT_AGAINST_GAUGE: Way = Way::shown(
    Drawing::Foot,
    "A bathroom scale under the foot and a gauge at a front nipple. Three forces with the engine on, three with it off.",
);
pub(super) const FRICTION_CURVE: Way = Way::shown(
    Drawing::Papers,
    "From the maker's curve. Or a torque wrench on the hub at three temperatures, a contact thermometer on the disc or drum.",
);
pub(super) const GAUGES_AND_SCALES: Way = Way::shown(
    Drawing::LoadValve,
    "Scales under the rear wheels and two gauges at the valve. Press slowly and note where the second lags: light, then laden.",
);
pub(super) const HELD: Way = Way::shown(
    Drawing::Held,
    "A gauge at a nipple, the pressure held with a pedal prop or the latched lever.",
);
pub(super) const KEEP_THE_GUESS: Way =
    Way::kept("Not with a workshop's tools: keep the guess and its range.");
pub(super) const LOCKING_VALUE: Way = Way::shown(
    Drawing::Papers,
    "From the maker's locking value, halved; else keep the guess.",
);
pub(super) const ONE_TURN: Way = Way::shown(
    Drawing::Tyre,
    "Chalk a mark on the tyre and roll one turn along the yard, driver aboard. The tape's length over 6.283 is the radius.",
);
pub(super) const ONE_WHEEL: Way = Way::shown(
    Drawing::Differential,
    "Gearbox in neutral, one wheel off the ground, turned by hand. It turns freely: open. It drags: plates or viscous. It cannot turn: locked.",
);
pub(super) const ONE_WHEEL_WRENCH: Way = Way::shown(
    Drawing::Differential,
    "Gearbox in neutral, one wheel off the ground. A torque wrench on its hub, turned steadily.",
);
pub(super) const RAISE: Way = Way::shown(
    Drawing::Raised,
    "Weigh the front, raise the rear wheels a fifth of the wheelbase or more, weigh the front again. Same scales, wheels free to roll, a strap to hold the car. Block the suspension; tank full or empty.",
);
pub(super) const SHEET: Way = Way::shown(
    Drawing::Mount,
    "A vernier at an open edge or through a drilled hole.",
);
pub(super) const SLIP: Way = Way::shown(
    Drawing::CentreWrench,
    "Gearbox in neutral, one rear wheel off the ground, front wheels chocked. A torque wrench on its hub: read it as the coupling slips. The shaft of an open rear differential carries twice it, over the final drive.",
);
pub(super) const SLOW_PULL: Way = Way::shown(
    Drawing::SlowPull,
    "A ruler at the grip (in front: at the pedal) and a gauge: pull slowly, five pressures or more. The start tells clearance, the slope flex, the bend between them air.",
);
pub(super) const SPIN: Way = Way::shown(
    Drawing::Differential,
    "One wheel off the ground, the others chocked. A torque wrench on its hub, turned steadily at two or three speeds, counted with a watch.",
);
pub(super) const SPIN_CENTRE: Way = Way::shown(
    Drawing::CentreWrench,
    "One rear wheel off the ground, front wheels chocked. A torque wrench on its hub, turned steadily at two or three speeds, counted with a watch. The shaft of an open rear differential carries twice it, over the final drive.",
);
pub(super) const STROKE: Way = Way::shown(
    Drawing::Stroke,
    "A ruler at the push rod, pipes off and ports open: from rest to the stop.",
);
pub(super) const THREAD_GAUGE: Way = Way::shown(
    Drawing::Thread,
    "A thread gauge and a vernier on the fitting; look at its seat. `lines --seats` lists both.",
);
pub(super) const TREADS: Way = Way::shown(
    Drawing::Tracks,
    "Chalk the middle of both treads on the floor, then the tape between.",
);
pub(super) const TURN_BY_HAND: Way = Way::shown(
    Drawing::Centre,
    "Gearbox in neutral, one front and one rear wheel off the ground, the others chocked. Turn one by hand and watch the other. It stays: open. It follows at once: locked. It follows slowly: viscous. It follows until it slips: plates.",
);
pub(super) const TWO_GAUGES: Way = Way::shown(
    Drawing::ValveGauges,
    "Two gauges, one before and one behind the valve. Press slowly, note where the second lags, then read well above it.",
);
pub(super) const TYRE_CURVE: Way = Way::shown(
    Drawing::Papers,
    "From a tyre maker's curve; or take the figures of the built-in surface most like it.",
);
pub(super) const WRENCH: Way = Way::shown(
    Drawing::Wrench,
    "Wheel off the ground, brake warm, pressure held against a gauge. A torque wrench on the hub: read it as the wheel slips. Both sides.",
);
pub(super) const WRENCH_COLD: Way = Way::shown(
    Drawing::Wrench,
    "Wheel off the ground, brake stone cold, pressure held against a gauge. A torque wrench on the hub: read it as the wheel slips.",
);

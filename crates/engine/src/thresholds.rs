//! Every border that an answer turns on, once, with its reason.
//!
//! What is judged by one of these says so with its figure; nothing else in the house writes it down again. A border that
//! is *judgement* has no source: it is where a good workshop would say the other word.

use quantity::si::{
    Acceleration, Angle, Duration, Force, Length, Mass, Pressure, Speed, Temperature, TemperatureDifference,
};

// The lever.

/// Below this the rear stops late, the inner wheel first (judgement).
pub const LATE: f64 = 1.3;

/// A rear that stops at less than this cannot be held back (judgement).
pub const FIERCE: Force = Force::from_n(40.0);

/// Less of the hand's force than this is not worth a word.
pub const UNNOTICED: Force = Force::from_n(10.0);

/// Two layouts whose torque in hand lies closer than this do the same for the driver (judgement).
pub const SAME_IN_HAND: f64 = 0.1;

// The centre.

/// Tyres of axles that a centre ties, whose rolling radii differ by more of their mean than this, work against each other
/// wherever the car goes straight (common practice, no source).
pub const ROLL_APART: f64 = 0.01;

/// Torque that a coupling could carry, over what the front wheels can give: below this the car turns (found by
/// simulation; no standard).
pub const TURNS_BELOW: f64 = 0.4;

/// Above this the turn is spoilt (found by simulation; no standard).
pub const SPOILT_ABOVE: f64 = 0.65;

/// From here on the coupling takes all that the front wheels can give: all four stop (by definition of the ratio).
pub const ALL_FOUR_FROM: f64 = 1.0;

/// What a coupling does to a handbrake turn.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum DragGrade {
    /// It turns.
    Turns,
    /// It turns in part.
    Partly,
    /// The turn is spoilt.
    Spoilt,
    /// All four wheels stop.
    AllFour,
}

impl DragGrade {
    /// Of what it could carry over what the front wheels can give; `None`, a locked centre, takes what they can give.
    #[must_use]
    pub fn of(drag: Option<f64>) -> Self {
        match drag {
            None => Self::AllFour,
            Some(drag) if drag >= ALL_FOUR_FROM => Self::AllFour,
            Some(drag) if drag > SPOILT_ABOVE => Self::Spoilt,
            Some(drag) if drag >= TURNS_BELOW => Self::Partly,
            Some(_) => Self::Turns,
        }
    }
}

// The turn.

/// A car is out of its bend once its path points within this of the road (judgement; more of it makes bends easier) ...
pub const OUT_WITHIN: Angle = Angle::from_rad(15.0 / 180.0 * core::f64::consts::PI);

/// ... and it looks within this of its path, going forward (judgement).
pub const LOOKS_WITHIN: Angle = Angle::from_rad(45.0 / 180.0 * core::f64::consts::PI);

/// Backwards, faster than this, a car rolls backwards (judgement).
pub const BACKWARDS_FROM: Speed = Speed::from_m_s(1.0);

/// At least so much further into the bend the lever has to make the car look, against its path and at letting go, than it
/// would look without (judgement; less of it calls a steered car turned by its lever).
pub const LEVER_GIVES: Angle = Angle::from_rad(30.0 / 180.0 * core::f64::consts::PI);

/// A change of the car that makes the lever give less than so much more is none that anybody feels (judgement).
pub const WORTH_GAINING: Angle = Angle::from_rad(1.0 / 180.0 * core::f64::consts::PI);

/// From this share of the peak on that is left to a sliding tyre, ground is loose and piles up before it (judgement).
pub const LOOSE_FROM: f64 = 0.95;

/// Up to so many widths of the road beyond its edge a car still comes round, late (judgement).
pub const LATE_WIDTHS: f64 = 1.0;

/// A word of a turn that grip so much off would change is on the border (judgement; no surface is known more closely).
pub const BORDER_GRIP: f64 = 0.03;

/// A wheel that stands alone for less than this is on its way (judgement).
pub const INNER_ALONE_FOR: Duration = Duration::from_s(0.3);

/// And over so much of the time that both rear wheels stand (judgement).
pub const INNER_ALONE_SHARE: f64 = 0.5;

/// A front that is dragged for less than this is not worth a word (judgement).
pub const FRONT_DRAGGED_FOR: Duration = Duration::from_s(0.15);

/// Time in which a brisk pull brings the rear up to pressure (judgement).
pub const PRESSURE_RISES_IN: Duration = Duration::from_s(0.10);

// The foot and the balance.

/// Foot force of the road rule (UN Regulation 13-H; from memory). It limits what the rule asks, not what a driver does.
pub const FOOT_LIMIT_ROAD: Force = Force::from_n(500.0);

/// Highest foot force that is looked at.
pub const FOOT_LIMIT: Force = Force::from_n(1000.0);

/// Least deceleration with one circuit failed: 2.44 m/s² (UN Regulation 13-H, Annex 3, 2.2; from memory).
pub const LEAST_SECONDARY: Acceleration = Acceleration::from_m_s2(2.44);

/// By how much the front is to lead at first lock where nothing else is wished (judgement: what setting a knob and one
/// fuel load to the next leave uncertain).
pub const WANTED_LEAD: f64 = 0.05;

/// Settings of stage and road that lie closer than so many turns are one (judgement: a quarter turn is felt for).
pub const ONE_SETTING: f64 = 0.25;

/// From here on the front is far ahead (judgement): the rear idles.
pub const FAR_AHEAD: f64 = 0.30;

/// From here on it costs so much that it wants putting right (judgement).
pub const TOO_FAR_AHEAD: f64 = 0.50;

/// Turns between surfaces that nobody makes on a stage (judgement).
pub const MANY_TURNS: f64 = 3.0;

/// From this mass on a car without a booster is rare (common practice, no source).
pub const BOOSTED: Mass = Mass::from_kg(900.0);

// Pressures and parts.

/// Hand at which pressures are held against ratings (from memory, judgement).
pub const ABUSE_HAND: Force = Force::from_n(500.0);

/// Where a common gauge ends: 100 bar (common practice, no source).
pub const GAUGE_END: Pressure = Pressure::from_pa(100e5);

/// What a common bias valve is made for: 2000 psi (from memory, judgement; its maker's figure goes before).
pub const VALVE_LIMIT: Pressure = Pressure::from_pa(138e5);

/// What a road brake hose is held at in its type test, 4000 psi for two minutes (49 CFR 571.106 S5.3.2; from memory).
pub const HOSE_TESTED: Pressure = Pressure::from_pa(276e5);

/// From this share of the sheet's yield on, pulls crack it in time (judgement).
pub const FLOOR_TIRES: f64 = 0.5;

/// Cold friction over warm below which the first corner is another car (judgement).
pub const COLD_BITE: f64 = 0.60;

/// Pads thinner than this are changed before an event (common practice, no source).
pub const PAD_THIN: Length = Length::from_m(4e-3);

/// Pads thinner than this may lose their piston, or their backing (common practice, no source).
pub const PAD_WORN: Length = Length::from_m(2e-3);

/// A season, in days.
pub const SEASON_DAYS: i32 = 365;

// Travel.

/// Hoses that swallow more than this of what the lever moves are worth a word (judgement).
pub const HOSES_SWALLOW: f64 = 0.30;

/// Free play at the grip below which the by-pass is doubtful (common practice, no source).
pub const DOUBTFUL_PLAY: Length = Length::from_m(1e-3);

/// Air is worth another bleed once it surely takes this much of the grip's travel (judgement: a hand feels it).
pub const AIR_WORTH_BLEEDING: Length = Length::from_m(3e-3);

/// Clearance or flex stands out once the whole of its interval lies this far above the sheet's figure (judgement).
pub const OVER_SHEET: f64 = 1.25;

// Heat.

/// Share of the warm friction below which a pad is called faded (judgement: the foot is then a quarter heavier).
pub const FADED_BELOW: f64 = 0.80;

/// Age at which fluid is taken to hold the water of its wet boiling point (from memory, judgement: two years).
pub const WET_AFTER_DAYS: f64 = 730.0;

/// Less than this between fluid and its wet boiling point is little (judgement).
pub const LITTLE_LEFT: TemperatureDifference = TemperatureDifference::from_dk(20.0);

/// A foot that fade makes so much heavier is felt in every stop (judgement).
pub const HEAVIER: f64 = 1.25;

/// Fluid of unknown age is spoken of once the hottest comes this near to its dry boiling point (judgement: the most that
/// water takes from it).
pub const AGE_MATTERS_WITHIN: TemperatureDifference = TemperatureDifference::from_dk(100.0);

/// A stage that ends faster than this has not come to rest (judgement: walking it to a halt is no braking).
pub const STILL_MOVING: Speed = Speed::from_m_s(0.3);

/// Up to this temperature the specific heat of iron is known here.
pub const IRON_UP_TO: Temperature = Temperature::from_celsius(700.0);

/// Where the rule for pads without a curve ends.
pub const PAD_FADED_AT: Temperature = Temperature::from_celsius(600.0);

// Holding.

/// A start line: what a latch is for.
pub const START_LINE: Duration = Duration::from_s(120.0);

/// A stop at service.
pub const SERVICE: Duration = Duration::from_s(600.0);

/// Nobody is asked beyond this.
pub const LONGEST: Duration = Duration::from_s(8.0 * 3600.0);

/// Pressure that rises by so much of what was latched is worth knowing (judgement: a third).
pub const RISES: f64 = 1.3;

/// The slope on which the road rule wants a laden car parked (UN Regulation 13-H, Annex 3, 2.3; from memory).
pub const PARKED_ON: f64 = 0.20;

// How sure.

/// A verdict is open while its chance lies between this and what this leaves.
pub const OPEN_FROM: f64 = 0.05;

/// A reading this far off says that something on the sheet, or the gauge, is wrong (judgement).
pub const READING_OFF: f64 = 0.20;

/// Left and right may differ by so much (judgement).
pub const UNEVEN: f64 = 0.20;

//! What is to be turned: a valve's knob, a balance bar. Always with the direction, and the way from where it stands.

use engine::balance::{BarAnswer, KneeAnswer, SettingRow, Settings, WishFault};
use engine::car::KnobScale;
use engine::ranges::Range;

use crate::fixed::turns;
use crate::measured::Measured;
use crate::rounding::figure;
use crate::units::Units;

/// Turns below this are none: no hand sets a knob finer.
const LEAST_TURN: f64 = 0.05;

/// `2.2 turns in from fully out; it is at 1.5, so turn in 0.7`.
#[must_use]
pub fn knob(to: f64, settings: &Settings) -> String {
    let stands = settings.stands;
    if let Some(KnobScale::Positions(_)) = settings.scale {
        let (whole, said) = (to.floor(), crate::fixed::whole);
        let position = format!("position {} or the next one further out", said(whole));
        return match stands {
            Some(stands) if (stands - whole).abs() < LEAST_TURN => {
                format!("position {}, where it is", said(whole))
            }
            Some(stands) => format!("{position}; it is at {}", said(stands)),
            None => position,
        };
    }
    let said = format!("{} turns in from fully out", turns(to));
    match stands.map(|stands| (stands, to - stands)) {
        None => said,
        Some((_, way)) if way.abs() < LEAST_TURN => format!("{said}, where it is"),
        Some((stands, way)) => {
            let side = if way > 0.0 { "in" } else { "out" };
            format!(
                "{said}; it is at {}, so turn {side} {}",
                turns(stands),
                turns(way.abs())
            )
        }
    }
}

/// `6.9 turns towards the rear`; positive turns go to the front.
#[must_use]
pub fn bar(by: f64) -> String {
    if by.abs() < LEAST_TURN {
        return "as it is".to_owned();
    }
    let end = if by > 0.0 { "front" } else { "rear" };
    format!("{} turns towards the {end}", turns(by.abs()))
}

/// Turns of a bar in a table, with the end they go to and their range: `6.9 rear (5.1 to 8.0)`.
#[must_use]
pub fn bar_ranged(by: f64, range: Option<Range>) -> String {
    let end = |by: f64| if by > 0.0 { "front" } else { "rear" };
    let one = |by: f64| format!("{} {}", turns(by.abs()), end(by));
    match range {
        Some(range) if end(range.low) == end(range.high) && end(by) == end(range.low) => {
            let (near, far) = (
                range.low.abs().min(range.high.abs()),
                range.low.abs().max(range.high.abs()),
            );
            format!("{} ({} to {})", one(by), turns(near), turns(far))
        }
        Some(range) => format!("{} ({} to {})", one(by), one(range.low), one(range.high)),
        None => one(by),
    }
}

/// What would be set for a wish: of one row, or of all rows together.
#[derive(Clone, Copy, Debug)]
pub struct Set {
    /// Turns or position of the knob.
    pub knob: Option<f64>,
    /// The bar.
    pub bar: Option<BarAnswer>,
    /// The knee.
    pub knee: KneeAnswer,
    /// What stands in the way of the valve.
    pub why_not: Option<WishFault>,
    /// How far the knee is known.
    pub known: Option<Range>,
}

/// What has to be turned for a row's wish, or what stops it; how far its knee is known decides its digits.
#[must_use]
pub fn setting(row: &SettingRow, known: Option<Range>, settings: &Settings, units: &Units) -> String {
    let set = Set {
        knob: row.knob,
        bar: row.bar,
        knee: row.knee,
        why_not: row.why_not,
        known,
    };
    set_so(set, settings, units)
}

/// What has to be turned, or what stops it.
#[must_use]
pub fn set_so(set: Set, settings: &Settings, units: &Units) -> String {
    let bar_turns = set
        .bar
        .map(|bar| bar.turns)
        .filter(|turns| turns.abs() >= LEAST_TURN);
    match (set.knob, bar_turns, set.knee) {
        (Some(to), ..) => format!("set the valve to {}", knob(to, settings)),
        (None, Some(turns), _) => format!("turn the bar {}", bar(turns)),
        (None, None, KneeAnswer::NoneNeeded) => "none is needed".to_owned(),
        (None, None, _) if set.bar.is_some() => "the bar is right as it is".to_owned(),
        (None, None, KneeAnswer::At(knee)) => match set.why_not {
            Some(why) => why_not(why, units),
            None => format!(
                "bring the valve's knee to {}",
                Measured::new(knee.pa(), set.known, units.pressure).value.text
            ),
        },
        (None, None, KneeAnswer::Cannot(why)) => why_not(why, units),
    }
}

/// What stops it, its pressure in a person's own unit.
#[must_use]
pub fn why_not(why: WishFault, units: &Units) -> String {
    let (by_bar, side) = match why {
        WishFault::BelowRange { below_bar } => (below_bar, "below"),
        WishFault::AboveRange { above_bar } => (above_bar, "above"),
        _ => return why.to_string(),
    };
    let by = figure(by_bar * 1e5, units.pressure);
    format!("the knee lies {by} {side} what the knob reaches")
}

#[cfg(test)]
mod tests {
    use super::*;
    use quantity::si::Turns;

    fn standing_at(stands: f64, scale: KnobScale) -> Settings {
        Settings {
            rows: Vec::new(),
            scale: Some(scale),
            stands: Some(stands),
            tied: false,
        }
    }

    #[test]
    fn a_knob_is_told_which_way() {
        let turns = KnobScale::Turns(Turns::from_turns(5.0));
        let said = |to, stands| knob(to, &standing_at(stands, turns));
        assert_eq!(
            said(2.2, 1.5),
            "2.2 turns in from fully out; it is at 1.5, so turn in 0.7"
        );
        assert_eq!(
            said(1.0, 3.0),
            "1.0 turns in from fully out; it is at 3.0, so turn out 2.0"
        );
        assert_eq!(said(2.0, 2.0), "2.0 turns in from fully out, where it is");
        let stepped = knob(4.6, &standing_at(2.0, KnobScale::Positions(7)));
        assert_eq!(stepped, "position 4 or the next one further out; it is at 2");
    }

    #[test]
    fn a_wish_says_what_to_turn_or_what_stops_it() {
        let settings = standing_at(1.5, KnobScale::Turns(Turns::from_turns(5.0)));
        let nothing = Set {
            knob: None,
            bar: None,
            knee: KneeAnswer::NoneNeeded,
            why_not: None,
            known: None,
        };
        let said = |set| set_so(set, &settings, &Units::default());
        assert_eq!(said(nothing), "none is needed");
        let turned = Set {
            knob: Some(2.2),
            ..nothing
        };
        assert_eq!(
            said(turned),
            "set the valve to 2.2 turns in from fully out; it is at 1.5, so turn in 0.7"
        );
        let bar = |turns| Set {
            bar: Some(BarAnswer {
                front_share: 0.5,
                turns,
            }),
            ..nothing
        };
        assert_eq!(said(bar(-6.9)), "turn the bar 6.9 turns towards the rear");
        let right = Set {
            knee: KneeAnswer::At(quantity::si::Pressure::from_pa(30e5)),
            ..bar(0.01)
        };
        assert_eq!(said(right), "the bar is right as it is");
        let why = WishFault::AboveRange { above_bar: 3.2 };
        let cannot = Set {
            knee: KneeAnswer::Cannot(why),
            ..nothing
        };
        assert_eq!(
            said(cannot),
            "the knee lies 3.20\u{a0}bar above what the knob reaches"
        );
        let unreached = Set {
            knee: KneeAnswer::At(quantity::si::Pressure::from_pa(70e5)),
            why_not: Some(why),
            ..nothing
        };
        assert_eq!(
            said(unreached),
            "the knee lies 3.20\u{a0}bar above what the knob reaches"
        );
    }

    #[test]
    fn a_range_of_turns_names_its_end_once_or_both() {
        let range = |low, high| Some(Range { low, high });
        assert_eq!(bar_ranged(-6.9, range(-8.0, -5.1)), "6.9 rear (5.1 to 8.0)");
        assert_eq!(
            bar_ranged(0.4, range(-0.6, 1.2)),
            "0.4 front (0.6 rear to 1.2 front)"
        );
        assert_eq!(bar_ranged(0.4, None), "0.4 front");
    }

    #[test]
    fn a_bar_is_told_which_end() {
        assert_eq!(bar(-6.9), "6.9 turns towards the rear");
        assert_eq!(bar(0.4), "0.4 turns towards the front");
        assert_eq!(bar(-0.01), "as it is");
    }
}

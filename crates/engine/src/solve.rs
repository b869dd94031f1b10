//! Roots of functions of one variable.

/// How close a root is found, of itself.
const ACCURACY: f64 = 1e-12;

/// A root of `function` between `low` and `high`, by bisection and secants in turn (Illinois); `None` where the signs
/// at the ends do not differ: there is no root between them, or nobody knows which.
pub(crate) fn root(low: f64, high: f64, function: impl Fn(f64) -> f64) -> Option<f64> {
    root_within(low, high, 0.0, function)
}

/// The same, found to `accuracy` in the argument where that is coarser: for functions that cost much.
pub(crate) fn root_within(low: f64, high: f64, accuracy: f64, function: impl Fn(f64) -> f64) -> Option<f64> {
    let (at_low, at_high) = (function(low), function(high));
    if at_low == 0.0 {
        return Some(low);
    }
    if at_high == 0.0 {
        return Some(high);
    }
    // Not a number is no sign either.
    let differ = at_low < 0.0 && at_high > 0.0 || at_low > 0.0 && at_high < 0.0;
    differ.then(|| between((low, at_low), (high, at_high), accuracy, function))
}

/// Where a function that rises passes zero.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum Passes {
    /// Above it from the low end on.
    Before,
    /// Here; not a number where the function is none.
    At(f64),
    /// Below it up to the high end.
    Beyond,
}

/// Where a function that rises between `low` and `high` passes zero, found as [`root_within`] finds it.
pub(crate) fn passes(low: f64, high: f64, accuracy: f64, function: impl Fn(f64) -> f64) -> Passes {
    let (at_low, at_high) = (function(low), function(high));
    if at_low > 0.0 {
        Passes::Before
    } else if at_high < 0.0 {
        Passes::Beyond
    } else if at_low == 0.0 {
        Passes::At(low)
    } else if at_high == 0.0 {
        Passes::At(high)
    } else if at_low.is_nan() || at_high.is_nan() {
        Passes::At(f64::NAN)
    } else {
        Passes::At(between((low, at_low), (high, at_high), accuracy, function))
    }
}

/// The argument from 0 to `most` that a function maps onto itself; what it gives outside is taken as the nearer end, so
/// that there is always one. Not a number where the function is none.
pub(crate) fn settles(most: f64, function: impl Fn(f64) -> f64) -> f64 {
    let falls_short = |at: f64| {
        let given = function(at);
        // Written so that what is no number stays none.
        let within = if given < 0.0 {
            0.0
        } else if given > most {
            most
        } else {
            given
        };
        at - within
    };
    match passes(0.0, most, 0.0, falls_short) {
        Passes::Before => 0.0,
        Passes::At(at) => at,
        Passes::Beyond => most,
    }
}

/// The root between two ends at which the function has different signs.
fn between(
    (mut low, mut at_low): (f64, f64),
    (mut high, mut at_high): (f64, f64),
    accuracy: f64,
    function: impl Fn(f64) -> f64,
) -> f64 {
    let mut last_side = 0_i8;
    for step in 0..200 {
        if (high - low).abs() <= accuracy.max(ACCURACY * low.abs().max(high.abs()))
            || at_low == 0.0
            || at_high == 0.0
        {
            break;
        }
        let secant = (low * at_high - high * at_low) / (at_high - at_low);
        // Every few steps a plain halving, so that a kink cannot stall the secants.
        let middle = if step % 4 == 3 || !secant.is_finite() {
            0.5 * (low + high)
        } else {
            secant
        };
        let at_middle = function(middle);
        if at_middle * at_high < 0.0 {
            low = middle;
            at_low = at_middle;
            if last_side == -1 {
                at_high *= 0.5;
            }
            last_side = -1;
        } else {
            high = middle;
            at_high = at_middle;
            if last_side == 1 {
                at_low *= 0.5;
            }
            last_side = 1;
        }
    }
    if at_low == 0.0 {
        return low;
    }
    if at_high == 0.0 {
        return high;
    }
    let secant = (low * at_high - high * at_low) / (at_high - at_low);
    if secant.is_finite() {
        secant
    } else {
        0.5 * (low + high)
    }
}

#[cfg(test)]
mod tests {
    use super::{Passes, passes, root, settles};

    #[test]
    fn a_root_is_found_to_its_own_size() {
        // Nine decades from the far end of the interval.
        let found = root(0.0, 1e6, |x| x * x - 1e-6).unwrap();
        assert!((found / 1e-3 - 1.0).abs() < 1e-11, "{found}");
        let third = root(1.0, 0.0, |x| x - 1.0 / 3.0).unwrap();
        assert!((third * 3.0 - 1.0).abs() < 1e-11, "{third}");
    }

    #[test]
    fn an_end_that_is_a_root_is_one() {
        assert_eq!(root(0.0, 5.0, |x| x), Some(0.0));
        assert_eq!(root(-5.0, 0.0, |x| x), Some(0.0));
    }

    #[test]
    fn what_nothing_brackets_is_no_root() {
        assert_eq!(root(1.0, 2.0, |x| x), None);
        assert_eq!(root(1.0, 2.0, |x| -x), None);
        assert_eq!(root(0.0, 1.0, |_| f64::NAN), None);
        assert_eq!(root(0.0, 1.0, |x| if x > 0.0 { f64::NAN } else { -1.0 }), None);
    }

    #[test]
    fn what_rises_passes_before_between_or_beyond() {
        let rising = |low, high| passes(low, high, 0.0, |x| x * x - 2.0);
        assert_eq!(rising(2.0, 3.0), Passes::Before);
        assert_eq!(rising(0.0, 1.0), Passes::Beyond);
        let Passes::At(found) = rising(0.0, 5.0) else {
            panic!("between");
        };
        assert!((found - 2.0_f64.sqrt()).abs() < 1e-11, "{found}");
        assert_eq!(passes(0.0, 1.0, 0.0, |x| x), Passes::At(0.0));
        assert_eq!(passes(-1.0, 0.0, 0.0, |x| x), Passes::At(0.0));
        for none in [
            passes(0.0, 1.0, 0.0, |_| f64::NAN),
            passes(0.0, 1.0, 0.0, |x| if x > 0.0 { f64::NAN } else { -1.0 }),
        ] {
            assert!(matches!(none, Passes::At(at) if at.is_nan()), "{none:?}");
        }
    }

    #[test]
    fn what_maps_onto_itself_is_there() {
        // cos x = x: Dottie's number.
        assert!((settles(1.0, f64::cos) - 0.739_085_133_215_160_6).abs() < 1e-11);
        // Always more, always less, and what is no number.
        for (found, end) in [
            (settles(2.0, |_| 9.0), 2.0_f64),
            (settles(2.0, |_| -9.0), 0.0),
            (settles(0.0, |at| at + 1.0), 0.0),
        ] {
            assert!((found - end).abs() < f64::EPSILON, "{found} is not the end {end}");
        }
        assert!(settles(1.0, |_| f64::NAN).is_nan());
    }
}

//! Roots of functions of one variable.

/// How close a root is found, of itself.
const ACCURACY: f64 = 1e-12;

/// A root of `function` between `low` and `high`, by bisection and secants in turn (Illinois); `None` where the signs
/// at the ends do not differ: there is no root between them, or nobody knows which.
pub(crate) fn root(low: f64, high: f64, function: impl Fn(f64) -> f64) -> Option<f64> {
    root_within(low, high, 0.0, function)
}

/// The same, found to `accuracy` in the argument where that is coarser: for functions that cost much.
pub(crate) fn root_within(
    mut low: f64,
    mut high: f64,
    accuracy: f64,
    function: impl Fn(f64) -> f64,
) -> Option<f64> {
    let (mut at_low, mut at_high) = (function(low), function(high));
    if at_low == 0.0 {
        return Some(low);
    }
    if at_high == 0.0 {
        return Some(high);
    }
    // Not a number is no sign either.
    let differ = at_low < 0.0 && at_high > 0.0 || at_low > 0.0 && at_high < 0.0;
    if !differ {
        return None;
    }
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
        return Some(low);
    }
    if at_high == 0.0 {
        return Some(high);
    }
    let secant = (low * at_high - high * at_low) / (at_high - at_low);
    Some(if secant.is_finite() {
        secant
    } else {
        0.5 * (low + high)
    })
}

#[cfg(test)]
mod tests {
    use super::root;

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
}

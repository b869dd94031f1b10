//! Roots of functions of one variable.

/// A root of `function` between `low` and `high`, whose signs there differ; by bisection and secants in turn
/// (Illinois), to `tolerance` in the argument. Where the signs do not differ, the end with the smaller value.
pub(crate) fn root(mut low: f64, mut high: f64, tolerance: f64, function: impl Fn(f64) -> f64) -> f64 {
    let (mut at_low, mut at_high) = (function(low), function(high));
    if at_low * at_high > 0.0 || !at_low.is_finite() || !at_high.is_finite() {
        return if at_low.abs() <= at_high.abs() { low } else { high };
    }
    let mut last_side = 0_i8;
    for step in 0..200 {
        if (high - low).abs() <= tolerance || at_low == 0.0 || at_high == 0.0 {
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

//! Straight lines between the points of a table.

/// Value at `at` of a table whose arguments rise, straight between its points and held at its ends.
pub(crate) fn clamped<A: Copy>(points: &[(A, f64)], at: A, number: impl Fn(A) -> f64) -> f64 {
    let at = number(at);
    let Some(&(first, first_value)) = points.first() else {
        return f64::NAN;
    };
    if at <= number(first) {
        return first_value;
    }
    for pair in points.windows(2) {
        let ((low, low_value), (high, high_value)) = (pair[0], pair[1]);
        let (low, high) = (number(low), number(high));
        if at <= high {
            return low_value + (high_value - low_value) * (at - low) / (high - low);
        }
    }
    points.last().map_or(f64::NAN, |&(_, value)| value)
}

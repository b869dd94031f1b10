//! One implicit step's coefficients, and its system of equations.

#![allow(
    clippy::needless_range_loop,
    clippy::manual_memcpy,
    reason = "several lists are read at one place, and no closure may stand where a pack is worked on"
)]

use crate::turn::motion::{
    FORWARD, HEADING, INPUT, LEVER, MOVING, PUSH, REAR, SIDEWAYS, SPIN, STATES, STEER, SWAY, State, X, Y, YAW,
};
use crate::turn::number::Number;

const GAMMA: f64 = 0.435_866_521_508_459;
const ALPHA: [[f64; 3]; 4] = [
    [0.0, 0.0, 0.0],
    [0.871_733_043_016_918, 0.0, 0.0],
    [0.844_570_600_153_694_2, -0.112_990_642_364_841_85, 0.0],
    [0.0, 0.0, 1.0],
];
const ALPHA_SUM: [f64; 4] = [0.0, 0.871_733_043_016_918, 0.731_579_957_788_852_4, 1.0];
const TWIST: [[f64; 3]; 4] = [
    [0.0, 0.0, 0.0],
    [-0.871_733_043_016_918, 0.0, 0.0],
    [-0.903_380_570_130_440_8, 0.054_180_672_388_095_326, 0.0],
    [
        0.242_123_807_060_953_46,
        -1.223_250_583_904_514_7,
        0.545_260_255_335_102_1,
    ],
];
const WEIGHT: [f64; 4] = [
    0.242_123_807_060_953_46,
    -1.223_250_583_904_514_7,
    1.545_260_255_335_102,
    0.435_866_521_508_459,
];
const EMBEDDED: [f64; 4] = [
    0.378_109_031_458_193_7,
    -0.096_042_292_212_423_18,
    0.5,
    0.217_933_260_754_229_5,
];

/// What is usual of each figure; errors are counted over it. What comes back by itself (a wheel to its ground within
/// milliseconds, a lag to what it follows) and what nobody is told is counted over more. On 464 runs of the demonstration
/// cars against runs of a ten-thousandth of the tolerance: half of all headings at letting go to 0.001°, 99 of 100 to
/// 0.013°, the worst 0.03°, by two thirds of the steps (in a car with plates by half) that half as much for a wheel and a
/// tenth for what enters a differential took.
const USUAL: State = {
    let mut usual = [1.0; STATES];
    usual[X] = 1.0;
    usual[Y] = 1.0;
    usual[HEADING] = 0.2;
    usual[FORWARD] = 2.0;
    usual[SIDEWAYS] = 2.0;
    usual[YAW] = 0.5;
    usual[SPIN] = 10.0;
    usual[SPIN + 1] = 10.0;
    usual[SPIN + 2] = 10.0;
    usual[SPIN + 3] = 10.0;
    usual[PUSH] = 10.0;
    usual[SWAY] = 10.0;
    usual[REAR] = 1e6;
    usual[LEVER] = 100.0;
    usual[STEER] = 0.5;
    usual[INPUT] = 1e4;
    usual[INPUT + 1] = 1e4;
    usual
};

/// `I − h γ J` of the stiff figures, taken apart.
struct Factored<N> {
    rows: [[N; 7]; 7],
    order: [usize; 7],
}

impl<N: Number> Factored<N> {
    #[inline(always)]
    fn of(slopes: &[[N; 7]; 7], shift: N) -> Self {
        let mut rows = *slopes;
        for row in 0..7 {
            for column in 0..7 {
                rows[row][column] = -shift * slopes[row][column];
            }
            rows[row][row] = rows[row][row].plus(1.0);
        }
        let mut order = [0, 1, 2, 3, 4, 5, 6];
        for pivot in 0..7 {
            let best = N::pivot(&rows, pivot);
            if best != pivot {
                rows.swap(pivot, best);
                order.swap(pivot, best);
            }
            let inverse = shift.same(1.0) / rows[pivot][pivot];
            for row in pivot + 1..7 {
                let factor = rows[row][pivot] * inverse;
                rows[row][pivot] = factor;
                for column in pivot + 1..7 {
                    rows[row][column] = rows[row][column].less(factor, rows[pivot][column]);
                }
            }
            rows[pivot][pivot] = inverse;
        }
        Self { rows, order }
    }

    /// Column by column: what one unknown takes from all the others is taken at once, and no sum waits for another.
    #[inline(always)]
    fn solve(&self, state: &mut [N; STATES]) {
        let mut by = [state[FORWARD]; 7];
        for place in 0..7 {
            by[place] = state[FORWARD + self.order[place]];
        }
        for column in 0..7 {
            let known = by[column];
            for row in column + 1..7 {
                by[row] = by[row].less(self.rows[row][column], known);
            }
        }
        for column in (0..7).rev() {
            let known = by[column] * self.rows[column][column];
            by[column] = known;
            for row in 0..column {
                by[row] = by[row].less(self.rows[row][column], known);
            }
        }
        for place in 0..7 {
            state[FORWARD + place] = by[place];
        }
    }
}

/// Something that moves.
pub(in crate::turn) trait Moving<N> {
    /// How its figures change.
    fn rates(&self, time_s: N, state: &[N; STATES]) -> [N; STATES];
}

/// Where a step begins: when, in which motion, how it changes then, the slopes of the stiff figures' rates and the lags of
/// the others.
pub(in crate::turn) struct Beginning<'a, N> {
    pub(in crate::turn) time_s: N,
    pub(in crate::turn) state: &'a [N; STATES],
    pub(in crate::turn) rates: &'a [N; STATES],
    pub(in crate::turn) slopes: &'a [[N; 7]; 7],
    pub(in crate::turn) lags: &'a [(usize, N); 6],
}

/// A step of ROS34PW2, with an estimate of its error over what is usual of each figure.
#[inline(always)]
pub(in crate::turn) fn step<N: Number>(
    moving: &impl Moving<N>,
    from: &Beginning<'_, N>,
    length_s: N,
) -> ([N; STATES], N) {
    let zero = length_s.same(0.0);
    let shift = length_s.times(GAMMA);
    let matrix = Factored::of(from.slopes, shift);
    let mut lagging = [zero; 6];
    for (divisor, (_, lag)) in lagging.iter_mut().zip(from.lags) {
        *divisor = (zero.same(1.0) - shift * *lag).divisor();
    }
    let mut stages = [[zero; STATES]; 4];
    for stage in 0..4 {
        let mut at = *from.state;
        let mut pulled = [zero; STATES];
        for earlier in 0..stage {
            let weight = zero.same(ALPHA[stage][earlier]);
            let twist = zero.same(TWIST[stage][earlier]);
            for place in 0..STATES {
                at[place] = weight.times_plus(stages[earlier][place], at[place]);
            }
            for place in FORWARD..STATES {
                pulled[place] = twist.times_plus(stages[earlier][place], pulled[place]);
            }
        }
        let mut rates = if stage == 0 {
            *from.rates
        } else {
            moving.rates(length_s.times_plus(zero.same(ALPHA_SUM[stage]), from.time_s), &at)
        };
        if stage > 0 {
            for row in 0..7 {
                for column in 0..7 {
                    rates[FORWARD + row] =
                        from.slopes[row][column].times_plus(pulled[FORWARD + column], rates[FORWARD + row]);
                }
            }
            for (place, lag) in from.lags {
                rates[*place] = lag.times_plus(pulled[*place], rates[*place]);
            }
        }
        for rate in &mut rates {
            *rate = *rate * length_s;
        }
        matrix.solve(&mut rates);
        for ((place, _), divisor) in from.lags.iter().zip(lagging) {
            rates[*place] = rates[*place].divided(divisor);
        }
        stages[stage] = rates;
    }
    let mut end = *from.state;
    let mut error = zero;
    for place in 0..STATES {
        let mut wrong = zero;
        for stage in 0..4 {
            end[place] = zero
                .same(WEIGHT[stage])
                .times_plus(stages[stage][place], end[place]);
            wrong = zero
                .same(WEIGHT[stage] - EMBEDDED[stage])
                .times_plus(stages[stage][place], wrong);
        }
        let wrong = match place {
            REAR | LEVER => wrong / end[place].abs().most(zero.same(USUAL[place])),
            _ => wrong.over(USUAL[place]),
        };
        error = wrong.times_plus(wrong, error);
    }
    #[allow(clippy::cast_precision_loss, reason = "fifteen")]
    let count = MOVING as f64;
    (end, error.over(count).sqrt())
}

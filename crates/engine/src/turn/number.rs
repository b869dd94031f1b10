//! A number, and what the equations ask of one: they are written once, for a single car's numbers and for a
//! [`Pack`](super::pack::Pack) of several cars'.

#![allow(
    clippy::needless_range_loop,
    clippy::manual_memcpy,
    reason = "several lists are read at one place, and no closure may stand where a pack is worked on"
)]

use core::ops::{Add, Div, Mul, Neg, Sub};

/// A number or a pack of them.
pub(super) trait Number:
    Copy + Add<Output = Self> + Sub<Output = Self> + Mul<Output = Self> + Div<Output = Self> + Neg<Output = Self>
{
    /// A yes or no for each number.
    type Mask: Copy;

    /// The same figure for every car of the pack.
    fn same(self, figure: f64) -> Self;
    /// `self · by + plus`.
    fn times_plus(self, by: Self, plus: Self) -> Self;
    /// `self − one · other`.
    fn less(self, one: Self, other: Self) -> Self;
    /// What [`divided`](Self::divided) takes for a division by this.
    fn divisor(self) -> Self;
    /// Divided by what [`divisor`](Self::divisor) gave.
    fn divided(self, by: Self) -> Self;
    /// Over a figure that is the same for all.
    fn over(self, by: f64) -> Self;
    fn sqrt(self) -> Self;
    fn abs(self) -> Self;
    fn least(self, other: Self) -> Self;
    fn most(self, other: Self) -> Self;
    fn within(self, low: Self, high: Self) -> Self;
    fn above(self, other: Self) -> Self::Mask;
    fn choose(mask: Self::Mask, yes: Self, no: Self) -> Self;
    fn sin_cos(self) -> (Self, Self);
    fn tanh(self) -> Self;
    /// Angle of a way that goes so far across for so much along, along above zero.
    fn angle(across: Self, along: Self) -> Self;
    /// Which row to divide by in a column; only a single number looks for the best one.
    fn pivot<const SIZE: usize>(rows: &[[Self; SIZE]; SIZE], column: usize) -> usize;

    #[inline(always)]
    fn times(self, by: f64) -> Self {
        self * self.same(by)
    }

    #[inline(always)]
    fn plus(self, by: f64) -> Self {
        self + self.same(by)
    }
}

impl Number for f64 {
    type Mask = bool;

    #[inline(always)]
    fn same(self, figure: f64) -> f64 {
        figure
    }
    // Fused, this would be a call of the library in a plain build.
    #[inline(always)]
    fn times_plus(self, by: f64, plus: f64) -> f64 {
        self * by + plus
    }
    #[inline(always)]
    fn less(self, one: f64, other: f64) -> f64 {
        self - one * other
    }
    #[inline(always)]
    fn divisor(self) -> f64 {
        self
    }
    #[inline(always)]
    fn divided(self, by: f64) -> f64 {
        self / by
    }
    #[inline(always)]
    fn over(self, by: f64) -> f64 {
        self / by
    }
    #[inline(always)]
    fn sqrt(self) -> f64 {
        Self::sqrt(self)
    }
    #[inline(always)]
    fn abs(self) -> f64 {
        Self::abs(self)
    }
    #[inline(always)]
    fn least(self, other: f64) -> f64 {
        self.min(other)
    }
    #[inline(always)]
    fn most(self, other: f64) -> f64 {
        self.max(other)
    }
    #[inline(always)]
    fn within(self, low: f64, high: f64) -> f64 {
        self.clamp(low, high)
    }
    #[inline(always)]
    fn above(self, other: f64) -> bool {
        self > other
    }
    #[inline(always)]
    fn choose(mask: bool, yes: f64, no: f64) -> f64 {
        if mask { yes } else { no }
    }
    #[inline(always)]
    fn sin_cos(self) -> (f64, f64) {
        Self::sin_cos(self)
    }
    #[inline(always)]
    fn tanh(self) -> f64 {
        Self::tanh(self)
    }
    #[inline(always)]
    fn angle(across: f64, along: f64) -> f64 {
        across.atan2(along)
    }
    #[inline(always)]
    fn pivot<const SIZE: usize>(rows: &[[f64; SIZE]; SIZE], column: usize) -> usize {
        let mut best = column;
        for row in column + 1..SIZE {
            if rows[row][column].abs() > rows[best][column].abs() {
                best = row;
            }
        }
        best
    }
}

/// Something made of numbers of one car, spread over a pack and set lane by lane.
pub(super) trait ByLane<One>: Sized {
    /// What lends a pack its width.
    type Like: Copy;

    fn spread(one: &One, like: Self::Like) -> Self;
    fn set(&mut self, lane: usize, one: &One);
}

impl<One, Many: ByLane<One>, const COUNT: usize> ByLane<[One; COUNT]> for [Many; COUNT] {
    type Like = Many::Like;

    #[inline(always)]
    fn spread(one: &[One; COUNT], like: Self::Like) -> Self {
        core::array::from_fn(
            #[inline(always)]
            |place| Many::spread(&one[place], like),
        )
    }

    #[inline(always)]
    fn set(&mut self, lane: usize, one: &[One; COUNT]) {
        for place in 0..COUNT {
            self[place].set(lane, &one[place]);
        }
    }
}

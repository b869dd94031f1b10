//! Numbers of several cars, worked on at once by what the processor has for it.
//!
//! Which instructions there are is found out when the program runs ([`pulp`] does that, and keeps what is unsafe about
//! it to itself). Everything here is inlined into the one function that `pulp` enters with them switched on: left apart it
//! would be made without them.

#![allow(
    clippy::needless_range_loop,
    clippy::manual_memcpy,
    reason = "several lists are read at one place, and no closure may stand where a pack is worked on"
)]

use core::ops::{Add, Div, Mul, Neg, Sub};

use pulp::{Simd, bytemuck};

use super::number::{ByLane, Number};

/// Most lanes of a pack.
pub(super) const MOST_LANES: usize = 8;

/// As many numbers as the processor works on at once.
#[derive(Clone, Copy, Debug)]
pub(super) struct Pack<S: Simd> {
    simd: S,
    lanes: S::f64s,
}

/// Adding and taking away again rounds to a whole number.
const ROUNDING: f64 = 6_755_399_441_055_744.0;

impl<S: Simd> Pack<S> {
    #[inline(always)]
    pub(super) fn all(simd: S, figure: f64) -> Self {
        Self {
            simd,
            lanes: simd.splat_f64s(figure),
        }
    }

    /// The first lanes' worth of a list.
    #[inline(always)]
    pub(super) fn of(simd: S, figures: &[f64; MOST_LANES]) -> Self {
        Self {
            simd,
            lanes: bytemuck::pod_read_unaligned(bytemuck::cast_slice(&figures[..S::F64_LANES])),
        }
    }

    #[inline(always)]
    pub(super) fn simd(self) -> S {
        self.simd
    }

    #[inline(always)]
    pub(super) fn array(self) -> [f64; MOST_LANES] {
        let mut figures = [0.0; MOST_LANES];
        let lanes: &[f64] = bytemuck::cast_slice(core::slice::from_ref(&self.lanes));
        figures[..S::F64_LANES].copy_from_slice(lanes);
        figures
    }

    #[inline(always)]
    pub(super) fn get(&self, lane: usize) -> f64 {
        let lanes: &[f64] = bytemuck::cast_slice(core::slice::from_ref(&self.lanes));
        lanes[lane]
    }

    #[inline(always)]
    fn rounded(self) -> Self {
        self.plus(ROUNDING).plus(-ROUNDING)
    }

    #[inline(always)]
    fn polynomial<const COUNT: usize>(self, from_the_highest: [f64; COUNT]) -> Self {
        let mut value = self.same(from_the_highest[0]);
        for factor in &from_the_highest[1..] {
            value = value.times_plus(self, self.same(*factor));
        }
        value
    }

    /// Of a figure from −700 to 0; series of the exponential function over half a power of two either way.
    #[inline(always)]
    fn exp(self) -> Self {
        let powers = self.times(core::f64::consts::LOG2_E).rounded();
        let rest = powers.times_plus(self.same(-6.931_457_519_531_25e-1), self);
        let rest = powers.times_plus(self.same(-1.428_606_820_309_417_2e-6), rest);
        let series = rest.polynomial([
            1.0 / 39_916_800.0,
            1.0 / 3_628_800.0,
            1.0 / 362_880.0,
            1.0 / 40_320.0,
            1.0 / 5040.0,
            1.0 / 720.0,
            1.0 / 120.0,
            1.0 / 24.0,
            1.0 / 6.0,
            0.5,
            1.0,
            1.0,
        ]);
        // 2ⁿ by its bits: the exponent stands 52 places up.
        let simd = self.simd;
        let biased = powers.plus(1023.0 + 4_503_599_627_370_496.0);
        let bits = simd.mul_u64s(pulp::cast(biased.lanes), simd.splat_u64s(1 << 52));
        series
            * Self {
                simd,
                lanes: pulp::cast(bits),
            }
    }

    /// Of a figure from 0 on. Shape and factors as in Cephes (S. L. Moshier; from memory, seen to by a test).
    #[inline(always)]
    fn arctangent(self) -> Self {
        let one = self.same(1.0);
        let steep = self.above(self.same(2.414_213_562_373_095));
        let middling = self.above(self.same(0.66));
        let turned = Self::choose(steep, -one, Self::choose(middling, self - one, self))
            / Self::choose(steep, self, Self::choose(middling, self + one, one));
        let start = Self::choose(
            steep,
            self.same(core::f64::consts::FRAC_PI_2),
            Self::choose(middling, self.same(core::f64::consts::FRAC_PI_4), self.same(0.0)),
        );
        let square = turned * turned;
        let above = square.polynomial([
            -8.750_608_600_031_904e-1,
            -1.615_753_718_733_365e1,
            -7.500_855_792_314_705e1,
            -1.228_866_684_490_136_2e2,
            -6.485_021_904_942_025e1,
        ]);
        let below = square.polynomial([
            1.0,
            2.485_846_490_142_306_3e1,
            1.650_270_098_316_988_5e2,
            4.328_810_604_912_902_7e2,
            4.853_903_996_359_137e2,
            1.945_506_571_482_614e2,
        ]);
        start + (turned * square).times_plus(above / below, turned)
    }

    /// Whole numbers, each no less than a place along a table and at most one more than it starts a cell, as what they
    /// are and as indices.
    #[inline(always)]
    fn cells(self, last: Self) -> (Self, [u64; MOST_LANES]) {
        let whole = self.plus(-0.5).most(self.same(0.0)).least(last).rounded();
        let bits: S::u64s = pulp::cast(whole.plus(4_503_599_627_370_496.0).lanes);
        let mut indices = [0; MOST_LANES];
        let lanes: &[u64] = bytemuck::cast_slice(core::slice::from_ref(&bits));
        indices[..S::F64_LANES].copy_from_slice(lanes);
        (whole, indices)
    }

    /// What four figures each lane's own table has at its place, and how far the place is into its cell.
    #[inline(always)]
    pub(super) fn looked_up(
        self,
        tables: &[&[[f64; 4]]; MOST_LANES],
        last: Self,
        rows: &[usize; MOST_LANES],
    ) -> ([Self; 4], Self) {
        let simd = self.simd;
        let (whole, indices) = self.cells(last);
        let mut flat = [0.0; 4 * MOST_LANES];
        for lane in 0..S::F64_LANES {
            #[allow(clippy::cast_possible_truncation, reason = "a table has few thousand cells")]
            let index = (indices[lane] & 0xFF_FFFF) as usize;
            let table = tables[lane];
            let row = 4 * (rows[lane] & (MOST_LANES - 1));
            let cell = table[index.min(table.len() - 1)];
            for place in 0..4 {
                flat[row + place] = cell[place];
            }
        }
        let mut columns = [simd.splat_f64s(0.0); 4];
        for (place, column) in columns.iter_mut().enumerate() {
            let of_column = &flat[place * S::F64_LANES..(place + 1) * S::F64_LANES];
            *column = bytemuck::pod_read_unaligned(bytemuck::cast_slice(of_column));
        }
        let [c0, c1, c2, c3] = simd.deinterleave_shfl_f64s(columns);
        let pack = |lanes| Self { simd, lanes };
        ([pack(c0), pack(c1), pack(c2), pack(c3)], self - whole)
    }

    /// At which row each lane's four figures have to stand so that taking them apart puts them into their lane.
    #[inline(always)]
    pub(super) fn rows(simd: S) -> [usize; MOST_LANES] {
        let mut flat = [0.0; 4 * MOST_LANES];
        let mut row = 0.0;
        for figures in flat.chunks_exact_mut(4) {
            figures.fill(row);
            row += 1.0;
        }
        let mut columns = [simd.splat_f64s(0.0); 4];
        for (place, column) in columns.iter_mut().enumerate() {
            let of_column = &flat[place * S::F64_LANES..(place + 1) * S::F64_LANES];
            *column = bytemuck::pod_read_unaligned(bytemuck::cast_slice(of_column));
        }
        let [first, ..] = simd.deinterleave_shfl_f64s(columns);
        let found = Self { simd, lanes: first }.array();
        let mut rows = [0; MOST_LANES];
        for (row, found) in rows.iter_mut().zip(found) {
            #[allow(
                clippy::cast_possible_truncation,
                clippy::cast_sign_loss,
                reason = "one of the rows"
            )]
            {
                *row = found as usize;
            }
        }
        rows
    }
}

macro_rules! by_lane {
    ($trait:ident, $name:ident, $of:ident) => {
        impl<S: Simd> $trait for Pack<S> {
            type Output = Self;

            #[inline(always)]
            fn $name(self, other: Self) -> Self {
                Self {
                    simd: self.simd,
                    lanes: self.simd.$of(self.lanes, other.lanes),
                }
            }
        }
    };
}
by_lane!(Add, add, add_f64s);
by_lane!(Sub, sub, sub_f64s);
by_lane!(Mul, mul, mul_f64s);
by_lane!(Div, div, div_f64s);

impl<S: Simd> Neg for Pack<S> {
    type Output = Self;

    #[inline(always)]
    fn neg(self) -> Self {
        self.same(0.0) - self
    }
}

impl<S: Simd> Number for Pack<S> {
    type Mask = S::m64s;

    #[inline(always)]
    fn same(self, figure: f64) -> Self {
        Self::all(self.simd, figure)
    }
    #[inline(always)]
    fn times_plus(self, by: Self, plus: Self) -> Self {
        Self {
            simd: self.simd,
            lanes: self.simd.mul_add_e_f64s(self.lanes, by.lanes, plus.lanes),
        }
    }
    #[inline(always)]
    fn less(self, one: Self, other: Self) -> Self {
        Self {
            simd: self.simd,
            lanes: self
                .simd
                .negate_mul_add_e_f64s(one.lanes, other.lanes, self.lanes),
        }
    }
    #[inline(always)]
    fn divisor(self) -> Self {
        self.same(1.0) / self
    }
    #[inline(always)]
    fn divided(self, by: Self) -> Self {
        self * by
    }
    #[inline(always)]
    fn over(self, by: f64) -> Self {
        self.times(1.0 / by)
    }
    #[inline(always)]
    fn sqrt(self) -> Self {
        Self {
            simd: self.simd,
            lanes: self.simd.sqrt_f64s(self.lanes),
        }
    }
    #[inline(always)]
    fn abs(self) -> Self {
        self.most(-self)
    }
    #[inline(always)]
    fn least(self, other: Self) -> Self {
        Self {
            simd: self.simd,
            lanes: self.simd.min_f64s(self.lanes, other.lanes),
        }
    }
    #[inline(always)]
    fn most(self, other: Self) -> Self {
        Self {
            simd: self.simd,
            lanes: self.simd.max_f64s(self.lanes, other.lanes),
        }
    }
    #[inline(always)]
    fn within(self, low: Self, high: Self) -> Self {
        self.most(low).least(high)
    }
    #[inline(always)]
    fn above(self, other: Self) -> Self::Mask {
        self.simd.greater_than_f64s(self.lanes, other.lanes)
    }
    #[inline(always)]
    fn choose(mask: Self::Mask, yes: Self, no: Self) -> Self {
        let simd = yes.simd;
        let lanes = simd.select_u64s(mask, pulp::cast(yes.lanes), pulp::cast(no.lanes));
        Self {
            simd,
            lanes: pulp::cast(lanes),
        }
    }
    /// By quarters of a turn; factors as in Cephes (S. L. Moshier; from memory, seen to by a test).
    #[inline(always)]
    fn sin_cos(self) -> (Self, Self) {
        let quarters = self.times(core::f64::consts::FRAC_2_PI).rounded();
        let rest = quarters.times_plus(self.same(-core::f64::consts::FRAC_PI_2), self);
        let rest = quarters.times_plus(self.same(-6.123_233_995_736_766e-17), rest);
        let square = rest * rest;
        let sine = (square * rest).times_plus(
            square.polynomial([
                1.589_623_015_765_465_6e-10,
                -2.505_074_776_285_780_7e-8,
                2.755_731_362_138_572_4e-6,
                -1.984_126_982_958_954e-4,
                8.333_333_333_322_118e-3,
                -1.666_666_666_666_663e-1,
            ]),
            rest,
        );
        let cosine = (square * square).times_plus(
            square.polynomial([
                -1.135_853_652_138_768_2e-11,
                2.087_570_084_197_473e-9,
                -2.755_731_417_929_674e-7,
                2.480_158_728_885_171_7e-5,
                -1.388_888_888_887_305_6e-3,
                4.166_666_666_666_659_3e-2,
            ]),
            square.times_plus(self.same(-0.5), self.same(1.0)),
        );
        // Odd quarters swap the two; the place among four gives the signs.
        let odd = (quarters - quarters.times(0.5).rounded().times(2.0)).abs();
        let odd = odd.above(self.same(0.5));
        let of_four = quarters - quarters.times(0.25).rounded().times(4.0);
        let border = self.same(1.25);
        let (sin, cos) = (Self::choose(odd, cosine, sine), Self::choose(odd, sine, cosine));
        (
            Self::choose(of_four.plus(-0.5).abs().above(border), -sin, sin),
            Self::choose(of_four.plus(0.5).abs().above(border), -cos, cos),
        )
    }
    #[inline(always)]
    fn tanh(self) -> Self {
        let one = self.same(1.0);
        let falls = self.abs().least(self.same(20.0)).times(-2.0).exp();
        let share = (one - falls) / (one + falls);
        Self::choose(self.above(self.same(0.0)), share, -share)
    }
    #[inline(always)]
    fn angle(across: Self, along: Self) -> Self {
        let ratio = across / along;
        let size = ratio.abs().arctangent();
        Self::choose(ratio.above(ratio.same(0.0)), size, -size)
    }
    #[inline(always)]
    fn pivot<const SIZE: usize>(_rows: &[[Self; SIZE]; SIZE], column: usize) -> usize {
        column
    }
}

impl<S: Simd> ByLane<f64> for Pack<S> {
    type Like = S;

    #[inline(always)]
    fn spread(one: &f64, like: S) -> Self {
        Self::all(like, *one)
    }

    #[inline(always)]
    fn set(&mut self, lane: usize, one: &f64) {
        let lanes: &mut [f64] = bytemuck::cast_slice_mut(core::slice::from_mut(&mut self.lanes));
        lanes[lane] = *one;
    }
}

/// Makes a struct of numbers that can stand for one car or for a pack.
macro_rules! figures {
    ($(#[$about:meta])* $name:ident { $($(#[$of:meta])* $field:ident: $kind:ty),* $(,)? }) => {
        $(#[$about])*
        #[derive(Clone, Copy, Debug)]
        pub(super) struct $name<N> {
            $($(#[$of])* pub(super) $field: $kind),*
        }

        impl<S: pulp::Simd> $crate::turn::number::ByLane<$name<f64>> for $name<$crate::turn::pack::Pack<S>> {
            type Like = S;

            #[inline(always)]
            fn spread(one: &$name<f64>, like: S) -> Self {
                Self { $($field: $crate::turn::number::ByLane::spread(&one.$field, like)),* }
            }

            #[inline(always)]
            fn set(&mut self, lane: usize, one: &$name<f64>) {
                $($crate::turn::number::ByLane::set(&mut self.$field, lane, &one.$field);)*
            }
        }
    };
}
pub(super) use figures;

#[cfg(test)]
mod tests {
    use pulp::{Arch, Scalar, WithSimd};

    use super::*;

    /// Something to be looked at with every set of instructions that this machine has.
    fn with_each(look: impl WithSimd + Copy) {
        Arch::new().dispatch(look);
        #[cfg(target_arch = "x86_64")]
        if let Some(simd) = pulp::x86::V3::try_new() {
            Simd::vectorize(simd, look);
        }
        Simd::vectorize(Scalar, look);
    }

    /// Figures over each lane, the standard library's beside them.
    #[derive(Clone, Copy)]
    struct Functions;

    impl WithSimd for Functions {
        type Output = ();

        #[inline(always)]
        fn with_simd<S: Simd>(self, simd: S) {
            for step in -4000..=4000_i32 {
                let at = f64::from(step) * 0.007_3;
                let each: [f64; MOST_LANES] = core::array::from_fn(|lane| at + 0.001 * lane as f64);
                let pack = Pack::of(simd, &each);
                let (sin, cos) = pack.sin_cos();
                let tanh = pack.times(0.2).tanh();
                let angle = Pack::angle(pack, pack.same(1.7));
                for lane in 0..S::F64_LANES {
                    let x = each[lane];
                    let close =
                        |found: f64, wanted: f64| (found - wanted).abs() < 4e-16 + 4e-15 * wanted.abs();
                    assert!(close(sin.get(lane) + 2.0, x.sin() + 2.0), "sin {x}");
                    assert!(close(cos.get(lane) + 2.0, x.cos() + 2.0), "cos {x}");
                    assert!(close(tanh.get(lane) + 2.0, (0.2 * x).tanh() + 2.0), "tanh {x}");
                    assert!(close(angle.get(lane) + 2.0, x.atan2(1.7) + 2.0), "angle {x}");
                }
            }
        }
    }

    #[test]
    fn a_packs_functions_are_the_standard_librarys_to_the_last_digits() {
        with_each(Functions);
    }

    /// Each lane with a table of its own, and of its own length.
    #[derive(Clone, Copy)]
    struct Tables;

    impl WithSimd for Tables {
        type Output = ();

        #[inline(always)]
        fn with_simd<S: Simd>(self, simd: S) {
            let tables: [Vec<[f64; 4]>; MOST_LANES] = core::array::from_fn(|lane| {
                (0..8 + lane)
                    .map(|cell| {
                        [0.0, 1.0, 2.0, 3.0].map(|part| 100.0 * lane as f64 + 10.0 * part + cell as f64)
                    })
                    .collect()
            });
            let each: [&[[f64; 4]]; MOST_LANES] = core::array::from_fn(|lane| tables[lane].as_slice());
            let last = Pack::of(simd, &core::array::from_fn(|lane| 7.0 + lane as f64));
            let rows = Pack::rows(simd);
            for (cell, over) in [
                (0, 0.0),
                (0, 0.3),
                (0, 0.999),
                (1, 0.001),
                (4, 0.5),
                (7, 0.25),
                (7, 0.999),
            ] {
                let (factors, within) = Pack::all(simd, f64::from(cell) + over).looked_up(&each, last, &rows);
                for lane in 0..S::F64_LANES {
                    let wanted = tables[lane][usize::try_from(cell).unwrap()];
                    for (factor, wanted) in factors.iter().zip(wanted) {
                        assert!((factor.get(lane) - wanted).abs() < 1e-12, "{cell} {lane}");
                    }
                    assert!((within.get(lane) - over).abs() < 1e-12, "{cell} {over}");
                }
            }
        }
    }

    #[test]
    fn each_lane_reads_its_own_table() {
        with_each(Tables);
    }
}

//! One implicit step's coefficients, and its system of equations.

use super::{FORWARD, State};

pub(super) const GAMMA: f64 = 0.435_866_521_508_459;
pub(super) const ALPHA: [[f64; 3]; 4] = [
    [0.0, 0.0, 0.0],
    [0.871_733_043_016_918, 0.0, 0.0],
    [0.844_570_600_153_694_2, -0.112_990_642_364_841_85, 0.0],
    [0.0, 0.0, 1.0],
];
pub(super) const ALPHA_SUM: [f64; 4] = [0.0, 0.871_733_043_016_918, 0.731_579_957_788_852_4, 1.0];
pub(super) const TWIST: [[f64; 3]; 4] = [
    [0.0, 0.0, 0.0],
    [-0.871_733_043_016_918, 0.0, 0.0],
    [-0.903_380_570_130_440_8, 0.054_180_672_388_095_326, 0.0],
    [
        0.242_123_807_060_953_46,
        -1.223_250_583_904_514_7,
        0.545_260_255_335_102_1,
    ],
];
pub(super) const WEIGHT: [f64; 4] = [
    0.242_123_807_060_953_46,
    -1.223_250_583_904_514_7,
    1.545_260_255_335_102,
    0.435_866_521_508_459,
];
pub(super) const EMBEDDED: [f64; 4] = [
    0.378_109_031_458_193_7,
    -0.096_042_292_212_423_18,
    0.5,
    0.217_933_260_754_229_5,
];

/// `I − h γ J` of the stiff figures, taken apart.
pub(super) struct Factored {
    rows: [[f64; 7]; 7],
    order: [usize; 7],
}

impl Factored {
    pub(super) fn of(slopes: &[[f64; 7]; 7], shift: f64) -> Self {
        let mut rows = [[0.0; 7]; 7];
        for (row, of_row) in rows.iter_mut().enumerate() {
            for (column, entry) in of_row.iter_mut().enumerate() {
                *entry = -shift * slopes[row][column];
            }
            of_row[row] += 1.0;
        }
        let mut order = [0, 1, 2, 3, 4, 5, 6];
        for pivot in 0..7 {
            let mut best = pivot;
            for row in pivot + 1..7 {
                if rows[row][pivot].abs() > rows[best][pivot].abs() {
                    best = row;
                }
            }
            rows.swap(pivot, best);
            order.swap(pivot, best);
            let inverse = 1.0 / rows[pivot][pivot];
            let of_pivot = rows[pivot];
            for row in &mut rows[pivot + 1..] {
                let factor = row[pivot] * inverse;
                row[pivot] = factor;
                for column in pivot + 1..7 {
                    row[column] -= factor * of_pivot[column];
                }
            }
            rows[pivot][pivot] = inverse;
        }
        Self { rows, order }
    }

    /// Column by column: what one unknown takes from all the others is taken at once, and no sum waits for another.
    pub(super) fn solve(&self, state: &mut State) {
        let mut by = self.order.map(|row| state[FORWARD + row]);
        for column in 0..7 {
            let known = by[column];
            for (rest, row) in by[column + 1..].iter_mut().zip(&self.rows[column + 1..]) {
                *rest -= row[column] * known;
            }
        }
        for column in (0..7).rev() {
            let known = by[column] * self.rows[column][column];
            by[column] = known;
            for (rest, row) in by[..column].iter_mut().zip(&self.rows[..column]) {
                *rest -= row[column] * known;
            }
        }
        state[FORWARD..FORWARD + 7].copy_from_slice(&by);
    }
}

//! A sum of squares as a triangle times its mirror image.

/// `A = R·Rᵀ` of a matrix `A = d·1 + Σ row·rowᵀ`, R lower; of its inverse the upper `R⁻ᵀ`.
#[derive(Clone, Debug)]
pub(super) struct Upper {
    /// R, row by row.
    lower: Vec<Vec<f64>>,
}

impl Upper {
    /// Of the matrix that is one.
    pub(super) fn one(size: usize) -> Self {
        let row = |at: usize| (0..=at).map(|column| f64::from(u8::from(column == at))).collect();
        Self {
            lower: (0..size).map(row).collect(),
        }
    }

    /// Of `diagonal·1 + Σ row·rowᵀ` (Cholesky). `None` where that is not positive.
    pub(super) fn of(rows: &[&[f64]], size: usize, diagonal: f64) -> Option<Self> {
        let mut lower: Vec<Vec<f64>> = Vec::with_capacity(size);
        for at in 0..size {
            let mut line: Vec<f64> = Vec::with_capacity(at + 1);
            for column in 0..=at {
                let product: f64 = rows.iter().map(|row| row[at] * row[column]).sum();
                let sum = match lower.get(column) {
                    Some(before) => product - dot(&line, before),
                    None => product + diagonal - dot(&line, &line),
                };
                match lower.get(column) {
                    Some(before) => line.push(sum / before[column]),
                    None if sum > 0.0 && sum.is_finite() => line.push(sum.sqrt()),
                    None => return None,
                }
            }
            lower.push(line);
        }
        Some(Self { lower })
    }

    /// `R⁻ᵀ·x`: of independent numbers ones with the covariance `A⁻¹`.
    pub(super) fn solve(&self, numbers: &[f64]) -> Vec<f64> {
        let size = self.lower.len();
        let mut found = numbers.to_vec();
        for at in (0..size).rev() {
            for below in at + 1..size {
                found[at] -= self.lower[below][at] * found[below];
            }
            found[at] /= self.lower[at][at];
        }
        found
    }

    /// `R⁻¹·x`.
    fn forward(&self, numbers: &[f64]) -> Vec<f64> {
        let mut found = numbers.to_vec();
        for at in 0..self.lower.len() {
            for before in 0..at {
                found[at] -= self.lower[at][before] * found[before];
            }
            found[at] /= self.lower[at][at];
        }
        found
    }

    /// `A⁻¹·x`.
    pub(super) fn solve_whole(&self, numbers: &[f64]) -> Vec<f64> {
        self.solve(&self.forward(numbers))
    }

    /// `xᵀ·A⁻¹·x`.
    pub(super) fn variance(&self, numbers: &[f64]) -> f64 {
        self.forward(numbers).iter().map(|number| number * number).sum()
    }

    /// Root of a diagonal element of `A⁻¹`.
    pub(super) fn sd(&self, at: usize) -> f64 {
        let mut only = vec![0.0; self.lower.len()];
        only[at] = 1.0;
        self.variance(&only).sqrt()
    }
}

/// As far as the shorter of both goes.
fn dot(one: &[f64], other: &[f64]) -> f64 {
    one.iter().zip(other).map(|(one, other)| one * other).sum()
}

#[cfg(test)]
mod tests {
    use super::Upper;

    /// By hand: 1 + (1, 1)ᵀ(1, 1) = [[2, 1], [1, 2]], whose inverse is [[2, −1], [−1, 2]]/3.
    #[test]
    fn two_by_two_by_hand() {
        let upper = Upper::of(&[&[1.0, 1.0]], 2, 1.0).unwrap();
        let near = |one: f64, other: f64| assert!((one - other).abs() < 1e-12, "{one} {other}");
        near(upper.sd(0).powi(2), 2.0 / 3.0);
        near(upper.variance(&[1.0, 1.0]), 2.0 / 3.0);
        let found = upper.solve_whole(&[3.0, 0.0]);
        near(found[0], 2.0);
        near(found[1], -1.0);
        // What `solve` makes of the unit vectors has the inverse as its covariance.
        let (one, other) = (upper.solve(&[1.0, 0.0]), upper.solve(&[0.0, 1.0]));
        near(one[0] * one[0] + other[0] * other[0], 2.0 / 3.0);
        near(one[0] * one[1] + other[0] * other[1], -1.0 / 3.0);
        near(one[1] * one[1] + other[1] * other[1], 2.0 / 3.0);
        assert!(Upper::of(&[], 1, 0.0).is_none());
    }
}

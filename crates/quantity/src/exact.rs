//! Decimal arithmetic without rounding, so that a unit converts exactly and only the last step, to `f64`, rounds.
//!
//! `15.9 mm` times 1/1000 in `f64` may land beside the nearest double to 0.0159; here the digits are scaled first and
//! the standard library's reader, which rounds correctly, is asked last.

use core::cmp::Ordering;

/// Digits kept by a division that does not end. Far beyond the 17 that tell two doubles apart.
const QUOTIENT_DIGITS: usize = 60;

/// A decimal number: `± digits × 10^exponent`. Zero has no digits.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Exact {
    negative: bool,
    /// Most significant first, each 0 to 9, neither a leading nor a trailing zero.
    digits: Vec<u8>,
    exponent: i32,
}

impl Exact {
    /// From digits (0 to 9, most significant first) and the power of ten of the last one.
    pub(crate) fn new(negative: bool, digits: impl IntoIterator<Item = u8>, exponent: i32) -> Self {
        let mut number = Self {
            negative,
            digits: digits.into_iter().skip_while(|digit| *digit == 0).collect(),
            exponent,
        };
        while number.digits.last() == Some(&0) {
            number.digits.pop();
            number.exponent += 1;
        }
        if number.digits.is_empty() {
            number.negative = false;
            number.exponent = 0;
        }
        number
    }

    pub(crate) fn from_u64(value: u64) -> Self {
        Self::new(false, value.to_string().bytes().map(|byte| byte - b'0'), 0)
    }

    /// The shortest decimal that reads back as this double. `None` where it is not finite.
    pub(crate) fn shortest(value: f64) -> Option<Self> {
        if value.is_finite() {
            Self::from_scientific(&format!("{value:e}"))
        } else {
            None
        }
    }

    /// The double itself, to 60 digits. The shortest decimal may stand on the very edge of what reads back as the
    /// double, so that the least further rounding leads to its neighbour; this one stands in the middle.
    pub(crate) fn of(value: f64) -> Option<Self> {
        if value.is_finite() {
            Self::from_scientific(&format!("{value:.59e}"))
        } else {
            None
        }
    }

    /// From `-1.25e-13`.
    fn from_scientific(text: &str) -> Option<Self> {
        let (mantissa, power) = text.split_once('e')?;
        let fraction = mantissa.split_once('.').map_or("", |(_, fraction)| fraction);
        let exponent = power.parse::<i32>().ok()? - i32::try_from(fraction.len()).ok()?;
        let digits = mantissa
            .bytes()
            .filter(u8::is_ascii_digit)
            .map(|byte| byte - b'0');
        Some(Self::new(mantissa.starts_with('-'), digits, exponent))
    }

    /// The nearest double; infinite where it is beyond all of them.
    pub(crate) fn to_f64(&self) -> f64 {
        if self.is_zero() {
            return 0.0;
        }
        let mut text = String::with_capacity(self.digits.len() + 8);
        if self.negative {
            text.push('-');
        }
        text.extend(self.digits.iter().map(|digit| char::from(b'0' + digit)));
        text.push('e');
        text.push_str(&self.exponent.to_string());
        text.parse().unwrap_or(f64::NAN)
    }

    /// Its digits as a whole number and the power of ten to multiply it with, where the digits fit.
    pub(crate) fn to_u64_and_shift(&self) -> Option<(u64, i32)> {
        let digit = |sum: u64, digit: &u8| sum.checked_mul(10)?.checked_add(u64::from(*digit));
        let whole = self.digits.iter().try_fold(0, digit)?;
        Some((whole, self.exponent))
    }

    pub(crate) fn is_zero(&self) -> bool {
        self.digits.is_empty()
    }

    pub(crate) fn is_negative(&self) -> bool {
        self.negative
    }

    /// Power of ten of the leading digit; `None` for zero.
    pub(crate) fn magnitude(&self) -> Option<i32> {
        if self.is_zero() {
            None
        } else {
            Some(self.exponent + count(&self.digits) - 1)
        }
    }

    pub(crate) fn abs(mut self) -> Self {
        self.negative = false;
        self
    }

    pub(crate) fn negated(mut self) -> Self {
        self.negative = !self.negative && !self.is_zero();
        self
    }

    /// Times ten to a power.
    pub(crate) fn shifted(mut self, power: i32) -> Self {
        if !self.is_zero() {
            self.exponent += power;
        }
        self
    }

    pub(crate) fn times(&self, other: &Self) -> Self {
        let mut columns = vec![0_u32; self.digits.len() + other.digits.len()];
        for (i, a) in self.digits.iter().enumerate() {
            for (j, b) in other.digits.iter().enumerate() {
                columns[i + j + 1] += u32::from(*a) * u32::from(*b);
            }
        }
        let mut carry = 0;
        for column in columns.iter_mut().rev() {
            let sum = *column + carry;
            *column = sum % 10;
            carry = sum / 10;
        }
        let digits = columns.into_iter().filter_map(|column| u8::try_from(column).ok());
        Self::new(
            self.negative != other.negative,
            digits,
            self.exponent + other.exponent,
        )
    }

    /// Divided by a whole number above 0. A quotient that does not end keeps [`QUOTIENT_DIGITS`] digits and a last
    /// one that says "and a little more", so that it still rounds to the right side.
    pub(crate) fn over(&self, divisor: u64) -> Self {
        if divisor == 1 || self.is_zero() {
            return self.clone();
        }
        let divisor = u128::from(divisor.max(1));
        let mut rest = 0_u128;
        let mut digits = Vec::with_capacity(QUOTIENT_DIGITS.max(self.digits.len()) + 1);
        let mut exponent = self.exponent;
        let mut put = |rest: u128| -> u128 {
            let digit = u8::try_from(rest / divisor).unwrap_or(9);
            if digit != 0 || !digits.is_empty() {
                digits.push(digit);
            }
            rest % divisor
        };
        for digit in &self.digits {
            rest = put(rest * 10 + u128::from(*digit));
        }
        let mut brought_down = 0;
        while rest != 0 && brought_down < QUOTIENT_DIGITS + 20 {
            rest = put(rest * 10);
            brought_down += 1;
            exponent -= 1;
        }
        if rest != 0 {
            digits.push(1);
            exponent -= 1;
        }
        Self::new(self.negative, digits, exponent)
    }

    pub(crate) fn plus(&self, other: &Self) -> Self {
        if self.is_zero() {
            return other.clone();
        }
        if other.is_zero() {
            return self.clone();
        }
        let exponent = self.exponent.min(other.exponent);
        let top = self.magnitude().max(other.magnitude()).unwrap_or(0) + 1;
        let width = usize::try_from(top - exponent + 1).unwrap_or(0);
        let (a, b) = (self.columns(exponent, width), other.columns(exponent, width));
        if self.negative == other.negative {
            return Self::new(self.negative, add_columns(&a, &b), exponent);
        }
        match a.cmp(&b) {
            Ordering::Equal => Self::new(false, [], 0),
            Ordering::Greater => Self::new(self.negative, subtract_columns(&a, &b), exponent),
            Ordering::Less => Self::new(other.negative, subtract_columns(&b, &a), exponent),
        }
    }

    /// Rounded to a multiple of ten to the `place`, halves away from zero.
    pub(crate) fn rounded(&self, place: i32) -> Self {
        let surplus = place - self.exponent;
        if surplus <= 0 || self.is_zero() {
            return self.clone();
        }
        let surplus = usize::try_from(surplus).unwrap_or(usize::MAX);
        let length = self.digits.len();
        if surplus > length {
            return Self::new(false, [], 0);
        }
        let (kept, dropped) = self.digits.split_at(length - surplus);
        let down = Self::new(self.negative, kept.iter().copied(), place);
        if dropped.first().is_some_and(|digit| *digit >= 5) {
            down.plus(&Self::new(self.negative, [1], place))
        } else {
            down
        }
    }

    /// The digits in fixed columns: the last stands for ten to the `exponent`.
    fn columns(&self, exponent: i32, width: usize) -> Vec<u8> {
        let zeros_after = usize::try_from(self.exponent - exponent).unwrap_or(0);
        let mut columns = vec![0; width.saturating_sub(self.digits.len() + zeros_after)];
        columns.extend_from_slice(&self.digits);
        columns.resize(width, 0);
        columns
    }

    /// Plain digits with a decimal point, and at least `decimals` places after it (zeros are filled in).
    pub(crate) fn plain(&self, decimals: usize) -> String {
        let mut text = String::new();
        if self.negative {
            text.push('-');
        }
        let digits: String = self.digits.iter().map(|digit| char::from(b'0' + digit)).collect();
        let (whole, fraction) = match usize::try_from(self.exponent) {
            Ok(zeros) => (digits + &"0".repeat(zeros), String::new()),
            Err(_) => {
                let places = usize::try_from(self.exponent.unsigned_abs()).unwrap_or(0);
                let padded = format!("{digits:0>places$}");
                let (whole, fraction) = padded.split_at(padded.len() - places);
                (whole.to_owned(), fraction.to_owned())
            }
        };
        text.push_str(if whole.is_empty() { "0" } else { &whole });
        if decimals > 0 || !fraction.is_empty() {
            text.push('.');
            text.push_str(&format!("{fraction:0<decimals$}"));
        }
        text
    }

    /// As `1.25e-13`.
    pub(crate) fn scientific(&self) -> String {
        let Some(magnitude) = self.magnitude() else {
            return "0".to_owned();
        };
        let mantissa = Self {
            exponent: 1 - count(&self.digits),
            ..self.clone()
        };
        format!("{}e{magnitude}", mantissa.plain(0))
    }
}

fn count(digits: &[u8]) -> i32 {
    i32::try_from(digits.len()).unwrap_or(i32::MAX)
}

fn add_columns(a: &[u8], b: &[u8]) -> Vec<u8> {
    let mut sum = a.to_vec();
    let mut carry = 0;
    for (digit, other) in sum.iter_mut().zip(b).rev() {
        let column = *digit + other + carry;
        *digit = column % 10;
        carry = column / 10;
    }
    sum
}

/// `a − b`, where `a` is not below `b`.
fn subtract_columns(a: &[u8], b: &[u8]) -> Vec<u8> {
    let mut difference = a.to_vec();
    let mut borrow = 0;
    for (digit, other) in difference.iter_mut().zip(b).rev() {
        let column = *digit + 10 - other - borrow;
        *digit = column % 10;
        borrow = u8::from(column < 10);
    }
    difference
}

#[cfg(test)]
mod tests {
    use super::Exact;

    fn exact(value: f64) -> Exact {
        Exact::shortest(value).unwrap()
    }

    #[test]
    fn arithmetic_by_hand() {
        assert_eq!(exact(12.5).plus(&exact(-2.75)).plain(0), "9.75");
        assert_eq!(exact(-12.5).plus(&exact(2.75)).plain(0), "-9.75");
        assert_eq!(exact(2.75).plus(&exact(-12.5)).plain(0), "-9.75");
        assert_eq!(exact(999.5).plus(&exact(0.5)).plain(0), "1000");
        assert_eq!(exact(1e3).plus(&exact(-1e3)).plain(0), "0");
        assert_eq!(exact(0.25).times(&exact(-40.0)).plain(0), "-10");
        assert_eq!(exact(99.0).times(&exact(99.0)).plain(0), "9801");
        assert_eq!(exact(1.0).over(8).plain(0), "0.125");
        assert_eq!(exact(0.0).over(7).plain(0), "0");
        assert_eq!(exact(2.0).over(3).to_f64().to_bits(), (2.0_f64 / 3.0).to_bits());
        assert_eq!(
            exact(1.0).over(u64::MAX).to_f64().to_bits(),
            (1.0_f64 / 18_446_744_073_709_551_615.0).to_bits()
        );
    }

    #[test]
    fn halves_round_away_from_zero() {
        assert_eq!(exact(0.15).rounded(-1).plain(1), "0.2");
        assert_eq!(exact(-0.25).rounded(-1).plain(1), "-0.3");
        assert_eq!(exact(0.0449).rounded(-1).plain(1), "0.0");
        assert_eq!(exact(95.0).rounded(1).plain(0), "100");
        assert_eq!(exact(49.0).rounded(2).plain(0), "0");
        assert_eq!(exact(51.0).rounded(2).plain(0), "100");
        assert_eq!(exact(5.0).rounded(3).plain(0), "0");
    }

    #[test]
    fn written_out() {
        assert_eq!(exact(1500.0).plain(0), "1500");
        assert_eq!(exact(0.00125).plain(0), "0.00125");
        assert_eq!(exact(1.5).plain(3), "1.500");
        assert_eq!(exact(-1.25e-13).scientific(), "-1.25e-13");
        assert_eq!(exact(3e20).scientific(), "3e20");
        assert_eq!(exact(0.0).plain(2), "0.00");
    }

    #[test]
    fn doubles_survive() {
        for value in [
            0.1,
            -1.0 / 3.0,
            6.02e23,
            5e-324,
            f64::MAX,
            f64::MIN_POSITIVE,
            123_456_789.0,
        ] {
            assert_eq!(exact(value).to_f64().to_bits(), value.to_bits());
            assert_eq!(Exact::of(value).unwrap().to_f64().to_bits(), value.to_bits());
        }
        assert_eq!(Exact::shortest(f64::NAN), None);
        assert_eq!(Exact::shortest(f64::INFINITY), None);
        assert_eq!(Exact::of(f64::NEG_INFINITY), None);
    }
}

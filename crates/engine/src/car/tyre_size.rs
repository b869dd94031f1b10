use quantity::si::Length;
use quantity::{Amount, Dimension, Spread};

/// A tyre as its label names it: width, height in hundredths of the width, rim. The designation of ETRTO and ISO 4000:
/// `195/65 R15`, with or without a load and speed index.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct TyreSize {
    /// Section width in millimetres.
    width_mm: u16,
    /// Section height in hundredths of the width.
    aspect: u16,
    /// Rim in inches.
    rim_in: u16,
}

/// Rolling radius over free radius (from memory).
const ROLLING_OVER_FREE: f64 = 0.97;
/// How far that may be off, of the radius (from memory).
const OFF: f64 = 0.015;

impl TyreSize {
    /// What is taken for the rolling radius, in words.
    pub const TAKEN: &'static str = "0.97 × the free radius that the label gives, ± 1.5 %";
    /// Where that comes from.
    pub const SOURCE: &'static str = "the label's sizes: ETRTO, ISO 4000; the factor from memory";
    /// How a label is written.
    pub const FORM: &'static str = "195/65 R15";

    /// Reads a label; `None` where it is none.
    #[must_use]
    pub fn read(text: &str) -> Option<Self> {
        let (width, rest) = text.trim().split_once('/')?;
        let digits = rest.bytes().take_while(u8::is_ascii_digit).count();
        let (aspect, rest) = rest.split_at(digits);
        let rest = rest.trim_start();
        // R: radial; -: cross-ply. Faster tyres carry the old speed mark before the R.
        let rim = ["ZR", "R", "-"].iter().find_map(|mark| rest.strip_prefix(mark))?;
        let rim = rim.trim_start();
        let digits = rim.bytes().take_while(u8::is_ascii_digit).count();
        let (rim, rest) = rim.split_at(digits);
        let is_size = |text: &str, digits: core::ops::RangeInclusive<usize>| {
            digits.contains(&text.len()) && text.bytes().all(|byte| byte.is_ascii_digit())
        };
        if !is_size(width, 3..=3) || !is_size(aspect, 2..=3) || !is_size(rim, 2..=2) || !is_index(rest) {
            return None;
        }
        let size = Self {
            width_mm: width.parse().ok()?,
            aspect: aspect.parse().ok()?,
            rim_in: rim.parse().ok()?,
        };
        let possible = (20..=105).contains(&size.aspect) && (8..=30).contains(&size.rim_in);
        possible.then_some(size)
    }

    /// Half of the free diameter: rim and two section heights.
    #[must_use]
    pub fn free_radius(self) -> Length {
        let height_mm = f64::from(self.width_mm) * f64::from(self.aspect) / 100.0;
        Length::from_m((f64::from(self.rim_in) * 25.4 / 2.0 + height_mm) / 1000.0)
    }

    /// The rolling radius that is taken for it, with its tolerance.
    #[must_use]
    pub fn rolling_radius(self) -> Amount {
        let si = ROLLING_OVER_FREE * self.free_radius().m();
        Amount {
            dimension: Dimension::Length,
            si,
            spread: Spread::Normal {
                half_width_si: OFF * si,
            },
        }
    }
}

/// Nothing, or a load index with a speed symbol: `91T`, `95 H`, `91T XL`.
fn is_index(text: &str) -> bool {
    let text = text.trim();
    let text = text.strip_suffix("XL").unwrap_or(text).trim_end();
    let load = text.bytes().take_while(u8::is_ascii_digit).count();
    let speed = text[load..].trim_start();
    text.is_empty()
        || (2..=3).contains(&load)
            && (1..=2).contains(&speed.len())
            && speed.starts_with(|c: char| c.is_ascii_uppercase())
            && speed.bytes().skip(1).all(|byte| byte.is_ascii_digit())
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Overall diameter of the size in the tables of ETRTO and ISO 4000 (from memory): 635 mm.
    #[test]
    fn a_label_gives_the_free_radius() {
        let size = TyreSize::read("195/65 R15").unwrap();
        assert!((size.free_radius().m() - 0.317_25).abs() < 1e-12);
        let rolling = size.rolling_radius();
        assert!((rolling.si - 0.97 * 0.317_25).abs() < 1e-12);
        assert_eq!(
            rolling.spread,
            Spread::Normal {
                half_width_si: 0.015 * 0.97 * 0.317_25
            }
        );
    }

    #[test]
    fn an_index_behind_the_size_says_nothing_about_it() {
        let size = TyreSize::read("195/65 R15");
        assert!(size.is_some());
        for written in [
            "195/65R15",
            "195/65 R15 91T",
            " 195/65 R 15 91 T XL",
            "195/65-15",
            "195/65 ZR15 91Y",
        ] {
            assert_eq!(TyreSize::read(written), size, "{written}");
        }
    }

    #[test]
    fn anything_else_is_no_label() {
        for written in [
            "",
            "195",
            "195/65",
            "195/65 R",
            "195 65 15",
            "195/65 R1",
            "195/65 R155",
            "1950/65 R15",
            "195/65 R15 x",
            "195/65 X15",
            "195/65 R15 91",
            "195/6 R15",
            "195/650 R15",
            "0.31 m",
            "195/65 R99",
            "１95/65 R15",
        ] {
            assert_eq!(TyreSize::read(written), None, "{written}");
        }
    }
}

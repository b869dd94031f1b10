//! From text to an [`Amount`], or to a [`Fault`] that helps.

mod number;

use bigdecimal::{Signed as _, Zero as _};

use crate::{
    Amount, Dimension, Fault, FractionFlaw, Spread, ToleranceFlaw, Unit,
    exact::{self, Exact},
    find::{is_per_cent, look_up, unit_named, usual},
    piece::{Piece, is_blank},
    unit::units_of,
};

/// What may stand where a quantity is wanted and a default exists.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Written {
    /// A figure.
    Amount(Amount),
    /// The word `guess`: take the default, and say so.
    Guess,
}

/// Reads a quantity: a number, its unit, and its tolerance where one is written.
///
/// - Numbers: `15.9`, `15,9`, `-0.5`, `1e3`, `5/8`, `1-1/16`, `1 1/16`, `1⅛`. A comma followed by exactly three digits
///   is refused, and so are digits in groups.
/// - Units: those of [`units_of`], in the spellings that [`find_unit`](crate::find_unit) reads, with a blank before
///   them or without. A bare number is taken for [`Dimension::Ratio`] only; a slope may be written `1 in 6` or `1:6`.
/// - Tolerances: `± x`, `+/- x` or `+- x`, where `x` has a unit of its own, or none (then it takes that of the value),
///   or is `%` of the value. Where the value itself is written in `%` (a slope, or a ratio), so is the tolerance: of
///   `12 % ± 2 %` the ends are 10 % and 14 %. That of a temperature is a difference. Zero is no tolerance.
/// - `between A and B` with A below B: any value between them alike, the middle is the amount's value. The unit
///   stands behind both or behind one.
///
/// The SI values are the doubles nearest to what is written.
///
/// # Errors
/// One of [`Fault`]; `guess` is [`Fault::Guess`].
pub fn parse(text: &str, wanted: Dimension) -> Result<Amount, Fault> {
    let piece = Piece::new(text)?.trim();
    if is_guess(piece) {
        return Err(Fault::Guess {
            span: piece.span(),
            found: piece.quoted(),
            wanted,
        });
    }
    if piece.is_empty() {
        return Err(Fault::Empty {
            span: 0..text.len(),
            wanted,
        });
    }
    match between(piece) {
        Some(ends) => uniform(ends, piece, wanted),
        None => about(piece, wanted),
    }
}

/// Reads a quantity as [`parse`] does, or the word `guess`.
///
/// # Errors
/// One of [`Fault`], never [`Fault::Guess`].
pub fn parse_written(text: &str, wanted: Dimension) -> Result<Written, Fault> {
    if is_guess(Piece::new(text)?.trim()) {
        return Ok(Written::Guess);
    }
    parse(text, wanted).map(Written::Amount)
}

fn is_guess(piece: Piece<'_>) -> bool {
    piece.as_str().eq_ignore_ascii_case("guess")
}

/// A number with the unit behind it, not yet converted.
struct Quantity<'a> {
    /// Number and unit as they stand.
    piece: Piece<'a>,
    size: Size,
}

enum Size {
    /// A number without unit.
    Bare(Exact),
    /// A number with its unit.
    Of(Exact, Unit),
    /// A rise in a run: `1 in 6`, `1:6`.
    RiseInRun { rise: Exact, run: Exact },
}

/// A value with or without a tolerance: `A`, `A ± B`.
fn about(piece: Piece<'_>, wanted: Dimension) -> Result<Amount, Fault> {
    let Some((value, sign, tolerance)) = tolerance_sign(piece) else {
        let value = settled(quantity(piece, wanted)?, wanted)?;
        return Ok(Amount::exact(wanted, finite_si(&value, wanted)?.1));
    };
    let value = settled(
        quantity(if value.is_empty() { piece } else { value }, wanted)?,
        wanted,
    )?;
    let (exact, si) = finite_si(&value, wanted)?;
    if tolerance.is_empty() {
        return Err(Fault::ToleranceMissing {
            span: sign.span(),
            found: sign.quoted(),
        });
    }
    let half_width = half_width(tolerance, &value, &exact, wanted)?;
    let spread = if half_width.is_zero() {
        Spread::Exact
    } else {
        Spread::Normal {
            half_width_si: representable(&half_width, tolerance)?,
        }
    };
    Ok(Amount {
        dimension: wanted,
        si,
        spread,
    })
}

/// Two ends and nothing known between them.
fn uniform(ends: Piece<'_>, piece: Piece<'_>, wanted: Dimension) -> Result<Amount, Fault> {
    let Some((low, high)) = split_at_and(ends) else {
        return Err(Fault::BetweenEnds {
            span: piece.span(),
            found: piece.quoted(),
            wanted,
        });
    };
    let (low, high) = (quantity(low, wanted)?, quantity(high, wanted)?);
    let (low, high) = match (&low.size, &high.size) {
        (Size::Bare(number), Size::Of(_, unit)) => (
            Quantity {
                size: Size::Of(number.clone(), *unit),
                ..low
            },
            high,
        ),
        (Size::Of(_, unit), Size::Bare(number)) => {
            let size = Size::Of(number.clone(), *unit);
            (low, Quantity { size, ..high })
        }
        _ => (settled(low, wanted)?, settled(high, wanted)?),
    };
    let low_si = finite_si(&low, wanted)?.1;
    let high_si = finite_si(&high, wanted)?.1;
    if low_si < high_si {
        let spread = Spread::Uniform { low_si, high_si };
        return Ok(Amount {
            dimension: wanted,
            si: low_si.midpoint(high_si),
            spread,
        });
    }
    Err(Fault::BetweenOrder {
        span: ends.span(),
        found: ends.quoted(),
        ordered: [high.piece.quoted(), low.piece.quoted()],
        same: low_si <= high_si,
    })
}

/// Half of the interval that `tolerance` gives to `value`, in SI.
fn half_width(
    tolerance: Piece<'_>,
    value: &Quantity<'_>,
    value_si: &Exact,
    wanted: Dimension,
) -> Result<Exact, Fault> {
    let flawed = |flaw| Fault::ToleranceUnit {
        span: tolerance.span(),
        found: tolerance.quoted(),
        flaw,
    };
    let (number, rest) = number::read(tolerance, wanted)?;
    let unit = rest.trim();
    let unit_of_value = match &value.size {
        Size::Of(_, unit) => Some(*unit),
        Size::Bare(_) => units_of(wanted).first().copied(),
        Size::RiseInRun { .. } => None,
    };
    if number.is_negative() {
        return Err(Fault::ToleranceNegative {
            span: tolerance.span(),
            found: tolerance.quoted(),
        });
    }
    let of_value = is_per_cent(unit.as_str()) && unit_of_value.is_none_or(|unit| unit.symbol() != "%");
    if of_value && wanted == Dimension::Temperature {
        return Err(flawed(ToleranceFlaw::PerCentOfTemperature));
    }
    if begins_run(unit) && wanted != Dimension::Slope {
        rise_in_run(tolerance, number.clone(), unit, wanted)?;
    }
    let (Some(unit_of_value), false) = (unit_of_value, begins_run(unit)) else {
        return Err(flawed(ToleranceFlaw::BesideRiseInRun));
    };
    if of_value {
        if value_si.is_zero() && !number.is_zero() {
            return Err(flawed(ToleranceFlaw::PerCentOfZero));
        }
        return Ok(exact::shifted(&(value_si.abs() * number), -2));
    }
    let unit = if unit.is_empty() {
        unit_of_value
    } else {
        unit_in(unit, wanted, tolerance)?
    };
    Ok(unit.of_differences().exact_to_si(&number))
}

/// A number and what stands behind it.
fn quantity(piece: Piece<'_>, wanted: Dimension) -> Result<Quantity<'_>, Fault> {
    let (number, rest) = number::read(piece, wanted)?;
    let rest = rest.trim();
    if rest.is_empty() {
        return Ok(Quantity {
            piece,
            size: Size::Bare(number),
        });
    }
    if begins_run(rest) {
        return rise_in_run(piece, number, rest, wanted);
    }
    let unit = unit_in(rest, wanted, piece)?;
    Ok(Quantity {
        piece,
        size: Size::Of(number, unit),
    })
}

/// A bare number gets the unit of a bare number, where the dimension has that.
fn settled(quantity: Quantity<'_>, wanted: Dimension) -> Result<Quantity<'_>, Fault> {
    let Size::Bare(number) = &quantity.size else {
        return Ok(quantity);
    };
    match units_of(wanted).first() {
        Some(unit) if unit.symbol().is_empty() => {
            let size = Size::Of(number.clone(), *unit);
            Ok(Quantity { size, ..quantity })
        }
        _ => Err(Fault::MissingUnit {
            span: quantity.piece.span(),
            found: quantity.piece.quoted(),
            wanted,
            offered: usual(wanted),
        }),
    }
}

/// The unit that fills `rest`; `quantity` is the number with it.
fn unit_in(rest: Piece<'_>, wanted: Dimension, quantity: Piece<'_>) -> Result<Unit, Fault> {
    let range = |whole: Piece<'_>| Fault::RangeSpelling {
        span: whole.span(),
        found: whole.quoted(),
        wanted,
    };
    if begins_range(rest) {
        return Err(range(quantity));
    }
    let trailing = |left: Piece<'_>| Fault::TrailingText {
        span: left.span(),
        found: left.quoted(),
    };
    if sign_at_start(rest.as_str()).is_some() {
        return Err(trailing(rest));
    }
    let unknown = match look_up(rest, wanted, quantity) {
        Err(unknown @ Fault::UnknownUnit { .. }) => unknown,
        other => return other,
    };
    let Some((unit, left)) = rest.longest_start(|start| unit_named(start).is_some()) else {
        return Err(unknown);
    };
    look_up(unit, wanted, quantity.up_to(unit))?;
    Err(if begins_range(left) {
        range(quantity)
    } else {
        trailing(left)
    })
}

/// `1 in 6` or `1:6`, of which the rise is read and `rest` begins at the `in` or the colon.
fn rise_in_run<'a>(
    piece: Piece<'a>,
    rise: Exact,
    rest: Piece<'a>,
    wanted: Dimension,
) -> Result<Quantity<'a>, Fault> {
    let colon = rest.as_str().starts_with(':');
    let (run, left) = number::read(rest.from(if colon { 1 } else { 2 }).trim(), wanted)?;
    let left = left.trim();
    let whole = piece.up_to_start_of(left);
    if wanted == Dimension::Length && !colon {
        let left = rest.from(2).trim();
        return Err(Fault::TrailingText {
            span: left.span(),
            found: left.quoted(),
        });
    }
    if wanted == Dimension::Ratio {
        return Err(number_pair(whole, &rise, &run));
    }
    if wanted != Dimension::Slope {
        let (span, found) = (whole.span(), whole.quoted());
        return Err(Fault::WrongDimension {
            span,
            found,
            is: Dimension::Slope,
            wanted,
        });
    }
    if !left.is_empty() {
        return Err(Fault::TrailingText {
            span: left.span(),
            found: left.quoted(),
        });
    }
    let flawed = |flaw| Fault::Fraction {
        span: whole.span(),
        found: whole.quoted(),
        flaw,
    };
    if run.is_zero() {
        return Err(flawed(FractionFlaw::ZeroDenominator));
    }
    Ok(Quantity {
        piece,
        size: Size::RiseInRun { rise, run },
    })
}

/// The fault of `60:40` where one number is wanted. `7:1` leaves no doubt that 7 is meant.
fn number_pair(piece: Piece<'_>, first: &Exact, second: &Exact) -> Fault {
    let (first, second) = (exact::to_f64(first), exact::to_f64(second));
    let mut readings = Vec::new();
    if second != 0.0 {
        readings.push(short(first / second));
    }
    if second != 0.0 && (second - 1.0).abs() > 1e-9 && first + second != 0.0 {
        readings.push(short(first / (first + second)));
    }
    readings.dedup();
    Fault::NumberPair {
        span: piece.span(),
        found: piece.quoted(),
        readings,
    }
}

/// To four digits, for a suggestion.
fn short(value: f64) -> String {
    let Some(exact) = exact::shortest(value) else {
        return Dimension::Ratio.example().to_owned();
    };
    exact::plain_or_scientific(&exact::rounded(&exact, exact::magnitude(&exact).unwrap_or(0) - 3))
}

/// The value in SI, not rounded and as the nearest double.
fn finite_si(quantity: &Quantity<'_>, wanted: Dimension) -> Result<(Exact, f64), Fault> {
    let exact = match &quantity.size {
        Size::Of(number, unit) => unit.exact_to_si(number),
        Size::Bare(number) => number.clone(),
        Size::RiseInRun { rise, run } => rise / run,
    };
    if wanted == Dimension::Temperature && exact.is_negative() {
        return Err(Fault::BelowAbsoluteZero {
            span: quantity.piece.span(),
            found: quantity.piece.quoted(),
        });
    }
    let si = representable(&exact, quantity.piece)?;
    Ok((exact, si))
}

/// The nearest double, where there is one that keeps its digits.
fn representable(exact: &Exact, piece: Piece<'_>) -> Result<f64, Fault> {
    let value = exact::to_f64(exact);
    if !value.is_finite() {
        return Err(Fault::NotFinite {
            span: piece.span(),
            found: piece.quoted(),
        });
    }
    if !exact.is_zero() && value.abs() < f64::MIN_POSITIVE {
        return Err(Fault::TooSmall {
            span: piece.span(),
            found: piece.quoted(),
        });
    }
    Ok(value)
}

/// What stands behind `between`, where the text begins with that word.
fn between(piece: Piece<'_>) -> Option<Piece<'_>> {
    const WORD: &str = "between";
    let start = piece.as_str().get(..WORD.len())?;
    let rest = piece.from(WORD.len());
    let ends_there = rest.as_str().chars().next().is_none_or(|c| !c.is_alphanumeric());
    (start.eq_ignore_ascii_case(WORD) && ends_there).then(|| rest.trim())
}

/// The parts before and behind the word `and`.
fn split_at_and(piece: Piece<'_>) -> Option<(Piece<'_>, Piece<'_>)> {
    let (low, _, high) = piece.split_where(|before, at| {
        let word = at.get(..3).is_some_and(|word| word.eq_ignore_ascii_case("and"));
        let apart = before.ends_with(is_blank) && at.get(3..).is_some_and(|rest| rest.starts_with(is_blank));
        (word && apart).then_some(3)
    })?;
    (!low.is_empty() && !high.is_empty()).then_some((low, high))
}

/// The parts before, at and behind `±` or one of its spellings.
fn tolerance_sign(piece: Piece<'_>) -> Option<(Piece<'_>, Piece<'_>, Piece<'_>)> {
    piece.split_where(|_, at| sign_at_start(at))
}

/// Length of a tolerance's sign at the start.
fn sign_at_start(text: &str) -> Option<usize> {
    ["±", "+/-", "+/−", "+-", "+−"]
        .into_iter()
        .find(|sign| text.starts_with(sign))
        .map(str::len)
}

/// Whether this is the rest of a slope: `:6`, `in 6`.
fn begins_run(piece: Piece<'_>) -> bool {
    let text = piece.as_str();
    let digit = |text: &str| {
        text.trim_start_matches(is_blank)
            .starts_with(|c: char| c.is_ascii_digit() || c == '.')
    };
    match (text.strip_prefix(':'), text.strip_prefix("in")) {
        (Some(run), _) => digit(run),
        (_, Some(run)) => run.starts_with(is_blank) && digit(run),
        _ => false,
    }
}

/// Whether this is the rest of a range in a spelling that is not taken: `- 6 mm`, `to 6 mm`, `..6 mm`, `+0.1/-0.2`.
fn begins_range(piece: Piece<'_>) -> bool {
    let text = piece.as_str();
    ["-", "‐", "‑", "–", "—", "−", "+", "to", "..", "…", "~"]
        .into_iter()
        .any(|mark| {
            text.strip_prefix(mark).is_some_and(|rest| {
                rest.trim_start_matches(|c| is_blank(c) || c == '.')
                    .starts_with(|c: char| c.is_ascii_digit())
            })
        })
}

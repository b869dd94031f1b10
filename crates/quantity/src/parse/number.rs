//! Numbers as they are written in a workshop: decimals with a point or a comma, inch fractions.

use crate::exact::{self, Exact};
use crate::piece::{Piece, is_blank};
use crate::{Dimension, Fault, FractionFlaw};

/// The digits that a number of a fraction may have.
const LONGEST_IN_FRACTION: usize = 9;

/// Powers of ten beyond this are as good as infinite, or zero.
const LARGEST_POWER: i32 = 10_000;

/// Numbers whose leading digit stands at a power of ten beyond this are not finite, or too small.
const LARGEST_MAGNITUDE: i32 = 400;

/// Reads the number at the start of a piece that has no blanks there; gives what is behind it, too.
pub(super) fn read(piece: Piece<'_>, wanted: Dimension) -> Result<(Exact, Piece<'_>), Fault> {
    let text = piece.as_str();
    let unsigned = text.trim_start_matches(['-', '+', '−', '–', '‐', '‑']);
    let sign = text.get(..text.len() - unsigned.len()).unwrap_or("");
    let body = piece.from(sign.len()).trim();
    let nothing = |part: Piece<'_>| Fault::NotANumber {
        span: part.span(),
        found: part.quoted(),
        wanted,
    };
    if sign.chars().count() > 1 {
        return Err(nothing(piece));
    }
    let negative = !sign.is_empty() && sign != "+";
    if let Some(word) = infinite_or_none(body) {
        let found = piece.up_to(word);
        return Err(Fault::NotFinite {
            span: found.span(),
            found: found.quoted(),
        });
    }
    let (mut number, rest) = match vulgar(body) {
        Some((fraction, rest)) => (fraction.number(None), rest),
        None => unsigned_number(body, wanted)?.ok_or_else(|| nothing(piece))?,
    };
    if negative {
        number = -number;
    }
    match exact::magnitude(&number) {
        Some(magnitude) if magnitude > LARGEST_MAGNITUDE => {
            let found = piece.up_to_start_of(rest);
            Err(Fault::NotFinite {
                span: found.span(),
                found: found.quoted(),
            })
        }
        Some(magnitude) if magnitude < -LARGEST_MAGNITUDE => {
            let found = piece.up_to_start_of(rest);
            Err(Fault::TooSmall {
                span: found.span(),
                found: found.quoted(),
            })
        }
        _ => Ok((number, rest)),
    }
}

/// `NaN`, `inf` and the like at the start.
fn infinite_or_none(piece: Piece<'_>) -> Option<Piece<'_>> {
    let text = piece.as_str();
    if text.starts_with('∞') {
        return Some(piece.first('∞'.len_utf8()));
    }
    let length = text.find(|c: char| !c.is_alphabetic()).unwrap_or(text.len());
    let word = piece.first(length);
    ["nan", "inf", "infinity"]
        .into_iter()
        .any(|name| word.as_str().eq_ignore_ascii_case(name))
        .then_some(word)
}

struct Fraction {
    numerator: u64,
    denominator: u64,
}

impl Fraction {
    fn number(&self, whole: Option<u64>) -> Exact {
        let numerator = whole
            .unwrap_or(0)
            .saturating_mul(self.denominator)
            .saturating_add(self.numerator);
        Exact::from(numerator) / Exact::from(self.denominator)
    }
}

/// One of the characters for a fraction, at the start.
fn vulgar(piece: Piece<'_>) -> Option<(Fraction, Piece<'_>)> {
    let c = piece.as_str().chars().next()?;
    let (numerator, denominator) = match c {
        '¼' => (1, 4),
        '½' => (1, 2),
        '¾' => (3, 4),
        '⅐' => (1, 7),
        '⅑' => (1, 9),
        '⅒' => (1, 10),
        '⅓' => (1, 3),
        '⅔' => (2, 3),
        '⅕' => (1, 5),
        '⅖' => (2, 5),
        '⅗' => (3, 5),
        '⅘' => (4, 5),
        '⅙' => (1, 6),
        '⅚' => (5, 6),
        '⅛' => (1, 8),
        '⅜' => (3, 8),
        '⅝' => (5, 8),
        '⅞' => (7, 8),
        _ => return None,
    };
    Some((
        Fraction {
            numerator,
            denominator,
        },
        piece.from(c.len_utf8()),
    ))
}

/// `None` where no number begins here.
fn unsigned_number(piece: Piece<'_>, wanted: Dimension) -> Result<Option<(Exact, Piece<'_>)>, Fault> {
    let token = piece.first(token_length(piece.as_str()));
    if token.is_empty() {
        return Ok(None);
    }
    let rest = piece.from(token.as_str().len());
    if let Some((denominator, behind)) = slash_and_digits(rest) {
        let whole = piece.up_to_start_of(behind);
        let fraction = fraction(token, denominator, whole)?;
        let flawed = behind.as_str().starts_with(['.', ',']) && behind.from(1).as_str().starts_with(is_digit);
        return if flawed {
            Err(fraction_fault(whole, FractionFlaw::NotWhole))
        } else {
            Ok(Some((fraction.number(None), behind)))
        };
    }
    if let Some((part, behind)) = fraction_behind(rest)? {
        let found = piece.up_to_start_of(behind);
        if !token.as_str().chars().all(is_digit) {
            return Err(fraction_fault(found, FractionFlaw::NotWhole));
        }
        let whole = digits(token, found)?;
        if part.numerator >= part.denominator {
            return Err(fraction_fault(found, FractionFlaw::NotBelowOne));
        }
        return Ok(Some((part.number(Some(whole)), behind)));
    }
    if let Some(fault) = second_number(piece, token, rest, wanted) {
        return Err(fault);
    }
    decimal(token, rest, wanted).map(Some)
}

fn is_digit(c: char) -> bool {
    c.is_ascii_digit()
}

/// Length of the digits and of the separators between them. A point may also stand last, a comma may not.
fn token_length(text: &str) -> usize {
    let mut end = 0;
    let mut seen_digit = false;
    for (at, c) in text.char_indices() {
        let behind = at + c.len_utf8();
        let digit_follows = text.get(behind..).is_some_and(|rest| rest.starts_with(is_digit));
        match c {
            '0'..='9' => seen_digit = true,
            '.' | ',' if digit_follows => {}
            '\'' | '’' | '_' if digit_follows && seen_digit => {}
            '.' if seen_digit && !text.get(behind..).is_some_and(|rest| rest.starts_with('.')) => {
                let only = !text
                    .get(..at)
                    .is_some_and(|before| before.contains(['.', ',', '\'', '’', '_']));
                return if only { behind } else { end };
            }
            _ => break,
        }
        end = behind;
    }
    if seen_digit { end } else { 0 }
}

/// `/ 16` at the start, blanks allowed: its digits and what is behind them.
fn slash_and_digits(piece: Piece<'_>) -> Option<(Piece<'_>, Piece<'_>)> {
    let at_slash = piece.trim_start();
    let slash = at_slash
        .as_str()
        .chars()
        .next()
        .filter(|c| matches!(c, '/' | '⁄' | '∕'))?;
    let behind = at_slash.from(slash.len_utf8()).trim_start();
    let length = behind
        .as_str()
        .find(|c| !is_digit(c))
        .unwrap_or(behind.as_str().len());
    (length > 0).then(|| (behind.first(length), behind.from(length)))
}

/// The fraction of a mixed number: ` 1/16`, `-1/16`, `⅛`, ` ⅛`, `-⅛`.
fn fraction_behind(piece: Piece<'_>) -> Result<Option<(Fraction, Piece<'_>)>, Fault> {
    let joined = piece.as_str().strip_prefix(['-', '‐', '‑', '–']).map(str::len);
    let start = match joined {
        Some(left) => piece.from(piece.as_str().len() - left),
        None => piece.trim_start(),
    };
    if let Some(found) = vulgar(start) {
        return Ok(Some(found));
    }
    if joined.is_none() && !piece.as_str().starts_with(is_blank) {
        return Ok(None);
    }
    let length = start
        .as_str()
        .find(|c| !is_digit(c))
        .unwrap_or(start.as_str().len());
    let numerator = start.first(length);
    let Some((denominator, behind)) = slash_and_digits(start.from(length)).filter(|_| length > 0) else {
        return Ok(None);
    };
    Ok(Some((
        fraction(numerator, denominator, start.up_to_start_of(behind))?,
        behind,
    )))
}

fn fraction(numerator: Piece<'_>, denominator: Piece<'_>, whole: Piece<'_>) -> Result<Fraction, Fault> {
    if !numerator.as_str().chars().all(is_digit) {
        return Err(fraction_fault(whole, FractionFlaw::NotWhole));
    }
    let fraction = Fraction {
        numerator: digits(numerator, whole)?,
        denominator: digits(denominator, whole)?,
    };
    if fraction.denominator == 0 {
        return Err(fraction_fault(whole, FractionFlaw::ZeroDenominator));
    }
    Ok(fraction)
}

fn digits(piece: Piece<'_>, whole: Piece<'_>) -> Result<u64, Fault> {
    let text = piece.as_str();
    let parsed = if text.len() > LONGEST_IN_FRACTION {
        None
    } else {
        text.parse().ok()
    };
    parsed.ok_or_else(|| fraction_fault(whole, FractionFlaw::TooLong))
}

fn fraction_fault(piece: Piece<'_>, flaw: FractionFlaw) -> Fault {
    Fault::Fraction {
        span: piece.span(),
        found: piece.quoted(),
        flaw,
    }
}

/// The fault of a second number behind the first: `1 000`, `15 20`. A unit may begin with a digit: `300 1/min`.
fn second_number(piece: Piece<'_>, token: Piece<'_>, rest: Piece<'_>, wanted: Dimension) -> Option<Fault> {
    let mut joined = token.as_str().to_owned();
    let mut end = rest;
    let mut groups = true;
    loop {
        let next = end.trim_start();
        let length = token_length(next.as_str());
        let behind = next.from(length);
        let begins_unit = behind.as_str().starts_with(['/', '⁄', '∕']);
        if length == 0 || next.span().start == end.span().start || begins_unit {
            break;
        }
        let group = next.first(length).as_str();
        let lead = group.find(|c| !is_digit(c)).unwrap_or(group.len());
        groups &= lead == 3;
        joined.push_str(group);
        end = behind;
    }
    if end.span().start == rest.span().start {
        return None;
    }
    let found = piece.up_to_start_of(end);
    let first_alone = token.as_str().len() <= 3 && token.as_str().chars().all(is_digit);
    let one_mark = joined.chars().filter(|c| !is_digit(*c)).count() <= 1;
    if groups && first_alone && one_mark {
        let joined = joined.replace(',', ".");
        return Some(Fault::GroupedDigits {
            span: found.span(),
            found: found.quoted(),
            joined,
        });
    }
    Some(Fault::NotANumber {
        span: found.span(),
        found: found.quoted(),
        wanted,
    })
}

/// A decimal number, perhaps with a power of ten behind it.
fn decimal<'a>(token: Piece<'a>, rest: Piece<'a>, wanted: Dimension) -> Result<(Exact, Piece<'a>), Fault> {
    let text = token.as_str();
    let marks: Vec<char> = text.chars().filter(|c| !is_digit(*c)).collect();
    let at_mark = text.find(|c| !is_digit(c)).unwrap_or(text.len());
    let behind_mark = text.get(at_mark + 1..).unwrap_or("");
    let (span, found) = (token.span(), token.quoted());
    match marks.as_slice() {
        [] | ['.'] => {}
        [','] if behind_mark.len() == 3 => {
            let whole = text.get(..at_mark).unwrap_or("");
            let mut readings = Vec::new();
            if (1..=3).contains(&whole.len()) && !whole.starts_with('0') {
                readings.push(token.replaced_by(&format!("{whole}{behind_mark}")));
            }
            let whole = if whole.is_empty() { "0" } else { whole };
            readings.push(token.replaced_by(&format!("{whole}.{behind_mark}")));
            return Err(Fault::AmbiguousComma {
                span,
                found,
                readings,
            });
        }
        [','] => {}
        _ => {
            return Err(match joined_groups(text) {
                Some(joined) => Fault::GroupedDigits { span, found, joined },
                None => Fault::NotANumber { span, found, wanted },
            });
        }
    }
    let decimals = i32::try_from(behind_mark.len()).unwrap_or(0);
    let (power, rest) = power_of_ten(rest);
    let digits: String = text.chars().filter(|c| is_digit(*c)).collect();
    Ok((exact::decimal(&digits, power - decimals), rest))
}

/// `1.000.000` and `1'234.5` in one piece, where the groups are of three.
fn joined_groups(text: &str) -> Option<String> {
    let mark = text.chars().find(|c| !is_digit(*c))?;
    let (whole, fraction) = match text.rfind(|c| !is_digit(c) && c != mark) {
        Some(at) => text.split_at(at),
        None => (text, ""),
    };
    let fraction_mark = fraction.chars().next();
    let mut groups = whole.split(mark);
    let lead = groups.next()?;
    let good = (1..=3).contains(&lead.len())
        && groups.all(|group| group.len() == 3 && group.chars().all(is_digit))
        && fraction_mark.is_none_or(|c| c == '.' || c == ',');
    let fraction = fraction_mark.map_or(String::new(), |c| fraction.replacen(c, ".", 1));
    good.then(|| format!("{}{fraction}", whole.replace(mark, "")))
}

/// `e3`, `E-3` at the start; 0 where there is none.
fn power_of_ten(piece: Piece<'_>) -> (i32, Piece<'_>) {
    let Some(behind) = piece.as_str().strip_prefix(['e', 'E']) else {
        return (0, piece);
    };
    let unsigned = behind.strip_prefix(['-', '+', '−']).unwrap_or(behind);
    let negative = behind.starts_with(['-', '−']);
    let length = unsigned.find(|c| !is_digit(c)).unwrap_or(unsigned.len());
    if length == 0 {
        return (0, piece);
    }
    let power = unsigned
        .get(..length)
        .and_then(|digits| digits.parse().ok())
        .unwrap_or(LARGEST_POWER);
    let power = power.min(LARGEST_POWER);
    let rest = piece.from(piece.as_str().len() - unsigned.len() + length);
    (if negative { -power } else { power }, rest)
}

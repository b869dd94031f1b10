//! From what a person typed to a unit, or to the words that help.

mod spelling;

use std::sync::LazyLock;

use crate::piece::Piece;
use crate::{Dimension, Fault, Unit, UnitFlaw, units_of};

use Dimension::{Duration, Force, Length, Mass, Pressure, Rotation, Temperature, Torque, Volume};

/// How many units are offered at most.
const OFFERED: usize = 4;

/// Spellings longer than this are not compared letter by letter.
const LONGEST_COMPARED: usize = 24;

/// The unit of a dimension from one of its spellings: a column head, an option.
///
/// # Errors
/// [`Fault::UnknownUnit`], [`Fault::UnitRefused`] or [`Fault::WrongDimension`]; [`Fault::MissingUnit`] for blanks
/// where the dimension needs a unit, [`Fault::TooLong`] beyond [`LONGEST`](crate::LONGEST) characters.
pub fn find_unit(text: &str, wanted: Dimension) -> Result<Unit, Fault> {
    let piece = Piece::new(text)?.trim();
    if piece.is_empty()
        && let [bare, ..] = units_of(wanted)
        && bare.symbol().is_empty()
    {
        return Ok(*bare);
    }
    if piece.is_empty() {
        return Err(Fault::MissingUnit {
            span: piece.span(),
            found: String::new(),
            wanted,
            offered: usual(wanted),
        });
    }
    look_up(piece, wanted, piece)
}

/// The unit that stands in `piece`; `quantity` is the number with it, for the message.
pub(crate) fn look_up(piece: Piece<'_>, wanted: Dimension, quantity: Piece<'_>) -> Result<Unit, Fault> {
    let plain = spelling::plain(piece.as_str());
    if let Some(unit) = known(&plain, wanted) {
        return Ok(unit);
    }
    if let Some((why, offered)) = refused(&plain, wanted) {
        let offered = offered.iter().map(|symbol| (*symbol).to_owned()).collect();
        return Err(Fault::UnitRefused {
            span: piece.span(),
            found: piece.quoted(),
            why,
            offered,
        });
    }
    let other_letters = in_other_letters(&plain, wanted);
    if !other_letters.is_empty() {
        let (span, found) = (piece.span(), piece.quoted());
        return Err(Fault::UnitRefused {
            span,
            found,
            why: UnitFlaw::Letters,
            offered: other_letters,
        });
    }
    let elsewhere = Dimension::ALL
        .into_iter()
        .find(|other| known(&plain, *other).is_some());
    let elsewhere = elsewhere.or_else(|| {
        Dimension::ALL
            .into_iter()
            .find(|other| !in_other_letters(&plain, *other).is_empty())
    });
    if let Some(is) = elsewhere {
        return Err(Fault::WrongDimension {
            span: quantity.span(),
            found: quantity.quoted(),
            is,
            wanted,
        });
    }
    let alike = spelt_like(&plain, wanted);
    Err(Fault::UnknownUnit {
        span: piece.span(),
        found: piece.quoted(),
        wanted,
        alike: !alike.is_empty(),
        offered: if alike.is_empty() { usual(wanted) } else { alike },
    })
}

/// One way to write a unit.
struct Spelling {
    plain: String,
    small: String,
    unit: Unit,
}

/// Every spelling of every unit, in the order of the table.
static SPELLINGS: LazyLock<Vec<Spelling>> = LazyLock::new(|| {
    let units = Dimension::ALL.into_iter().flat_map(units_of);
    units
        .flat_map(|unit| {
            let texts = [unit.symbol(), unit.shown()]
                .into_iter()
                .chain(unit.aliases().iter().copied());
            texts.map(|text| (*unit, spelling::plain(text)))
        })
        .map(|(unit, plain)| Spelling {
            small: plain.to_lowercase(),
            plain,
            unit,
        })
        .collect()
});

fn spellings(wanted: Dimension) -> impl Iterator<Item = &'static Spelling> {
    SPELLINGS
        .iter()
        .filter(move |spelling| spelling.unit.dimension() == wanted && !spelling.plain.is_empty())
}

/// The unit of a dimension that is spelt so.
fn known(plain: &str, wanted: Dimension) -> Option<Unit> {
    spellings(wanted)
        .find(|spelling| spelling.plain == plain)
        .map(|spelling| spelling.unit)
}

/// The unit of whichever dimension is spelt so: an option such as `bar,mm,N` names its units without saying of what.
/// `%` is taken for that of a ratio.
#[must_use]
pub fn unit_named(text: &str) -> Option<Unit> {
    let plain = spelling::plain(Piece::new(text).ok()?.as_str());
    Dimension::ALL
        .into_iter()
        .find_map(|dimension| known(&plain, dimension))
}

pub(crate) fn is_per_cent(text: &str) -> bool {
    known(&spelling::plain(text), Dimension::Slope).is_some()
}

/// The first units of a dimension, by their symbols.
pub(crate) fn usual(wanted: Dimension) -> Vec<String> {
    let symbols = units_of(wanted).iter().map(|unit| unit.symbol());
    symbols
        .filter(|symbol| !symbol.is_empty())
        .take(OFFERED)
        .map(str::to_owned)
        .collect()
}

/// The units of a dimension that differ in nothing but capital and small letters.
fn in_other_letters(plain: &str, wanted: Dimension) -> Vec<String> {
    let small = plain.to_lowercase();
    distinct(spellings(wanted).filter(|spelling| spelling.small == small))
}

/// The units of a dimension whose spelling is nearest, where any is near.
fn spelt_like(plain: &str, wanted: Dimension) -> Vec<String> {
    let small = plain.to_lowercase();
    let length = small.chars().count();
    if length > LONGEST_COMPARED {
        return Vec::new();
    }
    let farthest = if length <= 4 { 1 } else { 2 };
    let steps = |spelling: &Spelling| {
        let other = spelling.small.chars().count();
        if length.abs_diff(other) > farthest {
            return None;
        }
        let steps = strsim::osa_distance(&small, &spelling.small);
        (steps <= farthest && steps < length.min(other)).then_some(steps)
    };
    let near: Vec<(usize, &Spelling)> = spellings(wanted)
        .filter_map(|spelling| steps(spelling).map(|steps| (steps, spelling)))
        .collect();
    let fewest = near.iter().map(|(steps, _)| *steps).min();
    distinct(
        near.into_iter()
            .filter(|(steps, _)| Some(*steps) == fewest)
            .map(|(_, spelling)| spelling),
    )
}

fn distinct(spellings: impl Iterator<Item = &'static Spelling>) -> Vec<String> {
    let mut symbols: Vec<String> = Vec::new();
    for spelling in spellings {
        if symbols.len() < OFFERED && !symbols.iter().any(|symbol| symbol == spelling.unit.symbol()) {
            symbols.push(spelling.unit.symbol().to_owned());
        }
    }
    symbols
}

/// What people write for a unit of this dimension but is too easily misread to be taken, with what to write instead.
fn refused(plain: &str, wanted: Dimension) -> Option<(UnitFlaw, &'static [&'static str])> {
    if plain == "mPa" && wanted == Pressure {
        return Some((UnitFlaw::Millipascal, &["MPa", "kPa"]));
    }
    let small = plain.to_lowercase();
    let (why, offered): (UnitFlaw, &[&str]) = match (wanted, small.as_str()) {
        (Force, "lb" | "lbs" | "pound" | "pounds") => (UnitFlaw::MassForForce, &["lbf"]),
        (Pressure, "kg/cm2" | "kgs/cm2" | "kg") => (UnitFlaw::MassForForce, &["kgf/cm2"]),
        (Pressure, "lb/in2" | "lbs/in2" | "lb/sq·in" | "lb" | "lbs") => (UnitFlaw::MassForForce, &["psi"]),
        (Pressure, text) if names_absolute(text) => (UnitFlaw::AbsolutePressure, &["bar", "psi"]),
        (Torque, "kg·m" | "kgm" | "m·kg" | "mkg") => (UnitFlaw::MassForForce, &["kgf m"]),
        (Torque, "kg·cm" | "kgcm" | "cm·kg") => (UnitFlaw::MassForForce, &["kgf cm"]),
        (Mass, "kgf" | "kp") => (UnitFlaw::ForceForMass, &["kg"]),
        (Mass, "lbf") => (UnitFlaw::ForceForMass, &["lb"]),
        (Mass, "ton" | "tons") => (UnitFlaw::UsOrImperial, &["kg", "t"]),
        (Volume, "gal" | "gallon" | "gallons" | "gals") => (UnitFlaw::UsOrImperial, &["gal us", "gal imp"]),
        (Volume, "qt" | "quart" | "quarts") => (UnitFlaw::UsOrImperial, &["qt us", "qt imp"]),
        (Volume, "pt" | "pint" | "pints") => (UnitFlaw::UsOrImperial, &["pt us", "pt imp"]),
        (Volume, "fl·oz" | "floz") => (UnitFlaw::UsOrImperial, &["fl oz us", "fl oz imp"]),
        (Volume, "oz") => (UnitFlaw::MassForVolume, &["fl oz us", "fl oz imp"]),
        (Temperature, "°" | "deg" | "degs" | "degree" | "degrees") => (UnitFlaw::NoScale, &["C", "F"]),
        (Length, "mil" | "mils") => (UnitFlaw::Mil, &["thou", "mm"]),
        (Length, prime) if prime.starts_with('\'') => (UnitFlaw::Prime, &["ft"]),
        (Duration, "'" | "\"") => (UnitFlaw::Prime, &["min", "s"]),
        (Duration, "m") => (UnitFlaw::MetreForMinute, &["min"]),
        (Rotation, "hz" | "1/s" | "rps" | "rev/s" | "s·1") => (UnitFlaw::TurnsOrRadians, &["rpm", "rad/s"]),
        _ => return None,
    };
    Some((why, offered))
}

/// `psia`, `bar abs`, `kPa (a)`, in small letters.
fn names_absolute(small: &str) -> bool {
    ["psia", "bara"].contains(&small)
        || ["·a", "(a)", "·abs", "(abs)", "·absolute"]
            .into_iter()
            .any(|ending| small.ends_with(ending))
}

#[cfg(test)]
mod tests {
    use super::{SPELLINGS, refused};

    #[test]
    fn no_spelling_stands_for_two_units_of_a_dimension() {
        for (at, one) in SPELLINGS.iter().enumerate() {
            for other in &SPELLINGS[at + 1..] {
                let same = one.plain == other.plain && one.unit.dimension() == other.unit.dimension();
                assert!(!same || one.unit == other.unit, "{}", one.plain);
            }
        }
    }

    #[test]
    fn nothing_is_both_known_and_refused() {
        for spelling in SPELLINGS.iter() {
            assert_eq!(
                refused(&spelling.plain, spelling.unit.dimension()),
                None,
                "{}",
                spelling.plain
            );
        }
    }
}

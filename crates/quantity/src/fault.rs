//! What can be wrong with a written quantity, in words that help.

use core::ops::Range;

use crate::Dimension;

/// Why a text is not the quantity that is wanted.
///
/// `to_string()` says what is wrong, [`help`](Self::help) what to write instead, [`span`](Self::span) where it is and
/// [`slug`](Self::slug) which fault it is, in a word that never changes. `found` is the text at fault as it is quoted:
/// cut when long, with control characters shown as escapes. `span` counts bytes of the text that was read and lies on
/// character boundaries.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum Fault {
    /// Nothing but blanks.
    #[error("there is nothing here")]
    Empty {
        /// The whole text.
        span: Range<usize>,
        /// What is wanted.
        wanted: Dimension,
    },
    /// More than [`LONGEST`](crate::LONGEST) characters.
    #[error(
        "`{found}` is too long for a quantity: {} characters are the most",
        crate::LONGEST
    )]
    TooLong {
        /// The part beyond the limit.
        span: Range<usize>,
        /// The beginning of the text.
        found: String,
    },
    /// `guess`, where only a written figure will do.
    #[error("`{found}` is allowed only where there is a default")]
    Guess {
        /// The word.
        span: Range<usize>,
        /// The word.
        found: String,
        /// What is wanted.
        wanted: Dimension,
    },
    /// No number can be made out where one has to stand.
    #[error("`{found}` cannot be read as a number")]
    NotANumber {
        /// The text in the number's place.
        span: Range<usize>,
        /// The text in the number's place.
        found: String,
        /// What is wanted.
        wanted: Dimension,
    },
    /// Infinite or not a number, as written or once converted to SI.
    #[error("`{found}` is not a finite number, or too large for one")]
    NotFinite {
        /// The number.
        span: Range<usize>,
        /// The number.
        found: String,
    },
    /// Not zero, but so small that its SI value would lose digits or vanish.
    #[error("`{found}` is too small to be told from zero")]
    TooSmall {
        /// The number.
        span: Range<usize>,
        /// The number.
        found: String,
    },
    /// A temperature below −273.15 °C.
    #[error("`{found}` is below absolute zero")]
    BelowAbsoluteZero {
        /// The temperature.
        span: Range<usize>,
        /// The temperature.
        found: String,
    },
    /// A comma with exactly three digits behind it: a decimal comma, or thousands?
    #[error("the comma in `{found}` may part thousands or be a decimal comma")]
    AmbiguousComma {
        /// The number.
        span: Range<usize>,
        /// The number.
        found: String,
        /// The text in each of the ways it may be meant: thousands first, where that is possible, then decimal.
        readings: Vec<String>,
    },
    /// Digits in groups of three: `1 000`, `1'000`, `1.000.000`.
    #[error("the digits of `{found}` are parted into groups")]
    GroupedDigits {
        /// The number.
        span: Range<usize>,
        /// The number.
        found: String,
        /// The number in one piece.
        joined: String,
    },
    /// A fraction that is none.
    #[error("`{found}`: {flaw}")]
    Fraction {
        /// The number.
        span: Range<usize>,
        /// The number.
        found: String,
        /// What is wrong with it.
        flaw: FractionFlaw,
    },
    /// `60:40` where a bare number is wanted.
    #[error("`{found}` is a pair of numbers, and here a single one is wanted")]
    NumberPair {
        /// The pair.
        span: Range<usize>,
        /// The pair.
        found: String,
        /// The single numbers that it may stand for: the one over the other, then the first's share of both. Only
        /// the first where the second of the pair is 1, none where it is 0.
        readings: Vec<String>,
    },
    /// A number without a unit.
    #[error("{}, and {} needs one", no_unit(.found), wanted.with_article())]
    MissingUnit {
        /// The number.
        span: Range<usize>,
        /// The number; empty where a unit is wanted by itself.
        found: String,
        /// What is wanted.
        wanted: Dimension,
        /// The usual units, most usual first.
        offered: Vec<String>,
    },
    /// A unit that nobody here knows.
    #[error("`{found}` is not a unit that is known here")]
    UnknownUnit {
        /// The unit.
        span: Range<usize>,
        /// The unit.
        found: String,
        /// What is wanted.
        wanted: Dimension,
        /// The units spelt most like it; where there are none, the usual ones.
        offered: Vec<String>,
        /// Whether `offered` are spelt like it.
        alike: bool,
    },
    /// A good unit, of something else.
    #[error("`{found}` is {}, and here {} is wanted", .is.with_article(), wanted.with_article())]
    WrongDimension {
        /// The quantity.
        span: Range<usize>,
        /// The quantity.
        found: String,
        /// What it is.
        is: Dimension,
        /// What is wanted.
        wanted: Dimension,
    },
    /// A unit that people write, but that is not taken because it is often misread.
    #[error("`{found}` is not taken here: {why}")]
    UnitRefused {
        /// The unit.
        span: Range<usize>,
        /// The unit.
        found: String,
        /// Why not.
        why: UnitFlaw,
        /// What to write in its place.
        offered: Vec<String>,
    },
    /// `5 to 6 mm`, `5-6 mm`.
    #[error("`{found}` looks like a range, which is written otherwise")]
    RangeSpelling {
        /// From the first end to the end of the text.
        span: Range<usize>,
        /// The same.
        found: String,
        /// What is wanted.
        wanted: Dimension,
    },
    /// Nothing stands behind `±`.
    #[error("the tolerance behind `{found}` is missing")]
    ToleranceMissing {
        /// The sign.
        span: Range<usize>,
        /// The sign.
        found: String,
    },
    /// A tolerance below zero.
    #[error("the tolerance `{found}` is below zero")]
    ToleranceNegative {
        /// The tolerance.
        span: Range<usize>,
        /// The tolerance.
        found: String,
    },
    /// A tolerance whose unit, or want of one, makes no sense beside its value.
    #[error("the tolerance `{found}` is not taken: {flaw}")]
    ToleranceUnit {
        /// The tolerance.
        span: Range<usize>,
        /// The tolerance.
        found: String,
        /// What is wrong with it.
        flaw: ToleranceFlaw,
    },
    /// `between` without two ends.
    #[error("`{found}` does not name two ends")]
    BetweenEnds {
        /// From `between` on.
        span: Range<usize>,
        /// The same.
        found: String,
        /// What is wanted.
        wanted: Dimension,
    },
    /// The ends of a range are the wrong way round, or the same.
    #[error("{}", if *.same { format!("both ends of `{found}` are the same") } else { format!("the ends of `{found}` are the wrong way round") })]
    BetweenOrder {
        /// From the first end to the second.
        span: Range<usize>,
        /// The same.
        found: String,
        /// The two ends as written, the lower first.
        ordered: [String; 2],
        /// Whether the ends are equal.
        same: bool,
    },
    /// Something stands behind a quantity that is complete.
    #[error("`{found}` is left over behind the quantity")]
    TrailingText {
        /// What is left over.
        span: Range<usize>,
        /// The same.
        found: String,
    },
}

/// What is wrong with a fraction.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
#[non_exhaustive]
pub enum FractionFlaw {
    /// `5/0 in`.
    #[error("nothing can be divided by zero")]
    ZeroDenominator,
    /// `1-17/16 in`.
    #[error("the fraction behind the whole number is one or more")]
    NotBelowOne,
    /// `1.5/8 in`.
    #[error("a fraction is made of whole numbers")]
    NotWhole,
    /// More than nine digits in one of its numbers.
    #[error("the numbers of the fraction are too long")]
    TooLong,
}

/// Why a unit that people do write is not taken.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
#[non_exhaustive]
pub enum UnitFlaw {
    /// `BAR`, `Mm`, `NM`.
    #[error("capital and small letters tell units apart")]
    Letters,
    /// `mPa`.
    #[error("a small `m` makes it a thousandth of a pascal")]
    Millipascal,
    /// `lb` for a force, `kg/cm2` for a pressure, `kg m` for a torque.
    #[error("it names a mass where a force is meant")]
    MassForForce,
    /// `kgf` or `lbf` for a mass.
    #[error("it names a force where a mass is meant")]
    ForceForMass,
    /// `gal`, `pt`, `fl oz`, `ton`.
    #[error("the one of the United States and the imperial one differ")]
    UsOrImperial,
    /// `oz` for a volume.
    #[error("it names a mass where a volume is meant")]
    MassForVolume,
    /// `psia`, `bara`.
    #[error("it counts from a vacuum, and pressures here are what a gauge shows")]
    AbsolutePressure,
    /// `deg` for a temperature.
    #[error("it does not say which scale")]
    NoScale,
    /// `mil`.
    #[error("a thousandth of an inch to some, a millimetre to others")]
    Mil,
    /// `'`, which is feet, minutes of time or minutes of arc.
    #[error("the sign stands for several units")]
    Prime,
    /// `m` for minutes.
    #[error("it names a length where a time is meant")]
    MetreForMinute,
    /// `Hz`, `1/s`, `rps`.
    #[error("it leaves open whether turns or radians are counted")]
    TurnsOrRadians,
}

/// What is wrong with a tolerance.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
#[non_exhaustive]
pub enum ToleranceFlaw {
    /// `20 C ± 5 %`.
    #[error("per cent of a temperature means nothing, the zero of its scale being arbitrary")]
    PerCentOfTemperature,
    /// `0 mm ± 5 %`.
    #[error("per cent of nothing is nothing")]
    PerCentOfZero,
    /// `1 in 6 ± 2 %`, `1:6 ± 1`.
    #[error("beside a slope written as a rise in a run it may mean several things")]
    BesideRiseInRun,
}

impl Fault {
    /// Where it is, in bytes of the text that was read.
    #[must_use]
    pub fn span(&self) -> Range<usize> {
        match self {
            Self::Empty { span, .. }
            | Self::TooLong { span, .. }
            | Self::Guess { span, .. }
            | Self::NotANumber { span, .. }
            | Self::NotFinite { span, .. }
            | Self::TooSmall { span, .. }
            | Self::BelowAbsoluteZero { span, .. }
            | Self::AmbiguousComma { span, .. }
            | Self::GroupedDigits { span, .. }
            | Self::Fraction { span, .. }
            | Self::NumberPair { span, .. }
            | Self::MissingUnit { span, .. }
            | Self::UnknownUnit { span, .. }
            | Self::WrongDimension { span, .. }
            | Self::UnitRefused { span, .. }
            | Self::RangeSpelling { span, .. }
            | Self::ToleranceMissing { span, .. }
            | Self::ToleranceNegative { span, .. }
            | Self::ToleranceUnit { span, .. }
            | Self::BetweenEnds { span, .. }
            | Self::BetweenOrder { span, .. }
            | Self::TrailingText { span, .. } => span.clone(),
        }
    }

    /// Which fault it is, in a word for machines. It never changes once published.
    #[must_use]
    pub const fn slug(&self) -> &'static str {
        match self {
            Self::Empty { .. } => "quantity-empty",
            Self::TooLong { .. } => "quantity-too-long",
            Self::Guess { .. } => "quantity-guess-not-taken",
            Self::NotANumber { .. } => "quantity-not-a-number",
            Self::NotFinite { .. } => "quantity-not-finite",
            Self::TooSmall { .. } => "quantity-too-small",
            Self::BelowAbsoluteZero { .. } => "quantity-below-absolute-zero",
            Self::AmbiguousComma { .. } => "quantity-ambiguous-comma",
            Self::GroupedDigits { .. } => "quantity-grouped-digits",
            Self::Fraction { .. } => "quantity-fraction",
            Self::NumberPair { .. } => "quantity-number-pair",
            Self::MissingUnit { .. } => "quantity-missing-unit",
            Self::UnknownUnit { .. } => "quantity-unknown-unit",
            Self::WrongDimension { .. } => "quantity-wrong-dimension",
            Self::UnitRefused { .. } => "quantity-unit-refused",
            Self::RangeSpelling { .. } => "quantity-range-spelling",
            Self::ToleranceMissing { .. } => "quantity-tolerance-missing",
            Self::ToleranceNegative { .. } => "quantity-tolerance-negative",
            Self::ToleranceUnit { .. } => "quantity-tolerance-unit",
            Self::BetweenEnds { .. } => "quantity-between-ends",
            Self::BetweenOrder { .. } => "quantity-between-order",
            Self::TrailingText { .. } => "quantity-trailing-text",
        }
    }

    /// What to write instead: a phrase that begins with a small letter and has no full stop.
    #[must_use]
    pub fn help(&self) -> String {
        match self {
            Self::Empty { wanted, .. } | Self::NotANumber { wanted, .. } | Self::Guess { wanted, .. } => {
                format!("write {}, such as `{}`", wanted.with_article(), wanted.example())
            }
            Self::TooLong { .. } => "keep only the number, its unit and its tolerance".to_owned(),
            Self::NotFinite { .. } => "write an ordinary number".to_owned(),
            Self::TooSmall { .. } => "write 0, or look whether the exponent is right".to_owned(),
            Self::BelowAbsoluteZero { .. } => {
                "nothing is colder than -273.15 C: look at the sign and the scale".to_owned()
            }
            Self::NumberPair { readings, .. } if readings.is_empty() => "write a single number".to_owned(),
            Self::AmbiguousComma { readings, .. } | Self::NumberPair { readings, .. } => {
                write_one_of(readings)
            }
            Self::GroupedDigits { joined, .. } => format!("write `{joined}`, in one piece"),
            Self::Fraction { flaw, .. } => match flaw {
                FractionFlaw::ZeroDenominator => {
                    "below the stroke of a fraction, and as the run of a slope, write a number above zero"
                        .to_owned()
                }
                FractionFlaw::NotBelowOne => {
                    "write a whole number and a fraction below one, such as `1-1/16`".to_owned()
                }
                FractionFlaw::NotWhole => {
                    "write it as a decimal, or with whole numbers, such as `3/16`".to_owned()
                }
                FractionFlaw::TooLong => "write it as a decimal, such as `0.625`".to_owned(),
            },
            Self::MissingUnit { found, offered, .. } => {
                let whole = |unit: &String| format!("{found} {unit}").trim_start().to_owned();
                write_one_of(&offered.iter().map(whole).collect::<Vec<_>>())
            }
            Self::UnknownUnit {
                offered, alike: true, ..
            } => format!("did you mean {}?", either(offered)),
            Self::UnknownUnit {
                wanted: Dimension::Ratio,
                ..
            } => "write the number alone".to_owned(),
            Self::UnknownUnit { wanted, offered, .. } => {
                format!("{} is written in {}", wanted.with_article(), either(offered))
            }
            Self::WrongDimension { wanted, .. } => {
                format!("write {}, such as `{}`", wanted.with_article(), wanted.example())
            }
            Self::UnitRefused {
                why: UnitFlaw::AbsolutePressure,
                offered,
                ..
            } => {
                format!("write what a gauge shows, in {}", either(offered))
            }
            Self::UnitRefused { offered, .. } => write_one_of(offered),
            Self::RangeSpelling { wanted, .. } | Self::BetweenEnds { wanted, .. } => {
                let unit = crate::units_of(*wanted).first().map_or("", |unit| unit.symbol());
                let gap = if unit.is_empty() { "" } else { " " };
                let (low, high) = if *wanted == Dimension::Ratio {
                    ("0.38", "0.46")
                } else {
                    ("5", "6")
                };
                format!("write it as `between {low}{gap}{unit} and {high}{gap}{unit}`")
            }
            Self::ToleranceMissing { found, .. } => {
                format!("write how far the value may be off behind `{found}`, or leave the sign out")
            }
            Self::ToleranceNegative { .. } => {
                "write it without its minus: it counts to both sides".to_owned()
            }
            Self::ToleranceUnit { flaw, .. } => match flaw {
                ToleranceFlaw::PerCentOfTemperature => "write it in degrees, such as `20 C ± 5 C`".to_owned(),
                ToleranceFlaw::PerCentOfZero => "write it in the unit of the value".to_owned(),
                ToleranceFlaw::BesideRiseInRun => {
                    "write both in per cent, such as `16.7 % ± 0.5 %`, or `between 1 in 7 and 1 in 6`"
                        .to_owned()
                }
            },
            Self::BetweenOrder { same: true, .. } => {
                "write two ends that differ, or the one value by itself".to_owned()
            }
            Self::BetweenOrder {
                ordered: [low, high], ..
            } => format!("write `between {low} and {high}`"),
            Self::TrailingText { .. } => "take it out, or put it into a note".to_owned(),
        }
    }
}

fn no_unit(found: &str) -> String {
    if found.is_empty() {
        "the unit is missing".to_owned()
    } else {
        format!("`{found}` has no unit")
    }
}

fn write_one_of(choices: &[String]) -> String {
    format!("write {}", either(choices))
}

/// `` `a`, `b` or `c` ``.
fn either(choices: &[String]) -> String {
    let quoted: Vec<String> = choices.iter().map(|choice| format!("`{choice}`")).collect();
    match quoted.split_last() {
        None => String::new(),
        Some((last, [])) => last.clone(),
        Some((last, others)) => format!("{} or {last}", others.join(", ")),
    }
}

//! Kinds of figure for which nobody chooses a unit. Each has one rounding, and it is the same in every sentence, table and
//! picture.

use engine::ranges::Range;
use quantity::si::{Acceleration, Angle, Duration, Length, Speed, Temperature, TemperatureDifference};
use quantity::{Digits, Dimension, find_unit, units_of};

use crate::measured::{Between, Measured, Shown};

/// Below this a time in minutes has a tenth: what is 10 min when rounded.
const TENTHS_BELOW_S: f64 = 597.0;

/// So many places behind the point, with a minus sign that is one, and never a minus before nothing.
pub(crate) fn places(value: f64, places: usize) -> String {
    let text = format!("{value:.places$}");
    let nothing = text.trim_matches(['-', '0', '.']).is_empty();
    if nothing {
        text.trim_start_matches('-').to_owned()
    } else {
        text.replace('-', "−")
    }
}

/// A figure with both ends of its range; `low`: how the lower end is said before the upper one.
fn between(
    si: f64,
    range: Option<Range>,
    shown: impl Fn(f64) -> Shown,
    low: impl Fn(f64) -> String,
) -> Measured {
    let range = range.map(|range| {
        let high = shown(range.high);
        Between {
            low: shown(range.low),
            text: format!("{} to {}", low(range.low), high.text),
            high,
        }
    });
    Measured {
        value: shown(si),
        range,
    }
}

/// `233 °C`.
#[must_use]
pub fn celsius(temperature: Temperature) -> String {
    format!("{}\u{a0}°C", places(temperature.celsius(), 0))
}

/// A difference without its sign: `36 °C`.
#[must_use]
pub fn apart(difference: TemperatureDifference) -> String {
    format!("{}\u{a0}°C", places(difference.dk().abs(), 0))
}

/// `3.4 min`; from ten on whole: `25 min`.
#[must_use]
pub fn minutes(time: Duration) -> String {
    minutes_of(time.s(), None).value.text
}

/// The same of seconds, with a range.
#[must_use]
pub fn minutes_of(s: f64, range: Option<Range>) -> Measured {
    let unit = find_unit("min", Dimension::Duration).unwrap_or(units_of(Dimension::Duration)[0]);
    let digits = Digits::Places(i8::from(s.abs() < TENTHS_BELOW_S));
    Measured::rounded(s, range, unit, digits)
}

/// `0.43 s`.
#[must_use]
pub fn seconds(time: Duration) -> String {
    format!("{}\u{a0}s", places(time.s(), 2))
}

/// The same with a range: `0.23 to 0.81 s`.
#[must_use]
pub fn seconds_of(time: Duration, range: Option<Range>) -> Measured {
    let shown = |s: f64| Shown {
        text: seconds(Duration::from_s(s)),
        number: s,
    };
    between(time.s(), range, shown, |s| places(s, 2))
}

/// A wait: `90 s`.
#[must_use]
pub fn whole_seconds(time: Duration) -> String {
    format!("{}\u{a0}s", places(time.s(), 0))
}

/// A sum in a person's currency.
#[must_use]
pub fn money(sum: f64, currency: &str) -> String {
    format!("{}\u{a0}{currency}", places(sum, 2))
        .trim_end()
        .to_owned()
}

/// `50 km/h`.
#[must_use]
pub fn speed(speed: Speed) -> String {
    format!("{}\u{a0}km/h", kilometres_an_hour(speed))
}

/// The same, of which no range is known.
#[must_use]
pub fn speed_of(of: Speed) -> Measured {
    let value = Shown {
        text: speed(of),
        number: of.m_s() * 3.6,
    };
    Measured { value, range: None }
}

/// The same without its unit.
#[must_use]
pub fn kilometres_an_hour(speed: Speed) -> String {
    places(speed.m_s() * 3.6, 0)
}

/// `76°`.
#[must_use]
pub fn degrees(angle: Angle) -> String {
    format!("{}°", whole_degrees(angle))
}

/// The same with a range: `76°`, `68 to 85°`.
#[must_use]
pub fn degrees_of(angle: Angle, range: Option<Range>) -> Measured {
    let shown = |rad: f64| Shown {
        text: degrees(Angle::from_rad(rad)),
        number: rad.to_degrees(),
    };
    let low = |rad: f64| whole_degrees(Angle::from_rad(rad));
    between(angle.rad(), range, shown, low)
}

/// The same without its sign.
#[must_use]
pub fn whole_degrees(angle: Angle) -> String {
    places(angle.rad().to_degrees(), 0)
}

/// A way or a run of pipe: `7.1 m`.
#[must_use]
pub fn metres(length: Length) -> String {
    format!("{}\u{a0}m", places(length.m(), 1))
}

/// A stage: `6.3 km`.
#[must_use]
pub fn kilometres(length: Length) -> String {
    format!("{}\u{a0}km", places(length.m() / 1000.0, 1))
}

/// `6.43 m/s²`.
#[must_use]
pub fn deceleration(rate: Acceleration) -> String {
    format!("{}\u{a0}m/s²", places(rate.m_s2(), 2))
}

/// A count or a ratio that is said in whole numbers.
#[must_use]
pub fn whole(value: f64) -> String {
    places(value, 0)
}

/// A count of turns of a knob or a bar: nobody turns finer than a tenth.
#[must_use]
pub fn turns(turns: f64) -> String {
    places(turns, 1)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn plain(text: &str) -> String {
        text.replace('\u{a0}', " ")
    }

    #[test]
    fn each_kind_has_one_rounding() {
        assert_eq!(plain(&celsius(Temperature::from_celsius(232.6))), "233 °C");
        assert_eq!(plain(&apart(TemperatureDifference::from_dk(-35.7))), "36 °C");
        assert_eq!(plain(&minutes(Duration::from_s(205.0))), "3.4 min");
        assert_eq!(plain(&minutes(Duration::from_s(596.9))), "9.9 min");
        assert_eq!(plain(&minutes(Duration::from_s(597.1))), "10 min");
        assert_eq!(plain(&seconds(Duration::from_s(0.428))), "0.43 s");
        assert_eq!(plain(&speed(Speed::from_m_s(50.0 / 3.6))), "50 km/h");
        assert_eq!(degrees(Angle::from_rad(-0.004)), "0°");
        assert_eq!(degrees(Angle::from_rad(-0.5)), "−29°");
        assert_eq!(plain(&metres(Length::from_m(7.06))), "7.1 m");
        assert_eq!(plain(&deceleration(Acceleration::from_m_s2(6.434))), "6.43 m/s²");
    }
}

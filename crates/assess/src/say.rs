//! Figures in words: rounded, in the person's units.

use engine::GRAVITY_M_S2;
use engine::ranges::Range;
use quantity::si::{Duration, Force, Length, Pressure, Torque, Volume};
use quantity::{Digits, Dimension, Unit, digits_for_range, find_unit, show, units_of};
use wording::Units;

/// Puts figures into words.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Say {
    units: Units,
}

/// Three digits for large figures, two for small ones, no more behind the point than anyone reads.
fn plain(si: f64, unit: Unit) -> String {
    let digits = match unit.from_si(si).abs() {
        value if value >= 999.5 => Digits::Significant(3),
        value if value >= 9.5 => Digits::Places(0),
        _ => Digits::Significant(2),
    };
    show(si, unit, digits)
}

impl Say {
    pub(crate) const fn new(units: Units) -> Self {
        Self { units }
    }

    /// The person's units.
    pub(crate) const fn units(&self) -> &Units {
        &self.units
    }

    pub(crate) fn pressure(self, pressure: Pressure) -> String {
        plain(pressure.pa(), self.units.pressure)
    }

    pub(crate) fn length(self, length: Length) -> String {
        plain(length.m(), self.units.length)
    }

    pub(crate) fn force(self, force: Force) -> String {
        plain(force.n(), self.units.force)
    }

    pub(crate) fn torque(self, torque: Torque) -> String {
        plain(torque.nm(), self.units.torque)
    }

    /// Fuel in the tank: `28 L of fuel`, `a dry tank`.
    pub(crate) fn fuel(self, volume: Volume) -> String {
        if volume <= Volume::ZERO {
            return "a dry tank".to_owned();
        }
        format!("{} of fuel", plain(volume.m3(), units_of(Dimension::Volume)[0]))
    }

    pub(crate) fn time(self, time: Duration) -> String {
        let seconds = units_of(Dimension::Duration)[0];
        show(time.s(), seconds, Digits::Significant(2))
    }

    /// A hand's force, with kilograms beside it: what a luggage scale shows.
    pub(crate) fn hand(self, force: Force) -> String {
        self.hand_rounded(force, None)
    }

    /// The same, rounded to what its range supports.
    pub(crate) fn hand_in(self, force: Force, range: Option<Range>) -> String {
        self.hand_rounded(
            force,
            range.map(|range| digits_for_range(range.low, range.high, self.units.force)),
        )
    }

    fn hand_rounded(self, force: Force, digits: Option<Digits>) -> String {
        let said = digits.map_or_else(
            || self.force(force),
            |digits| show(force.n(), self.units.force, digits),
        );
        if self.units.force.symbol() == "kgf" {
            return said;
        }
        match find_unit("kg", Dimension::Mass) {
            Ok(kilogram) => format!("{said} ({})", plain(force.n() / GRAVITY_M_S2, kilogram)),
            Err(_) => said,
        }
    }

    pub(crate) fn length_in(self, length: Length, range: Option<Range>) -> String {
        range.map_or_else(
            || self.length(length),
            |range| {
                show(
                    length.m(),
                    self.units.length,
                    digits_for_range(range.low, range.high, self.units.length),
                )
            },
        )
    }
}

/// A share in per cent, without its sign.
pub(crate) fn percent(share: f64) -> String {
    format!("{:.0}\u{A0}%", (share * 100.0).abs())
}

/// How many times something: two digits behind the point below 2, one above.
pub(crate) fn times(ratio: f64) -> String {
    if ratio < 1.995 {
        format!("{ratio:.2}")
    } else {
        format!("{ratio:.1}")
    }
}

/// A grip.
pub(crate) fn grip(grip: f64) -> String {
    format!("{grip:.2}")
}

/// `a`, `a and b`, `a, b and c`.
pub(crate) fn list(parts: &[String]) -> String {
    match parts {
        [] => String::new(),
        [one] => one.clone(),
        [first @ .., last] => format!("{} and {last}", first.join(", ")),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn figures_are_rounded_for_the_eye() {
        let say = Say::new(Units::default());
        let plain = |text: String| text.replace('\u{A0}', " ");
        assert_eq!(plain(say.hand(Force::from_n(168.07))), "168 N (17 kg)");
        assert_eq!(plain(say.hand(Force::from_n(39.0))), "39 N (4.0 kg)");
        assert_eq!(plain(say.torque(Torque::from_nm(1413.0))), "1410 N·m");
        assert_eq!(plain(say.pressure(Pressure::from_pa(9.39e5))), "9.4 bar");
        assert_eq!(plain(say.length(Length::from_m(0.10243))), "102 mm");
        let wide = Some(Range {
            low: 239.0,
            high: 430.0,
        });
        assert_eq!(plain(say.hand_in(Force::from_n(323.5), wide)), "320 N (33 kg)");
        assert_eq!(list(&["a".into(), "b".into(), "c".into()]), "a, b and c");
        assert_eq!((times(0.774), times(2.46)), ("0.77".into(), "2.5".into()));
    }

    #[test]
    fn other_units_are_kept_to() {
        let unit = |symbol, dimension| find_unit(symbol, dimension).unwrap();
        let say = Say::new(Units {
            pressure: unit("psi", Dimension::Pressure),
            length: unit("in", Dimension::Length),
            force: unit("kgf", Dimension::Force),
            torque: unit("lbf ft", Dimension::Torque),
            ..Units::default()
        });
        assert_eq!(say.hand(Force::from_n(168.07)).replace('\u{A0}', " "), "17 kgf");
        assert_eq!(say.length(Length::from_m(0.102)).replace('\u{A0}', " "), "4.0 in");
    }
}

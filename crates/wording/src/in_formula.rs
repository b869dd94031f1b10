//! A quantity inside a formula: its number in the unit that a person reads, and how that unit is written.

use engine::working::{FROM_ABSOLUTE_ZERO, TEMPERATURE, TEMPERATURE_DIFFERENCE};
use quantity::Unit;
use quantity::si::Temperature;

use crate::Units;

const CELSIUS: &str = "°C";

/// A quantity as it stands in a formula. Number and unit belong together: an equation between such quantities holds,
/// whatever the units.
#[derive(Clone, Debug, PartialEq)]
pub struct InFormula {
    /// The number, in `unit`.
    pub number: f64,
    /// The unit as it is written; empty for a bare number.
    pub unit: String,
}

impl Units {
    /// A value in an SI unit (`Pa`, `m`, `m²`, `m³`, `N`, `N m`, `kg`, `N m/Pa`, `m³/Pa`) in the person's units; a temperature
    /// and a difference of two in °C. Any other unit stays what it is.
    #[must_use]
    pub fn in_formula(&self, value: f64, si: &str) -> InFormula {
        let one = |unit: Unit| (unit.from_si(1.0), unit.shown().to_owned());
        let over = |above: Unit, below: Unit| {
            let ((above, name), (below, under)) = (one(above), one(below));
            (above / below, format!("{name}/{under}"))
        };
        if si == TEMPERATURE {
            return InFormula {
                number: Temperature::from_k(value).celsius(),
                unit: CELSIUS.to_owned(),
            };
        }
        let (factor, unit) = match si {
            TEMPERATURE_DIFFERENCE => (1.0, CELSIUS.to_owned()),
            FROM_ABSOLUTE_ZERO => (1.0, "K".to_owned()),
            "Pa" => one(self.pressure),
            "m" => one(self.length),
            "m²" => {
                let (factor, name) = one(self.length);
                (factor * factor, format!("{name}²"))
            }
            "m³" => one(self.fluid),
            "N" => one(self.force),
            "N m" => one(self.torque),
            "kg" => one(self.mass),
            "N m/Pa" => over(self.torque, self.pressure),
            "m³/Pa" => over(self.fluid, self.pressure),
            other => (1.0, other.to_owned()),
        };
        InFormula {
            number: value * factor,
            unit,
        }
    }
}

/// A sign of a formula as it is read: `p_own` is a p with an index.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct IndexedSign<'a> {
    /// The letter, a Greek one for its name: `mu` is μ.
    pub base: &'a str,
    /// The index below it.
    pub index: Option<String>,
}

/// How a sign of a formula is read.
#[must_use]
pub fn sign(written: &str) -> IndexedSign<'_> {
    let (base, index) = written
        .split_once('_')
        .map_or((written, None), |(base, index)| (base, Some(index)));
    IndexedSign {
        base: letter(base),
        index: index.map(|index| index.replace('_', " ")),
    }
}

fn letter(name: &str) -> &str {
    const GREEK: [(&str, &str); 15] = [
        ("alpha", "α"),
        ("beta", "β"),
        ("gamma", "γ"),
        ("delta", "δ"),
        ("epsilon", "ε"),
        ("eta", "η"),
        ("theta", "θ"),
        ("kappa", "κ"),
        ("lambda", "λ"),
        ("mu", "μ"),
        ("pi/4", "π/4"),
        ("rho", "ρ"),
        ("sigma", "σ"),
        ("tau", "τ"),
        ("omega", "ω"),
    ];
    GREEK
        .iter()
        .find(|(of, _)| *of == name)
        .map_or(name, |(_, letter)| letter)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_sign_has_its_letter_and_its_index() {
        let read = |written, base, index: Option<&str>| {
            let index = index.map(str::to_owned);
            assert_eq!(sign(written), IndexedSign { base, index });
        };
        read("mu", "μ", None);
        read("mu_f", "μ", Some("f"));
        read("p_own_cold", "p", Some("own cold"));
        read("dT", "dT", None);
    }

    #[test]
    #[allow(clippy::unwrap_used, reason = "a test that cannot go on says so by panicking")]
    fn number_and_unit_go_together() {
        let usual = Units::default();
        let inches = Units::of("psi,in,lbf").unwrap();
        // A bore of 5/8 in is 15.875 mm across: 0.7854 · 15.875² = 197.93 mm²; 0.7854 · 0.625² = 0.30680 in².
        let bore_m2 = 1.979_33e-4;
        for (units, value, si, number, unit) in [
            (usual, 47.7e5, "Pa", 47.7, "bar"),
            (usual, bore_m2, "m²", 197.933, "mm²"),
            (usual, 1e-11, "m³/Pa", 1.0, "cm³/bar"),
            (usual, 1.7e-4, "N m/Pa", 17.0, "N·m/bar"),
            (usual, 293.15, TEMPERATURE, 20.0, "°C"),
            (usual, 293.15, FROM_ABSOLUTE_ZERO, 293.15, "K"),
            (usual, 36.0, TEMPERATURE_DIFFERENCE, 36.0, "°C"),
            (usual, 0.4, "", 0.4, ""),
            // 1 psi is 6894.757 Pa, 1 lbf is 4.448 222 N, 1 lb is 0.453 592 37 kg (exact by definition of the pound).
            (inches, 6_894.757, "Pa", 1.0, "psi"),
            (inches, bore_m2, "m²", 0.306_797, "in²"),
            (inches, 44.482_22, "N", 10.0, "lbf"),
            (inches, 0.453_592_37, "kg", 1.0, "lb"),
        ] {
            let shown = units.in_formula(value, si);
            assert!(
                (shown.number / number - 1.0).abs() < 1e-5,
                "{value} {si}: {shown:?}, not {number}"
            );
            assert_eq!(shown.unit, unit);
        }
    }
}

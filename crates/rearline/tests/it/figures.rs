//! A figure has one rounding: what a sentence says of it, its picture, the table beside the picture and the index say to
//! the digit.

use wording::Shown;

/// Units in which figures are said, longest first.
const UNITS: [&str; 22] = [
    "N·m", "lbf ft", "N m", "m/s²", "km/h", "cm³", "in³", "min", "bar", "psi", "lbf", "mm", "kg", "lb", "°C",
    "in", "N", "L", "%", "g", "m", "s",
];

/// A number with its unit, as it is written somewhere.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Written {
    pub(crate) text: String,
    value: f64,
    /// What its last digit counts.
    place: f64,
    unit: &'static str,
}

impl Written {
    /// Of a number and what stands behind it.
    pub(crate) fn of(number: &str, behind: &str) -> Option<Self> {
        let unit = UNITS.into_iter().find(|unit| {
            let rest = behind.strip_prefix(unit);
            rest.is_some_and(|rest| {
                !rest.starts_with(|next: char| next.is_alphanumeric() || matches!(next, '/' | '·'))
            })
        })?;
        let value: f64 = number.replace('−', "-").parse().ok()?;
        let digits = number.trim_start_matches('−');
        let place = match digits.split_once('.') {
            Some((_, behind)) => 10_f64.powi(-i32::try_from(behind.len()).unwrap()),
            // Of a whole number two digits count at least: `320` may be rounded to tens, `300` and `100` too.
            None if matches!(unit, "°C" | "%") => 1.0,
            None => {
                let noughts = digits.len() - digits.trim_end_matches('0').len();
                let most = digits.len().saturating_sub(2);
                10_f64.powi(i32::try_from(noughts.min(most)).unwrap())
            }
        };
        Some(Self {
            text: format!("{number} {unit}"),
            value,
            place,
            unit,
        })
    }

    /// Whether it may be a figure of which more digits are known, rounded as that is not said.
    pub(crate) fn rounds(&self, known: &Shown) -> bool {
        let said = written(&known.text);
        let Some(said) = said.first().filter(|said| said.unit == self.unit) else {
            return false;
        };
        said.text != self.text
            && self.value != 0.0
            && (self.value - known.number).abs() <= self.place * 0.500_001
    }

    /// Whether both look like one figure, one of them rounded further: `67.5 mm` and `68 mm`.
    pub(crate) fn is_another_rounding_of(&self, other: &Self) -> bool {
        let coarse = self.place.max(other.place).min(1.0);
        let places = |one: &Self| one.place.min(1.0);
        self.unit == other.unit
            && places(self).total_cmp(&places(other)).is_ne()
            && self.value != 0.0
            && other.value != 0.0
            && (self.value - other.value).abs() <= coarse * 0.500_001
    }

    /// Whether both are one number with more noughts or fewer: `9.0 bar` and `9.00 bar`.
    pub(crate) fn is_the_same_otherwise(&self, other: &Self) -> bool {
        self.unit == other.unit
            && self.text != other.text
            && self.value != 0.0
            && self.value.total_cmp(&other.value).is_eq()
    }
}

/// Every number of a text that has a unit.
pub(crate) fn written(text: &str) -> Vec<Written> {
    let text = text.replace('\u{a0}', " ");
    let characters: Vec<char> = text.chars().collect();
    let is_part = |at: usize| characters.get(at).is_some_and(|c| c.is_ascii_digit());
    let mut found = Vec::new();
    let mut at = 0;
    while at < characters.len() {
        let alone =
            at == 0 || !(characters[at - 1].is_alphanumeric() || matches!(characters[at - 1], '.' | '_'));
        let signed = characters[at] == '−' && is_part(at + 1);
        if !(alone && (signed || is_part(at))) {
            at += 1;
            continue;
        }
        let start = at;
        at += 1;
        while is_part(at) || (characters.get(at) == Some(&'.') && is_part(at + 1)) {
            at += 1;
        }
        let number: String = characters[start..at].iter().collect();
        let behind: String = characters[at..].iter().take(12).collect();
        found.extend(Written::of(&number, behind.strip_prefix(' ').unwrap_or(&behind)));
    }
    found
}

/// What stands between two marks, each time.
pub(crate) fn between<'t>(text: &'t str, from: &str, to: &str) -> Vec<&'t str> {
    text.split(from)
        .skip(1)
        .map(|rest| rest.split_once(to).map_or(rest, |(inside, _)| inside))
        .collect()
}

/// Every number with a unit in the tables beside the pictures of a page: the unit stands in a column's head.
pub(crate) fn in_tables(page: &str) -> Vec<Written> {
    let mut found = Vec::new();
    for table in between(page, "class=\"as-table\"", "</details>") {
        for cell in between(table, "<td data-head=\"", "</td>") {
            let Some((head, number)) = cell.split_once("\">") else {
                continue;
            };
            let unit = head
                .rsplit_once(", ")
                .map_or("", |(_, unit)| unit)
                .replace('\u{a0}', " ");
            found.extend(Written::of(number, &unit));
            found.extend(written(number));
        }
    }
    found
}

#[test]
fn numbers_are_found_with_their_units_and_told_apart_by_rounding() {
    let texts = |text: &str| -> Vec<String> { written(text).into_iter().map(|one| one.text).collect() };
    assert_eq!(
        texts("320\u{a0}N (33\u{a0}kg), 94 mm at 41.3 bar; −0.5 m/s², 12 N·m, 7 %, B4, 2.8 turns in"),
        [
            "320 N",
            "33 kg",
            "94 mm",
            "41.3 bar",
            "−0.5 m/s²",
            "12 N·m",
            "7 %"
        ]
    );
    let of = |text: &str| written(text).remove(0);
    let known = |text: &str, number| Shown {
        text: text.to_owned(),
        number,
    };
    assert!(of("322 N").rounds(&known("320 N", 321.7)));
    assert!(of("320 N").rounds(&known("322 N", 321.7)));
    assert!(!of("320 N").rounds(&known("320 N", 321.7)));
    assert!(!of("300 N").rounds(&known("320 N", 321.7)));
    assert!(!of("322 mm").rounds(&known("320 N", 321.7)));
    assert!(of("41.3 bar").is_another_rounding_of(&of("41 bar")));
    assert!(!of("320 N").is_another_rounding_of(&of("320 N")));
    assert!(!of("322 N").is_another_rounding_of(&of("320 N")));
    assert!(of("2.0 bar").is_another_rounding_of(&of("2.00 bar")));
    let table = r#"<details class="as-table"><td data-head="hand, N">320</td></details>"#;
    assert_eq!(in_tables(table)[0].text, "320 N");
}

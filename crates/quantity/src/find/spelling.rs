//! One plain spelling for the many ways to type a unit: `N·m`, `N m`, `N-m` and `N.m` are one, `cm³` and `cm^3` another.

use crate::piece::is_blank;

/// The plain spelling: factors parted by `·`, powers as digits, `"` for every inch sign, the country of a gallon last.
/// Capital and small letters stay as they are.
pub(super) fn plain(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    // Between two letters: whether anything parts them, whether that is a mark that has to join something, and
    // whether it has a full stop, of which one may end an abbreviation.
    let (mut parted, mut marked, mut stopped) = (false, false, false);
    let mut chars = text.chars().peekable();
    while let Some(c) = chars.next() {
        let c = match c {
            '²' => '2',
            '³' => '3',
            '¹' => '1',
            '″' | '“' | '”' | '„' => '"',
            '′' | '’' | '‘' => '\'',
            'º' | '˚' => '°',
            'μ' => 'µ',
            'ℓ' => 'l',
            '\u{212A}' => 'K',
            '⁄' | '∕' => '/',
            '^' if chars
                .peek()
                .is_some_and(|next| next.is_ascii_digit() || matches!(next, '-' | '−')) =>
            {
                continue;
            }
            '℃' => {
                out.push_str("°C");
                continue;
            }
            '℉' => {
                out.push_str("°F");
                continue;
            }
            c if is_blank(c)
                || matches!(c, '·' | '⋅' | '∙' | '•' | '*' | '.' | '-' | '‐' | '‑' | '−' | '⁻') =>
            {
                parted = true;
                marked |= !is_blank(c) && (c != '.' || stopped);
                stopped |= c == '.';
                continue;
            }
            c => c,
        };
        let needless = out.is_empty() || c == '/' || out.ends_with(['/', '°']);
        if parted && (marked || !needless) {
            out.push('·');
        }
        (parted, marked, stopped) = (false, false, false);
        out.push(c);
    }
    if marked {
        out.push('·');
    }
    let out = out.replace("''", "\"");
    country_last(&out)
}

/// `US gal` and `gal UK` become `gal·us` and `gal·imp`.
fn country_last(text: &str) -> String {
    let mut words: Vec<&str> = text.split('·').collect();
    let country = |word: &str| match word {
        "us" | "US" => Some("us"),
        "imp" | "Imp" | "imperial" | "uk" | "UK" => Some("imp"),
        _ => None,
    };
    let Some((at, name)) = words
        .iter()
        .enumerate()
        .find_map(|(at, word)| country(word).map(|name| (at, name)))
    else {
        return text.to_owned();
    };
    words.remove(at);
    words.push(name);
    words.join("·")
}

#[cfg(test)]
mod tests {
    use super::plain;

    #[test]
    fn many_spellings_become_one() {
        for text in [
            "N m",
            "N·m",
            "N⋅m",
            "N-m",
            "N.m",
            "N * m",
            "N\u{a0}m",
            "N \u{2009} m",
            " N m ",
            "N.m.",
        ] {
            assert_eq!(plain(text), "N·m", "{text:?}");
        }
        for text in ["cm3/bar", "cm³/bar", "cm^3/bar", "cm³ / bar", "cm3⁄bar"] {
            assert_eq!(plain(text), "cm3/bar", "{text:?}");
        }
        assert_eq!(plain("° C"), "°C");
        assert_eq!(plain("℃"), "°C");
        assert_eq!(plain("''"), "\"");
        assert_eq!(plain("US fl. oz."), "fl·oz·us");
        assert_eq!(plain("gal UK"), "gal·imp");
        assert_eq!(plain("min⁻¹"), "min·1");
        assert_eq!(plain("mPa"), "mPa");
        assert_eq!(plain("mm -"), "mm·", "a mark that joins nothing stays");
        assert_eq!(plain("- mm"), "·mm");
        assert_eq!(plain("mm.."), "mm·");
        assert_eq!(plain("mm^"), "mm^");
        assert_eq!(plain("min^-1"), "min·1");
        assert_eq!(plain(""), "");
    }
}

//! What a car, a stage or a logger's file may be called, so that the folder can go to any other machine.

use unicode_normalization::UnicodeNormalization;

/// The most characters a name may have: at four bytes each it still fits every common file system.
pub const LONGEST_NAME: usize = 48;

/// What is wrong with a name.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[non_exhaustive]
pub enum NameFlaw {
    /// Nothing, or only blanks.
    #[error("it is empty")]
    Empty,
    /// More than [`LONGEST_NAME`] characters.
    #[error("it has {length} characters and {LONGEST_NAME} are the most")]
    TooLong {
        /// How many it has.
        length: usize,
    },
    /// A character that some system keeps for itself, or a control character.
    #[error("it contains {}", show(*character))]
    Character {
        /// The first such character.
        character: char,
    },
    /// A character that cannot be seen, so that two names could look alike.
    #[error("it contains the invisible character U+{:04X}", u32::from(*character))]
    Invisible {
        /// The first such character.
        character: char,
    },
    /// A blank at the beginning or at the end.
    #[error("it begins or ends with a blank")]
    Blank,
    /// Begins with a dot (hidden, or `..`), a hyphen (read as an option) or a tilde (expanded by shells).
    #[error("it begins with `{character}`")]
    Beginning {
        /// The first character.
        character: char,
    },
    /// A dot at the end, which some systems drop.
    #[error("it ends with a dot")]
    Ending,
    /// A name that some system, or the cars folder itself, keeps for something else.
    #[error("`{word}` is kept for something else")]
    Reserved {
        /// The word that is kept.
        word: String,
    },
    /// A car's name that ends in `.toml` would be taken for the path of a sheet.
    #[error("a name that ends in `.toml` is taken for the path of a sheet")]
    LooksLikeASheet,
    /// A file's name without the ending that its folder holds.
    #[error("it does not end in `.{wanted}`")]
    Extension {
        /// The ending that is wanted.
        wanted: &'static str,
    },
    /// Not Unicode.
    #[error("it is not readable as text")]
    NotText,
}

/// A character for a message: visible, whatever it is.
fn show(character: char) -> String {
    if character.is_control() {
        format!("the control character U+{:04X}", u32::from(character))
    } else {
        format!("`{character}`")
    }
}

/// Composes what can be composed: `e` and a combining acute accent become `é`.
pub(crate) fn composed(name: &str) -> String {
    name.nfc().collect()
}

/// What two names share when they differ by case only. Going down, up and down again catches the letters whose
/// cases are not pairs: `ẞ`, `ß` and `ss`, or the two small sigmas.
pub(crate) fn folded(name: &str) -> String {
    composed(&composed(name).to_lowercase().to_uppercase().to_lowercase())
}

/// Names that some system keeps for a device, whatever ending is put to them, and folders that systems strew about.
const DEVICES: [&str; 8] = [
    "con", "prn", "aux", "nul", "conin$", "conout$", "clock$", "config$",
];
const FOLDERS: [&str; 7] = [
    "lost+found",
    "$recycle.bin",
    "system volume information",
    "desktop.ini",
    "thumbs.db",
    "autorun.inf",
    "recycler",
];

/// Checks one component of a path and hands it back composed.
///
/// What passes is one ordinary name on every common system: it holds no separator, is not `.` or `..`, and means the
/// same to a shell, to a file manager and to the file system.
pub(crate) fn component(name: &str) -> Result<String, NameFlaw> {
    let name = composed(name);
    if name.trim().is_empty() {
        return Err(NameFlaw::Empty);
    }
    let length = name.chars().count();
    if length > LONGEST_NAME {
        return Err(NameFlaw::TooLong { length });
    }
    for character in name.chars() {
        if character.is_control() || matches!(character, '/' | '\\' | ':' | '*' | '?' | '"' | '<' | '>' | '|')
        {
            return Err(NameFlaw::Character { character });
        }
        if is_invisible(character) {
            return Err(NameFlaw::Invisible { character });
        }
    }
    if name.trim() != name {
        return Err(NameFlaw::Blank);
    }
    if let Some(character) = name.chars().next().filter(|c| matches!(c, '.' | '-' | '~')) {
        return Err(NameFlaw::Beginning { character });
    }
    if name.ends_with('.') {
        return Err(NameFlaw::Ending);
    }
    let low = name.to_lowercase();
    let stem = low.split('.').next().unwrap_or(&low).trim_end();
    let numbered = stem.strip_prefix("com").or_else(|| stem.strip_prefix("lpt"));
    let port = numbered.is_some_and(|rest| {
        let mut rest = rest.chars();
        matches!(
            (rest.next(), rest.next()),
            (Some('0'..='9' | '¹' | '²' | '³'), None)
        )
    });
    if port || DEVICES.contains(&stem) {
        return Err(NameFlaw::Reserved {
            word: stem.to_owned(),
        });
    }
    if FOLDERS.contains(&low.as_str()) {
        return Err(NameFlaw::Reserved { word: low });
    }
    Ok(name)
}

/// Checks the name of a car: a [`component`] that is not taken for a sheet.
pub(crate) fn car(name: &str) -> Result<String, NameFlaw> {
    let name = component(name)?;
    let low = name.to_lowercase();
    match low.as_str() {
        "preferences.toml" => Err(NameFlaw::Reserved { word: low }),
        _ if low.ends_with(".toml") => Err(NameFlaw::LooksLikeASheet),
        _ => Ok(name),
    }
}

/// Checks the name of a file that must have an ending, whatever its case.
pub(crate) fn file(name: &str, extension: &'static str) -> Result<String, NameFlaw> {
    let name = component(name)?;
    let fits = name
        .rsplit_once('.')
        .is_some_and(|(stem, end)| !stem.is_empty() && end.eq_ignore_ascii_case(extension));
    if fits {
        Ok(name)
    } else {
        Err(NameFlaw::Extension { wanted: extension })
    }
}

/// A file's name with a number put to its stem, for one that is taken: `log.csv`, 2: `log-2.csv`.
pub(crate) fn numbered(name: &str, number: u32) -> String {
    let number = format!("-{number}");
    let (stem, end) = name.rsplit_once('.').unwrap_or((name, ""));
    let room = LONGEST_NAME.saturating_sub(number.len() + 1 + end.chars().count());
    let stem: String = stem.chars().take(room).collect();
    format!("{}{number}.{end}", stem.trim_end())
}

/// A name with the ending that comes as near to `given` as may be; `otherwise` where nothing of it can be kept.
pub(crate) fn fitting(given: &str, extension: &'static str, otherwise: &str) -> String {
    let given = composed(given);
    let last = given.rsplit(['/', '\\']).next().unwrap_or_default();
    let (stem, end) = last.rsplit_once('.').unwrap_or((last, ""));
    let end = if end.eq_ignore_ascii_case(extension) {
        end
    } else {
        extension
    };
    let room = LONGEST_NAME - 1 - end.len();
    let stem: String = stem
        .chars()
        .map(|letter| match component(&format!("a{letter}a")) {
            Ok(_) => letter,
            Err(_) => '-',
        })
        .collect();
    let stem = stem.trim_matches([' ', '.', '-', '~']);
    let stem: String = stem.chars().take(room).collect();
    let name = format!("{}.{end}", stem.trim_end());
    file(&name, extension).unwrap_or_else(|_| format!("{otherwise}.{extension}"))
}

/// Format characters, fillers, odd spaces and marks that draw nothing.
fn is_invisible(character: char) -> bool {
    matches!(character,
        '\u{ad}' | '\u{34f}' | '\u{61c}' | '\u{115f}' | '\u{1160}' | '\u{17b4}' | '\u{17b5}'
        | '\u{180b}'..='\u{180f}' | '\u{200b}'..='\u{200f}' | '\u{2028}'..='\u{202e}' | '\u{2060}'..='\u{206f}'
        | '\u{3164}' | '\u{fe00}'..='\u{fe0f}' | '\u{feff}' | '\u{ffa0}' | '\u{fff0}'..='\u{fffb}'
        | '\u{1d173}'..='\u{1d17a}' | '\u{e0000}'..='\u{e0fff}')
        // Spaces that are not the plain one.
        || (character.is_whitespace() && character != ' ')
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_a_device_calls_a_file_becomes_a_name_of_ours() {
        for (given, fits) in [
            ("LOG0001.CSV", "LOG0001.CSV"),
            ("C:\\data\\run 3.csv", "run 3.csv"),
            ("../../etc/passwd", "passwd.csv"),
            ("stage 14:05.csv", "stage 14-05.csv"),
            (".hidden.csv", "hidden.csv"),
            ("run\u{202e}vsc.txt", "run-vsc.csv"),
            ("con.csv", "logs.csv"),
            ("", "logs.csv"),
            ("…", "….csv"),
        ] {
            assert_eq!(fitting(given, "csv", "logs"), fits, "{given:?}");
        }
        let long = fitting(&format!("{}.csv", "x".repeat(200)), "csv", "logs");
        assert_eq!(long.chars().count(), LONGEST_NAME);
        assert_eq!(numbered("LOG 1.CSV", 2), "LOG 1-2.CSV");
        let numbered = numbered(&long, 12);
        assert!(numbered.ends_with("x-12.csv") && file(&numbered, "csv").is_ok());
    }
}

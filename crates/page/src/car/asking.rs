//! What is asked of a car, as it stands in the address of a page: the terminal's options under their own names.
//!
//! `/car/tarn/balance?surface=packed snow&fuel=30&foot=400` A figure without a unit has that of its handle: newtons,
//! litres, km/h. An address that was sent once goes on meaning the same, whatever units a person reads in.

use core::fmt::Write as _;

use percent_encoding::{AsciiSet, NON_ALPHANUMERIC, utf8_percent_encode};
use questions::Wrong;
use questions::options::{self, Row, Said};
use records::logbook::EntryKind;

/// What may be said again and again.
const WITH: &str = "with";
/// Begins the names of fields that say where a handle stood before anybody touched it.
const STOOD: &str = "stood.";
/// Only the parts that change with a handle are wanted.
const PART: &str = "part";
/// Pictures for a narrow screen alone, or for a wide one alone.
const PICTURES: &str = "pictures";
/// Entries of the logbook before that one.
const BEFORE: &str = "before";
/// Entries of that kind alone.
const ENTRIES: &str = "entries";
/// Entries with those words alone.
const WORDS: &str = "words";
/// The most that an address may say.
const MOST: usize = 64;

const IN_A_QUERY: &AsciiSet = &NON_ALPHANUMERIC
    .remove(b'-')
    .remove(b'.')
    .remove(b'_')
    .remove(b'~');

/// For which screens pictures are drawn.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(crate) enum Screens {
    /// Both; the page shows one.
    #[default]
    Both,
    Wide,
    Narrow,
}

/// Which entries of the logbook are wanted. It is no part of what is asked of the car: no link to another room has it.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(crate) struct Entries {
    pub(crate) before: Option<i64>,
    pub(crate) kind: Option<EntryKind>,
    pub(crate) words: String,
}

/// What is asked.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(crate) struct Asking {
    said: Vec<(String, String)>,
    /// Whether only what changes is wanted, without what takes long.
    pub(crate) part: bool,
    pub(crate) screens: Screens,
    /// Whether the address says more than it has to, as a form without the script sends it.
    pub(crate) roundabout: bool,
    pub(crate) entries: Entries,
}

impl Asking {
    /// Reads the part of an address behind the question mark.
    pub(crate) fn read(query: &str) -> Result<Self, Wrong> {
        let pairs: Vec<(String, String)> = form_urlencoded::parse(query.as_bytes())
            .into_owned()
            .take(MOST + 1)
            .collect();
        let mut wrong = Wrong::default();
        if pairs.len() > MOST {
            let what = format!("an address says {MOST} things at most");
            wrong.add(Wrong::plain(
                "address",
                "too-much-said",
                what,
                "leave some out".to_owned(),
            ));
        }
        let mut asking = Self::default();
        for (name, value) in pairs.iter().take(MOST) {
            let value = value.trim();
            if let Some(handle) = name.strip_prefix(STOOD) {
                asking.roundabout = true;
                if is_known(handle) {
                    continue;
                }
            }
            match name.as_str() {
                PART => asking.part = value == "1",
                PICTURES if value == "narrow" => asking.screens = Screens::Narrow,
                PICTURES if value == "wide" => asking.screens = Screens::Wide,
                BEFORE => asking.entries.before = value.parse().ok(),
                ENTRIES => asking.entries.kind = value.parse().ok(),
                WORDS => asking.entries.words = value.chars().take(200).collect(),
                _ if value.is_empty() && (is_known(name) || name == WITH) => asking.roundabout = true,
                WITH => asking.said.push((name.clone(), value.to_owned())),
                known if is_a_path(known, value) => {
                    let what = "is a file, and a page names none";
                    wrong.add(trouble(
                        known,
                        what,
                        "name one of the list; the terminal takes files",
                    ));
                }
                known if is_known(known) => {
                    let untouched = pairs
                        .iter()
                        .any(|(other, stood)| other.strip_prefix(STOOD) == Some(known) && stood == value);
                    if untouched {
                        asking.roundabout = true;
                    } else if asking.get(known).is_some() {
                        wrong.add(trouble(known, "is said twice", "leave one of them out"));
                    } else {
                        asking.said.push((name.clone(), value.to_owned()));
                    }
                }
                unknown => {
                    let names: Vec<String> = names().collect();
                    let remedy = questions::nearest(unknown, names.iter().map(String::as_str)).map_or_else(
                        || format!("there are: {}, {WITH}", names.join(", ")),
                        |near| format!("did you mean `{near}`?"),
                    );
                    wrong.add(trouble(unknown, "is nothing that can be asked", &remedy));
                }
            }
        }
        asking.said.sort_by_key(|(name, _)| place(name));
        if wrong.is_empty() { Ok(asking) } else { Err(wrong) }
    }

    /// As it stands in the address.
    pub(crate) fn get(&self, name: &str) -> Option<&str> {
        self.said
            .iter()
            .find(|(said, _)| said == name)
            .map(|(_, value)| value.as_str())
    }

    /// What it says, by the table of options. `turns`: whether the knob of the car's valve counts turns.
    pub(crate) fn said(&self, turns: bool) -> Said {
        let mut said = Said::default();
        for (name, value) in &self.said {
            if let Some(row) = Row::of_address(name) {
                said.say(row, row.in_full(value, turns));
            }
        }
        said
    }

    /// Every key of the sheet that is replaced for this once.
    pub(crate) fn with(&self) -> impl Iterator<Item = &str> {
        self.said
            .iter()
            .filter(|(name, _)| name == WITH)
            .map(|(_, value)| value.as_str())
    }

    /// Whether anything is asked other than as the sheet has it.
    pub(crate) fn says_nothing(&self) -> bool {
        self.said.is_empty()
    }

    /// The same without what was said of some things.
    pub(crate) fn without(mut self, names: &[&str]) -> Self {
        self.said.retain(|(name, _)| !names.contains(&name.as_str()));
        self
    }

    /// The same with something said beside it.
    pub(crate) fn and(mut self, name: &str, value: &str) -> Self {
        self.said.push((name.to_owned(), value.to_owned()));
        self
    }

    /// The same without what was said of some options.
    pub(crate) fn unsaying(self, rows: &[&Row]) -> Self {
        let names: Vec<String> = rows.iter().filter_map(|row| row.in_address()).collect();
        let names: Vec<&str> = names.iter().map(String::as_str).collect();
        self.without(&names)
    }

    /// The same with an option said, in the place of what was said of it; one that may be said again and again beside it.
    pub(crate) fn saying(mut self, row: &Row, value: &str) -> Self {
        let Some(name) = row.in_address() else {
            return self;
        };
        if !matches!(row.value, options::Shape::Many(_)) {
            self.said.retain(|(said, _)| *said != name);
        }
        self.said.push((name, value.to_owned()));
        self.said.sort_by_key(|(name, _)| place(name));
        self
    }

    /// The same with keys of the sheet tried, each in the place of what was tried of it.
    pub(crate) fn trying<'k>(mut self, keys: impl Iterator<Item = &'k str>) -> Self {
        let key_of = |written: &str| written.split('=').next().unwrap_or_default().trim().to_owned();
        for written in keys {
            let key = key_of(written);
            self.said
                .retain(|(name, value)| name != WITH || key_of(value) != key);
            self.said.push((WITH.to_owned(), written.to_owned()));
        }
        self.said.sort_by_key(|(name, _)| place(name));
        self
    }

    /// Names and values, as a form has to send them along.
    pub(crate) fn pairs(&self) -> &[(String, String)] {
        &self.said
    }

    /// The same with the entries of the logbook before one, as they are looked for; `None`: from the newest.
    pub(crate) fn query_of_entries(&self, before: Option<i64>) -> String {
        let mut query = self.query();
        let mut say = |name: &str, value: &str| {
            let mark = if query.is_empty() { '?' } else { '&' };
            let _ = write!(query, "{mark}{name}={}", utf8_percent_encode(value, IN_A_QUERY));
        };
        if let Some(kind) = self.entries.kind {
            say(ENTRIES, kind.as_str());
        }
        if !self.entries.words.is_empty() {
            say(WORDS, &self.entries.words);
        }
        if let Some(before) = before {
            say(BEFORE, &before.to_string());
        }
        query
    }

    /// What stands behind a path in a link: nothing, or `?…`.
    pub(crate) fn query(&self) -> String {
        let mut query = String::new();
        for (index, (name, value)) in self.said.iter().enumerate() {
            let mark = if index == 0 { '?' } else { '&' };
            let _ = write!(query, "{mark}{name}={}", utf8_percent_encode(value, IN_A_QUERY));
        }
        query
    }
}

/// Everything that may be said once.
pub(crate) fn names() -> impl Iterator<Item = String> {
    options::ALL
        .iter()
        .filter_map(|row| row.in_address())
        .filter(|name| name != WITH)
}

/// Whether a name is written as a path where only names are taken.
fn is_a_path(name: &str, value: &str) -> bool {
    let has = |ends: &[&str]| {
        let small = value.to_lowercase();
        value.contains(['/', '\\', ':']) || ends.iter().any(|end| small.ends_with(end))
    };
    match Row::of_address(name).and_then(|row| row.address) {
        Some(options::Address::Name) => has(&[".toml", ".csv"]),
        Some(options::Address::OnShelf) => has(&[]),
        _ => false,
    }
}

fn is_known(name: &str) -> bool {
    name != WITH && Row::of_address(name).is_some()
}

/// Where it stands in an address, so that the same asking has one address.
fn place(name: &str) -> usize {
    names().position(|known| known == name).unwrap_or(usize::MAX)
}

fn trouble(name: &str, what: &str, remedy: &str) -> Wrong {
    let shown: String = name.chars().take(80).collect();
    Wrong::plain(
        "address",
        "unknown-question",
        format!("`{shown}` {what}"),
        remedy.to_owned(),
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_address_is_read_and_written() {
        let asking =
            Asking::read("hand=150&surface=packed+snow&with=lever.bore%3D5%2F8+in&with=a%3Db&cold=1")
                .unwrap();
        assert_eq!(asking.get("surface"), Some("packed snow"));
        assert_eq!(asking.said(false).text(&options::HAND), Some("150 N"));
        assert_eq!(asking.with().collect::<Vec<_>>(), ["lever.bore=5/8 in", "a=b"]);
        let query = asking.query();
        assert_eq!(
            query,
            "?surface=packed%20snow&hand=150&cold=1&with=lever.bore%3D5%2F8%20in&with=a%3Db"
        );
        assert_eq!(
            Asking::read(&query[1..]).unwrap(),
            asking,
            "one asking, one address"
        );
        assert_eq!(Asking::read("").unwrap().query(), "");
        let own_unit = Asking::read("hand=20+kgf&fuel=half").unwrap();
        assert_eq!(own_unit.said(false).text(&options::HAND), Some("20 kgf"));
        assert_eq!(own_unit.said(false).text(&options::FUEL), Some("half"));
    }

    #[test]
    fn a_handle_that_nobody_touched_says_nothing() {
        let asking =
            Asking::read("grip=0.65&stood.grip=0.65&hand=180&stood.hand=150&fuel=&surface=ice").unwrap();
        assert!(asking.roundabout);
        assert_eq!(asking.query(), "?surface=ice&hand=180");
        assert!(!Asking::read(&asking.query()[1..]).unwrap().roundabout);
    }

    #[test]
    fn what_is_no_question_is_told_with_the_nearest() {
        let wrong = Asking::read("gripp=0.5&hand=1&hand=2").unwrap_err();
        let said: Vec<&str> = wrong
            .troubles
            .iter()
            .map(|trouble| trouble.remedy.as_str())
            .collect();
        assert_eq!(said, ["did you mean `grip`?", "leave one of them out"]);
        assert!(Asking::read(&"with=a&".repeat(MOST + 1)).is_err());
    }
}

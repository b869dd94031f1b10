//! The kinds of fault, in words that help.

use engine::car::{Refusal, TyreSize};
use quantity::Dimension;

use crate::source::clipped;
use crate::syntax::SyntaxFault;
use crate::{FORMAT, MAX_BYTES, OLDEST_FORMAT};

/// What is wrong with a text that a person wrote.
///
/// `to_string()` says what is wrong, [`remedy`](Self::remedy) what to do, [`slug`](Self::slug) which fault it is.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum Fault {
    /// More than [`MAX_BYTES`].
    #[error("the file is larger than {} MB, and is not read", MAX_BYTES / 1_000_000)]
    TooLarge,
    /// Nothing stands in it, or nothing but comments.
    #[error("the file holds no key")]
    Empty,
    /// Two bytes a character.
    #[error("the file is written in UTF-16, and only UTF-8 is read")]
    Utf16,
    /// Zero bytes, or too much that is no text.
    #[error("the file is not a text")]
    NotText,
    /// A byte that is no UTF-8.
    #[error("the byte {byte:02X} (hexadecimal) is not UTF-8")]
    NotUtf8 {
        /// The first of the bytes that cannot be read.
        byte: u8,
    },
    /// Not TOML.
    #[error("{0}")]
    SyntaxFault(SyntaxFault),
    /// `format` is another than this program's.
    #[error(
        "the file is of format {found}, and this program reads formats {} and {}",
        OLDEST_FORMAT,
        FORMAT
    )]
    Format {
        /// The number that stands there.
        found: u32,
    },
    /// A key or a table that the sheet does not have.
    #[error("{} no {} `{name}`", holder(.table), if *.is_table { "table" } else { "key" })]
    Unknown {
        /// As it is written.
        name: String,
        /// The table that it stands in; empty at the top.
        table: String,
        /// Whether a table stands there, and not a value.
        is_table: bool,
        /// What it may have been meant for.
        offer: Meant,
    },
    /// A value, or a list, where a table has to stand.
    #[error("`{name}` is a table, but here it is {}", .found.with_article())]
    NotATable {
        /// The table's name.
        name: String,
        /// What stands there.
        found: Kind,
        /// As it has to be written.
        written: String,
    },
    /// `[load.item]`, or `[[pedal]]`.
    #[error("{}", if *.repeats { format!("`{name}` may come several times, and takes double brackets") } else { format!("`{name}` comes once only, and takes single brackets") })]
    Brackets {
        /// The table's name.
        name: String,
        /// Whether it may stand several times.
        repeats: bool,
    },
    /// A value of another type than the key has.
    #[error("{name} is {wanted}, but here it is {}", .found.with_article())]
    WrongType {
        /// The key's name.
        name: String,
        /// What has to stand there.
        wanted: String,
        /// What does.
        found: Kind,
        /// As it may be written.
        written: String,
    },
    /// A scalar that is neither text, number, date nor true or false.
    #[error("`{}` cannot be read", clipped(.found))]
    Unreadable {
        /// As it stands there.
        found: String,
        /// As it may be written.
        written: String,
    },
    /// A text without quotes.
    #[error("`{}` has no quotes", clipped(.found))]
    Unquoted {
        /// As it stands there.
        found: String,
    },
    /// Not one of the words of a key.
    #[error("`{}` is none of the words allowed here", clipped(.found))]
    UnknownWord {
        /// The word.
        found: String,
        /// Those that may stand here.
        words: &'static [&'static str],
        /// The one spelt most like it.
        near: Option<&'static str>,
    },
    /// Not a quantity of the kind that is wanted.
    #[error("{0}")]
    Quantity(quantity::Fault),
    /// `guess` at a key that has no default.
    #[error("`{name}` has no default that a guess could take")]
    NothingToGuess {
        /// The key's name.
        name: String,
    },
    /// A list without members.
    #[error("the list is empty")]
    EmptyList {
        /// As it may be written.
        written: String,
    },
    /// A list with too many members, or a table with too many entries.
    #[error("there are {found}, and {most} are the most")]
    TooMany {
        /// How many there are.
        found: usize,
        /// How many there may be.
        most: usize,
    },
    /// A row with too few members or too many.
    #[error("the row has {found} {}, and {} are wanted", if *.found == 1 { "member" } else { "members" }, columns_wanted(*.needed, .columns.len()))]
    RowLength {
        /// How many it has.
        found: usize,
        /// How many it needs.
        needed: usize,
        /// The kinds of its members, in order.
        columns: &'static [Dimension],
    },
    /// A text without a character that can be seen.
    #[error("the text is empty")]
    EmptyText,
    /// A text that is too long.
    #[error("the text has {found} characters, and {most} are the most")]
    LongText {
        /// How many it has.
        found: usize,
        /// How many it may have.
        most: usize,
    },
    /// A control character in a text, or one that turns the direction of writing.
    #[error("the text holds a character that cannot be seen (U+{:04X})", u32::from(*.character))]
    UnseenCharacter {
        /// The character.
        character: char,
    },
    /// A count that is none.
    #[error("`{}` is no count: {flaw}", clipped(.found))]
    NotACount {
        /// As it is written.
        found: String,
        /// Why not.
        flaw: CountFlaw,
    },
    /// A day with a time, or a time alone.
    #[error("`{}` is not a day alone", clipped(.found))]
    NotADay {
        /// As it is written.
        found: String,
        /// The day in it.
        day: Option<String>,
    },
    /// Not assembled: a figure or an arrangement that cannot be.
    #[error("{}", .0.text)]
    Refused(Refusal),
    /// An override that is not `KEY=VALUE`.
    #[error("`{}` has no `=` between key and value", clipped(.found))]
    NoEquals {
        /// As it was typed.
        found: String,
    },
    /// An override or an edit of a key that is not written as keys are.
    #[error("`{}` is not written as a key is", clipped(.found))]
    NotAPath {
        /// As it was typed.
        found: String,
    },
    /// An entry of a repeated table without a number, or with one at a table that stands once.
    #[error("{}", if *.repeats { format!("`{table}` may come several times: say which entry") } else { format!("`{table}` comes once only: its entries have no numbers") })]
    EntryNumber {
        /// The table.
        table: String,
        /// Whether it may stand several times.
        repeats: bool,
    },
    /// An entry beyond the one behind the last.
    #[error("`{table}` has {} so far, and no entry {asked} can be written", entries(*.there))]
    NoSuchEntry {
        /// The table.
        table: String,
        /// The number asked for, counted from 1.
        asked: usize,
        /// How many entries there are.
        there: usize,
    },
    /// A table named where a key with a value is meant.
    #[error("`{name}` is a table: name one of its keys")]
    NotAKey {
        /// Its name.
        name: String,
        /// The keys in it.
        keys: Vec<String>,
    },
    /// The key that tells how the sheet is read, where a figure of the car is meant.
    #[error("`{key}` tells how the sheet is read, and is no figure of the car")]
    TellsHow {
        /// The key.
        key: &'static str,
    },
    /// A key that is to go and does not stand there.
    #[error("`{key}` is not on the sheet")]
    NotThere {
        /// The key.
        key: String,
    },
    /// Neither a length nor a tyre's label.
    #[error("`{found}` is no tyre's label")]
    NotATyre {
        /// As it is written.
        found: String,
    },
    /// A sheet that does not say which format it has.
    #[error("the sheet does not say which format it has")]
    NoFormat,
    /// The sign of a blank sheet for what is still to come.
    #[error("`{name}` is still to be filled in")]
    ToFillIn {
        /// The key.
        name: String,
        /// What it is, and what is usual.
        about: String,
    },
    /// An edit that would change more than it should.
    #[error("the sheet cannot be changed here without changing more")]
    CannotEdit,
    /// An override without a value.
    #[error("nothing follows the `=`")]
    NoValue {
        /// As it may be written.
        written: String,
    },
}

/// What an unknown name may have been meant for.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Meant {
    /// Names in the same table that are spelt much like it.
    Near(Vec<String>),
    /// The very name, in these other tables; of a table, all of its path.
    Elsewhere(Vec<String>),
    /// A header of its own, as it is written, that is still commented out above it.
    Commented(String),
    /// A table's own name, repeated in it.
    Already(String),
    /// Whole paths that are spelt much like it.
    NearElsewhere(Vec<String>),
    /// What may stand in the table.
    All(Vec<String>),
}

/// Why a number is no count.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
#[non_exhaustive]
pub enum CountFlaw {
    /// Below zero.
    #[error("it is below zero")]
    Negative,
    /// With a fraction.
    #[error("it is not a whole number")]
    Fractional,
    /// More than a count can be.
    #[error("it is too large")]
    TooLarge,
}

/// What kind of value stands somewhere.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kind {
    /// In quotes.
    Text,
    /// Without quotes.
    Number,
    /// `true` or `false`.
    Flag,
    /// A day, a time, or both.
    Date,
    /// In square brackets.
    List,
    /// In curly brackets, or under a header.
    Table,
}

impl Kind {
    /// Its name with the article.
    #[must_use]
    pub const fn with_article(self) -> &'static str {
        match self {
            Self::Text => "a text in quotes",
            Self::Number => "a bare number",
            Self::Flag => "true or false",
            Self::Date => "a date",
            Self::List => "a list",
            Self::Table => "a table",
        }
    }
}

impl Fault {
    /// Which fault it is, in a word that never changes once published.
    #[must_use]
    pub fn slug(&self) -> &'static str {
        match self {
            Self::TooLarge => "file-too-large",
            Self::Empty => "file-empty",
            Self::Utf16 => "file-utf-16",
            Self::NotText => "file-not-text",
            Self::NotUtf8 { .. } => "file-not-utf-8",
            Self::SyntaxFault(syntax) => syntax.slug(),
            Self::Format { .. } => "format-other",
            Self::Unknown { is_table: false, .. } => "unknown-key",
            Self::Unknown { is_table: true, .. } => "unknown-table",
            Self::NotATable { .. } => "not-a-table",
            Self::Brackets { .. } => "table-brackets",
            Self::WrongType { .. } => "wrong-type",
            Self::Unreadable { .. } => "value-unreadable",
            Self::Unquoted { .. } => "value-unquoted",
            Self::UnknownWord { .. } => "unknown-word",
            Self::Quantity(fault) => fault.slug(),
            Self::NothingToGuess { .. } => "nothing-to-guess",
            Self::EmptyList { .. } => "list-empty",
            Self::TooMany { .. } => "too-many",
            Self::RowLength { .. } => "row-length",
            Self::EmptyText => "text-empty",
            Self::LongText { .. } => "text-too-long",
            Self::UnseenCharacter { .. } => "text-unseen-character",
            Self::NotACount { .. } => "not-a-count",
            Self::NotADay { .. } => "not-a-day",
            Self::Refused(refusal) => refusal.slug,
            Self::NoEquals { .. } => "with-no-equals",
            Self::NotAPath { .. } => "not-a-path",
            Self::EntryNumber { .. } => "entry-number",
            Self::NoSuchEntry { .. } => "no-such-entry",
            Self::NotAKey { .. } => "not-a-key",
            Self::TellsHow { .. } => "tells-how",
            Self::NoValue { .. } => "no-value",
            Self::NotThere { .. } => "not-there",
            Self::CannotEdit => "cannot-edit",
            Self::NotATyre { .. } => "not-a-tyre",
            Self::NoFormat => "no-format",
            Self::ToFillIn { .. } => "to-fill-in",
        }
    }

    /// What to do about it: a phrase without a full stop.
    #[must_use]
    pub fn remedy(&self) -> String {
        match self {
            Self::TooLarge => "a sheet is a few kilobytes: look whether this is the right file".to_owned(),
            Self::Empty => "`rearline new NAME` writes a sheet to fill in".to_owned(),
            Self::Utf16 => "save it again with the encoding UTF-8".to_owned(),
            Self::NotText => "look whether this is the right file".to_owned(),
            Self::NotUtf8 { byte: 0xb1 } => {
                "save the file again with the encoding UTF-8; if this was a ± sign, +/- does as well"
                    .to_owned()
            }
            Self::NotUtf8 { byte: 0xb0 } => {
                "save the file again with the encoding UTF-8; if this was a degree sign, leave it out"
                    .to_owned()
            }
            Self::NotUtf8 { .. } => "save the file again with the encoding UTF-8".to_owned(),
            Self::SyntaxFault(syntax) => syntax.remedy(),
            Self::Format { found } if *found > FORMAT => {
                "it was written for a newer program: get that one, or the sheet as it was before".to_owned()
            }
            Self::Format { .. } => format!("there never was such a format: write format = {FORMAT}"),
            Self::Unknown {
                table,
                is_table: false,
                offer: Meant::All(names),
                ..
            } if table.is_empty() => {
                format!(
                    "only {} comes above the first table; other keys go under a header such as [car]",
                    names.join(", ")
                )
            }
            Self::Unknown { offer, is_table, .. } => offer.remedy(*is_table),
            Self::NotATable { written, .. } | Self::EmptyList { written } => format!("write {written}"),
            Self::Brackets { name, repeats: true } => format!("write [[{name}]] above each entry"),
            Self::Brackets { name, repeats: false } => format!("write [{name}], once"),
            Self::WrongType { written, .. }
            | Self::Unreadable { written, .. }
            | Self::NoValue { written } => {
                format!("write {written}")
            }
            Self::Unquoted { found } => {
                let found = clipped(found);
                let bare = found.trim_matches(['"', '\'', '“', '”']);
                let is_inches = found.ends_with('"') && bare.ends_with(|c: char| c.is_ascii_digit());
                if is_inches {
                    format!("write \"{bare} in\"")
                } else {
                    format!("write \"{bare}\"")
                }
            }
            Self::UnknownWord { near: Some(near), .. } => format!("did you mean \"{near}\"?"),
            Self::UnknownWord { words, .. } => {
                format!(
                    "write {}",
                    either(&words.iter().map(|word| format!("\"{word}\"")).collect::<Vec<_>>())
                )
            }
            Self::Quantity(fault) => fault.help(),
            Self::NothingToGuess { .. } => {
                "measure it, or take the key out if the car has no such part".to_owned()
            }
            Self::TooMany { .. } => "keep those that matter".to_owned(),
            Self::RowLength { columns, .. } => format!("a row is {}", row(columns)),
            Self::EmptyText => "write something that tells it from others, or take the key out".to_owned(),
            Self::LongText { .. } => "shorten it".to_owned(),
            Self::UnseenCharacter { .. } => {
                "take it out: type the text again in place of pasting it".to_owned()
            }
            Self::NotACount { .. } => "write a whole number from 0 up, such as 7".to_owned(),
            Self::NotADay { day: Some(day), .. } => format!("write {day}"),
            Self::NotADay { day: None, .. } => "write year, month and day, such as 2026-03-14".to_owned(),
            Self::Refused(refusal) => refusal.remedy.words().trim_end_matches('.').to_owned(),
            Self::NoEquals { .. } => "write it as KEY=VALUE, such as lever.bore=5/8 in".to_owned(),
            Self::NotAPath { .. } => {
                "tables and key are joined by dots, such as rear_brake.pad.friction".to_owned()
            }
            Self::EntryNumber { table, repeats: true } => format!("write `{table}[1]` for the first"),
            Self::EntryNumber { .. } => "leave the number out".to_owned(),
            Self::NoSuchEntry { there, .. } => format!("the next new entry is [{}]", there + 1),
            Self::NotThere { .. } => "there is nothing to take out".to_owned(),
            Self::NotATyre { .. } => format!(
                "write width, height and rim as on its side, \"{}\", or the radius as a length, \"0.308 m\"",
                TyreSize::FORM
            ),
            Self::NoFormat => format!("write format = {FORMAT} at the top"),
            Self::ToFillIn { about, .. } => about.trim_end_matches('.').to_owned(),
            Self::CannotEdit => {
                "put right what `check-sheet` says, or change the file in an editor".to_owned()
            }
            Self::NotAKey { keys, .. } => format!("one of: {}", keys.join(", ")),
            Self::TellsHow { .. } => {
                "leave it as it stands; `check-sheet CAR --upgrade` writes a newer one".to_owned()
            }
        }
    }

    /// Whether its words name the key that it concerns.
    pub(crate) fn names(&self, key: &str) -> bool {
        match self {
            Self::Refused(refusal) => refusal.names_its_key,
            Self::NotATable { name, .. } | Self::Brackets { name, .. } => name == key,
            Self::Unknown { .. } | Self::NotAKey { .. } | Self::TellsHow { .. } => true,
            _ => false,
        }
    }

    /// Whether it keeps a text from being TOML.
    pub(crate) const fn is_syntax(&self) -> bool {
        matches!(
            self,
            Self::SyntaxFault(_)
                | Self::Unreadable { .. }
                | Self::Unquoted { .. }
                | Self::NotUtf8 { .. }
                | Self::NotText
        )
    }

    /// Whether it concerns the text as a whole, so that no line of it needs to be quoted.
    pub(crate) fn concerns_the_whole(&self) -> bool {
        matches!(self, Self::TooLarge | Self::Empty | Self::Utf16 | Self::NotText)
    }
}

impl Meant {
    fn remedy(&self, is_table: bool) -> String {
        let quoted =
            |names: &[String]| either(&names.iter().map(|name| format!("`{name}`")).collect::<Vec<_>>());
        match self {
            Self::Near(names) | Self::NearElsewhere(names) => format!("did you mean {}?", quoted(names)),
            Self::Elsewhere(tables) => {
                let headers: Vec<String> = tables.iter().map(|table| header(table)).collect();
                if is_table {
                    format!("write it as {}", either(&headers))
                } else {
                    format!("it belongs under {}", either(&headers))
                }
            }
            Self::Commented(header) => format!("take the # away before `{header}` too"),
            Self::Already(table) => format!("leave it out: this is {} already", header(table)),
            Self::All(names) if names.is_empty() => "take it out".to_owned(),
            Self::All(names) if is_table => format!("the tables there are: {}", names.join(", ")),
            Self::All(names) => format!("the keys there are: {}", names.join(", ")),
        }
    }
}

/// A table as its header is written; the top of the file where it has no name.
fn header(table: &str) -> String {
    match table.strip_suffix("[]") {
        Some(group) => format!("[[{group}]]"),
        None if table.is_empty() => "the top of the file, above all tables".to_owned(),
        None => format!("[{}]", table.replace("[]", "")),
    }
}

fn holder(table: &str) -> String {
    if table.is_empty() {
        "a sheet has".to_owned()
    } else {
        format!("`{table}` has")
    }
}

fn entries(count: usize) -> String {
    match count {
        0 => "no entry".to_owned(),
        1 => "1 entry".to_owned(),
        _ => format!("{count} entries"),
    }
}

fn columns_wanted(needed: usize, all: usize) -> String {
    if needed == all {
        all.to_string()
    } else {
        format!("{needed} to {all}")
    }
}

/// `a temperature and a bare number`.
fn row(columns: &[Dimension]) -> String {
    let names: Vec<&str> = columns.iter().map(|column| column.with_article()).collect();
    match names.split_last() {
        Some((last, [])) => (*last).to_owned(),
        Some((last, others)) => format!("{} and {last}", others.join(", ")),
        None => String::new(),
    }
}

/// `a, b or c`; words in quotes as they are written.
fn either<T: AsRef<str>>(choices: &[T]) -> String {
    let choices: Vec<&str> = choices.iter().map(AsRef::as_ref).collect();
    match choices.split_last() {
        Some((last, [])) => (*last).to_owned(),
        Some((last, others)) => format!("{} or {last}", others.join(", ")),
        None => String::new(),
    }
}

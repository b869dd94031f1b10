//! TOML that does not read: what is wrong, and as much of the rest as can be saved.
//!
//! The parser recovers within a line, but a bracket that is never closed swallows the rest of a file, and a word
//! without `=` ends it. So where there is any error, the text is taken apart into statements first: those that can
//! never be read are blanked out (every offset stays), and the parser reads what is left.

mod statement;

use core::ops::Range;

use toml::Spanned;
use toml::de::{DeTable, Error};
use toml_parser::Source;

pub(crate) use statement::{mend, names_in};

/// The most words, signs and line ends of a text. The parser keeps some 200 bytes for each, so that a text that is no
/// more than signs takes fifty times its size; a sheet with all that may stand on it has some thousands.
pub const MOST_SIGNS: usize = 400_000;

/// Where a text has more signs than are read.
pub(crate) fn too_many_signs(text: &str) -> Option<Range<usize>> {
    // Each has a byte at least.
    if text.len() <= MOST_SIGNS {
        return None;
    }
    let token = Source::new(text).lex().nth(MOST_SIGNS)?;
    Some(token.span().start()..token.span().end().min(text.len()))
}

/// The tree of a text, or where and why it is none.
pub(crate) fn tree(text: &str) -> Result<Spanned<DeTable<'_>>, (Range<usize>, String)> {
    if let Some(at) = too_many_signs(text) {
        return Err((at, SyntaxFault::TooManySigns.to_string()));
    }
    DeTable::parse(text).map_err(|error| (error.span().unwrap_or_default(), error.message().to_owned()))
}

/// What is wrong with the TOML of a text.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[non_exhaustive]
pub enum SyntaxFault {
    /// `[` or `{` without its end.
    #[error("this `{bracket}` is never closed")]
    Unclosed {
        /// The bracket.
        bracket: char,
    },
    /// `]` or `}` where another bracket is open, or none.
    #[error("this `{bracket}` closes nothing")]
    ClosesNothing {
        /// The bracket.
        bracket: char,
    },
    /// A quote without its end.
    #[error("these quotes are never closed")]
    UnclosedQuotes {
        /// As they would be closed.
        quotes: &'static str,
    },
    /// Curved quotes.
    #[error("these are not the quotes that a sheet is written with")]
    CurvedQuotes,
    /// A key without `=`.
    #[error("`{key}` has no `=` and no value")]
    NoEquals {
        /// What stands there.
        key: String,
    },
    /// A colon for an `=`.
    #[error("a colon follows `{key}` where `=` is wanted")]
    Colon {
        /// The key.
        key: String,
    },
    /// A key and its `=` without a value.
    #[error("nothing follows the `=`")]
    NoValue,
    /// Several words before `=`, or letters that no key has.
    #[error("`{found}` cannot be a key")]
    NotAKey {
        /// What stands there.
        found: String,
    },
    /// A header that is none.
    #[error("`{found}` is not a header")]
    NotAHeader {
        /// What stands there.
        found: String,
    },
    /// `[pedal]]`.
    #[error("the brackets of `{found}` are not alike")]
    UnlikeBrackets {
        /// What stands there.
        found: String,
        /// The table that is meant.
        table: String,
    },
    /// Two members without a comma between them.
    #[error("a comma is missing before this")]
    MissingComma,
    /// A second `=` before the comma.
    #[error("a comma is missing before the name that this `=` follows")]
    SecondEquals,
    /// `4,3` without quotes.
    #[error("a number without quotes takes a point, not this comma")]
    DecimalComma {
        /// The number as it may be written.
        meant: String,
    },
    /// A comma with nothing before it.
    #[error("there is a comma too many")]
    ExtraComma,
    /// Something behind a value that is no comment.
    #[error("the value ends before this, and only a comment may follow on its line")]
    BehindValue,
    /// A quote where no text begins or ends.
    #[error("there is a quote too many")]
    ExtraQuote,
    /// A second `=` in a line.
    #[error("there is an `=` too many")]
    ExtraEquals,
    /// A comma or semicolon at the end of a line.
    #[error("`{sign}` follows the value")]
    EndSign {
        /// The sign.
        sign: char,
    },
    /// `//`.
    #[error("a comment does not begin like this")]
    OtherComment,
    /// A key without a value, or a value without a key, in curly brackets; `=` in a list.
    #[error("this is not how the inside of brackets is written")]
    InBrackets,
    /// Brackets in brackets in brackets.
    #[error("brackets or dots are nested too deep")]
    TooDeep,
    /// More than [`MOST_SIGNS`].
    #[error("{} thousand words and signs stand before this, and a file with more is not read", MOST_SIGNS / 1000)]
    TooManySigns,
    /// A carriage return that ends no line.
    #[error("here is a carriage return by itself")]
    CarriageReturn,
    /// A control character in a comment.
    #[error("a comment holds a character that cannot be seen")]
    UnseenInComment,
    /// A control character in a text.
    #[error("this text holds a character that cannot be seen")]
    UnseenInText,
    /// A backslash that means nothing.
    #[error("the backslash in this text means nothing")]
    Escape,
    /// A key or table that stands a second time.
    #[error("`{name}` is here a second time")]
    Twice {
        /// The key or table.
        name: String,
    },
    /// Keys added to what is complete: a value, a list, or a table in curly brackets.
    #[error("`{name}` is complete above, and nothing can be added to it here")]
    Complete {
        /// The key or table.
        name: String,
    },
    /// Anything else, in the parser's words.
    #[error("this cannot be read: {message}")]
    Other {
        /// The parser's words.
        message: String,
    },
}

impl SyntaxFault {
    pub(crate) const fn slug(&self) -> &'static str {
        match self {
            Self::Unclosed { .. } => "toml-unclosed-bracket",
            Self::ClosesNothing { .. } => "toml-closes-nothing",
            Self::UnclosedQuotes { .. } => "toml-unclosed-quotes",
            Self::CurvedQuotes => "toml-curved-quotes",
            Self::NoEquals { .. } => "toml-no-equals",
            Self::Colon { .. } => "toml-colon",
            Self::NoValue => "toml-no-value",
            Self::NotAKey { .. } => "toml-not-a-key",
            Self::NotAHeader { .. } => "toml-not-a-header",
            Self::UnlikeBrackets { .. } => "toml-unlike-brackets",
            Self::MissingComma => "toml-missing-comma",
            Self::SecondEquals => "toml-second-equals",
            Self::DecimalComma { .. } => "toml-decimal-comma",
            Self::ExtraComma => "toml-extra-comma",
            Self::BehindValue => "toml-behind-value",
            Self::ExtraQuote => "toml-extra-quote",
            Self::ExtraEquals => "toml-extra-equals",
            Self::EndSign { .. } => "toml-end-sign",
            Self::OtherComment => "toml-other-comment",
            Self::InBrackets => "toml-in-brackets",
            Self::TooDeep => "toml-too-deep",
            Self::TooManySigns => "toml-too-many-signs",
            Self::CarriageReturn => "toml-carriage-return",
            Self::UnseenInComment => "toml-unseen-in-comment",
            Self::UnseenInText => "toml-unseen-in-text",
            Self::Escape => "toml-escape",
            Self::Twice { .. } => "toml-twice",
            Self::Complete { .. } => "toml-complete",
            Self::Other { .. } => "toml-other",
        }
    }

    pub(crate) fn remedy(&self) -> String {
        match self {
            Self::Unclosed { bracket: '{' } => "write `}` where the table ends".to_owned(),
            Self::Unclosed { .. } => "write `]` where the list ends".to_owned(),
            Self::ClosesNothing { .. } => "take it out, or write the bracket that it closes".to_owned(),
            Self::UnclosedQuotes { quotes } => format!("write {quotes} where the text ends"),
            Self::CurvedQuotes => "type them as the straight sign \"".to_owned(),
            Self::NoEquals { key } => {
                format!("write `{key} = ` and its value, or begin the line with # to make it a note")
            }
            Self::Colon { key } => format!("write `{key} = ` and the value"),
            Self::NoValue => "write the value, or take the line out".to_owned(),
            Self::NotAKey { .. } => {
                "a key is one word of letters, digits, _ and -, such as front_brake; dots join tables and key"
                    .to_owned()
            }
            Self::NotAHeader { .. } => {
                "a header is a name in square brackets, such as [rear_brake]; what follows it was not checked"
                    .to_owned()
            }
            Self::UnlikeBrackets { table, .. } => format!("write [{table}]"),
            Self::MissingComma | Self::SecondEquals => "write a comma between the two".to_owned(),
            Self::DecimalComma { meant } => format!("write {meant}"),
            Self::ExtraComma => "take it out".to_owned(),
            Self::ExtraQuote => "take it out; an inch sign within quotes is written in".to_owned(),
            Self::ExtraEquals => {
                "take it out: a line holds one key, and a table in one line is { key = \"a\", other_key = \"b\" }".to_owned()
            }
            Self::EndSign { .. } => "take it out: no sign ends a line".to_owned(),
            Self::OtherComment => "begin it with #".to_owned(),
            Self::BehindValue => "put text and quantities in quotes, and begin a note with #".to_owned(),
            Self::InBrackets => {
                "a list is written [\"a\", \"b\"], a table in one line { key = \"a\", other_key = \"b\" }"
                    .to_owned()
            }
            Self::TooDeep => "no key of a sheet needs that".to_owned(),
            Self::TooManySigns => "a sheet has some thousands: look whether this is the right file".to_owned(),
            Self::CarriageReturn => "save the file again with the line ends of Windows or of Unix".to_owned(),
            Self::UnseenInComment => "type the comment again in place of pasting it".to_owned(),
            Self::UnseenInText => "type the text again in place of pasting it".to_owned(),
            Self::Escape => {
                "put the text in single quotes, where a backslash is a sign like any other".to_owned()
            }
            Self::Twice { .. } => "keep one of the two".to_owned(),
            Self::Complete { .. } => "write all of it in one place".to_owned(),
            Self::Other { .. } => "look at the quotes, commas and brackets here".to_owned(),
        }
    }
}

/// What is wrong with a text as TOML, statement by statement.
#[derive(Debug, Default)]
pub(crate) struct Trouble {
    /// Faults to report whatever the text means.
    pub(crate) faults: Vec<(Range<usize>, SyntaxFault)>,
    /// Errors in a single number, date, text or flag, in order of their place: the reader of the value knows best what to say.
    scalars: Vec<(usize, Option<SyntaxFault>)>,
    /// Statements that do not mean what stands there, in order.
    spoiled: Vec<Range<usize>>,
    /// Tables (`load.item`) that a statement may have been lost from.
    pub(crate) doubtful: Vec<String>,
    /// Whether statements may have been lost from any table.
    pub(crate) all_doubtful: bool,
}

impl Trouble {
    /// Whether a statement that begins before this offset and ends behind it was not understood.
    pub(crate) fn is_spoiled(&self, offset: usize) -> bool {
        let behind = self.spoiled.partition_point(|range| range.start <= offset);
        behind > 0 && self.spoiled[behind - 1].end > offset
    }

    /// The error in a scalar that fills these bytes.
    pub(crate) fn in_scalar(&self, span: &Range<usize>) -> Option<&Option<SyntaxFault>> {
        let first = self.scalars.partition_point(|&(at, _)| at < span.start);
        self.scalars
            .get(first)
            .filter(|&&(at, _)| at <= span.end)
            .map(|(_, syntax)| syntax)
    }

    /// Errors in scalars that stand outside these bytes, for which no reader of values spoke.
    pub(crate) fn unclaimed(&self, claimed: &[Range<usize>]) -> Vec<(Range<usize>, SyntaxFault)> {
        self.scalars
            .iter()
            .filter(|&&(at, _)| {
                let behind = claimed.partition_point(|span| span.start <= at);
                behind == 0 || claimed[behind - 1].end < at
            })
            .map(|(at, syntax)| {
                let message =
                    "it is neither a number, a date, true or false, nor a text in quotes".to_owned();
                (*at..*at, syntax.clone().unwrap_or(SyntaxFault::Other { message }))
            })
            .collect()
    }

    /// Sorts the parser's errors by what they spoil. At most one is kept of a statement that is spoiled as a whole.
    pub(crate) fn sort_in(&mut self, text: &str, statements: &[Range<usize>], errors: &[Error]) {
        let mut errors: Vec<(Range<usize>, Sort)> = errors
            .iter()
            .filter_map(|error| {
                let span = error.span()?;
                let sort = sort(error.message(), text, &span);
                Some((span, sort))
            })
            .collect();
        errors.sort_by_key(|(span, _)| (span.start, span.end));
        // Of the line ends of a whole file, one stands for all.
        let mut returns = 0;
        errors.retain(|(_, sort)| {
            returns += usize::from(matches!(sort, Sort::Statement(SyntaxFault::CarriageReturn)));
            returns < 2 || !matches!(sort, Sort::Statement(SyntaxFault::CarriageReturn))
        });
        self.all_doubtful |= returns > 0;
        for group in
            errors.chunk_by(|one, other| home(statements, one.0.start) == home(statements, other.0.start))
        {
            let whole = group.iter().find(|(_, sort)| matches!(sort, Sort::Statement(_)));
            let statement = group.first().and_then(|(span, _)| home(statements, span.start));
            if let (Some((span, Sort::Statement(syntax))), Some(statement)) = (whole, statement) {
                self.faults.push((span.clone(), syntax.clone()));
                self.spoiled.push(statements[statement].clone());
                continue;
            }
            for (span, sort) in group {
                match sort {
                    Sort::Statement(syntax) | Sort::Aside(syntax) => {
                        self.faults.push((span.clone(), syntax.clone()))
                    }
                    Sort::Scalar(syntax) => self.scalars.push((span.start, syntax.clone())),
                }
            }
        }
    }
}

/// The statement that an offset stands in.
fn home(statements: &[Range<usize>], offset: usize) -> Option<usize> {
    statements
        .partition_point(|range| range.start <= offset)
        .checked_sub(1)
}

/// How much of a statement an error spoils.
enum Sort {
    Statement(SyntaxFault),
    Scalar(Option<SyntaxFault>),
    Aside(SyntaxFault),
}

fn sort(message: &str, text: &str, span: &Range<usize>) -> Sort {
    let found = text.get(span.clone()).unwrap_or_default();
    let is = |starts: &[&str]| starts.iter().any(|start| message.starts_with(start));
    if is(&["duplicate key"]) {
        return Sort::Aside(SyntaxFault::Twice {
            name: crate::source::clipped(found),
        });
    }
    if is(&["cannot extend value"]) {
        return Sort::Aside(SyntaxFault::Complete {
            name: crate::source::clipped(found),
        });
    }
    if is(&["invalid comment character", "unexpected content between comment"]) {
        return Sort::Aside(SyntaxFault::UnseenInComment);
    }
    if is(&["missing comma"]) {
        return Sort::Statement(SyntaxFault::MissingComma);
    }
    if is(&["extra `=`"]) {
        return Sort::Statement(SyntaxFault::ExtraEquals);
    }
    if is(&["extra assignment"]) {
        return Sort::Statement(SyntaxFault::SecondEquals);
    }
    if is(&["extra comma"]) {
        return Sort::Statement(SyntaxFault::ExtraComma);
    }
    if is(&["unexpected key or value", "unexpected content"]) {
        return Sort::Statement(behind_value(text, span.start));
    }
    if is(&["cannot recurse", "recursion limit"]) {
        return Sort::Statement(SyntaxFault::TooDeep);
    }
    if is(&["carriage return"]) {
        return Sort::Statement(SyntaxFault::CarriageReturn);
    }
    if is(&["unquoted keys", "invalid unquoted key", "keys cannot be"]) {
        return Sort::Statement(SyntaxFault::NotAKey {
            found: crate::source::clipped(found),
        });
    }
    if is(&[
        "unexpected `=`",
        "missing key",
        "invalid inline table",
        "missing value",
        "key with no value",
        "missing assignment",
        "unclosed",
        "invalid key-value",
    ]) {
        return Sort::Statement(SyntaxFault::InBrackets);
    }
    if is(&["invalid basic string", "invalid multi-line basic string"]) && message.ends_with("`\"`") {
        return Sort::Scalar(Some(SyntaxFault::UnclosedQuotes { quotes: "\"" }));
    }
    if is(&["invalid literal string", "invalid multi-line literal string"]) && message.ends_with("`'`") {
        return Sort::Scalar(Some(SyntaxFault::UnclosedQuotes { quotes: "'" }));
    }
    if is(&[
        "missing escaped value",
        "too few unicode",
        "invalid escape",
        "invalid value",
    ]) {
        return Sort::Scalar(Some(SyntaxFault::Escape));
    }
    if is(&[
        "invalid basic string",
        "invalid literal string",
        "invalid multi-line",
    ]) {
        return Sort::Scalar(Some(SyntaxFault::UnseenInText));
    }
    Sort::Scalar(None)
}

/// What stands behind a value on its line and is no comment.
fn behind_value(text: &str, at: usize) -> SyntaxFault {
    if let Some(meant) = with_a_point(text, at) {
        return SyntaxFault::DecimalComma { meant };
    }
    let rest = text
        .get(at..)
        .unwrap_or_default()
        .lines()
        .next()
        .unwrap_or_default()
        .trim_end();
    match rest.chars().next() {
        Some(sign @ (',' | ';')) if rest.len() == 1 || rest[1..].trim_start().starts_with('#') => {
            SyntaxFault::EndSign { sign }
        }
        Some('"' | '\'') if rest.len() == 1 || rest[1..].trim_start().starts_with('#') => {
            SyntaxFault::ExtraQuote
        }
        Some('=') => SyntaxFault::ExtraEquals,
        Some('/') => SyntaxFault::OtherComment,
        _ => SyntaxFault::BehindValue,
    }
}

/// The number that a comma stands in, with a point.
fn with_a_point(text: &str, comma: usize) -> Option<String> {
    let (before, behind) = (text.get(..comma)?, text.get(comma..)?.strip_prefix(',')?);
    let whole: Vec<char> = before.chars().rev().take_while(char::is_ascii_digit).collect();
    let part: String = behind.chars().take_while(char::is_ascii_digit).collect();
    (!whole.is_empty() && !part.is_empty() && whole.len() + part.len() < 20)
        .then(|| format!("{}.{part}", whole.into_iter().rev().collect::<String>()))
}

#[cfg(test)]
mod tests {
    use toml::de::DeTable;

    /// Texts that do not read, each with the words that [`sort`](super::sort) knows the parser's error by: another release of the
    /// parser that says it otherwise is noticed here, and not by whoever made the slip.
    #[test]
    fn the_parser_says_what_is_looked_for() {
        let deep = format!("a = {}\n", "[".repeat(500));
        let slips = [
            ("a = 1\na = 2\n", "duplicate key"),
            ("a = 1\n[a.b]\nc = 2\n", "cannot extend value"),
            ("a = 1 # \u{1}\n", "invalid comment character"),
            ("a = [\"1\" \"2\"]\n", "missing comma"),
            ("a = {b = 1 c = 2}\n", "missing comma"),
            ("a = = 1\n", "extra `=`"),
            ("a = {b = = 1}\n", "extra assignment"),
            ("a = [1,,2]\n", "extra comma"),
            ("a = {b = 1,,}\n", "extra comma"),
            ("[a] b\n", "unexpected key or value"),
            (deep.as_str(), "cannot recurse"),
            ("a = 1\rb = 2\n", "carriage return"),
            ("= 1\n", "unquoted keys"),
            ("a$ = 1\n", "invalid unquoted key"),
            ("\"\"\"a\"\"\" = 1\n", "keys cannot be"),
            ("a = [=]\n", "unexpected `=`"),
            ("a\n", "key with no value"),
            ("a = {b 1}\n", "missing assignment"),
            ("a = [1\n", "unclosed"),
            ("[a\n", "unclosed"),
            ("a = \"x\n", "invalid basic string"),
            ("a = 'x\n", "invalid literal string"),
            ("a = \"\"\"x\n", "invalid multi-line basic string"),
            ("a = '''x\n", "invalid multi-line literal string"),
            ("a = \"\\q\"\n", "missing escaped value"),
            ("a = \"\\u12\"\n", "too few unicode"),
            ("a = \"\\uD800\"\n", "invalid value"),
        ];
        let mut other = Vec::new();
        for (text, phrase) in slips {
            let (_, errors) = DeTable::parse_recoverable(text);
            if !errors.iter().any(|error| error.message().starts_with(phrase)) {
                let said: Vec<&str> = errors.iter().map(|error| error.message()).collect();
                other.push(format!(
                    "{:?}: {said:?}, not {phrase}",
                    text.get(..20).unwrap_or(text)
                ));
            }
        }
        assert!(other.is_empty(), "{other:#?}");
    }
}

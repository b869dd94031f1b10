//! A text taken apart into statements: headers, and keys with their values.

use core::ops::Range;

use toml_parser::Source;
use toml_parser::lexer::{Token, TokenKind};

use super::{SyntaxFault, Trouble};
use crate::layout;
use crate::source::clipped;

/// The most names that dots may join in a key or header.
const MOST_NAMES: usize = 16;
/// Brackets that no header has, but that a person may write one with.
const BRACKETS: &[(char, char)] = &[('{', '}'), ('(', ')'), ('<', '>')];
/// The most brackets in brackets.
const DEEPEST: usize = 60;

/// A text of which every statement can be read by the parser, at least in part.
pub(crate) struct Mended {
    /// As long as the text was; what cannot be read is blank.
    pub(crate) text: String,
    /// Where the statements stand, in order.
    pub(crate) statements: Vec<Range<usize>>,
}

/// Blanks out the statements that cannot be read.
pub(crate) fn mend(text: &str) -> (Mended, Trouble) {
    let mut mender = Mender {
        text,
        section: String::new(),
        skipping: false,
        trouble: Trouble::default(),
        blank: Vec::new(),
        statements: Vec::new(),
    };
    let mut from = 0;
    while let Some(next) = mender.run(from) {
        from = next;
    }
    let mut bytes = text.as_bytes().to_vec();
    for range in &mender.blank {
        for byte in &mut bytes[range.clone()] {
            if !matches!(*byte, b'\n' | b'\r') {
                *byte = b' ';
            }
        }
    }
    let mended = String::from_utf8_lossy(&bytes).into_owned();
    (
        Mended {
            text: mended,
            statements: mender.statements,
        },
        mender.trouble,
    )
}

struct Mender<'a> {
    text: &'a str,
    /// The table that the header last read opened.
    section: String,
    /// Whether that header could not be read, so that nobody knows what its keys mean.
    skipping: bool,
    trouble: Trouble,
    blank: Vec<Range<usize>>,
    statements: Vec<Range<usize>>,
}

/// The tokens of one statement and how it ended.
struct Scan {
    /// One behind its last token.
    end: usize,
    /// What makes it unreadable, and where.
    flaw: Option<(Range<usize>, SyntaxFault)>,
    /// Start again behind this offset: the lexer was led astray.
    astray: Option<usize>,
}

impl Mender<'_> {
    /// Takes the text apart from an offset on. Ends early, with the offset to go on from, where a quote that is never
    /// closed led the lexer astray.
    fn run(&mut self, from: usize) -> Option<usize> {
        let tokens: Vec<Token> = Source::new(&self.text[from..]).lex().collect();
        let mut at = 0;
        while let Some(token) = tokens.get(at) {
            match token.kind() {
                TokenKind::Whitespace | TokenKind::Newline | TokenKind::Comment => at += 1,
                TokenKind::Eof => return None,
                _ => {
                    let scan = self.scan(&tokens, at, from);
                    self.settle(&tokens[at..scan.end], from, scan.flaw);
                    if let Some(next) = scan.astray {
                        return Some(next);
                    }
                    at = scan.end;
                }
            }
        }
        None
    }

    /// Finds where the statement ends that begins with the token `first`.
    fn scan(&self, tokens: &[Token], first: usize, from: usize) -> Scan {
        let mut open: Vec<&Token> = Vec::new();
        let mut quotes: Option<(Range<usize>, SyntaxFault)> = None;
        let mut last_kind = tokens[first].kind();
        let is_header = last_kind == TokenKind::LeftSquareBracket;
        for (at, token) in tokens.iter().enumerate().skip(first) {
            let span = span_of(token, from);
            match token.kind() {
                TokenKind::Newline | TokenKind::Eof if open.is_empty() || is_header => {
                    return Scan {
                        end: at,
                        flaw: quotes,
                        astray: None,
                    };
                }
                TokenKind::Eof => {
                    return Scan {
                        end: at,
                        flaw: quotes.or(unclosed(&open, from)),
                        astray: None,
                    };
                }
                TokenKind::Newline
                    if open.last().is_some_and(|bracket| {
                        begins_statement(&tokens[at + 1..], bracket.kind(), last_kind)
                    }) =>
                {
                    return Scan {
                        end: at,
                        flaw: quotes.or(unclosed(&open, from)),
                        astray: None,
                    };
                }
                TokenKind::LeftSquareBracket | TokenKind::LeftCurlyBracket => {
                    open.push(token);
                    if open.len() > DEEPEST && !is_header {
                        let end = tokens[at..]
                            .iter()
                            .position(|token| matches!(token.kind(), TokenKind::Newline | TokenKind::Eof));
                        return Scan {
                            end: at + end.unwrap_or(0),
                            flaw: Some((span, SyntaxFault::TooDeep)),
                            astray: None,
                        };
                    }
                }
                kind @ (TokenKind::RightSquareBracket | TokenKind::RightCurlyBracket) => {
                    let wanted = if kind == TokenKind::RightSquareBracket {
                        TokenKind::LeftSquareBracket
                    } else {
                        TokenKind::LeftCurlyBracket
                    };
                    if open.last().is_some_and(|open| open.kind() == wanted) {
                        open.pop();
                    } else if !is_header {
                        let bracket = if kind == TokenKind::RightSquareBracket {
                            ']'
                        } else {
                            '}'
                        };
                        quotes.get_or_insert((span, SyntaxFault::ClosesNothing { bracket }));
                    }
                }
                kind @ (TokenKind::MlBasicString | TokenKind::MlLiteralString) => {
                    let quote = if kind == TokenKind::MlBasicString {
                        "\"\"\""
                    } else {
                        "'''"
                    };
                    let raw = &self.text[span.clone()];
                    if raw.len() < 6 || !raw.ends_with(quote) {
                        let line_end = raw.find('\n').map_or(span.end, |newline| span.start + newline);
                        let flaw = (
                            span.start..span.start + 3,
                            SyntaxFault::UnclosedQuotes { quotes: quote },
                        );
                        return Scan {
                            end: at + 1,
                            flaw: Some(flaw),
                            astray: Some(line_end),
                        };
                    }
                }
                kind @ (TokenKind::BasicString | TokenKind::LiteralString) => {
                    let quote = if kind == TokenKind::BasicString { "\"" } else { "'" };
                    let raw = &self.text[span.clone()];
                    if !open.is_empty() && (raw.len() < 2 || !raw.ends_with(quote)) {
                        quotes.get_or_insert((span, SyntaxFault::UnclosedQuotes { quotes: quote }));
                    }
                }
                _ => {}
            }
            if !matches!(
                token.kind(),
                TokenKind::Whitespace | TokenKind::Comment | TokenKind::Newline
            ) {
                last_kind = token.kind();
            }
        }
        Scan {
            end: tokens.len(),
            flaw: quotes,
            astray: None,
        }
    }

    /// Notes a statement, or blanks it out.
    fn settle(&mut self, tokens: &[Token], from: usize, flaw: Option<(Range<usize>, SyntaxFault)>) {
        let (Some(first), Some(last)) = (tokens.first(), tokens.last()) else {
            return;
        };
        let mut range = span_of(first, from).start..span_of(last, from).end;
        if let Some((
            _,
            SyntaxFault::UnclosedQuotes {
                quotes: "\"\"\"" | "'''",
            },
        )) = flaw
        {
            let line = self.text[range.clone()]
                .find('\n')
                .map_or(range.end, |newline| range.start + newline);
            range.end = line.max(range.start);
        }
        let is_odd_header = matches!(self.text[range.clone()].trim_end(), line if BRACKETS.iter().any(|&(open, close)| {
            line.starts_with(open) && line.ends_with(close) && !line.contains('=')
        }));
        if first.kind() == TokenKind::LeftSquareBracket || is_odd_header {
            self.header(tokens, from, range);
            return;
        }
        if self.skipping {
            self.blank.push(range);
            return;
        }
        match flaw.or_else(|| self.key_flaw(tokens, from)) {
            None => self.statements.push(range),
            Some((span, syntax)) => {
                self.trouble.faults.push((span, syntax));
                self.trouble.doubtful.push(self.section.clone());
                self.blank.push(range);
            }
        }
    }

    fn header(&mut self, tokens: &[Token], from: usize, range: Range<usize>) {
        let solid: Vec<&Token> = tokens
            .iter()
            .filter(|token| !matches!(token.kind(), TokenKind::Whitespace | TokenKind::Comment))
            .collect();
        let count = |kind: TokenKind, tokens: &mut dyn Iterator<Item = &&Token>| {
            tokens.take_while(|token| token.kind() == kind).take(2).count()
        };
        let opening = count(TokenKind::LeftSquareBracket, &mut solid.iter());
        let closing = count(TokenKind::RightSquareBracket, &mut solid.iter().rev());
        let names = solid
            .get(opening..solid.len().saturating_sub(closing))
            .unwrap_or_default();
        let is_named = is_path(names) && names.len() < 2 * MOST_NAMES && self.are_names(names, from);
        if closing > 0 && is_named {
            let path: String = names
                .iter()
                .map(|token| self.text[span_of(token, from)].trim_matches(['"', '\'']))
                .collect();
            // Of a table that stands once, brackets that are not alike mean single ones.
            let is_repaired = opening == closing || table_that_stands_once(&path);
            if is_repaired {
                if opening != closing {
                    let extra = if opening > closing {
                        solid.first()
                    } else {
                        solid.last()
                    };
                    let span = range.start..span_of(solid[solid.len() - 1], from).end;
                    let found = clipped(&self.text[span.clone()]);
                    self.trouble.faults.push((
                        span,
                        SyntaxFault::UnlikeBrackets {
                            found,
                            table: path.clone(),
                        },
                    ));
                    self.blank.extend(extra.map(|token| span_of(token, from)));
                }
                self.section = path;
                self.skipping = false;
                self.statements.push(range);
                return;
            }
        }
        let span = range.start..solid.last().map_or(range.end, |token| span_of(token, from).end);
        let found = clipped(&self.text[span.clone()]);
        self.trouble
            .faults
            .push((span, SyntaxFault::NotAHeader { found }));
        self.trouble.all_doubtful = true;
        self.skipping = true;
        self.blank.push(range);
    }

    /// What makes a line that is no header unreadable as a whole: there is no key, or no `=`.
    fn key_flaw(&self, tokens: &[Token], from: usize) -> Option<(Range<usize>, SyntaxFault)> {
        let solid: Vec<&Token> = tokens
            .iter()
            .filter(|token| !matches!(token.kind(), TokenKind::Whitespace | TokenKind::Comment))
            .collect();
        let equals = solid.iter().position(|token| token.kind() == TokenKind::Equals);
        let (first, last) = (solid.first()?, solid.last()?);
        let start = span_of(first, from).start;
        let word = &self.text[span_of(first, from)];
        let Some(equals) = equals else {
            if let Some((key, _)) = self.text[start..span_of(last, from).end].split_once(':') {
                let span = start..start + key.len() + 1;
                return Some((
                    span,
                    SyntaxFault::Colon {
                        key: clipped(key.trim_end()),
                    },
                ));
            }
            return Some((
                start..span_of(last, from).end,
                SyntaxFault::NoEquals { key: clipped(word) },
            ));
        };
        let key = &solid[..equals];
        let end = key.last().map_or(start, |token| span_of(token, from).end);
        if !is_path(key) || key.len() >= 2 * MOST_NAMES || !self.are_names(key, from) {
            let found = self.text[start..end].trim_end();
            if found.contains(['“', '”', '„', '‘', '’', '«', '»']) {
                return Some((start..end, SyntaxFault::CurvedQuotes));
            }
            return Some((
                start..end,
                SyntaxFault::NotAKey {
                    found: clipped(if found.is_empty() { "=" } else { found }),
                },
            ));
        }
        let value = solid.get(equals + 1);
        let Some(value) = value else {
            let equals = span_of(solid[equals], from);
            return Some((equals, SyntaxFault::NoValue));
        };
        let value = span_of(value, from);
        if self.text[value.clone()].starts_with(['“', '”', '„', '‘', '’', '«', '»']) {
            return Some((value.start..span_of(last, from).end, SyntaxFault::CurvedQuotes));
        }
        None
    }

    /// Whether bare words consist of the letters that a bare key may have.
    fn are_names(&self, tokens: &[&Token], from: usize) -> bool {
        tokens
            .iter()
            .filter(|token| token.kind() == TokenKind::Atom)
            .all(|token| {
                self.text[span_of(token, from)]
                    .chars()
                    .all(|c| c.is_ascii_alphanumeric() || matches!(c, '_' | '-'))
            })
    }
}

fn span_of(token: &Token, from: usize) -> Range<usize> {
    from + token.span().start()..from + token.span().end()
}

fn unclosed(open: &[&Token], from: usize) -> Option<(Range<usize>, SyntaxFault)> {
    let token = open.last()?;
    let bracket = if token.kind() == TokenKind::LeftCurlyBracket {
        '{'
    } else {
        '['
    };
    Some((span_of(token, from), SyntaxFault::Unclosed { bracket }))
}

/// Whether a path names a table that stands once.
fn table_that_stands_once(path: &str) -> bool {
    let mut node = layout::sheet();
    for name in path.split('.') {
        match node.child(name) {
            Some(child) if child.is_table() && !child.repeats => node = child,
            _ => return false,
        }
    }
    true
}

/// Names joined by dots.
fn is_path(tokens: &[&Token]) -> bool {
    let is_name = |kind| {
        matches!(
            kind,
            TokenKind::Atom | TokenKind::BasicString | TokenKind::LiteralString
        )
    };
    tokens.len() % 2 == 1
        && tokens.iter().enumerate().all(|(at, token)| {
            if at % 2 == 0 {
                is_name(token.kind())
            } else {
                token.kind() == TokenKind::Dot
            }
        })
}

/// Whether a line within a bracket reads as a statement of its own, so that the bracket must have been left open
/// before it: a header, or a key with `=` where the bracket cannot hold one.
fn begins_statement(tokens: &[Token], bracket: TokenKind, before: TokenKind) -> bool {
    let mut solid = tokens
        .iter()
        .map(Token::kind)
        .filter(|kind| *kind != TokenKind::Whitespace);
    let Some(first) = solid.next() else { return false };
    match first {
        TokenKind::LeftSquareBracket => {
            let mut kind = solid.next();
            if kind == Some(TokenKind::LeftSquareBracket) {
                kind = solid.next();
            }
            let mut named = false;
            while let Some(TokenKind::Atom | TokenKind::Dot) = kind {
                named = true;
                kind = solid.next();
            }
            let mut closed = false;
            while kind == Some(TokenKind::RightSquareBracket) {
                closed = true;
                kind = solid.next();
            }
            named
                && closed
                && matches!(
                    kind,
                    Some(TokenKind::Newline | TokenKind::Comment | TokenKind::Eof)
                )
        }
        TokenKind::Atom | TokenKind::BasicString | TokenKind::LiteralString => {
            let mut kind = solid.next();
            while let Some(TokenKind::Dot | TokenKind::Atom) = kind {
                kind = solid.next();
            }
            let may_hold_keys = bracket == TokenKind::LeftCurlyBracket
                && matches!(before, TokenKind::Comma | TokenKind::LeftCurlyBracket);
            kind == Some(TokenKind::Equals) && !may_hold_keys
        }
        _ => false,
    }
}

/// Where the names stand that dots join in a header, or in the key of a statement.
pub(crate) fn names_in(text: &str, statement: &Range<usize>) -> Vec<Range<usize>> {
    let is_header = text[statement.clone()].starts_with('[');
    Source::new(&text[statement.clone()])
        .lex()
        .take_while(|token| match token.kind() {
            TokenKind::Equals => false,
            TokenKind::RightSquareBracket => !is_header,
            _ => true,
        })
        .filter(|token| {
            matches!(
                token.kind(),
                TokenKind::Atom | TokenKind::BasicString | TokenKind::LiteralString
            )
        })
        .map(|token| span_of(&token, statement.start))
        .collect()
}

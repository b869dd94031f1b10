//! A text as statements and tokens, for edits that have to find their way between them.

use core::ops::Range;

use toml_parser::Source;
use toml_parser::lexer::{Token, TokenKind};

use crate::syntax::mend;

pub(super) struct Outline<'a> {
    text: &'a str,
    statements: Vec<Range<usize>>,
}

/// The inside of a table in curly brackets.
pub(super) struct Inside {
    /// Where its last sign ends, and whether that is a comma; nothing where it is empty.
    pub(super) last: Option<(usize, bool)>,
}

impl<'a> Outline<'a> {
    pub(super) fn new(text: &'a str) -> Self {
        Self {
            text,
            statements: mend(text).0.statements,
        }
    }

    /// As the file ends its lines.
    pub(super) fn newline(&self) -> &'static str {
        match self.text.find('\n') {
            Some(at) if self.text[..at].ends_with('\r') => "\r\n",
            _ => "\n",
        }
    }

    fn is_header(&self, statement: &Range<usize>) -> bool {
        self.text[statement.clone()].starts_with('[')
    }

    pub(super) fn statement_at(&self, offset: usize) -> Option<Range<usize>> {
        let behind = self
            .statements
            .partition_point(|statement| statement.start <= offset);
        self.statements
            .get(behind.checked_sub(1)?)
            .filter(|statement| statement.end >= offset)
            .cloned()
    }

    pub(super) fn first_header(&self) -> Option<usize> {
        self.statements
            .iter()
            .find(|statement| self.is_header(statement))
            .map(|header| self.line_start(header.start))
    }

    pub(super) fn last_above_headers(&self) -> Option<&Range<usize>> {
        self.statements
            .iter()
            .take_while(|statement| !self.is_header(statement))
            .last()
    }

    /// The statements between a header and the next.
    pub(super) fn section(&self, header: &Range<usize>) -> impl Iterator<Item = &Range<usize>> {
        let first = self
            .statements
            .partition_point(|statement| statement.start <= header.start);
        self.statements[first..]
            .iter()
            .take_while(|statement| !self.is_header(statement))
    }

    /// A header and all lines up to the next, but for comments that stand right above that.
    pub(super) fn whole_section(&self, header: &Range<usize>) -> Range<usize> {
        let start = self.line_start(header.start);
        let first = self
            .statements
            .partition_point(|statement| statement.start <= header.start);
        let Some(next) = self.statements[first..]
            .iter()
            .find(|statement| self.is_header(statement))
        else {
            return start..self.text.len();
        };
        let mut end = self.line_start(next.start);
        loop {
            let above = self.line_start(end.saturating_sub(1));
            let is_comment =
                above > start && above < end && self.text[above..end].trim_start().starts_with('#');
            if !is_comment {
                return start..end;
            }
            end = above;
        }
    }

    /// All lines of a statement, with its comment and the end of its last line.
    pub(super) fn lines(&self, statement: &Range<usize>) -> Range<usize> {
        let end = self.text[statement.end..]
            .find('\n')
            .map_or(self.text.len(), |newline| statement.end + newline + 1);
        self.line_start(statement.start)..end
    }

    fn line_start(&self, offset: usize) -> usize {
        let start = self.text[..offset].rfind('\n').map_or(0, |newline| newline + 1);
        let mark = '\u{feff}'.len_utf8();
        if start == 0 && self.text.starts_with('\u{feff}') {
            mark.min(offset)
        } else {
            start
        }
    }

    /// The first name of a statement's key.
    pub(super) fn first_name(&self, statement: &Range<usize>) -> &'a str {
        let text = &self.text[statement.clone()];
        text.split(['.', '='])
            .next()
            .unwrap_or(text)
            .trim()
            .trim_matches(['"', '\''])
    }

    /// A key and its value as they stand on a line like this one: as far in, and `=` in the same column.
    pub(super) fn line_like(&self, statement: &Range<usize>, name: &str, raw: &str) -> String {
        let indent = &self.text[self.line_start(statement.start)..statement.start];
        let key = self.text[statement.clone()].split('=').next().unwrap_or_default();
        let width = key.chars().count().saturating_sub(1);
        let behind = if self.text[statement.clone()][key.len()..].starts_with("= ") {
            " "
        } else {
            ""
        };
        let before = if key.ends_with([' ', '\t']) { " " } else { "" };
        format!("{indent}{name:<width$}{before}={behind}{raw}")
    }

    /// A name in a key with the names that dots join before it.
    pub(super) fn dotted_prefix(&self, name: &Range<usize>) -> Option<Range<usize>> {
        let statement = self.statement_at(name.start)?;
        let tokens = self.tokens(&statement);
        let at = tokens.iter().position(|(_, span)| span.start == name.start)?;
        let mut start = name.start;
        let mut joined = false;
        for (kind, span) in tokens[..at].iter().rev() {
            match kind {
                TokenKind::Dot => joined = true,
                TokenKind::Atom | TokenKind::BasicString | TokenKind::LiteralString if joined => {
                    start = span.start;
                    joined = false;
                }
                TokenKind::Whitespace => {}
                _ => break,
            }
        }
        Some(start..name.end)
    }

    /// Statements in the same section whose key begins so.
    pub(super) fn all_with_prefix(
        &self,
        like: &Range<usize>,
        prefix: &str,
    ) -> impl Iterator<Item = Range<usize>> {
        let header = self
            .statements
            .iter()
            .rev()
            .find(|statement| statement.start < like.start && self.is_header(statement));
        let from = header.map_or(0, |header| header.end);
        self.statements
            .iter()
            .skip_while(move |statement| statement.start < from)
            .take_while(|statement| !self.is_header(statement))
            .filter(move |statement| {
                self.text[(*statement).clone()]
                    .strip_prefix(prefix)
                    .is_some_and(|rest| rest.trim_start().starts_with('.'))
            })
            .cloned()
    }

    pub(super) fn last_with_prefix(&self, like: &Range<usize>, prefix: &str) -> Option<Range<usize>> {
        self.all_with_prefix(like, prefix).last()
    }

    /// Tokens of a part of the text, with their bytes.
    fn tokens(&self, part: &Range<usize>) -> Vec<(TokenKind, Range<usize>)> {
        let span = |token: &Token| part.start + token.span().start()..part.start + token.span().end();
        Source::new(&self.text[part.clone()])
            .lex()
            .map(|token| (token.kind(), span(&token)))
            .collect()
    }

    /// The solid tokens of a part of the text.
    fn solid(&self, part: &Range<usize>) -> Vec<(TokenKind, Range<usize>)> {
        let mut tokens = self.tokens(part);
        tokens.retain(|(kind, _)| {
            !matches!(
                kind,
                TokenKind::Whitespace | TokenKind::Comment | TokenKind::Newline | TokenKind::Eof
            )
        });
        tokens
    }

    pub(super) fn inside(&self, table: &Range<usize>) -> Option<Inside> {
        let tokens = self.solid(table);
        let (last, inner) = tokens.split_last()?;
        if last.0 != TokenKind::RightCurlyBracket || inner.is_empty() {
            return None;
        }
        let last = inner.last().filter(|_| inner.len() > 1);
        Some(Inside {
            last: last.map(|(kind, span)| (span.end, *kind == TokenKind::Comma)),
        })
    }

    /// The curly brackets in a statement that an offset stands directly in.
    pub(super) fn enclosing_brackets(&self, statement: &Range<usize>, offset: usize) -> Option<Range<usize>> {
        let mut open = Vec::new();
        let mut found: Option<Range<usize>> = None;
        for (kind, span) in self.tokens(statement) {
            match kind {
                TokenKind::LeftCurlyBracket => open.push(span.start),
                TokenKind::RightCurlyBracket => {
                    let start = open.pop()?;
                    let here = start..span.end;
                    if here.contains(&offset) && found.as_ref().is_none_or(|found| here.len() < found.len()) {
                        found = Some(here);
                    }
                }
                _ => {}
            }
        }
        found
    }

    /// What to take out of a table in curly brackets for a member to be gone; `Some(None)` where it is the only one.
    pub(super) fn member(&self, table: &Range<usize>, member: &Range<usize>) -> Option<Option<Range<usize>>> {
        let tokens = self.solid(table);
        let before = tokens.iter().rev().find(|(_, span)| span.end <= member.start)?;
        let behind = tokens.iter().find(|(_, span)| span.start >= member.end)?;
        Some(match (before.0, behind.0) {
            (TokenKind::Comma, _) => Some(before.1.start..member.end),
            (_, TokenKind::Comma) => {
                let next = tokens.iter().find(|(_, span)| span.start >= behind.1.end)?;
                (next.0 != TokenKind::RightCurlyBracket).then(|| {
                    let blanks = self.text[behind.1.end..next.1.start]
                        .chars()
                        .take_while(|c| matches!(c, ' ' | '\t'))
                        .count();
                    member.start..behind.1.end + blanks
                })
            }
            _ => None,
        })
    }

    /// The key that a table in curly brackets is the value of.
    pub(super) fn key_of(&self, statement: &Range<usize>, table: &Range<usize>) -> Option<Range<usize>> {
        let tokens = self.solid(statement);
        let at = tokens.iter().position(|(_, span)| span.start == table.start)?;
        (tokens.get(at.checked_sub(1)?)?.0 == TokenKind::Equals)
            .then(|| tokens.get(at - 2).map(|(_, span)| span.clone()))?
    }
}

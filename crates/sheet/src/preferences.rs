//! `preferences.toml`: a person's own choices, kept beside the cars. Keys of the file that are not asked for stay alone.

use toml::de::{DeTable, DeValue};

/// The value of a key at the top of the file; `None` where it is not there or is no text.
///
/// # Errors
/// The file is no TOML: line, and what is wrong there.
pub fn preference(text: &str, key: &str) -> Result<Option<String>, String> {
    let table = parsed(text)?;
    Ok(table
        .get_ref()
        .get(key)
        .and_then(|value| value.get_ref().as_str())
        .map(str::to_owned))
}

/// The text of the file with a key at its top set, and every other byte as it was.
///
/// # Errors
/// The file is no TOML: line, and what is wrong there.
pub fn with_preference(text: &str, key: &str, value: &str) -> Result<String, String> {
    let table = parsed(text)?;
    let written = crate::splice::quoted(value);
    let place = table.get_ref().get(key).map(toml::Spanned::span);
    let set = match place {
        Some(span) => format!("{}{written}{}", &text[..span.start], &text[span.end..]),
        None => {
            let line = format!("{key} = {written}\n");
            // Before the first table; behind a comment that stands at the head of the file.
            let first_table = table
                .get_ref()
                .iter()
                .filter(|(_, value)| matches!(value.get_ref(), DeValue::Table(_) | DeValue::Array(_)))
                .map(|(name, _)| line_start(text, name.span().start))
                .min()
                .unwrap_or(text.len());
            let before = &text[..first_table];
            let break_line = if before.is_empty() || before.ends_with('\n') {
                ""
            } else {
                "\n"
            };
            format!("{before}{break_line}{line}{}", &text[first_table..])
        }
    };
    // What was written has to read back as it was meant.
    match preference(&set, key)? {
        Some(kept) if kept == value => Ok(set),
        _ => Err(format!(
            "`{key}` cannot be written into this file without changing more of it"
        )),
    }
}

fn parsed(text: &str) -> Result<toml::Spanned<DeTable<'_>>, String> {
    crate::syntax::tree(text).map_err(|(span, what)| {
        let at = span.start.min(text.len());
        let line = text.as_bytes()[..at]
            .iter()
            .filter(|byte| **byte == b'\n')
            .count()
            + 1;
        format!("line {line}: {what}")
    })
}

fn line_start(text: &str, at: usize) -> usize {
    text[..at].rfind('\n').map_or(0, |newline| newline + 1)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_choice_is_replaced_where_it_stands_and_nothing_else_changes() {
        let text = "# mine\r\nunits = \"bar\" # for the gauge\r\n\r\n[prices]\r\n\"banjo\" = 3.5\r\n";
        let set = with_preference(text, "units", "psi,in").unwrap();
        assert_eq!(set, text.replace("\"bar\"", "\"psi,in\""));
        assert_eq!(preference(&set, "units").unwrap().as_deref(), Some("psi,in"));
    }

    #[test]
    fn a_choice_that_is_not_there_is_written_before_the_first_table() {
        let set = with_preference("# mine\n[prices]\nbanjo = 3\n", "units", "psi").unwrap();
        assert_eq!(set, "# mine\nunits = \"psi\"\n[prices]\nbanjo = 3\n");
        assert_eq!(with_preference("", "paper", "A4").unwrap(), "paper = \"A4\"\n");
        assert_eq!(
            with_preference("paper = \"A4\"", "units", "psi").unwrap(),
            "paper = \"A4\"\nunits = \"psi\"\n"
        );
        let inline = with_preference("prices = { banjo = 3 }\n", "units", "psi").unwrap();
        assert_eq!(preference(&inline, "units").unwrap().as_deref(), Some("psi"));
    }

    #[test]
    fn a_file_that_does_not_read_is_left_alone_and_the_line_named() {
        let told = with_preference("units = \"bar\"\nunits = \n", "units", "psi").unwrap_err();
        assert!(told.starts_with("line 2:"), "{told}");
        assert_eq!(preference("units = 3", "units"), Ok(None));
    }
}

use std::io::{self, Write};

use crate::row::{Block, Status};

/// Widest line.
const WIDTH: usize = 118;
/// Of the column of quantities.
const QUANTITY: usize = 50;

/// Prints every row under its source, at most 118 columns wide, and at the end what does not hold.
///
/// # Errors
/// What the writer says.
pub fn print(out: &mut impl Write, blocks: &[Block]) -> io::Result<()> {
    let (mut known, mut off) = (0, 0);
    for block in blocks {
        writeln!(out)?;
        paragraph(out, "", &format!("{}: {}", block.folder, block.source))?;
        if let Some(inputs_are) = block.inputs_are {
            writeln!(out, "  inputs: {inputs_are}")?;
        }
        if let Some(note) = &block.note {
            paragraph(out, "  ", note)?;
        }
        line(
            out,
            "",
            "status",
            "quantity",
            ["expected", "got", "off by", "allowed"],
        )?;
        for row in &block.rows {
            known += usize::from(row.known_failure.is_some());
            off += usize::from(!row.holds());
            let mark = match (row.holds(), &row.known_failure) {
                (true, None) if !row.counts() => "def",
                (true, None) => "",
                (true, Some(_)) => "known",
                (false, _) => "OFF",
            };
            let figures = [row.expected.as_str(), &row.got, &row.off_by, &row.allowed];
            let mut parts = row
                .quantity
                .lines()
                .flat_map(|text| textwrap::wrap(text, QUANTITY));
            line(
                out,
                mark,
                &row.status.to_string(),
                &parts.next().unwrap_or_default(),
                figures,
            )?;
            for part in parts {
                line(out, "", "", &part, [""; 4])?;
            }
            match (&row.known_failure, row.passed) {
                (Some(why), false) => paragraph(out, "        known: ", why)?,
                (Some(_), true) => {
                    paragraph(out, "        ", "agrees now: take it out of the known failures")?
                }
                (None, false) => paragraph(out, "        ", &format!("allowed, because {}", row.because))?,
                (None, true) => {}
            }
        }
    }
    let rows = || blocks.iter().flat_map(|block| &block.rows);
    let counted = rows().filter(|row| row.counts()).count();
    let by_status: Vec<String> = Status::ALL
        .iter()
        .map(|&status| {
            let of = rows().filter(|row| row.counts() && row.status == status).count();
            format!("{of} {}", status.to_string().trim_end())
        })
        .collect();
    writeln!(
        out,
        "\n{counted} rows that can fail: {}; beside them {} definitions and bounds\n{off} off, {known} known to be",
        by_status.join(", "),
        rows().count() - counted
    )
}

fn line(
    out: &mut impl Write,
    mark: &str,
    status: &str,
    quantity: &str,
    figures: [&str; 4],
) -> io::Result<()> {
    let [expected, got, off_by, allowed] = figures;
    let padding = " ".repeat(QUANTITY.saturating_sub(unicode_width::UnicodeWidthStr::width(quantity)));
    let text = format!(
        "{mark:<5} {status:<10} {quantity}{padding} {expected:>17} {got:>13} {off_by:>7} {allowed:>7}"
    );
    writeln!(out, "{}", text.trim_end())
}

fn paragraph(out: &mut impl Write, indent: &str, text: &str) -> io::Result<()> {
    let options = textwrap::Options::new(WIDTH)
        .initial_indent(indent)
        .subsequent_indent("  ");
    textwrap::wrap(text, options)
        .iter()
        .try_for_each(|text| writeln!(out, "{text}"))
}

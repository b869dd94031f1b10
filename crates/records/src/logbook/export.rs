//! The logbook for other programs: CSV and JSON.

use std::io::{self, Write};

use super::Entry;

/// Writes entries as CSV (RFC 4180, UTF-8): a head line, then a line for each entry.
///
/// The columns are `id, at, zone, kind, text, struck_by, strikes, data, device, device_entry, hash`. `text` is there
/// for reading; `data` is the whole, as JSON. A `text` that a spreadsheet would take for a formula has an apostrophe
/// put before it.
///
/// # Errors
/// Whatever `out` says.
pub fn write_csv(entries: &[Entry], out: impl Write) -> io::Result<()> {
    let mut csv = csv::WriterBuilder::new()
        .terminator(csv::Terminator::CRLF)
        .from_writer(out);
    let number = |id: Option<i64>| id.map(|id| id.to_string()).unwrap_or_default();
    csv.write_record([
        "id",
        "at",
        "zone",
        "kind",
        "text",
        "struck_by",
        "strikes",
        "data",
        "device",
        "device_entry",
        "hash",
    ])?;
    for entry in entries {
        csv.write_record([
            &entry.id.to_string(),
            &entry.at.to_string(),
            &entry.zone(),
            entry.kind.as_str(),
            &harmless(entry.data.text().unwrap_or_default()),
            &number(entry.struck_by),
            &number(entry.strikes),
            entry.data.as_str(),
            &harmless(entry.device.clone()),
            &harmless(entry.device_entry.clone()),
            &entry.hash.to_string(),
        ])?;
    }
    csv.flush()
}

/// Keeps a spreadsheet from computing what a person wrote.
fn harmless(text: String) -> String {
    if text.starts_with(['=', '+', '-', '@', '\t', '\r']) {
        format!("'{text}")
    } else {
        text
    }
}

/// Writes entries as one JSON object, `{ "entries": [ … ] }`, each as [`Entry`] is serialised.
///
/// # Errors
/// Whatever `out` says.
pub fn write_json(entries: &[Entry], mut out: impl Write) -> io::Result<()> {
    #[derive(serde::Serialize)]
    struct Book<'e> {
        entries: &'e [Entry],
    }
    serde_json::to_writer_pretty(&mut out, &Book { entries })?;
    out.write_all(b"\n")
}

//! Tables for a spreadsheet, as files.

use std::fs;
use std::path::Path;

use questions::Stop as Refused;
use questions::result::CsvTable;
use records::{Mark, Output};

use crate::ending::Stop;
use crate::picture::write_files;

/// Writes tables into a folder, each in the place of an older one with the same head; all of them, or none.
pub(crate) fn write(folder: &Path, tables: &[CsvTable]) -> Result<(), Stop> {
    let outputs = tables
        .iter()
        .map(|table| output(folder, table))
        .collect::<Result<Vec<_>, _>>()?;
    fs::create_dir_all(folder).map_err(|source| Refused::file(folder, "made", &source))?;
    write_files(&outputs)
}

fn output(folder: &Path, table: &CsvTable) -> Result<Output, Stop> {
    let mut writer = csv::Writer::from_writer(Vec::new());
    let written = writer
        .write_record(&table.head)
        .and_then(|()| table.rows.iter().try_for_each(|row| writer.write_record(row)));
    let bytes = written
        .map_err(std::io::Error::from)
        .and_then(|()| {
            writer
                .into_inner()
                .map_err(|error| std::io::Error::other(error.to_string()))
        })
        .map_err(Stop::Output)?;
    Ok(Output {
        path: folder.join(table.name),
        mark: Mark::first_line_of(&bytes),
        bytes,
    })
}

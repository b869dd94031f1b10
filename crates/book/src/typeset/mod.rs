//! From the book's data to a PDF.
//!
//! The template (`book.typ`) is the only text that the typesetter reads as markup, and it stands in this crate. What
//! people wrote reaches it as string values, so that nothing of theirs can be markup.

mod legible;
mod mathematics;
mod plain;
mod values;
mod world;

use typst::WorldExt as _;
use typst::diag::{Severity, SourceDiagnostic};
use typst::foundations::Smart;
use typst_layout::PagedDocument;
use typst_pdf::{PdfOptions, PdfStandard, PdfStandards};

use crate::document::Document;
use crate::{Book, NotPrinted};
use world::OneBook;

pub(crate) use world::FAMILIES;

/// Sets it. `maker`: the program with its build, as the PDF's properties name it.
pub(crate) fn pdf(document: &Document, maker: &str) -> Result<Book, NotPrinted> {
    // Where a picture goes is decided by what stands before it, and moves what stands behind. Where that does not settle,
    // only those of the earlier parts are let flow; at last every picture stands below its answer.
    let (world, pages) = pages(document, document.parts.len())
        .or_else(|_| pages(document, document.parts.len() / 2))
        .or_else(|_| pages(document, 0))?;
    let standards =
        PdfStandards::new(&[PdfStandard::Ua_1]).map_err(|fault| NotPrinted(fault.message().to_string()))?;
    let options = PdfOptions {
        ident: Smart::Custom(format!("{}\n{}", document.title, document.keywords.join("\n"))),
        creator: Smart::Custom(Some(maker.to_owned())),
        standards,
        ..PdfOptions::default()
    };
    let bytes = typst_pdf::pdf(&pages, &options).map_err(|faults| NotPrinted(said(&world, &faults)))?;
    typst::comemo::evict(0);
    Ok(Book {
        bytes,
        pages: pages.pages().len(),
    })
}

/// The pages, without a doubt about any. `pictures_flow`: in how many parts a picture may head the next page
/// while its part goes on.
fn pages(document: &Document, pictures_flow: usize) -> Result<(OneBook, PagedDocument), NotPrinted> {
    let data = values::of(document, pictures_flow);
    let world = OneBook::of(data).ok_or_else(|| NotPrinted("no template".to_owned()))?;
    let set = typst::compile::<PagedDocument>(&world);
    let told = |faults: &[SourceDiagnostic]| NotPrinted(said(&world, faults));
    let pages = set.output.map_err(|faults| told(&faults))?;
    let doubtful: Vec<SourceDiagnostic> = set
        .warnings
        .into_iter()
        .filter(|warning| warning.severity == Severity::Warning)
        .collect();
    if !doubtful.is_empty() {
        return Err(told(&doubtful));
    }
    Ok((world, pages))
}

/// What the typesetter has to say, in one line.
fn said(world: &OneBook, faults: &[SourceDiagnostic]) -> String {
    let lines: Vec<String> = faults
        .iter()
        .map(|fault| {
            let line = world.range(fault.span).map_or_else(String::new, |range| {
                format!("book.typ:{}: ", world.line_of(range.start))
            });
            let hints: Vec<&str> = fault.hints.iter().map(|hint| hint.v.as_str()).collect();
            format!("{line}{} {}", fault.message, hints.join("; "))
        })
        .collect();
    lines.join(" | ")
}

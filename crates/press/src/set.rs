//! From a template and its values to a PDF.

use typst::WorldExt as _;
use typst::diag::{Severity, SourceDiagnostic};
use typst::foundations::Smart;
use typst_layout::PagedDocument;
use typst_pdf::{PdfOptions, PdfStandard, PdfStandards};

use manuscript::{Manuscript, Printed};

use crate::values;
use crate::world::OneBook;

/// Sets it, or says what the typesetter has against it.
pub(crate) fn pdf(manuscript: &Manuscript) -> Result<Printed, String> {
    // Where a picture goes is decided by what stands before it, and moves what stands behind. Where that does not settle,
    // only those of the earlier parts are let flow; at last every picture stands below its answer.
    let parts = manuscript.parts();
    let (world, pages) = pages(manuscript, parts)
        .or_else(|_| pages(manuscript, parts / 2))
        .or_else(|_| pages(manuscript, 0))?;
    let standards = PdfStandards::new(&[PdfStandard::Ua_1]).map_err(|fault| fault.message().to_string())?;
    let options = PdfOptions {
        ident: Smart::Custom(manuscript.identity.clone()),
        creator: Smart::Custom(Some(manuscript.maker.clone())),
        standards,
        ..PdfOptions::default()
    };
    let bytes = typst_pdf::pdf(&pages, &options).map_err(|faults| said(&world, &faults))?;
    typst::comemo::evict(0);
    Ok(Printed {
        bytes,
        pages: pages.pages().len(),
    })
}

/// The pages, without a doubt about any. `pictures_flow`: in how many parts a picture may head the next page
/// while its part goes on.
fn pages(manuscript: &Manuscript, pictures_flow: usize) -> Result<(OneBook, PagedDocument), String> {
    let world = OneBook::of(
        &manuscript.template,
        values::inputs(&manuscript.book, pictures_flow),
    )
    .ok_or("no template")?;
    let set = typst::compile::<PagedDocument>(&world);
    let told = |faults: &[SourceDiagnostic]| said(&world, faults);
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

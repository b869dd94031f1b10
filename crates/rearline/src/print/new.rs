//! What `new` says when it has written a sheet.

use records::{CarFolder, CarName};

use super::ink;
use super::page::Page;

/// Where the sheet is, and what comes next.
pub(crate) fn page(car: &CarFolder, name: &CarName, text: &str, explained: bool) -> String {
    let mut page = Page::default();
    let path = car.sheet().path().display();
    let open = questions::on_the_car::OnTheCar::of(text).left();
    page.paragraph(
        ink::heavy,
        &format!(
            "Wrote {path}: {open} {} to a first answer.",
            wording::counted(open, "figure", "figures")
        ),
    );
    page.gap();
    page.plain(
        "On the page, \"What is on the car?\" asks for them one by one: start `rearline`. Or open the sheet in any text editor. \
         Each \"…\" is yours to find out.",
    );
    page.gap();
    if !explained {
        page.plain("With --explain a new sheet says at every key with which tool, and how.");
    }
    page.plain("What you do not know yet may say \"guess\". Then:");
    page.line(&format!(
        "  rearline check-sheet {}",
        wording::quoted(name.as_str())
    ));
    page.into_text()
}

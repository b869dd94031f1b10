//! The key of the build book, over a printer of the test's own: the page knows none.

use std::path::Path;

use engine::car::Date;
use page::Press;
use questions::Stop;
use records::CarFolder;
use wording::Units;

use crate::workshop::Open;

/// What it prints says only which sheet it is of.
pub(crate) const PRESS: Press = Press { print, sheet_of };

fn print(cars: &Path, car: &CarFolder, day: Date, _units: Units) -> Result<(), Stop> {
    assert!(cars.join(car.name()).is_dir() && day == Date::constant(2026, 5, 1));
    let sheet = std::fs::read(car.sheet().path()).unwrap();
    std::fs::write(car.book(), format!("%PDF of {}", records::Digest::of(&sheet))).unwrap();
    Ok(())
}

fn sheet_of(end: &[u8]) -> Option<String> {
    let said = core::str::from_utf8(end).ok()?;
    said.strip_prefix("%PDF of ").map(str::to_owned)
}

#[test]
fn the_book_is_printed_from_the_assessment_and_says_which_sheet_it_is_of() {
    let open = Open::here();
    let before = open.get("/car/tarn/assessment");
    assert!(before.body.contains("Print the build book") && !before.body.contains("Open the build book"));
    assert!(!open.get("/car/tarn/lever").body.contains("Print the build book"));
    assert_eq!(open.get("/car/tarn/book.pdf").status, 404);
    // A change without the page's token is none.
    assert_eq!(open.post("/car/tarn/book", "token=no").status, 403);
    assert!(!open.folder.path().join("tarn/book.pdf").exists());

    let printed = open.post("/car/tarn/book", &format!("token={}", before.token()));
    assert_eq!(
        (printed.status, printed.header("location")),
        (303, Some("/car/tarn/assessment"))
    );
    let after = open.get("/car/tarn/assessment").body;
    assert!(after.contains("It is of this sheet"), "{after}");
    let pdf = open.get("/car/tarn/book.pdf");
    assert_eq!(
        (pdf.status, pdf.header("content-type")),
        (200, Some("application/pdf"))
    );
    assert!(pdf.body.starts_with("%PDF of "));

    let sheet = open.folder.path().join("tarn/car.toml");
    let text = std::fs::read_to_string(&sheet).unwrap();
    std::fs::write(&sheet, format!("{text}# moved\n")).unwrap();
    let old = open.get("/car/tarn/assessment").body;
    assert!(
        old.contains("It is of an older sheet") && old.contains("Print it anew."),
        "{old}"
    );
}

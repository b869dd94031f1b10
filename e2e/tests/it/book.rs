//! The build book from the page: its key is pressed, the PDF arrives, and the page says of which sheet it is.

use std::fs;

use crate::bench::{Bench, Test};
use crate::paper;
use crate::screen::{Screen, Theme};
use crate::workshop::{Workshop, demonstration};

pub(crate) const ALL: &[Test] = &[(
    "book::its_key_prints_it_and_says_of_which_sheet",
    its_key_prints_it_and_says_of_which_sheet,
)];

/// As much of a digest as is shown.
const COMPARED: usize = 12;

fn its_key_prints_it_and_says_of_which_sheet(bench: &Bench) {
    const BOOK: &str = "section[aria-label='Build book']";
    let page = bench.browser();
    let workshop = Workshop::empty();
    let sheet = demonstration("tarn");
    workshop.add("tarn", &sheet);
    let workshop = workshop.serve(&[]);
    // As the terminal names the sheet's digest.
    let digest = || {
        let said = workshop.terminal(&["assess", "tarn", "--draws", "0", "--json"]);
        let (_, behind) = said.split_once("\"sheet_sha256\":").unwrap();
        behind.trim_start_matches([' ', '"'])[..COMPARED].to_owned()
    };
    page.show(Screen::LARGE_PHONE, Theme::Light);
    page.go(&workshop.address("/car/tarn/assessment"));
    assert_eq!(page.text(BOOK), "Print the build book");
    page.follow("Print the build book");
    assert_eq!(page.at(), "/car/tarn/assessment");
    let first = digest();
    assert_eq!(
        page.text(BOOK),
        format!("Print the build bookOpen the build book It is of this sheet, {first}.")
    );
    page.js::<()>(&format!("document.querySelector(\"{BOOK}\").scrollIntoView()"));
    page.keep("build-book", Screen::LARGE_PHONE, Theme::Light);

    // What its link leads to is the file beside the sheet, and a PDF of this car.
    let arrived = page.promised(&format!(
        "fetch(document.querySelector(\"{BOOK} a\").href).then(async (got) => \
           [got.status, got.headers.get('content-type'), (await got.arrayBuffer()).byteLength])"
    ));
    let file = fs::read(workshop.cars().join("tarn/book.pdf")).unwrap();
    assert_eq!(
        arrived,
        serde_json::json!([200, "application/pdf", file.len()]),
        "{arrived}"
    );
    assert!(paper::text(&file).contains("Build book: Tarn 4"));

    // Another sheet: the book is said to be of an older one, until it is printed anew.
    workshop.add("tarn", &sheet.replacen("\"Tarn 4\"", "\"Tarn 5\"", 1));
    page.go(&workshop.address("/car/tarn/assessment"));
    let second = digest();
    assert_ne!(second, first);
    let older = format!("It is of an older sheet, {first}; this one is {second}. Print it anew.");
    assert!(page.text(BOOK).ends_with(&older), "{}", page.text(BOOK));
    page.follow("Print the build book");
    let newer = format!("It is of this sheet, {second}.");
    assert!(page.text(BOOK).ends_with(&newer), "{}", page.text(BOOK));
    page.is_quiet();
}

//! `build-book`: what is written where, and what is left alone.

use std::fs;

use crate::bench::{Bench, finished};

#[test]
fn the_book_lies_beside_the_sheet_on_the_persons_own_paper_and_replaces_only_its_like() {
    let bench = Bench::with_cars();
    let cars = bench.path("cars");
    fs::write(
        cars.join("preferences.toml"),
        "paper = \"Letter\"\nunits = \"psi,in\"\n",
    )
    .unwrap();
    let book = cars.join("tarn/book.pdf");
    fs::write(&book, "somebody's own").unwrap();
    let refused = bench.run(&["build-book", "tarn", "--on", "2026-05-01"]);
    assert_eq!(refused.status, Some(3), "{}", refused.aside);
    assert_eq!(fs::read_to_string(&book).unwrap(), "somebody's own");
    fs::remove_file(&book).unwrap();

    let noted = bench.run(&[
        "logbook",
        "add",
        "tarn",
        "--kind",
        "note",
        "--text",
        "pads bedded in",
    ]);
    assert_eq!(noted.status, Some(0), "{}", noted.aside);
    let told = bench.json(&["build-book", "tarn", "--on", "2026-05-01", "--json"]);
    assert_eq!(told["paper"], "Letter");
    assert!(told["pages"].as_u64().unwrap() > 15);
    let printed = fs::read(&book).unwrap();
    assert!(printed.starts_with(b"%PDF-"));
    // Later, and on a machine in another zone: the same, an entry of the logbook too.
    let again = finished(
        bench
            .command(&["build-book", "tarn", "--on", "2026-05-01"])
            .env("TZ", "Pacific/Kiritimati"),
    );
    assert_eq!(again.status, Some(0), "{}", again.aside);
    assert!(fs::read(&book).unwrap() == printed);

    let wrong = bench.run(&["build-book", "tarn", "--paper", "legal"]);
    assert_eq!(wrong.status, Some(2));
    assert!(wrong.aside.contains("A4, Letter"), "{}", wrong.aside);
}

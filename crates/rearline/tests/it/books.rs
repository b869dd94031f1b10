//! `build-book`: what is written where, and what is left alone.

use std::fs;
use std::os::unix::fs::PermissionsExt as _;
use std::process::Command;

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

/// The press lies beside the program: where none does, or one that prints nothing, an older book stays as it is.
#[test]
fn without_a_press_nothing_is_replaced_and_it_is_said_why() {
    let bench = Bench::with_cars();
    let program = bench.path("rearline");
    fs::copy(env!("CARGO_BIN_EXE_rearline"), &program).unwrap();
    let printed = || {
        let cars = bench.path("cars");
        let mut command = Command::new(&program);
        command.args(["build-book", "bin", "--on", "2026-05-01", "--cars"]);
        finished(command.arg(cars))
    };
    let book = bench.path("cars/bin/book.pdf");
    let alone = printed();
    assert_eq!(alone.status, Some(3), "{}", alone.aside);
    assert!(
        alone.aside.contains("rearline-press") && alone.aside.contains("./start build-book"),
        "{}",
        alone.aside
    );
    assert!(!book.exists());
    // What lies there and is not ours is told before a press is looked for, and before the car is asked anything.
    fs::write(&book, "somebody's own").unwrap();
    let kept = printed();
    assert_eq!(kept.status, Some(3), "{}", kept.aside);
    assert!(!kept.aside.contains("rearline-press"), "{}", kept.aside);
    assert_eq!(fs::read_to_string(&book).unwrap(), "somebody's own");
    fs::remove_file(&book).unwrap();

    let press = bench.path("rearline-press");
    fs::write(
        &press,
        "#!/bin/sh\necho 12\necho %PDF-1.7\necho lost its way >&2\nexit 1\n",
    )
    .unwrap();
    fs::set_permissions(&press, fs::Permissions::from_mode(0o755)).unwrap();
    let lost = printed();
    assert_eq!(lost.status, Some(3), "{}", lost.aside);
    assert!(lost.aside.contains("lost its way"), "{}", lost.aside);
    assert!(!book.exists());
}

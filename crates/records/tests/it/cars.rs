//! The cars folder: listing, finding, making, copying.

use std::ffi::OsStr;
use std::fs;
use std::os::unix::fs::symlink;
use std::path::Path;

use records::logbook::{self, EntryKind, Filter, Logbook, WAIT};
use records::{CarFolder, CarName, Cars, Fault, NameFlaw, Shelf};

use crate::aid::{CAP, names_in, note, stamp};

fn folder_with(names: &[&str]) -> (tempfile::TempDir, Cars) {
    let folder = tempfile::tempdir().unwrap();
    for name in names {
        fs::create_dir(folder.path().join(name)).unwrap();
        fs::write(folder.path().join(name).join("car.toml"), format!("# {name}\n")).unwrap();
    }
    let cars = Cars::open(folder.path()).unwrap();
    (folder, cars)
}

fn name(given: &str) -> CarName {
    CarName::new(given).unwrap()
}

fn listed(cars: &Cars) -> Vec<String> {
    cars.list()
        .unwrap()
        .found
        .iter()
        .map(|car| car.name().to_owned())
        .collect()
}

#[test]
fn a_car_is_a_folder_with_a_sheet() {
    let (folder, cars) = folder_with(&["tarn", "Fell", ".hidden", "beck"]);
    fs::create_dir(folder.path().join("no-sheet")).unwrap();
    fs::write(folder.path().join("preferences.toml"), "").unwrap();
    fs::write(folder.path().join("stray"), "").unwrap();
    symlink("/nowhere/at/all", folder.path().join("gone")).unwrap();
    assert_eq!(listed(&cars), ["beck", "Fell", "tarn"]);
    assert!(cars.list().unwrap().left_out.is_empty());
}

#[test]
fn folders_with_names_that_no_car_has_are_told() {
    let (folder, cars) = folder_with(&["tarn", "a:b", "trailing."]);
    let listing = cars.list().unwrap();
    assert_eq!(listed(&cars), ["tarn"]);
    let left: Vec<_> = listing.left_out.iter().map(|left| left.path.clone()).collect();
    assert_eq!(left, [folder.path().join("a:b"), folder.path().join("trailing.")]);
    assert!(matches!(
        listing.left_out[0].why,
        Fault::Name {
            flaw: NameFlaw::Character { character: ':' },
            ..
        }
    ));
}

#[test]
fn a_folder_whose_name_is_not_unicode_is_told() {
    use std::os::unix::ffi::OsStrExt as _;
    let (folder, cars) = folder_with(&[]);
    let odd = folder.path().join(OsStr::from_bytes(b"ta\xffrn"));
    fs::create_dir(&odd).unwrap();
    fs::write(odd.join("car.toml"), "").unwrap();
    let listing = cars.list().unwrap();
    assert!(listing.found.is_empty());
    assert!(matches!(
        listing.left_out[0].why,
        Fault::Name {
            flaw: NameFlaw::NotText,
            ..
        }
    ));
}

#[test]
fn an_empty_folder_has_no_cars_and_a_missing_one_is_a_fault() {
    let (folder, cars) = folder_with(&[]);
    assert!(listed(&cars).is_empty());
    let missing = folder.path().join("cars");
    assert!(matches!(Cars::open(&missing), Err(Fault::Missing { path }) if path == missing));
    fs::write(&missing, "").unwrap();
    assert!(matches!(Cars::open(&missing), Err(Fault::NotAFolder { .. })));
    assert!(matches!(Cars::make(&missing), Err(Fault::NotAFolder { .. })));
    let deep = folder.path().join("a/b/cars");
    assert_eq!(Cars::make(&deep).unwrap().folder(), deep);
    assert!(Cars::make(&deep).is_ok());
}

#[test]
fn a_car_is_found_by_its_name_whatever_the_case() {
    let (_folder, cars) = folder_with(&["tarn", "\u{e9}tang"]);
    assert_eq!(cars.named("tarn").unwrap().name(), "tarn");
    assert_eq!(cars.named("TARN").unwrap().name(), "tarn");
    assert_eq!(cars.named("E\u{301}TANG").unwrap().name(), "\u{e9}tang");
}

/// A folder unpacked on a system that stores accents apart still answers to the composed name.
#[test]
fn a_folder_stored_with_its_accent_apart_is_found() {
    let (folder, cars) = folder_with(&["e\u{301}tang"]);
    let car = cars.named("\u{e9}tang").unwrap();
    assert_eq!(car.name(), "\u{e9}tang");
    assert_eq!(car.folder(), folder.path().join("e\u{301}tang"));
    assert_eq!(car.sheet().read(CAP).unwrap().text, "# e\u{301}tang\n");
}

#[test]
fn the_exact_name_wins_and_otherwise_two_are_too_many() {
    let (_folder, cars) = folder_with(&["Tarn", "tarn"]);
    assert_eq!(cars.named("Tarn").unwrap().name(), "Tarn");
    assert_eq!(cars.named("tarn").unwrap().name(), "tarn");
    let fault = cars.named("TARN").unwrap_err();
    assert!(
        matches!(&fault, Fault::Ambiguous { found, .. } if found.len() == 2),
        "{fault}"
    );
    let (_folder, cars) = folder_with(&["e\u{301}", "\u{e9}"]);
    assert!(matches!(cars.named("\u{e9}"), Err(Fault::Ambiguous { .. })));
}

#[test]
fn the_nearest_name_is_offered() {
    let (_folder, cars) = folder_with(&["tarn", "scree", "half-known", "tarn-let-go"]);
    let nearest = |given: &str| match cars.named(given).unwrap_err() {
        Fault::NoSuchCar { nearest, .. } => nearest,
        other => panic!("{other}"),
    };
    assert_eq!(nearest("tran").as_deref(), Some("tarn"));
    assert_eq!(nearest("Scre").as_deref(), Some("scree"));
    assert_eq!(nearest("half").as_deref(), Some("half-known"));
    assert_eq!(nearest("tarn-lego").as_deref(), Some("tarn-let-go"));
    assert_eq!(nearest("quarry"), None);
    assert_eq!(nearest(""), None);
    let said = cars.named("tran").unwrap_err().to_string();
    assert!(
        said.starts_with("there is no car `tran` in ") && said.ends_with("; did you mean `tarn`?"),
        "{said}"
    );
}

#[test]
fn names_that_a_request_could_try_find_nothing() {
    let (folder, cars) = folder_with(&["tarn"]);
    fs::write(folder.path().join("car.toml"), "# not a car of the folder\n").unwrap();
    for given in [
        ".",
        "..",
        "./tarn",
        "../cars/tarn",
        "tarn/",
        "tarn/.",
        "\0",
        "tarn\0",
        "",
        "tarn/car.toml",
    ] {
        assert!(
            matches!(cars.named(given), Err(Fault::NoSuchCar { .. })),
            "{given:?}"
        );
    }
    let absolute = folder.path().join("tarn");
    assert!(cars.named(absolute.to_str().unwrap()).is_err());
}

#[test]
fn an_argument_is_a_path_if_it_looks_like_one() {
    let (folder, _) = folder_with(&["tarn"]);
    let find = |given: &str| Cars::find(folder.path(), OsStr::new(given));
    assert_eq!(find("tarn").unwrap().folder(), folder.path().join("tarn"));
    let sheet = folder.path().join("tarn/car.toml");
    let car = find(sheet.to_str().unwrap()).unwrap();
    assert_eq!(
        (car.name(), car.folder(), car.sheet().path()),
        ("tarn", folder.path().join("tarn").as_path(), &*sheet)
    );
    assert_eq!(car.logbook(), folder.path().join("tarn/logbook.db"));
    // A folder's path means the sheet in it.
    assert_eq!(
        find(&format!("{}/tarn/", folder.path().display()))
            .unwrap()
            .name(),
        "tarn"
    );
    // Another sheet has its own name, and its logbook beside it.
    let other = folder.path().join("tarn/as-it-was.toml");
    fs::write(&other, "").unwrap();
    let car = find(other.to_str().unwrap()).unwrap();
    assert_eq!(car.name(), "as-it-was");
    assert_eq!(car.logbook(), folder.path().join("tarn/logbook.db"));
    // A path needs no cars folder, a name does.
    let nowhere = folder.path().join("nowhere");
    assert!(Cars::find(&nowhere, sheet.as_os_str()).is_ok());
    assert!(
        matches!(Cars::find(&nowhere, OsStr::new("tarn")), Err(Fault::Missing { path }) if path == nowhere)
    );
    assert!(matches!(find("gone.toml"), Err(Fault::Missing { path }) if path == Path::new("gone.toml")));
    assert!(matches!(find("GONE.TOML"), Err(Fault::Missing { .. })));
    assert!(matches!(
        find(&format!("{}/", folder.path().display())),
        Err(Fault::Missing { .. })
    ));
}

#[test]
fn a_new_car_is_there_whole() {
    let (folder, cars) = folder_with(&[]);
    let car = cars.add(&name("e\u{301}tang"), "format = 1\r\n").unwrap();
    assert_eq!(car.folder(), folder.path().join("\u{e9}tang"));
    assert_eq!(
        fs::read_to_string(car.folder().join("car.toml")).unwrap(),
        "format = 1\r\n"
    );
    assert_eq!(names_in(folder.path()), [".cars.lock", "\u{e9}tang"]);
    assert_eq!(cars.named("\u{e9}tang").unwrap(), car);
    assert_eq!(
        Logbook::open_if_there(&car.logbook(), WAIT).unwrap().map(|_| ()),
        None
    );
}

#[test]
fn no_two_names_differ_by_case_only() {
    let (folder, cars) = folder_with(&["Tarn", "stra\u{df}e", "e\u{301}"]);
    for given in ["tarn", "TARN", "STRASSE", "Stra\u{1e9e}e", "\u{c9}", "\u{e9}"] {
        let fault = cars.add(&name(given), "").unwrap_err();
        assert!(matches!(fault, Fault::NameTaken { .. }), "{given}");
    }
    // A folder that is no car, and a file, have their names too: nothing of theirs is touched.
    fs::create_dir(folder.path().join("Beck")).unwrap();
    fs::write(folder.path().join("ghyll"), "mine").unwrap();
    assert!(matches!(
        cars.add(&name("beck"), ""),
        Err(Fault::NameTaken { .. })
    ));
    assert!(matches!(
        cars.add(&name("ghyll"), ""),
        Err(Fault::NameTaken { .. })
    ));
    assert_eq!(names_in(&folder.path().join("Beck")), [""; 0]);
    assert_eq!(fs::read_to_string(folder.path().join("ghyll")).unwrap(), "mine");
}

/// What a maker that was killed left is no car, and goes with the next car that is made.
#[test]
fn a_half_made_car_is_none_and_is_tidied_away() {
    let (folder, cars) = folder_with(&["tarn", ".making-17-3", ".making-mine"]);
    assert_eq!(listed(&cars), ["tarn"]);
    cars.add(&name("beck"), "").unwrap();
    assert_eq!(
        names_in(folder.path()),
        [".cars.lock", ".making-mine", "beck", "tarn"]
    );
}

#[test]
fn many_makers_of_one_name_make_one_car() {
    let (folder, cars) = folder_with(&[]);
    let made = std::thread::scope(|scope| {
        let makers: Vec<_> = (0..8)
            .map(|n| {
                let cars = &cars;
                scope.spawn(move || {
                    cars.add(
                        &name(if n % 2 == 0 { "tarn" } else { "Tarn" }),
                        &format!("# {n}\n"),
                    )
                })
            })
            .collect();
        makers
            .into_iter()
            .filter_map(|maker| maker.join().unwrap().ok())
            .count()
    });
    assert_eq!(made, 1);
    assert_eq!(listed(&cars).len(), 1);
    assert_eq!(names_in(folder.path()).len(), 2);
}

#[test]
fn a_copy_has_the_files_and_a_logbook_that_names_the_old_head() {
    let (folder, cars) = folder_with(&["tarn"]);
    let old = cars.named("tarn").unwrap();
    fs::create_dir(old.folder().join("stages")).unwrap();
    fs::create_dir(old.folder().join("logs")).unwrap();
    for file in [
        "stages/fell.toml",
        "logs/RUN01.CSV",
        "logs/columns.toml",
        "logs/readme.txt",
        "book.pdf",
        "wheel.jpg",
    ] {
        fs::write(old.folder().join(file), file).unwrap();
    }
    let mut book = Logbook::open_or_create(&old.logbook(), WAIT).unwrap();
    book.append(&note(1, "lever fitted")).unwrap();
    let head = book.append(&note(2, "bled")).unwrap().entry.hash;

    let copied = cars
        .copy(&old, &name("tarn-b"), &stamp(5, "bench", "copy-1"))
        .unwrap();
    assert_eq!(copied.left_behind, ["book.pdf", "logs/readme.txt", "wheel.jpg"]);
    let new = copied.car;
    assert_eq!(new.folder(), folder.path().join("tarn-b"));
    assert_eq!(
        names_in(new.folder())
            .into_iter()
            .filter(|n| !n.starts_with('.'))
            .collect::<Vec<_>>(),
        ["car.toml", "logbook.db", "logs", "stages"]
    );
    for file in ["stages/fell.toml", "logs/RUN01.CSV", "logs/columns.toml"] {
        assert_eq!(fs::read_to_string(new.folder().join(file)).unwrap(), file);
    }
    let entries = Logbook::open_if_there(&new.logbook(), WAIT)
        .unwrap()
        .unwrap()
        .list(&Filter::default())
        .unwrap();
    assert_eq!(entries.len(), 1);
    assert_eq!((entries[0].id, entries[0].kind), (1, EntryKind::Copied));
    let said = entries[0].data.value();
    assert_eq!(said["from"], "tarn");
    assert_eq!(said["head"], head.to_string());
    assert_eq!(said["entries"], 2);
    assert_eq!(said["verified"], true);
    assert_eq!(said["text"], "copied from tarn");
    assert!(logbook::verify(&new.logbook(), WAIT, None).unwrap().ok());
    // The old one is as it was.
    assert_eq!(
        logbook::verify(&old.logbook(), WAIT, None).unwrap().head,
        Some(head)
    );
    assert_eq!(book.list(&Filter::default()).unwrap().len(), 2);
}

#[test]
fn a_copy_of_a_car_without_logbook_or_with_a_broken_one_says_so() {
    let (_folder, cars) = folder_with(&["tarn"]);
    let old = cars.named("tarn").unwrap();
    let first = |car: &CarFolder| {
        let book = Logbook::open_if_there(&car.logbook(), WAIT).unwrap().unwrap();
        book.list(&Filter::default()).unwrap()[0].data.value()
    };
    let copy = cars
        .copy(&old, &name("beck"), &stamp(1, "bench", "1"))
        .unwrap()
        .car;
    assert_eq!(
        (&first(&copy)["head"], &first(&copy)["entries"]),
        (&serde_json::Value::Null, &0.into())
    );
    fs::write(old.logbook(), "no database").unwrap();
    let copy = cars
        .copy(&old, &name("fell"), &stamp(1, "bench", "1"))
        .unwrap()
        .car;
    assert_eq!(first(&copy)["verified"], false);
    assert_eq!(fs::read_to_string(old.logbook()).unwrap(), "no database");
}

#[test]
fn a_copy_that_fails_leaves_nothing() {
    let (folder, cars) = folder_with(&["tarn", "beck"]);
    let old = cars.named("tarn").unwrap();
    assert!(matches!(
        cars.copy(&old, &name("BECK"), &stamp(1, "b", "1")),
        Err(Fault::NameTaken { .. })
    ));
    assert!(matches!(
        cars.copy(&old, &name("Tarn"), &stamp(1, "b", "1")),
        Err(Fault::NameTaken { .. })
    ));
    // A shelf that leads out of the car is not followed.
    symlink("/etc", old.folder().join("stages")).unwrap();
    assert!(matches!(
        cars.copy(&old, &name("fell"), &stamp(1, "b", "1")),
        Err(Fault::LeadsOut { .. })
    ));
    fs::remove_file(old.folder().join("stages")).unwrap();
    fs::remove_file(old.folder().join("car.toml")).unwrap();
    assert!(matches!(
        cars.copy(&old, &name("fell"), &stamp(1, "b", "1")),
        Err(Fault::Missing { .. })
    ));
    assert_eq!(names_in(folder.path()), [".cars.lock", "beck", "tarn"]);
    assert!(
        Shelf::ALL
            .iter()
            .all(|shelf| old.shelf(*shelf).unwrap().found.is_empty())
    );
}

#[test]
fn a_car_takes_another_name_with_all_that_is_its_own() {
    let folder = tempfile::tempdir().unwrap();
    let cars = Cars::open(folder.path()).unwrap();
    let fell = cars.add(&CarName::new("fell").unwrap(), "format = 2\n").unwrap();
    cars.add(&CarName::new("moor").unwrap(), "format = 2\n").unwrap();
    fs::write(fell.folder().join("logbook.db"), "kept").unwrap();
    for taken in ["moor", "MOOR"] {
        let refused = cars.rename(&fell, &CarName::new(taken).unwrap()).unwrap_err();
        assert_eq!(refused.slug(), "name-taken");
    }
    // But for the case of its own letters nothing has the name.
    let renamed = cars.rename(&fell, &CarName::new("Fell").unwrap()).unwrap();
    let renamed = cars.rename(&renamed, &CarName::new("beck").unwrap()).unwrap();
    assert_eq!(renamed.name(), "beck");
    assert_eq!(
        fs::read_to_string(folder.path().join("beck/logbook.db")).unwrap(),
        "kept"
    );
    let names: Vec<String> = cars
        .list()
        .unwrap()
        .found
        .iter()
        .map(|car| car.name().to_owned())
        .collect();
    assert_eq!(names, ["beck", "moor"]);
}

#[test]
fn a_car_that_is_put_away_is_kept_whole() {
    let folder = tempfile::tempdir().unwrap();
    let cars = Cars::open(folder.path()).unwrap();
    let mut places = Vec::new();
    for text in ["format = 2\n# one\n", "format = 2\n# two\n"] {
        let fell = cars.add(&CarName::new("fell").unwrap(), text).unwrap();
        places.push(cars.put_away(&fell).unwrap());
        assert!(cars.list().unwrap().found.is_empty());
    }
    assert_eq!(
        places,
        [
            folder.path().join("put-away/fell"),
            folder.path().join("put-away/fell 2")
        ]
    );
    assert!(
        fs::read_to_string(places[1].join("car.toml"))
            .unwrap()
            .contains("# two")
    );
    // One that lies elsewhere is not this folder's to move.
    let elsewhere = tempfile::tempdir().unwrap();
    let other = Cars::open(elsewhere.path())
        .unwrap()
        .add(&CarName::new("fell").unwrap(), "format = 2\n")
        .unwrap();
    assert!(cars.put_away(&other).is_err());
    assert!(other.sheet().path().exists());
}

/// Whoever renames a car while somebody writes in its logbook waits for them: what was acknowledged stays, and the chain holds.
#[test]
fn an_entry_that_is_being_written_moves_with_the_car() {
    let (folder, cars) = folder_with(&["tarn"]);
    Logbook::open_or_create(&folder.path().join("tarn/logbook.db"), WAIT).unwrap();
    let places = ["tarn", "beck"].map(|name| folder.path().join(name).join("logbook.db"));
    let written = std::thread::scope(|scope| {
        let writer = scope.spawn(|| {
            let mut written = 0;
            for number in 0_i32.. {
                if written == 150 {
                    break;
                }
                let found = places
                    .iter()
                    .find_map(|place| Logbook::open_if_there(place, WAIT).ok().flatten());
                let draft = note(i64::from(number), &format!("{number}"));
                written += usize::from(found.is_some_and(|mut book| book.append(&draft).is_ok()));
            }
            written
        });
        while !writer.is_finished() {
            for to in ["beck", "tarn"] {
                if let Some(car) = cars.list().unwrap().found.first() {
                    let _ = cars.rename(car, &name(to));
                }
            }
        }
        writer.join().unwrap()
    });
    let car = cars.list().unwrap().found.remove(0);
    let book = Logbook::open_if_there(&car.logbook(), WAIT).unwrap().unwrap();
    assert!(
        book.list(&Filter::default()).unwrap().len() >= written,
        "acknowledged and gone"
    );
    assert!(logbook::verify(&car.logbook(), WAIT, None).unwrap().ok());
}

#[test]
fn a_car_in_whose_logbook_somebody_writes_stays_where_it_is() {
    let (folder, cars) = folder_with(&["tarn"]);
    let path = folder.path().join("tarn/logbook.db");
    Logbook::open_or_create(&path, WAIT).unwrap();
    let car = cars.named("tarn").unwrap();
    let other = rusqlite::Connection::open(&path).unwrap();
    other.execute_batch("BEGIN IMMEDIATE").unwrap();
    let fault = cars.rename(&car, &name("beck")).unwrap_err();
    assert!(matches!(fault, Fault::Busy { .. }), "{fault}");
    assert_eq!(listed(&cars), ["tarn"]);
    other.execute_batch("ROLLBACK").unwrap();
    cars.rename(&car, &name("beck")).unwrap();
    assert_eq!(listed(&cars), ["beck"]);
}

#[test]
fn a_car_is_found_by_its_exact_name_among_others_that_read_alike() {
    let folder = tempfile::tempdir().unwrap();
    let cars = Cars::open(folder.path()).unwrap();
    for name in ["Fell", "fell"] {
        fs::create_dir(folder.path().join(name)).unwrap();
        fs::write(folder.path().join(name).join("car.toml"), name).unwrap();
    }
    for name in ["Fell", "fell"] {
        let car = cars.named(name).unwrap();
        assert_eq!((car.name(), car.folder()), (name, &*folder.path().join(name)));
    }
    assert!(matches!(cars.named("FELL"), Err(Fault::Ambiguous { .. })));
    // What is no name reaches no file.
    fs::write(folder.path().join("car.toml"), "").unwrap();
    for given in ["", ".", "..", "fell/../fell", "/etc", "fell/"] {
        assert!(cars.named(given).is_err(), "{given}");
    }
}

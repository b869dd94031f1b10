//! Disks that are full or may not be written.
//!
//! Root may write whatever a mode forbids, so two honest ways are taken: a child process with mounts of its own
//! (`unshare -m`) mounts the folder read-only, or a disk of 512 KiB; and a child process that has given up being root
//! (`setpriv`) meets the modes. Where the system allows neither, the tests say loudly that they showed nothing.

use std::fs;
use std::os::unix::fs::PermissionsExt as _;
use std::path::Path;
use std::process::Command;

use records::logbook::{self, Data, Draft, EntryKind, Filter, Logbook, WAIT};
use records::{CarName, Cars, Digest, Fault, Shelf};

use crate::aid::{CAP, child, is_root, names_in, note, open_folder, replace, shown, stamp, with_own_mounts};
use crate::child::tell;
use crate::saves::sheet_at;

/// Mounts, or tells why it cannot.
fn mount(arguments: &[&str]) -> bool {
    let output = Command::new("mount").args(arguments).output();
    match output {
        Ok(output) if output.status.success() => true,
        Ok(output) => {
            tell(&format!("skipped: {}", String::from_utf8_lossy(&output.stderr)));
            false
        }
        Err(why) => {
            tell(&format!("skipped: {why}"));
            false
        }
    }
}

#[test]
fn on_a_full_disk_nothing_is_lost() {
    let folder = tempfile::tempdir().unwrap();
    with_own_mounts("full-disk", folder.path());
}

pub(crate) fn full_disk(folder: &Path) {
    if !mount(&[
        "-t",
        "tmpfs",
        "-o",
        "size=512k",
        "tmpfs",
        folder.to_str().unwrap(),
    ]) {
        return;
    }
    let cars = Cars::open(folder).unwrap();
    let car = cars.add(&CarName::new("tarn").unwrap(), "first").unwrap();
    let mut book = Logbook::open_or_create(&car.logbook(), WAIT).unwrap();
    book.append(&note(1, "before")).unwrap();
    car.sheet()
        .save(Some(Digest::of(b"first")), "second", CAP)
        .unwrap();

    // A text that does not fit while there is still some room.
    let large = "x".repeat(600_000);
    let fault = car
        .sheet()
        .save(Some(Digest::of(b"second")), &large, CAP)
        .unwrap_err();
    assert!(matches!(fault, Fault::Full { .. }), "{fault:?}");
    assert!(fault.help().starts_with("Make room"), "{}", fault.help());
    assert_eq!(car.sheet().read(CAP).unwrap().text, "second");
    let kept = car.keep(Shelf::Logs, "run.csv", &mut large.as_bytes(), CAP);
    assert!(matches!(kept, Err(Fault::Full { .. })), "{kept:?}");
    let added = cars.add(&CarName::new("beck").unwrap(), &large);
    assert!(matches!(added, Err(Fault::Full { .. })), "{added:?}");
    let book_pdf = replace(&car.book(), large.as_bytes());
    assert!(matches!(book_pdf, Err(Fault::Full { .. })), "{book_pdf:?}");
    assert_eq!(names_in(&car.folder().join("logs")), [".run.csv.lock"]);
    assert_eq!(names_in(folder), [".cars.lock", "tarn"]);

    // No room at all.
    let filler = folder.join("filler");
    let mut size = 600_000;
    while size > 0 {
        use std::io::Write as _;
        let mut file = fs::OpenOptions::new()
            .create(true)
            .append(true)
            .open(&filler)
            .unwrap();
        if file.write_all(&vec![0; size]).is_err() {
            size /= 2;
        }
    }
    let fault = car
        .sheet()
        .save(Some(Digest::of(b"second")), "third", CAP)
        .unwrap_err();
    assert!(matches!(fault, Fault::Full { .. }), "{fault:?}");
    let fault = book.append(&note(2, &"y".repeat(9_000))).unwrap_err();
    assert!(matches!(fault, Fault::Full { .. }), "{fault:?}");
    assert_eq!(fault.slug(), "disk-full");
    let fault = Logbook::open_or_create(&folder.join("new.db"), WAIT).unwrap_err();
    assert!(matches!(fault, Fault::Full { .. }), "{fault:?}");
    assert_eq!(car.sheet().read(CAP).unwrap().text, "second");
    assert_eq!(book.list(&Filter::default()).unwrap().len(), 1);
    assert!(logbook::verify(&car.logbook(), WAIT, None).unwrap().ok());

    // And when there is room again, all goes on.
    fs::remove_file(&filler).unwrap();
    let entry = book.append(&note(2, &"y".repeat(9_000))).unwrap().entry;
    assert_eq!(entry.id, 2);
    car.sheet()
        .save(Some(Digest::of(b"second")), "third", CAP)
        .unwrap();
    assert!(logbook::verify(&car.logbook(), WAIT, None).unwrap().ok());
    let left: Vec<_> = names_in(car.folder())
        .into_iter()
        .filter(|name| name.contains(".saving"))
        .collect();
    assert!(left.is_empty(), "{left:?}");
}

#[test]
fn on_a_read_only_disk_everything_is_read_and_nothing_written() {
    let folder = tempfile::tempdir().unwrap();
    with_own_mounts("read-only-disk", folder.path());
}

/// A folder with a car that has a logbook.
fn a_car_with_a_book(folder: &Path) {
    let car = Cars::open(folder)
        .unwrap()
        .add(&CarName::new("tarn").unwrap(), "first")
        .unwrap();
    let mut book = Logbook::open_or_create(&car.logbook(), WAIT).unwrap();
    book.append(&note(1, "before")).unwrap();
}

pub(crate) fn read_only_disk(folder: &Path) {
    a_car_with_a_book(folder);
    let name = folder.to_str().unwrap();
    if !mount(&["--bind", name, name]) || !mount(&["-o", "remount,bind,ro", name]) {
        return;
    }
    nothing_may_be_written(folder);
}

#[test]
fn without_permission_everything_is_read_and_nothing_written() {
    let (_folder, path) = open_folder();
    a_car_with_a_book(&path);
    for entry in [path.join("tarn/logbook.db"), path.join("tarn/car.toml")] {
        fs::set_permissions(entry, fs::Permissions::from_mode(0o644)).unwrap();
    }
    let mode = |mode| {
        for folder in [path.join("tarn"), path.clone()] {
            fs::set_permissions(folder, fs::Permissions::from_mode(mode)).unwrap();
        }
    };
    mode(0o555);
    let before: &[&str] = if is_root() {
        &[
            "setpriv",
            "--reuid=65534",
            "--regid=65534",
            "--clear-groups",
            "--",
        ]
    } else {
        &[]
    };
    // Someone else may not be let as far as this program.
    let itself = std::env::current_exe().unwrap();
    let mut reach = Command::new(before.first().unwrap_or(&"true"));
    reach
        .args(before.iter().skip(1))
        .arg("test")
        .arg("-x")
        .arg(&itself);
    if reach.status().is_ok_and(|status| status.success()) {
        shown(
            "no-permission",
            child(before, "no-permission", &[path.to_str().unwrap()]),
        );
    } else {
        crate::aid::say("SKIPPED, nothing shown: no-permission: another user cannot start this test program");
    }
    mode(0o755);
}

pub(crate) fn no_permission(folder: &Path) {
    if fs::write(folder.join("probe"), "").is_ok() {
        tell("skipped: the modes are not obeyed here");
        return;
    }
    nothing_may_be_written(folder);
}

fn nothing_may_be_written(folder: &Path) {
    let denied = |fault: Fault| {
        assert!(matches!(fault, Fault::Denied { .. }), "{fault:?}");
        assert!(
            fault.help().contains("What was there is unharmed"),
            "{}",
            fault.help()
        );
    };
    let cars = Cars::open(folder).unwrap();
    let car = cars.named("tarn").unwrap();
    let before = (names_in(folder), names_in(car.folder()));

    assert_eq!(car.sheet().read(CAP).unwrap().text, "first");
    denied(
        car.sheet()
            .save(Some(Digest::of(b"first")), "second", CAP)
            .unwrap_err(),
    );
    denied(cars.preferences().save(None, "x", CAP).unwrap_err());
    denied(cars.add(&CarName::new("beck").unwrap(), "x").unwrap_err());
    denied(
        cars.copy(&car, &CarName::new("beck").unwrap(), &stamp(1, "b", "1"))
            .unwrap_err(),
    );
    denied(car.keep(Shelf::Logs, "run.csv", &mut &b"x"[..], CAP).unwrap_err());
    denied(replace(&car.book(), b"x").unwrap_err());
    denied(Logbook::open_or_create(&folder.join("new.db"), WAIT).unwrap_err());

    let mut book = Logbook::open_if_there(&car.logbook(), WAIT).unwrap().unwrap();
    assert_eq!(book.list(&Filter::default()).unwrap().len(), 1);
    let draft = Draft {
        stamp: stamp(2, "b", "2"),
        kind: EntryKind::Note,
        data: Data::with_text("no", None).unwrap(),
    };
    denied(book.append(&draft).unwrap_err());
    denied(book.strike(1, "no", &stamp(2, "b", "3")).unwrap_err());
    assert_eq!(book.list(&Filter::default()).unwrap().len(), 1);
    assert!(logbook::verify(&car.logbook(), WAIT, None).unwrap().ok());

    assert_eq!((names_in(folder), names_in(car.folder())), before);
    assert_eq!(sheet_at(car.sheet().path()).read(CAP).unwrap().text, "first");
}

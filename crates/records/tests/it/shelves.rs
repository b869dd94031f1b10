//! Stages and logger files: no name that someone gives leads out of the car's folder.

use std::fs;
use std::io::{self, Read};
use std::os::unix::fs::symlink;

use records::{CarFolder, CarName, Cars, Fault, NameFlaw, Shelf};

use crate::aid::{CAP, names_in};

fn a_car() -> (tempfile::TempDir, CarFolder) {
    let folder = tempfile::tempdir().unwrap();
    let cars = Cars::make(folder.path().join("cars")).unwrap();
    let car = cars.add(&CarName::new("tarn").unwrap(), "# sheet\n").unwrap();
    fs::create_dir(car.folder().join("stages")).unwrap();
    fs::create_dir(car.folder().join("logs")).unwrap();
    fs::write(folder.path().join("secret.toml"), "secret").unwrap();
    (folder, car)
}

#[test]
fn names_that_lead_out_never_reach_the_disk() {
    let (folder, car) = a_car();
    let secret = folder.path().join("secret.toml");
    assert!(
        fs::metadata(car.folder().join("stages/../../../secret.toml")).is_ok(),
        "the attack would work"
    );
    let attacks = [
        "../../../secret.toml",
        "..\\..\\..\\secret.toml",
        "../car.toml",
        "..",
        ".",
        "",
        "/etc/passwd",
        secret.to_str().unwrap(),
        "fell.toml\0",
        "\0",
        "fell\0.toml",
        "stages/fell.toml",
        "./fell.toml",
        "fell.toml/",
        "fell.toml/..",
        "C:\\fell.toml",
        "fell.toml:stream",
        "~/fell.toml",
        "%2e%2e%2fsecret.toml/",
        "con.toml",
        "nul",
        ".fell.toml",
        "-fell.toml",
        "\u{ff0e}\u{ff0e}/secret.toml",
        "\u{2024}\u{2024}/secret.toml",
    ];
    for attack in attacks {
        let fault = car.on_shelf(Shelf::Stages, attack).unwrap_err();
        assert!(matches!(fault, Fault::Name { .. }), "{attack:?}: {fault}");
        assert!(car.stage(attack).is_err(), "{attack:?}");
        assert!(car.on_shelf(Shelf::Logs, attack).is_err(), "{attack:?}");
        let kept = car.keep(Shelf::Stages, attack, &mut &b"x"[..], 10);
        assert!(matches!(kept, Err(Fault::Name { .. })), "{attack:?}");
    }
    // Full-width dots are ordinary letters without a separator: they stay inside.
    let odd = car.on_shelf(Shelf::Stages, "\u{ff0e}\u{ff0e}.toml").unwrap();
    assert_eq!(odd.parent().unwrap(), car.folder().join("stages"));
    assert_eq!(fs::read_to_string(secret).unwrap(), "secret");
}

#[test]
fn the_ending_is_the_shelfs_own() {
    let (_folder, car) = a_car();
    for given in ["fell.csv", "fell", "car.db", "toml", ".toml"] {
        assert!(car.on_shelf(Shelf::Stages, given).is_err(), "{given}");
    }
    let fault = car.on_shelf(Shelf::Stages, "fell.csv").unwrap_err();
    assert!(matches!(
        fault,
        Fault::Name {
            flaw: NameFlaw::Extension { wanted: "toml" },
            ..
        }
    ));
    assert_eq!(
        car.on_shelf(Shelf::Logs, "RUN 01.CSV").unwrap(),
        car.folder().join("logs/RUN 01.CSV")
    );
    assert_eq!(
        car.stage("fell").unwrap().path(),
        car.folder().join("stages/fell.toml")
    );
    assert_eq!(
        car.stage("fell.toml").unwrap().path(),
        car.folder().join("stages/fell.toml")
    );
}

#[test]
fn links_that_lead_out_are_refused_and_those_that_stay_are_not() {
    let (folder, car) = a_car();
    let stages = car.folder().join("stages");
    symlink(folder.path().join("secret.toml"), stages.join("out.toml")).unwrap();
    symlink("../../../secret.toml", stages.join("up.toml")).unwrap();
    symlink("/nowhere/at/all", stages.join("gone.toml")).unwrap();
    symlink("loop.toml", stages.join("loop.toml")).unwrap();
    fs::write(stages.join("fell.toml"), "fell").unwrap();
    symlink("fell.toml", stages.join("same.toml")).unwrap();
    assert!(matches!(
        car.on_shelf(Shelf::Stages, "out.toml"),
        Err(Fault::LeadsOut { .. })
    ));
    assert!(matches!(car.stage("up"), Err(Fault::LeadsOut { .. })));
    assert!(matches!(car.stage("gone"), Err(Fault::DanglingLink { .. })));
    assert!(matches!(car.stage("loop"), Err(Fault::Disk { .. })));
    assert_eq!(car.stage("same").unwrap().read(CAP).unwrap().text, "fell");
    let listing = car.shelf(Shelf::Stages).unwrap();
    assert_eq!(listing.found, ["fell.toml", "same.toml"]);
    let left: Vec<_> = listing
        .left_out
        .iter()
        .filter_map(|left| left.path.file_name()?.to_str())
        .collect();
    assert_eq!(left, ["gone.toml", "loop.toml", "out.toml", "up.toml"]);
}

#[test]
fn a_shelf_that_leads_out_is_refused_whatever_is_asked() {
    let (folder, car) = a_car();
    fs::remove_dir(car.folder().join("logs")).unwrap();
    symlink(folder.path(), car.folder().join("logs")).unwrap();
    fs::write(folder.path().join("run.csv"), "secret").unwrap();
    assert!(matches!(car.shelf(Shelf::Logs), Err(Fault::LeadsOut { .. })));
    assert!(matches!(
        car.on_shelf(Shelf::Logs, "run.csv"),
        Err(Fault::LeadsOut { .. })
    ));
    assert!(matches!(
        car.on_shelf(Shelf::Logs, "new.csv"),
        Err(Fault::LeadsOut { .. })
    ));
    assert!(matches!(car.columns(), Err(Fault::LeadsOut { .. })));
    assert!(matches!(car.make_shelf(Shelf::Logs), Err(Fault::LeadsOut { .. })));
    assert!(matches!(
        car.keep(Shelf::Logs, "new.csv", &mut &b"x"[..], 10),
        Err(Fault::LeadsOut { .. })
    ));
    assert_eq!(names_in(folder.path()), ["cars", "run.csv", "secret.toml"]);
}

/// A car's folder may itself be a link: whoever put it there meant it.
#[test]
fn a_car_that_lies_elsewhere_is_a_car() {
    let (folder, car) = a_car();
    fs::rename(car.folder(), folder.path().join("elsewhere")).unwrap();
    symlink(folder.path().join("elsewhere"), folder.path().join("cars/tarn")).unwrap();
    fs::write(folder.path().join("elsewhere/stages/fell.toml"), "fell").unwrap();
    let car = Cars::open(folder.path().join("cars"))
        .unwrap()
        .named("tarn")
        .unwrap();
    assert_eq!(car.stage("fell").unwrap().read(CAP).unwrap().text, "fell");
}

#[test]
fn listings_hold_what_belongs_and_tell_what_does_not() {
    let (_folder, car) = a_car();
    let logs = car.folder().join("logs");
    for name in [
        "b.csv",
        "A.CSV",
        "columns.toml",
        "notes.txt",
        ".hidden.csv",
        "bad:name.csv",
    ] {
        fs::write(logs.join(name), "").unwrap();
    }
    fs::create_dir(logs.join("folder.csv")).unwrap();
    let listing = car.shelf(Shelf::Logs).unwrap();
    assert_eq!(listing.found, ["A.CSV", "b.csv"]);
    assert_eq!(listing.left_out.len(), 2);
    assert!(matches!(listing.left_out[1].why, Fault::NotAFile { .. }));
    fs::remove_dir_all(&logs).unwrap();
    assert!(car.shelf(Shelf::Logs).unwrap().found.is_empty());
    fs::write(&logs, "a file").unwrap();
    assert!(car.shelf(Shelf::Logs).is_err());
    assert!(matches!(
        car.make_shelf(Shelf::Logs),
        Err(Fault::NotAFolder { .. })
    ));
}

#[test]
fn a_name_that_differs_by_case_means_the_file_that_is_there() {
    let (_folder, car) = a_car();
    fs::write(car.folder().join("stages/Fell.toml"), "fell").unwrap();
    assert_eq!(
        car.stage("fell").unwrap().path(),
        car.folder().join("stages/Fell.toml")
    );
    fs::write(car.folder().join("stages/FELL.toml"), "FELL").unwrap();
    assert!(matches!(car.stage("fell"), Err(Fault::Ambiguous { .. })));
    assert_eq!(car.stage("Fell").unwrap().read(CAP).unwrap().text, "fell");
}

#[test]
fn a_stage_and_the_column_map_are_saved_like_a_sheet() {
    let (_folder, car) = a_car();
    fs::remove_dir(car.folder().join("stages")).unwrap();
    let stage = car.stage("fell").unwrap();
    assert!(matches!(stage.save(None, "a", CAP), Err(Fault::Missing { .. })));
    car.make_shelf(Shelf::Stages).unwrap();
    let digest = stage.save(None, "a", CAP).unwrap();
    assert!(matches!(stage.save(None, "b", CAP), Err(Fault::Changed(_))));
    stage.save(Some(digest), "b", CAP).unwrap();
    assert_eq!(stage.read(CAP).unwrap().text, "b");
    car.columns().unwrap().save(None, "map", CAP).unwrap();
    assert_eq!(car.columns().unwrap().read(CAP).unwrap().text, "map");
    assert!(car.shelf(Shelf::Logs).unwrap().found.is_empty());
}

#[test]
fn a_loggers_file_is_kept_once_and_never_overwritten() {
    let (_folder, car) = a_car();
    fs::remove_dir(car.folder().join("logs")).unwrap();
    let keep = |mut from: &[u8], cap| car.keep(Shelf::Logs, "run.csv", &mut from, cap);
    let path = keep(b"t,p\n0,1\n", 8).unwrap();
    assert_eq!(fs::read_to_string(&path).unwrap(), "t,p\n0,1\n");
    assert_eq!(keep(b"t,p\n0,1\n", 8).unwrap(), path);
    // A logger that counts anew: both are kept, each once.
    for _ in 0..2 {
        let other = keep(b"other\n", 8).unwrap();
        assert_eq!(other.file_name().unwrap(), "run-2.csv");
        assert_eq!(fs::read_to_string(&other).unwrap(), "other\n");
    }
    assert!(matches!(
        keep(b"123456789", 8),
        Err(Fault::TooLarge { cap_bytes: 8, .. })
    ));
    assert_eq!(fs::read_to_string(&path).unwrap(), "t,p\n0,1\n");
    assert_eq!(
        names_in(path.parent().unwrap()),
        [".run.csv.lock", "run-2.csv", "run.csv"]
    );
}

/// An upload without end is cut at the cap, and one that breaks off leaves nothing.
#[test]
fn uploads_are_capped_and_leave_nothing_when_they_fail() {
    struct Breaks(u8);
    impl Read for Breaks {
        fn read(&mut self, into: &mut [u8]) -> io::Result<usize> {
            self.0 = self.0.checked_sub(1).ok_or_else(|| io::Error::other("gone"))?;
            into[..3].copy_from_slice(b"abc");
            Ok(3)
        }
    }
    let (_folder, car) = a_car();
    let endless = car.keep(Shelf::Logs, "run.csv", &mut io::repeat(b'x'), 1_000_000);
    assert!(matches!(endless, Err(Fault::TooLarge { .. })));
    let broken = car.keep(Shelf::Logs, "run.csv", &mut Breaks(5), 1_000_000);
    assert!(matches!(broken, Err(Fault::Disk { doing: "take in", .. })));
    assert_eq!(names_in(&car.folder().join("logs")), [".run.csv.lock"]);
}

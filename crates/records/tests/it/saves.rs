//! Reading a text and putting another in its place.

use std::fs;
use std::os::unix::fs::{MetadataExt as _, PermissionsExt as _, symlink};
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::sync::Barrier;

use records::{CarFolder, Cars, Digest, Fault, TextFile};

use crate::aid::{CAP, child, names_in, replace};

/// A sheet on its own, in a folder with nothing else.
fn a_sheet(text: &str) -> (tempfile::TempDir, TextFile, PathBuf) {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("car.toml");
    fs::write(&path, text).unwrap();
    let sheet = sheet_at(&path);
    (folder, sheet, path)
}

pub(crate) fn sheet_at(path: &Path) -> TextFile {
    CarFolder::at(path).unwrap().sheet().clone()
}

#[test]
fn a_text_is_read_and_saved_to_the_byte() {
    let odd = "\u{feff}format = 1\r\n# né \u{0}\n\n\r";
    let (folder, sheet, path) = a_sheet(odd);
    let read = sheet.read(CAP).unwrap();
    assert_eq!(
        (read.text.as_str(), read.digest),
        (odd, Digest::of(odd.as_bytes()))
    );
    let digest = sheet.save(Some(read.digest), "new", CAP).unwrap();
    assert_eq!(fs::read(&path).unwrap(), b"new");
    assert_eq!(digest, Digest::of(b"new"));
    assert_eq!(names_in(folder.path()), [".car.toml.lock", "car.toml"]);
}

/// SHA-256 of "abc", an example of NIST FIPS 180-2, appendix B.1 (from memory; Python's hashlib agrees).
#[test]
fn the_digest_is_sha_256() {
    let abc = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad";
    assert_eq!(Digest::of(b"abc").to_string(), abc);
    assert_eq!(abc.parse::<Digest>().unwrap(), Digest::of(b"abc"));
    assert_eq!(abc.to_uppercase().parse::<Digest>().unwrap(), Digest::of(b"abc"));
    for wrong in [
        "",
        "ba78",
        &abc[1..],
        &format!("{abc}0"),
        &abc.replace('b', "g"),
        &abc.replace("ba", "é"),
    ] {
        assert!(wrong.parse::<Digest>().is_err(), "{wrong}");
    }
}

#[test]
fn a_text_that_changed_underneath_is_not_overwritten() {
    let (_folder, sheet, path) = a_sheet("first");
    let read = sheet.read(CAP).unwrap();
    fs::write(&path, "theirs").unwrap();
    let Err(Fault::Changed(conflict)) = sheet.save(Some(read.digest), "mine", CAP) else {
        panic!()
    };
    assert_eq!(fs::read_to_string(&path).unwrap(), "theirs");
    assert_eq!(
        (conflict.yours.as_str(), conflict.read),
        ("mine", Some(read.digest))
    );
    let theirs = conflict.on_disk.clone().unwrap();
    assert_eq!(theirs.text, "theirs");
    let fault = Fault::Changed(conflict);
    assert_eq!(fault.slug(), "changed");
    assert!(fault.help().starts_with("Compare the two texts"));
    // With what it was changed to, it goes.
    sheet.save(Some(theirs.digest), "both", CAP).unwrap();
    assert_eq!(fs::read_to_string(&path).unwrap(), "both");
}

#[test]
fn a_text_that_went_or_grew_or_is_no_text_any_more_is_a_conflict_too() {
    let (_folder, sheet, path) = a_sheet("first");
    let read = sheet.read(100).unwrap();
    let conflict = |text: &str| match sheet.save(Some(read.digest), text, 100) {
        Err(Fault::Changed(conflict)) => conflict,
        other => panic!("{other:?}"),
    };
    fs::remove_file(&path).unwrap();
    assert_eq!(conflict("mine").on_disk, None);
    assert!(
        !path.exists(),
        "it is not brought back behind the back of whoever removed it"
    );
    fs::write(&path, "x".repeat(101)).unwrap();
    assert_eq!(conflict("mine").on_disk, None);
    fs::write(&path, b"\xff\xfe").unwrap();
    assert_eq!(conflict("mine").on_disk, None);
    assert_eq!(fs::read(&path).unwrap(), b"\xff\xfe");
    // Where there was none, and now there is one.
    fs::write(&path, "theirs").unwrap();
    let Err(Fault::Changed(conflict)) = sheet.save(None, "mine", 100) else {
        panic!()
    };
    assert_eq!(
        (conflict.read, conflict.on_disk.unwrap().text.as_str()),
        (None, "theirs")
    );
}

/// A save whose answer was lost is sent again: the text is there already.
#[test]
fn the_same_save_twice_is_no_conflict() {
    let (_folder, sheet, _path) = a_sheet("first");
    let read = sheet.read(CAP).unwrap();
    let once = sheet.save(Some(read.digest), "mine", CAP).unwrap();
    assert_eq!(sheet.save(Some(read.digest), "mine", CAP).unwrap(), once);
}

#[test]
fn preferences_need_not_be_there() {
    let folder = tempfile::tempdir().unwrap();
    let preferences = Cars::open(folder.path()).unwrap().preferences();
    assert_eq!(preferences.read_if_there(CAP).unwrap(), None);
    assert!(matches!(preferences.read(CAP), Err(Fault::Missing { .. })));
    let digest = preferences.save(None, "paper = \"A4\"\n", CAP).unwrap();
    let read = preferences.read_if_there(CAP).unwrap().unwrap();
    assert_eq!((read.text.as_str(), read.digest), ("paper = \"A4\"\n", digest));
    assert_eq!(preferences.path(), folder.path().join("preferences.toml"));
}

#[test]
fn no_more_is_read_than_the_cap() {
    let (_folder, sheet, path) = a_sheet(&"x".repeat(100));
    assert_eq!(sheet.read(100).unwrap().text.len(), 100);
    let fault = sheet.read(99).unwrap_err();
    assert!(matches!(fault, Fault::TooLarge { cap_bytes: 99, .. }));
    assert!(fault.is_wrong_input());
    assert!(matches!(
        sheet.save(None, &"x".repeat(100), 99),
        Err(Fault::TooLarge { .. })
    ));
    // A file that tells no size, and has no end of it.
    let sheet = sheet_at(&path);
    fs::remove_file(&path).unwrap();
    symlink("/proc/self/smaps", &path).unwrap();
    assert!(matches!(sheet.read(50), Err(Fault::TooLarge { .. })));
    // A thin file of a terabyte is not read at all.
    fs::remove_file(&path).unwrap();
    fs::File::create(&path).unwrap().set_len(1 << 40).unwrap();
    assert!(matches!(sheet.read(CAP), Err(Fault::TooLarge { .. })));
}

#[test]
fn what_is_no_file_is_neither_read_nor_replaced() {
    let (_folder, sheet, path) = a_sheet("");
    fs::remove_file(&path).unwrap();
    // A pipe would be waited for, a device would not end.
    assert!(Command::new("mkfifo").arg(&path).status().unwrap().success());
    assert!(matches!(sheet.read(CAP), Err(Fault::NotAFile { .. })));
    assert!(matches!(sheet.save(None, "x", CAP), Err(Fault::NotAFile { .. })));
    fs::remove_file(&path).unwrap();
    symlink("/dev/zero", &path).unwrap();
    assert!(matches!(sheet.read(CAP), Err(Fault::NotAFile { .. })));
    assert!(matches!(sheet.save(None, "x", CAP), Err(Fault::NotAFile { .. })));
    fs::remove_file(&path).unwrap();
    fs::create_dir(&path).unwrap();
    assert!(matches!(sheet.read(CAP), Err(Fault::NotAFile { .. })));
    assert!(matches!(sheet.save(None, "x", CAP), Err(Fault::NotAFile { .. })));
}

#[test]
fn what_is_not_text_is_told_by_line() {
    let (_folder, sheet, path) = a_sheet("");
    fs::write(&path, b"one\ntwo\nth\xe9ree").unwrap();
    let fault = sheet.read(CAP).unwrap_err();
    assert!(
        matches!(
            fault,
            Fault::NotText {
                offset: 10,
                line: 3,
                ..
            }
        ),
        "{fault:?}"
    );
}

#[test]
fn the_mode_is_kept_and_a_new_file_has_the_usual_one() {
    let (folder, sheet, path) = a_sheet("first");
    for mode in [0o600, 0o664, 0o640, 0o755] {
        fs::set_permissions(&path, fs::Permissions::from_mode(mode)).unwrap();
        let read = sheet.read(CAP).unwrap();
        sheet.save(Some(read.digest), &format!("{mode:o}"), CAP).unwrap();
        assert_eq!(fs::metadata(&path).unwrap().mode() & 0o7777, mode);
    }
    fs::write(folder.path().join("usual"), "").unwrap();
    replace(&folder.path().join("new"), b"").unwrap();
    let mode = |name| fs::metadata(folder.path().join(name)).unwrap().mode();
    assert_eq!(mode("new"), mode("usual"));
}

/// An administrator who saves does not take the sheet away from its owner.
#[test]
fn the_owner_is_kept() {
    if !crate::aid::is_root() {
        crate::aid::say("SKIPPED, nothing shown: the_owner_is_kept: only root may give files away");
        return;
    }
    let (_folder, sheet, path) = a_sheet("first");
    std::os::unix::fs::chown(&path, Some(1234), Some(2345)).unwrap();
    sheet.save(Some(Digest::of(b"first")), "second", CAP).unwrap();
    let there = fs::metadata(&path).unwrap();
    assert_eq!((there.uid(), there.gid()), (1234, 2345));
}

#[test]
fn a_sheet_that_is_marked_read_only_stays() {
    let (folder, sheet, path) = a_sheet("first");
    fs::set_permissions(&path, fs::Permissions::from_mode(0o444)).unwrap();
    let fault = sheet.save(Some(Digest::of(b"first")), "second", CAP).unwrap_err();
    assert!(
        matches!(
            fault,
            Fault::Denied {
                doing: "write to",
                ..
            }
        ),
        "{fault}"
    );
    assert!(fault.help().contains("read-only"));
    assert_eq!(fs::read_to_string(&path).unwrap(), "first");
    assert_eq!(names_in(folder.path()), [".car.toml.lock", "car.toml"]);
}

#[test]
fn a_link_is_followed_and_stays_a_link() {
    let (folder, sheet, path) = a_sheet("first");
    fs::create_dir(folder.path().join("elsewhere")).unwrap();
    let real = folder.path().join("elsewhere/real.toml");
    fs::rename(&path, &real).unwrap();
    symlink("step.toml", &path).unwrap();
    symlink("elsewhere/real.toml", folder.path().join("step.toml")).unwrap();
    let read = sheet.read(CAP).unwrap();
    sheet.save(Some(read.digest), "second", CAP).unwrap();
    assert!(fs::symlink_metadata(&path).unwrap().is_symlink());
    assert!(
        fs::symlink_metadata(folder.path().join("step.toml"))
            .unwrap()
            .is_symlink()
    );
    assert_eq!(fs::read_to_string(&real).unwrap(), "second");
    assert_eq!(names_in(folder.path()), ["car.toml", "elsewhere", "step.toml"]);
    assert_eq!(
        names_in(&folder.path().join("elsewhere")),
        [".real.toml.lock", "real.toml"]
    );
    // Over both names it is one file: whoever saves over the other name is told.
    let direct = sheet_at(&real);
    assert!(matches!(
        direct.save(Some(read.digest), "third", CAP),
        Err(Fault::Changed(_))
    ));
}

#[test]
fn a_link_to_nothing_is_told_and_stays() {
    let (folder, sheet, path) = a_sheet("first");
    fs::remove_file(&path).unwrap();
    symlink("stick/car.toml", &path).unwrap();
    for fault in [
        sheet.read(CAP).unwrap_err(),
        sheet.save(None, "x", CAP).unwrap_err(),
        CarFolder::at(&path).unwrap_err(),
    ] {
        let Fault::DanglingLink { leads_to, .. } = &fault else {
            panic!("{fault}")
        };
        assert_eq!(leads_to, Path::new("stick/car.toml"));
        assert!(fault.help().contains("stick"));
    }
    assert_eq!(names_in(folder.path()), ["car.toml"]);
    fs::remove_file(&path).unwrap();
    symlink("car.toml", &path).unwrap();
    assert!(matches!(sheet.save(None, "x", CAP), Err(Fault::Disk { .. })));
}

#[test]
fn a_folder_that_is_missing_or_none_is_told() {
    let folder = tempfile::tempdir().unwrap();
    let gone = folder.path().join("gone");
    assert!(matches!(replace(&gone.join("book.pdf"), b"x"), Err(Fault::Missing { path }) if path == gone));
    fs::write(&gone, "a file").unwrap();
    assert!(matches!(
        replace(&gone.join("book.pdf"), b"x"),
        Err(Fault::NotAFolder { .. })
    ));
    assert!(matches!(
        replace(folder.path(), b"x"),
        Err(Fault::NotAFile { .. })
    ));
    assert!(matches!(
        replace(&folder.path().join(".."), b"x"),
        Err(Fault::NotAFile { .. })
    ));
}

#[test]
fn what_is_made_anew_replaces_what_was_there() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("book.pdf");
    replace(&path, b"one").unwrap();
    replace(&path, b"two").unwrap();
    assert_eq!(fs::read(&path).unwrap(), b"two");
    // A name so long that nothing more can be put to it.
    let long = folder.path().join("b".repeat(255));
    replace(&long, b"one").unwrap();
    replace(&long, b"two").unwrap();
    assert_eq!(fs::read(&long).unwrap(), b"two");
    let too_long = folder.path().join("b".repeat(256));
    assert!(matches!(replace(&too_long, b"x"), Err(Fault::Disk { .. })));
    assert_eq!(
        names_in(folder.path())
            .iter()
            .filter(|name| name.ends_with(".saving"))
            .count(),
        0
    );
}

#[test]
fn left_overs_are_tidied_and_strangers_are_not() {
    let (folder, sheet, _path) = a_sheet("first");
    let ours = [
        ".car.toml.17-0.saving",
        ".car.toml.4194304-12.saving",
        ".car.toml.17-0.saving-journal",
    ];
    let strangers = [
        ".car.toml.saving",
        ".car.toml.x-1.saving",
        ".car.toml.1-2-3.saving",
        ".other.toml.1-2.saving",
        "car.toml.1-2.saving",
    ];
    for name in ours.iter().chain(&strangers) {
        fs::write(folder.path().join(name), "half").unwrap();
    }
    fs::create_dir(folder.path().join(".car.toml.18-0.saving")).unwrap();
    sheet.save(Some(Digest::of(b"first")), "second", CAP).unwrap();
    let names = names_in(folder.path());
    assert!(
        ours.iter().all(|name| !names.contains(&(*name).to_owned())),
        "{names:?}"
    );
    assert!(
        strangers.iter().all(|name| names.contains(&(*name).to_owned())),
        "{names:?}"
    );
    assert!(
        names.contains(&".car.toml.18-0.saving".to_owned()),
        "a folder is nobody's left-over"
    );
}

#[test]
fn a_save_that_another_never_lets_in_gives_up() {
    let (folder, sheet, path) = a_sheet("first");
    let lock = fs::File::create(folder.path().join(".car.toml.lock")).unwrap();
    lock.lock().unwrap();
    let fault = sheet.save(Some(Digest::of(b"first")), "second", CAP).unwrap_err();
    assert!(
        matches!(&fault, Fault::Busy { path: busy } if busy.ends_with("car.toml")),
        "{fault}"
    );
    assert_eq!(fs::read_to_string(&path).unwrap(), "first");
    lock.unlock().unwrap();
    sheet.save(Some(Digest::of(b"first")), "second", CAP).unwrap();
}

#[test]
fn of_two_threads_that_save_at_once_one_wins() {
    let (_folder, sheet, path) = a_sheet("start");
    for round in 0..50 {
        let read = sheet.read(CAP).unwrap().digest;
        let barrier = Barrier::new(2);
        let results = std::thread::scope(|scope| {
            let savers = ["a", "b"].map(|who| {
                let (sheet, barrier) = (&sheet, &barrier);
                scope.spawn(move || {
                    barrier.wait();
                    (who, sheet.save(Some(read), &format!("{who} {round}"), CAP))
                })
            });
            savers.map(|saver| saver.join().unwrap())
        });
        let (won, lost): (Vec<_>, Vec<_>) = results.into_iter().partition(|(_, result)| result.is_ok());
        assert_eq!((won.len(), lost.len()), (1, 1), "round {round}");
        let there = format!("{} {round}", won[0].0);
        assert_eq!(fs::read_to_string(&path).unwrap(), there);
        let (who, Err(Fault::Changed(conflict))) = &lost[0] else {
            panic!("{lost:?}")
        };
        assert_eq!(conflict.yours, format!("{who} {round}"));
        assert_eq!(conflict.on_disk.as_ref().unwrap().text, there);
    }
}

/// A child that saves its own text over `start`, and says whether it did.
pub(crate) fn save_once(path: &Path, who: &str) {
    match sheet_at(path).save(Some(Digest::of(b"start")), who, CAP) {
        Ok(_) => crate::child::tell("won"),
        Err(Fault::Changed(_)) => crate::child::tell("lost"),
        Err(fault) => panic!("{fault}"),
    }
}

#[test]
fn of_several_processes_that_save_at_once_one_wins() {
    let (_folder, _sheet, path) = a_sheet("start");
    for _ in 0..5 {
        fs::write(&path, "start").unwrap();
        let children: Vec<_> = ["a", "b", "c", "d"]
            .iter()
            .map(|who| {
                let mut command = child(&[], "save-once", &[path.to_str().unwrap(), who]);
                (who, command.stdout(Stdio::piped()).spawn().unwrap())
            })
            .collect();
        let mut winners = Vec::new();
        for (who, child) in children {
            let out = String::from_utf8(child.wait_with_output().unwrap().stdout).unwrap();
            match (out.contains("won"), out.contains("lost")) {
                (true, false) => winners.push(*who),
                (false, true) => {}
                _ => panic!("{out}"),
            }
        }
        assert_eq!(winners.len(), 1);
        assert_eq!(fs::read_to_string(&path).unwrap(), winners[0]);
    }
}

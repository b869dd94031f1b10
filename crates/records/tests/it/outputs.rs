//! What the program writes anew each time, and what it leaves alone.

use std::fs;
use std::io::Read as _;
use std::path::Path;
use std::process::Command;

use records::{Fault, Mark, Output, write};

use crate::aid::names_in;

fn output(path: &Path, text: &str, mark: Mark) -> Output {
    Output {
        path: path.to_owned(),
        bytes: text.as_bytes().to_vec(),
        mark,
    }
}

#[test]
fn only_what_carries_the_mark_is_replaced() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("a.svg");
    let ours = || Mark::Comment("<!-- ours -->");
    write(&[output(&path, "<svg><!-- ours -->1</svg>", ours())]).unwrap();
    write(&[output(&path, "<svg><!-- ours -->2</svg>", ours())]).unwrap();
    assert_eq!(fs::read_to_string(&path).unwrap(), "<svg><!-- ours -->2</svg>");
    for theirs in [
        "",
        "<svg/>",
        "format = 1\n",
        "<!-- our",
        "id,what,more\r\n1",
        "id,what",
    ] {
        fs::write(&path, theirs).unwrap();
        for mark in [ours(), Mark::FirstLine("id,what,mor".to_owned()), Mark::None] {
            let fault = write(&[output(&path, "x", mark)]).unwrap_err();
            assert!(
                matches!(&fault, Fault::NotOurs { path: told } if *told == path),
                "{fault}"
            );
            assert!(!fault.is_wrong_input());
            assert_eq!(fs::read_to_string(&path).unwrap(), theirs);
        }
    }
    for older in ["id,what", "id,what\r\n1,a\r\n", "id,what\n"] {
        fs::write(&path, older).unwrap();
        write(&[output(
            &path,
            "id,what\n2,b\n",
            Mark::FirstLine("id,what".to_owned()),
        )])
        .unwrap();
        assert_eq!(fs::read_to_string(&path).unwrap(), "id,what\n2,b\n");
    }
    assert_eq!(names_in(folder.path()), ["a.svg"], "nothing is left beside it");
}

/// One that is refused keeps all of them from being written.
#[test]
fn several_are_written_together_or_not_at_all() {
    let folder = tempfile::tempdir().unwrap();
    let (new, theirs) = (folder.path().join("a.csv"), folder.path().join("b.csv"));
    fs::write(&theirs, "mine\n").unwrap();
    let head = || Mark::FirstLine("a,b".to_owned());
    let both = [output(&new, "a,b\n", head()), output(&theirs, "a,b\n", head())];
    assert!(matches!(write(&both), Err(Fault::NotOurs { .. })));
    assert_eq!(names_in(folder.path()), ["b.csv"]);
    fs::remove_file(&theirs).unwrap();
    write(&both).unwrap();
    assert_eq!(names_in(folder.path()), ["a.csv", "b.csv"]);
}

/// A logbook is not even opened: what closes a file that SQLite has open lets go of its locks.
#[test]
fn a_logbook_is_refused_by_its_name_and_through_a_link() {
    let folder = tempfile::tempdir().unwrap();
    let book = folder.path().join("logbook.db");
    let link = folder.path().join("a.svg");
    fs::write(&book, "<svg><!-- ours --></svg>").unwrap();
    std::os::unix::fs::symlink(&book, &link).unwrap();
    for path in [&book, &link] {
        let fault = write(&[output(path, "x", Mark::Says(|_| true))]).unwrap_err();
        assert!(matches!(fault, Fault::NotOurs { .. }), "{fault}");
        let fault = records::TextFile::at(path.clone()).read(100).unwrap_err();
        assert!(matches!(fault, Fault::Database { .. }), "{fault}");
        assert!(records::TextFile::at(path.clone()).beginning(100).is_err());
    }
    assert_eq!(fs::read_to_string(&book).unwrap(), "<svg><!-- ours --></svg>");
}

#[test]
fn a_pipe_is_written_to_and_stays_a_pipe() {
    use std::os::unix::fs::FileTypeExt as _;
    let folder = tempfile::tempdir().unwrap();
    let pipe = folder.path().join("pipe");
    assert!(Command::new("mkfifo").arg(&pipe).status().unwrap().success());
    let reader = std::thread::spawn({
        let pipe = pipe.clone();
        move || {
            let mut read = String::new();
            fs::File::open(pipe).unwrap().read_to_string(&mut read).unwrap();
            read
        }
    });
    write(&[output(&pipe, "<svg/>", Mark::None)]).unwrap();
    assert_eq!(reader.join().unwrap(), "<svg/>");
    assert!(fs::metadata(&pipe).unwrap().file_type().is_fifo());
    write(&[output(Path::new("/dev/null"), "<svg/>", Mark::None)]).unwrap();
    assert!(matches!(
        write(&[output(folder.path(), "<svg/>", Mark::None)]),
        Err(Fault::NotAFile { .. })
    ));
}

/// None of these is opened, so that none is waited for.
#[test]
fn a_pipe_in_the_place_of_a_file_is_refused() {
    let make = |path: &Path| assert!(Command::new("mkfifo").arg(path).status().unwrap().success());
    let folder = tempfile::tempdir().unwrap();
    let sheet = folder.path().join("car.toml");
    make(&sheet);
    let file = records::TextFile::at(sheet.clone());
    assert!(matches!(file.read(100), Err(Fault::NotAFile { .. })));
    assert!(matches!(file.beginning(100), Err(Fault::NotAFile { .. })));
    assert!(matches!(
        records::CarFolder::at(&sheet),
        Err(Fault::NotAFile { .. })
    ));
    fs::remove_file(&sheet).unwrap();
    make(&folder.path().join(".car.toml.lock"));
    assert!(matches!(
        file.save(None, "format = 1\n", 100),
        Err(Fault::NotAFile { .. })
    ));
    for beside in ["", "-journal", "-wal", "-shm"] {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("logbook.db");
        if !beside.is_empty() {
            drop(records::logbook::Logbook::open_or_create(&path, records::logbook::WAIT).unwrap());
        }
        make(&folder.path().join(format!("logbook.db{beside}")));
        let fault = records::logbook::Logbook::open_if_there(&path, records::logbook::WAIT).unwrap_err();
        assert!(matches!(fault, Fault::NotAFile { .. }), "{beside}: {fault}");
    }
}

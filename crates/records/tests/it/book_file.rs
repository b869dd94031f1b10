//! The logbook as a file: what it refuses by itself, who else holds it, what is no logbook.

use std::fs;
use std::time::Duration;

use records::Fault;
use records::logbook::{self, Logbook, WAIT};

use crate::aid::{names_in, note, stamp};
use crate::book::{a_book, all};

/// The file refuses what the program never does, whoever asks: also the ways around a trigger on removal.
#[test]
fn the_file_itself_refuses_changes() {
    let (_folder, path, mut book) = a_book();
    book.append(&note(1, "one")).unwrap();
    book.append(&note(2, "two")).unwrap();
    book.strike(1, "x", &stamp(3, "bench", "s")).unwrap();
    let before = all(&book);
    let other = rusqlite::Connection::open(&path).unwrap();
    let row = "at, zone, kind, data, device, device_entry, strikes, hash";
    let said = |sql: &str| match other.execute_batch(sql) {
        Ok(()) => panic!("{sql}"),
        Err(error) => error.to_string(),
    };
    let hash = "zeroblob(32)";
    assert_eq!(
        said("UPDATE entry SET data = '{}' WHERE id = 1"),
        "an entry is never changed"
    );
    assert_eq!(
        said("UPDATE entry SET id = 9 WHERE id = 3"),
        "an entry is never changed"
    );
    assert_eq!(
        said("DELETE FROM entry WHERE id = 3"),
        "an entry is never removed"
    );
    assert_eq!(said("DELETE FROM entry"), "an entry is never removed");
    assert_eq!(
        said(&format!(
            "REPLACE INTO entry (id, {row}) VALUES (2, 'a', 'z', 'note', '{{}}', 'd', 'e', NULL, {hash})"
        )),
        "a new entry takes the next number"
    );
    assert_eq!(
        said(&format!(
            "REPLACE INTO entry (id, {row}) VALUES (4, 'a', 'z', 'note', '{{}}', 'bench', 'n2', NULL, {hash})"
        )),
        "the device has used this id before"
    );
    assert_eq!(
        said(&format!(
            "REPLACE INTO entry (id, {row}) VALUES (4, 'a', 'z', 'note', '{{}}', 'd', 'e', 1, {hash})"
        )),
        "the entry was struck before"
    );
    assert_eq!(
        said(&format!(
            "INSERT INTO entry (id, {row}) VALUES (6, 'a', 'z', 'note', '{{}}', 'd', 'e', NULL, {hash})"
        )),
        "a new entry takes the next number"
    );
    assert_eq!(
        said(&format!(
            "INSERT INTO entry ({row}) VALUES ('a', 'z', 'note', '{{}}', 'd', 'e', NULL, {hash})"
        )),
        "a new entry takes the next number"
    );
    assert!(
        said(&format!(
            "INSERT INTO entry (id, {row}) VALUES (4, 'a', 'z', 'note', x'00', 'd', 'e', NULL, {hash})"
        ))
        .contains("BLOB")
    );
    assert!(
        said(&format!(
            "INSERT INTO entry (id, {row}) VALUES (4, 'a', 'z', 'note', '', 'd', 'e', NULL, x'00')"
        ))
        .contains("CHECK")
    );
    assert_eq!(all(&book), before);
    assert!(logbook::verify(&path, WAIT, None).unwrap().ok());
}

#[test]
fn a_book_that_another_never_lets_go_is_busy() {
    let (_folder, path, mut book) = a_book();
    book.append(&note(1, "one")).unwrap();
    drop(book);
    let other = rusqlite::Connection::open(&path).unwrap();
    other.execute_batch("BEGIN IMMEDIATE").unwrap();
    let short = Duration::from_millis(50);
    let mut book = Logbook::open_or_create(&path, short).unwrap();
    let fault = book.append(&note(2, "two")).unwrap_err();
    assert!(matches!(fault, Fault::Busy { .. }), "{fault:?}");
    assert!(fault.help().starts_with("Wait until"));
    // Reading goes on meanwhile.
    assert_eq!(all(&book).len(), 1);
    assert!(logbook::verify(&path, short, None).unwrap().ok());
    other.execute_batch("COMMIT").unwrap();
    assert_eq!(book.append(&note(2, "two")).unwrap().entry.id, 2);
    drop(book);
    other.execute_batch("BEGIN EXCLUSIVE").unwrap();
    assert!(matches!(
        Logbook::open_if_there(&path, short),
        Err(Fault::Busy { .. })
    ));
    assert!(matches!(
        logbook::verify(&path, short, None),
        Err(Fault::Busy { .. })
    ));
    other.execute_batch("COMMIT").unwrap();
}

#[test]
fn what_is_no_logbook_is_told_and_left_alone() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("logbook.db");
    let fault = || {
        let fault = Logbook::open_or_create(&path, WAIT).unwrap_err();
        assert!(!fault.is_wrong_input() && !fault.help().is_empty());
        let verdict = logbook::verify(&path, WAIT, None).unwrap();
        assert!(!verdict.ok() && verdict.head.is_none() && verdict.entries == 0);
        fault
    };
    for content in ["SQLite format 2\0 and so on", &"x".repeat(5_000)] {
        fs::write(&path, content).unwrap();
        assert!(matches!(fault(), Fault::NotADatabase { .. }));
        assert_eq!(fs::read_to_string(&path).unwrap(), content);
    }
    // All that was in it is lost: that is not the same as a new book.
    fs::write(&path, "").unwrap();
    assert!(matches!(fault(), Fault::EmptyFile { .. }));
    // Someone else's database.
    fs::remove_file(&path).unwrap();
    let other = rusqlite::Connection::open(&path).unwrap();
    other
        .execute_batch("CREATE TABLE entry (id INTEGER PRIMARY KEY, data TEXT)")
        .unwrap();
    assert!(matches!(fault(), Fault::NotALogbook { .. }));
    drop(other);
    // A journal whose book is gone would be played back into a new one.
    fs::remove_file(&path).unwrap();
    fs::write(folder.path().join("logbook.db-journal"), "x").unwrap();
    assert!(matches!(fault(), Fault::StrayJournal { .. }));
    assert!(matches!(
        Logbook::open_if_there(&path, WAIT),
        Err(Fault::StrayJournal { .. })
    ));
    assert_eq!(names_in(folder.path()), ["logbook.db-journal"]);
    fs::remove_file(folder.path().join("logbook.db-journal")).unwrap();
    // No file, and no folder.
    fs::create_dir(&path).unwrap();
    assert!(matches!(
        Logbook::open_or_create(&path, WAIT),
        Err(Fault::NotAFile { .. })
    ));
    let gone = folder.path().join("gone/logbook.db");
    assert!(matches!(
        Logbook::open_or_create(&gone, WAIT),
        Err(Fault::Missing { .. })
    ));
}

/// Another program may have turned the journal round; the logbook turns it back.
#[test]
fn a_write_ahead_log_is_turned_back() {
    let (folder, path, mut book) = a_book();
    book.append(&note(1, "one")).unwrap();
    drop(book);
    let other = rusqlite::Connection::open(&path).unwrap();
    other
        .query_row("PRAGMA journal_mode = WAL", [], |_| Ok(()))
        .unwrap();
    drop(other);
    let mut book = Logbook::open_or_create(&path, WAIT).unwrap();
    book.append(&note(2, "two")).unwrap();
    assert_eq!(names_in(folder.path()), [".logbook.db.lock", "logbook.db"]);
    assert_eq!(
        fs::read(&path).unwrap()[18..20],
        [1, 1],
        "bytes 18 and 19 of the header: 1 is a rollback journal"
    );
}

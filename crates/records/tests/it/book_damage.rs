//! Damage that changes what the book says is found.

use std::fs;
use std::os::unix::fs::FileExt as _;
use std::path::{Path, PathBuf};
use std::time::Duration;

use records::Fault;
use records::logbook::{self, Entry, EntryKind, Filter, Flaw, HeadMark, Logbook, Verified, WAIT};

use crate::aid::{note, say, stamp};
use crate::book::a_book;

/// A book of so many entries, some of them struck.
fn book_of(entries: i64) -> (tempfile::TempDir, PathBuf) {
    let (folder, path, mut book) = a_book();
    for n in 1..=entries {
        if n % 10 == 0 {
            book.strike(n - 3, "the other joint", &stamp(n, "tablet", &format!("s{n}")))
                .unwrap();
            continue;
        }
        let mut draft = note(n, &format!("joint {n} felt dry, 70 bar, lever {} mm", 60 + n));
        draft.kind = EntryKind::WRITTEN[usize::try_from(n).unwrap() % 8];
        book.append(&draft).unwrap();
    }
    (folder, path)
}

/// All that the book says. What is exported or printed is made of this and nothing else.
fn said(path: &Path, wait: Duration) -> Result<Vec<Entry>, Fault> {
    Logbook::open_or_create(path, wait)?.list(&Filter::default())
}

fn verdict(path: &Path) -> Verified {
    logbook::verify(path, WAIT, None).unwrap()
}

/// What flipping bits did, counted.
#[derive(Default)]
struct Tally {
    found: u64,
    without_effect: u64,
}

/// Flips the bits of `masks(position)` at each of `positions`, one mask at a time. Each time, whoever reads entries is
/// refused, or reads exactly what the book said before; and it is said to be whole only then.
fn flip(
    whole: &[u8],
    said_before: &[Entry],
    positions: impl Iterator<Item = usize>,
    masks: &dyn Fn(usize) -> Vec<u8>,
) -> Tally {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("logbook.db");
    let short = Duration::from_millis(10);
    let mut tally = Tally::default();
    fs::write(&path, whole).unwrap();
    let file = fs::OpenOptions::new().write(true).open(&path).unwrap();
    let put = |position: usize, byte: u8| {
        file.write_all_at(&[byte], u64::try_from(position).unwrap())
            .unwrap()
    };
    for position in positions {
        for mask in masks(position) {
            put(position, whole[position] ^ mask);
            // A look at one in eight is enough to see that both look alike.
            let looked = |wanted: bool| {
                position % 8 > 0
                    || logbook::verify(&path, short, None).is_ok_and(|verdict| verdict.ok()) == wanted
            };
            match said(&path, short) {
                Ok(now) => {
                    assert!(
                        now == said_before,
                        "byte {position} ^ {mask:#x} changed the book, and it was listed as if nothing were"
                    );
                    assert!(looked(true), "byte {position} ^ {mask:#x}");
                    tally.without_effect += 1;
                }
                Err(fault) => {
                    assert!(looked(false), "byte {position} ^ {mask:#x}: {fault}");
                    tally.found += 1;
                }
            }
            put(position, whole[position]);
            assert!(
                fs::read(&path).unwrap() == whole,
                "to look at a damaged file changes nothing in it"
            );
        }
    }
    tally
}

fn flip_all(masks: &(dyn Fn(usize) -> Vec<u8> + Sync)) {
    let (_folder, path) = book_of(50);
    assert!(verdict(&path).ok());
    let whole = fs::read(&path).unwrap();
    let before = said(&path, WAIT).unwrap();
    let tallies = std::thread::scope(|scope| {
        let flippers = [0, 1].map(|half| {
            let (whole, before) = (&whole, &before);
            scope.spawn(move || flip(whole, before, (half..whole.len()).step_by(2), masks))
        });
        flippers.map(|flipper| flipper.join().unwrap())
    });
    let found: u64 = tallies.iter().map(|tally| tally.found).sum();
    let without_effect: u64 = tallies.iter().map(|tally| tally.without_effect).sum();
    say(&format!(
        "flipped in a book of 50 entries and {} bytes: {} times, {found} found, {without_effect} without effect",
        whole.len(),
        found + without_effect
    ));
    // Each byte of a text or a hash that an entry stores is found; the unused ends of pages have no effect.
    let stored: usize = Logbook::open_or_create(&path, WAIT)
        .unwrap()
        .list(&Filter::default())
        .unwrap()
        .iter()
        .map(|e| e.at.to_string().len() + e.zone().len() + e.kind.as_str().len() + e.data.as_str().len() + 32)
        .sum();
    assert!(
        found > u64::try_from(stored).unwrap() && without_effect > 100,
        "{found} {without_effect} {stored}"
    );
}

/// Every byte, with one of its bits flipped: a different one from byte to byte.
#[test]
fn a_flipped_bit_in_any_byte_is_found_or_changes_nothing() {
    flip_all(&|position| vec![1 << (position % 8)]);
}

/// Every bit of every byte, and every byte wholly: minutes.
#[test]
#[ignore = "takes minutes"]
fn any_flipped_bit_is_found_or_changes_nothing() {
    flip_all(&|_| vec![1, 2, 4, 8, 16, 32, 64, 128, 0xff]);
}

/// Lets another program change what the triggers forbid.
fn tamper(path: &Path, sql: &str) {
    let other = rusqlite::Connection::open(path).unwrap();
    let mut triggers = other
        .prepare("SELECT name, sql FROM sqlite_schema WHERE type = 'trigger'")
        .unwrap();
    let triggers: Vec<(String, String)> = triggers
        .query_map([], |row| Ok((row.get(0)?, row.get(1)?)))
        .unwrap()
        .map(Result::unwrap)
        .collect();
    for (name, _) in &triggers {
        other.execute_batch(&format!("DROP TRIGGER {name}")).unwrap();
    }
    other.execute_batch(sql).unwrap();
    for (_, made_by) in &triggers {
        other.execute_batch(made_by).unwrap();
    }
}

#[test]
fn the_first_bad_entry_is_named() {
    let cases: [(&str, Vec<Flaw>); 9] = [
        (
            "UPDATE entry SET data = '{\"text\":\"wet\"}' WHERE id = 5",
            vec![Flaw::Hash { entry: 5 }],
        ),
        (
            "UPDATE entry SET at = '2026-05-01T07:36:00Z' WHERE id = 5",
            vec![Flaw::Hash { entry: 5 }],
        ),
        (
            "UPDATE entry SET zone = '+01:00' WHERE id = 5",
            vec![Flaw::Hash { entry: 5 }],
        ),
        (
            "UPDATE entry SET device = 'other' WHERE id = 5",
            vec![Flaw::Hash { entry: 5 }],
        ),
        (
            "UPDATE entry SET device_entry = 'other' WHERE id = 5",
            vec![Flaw::Hash { entry: 5 }],
        ),
        (
            "UPDATE entry SET strikes = 6 WHERE id = 10",
            vec![Flaw::Hash { entry: 10 }],
        ),
        (
            "UPDATE entry SET hash = zeroblob(32) WHERE id = 5",
            vec![Flaw::Hash { entry: 5 }, Flaw::Hash { entry: 6 }],
        ),
        (
            "DELETE FROM entry WHERE id IN (4, 5)",
            vec![Flaw::Gap { entry: 4 }, Flaw::Hash { entry: 6 }],
        ),
        (
            "DELETE FROM entry WHERE id < 3",
            vec![Flaw::Gap { entry: 1 }, Flaw::Hash { entry: 3 }],
        ),
    ];
    for (sql, flaws) in cases {
        let (_folder, path) = book_of(12);
        tamper(&path, sql);
        let verdict = verdict(&path);
        assert_eq!(verdict.flaws, flaws, "{sql}");
        assert_eq!(verdict.first_bad, flaws[0].entry(), "{sql}");
        assert!(!verdict.ok());
    }
}

/// Fields cannot be shifted into each other: the lengths are hashed too.
#[test]
fn letters_that_move_from_one_field_to_the_next_are_found() {
    let (_folder, path) = book_of(3);
    tamper(
        &path,
        "UPDATE entry SET device = 'benchn', device_entry = '1' WHERE id = 1",
    );
    assert_eq!(verdict(&path).flaws, [Flaw::Hash { entry: 1 }]);
}

#[test]
fn a_kind_that_is_none_is_named() {
    let (_folder, path) = book_of(3);
    tamper(&path, "UPDATE entry SET kind = 'noted' WHERE id = 2");
    let verdict = verdict(&path);
    assert_eq!(verdict.first_bad, Some(2));
    let fault = said(&path, WAIT).unwrap_err();
    assert!(matches!(fault, Fault::Damaged { entry: Some(2), .. }), "{fault}");
    assert_eq!(fault.slug(), "damaged-logbook");
}

#[test]
fn a_damaged_end_is_not_built_upon() {
    let (_folder, path) = book_of(5);
    tamper(&path, "UPDATE entry SET data = '{}' WHERE id = 5");
    let mut book = Logbook::open_or_create(&path, WAIT).unwrap();
    let fault = book.append(&note(9, "more")).unwrap_err();
    assert!(matches!(fault, Fault::Damaged { entry: Some(5), .. }), "{fault}");
    // Nor is it listed as if nothing were.
    let fault = book.list(&Filter::default()).unwrap_err();
    assert_eq!(
        fault.to_string(),
        format!(
            "{} is damaged: the hash of entry 5 does not fit what it says and what comes before",
            path.display()
        )
    );
}

#[test]
fn a_tail_that_was_cut_off_is_found_by_a_noted_head() {
    let (_folder, path) = book_of(12);
    let early = said_head(&path);
    let mut book = Logbook::open_or_create(&path, WAIT).unwrap();
    let late = book.append(&note(13, "signed")).unwrap().entry.hash;
    drop(book);
    let verify = |mark: &HeadMark| logbook::verify(&path, WAIT, Some(mark)).unwrap();
    assert_eq!(
        (verify(&late.into()).ok(), verify(&late.into()).marked),
        (true, Some(13))
    );
    // Entries that came after a head was noted are no fault.
    assert_eq!((verify(&early).ok(), verify(&early).marked), (true, Some(12)));
    tamper(&path, "DELETE FROM entry WHERE id = 13");
    // What is left holds together; only the noted head tells.
    assert!(verdict(&path).ok());
    let found = verify(&late.into());
    assert_eq!(found.flaws, [Flaw::MarkMissing(late.into())]);
    assert_eq!((found.entries, found.first_bad, found.ok()), (12, None, false));
    assert!(verify(&early).ok());
    // A book that is not there at all has not got the entry either.
    fs::remove_file(&path).unwrap();
    assert_eq!(verify(&late.into()).flaws, [Flaw::MarkMissing(late.into())]);
}

fn said_head(path: &Path) -> HeadMark {
    Logbook::open_or_create(path, WAIT)
        .unwrap()
        .head()
        .unwrap()
        .hash
        .unwrap()
        .into()
}

#[test]
fn a_head_may_be_noted_in_short() {
    let (_folder, path) = book_of(3);
    let head = said_head(&path).to_string();
    for given in [
        &head[..8],
        &head[..20],
        &head,
        &format!(" {} ", head.to_uppercase()),
    ] {
        let mark: HeadMark = given.parse().unwrap();
        assert_eq!(logbook::verify(&path, WAIT, Some(&mark)).unwrap().marked, Some(3));
    }
    for wrong in ["", "abcdef1", "ghijklmn", &format!("{head}0"), "éééé"] {
        let fault = wrong.parse::<HeadMark>().unwrap_err();
        assert!(
            matches!(fault, Fault::NotAMark { .. }) && fault.is_wrong_input(),
            "{wrong}"
        );
    }
}

/// A file that was cut short, at any sixteenth of it, is never taken for a whole one.
#[test]
fn a_file_that_was_cut_short_is_found() {
    let (_folder, path) = book_of(50);
    let whole = fs::read(&path).unwrap();
    for part in 0..64 {
        fs::write(&path, &whole[..whole.len() * part / 64]).unwrap();
        assert!(!verdict(&path).ok(), "{part}/64");
    }
    fs::write(&path, &whole).unwrap();
    assert!(verdict(&path).ok());
}

/// A sector that came back as zeros, or as another sector.
#[test]
fn a_lost_sector_is_found_or_changes_nothing() {
    let (_folder, path) = book_of(50);
    let whole = fs::read(&path).unwrap();
    let before = said(&path, WAIT).unwrap();
    let mut found = 0;
    for start in (0..whole.len()).step_by(512) {
        for other in [
            None,
            Some((start + 4096) % whole.len()),
            Some((start + 512) % whole.len()),
        ] {
            let mut content = whole.clone();
            match other {
                None => content[start..start + 512].fill(0),
                Some(other) => content.copy_within(other..other + 512, start),
            }
            fs::write(&path, &content).unwrap();
            match logbook::verify(&path, WAIT, None) {
                Ok(verdict) if verdict.ok() => {
                    assert!(said(&path, WAIT).unwrap() == before, "{start} {other:?}")
                }
                _ => found += 1,
            }
        }
    }
    assert!(found > 50, "{found}");
}

#[test]
fn a_book_that_is_built_otherwise_is_refused() {
    let view = "ALTER TABLE entry RENAME TO kept;
        CREATE VIEW entry AS WITH RECURSIVE n(id) AS (SELECT 1 UNION ALL SELECT id + 1 FROM n) SELECT id FROM n;";
    for (sql, object) in [
        ("DROP TRIGGER entry_stays", "entry_stays"),
        (
            "DROP TRIGGER entry_stays; CREATE TRIGGER entry_stays BEFORE UPDATE ON entry BEGIN SELECT 1; END",
            "entry_stays",
        ),
        ("CREATE TABLE more (a)", "more"),
        ("CREATE INDEX more ON entry (kind)", "more"),
        (
            "CREATE TRIGGER more AFTER INSERT ON entry BEGIN SELECT 1; END",
            "more",
        ),
        ("ALTER TABLE entry ADD COLUMN more TEXT", "entry"),
        // A book that would never end to be read.
        (view, "entry"),
    ] {
        let (_folder, path) = book_of(3);
        rusqlite::Connection::open(&path)
            .unwrap()
            .execute_batch(sql)
            .unwrap();
        let fault = Logbook::open_or_create(&path, WAIT).unwrap_err();
        assert!(
            matches!(&fault, Fault::WrongBuild { object: found, .. } if found.contains(object)),
            "{sql}: {fault}"
        );
        let verdict = verdict(&path);
        assert!(matches!(verdict.flaws.as_slice(), [Flaw::Unopenable(_)]), "{sql}");
    }
}

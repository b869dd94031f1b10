//! Files that earlier formats left: each must open, for ever.

use std::fs;
use std::path::{Path, PathBuf};

use jiff::tz::Offset;
use records::Fault;
use records::logbook::{self, Data, Draft, EntryKind, Filter, HeadMark, Logbook, Stamp, WAIT};

use crate::aid::{instant, note, stamp};

/// Every format that was ever published, with the head of the file that is stored of it.
const STORED: &[(&str, i64, &str)] = &[(
    "logbook-1.db",
    7,
    "22e58a31e8fa474812283ae7d4697876d0790b3d6b2a0871d55a942c6fb5a1b5",
)];

fn fixture(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("tests/fixtures")
        .join(name)
}

#[test]
fn books_of_all_earlier_formats_open() {
    let stored: Vec<String> = crate::aid::names_in(&fixture(""));
    assert_eq!(
        stored,
        STORED
            .iter()
            .map(|(name, ..)| (*name).to_owned())
            .collect::<Vec<_>>()
    );
    for (name, entries, head) in STORED {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("logbook.db");
        fs::copy(fixture(name), &path).unwrap();
        let mark: HeadMark = head.parse().unwrap();
        let verdict = logbook::verify(&path, WAIT, Some(&mark)).unwrap();
        assert!(verdict.ok(), "{name}: {:?}", verdict.flaws);
        assert_eq!((verdict.entries, verdict.marked), (*entries, Some(*entries)));
        let mut book = Logbook::open_or_create(&path, WAIT).unwrap();
        let list = book.list(&Filter::default()).unwrap();
        assert_eq!(
            list[0].data.text().as_deref(),
            Some("fluid changed, both circuits")
        );
        assert_eq!(list[1].data.value()["state"], "dry");
        assert_eq!((list[1].struck_by, list[6].strikes), (Some(7), Some(2)));
        assert_eq!(list[5].zone(), "-03:30");
        assert_eq!(book.append(&note(99, "goes on")).unwrap().entry.id, entries + 1);
        assert!(logbook::verify(&path, WAIT, Some(&mark)).unwrap().ok());
    }
}

/// Makes the file of the newest format anew, for the step that brings the next one. All in it is invented.
#[test]
#[ignore = "writes the stored file of a new format"]
fn make_the_stored_file() {
    let Ok(path) = std::env::var("RECORDS_STORE_AS") else {
        return;
    };
    let mut book = Logbook::open_or_create(Path::new(&path), WAIT).unwrap();
    let entries: [(EntryKind, &str, Option<&str>, i32); 6] = [
        (
            EntryKind::Fluid,
            "fluid changed, both circuits",
            Some(r#"{"batch":"A 113"}"#),
            2 * 3600,
        ),
        (
            EntryKind::Joint,
            "felt round",
            Some(r#"{"joint":"master.rear–rear_line.a","state":"dry"}"#),
            2 * 3600,
        ),
        (
            EntryKind::Reading,
            "100 N: 71 mm",
            Some(r#"{"hand_n":100,"travel_mm":71.0}"#),
            2 * 3600,
        ),
        (
            EntryKind::Setting,
            "gravel, half a tank",
            Some(r#"{"turns":2.50}"#),
            3600,
        ),
        (EntryKind::Pads, "né, 7 mm left", None, 0),
        (
            EntryKind::Signoff,
            "",
            Some(r#"{"by":"second name","open":[]}"#),
            -(3 * 3600 + 1800),
        ),
    ];
    for (minute, (kind, text, more, offset)) in (0..).zip(entries) {
        let offset = Offset::from_seconds(offset).unwrap();
        let stamp = Stamp::new(instant(minute), offset, "bench", &format!("stored-{minute}")).unwrap();
        book.append(&Draft {
            stamp,
            kind,
            data: Data::with_text(text, more).unwrap(),
        })
        .unwrap();
    }
    book.strike(2, "the other joint", &stamp(9, "tablet", "stored-strike"))
        .unwrap();
    crate::aid::say(&format!("{:?}", book.head().unwrap()));
}

#[test]
fn a_newer_format_is_refused_and_left_alone() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("logbook.db");
    drop(Logbook::open_or_create(&path, WAIT).unwrap());
    rusqlite::Connection::open(&path)
        .unwrap()
        .pragma_update(None, "user_version", 2)
        .unwrap();
    let before = fs::read(&path).unwrap();
    for fault in [
        Logbook::open_or_create(&path, WAIT).unwrap_err(),
        logbook::verify(&path, WAIT, None).map(|_| ()).unwrap_err(),
    ] {
        assert!(
            matches!(
                fault,
                Fault::NewerFormat {
                    version: 2,
                    known: 1,
                    ..
                }
            ),
            "{fault}"
        );
        assert!(fault.help().contains("newer"));
    }
    assert_eq!(fs::read(&path).unwrap(), before);
}

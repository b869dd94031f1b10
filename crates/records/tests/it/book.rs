//! The logbook as it is used.

use std::path::PathBuf;

use jiff::Timestamp;
use jiff::tz::Offset;
use records::Fault;
use records::logbook::{
    self, Data, Draft, Entry, EntryKind, Filter, LARGEST_DATA, Logbook, Stamp, WAIT, write_csv, write_json,
};
use serde_json::json;

use crate::aid::{instant, names_in, note, stamp};

pub(crate) fn a_book() -> (tempfile::TempDir, PathBuf, Logbook) {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("logbook.db");
    let book = Logbook::open_or_create(&path, WAIT).unwrap();
    (folder, path, book)
}

pub(crate) fn all(book: &Logbook) -> Vec<Entry> {
    book.list(&Filter::default()).unwrap()
}

#[test]
fn an_entry_comes_back_as_it_was_written() {
    let (folder, path, mut book) = a_book();
    let at: Timestamp = "2026-05-01T07:30:00.25Z".parse().unwrap();
    let offset = Offset::from_seconds(-(3 * 3600 + 1800)).unwrap();
    let draft = Draft {
        stamp: Stamp::new(at, offset, "tablet-7", "01J.x:y_z").unwrap(),
        kind: EntryKind::Reading,
        data: Data::with_text("knee, né \"cold\"\n", Some(r#"{ "knee": 1.10, "unit":"bar" }"#)).unwrap(),
    };
    let written = book.append(&draft).unwrap();
    assert!(written.fresh);
    drop(book);
    let book = Logbook::open_if_there(&path, WAIT).unwrap().unwrap();
    let entries = all(&book);
    assert_eq!(entries, [written.entry]);
    let entry = &entries[0];
    assert_eq!(
        (entry.id, entry.at, entry.offset, entry.kind),
        (1, at, offset, EntryKind::Reading)
    );
    assert_eq!(entry.zone(), "-03:30");
    assert_eq!(
        entry.data.as_str(),
        r#"{"text":"knee, né \"cold\"\n","knee": 1.10, "unit":"bar" }"#
    );
    assert_eq!(entry.data.text().as_deref(), Some("knee, né \"cold\"\n"));
    assert_eq!(
        (entry.device.as_str(), entry.device_entry.as_str()),
        ("tablet-7", "01J.x:y_z")
    );
    assert_eq!((entry.strikes, entry.struck_by), (None, None));
    assert_eq!(names_in(folder.path()), [".logbook.db.lock", "logbook.db"]);
}

/// The hash, computed by other means: Python's hashlib over the layout that the code documents gave this figure.
#[test]
fn the_hash_is_what_the_layout_says() {
    let (_folder, _path, mut book) = a_book();
    let draft = Draft {
        stamp: Stamp::new(
            "2026-05-01T07:30:00Z".parse().unwrap(),
            Offset::constant(2),
            "bench",
            "1",
        )
        .unwrap(),
        kind: EntryKind::Note,
        data: Data::parse(r#"{"text":"né"}"#).unwrap(),
    };
    let first = book.append(&draft).unwrap().entry;
    assert_eq!(first.hash.to_string(), HASH_1);
    let second = book
        .strike(1, "wrong car", &stamp(0, "bench", "2"))
        .unwrap()
        .entry;
    assert_eq!(second.hash.to_string(), HASH_2);
}

const HASH_1: &str = "882f4d8af0f3a50dbab4fca0ee49b9c2bd5d3fbd9b03b0d02478787f831ff96e";
const HASH_2: &str = "7520cff38a744cf513cd5ae4d45da6f45836980ef2a107274fd8768fe4b6a593";

#[test]
fn a_new_book_is_empty_and_whole() {
    let (_folder, path, book) = a_book();
    assert!(all(&book).is_empty());
    assert_eq!(
        book.head().unwrap(),
        logbook::ChainHead {
            entries: 0,
            hash: None
        }
    );
    let verdict = logbook::verify(&path, WAIT, None).unwrap();
    assert!(verdict.ok());
    assert_eq!(
        serde_json::to_value(&verdict).unwrap(),
        json!({
            "ok": true, "entries": 0, "head": null, "first_bad": null, "flaws": []
        })
    );
    assert!(
        Logbook::open_if_there(&path.with_file_name("none.db"), WAIT)
            .unwrap()
            .is_none()
    );
    assert!(
        !path.with_file_name("none.db").exists(),
        "looking makes no logbook"
    );
    assert!(
        logbook::verify(&path.with_file_name("none.db"), WAIT, None)
            .unwrap()
            .ok()
    );
}

#[test]
fn the_same_id_is_written_once() {
    let (_folder, path, mut book) = a_book();
    let first = book.append(&note(1, "bled")).unwrap();
    // Sent again by the same device: the instant may be the receiver's, the content is the same.
    let mut again = note(1, "bled");
    again.stamp = Stamp::new(instant(9), Offset::UTC, "bench", "n1").unwrap();
    let second = book.append(&again).unwrap();
    assert!(first.fresh && !second.fresh);
    assert_eq!(first.entry, second.entry);
    // The id with something else is a mistake of the device, and is not swallowed.
    let mut other = note(1, "not bled");
    let fault = book.append(&other).unwrap_err();
    assert!(matches!(fault, Fault::IdUsed { id: 1, .. }), "{fault}");
    other = note(1, "bled");
    other.kind = EntryKind::Fluid;
    assert!(matches!(book.append(&other), Err(Fault::IdUsed { .. })));
    assert!(matches!(
        book.strike(1, "bled", &stamp(1, "bench", "n1")),
        Err(Fault::IdUsed { .. })
    ));
    // Another device may use the same id.
    other.stamp = stamp(1, "tablet", "n1");
    assert_eq!(book.append(&other).unwrap().entry.id, 2);
    // After it was struck, it is still the same entry.
    book.strike(1, "bled twice", &stamp(2, "bench", "s")).unwrap();
    let third = book.append(&again).unwrap();
    assert_eq!(
        (third.fresh, third.entry.id, third.entry.struck_by),
        (false, 1, Some(3))
    );
    let strike = book.strike(1, "bled twice", &stamp(3, "bench", "s")).unwrap();
    assert_eq!((strike.fresh, strike.entry.id), (false, 3));
    assert_eq!(all(&book).len(), 3);
    assert!(logbook::verify(&path, WAIT, None).unwrap().ok());
}

#[test]
fn a_struck_entry_stays() {
    let (_folder, path, mut book) = a_book();
    for minute in 1..=3 {
        book.append(&note(minute, "joint dry")).unwrap();
    }
    let strike = book
        .strike(2, "  wrong joint ", &stamp(4, "bench", "s1"))
        .unwrap()
        .entry;
    assert_eq!(
        (strike.id, strike.kind, strike.strikes),
        (4, EntryKind::Strike, Some(2))
    );
    assert_eq!(strike.data.as_str(), r#"{"text":"wrong joint"}"#);
    let entries = all(&book);
    assert_eq!(
        entries.iter().map(|entry| entry.struck_by).collect::<Vec<_>>(),
        [None, Some(4), None, None]
    );
    assert_eq!(entries[1].data.text().as_deref(), Some("joint dry"));
    let fault = |id, why: &str, entry: &str| book_fault(&path, id, why, entry);
    assert!(matches!(
        fault(2, "again", "s2"),
        Fault::StruckBefore { id: 2, by: 4 }
    ));
    assert!(matches!(
        fault(4, "no", "s3"),
        Fault::NotForStriking {
            id: 4,
            kind: EntryKind::Strike
        }
    ));
    assert!(matches!(fault(9, "no", "s4"), Fault::NoSuchEntry { id: 9 }));
    assert!(matches!(fault(-1, "no", "s5"), Fault::NoSuchEntry { id: -1 }));
    assert!(matches!(fault(1, " \n", "s6"), Fault::NoReason));
    assert_eq!(all(&book).len(), 4);
    assert!(logbook::verify(&path, WAIT, None).unwrap().ok());
}

fn book_fault(path: &std::path::Path, id: i64, why: &str, entry: &str) -> Fault {
    let mut book = Logbook::open_or_create(path, WAIT).unwrap();
    let fault = book.strike(id, why, &stamp(5, "bench", entry)).unwrap_err();
    assert!(fault.is_wrong_input() && !fault.help().is_empty() && !fault.slug().is_empty());
    fault
}

#[test]
fn a_list_can_be_narrowed() {
    let (_folder, _path, mut book) = a_book();
    for (minute, kind) in [
        (1, EntryKind::Note),
        (2, EntryKind::Joint),
        (3, EntryKind::Pads),
        (4, EntryKind::Joint),
    ] {
        let mut draft = note(minute, "x");
        draft.kind = kind;
        book.append(&draft).unwrap();
    }
    book.strike(4, "x", &stamp(5, "bench", "s")).unwrap();
    let ids = |filter: Filter| {
        book.list(&filter)
            .unwrap()
            .iter()
            .map(|entry| entry.id)
            .collect::<Vec<_>>()
    };
    assert_eq!(ids(Filter::default()), [1, 2, 3, 4, 5]);
    assert_eq!(
        ids(Filter {
            kinds: vec![EntryKind::Joint, EntryKind::Note],
            ..Filter::default()
        }),
        [1, 2, 4]
    );
    assert_eq!(
        ids(Filter {
            from: Some(instant(2)),
            before: Some(instant(4)),
            ..Filter::default()
        }),
        [2, 3]
    );
    assert_eq!(
        ids(Filter {
            hide_struck: true,
            ..Filter::default()
        }),
        [1, 2, 3, 5]
    );
    assert_eq!(
        ids(Filter {
            newest: Some(2),
            ..Filter::default()
        }),
        [4, 5]
    );
    assert_eq!(
        ids(Filter {
            newest: Some(1),
            kinds: vec![EntryKind::Joint],
            hide_struck: true,
            ..Filter::default()
        }),
        [2]
    );
    assert_eq!(
        ids(Filter {
            newest: Some(0),
            ..Filter::default()
        }),
        [0; 0]
    );
}

#[test]
fn kinds_are_words() {
    for kind in EntryKind::WRITTEN {
        assert_eq!(kind.as_str().parse::<EntryKind>().unwrap(), kind);
    }
    assert_eq!(
        EntryKind::WRITTEN.map(EntryKind::as_str).join(" "),
        "note joint reading setting fluid pads fault signoff"
    );
    let fault = Fault::from("joints".parse::<EntryKind>().unwrap_err());
    assert_eq!(
        fault.to_string(),
        "`joints` is no kind of entry; did you mean `joint`?"
    );
    assert!(fault.help().contains("signoff"));
    let (_folder, _path, mut book) = a_book();
    for kind in [EntryKind::Strike, EntryKind::Copied] {
        let mut draft = note(1, "x");
        draft.kind = kind;
        assert!(matches!(book.append(&draft), Err(Fault::OwnKind { .. })));
    }
}

#[test]
fn data_that_could_be_read_in_two_ways_is_refused() {
    let nested = format!("{}{}", "[".repeat(200), "]".repeat(200));
    let large = format!("{{\"text\":\"{}\"}}", "x".repeat(LARGEST_DATA));
    for (json, why) in [
        ("", "EOF"),
        ("{", "EOF"),
        ("[]", "not an object"),
        ("\"text\"", "not an object"),
        ("{} {}", "trailing"),
        (r#"{"a":1,"a":2}"#, "is there twice"),
        (r#"{"b":[{"a":1,"a":2}]}"#, "is there twice"),
        (r#"{"a":1,"\u0061":2}"#, "is there twice"),
        (r#"{"text":1}"#, "`text` is not a string"),
        (r#"{"text":null}"#, "`text` is not a string"),
        (r#"{"a":1e999}"#, "number out of range"),
        (r#"{"a":NaN}"#, "expected"),
        (r#"{"a":"\ud800"}"#, "hex escape"),
        ("{\"a\":\"\u{1}\"}", "control character"),
        (&format!("{{\"a\":{nested}}}"), "recursion limit"),
        (&large, "more than"),
    ] {
        let fault = Data::parse(json).unwrap_err();
        assert!(fault.to_string().contains(why), "{json:.40}: {fault}");
        assert!(fault.is_wrong_input());
    }
    for json in [
        "{}",
        r#" {"a":[1,-2,3.50,true,null,{"b":"c"}]} "#,
        r#"{"a":18446744073709551615}"#,
        r#"{"a":"\u0000"}"#,
    ] {
        assert_eq!(Data::parse(json).unwrap().as_str(), json.trim());
    }
    assert_eq!(
        Data::with_text("a\0\"b", None).unwrap().text().as_deref(),
        Some("a\0\"b")
    );
    assert_eq!(
        Data::with_text("t", Some(" {  } ")).unwrap().as_str(),
        r#"{"text":"t"}"#
    );
    assert!(Data::with_text("t", Some(r#"{"text":"u"}"#)).is_err());
    assert!(Data::with_text(&"x".repeat(LARGEST_DATA), None).is_err());
}

#[test]
fn ids_of_devices_are_plain() {
    let stamp = |device: &str, entry: &str| Stamp::new(instant(0), Offset::UTC, device, entry);
    assert!(stamp(&"a".repeat(64), "Z9._:-").is_ok());
    for wrong in ["", "a b", "é", "a\0", "a'", &"a".repeat(65)] {
        assert!(
            matches!(
                stamp(wrong, "1"),
                Err(Fault::Id {
                    what: "a device's id",
                    ..
                })
            ),
            "{wrong}"
        );
        assert!(
            matches!(
                stamp("a", wrong),
                Err(Fault::Id {
                    what: "an entry's id",
                    ..
                })
            ),
            "{wrong}"
        );
    }
}

/// Whatever a person may write goes through: long, empty, right to left, like SQL.
#[test]
fn any_text_is_kept() {
    let (_folder, path, mut book) = a_book();
    let texts = [
        "",
        "'); DROP TABLE entry; --",
        "\u{202e}abc",
        "🏁",
        &"long ".repeat(20_000),
        "a\0b",
        "\"\\",
    ];
    for (minute, text) in (0..).zip(texts) {
        book.append(&note(minute, text)).unwrap();
    }
    let back: Vec<_> = all(&book)
        .iter()
        .map(|entry| entry.data.text().unwrap())
        .collect();
    assert_eq!(back, texts);
    assert!(logbook::verify(&path, WAIT, None).unwrap().ok());
}

#[test]
fn instants_at_the_ends_of_time_and_offsets_of_any_size_are_kept() {
    let (_folder, path, mut book) = a_book();
    let cases = [
        (Timestamp::MIN, Offset::MIN, "-25:59:59"),
        (Timestamp::MAX, Offset::MAX, "+25:59:59"),
        (Timestamp::UNIX_EPOCH, Offset::UTC, "+00:00"),
        (
            instant(0),
            Offset::from_seconds(5 * 3600 + 45 * 60).unwrap(),
            "+05:45",
        ),
        (instant(0), Offset::from_seconds(-1).unwrap(), "-00:00:01"),
    ];
    for (n, (at, offset, _)) in cases.iter().enumerate() {
        let stamp = Stamp::new(*at, *offset, "bench", &n.to_string()).unwrap();
        book.append(&Draft {
            stamp,
            kind: EntryKind::Note,
            data: Data::parse("{}").unwrap(),
        })
        .unwrap();
    }
    for (entry, (at, offset, zone)) in all(&book).iter().zip(cases) {
        assert_eq!(
            (entry.at, entry.offset, entry.zone().as_str()),
            (at, offset, zone)
        );
    }
    assert!(logbook::verify(&path, WAIT, None).unwrap().ok());
}

#[test]
fn an_export_can_be_read_by_other_programs() {
    let (_folder, _path, mut book) = a_book();
    book.append(&note(1, "=1+1")).unwrap();
    book.append(&note(2, "two\nlines, \"quoted\"")).unwrap();
    book.strike(1, "no sum", &stamp(3, "-bench", "s")).unwrap();
    let entries = all(&book);

    let mut csv = Vec::new();
    write_csv(&entries, &mut csv).unwrap();
    let text = String::from_utf8(csv.clone()).unwrap();
    assert!(text.starts_with("id,at,zone,kind,text,struck_by,strikes,data,device,device_entry,hash\r\n1,2026-05-01T07:31:00Z,+02:00,note,'=1+1,3,,"), "{text}");
    let mut reader = csv::Reader::from_reader(csv.as_slice());
    let rows: Vec<csv::StringRecord> = reader.records().map(Result::unwrap).collect();
    assert_eq!(rows.len(), 3);
    assert_eq!(&rows[1][4], "two\nlines, \"quoted\"");
    assert_eq!(&rows[1][7], entries[1].data.as_str());
    assert_eq!((&rows[2][5], &rows[2][6], &rows[2][8]), ("", "1", "'-bench"));
    assert_eq!(&rows[2][10], entries[2].hash.to_string());

    let mut out = Vec::new();
    write_json(&entries, &mut out).unwrap();
    let value: serde_json::Value = serde_json::from_slice(&out).unwrap();
    assert_eq!(
        value["entries"][0],
        json!({
            "id": 1, "at": "2026-05-01T07:31:00Z", "zone": "+02:00", "kind": "note", "data": { "text": "=1+1" },
            "strikes": null, "struck_by": 3, "device": "bench", "device_entry": "n1", "hash": entries[0].hash.to_string(),
        })
    );
    let mut none = Vec::new();
    write_json(&[], &mut none).unwrap();
    assert_eq!(
        serde_json::from_slice::<serde_json::Value>(&none).unwrap(),
        json!({ "entries": [] })
    );
}

#[test]
fn a_stretch_is_what_the_whole_list_says_of_it() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("logbook.db");
    let mut book = Logbook::open_or_create(&path, WAIT).unwrap();
    for minute in 0..25 {
        let draft = Draft {
            kind: if minute % 5 == 0 {
                EntryKind::Setting
            } else {
                EntryKind::Note
            },
            ..note(minute, &format!("entry {minute}"))
        };
        book.append(&draft).unwrap();
    }
    book.strike(7, "by mistake", &stamp(30, "bench", "s")).unwrap();
    let mut newest_first = book.list(&Filter::default()).unwrap();
    newest_first.reverse();
    let all = |_: &Entry| true;
    let first = book.stretch(None, None, 10, &mut { all }).unwrap();
    assert_eq!(first.entries, newest_first[..10]);
    assert!(first.more && first.read == 11);
    let second = book.stretch(Some(17), None, 10, &mut { all }).unwrap();
    assert_eq!(second.entries, newest_first[10..20]);
    assert_eq!(second.entries[9].struck_by, Some(26));
    let last = book.stretch(Some(7), None, 10, &mut { all }).unwrap();
    assert!(last.entries == newest_first[20..] && !last.more);
    let set = book
        .stretch(None, Some(EntryKind::Setting), 3, &mut |entry| entry.id < 20)
        .unwrap();
    assert_eq!(
        set.entries.iter().map(|entry| entry.id).collect::<Vec<_>>(),
        [16, 11, 6]
    );
    assert!(set.more && set.read == 5);
    let head = logbook::newest(&path, WAIT).unwrap();
    assert_eq!(head, book.head().unwrap());
    drop(book);
    // An entry that was changed behind its back is not shown, and the newest is not taken for one that follows.
    let raw = rusqlite::Connection::open(&path).unwrap();
    raw.execute_batch("DROP TRIGGER entry_stays; UPDATE entry SET kind = 'note' WHERE id = 26")
        .unwrap();
    drop(raw);
    assert!(logbook::newest(&path, WAIT).is_err());
}

/// A clock without a battery, or one that was set: entries keep the order in which they were written, each the time that
/// it was told, and the chain does not mind.
#[test]
fn a_clock_that_goes_back_changes_no_order() {
    let (_folder, path, mut book) = a_book();
    for (minute, text) in [(10, "first"), (-600_000, "second, years before"), (10, "third")] {
        let draft = Draft {
            stamp: stamp(minute, "bench", text),
            kind: EntryKind::Note,
            data: Data::with_text(text, None).unwrap(),
        };
        assert!(book.append(&draft).unwrap().fresh);
    }
    let entries = all(&book);
    let written: Vec<_> = entries
        .iter()
        .map(|entry| (entry.id, entry.device_entry.as_str()))
        .collect();
    assert_eq!(written, [(1, "first"), (2, "second, years before"), (3, "third")]);
    assert!(entries[1].at < entries[0].at && entries[2].at == entries[0].at);
    let newest = Filter {
        newest: Some(1),
        ..Filter::default()
    };
    assert_eq!(book.list(&newest).unwrap()[0].id, 3);
    assert!(logbook::verify(&path, WAIT, None).unwrap().ok());
}

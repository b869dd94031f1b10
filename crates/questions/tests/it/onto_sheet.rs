//! Changes of a sheet: one value each, every other byte as it was, and each can be put back.

use proving::SheetChange;
use questions::onto_sheet::{changed, put_on, written};
use records::Cars;

pub(crate) fn change(key: &str, was: Option<&str>, now: Option<&str>) -> SheetChange {
    SheetChange {
        key: key.to_owned(),
        was: was.map(str::to_owned),
        now: now.map(str::to_owned),
    }
}

pub(crate) fn sedge() -> String {
    std::fs::read_to_string(concat!(env!("CARGO_MANIFEST_DIR"), "/../../demo/sedge/car.toml")).unwrap()
}

#[test]
fn a_value_is_replaced_where_it_stands_and_put_back_to_the_byte() {
    let before = sedge();
    let was = written(&before, "lever.bore").unwrap();
    let there = change("lever.bore", Some(&was), Some("\"3/4 in\""));
    let after = changed("car.toml", &before, core::slice::from_ref(&there)).unwrap();
    assert_eq!(written(&after, "lever.bore").as_deref(), Some("\"3/4 in\""));
    let differ = before
        .lines()
        .zip(after.lines())
        .filter(|(one, other)| one != other);
    assert_eq!(
        (differ.count(), before.lines().count()),
        (1, after.lines().count())
    );
    assert_eq!(changed("car.toml", &after, &[there.undone()]).unwrap(), before);
    // Sent once more, there is nothing left to do.
    assert_eq!(changed("car.toml", &after, &[there]).unwrap(), after);
}

#[test]
fn what_somebody_else_changed_meanwhile_is_not_overwritten() {
    let text = sedge();
    let was = written(&text, "lever.bore").unwrap();
    let theirs = changed(
        "car.toml",
        &text,
        &[change("lever.bore", Some(&was), Some("\"11/16 in\""))],
    )
    .unwrap();
    let mine = change("lever.bore", Some(&was), Some("\"3/4 in\""));
    let wrong = changed("car.toml", &theirs, &[mine]).unwrap_err();
    assert_eq!(wrong.troubles[0].slug, "changed");
    assert!(
        wrong.troubles[0].text.contains("11/16 in"),
        "{:?}",
        wrong.troubles[0]
    );
    // Another key of the same sheet is nobody's quarrel.
    let ratio = written(&theirs, "lever.ratio").unwrap();
    assert!(
        changed(
            "car.toml",
            &theirs,
            &[change("lever.ratio", Some(&ratio), Some("6.5"))]
        )
        .is_ok()
    );
}

#[test]
fn what_would_not_read_is_refused_and_nothing_is_written() {
    let folder = tempfile::tempdir().unwrap();
    let cars = Cars::make(folder.path()).unwrap();
    let car = cars
        .add(&records::CarName::new("sedge").unwrap(), &sedge())
        .unwrap();
    let was = written(&sedge(), "lever.bore");
    for (now, slug) in [("\"70 bar\"", "wrong-kind"), ("\"0.3 mm\"", ""), ("\"\"", "")] {
        let refused = put_on(&car, &[change("lever.bore", was.as_deref(), Some(now))]);
        let questions::Stop::Wrong(wrong) = refused.unwrap_err() else {
            panic!("{now} is wrong input")
        };
        let trouble = &wrong.troubles[0];
        assert!(slug.is_empty() || !trouble.slug.is_empty(), "{trouble:?}");
        assert_eq!(trouble.key.as_deref(), Some("lever.bore"), "{trouble:?}");
        assert_eq!(std::fs::read_to_string(car.sheet().path()).unwrap(), sedge());
    }
    let good = change("lever.bore", was.as_deref(), Some("\"3/4 in\""));
    assert!(put_on(&car, core::slice::from_ref(&good)).unwrap());
    assert!(!put_on(&car, &[good]).unwrap(), "it stands there already");
}

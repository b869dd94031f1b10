//! Whatever is given: names, texts, ids.

use std::path::{Component, Path};

use proptest::prelude::*;
use records::logbook::{Data, Draft, EntryKind, Filter, Logbook, Stamp, WAIT};
use records::{CarName, Cars, Fault, Shelf};

/// Letters that attacks are made of, among any others.
fn hostile() -> impl Strategy<Value = String> {
    let piece = prop_oneof![
        3 => "[a-z]{1,4}",
        2 => "(\\.|/|\\\\|\\.\\./|:|~| |\\x00|\\n|\u{202e}|e\u{301}|con|\\.toml|\\.csv)",
        1 => "\\PC{0,3}",
        1 => any::<char>().prop_map(String::from),
    ];
    prop::collection::vec(piece, 0..6).prop_map(|pieces| pieces.concat())
}

/// Whether joining `name` to a folder goes one step down and nowhere else.
fn is_one_step(name: &str) -> bool {
    let mut parts = Path::new(name).components();
    matches!((parts.next(), parts.next()), (Some(Component::Normal(part)), None) if part == name)
}

proptest! {
    #![proptest_config(crate::aid::cases())]

    #[test]
    fn a_name_that_passes_is_one_step_down(given in hostile()) {
        if let Ok(name) = CarName::new(&given) {
            prop_assert!(is_one_step(name.as_str()), "{:?}", name);
            // Checked again, it is the same: nothing is left to compose.
            prop_assert_eq!(&CarName::new(name.as_str()).unwrap(), &name);
            prop_assert!(name.as_str().len() < 200);
        }
    }

    #[test]
    fn a_file_of_a_shelf_is_on_the_shelf(given in hostile()) {
        let folder = tempfile::tempdir().unwrap();
        let car = Cars::open(folder.path()).unwrap().add(&CarName::new("tarn").unwrap(), "").unwrap();
        for shelf in Shelf::ALL {
            let whole = format!("{given}.{}", shelf.extension());
            for given in [&given, &whole] {
                match car.on_shelf(shelf, given) {
                    Ok(path) => prop_assert_eq!(path.parent().unwrap(), car.folder().join(shelf.folder())),
                    Err(fault) => prop_assert!(matches!(fault, Fault::Name { .. }), "{:?}", fault),
                }
            }
        }
    }

    #[test]
    fn a_car_that_was_made_is_found_by_its_name(given in hostile()) {
        let folder = tempfile::tempdir().unwrap();
        let cars = Cars::open(folder.path()).unwrap();
        if let Ok(name) = CarName::new(&given) {
            let car = cars.add(&name, "sheet").unwrap();
            prop_assert_eq!(&cars.named(&given).unwrap(), &car);
            prop_assert_eq!(&cars.named(&name.as_str().to_uppercase()).unwrap(), &car);
            prop_assert_eq!(cars.list().unwrap().found.len(), 1);
            let again = CarName::new(&name.as_str().to_uppercase()).unwrap_or(name);
            let taken = matches!(cars.add(&again, ""), Err(Fault::NameTaken { .. }));
            prop_assert!(taken);
        } else {
            let none = matches!(cars.named(&given), Err(Fault::NoSuchCar { .. }));
            prop_assert!(none);
        }
    }

    #[test]
    fn any_text_is_kept_as_it_is(text in any::<String>(), second in -377_705_023_201_i64..253_402_207_200, offset in -93_599..=93_599_i32) {
        let folder = tempfile::tempdir().unwrap();
        let mut book = Logbook::open_or_create(&folder.path().join("logbook.db"), WAIT).unwrap();
        let at = jiff::Timestamp::from_second(second).unwrap();
        let offset = jiff::tz::Offset::from_seconds(offset).unwrap();
        let data = Data::with_text(&text, Some(r#"{"n": 1.0}"#)).unwrap();
        prop_assert_eq!(data.text(), Some(text));
        let draft = Draft { stamp: Stamp::new(at, offset, "d", "1").unwrap(), kind: EntryKind::Note, data };
        book.append(&draft).unwrap();
        let entry = &book.list(&Filter::default()).unwrap()[0];
        prop_assert_eq!((entry.at, entry.offset, &entry.data), (at, offset, &draft.data));
    }
}

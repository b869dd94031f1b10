//! Answers kept beside the cars: what was kept comes back, and nothing else does.

use jiff::civil::date;
use records::{Answers, Cars, Digest, KeptAnswer};

fn answer(car: &str, said: &str) -> KeptAnswer {
    KeptAnswer {
        car: car.to_owned(),
        sheet: Digest::of(b"sheet"),
        book: "none".to_owned(),
        head: Some(Digest::of(b"newest")),
        made_for: "bar test".to_owned(),
        made_on: date(2026, 5, 1),
        until: Some(date(2027, 3, 15)),
        said: said.to_owned(),
    }
}

fn file(cars: &Cars) -> std::path::PathBuf {
    cars.folder().join(".answers")
}

#[test]
fn what_was_kept_comes_back_and_what_was_forgotten_does_not() {
    let folder = tempfile::tempdir().unwrap();
    let cars = Cars::open(folder.path()).unwrap();
    let (mut answers, found) = Answers::open(&cars);
    assert!(found.is_empty());
    let long = answer("tarn", &"x".repeat(100_000));
    let plain = KeptAnswer {
        head: None,
        until: None,
        ..answer("fell", "é \" '\n")
    };
    assert!(answers.keep(&[answer("tarn", "old"), plain.clone()]));
    assert!(answers.keep(std::slice::from_ref(&long)));
    let found = Answers::open(&cars).1;
    assert_eq!(found, [plain.clone(), long.clone()]);
    // Two programs keep answers in one folder.
    let (mut other, _) = Answers::open(&cars);
    assert!(other.forget(&["tarn".to_owned()]) && answers.keep(&[answer("scree", "")]));
    let found = Answers::open(&cars).1;
    assert_eq!(found, [plain, answer("scree", "")]);
    assert!(cars.list().unwrap().found.is_empty(), "it is no car");
}

/// Every byte of the file, flipped one by one: each time what comes back is something that was kept, or nothing.
#[test]
fn a_flipped_bit_gives_nothing_that_was_not_kept() {
    let folder = tempfile::tempdir().unwrap();
    let cars = Cars::open(folder.path()).unwrap();
    let kept = [answer("fell", "says one thing"), answer("tarn", "says another")];
    assert!(Answers::open(&cars).0.keep(&kept));
    let whole = std::fs::read(file(&cars)).unwrap();
    let told: Vec<usize> = (0..whole.len()).filter(|&at| whole[at] != 0).collect();
    let mut lost = 0;
    for at in told {
        let mut flipped = whole.clone();
        flipped[at] ^= 1;
        std::fs::write(file(&cars), &flipped).unwrap();
        let (mut answers, found) = Answers::open(&cars);
        assert!(
            found.iter().all(|answer| kept.contains(answer)),
            "byte {at}: {found:?}"
        );
        lost += usize::from(found.len() < kept.len());
        // Whatever was damaged, it goes on.
        assert!(answers.keep(&kept), "byte {at}");
    }
    assert!(lost > 100, "only {lost} flips were noticed");
}

#[test]
fn what_cannot_be_kept_is_no_fault() {
    let folder = tempfile::tempdir().unwrap();
    let cars = Cars::open(folder.path()).unwrap();
    // A folder in its place is somebody else's, and so is a link.
    std::fs::create_dir(file(&cars)).unwrap();
    let (mut answers, found) = Answers::open(&cars);
    assert!(found.is_empty() && !answers.keep(&[answer("tarn", "")]) && !answers.forget(&[]));
    assert!(file(&cars).is_dir());
    std::fs::remove_dir(file(&cars)).unwrap();
    let outside = folder.path().join("outside");
    std::fs::write(&outside, "somebody's").unwrap();
    std::os::unix::fs::symlink(&outside, file(&cars)).unwrap();
    let (mut answers, _) = Answers::open(&cars);
    assert!(!answers.keep(&[answer("tarn", "")]));
    assert_eq!(std::fs::read(&outside).unwrap(), b"somebody's");
    std::fs::remove_file(file(&cars)).unwrap();
    // One that is taken away while it is open is made again.
    let (mut answers, _) = Answers::open(&cars);
    assert!(answers.keep(&[answer("tarn", "a")]));
    std::fs::remove_file(file(&cars)).unwrap();
    assert!(answers.keep(&[answer("tarn", "b")]));
    assert_eq!(Answers::open(&cars).1, [answer("tarn", "b")]);
}

//! What a car may be called.

use records::{CarName, Fault, NameFlaw};

fn flaw(given: &str) -> NameFlaw {
    match CarName::new(given).unwrap_err() {
        Fault::Name { flaw, .. } => flaw,
        other => panic!("{other}"),
    }
}

#[test]
fn ordinary_names_pass_as_they_are() {
    for name in [
        "tarn",
        "Tarn 4",
        "fell-side_2",
        "né",
        "кедр",
        "車",
        "a",
        "v1.2",
        "t~",
        "com",
        "com10",
        "console",
        "nullah",
        "lpt",
    ] {
        assert_eq!(CarName::new(name).unwrap().as_str(), name, "{name}");
    }
    assert_eq!(
        CarName::new(&"ä".repeat(48)).unwrap().as_str().chars().count(),
        48
    );
}

/// An `e` with a combining acute accent is stored as one letter.
#[test]
fn names_are_composed() {
    assert_eq!(CarName::new("e\u{301}tang").unwrap().as_str(), "\u{e9}tang");
}

#[test]
fn what_could_leave_the_folder_is_refused() {
    for given in [
        "..", ".", "../tarn", "/etc", "a/b", "a\\b", "..\\tarn", "tarn/", "C:tarn", "\0", "ta\0rn", "~",
        "~root",
    ] {
        assert!(CarName::new(given).is_err(), "{given:?}");
    }
    assert_eq!(flaw("a/b"), NameFlaw::Character { character: '/' });
    assert_eq!(flaw("a\\b"), NameFlaw::Character { character: '\\' });
    assert_eq!(flaw("ta\0rn"), NameFlaw::Character { character: '\0' });
    assert_eq!(flaw(".."), NameFlaw::Beginning { character: '.' });
}

/// The names that Windows keeps for devices, with any ending, and the digits that it takes for figures.
/// Source: Microsoft, "Naming Files, Paths, and Namespaces" (from memory).
#[test]
fn names_of_devices_are_refused_everywhere() {
    for given in [
        "con",
        "CON",
        "nul",
        "Aux",
        "prn",
        "com1",
        "COM9",
        "lpt1",
        "com¹",
        "LPT²",
        "con.old",
        "nul.tar.gz",
        "CONIN$",
        "aux .x",
    ] {
        assert!(matches!(flaw(given), NameFlaw::Reserved { .. }), "{given}");
    }
}

#[test]
fn names_kept_for_the_folder_itself_are_refused() {
    assert_eq!(
        flaw("preferences.toml"),
        NameFlaw::Reserved {
            word: "preferences.toml".into()
        }
    );
    assert_eq!(
        flaw("Preferences.TOML"),
        NameFlaw::Reserved {
            word: "preferences.toml".into()
        }
    );
    assert_eq!(flaw("tarn.toml"), NameFlaw::LooksLikeASheet);
    assert_eq!(flaw("tarn.Toml"), NameFlaw::LooksLikeASheet);
    assert_eq!(
        flaw("lost+found"),
        NameFlaw::Reserved {
            word: "lost+found".into()
        }
    );
}

#[test]
fn names_that_cannot_be_told_apart_by_eye_are_refused() {
    for given in [
        "ta\u{200b}rn",
        "ta\u{202e}rn",
        "tarn\u{feff}",
        "ta\u{ad}rn",
        "ta\u{a0}rn",
        "\u{3164}",
        "tarn\u{fe0f}",
    ] {
        assert!(matches!(flaw(given), NameFlaw::Invisible { .. }), "{given:?}");
    }
}

#[test]
fn ends_and_lengths_are_checked() {
    assert_eq!(flaw(""), NameFlaw::Empty);
    assert_eq!(flaw("  "), NameFlaw::Empty);
    assert_eq!(flaw(" tarn"), NameFlaw::Blank);
    assert_eq!(flaw("tarn "), NameFlaw::Blank);
    assert_eq!(flaw("tarn."), NameFlaw::Ending);
    assert_eq!(flaw(".tarn"), NameFlaw::Beginning { character: '.' });
    assert_eq!(flaw("-tarn"), NameFlaw::Beginning { character: '-' });
    assert_eq!(flaw(&"a".repeat(49)), NameFlaw::TooLong { length: 49 });
    assert_eq!(flaw("tarn\n"), NameFlaw::Character { character: '\n' });
    assert_eq!(flaw("tarn\u{7f}"), NameFlaw::Character { character: '\u{7f}' });
}

#[test]
fn a_refusal_says_what_and_what_to_do() {
    let fault = CarName::new("ta\u{7}rn").unwrap_err();
    assert_eq!(
        fault.to_string(),
        "`ta\\u{7}rn` cannot be a name: it contains the control character U+0007"
    );
    assert_eq!(
        fault.help(),
        "Use letters, figures, blanks, hyphens, underscores and dots."
    );
    assert_eq!(fault.slug(), "name");
    assert!(fault.is_wrong_input());
    let long = CarName::new(&"x".repeat(100_000)).unwrap_err().to_string();
    assert!(long.len() < 200, "{long}");
}

//! What goes into a release, against the workspace as it is locked.

#![allow(clippy::unwrap_used, reason = "helpers of tests fail by panicking")]

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;
use std::sync::LazyLock;

use release::Notices;

static NOTICES: LazyLock<Notices> =
    LazyLock::new(|| Notices::of(&top().join("Cargo.toml"), "x86_64-unknown-linux-gnu").unwrap());

fn top() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("..")
        .canonicalize()
        .unwrap()
}

fn read(below: &str) -> String {
    fs::read_to_string(top().join(below)).unwrap()
}

fn names() -> BTreeSet<&'static str> {
    let name = |package: &'static release::Linked| package.name.split_once(' ').unwrap().0;
    NOTICES.packages.iter().map(name).collect()
}

#[test]
fn what_is_linked_is_named_and_nothing_else() {
    let names = names();
    for linked in [
        "axum",
        "clap",
        "libsqlite3-sys",
        "rusqlite",
        "serde",
        "typst",
        "typst-assets",
    ] {
        assert!(names.contains(linked), "{linked} is linked in");
    }
    // Tests, build scripts, macros, other systems, and what is ours.
    for other in [
        "proptest",
        "insta",
        "cc",
        "serde_derive",
        "syn",
        "windows-sys",
        "engine",
        "rearline",
    ] {
        assert!(!names.contains(other), "{other} is not linked in");
    }
}

#[test]
fn every_package_has_its_text_and_every_text_stands_once() {
    // Some add a file that only names the licences.
    let whole = NOTICES.texts.iter().filter(|(text, _)| text.len() > 400);
    let under: BTreeSet<&str> = whole
        .flat_map(|(_, files)| files)
        .map(|file| file.split_once(':').unwrap().0)
        .collect();
    let named: BTreeSet<&str> = NOTICES
        .packages
        .iter()
        .map(|package| package.name.as_str())
        .collect();
    assert_eq!(under, named);
    let texts: BTreeSet<&str> = NOTICES.texts.iter().map(|(text, _)| text.as_str()).collect();
    assert_eq!(texts.len(), NOTICES.texts.len());
}

#[test]
fn a_package_without_a_text_of_its_own_has_one_that_it_names() {
    let of = |package: &str| -> Vec<&str> {
        let files = |(text, files): &'static (String, Vec<String>)| {
            files
                .iter()
                .any(|file| file.starts_with(package))
                .then_some(text.as_str())
        };
        NOTICES.texts.iter().filter_map(files).collect()
    };
    // Facts of these packages as they are locked.
    let named = "named in its metadata";
    let without: Vec<&String> = NOTICES
        .texts
        .iter()
        .flat_map(|(_, files)| files)
        .filter(|file| file.ends_with(named))
        .collect();
    assert!(!without.is_empty());
    let typst = of("typst 0");
    assert!(
        typst.len() == 1 && typst[0].contains("Apache License"),
        "{typst:?}"
    );
    let rmpfit = of("rmpfit ");
    assert!(
        rmpfit.len() == 1 && rmpfit[0].contains("Permission is hereby granted"),
        "{rmpfit:?}"
    );
    assert!(!rmpfit[0].contains("the rearline authors"), "{rmpfit:?}");
}

/// Every font that a build book is printed with is named there, with the terms under which it comes along.
#[test]
fn fonts_come_with_their_terms() {
    let fonts = fs::read_dir(top().join("crates/press/fonts")).unwrap();
    let fonts: Vec<String> = fonts
        .map(|file| file.unwrap().file_name().into_string().unwrap())
        .filter(|name| name.ends_with(".otf") || name.ends_with(".ttf"))
        .collect();
    assert!(fonts.len() > 3, "{fonts:?}");
    let brought: Vec<&str> = NOTICES
        .texts
        .iter()
        .filter(|(_, files)| files.iter().any(|file| file.starts_with("press ")))
        .map(|(text, _)| text.as_str())
        .collect();
    for font in fonts {
        let family = font.split_once('-').map_or(font.as_str(), |(family, _)| family);
        assert!(
            brought.iter().any(|text| text.contains(family)),
            "{font}: no terms"
        );
    }
    for terms in ["SIL OPEN FONT LICENSE", "GUST", "Bitstream Vera"] {
        assert!(brought.iter().any(|text| text.contains(terms)), "{terms}");
    }
}

#[test]
fn what_the_script_takes_is_there() {
    let script = read("release/make");
    let lines = script.lines().filter(|line| !line.trim_start().starts_with('#'));
    let words = lines
        .flat_map(|line| line.split(|letter: char| letter.is_whitespace() || "\"'()<>;".contains(letter)));
    let ours = words.filter(|word| {
        ["release/", "crates/", "docs/", "LICENSE", "CHANGELOG"]
            .iter()
            .any(|begin| word.starts_with(begin))
            && !word.contains('$')
    });
    let mut seen = 0;
    for file in ours.filter(|word| *word != "release/make:") {
        assert!(top().join(file).is_file(), "{file}");
        seen += 1;
    }
    assert!(seen > 8, "{seen}");
}

/// Whoever installed a package has its page alone.
#[test]
fn how_to_take_a_newer_version_is_the_same_on_both_pages() {
    let section = |page: &str| {
        let text = read(page);
        let (_, behind) = text.split_once("## To take a newer version\n").unwrap();
        behind.split("\n## ").next().unwrap().to_owned()
    };
    assert_eq!(section("README.md"), section("release/README.md"));
    assert_eq!(
        section("README.md")
            .lines()
            .filter(|line| line.starts_with(char::is_numeric))
            .count(),
        4
    );
}

#[test]
fn scripts_are_sound_shell() {
    for (shell, script) in [
        ("bash", "release/make"),
        ("bash", "release/same"),
        ("bash", "release/try"),
        ("sh", "release/menu/workshop"),
    ] {
        let told = Command::new(shell)
            .arg("-n")
            .arg(top().join(script))
            .output()
            .unwrap();
        assert!(
            told.status.success(),
            "{script}: {}",
            String::from_utf8_lossy(&told.stderr)
        );
    }
}

/// Desktop Entry Specification (freedesktop.org), sections *Recognized desktop entry keys* and *The Exec key*.
#[test]
fn the_menu_entry_keeps_to_its_standard() {
    let entry = read("release/menu/rearline.desktop");
    let mut lines = entry.lines();
    assert_eq!(lines.next(), Some("[Desktop Entry]"));
    let keys: Vec<(&str, &str)> = lines.map(|line| line.split_once('=').unwrap()).collect();
    let of = |key: &str| {
        keys.iter()
            .find(|(name, _)| *name == key)
            .map(|(_, value)| *value)
    };
    let unique: BTreeSet<&str> = keys.iter().map(|(key, _)| *key).collect();
    assert_eq!(unique.len(), keys.len());
    assert_eq!((of("Type"), of("Terminal")), (Some("Application"), Some("true")));
    for list in ["Categories", "Keywords"] {
        assert!(of(list).unwrap().ends_with(';'), "{list}");
    }
    let script = read("release/make");
    let put = |path: &str| script.contains(path);
    assert!(put("$root/usr/lib/rearline/workshop") && of("Exec") == Some("/usr/lib/rearline/workshop"));
    assert!(put("icons/hicolor/scalable/apps/rearline.svg") && of("Icon") == Some("rearline"));
}

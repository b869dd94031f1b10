//! Sheets of every format that was ever given out.

use sheet::{FORMAT, MIGRATIONS};

#[test]
fn each_kept_sheet_reads_once_it_is_upgraded() {
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/fixtures/formats");
    let mut formats: Vec<u32> = Vec::new();
    for file in std::fs::read_dir(folder).unwrap() {
        let path = file.unwrap().path();
        let format: u32 = path.file_stem().unwrap().to_str().unwrap().parse().unwrap();
        let text = std::fs::read_to_string(&path).unwrap();
        let upgrade = sheet::upgrade(&text, "car.toml").unwrap();
        assert_eq!(upgrade.changes.is_empty(), format == FORMAT);
        assert_eq!(upgrade.diff("car.toml").is_empty(), format == FORMAT);
        if let Err(problems) = sheet::assemble(upgrade.text.as_bytes(), "car.toml") {
            panic!("{problems}");
        }
        formats.push(format);
    }
    formats.sort_unstable();
    let first = MIGRATIONS.first().map_or(FORMAT, |migration| migration.from);
    assert_eq!(
        formats,
        (first..=FORMAT).collect::<Vec<_>>(),
        "a sheet is kept for each format"
    );
    let passed: Vec<u32> = MIGRATIONS.iter().map(|migration| migration.from).collect();
    assert_eq!(
        passed,
        (first..FORMAT).collect::<Vec<_>>(),
        "each format leads to the next"
    );
}

#[test]
fn a_newer_sheet_is_told_from_an_older_and_nothing_else_is_said_of_it() {
    let told = |sheet: &str| sheet::read(sheet.as_bytes(), "car.toml").assemble().unwrap_err();
    let newer = told("format = 2\n[car]\nname = 3\nwings = true\n");
    assert_eq!(newer.count(), 1, "{newer}");
    insta::assert_snapshot!("newer_format", newer.to_string());
    let older = told(&crate::FULL.replace("format = 1", "format = 0"));
    assert_eq!(older.count(), 1, "{older}");
    assert!(older.shown()[0].remedy().contains("--upgrade"));
}

#[test]
fn what_cannot_be_upgraded_is_told() {
    for (sheet, slug) in [
        ("format = 2\n", "format-other"),
        ("format = 0\n", "format-other"),
        ("[car]\nname = \"x\"\n", "no-format"),
        ("format = \"one\"\n", "no-format"),
        ("format = \n", "toml-other"),
    ] {
        assert_eq!(
            sheet::upgrade(sheet, "car.toml").unwrap_err().slug(),
            slug,
            "{sheet}"
        );
    }
}

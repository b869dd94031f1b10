//! Sheets of every format that was ever given out.

use engine::car::Driven;
use quantity::si::Mass;
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
    let newer = told("format = 3\n[car]\nname = 3\nwings = true\n");
    assert_eq!(newer.count(), 1, "{newer}");
    insta::assert_snapshot!("newer_format", newer.to_string());
    let older = told(&crate::FULL.replace("format = 2", "format = 0"));
    assert_eq!(older.count(), 1, "{older}");
    assert!(older.shown()[0].remedy().contains("format = 2"));
}

#[test]
fn what_cannot_be_upgraded_is_told() {
    for (sheet, slug) in [
        ("format = 3\n", "format-other"),
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

/// A sheet of the first format that leaves out all that its silence answered.
fn silent(driven: &str) -> String {
    let mut text = crate::FULL.replace("format = 2", "format = 1");
    for cut in ["load.crew", "pedal.booster", "drivetrain.centre"] {
        text = sheet::cut(&text, cut).unwrap();
    }
    match driven {
        "" => sheet::cut(&text, "drivetrain.driven").unwrap(),
        driven => sheet::splice(&text, "drivetrain.driven", driven).unwrap(),
    }
}

#[test]
fn the_first_format_keeps_its_meanings_and_says_so() {
    let (assembled, _) = sheet::assemble(silent("").as_bytes(), "car.toml").unwrap();
    let car = &assembled.car;
    assert_eq!(car.load.crew, None);
    assert_eq!(car.pedal.booster, None);
    assert_eq!(car.drivetrain.driven, Driven::Front);
    let said = assembled
        .warnings
        .iter()
        .find(|warning| warning.path == "format")
        .unwrap();
    assert!(said.text.to_string().contains("--upgrade"), "{said:?}");
}

#[test]
fn an_upgrade_writes_out_what_the_first_format_took_in_silence() {
    for driven in ["", "rear", "all"] {
        let old = silent(driven);
        let upgrade = sheet::upgrade(&old, "car.toml").unwrap();
        let car = |text: &str| {
            let (assembled, _) = sheet::assemble(text.as_bytes(), "car.toml").unwrap();
            assert!(!assembled.warnings.iter().any(|warning| warning.path == "format") || text == old);
            format!("{:?}", assembled.car)
        };
        assert_eq!(
            car(&upgrade.text),
            car(&old),
            "the car is the same: {}",
            upgrade.diff("car.toml")
        );
        let written = |key: &str| {
            upgrade
                .changes
                .iter()
                .any(|change| change.contains(&format!("`{key}`")))
        };
        assert!(
            written("load.crew") && written("pedal.booster"),
            "{:?}",
            upgrade.changes
        );
        assert_eq!(written("drivetrain.driven"), driven.is_empty());
        assert_eq!(written("drivetrain.centre.kind"), driven == "all");
    }
    let none = sheet::splice(&silent("all"), "drivetrain.centre.kind", "none").unwrap();
    let upgrade = sheet::upgrade(&none, "car.toml").unwrap();
    assert!(
        upgrade.changes.iter().any(|change| change.contains("open")),
        "{:?}",
        upgrade.changes
    );
}

#[test]
fn what_decides_is_never_left_out_in_silence() {
    let text = silent("front").replace("format = 1", "format = 2");
    let (assembled, _) = sheet::assemble(text.as_bytes(), "car.toml").unwrap();
    let leaned: Vec<String> = assembled
        .defaults_used
        .iter()
        .map(|leaned| leaned.slot.path())
        .collect();
    for key in ["load.crew.mass", "load.crew.height", "pedal.booster"] {
        assert!(leaned.iter().any(|leaned| leaned == key), "{key}: {leaned:?}");
    }
    assert_eq!(assembled.car.load.crew.unwrap().mass, Mass::from_kg(160.0));
    assert_eq!(assembled.car.pedal.booster, None);

    let refused = |text: &str| {
        let problems = sheet::assemble(text.as_bytes(), "car.toml").unwrap_err();
        let problem = &problems.shown()[0];
        (problem.key.clone().unwrap_or_default(), problem.slug().to_owned())
    };
    let missing = |key: &str| (key.to_owned(), "missing-key".to_owned());
    assert_eq!(
        refused(&sheet::cut(&text, "drivetrain.driven").unwrap()),
        missing("drivetrain.driven")
    );
    let all = sheet::splice(&text, "drivetrain.driven", "all").unwrap();
    assert_eq!(refused(&all), missing("drivetrain.centre.kind"));
    let none = sheet::splice(&all, "drivetrain.centre.kind", "none").unwrap();
    assert_eq!(refused(&none).1, "contradiction");
}

#[test]
fn none_in_the_place_of_a_table_is_an_answer() {
    for (path, table) in [
        ("load.crew", "load.crew"),
        ("pedal.booster", "pedal.booster"),
        ("bias_valve", "bias_valve"),
    ] {
        let cut = sheet::cut(crate::FULL, table).unwrap();
        let said = sheet::splice(&cut, path, "none").unwrap();
        let (assembled, _) = sheet::assemble(said.as_bytes(), "car.toml").unwrap();
        assert!(
            !assembled
                .defaults_used
                .iter()
                .any(|leaned| leaned.slot.path().starts_with(path)),
            "{path}"
        );
        assert!(assembled.car.load.crew.is_none() || path != "load.crew");
        assert!(assembled.car.pedal.booster.is_none() || path != "pedal.booster");
        assert!(assembled.car.bias_valve.is_none() || path != "bias_valve");
        // For this once, in the place of the table; and a key of the table in the place of the word.
        let mut read = sheet::read(crate::FULL.as_bytes(), "car.toml");
        read.with(&format!("{path}=none")).unwrap();
        let without = read.assemble().unwrap();
        assert_eq!(
            format!("{:?}", without.car),
            format!("{:?}", assembled.car),
            "{path}"
        );
        let is_idle = |warning: &engine::car::Unusual| warning.text.to_string().contains("no effect");
        assert!(!without.warnings.iter().any(is_idle), "{:?}", without.warnings);
    }
    let mut read = sheet::read(crate::FULL.as_bytes(), "car.toml");
    read.with("bias_valve=none").unwrap();
    read.with("bias_valve.kind=fixed").unwrap();
    read.with("bias_valve.knee=30 bar").unwrap();
    assert!(read.assemble().unwrap().car.bias_valve.is_some());
}

#[test]
fn a_centre_that_is_not_known_is_said_to_be_a_guess() {
    let mut text = sheet::cut(crate::FULL, "drivetrain.centre").unwrap();
    text = sheet::splice(&text, "drivetrain.centre.kind", "guess").unwrap();
    let (assembled, _) = sheet::assemble(text.as_bytes(), "car.toml").unwrap();
    let words: Vec<&str> = assembled
        .car
        .drivetrain
        .centre
        .may_be()
        .iter()
        .map(|(word, _)| *word)
        .collect();
    assert_eq!(words, ["open", "viscous, soft", "viscous, stiff", "locked"]);
    assert!(
        assembled
            .defaults_used
            .iter()
            .any(|leaned| leaned.guess && leaned.slot.path() == "drivetrain.centre.kind")
    );
}

#[test]
fn a_tyre_is_known_by_its_label() {
    let labelled = sheet::splice(crate::FULL, "tyres.rolling_radius", "195/65 R15 91T").unwrap();
    let (assembled, _) = sheet::assemble(labelled.as_bytes(), "car.toml").unwrap();
    assert!((assembled.car.tyres.front_radius.m() - 0.97 * 0.317_25).abs() < 1e-9);
    let said = assembled
        .defaults_used
        .iter()
        .find(|leaned| leaned.slot.path() == "tyres.rolling_radius")
        .unwrap();
    assert!(said.value.contains("0.97"), "{said:?}");
    assert!(assembled.toleranced.contains(&said.slot));
    for wrong in ["195/65", "195/65 15", "195/6 R15", "195/65 R15 and more"] {
        let problem = sheet::splice(crate::FULL, "tyres.rolling_radius", wrong).unwrap_err();
        assert_eq!(problem.slug(), "not-a-tyre", "{wrong}");
        assert!(problem.remedy().contains("195/65 R15"), "{}", problem.remedy());
    }
    assert!(sheet::splice(crate::FULL, "tyres.rolling_radius", "12-1/4 in").is_ok());
}

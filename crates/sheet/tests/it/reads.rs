//! What a sheet without fault is read as.

use engine::car::{Inputs, Slot, Value};
use quantity::{Amount, Dimension, Spread};
use sheet::{ReadSheet, TableStyle, slot_of};

use crate::{FULL, with_line};

fn read(sheet: &str) -> ReadSheet {
    let read = sheet::read(sheet.as_bytes(), "car.toml");
    assert!(read.problems().is_empty(), "{}", read.problems());
    read
}

fn at<'a>(inputs: &'a Inputs, path: &str) -> &'a Value {
    inputs
        .get(slot(path))
        .unwrap_or_else(|| panic!("nothing at {path}"))
}

fn slot(path: &str) -> Slot {
    slot_of(path).unwrap_or_else(|| panic!("no key {path}"))
}

fn amount(dimension: Dimension, si: f64) -> Value {
    Value::Amount(Amount::exact(dimension, si))
}

#[test]
fn each_form_of_value() {
    let inputs = read(FULL).inputs;
    assert_eq!(*at(&inputs, "format"), Value::Count(2));
    assert_eq!(*at(&inputs, "car.name"), Value::Text("Fjell Proto".into()));
    assert_eq!(*at(&inputs, "car.road_registered"), Value::Flag(true));
    assert_eq!(*at(&inputs, "car.abs"), Value::Word("none"));
    let surfaces = ["hard gravel", "loose gravel", "wet tarmac", "wet clay"]
        .map(Into::into)
        .to_vec();
    assert_eq!(*at(&inputs, "car.runs_on"), Value::Texts(surfaces));
    let spread = Spread::Normal { half_width_si: 4.0 };
    assert_eq!(
        *at(&inputs, "weighed.front"),
        Value::Amount(Amount {
            dimension: Dimension::Mass,
            si: 764.0,
            spread
        })
    );
    assert_eq!(*at(&inputs, "pedal.ratio"), amount(Dimension::Ratio, 4.3));
    assert_eq!(*at(&inputs, "lever.bore"), amount(Dimension::Length, 0.015_875));
    let pistons = [0.0413, 0.0365]
        .map(|bore| Amount::exact(Dimension::Length, bore))
        .to_vec();
    assert_eq!(
        *at(&inputs, "front_brake.caliper.pistons"),
        Value::Amounts(pistons)
    );
    assert_eq!(*at(&inputs, "bias_valve.setting"), amount(Dimension::Turns, 2.0));
    assert_eq!(
        *at(&inputs, "bias_valve.knee.turns"),
        amount(Dimension::Turns, 5.0)
    );
    assert_eq!(
        *at(&inputs, "fluid.fitted"),
        Value::Date("2026-03-14".parse().unwrap())
    );
    let Value::Rows(rows) = at(&inputs, "rear_brake.pad.friction_at") else {
        panic!("no rows")
    };
    assert_eq!(rows.len(), 4);
    assert_eq!(
        rows[1],
        [
            Amount::exact(Dimension::Temperature, 423.15),
            Amount::exact(Dimension::Ratio, 0.41)
        ]
    );
    assert_eq!(
        *at(&inputs, "load.item[2].aft_of_front_axle"),
        amount(Dimension::Length, -0.2)
    );
    assert_eq!(inputs.entries("load.item"), 2);
}

#[test]
fn nothing_is_left_out() {
    // Every `key = value` of the fixture, counted by eye apart from the reader: those in brackets too.
    let in_text = FULL
        .lines()
        .filter(|line| !line.starts_with('#'))
        .map(|line| line.matches(" = ").count())
        .sum::<usize>();
    let tables = [
        "crew",
        "tank",
        "booster",
        "knee",
        "mount",
        "caliper",
        "pad",
        "disc",
        "volume",
        "rear_diff",
    ];
    let of_tables = FULL
        .lines()
        .filter(|line| !line.starts_with('#') && line.contains("= {"))
        .count();
    assert!(of_tables > tables.len());
    assert_eq!(read(FULL).inputs.slots().count(), in_text - of_tables);
}

#[test]
fn a_position_and_a_guess() {
    let sheet = FULL.replacen("setting = \"2.0 turns\"", "setting = 3", 1);
    assert_eq!(*at(&read(&sheet).inputs, "bias_valve.setting"), Value::Count(3));
    let sheet = with_line("cg_height   = \"0.53 m ± 0.04 m\"", "cg_height = \"guess\"");
    assert_eq!(*at(&read(&sheet).inputs, "weighed.cg_height"), Value::Guess);
    let sheet = with_line("slope   = 0.40", "slope = \"between 0.3 and 0.5\"");
    let spread = Spread::Uniform {
        low_si: 0.3,
        high_si: 0.5,
    };
    let wanted = Value::Amount(Amount {
        dimension: Dimension::Ratio,
        si: 0.4,
        spread,
    });
    assert_eq!(*at(&read(&sheet).inputs, "bias_valve.slope"), wanted);
}

#[test]
fn numbers_in_each_way_that_toml_writes_them() {
    for (written, value) in [
        ("4", 4.0),
        ("+4.5", 4.5),
        ("4.5e0", 4.5),
        ("0x4", 4.0),
        ("4_0e-1", 4.0),
    ] {
        let sheet = with_line("ratio      = 4.3", &format!("ratio = {written}"));
        assert_eq!(
            *at(&read(&sheet).inputs, "pedal.ratio"),
            amount(Dimension::Ratio, value),
            "{written}"
        );
    }
    let sheet = with_line("rear_clips = 7", "rear_clips = 0b111");
    assert_eq!(*at(&read(&sheet).inputs, "places.rear_clips"), Value::Count(7));
}

#[test]
fn a_table_reads_alike_however_it_is_written() {
    let forms = [
        "[pedal]\nratio = 4.3\nbooster = { gain = 3.8, run_out = \"64 bar\" }\n",
        "[pedal]\nratio = 4.3\n[pedal.booster]\ngain = 3.8\nrun_out = \"64 bar\"\n",
        "[pedal.booster]\ngain = 3.8\nrun_out = \"64 bar\"\n[pedal]\nratio = 4.3\n",
        "pedal.ratio = 4.3\npedal.booster.gain = 3.8\npedal.booster.run_out = \"64 bar\"\n",
        "pedal = { ratio = 4.3, booster.gain = 3.8, booster.run_out = \"64 bar\" }\n",
        "[pedal]\r\n\"ratio\" = 4.3\r\n'booster' = {\r\n  gain = 3.8, # the vacuum one\r\n  run_out = '''64 bar''',\r\n}\r\n",
        "\u{feff}[pedal]\nratio = 4.3\nbooster = { gain = 3.8, run_out = \"64\\u0020bar\" }",
    ];
    for form in forms {
        let inputs = read(form).inputs;
        assert_eq!(inputs.slots().count(), 3, "{form}");
        assert_eq!(
            *at(&inputs, "pedal.ratio"),
            amount(Dimension::Ratio, 4.3),
            "{form}"
        );
        assert_eq!(
            *at(&inputs, "pedal.booster.run_out"),
            amount(Dimension::Pressure, 64e5),
            "{form}"
        );
        assert!(
            inputs.has_table("pedal.booster") && inputs.has_table("pedal"),
            "{form}"
        );
    }
    let entries = [
        "[[load.item]]\nname = \"a\"\n[[load.item]]\nname = \"b\"\n",
        "[load]\nitem = [{ name = \"a\" }, { name = \"b\" }]\n",
        "load.item = [\n  { name = \"a\" },\n  { name = \"b\" },\n]\n",
    ];
    for form in entries {
        let inputs = read(form).inputs;
        assert_eq!(inputs.entries("load.item"), 2, "{form}");
        assert_eq!(
            *at(&inputs, "load.item[2].name"),
            Value::Text("b".into()),
            "{form}"
        );
    }
}

#[test]
fn tables_count_even_where_nothing_stands_in_them() {
    let inputs = read("format = 1\n[lever]\n[lever_brake]\n[[surface]]\n[pedal]\nbooster = {}\n").inputs;
    for table in ["lever", "lever_brake", "pedal.booster", "pedal"] {
        assert!(inputs.has_table(table), "{table}");
    }
    assert!(!inputs.has_table("bias_valve"));
    assert_eq!(inputs.entries("surface"), 1);
    assert_eq!(
        read("format = 1\n[load]\nitem = []\n")
            .inputs
            .entries("load.item"),
        0
    );
}

#[test]
fn places_are_those_of_the_text() {
    let read = read(FULL);
    let text = |span: &core::ops::Range<usize>| &FULL[span.clone()];
    for (path, key, value) in [
        ("weighed.front", "front", "\"764 kg ± 4 kg\""),
        ("load.crew.mass", "mass", "\"168 kg\""),
        ("load.item[2].name", "name", "\"jack and tools\""),
        (
            "front_brake.caliper.pistons",
            "pistons",
            "[\"41.3 mm\", \"36.5 mm\"]",
        ),
        ("fluid.fitted", "fitted", "2026-03-14"),
    ] {
        let place = read.places.value(slot(path)).unwrap();
        assert_eq!((text(&place.key), text(&place.value)), (key, value), "{path}");
        assert!(!place.is_override());
    }
    for (path, header, style) in [
        ("car", "[car]", TableStyle::Header),
        ("load.item[1]", "[[load.item]]", TableStyle::Header),
        ("lever.mount", "{ bolts", TableStyle::Inline),
    ] {
        let place = read.places.table(path).unwrap();
        assert!(text(&place.span).starts_with(header), "{path}");
        assert_eq!(place.style, style, "{path}");
    }
}

#[test]
fn the_full_sheet_and_every_demonstration_car_assemble() {
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/../../demo");
    let mut cars = vec![FULL.to_owned()];
    for car in std::fs::read_dir(folder).unwrap() {
        let sheet = car.unwrap().path().join("car.toml");
        if sheet.exists() {
            cars.push(std::fs::read_to_string(sheet).unwrap());
        }
    }
    assert!(cars.len() > 4);
    for car in cars {
        let (assembled, places) =
            sheet::assemble(car.as_bytes(), "car.toml").unwrap_or_else(|wrong| panic!("{wrong}"));
        assert!(places.value(slot("car.name")).is_some());
        assert!(!assembled.car.name.is_empty());
    }
}

#[test]
fn warnings_point_at_what_they_are_about() {
    let sheet = with_line("ratio      = 4.3", "ratio = 12");
    let read = read(&sheet);
    let warnings = read.assemble().unwrap().warnings;
    let located = read.located(&warnings);
    let at = located
        .iter()
        .find(|located| located.warning.path == "pedal.ratio")
        .unwrap();
    let line = 1 + sheet.lines().position(|line| line == "ratio = 12").unwrap();
    assert_eq!((at.line, at.column, &*at.file), (line, 9, "car.toml"));
}

#[test]
fn an_open_file_is_read_only_so_far() {
    struct Endless(usize);
    impl std::io::Read for Endless {
        fn read(&mut self, buffer: &mut [u8]) -> std::io::Result<usize> {
            buffer.fill(b'#');
            self.0 += buffer.len();
            assert!(self.0 < 3 * sheet::MAX_BYTES, "more was read than has to be");
            Ok(buffer.len())
        }
    }
    let read = sheet::read_from(Endless(0), "car.toml").unwrap();
    assert_eq!(read.problems().shown()[0].slug(), "file-too-large");
}

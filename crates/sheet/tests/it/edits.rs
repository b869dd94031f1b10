//! Edits that leave every other byte alone.

use engine::car::{Form, Inputs, KeyId, Slot};
use proptest::prelude::*;
use sheet::{cut, slot_of, splice};

use crate::FULL;

fn inputs(sheet: &str) -> Inputs {
    let read = sheet::read(sheet.as_bytes(), "car.toml");
    assert!(read.problems().is_empty(), "{}\n{sheet}", read.problems());
    read.inputs
}

/// The sheet once a value is written.
fn set(sheet: &str, path: &str, typed: &str) -> String {
    splice(sheet, path, typed).unwrap_or_else(|problem| panic!("{path} = {typed}: {problem}"))
}

fn without(sheet: &str, path: &str) -> String {
    cut(sheet, path).unwrap_or_else(|problem| panic!("{path}: {problem}"))
}

/// The lines that differ.
fn difference(before: &str, after: &str) -> String {
    let diff = similar::TextDiff::from_lines(before, after);
    let changes = diff
        .iter_all_changes()
        .filter(|change| change.tag() != similar::ChangeTag::Equal);
    changes
        .map(|change| format!("{}{}", change.tag(), change.value()))
        .collect()
}

/// A value that a key may have, typed as a person does.
fn typed(slot: Slot, pick: u32) -> String {
    let key = slot.key.key();
    let part = f64::from(pick % 97) / 97.0;
    let unit = |written: &str| written.split_once(' ').map_or("", |(_, unit)| unit).to_owned();
    let between = |(low, high): (&str, &str)| {
        let number = |text: &str| text.split(' ').next().unwrap().parse::<f64>().unwrap();
        format!(
            "{:.3} {}",
            number(low) + part * (number(high) - number(low)),
            unit(low)
        )
        .trim_end()
        .to_owned()
    };
    let figure = || between(key.usual.or(key.hard).unwrap());
    match key.form {
        Form::Quantity(_) if pick.is_multiple_of(5) && key.default.is_some() => "guess".to_owned(),
        Form::RollingRadius if pick.is_multiple_of(2) => "195/65 R15".to_owned(),
        Form::Quantity(_) | Form::RollingRadius => figure(),
        Form::Quantities(_) => format!("{}, {}", figure(), figure()),
        Form::Row(_) => "4.2 kN, 20 bar".to_owned(),
        Form::Rows { columns, .. } => match columns[0] {
            quantity::Dimension::Temperature => "20 C, 0.33; 150 C, 0.41".to_owned(),
            quantity::Dimension::Rotation => "0 rpm, 0 N m; 50 rpm, 90 N m".to_owned(),
            quantity::Dimension::Length => "0 mm, 0 bar; 40 mm, 3 bar, 20 N".to_owned(),
            _ => "100 N, 19 bar".to_owned(),
        },
        Form::Setting => {
            if pick.is_multiple_of(2) {
                "3".to_owned()
            } else {
                "1.25 turns".to_owned()
            }
        }
        Form::Count => "1".to_owned(),
        Form::Flag => pick.is_multiple_of(2).to_string(),
        Form::Word(words) => words[pick as usize % words.len()].to_owned(),
        Form::Text => format!("a \"text\" with \\ and ä {pick}"),
        Form::Texts => "hard gravel, wet tarmac".to_owned(),
        Form::Date => "2026-07-01".to_owned(),
    }
}

#[test]
fn a_value_is_replaced_where_it_stands() {
    for (path, value, line) in [
        ("lever.bore", "11/16 in", "bore     = \"11/16 in\""),
        ("pedal.ratio", "4.5", "ratio      = 4.5"),
        ("pedal.ratio", "4.5 ± 0.1", "ratio      = \"4.5 ± 0.1\""),
        ("pedal.ratio", "4,5", "ratio      = \"4,5\""),
        (
            "car.name",
            "Fjell \"B\"",
            "name  = \"Fjell \\\"B\\\"\"                        # as painted on the door",
        ),
        ("bias_valve.setting", "3", "setting = 3"),
        (
            "bias_valve.knee.turns",
            "6",
            "knee    = { at_fewest = \"8 bar\", at_most = \"65 bar\", turns = 6 }",
        ),
        ("lever.latch", "true", "latch    = true"),
        ("fluid.fitted", "2026-05-01", "fitted = 2026-05-01"),
        (
            "car.runs_on",
            "wet tarmac, hard gravel",
            "runs_on = [\"wet tarmac\", \"hard gravel\"]",
        ),
        (
            "measured.pedal[1].points",
            "100 N, 20 bar; 200 N, 40 bar",
            "points = [[\"100 N\", \"20 bar\"], [\"200 N\", \"40 bar\"]]",
        ),
        ("load.item[2].mass", "20 kg", "mass = \"20 kg\""),
        (
            "lever.mount.spreader",
            "'4 mm'",
            "mount    = { bolts = \"4 x M8 8.8\", pattern = [\"80 mm\", \"60 mm\"], floor_sheet = \"0.9 mm\", spreader = '4 mm', pivot_above_floor = \"55 mm\", grip_above_pivot = \"300 mm\" }",
        ),
    ] {
        let difference = difference(FULL, &set(FULL, path, value));
        assert_eq!(difference.lines().last().unwrap(), format!("+{line}"), "{path}");
        assert_eq!(difference.lines().count(), 2, "{difference}");
    }
}

#[test]
fn a_key_that_is_not_there_is_written_into_its_table() {
    for (sheet, path, value, wanted) in [
        // Behind the key that comes before it, with its `=` in the same column.
        (
            "[pedal]\nratio   = 4.3 # measured\n\n[air]\n",
            "pedal.efficiency",
            "0.9",
            "[pedal]\nratio   = 4.3 # measured\nefficiency = 0.9\n\n[air]\n",
        ),
        (
            "[pedal]\n  efficiency = 0.9\n",
            "pedal.ratio",
            "4",
            "[pedal]\n  ratio      = 4\n  efficiency = 0.9\n",
        ),
        ("[pedal]", "pedal.ratio", "4", "[pedal]\nratio = 4"),
        (
            "[pedal]\r\nratio=4\r\n",
            "pedal.efficiency",
            "0.9",
            "[pedal]\r\nratio=4\r\nefficiency=0.9\r\n",
        ),
        // Within curly brackets.
        (
            "[pedal]\nbooster = { gain = 3 } # new\n",
            "pedal.booster.run_out",
            "64 bar",
            "[pedal]\nbooster = { gain = 3, run_out = \"64 bar\" } # new\n",
        ),
        (
            "[pedal]\nbooster = {}\n",
            "pedal.booster.gain",
            "3",
            "[pedal]\nbooster = { gain = 3 }\n",
        ),
        (
            "[pedal]\nbooster = {\n  gain = 3, # a\n}\n",
            "pedal.booster.run_out",
            "64 bar",
            "[pedal]\nbooster = {\n  gain = 3, run_out = \"64 bar\" # a\n}\n",
        ),
        (
            "[pedal]\nbooster = {gain = 3}\n",
            "pedal.booster.run_out",
            "64 bar",
            "[pedal]\nbooster = {gain = 3, run_out = \"64 bar\"}\n",
        ),
        // With dots.
        (
            "format = 1\npedal.ratio = 4\n[air]\n",
            "pedal.efficiency",
            "0.9",
            "format = 1\npedal.ratio = 4\npedal.efficiency = 0.9\n[air]\n",
        ),
        (
            "[front_brake]\npad.friction = 0.4\nkind = \"disc\"\n",
            "front_brake.pad.thickness",
            "9 mm",
            "[front_brake]\npad.friction = 0.4\npad.thickness = \"9 mm\"\nkind = \"disc\"\n",
        ),
        (
            "front_brake = { pad.friction = 0.4 }\n",
            "front_brake.pad.thickness",
            "9 mm",
            "front_brake = { pad.friction = 0.4, pad.thickness = \"9 mm\" }\n",
        ),
        // A table that is not there yet.
        (
            "[pedal]\nratio = 4\n",
            "pedal.booster.gain",
            "3",
            "[pedal]\nratio = 4\nbooster = { gain = 3 }\n",
        ),
        (
            "format = 1\n",
            "fluid.boiling.dry",
            "260 C",
            "format = 1\n\n[fluid]\nboiling = { dry = \"260 C\" }\n",
        ),
        (
            "format = 1",
            "air.rear",
            "1 cm3",
            "format = 1\n\n[air]\nrear = \"1 cm3\"\n",
        ),
        ("", "air.rear", "1 cm3", "[air]\nrear = \"1 cm3\"\n"),
        (
            "\u{feff}",
            "air.rear",
            "1 cm3",
            "\u{feff}[air]\nrear = \"1 cm3\"\n",
        ),
        (
            "[load.crew]\nmass = \"90 kg\"\n",
            "load.tank.capacity",
            "40 L",
            "[load.crew]\nmass = \"90 kg\"\n\n[load.tank]\ncapacity = \"40 L\"\n",
        ),
        (
            "[weighed.cg_raise]\nby = \"0.4 m\"\n",
            "weighed.front",
            "700 kg",
            "[weighed.cg_raise]\nby = \"0.4 m\"\n\n[weighed]\nfront = \"700 kg\"\n",
        ),
        // At the top.
        (
            "\u{feff}# note\n[car]\n",
            "format",
            "1",
            "\u{feff}# note\nformat = 1\n[car]\n",
        ),
        ("# note", "format", "1", "# note\nformat = 1\n"),
        // A new entry.
        (
            "[[surface]]\nname = \"a\" # x\n\n[air]\n",
            "surface[2].name",
            "b",
            "[[surface]]\nname = \"a\" # x\n[[surface]]\nname = \"b\"\n\n[air]\n",
        ),
        (
            "[load]\nitem = [{ name = \"a\" }]\n",
            "load.item[2].name",
            "b",
            "[load]\nitem = [{ name = \"a\" }, { name = \"b\" }]\n",
        ),
        (
            "[air]\n",
            "measured.pull[1].on",
            "2026-04-02",
            "[air]\n\n[[measured.pull]]\non = 2026-04-02\n",
        ),
        // A value where a table stands, and the other way round.
        (
            "[bias_valve]\nknee = { at_fewest = \"8 bar\" } # old\n",
            "bias_valve.knee",
            "30 bar",
            "[bias_valve]\nknee = \"30 bar\" # old\n",
        ),
        (
            "[bias_valve]\nknee = \"30 bar\" # old\n",
            "bias_valve.knee.at_fewest",
            "8 bar",
            "[bias_valve]\nknee = { at_fewest = \"8 bar\" } # old\n",
        ),
    ] {
        assert_eq!(set(sheet, path, value), wanted, "{path} into {sheet:?}");
    }
}

#[test]
fn a_key_goes_with_its_line_and_the_comment_on_it() {
    for (sheet, path, wanted) in [
        (
            "[pedal]\n# above\nratio = 4 # on it\n# below\nefficiency = 0.9\n",
            "pedal.ratio",
            "[pedal]\n# above\n# below\nefficiency = 0.9\n",
        ),
        ("[pedal]\r\nratio = 4\r\n", "pedal.ratio", "[pedal]\r\n"),
        ("[pedal]\nratio = 4", "pedal.ratio", "[pedal]\n"),
        ("\u{feff}format = 1\n", "format", "\u{feff}"),
        (
            "pedal.ratio = 4\npedal.efficiency = 0.9\n",
            "pedal.ratio",
            "pedal.efficiency = 0.9\n",
        ),
        (
            "[car]\nruns_on = [ # many\n  \"a\",\n]  # end\nabs = \"none\"\n",
            "car.runs_on",
            "[car]\nabs = \"none\"\n",
        ),
        (
            "[pedal]\nbooster = { gain = 3, run_out = \"64 bar\" } # x\n",
            "pedal.booster.gain",
            "[pedal]\nbooster = { run_out = \"64 bar\" } # x\n",
        ),
        (
            "[pedal]\nbooster = { gain = 3, run_out = \"64 bar\" } # x\n",
            "pedal.booster.run_out",
            "[pedal]\nbooster = { gain = 3 } # x\n",
        ),
        (
            "[pedal]\nbooster = { gain = 3 } # x\nratio = 4\n",
            "pedal.booster.gain",
            "[pedal]\nratio = 4\n",
        ),
        (
            "front_brake = { pad = { friction = 0.4 }, kind = \"disc\" }\n",
            "front_brake.pad.friction",
            "front_brake = { kind = \"disc\" }\n",
        ),
        (
            "front_brake = { pad.friction = 0.4, kind = \"disc\" }\n",
            "front_brake.pad.friction",
            "front_brake = { kind = \"disc\" }\n",
        ),
        // Whole tables.
        (
            "[air]\nrear = \"1 cm3\"\n# note\n\n# of the valve\n[bias_valve]\nkind = \"fixed\"\n",
            "air",
            "# of the valve\n[bias_valve]\nkind = \"fixed\"\n",
        ),
        (
            "[lever]\nkind = \"cable\"\n[air]\n[lever.cable]\nratio = 20\n",
            "lever",
            "[air]\n",
        ),
        (
            "[pedal]\nratio = 4\nbooster = { gain = 3 }\n",
            "pedal.booster",
            "[pedal]\nratio = 4\n",
        ),
        (
            "pedal.ratio = 4\nair.rear = \"1 cm3\"\npedal.efficiency = 0.9\n",
            "pedal",
            "air.rear = \"1 cm3\"\n",
        ),
        (
            "[[surface]]\nname = \"a\"\n[[surface]]\nname = \"b\"\n[air]\n",
            "surface[1]",
            "[[surface]]\nname = \"b\"\n[air]\n",
        ),
        (
            "[[surface]]\nname = \"a\"\n[[surface]]\nname = \"b\"\n[air]\n",
            "surface[2]",
            "[[surface]]\nname = \"a\"\n[air]\n",
        ),
    ] {
        assert_eq!(without(sheet, path), wanted, "{path} out of {sheet:?}");
    }
}

#[test]
fn what_cannot_be_written_or_taken_out_is_told() {
    let slug = |result: Result<String, sheet::Problem>| result.unwrap_err().slug();
    assert_eq!(slug(splice(FULL, "lever.boar", "3 mm")), "unknown-key");
    assert_eq!(slug(splice(FULL, "lever", "3 mm")), "not-a-key");
    assert_eq!(slug(splice(FULL, "lever.bore", "")), "no-value");
    assert_eq!(
        slug(splice(FULL, "lever.bore", "70 bar")),
        "quantity-wrong-dimension"
    );
    assert_eq!(slug(splice(FULL, "load.item[9].mass", "3 kg")), "no-such-entry");
    assert_eq!(slug(cut(FULL, "lever.rear_seal")), "not-there");
    assert_eq!(slug(cut(FULL, "lever_brake")), "not-a-key");
    let problem = splice(FULL, "lever.bore", "15.9 mn").unwrap_err();
    assert_eq!((problem.line, problem.column), (1, 6));
    // Where the lines around it do not read, nothing is touched.
    assert_eq!(
        slug(splice("[lever]\nbore: 3\n", "lever.bore", "5/8 in")),
        "cannot-edit"
    );
}

#[test]
fn a_table_gives_way_to_the_value_that_stands_for_all_of_it() {
    assert_eq!(
        set(
            "[bias_valve]\n[bias_valve.knee]\nat_most = \"9 bar\"\n",
            "bias_valve.knee",
            "3 bar"
        ),
        "[bias_valve]\nknee = \"3 bar\"\n"
    );
}

#[test]
fn a_fault_elsewhere_does_not_stop_an_edit() {
    let sheet = "[car]\nname = 3\ncolour = \"red\"\n[lever]\nbore = \"5/8 mn\" # x\n[air\n";
    let wanted = sheet.replace("\"5/8 mn\"", "\"5/8 in\"");
    assert_eq!(set(sheet, "lever.bore", "5/8 in"), wanted);
}

/// The full sheet with another look: line ends, a mark at the start, blanks at the ends of lines, headers for tables in
/// brackets.
fn looks() -> Vec<String> {
    let mut headers = String::new();
    let mut behind = String::new();
    for line in FULL.lines() {
        if line.starts_with('[') {
            headers.push_str(&core::mem::take(&mut behind));
            headers.push_str("\n# before a header  \n");
        }
        headers.push_str(line);
        headers.push_str("  \t\n");
        behind.push_str(if line.starts_with("[air]") {
            "# behind\n"
        } else {
            ""
        });
    }
    vec![
        FULL.to_owned(),
        FULL.replace('\n', "\r\n"),
        format!("\u{feff}{FULL}"),
        headers,
        FULL.trim_end().to_owned(),
    ]
}

/// Whether an override may stand for it: not for what tells how a sheet is read.
fn is_a_figure(slot: &Slot) -> bool {
    slot.path() != "format"
}

/// Whether a key can be added to a sheet: neither it nor a table or value in its place is there.
fn is_new(sheet: &Inputs, slot: Slot) -> bool {
    let path = slot.path();
    let above = path.rsplit_once('.').and_then(|(table, _)| slot_of(table));
    sheet.get(slot).is_none()
        && !sheet.has_table(&path)
        && above.is_none_or(|above| sheet.get(above).is_none())
}

proptest! {
    #![proptest_config(crate::cases())]

    /// Any value that stands on a sheet can be replaced, and nothing else changes.
    #[test]
    fn replacing_touches_the_value_alone(look in 0_usize..5, pick in any::<u32>(), which in any::<prop::sample::Index>()) {
        let sheet = &looks()[look];
        let before = sheet::read(sheet.as_bytes(), "car.toml");
        let slots: Vec<Slot> = before.inputs.slots().map(|(slot, _)| slot).filter(is_a_figure).collect();
        let slot = slots[which.index(slots.len())];
        let value = typed(slot, pick);
        let edited = set(sheet, &slot.path(), &value);
        let span = before.places.value(slot).unwrap().value.clone();
        prop_assert_eq!(&edited[..span.start], &sheet[..span.start]);
        prop_assert!(edited.ends_with(&sheet[span.end..]));
        let after = inputs(&edited);
        let mut wanted = before.inputs.clone();
        sheet::override_key(&mut wanted, &format!("{}={value}", slot.path())).unwrap();
        prop_assert!(wanted.slots().eq(after.slots()), "{} = {}", slot.path(), value);
    }

    /// Any key can be written into a sheet that does not have it; taken out again, the sheet says what it did before.
    #[test]
    fn what_is_written_can_be_taken_out(look in 0_usize..5, pick in any::<u32>(), which in any::<prop::sample::Index>()) {
        let sheet = &looks()[look];
        let before = inputs(sheet);
        let slots: Vec<Slot> = KeyId::all()
            .map(|key| {
                let group = key.key().path.split_once("[]").map(|(group, _)| group);
                Slot { key, entry: group.map_or(0, |group| before.entries(group)) }
            })
            .filter(|slot| is_a_figure(slot) && is_new(&before, *slot))
            .collect();
        let slot = slots[which.index(slots.len())];
        let path = slot.path();
        let value = typed(slot, pick);
        let edited = set(sheet, &path, &value);
        let kept: Vec<&str> = sheet.lines().collect();
        let found = edited.lines().filter(|line| kept.contains(line)).count();
        prop_assert!(found + 1 >= kept.len(), "more than one line changed:\n{}", difference(sheet, &edited));
        let mut wanted = before.clone();
        sheet::override_key(&mut wanted, &format!("{path}={value}")).unwrap();
        prop_assert!(wanted.slots().eq(inputs(&edited).slots()));
        let again = without(&edited, &path);
        prop_assert!(before.slots().eq(inputs(&again).slots()));
    }

    /// Any key can be taken out, and the others stay.
    #[test]
    fn taking_out_touches_one_key(look in 0_usize..5, which in any::<prop::sample::Index>()) {
        let sheet = &looks()[look];
        let before = inputs(sheet);
        let slots: Vec<Slot> = before.slots().map(|(slot, _)| slot).collect();
        let slot = slots[which.index(slots.len())];
        let edited = without(sheet, &slot.path());
        let after = inputs(&edited);
        prop_assert!(before.slots().filter(|(other, _)| *other != slot).eq(after.slots()));
        let removed = sheet.len() - edited.len();
        prop_assert!(removed <= sheet.lines().map(str::len).max().unwrap() + 4);
    }

    /// Whatever the sheet and the value, an edit gives a sheet that says so, or a reason.
    #[test]
    fn no_edit_panics(sheet in "(\\PC|\n|\\[lever\\]|bore = |\\{|\\}|\"){0,40}", path in prop::sample::select(crate::overrides_pool()), value in "\\PC{0,12}") {
        let _ = splice(&sheet, &path, &value);
        let _ = cut(&sheet, &path);
    }
}

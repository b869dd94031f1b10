//! Each kind of fault, as it is told. Every snapshot was read by a person before it was kept.

use insta::assert_snapshot;

use crate::{FULL, told, with_line};

/// What is told of the full sheet with one line changed.
fn changed(old: &str, new: &str) -> String {
    told(&with_line(old, new))
}

const RATIO: &str = "ratio      = 4.3";
const BORE: &str = "bore     = \"5/8 in\"";
const CLIPS: &str = "rear_clips = 7";
const FITTED: &str = "fitted = 2026-03-14";
const AIR: &str = "rear = \"0 cm3\"";
const BUILD: &str = "build = \"all-wheel-drive saloon on long springs\"";

#[test]
fn names() {
    assert_snapshot!("unknown_key", changed(BORE, "boar     = \"5/8 in\""));
    assert_snapshot!(
        "unknown_key_elsewhere",
        changed(RATIO, "ratio = 4.3\nbore = \"1 in\"")
    );
    assert_snapshot!(
        "unknown_key_nowhere",
        changed(RATIO, "ratio = 4.3\ncolour = \"red\"")
    );
    assert_snapshot!(
        "unknown_key_at_the_top",
        changed("format = 2", "format = 2\nwheelbase = \"2.6 m\"")
    );
    assert_snapshot!(
        "unknown_key_cut_short",
        changed("wheel_inertia  = \"1.1 kg m2\"", "wheel = \"1.1 kg m2\"")
    );
    assert_snapshot!(
        "unknown_key_below_a_header_that_is_commented_out",
        changed(
            RATIO,
            "ratio = 4.3\n#[load.tank]\n# What a full tank holds.\ncapacity = \"40 L\""
        )
    );
    assert_snapshot!("unknown_table", changed("[tyres]", "[tires]"));
    assert_snapshot!(
        "unknown_table_nowhere",
        changed(AIR, "rear = \"0 cm3\"\n[sponsors]\nmain = \"none\"")
    );
    assert_snapshot!("twice", changed(RATIO, "ratio = 4.3\nratio = 4.4"));
    assert_snapshot!(
        "table_twice",
        changed(AIR, "rear = \"0 cm3\"\n[car]\nname = \"Other\"")
    );
    assert_snapshot!(
        "complete",
        changed(AIR, "rear = \"0 cm3\"\n[pedal.booster]\ngain = 2")
    );
}

#[test]
fn tables() {
    assert_snapshot!(
        "value_for_table",
        changed(
            "boiling = { dry = \"260 C\", wet = \"165 C\" }",
            "boiling = \"260 C\""
        )
    );
    assert_snapshot!(
        "number_for_table",
        changed(
            "booster    = { gain = 3.8, run_out = \"64 bar\" }",
            "booster = 3.8"
        )
    );
    assert_snapshot!("single_brackets", changed("[[surface]]", "[surface]"));
    assert_snapshot!("double_brackets", changed("[pedal]", "[[pedal]]"));
    assert_snapshot!("table_for_value", changed(RATIO, "ratio = { is = 4.3 }"));
    assert_snapshot!(
        "entries_that_are_no_tables",
        told("[load]\nitem = [\"wheel\", 3, { name = \"jack\" }]\n")
    );
}

#[test]
fn types() {
    assert_snapshot!("number_for_quantity", changed(BORE, "bore = 15.9"));
    assert_snapshot!("list_for_quantity", changed(BORE, "bore = [\"5/8 in\"]"));
    assert_snapshot!("flag_for_quantity", changed(BORE, "bore = true"));
    assert_snapshot!("text_for_flag", changed("latch    = false", "latch = \"no\""));
    assert_snapshot!("number_for_flag", changed("latch    = false", "latch = 1"));
    assert_snapshot!("number_for_text", changed(BUILD, "build = 1998"));
    assert_snapshot!(
        "text_for_texts",
        changed("air = [\"18 C\", \"17 C\"]", "air = \"18 C\"")
    );
    assert_snapshot!("text_for_count", changed(CLIPS, "rear_clips = \"7\""));
    assert_snapshot!("negative_count", changed(CLIPS, "rear_clips = -7"));
    assert_snapshot!("fractional_count", changed(CLIPS, "rear_clips = 7.5"));
    assert_snapshot!("large_count", changed(CLIPS, "rear_clips = 99999999999"));
    assert_snapshot!("quoted_day", changed(FITTED, "fitted = \"2026-03-14\""));
    assert_snapshot!("day_in_another_order", changed(FITTED, "fitted = 14.03.2026"));
    assert_snapshot!("impossible_day", changed(FITTED, "fitted = 2026-02-30"));
    assert_snapshot!(
        "day_with_a_time",
        changed(FITTED, "fitted = 2026-03-14T10:00:00Z")
    );
    assert_snapshot!("time_alone", changed(FITTED, "fitted = 10:00:00"));
}

#[test]
fn quantities_and_words() {
    assert_snapshot!("wrong_dimension", changed(BORE, "bore = \"70 bar\""));
    assert_snapshot!("no_unit", changed(BORE, "bore = \"15.9\""));
    assert_snapshot!(
        "unknown_unit_behind_an_escape",
        changed(BORE, "bore = \"15\\u002e9 mn ± 1 mm\"")
    );
    assert_snapshot!("comma", changed(BORE, "bore = \"1,000 mm\""));
    assert_snapshot!("tolerance", changed(RATIO, "ratio = \"4.3 ± x\""));
    assert_snapshot!("not_finite", changed(RATIO, "ratio = inf"));
    assert_snapshot!("guess_without_default", changed(BORE, "bore = \"guess\""));
    assert_snapshot!(
        "guess_in_a_list",
        changed("air = [\"18 C\", \"17 C\"]", "air = [\"18 C\", \"guess\"]")
    );
    assert_snapshot!("to_fill_in", changed(BORE, "bore = \"… mm\""));
    assert_snapshot!("word", changed("grade = \"DOT 4\"", "grade = \"DOT4\""));
    assert_snapshot!(
        "word_far_off",
        changed("grade = \"DOT 4\"", "grade = \"olive oil\"")
    );
}

#[test]
fn lists_and_texts() {
    let points = "points = [[\"100 N\", \"19 bar\"], [\"200 N\", \"38 bar\"]]";
    assert_snapshot!("empty_list", changed(points, "points = []"));
    assert_snapshot!("flat_rows", changed(points, "points = [\"100 N\", \"19 bar\"]"));
    assert_snapshot!(
        "rows",
        changed(
            points,
            "points = [[\"100 N\"], [\"200 N\", \"38 bar\", 3], [1, \"38 N\"], 4]"
        )
    );
    assert_snapshot!("empty_text", changed(BUILD, "build = \"  \""));
    assert_snapshot!("unseen", changed(BUILD, "build = \"saloon\\u202eevil\""));
    assert_snapshot!(
        "long_text",
        changed(BUILD, &format!("build = \"{}\"", "saloon ".repeat(60)))
    );
    let name = "name = \"jack and tools\"";
    assert_snapshot!(
        "long_name",
        changed(name, &format!("name = \"{}\"", "x".repeat(81)))
    );
}

#[test]
fn toml() {
    assert_snapshot!("no_quotes", changed(BORE, "bore = 5/8 in"));
    assert_snapshot!(
        "no_quotes_wrong_unit",
        changed(BORE, "bore = 5 bar # not pressure")
    );
    assert_snapshot!("no_value", changed(BORE, "bore ="));
    assert_snapshot!("no_equals", changed(BORE, "bore \"5/8 in\""));
    assert_snapshot!("word_alone", changed(BORE, "bore"));
    assert_snapshot!("colon", changed(BORE, "bore: \"5/8 in\""));
    assert_snapshot!("two_words", changed(BORE, "lever bore = \"5/8 in\""));
    assert_snapshot!("open_quotes", changed(BORE, "bore = \"5/8 in"));
    assert_snapshot!("curved_quotes", changed(BORE, "bore = “5/8 in”"));
    assert_snapshot!("open_block", changed(BORE, "bore = \"\"\"5/8 in"));
    assert_snapshot!("decimal_comma", changed(RATIO, "ratio = 4,3"));
    assert_snapshot!("flag_in_capitals", changed("latch    = false", "latch = False"));
    assert_snapshot!("flag_as_a_word", changed("latch    = false", "latch = no"));
    assert_snapshot!("escape", changed(BUILD, "build = \"C:\\qars\""));
    assert_snapshot!(
        "open_list",
        changed("air = [\"18 C\", \"17 C\"]", "air = [\"18 C\", \"17 C\"")
    );
    assert_snapshot!(
        "open_table",
        changed(
            "booster    = { gain = 3.8, run_out = \"64 bar\" }",
            "booster = { gain = 3.8, run_out = \"64 bar\""
        )
    );
    assert_snapshot!(
        "comma_missing",
        changed("air = [\"18 C\", \"17 C\"]", "air = [\"18 C\" \"17 C\"]")
    );
    assert_snapshot!(
        "comma_missing_in_table",
        changed(
            "booster    = { gain = 3.8, run_out = \"64 bar\" }",
            "booster = { gain = 3.8 run_out = \"64 bar\" }"
        )
    );
    assert_snapshot!(
        "wrong_bracket",
        changed("air = [\"18 C\", \"17 C\"]", "air = [\"18 C\", \"17 C\"}")
    );
    assert_snapshot!("header_open", changed("[pedal]", "[pedal"));
    assert_snapshot!("header_of_two_words", changed("[pedal]", "[foot pedal]"));
    assert_snapshot!("carriage_return", changed(BORE, "bore = \"5/8 in\"\rlatch = 3"));
}

#[test]
fn slips_of_the_pen() {
    assert_snapshot!("inch_sign_without_quotes", changed(BORE, "bore = 5/8\""));
    assert_snapshot!("quote_forgotten_in_front", changed(BORE, "bore = 5/8 in\""));
    assert_snapshot!("inch_sign_in_quotes", changed(BORE, "bore = \"5/8\"\""));
    assert_snapshot!("semicolon", changed(BORE, "bore = \"5/8 in\"; # old habit"));
    assert_snapshot!("two_equals", changed(BORE, "bore == \"5/8 in\""));
    assert_snapshot!("other_comment", changed(BORE, "bore = \"5/8 in\" // bought"));
    assert_snapshot!("point_in_front", changed(RATIO, "ratio = .5e1"));
    assert_snapshot!("brackets_not_alike", changed("[pedal]", "[[pedal]"));
    assert_snapshot!("other_brackets", changed("[pedal]", "{pedal}"));
    assert_snapshot!("capitals", changed("[pedal]", "[Pedal]"));
    assert_snapshot!("name_of_the_table_again", changed(RATIO, "pedal.ratio = 4.3"));
}

#[test]
fn what_is_missing() {
    let without = |lines: &[&str]| {
        let kept: Vec<&str> = FULL
            .lines()
            .filter(|line| !lines.iter().any(|gone| line.starts_with(gone)))
            .collect();
        told(&kept.join("\n"))
    };
    assert_snapshot!(
        "missing_keys",
        without(&["wheelbase", "format", "rolling_radius", "name = \"jack"])
    );
    assert_snapshot!(
        "missing_table",
        without(&["[pedal]", "ratio      = 4.3", "efficiency = 0.90", "booster"])
    );
    assert_snapshot!("nothing_but_a_name", told("[car]\nname = \"Fjell\"\n"));
}

#[test]
fn arrangements_that_cannot_be() {
    let raised = "cg_height   = \"0.53 m ± 0.04 m\"\ncg_raise = { lifted = \"rear\", by = \"0.45 m\", front_gains = \"19.5 kg\" }";
    assert_snapshot!(
        "two_heights",
        changed("cg_height   = \"0.53 m ± 0.04 m\"", raised)
    );
    let twin = FULL
        .replace(
            "kind  = \"tandem\"\nbore  = \"1 in\"",
            "kind  = \"twin\"\nfront_bore = \"18 mm\"\nrear_bore = \"18 mm\"",
        )
        .replace("split = \"axle\"", "split = \"diagonal\"");
    assert_snapshot!("twin_and_diagonal", told(&twin));
    assert_snapshot!(
        "absurd",
        told(
            &FULL
                .replace("ratio      = 4.3", "ratio = -4.3")
                .replace("wheelbase   = \"2.61 m\"", "wheelbase = \"2610 m\"")
                .replace("friction = \"0.43 ± 0.04\"", "friction = 4.2")
                .replace("effective_radius = \"118 mm\"", "effective_radius = \"250 mm\"")
        )
    );
}

#[test]
fn a_fault_draws_no_others_after_it() {
    // A radius that cannot be read is not said to be missing, nor are the pad edges that might stand in its place.
    for (old, new) in [
        ("effective_radius = \"127 mm\"", "pad_edges = [\"104 mm\", 150]"),
        (
            "cg_height   = \"0.53 m ± 0.04 m\"",
            "cg_raise = { lifted = \"rear\", by = \"0.45 bar\", front_gains = \"19.5 kg\" }",
        ),
        ("rolling_radius = \"0.312 m\"", "rolling_radius: \"0.312 m\""),
        ("[master]", "[master"),
        ("kind  = \"tandem\"", "kind  = \"tandom\""),
        (
            "knee    = { at_fewest = \"8 bar\", at_most = \"65 bar\", turns = 5.0 }",
            "knee = { at_fewest = \"8 bar\", at_most = \"65 bar\" turns = 5.0 }",
        ),
        (
            "caliper = { layout = \"opposed\", pistons = [\"41.3 mm\", \"36.5 mm\"] }",
            "caliper = { layout = \"opposed\", pistons = [\"41.3 mm\", \"36.5 mm\" }",
        ),
        (
            "[weighed]                                    # borrowed scales, level floor",
            "[wieghed]",
        ),
    ] {
        let read = sheet::read(with_line(old, new).as_bytes(), "car.toml");
        let problems = read.assemble().unwrap_err();
        assert_eq!(problems.count(), 1, "{new}:\n{problems}");
    }
}

#[test]
fn what_follows_a_bracket_left_open_is_still_checked() {
    let sheet = FULL
        .replace(
            "pistons = [\"41.3 mm\", \"36.5 mm\"] }",
            "pistons = [\"41.3 mm\", \"36.5 mm\"",
        )
        .replace("grade = \"DOT 4\"", "grade = \"DOT 9\"")
        .replace("rear_clips = 7", "rear_clips");
    let problems = sheet::read(sheet.as_bytes(), "car.toml").assemble().unwrap_err();
    let slugs: Vec<&str> = problems.shown().iter().map(sheet::Problem::slug).collect();
    assert_eq!(
        slugs,
        ["toml-unclosed-bracket", "unknown-word", "toml-no-equals"],
        "{problems}"
    );
}

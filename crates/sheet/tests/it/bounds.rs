//! Sheets that are no sheets, too large, too deep, too many.

use insta::assert_snapshot;
use sheet::{MAX_BYTES, MOST_SHOWN, Problem, Problems};

use crate::FULL;

fn problems(bytes: &[u8]) -> Problems {
    match sheet::assemble(bytes, "car.toml") {
        Ok(_) => panic!("it was read"),
        Err(problems) => problems,
    }
}

fn slugs(bytes: &[u8]) -> Vec<&'static str> {
    problems(bytes).shown().iter().map(Problem::slug).collect()
}

#[test]
fn what_is_no_sheet() {
    for nothing in [&b""[..], b"\n\n", b"# only a note\n", b"\xef\xbb\xbf", b" \t\r\n"] {
        assert_eq!(slugs(nothing), ["file-empty"], "{nothing:?}");
    }
    let utf_16: Vec<u8> = [0xfeff_u16]
        .into_iter()
        .chain("format = 1".encode_utf16())
        .flat_map(u16::to_le_bytes)
        .collect();
    assert_eq!(slugs(&utf_16), ["file-utf-16"]);
    assert_eq!(slugs(b"\x00\x01\x02 format = 1"), ["file-not-text"]);
    let noise: Vec<u8> = (0..4000_u32)
        .map(|at| (at.wrapping_mul(2_654_435_761) >> 24) as u8 | 0x80)
        .collect();
    assert_eq!(slugs(&noise), ["file-not-text"]);
    assert_snapshot!("no_sheet", problems(b"").to_string());
}

#[test]
fn bytes_that_are_not_utf_8_are_shown_and_the_rest_is_checked() {
    let mut bytes = FULL
        .replace("grade = \"DOT 4\"", "grade = \"DOT 9\"")
        .into_bytes();
    let sign = "764 kg ± 4 kg";
    let at = bytes
        .windows(sign.len())
        .position(|window| window == sign.as_bytes())
        .unwrap();
    bytes.splice(at + 7..at + 9, [0xb1]);
    assert_snapshot!("old_encoding", problems(&bytes).to_string());
}

#[test]
fn a_sheet_is_refused_by_its_size_before_it_is_read() {
    let mut large = FULL.as_bytes().to_vec();
    large.resize(MAX_BYTES, b' ');
    assert!(sheet::assemble(&large, "car.toml").is_ok());
    large.push(b' ');
    assert_eq!(slugs(&large), ["file-too-large"]);
    large.resize(50_000_000, b'=');
    assert_eq!(slugs(&large), ["file-too-large"]);
}

#[test]
fn a_hundred_faults_are_all_told() {
    let sheet: String = (0..100)
        .map(|at| {
            format!("[[load.item]]\nname = \"item {at}\"\nmass = \"{at} bar\"\naft_of_front_axle = \"1 m\"\n")
        })
        .collect();
    let problems = sheet::read(sheet.as_bytes(), "car.toml").problems();
    assert_eq!(problems.count(), 100);
    for (at, problem) in problems.shown().iter().enumerate() {
        assert_eq!((problem.line, problem.column), (4 * at + 3, 9));
        assert_eq!(
            problem.key.as_deref(),
            Some(format!("load.item[{}].mass", at + 1).as_str())
        );
    }
}

#[test]
fn of_thousands_the_first_are_shown_and_all_are_counted() {
    let sheet: String = (0..9000)
        .map(|at| format!("[[load.item]]\nmass = \"{at} bar\"\n"))
        .collect();
    let problems = sheet::read(sheet.as_bytes(), "car.toml").problems();
    assert_eq!((problems.shown().len(), problems.more()), (MOST_SHOWN, 8000));
    let lines: Vec<usize> = problems.shown().iter().map(|problem| problem.line).collect();
    assert_eq!(lines, (1..=MOST_SHOWN).map(|at| 2 * at).collect::<Vec<_>>());
    assert!(problems.to_string().ends_with("\n\nand 8000 more"));
    // The same for what the parser finds.
    let sheet = "bore: 3\n".repeat(5000);
    let problems = sheet::read(sheet.as_bytes(), "car.toml").problems();
    assert_eq!((problems.shown().len(), problems.more()), (MOST_SHOWN, 4000));
}

#[test]
fn depth() {
    for (open, close) in [("[", "]"), ("{a=", "}")] {
        let deep = format!(
            "[lever]\nbore = {}{}\nkind = \"inline\"\n[car]\nabs = \"non\"\n",
            open.repeat(50_000),
            close.repeat(50_000)
        );
        let found = slugs(deep.as_bytes());
        assert!(
            found.contains(&"toml-too-deep") && found.contains(&"unknown-word"),
            "{found:?}"
        );
        let open_ended = format!("[lever]\nbore = {}\n[car]\nabs = \"non\"\n", open.repeat(50_000));
        assert!(slugs(open_ended.as_bytes()).contains(&"toml-too-deep"));
    }
    let dotted = format!(
        "{}bore = 1\n[{}lever]\n",
        "lever.".repeat(50_000),
        "a.".repeat(50_000)
    );
    assert!(slugs(dotted.as_bytes()).contains(&"toml-not-a-key"));
}

#[test]
fn long_lists_and_many_entries_are_refused() {
    let members = "\"41 mm\", ".repeat(100_000);
    assert_eq!(
        slugs(FULL.replace("\"41.3 mm\", ", &members).as_bytes()),
        ["too-many"]
    );
    let entries = "[[measured.soak]]\nfrom = \"50 bar\"\n".repeat(20_000);
    let found = sheet::read(format!("format = 1\n{entries}").as_bytes(), "car.toml");
    assert_eq!(found.inputs.entries("measured.soak"), sheet::MOST_MEMBERS);
    assert_eq!(found.problems().shown()[0].slug(), "too-many");
}

/// Fifty surfaces are read; the fifty-first is pointed at, and the first fifty stay.
#[test]
fn more_than_fifty_surfaces_are_refused() {
    let text = |count: usize| {
        let surfaces: String = (1..=count)
            .map(|number| {
                format!(
                    "[[surface]]\nname = \"stage {number}\"\ngrip = 0.5\nslip_at_peak = 0.3\nslide_over_peak = 0.9\nstiffness = 5.0\n"
                )
            })
            .collect();
        format!("{FULL}\n{surfaces}")
    };
    let there = sheet::read(FULL.as_bytes(), "car.toml").inputs.entries("surface");
    let full = text(50 - there);
    let found = sheet::read(full.as_bytes(), "car.toml");
    assert_eq!(found.inputs.entries("surface"), 50);
    assert_eq!(found.problems().count(), 0, "{:?}", found.problems());
    let over = text(51 - there);
    let found = sheet::read(over.as_bytes(), "car.toml");
    assert_eq!(found.inputs.entries("surface"), 50);
    let problems = found.problems();
    let [problem] = problems.shown() else {
        panic!("{problems:?}");
    };
    assert_eq!(problem.slug(), "too-many");
    let line = over.lines().count() - 5;
    let said = problem.to_string();
    assert!(
        said.contains(&format!("car.toml:{line}:")) && said.contains("51") && said.contains("50"),
        "{said}"
    );
}

/// A byte of zero in an otherwise sound file is one error that names its line, and every other line is read.
#[test]
fn a_nul_names_its_line() {
    let name = "name  = \"Fjell Proto\"";
    let before = FULL.split_once(name).unwrap().0;
    let line = before.lines().count() + 1;
    for broken in ["name  = \"Fjell\0 Proto\"", "name  = \"Fjell Proto\"\0"] {
        let problems = sheet::read(FULL.replace(name, broken).as_bytes(), "car.toml").problems();
        let said = problems.shown()[0].to_string();
        assert!(said.contains(&format!("car.toml:{line}:")), "{said}");
        assert!(problems.count() <= 2, "{problems:?}");
    }
}

/// A few megabytes of signs would take hundreds in memory: where so many end, one fault says so on its line, nothing
/// else is said, and no edit is made.
#[test]
fn more_signs_than_any_sheet_has_are_one_fault() {
    let most = sheet::MOST_SIGNS;
    let of_signs = "=".repeat(MAX_BYTES - 9);
    let lines = "=\n".repeat(MAX_BYTES / 2);
    for (text, place) in [
        (format!("format=2\n{of_signs}"), (2, most - 3)),
        (lines.clone(), (most / 2 + 1, 1)),
    ] {
        let found = problems(text.as_bytes());
        let [problem] = found.shown() else {
            panic!("{} problems", found.count());
        };
        assert_eq!(
            (problem.slug(), problem.line, problem.column),
            ("toml-too-many-signs", place.0, place.1)
        );
        assert!(sheet::splice(&text, "car.name", "x").is_err());
        assert_eq!(sheet::upgrade(&text, "car.toml").unwrap_err().line, place.0);
    }
    assert_eq!(sheet::stage(lines.as_bytes(), "a.toml").unwrap_err().count(), 1);
    assert_eq!(sheet::price_list(&lines).unwrap_err()[0].line, most / 2 + 1);
    assert!(
        sheet::preference(&lines, "units")
            .unwrap_err()
            .contains(&format!("line {}:", most / 2 + 1))
    );
    // Its positive twin: comments are one sign a line, and a large sheet with them is read.
    let noted = format!(
        "{FULL}{}",
        format!("# {}\n", "nothing to see here ".repeat(15)).repeat(10_000)
    );
    assert!(sheet::assemble(noted.as_bytes(), "car.toml").is_ok());
}

#[test]
fn brackets_that_never_end_do_not_take_for_ever() {
    // As many as are read at all.
    let many = |line: &str| line.repeat(380_000 / line.len());
    for hostile in [
        many("a = [\n"),
        many("a = {\n"),
        many("a = {\n b = 1,\n"),
        many("a = \"\"\"\n"),
        many("a = '''\n# '''\n"),
        many("]\n"),
        many("= = =\n"),
        many("[a\n"),
        many("a.b.c = 1\n"),
        many("[[load.item]]\n"),
        many("\u{1}"),
        many("\r"),
        format!("a = {}", many("\u{1}x ")),
        format!("a = [{}", many("\"x\" ")),
    ] {
        let problems = sheet::read(hostile.as_bytes(), "car.toml").problems();
        assert!(problems.shown().len() <= MOST_SHOWN);
    }
}

#[test]
fn long_lines_are_quoted_round_the_place() {
    let line = format!(
        "name = \"{}\", colour = 3, odd = \"{}\"",
        "ä\t漢".repeat(400),
        "more ".repeat(300)
    );
    let problems = sheet::read(format!("load.crew = {{ {line} }}\n").as_bytes(), "car.toml").problems();
    assert_eq!(problems.count(), 3);
    for problem in problems.shown() {
        let shown = problem.shown(sheet::Styles::plain()).to_string();
        let lines: Vec<&str> = shown.lines().collect();
        assert!(
            unicode_width::UnicodeWidthStr::width(lines[1]) <= 160 + "12345 | ".len(),
            "{shown}"
        );
        // The mark stands under the place, counted in columns.
        let mark = lines[2].find('^').unwrap();
        let under: String = lines[1]
            .chars()
            .scan(0, |columns, c| {
                let here = *columns;
                *columns += unicode_width::UnicodeWidthChar::width(c).unwrap_or(0);
                Some((here, c))
            })
            .skip_while(|&(column, _)| column < mark)
            .map(|(_, c)| c)
            .collect();
        let name = problem.key.as_ref().unwrap().strip_prefix("load.crew.").unwrap();
        assert!(under.starts_with(name), "{shown}");
    }
    assert_snapshot!("long_line", problems.to_string());
}

#[test]
fn what_cannot_be_seen_is_made_visible() {
    let sheet = "[car]\nname = \"a\u{7}b\"\nbuild = \"\u{202e}x\"\n\tabs\t=\t\"漢字\"\n";
    assert_snapshot!(
        "unseen_in_quotes",
        sheet::read(sheet.as_bytes(), "car.toml").problems().to_string()
    );
}

#[test]
fn colours_only_wrap_what_is_plain() {
    let problems = sheet::read(b"[car]\nabs = \"non\"\n", "car.toml").problems();
    let coloured = problems.shown_with(sheet::Styles::coloured()).to_string();
    assert!(coloured.contains("\u{1b}["));
    let mut plain = String::new();
    let mut rest = coloured.as_str();
    while let Some((before, code)) = rest.split_once("\u{1b}[") {
        plain.push_str(before);
        rest = code.split_once('m').unwrap().1;
    }
    plain.push_str(rest);
    assert_eq!(plain, problems.to_string());
}

/// Of thousands the first are shown, and told from each other; the rest is counted without a thought.
#[test]
fn keys_that_nobody_knows_are_counted_however_many() {
    let text: String = (0..12_000).map(|number| format!("x{number} = 1\n")).collect();
    let problems = sheet::read(text.as_bytes(), "car.toml").assemble().unwrap_err();
    assert_eq!(problems.shown().len(), MOST_SHOWN);
    let unknown = problems
        .shown()
        .iter()
        .filter(|problem| problem.slug() == "unknown-key")
        .count();
    assert_eq!(unknown, MOST_SHOWN);
    assert!(problems.count() >= 12_000, "{}", problems.count());
}

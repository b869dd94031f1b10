//! What stands in a book.

use std::fs;
use std::path::Path;
use std::sync::LazyLock;

use book::Paper;
use jiff::tz::Offset;
use manuscript::{Manuscript, Printed, Refused, text};
use questions::options::Said;
use questions::report::{Block, Section};
use questions::{Case, Question};
use records::logbook::{Data, Draft, EntryKind, Logbook, Stamp, WAIT};
use serde_json::Value;
use wording::Units;

use super::reader::{Read, day, demo, plain, printed};

/// What a word is high at least, in points: from the top of its font's letters to their bottom.
const LEAST: f64 = 5.8;

/// Read by most of the tests.
static TARN: LazyLock<Printed> = LazyLock::new(|| printed(demo(), "tarn", Paper::A4));

static LETTER: LazyLock<Printed> = LazyLock::new(|| printed(demo(), "tarn", Paper::Letter));

/// A car of which much is guessed.
static HALF_KNOWN: LazyLock<Printed> = LazyLock::new(|| printed(demo(), "half-known", Paper::A4));

/// A question of a demonstration car: its report and its machine-read result.
fn asked(question: &dyn Question) -> (questions::report::Report, Value) {
    let said = Said::default();
    let opened = questions::open(demo(), "tarn", question, &said, day()).unwrap();
    let case = Case {
        opened: &opened,
        said: &said,
        sampling: said.sampling(question.draws()).unwrap(),
        units: Units::default(),
        brief: false,
    };
    let answer = question.answer(&case).unwrap();
    (answer.report(), answer.result().unwrap())
}

#[test]
fn every_answer_stands_in_it_with_its_figures() {
    let text = Read::of(&TARN).text();
    let mut figures = 0;
    for name in [
        "assess", "balance", "settings", "lever", "turn", "heat", "hold", "lines", "plan", "prove", "pull",
    ] {
        let (report, _) = asked(questions::named(name).unwrap());
        let headline = &report.headline;
        for said in [&headline.stamp, &headline.because] {
            assert!(text.contains(&plain(said)), "{name}: {said}");
        }
        for figure in &headline.figures {
            figures += 1;
            assert!(
                text.contains(&plain(&figure.measured.value.text)),
                "{name}: {}",
                figure.name
            );
            if let Some(range) = &figure.measured.range {
                assert!(text.contains(&plain(&range.text)), "{name}: {}", range.text);
            }
        }
        // What is only offered on a screen is not printed.
        let printed = |section: &&Section| {
            section
                .blocks
                .iter()
                .any(|block| !matches!(block, Block::Choose(_)))
        };
        for section in report.sections.iter().filter(printed) {
            assert!(
                text.contains(&plain(&section.title)) || name == "pull",
                "{name}: {}",
                section.title
            );
        }
    }
    assert!(figures > 12, "{figures}");
}

/// The figures of the machine-read result, each within half of the last place that the book prints.
#[test]
fn printed_figures_are_those_of_the_machine_read_result() {
    let text = Read::of(&TARN).text();
    let (report, result) = asked(&questions::assess::Ask);
    let figures = &result["figures"];
    let names = report.headline.figures.iter().map(|figure| figure.name);
    let keys = [
        ("in_hand", "%", 1e2),
        ("hand_force_n", "N", 1.0),
        ("travel_m", "mm", 1e3),
    ];
    assert_eq!(names.len(), keys.len());
    for ((key, unit, factor), before) in keys.into_iter().zip(names) {
        let value = figures[key]["value"].as_f64().unwrap() * factor;
        let behind = text.split_once(before).unwrap().1;
        let said = behind
            .split(' ')
            .zip(behind.split(' ').skip(1))
            .find(|(number, of)| *of == unit && number.parse::<f64>().is_ok())
            .unwrap()
            .0;
        let printed: f64 = said.parse().unwrap();
        let digits = said.trim_end_matches('0');
        // What the last digit that is not a bare nought counts.
        let place = match said.split_once('.') {
            Some((_, behind)) => behind.chars().fold(1.0, |place, _| place / 10.0),
            None => said[digits.len()..].chars().fold(1.0, |place, _| place * 10.0),
        };
        assert!(
            (printed - value).abs() <= place / 2.0,
            "{key}: {said} {unit}, {value}"
        );
    }
}

#[test]
fn the_same_book_has_the_same_bytes_in_another_folder_and_other_paper_is_another() {
    let cars = tempfile::tempdir().unwrap();
    fs::create_dir_all(cars.path().join("tarn/stages")).unwrap();
    fs::copy(demo().join("tarn/car.toml"), cars.path().join("tarn/car.toml")).unwrap();
    for stage in fs::read_dir(demo().join("tarn/stages")).unwrap() {
        let stage = stage.unwrap();
        fs::copy(
            stage.path(),
            cars.path().join("tarn/stages").join(stage.file_name()),
        )
        .unwrap();
    }
    let again = printed(cars.path(), "tarn", Paper::A4);
    assert!(again.bytes == TARN.bytes, "the bytes differ");
    assert_ne!(LETTER.bytes, TARN.bytes);
    let info = Read::of(&LETTER).info();
    assert!(info.contains("(letter)"), "{info}");
}

#[test]
fn it_says_what_it_was_made_of() {
    assert!(book::is_ours(&TARN.bytes));
    let end = &TARN.bytes[TARN.bytes.len().saturating_sub(1024 * 1024)..];
    assert!(book::is_ours(end) && book::sheet_of(end).is_some());
    assert!(!book::is_ours(b"%PDF-1.7 /Creator(something else)"));
    let (_, result) = asked(&questions::assess::Ask);
    assert_eq!(
        book::sheet_of(&TARN.bytes).as_deref(),
        result["sheet_sha256"].as_str()
    );
    let read = Read::of(&TARN);
    let info = read.info();
    for wanted in [
        "Build book: Tarn 4",
        "rearline test",
        "Tagged:          yes",
        "(A4)",
    ] {
        assert!(info.contains(wanted), "{wanted} in {info}");
    }
    let pages = info.lines().find_map(|line| line.strip_prefix("Pages:")).unwrap();
    assert_eq!(pages.trim().parse(), Ok(TARN.pages));
    let fonts = read.fonts();
    let fonts: Vec<&str> = fonts.lines().skip(2).collect();
    assert!(fonts.len() > 2);
    let text = read.text();
    let (_, set_in) = text.rsplit_once("What it is set in").unwrap();
    for font in fonts {
        let columns: Vec<&str> = font.split_whitespace().collect();
        // Each is named on the page that says under which terms they come along.
        let (_, name) = columns[0].split_once('+').unwrap();
        let family = [
            ("LibertinusSerif", "Libertinus Serif"),
            ("DejaVuSansMono", "DejaVu Sans Mono"),
            ("NewCMMath", "New Computer Modern Math"),
        ]
        .into_iter()
        .find_map(|(begins, family)| name.starts_with(begins).then_some(family));
        let family = family.unwrap_or_else(|| panic!("{name}: whose terms?"));
        assert!(set_in.contains(family), "{family} in {set_in}");
        // From the right: object and generation, then unicode, subset, embedded.
        assert_eq!(
            columns[columns.len() - 5..columns.len() - 2],
            ["yes", "yes", "yes"],
            "{font}"
        );
    }
}

#[test]
fn the_scrutineer_has_two_pages_in_front() {
    let read = Read::of(&TARN);
    let two = read.pages(2, 3);
    for wanted in [
        "For the scrutineer",
        "Circuits and their independence",
        "What is not done",
        "Joints proved, and by whom",
    ] {
        assert!(two.contains(wanted), "{wanted}");
    }
    assert!(
        read.pages(4, 4).starts_with("Will it work"),
        "{}",
        read.pages(4, 4)
    );
}

/// What a reader of screens needs, as far as poppler tells it: the standard that the file names, its language, a head for
/// each line of the contents and none that skips a level, tables with heads. ISO 14289-1 (from memory); two validators of
/// the package registries found no error in it.
#[test]
fn it_can_be_read_aloud() {
    let read = Read::of(&TARN);
    let meta = read.meta();
    for wanted in ["<pdfuaid:part>1<", "<rdf:li>en-GB</rdf:li>", "Build book: Tarn 4"] {
        assert!(meta.contains(wanted), "{wanted} in {meta}");
    }
    let kinds = read.structure();
    let count = |kind: &str| kinds.iter().filter(|found| *found == kind).count();
    assert_eq!(kinds.first().map(String::as_str), Some("Document"));
    assert!(
        count("H1") > 15 && count("H1") == count("TOCI"),
        "{} heads, {} lines of the contents",
        count("H1"),
        count("TOCI")
    );
    for kind in ["Table", "TH", "Figure", "Formula", "Link", "L"] {
        assert!(count(kind) > 0, "{kind}");
    }
    let mut above = 0;
    for level in kinds.iter().filter_map(|kind| kind.strip_prefix('H')) {
        let Ok(level) = level.parse::<u8>() else { continue };
        assert!(level <= above + 1, "a head of level {level} below one of {above}");
        above = level;
    }
}

/// A page is not turned for a line or two, on either paper.
#[test]
fn no_page_is_nearly_empty() {
    for book in [&*TARN, &*LETTER, &*HALF_KNOWN] {
        let pages = Read::of(book).words();
        assert_eq!(pages.len(), book.pages);
        for (number, page) in (1..).zip(pages) {
            // The foot: page and sheet, in the lowest 20 mm.
            let content = page
                .words
                .iter()
                .filter(|([.., bottom], _)| *bottom < page.size[1] - 56.0);
            let mut lines: Vec<i64> = content
                .map(|([_, top, ..], _)| {
                    #[allow(clippy::cast_possible_truncation, reason = "points on a page")]
                    let line = top.round() as i64;
                    line
                })
                .collect();
            lines.sort_unstable();
            lines.dedup();
            assert!(lines.len() > 4, "page {number} holds {} lines", lines.len());
        }
    }
}

/// On paper nothing is typed: a key of the sheet is said in words, but where the sheet's own figures are listed.
#[test]
fn keys_of_the_sheet_are_said_in_words() {
    for book in [&*TARN, &*HALF_KNOWN] {
        let text = Read::of(book).text();
        let (answers, behind) = text.rsplit_once("What it rests on").unwrap();
        let keys = |text: &str| -> Vec<String> {
            text.split(' ')
                .map(|word| word.trim_matches(|letter: char| !letter.is_alphanumeric()))
                .filter(|word| word.contains('.') && questions::measuring::in_words(word).is_some())
                .map(str::to_owned)
                .collect()
        };
        assert_eq!(keys(answers), Vec::<String>::new());
        assert!(!keys(behind).is_empty(), "{behind}");
        assert!(!answers.contains("[["), "a table of the sheet as it is typed");
    }
}

/// What is in a picture and in a formula is large enough to be read: no letter of a word is less than some two millimetres
/// from its highest to its lowest. Indices of one or two letters may be smaller.
#[test]
fn nothing_is_too_small_to_be_read() {
    for book in [&*TARN, &*LETTER] {
        for (number, page) in (1..).zip(Read::of(book).words()) {
            for ([_, top, _, bottom], word) in page.words {
                let letters = word.chars().filter(char::is_ascii_alphanumeric).count();
                let high = bottom - top;
                assert!(
                    letters < 3 || high > LEAST,
                    "{word} on page {number}: {high} points"
                );
            }
        }
    }
}

fn noted(logbook: &Path, text: &str) {
    let draft = Draft {
        kind: EntryKind::Note,
        data: Data::with_text(text, None).unwrap(),
        stamp: Stamp::new("2026-04-30T10:00:00Z".parse().unwrap(), Offset::UTC, "test", "1").unwrap(),
    };
    let mut book = Logbook::open_or_create(logbook, WAIT).unwrap();
    book.append(&draft).unwrap();
}

/// Every word inside the margins, whatever people wrote.
#[test]
fn whatever_is_written_is_printed_as_text_and_leaves_no_column() {
    const NAME: &str = "#set page(width: 1pt) *b* _i_ $x$ <l> @r \\u{41} // {{";
    let sheet = fs::read_to_string(demo().join("tarn/car.toml")).unwrap();
    let build = format!("{} 😀 עברית", "W".repeat(280));
    let (before, rest) = sheet.split_once("name  = \"Tarn 4\"").unwrap();
    let rest = rest
        .split_once("build = \"")
        .unwrap()
        .1
        .split_once('"')
        .unwrap()
        .1;
    let quoted = |text: &str| serde_json::to_string(text).unwrap();
    let sheet = format!(
        "{before}name = {}\nbuild = {}{rest}",
        quoted(NAME),
        quoted(&build)
    );
    let cars = tempfile::tempdir().unwrap();
    fs::create_dir(cars.path().join("odd")).unwrap();
    fs::write(cars.path().join("odd/car.toml"), sheet).unwrap();
    let note = format!("{} \u{202e}turned\u{7} `#let` ", "seal ".repeat(1_000)) + &"x".repeat(5_000);
    noted(&cars.path().join("odd/logbook.db"), &note);
    let book = printed(cars.path(), "odd", Paper::A4);
    let read = Read::of(&book);
    let text = read.text();
    assert!(text.contains(NAME), "{}", &text[..400]);
    assert!(text.contains("‹1F600›") && text.contains("‹202E›turned‹0007› '#let'"));
    // A page may end within it: every letter is there, wherever that is.
    for (letter, count) in [("W", 280), ("x", 5_000), ("seal", 1_000)] {
        assert!(text.matches(letter).count() >= count, "{letter}");
    }
    let mut words = 0;
    for page in read.words() {
        let [width, height] = page.size;
        for ([left, top, right, bottom], word) in page.words {
            words += 1;
            // 20 mm at the sides, as the template has it; half a millimetre for what a letter overhangs.
            let inside = left >= 55.2 && right <= width - 55.2 && top >= 0.0 && bottom <= height;
            assert!(inside, "{word} at {left} to {right} of {width}");
        }
    }
    assert!(words > 3_000, "{words}");
}

/// What a press cannot read as it was meant it does not set, and a fault of the template is told with its line.
#[test]
fn what_cannot_be_set_is_refused() {
    let manuscript = |version: &str, template: &str| Manuscript {
        version: version.to_owned(),
        maker: "rearline test".to_owned(),
        identity: "this".to_owned(),
        template: template.to_owned(),
        book: text("bled"),
    };
    let here = env!("CARGO_PKG_VERSION");
    assert!(matches!(
        press::print(&manuscript("0.0.0", "")),
        Err(Refused::OtherVersion { press, program }) if press == here && program == "0.0.0"
    ));
    let Err(Refused::NotSet(said)) = press::print(&manuscript(here, "= Dry\n#no-such-thing")) else {
        panic!("it was set");
    };
    assert!(said.contains("book.typ:2:"), "{said}");
    // Nothing but its fonts and what it was handed: no file is read.
    let Err(Refused::NotSet(said)) = press::print(&manuscript(here, "#read(\"/etc/hostname\")")) else {
        panic!("a file was read");
    };
    assert!(said.contains("denied"), "{said}");
}

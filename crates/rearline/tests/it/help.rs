//! Help, manual pages, completions.

use unicode_width::UnicodeWidthStr;

use crate::bench::Bench;

const VERBS: [&str; 30] = [
    "conditions",
    "pull",
    "logger",
    "symptom",
    "leak",
    "lines",
    "prove",
    "plan",
    "assess",
    "pressures",
    "balance",
    "settings",
    "lever",
    "size",
    "compare",
    "heat",
    "hold",
    "turn",
    "working",
    "how",
    "proposal",
    "logbook",
    "build-book",
    "new",
    "copy",
    "rename",
    "put-away",
    "check-sheet",
    "schema",
    "completions",
    "manual",
];

#[test]
fn help_fits_80_columns_and_shows_examples() {
    let bench = Bench::empty();
    let mut pages = vec![bench.run(&["--help"]).out, bench.run(&["-h"]).out];
    for verb in VERBS {
        let page = bench.run(&[verb, "--help"]).out;
        assert!(page.contains(&format!("rearline {verb}")), "{page}");
        pages.extend([page, bench.run(&[verb, "-h"]).out]);
    }
    for page in pages {
        for line in page.lines() {
            assert!(line.width() <= 80, "{line}");
        }
    }
}

#[test]
fn every_example_of_the_help_runs() {
    let bench = Bench::with_cars();
    for verb in [
        "assess",
        "pressures",
        "balance",
        "settings",
        "lever",
        "size",
        "conditions",
        "heat",
        "hold",
        "turn",
        "working",
        "logbook",
        "check-sheet",
        "schema",
    ] {
        let page = bench.run(&[verb, "--help"]).out.replace("\\\n", "");
        let examples: Vec<&str> = page
            .lines()
            .filter_map(|line| line.trim().strip_prefix("rearline "))
            .collect();
        assert!(examples.len() >= 3, "{page}");
        for example in examples {
            let command = example.split("   ").next().unwrap().split(" > ").next().unwrap();
            let arguments = words(command);
            let arguments: Vec<&str> = arguments.iter().map(String::as_str).collect();
            let run = bench.run(&arguments);
            assert_eq!(run.status, Some(0), "{example}: {}", run.aside);
        }
    }
}

/// Words as a shell parts them: quotes hold blanks together.
fn words(command: &str) -> Vec<String> {
    let mut words = vec![String::new()];
    let mut quoted = None;
    for c in command.trim().chars() {
        match c {
            '"' | '\'' if quoted == Some(c) => quoted = None,
            '"' | '\'' if quoted.is_none() => quoted = Some(c),
            ' ' if quoted.is_none() => words.push(String::new()),
            _ => words.last_mut().unwrap().push(c),
        }
    }
    words.retain(|word| !word.is_empty());
    words
}

#[test]
fn idle_options_are_not_shown() {
    let page = Bench::empty().run(&["pressures", "--help"]).out;
    for option in ["--speed", "--draws", "--seed", "--strict"] {
        assert!(!page.contains(option), "{option}");
    }
}

#[test]
fn manual_pages_come_out_whole_or_one_by_one() {
    let bench = Bench::empty();
    assert!(bench.run(&["manual"]).out.contains(".TH rearline 1"));
    let page = bench.run(&["manual", "--verb", "pressures"]).out;
    assert!(
        page.contains("luggage scale") && page.contains("rearline\\-pressures"),
        "{page}"
    );
    let literal = page.split_once("\n.nf\n").unwrap().1;
    assert!(
        literal.contains("\n  rearline pressures tarn \\-\\-foot") && literal.contains("\n.fi"),
        "{page}"
    );
    let run = bench.run(&["manual", "--folder", "share/man1"]);
    assert_eq!(run.out.lines().count(), 1 + VERBS.len());
    for verb in VERBS {
        assert!(
            bench.path(&format!("share/man1/rearline-{verb}.1")).is_file(),
            "{verb}"
        );
    }
}

#[test]
fn completions_know_the_verbs() {
    let bench = Bench::empty();
    for shell in ["bash", "elvish", "fish", "powershell", "zsh"] {
        let run = bench.run(&["completions", shell]);
        assert_eq!(run.status, Some(0));
        assert!(VERBS.iter().all(|verb| run.out.contains(verb)), "{shell}");
    }
}

/// In a real terminal of 40 columns, which `script` makes. What is copied from a page as a command may be longer.
#[cfg(unix)]
#[test]
fn a_narrow_terminal_is_followed() {
    use std::process::Command;

    use unicode_width::UnicodeWidthStr as _;

    let bench = Bench::with_cars();
    for words in [
        "how",
        "how rear_brake.pad_edges",
        "working tarn travel_m",
        "check-sheet half-known",
        "logbook due tarn",
        "assess --help",
    ] {
        let program = env!("CARGO_BIN_EXE_rearline");
        let line = format!("stty cols 40 rows 60; NO_COLOR=1 {program} {words}");
        let mut command = Command::new("script");
        command
            .args(["-qec", &line, "/dev/null"])
            .current_dir(bench.path(""));
        let Ok(output) = command.env_remove("COLUMNS").output() else {
            eprintln!("SKIPPED, nothing shown: `script` is not there to make a terminal");
            return;
        };
        let said = String::from_utf8_lossy(&output.stdout).replace("\r\n", "\n");
        assert!(
            output.status.success() && said.lines().count() > 5,
            "{words}: {said}"
        );
        let widest = said.lines().max_by_key(|line| line.width()).unwrap();
        assert!(
            widest.width() <= 40,
            "{words}: {} columns: {widest}",
            widest.width()
        );
        assert!(
            said.lines().any(|line| line.width() > 30),
            "{words} is narrower than it need be"
        );
    }
}

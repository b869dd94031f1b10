//! How runs end.

use std::fs;

use crate::bench::{Bench, finished};

#[test]
fn a_missing_car_ends_with_3_and_offers_the_nearest() {
    let bench = Bench::with_cars();
    let run = bench.run(&["pressures", "trn", "--foot", "300 N"]);
    assert_eq!(run.status, Some(3));
    assert!(run.out.is_empty());
    assert!(run.aside.contains("did you mean `tarn`?"), "{}", run.aside);
    let error = bench.first_error(3, &["pressures", "trn", "--foot", "300 N", "--json"]);
    assert_eq!(error["slug"], "no-such-car");
}

#[test]
fn a_missing_folder_and_a_missing_sheet_end_with_3() {
    let bench = Bench::empty();
    let run = bench.run(&["check-sheet", "tarn"]);
    assert_eq!(run.status, Some(3));
    assert!(
        run.aside.contains("`rearline` by itself makes the folder"),
        "{}",
        run.aside
    );
    assert_eq!(bench.run(&["check-sheet", "cars/tarn/car.toml"]).status, Some(3));
    assert_eq!(bench.run(&["check-sheet", "./tarn.toml"]).status, Some(3));
}

#[test]
fn words_that_are_not_understood_end_with_2() {
    let bench = Bench::with_cars();
    for (arguments, slug) in [
        (vec!["presures", "tarn"], "unknown-verb"),
        (vec!["pressures", "tarn", "--fot", "300 N"], "unknown-option"),
        (vec!["pressures", "--foot", "300 N"], "missing-argument"),
        (vec!["pressures", "tarn"], "no-force"),
        (
            vec!["pressures", "tarn", "--foot", "300 N", "--draws", "some"],
            "not-a-count",
        ),
        (vec!["schema", "tarn"], "option-value"),
        (vec!["manual", "--verb", "pressure"], "unknown-verb"),
    ] {
        let run = bench.run(&arguments);
        assert_eq!(run.status, Some(2), "{arguments:?}");
        assert!(run.out.is_empty() && !run.aside.is_empty(), "{arguments:?}");
        let error = bench.first_error(2, &[arguments.as_slice(), &["--json"]].concat());
        // Verbs that have no JSON do not know the word either.
        if ["pressures", "presures"].contains(&arguments[0]) {
            assert_eq!(error["slug"], slug, "{arguments:?}");
        }
    }
    let error = bench.first_error(2, &["pressures", "tarn", "--json", "--fot=3"]);
    assert_eq!((&error["line"], &error["column"]), (&1.into(), &32.into()));
    assert!(error["do"].as_str().unwrap().contains("--foot"), "{error}");
}

#[test]
fn an_option_before_the_verb_is_told_where_it_belongs() {
    let bench = Bench::with_cars();
    let arguments = ["--port", "8080", "pressures", "tarn", "--cars", "cars"];
    let run = bench.run(&arguments);
    assert_eq!(run.status, Some(2));
    assert!(
        run.aside.contains("write the options behind the verb"),
        "{}",
        run.aside
    );
}

#[test]
fn help_and_version_are_no_errors() {
    let bench = Bench::empty();
    for word in ["--help", "-h", "--version"] {
        let run = bench.run(&[word]);
        assert_eq!((run.status, run.aside.as_str()), (Some(0), ""));
        assert!(run.out.contains("rearline"));
    }
    assert!(!bench.path("cars").exists());
}

#[test]
fn the_version_tells_what_it_was_built_from_and_what_it_reads() {
    let bench = Bench::empty();
    let short = bench.run(&["-V"]).out;
    assert_eq!(
        short,
        format!("rearline {} (not a release)\n", env!("CARGO_PKG_VERSION"))
    );
    let long = bench.run(&["--version"]).out;
    assert!(long.starts_with(short.trim_end()), "{long}");
    let newest = records::logbook::newest_format();
    for said in [
        format!("sheets: formats 1 to {}", sheet::FORMAT),
        format!("logbooks: formats 1 to {newest}"),
    ] {
        assert!(long.lines().any(|line| line == said), "{said}: {long}");
    }
}

#[test]
fn nobody_listening_is_no_error() {
    let bench = Bench::with_cars();
    for arguments in [
        vec!["pressures", "tarn", "--foot", "300 N"],
        vec!["pressures", "tarn", "--foot", "300 N", "--json"],
        vec!["pressures", "tarn", "--json"],
        vec!["schema", "sheet"],
        vec!["manual"],
        vec!["completions", "bash"],
        vec!["--help"],
        vec![],
    ] {
        let (reader, writer) = std::io::pipe().unwrap();
        drop(reader);
        let run = finished(bench.command(&arguments).stdout(writer));
        let wanted = if arguments == ["pressures", "tarn", "--json"] {
            2
        } else {
            0
        };
        assert_eq!(
            (run.status, run.aside.as_str()),
            (Some(wanted), ""),
            "{arguments:?}"
        );
    }
}

#[cfg(target_os = "linux")]
#[test]
fn a_full_disk_behind_the_output_ends_with_3() {
    let bench = Bench::with_cars();
    let full = fs::OpenOptions::new().write(true).open("/dev/full").unwrap();
    let run = finished(
        bench
            .command(&["pressures", "tarn", "--foot", "300 N"])
            .stdout(full),
    );
    assert_eq!(run.status, Some(3));
    assert!(run.aside.contains("could not be written"), "{}", run.aside);
}

#[cfg(target_os = "linux")]
#[test]
fn an_interrupted_run_ends_with_130() {
    use std::io::Write as _;
    use std::process::{Command, Stdio};

    let bench = Bench::with_cars();
    // A pipe that is full, so that the run stands still while it writes. 64 KiB is what Linux gives a pipe.
    let (reader, mut writer) = std::io::pipe().unwrap();
    writer.write_all(&[0; 65_536]).unwrap();
    let mut command = bench.command(&["pressures", "tarn", "--foot", "300 N"]);
    let child = command.stdout(writer).stderr(Stdio::piped()).spawn().unwrap();
    let catches_interrupts = || {
        let status = fs::read_to_string(format!("/proc/{}/status", child.id())).unwrap();
        let caught = status
            .lines()
            .find_map(|line| line.strip_prefix("SigCgt:"))
            .unwrap();
        u64::from_str_radix(caught.trim(), 16).unwrap() & 0b10 != 0
    };
    while !catches_interrupts() {
        std::thread::yield_now();
    }
    assert!(
        Command::new("kill")
            .args(["-INT", &child.id().to_string()])
            .status()
            .unwrap()
            .success()
    );
    let output = child.wait_with_output().unwrap();
    assert_eq!(output.status.code(), Some(130));
    assert!(output.stderr.is_empty());
    drop(reader);
}

#[test]
fn a_sheet_that_is_too_large_is_refused_without_being_read() {
    let bench = Bench::empty();
    fs::create_dir_all(bench.path("cars/huge")).unwrap();
    // Eight gigabytes that take no room on the disk: reading them would not end well.
    fs::File::create(bench.path("cars/huge/car.toml"))
        .unwrap()
        .set_len(1 << 33)
        .unwrap();
    let error = bench.first_error(2, &["check-sheet", "huge", "--json"]);
    assert_eq!(error["slug"], "file-too-large");
    assert!(
        bench
            .run(&["pressures", "huge", "--foot", "300 N"])
            .aside
            .contains("larger than 4 MB")
    );
}

#[test]
fn a_folder_in_the_sheets_place_ends_with_3() {
    let bench = Bench::empty();
    fs::create_dir_all(bench.path("cars/odd/car.toml")).unwrap();
    assert_eq!(bench.run(&["check-sheet", "odd"]).status, Some(3));
}

//! Pages as a person reads them.

use unicode_width::UnicodeWidthStr;

use crate::bench::{Bench, CARS, finished};

const BOTH: [&str; 4] = ["--foot", "300 N", "--hand", "150 N"];

#[test]
fn pages_fit_80_columns() {
    let bench = Bench::with_cars();
    let long_name = format!("car.name={}", "Ein langer Name ".repeat(4));
    let long_word = format!("car.build={}", "x".repeat(100));
    let wide = "kPa,um,N,N mm,mm3,g";
    let mut asked: Vec<Vec<&str>> = vec![
        vec!["--no-page"],
        vec!["new", "fell"],
        vec!["pressures", "tarn", "--foot", "300 N", "--with", &long_name],
        vec!["pressures", "tarn", "--foot", "300 N", "--with", &long_word],
    ];
    for car in CARS {
        asked.push([&["pressures", car], &BOTH[..]].concat());
        asked.push(vec![
            "pressures",
            car,
            "--hand",
            "400 N",
            "--units",
            "psi,in,lbf",
            "--cold",
        ]);
        asked.push(vec!["pressures", car, "--foot", "3000 N", "--units", wide]);
        asked.push(vec!["check-sheet", car]);
        for verb in ["assess", "balance", "settings", "lever", "turn"] {
            asked.push(vec![verb, car, "--draws", "0"]);
            asked.push(vec![verb, car, "--draws", "0", "--units", "psi,in,lbf"]);
        }
    }
    for arguments in asked {
        let run = bench.run(&arguments);
        assert_eq!(run.status, Some(0), "{arguments:?}: {}", run.aside);
        for line in run.out.lines() {
            assert!(
                line.width() <= 80,
                "{arguments:?}, {} columns: {line}",
                line.width()
            );
            assert_eq!(line.trim_end(), line, "{arguments:?}: blanks at the end");
        }
    }
}

#[test]
fn colour_is_only_for_those_who_want_it() {
    let bench = Bench::with_cars();
    let arguments = [&["pressures", "tarn"], &BOTH[..]].concat();
    let plain = bench.run(&arguments).out;
    assert!(!plain.contains('\x1b'), "no terminal, no colour");
    let forced = finished(bench.command(&arguments).env("CLICOLOR_FORCE", "1")).out;
    assert!(forced.contains("\x1b["));
    assert_eq!(
        anstream::adapter::strip_str(&forced).to_string(),
        plain,
        "colour adds nothing but colour"
    );
    let refused = finished(
        bench
            .command(&arguments)
            .env("CLICOLOR_FORCE", "1")
            .env("NO_COLOR", "1"),
    )
    .out;
    assert_eq!(refused, plain);
    let wrong = bench.run(&["pressures", "tarn", "--foot", "3"]).aside;
    assert!(!wrong.contains('\x1b'));
}

#[test]
fn the_order_is_answer_wheels_pedal_handbrake() {
    let bench = Bench::with_cars();
    for car in CARS {
        let page = bench.run(&[&["pressures", car], &BOTH[..]].concat()).out;
        let places = [
            "300 N of foot",
            "── front left",
            "╌╌ rear left",
            "\nPedal\n",
            "══ Handbrake ═",
            "\nLoad\n",
            "brake test",
        ]
        .map(|text| {
            page.find(text)
                .unwrap_or_else(|| panic!("{car}: {text} is missing:\n{page}"))
        });
        assert!(places.is_sorted(), "{car}:\n{page}");
    }
}

#[test]
fn a_centre_that_ties_the_axles_is_named() {
    let bench = Bench::with_cars();
    let tied = "The centre ties front to rear";
    assert!(
        bench
            .run(&["pressures", "tarn", "--hand", "300 N"])
            .out
            .contains(tied)
    );
    assert!(
        !bench
            .run(&["pressures", "scree", "--hand", "300 N"])
            .out
            .contains(tied)
    );
}

#[test]
fn what_runs_out_is_said_first() {
    let bench = Bench::with_cars();
    let page = bench
        .run(&["pressures", "bin", "--hand", "240 N"])
        .out
        .replace('\n', " ");
    assert!(
        page.contains("The lever has no more room before the hand's force is reached."),
        "{page}"
    );
    assert!(page.contains("the room ends here"), "{page}");
}

#[test]
fn pages_of_two_cars() {
    let bench = Bench::with_cars();
    insta::assert_snapshot!(
        "tarn_foot_and_hand",
        bench.run(&[&["pressures", "tarn"], &BOTH[..]].concat()).out
    );
    insta::assert_snapshot!(
        "scree_hand",
        bench
            .run(&["pressures", "scree", "--hand", "270 N", "--cold"])
            .out
    );
}

#[test]
fn errors_look_alike_wherever_they_stand() {
    let bench = Bench::with_cars();
    let arguments = [
        "pressures",
        "tarn",
        "--foot",
        "300 bat",
        "--with",
        "lever.boer=2",
        "--valve",
        "2 trns",
    ];
    insta::assert_snapshot!("wrong_options", bench.run(&arguments).aside);
}

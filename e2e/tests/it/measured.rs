//! What was measured, typed in at the car with gloves on; what is wrong, test by test; a server that goes in the middle.

use crate::bench::{Bench, Test};
use crate::browser::Page;
use crate::screen::{Screen, Theme};
use crate::workshop::{Workshop, demonstration, demonstration_log};

pub(crate) const ALL: &[Test] = &[
    (
        "measured::a_pull_is_typed_in_by_thumb",
        a_pull_is_typed_in_by_thumb,
    ),
    (
        "measured::the_server_goes_in_the_middle_of_a_pull",
        the_server_goes_in_the_middle_of_a_pull,
    ),
    ("measured::a_wrong_figure_is_told", a_wrong_figure_is_told),
    (
        "measured::a_fault_is_narrowed_test_by_test",
        a_fault_is_narrowed_test_by_test,
    ),
    (
        "measured::a_leak_is_halved_cut_by_cut",
        a_leak_is_halved_cut_by_cut,
    ),
    (
        "measured::a_log_is_sent_from_a_phone_and_its_columns_named",
        a_log_is_sent_from_a_phone_and_its_columns_named,
    ),
];

const TAKE_IT: &str = "details.reading form.reading button";

/// A workshop with one car, and its room of readings.
fn at_the_car(page: &Page<'_>, car: &str, room: &str) -> Workshop {
    let workshop = Workshop::empty();
    workshop.add(car, &demonstration(car));
    let workshop = workshop.serve(&[]);
    page.show(Screen::PHONE, Theme::Light);
    page.go(&workshop.address(&format!("/car/{car}/{room}")));
    workshop
}

fn sheet(workshop: &Workshop, car: &str) -> String {
    std::fs::read_to_string(workshop.cars().join(car).join("car.toml")).unwrap()
}

fn typed(page: &Page<'_>, travel: &str, pressure: &str) {
    page.fill("form.reading [name=travel]", travel);
    page.fill("form.reading [name=pressure]", pressure);
    page.tap(TAKE_IT);
}

fn entered(page: &Page<'_>, text: &str) {
    page.until(&format!(
        "document.querySelector('.entered')?.textContent.includes({})",
        serde_json::json!(text)
    ));
}

fn a_pull_is_typed_in_by_thumb(bench: &Bench) {
    let page = bench.browser();
    let workshop = at_the_car(&page, "half-known", "pull");
    assert!(page.text("main").contains("Nothing measured yet"));
    let least: f64 = page.js(
        "return Math.min(...[...document.querySelectorAll('details.reading[open] :is(input:not([type=hidden]), select, button), details.reading > summary')]
             .map((key) => key.getBoundingClientRect().height))",
    );
    assert!(least >= 44.0, "a glove misses {least} px");
    // The person reads inches and pounds per square inch on one gauge: what is typed with its unit is taken so.
    for (travel, pressure, says) in [
        ("0", "0", "0 mm, 0 bar"),
        ("30", "2", "30 mm, 2 bar"),
        ("48", "9", "48 mm, 9 bar"),
        ("2.5 in", "300 psi", "2.5 in, 300 psi"),
        ("84", "41", "84 mm, 41 bar"),
    ] {
        typed(&page, travel, pressure);
        entered(&page, says);
    }
    page.until("!document.querySelector('main').textContent.includes('Nothing measured yet')");
    page.keep("pull-typed-in", Screen::PHONE, Theme::Light);
    let text = sheet(&workshop, "half-known");
    assert!(
        text.contains(r#"[["0 mm", "0 bar"], ["30 mm", "2 bar"], ["48 mm", "9 bar"], ["2.5 in", "300 psi"], ["84 mm", "41 bar"]]"#),
        "{text}"
    );
    // The last is put back with one key.
    page.click_text("Put it back");
    page.until("!document.querySelector('.entered').textContent.includes('84 mm')");
    assert!(!sheet(&workshop, "half-known").contains(r#"["84 mm", "41 bar"]"#));
    page.is_quiet();
}

fn the_server_goes_in_the_middle_of_a_pull(bench: &Bench) {
    let page = bench.browser();
    let mut workshop = at_the_car(&page, "half-known", "pull");
    typed(&page, "30", "2");
    entered(&page, "30 mm, 2 bar");
    let port = workshop.stop();
    typed(&page, "48", "9");
    page.until("document.querySelector('#kept .why')");
    assert!(page.text("#kept").contains("48, 9"), "{}", page.text("#kept"));
    page.keep("pull-waits", Screen::PHONE, Theme::Light);
    workshop.start_on(&port);
    entered(&page, "48 mm, 9 bar");
    page.until("!document.querySelector('#kept')");
    assert_eq!(sheet(&workshop, "half-known").matches("48 mm").count(), 1);
    let _ = page.log();
}

fn a_wrong_figure_is_told(bench: &Bench) {
    let page = bench.browser();
    let workshop = at_the_car(&page, "half-known", "pull");
    let before = sheet(&workshop, "half-known");
    typed(&page, "30 bar", "2");
    page.until("document.querySelector('#kept .why')?.textContent.includes('is a pressure')");
    page.keep("pull-refused", Screen::PHONE, Theme::Light);
    assert_eq!(sheet(&workshop, "half-known"), before);
    let _ = page.log();
}

fn a_fault_is_narrowed_test_by_test(bench: &Bench) {
    let page = bench.browser();
    let workshop = at_the_car(&page, "tarn", "symptom?says=long-then-firm");
    page.keep("what-is-wrong", Screen::PHONE, Theme::Light);
    page.tap(".ways li:first-child button");
    page.until("document.querySelector('main').textContent.includes('in the logbook on')");
    // Another page, another day: it still counts.
    page.go(&workshop.address("/car/tarn/symptom?says=long-then-firm"));
    assert!(page.text("main").contains("in the logbook on"));
    page.click_text("It is put right");
    page.until("!document.querySelector('main').textContent.includes('in the logbook on')");
    page.is_quiet();
}

fn a_leak_is_halved_cut_by_cut(bench: &Bench) {
    let page = bench.browser();
    let _workshop = at_the_car(&page, "tarn", "leak");
    let first = page.text(".stamp");
    assert!(first.contains("Not found yet"), "{first}");
    let mut cuts = 0;
    while page.count(".ways .key") > 0 {
        page.follow("It still loses");
        cuts += 1;
        assert!(cuts < 8, "it comes to an end");
        assert!(page.at().contains("still=yes"), "{}", page.at());
    }
    assert!(cuts >= 2);
    page.keep("leak-found", Screen::PHONE, Theme::Light);
    page.back();
    assert!(page.count(".ways .key") > 0, "one cut back");
    page.is_quiet();
}

fn a_log_is_sent_from_a_phone_and_its_columns_named(bench: &Bench) {
    let page = bench.browser();
    let mut workshop = at_the_car(&page, "tarn", "logger");
    assert!(page.text(".stamp").contains("No log here yet"));
    // The demonstration log as a logger of another making would have written it: heads that nobody can guess.
    let device = tempfile::tempdir().unwrap();
    let log = demonstration_log("tarn", "shakedown.csv");
    let (_, rows) = log.split_once('\n').unwrap();
    let file = device.path().join("LOG 0001.TXT");
    std::fs::write(&file, format!("t1,A1,A2,V,W1,W2,W3,W4,G,D1,D2\n{rows}")).unwrap();
    let send = || {
        page.choose_file("form[data-sends] input[type=file]", &file);
        page.tap("form[data-sends] button");
    };
    // The connection goes: the file is still on the device, and is sent again.
    let port = workshop.stop();
    send();
    page.until(
        "document.querySelector('form[data-sends] .sending').textContent.includes('still on this device')",
    );
    workshop.start_on(&port);
    page.go(&workshop.address("/car/tarn/logger"));
    send();
    page.until("new URLSearchParams(location.search).get('file') === 'LOG 0001.csv'");
    let shelf = workshop.cars().join("tarn/logs");
    assert_eq!(
        std::fs::read(&file).unwrap(),
        std::fs::read(shelf.join("LOG 0001.csv")).unwrap()
    );
    let verdict = page.text(".verdict");
    assert!(
        verdict.contains("Log does not read") && verdict.contains("No line names a column of time"),
        "{verdict}"
    );
    page.unfold_to("form.columns");
    page.keep("columns", Screen::PHONE, Theme::Light);
    let channels = [
        ("time", "s"),
        ("front pressure", "bar"),
        ("rear pressure", "bar"),
        ("speed", "km/h"),
        ("wheel front left", "km/h"),
        ("wheel front right", "km/h"),
        ("wheel rear left", "km/h"),
        ("wheel rear right", "km/h"),
        ("longitudinal acceleration", "m/s2"),
        ("front disc", "kN"),
    ];
    for (number, (is, unit)) in channels.iter().enumerate() {
        page.choose(&format!("form.columns [name='is.{number}']"), is);
        page.fill(&format!("form.columns [name='unit.{number}']"), unit);
    }
    // A slip of the thumb is told, and nothing of it is lost.
    page.click("form.columns button");
    page.until("document.querySelector('#kept .why')?.textContent.includes('is no unit of front disc')");
    assert!(!shelf.join("columns.toml").exists());
    page.fill("form.columns [name='unit.9']", "C");
    page.click("form.columns button");
    page.until("!document.querySelector('.stamp')?.textContent.includes('does not read') && document.querySelector('.offers')");
    let map = std::fs::read_to_string(shelf.join("columns.toml")).unwrap();
    assert!(
        map.contains("[columns.\"A1\"]\nis = \"front pressure\"\nunit = \"bar\"\n"),
        "{map}"
    );
    page.keep("log-read", Screen::PHONE, Theme::Light);
    // What it offers is taken over, and put back.
    let before = sheet(&workshop, "tarn");
    let offered = page.count(".offers form");
    page.click_text("Take it over");
    page.until("document.querySelector('.changed')");
    assert_ne!(sheet(&workshop, "tarn"), before);
    page.until(&format!(
        "document.querySelectorAll('.offers form').length === {}",
        offered - 1
    ));
    page.click_text("Put it back");
    page.until(&format!(
        "document.querySelectorAll('.offers form').length === {offered}"
    ));
    // In quotes or bare, the value is the same.
    assert_eq!(
        sheet(&workshop, "tarn").replace("\"0.40\"", "0.40"),
        before.replace("\"0.40\"", "0.40")
    );
    let _ = page.log();
}

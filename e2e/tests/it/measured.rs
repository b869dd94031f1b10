//! What was measured, typed in at the car with gloves on; what is wrong, test by test; a server that goes in the middle.

use crate::bench::{Bench, Test};
use crate::browser::Page;
use crate::screen::{Screen, Theme};
use crate::workshop::{Workshop, demonstration};

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

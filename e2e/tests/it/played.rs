//! The turn, played: a car that moves over its tracks, by a key and by hand; another set-up beside it.

use thirtyfour::Key;

use crate::bench::{Bench, Test};
use crate::browser::Page;
use crate::screen::{Screen, Theme};

pub(crate) const ALL: &[Test] = &[
    ("played::by_the_key_and_by_hand", by_the_key_and_by_hand),
    ("played::two_beside_each_other", two_beside_each_other),
    ("played::handles_move_the_run", handles_move_the_run),
];

const TIME: &str = "#player-time";

/// Where the car is drawn.
fn body(page: &Page<'_>) -> String {
    page.js("return document.querySelector('.for-wide .moving .body').getAttribute('d')")
}

fn by_the_key_and_by_hand(bench: &Bench) {
    let page = bench.browser();
    page.go(&bench.demo().address("/car/tarn/turn"));
    page.until("document.querySelector('.moving .body')");
    let start = body(&page);
    // Halted by the page itself, at the first picture past 0.3 s: a slow machine plays to the end before anybody else could.
    page.js::<()>("const time = document.querySelector('#player-time'), key = document.querySelector('[data-play]'); const halt = () => Number(time.value) > 0.3 ? key.textContent === 'Halt' && key.click() : requestAnimationFrame(halt); key.click(); requestAnimationFrame(halt)");
    page.until(&format!("Number(document.querySelector('{TIME}').value) > 0.3"));
    page.until("document.querySelector('[data-play]').textContent === 'Play'");
    assert_ne!(body(&page), start, "the car moves");
    let halted = body(&page);
    page.promised(
        "new Promise((drawn) => requestAnimationFrame(() => requestAnimationFrame(() => drawn(true))))",
    );
    assert_eq!(body(&page), halted, "a halted car stands");

    // By hand, to the moment at which the rear stands: its wheels are drawn thick.
    page.js::<()>("const time = document.querySelector('#player-time'); time.value = 1.6; time.dispatchEvent(new Event('input', {bubbles: true}))");
    let widths: Vec<String> =
        page.js("return [...document.querySelectorAll('.for-wide .moving line')].map((wheel) => wheel.getAttribute('stroke-width'))");
    assert_eq!(widths, ["3", "3", "8", "8"]);
    let said: String =
        page.js("return document.querySelector('#player-time').getAttribute('aria-valuetext')");
    assert!(said.contains("rear left and rear right locked"), "{said}");

    // Moving along the time asks the server for nothing.
    assert_eq!(page.at(), "/car/tarn/turn");
    page.one(TIME);
    page.tab_to(TIME);
    let before = body(&page);
    page.press(Key::Right);
    assert_ne!(body(&page), before, "the keyboard moves it too");

    // Whoever asks for less motion gets steps.
    page.media(Theme::Light, true);
    page.js::<()>("document.querySelector('#player-time').value = 0");
    page.click("[data-play]");
    page.until("Number(document.querySelector('#player-time').value) >= 0.5");
    let stepped: f64 = page.js("return Number(document.querySelector('#player-time').value) % 0.5");
    assert!(
        stepped.abs() < 0.021 || (0.5 - stepped).abs() < 0.021,
        "{stepped}"
    );
    page.is_quiet();
}

fn two_beside_each_other(bench: &Bench) {
    let page = bench.browser();
    page.go(&bench.demo().address("/car/tarn/turn"));
    page.js::<()>("const other = document.querySelector('#handle-against'); other.value = 'tarn-let-go'; other.dispatchEvent(new Event('change', {bubbles: true}))");
    page.until("document.querySelectorAll('.for-wide .moving .body').length === 2");
    page.until("location.search.includes('against=tarn-let-go')");
    let answer = page.text("#answer");
    assert!(
        answer.contains("it comes round") && answer.contains("rotates little"),
        "{answer}"
    );
    let terminal = bench
        .demo()
        .terminal(&["turn", "tarn", "--against", "tarn-let-go", "--draws", "0"]);
    for sentence in ["the lever gives 34°", "Tarn 4, parted centre rotates little"] {
        assert!(
            answer.contains(sentence) && terminal.contains(sentence),
            "{sentence}: {answer}"
        );
    }
    page.keep("turn-beside", Screen::DESKTOP, Theme::Light);
    page.is_quiet();
}

fn handles_move_the_run(bench: &Bench) {
    let page = bench.browser();
    page.go(&bench.demo().address("/car/tarn/turn"));
    page.until("document.querySelector('.moving .body')");
    let before = page.text("#answer .sentence");
    page.drag("#handle-hand", -80, || {
        page.other_text("#answer .sentence", &before);
    });
    page.until("/[?&]hand=/.test(location.search)");
    page.until("document.querySelector('.moving .body')");
    let less = page.text("#answer .sentence");
    page.back();
    page.until("location.search === ''");
    let again = page.other_text("#answer .sentence", &less);
    assert_eq!(again, before);
    page.is_quiet();
}

//! The main job, as a person does it: open a car, read the answer, unfold a working, turn the valve, read the new answer,
//! take it on paper. Once with the pointer, once with a finger, once with the keyboard alone.

use thirtyfour::Key;

use crate::bench::{Bench, Test};
use crate::browser::Page;
use crate::paper;
use crate::screen::{Screen, Theme};

pub(crate) const ALL: &[Test] = &[
    ("job::by_clicks", by_clicks),
    ("job::by_touch", by_touch),
    ("job::by_keyboard_alone", by_keyboard_alone),
];

const VALVE: &str = "#handle-valve";

fn by_clicks(bench: &Bench) {
    let page = bench.browser();
    page.go(&bench.demo().address("/"));
    page.follow("Tarn 4");
    page.until("document.querySelector('#answer')");
    assert_eq!(page.at(), "/car/tarn/assessment");
    reads_the_answer(bench, &page, "assess", &[]);

    page.unfold_to("details.working > summary");
    page.click("details.working > summary");
    page.until("document.querySelector('details.working[open] .steps .result')");
    unfolded(bench, &page);

    page.follow("Which end locks first?");
    page.until("location.pathname.endsWith('/balance')");
    reads_the_answer(bench, &page, "balance", &[]);

    let before = page.text("#answer .sentence");
    page.drag(VALVE, 90, || {
        let moving = page.other_text("#answer .sentence", &before);
        assert!(
            moving.contains("front") || moving.contains("rear"),
            "which end: {moving}"
        );
    });
    turned(bench, &page);
    on_paper(&page);
    page.is_quiet();
}

fn by_touch(bench: &Bench) {
    let page = bench.browser();
    page.show(Screen::TABLET, Theme::Light);
    page.go(&bench.demo().address("/car/tarn/balance"));
    let before = page.text("#answer .sentence");
    page.drag_by_touch(VALVE, 90, || {
        page.other_text("#answer .sentence", &before);
    });
    turned(bench, &page);
    // Keys beside the slide, for gloves.
    let stands: f64 = page.js("return Number(document.querySelector('#handle-valve').value)");
    page.click("[data-of=handle-valve][aria-label$=less]");
    let now: f64 = page.js("return Number(document.querySelector('#handle-valve').value)");
    assert!((stands - now - 0.05).abs() < 1e-9, "{stands} to {now}");
    turned(bench, &page);
    page.is_quiet();
}

fn by_keyboard_alone(bench: &Bench) {
    let page = bench.browser();
    page.go(&bench.demo().address("/"));
    page.tab_to("a[href='/car/tarn/assessment']");
    page.press(Key::Enter);
    page.until("location.pathname === '/car/tarn/assessment' && document.readyState === 'complete'");
    reads_the_answer(bench, &page, "assess", &[]);

    // The first stop leads past everything to the answer.
    page.press(Key::Tab);
    assert_eq!(
        page.js::<String>("return document.activeElement.className"),
        "skip"
    );
    page.press(Key::Enter);
    page.until("document.activeElement.id === 'main'");

    page.tab_to(".on-screen > .fold > summary");
    page.press(Key::Enter);
    page.until("document.querySelector('.on-screen > .fold[open]')");
    page.tab_to("details.working > summary");
    page.press(Key::Enter);
    page.until("document.querySelector('details.working[open] .steps .result')");
    unfolded(bench, &page);
    let focus: String = page.js("return document.activeElement.outerHTML.slice(0, 200)");
    assert!(
        focus.starts_with("<summary"),
        "the focus stays where it was, and is on {focus}"
    );

    page.tab_to("nav a[href='/car/tarn/balance']");
    page.press(Key::Enter);
    page.until("location.pathname.endsWith('/balance') && document.readyState === 'complete'");
    page.tab_to(VALVE);
    let before = page.text("#answer .sentence");
    for _ in 0..12 {
        page.press(Key::Right);
    }
    page.other_text("#answer .sentence", &before);
    turned(bench, &page);
    let focus: bool = page.js("return document.activeElement.matches('#handle-valve')");
    assert!(focus, "the handle that moves keeps the focus");

    page.press(Key::Home);
    page.until("document.querySelector('#handle-valve').value === '0'");
    page.until("/[?&]valve=0($|&)/.test(location.search)");
    on_paper(&page);
    page.tab_to("[data-print]");
    page.is_quiet();
}

/// The page answers as the terminal does.
fn reads_the_answer(bench: &Bench, page: &Page<'_>, verb: &str, with: &[&str]) {
    let terminal = bench
        .demo()
        .terminal(&[&[verb, "tarn"], with].concat())
        .replace('`', "");
    let mut sentence = String::new();
    for _ in 0..200 {
        sentence = page.text("#answer .sentence");
        if terminal.contains(&sentence) {
            assert!(sentence.len() > 20);
            return;
        }
        std::thread::sleep(std::time::Duration::from_millis(25));
    }
    panic!("{verb} {with:?}: {sentence:?} is not in the terminal's {terminal:?}");
}

/// The working ends in the figure that the terminal's working has.
fn unfolded(bench: &Bench, page: &Page<'_>) {
    let from: String = page.js("return document.querySelector('details.working[open]').dataset.from");
    let figure = from.rsplit('/').next().unwrap();
    let terminal = bench.demo().terminal(&["working", "tarn", figure]);
    let all: Vec<String> = page.js(
        "return [...document.querySelectorAll('details.working[open] .formula.result')].map((line) => line.textContent.replace(/\\s+/g, ' ').trim())",
    );
    assert!(!all.is_empty());
    for line in &all {
        assert!(
            terminal.contains(&**line),
            "{figure}: {line:?} is not in {terminal}"
        );
    }
}

fn stands(page: &Page<'_>) -> String {
    page.js("return document.querySelector('#handle-valve').value")
}

/// The valve was turned on the balance page: figures, address, index and answer agree with each other and the terminal.
fn turned(bench: &Bench, page: &Page<'_>) {
    let stands = stands(page);
    page.until(&format!(
        "new URLSearchParams(location.search).get('valve') === '{stands}'"
    ));
    let turns: f64 = stands.parse().unwrap();
    assert!(turns > 0.0);
    assert_eq!(page.text("output[for=handle-valve]"), format!("{turns:.2} turns"));
    reads_the_answer(bench, page, "balance", &["--valve", &format!("{stands} turns")]);
}

/// The page on paper has its answer and nothing to press.
fn on_paper(page: &Page<'_>) {
    let answer = page.text("#answer .sentence");
    let text = paper::text(&page.paper());
    assert!(text.contains(&answer), "{answer:?} is not on paper: {text}");
    assert!(text.contains("do not replace a brake test"), "{text}");
    for pressed in [
        "All cars",
        "All questions",
        "Nobody aboard",
        "As the sheet has it",
        "Take the assessment",
        "Handles",
        "How it came about",
        "The same as a table",
    ] {
        assert!(!text.contains(pressed), "{pressed:?} is on paper: {text}");
    }
}

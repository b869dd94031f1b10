//! A whole car typed in: on a phone by touch, on a desktop by keyboard, without the script, with a server that goes in the
//! middle; and how it looks on every screen.

use std::cell::Cell;

use serde_json::json;
use thirtyfour::Key;

use crate::bench::{Bench, Test};
use crate::browser::Page;
use crate::screen::{Screen, Theme};
use crate::workshop::{Workshop, demonstration};

pub(crate) const ALL: &[Test] = &[
    (
        "thumb::a_car_is_typed_on_a_phone_to_a_first_answer",
        a_car_is_typed_on_a_phone_to_a_first_answer,
    ),
    ("thumb::a_car_is_typed_by_keyboard", a_car_is_typed_by_keyboard),
    (
        "thumb::a_car_is_typed_without_the_script",
        a_car_is_typed_without_the_script,
    ),
    (
        "thumb::the_server_goes_in_the_middle_of_a_car",
        the_server_goes_in_the_middle_of_a_car,
    ),
    (
        "thumb::nothing_is_pushed_aside_on_any_screen",
        nothing_is_pushed_aside_on_any_screen,
    ),
    (
        "thumb::a_text_that_does_not_read_is_not_lost",
        a_text_that_does_not_read_is_not_lost,
    ),
];

/// What is typed at each figure of a plain front-wheel-drive car: keys, the unit's key, how sure; or a word.
const FIGURES: &[(&str, Typed)] = &[
    ("weighed.front", Typed::Figure("612", "kg", "bathroom")),
    ("weighed.rear", Typed::Figure("398", "kg", "bathroom")),
    ("geometry.wheelbase", Typed::Figure("2,45", "m", "tape")),
    ("tyres.rolling_radius", Typed::Figure("185/60R14", "label", "")),
    ("pedal.ratio", Typed::Unknown),
    ("master.bore", Typed::Figure("13/16", "in", "exact")),
    ("lever.bore", Typed::Figure("5/8", "in", "exact")),
    ("lever.ratio", Typed::Figure("7", "", "once")),
    ("front_brake.caliper.layout", Typed::Word("sliding")),
    ("front_brake.caliper.pistons", Typed::Figure("48", "mm", "exact")),
    (
        "front_brake.effective_radius",
        Typed::Figure("100", "mm", "ruler"),
    ),
    ("rear_brake.caliper.layout", Typed::Word("sliding")),
    ("rear_brake.caliper.pistons", Typed::Figure("34", "mm", "exact")),
    ("rear_brake.effective_radius", Typed::Figure("98", "mm", "ruler")),
];

#[derive(Clone, Copy)]
enum Typed {
    Figure(&'static str, &'static str, &'static str),
    Word(&'static str),
    Unknown,
}

const SIX: [(&str, &str); 6] = [
    ("driven", "front"),
    ("behind", "disc"),
    ("split", "axle"),
    ("booster", "none"),
    ("valve", "none"),
    ("lever", "inline"),
];

fn sheet(workshop: &Workshop, car: &str) -> String {
    std::fs::read_to_string(workshop.cars().join(car).join("car.toml")).unwrap()
}

fn at_figure(page: &Page<'_>, figure: &str) {
    page.until(&format!(
        "location.pathname.endsWith('/sheet/{figure}') && document.readyState === 'complete'"
    ));
}

/// Types into the field, which has the focus, over what is selected in it.
fn type_over(page: &Page<'_>, text: &str) {
    page.until(
        "((field) => field?.id === 'figure' && field.selectionEnd - field.selectionStart === field.value.length)(document.activeElement)",
    );
    page.type_at_focus(text);
}

/// Waits until all that is typed was read.
fn read(page: &Page<'_>) {
    page.until("document.querySelector('#said:not([data-stale]) .means')");
}

fn a_car_is_typed_on_a_phone_to_a_first_answer(bench: &Bench) {
    let page = bench.browser();
    let workshop = Workshop::empty().serve(&[]);
    page.show(Screen::LARGE_PHONE, Theme::Light);
    page.go(&workshop.address("/"));
    let (taps, keys, screens) = (Cell::new(0), Cell::new(0), Cell::new(0));
    let tap = |css: &str| {
        taps.set(taps.get() + 1);
        page.tap(css);
    };
    tap("a[href='/cars/new']");
    page.until("document.querySelector('#new-name')");
    screens.set(1);
    page.fill("#new-name", "fell");
    for (question, answer) in SIX {
        tap(&format!("label:has([name={question}][value='{answer}'])"));
    }
    page.keep("new-car", Screen::LARGE_PHONE, Theme::Light);
    tap(".new-car .keep");
    page.until("location.pathname === '/car/fell/sheet'");
    screens.set(screens.get() + 1);
    assert!(page.text("main").contains("14 left"));
    tap(".key.next");
    for (figure, typed) in FIGURES {
        at_figure(&page, figure);
        screens.set(screens.get() + 1);
        match typed {
            Typed::Word(word) => tap(&format!(".choices [value='{word}']")),
            Typed::Unknown => tap("[name=guess]"),
            Typed::Figure(figure, unit, sure) => {
                let pressed = "return arguments[0] === '' || Boolean(document.querySelector(`[name=${arguments[1]}][value=\"${arguments[0]}\"]:checked`))";
                if !unit.is_empty() && !page.js_of::<bool>(pressed, &[json!(unit), json!("unit")]) {
                    tap(&format!("label:has([name=unit][value='{unit}'])"));
                }
                for key in figure.chars() {
                    keys.set(keys.get() + 1);
                    tap(&format!("[data-puts='{key}']"));
                }
                if !page.js_of::<bool>(pressed, &[json!(sure), json!("sure")]) {
                    tap(&format!("label:has([name=sure][value='{sure}'])"));
                }
                read(&page);
                tap(".keep-keys .keep");
            }
        }
        // Its screen is left once it is kept.
        page.until(&format!("!location.pathname.endsWith('/sheet/{figure}')"));
    }
    page.until("document.querySelector('.so-far a')");
    assert!(
        page.text(".so-far").contains("21 of 30 known, 9 guessed"),
        "{}",
        page.text(".so-far")
    );
    tap(".so-far a");
    page.until("document.querySelector('#answer .stamp')");
    screens.set(screens.get() + 1);
    let text = sheet(&workshop, "fell");
    for line in [
        "front = \"612 kg ± 2 %\"",
        "wheelbase = \"2,45 m ± 5 mm\"",
        "rolling_radius = \"185/60 R14\"",
        "ratio = \"guess\"",
        "bore = \"5/8 in\"",
        "effective_radius = \"98 mm ± 1 mm\"",
    ] {
        assert!(text.contains(line), "{line}: {text}");
    }
    let counted = format!(
        "{} taps, of which {} on keys of figures, {} screens",
        taps.get(),
        keys.get(),
        screens.get()
    );
    // 37, 68 and 17 when it was written; ten minutes are 600 at a tap a second.
    assert!(
        keys.get() < 60 && taps.get() < 600 && screens.get() < 20,
        "{counted}"
    );
    page.is_quiet();
}

fn a_car_is_typed_by_keyboard(bench: &Bench) {
    let page = bench.browser();
    let workshop = Workshop::empty();
    workshop.terminal(&[
        "new",
        "fell",
        "--with",
        "drivetrain.driven=front",
        "--with",
        "pedal.booster=none",
    ]);
    let workshop = workshop.serve(&[]);
    page.go(&workshop.address("/car/fell/sheet/weighed.front"));
    for (figure, typed) in FIGURES {
        at_figure(&page, figure);
        match typed {
            Typed::Word(word) => {
                page.tab_to(&format!(".choices [value='{word}']"));
                page.press(Key::Enter);
            }
            Typed::Unknown => {
                page.tab_to("[name=guess]");
                page.press(Key::Enter);
            }
            // The field has the focus; the unit is typed with the figure.
            Typed::Figure(figure, unit, _) => {
                let unit = if *unit == "label" { "" } else { unit };
                type_over(&page, &format!("{figure} {unit}"));
                read(&page);
                page.press(Key::Enter);
            }
        }
        page.until(&format!("!location.pathname.endsWith('/sheet/{figure}')"));
    }
    page.until("document.querySelector('.so-far a')");
    assert!(sheet(&workshop, "fell").contains("bore = \"5/8 in\""));
    // A wrong unit is told while it is typed, and is not sent.
    page.go(&workshop.address("/car/fell/sheet/lever.bore"));
    type_over(&page, "70 bar");
    page.until("document.querySelector('#said .wrong-here')?.textContent.includes('pressure')");
    page.press(Key::Enter);
    assert!(page.at().ends_with("/sheet/lever.bore"));
    assert!(sheet(&workshop, "fell").contains("bore = \"5/8 in\""));
    let _ = page.log();
}

fn a_car_is_typed_without_the_script(bench: &Bench) {
    let page = bench.browser();
    page.scripts(false);
    let workshop = Workshop::empty();
    workshop.terminal(&["new", "fell", "--with", "drivetrain.driven=front"]);
    let workshop = workshop.serve(&[]);
    page.go(&workshop.address("/car/fell/assessment"));
    // The browser notes that a page of an unfinished sheet is answered with 422.
    let _ = page.log();
    page.follow("Next: weight on the front wheels");
    for (figure, typed) in FIGURES {
        at_figure(&page, figure);
        match typed {
            Typed::Word(word) => page.click(&format!(".choices [value='{word}']")),
            Typed::Unknown => page.click("[name=guess]"),
            Typed::Figure(figure, unit, _) => {
                if !unit.is_empty() && page.count(&format!("[name=unit][value='{unit}']:checked")) == 0 {
                    page.click(&format!("label:has([name=unit][value='{unit}'])"));
                }
                page.fill("#figure", figure);
                page.click(".keep-keys .keep");
            }
        }
        page.until(&format!("!location.pathname.endsWith('/sheet/{figure}')"));
    }
    page.go(&workshop.address("/car/fell/assessment"));
    assert_eq!(page.count("#answer .stamp"), 1);
    page.is_quiet();
}

fn the_server_goes_in_the_middle_of_a_car(bench: &Bench) {
    let page = bench.browser();
    let mut workshop = Workshop::empty();
    workshop.add("half-known", &demonstration("half-known"));
    let mut workshop = {
        workshop = workshop.serve(&[]);
        workshop
    };
    page.show(Screen::LARGE_PHONE, Theme::Light);
    page.go(&workshop.address("/car/half-known/sheet/lever.ratio"));
    let port = workshop.stop();
    page.fill("#figure", "7.2");
    page.tap(".keep-keys .keep");
    page.until("document.querySelector('#kept .why')");
    assert!(page.text("#kept").contains("7.2"), "{}", page.text("#kept"));
    page.keep("figure-waits", Screen::LARGE_PHONE, Theme::Light);
    assert!(!sheet(&workshop, "half-known").contains("7.2"));
    workshop.start_on(&port);
    page.until("!document.querySelector('#kept')");
    let text = sheet(&workshop, "half-known");
    assert_eq!(
        text.matches("\"7.2\"").count() + text.matches("= 7.2").count(),
        1,
        "{text}"
    );
    let _ = page.log();
}

fn nothing_is_pushed_aside_on_any_screen(bench: &Bench) {
    let page = bench.browser();
    let workshop = Workshop::empty();
    workshop.add("half-known", &demonstration("half-known"));
    workshop.terminal(&["new", "fell", "--with", "drivetrain.driven=all"]);
    let workshop = workshop.serve(&[]);
    let addresses = [
        "/cars/new",
        "/cars/bring",
        "/car/fell/sheet",
        "/car/fell/sheet/lever.bore",
        "/car/fell/sheet/drivetrain.centre.kind",
        "/car/half-known/sheet",
        "/car/half-known/sheet/rear_brake.pad.friction",
        "/car/half-known/sheet/tyres.rolling_radius",
        "/car/half-known/several/item",
        "/car/half-known/text",
        "/car/half-known/files",
    ];
    for (screen, theme, letters) in [
        (Screen::NARROWEST, Theme::Light, 16),
        (Screen::LARGE_PHONE, Theme::Dark, 16),
        (Screen::LARGE_PHONE, Theme::Light, 32),
        (Screen::TABLET, Theme::Light, 16),
        (Screen::DESKTOP, Theme::Dark, 16),
    ] {
        page.letters(letters);
        page.show(screen, theme);
        for address in addresses {
            page.go(&workshop.address(address));
            let (over, small): (f64, Vec<String>) = page.js(
                "const seen = [...document.querySelectorAll('main :is(button, a.key, summary, input:not([type=hidden]):not([type=radio]), select, label:has([type=radio]))')].filter((key) => key.checkVisibility());
                 return [document.documentElement.scrollWidth - innerWidth,
                         seen.filter((key) => key.getBoundingClientRect().height < 43.5).map((key) => key.outerHTML.slice(0, 80))]",
            );
            let seen = format!("{address} on {} by {}, {letters} px", screen.name, theme.name());
            assert!(over <= 1.0, "{seen}: {over} px wider than the screen");
            assert!(small.is_empty(), "{seen}: a glove misses {small:?}");
        }
        let name = if letters == 16 {
            "by-thumb"
        } else {
            "by-thumb-large-letters"
        };
        page.go(&workshop.address("/car/half-known/sheet/rear_brake.pad.friction"));
        page.keep(name, screen, theme);
    }
    page.letters(16);
    page.is_quiet();
}

fn a_text_that_does_not_read_is_not_lost(bench: &Bench) {
    let page = bench.browser();
    let workshop = Workshop::empty();
    workshop.add("sedge", &demonstration("sedge"));
    let workshop = workshop.serve(&[]);
    let before = sheet(&workshop, "sedge");
    page.go(&workshop.address("/car/sedge/text"));
    let broken = before.replacen("[lever]", "[lever", 1);
    let typed = "const area = document.querySelector('textarea');
        area.value = arguments[0];
        area.dispatchEvent(new Event('input', { bubbles: true }));";
    page.js_of::<()>(typed, &[json!(broken)]);
    page.follow("Keep it");
    assert!(page.count(".wrong mark") + page.count(".refused") > 0);
    assert_eq!(
        page.js::<String>("return document.querySelector('textarea').value"),
        broken
    );
    assert_eq!(sheet(&workshop, "sedge"), before);
    // The page is left: the browser holds what was typed.
    page.go(&workshop.address("/car/sedge/text"));
    page.click_text("Show it");
    assert_eq!(
        page.js::<String>("return document.querySelector('textarea').value"),
        broken
    );
    page.js_of::<()>(typed, &[json!(before.replacen("\"1/2 in\"", "\"5/8 in\"", 1))]);
    page.follow("Keep it");
    assert!(sheet(&workshop, "sedge").contains("\"5/8 in\""));
    page.go(&workshop.address("/car/sedge/text"));
    assert_eq!(page.count(".caution"), 0, "nothing is held any more");
    let _ = page.log();
}

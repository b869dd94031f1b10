//! Handles that move: no reload, an address that follows, a way back, a link that leads to the same.

use crate::bench::{Bench, Test};
use crate::browser::Page;
use crate::screen::{Screen, Theme};

pub(crate) const ALL: &[Test] = &[
    ("live::nothing_is_loaded_anew", nothing_is_loaded_anew),
    (
        "live::the_picture_is_seen_while_it_moves",
        the_picture_is_seen_while_it_moves,
    ),
    (
        "live::back_leads_to_the_state_before",
        back_leads_to_the_state_before,
    ),
    ("live::a_link_opens_its_state", a_link_opens_its_state),
    (
        "live::another_ground_brings_its_grip",
        another_ground_brings_its_grip,
    ),
    (
        "live::what_another_room_was_asked_stays",
        what_another_room_was_asked_stays,
    ),
    (
        "live::a_server_that_is_gone_is_told",
        a_server_that_is_gone_is_told,
    ),
];

fn nothing_is_loaded_anew(bench: &Bench) {
    let page = bench.browser();
    for (room, handle) in [
        ("balance", "#handle-foot"),
        ("balance", "#handle-fuel"),
        ("lever", "#handle-hand"),
        ("settings", "#handle-valve"),
        ("assessment", "#handle-grip"),
    ] {
        page.go(&bench.demo().address(&format!("/car/tarn/{room}")));
        let (before, svg) = (seen(&page), page.text("#plan svg"));
        let drawing: String = page.js("return document.querySelector('#drawing').innerHTML");
        page.js::<()>("window.sameDocument = true");
        page.drag(handle, -60, || {
            page.until("window.sameDocument");
            let moved = format!(
                "document.querySelector('#drawing').innerHTML !== {drawing} || document.querySelector('#plan svg').textContent !== {svg}",
                drawing = serde_json::json!(drawing),
                svg = serde_json::json!(svg)
            );
            page.until(&moved);
            assert!(!page.at().contains('?'), "{room}: the address waits until the handle is let go");
        });
        page.until("location.search !== ''");
        page.until("window.sameDocument");
        // The address is there before what it asks for.
        let other = (0..200).any(|_| {
            std::thread::sleep(std::time::Duration::from_millis(25));
            seen(&page) != before
        });
        assert!(other, "{room}, {handle}: {before}");
        page.is_quiet();
    }
}

/// A picture that moves is there while it moves, whichever of its two forms this screen shows.
fn the_picture_is_seen_while_it_moves(bench: &Bench) {
    let page = bench.browser();
    let all = ["assessment", "balance", "settings", "lever", "turn"];
    for (screen, rooms) in [
        (Screen::NARROWEST, &all[1..2]),
        (Screen::PHONE, &all[..]),
        (Screen::DESKTOP, &all[..]),
        (Screen::WIDEST, &all[1..2]),
    ] {
        page.show(screen, Theme::Light);
        for room in rooms {
            page.go(&bench.demo().address(&format!("/car/tarn/{room}")));
            page.js::<()>("document.querySelector('.wheels > summary').scrollIntoView({block: 'center'})");
            page.click(".wheels > summary");
            page.until("document.querySelector('.wheels[open] svg')");
            let before = pictures(&page);
            assert!(before > 0, "{room}");
            let answer = page.text("#plan") + &*page.text("#drawing");
            page.drag("#handle-fuel", -30, || {
                let written = serde_json::json!(answer);
                page.until(&format!("['plan', 'drawing'].map((id) => document.getElementById(id).textContent.replace(/\\s+/g, ' ').trim()).join('') !== {written}"));
                assert_eq!(pictures(&page), before, "{room} on {}: pictures gone while they move", screen.name);
            });
            page.until("location.search !== ''");
        }
    }
    page.is_quiet();
}

/// How many pictures are seen beside the handles.
fn pictures(page: &Page<'_>) -> usize {
    page.js("return [...document.querySelectorAll('.bench svg')].filter((svg) => svg.checkVisibility() && svg.getBoundingClientRect().height > 20).length")
}

fn back_leads_to_the_state_before(bench: &Bench) {
    let page = bench.browser();
    page.go(&bench.demo().address("/car/tarn/lever"));
    let at_first = settled(&page);
    page.drag("#handle-hand", -80, || {});
    page.until("location.search.includes('hand=')");
    let one = (page.at(), settled(&page));
    page.drag("#handle-hand", 120, || {});
    page.until(&format!(
        "location.search && location.pathname + location.search !== '{}'",
        one.0
    ));
    let two = (page.at(), settled(&page));
    assert!(at_first != one.1 && one.1 != two.1);

    page.back();
    comes_to(&page, &one.0, &one.1);
    page.back();
    comes_to(&page, "/car/tarn/lever", &at_first);
    page.js::<()>("history.forward()");
    comes_to(&page, &one.0, &one.1);
    page.is_quiet();
}

fn a_link_opens_its_state(bench: &Bench) {
    let page = bench.browser();
    page.go(&bench.demo().address("/car/tarn/lever"));
    page.drag("#handle-hand", -80, || {});
    page.until("location.search.includes('hand=')");
    // An answer of other length moves what stands below it.
    settled(&page);
    page.click(".tick input[name=cold]");
    page.until("location.search.includes('cold=1')");
    let (address, there) = (page.at(), settled(&page));
    page.go("about:blank");
    page.go(&bench.demo().address(&address));
    assert_eq!(settled(&page), there);
    assert!(page.js::<bool>("return document.querySelector('input[name=cold]').checked"));
    // A sheet's key, replaced for this once, is said and can be taken back.
    page.go(&bench
        .demo()
        .address("/car/tarn/lever?with=lever.bore%3D5%2F8%20in"));
    let state = page.text("#state").replace('\u{a0}', " ");
    assert!(
        state.contains("bore of the handbrake's cylinder (lever.bore) 5/8 in"),
        "{state}"
    );
    page.follow("as the sheet has it");
    page.until("location.search === ''");
    assert!(!page.text("#state").contains("Other than"));
    page.is_quiet();
}

fn another_ground_brings_its_grip(bench: &Bench) {
    let page = bench.browser();
    page.go(&bench.demo().address("/car/tarn/balance"));
    let grip = || page.js::<f64>("return Number(document.querySelector('#handle-grip').value)");
    let hard_gravel = grip();
    page.drag("#handle-grip", 60, || {});
    page.until("location.search.includes('grip=')");
    page.js::<()>(
        "const ground = document.querySelector('#handle-surface'); ground.value = 'wet clay';
         for (const kind of ['input', 'change']) ground.dispatchEvent(new Event(kind, {bubbles: true}))",
    );
    page.until("location.search.includes('surface=wet')");
    page.until("!location.search.includes('grip=')");
    page.until("Number(document.querySelector('#handle-grip').value) === 0.48");
    assert!((hard_gravel - 0.65).abs() < 1e-9, "the sheet's hard gravel");
    page.until("document.querySelector('#state').textContent.includes('wet clay, grip\\u00a00.48')");
    page.is_quiet();
}

fn what_another_room_was_asked_stays(bench: &Bench) {
    let page = bench.browser();
    page.go(&bench
        .demo()
        .address("/car/tarn/lever?hand=210&surface=wet%20clay"));
    page.follow("Which end locks first?");
    page.until("location.pathname.endsWith('/balance')");
    assert_eq!(page.at(), "/car/tarn/balance?surface=wet%20clay&hand=210");
    page.drag("#handle-fuel", 60, || {});
    page.until("location.search.includes('fuel=')");
    assert!(page.at().contains("hand=210"), "{}", page.at());
    page.follow("How hard, how far?");
    page.until("location.pathname.endsWith('/lever')");
    assert_eq!(page.text("output[for=handle-hand]"), "210 N");
    page.is_quiet();
}

fn a_server_that_is_gone_is_told(bench: &Bench) {
    let page = bench.browser();
    let mut workshop = crate::workshop::Workshop::with_cars().serve(&[]);
    page.go(&workshop.address("/car/scree/lever"));
    let answer = page.text("#answer .sentence");
    workshop.end();
    page.drag("#handle-hand", -60, || {});
    page.until("document.querySelector('#told[role=alert]')?.textContent.includes('last answer')");
    assert_eq!(page.text("#answer .sentence"), answer, "the last answer stays");
    let _ = page.log();
}

/// Answer and figures, as they stand now.
fn seen(page: &Page<'_>) -> String {
    ["#answer", "#plan", "#drawing"]
        .map(|part| page.text(part))
        .join(" ")
}

/// The same once the page has come to rest: the index, which comes last, agrees with what the server says of the address.
fn settled(page: &Page<'_>) -> String {
    for _ in 0..200 {
        let rests = page.promised(
            "fetch(location.pathname + location.search).then((response) => response.text()).then((text) => {
               const made = new DOMParser().parseFromString(text, 'text/html');
               return ['answer', 'plan', 'drawing', 'index', 'state'].every((id) =>
                 made.getElementById(id).textContent === document.getElementById(id).textContent);
             })",
        );
        if rests == serde_json::Value::Bool(true) {
            return seen(page);
        }
        std::thread::sleep(std::time::Duration::from_millis(25));
    }
    panic!("{}: what is shown is not what its address says", page.at());
}

fn comes_to(page: &Page<'_>, address: &str, there: &str) {
    page.until(&format!("location.pathname + location.search === '{address}'"));
    for _ in 0..200 {
        if seen(page) == there {
            let handle: String = page.js("return document.querySelector('#handle-hand').value");
            let said: Option<String> = page.js("return new URLSearchParams(location.search).get('hand')");
            if said.is_none_or(|said| said == handle) {
                return;
            }
        }
        std::thread::sleep(std::time::Duration::from_millis(25));
    }
    panic!("{address}: the state before does not come back");
}

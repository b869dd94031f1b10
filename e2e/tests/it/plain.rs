//! Without the script: plainer, and complete.

use crate::bench::{Bench, Test};
use crate::workshop::{ROOMS, Workshop};

pub(crate) const ALL: &[Test] = &[
    ("plain::the_job_is_done_with_forms", the_job_is_done_with_forms),
    ("plain::every_room_can_be_asked", every_room_can_be_asked),
    (
        "plain::a_car_is_made_and_units_are_kept",
        a_car_is_made_and_units_are_kept,
    ),
];

fn the_job_is_done_with_forms(bench: &Bench) {
    let page = bench.browser();
    page.scripts(false);
    page.go(&bench.demo().address("/"));
    page.follow("Tarn 4");
    page.until("document.querySelector('#answer')");
    // The working opens on a page of its own.
    page.unfold_to("details.working > summary");
    page.click("details.working > summary");
    page.click("details.working[open] a");
    page.until("location.pathname.includes('/working/')");
    assert!(page.count(".steps .result") > 0);
    page.back();
    page.until("location.pathname === '/car/tarn/assessment'");
    page.follow("Which end locks first?");
    page.until("location.pathname.endsWith('/balance')");

    let before = page.text("#answer .sentence");
    page.drag("#handle-valve", 90, || {});
    assert_eq!(
        page.text("#answer .sentence"),
        before,
        "nothing moves without the script"
    );
    assert_eq!(page.at(), "/car/tarn/balance");
    let valve: String = page.js("return document.querySelector('#handle-valve').value");
    page.follow("Ask");
    page.until("location.search !== ''");
    // Handles that nobody touched say nothing: the address is as short as with the script.
    assert_eq!(page.at(), format!("/car/tarn/balance?valve={valve}"));
    let sentence = page.text("#answer .sentence");
    assert_ne!(sentence, before);
    let terminal = bench
        .demo()
        .terminal(&["balance", "tarn", "--valve", &format!("{valve} turns")]);
    assert!(terminal.contains(&sentence), "{sentence:?}: {terminal}");
    page.follow("As the sheet has it");
    page.until("location.search === ''");
    assert_eq!(page.text("#answer .sentence"), before);
    page.is_quiet();
}

fn every_room_can_be_asked(bench: &Bench) {
    let page = bench.browser();
    page.scripts(false);
    // A knob with turns; a balance bar and no valve; no knob at all.
    let other_knobs = ["balance", "settings", "plan"];
    for (car, rooms) in [
        ("tarn", &ROOMS[..]),
        ("scree", &other_knobs),
        ("bin", &other_knobs),
    ] {
        for room in rooms {
            page.go(&bench.demo().address(&format!("/car/{car}/{room}")));
            let (shown, dead): (bool, usize) = page.js("const shown = (key) => key.checkVisibility();
                 return [[...document.querySelectorAll('form.handles [type=submit]')].every(shown),
                         [...document.querySelectorAll('button:not([type=submit])')].filter(shown).length]");
            assert!(shown, "{car}, {room}: no key to ask with");
            assert_eq!(dead, 0, "{car}, {room}: keys that do nothing");
            if page.count("form.handles") > 0 {
                page.follow("Ask");
                assert_eq!(page.at(), format!("/car/{car}/{room}"), "nothing was moved");
            }
            page.is_quiet();
        }
    }
}

fn a_car_is_made_and_units_are_kept(bench: &Bench) {
    let page = bench.browser();
    page.scripts(false);
    let workshop = Workshop::empty().serve(&[]);
    page.go(&workshop.address("/"));
    page.follow("A new car");
    page.fill("#new-name", "fell");
    page.follow("Make its sheet");
    page.until("location.pathname === '/car/fell/sheet'");
    assert!(
        page.text("main").contains("left"),
        "a blank sheet wants filling in"
    );
    assert!(workshop.cars().join("fell/car.toml").is_file());
    page.go(&workshop.address("/cars/new"));
    page.fill("#new-name", "FELL");
    page.follow("Make its sheet");
    page.until("document.querySelector('[role=alert]')");
    let typed: String = page.js("return document.querySelector('#new-name').value");
    assert_eq!(typed, "FELL", "what was typed is not lost");
    page.go(&workshop.address("/preferences"));
    page.click("#unit-pressure option[value=psi]");
    page.follow("Keep");
    page.until("document.querySelector('#unit-pressure').value === 'psi'");
    let kept = std::fs::read_to_string(workshop.cars().join("preferences.toml")).unwrap();
    assert!(kept.contains("psi"), "{kept}");
}

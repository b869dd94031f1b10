//! A page whose sheet or logbook has changed on the disk says so, and offers the new state; nothing moves by itself.

use std::time::Instant;

use crate::bench::{Bench, Test};
use crate::screen::{Screen, Theme};
use crate::workshop::{Workshop, demonstration};

pub(crate) const ALL: &[Test] = &[("stale::every_open_page_says_so", every_open_page_says_so)];

fn every_open_page_says_so(bench: &Bench) {
    let page = bench.browser();
    let workshop = Workshop::empty();
    let sheet = demonstration("tarn");
    workshop.add("tarn", &sheet);
    let workshop = workshop.serve(&[]);
    let other = |text: &str| sheet.replacen("name  = \"Tarn 4\"", &format!("name  = \"{text}\""), 1);
    for (number, room) in ["lever", "turn", "assessment", "prove", "logbook", "lines"]
        .iter()
        .enumerate()
    {
        page.go(&workshop.address(&format!("/car/tarn/{room}")));
        let name = format!("Tarn {}", number + 10);
        workshop.add("tarn", &other(&name));
        let changed = Instant::now();
        page.until("document.querySelector('#stale')");
        assert!(
            changed.elapsed().as_secs_f64() < 2.0,
            "{room}: {:?}",
            changed.elapsed()
        );
        assert!(
            page.text("#stale")
                .starts_with("The sheet has changed on the disk."),
            "{}",
            page.text("#stale")
        );
        assert!(
            !page.text("header .car").contains(&name),
            "{room}: nothing moves by itself"
        );
        page.click("[data-renew]");
        page.until("!document.querySelector('#stale')");
        if page.count("header .car") > 0 {
            page.until(&format!(
                "document.querySelector('header .car').textContent.startsWith('{name}')"
            ));
        }
    }
    // The logbook, written in the terminal. A hand on a handle is left alone; what it asks for is answered anew.
    page.go(&workshop.address("/car/tarn/lever"));
    let before = page.text("#answer .sentence");
    workshop.terminal(&["prove", "tarn", "--joint", "1", "--is", "marked"]);
    page.until("document.querySelector('#stale')?.textContent.startsWith('The logbook has changed')");
    page.keep("stale", Screen::DESKTOP, Theme::Light);
    page.js::<()>("window.sameDocument = true");
    page.drag("#handle-hand", -60, || {
        assert_ne!(page.other_text("#answer .sentence", &before), before);
    });
    page.until("location.search.includes('hand=') && !document.querySelector('#stale')");
    page.until("window.sameDocument");
    page.go(&workshop.address("/car/tarn/prove"));
    page.tap(".joint:not([hidden]) [value=dry]");
    page.until("document.querySelector('#joint-1')?.dataset.state === 'dry'");
    std::thread::sleep(std::time::Duration::from_millis(1500));
    assert_eq!(
        page.count("#stale"),
        0,
        "what a page writes by itself is no news to it"
    );
    // The list, and a page that explains a figure.
    for path in ["/", "/car/tarn/working/travel_m"] {
        page.go(&workshop.address(path));
        if path == "/" {
            // A row that waits is filled in where it stands.
            page.until(
                "!document.querySelector('[data-waits]') && document.querySelector('.one-car .stamp')",
            );
            page.until("document.querySelector('#unanswered').textContent === ''");
        }
        workshop.add("tarn", &other(path));
        page.until("document.querySelector('#stale')");
        page.click("[data-renew]");
        page.until("!document.querySelector('#stale') && document.readyState === 'complete'");
    }
    page.is_quiet();
    // A server that is gone is said too.
    drop(workshop);
    page.until("document.querySelector('#gone')");
    let _ = page.log();
}

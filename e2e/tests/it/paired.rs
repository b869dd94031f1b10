//! A tablet that is let in: refused, paired with the code that was printed, at work, let go.

use crate::bench::{Bench, Test};
use crate::rules;
use crate::screen::{Screen, Theme};
use crate::workshop::Workshop;

pub(crate) const ALL: &[Test] = &[(
    "paired::a_tablet_is_let_in_and_let_go",
    a_tablet_is_let_in_and_let_go,
)];

fn a_tablet_is_let_in_and_let_go(bench: &Bench) {
    let page = bench.browser();
    page.show(Screen::TABLET, Theme::Light);
    let workshop = Workshop::with_cars().serve(&["--lan"]);
    page.go(&workshop.address("/car/tarn/lever"));
    assert!(!page.text("body").contains("Tarn"), "nothing is shown before");
    page.follow("Type the code");
    let (_, code) = workshop.said().split_once("type ").unwrap();
    let code = code.trim_start().get(..9).unwrap();
    page.fill("#code", &code.to_lowercase().replace('-', " "));
    page.fill("#name", "<b>tablet</b>");
    page.follow("Pair");
    page.until("document.querySelector('h1').textContent === 'Cars'");
    let _ = page.log();
    page.follow("Tarn 4");
    assert!(page.text("#answer .sentence").len() > 20);
    page.go(&workshop.address("/devices"));
    assert!(page.text(".devices").contains("<b>tablet</b>"));
    let square: (f64, f64) = page.js(
        "const box = document.querySelector('.square svg').getBoundingClientRect(); return [box.width, box.height]",
    );
    assert!(
        square.0 >= 200.0 && (square.0 - square.1).abs() < 1.0,
        "{square:?}"
    );
    let mut advice = Vec::new();
    rules::holds(&page, "devices of a network", &mut advice);
    page.keep("devices-paired", Screen::TABLET, Theme::Light);
    page.is_quiet();
    page.follow("Let go");
    assert!(page.text("body").contains("not paired"), "{}", page.text("body"));
}

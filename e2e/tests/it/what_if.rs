//! What if, by thumb: another bore in two taps, kept, taken over one by one, put back, put aside; and with plain forms.

use std::fs;

use crate::bench::{Bench, Test};
use crate::browser::Page;
use crate::screen::{Screen, Theme};
use crate::workshop::{Workshop, demonstration};

pub(crate) const ALL: &[Test] = &[
    (
        "what_if::another_bore_takes_two_taps",
        another_bore_takes_two_taps,
    ),
    (
        "what_if::a_proposal_is_kept_and_taken_over",
        a_proposal_is_kept_and_taken_over,
    ),
    ("what_if::it_works_with_forms_alone", it_works_with_forms_alone),
];

fn at_the_car(page: &Page<'_>, screen: Screen) -> Workshop {
    let workshop = Workshop::empty();
    workshop.add("tarn", &demonstration("tarn"));
    let workshop = workshop.serve(&[]);
    page.show(screen, Theme::Light);
    page.go(&workshop.address("/car/tarn/lever"));
    workshop
}

fn sheet(workshop: &Workshop) -> String {
    fs::read_to_string(workshop.cars().join("tarn/car.toml")).unwrap()
}

fn another_bore_takes_two_taps(bench: &Bench) {
    let page = bench.browser();
    let _workshop = at_the_car(&page, Screen::PHONE);
    assert_eq!(page.count("#beside section"), 0, "nothing is proposed");
    let before = page.text("#answer .figures");
    page.js::<()>("window.leaving = true");
    page.tap(".what-if > summary");
    page.tap(".part .choices a:nth-of-type(2)");
    page.until("!window.leaving && document.readyState === 'complete'");
    assert_eq!(page.at(), "/car/tarn/lever?with=lever.bore%3D16%20mm", "two taps");
    assert_ne!(page.text("#answer .figures"), before);
    let both = page.text("#beside");
    assert!(
        both.contains("as it is")
            && both.contains("as proposed")
            && both.contains("320 N")
            && both.contains("330 N"),
        "{both}"
    );
    let low: f64 = page.js(
        "return Math.min(...[...document.querySelectorAll('.what-if :is(.key, select, button), .what-if > summary')]
             .filter((key) => key.checkVisibility()).map((key) => key.getBoundingClientRect().height))",
    );
    assert!(low >= 44.0, "a glove misses {low} px");
    page.keep("what-if", Screen::PHONE, Theme::Light);
    // The same by a row of the table of bores: what it tries is in its name.
    page.unfold_to("a.try");
    page.tap("tr:first-child a.try");
    page.until("location.search.includes('lever.bore%3D1%2F2%20in')");
    page.show(Screen::DESKTOP, Theme::Dark);
    page.keep("what-if", Screen::DESKTOP, Theme::Dark);
    // Back to what the sheet has.
    page.follow("Throw it away");
    assert_eq!(page.at(), "/car/tarn/lever");
    page.is_quiet();
}

fn a_proposal_is_kept_and_taken_over(bench: &Bench) {
    let page = bench.browser();
    let workshop = at_the_car(&page, Screen::TABLET);
    let before = sheet(&workshop);
    page.go(&workshop.address("/car/tarn/lever?with=lever.bore%3D9%2F16%20in&with=lever.ratio%3D8"));
    page.fill("form.keep [name=name]", "small");
    page.fill("form.keep [name=note]", "lighter to pull");
    page.tap("form.keep button");
    page.until("document.querySelector('#what-if').textContent.includes('Kept beside the car')");
    let file = workshop.cars().join("tarn/proposals/small.toml");
    assert!(fs::read_to_string(&file).unwrap().contains("lever.bore=9/16 in"));
    // It is opened by its name, and the address can be handed on.
    page.follow("Open");
    assert_eq!(page.at(), "/car/tarn/lever?proposal=small");
    assert!(
        page.text("#state")
            .contains("As proposed: small. Lighter to pull.")
    );
    page.keep("what-if-kept", Screen::TABLET, Theme::Light);
    // One of both goes onto the sheet, and no other byte of it moves.
    page.tap("#what-if .offers li:first-child form button");
    page.until("document.querySelector('#what-if .offers li:first-child').textContent.includes('on the sheet already')");
    let old = "bore     = \"5/8 in\"";
    assert!(before.contains(old));
    assert_eq!(sheet(&workshop), before.replace(old, "bore     = \"9/16 in\""));
    assert!(
        page.text("#what-if .offers li:nth-child(2)")
            .contains("on the sheet: 7.0")
    );
    // And is put back where what was changed stands.
    page.go(&workshop.address("/car/tarn/compare?proposal=small"));
    page.click_text("Put it back");
    page.until("!document.querySelector('#what-if').textContent.includes('on the sheet already')");
    assert_eq!(sheet(&workshop), before);
    // What is dropped is put aside and not deleted.
    page.go(&workshop.address("/car/tarn/compare"));
    page.click_text("Put aside");
    page.until("!document.querySelector('#what-if').textContent.includes('Kept beside the car')");
    assert!(!file.exists());
    assert!(workshop.cars().join("tarn/proposals/dropped/small.toml").exists());
    // A faulty one is told, and the car is there as its sheet has it.
    page.go(&workshop.address("/car/tarn/lever?proposal=small"));
    assert!(
        page.text(".refused").contains("no proposal `small`")
            || page.text(".refused").contains("no proposal")
    );
    assert!(page.count(".stamp") > 0);
    let _ = page.log();
}

fn it_works_with_forms_alone(bench: &Bench) {
    let page = bench.browser();
    page.scripts(false);
    let workshop = at_the_car(&page, Screen::DESKTOP);
    page.click(".what-if > summary");
    page.click("#part-lever-bore option[value='lever.bore=9/16 in']");
    page.follow("Try them");
    assert_eq!(page.at(), "/car/tarn/lever?with=lever.bore%3D9%2F16%20in");
    page.fill("form.keep [name=name]", "small");
    page.follow("Keep it");
    assert_eq!(page.at(), "/car/tarn/compare?with=lever.bore%3D9%2F16%20in");
    assert!(workshop.cars().join("tarn/proposals/small.toml").exists());
    page.is_quiet();
}

//! The whole round by touch, with the server stopped and started in the middle; ticks that last; entries written, found,
//! struck.

use crate::bench::{Bench, Test};
use crate::browser::Page;
use crate::paper;
use crate::screen::{Screen, Theme};
use crate::workshop::Workshop;

pub(crate) const ALL: &[Test] = &[
    (
        "round::by_touch_with_the_server_gone_in_the_middle",
        by_touch_with_the_server_gone_in_the_middle,
    ),
    (
        "round::all_are_marked_at_once_and_a_press_is_taken_back",
        all_are_marked_at_once_and_a_press_is_taken_back,
    ),
    ("round::ticks_last", ticks_last),
    (
        "round::on_paper_there_is_what_is_ticked",
        on_paper_there_is_what_is_ticked,
    ),
    (
        "round::entries_are_written_found_and_struck",
        entries_are_written_found_and_struck,
    ),
    ("round::steps_of_the_work", steps_of_the_work),
];

const SHOWN: &str = ".joint:not([hidden])";

fn key(found: &str) -> String {
    format!("{SHOWN} [name=found][value={found}]")
}

/// How many entries the logbook has, asked in the terminal.
fn entries(workshop: &Workshop) -> usize {
    workshop
        .terminal(&["logbook", "list", "sedge", "--json"])
        .matches("\"device_entry\"")
        .count()
}

/// Presses a key of the shown joint and waits until it is on the disk.
fn found(page: &Page<'_>, word: &str) {
    let joint: String = page.js("return document.querySelector('.joint:not([hidden])').id");
    page.tap(&key(word));
    page.until(&format!(
        "document.querySelector('#{joint}')?.dataset.state === '{word}'"
    ));
}

fn by_touch_with_the_server_gone_in_the_middle(bench: &Bench) {
    let mut workshop = Workshop::with_cars().serve(&[]);
    let page = bench.browser();
    page.show(Screen::TABLET, Theme::Light);
    page.go(&workshop.address("/car/sedge/prove"));
    let joints = page.count(".joint");
    assert!(joints > 10, "{joints}");
    assert_eq!(page.count(SHOWN), 1, "one joint at a time");
    let sizes: Vec<f64> = page.js("return [...document.querySelectorAll('.joint:not([hidden]) .big-keys button')].map((key) => key.getBoundingClientRect().height)");
    assert!(
        sizes.iter().all(|height| *height >= 70.0),
        "keys for gloves: {sizes:?}"
    );
    let disabled: bool =
        page.js("return document.querySelector('.joint:not([hidden]) [value=dry]').disabled");
    assert!(disabled, "not dry before it is marked");
    page.keep("round", Screen::TABLET, Theme::Light);

    // The first three marked and dry, each waited for; a dry one makes room for the next.
    for number in 1..=3 {
        assert!(
            page.text(&format!("{SHOWN} h3"))
                .starts_with(&format!("Joint {number} of"))
        );
        found(&page, "marked");
        found(&page, "dry");
        page.until(&format!(
            "document.querySelector('{SHOWN} h3').textContent.startsWith('Joint {} of')",
            number + 1
        ));
    }
    assert_eq!(entries(&workshop), 6);

    // The connection goes. What is pressed now is kept, and shown as not yet written.
    let port = workshop.stop();
    page.tap(&key("marked"));
    page.until("document.querySelector('#kept')");
    assert!(
        page.text("#kept").starts_with("One entry is not yet written"),
        "{}",
        page.text("#kept")
    );
    page.until(&format!(
        "document.querySelector('{SHOWN} h3').textContent.startsWith('Joint 5 of')"
    ));
    page.tap(&key("marked"));
    page.until("document.querySelector('#kept').textContent.startsWith('2 entries')");
    assert_eq!(page.count(".joint.waiting"), 2);
    page.keep("round-not-yet-written", Screen::TABLET, Theme::Light);
    let _ = page.log(); // a connection that is refused is told to the console by the browser itself

    // It comes back, as another run with other tokens: both are written, once.
    workshop.start_on(&port);
    page.until("!document.querySelector('#kept')");
    page.until("document.querySelector('#joint-5')?.dataset.state === 'marked'");
    assert_eq!(entries(&workshop), 8);
    let _ = page.log();
    // Loading again sends nothing again.
    page.go(&workshop.address("/car/sedge/prove"));
    assert_eq!(entries(&workshop), 8);

    // On to the end.
    for number in 4..=joints {
        page.tap(&format!(".states a[data-joint='{}']", number - 1));
        if number > 5 {
            found(&page, "marked");
        }
        found(&page, "dry");
    }
    assert!(
        page.text("#answer")
            .starts_with(&format!("{joints} of {joints} dry")),
        "{}",
        page.text("#answer")
    );
    let holds = |check: &str| {
        page.tap(&format!("#check-{check} [value=held]"));
        page.until(&format!(
            "document.querySelector('#check-{check} > .says')?.textContent.startsWith('Holds: ')"
        ));
    };
    for check in ["bled", "screws", "pressed", "bypass-cold"] {
        holds(check);
    }
    for (check, first, second) in [("firm-pedal", "61", "60"), ("firm-hand", "84", "83")] {
        page.fill(&format!("#{check}-first"), first);
        page.fill(&format!("#{check}-second"), second);
        page.tap(&format!("#check-{check} [value=read]"));
        page.until(&format!(
            "document.querySelector('#check-{check} > .says')?.textContent.startsWith('Holds: ')"
        ));
    }
    page.fill("#even-left", "410");
    page.fill("#even-right", "402");
    page.tap("#check-even [value=read]");
    page.until("document.querySelector('#check-even > .says')?.textContent.startsWith('Holds: ')");
    assert!(
        page.js::<bool>("return document.querySelector('#signature-box button').disabled"),
        "the soak is open"
    );
    // Without a reason nothing is left out.
    page.tap("#check-soak [value=not-done]");
    page.until("document.querySelector('#kept .why')?.textContent.includes('has a reason')");
    page.click("#kept details details summary");
    page.click("[data-discard]");
    page.until("!document.querySelector('#kept')");
    page.fill("#soak-because", "no gauge in this workshop");
    page.tap("#check-soak [value=not-done]");
    page.until("document.querySelector('#answer .though')?.textContent.startsWith('NOT DONE')");
    // What the walk stands on is done.
    for check in ["walking", "bypass-hot", "slope"] {
        holds(check);
    }
    page.until("!document.querySelector('#signature-box button').disabled");
    page.fill("#sign-by", "A. Fell");
    page.fill("#sign-checked", "B. Moor");
    page.tap("#signature-box button");
    page.until("document.querySelector('.signed')");
    assert!(
        page.text(".signed").contains("Signed off by A. Fell"),
        "{}",
        page.text(".signed")
    );
    page.keep("round-signed", Screen::TABLET, Theme::Light);
    let proved = workshop.terminal(&["prove", "sedge"]);
    assert!(
        proved.contains("Signed off by A. Fell") && proved.contains("BECAUSE no gauge in this workshop"),
        "{proved}"
    );
    let verified = workshop.terminal(&["logbook", "verify", "sedge", "--json"]);
    assert!(verified.contains("\"ok\":true"), "{verified}");

    // Opening something takes it all back.
    page.js::<()>("document.querySelector('#touched-part').value = 'lever'");
    page.tap("[aria-labelledby=touched] button");
    page.until("!document.querySelector('.signed')");
}

/// On a phone: the four keys of a joint are in view, all joints are marked by one key, and what was pressed by mistake
/// is taken back within ten seconds.
fn all_are_marked_at_once_and_a_press_is_taken_back(bench: &Bench) {
    let workshop = Workshop::with_cars().serve(&[]);
    let page = bench.browser();
    page.show(Screen::PHONE, Theme::Dark);
    page.go(&workshop.address("/car/sedge/prove"));
    assert!(page.text("#bleeding summary").starts_with("Bleed first:"));
    page.js::<()>("document.querySelector('.joint:not([hidden])').scrollIntoView()");
    let in_view: bool = page.js(
        "return [...document.querySelectorAll('.joint:not([hidden]) .big-keys button')].every((key) => {
           const box = key.getBoundingClientRect(); return box.top >= 0 && box.bottom <= innerHeight; })",
    );
    assert!(in_view, "four keys in view");
    page.keep("joint", Screen::PHONE, Theme::Dark);
    let joints = page.count(".joint");
    page.tap(".all-marked button");
    page.until(&format!(
        "document.querySelectorAll('.joint[data-state=marked]').length === {joints}"
    ));
    assert_eq!(entries(&workshop), joints);
    page.tap(&key("dry"));
    page.until("document.querySelector('#joint-1').dataset.state === 'dry'");
    page.until("document.querySelector('#undo')?.textContent.includes('Dry')");
    page.keep("undo", Screen::PHONE, Theme::Dark);
    page.tap("#undo button");
    page.until("document.querySelector('#joint-1').dataset.state === 'marked'");
    assert_eq!(entries(&workshop), joints + 2, "struck, not taken out");
    page.is_quiet();
}

fn ticks_last(bench: &Bench) {
    let mut workshop = Workshop::with_cars().serve(&[]);
    let page = bench.browser();
    page.go(&workshop.address("/car/tarn/lines"));
    let first = ".ticks li:first-child .tick-off button";
    page.click(first);
    page.until(&format!(
        "document.querySelector('{first}').getAttribute('aria-pressed') === 'true'"
    ));
    // No page is open meanwhile that asks how its files stand, and finds nobody.
    page.go("about:blank");
    workshop.restart();
    page.go(&workshop.address("/car/tarn/lines"));
    assert!(page.js::<bool>(&format!(
        "return document.querySelector('{first}').getAttribute('aria-pressed') === 'true'"
    )));
    page.click(first);
    page.until(&format!(
        "document.querySelector('{first}').getAttribute('aria-pressed') === 'false'"
    ));
    assert_eq!(page.count("#lines-drawing svg"), 1);
    page.keep("lines", Screen::DESKTOP, Theme::Light);
    page.is_quiet();
}

/// The empty sheet of the round is one page, the lists begin on pages of their own, and nothing that is pressed is printed.
fn on_paper_there_is_what_is_ticked(bench: &Bench) {
    let workshop = Workshop::with_cars().serve(&[]);
    let page = bench.browser();
    for car in ["sedge", "bin"] {
        page.go(&workshop.address(&format!("/car/{car}/prove")));
        let joints = page.count(".joint");
        let sheets = paper::pages(&page.paper());
        assert_eq!(sheets.len(), 1, "{car}: {sheets:?}");
        let sheet = &sheets[0];
        for said in [
            "Proving sheet",
            "Bleed in this order",
            "bled until clear",
            "holds on a slope",
            "Not done, because",
            "Computed figures do not replace",
        ] {
            assert!(sheet.contains(said), "{car}: {said} in {sheet}");
        }
        let boxes = sheet.matches("[ ]").count();
        assert_eq!(boxes, 5 * joints, "{car}: five boxes a joint: {sheet}");
        nothing_to_press(sheet);
    }
    page.go(&workshop.address("/car/tarn/lines"));
    let sheets = paper::pages(&page.paper());
    for (list, says) in [("What to buy", "bleed screw cap"), ("How long to cut", "620 mm")] {
        let sheet = sheets.iter().find(|sheet| sheet.starts_with(list));
        assert!(
            sheet.is_some_and(|sheet| sheet.contains(says)),
            "{list}: {sheets:?}"
        );
    }
    nothing_to_press(&sheets.join(" "));
    page.is_quiet();
}

fn nothing_to_press(paper: &str) {
    for key in [
        "Tight, marked",
        "It was opened",
        "Sign it off",
        "Judge it",
        "Enlarge it",
        "Print",
    ] {
        assert!(!paper.contains(key), "{key} in {paper}");
    }
}

fn entries_are_written_found_and_struck(bench: &Bench) {
    let workshop = Workshop::with_cars().serve(&[]);
    let page = bench.browser();
    page.go(&workshop.address("/car/sedge/logbook"));
    assert_eq!(
        page.count("[data-for=pads]:not([hidden])"),
        0,
        "only what belongs to a kind is asked"
    );
    page.fill("#entry-text", "pads look fine");
    page.click("[aria-labelledby=add] button");
    page.until("document.querySelectorAll('.entries > .entry').length === 1");
    page.js::<()>("const kind = document.querySelector('#entry-kind'); kind.value = 'setting'; kind.dispatchEvent(new Event('input', {bubbles: true}))");
    page.fill("#entry-text", "valve 2.5 turns, half tank");
    page.fill("#entry-event", "Hill of the Two Larches");
    page.fill("#entry-came", "came round on gravel");
    page.click("[aria-labelledby=add] button");
    page.until("document.querySelector('[aria-labelledby=set] td')");
    assert!(
        page.text("[aria-labelledby=set]")
            .contains("Hill of the Two Larches")
    );
    page.fill("#only-text", "larches");
    page.until("document.querySelectorAll('.entries > .entry:not([hidden])').length === 1");
    page.fill("#only-text", " ");
    page.js::<()>("const only = document.querySelector('#only-kind'); only.value = 'note'; only.dispatchEvent(new Event('input', {bubbles: true}))");
    page.until("document.querySelectorAll('.entries > .entry:not([hidden])').length === 1 && document.querySelector('.entry[data-kind=note]')");
    page.click(".entry[data-kind=note] summary");
    page.fill(".entry[data-kind=note] input[name=why]", "they were not");
    page.click(".entry[data-kind=note] button");
    page.until("document.querySelector('.entry.struck')");
    assert!(
        page.text(".entry.struck").contains("struck by entry 3"),
        "{}",
        page.text(".entry.struck")
    );
    page.keep("logbook", Screen::DESKTOP, Theme::Light);
    page.is_quiet();
}

fn steps_of_the_work(bench: &Bench) {
    let workshop = Workshop::with_cars().serve(&[]);
    let page = bench.browser();
    page.go(&workshop.address("/car/sedge/plan"));
    let first = page.text("#answer .sentence");
    page.click(".work form button");
    page.other_text("#answer .sentence", &first);
    let answer = page.text("#answer");
    assert!(answer.contains("Next: "), "{answer}");
    page.until("document.querySelector('.work li.done')");
    let plan = workshop.terminal(&["plan", "sedge", "--json"]);
    assert!(plan.contains("\"done\":true"), "{plan}");
    page.is_quiet();
}

//! What a person has pressed is on the disk, or it waits and says why: whatever answers, whatever the browser may keep.

use std::time::Duration;

use rusqlite::Connection;

use crate::bench::{Bench, Test};
use crate::browser::Page;
use crate::screen::{Screen, Theme};
use crate::workshop::{Workshop, demonstration};

pub(crate) const ALL: &[Test] = &[
    (
        "kept::while_the_server_comes_back_for_paired_devices",
        while_the_server_comes_back_for_paired_devices,
    ),
    ("kept::while_the_car_is_elsewhere", while_the_car_is_elsewhere),
    (
        "kept::a_sheet_with_a_fault_takes_entries",
        a_sheet_with_a_fault_takes_entries,
    ),
    ("kept::while_the_logbook_is_in_use", while_the_logbook_is_in_use),
    ("kept::while_the_device_is_let_go", while_the_device_is_let_go),
    (
        "kept::a_full_store_says_so_at_the_tap",
        a_full_store_says_so_at_the_tap,
    ),
    (
        "kept::a_forbidden_store_says_so_at_the_tap",
        a_forbidden_store_says_so_at_the_tap,
    ),
    (
        "kept::what_is_refused_is_read_and_thrown_away",
        what_is_refused_is_read_and_thrown_away,
    ),
];

const MARK: &str = ".joint:not([hidden]) [name=found][value=marked]";

/// A workshop, and the round of a car in it.
fn round(page: &Page<'_>, arguments: &[&str]) -> Workshop {
    let workshop = Workshop::empty();
    workshop.add("sedge", &demonstration("sedge"));
    let workshop = workshop.serve(arguments);
    page.show(Screen::TABLET, Theme::Light);
    if !arguments.contains(&"--lan") {
        page.go(&workshop.address("/car/sedge/prove"));
    }
    workshop
}

fn entries(workshop: &Workshop) -> usize {
    workshop
        .terminal(&["logbook", "list", "sedge", "--json"])
        .matches("\"device_entry\"")
        .count()
}

/// Waits until the page says that entries wait, for that reason.
fn waits(page: &Page<'_>, because: &str) {
    page.until("document.querySelector('#kept .why')");
    page.until(&format!(
        "document.querySelector('#kept .why').textContent.includes({})",
        serde_json::json!(because)
    ));
}

fn written(page: &Page<'_>, workshop: &Workshop, count: usize) {
    page.until("!document.querySelector('#kept')");
    assert_eq!(entries(workshop), count);
    let left: usize = page.js("try { return Object.keys(localStorage).filter((name) => name.startsWith('rearline')).length } catch { return 0 }");
    assert_eq!(left, 0, "the store is empty");
    let _ = page.log();
}

/// Types the code that the program printed.
fn pair(page: &Page<'_>, workshop: &Workshop) {
    let (_, code) = workshop.said().rsplit_once("type ").unwrap();
    pair_with(page, workshop, code.trim_start().get(..9).unwrap());
}

fn pair_with(page: &Page<'_>, workshop: &Workshop, code: &str) {
    page.go(&workshop.address("/pair"));
    page.fill("#code", code);
    page.follow("Pair");
    page.until("document.querySelector('h1').textContent === 'Cars'");
}

fn while_the_server_comes_back_for_paired_devices(bench: &Bench) {
    let page = bench.browser();
    let mut workshop = round(&page, &[]);
    let port = workshop.stop();
    page.tap(MARK);
    waits(&page, "does not answer");
    workshop.start_on_with(&port, &["--lan"]);
    waits(&page, "not let in");
    assert_eq!(entries(&workshop), 0);
    // It stands on every page, a stranger's too.
    page.go(&workshop.address("/"));
    waits(&page, "not let in");
    page.keep("waits-not-paired", Screen::TABLET, Theme::Light);
    page.go(&workshop.address("/pair"));
    waits(&page, "not let in");
    pair(&page, &workshop);
    written(&page, &workshop, 1);
}

fn while_the_car_is_elsewhere(bench: &Bench) {
    let page = bench.browser();
    let workshop = round(&page, &[]);
    let (here, there) = (workshop.cars().join("sedge"), workshop.cars().join("sedge-old"));
    std::fs::rename(&here, &there).unwrap();
    page.tap(MARK);
    waits(&page, "no car sedge");
    for path in [
        "/",
        "/preferences",
        "/car/sedge/prove",
        "/nowhere",
        "/car/sedge-old/lever",
    ] {
        page.go(&workshop.address(path));
        waits(&page, "no car sedge");
        assert!(
            page.text("#kept").contains("sedge: Joint 1 of"),
            "{path}: {}",
            page.text("#kept")
        );
    }
    page.keep("waits", Screen::TABLET, Theme::Light);
    std::fs::rename(&there, &here).unwrap();
    written(&page, &workshop, 1);
}

fn a_sheet_with_a_fault_takes_entries(bench: &Bench) {
    let page = bench.browser();
    let workshop = round(&page, &[]);
    let sheet = demonstration("sedge");
    workshop.add(
        "sedge",
        &sheet
            .replacen("[load", "[lode", 1)
            .replacen("wheelbase", "wheelbace", 1),
    );
    page.tap(MARK);
    for _ in 0..200 {
        if workshop.cars().join("sedge/logbook.db").exists() && entries(&workshop) == 1 {
            break;
        }
        std::thread::sleep(Duration::from_millis(25));
    }
    written(&page, &workshop, 1);
    // And on the page that lists the faults.
    page.go(&workshop.address("/car/sedge/prove"));
    page.fill("#entry-text", "the sheet is torn");
    page.click("[aria-labelledby=add] button");
    page.until("document.querySelectorAll('.entries > .entry').length === 2");
    page.keep("faults-with-entries", Screen::TABLET, Theme::Light);
    workshop.add("sedge", &sheet);
    page.until("document.querySelector('#stale')");
    page.click("[data-renew]");
    page.until("document.querySelector('#joint-1')?.dataset.state === 'marked'");
    written(&page, &workshop, 2);
}

fn while_the_logbook_is_in_use(bench: &Bench) {
    let page = bench.browser();
    let workshop = round(&page, &[]);
    page.tap(MARK);
    page.until("document.querySelector('#joint-1')?.dataset.state === 'marked'");
    let other = Connection::open(workshop.cars().join("sedge/logbook.db")).unwrap();
    other.execute_batch("BEGIN EXCLUSIVE").unwrap();
    page.tap(".joint:not([hidden]) [name=found][value=dry]");
    waits(&page, "in use");
    other.execute_batch("ROLLBACK").unwrap();
    drop(other);
    page.until("document.querySelector('#joint-1')?.dataset.state === 'dry'");
    written(&page, &workshop, 2);
}

fn while_the_device_is_let_go(bench: &Bench) {
    let page = bench.browser();
    let workshop = round(&page, &["--lan"]);
    pair(&page, &workshop);
    page.go(&workshop.address("/car/sedge/prove"));
    page.until("document.querySelector('.joint')");
    let code = page.promised(
        "fetch('/devices').then((response) => response.text()).then((text) => {
           const made = new DOMParser().parseFromString(text, 'text/html');
           const body = new URLSearchParams(new FormData(made.querySelector('.devices form')));
           return fetch('/devices/forget', {method: 'POST', body}).then(() => made.querySelector('.pairing-code').textContent);
         })",
    );
    page.tap(MARK);
    waits(&page, "not let in");
    page.keep("waits-let-go", Screen::TABLET, Theme::Light);
    pair_with(&page, &workshop, code.as_str().unwrap());
    written(&page, &workshop, 1);
}

/// The tap says that nothing is kept; what was pressed is written as soon as it can be, as long as the page is open.
fn says_so_at_the_tap(page: &Page<'_>, mut workshop: Workshop, why: &str) {
    page.tap(MARK);
    page.until("document.querySelector('#joint-1')?.dataset.state === 'marked'");
    let port = workshop.stop();
    page.tap(".states a[data-joint='1']");
    page.js::<()>("window.said = ''; new MutationObserver(() => { window.said += document.querySelector('#joint-2 .sending')?.textContent ?? '' }).observe(document.querySelector('#joint-2 .sending'), {childList: true})");
    page.tap(MARK);
    page.until(&format!("window.said.includes({})", serde_json::json!(why)));
    page.until("document.querySelector('#kept')?.textContent.includes('leave this page open')");
    page.keep("waits-not-kept", Screen::TABLET, Theme::Light);
    workshop.start_on(&port);
    page.until("!document.querySelector('#kept')");
    page.until("document.querySelector('#joint-2')?.dataset.state === 'marked'");
    assert_eq!(entries(&workshop), 2);
    let _ = page.log();
}

fn a_full_store_says_so_at_the_tap(bench: &Bench) {
    let page = bench.browser();
    let workshop = round(&page, &[]);
    page.js::<()>(
        "for (let size = 1 << 22; size >= 1; size >>= 1) {
           try { for (let part = 0; part < 64; part += 1) localStorage.setItem(`full-${size}-${part}`, 'x'.repeat(size)); } catch {}
         }",
    );
    says_so_at_the_tap(&page, workshop, "the store of this browser is full");
    page.js::<()>("localStorage.clear()");
}

fn a_forbidden_store_says_so_at_the_tap(bench: &Bench) {
    let page = bench.browser();
    page.forbid_storage();
    let workshop = round(&page, &[]);
    assert!(page.js::<bool>("try { localStorage; return false } catch { return true }"));
    says_so_at_the_tap(&page, workshop, "may not store anything");
}

fn what_is_refused_is_read_and_thrown_away(bench: &Bench) {
    let page = bench.browser();
    let workshop = round(&page, &[]);
    page.tap(MARK);
    page.until("document.querySelector('#joint-1')?.dataset.state === 'marked'");
    // Somebody at the terminal finds otherwise before the page is looked at again.
    workshop.terminal(&["prove", "sedge", "--joint", "1", "--is", "weep"]);
    workshop.terminal(&["prove", "sedge", "--joint", "1", "--is", "remade"]);
    page.tap(".joint:not([hidden]) [name=found][value=dry]");
    waits(&page, "joint 1 is remade since entry 3");
    page.keep("refused-entry", Screen::TABLET, Theme::Light);
    page.go(&workshop.address("/car/sedge/lever"));
    waits(&page, "joint 1 is remade");
    std::thread::sleep(Duration::from_millis(2500));
    assert_eq!(entries(&workshop), 3, "it is not sent again by itself");
    page.click("#kept details details summary");
    page.click("[data-discard]");
    written(&page, &workshop, 3);
}

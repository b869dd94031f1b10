//! The answer in one look: above the fold, in view while a handle moves, everything else folded under a line; and on paper.

use serde::Deserialize;

use crate::bench::{Bench, Test};
use crate::browser::Page;
use crate::pages::rooms_of;
use crate::paper;
use crate::screen::{Screen, Theme};

pub(crate) const ALL: &[Test] = &[
    (
        "look::a_phone_shows_the_answer_on_its_first_screen",
        a_phone_shows_the_answer_on_its_first_screen,
    ),
    (
        "look::the_answer_stays_in_view_while_a_handle_is_dragged",
        the_answer_stays_in_view_while_a_handle_is_dragged,
    ),
    (
        "look::what_is_folded_says_what_it_is",
        what_is_folded_says_what_it_is,
    ),
    (
        "look::the_list_of_questions_is_one_tap_away",
        the_list_of_questions_is_one_tap_away,
    ),
    (
        "look::a_link_to_a_finding_opens_what_it_lies_in",
        a_link_to_a_finding_opens_what_it_lies_in,
    ),
    (
        "look::paper_has_every_word_and_no_key",
        paper_has_every_word_and_no_key,
    ),
];

/// Rooms whose answer is a stamp with handles and a picture.
const HANDLED: [&str; 7] = [
    "assessment",
    "balance",
    "settings",
    "lever",
    "pressures",
    "heat",
    "hold",
];

/// Where the pieces of an answer end, from the top of the page.
#[derive(Debug, Deserialize)]
struct Ends {
    stamp: f64,
    because: f64,
    figures: f64,
    picture: f64,
    screen: f64,
}

const ENDS: &str = "
    const end = (css) => (document.querySelector(css)?.getBoundingClientRect().bottom ?? 0) + scrollY;
    return {stamp: end('#answer .stamp'), because: end('#answer .sentence'), figures: end('#answer dl.figures'), picture: end('#drawing svg:not(.bar)'), screen: innerHeight}";

fn a_phone_shows_the_answer_on_its_first_screen(bench: &Bench) {
    let page = bench.browser();
    page.show(Screen::LARGE_PHONE, Theme::Light);
    for room in HANDLED {
        page.go(&bench.demo().address(&format!("/car/tarn/{room}")));
        let ends: Ends = page.js(ENDS);
        assert!(
            ends.stamp > 0.0 && ends.stamp < ends.screen / 2.0,
            "{room}: {ends:?}"
        );
        assert!(
            ends.because < ends.screen && ends.figures < ends.screen,
            "{room}: {ends:?}"
        );
        // The handles lie at the foot of the first screen already.
        assert!(ends.picture < 2.0 * ends.screen, "{room}: {ends:?}");
        let drawer: (f64, bool) = page.js("const drawer = document.querySelector('#drawer'); return [innerHeight - drawer.getBoundingClientRect().bottom, drawer.open]");
        assert!(
            drawer.0.abs() < 1.0 && !drawer.1,
            "{room}: the drawer lies at {drawer:?}"
        );
    }
    page.is_quiet();
}

/// What is seen of something: its height, and whether nothing lies over its middle.
fn is_seen(page: &Page<'_>, css: &str) -> bool {
    page.js_of(
        "const all = [...document.querySelectorAll(arguments[0])];
         return all.some((element) => {
           const box = element.getBoundingClientRect(), [top, bottom] = [Math.max(0, box.top), Math.min(innerHeight, box.bottom)];
           if (!element.checkVisibility() || bottom - top < Math.min(24, box.height)) return false;
           for (let y = top + 4; y < bottom; y += 8) {
             const at = document.elementFromPoint(box.left + box.width / 2, y);
             if (at && (element.contains(at) || at.contains(element))) return true;
           }
           return false;
         })",
        &[serde_json::json!(css)],
    )
}

fn the_answer_stays_in_view_while_a_handle_is_dragged(bench: &Bench) {
    let page = bench.browser();
    for screen in [
        Screen::PHONE,
        Screen::LARGE_PHONE,
        Screen::TABLET,
        Screen::DESKTOP,
    ] {
        page.show(screen, Theme::Light);
        for (room, handle) in [
            ("assessment", "#handle-speed"),
            ("balance", "#handle-fuel"),
            ("heat", "#handle-fuel"),
        ] {
            page.go(&bench.demo().address(&format!("/car/tarn/{room}")));
            // As far down as the picture: whoever moves a handle looks at what it does.
            page.js::<()>("document.querySelector('#drawing').scrollIntoView({block: 'start'})");
            page.until("document.querySelector('#answer .verdict').getBoundingClientRect().bottom > 0 || document.querySelector('.past')");
            page.drag(handle, -40, || {
                let name = format!("{room} on a {}", screen.name);
                page.until("document.querySelector('#glance .stamp').textContent === document.querySelector('#answer .stamp').textContent");
                assert!(is_seen(&page, "#answer .stamp, #glance .stamp"), "{name}: the stamp is gone");
                assert!(is_seen(&page, "#answer .figure strong, #glance strong"), "{name}: the figures are gone");
                assert!(is_seen(&page, "#drawing svg"), "{name}: the picture is gone");
                let share: f64 = page.js("return (document.querySelector('#glance').getBoundingClientRect().height ?? 0) / innerHeight");
                assert!(share < 0.12, "{name}: the line takes {share} of the screen");
            });
            page.until("location.search !== ''");
        }
    }
    page.is_quiet();
}

fn what_is_folded_says_what_it_is(bench: &Bench) {
    let page = bench.browser();
    for kind in rooms_of("tarn") {
        page.go(&bench.address(&kind));
        let dumb: Vec<String> = page.js(
            "return [...document.querySelectorAll('.fold > summary:has(h2)')]
               .filter((summary) => !(summary.querySelector('h2').textContent.trim() && summary.querySelector('.in-short')?.textContent.trim().length > 2))
               .map((summary) => summary.textContent)",
        );
        assert!(dumb.is_empty(), "{}: {dumb:?}", kind.name);
        let (open, findings): (usize, usize) = page.js(
            "return [document.querySelectorAll('.fold[open]').length,
                     [...document.querySelectorAll('.finding')].filter((finding) => finding.checkVisibility()).length]",
        );
        assert!(
            open == 0 && findings <= 3,
            "{}: {open} folds are open, {findings} findings",
            kind.name
        );
    }
    // The car from above is a strip of four wheels where another picture is the subject.
    page.go(&bench.demo().address("/car/tarn/balance"));
    let wheels: Vec<String> = page.js("return [...document.querySelectorAll('.strip .wheel')].map((wheel) => wheel.textContent.replace(/\\s+/g, ' ').trim())");
    assert_eq!(wheels.len(), 4);
    assert!(
        wheels[0].starts_with("front left") && wheels[3].ends_with("bar"),
        "{wheels:?}"
    );
    assert!(!is_seen(&page, ".wheels svg"));
    page.click(".wheels > summary");
    page.until("document.querySelector('.wheels[open]')");
    page.js::<()>("document.querySelector('.wheels svg').scrollIntoView({block: 'center'})");
    assert!(is_seen(&page, ".wheels svg"));
    page.is_quiet();
}

fn the_list_of_questions_is_one_tap_away(bench: &Bench) {
    let page = bench.browser();
    page.show(Screen::PHONE, Theme::Light);
    page.go(&bench.demo().address("/car/tarn/balance"));
    page.tap(".to-index");
    page.until("location.hash === '#index'");
    assert!(
        is_seen(&page, "nav [aria-current=page]"),
        "the list lies over the page"
    );
    page.click("nav .close");
    page.until("location.hash === '#main'");
    assert!(!is_seen(&page, "nav [aria-current=page]"));
    page.tap(".to-index");
    page.click("nav a[href='/car/tarn/heat']");
    page.until("location.pathname.endsWith('/heat') && document.readyState === 'complete'");
    page.is_quiet();
}

fn a_link_to_a_finding_opens_what_it_lies_in(bench: &Bench) {
    let page = bench.browser();
    let address = bench.demo().address("/car/tarn/assessment");
    page.go(&address);
    let last: String = page.js("return [...document.querySelectorAll('.finding')].at(-1).id");
    assert!(!is_seen(&page, &format!("#{last}")));
    page.go("about:blank");
    page.go(&format!("{address}#{last}"));
    page.until(&format!("document.querySelector('#{last}').checkVisibility()"));
    page.until(&format!(
        "document.querySelector('#{last}').getBoundingClientRect().top < innerHeight"
    ));
    assert!(is_seen(&page, &format!("#{last} h3")));
    page.is_quiet();
}

/// As printed: headings without anything under them, what is pressed, pictures of which nothing is left, and names of the
/// sheet's keys where words belong.
const PRINTED: &str = "
    const shown = (element) => element.checkVisibility() && element.getBoundingClientRect().height > 0;
    const all = [...document.querySelectorAll('main *')].filter(shown);
    const level = (heading) => Number(heading.tagName[1]);
    const heads = all.filter((element) => /^H[1-6]$/.test(element.tagName));
    const bare = heads.filter((heading) => {
      const after = all.slice(all.indexOf(heading) + 1).filter((element) => !heading.contains(element));
      const next = after.find((element) => element.textContent.trim() || element.tagName === 'svg');
      return !next || heads.includes(next) && level(next) <= level(heading);
    }).map((heading) => heading.textContent);
    const keys = all.filter((element) => element.matches('button, .key, input[type=range], input[type=checkbox], select, .nudge')).map((element) => element.outerHTML.slice(0, 80));
    const lost = [...document.querySelectorAll('main figure.drawn')].filter((figure) => figure.checkVisibility()
      && ![...figure.querySelectorAll('svg')].some(shown)).map((figure) => figure.id);
    const raw = [...document.querySelectorAll('main code')].filter(shown).map((code) => code.textContent)
      .filter((text) => /^[a-z_]+\\.[a-z_.]+$/.test(text));
    return [bare, keys, lost, raw]";

fn paper_has_every_word_and_no_key(bench: &Bench) {
    let page = bench.browser();
    for kind in rooms_of("tarn") {
        page.go(&bench.address(&kind));
        let last = page.text(".finding:last-of-type h3");
        page.on_paper(true);
        let (bare, keys, lost, raw): (Vec<String>, Vec<String>, Vec<String>, Vec<String>) = page.js(PRINTED);
        page.on_paper(false);
        assert!(
            bare.is_empty(),
            "{}: headings without content: {bare:?}",
            kind.name
        );
        assert!(keys.is_empty(), "{}: keys on paper: {keys:?}", kind.name);
        assert!(lost.is_empty(), "{}: pictures lost on paper: {lost:?}", kind.name);
        assert!(
            raw.is_empty(),
            "{}: keys of the sheet on paper: {raw:?}",
            kind.name
        );
        if kind.name == "tarn-assessment" {
            let text = paper::text(&page.paper());
            let last = last.split_once(' ').map_or("", |(_, title)| title);
            assert!(
                last.len() > 8 && text.contains(last),
                "{last:?} is folded on a screen, and not on paper: {text}"
            );
        }
    }
    page.is_quiet();
}

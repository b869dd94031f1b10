//! Who can use it: small and huge screens, gloves, the keyboard, little motion, by day and by night.

use serde::Deserialize;
use thirtyfour::Key;

use crate::bench::{Bench, Test};
use crate::browser::Page;
use crate::pages::{Kind, kinds, rooms_of};
use crate::screen::{Screen, Theme};

pub(crate) const ALL: &[Test] = &[(
    "reach::the_focus_is_seen_at_every_stop",
    the_focus_is_seen_at_every_stop,
)];

/// The smallest side of what is pressed, in pixels.
const TARGET: f64 = 44.0;

/// Something that sticks out, and by how much.
#[derive(Debug, Deserialize)]
#[expect(dead_code, reason = "shown where a test fails")]
struct Out {
    what: String,
    by: f64,
}

/// What reaches beyond the right edge and is not within something that can be pushed by itself.
fn sticks_out(page: &Page<'_>, width: u32) -> Vec<Out> {
    page.js(&format!(
        "const scrolls = (element) => {{
           for (let at = element.parentElement; at; at = at.parentElement) {{
             if (at.id === 'main') return false;
             if (['auto', 'scroll', 'hidden'].includes(getComputedStyle(at).overflowX) && at !== document.documentElement && at !== document.body) return true;
           }}
           return false;
         }};
         const out = [];
         if (document.documentElement.scrollWidth > {width}) out.push({{what: 'the page', by: document.documentElement.scrollWidth - {width}}});
         for (const element of document.body.querySelectorAll('*')) {{
           if (!element.checkVisibility() || element.closest('svg') !== null && element.tagName !== 'svg' || element.matches('.skip')) continue;
           const box = element.getBoundingClientRect();
           if (box.width && (box.right > {width} + 0.5 || box.left < -0.5) && !scrolls(element))
             out.push({{what: element.outerHTML.slice(0, 120), by: box.right - {width}}});
         }}
         return out.slice(0, 4)"
    ))
}

/// Controls that stand by themselves; a link within a sentence may be as high as its line (WCAG 2.5.8, 2.5.5).
const TOO_SMALL: &str = "
    const size = (element) => {
      const box = (element.closest('label') ?? document.querySelector(`label.tick:has(#${element.id || 'none'})`) ?? element).getBoundingClientRect();
      return [box.width, box.height];
    };
    const within_a_sentence = (element) => {
      if (element.tagName !== 'A' || getComputedStyle(element).display !== 'inline') return false;
      // What is typed stands in brackets within the sentence.
      const around = (element.closest('.typed') ?? element).parentElement.textContent.trim();
      return around.length > element.textContent.trim().length + 8;
    };
    return [...document.querySelectorAll('a[href], button, input:not([type=hidden]), select, summary')]
      .filter((element) => element.checkVisibility() && !element.matches('.skip') && !within_a_sentence(element))
      .map((element) => [element.outerHTML.slice(0, 110), ...size(element)])
      .filter(([, width, height]) => Math.min(width, height) < 43.9)
      .map(([what, width, height]) => ({what, by: Math.min(width, height)}))";

/// Words in pictures that are smaller than they are to be, or lie over a line of what is drawn.
const BADLY_DRAWN: &str = "
    // A path as the straight pieces that it is made of; a rounded corner as sixteen.
    const chords = (path) => {
      const pieces = [];
      let begun, here;
      const to = (there) => { pieces.push([here, there]); here = there; };
      for (const [, step, rest] of path.matchAll(/([A-Za-z])([^A-Za-z]*)/g)) {
        const [a, b, c, d] = (rest.match(/-?[\\d.]+/g) ?? []).map(Number);
        if (step === 'M') begun = here = [a, b];
        else if (step === 'L') to([a, b]);
        else if (step === 'Z') to(begun);
        else if (step === 'Q') {
          const from = here, mix = (p, q, r, t) => (1 - t) ** 2 * p + 2 * t * (1 - t) * q + t ** 2 * r;
          for (let k = 1; k <= 16; k++) to([mix(from[0], a, c, k / 16), mix(from[1], b, d, k / 16)]);
        } else throw new Error(`${step} in a path`);
      }
      return pieces;
    };
    const out = [];
    for (const svg of document.querySelectorAll('.drawn svg')) {
      if (!svg.checkVisibility()) continue;
      const scale = svg.getScreenCTM().a;
      const words = [...svg.querySelectorAll('text')].filter((text) => text.textContent.trim() && !text.matches('.joint-number'));
      for (const text of words) {
        const size = parseFloat(text.getAttribute('font-size')) * scale;
        if (size < 13.95) out.push({what: `${text.textContent} is small`, by: size});
      }
      const boxes = words.map((text) => [text.textContent, text.getBBox(), parseFloat(text.getAttribute('font-size'))]);
      for (const line of svg.querySelectorAll('path.line')) {
        const half = parseFloat(line.getAttribute('stroke-width')) / 2;
        // A point each 2 px. The browser's own `getPointAtLength` begins at the start of the line each time.
        let at = 0, walked = 0;
        for (const [from, there] of chords(line.getAttribute('d'))) {
          const long = Math.hypot(there[0] - from[0], there[1] - from[1]);
          for (; at < walked + long; at += 2) {
            const part = (at - walked) / long;
            const x = from[0] + part * (there[0] - from[0]), y = from[1] + part * (there[1] - from[1]);
            for (const [text, box, size] of boxes) {
              // From the top of a figure to the base line: what hangs below it may touch.
              const base = box.y + 0.77 * box.height, top = base - 0.72 * size;
              if (x > box.x - half && x < box.x + box.width + half && y > top - half && y < base + half)
                out.push({what: `${text} over ${line.getAttribute('class')}`, by: at});
            }
          }
          walked += long;
        }
      }
    }
    // What stands below the bar of a figure.
    for (const ends of document.querySelectorAll('svg.ends')) {
      if (!ends.checkVisibility()) continue;
      const words = [...ends.querySelectorAll('text')].map((text) => [text.textContent, text.getBoundingClientRect()]);
      for (const [index, [text, box]] of words.entries())
        for (const [other, its] of words.slice(0, index))
          if (box.left < its.right - 1 && its.left < box.right - 1 && box.top < its.bottom - 1 && its.top < box.bottom - 1)
            out.push({what: `${text} over ${other}`, by: its.right - box.left});
    }
    return out.slice(0, 6)";

/// Words in pictures can be read as they are shown, and hide nothing.
pub(crate) fn well_drawn(page: &Page<'_>, kind: &Kind, screen: Screen) {
    let bad: Vec<Out> = page.js(BADLY_DRAWN);
    assert!(bad.is_empty(), "{} on a {}: {bad:#?}", kind.name, screen.name);
}

/// Nothing of a page that is open sticks out, and whatever is pressed on it is large enough for gloves.
pub(crate) fn fits(page: &Page<'_>, kind: &Kind, screen: Screen) {
    let out = sticks_out(page, screen.width);
    assert!(out.is_empty(), "{} at {} px: {out:#?}", kind.name, screen.width);
    let small: Vec<Out> = page.js(TOO_SMALL);
    assert!(
        small.is_empty(),
        "{} on a {}, under {TARGET} px: {small:#?}",
        kind.name,
        screen.name
    );
}

/// A stop of the keyboard, as it looks while the focus is on it.
#[derive(Debug, Deserialize)]
#[expect(dead_code, reason = "`what` is shown where a test fails")]
struct Stop {
    what: String,
    outline: f64,
    style: String,
    /// Of the outline against what is around it.
    contrast: f64,
    on_screen: bool,
    covered: bool,
    nowhere: bool,
}

const STOP: &str = "
    const element = document.activeElement;
    const look = getComputedStyle(element), box = element.getClientRects()[0] ?? element.getBoundingClientRect();
    const rgb = (colour) => colour.match(/[\\d.]+/g).map(Number);
    const light = ([r, g, b]) => {
      const one = (c) => (c /= 255) <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4;
      return 0.2126 * one(r) + 0.7152 * one(g) + 0.0722 * one(b);
    };
    let ground = [255, 255, 255];
    for (let at = element.parentElement; at; at = at.parentElement) {
      const colour = rgb(getComputedStyle(at).backgroundColor);
      if (colour.length < 4 || colour[3] === 1) { ground = colour; break; }
    }
    const [a, b] = [light(rgb(look.outlineColor)), light(ground)].sort((x, y) => y - x);
    const x = Math.min(Math.max(box.left + box.width / 2, 0), innerWidth - 1);
    const seen = (y) => {
      const there = document.elementFromPoint(x, Math.min(Math.max(y, 0), innerHeight - 1));
      return there && (element.contains(there) || there.contains(element));
    };
    // What is taller than the screen begins above it: then its middle has to be seen.
    const middle = (Math.max(box.top, 0) + Math.min(box.bottom, innerHeight)) / 2;
    const uncovered = seen(box.top + Math.min(box.height, 40) / 2) || box.height > innerHeight / 2 && seen(middle);
    return {
      what: element.outerHTML.slice(0, 100), outline: parseFloat(look.outlineWidth), style: look.outlineStyle,
      contrast: (a + 0.05) / (b + 0.05),
      on_screen: box.bottom > 0 && box.top < innerHeight && box.right > 0 && box.left < innerWidth && box.width > 0,
      covered: !uncovered,
      nowhere: element === document.body,
    };";

fn the_focus_is_seen_at_every_stop(bench: &Bench) {
    let page = bench.browser();
    for (screen, theme, kinds) in [
        (Screen::DESKTOP, Theme::Light, kinds()),
        (Screen::PHONE, Theme::Dark, rooms_of("sedge")),
    ] {
        page.show(screen, theme);
        let mut walked = false;
        for kind in kinds {
            page.go(&bench.address(&kind));
            // The list of questions is the same beside every answer: it is walked through once.
            let from_main = walked && page.count("#index") == 1;
            walked |= page.count("#index") == 1;
            if from_main {
                page.js::<()>("document.querySelector('#main').focus()");
            }
            let controls: usize = page.js_of(
                "const main = document.querySelector('#main'), [from_main] = arguments;
                 const all = [...document.querySelectorAll('a[href], button, input:not([type=hidden]), select, textarea, summary, [tabindex=\"0\"]')]
                   .filter((element) => element.checkVisibility({visibilityProperty: true}) && !element.disabled)
                   .filter((element) => !from_main || main.compareDocumentPosition(element) & Node.DOCUMENT_POSITION_FOLLOWING);
                 // The keyboard stops once at a choice of one among several.
                 const choice = (element) => element.type === 'radio' ? `${[...document.forms].indexOf(element.form)} ${element.name}` : element;
                 return new Set(all.map(choice)).size",
                &[from_main.into()],
            );
            let mut stops = 0;
            for _ in 0..controls + 2 {
                page.press(Key::Tab);
                let stop: Stop = page.js(STOP);
                if stop.nowhere {
                    break;
                }
                stops += 1;
                assert!(
                    stop.outline >= 2.0 && stop.style != "none" && stop.contrast >= 3.0,
                    "{}: the focus is not seen: {stop:#?}",
                    kind.name
                );
                assert!(
                    stop.on_screen && !stop.covered,
                    "{}: the focus is hidden: {stop:#?}",
                    kind.name
                );
            }
            assert_eq!(
                stops, controls,
                "{}: controls that the keyboard does not reach",
                kind.name
            );
        }
    }
}

/// Nothing moves where a person wants none of it.
pub(crate) fn calm(page: &Page<'_>, kind: &Kind) {
    page.media(Theme::Light, true);
    let moving: Vec<String> = page.js(
        "return [...document.querySelectorAll('*')].filter((element) => {
           const look = getComputedStyle(element);
           return look.animationName !== 'none' || look.transitionDuration.split(',').some((time) => parseFloat(time) > 0)
             || look.scrollBehavior === 'smooth';
         }).map((element) => element.outerHTML.slice(0, 100))",
    );
    page.media(Theme::Light, false);
    assert!(moving.is_empty(), "{}: {moving:#?}", kind.name);
}

/// Paper and ink.
fn colours(page: &Page<'_>) -> (String, String) {
    page.js("return [getComputedStyle(document.documentElement).backgroundColor, getComputedStyle(document.querySelector('main')).color]")
}

pub(crate) fn by_day(page: &Page<'_>, kind: &Kind) {
    let (paper, ink) = colours(page);
    assert_eq!(
        (&*paper, &*ink),
        ("rgb(247, 244, 236)", "rgb(29, 35, 40)"),
        "{}",
        kind.name
    );
}

pub(crate) fn by_night(page: &Page<'_>, kind: &Kind) {
    let (paper, ink) = colours(page);
    assert_eq!(
        (&*paper, &*ink),
        ("rgb(27, 32, 37)", "rgb(240, 237, 228)"),
        "{}",
        kind.name
    );
    // Lines and text of a picture that stayed black, and grounds that stayed white.
    let left: Vec<String> = page.js(
        "return [...document.querySelectorAll('.drawn svg *')].filter((element) => element.checkVisibility()).filter((element) => {
           const look = getComputedStyle(element);
           const ground = 'rgb(35, 42, 48)', dark = (colour) => { if (colour === ground) return false;  const [r, g, b] = colour.match(/[\\d.]+/g)?.map(Number) ?? [255, 255, 255]; return r + g + b < 200; };
           return element.tagName === 'text' ? dark(look.fill) : look.stroke !== 'none' && dark(look.stroke) || look.fill === 'rgb(255, 255, 255)';
         }).map((element) => element.outerHTML.slice(0, 160))",
    );
    assert!(left.is_empty(), "{}: drawn for the day: {left:#?}", kind.name);
}

/// On a huge screen text is large, and its lines are no longer than they can be read.
pub(crate) fn fills(page: &Page<'_>, kind: &Kind) {
    page.show(Screen::WIDEST, Theme::Light);
    let (letters, text): (f64, f64) = page.js(
        "const ruler = document.createElement('span'); ruler.textContent = '0'.repeat(100); ruler.style.cssText = 'position:absolute;visibility:hidden;white-space:nowrap';
         let widest = 0, size = parseFloat(getComputedStyle(document.documentElement).fontSize);
         for (const line of document.querySelectorAll('main p, main li, main li > span')) {
           if (!line.checkVisibility() || ['flex', 'grid', 'inline', 'inline-flex'].includes(getComputedStyle(line).display)) continue;
           line.append(ruler); const one = ruler.getBoundingClientRect().width / 100; ruler.remove();
           if (!line.closest('table, .facts, .steps')) widest = Math.max(widest, line.getBoundingClientRect().width / one);
         }
         return [widest, size]",
    );
    assert!(letters <= 75.0, "{}: lines of {letters:.0} letters", kind.name);
    assert!(text >= 20.0, "{}: {text} px is small on such a screen", kind.name);
}

/// Text at twice its size (WCAG 1.4.4), and with the spacing that a reader may ask for (WCAG 1.4.12).
pub(crate) fn with_other_text(page: &Page<'_>, kind: &Kind) {
    page.show(Screen::DESKTOP, Theme::Light);
    page.js::<()>(
        "const sheet = new CSSStyleSheet();
         sheet.replaceSync('* { line-height: 1.5 !important; letter-spacing: 0.12em !important; word-spacing: 0.16em !important } p { margin-bottom: 2em !important }');
         document.adoptedStyleSheets = [sheet]",
    );
    whole(page, kind, "spaced");
    page.js::<()>("document.adoptedStyleSheets = []");
    page.letters(32);
    let size = "parseFloat(getComputedStyle(document.documentElement).fontSize)";
    page.until(&format!("{size} === 36"));
    let smallest: f64 = page.js(
        "return Math.min(...[...document.querySelectorAll('main p')].filter((line) => line.checkVisibility()).map((line) => parseFloat(getComputedStyle(line).fontSize)))",
    );
    assert!(
        smallest >= 32.0,
        "{}: {smallest} px though twice the usual was asked for",
        kind.name
    );
    whole(page, kind, "doubled");
    page.letters(16);
    page.until(&format!("{size} === 18"));
}

/// Nothing sticks out, and no key, field or heading is cut off.
fn whole(page: &Page<'_>, kind: &Kind, how: &str) {
    let out = sticks_out(page, Screen::DESKTOP.width);
    assert!(out.is_empty(), "{}, {how}: {out:#?}", kind.name);
    let cut: Vec<String> = page.js(
        "return [...document.querySelectorAll('main button, main .key, main select, nav a, main output, main h1')]
           .filter((element) => element.checkVisibility() && getComputedStyle(element).overflow !== 'visible'
             && (element.scrollWidth > element.clientWidth + 1 || element.scrollHeight > element.clientHeight + 3))
           .map((element) => element.outerHTML.slice(0, 120))",
    );
    assert!(cut.is_empty(), "{}, {how}: cut off: {cut:#?}", kind.name);
}

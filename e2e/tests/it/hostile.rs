//! Names that would run, break out, turn the line round or never end: shown as they are, and nothing happens.

use crate::bench::{Bench, Test};
use crate::browser::Page;
use crate::screen::{Screen, Theme};
use crate::workshop::{ROOMS, Workshop, demonstration};

pub(crate) const ALL: &[Test] = &[
    (
        "hostile::names_are_text_and_the_layout_holds",
        names_are_text_and_the_layout_holds,
    ),
    ("hostile::an_address_is_text", an_address_is_text),
];

/// Names that a sheet may have, as its file writes them. Each would set `ran`, if anything of it ran.
const TAKEN: [(&str, &str); 3] = [
    (
        "script",
        "</title></style><script>window.ran=1</script><img src=x onerror=window.ran=1>",
    ),
    (
        "quotes",
        "\\\" autofocus onfocus=window.ran=1 x='`${window.ran=1}` &lt;b&gt; &#x27; <svg>",
    ),
    (
        "endless",
        "WWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWW",
    ),
];
/// Names that are refused with the sheet, and are shown with what is wrong with them.
const REFUSED: [(&str, &str); 3] = [
    (
        "bidi",
        "\u{202E}nrut sih\u{202C} \u{2066}left\u{2069} \u{200F}right\u{200B} \u{FEFF}mark",
    ),
    (
        "escaped",
        "\\u202Enrut sih\\u202C \\u2066left\\u2069 \\u0000 \\u001b[31m",
    ),
    (
        "long-script",
        "<script>window.ran=1</script><script>window.ran=1</script><script>window.ran=1</script><script>window.ran=1</script><script>window.ran=1</script><script>window.ran=1</script><script>window.ran=1</script>",
    ),
];
/// Marks that would turn a line round.
const TURNING: [char; 5] = ['\u{202E}', '\u{202C}', '\u{2066}', '\u{2069}', '\u{200F}'];

/// The demonstration car under such a name, with such a build and such ground under it.
fn sheet(name: &str) -> String {
    let sheet = demonstration("tarn")
        .replacen("name  = \"Tarn 4\"", &format!("name  = \"{name}\""), 1)
        .replacen(
            "build = \"all-wheel-drive saloon, gravel\"",
            &format!("build = \"{name}{name}\""),
            1,
        )
        .replacen("name = \"wet clay\"", &format!("name = \"{name}\""), 1);
    assert_eq!(sheet.matches(name).count(), 4);
    sheet
}

fn unharmed(page: &Page<'_>, what: &str, width: u32) {
    assert!(
        !page.js::<bool>("return 'ran' in window"),
        "{what}: something ran"
    );
    page.is_quiet();
    let (scrolls, foreign): (u32, usize) = page.js(
        "return [document.documentElement.scrollWidth,
                 document.querySelectorAll('img, iframe, object, main script, body > script, [onload], [onerror], [onfocus], [autofocus]').length]",
    );
    assert!(scrolls <= width, "{what}: {scrolls} px wide on {width}");
    assert_eq!(foreign, 0, "{what}");
}

fn names_are_text_and_the_layout_holds(bench: &Bench) {
    let page = bench.browser();
    let workshop = Workshop::empty();
    for (folder, name) in TAKEN.into_iter().chain(REFUSED) {
        workshop.add(folder, &sheet(name));
    }
    workshop.add("<img src=x onerror=ran=1>", &demonstration("tarn"));
    let workshop = workshop.serve(&[]);
    for screen in [Screen::PHONE, Screen::DESKTOP] {
        page.show(screen, Theme::Light);
        page.go(&workshop.address("/"));
        unharmed(&page, "cars", screen.width);
        page.keep("hostile-cars", screen, Theme::Light);
        for (folder, _) in REFUSED {
            page.go(&workshop.address(&format!("/car/{folder}/assessment")));
            let said = page.log();
            assert!(
                said.len() == 1 && said[0].contains("a status of 422"),
                "{folder}: {said:?}"
            );
            unharmed(&page, folder, screen.width);
            let text = page.text("body");
            assert!(
                text.contains("faults") && !text.contains(TURNING),
                "{folder}: {text:?}"
            );
            page.keep(&format!("hostile-{folder}"), screen, Theme::Light);
        }
    }
    for (folder, name) in TAKEN {
        let written: String = page.js_of("return JSON.parse('\"' + arguments[0] + '\"')", &[name.into()]);
        for room in ROOMS {
            page.go(&workshop.address(&format!("/car/{folder}/{room}")));
            for screen in [Screen::PHONE, Screen::DESKTOP] {
                page.show(screen, Theme::Light);
                unharmed(&page, &format!("{folder}, {room}"), screen.width);
                // What is shown is the name, to the letter, but for marks that have no business in a line.
                let shown: String =
                    page.js("return document.querySelector('header .car').firstChild.textContent");
                let letters = |text: &str| -> String {
                    text.chars().filter(|letter| letter.is_ascii_graphic()).collect()
                };
                assert_eq!(letters(&shown), letters(&written), "{folder}, {room}");
                if room == "balance" {
                    page.keep(&format!("hostile-{folder}"), screen, Theme::Light);
                    // And on the ground of that name, with the picture in motion.
                    page.js_of::<()>(
                        "const ground = document.querySelector('#handle-surface');
                         ground.value = [...ground.options].map((option) => option.value).find((value) => value.length > 20);
                         for (const kind of ['input', 'change']) ground.dispatchEvent(new Event(kind, {bubbles: true}))",
                        &[],
                    );
                    page.until("location.search.includes('surface=')");
                    page.until("!document.body.classList.contains('busy')");
                    unharmed(&page, &format!("{folder}, {room}, its ground"), screen.width);
                    page.go(&workshop.address(&page.at()));
                    unharmed(
                        &page,
                        &format!("{folder}, {room}, a link to its ground"),
                        screen.width,
                    );
                    page.go(&workshop.address(&format!("/car/{folder}/{room}")));
                }
            }
        }
    }
}

fn an_address_is_text(bench: &Bench) {
    let page = bench.browser();
    let bad = "%3C%2Ftitle%3E%3Cscript%3Ewindow.ran%3D1%3C%2Fscript%3E%22%20onfocus%3Dwindow.ran%3D1%20autofocus%3D%22";
    for path in [
        format!("/car/tarn/lever?hand={bad}"),
        format!("/car/tarn/lever?{bad}=1"),
        format!("/car/tarn/lever?surface={bad}"),
        format!("/car/tarn/lever?with={bad}"),
        format!("/car/tarn/turn?against={bad}"),
        format!("/car/{bad}/lever"),
        format!("/car/tarn/{bad}"),
        format!("/car/tarn/working/{bad}"),
        format!("/pair?code={bad}"),
        format!("/{bad}"),
    ] {
        page.go(&bench.demo().address(&path));
        let _ = page.log();
        unharmed(&page, &path, Screen::DESKTOP.width);
        assert_eq!(page.count("h1"), 1, "{path}");
    }
}

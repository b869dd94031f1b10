//! Cards of measuring: from a guess to its card and back with a figure, by thumb; and every drawing as a browser shows it.

use serde::Deserialize;
use serde_json::from_value;

use crate::bench::{Bench, Test};
use crate::screen::{Screen, Theme};
use crate::workshop::Workshop;

pub(crate) const ALL: &[Test] = &[
    (
        "how::from_a_guess_to_its_card_and_onto_the_sheet",
        from_a_guess_to_its_card_and_onto_the_sheet,
    ),
    (
        "how::no_label_of_a_drawing_lies_over_anything",
        no_label_of_a_drawing_lies_over_anything,
    ),
];

/// 150 mm and 104 mm: two thirds of (150³ − 104³)/(150² − 104²) is 128.4 mm.
fn from_a_guess_to_its_card_and_onto_the_sheet(bench: &Bench) {
    let page = bench.browser();
    let workshop = Workshop::with_cars().serve(&[]);
    page.show(Screen::LARGE_PHONE, Theme::Light);
    // Without the script too: the form is plain.
    for scripts in [true, false] {
        page.scripts(scripts);
        page.go(&workshop.address("/car/half-known/assessment"));
        page.unfold_to(".defaults a.to-card");
        page.tap(".defaults a.to-card");
        page.until("location.pathname.startsWith('/how/') && document.readyState === 'complete'");
        assert!(page.text("main").contains("On this car now"));
        let (wide, drawn): (f64, f64) = page.js(
            "const svg = document.querySelector('#drawing svg'); return [svg.getBoundingClientRect().width, svg.viewBox.baseVal.width]",
        );
        assert!(
            wide >= drawn,
            "text of the drawing is smaller than it is drawn: {wide} of {drawn}"
        );

        page.go(&workshop.address("/how/pad-track?car=half-known&key=front_brake.effective_radius"));
        page.fill("input[name=a]", "104");
        page.fill("input[name=b]", "150");
        page.follow("Work it out");
        assert!(
            page.text(".sum [role=status]").contains("128 mm"),
            "{}",
            page.text("main")
        );
    }
    page.scripts(true);
    page.go(&workshop.address("/how/lever-ratio?car=tarn&key=lever.ratio&sum=0&a=278&b=62"));
    page.follow("Put 4.48 onto the sheet");
    assert!(
        page.text("section[aria-labelledby=now]")
            .contains("4.48, on the sheet")
    );
    let sheet = std::fs::read_to_string(workshop.cars().join("tarn/car.toml")).unwrap();
    assert!(sheet.contains("ratio    = 4.48"), "{sheet}");
    page.is_quiet();
}

/// A label, and what it lies over.
#[derive(Debug, Deserialize)]
#[expect(dead_code, reason = "shown where a test fails")]
struct Over {
    card: String,
    label: String,
    over: String,
}

/// With the letters of the browser and the strokes as they are drawn: no place of a label is on a stroke or on another.
fn no_label_of_a_drawing_lies_over_anything(bench: &Bench) {
    let page = bench.browser();
    page.show(Screen::LARGE_PHONE, Theme::Light);
    page.go(&bench.demo().address("/how"));
    let found = page.promised(
        "(async () => {
           const over = [], links = [...document.querySelectorAll('.hows a')];
           let labels = 0;
           const host = document.querySelector('main').appendChild(document.createElement('figure'));
           host.className = 'drawn small';
           for (const link of links) {
             const text = await (await fetch(link.href)).text();
             const svg = new DOMParser().parseFromString(text, 'text/html').querySelector('#drawing svg');
             host.replaceChildren(svg);
             const strokes = [...svg.querySelectorAll('.sketch :is(path, circle)')].map((shape) => [shape, shape.getBBox()]);
             const texts = [...svg.querySelectorAll('.sketch text')].map((label) => [label, label.getBBox()]);
             for (const [label, box] of texts) {
               labels += 1;
               // The box of a font is higher than its letters.
               const [left, right, top, bottom] = [box.x, box.x + box.width, box.y + 0.22 * box.height, box.y + 0.8 * box.height];
               const meets = (other) => other.x < right && other.x + other.width > left && other.y < bottom && other.y + other.height > top;
               for (const [other, another] of texts) {
                 const [theirs, end] = [another.y + 0.22 * another.height, another.y + 0.8 * another.height];
                 if (other !== label && another.x < right && another.x + another.width > left && theirs < bottom && end > top)
                   over.push({card: link.textContent, label: label.textContent, over: other.textContent});
               }
               for (const [shape] of strokes.filter(([, other]) => meets({x: other.x - 1, y: other.y - 1, width: other.width + 2, height: other.height + 2}))) {
                 let hit = false;
                 for (let x = left; x <= right && !hit; x += 1.5)
                   for (let y = top; y <= bottom && !hit; y += 1.5) hit = shape.isPointInStroke(new DOMPoint(x, y));
                 if (hit) over.push({card: link.textContent, label: label.textContent, over: shape.outerHTML.slice(0, 160)});
               }
             }
           }
           return {cards: links.length, labels, over};
         })()",
    );
    let cards = found["cards"].as_u64().unwrap();
    let labels = found["labels"].as_u64().unwrap();
    assert!(cards > 40 && labels > 150, "{cards} cards, {labels} labels");
    let over: Vec<Over> = from_value(found["over"].clone()).unwrap();
    assert!(over.is_empty(), "{over:#?}");
    page.is_quiet();
}

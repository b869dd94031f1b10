//! What holds for every picture of every car.

use std::collections::HashSet;

use charts::{Picture, Width};
use engine::car::{Brake, Car, LeverKind};
use proptest::prelude::*;
use roxmltree::Document;

use crate::seen::{Seen, number, points, texts};
use crate::{cars, drawn};

/// Everything that holds for a picture. Gives what is wrong with it.
pub(crate) fn faults(picture: &Picture) -> Vec<String> {
    let svg = &picture.svg;
    let document = match Document::parse(svg) {
        Ok(document) => document,
        Err(error) => return vec![format!("not well-formed: {error}")],
    };
    let mut faults = Vec::new();
    let root = document.root_element();
    let mut ids = HashSet::new();
    for node in document.descendants().filter(roxmltree::Node::is_element) {
        let name = node.tag_name().name();
        if node.attribute("class").is_none_or(str::is_empty) {
            faults.push(format!("<{name}> has no class"));
        }
        if name == "script" || node.attribute("style").is_some() {
            faults.push(format!("<{name}> brings a style or script of its own"));
        }
        for attribute in node.attributes() {
            let value = attribute.value();
            if ["NaN", "inf", "var(", "url(", "javascript:"]
                .iter()
                .any(|bad| value.contains(bad))
            {
                faults.push(format!("<{name} {}=\"{value}\">", attribute.name()));
            }
            if attribute.name().starts_with("on") {
                faults.push(format!("<{name}> has {}", attribute.name()));
            }
        }
        if let Some(id) = node.attribute("id")
            && !ids.insert(id.to_owned())
        {
            faults.push(format!("id {id} twice"));
        }
    }
    if root.attribute("role") != Some("img") || root.attribute("viewBox").is_none() {
        faults.push("the root is no image with a view box".into());
    }
    let labelled = root.attribute("aria-labelledby").unwrap_or("");
    if labelled.split(' ').count() != 2 || !labelled.split(' ').all(|id| ids.contains(id)) {
        faults.push(format!("labelled by {labelled}"));
    }
    for name in ["title", "desc"] {
        let words = root
            .children()
            .find(|node| node.has_tag_name(name))
            .and_then(|node| node.text());
        if words.is_none_or(|words| words.trim().is_empty()) {
            faults.push(format!("no {name}"));
        }
    }
    let (wide, high) = (number(root, "width"), number(root, "height"));
    let texts = texts(&document);
    for (index, text) in texts.iter().enumerate() {
        if text.words.contains("NaN") || text.words.split(' ').any(|word| word == "inf") {
            faults.push(format!("writes {}", text.words));
        }
        if text.left < -1.0 || text.right > wide + 1.0 || text.top < -1.0 || text.bottom > high + 1.0 {
            faults.push(format!("`{}` leaves the picture: {text:?}", text.words));
        }
        for other in &texts[index + 1..] {
            let apart = text.right - 0.5 <= other.left
                || other.right - 0.5 <= text.left
                || text.bottom - 0.5 <= other.top
                || other.bottom - 0.5 <= text.top;
            if !apart {
                faults.push(format!("`{}` over `{}`", text.words, other.words));
            }
        }
    }
    let table = &picture.table;
    if table.caption.is_empty() {
        faults.push("the table has no caption".into());
    }
    if table.rows.iter().any(|row| row.len() != table.head.len()) {
        faults.push("a row is not as long as the head".into());
    }
    if table
        .rows
        .iter()
        .flatten()
        .any(|cell| cell.is_empty() || cell.contains("NaN") || cell == "inf")
    {
        faults.push("an empty cell, or one with no number".into());
    }
    faults
}

/// A picture is shown no smaller than it is drawn; the plumbing drawing, on paper a sheet of A4, a third as large again.
#[test]
fn text_is_large_enough() {
    let smallest = |svg: &str| {
        let document = Document::parse(svg).unwrap();
        let sizes = document
            .descendants()
            .filter(|node| node.has_tag_name("text"))
            .map(|node| number(node, "font-size"));
        sizes.fold(f64::INFINITY, f64::min)
    };
    for name in cars::DEMO {
        for width in [Width::Wide, Width::Narrow] {
            for (picture, drawn) in drawn::all(&cars::demo(name), width) {
                let shown = match picture {
                    "lines" => 960.0 / 720.0,
                    _ => 1.0,
                };
                let size = smallest(&drawn.svg) * shown;
                assert!(size >= 14.0, "{name}, {picture}, {width:?}: {size} px");
            }
        }
    }
}

/// Words that lie over a line of data or over a mark.
fn words_over_data(svg: &str) -> Vec<String> {
    let document = Document::parse(svg).unwrap();
    // The number of a joint stands in the joint's own mark.
    let joint_or_figure = |words: &str| words.chars().all(|letter| letter.is_ascii_digit());
    let texts: Vec<Seen> = texts(&document)
        .into_iter()
        .filter(|text| !joint_or_figure(&text.words))
        .collect();
    let mut over = Vec::new();
    for node in document.descendants().filter(|node| node.has_tag_name("path")) {
        let class = node.attribute("class").unwrap();
        if !class.starts_with("line ") {
            continue;
        }
        let half = number(node, "stroke-width") / 2.0;
        for pair in points(node.attribute("d").unwrap()).windows(2) {
            for text in &texts {
                if crosses(pair[0], pair[1], text, half) {
                    over.push(format!("`{}` over {class}", text.words));
                }
            }
        }
    }
    for node in document.descendants().filter(|node| node.has_tag_name("circle")) {
        let (x, y, radius) = (number(node, "cx"), number(node, "cy"), number(node, "r"));
        let class = node.attribute("class").unwrap();
        for text in &texts {
            if crosses((x, y), (x, y), text, radius) {
                over.push(format!("`{}` over {class}", text.words));
            }
        }
    }
    over.sort();
    over.dedup();
    over
}

/// Whether a stretch, so thick to each side, comes into the box of a text.
fn crosses(from: (f64, f64), to: (f64, f64), text: &Seen, thick: f64) -> bool {
    let (mut enter, mut leave) = (0.0_f64, 1.0_f64);
    for (from, to, low, high) in [
        (from.0, to.0, text.left - thick, text.right + thick),
        (from.1, to.1, text.top - thick, text.bottom + thick),
    ] {
        let way = to - from;
        if way.abs() < 1e-9 {
            if from <= low || from >= high {
                return false;
            }
            continue;
        }
        let (one, other) = ((low - from) / way, (high - from) / way);
        enter = enter.max(one.min(other));
        leave = leave.min(one.max(other));
    }
    enter < leave
}

#[test]
fn words_lie_over_no_line_and_no_mark() {
    let mut over = Vec::new();
    let demo = cars::DEMO.map(|name| (name.to_owned(), cars::demo(name)));
    for (name, car) in demo.into_iter().chain(cars::arrangements()) {
        for width in [Width::Wide, Width::Narrow] {
            for (picture, drawn) in drawn::all(&car, width) {
                over.extend(
                    words_over_data(&drawn.svg)
                        .into_iter()
                        .map(|what| format!("{name}, {picture}, {width:?}: {what}")),
                );
            }
        }
    }
    assert!(over.is_empty(), "{} words: {over:#?}", over.len());
}

fn check(what: &str, car: &Car) {
    for width in [Width::Wide, Width::Narrow] {
        for (name, picture) in drawn::all(car, width) {
            let faults = faults(&picture);
            assert!(faults.is_empty(), "{what}, {name}, {width:?}: {faults:#?}");
        }
    }
}

#[test]
fn the_demonstration_cars() {
    for name in cars::DEMO {
        check(name, &cars::demo(name));
    }
}

#[test]
fn every_arrangement() {
    for (name, car) in cars::arrangements() {
        check(&name, &car);
    }
}

#[test]
fn cars_at_the_ends_of_what_can_be() {
    for (name, car) in cars::extremes() {
        check(&name, &car);
    }
}

/// Front and rear, ideal and hand can be told apart by dashes and widths alone, in every picture.
#[test]
fn lines_need_no_colour() {
    let mut looks: Vec<(String, String, String)> = Vec::new();
    for name in cars::DEMO {
        for (_, picture) in drawn::all(&cars::demo(name), Width::Wide) {
            let document = Document::parse(&picture.svg).unwrap();
            for node in document.descendants().filter(|node| node.has_tag_name("path")) {
                let class = node.attribute("class").unwrap();
                let Some(kind) = class.strip_prefix("line ") else {
                    continue;
                };
                let kind = match kind.split(' ').next().unwrap() {
                    "ideal" | "limit" => "dotted",
                    kind => kind,
                };
                let kind = if class.contains("edge") {
                    format!("{kind} edge")
                } else {
                    kind.to_owned()
                };
                let dashes = node.attribute("stroke-dasharray").unwrap_or("").to_owned();
                let wide = node.attribute("stroke-width").unwrap().to_owned();
                looks.push((dashes, wide, kind));
            }
        }
    }
    looks.sort();
    looks.dedup();
    let kinds: HashSet<&str> = looks.iter().map(|look| look.2.as_str()).collect();
    for wanted in [
        "front",
        "rear",
        "dotted",
        "hand",
        "hand-core",
        "car",
        "joined",
        "front edge",
        "rear edge",
    ] {
        assert!(kinds.contains(wanted), "no line of {wanted}");
    }
    let mut seen = HashSet::new();
    for (dashes, wide, kind) in &looks {
        assert!(
            seen.insert((dashes, wide)),
            "{kind} looks like another: {looks:?}"
        );
    }
    // Solid front, dashed rear, whatever their width.
    assert!(
        looks
            .iter()
            .all(|(dashes, _, kind)| !kind.starts_with("front") || dashes.is_empty())
    );
    assert!(
        looks
            .iter()
            .all(|(dashes, _, kind)| !kind.starts_with("rear") || !dashes.is_empty())
    );
}

#[test]
fn what_a_person_wrote_stays_text() {
    let car = &cars::extremes()[2].1;
    for (name, picture) in drawn::all(car, Width::Narrow) {
        assert!(!picture.svg.contains("<script"), "{name}");
        let document = Document::parse(&picture.svg).unwrap();
        let title = document
            .root_element()
            .children()
            .find(|node| node.has_tag_name("title"))
            .unwrap();
        assert!(
            title.text().unwrap().contains(&*car.name) || name == "range",
            "{name}"
        );
        if name != "range" {
            // Cut on the card, whole in its title.
            let cut = document.descendants().any(|node| {
                node.has_tag_name("text") && node.children().any(|child| child.text() == Some(&*car.name))
            });
            assert!(cut, "{name}");
        }
    }
}

#[test]
fn the_prefix_keeps_ids_apart() {
    let car = cars::demo("tarn");
    let valve = charts::ValveCurve(engine::curves::Valve::of(
        &car,
        drawn::Prepared::of(&car).laden.axle_loads(0.0),
    ));
    for (prefix, id) in [
        ("a", "a-title"),
        ("7 \"><b>", "p7b-title"),
        ("", "p-title"),
        ("as_is-2", "as_is-2-title"),
    ] {
        let picture = valve.draw(&charts::Look {
            prefix,
            ..charts::Look::default()
        });
        let document = Document::parse(&picture.svg).unwrap();
        assert!(
            document
                .descendants()
                .any(|node| node.attribute("id") == Some(id)),
            "{prefix}"
        );
    }
}

#[test]
fn the_same_car_gives_the_same_bytes() {
    let car = cars::demo("sedge");
    assert_eq!(drawn::all(&car, Width::Wide), drawn::all(&car, Width::Wide));
}

proptest! {
    // A car is some forty pictures and a turn.
    #![proptest_config(ProptestConfig::with_cases(ProptestConfig::default().cases / 4))]

    #[test]
    fn random_cars(
        base in 0..cars::DEMO.len(),
        factors in prop::array::uniform8(0.3_f64..3.0),
        road in any::<bool>(),
    ) {
        let mut car = cars::demo(cars::DEMO[base]);
        car.road_registered = road;
        car.weighed.front = car.weighed.front * factors[0];
        car.weighed.rear = car.weighed.rear * factors[1];
        car.pedal.ratio *= factors[2];
        if let Brake::Disc(disc) = &mut car.front_brake {
            disc.effective_radius = disc.effective_radius * factors[3];
        }
        match &mut car.rear_brake {
            Brake::Disc(disc) => disc.effective_radius = disc.effective_radius * factors[4],
            Brake::Drum(drum) => drum.drum_radius = drum.drum_radius * factors[4],
        }
        if let Some(lever) = &mut car.lever {
            lever.room = lever.room * factors[5];
            lever.hand_pull = lever.hand_pull * factors[6];
            if let LeverKind::Inline(cylinder) | LeverKind::Separate(cylinder, _) = &mut lever.kind {
                cylinder.ratio *= factors[7];
            }
        }
        check("a random car", &car);
    }
}

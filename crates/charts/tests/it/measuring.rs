//! The drawings that show how a figure is measured: every card has one; it keeps to the rules of all pictures; its labels
//! lie over nothing and are large enough on a phone.

use std::collections::HashSet;

use charts::{HowMeasured, Look, Picture, Width};
use engine::car::Drawing;
use roxmltree::{Document, Node};

use crate::rules::faults;
use crate::seen::{Seen, number, points, texts};

fn drawn(card: Drawing, head: bool) -> Picture {
    HowMeasured(card).draw(&Look {
        prefix: "card",
        head,
        ..Look::default()
    })
}

/// What is drawn with a stroke, as lines through points.
fn strokes(document: &Document<'_>) -> Vec<Vec<(f64, f64)>> {
    let of = |node: Node<'_, '_>| match node.tag_name().name() {
        "path" => {
            let path = node.attribute("d").unwrap();
            let mut line = points(path);
            if path.ends_with('Z') {
                line.push(line[0]);
            }
            Some(line)
        }
        "circle" => {
            let (x, y, r) = (number(node, "cx"), number(node, "cy"), number(node, "r"));
            let round = (0..=36).map(|step| {
                let angle = f64::from(step) * 10.0_f64.to_radians();
                (x + r * angle.cos(), y + r * angle.sin())
            });
            Some(round.collect())
        }
        _ => None,
    };
    document.descendants().filter_map(of).collect()
}

/// How much of a stretch lies inside a box, tried at many places of it.
fn is_through(text: &Seen, line: &[(f64, f64)]) -> bool {
    line.windows(2).any(|pair| {
        let ((ax, ay), (bx, by)) = (pair[0], pair[1]);
        (0..=200).any(|step| {
            let share = f64::from(step) / 200.0;
            let (x, y) = (ax + (bx - ax) * share, ay + (by - ay) * share);
            x > text.left && x < text.right && y > text.top && y < text.bottom
        })
    })
}

#[test]
fn every_card_keeps_to_the_rules_of_pictures() {
    for card in Drawing::ALL {
        for head in [false, true] {
            let faults = faults(&drawn(card, head));
            assert!(faults.is_empty(), "{}: {faults:#?}", card.name());
        }
    }
}

#[test]
fn labels_lie_over_no_line() {
    let mut looked_at = 0;
    for card in Drawing::ALL {
        let picture = drawn(card, false);
        let document = Document::parse(&picture.svg).unwrap();
        let strokes = strokes(&document);
        for text in texts(&document) {
            looked_at += 1;
            let over = strokes.iter().find(|line| is_through(&text, line));
            assert!(over.is_none(), "{}: `{}` over {over:?}", card.name(), text.words);
        }
    }
    assert!(looked_at > 200, "{looked_at}");
}

/// A phone shows a drawing no narrower than it is laid out.
#[test]
fn text_is_large_enough_on_a_phone() {
    for card in Drawing::ALL {
        let picture = drawn(card, false);
        let document = Document::parse(&picture.svg).unwrap();
        assert!(
            number(document.root_element(), "width") <= 340.0,
            "{}",
            card.name()
        );
        for node in document.descendants().filter(|node| node.has_tag_name("text")) {
            assert!(number(node, "font-size") >= 14.0, "{}", card.name());
        }
    }
}

/// Whatever a letter marks is explained, and what is explained is marked.
#[test]
fn every_mark_is_explained() {
    for card in Drawing::ALL {
        let picture = drawn(card, false);
        let document = Document::parse(&picture.svg).unwrap();
        let explained: HashSet<String> = picture
            .table
            .rows
            .iter()
            .flat_map(|row| row[0].split(", ").map(str::to_owned))
            .collect();
        assert!(!explained.is_empty(), "{}", card.name());
        let of_class = |class: &'static str| {
            document
                .descendants()
                .filter(move |node| node.attribute("class") == Some(class))
                .filter_map(|node| node.text())
                .map(str::to_owned)
        };
        for letter in of_class("mark") {
            assert!(
                explained.contains(&letter),
                "{}: `{letter}` stands for what?",
                card.name()
            );
        }
        let labels: Vec<String> = of_class("label").chain(of_class("mark")).collect();
        for mark in &explained {
            assert!(
                labels.iter().any(|label| label.contains(mark.as_str())),
                "{}: `{mark}` is nowhere on it",
                card.name()
            );
        }
        // What is explained stands below the drawing too, for who does not unfold a table.
        for row in &picture.table.rows {
            assert!(
                picture.svg.contains(&format!("{}: ", row[0])),
                "{}: {row:?}",
                card.name()
            );
        }
    }
}

#[test]
fn the_same_drawing_for_every_look_and_no_two_alike() {
    let mut seen = HashSet::new();
    for card in Drawing::ALL {
        let narrow = drawn(card, false);
        let wide = HowMeasured(card).draw(&Look {
            prefix: "card",
            head: false,
            car: "Tarn 4",
            state: "crew",
            width: Width::Wide,
            ..Look::default()
        });
        assert_eq!(narrow, wide, "{}", card.name());
        assert!(seen.insert(narrow.svg), "{}", card.name());
    }
}

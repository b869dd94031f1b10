//! The plumbing drawing: numbered as on the list, on one sheet of A4, told apart without colour.

use std::collections::BTreeSet;

use charts::{JointSign, LinesDrawing, Width};
use engine::car::Car;
use plumbing::Plumbing;
use roxmltree::Document;

use crate::cars;
use crate::drawn::look;
use crate::seen::number;

fn all() -> Vec<(String, Car)> {
    let demo = cars::DEMO.iter().map(|&name| (name.to_owned(), cars::demo(name)));
    demo.chain(cars::arrangements()).collect()
}

fn drawing(car: &Car) -> (Plumbing, LinesDrawing, String) {
    let plumbing = Plumbing::of(car);
    let drawing = LinesDrawing::of(car, &plumbing, wording::Units::default().length);
    let svg = drawing.draw(&look("lines", &car.name, Width::Wide)).svg;
    (plumbing, drawing, svg)
}

fn with_class<'a, 'i>(document: &'a Document<'i>, class: &str) -> Vec<roxmltree::Node<'a, 'i>> {
    document
        .descendants()
        .filter(|node| node.attribute("class") == Some(class))
        .collect()
}

#[test]
fn every_joint_is_numbered_as_on_the_list() {
    for (name, car) in all() {
        let (plumbing, _, svg) = drawing(&car);
        let document = Document::parse(&svg).unwrap();
        let wanted: Vec<String> = plumbing
            .joints
            .iter()
            .map(|joint| joint.number.to_string())
            .collect();
        for class in ["joint-number", "list-number"] {
            let mut found: Vec<String> = with_class(&document, class)
                .into_iter()
                .filter_map(|node| node.text().map(str::to_owned))
                .filter(|text| !text.is_empty())
                .collect();
            found.sort_by_key(|text| text.parse::<usize>().unwrap());
            assert_eq!(found, wanted, "{name}: {class}");
        }
        let places: Vec<&str> = with_class(&document, "list")
            .iter()
            .filter_map(|node| node.text())
            .collect();
        for joint in &plumbing.joints {
            assert!(
                places.contains(&joint.place.as_str()),
                "{name}: {} is cut or missing",
                joint.place
            );
        }
    }
}

/// 210 by 297 mm: no drawing is higher for its width.
#[test]
fn it_fits_a_sheet_of_a4() {
    for (name, car) in all() {
        let (_, _, svg) = drawing(&car);
        let document = Document::parse(&svg).unwrap();
        let root = document.root_element();
        let ratio = number(root, "height") / number(root, "width");
        assert!(ratio <= 297.0 / 210.0, "{name}: {ratio}");
    }
}

/// Marks of joints never touch each other, and never a component's shape.
#[test]
fn marks_keep_apart() {
    for (name, car) in all() {
        let (_, _, svg) = drawing(&car);
        let document = Document::parse(&svg).unwrap();
        let centres: Vec<(f64, f64)> = document
            .descendants()
            .filter(|node| node.has_tag_name("text") && node.attribute("class") == Some("joint-number"))
            .filter(|node| node.text().is_some_and(|text| !text.is_empty()))
            .map(|node| (number(node, "x"), number(node, "y")))
            .collect();
        for (index, one) in centres.iter().enumerate() {
            for other in &centres[index + 1..] {
                let apart = (one.0 - other.0).hypot(one.1 - other.1);
                assert!(apart >= 18.0, "{name}: {one:?} {other:?}, {apart} apart");
            }
        }
    }
}

/// In black and white: no two circuits of one drawing share width and dashes, no two signs their shape.
#[test]
fn circuits_and_signs_are_told_apart_without_colour() {
    for (name, car) in all() {
        let (_, _, svg) = drawing(&car);
        let document = Document::parse(&svg).unwrap();
        let mut styles = BTreeSet::new();
        let mut circuits = BTreeSet::new();
        for node in document.descendants() {
            let class = node.attribute("class").unwrap_or("");
            if let Some(circuit) = class
                .split(' ')
                .find(|word| word.ends_with("-circuit") || *word == "both-circuits")
            {
                circuits.insert(circuit.to_owned());
                styles.insert((
                    circuit.to_owned(),
                    node.attribute("stroke-width").map(str::to_owned),
                    node.attribute("stroke-dasharray").map(str::to_owned),
                ));
            }
        }
        let looks: BTreeSet<_> = styles.iter().map(|(_, width, dashes)| (width, dashes)).collect();
        assert_eq!(
            (styles.len(), looks.len()),
            (circuits.len(), circuits.len()),
            "{name}: {styles:?}"
        );
    }
}

#[test]
fn what_does_not_mate_is_marked() {
    let mut car = cars::demo("tarn");
    car.ports.caliper = Some("M7x1 bleed".into());
    car.ports.lever = None;
    let (_, drawing, svg) = drawing(&car);
    let signs: Vec<JointSign> = drawing.joints.iter().map(|joint| joint.sign).collect();
    for (sign, class) in [
        (JointSign::Mates, "joint mates"),
        (JointSign::Adapter, "joint adapter"),
        (JointSign::NothingJoins, "joint nothing-joins"),
        (JointSign::NotKnown, "joint not-known"),
    ] {
        assert!(signs.contains(&sign) && svg.contains(class), "{sign:?}");
    }
    let table = drawing.draw(&look("lines", "Tarn 4", Width::Wide)).table;
    assert!(
        table
            .rows
            .iter()
            .any(|row| row[4].starts_with("nothing joins it"))
    );
}

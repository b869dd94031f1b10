//! The table beside a picture holds the points that are drawn.

use charts::{ForceScale, LockOrder, Look, Picture, SplitCurves, UtilisationCurves, ValveCurve};
use roxmltree::Document;

use crate::seen::{Scales, distance, figure, number, paths, texts};
use crate::{cars, drawn};

/// Half of what a cell's last place counts.
fn half_of(cell: &str) -> f64 {
    let places = cell.split_once('.').map_or(0, |(_, behind)| behind.len());
    0.5 * 10_f64.powi(-i32::try_from(places).unwrap())
}

/// Whether every pair of figures of two columns lies on one of some lines. Gives how many did.
fn on_lines(
    picture: &Picture,
    columns: (usize, usize),
    classes: &[&str],
    rows: impl Fn(&[String]) -> bool,
) -> usize {
    let document = Document::parse(&picture.svg).unwrap();
    let scales = Scales::read(&document);
    let lines: Vec<Vec<(f64, f64)>> = classes.iter().flat_map(|class| paths(&document, class)).collect();
    let (wide, high) = (
        number(document.root_element(), "width"),
        number(document.root_element(), "height"),
    );
    let mut found = 0;
    for row in picture.table.rows.iter().filter(|row| rows(row)) {
        let (Some(x), Some(y)) = (figure(&row[columns.0]), figure(&row[columns.1])) else {
            continue;
        };
        let point = scales.point(x, y);
        // What lies outside of the diagram is cut.
        if !(0.0..=wide - 18.0).contains(&point.0) || !(100.0..=high).contains(&point.1) {
            continue;
        }
        let off = distance(point, &lines);
        // As far as half of the last place of both cells reaches, and a hair.
        let half = scales.point(x + half_of(&row[columns.0]), y + half_of(&row[columns.1]));
        let rounded = (half.0 - point.0).hypot(half.1 - point.1);
        assert!(
            off < 0.6 + rounded,
            "{}: {row:?} lies {off} off its line",
            picture.table.caption
        );
        found += 1;
    }
    found
}

#[test]
fn split_curves() {
    for name in cars::DEMO {
        let car = cars::demo(name);
        let prepared = drawn::Prepared::of(&car);
        let split = SplitCurves(engine::curves::SplitLines::of(&prepared.balance, &drawn::GRIPS));
        for scale in [ForceScale::Force, ForceScale::ShareOfWeight] {
            let picture = split.draw(&Look::default(), scale);
            assert!(on_lines(&picture, (2, 3), &["ideal"], |_| true) >= 8, "{name}");
            assert!(on_lines(&picture, (4, 5), &["car"], |_| true) >= 5, "{name}");
        }
    }
}

/// At a point of first lock, the forces stand on the edge of that grip's ground: the lock and the edge come from two
/// different ways through the engine.
#[test]
fn locks_lie_on_the_edge_of_their_grip() {
    let car = cars::demo("scree");
    let prepared = drawn::Prepared::of(&car);
    let split = SplitCurves(engine::curves::SplitLines::of(
        &prepared.balance,
        &[0.4, 0.7, 1.2],
    ));
    let mut checked = 0;
    for ((lock, forces), ground) in split.locks.iter().zip(&split.equal_grip) {
        let Some(forces) = forces else { continue };
        let edge = match lock.first {
            engine::balance::First::Front => ground.front_locks,
            engine::balance::First::Rear => ground.rear_locks,
            _ => continue,
        };
        let share = (forces.rear - edge[0].1) / (edge[1].1 - edge[0].1);
        let front = edge[0].0 + (edge[1].0 - edge[0].0) * share;
        assert!((front / forces.front - 1.0).abs() < 1e-6, "{lock:?}");
        checked += 1;
    }
    assert_eq!(checked, 3);
}

#[test]
fn lock_order() {
    for name in cars::DEMO {
        let car = cars::demo(name);
        let picture = drawn::Prepared::of(&car).lock_order().draw(&Look::default());
        let document = Document::parse(&picture.svg).unwrap();
        let scales = Scales::read(&document);
        let marks: Vec<(f64, f64)> = document
            .descendants()
            .filter(|node| node.attribute("class") == Some("mark tank"))
            .map(|node| {
                let middle = |from: &str, long: &str| number(node, from) + number(node, long) / 2.0;
                (middle("x", "width"), middle("y", "height"))
            })
            .collect();
        let mut found = 0;
        for row in &picture.table.rows {
            for column in [2, 4, 6] {
                let Some(by) = figure(&row[column]) else { continue };
                let point = scales.point(figure(&row[0]).unwrap(), by);
                let off = marks
                    .iter()
                    .map(|mark| (mark.0 - point.0).hypot(mark.1 - point.1))
                    .fold(9.0, f64::min);
                // The table has whole per cent.
                let half = scales.point(0.0, 0.5).1 - scales.point(0.0, 0.0).1;
                assert!(off < 1.0 + half.abs(), "{name}: {row:?} has no mark, {off}");
                found += 1;
            }
        }
        assert_eq!(found, marks.len(), "{name}");
    }
}

#[test]
fn utilisation() {
    for name in cars::DEMO {
        let car = cars::demo(name);
        let curves = UtilisationCurves(engine::curves::Used::of(&car, &drawn::Prepared::of(&car).balance));
        let picture = curves.draw(&Look::default());
        assert!(on_lines(&picture, (0, 1), &["front"], |_| true) >= 10, "{name}");
        assert!(on_lines(&picture, (0, 2), &["rear"], |_| true) >= 10, "{name}");
        assert_eq!(picture.table.head.len(), if car.road_registered { 4 } else { 3 });
        assert_eq!(picture.svg.contains("limit-edge"), car.road_registered);
        if car.road_registered {
            assert!(on_lines(&picture, (0, 3), &["limit"], |_| true) >= 8, "{name}");
        }
    }
}

/// The limit is `z = 0.1 + 0.7 (k − 0.2)` (UN Regulation 13-H, Annex 5; from memory).
#[test]
fn the_limit_is_the_road_rules() {
    let car = cars::demo("tarn");
    let picture = UtilisationCurves(engine::curves::Used::of(&car, &drawn::Prepared::of(&car).balance))
        .draw(&Look::default());
    let mut rows = 0;
    for row in &picture.table.rows {
        if let (Some(rate), Some(limit)) = (figure(&row[0]), figure(&row[3])) {
            // Rates are twentieths; the limit is rounded to two places.
            assert!((limit - (0.2 + (rate - 0.1) / 0.7)).abs() < 0.005_001, "{row:?}");
            rows += 1;
        }
    }
    assert_eq!(rows, 9);
}

#[test]
fn pull() {
    for name in cars::DEMO {
        let car = cars::demo(name);
        let picture = drawn::Prepared::of(&car).pull().draw(&Look::default());
        let along = |row: &[String]| row[0] != "measured" && row[0] != "driver's pull";
        assert!(
            on_lines(&picture, (2, 3), &["hand", "ideal"], along) >= 6,
            "{name}"
        );
    }
}

/// What takes the travel adds up to the travel.
#[test]
fn shares_add_up() {
    for (name, car) in cars::DEMO
        .map(|name| (name.to_owned(), cars::demo(name)))
        .into_iter()
        .chain(cars::arrangements())
    {
        if let charts::PullCurve(engine::curves::Pulled::Cylinder(pull)) = drawn::Prepared::of(&car).pull() {
            let sum: f64 = pull.shares.iter().map(|share| share.1.m()).sum();
            let travel = pull.shared_at.travel.m();
            assert!(
                (sum - travel).abs() < 1e-9 * travel.max(1.0),
                "{name}: {sum} of {travel}"
            );
        }
    }
}

#[test]
fn valve() {
    for name in ["bin", "half-known", "sedge", "tarn"] {
        let car = cars::demo(name);
        let loads = drawn::Prepared::of(&car).laden.axle_loads(0.0);
        let picture = ValveCurve(engine::curves::Valve::of(&car, loads)).draw(&Look::default());
        let curves = |row: &[String]| !row[0].starts_with("read");
        assert!(on_lines(&picture, (1, 2), &["rear"], curves) >= 2, "{name}");
    }
}

/// Each wheel's figure on the plan is the one in the table.
#[test]
fn plan() {
    let car = cars::demo("scree");
    let prepared = drawn::Prepared::of(&car);
    let picture = prepared.plan(300.0, prepared.hand).draw(&Look::default());
    let document = Document::parse(&picture.svg).unwrap();
    let written: Vec<String> = texts(&document).into_iter().map(|text| text.words).collect();
    for row in &picture.table.rows {
        for cell in row[..4].iter().filter(|cell| *cell != "–") {
            assert!(written.contains(cell), "{cell} of {row:?}");
        }
    }
    assert_eq!(picture.table.rows[2][4], "rear circuit and lever's own circuit");
}

/// Diagonal circuits feed a front wheel and the rear wheel across; joined at one outlet both reach both rear wheels.
#[test]
fn circuits_reach_the_wheels_that_they_feed() {
    let fed = |name: &str| -> Vec<String> {
        let car = cars::arrangements()
            .into_iter()
            .find(|known| known.0 == name)
            .unwrap()
            .1;
        let picture = drawn::Prepared::of(&car)
            .plan(300.0, quantity::si::Force::ZERO)
            .draw(&Look::default());
        picture
            .table
            .rows
            .iter()
            .map(|row| row[row.len() - 1].clone())
            .collect()
    };
    assert_eq!(
        fed("diagonal, two outlets"),
        [
            "first circuit",
            "second circuit",
            "second circuit",
            "first circuit"
        ]
    );
    assert_eq!(
        fed("two outlets"),
        ["front circuit", "front circuit", "rear circuit", "rear circuit"]
    );
    let joined = fed("diagonal, joined");
    assert_eq!(joined[..2], ["first circuit", "second circuit"]);
    assert_eq!(joined[2..], ["both circuits joined", "both circuits joined"]);
}

/// Nothing to draw is said in words.
#[test]
fn empty_states_say_why() {
    let words = |picture: &Picture| -> String {
        let document = Document::parse(&picture.svg).unwrap();
        texts(&document)
            .into_iter()
            .map(|text| text.words)
            .collect::<Vec<_>>()
            .join(" ")
    };
    let weak = &cars::extremes()[0].1;
    let prepared = drawn::Prepared::of(weak);
    let order = LockOrder(engine::curves::LockCurves::of(
        weak,
        &prepared.balance,
        &[("dry", 0.0, prepared.laden)],
        &[0.5],
    ))
    .draw(&Look::default());
    assert!(words(&order).contains("Nothing locks at any of these grips with up to 1000\u{A0}N of foot."));
    let bare = cars::arrangements()
        .into_iter()
        .find(|known| known.0 == "no lever, no valve")
        .unwrap()
        .1;
    let prepared = drawn::Prepared::of(&bare);
    assert!(words(&prepared.pull().draw(&Look::default())).contains("no handbrake"));
    let valve =
        ValveCurve(engine::curves::Valve::of(&bare, prepared.laden.axle_loads(0.0))).draw(&Look::default());
    assert!(words(&valve).contains("No bias valve"));
    let cable = cars::arrangements()
        .into_iter()
        .find(|known| known.0 == "cable")
        .unwrap()
        .1;
    assert!(
        words(&drawn::Prepared::of(&cable).pull().draw(&Look::default()))
            .contains("A cable works the rear brakes")
    );
}

/// Units are those that were asked for, in picture and table.
#[test]
fn units_are_the_persons() {
    let car = cars::demo("tarn");
    let unit = |text: &str| quantity::unit_named(text).unwrap();
    let units = wording::Units {
        pressure: unit("psi"),
        length: unit("in"),
        force: unit("lbf"),
        torque: unit("lbf ft"),
        ..wording::Units::default()
    };
    let picture = drawn::Prepared::of(&car).pull().draw(&Look {
        units,
        ..Look::default()
    });
    assert_eq!(
        picture.table.head[1..],
        [
            "hand, lbf",
            "travel of the grip, in",
            "pressure at the rear brakes, psi"
        ]
    );
    assert!(
        on_lines(&picture, (2, 3), &["hand", "ideal"], |row| row[0]
            .starts_with("locks"))
            >= 1
    );
    assert!(!picture.svg.contains("\u{A0}mm") && !picture.svg.contains("\u{A0}bar"));
}

/// Towards the front is to the left, as the words over the picture say.
#[test]
fn a_bar_that_goes_to_the_rear_is_marked_to_the_right() {
    let svg = drawn::bar_turns().draw(&Look::default()).svg;
    let marks: Vec<f64> = svg
        .split("<rect ")
        .filter(|rect| rect.starts_with("class=\"mark\""))
        .map(|rect| {
            rect.split("x=\"")
                .nth(1)
                .unwrap()
                .split('"')
                .next()
                .unwrap()
                .parse()
                .unwrap()
        })
        .collect();
    let [front, rear, none] = marks[..] else {
        panic!("{marks:?}");
    };
    assert!(front < none && none < rear, "{marks:?}");
    assert!(((none - front) - (rear - none)).abs() < 0.3, "{marks:?}");
    assert!(svg.find("to the front").unwrap() < svg.find("to the rear").unwrap());
}

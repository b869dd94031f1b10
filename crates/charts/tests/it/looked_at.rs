//! Two pictures as they were when somebody looked at them. They change only with the drawing.

use charts::{NamedKnee, RangeBar, Reading, Units, ValveCurve};
use engine::ranges::Range;
use quantity::si::Pressure;

use crate::drawn::look;

fn bar(value: f64) -> Pressure {
    Pressure::from_pa(value * 1e5)
}

#[test]
fn a_valve() {
    let curve = ValveCurve {
        set: Some(NamedKnee {
            name: "as set, 2 turns".into(),
            knee: bar(30.0),
        }),
        slope: 0.4,
        others: vec![NamedKnee {
            name: "0 turns".into(),
            knee: bar(10.0),
        }],
        readings: vec![Reading {
            setting: "2 turns".into(),
            inlet: bar(60.0),
            outlet: bar(41.0),
        }],
    };
    let picture = curve.draw(&look("valve", "Tarn 4", charts::Width::Narrow));
    insta::assert_snapshot!("valve", picture.svg);
    insta::assert_debug_snapshot!("valve-table", picture.table);
}

#[test]
fn a_range() {
    let bar = RangeBar {
        name: "force of the hand to lock".into(),
        unit: Units::default().force,
        middle_si: 163.0,
        range: Some(Range {
            low: 141.0,
            high: 190.0,
        }),
        limit: Some(("the driver's pull".into(), 250.0)),
        guessed: true,
    };
    insta::assert_snapshot!(
        "range",
        bar.draw(&look("range", "Tarn 4", charts::Width::Wide)).svg
    );
}

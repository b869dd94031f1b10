//! Two pictures as they were when somebody looked at them. They change only with the drawing.

use charts::{NamedKnee, Reading, ValveCurve};
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

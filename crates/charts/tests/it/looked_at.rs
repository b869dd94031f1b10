//! Two pictures as they were when somebody looked at them. They change only with the drawing.

use charts::ValveCurve;
use engine::car::{KnobScale, Setting};
use engine::curves::{GaugePair, KneeOf, NamedKnee, Valve};
use quantity::si::Pressure;

use crate::drawn::look;

fn bar(value: f64) -> Pressure {
    Pressure::from_pa(value * 1e5)
}

#[test]
fn a_valve() {
    let turns = |turns: f64| quantity::si::Turns::from_turns(turns);
    let scale = KnobScale::Turns(turns(4.0));
    let curve = ValveCurve(Valve {
        set: Some(NamedKnee {
            of: KneeOf::Set(2.0, scale),
            knee: bar(30.0),
        }),
        slope: 0.4,
        others: vec![NamedKnee {
            of: KneeOf::KnobEnd(0.0, scale),
            knee: bar(10.0),
        }],
        readings: vec![GaugePair {
            setting: Some(Setting::Turns(turns(2.0))),
            inlet: bar(60.0),
            outlet: bar(41.0),
        }],
    });
    let picture = curve.draw(&look("valve", "Tarn 4", charts::Width::Narrow));
    insta::assert_snapshot!("valve", picture.svg);
    insta::assert_debug_snapshot!("valve-table", picture.table);
}

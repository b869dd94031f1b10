//! Figures as a machine reads them.

use questions::result::{Num, OrWhy, to_json};
use serde::Serialize;
use serde_json::json;

#[derive(Serialize)]
struct View {
    there: Num,
    missing: OrWhy<Num>,
    endless: Num,
    list: Vec<OrWhy<Num>>,
}

#[test]
fn a_missing_figure_is_null_with_its_reason() {
    let view = View {
        there: 1.0.into(),
        missing: OrWhy::Why("a cable makes no pressure".into()),
        endless: f64::INFINITY.into(),
        list: vec![OrWhy::Is(2.0.into()), OrWhy::Why("cut".into())],
    };
    assert_eq!(
        to_json(&view).unwrap(),
        json!({
            "there": 1.0, "missing": null, "missing_why": "a cable makes no pressure",
            "endless": null, "endless_why": "no finite figure comes out", "list": [2.0, null]
        })
    );
}

#[test]
fn figures_keep_ten_digits() {
    let text = |value: f64| serde_json::to_string(&Num::from(value)).unwrap();
    assert_eq!(text(2.0 / 3.0), "0.6666666667");
    assert_eq!(text(123_456_789_012.0), "123456789000.0");
    assert_eq!(text(-0.0), "0.0");
    assert_eq!(text(1.0 / 3.0 * 1e-20), "3.333333333e-21");
}

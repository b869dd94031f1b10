//! Units of the person's choice, and that they are remembered.

use crate::bench::{Bench, Test};
use crate::workshop::Workshop;

pub(crate) const ALL: &[Test] = &[(
    "units::chosen_units_are_remembered_after_a_restart",
    chosen_units_are_remembered_after_a_restart,
)];

fn chosen_units_are_remembered_after_a_restart(bench: &Bench) {
    let page = bench.browser();
    let mut workshop = Workshop::with_cars().serve(&[]);
    page.go(&workshop.address("/car/tarn/lever?hand=200"));
    assert_eq!(page.text("output[for=handle-hand]"), "200 N");
    page.follow("Units");
    for (field, unit) in [("pressure", "psi"), ("length", "in"), ("force", "lbf")] {
        page.click(&format!("#unit-{field} option[value='{unit}']"));
    }
    page.follow("Keep");
    for again in [false, true] {
        if again {
            page.go("about:blank");
            workshop.restart();
        }
        page.go(&workshop.address("/preferences"));
        let kept: Vec<String> = page.js(
            "return ['pressure', 'length', 'force'].map((field) => document.getElementById(`unit-${field}`).value)",
        );
        assert_eq!(kept, ["psi", "in", "lbf"]);
        // The address goes on meaning newtons; 1 lbf is 4.448 N (0.45359237 kg by 9.80665 m/s2, exact by definition).
        page.go(&workshop.address("/car/tarn/lever?hand=200"));
        assert_eq!(page.text("output[for=handle-hand]"), "45 lbf");
        page.drag("#handle-hand", 60, || {});
        page.until("location.search !== '?hand=200'");
        let (newtons, shown): (f64, String) = page.js(
            "return [Number(document.querySelector('#handle-hand').value), document.querySelector('output[for=handle-hand]').textContent]",
        );
        let pounds: f64 = shown.trim_end_matches("lbf").trim().parse().unwrap();
        assert!(
            (newtons / 4.448_221_615_260_5 - pounds).abs() <= 0.5,
            "{newtons} N is shown as {shown}"
        );
        let (chosen, others): (bool, Vec<String>) = page.js(
            "const main = document.querySelector('main').cloneNode(true);
             main.querySelector('.foot').remove(); // what stands on the sheet keeps its own unit
             main.querySelector('.what-if').remove(); // sizes are called as they are sold
             const text = main.textContent;
             return [['psi', 'in', 'lbf'].every((unit) => new RegExp('[0-9]\\u00a0' + unit + '($|[^a-z])').test(text)), text.match(/.{20}\\d\\s(bar|mm)\\b/g) ?? []]",
        );
        assert!(chosen && others.is_empty(), "other units: {others:?}");
        page.is_quiet();
    }
}

use engine::brake::Warmth;
use engine::car::{Brake, Car, PullPoint};
use engine::hydraulics::Hydraulics;
use engine::pull::{Apart, Instruments, PullPart, take_apart};
use quantity::si::{Length, Pressure, Volume};
use symptoms::{DoneBetween, changed};

use crate::car;

fn pulled(sheet: &Car, air_cm3: f64, clearance_mm: f64, bars: &[f64]) -> Apart {
    let mut made = sheet.clone();
    made.air.rear = Volume::from_m3(air_cm3 * 1e-6);
    if let Brake::Disc(disc) = &mut made.rear_brake {
        disc.clearance = Length::from_m(clearance_mm / 1e3);
    }
    let hydraulics = Hydraulics::of(&made, Warmth::Warm);
    let points: Vec<PullPoint> = bars
        .iter()
        .map(|bar| {
            let pressure = Pressure::from_pa(bar * 1e5);
            PullPoint {
                travel: hydraulics.effort(pressure).unwrap().travel,
                pressure,
                hand: None,
            }
        })
        .collect();
    take_apart(sheet, &points, Instruments::default()).unwrap()
}

const MARKS: [f64; 8] = [2.0, 3.0, 5.0, 9.0, 15.0, 24.0, 36.0, 50.0];

#[test]
fn a_joint_that_let_air_in_explains_nearly_all() {
    let sheet = car("tarn");
    let (then, now) = (
        pulled(&sheet, 0.0, 0.12, &MARKS),
        pulled(&sheet, 2.0, 0.12, &MARKS),
    );
    let known = DoneBetween {
        joints_opened: 1,
        ..DoneBetween::default()
    };
    let found = changed(&then, &now, known);
    let first = found.parts[0];
    assert_eq!(
        (first.part, first.is_sure, first.goes_with),
        (PullPart::Air, true, Some("a joint was opened since"))
    );
    assert!(first.share.unwrap() > 0.95, "{found:?}");
    // 2 cm³ at 50 bar: 2 · 50/51.01 over the bore's 1.979 cm², times 7: 69 mm.
    assert!((first.by.m() * 1e3 - 69.3).abs() < 1.0, "{first:?}");
    assert!(
        ((found.travel.1 - found.travel.0).m() - first.by.m()).abs() < 1.5e-3,
        "{found:?}"
    );
}

#[test]
fn nothing_changed_is_said_and_nothing_explained() {
    let sheet = car("tarn");
    let one = pulled(&sheet, 0.3, 0.12, &MARKS);
    let found = changed(&one, &pulled(&sheet, 0.35, 0.12, &MARKS), DoneBetween::default());
    assert!(!found.anything);
    assert!(
        found
            .parts
            .iter()
            .all(|part| part.share.is_none() && !part.is_sure)
    );
}

#[test]
fn two_pulls_to_other_pressures_are_compared_where_both_were() {
    let sheet = car("tarn");
    let found = changed(
        &pulled(&sheet, 0.0, 0.12, &MARKS),
        &pulled(&sheet, 0.0, 0.40, &MARKS[..6]),
        DoneBetween {
            pads_changed: true,
            ..DoneBetween::default()
        },
    );
    assert_eq!(found.at, Pressure::from_pa(24e5));
    assert_eq!(found.parts[0].part, PullPart::Clearance);
    assert_eq!(
        found.parts[0].goes_with,
        Some("pads or shoes were changed or adjusted since")
    );
    assert!(found.parts[0].is_sure && !found.parts[1].is_sure, "{found:?}");
}

/// Readings that cannot tell the three apart make nothing sure.
#[test]
fn it_is_never_more_certain_than_the_readings() {
    let sheet = car("tarn");
    let high = [24.0, 30.0, 36.0, 50.0];
    let found = changed(
        &pulled(&sheet, 0.0, 0.12, &high),
        &pulled(&sheet, 1.0, 0.12, &high),
        DoneBetween::default(),
    );
    assert!(found.parts.iter().all(|part| !part.is_sure), "{found:?}");
    assert!(found.travel.1 > found.travel.0);
}

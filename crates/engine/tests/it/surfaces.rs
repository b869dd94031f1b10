//! Grip curves: what the four figures of a surface say is what the curve does, and what no curve can do is refused.

use engine::car::{Surface, built_in_surfaces};
use engine::tyre::{GripCurve, SurfaceFault};
use proptest::prelude::*;

fn surface(peak: f64, slip_at_peak: f64, slide_over_peak: f64, stiffness: f64) -> Surface {
    Surface {
        name: "test".into(),
        peak,
        slip_at_peak,
        slide_over_peak,
        stiffness,
    }
}

fn refused(peak: f64, slip_at_peak: f64, slide_over_peak: f64, stiffness: f64) -> SurfaceFault {
    GripCurve::of(&surface(peak, slip_at_peak, slide_over_peak, stiffness)).unwrap_err()
}

/// The curve passes its peak at the slip, starts with the slope and ends at the sliding share that were asked for.
fn as_asked(surface: &Surface) {
    let curve = GripCurve::of(surface).unwrap();
    let name = &surface.name;
    let start = curve.grip(1e-7) / 1e-7;
    assert!(
        (start / surface.stiffness - 1.0).abs() < 1e-5,
        "{name}: starts at {start}"
    );
    assert!(
        (curve.sliding() / surface.peak - surface.slide_over_peak).abs() < 1e-9,
        "{name}"
    );
    assert!((curve.grip(1e9) - curve.sliding()).abs() < 1e-6, "{name}");
    assert!(
        (curve.grip(f64::INFINITY) - curve.sliding()).abs() < 1e-15,
        "{name}"
    );
    let highest = (1..20_000)
        .map(|step| curve.grip(f64::from(step) * 1e-3))
        .fold(0.0, f64::max);
    assert!(highest <= surface.peak * (1.0 + 1e-12), "{name}: {highest}");
    if surface.slide_over_peak < 1.0 - 1e-9 {
        assert!(
            (curve.grip(surface.slip_at_peak) / surface.peak - 1.0).abs() < 1e-9,
            "{name}"
        );
    }
}

#[test]
fn built_in_surfaces_do_what_they_say() {
    let surfaces = built_in_surfaces();
    assert_eq!(surfaces.len(), 8);
    surfaces.iter().for_each(as_asked);
    let all = surfaces.iter().filter(|surface| !surface.is_by_name_only());
    let peaks: Vec<f64> = all.map(|surface| surface.peak).collect();
    assert_eq!(peaks.len(), 6);
    // Studs grip more than no studs, by name.
    let peak = |name: &str| {
        surfaces
            .iter()
            .find(|surface| &*surface.name == name)
            .unwrap()
            .peak
    };
    assert_eq!((peak("studded snow"), peak("studded ice")), (0.45, 0.30));
    assert!(peaks.windows(2).all(|pair| pair[0] > pair[1]), "{peaks:?}");
}

#[test]
fn another_peak_keeps_the_shape() {
    for surface in built_in_surfaces() {
        let scaled = surface.with_peak(0.8 * surface.peak);
        let (one, other) = (GripCurve::of(&surface).unwrap(), GripCurve::of(&scaled).unwrap());
        for slip in [0.01, 0.1, 0.3, 1.0, 10.0, f64::INFINITY] {
            assert!(
                (other.grip(slip) / one.grip(slip) - 0.8).abs() < 1e-12,
                "{} at {slip}",
                surface.name
            );
        }
    }
}

#[test]
fn no_grip_is_refused() {
    assert_eq!(refused(0.0, 0.1, 0.8, 10.0), SurfaceFault::NoGrip);
    assert_eq!(refused(-0.2, 0.1, 0.8, 10.0), SurfaceFault::NoGrip);
    assert_eq!(refused(0.5, 0.1, 0.8, 0.0), SurfaceFault::NoGrip);
    assert_eq!(refused(f64::NAN, 0.1, 0.8, 5.0), SurfaceFault::NoGrip);
}

#[test]
fn a_wheel_that_slides_too_easily_is_refused() {
    assert_eq!(
        refused(0.8, 0.1, 0.49, 10.0),
        SurfaceFault::SlidesTooEasily { share: 0.49 }
    );
    assert_eq!(
        refused(0.8, 0.1, 1.01, 10.0),
        SurfaceFault::SlidesTooEasily { share: 1.01 }
    );
    assert!(GripCurve::of(&surface(0.8, 0.2, 0.5, 8.0)).is_ok());
    assert!(refused(0.8, 0.1, 0.49, 10.0).to_string().contains("0.49"));
}

#[test]
fn a_start_that_cannot_reach_its_peak_is_refused() {
    // 60 per unit slip would be at 1.0 long before a slip of 3.
    let why = refused(1.0, 3.0, 0.8, 60.0);
    let SurfaceFault::NotReached {
        steepness,
        slip_at_peak,
        curvature,
    } = why
    else {
        panic!("{why:?}")
    };
    assert_eq!((steepness, slip_at_peak), ("steep", 3.0));
    assert!(curvature > 0.9, "{curvature}");
    assert!(why.to_string().contains("steep"), "{why}");
}

proptest! {
    #![proptest_config(crate::bench::cases())]

    #[test]
    fn a_curve_does_what_its_surface_says(
        peak in 0.1..1.5, slip in 0.05..0.8, slide in 0.55..0.99, start in 1.2..3.0,
    ) {
        // The straight line from the start would be at the peak after a share of the slip.
        let surface = surface(peak, slip, slide, start * peak / slip);
        if GripCurve::of(&surface).is_ok() {
            as_asked(&surface);
        }
    }
}

//! Every finding of a stage's heat and of a latched lever: a result that has it and one beyond its border that has not,
//! and a car on a stage or a slope that comes to each.

use assess::Finding;
use assess::Weight::{self, Fix, Know, Stop};
use engine::Conditions;
use engine::car::{Axle, Car};
use engine::heat::{
    CornerHeat, Drags, FootHeat, Heat, HeatBench, HeatChange, HeatHelp, Stage, StagePart, What,
};
use engine::hold::{CableHold, Hold, HoldBench, Kept, Seep};
use engine::loads::{Facing, Grade};
use quantity::si::{Duration, Force, Pressure, Speed, TemperatureDifference, Torque};

use crate::looked::{read, read_aloud, sheet_text, usual};

const AXLES: [Axle; 2] = [Axle::Front, Axle::Rear];

fn car(name: &str, overrides: &[&str]) -> Car {
    read(&sheet_text(name), overrides).unwrap().1.car
}

fn stage(name: &str) -> Stage {
    sheet::built_in_stage(name).unwrap()
}

/// Thirty days after its fluid was changed, on the first of October.
const A_MONTH_AGO: Option<&str> = Some("2026-09-01");

/// With its fluid changed on a day; `None`: nobody knows.
fn bench(car: &Car, fitted: Option<&str>) -> HeatBench {
    let mut car = car.clone();
    car.fluid.fitted = fitted.map(|day| day.parse().unwrap());
    HeatBench::of(&car, &usual())
}

fn driven(car: &Car, stage: &Stage, fitted: Option<&str>) -> Heat {
    bench(car, fitted).drive(stage).unwrap()
}

fn held(car: &Car, slope: f64) -> Hold {
    let conditions = Conditions {
        grade: Grade {
            slope,
            facing: Facing::Up,
        },
        grip: Some(0.65),
        ..Conditions::default()
    };
    HoldBench::of(car, &conditions).unwrap().hold().unwrap()
}

/// A car and a stage of which nothing is to be said.
fn cool() -> (Car, Heat) {
    let car = car("tarn", &[]);
    let heat = driven(&car, &stage("downhill road"), A_MONTH_AGO);
    assert_eq!(assess::heat(&car, &heat, &[]), []);
    (car, heat)
}

/// A car of which nothing is to be said but that nothing mechanical parks it.
fn held_well() -> (Car, Hold) {
    let car = car("tarn", &[]);
    let hold = held(&car, 0.10);
    let slugs: Vec<&str> = assess::hold(&car, &hold, wording::Units::default())
        .iter()
        .map(|finding| finding.slug)
        .collect();
    assert_eq!(slugs, ["hold-not-parking"]);
    (car, hold)
}

fn found<'a>(findings: &'a [Finding], slug: &str) -> Option<&'a Finding> {
    findings.iter().find(|finding| finding.slug == slug)
}

fn hot(car: &Car, heat: &Heat, slug: &str) -> Option<Weight> {
    let findings = assess::heat(car, heat, &[]);
    read_aloud(&findings);
    found(&findings, slug).map(|finding| finding.weight)
}

/// The built-in stage with the fluid's age unknown, and so wet.
fn hot_over(name: &str, overrides: &[&str], stage_name: &str, slug: &str) -> Option<Weight> {
    let car = car(name, overrides);
    hot(&car, &driven(&car, &stage(stage_name), None), slug)
}

fn latched(car: &Car, hold: &Hold, slug: &str) -> Option<Weight> {
    let findings = assess::hold(car, hold, wording::Units::default());
    read_aloud(&findings);
    found(&findings, slug).map(|finding| finding.weight)
}

fn latched_on(name: &str, overrides: &[&str], slope: f64, slug: &str) -> Option<Weight> {
    let car = car(name, overrides);
    latched(&car, &held(&car, slope), slug)
}

const fn apart(kelvin: f64) -> TemperatureDifference {
    TemperatureDifference::from_dk(kelvin)
}

const fn corner(heat: &mut Heat, axle: Axle) -> &mut CornerHeat {
    match axle {
        Axle::Front => &mut heat.front,
        Axle::Rear => &mut heat.rear,
    }
}

#[test]
fn dragging() {
    const SLUG: &str = "heat-drags";
    assert_eq!(hot_over("bin", &[], "twisty gravel", SLUG), Some(Stop));
    assert_eq!(
        hot_over("bin", &["lever.free_play=0.1 mm"], "twisty gravel", SLUG),
        None
    );
    let mut brief = stage("twisty gravel");
    brief.parts.truncate(1);
    let StagePart::Stops(stops) = &mut brief.parts[0] else {
        panic!("a stage of stops")
    };
    stops.repeat = 1;
    let bin = car("bin", &[]);
    assert_eq!(hot(&bin, &driven(&bin, &brief, None), SLUG), Some(Know));

    let (car, mut heat) = cool();
    let at = Some(Duration::from_s(300.0));
    for (felt_at, ends_at, weight) in [(None, None, Know), (at, None, Fix), (at, at, Stop)] {
        heat.drags = Some(Drags {
            felt_at,
            ends_at,
            pressure: Pressure::from_pa(5e5),
        });
        assert_eq!(hot(&car, &heat, SLUG), Some(weight), "{felt_at:?} {ends_at:?}");
    }
}

#[test]
fn boiling() {
    let slugs = ["fluid-boils", "fluid-boils-wet", "fluid-near-boiling"];
    let (car, heat) = cool();
    for axle in AXLES {
        for (to_now, to_wet, expected) in [
            (-0.1, -30.0, [Some(Stop), None, None]),
            (0.0, -30.0, [None, Some(Fix), None]),
            (30.0, -0.1, [None, Some(Fix), None]),
            (30.0, 0.0, [None, None, Some(Know)]),
            (30.0, 19.9, [None, None, Some(Know)]),
            (30.0, 20.0, [None, None, None]),
        ] {
            let mut heat = heat.clone();
            let corner = corner(&mut heat, axle);
            (corner.to_now, corner.to_wet) = (apart(to_now), apart(to_wet));
            assert_eq!(
                slugs.map(|slug| hot(&car, &heat, slug)),
                expected,
                "{axle:?} {to_now} {to_wet}"
            );
        }
    }
    // Fluid of a month stands what wet fluid does not.
    let gravel = stage("twisty gravel");
    for (days, expected) in [
        (None, [Some(Stop), None, None]),
        (A_MONTH_AGO, [None, Some(Fix), None]),
    ] {
        let heat = driven(&car, &gravel, days);
        assert_eq!(slugs.map(|slug| hot(&car, &heat, slug)), expected, "{days:?}");
    }
    assert_eq!(
        hot_over("bin", &[], "downhill road", "fluid-near-boiling"),
        Some(Know)
    );
}

#[test]
fn fading() {
    let slugs = ["pads-fade", "heat-beyond-tables"];
    let (car, heat) = cool();
    for axle in AXLES {
        for (to_fade, left_tables, expected) in [
            (-0.1, false, [Some(Fix), None]),
            (-0.1, true, [Some(Fix), None]),
            (0.0, true, [None, Some(Know)]),
            // Further from fading than the other axle, and beyond what is known all the same.
            (900.0, true, [None, Some(Know)]),
            (0.0, false, [None, None]),
        ] {
            let mut heat = heat.clone();
            let corner = corner(&mut heat, axle);
            (corner.to_fade, corner.left_tables) = (apart(to_fade), left_tables);
            let findings = assess::heat(&car, &heat, &[]);
            read_aloud(&findings);
            let weights = slugs.map(|slug| found(&findings, slug).map(|finding| finding.weight));
            assert_eq!(weights, expected, "{axle:?} {to_fade} {left_tables}");
            let word = match axle {
                Axle::Front => "The front discs",
                Axle::Rear => "The rear discs",
            };
            for finding in &findings {
                assert!(finding.because.starts_with(word), "{}", finding.because);
            }
        }
    }
    for (stage, expected) in [
        ("fast tarmac", [Some(Fix), None]),
        ("twisty gravel", [None, Some(Know)]),
        ("downhill road", [None, None]),
    ] {
        assert_eq!(
            slugs.map(|slug| hot_over("tarn", &[], stage, slug)),
            expected,
            "{stage}"
        );
    }
}

/// What would help is asked of what governs: what fresh fluid gains is nothing that pads gain.
#[test]
fn pads_are_promised_what_helps_pads() {
    let (car, mut heat) = cool();
    heat.front.to_fade = apart(-30.0);
    let helps = [HeatHelp {
        change: HeatChange::OtherPad,
        left: apart(10.0),
        gains: apart(40.0),
    }];
    let promised = |heat: &Heat| {
        let findings = assess::heat(&car, heat, &helps);
        found(&findings, "pads-fade").unwrap().remedy.contains("40")
    };
    for (axle, what, expected) in [
        (Axle::Front, What::Pads, true),
        (Axle::Rear, What::Pads, false),
        (Axle::Front, What::FluidRunning, false),
        (Axle::Front, What::FluidSoak, false),
    ] {
        (heat.governs.axle, heat.governs.what) = (axle, what);
        assert_eq!(promised(&heat), expected, "{axle:?} {what:?}");
    }
    // On the tarmac the fluid governs, and fresh fluid is what helps most.
    let tarmac = stage("fast tarmac");
    let heat = driven(&car, &tarmac, None);
    let helps = bench(&car, None).helps(&car, &tarmac, &heat).unwrap();
    assert_eq!(helps[0].change, HeatChange::FreshFluid);
    let findings = assess::heat(&car, &heat, &helps);
    let remedy = &found(&findings, "pads-fade").unwrap().remedy;
    assert!(!remedy.contains("°C"), "{remedy}");
}

#[test]
fn foot() {
    const SLUG: &str = "fade-in-the-foot";
    let (car, mut heat) = cool();
    for (over_warm, expected) in [(1.25, Some(Know)), (1.249, None)] {
        heat.foot = Some(FootHeat {
            most: Force::from_n(500.0),
            over_warm,
        });
        assert_eq!(hot(&car, &heat, SLUG), expected, "{over_warm}");
    }
    heat.foot = None;
    assert_eq!(hot(&car, &heat, SLUG), None);
    assert_eq!(hot_over("tarn", &[], "twisty gravel", SLUG), Some(Know));
    assert_eq!(hot_over("scree", &[], "twisty gravel", SLUG), None);
}

#[test]
fn age() {
    const SLUG: &str = "heat-fluid-age";
    assert_eq!(hot_over("half-known", &[], "twisty gravel", SLUG), Some(Know));
    assert_eq!(
        hot_over("half-known", &["fluid.fitted=2026-03-14"], "twisty gravel", SLUG),
        None
    );
    let unknown = car("half-known", &[]);
    let cool = driven(&unknown, &stage("downhill road"), None);
    for axle in AXLES {
        for (to_dry, expected) in [(99.9, Some(Know)), (100.0, None)] {
            let mut heat = cool.clone();
            corner(&mut heat, axle).to_dry = apart(to_dry);
            assert_eq!(hot(&unknown, &heat, SLUG), expected, "{axle:?} {to_dry}");
        }
    }
}

#[test]
fn end_of_a_stage() {
    const SLUG: &str = "stage-ends-moving";
    let (car, mut heat) = cool();
    for (ends_at, expected) in [(0.3, None), (0.31, Some(Know))] {
        heat.ends_at = Speed::from_m_s(ends_at);
        assert_eq!(hot(&car, &heat, SLUG), expected, "{ends_at}");
    }
    // Who gives up for a brake that drags has not come to the end.
    for (ends_at, expected) in [(None, Some(Know)), (Some(Duration::from_s(300.0)), None)] {
        heat.drags = Some(Drags {
            felt_at: None,
            ends_at,
            pressure: Pressure::from_pa(5e5),
        });
        assert_eq!(hot(&car, &heat, SLUG), expected, "{ends_at:?}");
    }
    let mut road = stage("downhill road");
    road.parts.pop();
    assert_eq!(hot(&car, &driven(&car, &road, A_MONTH_AGO), SLUG), Some(Know));
}

#[test]
fn letting_go() {
    let slugs = ["hold-start-line", "hold-service"];
    let (car, hold) = held_well();
    for number in 0..hold.arrivals.len() {
        for (seconds, expected) in [
            (119.9, [Some(Fix), None]),
            (120.0, [None, Some(Know)]),
            (599.9, [None, Some(Know)]),
            (600.0, [None, None]),
        ] {
            let mut hold = hold.clone();
            hold.arrivals[number].holds_for = Some(Duration::from_s(seconds));
            assert_eq!(
                slugs.map(|slug| latched(&car, &hold, slug)),
                expected,
                "{number} {seconds}"
            );
        }
    }
    for (slope, expected) in [
        (0.10, [None, None]),
        (0.30, [None, Some(Know)]),
        (0.40, [Some(Fix), None]),
    ] {
        assert_eq!(
            slugs.map(|slug| latched_on("half-known", &[], slope, slug)),
            expected,
            "{slope}"
        );
    }
}

#[test]
fn parking() {
    const SLUG: &str = "hold-not-parking";
    assert_eq!(latched_on("tarn", &[], 0.10, SLUG), Some(Stop));
    assert_eq!(latched_on("scree", &[], 0.10, SLUG), Some(Know));
    assert_eq!(latched_on("tarn", &["lever.cable_kept=true"], 0.10, SLUG), None);
    // A cable traps nothing.
    let (car, mut hold) = held_well();
    hold.seep = None;
    assert_eq!(latched(&car, &hold, SLUG), None);
}

#[test]
fn rising() {
    const SLUG: &str = "hold-pressure-rises";
    assert_eq!(latched_on("sedge", &[], 0.10, SLUG), Some(Know));
    assert_eq!(latched_on("tarn", &[], 0.10, SLUG), None);
    let (car, hold) = held_well();
    for number in 0..hold.arrivals.len() {
        for (from, to, expected) in [
            (100.0, 129.9, None),
            (100.0, 130.0, Some(Know)),
            (200.0, 276.0, Some(Know)),
            (200.0, 276.1, Some(Fix)),
            (250.0, 300.0, None),
        ] {
            let mut hold = hold.clone();
            let arrival = &mut hold.arrivals[number];
            arrival.pressure = Some(Pressure::from_pa(from * 1e5));
            arrival.pressure_max = Some(Pressure::from_pa(to * 1e5));
            assert_eq!(latched(&car, &hold, SLUG), expected, "{number} {from} to {to}");
        }
    }
}

#[test]
fn kept_cable() {
    const SLUG: &str = "kept-cable-weak";
    let (road, mut hold) = held_well();
    let race = car("tarn", &["car.road_registered=false"]);
    for (steepest, on_the_road) in [(0.199, Some(Fix)), (0.20, None)] {
        hold.kept = Kept::Computed(CableHold {
            hand: Force::from_n(250.0),
            torque: Torque::from_nm(500.0),
            steepest,
        });
        assert_eq!(latched(&road, &hold, SLUG), on_the_road, "{steepest}");
        assert_eq!(latched(&race, &hold, SLUG), None, "{steepest}");
    }
    for kept in [Kept::None, Kept::NoFigures, Kept::OwnShoes] {
        hold.kept = kept;
        assert_eq!(latched(&road, &hold, SLUG), None, "{kept:?}");
    }
    // 250 N · ratio · 0.6 on pads: 923 N·m hold 19.96 %, 935 N·m hold 20.2 %.
    for (ratio, expected) in [("79", Some(Fix)), ("80", None)] {
        let ratio = format!("lever.cable.ratio={ratio}");
        let overrides = ["lever.cable_kept=true", &ratio, "lever.cable.efficiency=0.6"];
        assert_eq!(latched_on("tarn", &overrides, 0.10, SLUG), expected, "{ratio}");
    }
}

#[test]
fn seeping() {
    const SLUG: &str = "hold-seep-unmeasured";
    assert_eq!(latched_on("sedge", &[], 0.10, SLUG), Some(Know));
    let (car, mut hold) = held_well();
    assert_eq!(latched(&car, &hold, SLUG), None);
    hold.seep = hold.seep.map(|seep| Seep {
        measured: false,
        ..seep
    });
    assert_eq!(latched(&car, &hold, SLUG), Some(Know));
    hold.seep = None;
    assert_eq!(latched(&car, &hold, SLUG), None);
}

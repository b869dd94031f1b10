//! Findings of a stage's heat and of a latched lever, each on both sides of its border. A real stage and a real hold give
//! the figures; the one that decides is then put on either side.

use assess::Weight::{self, Fix, Know, Stop};
use engine::car::Car;
use engine::heat::{self, Drags, FootHeat, Heat, HeatBench};
use engine::hold::{self, CableHold, Hold, HoldBench, Kept};
use engine::loads::{Aboard, Facing, Grade};
use quantity::si::{Duration, Force, Pressure, Speed, Temperature, TemperatureDifference, Torque};

use crate::looked::{read, sheet_text};

const AMBIENT: Temperature = Temperature::from_celsius(15.0);

fn car(overrides: &[&str]) -> Car {
    read(&sheet_text("tarn"), overrides).unwrap().1.car
}

/// Nothing to say of it: cool, the foot light, the car at rest at the end.
fn cool(car: &Car) -> Heat {
    let folder = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("../../demo/stages");
    let mut files: Vec<_> = std::fs::read_dir(folder)
        .unwrap()
        .map(|file| file.unwrap().path())
        .collect();
    files.sort();
    let stage = sheet::stage(&std::fs::read(&files[0]).unwrap(), "stage.toml").unwrap();
    let asked = heat::Asked {
        ambient: AMBIENT,
        aboard: Aboard::default(),
        fluid_days: None,
    };
    let mut heat = HeatBench::of(car, asked).drive(&stage).unwrap();
    for corner in [&mut heat.front, &mut heat.rear] {
        corner.to_wet = kelvin(80.0);
        corner.to_dry = kelvin(150.0);
        corner.to_now = kelvin(120.0);
        corner.to_fade = kelvin(60.0);
        corner.left_tables = false;
    }
    heat.foot = None;
    heat.drags = None;
    heat.ends_at = Speed::ZERO;
    heat
}

fn kelvin(apart: f64) -> TemperatureDifference {
    TemperatureDifference::from_dk(apart)
}

fn found(car: &Car, heat: &Heat) -> Vec<(&'static str, Weight)> {
    assess::heat(car, heat, &[])
        .into_iter()
        .map(|finding| (finding.slug, finding.weight))
        .collect()
}

#[test]
fn a_cool_stage_has_nothing_to_say() {
    let car = car(&[]);
    assert_eq!(found(&car, &cool(&car)), []);
}

/// Twenty degrees from the wet point; past it; past that of the fluid's age. The axle nearer to it decides.
#[test]
fn how_near_the_fluid_comes() {
    let car = car(&[]);
    let at = |to_wet: f64, to_now: f64, rear: bool| {
        let mut heat = cool(&car);
        let corner = if rear { &mut heat.rear } else { &mut heat.front };
        corner.to_wet = kelvin(to_wet);
        corner.to_now = kelvin(to_now);
        found(&car, &heat)
    };
    for rear in [false, true] {
        assert_eq!(at(20.0, 60.0, rear), []);
        assert_eq!(at(19.9, 60.0, rear), [("fluid-near-boiling", Know)]);
        assert_eq!(at(0.0, 40.0, rear), [("fluid-near-boiling", Know)]);
        assert_eq!(at(-0.1, 40.0, rear), [("fluid-boils-wet", Fix)]);
        assert_eq!(at(-40.0, 0.0, rear), [("fluid-boils-wet", Fix)]);
        assert_eq!(at(-40.1, -0.1, rear), [("fluid-boils", Stop)]);
    }
}

#[test]
fn how_far_pads_fade_and_figures_reach() {
    let car = car(&[]);
    let at = |to_fade: f64, left_tables: bool, rear: bool| {
        let mut heat = cool(&car);
        let corner = if rear { &mut heat.rear } else { &mut heat.front };
        corner.to_fade = kelvin(to_fade);
        corner.left_tables = left_tables;
        found(&car, &heat)
    };
    for rear in [false, true] {
        assert_eq!(at(0.0, false, rear), []);
        assert_eq!(at(-0.1, false, rear), [("pads-fade", Fix)]);
        assert_eq!(at(-0.1, true, rear), [("pads-fade", Fix)]);
        assert_eq!(at(0.0, true, rear), [("heat-beyond-tables", Know)]);
    }
}

/// A quarter more foot; 0.3 m/s at the end, which is at rest but for rounding.
#[test]
fn a_heavy_foot_and_a_stage_that_ends_moving() {
    let car = car(&[]);
    let foot = |over_warm: f64| {
        let mut heat = cool(&car);
        heat.foot = Some(FootHeat {
            most: Force::from_n(300.0),
            over_warm,
        });
        found(&car, &heat)
    };
    assert_eq!(foot(1.249), []);
    assert_eq!(foot(1.25), [("fade-in-the-foot", Know)]);
    let ends = |m_s: f64, given_up: bool| {
        let mut heat = cool(&car);
        heat.ends_at = Speed::from_m_s(m_s);
        heat.drags = given_up.then_some(Drags {
            felt_at: None,
            ends_at: Some(Duration::from_s(300.0)),
            pressure: Pressure::from_pa(5e5),
        });
        found(&car, &heat)
    };
    assert_eq!(ends(0.3, false), []);
    assert_eq!(ends(0.31, false), [("stage-ends-moving", Know)]);
    // Where nobody drives on for the drag, that is what is said.
    assert_eq!(ends(20.0, true), [("heat-drags", Stop)]);
}

#[test]
fn how_far_a_covered_by_pass_drags() {
    let car = car(&[]);
    let drags = |felt: Option<f64>, ends: Option<f64>| {
        let mut heat = cool(&car);
        heat.drags = Some(Drags {
            felt_at: felt.map(Duration::from_s),
            ends_at: ends.map(Duration::from_s),
            pressure: Pressure::from_pa(5e5),
        });
        found(&car, &heat)
    };
    assert_eq!(drags(None, None), [("heat-drags", Know)]);
    assert_eq!(drags(Some(100.0), None), [("heat-drags", Fix)]);
    assert_eq!(drags(Some(100.0), Some(300.0)), [("heat-drags", Stop)]);
}

/// Of a fluid whose age nobody knows it is said so from 100 °C below the dry point on.
#[test]
fn a_fluid_of_unknown_age() {
    let mut car = car(&[]);
    let at = |car: &Car, front: f64, rear: f64| {
        let mut heat = cool(car);
        heat.front.to_dry = kelvin(front);
        heat.rear.to_dry = kelvin(rear);
        found(car, &heat)
    };
    assert!(car.fluid.fitted.is_some());
    assert_eq!(at(&car, 50.0, 50.0), []);
    car.fluid.fitted = None;
    assert_eq!(at(&car, 100.0, 100.0), []);
    assert_eq!(at(&car, 99.9, 150.0), [("heat-fluid-age", Know)]);
    assert_eq!(at(&car, 150.0, 99.9), [("heat-fluid-age", Know)]);
}

// A latched lever. -----------------------------------------------------------------------------------------------------

/// Nothing to say of it: it holds, its pressure falls, the seep was measured, a strong cable was kept.
fn held(car: &Car) -> Hold {
    let asked = hold::Asked {
        grade: Grade {
            slope: 0.10,
            facing: Facing::Up,
        },
        ambient: AMBIENT,
        grip: 0.65,
        aboard: Aboard::default(),
        hand: None,
    };
    let mut hold = HoldBench::of(car, asked).unwrap().hold().unwrap();
    for arrival in &mut hold.arrivals {
        arrival.holds_for = None;
        arrival.pressure = Some(Pressure::from_pa(50e5));
        arrival.pressure_max = Some(Pressure::from_pa(50e5));
    }
    hold.seep.as_mut().unwrap().measured = true;
    hold.kept = cable(0.25);
    hold
}

fn cable(steepest: f64) -> Kept {
    Kept::Computed(CableHold {
        hand: Force::from_n(300.0),
        torque: Torque::from_nm(500.0),
        steepest,
    })
}

fn said(car: &Car, hold: &Hold) -> Vec<(&'static str, Weight)> {
    assess::hold(car, hold)
        .into_iter()
        .map(|finding| (finding.slug, finding.weight))
        .collect()
}

/// Two minutes are a start line, ten are service; the arrival that lets go first decides.
#[test]
fn how_long_it_holds() {
    let car = car(&[]);
    let lets_go = |after_s: f64| {
        let mut hold = held(&car);
        hold.arrivals.last_mut().unwrap().holds_for = Some(Duration::from_s(after_s));
        said(&car, &hold)
    };
    assert_eq!(said(&car, &held(&car)), []);
    assert_eq!(lets_go(600.0), []);
    assert_eq!(lets_go(599.9), [("hold-service", Know)]);
    assert_eq!(lets_go(120.0), [("hold-service", Know)]);
    assert_eq!(lets_go(119.9), [("hold-start-line", Fix)]);
}

/// 1.3 times what was latched; beyond 276 bar, at which a hose is tested, it is to be put right.
#[test]
fn how_far_the_pressure_rises() {
    let car = car(&[]);
    let rises = |from_bar: f64, to_bar: f64| {
        let mut hold = held(&car);
        hold.arrivals[0].pressure = Some(Pressure::from_pa(from_bar * 1e5));
        hold.arrivals[0].pressure_max = Some(Pressure::from_pa(to_bar * 1e5));
        said(&car, &hold)
    };
    assert_eq!(rises(60.0, 77.9), []);
    assert_eq!(rises(60.0, 78.1), [("hold-pressure-rises", Know)]);
    assert_eq!(rises(150.0, 276.0), [("hold-pressure-rises", Know)]);
    assert_eq!(rises(150.0, 276.1), [("hold-pressure-rises", Fix)]);
}

/// Trapped pressure parks nothing; a kept cable has to hold a fifth of slope on the road. A guessed seep is said.
#[test]
fn what_parks_it_and_what_is_guessed() {
    let (road, stage) = (car(&[]), car(&["car.road_registered=false"]));
    let kept = |car: &Car, kept: Kept| {
        let mut hold = held(car);
        hold.kept = kept;
        said(car, &hold)
    };
    assert_eq!(kept(&road, Kept::None), [("hold-not-parking", Stop)]);
    assert_eq!(kept(&stage, Kept::None), [("hold-not-parking", Know)]);
    assert_eq!(kept(&road, cable(0.20)), []);
    assert_eq!(kept(&road, cable(0.199)), [("kept-cable-weak", Fix)]);
    assert_eq!(kept(&stage, cable(0.199)), []);
    let mut by_cable = held(&road);
    by_cable.kept = Kept::None;
    by_cable.seep = None;
    assert_eq!(said(&road, &by_cable), []);
    let mut guessed = held(&road);
    guessed.seep.as_mut().unwrap().measured = false;
    assert_eq!(said(&road, &guessed), [("hold-seep-unmeasured", Know)]);
}

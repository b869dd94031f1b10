//! How hot it gets: the account of heat, exactness, fade within a stop, what the lever's own use and a drag do.

use engine::Conditions;
use engine::car::{Axle, Car};
use engine::heat::{
    Boiling, By, Descent, Exactness, Heat, HeatBench, HeatChange, HeatFigures, Heats, Stage, StagePart,
    Stops, TracePoint, What, by_pass_may_stay_covered,
};
use engine::loads::{Aboard, Laden};
use engine::ranges::Sampling;
use engine::thermal::{Corner, Fade, Unsure, convection_w_m2_k};
use engine::thresholds::FADED_BELOW;
use proptest::prelude::*;
use quantity::si::{Duration, Length, Speed, Temperature};

use crate::bench::{cases, demo, root, written};
use crate::random::cars;

fn car(name: &str) -> Car {
    demo(name).0.car
}

fn kmh(speed: f64) -> Speed {
    Speed::from_m_s(speed / 3.6)
}

fn stops(from: f64, to: f64, rate: f64, every_s: f64, repeat: u32) -> Stops {
    Stops {
        from: kmh(from),
        to: kmh(to),
        rate,
        every: Duration::from_s(every_s),
        repeat,
        slope: 0.0,
        by: By::Pedal,
    }
}

fn stage(parts: &[StagePart]) -> Stage {
    Stage {
        name: "of a test".into(),
        about: "".into(),
        parts: parts.to_vec(),
    }
}

fn hard() -> Stage {
    stage(&[
        StagePart::Stops(stops(118.0, 60.0, 0.6, 18.0, 14)),
        StagePart::Stops(stops(90.0, 0.0, 0.4, 30.0, 4)),
    ])
}

fn drive(car: &Car, stage: &Stage) -> Heat {
    HeatBench::of(car, &Conditions::default()).drive(stage).unwrap()
}

/// The built-in stages and every demonstration car's own.
fn all_stages() -> Vec<Stage> {
    let mut files = Vec::new();
    for folder in std::fs::read_dir(root().join("demo")).unwrap() {
        let path = folder.unwrap().path();
        let stages = if path.ends_with("stages") {
            path
        } else {
            path.join("stages")
        };
        if let Ok(entries) = std::fs::read_dir(stages) {
            files.extend(entries.map(|entry| entry.unwrap().path()));
        }
    }
    assert!(files.len() >= 13, "{files:?}");
    files
        .iter()
        .map(|file| sheet::stage(&std::fs::read(file).unwrap(), &file.to_string_lossy()).unwrap())
        .collect()
}

#[test]
fn heat_made_is_heat_held_or_gone_on_every_demonstration_stage() {
    for (name, car) in written() {
        for stage in all_stages() {
            let heat = drive(&car, &stage);
            assert!(heat.account.made_j > 1e5, "{name} {}", stage.name);
            assert!(
                heat.account.off().abs() < 1e-6,
                "{name} {}: {:e}",
                stage.name,
                heat.account.off()
            );
        }
    }
}

/// `½ m (v₁² − v₂²) · 1.05` a stop, and `m g sin θ · way` down a hill.
#[test]
fn the_brakes_make_the_energy_of_the_stops() {
    let car = car("tarn");
    let kg = Laden::of(&car, Aboard::default()).mass.kg();
    let heat = drive(
        &car,
        &stage(&[StagePart::Stops(stops(120.0, 50.0, 0.7, 18.0, 20))]),
    );
    let wanted = 20.0 * 1.05 * 0.5 * kg * ((120.0_f64 / 3.6).powi(2) - (50.0_f64 / 3.6).powi(2));
    assert!((heat.account.made_j / wanted - 1.0).abs() < 1e-7);
    let down = Descent {
        at: kmh(45.0),
        slope: -0.08,
        lasts: Duration::from_s(240.0),
    };
    let heat = drive(&car, &stage(&[StagePart::Descent(down)]));
    let wanted = kg * 9.81 * (0.08_f64).atan().sin() * 12.5 * 240.0;
    assert!((heat.account.made_j / wanted - 1.0).abs() < 1e-7);
    assert!((heat.distance.m() - 3000.0).abs() < 1e-6);
}

#[test]
fn a_road_that_falls_adds_its_share_and_one_that_climbs_takes_it() {
    let car = car("tarn");
    let made = |slope: f64| {
        let of = Stops {
            slope,
            ..stops(100.0, 40.0, 0.5, 20.0, 1)
        };
        drive(&car, &stage(&[StagePart::Stops(of)])).account.made_j
    };
    let kg = Laden::of(&car, Aboard::default()).mass.kg();
    // Way of the stop: (v₁² − v₂²)/(2 a).
    let way = ((100.0_f64 / 3.6).powi(2) - (40.0_f64 / 3.6).powi(2)) / (2.0 * 0.5 * 9.81);
    for slope in [-0.12_f64, 0.07] {
        let by_hand = -kg * 9.81 * slope.atan().sin() * way;
        assert!(
            ((made(slope) - made(0.0)) / by_hand - 1.0).abs() < 1e-6,
            "{slope}"
        );
    }
}

#[test]
fn results_do_not_hang_on_the_step() {
    for name in ["tarn", "sedge", "bin"] {
        let car = car(name);
        let bench = HeatBench::of(&car, &Conditions::default());
        for stage in [hard(), sheet::built_in_stage("twisty gravel").unwrap()] {
            let usual = bench.clone().drive(&stage).unwrap();
            let close = bench
                .clone()
                .as_exactly(Exactness {
                    relative: 1e-12,
                    absolute_k: 1e-9,
                })
                .drive(&stage)
                .unwrap();
            for axle in [Axle::Front, Axle::Rear] {
                let (one, other) = (usual.corner(axle), close.corner(axle));
                for (one, other) in [
                    (one.disc_peak, other.disc_peak),
                    (one.fluid_running, other.fluid_running),
                    (one.fluid_soak, other.fluid_soak),
                ] {
                    assert!(
                        (one - other).dk().abs() < 2e-3,
                        "{name} {} {one:?} {other:?}",
                        stage.name
                    );
                }
            }
            let (one, other) = (usual.drags, close.drags);
            assert_eq!(one.is_some(), other.is_some(), "{name}");
            if let (Some(one), Some(other)) = (one, other) {
                for (one, other) in [(one.felt_at, other.felt_at), (one.ends_at, other.ends_at)] {
                    let apart = one.map_or(0.0, Duration::s) - other.map_or(0.0, Duration::s);
                    assert!(apart.abs() < 1e-2, "{name} {one:?} {other:?}");
                }
                assert!((one.pressure - other.pressure).pa().abs() < 100.0, "{name}");
            }
        }
    }
}

/// The same stops driven as a trace of points: the same heat, the same peaks.
#[test]
fn a_speed_trace_of_the_stops_gives_what_the_stops_give() {
    let car = car("scree");
    let of = stops(110.0, 40.0, 0.55, 20.0, 8);
    let as_stops = stage(&[StagePart::Stops(of)]);
    let points = as_stops
        .course()
        .into_iter()
        .map(|(time, _, speed)| TracePoint {
            time,
            speed,
            slope: 0.0,
        })
        .collect();
    let one = drive(&car, &as_stops);
    let other = drive(&car, &stage(&[StagePart::Trace(points)]));
    assert!((one.front.disc_peak - other.front.disc_peak).dk().abs() < 1e-3);
    assert!((one.rear.fluid_soak - other.rear.fluid_soak).dk().abs() < 1e-3);
    assert!((one.account.made_j / other.account.made_j - 1.0).abs() < 1e-9);
}

#[test]
fn lifting_off_is_not_braking_on_a_trace() {
    let car = car("scree");
    let point = |time: f64, speed: f64| TracePoint {
        time: Duration::from_s(time),
        speed: kmh(speed),
        slope: 0.0,
    };
    // 100 to 85 km/h in 10 s is 0.04 g: air and engine do that.
    let coasting = stage(&[StagePart::Trace(vec![point(0.0, 100.0), point(10.0, 85.0)])]);
    assert_eq!(drive(&car, &coasting).account.made_j, 0.0);
    assert_eq!(coasting.brakings(), 0);
    let braking = stage(&[StagePart::Trace(vec![point(0.0, 100.0), point(4.0, 60.0)])]);
    assert!(drive(&car, &braking).account.made_j > 1e5);
    assert_eq!(braking.brakings(), 1);
}

/// Hot front pads that grip less give the rear a greater share, within the same stage.
#[test]
fn fade_moves_heat_to_the_other_axle_and_weight_to_the_foot() {
    let mut car = car("tarn");
    let even = stage(&[StagePart::Stops(stops(118.0, 40.0, 0.6, 12.0, 16))]);
    let before = drive(&car, &even);
    let engine::car::Brake::Disc(front) = &mut car.front_brake else {
        panic!("discs in front")
    };
    let warm = front.friction.warm;
    front.friction.at = [(20.0, warm), (200.0, warm), (400.0, 0.5 * warm)]
        .map(|(at, friction)| (Temperature::from_celsius(at), friction))
        .to_vec();
    let after = drive(&car, &even);
    assert!(
        after.front_share < before.front_share - 0.03,
        "{} {}",
        before.front_share,
        after.front_share
    );
    assert!(after.rear.disc_peak > before.rear.disc_peak);
    assert!(after.front.fade_worst < 0.5 && after.front.left_tables);
    let foot = after.foot.unwrap();
    assert!(foot.over_warm > 1.3, "{foot:?}");
    assert_eq!(after.governs.what, What::Pads);
}

/// Within one long stop, the first half of it at warm pads, the second at faded ones.
#[test]
fn a_pad_that_fades_is_felt_in_the_stop_that_heats_it() {
    let mut car = car("tarn");
    let engine::car::Brake::Disc(front) = &mut car.front_brake else {
        panic!("discs in front")
    };
    let warm = front.friction.warm;
    front.friction.at = [(20.0, warm), (60.0, warm), (120.0, 0.3 * warm)]
        .map(|(at, friction)| (Temperature::from_celsius(at), friction))
        .to_vec();
    let one = drive(&car, &stage(&[StagePart::Stops(stops(160.0, 0.0, 0.8, 30.0, 1))]));
    // Without fade within the stop the foot would never be heavier than at its start.
    assert!(one.foot.unwrap().over_warm > 1.2, "{:?}", one.foot);
}

#[test]
fn the_fluid_is_hottest_long_after_stopping() {
    for name in ["tarn", "sedge", "scree"] {
        let car = car(name);
        let heat = drive(&car, &hard());
        for axle in [Axle::Front, Axle::Rear] {
            let corner = heat.corner(axle);
            assert!(
                (corner.fluid_soak - corner.fluid_running).dk() > 15.0,
                "{name} {axle:?}"
            );
            let minutes = corner.fluid_soak_at.s() / 60.0;
            assert!((8.0..30.0).contains(&minutes), "{name} {axle:?} {minutes}");
            assert!(corner.disc_peak_at <= heat.driven);
        }
        assert!(matches!(heat.governs.what, What::FluidSoak | What::Pads));
    }
}

/// A standing car's disc by hand: 4 W/m²K and radiation over its own heat; the caliper takes part of it.
#[test]
fn a_standing_disc_cools_in_tens_of_minutes() {
    let car = car("scree");
    let corner = Corner::of(&car.front_brake, true, Unsure::default());
    assert_eq!(convection_w_m2_k(Speed::ZERO), 4.0);
    let minutes = corner
        .cooling_time(
            Temperature::from_celsius(250.0),
            Conditions::USUAL_AIR,
            Speed::ZERO,
        )
        .s()
        / 60.0;
    assert!((8.0..40.0).contains(&minutes), "{minutes}");
    let once = drive(&car, &stage(&[StagePart::Stops(stops(150.0, 0.0, 0.8, 6.0, 1))]));
    let last = once.way.last().unwrap();
    let hour = once.driven.s() + 3600.0;
    assert!((last.time.s() - hour).abs() < 1e-6);
    assert!(
        (last.front_disc - Conditions::USUAL_AIR).dk()
            < 0.2 * (once.front.disc_peak - Conditions::USUAL_AIR).dk()
    );
}

#[test]
fn what_the_lever_does_goes_to_the_rear() {
    let car = car("tarn");
    let by = |by: By| {
        let of = Stops {
            by,
            ..stops(60.0, 15.0, 0.35, 20.0, 6)
        };
        drive(&car, &stage(&[StagePart::Stops(of)]))
    };
    let (pedal, hand) = (by(By::Pedal), by(By::Handbrake));
    assert!((pedal.account.made_j / hand.account.made_j - 1.0).abs() < 1e-9);
    assert_eq!(hand.front_share, 0.0);
    assert!(hand.foot.is_none());
    assert!(hand.rear.disc_peak.k() > pedal.rear.disc_peak.k() + 20.0);
    // In front there is nothing but the air's own warmth.
    assert!((hand.front.disc_peak - Conditions::USUAL_AIR).dk().abs() < 1e-6);
}

#[test]
fn free_play_of_nothing_may_drag_until_nobody_drives_on() {
    let mut car = car("tarn");
    assert!(!by_pass_may_stay_covered(&car));
    assert_eq!(drive(&car, &hard()).drags, None);
    car.lever.as_mut().unwrap().free_play = Length::ZERO;
    assert!(by_pass_may_stay_covered(&car));
    let bench = HeatBench::of(&car, &Conditions::default());
    let dragging = bench.drive(&hard()).unwrap();
    let drags = dragging.drags.unwrap();
    let (felt, ends) = (drags.felt_at.unwrap(), drags.ends_at.unwrap());
    assert!(
        felt < ends && (dragging.driven - ends).s().abs() < 1e-9,
        "{drags:?}"
    );
    assert!(drags.pressure.pa() > 5e5);
    // At that moment the rear holds by a tenth of the weight, to the event's exactness.
    let free = bench.clone().without_drag().drive(&hard()).unwrap();
    assert!(free.drags.is_none() && free.driven > dragging.driven);
    let helps = bench.helps(&car, &hard(), &dragging).unwrap();
    assert!(!helps.is_empty());
}

/// The car stands until its hot discs have warmed the fluid; then it does not drive off at all.
#[test]
fn brakes_that_bind_while_the_car_stands_end_the_stage_when_it_would_drive_on() {
    let mut car = car("tarn");
    car.lever.as_mut().unwrap().free_play = Length::ZERO;
    let bench = HeatBench::of(&car, &Conditions::default());
    let at = |time_s: f64, speed: f64| TracePoint {
        time: Duration::from_s(time_s),
        speed: kmh(speed),
        slope: 0.0,
    };
    // Ten times up to speed and down again, five minutes at the control, and off.
    let mut points = vec![at(0.0, 0.0)];
    for run in 0..10 {
        points.push(at(14.0 * f64::from(run) + 9.0, 110.0));
        points.push(at(14.0 * f64::from(run) + 14.0, 0.0));
    }
    let waits_s = 140.0;
    points.extend([at(waits_s + 300.0, 0.0), at(waits_s + 309.0, 110.0)]);
    let heat = bench.drive(&stage(&[StagePart::Trace(points)])).unwrap();
    let drags = heat.drags.unwrap();
    assert_eq!(drags.ends_at, Some(Duration::from_s(waits_s + 300.0)));
    assert!(heat.ends_at.m_s().abs() < 1e-9);
}

#[test]
fn what_helps_is_told_by_how_much_and_the_most_helpful_first() {
    let car = car("tarn");
    let bench = HeatBench::of(&car, &Conditions::default());
    let long = stage(&[StagePart::Stops(stops(110.0, 50.0, 0.55, 14.0, 60))]);
    let heat = bench.drive(&long).unwrap();
    let helps = bench.helps(&car, &long, &heat).unwrap();
    assert!(helps.windows(2).all(|pair| pair[0].gains >= pair[1].gains));
    for help in &helps {
        assert!(help.gains.dk() > 0.5);
        assert!((help.left - heat.governs.left - help.gains).dk().abs() < 1e-9);
    }
    let gives = |change: HeatChange| {
        helps
            .iter()
            .find(|help| help.change == change)
            .map(|help| help.gains.dk())
    };
    assert!(
        gives(HeatChange::Ducting).is_some_and(|gain| gain > 10.0),
        "{helps:?}"
    );
    assert!(
        gives(HeatChange::VentedDisc).is_none(),
        "its front discs are vented"
    );
    if heat.governs.what == What::Pads {
        assert!(gives(HeatChange::FreshFluid).is_none());
    } else {
        let dry = heat.corner(heat.governs.axle).to_dry - heat.corner(heat.governs.axle).to_wet;
        assert!((gives(HeatChange::FreshFluid).unwrap() - dry.dk()).abs() < 1e-9);
    }
}

/// What would help is stepped through less exactly: by less than anybody is told.
#[test]
fn what_helps_does_not_hang_on_the_step() {
    for name in ["tarn", "sedge", "bin"] {
        let car = car(name);
        let usual = HeatBench::of(&car, &Conditions::default());
        let close = usual.clone().as_exactly(Exactness {
            relative: 1e-12,
            absolute_k: 1e-9,
        });
        for stage in [hard(), sheet::built_in_stage("twisty gravel").unwrap()] {
            let helps = |bench: &HeatBench| {
                let now = bench.drive(&stage).unwrap();
                bench.helps(&car, &stage, &now).unwrap()
            };
            let (usual, close) = (helps(&usual), helps(&close));
            assert_eq!(usual.len(), close.len(), "{name}");
            for (one, other) in usual.iter().zip(&close) {
                assert_eq!(one.change, other.change, "{name}");
                assert!(
                    (one.left - other.left).dk().abs() < 1e-2,
                    "{name} {one:?} {other:?}"
                );
            }
        }
    }
}

#[test]
fn fluid_boils_lower_with_its_age_and_wet_when_nobody_knows() {
    let fluid = car("tarn").fluid;
    let at = |days: Option<u32>| Boiling::of(&fluid, days).now;
    assert_eq!(at(Some(0)), fluid.boiling_dry);
    assert_eq!(at(None), fluid.boiling_wet);
    assert!((at(Some(730)) - fluid.boiling_wet).dk().abs() < 1e-9);
    assert!((at(Some(4000)) - fluid.boiling_wet).dk().abs() < 1e-9);
    // The first half year costs more than the last.
    let drop = |from: u32, to: u32| (at(Some(from)) - at(Some(to))).dk();
    assert!(drop(0, 180) > 1.5 * drop(550, 730));
}

#[test]
fn a_pad_without_a_curve_follows_the_rule_and_one_beyond_its_curve_goes_on_fading() {
    let tarn = car("tarn");
    let by_rule = Fade::of(&tarn.front_brake);
    let at = |fade: &Fade, celsius: f64| fade.friction(Temperature::from_celsius(celsius));
    assert!(!by_rule.is_given());
    assert!((at(&by_rule, 20.0) - 0.34 / 0.43).abs() < 1e-12);
    for (celsius, wanted) in [(150.0, 1.0), (350.0, 1.0), (600.0, 0.86), (475.0, 0.93)] {
        assert!((at(&by_rule, celsius) - wanted).abs() < 1e-12, "{celsius}");
    }
    assert!(at(&by_rule, 700.0) < 0.86 && at(&by_rule, 5000.0) > 0.0);
    let given = Fade::of(&tarn.rear_brake);
    assert!(given.is_given());
    assert!((at(&given, 600.0) - 0.36 / 0.42).abs() < 1e-12);
    assert!(at(&given, 650.0) < 0.36 / 0.42);
    // A curve that ends while it rises fades all the same.
    let mut car = tarn.clone();
    let engine::car::Brake::Disc(rear) = &mut car.rear_brake else {
        panic!("discs")
    };
    rear.friction.at.truncate(3);
    let cut = Fade::of(&car.rear_brake);
    assert!(at(&cut, 500.0) < at(&cut, 350.0));
    assert!(
        (cut.left(Temperature::from_celsius(100.0)) - 1.0).abs() < 1e-12,
        "cold is not faded"
    );
    assert!(at(&by_rule, by_rule.falls_below(FADED_BELOW).celsius()) - FADED_BELOW < 1e-6);
}

/// A drum's torque goes through both of the sheet's frictions, as its shoes' geometry says.
#[test]
fn a_drum_fades_by_more_than_its_lining() {
    let car = car("sedge");
    let fade = Fade::of(&car.rear_brake);
    let engine::car::Brake::Drum(drum) = &car.rear_brake else {
        panic!("drums")
    };
    let cold = Temperature::from_celsius(20.0);
    assert!((fade.torque(cold) - drum.cold_factor / drum.factor).abs() < 1e-9);
    assert!(fade.torque(cold) < fade.friction(cold));
}

#[test]
fn ranges_hold_the_middle_and_the_same_seed_gives_the_same() {
    let (assembled, inputs) = demo("tarn");
    let sampling = Sampling { draws: 64, seed: 7 };
    let heats = |sampling: Sampling| {
        Heats::of(
            &assembled.car,
            &inputs,
            &assembled.toleranced,
            &Conditions::default(),
            &hard(),
            sampling,
        )
        .unwrap()
    };
    let one = heats(sampling);
    assert_eq!(one.drawn, heats(sampling).drawn);
    let middle = HeatFigures::of(&one.middle);
    let range = one.range(|figures| figures.to_wet.dk()).unwrap();
    assert!(range.low < middle.to_wet.dk() && middle.to_wet.dk() < range.high);
    assert!(range.high - range.low > 10.0, "{range:?}");
    assert!(
        heats(Sampling { draws: 0, seed: 7 })
            .range(|figures| figures.to_wet.dk())
            .is_none()
    );
}

/// An hour down a hill with light discs, long in balance: nothing is lost track of.
#[test]
fn a_long_way_down_is_followed_to_the_end() {
    let mut car = car("scree");
    let engine::car::Brake::Disc(front) = &mut car.front_brake else {
        panic!("discs in front")
    };
    front.disc.as_mut().unwrap().mass = quantity::si::Mass::from_kg(0.3);
    let down = StagePart::Descent(Descent {
        at: kmh(120.0),
        slope: -0.01,
        lasts: Duration::from_s(3600.0),
    });
    let heat = HeatBench::of(&car, &Conditions::default())
        .drive(&stage(&[down]))
        .unwrap();
    assert!(heat.account.off().abs() < 1e-6);
}

proptest! {
    #![proptest_config(cases())]

    /// Whatever the car: heat closes, nothing is below the air, more stops are hotter.
    #[test]
    fn any_car_keeps_its_account(sheet in cars(), from in 60.0..160.0_f64, rate in 0.2..0.9_f64) {
        let car = sheet.assemble().unwrap().car;
        let of = |repeat| stage(&[StagePart::Stops(stops(from, 30.0, rate, 25.0, repeat))]);
        let (few, many) = (HeatBench::of(&car, &Conditions::default()).without_drag(), 6);
        let (one, more) = (few.drive(&of(1)).unwrap(), few.drive(&of(many)).unwrap());
        for heat in [&one, &more] {
            prop_assert!(heat.account.off().abs() < 1e-6, "{}", heat.account.off());
            for moment in &heat.way {
                for at in [moment.front_disc, moment.front_fluid, moment.rear_disc, moment.rear_fluid] {
                    prop_assert!((at - Conditions::USUAL_AIR).dk() > -1e-6);
                }
            }
        }
        prop_assert!(more.front.disc_peak.k() >= one.front.disc_peak.k() - 1e-9);
        prop_assert!(more.rear.fluid_soak.k() >= one.rear.fluid_soak.k() - 1e-9);
        prop_assert!(more.front.to_wet <= one.front.to_wet);
    }
}

//! Lists of parts and lengths against what can be counted by hand.

use engine::car::{Outlets, Pipe, Split};
use plumbing::prices::Prices;
use plumbing::rules::{RULES, caught};
use plumbing::{Cut, FOR_BENDS, Made, Meeting, PER_FLARE, PartKind, Plumbing};
use proptest::prelude::*;
use quantity::si::Length;

use crate::cars::{DEMO, any_car, demo, demo_with, set_outlets, set_split};

fn count(plumbing: &Plumbing, wanted: impl Fn(&PartKind) -> bool) -> String {
    let count: f64 = plumbing
        .parts
        .iter()
        .filter(|part| wanted(&part.kind))
        .map(|part| part.count)
        .sum();
    (count + 0.0).to_string()
}

fn cut<'a>(plumbing: &'a Plumbing, run: &str) -> &'a Cut {
    plumbing.cuts.iter().find(|cut| cut.run == run).unwrap()
}

/// Every route of the sheet is there, and only those: 0.60 + 1.45 + 1.80 + 0.90 + 0.75 + 0.85 + 1.40 m.
#[test]
fn every_measured_route_is_a_cut() {
    let plumbing = Plumbing::of(&demo("tarn"));
    let total_m: f64 = plumbing.cuts.iter().map(|cut| cut.length.m()).sum();
    assert!((total_m - 7.75).abs() < 1e-9, "{total_m}");
    let scree = Plumbing::of(&demo("scree"));
    let rear = cut(&scree, "bulkhead_to_rear_tee");
    // 3.20 m, 3 % for bends, two flares of 6 mm: 3308 mm, so 3.31 m.
    assert!((rear.length.m() - 3.20).abs() < 1e-9, "{rear:?}");
    assert!((rear.cut().unwrap().m() - 3.31).abs() < 1e-9, "{rear:?}");
    assert_eq!((FOR_BENDS, PER_FLARE), (0.03, Length::from_m(6e-3)));
}

/// Volume of the lines: π/4 · bore² · length, by hand for `tarn`: 5.5 m of −3 hose and 0.8 m of rubber hose of 3.2 mm,
/// 1.45 m of 3/16 in pipe of 3.3 mm.
#[test]
fn volume_of_the_lines_is_bore_and_length() {
    let plumbing = Plumbing::of(&demo("tarn"));
    let by_hand_m3 =
        core::f64::consts::FRAC_PI_4 * ((5.5 + 0.8) * 3.2e-3_f64.powi(2) + 1.45 * 3.3e-3_f64.powi(2));
    assert!(
        (plumbing.fluid.lines.m3() - by_hand_m3).abs() < 1e-12,
        "{:?}",
        plumbing.fluid
    );
    // Calipers: opposed front, area of 41.3 and 36.5 mm, 24 mm and 3 cm³; sliding rear, 40 mm, 12 mm and 3 cm³.
    let area = |mm: f64| core::f64::consts::FRAC_PI_4 * (mm * 1e-3).powi(2);
    let brakes_m3 = 2.0 * ((area(41.3) + area(36.5)) * 24e-3 + 3e-6) + 2.0 * (area(40.0) * 12e-3 + 3e-6);
    assert!((plumbing.fluid.brakes.m3() - brakes_m3).abs() < 1e-12);
}

/// `tarn`, counted on the circuit: two banjos (rear calipers), two washers each; hose ends −3: three runs with two, two
/// with one swivel and one banjo. The front lines stay, and nothing is bought for them.
#[test]
fn ends_of_tarn_counted_by_hand() {
    let plumbing = Plumbing::of(&demo("tarn"));
    assert_eq!(count(&plumbing, |kind| matches!(kind, PartKind::Washer(_))), "4");
    assert_eq!(
        count(&plumbing, |kind| matches!(kind, PartKind::BanjoBolt(_))),
        "2"
    );
    assert_eq!(
        count(&plumbing, |kind| matches!(kind, PartKind::HoseBanjo(_))),
        "2"
    );
    assert_eq!(count(&plumbing, |kind| *kind == PartKind::HoseSwivel), "8");
    assert_eq!(count(&plumbing, |kind| matches!(kind, PartKind::Nut { .. })), "0");
    assert_eq!(
        count(&plumbing, |kind| matches!(kind, PartKind::RubberHose { .. })),
        "0"
    );
    // Master to −3, and the two sides of the bias valve.
    assert_eq!(count(&plumbing, |kind| matches!(kind, PartKind::Adapter(_))), "3");
}

/// Quarter-inch pipe on ports made for three sixteenths: the demonstration car's fault number 15.
#[test]
fn the_parts_bin_does_not_mate_as_it_is() {
    let car = demo("bin");
    let plumbing = Plumbing::of(&car);
    let off: Vec<_> = plumbing
        .joints
        .iter()
        .filter(|joint| joint.meeting.mates() == Some(false))
        .collect();
    let seats: std::collections::BTreeSet<_> = off.iter().filter_map(|joint| joint.spec).collect();
    assert!(off.len() >= 5 && seats.len() >= 4, "{} {seats:?}", off.len());
    let slugs: Vec<&str> = caught(&car, &plumbing)
        .iter()
        .map(|caught| caught.rule.slug)
        .collect();
    for slug in ["long-rubber", "bare-run", "few-clips"] {
        assert!(slugs.contains(&slug), "{slugs:?}");
    }
    assert_eq!(plumbing.order(Pipe::Steel14), Length::ZERO, "none on this car");
}

#[test]
fn ports_that_nobody_looked_at_are_not_known() {
    let plumbing = Plumbing::of(&demo("half-known"));
    let unknown = plumbing
        .joints
        .iter()
        .filter(|joint| joint.meeting == Meeting::NotKnown)
        .count();
    assert!(unknown > 0);
    let named = caught(&demo("half-known"), &plumbing);
    let rule = named
        .iter()
        .find(|caught| caught.rule.slug == "port-not-known")
        .unwrap();
    assert_eq!(rule.places.len(), unknown);
}

#[test]
fn a_port_that_is_not_listed_is_named_with_its_key() {
    let mut car = demo("tarn");
    car.ports.master = Some("M10x1 buble".into());
    let plumbing = Plumbing::of(&car);
    assert_eq!(plumbing.unlisted[0].key, "lines.ports.master");
    assert!(plumbing.unlisted[0].fault.help().contains("M10x1 bubble"));
}

/// The sheet of `half-known` has every route to ± 0.1 m: an estimate. Left out, `guess` and an estimate alike are no tape.
#[test]
fn nothing_is_cut_to_a_length_that_nobody_measured() {
    let rough = Plumbing::of(&demo("half-known"));
    for cut in rough.cuts.iter().filter(|cut| cut.pipe == Pipe::Steel316) {
        assert_eq!(cut.cut(), None, "{cut:?}");
    }
    assert_eq!(rough.order(Pipe::Steel316), Length::ZERO);
    assert_eq!(rough.to_tape(Pipe::Steel316), 5, "the rear line's");
    let pipe = |kind: &PartKind| *kind == PartKind::Pipe(Pipe::Steel316);
    let listed = rough.parts.iter().find(|part| pipe(&part.kind)).unwrap();
    assert_eq!((listed.count, listed.to_tape), (0.0, 5));
    let hoses: Vec<String> = rough
        .parts
        .iter()
        .filter(|part| matches!(part.kind, PartKind::RubberHose { .. }))
        .map(|part| part.kind.spec())
        .collect();
    // The hoses at the wheels are given as 0.35 m.
    assert!(
        !hoses.is_empty() && hoses.iter().all(|spec| spec.starts_with("350 mm")),
        "{hoses:?}"
    );
    for (written, taped) in [
        ("\"1.45 m\"", true),
        ("\"1.45 m ± 3 cm\"", true),
        ("\"1.45 m ± 31 mm\"", false),
        ("\"guess\"", false),
        ("", false),
    ] {
        let car = demo_with(
            "tarn",
            "bulkhead_to_lever  = \"1.45 m\"",
            written,
            "bulkhead_to_lever = ",
        );
        assert_eq!(
            cut(&Plumbing::of(&car), "bulkhead_to_lever").cut().is_some(),
            taped,
            "{written}"
        );
    }
    let prices = Prices {
        currency: String::new(),
        each: [("steel-pipe-3-16-in".to_owned(), 4.0)].into(),
    };
    assert_eq!(
        prices.cost(&rough.parts).unwrap().to_tape,
        5,
        "the sum says what is not in it"
    );
}

#[test]
fn what_nobody_touches_stays() {
    let stay = |car: &engine::car::Car| -> Vec<String> {
        let plumbing = Plumbing::of(car);
        plumbing
            .cuts
            .iter()
            .filter(|cut| cut.stays)
            .map(|cut| cut.run.clone())
            .collect()
    };
    let front = [
        "master_to_front_left",
        "front_left_bracket_to_front_left",
        "master_to_front_right",
        "front_right_bracket_to_front_right",
    ];
    assert_eq!(stay(&demo("tarn")), front);
    // A lever with calipers of its own leaves the foot's wheel runs alone; the factory valve's place is closed anew.
    let mut scree = demo("scree");
    let to_wheels = [
        "tee_to_rear_left",
        "rear_left_bracket_to_rear_left",
        "tee_to_rear_right",
        "rear_right_bracket_to_rear_right",
    ];
    assert_eq!(stay(&scree), [front, to_wheels].concat());
    scree.before.factory_valve = false;
    let all = ["master_to_bulkhead", "bulkhead_to_rear_tee"];
    assert_eq!(stay(&scree), [&front[..], &all, &to_wheels].concat());
    scree.before.old_rear_pipe = Some("under the floor".into());
    assert_eq!(stay(&scree), front, "the rear line is made anew");
}

/// A tee that was there before has threads that nobody looked at; a fitting on a line that stays is left alone.
#[test]
fn what_was_there_before_is_looked_at_and_not_bought() {
    let plumbing = Plumbing::of(&demo("scree"));
    let at = |id: &str| plumbing.joint(id).unwrap();
    let into_tee = at("rear_tee.in-bulkhead_to_rear_tee.b");
    assert_eq!((&into_tee.meeting, into_tee.spec), (&Meeting::NotKnown, None));
    let out_of_it = at("rear_tee.left-tee_to_rear_left.a");
    assert_eq!(
        (&out_of_it.meeting, out_of_it.meeting.mates()),
        (&Meeting::Stays, None)
    );
    assert_eq!(out_of_it.torque_band, None);
    // The lever's own tee alone is bought.
    assert_eq!(count(&plumbing, |kind| matches!(kind, PartKind::Tee(_))), "1");
}

/// Corner to corner with one outlet: the tee in which the circuits would meet is no part to buy.
#[test]
fn what_joins_two_circuits_is_not_offered() {
    let mut car = demo("tarn");
    let tees = |car: &engine::car::Car| count(&Plumbing::of(car), |kind| matches!(kind, PartKind::Tee(_)));
    assert_eq!(tees(&car), "1", "the rear tee");
    set_split(&mut car, Split::Diagonal);
    let plumbing = Plumbing::of(&car);
    assert_eq!(tees(&car), "1", "the rear tee still");
    let joined: Vec<_> = plumbing
        .joints
        .iter()
        .filter(|joint| joint.meeting == Meeting::Joins)
        .collect();
    assert_eq!(
        joined.len(),
        4,
        "three ports of the tee, and the lever's inlet right beside it"
    );
    assert!(
        joined
            .iter()
            .all(|joint| joint.meeting.needs().is_empty() && joint.meeting.mates() == Some(false))
    );
    set_outlets(&mut car, Outlets::Tandem);
    assert!(
        Plumbing::of(&car)
            .joints
            .iter()
            .all(|joint| joint.meeting != Meeting::Joins)
    );
}

#[test]
fn prices_add_up_and_say_what_is_missing() {
    let plumbing = Plumbing::of(&demo("tarn"));
    let mut prices = Prices::default();
    assert_eq!(prices.cost(&plumbing.parts), None);
    prices.each.insert("braided-hose-3".into(), 9.0);
    prices.each.insert("lever".into(), 120.0);
    let cost = prices.cost(&plumbing.parts).unwrap();
    assert!((cost.sum - (9.0 * plumbing.order(Pipe::Braided3).m() + 120.0)).abs() < 1e-9);
    assert_eq!(cost.without, plumbing.parts.len() - 2);
    prices.each.insert("braided-hoze".into(), 1.0);
    let all: Vec<_> = plumbing.parts.iter().collect();
    assert_eq!(prices.unknown(&all), ["braided-hoze"]);
}

#[test]
fn every_rule_has_its_reason() {
    let slugs: std::collections::BTreeSet<_> = RULES.iter().map(|rule| rule.slug).collect();
    assert_eq!(slugs.len(), RULES.len());
    for rule in RULES {
        assert!(rule.because.len() > 30 && rule.remedy.len() > 20, "{}", rule.slug);
    }
    for name in DEMO {
        let car = demo(name);
        for found in caught(&car, &Plumbing::of(&car)) {
            assert!(!found.places.is_empty());
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: std::env::var("PROPTEST_CASES").ok().and_then(|n| n.parse().ok()).unwrap_or(64), ..ProptestConfig::default() })]

    #[test]
    fn lists_of_any_car(car in any_car()) {
        let plumbing = Plumbing::of(&car);
        let codes: Vec<String> = plumbing.parts.iter().map(|part| part.kind.code()).collect();
        for (part, code) in plumbing.parts.iter().zip(&codes) {
            prop_assert!(part.count.is_finite() && (part.count > 0.0 || part.to_tape > 0), "{part:?}");
            prop_assert!(!code.is_empty() && !part.kind.what().is_empty() && !part.kind.spec().is_empty());
        }
        for cut in &plumbing.cuts {
            let Some(as_cut) = cut.cut() else {
                prop_assert!(cut.stays || cut.made == Made::Direct || !cut.taped, "{cut:?}");
                continue;
            };
            prop_assert!(cut.taped && !cut.stays && as_cut >= cut.length, "{cut:?}");
            prop_assert!(as_cut.m() <= cut.length.m() * 1.04 + 0.03, "{cut:?}");
        }
        // What is ordered is enough, and never a metre too much beyond its spares.
        for pipe in [Pipe::Steel316, Pipe::CopperNickel316, Pipe::Steel14, Pipe::CopperNickel14, Pipe::Braided3] {
            let cut_m: f64 = plumbing.cuts.iter()
                .filter(|cut| cut.pipe == pipe && matches!(cut.made, Made::Flared | Made::MadeUp))
                .filter_map(|cut| Some(cut.cut()?.m())).sum();
            let order_m = plumbing.order(pipe).m();
            prop_assert!(order_m >= cut_m && order_m <= cut_m + 0.5 + 0.1 * 16.0, "{pipe:?} {cut_m} {order_m}");
        }
        // A washer never comes by itself.
        let washers = count(&plumbing, |kind| matches!(kind, PartKind::Washer(_)));
        let bolts = count(&plumbing, |kind| matches!(kind, PartKind::BanjoBolt(_)));
        let number = |text: String| text.parse::<f64>().unwrap();
        prop_assert!((number(washers) - 2.0 * number(bolts)).abs() < 1e-9);
        prop_assert!(plumbing.mass.kg() > 0.0 && plumbing.mass.kg() < 15.0);
        for joint in &plumbing.joints {
            if let Some((low, high)) = joint.torque_band {
                prop_assert!(low < high && low.nm() >= 7.0 && high.nm() <= 40.0);
            }
        }
    }
}

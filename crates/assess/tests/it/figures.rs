//! Figures that the assessment reads, worked out by hand.

use engine::figures::Depth;
use engine::figures::Headlined;

use crate::looked::{look, look_at, look_drawn, sheet_text, usual};

#[test]
fn the_hands_first_newtons_that_move_nothing() {
    // The gauge read 32 bar at 100 N and 55 bar at 200 N: 9 bar and 0.23 bar/N, up to 64 bar at 239.1 N; the other 60.9 N
    // add 4.3 · 0.90/506.7 mm² = 0.07638 bar/N each: 68.65 bar at 300 N. The valve's gauges put its knee at
    // (41 − 0.40 · 60)/0.60 = 28.33 bar: 28.33 + 0.40 · 40.32 = 44.46 bar at the lever's inlet. The hand makes
    // 7 · 0.90/197.93 mm² = 0.31829 bar/N: 139.7 N.
    let looked = look("tarn", &[]);
    let hand = looked.figures.hand.as_ref().unwrap();
    assert!(
        (hand.moves_nothing.n() - 139.68).abs() < 0.01,
        "{}",
        hand.moves_nothing.n()
    );
    let usual = &looked.figures.foot.usual;
    assert!((usual.pedal.chambers[0].pa() / 1e5 - 68.65).abs() < 0.01);
    // And so the hand's 150 N on top of the foot's 300 N lift the rear just above what the foot had made.
    let both = &looked.figures.foot.both;
    assert!((both.wheels[2].pressure.pa() / 1e5 - 150.0 * 0.318_29).abs() < 0.01);
}

#[test]
fn knocked_back_pads_and_worn_linings() {
    // 0.3 mm at two faces of two wheels of 1256.6 mm²: 1508 mm³ over 197.93 mm², times 7: 53.33 mm.
    let looked = look("tarn", &[]);
    let hand = looked.figures.hand.as_ref().unwrap();
    let longer = hand.knock_back.unwrap().travel.unwrap() - hand.answer.to_lock.travel.unwrap();
    assert!((longer.m() * 1e3 - 53.33).abs() < 0.01, "{}", longer.m());
    // 1 mm of wear is 2 mm at each piston: 4 pistons of 333.3 mm² over two bores of 126.7 mm², times 7.5: 78.93 mm.
    let looked = look("sedge", &[]);
    let hand = looked.figures.hand.as_ref().unwrap();
    let wear = hand.shoe_wear.unwrap();
    assert!(
        (wear.travel_per_wear - 78.93).abs() < 0.01,
        "{}",
        wear.travel_per_wear
    );
    // The room ends at 120 mm, before the stroke (22 · 7.5 + 4 = 169 mm): (120 − 93.37)/78.93 = 0.337 mm are left.
    assert!((wear.left.unwrap().m() * 1e3 - 0.3374).abs() < 1e-3);
}

#[test]
fn the_age_of_the_fluid() {
    // 15 April 2023 to 1 October 2026: three years of which one leaps (1096 days), and 169 days.
    assert_eq!(look("bin", &[]).figures.fluid.days, Some(1265));
}

#[test]
fn with_the_clutch_up_the_engine_turns_too() {
    // scree: geared 4.9 · 1.75 = 8.575; J = 2 + 0.06 · 24.01 + 0.15 · 73.53 = 14.47 kg·m², drag 30 · 8.575 N·m, torque up
    // to 1504 N·m at 73.66 bar. Two axles and a mass, summed in steps of 20 µs apart from this program: 1.0218 s.
    let looked = look("scree", &[]);
    let time = looked.figures.hand.as_ref().unwrap().time_with_clutch_up.unwrap();
    assert!((time.s() - 1.0218).abs() < 0.0005, "{}", time.s());
}

#[test]
fn what_settles_what() {
    let looked = look_drawn("tarn");
    let of = |figure: Headlined| {
        &looked
            .figures
            .settles
            .iter()
            .find(|(of, _)| *of == figure)
            .unwrap()
            .1
    };
    // What is in hand is where the coupling turns, which nobody said; so is what the hand has to do, pull and travel. What
    // knowing anything else alone takes away is little beside it.
    for figure in [Headlined::InHand, Headlined::HandForce, Headlined::Travel] {
        let settles = of(figure);
        assert_eq!(
            settles[0].slot.path(),
            "drivetrain.centre.turns_per_wheel_turn",
            "{figure:?}"
        );
        assert!(
            settles[0].share > 0.7 && settles[1].share < 0.1 && settles[4].share < 0.03,
            "{figure:?} {settles:?}"
        );
    }
    // The balance asks nothing of the coupling: friction behind decides, then in front.
    let lead = of(Headlined::FrontFirstBy);
    let paths: Vec<String> = lead.iter().map(|settles| settles.slot.path()).collect();
    assert_eq!(
        paths[..2],
        ["rear_brake.pad.friction", "front_brake.pad.friction"]
    );
    assert!(
        lead[0].share > 0.4 && lead[0].share > 1.5 * lead[1].share,
        "{lead:?}"
    );
    for (figure, settles) in &looked.figures.settles {
        assert!(
            settles.iter().all(|settles| (0.0..=1.0).contains(&settles.share)),
            "{figure:?}"
        );
    }
    // The same seed, the same shares.
    let again = look_at(&sheet_text("tarn"), &[], &usual(), Depth::default()).unwrap();
    assert_eq!(again.figures.settles, looked.figures.settles);
    assert_eq!(again.assessment, looked.assessment);
}

#[test]
fn a_surface_that_is_not_there() {
    let (inputs, assembled) = crate::looked::read(&sheet_text("tarn"), &[]).unwrap();
    let conditions = engine::Conditions {
        surface: "moon dust".into(),
        ..usual()
    };
    let fault = engine::figures::Figures::of(&inputs, &assembled, &conditions, Depth::default()).unwrap_err();
    assert_eq!(fault.to_string(), "the car knows no surface called `moon dust`");
}

//! Figures that the assessment reads, worked out by hand.

use engine::figures::Headlined;

use crate::looked::{drawn, look, look_at, sheet_text};

#[test]
fn the_hands_first_newtons_that_move_nothing() {
    // The gauge read 19 bar at 100 N and 38 bar at 200 N: 300 N make 57 bar. The valve's gauges put its knee at
    // (41 − 0.40 · 60)/0.60 = 28.33 bar: 28.33 + 0.40 · 28.67 = 39.80 bar at the lever's inlet. The hand makes
    // 7 · 0.90/197.93 mm² = 0.31829 bar/N: 125.0 N.
    let looked = look("tarn", &[]);
    let hand = looked.figures.hand.as_ref().unwrap();
    assert!(
        (hand.moves_nothing.n() - 125.04).abs() < 0.01,
        "{}",
        hand.moves_nothing.n()
    );
    let usual = &looked.figures.foot.usual;
    assert!((usual.pedal.chambers[0].pa() / 1e5 - 57.0).abs() < 0.01);
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
    // scree: geared 4.9 · 1.75 = 8.575; J = 2 + 0.06 · 24.01 + 0.15 · 73.53 = 14.47 kg·m²; 45.84 rad/s.
    // Spare: 1504 − 1088 + 30 · 8.575 = 673 N·m: 0.985 s.
    let looked = look("scree", &[]);
    let time = looked.figures.hand.as_ref().unwrap().time_with_clutch_up.unwrap();
    assert!((time.s() - 0.985).abs() < 0.002, "{}", time.s());
}

#[test]
fn what_settles_what() {
    let looked = look_at(&sheet_text("tarn"), &[], &drawn()).unwrap();
    let of = |figure: Headlined| {
        &looked
            .figures
            .settles
            .iter()
            .find(|(of, _)| *of == figure)
            .unwrap()
            .1
    };
    // What is in hand is friction over all but constants.
    let first = &of(Headlined::InHand)[0];
    assert_eq!(first.slot.path(), "rear_brake.pad.friction");
    assert!(first.share > 0.95);
    // Travel is clearance and friction; nothing else on this sheet has a tolerance that enters.
    let travel = of(Headlined::Travel);
    assert!(travel[0].share + travel[1].share > 0.9 && travel[2].share < 0.05);
    for (figure, settles) in &looked.figures.settles {
        assert!(
            settles.iter().all(|settles| (0.0..=1.0).contains(&settles.share)),
            "{figure:?}"
        );
    }
    // The same seed, the same shares.
    let again = look_at(&sheet_text("tarn"), &[], &drawn()).unwrap();
    assert_eq!(again.figures.settles, looked.figures.settles);
    assert_eq!(again.assessment, looked.assessment);
}

#[test]
fn a_surface_that_is_not_there() {
    let (inputs, assembled) = crate::looked::read(&sheet_text("tarn"), &[]).unwrap();
    let state = engine::figures::State {
        surface: "moon dust".into(),
        ..drawn()
    };
    let fault = engine::figures::Figures::of(&inputs, &assembled, &state).unwrap_err();
    assert_eq!(fault.to_string(), "the car knows no surface called `moon dust`");
}

use symptoms::{Cause, Diagnosis, Symptom, Trial, TrialResult, matched, what_is_wrong};

use crate::{CARS, car, laden};

fn of(name: &str, symptom: Symptom, done: &[(Trial, TrialResult)]) -> Diagnosis {
    let car = car(name);
    what_is_wrong(symptom, &car, &laden(&car), 0.65, done)
}

fn place(verdict: &Diagnosis, cause: Cause) -> Option<usize> {
    verdict.causes.iter().position(|ranked| ranked.cause == cause)
}

#[test]
fn what_drivers_say_is_matched() {
    for (sentence, symptom) in [
        ("long, then firm on the second pull", Symptom::LongThenFirm),
        ("fine cold, long hot", Symptom::LongHot),
        ("one side only", Symptom::OneSide),
        ("drags after a pull", Symptom::Drags),
        ("locks at walking pace, not at sixty", Symptom::WalkingPace),
        ("The pedal sinks slowly", Symptom::PedalSinks),
        ("spongy pedal", Symptom::PedalSoft),
        ("handbrake is springy", Symptom::LeverSoft),
        ("pedal went to the floor after the downhill", Symptom::PedalGone),
        ("there is a puddle of fluid", Symptom::Wet),
        ("pedal is wooden and it does not stop", Symptom::PedalHard),
        ("reservoir levle is low", Symptom::Wet),
        ("pedal-soft", Symptom::PedalSoft),
    ] {
        let found = matched(sentence);
        assert_eq!(
            found.first().map(|first| first.symptom),
            Some(symptom),
            "{sentence}: {found:?}"
        );
    }
    assert!(matched("the moon is made of cheese").is_empty());
    assert!(matched("").is_empty());
}

#[test]
fn every_symptom_is_ranked_on_every_car_and_split_by_a_short_test() {
    let mut split = 0;
    for name in CARS {
        for symptom in Symptom::ALL {
            let verdict = of(name, symptom, &[]);
            assert!(!verdict.causes.is_empty(), "{name} {symptom:?}");
            let all: f64 = verdict.causes.iter().map(|ranked| ranked.weight).sum();
            assert!((all - 1.0).abs() < 1e-9, "{name} {symptom:?}: {all}");
            assert!(
                verdict
                    .causes
                    .windows(2)
                    .all(|pair| pair[0].weight >= pair[1].weight)
            );
            if let Some(test) = verdict.test {
                split += 1;
                assert!(test.minutes() <= 5);
                assert!(
                    symptom.stop().is_none() || !test.needs_driving(),
                    "{symptom:?} {test:?}"
                );
            }
        }
    }
    assert!(split > 80, "{split} of {}", CARS.len() * Symptom::ALL.len());
}

#[test]
fn a_car_without_a_part_does_not_have_its_fault() {
    // Discs all round: no shoes. Drums behind: shoes before pads that are knocked back.
    assert_eq!(
        place(&of("tarn", Symptom::LongThenFirm, &[]), Cause::ShoesFarOff),
        None
    );
    let sedge = of("sedge", Symptom::LongThenFirm, &[]);
    assert_eq!(place(&sedge, Cause::ShoesFarOff), Some(0), "{sedge:?}");
    // An open centre, or none, ties nothing; a viscous one does, and the more the faster.
    assert_eq!(
        place(&of("scree", Symptom::WalkingPace, &[]), Cause::Centre),
        None
    );
    let tarn = of("tarn", Symptom::WalkingPace, &[]);
    assert_eq!(place(&tarn, Cause::Centre), Some(0), "{tarn:?}");
    let (fast, slow) = tarn.causes[0].here.centre.unwrap();
    assert!(fast > slow + 0.2 && fast < 1.0, "{fast} {slow}");
}

#[test]
fn air_moves_the_grip_by_what_the_volume_law_says() {
    let verdict = of("tarn", Symptom::LeverSoft, &[]);
    let air = verdict.causes[place(&verdict, Cause::AirRear).unwrap()]
        .here
        .grip
        .unwrap();
    // 0.5 cm³ at some 70 bar gives up 98.6 %: over 1.979 cm² of bore, times 7, it is 17.4 mm.
    assert!((air.m() * 1e3 - 17.2).abs() < 0.4, "{air:?}");
}

#[test]
fn an_answer_narrows_and_another_test_is_offered() {
    let before = of("tarn", Symptom::LongThenFirm, &[]);
    let (first, second) = (before.causes[0].cause, before.causes[1].cause);
    let test = before.test.unwrap();
    for outcome in [TrialResult::Yes, TrialResult::No] {
        let after = of("tarn", Symptom::LongThenFirm, &[(test, outcome)]);
        let weight = |verdict: &Diagnosis, cause| verdict.causes[place(verdict, cause).unwrap()].weight;
        let was = weight(&before, first) / weight(&before, second);
        let is = weight(&after, first) / weight(&after, second);
        assert!((is / was).ln().abs() > 0.5, "{test:?} {outcome:?}: {was} {is}");
        assert_ne!(after.test, Some(test));
        assert_eq!(after.done, [(test, outcome)]);
    }
    // Both answers of a test that tells nothing of a pair leave their order alone.
    let after = of(
        "tarn",
        Symptom::LongThenFirm,
        &[(Trial::EngineOff, TrialResult::Yes)],
    );
    assert_eq!(after.causes[0].cause, first);
}

#[test]
fn the_inline_lever_splits_front_from_rear_and_its_own_seal_from_the_masters() {
    let soft = of("tarn", Symptom::PedalSoft, &[]);
    assert_eq!(soft.test, Some(Trial::LeverHeld), "{soft:?}");
    let dry = [(Trial::WipeAndLook, TrialResult::No)];
    let sinks = of("tarn", Symptom::PedalSinks, &dry);
    assert_eq!(sinks.test, Some(Trial::HoldByLever), "{sinks:?}");
    // A separate lever shuts nothing off.
    assert_ne!(of("scree", Symptom::PedalSoft, &[]).test, Some(Trial::LeverHeld));
}

#[test]
fn what_must_not_be_driven_says_so() {
    for symptom in [
        Symptom::PedalSinks,
        Symptom::Wet,
        Symptom::PedalGone,
        Symptom::PedalHard,
        Symptom::Drags,
    ] {
        let stop = symptom.stop().unwrap();
        assert!(stop.because.split(' ').count() <= 20 && stop.because.ends_with('.'));
    }
    assert_eq!(Symptom::LongThenFirm.stop(), None);
}

#[test]
fn sentences_on_screen_are_short() {
    let mut all: Vec<&str> = Trial::ALL
        .iter()
        .flat_map(|trial| [trial.todo(), trial.asks()])
        .collect();
    all.extend(Cause::ALL.iter().map(|cause| cause.remedy()));
    for text in all {
        for sentence in text.split_inclusive(['.', '?', ':']) {
            assert!(sentence.split_whitespace().count() <= 20, "{sentence}");
        }
    }
    for symptom in Symptom::ALL {
        assert!(symptom.said().split(' ').count() <= 9);
    }
}

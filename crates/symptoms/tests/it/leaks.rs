use engine::car::Wheel;
use plumbing::Plumbing;
use symptoms::{How, Sign, leak};

use crate::{CARS, car};

#[test]
fn weights_make_one_and_each_step_parts_the_suspects() {
    for name in CARS {
        let car = car(name);
        for sign in [Sign::LeverLoses, Sign::PedalSinks, Sign::Wet(Wheel::RearLeft)] {
            let found = leak(&car, sign, &|_| false, &[]);
            assert!(found.suspects.len() >= 2, "{name} {sign:?}");
            let all: f64 = found.suspects.iter().map(|suspect| suspect.weight).sum();
            assert!((all - 1.0).abs() < 1e-9, "{name} {sign:?}");
            if let Some(step) = &found.next {
                assert!(
                    !step.still.is_empty() && !step.holds.is_empty(),
                    "{name} {sign:?}"
                );
                assert_eq!(step.still.len() + step.holds.len(), found.suspects.len());
                // Halving: never more steps than twice the logarithm.
                let least = f64::from(u32::try_from(found.suspects.len()).unwrap()).log2();
                assert!(
                    f64::from(u32::try_from(found.steps_at_most).unwrap()) <= 2.0 * least + 1.0,
                    "{name} {sign:?}: {found:?}"
                );
            }
        }
    }
}

#[test]
fn a_lever_that_loses_suspects_nothing_before_its_cylinder() {
    let found = leak(&car("tarn"), Sign::LeverLoses, &|_| false, &[]);
    assert!(
        found
            .suspects
            .iter()
            .all(|suspect| !suspect.what.contains("master")),
        "{found:?}"
    );
    assert!(
        found
            .suspects
            .iter()
            .any(|suspect| suspect.what.contains("lever"))
    );
    // Braided hose is not clamped.
    assert_eq!(found.next.unwrap().how, How::Plug);
    let all = leak(&car("tarn"), Sign::PedalSinks, &|_| false, &[]);
    assert!(all.suspects.len() > found.suspects.len() + 4);
    assert!(
        all.suspects
            .iter()
            .any(|suspect| suspect.what.contains("master cylinder, inside"))
    );
}

#[test]
fn a_wet_wheel_suspects_its_own_end_only() {
    let found = leak(&car("tarn"), Sign::Wet(Wheel::FrontRight), &|_| false, &[]);
    assert!((2..=5).contains(&found.suspects.len()), "{found:?}");
    assert!(
        found
            .suspects
            .iter()
            .any(|suspect| suspect.what == "seal of the front right brake")
    );
    assert!(found.next.is_none());
}

#[test]
fn a_disturbed_joint_comes_first() {
    let car = car("tarn");
    let joints = Plumbing::of(&car).joints;
    let disturbed = joints
        .iter()
        .find(|joint| joint.id.contains("lever_to_rear_tee"))
        .unwrap()
        .id
        .clone();
    let found = leak(&car, Sign::LeverLoses, &|id| id == disturbed, &[]);
    assert_eq!(found.suspects[0].joint.as_deref(), Some(disturbed.as_str()));
    assert!(found.suspects[0].weight > 2.0 * found.suspects[1].weight);
}

/// Whoever leaks is found, whatever it is, in no more steps than were promised.
#[test]
fn the_round_ends_at_the_leak_wherever_it_is() {
    for name in CARS {
        let car = car(name);
        for sign in [Sign::LeverLoses, Sign::PedalSinks] {
            let all = leak(&car, sign, &|_| false, &[]);
            for guilty in &all.suspects {
                let mut said = Vec::new();
                let mut now = all.clone();
                while let Some(step) = &now.next {
                    let holds = step.holds.iter().any(|one| one.what == guilty.what);
                    said.push(!holds);
                    now = leak(&car, sign, &|_| false, &said);
                    assert_eq!(now.made.len(), said.len());
                    let whole: f64 = now.suspects.iter().map(|one| one.weight).sum();
                    assert!((whole - 1.0).abs() < 1e-9);
                }
                assert!(said.len() <= all.steps_at_most, "{name} {sign:?}: {said:?}");
                assert!(
                    now.suspects.iter().any(|one| one.what == guilty.what),
                    "{name} {sign:?}"
                );
                assert!(now.suspects.len() < all.suspects.len());
                // What is said beyond the end changes nothing.
                said.push(true);
                assert_eq!(leak(&car, sign, &|_| false, &said), now);
            }
        }
    }
}

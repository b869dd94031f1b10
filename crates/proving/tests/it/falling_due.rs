//! What falls due.

use engine::car::Date;
use plumbing::Plumbing;
use proving::due::{Due, Urgency, changes_on, due};
use proving::order::order;
use proving::{Fact, JointFound, Noted, Signature, prove};

use crate::cars::demo;
use crate::proved::{day, noted, whole_round};

fn found(history: &[Noted], on: &str) -> Vec<Due> {
    let car = demo("tarn");
    due(&car, &Plumbing::of(&car), history, day(on))
}

fn slug<'a>(all: &'a [Due], slug: &str) -> Option<&'a Due> {
    all.iter().find(|due| due.slug == slug)
}

fn at(on: &str, fact: Fact) -> Noted {
    let day: Date = day(on);
    Noted { id: 1, day, fact }
}

/// `tarn`'s fluid went in on 2026-03-14.
#[test]
fn fluid_by_age() {
    assert_eq!(slug(&found(&[], "2026-05-01"), "fluid-age"), None);
    assert_eq!(
        slug(&found(&[], "2027-02-01"), "fluid-age").unwrap().urgency,
        Urgency::Soon
    );
    let old = found(&[], "2027-03-15");
    let fluid = slug(&old, "fluid-age").unwrap();
    assert_eq!(fluid.urgency, Urgency::Now);
    assert!(fluid.why.contains("366 days"), "{}", fluid.why);
    assert_eq!(
        slug(
            &found(&[at("2027-03-01", Fact::FluidChanged)], "2027-03-15"),
            "fluid-age"
        ),
        None
    );
}

/// Wet it boils at 165 °C.
#[test]
fn fluid_by_heat_and_by_test() {
    let hot = at("2026-05-02", Fact::FluidHeat { celsius: 158.0 });
    let due = found(std::slice::from_ref(&hot), "2026-05-03");
    assert!(slug(&due, "fluid-heat").unwrap().why.contains("158"));
    let fresh = at("2026-05-04", Fact::FluidChanged);
    assert_eq!(slug(&found(&[hot, fresh], "2026-05-05"), "fluid-heat"), None);
    let tested = at("2026-05-04", Fact::FluidTested { boils_c: 171.0 });
    assert!(slug(&found(&[tested], "2026-05-05"), "fluid-tested").is_some());
    let good = at("2026-05-04", Fact::FluidTested { boils_c: 230.0 });
    assert_eq!(slug(&found(&[good], "2026-05-05"), "fluid-tested"), None);
}

#[test]
fn the_short_answer() {
    let car = demo("tarn");
    let short = |on: &str| {
        let all = found(&[at("2026-03-15", Fact::HosesFitted)], on);
        proving::due::short(&car, &[], &all, day(on))
    };
    assert_eq!(short("2026-03-20"), "fluid 6 days old");
    assert_eq!(short("2026-11-25"), "fluid 8 months old");
    assert_eq!(short("2027-06-01"), "due: brake fluid");
}

#[test]
fn pads_by_trend() {
    let pads = |on: &str, mm: f64, fitted: bool| {
        at(
            on,
            Fact::Pads {
                axle: "rear".into(),
                left_m: mm * 1e-3,
                fitted,
            },
        )
    };
    let steady = [
        pads("2026-03-01", 10.0, true),
        pads("2026-04-01", 8.0, false),
        pads("2026-05-01", 6.0, false),
    ];
    // Two millimetres at a time, three left over: one and a half more.
    assert_eq!(slug(&found(&steady, "2026-05-02"), "pads"), None);
    let mut fewer = steady.to_vec();
    fewer.push(pads("2026-05-20", 5.0, false));
    // 5/3 mm at a time now, 2 mm left over.
    assert_eq!(
        slug(&found(&fewer, "2026-05-21"), "pads").unwrap().urgency,
        Urgency::Soon
    );
    fewer.push(pads("2026-06-20", 3.0, false));
    assert_eq!(
        slug(&found(&fewer, "2026-06-21"), "pads").unwrap().urgency,
        Urgency::Now
    );
    fewer.push(pads("2026-06-22", 11.0, true));
    assert_eq!(slug(&found(&fewer, "2026-06-23"), "pads"), None);
}

#[test]
fn hoses_by_age() {
    assert_eq!(
        slug(&found(&[], "2026-05-01"), "hoses").unwrap().urgency,
        Urgency::NotKnown
    );
    let fitted = at("2021-05-01", Fact::HosesFitted);
    let due = |on: &str| slug(&found(std::slice::from_ref(&fitted), on), "hoses").map(|due| due.urgency);
    assert_eq!(due("2025-01-01"), None);
    assert_eq!(due("2026-04-01"), Some(Urgency::Soon));
    assert_eq!(due("2026-05-02"), Some(Urgency::Now));
}

#[test]
fn joints_are_felt_again_after_the_first_event() {
    let car = demo("tarn");
    let plumbing = Plumbing::of(&car);
    let mut facts = whole_round(&car, &plumbing);
    facts.push(Fact::Signed(Signature {
        by: "the preparer".into(),
        checked_by: None,
    }));
    assert_eq!(
        slug(&found(&noted(facts.clone()), "2026-05-02"), "joints-after-event"),
        None
    );
    facts.push(Fact::Event {
        name: "Fell night stages".into(),
    });
    let after = found(&noted(facts.clone()), "2026-05-10");
    let due = slug(&after, "joints-after-event").unwrap();
    assert!(
        due.what.starts_with("18 ") && due.why.contains("Fell night stages"),
        "{due:?}"
    );
    let history = noted(facts.clone());
    let steps = order(&car, &plumbing, &history, &prove(&car, &plumbing, &history));
    assert_eq!(steps.next().unwrap().slug, "first-event");
    for joint in &plumbing.joints[..17] {
        facts.push(Fact::Joint {
            joint: joint.id.clone(),
            found: JointFound::Dry,
        });
    }
    assert!(
        slug(&found(&noted(facts.clone()), "2026-05-10"), "joints-after-event")
            .unwrap()
            .what
            .starts_with("1 ")
    );
    facts.push(Fact::Joint {
        joint: plumbing.joints[17].id.clone(),
        found: JointFound::Dry,
    });
    assert_eq!(
        slug(&found(&noted(facts.clone()), "2026-05-10"), "joints-after-event"),
        None
    );
    let history = noted(facts);
    let steps = order(&car, &plumbing, &history, &prove(&car, &plumbing, &history));
    // Nobody wrote what its ports are, but they are on the sheet: everything is done.
    assert_eq!(steps.next(), None);
    assert_eq!(steps.short(), "nothing: all of it is done");
}

/// Day by day for ten years: nothing changes before the day that is told, and on it something may.
#[test]
fn nothing_falls_due_before_the_day_that_is_told() {
    let car = demo("tarn");
    let plumbing = Plumbing::of(&car);
    let histories = [
        vec![],
        vec![
            at("2026-06-01", Fact::FluidChanged),
            at("2026-06-02", Fact::HosesFitted),
        ],
        vec![at("2028-01-01", Fact::HosesFitted)],
    ];
    for history in &histories {
        let seen = |today: Date| {
            let all = due(&car, &plumbing, history, today);
            let all: Vec<_> = all.iter().map(|due| (due.slug, due.urgency)).collect();
            // The season of the sheet's own fluid is a finding of the assessment.
            let days = car.fluid.days_on(today).unwrap();
            (all, days < 0, days > engine::thresholds::SEASON_DAYS)
        };
        let mut today = day("2026-01-01");
        let (mut told, mut changes) = (changes_on(&car, history, today), 0);
        for _ in 0..3650 {
            let tomorrow = today.tomorrow().unwrap();
            if seen(today) != seen(tomorrow) {
                assert_eq!(told, Some(tomorrow), "{history:?}");
                changes += 1;
            }
            today = tomorrow;
            if told.is_some_and(|day| day <= today) {
                told = changes_on(&car, history, today);
            }
        }
        assert!(changes >= 3, "{changes}");
        assert_eq!(told, None);
    }
}

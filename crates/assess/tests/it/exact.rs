//! A finding on its border itself, and the least step beyond it.
//!
//! No car stands there by chance, so figures of a demonstration car are put there by hand: what is tried is what the
//! findings make of figures, and not the figures. What a finding names is read by its figures and by the names that the
//! sheet gave, not by its sentences.

use assess::Weight::{self, Fix, Know};
use assess::{Assessment, Finding, Verdict, assess};
use engine::car::Axle;
use engine::drivetrain::{Beyond, CouplingReading, TurnsAt};
use engine::figures::{Figures, Headlined, Turned};
use engine::lever::WhatStops;
use engine::thresholds::{
    DragGrade, FAR_AHEAD, FIERCE, FLOOR_TIRES, FRONT_DRAGGED_FOR, GAUGE_END, HOSE_TESTED, HOSES_SWALLOW,
    INNER_ALONE_FOR, INNER_ALONE_SHARE, LATE, LEAST_SECONDARY, LEVER_GIVES, MANY_TURNS, ONE_SETTING,
    READING_OFF, SAME_IN_HAND, TOO_FAR_AHEAD, UNEVEN, UNNOTICED, VALVE_LIMIT,
};
use engine::turn::{BesideIt, TurnVerdict};
use quantity::si::{Acceleration, Angle, Duration, Force, Pressure, Torque, Volume};

use crate::looked::{Looked, look, look_drawn, plain, read, sheet_text, usual};

/// What is said of a car once one of its figures is another.
fn judged(looked: &Looked, edit: impl FnOnce(&mut Figures)) -> Assessment {
    let mut figures = looked.figures.clone();
    edit(&mut figures);
    assess(&looked.assembled.car, &figures, Vec::new())
}

fn find<'a>(assessment: &'a Assessment, slug: &str) -> Option<&'a Finding> {
    assessment.findings.iter().find(|finding| finding.slug == slug)
}

fn weight(looked: &Looked, slug: &str, edit: impl FnOnce(&mut Figures)) -> Option<Weight> {
    find(&judged(looked, edit), slug).map(|finding| finding.weight)
}

fn because(looked: &Looked, slug: &str, edit: impl FnOnce(&mut Figures)) -> String {
    plain(&find(&judged(looked, edit), slug).unwrap().because)
}

fn title(looked: &Looked, slug: &str, edit: impl FnOnce(&mut Figures)) -> String {
    find(&judged(looked, edit), slug).unwrap().title.clone()
}

fn figure(finding: &Finding, name: &str) -> f64 {
    finding.figures.iter().find(|(of, _)| *of == name).unwrap().1
}

fn turned(figures: &mut Figures) -> &mut Turned {
    figures.turned.as_mut().unwrap()
}

fn hand(figures: &mut Figures) -> &mut engine::figures::Hand {
    figures.hand.as_mut().unwrap()
}

#[test]
fn a_front_far_ahead() {
    let scree = look("scree", &[]);
    let at = |by: f64| {
        weight(scree, "front-far-ahead", |figures| {
            figures.braked.lock.at.as_mut().unwrap().front_first_by = by;
        })
    };
    assert_eq!((at(FAR_AHEAD), at(FAR_AHEAD.next_up())), (None, Some(Know)));
    assert_eq!(
        (at(TOO_FAR_AHEAD), at(TOO_FAR_AHEAD.next_up())),
        (Some(Know), Some(Fix))
    );
}

#[test]
fn turns_of_the_bar_between_surfaces() {
    use engine::balance::Purpose;
    let scree = look("scree", &[]);
    let at = |most: f64| {
        weight(scree, "bar-turns", |figures| {
            let mut turns = [1.0, most].into_iter().cycle();
            for row in &mut figures.settings.rows {
                if row.purpose == Purpose::Stage {
                    row.bar.as_mut().unwrap().turns = turns.next().unwrap();
                }
            }
        })
    };
    assert_eq!(at(1.0 + MANY_TURNS), None);
    assert_eq!(at((1.0 + MANY_TURNS).next_up()), Some(Know));
}

#[test]
fn settings_of_stage_and_road() {
    use engine::balance::Purpose;
    let tarn = look("tarn", &[]);
    let knob = |figures: &mut Figures, purpose: Purpose, turns: f64| {
        let mut rows = figures.settings.rows.iter_mut();
        rows.find(|row| row.purpose == purpose).unwrap().knob = Some(turns);
    };
    let at = |stage: f64, road: f64| {
        judged(tarn, |figures| {
            knob(figures, Purpose::Stage, stage);
            knob(figures, Purpose::Road, road);
        })
    };
    let weight = |stage: f64, road: f64| find(&at(stage, road), "stage-and-road").map(|found| found.weight);
    assert_eq!(weight(1.0, 1.0), None);
    assert_eq!(weight(1.0 + ONE_SETTING, 1.0), None);
    assert_eq!(weight(1.0, 1.0 + ONE_SETTING), None);
    assert_eq!(weight((1.0 + ONE_SETTING).next_up(), 1.0), Some(Know));
    assert_eq!(weight(1.0, (1.0 + ONE_SETTING).next_up()), Some(Know));
    // Which is which.
    let told = at(2.0, 1.0);
    let told = find(&told, "stage-and-road").unwrap();
    assert_eq!(
        (figure(told, "stage_turns"), figure(told, "road_turns")),
        (2.0, 1.0)
    );
}

/// A valve that can be set is a cure without a bar; where neither can, none is offered.
#[test]
fn a_cure_is_offered_where_valve_or_bar_can_be_set() {
    let remedy = |looked: &Looked, edit: &dyn Fn(&mut Figures)| {
        let told = judged(looked, |figures| edit(figures));
        plain(&find(&told, "rear-first").unwrap().remedy)
    };
    let wanted = plain(&wording::per_cent(engine::thresholds::WANTED_LEAD));
    // A valve and no bar.
    let sedge = look("sedge", &[]);
    assert!(sedge.figures.braked.for_all.bar.is_none());
    assert!(remedy(sedge, &|_| {}).contains(&wanted));
    let cannot = remedy(sedge, &|figures| {
        figures.braked.for_all.why_not = Some(engine::balance::WishFault::SlopeTooSteep);
    });
    assert!(!cannot.contains(&wanted), "{cannot}");
}

/// Which loads break a rule of the road: those alone are named, and the fuel only where it is not the same with any.
#[test]
fn which_loads_break_the_road_rule() {
    let tarn = look("tarn", &[]);
    let road = &tarn.figures.braked.road;
    assert_eq!(road.len(), 6, "with and without crew; dry, half and full");
    let fuels: Vec<Volume> = road.iter().filter(|row| row.crew).map(|row| row.fuel).collect();
    let told = |broken: &dyn Fn(bool, Volume) -> bool, gone: &dyn Fn(bool, Volume) -> bool| {
        because(tarn, "rear-first-road", |figures| {
            figures.braked.road.retain(|row| !gone(row.crew, row.fuel));
            for row in &mut figures.braked.road {
                row.rules.rear_below_front = !broken(row.crew, row.fuel);
            }
        })
    };
    let full = plain(&wording::fuel(fuels[2], &wording::Units::default()));
    let none = |_: bool, _: Volume| false;
    let crew = told(&|crew, _| crew, &none);
    let nobody = told(&|crew, _| !crew, &none);
    let both = told(&|_, _| true, &none);
    let names = |text: &str| (text.contains("crew aboard"), text.contains("nobody aboard"));
    assert_eq!(
        (names(&crew), names(&nobody), names(&both)),
        ((true, false), (false, true), (true, true))
    );
    for text in [&crew, &nobody, &both] {
        assert!(!text.contains(&full), "the fuel makes no difference: {text}");
    }
    let at_one = told(&|crew, fuel| crew && fuel == fuels[2], &none);
    assert!(
        names(&at_one) == (true, false) && at_one.contains(&full),
        "{at_one}"
    );
    let empty = told(&|crew, fuel| !crew && fuel == fuels[2], &none);
    assert!(names(&empty) == (false, true) && empty.contains(&full), "{empty}");
    // What was looked at with crew is counted with crew: all of one is whatever the fuel, one of three is not.
    let one_looked_at = told(&|crew, fuel| crew && fuel == fuels[2], &|crew, fuel| {
        crew && fuel != fuels[2]
    });
    assert!(!one_looked_at.contains(&full), "{one_looked_at}");
}

/// At one grip alone that grip is named once; at several, the lowest and the highest.
#[test]
fn the_grips_at_which_the_rear_leads() {
    let sedge = look("sedge", &[]);
    let (low, high) = sedge.figures.braked.matters;
    let grips: Vec<f64> = sedge
        .figures
        .braked
        .scan
        .iter()
        .map(|point| point.grip)
        .filter(|grip| (low..=high).contains(grip))
        .collect();
    let told = |leads: &[f64]| {
        because(sedge, "rear-first", |figures| {
            for point in &mut figures.braked.scan {
                point.front_first_by = if leads.contains(&point.grip) { -0.2 } else { 0.2 };
                point.first = if leads.contains(&point.grip) {
                    engine::balance::First::Rear
                } else {
                    engine::balance::First::Front
                };
            }
        })
    };
    let last = *grips.last().unwrap();
    let (asked, below) = (sedge.figures.surface.peak, grips[0]);
    assert!(last >= asked && below < last);
    let said = |text: &str, grip: f64| text.matches(&wording::ratio(grip)).count();
    let one = told(&[last]);
    assert_eq!(said(&one, last), 1, "{one}");
    let two = told(&[below, last]);
    assert_eq!((said(&two, below), said(&two, last)), (1, 1), "{two}");
}

#[test]
fn grades_of_drag() {
    let of = |drag: f64| DragGrade::of(Some(drag));
    assert_eq!(
        (of(0.4_f64.next_down()), of(0.4)),
        (DragGrade::Turns, DragGrade::Partly)
    );
    assert_eq!(
        (of(0.65), of(0.65_f64.next_up())),
        (DragGrade::Partly, DragGrade::Spoilt)
    );
    assert_eq!(
        (of(1.0_f64.next_down()), of(1.0)),
        (DragGrade::Spoilt, DragGrade::AllFour)
    );
}

/// What the centre brings back is told where it brings something back.
#[test]
fn a_centre_that_brings_nothing_back() {
    let tarn = look("tarn", &[]);
    let at = |torque: f64| {
        weight(tarn, "centre-drags", |figures| {
            hand(figures).answer.to_lock.of_which_coupling = Torque::from_nm(torque);
        })
    };
    assert_eq!((at(0.0), at(f64::MIN_POSITIVE)), (None, Some(Fix)));
}

/// The other readings of a coupling: each with its own run, and named by what is not known of it.
#[test]
fn readings_of_a_coupling() {
    let tarn = look("tarn", &[]);
    let main = &tarn.figures.hand.as_ref().unwrap().answer;
    let (known, other) = main.also[0];
    let brief = tarn.figures.turned.as_ref().unwrap().otherwise[0].1;
    let told = |reading: CouplingReading, runs: &[(CouplingReading, TurnVerdict)]| {
        because(tarn, "coupling-reading", |figures| {
            let (mut main, mut to_lock) = (main.to_lock, other);
            // Named and its outcome apart from the reading that decides.
            main.reading = None;
            main.outcome = WhatStops::AllFour;
            to_lock.outcome = WhatStops::Rear;
            hand(figures).answer.to_lock = main;
            hand(figures).answer.also = vec![(reading, to_lock)];
            turned(figures).otherwise = runs
                .iter()
                .map(|&(reading, verdict)| {
                    let mut run = brief;
                    run.verdict = verdict;
                    (reading, run)
                })
                .collect();
        })
    };
    let at = |turns_at: TurnsAt, supposed: Option<&'static str>| CouplingReading {
        supposed,
        turns_at,
        beyond: Beyond::GoesOn,
        off_the_curve: true,
        ..known
    };
    // The run of that reading and of no other.
    let (one, two) = (at(TurnsAt::Propshaft, None), at(TurnsAt::Wheels, None));
    let runs = [(two, TurnVerdict::Spins), (one, TurnVerdict::ComesRound)];
    let text = told(one, &runs);
    assert!(text.contains("comes round") && !text.contains("spins"), "{text}");
    let text = told(two, &runs);
    assert!(text.contains("spins") && !text.contains("comes round"), "{text}");
    // A centre that is only supposed: where it turns and how its curve goes on is said where that is not given either.
    let text = told(at(TurnsAt::Given, Some("locked")), &[]);
    assert!(text.contains("locked"), "{text}");
    let text = told(at(TurnsAt::Propshaft, Some("soft")), &[]);
    assert!(
        ["soft", "propshaft", "curve"]
            .iter()
            .all(|word| text.contains(word)),
        "{text}"
    );
}

/// Two readings are one answer where the same stops, unless the rear stops and the front is dragged another grade.
#[test]
fn which_readings_differ() {
    let tarn = look("tarn", &[]);
    let differ = |one: (WhatStops, f64), other: (WhatStops, f64)| {
        let told = judged(tarn, |figures| {
            let answer = &mut hand(figures).answer;
            answer.also.truncate(1);
            (answer.to_lock.outcome, answer.to_lock.drag) = (one.0, Some(one.1));
            (answer.also[0].1.outcome, answer.also[0].1.drag) = (other.0, Some(other.1));
        });
        find(&told, "coupling-reading").is_some()
    };
    let (rear, all) = (WhatStops::Rear, WhatStops::AllFour);
    assert!(differ((rear, 0.1), (all, 0.1)));
    assert!(!differ((rear, 0.1), (rear, 0.2)), "one grade");
    assert!(differ((rear, 0.1), (rear, 0.5)), "two grades");
    assert!(!differ((all, 1.2), (all, 0.5)), "all four stop either way");
    assert!(!differ((all, 1.2), (all, 1.3)));
}

#[test]
fn one_circuit_that_just_does() {
    let tarn = look("tarn", &[]);
    let at = |rate: Acceleration| {
        weight(tarn, "one-circuit-gone", |figures| {
            for failed in &mut figures.foot.failed_on_tarmac {
                failed.rate = rate;
            }
        })
    };
    assert_eq!(at(LEAST_SECONDARY), Some(Know));
    let less = Acceleration::from_m_s2(LEAST_SECONDARY.m_s2().next_down());
    assert_eq!(at(less), Some(Weight::Stop));
}

/// Axle by axle two failures are told; corner to corner both are one.
#[test]
fn what_each_failure_leaves() {
    let rates = |looked: &Looked| {
        let told = because(looked, "one-circuit-gone", |figures| {
            let tarmac = &mut figures.foot.failed_on_tarmac;
            (tarmac[0].rate, tarmac[1].rate) = (Acceleration::from_m_s2(4.56), Acceleration::from_m_s2(3.21));
        });
        ["4.56 m/s²", "3.21 m/s²"].map(|rate| told.matches(rate).count())
    };
    assert_eq!(rates(look("tarn", &[])), [1, 1]);
    assert_eq!(rates(look("bin", &["lever.outlets=tandem"])), [1, 0]);
}

/// What leaves a verdict open is named figure by figure, from a twentieth of its spread on, with what was taken for it.
#[test]
fn what_an_open_verdict_hangs_on() {
    use engine::figures::Settles;
    let car = look_drawn("half-known");
    let leaned: Vec<_> = car
        .figures
        .defaults_used
        .iter()
        .filter(|leaned| leaned.guess)
        .collect();
    let (one, two, three) = (leaned[0], leaned[1], leaned[2]);
    let settles = |share: f64, leaned: &engine::car::DefaultUsed| Settles {
        slot: leaned.slot,
        share,
    };
    let edit = |share: f64| {
        move |figures: &mut Figures| {
            figures.settles = vec![
                (Headlined::FrontFirstBy, vec![settles(0.5, three)]),
                (Headlined::InHand, vec![settles(0.5, one), settles(share, two)]),
            ];
        }
    };
    let called = [one, two, three].map(|leaned| wording::key_name(leaned.slot).to_lowercase());
    let names = |slug: &str, share: f64| {
        let text = because(car, slug, edit(share)).to_lowercase();
        called.each_ref().map(|name| text.contains(name))
    };
    assert_eq!(names("lever-open", 0.05), [true, true, false]);
    assert_eq!(names("lever-open", 0.05_f64.next_down()), [true, false, false]);
    // With what was taken for it, and not for another.
    let text = because(car, "guesses-decide", edit(0.0));
    let taken = plain(one.value);
    assert!(
        text.to_lowercase().contains(&called[0])
            && text.contains(&taken)
            && !text.to_lowercase().contains(&called[1]),
        "{text}"
    );
}

/// Of two axles that come equally near boiling or fading the front is named; else the nearer.
#[test]
fn the_axle_that_is_hotter() {
    use engine::heat::{HeatBench, Stage};
    use quantity::si::TemperatureDifference;
    let car = read(&sheet_text("tarn"), &[]).unwrap().1.car;
    let stage: Stage = sheet::built_in_stage("downhill road").unwrap();
    let heat = HeatBench::of(&car, &usual()).drive(&stage).unwrap();
    let peak = |slug: &str, name: &str, front: f64, rear: f64| {
        let mut heat = heat.clone();
        for (axle, left) in [(Axle::Front, front), (Axle::Rear, rear)] {
            let corner = match axle {
                Axle::Front => &mut heat.front,
                Axle::Rear => &mut heat.rear,
            };
            corner.to_wet = TemperatureDifference::from_dk(left);
            corner.to_fade = TemperatureDifference::from_dk(left);
            corner.to_now = TemperatureDifference::from_dk(10.0);
        }
        let found = assess::heat(&car, &heat, &[]);
        figure(found.iter().find(|finding| finding.slug == slug).unwrap(), name)
    };
    let fluid = |corner: &engine::heat::CornerHeat| corner.fluid_running.max(corner.fluid_soak).k();
    let (front, rear) = (&heat.front, &heat.rear);
    let boils = |at_front: f64, at_rear: f64| peak("fluid-boils-wet", "fluid_peak_k", at_front, at_rear);
    assert_eq!(
        [boils(-5.0, -5.0), boils(-5.0, -4.0), boils(-4.0, -5.0)],
        [fluid(front), fluid(front), fluid(rear)]
    );
    let fades = |at_front: f64, at_rear: f64| peak("pads-fade", "disc_peak_k", at_front, at_rear);
    assert_eq!(
        [fades(-5.0, -5.0), fades(-5.0, -4.0), fades(-4.0, -5.0)],
        [front.disc_peak.k(), front.disc_peak.k(), rear.disc_peak.k()]
    );
}

/// The minutes that it holds, and of two arrivals that rise equally high the first.
#[test]
fn what_a_latched_lever_does() {
    use engine::hold::HoldBench;
    let car = read(&sheet_text("tarn"), &[]).unwrap().1.car;
    let mut hold = HoldBench::of(&car, &usual()).unwrap().hold().unwrap();
    for arrival in &mut hold.arrivals {
        arrival.holds_for = Some(Duration::from_s(90.0));
        arrival.pressure_max = Some(Pressure::from_pa(90e5));
        arrival.pressure = Some(Pressure::from_pa(50e5));
    }
    assert!(hold.arrivals.len() > 1);
    hold.arrivals[0].pressure = Some(Pressure::from_pa(60e5));
    let found = assess::hold(&car, &hold, wording::Units::default());
    let of = |slug: &str| found.iter().find(|finding| finding.slug == slug).unwrap();
    assert_eq!(figure(of("hold-start-line"), "minutes"), 1.5);
    assert_eq!(figure(of("hold-pressure-rises"), "pressure_pa"), 60e5);
}

/// Force and travel are two wants: a hand that is too weak says nothing of a travel that is enough.
#[test]
fn what_the_lever_is_short_of() {
    let weak = look("sedge", &["lever.hand_pull=198 N"]);
    let slugs: Vec<&str> = ["lever-force", "lever-room", "lever-stroke"]
        .into_iter()
        .filter(|slug| weak.weight(slug).is_some())
        .collect();
    assert_eq!(slugs, ["lever-force"]);
    // Warm it locks, cold it does not: it is the cold pull that is given.
    let cold = look("sedge", &["lever.hand_pull=244 N"]);
    let answer = &cold.figures.hand.as_ref().unwrap().answer;
    let told = cold.finding("one-temperature").unwrap();
    assert_eq!(figure(told, "hand_force_n"), answer.cold.hand.unwrap().n());
    // And the other way round, with another title.
    let turned_round = judged(cold, |figures| {
        let answer = &mut hand(figures).answer;
        core::mem::swap(&mut answer.to_lock, &mut answer.cold);
    });
    let other = find(&turned_round, "one-temperature").unwrap();
    assert_eq!(figure(other, "hand_force_n"), figure(told, "hand_force_n"));
    assert!(told.title.starts_with("Warm") && other.title.starts_with("Cold"));
    // The surface that was asked about is not one of the others.
    let alone = look("sedge", &["lever.hand_pull=244 N", "car.runs_on=hard gravel"]);
    assert_eq!(alone.weight("not-on-every-surface"), None);
}

#[test]
fn the_levers_borders() {
    let free = look("tarn-let-go", &[]);
    let fierce = |needs: f64| {
        weight(free, "fierce", |figures| {
            hand(figures).answer.to_lock.hand = Some(Force::from_n(needs));
        })
    };
    assert_eq!(
        (fierce(FIERCE.n()), fierce(FIERCE.n().next_down())),
        (None, Some(Fix))
    );
    let tarn = look("tarn", &[]);
    let hides = |nothing: f64| {
        weight(tarn, "foot-hides-hand", |figures| {
            hand(figures).moves_nothing = Force::from_n(nothing);
        })
    };
    assert_eq!(
        (hides(UNNOTICED.n()), hides(UNNOTICED.n().next_down())),
        (Some(Know), None)
    );
    let pull = tarn.figures.hand.as_ref().unwrap().pull.n();
    assert_eq!((hides(pull), hides(pull.next_down())), (Some(Fix), Some(Know)));
    let scree = look("scree", &[]);
    let clutch = |up: f64| {
        weight(scree, "clutch-down", |figures| {
            hand(figures).answer.to_lock.time_to_lock = Some(Duration::from_s(1.0));
            hand(figures).time_with_clutch_up = Some(Duration::from_s(up));
        })
    };
    assert_eq!((clutch(1.5), clutch(1.5_f64.next_up())), (None, Some(Know)));
    let layout = |more: f64| {
        weight(scree, "other-layout", |figures| {
            let hand = hand(figures);
            hand.answer.to_lock.in_hand = more;
            let other = &mut hand.other_layout.as_mut().unwrap().1;
            other.outcome = hand.answer.to_lock.outcome;
            other.in_hand = 0.0;
        })
    };
    assert_eq!(
        (layout(SAME_IN_HAND), layout(SAME_IN_HAND.next_down())),
        (Some(Know), None)
    );
    let swallowed = |share: f64| weight(tarn, "hoses-swallow", |figures| hand(figures).hose_share = share);
    assert_eq!(
        (swallowed(HOSES_SWALLOW), swallowed(HOSES_SWALLOW.next_up())),
        (None, Some(Know))
    );
}

/// Air at the brakes and air in the lever's cylinder are one sum.
#[test]
fn air_in_two_places() {
    let bin = look("bin", &["air.rear=1.0 cm3", "air.lever=0.5 cm3"]);
    let air = figure(bin.finding("air").unwrap(), "air_m3");
    assert!((air - 1.5e-6).abs() < 1e-15, "{air}");
}

/// Two places where a rule is broken are named, and what is beyond them is counted.
#[test]
fn hoses_too_short_beyond_two() {
    let named = |lines: &[&str]| {
        let shortened: Vec<String> = lines
            .iter()
            .map(|line| format!("lines.{line}.flexible_last=0.24 m"))
            .collect();
        let overrides: Vec<&str> = shortened.iter().map(String::as_str).collect();
        let scree = look("scree", &overrides);
        let told = plain(&scree.finding("pulled-hose").unwrap().because);
        let (_, places) = told.split_once("Here: ").unwrap();
        places
            .replace(" and ", ", ")
            .split(", ")
            .map(str::to_owned)
            .collect::<Vec<_>>()
    };
    let two = named(&["front"]);
    assert!(two.len() == 2 && !two[1].contains("more"), "{two:?}");
    let six = named(&["front", "rear", "lever"]);
    assert!(six.len() == 3 && six[2] == "4 more.", "{six:?}");
}

/// 3.5 m on six clips are half a metre between them, and that is close enough.
#[test]
fn clips_just_close_enough() {
    let at = |clips: &str| {
        let routes = [
            "routes.bulkhead_to_lever=1.5 m",
            "routes.lever_to_rear_tee=2 m",
            clips,
        ];
        look("bin", &routes).weight("few-clips")
    };
    assert_eq!(
        (at("places.rear_clips=6"), at("places.rear_clips=5")),
        (None, Some(Fix))
    );
}

#[test]
fn the_mounts_borders() {
    let tarn = look("tarn", &[]);
    let bolts = |used: f64| {
        weight(tarn, "mount-bolts", |figures| {
            figures.mount.as_mut().unwrap().bolts.as_mut().unwrap().used = used;
        })
    };
    assert_eq!((bolts(1.0), bolts(1.0_f64.next_down())), (Some(Fix), None));
    let sheet = |used: f64| {
        move |figures: &mut Figures| figures.mount.as_mut().unwrap().floor.as_mut().unwrap().used = used
    };
    let floor = |used: f64| weight(tarn, "thin-floor", sheet(used));
    assert_eq!(
        (floor(FLOOR_TIRES), floor(FLOOR_TIRES.next_down())),
        (Some(Fix), None)
    );
    // It tires, or it gives way.
    let titled = |used: f64| title(tarn, "thin-floor", sheet(used));
    let (tires, gives_way) = (titled(FLOOR_TIRES), titled(2.0));
    assert_ne!(tires, gives_way);
    assert!(tires.contains("crack"), "{tires}");
    assert_eq!((titled(1.0_f64.next_down()), titled(1.0)), (tires, gives_way));
}

/// Pads of exactly two millimetres are thin, and no more.
#[test]
fn pads_just_thick_enough() {
    let at = |thickness: &str| {
        let pads = format!("rear_brake.pad.thickness={thickness}");
        look("tarn", &[&pads]).weight("thin-pads")
    };
    assert_eq!((at("2 mm"), at("1.999 mm")), (Some(Fix), Some(Weight::Stop)));
}

#[test]
fn pressures_just_borne() {
    let tarn = look("tarn", &[]);
    let at = |own: f64, reaches_valve: bool| {
        let told = judged(tarn, |figures| {
            let abuse = hand(figures).abuse.as_mut().unwrap();
            (abuse.own, abuse.reaches_valve) = (Pressure::from_pa(own), reaches_valve);
        });
        find(&told, "abuse-pressure").map(|finding| finding.weight)
    };
    let borders = [
        (GAUGE_END, false, None, Some(Know)),
        (VALVE_LIMIT, true, Some(Know), Some(Fix)),
        (HOSE_TESTED, false, Some(Know), Some(Fix)),
    ];
    for (limit, valve, on, beyond) in borders {
        assert_eq!(
            (at(limit.pa(), valve), at(limit.pa().next_up(), valve)),
            (on, beyond),
            "{limit:?}"
        );
    }
    // Out of the valve's way its limit does not count.
    assert_eq!(at(VALVE_LIMIT.pa().next_up(), false), Some(Know));
}

/// A reading that is off by a fifth is not off; beyond that it is said which way.
#[test]
fn readings_just_near_enough() {
    let tarn = look("tarn", &[]);
    let off = |by: f64| {
        move |figures: &mut Figures| {
            figures.sides.clear();
            figures.readings.truncate(1);
            figures.readings[0].kind = engine::figures::ReadingKind::Pedal;
            figures.readings[0].off_by = by;
        }
    };
    for sign in [1.0, -1.0] {
        let by = |share: f64| weight(tarn, "pedal-reading", off(sign * share));
        assert_eq!((by(READING_OFF), by(READING_OFF.next_up())), (None, Some(Fix)));
    }
    let less = because(tarn, "pedal-reading", off(-0.5));
    let more = because(tarn, "pedal-reading", off(0.5));
    assert!(less.contains(" less") && !less.contains(" more"), "{less}");
    assert!(more.contains(" more") && !more.contains(" less"), "{more}");
    let bin = look("bin", &[]);
    let uneven = |by: f64| weight(bin, "uneven-sides", |figures| figures.sides[0].less_by = by);
    assert_eq!((uneven(UNEVEN), uneven(UNEVEN.next_up())), (None, Some(Fix)));
}

/// What the front wheels' standing adds, and whether the lever has given its part.
#[test]
fn how_it_ploughs() {
    let tarn = look("tarn", &[]);
    let stands = |seconds: f64| {
        because(tarn, "turn-ploughs", |figures| {
            let turn = &mut turned(figures).turn;
            turn.verdict = TurnVerdict::Ploughs;
            turn.locking.front_for = Duration::from_s(seconds);
        })
    };
    let said = |text: &str, seconds: f64| text.contains(&plain(&wording::seconds(Duration::from_s(seconds))));
    assert!(said(&stands(7.89), 7.89));
    assert!(!said(&stands(0.0), 0.0), "{}", stands(0.0));
    let titled = |gave: Option<f64>| {
        title(tarn, "turn-ploughs", |figures| {
            let turn = &mut turned(figures).turn;
            turn.verdict = TurnVerdict::Ploughs;
            turn.judged.lever_gave = gave.map(Angle::from_rad);
        })
    };
    let least = LEVER_GIVES.rad();
    let (on, rotates) = (titled(None), titled(Some(least)));
    assert!(
        rotates.contains("rotates") && !on.contains("rotates"),
        "{on} {rotates}"
    );
    assert_eq!(titled(Some(least.next_down())), on);
    assert_eq!(titled(Some(-2.0)), on, "to the other side");
}

/// What the run, the readings and the border make of the answer, one by one.
#[test]
fn the_words_of_the_answer() {
    let sedge = look("sedge", &[]);
    let word = |change: &dyn Fn(&mut Figures)| {
        judged(sedge, |figures| {
            let of = turned(figures);
            of.turn.verdict = TurnVerdict::ComesRound;
            of.turn.beside = Some(BesideIt {
                best: None,
                on_the_border: false,
            });
            let answer = &mut hand(figures).answer;
            for to_lock in [&mut answer.to_lock, &mut answer.cold] {
                to_lock.outcome = WhatStops::Rear;
                to_lock.in_hand = 2.0;
                to_lock.stands_first = false;
            }
            change(figures);
        })
        .answer
        .verdict
    };
    let runs =
        |verdict: TurnVerdict| word(&move |figures: &mut Figures| turned(figures).turn.verdict = verdict);
    assert_eq!(word(&|_| ()), Verdict::Yes);
    assert_eq!(runs(TurnVerdict::ComesRoundLate), Verdict::Half);
    for verdict in [
        TurnVerdict::Spins,
        TurnVerdict::Ploughs,
        TurnVerdict::RotatesLittle,
    ] {
        assert_eq!(runs(verdict), Verdict::No, "{verdict:?}");
        let freed = |figures: &mut Figures| {
            let of = turned(figures);
            of.turn.verdict = verdict;
            let mut free = of.rows.iter().find_map(|row| row.brief).unwrap();
            free.verdict = TurnVerdict::ComesRoundLate;
            of.uncoupled = Some(free);
        };
        assert_eq!(word(&freed), Verdict::NotWithThisCentre, "{verdict:?}");
    }
    // In hand above 1.3, warm and cold.
    for cold in [false, true] {
        let in_hand = |times: f64| {
            word(&move |figures: &mut Figures| {
                let answer = &mut hand(figures).answer;
                let to_lock = if cold {
                    &mut answer.cold
                } else {
                    &mut answer.to_lock
                };
                to_lock.in_hand = times;
            })
        };
        assert_eq!(
            (in_hand(LATE), in_hand(LATE.next_down())),
            (Verdict::Yes, Verdict::Half)
        );
    }
    let border = |figures: &mut Figures| {
        turned(figures).turn.beside = Some(BesideIt {
            best: None,
            on_the_border: true,
        });
    };
    assert_eq!(word(&border), Verdict::Open);
}

/// Nothing that a driver lets go of spins a car that is known; a run that does is told of.
#[test]
fn a_car_that_spins_whenever_it_is_let_go() {
    let scree = look("scree", &[]);
    let spun = |verdict: TurnVerdict| {
        weight(scree, "turn-spins", |figures| {
            turned(figures).turn.verdict = verdict;
        })
    };
    assert_eq!(
        (spun(TurnVerdict::Spins), spun(TurnVerdict::ComesRound)),
        (Some(Fix), None)
    );
}

#[test]
fn wheels_that_stand_or_drag_just_long_enough() {
    let car = look("half-known", &[]);
    let dragged = |seconds: f64| {
        weight(car, "front-dragged", |figures| {
            turned(figures).turn.locking.front_dragged_for = Duration::from_s(seconds);
        })
    };
    let least = FRONT_DRAGGED_FOR.s();
    assert_eq!((dragged(least), dragged(least.next_down())), (Some(Know), None));
    let inner = |alone: f64, both: f64| {
        weight(car, "inner-wheel", |figures| {
            let locking = &mut turned(figures).turn.locking;
            locking.inner_only_for = Duration::from_s(alone);
            locking.rear_for = Duration::from_s(both);
        })
    };
    let least = INNER_ALONE_FOR.s();
    assert_eq!(
        (inner(least, 0.0), inner(least.next_down(), 0.0)),
        (Some(Know), None)
    );
    let share = 2.0 * INNER_ALONE_SHARE;
    assert_eq!(
        (inner(share, 2.0), inner(share.next_down(), 2.0)),
        (Some(Know), None)
    );
}

/// Over which grips it comes round: all, or from where and to where; and each of the car's surfaces on its side.
#[test]
fn where_it_comes_round() {
    let looked = look("tarn", &[]);
    let grips: Vec<f64> = looked
        .figures
        .turned
        .as_ref()
        .unwrap()
        .over_grip
        .iter()
        .map(|at| at.0)
        .collect();
    let (lowest, highest) = (grips[0], *grips.last().unwrap());
    let told = |from: f64, to: f64| {
        weight(looked, "turn-grips", |figures| {
            for (grip, works) in &mut turned(figures).over_grip {
                *works = (from..=to).contains(grip);
            }
        })
    };
    assert_eq!(told(lowest, highest), None);
    for (from, to) in [(lowest, grips[5]), (grips[5], highest), (grips[3], grips[5])] {
        assert_eq!(told(from, to), Some(Know), "from {from} to {to}");
    }
    // Surfaces: the first is said to do, the second not, and of one that was not run nothing is said.
    let names: Vec<String> = looked
        .figures
        .hand
        .as_ref()
        .unwrap()
        .rows
        .iter()
        .map(|row| row.surface.to_string())
        .collect();
    let with = |verdicts: &[Option<TurnVerdict>]| {
        because(looked, "turn-grips", |figures| {
            for (at, (row, &verdict)) in turned(figures).rows.iter_mut().zip(verdicts).enumerate() {
                assert_eq!(*row.surface, names[at]);
                row.brief = row.brief.map(|mut brief| {
                    brief.verdict = verdict.unwrap_or(brief.verdict);
                    brief
                });
                if verdict.is_none() {
                    row.brief = None;
                }
            }
        })
    };
    assert!(names.len() >= 3, "{names:?}");
    let (round, on) = (Some(TurnVerdict::ComesRound), Some(TurnVerdict::Ploughs));
    let text = with(&[round, on, None]);
    let at = |text: &str, name: &str| text.find(name);
    let ploughs = format!("{} (ploughs)", names[1]);
    assert!(
        at(&text, &names[0]) < at(&text, &ploughs) && at(&text, &names[0]).is_some(),
        "{text}"
    );
    assert_eq!(at(&text, &names[2]), None, "{text}");
    // Where one side is empty, nothing stands in its place.
    for verdicts in [[round, round, round], [on, on, on]] {
        let text = with(&verdicts);
        assert!(names.iter().all(|name| at(&text, name).is_some()), "{text}");
        assert!(!text.contains("on ."), "{text}");
    }
}

/// The factory's valve that is gone is a stop where the rear leads, on the road; one of the two is not enough.
#[test]
fn a_valve_that_is_gone() {
    let gone = [
        "master.kind=tandem",
        "master.bore=20 mm",
        "before.factory_valve=true",
    ];
    let leads = "rear_brake.pad.friction=0.6";
    let road = "car.road_registered=true";
    let with = |more: &[&str]| {
        let looked = look("scree", &[&gone[..], more].concat());
        let leads = looked.figures.braked.rear_leads().next().is_some();
        (leads, looked.weight("factory-valve-gone"))
    };
    assert_eq!(with(&[leads]), (true, Some(Fix)));
    assert_eq!(with(&[leads, road]), (true, Some(Weight::Stop)));
    assert_eq!(
        with(&[
            road,
            "rear_brake.pad.friction=0.2",
            "rear_brake.pad.cold_friction=0.2"
        ]),
        (false, Some(Fix))
    );
}

/// A limiting valve after the lever lets nothing more through; another lets its slope through.
#[test]
fn a_valve_after_the_lever() {
    let said = |slope: f64| {
        let bin = look("bin", &[]);
        let mut car = bin.assembled.car.clone();
        car.bias_valve.as_mut().unwrap().slope = slope;
        let assessment = assess(&car, &bin.figures, Vec::new());
        let found = find(&assessment, "valve-after-lever").unwrap();
        plain(&found.because).contains(&plain(&wording::per_cent(slope)))
    };
    assert_eq!((said(0.0), said(0.4)), (false, true));
}

/// A reservoir in the cabin, of the pedal's and of a lever's own, and a bare line through it: each alone and none.
#[test]
fn what_stands_in_the_cabin() {
    let shows = |car: &str, slug: &str, overrides: &[&str]| look(car, overrides).weight(slug).is_some();
    for (pedal, lever) in [
        ("cabin", "engine bay"),
        ("engine bay", "cabin"),
        ("cabin", "cabin"),
        ("engine bay", "engine bay"),
    ] {
        let (of_pedal, of_lever) = (
            format!("places.reservoir={pedal}"),
            format!("places.lever_reservoir={lever}"),
        );
        let places = [of_pedal.as_str(), of_lever.as_str()];
        assert_eq!(
            shows("scree", "reservoir-in-cabin", &places),
            pedal == "cabin" || lever == "cabin",
            "{places:?}"
        );
        // A lever in the rear line has no reservoir of its own.
        assert_eq!(
            shows("tarn", "reservoir-in-cabin", &places),
            pedal == "cabin",
            "{places:?}"
        );
    }
    for (run, guard) in [
        ("inside", "false"),
        ("inside", "true"),
        ("outside", "false"),
        ("outside", "true"),
    ] {
        let (run_as, guarded) = (
            format!("places.rear_run={run}"),
            format!("places.rear_guard={guard}"),
        );
        assert_eq!(
            shows("half-known", "cabin-joints", &[&run_as, &guarded]),
            run == "inside" && guard == "false",
            "{run}, guarded {guard}"
        );
    }
}

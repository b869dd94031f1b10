//! Many turns at once against the same turns one by one.

use core::sync::atomic::{AtomicU32, Ordering};
use std::sync::{Arc, OnceLock};

use engine::Conditions;
use engine::car::{Car, Centre, Coupling, Inputs, Slot};
use engine::drivetrain::Beyond;
use engine::figures::{Depth, Figures};
use engine::gains::stand;
use engine::loads::{Aboard, Laden};
use engine::ranges::{Sampling, study};
use engine::turn::{
    After, Assumed, Brief, Clutch, Footwork, Manoeuvre, Release, Stepping, TOLERANCE, Technique, Throttle,
    TurnBench, TurnFault, TurnVerdict,
};
use engine::wanted::{Wanted, while_wanted};
use quantity::si::{Angle, Duration, Force, Speed, Torque};

use crate::bench::demo;

const CARS: [&str; 6] = ["tarn", "tarn-let-go", "sedge", "scree", "half-known", "bin"];

/// How far apart headings may be (°) ...
const CLOSE_DEG: f64 = 0.02;

/// ... in at least this share of the runs; the others stand on an edge, where one run is as right as the other.
const MOSTLY: f64 = 0.99;

/// No run beside another.
const ALONE: Stepping = Stepping::Alone { tolerance: TOLERANCE };

/// A car that spins comes to rest in a step that hangs on a hair: alone too, let go a ten-millionth of a second later, its
/// heading at the end is up to 0.03° off. Such runs are compared in finer steps.
const FINER: f64 = 0.1 * TOLERANCE;

/// How far apart the times are for which both rear wheels stand (s) in most runs, and in the worst: where wheels creep along
/// the border of what counts as standing.
const CLOSE_S: f64 = 0.01;
const FURTHEST_S: f64 = 0.03;

/// Differences of headings (°), of the time for which both rear wheels stand (s), and of words.
#[derive(Default)]
struct Apart {
    headings_deg: Vec<f64>,
    rear_s: Vec<f64>,
    words: usize,
}

impl Apart {
    fn compare(&mut self, many: &Brief, alone: &Brief) {
        let apart = |one: Angle, other: Angle| (one.rad() - other.rad()).abs().to_degrees();
        let mut most = apart(many.heading.end, alone.heading.end);
        assert_eq!(
            many.heading.at_release.is_some(),
            alone.heading.at_release.is_some()
        );
        for (many, alone) in [
            (many.heading.at_release, alone.heading.at_release),
            (many.judged.lever_gave, alone.judged.lever_gave),
        ] {
            if let (Some(many), Some(alone)) = (many, alone) {
                most = most.max(apart(many, alone));
            }
        }
        self.headings_deg.push(most);
        self.words += usize::from(many.verdict != alone.verdict);
        self.rear_s.push((many.rear_for.s() - alone.rear_for.s()).abs());
        match (many.front_speed_ratio, alone.front_speed_ratio) {
            (Some(many), Some(alone)) => assert!((many - alone).abs() < 0.002, "{many} {alone}"),
            (many, alone) => assert_eq!(many, alone),
        }
    }

    fn stays_small(mut self, of: &str) {
        self.headings_deg.sort_by(f64::total_cmp);
        let count = self.headings_deg.len();
        let close = self.headings_deg.iter().filter(|&&deg| deg < CLOSE_DEG).count();
        assert!(
            close as f64 >= MOSTLY * count as f64,
            "{of}: {close} of {count}, the furthest {:?}",
            self.headings_deg.last()
        );
        let close = self.rear_s.iter().filter(|&&apart| apart < CLOSE_S).count();
        let furthest = self.rear_s.iter().copied().fold(0.0, f64::max);
        assert!(
            close as f64 >= MOSTLY * count as f64 && furthest < FURTHEST_S,
            "{of}: the rear stands as long in {close} of {count}, the furthest {furthest}"
        );
        assert!(self.words * 100 <= count, "{of}: {} words of {count}", self.words);
    }
}

fn gravel(car: &Car, change: impl Fn(&mut Technique)) -> (TurnBench, Technique) {
    let surface = car.surface("hard gravel").unwrap();
    let laden = Laden::of(car, Aboard::default());
    let mut technique = Technique::on(surface, car);
    change(&mut technique);
    let bench = TurnBench::of(car, &laden, surface, Assumed::default()).unwrap();
    (bench, technique)
}

fn map(of: &str, bench: &TurnBench, technique: &Technique) {
    let tolerance = match technique.after {
        After::IntoSlide => FINER,
        After::Hold | After::Drives => TOLERANCE,
    };
    let grid = bench
        .stepped(Stepping::Adaptive { tolerance })
        .grid(technique, (10, 10), &|_| {})
        .unwrap();
    let bench = bench.stepped(Stepping::Alone { tolerance });
    let mut apart = Apart::default();
    for (row, &entry) in grid.entries.iter().enumerate() {
        for (column, &hand) in grid.hands.iter().enumerate() {
            let alone = bench
                .brief_of(&Technique {
                    entry,
                    hand,
                    ..*technique
                })
                .unwrap();
            let cell = grid.cells[row][column].unwrap();
            apart.compare(
                &Brief {
                    verdict: cell.verdict,
                    heading: engine::turn::Headings {
                        at_release: cell.heading_at_release,
                        end: cell.heading_end,
                    },
                    rear_for: cell.rear_for,
                    judged: alone.judged,
                    ..alone
                },
                &alone,
            );
        }
    }
    apart.stays_small(of);
}

/// Let go at a moment, at a heading and never; held or steered into the slide; the clutch down or up.
#[test]
fn a_map_is_what_its_cells_are_alone() {
    for name in CARS {
        let (car, _) = demo(name);
        for (release, after, clutch) in [
            (None, After::Hold, None),
            (
                Some(Release::Heading(Angle::from_rad(1.0))),
                After::IntoSlide,
                None,
            ),
            (Some(Release::Never), After::Hold, Some(Clutch::Up)),
            (Some(Release::At(Duration::from_s(1.5))), After::Drives, None),
        ] {
            let (bench, technique) = gravel(&car.car, |technique| {
                technique.release = release.unwrap_or(technique.release);
                technique.clutch = clutch.unwrap_or(technique.clutch);
                technique.after = after;
            });
            map(&format!("{name} {release:?}"), &bench, &technique);
        }
    }
}

/// What asks more of a lane: a locked centre with plates behind it, a foot and a throttle, a curve that goes on beyond
/// its points.
#[test]
fn a_map_of_whatever_drives_the_wheels_is_what_its_cells_are_alone() {
    let (tarn, _) = demo("tarn");
    let mut locked = tarn.car.clone();
    locked.drivetrain.centre = Centre::Fixed(Coupling::Locked);
    let busy = |technique: &mut Technique| {
        technique.foot = Some(Footwork {
            force: Force::from_n(150.0),
            at: Duration::from_s(0.1),
            rise: Duration::from_s(0.1),
            off: Some(Duration::from_s(0.9)),
        });
        technique.throttle = Some(Throttle {
            torque: Torque::from_nm(120.0),
            at: None,
            wait: Duration::ZERO,
            rise: Duration::from_s(0.2),
            eases: false,
        });
        technique.after = After::IntoSlide;
    };
    let (bench, technique) = gravel(&locked, busy);
    map("locked centre", &bench, &technique);
    let surface = tarn.car.surface("packed snow").unwrap();
    let laden = Laden::of(&tarn.car, Aboard::default());
    let reading = Assumed {
        beyond: Beyond::GoesOn,
        ..Assumed::default()
    };
    let bench = TurnBench::of(&tarn.car, &laden, surface, reading).unwrap();
    let mut technique = Technique::on(surface, &tarn.car).mirrored();
    busy(&mut technique);
    map("curve goes on", &bench, &technique);
}

fn draws(inputs: &Inputs, toleranced: &[Slot], manoeuvre: &Manoeuvre, apart: &mut Apart) {
    let sampling = Sampling { draws: 96, seed: 5 };
    let many = manoeuvre.study(inputs, toleranced, sampling);
    let alone = study(inputs, toleranced, sampling, |car| {
        manoeuvre
            .bench(car)
            .and_then(|bench| bench.stepped(ALONE).brief_of(&manoeuvre.technique))
            .ok()
    });
    let alone: Vec<Brief> = alone.answers.into_iter().flatten().collect();
    assert_eq!(many.answers.len(), alone.len());
    for (many, alone) in many.answers.iter().zip(&alone) {
        apart.compare(many, alone);
    }
}

/// Every lane has a car of its own.
#[test]
fn draws_are_what_their_cars_are_alone() {
    let mut apart = Apart::default();
    for name in CARS {
        let (car, inputs) = demo(name);
        let (_, technique) = gravel(&car.car, |_| ());
        for (release, after) in [
            (technique.release, After::Hold),
            (technique.release, After::Drives),
            (Release::Heading(Angle::from_rad(1.0)), After::Hold),
        ] {
            let manoeuvre = Manoeuvre {
                conditions: Conditions::default(),
                reading: Assumed::default(),
                technique: Technique {
                    release,
                    after,
                    ..technique
                },
            };
            draws(&inputs, &car.toleranced, &manoeuvre, &mut apart);
        }
    }
    apart.stays_small("draws");
}

/// The same again, with another number of draws beside them and so in other lanes.
#[test]
fn a_draw_is_the_same_in_whichever_lane_it_is_driven() {
    let (car, inputs) = demo("tarn");
    let (_, technique) = gravel(&car.car, |_| ());
    let manoeuvre = Manoeuvre {
        conditions: Conditions::default(),
        reading: Assumed::default(),
        technique,
    };
    let sampling = |draws: u32| Sampling { draws, seed: 2 };
    let study =
        |manoeuvre: &Manoeuvre, draws: u32| manoeuvre.study(&inputs, &car.toleranced, sampling(draws));
    let (few, more) = (study(&manoeuvre, 19), study(&manoeuvre, 40));
    assert_eq!(few.answers[..], more.answers[..few.answers.len()]);
    let best = Manoeuvre {
        technique: technique.at_best(),
        ..manoeuvre
    };
    let (few, more) = (study(&best, 19), study(&best, 40));
    // A search has many runs, in whichever lane is free when they can be made.
    assert_eq!(few.answers[..], more.answers[..few.answers.len()]);
}

/// Beside other cars, with other ties, other curves and other things to do, and by itself.
#[test]
fn a_run_is_the_same_to_the_last_digit_beside_whichever_others() {
    let cars = CARS.map(|name| demo(name).0.car);
    let cars: Vec<&Car> = cars.iter().collect();
    let (_, technique) = gravel(cars[0], |_| ());
    for entry in [8.0, 11.0, 14.0] {
        let technique = Technique {
            entry: Speed::from_m_s(entry),
            ..technique
        };
        let together = stand(&cars, &Conditions::default(), &technique);
        for ((car, name), among) in cars.iter().zip(CARS).zip(together) {
            let alone = stand(&[*car], &Conditions::default(), &technique).pop().unwrap();
            assert_eq!(among, alone, "{name} at {entry} m/s");
        }
    }
    // A centre that goes over to a shorter curve; which core has what is another each time.
    let (car, _) = demo("tarn-let-go");
    let (bench, technique) = gravel(&car.car, |_| ());
    for step in 0..12_u8 {
        let later = Duration::from_s(0.03 * f64::from(step));
        let technique = Technique {
            lever_at: technique.lever_at + later,
            clutch: Clutch::DownAt(technique.lever_at + later),
            ..technique.at_best()
        };
        let alone = bench.brief_of(&technique).unwrap();
        assert_eq!(bench.turn(&technique).unwrap().judged, alone.judged, "{later:?}");
    }
}

/// Whoever drives notices in the midst of it, and whoever waits for him is not left waiting.
#[test]
fn a_map_that_nobody_waits_for_is_left_where_it_is() {
    let (car, _) = demo("gill");
    let (bench, technique) = gravel(&car.car, |_| ());
    let (looks, itself) = (Arc::new(AtomicU32::new(0)), Arc::new(OnceLock::<Wanted>::new()));
    let wanted = Wanted::giving_way({
        let (looks, itself) = (Arc::clone(&looks), Arc::clone(&itself));
        Arc::new(move || {
            if looks.fetch_add(1, Ordering::Relaxed) == 4 {
                itself.get().unwrap().call_off();
            }
        })
    });
    itself.set(wanted.clone()).unwrap();
    let found = while_wanted(&wanted, || bench.grid(&technique, (16, 16), &|_| ()));
    assert!(found.is_none());
    let looks = looks.load(Ordering::Relaxed);
    assert!((5..10).contains(&looks), "{looks} looks, some hundred runs");
}

#[test]
fn a_map_has_two_rows_and_columns_or_more() {
    let (car, _) = demo("sedge");
    let (bench, technique) = gravel(&car.car, |_| ());
    for (rows, columns) in [(1, 3), (3, 1), (257, 3)] {
        assert!(matches!(
            bench.grid(&technique, (rows, columns), &|_| {}),
            Err(TurnFault::Technique(_))
        ));
    }
}

/// An assessment looks into the turn at the entry that comes best, beside all that hangs on it: what it says is what the turn
/// says that is asked for by itself at that entry, to the last digit; looked at briefly and in full.
#[test]
fn an_assessment_says_of_the_turn_what_the_turn_says() {
    for name in CARS.into_iter().chain(["gill"]) {
        let (assembled, inputs) = demo(name);
        let conditions = Conditions::default();
        let (briefly, whole) = (true, false);
        let turned = [briefly, whole].map(|briefly| {
            let depth = Depth {
                briefly,
                ..Depth::default()
            };
            let figures = Figures::of(&inputs, &assembled, &conditions, depth).unwrap();
            figures.turned.unwrap()
        });
        let turn = &turned[0].turn;
        assert_eq!(turn, &turned[1].turn, "{name}");
        assert!(turn.beside.is_some());
        if !turned[0].otherwise.is_empty() {
            // The centre's reading that decides is another than the usual one.
            continue;
        }
        let car = &assembled.car;
        let (bench, technique) = gravel(car, |technique| {
            *technique = Technique {
                entry: turn.technique.entry,
                ..technique.at_best()
            };
        });
        let alone = bench.turn(&technique).unwrap();
        assert_eq!(turn, &alone, "{name}");
        // And its moment is the best of all that are tried.
        let best = bench.brief_of(&technique).unwrap();
        assert_eq!(
            (turn.released, turn.verdict),
            (best.released, best.verdict),
            "{name}"
        );
        // Of all entries, each looked into as far as it goes: the fastest that comes round, else the fastest of the best.
        let good = |share: f64| {
            let entry = conditions.speed * share;
            let brief = bench.brief_of(&Technique { entry, ..technique }).unwrap();
            let is_out = brief.judged.through.out_s.is_some();
            let rank = match brief.verdict {
                TurnVerdict::ComesRound => 5,
                TurnVerdict::ComesRoundLate => 4,
                TurnVerdict::Spins => 1,
                TurnVerdict::Ploughs | TurnVerdict::RotatesLittle => 2 + u8::from(is_out),
            };
            (rank, entry)
        };
        let better = |taken: (u8, Speed), share| {
            let other = good(share);
            if other.0 > taken.0 { other } else { taken }
        };
        let (_, taken) = [0.8, 0.65, 0.5].into_iter().fold(good(1.0), better);
        assert_eq!(taken, turn.technique.entry, "{name}");
        // The same entry as a driver takes who is asked for nothing else.
        let (asked, _) = bench
            .at_its_entry(&Technique {
                entry: conditions.speed,
                ..technique
            })
            .unwrap();
        assert_eq!(asked.entry, turn.technique.entry, "{name}");
    }
}

//! Random cars: valid, in every arrangement.

use proptest::prelude::*;
use quantity::Dimension;

use crate::bench::Said::{Count, Flag, List, Rows, Si, Text, Word};
use crate::bench::{Said, Sheet};

type Keys = Vec<(String, Said)>;

/// One of several arrangements, each a strategy of its own.
fn numbers(keys: Vec<(&'static str, core::ops::Range<f64>)>) -> BoxedStrategy<Keys> {
    let (paths, ranges): (Vec<_>, Vec<_>) = keys.into_iter().unzip();
    ranges
        .prop_map(move |values| {
            paths
                .iter()
                .zip(values)
                .map(|(path, value)| ((*path).to_owned(), Si(value)))
                .collect()
        })
        .boxed()
}

fn fixed(keys: &[(&'static str, Said)], rest: BoxedStrategy<Keys>) -> BoxedStrategy<Keys> {
    let keys = Sheet::of(keys).0;
    rest.prop_map(move |more| keys.iter().cloned().chain(more).collect())
        .boxed()
}

fn both(one: BoxedStrategy<Keys>, other: BoxedStrategy<Keys>) -> BoxedStrategy<Keys> {
    (one, other)
        .prop_map(|(one, other)| one.into_iter().chain(other).collect())
        .boxed()
}

fn sometimes(keys: BoxedStrategy<Keys>) -> BoxedStrategy<Keys> {
    prop_oneof![Just(Keys::new()), keys].boxed()
}

fn word(path: &'static str, words: &'static [&'static str]) -> BoxedStrategy<Keys> {
    proptest::sample::select(words)
        .prop_map(move |word| vec![(path.to_owned(), Word(word))])
        .boxed()
}

fn body() -> BoxedStrategy<Keys> {
    let loads = both(
        sometimes(numbers(vec![
            ("load.crew.mass", 60.0..250.0),
            ("load.crew.aft_of_front_axle", 1.1..2.0),
        ])),
        sometimes(numbers(vec![
            ("load.tank.capacity", 0.02..0.09),
            ("load.tank.aft_of_front_axle", -0.3..3.0),
        ])),
    );
    let scales = numbers(vec![
        ("weighed.front", 380.0..950.0),
        ("weighed.rear", 320.0..900.0),
        ("weighed.cg_height", 0.35..0.75),
        ("weighed.fuel_aboard", 0.0..0.018),
        ("geometry.wheelbase", 2.1..2.9),
        ("tyres.front", 0.27..0.34),
        ("tyres.rear", 0.27..0.34),
        ("tyres.wheel_inertia", 0.6..2.0),
    ]);
    both(scales, loads)
}

fn foot() -> BoxedStrategy<Keys> {
    let pedal = both(
        numbers(vec![("pedal.ratio", 2.5..6.5), ("pedal.efficiency", 0.75..1.0)]),
        sometimes(numbers(vec![
            ("pedal.booster.gain", 1.0..5.0),
            ("pedal.booster.run_out", 20e5..100e5),
        ])),
    );
    let tandem = fixed(
        &[("master.kind", Word("tandem"))],
        both(
            word("master.split", &["axle", "diagonal"]),
            numbers(vec![
                ("master.bore", 0.017..0.028),
                ("master.stroke", 0.018..0.045),
            ]),
        ),
    );
    let twin = fixed(
        &[("master.kind", Word("twin")), ("master.split", Word("axle"))],
        numbers(vec![
            ("master.front_bore", 0.014..0.024),
            ("master.rear_bore", 0.014..0.024),
            ("master.stroke", 0.014..0.035),
            ("master.bar.front_share", 0.25..0.75),
        ]),
    );
    both(pedal, prop_oneof![2 => tandem, 1 => twin].boxed())
}

fn valve() -> BoxedStrategy<Keys> {
    let slope = || numbers(vec![("bias_valve.slope", 0.05..0.9)]);
    let turns = fixed(
        &[
            ("bias_valve.kind", Word("adjustable")),
            ("bias_valve.knee.turns", Si(6.0)),
        ],
        numbers(vec![
            ("bias_valve.knee.at_fewest", 1e5..15e5),
            ("bias_valve.knee.at_most", 30e5..90e5),
            ("bias_valve.setting", 0.0..6.0),
        ]),
    );
    let stepped = (1_u32..8)
        .prop_map(|setting| {
            let keys = [
                ("bias_valve.kind", Word("adjustable")),
                ("bias_valve.knee.at_fewest", Si(7e5)),
                ("bias_valve.knee.at_most", Si(66e5)),
                ("bias_valve.knee.positions", Count(7)),
                ("bias_valve.setting", Count(setting)),
            ];
            Sheet::of(&keys).0
        })
        .boxed();
    let one_knee = |kind| {
        fixed(
            &[("bias_valve.kind", Word(kind))],
            numbers(vec![("bias_valve.knee", 3e5..60e5)]),
        )
    };
    let loads = (2000.0..4500.0, 0.0..25e5, 5000.0..9000.0, 26e5..80e5)
        .prop_map(|(light_n, low_pa, heavy_n, high_pa)| {
            let row = |force_n, pa| Rows(vec![vec![(Dimension::Force, force_n), (Dimension::Pressure, pa)]]);
            let keys = [
                ("bias_valve.kind", Word("load-sensing")),
                ("bias_valve.knee.empty", row(light_n, low_pa)),
                ("bias_valve.knee.laden", row(heavy_n, high_pa)),
            ];
            Sheet::of(&keys).0
        })
        .boxed();
    let kinds = prop_oneof![
        2 => both(turns, slope()),
        1 => both(stepped, slope()),
        1 => both(one_knee("fixed"), slope()),
        1 => one_knee("limiting"),
        2 => both(loads, slope()),
    ];
    let some = both(
        kinds.boxed(),
        word("bias_valve.place", &["before-lever", "after-lever"]),
    );
    prop_oneof![1 => Just(Keys::new()), 3 => some].boxed()
}

fn hand() -> BoxedStrategy<Keys> {
    let cylinder = || {
        both(
            numbers(vec![
                ("lever.bore", 0.012..0.023),
                ("lever.ratio", 4.0..11.0),
                ("lever.stroke", 0.012..0.040),
                ("lever.efficiency", 0.75..1.0),
                ("lever.free_stroke", 0.0..0.002),
                ("lever.free_play", 0.0..0.010),
                ("lever.hand_pull", 100.0..450.0),
                ("lever.room", 0.09..0.35),
            ]),
            both(
                word("lever.outlets", &["one", "tandem", "side-by-side"]),
                sometimes(numbers(vec![("lever.rear_seal", 0.005..0.0119)])),
            ),
        )
    };
    let inline = fixed(&[("lever.kind", Word("inline"))], cylinder());
    let own = fixed(
        &[
            ("lever.kind", Word("separate")),
            ("lever_brake.kind", Word("disc")),
            ("lever_brake.caliper.layout", Word("opposed")),
        ],
        both(
            cylinder(),
            both(
                discs(&["lever_brake.caliper.pistons"]),
                numbers(vec![
                    ("lever_brake.effective_radius", 0.09..0.14),
                    ("lever_brake.pad.friction", 0.3..0.55),
                ]),
            ),
        ),
    );
    let cable = fixed(
        &[("lever.kind", Word("cable"))],
        numbers(vec![
            ("lever.cable.ratio", 15.0..50.0),
            ("lever.cable.efficiency", 0.4..0.85),
            ("lever.hand_pull", 100.0..450.0),
        ]),
    );
    let kinds = prop_oneof![1 => Just(Keys::new()), 5 => inline, 2 => own, 1 => cable];
    both(
        kinds.boxed(),
        any::<bool>()
            .prop_map(|so| vec![("lever.switch".to_owned(), Flag(so))])
            .boxed(),
    )
    .prop_map(|keys| if keys.len() == 1 { Keys::new() } else { keys })
    .boxed()
}

fn discs(paths: &'static [&'static str]) -> BoxedStrategy<Keys> {
    proptest::collection::vec(0.026..0.058, 1..3)
        .prop_map(move |pistons| {
            paths
                .iter()
                .map(|path| ((*path).to_owned(), List(pistons.clone())))
                .collect()
        })
        .boxed()
}

macro_rules! brake {
    ($name:ident, $end:literal) => {
        fn $name() -> BoxedStrategy<Keys> {
            let volume = || {
                numbers(vec![
                    (concat!($end, ".volume.clearance"), 0.0..0.4e-3),
                    (concat!($end, ".volume.flex"), 0.0..0.03e-11),
                ])
            };
            let disc = fixed(
                &[(concat!($end, ".kind"), Word("disc"))],
                both(
                    discs(&[concat!($end, ".caliper.pistons")]),
                    both(
                        word(concat!($end, ".caliper.layout"), &["opposed", "sliding"]),
                        numbers(vec![
                            (concat!($end, ".effective_radius"), 0.09..0.15),
                            (concat!($end, ".pad.friction"), 0.3..0.55),
                        ]),
                    ),
                ),
            );
            let lined = || {
                numbers(vec![
                    (concat!($end, ".cylinder_bore"), 0.015..0.027),
                    (concat!($end, ".drum_radius"), 0.09..0.14),
                    (concat!($end, ".lining.friction"), 0.25..0.40),
                ])
            };
            let known = fixed(
                &[(concat!($end, ".kind"), Word("drum"))],
                both(lined(), numbers(vec![(concat!($end, ".shoe_factor"), 1.2..4.0)])),
            );
            let shoes = fixed(
                &[
                    (concat!($end, ".kind"), Word("drum")),
                    (concat!($end, ".drum_radius"), Si(0.114)),
                    (concat!($end, ".shoe.pivot_radius"), Si(0.090)),
                    (concat!($end, ".shoe.heel"), Si(0.30)),
                    (concat!($end, ".shoe.toe"), Si(2.0)),
                    (concat!($end, ".shoe.force_arm"), Si(0.175)),
                ],
                both(
                    word(concat!($end, ".shoes"), &["leading-trailing", "two-leading", "servo"]),
                    numbers(vec![
                        (concat!($end, ".cylinder_bore"), 0.015..0.025),
                        (concat!($end, ".lining.friction"), 0.25..0.40),
                    ]),
                ),
            );
            both(prop_oneof![4 => disc, 1 => known, 1 => shoes].boxed(), volume())
        }
    };
}

brake!(front_brake, "front_brake");
brake!(rear_brake, "rear_brake");

fn drivetrain() -> BoxedStrategy<Keys> {
    let curve = (20.0..150.0, 160.0..300.0).prop_map(|(low_nm, high_nm)| {
        let row = |rad_s, nm| vec![(Dimension::Rotation, rad_s), (Dimension::Torque, nm)];
        vec![
            ("drivetrain.centre.kind".to_owned(), Word("viscous")),
            (
                "drivetrain.centre.torque_at".to_owned(),
                Rows(vec![row(0.0, 0.0), row(5.0, low_nm), row(100.0, high_nm)]),
            ),
        ]
    });
    let centre = prop_oneof![
        word(
            "drivetrain.centre.kind",
            &["none", "open", "locked", "disengaging"]
        ),
        fixed(
            &[("drivetrain.centre.kind", Word("plates"))],
            numbers(vec![("drivetrain.centre.preload", 0.0..150.0)])
        ),
        curve,
    ];
    let all = fixed(&[("drivetrain.driven", Word("all"))], centre.boxed());
    let ratio = numbers(vec![("drivetrain.final_drive", 3.2..5.2)]);
    both(
        prop_oneof![word("drivetrain.driven", &["front", "rear"]), all].boxed(),
        ratio,
    )
}

const PIPES: &[&str] = &[
    "steel 3/16 in",
    "copper-nickel 3/16 in",
    "steel 1/4 in",
    "copper-nickel 1/4 in",
    "braided hose -3",
    "rubber hose",
];

fn pipes() -> BoxedStrategy<Keys> {
    let routes = numbers(vec![
        ("routes.master_to_bulkhead", 0.0..1.5),
        ("routes.bulkhead_to_lever", 0.0..2.0),
        ("routes.lever_to_rear_tee", 0.0..2.5),
        ("routes.bulkhead_to_rear_tee", 0.0..4.0),
        ("routes.tee_to_rear_left", 0.2..2.0),
        ("routes.tee_to_rear_right", 0.2..2.0),
        ("routes.master_to_front_left", 0.3..2.0),
        ("routes.master_to_front_right", 0.3..2.0),
        ("routes.lever_to_lever_tee", 0.0..2.0),
        ("routes.lever_tee_to_left", 0.2..2.0),
        ("routes.lever_tee_to_right", 0.2..2.0),
    ]);
    let lines = both(
        both(
            word("lines.rear.pipe", PIPES),
            sometimes(numbers(vec![("lines.rear.flexible_last", 0.0..1.0)])),
        ),
        both(
            word("lines.front.pipe", PIPES),
            sometimes(numbers(vec![("lines.front.flexible_last", 0.0..1.0)])),
        ),
    );
    let air = sometimes(numbers(vec![
        ("air.rear", 0.0..3e-6),
        ("air.front", 0.0..3e-6),
        ("air.lever", 0.0..2e-6),
    ]));
    both(routes, both(sometimes(lines), air))
}

/// Valid cars in every arrangement.
pub(crate) fn cars() -> impl Strategy<Value = Sheet> {
    let halves = (
        both(both(body(), foot()), both(valve(), hand())),
        both(both(front_brake(), rear_brake()), both(drivetrain(), pipes())),
        any::<bool>(),
    );
    halves.prop_map(|(one, other, road)| {
        let head = [
            ("format", Count(1)),
            ("car.name", Text("Random")),
            ("car.road_registered", Flag(road)),
        ];
        let mut keys = Sheet::of(&head).0;
        keys.extend(one);
        keys.extend(other);
        Sheet(keys)
    })
}

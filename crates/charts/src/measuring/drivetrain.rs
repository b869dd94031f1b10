//! Differentials, shafts and the centre coupling.

use super::Scene;
use super::sketch::{Fill, From, Place, Sketch, places, polar};

pub(super) fn differential(s: &mut Sketch) -> Scene {
    // An axle from behind: the left wheel raised, the right one on the floor.
    let floor = 168.0;
    s.floor(10.0, 330.0, floor);
    let (left, right) = ((62.0, 92.0), (278.0, 124.0));
    s.bar((left.0 + 12.0, left.1), (170.0, 108.0), 7.0, Fill::Paper);
    s.bar((170.0, 108.0), (right.0 - 12.0, right.1), 7.0, Fill::Paper);
    s.circle((170.0, 108.0), 20.0, Fill::Tint);
    s.stand((112.0, 104.0), floor);
    for wheel in [left, right] {
        s.block(
            wheel.0 - 13.0,
            wheel.1 - 44.0,
            wheel.0 + 13.0,
            wheel.1 + 44.0,
            Fill::Tint,
        );
    }
    s.chock((right.0 - 13.0, floor), 1.0);
    s.turn((36.0, 92.0), 26.0, 240.0, 120.0);
    s.words("turn", (62.0, 36.0), From::Middle);
    s.words("differential", (170.0, 76.0), From::Middle);
    s.words("stands still", (278.0, 66.0), From::Middle);
    s.words("stand", (112.0, 198.0), From::Middle);
    s.words("chock", (252.0, 198.0), From::Middle);
    Scene {
        high: 208.0,
        marks: &[
            ("turn", "by hand; or by a torque wrench on the hub"),
            (
                "stands still",
                "gearbox in neutral, this wheel on the floor, chocked",
            ),
        ],
    }
}

/// The car's drivetrain from above: four wheels, two differentials, the shaft between. Front at the left.
fn chassis(s: &mut Sketch, lifted: [bool; 4]) -> [Place; 4] {
    let wheels = [(56.0, 42.0), (56.0, 150.0), (284.0, 42.0), (284.0, 150.0)];
    for x in [56.0, 284.0] {
        s.bar((x, 50.0), (x, 142.0), 5.0, Fill::Paper);
    }
    s.bar((56.0, 96.0), (284.0, 96.0), 6.0, Fill::Paper);
    for x in [56.0, 284.0] {
        s.circle((x, 96.0), 12.0, Fill::Tint);
    }
    for (wheel, lifted) in wheels.into_iter().zip(lifted) {
        s.tread(wheel, lifted);
    }
    wheels
}

pub(super) fn centre(s: &mut Sketch) -> Scene {
    chassis(s, [true, false, true, false]);
    s.block(146.0, 82.0, 194.0, 110.0, Fill::Tint);
    s.turn((284.0, 42.0), 28.0, -50.0, 50.0);
    s.words("turn", (268.0, 22.0), From::Middle);
    s.words("watch", (56.0, 22.0), From::Middle);
    s.words("centre", (170.0, 72.0), From::Middle);
    for x in [56.0, 284.0] {
        for side in [-1.0, 1.0] {
            s.tinted(&[
                x + side * 20.0,
                142.0,
                x + side * 30.0,
                150.0,
                x + side * 20.0,
                158.0,
            ]);
        }
    }
    s.words("chocked", (56.0, 184.0), From::Middle);
    s.words("chocked", (284.0, 184.0), From::Middle);
    s.words("crossed out: off the floor", (170.0, 206.0), From::Middle);
    Scene {
        high: 214.0,
        marks: &[
            ("turn", "one rear wheel by hand, gearbox in neutral"),
            (
                "watch",
                "the front wheel on the same side; the front of the car is left",
            ),
        ],
    }
}

pub(super) fn wrench(s: &mut Sketch) -> Scene {
    chassis(s, [false, false, true, false]);
    s.block(146.0, 82.0, 194.0, 110.0, Fill::Tint);
    s.words("centre", (170.0, 72.0), From::Middle);
    s.torque_wrench((284.0, 30.0), (168.0, 22.0));
    s.words("torque wrench", (158.0, 26.0), From::Right);
    for y in [42.0, 150.0] {
        for side in [-1.0, 1.0] {
            s.tinted(&[
                56.0 + side * 20.0,
                y - 8.0,
                56.0 + side * 30.0,
                y,
                56.0 + side * 20.0,
                y + 8.0,
            ]);
        }
    }
    s.words("chocked", (56.0, 184.0), From::Middle);
    s.words("on the floor", (280.0, 184.0), From::Middle);
    Scene {
        high: 192.0,
        marks: &[
            (
                "torque wrench",
                "on the raised rear hub, turned steadily; read it as the coupling slips",
            ),
            (
                "chocked",
                "both front wheels; the other rear wheel stays on the floor",
            ),
        ],
    }
}

pub(super) fn shafts(s: &mut Sketch) -> Scene {
    chassis(s, [false; 4]);
    s.block(78.0, 74.0, 128.0, 118.0, Fill::Paper);
    for (x, number) in [(142.0, "2"), (200.0, "1"), (258.0, "3")] {
        s.block(x - 9.0, 84.0, x + 9.0, 108.0, Fill::Tint);
        s.letter(number, (x, 76.0), From::Middle);
    }
    s.words("gearbox", (103.0, 138.0), From::Middle);
    // Chalk on the shaft and on the wheel.
    s.block(174.0, 93.0, 180.0, 99.0, Fill::Ink);
    s.block(281.0, 142.0, 287.0, 148.0, Fill::Ink);
    s.note("chalk", (204.0, 144.0), From::Left, (177.0, 99.0));
    s.note("chalk", (316.0, 188.0), From::Middle, (287.0, 148.0));
    Scene {
        high: 198.0,
        marks: &[
            ("1", "on the propshaft: it turns as the shaft does"),
            ("2", "at the centre differential, between its case and one output"),
            ("3", "behind the final drive: it turns as the wheels do"),
            ("chalk", "count turns of the shaft to one turn of both wheels"),
        ],
    }
}

pub(super) fn film(s: &mut Sketch) -> Scene {
    // A phone on a block; what it sees.
    let floor = 176.0;
    s.floor(10.0, 330.0, floor);
    s.block(16.0, 150.0, 66.0, floor, Fill::Tint);
    s.block(28.0, 70.0, 54.0, 150.0, Fill::Paper);
    s.block(31.0, 78.0, 51.0, 140.0, Fill::Tint);
    s.circle((48.0, 84.0), 3.0, Fill::Ink);
    s.hair(&[54.0, 84.0, 174.0, 62.0]);
    s.hair(&[54.0, 90.0, 176.0, 138.0]);
    // The lever's switch.
    let (pivot, grip) = ((214.0, 76.0), polar((214.0, 76.0), 58.0, 64.0));
    s.lever(pivot, grip);
    s.block(176.0, 54.0, 200.0, 70.0, Fill::Paper);
    s.thin(&[200.0, 60.0, 208.0, 66.0]);
    s.words("switch", (160.0, 44.0), From::Left);
    // The shaft with its chalk.
    s.bar((176.0, 136.0), (318.0, 136.0), 22.0, Fill::Paper);
    s.shape(
        &places(&[226.0, 126.0, 234.0, 126.0, 240.0, 146.0, 232.0, 146.0]),
        Fill::Ink,
    );
    s.turn((318.0, 136.0), 20.0, -60.0, 60.0);
    s.note("chalk", (252.0, 108.0), From::Left, (234.0, 128.0));
    s.words("phone", (40.0, 200.0), From::Middle);
    s.words("propshaft", (250.0, 200.0), From::Middle);
    Scene {
        high: 210.0,
        marks: &[(
            "phone",
            "slow motion, switch and propshaft in one picture; frames between click and slip",
        )],
    }
}

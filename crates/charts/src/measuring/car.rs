//! The car as a whole: its weight, its lengths, what is aboard, its tyres.

use super::Scene;
use super::sketch::{Fill, From, Sketch, arc, places};
use crate::ink::Line;

pub(super) fn scales(s: &mut Sketch) -> Scene {
    let (front, floor, unit) = ((92.0, 121.0), 149.0, 64.0);
    s.floor(14.0, 326.0, floor);
    let rear = s.car(front, unit, 0.0);
    s.platform((front.0, floor - 9.0));
    s.platform((rear.0, floor - 9.0));
    s.letter("a", (front.0, 178.0), From::Middle);
    s.letter("b", (rear.0, 178.0), From::Middle);
    s.words("fluids in", (26.0, 20.0), From::Left);
    s.words("nobody aboard", (314.0, 20.0), From::Right);
    Scene {
        high: 186.0,
        marks: &[
            ("a", "both front wheels, their scales added"),
            ("b", "both rear wheels, their scales added"),
        ],
    }
}

pub(super) fn raised(s: &mut Sketch) -> Scene {
    let (front, floor) = ((94.0, 142.0), 169.0);
    s.floor(14.0, 326.0, floor);
    // Blocks first: the wheel stands on them.
    let rear = (237.0, 97.0);
    for row in 0..4_u8 {
        let top = rear.1 + 18.0 + 13.5 * f64::from(row);
        s.block(rear.0 - 30.0, top, rear.0 + 30.0, top + 13.5, Fill::Tint);
    }
    let rear = s.car(front, 60.0, 17.46);
    s.platform((front.0, floor - 9.0));
    // The strap holds the car where it stands.
    s.coded(Line::Dimension, &[48.0, 138.0, 20.0, floor]);
    s.upright((rear.0 + 22.0, rear.1), (rear.0 + 34.0, front.1), 304.0, "H");
    s.letter("a", (front.0, 198.0), From::Middle);
    s.note("strap", (8.0, 110.0), From::Left, (34.0, 153.0));
    Scene {
        high: 206.0,
        marks: &[
            ("H", "how far the rear hubs went up"),
            ("a", "what the front scales gained"),
        ],
    }
}

pub(super) fn wheelbase(s: &mut Sketch) -> Scene {
    let (front, floor) = ((92.0, 112.0), 131.0);
    s.floor(14.0, 326.0, floor);
    let rear = s.car(front, 64.0, 0.0);
    s.plumb((front.0, front.1), floor);
    s.plumb((rear.0, rear.1), floor);
    s.across((front.0, floor), (rear.0, floor), 154.0, "a");
    s.note("plumb line", (30.0, 20.0), From::Left, (92.0, 106.0));
    Scene {
        high: 180.0,
        marks: &[("a", "wheelbase: between the two points on the floor")],
    }
}

pub(super) fn tracks(s: &mut Sketch) -> Scene {
    let floor = 148.0;
    s.floor(14.0, 326.0, floor);
    for middle in [72.0, 268.0] {
        s.block(middle - 15.0, 82.0, middle + 15.0, floor, Fill::Tint);
        for groove in [-5.0, 5.0] {
            s.thin(&[middle + groove, 84.0, middle + groove, floor - 2.0]);
        }
    }
    s.solid(&[
        54.0, 124.0, 52.0, 96.0, 60.0, 78.0, 82.0, 68.0, 106.0, 26.0, 120.0, 20.0, 220.0, 20.0, 234.0, 26.0,
        258.0, 68.0, 280.0, 78.0, 288.0, 96.0, 286.0, 124.0, 246.0, 124.0, 240.0, 118.0, 100.0, 118.0, 94.0,
        124.0,
    ]);
    s.thin(&[96.0, 68.0, 114.0, 34.0, 226.0, 34.0, 244.0, 68.0, 96.0, 68.0]);
    for middle in [72.0, 268.0] {
        s.circle((middle, 92.0), 8.0, Fill::Paper);
        s.tinted(&[
            middle - 4.0,
            floor - 1.0,
            middle + 4.0,
            floor - 1.0,
            middle,
            floor - 9.0,
        ]);
    }
    s.across((72.0, floor), (268.0, floor), 172.0, "a");
    s.note("chalk", (116.0, 142.0), From::Left, (80.0, 142.0));
    Scene {
        high: 198.0,
        marks: &[(
            "a",
            "track: between the chalk marks, each at the middle of a tread",
        )],
    }
}

pub(super) fn weight(s: &mut Sketch) -> Scene {
    let floor = 176.0;
    s.floor(14.0, 154.0, floor);
    s.block(46.0, floor - 10.0, 122.0, floor, Fill::Paper);
    s.block(72.0, floor - 10.0, 96.0, floor - 4.0, Fill::Tint);
    // Legs, body, arms, helmet.
    s.solid(&[
        70.0, 164.0, 73.0, 104.0, 67.0, 64.0, 74.0, 56.0, 94.0, 56.0, 101.0, 64.0, 95.0, 104.0, 98.0, 164.0,
        88.0, 164.0, 84.0, 116.0, 80.0, 164.0,
    ]);
    s.thin(&[67.0, 64.0, 60.0, 102.0]);
    s.thin(&[101.0, 64.0, 108.0, 102.0]);
    s.circle((84.0, 40.0), 14.0, Fill::Tint);
    s.solid(&[84.0, 36.0, 97.0, 36.0, 97.0, 44.0, 86.0, 44.0]);
    s.words("person", (84.0, 200.0), From::Middle);
    // A beam, the scale, a disc.
    s.block(196.0, 10.0, 316.0, 18.0, Fill::Tint);
    s.thin(&[256.0, 18.0, 256.0, 26.0]);
    s.luggage_scale((256.0, 108.0), (256.0, 26.0));
    s.through(&arc((256.0, 112.0), 4.0, 90.0, -90.0));
    s.circle((256.0, 146.0), 34.0, Fill::Paper);
    s.circle((256.0, 146.0), 20.0, Fill::Paper);
    s.circle((256.0, 146.0), 7.0, Fill::Tint);
    s.words("part", (256.0, 200.0), From::Middle);
    Scene {
        high: 208.0,
        marks: &[
            ("person", "on a bathroom scale, in suit and helmet"),
            ("part", "hung from a luggage scale, clear of the floor"),
        ],
    }
}

pub(super) fn aboard(s: &mut Sketch) -> Scene {
    let (front, floor, unit) = ((80.0, 117.0), 136.0, 64.0);
    s.floor(14.0, 326.0, floor);
    s.car(front, unit, 0.0);
    // Hips of the crew, the middle of the tank.
    let hips = (front.0 + 1.5 * unit, front.1 - 0.25 * unit);
    s.shape(
        &places(&[
            hips.0 - 24.0,
            hips.1 + 8.0,
            hips.0 + 9.0,
            hips.1 + 8.0,
            hips.0 + 18.0,
            hips.1 - 26.0,
            hips.0 + 6.0,
            hips.1 - 28.0,
            hips.0 - 2.0,
            hips.1 - 5.0,
            hips.0 - 24.0,
            hips.1 - 3.0,
        ]),
        Fill::Tint,
    );
    s.circle((hips.0 + 11.0, hips.1 - 38.0), 8.0, Fill::Tint);
    s.pin(hips);
    s.plumb(front, floor);
    s.across((front.0, floor), (hips.0, hips.1), 160.0, "a");
    s.upright((hips.0, hips.1), (316.0, floor), 304.0, "h");
    Scene {
        high: 186.0,
        marks: &[
            ("a", "from the front hub back to where the weight sits"),
            ("h", "from the floor up to it"),
        ],
    }
}

pub(super) fn tank(s: &mut Sketch) -> Scene {
    // The can with its marks, tilted to pour.
    s.solid(&[
        24.0, 64.0, 30.0, 52.0, 62.0, 52.0, 74.0, 40.0, 84.0, 44.0, 84.0, 64.0, 90.0, 72.0, 90.0, 158.0,
        24.0, 158.0,
    ]);
    s.thin(&[36.0, 52.0, 36.0, 42.0, 56.0, 42.0, 56.0, 52.0]);
    for mark in 0..4_u8 {
        let y = 92.0 + 18.0 * f64::from(mark);
        s.thin(&[24.0, y, 36.0, y]);
    }
    s.tinted(&[25.0, 110.0, 89.0, 110.0, 89.0, 157.0, 25.0, 157.0]);
    s.words("5 L", (58.0, 138.0), From::Middle);
    s.push((100.0, 60.0), (150.0, 60.0));
    // The tank and its neck.
    s.solid(&[
        178.0, 158.0, 178.0, 100.0, 188.0, 92.0, 202.0, 92.0, 176.0, 62.0, 166.0, 62.0, 166.0, 52.0, 182.0,
        52.0, 216.0, 92.0, 306.0, 92.0, 316.0, 102.0, 316.0, 158.0,
    ]);
    s.tinted(&[179.0, 122.0, 315.0, 122.0, 315.0, 157.0, 179.0, 157.0]);
    s.words("marked can", (57.0, 182.0), From::Middle);
    s.words("tank", (247.0, 182.0), From::Middle);
    Scene {
        high: 190.0,
        marks: &[(
            "marked can",
            "fill from empty and count; drain back to know what is aboard",
        )],
    }
}

pub(super) fn tyre(s: &mut Sketch) -> Scene {
    let (hub, floor, radius) = ((58.0, 96.0), 132.0, 36.0);
    let turn = core::f64::consts::TAU * radius;
    s.floor(10.0, 330.0, floor);
    s.dotted(&arc((hub.0 + turn, hub.1), radius, 0.0, 360.0));
    s.wheel(hub, radius);
    for x in [hub.0, hub.0 + turn] {
        s.tinted(&[x - 4.0, floor - 1.0, x + 4.0, floor - 1.0, x, floor - 11.0]);
    }
    s.pin((hub.0 + turn, hub.1));
    s.push((120.0, 96.0), (206.0, 96.0));
    s.words("one turn", (163.0, 86.0), From::Middle);
    s.across((hub.0, floor), (hub.0 + turn, floor), 156.0, "a");
    s.note("195/65 R15", (104.0, 34.0), From::Left, (82.0, 78.0));
    s.note("chalk", (190.0, 124.0), From::Right, (66.0, 128.0));
    Scene {
        high: 182.0,
        marks: &[
            ("a", "from chalk mark to chalk mark, driver aboard"),
            (
                "195/65 R15",
                "the label on the tyre, where there is no room to roll",
            ),
        ],
    }
}

pub(super) fn stop(s: &mut Sketch) -> Scene {
    let (front, floor) = ((60.0, 94.0), 109.0);
    s.floor(10.0, 330.0, floor);
    s.car(front, 48.0, 0.0);
    s.push((282.0, 82.0), (226.0, 82.0));
    s.tinted(&[304.0, floor, 320.0, floor, 314.5, 84.0, 309.5, 84.0]);
    s.across((front.0, floor), (312.0, floor), 132.0, "a");
    s.note("mark", (330.0, 40.0), From::Right, (312.0, 82.0));
    Scene {
        high: 158.0,
        marks: &[(
            "a",
            "from where braking began to where the same point of the car stopped",
        )],
    }
}

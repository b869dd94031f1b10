//! The handbrake: how it works, its lever, its room, what holds it.

use super::Scene;
use super::sketch::{At, Fill, From, Sketch, apart, beside, polar};
use crate::ink::Line;

pub(super) fn kinds(s: &mut Sketch) -> Scene {
    for (row, name) in (0_u8..).zip(["inline", "separate", "cable"]) {
        let y = 46.0 + 84.0 * f64::from(row);
        s.words(name, (10.0, y - 26.0), From::Left);
        // Rear brakes with their wheels, seen from above.
        for side in [-22.0, 22.0] {
            s.tread((306.0, y + side), false);
        }
        s.lever((126.0, y + 6.0), (96.0, y - 32.0));
        match name {
            "inline" => {
                s.coded(Line::Rear, &[54.0, y + 6.0, 136.0, y + 6.0]);
                s.coded(
                    Line::Rear,
                    &[184.0, y + 6.0, 238.0, y + 6.0, 238.0, y - 22.0, 288.0, y - 22.0],
                );
                s.coded(Line::Rear, &[238.0, y + 6.0, 238.0, y + 22.0, 288.0, y + 22.0]);
                s.block(10.0, y - 4.0, 54.0, y + 16.0, Fill::Paper);
                s.block(136.0, y - 4.0, 184.0, y + 16.0, Fill::Paper);
            }
            "separate" => {
                s.coded(Line::Rear, &[54.0, y + 26.0, 262.0, y + 26.0]);
                s.coded(Line::Rear, &[262.0, y - 18.0, 262.0, y + 26.0]);
                s.coded(Line::Rear, &[262.0, y - 18.0, 288.0, y - 18.0]);
                s.coded(Line::Rear, &[262.0, y + 26.0, 288.0, y + 26.0]);
                s.coded(
                    Line::Hand,
                    &[184.0, y + 6.0, 230.0, y + 6.0, 230.0, y - 27.0, 288.0, y - 27.0],
                );
                s.coded(Line::Hand, &[230.0, y + 6.0, 230.0, y + 17.0, 288.0, y + 17.0]);
                s.block(10.0, y + 16.0, 54.0, y + 36.0, Fill::Paper);
                s.block(136.0, y - 4.0, 184.0, y + 16.0, Fill::Paper);
            }
            _ => {
                s.coded(Line::Rear, &[54.0, y + 26.0, 262.0, y + 26.0]);
                s.coded(Line::Rear, &[262.0, y - 18.0, 262.0, y + 26.0]);
                s.coded(Line::Rear, &[262.0, y - 18.0, 288.0, y - 18.0]);
                s.coded(Line::Rear, &[262.0, y + 26.0, 288.0, y + 26.0]);
                s.thin(&[132.0, y + 6.0, 214.0, y + 6.0]);
                s.bar((214.0, y - 8.0), (214.0, y + 16.0), 5.0, Fill::Tint);
                s.thin(&[217.0, y - 6.0, 288.0, y - 27.0]);
                s.thin(&[217.0, y + 13.0, 288.0, y + 17.0]);
                s.block(10.0, y + 16.0, 54.0, y + 36.0, Fill::Paper);
            }
        }
    }
    s.words("rear", (306.0, 264.0), From::Middle);
    s.words("foot", (32.0, 264.0), From::Middle);
    Scene {
        high: 272.0,
        marks: &[
            ("inline", "its cylinder sits in the foot's rear pipe"),
            ("separate", "it has a pipe and rear calipers of its own"),
            ("cable", "no pipe at all"),
        ],
    }
}

pub(super) fn ratio(s: &mut Sketch) -> Scene {
    let (pivot, pin, grip) = ((150.0, 200.0), (150.0, 160.0), (150.0, 20.0));
    s.floor(40.0, 320.0, 226.0);
    s.block(120.0, 214.0, 300.0, 226.0, Fill::Tint);
    s.block(128.0, 190.0, 172.0, 214.0, Fill::Paper);
    s.block(228.0, 146.0, 300.0, 174.0, Fill::Paper);
    s.block(238.0, 174.0, 290.0, 214.0, Fill::Paper);
    s.bar((pin.0, pin.1), (228.0, 160.0), 6.0, Fill::Paper);
    s.lever(pivot, grip);
    s.circle(pin, 4.0, Fill::Paper);
    s.upright((pivot.0 - 10.0, 37.0), (pivot.0 - 8.0, pivot.1), 66.0, "a");
    s.upright((pin.0 + 8.0, pin.1), (pivot.0 + 8.0, pivot.1), 204.0, "b");
    s.push((172.0, 37.0), (220.0, 37.0));
    s.words("pull", (228.0, 42.0), From::Left);
    s.note("push rod", (176.0, 124.0), From::Left, (190.0, 158.0));
    Scene {
        high: 240.0,
        marks: &[
            ("a", "pivot to the middle of the grip"),
            ("b", "pivot to the push rod, straight across the rod"),
        ],
    }
}

pub(super) fn free_play(s: &mut Sketch) -> Scene {
    let pivot = (66.0, 184.0);
    // The grip at rest, and where the rod begins to move.
    let (rest, moved) = (polar(pivot, 140.0, 96.0), polar(pivot, 140.0, 84.0));
    s.dotted(&[beside(pivot, moved, 100.0, 0.0), moved]);
    s.lever(pivot, rest);
    s.across((rest.0, rest.1 - 4.0), (moved.0, moved.1 - 4.0), 30.0, "a");
    // The cylinder cut open: its seal before the by-pass.
    let (left, right, middle) = (146.0, 322.0, 112.0);
    s.block(left, middle - 28.0, right, middle + 28.0, Fill::Tint);
    s.block(left, middle - 18.0, right - 12.0, middle + 18.0, Fill::Paper);
    s.block(204.0, middle - 42.0, 214.0, middle - 18.0, Fill::Paper);
    s.block(236.0, middle - 29.5, 242.0, middle - 18.0, Fill::Paper);
    s.block(160.0, middle - 17.0, 222.0, middle + 17.0, Fill::Paper);
    s.block(214.0, middle - 17.0, 222.0, middle + 17.0, Fill::Ink);
    s.bar((78.0, middle), (160.0, middle), 7.0, Fill::Paper);
    s.across((222.0, middle + 18.0), (243.0, middle + 18.0), 158.0, "b");
    s.note("by-pass", (262.0, 54.0), From::Left, (239.0, 84.0));
    s.note("seal", (178.0, 196.0), From::Right, (217.0, 126.0));
    Scene {
        high: 208.0,
        marks: &[
            ("a", "free play: at the grip, before the push rod moves"),
            (
                "b",
                "free stroke: at the push rod, until the seal covers the by-pass",
            ),
        ],
    }
}

pub(super) fn pull(s: &mut Sketch) -> Scene {
    let (pivot, grip) = ((104.0, 186.0), (84.0, 44.0));
    s.floor(20.0, 320.0, 204.0);
    s.block(78.0, 190.0, 150.0, 204.0, Fill::Tint);
    s.lever(pivot, grip);
    // The scale pulls straight across the lever.
    let middle = beside(grip, pivot, 17.0, 0.0);
    let at = |along: f64| beside(middle, beside(grip, pivot, 17.0, -100.0), along, 0.0);
    s.luggage_scale(at(4.0), at(92.0));
    s.push(at(104.0), at(162.0));
    // A square corner.
    s.through(&[
        beside(middle, pivot, 14.0, 0.0),
        beside(middle, pivot, 14.0, -14.0),
        beside(middle, pivot, 0.0, -14.0),
    ]);
    s.note("straight across", (150.0, 126.0), From::Left, (104.0, 74.0));
    s.words("pull", (258.0, 42.0), From::Left);
    Scene {
        high: 216.0,
        marks: &[(
            "pull",
            "the best of three, the driver belted in, each held for a second",
        )],
    }
}

pub(super) fn slow_pull(s: &mut Sketch) -> Scene {
    let (pivot, grip) = ((70.0, 186.0), (52.0, 52.0));
    s.floor(10.0, 330.0, 204.0);
    s.block(50.0, 190.0, 168.0, 204.0, Fill::Tint);
    s.block(112.0, 134.0, 164.0, 158.0, Fill::Paper);
    s.bar((66.0, 146.0), (112.0, 146.0), 5.0, Fill::Paper);
    s.coded(
        Line::Rear,
        &[164.0, 146.0, 196.0, 146.0, 196.0, 112.0, 228.0, 112.0],
    );
    s.lever(pivot, grip);
    s.luggage_scale((64.0, 69.0), (140.0, 66.0));
    s.ruler((34.0, 26.0), (150.0, 26.0), 15.0);
    s.words("ruler", (158.0, 31.0), From::Left);
    s.note("scale", (158.0, 96.0), From::Left, (126.0, 78.0));
    s.disc((268.0, 150.0), 44.0, 130.0);
    let end = s.nipple((247.0, 109.0), 70.0);
    s.thin(&[end.0, end.1, end.0 + 2.0, 84.0, 276.0, 70.0]);
    s.gauge((290.0, 58.0), 120.0);
    s.words("gauge", (290.0, 30.0), From::Middle);
    Scene {
        high: 216.0,
        marks: &[
            ("ruler", "the grip's travel from rest, at each stop"),
            (
                "gauge",
                "at a rear bleed nipple; in front at a front one, with the pedal",
            ),
            ("scale", "the hand's force, where it is wanted"),
        ],
    }
}

pub(super) fn cable(s: &mut Sketch) -> Scene {
    let (pivot, grip) = ((74.0, 150.0), (60.0, 26.0));
    s.floor(10.0, 330.0, 172.0);
    s.block(52.0, 156.0, 110.0, 172.0, Fill::Tint);
    s.thin(&[70.0, 122.0, 196.0, 122.0]);
    s.lever(pivot, grip);
    s.circle((71.0, 122.0), 3.5, Fill::Paper);
    s.luggage_scale((68.0, 42.0), (142.0, 36.0));
    s.push((152.0, 35.0), (192.0, 31.0));
    s.letter("a", (204.0, 36.0), From::Left);
    // Both cables end on the second scale.
    s.luggage_scale((196.0, 122.0), (290.0, 122.0));
    s.wall(298.0, 96.0, 150.0);
    s.letter("b", (242.0, 152.0), From::Middle);
    s.note("cable", (150.0, 96.0), From::Middle, (150.0, 122.0));
    Scene {
        high: 186.0,
        marks: &[
            ("a", "force at the grip"),
            ("b", "force at the cable's end, both sides together"),
        ],
    }
}

pub(super) fn room(s: &mut Sketch) -> Scene {
    let (pivot, floor) = ((84.0, 184.0), 204.0);
    s.floor(10.0, 330.0, floor);
    // The seat, the driver's arm.
    s.solid(&[
        186.0, 196.0, 178.0, 166.0, 262.0, 158.0, 286.0, 40.0, 306.0, 40.0, 296.0, 196.0,
    ]);
    let (rest, end) = (polar(pivot, 142.0, 110.0), polar(pivot, 142.0, 66.0));
    let neck = beside(pivot, end, apart(pivot, end) - 34.0, 0.0);
    s.dotted(&[pivot, neck]);
    let (a, b) = (beside(neck, end, 0.0, -6.0), beside(neck, end, 34.0, -6.0));
    let (c, d) = (beside(neck, end, 34.0, 6.0), beside(neck, end, 0.0, 6.0));
    s.dotted(&[a, b, c, d, a]);
    s.block(58.0, 188.0, 112.0, floor, Fill::Tint);
    s.lever(pivot, rest);
    let (from, to) = (polar(pivot, 125.0, 110.0), polar(pivot, 125.0, 66.0));
    s.dimension(from, to, "a", At::Below);
    s.words("rest", (18.0, 40.0), From::Left);
    s.words("stopped", (152.0, 40.0), From::Left);
    s.words("seat", (238.0, 184.0), From::Middle);
    Scene {
        high: 216.0,
        marks: &[(
            "a",
            "from rest to where arm, seat or trim stops the grip, the driver belted in",
        )],
    }
}

pub(super) fn mount(s: &mut Sketch) -> Scene {
    // From above: the bolts.
    s.block(30.0, 46.0, 142.0, 112.0, Fill::Paper);
    for (x, y) in [(46.0, 60.0), (126.0, 60.0), (46.0, 98.0), (126.0, 98.0)] {
        s.circle((x, y), 6.0, Fill::Tint);
        s.pin((x, y));
    }
    s.across((46.0, 60.0), (126.0, 60.0), 30.0, "a");
    s.upright((126.0, 60.0), (126.0, 98.0), 158.0, "b");
    s.words("from above", (86.0, 146.0), From::Middle);
    // From the side: heights, sheet and spreader.
    let floor = 214.0;
    let (pivot, grip) = ((252.0, 176.0), (238.0, 36.0));
    s.block(196.0, floor, 316.0, floor + 6.0, Fill::Paper);
    s.block(214.0, floor + 6.0, 290.0, floor + 14.0, Fill::Tint);
    s.block(216.0, floor - 14.0, 288.0, floor, Fill::Paper);
    s.solid(&[242.0, 200.0, 247.0, 170.0, 257.0, 170.0, 262.0, 200.0]);
    for x in [224.0, 280.0] {
        s.bar((x, floor - 20.0), (x, floor + 22.0), 5.0, Fill::Ink);
    }
    s.lever(pivot, grip);
    s.upright((pivot.0 + 6.0, pivot.1), (300.0, floor), 312.0, "c");
    s.upright((246.0, 52.0), (pivot.0 + 6.0, pivot.1), 312.0, "d");
    s.note("sheet", (132.0, 210.0), From::Left, (200.0, 217.0));
    s.note("spreader", (104.0, 240.0), From::Left, (218.0, 225.0));
    Scene {
        high: 252.0,
        marks: &[
            ("a, b", "bolt spacing along and across the car"),
            ("c", "pivot above the floor sheet"),
            ("d", "middle of the grip above the pivot, at rest"),
            (
                "sheet, spreader",
                "thickness of each, by vernier at an edge or a hole",
            ),
        ],
    }
}

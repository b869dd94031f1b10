//! The bias valve.

use super::Scene;
use super::sketch::{Fill, From, Place, Sketch, places};
use crate::ink::Line;

/// A valve's body in its line.
fn body(s: &mut Sketch, (x, y): Place) {
    s.block(x - 30.0, y - 15.0, x + 30.0, y + 15.0, Fill::Paper);
    for side in [-1.0, 1.0] {
        s.block(x + side * 30.0, y - 7.0, x + side * 40.0, y + 7.0, Fill::Paper);
    }
}

/// Its knob above it.
fn turned(s: &mut Sketch, (x, y): Place) {
    s.block(x - 5.0, y - 28.0, x + 5.0, y - 15.0, Fill::Paper);
    s.block(x - 18.0, y - 44.0, x + 18.0, y - 28.0, Fill::Tint);
    for rib in [-10.0, -3.0, 4.0, 11.0] {
        s.thin(&[x + rib, y - 42.0, x + rib, y - 30.0]);
    }
}

pub(super) fn knob(s: &mut Sketch) -> Scene {
    body(s, (84.0, 112.0));
    turned(s, (84.0, 112.0));
    s.turn((84.0, 52.0), 24.0, 160.0, 20.0);
    s.words("in", (118.0, 44.0), From::Left);
    s.words("out", (50.0, 44.0), From::Right);
    s.words("knob", (84.0, 150.0), From::Middle);
    // The stepped lever over its plate.
    body(s, (254.0, 112.0));
    let centre = (254.0, 104.0);
    for notch in 0..7_u8 {
        let angle = 160.0 - 140.0 * f64::from(notch) / 6.0;
        let (from, to) = (
            super::sketch::polar(centre, 50.0, angle),
            super::sketch::polar(centre, 58.0, angle),
        );
        s.through(&[from, to]);
    }
    let end = super::sketch::polar(centre, 46.0, 160.0 - 140.0 * 2.0 / 6.0);
    s.bar(centre, end, 8.0, Fill::Tint);
    s.circle(centre, 6.0, Fill::Paper);
    s.words("1", (188.0, 84.0), From::Middle);
    s.words("7", (320.0, 84.0), From::Middle);
    s.words("stepped lever", (254.0, 150.0), From::Middle);
    Scene {
        high: 160.0,
        marks: &[
            ("knob", "count its turns in, from fully out"),
            (
                "stepped lever",
                "count its notches; 1 is the end with the least rear pressure",
            ),
        ],
    }
}

/// A gauge that stands over the line on a tee.
fn over(s: &mut Sketch, (x, y): Place, needle: f64) {
    s.thin(&[x, y, x, y - 30.0]);
    s.block(x - 6.0, y - 6.0, x + 6.0, y + 6.0, Fill::Paper);
    s.gauge((x, y - 48.0), needle);
}

pub(super) fn two_gauges(s: &mut Sketch) -> Scene {
    let y = 112.0;
    s.block(8.0, y - 12.0, 52.0, y + 12.0, Fill::Paper);
    s.coded(Line::Rear, &[52.0, y, 130.0, y]);
    s.coded(Line::Rear, &[210.0, y, 286.0, y]);
    body(s, (170.0, y));
    turned(s, (170.0, y));
    over(s, (90.0, y), 60.0);
    over(s, (250.0, y), 130.0);
    s.block(286.0, y - 14.0, 330.0, y + 14.0, Fill::Tint);
    s.words("before", (90.0, 36.0), From::Middle);
    s.words("behind", (250.0, 36.0), From::Middle);
    s.words("master", (8.0, 144.0), From::Left);
    s.words("valve", (170.0, 150.0), From::Middle);
    s.words("rear brake", (332.0, 148.0), From::Right);
    Scene {
        high: 160.0,
        marks: &[
            ("before", "the pressure that goes in"),
            (
                "behind",
                "the pressure that is left; where it starts to lag is the knee",
            ),
        ],
    }
}

pub(super) fn load(s: &mut Sketch) -> Scene {
    let y = 92.0;
    s.coded(Line::Rear, &[16.0, y, 86.0, y]);
    s.coded(Line::Rear, &[166.0, y, 206.0, y]);
    body(s, (126.0, y));
    over(s, (48.0, y), 60.0);
    over(s, (186.0, y), 130.0);
    s.words("before", (48.0, 16.0), From::Middle);
    s.words("behind", (186.0, 16.0), From::Middle);
    // Its rod to the axle, the wheel on its scale.
    s.thin(&[126.0, y + 15.0, 126.0, 126.0, 268.0, 148.0]);
    s.circle((126.0, 126.0), 3.0, Fill::Paper);
    s.floor(190.0, 330.0, 196.0);
    s.wheel((268.0, 148.0), 38.0);
    s.platform((268.0, 187.0));
    s.note("rod to the axle", (28.0, 172.0), From::Left, (166.0, 132.0));
    s.words("scale", (268.0, 222.0), From::Middle);
    let spring = places(&[236.0, 96.0, 300.0, 96.0]);
    s.through(&spring);
    s.push((268.0, 72.0), (268.0, 96.0));
    s.words("load", (276.0, 64.0), From::Left);
    Scene {
        high: 230.0,
        marks: &[
            ("scale", "under each rear wheel; their sum is the axle's load"),
            ("load", "once light, once laden, each with its knee"),
        ],
    }
}

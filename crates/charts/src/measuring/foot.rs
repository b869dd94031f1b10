//! From the foot to the master cylinder.

use super::Scene;
use super::sketch::{Fill, From, Place, Sketch, arc, beside, places};
use crate::ink::Line;

/// A hanging pedal by its pivot, the pin of its push rod and its pad, and the wall behind it.
fn hanging(s: &mut Sketch, pivot: Place, pin: Place, pad: Place) {
    let elbow = (pin.0 + 3.0, f64::midpoint(pin.1, pad.1) - 8.0);
    s.shape(
        &[
            (pivot.0 - 6.0, pivot.1),
            (pivot.0 + 6.0, pivot.1),
            (pin.0 + 7.0, pin.1),
            (elbow.0 + 5.0, elbow.1),
            (pad.0 + 6.0, pad.1 + 2.0),
            (pad.0 - 2.0, pad.1 - 2.0),
            (elbow.0 - 5.0, elbow.1),
            (pin.0 - 6.0, pin.1),
        ],
        Fill::Paper,
    );
    s.bar(
        beside(pad, (pad.0 - 8.0, pad.1 + 26.0), -16.0, 0.0),
        beside(pad, (pad.0 - 8.0, pad.1 + 26.0), 16.0, 0.0),
        7.0,
        Fill::Tint,
    );
    s.circle(pivot, 7.0, Fill::Paper);
    s.pin(pivot);
}

pub(super) fn pedal(s: &mut Sketch) -> Scene {
    let (pivot, pin, pad) = ((168.0, 30.0), (164.0, 72.0), (132.0, 206.0));
    s.wall(250.0, 16.0, 226.0);
    s.bar((pin.0, pin.1), (250.0, 72.0), 5.0, Fill::Paper);
    s.block(256.0, 58.0, 326.0, 86.0, Fill::Paper);
    s.thin(&[250.0, 72.0, 256.0, 72.0]);
    s.block(140.0, 10.0, 196.0, 18.0, Fill::Tint);
    hanging(s, pivot, pin, pad);
    s.circle(pin, 4.0, Fill::Paper);
    s.upright((pivot.0 - 8.0, pivot.1), (pad.0 - 6.0, pad.1), 60.0, "a");
    s.upright((pivot.0 + 8.0, pivot.1), (pin.0 + 8.0, pin.1), 216.0, "b");
    s.words("push rod", (180.0, 98.0), From::Left);
    s.words("pad", (150.0, 226.0), From::Left);
    s.words("pivot", (132.0, 23.0), From::Right);
    Scene {
        high: 236.0,
        marks: &[
            (
                "a",
                "pivot to the middle of the pad, straight across the foot's push",
            ),
            ("b", "pivot to the push rod, straight across the rod"),
        ],
    }
}

pub(super) fn against_gauge(s: &mut Sketch) -> Scene {
    let (pivot, pin, pad) = ((100.0, 26.0), (97.0, 56.0), (76.0, 140.0));
    s.wall(146.0, 12.0, 176.0);
    s.bar(pin, (146.0, 56.0), 5.0, Fill::Paper);
    s.block(152.0, 44.0, 200.0, 68.0, Fill::Paper);
    s.coded(Line::Front, &[200.0, 56.0, 236.0, 56.0, 236.0, 76.0, 262.0, 76.0]);
    hanging(s, pivot, pin, pad);
    s.circle(pin, 3.5, Fill::Paper);
    let below = beside(pad, (pad.0 - 8.0, pad.1 + 26.0), 22.0, 9.0);
    let above = beside(pad, (pad.0 - 8.0, pad.1 + 26.0), -22.0, 9.0);
    s.bar(above, below, 9.0, Fill::Paper);
    s.push((14.0, 134.0), (57.0, 140.0));
    s.words("scale", (40.0, 184.0), From::Middle);
    s.disc((282.0, 122.0), 40.0, 125.0);
    let end = s.nipple((259.0, 83.0), 60.0);
    s.thin(&[end.0, end.1, end.0 + 2.0, 56.0, 280.0, 44.0]);
    s.gauge((294.0, 32.0), 120.0);
    s.words("front nipple", (250.0, 184.0), From::Middle);
    Scene {
        high: 194.0,
        marks: &[
            ("scale", "a bathroom scale between foot and pad"),
            ("front nipple", "a gauge in the place of the bleed screw"),
        ],
    }
}

pub(super) fn master(s: &mut Sketch) -> Scene {
    // Tandem: one body, two outlets.
    s.block(24.0, 44.0, 134.0, 70.0, Fill::Paper);
    s.block(52.0, 22.0, 112.0, 40.0, Fill::Tint);
    s.thin(&[62.0, 40.0, 62.0, 44.0]);
    s.thin(&[102.0, 40.0, 102.0, 44.0]);
    s.thin(&[134.0, 57.0, 156.0, 57.0]);
    s.coded(Line::Front, &[56.0, 70.0, 56.0, 86.0]);
    s.coded(Line::Rear, &[104.0, 70.0, 104.0, 86.0]);
    s.words("tandem", (84.0, 108.0), From::Middle);
    // Twin: two bodies, one bar.
    for y in [26.0, 62.0] {
        s.block(196.0, y - 10.0, 262.0, y + 10.0, Fill::Paper);
        s.thin(&[262.0, y, 292.0, y]);
    }
    s.coded(Line::Front, &[196.0, 26.0, 178.0, 26.0]);
    s.coded(Line::Rear, &[196.0, 62.0, 178.0, 62.0]);
    s.bar((292.0, 20.0), (292.0, 68.0), 7.0, Fill::Tint);
    s.push((326.0, 44.0), (298.0, 44.0));
    s.words("twin", (250.0, 108.0), From::Middle);
    // Both splits from above.
    for (left, diagonal) in [(30.0, false), (206.0, true)] {
        let (x1, x2, y1, y2) = (left, left + 104.0, 146.0, 214.0);
        s.block(left + 44.0, 170.0, left + 60.0, 190.0, Fill::Paper);
        let (mid_left, mid_right) = (left + 44.0, left + 60.0);
        if diagonal {
            s.coded(Line::Front, &[mid_left, 175.0, x1 + 17.0, y1]);
            s.coded(Line::Front, &[mid_right, 185.0, x2 - 17.0, y2]);
            s.coded(Line::Rear, &[mid_right, 175.0, x2 - 17.0, y1]);
            s.coded(Line::Rear, &[mid_left, 185.0, x1 + 17.0, y2]);
        } else {
            s.coded(Line::Front, &[mid_left, 176.0, x1 + 17.0, y1]);
            s.coded(Line::Front, &[mid_left, 184.0, x1 + 17.0, y2]);
            s.coded(Line::Rear, &[mid_right, 176.0, x2 - 17.0, y1]);
            s.coded(Line::Rear, &[mid_right, 184.0, x2 - 17.0, y2]);
        }
        for (x, y) in [(x1, y1), (x1, y2), (x2, y1), (x2, y2)] {
            s.tread((x, y), false);
        }
    }
    s.words("axle split", (82.0, 244.0), From::Middle);
    s.words("diagonal split", (258.0, 244.0), From::Middle);
    Scene {
        high: 252.0,
        marks: &[
            ("tandem", "one body with two outlets"),
            ("twin", "two bodies and a balance bar"),
            (
                "split",
                "which wheels each outlet feeds; the front of the car is left",
            ),
        ],
    }
}

pub(super) fn bore(s: &mut Sketch) -> Scene {
    // A body with its size cast in.
    s.solid(&[
        20.0, 60.0, 34.0, 60.0, 34.0, 46.0, 46.0, 46.0, 46.0, 56.0, 140.0, 56.0, 146.0, 64.0, 146.0, 106.0,
        140.0, 114.0, 46.0, 114.0, 46.0, 124.0, 34.0, 124.0, 34.0, 110.0, 20.0, 110.0,
    ]);
    s.block(72.0, 42.0, 92.0, 56.0, Fill::Paper);
    s.block(112.0, 42.0, 132.0, 56.0, Fill::Paper);
    s.words("22.2", (98.0, 91.0), From::Middle);
    s.words("cast size", (86.0, 156.0), From::Middle);
    // A piston across a vernier.
    s.block(184.0, 62.0, 276.0, 106.0, Fill::Paper);
    s.block(194.0, 62.0, 202.0, 106.0, Fill::Ink);
    s.block(222.0, 62.0, 230.0, 106.0, Fill::Ink);
    s.vernier((254.0, 62.0), (254.0, 106.0), -44.0, 26.0);
    s.words("piston", (226.0, 156.0), From::Middle);
    Scene {
        high: 164.0,
        marks: &[
            ("cast size", "in mm or in fractions of an inch, on the body"),
            ("piston", "across its metal land, not across a rubber seal"),
        ],
    }
}

pub(super) fn stroke(s: &mut Sketch) -> Scene {
    let middle = 74.0;
    // The cylinder cut open, its ports open.
    s.block(150.0, middle - 26.0, 312.0, middle + 26.0, Fill::Tint);
    s.block(150.0, middle - 18.0, 300.0, middle + 18.0, Fill::Paper);
    for port in [206.0, 270.0] {
        s.block(port - 5.0, middle - 40.0, port + 5.0, middle - 18.0, Fill::Paper);
    }
    s.block(178.0, middle - 17.0, 214.0, middle + 17.0, Fill::Tint);
    s.bar((70.0, middle), (178.0, middle), 7.0, Fill::Paper);
    s.circle((66.0, middle), 6.0, Fill::Paper);
    // Where both ends of it come to rest.
    s.dotted(&places(&[
        238.0,
        middle - 17.0,
        238.0,
        middle + 17.0,
        274.0,
        middle + 17.0,
        274.0,
        middle - 17.0,
        238.0,
        middle - 17.0,
    ]));
    s.dotted(&arc((126.0, middle), 6.0, 0.0, 360.0));
    s.push((16.0, middle), (58.0, middle));
    s.words("ports open", (238.0, 24.0), From::Middle);
    s.ruler((34.0, 104.0), (146.0, 104.0), 15.0);
    s.across((66.0, middle + 6.0), (126.0, middle + 6.0), 130.0, "a");
    Scene {
        high: 156.0,
        marks: &[("a", "how far the push rod goes, from rest to the stop")],
    }
}

pub(super) fn bar(s: &mut Sketch) -> Scene {
    // From above: the bar lies across, the pedal pushes on its bearing.
    let (front, rear) = (52.0, 128.0);
    for y in [front, rear] {
        s.block(150.0, y - 14.0, 236.0, y + 14.0, Fill::Paper);
        s.bar((106.0, y), (150.0, y), 5.0, Fill::Paper);
        s.circle((102.0, y), 5.0, Fill::Paper);
    }
    s.bar((102.0, 28.0), (102.0, 150.0), 8.0, Fill::Tint);
    s.circle((102.0, 82.0), 11.0, Fill::Paper);
    s.push((30.0, 82.0), (88.0, 82.0));
    s.words("pedal", (58.0, 72.0), From::Middle);
    s.coded(Line::Front, &[236.0, front, 276.0, front]);
    s.coded(Line::Rear, &[236.0, rear, 276.0, rear]);
    s.gauge((294.0, front), 130.0);
    s.gauge((294.0, rear), 165.0);
    s.words("front", (294.0, 26.0), From::Middle);
    s.words("rear", (294.0, 166.0), From::Middle);
    s.turn((102.0, 160.0), 14.0, 200.0, 340.0);
    s.words("one turn of the bar", (126.0, 180.0), From::Left);
    Scene {
        high: 190.0,
        marks: &[("front, rear", "a gauge in each circuit, one press, both read")],
    }
}

//! Discs, calipers, drums.

use super::Scene;
use super::sketch::{Fill, From, Place, Sketch, arc, places, polar, sector};

pub(super) fn kinds(s: &mut Sketch) -> Scene {
    // Cut from above: the disc's edge between the pads.
    for (x, both) in [(64.0, true), (178.0, false)] {
        s.block(x - 6.0, 14.0, x + 6.0, 138.0, Fill::Paper);
        let left_wide = 40.0;
        let right_wide = if both { 40.0 } else { 26.0 };
        s.shape(
            &places(&[
                x - left_wide,
                44.0,
                x - left_wide,
                112.0,
                x - 16.0,
                112.0,
                x - 16.0,
                126.0,
                x + 16.0,
                126.0,
                x + 16.0,
                112.0,
                x + right_wide,
                112.0,
                x + right_wide,
                44.0,
                x + 16.0,
                44.0,
                x + 16.0,
                104.0,
                x - 16.0,
                104.0,
                x - 16.0,
                44.0,
            ]),
            Fill::Tint,
        );
        for side in [-1.0, 1.0] {
            s.block(x + side * 6.0, 52.0, x + side * 12.0, 98.0, Fill::Ink);
            s.block(x + side * 12.0, 52.0, x + side * 16.0, 98.0, Fill::Paper);
        }
        s.block(x - 36.0, 62.0, x - 16.0, 90.0, Fill::Paper);
        if both {
            s.block(x + 16.0, 62.0, x + 36.0, 90.0, Fill::Paper);
        }
    }
    s.block(172.0, 104.0, 184.0, 126.0, Fill::Paper);
    s.block(58.0, 104.0, 70.0, 126.0, Fill::Paper);
    // A drum from its side.
    s.solid(&[
        258.0, 30.0, 318.0, 30.0, 318.0, 124.0, 258.0, 124.0, 258.0, 112.0, 250.0, 112.0, 250.0, 42.0, 258.0,
        42.0,
    ]);
    for rib in [270.0, 282.0, 294.0, 306.0] {
        s.thin(&[rib, 32.0, rib, 122.0]);
    }
    s.words("opposed", (64.0, 162.0), From::Middle);
    s.words("sliding", (174.0, 162.0), From::Middle);
    s.words("drum", (286.0, 162.0), From::Middle);
    Scene {
        high: 172.0,
        marks: &[
            ("opposed", "pistons on both sides of the disc"),
            ("sliding", "pistons on one side, and the body slides"),
            ("drum", "closed; a small one inside a disc is for parking"),
        ],
    }
}

pub(super) fn pad_track(s: &mut Sketch) -> Scene {
    let (centre, outer, inner) = ((150.0, 126.0), 100.0, 58.0);
    s.circle(centre, 112.0, Fill::Paper);
    s.circle(centre, outer, Fill::Tint);
    s.circle(centre, inner, Fill::Paper);
    s.circle(centre, 40.0, Fill::Paper);
    for bolt in 0..5_u8 {
        s.circle(
            polar(centre, 24.0, 54.0 + 72.0 * f64::from(bolt)),
            4.0,
            Fill::Paper,
        );
    }
    s.pin(centre);
    s.shape(&sector(centre, inner, outer, 118.0, 176.0), Fill::Ink);
    // From the hub's middle to either edge.
    s.ruler((150.0, 136.0), (296.0, 136.0), 15.0);
    s.across((centre.0, centre.1), (centre.0 + inner, centre.1), 258.0, "a");
    s.across((centre.0, centre.1), (centre.0 + outer, centre.1), 282.0, "b");
    s.note("pad", (10.0, 24.0), From::Left, (84.0, 84.0));
    s.note("worn track", (334.0, 24.0), From::Right, (214.0, 68.0));
    Scene {
        high: 308.0,
        marks: &[
            ("a", "middle of the hub to the inner edge of the pads' track"),
            ("b", "middle of the hub to its outer edge"),
        ],
    }
}

pub(super) fn disc(s: &mut Sketch) -> Scene {
    let centre = (98.0, 118.0);
    s.circle(centre, 80.0, Fill::Tint);
    s.circle(centre, 44.0, Fill::Paper);
    s.circle(centre, 12.0, Fill::Paper);
    s.across((18.0, 118.0), (178.0, 118.0), 216.0, "a");
    s.across((54.0, 118.0), (142.0, 118.0), 26.0, "b");
    // Cut through: both faces, the air between, the pads.
    let (x, top, bottom) = (256.0, 52.0, 184.0);
    s.block(x - 16.0, top, x - 8.0, bottom, Fill::Tint);
    s.block(x + 8.0, top, x + 16.0, bottom, Fill::Tint);
    for rib in 0..5_u8 {
        let y = top + 4.0 + 28.0 * f64::from(rib);
        s.block(x - 8.0, y, x + 8.0, y + 10.0, Fill::Paper);
    }
    for side in [-1.0, 1.0] {
        s.block(x + side * 16.0, 74.0, x + side * 34.0, 144.0, Fill::Paper);
        s.block(x + side * 34.0, 70.0, x + side * 40.0, 148.0, Fill::Ink);
    }
    s.across((x - 16.0, bottom), (x + 16.0, bottom), 208.0, "c");
    s.across((x + 16.0, 74.0), (x + 34.0, 74.0), 42.0, "d");
    s.words("cut", (x - 30.0, 40.0), From::Middle);
    Scene {
        high: 242.0,
        marks: &[
            ("a", "outer edge of the friction ring"),
            ("b", "its inner edge"),
            ("c", "thickness over both faces, inside the worn edge"),
            ("d", "friction material of one pad, without its back plate"),
        ],
    }
}

pub(super) fn wrench(s: &mut Sketch) -> Scene {
    let (hub, floor) = ((116.0, 100.0), 196.0);
    s.floor(10.0, 330.0, floor);
    s.bar((116.0, 120.0), (222.0, 150.0), 10.0, Fill::Paper);
    s.stand((206.0, 152.0), floor);
    s.disc(hub, 56.0, 60.0);
    s.torque_wrench(hub, (12.0, 78.0));
    s.turn(hub, 92.0, 150.0, 112.0);
    let end = s.nipple((136.0, 45.0), 60.0);
    s.thin(&[end.0, end.1, end.0 + 4.0, 26.0, 200.0, 30.0, 232.0, 40.0]);
    s.gauge((250.0, 44.0), 120.0);
    s.words("gauge", (276.0, 48.0), From::Left);
    s.words("stand", (240.0, 184.0), From::Left);
    s.note("torque wrench", (10.0, 172.0), From::Left, (30.0, 88.0));
    Scene {
        high: 210.0,
        marks: &[
            ("gauge", "at this wheel's nipple, the pressure held"),
            ("torque wrench", "on the hub; read it as the wheel slips"),
        ],
    }
}

/// A shoe and its lining on the right (1) or on the left (−1) of a drum.
fn shoe_of(s: &mut Sketch, centre: Place, radius: f64, side: f64) {
    let turned = |angle: f64| if side > 0.0 { angle } else { 180.0 - angle };
    s.shape(
        &sector(centre, radius * 0.74, radius * 0.88, turned(-74.0), turned(70.0)),
        Fill::Paper,
    );
    s.shape(
        &sector(centre, radius * 0.88, radius * 0.97, turned(-58.0), turned(54.0)),
        Fill::Tint,
    );
}

pub(super) fn drum(s: &mut Sketch) -> Scene {
    let (centre, radius) = ((120.0, 116.0), 96.0);
    s.circle(centre, 106.0, Fill::Paper);
    s.circle(centre, radius, Fill::Paper);
    for side in [-1.0, 1.0] {
        shoe_of(s, centre, radius, side);
    }
    // Wheel cylinder above, pivots below, hub in the middle.
    s.block(96.0, 34.0, 144.0, 54.0, Fill::Paper);
    s.thin(&[96.0, 44.0, 88.0, 48.0]);
    s.thin(&[144.0, 44.0, 152.0, 48.0]);
    s.block(98.0, 184.0, 142.0, 196.0, Fill::Paper);
    s.circle((106.0, 190.0), 3.5, Fill::Ink);
    s.circle((134.0, 190.0), 3.5, Fill::Ink);
    s.circle(centre, 30.0, Fill::Paper);
    s.pin(centre);
    s.across((24.0, 116.0), (216.0, 116.0), 244.0, "a");
    // The drum from its side, cut.
    s.solid(&[
        276.0, 12.0, 326.0, 12.0, 326.0, 220.0, 276.0, 220.0, 276.0, 210.0, 316.0, 210.0, 316.0, 22.0, 276.0,
        22.0,
    ]);
    s.block(278.0, 22.0, 308.0, 27.0, Fill::Ink);
    s.across((278.0, 27.0), (308.0, 27.0), 58.0, "b");
    s.note("cylinder", (200.0, 16.0), From::Left, (136.0, 40.0));
    s.words("cut", (296.0, 240.0), From::Middle);
    Scene {
        high: 270.0,
        marks: &[
            ("a", "inside of the drum; half of it is the radius"),
            ("b", "width of the worn face"),
            ("cylinder", "one for both shoes, or one for each shoe"),
        ],
    }
}

pub(super) fn shoe(s: &mut Sketch) -> Scene {
    let (centre, radius) = ((150.0, 124.0), 104.0);
    s.dotted(&arc(centre, radius, 0.0, 360.0));
    let pivot = polar(centre, 84.0, -90.0);
    // Angles run from the line through the pivot, here to the right.
    let at = |from_pivot: f64| -90.0 + from_pivot;
    s.shape(&sector(centre, 78.0, 92.0, at(4.0), at(164.0)), Fill::Paper);
    s.shape(&sector(centre, 92.0, 101.0, at(28.0), at(142.0)), Fill::Tint);
    s.circle(pivot, 5.0, Fill::Paper);
    s.pin(pivot);
    s.pin(centre);
    // Radii to both ends of the lining.
    s.hair(&[centre.0, centre.1, pivot.0, pivot.1]);
    for angle in [28.0, 142.0] {
        let end = polar(centre, 101.0, at(angle));
        s.hair(&[centre.0, centre.1, end.0, end.1]);
    }
    s.turn(centre, 34.0, at(0.0), at(24.0));
    s.turn(centre, 54.0, at(0.0), at(138.0));
    s.note("heel", (122.0, 176.0), From::Right, (158.0, 157.0));
    s.note("toe", (166.0, 134.0), From::Left, (203.0, 131.0));
    // The cylinder's line of force.
    s.push((150.0, 40.0), (196.0, 40.0));
    s.upright((130.0, centre.1), (138.0, pivot.1), 80.0, "a");
    s.upright((146.0, 40.0), (130.0, pivot.1), 36.0, "b");
    s.note("cylinder", (6.0, 18.0), From::Left, (158.0, 40.0));
    Scene {
        high: 240.0,
        marks: &[
            ("a", "drum centre to the pivot"),
            ("b", "pivot to the line of the cylinder's push"),
            (
                "heel, toe",
                "angles to the lining's two ends, from the line through the pivot",
            ),
        ],
    }
}

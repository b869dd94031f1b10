//! Pipes, hoses, threads, fluid, a pressure that is held; and what is read off a maker's papers.

use super::Scene;
use super::sketch::{At, Fill, From, Sketch, arc, places};
use crate::ink::Line;

pub(super) fn along(s: &mut Sketch) -> Scene {
    // The pipe along its path, the string beside it.
    s.block(10.0, 20.0, 66.0, 44.0, Fill::Paper);
    s.coded(
        Line::Rear,
        &[
            66.0, 32.0, 104.0, 32.0, 104.0, 96.0, 214.0, 96.0, 214.0, 52.0, 284.0, 52.0,
        ],
    );
    s.dotted(&places(&[
        66.0, 24.0, 112.0, 24.0, 112.0, 88.0, 206.0, 88.0, 206.0, 44.0, 284.0, 44.0,
    ]));
    s.block(284.0, 38.0, 314.0, 66.0, Fill::Paper);
    for (x, y) in [
        (104.0, 60.0),
        (140.0, 96.0),
        (180.0, 96.0),
        (214.0, 76.0),
        (250.0, 52.0),
    ] {
        s.circle((x, y), 5.0, Fill::Tint);
    }
    s.words("port", (38.0, 64.0), From::Middle);
    s.words("port", (299.0, 86.0), From::Middle);
    s.note("string", (130.0, 20.0), From::Left, (112.0, 44.0));
    s.note("clip", (60.0, 116.0), From::Left, (136.0, 99.0));
    // The same string, straight, and the tape along it.
    s.dotted(&[(20.0, 142.0), (320.0, 142.0)]);
    s.ruler((20.0, 160.0), (320.0, 160.0), 15.0);
    s.across((20.0, 140.0), (320.0, 140.0), 186.0, "a");
    Scene {
        high: 210.0,
        marks: &[("a", "the string pulled straight, from port to port")],
    }
}

pub(super) fn pipe(s: &mut Sketch) -> Scene {
    // A pipe's end across a vernier.
    s.circle((70.0, 74.0), 22.0, Fill::Tint);
    s.circle((70.0, 74.0), 14.0, Fill::Paper);
    s.vernier((48.0, 74.0), (92.0, 74.0), -52.0, 30.0);
    s.words("pipe, end on", (72.0, 122.0), From::Middle);
    // A magnet at a pipe.
    s.bar((180.0, 84.0), (326.0, 84.0), 12.0, Fill::Paper);
    let bow = arc((236.0, 44.0), 24.0, 0.0, 180.0);
    let mut magnet = bow;
    magnet.extend(places(&[212.0, 66.0, 224.0, 66.0]));
    magnet.extend(arc((236.0, 44.0), 12.0, 180.0, 0.0));
    magnet.extend(places(&[248.0, 66.0, 260.0, 66.0]));
    s.shape(&magnet, Fill::Tint);
    s.words("magnet", (334.0, 46.0), From::Right);
    s.words("holds: steel", (252.0, 122.0), From::Middle);
    // Two hoses.
    for (y, braided) in [(156.0, true), (196.0, false)] {
        s.bar(
            (30.0, y),
            (196.0, y),
            18.0,
            if braided { Fill::Paper } else { Fill::Tint },
        );
        s.block(12.0, y - 7.0, 30.0, y + 7.0, Fill::Ink);
        if braided {
            let mut x = 32.0;
            while x < 180.0 {
                s.thin(&[x, y - 8.0, x + 14.0, y + 8.0]);
                s.thin(&[x, y + 8.0, x + 14.0, y - 8.0]);
                x += 14.0;
            }
        }
    }
    s.words("steel braid", (208.0, 161.0), From::Left);
    s.words("rubber", (208.0, 201.0), From::Left);
    Scene {
        high: 214.0,
        marks: &[
            ("pipe", "4.8 mm across is 3/16 in, 6.4 mm is 1/4 in"),
            ("magnet", "it holds on steel, not on copper-nickel"),
        ],
    }
}

pub(super) fn thread(s: &mut Sketch) -> Scene {
    // A fitting, a comb against its thread, a vernier across it.
    s.solid(&[40.0, 40.0, 70.0, 40.0, 70.0, 96.0, 40.0, 96.0]);
    s.thin(&[40.0, 58.0, 70.0, 58.0]);
    s.thin(&[40.0, 78.0, 70.0, 78.0]);
    let mut teeth = vec![(70.0, 50.0)];
    for tooth in 0..7_u8 {
        let x = 70.0 + 10.0 * f64::from(tooth);
        teeth.push((x + 5.0, 46.0));
        teeth.push((x + 10.0, 50.0));
    }
    teeth.push((140.0, 86.0));
    for tooth in (0..7_u8).rev() {
        let x = 70.0 + 10.0 * f64::from(tooth);
        teeth.push((x + 5.0, 90.0));
        teeth.push((x, 86.0));
    }
    s.shape(&teeth, Fill::Paper);
    let mut comb = vec![(70.0, 20.0), (70.0, 48.0)];
    for tooth in 0..7_u8 {
        let x = 70.0 + 10.0 * f64::from(tooth);
        comb.push((x + 5.0, 43.0));
        comb.push((x + 10.0, 47.0));
    }
    comb.push((140.0, 20.0));
    s.shape(&comb, Fill::Tint);
    s.note("thread gauge", (160.0, 30.0), From::Left, (136.0, 28.0));
    s.dimension((156.0, 46.0), (156.0, 90.0), "a", At::Right);
    s.hair(&[136.0, 46.0, 160.0, 46.0]);
    s.hair(&[136.0, 90.0, 160.0, 90.0]);
    // What the bottom of a port looks like, cut.
    for (x, kind) in [(62.0, "funnel"), (170.0, "cone"), (278.0, "flat")] {
        let (top, bottom) = (132.0, 196.0);
        s.block(x - 38.0, top, x + 38.0, bottom, Fill::Tint);
        match kind {
            "funnel" => s.solid(&[
                x - 18.0,
                top,
                x + 18.0,
                top,
                x + 18.0,
                164.0,
                x + 5.0,
                178.0,
                x + 5.0,
                bottom,
                x - 5.0,
                bottom,
                x - 5.0,
                178.0,
                x - 18.0,
                164.0,
            ]),
            "cone" => s.solid(&[
                x - 18.0,
                top,
                x + 18.0,
                top,
                x + 18.0,
                182.0,
                x + 5.0,
                166.0,
                x + 5.0,
                bottom,
                x - 5.0,
                bottom,
                x - 5.0,
                166.0,
                x - 18.0,
                182.0,
            ]),
            _ => s.solid(&[
                x - 18.0,
                top,
                x + 18.0,
                top,
                x + 18.0,
                168.0,
                x + 5.0,
                168.0,
                x + 5.0,
                bottom,
                x - 5.0,
                bottom,
                x - 5.0,
                168.0,
                x - 18.0,
                168.0,
            ]),
        }
        s.words(kind, (x, 216.0), From::Middle);
    }
    Scene {
        high: 226.0,
        marks: &[
            ("a", "over the crests of the thread"),
            ("funnel", "the floor goes away from you: a bubble flare"),
            ("cone", "the floor points at you: a double flare"),
            ("flat", "a flat face round the port: a washer seals it"),
        ],
    }
}

pub(super) fn fluid(s: &mut Sketch) -> Scene {
    // The bottle and its label.
    s.solid(&[
        40.0, 64.0, 60.0, 44.0, 60.0, 30.0, 100.0, 30.0, 100.0, 44.0, 120.0, 64.0, 120.0, 184.0, 40.0, 184.0,
    ]);
    s.block(64.0, 14.0, 96.0, 30.0, Fill::Tint);
    s.block(48.0, 84.0, 112.0, 164.0, Fill::Paper);
    s.words("DOT 4", (80.0, 108.0), From::Middle);
    s.thin(&[56.0, 122.0, 104.0, 122.0]);
    s.thin(&[56.0, 136.0, 104.0, 136.0]);
    s.thin(&[56.0, 150.0, 92.0, 150.0]);
    s.words("bottle", (80.0, 208.0), From::Middle);
    // The reservoir with its tag.
    s.solid(&[
        206.0, 70.0, 294.0, 70.0, 294.0, 130.0, 280.0, 142.0, 220.0, 142.0, 206.0, 130.0,
    ]);
    s.block(222.0, 52.0, 278.0, 70.0, Fill::Tint);
    s.tinted(&[
        207.0, 96.0, 293.0, 96.0, 293.0, 129.0, 279.5, 141.0, 220.5, 141.0, 207.0, 129.0,
    ]);
    s.thin(&[278.0, 62.0, 300.0, 44.0]);
    s.solid(&[298.0, 30.0, 334.0, 30.0, 334.0, 56.0, 298.0, 56.0]);
    s.thin(&[304.0, 39.0, 328.0, 39.0]);
    s.thin(&[304.0, 47.0, 328.0, 47.0]);
    s.words("tag", (316.0, 22.0), From::Middle);
    s.words("reservoir", (250.0, 208.0), From::Middle);
    Scene {
        high: 218.0,
        marks: &[
            ("bottle", "grade, and both boiling points: dry and wet"),
            ("tag", "the day when the fluid went in"),
        ],
    }
}

pub(super) fn held(s: &mut Sketch) -> Scene {
    let floor = 176.0;
    s.floor(10.0, 330.0, floor);
    s.wall(28.0, 20.0, 150.0);
    // Pedal, prop, seat.
    s.bar((56.0, 30.0), (66.0, 118.0), 7.0, Fill::Paper);
    s.circle((56.0, 30.0), 5.0, Fill::Paper);
    s.bar((62.0, 106.0), (68.0, 130.0), 8.0, Fill::Tint);
    s.bar((74.0, 120.0), (126.0, 130.0), 8.0, Fill::Paper);
    s.bar((120.0, 129.0), (166.0, 138.0), 5.0, Fill::Paper);
    s.solid(&[
        168.0, 172.0, 162.0, 132.0, 206.0, 128.0, 220.0, 52.0, 234.0, 52.0, 228.0, 172.0,
    ]);
    s.words("prop", (116.0, 114.0), From::Middle);
    s.words("seat", (196.0, 158.0), From::Middle);
    s.gauge((284.0, 40.0), 120.0);
    s.words("gauge", (260.0, 24.0), From::Right);
    // A watch, a thermometer.
    s.circle((284.0, 106.0), 20.0, Fill::Paper);
    s.block(279.0, 78.0, 289.0, 86.0, Fill::Tint);
    s.thin(&[284.0, 92.0, 284.0, 106.0, 295.0, 112.0]);
    s.bar((318.0, 82.0), (318.0, 122.0), 7.0, Fill::Paper);
    s.circle((318.0, 128.0), 7.0, Fill::Ink);
    s.words("watch", (252.0, 146.0), From::Left);
    s.words("air", (318.0, 152.0), From::Middle);
    Scene {
        high: 190.0,
        marks: &[
            (
                "prop",
                "between pedal and seat; a latched lever holds its own line",
            ),
            ("gauge", "read at the start and at the end"),
            ("air", "a thermometer beside the car, in the shade"),
        ],
    }
}

pub(super) fn papers(s: &mut Sketch) -> Scene {
    s.block(20.0, 10.0, 320.0, 200.0, Fill::Paper);
    // Axes, a curve, two points led to both axes.
    s.thin(&[64.0, 30.0, 64.0, 160.0, 300.0, 160.0]);
    let curve: Vec<(f64, f64)> = (0..=22_u8)
        .map(|step| {
            let x = f64::from(step) / 22.0;
            (
                64.0 + 230.0 * x,
                160.0 - 118.0 * (1.0 - (1.0 - 1.5 * x).powi(2) * 0.75) * (1.0 - 0.32 * x * x),
            )
        })
        .collect();
    let (one, two) = (curve[3], curve[18]);
    let line: Vec<f64> = curve.iter().flat_map(|&(x, y)| [x, y]).collect();
    s.coded(Line::Car, &line);
    for (x, y) in [one, two] {
        s.dotted(&[(64.0, y), (x, y), (x, 160.0)]);
        s.circle((x, y), 4.5, Fill::Ink);
    }
    s.letter("1", (one.0 - 2.0, one.1 - 12.0), From::Right);
    s.letter("2", (two.0 + 6.0, two.1 - 10.0), From::Left);
    s.words("across", (182.0, 184.0), From::Middle);
    s.words("up", (44.0, 100.0), From::Middle);
    Scene {
        high: 210.0,
        marks: &[
            ("1, 2", "two points of the curve or more, each read on both axes"),
            ("across, up", "what stands beside the axes: read the units too"),
        ],
    }
}

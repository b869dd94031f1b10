//! The run from above: tracks, stretches on which wheels stand, the pull, the car at even times.

use engine::turn::Trace;
use quantity::si::{Angle, Duration, Speed};

use super::TurnRun;
use crate::axes::{VALUES, ticks};
use crate::card::Card;
use crate::geometry::{Point, Rect, at, thinned};
use crate::ink::{FAINT, FRONT, INK, Line, REAR};
use crate::labels::{Labels, Side};
use crate::picture::bare;
use crate::svg::{Anchor, Hand, Writer, polygon, polyline};
use wording::{degrees, number, seconds, speed as speed_words};

/// The tallest that one run is drawn.
const TALLEST: f64 = 340.0;
/// The same where its way in goes up the drawing.
const TALLEST_UPRIGHT: f64 = 520.0;
/// Between two outlines of the car (s).
const OUTLINE_S: f64 = 0.5;
/// Outlines at most.
const MOST_OUTLINES: usize = 24;
/// How wide a track is where its wheel stands.
const STANDS: f64 = 6.0;
const ROLLS: f64 = 1.3;
/// Every so many moments of the trace the rectangle of the wheels stands in the swept path: less than its length apart.
const SWEPT_EVERY: usize = 3;
/// Every so many moments of the trace the wheels' places are told.
const POSE_EVERY: usize = 2;
/// What a line is off by without anybody seeing it, on the drawing.
const UNSEEN: f64 = 0.1;

/// A place of the ground, on the drawing.
struct Ground {
    area: Rect,
    low: (f64, f64),
    high: (f64, f64),
    per_m: f64,
    /// The way in goes up the drawing, not across: what a phone has room for.
    upright: bool,
}

impl Ground {
    fn point(&self, x_m: f64, y_m: f64) -> Point {
        if self.upright {
            return at(
                self.area.left + (self.high.1 - y_m) * self.per_m,
                self.area.bottom - (x_m - self.low.0) * self.per_m,
            );
        }
        at(
            self.area.left + (x_m - self.low.0) * self.per_m,
            self.area.bottom - (y_m - self.low.1) * self.per_m,
        )
    }
}

/// The ground that all runs need, with some air (m).
fn extent(runs: &[&TurnRun]) -> ((f64, f64), (f64, f64)) {
    let (mut low, mut high) = (
        (f64::INFINITY, f64::INFINITY),
        (f64::NEG_INFINITY, f64::NEG_INFINITY),
    );
    for run in runs {
        let tracks = &run.turn.tracks;
        for wheel in 0..4 {
            for (&x, &y) in tracks.x_m[wheel].iter().zip(&tracks.y_m[wheel]) {
                if x.is_finite() && y.is_finite() {
                    low = (low.0.min(x), low.1.min(y));
                    high = (high.0.max(x), high.1.max(y));
                }
            }
        }
        for (x, y) in run.turn.road_edges().into_iter().flatten().flatten() {
            low = (low.0.min(x), low.1.min(y));
            high = (high.0.max(x), high.1.max(y));
        }
    }
    if !(low.0.is_finite() && high.0.is_finite()) {
        return ((0.0, 0.0), (1.0, 1.0));
    }
    ((low.0 - 1.0, low.1 - 1.0), (high.0 + 1.0, high.1 + 1.0))
}

pub(super) fn draw(card: &mut Card<'_>, runs: &[&TurnRun], playable: bool) {
    let (left, right) = card.sides();
    let (low, high) = extent(runs);
    let margin = 34.0;
    let upright = card.look.narrow();
    let (along, aside) = ((high.0 - low.0).max(1.0), (high.1 - low.1).max(1.0));
    let (across, up, tallest) = if upright {
        (aside, along, TALLEST_UPRIGHT)
    } else {
        (along, aside, TALLEST)
    };
    let per_m = ((right - left - margin - 8.0) / across).min(tallest / up);
    for run in runs {
        let top = card.filled + if runs.len() > 1 { 44.0 } else { 20.0 };
        let ground = Ground {
            area: Rect::new(
                left + margin,
                top,
                left + margin + across * per_m,
                top + up * per_m,
            ),
            low,
            high,
            per_m,
            upright,
        };
        if runs.len() > 1 {
            let hand = Hand::plain("run-name", 15.0).bold();
            let words = format!("{}: {}", run.name, run.turn.verdict.words());
            card.out.text_in(hand, &words, at(left, top - 16.0), right - left);
        }
        ruling(&mut card.out, &ground, (low, high), (left, right));
        one(&mut card.out, &ground, run, right);
        if playable {
            poses(&mut card.out, &ground, run);
        }
        card.filled = ground.area.bottom + 40.0;
    }
}

/// Metres, ruled both ways.
fn ruling(out: &mut Writer, ground: &Ground, (low, high): ((f64, f64), (f64, f64)), card: (f64, f64)) {
    let area = &ground.area;
    out.group("ground");
    let value = Hand::plain("value", VALUES);
    let steps = ticks(0.0, high.0 - low.0, 8);
    let spread = |low: f64, high: f64| {
        let mut all = Vec::new();
        let mut tick = (low / steps.step).ceil() * steps.step;
        while tick <= high && all.len() < 60 {
            all.push(tick + 0.0);
            tick += steps.step;
        }
        all
    };
    let (level_ones, upright_ones) = if ground.upright {
        (spread(low.0, high.0), spread(low.1, high.1))
    } else {
        (spread(low.1, high.1), spread(low.0, high.0))
    };
    for tick in level_ones {
        let level = if ground.upright {
            ground.point(tick, 0.0).y
        } else {
            ground.point(0.0, tick).y
        };
        out.line(Line::Hair, &[at(area.left, level), at(area.right, level)]);
        out.text(
            value.anchored(Anchor::End),
            &number(tick, bare(), steps.places),
            at(area.left - 6.0, level + 4.5),
        );
    }
    for tick in upright_ones {
        let place = if ground.upright {
            ground.point(0.0, tick).x
        } else {
            ground.point(tick, 0.0).x
        };
        out.line(Line::Hair, &[at(place, area.top), at(place, area.bottom)]);
        out.text(
            value.anchored(Anchor::Middle),
            &number(tick, bare(), steps.places),
            at(place, area.bottom + 17.0),
        );
    }
    out.line(
        Line::Rule,
        &[at(area.left, area.bottom), at(area.right, area.bottom)],
    );
    out.line(Line::Rule, &[at(area.left, area.top), at(area.left, area.bottom)]);
    out.text(
        Hand::plain("axis-name", VALUES).anchored(Anchor::End),
        if ground.upright {
            "m to the left of the way in"
        } else {
            "m along the way in →"
        },
        at(card.1, area.bottom + 33.0),
    );
    out.close("g");
}

fn one(out: &mut Writer, ground: &Ground, run: &TurnRun, right: f64) {
    let turn = &run.turn;
    let (trace, tracks) = (&turn.trace, &turn.tracks);
    let mut labels = Labels::within(Rect::new(
        ground.area.left + 2.0,
        ground.area.top - 14.0,
        right,
        ground.area.bottom - 2.0,
    ));
    let place = |index: usize| ground.point(trace.x_m[index], trace.y_m[index]);
    swept(out, ground, run);
    let said = outlines(out, ground, run, &mut labels);
    out.group("road");
    for edge in turn.road_edges().into_iter().flatten() {
        let points: Vec<Point> = edge.iter().map(|&(x, y)| ground.point(x, y)).collect();
        out.line(Line::Limit, &points);
        labels.avoid_thin_line(&points);
    }
    out.close("g");
    // The way of the centre of gravity while the hand pulls.
    out.group("pull");
    let pulled: Vec<Point> = (0..trace.t_s.len())
        .filter(|&index| is_pulled(run, trace.t_s[index]))
        .map(place)
        .collect();
    let pulled = thinned(&pulled, UNSEEN);
    out.line(Line::Hand, &pulled);
    labels.avoid_thick_line(&pulled, 5.0);
    out.close("g");
    out.group("tracks");
    for wheel in 0..4 {
        let points: Vec<Point> = tracks.x_m[wheel]
            .iter()
            .zip(&tracks.y_m[wheel])
            .map(|(&x, &y)| ground.point(x, y))
            .collect();
        let rolled = thinned(&points, UNSEEN);
        labels.avoid_thin_line(&rolled);
        track(out, wheel, &rolled, false);
        for (from, to) in stretches(&tracks.stands[wheel]) {
            let standing = thinned(&points[from..to.min(points.len())], UNSEEN);
            labels.avoid_thick_line(&standing, STANDS);
            track(out, wheel, &standing, true);
        }
    }
    out.close("g");
    for (time, words) in marks(run) {
        if let Some(index) = nearest(trace, time) {
            let point = place(index);
            out.disc("mark", point, 3.5, true);
            labels.avoid_mark(point, 4.5);
            labels.name(
                Hand::plain("label", VALUES).bold(),
                &words,
                &[point],
                &[Side::Below, Side::Above, Side::BelowRight, Side::AboveLeft],
            );
        }
    }
    // What finds no place beside the tracks stands in the table.
    for (words, points) in &said {
        let sides = if ground.upright {
            [Side::Right, Side::Left, Side::AboveRight, Side::BelowRight]
        } else {
            [Side::Above, Side::Below, Side::AboveRight, Side::BelowRight]
        };
        labels.name_if_clear(Hand::plain("label time", 14.0), words, points, &sides);
    }
    labels.draw(out);
}

/// Where the wheels are at every moment.
fn poses(out: &mut Writer, ground: &Ground, run: &TurnRun) {
    let (trace, tracks) = (&run.turn.trace, &run.turn.tracks);
    let (mut poses, mut times, mut speeds) = (String::new(), String::new(), String::new());
    let standing = |index: usize| {
        (0..4).fold(0_u8, |standing, wheel| {
            let stands = tracks.stands[wheel].get(index).copied().unwrap_or(false);
            standing | (u8::from(stands) << wheel)
        })
    };
    // Between two moments whoever plays it goes straight on: every second one is enough, but where a wheel locks or lets go.
    let last = trace.t_s.len().saturating_sub(1);
    let told = (0..trace.t_s.len()).filter(|&index| {
        index % POSE_EVERY == 0
            || index == last
            || standing(index) != standing(index - 1)
            || standing(index) != standing(index + 1)
    });
    for index in told {
        for wheel in 0..4 {
            let point = ground.point(tracks.x_m[wheel][index], tracks.y_m[wheel][index]);
            poses.push_str(&format!("{:.1},{:.1} ", point.x, point.y));
        }
        let standing = standing(index);
        poses.push_str(&format!("{standing};"));
        times.push_str(&format!("{:.2} ", trace.t_s[index]));
        let speed = Speed::from_m_s(trace.u_m_s[index].hypot(trace.v_m_s[index]));
        speeds.push_str(&format!("{} ", wording::kilometres_an_hour(speed)));
    }
    out.element("g", "moving")
        .word("data-poses", poses.trim_end_matches(';'))
        .word("data-times", times.trim_end())
        .word("data-speeds", speeds.trim_end())
        .end();
}

fn is_pulled(run: &TurnRun, time_s: f64) -> bool {
    let technique = &run.turn.technique;
    let let_go = run.turn.released.map_or(f64::INFINITY, Duration::s);
    technique.hand.n() > 0.0 && time_s >= technique.lever_at.s() && time_s <= let_go
}

/// A wheel's way, rolling or standing.
fn track(out: &mut Writer, wheel: usize, points: &[Point], stands: bool) {
    if points.len() < 2 {
        return;
    }
    let (class, ink, dashes) = if wheel < 2 {
        ("line front", FRONT, None)
    } else {
        ("line rear", REAR, Some("8 4"))
    };
    let class = if stands {
        format!("{class} stands")
    } else {
        format!("{class} rolls")
    };
    let mut element = out
        .element("path", &class)
        .word("d", &polyline(points))
        .word("fill", "none")
        .word("stroke", ink)
        .number("stroke-width", if stands { STANDS } else { ROLLS })
        .word("stroke-linejoin", "round");
    if let Some(dashes) = dashes {
        element = element.word("stroke-dasharray", dashes);
    }
    element.end();
}

/// From where to where something is so: half-open stretches of at least two points.
fn stretches(so: &[bool]) -> Vec<(usize, usize)> {
    let mut all = Vec::new();
    let mut from = None;
    for (index, &so) in so.iter().chain(core::iter::once(&false)).enumerate() {
        match (so, from) {
            (true, None) => from = Some(index),
            (false, Some(start)) => {
                if index - start > 1 {
                    all.push((start, index));
                }
                from = None;
            }
            _ => {}
        }
    }
    all
}

/// The swept path: all the ground that the rectangle of the wheels goes over.
fn swept(out: &mut Writer, ground: &Ground, run: &TurnRun) {
    let tracks = &run.turn.tracks;
    let last = run.turn.trace.t_s.len().saturating_sub(1);
    let corner =
        |wheel: usize, index: usize| ground.point(tracks.x_m[wheel][index], tracks.y_m[wheel][index]);
    let path: String = (0..=last)
        .filter(|index| index % SWEPT_EVERY == 0 || *index == last)
        .map(|index| polygon(&[0, 1, 3, 2].map(|wheel| corner(wheel, index))))
        .collect();
    out.element("path", "swept")
        .word("d", &path)
        .word("fill", FAINT)
        .number("fill-opacity", 0.4)
        .word("fill-rule", "nonzero")
        .end();
}

/// The car at even times: the rectangle of its wheels, its nose marked. Gives what is to be said of them, and where.
fn outlines(
    out: &mut Writer,
    ground: &Ground,
    run: &TurnRun,
    labels: &mut Labels,
) -> Vec<(String, [Point; 2])> {
    let trace = &run.turn.trace;
    let last = trace.t_s.last().copied().unwrap_or(0.0);
    let mut every = OUTLINE_S;
    #[allow(clippy::cast_precision_loss, reason = "two dozen")]
    while last / every > MOST_OUTLINES as f64 {
        every *= 2.0;
    }
    out.group("cars");
    let mut time_s = 0.0;
    let mut said: Vec<(String, [Point; 2])> = Vec::new();
    while time_s <= last + 1e-9 {
        if let Some(index) = nearest(trace, time_s) {
            let tracks = &run.turn.tracks;
            let corner = |wheel: usize| ground.point(tracks.x_m[wheel][index], tracks.y_m[wheel][index]);
            let [fl, fr, rl, rr] = [corner(0), corner(1), corner(2), corner(3)];
            out.element("path", "outline car")
                .word("d", &polygon(&[fl, fr, rr, rl]))
                .word("fill", "none")
                .word("stroke", INK)
                .number("stroke-width", 1.2)
                .word("stroke-linejoin", "round")
                .end();
            let front = fl.towards(fr, 0.5);
            let behind = |share: f64| fl.towards(fr, share).towards(rl.towards(rr, share), 0.2);
            let nose = [behind(0.25), behind(0.75), front];
            out.shape("mark nose", &polygon(&nose), true);
            labels.avoid_line(&[fl, fr, rr, rl, fl]);
            let sides = [fl.towards(rl, 0.5), fr.towards(rr, 0.5)];
            if said
                .last()
                .is_none_or(|(_, known)| known[0].distance(sides[0]) > 46.0)
            {
                let speed = trace.u_m_s[index].hypot(trace.v_m_s[index]);
                let words = format!(
                    "{}, {}",
                    seconds(Duration::from_s(trace.t_s[index])),
                    speed_words(Speed::from_m_s(speed))
                );
                said.push((words, sides));
            }
        }
        time_s += every;
    }
    out.close("g");
    said
}

/// Moments with a name.
fn marks(run: &TurnRun) -> Vec<(f64, String)> {
    let turn = &run.turn;
    let mut marks = Vec::new();
    if turn.technique.hand.n() > 0.0 {
        marks.push((turn.technique.lever_at.s(), "pulled".to_owned()));
    }
    if let Some(let_go) = turn.released {
        let heading = turn
            .heading
            .at_release
            .map_or_else(String::new, |heading: Angle| format!(" at {}", degrees(heading)));
        marks.push((let_go.s(), format!("let go{heading}")));
    }
    marks
}

fn nearest(trace: &Trace, time_s: f64) -> Option<usize> {
    let last = trace.t_s.len().checked_sub(1)?;
    Some(
        trace
            .t_s
            .partition_point(|&known| known < time_s - 1e-9)
            .min(last),
    )
}

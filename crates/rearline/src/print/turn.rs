//! The pages of `turn`.

use asked::{Opened, Units};
use engine::ranges::Range;
use engine::turn::{
    After, Brief, Clutch, Found, Grid, Hairpin, LEVERS_SHARE, Release, StoppedBy, Swing, Technique, Turn,
    Varied, Verdict,
};
use quantity::si::{Angle, Duration, Length, Speed};

use super::page::{Page, Stroke};
use super::{ink, leaned, title, words};
use crate::verbs::turn::Outcome;
use crate::views::turn::range;

/// One sentence, how sure it is, the figures, what moves them, and the other set-up beside it.
pub(crate) fn page(opened: &Opened, outcome: &Outcome, units: &Units) -> String {
    let mut page = Page::default();
    title::onto(&mut page, opened, units);
    page.gap();
    let turn = &outcome.turn;
    page.paragraph(ink::heavy, &sentence(turn, &opened.state.surface.name));
    sure(&mut page, outcome);
    page.gap();
    page.rule(Stroke::Hand, "handbrake: what the driver does");
    driver(&mut page, &turn.technique, units);
    page.gap();
    page.rule(Stroke::Rear, "the run");
    figures(&mut page, turn);
    if let Some(beside) = &outcome.against {
        page.gap();
        page.heading(&format!("Beside it: {}", beside.opened.car().name));
        page.plain(&sentence(&beside.turn, &beside.opened.state.surface.name));
        figures(&mut page, &beside.turn);
    }
    page.heading("What moves it most");
    for swing in &outcome.swings {
        page.labelled(moved(swing.varied), &swung(swing));
    }
    page.gap();
    page.plain(
        "Left out: rolling resistance, air, the two front wheels' different steer, the springs' own motion; the ground \
         is level and the same everywhere.",
    );
    cautious(&mut page);
    leaned::foot(&mut page, &opened.assembled);
    page.into_text()
}

fn cautious(page: &mut Page) {
    page.plain(
        "Try it where there is room and nobody stands: wide open ground, slowly first. A public road is no place for it; \
         local law decides, and the rules of the event.",
    );
}

/// What becomes of it, in one sentence.
pub(crate) fn sentence(turn: &Turn, surface: &str) -> String {
    let heading = turn.heading.at_release.unwrap_or(turn.heading.end);
    let without = turn.without_lever.at_release.unwrap_or(turn.without_lever.end);
    let when = if turn.heading.at_release.is_some() {
        "when the handbrake is let go"
    } else {
        "at the end, the handbrake still pulled"
    };
    let from = format!("from {} on {surface}", km_h(turn.technique.entry));
    let looks = format!(
        "it looks {} round {when}, {} without it",
        degrees(heading),
        degrees(without)
    );
    match turn.verdict {
        Verdict::ComesRound => format!("Comes round: {from} {looks}; {}.", stood(turn)),
        Verdict::RotatesLittle => {
            let added = heading - without;
            let share = if heading.rad().abs() > 0.0 {
                added / heading
            } else {
                0.0
            };
            let why = if turn.locking.rear_from.is_none() && turn.locking.inner_only_for.s() > 0.05 {
                "; only the inner rear wheel stands"
            } else if turn.locking.rear_from.is_none() {
                "; the rear never stands"
            } else if share < LEVERS_SHARE {
                "; most of it is the steering's"
            } else {
                "; that is not enough to drive out of a hairpin"
            };
            format!("Rotates little: {from} {looks}{why}.")
        }
        Verdict::Ploughs => format!(
            "Ploughs: {from} {looks}, but the front wheels are dragged to {} of their own speed and no longer steer.",
            turn.locking
                .front_speed_ratio
                .map_or_else(|| "little".to_owned(), words::per_cent)
        ),
        Verdict::Spins => format!(
            "Spins: {from} {looks}; past 120° it can no longer be driven out forward. Let go earlier."
        ),
    }
}

fn stood(turn: &Turn) -> String {
    match turn.locking.rear_from {
        Some(from) => format!(
            "the rear stands from {} on, for {}",
            seconds(from),
            seconds(turn.locking.rear_for)
        ),
        None => "the rear slides without standing".to_owned(),
    }
}

fn sure(page: &mut Page, outcome: &Outcome) {
    let Some(drawn) = &outcome.drawn else { return };
    let at_release = range(Some(drawn), |brief| {
        brief.heading.at_release.map(|heading| heading.rad())
    });
    let (what, found) = match at_release {
        Some(found) => ("when the handbrake is let go", found),
        None => match range(Some(drawn), |brief| Some(brief.heading.end.rad())) {
            Some(found) => ("at the end", found),
            None => return,
        },
    };
    let chances: Vec<String> = [
        (Verdict::ComesRound, "comes round"),
        (Verdict::RotatesLittle, "rotates little"),
        (Verdict::Ploughs, "ploughs"),
        (Verdict::Spins, "spins"),
    ]
    .into_iter()
    .filter_map(|(wanted, said)| {
        let chance = drawn.chance(|brief: &Brief| brief.verdict == wanted)?;
        (chance > 0.0).then(|| format!("{said} in {}", words::chance(chance)))
    })
    .collect();
    page.plain(&format!(
        "Nine times in ten {} {what}; of the cars that the tolerances allow it {}.",
        between(found),
        words::list(&chances)
    ));
}

fn driver(page: &mut Page, technique: &Technique, units: &Units) {
    page.labelled(
        "steers",
        &format!(
            "{} from {} on, within {}",
            degrees(technique.steer),
            seconds(technique.steer_at),
            seconds(technique.steer_in)
        ),
    );
    if let Some(foot) = technique.foot {
        page.labelled(
            "foot",
            &format!(
                "{} from {}{}",
                words::figure(foot.force.n(), units.force),
                seconds(foot.at),
                foot.off
                    .map_or_else(String::new, |off| format!(" to {}", seconds(off)))
            ),
        );
    }
    let clutch = match technique.clutch {
        Clutch::Up => "stays up, throttle closed".to_owned(),
        Clutch::DownAt(at) => format!("down at {}", seconds(at)),
    };
    page.labelled("clutch", &clutch);
    let release = match technique.release {
        Release::At(at) if at < technique.until => format!("let go at {}", seconds(at)),
        Release::Heading(angle) => format!("let go at {}", degrees(angle)),
        Release::At(_) | Release::Never => "not let go".to_owned(),
    };
    page.labelled(
        "pulls",
        &format!(
            "{} from {} on, up within {}; {release}",
            words::pull(technique.hand, units),
            seconds(technique.lever_at),
            seconds(technique.lever_rise)
        ),
    );
    let mut then = match technique.after {
        After::Hold => "holds the wheel".to_owned(),
        After::IntoSlide => "steers into the slide".to_owned(),
    };
    if let Some(throttle) = technique.throttle {
        then.push_str(&format!(
            ", throttle at {}",
            words::figure(throttle.torque.nm(), units.torque)
        ));
    }
    page.labelled(
        "then",
        &format!("{then}; followed for {}", seconds(technique.until)),
    );
}

fn figures(page: &mut Page, turn: &Turn) {
    let locking = &turn.locking;
    let mut rear = stood(turn).trim_start_matches("the rear ").to_owned();
    if locking.inner_only_for.s() >= 0.005 {
        rear.push_str(&format!(
            "; the inner wheel alone for {}",
            seconds(locking.inner_only_for)
        ));
    }
    page.labelled("rear", &rear);
    let mut front = match locking.front_speed_ratio {
        Some(ratio) => format!(
            "rolls at {} of its own speed while pulled",
            words::per_cent(ratio)
        ),
        None => "rolls".to_owned(),
    };
    if locking.front_for.s() > 0.0 {
        front.push_str(&format!("; stands for {}", seconds(locking.front_for)));
    }
    if locking.front_dragged_for.s() >= 0.005 {
        front.push_str(&format!(
            "; below {}, where it no longer steers, for {}",
            words::per_cent(turn.front_keeps),
            seconds(locking.front_dragged_for)
        ));
    }
    page.labelled("front", &front);
    let both = |at_release: Option<Angle>, end: Angle| match at_release {
        Some(heading) => format!("{} at letting go, {} at the end", degrees(heading), degrees(end)),
        None => format!("{} at the end", degrees(end)),
    };
    page.labelled("heading", &both(turn.heading.at_release, turn.heading.end));
    page.labelled(
        "without it",
        &both(turn.without_lever.at_release, turn.without_lever.end),
    );
    page.labelled(
        "turns",
        &format!(
            "{}/s at most",
            degrees(Angle::from_rad(turn.yaw_rate_peak.rad_s()))
        ),
    );
    let at_release = turn
        .speed_at_release
        .map_or_else(String::new, |speed| format!("{} at letting go, ", km_h(speed)));
    page.labelled(
        "speed",
        &format!("{at_release}{} at the end", km_h(turn.speed_end)),
    );
    page.labelled(
        "room",
        &format!(
            "{} across, {} along, for the wheels",
            metres(turn.room[0]),
            metres(turn.room[1])
        ),
    );
}

const fn moved(varied: Varied) -> &'static str {
    match varied {
        Varied::YawInertia => "inertia",
        Varied::Grip => "grip",
        Varied::RollShare => "roll share",
    }
}

fn swung(swing: &Swing) -> String {
    let by = match swing.varied {
        Varied::YawInertia => "15\u{a0}% less and more",
        Varied::Grip => "10\u{a0}% less and more",
        Varied::RollShare => "0.10 less and more at the front",
    };
    let heading = |brief: &Brief| degrees(brief.heading.at_release.unwrap_or(brief.heading.end));
    let mut said = format!("{by}: {} and {}", heading(&swing.less), heading(&swing.more));
    if swing.less.verdict != swing.more.verdict {
        said.push_str(&format!(
            "; {} and {}",
            in_words(swing.less.verdict),
            in_words(swing.more.verdict)
        ));
    }
    said
}

const fn in_words(verdict: Verdict) -> &'static str {
    match verdict {
        Verdict::ComesRound => "comes round",
        Verdict::RotatesLittle => "rotates little",
        Verdict::Ploughs => "ploughs",
        Verdict::Spins => "spins",
    }
}

/// Many runs, in a table that fits the page; the picture has all of them.
pub(crate) fn map_page(opened: &Opened, grid: &Grid, units: &Units) -> String {
    let mut page = Page::default();
    title::onto(&mut page, opened, units);
    page.gap();
    let all = grid.cells.iter().flatten().flatten();
    let count = |wanted| all.clone().filter(|cell| cell.verdict == wanted).count();
    let runs = all.clone().count();
    let said: Vec<String> = [
        Verdict::ComesRound,
        Verdict::RotatesLittle,
        Verdict::Ploughs,
        Verdict::Spins,
    ]
    .into_iter()
    .map(|wanted| (wanted, count(wanted)))
    .filter(|&(_, count)| count > 0)
    .map(|(wanted, count)| format!("{} in {count}", in_words(wanted)))
    .collect();
    page.paragraph(ink::heavy, &format!("Of {runs} runs it {}.", words::list(&said)));
    page.plain(
        "Heading when the handbrake is let go, entry speed down, pull across; then what it is called.",
    );
    page.gap();
    let few = |count: usize| (0..count).step_by(count.saturating_sub(1).div_ceil(6).max(1));
    let columns: Vec<usize> = few(grid.hands.len()).collect();
    let cell = |text: &str| format!("{text:>9}");
    let mut head = cell("");
    for &column in &columns {
        head.push_str(&cell(&words::figure(grid.hands[column].n(), units.force)));
    }
    page.plain(&spaced(&head));
    for row in few(grid.entries.len()) {
        let mut line = cell(&km_h(grid.entries[row]));
        for &column in &columns {
            let shown = grid.cells[row][column].map_or_else(
                || "–".to_owned(),
                |cell| {
                    let heading = cell.heading_at_release.unwrap_or(cell.heading_end);
                    format!("{} {}", degrees(heading), letter(cell.verdict))
                },
            );
            line.push_str(&cell(&shown));
        }
        page.plain(&spaced(&line));
    }
    page.gap();
    page.plain("r comes round, l rotates little, p ploughs, s spins. --svg draws all of it; --json has every figure.");
    cautious(&mut page);
    leaned::foot(&mut page, &opened.assembled);
    page.into_text()
}

/// Blanks that wrapping leaves alone.
fn spaced(line: &str) -> String {
    line.replace(' ', "\u{a0}")
}

const fn letter(verdict: Verdict) -> char {
    match verdict {
        Verdict::ComesRound => 'r',
        Verdict::RotatesLittle => 'l',
        Verdict::Ploughs => 'p',
        Verdict::Spins => 's',
    }
}

/// A way through a bend, or what stopped it.
pub(crate) fn search_page(
    opened: &Opened,
    bend: &Hairpin,
    found: &Result<Found, StoppedBy>,
    units: &Units,
) -> String {
    let mut page = Page::default();
    title::onto(&mut page, opened, units);
    page.gap();
    let road = format!(
        "{} on a radius of {}, the road {} wide",
        degrees(bend.angle),
        metres(bend.radius),
        metres(bend.width)
    );
    match found {
        Ok(way) => {
            page.paragraph(
                ink::heavy,
                &format!(
                    "Round {road}: from {} at the fastest that was found, {} to spare at the worst moment.",
                    km_h(way.technique.entry),
                    metres(way.to_spare)
                ),
            );
            page.plain(&format!(
                "It looks the new way after {}, still at {}; from then on the throttle has it.",
                seconds(way.reached),
                km_h(way.speed)
            ));
            page.gap();
            page.rule(Stroke::Hand, "handbrake: what the driver does");
            driver(&mut page, &way.technique, units);
            page.gap();
            page.rule(Stroke::Rear, "the run");
            figures(&mut page, &way.turn);
        }
        Err(StoppedBy::Rotation(furthest)) => page.paragraph(
            ink::heavy,
            &format!(
                "No way round {road}: whatever was tried, it turns by {} at most.",
                degrees(*furthest)
            ),
        ),
        Err(StoppedBy::Width(by)) => page.paragraph(
            ink::heavy,
            &format!(
                "No way round {road}: it turns, but at best a wheel is {} beyond the edge.",
                metres(*by)
            ),
        ),
    }
    page.gap();
    page.plain(
        "Entry, steer, moments and the heading at release were looked through on a grid, the driver's own pull throughout: \
         no proof that nothing faster would do. Wheels have to stay on the road; overhangs are not counted.",
    );
    cautious(&mut page);
    leaned::foot(&mut page, &opened.assembled);
    page.into_text()
}

fn between(range: Range) -> String {
    let degrees = |rad: f64| format!("{:.0}", rad.to_degrees()).replace('-', "−");
    format!("{} to {}°", degrees(range.low), degrees(range.high))
}

fn degrees(angle: Angle) -> String {
    format!("{:.0}°", angle.rad().to_degrees() + 0.0)
        .replace("-0°", "0°")
        .replace('-', "−")
}

fn seconds(time: Duration) -> String {
    format!("{:.2}\u{a0}s", time.s())
}

fn km_h(speed: Speed) -> String {
    format!("{:.0}\u{a0}km/h", speed.m_s() * 3.6)
}

fn metres(length: Length) -> String {
    format!("{:.1}\u{a0}m", length.m())
}

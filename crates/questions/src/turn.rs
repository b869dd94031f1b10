//! A turn as a person asks for it: the driver's doings as text, the car at hand, what comes of it.

use engine::Conditions;
use engine::ranges::{Plan, Study};
use engine::turn::{
    After, Assumed, Brief, Clutch, Footwork, Hairpin, MOST_CELLS, Manoeuvre, NoTurn, Release, Technique,
    Throttle, Turn, TurnBench, deciding,
};
use quantity::Dimension;
use quantity::si::{Angle, Duration, Force, Length, Speed, Torque};

use crate::opened::Opened;
use crate::state::{Range, figure};
use crate::trouble::Wrong;
use wording::if_read;

const ENTRY: Range = ("2 km/h", "250 km/h");
const STEER: Range = ("-65 deg", "65 deg");
const MOMENT: Range = ("0 s", "60 s");
const HAND: Range = ("0 N", "2000 N");
const FOOT: Range = ("0 N", "3000 N");
const TURNED: Range = ("1 deg", "680 deg");
const UNTIL: Range = ("0.05 s", "60 s");
const THROTTLE: Range = ("-300 N m", "1500 N m");

/// What the driver does, as a person writes it; `None` where nothing is said.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct TurnText {
    /// Speed at the start.
    pub entry: Option<String>,
    /// Steer of the front wheels.
    pub steer: Option<String>,
    /// When steering starts.
    pub steer_at: Option<String>,
    /// Time that it takes.
    pub steer_in: Option<String>,
    /// Force of the hand.
    pub hand: Option<String>,
    /// When the hand pulls.
    pub lever_at: Option<String>,
    /// Time in which its force comes, and goes.
    pub lever_rise: Option<String>,
    /// `down` or `up`.
    pub clutch: Option<String>,
    /// When it goes down.
    pub clutch_at: Option<String>,
    /// A time, a heading, or `never`.
    pub release: Option<String>,
    /// `hold` or `into-slide`.
    pub after: Option<String>,
    /// Torque of the engine once the lever is let go.
    pub throttle: Option<String>,
    /// Force of a foot on the brake.
    pub foot: Option<String>,
    /// When it presses.
    pub foot_at: Option<String>,
    /// When it is taken off.
    pub foot_off: Option<String>,
    /// How long all of it is followed.
    pub until: Option<String>,
}

/// The same, read: what is said and no more.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TurnSaid {
    entry: Option<f64>,
    steer: Option<f64>,
    steer_at: Option<Duration>,
    steer_in: Option<Duration>,
    hand: Option<f64>,
    lever_at: Option<Duration>,
    lever_rise: Option<Duration>,
    clutch: Pressed,
    clutch_at: Option<Duration>,
    release: Option<Release>,
    after: After,
    throttle: Option<f64>,
    foot: Option<f64>,
    foot_at: Option<Duration>,
    foot_off: Option<Duration>,
    until: Option<Duration>,
}

impl TurnText {
    /// Reads it, without a car.
    ///
    /// # Errors
    /// Everything that cannot be read, at once.
    pub fn read(&self) -> Result<TurnSaid, Wrong> {
        let mut wrong = Wrong::default();
        let mut read = |option: &'static str, text: &Option<String>, dimension, range| {
            text.as_deref()
                .and_then(|text| wrong.note(figure(option, text, dimension, range)))
        };
        let entry = read("--entry", &self.entry, Dimension::Speed, ENTRY);
        let steer = read("--steer", &self.steer, Dimension::Angle, STEER);
        let hand = read("--hand", &self.hand, Dimension::Force, HAND);
        let foot = read("--foot", &self.foot, Dimension::Force, FOOT);
        let throttle = read("--throttle", &self.throttle, Dimension::Torque, THROTTLE);
        let mut moment = |option, text: &Option<String>, range| {
            read(option, text, Dimension::Duration, range).map(Duration::from_s)
        };
        let steer_at = moment("--steer-at", &self.steer_at, MOMENT);
        let steer_in = moment("--steer-in", &self.steer_in, MOMENT);
        let lever_at = moment("--lever-at", &self.lever_at, MOMENT);
        let lever_rise = moment("--lever-rise", &self.lever_rise, MOMENT);
        let clutch_at = moment("--clutch-at", &self.clutch_at, MOMENT);
        let foot_at = moment("--foot-at", &self.foot_at, MOMENT);
        let foot_off = moment("--foot-off", &self.foot_off, MOMENT);
        let until = moment("--until", &self.until, UNTIL);
        let release = wrong.note(self.release.as_deref().map(release).transpose());
        let clutch = wrong.note(clutch(self.clutch.as_deref()));
        let after = wrong.note(after(self.after.as_deref()));
        match (release, clutch, after) {
            (Some(release), Some(clutch), Some(after)) if wrong.is_empty() => Ok(TurnSaid {
                entry,
                steer,
                steer_at,
                steer_in,
                hand,
                lever_at,
                lever_rise,
                clutch,
                clutch_at,
                release,
                after,
                throttle,
                foot,
                foot_at,
                foot_off,
                until,
            }),
            _ => Err(wrong),
        }
    }

    /// Reads it for a car: [`read`](Self::read), then [`TurnSaid::technique`].
    ///
    /// # Errors
    /// Everything that cannot be read or driven.
    pub fn technique(&self, opened: &Opened) -> Result<Technique, Wrong> {
        self.read()?.technique(opened)
    }
}

impl TurnSaid {
    /// The technique that is meant, on the surface that the car stands on: what is not said is what a driver usually
    /// does there, moved along with what is said.
    ///
    /// # Errors
    /// What cannot be driven.
    pub fn technique(&self, opened: &Opened) -> Result<Technique, Wrong> {
        let usual = Technique::on(&opened.state.surface, opened.car());
        let lever_at = self.lever_at.unwrap_or(usual.lever_at);
        // The pull lasts as long, and what follows takes as long, as on this surface usually.
        let held = match usual.release {
            Release::At(at) => at - usual.lever_at,
            Release::Heading(_) | Release::Never => Duration::ZERO,
        };
        let followed = usual.until - usual.lever_at - held;
        let release = self.release.unwrap_or(Release::At(lever_at + held));
        let usual_until = match release {
            Release::At(at) => at.max(lever_at) + followed,
            Release::Heading(_) | Release::Never => lever_at + held + followed,
        };
        let technique = Technique {
            entry: self.entry.map_or(usual.entry, Speed::from_m_s),
            steer: self.steer.map_or(usual.steer, Angle::from_rad),
            steer_at: self.steer_at.unwrap_or(usual.steer_at),
            steer_in: self.steer_in.unwrap_or(usual.steer_in),
            hand: self.hand.map_or(usual.hand, Force::from_n),
            lever_at,
            lever_rise: self.lever_rise.unwrap_or(usual.lever_rise),
            clutch: match self.clutch {
                Pressed::Up => Clutch::Up,
                Pressed::Down => {
                    let before = (lever_at - Duration::from_s(0.1)).max(Duration::ZERO);
                    Clutch::DownAt(self.clutch_at.unwrap_or(before))
                }
            },
            release,
            after: self.after,
            throttle: self.throttle.map(|torque| Throttle {
                torque: Torque::from_nm(torque),
                rise: Duration::from_s(0.3),
            }),
            foot: self.foot.map(|force| Footwork {
                force: Force::from_n(force),
                at: self.foot_at.unwrap_or(Duration::ZERO),
                rise: Duration::from_s(0.1),
                off: Some(self.foot_off.unwrap_or(lever_at)),
            }),
            until: self.until.unwrap_or(usual_until),
            ..usual
        };
        technique.check().map_err(|out| {
            Wrong::plain(
                "turn",
                "out-of-range",
                out.to_string(),
                "choose a figure between the two".to_owned(),
            )
        })?;
        Ok(technique)
    }
}

#[derive(Clone, Copy, Debug, PartialEq)]
enum Pressed {
    Up,
    Down,
}

fn clutch(text: Option<&str>) -> Result<Pressed, Wrong> {
    match text.map(str::trim) {
        None | Some("down") => Ok(Pressed::Down),
        Some("up") => Ok(Pressed::Up),
        Some(other) => Err(no_such_word("--clutch", other, "down or up")),
    }
}

fn after(text: Option<&str>) -> Result<After, Wrong> {
    match text.map(str::trim) {
        None | Some("hold") => Ok(After::Hold),
        Some("into-slide") => Ok(After::IntoSlide),
        Some(other) => Err(no_such_word("--after", other, "hold or into-slide")),
    }
}

fn no_such_word(option: &str, text: &str, words: &str) -> Wrong {
    let what = format!("`{text}` is none of the words that are known here");
    let remedy = format!("write {words}");
    Wrong::option(option, text, 0..text.len(), "unknown-word", what, remedy)
}

/// A moment, a heading, or never.
fn release(text: &str) -> Result<Release, Wrong> {
    if text.trim() == "never" {
        return Ok(Release::Never);
    }
    if quantity::parse(text, Dimension::Angle).is_ok() {
        return figure("--release", text, Dimension::Angle, TURNED)
            .map(|angle| Release::Heading(Angle::from_rad(angle)));
    }
    figure("--release", text, Dimension::Duration, MOMENT).map(|at| Release::At(Duration::from_s(at)))
}

/// A bend: `180 deg, 7 m, 5 m`, angle, radius of the middle of the road, width of the road.
///
/// # Errors
/// What is no such bend.
pub fn hairpin(text: &str) -> Result<Hairpin, Wrong> {
    let parts: Vec<&str> = text.split(", ").map(str::trim).collect();
    let [angle, radius, width] = parts.as_slice() else {
        let what = format!("`{text}` is not a bend");
        let remedy =
            "write angle, radius of the middle of the road and its width: \"180 deg, 7 m, 5 m\"".to_owned();
        return Err(Wrong::option(
            "--search",
            text,
            0..text.len(),
            "not-a-bend",
            what,
            remedy,
        ));
    };
    let mut wrong = Wrong::default();
    let mut read = |text: &str, dimension, range| wrong.note(figure("--search", text, dimension, range));
    let angle = read(angle, Dimension::Angle, ("-270 deg", "270 deg"));
    let radius = read(radius, Dimension::Length, ("1 m", "100 m"));
    let width = read(width, Dimension::Length, ("2 m", "50 m"));
    match (angle, radius, width) {
        (Some(angle), Some(radius), Some(width)) => Ok(Hairpin {
            angle: Angle::from_rad(angle),
            radius: Length::from_m(radius),
            width: Length::from_m(width),
        }),
        _ => Err(wrong),
    }
}

/// Rows and columns of a map: `64x64`.
///
/// # Errors
/// What is no such size, or more than is computed.
pub fn map_size(text: &str) -> Result<(usize, usize), Wrong> {
    let read = |part: &str| {
        part.trim()
            .parse()
            .ok()
            .filter(|count| (2..=MOST_CELLS).contains(count))
    };
    let size = text
        .split_once(['x', '×'])
        .and_then(|(rows, columns)| Some((read(rows)?, read(columns)?)));
    size.ok_or_else(|| {
        let what = format!("`{text}` is no size of a map");
        let remedy = format!("write rows x columns, 2 to {MOST_CELLS} each: 64x64");
        Wrong::option("--map", text, 0..text.len(), "not-a-size", what, remedy)
    })
}

/// An opened car, made ready to be driven in its state.
///
/// # Errors
/// No lever, or a surface that makes no grip curve, with what to do.
pub fn turn_bench(opened: &Opened) -> Result<TurnBench, Wrong> {
    let state = &opened.state;
    TurnBench::of(opened.car(), &state.laden, &state.surface, reading(opened))
        .map_err(|no_turn| no_turn_in_words(opened, &no_turn))
}

/// What comes of a technique in an opened car: the whole of a page's question, some half a millisecond.
///
/// # Errors
/// As [`turn_bench`]; a motion that cannot be followed.
pub fn turn(opened: &Opened, technique: &Technique) -> Result<Turn, Wrong> {
    turn_bench(opened)?
        .turn(technique)
        .map_err(|no_turn| no_turn_in_words(opened, &no_turn))
}

/// The technique with the centre coupling read in the other ways that the sheet leaves open, each by what then is so.
#[must_use]
pub fn turn_read_otherwise(opened: &Opened, technique: &Technique) -> Vec<(String, Brief)> {
    let state = &opened.state;
    engine::turn::read_otherwise(
        opened.car(),
        &state.laden,
        &state.surface,
        technique,
        reading(opened),
    )
    .into_iter()
    .map(|(reading, brief)| (if_read(&reading), brief))
    .collect()
}

/// The technique in every car that an opened car's tolerances allow.
#[must_use]
pub fn turn_study(opened: &Opened, technique: &Technique, plan: Plan) -> Study<Brief> {
    Manoeuvre {
        conditions: opened.state.conditions.clone(),
        reading: reading(opened),
        technique: *technique,
    }
    .study(&opened.sheet.read.inputs, &opened.assembled.toleranced, plan)
}

/// The coupling read in the way that leaves the sheet's own pull least in hand.
fn reading(opened: &Opened) -> Assumed {
    let (state, car) = (&opened.state, opened.car());
    let conditions = Conditions {
        speed: Technique::on(&state.surface, car).entry,
        ..state.conditions.clone()
    };
    let pull = conditions.pull_at(car, state.surface.peak);
    deciding(car, &state.laden, pull, conditions.warmth)
}

/// Why there is no turn, and what to do.
#[must_use]
pub fn no_turn_in_words(opened: &Opened, no_turn: &NoTurn) -> Wrong {
    let path = opened.sheet.path();
    let (slug, remedy) = match no_turn {
        NoTurn::NoLever => ("no-lever", "describe it under [lever] on the sheet"),
        NoTurn::NoSurface => (
            "unknown-surface",
            "describe it under [[surface]], or ask about another",
        ),
        NoTurn::Surface(_) => (
            "impossible-surface",
            "change the four figures of that [[surface]]: `slip_at_peak` and `stiffness` have to fit each other",
        ),
        NoTurn::Technique(_) => ("out-of-range", "choose a figure between the two"),
        NoTurn::Lost(_) => (
            "not-followed",
            "a technique this extreme is beyond what can be followed; shorten it, or take a slower entry",
        ),
    };
    Wrong::plain(&path, slug, no_turn.to_string(), remedy.to_owned())
}

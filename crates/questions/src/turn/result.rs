//! What `turn` answers, as other programs read it.

use assess::is_open;
use engine::ranges::Study;
use engine::turn::{
    After, Brief, Clutch, Grid, Release, SEARCHED_BY, StoppedBy, Swing, Technique, Trace, Turn, TurnVerdict,
};
use quantity::si::Angle;
use schemars::JsonSchema;
use serde::Serialize;

use super::helps::Helps;
use super::outcome::{AgainstRun, Run, Way};
use crate::result::{Num, OrWhy, RangeView};

/// Whether the car comes round.
#[derive(Serialize, JsonSchema)]
pub(super) struct TurnView {
    #[serde(flatten)]
    result: ResultView,
    /// Over the tolerances of the sheet, the driver doing the same.
    ranges: RangesView,
    /// Shares of the cars that the tolerances allow, between 0 and 1.
    chances: ChancesView,
    /// The three inputs that move a turn most, each moved by itself.
    swings: Vec<SwingView>,
    /// Other ways of reading the centre coupling that the sheet leaves open, with what then becomes of it.
    also: Vec<AlsoView>,
    /// Changes of the car that gain most, the most first; each driven at its own best moment.
    helps: OrWhy<Vec<HelpView>>,
    /// Another car, or the same one without the changes, doing the same.
    #[serde(skip_serializing_if = "Option::is_none")]
    against: Option<BesideView>,
}

/// One run.
#[derive(Serialize, JsonSchema)]
pub(super) struct ResultView {
    technique: TechniqueView,
    /// When both rear wheels first stood.
    rear_locked_from_s: OrWhy<Num>,
    rear_locked_for_s: Num,
    /// How long only the rear wheel inside the turn stood.
    inner_rear_only_for_s: Num,
    /// Both front wheels, in stretches of 0.05 s and more.
    front_locked_for_s: Num,
    /// Both front wheels dragged so far that they no longer steered.
    front_dragged_for_s: Num,
    /// Front wheels' rolling speed over their own speed over the ground, while the lever was pulled.
    front_speed_ratio: OrWhy<Num>,
    /// Below this ratio a front wheel no longer steers on this surface.
    front_keeps_ratio: Num,
    heading_at_release_rad: OrWhy<Num>,
    heading_end_rad: Num,
    heading_without_lever_at_release_rad: OrWhy<Num>,
    heading_without_lever_rad: Num,
    yaw_rate_peak_rad_s: Num,
    speed_at_release_m_s: OrWhy<Num>,
    speed_end_m_s: Num,
    /// Room that the wheels take: across the way in, and along it.
    room_m: [Num; 2],
    /// The bend that it is driven for.
    bend: BendView,
    verdict: VerdictView,
    /// What keeps it from coming round: `lever-gave-less`, `stood`, `left-wide`; all that is so.
    short_of: Vec<&'static str>,
    /// A little grip (3 %) or what the tolerances allow would make it another word.
    on_the_border: OrWhy<bool>,
    released_at_s: OrWhy<Num>,
    /// How far the car looks into the bend against its path when the lever is let go.
    nose_in_at_release_rad: OrWhy<Num>,
    nose_in_without_lever_rad: OrWhy<Num>,
    /// By how much further for the lever.
    lever_gave_rad: OrWhy<Num>,
    /// When it is out of the bend.
    out_at_s: OrWhy<Num>,
    /// What is left to the nearer edge of the road at the worst moment; below zero it is off the road.
    to_spare_m: OrWhy<Num>,
    /// The best moment of letting go, where one was given.
    best: OrWhy<BestView>,
    trace: TraceView,
}

#[derive(Serialize, JsonSchema)]
struct BendView {
    angle_rad: Num,
    /// Of the middle of the road.
    radius_m: Num,
    /// Of the road.
    width_m: Num,
}

#[derive(Serialize, JsonSchema)]
struct BestView {
    released_at_s: Num,
    verdict: VerdictView,
}

/// The first that fits, in this order.
#[derive(Serialize, JsonSchema)]
enum VerdictView {
    /// It rolls backwards before it is out of the bend.
    #[serde(rename = "spins")]
    Spins,
    /// It is out of the bend, on the road, and the lever has done its part.
    #[serde(rename = "comes-round")]
    ComesRound,
    /// The same, but off the road by up to a road's width.
    #[serde(rename = "comes-round-late")]
    ComesRoundLate,
    /// The front wheels are dragged and no longer steer.
    #[serde(rename = "ploughs")]
    Ploughs,
    /// Everything else.
    #[serde(rename = "rotates-little")]
    RotatesLittle,
}

/// What the driver does.
#[derive(Serialize, JsonSchema)]
struct TechniqueView {
    entry_m_s: Num,
    /// Positive to the left.
    steer_rad: Num,
    steer_at_s: Num,
    steer_in_s: Num,
    hand_n: Num,
    lever_at_s: Num,
    lever_rise_s: Num,
    clutch_down: bool,
    clutch_at_s: OrWhy<Num>,
    /// When the lever is let go.
    release_at_s: OrWhy<Num>,
    /// Heading at which it is let go.
    release_at_rad: OrWhy<Num>,
    /// `drives`, `hold` or `into-slide`.
    after: &'static str,
    throttle_nm: OrWhy<Num>,
    foot_n: OrWhy<Num>,
    until_s: Num,
}

/// The motion every 0.02 s. Wheels in the order front left, front right, rear left, rear right.
#[derive(Serialize, JsonSchema)]
struct TraceView {
    t_s: Vec<Num>,
    x_m: Vec<Num>,
    y_m: Vec<Num>,
    heading_rad: Vec<Num>,
    u_m_s: Vec<Num>,
    v_m_s: Vec<Num>,
    yaw_rate_rad_s: Vec<Num>,
    steer_rad: Vec<Num>,
    wheel_rad_s: [Vec<Num>; 4],
}

#[derive(Serialize, JsonSchema)]
struct RangesView {
    heading_at_release_rad: OrWhy<RangeView>,
    heading_end_rad: RangeView,
    rear_locked_for_s: RangeView,
}

#[derive(Serialize, JsonSchema)]
struct ChancesView {
    comes_round: OrWhy<Num>,
    comes_round_late: OrWhy<Num>,
    rotates_little: OrWhy<Num>,
    ploughs: OrWhy<Num>,
    spins: OrWhy<Num>,
}

#[derive(Serialize, JsonSchema)]
struct SwingView {
    /// `yaw_inertia`, `grip`, `roll_share_front`.
    input: &'static str,
    /// How far it is moved either way: of itself, or as a difference for the share.
    by: Num,
    /// With less of it, and with more.
    heading_at_release_rad: OrWhy<[Num; 2]>,
    heading_end_rad: [Num; 2],
    verdict: [VerdictView; 2],
}

#[derive(Serialize, JsonSchema)]
struct AlsoView {
    /// How the coupling is read otherwise.
    #[serde(rename = "if")]
    reading: String,
    verdict: VerdictView,
    heading_at_release_rad: OrWhy<Num>,
    heading_end_rad: Num,
}

#[derive(Serialize, JsonSchema)]
struct HelpView {
    /// What is changed.
    part: &'static str,
    /// Keys of the sheet that make it so, `KEY=VALUE`.
    sets: Vec<String>,
    verdict: VerdictView,
    lever_gave_rad: OrWhy<Num>,
    /// More than the car as it is gives at its own best moment.
    gain_rad: OrWhy<Num>,
    /// Pull that stops the rear wheels then, and travel of the grip at that.
    hand_to_lock_n: OrWhy<Num>,
    travel_to_lock_m: OrWhy<Num>,
}

#[derive(Serialize, JsonSchema)]
struct BesideView {
    /// Name of the car.
    car: String,
    /// What is not the same for both.
    #[serde(skip_serializing_if = "Option::is_none")]
    mind: Option<&'static str>,
    #[serde(flatten)]
    result: ResultView,
}

/// One technique over entry speed (rows) and pull (columns).
#[derive(Serialize, JsonSchema)]
pub(super) struct MapView {
    entry_m_s: Vec<Num>,
    hand_n: Vec<Num>,
    heading_end_rad: Vec<Vec<OrWhy<Num>>>,
    heading_at_release_rad: Vec<Vec<OrWhy<Num>>>,
    rear_locked_for_s: Vec<Vec<OrWhy<Num>>>,
    /// How much further into the bend the car looks at letting go for the lever.
    lever_gave_rad: Vec<Vec<OrWhy<Num>>>,
    /// Left to the nearer edge of the road at the worst moment.
    to_spare_m: Vec<Vec<OrWhy<Num>>>,
    /// `comes-round`, `comes-round-late`, `rotates-little`, `ploughs`, `spins`.
    verdict: Vec<Vec<OrWhy<String>>>,
}

/// A way through a bend.
#[derive(Serialize, JsonSchema)]
pub(super) struct SearchView {
    found: bool,
    technique: OrWhy<TechniqueView>,
    result: OrWhy<ResultView>,
    /// When the car looks the new way.
    reached_at_s: OrWhy<Num>,
    /// How fast it still is then.
    speed_reached_m_s: OrWhy<Num>,
    /// Left to the nearer edge of the road at the worst moment.
    to_spare_m: OrWhy<Num>,
    /// `rotation`, `width` or `lever`, where nothing was found.
    stopped_by: OrWhy<String>,
    /// The furthest that anything tried turned the car.
    furthest_rad: OrWhy<Num>,
    /// How far a wheel is beyond the edge at best.
    too_wide_by_m: OrWhy<Num>,
    /// The most that the lever gave where it came out on the road.
    lever_gave_at_most_rad: OrWhy<Num>,
    /// How it was looked for: a sample all over, then from the best of it.
    searched_by: Vec<&'static str>,
    seed: u32,
    sampled: usize,
    bettered: usize,
}

const NEVER: &str = "the lever is not let go before the end";

impl TurnView {
    /// Of what came out.
    pub(super) fn of(outcome: &Run<'_>) -> Self {
        let drawn = outcome.drawn.as_ref();
        let turn = &outcome.turn;
        let range = |figure: fn(&Brief) -> Option<f64>| drawn.and_then(|drawn| drawn.range(figure));
        let at_release = |brief: &Brief| brief.heading.at_release.map(|heading| heading.rad());
        Self {
            ranges: RangesView {
                heading_at_release_rad: OrWhy::or(
                    turn.heading
                        .at_release
                        .map(|heading| RangeView::of(heading.rad(), range(at_release))),
                    NEVER,
                ),
                heading_end_rad: RangeView::of(
                    turn.heading.end.rad(),
                    range(|brief| Some(brief.heading.end.rad())),
                ),
                rear_locked_for_s: RangeView::of(
                    turn.locking.rear_for.s(),
                    range(|brief| Some(brief.rear_for.s())),
                ),
            },
            chances: ChancesView {
                comes_round: chance(drawn, TurnVerdict::ComesRound),
                comes_round_late: chance(drawn, TurnVerdict::ComesRoundLate),
                rotates_little: chance(drawn, TurnVerdict::RotatesLittle),
                ploughs: chance(drawn, TurnVerdict::Ploughs),
                spins: chance(drawn, TurnVerdict::Spins),
            },
            swings: outcome.swings.iter().map(swing).collect(),
            also: outcome
                .otherwise
                .iter()
                .map(|(reading, brief)| AlsoView {
                    reading: reading.clone(),
                    verdict: verdict(brief.verdict),
                    heading_at_release_rad: OrWhy::or(
                        brief.heading.at_release.map(|heading| heading.rad()),
                        NEVER,
                    ),
                    heading_end_rad: brief.heading.end.rad().into(),
                })
                .collect(),
            helps: OrWhy::or(outcome.helps.as_ref().map(helps), "there was no time for it"),
            against: outcome
                .against
                .as_ref()
                .map(|AgainstRun { beside, turn }| BesideView {
                    car: beside.opened.sheet.name().to_owned(),
                    mind: beside.mind,
                    result: result(turn, false),
                }),
            result: result(
                turn,
                is_open(drawn.and_then(|drawn| drawn.chance(|brief| brief.verdict == turn.verdict))),
            ),
        }
    }
}

fn chance(drawn: Option<&Study<Brief>>, wanted: TurnVerdict) -> OrWhy<Num> {
    OrWhy::or(
        drawn.and_then(|drawn| drawn.chance(|brief| brief.verdict == wanted)),
        "nothing was drawn",
    )
}

fn helps(helps: &Helps) -> Vec<HelpView> {
    const CAPPED: &str = "a limiting valve caps the pressure, or a cable pulls";
    let view = |help: &super::Change| {
        let stands = &help.stands;
        let gain = stands.gains_on(&helps.as_it_is);
        HelpView {
            part: help.part,
            sets: help.sets.clone(),
            verdict: verdict(stands.brief.verdict),
            lever_gave_rad: OrWhy::or(stands.brief.judged.lever_gave.map(|gave| gave.rad()), NEVER),
            gain_rad: OrWhy::or(gain.map(|gain| gain.rad()), NEVER),
            hand_to_lock_n: OrWhy::or(stands.hand.map(|hand| hand.n()), CAPPED),
            travel_to_lock_m: OrWhy::or(stands.travel.map(|travel| travel.m()), CAPPED),
        }
    };
    helps.most().iter().map(view).collect()
}

fn swing(swing: &Swing) -> SwingView {
    let both = [&swing.less, &swing.more];
    let at_release = both.map(|brief| brief.heading.at_release.map(|heading| heading.rad()));
    let there: Option<[Num; 2]> = match at_release {
        [Some(less), Some(more)] => Some([less.into(), more.into()]),
        _ => None,
    };
    SwingView {
        input: swing.varied.name(),
        by: swing.varied.by().into(),
        heading_at_release_rad: OrWhy::or(there, NEVER),
        heading_end_rad: both.map(|brief| brief.heading.end.rad().into()),
        verdict: both.map(|brief| verdict(brief.verdict)),
    }
}

const fn verdict(of: TurnVerdict) -> VerdictView {
    match of {
        TurnVerdict::ComesRound => VerdictView::ComesRound,
        TurnVerdict::ComesRoundLate => VerdictView::ComesRoundLate,
        TurnVerdict::RotatesLittle => VerdictView::RotatesLittle,
        TurnVerdict::Ploughs => VerdictView::Ploughs,
        TurnVerdict::Spins => VerdictView::Spins,
    }
}

/// `open`: the tolerances leave the word open.
fn result(turn: &Turn, open: bool) -> ResultView {
    const SLOW: &str = "it is not let go, or too slow for its path to have a direction";
    const NEVER_OUT: &str = "it does not come out of the bend";
    let locking = &turn.locking;
    let (judged, bend) = (&turn.judged, &turn.technique.bend);
    let angle = |angle: Option<Angle>| OrWhy::or(angle.map(|angle| angle.rad()), SLOW);
    let best = turn.beside.and_then(|beside| beside.best);
    ResultView {
        technique: technique(&turn.technique),
        rear_locked_from_s: OrWhy::or(
            locking.rear_from.map(|from| from.s()),
            "the rear wheels never both locked",
        ),
        rear_locked_for_s: locking.rear_for.s().into(),
        inner_rear_only_for_s: locking.inner_only_for.s().into(),
        front_locked_for_s: locking.front_for.s().into(),
        front_dragged_for_s: locking.front_dragged_for.s().into(),
        front_speed_ratio: OrWhy::or(locking.front_speed_ratio, "the lever was not pulled"),
        front_keeps_ratio: turn.front_keeps.into(),
        heading_at_release_rad: OrWhy::or(turn.heading.at_release.map(|heading| heading.rad()), NEVER),
        heading_end_rad: turn.heading.end.rad().into(),
        heading_without_lever_at_release_rad: OrWhy::or(
            turn.without_lever.at_release.map(|heading| heading.rad()),
            NEVER,
        ),
        heading_without_lever_rad: turn.without_lever.end.rad().into(),
        yaw_rate_peak_rad_s: turn.yaw_rate_peak.rad_s().into(),
        speed_at_release_m_s: OrWhy::or(turn.speed_at_release.map(|speed| speed.m_s()), NEVER),
        speed_end_m_s: turn.speed_end.m_s().into(),
        room_m: turn.room.map(|length| length.m().into()),
        bend: BendView {
            angle_rad: bend.angle.rad().abs().into(),
            radius_m: bend.radius.m().into(),
            width_m: bend.width.m().into(),
        },
        verdict: verdict(turn.verdict),
        short_of: judged.short_of.names(),
        on_the_border: OrWhy::or(
            turn.beside.map(|beside| beside.on_the_border || open),
            "other grip was not looked at",
        ),
        released_at_s: OrWhy::or(turn.released.map(|at| at.s()), NEVER),
        nose_in_at_release_rad: angle(turn.nose_in[0]),
        nose_in_without_lever_rad: angle(turn.nose_in[1]),
        lever_gave_rad: angle(judged.lever_gave),
        out_at_s: OrWhy::or(judged.through.out_s, NEVER_OUT),
        to_spare_m: OrWhy::or(judged.to_spare.map(|spare| spare.m()), NEVER_OUT),
        best: OrWhy::or(
            best.map(|best| BestView {
                released_at_s: best.released.s().into(),
                verdict: verdict(best.verdict),
            }),
            "this run has it, or it was not looked for",
        ),
        trace: trace(&turn.trace),
    }
}

fn technique(of: &Technique) -> TechniqueView {
    let (release_at, release_angle) = match of.release {
        Release::At(at) if at < of.until => (Some(at.s().max(of.lever_at.s())), None),
        Release::At(_) | Release::Never | Release::Best => (None, None),
        Release::Heading(angle) => (None, Some(angle.rad())),
    };
    let why = match of.release {
        Release::Heading(_) => "it is let go at a heading",
        Release::At(_) | Release::Never | Release::Best => NEVER,
    };
    TechniqueView {
        entry_m_s: of.entry.m_s().into(),
        steer_rad: of.steer.rad().into(),
        steer_at_s: of.steer_at.s().into(),
        steer_in_s: of.steer_in.s().into(),
        hand_n: of.hand.n().into(),
        lever_at_s: of.lever_at.s().into(),
        lever_rise_s: of.lever_rise.s().into(),
        clutch_down: matches!(of.clutch, Clutch::DownAt(_)),
        clutch_at_s: OrWhy::or(
            match of.clutch {
                Clutch::DownAt(at) => Some(at.s()),
                Clutch::Up => None,
            },
            "the clutch stays up",
        ),
        release_at_s: OrWhy::or(release_at, why),
        release_at_rad: OrWhy::or(
            release_angle,
            if release_at.is_some() {
                "it is let go at a time"
            } else {
                NEVER
            },
        ),
        after: match of.after {
            After::Hold => "hold",
            After::IntoSlide => "into-slide",
            After::Drives => "drives",
        },
        throttle_nm: OrWhy::or(
            of.throttle.map(|throttle| throttle.torque.nm()),
            "the throttle stays closed",
        ),
        foot_n: OrWhy::or(of.foot.map(|foot| foot.force.n()), "no foot on the brake"),
        until_s: of.until.s().into(),
    }
}

fn trace(of: &Trace) -> TraceView {
    let all = |values: &[f64]| values.iter().map(|&value| value.into()).collect();
    TraceView {
        t_s: all(&of.t_s),
        x_m: all(&of.x_m),
        y_m: all(&of.y_m),
        heading_rad: all(&of.heading_rad),
        u_m_s: all(&of.u_m_s),
        v_m_s: all(&of.v_m_s),
        yaw_rate_rad_s: all(&of.yaw_rate_rad_s),
        steer_rad: all(&of.steer_rad),
        wheel_rad_s: [0, 1, 2, 3].map(|wheel: usize| all(&of.wheel_rad_s[wheel])),
    }
}

impl MapView {
    /// Of a grid.
    pub(super) fn of(grid: &Grid) -> Self {
        let cells = |figure: fn(&engine::turn::Cell) -> Option<f64>| {
            let cell = |cell: &Option<engine::turn::Cell>| {
                OrWhy::or(
                    cell.as_ref().and_then(figure),
                    "not followed, not let go, or never out of the bend",
                )
            };
            grid.cells
                .iter()
                .map(|row| row.iter().map(cell).collect())
                .collect()
        };
        Self {
            entry_m_s: grid.entries.iter().map(|entry| entry.m_s().into()).collect(),
            hand_n: grid.hands.iter().map(|hand| hand.n().into()).collect(),
            heading_end_rad: cells(|cell| Some(cell.heading_end.rad())),
            heading_at_release_rad: cells(|cell| cell.heading_at_release.map(|heading| heading.rad())),
            rear_locked_for_s: cells(|cell| Some(cell.rear_for.s())),
            lever_gave_rad: cells(|cell| cell.lever_gave.map(|gave| gave.rad())),
            to_spare_m: cells(|cell| cell.to_spare.map(|spare| spare.m())),
            verdict: grid
                .cells
                .iter()
                .map(|row| {
                    row.iter()
                        .map(|cell| {
                            OrWhy::or(cell.map(|cell| cell.verdict.name().to_owned()), "not followed")
                        })
                        .collect()
                })
                .collect(),
        }
    }
}

impl SearchView {
    /// Of what was found, or what stopped it.
    pub(super) fn of(outcome: &Way) -> Self {
        const FOUND: &str = "a way was found";
        const NOT: &str = "no way was found";
        let searched = &outcome.searched;
        let way = searched.found.as_ref().ok();
        let (stopped, furthest, wide, gave) = match &searched.found {
            Ok(_) => (None, None, None, None),
            Err(StoppedBy::Rotation(furthest)) => (Some("rotation"), Some(furthest.rad()), None, None),
            Err(StoppedBy::Width(by)) => (Some("width"), None, Some(by.m()), None),
            Err(StoppedBy::Lever(gave)) => (Some("lever"), None, None, Some(gave.rad())),
        };
        let other = if way.is_some() {
            FOUND
        } else {
            "something else stops it"
        };
        Self {
            found: way.is_some(),
            technique: OrWhy::or(way.map(|way| technique(&way.technique)), NOT),
            result: OrWhy::or(way.map(|way| result(&way.turn, false)), NOT),
            reached_at_s: OrWhy::or(way.map(|way| way.reached.s()), NOT),
            speed_reached_m_s: OrWhy::or(way.map(|way| way.speed.m_s()), NOT),
            to_spare_m: OrWhy::or(way.map(|way| way.to_spare.m()), NOT),
            stopped_by: OrWhy::or(stopped.map(str::to_owned), FOUND),
            furthest_rad: OrWhy::or(furthest, other),
            too_wide_by_m: OrWhy::or(wide, other),
            lever_gave_at_most_rad: OrWhy::or(gave, other),
            searched_by: SEARCHED_BY.to_vec(),
            seed: outcome.seed,
            sampled: searched.sampled,
            bettered: searched.bettered,
        }
    }
}

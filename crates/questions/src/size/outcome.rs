//! What a search over sold parts comes to.

use engine::car::Car;
use engine::heat::HeatBench;
use engine::lever::LeverBench;
use engine::sizing::{Breaks, Figures, FluidLimit, Found, FoundRow, Limits, Miss, turned};
use engine::thresholds::FOOT_LIMIT_ROAD;
use engine::turn::TurnVerdict;
use plumbing::prices::{Cost, Prices};
use quantity::si::{Length, TemperatureDifference};

use wording::Precision;

use super::parts::Searched;
use crate::options::{CHANGE, FLUID_MARGIN, FOOT, PEDAL_TRAVEL, ROOM, TURN_WORD, WANTED, WIDE};
use crate::part_groups::GROUPS;
use crate::prices::cost;
use crate::progress::tell;
use crate::question::Case;
use crate::state::{fluid_margin, turn_word};
use crate::trouble::Wrong;

/// Most rows that are shown.
const MOST_ROWS: usize = 10;

/// What came out.
#[derive(Debug)]
pub struct Outcome {
    /// What has to be kept.
    pub limits: Limits,
    /// How much was searched, and what kept the limits.
    pub found: Found,
    /// The car as it is; `None` where it cannot be measured against the limits, with why.
    pub own: Result<(Figures, Vec<Breaks>), Breaks>,
    /// Cars that no other is better than: those that are shown, the least change first.
    pub rows: Vec<Sized>,
    /// How many more there are of them.
    pub more: usize,
    /// Where none keeps the limits: the one that is least off, with what it overruns.
    pub miss: Option<(Sized, Miss)>,
    /// How far figures of hand and foot are known: it decides their digits.
    pub precision: Precision,
    /// Parts that were searched, with how many choices each.
    pub axes: Vec<(&'static str, usize)>,
}

/// A set of parts, and what it does.
#[derive(Clone, Debug)]
pub struct Sized {
    /// What is other than on the car, in words: part and choice.
    pub changed: Vec<(&'static str, String)>,
    /// Keys of the sheet that make it so, `KEY=VALUE`.
    pub sets: Vec<String>,
    /// Bore and ratio of the lever, as a sheet writes them.
    pub lever: [Option<String>; 2],
    /// What hand and foot have to do.
    pub figures: Figures,
    /// Torque there is at the driver's pull over torque needed, with cold brakes.
    pub in_hand_cold: Option<f64>,
    /// What the usual turn comes to.
    pub turn: Option<TurnVerdict>,
    /// What is left of the fluid to its wet boiling point over the stage.
    pub to_boiling: Option<TemperatureDifference>,
    /// What its parts come to with the person's own prices; `None` where none of them has one.
    pub cost: Option<Cost>,
    /// What it gives up against the others that are shown.
    pub gives_up: Vec<GivesUp>,
}

/// A figure in which another row is better.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum GivesUp {
    /// More pull than the lightest, by so much (N).
    Pull(f64),
    /// More travel than the shortest (m).
    Travel(f64),
    /// More foot than the lightest (N).
    Foot(f64),
    /// More of the pedal than the shortest (m).
    Pedal(f64),
    /// More parts than the fewest.
    Parts(usize),
}

impl Outcome {
    /// Of a car in its state.
    ///
    /// # Errors
    /// A lever without a cylinder; limits that do not read.
    pub fn of(case: &Case<'_>) -> Result<Self, Wrong> {
        let opened = case.opened;
        let groups = match case.said.text(&CHANGE) {
            Some(text) => crate::state::changing(text)?,
            None => GROUPS.map(|(group, _)| group).to_vec(),
        };
        let searched = Searched::of(opened, &groups, case.said.has(&WIDE))?;
        let (limits, conditions) = (limits(case)?, case.conditions());
        let space = searched.space();
        let found = space.search(&limits, &conditions, &|share| tell("trying parts", share));
        tell("trying parts", 1.0);
        let own = Figures::of(opened.car(), &limits, &conditions);
        let best = found.best.clone().into_rows();
        let shown = shortened(&best, &limits);
        let more = best.len() - shown.len();
        let sized = |row: &FoundRow| sized(&searched, row, &opened.prices);
        let mut rows: Vec<Sized> = shown.iter().map(sized).collect();
        check(case, &mut rows)?;
        give_up(&mut rows);
        let miss = rows
            .is_empty()
            .then(|| space.nearest(&limits, &conditions))
            .flatten()
            .map(|mut miss| {
                // It keeps all else.
                if miss.breaks.is_empty() {
                    miss.breaks.push(Breaks::Turn);
                }
                (sized(&miss.row), miss)
            });
        Ok(Self {
            limits,
            own,
            rows,
            more,
            miss,
            // No tolerance is drawn for a row, but the car's own decide its digits.
            precision: opened.precision(case.said.speed()),
            axes: searched.axes().collect(),
            found,
        })
    }

    /// Whether the car keeps the limits as it is, in a few words; nothing is searched for it.
    pub(super) fn short(case: &Case<'_>) -> String {
        let Ok(limits) = limits(case) else {
            return "limits do not read".to_owned();
        };
        match Figures::of(case.opened.car(), &limits, &case.conditions()) {
            Ok((_, breaks)) if breaks.is_empty() => "as it is, it keeps the limits".to_owned(),
            Ok((_, breaks)) => format!(
                "as it is: too much {}",
                breaks.first().map_or("", |first| in_words(*first))
            ),
            Err(Breaks::NoCar) => "no cylinder to choose".to_owned(),
            Err(why) => format!("stopped by {}", in_words(why)),
        }
    }
}

/// A limit in a word or two.
pub(super) const fn in_words(breaks: Breaks) -> &'static str {
    match breaks {
        Breaks::NoCar => "what makes no car",
        Breaks::Centre => "the centre",
        Breaks::Valve => "the valve",
        Breaks::Hand => "pull",
        Breaks::Travel => "travel of the grip",
        Breaks::Foot => "foot",
        Breaks::PedalTravel => "travel of the pedal",
        Breaks::LockOrder => "rear at first lock",
        Breaks::Fluid => "heat in the fluid",
        Breaks::Turn => "left of the turn",
    }
}

fn limits(case: &Case<'_>) -> Result<Limits, Wrong> {
    let (car, state) = (case.opened.car(), &case.opened.state);
    let length = |row| case.said.figure_si(row).map(Length::from_m);
    let wanted = case.said.text(&WANTED).unwrap_or(crate::settings::USUAL_WISH);
    let room = car.lever.as_ref().map_or(Length::ZERO, |lever| lever.room);
    let mut grips: Vec<f64> = car
        .runs_on
        .iter()
        .filter_map(|name| car.surface(name))
        .map(|surface| surface.peak)
        .collect();
    grips.push(state.surface.peak);
    grips.sort_by(f64::total_cmp);
    grips.dedup_by(|one, other| (*one - *other).abs() < 1e-9);
    Ok(Limits {
        hand: case.conditions().hand_of(car),
        travel: length(&ROOM).unwrap_or(room),
        foot: case.said.force(&FOOT).unwrap_or(FOOT_LIMIT_ROAD),
        pedal_travel: length(&PEDAL_TRAVEL),
        lead: crate::wish(wanted)?.margin(),
        grips,
        fluid: match case
            .said
            .text(&FLUID_MARGIN)
            .map(fluid_margin)
            .transpose()?
            .flatten()
        {
            Some(least) => Some(FluidLimit {
                stage: crate::heat::stage(case)?,
                least,
            }),
            None => None,
        },
        turn: case.said.text(&TURN_WORD).map(turn_word).transpose()?.flatten(),
    })
}

/// A few that stand for all: the least change, the lightest and the shortest of each kind, then those that leave most of
/// every limit.
fn shortened(best: &[FoundRow], limits: &Limits) -> Vec<FoundRow> {
    let share = |row: &FoundRow| {
        let figures = &row.figures;
        let pedal = limits
            .pedal_travel
            .map_or(0.0, |most| figures.pedal_travel.m() / most.m());
        figures.hand.n() / limits.hand.n()
            + figures.travel.m() / limits.travel.m()
            + figures.foot.n() / limits.foot.n()
            + pedal
            // A part more has to be worth a tenth of a limit.
            + 0.1 * f64::from(u32::try_from(row.changes).unwrap_or(u32::MAX))
    };
    let fewest = best.iter().map(|row| row.changes).min().unwrap_or(0);
    let least = |of: &dyn Fn(&FoundRow) -> f64, among: &dyn Fn(&FoundRow) -> bool| {
        best.iter()
            .filter(|row| among(row))
            .min_by(|one, other| of(one).total_cmp(&of(other)))
    };
    let all = |_: &FoundRow| true;
    let firsts = [
        least(&share, &|row| row.changes == fewest),
        least(&share, &all),
        least(&|row| row.figures.hand.n(), &all),
        least(&|row| row.figures.travel.m(), &all),
        least(&|row| row.figures.foot.n(), &all),
        least(&|row| row.figures.pedal_travel.m(), &all),
    ];
    let mut by_share: Vec<&FoundRow> = best.iter().collect();
    by_share.sort_by(|one, other| share(one).total_cmp(&share(other)));
    let mut rows: Vec<FoundRow> = Vec::new();
    for row in firsts.into_iter().flatten().chain(by_share) {
        if rows.len() < MOST_ROWS && !rows.iter().any(|known| known.picked == row.picked) {
            rows.push(row.clone());
        }
    }
    rows.sort_by(|one, other| {
        let order = one.changes.cmp(&other.changes);
        order.then_with(|| share(one).total_cmp(&share(other)))
    });
    rows
}

fn sized(searched: &Searched, row: &FoundRow, prices: &Prices) -> Sized {
    let changed = searched.changed(&row.picked);
    let [bore, ratio] = searched
        .lever(&row.picked)
        .map(|choice| choice.map(|choice| choice.label.clone()));
    let sets = changed
        .iter()
        .flat_map(|(_, choice)| choice.sets.iter().cloned())
        .collect();
    let changed: Vec<(&'static str, String)> = changed
        .into_iter()
        .map(|(part, choice)| (part, choice.label.clone()))
        .collect();
    Sized {
        cost: cost(&changed, prices),
        sets,
        changed,
        lever: [bore, ratio],
        figures: row.figures,
        in_hand_cold: None,
        turn: None,
        to_boiling: None,
        gives_up: Vec::new(),
    }
}

/// Drives each of the rows: through the usual turn, and over the stage; and pulls its lever with cold brakes.
fn check(case: &Case<'_>, rows: &mut [Sized]) -> Result<(), Wrong> {
    let (conditions, stage) = (case.conditions(), crate::heat::stage(case)?);
    let cars: Vec<Option<Car>> = rows
        .iter()
        .map(|row| case.opened.fitted(&row.sets).ok().map(|assembled| assembled.car))
        .collect();
    let there: Vec<Car> = cars.iter().flatten().cloned().collect();
    let mut turned = turned(&there, &conditions).into_iter();
    for (row, car) in rows.iter_mut().zip(&cars) {
        let Some(car) = car else { continue };
        row.turn = turned.next().flatten();
        let bench = LeverBench::of(car, conditions.warmth);
        row.in_hand_cold = bench.zip(conditions.grip_of(car)).map(|(bench, grip)| {
            let pull = conditions.pull_at(car, grip);
            bench.answer(&conditions.laden(car), pull).cold.in_hand
        });
        let heat = HeatBench::of(car, &conditions).drive(&stage);
        row.to_boiling = heat.ok().map(|heat| heat.front.to_wet.min(heat.rear.to_wet));
    }
    Ok(())
}

/// What each gives up: the figure in which it is furthest from the best of the others, and parts where they are more.
fn give_up(rows: &mut [Sized]) {
    let least = |of: fn(&Sized) -> f64| rows.iter().map(of).fold(f64::INFINITY, f64::min);
    let hand = least(|row| row.figures.hand.n());
    let travel = least(|row| row.figures.travel.m());
    let foot = least(|row| row.figures.foot.n());
    let pedal = least(|row| row.figures.pedal_travel.m());
    let parts = rows.iter().map(|row| row.changed.len()).min().unwrap_or(0);
    for row in rows {
        let figures = &row.figures;
        let mut all = [
            (figures.hand.n() / hand, GivesUp::Pull(figures.hand.n() - hand)),
            (
                figures.travel.m() / travel,
                GivesUp::Travel(figures.travel.m() - travel),
            ),
            (figures.foot.n() / foot, GivesUp::Foot(figures.foot.n() - foot)),
            (
                figures.pedal_travel.m() / pedal,
                GivesUp::Pedal(figures.pedal_travel.m() - pedal),
            ),
        ];
        all.sort_by(|one, other| other.0.total_cmp(&one.0));
        row.gives_up = all
            .into_iter()
            .filter(|(share, _)| *share > 1.05)
            .take(2)
            .map(|(_, what)| what)
            .collect();
        if row.changed.len() > parts {
            row.gives_up.push(GivesUp::Parts(row.changed.len() - parts));
        }
    }
}

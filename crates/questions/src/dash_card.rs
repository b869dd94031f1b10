//! What is stuck to the dash: stage and road settings, and the one pull that tells whether all is as it was.

use engine::brake::Warmth;
use engine::hydraulics::{Forces, Hydraulics};
use engine::lever::{LeverBench, Pull};
use engine::ranges::{Sampling, study};
use quantity::si::Force;
use wording::Measured;

use crate::lever::in_short;
use crate::question::{Case, Question as _};
use crate::report::{Detail, Table};
use crate::settings;
use crate::trouble::Wrong;

/// The pull of the check: a luggage scale reads it well, and a hand holds it still.
pub const CHECK_PULL: Force = Force::from_n(100.0);

/// The card of a car.
#[derive(Clone, Debug, PartialEq)]
pub struct DashCard {
    /// What is wanted at first lock: `front-first 5 %`.
    pub wanted: String,
    /// A row a surface and load: the stage's setting, and the road's where the car goes there.
    pub settings: Table,
    /// What is pulled: `100 N (10.2 kg)`; `None` without a lever's cylinder.
    pub pulled: Option<String>,
    /// Where the grip then stands, warm and cold.
    pub pull: Vec<Detail>,
    /// What stops the rear wheels on the ground that was asked about, warm and cold.
    pub stops: Vec<Detail>,
    /// What it means when the grip stands elsewhere.
    pub otherwise: Option<String>,
}

impl DashCard {
    /// Of a car in its state, its tolerances drawn.
    ///
    /// # Errors
    /// What is no wish.
    pub fn of(case: &Case<'_>) -> Result<Self, Wrong> {
        let sampling = Sampling {
            draws: settings::Ask.draws().min(case.sampling.draws),
            ..case.sampling
        };
        let (wanted, settings) = settings::on_a_card(&Case { sampling, ..*case })?;
        let car = case.opened.car();
        let lever = car.lever.as_ref().filter(|lever| {
            use engine::car::LeverKind::{Inline, Separate};
            matches!(lever.kind, Inline(_) | Separate(..))
        });
        let units = &case.units;
        let most = lever.map(|lever| lever.hand_pull);
        let least = most.map(|most| if most > CHECK_PULL { CHECK_PULL } else { most });
        let (Some(most), Some(least)) = (most, least) else {
            return Ok(Self {
                wanted,
                settings,
                pulled: None,
                pull: Vec::new(),
                stops: Vec::new(),
                otherwise: None,
            });
        };
        let pulls = [Warmth::Warm, Warmth::Cold].map(|warmth| says(case, warmth, [least, most]));
        let pull = match pulls {
            // Friction moves no travel: only what gives way with heat does.
            [Some(warm), Some(cold)] if warm == cold => vec![Detail::new("warm or cold", warm)],
            [warm, cold] => [("warm", warm), ("cold", cold)]
                .into_iter()
                .filter_map(|(name, says)| Some(Detail::new(name, says?)))
                .collect(),
        };
        Ok(Self {
            wanted,
            settings,
            pulled: Some(wording::pull(least, units)),
            pull,
            stops: stops(case, most),
            otherwise: Some(format!(
                "Firm by: where {} ends at the most. Beyond it, or longer at each pull: look for air, a leak, worn pads. \
                 Do not start.",
                wording::pull(most, units)
            )),
        })
    }
}

/// `320 N, 166 mm`: what stops the rear wheels, as the lever's answer says it.
fn stops(case: &Case<'_>, hand: Force) -> Vec<Detail> {
    let opened = case.opened;
    let conditions = case.conditions();
    let pull = Pull {
        hand,
        grip: opened.state.surface.peak,
        speed: conditions.speed,
    };
    let bench = LeverBench::of(opened.car(), Warmth::Warm);
    let Some(answer) = bench.map(|bench| bench.answer(&opened.state.laden, pull)) else {
        return Vec::new();
    };
    [("warm", &answer.to_lock), ("cold", &answer.cold)]
        .map(|(name, to_lock)| Detail::new(name, in_short(to_lock, case)))
        .to_vec()
}

/// `66 to 74 mm, firm by 95 mm`: the travel of two pulls over the tolerances.
fn says(case: &Case<'_>, warmth: Warmth, pulls: [Force; 2]) -> Option<String> {
    let (opened, units) = (case.opened, &case.units);
    let laden = &opened.state.laden;
    let travels = |car: &engine::car::Car| {
        let hydraulics = Hydraulics::of(car, warmth);
        pulls.map(|hand| {
            let forces = Forces {
                foot: Force::ZERO,
                hand,
            };
            let lever = hydraulics.answer(laden, forces).lever?;
            Some((lever.travel?.m(), lever.runs_out.is_some()))
        })
    };
    let inputs = &opened.sheet.read.inputs;
    let drawn = study(inputs, &opened.assembled.toleranced, case.sampling, travels);
    let [check, full] = travels(opened.car());
    let (check, full) = (check?, full?);
    let range = |pull: usize| drawn.range(|travels: &[Option<(f64, bool)>; 2]| travels[pull].map(|(m, _)| m));
    let check = Measured::new(check.0, range(0), units.length);
    let firm = Measured::new(full.0, range(1), units.length);
    let check = check.range.map_or(check.value.text, |range| range.text);
    let by = firm.range.map_or(firm.value.text, |range| range.high.text);
    let end = if full.1 { "; there it ends" } else { "" };
    Some(format!("{check}, firm by {by}{end}"))
}

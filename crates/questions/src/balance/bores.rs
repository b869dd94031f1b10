//! Every bore that is sold, tried in the place of the car's master cylinder or of one of its two.

use engine::balance::{Balance, First};
use engine::car::sold::MASTER_BORES;
use engine::car::{Car, Master};
use engine::hydraulics::{Forces, Hydraulics};
use engine::thresholds::{FOOT_LIMIT, FOOT_LIMIT_ROAD};
use quantity::si::{Force, Length, Pressure, Speed};
use schemars::JsonSchema;
use serde::Serialize;
use wording::{Column, Precision, Units};

use crate::opened::{Opened, SAME_SIZE};
use crate::report::{Block, Section, Table, TableRow};
use crate::result::{CsvTable, Num, OrWhy};
use crate::trouble::Wrong;

/// Which cylinder a bore is tried in.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
pub enum MasterCylinder {
    /// The one of a tandem.
    Tandem,
    /// The front one of two.
    Front,
    /// The rear one of two.
    Rear,
}

impl MasterCylinder {
    const fn key(self) -> &'static str {
        match self {
            Self::Tandem => "master.bore",
            Self::Front => "master.front_bore",
            Self::Rear => "master.rear_bore",
        }
    }

    const fn named(self) -> &'static str {
        match self {
            Self::Tandem => "Bores of the master cylinder",
            Self::Front => "Bores of the front cylinder",
            Self::Rear => "Bores of the rear cylinder",
        }
    }
}

/// A bore, and what the foot does with it.
#[derive(Debug)]
pub struct MasterTried {
    /// Where.
    pub cylinder: MasterCylinder,
    /// As it is written on a sheet.
    pub text: String,
    /// How large.
    pub bore: Length,
    /// Whether the car has it.
    pub own: bool,
    /// The foot at first lock on the ground that was asked about; `None` where nothing locks.
    pub foot: Option<Force>,
    /// What the pedal travels for it.
    pub travel: Option<Length>,
    /// What the road rule's foot makes of pressure in that cylinder.
    pub pressed: Pressure,
    /// By how much the front leads.
    pub front_first_by: Option<f64>,
    /// What ends it, in a word each; empty: it does it.
    pub ends: Vec<&'static str>,
    /// What is to be minded of one that does it.
    pub mind: Option<&'static str>,
}

/// Every bore in every cylinder that the car has.
///
/// # Errors
/// A bore with which the sheet makes no car.
pub(super) fn tried(opened: &Opened, speed: Speed) -> Result<Vec<MasterTried>, Wrong> {
    let cylinders = match opened.car().master {
        Master::Tandem { bore, .. } => vec![(MasterCylinder::Tandem, bore)],
        Master::Twin {
            front_bore,
            rear_bore,
            ..
        } => vec![
            (MasterCylinder::Front, front_bore),
            (MasterCylinder::Rear, rear_bore),
        ],
    };
    let mut all = Vec::new();
    for (cylinder, own) in cylinders {
        let mut bores: Vec<(String, Length)> = MASTER_BORES
            .iter()
            .map(|size| (size.text.to_owned(), size.length()))
            .filter(|(_, bore)| (bore.m() - own.m()).abs() > SAME_SIZE.m())
            .collect();
        bores.push((opened.size_as_written(cylinder.key(), own), own));
        bores.sort_by(|one, other| one.1.m().total_cmp(&other.1.m()));
        for (text, bore) in bores {
            let is_own = (bore.m() - own.m()).abs() <= SAME_SIZE.m();
            let fitted = if is_own {
                None
            } else {
                Some(opened.fitted(&[format!("{}={text}", cylinder.key())])?.car)
            };
            let car = fitted.as_ref().unwrap_or_else(|| opened.car());
            all.push(one(opened, car, speed, cylinder, text, bore, is_own));
        }
    }
    Ok(all)
}

fn one(
    opened: &Opened,
    car: &Car,
    speed: Speed,
    cylinder: MasterCylinder,
    text: String,
    bore: Length,
    own: bool,
) -> MasterTried {
    let state = &opened.state;
    let hydraulics = Hydraulics::of(car, state.conditions.warmth);
    let pressed = |foot: Force| {
        let forces = Forces {
            foot,
            hand: Force::ZERO,
        };
        hydraulics.answer(&state.laden, forces)
    };
    let lock = Balance::of(car, hydraulics.clone(), state.laden, speed).lock(state.surface.peak);
    let at_rule = pressed(FOOT_LIMIT_ROAD).pedal.chambers[usize::from(cylinder == MasterCylinder::Rear)];
    let at_lock = lock.at.as_ref().map(|point| (point, pressed(point.foot).pedal));
    let mut ends = Vec::new();
    let mut mind = None;
    match &at_lock {
        None if pressed(FOOT_LIMIT).pedal.runs_out => ends.push("stroke"),
        None => ends.push("foot"),
        Some((_, pedal)) if pedal.runs_out => ends.push("stroke"),
        Some(_) if lock.first == First::Rear => mind = Some("rear first"),
        Some((point, _)) if point.foot > FOOT_LIMIT_ROAD => mind = Some("hard"),
        Some(_) => {}
    }
    MasterTried {
        cylinder,
        text,
        bore,
        own,
        foot: at_lock.as_ref().map(|(point, _)| point.foot),
        travel: at_lock.as_ref().map(|(_, pedal)| pedal.travel),
        pressed: at_rule,
        front_first_by: at_lock
            .as_ref()
            .map(|(point, _)| point.front_first_by)
            .filter(|by| by.is_finite()),
        ends,
        mind,
    }
}

/// A section a cylinder.
pub(super) fn sections(
    opened: &Opened,
    bores: &[MasterTried],
    precision: &Precision,
    units: &Units,
) -> Vec<Section> {
    let of = |cylinder: MasterCylinder| -> Vec<&MasterTried> {
        let all = bores.iter();
        all.filter(|tried| tried.cylinder == cylinder).collect()
    };
    let boosted = opened.car().pedal.booster.is_some();
    [
        MasterCylinder::Tandem,
        MasterCylinder::Front,
        MasterCylinder::Rear,
    ]
    .into_iter()
    .map(|cylinder| (cylinder, of(cylinder)))
    .filter(|(_, tried)| !tried.is_empty())
    .map(|(cylinder, tried)| section(cylinder, &tried, boosted, precision, units))
    .collect()
}

fn section(
    cylinder: MasterCylinder,
    tried: &[&MasterTried],
    boosted: bool,
    precision: &Precision,
    units: &Units,
) -> Section {
    let able: Vec<&&MasterTried> = tried.iter().filter(|tried| tried.ends.is_empty()).collect();
    let summary = match able[..] {
        [] => "none does it".to_owned(),
        [one] => format!("{} does it", one.text),
        [least, .., most] => format!("{} to {} do it", least.text, most.text),
    };
    let mut said = vec![
        "Stroke: the cylinder's ends before a wheel stops. Foot: nothing stops at any force looked at."
            .to_owned(),
        format!(
            "Hard: it takes more than {} of foot. Rear first: the rear stops before the front.",
            wording::figure(FOOT_LIMIT_ROAD.n(), units.force)
        ),
    ];
    if boosted {
        said.push("The booster pushes as hard as it does now, whatever the bore behind it.".to_owned());
    }
    Section::new(cylinder.named(), summary, None)
        .with(Block::Table(table(tried, cylinder, precision, units)))
        .with(Block::List(said))
        .with(Block::Text(
            "The stroke is taken as the car's own. Sizes are common practice; other ones are sold too."
                .to_owned(),
        ))
}

fn table(tried: &[&MasterTried], cylinder: MasterCylinder, precision: &Precision, units: &Units) -> Table {
    let feet = Column::of(
        units.force,
        tried.iter().filter_map(|tried| tried.foot).map(|foot| foot.n()),
    );
    let travels = Column::of(
        units.length,
        tried
            .iter()
            .filter_map(|tried| tried.travel)
            .map(|travel| travel.m()),
    );
    let pressures = Column::of(units.pressure, tried.iter().map(|tried| tried.pressed.pa()));
    let row = |tried: &&MasterTried| TableRow {
        cells: vec![
            if tried.own {
                format!("own: {}", tried.text)
            } else {
                tried.text.clone()
            },
            tried.foot.map_or_else(
                || wording::NONE.to_owned(),
                |foot| feet.known(foot.n(), precision.foot.filter(|_| tried.own)),
            ),
            travels.maybe(tried.travel.map(|travel| travel.m())),
            pressures.show(tried.pressed.pa()),
            tried
                .front_first_by
                .map_or_else(|| wording::NONE.to_owned(), wording::margin),
            if tried.ends.is_empty() {
                tried.mind.unwrap_or_default().to_owned()
            } else {
                tried.ends.join(", ")
            },
        ],
        struck: !tried.ends.is_empty(),
        own: tried.own,
        tries: if tried.own {
            Vec::new()
        } else {
            vec![format!("{}={}", cylinder.key(), tried.text)]
        },
        ..TableRow::default()
    };
    Table {
        caption: "What each bore takes to stop the first wheel".to_owned(),
        heads: vec![
            "bore".to_owned(),
            wording::named("foot", units.force),
            wording::named("pedal", units.length),
            format!(
                "at {}, {}",
                wording::figure(FOOT_LIMIT_ROAD.n(), units.force),
                units.pressure.shown()
            ),
            "front leads".to_owned(),
            "limit".to_owned(),
        ],
        names_row: 0,
        rows: tried.iter().map(row).collect(),
        of_words: false,
    }
}

/// A row of the machine-read result.
#[derive(Serialize, JsonSchema)]
pub(super) struct MasterView {
    /// Which cylinder: `tandem`, `front`, `rear`.
    cylinder: MasterCylinder,
    /// As a sheet writes it.
    bore: String,
    bore_m: Num,
    /// Whether the car has it.
    own: bool,
    /// Whether a wheel stops within the foot and the stroke that are looked at.
    does_it: bool,
    /// What ends it: `stroke`, `foot`.
    ends: Vec<&'static str>,
    /// At first lock on the ground that was asked about.
    foot_force_n: OrWhy<Num>,
    /// Of the pedal, at first lock.
    travel_m: OrWhy<Num>,
    /// In that cylinder, at 500 N of foot.
    pressure_at_500_n_pa: Num,
    front_first_by: OrWhy<Num>,
}

pub(super) fn views(bores: &[MasterTried]) -> Option<Vec<MasterView>> {
    const NOTHING: &str = "nothing locks";
    let view = |tried: &MasterTried| MasterView {
        cylinder: tried.cylinder,
        bore: tried.text.clone(),
        bore_m: tried.bore.m().into(),
        own: tried.own,
        does_it: tried.ends.is_empty(),
        ends: tried.ends.clone(),
        foot_force_n: OrWhy::or(tried.foot.map(|foot| foot.n()), NOTHING),
        travel_m: OrWhy::or(tried.travel.map(|travel| travel.m()), NOTHING),
        pressure_at_500_n_pa: tried.pressed.pa().into(),
        front_first_by: OrWhy::or(
            tried.front_first_by,
            "nothing locks, or the rear brakes do nothing yet",
        ),
    };
    (!bores.is_empty()).then(|| bores.iter().map(view).collect())
}

/// The same for a spreadsheet, in SI.
pub(super) fn csv(bores: &[MasterTried]) -> Vec<CsvTable> {
    if bores.is_empty() {
        return Vec::new();
    }
    let or_empty = |value: Option<f64>| value.map_or_else(String::new, |value| format!("{value:.6}"));
    let row = |tried: &MasterTried| {
        vec![
            match tried.cylinder {
                MasterCylinder::Tandem => "tandem",
                MasterCylinder::Front => "front",
                MasterCylinder::Rear => "rear",
            }
            .to_owned(),
            tried.text.clone(),
            format!("{:.7}", tried.bore.m()),
            if tried.own { "yes" } else { "" }.to_owned(),
            or_empty(tried.foot.map(|foot| foot.n())),
            or_empty(tried.travel.map(|travel| travel.m())),
            format!("{:.0}", tried.pressed.pa()),
            or_empty(tried.front_first_by),
            tried.ends.join(", "),
        ]
    };
    vec![CsvTable {
        name: "master-bores.csv",
        head: vec![
            "cylinder",
            "bore",
            "bore [m]",
            "the car's own",
            "foot at first lock [N]",
            "pedal travel [m]",
            "pressure at 500 N [Pa]",
            "front leads by",
            "what ends it",
        ],
        rows: bores.iter().map(row).collect(),
    }]
}

//! The state that a car is in while something is asked of it, from what the command line says.

use engine::Conditions;
use engine::balance::Wish;
use engine::brake::Warmth;
use engine::car::{Car, Date, Surface};
use engine::loads::{Aboard, Facing, Fuel, Grade, Laden};
use engine::turn::TurnVerdict;
use nearest::nearest;
use quantity::si::{Force, Speed, TemperatureDifference, Volume};
use quantity::{Amount, Dimension, Spread, units_of};

use wording::Units;

use crate::trouble::Wrong;

/// What it drives on when nothing is said.
const USUAL_SURFACE: &str = "hard gravel";

/// The range of a figure that an option gives, as it is written on a sheet.
pub(crate) type Range = (&'static str, &'static str);

pub(crate) const GRIP: Range = ("0.02", "2.5");
pub(crate) const FOOT: Range = ("0 N", "3000 N");
pub(crate) const HAND: Range = ("0 N", "2000 N");
pub(crate) const ROOM: Range = ("10 mm", "1 m");
pub(crate) const SPEED: Range = ("1 km/h", "400 km/h");
pub(crate) const SLOPE: Range = ("0 %", "60 %");
pub(crate) const MOMENT: Range = ("0 s", "60 s");
pub(crate) const AMBIENT: Range = ("-40 C", "55 C");

/// What is said of a car's state, as a person writes it; `None` where nothing is said.
#[derive(Clone, Debug)]
pub struct StateText {
    /// Name of the surface.
    pub surface: Option<String>,
    /// Grip in the place of the surface's peak.
    pub grip: Option<String>,
    /// Fuel: a volume, `dry`, `half`, `full`.
    pub fuel: Option<String>,
    /// Neither crew nor items aboard.
    pub no_crew: bool,
    /// Cold brakes.
    pub cold: bool,
    /// Rise over run of the road.
    pub slope: Option<String>,
    /// Which way the car faces on it: `up` or `down`.
    pub facing: Option<String>,
    /// The day, `2026-05-01`.
    pub on: Option<String>,
    /// The day when none is said.
    pub today: Date,
}

impl StateText {
    /// Nothing said, on a day.
    #[must_use]
    pub const fn silent(today: Date) -> Self {
        Self {
            surface: None,
            grip: None,
            fuel: None,
            no_crew: false,
            cold: false,
            slope: None,
            facing: None,
            on: None,
            today,
        }
    }
}

/// A car's state.
#[derive(Clone, Debug)]
pub struct State {
    /// The operating point. Speed, air, foot and hand are as usual: options that only some questions take, see
    /// [`Case::conditions`](crate::question::Case::conditions).
    pub conditions: Conditions,
    /// What it drives on, its peak as asked for.
    pub surface: Surface,
    /// How it stands on its wheels with all that.
    pub laden: Laden,
    /// Whether a slope was asked for; else it stands on the level.
    pub slope_given: bool,
    /// The day.
    pub day: Date,
}

impl State {
    /// Reads the options for a car. Everything that is wrong is found at once.
    ///
    /// # Errors
    /// Figures that cannot be read, surfaces that the car does not know, more fuel than the tank holds.
    pub fn of(car: &Car, options: &StateText) -> Result<Self, Wrong> {
        let mut wrong = Wrong::default();
        let surface = wrong.note(surface(car, options));
        let fuel = wrong.note(fuel(car, options.fuel.as_deref()));
        let grade = wrong.note(grade(options));
        let day = wrong.note(options.on.as_deref().map_or_else(|| Ok(options.today), day));
        match (surface, fuel, day, grade) {
            (Some(surface), Some(fuel), Some(day), Some(grade)) => {
                let crew = !options.no_crew;
                let laden = Laden::of(car, Aboard { crew, fuel }).on(grade);
                Ok(Self {
                    conditions: Conditions {
                        surface: std::sync::Arc::clone(&surface.name),
                        grip: options.grip.is_some().then_some(surface.peak),
                        aboard: Aboard {
                            crew,
                            // The litres of this car, in every car that its tolerances allow.
                            fuel: Fuel::Of(laden.fuel),
                        },
                        grade,
                        warmth: if options.cold { Warmth::Cold } else { Warmth::Warm },
                        day: Some(day),
                        ..Conditions::default()
                    },
                    surface,
                    laden,
                    slope_given: options.slope.is_some(),
                    day,
                })
            }
            _ => Err(wrong),
        }
    }
}

/// The force of a foot, within what a foot and a pedal can do.
///
/// # Errors
/// What is no force, or none that is computed.
pub fn foot(text: &str) -> Result<Force, Wrong> {
    figure("--foot", text, Dimension::Force, FOOT).map(Force::from_n)
}

/// The force of a hand, within what a lever is tried with.
///
/// # Errors
/// What is no force, or none that is computed.
pub fn hand(text: &str) -> Result<Force, Wrong> {
    figure("--hand", text, Dimension::Force, HAND).map(Force::from_n)
}

/// The speed of the car; 50 km/h when nothing is said.
///
/// # Errors
/// What is no speed, or none that is computed.
pub fn speed(text: Option<&str>) -> Result<Speed, Wrong> {
    let text = text.unwrap_or("50 km/h");
    figure("--speed", text, Dimension::Speed, SPEED).map(Speed::from_m_s)
}

/// A list of grips, commas between.
///
/// # Errors
/// Members that are no grip.
pub fn grips(text: &str) -> Result<Vec<f64>, Wrong> {
    let mut wrong = Wrong::default();
    let grips: Vec<f64> = text
        .split(',')
        .filter_map(|piece| wrong.note(figure("--grips", piece.trim(), Dimension::Ratio, GRIP)))
        .collect();
    if wrong.is_empty() { Ok(grips) } else { Err(wrong) }
}

/// The lever ratios of a list, commas between.
///
/// # Errors
/// Members that are no ratio of a lever.
pub(crate) fn ratios(text: &str) -> Result<Vec<f64>, Wrong> {
    let mut wrong = Wrong::default();
    let ratios: Vec<f64> = text
        .split(',')
        .filter_map(|piece| wrong.note(figure("--ratios", piece.trim(), Dimension::Ratio, ("1", "30"))))
        .collect();
    if wrong.is_empty() { Ok(ratios) } else { Err(wrong) }
}

/// The groups of parts of a list, commas between; `all` for every one.
///
/// # Errors
/// Members that are no group of parts.
pub(crate) fn changing(text: &str) -> Result<Vec<&'static str>, Wrong> {
    let known = crate::part_groups::GROUPS.map(|(group, _)| group);
    let mut groups = Vec::new();
    let mut wrong = Wrong::default();
    for piece in text.split(',').map(str::trim) {
        match known.iter().find(|group| **group == piece) {
            Some(group) => groups.push(*group),
            None if piece == "all" => groups.extend(known),
            None => {
                let what = format!("`{piece}` is no group of parts");
                let nearest = nearest::nearest_one(piece, known.iter().copied());
                let remedy = nearest.map_or_else(
                    || format!("there are: {}, all", known.join(", ")),
                    |nearest| format!("did you mean `{nearest}`? There are: {}, all", known.join(", ")),
                );
                wrong.add(Wrong::option(
                    "--change",
                    text,
                    0..text.len(),
                    "unknown-part",
                    what,
                    remedy,
                ));
            }
        }
    }
    if wrong.is_empty() { Ok(groups) } else { Err(wrong) }
}

/// What an option says that sets no limit.
const ANY: &str = "any";

/// The least that is left to the fluid's wet boiling point: `20 C`, `36 F`; `any`: no limit.
///
/// # Errors
/// What is no number of degrees between 0 and 200 °C.
pub(crate) fn fluid_margin(text: &str) -> Result<Option<TemperatureDifference>, Wrong> {
    if text.trim() == ANY {
        return Ok(None);
    }
    let degrees = |text: &str| {
        let number = text
            .trim_end_matches(char::is_alphabetic)
            .trim_end_matches('°')
            .trim();
        let unit = text.get(number.len()..)?.trim().trim_start_matches('°');
        let per_degree = match unit {
            "C" | "K" => 1.0,
            "F" => 5.0 / 9.0,
            _ => return None,
        };
        let dk = number.parse::<f64>().ok()? * per_degree;
        (0.0..=200.0).contains(&dk).then_some(dk)
    };
    match degrees(text.trim()) {
        Some(dk) => Ok(Some(TemperatureDifference::from_dk(dk))),
        None => {
            let what = format!("`{text}` is no margin to boiling");
            let remedy = "write degrees from 0 to 200 with their unit, such as \"20 C\", or any".to_owned();
            let option = "--fluid-margin";
            Err(Wrong::option(
                option,
                text,
                0..text.len(),
                "unknown-margin",
                what,
                remedy,
            ))
        }
    }
}

/// The least that the turn has to come to: `comes-round`, `comes-round-late`; `any`: no limit.
///
/// # Errors
/// Any other word.
pub(crate) fn turn_word(text: &str) -> Result<Option<TurnVerdict>, Wrong> {
    let wanted = [TurnVerdict::ComesRound, TurnVerdict::ComesRoundLate];
    let said = text.trim().replace(' ', "-");
    match wanted.into_iter().find(|verdict| verdict.name() == said) {
        Some(verdict) => Ok(Some(verdict)),
        None if said == ANY => Ok(None),
        None => {
            let what = format!("`{text}` is nothing that a turn can be held to");
            let remedy = "write comes-round, comes-round-late, or any".to_owned();
            let option = "--turn-word";
            Err(Wrong::option(
                option,
                text,
                0..text.len(),
                "unknown-word",
                what,
                remedy,
            ))
        }
    }
}

/// What is wanted at first lock: `front-first 5 %`, `even`, `rear-first 3 %`.
///
/// # Errors
/// What is no such wish.
pub fn wish(text: &str) -> Result<Wish, Wrong> {
    let trouble = || {
        let what = format!("`{text}` is no wish for the first lock");
        let remedy = "write \"front-first 5 %\", even, or \"rear-first 3 %\"".to_owned();
        Wrong::option("--wanted", text, 0..text.len(), "unknown-wish", what, remedy)
    };
    let plain = text.trim();
    if plain == "even" {
        return Ok(Wish::EVEN);
    }
    let (which, share) = plain.split_once(char::is_whitespace).ok_or_else(trouble)?;
    let wish: fn(f64) -> Wish = match which {
        "front-first" => Wish::front_first,
        "rear-first" => Wish::rear_first,
        _ => return Err(trouble()),
    };
    figure("--wanted", share.trim(), Dimension::Ratio, ("0 %", "90 %")).map(wish)
}

/// The units of `--units psi,in,lbf`; the usual ones where nothing is said.
///
/// # Errors
/// Units that are none, or two for one kind of figure.
pub fn units(list: Option<&str>) -> Result<Units, Wrong> {
    let Some(list) = list else {
        return Ok(Units::default());
    };
    Units::of(list).map_err(|faults| {
        let mut wrong = Wrong::default();
        for fault in faults {
            wrong.add(Wrong::option(
                "--units",
                list,
                fault.span,
                fault.slug,
                fault.text,
                fault.remedy,
            ));
        }
        wrong
    })
}

fn surface(car: &Car, options: &StateText) -> Result<Surface, Wrong> {
    let name = options.surface.as_deref().unwrap_or(USUAL_SURFACE);
    let grip = options
        .grip
        .as_deref()
        .map(|text| figure("--grip", text, Dimension::Ratio, GRIP))
        .transpose()?;
    let Some(surface) = car.surface(name) else {
        let names: Vec<&str> = car.surfaces.iter().map(|surface| &*surface.name).collect();
        let near = nearest(name, names.iter().copied());
        let remedy = if near.is_empty() {
            format!("there are: {}", names.join(", "))
        } else {
            let near: Vec<String> = near.iter().map(|near| format!("\"{near}\"")).collect();
            format!("did you mean {}?", near.join(" or "))
        };
        let text = format!("there is no surface `{name}`");
        return Err(Wrong::option(
            "--surface",
            name,
            0..name.len(),
            "unknown-surface",
            text,
            remedy,
        ));
    };
    Ok(grip.map_or_else(|| surface.clone(), |grip| surface.with_peak(grip)))
}

fn fuel(car: &Car, text: Option<&str>) -> Result<Fuel, Wrong> {
    let Some(text) = text else { return Ok(Fuel::Half) };
    let trouble = |slug, what: &str, remedy: &str| {
        Err(Wrong::option(
            "--fuel",
            text,
            0..text.len(),
            slug,
            what.to_owned(),
            remedy.to_owned(),
        ))
    };
    let Some(tank) = car.load.tank else {
        let remedy = "write `tank` under [load], or leave the option out: the fuel stays as weighed";
        return trouble("no-tank", "the sheet says nothing of a tank", remedy);
    };
    match text.trim() {
        "dry" => return Ok(Fuel::Dry),
        "half" => return Ok(Fuel::Half),
        "full" => return Ok(Fuel::Full),
        _ => {}
    }
    let m3 = figure("--fuel", text, Dimension::Volume, ("0 L", "300 L"))?;
    let asked = Volume::from_m3(m3);
    if asked > tank.capacity {
        let litre = units_of(Dimension::Volume)[0];
        let holds = quantity::print(&Amount::exact(Dimension::Volume, tank.capacity.m3()), litre);
        return trouble(
            "beyond-tank",
            &format!("the tank holds {holds}"),
            "ask for so much or less, or write `full`",
        );
    }
    Ok(Fuel::Of(asked))
}

/// The slope as it is asked for; the level where nothing is said.
fn grade(options: &StateText) -> Result<Grade, Wrong> {
    let mut wrong = Wrong::default();
    let slope = options
        .slope
        .as_deref()
        .map_or(Ok(0.0), |text| figure("--slope", text, Dimension::Slope, SLOPE));
    let slope = wrong.note(slope);
    let facing = wrong.note(
        options
            .facing
            .as_deref()
            .map_or_else(|| Ok(Facing::default()), facing),
    );
    match (slope, facing) {
        (Some(slope), Some(facing)) => Ok(Grade { slope, facing }),
        _ => Err(wrong),
    }
}

/// Which way a car faces on its slope.
///
/// # Errors
/// What is neither up nor down.
pub fn facing(text: &str) -> Result<Facing, Wrong> {
    match text.trim() {
        "up" => Ok(Facing::Up),
        "down" => Ok(Facing::Down),
        _ => {
            let what = format!("`{text}` is no way to face on a slope");
            Err(Wrong::option(
                "--facing",
                text,
                0..text.len(),
                "unknown-word",
                what,
                "write up or down".to_owned(),
            ))
        }
    }
}

/// A day: `2026-05-01`.
///
/// # Errors
/// What is no day.
pub fn day(text: &str) -> Result<Date, Wrong> {
    text.trim().parse().map_err(|_| {
        let what = format!("`{text}` is not a day");
        let remedy = "write year, month and day, such as 2026-05-01".to_owned();
        Wrong::option("--on", text, 0..text.len(), "not-a-day", what, remedy)
    })
}

/// One figure of an option, in SI: without tolerance, within its range.
pub(crate) fn figure(option: &str, text: &str, dimension: Dimension, range: Range) -> Result<f64, Wrong> {
    let amount = quantity::parse(text, dimension).map_err(|fault| Wrong::quantity(option, text, &fault))?;
    let trouble = |slug, what, remedy| Err(Wrong::option(option, text, 0..text.len(), slug, what, remedy));
    if amount.spread != Spread::Exact {
        let what = "a tolerance is not taken here".to_owned();
        return trouble(
            "option-tolerance",
            what,
            "write the one figure that is to be looked at".to_owned(),
        );
    }
    let ends = [range.0, range.1].map(|end| quantity::parse(end, dimension).map(|end| end.si));
    if let [Ok(low), Ok(high)] = ends
        && !(low..=high).contains(&amount.si)
    {
        let what = format!("`{}` is outside what is computed", text.trim());
        return trouble(
            "out-of-range",
            what,
            format!("{} to {} is taken", range.0, range.1),
        );
    }
    Ok(amount.si)
}

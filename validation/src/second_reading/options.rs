use std::path::Path;

use engine::balance::Wish;
use engine::brake::Warmth;
use engine::car::Car;
use engine::loads::{Aboard, Fuel};
use quantity::Dimension;
use quantity::si::{Force, Speed, Volume};
use serde_json::Value as Json;

use crate::Error;

/// One case: a car as its options leave it, and what is asked of it.
pub(super) struct Case {
    pub(super) name: String,
    pub(super) verb: String,
    pub(super) car: Car,
    pub(super) asked: Options,
}

/// What stands behind the verb.
pub(super) struct Options {
    pub(super) foot: Force,
    pub(super) hand: Option<Force>,
    pub(super) warmth: Warmth,
    pub(super) crew: bool,
    pub(super) fuel: Option<Fuel>,
    pub(super) surface: Option<String>,
    pub(super) grip: Option<f64>,
    pub(super) speed: Speed,
    pub(super) wish: Wish,
    pub(super) grips: Option<Vec<f64>>,
}

impl Options {
    pub(super) fn aboard(&self) -> Aboard {
        Aboard {
            crew: self.crew,
            fuel: self.fuel.unwrap_or(Fuel::Half),
        }
    }
}

/// Car, verb and options, as they would be typed.
pub(super) fn name(case: &Json) -> String {
    let options: Vec<&str> = case["options"]
        .as_array()
        .into_iter()
        .flatten()
        .filter_map(Json::as_str)
        .collect();
    let verb = case["verb"].as_str().unwrap_or_default();
    format!("{} {verb} {}", stem(case), options.join(" "))
        .trim_end()
        .to_owned()
}

fn stem(case: &Json) -> String {
    let path = Path::new(case["car"].as_str().unwrap_or_default());
    path.file_stem()
        .map_or_else(String::new, |stem| stem.to_string_lossy().into_owned())
}

impl Case {
    pub(super) fn read(folder: &Path, case: &Json) -> Result<Self, Error> {
        let options: Vec<&str> = case["options"]
            .as_array()
            .into_iter()
            .flatten()
            .filter_map(Json::as_str)
            .collect();
        let (stem, verb, name) = (
            stem(case),
            case["verb"].as_str().unwrap_or_default().to_owned(),
            name(case),
        );
        let refuse = |why: String| Error::Car {
            which: name.clone(),
            why,
        };
        let path = folder.join(case["car"].as_str().unwrap_or_default());
        let text = std::fs::read(&path).map_err(|error| refuse(error.to_string()))?;
        let mut sheet = sheet::read(&text, &stem);
        let mut asked = Options {
            foot: Force::ZERO,
            hand: None,
            warmth: Warmth::Warm,
            crew: true,
            fuel: None,
            surface: None,
            grip: None,
            speed: Speed::from_m_s(50.0 / 3.6),
            wish: Wish::front_first(0.05),
            grips: None,
        };
        let mut left = options.iter();
        while let Some(&option) = left.next() {
            let mut value = || left.next().copied().unwrap_or_default();
            let quantity = |text: &str, dimension| {
                quantity::parse(text, dimension)
                    .map(|amount| amount.si)
                    .map_err(|fault| refuse(fault.to_string()))
            };
            match option {
                "--no-crew" => asked.crew = false,
                "--cold" => asked.warmth = Warmth::Cold,
                "--foot" => asked.foot = Force::from_n(quantity(value(), Dimension::Force)?),
                "--hand" => asked.hand = Some(Force::from_n(quantity(value(), Dimension::Force)?)),
                "--fuel" => {
                    asked.fuel = Some(Fuel::Of(Volume::from_m3(quantity(value(), Dimension::Volume)?)))
                }
                "--surface" => asked.surface = Some(value().to_owned()),
                "--grip" => asked.grip = Some(quantity(value(), Dimension::Ratio)?),
                "--speed" => asked.speed = Speed::from_m_s(quantity(value(), Dimension::Speed)?),
                "--grips" => {
                    let grips = value().split(',').map(|grip| quantity(grip, Dimension::Ratio));
                    asked.grips = Some(grips.collect::<Result<_, _>>()?);
                }
                "--wanted" => {
                    let (side, share) = value().split_once(' ').unwrap_or_default();
                    let share = if share.is_empty() {
                        0.0
                    } else {
                        quantity(share, Dimension::Ratio)?
                    };
                    asked.wish = if side == "rear-first" {
                        Wish::rear_first(share)
                    } else {
                        Wish::front_first(share)
                    };
                }
                "--valve" | "--with" => {
                    let written = value();
                    let written = if option == "--valve" {
                        format!("bias_valve.setting={written}")
                    } else {
                        written.to_owned()
                    };
                    sheet
                        .with(&written)
                        .map_err(|problem| refuse(problem.to_string()))?;
                }
                _ => return Err(refuse(format!("no option {option}"))),
            }
        }
        let assembled = sheet.assemble().map_err(|problems| {
            refuse(
                problems
                    .shown()
                    .iter()
                    .map(ToString::to_string)
                    .collect::<Vec<_>>()
                    .join("; "),
            )
        })?;
        Ok(Self {
            name,
            verb,
            car: assembled.car,
            asked,
        })
    }
}

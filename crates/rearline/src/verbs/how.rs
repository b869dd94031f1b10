//! `how`: how a figure is measured, as its card says it.

use std::path::PathBuf;

use charts::{HowMeasured, Look};
use clap::Args;
use engine::car::{Drawing, KEYS, KeyId};
use questions::measuring::{self, Card, CardTold, Present, Sum, Worked, present};
use questions::{Sheet, Wrong, nearest};
use wording::Units;

use crate::ending::{Ending, Stop};
use crate::options::{COMMAND_LINE, FolderOption, JsonOption, UnitsOption, help};
use crate::views::how::HowView;
use crate::voice::Voice;
use crate::{picture, print, views};

/// Name of the verb.
pub(crate) const NAME: &str = "how";

/// How a figure is measured
///
/// The card of a figure: the tool, the steps, what to mind, a trick where the tool is lacking; and the arithmetic, where
/// the reading is not yet the figure. Without a figure: the cards that there are.
#[derive(Args, Debug)]
#[command(after_long_help = help::HOW)]
pub(crate) struct How {
    /// A key of the sheet, or the name of a card: lever.ratio, raised-axle, ...
    #[arg(value_name = "FIGURE")]
    figure: Option<String>,
    /// Readings to work the figure out from: a=278mm b=62mm
    #[arg(value_name = "NAME=READING", requires = "figure")]
    readings: Vec<String>,
    /// Say beside it what this car's sheet has
    #[arg(long, value_name = "CAR")]
    car: Option<String>,
    #[command(flatten)]
    folder: FolderOption,
    #[command(flatten)]
    units: UnitsOption,
    /// Write the card's drawing, as SVG
    #[arg(long, value_name = "FILE", requires = "figure")]
    svg: Option<PathBuf>,
    #[command(flatten)]
    json: JsonOption,
}

impl How {
    /// Shows it.
    pub(crate) fn run(&self, voice: &mut Voice<'_>) -> Result<Ending, Stop> {
        let Some(figure) = &self.figure else {
            if self.json.json {
                voice.say_json(&views::to_json(&views::how::ListView::all(NAME))?)?;
            } else {
                voice.say(&print::how::list())?;
            }
            return Ok(Ending::Fine);
        };
        let mut wrong = Wrong::default();
        let units = wrong.note(questions::units(self.units.list.as_deref()));
        let found = wrong.note(found(figure));
        let (Some(units), Some((card, key))) = (units, found) else {
            return Err(wrong.into());
        };
        let told = CardTold {
            card,
            key,
            present: self.present(figure, key)?,
            worked: self.worked(card, key, &units)?,
        };
        if let Some(svg) = &self.svg {
            let drawn = HowMeasured(card.drawing).draw(&Look::default());
            picture::write_drawn(svg, &drawn)?;
        }
        if self.json.json {
            voice.say_json(&views::to_json(&HowView::of(NAME, &told))?)?;
        } else {
            voice.say(&print::how::card(&told, &units))?;
        }
        Ok(Ending::Fine)
    }

    /// What the car's sheet has for the figure, where a car and a key were named.
    fn present(&self, path: &str, key: Option<KeyId>) -> Result<Option<(String, Present)>, Stop> {
        let (Some(car), Some(_)) = (&self.car, key) else {
            return Ok(None);
        };
        let sheet = Sheet::of(&self.folder.cars, car)?;
        let assembled = sheet.read.assemble().ok();
        let present = present(sheet.read.text(), assembled.as_ref(), path);
        Ok(Some((sheet.name().to_owned(), present)))
    }

    /// The figure from the readings, by the sum that asks for just these.
    fn worked(
        &self,
        card: &'static Card,
        key: Option<KeyId>,
        units: &Units,
    ) -> Result<Option<(&'static Sum, Worked)>, Wrong> {
        if self.readings.is_empty() {
            return Ok(None);
        }
        let said: Vec<(&str, &str)> = self
            .readings
            .iter()
            .map(|reading| reading.split_once('=').unwrap_or((reading, "")))
            .collect();
        let asks = |sum: &Sum| {
            said.iter()
                .all(|(name, _)| sum.asks.iter().any(|ask| ask.name == *name))
        };
        let Some(sum) = card.sums_for(key).find(|sum| asks(sum)) else {
            let what = "these readings are not those that this card asks for".to_owned();
            let sums: Vec<String> = card
                .sums_for(key)
                .map(|sum| sum.asks.iter().map(|ask| ask.name).collect::<Vec<_>>().join(", "))
                .collect();
            let remedy = if sums.is_empty() {
                "leave them out: what is read is the figure".to_owned()
            } else {
                format!("it asks for {}", sums.join("; or "))
            };
            return Err(Wrong::plain(COMMAND_LINE, "unknown-reading", what, remedy));
        };
        let typed = |name: &str| {
            let said = said.iter().find(|(said, _)| *said == name);
            said.map_or_else(String::new, |(_, text)| (*text).to_owned())
        };
        Ok(Some((sum, sum.worked(&typed, units, key)?)))
    }
}

/// The card of a name or a key.
fn found(figure: &str) -> Result<(&'static Card, Option<KeyId>), Wrong> {
    if let Some(found) = measuring::named(figure) {
        return Ok(found);
    }
    let (what, remedy) = match measuring::of_path(figure).map(KeyId::key) {
        Some(key) if !key.how.is_empty() => (format!("`{figure}` is not measured"), key.how.to_owned()),
        Some(key) => (format!("`{figure}` is not measured"), key.help.to_owned()),
        None => {
            let names = || {
                let cards = Drawing::ALL.iter().map(|card| card.name());
                cards.chain(
                    KEYS.iter()
                        .filter(|key| key.drawing.is_some())
                        .map(|key| key.path),
                )
            };
            let remedy = nearest(figure, names()).map_or_else(
                || format!("`rearline {NAME}` lists the cards"),
                |near| format!("did you mean `{near}`?"),
            );
            (format!("no figure and no card is called `{figure}`"), remedy)
        }
    };
    Err(Wrong::option(
        "FIGURE",
        figure,
        0..figure.len(),
        "unknown-figure",
        what,
        remedy,
    ))
}

//! `proposal`: what would be other on a car, kept beside it, taken over one by one, or put aside.

use clap::{Args, Subcommand};
use proving::Fact;
use questions::proposals::{self, Proposed, ProposedKey};
use questions::writing::{entries_of, write};
use questions::{Changes, Opened, Sheet, StateText, onto_sheet};

use super::logbook::stamp_numbered;
use crate::ending::{Ending, Stop};
use crate::options::{COMMAND_LINE, CarOption, JsonOption, help, today};
use crate::print;
use crate::views::{self, proposals::ProposalsView};
use crate::voice::Voice;

/// What would be other on a car, kept beside it
///
/// A proposal is a named set of changed keys, a file in the car's own folder. Every question takes it with --proposal NAME.
/// It is taken over onto the sheet key by key or as a whole, or put aside; none is ever deleted.
#[derive(Args, Debug)]
#[command(after_long_help = help::PROPOSAL)]
pub(crate) struct ProposalVerb {
    #[command(subcommand)]
    what: What,
}

#[derive(Subcommand, Debug)]
enum What {
    Keep(Keep),
    List(List),
    Show(Show),
    Take(Take),
    Drop(Drop),
}

/// Keep what is proposed under a name; one that has it already is put aside
#[derive(Args, Debug)]
struct Keep {
    #[command(flatten)]
    car: CarOption,
    /// What to call it
    #[arg(value_name = "NAME")]
    name: String,
    /// Another value for one key of the sheet; may be given again and again
    #[arg(long, value_name = "KEY=VALUE", required = true)]
    with: Vec<String>,
    /// Begin with what another proposal says
    #[arg(long, value_name = "NAME")]
    proposal: Option<String>,
    /// Why
    #[arg(long, value_name = "TEXT", default_value = "", allow_hyphen_values = true)]
    note: String,
    #[command(flatten)]
    json: JsonOption,
}

/// Show which there are
#[derive(Args, Debug)]
struct List {
    #[command(flatten)]
    car: CarOption,
    #[command(flatten)]
    json: JsonOption,
}

/// Show one: what the sheet has, and what it would have
#[derive(Args, Debug)]
struct Show {
    #[command(flatten)]
    car: CarOption,
    /// Which
    #[arg(value_name = "NAME")]
    name: String,
    #[command(flatten)]
    json: JsonOption,
}

/// Take it over onto the sheet, which keeps every other byte; the logbook notes it
#[derive(Args, Debug)]
struct Take {
    #[command(flatten)]
    car: CarOption,
    /// Which
    #[arg(value_name = "NAME")]
    name: String,
    /// Only this key; may be given again and again
    #[arg(long, value_name = "KEY")]
    key: Vec<String>,
    #[command(flatten)]
    json: JsonOption,
}

/// Put it aside: it stays in the car's folder, under proposals/dropped
#[derive(Args, Debug)]
struct Drop {
    #[command(flatten)]
    car: CarOption,
    /// Which
    #[arg(value_name = "NAME")]
    name: String,
    #[command(flatten)]
    json: JsonOption,
}

impl ProposalVerb {
    /// Does it.
    pub(crate) fn run(&self, voice: &mut Voice<'_>) -> Result<Ending, Stop> {
        match &self.what {
            What::Keep(keep) => keep.run(voice),
            What::List(list) => list.run(voice),
            What::Show(show) => show.run(voice),
            What::Take(take) => take.run(voice),
            What::Drop(drop) => drop.run(voice),
        }
    }
}

fn opened(car: &CarOption, name: Option<&str>, with: &[String]) -> Result<Opened, Stop> {
    let changes = Changes {
        proposal: name.map(str::to_owned),
        with: with.to_vec(),
        valve: None,
    };
    let sheet = Sheet::of(&car.folder.cars, &car.car)?;
    Ok(Opened::of_sheet(sheet, &changes, &StateText::silent(today()))?)
}

/// A proposal with what it changes; only its name where it does not read, or makes no car.
struct Listed {
    proposed: Option<Proposed>,
    name: String,
    changed: Vec<ProposedKey>,
}

fn listed(car: &CarOption) -> Result<Vec<Listed>, Stop> {
    let folder = questions::find(&car.folder.cars, &car.car)?;
    let one = |name: String| {
        let opened = opened(car, Some(&name), &[]).ok();
        Listed {
            proposed: opened.as_ref().and_then(|opened| opened.proposal.clone()),
            changed: opened.as_ref().map(proposals::changed).unwrap_or_default(),
            name,
        }
    };
    Ok(proposals::names(&folder)?.into_iter().map(one).collect())
}

/// Says what became of proposals, in a line above what they say.
fn say(voice: &mut Voice<'_>, json: &JsonOption, said: &str, all: &[Listed]) -> Result<Ending, Stop> {
    let told: Vec<(&str, Option<&str>, &[ProposedKey])> = all
        .iter()
        .map(|one| {
            let note = one
                .proposed
                .as_ref()
                .map(|proposed| proposed.proposal.note.as_str());
            (one.name.as_str(), note, one.changed.as_slice())
        })
        .collect();
    if json.json {
        voice.say_json(&views::to_json(&ProposalsView::of(said, &told))?)?;
    } else {
        voice.say(&print::proposals::page(said, &told))?;
    }
    Ok(Ending::Fine)
}

fn one(name: &str, opened: &Opened) -> Listed {
    Listed {
        proposed: opened.proposal.clone(),
        name: name.to_owned(),
        changed: proposals::changed(opened),
    }
}

impl Keep {
    fn run(&self, voice: &mut Voice<'_>) -> Result<Ending, Stop> {
        let proposed = opened(&self.car, self.proposal.as_deref(), &self.with)?;
        let name = proposals::keep(&proposed, &self.name, &self.note)?;
        let kept = opened(&self.car, Some(&name), &[])?;
        let said = format!("Kept as {name}.");
        say(voice, &self.json, &said, &[one(&name, &kept)])
    }
}

impl List {
    fn run(&self, voice: &mut Voice<'_>) -> Result<Ending, Stop> {
        let all = listed(&self.car)?;
        let said = match all.len() {
            0 => "Nothing is proposed yet: `rearline proposal keep` keeps a proposal.".to_owned(),
            1 => "One proposal is kept beside the car.".to_owned(),
            more => format!("{more} proposals are kept beside the car."),
        };
        say(voice, &self.json, &said, &all)
    }
}

impl Show {
    fn run(&self, voice: &mut Voice<'_>) -> Result<Ending, Stop> {
        let opened = opened(&self.car, Some(&self.name), &[])?;
        let said = format!(
            "Side by side: `rearline compare {} --proposal {}`.",
            wording::quoted(&self.car.car),
            wording::quoted(&self.name)
        );
        say(voice, &self.json, &said, &[one(&self.name, &opened)])
    }
}

impl Take {
    fn run(&self, voice: &mut Voice<'_>) -> Result<Ending, Stop> {
        let proposed = opened(&self.car, Some(&self.name), &[])?;
        let changes = proposals::onto_sheet(&proposed, &self.key)?;
        let folder = &proposed.sheet.folder;
        let taken = !changes.is_empty() && onto_sheet::put_on(folder, &changes)?;
        let said = if taken {
            let entries = entries_of(
                COMMAND_LINE,
                &[Fact::Sheet {
                    changes: changes.clone(),
                }],
            )?;
            write(folder, None, &entries, today(), stamp_numbered)?;
            format!(
                "{} on the sheet now.",
                match changes.len() {
                    1 => "One key is".to_owned(),
                    more => format!("{more} keys are"),
                }
            )
        } else {
            "The sheet says so already.".to_owned()
        };
        let now = opened(&self.car, Some(&self.name), &[])?;
        say(voice, &self.json, &said, &[one(&self.name, &now)])
    }
}

impl Drop {
    fn run(&self, voice: &mut Voice<'_>) -> Result<Ending, Stop> {
        let folder = questions::find(&self.car.folder.cars, &self.car.car)?;
        let aside = proposals::put_aside(&folder, &self.name)?;
        say(voice, &self.json, &format!("Put aside: {aside}."), &[])
    }
}

//! What entries of a logbook say: kind and JSON to facts, and back.

use engine::car::Date;
use quantity::Dimension;
use serde::{Deserialize, Serialize};
use serde_json::{Map, Value, json};

use crate::check::{Check, CheckFound, CheckReading};
use crate::data::{EntryFault, Range, quantity, text, truth};

/// What was found at a joint.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum JointFound {
    /// Tightened, and a witness mark drawn across.
    Marked,
    /// Felt round under pressure, and dry.
    Dry,
    /// Wet.
    Weep,
    /// Undone and made anew.
    Remade,
}

impl JointFound {
    /// All of them, in the order of the work.
    pub const ALL: [Self; 4] = [Self::Marked, Self::Dry, Self::Weep, Self::Remade];

    /// The word for it.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Marked => "marked",
            Self::Dry => "dry",
            Self::Weep => "weep",
            Self::Remade => "remade",
        }
    }
}

/// A signature.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Signature {
    /// Who signs.
    pub by: String,
    /// Who looked at it beside them.
    pub checked_by: Option<String>,
}

/// What an entry says, as far as it concerns plumbing.
#[derive(Clone, Debug, PartialEq)]
pub enum Fact {
    /// A joint was looked at.
    Joint {
        /// Its name.
        joint: String,
        /// What was found.
        found: JointFound,
    },
    /// A component or run was opened, moved or changed: its joints are untried again.
    Touched {
        /// Its name in the circuit.
        what: String,
    },
    /// A check was made.
    Checked {
        /// Which.
        check: Check,
        /// What came of it.
        said: CheckFound,
    },
    /// It was signed.
    Signed(Signature),
    /// A step of the order of work was done.
    Step {
        /// Its slug.
        step: String,
    },
    /// A part was bought or a run was cut: ticked off the list.
    Got {
        /// The part's code, or the run's name.
        what: String,
    },
    /// Fluid was changed.
    FluidChanged,
    /// Fluid was tested.
    FluidTested {
        /// Its boiling point (°C).
        boils_c: f64,
    },
    /// How hot a caliper's fluid got.
    FluidHeat {
        /// In °C.
        celsius: f64,
    },
    /// Pads were fitted or measured.
    Pads {
        /// `front` or `rear`.
        axle: String,
        /// Thinnest lining (m).
        left_m: f64,
        /// Whether they are new.
        fitted: bool,
    },
    /// Hoses were fitted.
    HosesFitted,
    /// An event was driven.
    Event {
        /// Which.
        name: String,
    },
    /// Keys of the sheet were changed from the page, so that each can be put back.
    Sheet {
        /// A key each, in the order of the writing.
        changes: Vec<SheetChange>,
    },
    /// A test for what is wrong was made.
    Tried {
        /// Slug of what the driver says.
        symptom: String,
        /// Slug of the test.
        test: String,
        /// Whether it did what the test asks about.
        yes: bool,
    },
    /// What the driver said is put right: what was tried before counts no longer.
    PutRight {
        /// Slug of what the driver says.
        symptom: String,
    },
}

/// A key of the sheet that was changed.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SheetChange {
    /// The key, entries of repeated tables counted from 1: `measured.pull[2].points`. Or such an entry as a whole.
    pub key: String,
    /// What stood there, as the file writes it; none: nothing did.
    pub was: Option<String>,
    /// What stands there since, as the file writes it; none: it was taken out.
    pub now: Option<String>,
}

impl SheetChange {
    /// The same backwards.
    #[must_use]
    pub fn undone(&self) -> Self {
        Self {
            key: self.key.clone(),
            was: self.now.clone(),
            now: self.was.clone(),
        }
    }

    /// `lever.bore is "5/8 in", was "3/4 in"`
    #[must_use]
    pub fn words(&self) -> String {
        match (&self.was, &self.now) {
            (Some(was), Some(now)) => format!("{} is {now}, was {was}", self.key),
            (None, Some(now)) => format!("{} is {now}", self.key),
            (Some(was), None) => format!("{} is taken out, was {was}", self.key),
            (None, None) => self.key.clone(),
        }
    }
}

/// An entry that says something of plumbing.
#[derive(Clone, Debug, PartialEq)]
pub struct Noted {
    /// Its number in the logbook.
    pub id: i64,
    /// The day on which it was written, where it was written.
    pub day: Date,
    /// What it says.
    pub fact: Fact,
}

/// Lining of a pad or shoe: new ones have 8 to 20 mm (common practice, no source).
const LINING: Range = Range {
    dimension: Dimension::Length,
    least: "0 mm",
    most: "40 mm",
};
/// Boiling point of brake fluid, from nearly all water to the best that is sold (from memory).
const BOILS: Range = Range {
    dimension: Dimension::Temperature,
    least: "90 C",
    most: "400 C",
};
/// A caliper's fluid, from a cold night to what no seal outlives (judgement).
const HEAT: Range = Range {
    dimension: Dimension::Temperature,
    least: "-50 C",
    most: "500 C",
};

impl Fact {
    /// Reads an entry's kind and data. Notes, settings and faults may be words alone: they give `None`.
    ///
    /// | kind | data |
    /// | --- | --- |
    /// | `joint` | `{ "joint", "state": "marked"∣"dry"∣"weep"∣"remade" }` or `{ "touched" }` |
    /// | `reading` | `{ "check", "result": "held"∣"failed" }`, `{ "check", "not_done": "because" }`, or its figures; `{ "fluid": "168 C" }` |
    /// | `signoff` | `{ "by", "checked_by" }` |
    /// | `fluid` | `{ "changed": true }`, `{ "boils": "182 C" }` |
    /// | `pads` | `{ "axle", "left": "6.2 mm", "fitted" }` |
    /// | `note` | `{ "step" }`, `{ "event" }`, `{ "hoses": "fitted" }`, `{ "got": "code of a part, or a run" }`, `{ "sheet": [{ "key", "was", "now" }] }` |
    /// | `fault` | `{ "symptom", "test", "said": "yes"∣"no" }`, `{ "symptom", "right": true }` |
    /// | `setting` | `{ "event" }` |
    ///
    /// # Errors
    /// Data that means to say one of these and cannot be read; a joint, a reading, fluid, pads or a signature that says
    /// none of them.
    pub fn read(kind: &str, data: &Value) -> Result<Option<Self>, EntryFault> {
        const ZERO_K: f64 = 273.15;
        let missing = |what: &str| Err(EntryFault(what.to_owned()));
        Ok(match kind {
            "joint" => Some(Self::read_joint(data)?),
            "reading" if data.get("check").is_some() => Some(Self::read_check(data)?),
            "reading" => match quantity(data, "fluid", HEAT)? {
                Some(kelvin) => Some(Self::FluidHeat {
                    celsius: kelvin - ZERO_K,
                }),
                None => {
                    return missing(
                        "a reading names a `check`, or the heat of the `fluid` such as \"168 C\"; what is in words \
                         alone is a note",
                    );
                }
            },
            "signoff" => match text(data, "by")? {
                Some(by) => Some(Self::Signed(Signature {
                    by: by.to_owned(),
                    checked_by: text(data, "checked_by")?.map(str::to_owned),
                })),
                None => return missing("a signature says who signs: `by`"),
            },
            "fluid" => match (quantity(data, "boils", BOILS)?, truth(data, "changed")?) {
                (Some(_), true) => {
                    return missing(
                        "`changed` and `boils` are two entries: new fluid, and what a tester says",
                    );
                }
                (Some(kelvin), false) => Some(Self::FluidTested {
                    boils_c: kelvin - ZERO_K,
                }),
                (None, true) => Some(Self::FluidChanged),
                (None, false) => {
                    return missing(
                        "an entry about fluid says `changed`: true, or at what it `boils`, such as \"182 C\"",
                    );
                }
            },
            "pads" => Some(Self::read_pads(data)?),
            "note" => Self::read_note(data)?,
            "setting" => Self::read_event(data)?,
            "fault" => Self::read_fault(data)?,
            _ => None,
        })
    }

    fn read_fault(data: &Value) -> Result<Option<Self>, EntryFault> {
        let (test, said, right) = (text(data, "test")?, text(data, "said")?, truth(data, "right")?);
        let Some(symptom) = text(data, "symptom")?.map(str::to_owned) else {
            return match (test, said, right) {
                (None, None, false) => Ok(None),
                _ => Err(EntryFault("what came of a test names its `symptom`".to_owned())),
            };
        };
        match (test, said, right) {
            (None, None, true) => Ok(Some(Self::PutRight { symptom })),
            (Some(test), Some(said @ ("yes" | "no")), false) => Ok(Some(Self::Tried {
                symptom,
                test: test.to_owned(),
                yes: said == "yes",
            })),
            _ => Err(EntryFault(
                "a `symptom` goes with a `test` and what it `said`, yes or no; or with `right`: true"
                    .to_owned(),
            )),
        }
    }

    fn read_sheet(data: &Value) -> Result<Option<Self>, EntryFault> {
        let Some(changes) = data.get("sheet") else {
            return Ok(None);
        };
        let read: Vec<SheetChange> = serde_json::from_value(changes.clone())
            .map_err(|fault| EntryFault(format!("`sheet` is a list of `key`, `was` and `now`: {fault}")))?;
        if read.is_empty() {
            return Err(EntryFault("`sheet` names no key".to_owned()));
        }
        Ok(Some(Self::Sheet { changes: read }))
    }

    fn read_event(data: &Value) -> Result<Option<Self>, EntryFault> {
        Ok(text(data, "event")?.map(|name| Self::Event {
            name: name.to_owned(),
        }))
    }

    fn read_note(data: &Value) -> Result<Option<Self>, EntryFault> {
        let step = text(data, "step")?.map(|step| Self::Step {
            step: step.to_owned(),
        });
        let hoses = match text(data, "hoses")? {
            None => None,
            Some("fitted") => Some(Self::HosesFitted),
            Some(other) => return Err(EntryFault(format!("`{other}` says nothing of hoses: fitted"))),
        };
        let got = text(data, "got")?.map(|what| Self::Got {
            what: what.to_owned(),
        });
        let sheet = Self::read_sheet(data)?;
        let mut all = [step, Self::read_event(data)?, hoses, got, sheet]
            .into_iter()
            .flatten();
        match (all.next(), all.next()) {
            (_, Some(_)) => Err(EntryFault(
                "`step`, `event`, `hoses`, `got` and `sheet` are an entry each".to_owned(),
            )),
            (one, None) => Ok(one),
        }
    }

    fn read_pads(data: &Value) -> Result<Self, EntryFault> {
        let axle = match text(data, "axle")? {
            Some(axle @ ("front" | "rear")) => axle,
            Some(other) => return Err(EntryFault(format!("`{other}` is no axle: front, rear"))),
            None => return Err(EntryFault("pads are of an `axle`: front, rear".to_owned())),
        };
        let Some(left_m) = quantity(data, "left", LINING)? else {
            return Err(EntryFault(
                "of pads it is said what is `left` of the thinnest, such as \"6.2 mm\"".to_owned(),
            ));
        };
        Ok(Self::Pads {
            axle: axle.to_owned(),
            left_m,
            fitted: truth(data, "fitted")?,
        })
    }

    fn read_joint(data: &Value) -> Result<Self, EntryFault> {
        if let Some(what) = text(data, "touched")? {
            return Ok(Self::Touched {
                what: what.to_owned(),
            });
        }
        let (Some(joint), Some(state)) = (text(data, "joint")?, text(data, "state")?) else {
            return Err(EntryFault(
                "a joint's entry names `joint` and `state`, or `touched`".to_owned(),
            ));
        };
        let found = JointFound::ALL
            .into_iter()
            .find(|found| found.word() == state)
            .ok_or_else(|| {
                EntryFault(format!(
                    "`{state}` is no state of a joint: marked, dry, weep, remade"
                ))
            })?;
        Ok(Self::Joint {
            joint: joint.to_owned(),
            found,
        })
    }

    fn read_check(data: &Value) -> Result<Self, EntryFault> {
        let name = text(data, "check")?.unwrap_or_default();
        let check = Check::named(name)
            .ok_or_else(|| EntryFault(format!("`{name}` is no check: {}", Check::names().join(", "))))?;
        let said = match (text(data, "not_done")?, text(data, "result")?) {
            (Some(_), Some(_)) => {
                return Err(EntryFault(
                    "a check that is `not_done` has no `result`".to_owned(),
                ));
            }
            (Some(because), None) => CheckFound::NotDone(because.to_owned()),
            (None, Some("held")) => CheckFound::Held,
            (None, Some("failed")) => CheckFound::Failed,
            (None, Some(other)) => {
                return Err(EntryFault(format!("`{other}` is no result: held, failed")));
            }
            (None, None) => CheckFound::Read(CheckReading::read(check, data)?),
        };
        Ok(Self::Checked { check, said })
    }

    /// The kind and the data that say this, with words for a person under `text`.
    #[must_use]
    pub fn entry(&self) -> (&'static str, Value) {
        let with = |text: String, more: Value| {
            let mut all = Map::new();
            all.insert("text".to_owned(), Value::String(text));
            if let Value::Object(more) = more {
                all.extend(more);
            }
            Value::Object(all)
        };
        match self {
            Self::Joint { joint, found } => (
                "joint",
                with(
                    format!("{joint}: {}", found.word()),
                    json!({ "joint": joint, "state": found.word() }),
                ),
            ),
            Self::Touched { what } => (
                "joint",
                with(format!("{what} touched"), json!({ "touched": what })),
            ),
            Self::Checked { check, said } => {
                let (word, more) = match said {
                    CheckFound::Held => ("holds".to_owned(), json!({ "result": "held" })),
                    CheckFound::Failed => ("does not hold".to_owned(), json!({ "result": "failed" })),
                    CheckFound::NotDone(because) => (
                        format!("not done, because {because}"),
                        json!({ "not_done": because }),
                    ),
                    CheckFound::Read(reading) => (reading.words(), reading.data()),
                };
                let mut data = with(format!("{}: {word}", check.words()), more);
                if let Value::Object(data) = &mut data {
                    data.insert("check".to_owned(), Value::String(check.name().to_owned()));
                }
                ("reading", data)
            }
            Self::Signed(signature) => {
                let mut more = json!({ "by": signature.by });
                let mut words = format!("signed off by {}", signature.by);
                if let (Some(checked), Value::Object(more)) = (&signature.checked_by, &mut more) {
                    more.insert("checked_by".to_owned(), Value::String(checked.clone()));
                    words.push_str(&format!(", checked by {checked}"));
                }
                ("signoff", with(words, more))
            }
            Self::Step { step } => ("note", with(format!("{step}: done"), json!({ "step": step }))),
            Self::Got { what } => ("note", with(format!("{what}: got"), json!({ "got": what }))),
            Self::FluidChanged => ("fluid", with("changed".to_owned(), json!({ "changed": true }))),
            Self::FluidTested { boils_c } => (
                "fluid",
                with(
                    format!("boils at {boils_c:.0} °C"),
                    json!({ "boils": format!("{boils_c:.1} C") }),
                ),
            ),
            Self::FluidHeat { celsius } => (
                "reading",
                with(
                    format!("fluid at {celsius:.0} °C"),
                    json!({ "fluid": format!("{celsius:.1} C") }),
                ),
            ),
            Self::Pads { axle, left_m, fitted } => (
                "pads",
                with(
                    format!("{axle}: {:.1} mm left", left_m * 1e3),
                    json!({ "axle": axle, "left": format!("{:.2} mm", left_m * 1e3), "fitted": fitted }),
                ),
            ),
            Self::HosesFitted => (
                "note",
                with("hoses fitted".to_owned(), json!({ "hoses": "fitted" })),
            ),
            Self::Event { name } => ("note", with(format!("{name} driven"), json!({ "event": name }))),
            Self::Sheet { changes } => {
                let words: Vec<String> = changes.iter().map(SheetChange::words).collect();
                (
                    "note",
                    with(
                        format!("sheet: {}", words.join("; ")),
                        json!({ "sheet": changes }),
                    ),
                )
            }
            Self::Tried { symptom, test, yes } => {
                let said = if *yes { "yes" } else { "no" };
                let words = |slug: &str| slug.replace('-', " ");
                (
                    "fault",
                    with(
                        format!("{}: {}: {said}", words(symptom), words(test)),
                        json!({ "symptom": symptom, "test": test, "said": said }),
                    ),
                )
            }
            Self::PutRight { symptom } => (
                "fault",
                with(
                    format!("{}: put right", symptom.replace('-', " ")),
                    json!({ "symptom": symptom, "right": true }),
                ),
            ),
        }
    }
}

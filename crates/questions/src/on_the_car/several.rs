//! Figures that are typed together: another entry of a list, or another way to say one figure.

use engine::car::KeyId;
use proving::SheetChange;

use super::kept::spliced;
use super::typed::Typed;
use crate::onto_sheet::written;
use crate::trouble::Wrong;

/// A form of several figures.
#[derive(Clone, Copy, Debug)]
pub struct Several {
    /// Its name in an address.
    pub name: &'static str,
    /// What stands above it.
    pub title: &'static str,
    /// Of which part of the car it is.
    pub part: &'static str,
    /// Its keys; in a repeated table those of a new entry.
    pub keys: &'static [&'static str],
    /// What they say in another way: it goes with them.
    pub instead_of: &'static [&'static str],
}

/// All of them.
const ALL: &[Several] = &[
    Several {
        name: "item",
        title: "Something else that comes aboard",
        part: "What comes aboard",
        keys: &[
            "load.item[].name",
            "load.item[].mass",
            "load.item[].aft_of_front_axle",
            "load.item[].height",
        ],
        instead_of: &[],
    },
    Several {
        name: "tank",
        title: "The fuel tank",
        part: "What comes aboard",
        keys: &[
            "load.tank.capacity",
            "load.tank.aft_of_front_axle",
            "load.tank.height",
        ],
        instead_of: &[],
    },
    Several {
        name: "surface",
        title: "Another surface",
        part: "Surfaces",
        keys: &[
            "surface[].name",
            "surface[].grip",
            "surface[].slip_at_peak",
            "surface[].slide_over_peak",
            "surface[].stiffness",
        ],
        instead_of: &[],
    },
    Several {
        name: "raised",
        title: "Height from a lifted rear axle",
        part: "On the scales",
        keys: &[
            "weighed.cg_raise.lifted",
            "weighed.cg_raise.by",
            "weighed.cg_raise.front_gains",
        ],
        instead_of: &["weighed.cg_height"],
    },
    Several {
        name: "tyres",
        title: "Tyres that differ front and rear",
        part: "Tyres",
        keys: &["tyres.front", "tyres.rear"],
        instead_of: &["tyres.rolling_radius"],
    },
    Several {
        name: "notches",
        title: "A stepped lever, not a knob",
        part: "Bias valve",
        keys: &["bias_valve.knee.positions"],
        instead_of: &["bias_valve.knee.turns"],
    },
    Several {
        name: "front-edges",
        title: "Edges of the pads' track in front",
        part: "Front brake",
        keys: &["front_brake.pad_edges"],
        instead_of: &["front_brake.effective_radius"],
    },
    Several {
        name: "rear-edges",
        title: "Edges of the pads' track behind",
        part: "Rear brake",
        keys: &["rear_brake.pad_edges"],
        instead_of: &["rear_brake.effective_radius"],
    },
    Several {
        name: "front-shoes",
        title: "The shoes in front, measured",
        part: "Front brake",
        keys: &[
            "front_brake.shoe.pivot_radius",
            "front_brake.shoe.heel",
            "front_brake.shoe.toe",
            "front_brake.shoe.force_arm",
        ],
        instead_of: &["front_brake.shoe_factor"],
    },
    Several {
        name: "rear-shoes",
        title: "The shoes behind, measured",
        part: "Rear brake",
        keys: &[
            "rear_brake.shoe.pivot_radius",
            "rear_brake.shoe.heel",
            "rear_brake.shoe.toe",
            "rear_brake.shoe.force_arm",
        ],
        instead_of: &["rear_brake.shoe_factor"],
    },
];

/// The one of a name in an address.
#[must_use]
pub fn named(name: &str) -> Option<&'static Several> {
    ALL.iter().find(|several| several.name == name)
}

/// Whether the sheet says a figure in another way already.
pub(super) fn is_said_otherwise(read: &sheet::ReadSheet, key: &engine::car::Key) -> bool {
    ALL.iter()
        .filter(|several| several.instead_of.contains(&key.path))
        .any(|several| {
            several.keys.iter().any(|path| {
                KeyId::of(path)
                    .is_some_and(|key| read.inputs.get(engine::car::Slot { key, entry: 0 }).is_some())
            })
        })
}

impl Several {
    /// Those of a part of the car that can be said of this one: what they say in another way has to belong to it.
    pub fn of(part: &str, belongs: impl Fn(&str) -> bool) -> impl Iterator<Item = &'static Self> {
        ALL.iter().filter(move |several| {
            several.part == part && several.instead_of.iter().all(|path| belongs(path))
        })
    }

    /// Another way to say a figure.
    pub fn instead_of(path: &str) -> impl Iterator<Item = &'static Self> {
        ALL.iter()
            .filter(move |several| several.instead_of.contains(&path))
    }

    /// Its keys as a sheet has them: those of an entry that is not there yet.
    #[must_use]
    pub fn paths(&self, text: &str) -> Vec<String> {
        let read = sheet::read(text.as_bytes(), "");
        self.keys
            .iter()
            .map(|key| match key.split_once("[]") {
                Some((group, rest)) => format!("{group}[{}]{rest}", read.inputs.entries(group) + 1),
                None => (*key).to_owned(),
            })
            .collect()
    }

    /// What keeps them on a sheet. `typed` gives what was typed at a key of the table.
    ///
    /// # Errors
    /// Something that has to be there is not, or cannot be read.
    pub fn changes<'t>(
        &self,
        text: &str,
        typed: impl Fn(&str) -> Typed<'t>,
    ) -> Result<Vec<SheetChange>, Wrong> {
        let mut now = text.to_owned();
        let mut changes = Vec::new();
        for path in self.instead_of {
            let read = sheet::read(now.as_bytes(), "");
            let there = sheet::slot_of(path).is_some_and(|slot| read.places.value(slot).is_some());
            if there {
                changes.push(SheetChange {
                    key: (*path).to_owned(),
                    was: written(&now, path),
                    now: None,
                });
                now = sheet::cut(&now, path)?;
            }
        }
        let mut wrong = Wrong::default();
        for (key, path) in self.keys.iter().zip(self.paths(text)) {
            let Some(row) = KeyId::of(key).map(KeyId::key) else {
                continue;
            };
            let value = typed(key).value(row);
            if value.trim().is_empty() || value == "[]" {
                if row.default.is_none() {
                    let what = format!("{} is missing", row.label);
                    wrong.add(Wrong::plain("form", "missing", what, "type it".to_owned()));
                }
                continue;
            }
            let was = written(&now, &path);
            if let Some((edited, raw)) = wrong.note(spliced(&now, &path, &value)) {
                changes.push(SheetChange {
                    key: path,
                    was,
                    now: Some(raw),
                });
                now = edited;
            }
        }
        if wrong.is_empty() { Ok(changes) } else { Err(wrong) }
    }
}

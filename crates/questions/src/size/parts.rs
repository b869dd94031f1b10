//! What is searched: parts that can be tried on the car, the sizes beside its own.

use crate::part_groups::GROUPS;
use engine::car::{Inputs, Slot, Value};
use engine::sizing::{Picked, SizeChoice, Space};

use crate::opened::Opened;
use crate::part_groups::VALVE_SETTING;
use crate::parts::{Alternative, Exchangeable, parts};
use crate::trouble::Wrong;

/// A part that is searched, with the choices that are looked at.
#[derive(Debug)]
pub(super) struct Axis {
    pub(super) part: Exchangeable,
    choices: Vec<SizeChoice>,
}

/// Everything that is searched.
#[derive(Debug)]
pub(super) struct Searched {
    inputs: Inputs,
    bores: Axis,
    ratios: Axis,
    pub(super) others: Vec<Axis>,
}

impl Searched {
    /// Of a car with a lever that works a cylinder.
    ///
    /// # Errors
    /// A cable, or no lever.
    pub(super) fn of(opened: &Opened, groups: &[&str], wide: bool) -> Result<Self, Wrong> {
        let has_cylinder = opened
            .car()
            .lever
            .as_ref()
            .is_some_and(|lever| lever.cylinder().is_some());
        if !has_cylinder {
            let what = "no lever with a cylinder is on this car: there is no bore to choose".to_owned();
            let remedy =
                "try one: --with lever.kind=inline --with lever.bore=\"5/8 in\" --with lever.ratio=7"
                    .to_owned();
            return Err(Wrong::plain(&opened.sheet.path(), "no-bore", what, remedy));
        }
        let inputs = base(opened)?;
        let may = |name: &str| {
            GROUPS
                .iter()
                .any(|(group, parts)| groups.contains(group) && parts.contains(&name))
        };
        let mut bores = None;
        let mut ratios = None;
        let mut others = Vec::new();
        for part in parts(opened) {
            let name = part.name;
            let reach = match name {
                _ if !may(name) => Reach::Own,
                "lever bore" | "lever ratio" | "front pads" | "rear pads" | "front linings"
                | "rear linings" | "layout" | "bias valve" => Reach::All,
                VALVE_SETTING if wide => Reach::All,
                _ => Reach::Beside(if wide { 2 } else { 1 }),
            };
            let axis = Axis::of(opened, &inputs, part, reach);
            match name {
                "lever bore" => bores = Some(axis),
                "lever ratio" => ratios = Some(axis),
                _ if axis.choices.len() > 1 => others.push(axis),
                _ => {}
            }
        }
        let own = |name: &'static str, key: &'static str| Axis {
            part: Exchangeable {
                name,
                key,
                now: String::new(),
                was: None,
                choices: Vec::new(),
            },
            choices: vec![SizeChoice {
                patch: Vec::new(),
                own: true,
            }],
        };
        Ok(Self {
            inputs,
            bores: bores.unwrap_or_else(|| own("lever bore", "lever.bore")),
            ratios: ratios.unwrap_or_else(|| own("lever ratio", "lever.ratio")),
            others,
        })
    }

    /// As the engine searches it.
    pub(super) fn space(&self) -> Space<'_> {
        Space {
            inputs: &self.inputs,
            bores: self.bores.choices.clone(),
            ratios: self.ratios.choices.clone(),
            others: self.others.iter().map(|axis| axis.choices.clone()).collect(),
        }
    }

    /// Every part with how many choices there are.
    pub(super) fn axes(&self) -> impl Iterator<Item = (&'static str, usize)> {
        [&self.bores, &self.ratios]
            .into_iter()
            .chain(&self.others)
            .map(|axis| (axis.part.name, axis.choices.len()))
            .filter(|(_, count)| *count > 1)
    }

    /// What is other than on the car: part, choice.
    pub(super) fn changed(&self, picked: &Picked) -> Vec<(&'static str, &Alternative)> {
        let mut at: Vec<(&Axis, usize)> = vec![(&self.bores, picked.bore), (&self.ratios, picked.ratio)];
        at.extend(self.others.iter().zip(picked.others.iter().copied()));
        at.into_iter()
            .filter_map(|(axis, place)| Some((axis.part.name, axis.part.choices.get(place)?)))
            .filter(|(_, choice)| !choice.is_now)
            .collect()
    }

    /// What the car is then said to have of the lever: bore and ratio.
    pub(super) fn lever(&self, picked: &Picked) -> [Option<&Alternative>; 2] {
        [
            self.bores.part.choices.get(picked.bore),
            self.ratios.part.choices.get(picked.ratio),
        ]
    }
}

/// How far from its own a part is looked at.
#[derive(Clone, Copy)]
enum Reach {
    /// Not at all.
    Own,
    /// So many sizes to either side.
    Beside(usize),
    /// Every one.
    All,
}

impl Axis {
    fn of(opened: &Opened, inputs: &Inputs, mut part: Exchangeable, reach: Reach) -> Self {
        let all = core::mem::take(&mut part.choices);
        let own = all.iter().position(|choice| choice.is_now);
        let near = |place: usize| match (reach, own) {
            (Reach::All, _) => true,
            (Reach::Beside(sizes), Some(own)) => place.abs_diff(own) <= sizes,
            (Reach::Beside(_), None) => false,
            (Reach::Own, _) => own == Some(place),
        };
        let mut choices = Vec::new();
        for (place, choice) in all.into_iter().enumerate() {
            if !near(place) {
                continue;
            }
            let patch = if choice.is_now {
                Some(Vec::new())
            } else {
                patch(opened, inputs, &choice.sets)
            };
            if let Some(patch) = patch {
                choices.push(SizeChoice {
                    patch,
                    own: choice.is_now,
                });
                part.choices.push(choice);
            }
        }
        // What the car has stands in no list: nothing of it is changed.
        if own.is_none() {
            part.choices.insert(
                0,
                Alternative {
                    label: part.now.clone(),
                    series: None,
                    sets: Vec::new(),
                    is_now: true,
                    size_si: None,
                },
            );
            choices.insert(
                0,
                SizeChoice {
                    patch: Vec::new(),
                    own: true,
                },
            );
        }
        Self { part, choices }
    }
}

/// The sheet that is searched around: what was read of the pedal is carried over to its figures, so that it means the same
/// behind another cylinder.
fn base(opened: &Opened) -> Result<Inputs, Wrong> {
    let inputs = &opened.sheet.read.inputs;
    if inputs.entries("measured.pedal") == 0 {
        return Ok(inputs.clone());
    }
    let key = match opened.car().master {
        engine::car::Master::Tandem { .. } => "master.bore",
        engine::car::Master::Twin { .. } => "master.front_bore",
    };
    let own = opened.says(key).map(|own| format!("{key}={own}"));
    let with: Vec<String> = own.into_iter().collect();
    Ok(opened.sheet_with(&with)?.inputs)
}

/// What a sheet says with other keys, as far as it is other than the one that is searched around. Readings of old parts
/// count no more; `None` where anything else would have to go.
fn patch(opened: &Opened, base: &Inputs, sets: &[String]) -> Option<Vec<(Slot, Value)>> {
    let after = opened.sheet_with(sets).ok()?.inputs;
    let gone = base
        .slots()
        .any(|(slot, _)| after.get(slot).is_none() && !slot.path().starts_with("measured."));
    if gone {
        return None;
    }
    let other = after
        .slots()
        .filter(|(slot, value)| base.get(*slot) != Some(value) && !slot.path().starts_with("measured."));
    Some(other.map(|(slot, value)| (slot, value.clone())).collect())
}

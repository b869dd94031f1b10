//! The layouts of one car side by side: in the rear line, with two outlets, with second calipers of its own, with a
//! mechanical parking brake kept beside it.

use engine::car::{Car, LeverKind, OldParking, Outlets, Route};
use engine::lever::other_layout;
use quantity::si::{Length, Volume};

use crate::cuts::Cut;
use crate::prices::{Cost, Prices};
use crate::system::Plumbing;

/// A way of fitting the handbrake.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum LayoutKind {
    /// One cylinder with one outlet in the rear line.
    Inline,
    /// In the rear line, an outlet a wheel.
    TwoOutlets,
    /// Its own cylinder, reservoir and calipers.
    Separate,
    /// By cable alone.
    Cable,
    /// None.
    NoLever,
}

impl LayoutKind {
    /// What it is called.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Inline => "inline",
            Self::TwoOutlets => "two outlets",
            Self::Separate => "separate second calipers",
            Self::Cable => "cable",
            Self::NoLever => "no handbrake",
        }
    }

    fn of(car: &Car) -> Self {
        match car.lever.as_ref().map(|lever| &lever.kind) {
            None => Self::NoLever,
            Some(LeverKind::Cable(_)) => Self::Cable,
            Some(LeverKind::Separate(..)) => Self::Separate,
            Some(LeverKind::Inline(cylinder)) if cylinder.outlets == Outlets::One => Self::Inline,
            Some(LeverKind::Inline(_)) => Self::TwoOutlets,
        }
    }
}

/// One layout of a car.
#[derive(Clone, Debug)]
pub struct Layout {
    /// Which.
    pub way: LayoutKind,
    /// Whether a mechanical parking brake stays beside it.
    pub cable_kept: bool,
    /// Whether it is the sheet's own.
    pub on_sheet: bool,
    /// The car so fitted.
    pub car: Car,
    /// Its plumbing.
    pub plumbing: Plumbing,
    /// Pieces to buy: pipe and hose counted as one each.
    pub pieces: f64,
    /// Length of pipe and hose to be made, as far as it was measured.
    pub line: Length,
    /// Runs to be made that nobody measured.
    pub to_tape: usize,
    /// Whether the two circuits meet in it: one leak empties both, and it is not to be built.
    pub joined: bool,
    /// Joints in the cabin.
    pub joints_in_cabin: usize,
    /// Fluid in the cabin, lines and reservoirs.
    pub fluid_in_cabin: Volume,
    /// What it costs with the person's prices.
    pub cost: Option<Cost>,
    /// What was taken for it, or what it needs beside the list.
    pub notes: Vec<String>,
}

/// What does not go on this car, and why.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct NotOnThis {
    /// The layout.
    pub name: String,
    /// Why.
    pub why: &'static str,
}

/// Layouts side by side, the sheet's own first.
#[derive(Clone, Debug)]
pub struct Layouts {
    /// Those that this car can have.
    pub can: Vec<Layout>,
    /// Those that it cannot.
    pub cannot: Vec<NotOnThis>,
}

impl Layouts {
    /// Of a car.
    #[must_use]
    pub fn of(car: &Car, prices: &Prices) -> Self {
        let own = LayoutKind::of(car);
        let mut can = vec![Layout::new(own, true, car.clone(), prices)];
        let mut cannot = Vec::new();
        for way in [LayoutKind::Inline, LayoutKind::TwoOutlets, LayoutKind::Separate] {
            if way == own {
                continue;
            }
            match fitted(car, way) {
                Ok((other, notes)) => {
                    let mut layout = Layout::new(way, false, other, prices);
                    layout.notes.extend(notes);
                    can.push(layout);
                }
                Err(why) => cannot.push(NotOnThis {
                    name: way.name().to_owned(),
                    why,
                }),
            }
        }
        match with_cable(car) {
            Ok(kept) => can.push(Layout::new(own, false, kept, prices)),
            Err(why) => cannot.push(NotOnThis {
                name: "cable kept beside it".to_owned(),
                why,
            }),
        }
        Self { can, cannot }
    }
}

impl Layout {
    fn new(way: LayoutKind, on_sheet: bool, car: Car, prices: &Prices) -> Self {
        let plumbing = Plumbing::of(&car);
        let cable_kept = car.lever.as_ref().is_some_and(|lever| lever.cable_kept);
        let notes = if cable_kept {
            vec![
                "holds the parked car by itself. Its cable, lever and shoes are kept and adjusted".to_owned(),
            ]
        } else {
            Vec::new()
        };
        Self {
            way,
            cable_kept,
            on_sheet,
            pieces: pieces(&plumbing),
            line: plumbing.cuts.iter().filter_map(Cut::cut).sum(),
            to_tape: plumbing.cuts.iter().filter(|cut| cut.wants_tape()).count(),
            joined: plumbing.circuit.where_joined().is_some(),
            joints_in_cabin: plumbing.joints.iter().filter(|joint| joint.in_cabin).count(),
            fluid_in_cabin: plumbing.fluid.cabin_lines + plumbing.fluid.cabin_reservoirs,
            cost: prices.cost(&plumbing.parts),
            notes,
            plumbing,
            car,
        }
    }

    /// What it is called.
    #[must_use]
    pub fn name(&self) -> String {
        if self.cable_kept {
            format!("{}, cable kept beside it", self.way.name())
        } else {
            self.way.name().to_owned()
        }
    }
}

/// Pieces on a list: pipe and hose by the metre are one each.
fn pieces(plumbing: &Plumbing) -> f64 {
    plumbing
        .parts
        .iter()
        .map(|part| match part.kind.counted() {
            crate::part::Counted::Metres => 1.0,
            _ => part.count,
        })
        .sum()
}

const NO_CYLINDER: &str = "a cable works by no cylinder: describe a handbrake with one, to compare";

/// The car fitted in another way.
fn fitted(car: &Car, way: LayoutKind) -> Result<(Car, Vec<String>), &'static str> {
    let lever = car.lever.as_ref().ok_or("there is no handbrake on the sheet")?;
    let mut notes = Vec::new();
    let mut other = match (&lever.kind, way) {
        (LeverKind::Cable(_), _) => return Err(NO_CYLINDER),
        (LeverKind::Inline(_), LayoutKind::Inline | LayoutKind::TwoOutlets) => car.clone(),
        (LeverKind::Inline(_), _) => {
            if car.lever_brake.is_none() {
                notes.push("second calipers taken like the rear's own: the sheet describes none".to_owned());
            }
            notes.push("a reservoir of its own, and a bracket for each second caliper".to_owned());
            other_layout(car)
                .ok_or("drums behind, and no second calipers on the sheet to compare with")?
                .1
        }
        (LeverKind::Separate(..), _) => {
            notes.push("the foot's rear calipers serve the hand too: the second pair comes off".to_owned());
            other_layout(car).ok_or("it cannot be had")?.1
        }
    };
    if let Some(LeverKind::Inline(cylinder) | LeverKind::Separate(cylinder, _)) =
        other.lever.as_mut().map(|lever| &mut lever.kind)
    {
        match way {
            LayoutKind::TwoOutlets if cylinder.outlets == Outlets::One => {
                cylinder.outlets = Outlets::Tandem;
                notes.push("taken as tandem: one pressure, strokes add".to_owned());
            }
            LayoutKind::Inline => cylinder.outlets = Outlets::One,
            _ => {}
        }
    }
    if way == LayoutKind::Inline && other.routes.lever_to_rear_tee.length <= Length::ZERO {
        // With two outlets each wheel's run began at the lever: the run to a tee has to come from somewhere.
        let routes = &mut other.routes;
        let [left, right] = [routes.tee_to_rear_left, routes.tee_to_rear_right].map(|route| route.length);
        let shared = left.min(right) / 2.0;
        routes.lever_to_rear_tee = Route::taken_as(shared);
        routes.tee_to_rear_left = Route::taken_as(left - shared);
        routes.tee_to_rear_right = Route::taken_as(right - shared);
        notes.push("the tee is taken half way to the nearer wheel".to_owned());
    }
    Ok((other, notes))
}

/// The car as it is with its mechanical parking brake kept.
fn with_cable(car: &Car) -> Result<Car, &'static str> {
    let mut kept = car.clone();
    let lever = kept.lever.as_mut().ok_or("there is no handbrake on the sheet")?;
    if matches!(lever.kind, LeverKind::Cable(_)) {
        return Err("the cable is the handbrake");
    }
    if lever.cable_kept {
        return Err("it is kept already");
    }
    match car.before.parking {
        OldParking::None => Err("the sheet knows of no mechanical parking brake that the car had"),
        OldParking::Electric => Err("the car had an electric one: there is no cable to keep"),
        OldParking::CableShoes | OldParking::CableInCaliper | OldParking::CableDrumInDisc => {
            lever.cable_kept = true;
            Ok(kept)
        }
    }
}

//! What comes out, what to buy, how long to cut it, what is screwed into what.

use std::path::Path;

use assess::{ComesOut, comes_out};
use engine::hydraulics::{Asked, Hydraulics};
use engine::lever::Pull;
use plumbing::layouts::Layouts;
use plumbing::prices::Prices;
use plumbing::rules::{Caught, caught};
use plumbing::{Meeting, Plumbing};
use quantity::si::{Force, Length, Pressure, Speed, Volume};
use records::Cars;

use crate::opened::Opened;
use crate::trouble::{Shown, Stop, Trouble, Wrong, of_records};

/// What hoses give back as travel at the driver's pull.
#[derive(Clone, Copy, Debug)]
pub struct HoseTravel {
    /// In the lever's cylinder.
    pub pressure: Pressure,
    /// That the hoses grow by.
    pub volume: Volume,
    /// At the grip.
    pub travel: Length,
    /// Of all the travel that there is at that pull.
    pub share: f64,
}

/// What came out.
#[derive(Debug)]
pub struct Outcome {
    /// Joints, parts, cuts.
    pub plumbing: Plumbing,
    /// Rules of the trade that the sheet breaks or asks to mind.
    pub caught: Vec<Caught>,
    /// Layouts side by side, the sheet's own first.
    pub layouts: Layouts,
    /// What the new parts replace or make useless.
    pub comes_out: Vec<ComesOut>,
    /// The person's own prices.
    pub prices: Prices,
    /// What hoses give back as travel; `None` without a lever's cylinder.
    pub hoses: Option<HoseTravel>,
}

impl Outcome {
    /// Of an opened car; prices as the person wrote them.
    #[must_use]
    pub fn of(opened: &Opened, pull: Pull, prices: Prices) -> Self {
        let (car, state) = (opened.car(), &opened.state);
        let plumbing = Plumbing::of(car);
        Self {
            caught: caught(car, &plumbing),
            layouts: Layouts::of(car, &state.laden, pull, state.warmth, &prices),
            comes_out: comes_out(car),
            hoses: hoses(opened, pull.hand),
            prices,
            plumbing,
        }
    }

    /// How much there is to buy and to join, in one sentence.
    #[must_use]
    pub fn sentence(&self) -> String {
        let joints = &self.plumbing.joints;
        let count =
            |wanted: &dyn Fn(&Meeting) -> bool| joints.iter().filter(|joint| wanted(&joint.meeting)).count();
        let mut said = format!(
            "{:.0} parts, {:.1}\u{a0}m of pipe and hose, {} joints",
            self.pieces(),
            self.line().m(),
            joints.len()
        );
        let adapters = count(&|meeting| meeting.adapter().is_some());
        let none = count(&|meeting| matches!(meeting, Meeting::None { .. }));
        let unknown = count(&|meeting| *meeting == Meeting::NotKnown);
        if adapters > 0 {
            said.push_str(&format!(", {adapters} of them with an adapter"));
        }
        if none > 0 {
            said.push_str(&format!("; {none} that nothing joins as it is"));
        }
        if unknown > 0 {
            said.push_str(&format!(
                "; {unknown} at ports whose thread and seat the sheet does not give"
            ));
        }
        said.push('.');
        said
    }

    /// The short answer: `73 parts, 8.0 m`.
    #[must_use]
    pub fn short(&self) -> String {
        format!("{:.0} parts, {:.1}\u{a0}m", self.pieces(), self.line().m())
    }

    fn pieces(&self) -> f64 {
        self.layouts.can.first().map_or(0.0, |layout| layout.pieces)
    }

    fn line(&self) -> Length {
        self.layouts
            .can
            .first()
            .map_or(Length::ZERO, |layout| layout.line)
    }
}

/// The pull of a car, as asked or as on its sheet.
#[must_use]
pub fn pull_of(opened: &Opened, hand: Option<Force>, speed: Speed) -> Pull {
    let of_sheet = opened.car().lever.as_ref().map(|lever| lever.hand_pull);
    Pull {
        hand: hand.or(of_sheet).unwrap_or(Force::ZERO),
        grip: opened.state.surface.peak,
        speed,
    }
}

fn hoses(opened: &Opened, hand: Force) -> Option<HoseTravel> {
    let car = opened.car();
    let lever = car.lever.as_ref()?;
    let cylinder = lever.cylinder()?;
    let asked = Asked {
        foot: Force::ZERO,
        hand,
    };
    let answer = Hydraulics::of(car, opened.state.warmth).answer(&opened.state.laden, asked);
    let lever = answer.lever?;
    let volume = lever.taken.hoses;
    let travel = Length::from_m(volume.m3() / cylinder.pressed_area_m2() * cylinder.ratio);
    let all = lever.travel?;
    Some(HoseTravel {
        pressure: lever.own?,
        volume,
        travel,
        share: if all > Length::ZERO { travel / all } else { 0.0 },
    })
}

/// Ports of the sheet that are not listed are wrong input here.
#[must_use]
pub fn unlisted(opened: &Opened, plumbing: &Plumbing) -> Wrong {
    let mut wrong = Wrong::default();
    for unlisted in &plumbing.unlisted {
        wrong.add(
            Trouble {
                file: opened.sheet.path(),
                place: None,
                key: Some(unlisted.key.to_owned()),
                slug: "unlisted-port".to_owned(),
                text: format!("{}: {}", unlisted.key, unlisted.fault),
                remedy: unlisted.fault.help(),
                shown: Shown::Nothing,
            }
            .into(),
        );
    }
    wrong
}

/// The person's prices, from the preferences beside the cars; what is wrong with them joins what is wrong already.
///
/// # Errors
/// A file that cannot be read.
pub fn prices(folder: &Path, wrong: &mut Wrong) -> Result<Prices, Stop> {
    let Ok(cars) = Cars::open(folder) else {
        return Ok(Prices::default());
    };
    let file = cars.preferences();
    let shown = file.path().display().to_string();
    let text = file
        .read_if_there(records::LARGEST_SHEET)
        .map_err(|fault| of_records(&shown, &fault, None))?;
    let list = match text.map(|text| sheet::price_list(&text.text)) {
        None => return Ok(Prices::default()),
        Some(Ok(list)) => list,
        Some(Err(faults)) => {
            for fault in faults {
                wrong.add(
                    Trouble {
                        file: shown.clone(),
                        place: Some((fault.line, fault.column)),
                        key: None,
                        slug: "price".to_owned(),
                        text: fault.text.clone(),
                        remedy: fault.remedy.to_owned(),
                        shown: Shown::Nothing,
                    }
                    .into(),
                );
            }
            return Ok(Prices::default());
        }
    };
    Ok(Prices {
        currency: list.currency,
        each: list.each,
    })
}

//! Handles that slide: between what, and where each stands for a car.

use engine::car::{BiasValve, Knee, KnobScale};
use quantity::{Dimension, Unit, find_unit, units_of};

use super::{Case, FOOT, HAND, RELEASE, Row, SLOPE, STEER};

/// A handle that slides. Its figures are in the unit of the address.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Slide {
    /// What it is called.
    pub label: &'static str,
    /// From.
    pub low: f64,
    /// To.
    pub high: f64,
    /// By how much a key moves it.
    pub step: f64,
    /// Where it stands; `None` where the question alone knows.
    pub stands: Option<f64>,
    /// Places behind the decimal point.
    pub places: usize,
    /// What the figure is shown in.
    pub shown: &'static str,
    /// How many of those one of the address is.
    pub factor: f64,
}

impl Slide {
    const fn plain(label: &'static str, between: (f64, f64), step: f64, places: usize) -> Self {
        Self {
            label,
            low: between.0,
            high: between.1,
            step,
            stands: None,
            places,
            shown: "",
            factor: 1.0,
        }
    }

    const fn at(mut self, stands: f64) -> Self {
        self.stands = Some(stands);
        self
    }

    fn read_in(mut self, unit: Unit, of_the_address: Unit) -> Self {
        self.shown = unit.shown();
        self.factor = unit.from_si(of_the_address.to_si(1.0));
        self
    }
}

fn unit(symbol: &str, dimension: Dimension) -> Unit {
    find_unit(symbol, dimension).unwrap_or(units_of(dimension)[0])
}

/// A figure of the address in a unit; `None` where it is not said, or not so.
fn said(case: &Case<'_>, row: &Row, dimension: Dimension, symbol: &str) -> Option<f64> {
    let amount = quantity::parse(case.said.text(row)?, dimension).ok()?;
    Some(unit(symbol, dimension).from_si(amount.si))
}

pub(super) fn grip(case: &Case<'_>) -> Option<Slide> {
    Some(Slide::plain("Grip", (0.05, 1.3), 0.01, 2).at(case.opened.state.surface.peak))
}

pub(super) fn fuel(case: &Case<'_>) -> Option<Slide> {
    let tank = case.opened.car().load.tank?;
    let litre = unit("L", Dimension::Volume);
    let between = (0.0, litre.from_si(tank.capacity.m3()));
    let stands = litre.from_si(case.opened.state.laden.fuel.m3());
    Some(
        Slide::plain("Fuel", between, 0.5, 1)
            .at(stands)
            .read_in(case.units.fuel, litre),
    )
}

pub(super) fn speed(case: &Case<'_>) -> Option<Slide> {
    let mut slide = Slide::plain("Speed", (10.0, 120.0), 1.0, 0).at(case.said.speed().m_s() * 3.6);
    slide.shown = "km/h";
    Some(slide)
}

pub(super) fn ambient(case: &Case<'_>) -> Option<Slide> {
    let mut slide = Slide::plain("Air", (-20.0, 45.0), 1.0, 0).at(case.said.ambient().celsius());
    slide.shown = "°C";
    Some(slide)
}

pub(super) fn slope(case: &Case<'_>) -> Option<Slide> {
    let mut slide = Slide::plain("Slope", (0.0, 40.0), 0.5, 1);
    slide.stands = said(case, &SLOPE, Dimension::Slope, "%");
    slide.shown = "%";
    Some(slide)
}

pub(super) fn foot(case: &Case<'_>) -> Option<Slide> {
    let mut slide =
        Slide::plain("Foot", (0.0, 1000.0), 1.0, 0).read_in(case.units.force, unit("N", Dimension::Force));
    slide.stands = case.said.force(&FOOT).map(|foot| foot.n());
    Some(slide)
}

pub(super) fn hand(case: &Case<'_>) -> Option<Slide> {
    let of_sheet = case.opened.car().lever.as_ref()?.hand_pull;
    let stands = case.said.force(&HAND).unwrap_or(of_sheet).n();
    Some(
        Slide::plain("Hand", (0.0, 500.0), 1.0, 0)
            .at(stands)
            .read_in(case.units.force, unit("N", Dimension::Force)),
    )
}

pub(super) fn valve(case: &Case<'_>) -> Option<Slide> {
    let BiasValve {
        knee: Knee::Knob { scale, setting, .. },
        ..
    } = case.opened.car().bias_valve.as_ref()?
    else {
        return None;
    };
    Some(match scale {
        KnobScale::Turns(most) => {
            let mut slide = Slide::plain("Valve", (0.0, most.turns()), 0.05, 2).at(*setting);
            slide.shown = "turns";
            slide
        }
        KnobScale::Positions(most) => {
            Slide::plain("Valve, position", (1.0, f64::from(*most)), 1.0, 0).at(*setting)
        }
    })
}

pub(super) fn steer(case: &Case<'_>) -> Option<Slide> {
    let mut slide = Slide::plain("Steer, left", (0.0, 35.0), 0.5, 1);
    slide.shown = "°";
    slide.stands = said(case, &STEER, Dimension::Angle, "deg");
    Some(slide)
}

pub(super) fn release(case: &Case<'_>) -> Option<Slide> {
    let mut slide = Slide::plain("Let go after", (0.6, 6.0), 0.05, 2);
    slide.shown = "s";
    slide.stands = said(case, &RELEASE, Dimension::Duration, "s");
    Some(slide)
}

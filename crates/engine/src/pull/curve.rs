//! Travel of the grip over the pressure at the brakes, with clearance, flex and air left open.

use quantity::si::{Flex, Length, Pressure, Volume};

use crate::brake::{Warmth, disc, drum};
use crate::car::{Brake, Car, LeverKind, ValvePlace};
use crate::hydraulics::Hydraulics;
use crate::loads::{Aboard, Laden};
use crate::solve::{Passes, passes};

/// Points of a drawn curve.
const DRAWN: u8 = 40;

/// A car's pull. Pressures in bar, travels in mm, parts in mm, cm³/bar and cm³: figures near one, for the fit.
///
/// Its coefficients are read off the network, which knows no layout: with none of the three, and with one of each.
pub(crate) struct PullCurve {
    /// Free play and free stroke.
    rest_mm: f64,
    /// Hoses and fluid, per pressure in the lever's cylinder: below and above the knee of a valve behind it.
    lines_mm_bar: [f64; 2],
    /// Valve between the lever's cylinder and the brakes: knee in bar, and slope.
    valve: Option<(f64, f64)>,
    /// Pressure by which clearance is taken up.
    touch_bar: f64,
    /// Travel that a millimetre of clearance takes.
    clearance_mm: f64,
    /// Travel that a cm³/bar of flex takes, per bar.
    flex_mm_bar: f64,
    /// Travel that a cm³ of air takes, pressed to nothing.
    air_mm: f64,
    sheet: [f64; 3],
}

/// The air of the day, in bar.
const AIR_BAR: f64 = crate::ATMOSPHERE_PA / 1e5;

impl PullCurve {
    /// `None` without a lever's cylinder.
    pub(crate) fn of(car: &Car) -> Option<Self> {
        let lever = car.lever.as_ref()?;
        lever.cylinder()?;
        let standing = Laden::of(car, Aboard::AS_WEIGHED).axle_loads(0.0).rear;
        let hydraulics = |parts: [f64; 3]| {
            let hydraulics = Hydraulics::of(&with_parts(car, parts), Warmth::Warm);
            // A load-sensing valve stands where the standing car puts it.
            match hydraulics.knee(standing) {
                Some(knee) => hydraulics.with_knee(knee),
                None => hydraulics,
            }
        };
        let bare = hydraulics([0.0; 3]);
        let travel_mm = |hydraulics: &Hydraulics, own_bar: f64| {
            hydraulics
                .effort(Pressure::from_pa(own_bar * 1e5))
                .map(|effort| effort.travel.m() * 1e3)
        };
        let valve = car
            .bias_valve
            .as_ref()
            .filter(|valve| {
                matches!(lever.kind, LeverKind::Inline(_)) && valve.place == ValvePlace::AfterLever
            })
            .map(|valve| {
                let knee = bare.knee(standing).unwrap_or(Pressure::ZERO);
                (knee.pa() / 1e5, valve.slope)
            });
        let rest_mm = travel_mm(&bare, 0.0)?;
        let knee_bar = valve.map_or(0.0, |(knee, _)| knee);
        let at_knee_mm = travel_mm(&bare, knee_bar)?;
        let above = travel_mm(&bare, knee_bar + 100.0)? - at_knee_mm;
        let below = if knee_bar > 0.0 {
            (at_knee_mm - rest_mm) / knee_bar
        } else {
            above / 100.0
        };
        // Clearance is linear up to where pads or shoes touch: one reading there, or at a knee below it, has each.
        let touch_bar = threshold(car).pa() / 1e5;
        let (own_bar, probe_bar) = match valve {
            Some((knee, slope)) if knee < touch_bar && slope > 0.0 => {
                (knee + (touch_bar - knee) / slope, touch_bar)
            }
            Some((knee, _)) if knee < touch_bar => (knee, knee),
            _ => (touch_bar, touch_bar),
        };
        if probe_bar <= 0.0 {
            return None;
        }
        let known_mm = travel_mm(&bare, own_bar)?;
        let one = |parts: [f64; 3]| travel_mm(&hydraulics(parts), own_bar).map(|mm| mm - known_mm);
        Some(Self {
            rest_mm,
            lines_mm_bar: [below, above / 100.0],
            valve,
            touch_bar,
            clearance_mm: one([1.0, 0.0, 0.0])? * touch_bar / probe_bar,
            flex_mm_bar: one([0.0, 1.0, 0.0])? / probe_bar,
            air_mm: one([0.0, 0.0, 1.0])? / (probe_bar / (AIR_BAR + probe_bar)),
            sheet: sheet_parts(car),
        })
    }

    /// What the sheet says of the three.
    pub(crate) fn sheet(&self) -> [f64; 3] {
        self.sheet
    }

    /// Pressure at the brakes that a limiting valve lets through at most.
    pub(crate) fn cap_bar(&self) -> f64 {
        match self.valve {
            Some((knee, slope)) if slope <= 0.0 => knee,
            _ => f64::INFINITY,
        }
    }

    /// What is known, free play, free stroke, hoses and fluid, and its rise over the pressure at the brakes.
    pub(super) fn known_mm(&self, bar: f64) -> (f64, f64) {
        let [below, above] = self.lines_mm_bar;
        match self.valve {
            Some((knee, slope)) if bar > knee && slope > 0.0 => {
                let rise = above / slope;
                (self.rest_mm + below * knee + rise * (bar - knee), rise)
            }
            _ => (self.rest_mm + below * bar, below),
        }
    }

    /// What one of each takes, and its rise over the pressure at the brakes.
    pub(super) fn parts_mm(&self, bar: f64) -> [(f64, f64); 3] {
        let taking_up = bar < self.touch_bar;
        [
            (
                self.clearance_mm * (bar / self.touch_bar).min(1.0),
                if taking_up {
                    self.clearance_mm / self.touch_bar
                } else {
                    0.0
                },
            ),
            (self.flex_mm_bar * bar, self.flex_mm_bar),
            (
                self.air_mm * bar / (AIR_BAR + bar),
                self.air_mm * AIR_BAR / (AIR_BAR + bar).powi(2),
            ),
        ]
    }

    /// Travel, and its rise over the pressure.
    pub(crate) fn travel_mm(&self, bar: f64, parts: &[f64]) -> (f64, f64) {
        let (mut travel, mut rise) = self.known_mm(bar);
        for (part, (each, each_rise)) in parts.iter().zip(self.parts_mm(bar)) {
            travel += part * each;
            rise += part * each_rise;
        }
        (travel, rise)
    }

    /// Pressure at a travel.
    pub(super) fn bar_at(&self, travel_mm: f64, parts: &[f64]) -> f64 {
        let short = |bar: f64| self.travel_mm(bar, parts).0 - travel_mm;
        if short(0.0) >= 0.0 {
            return 0.0;
        }
        let mut high = 10.0;
        while short(high) < 0.0 && high < 1e4 {
            high *= 2.0;
        }
        match passes(0.0, high, 1e-9, short) {
            Passes::Before => 0.0,
            Passes::At(bar) => bar,
            // No pressure reaches it.
            Passes::Beyond => f64::INFINITY,
        }
    }

    /// The curve, for a picture: closer together where the pressure is low.
    pub(super) fn drawn(&self, top_bar: f64, parts: &[f64]) -> Vec<(Length, Pressure)> {
        (0..=DRAWN)
            .map(|step| top_bar * (f64::from(step) / f64::from(DRAWN)).powi(2))
            .map(|bar| {
                (
                    Length::from_m(self.travel_mm(bar, parts).0 / 1e3),
                    Pressure::from_pa(bar * 1e5),
                )
            })
            .collect()
    }
}

/// Pressure by which the brakes that the lever works have taken up their clearance.
fn threshold(car: &Car) -> Pressure {
    match (&car.lever, &car.rear_brake) {
        (Some(lever), _) if matches!(lever.kind, LeverKind::Separate(..)) => disc::THRESHOLD,
        (_, Brake::Disc(_)) => disc::THRESHOLD,
        (_, Brake::Drum(_)) => drum::THRESHOLD,
    }
}

/// The three as the sheet has them, for the brakes that the lever works.
fn sheet_parts(car: &Car) -> [f64; 3] {
    let (clearance, flex, air) = match car.lever.as_ref().map(|lever| &lever.kind) {
        Some(LeverKind::Separate(_, brake)) => (brake.clearance, brake.flex, car.air.lever),
        _ => {
            let (clearance, flex) = match &car.rear_brake {
                Brake::Disc(disc) => (disc.clearance, disc.flex),
                Brake::Drum(drum) => (drum.clearance, drum.flex),
            };
            (clearance, flex, car.air.rear)
        }
    };
    [clearance.m() * 1e3, flex.m3_pa() * 1e11, air.m3() * 1e6]
}

/// The car with other clearance (mm), flex (cm³/bar) and air (cm³) where the lever works.
fn with_parts(car: &Car, [mm, cm3_bar, cm3]: [f64; 3]) -> Car {
    let mut car = car.clone();
    let clearance = Length::from_m(mm / 1e3);
    let flex = Flex::from_m3_pa(cm3_bar * 1e-11);
    let air = Volume::from_m3(cm3 * 1e-6);
    if let Some(LeverKind::Separate(_, brake)) = car.lever.as_mut().map(|lever| &mut lever.kind) {
        brake.clearance = clearance;
        brake.flex = flex;
        car.air.lever = air;
        return car;
    }
    match &mut car.rear_brake {
        Brake::Disc(disc) => {
            disc.clearance = clearance;
            disc.flex = flex;
        }
        Brake::Drum(drum) => {
            drum.clearance = clearance;
            drum.flex = flex;
        }
    }
    car.air.rear = air;
    car
}

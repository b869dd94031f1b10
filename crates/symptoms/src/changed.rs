//! What changed between two pulls, and what explains how much of it.

use engine::fit::Estimate;
use engine::pull::{Apart, PullPart};
use quantity::si::{Length, Pressure};

/// What is known to have been done between the two.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct DoneBetween {
    /// Joints of the rear line that were opened.
    pub joints_opened: usize,
    /// The system was bled.
    pub bled: bool,
    /// Pads or shoes were changed or adjusted.
    pub pads_changed: bool,
    /// A hose was changed.
    pub hose_changed: bool,
    /// How much thinner the rear lining became.
    pub lining_lost: Length,
}

/// What one part did.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PartChange {
    /// Which.
    pub part: PullPart,
    /// Grip travel that it takes more (or less) now, at the pressure of comparison.
    pub by: Length,
    /// The change lies between these in 95 of 100.
    pub between: (Length, Length),
    /// Its share of all that changed; `None` where nothing surely did.
    pub share: Option<f64>,
    /// Whether the change is more than the readings can be off.
    pub is_sure: bool,
    /// Something that was done between goes with it.
    pub goes_with: Option<&'static str>,
}

/// What changed.
#[derive(Clone, Debug, PartialEq)]
pub struct Changed {
    /// Pressure at which both are compared: the lower of the two highest.
    pub at: Pressure,
    /// Grip travel there, then and now.
    pub travel: (Length, Length),
    /// The parts, what explains most first.
    pub parts: Vec<PartChange>,
    /// Whether anything surely changed.
    pub anything: bool,
}

/// Holds two pulls of one car against one another, at the lower of their highest pressures.
///
/// Each part's change comes with an interval made of both pulls' own; shares are told only where a change is sure, and a
/// part that may not have changed at all explains nothing.
#[must_use]
pub fn changed(then: &Apart, now: &Apart, known: DoneBetween) -> Changed {
    let at = then.top.min(now.top);
    let of = |apart: &Apart| {
        PullPart::ALL.map(|part| {
            let found = apart.travel[index(part)];
            let share = scaled(part, at, apart.top);
            Estimate {
                value: found.value * share,
                se: found.se * share,
                low: found.low * share,
                high: found.high * share,
                from_nothing: found.from_nothing,
            }
        })
    };
    let (was, is) = (of(then), of(now));
    let mut parts: Vec<PartChange> = PullPart::ALL
        .into_iter()
        .map(|part| {
            let (was, is) = (was[index(part)], is[index(part)]);
            let by = is.value - was.value;
            let low = by.m() - (is.value - is.low).m().hypot((was.high - was.value).m());
            let high = by.m() + (is.high - is.value).m().hypot((was.value - was.low).m());
            PartChange {
                part,
                by,
                between: (Length::from_m(low), Length::from_m(high)),
                share: None,
                is_sure: low > 0.0 || high < 0.0,
                goes_with: goes_with(part, by, known),
            }
        })
        .collect();
    let sure_m: f64 = parts
        .iter()
        .filter(|part| part.is_sure)
        .map(|part| part.by.m().abs())
        .sum();
    for part in parts.iter_mut().filter(|part| part.is_sure) {
        part.share = Some(part.by.m().abs() / sure_m);
    }
    parts.sort_by(|one, other| {
        other
            .is_sure
            .cmp(&one.is_sure)
            .then(other.by.m().abs().total_cmp(&one.by.m().abs()))
    });
    let travel = |apart: &Apart| {
        let curve: Vec<(f64, f64)> = apart
            .curve
            .iter()
            .map(|point| (point.1.pa(), point.0.m()))
            .collect();
        Length::from_m(along(&curve, at.pa()))
    };
    Changed {
        at,
        travel: (travel(then), travel(now)),
        anything: parts.iter().any(|part| part.is_sure),
        parts,
    }
}

const fn index(part: PullPart) -> usize {
    match part {
        PullPart::Clearance => 0,
        PullPart::Flex => 1,
        PullPart::Air => 2,
    }
}

/// Travel of a part at one pressure over that at another: clearance is taken up, flex goes with the pressure, air by
/// Boyle's law.
fn scaled(part: PullPart, at: Pressure, top: Pressure) -> f64 {
    let boyle = |pressure: Pressure| pressure.pa() / (engine::ATMOSPHERE_PA + pressure.pa());
    match part {
        PullPart::Clearance => 1.0,
        PullPart::Flex => at / top,
        PullPart::Air => boyle(at) / boyle(top),
    }
}

fn goes_with(part: PullPart, by: Length, known: DoneBetween) -> Option<&'static str> {
    let more = by > Length::ZERO;
    match part {
        PullPart::Air if more && known.joints_opened > 0 => Some("a joint was opened since"),
        PullPart::Air if !more && known.bled => Some("it was bled since"),
        PullPart::Clearance if known.pads_changed => Some("pads or shoes were changed or adjusted since"),
        // Of a drum without a working adjuster all of it becomes clearance.
        PullPart::Clearance if more && known.lining_lost > by * 0.2 => Some("the rear lining wore since"),
        PullPart::Flex if known.hose_changed => Some("a hose was changed since"),
        PullPart::Flex if more && known.pads_changed => Some("new pads are softer until they are bedded in"),
        _ => None,
    }
}

/// Straight between points that rise, held at the ends.
fn along(points: &[(f64, f64)], at: f64) -> f64 {
    let after = points.partition_point(|point| point.0 < at);
    match (
        after.checked_sub(1).and_then(|before| points.get(before)),
        points.get(after),
    ) {
        (Some(low), Some(high)) if high.0 > low.0 => {
            low.1 + (high.1 - low.1) * (at - low.0) / (high.0 - low.0)
        }
        (_, Some(point)) | (Some(point), None) => point.1,
        (None, None) => 0.0,
    }
}

//! The order of work on one page: dry-fit to first event, what is done, where one may stop for the night.

use engine::car::{Car, LeverKind};

use crate::{Check, Fact, Noted, Proof, Standing};
use plumbing::Meeting;
use plumbing::Plumbing;

/// A step.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct WorkStep {
    /// A word for it that never changes.
    pub slug: &'static str,
    /// What to do.
    pub what: String,
    /// With what.
    pub tools: &'static str,
    /// Whether it is done, as far as sheet and logbook tell.
    pub done: bool,
    /// Whether one may stop after it for the night.
    pub may_stop_after: bool,
    /// What may be left overnight, or must not.
    pub overnight: &'static str,
}

impl WorkStep {
    /// Whether one may stop after it for the night, and what of it: the two halves of a sentence.
    #[must_use]
    pub const fn night(&self) -> (&'static str, &'static str) {
        let may = if self.may_stop_after {
            "May be left overnight"
        } else {
            "Do not stop here"
        };
        (may, self.overnight)
    }
}

/// The plan.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct WorkOrder {
    /// Steps in their order.
    pub steps: Vec<WorkStep>,
}

impl WorkOrder {
    /// The first step that is not done.
    #[must_use]
    pub fn next(&self) -> Option<&WorkStep> {
        self.steps.iter().find(|step| !step.done)
    }

    /// The short answer: `bleed, then 19 joints`.
    #[must_use]
    pub fn short(&self) -> String {
        let open: Vec<&WorkStep> = self.steps.iter().filter(|step| !step.done).collect();
        match open.as_slice() {
            [] => "nothing: all of it is done".to_owned(),
            [one] => one.slug.replace('-', " "),
            [first, second, ..] => format!(
                "{}, then {}",
                first.slug.replace('-', " "),
                second.slug.replace('-', " ")
            ),
        }
    }
}

/// Whether every part of the list was ticked off.
fn all_got(plumbing: &Plumbing, history: &[Noted]) -> bool {
    plumbing.parts.iter().all(|part| {
        let code = part.kind.code();
        history
            .iter()
            .any(|entry| matches!(&entry.fact, Fact::Got { what } if *what == code))
    })
}

/// The order of work for a car, from its sheet, its logbook (oldest first, without what was struck) and where proving
/// stands. Steps that neither can tell are done once somebody wrote so.
#[must_use]
pub fn order(car: &Car, plumbing: &Plumbing, history: &[Noted], proof: &Proof) -> WorkOrder {
    let written = |slug: &str| {
        history
            .iter()
            .any(|entry| matches!(&entry.fact, Fact::Step { step } if step == slug))
    };
    let settled = |check: Check| {
        proof
            .checks
            .iter()
            .find(|state| state.check == check)
            .is_none_or(crate::CheckState::is_settled)
    };
    let all = |wanted: &dyn Fn(Standing) -> bool| proof.joints.iter().all(|joint| wanted(joint.state));
    let tight = all(&|state| state != Standing::Untried);
    let lever = car.lever.as_ref().map(|lever| &lever.kind);
    let hydraulic = matches!(lever, Some(LeverKind::Inline(_) | LeverKind::Separate(..)));
    let known = plumbing.unlisted.is_empty()
        && !plumbing
            .joints
            .iter()
            .any(|joint| matches!(joint.meeting, Meeting::NotKnown | Meeting::None { .. }));
    // Whatever comes before tight joints has been done once they are tight.
    let before = |slug: &str| written(slug) || tight;
    let event_since = history
        .iter()
        .rposition(|entry| matches!(entry.fact, Fact::Signed(_)))
        .is_some_and(|signed| {
            history[signed..]
                .iter()
                .any(|entry| matches!(entry.fact, Fact::Event { .. }))
        });
    let mut steps = Vec::new();
    let mut add =
        |slug: &'static str, what: String, tools: &'static str, done: bool, stop: (bool, &'static str)| {
            steps.push(WorkStep {
                slug,
                what,
                tools,
                done,
                may_stop_after: stop.0,
                overnight: stop.1,
            });
        };
    add(
        "ports",
        "Look into every port: thread by gauge, seat by its floor; write them on the sheet, and change what nothing \
         joins"
            .into(),
        "thread gauge, vernier, lamp",
        known || tight,
        (true, "anything"),
    );
    add(
        "buy",
        format!(
            "Buy by the list of parts, adapters and new washers too; lay it out by joint number ({} joints)",
            plumbing.joints.len()
        ),
        "the list",
        before("buy") || all_got(plumbing, history),
        (true, "anything"),
    );
    if hydraulic {
        add(
            "dry-fit",
            "Dry-fit the lever: reach and full swing from the belted seat, helmet on; grip meets nothing at full travel"
                .into(),
            "tape, clamps, driver",
            before("dry-fit"),
            (true, "anything"),
        );
        add(
            "mount",
            "Drill, deburr, paint the edges; spreader under the sheet; bolts with the grade that the sheet says".into(),
            "drill, spreader, torque wrench",
            before("mount"),
            (true, "anything"),
        );
    }
    add(
        "route",
        "Route with string: away from exhaust, shafts and belts; clip points every 0.3 m; wheel drooped and on full lock"
            .into(),
        "string, marker, stands",
        before("route"),
        (true, "anything"),
    );
    add(
        "flare",
        "Cut, deburr, nut on first, flare, look at every flare, blow through, cap the ends".into(),
        "cutter, flaring tool for the seats on the list, caps",
        before("flare"),
        (true, "made pipes, capped"),
    );
    add(
        "strip",
        "Chock, stands, drain; take out what comes out; cap every open end at once".into(),
        "line spanners, caps, tray, gloves, glasses",
        before("strip"),
        (
            true,
            "ends capped, car on stands, a note on the wheel: NO BRAKES; fluid off the paint",
        ),
    );
    add(
        "fit",
        "Fit lines: every nut three turns by hand before a spanner; clips; guards; covers off until joints are felt".into(),
        "line spanners",
        before("fit"),
        (true, "all ends closed, a note on the wheel: NO BRAKES"),
    );
    add(
        "tighten",
        format!(
            "Tighten to the maker's figure, draw a witness mark across each of {} joints, write it down as you go",
            plumbing.joints.len()
        ),
        "torque wrench, paint pen",
        tight,
        (true, "closed and dry; not yet filled"),
    );
    add(
        "bleed",
        "Fill and bleed in the order of the bleeding sheet: longest line first, bias valve at mid-range, lever at rest"
            .into(),
        "bleeder, tube, jar, sealed fluid, gloves, glasses",
        settled(Check::Bled),
        (
            false,
            "go on to the bleed screws, since one left open empties it overnight",
        ),
    );
    add(
        "screws",
        "Bleed screws closed and capped; wash down with water; let everything dry".into(),
        "spanner, water, air",
        settled(Check::Screws),
        (
            true,
            "full and closed, reservoir cap on, a note on the wheel: NOT PROVED",
        ),
    );
    add(
        "feel",
        "Hold pressure while alone, low then high; feel every joint with a dry paper; dry, weep or remade, each written down"
            .into(),
        "pedal prop, strap, dry paper, lamp",
        all(&|state| state == Standing::Dry) && settled(Check::Pressed),
        (true, "prop and strap off; pressure is not left on overnight"),
    );
    add(
        "soak",
        "Close pressure in against a gauge with the air beside it, ten minutes".into(),
        "gauge, thermometer, watch",
        settled(Check::Soak),
        (true, "gauge off, screw closed and felt again"),
    );
    add(
        "firm",
        "Two presses and two pulls: alike; if not, bleed again".into(),
        "luggage scale, tape",
        settled(Check::FirmPedal) && settled(Check::FirmHand),
        (true, "anything"),
    );
    if hydraulic {
        add(
            "by-pass",
            "Rear wheels turn by hand at once after pedal and after lever".into(),
            "stands",
            settled(Check::ByPassCold),
            (true, "anything"),
        );
    }
    add(
        "walk",
        "Brake test at walking pace, foot then hand, then slowly; bed the pads in as their maker says".into(),
        "an empty place",
        settled(Check::Walking),
        (true, "wheels chocked, in gear"),
    );
    add(
        "even",
        "Left and right alike; after three hard stops the by-pass again; what holds it parked, on a slope"
            .into(),
        "torque wrench or tester that suits the car, chocks",
        settled(Check::Even) && settled(Check::ByPassHot) && settled(Check::Slope),
        (true, "wheels chocked, in gear"),
    );
    add(
        "sign",
        "Sign off, with somebody who checked it; covers and guards on".into(),
        "logbook, pen",
        proof.signed.is_some(),
        (true, "anything"),
    );
    add(
        "first-event",
        "After the first event: every witness mark, every joint felt again, pads measured, fluid looked at"
            .into(),
        "lamp, dry paper, vernier",
        proof.signed.is_some() && event_since && crate::due::due_joints(plumbing, history).is_none(),
        (true, "anything"),
    );
    WorkOrder { steps }
}

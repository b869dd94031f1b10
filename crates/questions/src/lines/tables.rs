//! The lists for a spreadsheet: in SI, but for what is bought by the metre.

use plumbing::{NOT_TAPED, Part, pipe_name};

use super::outcome::Outcome;
use super::words::meets_words;
use crate::result::CsvTable;

/// What to buy, how long to cut it, joints, layouts, what comes out.
pub(super) fn of(outcome: &Outcome) -> Vec<CsvTable> {
    let plumbing = &outcome.plumbing;
    let price = |part: &Part| outcome.prices.each(part);
    let or_empty = |value: Option<f64>| value.map_or_else(String::new, |value| format!("{value:.2}"));
    let metres = |m: f64| format!("{m:.3}");
    // What has to be read before the list, in a row of its own.
    let alone = |said: String| {
        let mut row = vec![String::new(); 8];
        row[0] = said;
        row
    };
    vec![
        CsvTable {
            name: "parts.csv",
            head: vec![
                "what",
                "count",
                "runs not measured",
                "unit",
                "spec",
                "code",
                "each",
                "sum",
            ],
            rows: outcome
                .assessment
                .stop_first()
                .into_iter()
                .chain(outcome.not_listed())
                .map(alone)
                .chain(plumbing.parts.iter().map(|part| {
                    vec![
                        part.kind.what(),
                        part.count.to_string(),
                        part.to_tape.to_string(),
                        part.kind.counted().word().to_owned(),
                        part.kind.spec(),
                        part.kind.code(),
                        or_empty(price(part)),
                        or_empty(price(part).map(|each| each * part.count)),
                    ]
                }))
                .collect(),
        },
        CsvTable {
            name: "cuts.csv",
            head: vec!["run", "of", "measured [m]", "cut [m]", "end a", "end b"],
            rows: plumbing
                .cuts
                .iter()
                .map(|cut| {
                    vec![
                        cut.run.clone(),
                        pipe_name(cut.pipe).to_owned(),
                        if cut.taped {
                            metres(cut.length.m())
                        } else {
                            NOT_TAPED.to_owned()
                        },
                        match cut.cut() {
                            Some(to) => metres(to.m()),
                            None if cut.wants_tape() => NOT_TAPED.to_owned(),
                            None if cut.stays => "stays".to_owned(),
                            None => "screwed on".to_owned(),
                        },
                        cut.ends[0].clone(),
                        cut.ends[1].clone(),
                    ]
                })
                .collect(),
        },
        CsvTable {
            name: "joints.csv",
            head: vec![
                "number",
                "id",
                "place",
                "thread",
                "seat",
                "mates",
                "adapter",
                "in cabin",
                "torque from [N m]",
                "torque to [N m]",
            ],
            rows: plumbing
                .joints
                .iter()
                .map(|joint| {
                    let word = |yes: bool| if yes { "yes" } else { "no" };
                    vec![
                        joint.number.to_string(),
                        joint.id.clone(),
                        joint.place.clone(),
                        joint.thread().to_owned(),
                        joint.seat().to_owned(),
                        match joint.meeting.mates() {
                            Some(mates) => word(mates).to_owned(),
                            None => meets_words(joint),
                        },
                        joint.meeting.adapter().unwrap_or_default().to_owned(),
                        word(joint.in_cabin).to_owned(),
                        or_empty(joint.torque_band.map(|band| band.0.nm())),
                        or_empty(joint.torque_band.map(|band| band.1.nm())),
                    ]
                })
                .collect(),
        },
        CsvTable {
            name: "layouts.csv",
            head: vec![
                "layout",
                "parts",
                "pipe and hose [m]",
                "joints",
                "joints in cabin",
                "fluid in cabin [cm3]",
                "cost",
                "hand to lock [N]",
                "travel to lock [mm]",
                "in hand",
                "least left [m/s2]",
            ],
            rows: outcome
                .can
                .iter()
                .map(|compared| {
                    let (layout, to_lock) = (&compared.layout, compared.to_lock.as_ref());
                    vec![
                        if layout.joined {
                            format!("{}: STOP, it joins the two circuits", layout.name())
                        } else {
                            layout.name()
                        },
                        format!("{:.0}", layout.pieces),
                        metres(layout.line.m()),
                        layout.plumbing.joints.len().to_string(),
                        layout.joints_in_cabin.to_string(),
                        format!("{:.1}", layout.fluid_in_cabin.m3() * 1e6),
                        or_empty(layout.cost.map(|cost| cost.sum)),
                        or_empty(to_lock.and_then(|to_lock| to_lock.hand).map(|hand| hand.n())),
                        or_empty(
                            to_lock
                                .and_then(|to_lock| to_lock.travel)
                                .map(|travel| travel.m() * 1e3),
                        ),
                        or_empty(to_lock.map(|to_lock| to_lock.in_hand)),
                        or_empty(compared.worst().map(|worst| worst.rate.m_s2())),
                    ]
                })
                .collect(),
        },
        CsvTable {
            name: "comes-out.csv",
            head: vec!["part", "did", "replaced by"],
            rows: outcome
                .comes_out
                .iter()
                .map(|part| vec![part.part.clone(), part.did.clone(), part.replaced_by.clone()])
                .collect(),
        },
    ]
}

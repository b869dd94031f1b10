//! What `lines --seats` answers, as other programs read it.

use plumbing::LISTED;
use plumbing::rules::RULES;
use schemars::JsonSchema;
use serde::Serialize;

use super::{CONTRACT, Num, OrWhy};

/// The threads and seats that are known, and the rules about them.
#[derive(Serialize, JsonSchema)]
pub(crate) struct SeatsView {
    contract: u32,
    rearline: &'static str,
    verb: &'static str,
    seats: Vec<SeatView>,
    rules: Vec<RuleView>,
}

#[derive(Serialize, JsonSchema)]
struct SeatView {
    /// As a sheet writes it.
    port: String,
    thread: &'static str,
    seat: &'static str,
    /// Over the crests of the male thread.
    major_m: Num,
    pitch_m: Num,
    looks_like: &'static str,
    closes_on: &'static str,
    /// Outside diameter of the pipe that it is made for.
    pipe_m: OrWhy<Num>,
}

#[derive(Serialize, JsonSchema)]
struct RuleView {
    slug: &'static str,
    title: &'static str,
    because: &'static str,
    #[serde(rename = "do")]
    remedy: &'static str,
}

impl SeatsView {
    /// All of them.
    pub(crate) fn all() -> Self {
        Self {
            contract: CONTRACT,
            rearline: env!("CARGO_PKG_VERSION"),
            verb: "lines",
            seats: LISTED
                .into_iter()
                .map(|port| SeatView {
                    port: port.to_string(),
                    thread: port.thread.name(),
                    seat: port.seat.word(),
                    major_m: port.thread.major().m().into(),
                    pitch_m: port.thread.pitch().m().into(),
                    looks_like: port.seat.looks_like(),
                    closes_on: port.seat.closes_on(),
                    pipe_m: OrWhy::or(
                        port.pipe_outside().map(|outside| outside.m()),
                        "no pipe goes in by itself",
                    ),
                })
                .collect(),
            rules: RULES
                .iter()
                .map(|rule| RuleView {
                    slug: rule.slug,
                    title: rule.title,
                    because: rule.because,
                    remedy: rule.remedy,
                })
                .collect(),
        }
    }
}

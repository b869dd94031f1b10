//! "Will it come round?": the report, and the run from above with what plays it; or the map, whose cells open their runs.

use engine::turn::Release;
use maud::{Markup, html};
use questions::Question as _;
use questions::options::{FOOT, MAP, RELEASE, Row, STEER};
use questions::turn::{Ask as Question, PLAYED, usual};

use super::question::Asked;
use super::{Room, Said};
use crate::car::handles::Handle;
use crate::car::pictures;
use crate::car::visit::Visit;

/// The picture of the map on the page.
const MAPPED: &str = "turn-map";

const ASKED: Asked = Asked(&Question);

pub(crate) struct Turn;

impl Room for Turn {
    fn slug(&self) -> &'static str {
        ASKED.slug()
    }

    fn question(&self) -> &'static str {
        ASKED.question()
    }

    fn short(&self, visit: &Visit<'_>) -> String {
        ASKED.short(visit)
    }

    /// What nobody touched stands near what a driver usually does; the run takes that itself.
    fn handles(&self, visit: &Visit<'_>) -> Vec<Handle> {
        let usual = usual(&visit.case());
        let release = match usual.release {
            Release::At(at) => at.s(),
            Release::Heading(_) | Release::Never | Release::Best => 1.8,
        };
        let stands = [
            (&STEER, (usual.steer.rad().to_degrees() * 2.0).round() / 2.0),
            (&RELEASE, (release * 20.0).round() / 20.0),
            (&FOOT, 0.0),
        ];
        let handle = |row: &'static Row| {
            let untouched = stands.iter().find(|(of, _)| core::ptr::eq(*of, row));
            untouched.map_or_else(|| Handle::of(row), |(_, at)| Handle::untouched(row, *at))
        };
        Question.handles().into_iter().map(handle).collect()
    }

    fn say(&self, visit: &Visit<'_>) -> Said {
        let mapped = visit.said.has(&MAP);
        ASKED.told(visit, &|answer| {
            html! {
                @if mapped {
                    (pictures::picture(visit, MAPPED, |look| answer.draw(look)))
                } @else {
                    (pictures::picture(visit, PLAYED, |look| answer.draw_more(PLAYED, look)))
                    (player())
                }
            }
        })
    }
}

/// What plays the runs; how long they last stands in the picture.
fn player() -> Markup {
    html! {
        div class="player with-script" data-player=(PLAYED) hidden {
            button type="button" data-play aria-pressed="false" { "Play" }
            label for="player-time" { "Time" }
            input type="range" id="player-time" min="0" max="3" step="0.02" value="0"
                aria-valuetext="0 s";
            output for="player-time" { "0.0\u{a0}s" }
        }
    }
}

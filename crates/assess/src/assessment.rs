use engine::car::Car;
use engine::figures::Figures;

use crate::answer::{VerdictInParts, answer};
use crate::cautions;
use crate::comes_out::{ComesOut, comes_out};
use crate::families::{Seen, all};
use crate::finding::{Finding, Weight};
use crate::measure::{MeasureNext, measure_next};
use crate::say::{Say, lower};
use crate::written::LOGBOOK_LOST;
use wording::{Precision, Units};

/// What a car's figures mean.
#[derive(Clone, Debug, PartialEq)]
pub struct Assessment {
    /// Whether it will work in this car.
    pub answer: VerdictInParts,
    /// Findings, worst first.
    pub findings: Vec<Finding>,
    /// What the new parts replace or make useless.
    pub comes_out: Vec<ComesOut>,
    /// What to measure next, what settles most first; empty where no tolerance was drawn.
    pub measure_next: Vec<MeasureNext>,
    /// What to mind whatever the answer is.
    pub cautions: Vec<&'static str>,
}

impl Assessment {
    /// What stops the car first, worst first: it stands before the word of the answer, wherever that is shown.
    pub fn stops(&self) -> impl Iterator<Item = &Finding> {
        let stops = |finding: &&Finding| finding.weight == Weight::Stop;
        self.findings.iter().filter(stops)
    }

    /// The same in words: `Stop first: nothing mechanical holds the parked car, and 2 more.` `None` where nothing does.
    #[must_use]
    pub fn stop_first(&self) -> Option<String> {
        let worst = self.stops().next()?;
        let title = lower(&worst.title);
        Some(match self.stops().count() - 1 {
            0 => format!("Stop first: {title}."),
            more => format!("Stop first: {title}, and {more} more."),
        })
    }

    /// The worst finding's weight; `None` without findings.
    #[must_use]
    pub fn worst(&self) -> Option<Weight> {
        self.findings.first().map(|finding| finding.weight)
    }
}

/// Assesses a car; figures in bar, mm, N and N·m. `others` are findings from rooms that this one does not know (joints,
/// what was done when); they are sorted in.
#[must_use]
pub fn assess(car: &Car, figures: &Figures, others: Vec<Finding>) -> Assessment {
    let precision = Precision::of(&figures.headlines);
    assess_in(car, figures, Units::default(), precision, others)
}

/// Assesses a car, its figures put into words in a person's own units and with the digits that they have everywhere.
#[must_use]
pub fn assess_in(
    car: &Car,
    figures: &Figures,
    units: Units,
    precision: Precision,
    others: Vec<Finding>,
) -> Assessment {
    let seen = Seen {
        car,
        figures,
        say: Say::new(units, precision),
    };
    let mut findings = all(&seen);
    findings.extend(others);
    // Stable: within a weight the order of the families stays. What may hide other stops comes before all.
    findings.sort_by_key(|finding| (finding.weight, finding.slug != LOGBOOK_LOST));
    let measure_next = measure_next(figures);
    let answer = answer(&seen, &findings, &measure_next);
    let mut minded = vec![cautions::FIRST_DRIVE];
    if car.road_registered {
        minded.push(cautions::ROAD);
    }
    minded.push(cautions::EVENT);
    Assessment {
        answer,
        findings,
        comes_out: comes_out(car),
        measure_next,
        cautions: minded,
    }
}

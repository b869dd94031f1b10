//! The questions whose answers are printed, behind the assessment.

use questions::Question;

/// Further pictures that the answer's own holds already, on paper.
pub(super) const DRAWN_IN_ITS_OWN: &[&str] = &[questions::turn::SPEEDS];

/// In the order of the book.
pub(super) const IN_ORDER: &[&dyn Question] = &[
    &questions::balance::Ask,
    &questions::settings::Ask,
    &questions::lever::Ask,
    &questions::turn::Ask,
    &questions::conditions::Ask,
    &questions::heat::Ask,
    &questions::hold::Ask,
    &questions::lines::Ask,
    &questions::prove::Ask,
    &questions::plan::Ask,
    &questions::pull::Ask,
];

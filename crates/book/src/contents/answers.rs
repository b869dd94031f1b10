//! The questions whose answers are printed, behind the assessment.

use questions::Question;

/// Further pictures that the answer's own holds already, on paper.
pub(super) const DRAWN_IN_ITS_OWN: &[&str] = &[questions::turn::SPEEDS];

/// In the order of the book.
pub(super) const IN_ORDER: &[&dyn Question] = &[
    &questions::balance::Balance,
    &questions::settings::Settings,
    &questions::lever::Lever,
    &questions::turn::Turn,
    &questions::heat::Heat,
    &questions::hold::Hold,
    &questions::lines::Lines,
    &questions::prove::Prove,
    &questions::plan::Plan,
    &questions::pull::Pull,
];

//! Results as a person reads them on a terminal: within 80 columns, the answer first.

pub(crate) mod check_sheet;
mod findings;
pub(crate) mod folders;
pub(crate) mod how;
pub(crate) mod ink;
pub(crate) mod leaned;
pub(crate) mod logbook;
pub(crate) mod marks;
pub(crate) mod new;
pub(crate) mod overview;
pub(crate) mod page;
pub(crate) mod proposals;
pub(crate) mod report;
pub(crate) mod seats;
pub(crate) mod trouble;

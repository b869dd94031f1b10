//! Questions asked as a program would, without a terminal or a page.

mod onto_sheet;
mod readings;

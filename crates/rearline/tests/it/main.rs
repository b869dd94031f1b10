//! The program as it is used: real processes, real files.

mod bench;
mod endings;
mod help;
mod machine;
mod options;
mod pages;
mod sheets;

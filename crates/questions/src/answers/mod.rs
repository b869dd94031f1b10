//! What the questions answer for an opened car: one module a question, each with its outcome and its sentence. Terminal
//! and page show the same ones.

pub mod turn;

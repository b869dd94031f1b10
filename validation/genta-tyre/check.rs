//! A tyre whose magic formula depends on its load.

pub(crate) use crate::loaded::check;

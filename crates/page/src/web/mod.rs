//! The lowest layer: connections, who is let in, how long anybody may take. It knows no markup: how a refusal looks is
//! handed to it.

pub(crate) mod guard;
pub(crate) mod lanes;
pub(crate) mod pairing;
pub(crate) mod patience;
pub(crate) mod places;
pub(crate) mod socket;

use super::{Turn, Verdict};
pub(super) fn verdict(_turn: &Turn) -> Verdict {
    Verdict::RotatesLittle
}

use thiserror::Error as ThisError;

/// What keeps a check from being made at all.
#[derive(Debug, ThisError)]
pub enum Error {
    /// A data file that is not as it should be.
    #[error("{folder}/data.toml: {why}")]
    Data {
        /// Folder of the source.
        folder: &'static str,
        /// What is wrong.
        why: String,
    },
    /// A car of a check that the engine refuses.
    #[error("car of `{which}`: {why}")]
    Car {
        /// Which car.
        which: String,
        /// What is wrong.
        why: String,
    },
    /// A file that cannot be read.
    #[error("{path}: {why}")]
    File {
        /// Which.
        path: String,
        /// What is wrong.
        why: String,
    },
    /// A check that does not fit its data.
    #[error("{folder}: {why}")]
    Check {
        /// Folder of the source.
        folder: &'static str,
        /// What does not fit.
        why: String,
    },
}

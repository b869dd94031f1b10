//! A text as it was read.

use crate::Digest;

/// A text as it was on the disk, to the byte, and the digest of those bytes.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Text {
    /// The text, with its byte order mark and its line ends as they were.
    pub text: String,
    /// The SHA-256 digest of its bytes.
    pub digest: Digest,
}

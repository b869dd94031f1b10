//! What must hold of the workspace as a whole.

#![allow(clippy::unwrap_used, reason = "helpers of tests fail by panicking")]

mod circles;
mod directions;
mod files;
mod licences;
mod names;
mod rooms;
mod targets;

use std::path::PathBuf;

use cargo_metadata::{Metadata, MetadataCommand};

/// The workspace's folder.
fn top() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR"))
        .join("../..")
        .canonicalize()
        .unwrap()
}

/// The workspace with everything it depends on, as locked.
fn metadata() -> Metadata {
    MetadataCommand::new()
        .manifest_path(top().join("Cargo.toml"))
        .other_options(vec!["--locked".into()])
        .exec()
        .unwrap()
}

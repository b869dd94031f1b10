//! The upper layer: from an address to a page of a car.

pub(crate) mod address;
pub(crate) mod asking;
pub(crate) mod card;
pub(crate) mod cars;
pub(crate) mod choices;
pub(crate) mod desk;
pub(crate) mod devices;
pub(crate) mod findings;
pub(crate) mod foot;
pub(crate) mod forms;
pub(crate) mod handed_on;
pub(crate) mod handles;
pub(crate) mod how;
pub(crate) mod key_links;
mod logs;
pub(crate) mod pictures;
pub(crate) mod preferences;
pub(crate) mod report;
pub(crate) mod report_forms;
pub(crate) mod rooms;
pub(crate) mod routes;
pub(crate) mod server;
pub(crate) mod stands;
pub(crate) mod unread;
pub(crate) mod visit;
pub(crate) mod workings;
pub(crate) mod writing;

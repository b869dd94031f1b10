//! How sure the headline figures are.

use asked::{Units, sure};
use engine::headline::Headlines;

use super::page::Page;

/// Of lock order.
pub(crate) fn balance(page: &mut Page, headline: Option<&Headlines>) {
    if let Some(said) = sure::balance(headline) {
        page.plain(&said);
    }
}

/// Of the lever.
pub(crate) fn lever(page: &mut Page, headline: Option<&Headlines>, units: &Units) {
    if let Some(said) = sure::lever(headline, units) {
        page.plain(&said);
    }
}

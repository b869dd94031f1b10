//! How sure the headline figures are.

use engine::headline::Headlines;
use questions::sure;
use wording::Units;

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

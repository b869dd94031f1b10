//! Forms that write something down.

use maud::{Markup, html};

use super::address::path;
use super::visit::Visit;
use crate::web::guard::TOKEN;

/// Who sends a form that writes something down, and to which car.
pub(crate) struct Sender<'a> {
    pub(crate) car: &'a str,
    /// What the address asks, behind its question mark.
    pub(crate) query: String,
    pub(crate) token: &'a str,
    /// A word that no other page has.
    pub(crate) page_id: &'a str,
}

impl<'v> Sender<'v> {
    /// The sender of the forms of a page.
    pub(crate) fn of(visit: &'v Visit<'_>) -> Self {
        Self {
            car: visit.name(),
            query: visit.asking.query(),
            token: &visit.caller.token,
            page_id: visit.page_id(),
        }
    }

    /// The form. The id of what it writes is made here, so that it is written once however often the form arrives; the
    /// script makes one of its own and keeps what could not be sent. `number` is unique on the page.
    pub(crate) fn form(&self, room: &str, class: &str, number: usize, fields: &Markup) -> Markup {
        html! {
            form class=(class) method="post" data-writes
                action={ (path(self.car, room)) (self.query) }
            {
                input type="hidden" name=(TOKEN) value=(self.token);
                input type="hidden" name="entry" value={ (self.page_id) "-" (number) };
                (fields)
                p class="sending" role="status" {}
            }
        }
    }
}

/// A form of a room that writes something down.
pub(crate) fn writes(visit: &Visit<'_>, room: &str, class: &str, number: usize, fields: &Markup) -> Markup {
    Sender::of(visit).form(room, class, number, fields)
}

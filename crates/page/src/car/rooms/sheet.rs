//! "What is on the car?": the room in the index; what it shows and writes is `on_the_car`.

use maud::html;

use super::{Room, Said};
use crate::car::handles::Handle;
use crate::car::on_the_car;
use crate::car::visit::Visit;

pub(crate) struct OnTheCar;

impl Room for OnTheCar {
    fn slug(&self) -> &'static str {
        on_the_car::SLUG
    }

    fn question(&self) -> &'static str {
        on_the_car::question()
    }

    fn short(&self, visit: &Visit<'_>) -> String {
        on_the_car::short(visit)
    }

    fn handles(&self, _visit: &Visit<'_>) -> Vec<Handle> {
        Vec::new()
    }

    fn say(&self, visit: &Visit<'_>) -> Said {
        let (answer, list) = on_the_car::all(visit);
        Said {
            answer,
            plan: None,
            picture: None,
            more: html! { (list) },
        }
    }
}

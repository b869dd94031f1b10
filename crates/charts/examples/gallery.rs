//! Draws every picture into a folder, for looking at: `gallery FOLDER`. The demonstration cars, arrangements that none of
//! them has, and cars at the ends of what can be; and the drawings of measuring.
#![allow(
    clippy::unwrap_used,
    clippy::panic,
    reason = "a tool for whoever changes a drawing"
)]
#![allow(dead_code, reason = "what it shares with the tests is used there")]

#[path = "../tests/it/cars.rs"]
mod cars;
#[path = "../tests/it/drawn.rs"]
mod drawn;

use std::path::PathBuf;

fn main() {
    let folder = PathBuf::from(std::env::args().nth(1).unwrap_or_else(|| "pictures".into()));
    let measuring = folder.join("measuring");
    std::fs::create_dir_all(&measuring).unwrap();
    for card in engine::car::Drawing::ALL {
        let drawn = charts::HowMeasured(card).draw(&charts::Look::default());
        std::fs::write(measuring.join(format!("{}.svg", card.name())), drawn.svg).unwrap();
    }
    let demo = cars::DEMO.iter().map(|&name| (name.to_owned(), cars::demo(name)));
    for (name, car) in demo.chain(cars::arrangements()).chain(cars::extremes()) {
        let folder = folder.join(name.replace([' ', ','], "-"));
        std::fs::create_dir_all(&folder).unwrap();
        for (width, word) in [(charts::Width::Wide, "wide"), (charts::Width::Narrow, "narrow")] {
            for (picture, drawn) in drawn::all(&car, width) {
                std::fs::write(folder.join(format!("{picture}-{word}.svg")), drawn.svg).unwrap();
            }
        }
    }
}

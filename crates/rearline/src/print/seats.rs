//! The listing of threads and seats.

use plumbing::rules::RULES;
use plumbing::{LISTED, Seat};

use super::ink;
use super::page::Page;

/// The listing of threads and seats.
pub(crate) fn seats() -> String {
    let mut page = Page::default();
    page.paragraph(ink::heavy, "Threads and seats that a sheet may name");
    page.plain("Write them under [lines] ports. The thread presses, the seat seals: go by both.");
    page.gap();
    for port in LISTED {
        let pipe = port.pipe_outside().map_or_else(String::new, |outside| {
            format!(" for pipe of {:.2}\u{a0}mm;", outside.m() * 1e3)
        });
        page.labelled(
            "",
            &format!(
                "\"{port}\": {:.2}\u{a0}mm over the thread, pitch {:.3}\u{a0}mm;{pipe} {}",
                port.thread.major().m() * 1e3,
                port.thread.pitch().m() * 1e3,
                port.seat.closes_on()
            ),
        );
    }
    page.heading("What the port looks like");
    for seat in [
        Seat::Bubble,
        Seat::Japanese,
        Seat::Inverted,
        Seat::Male37,
        Seat::Banjo,
        Seat::Taper,
        Seat::Bleed,
    ] {
        page.labelled(seat.word(), seat.looks_like());
    }
    page.heading("Traps");
    for rule in RULES {
        page.item(&format!("{}. {} {}", rule.title, rule.because, rule.remedy));
    }
    page.into_text()
}

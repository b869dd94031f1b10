//! How far something is that lasts longer than a second: a line on standard error, if that is a terminal.

use std::io::{IsTerminal as _, Write as _, stderr};
use std::sync::Mutex;
use std::sync::PoisonError;
use std::time::{Duration, Instant};

/// Nothing is said of what is done sooner.
const PATIENCE: Duration = Duration::from_secs(1);
/// And not more often.
const EVERY: Duration = Duration::from_millis(100);
/// Cells of the bar.
const CELLS: usize = 24;

struct Shown {
    begun: Instant,
    last: Option<Instant>,
}

static SHOWN: Mutex<Option<Shown>> = Mutex::new(None);

/// Shows how far it is; where it is whole, the line is taken away.
pub(crate) fn show(what: &str, share: f64) {
    let mut shown = SHOWN.lock().unwrap_or_else(PoisonError::into_inner);
    let now = Instant::now();
    let state = shown.get_or_insert(Shown {
        begun: now,
        last: None,
    });
    let done = share >= 1.0;
    let due = now.duration_since(state.begun) >= PATIENCE
        && state.last.is_none_or(|last| now.duration_since(last) >= EVERY);
    let was_shown = state.last.is_some();
    if due {
        state.last = Some(now);
    }
    if done {
        *shown = None;
    }
    let mut aside = stderr();
    if !aside.is_terminal() {
        return;
    }
    let line = match (done, due, was_shown) {
        (true, _, true) => "\r\u{1b}[K".to_owned(),
        (false, true, _) => format!("\r{}\u{1b}[K", line(what, share)),
        _ => return,
    };
    let _ = aside.write_all(line.as_bytes()).and_then(|()| aside.flush());
}

fn line(what: &str, share: f64) -> String {
    let full = (0..CELLS)
        .filter(|cell| (*cell as f64 + 0.5) / CELLS as f64 <= share)
        .count();
    format!(
        "{what} {}{} {:3.0} %",
        "█".repeat(full),
        "·".repeat(CELLS - full),
        share * 100.0
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_bar_fills_as_it_goes() {
        assert_eq!(line("reading", 0.0).matches('█').count(), 0);
        assert_eq!(line("reading", 0.5).matches('█').count(), CELLS / 2);
        assert!(line("reading", 0.5).ends_with(" 50 %"));
        assert_eq!(line("reading", 1.0).matches('█').count(), CELLS);
    }
}

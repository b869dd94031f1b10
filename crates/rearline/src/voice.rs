//! Where what is said goes: results to standard output, everything else to standard error.

use std::io::{IsTerminal as _, Write};
use std::path::Path;

use crate::ending::Stop;
use crate::print::marks;

/// The two streams that a person or a program reads.
pub(crate) struct Voice<'a> {
    out: &'a mut dyn Write,
    aside: &'a mut dyn Write,
}

impl<'a> Voice<'a> {
    /// Over standard output and standard error, or what stands for them.
    pub(crate) fn new(out: &'a mut dyn Write, aside: &'a mut dyn Write) -> Self {
        Self { out, aside }
    }

    /// Says a result.
    pub(crate) fn say(&mut self, text: &str) -> Result<(), Stop> {
        self.put(marks::but_for_ink(text).as_bytes())
    }

    fn put(&mut self, bytes: &[u8]) -> Result<(), Stop> {
        self.out
            .write_all(bytes)
            .and_then(|()| self.out.flush())
            .map_err(Stop::Output)
    }

    /// Says a result as one JSON object on one line.
    pub(crate) fn say_json(&mut self, value: &serde_json::Value) -> Result<(), Stop> {
        self.say(&format!("{}\n", marks::in_json(&value.to_string())))
    }

    /// Asks whoever sits at the terminal, and takes a *yes* alone for one; where nobody sits there, nobody agreed.
    pub(crate) fn agreed(&mut self, question: &str) -> bool {
        let answers = std::io::stdin();
        if !answers.is_terminal() {
            return false;
        }
        self.aside(&format!("{question} [yes/no] "));
        let mut answer = String::new();
        answers.read_line(&mut answer).is_ok() && matches!(answer.trim(), "y" | "yes")
    }

    /// Says something beside the result. Where even that cannot be written there is nobody left to tell.
    pub(crate) fn aside(&mut self, text: &str) {
        let _ = self
            .aside
            .write_all(marks::but_for_ink(text).as_bytes())
            .and_then(|()| self.aside.flush());
    }
}

/// Says something on standard error from a thread that has no voice of its own.
pub(crate) fn aside(text: &str) {
    let mut aside = anstream::AutoStream::auto(std::io::stderr());
    let text = marks::but_for_ink(text);
    let _ = aside.write_all(text.as_bytes()).and_then(|()| aside.flush());
}

/// Whether a path is another name of standard output. What is written there joins what is said.
pub(crate) fn is_standard_output(path: &Path) -> bool {
    ["/dev/stdout", "/dev/fd/1", "/proc/self/fd/1"]
        .iter()
        .any(|name| path == Path::new(name))
}

/// Puts the bytes of a file onto standard output: as they are, but on a terminal.
pub(crate) fn straight_out(bytes: &[u8]) -> Result<(), Stop> {
    let mut out = std::io::stdout().lock();
    let written = if out.is_terminal() {
        out.write_all(marks::in_bytes(bytes).as_bytes())
    } else {
        out.write_all(bytes)
    };
    written.and_then(|()| out.flush()).map_err(Stop::Output)
}

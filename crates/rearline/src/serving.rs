//! The workshop page while it is served, and what ^C ends.

use std::process::{Command, Stdio};
use std::sync::{Mutex, PoisonError};
use std::thread;

use page::{Ended, ListenAt, ServeFault, Server, Stopper, Workshop};

use crate::ending::{Ending, Stop};
use crate::print;
use crate::voice::Voice;

/// What ends the page that is being served. ^C may come at any time, in a thread of its own.
static SERVED: Mutex<Option<Stopper>> = Mutex::new(None);

/// What ^C does: a page that is served ends in order; a second time, or without one, the process ends at once.
pub(crate) fn interrupt() {
    let served = SERVED.lock().unwrap_or_else(PoisonError::into_inner).take();
    match served {
        Some(stopper) => stopper.stop(),
        None => std::process::exit(crate::ending::INTERRUPTED),
    }
}

/// What to do where the page is not served.
const OTHER_PORT: &str = "name another with --port, or leave the option out for one that is free";
const NO_RANDOM: &str = "the keys of the page are made of them: look whether this system has /dev/urandom";
const NO_THREADS: &str = "look how many programs run, and try again";
const NO_PAGE: &str = "--no-page serves nothing";

/// What opens an address in the browser that a person uses: of the freedesktop tools.
const OPENER: &str = "xdg-open";

/// Serves the page until it is ended; `open`: in this machine's browser, too. Once it serves, `meanwhile` says what else there
/// is to say; it is told whether the page is still served, and gets the line that says where.
pub(crate) fn serve(
    workshop: Workshop,
    port: ListenAt,
    open: bool,
    voice: &mut Voice<'_>,
    meanwhile: impl FnOnce(&mut Voice<'_>, &dyn Fn() -> bool, &str),
) -> Result<Ending, Stop> {
    let reach = workshop.reach;
    let server = Server::bind(workshop, port).map_err(|fault| not_served(port, &fault))?;
    *SERVED.lock().unwrap_or_else(PoisonError::into_inner) = Some(server.stopper());
    let addresses = server.addresses();
    voice.say(&print::overview::served(
        &addresses,
        reach,
        server.invitation().as_deref(),
    ))?;
    if open && let Some(address) = addresses.first() {
        browse(address, voice);
    }
    let ended = thread::scope(|scope| {
        let serving = scope.spawn(move || server.run());
        meanwhile(
            voice,
            &|| !serving.is_finished(),
            &print::overview::served_at(&addresses),
        );
        serving.join()
    });
    match ended {
        Ok(Ended::Stopped) => Ok(Ending::Interrupted),
        Ok(Ended::Terminated) => Ok(Ending::Fine),
        Err(fault) => std::panic::resume_unwind(fault),
    }
}

/// Opens the page. It is served all the same where that fails: its address stands there.
fn browse(address: &str, voice: &mut Voice<'_>) {
    let opener = Command::new(OPENER)
        .arg(address)
        .stdin(Stdio::null())
        .stdout(Stdio::null())
        .stderr(Stdio::null())
        .spawn();
    match opener {
        // Some browsers stay in the foreground: whoever serves does not wait for that.
        Ok(mut opener) => drop(thread::spawn(move || opener.wait())),
        Err(source) => voice.aside(&format!(
            "no browser could be opened ({OPENER}: {source}): open the address yourself\n"
        )),
    }
}

fn not_served(port: ListenAt, fault: &ServeFault) -> Stop {
    let (slug, what, remedy) = match (fault, port) {
        (ServeFault::Port(source), ListenAt::Given(port)) => (
            "no-port",
            format!("port {port} cannot be used: {source}"),
            OTHER_PORT,
        ),
        (ServeFault::Port(source), ListenAt::Usual) => {
            ("no-port", format!("no port can be used: {source}"), OTHER_PORT)
        }
        (ServeFault::Random(_), _) => ("no-random-numbers", fault.to_string(), NO_RANDOM),
        (ServeFault::System(_), _) => ("not-served", fault.to_string(), NO_THREADS),
    };
    Stop::File(questions::Wrong::plain(
        "the workshop page",
        slug,
        what,
        format!("{remedy}; {NO_PAGE}"),
    ))
}

#[cfg(test)]
mod tests {
    use std::io;

    use super::*;

    #[test]
    fn what_keeps_the_page_from_being_served_is_said() {
        let said = |fault| match not_served(ListenAt::Given(0), &fault) {
            Stop::File(wrong) => (wrong.troubles[0].slug.clone(), wrong.troubles[0].text.clone()),
            other => panic!("{other:?}"),
        };
        let missing = || io::Error::from(io::ErrorKind::NotFound);
        let (slug, text) = said(ServeFault::Port(missing()));
        assert!(slug == "no-port" && text.starts_with("port 0 "), "{text}");
        let (slug, text) = said(ServeFault::Random(missing()));
        assert!(slug == "no-random-numbers" && !text.contains("port"), "{text}");
        let (slug, text) = said(ServeFault::System(missing()));
        assert!(slug == "not-served" && !text.contains("port"), "{text}");
    }
}

//! The workshop page while it is served, and what ^C ends.

use std::sync::{Mutex, PoisonError};

use page::{Ended, ListenAt, Server, Stopper, Workshop};

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

/// Serves the page until it is ended.
pub(crate) fn serve(workshop: Workshop, port: ListenAt, voice: &mut Voice<'_>) -> Result<Ending, Stop> {
    let reach = workshop.reach;
    let server = Server::bind(workshop, port).map_err(|source| no_port(port, &source))?;
    *SERVED.lock().unwrap_or_else(PoisonError::into_inner) = Some(server.stopper());
    voice.say(&print::overview::served(
        &server.addresses(),
        reach,
        server.invitation().as_deref(),
    ))?;
    let ended = server.run();
    Ok(match ended {
        Ended::Stopped => Ending::Interrupted,
        Ended::Terminated => Ending::Fine,
    })
}

fn no_port(port: ListenAt, source: &std::io::Error) -> Stop {
    let what = match port {
        ListenAt::Given(port) => format!("port {port} cannot be had: {source}"),
        ListenAt::Usual => format!("no port can be had: {source}"),
    };
    let remedy =
        "name another with --port, or leave the option out for one that is free; --no-page serves nothing";
    Stop::File(questions::Wrong::plain(
        "--port",
        "no-port",
        what,
        remedy.to_owned(),
    ))
}

//! A logger's file on its way from a device onto the car's shelf: piece by piece, never held in memory as a whole.

use core::time::Duration;
use std::io::{self, Read};
use std::sync::Arc;

use axum::body::Bytes;
use axum::extract::multipart::{Field, Multipart};
use axum::http::StatusCode;
use axum::http::header::HeaderMap;
use axum::response::{IntoResponse as _, Redirect, Response};
use percent_encoding::{NON_ALPHANUMERIC, utf8_percent_encode};
use questions::logger::MAX_BYTES;
use questions::{Stop, Wrong, of_records};
use records::{CarFolder, Shelf};
use tokio::sync::mpsc;

use super::address::path;
use super::desk::{Desk, answered};
use super::visit::folder;
use crate::shell::{parts, trouble};
use crate::web::guard::{Caller, SentFile};

/// The room that shows it.
pub(crate) const ROOM: &str = "logger";
/// Name of the field with the file.
pub(crate) const FILE: &str = "file";
/// The most that is taken in: a log that is read, and the form around it.
#[expect(
    clippy::cast_possible_truncation,
    reason = "a gigabyte fits every machine that serves this"
)]
pub(crate) const LARGEST_SENT: usize = MAX_BYTES as usize + 64 * 1024;
/// Pieces that wait for the disk.
const PIECES: usize = 8;

/// What comes of a file that is sent: its room asked with it, or why it was not kept. The page's own script is told in a line.
pub(crate) async fn take_in(
    desk: Arc<Desk>,
    caller: Caller,
    car: String,
    sent: SentFile,
    within: Duration,
    headers: HeaderMap,
) -> Response {
    let in_place = headers.contains_key("x-in-place");
    let kept = match sent.take() {
        Some(mut form) => kept(&desk, &car, &mut form, within).await,
        None => Err(nothing_sent()),
    };
    match kept {
        Ok(name) => {
            let name = utf8_percent_encode(&name, NON_ALPHANUMERIC);
            let there = format!("{}?{FILE}={name}", path(&car, ROOM));
            if in_place {
                there.into_response()
            } else {
                Redirect::to(&there).into_response()
            }
        }
        Err(stop) if in_place => {
            let (status, wrong) = told(&stop);
            (status, parts::wrong(wrong)).into_response()
        }
        Err(stop) => answered(desk, move |_| trouble::stop(&stop, &caller)).await,
    }
}

fn told(stop: &Stop) -> (StatusCode, &Wrong) {
    trouble::told(stop)
}

fn nothing_sent() -> Stop {
    let what = "no file was sent".to_owned();
    Wrong::plain("form", "no-file", what, "choose a CSV file first".to_owned()).into()
}

/// The name that the file is kept under.
async fn kept(desk: &Arc<Desk>, car: &str, form: &mut Multipart, within: Duration) -> Result<String, Stop> {
    while let Some(field) = timely(within, form.next_field()).await? {
        if field.name() == Some(FILE) && field.file_name().is_some_and(|name| !name.is_empty()) {
            return streamed(desk, car, field, within).await;
        }
    }
    Err(nothing_sent())
}

async fn streamed(
    desk: &Arc<Desk>,
    car: &str,
    mut field: Field<'_>,
    within: Duration,
) -> Result<String, Stop> {
    let name = CarFolder::fitting_name(Shelf::Logs, field.file_name().unwrap_or_default());
    let folder = folder(desk, car)?;
    let (sender, receiver) = mpsc::channel(PIECES);
    let keeping = tokio::task::spawn_blocking(move || {
        let mut pieces = Pieces {
            receiver,
            piece: Bytes::new(),
            is_whole: false,
        };
        folder
            .keep(Shelf::Logs, &name, &mut pieces, MAX_BYTES)
            .map_err(|fault| of_records(&name, &fault, None))
    });
    loop {
        let piece = match timely(within, field.chunk()).await {
            Ok(Some(piece)) => piece,
            Ok(None) => {
                // Whoever keeps it may have given up already, and says why.
                let _ = sender.send(Piece::End).await;
                break;
            }
            Err(stop) => {
                drop(sender);
                let _ = keeping.await;
                return Err(stop);
            }
        };
        if sender.send(Piece::Of(piece)).await.is_err() {
            break;
        }
    }
    let path = keeping.await.map_err(|fault| broken(&fault.to_string()))??;
    let name = path.file_name().map(|name| name.to_string_lossy().into_owned());
    Ok(name.unwrap_or_default())
}

/// What comes within that time.
async fn timely<T, E: core::fmt::Display>(
    within: Duration,
    coming: impl Future<Output = Result<T, E>>,
) -> Result<T, Stop> {
    match tokio::time::timeout(within, coming).await {
        Ok(Ok(come)) => Ok(come),
        Ok(Err(fault)) => Err(broken(&fault.to_string())),
        Err(_) => Err(broken("nothing more came")),
    }
}

fn broken(why: &str) -> Stop {
    let what = format!("the file did not arrive whole: {why}");
    let remedy = "it is still on your device: send it again".to_owned();
    Wrong::plain("form", "not-whole", what, remedy).into()
}

enum Piece {
    Of(Bytes),
    End,
}

/// What comes, as a reader. A sender that is gone before the end is an error: half a log is none.
struct Pieces {
    receiver: mpsc::Receiver<Piece>,
    piece: Bytes,
    is_whole: bool,
}

impl Read for Pieces {
    fn read(&mut self, into: &mut [u8]) -> io::Result<usize> {
        while self.piece.is_empty() && !self.is_whole {
            match self.receiver.blocking_recv() {
                Some(Piece::Of(piece)) => self.piece = piece,
                Some(Piece::End) => self.is_whole = true,
                None => return Err(io::ErrorKind::UnexpectedEof.into()),
            }
        }
        let count = self.piece.len().min(into.len());
        let taken = self.piece.split_to(count);
        if let Some(into) = into.get_mut(..count) {
            into.copy_from_slice(&taken);
        }
        Ok(count)
    }
}

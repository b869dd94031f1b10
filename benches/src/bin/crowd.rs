//! Times a handle that fifty people drag at once, while ten others ask for turn pages with all their draws; then a handle of
//! a car with a thousand entries in its logbook. Rivals in the same run: the same handles with nobody beside them; the
//! whole logbook read for each answer, as it was.
#![allow(
    clippy::print_stdout,
    clippy::print_stderr,
    reason = "a program that prints its figures"
)]

use std::io;
use std::path::Path;
use std::process::ExitCode;
use std::sync::atomic::{AtomicBool, AtomicUsize, Ordering};
use std::time::Instant;

use benches::{Served, median_and_late};
use jiff::tz::Offset;
use questions::History;
use records::Cars;
use records::logbook::{Data, Draft, EntryKind, Logbook, Stamp, WAIT};

const DRAGGING: usize = 50;
const ASKING: usize = 10;
/// Answers that each of them waits for, unless another number is said.
const DRAGS: usize = 60;
const REPEATS: usize = 1_000;

fn said(name: &str, mut times: Vec<f64>) -> f64 {
    let (median, late) = median_and_late(&mut times);
    println!("{name:46} {:>8.2} ms {:>8.2} ms", median * 1e3, late * 1e3);
    median
}

/// Fifty drag; beside them so many ask for turn pages until they are done. How long drags took, and pages.
fn dragged(served: &Served, asking: usize, drags: usize) -> io::Result<(Vec<f64>, Vec<f64>)> {
    let (left, over) = (AtomicUsize::new(DRAGGING), AtomicBool::new(false));
    std::thread::scope(|scope| {
        let pages: Vec<_> = (0..asking)
            .map(|who| {
                let over = &over;
                scope.spawn(move || -> io::Result<Vec<f64>> {
                    let mut times = Vec::new();
                    let mut client = served.client()?;
                    while !over.load(Ordering::Relaxed) {
                        let hand = 100 + who * 7 + times.len();
                        // A page that waits longer than anybody may is refused: it counts as long as that.
                        let begun = Instant::now();
                        if client.ask(&format!("/car/tarn/turn?hand={hand}")).is_err() {
                            client = served.client()?;
                        }
                        times.push(begun.elapsed().as_secs_f64());
                    }
                    Ok(times)
                })
            })
            .collect();
        let draggers: Vec<_> = (0..DRAGGING)
            .map(|who| {
                let (left, over) = (&left, &over);
                scope.spawn(move || -> io::Result<Vec<f64>> {
                    let mut client = served.client()?;
                    let mut times = Vec::new();
                    let done = (0..drags).try_for_each(|step| {
                        let hand = 50 + who * drags + step;
                        let path = format!("/car/tarn/lever?part=1&pictures=wide&hand={}", hand % 400);
                        times.push(client.ask(&path)?.whole_s);
                        Ok(())
                    });
                    if left.fetch_sub(1, Ordering::Relaxed) == 1 {
                        over.store(true, Ordering::Relaxed);
                    }
                    done.map(|()| times)
                })
            })
            .collect();
        let all = |threads: Vec<std::thread::ScopedJoinHandle<'_, io::Result<Vec<f64>>>>| {
            let mut times = Vec::new();
            for thread in threads {
                times.extend(
                    thread
                        .join()
                        .map_err(|_| io::Error::other("a client fell over"))??,
                );
            }
            Ok::<_, io::Error>(times)
        };
        let dragged = all(draggers)?;
        Ok((dragged, all(pages)?))
    })
}

fn book(cars: &Path, entries: usize) -> io::Result<()> {
    let car = Cars::open(cars)
        .and_then(|cars| cars.named("tarn"))
        .map_err(io::Error::other)?;
    let mut book = Logbook::open_or_create(&car.logbook(), WAIT).map_err(io::Error::other)?;
    for number in 0..entries {
        let at = jiff::Timestamp::UNIX_EPOCH;
        let stamp = Stamp::new(at, Offset::UTC, "bench", &format!("n{number}")).map_err(io::Error::other)?;
        let data = Data::with_text(&format!("note {number}, so long as a note is"), None)
            .map_err(io::Error::other)?;
        let kind = EntryKind::Note;
        book.append(&Draft { stamp, kind, data })
            .map_err(io::Error::other)?;
    }
    Ok(())
}

fn run(drags: usize) -> io::Result<()> {
    let folder = std::env::temp_dir().join(format!("rearline-crowd-{}", std::process::id()));
    std::fs::create_dir_all(folder.join("tarn"))?;
    let demo = Path::new(env!("CARGO_MANIFEST_DIR")).join("../demo/tarn/car.toml");
    std::fs::copy(demo, folder.join("tarn/car.toml"))?;
    let done = over(&folder, drags);
    std::fs::remove_dir_all(&folder)?;
    done
}

fn over(folder: &Path, drags: usize) -> io::Result<()> {
    let served = Served::over(folder)?;
    println!("{:46} {:>11} {:>11}", "", "median", "99 %");
    // Once for nothing: the first answers wait for what is read once.
    dragged(&served, 0, 1)?;
    let alone = said("fifty drag", dragged(&served, 0, drags)?.0);
    let (moved, pages) = dragged(&served, ASKING, drags)?;
    let crowded = said("fifty drag while ten ask for turn pages", moved);
    println!("that over nobody beside them: {:.2}", crowded / alone);
    said("the turn pages meanwhile", pages);

    let mut client = served.client()?;
    let mut drag = |name: &str| -> io::Result<f64> {
        let mut times = Vec::with_capacity(REPEATS);
        for step in 0..REPEATS {
            let path = format!("/car/tarn/lever?part=1&pictures=wide&hand={}", 50 + step % 400);
            times.push(client.ask(&path)?.whole_s);
        }
        Ok(said(name, times))
    };
    let without = drag("one drags, no logbook")?;
    book(folder, 1000)?;
    let with = drag("one drags, 1,000 entries")?;
    println!("that over no logbook: {:.2}", with / without);
    let page = client.ask("/car/tarn/logbook")?;
    println!("the logbook's page: {} bytes", page.body.len());
    let car = Cars::open(folder)
        .and_then(|cars| cars.named("tarn"))
        .map_err(io::Error::other)?;
    let mut whole = Vec::new();
    for _ in 0..100 {
        let begun = Instant::now();
        std::hint::black_box(History::of(&car));
        whole.push(begun.elapsed().as_secs_f64());
    }
    let whole = said("the whole logbook, read and checked", whole);
    let mut head = Vec::new();
    for _ in 0..REPEATS {
        let begun = Instant::now();
        std::hint::black_box(records::logbook::newest(&car.logbook(), WAIT)).map_err(io::Error::other)?;
        head.push(begun.elapsed().as_secs_f64());
    }
    let head = said("its newest entry looked at", head);
    println!("the one over the other: {:.0}", whole / head);
    served.end();
    Ok(())
}

fn main() -> ExitCode {
    let drags = std::env::args().nth(1).and_then(|drags| drags.parse().ok());
    match run(drags.unwrap_or(DRAGS)) {
        Ok(()) => ExitCode::SUCCESS,
        Err(fault) => {
            eprintln!("benches: {fault}");
            ExitCode::FAILURE
        }
    }
}

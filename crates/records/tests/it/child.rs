//! What the other tests let a process of its own do: to be killed, to be someone else, to have mounts of its own.

use std::io::Write as _;
use std::path::Path;

/// One line, in one piece, past the harness.
pub(crate) fn tell(line: &str) {
    // A parent that has gone is no fault.
    let _ = std::io::stdout().write_all(format!("{line}\n").as_bytes());
}

#[test]
#[ignore = "started by the other tests as a process of its own"]
fn child() {
    let Ok(job) = std::env::var("RECORDS_CHILD") else {
        return;
    };
    let arguments = std::env::var("RECORDS_ARGUMENTS").unwrap();
    let arguments: Vec<&str> = arguments.split('\n').collect();
    let path = Path::new(arguments[0]);
    // The harness has begun a line.
    tell("");
    match job.as_str() {
        "save-on-and-on" => crate::saves_killed::save_on_and_on(path),
        "save-once" => crate::saves::save_once(path, arguments[1]),
        "append-on-and-on" => crate::book_killed::append_on_and_on(path, arguments[1]),
        "append-many" => crate::book_killed::append_many(path, arguments[1]),
        "write-and-read" => crate::book_crowd::write_and_read(path, arguments[1]),
        "append-once" => crate::book_killed::append_once(path),
        "save-and-append" => crate::power::save_and_append(path),
        "full-disk" => crate::disks::full_disk(path),
        "read-only-disk" => crate::disks::read_only_disk(path),
        "no-permission" => crate::disks::no_permission(path),
        other => panic!("no such job: {other}"),
    }
    tell("done");
}

//! Scratch.
fn main() {
    match std::env::args().nth(1).as_deref() {
        Some("blank") => print!("{}", sheet::Blank::new("Tarn \"4\"")),
        Some("ref") => print!("{}", sheet::reference()),
        _ => println!("{:#}", sheet::json_schema()),
    }
}

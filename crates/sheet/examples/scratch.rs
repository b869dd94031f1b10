//! Scratch.
fn main() {
    let mut args = std::env::args().skip(1);
    let file = args.next().unwrap();
    let bytes = std::fs::read(&file).unwrap();
    let t = std::time::Instant::now();
    let mut read = sheet::read(&bytes, &file);
    let dt = t.elapsed();
    for with in args { match read.with(&with) { Ok(s) => println!("ok {}", s.path()), Err(p) => println!("{}\n", p.shown(sheet::Styles::coloured())) } }
    match read.assemble() {
        Ok(a) => { println!("assembled; {} warnings", a.warnings.len()); for w in read.located(&a.warnings) { println!("  {}:{}:{} {} {}", w.file, w.line, w.column, w.warning.path, w.warning.text); } }
        Err(p) => println!("{p}\n{} problems", p.count()),
    }
    println!("{dt:?}");
}

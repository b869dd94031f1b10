//! The demonstration cars, carried inside the program, and how they come into a cars folder.

use std::fs::{self, File};
use std::io::Write as _;
use std::path::{Path, PathBuf};

use crate::ending::Stop;

/// What stands beside the cars: what each is there to show.
const README: &str = include_str!("../../../demo/README.md");

/// A file of a car, by its path in the car's folder.
type Carried = (&'static str, &'static str);

/// A car of the `demo` folder with its files.
macro_rules! car {
    ($name:literal: $($file:literal),+) => {
        ($name, &[$(($file, include_str!(concat!("../../../demo/", $name, "/", $file)))),+])
    };
}

/// Every demonstration car.
static CARS: &[(&str, &[Carried])] = &[
    car!("bin": "car.toml", "stages/tarmac-downhill.toml"),
    car!("gill": "car.toml", "stages/gravel-12km.toml"),
    car!("half-known": "car.toml", "stages/service-loop.toml"),
    car!("scree": "car.toml", "stages/gravel-12km.toml", "stages/tarmac-downhill.toml"),
    car!("sedge": "car.toml", "stages/gravel-12km.toml", "stages/service-loop.toml", "stages/tarmac-downhill.toml"),
    car!("tarn": "car.toml", "stages/gravel-12km.toml", "stages/service-loop.toml", "stages/tarmac-downhill.toml",
        "logs/shakedown.csv"),
    car!("tarn-let-go": "car.toml", "stages/gravel-12km.toml"),
];

/// Makes the cars folder with the demonstration cars in it. Nothing may stand in its place. The folder appears all at
/// once: it is filled under another name, and renamed.
pub(crate) fn make(folder: &Path) -> Result<(), Stop> {
    let making = beside(folder);
    let filled = fill(&making).and_then(|()| {
        fs::rename(&making, folder)
            .map_err(|source| Stop::from(questions::Stop::file(folder, "made", &source)))
    });
    if filled.is_err() {
        // What was begun is of no use to anybody; if it cannot go either, the first fault says why.
        let _ = fs::remove_dir_all(&making);
    }
    filled
}

/// A hidden name beside the folder.
fn beside(folder: &Path) -> PathBuf {
    let name = folder.file_name().unwrap_or_default().to_string_lossy();
    folder.with_file_name(format!(".{name}.{}", std::process::id()))
}

/// Nobody knows of the folder yet, so that its files need no more care than to be on the disk before it has its name.
fn fill(folder: &Path) -> Result<(), Stop> {
    write(&folder.join("README.md"), README)?;
    for (car, files) in CARS {
        for (file, text) in *files {
            write(&folder.join(car).join(file), text)?;
        }
    }
    Ok(())
}

fn write(path: &Path, text: &str) -> Result<(), Stop> {
    let written = || {
        fs::create_dir_all(path.parent().unwrap_or(path))?;
        let mut file = File::create_new(path)?;
        file.write_all(text.as_bytes())?;
        file.sync_all()
    };
    written().map_err(|source| questions::Stop::file(path, "written", &source).into())
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;

    use super::*;

    fn files_below(folder: &Path) -> BTreeSet<String> {
        let mut found = BTreeSet::new();
        let mut waiting = vec![folder.to_path_buf()];
        while let Some(next) = waiting.pop() {
            for entry in fs::read_dir(next).unwrap() {
                let path = entry.unwrap().path();
                if path.is_dir() {
                    waiting.push(path);
                } else {
                    let below = path.strip_prefix(folder).unwrap();
                    found.insert(below.to_string_lossy().replace('\\', "/"));
                }
            }
        }
        found
    }

    #[test]
    fn every_file_of_every_demonstration_car_is_carried_and_comes_out_as_it_is() {
        let demo = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../demo");
        let mut wanted = files_below(&demo);
        wanted.remove("make_logs.py");
        wanted.remove(".answers"); // kept by whoever has looked at them
        // Stages for any car are in the program, not in the cars folder.
        wanted.retain(|file| !file.starts_with("stages/"));
        let somewhere = tempfile::tempdir().unwrap();
        let folder = somewhere.path().join("cars");
        make(&folder).unwrap();
        assert_eq!(files_below(&folder), wanted);
        for file in wanted {
            assert_eq!(
                fs::read(folder.join(&file)).unwrap(),
                fs::read(demo.join(&file)).unwrap(),
                "{file}"
            );
        }
        let left: Vec<_> = fs::read_dir(somewhere.path()).unwrap().collect();
        assert_eq!(left.len(), 1, "nothing is left beside the folder");
    }

    #[test]
    fn a_folder_in_which_nothing_can_be_made_is_left_as_it_was() {
        let somewhere = tempfile::tempdir().unwrap();
        let file = somewhere.path().join("not-a-folder");
        fs::write(&file, "mine").unwrap();
        assert!(matches!(make(&file.join("cars")), Err(Stop::File(_))));
        assert_eq!(fs::read_to_string(&file).unwrap(), "mine");
    }
}

//! Which devices of the network may reach the page.
//!
//! A device is paired by a code of eight characters that is shown where the server was started, or on a page of a device
//! that is paired already. A code serves once, for five minutes, and bears five tries; no other is made before it has
//! run out, so that nobody can try codes faster than that. What the device keeps is a random word in a cookie; what is
//! kept here is its digest, in `.paired` beside the cars, so that a copied folder opens nothing.

use core::fmt::Write as _;
use core::time::Duration;
use std::io;
use std::net::IpAddr;
use std::path::{Path, PathBuf};
use std::sync::{Mutex, MutexGuard, PoisonError};
use std::time::Instant;

use engine::car::Date;
use qrcode::render::{svg, unicode};
use qrcode::{EcLevel, QrCode};
use records::{Fault, Mark, Output, Text, TextFile};
use sha2::{Digest as _, Sha256};

/// How long a code serves.
const SERVES: Duration = Duration::from_secs(5 * 60);
/// How often a wrong one may be tried.
const TRIES: u8 = 5;
/// Characters of a code: none that is taken for another.
const ALPHABET: &[u8; 32] = b"23456789ABCDEFGHJKLMNPQRSTUVWXYZ";
/// How many of them.
const LENGTH: usize = 8;
/// The most devices that are kept; the oldest go first.
const MOST_DEVICES: usize = 32;
/// Name of the file in the cars folder.
const FILE: &str = ".paired";
/// The most bytes that are read of it.
const LARGEST: u64 = 1024 * 1024;

/// A paired device.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Device {
    /// Digest of the word in its cookie, as hexadecimal digits.
    pub(crate) digest: String,
    /// The day on which it was paired.
    pub(crate) since: String,
    /// What it calls itself.
    pub(crate) name: String,
}

struct Code {
    text: String,
    made: Instant,
    tries: u8,
    used: bool,
}

struct Inner {
    code: Option<Code>,
    devices: Vec<Device>,
}

/// Codes and devices.
pub(crate) struct Pairing {
    inner: Mutex<Inner>,
    file: PathBuf,
    /// Of this run: what the tokens of its pages are made from.
    secret: [u8; 32],
}

/// Why a code was not taken.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum CodeFault {
    /// It is not the code; so many tries are left.
    Wrong(u8),
    /// There is none that serves: used, run out, or tried too often.
    NoCode,
}

impl Pairing {
    pub(crate) fn new(cars: &Path) -> io::Result<Self> {
        let file = cars.join(FILE);
        Ok(Self {
            inner: Mutex::new(Inner {
                code: None,
                devices: read(&file),
            }),
            file,
            secret: random()?,
        })
    }

    fn inner(&self) -> MutexGuard<'_, Inner> {
        self.inner.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// A code, made anew if the one there was does not serve any more and its time is over. `None`: one that was used up
    /// by wrong tries has to run out first.
    fn code(&self, now: Instant) -> Option<String> {
        let mut inner = self.inner();
        if let Some(code) = &inner.code
            && !code.used
            && now.saturating_duration_since(code.made) < SERVES
        {
            return (code.tries < TRIES).then(|| code.text.clone());
        }
        let text = word()?;
        inner.code = Some(Code {
            text: text.clone(),
            made: now,
            tries: 0,
            used: false,
        });
        Some(text)
    }

    /// Whether there is no code that serves, and one may be made.
    pub(crate) fn wants_code(&self, now: Instant) -> bool {
        self.inner()
            .code
            .as_ref()
            .is_none_or(|code| code.used || now.saturating_duration_since(code.made) >= SERVES)
    }

    /// What to show where the server was started. `address`: under which another device reaches it, if it does.
    pub(crate) fn invite(&self, now: Instant, address: Option<&str>) -> String {
        let Some(code) = self.code(now) else {
            return "wrong codes were tried too often: a new one can be had in five minutes".to_owned();
        };
        let (first, second) = code.split_at(LENGTH / 2);
        let Some(address) = address else {
            return format!(
                "To pair a device, open this page on it and type {first}-{second}. This machine has no address in a network now.\n\
                 The code serves once, for five minutes."
            );
        };
        let link = link(address, &code);
        let mut said = String::new();
        if let Ok(drawn) = QrCode::with_error_correction_level(&link, EcLevel::L) {
            said.push_str(&drawn.render::<unicode::Dense1x2>().quiet_zone(true).build());
            said.push('\n');
        }
        let _ = write!(
            said,
            "To pair a device, open {address}pair on it and type {first}-{second}, or show it the square above.\n\
             The code serves once, for five minutes."
        );
        said
    }

    /// Code and square for a page; the square as SVG, where another device reaches the address.
    pub(crate) fn invite_on_page(
        &self,
        now: Instant,
        address: Option<&str>,
    ) -> Option<(String, Option<String>)> {
        let code = self.code(now)?;
        let square = address.and_then(|address| square(&link(address, &code)));
        Some((format!("{}-{}", &code[..LENGTH / 2], &code[LENGTH / 2..]), square))
    }

    /// Takes a code; what comes back is the word for the device's cookie.
    pub(crate) fn pair(&self, now: Instant, typed: &str, name: &str, day: Date) -> Result<String, CodeFault> {
        let typed: String = typed
            .chars()
            .filter(char::is_ascii_alphanumeric)
            .map(|character| character.to_ascii_uppercase())
            .collect();
        let mut inner = self.inner();
        let serves = inner.code.as_mut().filter(|code| {
            !code.used && code.tries < TRIES && now.saturating_duration_since(code.made) < SERVES
        });
        let code = serves.ok_or(CodeFault::NoCode)?;
        code.tries += 1;
        if !same(code.text.as_bytes(), typed.as_bytes()) {
            return Err(match TRIES - code.tries {
                0 => CodeFault::NoCode,
                left => CodeFault::Wrong(left),
            });
        }
        code.used = true;
        let key = hex(&random().map_err(|_| CodeFault::NoCode)?);
        inner.devices.push(Device {
            digest: hex(&Sha256::digest(key.as_bytes())),
            since: day.to_string(),
            name: name
                .chars()
                .filter(|character| !character.is_control())
                .take(60)
                .collect(),
        });
        let beyond = inner.devices.len().saturating_sub(MOST_DEVICES);
        inner.devices.drain(..beyond);
        // Where the folder cannot be written, it is known until the server stops.
        let _ = self.keep(&inner.devices);
        Ok(key)
    }

    /// The device whose cookie holds the word.
    pub(crate) fn device(&self, key: &str) -> Option<Device> {
        let digest = hex(&Sha256::digest(key.as_bytes()));
        self.inner()
            .devices
            .iter()
            .find(|device| same(device.digest.as_bytes(), digest.as_bytes()))
            .cloned()
    }

    /// All devices.
    pub(crate) fn devices(&self) -> Vec<Device> {
        self.inner().devices.clone()
    }

    /// Lets a device in no more. When this returns well, the disk knows it too.
    ///
    /// # Errors
    /// The list could not be written: the device is shut out until the server stops, and let in again by the next.
    pub(crate) fn forget(&self, digest: &str) -> Result<(), Fault> {
        let mut inner = self.inner();
        inner.devices.retain(|device| device.digest != digest);
        self.keep(&inner.devices)
    }

    fn keep(&self, devices: &[Device]) -> Result<(), Fault> {
        let mut text = String::new();
        for Device { digest, since, name } in devices {
            let _ = writeln!(text, "{digest} {since} {name}");
        }
        records::write(&[Output {
            path: self.file.clone(),
            bytes: text.into_bytes(),
            mark: Mark::Says(says_devices),
        }])
    }

    /// The token of pages that are given to a device, or to this machine; a change has to bring it back.
    pub(crate) fn token(&self, device: Option<&Device>) -> String {
        let mut digest = Sha256::new();
        digest.update(self.secret);
        digest.update(device.map_or("", |device| device.digest.as_str()));
        hex(&digest.finalize())
    }

    pub(crate) fn is_token(&self, device: Option<&Device>, brought: &str) -> bool {
        same(self.token(device).as_bytes(), brought.as_bytes())
    }
}

fn square(link: &str) -> Option<String> {
    let drawn = QrCode::with_error_correction_level(link, EcLevel::M).ok()?;
    let square = drawn
        .render::<svg::Color<'_>>()
        .min_dimensions(220, 220)
        .dark_color(svg::Color("#1d2328"))
        .light_color(svg::Color("#ffffff"))
        .build();
    // The page has its own first line.
    let from = square.find("<svg")?;
    Some(square[from..].to_owned())
}

/// The address under which another device reaches this page: the one that was called, unless it means this machine alone;
/// then the first of `all` that does not.
pub(crate) fn from_outside<'a>(called: &'a str, all: &'a [String]) -> Option<&'a str> {
    let here_alone = |address: &&str| {
        let host = address.trim_start_matches("http://").split([':', '/']).next();
        host.is_none_or(|host| {
            host == "localhost" || host.parse::<IpAddr>().is_ok_and(|address| address.is_loopback())
        })
    };
    let all = all.iter().map(String::as_str);
    core::iter::once(called)
        .chain(all)
        .find(|address| !here_alone(address))
}

fn link(address: &str, code: &str) -> String {
    format!("{address}pair?code={code}")
}

pub(crate) fn random() -> io::Result<[u8; 32]> {
    let mut bytes = [0; 32];
    getrandom::fill(&mut bytes).map_err(io::Error::other)?;
    Ok(bytes)
}

/// A word that was never made before.
pub(crate) fn once() -> String {
    hex(&random().unwrap_or_default()[..12])
}

/// A code: 32 characters stand for five bits each, so that every byte's lower five serve alike.
fn word() -> Option<String> {
    let bytes = random().ok()?;
    Some(
        bytes[..LENGTH]
            .iter()
            .map(|byte| char::from(ALPHABET[usize::from(byte & 31)]))
            .collect(),
    )
}

pub(crate) fn hex(bytes: &[u8]) -> String {
    bytes.iter().fold(String::new(), |mut text, byte| {
        let _ = write!(text, "{byte:02x}");
        text
    })
}

/// Compared in a time that does not tell where they differ.
fn same(left: &[u8], right: &[u8]) -> bool {
    left.len() == right.len()
        && left
            .iter()
            .zip(right)
            .fold(0, |differs, (a, b)| differs | (a ^ b))
            == 0
}

fn is_digest(word: &str) -> bool {
    word.len() == 64 && word.bytes().all(|byte| byte.is_ascii_hexdigit())
}

/// Whether a file can be nothing but a list of devices.
fn says_devices(bytes: &[u8]) -> bool {
    str::from_utf8(bytes).is_ok_and(|text| {
        text.lines()
            .all(|line| is_digest(line.split(' ').next().unwrap_or_default()))
    })
}

/// Devices of a former run; lines that are none are left out.
fn read(file: &Path) -> Vec<Device> {
    let Ok(Text { text, .. }) = TextFile::at(file.to_owned()).read(LARGEST) else {
        return Vec::new();
    };
    text.lines()
        .filter_map(|line| {
            let mut words = line.splitn(3, ' ');
            let (digest, since) = (words.next()?, words.next()?);
            is_digest(digest).then(|| Device {
                digest: digest.to_owned(),
                since: since.to_owned(),
                name: words.next().unwrap_or_default().to_owned(),
            })
        })
        .take(MOST_DEVICES)
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    const DAY: Date = Date::constant(2026, 5, 1);

    fn pairing() -> (tempfile::TempDir, Pairing) {
        let folder = tempfile::tempdir().unwrap();
        let pairing = Pairing::new(folder.path()).unwrap();
        (folder, pairing)
    }

    #[test]
    fn a_code_pairs_one_device_once() {
        let (folder, pairing) = pairing();
        let now = Instant::now();
        let code = pairing.code(now).unwrap();
        assert_eq!(code.len(), LENGTH);
        let typed = format!(" {}-{} ", &code[..4], &code[4..]).to_lowercase();
        let key = pairing.pair(now, &typed, "tablet\n", DAY).unwrap();
        assert_eq!(pairing.device(&key).unwrap().name, "tablet");
        assert_eq!(pairing.pair(now, &code, "other", DAY), Err(CodeFault::NoCode));
        assert!(pairing.device("").is_none());

        // What is kept opens nothing, and a later run knows the device.
        let kept = std::fs::read_to_string(folder.path().join(FILE)).unwrap();
        assert!(!kept.contains(&key));
        let later = Pairing::new(folder.path()).unwrap();
        assert!(later.device(&key).is_some());
        let digest = later.devices()[0].digest.clone();
        assert!(later.device(&digest).is_none(), "the digest is no key");
        later.forget(&digest).unwrap();
        assert!(Pairing::new(folder.path()).unwrap().device(&key).is_none());
    }

    #[test]
    fn a_code_runs_out_after_five_minutes() {
        let (_folder, pairing) = pairing();
        let now = Instant::now();
        let code = pairing.code(now).unwrap();
        let last = now + SERVES - Duration::from_millis(1);
        assert_eq!(
            pairing.code(last),
            Some(code.clone()),
            "the same as long as it serves"
        );
        assert_eq!(pairing.pair(now + SERVES, &code, "", DAY), Err(CodeFault::NoCode));
        assert_ne!(pairing.code(now + SERVES), Some(code.clone()));
        assert!(matches!(
            pairing.pair(now + SERVES, &code, "", DAY),
            Err(CodeFault::Wrong(4))
        ));
    }

    #[test]
    fn five_wrong_tries_end_a_code_and_no_other_is_made_before_its_time_is_over() {
        let (_folder, pairing) = pairing();
        let now = Instant::now();
        let code = pairing.code(now).unwrap();
        for left in [4, 3, 2, 1] {
            assert_eq!(
                pairing.pair(now, "0000-0000", "", DAY),
                Err(CodeFault::Wrong(left))
            );
        }
        assert_eq!(pairing.pair(now, "", "", DAY), Err(CodeFault::NoCode));
        assert_eq!(
            pairing.pair(now, &code, "", DAY),
            Err(CodeFault::NoCode),
            "too late"
        );
        assert_eq!(pairing.code(now), None);
        assert!(
            pairing
                .invite(now, Some("http://192.0.2.7:1/"))
                .contains("five minutes")
        );
        assert!(pairing.code(now + SERVES).is_some());
    }

    #[test]
    fn tokens_belong_to_a_device_and_a_run() {
        let (folder, pairing) = pairing();
        let now = Instant::now();
        let code = pairing.code(now).unwrap();
        let key = pairing.pair(now, &code, "", DAY).unwrap();
        let device = pairing.device(&key).unwrap();
        let token = pairing.token(Some(&device));
        assert!(pairing.is_token(Some(&device), &token));
        assert!(!pairing.is_token(None, &token) && !pairing.is_token(Some(&device), ""));
        assert!(
            !Pairing::new(folder.path())
                .unwrap()
                .is_token(Some(&device), &token)
        );
    }

    #[test]
    fn codes_use_every_character_alike() {
        let mut seen = [0_u32; 256];
        for _ in 0..2_000 {
            for byte in word().unwrap().bytes() {
                seen[usize::from(byte)] += 1;
            }
        }
        // 16,000 characters, 500 of each expected, standard deviation 22: six of them either way.
        for &letter in ALPHABET {
            let count = seen[usize::from(letter)];
            assert!((368..632).contains(&count), "{}: {count}", char::from(letter));
        }
    }

    #[test]
    fn no_square_leads_to_the_device_that_looks_at_it() {
        let all = ["http://192.0.2.7:1/", "http://127.0.0.1:1/"].map(str::to_owned);
        for called in [
            "http://127.0.0.1:1/",
            "http://localhost:1/",
            "http://127.0.0.2:1/",
        ] {
            assert_eq!(
                from_outside(called, &all),
                Some("http://192.0.2.7:1/"),
                "{called}"
            );
            assert_eq!(from_outside(called, &all[1..]), None, "{called}");
        }
        assert_eq!(
            from_outside("http://192.0.2.9:1/", &all),
            Some("http://192.0.2.9:1/")
        );
        let (_folder, pairing) = pairing();
        let (_, square) = pairing.invite_on_page(Instant::now(), None).unwrap();
        assert_eq!(square, None);
        let said = pairing.invite(Instant::now(), None);
        assert!(
            said.contains("no address in a network") && !said.contains("127.0.0.1"),
            "{said}"
        );
    }

    #[test]
    fn a_device_is_gone_once_the_disk_says_so() {
        let (folder, pairing) = pairing();
        // A folder in the place of the list cannot be written.
        std::fs::create_dir(folder.path().join(FILE)).unwrap();
        assert!(pairing.forget("0").is_err());
    }
}

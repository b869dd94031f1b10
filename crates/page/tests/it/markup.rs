//! What the pages are made of: no script or style in them, nothing fetched from elsewhere, names as text.

use crate::workshop::Open;

/// The cars whose pages differ most, and every room of the first.
const CARS: [&str; 4] = ["tarn", "half-known", "bin", "gill"];
const ROOMS: [&str; 12] = [
    "assessment",
    "turn",
    "balance",
    "settings",
    "lever",
    "conditions",
    "heat",
    "hold",
    "lines",
    "prove",
    "plan",
    "logbook",
];
const OTHER_ROOMS: [&str; 8] = [
    "size",
    "compare",
    "pressures",
    "pull",
    "logger",
    "symptom",
    "leak",
    "sheet",
];

/// Every address worth looking at.
fn addresses() -> Vec<String> {
    let mut all = vec![
        "/".to_owned(),
        "/preferences".to_owned(),
        "/devices".to_owned(),
        "/nowhere".to_owned(),
    ];
    for car in CARS {
        all.extend(ROOMS.map(|room| format!("/car/{car}/{room}")));
    }
    all.extend(OTHER_ROOMS.map(|room| format!("/car/tarn/{room}")));
    all.push("/car/tarn/working/hand_force_n".to_owned());
    all
}

#[test]
fn every_page_is_plain_markup_whose_ids_are_its_own() {
    let open = Open::here();
    for address in addresses() {
        let body = open.get(&address).body;
        nothing_scripted_and_nothing_outside(&address, &body);
        ids_are_unique_and_every_label_has_its_control(&address, &body);
    }
}

fn nothing_scripted_and_nothing_outside(address: &str, body: &str) {
    assert!(
        body.starts_with("<!DOCTYPE html>") && body.contains("<html lang=\"en\">"),
        "{address}"
    );
    let lower = body.to_lowercase();
    for piece in [
        "<style",
        " style=",
        " onclick",
        " onload",
        " onerror",
        "javascript:",
        "https://",
        "<iframe",
        "<object",
    ] {
        assert!(!lower.contains(piece), "{address} holds {piece}");
    }
    for script in lower.split("<script").skip(1) {
        assert!(
            script.starts_with(" type=\"module\" src=\"/assets/workshop-"),
            "{address}"
        );
    }
    // The only other addresses are names of what the markup is written in.
    for outside in lower.split("http://").skip(1) {
        assert!(
            outside.starts_with("www.w3.org/"),
            "{address}: {}",
            &outside[..40.min(outside.len())]
        );
    }
}

fn ids_are_unique_and_every_label_has_its_control(address: &str, body: &str) {
    let named = |before: &'static str| {
        body.split(before)
            .skip(1)
            .map(|rest| rest.split('"').next().unwrap())
    };
    let mut ids: Vec<&str> = named(" id=\"").collect();
    let count = ids.len();
    ids.sort_unstable();
    ids.dedup();
    assert_eq!(ids.len(), count, "{address}: an id stands twice");
    for label in named(" for=\"") {
        assert!(ids.contains(&label), "{address}: {label}");
    }
    for id in named("aria-labelledby=\"").flat_map(|control| control.split(' ')) {
        assert!(ids.contains(&id), "{address}: {id}");
    }
}

#[test]
fn names_are_text_wherever_they_stand() {
    let open = Open::here();
    let hostile = "<img src=x onerror=alert(1)>\\\"'&";
    let sheet = std::fs::read_to_string(open.folder.path().join("sedge/car.toml")).unwrap();
    let sheet: String = sheet
        .lines()
        .map(|line| {
            let key = line.split('=').next().unwrap_or_default().trim();
            if ["name", "build"].contains(&key) {
                format!("{key} = \"{hostile}\"\n")
            } else {
                format!("{line}\n")
            }
        })
        .collect();
    let folder = open.folder.path().join("it's & \u{e4}rgerlich");
    std::fs::create_dir(&folder).unwrap();
    std::fs::write(folder.join("car.toml"), sheet).unwrap();
    let list = open.list();
    let link = list
        .split("href=\"")
        .map(|rest| rest.split('"').next().unwrap())
        .find(|link| link.contains("rgerlich"))
        .unwrap();
    assert_eq!(link, "/car/it%27s%20%26%20%C3%A4rgerlich/assessment");
    for path in [
        link.to_owned(),
        link.replace("assessment", "balance"),
        link.replace("assessment", "alone"),
        "/".to_owned(),
    ] {
        let answer = open.get(&path);
        assert_eq!(answer.status, 200, "{path}: {}", answer.body);
        assert!(!answer.body.contains("<img"), "{path}");
    }
    // So are the words of an address.
    let asked = "/car/tarn/balance?surface=%3Cimg%20src%3Dx%3E&with=%3Cb%3E%3D1&on=%22%3E%3Cb%3E";
    let answer = open.get(asked);
    assert_eq!(answer.status, 400);
    assert!(answer.body.contains("&lt;img") && !answer.body.contains("<img") && !answer.body.contains("<b>"));
    let nobody = open.get("/car/%3Cimg%20src=x%3E/balance");
    assert!(nobody.status == 404 || nobody.status == 400);
    assert!(!nobody.body.contains("<img"));
}

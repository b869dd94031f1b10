//! Readings typed in at the car, offers taken over, and what is put back: onto the sheet, and nowhere else.

use crate::workshop::{Answer, Open};

struct Sheet {
    open: Open,
    token: String,
}

impl Sheet {
    fn of_tarn() -> Self {
        let open = Open::here();
        let token = open.get("/car/tarn/pull").token();
        Self { open, token }
    }

    fn send(&self, room: &str, id: &str, form: &str) -> Answer {
        let headers = format!("Origin: http://{}\r\nx-in-place: 1\r\n", self.open.at);
        let form = format!("token={}&entry={id}&{form}", self.token);
        self.open.post_with(&format!("/car/tarn/{room}"), &headers, &form)
    }

    fn text(&self) -> String {
        std::fs::read_to_string(self.open.folder.path().join("tarn/car.toml")).unwrap()
    }

    fn page(&self, room: &str) -> String {
        self.open.get(&format!("/car/tarn/{room}")).body
    }

    /// What the first form with that key on its button sends.
    fn changes(&self, room: &str, key: &str) -> String {
        let page = self.page(room);
        let form = page
            .split("<form")
            .find(|form| form.contains(&format!(">{key}</button>")))
            .unwrap_or_else(|| panic!("no {key}"));
        let value = form.split("name=\"changes\" value=\"").nth(1).unwrap();
        let value = value
            .split('"')
            .next()
            .unwrap()
            .replace("&quot;", "\"")
            .replace("&amp;", "&");
        let encoded: String = value.bytes().map(|byte| format!("%{byte:02X}")).collect();
        format!("what=sheet&changes={encoded}")
    }
}

const POINT: &str = "what=reading&reading=pull&travel=40&pressure=3&force=20";

#[test]
fn a_reading_comes_onto_the_sheet_once_and_is_put_back_to_the_byte() {
    let sheet = Sheet::of_tarn();
    let before = sheet.text();
    let first = sheet.send("pull", "r1", POINT);
    assert_eq!(first.status, 200, "{}", first.body);
    let once = sheet.text();
    assert!(
        once.contains(r#"points = [["40 mm", "3 bar", "20 N"]]"#) && once.contains("2026-05-01"),
        "{once}"
    );
    // Nothing else moved.
    assert_eq!(once.lines().filter(|line| !before.contains(line)).count(), 2);
    // The answer was lost, and it is sent again; then a finger trembles.
    for id in ["r1", "r2"] {
        assert_eq!(sheet.send("pull", id, POINT).status, 200);
        assert_eq!(sheet.text(), once, "{id}");
    }
    let more = "what=reading&reading=pull&travel=62&pressure=18+bar";
    assert_eq!(sheet.send("pull", "r3", more).status, 200);
    assert!(
        sheet
            .text()
            .contains(r#"[["40 mm", "3 bar", "20 N"], ["62 mm", "18 bar"]]"#)
    );
    assert!(sheet.page("logbook").contains("measured.pull[2].points"));
    for id in ["b1", "b2"] {
        let back = sheet.changes("pull", "Put it back");
        assert_eq!(sheet.send("pull", id, &back).status, 200);
        if id == "b1" {
            assert_eq!(sheet.text(), once);
            // What puts that back once more is the reading itself.
            assert_eq!(
                sheet
                    .send("pull", "b3", &sheet.changes("pull", "Put it back"))
                    .status,
                200
            );
            assert_eq!(
                sheet
                    .send("pull", "b4", &sheet.changes("pull", "Put it back"))
                    .status,
                200
            );
        }
    }
    let off = sheet
        .page("pull")
        .split("<li>")
        .filter(|entry| entry.contains(">Take it off</button>") && entry.contains("2026-05-01"))
        .count();
    assert_eq!(off, 1);
}

#[test]
fn an_entry_is_taken_off_the_sheet_and_comes_back() {
    let sheet = Sheet::of_tarn();
    let before = sheet.text();
    let off = sheet.changes("pull", "Take it off");
    assert_eq!(sheet.send("pull", "o1", &off).status, 200);
    assert!(!sheet.text().contains("measured.pull"), "{}", sheet.text());
    assert!(sheet.page("pull").contains("Nothing measured yet"));
    assert_eq!(
        sheet
            .send("pull", "o2", &sheet.changes("pull", "Put it back"))
            .status,
        200
    );
    let says = |text: &str| {
        text.lines()
            .filter(|line| line.contains("points = [[\"0 mm\""))
            .count()
    };
    assert_eq!(says(&sheet.text()), says(&before));
}

#[test]
fn what_cannot_be_read_is_told_and_the_sheet_is_as_it_was() {
    let sheet = Sheet::of_tarn();
    let before = sheet.text();
    for (id, form, told) in [
        (
            "w1",
            "what=reading&reading=pull&travel=&pressure=3",
            "grip travel is missing",
        ),
        (
            "w2",
            "what=reading&reading=pull&travel=40+bar&pressure=3",
            "is a pressure",
        ),
        ("w3", "what=reading&reading=pull&travel=9999&pressure=3", "900"),
        ("w4", "what=reading&reading=dance", "no reading"),
        (
            "w5",
            "what=sheet&changes=%5B%7B%22key%22%3A%22lever.bore%22%2C%22was%22%3Anull%2C%22now%22%3A%22%5C%221+in%5C%22%22%7D%5D",
            "by now",
        ),
        ("w6", "what=sheet&changes=nothing", "no change of a sheet"),
        (
            "w7",
            "what=entry-of&kind=fault&data=%7B%22symptom%22%3A%22x%22%7D",
            "symptom",
        ),
        ("w8", "what=poke", "nothing is written"),
    ] {
        let answer = sheet.send("pull", id, form);
        assert_eq!(answer.status, 409, "{form}: {}", answer.body);
        assert!(answer.body.contains(told), "{form}: {}", answer.body);
    }
    assert_eq!(sheet.text(), before);
    // Without the page's token nothing is looked at.
    let bare = sheet.open.post("/car/tarn/pull", POINT);
    assert_eq!(bare.status, 403);
    assert_eq!(sheet.text(), before);
}

#[test]
fn two_tablets_read_one_pull_and_lose_no_point() {
    let sheet = Sheet::of_tarn();
    std::thread::scope(|scope| {
        for tablet in 0..2 {
            let sheet = &sheet;
            scope.spawn(move || {
                for number in 0..6 {
                    let travel = 10 + 10 * number + tablet;
                    let form = format!("what=reading&reading=pull&travel={travel}&pressure={travel}");
                    // Somebody else wrote in between: the page sends it again.
                    let mut status = 0;
                    for _ in 0..50 {
                        status = sheet.send("pull", &format!("t{tablet}-{number}"), &form).status;
                        if status == 200 {
                            break;
                        }
                    }
                    assert_eq!(status, 200);
                }
            });
        }
    });
    let text = sheet.text();
    for tablet in 0..2 {
        for number in 0..6 {
            let travel = 10 + 10 * number + tablet;
            let point = format!("[\"{travel} mm\", \"{travel} bar\"]");
            assert_eq!(text.matches(&point).count(), 1, "{point} of {text}");
        }
    }
}

#[test]
fn an_offer_is_taken_over_and_a_tests_answer_narrows_the_causes() {
    let sheet = Sheet::of_tarn();
    let page = sheet.page("symptom?says=long-then-firm");
    let form = page
        .split("<form")
        .find(|form| form.contains(">Yes</button>"))
        .unwrap();
    let data = form
        .split("name=\"data\" value=\"")
        .nth(1)
        .unwrap()
        .split('"')
        .next()
        .unwrap();
    let data = data.replace("&quot;", "\"");
    let encoded: String = data.bytes().map(|byte| format!("%{byte:02X}")).collect();
    let sent = sheet.send(
        "symptom",
        "s1",
        &format!("what=entry-of&kind=fault&data={encoded}"),
    );
    assert_eq!((sent.status, sent.body.as_str()), (200, "1"));
    let now = sheet.page("symptom?says=long-then-firm");
    assert!(
        now.contains("in the logbook on 2026-05-01") && now.contains("It is put right"),
        "{now}"
    );
    assert!(
        !sheet
            .page("symptom?says=pedal-soft")
            .contains("in the logbook on")
    );
}

/// In the room that says how sure it is: the form that a reading is typed into, before and after, and one that nothing
/// explains.
#[test]
fn a_hub_is_read_where_it_is_asked_for() {
    let sheet = Sheet::of_tarn();
    let page = sheet.page("sure");
    for said in [
        "What settles",
        "Before the readings and after",
        "Take this reading next",
        "A raised car falls",
    ] {
        assert!(page.contains(said), "{said}");
    }
    assert!(page.contains("class=\"to-card\""), "a key leads to its card");
    let read = "what=reading&reading=wheel&wheel=rear+right&brake=cold&pressure=20+bar&torque=180";
    let sent = sheet.send("sure", "h1", read);
    assert_eq!(sent.status, 200, "{}", sent.body);
    assert!(sheet.text().contains("brake = \"cold\""), "{}", sheet.text());
    let odd = "what=reading&reading=wheel&wheel=rear+right&brake=cold&pressure=20+bar&torque=1800";
    assert_eq!(sheet.send("sure", "h2", odd).status, 200);
    let page = sheet.page("sure");
    assert!(
        page.contains("1800 N·m") && page.contains("2 readings are not explained"),
        "{page}"
    );
    let back = sheet.changes("sure", "Put it back");
    assert_eq!(sheet.send("sure", "h3", &back).status, 200);
    let page = sheet.page("sure");
    assert!(
        !page.contains("1800 N·m") && page.contains("One reading is not explained"),
        "{page}"
    );
}

//! What the rooms write into the logbook: only what counts, and once however often it arrives.

use crate::workshop::{Answer, Open};

struct Book {
    open: Open,
    token: String,
}

impl Book {
    fn of_tarn() -> Self {
        let open = Open::here();
        let token = open.get("/car/tarn/prove").token();
        Self { open, token }
    }

    /// As the page's script sends it.
    fn send(&self, room: &str, id: &str, form: &str) -> Answer {
        let headers = format!("Origin: http://{}\r\nx-in-place: 1\r\n", self.open.at);
        let form = format!("token={}&entry={id}&{form}", self.token);
        self.open.post_with(&format!("/car/tarn/{room}"), &headers, &form)
    }

    fn joint(&self, id: &str, joint: &str, found: &str) -> Answer {
        self.send(
            "prove",
            id,
            &format!("what=joint&joint={}&found={found}", encoded(joint)),
        )
    }

    fn page(&self, room: &str) -> String {
        self.open.get(&format!("/car/tarn/{room}")).body
    }

    /// Names of all joints, read off the page.
    fn joints(&self) -> Vec<String> {
        self.page("prove")
            .split("name=\"joint\" value=\"")
            .skip(1)
            .map(|rest| rest.split('"').next().unwrap().to_owned())
            .collect()
    }

    /// How many entries there are.
    fn entries(&self) -> usize {
        self.page("logbook").matches("<li class=\"entry").count()
    }
}

fn encoded(text: &str) -> String {
    text.bytes().map(|byte| format!("%{byte:02X}")).collect()
}

#[test]
fn an_entry_that_arrives_twice_is_written_once() {
    let book = Book::of_tarn();
    let joint = &book.joints()[0];
    let first = book.joint("a1", joint, "marked");
    assert_eq!((first.status, first.body.as_str()), (200, "1"));
    let again = book.joint("a1", joint, "marked");
    assert_eq!(
        (again.status, again.body.as_str()),
        (200, "1"),
        "the same entry, not another"
    );
    assert_eq!(book.joint("a2", joint, "dry").body, "2");
    // It arrives once more, late, when it would not count any more.
    assert_eq!(book.joint("a3", joint, "weep").body, "3");
    assert_eq!(book.joint("a2", joint, "dry").body, "2");
    assert_eq!(book.entries(), 3);
}

#[test]
fn what_does_not_count_is_not_written() {
    let book = Book::of_tarn();
    let joint = &book.joints()[0];
    for (form, told) in [
        (format!("what=joint&joint={}&found=dry", encoded(joint)), "marked"),
        (
            "what=joint&joint=nothing&found=dry".to_owned(),
            "no joint of this car",
        ),
        (
            format!("what=joint&joint={}&found=wet", encoded(joint)),
            "no joint",
        ),
        ("what=sign&by=".to_owned(), "nobody signs"),
        ("what=sign&by=A".to_owned(), "signs while"),
        (
            "what=check&check=bled&result=not-done&because=".to_owned(),
            "has a reason",
        ),
        (
            "what=check&check=firm-hand&result=read&first=84".to_owned(),
            "second",
        ),
        (
            "what=check&check=firm-hand&result=read&first=84&second=x".to_owned(),
            "second",
        ),
        ("what=check&check=nothing&result=held".to_owned(), "no check"),
        ("what=check&check=bled".to_owned(), "nothing was said"),
        ("what=touched&part=wings".to_owned(), "nothing of this car"),
        ("what=nonsense".to_owned(), "no form"),
    ] {
        let answer = book.send("prove", "b1", &form);
        assert_eq!(answer.status, 409, "{form}: {}", answer.body);
        assert!(answer.body.contains(told), "{form}: {}", answer.body);
    }
    assert_eq!(
        book.send("prove", "", "what=touched&part=lever").status,
        409,
        "without an id"
    );
    for (room, form) in [
        ("plan", "step=fly"),
        ("lines", "got=wings"),
        ("logbook", "what=add&kind=note&text="),
        ("logbook", "what=add&kind=signoff&text=x"),
        ("logbook", "what=add&kind=pads&text=x&axle=rear&left=6"),
        ("logbook", "what=strike&id=7&why=x"),
        ("balance", "what=add"),
    ] {
        assert_eq!(book.send(room, "b2", form).status, 409, "{room} {form}");
    }
    assert!(!book.open.folder.path().join("tarn/logbook.db").exists() || book.entries() == 0);
}

#[test]
fn the_whole_round_ends_in_a_signature_and_an_opened_joint_takes_it_back() {
    let book = Book::of_tarn();
    let joints = book.joints();
    let mut number = 0;
    let mut id = || {
        number += 1;
        format!("c{number}")
    };
    for found in ["marked", "dry"] {
        for joint in &joints {
            let answer = book.joint(&id(), joint, found);
            assert_eq!(answer.status, 200, "{joint}: {}", answer.body);
        }
    }
    assert!(
        book.page("prove")
            .contains(&format!("{0} of {0} dry", joints.len()))
    );
    assert_eq!(
        book.send("prove", &id(), "what=sign&by=A.+Fell").status,
        409,
        "checks are open"
    );
    for form in [
        "check=bled&result=held",
        "check=screws&result=held",
        "check=pressed&result=held",
        "check=soak&result=not-done&because=no+gauge+here",
        "check=firm-pedal&result=read&first=61&second=60",
        "check=firm-hand&result=read&first=84+mm&second=83+mm",
        "check=bypass-cold&result=held",
        "check=walking&result=held",
        "check=bypass-hot&result=held",
        "check=even&result=read&left=410&right=396&how=torque+wrench",
        "check=slope&result=held",
    ] {
        let answer = book.send("prove", &id(), &format!("what=check&{form}"));
        assert_eq!(answer.status, 200, "{form}: {}", answer.body);
    }
    let ready = book.page("prove");
    assert!(
        ready.contains("NOT DONE: PRESSURE HELD SHUT, BECAUSE no gauge here."),
        "{ready}"
    );
    // A coupled car on an ordinary roller tester tells nothing, and takes the readiness away.
    let rollers = "what=check&check=even&result=read&left=410&right=396&how=rollers";
    assert_eq!(book.send("prove", &id(), rollers).status, 200);
    assert!(book.page("prove").contains("no ordinary roller tester"));
    assert_eq!(book.send("prove", &id(), "what=sign&by=A.+Fell").status, 409);
    let wrench = "what=check&check=even&result=read&left=410&right=396&how=torque+wrench";
    assert_eq!(book.send("prove", &id(), wrench).status, 200);
    let signed = book.send("prove", &id(), "what=sign&by=A.+Fell&checked_by=B.+Moor");
    assert_eq!(signed.status, 200, "{}", signed.body);
    assert!(book.page("prove").contains("Signed off by A. Fell"));
    assert_eq!(book.send("prove", &id(), "what=touched&part=lever").status, 200);
    let open = book.page("prove");
    assert!(!open.contains("class=\"signed\"") && open.contains("Not to be signed yet"));
}

#[test]
fn ticks_last_and_can_be_taken_back() {
    let book = Book::of_tarn();
    let page = book.page("lines");
    let got = page
        .split("name=\"got\" value=\"")
        .nth(1)
        .unwrap()
        .split('"')
        .next()
        .unwrap()
        .to_owned();
    let on = format!("got={}&now=on", encoded(&got));
    assert_eq!(book.send("lines", "d1", &on).status, 200);
    assert!(book.page("lines").contains("1 of "), "it lasts");
    assert!(book.page("lines").contains("aria-pressed=\"true\""));
    let off = format!("got={}&now=off", encoded(&got));
    assert_eq!(book.send("lines", "d2", &off).status, 200);
    assert_eq!(book.send("lines", "d2", &off).status, 200, "arrives again");
    assert!(!book.page("lines").contains("aria-pressed=\"true\""));
    assert_eq!(book.entries(), 2, "struck, not gone");
}

#[test]
fn a_form_without_the_script_writes_and_comes_back_to_the_room() {
    let book = Book::of_tarn();
    let form = format!("token={}&entry=e1&step=buy", book.token);
    let answer = book.open.post("/car/tarn/plan", &form);
    assert_eq!(
        (answer.status, answer.header("location")),
        (303, Some("/car/tarn/plan")),
        "{}",
        answer.body
    );
    assert_eq!(
        book.open.post("/car/tarn/plan", &form).status,
        303,
        "a page that is loaded again"
    );
    assert_eq!(book.entries(), 1);
    let refused = book.open.post(
        "/car/tarn/plan",
        &format!("token={}&entry=e2&step=fly", book.token),
    );
    assert_eq!(refused.status, 409);
    assert!(refused.body.contains("That was not written.") && refused.body.contains("id=\"index\""));
}

#[test]
fn what_was_set_for_an_event_and_what_came_of_it_stand_together() {
    let book = Book::of_tarn();
    let form = "what=add&kind=setting&event=Hill+%3Cb%3E&text=valve+2.5+turns&came_of_it=rear+came+round";
    assert_eq!(book.send("logbook", "f1", form).status, 200);
    let page = book.page("logbook");
    assert!(page.contains("Hill &lt;b&gt;") && page.contains("rear came round") && !page.contains("<b>"));
    let strike = "what=strike&id=1&why=wrong+event";
    assert_eq!(book.send("logbook", "f2", strike).body, "2");
    assert_eq!(book.send("logbook", "f2", strike).body, "2", "once");
    let page = book.page("logbook");
    assert!(page.contains("struck by entry 2") && !page.contains("What was set for which event"));
    // Two of the same words under two ids are two entries.
    let note = "what=add&kind=note&text=pads+look+fine";
    assert_eq!(book.send("logbook", "f3", note).body, "3");
    assert_eq!(book.send("logbook", "f4", note).body, "4");
    assert_eq!(
        book.send("logbook", "f4", "what=add&kind=note&text=other").status,
        409,
        "an id is used once"
    );
}

#[test]
fn a_logbook_that_does_not_read_is_told_and_left_alone() {
    let book = Book::of_tarn();
    let file = book.open.folder.path().join("tarn/logbook.db");
    std::fs::write(&file, "not a database at all, and longer than a head").unwrap();
    for room in ["logbook", "prove", "plan", "lines", "assessment"] {
        assert_eq!(book.open.get(&format!("/car/tarn/{room}")).status, 200, "{room}");
    }
    assert!(book.page("logbook").contains("does not read"));
    // Not the fault of what was sent: it may be sent again.
    assert_eq!(book.send("plan", "g1", "step=buy").status, 503);
    assert_eq!(
        std::fs::read(&file).unwrap(),
        b"not a database at all, and longer than a head"
    );
}

#[test]
fn what_two_devices_write_at_once_is_all_there() {
    let book = Book::of_tarn();
    std::thread::scope(|scope| {
        for device in 0..4 {
            let book = &book;
            scope.spawn(move || {
                for number in 0..10 {
                    let form = format!("what=add&kind=note&text=device+{device}+number+{number}");
                    assert_eq!(
                        book.send("logbook", &format!("h{device}-{number}"), &form).status,
                        200
                    );
                }
            });
        }
    });
    assert_eq!(book.entries(), 40);
}

#[test]
fn what_stops_the_car_stands_before_every_word_about_it() {
    let book = Book::of_tarn();
    // One stops it from the beginning: nothing mechanical holds the parked car.
    assert!(book.page("lever").contains("stop first; then "));
    let joint = book.joints()[0].clone();
    assert_eq!(book.joint("n1", &joint, "marked").status, 200);
    assert_eq!(book.joint("n2", &joint, "weep").status, 200);
    let list = book.open.list();
    let (_, tarn) = list.split_once("/car/tarn/assessment\">").unwrap();
    let tarn = tarn.split("</article>").next().unwrap();
    let before = tarn.split("class=\"stamp").next().unwrap();
    assert!(
        before.contains("stop-first") && before.contains(", and 1 more"),
        "before the word: {tarn}"
    );
    for room in [
        "assessment",
        "lever",
        "turn",
        "prove",
        "logbook",
        "lines",
        "plan",
        "conditions",
        "compare",
    ] {
        let page = book.page(room);
        let (head, rest) = page.split_once("<h1>").unwrap();
        // Once on each page: in the answer where it is the answer's own, in the head otherwise.
        let before = if room == "assessment" {
            rest.split("class=\"stamp").next().unwrap()
        } else {
            head
        };
        assert!(
            before.contains("stop-first") && before.contains(", and 1 more"),
            "{room}: {before}"
        );
        let stops: Vec<&str> = page.split("class=\"stop-first\"").skip(1).collect();
        let parked = stops.iter().filter(|stop| {
            stop.split("</p>")
                .next()
                .unwrap()
                .contains("holds the parked car")
        });
        assert_eq!(parked.count(), 1, "{room}");
        // Two rooms name every stop: the second then, which is only counted above.
        let names_all = ["conditions", "compare"].contains(&room);
        assert!(names_all || stops.len() == 1, "{room}");
        let index = head
            .split("class=\"question\">Will it work in this car?")
            .nth(1)
            .unwrap_or(rest);
        assert!(
            index
                .split("</li>")
                .next()
                .unwrap()
                .contains("2 stops first; then "),
            "{room}: {index}"
        );
    }
}

/// The sheet with a fault that keeps it from being read.
fn tear(book: &Book) -> (std::path::PathBuf, String) {
    let file = book.open.folder.path().join("tarn/car.toml");
    let sheet = std::fs::read_to_string(&file).unwrap();
    std::fs::write(&file, sheet.replacen("2.61 m", "2.61 apples", 1)).unwrap();
    (file, sheet)
}

#[test]
fn a_car_whose_sheet_does_not_read_takes_entries() {
    let book = Book::of_tarn();
    let joint = book.joints()[0].clone();
    let (file, sheet) = tear(&book);
    let faults = book.open.get("/car/tarn/prove");
    assert_eq!(faults.status, 422);
    assert!(
        faults.body.contains("name=\"text\"") && faults.body.contains("/car/tarn/logbook"),
        "an entry can be written there: {}",
        faults.body
    );
    for (id, room, form) in [
        (
            "i1",
            "prove",
            format!("what=joint&joint={}&found=marked", encoded(&joint)),
        ),
        ("i2", "prove", "what=check&check=bled&result=held".to_owned()),
        ("i3", "lines", "got=pipe".to_owned()),
        ("i4", "plan", "step=buy".to_owned()),
        (
            "i5",
            "logbook",
            "what=add&kind=note&text=the+sheet+is+torn".to_owned(),
        ),
    ] {
        for _ in 0..2 {
            let answer = book.send(room, id, &form);
            assert_eq!((answer.status, &*answer.body), (200, &id[1..]), "{room}: {form}");
        }
    }
    assert!(book.page("logbook").contains("the sheet is torn"));
    // Nobody signs for a car of which nothing is computed; what is sent may come again.
    assert_eq!(book.send("prove", "i6", "what=sign&by=A").status, 503);
    // Without the script the entry stands on the page that it leads to.
    let headers = format!("Origin: http://{}\r\n", book.open.at);
    let form = format!("token={}&entry=i7&what=add&kind=note&text=by+form", book.token);
    assert_eq!(
        book.open.post_with("/car/tarn/logbook", &headers, &form).status,
        303
    );
    assert!(book.page("logbook").contains("by form"));
    std::fs::write(file, sheet).unwrap();
    assert!(
        book.page("prove").contains("marked, not yet felt dry"),
        "it counts once the sheet reads"
    );
    assert_eq!(book.entries(), 6);
}

#[test]
fn a_car_that_is_not_there_may_come_back() {
    let book = Book::of_tarn();
    let cars = book.open.folder.path();
    std::fs::rename(cars.join("tarn"), cars.join("elsewhere")).unwrap();
    let form = "what=add&kind=note&text=pads+look+fine";
    let answer = book.send("logbook", "j1", form);
    assert_eq!(answer.status, 404, "{}", answer.body);
    assert!(answer.body.contains("tarn"), "{}", answer.body);
    std::fs::rename(cars.join("elsewhere"), cars.join("tarn")).unwrap();
    assert_eq!(book.send("logbook", "j1", form).body, "1");
}

#[test]
fn what_was_pressed_before_somebody_found_otherwise_is_refused() {
    let book = Book::of_tarn();
    let joint = encoded(&book.joints()[0]);
    let press = |id: &str, found: &str, since: &str| {
        book.send(
            "prove",
            id,
            &format!("what=joint&joint={joint}&found={found}&since={since}"),
        )
    };
    assert_eq!(press("k1", "marked", "0").body, "1");
    assert_eq!(
        press("k1", "marked", "0").body,
        "1",
        "the same once more is the same"
    );
    assert_eq!(press("k2", "weep", "1").body, "2");
    assert_eq!(press("k3", "remade", "2").body, "3");
    // Somebody felt it dry before it wept, and their tablet was away meanwhile.
    let late = press("k4", "dry", "1");
    assert_eq!(late.status, 409, "{}", late.body);
    assert!(
        late.body.contains("joint 1 is remade since entry 3"),
        "{}",
        late.body
    );
    assert_eq!(press("k5", "dry", "3").body, "4");
}

#[test]
fn a_form_that_is_sent_again_with_something_else_is_refused() {
    let book = Book::of_tarn();
    let joint = encoded(&book.joints()[0]);
    let press = |found: &str| book.send("prove", "l1", &format!("what=joint&joint={joint}&found={found}"));
    assert_eq!(press("marked").body, "1");
    let other = press("dry");
    assert_eq!(other.status, 409, "{}", other.body);
    assert!(other.body.contains("which is entry 1"), "{}", other.body);
}

#[test]
fn every_untried_joint_is_marked_at_once_and_each_can_be_taken_back() {
    let book = Book::of_tarn();
    let joints = book.joints();
    assert_eq!(book.joint("o1", &joints[1], "marked").body, "1");
    let shown = book.page("prove");
    let (_, rest) = shown.split_once("name=\"joints\" value=\"").unwrap();
    let numbers = rest.split('"').next().unwrap();
    assert_eq!(numbers.split(' ').count(), joints.len() - 1);
    let form = format!("what=all-marked&joints={}", numbers.replace(' ', "+"));
    // Somebody else finds one of them meanwhile: it is left as it was found.
    assert_eq!(book.joint("o2", &joints[0], "marked").body, "2");
    let all = book.send("prove", "o3", &form);
    assert_eq!(
        (all.status, all.body.split(' ').count()),
        (200, joints.len() - 2),
        "{}",
        all.body
    );
    assert_eq!(
        book.send("prove", "o4", &form).status,
        409,
        "nothing is left to mark"
    );
    assert!(!book.page("prove").contains("all-marked"));
    let last = all.body.rsplit(' ').next().unwrap();
    assert_eq!(
        book.send(
            "logbook",
            "o5",
            &format!("what=strike&id={last}&why=pressed+by+mistake")
        )
        .status,
        200
    );
    assert!(book.page("prove").contains("data-state=\"untried\""));
}

//! What is on the car, by plain forms: a car typed to a first answer, what is refused, two tablets, the text, its folder.

use crate::workshop::{Answer, Open};

const SIX: &str = "driven=front&behind=disc&split=axle&booster=none&valve=none&lever=inline";

/// What is typed at each figure of such a car, as a form sends it.
const FIGURES: &[(&str, &str)] = &[
    ("weighed.front", "figure=612&unit=kg&sure=corner"),
    ("weighed.rear", "figure=398&unit=kg&sure=corner"),
    ("geometry.wheelbase", "figure=2%2C45&unit=m&sure=tape"),
    ("tyres.rolling_radius", "figure=185%2F60+14&unit=label&sure=tape"),
    ("pedal.ratio", "guess=1"),
    ("master.bore", "figure=13%2F16&unit=in&sure=exact"),
    ("lever.bore", "figure=5%2F8&unit=in&sure=exact"),
    ("lever.ratio", "figure=7&sure=once"),
    ("front_brake.caliper.layout", "figure=sliding"),
    ("front_brake.caliper.pistons", "figure=48&unit=mm&sure=calipers"),
    ("front_brake.effective_radius", "figure=100&unit=mm&sure=ruler"),
    ("rear_brake.caliper.layout", "figure=opposed"),
    ("rear_brake.caliper.pistons", "figure=30%3B+26&unit=mm&sure=exact"),
    ("rear_brake.effective_radius", "figure=98&unit=mm&sure=ruler"),
];

struct Thumb {
    open: Open,
    token: String,
    sent: usize,
}

impl Thumb {
    fn new() -> Self {
        let open = Open::here();
        let token = open.get("/").token();
        Self { open, token, sent: 0 }
    }

    fn form(&mut self, path: &str, fields: &str) -> Answer {
        self.sent += 1;
        let entry = format!("entry=thumb-{}", self.sent);
        self.open
            .post(path, &format!("token={}&{entry}&{fields}", self.token))
    }

    fn sheet(&self, car: &str) -> String {
        std::fs::read_to_string(self.open.folder.path().join(car).join("car.toml")).unwrap()
    }
}

fn location(answer: &Answer) -> String {
    assert_eq!(answer.status, 303, "{}", answer.body);
    answer.header("location").unwrap().to_owned()
}

/// What the form on a page has as the value of a hidden field.
fn hidden(page: &str, name: &str) -> String {
    let from = page.find(&format!("name=\"{name}\" value=\"")).expect(name);
    let rest = &page[from..];
    rest.split('"')
        .nth(3)
        .unwrap()
        .replace("&quot;", "\"")
        .replace("&amp;", "&")
}

fn sent(text: &str) -> String {
    text.bytes().map(|byte| format!("%{byte:02X}")).collect()
}

#[test]
fn a_car_is_typed_figure_by_figure_to_a_first_answer() {
    let mut thumb = Thumb::new();
    let made = thumb.form("/cars", &format!("name=fell&{SIX}"));
    assert_eq!(location(&made), "/car/fell/sheet");
    let list = thumb.open.get("/car/fell/sheet");
    assert!(list.body.contains(">14 left<") && list.body.contains("Weight on the front wheels"));
    // Nothing of the sheet's own spelling stands on the way.
    for (at, (figure, typed)) in FIGURES.iter().enumerate() {
        let page = thumb.open.get(&format!("/car/fell/sheet/{figure}"));
        assert_eq!(page.status, 200);
        assert!(
            page.body.contains(&format!("{} left to a first answer", 14 - at)),
            "{figure}"
        );
        let kept = thumb.form(&format!("/car/fell/sheet/{figure}"), &format!("{typed}&seen="));
        let next = FIGURES.get(at + 1).map_or("weighed.cg_height", |(next, _)| *next);
        // Once none is left, the guesses follow from where one is.
        if at + 1 < FIGURES.len() {
            assert_eq!(location(&kept), format!("/car/fell/sheet/{next}"));
        } else {
            assert!(location(&kept).starts_with("/car/fell/sheet"), "{figure}");
        }
    }
    let sheet = thumb.sheet("fell");
    for line in [
        "front = \"612 kg ± 0.5 %\"",
        "wheelbase = \"2,45 m ± 5 mm\"",
        "rolling_radius = \"185/60 R14\"",
        "ratio = \"guess\"",
        "pistons = [\"30 mm\", \"26 mm\"]",
        "bore = \"5/8 in\"",
    ] {
        assert!(sheet.contains(line), "{line}: {sheet}");
    }
    let answer = thumb.open.get("/car/fell/assessment");
    assert_eq!(answer.status, 200);
    assert!(answer.body.contains("class=\"stamp "));
    let list = thumb.open.get("/car/fell/sheet");
    assert!(list.body.contains("21 of 30 known, 9 guessed"), "{}", list.body);
    // What a guess costs is told once there is an answer.
    let friction = thumb.open.get("/car/fell/sheet/rear_brake.pad.friction");
    assert!(
        friction.body.contains("as a guess. Measured, it would be"),
        "{}",
        friction.body
    );
    assert!(friction.body.contains("so far: "));
}

#[test]
fn a_step_is_taken_back_and_made_again() {
    let mut thumb = Thumb::new();
    let before = thumb.sheet("sedge");
    let page = thumb.open.get("/car/sedge/sheet/lever.bore");
    assert!(!page.body.contains(">Undo<"));
    let seen = sent(&hidden(&page.body, "seen"));
    thumb.form(
        "/car/sedge/sheet/lever.bore",
        &format!("figure=11%2F16&unit=in&sure=exact&seen={seen}"),
    );
    let after = thumb.sheet("sedge");
    assert_eq!(after, before.replacen("\"1/2 in\"", "\"11/16 in\"", 1));
    for (key, then) in [("Undo", &before), ("Redo", &after), ("Undo", &before)] {
        let page = thumb.open.get("/car/sedge/sheet/lever.bore").body;
        let at = page.find(&format!(">{key}<")).unwrap();
        let from = page[..at].rfind("name=\"changes\"").unwrap();
        let changes = sent(&hidden(&page[from..], "changes"));
        let what = key.to_lowercase();
        let done = thumb.form("/car/sedge/sheet", &format!("what={what}&changes={changes}"));
        assert_eq!(location(&done), "/car/sedge/sheet/lever.bore");
        assert_eq!(&thumb.sheet("sedge"), then, "{key}");
    }
}

#[test]
fn what_cannot_stand_there_is_told_and_what_was_typed_stays() {
    let mut thumb = Thumb::new();
    let before = thumb.sheet("sedge");
    for (typed, told) in [
        ("figure=70&unit=bar", "is a pressure"),
        ("figure=0&unit=mm", "physics"),
        ("figure=%3Cb%3E&unit=mm", "&lt;b&gt;"),
        ("figure=&unit=mm", ""),
    ] {
        let seen = sent(&hidden(
            &thumb.open.get("/car/sedge/sheet/lever.bore").body,
            "seen",
        ));
        let refused = thumb.form("/car/sedge/sheet/lever.bore", &format!("{typed}&seen={seen}"));
        assert_eq!(refused.status, 409, "{typed}");
        assert!(refused.body.contains(told), "{typed}: {}", refused.body);
        assert!(!refused.body.contains("<b>"));
        assert!(refused.body.contains("Nothing was changed"));
    }
    assert_eq!(thumb.sheet("sedge"), before);
    let checked = thumb
        .open
        .get("/car/sedge/sheet/lever.bore/check?figure=5%2F8&unit=in&sure=calipers");
    assert_eq!(checked.status, 200);
    assert!(checked.body.contains("15.9\u{a0}mm ± 0.1 mm"), "{}", checked.body);
    let checked = thumb
        .open
        .get("/car/sedge/sheet/lever.bore/check?figure=70+bar&unit=in");
    assert_eq!(checked.status, 200);
    assert!(checked.body.contains("wrong-here") && checked.body.contains("is a pressure"));
    for nowhere in [
        "/car/sedge/sheet/no.such",
        "/car/sedge/sheet/no.such/check?figure=1",
        "/car/sedge/several/none",
    ] {
        assert_eq!(thumb.open.get(nowhere).status, 404, "{nowhere}");
    }
}

#[test]
fn the_second_tablet_is_shown_what_the_first_one_kept() {
    let mut thumb = Thumb::new();
    let seen = sent(&hidden(
        &thumb.open.get("/car/sedge/sheet/lever.bore").body,
        "seen",
    ));
    let first = thumb.form(
        "/car/sedge/sheet/lever.bore",
        &format!("figure=5%2F8&unit=in&seen={seen}"),
    );
    assert_eq!(first.status, 303);
    let second = thumb.form(
        "/car/sedge/sheet/lever.bore",
        &format!("figure=20&unit=mm&seen={seen}"),
    );
    assert_eq!(second.status, 409);
    assert!(
        second.body.contains("5/8 in") && second.body.contains("value=\"20\""),
        "{}",
        second.body
    );
    assert!(thumb.sheet("sedge").contains("\"5/8 in\""));
    // Having seen it, they may.
    let seen = sent(&hidden(&second.body, "seen"));
    let third = thumb.form(
        "/car/sedge/sheet/lever.bore",
        &format!("figure=20&unit=mm&seen={seen}"),
    );
    assert_eq!(third.status, 303);
}

#[test]
fn the_text_is_kept_once_it_reads_and_shown_back_until_it_does() {
    let mut thumb = Thumb::new();
    let text = thumb.sheet("sedge");
    let digest = hidden(&thumb.open.get("/car/sedge/text").body, "digest");
    let broken = text.replacen("\"1/2 in\"", "\"1/2 bar\"", 1);
    let refused = thumb.form(
        "/car/sedge/text",
        &format!("digest={digest}&text={}", sent(&broken)),
    );
    assert_eq!(refused.status, 409);
    assert!(
        refused.body.contains("1/2 bar") && refused.body.contains("<mark>"),
        "{}",
        refused.body
    );
    assert_eq!(thumb.sheet("sedge"), text);
    // A browser sends line ends in its own way.
    let better = text.replacen("\"1/2 in\"", "\"5/8 in\"", 1).replace('\n', "\r\n");
    let kept = thumb.form(
        "/car/sedge/text",
        &format!("digest={digest}&text={}", sent(&better)),
    );
    assert_eq!(location(&kept), "/car/sedge/text");
    assert_eq!(thumb.sheet("sedge"), text.replacen("\"1/2 in\"", "\"5/8 in\"", 1));
    // Whoever still has the old page is shown both.
    let mine = text.replacen("\"1/2 in\"", "\"11/16 in\"", 1);
    let both = thumb.form(
        "/car/sedge/text",
        &format!("digest={digest}&text={}", sent(&mine)),
    );
    assert_eq!(both.status, 409);
    for one in [
        "11/16 in",
        "5/8 in",
        "As it is on the disk now",
        "One line is not in yours",
    ] {
        assert!(both.body.contains(one), "{one}");
    }
    let digest = hidden(&both.body, "digest");
    assert_eq!(
        thumb
            .form(
                "/car/sedge/text",
                &format!("digest={digest}&text={}", sent(&mine))
            )
            .status,
        303
    );
    assert_eq!(thumb.sheet("sedge"), mine);
}

#[test]
fn a_sheet_that_is_brought_is_read_before_it_is_kept() {
    let mut thumb = Thumb::new();
    let text = thumb.sheet("tarn");
    let kept = thumb.form("/cars/bring", &format!("name=brought&text={}", sent(&text)));
    assert_eq!(location(&kept), "/car/brought/assessment");
    assert_eq!(thumb.sheet("brought"), text);
    let broken = text.replace("bore     = \"5/8 in\"", "boar     = \"5/8 in\"");
    let refused = thumb.form("/cars/bring", &format!("name=other&text={}", sent(&broken)));
    assert_eq!(refused.status, 400);
    assert!(
        refused.body.contains("boar") && refused.body.contains("value=\"other\""),
        "{}",
        refused.body
    );
    assert!(!thumb.open.has_car("other"));
    assert_eq!(
        thumb
            .form("/cars/bring", &format!("name=tarn&text={}", sent(&text)))
            .status,
        400
    );
}

#[test]
fn a_folder_is_copied_renamed_and_put_away_and_nothing_is_deleted() {
    let mut thumb = Thumb::new();
    let text = thumb.sheet("tarn");
    let copied = thumb.form("/car/tarn/files", "what=copy&name=tarn+two");
    assert_eq!(location(&copied), "/car/tarn%20two/sheet");
    assert_eq!(thumb.sheet("tarn two"), text);
    assert!(thumb.open.folder.path().join("tarn two/logbook.db").exists());
    let renamed = thumb.form("/car/tarn%20two/files", "what=rename&name=beck");
    assert_eq!(location(&renamed), "/car/beck/sheet");
    let taken = thumb.form("/car/beck/files", "what=rename&name=TARN");
    assert_eq!(taken.status, 400);
    assert!(taken.body.contains("value=\"TARN\""));
    let away = thumb.form("/car/beck/files", "what=put-away");
    assert_eq!(location(&away), "/");
    assert!(!thumb.open.get("/").body.contains("/car/beck/"));
    assert_eq!(thumb.sheet("put-away/beck"), text);
}

#[test]
fn several_figures_are_kept_together() {
    let mut thumb = Thumb::new();
    let page = thumb.open.get("/car/sedge/several/item");
    assert!(page.body.contains("What it weighs"));
    let field = |name: &str, what: &str, value: &str| {
        format!("{}={}", sent(&format!("{what}:load.item[].{name}")), sent(value))
    };
    let fields = [
        field("name", "figure", "jack"),
        field("mass", "figure", "9"),
        field("mass", "unit", "kg"),
        field("aft_of_front_axle", "figure", "2.9"),
        field("aft_of_front_axle", "unit", "m"),
    ];
    let missing = thumb.form("/car/sedge/several/item", &fields[..1].join("&"));
    assert_eq!(missing.status, 409);
    assert!(missing.body.contains("value=\"jack\""), "{}", missing.body);
    let kept = thumb.form("/car/sedge/several/item", &fields.join("&"));
    assert_eq!(location(&kept), "/car/sedge/sheet");
    assert!(thumb.sheet("sedge").contains("\"jack\""));
    let list = thumb.open.get("/car/sedge/sheet").body;
    assert!(list.contains("Take out jack"), "{list}");
}

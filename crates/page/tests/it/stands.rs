//! How a page's files stand on the disk: a word that changes when they do.

use std::path::{Path, PathBuf};

use page::{Reach, ServerLimits};

use crate::workshop::{Open, demonstration_cars};

/// The words that a page carries, and where they are asked for again.
fn carried(page: &str) -> (String, String) {
    let (_, rest) = page
        .split_once("<meta name=\"stands\" content=\"")
        .expect("stands");
    let mut quoted = rest.split('"');
    (
        quoted.next().unwrap().to_owned(),
        quoted.nth(1).unwrap().to_owned(),
    )
}

fn sheet(open: &Open, car: &str) -> PathBuf {
    open.folder.path().join(car).join("car.toml")
}

#[test]
fn a_page_knows_when_its_sheet_or_its_logbook_has_changed() {
    let open = Open::here();
    let page = open.get("/car/tarn/turn?against=sedge").body;
    let (word, address) = carried(&page);
    let now = || open.get(&address).body;
    assert_eq!(now(), word, "nothing has changed");
    let [sheet_word, logbook_word] = *word.split(' ').collect::<Vec<_>>() else {
        panic!("{word}")
    };

    let text = std::fs::read_to_string(sheet(&open, "tarn")).unwrap();
    std::fs::write(sheet(&open, "tarn"), format!("{text}\n")).unwrap();
    let after = now();
    assert!(
        !after.starts_with(sheet_word) && after.ends_with(logbook_word),
        "{word}: {after}"
    );

    // The car beside it counts too.
    let text = std::fs::read_to_string(sheet(&open, "sedge")).unwrap();
    std::fs::write(sheet(&open, "sedge"), format!("{text}\n")).unwrap();
    assert_ne!(now(), after);
    let (alone, of_alone) = carried(&open.get("/car/tarn/lever").body);
    std::fs::write(sheet(&open, "sedge"), text).unwrap();
    assert_eq!(open.get(&of_alone).body, alone);

    let before = now();
    let token = open.get("/car/tarn/logbook").token();
    let headers = format!("Origin: http://{}\r\nx-in-place: 1\r\n", open.at);
    let form = format!("token={token}&entry=a1&what=add&kind=note&text=x");
    assert_eq!(open.post_with("/car/tarn/logbook", &headers, &form).status, 200);
    let after = now();
    assert_eq!(before.split(' ').next(), after.split(' ').next());
    assert!(!after.ends_with(logbook_word));
    // Reading changes nothing.
    assert_eq!(open.get("/car/tarn/logbook").status, 200);
    assert_eq!(now(), after);
}

#[test]
fn every_page_of_a_car_and_the_list_can_be_asked() {
    let open = Open::here();
    for path in [
        "/",
        "/car/tarn/assessment",
        "/car/tarn/prove",
        "/car/tarn/working/travel_m",
    ] {
        let (word, address) = carried(&open.get(path).body);
        assert_eq!(open.get(&address).body, word, "{path}");
        let text = std::fs::read_to_string(sheet(&open, "tarn")).unwrap();
        std::fs::write(sheet(&open, "tarn"), format!("{text}\n")).unwrap();
        assert_ne!(open.get(&address).body, word, "{path}");
    }
    // A sheet that does not read is waited for too.
    std::fs::write(sheet(&open, "tarn"), "[tyres").unwrap();
    let faults = open.get("/car/tarn/assessment");
    assert_eq!(faults.status, 422);
    let (word, address) = carried(&faults.body);
    assert_eq!(open.get(&address).body, word);
    std::fs::remove_dir_all(open.folder.path().join("tarn")).unwrap();
    assert_ne!(open.get(&address).body, word);
}

#[test]
fn a_row_that_waits_is_filled_in_and_one_that_changed_says_so_until_then() {
    let open = Open::at_first();
    let list = open.list();
    let keys = |list: &str| -> Vec<String> {
        list.split("id=\"car-")
            .skip(1)
            .map(|rest| rest.split('"').next().unwrap().to_owned())
            .collect()
    };
    let mut all = keys(&list);
    assert_eq!(all.len(), 6);
    // Of the cars alone, whatever their order.
    all.sort();
    let (word, address) = carried(&list);
    assert_eq!(address, format!("/stands?cars={}", all.join(".")));
    assert_eq!(open.get(&address).body, word);
    // Another order shows the same cars: the words of one page are not those of another, and neither changes by itself.
    for order in ["due", "verdict"] {
        let sorted = open.get(&format!("/?sort={order}")).body;
        let (word, address) = carried(&sorted);
        assert_eq!(open.get(&address).body, word, "{order}");
    }

    let text = std::fs::read_to_string(sheet(&open, "tarn")).unwrap();
    std::fs::write(sheet(&open, "tarn"), text.replace("Tarn 4", "Tarn 5")).unwrap();
    let at_once = open.get("/").body;
    let row = |list: &str| {
        list.split("<article")
            .find(|row| row.contains("/car/tarn/"))
            .unwrap()
            .to_owned()
    };
    let tarn = row(&at_once);
    assert!(
        tarn.contains("Tarn 5") && !tarn.contains("data-waits")
            || tarn.contains("Tarn 4")
                && tarn.contains("its sheet has changed")
                && tarn.contains("data-waits"),
        "never old in silence: {tarn}"
    );
    let after = open.list();
    assert!(row(&after).contains("Tarn 5"));
    let key = &keys(&row(&after))[0];
    let alone = open.get(&format!("/rows?cars={key}.nonsense")).body;
    assert!(
        alone.contains("Tarn 5") && alone.matches("<article").count() == 1,
        "{alone}"
    );
    assert!(open.get("/rows?cars=").body.contains("id=\"unanswered\""));
}

#[test]
fn a_folder_that_is_moved_while_it_is_served_is_missed_and_welcome_back() {
    let open = Open::here();
    let token = open.get("/car/tarn/logbook").token();
    let headers = format!("Origin: http://{}\r\n", open.at);
    let note = |entry: &str| {
        let form = format!("token={token}&entry={entry}&what=add&kind=note&text=after the move");
        open.post_with("/car/tarn/logbook", &headers, &form)
    };
    let before = open.get("/car/tarn/lever").body;
    let away = open.folder.path().with_extension("away");
    std::fs::rename(open.folder.path(), &away).unwrap();

    for missed in [open.get("/"), open.get("/car/tarn/lever"), note("m1")] {
        assert_eq!(missed.status, 404);
        let said = format!("{} is not there", open.folder.path().display());
        assert!(missed.body.contains(&said), "{}", missed.body);
        assert!(missed.body.contains("put the file back where it was"));
    }
    assert!(!open.folder.path().exists(), "nothing is made where it was");

    std::fs::rename(&away, open.folder.path()).unwrap();
    assert_eq!(open.get("/car/tarn/lever").body, before);
    assert!(!open.get("/car/tarn/logbook").body.contains("after the move"));
    assert_eq!(note("m1").status, 303);
    assert!(open.get("/car/tarn/logbook").body.contains("after the move"));
}

/// The questions with their short answers, and the state of the car above them.
fn beside(page: &str) -> String {
    let part = |from: &str, to: &str| {
        let (_, rest) = page.split_once(from).expect(from);
        rest.split(to).next().unwrap().to_owned()
    };
    let marked = part("<nav id=\"index\"", "</nav>").replace(" aria-current=\"page\"", "");
    format!("{} {marked}", part("id=\"state\">", "<nav id=\"index\""))
}

/// What stands beside an answer is made once and kept. Whoever has seen another state sees the same as somebody who comes
/// new to it: of another sheet, another entry, other units, another pull, another part.
#[test]
fn what_stands_beside_an_answer_is_never_that_of_another_state() {
    let open = Open::here();
    let address = [
        "/car/sedge/lever",
        "/car/sedge/lever?hand=90",
        "/car/sedge/lever?with=lever.bore=5/8+in",
    ];
    let seen = || address.map(|address| beside(&open.get(address).body));
    let anew = || {
        let folder = tempfile::tempdir().unwrap();
        demonstration_cars(folder.path());
        for file in ["sedge/car.toml", "sedge/logbook.db", "preferences.toml"] {
            let from = open.folder.path().join(file);
            if from.is_file() {
                std::fs::copy(from, folder.path().join(file)).unwrap();
            }
        }
        let other = Open::over(folder, Reach::ThisMachine, ServerLimits::default());
        // The other way round: what one leaves behind, another would find.
        let mut all = address;
        all.reverse();
        let mut all = all.map(|address| beside(&other.get(address).body));
        all.reverse();
        all
    };
    let first = seen();
    assert_eq!(first, anew());
    assert_eq!(first, seen());
    assert!(first[0] != first[1] && first[0] != first[2]);

    let file = sheet(&open, "sedge");
    let text = std::fs::read_to_string(&file).unwrap();
    let heavier = text.replacen("hand_pull", "# hand_pull", 1);
    assert_ne!(text, heavier);
    std::fs::write(&file, heavier).unwrap();
    let other = seen();
    assert_ne!(other[0], first[0]);
    assert_eq!(other, anew());
    std::fs::write(&file, &text).unwrap();
    assert_eq!(first, seen());

    std::fs::write(
        open.folder.path().join("preferences.toml"),
        "units = \"psi,in,lbf\"\n",
    )
    .unwrap();
    let other = seen();
    assert_ne!(other[0], first[0]);
    assert_eq!(other, anew());
    std::fs::remove_file(open.folder.path().join("preferences.toml")).unwrap();

    let token = open.get("/car/sedge/logbook").token();
    let headers = format!("Origin: http://{}\r\nx-in-place: 1\r\n", open.at);
    let form = format!("token={token}&entry=a1&what=add&kind=note&text=x");
    assert_eq!(open.post_with("/car/sedge/logbook", &headers, &form).status, 200);
    assert_eq!(seen(), anew());

    // A stage of the person's own lies beside the sheet.
    let stages = open.folder.path().join("sedge/stages");
    std::fs::create_dir(&stages).unwrap();
    let driven = |stage: &str| {
        let demo = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../demo/sedge/stages");
        std::fs::copy(demo.join(stage), stages.join("own.toml")).unwrap();
        beside(&open.get("/car/sedge/lever?stage=own").body)
    };
    let downhill = driven("tarmac-downhill.toml");
    assert_ne!(driven("service-loop.toml"), downhill);
    assert_eq!(driven("tarmac-downhill.toml"), downhill);
}

//! What the rooms say: the same as the terminal, for the same words; states in addresses; what cannot be asked.

use engine::ranges::Sampling;
use questions::assess as assessment;
use questions::options::{Said, WITH};
use questions::{Case, Changes, Opened, Question as _, StateText};
use wording::Units;

use crate::workshop::Open;

/// Text of a page, as it is read.
fn text(body: &str) -> String {
    let mut out = String::new();
    let mut inside = false;
    // What only paper has is not on the screen.
    let mut parts = body.split("<span class=\"printed\">");
    let first = parts.next().unwrap_or_default().to_owned();
    let on_screen = parts.fold(first, |said, part| {
        said + part.split_once("</span>").map_or(part, |(_, rest)| rest)
    });
    for character in on_screen.chars() {
        match character {
            '<' => inside = true,
            '>' => inside = false,
            other if !inside => out.push(other),
            _ => {}
        }
    }
    out.replace("&quot;", "\"")
        .replace("&#39;", "'")
        .replace("&amp;", "&")
        .replace("&lt;", "<")
        .replace("&gt;", ">")
}

/// A sentence without the quotes round its keys: a page shows them as code.
fn plain(sentence: &str) -> String {
    sentence.replace('`', "")
}

fn opened(open: &Open, car: &str, with: &[&str]) -> Opened {
    let changes = Changes {
        proposal: None,
        with: with.iter().map(|with| (*with).to_owned()).collect(),
        valve: None,
    };
    let state = StateText::silent(engine::car::Date::constant(2026, 5, 1));
    Opened::of(open.folder.path(), car, &changes, &state).unwrap()
}

/// Readings that stand in the place of the sheet's figures are named over every answer.
#[test]
fn the_head_names_what_was_measured() {
    let open = Open::here();
    let said: Vec<String> =
        questions::measured_in_words(&opened(&open, "tarn", &[]), &Units::default()).collect();
    assert!(
        said.iter()
            .any(|said| said.starts_with("read at the pedal: the booster's gain is 3.01")),
        "{said:?}"
    );
    for room in ["assessment", "lever", "balance"] {
        let page = text(&open.get(&format!("/car/tarn/{room}")).body);
        for said in &said {
            assert!(page.contains(said), "{room}: {said}");
        }
    }
    let page = text(&open.get("/car/half-known/lever").body);
    assert!(!page.contains("measured."));
}

/// A load-sensing valve that keeps what it let through is said where it acts, and not where it follows its law.
#[test]
fn a_valve_that_holds_is_said() {
    let open = Open::here();
    let page = |foot: u32, empty: &str| {
        let with: String = [
            "bias_valve.kind=load-sensing".to_owned(),
            format!("bias_valve.knee.empty={empty}"),
            "bias_valve.knee.laden=7 kN, 60 bar".to_owned(),
            "bias_valve.slope=0.05".to_owned(),
        ]
        .iter()
        .map(|with| {
            format!(
                "&with={}",
                with.replace('=', "%3D").replace(' ', "+").replace(',', "%2C")
            )
        })
        .collect();
        text(
            &open
                .get(&format!("/car/scree/pressures?foot={foot}+N{with}"))
                .body,
        )
    };
    let said = "nothing flows back while the foot rises";
    let steep = page(900, "3.5 kN, 2 bar");
    assert!(steep.contains(said), "{steep}");
    assert!(!page(60, "3.5 kN, 2 bar").contains(said));
    assert!(!page(900, "3.5 kN, 59 bar").contains(said));
}

#[test]
fn the_assessment_says_what_the_terminal_says() {
    let open = Open::here();
    for car in ["bin", "half-known", "scree", "sedge", "tarn", "tarn-let-go"] {
        let opened = opened(&open, car, &[]);
        let speed = questions::speed(None).unwrap();
        let outcome =
            assessment::Outcome::of(&opened, speed, Sampling::default(), &Units::default()).unwrap();
        let page = text(&open.get(&format!("/car/{car}/assessment")).body);
        let answer = &outcome.assessment.answer;
        let parts: Vec<&str> = [answer.said, &answer.because]
            .into_iter()
            .chain(answer.though.iter().chain(&answer.first).map(String::as_str))
            .chain(answer.stops_first.iter().map(|(_, title)| title.as_str()))
            .collect();
        assert!(
            parts.iter().all(|part| page.contains(&plain(part))),
            "{car}: {parts:?}"
        );
        for finding in &outcome.assessment.findings {
            assert!(
                page.contains(&finding.title) && page.contains(&plain(&finding.remedy)),
                "{car}: {}",
                finding.slug
            );
        }
        for caution in &outcome.assessment.cautions {
            assert!(page.contains(caution), "{car}");
        }
        let alone = text(&open.get(&format!("/car/{car}/alone")).body);
        assert!(parts.iter().all(|part| alone.contains(&plain(part))), "{car}");
        // In the list a row: what stops it first, then the word.
        let list = open.list();
        let row = list.split(&format!("/car/{car}/assessment\">")).nth(1).unwrap();
        let row = text(row.split("</article>").next().unwrap());
        if let Some(stop) = outcome.assessment.stops().next() {
            assert!(
                row.find(&stop.title).unwrap() < row.find("torque").unwrap(),
                "{car}: {row}"
            );
        }
        let index = open.get(&format!("/car/{car}/lever?part=0")).body;
        let short = text(
            index
                .split("class=\"short\">")
                .nth(1)
                .unwrap()
                .split("</span>")
                .next()
                .unwrap(),
        );
        let word = short.rsplit("then ").next().unwrap();
        assert!(row.to_lowercase().contains(word), "{car}: {word:?} in {row}");
    }
}

#[test]
fn a_key_of_the_sheet_in_the_address_is_taken_for_this_once() {
    let open = Open::here();
    let with = "lever.ratio=8.5";
    let opened = opened(&open, "sedge", &[with]);
    let mut said = Said::default();
    said.say(&WITH, with);
    let case = Case {
        opened: &opened,
        said: &said,
        sampling: Sampling::default(),
        units: Units::default(),
        brief: false,
    };
    let report = questions::lever::Ask.answer(&case).unwrap().report();
    let page = open.get("/car/sedge/lever?with=lever.ratio%3D8.5");
    assert!(text(&page.body).contains(&report.headline.because));
    for figure in &report.headline.figures {
        assert!(
            text(&page.body).contains(&figure.measured.value.text),
            "{}",
            figure.name
        );
    }
    assert!(text(&page.body).contains("Other than on the sheet: lever ratio (lever.ratio) 8.5"));
    assert!(!text(&open.get("/car/sedge/lever").body).contains("Other than on the sheet"));
}

#[test]
fn a_state_goes_along_from_room_to_room() {
    let open = Open::here();
    let page = open.get("/car/tarn/balance?surface=ice&foot=120&no_crew=1").body;
    for room in ["assessment", "settings", "lever"] {
        let link = format!("href=\"/car/tarn/{room}?surface=ice&amp;foot=120&amp;no_crew=1\"");
        assert!(page.contains(&link), "{room}");
    }
    assert!(text(&page).contains("nobody aboard"));
}

#[test]
fn a_form_without_the_script_comes_to_the_same_address() {
    let open = Open::here();
    let answer = open.get("/car/tarn/balance?foot=300&stood.foot=300&surface=ice&stood.surface=hard+gravel&grip=0.65&stood.grip=0.65&fuel=");
    assert_eq!(
        (answer.status, answer.header("location")),
        (303, Some("/car/tarn/balance?surface=ice"))
    );
    assert_eq!(open.get("/car/tarn/balance?surface=ice").status, 200);
    let door = open.get("/car/tarn?cold=1");
    assert_eq!(door.header("location"), Some("/car/tarn/assessment?cold=1"));
}

#[test]
fn what_cannot_be_asked_is_told_and_the_car_is_still_shown() {
    let open = Open::here();
    for (query, told) in [
        ("surface=hard+grvel", "did you mean"),
        ("grip=9", "outside what is computed"),
        ("fuel=200", "the tank holds"),
        ("foot=abc", "foot"),
        ("foot=10+bar", "pressure"),
        ("valve=99", "valve"),
        ("wanted=sideways", "wish"),
        ("with=lever.boer%3D1", "lever.bore"),
        ("gripp=0.4", "did you mean"),
        ("on=2026-02-31", "not a day"),
    ] {
        let answer = open.get(&format!("/car/tarn/balance?{query}"));
        assert_eq!(answer.status, 400, "{query}");
        let page = text(&answer.body);
        assert!(
            page.contains("That cannot be asked so.") && page.contains(told),
            "{query}: {page}"
        );
        assert!(
            page.contains("Tarn 4") && answer.body.contains("id=\"balance\""),
            "{query}: the car is still there"
        );
        // While a handle moves the fault is told where the answer stands.
        let part = open.get(&format!("/car/tarn/balance?{query}&part=1"));
        assert!(text(&part.body).contains(told), "{query}");
    }
}

#[test]
fn only_what_moves_is_sent_while_a_handle_moves() {
    let open = Open::here();
    for room in ["assessment", "balance", "settings", "lever"] {
        let whole = open.get(&format!("/car/tarn/{room}"));
        let part = open.get(&format!("/car/tarn/{room}?part=1&pictures=wide"));
        assert_eq!(part.status, 200);
        for id in ["answer", "plan", "drawing"] {
            assert!(part.body.contains(&format!("<div id=\"{id}\">")), "{room}");
        }
        assert!(
            !part.body.contains("<html") && !part.body.contains("id=\"index\""),
            "{room}"
        );
        assert!(
            part.body.len() < whole.body.len() * 2 / 3,
            "{room}: {} of {}",
            part.body.len(),
            whole.body.len()
        );
    }
}

#[test]
fn a_working_opens_on_its_own_and_in_its_place() {
    let open = Open::here();
    let page = open.get("/car/tarn/working/hand_force_n?surface=loose+gravel");
    assert!(page.body.contains("<html") && page.body.contains("loose gravel"));
    let piece = open.get_with(
        "/car/tarn/working/hand_force_n?surface=loose+gravel",
        "x-in-place: 1\r\n",
    );
    assert!(
        piece.body.starts_with("<ol class=\"steps\">"),
        "{}",
        &piece.body[..80]
    );
    assert!(text(&page.body).contains(&text(&piece.body)));
    assert_eq!(open.get("/car/tarn/working/nonsense").status, 404);
}

#[test]
fn a_folder_without_cars_and_a_car_without_a_lever_are_no_dead_ends() {
    let folder = tempfile::tempdir().unwrap();
    let open = Open::over(folder, page::Reach::ThisMachine, page::ServerLimits::default());
    let empty = open.get("/");
    assert_eq!(empty.status, 200);
    assert!(text(&empty.body).contains("holds no car yet") && empty.body.contains("href=\"/cars/new\""));
    drop(open);

    let open = Open::here();
    let folder = open.folder.path().join("no-lever");
    let sheet = std::fs::read_to_string(open.folder.path().join("scree/car.toml")).unwrap();
    let mut kept = String::new();
    let mut skipping = false;
    for line in sheet.lines() {
        if line.starts_with('[') {
            skipping = line.starts_with("[lever")
                || line.starts_with("[[measured")
                || line.starts_with("[measured")
                || line.starts_with("[mount");
        }
        if !skipping {
            kept.push_str(line);
            kept.push('\n');
        }
    }
    std::fs::create_dir(&folder).unwrap();
    std::fs::write(folder.join("car.toml"), kept).unwrap();
    for room in ["assessment", "balance", "settings", "lever"] {
        let answer = open.get(&format!("/car/no-lever/{room}"));
        assert_eq!(answer.status, 200, "{room}: {}", text(&answer.body));
    }
    assert!(text(&open.get("/car/no-lever/lever").body).contains("no handbrake"));
}

#[test]
fn a_car_that_is_not_there_offers_the_nearest() {
    let open = Open::here();
    let answer = open.get("/car/tran/balance");
    assert_eq!(answer.status, 404);
    assert!(text(&answer.body).contains("tarn"), "{}", text(&answer.body));
}

#[test]
fn a_wheel_locks_in_the_picture_where_the_answer_says_so() {
    let open = Open::here();
    let mut seen = [0, 0];
    for car in ["half-known", "scree", "sedge", "tarn", "tarn-let-go"] {
        for hand in ["60", "160", "250", "400"] {
            for surface in ["", "&surface=dry%20tarmac"] {
                let page = open
                    .get(&format!("/car/{car}/lever?part=1&hand={hand}{surface}"))
                    .body;
                let (answer, plan) = page.split_once("id=\"plan\"").unwrap();
                let stops = !text(answer).contains("The rear rolls on");
                let figures = text(plan.split("class=\"as-table\"").next().unwrap());
                assert_eq!(
                    figures.contains("locks"),
                    stops,
                    "{car}, {hand} N{surface}: {} {figures}",
                    text(answer)
                );
                seen[usize::from(stops)] += 1;
            }
        }
    }
    assert!(seen[0] > 4 && seen[1] > 4, "{seen:?}");
}

#[test]
fn what_the_terminal_warns_of_the_page_warns_of() {
    let open = Open::here();
    // A step after which nobody may stop for the night.
    let next = text(&open.get("/car/tarn/plan").body);
    assert!(
        next.contains("Do not stop here: a screw left open empties") || next.contains("Do not stop here: "),
        "{next}"
    );
    // A pull in a car without a lever.
    let sheet = open.folder.path().join("tarn/car.toml");
    let text_of = std::fs::read_to_string(&sheet).unwrap();
    let without = text_of.split("\n[lever]").next().unwrap().to_owned()
        + &text_of
            .split("\n[lever]")
            .nth(1)
            .unwrap()
            .split_once("\n[")
            .map(|(_, rest)| format!("\n[{rest}"))
            .unwrap();
    std::fs::write(&sheet, without).unwrap();
    let page = open.get("/car/tarn/balance?hand=200");
    assert!(
        text(&page.body).contains("hand: has no effect: this car has no handbrake lever"),
        "{}",
        text(&page.body)
    );
    std::fs::write(&sheet, text_of).unwrap();
    // Prices of nothing.
    std::fs::write(
        open.folder.path().join("preferences.toml"),
        "[prices]\nwings = 12.5\n",
    )
    .unwrap();
    let page = open.get("/car/tarn/lines");
    assert!(
        text(&page.body).contains("for nothing that any layout of this car needs: wings"),
        "{}",
        text(&page.body)
    );
}

#[test]
fn another_set_up_has_the_same_fuel_or_it_is_said() {
    let open = Open::here();
    let page = |fuel: &str| {
        text(
            &open
                .get(&format!("/car/tarn/turn?part=1&against=bin&fuel={fuel}"))
                .body,
        )
    };
    let said = "Its tank does not hold the fuel";
    assert!(!page("10").contains(said), "{}", page("10"));
    let tank = open.get("/car/tarn/turn?fuel=full").body;
    assert!(text(&tank).contains("Will it come round?"));
    let sheet = open.folder.path().join("bin/car.toml");
    let small = std::fs::read_to_string(&sheet)
        .unwrap()
        .replacen("\"55 L\"", "\"38 L\"", 1);
    std::fs::write(&sheet, small).unwrap();
    assert!(page("45").contains(said), "{}", page("45"));
}

/// A map's cells, and those of its table for a keyboard, are ways to their runs: the word of a cell is its run's.
#[test]
fn a_cell_of_a_map_opens_its_run() {
    let open = Open::here();
    let page = open.get("/car/sedge/turn?map=2x3&fuel=20&pictures=wide").body;
    assert!(
        page.contains("id=\"turn-map\"") && !page.contains("data-player"),
        "a map plays nothing"
    );
    let cells: Vec<(String, String)> = page
        .split("<a class=\"to-run\" href=\"")
        .skip(1)
        .map(|cell| {
            let (address, rest) = cell.split_once('"').unwrap();
            let (_, rest) = rest.split_once("<title class=\"whole\">").unwrap();
            let (title, _) = rest.split_once("</title>").unwrap();
            (address.replace("&amp;", "&"), title.to_owned())
        })
        .collect();
    assert_eq!(cells.len(), 6);
    for (address, title) in [&cells[0], &cells[5]] {
        assert!(
            address.contains("speed=") && address.contains("hand=") && address.contains("fuel=20"),
            "{address}"
        );
        assert!(!address.contains("map="), "{address}");
        let (_, word) = title.split_once(": ").unwrap();
        let run = text(&open.get(&format!("{address}&part=1")).body).to_lowercase();
        assert!(run.contains(word), "{title}: {run}");
    }
    // By keyboard: the table has the same ways.
    let cells = page.split("<td data-head").skip(1);
    let inside = cells.filter_map(|cell| cell.split("</td>").next());
    let ways = inside.filter(|cell| cell.contains("/car/sedge/turn?"));
    assert_eq!(ways.count(), 6);
    // What moves on the page stays a map.
    assert!(page.contains("<input type=\"hidden\" name=\"map\" value=\"2x3\">"));
}

/// The assessment of a car that does not come round has a key to what would turn it.
#[test]
fn what_would_turn_it_is_one_key_from_the_assessment() {
    let open = Open::here();
    let page = open.get("/car/sedge/assessment").body;
    let key = page
        .split("<a class=\"key\" href=\"")
        .find(|key| key.contains(">What would turn it</a>"));
    let address = key.unwrap().split('"').next().unwrap();
    assert_eq!(address, "/car/sedge/turn");
    // In a file that stands alone nothing can be opened.
    let alone = open.get("/car/sedge/alone").body;
    assert!(alone.contains("What would turn it") && !alone.contains("href=\"/car/sedge/turn"));
}

/// Parts are tried where that could move the answer; the room for it lies open, and says what it is for.
#[test]
fn what_if_stands_where_an_answer_could_move() {
    let open = Open::here();
    let page = |room: &str| open.get(&format!("/car/tarn/{room}")).body;
    let drawer = "<details class=\"what-if\"";
    for room in ["assessment", "lever", "turn", "conditions", "lines"] {
        assert!(page(room).contains(&format!("{drawer}>")), "{room}");
    }
    for room in [
        "prove", "plan", "logbook", "logger", "pull", "symptom", "leak", "sheet",
    ] {
        assert!(!page(room).contains(drawer), "{room}");
    }
    let compare = page("compare");
    assert!(compare.contains(&format!("{drawer} open")), "{compare}");
    assert!(text(&compare).contains("Nothing tried yet"));
}

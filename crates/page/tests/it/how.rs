//! Cards of measuring: every one can be opened, from a car or from none; what is worked out goes onto the sheet.

use engine::car::Drawing;

use crate::workshop::Open;

const ON_A_CARD: &str = "/how/lever-ratio?car=tarn&key=lever.ratio";

fn sheet(open: &Open) -> String {
    std::fs::read_to_string(open.folder.path().join("tarn/car.toml")).unwrap()
}

#[test]
fn every_card_opens_from_the_list_with_its_drawing_and_its_cautions() {
    let open = Open::here();
    let list = open.get("/how").body;
    for card in questions::measuring::CARDS {
        let address = format!("/how/{}", card.name());
        assert!(list.contains(&format!("href=\"{address}\"")), "{address}");
        let answer = open.get(&address);
        assert_eq!(answer.status, 200, "{address}");
        assert!(answer.body.contains("class=\"picture measuring\""), "{address}");
        for caution in card.cautions {
            assert!(answer.body.contains(*caution), "{address}: {caution}");
        }
        for sum in card.sums {
            assert!(
                answer.body.contains(&format!("aria-label=\"{}\"", sum.title)),
                "{address}"
            );
        }
    }
    assert_eq!(list.matches("<li>").count(), Drawing::ALL.len());
    assert_eq!(open.get("/how/no-such-card").status, 404);
    assert_eq!(open.get("/how/lever-ratio?car=nobody").status, 404);
    assert_eq!(open.get("/how?car=nobody").status, 404);
    let by_car = open.get("/car/tarn/how/lever-ratio");
    assert_eq!(
        (by_car.status, by_car.header("location")),
        (303, Some("/how/lever-ratio?car=tarn"))
    );
    assert_eq!(open.get("/car/tarn/how/no-such-card").status, 404);
}

#[test]
fn a_card_says_what_the_car_has_and_leads_back() {
    let open = Open::here();
    let card = open.get(ON_A_CARD).body;
    assert!(card.contains("<strong>7.0</strong>, on the sheet"), "{card}");
    assert!(card.contains("href=\"/car/tarn/assessment\""));
    // A key that is measured in another way is not this card's.
    let other = open.get("/how/lever-ratio?car=tarn&key=pedal.ratio").body;
    assert!(!other.contains("On this car now") && other.contains("Figures that are measured so"));
    // What a sum may take from the sheet stands in its field.
    let raised = open.get("/how/raised-axle?car=tarn").body;
    assert!(raised.contains("value=\"2.61 m\""), "{raised}");
}

/// 278/62 = 4.4839; off by 1 mm and 0.5 mm: √((1/62)² + (278 · 0.5/62²)²) = √(0.0161² + 0.0362²) = 0.040.
#[test]
fn a_figure_is_worked_out_and_put_onto_the_sheet() {
    let open = Open::here();
    let worked = open
        .get(&format!("{ON_A_CARD}&sum=0&a=278+%C2%B1+1&b=62+%C2%B1+0.5"))
        .body;
    assert!(worked.contains("Put 4.48 ± 0.04 onto the sheet"), "{worked}");
    let headers = format!("Origin: http://{}\r\n", open.at);
    let form = |key: &str, was: &str, id: &str| {
        let token = open.get(ON_A_CARD).token();
        format!("token={token}&entry={id}&key={key}&value=4.48+%C2%B1+0.04&was={was}")
    };
    let to = "/car/tarn/how/lever-ratio";
    let before = sheet(&open);
    // What another had in view meanwhile is not written over.
    let stale = open.post_with(to, &headers, &form("lever.ratio", "6.0", "card-0"));
    assert_eq!(stale.status, 409);
    assert!(
        stale.body.contains("somebody changed it meanwhile"),
        "{}",
        stale.body
    );
    assert_eq!(
        open.post_with(to, &headers, &form("pedal.ratio", "4.2", "card-1"))
            .status,
        409
    );
    assert_eq!(sheet(&open), before);
    let done = open.post_with(to, &headers, &form("lever.ratio", "7.0", "card-2"));
    assert_eq!(
        (done.status, done.header("location")),
        (303, Some(ON_A_CARD)),
        "{}",
        done.body
    );
    let after = sheet(&open);
    assert!(after.contains("ratio    = \"4.48 ± 0.04\""), "{after}");
    assert_eq!(
        before.replacen("ratio    = 7.0", "ratio    = \"4.48 ± 0.04\"", 1),
        after,
        "nothing else changed"
    );
    assert!(
        open.get(ON_A_CARD)
            .body
            .contains("<strong>4.48 ± 0.04</strong>, on the sheet")
    );
    // Sent again, it is not written again.
    let again = open.post_with(to, &headers, &form("lever.ratio", "7.0", "card-2"));
    assert_eq!((again.status, sheet(&open)), (303, after));
}

#[test]
fn what_cannot_be_is_told_beside_the_fields() {
    let open = Open::here();
    let wrong = open.get(&format!("{ON_A_CARD}&sum=0&a=278&b=0"));
    assert_eq!(wrong.status, 200);
    assert!(wrong.body.contains("these readings cannot be") && wrong.body.contains("value=\"278\""));
    let markup = open
        .get(&format!("{ON_A_CARD}&sum=0&a=%3Cscript%3E&b=%22%3E%3Cb%3E"))
        .body;
    assert!(!markup.contains("<script>") && !markup.contains("\"><b>"));
}

#[test]
fn guesses_faults_and_what_to_measure_next_lead_to_their_cards() {
    let open = Open::here();
    let page = open.get("/car/tarn/assessment").body;
    let foot = page.split("Not known of this car").nth(1).unwrap();
    assert!(foot.contains("href=\"/how/"), "{foot}");
    let next = page
        .split("<li>")
        .filter(|item| item.split("</li>").next().unwrap().contains(")</span> settles "));
    assert!(next.clone().count() > 0 && next.clone().all(|item| item.contains("href=\"/how/")));
    // What is handed on opens nothing.
    assert!(!open.get("/car/tarn/alone").body.contains("/how/"));
    // A sheet that does not read.
    let path = open.folder.path().join("tarn/car.toml");
    let text = sheet(&open).replacen("ratio    = 7.0", "ratio    = 700", 1);
    std::fs::write(path, text).unwrap();
    let unread = open.get("/car/tarn/assessment");
    assert_eq!(unread.status, 422);
    assert!(
        unread
            .body
            .contains("href=\"/how/lever-ratio?car=tarn&amp;key=lever.ratio\""),
        "{}",
        unread.body
    );
    // Its card says what stands there all the same.
    assert!(
        open.get(ON_A_CARD)
            .body
            .contains("<strong>700</strong>, on the sheet")
    );
}

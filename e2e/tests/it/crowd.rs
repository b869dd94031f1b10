//! Fifty clients at once: every answer is right, and the server is there afterwards.

use std::collections::BTreeMap;
use std::sync::Arc;

use reqwest::{Client, StatusCode};
use tokio::sync::Barrier;
use tokio::task::JoinSet;

use crate::bench::{Bench, Test};
use crate::workshop::{CARS, ROOMS, SAID_TOO, Workshop, one_blank};

pub(crate) const ALL: &[Test] = &[(
    "crowd::fifty_clients_are_answered_right",
    fifty_clients_are_answered_right,
)];

const CLIENTS: usize = 50;
/// Pages that each of them asks for.
const PAGES: usize = 6;

fn fifty_clients_are_answered_right(bench: &Bench) {
    let workshop = Workshop::unanswered().serve(&[]);
    let mut paths: Vec<String> = CARS
        .iter()
        .flat_map(|car| ROOMS.iter().map(move |room| format!("/car/{car}/{room}")))
        .collect();
    paths.extend(["/", "/preferences", "/nowhere", "/car/nobody/lever"].map(str::to_owned));
    // Handles in motion, each client's its own.
    paths.extend((0..20).map(|step| {
        format!(
            "/car/tarn/settings?valve={}&part=1&pictures=wide",
            f64::from(step) / 8.0
        )
    }));
    paths.extend(
        (0..20).map(|step| format!("/car/scree/lever?hand={}&part=1&pictures=narrow", 100 + 9 * step)),
    );

    // The list is filled in behind the page: what is compared is the whole of it.
    bench.browsers.block_on(async {
        let client = Client::new();
        while asked(&client, &workshop, "/").await.1.contains("data-waits") {
            tokio::time::sleep(std::time::Duration::from_millis(50)).await;
        }
    });
    // Asked by one alone, and held against the terminal.
    let alone: BTreeMap<String, (StatusCode, String)> = bench.browsers.block_on(async {
        let client = Client::new();
        let mut answers = BTreeMap::new();
        for path in &paths {
            let answer = asked(&client, &workshop, path).await;
            let missing = path.contains("nobody") || path.contains("nowhere");
            assert_eq!(answer.0.as_u16(), if missing { 404 } else { 200 }, "{path}");
            answers.insert(path.clone(), answer);
        }
        answers
    });
    for car in CARS {
        for (room, verb) in SAID_TOO {
            let page = &alone[&format!("/car/{car}/{room}")].1;
            let sentence = sentence(page);
            let terminal = workshop.terminal(&[verb, car]).replace('`', "");
            assert!(
                sentence.len() > 10 && terminal.contains(&sentence),
                "{car}, {room}: {sentence:?}"
            );
        }
    }

    let wrong: Vec<String> = bench.browsers.block_on(async {
        let begin = Arc::new(Barrier::new(CLIENTS));
        let mut clients = JoinSet::new();
        for number in 0..CLIENTS {
            // A prime stride: every client in another order, every page by many.
            let mine: Vec<(String, String)> = (0..PAGES)
                .map(|turn| paths[(number * 7 + turn * 13) % paths.len()].clone())
                .map(|path| (workshop.address(&path), path))
                .collect();
            let begin = Arc::clone(&begin);
            clients.spawn(async move {
                let client = Client::new();
                begin.wait().await;
                let mut got = Vec::new();
                for (address, path) in mine {
                    // Whoever waits too long on a loaded machine is told so, and asks again.
                    let mut answer = Err("never answered in time".to_owned());
                    for _ in 0..20 {
                        answer = match client.get(&address).send().await {
                            Ok(answer) => Ok((
                                answer.status(),
                                timeless(&answer.text().await.unwrap_or_default()),
                            )),
                            Err(fault) => Err(fault.to_string()),
                        };
                        if !matches!(&answer, Ok((StatusCode::REQUEST_TIMEOUT, _))) {
                            break;
                        }
                    }
                    got.push((path, answer));
                }
                got
            });
        }
        let got = clients.join_all().await.into_iter().flatten().collect::<Vec<_>>();
        assert_eq!(got.len(), CLIENTS * PAGES);
        got.into_iter()
            .filter(|(path, answer)| answer.as_ref().ok() != Some(&alone[path]))
            .map(|(path, answer)| format!("{path}: {:?}", answer.map(|(status, _)| status)))
            .collect()
    });
    assert!(
        wrong.is_empty(),
        "{} answers are not those given to one alone: {wrong:#?}",
        wrong.len()
    );
    assert!(workshop.lives());
    let after = bench.browsers.block_on(asked(&Client::new(), &workshop, "/"));
    assert_eq!(after, alone["/"]);
}

async fn asked(client: &Client, workshop: &Workshop, path: &str) -> (StatusCode, String) {
    let answer = client.get(workshop.address(path)).send().await.unwrap();
    (answer.status(), timeless(&answer.text().await.unwrap()))
}

/// Without the ids that every page hands out anew for what may be written on it.
fn timeless(page: &str) -> String {
    const ID: &str = "name=\"entry\" value=\"";
    let mut parts = page.split(ID);
    let mut text = parts.next().unwrap_or_default().to_owned();
    for part in parts {
        text.push_str(ID);
        text.push_str(part.split_once('"').map_or("", |(_, rest)| rest));
    }
    text
}

/// The answer's first sentence, as it reads.
fn sentence(page: &str) -> String {
    let (_, from) = page.split_once("class=\"sentence\">").unwrap();
    let (inner, _) = from.split_once("</p>").unwrap();
    let mut text = String::new();
    let mut within = false;
    for letter in inner.chars() {
        match letter {
            '<' => within = true,
            '>' => within = false,
            _ if !within => text.push(letter),
            _ => {}
        }
    }
    let text = text
        .replace("&lt;", "<")
        .replace("&gt;", ">")
        .replace("&quot;", "\"")
        .replace("&amp;", "&");
    one_blank(&text)
}

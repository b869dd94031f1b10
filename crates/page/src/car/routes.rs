//! From an address to a page.

use core::time::Duration;
use std::sync::Arc;

use axum::extract::{DefaultBodyLimit, Extension, Path, RawQuery, Request, State};
use axum::http::{HeaderMap, Method, StatusCode, Uri};
use axum::middleware::Next;
use axum::response::{IntoResponse as _, Redirect, Response};
use axum::routing::{get, post};
use axum::{Router, middleware};
use percent_encoding::percent_decode_str;
use questions::Stop;
use tower_http::CompressionLevel;
use tower_http::catch_panic::CatchPanicLayer;
use tower_http::compression::CompressionLayer;
use tower_http::compression::predicate::{And, NotForContentType, Predicate as _, SizeAbove};
use tower_http::timeout::TimeoutLayer;

use super::address::path;
use super::asking::Asking;
use super::desk::{Desk, answered, answered_at_once, answered_in_turn, answered_listed};
use super::on_the_car::Part;
use super::visit::{Refused, Visit, folder};
use super::writing::Writing;
use super::{
    book, card, cars, choices, devices, files, handed_on, how, logs, new_car, on_the_car, report, rooms,
    stands, studying, unread, workings,
};
use crate::shell::{assets, frame, parts, trouble};
use crate::web::guard::{Caller, Reach, Sent, SentFile, forbid, guard, guard_of_files};
use crate::web::socket::ServerLimits;

/// Every address there is. A request that is not whole and answered within that time is refused; of a file each piece has to
/// arrive in time.
pub(crate) fn router(desk: Arc<Desk>, limits: ServerLimits) -> Router {
    let files = (Arc::clone(&desk.gate), limits.reads_within);
    let files = Router::new()
        .route("/car/{car}/logs", post(take_in))
        .layer(DefaultBodyLimit::max(logs::LARGEST_SENT))
        .layer(middleware::from_fn_with_state(files, guard_of_files))
        .layer(Extension(limits));
    layered(table(), files, desk, limits.answered_within)
}

fn table() -> Router<Arc<Desk>> {
    Router::new()
        .route("/", get(list))
        .route("/rows", get(some_rows))
        .route("/cars", post(add).get(async || Redirect::to("/")))
        .route("/cars/new", get(new_car))
        .route("/cars/bring", get(bring).post(brought))
        .route("/car/{car}", get(door))
        .route("/car/{car}/alone", get(alone))
        .route("/car/{car}/working/{figure}", get(working))
        .route("/car/{car}/stands", get(how_it_stands))
        .route("/car/{car}/far", get(how_far))
        .route(
            "/car/{car}/how/{card}",
            post(put).get(async |Path((car, card)): Path<(String, String)>| how::by_car(&car, &card)),
        )
        .route("/car/{car}/sheet", get(figures).post(change_sheet))
        .route("/car/{car}/sheet/{figure}", get(figure).post(change_figure))
        .route("/car/{car}/sheet/{figure}/check", get(check_figure))
        .route("/car/{car}/several/{name}", get(several).post(change_several))
        .route("/car/{car}/text", get(text).post(change_text))
        .route("/car/{car}/files", get(files).post(change_files))
        .route("/car/{car}/book.pdf", get(book_pdf))
        .route("/car/{car}/book", get(door).post(print_book))
        .route("/car/{car}/{room}", get(room).post(write))
        .route("/stands", get(all_stand))
        .route("/how", get(hows))
        .route("/how/{card}", get(how_to))
        .route("/preferences", get(choose).post(keep))
        .route("/devices", get(paired))
        .route("/devices/forget", post(forget))
        .route("/pair", get(pairing).post(pair))
        .route(assets::PAIRING_STYLE_PATH, get(assets::pairing_style))
        .route(assets::PAIRING_SCRIPT_PATH, get(assets::pairing_script))
        .route(assets::ICON_PATH, get(assets::icon))
        .route(assets::MANIFEST_PATH, get(assets::manifest))
        .route(assets::HOME_PATHS[0], get(assets::home_small))
        .route(assets::HOME_PATHS[1], get(assets::home_large))
        .route(assets::style_path(), get(assets::style))
        .route(assets::script_path(), get(assets::script))
        .fallback(async || trouble::nowhere())
        .method_not_allowed_fallback(async || {
            trouble::plain(
                StatusCode::METHOD_NOT_ALLOWED,
                "that cannot be done here",
                "go back, or to the list of cars",
            )
        })
}

fn layered(table: Router<Arc<Desk>>, files: Router<Arc<Desk>>, desk: Arc<Desk>, within: Duration) -> Router {
    let telling = Arc::clone(&desk);
    let reach = desk.gate.reach;
    let router = table
        .layer(middleware::from_fn_with_state(Arc::clone(&desk.gate), guard))
        .layer(TimeoutLayer::with_status_code(
            StatusCode::REQUEST_TIMEOUT,
            within,
        ))
        .merge(files)
        .layer(middleware::from_fn_with_state(Arc::clone(&desk), wants_anew))
        .layer(CatchPanicLayer::custom(move |_| {
            telling.tell("a page could not be made: a fault of rearline's own");
            trouble::of_ours()
        }))
        .layer(middleware::from_fn(forbid))
        .with_state(desk);
    match reach {
        Reach::ThisMachine => router,
        Reach::Network => router.layer(packed()),
    }
}

/// What is sent over a network is packed: text alone, for a picture or a book is packed already. On this machine the wire
/// costs nothing, and packing does.
///
/// Packing what holds both a secret and something that a stranger chose can tell the secret by its length. Here no stranger
/// can choose: another site's request brings no cookie (`SameSite=Strict`), so that it is answered as an unpaired device's,
/// without a token; and nobody but the page itself can read how long an answer was, or send one again and again.
/// Whoever listens to the network itself reads all of it anyway, as the start says.
fn packed() -> CompressionLayer<Packs> {
    CompressionLayer::new()
        .quality(CompressionLevel::Precise(PACKED))
        .compress_when(SizeAbove::new(PACKED_FROM).and(NotForContentType::const_new("application/pdf")))
}

/// Which answers are packed.
type Packs = And<SizeAbove, NotForContentType>;

/// How hard: harder costs more time than a workshop's network saves.
const PACKED: i32 = 5;

/// Fewer bytes fit in one packet of a network as they are.
const PACKED_FROM: u64 = 1200;

/// After a change of a car its answer in the list is wanted anew.
async fn wants_anew(State(desk): State<Arc<Desk>>, request: Request, next: Next) -> Response {
    let changed = (request.method() == Method::POST)
        .then(|| {
            request
                .uri()
                .path()
                .strip_prefix("/car/")?
                .split('/')
                .next()
                .map(str::to_owned)
        })
        .flatten();
    let response = next.run(request).await;
    if let Some(car) = changed {
        let name = percent_decode_str(&car).decode_utf8_lossy().into_owned();
        desk.board.want([name]);
    }
    response
}

async fn list(
    State(desk): State<Arc<Desk>>,
    Extension(caller): Extension<Caller>,
    RawQuery(query): RawQuery,
) -> Response {
    answered_listed(desk, move |desk| {
        cars::list(desk, &caller, query.as_deref().unwrap_or_default())
    })
    .await
}

/// Rows of the list that were not answered.
async fn some_rows(State(desk): State<Arc<Desk>>, RawQuery(query): RawQuery) -> Response {
    answered_listed(desk, move |desk| {
        cars::some(desk, query.as_deref().unwrap_or_default())
    })
    .await
}

async fn add(
    State(desk): State<Arc<Desk>>,
    Extension(caller): Extension<Caller>,
    Extension(sent): Extension<Sent>,
) -> Response {
    answered(desk, move |desk| new_car::add(desk, &caller, &sent)).await
}

async fn new_car(State(desk): State<Arc<Desk>>, Extension(caller): Extension<Caller>) -> Response {
    answered(desk, move |_| new_car::form(&caller)).await
}

async fn bring(State(desk): State<Arc<Desk>>, Extension(caller): Extension<Caller>) -> Response {
    answered(desk, move |_| on_the_car::bring(&caller)).await
}

async fn brought(
    State(desk): State<Arc<Desk>>,
    Extension(caller): Extension<Caller>,
    Extension(sent): Extension<Sent>,
) -> Response {
    answered(desk, move |desk| on_the_car::brought(desk, &caller, &sent)).await
}

/// The room of all figures, of a car whose sheet reads.
fn whole_room(visit: &Visit<'_>, refused: Option<&questions::Wrong>) -> maud::Markup {
    card::room(visit, &rooms::sheet::OnTheCar, refused)
}

/// A page of what is on the car.
async fn show(desk: Arc<Desk>, caller: Caller, car: String, query: Option<String>, part: Part) -> Response {
    answered_in_turn(desk, move |desk| {
        let query = query.as_deref().unwrap_or_default();
        on_the_car::show(desk, &caller, &car, query, &part, whole_room)
    })
    .await
}

/// A form of it.
async fn put_onto_sheet(
    desk: Arc<Desk>,
    caller: Caller,
    car: String,
    part: Part,
    sent: Sent,
    headers: HeaderMap,
) -> Response {
    let in_place = headers.contains_key("x-in-place");
    answered(desk, move |desk| {
        let form = on_the_car::Form {
            part: &part,
            sent: &sent,
            in_place,
        };
        on_the_car::write(desk, &caller, &car, form, whole_room)
    })
    .await
}

async fn figures(
    State(desk): State<Arc<Desk>>,
    Extension(caller): Extension<Caller>,
    Path(car): Path<String>,
    RawQuery(query): RawQuery,
) -> Response {
    show(desk, caller, car, query, Part::All).await
}

async fn change_sheet(
    State(desk): State<Arc<Desk>>,
    Extension(caller): Extension<Caller>,
    Extension(sent): Extension<Sent>,
    Path(car): Path<String>,
    headers: HeaderMap,
) -> Response {
    put_onto_sheet(desk, caller, car, Part::All, sent, headers).await
}

async fn figure(
    State(desk): State<Arc<Desk>>,
    Extension(caller): Extension<Caller>,
    Path((car, figure)): Path<(String, String)>,
) -> Response {
    show(desk, caller, car, None, Part::Figure(figure)).await
}

async fn change_figure(
    State(desk): State<Arc<Desk>>,
    Extension(caller): Extension<Caller>,
    Extension(sent): Extension<Sent>,
    Path((car, figure)): Path<(String, String)>,
    headers: HeaderMap,
) -> Response {
    put_onto_sheet(desk, caller, car, Part::Figure(figure), sent, headers).await
}

async fn check_figure(
    State(desk): State<Arc<Desk>>,
    Extension(caller): Extension<Caller>,
    Path((car, figure)): Path<(String, String)>,
    RawQuery(query): RawQuery,
) -> Response {
    answered(desk, move |desk| {
        on_the_car::check(desk, &caller, &car, &figure, query.as_deref().unwrap_or_default())
    })
    .await
}

async fn several(
    State(desk): State<Arc<Desk>>,
    Extension(caller): Extension<Caller>,
    Path((car, name)): Path<(String, String)>,
) -> Response {
    show(desk, caller, car, None, Part::Several(name)).await
}

async fn change_several(
    State(desk): State<Arc<Desk>>,
    Extension(caller): Extension<Caller>,
    Extension(sent): Extension<Sent>,
    Path((car, name)): Path<(String, String)>,
    headers: HeaderMap,
) -> Response {
    put_onto_sheet(desk, caller, car, Part::Several(name), sent, headers).await
}

async fn text(
    State(desk): State<Arc<Desk>>,
    Extension(caller): Extension<Caller>,
    Path(car): Path<String>,
) -> Response {
    show(desk, caller, car, None, Part::Text).await
}

async fn change_text(
    State(desk): State<Arc<Desk>>,
    Extension(caller): Extension<Caller>,
    Extension(sent): Extension<Sent>,
    Path(car): Path<String>,
    headers: HeaderMap,
) -> Response {
    put_onto_sheet(desk, caller, car, Part::Text, sent, headers).await
}

async fn files(
    State(desk): State<Arc<Desk>>,
    Extension(caller): Extension<Caller>,
    Path(car): Path<String>,
) -> Response {
    answered(desk, move |desk| files::page(desk, &caller, &car)).await
}

async fn change_files(
    State(desk): State<Arc<Desk>>,
    Extension(caller): Extension<Caller>,
    Extension(sent): Extension<Sent>,
    Path(car): Path<String>,
) -> Response {
    answered(desk, move |desk| files::write(desk, &caller, &car, &sent)).await
}

async fn take_in(
    State(desk): State<Arc<Desk>>,
    Extension(caller): Extension<Caller>,
    Extension(sent): Extension<SentFile>,
    Extension(limits): Extension<ServerLimits>,
    Path(car): Path<String>,
    headers: HeaderMap,
) -> Response {
    logs::take_in(desk, caller, car, sent, limits.reads_within, headers).await
}

async fn door(Path(car): Path<String>, RawQuery(query): RawQuery) -> Redirect {
    let query = query.map_or_else(String::new, |query| format!("?{query}"));
    Redirect::to(&format!("{}{query}", path(&car, "assessment")))
}

/// A car, entered as the address asks; or why not, as a page.
fn entered(
    desk: &Desk,
    caller: &Caller,
    car: &str,
    query: &str,
    answer: impl FnOnce(&Visit<'_>) -> Response,
) -> Response {
    match Visit::enter(desk, caller, car, query) {
        Ok(visit) => answer(&visit),
        Err(Refused::Sheet(sheet, faults, stands)) => (
            StatusCode::UNPROCESSABLE_ENTITY,
            unread::sheet(&sheet, &faults, caller, &stands),
        )
            .into_response(),
        Err(Refused::Stop(stop)) => trouble::stop(&stop, caller),
    }
}

async fn room(
    State(desk): State<Arc<Desk>>,
    Extension(caller): Extension<Caller>,
    Path((car, room)): Path<(String, String)>,
    RawQuery(query): RawQuery,
    uri: Uri,
) -> Response {
    let Some(room) = rooms::named(&room) else {
        return trouble::nowhere();
    };
    // A handle that moves waits for nobody's draws.
    let moves = Asking::read(query.as_deref().unwrap_or_default()).is_ok_and(|asking| asking.part);
    let page = move |desk: &Desk| {
        entered(
            desk,
            &caller,
            &car,
            query.as_deref().unwrap_or_default(),
            |visit| {
                if visit.asking.part {
                    return card::part(visit, room).into_response();
                }
                if visit.asking.roundabout && visit.wrong.is_none() {
                    return Redirect::to(&format!("{}{}", uri.path(), visit.asking.query())).into_response();
                }
                let status = if visit.wrong.is_some() {
                    StatusCode::BAD_REQUEST
                } else {
                    StatusCode::OK
                };
                (status, card::room(visit, room, None)).into_response()
            },
        )
    };
    if moves {
        answered_at_once(desk, page).await
    } else {
        answered_in_turn(desk, page).await
    }
}

/// A form of a room: written, then the room again; or the room with what is wrong. The page's own script is told in a line.
async fn write(
    State(desk): State<Arc<Desk>>,
    Extension(caller): Extension<Caller>,
    Extension(sent): Extension<Sent>,
    Path((car, room)): Path<(String, String)>,
    RawQuery(query): RawQuery,
    headers: HeaderMap,
    uri: Uri,
) -> Response {
    let Some(room) = rooms::named(&room) else {
        return trouble::nowhere();
    };
    let in_place = headers.contains_key("x-in-place");
    answered(desk, move |desk| {
        let told = |stop: &Stop, visit: Option<&Visit<'_>>| match (stop, visit) {
            (Stop::Wrong(wrong), _) if in_place => {
                (StatusCode::CONFLICT, parts::wrong(wrong)).into_response()
            }
            (Stop::Wrong(wrong), Some(visit)) => {
                (StatusCode::CONFLICT, card::room(visit, room, Some(wrong))).into_response()
            }
            (_, Some(visit)) if !in_place => {
                let (status, wrong) = trouble::told(stop);
                (status, card::room(visit, room, Some(wrong))).into_response()
            }
            _ if in_place => {
                let (status, wrong) = trouble::told(stop);
                (status, parts::wrong(wrong)).into_response()
            }
            _ => trouble::stop(stop, &caller),
        };
        let folder = match folder(desk, &car) {
            Ok(folder) => folder,
            Err(stop) => return told(&stop, None),
        };
        // A car whose sheet does not read takes entries too.
        let entered = Visit::enter(desk, &caller, &car, query.as_deref().unwrap_or_default());
        let visit = entered.as_ref().ok();
        let written =
            Writing::begin(desk, &caller, &folder, visit, &sent).and_then(|writing| room.write(&writing));
        match written {
            Ok(entries) if in_place => {
                let entries: Vec<String> = entries.iter().map(i64::to_string).collect();
                entries.join(" ").into_response()
            }
            Ok(_) => {
                let query = visit.map_or_else(String::new, |visit| visit.asking.query());
                Redirect::to(&format!("{}{query}", uri.path())).into_response()
            }
            Err(stop) => told(&stop, visit),
        }
    })
    .await
}

/// How the files of a page stand now.
async fn how_it_stands(
    State(desk): State<Arc<Desk>>,
    Path(car): Path<String>,
    RawQuery(query): RawQuery,
) -> Response {
    answered(desk, move |desk| {
        let asking = Asking::read(query.as_deref().unwrap_or_default()).unwrap_or_default();
        stands::of_car(desk, &car, &asking).word.into_response()
    })
    .await
}

/// How far a study is that is made aside.
async fn how_far(
    State(desk): State<Arc<Desk>>,
    Path(car): Path<String>,
    RawQuery(query): RawQuery,
) -> Response {
    answered(desk, move |desk| {
        studying::how_far(desk, &car, query.as_deref().unwrap_or_default()).into_response()
    })
    .await
}

async fn all_stand(State(desk): State<Arc<Desk>>, RawQuery(query): RawQuery) -> Response {
    answered_listed(desk, move |desk| {
        cars::how_they_stand(desk, query.as_deref().unwrap_or_default())
    })
    .await
}

async fn alone(
    State(desk): State<Arc<Desk>>,
    Extension(caller): Extension<Caller>,
    Path(car): Path<String>,
    RawQuery(query): RawQuery,
) -> Response {
    answered_in_turn(desk, move |desk| {
        entered(
            desk,
            &caller,
            &car,
            query.as_deref().unwrap_or_default(),
            handed_on::file,
        )
    })
    .await
}

async fn print_book(
    State(desk): State<Arc<Desk>>,
    Extension(caller): Extension<Caller>,
    Path(car): Path<String>,
) -> Response {
    answered_in_turn(desk, move |desk| book::print(desk, &caller, &car)).await
}

async fn book_pdf(
    State(desk): State<Arc<Desk>>,
    Extension(caller): Extension<Caller>,
    Path(car): Path<String>,
) -> Response {
    answered(desk, move |desk| book::pdf(desk, &caller, &car)).await
}

async fn working(
    State(desk): State<Arc<Desk>>,
    Extension(caller): Extension<Caller>,
    Path((car, figure)): Path<(String, String)>,
    RawQuery(query): RawQuery,
    headers: HeaderMap,
) -> Response {
    if !workings::is_explained(&figure) {
        return trouble::nowhere();
    }
    let in_place = headers.contains_key("x-in-place");
    answered_in_turn(desk, move |desk| {
        entered(desk, &caller, &car, query.as_deref().unwrap_or_default(), |visit| {
            let found = handed_on::asked(visit).and_then(|asked| asked.working(&figure));
            let told = found.map(|found| questions::working::report(&visit.case(), &found));
            let shown = told.as_ref().map_or_else(
                || maud::html! { p { "This car has no such figure in this state. Nothing locks, or no knee gives the wish, or a valve caps the pressure. Or a cable moves no fluid, or a latch outlasts the night." } },
                |told| report::without_heads(visit, told),
            );
            if in_place {
                return shown.into_response();
            }
            let back = rooms::of_figure(&figure);
            let main = maud::html! {
                @if let Some(told) = &told { (report::answer_alone(told)) }
                p class="state" { (visit.opened.car().name) ". " (questions::state_in_words(&visit.opened, &visit.units)) }
                (shown)
                p class="keys" { a class="key" href={ (path(visit.name(), back.slug())) (visit.asking.query()) } { (back.question()) } }
            };
            frame::plain("How did it come about?", &caller.token, Some(&visit.stands), &main).into_response()
        })
    })
    .await
}

async fn hows(
    State(desk): State<Arc<Desk>>,
    Extension(caller): Extension<Caller>,
    RawQuery(query): RawQuery,
) -> Response {
    answered(desk, move |desk| {
        how::list(desk, &caller, query.as_deref().unwrap_or_default())
    })
    .await
}

async fn how_to(
    State(desk): State<Arc<Desk>>,
    Extension(caller): Extension<Caller>,
    Path(card): Path<String>,
    RawQuery(query): RawQuery,
) -> Response {
    answered(desk, move |desk| {
        how::card(desk, &caller, &card, query.as_deref().unwrap_or_default())
    })
    .await
}

async fn put(
    State(desk): State<Arc<Desk>>,
    Extension(caller): Extension<Caller>,
    Extension(sent): Extension<Sent>,
    Path((car, card)): Path<(String, String)>,
) -> Response {
    answered(desk, move |desk| how::put(desk, &caller, &car, &card, &sent)).await
}

async fn choose(State(desk): State<Arc<Desk>>, Extension(caller): Extension<Caller>) -> Response {
    answered(desk, move |desk| choices::form(desk, &caller)).await
}

async fn keep(
    State(desk): State<Arc<Desk>>,
    Extension(caller): Extension<Caller>,
    Extension(sent): Extension<Sent>,
) -> Response {
    answered(desk, move |desk| choices::keep(desk, &caller, &sent)).await
}

async fn paired(State(desk): State<Arc<Desk>>, Extension(caller): Extension<Caller>) -> Response {
    answered(desk, move |desk| devices::list(desk, &caller)).await
}

async fn forget(State(desk): State<Arc<Desk>>, Extension(sent): Extension<Sent>) -> Response {
    answered(desk, move |desk| devices::forget(desk, &sent)).await
}

async fn pairing(
    State(desk): State<Arc<Desk>>,
    Extension(caller): Extension<Caller>,
    RawQuery(query): RawQuery,
) -> Response {
    answered(desk, move |desk| {
        devices::form(desk, &caller, query.as_deref().unwrap_or_default())
    })
    .await
}

async fn pair(
    State(desk): State<Arc<Desk>>,
    Extension(caller): Extension<Caller>,
    Extension(sent): Extension<Sent>,
) -> Response {
    answered(desk, move |desk| devices::pair(desk, &caller, &sent)).await
}

#[cfg(test)]
mod tests {
    use std::sync::Mutex;

    use axum::body::{Body, to_bytes};
    use axum::http::Request;
    use questions::sure::TurnStudy;
    use tower::ServiceExt as _;

    use super::super::desk::Workshop;
    use super::super::row;
    use super::*;
    use crate::web::guard::{Ends, Gate};
    use crate::web::pairing::Pairing;
    use crate::web::socket::ServerLimits;

    static TOLD: Mutex<Vec<String>> = Mutex::new(Vec::new());

    fn desk(folder: &std::path::Path) -> Arc<Desk> {
        let workshop = Workshop {
            cars: folder.to_path_buf(),
            units: None,
            reach: Reach::ThisMachine,
            limits: ServerLimits::default(),
            today: || engine::car::Date::constant(2026, 5, 1),
            stamp: |_, _| Err(records::Fault::NoReason),
            build: "test".to_owned(),
            press: None,
            tell: Box::new(|text| TOLD.lock().unwrap().push(text.to_owned())),
        };
        let gate = Gate {
            reach: workshop.reach,
            pairing: Pairing::new(folder).unwrap(),
            addresses: Vec::new(),
            open: assets::is_open,
            refused: trouble::refusal,
        };
        Arc::new(Desk::new(workshop, gate))
    }

    async fn got(router: &Router, path: &str) -> (StatusCode, String) {
        let mut request = Request::get(path)
            .header("host", "127.0.0.1:7410")
            .body(Body::empty())
            .unwrap();
        request.extensions_mut().insert(Ends {
            here: "127.0.0.1:7410".parse().unwrap(),
        });
        let response = router.clone().oneshot(request).await.unwrap();
        let status = response.status();
        let body = to_bytes(response.into_body(), usize::MAX).await.unwrap();
        (status, String::from_utf8(body.to_vec()).unwrap())
    }

    /// A folder of cars that are copies of one, every one of them answered.
    fn answered_cars(folder: &std::path::Path, many: usize) -> Arc<Desk> {
        let sheet = include_str!("../../../../demo/tarn/car.toml");
        for number in 0..many {
            let car = folder.join(format!("car-{number:03}"));
            std::fs::create_dir(&car).unwrap();
            std::fs::write(car.join("car.toml"), sheet).unwrap();
        }
        let desk = desk(folder);
        let cars = desk.cars().unwrap();
        let first = cars.named("car-000").unwrap();
        let (answer, row) = row::made(first, &desk.made_for()).unwrap();
        let names: Vec<String> = (0..many).map(|number| format!("car-{number:03}")).collect();
        for name in &names {
            let car = name.clone();
            desk.board.take_in(
                &cars,
                records::KeptAnswer {
                    car,
                    ..answer.clone()
                },
                row.clone(),
            );
        }
        desk.board.keep(&cars, &names);
        desk
    }

    /// The same folder, as another run of the program finds it.
    fn another_run(folder: &std::path::Path) -> Arc<Desk> {
        desk(folder)
    }

    fn served(desk: &Arc<Desk>) -> Router {
        layered(table(), Router::new(), Arc::clone(desk), Duration::from_secs(60))
    }

    fn rows(page: &str) -> usize {
        page.matches("class=\"one-car\"").count()
    }

    #[tokio::test]
    async fn a_list_opens_no_car_that_it_knows_and_shows_fifty() {
        let folder = tempfile::tempdir().unwrap();
        let desk = answered_cars(folder.path(), 120);
        let router = served(&desk);
        let (status, first) = got(&router, "/").await;
        assert_eq!((status, rows(&first)), (StatusCode::OK, 50));
        assert!(
            first.contains("120 cars.") && first.contains("Page 1 of 3") && !first.contains("data-waits")
        );
        assert!(first.len() < 100_000, "{} bytes", first.len());
        let (_, last) = got(&router, "/?sort=verdict&page=3").await;
        assert!(
            rows(&last) == 20
                && last.contains("car-119")
                && last.contains("Sorted by answers as of 2026-05-01")
        );
        let (_, found) = got(&router, "/?search=R-11&sort=due").await;
        assert!(rows(&found) == 10 && found.contains("10 of 120 cars"), "{found}");
        assert_eq!(desk.counts.all(), (0, 0, 0), "nothing was opened");

        // Another run finds all of it on the disk.
        let again = another_run(folder.path());
        assert_eq!(
            got(&served(&again), "/").await.1.matches("car-0").count(),
            first.matches("car-0").count()
        );
        assert_eq!(again.counts.all(), (0, 0, 0));

        // One that changed says so, and what it was; a new one says what its sheet calls it. No other is opened.
        let sheet = folder.path().join("car-001/car.toml");
        let text = std::fs::read_to_string(&sheet).unwrap();
        std::fs::write(&sheet, format!("{text}\n")).unwrap();
        std::fs::create_dir(folder.path().join("a-new-one")).unwrap();
        std::fs::write(folder.path().join("a-new-one/car.toml"), &text).unwrap();
        let (_, page) = got(&router, "/").await;
        assert_eq!(page.matches("data-waits").count(), 2);
        assert!(page.contains("As of 2026-05-01.") && page.contains("its sheet has changed"));
        assert!(page.contains("Not answered yet.") && page.contains("1 not answered yet."));
        assert_eq!(desk.counts.all(), (1, 0, 0));
        assert_eq!(
            desk.board.next(),
            (vec!["a-new-one".to_owned(), "car-001".to_owned()], true)
        );
    }

    #[tokio::test]
    async fn what_is_kept_is_never_trusted_over_the_files_and_made_anew_when_damaged() {
        let folder = tempfile::tempdir().unwrap();
        let kept = answered_cars(folder.path(), 3);
        let file = folder.path().join(".answers");
        assert!(file.is_file());
        drop(kept);
        for damage in [&b"no database"[..], b"", b"SQLite format 3\0 and no more of it"] {
            std::fs::write(&file, damage).unwrap();
            let desk = desk(folder.path());
            let (status, page) = got(&served(&desk), "/").await;
            assert_eq!((status, page.matches("data-waits").count()), (StatusCode::OK, 3));
            // What is made then is kept again.
            let cars = desk.cars().unwrap();
            let (answer, row) = row::made(cars.named("car-002").unwrap(), &desk.made_for()).unwrap();
            desk.board.take_in(&cars, answer, row);
            desk.board.keep(&cars, &["car-002".to_owned()]);
            let again = another_run(folder.path());
            assert_eq!(got(&served(&again), "/").await.1.matches("data-waits").count(), 2);
        }
        // Another day on which nothing falls due is none; other units are.
        let desk = desk(folder.path());
        std::fs::write(folder.path().join("preferences.toml"), "units = \"psi\"\n").unwrap();
        let (_, page) = got(&served(&desk), "/").await;
        assert!(page.contains("units or program have changed"), "{page}");
    }

    #[tokio::test]
    async fn a_handle_opens_one_car_and_reads_its_logbook_once() {
        let folder = tempfile::tempdir().unwrap();
        let desk = answered_cars(folder.path(), 1);
        let router = served(&desk);
        let cars = desk.cars().unwrap();
        let car = cars.named("car-000").unwrap();
        let mut book =
            records::logbook::Logbook::open_or_create(&car.logbook(), records::logbook::WAIT).unwrap();
        let mut note = |number: usize| {
            let at = "2026-05-01T10:00:00Z".parse().unwrap();
            let kind = records::logbook::EntryKind::Note;
            let stamp =
                records::logbook::Stamp::new(at, jiff::tz::Offset::UTC, "t", &format!("n{number}")).unwrap();
            let data = records::logbook::Data::with_text(&format!("note {number} of many"), None).unwrap();
            book.append(&records::logbook::Draft { stamp, kind, data })
                .unwrap();
        };
        (0..130).for_each(&mut note);
        for hand in 100..105 {
            let path = format!("/car/car-000/lever?hand={hand}&part=1&pictures=wide");
            assert_eq!(got(&router, &path).await.0, StatusCode::OK);
        }
        assert_eq!(desk.counts.all(), (5, 1, 0));
        // Forty entries a page, and one to know that there are more.
        let (_, page) = got(&router, "/car/car-000/logbook").await;
        assert_eq!(page.matches("class=\"entry\"").count(), 40);
        assert_eq!(desk.counts.all(), (6, 1, 41));
        assert!(page.contains("note 129 of many") && !page.contains("note 89 of many"));
        assert!(page.contains("before=91#entries"));
        let (_, older) = got(&router, "/car/car-000/logbook?before=91").await;
        assert!(older.contains("note 89 of many") && older.contains("The newest"));
        let (_, last) = got(&router, "/car/car-000/logbook?before=11").await;
        assert!(last.matches("class=\"entry\"").count() == 10 && !last.contains("Older than"));
        // What is looked for is found wherever it stands.
        let (_, found) = got(&router, "/car/car-000/logbook?words=NOTE+7+of&entries=note").await;
        assert_eq!(found.matches("class=\"entry\"").count(), 1);
        // Once somebody has written, all of it is read again.
        let before = desk.counts.all().1;
        note(130);
        assert!(
            got(&router, "/car/car-000/logbook")
                .await
                .1
                .contains("note 130 of many")
        );
        assert_eq!(desk.counts.all().1, before + 1);
    }

    #[tokio::test]
    async fn a_study_is_made_aside_and_kept_until_its_sheet_changes() {
        let folder = tempfile::tempdir().unwrap();
        let desk = answered_cars(folder.path(), 1);
        let router = served(&desk);
        // A car that makes no turn is soon studied.
        let sheet = folder.path().join("car-000/car.toml");
        let text = include_str!("../../../../demo/half-known/car.toml");
        let (before, behind) = text.split_once("\n[lever]\n").unwrap();
        let (_, behind) = behind.split_once("\n[").unwrap();
        std::fs::write(&sheet, format!("{before}\n[{behind}")).unwrap();
        let far = "/car/car-000/far?turn=on";
        assert_eq!(got(&router, far).await.1, "made", "nobody has asked for it");
        let asking = Asking::read("turn=on").unwrap();
        let study = || {
            let stands = stands::of_car(&desk, "car-000", &asking);
            studying::of_car(&desk, "car-000", &asking, &stands)
        };
        assert!(matches!(study(), TurnStudy::UnderWay(_)));
        assert_eq!(got(&router, far).await.1, "0.000");
        let making = tokio::spawn(studying::make(Arc::clone(&desk)));
        while got(&router, far).await.1 != "made" {
            tokio::task::yield_now().await;
        }
        assert!(matches!(study(), TurnStudy::Made(made) if made.is_err()));
        let text = std::fs::read_to_string(&sheet).unwrap();
        std::fs::write(&sheet, format!("{text}\n# another\n")).unwrap();
        assert!(matches!(study(), TurnStudy::UnderWay(_)), "of another sheet");
        making.abort();
    }

    #[tokio::test]
    async fn what_another_device_may_keep_says_so() {
        let folder = tempfile::tempdir().unwrap();
        let router = served(&desk(folder.path()));
        for (path, kept) in [
            (assets::style_path(), "private, max-age=31536000, immutable"),
            (assets::script_path(), "private, max-age=31536000, immutable"),
            (assets::PAIRING_STYLE_PATH, "no-store"),
            ("/", "no-store"),
            ("/nowhere", "no-store"),
        ] {
            let mut request = Request::get(path)
                .header("host", "127.0.0.1:7410")
                .body(Body::empty())
                .unwrap();
            request.extensions_mut().insert(Ends {
                here: "127.0.0.1:7410".parse().unwrap(),
            });
            let response = router.clone().oneshot(request).await.unwrap();
            assert_eq!(response.headers()["cache-control"], kept, "{path}");
        }
    }

    #[tokio::test]
    async fn what_falls_over_answers_500_is_told_and_the_rest_goes_on() {
        let folder = tempfile::tempdir().unwrap();
        let table = table()
            .route(
                "/fault-at-work",
                get(async |State(desk): State<Arc<Desk>>| answered(desk, |_| panic!("at work")).await),
            )
            .route("/fault", get(async || -> &'static str { panic!("in place") }));
        let router = layered(table, Router::new(), desk(folder.path()), Duration::from_secs(5));
        for path in ["/fault-at-work", "/fault"] {
            let before = TOLD.lock().unwrap().len();
            let (status, body) = got(&router, path).await;
            assert_eq!(status, StatusCode::INTERNAL_SERVER_ERROR, "{path}");
            assert!(
                body.contains("please report it") && !body.contains("at work"),
                "{body}"
            );
            assert_eq!(TOLD.lock().unwrap().len(), before + 1, "{path}");
            assert_eq!(got(&router, "/preferences").await.0, StatusCode::OK);
        }
    }
}

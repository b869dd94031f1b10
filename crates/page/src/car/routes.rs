//! From an address to a page.

use core::time::Duration;
use std::sync::Arc;

use axum::extract::{DefaultBodyLimit, Extension, Path, RawQuery, State};
use axum::http::{HeaderMap, StatusCode, Uri};
use axum::response::{IntoResponse as _, Redirect, Response};
use axum::routing::{get, post};
use axum::{Router, middleware};
use questions::Stop;
use tower_http::catch_panic::CatchPanicLayer;
use tower_http::timeout::TimeoutLayer;

use super::address::path;
use super::asking::Asking;
use super::desk::{Desk, answered};
use super::on_the_car::Part;
use super::visit::{Refused, Visit, folder};
use super::writing::Writing;
use super::{
    book, card, cars, choices, devices, files, handed_on, how, logs, new_car, on_the_car, report, rooms,
    stands, unread, workings,
};
use crate::shell::{assets, frame, parts, trouble};
use crate::web::guard::{Caller, Sent, SentFile, forbid, guard, guard_of_files};
use crate::web::socket::Limits;

/// Every address there is. A request that is not whole and answered within that time is refused; of a file each piece has to
/// arrive in time.
pub(crate) fn router(desk: Arc<Desk>, limits: Limits) -> Router {
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
        .route("/cars", post(add).get(async || Redirect::to("/")))
        .route("/cars/new", get(new_car))
        .route("/cars/bring", get(bring).post(brought))
        .route("/car/{car}", get(door))
        .route("/car/{car}/alone", get(alone))
        .route("/car/{car}/working/{figure}", get(working))
        .route("/car/{car}/stands", get(how_it_stands))
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
        .route(assets::PAIRING_STYLE_PATH, get(assets::style))
        .route(assets::PAIRING_SCRIPT_PATH, get(assets::script))
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
    table
        .layer(middleware::from_fn_with_state(Arc::clone(&desk.gate), guard))
        .layer(TimeoutLayer::with_status_code(
            StatusCode::REQUEST_TIMEOUT,
            within,
        ))
        .merge(files)
        .layer(CatchPanicLayer::custom(move |_| {
            telling.tell("a page could not be made: a fault of rearline's own");
            trouble::of_ours()
        }))
        .layer(middleware::from_fn(forbid))
        .with_state(desk)
}

async fn list(State(desk): State<Arc<Desk>>, Extension(caller): Extension<Caller>) -> Response {
    answered(desk, move |desk| cars::list(desk, &caller)).await
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
    answered(desk, move |desk| {
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
    Extension(limits): Extension<Limits>,
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
    answered(desk, move |desk| {
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
    })
    .await
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

async fn all_stand(State(desk): State<Arc<Desk>>) -> Response {
    answered(desk, |desk| stands::of_cars(desk).word.into_response()).await
}

async fn alone(
    State(desk): State<Arc<Desk>>,
    Extension(caller): Extension<Caller>,
    Path(car): Path<String>,
    RawQuery(query): RawQuery,
) -> Response {
    answered(desk, move |desk| {
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
    answered(desk, move |desk| book::print(desk, &caller, &car)).await
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
    answered(desk, move |desk| {
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
    use tower::ServiceExt as _;

    use super::super::desk::Workshop;
    use super::*;
    use crate::web::guard::{Ends, Gate, Reach};
    use crate::web::pairing::Pairing;
    use crate::web::socket::Limits;

    static TOLD: Mutex<Vec<String>> = Mutex::new(Vec::new());

    fn desk(folder: &std::path::Path) -> Arc<Desk> {
        let workshop = Workshop {
            cars: folder.to_path_buf(),
            units: None,
            reach: Reach::ThisMachine,
            limits: Limits::default(),
            today: || engine::car::Date::constant(2026, 5, 1),
            stamp: |_, _| Err(records::Fault::NoReason),
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

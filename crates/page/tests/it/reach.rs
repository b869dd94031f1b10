//! From where, under which name and by which paths the page can be reached.

use std::net::{SocketAddr, TcpStream};

use crate::workshop::Open;

#[test]
fn it_listens_on_this_machine_alone() {
    let open = Open::here();
    assert_eq!(open.get("/").status, 200);
    let elsewhere = SocketAddr::from(([127, 0, 0, 2], open.at.port()));
    assert!(
        TcpStream::connect(elsewhere).is_err(),
        "another address of the machine"
    );
}

#[test]
fn a_name_that_was_bent_to_point_here_is_refused() {
    let open = Open::here();
    let port = open.at.port();
    let ask = |host: &str| {
        open.send(format!("GET / HTTP/1.1\r\n{host}Connection: close\r\n\r\n").as_bytes())
            .status
    };
    assert_eq!(ask(&format!("Host: localhost:{port}\r\n")), 200);
    for host in [
        "Host: bent.example\r\n".to_owned(),
        format!("Host: bent.example:{port}\r\n"),
        format!("Host: 127.0.0.2:{port}\r\n"),
        format!("Host: localhost.bent.example:{port}\r\n"),
        format!("Host: 127.0.0.1:{}\r\n", port ^ 1),
        "Host: 127.0.0.1\r\n".to_owned(),
        format!("Host: 127.0.0.1:{port}\r\nHost: bent.example\r\n"),
        "Host: \r\n".to_owned(),
        String::new(),
    ] {
        assert!([400, 403].contains(&ask(&host)), "{host:?}");
    }
    // The whole address in the first line does not stand in for the head's.
    let absolute =
        format!("GET http://127.0.0.1:{port}/ HTTP/1.1\r\nHost: bent.example\r\nConnection: close\r\n\r\n");
    assert_eq!(open.send(absolute.as_bytes()).status, 403);
}

#[test]
fn only_getting_and_sending_are_known() {
    let open = Open::here();
    for method in [
        "PUT", "DELETE", "PATCH", "OPTIONS", "TRACE", "CONNECT", "NONSENSE",
    ] {
        let request = format!(
            "{method} / HTTP/1.1\r\nHost: {}\r\nConnection: close\r\n\r\n",
            open.at
        );
        assert!(
            [400, 405].contains(&open.send(request.as_bytes()).status),
            "{method}"
        );
    }
    let head = format!(
        "HEAD / HTTP/1.1\r\nHost: {}\r\nConnection: close\r\n\r\n",
        open.at
    );
    let answer = open.send(head.as_bytes());
    assert_eq!((answer.status, answer.body.as_str()), (200, ""));
}

#[test]
fn no_path_leads_out_of_the_folder() {
    let open = Open::here();
    let outside = open.folder.path().parent().unwrap().join("outside-of-the-cars");
    std::fs::create_dir_all(&outside).unwrap();
    std::fs::write(outside.join("car.toml"), "format = 1 # kept-outside").unwrap();
    let inside = open
        .folder
        .path()
        .file_name()
        .unwrap()
        .to_string_lossy()
        .into_owned();
    let absolute = outside.to_string_lossy().replace('/', "%2F");
    for car in [
        "..%2Foutside-of-the-cars".to_owned(),
        "%2e%2e%2foutside-of-the-cars".to_owned(),
        format!("..%2f{inside}%2ftarn"),
        absolute.clone(),
        format!("{absolute}%2Fcar.toml"),
        "car.toml".to_owned(),
        "tarn%00".to_owned(),
        "tarn%2Fcar.toml".to_owned(),
        "tarn%5Ccar.toml".to_owned(),
        ".".to_owned(),
        "..".to_owned(),
        "%2e".to_owned(),
        "%2e%2e".to_owned(),
        ".paired".to_owned(),
        "%FF%FE".to_owned(),
        "a".repeat(5_000),
    ] {
        for room in ["assessment", "alone", "working/travel_m"] {
            let answer = open.get(&format!("/car/{car}/{room}"));
            assert!(
                [400, 404].contains(&answer.status),
                "{car}/{room}: {}",
                answer.status
            );
            assert!(!answer.body.contains("kept-outside"));
        }
    }
    for path in [
        "/../../etc/passwd",
        "/assets/../../Cargo.toml",
        "/assets/%2e%2e/secret",
        "//etc/passwd",
        "/.paired",
    ] {
        assert_eq!(open.get(path).status, 404, "{path}");
    }
    std::fs::remove_dir_all(outside).unwrap();
}

#[test]
fn every_answer_forbids_what_is_not_ours() {
    let open = Open::here();
    let page = open.get("/");
    let script = page
        .body
        .split('"')
        .find(|word| word.starts_with("/assets/") && word.ends_with(".js"))
        .unwrap();
    let answers = [
        open.get(script),
        open.get("/car/tarn/balance"),
        open.get("/car/nobody/balance"),
        open.get("/nowhere"),
        open.get_with("/", "Host: again\r\n"),
        open.post_with("/cars", "", "name=x"),
        open.get("/car/tarn/alone"),
        page,
    ];
    for answer in answers {
        let policy = answer.header("content-security-policy").unwrap_or_default();
        assert!(
            policy.starts_with("default-src 'none'") && !policy.contains("unsafe"),
            "{}",
            answer.head
        );
        assert!(policy.contains("frame-ancestors 'none'") && policy.contains("base-uri 'none'"));
        assert_eq!(answer.header("x-content-type-options"), Some("nosniff"));
        assert_eq!(answer.header("cross-origin-resource-policy"), Some("same-origin"));
        assert!(answer.header("access-control-allow-origin").is_none());
        assert!(answer.header("server").is_none());
    }
}

/// A page elsewhere cannot make this machine compute by drawing a page of ours in as a picture or a frame.
#[test]
fn another_site_leads_a_person_here_and_asks_for_nothing_else() {
    let open = Open::here();
    for (headers, status) in [
        ("", 200),
        (
            "Sec-Fetch-Site: none\r\nSec-Fetch-Mode: navigate\r\nSec-Fetch-Dest: document\r\n",
            200,
        ),
        (
            "Sec-Fetch-Site: same-origin\r\nSec-Fetch-Mode: cors\r\nSec-Fetch-Dest: empty\r\n",
            200,
        ),
        (
            "Sec-Fetch-Site: cross-site\r\nSec-Fetch-Mode: navigate\r\nSec-Fetch-Dest: document\r\n",
            200,
        ),
        (
            "Sec-Fetch-Site: cross-site\r\nSec-Fetch-Mode: navigate\r\nSec-Fetch-Dest: iframe\r\n",
            403,
        ),
        (
            "Sec-Fetch-Site: cross-site\r\nSec-Fetch-Mode: no-cors\r\nSec-Fetch-Dest: image\r\n",
            403,
        ),
        (
            "Sec-Fetch-Site: same-site\r\nSec-Fetch-Mode: cors\r\nSec-Fetch-Dest: empty\r\n",
            403,
        ),
        ("Sec-Fetch-Site: cross-site\r\n", 403),
    ] {
        assert_eq!(open.get_with("/preferences", headers).status, status, "{headers}");
    }
}

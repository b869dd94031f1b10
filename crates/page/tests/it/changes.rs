//! Requests that change something: only from a page of ours, only whole, only once.

use crate::workshop::Open;

#[test]
fn a_form_of_ours_makes_a_car() {
    let open = Open::here();
    let token = open.get("/").token();
    let answer = open.post("/cars", &format!("token={token}&name=fell"));
    assert_eq!(
        (answer.status, answer.header("location")),
        (303, Some("/car/fell/sheet"))
    );
    assert!(open.has_car("fell"));
    let faults = open.get("/car/fell/assessment");
    assert_eq!(faults.status, 422, "a blank sheet is not computed");
    assert!(
        faults.body.contains("line ") && faults.body.contains("Nothing is lost"),
        "{}",
        faults.body
    );
}

#[test]
fn a_change_that_is_not_from_a_page_of_ours_is_refused_and_changes_nothing() {
    let open = Open::here();
    let other = Open::here();
    let (token, of_another_run) = (open.get("/").token(), other.get("/").token());
    let ours = format!("Origin: http://{}\r\n", open.at);
    let form = format!("name=fell&token={token}");
    for (headers, form) in [
        (String::new(), form.as_str()),
        ("Origin: null\r\n".to_owned(), &form),
        ("Origin: http://bent.example\r\n".to_owned(), &form),
        (format!("Origin: https://{}\r\n", open.at), &form),
        (format!("Origin: http://localhost:{}\r\n", open.at.port()), &form),
        (format!("{ours}Sec-Fetch-Site: cross-site\r\n"), &form),
        (format!("{ours}Sec-Fetch-Site: same-site\r\n"), &form),
        (ours.clone(), "name=fell"),
        (ours.clone(), "name=fell&token="),
        (ours.clone(), &format!("name=fell&token={of_another_run}")),
        (ours.clone(), &format!("name=fell&token={}", &token[1..])),
    ] {
        let answer = open.post_with("/cars", &headers, form);
        assert_eq!(answer.status, 403, "{headers:?} {form}");
        assert!(answer.body.contains("nothing was changed"), "{}", answer.body);
    }
    // Reading does not change, whatever it brings.
    open.get(&format!("/cars?name=fell&token={token}"));
    assert!(!open.has_car("fell"));
    let right = open.post_with("/cars", &format!("{ours}Sec-Fetch-Site: same-origin\r\n"), &form);
    assert_eq!(right.status, 303);
    assert!(open.has_car("fell"));
}

#[test]
fn only_a_form_can_be_sent() {
    let open = Open::here();
    let token = open.get("/").token();
    for kind in [
        "application/json",
        "text/plain",
        "multipart/form-data; boundary=x",
        "",
    ] {
        let (body, host) = (format!("name=fell&token={token}"), open.at);
        let request = format!(
            "POST /cars HTTP/1.1\r\nHost: {host}\r\nOrigin: http://{host}\r\nConnection: close\r\nContent-Type: {kind}\r\n\
             Content-Length: {}\r\nx-token: {token}\r\n\r\n{body}",
            body.len()
        );
        assert_eq!(open.send(request.as_bytes()).status, 415, "{kind}");
    }
    assert!(!open.has_car("fell"));
}

#[test]
fn a_name_that_cannot_be_is_told_with_what_was_typed() {
    let open = Open::here();
    let token = open.get("/").token();
    for (name, shown) in [
        ("TARN", "TARN"),
        ("..%2Fout", "../out"),
        ("a%2Fb", "a/b"),
        ("", ""),
        ("con", "con"),
        (
            "%3Cscript%3Ealert(1)%3C%2Fscript%3E",
            "&lt;script&gt;alert(1)&lt;/script&gt;",
        ),
    ] {
        let answer = open.post("/cars", &format!("token={token}&name={name}"));
        assert_eq!(answer.status, 400, "{name}: {}", answer.body);
        assert!(answer.body.contains("role=\"alert\""), "{name}");
        assert!(
            answer.body.contains(&format!("value=\"{shown}\"")),
            "{name}: what was typed stays"
        );
        assert!(!answer.body.contains("<script>alert"));
    }
    let left: Vec<_> = std::fs::read_dir(open.folder.path())
        .unwrap()
        .map(|entry| entry.unwrap().file_name())
        .filter(|name| {
            ![
                ".answers",
                ".cars.lock",
                "bin",
                "half-known",
                "scree",
                "sedge",
                "tarn",
                "tarn-let-go",
            ]
            .map(Into::into)
            .contains(name)
        })
        .collect();
    assert!(left.is_empty(), "{left:?}");
}

#[test]
fn the_paper_of_the_build_book_is_remembered_beside_the_units() {
    let open = Open::here();
    let form = open.get("/preferences");
    assert!(form.body.contains("Paper of the build book"));
    let token = form.token();
    let answer = open.post(
        "/preferences",
        &format!("token={token}&pressure=psi&paper=Letter"),
    );
    assert_eq!(answer.status, 303);
    let kept = std::fs::read_to_string(open.folder.path().join("preferences.toml")).unwrap();
    assert!(
        kept.contains("units = \"psi\"") && kept.contains("paper = \"Letter\""),
        "{kept}"
    );
    let again = open.get("/preferences").body;
    assert!(again.contains("value=\"Letter\" selected"), "{again}");
    let refused = open.post("/preferences", &format!("token={token}&pressure=psi&paper=A3"));
    assert!(
        refused.status == 400 && refused.body.contains("A4 or Letter"),
        "{}",
        refused.body
    );
}

#[test]
fn units_are_remembered_and_the_rest_of_the_file_stays() {
    let open = Open::here();
    let file = open.folder.path().join("preferences.toml");
    std::fs::write(&file, "# mine\nunits = \"bar\" # gauge\n[prices]\nbanjo = 3\n").unwrap();
    let token = open.get("/preferences").token();
    let answer = open.post(
        "/preferences",
        &format!("token={token}&pressure=psi&length=in&force=lbf"),
    );
    assert_eq!(
        (answer.status, answer.header("location")),
        (303, Some("/preferences"))
    );
    let kept = std::fs::read_to_string(&file).unwrap();
    assert_eq!(
        kept,
        "# mine\nunits = \"psi,in,lbf\" # gauge\n[prices]\nbanjo = 3\n"
    );
    assert!(open.get("/car/sedge/lever").body.contains("psi"));

    // One that is no unit changes nothing; a file that does not read is left alone.
    assert_eq!(
        open.post("/preferences", &format!("token={token}&pressure=furlong"))
            .status,
        400
    );
    assert_eq!(std::fs::read_to_string(&file).unwrap(), kept);
    std::fs::write(&file, "units = \n").unwrap();
    let refused = open.post("/preferences", &format!("token={token}&pressure=bar"));
    assert_eq!(refused.status, 409);
    assert!(refused.body.contains("line 1"), "{}", refused.body);
    assert_eq!(std::fs::read_to_string(&file).unwrap(), "units = \n");
    assert_eq!(open.get("/car/sedge/lever").status, 200, "the usual units serve");
}

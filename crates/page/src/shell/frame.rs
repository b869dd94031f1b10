//! The frame that every page hangs in.

use maud::{DOCTYPE, Markup, html};

use super::assets;

/// How the files that a page was made of stood before they were read: a word, and where it is asked for again.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Stands {
    pub(crate) word: String,
    pub(crate) address: String,
}

/// A whole page. `stands`: how the files that it was made of stood before they were read.
pub(crate) fn page(title: &str, token: &str, stands: Option<&Stands>, body: &Markup) -> Markup {
    let more = html! {
        meta name="color-scheme" content="light dark";
        meta name="token" content=(token);
        @if let Some(stands) = stands { meta name="stands" content=(stands.word) data-from=(stands.address); }
        script type="module" src=(assets::script_path()) {}
    };
    document(title, assets::style_path(), &more, body)
}

/// A page without token: for strangers, and where nothing else can be made. Its script shows what waits on the device.
pub(crate) fn bare(title: &str, style: &str, script: &str, main: &Markup) -> Markup {
    let more = html! { script type="module" src=(script) {} };
    document(title, style, &more, &html! { main id="main" { (main) } })
}

fn document(title: &str, style: &str, more_head: &Markup, body: &Markup) -> Markup {
    html! {
        (DOCTYPE)
        html lang="en" {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                title { (title) " · rearline" }
                link rel="icon" type="image/svg+xml" href=(assets::ICON_PATH);
                link rel="manifest" href=(assets::MANIFEST_PATH);
                meta name="theme-color" media="(prefers-color-scheme: light)" content="#f7f4ec";
                meta name="theme-color" media="(prefers-color-scheme: dark)" content="#1b2025";
                link rel="stylesheet" href=(style);
                (more_head)
            }
            body { (body) }
        }
    }
}

/// A page that belongs to no car.
pub(crate) fn plain(title: &str, token: &str, stands: Option<&Stands>, main: &Markup) -> Markup {
    let body = html! {
        a class="skip" href="#main" { "To the text" }
        header class="top" { p class="house" { a href="/" { "rearline: all cars" } } }
        main id="main" tabindex="-1" { h1 { (title) } (main) }
    };
    page(title, token, stands, &body)
}

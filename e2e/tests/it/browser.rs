//! The browser as a test uses it: one thing after the other, and whatever goes wrong fails the test.

use std::cell::RefCell;
use std::future::Future;
use std::path::{Path, PathBuf};
use std::sync::{Mutex, MutexGuard};
use std::time::Duration;

use serde::de::DeserializeOwned;
use serde_json::{Value, json};
use thirtyfour::{By, Key, WebDriver, WebElement, error::WebDriverResult};
use tokio::runtime::Runtime;

use crate::driver::Driver;
use crate::screen::{Screen, Theme};

/// How often something is looked for before it counts as missing, and how long between two looks.
const LOOKS: usize = 1_600;
const BETWEEN: Duration = Duration::from_millis(25);

/// The browsers of all tests: as many as tests run beside each other.
pub(crate) struct Browsers {
    runtime: Runtime,
    /// Those that no test has just now.
    free: Mutex<Vec<Driver>>,
}

/// A browser while a test has it: as new when it is taken.
pub(crate) struct Page<'b> {
    browsers: &'b Browsers,
    session: WebDriver,
    /// The script that forbids storage, where it does.
    forbidden: RefCell<Option<Value>>,
    driver: Option<Driver>,
}

impl Browsers {
    /// None yet: one is started by whoever finds none free.
    pub(crate) fn new() -> Self {
        Self {
            runtime: Runtime::new().unwrap(),
            free: Mutex::default(),
        }
    }

    /// Runs what a test does without a browser.
    pub(crate) fn block_on<T>(&self, future: impl Future<Output = T>) -> T {
        self.runtime.block_on(future)
    }

    fn free(&self) -> MutexGuard<'_, Vec<Driver>> {
        self.free
            .lock()
            .unwrap_or_else(std::sync::PoisonError::into_inner)
    }

    /// Takes one; a test that failed before leaves nothing behind.
    pub(crate) fn take(&self) -> Page<'_> {
        let free = self.free().pop();
        let driver = free.unwrap_or_else(|| self.block_on(Driver::start()));
        let page = Page {
            browsers: self,
            session: driver.session.clone(),
            forbidden: RefCell::default(),
            driver: Some(driver),
        };
        page.go("about:blank");
        page.cdp("Emulation.setScriptExecutionDisabled", &json!({"value": false}));
        page.cdp("Emulation.setTouchEmulationEnabled", &json!({"enabled": false}));
        page.cdp("Network.clearBrowserCookies", &json!({}));
        page.letters(16);
        page.show(Screen::DESKTOP, Theme::Light);
        let _ = page.log();
        page
    }

    /// Ends those that are free.
    pub(crate) fn end(&self) {
        let free = std::mem::take(&mut *self.free());
        for driver in free {
            let _ = self.block_on(driver.end());
        }
    }
}

impl Drop for Page<'_> {
    fn drop(&mut self) {
        if let Some(script) = self.forbidden.take() {
            let method = "Page.removeScriptToEvaluateOnNewDocument";
            let cdp = self.session.cdp();
            let _ = self
                .browsers
                .block_on(cdp.send_raw(method, json!({"identifier": script})));
        }
        self.browsers.free().extend(self.driver.take());
    }
}

impl Page<'_> {
    fn wait_for<T>(&self, what: &str, future: impl Future<Output = WebDriverResult<T>>) -> T {
        self.browsers
            .block_on(future)
            .unwrap_or_else(|fault| panic!("{what}: {fault}"))
    }

    fn cdp(&self, method: &str, what: &Value) -> Value {
        self.wait_for(method, self.session.cdp().send_raw(method, what))
    }

    /// Opens an address, and waits until it is loaded.
    pub(crate) fn go(&self, address: &str) {
        self.wait_for(address, self.session.goto(address));
    }

    pub(crate) fn back(&self) {
        self.wait_for("back", self.session.back());
    }

    /// The address without the part that says where the server is.
    pub(crate) fn at(&self) -> String {
        self.js("return location.pathname + location.search")
    }

    /// What a script in the page answers.
    pub(crate) fn js<T: DeserializeOwned>(&self, script: &str) -> T {
        self.js_of(script, &[])
    }

    /// The same, of something.
    pub(crate) fn js_of<T: DeserializeOwned>(&self, script: &str, of: &[Value]) -> T {
        let answer = self.wait_for(script, self.session.execute(script, of));
        serde_json::from_value(answer.json().clone())
            .unwrap_or_else(|fault| panic!("{script}: {fault}: {}", answer.json()))
    }

    /// What a script answers once its promise is kept.
    pub(crate) fn promised(&self, expression: &str) -> Value {
        let script = format!(
            "const done = arguments[arguments.length - 1]; ({expression}).then(done, (fault) => done({{fault: String(fault)}}));"
        );
        self.wait_for(expression, self.session.execute_async(&*script, []))
            .json()
            .clone()
    }

    /// Waits until an expression is true in the page.
    pub(crate) fn until(&self, expression: &str) {
        let script = format!("return Boolean({expression})");
        for _ in 0..LOOKS {
            if self.js(&script) {
                return;
            }
            std::thread::sleep(BETWEEN);
        }
        panic!("{}: never so: {expression}", self.at());
    }

    /// Waits until a text is another than it was, and returns it.
    pub(crate) fn other_text(&self, css: &str, was: &str) -> String {
        for _ in 0..LOOKS {
            let now = self.text(css);
            if now != was {
                return now;
            }
            std::thread::sleep(BETWEEN);
        }
        panic!("{}: {css} stays {was:?}", self.at());
    }

    pub(crate) fn one(&self, css: &str) -> WebElement {
        self.wait_for(css, self.session.find(By::Css(css)))
    }

    /// How many there are.
    pub(crate) fn count(&self, css: &str) -> usize {
        self.js_of(
            "return document.querySelectorAll(arguments[0]).length",
            &[json!(css)],
        )
    }

    /// The text of the first, whether shown or not, blanks made one.
    pub(crate) fn text(&self, css: &str) -> String {
        self.js_of(
            "return (document.querySelector(arguments[0])?.textContent ?? '').replace(/\\s+/g, ' ').trim()",
            &[json!(css)],
        )
    }

    /// No page may store anything from the next page on, as where a person has forbidden it.
    pub(crate) fn forbid_storage(&self) {
        let script = "Object.defineProperty(window, 'localStorage', {get() { throw new DOMException('denied', 'SecurityError') }})";
        let made = self.cdp(
            "Page.addScriptToEvaluateOnNewDocument",
            &json!({"source": script}),
        );
        *self.forbidden.borrow_mut() = Some(made["identifier"].clone());
    }

    /// Clicks as a hand does: scrolled into view, and refused where something lies over it.
    pub(crate) fn click(&self, css: &str) {
        let element = self.one(css);
        self.wait_for(css, element.scroll_into_view());
        self.wait_for(css, element.click());
    }

    /// Clicks the first link, key or summary with that text.
    pub(crate) fn click_text(&self, text: &str) {
        let path = format!(
            "//*[self::a or self::button or self::summary][contains(normalize-space(.), \"{text}\")]"
        );
        // What is looked for may be made anew between the look and the click, or still be on its way to its place.
        let mut last = None;
        for _ in 0..100 {
            let element = self.wait_for(text, self.session.find(By::XPath(&*path)));
            let clicked = async {
                element.scroll_into_view().await?;
                element.click().await
            };
            match self.browsers.block_on(clicked) {
                Ok(()) => return,
                Err(fault) => last = Some(fault),
            }
            std::thread::sleep(BETWEEN);
        }
        panic!("{}: {text:?} cannot be clicked: {last:?}", self.at());
    }

    /// Clicks it, and waits for the page that it leads to.
    pub(crate) fn follow(&self, text: &str) {
        self.js::<()>("window.leaving = true");
        self.click_text(text);
        self.until("!window.leaving && document.readyState === 'complete'");
    }

    /// Opens every fold around the first that is looked for, as a person does.
    pub(crate) fn unfold_to(&self, css: &str) {
        let mark = "const folds = []; const wanted = document.querySelector(arguments[0]); let at = (wanted.tagName === 'SUMMARY' ? wanted.parentElement : wanted).parentElement?.closest('details');
             for (; at; at = at.parentElement?.closest('details')) if (!at.open) folds.unshift(at);
             for (const old of document.querySelectorAll('[data-next]')) delete old.dataset.next;
             if (folds.length) folds[0].querySelector('summary').dataset.next = '';
             return folds.length";
        while self.js_of::<usize>(mark, &[json!(css)]) > 0 {
            self.click("[data-next]");
        }
    }

    /// Clears a field and types into it.
    pub(crate) fn fill(&self, css: &str, text: &str) {
        let element = self.one(css);
        self.wait_for(css, element.clear());
        self.wait_for(css, element.send_keys(text));
    }

    /// Chooses a file of the device that the browser runs on.
    pub(crate) fn choose_file(&self, css: &str, file: &Path) {
        let element = self.one(css);
        self.wait_for(css, element.send_keys(file.to_str().unwrap()));
    }

    /// Chooses of a list, as a thumb does.
    pub(crate) fn choose(&self, css: &str, value: &str) {
        let script = "const list = document.querySelector(arguments[0]);
            list.value = arguments[1];
            list.dispatchEvent(new Event('change', { bubbles: true }));
            return list.value";
        let chosen: String = self.js_of(script, &[css.into(), value.into()]);
        assert_eq!(chosen, value, "`{css}` offers it");
    }

    /// Types where the focus is, over what is selected there.
    pub(crate) fn type_at_focus(&self, text: &str) {
        self.cdp("Input.insertText", &json!({ "text": text }));
    }

    /// Presses a key wherever the focus is.
    pub(crate) fn press(&self, key: Key) {
        let (name, code, text) = match key {
            Key::Tab => ("Tab", 9, None),
            Key::Enter => ("Enter", 13, Some("\r")),
            Key::Right => ("ArrowRight", 39, None),
            Key::Home => ("Home", 36, None),
            other => panic!("{other:?} is pressed nowhere yet"),
        };
        let stroke = |kind: &str, text: Option<&str>| {
            self.cdp(
                "Input.dispatchKeyEvent",
                &json!({"type": kind, "key": name, "code": name, "windowsVirtualKeyCode": code, "text": text.unwrap_or_default()}),
            );
        };
        stroke(if text.is_some() { "keyDown" } else { "rawKeyDown" }, text);
        stroke("keyUp", None);
    }

    /// Presses Tab until the focus is on what is looked for; every stop on the way has to be seen.
    pub(crate) fn tab_to(&self, css: &str) {
        for _ in 0..200 {
            self.press(Key::Tab);
            if self.js_of(
                "return document.activeElement.matches(arguments[0])",
                &[json!(css)],
            ) {
                return;
            }
        }
        panic!("{}: the keyboard does not reach {css}", self.at());
    }

    /// Takes a slide by its knob with the pointer and moves it so many pixels in small steps, looking on the way.
    pub(crate) fn drag(&self, css: &str, pixels: i64, on_the_way: impl Fn()) {
        self.unfold_to(css);
        let element = self.one(css);
        self.wait_for(css, element.scroll_into_view());
        let (x, y) = self.knob(css);
        let pointer = |kind: &str, x: i64| {
            let buttons = i32::from(kind != "mouseReleased");
            self.cdp(
                "Input.dispatchMouseEvent",
                &json!({"type": kind, "x": x, "y": y, "button": "left", "buttons": buttons, "clickCount": 1}),
            );
        };
        pointer("mousePressed", x);
        for step in 1..=4 {
            pointer("mouseMoved", x + pixels * step / 4);
        }
        on_the_way();
        pointer("mouseReleased", x + pixels);
    }

    /// The same with a finger.
    pub(crate) fn drag_by_touch(&self, css: &str, pixels: i64, on_the_way: impl Fn()) {
        self.cdp("Emulation.setTouchEmulationEnabled", &json!({"enabled": true}));
        self.unfold_to(css);
        let element = self.one(css);
        self.wait_for(css, element.scroll_into_view());
        let (x, y) = self.knob(css);
        let touch = |kind: &str, points: Value| {
            self.cdp(
                "Input.dispatchTouchEvent",
                &json!({"type": kind, "touchPoints": points}),
            );
        };
        touch("touchStart", json!([{"x": x, "y": y}]));
        for step in 1..=4 {
            touch("touchMove", json!([{"x": x + pixels * step / 4, "y": y}]));
        }
        on_the_way();
        touch("touchEnd", json!([]));
    }

    /// Taps the middle of it with a finger: scrolled into view, and nothing may lie over it.
    pub(crate) fn tap(&self, css: &str) {
        let element = self.one(css);
        self.wait_for(css, element.scroll_into_view());
        let (x, y, over): (f64, f64, bool) = self.js_of(
            "const key = document.querySelector(arguments[0]), box = key.getBoundingClientRect();
             const [x, y] = [box.left + box.width / 2, box.top + box.height / 2];
             return [x, y, key.contains(document.elementFromPoint(x, y))]",
            &[json!(css)],
        );
        assert!(over, "{css} lies under something at {x}, {y}");
        self.cdp("Emulation.setTouchEmulationEnabled", &json!({"enabled": true}));
        let touch = |kind: &str, points: Value| {
            self.cdp(
                "Input.dispatchTouchEvent",
                &json!({"type": kind, "touchPoints": points}),
            );
        };
        touch("touchStart", json!([{"x": whole(x), "y": whole(y)}]));
        touch("touchEnd", json!([]));
    }

    /// Where the knob of a slide is on the screen.
    fn knob(&self, css: &str) -> (i64, i64) {
        let at: (f64, f64) = self.js_of(
            "const slide = document.querySelector(arguments[0]), box = slide.getBoundingClientRect(), knob = 16;
             const share = (slide.value - slide.min) / (slide.max - slide.min);
             return [box.left + knob / 2 + share * (box.width - knob), box.top + box.height / 2]",
            &[json!(css)],
        );
        (whole(at.0), whole(at.1))
    }

    /// A screen of that size, by day or by night.
    pub(crate) fn show(&self, screen: Screen, theme: Theme) {
        self.cdp(
            "Emulation.setDeviceMetricsOverride",
            &json!({"width": screen.width, "height": screen.height, "deviceScaleFactor": 1, "mobile": screen.touched}),
        );
        self.media(theme, false);
    }

    /// The size of text that the person has asked their browser for, in pixels; 16 where nobody has.
    pub(crate) fn letters(&self, size: u32) {
        self.cdp(
            "Page.setFontSizes",
            &json!({"fontSizes": {"standard": size, "fixed": size}}),
        );
    }

    /// As on paper, on the screen.
    pub(crate) fn on_paper(&self, paper: bool) {
        let media = if paper { "print" } else { "" };
        self.cdp("Emulation.setEmulatedMedia", &json!({"media": media}));
    }

    /// What the person has asked of the system.
    pub(crate) fn media(&self, theme: Theme, reduced_motion: bool) {
        let motion = if reduced_motion { "reduce" } else { "no-preference" };
        self.cdp(
            "Emulation.setEmulatedMedia",
            &json!({"media": "", "features": [
                {"name": "prefers-color-scheme", "value": theme.name()},
                {"name": "prefers-reduced-motion", "value": motion},
            ]}),
        );
    }

    /// Whether the scripts of pages run from the next page on. Those of the tests always do.
    pub(crate) fn scripts(&self, run: bool) {
        self.cdp("Emulation.setScriptExecutionDisabled", &json!({"value": !run}));
    }

    /// The page on paper, as a PDF.
    pub(crate) fn paper(&self) -> Vec<u8> {
        self.wait_for(
            "printing",
            self.session
                .print_page(thirtyfour::common::print::PrintParameters::default()),
        )
    }

    /// The whole page as a picture, kept under the tests' folder for whoever looks: where `E2E_PICTURES` is set, for
    /// pictures are a seventh of the work.
    pub(crate) fn keep(&self, name: &str, screen: Screen, theme: Theme) {
        if std::env::var_os("E2E_PICTURES").is_none() {
            return;
        }
        let file = kept().join(format!("{name}-{}-{}.png", screen.name, theme.name()));
        std::fs::create_dir_all(kept()).unwrap();
        std::fs::write(file, self.picture(true)).unwrap();
    }

    /// A picture of the page: all of it, or what the screen shows.
    pub(crate) fn picture(&self, whole_page: bool) -> Vec<u8> {
        if !whole_page {
            return self.wait_for("a picture", self.session.screenshot_as_png());
        }
        let (width, height): (f64, f64) = self.js(
            "const all = document.documentElement; return [innerWidth, Math.max(all.scrollHeight, innerHeight)]",
        );
        let taken = self.cdp(
            "Page.captureScreenshot",
            &json!({"captureBeyondViewport": true, "optimizeForSpeed": true, "clip": {"x": 0, "y": 0, "width": width, "height": height, "scale": 1}}),
        );
        base64(taken["data"].as_str().unwrap())
    }

    /// What the browser complained of since it was last asked.
    pub(crate) fn log(&self) -> Vec<String> {
        self.wait_for("the log", self.session.browser_log())
            .into_iter()
            .map(|entry| format!("{} {}", entry.level, entry.message))
            .collect()
    }

    /// Nothing was complained of.
    pub(crate) fn is_quiet(&self) {
        let said = self.log();
        assert!(said.is_empty(), "{}: {said:#?}", self.at());
    }
}

/// Where pictures of this run are kept.
fn kept() -> PathBuf {
    crate::target().join("e2e-screenshots")
}

fn base64(text: &str) -> Vec<u8> {
    let mut bytes = Vec::with_capacity(text.len() / 4 * 3);
    let (mut held, mut bits) = (0_u32, 0);
    for letter in text.bytes().filter(|letter| *letter != b'=') {
        let value = match letter {
            b'A'..=b'Z' => letter - b'A',
            b'a'..=b'z' => letter - b'a' + 26,
            b'0'..=b'9' => letter - b'0' + 52,
            b'+' => 62,
            _ => 63,
        };
        held = held << 6 | u32::from(value);
        bits += 6;
        if bits >= 8 {
            bits -= 8;
            bytes.push((held >> bits & 0xff) as u8);
        }
    }
    bytes
}

#[allow(clippy::cast_possible_truncation, reason = "a place on a screen")]
fn whole(pixels: f64) -> i64 {
    pixels.round() as i64
}

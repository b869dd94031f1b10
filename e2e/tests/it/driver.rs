//! A browser and its driver, started on a free port with a folder of their own, ended with the tests.

use std::net::TcpListener;
use std::process::Stdio;
use std::time::Duration;

use thirtyfour::{
    ChromiumLikeCapabilities, DesiredCapabilities, LoggingPrefsLogLevel, TimeoutConfiguration, WebDriver,
    error::WebDriverResult,
};
use tokio::process::{Child, Command};
use tokio::time::sleep;

/// How long a page may load: a book that is printed on a busy machine takes its time. The driver itself is given up after 120 s.
const PATIENCE: Duration = Duration::from_secs(110);

const FLAGS: [&str; 11] = [
    "--headless=new",
    "--no-sandbox",
    "--disable-gpu",
    "--disable-dev-shm-usage",
    "--disable-quic",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--hide-scrollbars",
    "--no-first-run",
    "--window-size=1400,1000",
];

/// The driver's process, and the session in it.
pub(crate) struct Driver {
    pub(crate) session: WebDriver,
    process: Child,
    _profile: tempfile::TempDir,
}

impl Driver {
    /// Starts both.
    pub(crate) async fn start() -> Self {
        // Bound and let go: free a moment ago, which is as much as can be known.
        let port = TcpListener::bind("127.0.0.1:0")
            .unwrap()
            .local_addr()
            .unwrap()
            .port();
        let process = Command::new("chromedriver")
            .arg(format!("--port={port}"))
            .stdin(Stdio::null())
            .stdout(Stdio::null())
            .stderr(Stdio::null())
            .kill_on_drop(true)
            .spawn()
            .unwrap_or_else(|fault| panic!("chromedriver cannot be started ({fault}): run e2e/needs first"));
        let profile = tempfile::tempdir().unwrap();
        let mut capabilities = DesiredCapabilities::chrome();
        for flag in FLAGS {
            capabilities.add_arg(flag).unwrap();
        }
        capabilities
            .add_arg(&format!("--user-data-dir={}", profile.path().display()))
            .unwrap();
        capabilities
            .set_browser_log_level(LoggingPrefsLogLevel::All)
            .unwrap();
        let address = format!("http://127.0.0.1:{port}");
        let mut last = None;
        for _ in 0..150 {
            match WebDriver::new(&address, capabilities.clone()).await {
                Ok(session) => {
                    let patience = TimeoutConfiguration::new(Some(PATIENCE), Some(PATIENCE), None);
                    session.update_timeouts(patience).await.unwrap();
                    return Self {
                        session,
                        process,
                        _profile: profile,
                    };
                }
                Err(fault) => last = Some(fault),
            }
            sleep(Duration::from_millis(100)).await;
        }
        panic!("no session with the browser: {last:?}");
    }

    /// Ends both.
    pub(crate) async fn end(mut self) -> WebDriverResult<()> {
        self.session.quit().await?;
        let _ = self.process.kill().await;
        Ok(())
    }
}

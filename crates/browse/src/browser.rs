//! A headless Chromium the size of a phone, by WebDriver (W3C) and Chromium's own extension of it.

use std::{
    net::{TcpListener, TcpStream},
    path::{Path, PathBuf},
    process::{Child, Command, Stdio},
    time::{Duration, Instant},
};

use serde_json::{Value, json};

use crate::{Outcome, ending, http, page::too_long};

/// The driver; it and its browsers end with this.
pub(crate) struct Driver {
    process: Child,
    port: u16,
}

/// One browser with its profile.
pub(crate) struct Browser {
    port: u16,
    session: String,
    /// Where the browser keeps what it keeps.
    pub(crate) profile: PathBuf,
    process: Option<u32>,
}

/// Chromium's switches: no sandbox as root, no network of its own.
const SWITCHES: &[&str] = &[
    "--headless=new",
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--disable-dev-shm-usage",
    "--hide-scrollbars",
    // How much room there is, as it is: else the browser tells every page the same figure.
    "--disable-features=StaticStorageQuota",
    // A microphone that hums: there is none on a server.
    "--use-fake-device-for-media-stream",
];

/// A port of this machine that nobody uses.
pub(crate) fn free_port() -> Outcome<u16> {
    let listener = TcpListener::bind("127.0.0.1:0").map_err(|error| error.to_string())?;
    Ok(listener.local_addr().map_err(|error| error.to_string())?.port())
}

/// Waits until somebody listens on the port.
pub(crate) fn wait_for_port(port: u16, seconds: u64) -> Outcome<()> {
    let start = Instant::now();
    while TcpStream::connect(("127.0.0.1", port)).is_err() {
        if too_long(start, seconds) {
            return Err(format!("nothing listens on port {port}"));
        }
        std::thread::sleep(Duration::from_millis(30));
    }
    Ok(())
}

impl Driver {
    /// Starts the driver.
    pub(crate) fn start() -> Outcome<Self> {
        let port = free_port()?;
        let process = Command::new("chromedriver")
            .arg(format!("--port={port}"))
            .stdin(Stdio::null())
            .stdout(Stdio::null())
            .stderr(Stdio::null())
            .spawn()
            .map_err(|error| format!("chromedriver: {error}"))?;
        ending::note(process.id());
        let driver = Self { process, port };
        wait_for_port(port, 30)?;
        Ok(driver)
    }

    /// Opens a browser the size of a phone on a profile; the same profile again finds what it kept.
    pub(crate) fn browser(&self, profile: &Path) -> Outcome<Browser> {
        let phone = json!({"deviceMetrics":
            {"width": 390, "height": 844, "pixelRatio": 2.0, "touch": true, "mobile": true}});
        self.open(profile, json!({"mobileEmulation": phone}), &[])
    }

    /// Opens a browser the size of a laptop's screen, likewise.
    pub(crate) fn laptop(&self, profile: &Path) -> Outcome<Browser> {
        self.open(profile, json!({}), &["--window-size=1366,850"])
    }

    fn open(&self, profile: &Path, mut options: Value, more: &[&str]) -> Outcome<Browser> {
        let mut switches: Vec<String> =
            SWITCHES.iter().chain(more).map(|it| (*it).to_owned()).collect();
        switches.push(format!("--user-data-dir={}", profile.display()));
        options["args"] = json!(switches);
        let wanted = json!({"capabilities": {"alwaysMatch": {
            "browserName": "chrome",
            "goog:chromeOptions": options,
            "goog:loggingPrefs": {"browser": "ALL"},
            "timeouts": {"script": 120_000, "pageLoad": 60_000},
        }}});
        let answer = self.ask("POST", "/session", Some(&wanted))?;
        let session = answer["sessionId"].as_str().ok_or("the driver gave no session")?.to_owned();
        let process = answer["capabilities"]["goog:processID"].as_u64();
        let process = process.and_then(|process| u32::try_from(process).ok());
        process.inspect(|process| ending::note(*process));
        Ok(Browser { port: self.port, session, profile: profile.to_owned(), process })
    }

    fn ask(&self, method: &str, path: &str, body: Option<&Value>) -> Outcome<Value> {
        value_of(&http::ask(self.port, method, path, &[], body)?)
    }
}

impl Drop for Driver {
    fn drop(&mut self) {
        drop(self.process.kill());
        drop(self.process.wait());
        ending::forget(self.process.id());
    }
}

fn value_of(answer: &http::Answer) -> Outcome<Value> {
    let value: Value = serde_json::from_slice(&answer.body).map_err(|error| error.to_string())?;
    if answer.status == 200 {
        return Ok(value["value"].clone());
    }
    let said = value["value"]["message"].as_str().unwrap_or("no reason given");
    Err(said.lines().next().unwrap_or(said).to_owned())
}

impl Browser {
    fn ask(&self, method: &str, path: &str, body: Option<&Value>) -> Outcome<Value> {
        let path = format!("/session/{}{path}", self.session);
        value_of(&http::ask(self.port, method, &path, &[], body)?)
    }

    /// Goes to an address.
    pub(crate) fn go(&self, address: &str) -> Outcome<()> {
        self.ask("POST", "/url", Some(&json!({"url": address}))).map(drop)
    }

    /// What a script answers; a promise is waited for.
    pub(crate) fn script(&self, script: &str, arguments: &[Value]) -> Outcome<Value> {
        self.ask("POST", "/execute/sync", Some(&json!({"script": script, "args": arguments})))
    }

    /// One of Chromium's own commands.
    pub(crate) fn command(&self, command: &str, parameters: &Value) -> Outcome<Value> {
        let body = json!({"cmd": command, "params": parameters});
        self.ask("POST", "/goog/cdp/execute", Some(&body))
    }

    /// A picture of what is seen, as PNG.
    pub(crate) fn picture(&self) -> Outcome<Vec<u8>> {
        let picture = self.ask("GET", "/screenshot", None)?;
        picture.as_str().and_then(crate::base64::read).ok_or_else(|| "no picture came".to_owned())
    }

    /// What the browser's console says since it was last asked.
    pub(crate) fn console(&self) -> String {
        let lines =
            self.ask("POST", "/se/log", Some(&json!({"type": "browser"}))).unwrap_or_default();
        let lines = lines.as_array().into_iter().flatten();
        lines.filter_map(|line| line["message"].as_str()).collect::<Vec<_>>().join("\n")
    }

    /// What devices do, as WebDriver's actions.
    pub(crate) fn actions(&self, actions: &Value) -> Outcome<()> {
        self.ask("POST", "/actions", Some(actions)).map(drop)
    }

    /// Types keys into the element that a selector finds, as a person would.
    pub(crate) fn type_into(&self, selector: &str, text: &str) -> Outcome<()> {
        let element = self.element(selector)?;
        self.ask("POST", &format!("/element/{element}/value"), Some(&json!({"text": text})))
            .map(drop)
    }

    /// Taps the element that a selector finds; it must be there, be seen, and not lie under another.
    pub(crate) fn tap(&self, selector: &str) -> Outcome<()> {
        let element = self.element(selector)?;
        let tapped = self.ask("POST", &format!("/element/{element}/click"), Some(&json!({})));
        tapped.map(drop).map_err(|why| format!("{selector}: {why}"))
    }

    fn element(&self, selector: &str) -> Outcome<String> {
        let wanted = json!({"using": "css selector", "value": selector});
        let found = self
            .ask("POST", "/element", Some(&wanted))
            .map_err(|why| format!("{selector}: {why}"))?;
        let id = found.as_object().and_then(|it| it.values().next()).and_then(Value::as_str);
        id.map(str::to_owned).ok_or_else(|| format!("{selector}: the driver gave no element"))
    }

    /// Opens another tab and goes there.
    pub(crate) fn new_tab(&self) -> Outcome<()> {
        let made = self.ask("POST", "/window/new", Some(&json!({"type": "tab"})))?;
        self.ask("POST", "/window", Some(&json!({"handle": made["handle"]}))).map(drop)
    }

    /// Goes back to the first tab.
    pub(crate) fn first_tab(&self) -> Outcome<()> {
        let all = self.ask("GET", "/window/handles", None)?;
        self.ask("POST", "/window", Some(&json!({"handle": all[0]}))).map(drop)
    }

    /// Kills the browser as a phone does that runs out of memory: no script runs any more, nothing is tidied up.
    pub(crate) fn kill(mut self) -> Outcome<()> {
        self.kill_now()
    }

    /// The same; what is left can only be dropped.
    pub(crate) fn kill_now(&mut self) -> Outcome<()> {
        let process = self.process.take().ok_or("the driver did not say which process it is")?;
        // All of its processes: the main one ends the others, but not before they have done some more.
        Command::new("pkill")
            .args(["-KILL", "-P", &process.to_string()])
            .status()
            .map_err(|error| error.to_string())?;
        let killed = Command::new("kill")
            .args(["-KILL", &process.to_string()])
            .status()
            .map_err(|error| error.to_string())?;
        if !killed.success() {
            return Err("the browser could not be killed".to_owned());
        }
        ending::forget(process);
        // The profile says that it is in use by a process that is no more.
        std::thread::sleep(Duration::from_millis(300));
        for name in ["SingletonLock", "SingletonCookie", "SingletonSocket"] {
            drop(std::fs::remove_file(self.profile.join(name)));
        }
        Ok(())
    }
}

impl Drop for Browser {
    fn drop(&mut self) {
        if let Some(process) = self.process {
            drop(self.ask("DELETE", "", None));
            ending::forget(process);
        }
    }
}

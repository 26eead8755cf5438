//! The server as a person starts it: what it prints is where it is, codes let devices in, removed ones stay out.

use std::io::{BufRead, BufReader, Read, Write};
use std::net::TcpStream;
use std::process::{Child, Stdio};

use serde_json::{Value as Json, json};

use crate::program::Nearside;

/// A running server, ended when dropped.
pub(crate) struct Serving {
    child: Child,
    pub(crate) at: String,
    /// What it printed until it listened.
    said: String,
}

impl Serving {
    pub(crate) fn start(program: &Nearside) -> Self {
        Self::start_with(program, &[], Stdio::null())
    }

    /// The same with more arguments, its log going elsewhere.
    fn start_with(program: &Nearside, more: &[&str], log: Stdio) -> Self {
        let arguments = ["serve", "--at", "127.0.0.1:0", "--name", "The desk"];
        let mut child = program
            .command(&[&arguments, more].concat())
            .stdout(Stdio::piped())
            .stderr(log)
            .spawn()
            .unwrap();
        let mut said = String::new();
        for line in BufReader::new(child.stdout.take().unwrap()).lines() {
            let line = line.unwrap();
            said.push_str(&line);
            said.push('\n');
            if line.starts_with("stop:") {
                break;
            }
        }
        let app = said
            .lines()
            .find_map(|line| line.strip_prefix("app:"))
            .unwrap_or_else(|| panic!("{said}"));
        let at = app.trim().trim_start_matches("http://").trim_end_matches('/').to_owned();
        Self { child, at, said }
    }

    /// Status and body of what a browser asks for, as text; `body` is a form's.
    pub(crate) fn browse(&self, method: &str, path: &str, body: &str) -> (u16, String) {
        let mut stream = TcpStream::connect(&self.at).unwrap();
        let head = format!(
            "{method} {path} HTTP/1.1\r\nhost: {}\r\nconnection: close\r\n\
             content-type: application/x-www-form-urlencoded\r\ncontent-length: {}\r\n\r\n{body}",
            self.at,
            body.len()
        );
        stream.write_all(head.as_bytes()).unwrap();
        let mut answer = Vec::new();
        stream.read_to_end(&mut answer).unwrap();
        let answer = String::from_utf8_lossy(&answer).into_owned();
        let status = answer.split(' ').nth(1).unwrap().parse().unwrap();
        (status, answer.split_once("\r\n\r\n").unwrap().1.to_owned())
    }

    /// The key of a device that is paired now.
    pub(crate) fn paired(&self, program: &Nearside) -> String {
        let made = program.run(&["pair", "--json"]).json();
        let (_, paired) = self.pair(made["code"].as_str().unwrap());
        paired["key"].as_str().unwrap().to_owned()
    }

    /// The bytes of an answer to a paired device.
    pub(crate) fn fetch(&self, path: &str, key: &str) -> (u16, Vec<u8>) {
        let mut stream = TcpStream::connect(&self.at).unwrap();
        // Without an encoding of its own: the body ends where the line does.
        let head = format!(
            "GET {path} HTTP/1.0\r\nhost: {}\r\nauthorization: Bearer {key}\r\n\r\n",
            self.at
        );
        stream.write_all(head.as_bytes()).unwrap();
        let mut answer = Vec::new();
        stream.read_to_end(&mut answer).unwrap();
        let end = answer.windows(4).position(|four| four == b"\r\n\r\n").unwrap();
        let status = String::from_utf8_lossy(&answer[..end]);
        let status = status.split(' ').nth(1).unwrap().parse().unwrap();
        (status, answer.split_off(end + 4))
    }

    /// Status and body.
    pub(crate) fn ask(&self, method: &str, path: &str, key: &str, body: &str) -> (u16, Json) {
        let mut stream = TcpStream::connect(&self.at).unwrap();
        let head = format!(
            "{method} {path} HTTP/1.1\r\nhost: {}\r\nconnection: close\r\nauthorization: Bearer {key}\r\n\
             content-type: application/json\r\ncontent-length: {}\r\n\r\n{body}",
            self.at,
            body.len()
        );
        stream.write_all(head.as_bytes()).unwrap();
        let mut answer = String::new();
        stream.read_to_string(&mut answer).unwrap();
        let status = answer.split(' ').nth(1).unwrap().parse().unwrap();
        let body = answer.split_once("\r\n\r\n").unwrap().1;
        (status, serde_json::from_str(body).unwrap_or_else(|error| panic!("{error}: {answer}")))
    }

    /// The bytes of what a device gets.
    pub(crate) fn bytes(&self, path: &str, key: &str) -> Vec<u8> {
        let mut stream = TcpStream::connect(&self.at).unwrap();
        let head = format!(
            "GET {path} HTTP/1.1\r\nhost: {}\r\nconnection: close\r\nauthorization: Bearer {key}\r\n\r\n",
            self.at
        );
        stream.write_all(head.as_bytes()).unwrap();
        let mut answer = Vec::new();
        stream.read_to_end(&mut answer).unwrap();
        let body = answer.windows(4).position(|four| four == b"\r\n\r\n").unwrap() + 4;
        answer.split_off(body)
    }

    pub(crate) fn pair(&self, code: &str) -> (u16, Json) {
        let body = json!({ "code": code, "name": "Kitchen phone" }).to_string();
        self.ask("POST", "/v1/pair", "", &body)
    }
}

impl Drop for Serving {
    fn drop(&mut self) {
        self.child.kill().ok();
        self.child.wait().ok();
    }
}

#[test]
fn a_phone_is_let_in_by_a_printed_code_and_shut_out_again() {
    let program = Nearside::with_job();
    let serving = Serving::start(&program);
    let code = serving.said.lines().find_map(|line| line.strip_prefix("pair:")).unwrap();
    let code = code.split_whitespace().next().unwrap();
    assert!(
        serving.said.contains(&format!("http://{}/#pair={code}", serving.at)),
        "{}",
        serving.said
    );
    assert!(serving.said.contains("█"), "no picture for a phone's camera:\n{}", serving.said);

    let (status, paired) = serving.pair(code);
    assert_eq!(status, 200, "{paired}");
    assert_eq!(paired["server"], "The desk");
    let key = paired["key"].as_str().unwrap();
    let (status, jobs) = serving.ask("GET", "/v1/jobs", key, "");
    assert_eq!((status, &jobs["jobs"][0]["job"]), (200, &json!("2026-001")));

    let devices = program.run(&["device", "list", "--json"]).json();
    assert_eq!(devices.as_array().unwrap().len(), 1);
    assert_eq!(
        (&devices[0]["name"], &devices[0]["removed"]),
        (&json!("Kitchen phone"), &json!(null))
    );
    assert_eq!(devices[0]["device"], paired["device"]);
    assert!(program.run(&["device", "remove", "Kitchen"]).refused().contains("Kitchen phone"));
    program.run(&["device", "remove", "Kitchen phone"]).text();
    let (status, refused) = serving.ask("GET", "/v1/jobs", key, "");
    assert_eq!((status, &refused["reason"]), (403, &json!("device_removed")));
    assert!(program.run(&["device", "list"]).text().contains("removed 20"));
}

#[test]
fn codes_are_made_while_the_server_runs_also_for_one_job() {
    let program = Nearside::with_job();
    let other = [
        "job",
        "new",
        "--kind",
        "travel_trailer",
        "--number",
        "2026-002",
        "--inspector",
        "B. Inspector",
    ];
    program.run(&other).text();
    let serving = Serving::start(&program);
    let made = program.run(&["pair", "--job", "2026-002", "--json"]).json();
    let code = made["code"].as_str().unwrap();
    assert_eq!(made["link"], format!("http://{}/#pair={code}", serving.at));
    let (status, paired) = serving.pair(&code.to_lowercase());
    assert_eq!(status, 200, "{paired}");
    let (_, jobs) = serving.ask("GET", "/v1/jobs", paired["key"].as_str().unwrap(), "");
    let seen: Vec<&Json> = jobs["jobs"].as_array().unwrap().iter().map(|job| &job["job"]).collect();
    assert_eq!(seen, ["2026-002"]);
    let (status, refused) = serving.pair(code);
    assert_eq!((status, &refused["reason"]), (403, &json!("code_used")));
    assert!(program.run(&["pair", "--job", "2026-020"]).refused().contains("2026-020"));
}

#[test]
fn a_phone_finds_words_in_the_jobs_that_it_may_see() {
    let program = Nearside::with_job();
    let other =
        ["job", "new", "--number", "2026-002", "--client", "A. Client", "--inspector", "B. I."];
    program.run(&other).text();
    let serving = Serving::start(&program);
    let key = |arguments: &[&str]| {
        let made = program.run(&[&["pair", "--json"], arguments].concat()).json();
        let (_, paired) = serving.pair(made["code"].as_str().unwrap());
        paired["key"].as_str().unwrap().to_owned()
    };
    let (all, one) = (key(&[]), key(&["--job", "2026-002"]));
    // The server works the jobs out by itself; until it has, it says how many it is behind.
    let numbers = |key: &str| -> Vec<String> {
        for _ in 0..600 {
            let (status, found) = serving.ask("GET", "/v1/search?q=client&most=5", key, "");
            assert_eq!(status, 200, "{found}");
            if found["behind"] == 0 {
                let hits = found["hits"].as_array().unwrap().iter();
                return hits.map(|hit| hit["job"].as_str().unwrap().to_owned()).collect();
            }
            std::thread::sleep(std::time::Duration::from_millis(100));
        }
        panic!("the archive was not brought up to date");
    };
    let mut seen = numbers(&all);
    seen.sort();
    assert_eq!(seen, ["2026-001", "2026-002"]);
    assert_eq!(numbers(&one), ["2026-002"]);
    let (status, found) = serving.ask("GET", "/v1/search?q=2026-001", &one, "");
    assert_eq!((status, &found["jobs"], &found["hits"]), (200, &json!(0), &json!([])));
    for wrong in ["/v1/search", "/v1/search?q=", "/v1/search?q=%22%2A", "/v1/search?q=a&most=-1"] {
        let (status, refused) = serving.ask("GET", wrong, &all, "");
        assert_eq!((status, &refused["reason"]), (400, &json!("unreadable")), "{wrong}");
    }
    assert_eq!(serving.ask("GET", "/v1/search?q=client", "", "").0, 401);
}

#[test]
fn the_invented_job_is_made_once_and_served() {
    let program = Nearside::new();
    let looked_at = |serving: &Serving| {
        let key = serving.paired(&program);
        let (status, jobs) = serving.ask("GET", "/v1/jobs", &key, "");
        assert_eq!(status, 200, "{jobs}");
        let number = demo::job().0.number;
        let all: Vec<&Json> = jobs["jobs"].as_array().unwrap().iter().collect();
        assert_eq!(all.len(), 1, "{jobs}");
        assert_eq!(all[0]["job"], json!(number));
        let photos = program.inspection_of(&number).photos;
        assert!(photos.len() > 50, "{}", photos.len());
        for photo in photos.keys().take(3) {
            let (status, bytes) = serving.fetch(&format!("/v1/jobs/{number}/blobs/{photo}"), &key);
            assert_eq!((status, &bytes[..2]), (200, &[0xff, 0xd8][..]), "{photo} is no JPEG");
        }
        (all[0]["head"].clone(), photos.len())
    };
    let serving = Serving::start_with(&program, &["--demo"], Stdio::null());
    let first = looked_at(&serving);
    drop(serving);
    // The second time it is there already, and stays what it is.
    let serving = Serving::start_with(&program, &["--demo"], Stdio::null());
    assert_eq!(looked_at(&serving), first);
}

#[test]
fn the_log_for_machines_has_a_line_for_each_request_and_no_key_code_or_job() {
    let program = Nearside::with_job();
    let log = program.path("log");
    let file = std::fs::File::create(&log).unwrap();
    let serving = Serving::start_with(&program, &["--log", "json"], Stdio::from(file));
    let made = program.run(&["pair", "--json"]).json();
    let code = made["code"].as_str().unwrap();
    let (status, paired) = serving.pair(code);
    assert_eq!(status, 200, "{paired}");
    let key = paired["key"].as_str().unwrap();
    assert_eq!(serving.pair("0000-1111").0, 403);
    let changes = format!("/v1/jobs/2026-001/changes?after=0&at={}", "0".repeat(64));
    assert_eq!(serving.ask("GET", &changes, key, "").0, 200);
    assert_eq!(serving.ask("GET", "/v1/jobs", &"f".repeat(64), "").0, 401);
    assert_eq!(serving.ask("GET", "/v1/search?q=client", key, "").0, 200);
    drop(serving);

    let text = std::fs::read_to_string(&log).unwrap();
    let lines: Vec<Json> = text
        .lines()
        .map(|line| serde_json::from_str(line).unwrap_or_else(|error| panic!("{error}: {line}")))
        .collect();
    let answered: Vec<(&str, &str, u64)> = lines
        .iter()
        .filter(|line| line["message"] == "answered")
        .map(|line| {
            assert!(line["ms"].is_u64() && line["timestamp"].is_string(), "{line}");
            assert_eq!(line["peer"], "127.0.0.1", "{line}");
            let word = |key: &str| line[key].as_str().unwrap();
            (word("method"), word("path"), line["status"].as_u64().unwrap())
        })
        .collect();
    let expected = [
        ("POST", "/v1/pair", 200),
        ("POST", "/v1/pair", 403),
        ("GET", "/v1/jobs/{job}/changes", 200),
        ("GET", "/v1/jobs", 401),
        ("GET", "/v1/search", 200),
    ];
    assert_eq!(answered, expected, "{text}");
    let plain = code.replace('-', "");
    for secret in [key, code, &plain, "0000-1111", &"f".repeat(64), "2026-001", "client"] {
        assert!(!text.contains(secret), "the log holds {secret}: {text}");
    }
}

#[test]
fn where_it_cannot_serve_it_says_why() {
    let program = Nearside::with_job();
    let refused = program.run(&["serve", "--demo"]);
    assert!(refused.refused().contains("has jobs of its own"));
    assert!(program.run(&["serve", "--at", "nowhere"]).err.contains("HOST:PORT"));
    assert_ne!(program.run(&["serve", "--certificate", "c.pem"]).status, 0);
    let given = ["serve", "--at", "0.0.0.0:0", "--certificate", "c.pem", "--key", "k.pem"];
    let missing = program.run(&given);
    assert_eq!(missing.status, 1, "{missing:?}");
    assert!(missing.err.contains("c.pem"), "{}", missing.err);

    let serving = Serving::start(&program);
    let taken = program.run(&["serve", "--at", &serving.at]);
    assert_eq!(taken.status, 1);
    assert!(taken.err.contains(&serving.at) && taken.err.contains("hint: "), "{}", taken.err);
}

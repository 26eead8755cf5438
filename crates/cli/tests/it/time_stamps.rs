//! A release with a time stamp, from a service on this computer: an HTTP server around `openssl ts`.

use std::io::{BufRead, BufReader, Read, Write};
use std::net::{TcpListener, TcpStream};
use std::sync::{Arc, Mutex};

use crate::authority::{Authority, P256};
use crate::bags::{files, released, with_photo};
use crate::program::{Nearside, Run, text};

/// What the service answers to the next requests.
#[derive(Clone, Copy, PartialEq)]
enum Mood {
    Honest,
    /// An answer to some other request.
    Stale,
    /// A byte in the middle of the answer is changed.
    Damaged,
    /// The right words in the wrong form.
    WebPage,
    Broken,
    /// Takes the connection and says nothing.
    Silent,
    /// Sends the first half, then goes.
    Half,
}

struct Service {
    address: String,
    mood: Arc<Mutex<Mood>>,
    authority: Arc<Authority>,
}

impl Service {
    fn start() -> Self {
        let listener = TcpListener::bind("127.0.0.1:0").unwrap();
        let address = format!("http://{}/stamp", listener.local_addr().unwrap());
        let mood = Arc::new(Mutex::new(Mood::Honest));
        let authority = Arc::new(Authority::new(P256));
        let (moods, stamps) = (Arc::clone(&mood), Arc::clone(&authority));
        // The thread ends with the test's process.
        std::thread::spawn(move || {
            for stream in listener.incoming() {
                let mood = *moods.lock().unwrap();
                answer(stream.unwrap(), mood, &stamps);
            }
        });
        Self { address, mood, authority }
    }

    fn set(&self, mood: Mood) {
        *self.mood.lock().unwrap() = mood;
    }
}

fn answer(stream: TcpStream, mood: Mood, authority: &Authority) {
    if mood == Mood::Silent {
        return;
    }
    let mut reader = BufReader::new(stream.try_clone().unwrap());
    let (mut length, mut is_query) = (0, false);
    loop {
        let mut line = String::new();
        if reader.read_line(&mut line).unwrap() == 0 || line == "\r\n" {
            break;
        }
        let line = line.to_lowercase();
        if let Some(value) = line.strip_prefix("content-length:") {
            length = value.trim().parse().unwrap();
        }
        is_query |= line.trim() == "content-type: application/timestamp-query";
    }
    let mut request = vec![0; length];
    reader.read_exact(&mut request).unwrap();
    assert!(is_query, "the request does not say what it is");
    let (status, body) = match mood {
        Mood::Broken => ("503 Service Unavailable", b"later".to_vec()),
        Mood::WebPage => ("200 OK", b"<html>welcome</html>".to_vec()),
        Mood::Stale => {
            let other = bag::TimeStampRequest::new(bag::Sha256::of(b"x"), [9; 8], None).unwrap();
            ("200 OK", authority.answer(&other.to_der(), "usual"))
        }
        Mood::Damaged => {
            let mut body = authority.answer(&request, "usual");
            // In the hash that is signed: thirty bytes of it stand in the request as well.
            let hash = &request[30..50];
            let at = body.windows(20).position(|window| window == hash).unwrap();
            body[at] ^= 1;
            ("200 OK", body)
        }
        Mood::Honest | Mood::Half | Mood::Silent => ("200 OK", authority.answer(&request, "usual")),
    };
    let head = format!(
        "HTTP/1.1 {status}\r\nContent-Type: application/timestamp-reply\r\nContent-Length: {}\r\n\
         Connection: close\r\n\r\n",
        body.len()
    );
    let kept = if mood == Mood::Half { body.len() / 2 } else { body.len() };
    let mut stream = stream;
    // Whoever asked may have gone.
    let _sent = stream.write_all(&[head.as_bytes(), &body[..kept]].concat());
}

const RELEASE: [&str; 4] = ["release", "2026-001", "--accept", "a test"];

impl Nearside {
    /// With a passphrase, and straight to the service on this computer.
    fn asking(&self, arguments: &[&str]) -> Run {
        let mut command = self.command(arguments);
        for proxy in ["http_proxy", "HTTP_PROXY", "all_proxy", "ALL_PROXY"] {
            command.env_remove(proxy);
        }
        command.env("NEARSIDE_PASSPHRASE", crate::bags::PASSPHRASE);
        Run::of(&command.output().unwrap())
    }
}

#[test]
fn a_release_is_stamped_kept_written_out_and_read_back() {
    let service = Service::start();
    let program = with_photo();
    program.with_key("B. Inspector", None);
    let said = program.asking(&[&RELEASE[..], &["--time-stamp", &service.address]].concat());
    assert_eq!(said.err, "");
    assert!(said.text().contains("by the time stamp of CN=Invented Stamps"));
    program.run(&["export", "2026-001", "--into", "bag"]).text();
    let out = program.run(&["verify", "bag"]).text();
    for words in [
        "was there on 20",
        "(accurate to 1 s 500 ms as it says)",
        "policy 1.2.3.4.1, number 0",
        "for which vouch: CN=Invented Authority,O=Invented Time; then CN=Invented Root",
        "whether to trust it is for you to know",
        "every byte is what was signed",
    ] {
        assert!(out.contains(words), "{words}: {out}");
    }
    assert!(!out.contains("clock"), "{out}");
    let json = program.run(&["verify", "bag", "--json"]).json();
    assert_eq!(json["time_stamps"][0]["policy"], "1.2.3.4.1");
    assert_eq!(json["time_stamps"][0]["rooted"], true);

    // OpenSSL says the same of the file in the bag.
    let written = files(&program.path("bag"));
    let (name, kept) = written.iter().find(|(path, _)| path.ends_with(".tsr")).unwrap();
    service.authority.write("kept.tsr", kept);
    service.authority.write("manifest", &written["tagmanifest-sha256.txt"]);
    let check = ["ts", "-verify", "-in", "kept.tsr", "-data", "manifest", "-CAfile", "root.pem"];
    let (said, good) = service.authority.ask(&check);
    assert!(good, "{said}");

    // Out and in again, as folder and zip file: the same bag.
    program.run(&["export", "2026-001", "--into", "bag.zip"]).text();
    let there = Nearside::new();
    there.run(&["job", "import", &text(&program.path("bag.zip"))]).text();
    there.run(&["export", "2026-001", "--into", "bag"]).text();
    assert!(written == files(&there.path("bag")));

    // A changed byte in the stamp is laid to it.
    let path = program.path("bag").join(name);
    let mut bytes = kept.clone();
    let middle = bytes.len() / 2;
    bytes[middle] ^= 1;
    std::fs::write(path, bytes).unwrap();
    let said = program.run(&["verify", "bag"]);
    assert_eq!(said.status, 4);
    assert!(said.out.contains(&format!("DIFFERS  {name}: ")), "{}", said.out);
}

#[test]
fn without_a_network_the_release_stands_and_is_stamped_later() {
    // A port on which nobody listens any more.
    let nowhere = {
        let listener = TcpListener::bind("127.0.0.1:0").unwrap();
        format!("http://{}", listener.local_addr().unwrap())
    };
    let program = with_photo();
    program.with_key("B. Inspector", None);
    let made = program.asking(&[&RELEASE[..], &["--time-stamp", &nowhere, "--json"]].concat());
    assert_eq!(made.status, 0, "{made:?}");
    assert!(made.err.contains("the release has no time stamp yet: "), "{}", made.err);
    assert!(made.err.contains("`nearside stamp 2026-001 ADDRESS` asks again"), "{}", made.err);
    assert_eq!(made.json()["time_stamp"], serde_json::Value::Null);
    program.run(&["export", "2026-001", "--into", "before"]).text();
    let before = files(&program.path("before"));
    assert!(before.keys().all(|path| !path.ends_with(".tsr")));
    assert!(!program.run(&["verify", "before"]).text().contains("time stamp"));

    let later = program.asking(&["stamp", "2026-001", &nowhere]);
    assert_eq!(later.status, 1, "{later:?}");
    assert!(later.err.contains("the release stands as it was"), "{}", later.err);
    let service = Service::start();
    let said = program.asking(&["stamp", "2026-001", &service.address, "--policy", "1.2.3.4.5"]);
    assert!(said.text().contains("policy 1.2.3.4.5"));
    program.run(&["export", "2026-001", "--into", "after"]).text();
    let mut after = files(&program.path("after"));
    program.run(&["verify", "after"]).text();
    after.retain(|path, _| !path.ends_with(".tsr"));
    assert!(before == after, "nothing but the stamp was added");
    // A second one stands beside the first.
    program.asking(&["stamp", "2026-001", &service.address, "--release", "1"]).text();
    program.run(&["export", "2026-001", "--into", "twice"]).text();
    let json = program.run(&["verify", "twice", "--json"]).json();
    assert_eq!(json["time_stamps"].as_array().unwrap().len(), 2);
}

#[test]
fn what_a_service_answers_wrongly_is_not_kept() {
    let service = Service::start();
    let program = released();
    let stamp = ["stamp", "2026-001", service.address.as_str()];
    for (mood, words) in [
        (Mood::Stale, "another hash"),
        (Mood::Damaged, "a byte of it was changed"),
        (Mood::WebPage, "no answer of a time stamp service"),
        (Mood::Broken, "HTTP status 503"),
        (Mood::Silent, "could not be reached"),
        (Mood::Half, "broke off"),
    ] {
        service.set(mood);
        let said = program.asking(&stamp);
        assert_eq!(said.status, 1, "{said:?}");
        assert!(
            said.err.contains("no time stamp: ") && said.err.contains(words),
            "{words}: {said:?}"
        );
    }
    service.set(Mood::Honest);
    let said = program.asking(&[&stamp[..], &["--policy", "1.2.3.9"]].concat());
    assert!(said.err.contains("the service refused; it does not know the policy"), "{said:?}");
    program.run(&["export", "2026-001", "--into", "bag"]).text();
    assert!(files(&program.path("bag")).keys().all(|path| !path.ends_with(".tsr")));
}

#[test]
fn a_wrong_address_or_policy_is_said_before_anything_is_done() {
    let program = with_photo();
    program.with_key("B. Inspector", None);
    for (words, said) in [
        (vec!["--time-stamp", "time.example"], "no address of a time stamp service"),
        (vec!["--time-stamp", "ftp://time.example"], "no address of a time stamp service"),
        (vec!["--time-stamp", "http://"], "no address of a time stamp service"),
        (
            vec!["--time-stamp", "http://127.0.0.1:9", "--time-stamp-policy", "mine"],
            "`mine` is no policy",
        ),
    ] {
        let refused = program.asking(&[&RELEASE[..], &words].concat()).refused();
        assert!(refused.contains(said), "{refused}");
    }
    // Nothing was released meanwhile.
    assert!(
        program.run(&["stamp", "2026-001", "http://127.0.0.1:9"]).refused().contains("no release")
    );
    program.asking(&RELEASE).text();
    let said =
        program.run(&["stamp", "2026-001", "http://127.0.0.1:9", "--release", "2"]).refused();
    assert!(said.contains("no release 2"), "{said}");
}

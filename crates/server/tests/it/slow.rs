//! Whoever sends slowly on purpose is let go: a head or a body that does not come within its half minute ends the connection,
//! and others are answered meanwhile.

use std::{
    io::{ErrorKind, Read, Write},
    net::{SocketAddr, TcpStream},
    time::{Duration, Instant},
};

use crate::{
    child::{self, Process},
    line::Line,
};

/// A head's or a small body's time, and how much more a busy machine may take.
const PATIENCE: Duration = Duration::from_secs(30);
const BUSY: Duration = Duration::from_secs(20);

/// Sends `begin`, then a byte of `more` each second, until the server ends the connection: after how long, and what it said.
fn until_let_go(at: SocketAddr, begin: &str, more: &str) -> (Duration, String) {
    let start = Instant::now();
    let mut stream = TcpStream::connect(at).unwrap();
    stream.set_read_timeout(Some(Duration::from_secs(1))).unwrap();
    stream.write_all(begin.as_bytes()).unwrap();
    let mut more = more.bytes();
    let mut said = Vec::new();
    let mut some = [0; 4_096];
    while start.elapsed() < PATIENCE + BUSY {
        match stream.read(&mut some) {
            Ok(0) => break,
            Ok(count) => said.extend_from_slice(&some[..count]),
            Err(error) if matches!(error.kind(), ErrorKind::WouldBlock | ErrorKind::TimedOut) => {
                // What cannot be sent any more is read as the end in the next turn.
                let _ended = more.next().map(|byte| stream.write_all(&[byte]));
            }
            Err(_ended) => break,
        }
    }
    (start.elapsed(), String::from_utf8_lossy(&said).into_owned())
}

#[test]
fn a_head_or_a_body_that_trickles_in_is_given_up_after_half_a_minute() {
    let folder = tempfile::tempdir().unwrap();
    let key = child::let_in(folder.path(), 1);
    let server = Process::start(folder.path(), "127.0.0.1:0".parse().unwrap());
    let at = server.at;
    let host = format!("host: {at}\r\n");
    let slow = |begin: String, more: &'static str| {
        std::thread::spawn(move || until_let_go(at, &begin, more))
    };
    let json = "content-type: application/json\r\ncontent-length: 90\r\n\r\n";
    let trickle = "abcdefghijklmnopqrstuvwxyzabcdefghijklmnopqrstuvwxyz";
    let heads = [
        slow("GET /healthz HTTP/1.1\r\n".to_owned(), ""),
        slow(format!("GET /healthz HTTP/1.1\r\n{host}x: "), trickle),
    ];
    let bodies = [
        slow(format!("POST /v1/pair HTTP/1.1\r\n{host}{json}"), ""),
        slow(
            format!(
                "POST /v1/jobs/2026-041/changes HTTP/1.1\r\n{host}authorization: Bearer {key}\r\n{json}"
            ),
            trickle,
        ),
    ];
    // Nobody else waits for them.
    let start = Instant::now();
    let ask = || Line::new(at, Some(key.clone())).ask("GET", "/v1/jobs", &[], &[]);
    assert_eq!(ask().unwrap().status, 200);
    assert!(start.elapsed() < Duration::from_secs(15), "{:?}", start.elapsed());

    let within =
        |took: Duration| took > PATIENCE - Duration::from_secs(1) && took < PATIENCE + BUSY;
    for head in heads {
        let (took, said) = head.join().unwrap();
        assert!(within(took), "a slow head was let go after {took:?}: {said}");
        assert!(!said.starts_with("HTTP/1.1 200"), "{said}");
    }
    for body in bodies {
        let (took, said) = body.join().unwrap();
        assert!(within(took), "a slow body was let go after {took:?}: {said}");
        assert!(said.starts_with("HTTP/1.1 408"), "{took:?}: {said}");
        assert!(said.contains("the body did not come in time"), "{said}");
    }
    assert_eq!(ask().unwrap().status, 200);
}

//! Stopping: what was begun is finished, and streams end.

use std::{
    io::{Read, Write},
    net::TcpStream,
    sync::mpsc,
    time::{Duration, Instant},
};

use sync::wire::Push;

use crate::{child, line::Line, records};

#[test]
fn a_server_that_is_told_to_stop_ends_streams_and_keeps_what_it_acknowledged() {
    let folder = tempfile::tempdir().unwrap();
    let key = child::let_in(folder.path(), 1);
    let settings = child::settings(folder.path(), "127.0.0.1:0".parse().unwrap());
    let (stop, stopped) = tokio::sync::oneshot::channel::<()>();
    let (listening, listens) = mpsc::channel();
    let server = std::thread::spawn(move || {
        let told = async {
            stopped.await.ok();
        };
        server::run(settings, told, |running| listening.send(running.clone()).unwrap())
    });
    let running = listens.recv().unwrap();
    assert!(running.code.is_none(), "a device is in already");

    let mut stream = TcpStream::connect(running.at).unwrap();
    stream.set_read_timeout(Some(Duration::from_secs(20))).unwrap();
    let ask = format!(
        "GET /v1/pokes HTTP/1.1\r\nhost: {}\r\nauthorization: Bearer {key}\r\n\r\n",
        running.at
    );
    stream.write_all(ask.as_bytes()).unwrap();
    let mut line = Line::new(running.at, Some(key));
    let author = records::author(1);
    let first = records::new_record(&author, "2026-041").changes_after(&[]).remove(0).bytes;
    let body = Push { changes: vec![first] }.to_json();
    let kind = [("content-type", "application/json")];
    let answer = line.ask("POST", "/v1/jobs/2026-041/changes", &kind, &body).unwrap();
    assert_eq!(answer.status, 200);

    let start = Instant::now();
    stop.send(()).unwrap();
    let mut heard = String::new();
    stream.read_to_string(&mut heard).unwrap();
    assert!(heard.contains("data: {\"job\":\"2026-041\",\"head\":1}"), "{heard}");
    server.join().unwrap().unwrap();
    assert!(start.elapsed() < Duration::from_secs(15), "{:?}", start.elapsed());
    assert!(TcpStream::connect(running.at).is_err());
    let store = store::Store::open(folder.path()).unwrap();
    assert_eq!(store.jobs().unwrap()[0].head_seq, 1);
}

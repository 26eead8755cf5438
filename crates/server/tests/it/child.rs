//! A server in a process of its own: this same test program, told by its environment to serve.

use std::{
    env,
    io::{BufRead, BufReader, Write},
    net::SocketAddr,
    path::{Path, PathBuf},
    process::{Child, Command, Stdio},
};

use server::{Certificate, LogFormat, Settings};
use sha2::{Digest, Sha256};
use store::{NewDevice, Store};

const FOLDER: &str = "NEARSIDE_TEST_SERVER_FOLDER";
const AT: &str = "NEARSIDE_TEST_SERVER_AT";
const SAYS: &str = "listening at ";

/// Settings of a server for tests.
pub(crate) fn settings(folder: &Path, at: SocketAddr) -> Settings {
    Settings {
        data: folder.to_owned(),
        at,
        name: "The desk".into(),
        certificate: Certificate::Own { install_port: None },
        log: LogFormat::Off,
        live: None,
        office: None,
    }
}

/// Not a test: what the process does. Without its environment it does nothing.
#[test]
fn serve_for_another_test() {
    let (Some(folder), Ok(at)) = (env::var_os(FOLDER), env::var(AT)) else { return };
    let settings = settings(&PathBuf::from(folder), at.parse().unwrap());
    let started = |running: &server::Running| {
        let mut out = std::io::stdout();
        writeln!(out, "\n{SAYS}{}", running.at).unwrap();
        out.flush().unwrap();
    };
    server::run(settings, std::future::pending(), started).unwrap();
}

/// A running process.
pub(crate) struct Process {
    pub(crate) child: Child,
    pub(crate) at: SocketAddr,
}

impl Process {
    /// Starts it; `at` may have port 0.
    pub(crate) fn start(folder: &Path, at: SocketAddr) -> Self {
        let mut child = Command::new(env::current_exe().unwrap())
            .args(["child::serve_for_another_test", "--exact", "--nocapture", "--test-threads=1"])
            .env(FOLDER, folder)
            .env(AT, at.to_string())
            .stdout(Stdio::piped())
            .stderr(Stdio::null())
            .stdin(Stdio::null())
            .spawn()
            .unwrap();
        let mut lines = BufReader::new(child.stdout.take().unwrap()).lines();
        let at = loop {
            let line = lines.next().expect("the server says where it listens").unwrap();
            if let Some(at) = line.strip_prefix(SAYS) {
                break at.parse().unwrap();
            }
        };
        Self { child, at }
    }

    /// SIGKILL: no time to finish anything.
    pub(crate) fn kill(&mut self) {
        self.child.kill().unwrap();
        self.child.wait().unwrap();
    }
}

impl Drop for Process {
    fn drop(&mut self) {
        // It may be dead already.
        let _dead = self.child.kill();
        let _reaped = self.child.wait();
    }
}

/// Lets a device in without a code; its key.
pub(crate) fn let_in(folder: &Path, number: usize) -> String {
    let key = format!("{number:064x}");
    let device = NewDevice {
        id: format!("device-{number}"),
        name: format!("Phone {number}"),
        person: "inspector".into(),
        key: Sha256::digest(&key).to_vec(),
    };
    Store::open(folder).unwrap().add_device(0, &device).unwrap();
    key
}

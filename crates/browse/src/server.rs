//! A real server with a data folder of its own, stopped and started as the checks want.

use std::{
    path::{Path, PathBuf},
    process::{Child, Command, Stdio},
};

use serde_json::Value;

use crate::{
    Outcome,
    browser::{free_port, wait_for_port},
    ending,
};

/// The server.
pub(crate) struct Server {
    program: PathBuf,
    /// Its data folder.
    data: PathBuf,
    port: u16,
    /// Where it listens, and what else it is told.
    serve: Vec<String>,
    process: Option<Child>,
}

impl Server {
    /// Starts one on a folder that is not there yet.
    pub(crate) fn start(program: &Path, data: &Path) -> Outcome<Self> {
        let port = free_port()?;
        Self::begin(program, data, port, vec![format!("127.0.0.1:{port}")])
    }

    /// Starts one that phones in a network could reach, with the page that says how it is trusted; that page's port.
    pub(crate) fn on_network(program: &Path, data: &Path) -> Outcome<(Self, u16)> {
        let (port, install) = (free_port()?, free_port()?);
        let serve =
            vec![format!("0.0.0.0:{port}"), "--install-port".to_owned(), install.to_string()];
        let server = Self::begin(program, data, port, serve)?;
        wait_for_port(install, 30)?;
        Ok((server, install))
    }

    fn begin(program: &Path, data: &Path, port: u16, serve: Vec<String>) -> Outcome<Self> {
        let (program, data) = (program.to_owned(), data.to_owned());
        let mut server = Self { program, data, port, serve, process: None };
        server.start_again()?;
        Ok(server)
    }

    /// Starts it again on the same folder and port.
    pub(crate) fn start_again(&mut self) -> Outcome<()> {
        let process = self
            .command(&["serve", "--at"])
            .args(&self.serve)
            .stdout(Stdio::null())
            .stderr(Stdio::null())
            .spawn()
            .map_err(|error| format!("{}: {error}", self.program.display()))?;
        ending::note(process.id());
        self.process = Some(process);
        wait_for_port(self.port, 30)
    }

    /// Stops it: the honest way to be without a network.
    pub(crate) fn stop(&mut self) -> Outcome<()> {
        if let Some(mut process) = self.process.take() {
            process.kill().map_err(|error| error.to_string())?;
            process.wait().map_err(|error| error.to_string())?;
            ending::forget(process.id());
        }
        match std::net::TcpStream::connect(("127.0.0.1", self.port)) {
            Ok(_) => Err("somebody still listens on the server's port".to_owned()),
            Err(_) => Ok(()),
        }
    }

    /// Its data folder.
    pub(crate) fn data_folder(&self) -> String {
        self.data.display().to_string()
    }

    /// The port it listens on.
    pub(crate) fn port(&self) -> u16 {
        self.port
    }

    /// The app's address.
    pub(crate) fn address(&self) -> String {
        format!("http://127.0.0.1:{}/", self.port)
    }

    /// A new pairing code.
    pub(crate) fn code(&self) -> Outcome<String> {
        let answer = self.run(&["pair", "--json"])?;
        let value: Value = serde_json::from_str(&answer).map_err(|error| error.to_string())?;
        value["code"]
            .as_str()
            .map(str::to_owned)
            .ok_or_else(|| "`nearside pair` gave no code".to_owned())
    }

    /// What the program prints on this folder.
    pub(crate) fn run(&self, words: &[&str]) -> Outcome<String> {
        let output = self.command(words).output().map_err(|error| error.to_string())?;
        if output.status.success() {
            return Ok(String::from_utf8_lossy(&output.stdout).into_owned());
        }
        let said = String::from_utf8_lossy(&output.stderr);
        Err(format!("nearside {}: {}", words.join(" "), said.trim()))
    }

    fn command(&self, words: &[&str]) -> Command {
        let mut command = Command::new(&self.program);
        command.arg("--data").arg(&self.data).args(words).stdin(Stdio::null());
        command
    }
}

impl Drop for Server {
    fn drop(&mut self) {
        if let Some(process) = &mut self.process {
            drop(process.kill());
            drop(process.wait());
            ending::forget(process.id());
        }
    }
}

//! The built program with a data folder of its own.

use std::path::{Path, PathBuf};
use std::process::{Command, Output, Stdio};

use serde_json::Value as Json;
use tempfile::TempDir;

/// What a run printed, and its exit status.
#[derive(Debug)]
pub(crate) struct Run {
    pub(crate) out: String,
    pub(crate) err: String,
    pub(crate) status: i32,
}

impl Run {
    pub(crate) fn of(output: &Output) -> Self {
        Self {
            out: String::from_utf8(output.stdout.clone()).unwrap(),
            err: String::from_utf8(output.stderr.clone()).unwrap(),
            status: output.status.code().unwrap(),
        }
    }

    /// The output as JSON, of a run that worked.
    pub(crate) fn json(&self) -> Json {
        assert_eq!(self.status, 0, "{self:?}");
        serde_json::from_str(&self.out).unwrap_or_else(|error| panic!("{error}: {}", self.out))
    }

    /// The output of a run that worked.
    pub(crate) fn text(self) -> String {
        assert_eq!(self.status, 0, "{self:?}");
        self.out
    }

    /// What a refused run said.
    pub(crate) fn refused(self) -> String {
        assert_eq!(self.status, 2, "{self:?}");
        assert!(self.err.starts_with("error: "), "{}", self.err);
        self.err
    }
}

/// The program with a folder for data, sheets and photos.
#[derive(Debug)]
pub(crate) struct Nearside {
    folder: TempDir,
}

impl Nearside {
    pub(crate) fn new() -> Self {
        Self { folder: tempfile::tempdir().unwrap() }
    }

    /// With a job: a manufactured home with gas and a mains supply.
    pub(crate) fn with_job() -> Self {
        let program = Self::new();
        program
            .run(&[
                "job",
                "new",
                "--kind",
                "manufactured_home",
                "--number",
                "2026-001",
                "--visit",
                "2026-06-12",
                "--client",
                "A. Client",
                "--inspector",
                "B. Inspector",
                "--equipment",
                "gas,mains,wheels",
                "--built",
                "1998-04",
            ])
            .text();
        program
    }

    pub(crate) fn data(&self) -> PathBuf {
        self.folder.path().join("data")
    }

    pub(crate) fn path(&self, name: &str) -> PathBuf {
        self.folder.path().join(name)
    }

    /// Writes a file and gives its path as text.
    pub(crate) fn write(&self, name: &str, bytes: impl AsRef<[u8]>) -> String {
        let path = self.path(name);
        std::fs::create_dir_all(path.parent().unwrap()).unwrap();
        std::fs::write(&path, bytes).unwrap();
        text(&path)
    }

    pub(crate) fn command(&self, arguments: &[&str]) -> Command {
        let mut command = Command::new(env!("CARGO_BIN_EXE_nearside"));
        command
            .args(arguments)
            .env("NEARSIDE_DATA", self.data())
            .env("USER", "somebody")
            .env("COLUMNS", "100")
            .current_dir(self.folder.path())
            .stdin(Stdio::null());
        command
    }

    pub(crate) fn run(&self, arguments: &[&str]) -> Run {
        Run::of(&self.command(arguments).output().unwrap())
    }

    /// The sheet of the job as it is printed now.
    pub(crate) fn sheet(&self) -> String {
        self.run(&["job", "sheet", "2026-001"]).text()
    }

    /// The record's plain data, read from the store by the libraries and not by the program.
    pub(crate) fn inspection(&self) -> inspection::Inspection {
        self.inspection_of("2026-001")
    }

    /// The same of the job with this number.
    pub(crate) fn inspection_of(&self, number: &str) -> inspection::Inspection {
        let (inspection, problems) = self.record_of(number).inspection();
        assert_eq!(problems, []);
        inspection
    }

    /// The job's record, as it lies in the store.
    pub(crate) fn record(&self) -> record::Record {
        self.record_of("2026-001")
    }

    fn record_of(&self, number: &str) -> record::Record {
        let store = store::Store::open(&self.data()).unwrap();
        let job = store::JobId::new(number).unwrap();
        let changes = store.changes(&job, 0, usize::MAX).unwrap();
        record::Record::load(changes.iter().map(|change| change.bytes.as_slice())).unwrap()
    }

    /// How many changes the job's record has.
    pub(crate) fn changes(&self) -> u64 {
        let list = self.run(&["job", "list", "--json"]).json();
        list[0]["changes"].as_u64().unwrap()
    }
}

pub(crate) fn text(path: &Path) -> String {
    path.to_str().unwrap().to_owned()
}

//! Errors as people see them: `error:`, `hint:`, and an exit status that tells the kinds apart.

use std::fmt::Display;
use std::process::ExitCode;

/// Colours of a terminal (ECMA-48, SGR); they are left out where none shows them.
const RED: &str = "\u{1b}[1;31m";
const CYAN: &str = "\u{1b}[36m";
const PLAIN: &str = "\u{1b}[0m";

/// Why a command stopped.
#[derive(Debug)]
pub(crate) struct Failure {
    kind: Kind,
    message: String,
    hint: String,
}

/// Kinds of failures, each with its exit status.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Kind {
    /// Something went wrong that the input does not explain: exit status 1.
    Failed,
    /// What was asked or given is not acceptable: exit status 2.
    Input,
    /// Possible inputs outside a formula's range: exit status 3.
    OutOfRange,
    /// A bag is not what was packed: exit status 4.
    Differs,
    /// All was said on standard output already: this exit status, without a word.
    Said(u8),
    /// Whoever read the output has gone: exit status 0, without a word.
    PipeClosed,
}

impl Failure {
    /// Something that the input does not explain.
    pub(crate) fn failed(message: impl Display) -> Self {
        Self { kind: Kind::Failed, message: message.to_string(), hint: String::new() }
    }

    /// An input that is not acceptable.
    pub(crate) fn input(message: impl Display) -> Self {
        Self { kind: Kind::Input, message: message.to_string(), hint: String::new() }
    }

    /// Outside a formula's range.
    pub(crate) fn out_of_range(message: impl Display) -> Self {
        Self { kind: Kind::OutOfRange, message: message.to_string(), hint: String::new() }
    }

    /// A bag that is not what was packed.
    pub(crate) fn differs(message: impl Display) -> Self {
        Self { kind: Kind::Differs, message: message.to_string(), hint: String::new() }
    }

    /// What was found stands on standard output; only the exit status is left to give.
    pub(crate) fn said(status: u8) -> Self {
        Self { kind: Kind::Said(status), message: String::new(), hint: String::new() }
    }

    /// The same with a hint on what to do.
    pub(crate) fn hint(self, hint: impl Display) -> Self {
        Self { hint: hint.to_string(), ..self }
    }

    /// What kind it is.
    pub(crate) fn kind(&self) -> Kind {
        self.kind
    }

    /// What happened, without the hint.
    pub(crate) fn message(&self) -> &str {
        &self.message
    }

    /// What to do about it; empty where nothing is known.
    pub(crate) fn hinted(&self) -> &str {
        &self.hint
    }

    /// Prints it and gives the exit status.
    pub(crate) fn report(&self) -> ExitCode {
        if !matches!(self.kind, Kind::PipeClosed | Kind::Said(_)) {
            anstream::eprintln!("{RED}error:{PLAIN} {}", self.message);
            if !self.hint.is_empty() {
                anstream::eprintln!("{CYAN}hint:{PLAIN} {}", self.hint);
            }
        }
        ExitCode::from(match self.kind {
            Kind::Failed => 1,
            Kind::Input => 2,
            Kind::OutOfRange => 3,
            Kind::Differs => 4,
            Kind::Said(status) => status,
            Kind::PipeClosed => 0,
        })
    }
}

impl From<std::io::Error> for Failure {
    fn from(error: std::io::Error) -> Self {
        let kind = if error.kind() == std::io::ErrorKind::BrokenPipe {
            Kind::PipeClosed
        } else {
            Kind::Failed
        };
        Self { kind, message: error.to_string(), hint: String::new() }
    }
}

impl From<store::StoreError> for Failure {
    fn from(error: store::StoreError) -> Self {
        match error {
            store::StoreError::Refused { .. } | store::StoreError::NotOurs { .. } => {
                Self::input(error)
            }
            other => Self::failed(other),
        }
    }
}

impl From<record::RecordError> for Failure {
    fn from(error: record::RecordError) -> Self {
        Self::failed(error)
    }
}

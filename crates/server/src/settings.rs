//! What a person decides about a server: where its data is, where it listens, how it proves who it is.

use std::{net::SocketAddr, path::PathBuf};

use crate::agreement::Office;
use crate::live::Live;

/// What a person decides about a server.
#[derive(Debug, Clone)]
pub struct Settings {
    /// The data folder.
    pub data: PathBuf,
    /// Where to listen. On the loopback address the server speaks plain HTTP, anywhere else HTTPS.
    pub at: SocketAddr,
    /// What devices show as the server's name.
    pub name: String,
    /// How the server proves who it is, where it speaks HTTPS.
    pub certificate: Certificate,
    /// How to write the log on standard error.
    pub log: LogFormat,
    /// What lays out a part of a job's report for a screen; without it the server has no such pages.
    pub live: Option<Live>,
    /// Who makes the agreement's pages; nothing is at their addresses without.
    pub office: Option<Office>,
}

/// How a server proves who it is.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Certificate {
    /// By a certificate authority of its own, made in the data folder at the first start. Phones have to
    /// be told once to trust it.
    Own {
        /// Beside the main address, hand out the authority's certificate over plain HTTP at this port,
        /// with a page that says how a phone is told to trust it.
        install_port: Option<u16>,
    },
    /// By a certificate from elsewhere.
    Given {
        /// The certificate and those between it and its authority, PEM.
        certificate: PathBuf,
        /// Its private key, PEM.
        key: PathBuf,
    },
}

/// How to write the log.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum LogFormat {
    /// For people.
    Text,
    /// One JSON object a line.
    Json,
    /// Not at all: whoever embeds the server logs by itself.
    Off,
}

//! `nearside key`: the inspector's signing key.

use std::io::Write;

use bag::{SALT_LENGTH, SigningKey};
use clap::{Args, Subcommand};
use serde_json::{Value, json};

use crate::bags::keys::{self, KeyArguments, public_path};
use crate::data_folder::{Place, read_text};
use crate::failure::Failure;
use crate::today;

/// Makes the inspector's signing key, and shows its public half.
#[derive(Args, Debug)]
#[command(
    after_help = "Examples:\n  nearside key new --name \"B. Inspector\"\n  nearside key show"
)]
pub(crate) struct KeyCommandArguments {
    #[command(subcommand)]
    command: KeyCommand,
}

#[derive(Subcommand, Debug)]
enum KeyCommand {
    New(NewArguments),
    Show(ShowArguments),
}

/// Makes a new Ed25519 key and keeps it encrypted with a passphrase.
///
/// The file is encrypted PKCS#8 (RFC 5958, RFC 8018: scrypt, AES-256), which OpenSSL and other general tools open too.
/// Beside it stands the public half, ending in .public.json: give that to whoever is to check your signatures. Keep a
/// copy of the key and its passphrase apart from this computer; nobody can restore them.
#[derive(Args, Debug)]
#[command(after_help = "Examples:\n  nearside key new --name \"B. Inspector\"\n  \
                        nearside key new --name \"B. Inspector\" --key my-key.pem")]
struct NewArguments {
    /// Your name as it should stand beside your signatures
    #[arg(long, value_name = "NAME")]
    name: String,
    #[command(flatten)]
    key: KeyArguments,
    /// Print one JSON object
    #[arg(long)]
    json: bool,
}

/// Shows the public half of the key: its thumbprint, and where its file is.
#[derive(Args, Debug)]
#[command(after_help = "Examples:\n  nearside key show\n  nearside key show --json")]
struct ShowArguments {
    #[command(flatten)]
    key: KeyArguments,
    /// Print one JSON object
    #[arg(long)]
    json: bool,
}

pub(crate) fn run(place: &Place, arguments: &KeyCommandArguments) -> Result<(), Failure> {
    match &arguments.command {
        KeyCommand::New(arguments) => new(place, arguments),
        KeyCommand::Show(arguments) => show(place, arguments),
    }
}

fn new(place: &Place, arguments: &NewArguments) -> Result<(), Failure> {
    let name = arguments.name.trim();
    if name.is_empty() || name.chars().any(char::is_control) {
        return Err(Failure::input("whose key is it? the name is empty or has line breaks")
            .hint("write it like --name \"B. Inspector\""));
    }
    let path = arguments.key.path(place)?;
    let passphrase = arguments.key.new_passphrase()?;
    let (mut seed, mut salt) = ([0_u8; 32], [0_u8; SALT_LENGTH]);
    for bytes in [&mut seed, &mut salt] {
        getrandom::fill(bytes)
            .map_err(|error| Failure::failed(format!("no random numbers for a key: {error}")))?;
    }
    let key = SigningKey::from_seed(seed);
    let pem = key.to_encrypted_pem(&passphrase, &salt).map_err(Failure::failed)?;
    let store = keys::store_beside(place, &path)?;
    let public = keys::write(&path, &pem, &key.public(), name, &today::today().to_string())?;
    if let Some(store) = &store {
        keys::seal(store, [&path, &public])?;
    }
    let thumbprint = key.public().thumbprint();
    let mut out = std::io::stdout().lock();
    if arguments.json {
        let object = json!({
            "key": path.display().to_string(),
            "public": public.display().to_string(),
            "name": name,
            "thumbprint": thumbprint,
        });
        writeln!(out, "{object}")?;
        return Ok(());
    }
    writeln!(out, "key {thumbprint} of {name}")?;
    writeln!(out, "encrypted: {}", path.display())?;
    writeln!(out, "to give away: {}", public.display())?;
    writeln!(
        out,
        "keep a copy of the first and its passphrase elsewhere; nobody can restore them"
    )?;
    Ok(())
}

fn show(place: &Place, arguments: &ShowArguments) -> Result<(), Failure> {
    let path = public_path(&arguments.key.path(place)?);
    if !path.exists() {
        return Err(Failure::input(format!(
            "there is no public half of a key at {}",
            path.display()
        ))
        .hint("`nearside key new` makes a key"));
    }
    let value: Value = serde_json::from_str(&read_text(&path)?)
        .map_err(|error| Failure::input(format!("{}: {error}", path.display())))?;
    let mut out = std::io::stdout().lock();
    if arguments.json {
        writeln!(out, "{value}")?;
        return Ok(());
    }
    let word = |name: &str| value[name].as_str().unwrap_or_default().to_owned();
    writeln!(out, "key {} of {}, made {}", word("thumbprint"), word("name"), word("made"))?;
    writeln!(out, "to give away: {}", path.display())?;
    Ok(())
}

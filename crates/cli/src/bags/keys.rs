//! The inspector's signing key in the data folder, and the passphrase that opens it.

use std::io::{IsTerminal, Read, Write};
use std::path::{Path, PathBuf};

use bag::{PublicKey, SigningKey};
use clap::Args;
use serde_json::{Value, json};
use store::{Companion, Store};

use crate::data_folder::{Place, read_text, write_file};
use crate::failure::Failure;
use crate::today;

/// Which key signs, and how it is opened.
#[derive(Args, Clone, Debug, Default)]
pub(crate) struct KeyArguments {
    /// The key's file; `signing-key.pem` in the data folder if left out
    #[arg(long, value_name = "FILE")]
    key: Option<PathBuf>,
    /// File whose first line is the passphrase; else NEARSIDE_PASSPHRASE, else it is asked for
    #[arg(long, value_name = "FILE")]
    passphrase_file: Option<PathBuf>,
}

/// The usual key's file.
const USUAL: &str = "signing-key.pem";
/// The fewest letters of a new passphrase.
const FEWEST_LETTERS: usize = 10;

impl KeyArguments {
    /// Where the key is.
    pub(crate) fn path(&self, place: &Place) -> Result<PathBuf, Failure> {
        match &self.key {
            Some(path) => Ok(path.clone()),
            None => Ok(place.folder()?.join(USUAL)),
        }
    }

    /// Opens the key.
    pub(crate) fn open(&self, place: &Place) -> Result<SigningKey, Failure> {
        let path = self.path(place)?;
        if !path.exists() {
            return Err(Failure::input(format!("there is no signing key at {}", path.display()))
                .hint("`nearside key new` makes one; --key FILE names another"));
        }
        let pem = read_text(&path)?;
        let passphrase = self.passphrase("passphrase of the signing key: ")?;
        SigningKey::from_encrypted_pem(&pem, &passphrase)
            .map_err(|error| Failure::input(format!("{}: {error}", path.display())))
    }

    /// The day when the key was made, as its public half says; today where that is not at hand.
    pub(crate) fn made(&self, place: &Place) -> Result<String, Failure> {
        let public = public_path(&self.path(place)?);
        let value: Value = match std::fs::read_to_string(&public) {
            Ok(text) => serde_json::from_str(&text).unwrap_or_default(),
            Err(_) => Value::Null,
        };
        let made = value["made"].as_str().filter(|day| day.parse::<jiff::civil::Date>().is_ok());
        Ok(made.map_or_else(|| today::today().to_string(), str::to_owned))
    }

    /// A new passphrase, asked for twice where it is typed.
    pub(crate) fn new_passphrase(&self) -> Result<String, Failure> {
        let passphrase = self.passphrase("new passphrase: ")?;
        if passphrase.chars().count() < FEWEST_LETTERS {
            return Err(Failure::input(format!(
                "the passphrase has fewer than {FEWEST_LETTERS} letters"
            ))
            .hint("several words in a row are easy to remember and hard to guess"));
        }
        let typed = self.passphrase_file.is_none() && given().is_none();
        if typed && self.passphrase("the same again: ")? != passphrase {
            return Err(Failure::input("the two passphrases differ; no key was made"));
        }
        Ok(passphrase)
    }

    fn passphrase(&self, prompt: &str) -> Result<String, Failure> {
        if let Some(path) = &self.passphrase_file {
            return first_line(path);
        }
        if let Some(passphrase) = given() {
            return Ok(passphrase);
        }
        if !std::io::stdin().is_terminal() {
            return Err(Failure::input(
                "the passphrase of the key is needed, and nobody is there to ask",
            )
            .hint("give --passphrase-file FILE, or NEARSIDE_PASSPHRASE in the environment"));
        }
        rpassword::prompt_password(prompt)
            .map_err(|error| Failure::failed(format!("the passphrase could not be read: {error}")))
    }
}

/// A key, opened with the passphrase that stands in a file.
pub(crate) fn opened(key: &Path, passphrase_file: &Path) -> Result<SigningKey, Failure> {
    let passphrase = first_line(passphrase_file)?;
    SigningKey::from_encrypted_pem(&read_text(key)?, &passphrase).map_err(Failure::input)
}

fn first_line(path: &Path) -> Result<String, Failure> {
    Ok(read_text(path)?.lines().next().unwrap_or_default().to_owned())
}

/// A key that lies in the data folder, as its public half names it.
pub(crate) struct Known {
    /// The encrypted key's file.
    pub(crate) path: PathBuf,
    pub(crate) thumbprint: String,
    pub(crate) name: String,
    pub(crate) made: String,
}

/// The keys in the data folder that have their public half beside them: the usual one first, then by name.
pub(crate) fn known(folder: &Path) -> Vec<Known> {
    let Ok(entries) = std::fs::read_dir(folder) else { return Vec::new() };
    let mut known: Vec<Known> = entries
        .filter_map(|entry| {
            let path = entry.ok()?.path();
            let own = path.extension().is_some_and(|ending| ending == "pem");
            let public = public_path(&path);
            if !own || !public.is_file() {
                return None;
            }
            let value: Value =
                serde_json::from_str(&std::fs::read_to_string(&public).ok()?).ok()?;
            let key = PublicKey::from_base64url(value.pointer("/jwk/x")?.as_str()?)?;
            let word = |name: &str| value[name].as_str().unwrap_or_default().to_owned();
            Some(Known {
                path,
                thumbprint: key.thumbprint(),
                name: word("name"),
                made: word("made"),
            })
        })
        .collect();
    known.sort_by_key(|key| (!key.path.ends_with(USUAL), key.name.clone(), key.path.clone()));
    known
}

fn given() -> Option<String> {
    std::env::var("NEARSIDE_PASSPHRASE").ok()
}

/// Writes a new key's two files: the encrypted one, and the public half beside it, which may be given to anybody.
pub(crate) fn write(
    path: &Path,
    pem: &str,
    key: &PublicKey,
    name: &str,
    day: &str,
) -> Result<PathBuf, Failure> {
    let public = public_path(path);
    for path in [path, &public] {
        if path.exists() {
            return Err(Failure::input(format!("{} is there already", path.display()))
                .hint("a key is never overwritten: what it signed could not be told from a forgery; name another with --key"));
        }
    }
    if let Some(folder) = path.parent() {
        std::fs::create_dir_all(folder)?;
    }
    secret_file(path, pem.as_bytes())
        .map_err(|error| Failure::failed(format!("{}: {error}", path.display())))?;
    let jwk: Value = serde_json::from_str(&key.to_jwk()).unwrap_or_default();
    let object = json!({"name": name, "made": day, "thumbprint": key.thumbprint(), "jwk": jwk});
    write_file(&public, format!("{object:#}\n").as_bytes())?;
    Ok(public)
}

/// The store to seal a new key in, where the key is to lie in the data folder: opened before the key is there, for a folder
/// with anything in it and no store is taken for somebody else's.
pub(crate) fn store_beside(place: &Place, path: &Path) -> Result<Option<Store>, Failure> {
    let data = place.folder()?;
    let parent = match path.parent() {
        Some(parent) if !parent.as_os_str().is_empty() => parent,
        _ => Path::new("."),
    };
    let same = parent == data
        || matches!((parent.canonicalize(), data.canonicalize()), (Ok(one), Ok(other)) if one == other);
    if same { place.store().map(Some) } else { Ok(None) }
}

/// Seals a new key's two files, so that one that rots is noticed.
pub(crate) fn seal(store: &Store, files: [&Path; 2]) -> Result<(), Failure> {
    for (path, secret) in files.into_iter().zip([true, false]) {
        let Some(name) = path.file_name().and_then(|name| name.to_str()) else { continue };
        let bytes = std::fs::read(path)?;
        store.seal_file(&Companion { name: name.to_owned(), bytes, secret })?;
    }
    Ok(())
}

/// Readable by its owner alone, from its first byte on.
fn secret_file(path: &Path, bytes: &[u8]) -> std::io::Result<()> {
    let mut options = std::fs::File::options();
    options.write(true).create_new(true);
    #[cfg(unix)]
    std::os::unix::fs::OpenOptionsExt::mode(&mut options, 0o600);
    let mut file = options.open(path)?;
    file.write_all(bytes)?;
    file.sync_all()
}

/// The public half's file beside a key's.
pub(crate) fn public_path(path: &Path) -> PathBuf {
    path.with_extension("public.json")
}

/// The thumbprint that a person names: as it is, or from the file of a public half.
pub(crate) fn thumbprint(words: &str) -> Result<String, Failure> {
    let path = Path::new(words);
    if path.is_file() {
        let mut text = String::new();
        std::fs::File::open(path)?.read_to_string(&mut text)?;
        let value: Value = serde_json::from_str(&text).unwrap_or_default();
        let key = value.pointer("/jwk/x").or_else(|| value.get("x")).and_then(Value::as_str);
        return key.and_then(PublicKey::from_base64url).map(|key| key.thumbprint()).ok_or_else(
            || {
                Failure::input(format!("{words} holds no public half of a key"))
                    .hint("`nearside key new` writes one beside the key; it ends in .public.json")
            },
        );
    }
    let plain = |letter: char| letter.is_ascii_alphanumeric() || "-_".contains(letter);
    if words.len() == 43 && words.chars().all(plain) {
        return Ok(words.to_owned());
    }
    Err(Failure::input(format!("`{words}` is neither a file nor a key's thumbprint"))
        .hint("a thumbprint has 43 letters, as `nearside key show` prints it"))
}

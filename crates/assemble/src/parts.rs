//! The compiled app as it was taken apart: what starts it, and what comes afterwards.

use std::path::Path;

use crate::{File, read_folder};

/// The parts of a module.
pub(crate) struct Parts {
    /// What starts the app, still without glue.
    pub(crate) first: Vec<u8>,
    /// What comes afterwards, by the names that the loader gives it.
    pub(crate) later: Vec<File>,
    /// The script that fetches what comes afterwards.
    pub(crate) loader: String,
}

/// The part that starts the app.
const FIRST: &str = "app.wasm";
/// The name under which it asks for the loader.
pub(crate) const LOADER: &str = "./__wasm_split.js";
/// How the loader would get at the first part's exports.
const GLUE: &str = "./app.js";

/// Reads the folder in which `cargo xtask web` had the module taken apart.
pub(crate) fn read(folder: &Path) -> Result<Parts, String> {
    let (mut first, mut later, mut loader) = (None, Vec::new(), None);
    for (name, bytes) in read_folder(folder)? {
        match name.as_str() {
            FIRST => first = Some(bytes),
            _ if name.ends_with(".wasm") => later.push((name, without_custom_sections(&bytes))),
            _ if LOADER.ends_with(&name) => {
                loader = Some(String::from_utf8_lossy(&bytes).into_owned());
            }
            _ => return Err(format!("{}: what is {name}?", folder.display())),
        }
    }
    match (first, loader) {
        (Some(first), Some(loader)) => Ok(Parts { first, later, loader: handed_over(&loader)? }),
        _ => Err(format!("{} lacks {FIRST} or {LOADER}", folder.display())),
    }
}

/// The loader with the glue handed to it instead of named by it: each would else have to hold the other's name, and with
/// it the hash of its content.
fn handed_over(loader: &str) -> Result<String, String> {
    let import = format!("import {{ initSync }} from \"{GLUE}\";");
    if !loader.contains(&import) {
        return Err(format!("the loader does not begin with {import}"));
    }
    let handed = "let initSync;\nexport const hand = (glue) => { initSync = glue.initSync; };";
    Ok(loader.replacen(&import, handed, 1))
}

/// A module without what only tools read: names, mostly (WebAssembly core specification, 5.5.3).
fn without_custom_sections(module: &[u8]) -> Vec<u8> {
    const HEADER: usize = 8;
    let (header, mut rest) = module.split_at(HEADER.min(module.len()));
    let mut kept = header.to_vec();
    while let Some((id, after)) = rest.split_first() {
        let (mut size, mut shift, mut length) = (0_usize, 0, 1);
        for byte in after {
            size |= usize::from(byte & 0x7f) << shift;
            (shift, length) = (shift + 7, length + 1);
            if byte & 0x80 == 0 {
                break;
            }
        }
        let (section, next) = rest.split_at((length + size).min(rest.len()));
        if *id != 0 {
            kept.extend_from_slice(section);
        }
        rest = next;
    }
    kept
}

#[cfg(test)]
mod tests {
    use super::{handed_over, without_custom_sections};

    #[test]
    fn names_are_left_out_and_nothing_else() {
        let header = b"\0asm\x01\0\0\0".to_vec();
        let types = [1, 4, 1, 0x60, 0, 0];
        // A custom section of 130 bytes, whose length takes two bytes.
        let custom = [vec![0, 0x82, 0x01], vec![7; 130]].concat();
        let with = [header.as_slice(), &custom, &types, &[0, 2, 1, b'x']].concat();
        assert_eq!(without_custom_sections(&with), [header.as_slice(), &types].concat());
    }

    #[test]
    fn a_loader_of_another_kind_is_refused() {
        let handed = handed_over("import { initSync } from \"./app.js\";\nuse(initSync)").unwrap();
        assert!(handed.ends_with("use(initSync)") && !handed.contains("import"), "{handed}");
        assert!(handed_over("import * as it from './app.js'").is_err());
    }
}

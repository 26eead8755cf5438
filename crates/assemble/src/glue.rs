//! The glue between the page and the module, made by the library that belongs to the module's own.

use std::path::Path;

use wasm_bindgen_cli_support::Bindgen;

use crate::{File, parts};

/// The compiled app and what loads it.
pub(crate) struct Glue {
    /// The script that fetches what comes after the start; it names that as its maker did.
    pub(crate) loader: String,
    /// What comes after the start.
    pub(crate) later: Vec<File>,
    /// The script that loads the module; it names the snippets by their names here, with `./` before.
    pub(crate) script: String,
    /// The module as it is loaded.
    pub(crate) wasm: Vec<u8>,
    /// Scripts that libraries bring along.
    pub(crate) snippets: Vec<File>,
}

/// Makes the glue for a module that was taken apart.
pub(crate) fn make(folder: &Path) -> Result<Glue, String> {
    let said = |error: &dyn std::fmt::Display| format!("{}: {error:#}", folder.display());
    let taken = parts::read(folder)?;
    let mut output = Bindgen::new()
        .input_bytes("app", taken.first)
        .out_name("app")
        // The later part takes them from the first.
        .keep_lld_exports(true)
        .web(true)
        .map_err(|error| said(&error))?
        .typescript(false)
        .remove_name_section(true)
        .remove_producers_section(true)
        .generate_output()
        .map_err(|error| said(&error))?;
    let mut snippets: Vec<File> = Vec::new();
    for (library, scripts) in output.snippets() {
        for (number, script) in scripts.iter().enumerate() {
            let name = format!("snippets/{library}/inline{number}.js");
            snippets.push((name, script.clone().into_bytes()));
        }
    }
    let modules = output.local_modules().iter();
    snippets.extend(
        modules.map(|(path, script)| (format!("snippets/{path}"), script.clone().into_bytes())),
    );
    snippets.sort();
    let script = output.js().to_owned();
    let wasm = output.wasm_mut().emit_wasm();
    Ok(Glue { loader: taken.loader, later: taken.later, script, wasm, snippets })
}

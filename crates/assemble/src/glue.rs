//! The glue between the page and the module, made by the library that belongs to the module's own.

use std::path::Path;

use wasm_bindgen_cli_support::Bindgen;

use crate::File;

/// The compiled app and what loads it.
pub(crate) struct Glue {
    /// The script that loads the module; it names the snippets by their names here, with `./` before.
    pub(crate) script: String,
    /// The module as it is loaded.
    pub(crate) wasm: Vec<u8>,
    /// Scripts that libraries bring along.
    pub(crate) snippets: Vec<File>,
}

/// Makes the glue for a module.
pub(crate) fn make(module: &Path) -> Result<Glue, String> {
    let said = |error: &dyn std::fmt::Display| format!("{}: {error:#}", module.display());
    let mut output = Bindgen::new()
        .input_path(module)
        .out_name("app")
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
    Ok(Glue { script, wasm: output.wasm_mut().emit_wasm(), snippets })
}

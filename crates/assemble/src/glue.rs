//! The glue between the page and the module, made by the library that belongs to the module's own.

use std::path::Path;

use wasm_bindgen_cli_support::Bindgen;

/// The script that loads the module, and the module as it is loaded.
pub(crate) fn make(module: &Path) -> Result<(Vec<u8>, Vec<u8>), String> {
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
    // Such files would have to be laid out, named and kept too; so far no library needs one.
    let extra = output.snippets().keys().chain(output.local_modules().keys()).next();
    if let Some(name) = extra {
        return Err(format!(
            "a library brings a script of its own ({name}), which is not laid out: do without it"
        ));
    }
    let script = output.js().as_bytes().to_vec();
    Ok((script, output.wasm_mut().emit_wasm()))
}

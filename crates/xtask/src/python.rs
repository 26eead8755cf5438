//! Python environments with outside programs and libraries, each kept as long as its list of packages is the same.

use crate::{
    Outcome,
    needs::on_path,
    workspace::{run_shown, target_dir},
};
use std::{
    fs,
    path::{Path, PathBuf},
    process::Command,
};

/// The Python of the environment with this name, with the packages that these files pin. Made once, and again when a file
/// has changed.
pub(crate) fn environment(name: &str, requirements: &[PathBuf]) -> Outcome<PathBuf> {
    let folder = target_dir().join("python").join(name);
    let python = folder.join(if cfg!(windows) { "Scripts/python.exe" } else { "bin/python" });
    let mut wanted = String::new();
    for file in requirements {
        wanted += &fs::read_to_string(file).map_err(|error| said(file, &error))?;
    }
    let installed = folder.join("installed.txt");
    if python.exists() && fs::read_to_string(&installed).is_ok_and(|it| it == wanted) {
        return Ok(python);
    }
    if !on_path("python3") {
        return Err("Python 3 is not on this machine; install it and start again".to_owned());
    }
    if folder.exists() {
        fs::remove_dir_all(&folder).map_err(|error| said(&folder, &error))?;
    }
    run_shown(Command::new("python3").args(["-m", "venv"]).arg(&folder)).map_err(|why| {
        format!("{why} (on Debian, Python's environments need `apt-get install python3-venv`)")
    })?;
    let mut install = Command::new(&python);
    install.args(["-m", "pip", "install", "--quiet", "--disable-pip-version-check"]);
    for file in requirements {
        install.arg("-r").arg(file);
    }
    run_shown(&mut install)?;
    fs::write(&installed, wanted).map_err(|error| said(&installed, &error))?;
    Ok(python)
}

fn said(path: &Path, error: &std::io::Error) -> String {
    format!("{}: {error}", path.display())
}

//! Where the workspace is, and how its programs are run.

use crate::Outcome;
use std::{
    env,
    path::{Path, PathBuf},
    process::{Command, Stdio},
};

/// The repository's root folder.
pub(crate) fn root() -> PathBuf {
    // cargo sets the variable for what it runs; the compiled-in path serves a binary started by hand.
    let package = env::var_os("CARGO_MANIFEST_DIR")
        .map_or_else(|| PathBuf::from(env!("CARGO_MANIFEST_DIR")), PathBuf::from);
    package.ancestors().nth(2).map_or_else(|| package.clone(), Path::to_path_buf)
}

/// Where cargo puts what it builds: xtask itself lies in its `debug` folder.
pub(crate) fn target_dir() -> PathBuf {
    env::current_exe()
        .ok()
        .and_then(|program| program.ancestors().nth(2).map(Path::to_path_buf))
        .unwrap_or_else(|| root().join("target"))
}

/// The cargo that runs us.
pub(crate) fn cargo() -> PathBuf {
    env::var_os("CARGO").map_or_else(|| PathBuf::from("cargo"), PathBuf::from)
}

/// `cargo …` in the root folder, with nothing to read from: no step may wait for an answer.
pub(crate) fn cargo_command(words: &[&str]) -> Command {
    let mut command = Command::new(cargo());
    command.current_dir(root()).args(words).stdin(Stdio::null());
    command
}

/// Runs a program whose output goes straight to the person, after printing what is run.
pub(crate) fn run_shown(command: &mut Command) -> Outcome {
    println!("$ {}", spelled(command));
    match command.status() {
        Ok(status) if status.success() => Ok(()),
        Ok(status) => Err(format!("`{}` ended with {status}", spelled(command))),
        Err(error) => Err(format!("`{}` could not be started: {error}", spelled(command))),
    }
}

/// What a program prints, if it can be run and succeeds.
pub(crate) fn answer(command: &mut Command) -> Option<String> {
    let output = command.stdin(Stdio::null()).output().ok()?;
    output.status.success().then(|| String::from_utf8_lossy(&output.stdout).into_owned())
}

/// A command as a person would type it.
fn spelled(command: &Command) -> String {
    let program = Path::new(command.get_program());
    let program = program.file_name().unwrap_or(program.as_os_str());
    std::iter::once(program)
        .chain(command.get_args())
        .map(|word| word.to_string_lossy())
        .collect::<Vec<_>>()
        .join(" ")
}

/// A path as it is best shown: relative to the folder the person is in, where that is shorter.
pub(crate) fn shown(path: &Path) -> String {
    let here = env::current_dir().unwrap_or_default();
    path.strip_prefix(&here).unwrap_or(path).display().to_string()
}

#[cfg(test)]
mod tests {
    use super::{root, spelled};
    use std::process::Command;

    #[test]
    fn the_root_holds_the_workspace_manifest() {
        let manifest = std::fs::read_to_string(root().join("Cargo.toml")).unwrap();
        assert!(manifest.contains("[workspace]"));
    }

    #[test]
    fn a_command_is_shown_as_typed_without_its_folder() {
        let command = {
            let mut command = Command::new("/somewhere/bin/cargo");
            command.args(["fmt", "--all", "--check"]);
            command
        };
        assert_eq!(spelled(&command), "cargo fmt --all --check");
    }
}

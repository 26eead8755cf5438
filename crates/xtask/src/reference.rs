//! `cargo xtask reference`: the values in `reference/` that outside libraries computed, computed again.
//!
//! A folder `reference/<name>/` holds `generate.py`, the `requirements.txt` that pins its libraries, and the CSV files it
//! writes into the folder it is started in. Every CSV file there is its output; anything it reads has another ending.

use crate::{
    Outcome,
    arguments::Arguments,
    needs::on_path,
    workspace::{answer, root, run_shown, target_dir},
};
use std::{
    collections::BTreeMap,
    fs,
    path::{Path, PathBuf},
    process::Command,
};

const USAGE: &str = "\
cargo xtask reference [--check] [--only NAME]

Runs every reference/<name>/generate.py in a fresh Python environment made from the
requirements.txt beside it (this downloads Python packages) and rewrites its CSV files.
  --check       compare with the CSV files instead of rewriting them
  --only NAME   one folder instead of all";

/// File names and their contents.
type Tables = BTreeMap<String, String>;

pub(crate) fn run(mut arguments: Arguments) -> Outcome {
    if arguments.switch("--help") {
        println!("{USAGE}");
        return Ok(());
    }
    let check = arguments.switch("--check");
    let only = arguments.value("--only")?;
    arguments.finish(USAGE)?;

    let folders = folders(&root().join("reference"), only.as_deref())?;
    let mut problems = Vec::new();
    for folder in &folders {
        let name = folder.file_name().unwrap_or_default().to_string_lossy();
        println!("\n== reference/{name}");
        let fresh = compute(folder, &target_dir().join("reference").join(&*name))?;
        let kept = tables(folder)?;
        if check {
            problems.extend(differences(&name, &kept, &fresh));
        } else {
            rewrite(folder, &kept, &fresh)?;
        }
    }
    if problems.is_empty() { Ok(()) } else { Err(problems.join("\n       ")) }
}

fn folders(reference: &Path, only: Option<&str>) -> Outcome<Vec<PathBuf>> {
    let mut folders: Vec<PathBuf> = fs::read_dir(reference)
        .map_err(|error| format!("{}: {error}", reference.display()))?
        .flatten()
        .map(|entry| entry.path())
        .filter(|path| path.join("generate.py").is_file())
        .collect();
    folders.sort();
    let names: Vec<String> = folders
        .iter()
        .map(|path| path.file_name().unwrap_or_default().to_string_lossy().into_owned())
        .collect();
    if let Some(only) = only {
        folders.retain(|path| path.ends_with(only));
        if folders.is_empty() {
            return Err(format!("reference/{only}/generate.py is not there; {}", known(&names)));
        }
    }
    if folders.is_empty() {
        return Err("no reference/*/generate.py is there".to_owned());
    }
    Ok(folders)
}

fn known(names: &[String]) -> String {
    format!("there are: {}", names.join(", "))
}

/// Runs the script away from the checkout, with everything from its folder but the CSV files, and
/// reads what it wrote.
fn compute(folder: &Path, scratch: &Path) -> Outcome<Tables> {
    let requirements = folder.join("requirements.txt");
    if !requirements.is_file() {
        return Err(format!("{} is missing: pin the libraries there", requirements.display()));
    }
    if scratch.exists() {
        fs::remove_dir_all(scratch).map_err(|error| format!("{}: {error}", scratch.display()))?;
    }
    let work = scratch.join("work");
    copy_without_tables(folder, &work)?;
    let python = python()?;
    let environment = scratch.join("venv");
    run_shown(Command::new(python).args(["-m", "venv"]).arg(&environment)).map_err(|why| {
        format!("{why} (on Debian, Python's environments need `apt-get install python3-venv`)")
    })?;
    let python = if cfg!(windows) { "Scripts/python.exe" } else { "bin/python" };
    let python = environment.join(python);
    let install = ["-m", "pip", "install", "--quiet", "--disable-pip-version-check", "-r"];
    run_shown(Command::new(&python).args(install).arg(&requirements))?;
    run_shown(
        Command::new(&python)
            .arg("generate.py")
            .current_dir(&work)
            .env("PYTHONHASHSEED", "0")
            .env("PYTHONUTF8", "1"),
    )?;
    tables(&work)
}

fn python() -> Outcome<&'static str> {
    ["python3", "python"]
        .into_iter()
        .find(|name| on_path(name) && answer(Command::new(name).arg("--version")).is_some())
        .ok_or_else(|| "Python 3 is not on this machine; install it and start again".to_owned())
}

fn copy_without_tables(from: &Path, to: &Path) -> Outcome {
    let said = |path: &Path, error: std::io::Error| format!("{}: {error}", path.display());
    fs::create_dir_all(to).map_err(|error| said(to, error))?;
    for entry in fs::read_dir(from).map_err(|error| said(from, error))?.flatten() {
        let path = entry.path();
        let target = to.join(entry.file_name());
        if path.is_dir() {
            copy_without_tables(&path, &target)?;
        } else if !is_table(&path) {
            fs::copy(&path, &target).map_err(|error| said(&path, error))?;
        }
    }
    Ok(())
}

fn is_table(path: &Path) -> bool {
    path.extension().is_some_and(|ending| ending == "csv")
}

fn tables(folder: &Path) -> Outcome<Tables> {
    let said = |path: &Path, error: std::io::Error| format!("{}: {error}", path.display());
    let mut tables = Tables::new();
    for entry in fs::read_dir(folder).map_err(|error| said(folder, error))?.flatten() {
        let path = entry.path();
        if is_table(&path) {
            let text = fs::read_to_string(&path).map_err(|error| said(&path, error))?;
            tables.insert(entry.file_name().to_string_lossy().into_owned(), text);
        }
    }
    Ok(tables)
}

/// What is not the same, a sentence each.
fn differences(name: &str, kept: &Tables, fresh: &Tables) -> Vec<String> {
    let mut problems = Vec::new();
    if fresh.is_empty() {
        problems.push(format!("reference/{name}/generate.py wrote no CSV file"));
    }
    for (file, text) in kept {
        match fresh.get(file) {
            None if fresh.is_empty() => {}
            None => problems
                .push(format!("reference/{name}/{file}: generate.py no longer writes this file")),
            Some(new) if new == text => {}
            Some(new) => {
                let line = first_difference(text, new);
                let at = |text: &str| text.lines().nth(line).unwrap_or("(no line)").to_owned();
                problems.push(format!(
                    "reference/{name}/{file}:{}: kept `{}`, computed `{}`",
                    line + 1,
                    at(text),
                    at(new)
                ));
            }
        }
    }
    for file in fresh.keys().filter(|file| !kept.contains_key(*file)) {
        problems
            .push(format!("reference/{name}/{file}: generate.py writes it, and it is not kept"));
    }
    problems
}

/// The number of lines that are the same from the start.
fn first_difference(kept: &str, fresh: &str) -> usize {
    kept.lines().zip(fresh.lines()).take_while(|(kept, fresh)| kept == fresh).count()
}

fn rewrite(folder: &Path, kept: &Tables, fresh: &Tables) -> Outcome {
    let name = folder.file_name().unwrap_or_default().to_string_lossy();
    if fresh.is_empty() {
        return Err(format!("reference/{name}/generate.py wrote no CSV file"));
    }
    for (file, text) in fresh {
        let fate = match kept.get(file) {
            Some(old) if old == text => "unchanged",
            Some(_) => "rewritten",
            None => "new",
        };
        if fate != "unchanged" {
            let path = folder.join(file);
            fs::write(&path, text).map_err(|error| format!("{}: {error}", path.display()))?;
        }
        println!("  reference/{name}/{file}  {fate}");
    }
    for file in kept.keys().filter(|file| !fresh.contains_key(*file)) {
        println!("  reference/{name}/{file}  no longer written; delete it if nothing reads it");
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::{Tables, differences, folders};
    use std::path::Path;

    fn tables(entries: &[(&str, &str)]) -> Tables {
        entries.iter().map(|(file, text)| ((*file).to_owned(), (*text).to_owned())).collect()
    }

    #[test]
    fn the_same_tables_differ_in_nothing() {
        let kept = tables(&[("a.csv", "x,y\n1,2\n")]);
        assert_eq!(differences("sun", &kept, &kept), Vec::<String>::new());
    }

    #[test]
    fn a_changed_value_is_shown_with_its_line() {
        let kept = tables(&[("a.csv", "x,y\n1,2\n3,4\n")]);
        let fresh = tables(&[("a.csv", "x,y\n1,2\n3,5\n")]);
        assert_eq!(
            differences("sun", &kept, &fresh),
            ["reference/sun/a.csv:3: kept `3,4`, computed `3,5`"]
        );
        let longer = tables(&[("a.csv", "x,y\n1,2\n3,4\n5,6\n")]);
        assert_eq!(
            differences("sun", &kept, &longer),
            ["reference/sun/a.csv:4: kept `(no line)`, computed `5,6`"]
        );
    }

    #[test]
    fn a_file_on_one_side_only_is_named() {
        let kept = tables(&[("a.csv", "1\n"), ("b.csv", "2\n")]);
        let fresh = tables(&[("a.csv", "1\n"), ("c.csv", "3\n")]);
        assert_eq!(
            differences("sun", &kept, &fresh),
            [
                "reference/sun/b.csv: generate.py no longer writes this file",
                "reference/sun/c.csv: generate.py writes it, and it is not kept"
            ]
        );
    }

    #[test]
    fn a_script_that_writes_nothing_never_passes() {
        let kept = tables(&[("a.csv", "1\n")]);
        assert_eq!(
            differences("sun", &kept, &Tables::new()),
            ["reference/sun/generate.py wrote no CSV file"]
        );
    }

    #[test]
    fn an_unknown_folder_is_refused() {
        let nowhere = Path::new(env!("CARGO_MANIFEST_DIR")).join("src");
        assert_eq!(
            folders(&nowhere, Some("moon")),
            Err("reference/moon/generate.py is not there; there are: ".to_owned())
        );
    }
}

//! `cargo xtask ci`: every check there is, cheap ones first; continuous integration calls nothing else.

use crate::{
    Outcome,
    arguments::Arguments,
    bag_check,
    needs::{self, Need},
    steps::{Step, run_in_order, selected},
    web, web_test,
    workspace::{answer, cargo_command, root, run_shown, shown, target_dir},
};
use std::{fs, path::Path, process::Command};

const USAGE: &str = "\
cargo xtask ci [--from STEP | --only STEP]

Runs these steps in order and stops at the first that fails:
  format      the code is formatted
  lint        clippy finds nothing, in tests too
  build       everything compiles, tests included
  test        every test passes, the rules in ARCHITECTURE.md among them
  docs        the documentation builds without warnings
  outside     the demonstration's bag, reports and archive hold before other people's programs
  app         clippy finds nothing in the app; built quickly, it does in a real browser what it promises
  unchanged   no step above changed a file of the checkout: nothing generated was stale";

/// What a step must find on the machine.
enum Tools {
    Cargo,
    Build,
    BuildAndTest,
    BuildAndBrowse,
}

/// Name, what it says when it starts, what it needs, what it does.
type Plan = (&'static str, &'static str, Tools, fn(&Start) -> Outcome);

const STEPS: &[Plan] = &[
    ("format", "the code is formatted", Tools::Cargo, |_| cargo(&["fmt", "--all", "--check"])),
    ("lint", "clippy finds nothing, in tests too", Tools::Build, |_| {
        // The flag goes to our crates only: RUSTFLAGS would build every library again.
        let lint = ["clippy", "--workspace", "--all-targets", "--locked", "--", "-D", "warnings"];
        cargo(&lint)
    }),
    ("build", "everything compiles, tests included", Tools::Build, |start| {
        cargo(if start.nextest { NEXTEST_BUILD } else { PLAIN_BUILD })
    }),
    ("test", "every test passes", Tools::BuildAndTest, |start| {
        cargo(if start.nextest { NEXTEST_RUN } else { PLAIN_RUN })
    }),
    ("docs", "the documentation builds without warnings", Tools::Build, |_| {
        let mut command = cargo_command(&["doc", "--workspace", "--no-deps", "--locked"]);
        run_shown(command.env("RUSTDOCFLAGS", "-Dwarnings"))
    }),
    (
        "outside",
        "the demonstration's bag, reports and archive hold before other people's programs",
        Tools::BuildAndTest,
        |_| bag_check::check(),
    ),
    (
        "app",
        "clippy finds nothing in the app; built quickly, it does in a real browser what it promises",
        Tools::BuildAndBrowse,
        |_| {
            web::lint()?;
            web_test::check()
        },
    ),
    ("unchanged", "no step changed a file of the checkout", Tools::Cargo, unchanged),
];

const NEXTEST_RUN: &[&str] = &["nextest", "run", "--workspace", "--profile", "ci", "--locked"];
const NEXTEST_BUILD: &[&str] =
    &["nextest", "run", "--workspace", "--profile", "ci", "--locked", "--no-run"];
const PLAIN_RUN: &[&str] = &["test", "--workspace", "--locked", "--no-fail-fast"];
const PLAIN_BUILD: &[&str] = &["test", "--workspace", "--locked", "--no-run"];

/// How things stood when the run began.
struct Start {
    /// Whether cargo-nextest is installed.
    nextest: bool,
    /// What git saw changed; nothing outside a git checkout.
    changes: Option<Changes>,
    /// Whether any step ran before the last one.
    alone: bool,
}

pub(crate) fn run(mut arguments: Arguments) -> Outcome {
    if arguments.switch("--help") {
        println!("{USAGE}");
        return Ok(());
    }
    let from = arguments.value("--from")?;
    let only = arguments.value("--only")?;
    arguments.finish(USAGE)?;
    let names: Vec<&str> = STEPS.iter().map(|(name, ..)| *name).collect();
    let chosen = selected(&names, from.as_deref(), only.as_deref())?;
    let chosen: Vec<&Plan> = chosen.into_iter().filter_map(|index| STEPS.get(index)).collect();

    needs::ensure(&needed(&chosen))?;
    if chosen.iter().any(|(_, _, tools, _)| !matches!(tools, Tools::Cargo)) {
        web::make_room()?;
    }
    let start = Start {
        nextest: answer(&mut cargo_command(&["nextest", "--version"])).is_some(),
        changes: Changes::now(),
        alone: chosen.len() == 1,
    };
    if !start.nextest && chosen.iter().any(|(name, ..)| matches!(*name, "build" | "test")) {
        println!(
            "xtask: cargo-nextest is not installed (`cargo install cargo-nextest --locked`); \
             the tests run with plain `cargo test`"
        );
    }

    let start = &start;
    let steps: Vec<Step<'_>> = chosen
        .iter()
        .map(|(name, what, _, act)| Step { name, what, act: Box::new(move || act(start)) })
        .collect();
    let outcome = run_in_order(&steps, &mut std::io::stdout());
    match &outcome {
        Ok(()) => println!("\nwhere to look:{}", results(&target_dir())),
        Err(_) => println!(
            "\nafter mending it, `cargo xtask ci --from STEP` goes on from there; \
             `--only STEP` runs one step"
        ),
    }
    outcome
}

fn needed(chosen: &[&Plan]) -> Vec<&'static Need> {
    let build = chosen.iter().any(|(_, _, tools, _)| !matches!(tools, Tools::Cargo));
    let tests = chosen.iter().any(|(_, _, tools, _)| matches!(tools, Tools::BuildAndTest));
    let build = if build { needs::BUILD } else { &[] };
    let tests = if tests { needs::TESTS } else { &[] };
    let browse = chosen.iter().any(|(_, _, tools, _)| matches!(tools, Tools::BuildAndBrowse));
    let browse = if browse { web_test::NEEDS } else { &[] };
    build.iter().chain(tests).chain(browse).collect()
}

fn cargo(words: &[&str]) -> Outcome {
    run_shown(&mut cargo_command(words))
}

/// The files a run leaves behind, those that are there.
fn results(target: &Path) -> String {
    let places = [
        ("nextest/ci/junit.xml", "every test with its time, for machines"),
        ("doc/plan/index.html", "the documentation of the code, starting with plans"),
        ("debug/nearside", "the program, unoptimized"),
    ];
    let there = places.iter().filter(|(path, _)| target.join(path).exists());
    let lines = there.map(|(path, what)| format!("\n  {}  {what}", shown(&target.join(path))));
    lines.collect::<String>() + "\n  ARCHITECTURE.md  the map of the code"
}

/// What git sees as changed against the last commit: names with their state, and every changed line.
#[derive(PartialEq, Eq)]
struct Changes {
    names: String,
    lines: String,
}

impl Changes {
    fn now() -> Option<Self> {
        let top = answer(&mut git(&["rev-parse", "--show-toplevel"]))?;
        // A folder inside somebody else's checkout is not ours to compare.
        if fs::canonicalize(top.trim()).ok()? != fs::canonicalize(root()).ok()? {
            return None;
        }
        let names = answer(&mut git(&["status", "--porcelain", "--untracked-files=all"]))?;
        let lines = answer(&mut git(&["diff", "HEAD"]))?;
        Some(Self { names, lines })
    }

    fn none() -> Self {
        Self { names: String::new(), lines: String::new() }
    }
}

fn git(words: &[&str]) -> Command {
    let mut command = Command::new("git");
    command.current_dir(root()).args(words);
    command
}

/// Compares with how the checkout stood at the start, so that one's own uncommitted work does no harm;
/// run alone there is nothing to compare with, and everything must be committed.
fn unchanged(start: &Start) -> Outcome {
    let (Some(before), Some(now)) = (&start.changes, Changes::now()) else {
        println!("not a git checkout: nothing to compare");
        return Ok(());
    };
    let committed = Changes::none();
    compare(if start.alone { &committed } else { before }, &now)
}

fn compare(before: &Changes, now: &Changes) -> Outcome {
    if before == now {
        return Ok(());
    }
    let known: Vec<&str> = before.names.lines().collect();
    let mut files: Vec<&str> = now.names.lines().filter(|line| !known.contains(line)).collect();
    if files.is_empty() {
        // A file that was changed before was changed again, or put back.
        files = if now.names.is_empty() { known } else { now.names.lines().collect() };
    }
    Err(format!("these files changed, or are not committed:\n{}", files.join("\n")))
}

#[cfg(test)]
mod tests {
    use super::{Changes, Plan, STEPS, USAGE, compare, needed};

    fn changes(names: &str, lines: &str) -> Changes {
        Changes { names: names.to_owned(), lines: lines.to_owned() }
    }

    #[test]
    fn the_help_names_every_step_in_order() {
        let listed: Vec<&str> = USAGE
            .lines()
            .filter_map(|line| line.strip_prefix("  "))
            .filter_map(|line| line.split_whitespace().next())
            .collect();
        let real: Vec<&str> = STEPS.iter().map(|(name, ..)| *name).collect();
        assert_eq!(listed, real);
    }

    #[test]
    fn a_cheap_step_alone_needs_no_compiler() {
        let steps = |wanted: &str| -> Vec<&'static Plan> {
            STEPS.iter().filter(|(name, ..)| *name == wanted).collect()
        };
        assert_eq!(needed(&steps("format")).len(), 0);
        assert_eq!(needed(&steps("lint")).len(), crate::needs::BUILD.len());
        assert_eq!(
            needed(&steps("test")).len(),
            crate::needs::BUILD.len() + crate::needs::TESTS.len()
        );
        assert_eq!(
            needed(&steps("app")).len(),
            crate::needs::BUILD.len() + crate::web_test::NEEDS.len()
        );
    }

    #[test]
    fn work_in_progress_is_no_change() {
        let mine = changes(" M data/stops.toml\n", "+one line\n");
        let same = changes(" M data/stops.toml\n", "+one line\n");
        assert_eq!(compare(&mine, &same), Ok(()));
    }

    #[test]
    fn a_file_that_a_step_wrote_is_named() {
        let before = changes(" M data/stops.toml\n", "+one line\n");
        let new_file = changes(" M data/stops.toml\n?? help.new\n", "+one line\n");
        let told = "these files changed, or are not committed:\n?? help.new".to_owned();
        assert_eq!(compare(&before, &new_file), Err(told));

        let again = changes(" M data/stops.toml\n", "+another line\n");
        let told = "these files changed, or are not committed:\n M data/stops.toml".to_owned();
        assert_eq!(compare(&before, &again), Err(told));
    }
}

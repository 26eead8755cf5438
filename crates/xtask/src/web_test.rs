//! `cargo xtask web-test`: the app in a real browser, against a real server.

use crate::{
    Outcome,
    arguments::Arguments,
    demo,
    needs::{self, Need},
    web,
    workspace::{cargo_command, root, run_shown, target_dir},
};
use std::{
    path::{Path, PathBuf},
    process::Command,
};

const USAGE: &str = "\
cargo xtask web-test [--quick | --built] [--all] [--pictures] [--only CHECK]

Builds the app and the program, then drives a headless Chromium the size of a phone through it:
pairing, working with the server stopped, killing the browser, two tabs, a newer version, two
devices, many photos, axe-core on every screen, transfer and speed.
--quick: with the app as `cargo xtask web --quick` builds it (its size is then not judged)
--built: with the app and the program as they are
--all: two hundred rounds of server, lines and browsers failing at random, not eight
--pictures: puts pictures of the screens into docs/pictures
--only CHECK: one check alone
The step `app` of `cargo xtask ci` is the quick one.";

/// What the checks need besides what the build does.
pub(crate) const NEEDS: &[Need] = &[
    needs::need("Chromium", &["chromium"], "chromium", "runs the app"),
    needs::need("chromedriver", &["chromedriver"], "chromium-driver", "drives Chromium"),
    needs::need("npm", &["npm"], "npm", "fetches axe-core, the accessibility checks"),
    needs::need(
        "pdfdetach",
        &["pdfdetach"],
        "poppler-utils",
        "takes a report's data out of its PDF",
    ),
];

/// The accessibility checks, as npm knows them.
const AXE: &str = "axe-core@4.14.1";

/// Rounds in which something fails at random, and minutes until a run is ended.
struct Extent {
    rounds: u32,
    minutes: u32,
}

/// Fewer rounds leave one of the three failures out. Some minutes on an idle machine; a busy one may take its time.
const USUAL: Extent = Extent { rounds: 8, minutes: 45 };
const ALL: Extent = Extent { rounds: 200, minutes: 120 };

pub(crate) fn run(mut arguments: Arguments) -> Outcome {
    if arguments.switch("--help") {
        println!("{USAGE}");
        return Ok(());
    }
    let (quick, built) = (arguments.switch("--quick"), arguments.switch("--built"));
    let extent = if arguments.switch("--all") { ALL } else { USUAL };
    let pictures = arguments.switch("--pictures");
    let only = arguments.value("--only")?;
    arguments.finish(USAGE)?;
    needs::ensure(&needs::BUILD.iter().chain(NEEDS).collect::<Vec<_>>())?;
    let app = if built { web::folder() } else { build(quick)? };
    let mut browse = Programs::ordinary().on(&app, &extent)?;
    if quick {
        browse.arg("--quick");
    }
    if pictures {
        browse.arg("--pictures").arg(root().join("docs/pictures"));
    }
    run_shown(browse.args(only))
}

/// The step `app` of `cargo xtask ci`: every check, on the app as it is quickest built.
pub(crate) fn check() -> Outcome {
    let app = build(true)?;
    run_shown(Programs::ordinary().on(&app, &USUAL)?.arg("--quick"))
}

/// The section `app` of `cargo xtask bench`: the checks that measure, on the program and the app as people get them.
pub(crate) fn measure() -> Outcome {
    needs::ensure(&needs::BUILD.iter().chain(NEEDS).collect::<Vec<_>>())?;
    let nearside = demo::optimized(true)?;
    run_shown(&mut cargo_command(&["build", "--release", "--locked", "-p", "browse"]))?;
    let browse = target_dir().join("release").join(exe("browse"));
    let programs = Programs { browse, nearside };
    run_shown(programs.on(&web::folder(), &USUAL)?.args(["speed", "schedule", "desk"]))
}

/// Builds the program and the checks, then the app.
fn build(quick: bool) -> Outcome<PathBuf> {
    web::make_room()?;
    // The whole workspace, as the tests are built: a part of it alone would have its libraries built again, with
    // other features.
    run_shown(&mut cargo_command(&["build", "--locked", "--workspace"]))?;
    web::build_with(quick, Command::new(program("assemble")))
}

/// A program of the ordinary build.
fn program(name: &str) -> PathBuf {
    target_dir().join("debug").join(exe(name))
}

fn exe(name: &str) -> String {
    format!("{name}{}", std::env::consts::EXE_SUFFIX)
}

/// The checks, and what they check.
struct Programs {
    browse: PathBuf,
    nearside: PathBuf,
}

impl Programs {
    /// Those of the ordinary build.
    fn ordinary() -> Self {
        Self { browse: program("browse"), nearside: program("nearside") }
    }

    /// The checks on this app, with everything they must be told.
    fn on(&self, app: &Path, extent: &Extent) -> Outcome<Command> {
        let mut browse = Command::new(&self.browse);
        browse.arg("--app").arg(app).arg("--nearside").arg(&self.nearside);
        browse.arg("--axe").arg(axe()?).arg("--scratch").arg(target_dir().join("browse"));
        browse.args(["--rounds", &extent.rounds.to_string()]);
        browse.args(["--minutes", &extent.minutes.to_string()]);
        Ok(browse)
    }
}

/// Where axe-core lies; fetched once.
fn axe() -> Outcome<PathBuf> {
    let folder = target_dir().join("axe");
    let script = folder.join("node_modules/axe-core/axe.min.js");
    if !script.exists() {
        let mut npm = Command::new("npm");
        npm.args(["install", "--silent", "--no-audit", "--no-fund", "--prefix"]);
        run_shown(npm.arg(&folder).arg(AXE))?;
    }
    Ok(script)
}

//! `cargo xtask web-test`: the app in a real browser, against a real server.

use crate::{
    Outcome,
    arguments::Arguments,
    needs::{self, Need},
    web,
    workspace::{cargo_command, root, run_shown, target_dir},
};
use std::{path::PathBuf, process::Command};

const USAGE: &str = "\
cargo xtask web-test [--quick | --built] [--pictures] [--only CHECK]

Builds the app and the program, then drives a headless Chromium the size of a phone through it:
pairing, working with the server stopped, killing the browser, two tabs, a newer version, two
devices, many photos, axe-core on every screen, transfer and speed.
--quick: with the app as `cargo xtask web --quick` builds it (its size is then not judged)
--built: with the app and the program as they are
--pictures: puts pictures of the screens into docs/pictures
--only CHECK: one check alone";

const NEEDS: &[Need] = &[
    needs::need("Chromium", &["chromium"], "chromium", "runs the app"),
    needs::need("chromedriver", &["chromedriver"], "chromium-driver", "drives Chromium"),
    needs::need("npm", &["npm"], "npm", "fetches axe-core, the accessibility checks"),
];

/// The accessibility checks, as npm knows them.
const AXE: &str = "axe-core@4.14.1";

pub(crate) fn run(mut arguments: Arguments) -> Outcome {
    if arguments.switch("--help") {
        println!("{USAGE}");
        return Ok(());
    }
    let (quick, built) = (arguments.switch("--quick"), arguments.switch("--built"));
    let pictures = arguments.switch("--pictures");
    let only = arguments.value("--only")?;
    arguments.finish(USAGE)?;
    needs::ensure(&needs::BUILD.iter().chain(NEEDS).collect::<Vec<_>>())?;
    let app = if built { web::folder() } else { web::build(quick)? };
    if !built {
        // The whole workspace: a part of it alone would have its libraries built again, with other features.
        run_shown(&mut cargo_command(&["build", "--locked", "--workspace"]))?;
    }
    let program = |name: &str| {
        target_dir().join("debug").join(format!("{name}{}", std::env::consts::EXE_SUFFIX))
    };
    let nearside = program("nearside");
    let axe = axe()?;
    let mut browse = Command::new(program("browse"));
    browse.arg("--app").arg(app).arg("--nearside").arg(nearside).arg("--axe").arg(axe);
    browse.arg("--scratch").arg(target_dir().join("browse"));
    if quick {
        browse.arg("--quick");
    }
    if pictures {
        browse.arg("--pictures").arg(root().join("docs/pictures"));
    }
    run_shown(browse.args(only))
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

//! Pictures of the screens, for the handbook where a folder is given.

use std::fs;

use super::{World, make_job};
use crate::{Outcome, Tools};

/// Where in the app, in a job or outside, and the picture's name.
const SCREENS: [(&str, bool, &str); 6] = [
    ("jobs", false, "app-jobs"),
    ("settings", false, "app-settings"),
    ("", true, "app-opening"),
    ("line", true, "app-line"),
    ("point/regulator_lockup", true, "app-point"),
    ("left", true, "app-left"),
];

pub(super) fn check(tools: &Tools) -> Outcome {
    let world = World::new(tools, "pictures")?;
    let folder = tools.pictures.clone().unwrap_or_else(|| world.folder.join("pictures"));
    fs::create_dir_all(&folder).map_err(|error| format!("{}: {error}", folder.display()))?;
    let browser = world.paired("phone", "Dane Hollworth")?;
    let job = make_job(&browser, "2026-041")?;
    browser.wait_until_copied(30)?;
    let mut taken = 0;
    for (path, in_job, name) in SCREENS {
        let before = if in_job { format!("#/job/{job}/") } else { "#/".to_owned() };
        browser.go(&format!("{}{before}{path}", world.server.address()))?;
        browser.wait_for("main h1")?;
        let picture = browser.picture()?;
        if !picture.starts_with(b"\x89PNG") {
            return Err(format!("the picture of {path} is no PNG"));
        }
        let file = folder.join(format!("{name}.png"));
        fs::write(&file, picture).map_err(|error| format!("{}: {error}", file.display()))?;
        taken += 1;
    }
    Ok(format!("{taken} pictures in {}", folder.display()))
}

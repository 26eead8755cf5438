//! Pictures of the screens, for the handbook where a folder is given.

use std::fs;

use super::{World, make_job};
use crate::{Outcome, Tools};

/// Where in the app, and the picture's name.
const SCREENS: [(&str, &str); 3] =
    [("#/jobs", "app-jobs"), ("#/new", "app-new-job"), ("#/settings", "app-settings")];

pub(super) fn check(tools: &Tools) -> Outcome {
    let world = World::new(tools, "pictures")?;
    let folder = tools.pictures.clone().unwrap_or_else(|| world.folder.join("pictures"));
    fs::create_dir_all(&folder).map_err(|error| format!("{}: {error}", folder.display()))?;
    let browser = world.paired("phone", "Dane Hollworth")?;
    make_job(&browser, "2026-041")?;
    browser.wait_until_copied(30)?;
    let mut taken = 0;
    for (path, name) in SCREENS {
        browser.go(&format!("{}{path}", world.server.address()))?;
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

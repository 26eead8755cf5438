//! What an assessment says, from small plans and a few lines of inspection.

#[allow(clippy::unwrap_used, reason = "a helper of tests may stop them")]
mod carried;
mod deciding;
mod explaining;
mod holds;
mod judging;
mod merging;
mod own_words;
mod people;
mod places;

/// What the readings `open` and `loaded` of a supply need besides, to give its drop.
const DROP: &str = r#"[[reading]]
id = "current"
title = "Current"
kind = "current"
unit = "A"
u = "0.1 A"
[[derive]]
id = "drop"
title = "Drop"
formula = "mains.drop"
unit = "%"
from = { open = "open", loaded = "loaded", current = "current" }
"#;

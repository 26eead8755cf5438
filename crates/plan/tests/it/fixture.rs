//! A library of one plan with one point, and its problems as lines. `testkit` is made of this crate, so it cannot serve here.

use plan::{Files, load};

/// Everything but the points: one stop, one plan of the points of one system.
pub(crate) fn files_of(system: &str) -> Files {
    let mut files = Files::none();
    files.add(
        "stops.toml",
        "[[stop]]\nid = \"outside\"\ntitle = \"Outside\"\nalong = 0.5\nacross = 1\n",
    );
    files.add("equipment.toml", "[equipment]\ngas = \"gas\"\n");
    files.add("site_states.toml", "[site_state]\ngas_on = \"gas open\"\n");
    files.add(
        "sources.toml",
        "[[source]]\nkey = \"code\"\ntitle = \"A code\"\npublisher = \"P\"\nedition = \"1\"\nread = \"all\"\n",
    );
    files.add(
        "plans/test.toml",
        format!(
            "id = \"test\"\ntitle = \"T\"\npurpose = \"P\"\nterms = [\"T\"]\nsystems = [\"{system}\"]\n"
        ),
    );
    files
}

/// All problems, one a line without its hint's line break.
pub(crate) fn problems_of(files: &Files) -> Vec<String> {
    match load(files) {
        Ok(_) => Vec::new(),
        Err(problems) => {
            problems.iter().map(|problem| problem.to_string().replace("\n  hint:", " ->")).collect()
        }
    }
}

/// Asserts that a good file, changed in one place, is told with this problem.
pub(crate) fn assert_told(
    good: &str,
    (old, new, expected): (&str, &str, &str),
    problems: impl Fn(&str) -> Vec<String>,
) {
    assert!(good.contains(old), "the fixture has no {old}");
    let problems = problems(&good.replacen(old, new, 1));
    assert!(
        problems.iter().any(|problem| problem.contains(expected)),
        "{new}: expected {expected}, got {problems:#?}"
    );
}

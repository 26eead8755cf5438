//! The licences of everything we build from, against a list of those we accept.

use crate::workspace::{answer, cargo_command};
use std::collections::BTreeSet;

/// What we accept, and why.
const ACCEPTED: &[(&str, &str)] = &[
    ("MIT", "permissive; ours"),
    ("Apache-2.0", "permissive; ours"),
    ("Apache-2.0 WITH LLVM-exception", "Apache-2.0 with fewer duties for what is compiled"),
    ("0BSD", "permissive, asks nothing"),
    ("BSD-2-Clause", "permissive, name the authors"),
    ("BSD-3-Clause", "permissive, name the authors"),
    ("BSL-1.0", "permissive, nothing asked of binaries"),
    ("CC0-1.0", "public domain"),
    ("ISC", "permissive, as MIT"),
    ("Unicode-3.0", "permissive; for Unicode's own tables"),
    ("Unlicense", "public domain"),
    ("Zlib", "permissive, nothing asked of binaries"),
];

/// Libraries under another licence, one by one: name, licence, why it does no harm.
const EXCEPTIONS: &[(&str, &str, &str)] = &[
    (
        "option-ext",
        "MPL-2.0",
        "used unchanged by `directories`; its file-wise copyleft asks for its own sources only",
    ),
    (
        "webpki-roots",
        "CDLA-Permissive-2.0",
        "a list of root certificates, used unchanged by `ureq`; its licence is for data and asks to be passed on with them",
    ),
    (
        "ical",
        "",
        "its manifest names a file instead, which is the text of Apache-2.0; only in tests",
    ),
];

/// One library with the licence its manifest states.
#[derive(Debug, PartialEq, Eq, PartialOrd, Ord)]
struct Library {
    name: String,
    licence: String,
}

/// The answer of `cargo tree --format '{p};{l};'`: a library a line, repeated where several need it.
fn libraries(tree: &str) -> BTreeSet<Library> {
    tree.lines()
        .filter_map(|line| {
            let mut fields = line.split(';');
            let name = fields.next()?.split_whitespace().next()?.to_owned();
            Some(Library { name, licence: fields.next()?.trim().to_owned() })
        })
        .collect()
}

fn problems(libraries: &BTreeSet<Library>) -> Vec<String> {
    let mut problems = Vec::new();
    for Library { name, licence } in libraries {
        let excepted = EXCEPTIONS.iter().any(|(it, its, _)| it == name && its == licence);
        match accepts(licence) {
            Ok(true) if excepted => problems.push(format!(
                "`{name}` is under `{licence}`, which is accepted: its exception can go"
            )),
            Ok(true) => {}
            Ok(false) | Err(_) if excepted => {}
            Ok(false) => problems.push(format!(
                "`{name}` is under `{licence}`, which the list in licences.rs does not accept"
            )),
            Err(why) => problems.push(format!("`{name}`: licence `{licence}`: {why}")),
        }
    }
    for (name, licence, _) in EXCEPTIONS {
        let used = |library: &Library| library.name == *name && library.licence == *licence;
        if !libraries.iter().any(used) {
            problems.push(format!("the exception for `{name}` (`{licence}`) is no longer needed"));
        }
    }
    problems
}

/// Whether a licence expression can be met with what we accept: `AND`, `OR`, `WITH` and brackets,
/// and the old `/` for `OR`.
fn accepts(expression: &str) -> Result<bool, &'static str> {
    let spaced = expression.replace('/', " OR ").replace('(', " ( ").replace(')', " ) ");
    let words: Vec<&str> = spaced.split_whitespace().collect();
    if words.is_empty() {
        return Err("none is stated");
    }
    let mut rest = words.as_slice();
    let accepted = any(&mut rest)?;
    if rest.is_empty() { Ok(accepted) } else { Err("cannot be read") }
}

fn any(rest: &mut &[&str]) -> Result<bool, &'static str> {
    let mut accepted = all(rest)?;
    while take(rest, "OR") {
        // Both sides are read in any case.
        accepted |= all(rest)?;
    }
    Ok(accepted)
}

fn all(rest: &mut &[&str]) -> Result<bool, &'static str> {
    let mut accepted = one(rest)?;
    while take(rest, "AND") {
        accepted &= one(rest)?;
    }
    Ok(accepted)
}

fn one(rest: &mut &[&str]) -> Result<bool, &'static str> {
    if take(rest, "(") {
        let accepted = any(rest)?;
        return if take(rest, ")") { Ok(accepted) } else { Err("a bracket is not closed") };
    }
    let (licence, after) = rest.split_first().ok_or("cannot be read")?;
    if matches!(*licence, "OR" | "AND" | "WITH" | ")") {
        return Err("cannot be read");
    }
    *rest = after;
    let mut licence = (*licence).to_owned();
    if take(rest, "WITH") {
        let (exception, after) = rest.split_first().ok_or("cannot be read")?;
        licence = format!("{licence} WITH {exception}");
        *rest = after;
    }
    Ok(ACCEPTED.iter().any(|(accepted, _)| *accepted == licence))
}

fn take(rest: &mut &[&str], word: &str) -> bool {
    match rest.split_first() {
        Some((first, after)) if *first == word => {
            *rest = after;
            true
        }
        _ => false,
    }
}

#[test]
fn every_licence_is_accepted() {
    // Only what this machine builds is asked for: nothing else need be downloaded.
    let tree = answer(&mut cargo_command(&[
        "tree",
        "--workspace",
        "--locked",
        "--offline",
        "--edges=normal,build,dev",
        "--prefix=none",
        "--format={p};{l};",
    ]))
    .expect("`cargo tree` answers for a workspace that was just built");
    let libraries = libraries(&tree);
    assert!(libraries.iter().any(|it| it.name == "toml_edit"), "toml_edit is not among them");
    super::assert_none(&problems(&libraries));
}

#[cfg(test)]
mod faults {
    use super::{EXCEPTIONS, Library, accepts, libraries, problems};
    use std::collections::BTreeSet;

    /// The libraries with those that have an exception, which must stay in use.
    fn with_exceptions(tree: &str) -> BTreeSet<Library> {
        let excepted =
            EXCEPTIONS.iter().map(|(name, licence, _)| format!("{name} v1.0.0;{licence};\n"));
        libraries(&format!("{tree}\n{}", excepted.collect::<String>()))
    }

    #[test]
    fn a_repeated_library_counts_once() {
        let tree = "uom v0.38.0;Apache-2.0 OR MIT;\nuom v0.38.0;Apache-2.0 OR MIT; (*)\n\n\
            plan v0.0.0 (crates/plan);MIT;\n";
        let names: Vec<String> = libraries(tree).into_iter().map(|it| it.name).collect();
        assert_eq!(names, ["plan", "uom"]);
    }

    #[test]
    fn a_licence_not_on_the_list_is_named() {
        assert_eq!(
            problems(&with_exceptions("reader v1.0.0;GPL-3.0-only;")),
            ["`reader` is under `GPL-3.0-only`, which the list in licences.rs does not accept"]
        );
        assert_eq!(
            problems(&with_exceptions("reader v1.0.0;MPL-2.0;")),
            ["`reader` is under `MPL-2.0`, which the list in licences.rs does not accept"]
        );
        assert_eq!(
            problems(&with_exceptions("reader v1.0.0;;")),
            ["`reader`: licence ``: none is stated"]
        );
        assert_eq!(problems(&with_exceptions("reader v1.0.0;MIT;")), Vec::<String>::new());
    }

    #[test]
    fn an_exception_nobody_needs_is_named() {
        let mut used = with_exceptions("uom v0.38.0;MIT;");
        used.retain(|library| library.name != "option-ext");
        assert_eq!(
            problems(&used),
            ["the exception for `option-ext` (`MPL-2.0`) is no longer needed"]
        );
    }

    #[test]
    fn expressions_mean_what_they_say() {
        for good in [
            "MIT",
            "MIT/Apache-2.0",
            "GPL-2.0-only OR MIT",
            "(MIT OR GPL-3.0-only) AND Unicode-3.0",
            "Apache-2.0 WITH LLVM-exception OR GPL-2.0-only",
        ] {
            assert_eq!(accepts(good), Ok(true), "{good}");
        }
        for bad in [
            "GPL-3.0-only",
            "MIT AND GPL-3.0-only",
            "MIT AND (GPL-2.0-only OR GPL-3.0-only)",
            "Apache-2.0 WITH Bison-exception-2.2",
        ] {
            assert_eq!(accepts(bad), Ok(false), "{bad}");
        }
        for unreadable in ["MIT OR", "(MIT", "MIT)", "MIT Zlib", "OR MIT"] {
            assert!(accepts(unreadable).is_err(), "{unreadable}");
        }
    }
}

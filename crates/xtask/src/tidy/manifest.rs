//! What a `Cargo.toml` says, as far as the rules ask.

use crate::workspace::root;
use std::fs;
use toml_edit::{DocumentMut, Item, TableLike};

/// Where a manifest names a dependency.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Section {
    Normal,
    Dev,
    Build,
}

impl Section {
    const ALL: [(Self, &'static str); 3] = [
        (Self::Normal, "dependencies"),
        (Self::Dev, "dev-dependencies"),
        (Self::Build, "build-dependencies"),
    ];

    pub(super) fn name(self) -> &'static str {
        Self::ALL.into_iter().find(|(it, _)| *it == self).map_or("", |(_, name)| name)
    }
}

/// One dependency of a crate.
#[derive(Debug)]
pub(super) struct Use {
    pub(super) name: String,
    pub(super) section: Section,
    /// Whether version and path come from the workspace's list.
    pub(super) from_workspace: bool,
}

/// One crate of the workspace.
#[derive(Debug)]
pub(super) struct Manifest {
    pub(super) folder: String,
    pub(super) package: String,
    /// Whether the workspace's lints hold for it.
    pub(super) has_our_lints: bool,
    pub(super) uses: Vec<Use>,
}

/// An entry of `[workspace.dependencies]`.
#[derive(Debug)]
pub(super) struct Entry {
    pub(super) name: String,
    /// A crate of ours: it has a path.
    pub(super) ours: bool,
}

impl Manifest {
    pub(super) fn parse(folder: &str, text: &str) -> Self {
        let document = parse(folder, text);
        let package = document
            .get("package")
            .and_then(|package| package.get("name"))
            .and_then(Item::as_str)
            .unwrap_or_default()
            .to_owned();
        let mut uses = uses_in(document.as_table());
        // The same three sections may stand under a target: `[target.'cfg(unix)'.dependencies]`.
        if let Some(targets) = document.get("target").and_then(Item::as_table_like) {
            for (_, target) in targets.iter() {
                uses.extend(target.as_table_like().map(uses_in).unwrap_or_default());
            }
        }
        let lints = document.get("lints").and_then(|lints| lints.get("workspace"));
        let has_our_lints = lints.and_then(Item::as_bool) == Some(true);
        Self { folder: folder.to_owned(), package, has_our_lints, uses }
    }
}

fn uses_in(table: &dyn TableLike) -> Vec<Use> {
    let mut uses = Vec::new();
    for (section, name) in Section::ALL {
        let Some(entries) = table.get(name).and_then(Item::as_table_like) else { continue };
        for (key, item) in entries.iter() {
            uses.push(Use {
                name: real_name(key, item),
                section,
                from_workspace: item.get("workspace").and_then(Item::as_bool) == Some(true),
            });
        }
    }
    uses
}

/// A dependency may go by another name: `other = { package = "name" }`.
fn real_name(key: &str, item: &Item) -> String {
    item.get("package").and_then(Item::as_str).unwrap_or(key).to_owned()
}

/// The workspace's list of dependencies.
pub(super) fn workspace_entries(text: &str) -> Vec<Entry> {
    let document = parse("the workspace", text);
    let list = document.get("workspace").and_then(|workspace| workspace.get("dependencies"));
    let list = list.and_then(Item::as_table_like);
    let entry = |(key, item): (&str, &Item)| Entry {
        name: real_name(key, item),
        ours: item.get("path").is_some(),
    };
    list.map(|list| list.iter().map(entry).collect()).unwrap_or_default()
}

fn parse(whose: &str, text: &str) -> DocumentMut {
    text.parse().unwrap_or_else(|error| panic!("Cargo.toml of {whose}: {error}"))
}

/// The manifests of all folders in `crates/`, in order of name.
pub(super) fn manifests() -> Vec<Manifest> {
    let crates = root().join("crates");
    let mut folders: Vec<String> = fs::read_dir(&crates)
        .unwrap_or_else(|error| panic!("{}: {error}", crates.display()))
        .map(|entry| entry.unwrap_or_else(|error| panic!("{}: {error}", crates.display())))
        .filter(|entry| entry.path().is_dir())
        .map(|entry| entry.file_name().to_string_lossy().into_owned())
        .collect();
    folders.sort();
    folders
        .iter()
        .map(|folder| Manifest::parse(folder, &super::read(&format!("crates/{folder}/Cargo.toml"))))
        .collect()
}

#[test]
fn dependencies_are_found_in_every_section_and_under_their_real_name() {
    let manifest = Manifest::parse(
        "record",
        r#"
        package.name = "record"
        [dependencies]
        quantity.workspace = true
        am = { package = "automerge", version = "1" }
        [dev-dependencies]
        testkit = { workspace = true }
        [target.'cfg(target_arch = "wasm32")'.build-dependencies]
        cc = "1"
        "#,
    );
    let found: Vec<(&str, Section, bool)> =
        manifest.uses.iter().map(|it| (it.name.as_str(), it.section, it.from_workspace)).collect();
    assert_eq!(
        found,
        [
            ("quantity", Section::Normal, true),
            ("automerge", Section::Normal, false),
            ("testkit", Section::Dev, true),
            ("cc", Section::Build, false),
        ]
    );
}

//! One picture file: what is drawn, from which values.

use std::collections::BTreeMap;

use super::words::id_of_file;
use super::{Spot, TomlFile, nearest};
use crate::{Picture, PictureKind, Problem, ValueName};

/// A picture with the places that checks over the whole library need.
pub(crate) struct PlacedPicture {
    pub picture: Picture,
    pub system: Spot,
    pub from: BTreeMap<String, Spot>,
}

/// Reads one file of `pictures/<id>.toml`.
pub(crate) fn read_picture(
    path: &str,
    text: &str,
    problems: &mut Vec<Problem>,
) -> Option<PlacedPicture> {
    let file = TomlFile::open(path, text, problems)?;
    let root = file.root();
    let id = id_of_file(&root, path, "the file's name is the picture's id");
    let (title, caption, system) =
        (root.required("title"), root.required("caption"), root.required("system"));
    let word = root.required("kind");
    let kind = word.as_ref().and_then(|word| {
        let kind = PictureKind::find(&word.value);
        if kind.is_none() {
            let known = PictureKind::ALL.map(PictureKind::word);
            let hint = nearest(&word.value, known).map_or_else(
                || format!("kinds: {}", known.join(", ")),
                |near| format!("write `{near}`"),
            );
            root.problem_at(&word.spot, format!("no kind of picture is `{}`", word.value), hint);
        }
        kind
    });
    let mut from = BTreeMap::new();
    let mut spots = BTreeMap::new();
    if let Some(table) = root.table("from") {
        for (role, text) in table.free_texts() {
            let Some((point, name)) = text.value.split_once('.') else {
                table.problem_at(
                    &text.spot,
                    format!("`{}` names no value of a point", text.value),
                    "write \"point.reading\"",
                );
                continue;
            };
            if let Some(kind) = kind
                && !kind.roles().iter().any(|known| known.name == role)
            {
                let known: Vec<&str> = kind.roles().iter().map(|known| known.name).collect();
                table.problem_at(
                    &text.spot,
                    format!("a picture of kind `{}` has no role `{role}`", kind.word()),
                    format!("roles: {}", known.join(", ")),
                );
            }
            from.insert(role.clone(), ValueName { point: point.to_owned(), name: name.to_owned() });
            spots.insert(role, text.spot);
        }
    }
    for role in kind.map_or(&[][..], PictureKind::roles).iter().filter(|role| role.needed) {
        if !from.contains_key(role.name) {
            root.problem(
                format!("nothing plays the role `{}`", role.name),
                format!("[from] {} = \"point.reading\": {}", role.name, role.about),
            );
        }
    }
    root.finish();
    problems.extend(file.problems());
    let (system, spot) = system.map(|system| (system.value, system.spot))?;
    let picture = Picture {
        id: id?.value,
        title: title?.value,
        caption: caption?.value,
        system,
        kind: kind?,
        from,
        file: path.to_owned(),
    };
    Some(PlacedPicture { picture, system: spot, from: spots })
}

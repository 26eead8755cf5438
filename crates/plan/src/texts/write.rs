//! Text files as a person gets them to edit: what is there already, and in comments what is still in English.

use std::collections::BTreeMap;

use super::{LoadedTexts, TextName};
use crate::Library;

/// The text files of a language by path, every text in its place: what the language says, and behind a `#` the English of
/// what it does not. Texts that all files share stand in `words.toml` only.
#[must_use]
pub fn write_texts(loaded: &LoadedTexts, library: &Library) -> BTreeMap<String, String> {
    let mut files: BTreeMap<String, File> = BTreeMap::new();
    library.each_text(&mut |spoken, english| {
        let own = TextName { file: spoken.file.to_owned(), name: spoken.name.clone() };
        let given = loaded.texts.own(&own);
        if given.is_some() || (spoken.shared.is_none() && spoken.wanted(english)) {
            files.entry(own.file).or_default().add(&own.name, english, given);
        }
        if spoken.shared.is_some() {
            let shared = spoken.missing(english).at;
            let given = loaded.texts.own(&shared);
            if given.is_some() || spoken.wanted(english) {
                files.entry(shared.file).or_default().add(&shared.name, english, given);
            }
        }
    });
    files.into_iter().map(|(file, content)| (format!("{file}.toml"), content.write())).collect()
}

/// A file's tables in their order, each with its keys and texts.
#[derive(Default)]
struct File {
    tables: Vec<(String, Vec<Entry>)>,
}

struct Entry {
    key: String,
    /// Several for a list.
    texts: Vec<String>,
    /// Whether all of it is English.
    english: bool,
}

impl File {
    fn add(&mut self, name: &str, english: &str, own: Option<&str>) {
        let (table, key) = place(name);
        let text = own.unwrap_or(english).to_owned();
        let at = self.tables.iter().position(|(known, _)| *known == table).unwrap_or_else(|| {
            self.tables.push((table, Vec::new()));
            self.tables.len() - 1
        });
        let Some((_, entries)) = self.tables.get_mut(at) else { return };
        match key.split_once('[') {
            Some((list, number)) => {
                let number: usize = number.trim_end_matches(']').parse().unwrap_or(0);
                match entries.iter_mut().find(|entry| entry.key == format!("{list}[")) {
                    Some(entry) if number >= entry.texts.len() => entry.texts.push(text),
                    Some(_) => {}
                    None => entries.push(Entry {
                        key: format!("{list}["),
                        texts: vec![text],
                        english: own.is_none(),
                    }),
                }
            }
            None if entries.iter().any(|entry| entry.key == key) => {}
            None => entries.push(Entry { key, texts: vec![text], english: own.is_none() }),
        }
    }

    fn write(self) -> String {
        let mut out = String::new();
        for (table, entries) in self.tables {
            if !table.is_empty() {
                let gap = if out.is_empty() { "" } else { "\n" };
                out.push_str(&format!("{gap}[{table}]\n"));
            }
            for Entry { key, texts, english } in entries {
                let hash = if english { "# " } else { "" };
                match key.strip_suffix('[') {
                    None => {
                        let text = texts.first().map_or("", String::as_str);
                        out.push_str(&format!("{hash}{} = {}\n", bare(&key), quoted(text)));
                    }
                    Some(list) => {
                        out.push_str(&format!("{hash}{list} = [\n"));
                        for text in texts {
                            out.push_str(&format!("{hash}    {},\n", quoted(&text)));
                        }
                        out.push_str(&format!("{hash}]\n"));
                    }
                }
            }
        }
        out
    }
}

/// The table a name stands in, and its key there.
fn place(name: &str) -> (String, String) {
    let parts: Vec<&str> = name.splitn(3, '.').collect();
    match parts.as_slice() {
        [outer @ ("reading" | "derive" | "limit" | "defect" | "source"), id, rest] => {
            match rest.strip_prefix("choices.") {
                Some(choice) => (format!("{outer}.{id}.choices"), choice.to_owned()),
                None => (format!("{outer}.{id}"), (*rest).to_owned()),
            }
        }
        [table, rest @ ..] if !rest.is_empty() => ((*table).to_owned(), rest.join(".")),
        _ => (String::new(), name.to_owned()),
    }
}

fn bare(key: &str) -> String {
    let plain = key.bytes().all(|byte| byte.is_ascii_alphanumeric() || matches!(byte, b'_' | b'-'));
    if plain && !key.is_empty() { key.to_owned() } else { quoted(key) }
}

fn quoted(text: &str) -> String {
    let mut out = String::from("\"");
    for c in text.chars() {
        match c {
            '"' => out.push_str("\\\""),
            '\\' => out.push_str("\\\\"),
            '\n' => out.push_str("\\n"),
            '\t' => out.push_str("\\t"),
            c if c.is_control() => out.push_str(&format!("\\u{:04X}", u32::from(c))),
            c => out.push(c),
        }
    }
    out.push('"');
    out
}

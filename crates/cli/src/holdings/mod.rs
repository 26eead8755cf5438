//! Everything that a data folder holds, in one list: what a backup takes along, a restore puts back and `doctor` checks.
//!
//! Whoever lets the program write another kind of file there adds a line here. A test lets the program write every kind,
//! and fails over a file that no line knows.

mod found;
mod mending;
mod order;
mod sound;

pub(crate) use found::{Found, found};
pub(crate) use mending::{mend_file, seal_sound_files};
pub(crate) use order::{Ordered, backup_order, restore_order};
pub(crate) use sound::{FileFault, file_faults};

/// One kind of thing in a data folder.
pub(crate) struct Holding {
    /// Its name there.
    pub(crate) name: Name,
    /// What becomes of it.
    pub(crate) care: Care,
}

/// Names in a data folder, with `/` between folder and file.
#[derive(Clone, Copy, Debug)]
pub(crate) enum Name {
    /// This one.
    Is(&'static str),
    /// Those in the data folder itself that end so.
    Ends(&'static str),
    /// Those in this folder and its folders.
    In(&'static str),
    /// Those among these that end so.
    InEnds(&'static str, &'static str),
}

/// What becomes of a thing.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Care {
    /// The store's own: it copies, checks and mends it itself.
    Store,
    /// Comes and goes, or is worked out again at any time: in no backup.
    Passing,
    /// Written by the program alone, sealed in the store, and to be read by its owner alone.
    Secret,
    /// Written by the program alone, and sealed in the store.
    Fixed,
    /// Written by the program and by people: sealed as the program wrote it last.
    Edited,
    /// Written by people alone: sealed in a backup, where nobody writes.
    ByHand,
}

/// The list. The first line that knows a name counts.
pub(crate) const HOLDINGS: &[Holding] = &[
    // Jobs, changes, devices, invoices, addresses given to clients; and which blobs and files there are.
    Holding { name: Name::Is("store.sqlite"), care: Care::Store },
    Holding { name: Name::Is("store.sqlite-wal"), care: Care::Store },
    Holding { name: Name::Is("store.sqlite-shm"), care: Care::Store },
    Holding { name: Name::Is("store.sqlite-journal"), care: Care::Store },
    // Photos, films, reports, clients' pages.
    Holding { name: Name::In("blobs"), care: Care::Store },
    // Half-sent photos: nobody was told that they are kept.
    Holding { name: Name::In("uploads"), care: Care::Passing },
    Holding { name: Name::In("incoming"), care: Care::Passing },
    Holding { name: Name::In("arriving"), care: Care::Passing },
    Holding { name: Name::In("arrived"), care: Care::Passing },
    Holding { name: Name::In("archive"), care: Care::Passing },
    Holding { name: Name::Is("store.lock"), care: Care::Passing },
    Holding { name: Name::Is("edit.lock"), care: Care::Passing },
    // Files half written when the program was cut off; the whole ones stand beside them.
    Holding { name: Name::Ends(".new"), care: Care::Passing },
    Holding { name: Name::InEnds("tls", ".new"), care: Care::Passing },
    // The server's certificate authority, which phones have been told to trust.
    Holding { name: Name::InEnds("tls", "-key.pem"), care: Care::Secret },
    Holding { name: Name::In("tls"), care: Care::Fixed },
    // The inspectors' signing keys and their public halves.
    Holding { name: Name::Ends(".pem"), care: Care::Secret },
    Holding { name: Name::Ends(".public.json"), care: Care::Fixed },
    // The stock sentences, and the firm's own texts.
    Holding { name: Name::Is("sentences.json"), care: Care::Edited },
    Holding { name: Name::In("texts"), care: Care::ByHand },
];

/// What becomes of the file with this name; nothing for one that the program knows nothing of.
pub(crate) fn care_of(name: &str) -> Option<Care> {
    HOLDINGS.iter().find(|holding| holding.name.is(name)).map(|holding| holding.care)
}

impl Name {
    fn is(self, name: &str) -> bool {
        let inside = |folder: &str| {
            name.strip_prefix(folder).is_some_and(|rest| rest.starts_with('/') && rest.len() > 1)
        };
        match self {
            Self::Is(one) => name == one,
            Self::Ends(end) => !name.contains('/') && name.len() > end.len() && name.ends_with(end),
            Self::In(folder) => inside(folder),
            Self::InEnds(folder, end) => inside(folder) && name.ends_with(end),
        }
    }

    /// Whether this folder's files are all of one kind that nobody needs to list.
    fn is_folder(self, name: &str) -> bool {
        matches!(self, Self::In(folder) if folder == name)
    }
}

/// Whether a folder is known as a whole to be the store's own or passing.
fn is_left_to_others(folder: &str) -> bool {
    HOLDINGS.iter().any(|holding| {
        matches!(holding.care, Care::Store | Care::Passing) && holding.name.is_folder(folder)
    })
}

#[cfg(test)]
mod tests {
    use super::{Care, HOLDINGS, Name, care_of};

    #[test]
    fn each_name_has_the_care_of_its_first_line_and_a_strange_one_none() {
        for (name, care) in [
            ("store.sqlite", Some(Care::Store)),
            ("blobs/ab/abcd", Some(Care::Store)),
            ("archive/index.sqlite", Some(Care::Passing)),
            ("tls/authority-key.pem", Some(Care::Secret)),
            ("tls/authority-key.new", Some(Care::Passing)),
            ("tls/authority.pem", Some(Care::Fixed)),
            ("signing-key.pem", Some(Care::Secret)),
            ("signing-key.public.json", Some(Care::Fixed)),
            ("sentences.json", Some(Care::Edited)),
            ("texts/es/points.toml", Some(Care::ByHand)),
            ("texts", None),
            (".pem", None),
            ("notes.txt", None),
            ("notes/signing-key.pem", None),
        ] {
            assert_eq!(care_of(name), care, "{name}");
        }
    }

    #[test]
    fn the_page_on_the_server_names_everything_that_a_data_folder_holds() {
        let page = include_str!("../../../../docs/server.md");
        let backup = page.split("\n## Backup\n").nth(1).unwrap();
        let backup = backup.split("\n## ").next().unwrap();
        for holding in HOLDINGS {
            let name = match holding.name {
                Name::Is(name) => name.to_owned(),
                Name::Ends(end) => format!("*{end}"),
                Name::In(folder) => format!("{folder}/"),
                Name::InEnds(folder, end) => format!("{folder}/*{end}"),
            };
            assert!(backup.contains(&format!("`{name}`")), "{name} is not named:\n{backup}");
        }
    }
}

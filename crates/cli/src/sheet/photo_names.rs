//! Photos by the names that people see: those in a folder to be taken in, and those in the record.

use inspection::{Inspection, PhotoId};

use crate::commands::near_hint;

/// The names that a sheet can use.
#[derive(Clone, Debug, Default)]
pub(crate) struct PhotoShelf {
    /// Files that are about to be taken in.
    pub(crate) incoming: Vec<String>,
    /// Photos of the record, by their labels.
    recorded: Vec<(String, PhotoId)>,
}

impl PhotoShelf {
    pub(crate) fn new(inspection: &Inspection, incoming: Vec<String>) -> Self {
        let recorded =
            inspection.photos.keys().map(|id| (photo_label(inspection, id), id.clone())).collect();
        Self { incoming, recorded }
    }

    /// The name as it is kept, for one that a person wrote; a hint if there is none.
    pub(crate) fn find(&self, written: &str) -> Result<String, String> {
        let all = || {
            self.incoming
                .iter()
                .map(String::as_str)
                .chain(self.recorded.iter().map(|(it, _)| it.as_str()))
        };
        if let Some(name) = all().find(|name| *name == written) {
            return Ok(name.to_owned());
        }
        let mut alike: Vec<&str> =
            all().filter(|name| name.eq_ignore_ascii_case(written)).collect();
        alike.dedup();
        match alike.as_slice() {
            [one] => Ok((*one).to_owned()),
            [] if self.incoming.is_empty() && self.recorded.is_empty() => {
                Err("name the folder of the photos with --photos DIR".to_owned())
            }
            _ => Err(near_hint(written, all())),
        }
    }

    /// The photo of the record with this label.
    pub(crate) fn recorded(&self, name: &str) -> Option<&PhotoId> {
        self.recorded.iter().find(|(label, _)| label == name).map(|(_, id)| id)
    }
}

/// A photo's file name; with the beginning of its hash where two photos share the name.
pub(crate) fn photo_label(inspection: &Inspection, id: &PhotoId) -> String {
    let Some(photo) = inspection.photos.get(id) else { return id.to_string() };
    let shared =
        inspection.photos.values().filter(|other| other.file_name == photo.file_name).count() > 1;
    if shared {
        format!("{}#{}", photo.file_name, id.as_str().get(..8).unwrap_or(id.as_str()))
    } else {
        photo.file_name.clone()
    }
}

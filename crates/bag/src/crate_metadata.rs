//! The RO-Crate (1.1) of a bag's `data/`: what each file is, in JSON-LD that other programs read.

use serde_json::{Value, json};

use crate::{File, place};

/// What is said of the whole.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Description {
    /// One line: the job and its unit.
    pub name: String,
    /// A sentence or two.
    pub description: String,
    /// The day or moment of the release or of the last change, as ISO 8601 writes it.
    pub published: String,
    /// The inspector.
    pub inspector: String,
    /// Program and version.
    pub program: String,
}

/// The content of `data/ro-crate-metadata.json` for these files.
#[must_use]
pub fn crate_metadata(files: &[File], about: &Description) -> String {
    let mut described: Vec<(&str, &File)> =
        files.iter().filter_map(|file| Some((file.path.strip_prefix("data/")?, file))).collect();
    described.sort_by_key(|(path, _)| *path);
    let parts: Vec<Value> = described.iter().map(|(path, _)| json!({"@id": path})).collect();
    let mut graph = vec![
        json!({
            "@id": "ro-crate-metadata.json",
            "@type": "CreativeWork",
            "about": {"@id": "./"},
            "conformsTo": {"@id": "https://w3id.org/ro/crate/1.1"},
        }),
        json!({
            "@id": "./",
            "@type": "Dataset",
            "name": about.name,
            "description": about.description,
            "datePublished": about.published,
            "license": {"@id": "#terms"},
            "author": {"@id": "#inspector"},
            "hasPart": parts,
        }),
        json!({
            "@id": "#terms",
            "@type": "CreativeWork",
            "name": "Terms of the report",
            "description": "Made for the client named in the job. The terms and limits of the inspection stand in the \
                            report; nothing here is a warranty.",
        }),
        json!({"@id": "#inspector", "@type": "Person", "name": about.inspector}),
        json!({
            "@id": "#program",
            "@type": "SoftwareApplication",
            "name": "Nearside",
            "softwareVersion": about.program,
        }),
    ];
    for (path, file) in described {
        let (name, format) = what_it_is(&file.path);
        graph.push(json!({
            "@id": path,
            "@type": "File",
            "name": name,
            "encodingFormat": format,
            "contentSize": file.size.to_string(),
        }));
    }
    let metadata = json!({"@context": "https://w3id.org/ro/crate/1.1/context", "@graph": graph});
    format!("{metadata:#}\n")
}

/// What a browser opens first of the client's page.
const INDEX: &str = "data/page/index.html";

/// Name and media type of a file of ours.
fn what_it_is(path: &str) -> (&'static str, &'static str) {
    match path {
        place::STATE => {
            ("State that was frozen: record, plan, program, release", "application/json")
        }
        place::RECORD => (
            "Record of the job with its whole history (Automerge document)",
            "application/octet-stream",
        ),
        place::RECORD_JSON => {
            ("Everything recorded, with the trail of changes", "application/json")
        }
        place::PLAN => ("Plan of the job, whole text", "text/plain"),
        place::ASSESSMENT => ("Verdicts, findings, uses, what is missing", "application/json"),
        place::REPORT => ("Report for the client", "application/pdf"),
        place::REPORT_JSON => ("What the report says, as data", "application/json"),
        INDEX => ("The client's page, to open in a browser", "text/html"),
        place::README => ("What lies here", "text/plain"),
        _ if path.starts_with(place::PAGE) => ("Part of the client's page", media_type(path)),
        _ if path.starts_with("data/photos/original/") => {
            ("Photo, original file", media_type(path))
        }
        _ if path.starts_with("data/photos/display/") => {
            ("Photo, upright copy for the report", media_type(path))
        }
        _ if path.starts_with("data/photos/thumbnail/") => ("Photo, thumbnail", media_type(path)),
        _ if path.starts_with("data/photos/captioned/") => {
            ("Photo, copy with caption, time and marks inside", media_type(path))
        }
        _ if path.starts_with("data/memos/") => ("Voice memo", media_type(path)),
        _ if path.starts_with("data/schema/") => ("JSON Schema", "application/schema+json"),
        _ if path.starts_with("data/tables/") => ("Table", media_type(path)),
        _ => ("File", media_type(path)),
    }
}

fn media_type(path: &str) -> &'static str {
    match path.rsplit('.').next() {
        Some("jpg") => "image/jpeg",
        Some("png") => "image/png",
        Some("webm") => "audio/webm",
        Some("m4a") => "audio/mp4",
        Some("ogg") => "audio/ogg",
        Some("html") => "text/html",
        Some("css") => "text/css",
        Some("js") => "text/javascript",
        Some("svg") => "image/svg+xml",
        Some("csv") => "text/csv",
        Some("json") => "application/json",
        Some("pdf") => "application/pdf",
        Some("txt") => "text/plain",
        _ => "application/octet-stream",
    }
}

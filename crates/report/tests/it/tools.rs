//! Runs the outside programs that read the PDF: qpdf, and those of poppler.

use std::path::PathBuf;
use std::process::Command;

use report::content::Content;
use report::{Typeset, typeset};

use crate::sample;

/// The sample's photos, nothing told about progress.
pub(crate) fn typeset_sample(content: &Content) -> Typeset {
    typeset(content, sample::RECORD, &sample::photo, &|_| {}).unwrap()
}

/// A PDF in a folder that goes away with it.
pub(crate) struct File {
    path: PathBuf,
    _folder: tempfile::TempDir,
}

impl File {
    pub(crate) fn new(pdf: &[u8]) -> Self {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("report.pdf");
        std::fs::write(&path, pdf).unwrap();
        Self { path, _folder: folder }
    }

    /// What the program prints about the file, and whether it was content.
    pub(crate) fn ask(&self, program: &str, before: &[&str], after: &[&str]) -> (String, bool) {
        let output = Command::new(program)
            .args(before)
            .arg(&self.path)
            .args(after)
            .output()
            .unwrap_or_else(|error| {
                panic!("this test needs the program `{program}` (packages qpdf and poppler-utils): {error}")
            });
        (String::from_utf8_lossy(&output.stdout).into_owned(), output.status.success())
    }

    /// All text in the order in which it stands in the file.
    pub(crate) fn text(&self) -> String {
        let (text, read) = self.ask("pdftotext", &["-raw", "-enc", "UTF-8"], &["-"]);
        assert!(read, "pdftotext could not read the file");
        text
    }

    /// The bytes of an attached file.
    pub(crate) fn attached(&self, name: &str) -> Vec<u8> {
        let output = Command::new("qpdf")
            .arg(&self.path)
            .arg(format!("--show-attachment={name}"))
            .output()
            .unwrap_or_else(|error| panic!("this test needs the program `qpdf`: {error}"));
        assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
        output.stdout
    }

    /// A page as a picture.
    pub(crate) fn picture(&self, page: usize) -> Picture {
        let page = page.to_string();
        let output = Command::new("pdftoppm")
            .args(["-r", "100", "-f", &page, "-l", &page])
            .arg(&self.path)
            .output()
            .unwrap_or_else(|error| panic!("this test needs the program `pdftoppm`: {error}"));
        assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
        Picture::read(&output.stdout)
    }

    /// One line of `pdfinfo`.
    pub(crate) fn info(&self, name: &str) -> String {
        let (info, read) = self.ask("pdfinfo", &[], &[]);
        assert!(read, "pdfinfo could not read the file");
        let line = info.lines().find_map(|line| line.strip_prefix(&format!("{name}:")));
        line.unwrap_or_else(|| panic!("pdfinfo says nothing about {name}: {info}"))
            .trim()
            .to_owned()
    }

    /// That qpdf finds no fault.
    pub(crate) fn assert_sound(&self) {
        let (said, sound) = self.ask("qpdf", &["--check"], &[]);
        assert!(sound, "{said}");
        assert!(said.contains("No syntax or stream encoding errors found"), "{said}");
    }

    /// The titles of the bookmarks.
    pub(crate) fn bookmarks(&self) -> Vec<String> {
        let (json, read) = self.ask("qpdf", &["--json=1", "--json-key=outlines"], &[]);
        assert!(read, "qpdf could not read the file");
        let value: serde_json::Value = serde_json::from_str(&json).unwrap();
        let mut titles = Vec::new();
        collect(&value["outlines"], &mut titles);
        titles
    }
}

/// A picture without compression: three bytes a pixel.
pub(crate) struct Picture {
    pub(crate) width: usize,
    pub(crate) pixels: Vec<[u8; 3]>,
}

impl Picture {
    /// From a portable pixmap: the word `P6`, width, height and largest value, a blank, then the pixels.
    fn read(ppm: &[u8]) -> Self {
        let mut at = 0;
        let mut word = || {
            let end = at + ppm[at..].iter().position(u8::is_ascii_whitespace).unwrap();
            let word = String::from_utf8(ppm[at..end].to_vec()).unwrap();
            at = end + 1;
            word
        };
        assert_eq!(word(), "P6");
        let (width, height): (usize, usize) = (word().parse().unwrap(), word().parse().unwrap());
        assert_eq!(word(), "255");
        let (pixels, rest) = ppm[at..].as_chunks::<3>();
        assert_eq!((pixels.len(), rest.len()), (width * height, 0));
        Self { width, pixels: pixels.to_vec() }
    }

    /// Where it differs from another of the same size: from the left, from the top, in pixels.
    pub(crate) fn differences(&self, other: &Self) -> Vec<(usize, usize)> {
        assert_eq!(self.pixels.len(), other.pixels.len());
        let all = self.pixels.iter().zip(&other.pixels).enumerate();
        all.filter(|(_, (one, other))| one != other)
            .map(|(at, _)| (at % self.width, at / self.width))
            .collect()
    }

    pub(crate) fn at(&self, (across, down): (usize, usize)) -> [u8; 3] {
        self.pixels[down * self.width + across]
    }
}

fn collect(outlines: &serde_json::Value, titles: &mut Vec<String>) {
    for entry in outlines.as_array().into_iter().flatten() {
        titles.push(entry["title"].as_str().unwrap().to_owned());
        collect(&entry["kids"], titles);
    }
}

/// Asserts that the pieces stand in the text in this order.
pub(crate) fn assert_order(text: &str, pieces: &[&str]) {
    let mut rest = text;
    for piece in pieces {
        let Some(at) = rest.find(piece) else {
            panic!("`{piece}` does not follow in the text, or is missing: …{rest}");
        };
        rest = &rest[at + piece.len()..];
    }
}

//! The page on paper: printed by the browser, and read again by the programs that read PDF files (poppler).

use std::{fs, path::Path, process::Command};

use serde_json::{Value, json};

use super::{LEAVES, address, said, stands::Stands};
use crate::{Outcome, browser::Browser};

/// The least that a printer leaves white at the sides, in points.
const EDGE: f64 = 18.0;
/// On how many pages the client learns what is held, what stops it and what was not examined, before the findings begin.
const MOST_FRONT_PAGES: usize = 2;

/// Prints a leaf as a client would, and holds the paper against what the browser lays out for print: every text is there, in
/// whole, none over the edge; every photo is there; no page is empty. Answers how many pages there are.
pub(super) fn check(browser: &Browser, leaf: &Path, file: &Path) -> Outcome<usize> {
    browser.go(&address(leaf))?;
    let letter = json!({"printBackground": false, "paperWidth": 8.5, "paperHeight": 11});
    let printed = browser.command("Page.printToPDF", &letter)?;
    let bytes = printed["data"].as_str().and_then(crate::base64::read).unwrap_or_default();
    if !bytes.starts_with(b"%PDF") {
        return Err("the browser printed no PDF".to_owned());
    }
    fs::write(file, &bytes).map_err(|error| said(file, &error))?;
    browser.command("Emulation.setEmulatedMedia", &json!({"media": "print"}))?;
    let expected = Stands::on(browser)?;
    browser.command("Emulation.setEmulatedMedia", &json!({"media": ""}))?;
    let shots = browser.script(
        "return new Set([...document.querySelectorAll('img[src$=\".jpg\"]')].map(it => it.src)).size",
        &[],
    )?;

    let paper = Paper::read(file)?;
    let name = file.display();
    let letters = |text: &str| -> String {
        text.replace('\u{fb01}', "fi").replace('\u{fb02}', "fl").split_whitespace().collect()
    };
    let all = letters(&paper.text);
    // The dot before an entry of a list is drawn, and is no text on paper.
    let says = |text: &&String| text.chars().any(char::is_alphanumeric);
    for text in expected.texts.iter().filter(says) {
        if !all.contains(&letters(text)) {
            return Err(format!("{name}: this is not on the paper: {text}"));
        }
    }
    for (at, page) in paper.pages.iter().enumerate() {
        let number = at + 1;
        if page.words.is_empty() && !paper.pictures.contains(&number) {
            return Err(format!("{name}: page {number} is empty"));
        }
        for (word, [left, top, right, bottom]) in &page.words {
            let within = *left >= EDGE
                && *top >= EDGE
                && *right <= page.width - EDGE
                && *bottom <= page.height - EDGE;
            if !within {
                return Err(format!("{name}: {word:?} on page {number} runs over the edge"));
            }
        }
    }
    if leaf.ends_with(LEAVES[0]) {
        let shots = shots.as_u64().and_then(|it| usize::try_from(it).ok()).unwrap_or_default();
        if shots == 0 || paper.pictures.len() < shots {
            return Err(format!("{name}: {} of {shots} photos are printed", paper.pictures.len()));
        }
        front(browser, &paper).map_err(|why| format!("{name}: {why}"))?;
    }
    Ok(paper.pages.len())
}

/// The front: title and the five uses with their states on the first page, the rest of it before the findings begin.
fn front(browser: &Browser, paper: &Paper) -> Outcome<()> {
    let words = browser.script(
        "const all = (it) => [...document.querySelectorAll(it)].map(one => one.textContent.trim());
         return [all('h1, .uses h3, .uses .state'), all('.stopping a'), all('.finding h3')[0]]",
        &[],
    )?;
    let texts = |value: &Value| -> Vec<String> {
        value
            .as_array()
            .into_iter()
            .flatten()
            .filter_map(Value::as_str)
            .map(str::to_owned)
            .collect()
    };
    let page_with = |text: &str| -> Option<usize> {
        let letters: String = text.split_whitespace().collect();
        let of = |page: &Page| page.words.iter().map(|it| it.0.as_str()).collect::<String>();
        paper.pages.iter().position(|page| of(page).contains(&letters)).map(|at| at + 1)
    };
    for text in texts(&words[0]) {
        if page_with(&text) != Some(1) {
            return Err(format!("{text:?} is not on the first page"));
        }
    }
    let stopping = texts(&words[1]);
    for text in &stopping {
        if page_with(text).is_none_or(|page| page > MOST_FRONT_PAGES) {
            return Err(format!("{text:?}, which stops a use, is not on the first pages"));
        }
    }
    let first = words[2].as_str().ok_or("no finding stands on the page")?;
    match page_with(first) {
        Some(page) if page <= MOST_FRONT_PAGES + 1 => Ok(()),
        page => Err(format!("the findings begin on page {page:?}")),
    }
}

/// A printed file.
struct Paper {
    pages: Vec<Page>,
    /// All text, in the order in which it was drawn.
    text: String,
    /// For each picture, the number of its page.
    pictures: Vec<usize>,
}

struct Page {
    width: f64,
    height: f64,
    /// Each word with its left, upper, right and lower edge.
    words: Vec<(String, [f64; 4])>,
}

impl Paper {
    fn read(file: &Path) -> Outcome<Self> {
        let boxes = said_by("pdftotext", &["-bbox"], file, &["-"])?;
        let text = said_by("pdftotext", &["-raw", "-enc", "UTF-8"], file, &["-"])?;
        let listed = said_by("pdfimages", &["-list"], file, &[])?;
        let jpegs = listed.lines().filter(|line| line.contains(" jpeg "));
        let pictures = jpegs.filter_map(|line| line.split_whitespace().next()?.parse().ok());
        Ok(Self { pages: pages(&boxes)?, text, pictures: pictures.collect() })
    }
}

fn pages(boxes: &str) -> Outcome<Vec<Page>> {
    let mut pages: Vec<Page> = Vec::new();
    for line in boxes.lines().map(str::trim) {
        if line.starts_with("<page ") {
            let (width, height) = (number(line, "width")?, number(line, "height")?);
            pages.push(Page { width, height, words: Vec::new() });
        } else if let (Some((_, rest)), Some(page)) = (line.split_once("<word "), pages.last_mut())
        {
            let text = rest.split_once('>').map_or("", |(_, text)| text);
            let text = text.trim_end_matches("</word>").replace("&amp;", "&").replace("&lt;", "<");
            let text = text.replace("&gt;", ">").replace("&quot;", "\"").replace("&apos;", "'");
            let edges = ["xMin", "yMin", "xMax", "yMax"].map(|name| number(rest, name));
            let [left, top, right, bottom] = edges;
            page.words.push((text, [left?, top?, right?, bottom?]));
        }
    }
    Ok(pages)
}

fn number(line: &str, name: &str) -> Outcome<f64> {
    line.split_once(&format!("{name}=\""))
        .and_then(|(_, rest)| rest.split_once('"'))
        .and_then(|(number, _)| number.parse().ok())
        .ok_or_else(|| format!("pdftotext said no {name}: {line}"))
}

/// What a program says of a file.
fn said_by(program: &str, before: &[&str], file: &Path, after: &[&str]) -> Outcome<String> {
    let output = Command::new(program)
        .args(before)
        .arg(file)
        .args(after)
        .output()
        .map_err(|error| format!("{program} (package poppler-utils): {error}"))?;
    if !output.status.success() {
        return Err(format!("{program}: {}", String::from_utf8_lossy(&output.stderr).trim()));
    }
    Ok(String::from_utf8_lossy(&output.stdout).into_owned())
}

//! The ways through the report: each link, by what is said of it, leads to the page and place of just that.

use std::collections::BTreeMap;

use report::content::{Content, Form, Paper};
use report::drawing::views;
use report::{WebPage, page};
use serde_json::Value;

use crate::sample::{photo, sample};
use crate::tools::{File, typeset_sample};

/// A word of a page, its place in points from the upper left corner.
struct Word {
    left: f64,
    top: f64,
    bottom: f64,
    text: String,
}

/// A link of the PDF.
struct Link {
    /// What a screen reader says of it.
    told: String,
    page: usize,
    /// Left, top, right, bottom, from the upper left corner.
    over: [f64; 4],
    /// Page and place that it leads to.
    to: (usize, f64, f64),
}

/// A link shows a little of what stands above its target: so many points, which the typesetter adds.
const ABOVE: f64 = 10.0;

/// A report as its links and words, page by page.
struct Read {
    links: Vec<Link>,
    words: Vec<Vec<Word>>,
}

impl Read {
    fn of(content: &Content) -> Self {
        let file = File::new(&typeset_sample(content).pdf);
        let words = words(&file);
        let height = if content.paper == Paper::A4 { 841.89 } else { 792.0 };
        Self { links: links(&file, height), words }
    }

    /// The words from a place on, to the right of it and beneath, as one reads them.
    fn from(&self, (page, left, top): (usize, f64, f64), width: f64) -> Vec<&str> {
        let mut words: Vec<&Word> = self.words[page]
            .iter()
            .filter(|word| word.left >= left - 2.0 && word.left < left + width)
            .filter(|word| word.bottom >= top + 1.0)
            .collect();
        // Words of one line differ a little in their tops where they differ in size.
        words.sort_by_key(|word| (whole(word.top / 5.0), whole(word.left * 10.0)));
        words.iter().map(|word| word.text.as_str()).collect()
    }

    /// How many links are told so.
    fn told(&self, words: &str) -> usize {
        self.links.iter().filter(|link| link.told == words).count()
    }
}

#[allow(clippy::cast_possible_truncation, reason = "places on a page, in points")]
fn whole(value: f64) -> i64 {
    value.round() as i64
}

fn words(file: &File) -> Vec<Vec<Word>> {
    let (xml, read) = file.ask("pdftotext", &["-bbox"], &["-"]);
    assert!(read);
    let number = |line: &str, name: &str| -> f64 {
        let (_, rest) = line.split_once(&format!("{name}=\"")).unwrap();
        rest.split_once('"').unwrap().0.parse().unwrap()
    };
    let mut pages = Vec::new();
    for line in xml.lines().map(str::trim) {
        if line.starts_with("<page ") {
            pages.push(Vec::new());
        } else if let Some(rest) = line.strip_prefix("<word ") {
            let text = rest.split_once('>').unwrap().1.trim_end_matches("</word>");
            let word = Word {
                left: number(rest, "xMin"),
                top: number(rest, "yMin"),
                bottom: number(rest, "yMax"),
                text: text.replace('\u{200b}', ""),
            };
            pages.last_mut().unwrap().push(word);
        }
    }
    pages
}

fn links(file: &File, height: f64) -> Vec<Link> {
    let (json, read) =
        file.ask("qpdf", &["--json=1", "--json-key=objects", "--json-key=pages"], &[]);
    assert!(read);
    let value: Value = serde_json::from_str(&json).unwrap();
    let objects = &value["objects"];
    let pages: Vec<&str> = value["pages"]
        .as_array()
        .unwrap()
        .iter()
        .map(|it| it["object"].as_str().unwrap())
        .collect();
    let number = |value: &Value| value.as_f64().unwrap();
    let mut found = Vec::new();
    for (page, object) in pages.iter().enumerate() {
        let annotations = resolved(objects, &objects[*object]["/Annots"]);
        for one in annotations.as_array().into_iter().flatten() {
            let one = resolved(objects, one);
            if one["/Subtype"] != "/Link" {
                continue;
            }
            let to = match resolved(objects, &one["/Dest"]) {
                Value::Null => resolved(objects, &resolved(objects, &one["/A"])["/D"]),
                there => there,
            };
            assert_eq!(to[1], "/XYZ", "{one}");
            let to_page = pages.iter().position(|page| to[0] == **page).unwrap();
            let over = resolved(objects, &one["/Rect"]);
            found.push(Link {
                told: one["/Contents"].as_str().unwrap_or_default().to_owned(),
                page,
                over: [
                    number(&over[0]),
                    height - number(&over[3]),
                    number(&over[2]),
                    height - number(&over[1]),
                ],
                to: (to_page, number(&to[2]), height - number(&to[3]) + ABOVE),
            });
        }
    }
    found
}

fn resolved<'a>(objects: &'a Value, value: &'a Value) -> &'a Value {
    match value.as_str() {
        Some(reference) if reference.ends_with(" R") => &objects[reference],
        _ => value,
    }
}

/// That the words at the place begin with what was told of the link.
fn check(read: &Read, content: &Content, link: &Link) {
    let number = |words: &str| -> Option<usize> { link.told.strip_prefix(words)?.parse().ok() };
    let begins = |with: &str, width: f64| {
        let there = read.from(link.to, width).join(" ");
        assert!(
            there.starts_with(with),
            "“{}” on page {} leads to page {}, where this stands: {}",
            link.told,
            link.page + 1,
            link.to.0 + 1,
            there.chars().take(80).collect::<String>()
        );
    };
    const LINE: f64 = 600.0;
    if let Some(number) = number("Finding ") {
        let title = &content.findings[number - 1].title;
        begins(&format!("{number} {}", title.split(' ').next().unwrap()), LINE);
    } else if let Some(number) = number("Photo ") {
        // The picture comes first, with words over it where it is marked; then its caption.
        let there = read.from(link.to, 240.0);
        let at = there.iter().position(|word| *word == "Photo");
        let caption = at.and_then(|at| there.get(at + 1)).copied();
        assert_eq!(caption, Some(number.to_string().as_str()), "{there:?}");
    } else if let Some(number) = number("Reading ") {
        begins(&format!("R{number} "), LINE);
    } else if let Some(number) = number("Source ") {
        begins(&format!("[{number}] "), LINE);
    } else if let Some(number) = number("Instrument ") {
        begins(&format!("I{number} "), LINE);
    } else if let Some(number) = number("Not examined, entry ") {
        begins(&format!("N{number} "), LINE);
    } else if let Some(name) = link.told.strip_prefix("Use: ") {
        begins(&format!("{name} "), 90.0);
    } else if views(content).drawn.iter().any(|view| view.title == link.told) {
        let pin = read.links.iter().filter(|pin| pin.page == link.to.0).any(|pin| {
            let [left, top, right, bottom] = pin.over;
            pin.told.starts_with("Finding ")
                && (left - 1.0..right + 1.0).contains(&link.to.1)
                && (top - 1.0..bottom + 1.0).contains(&link.to.2)
        });
        assert!(
            pin,
            "“{}” on page {} leads to {:?}, where no pin is",
            link.told,
            link.page + 1,
            link.to
        );
    } else if let Some((_, rest)) = link.told.split_once('“') {
        // An entry of the contents says its heading and its page.
        let (heading, page) = rest.split_once("” page ").unwrap();
        begins(heading, LINE);
        assert_eq!(page.parse(), Ok(link.to.0 + 1), "{}", link.told);
    } else {
        begins(&link.told, LINE);
    }
}

#[test]
fn every_link_of_the_pdf_leads_to_the_page_and_place_of_what_it_names() {
    for (paper, form) in
        [(Paper::Letter, Form::Full), (Paper::A4, Form::Full), (Paper::Letter, Form::Short)]
    {
        let content = Content { form, ..sample(paper) };
        let read = Read::of(&content);
        assert!(read.links.len() >= 20, "{}", read.links.len());
        for link in &read.links {
            assert!(!link.told.is_empty(), "a link on page {} is not told", link.page + 1);
            check(&read, &content, link);
        }
    }
}

#[test]
fn summary_finding_reading_photo_and_source_lead_to_each_other_in_the_pdf() {
    let content = sample(Paper::Letter);
    let read = Read::of(&content);
    for one in &content.uses {
        let stopped = content.findings.iter().filter(|it| it.stops.contains(&one.kind)).count();
        let open = content.not_examined.iter().filter(|it| it.leaves_open.contains(&one.kind));
        let told = format!("Use: {}", one.kind.word());
        // In the list of findings and beside the finding; in the list of what was not examined.
        assert_eq!(read.told(&told), 2 * stopped + open.count(), "{told}");
    }
    let readings: Vec<_> = content.systems.iter().flat_map(|system| &system.readings).collect();
    let of_photo = |number: usize| readings.iter().filter(|it| it.photos.contains(&number)).count();
    // From a photo to the readings of its point, four at most, and from their table to the photo.
    let mut from_photos = 0;
    for number in 1..=content.photos.len() {
        from_photos += of_photo(number).min(4);
        let from_elsewhere = usize::from(of_photo(number) > 0)
            + usize::from(content.unit.photo == Some(number))
            + content.findings.iter().filter(|it| it.photos.contains(&number)).skip(1).count();
        assert_eq!(read.told(&format!("Photo {number}")), from_elsewhere, "photo {number}");
    }
    let from_findings: usize = content.findings.iter().map(|it| it.readings.len()).sum();
    let from_sources: usize = readings
        .iter()
        .map(|it| {
            let mut sources: Vec<usize> =
                it.judged.iter().flat_map(|one| one.sources.clone()).collect();
            sources.sort_unstable();
            sources.dedup();
            sources.len()
        })
        .sum();
    let to_readings: usize =
        (1..=readings.len()).map(|number| read.told(&format!("Reading {number}"))).sum();
    assert_eq!(to_readings, from_photos + from_findings + from_sources);
    // A photo leads to each finding that names it, the one that it stands beside too.
    let text = File::new(&typeset_sample(&content).pdf).text();
    let text = text.split_whitespace().collect::<Vec<_>>().join(" ");
    let (_, at_photo) = text.split_once("Photo 3 Regulator and hoses").unwrap();
    let caption: String = at_photo.chars().take(90).collect();
    assert!(caption.contains("Finding 1; Readings R1, R2, R3."), "{caption}");
    let (_, table) = text.split_once("Running gear").unwrap();
    assert!(table.contains("Tires Photos 4, 5, 6 R8"), "{table}");
}

/// Where the links of a piece of a page lead, by what is said of them.
fn ways(html: &str) -> BTreeMap<String, String> {
    html.split("<a ")
        .skip(1)
        .filter_map(|rest| {
            let value = |name: &str| {
                let (_, rest) = rest.split_once('>')?.0.split_once(&format!("{name}=\""))?;
                Some(rest.split_once('"')?.0.to_owned())
            };
            Some((value("aria-label")?, value("href")?))
        })
        .collect()
}

/// The element with this id and what follows it, up to the end of an element of this kind.
fn piece(page: &WebPage, file: &str, id: &str, end: &str) -> String {
    let file = page.files.iter().find(|it| it.name == file).unwrap();
    let html = String::from_utf8(file.bytes.clone()).unwrap();
    let (_, rest) = html.split_once(&format!("id=\"{id}\"")).unwrap_or_else(|| panic!("{id}"));
    rest.split_once(end).unwrap().0.to_owned()
}

#[test]
fn summary_finding_reading_photo_and_source_lead_to_each_other_on_the_page() {
    let content = sample(Paper::Letter);
    let page = page(&content, &photo, None).unwrap();
    let check = |(file, id, end): (&str, &str, &str), leads: &[(&str, &str)]| {
        let ways = ways(&piece(&page, file, id, end));
        for (told, to) in leads {
            assert_eq!(ways.get(*told).map(String::as_str), Some(*to), "{id}, {told}: {ways:?}");
        }
    };
    let (index, readings) = ("index.html", "readings.html");
    check((index, "use-gas", "</li>"), &[("Finding 1", "#finding-1")]);
    check(
        (index, "finding-1", "</article>"),
        &[
            ("Use: Gas", "#use-gas"),
            ("Reading R2", "readings.html#reading-2"),
            ("Source [1]", "readings.html#source-1"),
            ("Finding 1", "#finding-1"),
        ],
    );
    check(
        (index, "photo-3", "</figure>"),
        &[("Finding 1", "#finding-1"), ("Reading R2", "readings.html#reading-2")],
    );
    check((index, "photo-13", "</figure>"), &[("Reading R12", "readings.html#reading-12")]);
    check((index, "unexamined-1", "</tr>"), &[("Use: Water", "#use-water")]);
    check(
        (readings, "reading-2", "</tr>"),
        &[("Finding 1", "index.html#finding-1"), ("Source [1]", "#source-1")],
    );
    check((readings, "system-1", "reading-1"), &[("Photo 2", "index.html#photo-2")]);
    check(
        (readings, "source-1", "</li>"),
        &[("Finding 1", "index.html#finding-1"), ("Reading R2", "#reading-2")],
    );
}

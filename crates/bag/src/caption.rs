//! A photo's caption, time and marks inside a copy of it, where other programs look for them.
//!
//! They are written as an XMP packet (ISO 16684-1) in an APP1 segment of the JPEG file, with the properties of the IPTC
//! Photo Metadata Standard; marks are its image regions. The picture itself is not touched.

use std::fmt::Write;

use inspection::Mark;

/// What is written into a copy.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Caption {
    /// Heading: the point it shows.
    pub title: String,
    /// What it shows, in words.
    pub description: String,
    /// When it was taken, such as `2026-06-12T09:14:00-04:00`; empty if unknown.
    pub taken: String,
    /// Who made the inspection.
    pub creator: String,
    /// Words to find it by.
    pub keywords: Vec<String>,
    /// The original: its SHA-256.
    pub original: String,
    /// Marks, in fractions of width and height.
    pub marks: Vec<Mark>,
}

/// How a segment with XMP begins.
const XMP: &[u8] = b"http://ns.adobe.com/xap/1.0/\0";

/// The most bytes that one segment of a JPEG file holds behind its length (ITU-T T.81, B.1.1.4).
const LARGEST_SEGMENT: usize = 65_533;

/// How many letters of a text go into the copy: as many as fit, from the first of these on.
const MOST_LETTERS: [usize; 6] = [2_000, 1_000, 500, 250, 120, 60];

/// Where what was shortened stands whole.
const IN_FULL: &str = "The record of the job has it in full.";

/// A copy with its caption inside.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Captioned {
    /// The JPEG file.
    pub bytes: Vec<u8>,
    /// What was too long for it and is shortened there, in words; empty where everything is in it. The copy says the same.
    pub shortened: String,
}

/// A copy of a JPEG file with the caption inside, shortened where it does not fit; none if the bytes are no JPEG file.
#[must_use]
pub fn captioned(jpeg: &[u8], caption: &Caption) -> Option<Captioned> {
    let at = place(jpeg)?;
    let (packet, shortened) = fitting(caption);
    let content = [XMP, packet.as_bytes()].concat();
    let length = u16::try_from(content.len() + 2).ok()?;
    let (before, after) = jpeg.split_at(at);
    let mut out = Vec::with_capacity(jpeg.len() + content.len() + 4);
    out.extend_from_slice(before);
    out.extend_from_slice(&[0xff, 0xe1]);
    out.extend_from_slice(&length.to_be_bytes());
    out.extend_from_slice(&content);
    out.extend_from_slice(after);
    Some(Captioned { bytes: out, shortened })
}

/// The packet of as much of the caption as one segment holds, and what was shortened: long texts first, then marks and
/// keywords, of which the first stay.
fn fitting(caption: &Caption) -> (String, String) {
    let all = caption.marks.len().max(caption.keywords.len());
    let halves = std::iter::successors(Some(all), |most| (*most > 0).then_some(most / 2));
    let fewer = halves.skip(1).map(|most| (MOST_LETTERS[MOST_LETTERS.len() - 1], most));
    let mut ways = MOST_LETTERS.iter().map(|letters| (*letters, all)).chain(fewer);
    loop {
        // The last way has neither marks nor keywords and a handful of short texts.
        let (letters, most) = ways.next().unwrap_or((0, 0));
        let (short, shortened) = shorter(caption, letters, most);
        let packet = packet(&short, &shortened);
        if XMP.len() + packet.len() <= LARGEST_SEGMENT || letters == 0 {
            return (packet, shortened);
        }
    }
}

/// The caption with at most so many letters a text, and so many marks and keywords; and what that shortened, in words.
fn shorter(caption: &Caption, letters: usize, most: usize) -> (Caption, String) {
    let mut cut = Vec::new();
    let mut text = |name: &str, whole: &str| match whole.char_indices().nth(letters) {
        None => whole.to_owned(),
        Some((at, _)) => {
            if !cut.iter().any(|one| one == name) {
                cut.push(name.to_owned());
            }
            format!("{}…", whole.get(..at).unwrap_or_default())
        }
    };
    let mut short = Caption {
        title: text("title", &caption.title),
        description: text("description", &caption.description),
        taken: text("time", &caption.taken),
        creator: text("name", &caption.creator),
        keywords: caption.keywords.iter().map(|word| text("keywords", word)).collect(),
        original: text("source", &caption.original),
        marks: caption
            .marks
            .iter()
            .map(|mark| match mark {
                Mark::Words { at, text: words } => {
                    Mark::Words { at: *at, text: text("words of marks", words) }
                }
                other => other.clone(),
            })
            .collect(),
    };
    let mut fewer = |name: &str, of: usize| {
        if of > most {
            cut.push(format!("{most} of {of} {name}"));
        }
    };
    fewer("keywords", caption.keywords.len());
    fewer("marks", caption.marks.len());
    short.keywords.truncate(most);
    short.marks.truncate(most);
    (short, cut.join(", "))
}

/// Behind the start and the segments that must come first: JFIF (APP0) and Exif (APP1).
fn place(jpeg: &[u8]) -> Option<usize> {
    if !jpeg.starts_with(b"\xff\xd8\xff") {
        return None;
    }
    let mut at = 2;
    loop {
        let head = jpeg.get(at..at + 4)?;
        let [0xff, kind, high, low] = *head else { return None };
        // Any number of bytes 0xff may stand before a marker (ITU-T T.81, B.1.1.2).
        if kind == 0xff {
            return Some(at);
        }
        let length = usize::from(u16::from_be_bytes([high, low]));
        let content = jpeg.get(at + 4..at + 2 + length)?;
        let first = kind == 0xe0 || (kind == 0xe1 && content.starts_with(b"Exif\0"));
        if !first {
            return Some(at);
        }
        at += 2 + length;
    }
}

fn packet(caption: &Caption, shortened: &str) -> String {
    let mut out = String::from(
        "<?xpacket begin=\"\u{feff}\" id=\"W5M0MpCehiHzreSzNTczkc9d\"?>\n\
         <x:xmpmeta xmlns:x=\"adobe:ns:meta/\">\n\
         <rdf:RDF xmlns:rdf=\"http://www.w3.org/1999/02/22-rdf-syntax-ns#\">\n\
         <rdf:Description rdf:about=\"\"\n\
         xmlns:dc=\"http://purl.org/dc/elements/1.1/\"\n\
         xmlns:xmp=\"http://ns.adobe.com/xap/1.0/\"\n\
         xmlns:photoshop=\"http://ns.adobe.com/photoshop/1.0/\"\n\
         xmlns:Iptc4xmpCore=\"http://iptc.org/std/Iptc4xmpCore/1.0/xmlns/\"\n\
         xmlns:Iptc4xmpExt=\"http://iptc.org/std/Iptc4xmpExt/2008-02-29/\">\n",
    );
    alternative(&mut out, "dc:title", &caption.title);
    alternative(&mut out, "dc:description", &caption.description);
    alternative(&mut out, "Iptc4xmpCore:AltTextAccessibility", &caption.description);
    list(&mut out, "dc:creator", "Seq", std::slice::from_ref(&caption.creator));
    list(&mut out, "dc:subject", "Bag", &caption.keywords);
    simple(&mut out, "xmp:CreateDate", &caption.taken);
    simple(&mut out, "photoshop:DateCreated", &caption.taken);
    if !caption.original.is_empty() {
        simple(&mut out, "dc:source", &format!("sha256:{}", caption.original));
    }
    if !shortened.is_empty() {
        let said = format!("Shortened to fit into this file: {shortened}. {IN_FULL}");
        simple(&mut out, "photoshop:Instructions", &said);
    }
    regions(&mut out, &caption.marks);
    out.push_str("</rdf:Description>\n</rdf:RDF>\n</x:xmpmeta>\n<?xpacket end=\"r\"?>");
    out
}

fn simple(out: &mut String, name: &str, text: &str) {
    if !text.is_empty() {
        // Writing into a string cannot fail.
        let _ = writeln!(out, "<{name}>{}</{name}>", escaped(text));
    }
}

fn alternative(out: &mut String, name: &str, text: &str) {
    if !text.is_empty() {
        let _ = writeln!(
            out,
            "<{name}><rdf:Alt><rdf:li xml:lang=\"x-default\">{}</rdf:li></rdf:Alt></{name}>",
            escaped(text)
        );
    }
}

fn list(out: &mut String, name: &str, kind: &str, items: &[String]) {
    let items: String = items
        .iter()
        .filter(|item| !item.is_empty())
        .map(|item| format!("<rdf:li>{}</rdf:li>", escaped(item)))
        .collect();
    if !items.is_empty() {
        let _ = writeln!(out, "<{name}><rdf:{kind}>{items}</rdf:{kind}></{name}>");
    }
}

/// Image regions of the IPTC standard: a box, a circle or a blurred part as a rectangle, an arrow as a line from its end to its head, words as a
/// point.
fn regions(out: &mut String, marks: &[Mark]) {
    if marks.is_empty() {
        return;
    }
    out.push_str("<Iptc4xmpExt:ImageRegion><rdf:Bag>\n");
    for (at, mark) in marks.iter().enumerate() {
        let (shape, words) = match mark {
            Mark::Box { from, to } => (rectangle(*from, *to), "box"),
            Mark::Circle { from, to } => (rectangle(*from, *to), "circle that touches these sides"),
            Mark::Blur { from, to } => (rectangle(*from, *to), "blurred"),
            Mark::Arrow { from, to } => (vertices(&[*from, *to]), "arrow, its head last"),
            Mark::Words { at, text } => (vertices(&[*at]), text.as_str()),
        };
        let _ = writeln!(
            out,
            "<rdf:li rdf:parseType=\"Resource\">\
             <Iptc4xmpExt:RegionBoundary rdf:parseType=\"Resource\">\
             <Iptc4xmpExt:rbUnit>relative</Iptc4xmpExt:rbUnit>{shape}</Iptc4xmpExt:RegionBoundary>\
             <Iptc4xmpExt:rId>mark-{}</Iptc4xmpExt:rId>\
             <Iptc4xmpExt:Name><rdf:Alt><rdf:li xml:lang=\"x-default\">{}</rdf:li></rdf:Alt></Iptc4xmpExt:Name>\
             </rdf:li>",
            at + 1,
            escaped(words)
        );
    }
    out.push_str("</rdf:Bag></Iptc4xmpExt:ImageRegion>\n");
}

fn rectangle(from: (f64, f64), to: (f64, f64)) -> String {
    let (left, top) = (from.0.min(to.0), from.1.min(to.1));
    let (width, height) = ((from.0 - to.0).abs(), (from.1 - to.1).abs());
    format!(
        "<Iptc4xmpExt:rbShape>rectangle</Iptc4xmpExt:rbShape>\
         <Iptc4xmpExt:rbX>{left:.5}</Iptc4xmpExt:rbX><Iptc4xmpExt:rbY>{top:.5}</Iptc4xmpExt:rbY>\
         <Iptc4xmpExt:rbW>{width:.5}</Iptc4xmpExt:rbW><Iptc4xmpExt:rbH>{height:.5}</Iptc4xmpExt:rbH>"
    )
}

fn vertices(points: &[(f64, f64)]) -> String {
    let items: String = points
        .iter()
        .map(|(x, y)| {
            format!(
                "<rdf:li rdf:parseType=\"Resource\"><Iptc4xmpExt:rbX>{x:.5}</Iptc4xmpExt:rbX>\
                 <Iptc4xmpExt:rbY>{y:.5}</Iptc4xmpExt:rbY></rdf:li>"
            )
        })
        .collect();
    format!(
        "<Iptc4xmpExt:rbShape>polygon</Iptc4xmpExt:rbShape>\
         <Iptc4xmpExt:rbVertices><rdf:Seq>{items}</rdf:Seq></Iptc4xmpExt:rbVertices>"
    )
}

/// Text as XML takes it. What XML 1.0 (2.2) has no way of writing becomes U+FFFD.
fn escaped(text: &str) -> String {
    let mut out = String::new();
    for letter in text.chars() {
        match letter {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            '\t' | '\n' => out.push(letter),
            // A parser would read a bare carriage return as a line's end.
            '\r' => out.push_str("&#13;"),
            '\u{fffe}' | '\u{ffff}' => out.push('\u{fffd}'),
            control if control < ' ' => out.push('\u{fffd}'),
            other => out.push(other),
        }
    }
    out
}

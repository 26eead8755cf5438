//! A signature inside the report's PDF, which general PDF readers show: PAdES, level B-B (ETSI EN 319 142-1).
//!
//! It is appended as an incremental update (ISO 32000-1, 7.5.6), so the report's own bytes stay as they were. The key is
//! P-256, derived from the inspector's signing key by a hash: readers do not know Ed25519, and nobody has to keep a second
//! secret. Its certificate is made by the key for itself, so a reader shows that the file is as it was signed and that it does
//! not know who signed.
//!
//! This is no PDF library: it reads the plain cross-reference table that our typesetter writes, and refuses anything else.

mod certificate;
mod cms;
mod der;

use certificate::Certificate;

use crate::{Sha256, SigningKey};

/// Who signs a report, and when.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PdfSigner {
    /// The inspector's name.
    pub name: String,
    /// Thumbprint of the key that signs bags.
    pub thumbprint: String,
    /// The day from which on the certificate holds: that of the key, `2026-06-12`.
    pub since: String,
    /// When the report is signed, in universal time: `2026-06-12T18:00:00Z`.
    pub at: String,
}

/// Hexadecimal digits kept free for the signature; it has some 1,700.
const ROOM: usize = 8192;

/// The report with a signature appended. The same report, key and signer give the same bytes.
///
/// # Errors
/// A sentence when the file is not laid out as our typesetter writes it.
pub fn sign_pdf(pdf: &[u8], key: &SigningKey, signer: &PdfSigner) -> Result<Vec<u8>, String> {
    let key = derived(key);
    let certificate = Certificate::of(&key, signer);
    let (mut out, hole) = with_room(pdf, signer)?;
    let after = hole + ROOM + 2;
    let covered = [&out[..hole], &out[after..]].concat();
    let signature = cms::signed_data(&key, &certificate, &Sha256::of(&covered));
    let digits: String = signature.iter().map(|byte| format!("{byte:02x}")).collect();
    let room = out
        .get_mut(hole + 1..hole + 1 + digits.len())
        .filter(|_| digits.len() <= ROOM)
        .ok_or("the signature does not fit the room kept for it")?;
    room.copy_from_slice(digits.as_bytes());
    Ok(out)
}

/// The P-256 key of a signing key. A hash beyond the group's order is not taken; that happens once in 2³² times.
fn derived(key: &SigningKey) -> p256::ecdsa::SigningKey {
    (0_u32..)
        .find_map(|at| {
            let secret =
                key.derived_secret(&format!("nearside: P-256 key for PDF signatures, {at}"));
            p256::ecdsa::SigningKey::from_slice(&secret).ok()
        })
        .expect("one of four thousand million hashes is a key")
}

/// The file with the update appended, all but the signature's digits; and where the hole for them begins, at its `<`.
fn with_room(pdf: &[u8], signer: &PdfSigner) -> Result<(Vec<u8>, usize), String> {
    let file = Layout::read(pdf)
        .ok_or("the PDF has no plain cross-reference table, as our reports have")?;
    let (root, page) = (file.object(file.root), file.first_page());
    let (Some(root), Some((page_number, page))) = (root, page) else {
        return Err("the PDF's catalogue or first page cannot be found".to_owned());
    };
    if root.contains("/AcroForm") {
        return Err("the PDF has a form or a signature already".to_owned());
    }
    let (signature, field) = (file.size, file.size + 1);
    let mut out = pdf.to_vec();
    if !out.ends_with(b"\n") {
        out.push(b'\n');
    }
    let mut offsets: Vec<(usize, usize)> = Vec::new();
    let mut add = |out: &mut Vec<u8>, number: usize, dictionary: &str| {
        offsets.push((number, out.len()));
        out.extend_from_slice(format!("{number} 0 obj\n<<{dictionary}>>\nendobj\n").as_bytes());
    };
    let annotations = match page.split_once("/Annots") {
        None => format!("{page}/Annots[{field} 0 R]"),
        Some((before, after)) => {
            let inner = after
                .trim_start()
                .strip_prefix('[')
                .ok_or("the first page's links cannot be read")?;
            format!("{before}/Annots[{field} 0 R {inner}")
        }
    };
    add(&mut out, page_number, &annotations);
    add(&mut out, file.root, &format!("{root}/AcroForm<</SigFlags 3/Fields[{field} 0 R]>>"));
    // The field shows nowhere: it lies outside the page, where PDF/UA-1 (7.18.1) asks for no tag. PDF/A wants its Print flag.
    let widget = format!(
        "/Type/Annot/Subtype/Widget/FT/Sig/T(Inspector signature)/TU(Inspector signature)/Contents(Inspector signature)\
         /F 132/Rect[-10 -10 -10 -10]/P {page_number} 0 R/V {signature} 0 R"
    );
    add(&mut out, field, &widget);
    let begin = out.len();
    let range = "0 AAAAAAAAAA BBBBBBBBBB CCCCCCCCCC";
    let dictionary = format!(
        "/Type/Sig/Filter/Adobe.PPKLite/SubFilter/ETSI.CAdES.detached/M(D:{})/Name{}/Reason(Report released)\
         /ByteRange[{range}]/Contents<{}>",
        moment(&signer.at),
        text_string(&signer.name),
        "0".repeat(ROOM)
    );
    add(&mut out, signature, &dictionary);
    finish(&mut out, offsets, &file, signature + 2);

    let hole = find(&out, b"/Contents<0000", begin).ok_or("the signature's room got lost")?
        + "/Contents".len();
    let after = hole + ROOM + 2;
    let numbers = format!("0 {hole:<10} {after:<10} {:<10}", out.len() - after);
    let place = find(&out, range.as_bytes(), begin).ok_or("the signature's range got lost")?;
    out.get_mut(place..place + numbers.len())
        .filter(|_| numbers.len() == range.len())
        .ok_or("the report is too large to be signed")?
        .copy_from_slice(numbers.as_bytes());
    Ok((out, hole))
}

/// The table of what was appended, and the end of the file.
fn finish(out: &mut Vec<u8>, mut offsets: Vec<(usize, usize)>, file: &Layout<'_>, size: usize) {
    let table = out.len();
    offsets.sort_unstable();
    let mut text = String::from("xref\n");
    let mut rest = offsets.as_slice();
    while let Some((first, _)) = rest.first() {
        let run = rest
            .iter()
            .zip(*first..)
            .take_while(|((number, _), expected)| number == expected)
            .count();
        let (together, after) = rest.split_at(run);
        text.push_str(&format!("{first} {run}\n"));
        for (_, offset) in together {
            text.push_str(&format!("{offset:010} 00000 n \n"));
        }
        rest = after;
    }
    let info = file.info.map_or_else(String::new, |info| format!("/Info {info} 0 R"));
    // PDF/A wants the file's identifier in the last trailer too.
    text.push_str(&format!(
        "trailer\n<</Size {size}/Root {} 0 R{info}/Prev {}{}>>\nstartxref\n{table}\n%%EOF\n",
        file.root, file.table, file.identifier
    ));
    out.extend_from_slice(text.as_bytes());
}

/// What has to be known of a PDF file to append to it.
struct Layout<'a> {
    pdf: &'a [u8],
    /// Where the cross-reference table begins.
    table: usize,
    size: usize,
    root: usize,
    info: Option<usize>,
    /// `/ID[…]` as it stands.
    identifier: String,
}

impl<'a> Layout<'a> {
    fn read(pdf: &'a [u8]) -> Option<Self> {
        let last = pdf.windows(9).rposition(|window| window == b"startxref")?;
        let table = number_after(pdf, b"startxref", last)?;
        if pdf.get(table..table + 4)? != b"xref" {
            return None;
        }
        let trailer = find(pdf, b"trailer", table)?;
        let begin = find(pdf, b"/ID", trailer)?;
        let end = find(pdf, b"]", begin)?;
        let identifier = String::from_utf8(pdf.get(begin..=end)?.to_vec()).ok()?;
        Some(Self {
            pdf,
            table,
            size: number_after(pdf, b"/Size", trailer)?,
            root: number_after(pdf, b"/Root", trailer)?,
            info: number_after(pdf, b"/Info", trailer),
            identifier,
        })
    }

    /// The inside of an object's dictionary.
    fn object(&self, number: usize) -> Option<String> {
        // One section from object 0 on, twenty bytes a line (ISO 32000-1, 7.5.4).
        let first = find(self.pdf, b"0000000000 65535 f", self.table)?;
        let line = first + 20 * number;
        let offset: usize =
            std::str::from_utf8(self.pdf.get(line..line + 10)?).ok()?.parse().ok()?;
        let begin = find(self.pdf, b"<<", offset)? + 2;
        let end = find(self.pdf, b"endobj", offset)?;
        if !self.pdf.get(offset..)?.starts_with(format!("{number} 0 obj").as_bytes()) {
            return None;
        }
        let text = String::from_utf8(self.pdf.get(begin..end)?.to_vec()).ok()?;
        Some(text[..text.rfind(">>")?].to_owned())
    }

    /// The first page: down the page tree by the first child.
    fn first_page(&self) -> Option<(usize, String)> {
        let mut number = number_after(self.object(self.root)?.as_bytes(), b"/Pages", 0)?;
        // A tree this deep is none of ours.
        for _ in 0..32 {
            let node = self.object(number)?;
            let Some(kids) = node.find("/Kids") else { return Some((number, node)) };
            let list = find(node.as_bytes(), b"[", kids)?;
            number = number_after(node.as_bytes(), b"[", list)?;
        }
        None
    }
}

fn find(haystack: &[u8], needle: &[u8], from: usize) -> Option<usize> {
    let found = haystack.get(from..)?.windows(needle.len()).position(|window| window == needle)?;
    Some(from + found)
}

/// The whole number behind a word.
fn number_after(bytes: &[u8], word: &[u8], from: usize) -> Option<usize> {
    let at = find(bytes, word, from)? + word.len();
    let digits: String = bytes
        .get(at..)?
        .iter()
        .map(|byte| char::from(*byte))
        .skip_while(char::is_ascii_whitespace)
        .take_while(char::is_ascii_digit)
        .collect();
    digits.parse().ok()
}

/// `2026-06-12T18:00:00Z` as a PDF writes it.
fn moment(at: &str) -> String {
    let digits: String = at.chars().filter(char::is_ascii_digit).take(14).collect();
    format!("{digits}Z")
}

/// A text string: UTF-16 with its mark, in hexadecimal, so that nothing in it needs escaping (ISO 32000-1, 7.9.2.2).
fn text_string(text: &str) -> String {
    let units = std::iter::once(0xfeff).chain(text.encode_utf16());
    format!("<{}>", units.map(|unit| format!("{unit:04X}")).collect::<String>())
}

//! The few forms of ASN.1 that a certificate and a signature are made of, in their distinguished encoding (ITU-T X.690).

/// A value under a tag.
pub(super) fn tagged(tag: u8, content: &[u8]) -> Vec<u8> {
    let mut out = vec![tag];
    let length = content.len();
    match u8::try_from(length) {
        Ok(short) if short < 0x80 => out.push(short),
        _ => {
            let bytes = length.to_be_bytes();
            let bytes = &bytes[bytes.iter().take_while(|byte| **byte == 0).count()..];
            out.push(0x80 | u8::try_from(bytes.len()).expect("a length has at most eight bytes"));
            out.extend_from_slice(bytes);
        }
    }
    out.extend_from_slice(content);
    out
}

/// `SEQUENCE` of values that are encoded already.
pub(super) fn sequence(parts: &[&[u8]]) -> Vec<u8> {
    tagged(0x30, &parts.concat())
}

/// `SET OF`, in the order of the encodings (X.690, 11.6).
pub(super) fn set(parts: &[Vec<u8>]) -> Vec<u8> {
    tagged(0x31, &in_order(parts))
}

/// The content of a `SET OF` without its tag.
pub(super) fn in_order(parts: &[Vec<u8>]) -> Vec<u8> {
    let mut parts = parts.to_vec();
    parts.sort();
    parts.concat()
}

/// `INTEGER` of a positive number, its highest byte first.
pub(super) fn integer(bytes: &[u8]) -> Vec<u8> {
    let bytes = &bytes[bytes.iter().take_while(|byte| **byte == 0).count()..];
    let mut content = Vec::new();
    // A set highest bit would make it negative; nothing at all is zero.
    if bytes.first().is_none_or(|first| *first >= 0x80) {
        content.push(0);
    }
    content.extend_from_slice(bytes);
    tagged(0x02, &content)
}

/// `OCTET STRING`.
pub(super) fn octets(bytes: &[u8]) -> Vec<u8> {
    tagged(0x04, bytes)
}

/// `BIT STRING` of whole bytes.
pub(super) fn bits(bytes: &[u8]) -> Vec<u8> {
    tagged(0x03, &[&[0], bytes].concat())
}

/// `UTF8String`.
pub(super) fn utf8(text: &str) -> Vec<u8> {
    tagged(0x0c, text.as_bytes())
}

/// `OBJECT IDENTIFIER` of its numbers.
pub(super) fn oid(numbers: &[u32]) -> Vec<u8> {
    let (first, rest) = numbers.split_at(2);
    let mut content = Vec::new();
    let head = first.iter().fold(0, |head, number| head * 40 + number);
    for number in std::iter::once(&head).chain(rest) {
        let mut groups = vec![u8::try_from(number & 0x7f).unwrap_or_default()];
        let mut left = number >> 7;
        while left > 0 {
            groups.push(0x80 | u8::try_from(left & 0x7f).unwrap_or_default());
            left >>= 7;
        }
        content.extend(groups.into_iter().rev());
    }
    tagged(0x06, &content)
}

#[cfg(test)]
mod tests {
    use super::{integer, oid, tagged};

    /// X.690: 8.1.3.5 (lengths), 8.3 (integers), 8.19.5 (object identifiers, `{2 999 3}`).
    #[test]
    fn the_published_examples_are_met() {
        assert_eq!(oid(&[2, 999, 3]), [0x06, 0x03, 0x88, 0x37, 0x03]);
        assert_eq!(oid(&[1, 2, 840, 113_549]), [0x06, 0x06, 0x2a, 0x86, 0x48, 0x86, 0xf7, 0x0d]);
        assert_eq!(tagged(0x04, &[0; 201])[..3], [0x04, 0x81, 201]);
        assert_eq!(tagged(0x04, &[0; 500])[..4], [0x04, 0x82, 0x01, 0xf4]);
        assert_eq!(integer(&[0, 0, 0x7f]), [0x02, 0x01, 0x7f]);
        assert_eq!(integer(&[0x80]), [0x02, 0x02, 0x00, 0x80]);
        assert_eq!(integer(&[0]), [0x02, 0x01, 0x00]);
    }
}

//! Files as they travel: compressed once here, so that the server need not do it for each phone.

use std::io::Write as _;

/// Whether a file gets smaller; pictures are compressed already.
pub(crate) fn is_worth_it(name: &str) -> bool {
    let kinds = [".wasm", ".js", ".css", ".html", ".svg", ".webmanifest", ".json", ".txt"];
    kinds.iter().any(|kind| name.ends_with(kind))
}

/// Brotli (RFC 7932) at its highest quality.
pub(crate) fn brotli(bytes: &[u8]) -> Result<Vec<u8>, String> {
    let mut small = Vec::new();
    let parameters =
        brotli::enc::BrotliEncoderParams { quality: 11, lgwin: 24, ..Default::default() };
    brotli::BrotliCompress(&mut &bytes[..], &mut small, &parameters)
        .map_err(|error| format!("brotli: {error}"))?;
    Ok(small)
}

/// Gzip (RFC 1952) at its highest level.
pub(crate) fn gzip(bytes: &[u8]) -> Result<Vec<u8>, String> {
    let mut writer = flate2::write::GzEncoder::new(Vec::new(), flate2::Compression::best());
    writer.write_all(bytes).and_then(|()| writer.finish()).map_err(|error| format!("gzip: {error}"))
}

#[cfg(test)]
mod tests {
    use std::io::Read as _;

    #[test]
    fn what_was_compressed_comes_back() {
        let text = "a line of the app, and another line of the app\n".repeat(200);
        let small = super::brotli(text.as_bytes()).unwrap();
        assert!(small.len() < text.len() / 10);
        let mut back = Vec::new();
        brotli::BrotliDecompress(&mut small.as_slice(), &mut back).unwrap();
        assert_eq!(back, text.as_bytes());

        let mut back = String::new();
        let small = super::gzip(text.as_bytes()).unwrap();
        flate2::read::GzDecoder::new(small.as_slice()).read_to_string(&mut back).unwrap();
        assert_eq!(back, text);
    }
}

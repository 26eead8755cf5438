//! Just enough HTTP/1.1 (RFC 9112) to speak with programs on this machine: one request a connection, JSON both ways.

use std::{
    io::{Read as _, Write as _},
    net::TcpStream,
    time::Duration,
};

use serde_json::Value;

/// An answer: its status and its body.
pub(crate) struct Answer {
    pub(crate) status: u16,
    pub(crate) body: Vec<u8>,
}

/// Sends a request to a port of this machine.
pub(crate) fn ask(
    port: u16,
    method: &str,
    path: &str,
    headers: &[(&str, &str)],
    body: Option<&Value>,
) -> Result<Answer, String> {
    let said = |error: std::io::Error| format!("{method} {path}: {error}");
    let mut stream = TcpStream::connect(("127.0.0.1", port)).map_err(said)?;
    stream.set_read_timeout(Some(Duration::from_secs(180))).map_err(said)?;
    let body = body.map(Value::to_string).unwrap_or_default();
    let mut text =
        format!("{method} {path} HTTP/1.1\r\nhost: 127.0.0.1:{port}\r\nconnection: close\r\n");
    for (name, value) in headers {
        text.push_str(&format!("{name}: {value}\r\n"));
    }
    if method != "GET" && method != "DELETE" {
        text.push_str(&format!(
            "content-type: application/json\r\ncontent-length: {}\r\n",
            body.len()
        ));
    }
    text.push_str("\r\n");
    text.push_str(&body);
    stream.write_all(text.as_bytes()).map_err(said)?;
    // The driver keeps the connection open whatever it is asked: the answer itself says where it ends.
    let mut bytes = Vec::new();
    let mut some = [0; 65_536];
    loop {
        let count = stream.read(&mut some).map_err(said)?;
        bytes.extend_from_slice(some.get(..count).unwrap_or_default());
        if let Some(answer) = read(&bytes, count == 0) {
            return Ok(answer);
        }
        if count == 0 {
            return Err(format!("{method} {path}: the answer is not HTTP"));
        }
    }
}

/// The answer, once all of it is there; `ended`: nothing more comes.
fn read(bytes: &[u8], ended: bool) -> Option<Answer> {
    let end = bytes.windows(4).position(|four| four == b"\r\n\r\n")?;
    let head = std::str::from_utf8(bytes.get(..end)?).ok()?;
    let status = head.split_whitespace().nth(1)?.parse().ok()?;
    let rest = bytes.get(end + 4..)?;
    let head = head.to_ascii_lowercase();
    let chunked =
        head.lines().any(|line| line.starts_with("transfer-encoding:") && line.contains("chunked"));
    let length = head.lines().find_map(|line| line.strip_prefix("content-length:"));
    let length: Option<usize> = length.and_then(|length| length.trim().parse().ok());
    let body = match length {
        _ if chunked => dechunked(rest)?,
        Some(length) => rest.get(..length)?.to_vec(),
        None if ended => rest.to_vec(),
        None => return None,
    };
    Some(Answer { status, body })
}

fn dechunked(mut rest: &[u8]) -> Option<Vec<u8>> {
    let mut body = Vec::new();
    loop {
        let end = rest.windows(2).position(|two| two == b"\r\n")?;
        let size = std::str::from_utf8(rest.get(..end)?).ok()?.split(';').next()?.trim();
        let size = usize::from_str_radix(size, 16).ok()?;
        if size == 0 {
            return Some(body);
        }
        body.extend_from_slice(rest.get(end + 2..end + 2 + size)?);
        rest = rest.get(end + 2 + size + 2..)?;
    }
}

#[cfg(test)]
mod tests {
    use super::read;

    #[test]
    fn a_body_in_chunks_is_put_together() {
        let answer = read(b"HTTP/1.1 200 OK\r\nTransfer-Encoding: chunked\r\n\r\n4\r\nNear\r\n4\r\nside\r\n0\r\n\r\n", false).unwrap();
        assert_eq!((answer.status, answer.body.as_slice()), (200, b"Nearside".as_slice()));
        assert!(read(b"nothing", true).is_none());
        let part = b"HTTP/1.1 200 OK\r\nContent-Length: 8\r\n\r\nNear";
        assert!(read(part, false).is_none());
        let whole = [part.as_slice(), b"side"].concat();
        assert_eq!(read(&whole, false).unwrap().body, b"Nearside");
    }
}

//! A phone's line to the server: HTTP/1.1 over one connection that is kept, with as little as a phone needs.

use std::{
    io::{BufRead, BufReader, Error, ErrorKind, Read, Write},
    net::{SocketAddr, TcpStream},
    time::Duration,
};

use sync::wire::{Body, HttpRequest};

/// Anything bytes go through: a connection, or TLS on top of one.
pub(crate) trait Wire: Read + Write + Send {}
impl<T: Read + Write + Send> Wire for T {}

/// A line to a server.
pub(crate) struct Line {
    pub(crate) at: SocketAddr,
    pub(crate) key: Option<String>,
    connection: Option<BufReader<Box<dyn Wire>>>,
}

/// What came back.
#[derive(Debug)]
pub(crate) struct Answer {
    pub(crate) status: u16,
    pub(crate) headers: Vec<(String, String)>,
    pub(crate) body: Vec<u8>,
}

impl Answer {
    /// A header's value; empty if it is not there.
    pub(crate) fn header(&self, name: &str) -> &str {
        let found = self.headers.iter().find(|(one, _)| one.eq_ignore_ascii_case(name));
        found.map_or("", |(_, value)| value.as_str())
    }
}

impl Line {
    pub(crate) fn new(at: SocketAddr, key: Option<String>) -> Self {
        Self { at, key, connection: None }
    }

    /// A line over a connection that was made already.
    pub(crate) fn over(at: SocketAddr, wire: Box<dyn Wire>) -> Self {
        Self { at, key: None, connection: Some(BufReader::new(wire)) }
    }

    /// Sends a request of a replica.
    pub(crate) fn send(&mut self, request: &HttpRequest) -> Result<Answer, Error> {
        let body: &[u8] = match &request.body {
            Body::Empty => &[],
            Body::Bytes(bytes) => bytes,
        };
        let headers: Vec<(&str, &str)> =
            request.headers.iter().map(|(name, value)| (*name, value.as_str())).collect();
        self.ask(request.method, &request.path, &headers, body)
    }

    /// Sends any request. After a failure the next one begins a new connection.
    pub(crate) fn ask(
        &mut self,
        method: &str,
        path: &str,
        headers: &[(&str, &str)],
        body: &[u8],
    ) -> Result<Answer, Error> {
        let mut connection = match self.connection.take() {
            Some(connection) => connection,
            None => {
                let stream = TcpStream::connect_timeout(&self.at, Duration::from_secs(5))?;
                stream.set_read_timeout(Some(Duration::from_secs(20)))?;
                stream.set_write_timeout(Some(Duration::from_secs(20)))?;
                stream.set_nodelay(true)?;
                BufReader::new(Box::new(stream) as Box<dyn Wire>)
            }
        };
        let mut head = format!("{method} {path} HTTP/1.1\r\nhost: {}\r\n", self.at);
        if let Some(key) = &self.key {
            head.push_str(&format!("authorization: Bearer {key}\r\n"));
        }
        for (name, value) in headers {
            head.push_str(&format!("{name}: {value}\r\n"));
        }
        if method != "GET" {
            head.push_str(&format!("content-length: {}\r\n", body.len()));
        }
        head.push_str("\r\n");
        let mut message = head.into_bytes();
        message.extend_from_slice(body);
        let wire = connection.get_mut();
        wire.write_all(&message)?;
        wire.flush()?;
        let answer = read_answer(&mut connection)?;
        if !answer.header("connection").eq_ignore_ascii_case("close") {
            self.connection = Some(connection);
        }
        Ok(answer)
    }
}

fn read_answer(connection: &mut impl BufRead) -> Result<Answer, Error> {
    let broken = |what: &str| Error::new(ErrorKind::InvalidData, what.to_owned());
    let mut line = String::new();
    if connection.read_line(&mut line)? == 0 {
        return Err(Error::from(ErrorKind::UnexpectedEof));
    }
    let status = line.split(' ').nth(1).and_then(|status| status.parse().ok());
    let status = status.ok_or_else(|| broken("no status"))?;
    let mut headers = Vec::new();
    loop {
        line.clear();
        connection.read_line(&mut line)?;
        let text = line.trim_end();
        if text.is_empty() {
            break;
        }
        let (name, value) = text.split_once(':').ok_or_else(|| broken("no header"))?;
        headers.push((name.to_ascii_lowercase(), value.trim().to_owned()));
    }
    let mut answer = Answer { status, headers, body: Vec::new() };
    let length: usize = answer.header("content-length").parse().map_err(|_| broken("no length"))?;
    answer.body = vec![0; length];
    connection.read_exact(&mut answer.body)?;
    Ok(answer)
}

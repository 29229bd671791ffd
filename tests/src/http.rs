//! A client for the bridge: one request, one answer.

use std::io::{Read as _, Write as _};
use std::net::TcpStream;

use crate::program::Trouble;

/// What came back.
#[derive(Debug)]
pub struct Answer {
    /// The status.
    pub status: u16,
    /// The headers, as they came.
    pub headers: String,
    /// The body.
    pub body: Vec<u8>,
}

/// Sends a request to `http://HOST:PORT` and reads the answer whole.
///
/// # Errors
/// Where nobody answers, or not in HTTP.
pub fn send(
    url: &str,
    method: &str,
    path: &str,
    (kind, body): (&str, &[u8]),
) -> Result<Answer, Trouble> {
    let host = url.strip_prefix("http://").ok_or("not an address of the bridge")?;
    let mut stream = TcpStream::connect(host)?;
    // In the older HTTP a long answer comes in one piece.
    let head = format!(
        "{method} {path} HTTP/1.0\r\nHost: {host}\r\nConnection: close\r\n\
         Content-Type: {kind}\r\nContent-Length: {}\r\n\r\n",
        body.len()
    );
    stream.write_all(head.as_bytes())?;
    stream.write_all(body)?;
    let mut bytes = Vec::new();
    stream.read_to_end(&mut bytes)?;
    let end = bytes.windows(4).position(|four| four == b"\r\n\r\n").ok_or("no answer")?;
    let (head, rest) = bytes.split_at(end);
    let headers = String::from_utf8_lossy(head).into_owned();
    let status = headers.split(' ').nth(1).and_then(|s| s.parse().ok()).ok_or("no status")?;
    Ok(Answer { status, headers, body: rest.get(4..).unwrap_or_default().to_vec() })
}

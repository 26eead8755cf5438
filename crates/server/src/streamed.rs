//! Answers that are sent while they are written: too large to be in memory whole.

use std::{
    io::{self, Write},
    sync::Arc,
};

use axum::{
    body::{Body, Bytes},
    http::{HeaderMap, HeaderValue, header},
    response::Response,
};
use futures_util::stream;
use store::Store;
use tokio::sync::{OwnedSemaphorePermit, mpsc};

use crate::pool::Pool;

/// Bytes of one piece, and how many pieces lie ready for a slow line.
const PIECE: usize = 256 << 10;
const PIECES: usize = 4;

/// Hands pieces over as they are filled.
struct Pieces {
    piece: Vec<u8>,
    to: mpsc::Sender<io::Result<Bytes>>,
}

impl Pieces {
    fn hand_over(&mut self) -> io::Result<()> {
        if self.piece.is_empty() {
            return Ok(());
        }
        let piece = std::mem::replace(&mut self.piece, Vec::with_capacity(PIECE));
        // Whoever asked has gone: there is nobody to write for.
        self.to.blocking_send(Ok(piece.into())).map_err(|_| io::ErrorKind::BrokenPipe.into())
    }
}

impl Write for Pieces {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        self.piece.extend_from_slice(bytes);
        if self.piece.len() >= PIECE {
            self.hand_over()?;
        }
        Ok(bytes.len())
    }

    fn flush(&mut self) -> io::Result<()> {
        self.hand_over()
    }
}

/// Why nothing was sent.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) enum NotSent {
    /// Nothing was written, and nothing went wrong.
    Nothing,
    /// It went wrong before the first piece. Why.
    Failed(String),
    /// The work stopped by itself.
    Stopped,
}

/// Sends what `write` writes, as long as it has its turn. A slow line holds that up, and nothing else: it has a handle on the
/// store of its own.
pub(crate) async fn streamed(
    pool: &Arc<Pool>,
    turn: OwnedSemaphorePermit,
    write: impl FnOnce(&Store, &mut (dyn Write + Send)) -> Result<(), String> + Send + 'static,
) -> Result<Response, NotSent> {
    let folder = pool.folder().to_owned();
    let (to, mut pieces) = mpsc::channel(PIECES);
    let written = tokio::task::spawn_blocking(move || {
        let _turn = turn;
        let store = Store::open(&folder).map_err(|error| error.to_string())?;
        let mut out = Pieces { piece: Vec::with_capacity(PIECE), to: to.clone() };
        let written =
            write(&store, &mut out).and_then(|()| out.flush().map_err(|error| error.to_string()));
        if let Err(why) = &written {
            // After the first piece this is all that can be said: the answer breaks off.
            let _gone = to.blocking_send(Err(io::Error::other(why.clone())));
        }
        written
    });
    match pieces.recv().await {
        Some(Ok(first)) => {
            let rest = stream::unfold(pieces, |mut pieces| async move {
                let piece = pieces.recv().await?;
                Some((piece, pieces))
            });
            let all = stream::StreamExt::chain(stream::iter([Ok(first)]), rest);
            Ok(Response::new(Body::from_stream(all)))
        }
        Some(Err(why)) => Err(NotSent::Failed(why.to_string())),
        None => match written.await {
            Ok(Ok(())) => Err(NotSent::Nothing),
            Ok(Err(why)) => Err(NotSent::Failed(why)),
            Err(_stopped) => Err(NotSent::Stopped),
        },
    }
}

/// A file as an answer: what it is, and that nothing in it runs.
pub(crate) fn file(mut response: Response, media_type: &'static str) -> Response {
    let headers: &mut HeaderMap = response.headers_mut();
    headers.insert(header::CONTENT_TYPE, HeaderValue::from_static(media_type));
    let policy = HeaderValue::from_static(crate::headers::UPLOADED_POLICY);
    headers.insert(header::CONTENT_SECURITY_POLICY, policy);
    headers.insert(header::CONTENT_DISPOSITION, HeaderValue::from_static("attachment"));
    response
}

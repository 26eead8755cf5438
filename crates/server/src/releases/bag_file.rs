//! The bag of a release as a zip file, sent while it is written: it holds every original photo, and is never in memory whole.

use std::{
    io::{self, Write},
    sync::Arc,
};

use axum::{
    Extension,
    body::{Body, Bytes},
    extract::Path,
    response::Response,
};
use futures_util::stream;
use sync::Refusal;
use tokio::sync::mpsc;

use super::{asked, busy, failed, file, no_release, numbered};
use crate::{
    problem::Problem,
    shared::{Device, State},
};

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

/// `GET /v1/jobs/{job}/releases/{number}/bag.zip`
pub(crate) async fn bag(
    shared: State,
    Extension(device): Extension<Device>,
    Path((job, number)): Path<(String, String)>,
) -> Result<Response, Problem> {
    let (office, job) = asked(&shared, &device, &job).await?;
    let number = numbered(&number)?;
    // A slow line holds this up, and nothing else: it has a handle on the store of its own.
    let Ok(turn) = Arc::clone(&shared.bags).try_acquire_owned() else { return Err(busy()) };
    let folder = shared.pool.folder().to_owned();
    let (to, mut pieces) = mpsc::channel(PIECES);
    let written = tokio::task::spawn_blocking(move || {
        let _turn = turn;
        let store = store::Store::open(&folder).map_err(|error| error.to_string())?;
        let mut out = Pieces { piece: Vec::with_capacity(PIECE), to: to.clone() };
        let written = (office.bag)(&store, &job, number, &mut out)
            .and_then(|there| out.flush().map(|()| there).map_err(|error| error.to_string()));
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
            Ok(file(Response::new(Body::from_stream(all)), "application/zip"))
        }
        Some(Err(why)) => Err(failed(why.to_string())),
        None => match written.await {
            Ok(Ok(_)) => Err(no_release()),
            Ok(Err(why)) => Err(failed(why)),
            Err(_stopped) => Err(Refusal::Other.into()),
        },
    }
}

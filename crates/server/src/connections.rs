//! How many connections there may be at once: more are closed before anything is read from them.

use std::{
    io::{Error, ErrorKind},
    net::SocketAddr,
};

use axum_server::{Handle, accept::Accept};
use futures_util::future::{Either, Ready, ready};

/// So many: below what systems let one program have open by default (1,024 files), with room for the store's.
const MOST: usize = 700;

/// Lets connections through to `inner` as long as there are not too many.
#[derive(Clone)]
pub(crate) struct Limited<A> {
    pub(crate) inner: A,
    /// Counts them.
    pub(crate) handle: Handle<SocketAddr>,
}

impl<I, S, A: Accept<I, S>> Accept<I, S> for Limited<A> {
    type Stream = A::Stream;
    type Service = A::Service;
    type Future = Either<A::Future, Ready<Result<(Self::Stream, Self::Service), Error>>>;

    fn accept(&self, stream: I, service: S) -> Self::Future {
        if self.handle.connection_count() <= MOST {
            return Either::Left(self.inner.accept(stream, service));
        }
        let refused = Error::new(ErrorKind::ConnectionRefused, "too many connections");
        Either::Right(ready(Err(refused)))
    }
}

//! What can be told of the app without a browser: every colour of text on every ground, in every theme.
#![allow(clippy::unwrap_used, reason = "a test that cannot go on should stop")]
#![allow(clippy::disallowed_methods, reason = "a ratio is compared with a limit, not hashed")]

mod contrast;

//! How large things may be and how long to wait. Both sides hold to these; the server refuses what
//! is larger, with a sentence.

/// A change with more bytes than this is refused. A job's beginning carries the plan's whole text.
pub const CHANGE_BYTES: usize = 4 << 20;
/// At most so many changes in one push.
pub const PUSH_CHANGES: usize = 512;
/// A device stops filling a push at so many bytes; one larger change still travels alone.
pub const PUSH_BYTES: usize = 256 << 10;
/// At most so many changes in one page.
pub const PAGE_CHANGES: usize = 1_000;
/// The server stops filling a page at so many bytes; one larger change still travels alone.
pub const PAGE_BYTES: usize = 1 << 20;
/// At most so many changes that one change may name as those before it.
pub const CHANGE_DEPS: usize = 1_000;
/// The largest JSON body on either side: a push or page of one largest change on top of a full one,
/// in base64, with room for the frame.
pub const BODY_BYTES: usize = 8 << 20;

/// The largest photo or film.
pub const BLOB_BYTES: u64 = 2 << 30;
/// Pieces of a photo: the smallest a device falls back to, the first it tries, the largest.
pub const PIECE_BYTES_LEAST: u64 = 64 << 10;
/// The piece a device begins with.
pub const PIECE_BYTES_FIRST: u64 = 256 << 10;
/// The largest piece a server takes.
pub const PIECE_BYTES_MOST: u64 = 4 << 20;
/// So many uploads that arrive damaged, and the device stops and says so.
pub const DAMAGED_UPLOADS: u32 = 3;
/// With answers faster than this, two photos travel at once.
pub const QUICK_ANSWER_MS: u64 = 300;

/// So many photos are asked after at once.
pub const MISSING_BLOBS: usize = 5_000;
/// How often a device asks whether the log it has read and its copied photos are still there.
pub const COMPARE_MS: u64 = 600_000;

/// Bytes of changes that a server holds for all pushes together before it asks for patience.
pub const WAITING_BYTES: usize = 64 << 20;
/// Jobs whose log a server keeps at hand.
pub const LOGS_AT_HAND: usize = 256;
/// How often a push begins anew because others wrote first.
pub const ATTEMPTS: u32 = 8;

/// The first wait after a failure is drawn from up to this.
pub const FIRST_RETRY_MS: u64 = 1_000;
/// No wait of a device's own is longer.
pub const LONGEST_RETRY_MS: u64 = 60_000;
/// A server that asks for more patience than this is asked again anyway.
pub const LONGEST_RETRY_AFTER_MS: u64 = 600_000;
/// What a server that is too busy asks for.
pub const BUSY_RETRY_MS: u64 = 1_000;
/// An answer that takes longer is given up, plus one second for each [`SLOW_BYTES_A_SECOND`] sent.
pub const ANSWER_MS: u64 = 30_000;
/// The slowest line that is waited for.
pub const SLOW_BYTES_A_SECOND: u64 = 4 << 10;
/// Without a poke, the heads of all jobs are asked for this often; up to half more by chance.
pub const POLL_MS: u64 = 30_000;

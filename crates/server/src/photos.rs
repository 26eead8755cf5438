//! Photos and films: which are missing, uploads in pieces, and their bytes back.
//!
//! Uploads follow the IETF draft "Resumable Uploads for HTTP" (draft-ietf-httpbis-resumable-upload):
//! begin empty, ask, append. A device that may see all jobs may fetch whatever is kept; one that is held to
//! a job, what was given for that job: and to give it, it must send all of its bytes, for who knows a photo's
//! name need not have the photo.

use std::{fs::File, io::Read as _, io::Seek as _, io::SeekFrom};

use axum::{
    Extension,
    body::{Body, Bytes},
    extract::Path,
    http::{HeaderMap, HeaderName, HeaderValue, StatusCode, header},
    response::{IntoResponse, Response},
};
use store::{Sha256Hex, Store, Upload};
use sync::{
    BlobHash, Refusal, limits,
    wire::{BlobList, UploadState},
};

use crate::{
    changes::{json, takes_json},
    headers::UPLOADED_POLICY,
    problem::Problem,
    shared::{Device, State, store_id},
};

/// The largest body of a question after photos: 5,000 hashes of 67 bytes each, with room.
const LIST_BYTES: usize = 400 << 10;
/// What is not longer is read whole and checked in memory.
const WHOLE_BYTES: u64 = 16 << 20;
/// Longer ones are sent in pieces of this size.
const SENT_PIECE_BYTES: usize = 256 << 10;

/// `POST /v1/jobs/{job}/missing-blobs`
pub(crate) async fn missing(
    shared: State,
    Extension(device): Extension<Device>,
    Path(job): Path<String>,
    headers: HeaderMap,
    body: Body,
) -> Result<Response, Problem> {
    let job = device.may_see(&job)?;
    takes_json(&headers)?;
    let body = shared.body(&headers, body, LIST_BYTES).await?;
    let mut list = BlobList::from_json(&body).map_err(Refusal::from)?;
    if list.blobs.len() > limits::MISSING_BLOBS {
        let why = format!(
            "{} photos at once; at most {} are accepted",
            list.blobs.len(),
            limits::MISSING_BLOBS
        );
        return Err(Refusal::TooLarge { why }.into());
    }
    let list = shared
        .pool
        .with(move |store| {
            let id = store_id(&job)?;
            if !store.job_exists(&id)? {
                return Err(Refusal::NoSuchJob.into());
            }
            let mut missing = Vec::new();
            for blob in std::mem::take(&mut list.blobs) {
                if !is_here(store, &device, &id, &name(blob)?)? {
                    missing.push(blob);
                }
            }
            Ok(BlobList { blobs: missing })
        })
        .await?;
    Ok(json(list.to_json()))
}

/// `POST /v1/jobs/{job}/blobs/{sha256}`
pub(crate) async fn begin(
    shared: State,
    Extension(device): Extension<Device>,
    Path((job, blob)): Path<(String, String)>,
    headers: HeaderMap,
) -> Result<Response, Problem> {
    let job = device.may_see(&job)?;
    let blob = blob_hash(&blob)?;
    let size = upload_size(&headers)?;
    let upload = shared
        .pool
        .with(move |store| {
            let (id, hash) = (store_id(&job)?, name(blob)?);
            if device.job.is_none() {
                store.add_job_blob(&id, &hash)?;
                return Ok(store.upload_state(&hash, size)?);
            }
            if !store.job_exists(&id)? {
                return Err(Refusal::NoSuchJob.into());
            }
            Ok(store.job_upload_state(&id, &hash, size)?)
        })
        .await?;
    state(upload, size)
}

/// `PATCH /v1/jobs/{job}/blobs/{sha256}`
pub(crate) async fn piece(
    shared: State,
    Extension(device): Extension<Device>,
    Path((job, blob)): Path<(String, String)>,
    headers: HeaderMap,
    body: Body,
) -> Result<Response, Problem> {
    let job = device.may_see(&job)?;
    let blob = blob_hash(&blob)?;
    let kind = headers.get(header::CONTENT_TYPE).and_then(|kind| kind.to_str().ok());
    if kind != Some("application/partial-upload") {
        return Err(Problem::wrong_kind("application/partial-upload"));
    }
    let size = upload_size(&headers)?;
    let offset = number(&headers, "upload-offset")?;
    let most = usize::try_from(limits::PIECE_BYTES_MOST).unwrap_or(usize::MAX);
    let body = shared.body(&headers, body, most).await?;
    let received = body.len();
    let upload = shared
        .pool
        .with(move |store| {
            let (id, hash) = (store_id(&job)?, name(blob)?);
            if device.job.is_none() {
                store.add_job_blob(&id, &hash)?;
                return Ok(store.upload_piece(&hash, size, offset, &body)?);
            }
            if !store.job_exists(&id)? {
                return Err(Refusal::NoSuchJob.into());
            }
            Ok(store.job_upload_piece(&id, &hash, size, offset, &body)?)
        })
        .await?;
    shared.metrics.received(received);
    state(upload, size)
}

/// `GET /v1/jobs/{job}/blobs/{sha256}`
pub(crate) async fn bytes(
    shared: State,
    Extension(device): Extension<Device>,
    Path((job, blob)): Path<(String, String)>,
    headers: HeaderMap,
) -> Result<Response, Problem> {
    let job = device.may_see(&job)?;
    let blob = blob_hash(&blob)?;
    let range = headers.get(header::RANGE).and_then(|range| range.to_str().ok()).map(str::to_owned);
    let (content, total) = shared
        .pool
        .with(move |store| {
            let (id, hash) = (store_id(&job)?, name(blob)?);
            if !store.job_exists(&id)? || !is_here(store, &device, &id, &hash)? {
                return Err(no_such_photo());
            }
            let size = store.blob_size(&hash)?.ok_or_else(no_such_photo)?;
            if size <= WHOLE_BYTES {
                let bytes = store.blob(&hash)?.ok_or_else(no_such_photo)?;
                return Ok((Content::Whole(bytes.into()), size));
            }
            let (file, size) = store.blob_file(&hash)?.ok_or_else(no_such_photo)?;
            Ok((Content::File(file), size))
        })
        .await?;
    let asked = range.as_deref().and_then(|range| read_range(range, total));
    if let Some(Asked::Beyond) = asked {
        let mut response = StatusCode::RANGE_NOT_SATISFIABLE.into_response();
        if let Ok(value) = HeaderValue::from_str(&format!("bytes */{total}")) {
            response.headers_mut().insert(header::CONTENT_RANGE, value);
        }
        return Ok(response);
    }
    let (start, end, partial) = match asked {
        Some(Asked::Part { start, end }) => (start, end, true),
        _ => (0, total, false),
    };
    let (kind, body) = content.part(start, end).await?;
    let mut response = Response::new(body);
    if partial {
        *response.status_mut() = StatusCode::PARTIAL_CONTENT;
    }
    let disposition = if kind == OTHER { "attachment" } else { "inline" };
    let mut said = vec![
        (header::CONTENT_TYPE, kind.to_owned()),
        (header::CONTENT_LENGTH, (end - start).to_string()),
        (header::ACCEPT_RANGES, "bytes".to_owned()),
        (header::CONTENT_DISPOSITION, disposition.to_owned()),
        (header::CONTENT_SECURITY_POLICY, UPLOADED_POLICY.to_owned()),
        // The name is the content: it never changes. Only the device itself may keep it.
        (header::CACHE_CONTROL, "private, max-age=31536000, immutable".to_owned()),
    ];
    if partial {
        let last = end.saturating_sub(1);
        said.push((header::CONTENT_RANGE, format!("bytes {start}-{last}/{total}")));
    }
    for (name, value) in said {
        let value = HeaderValue::try_from(value).map_err(|_| Refusal::Other)?;
        response.headers_mut().insert(name, value);
    }
    Ok(response)
}

enum Content {
    Whole(Bytes),
    File(File),
}

impl Content {
    /// The kind of the whole, and a body of the part.
    async fn part(self, start: u64, end: u64) -> Result<(&'static str, Body), Problem> {
        let length = |bytes: u64| usize::try_from(bytes).map_err(|_| Problem::from(Refusal::Other));
        match self {
            Self::Whole(bytes) => {
                let kind = kind(&bytes);
                Ok((kind, bytes.slice(length(start)?..length(end)?).into()))
            }
            Self::File(mut file) => {
                let broken = |error: std::io::Error| {
                    tracing::error!(%error, "a film could not be read");
                    Problem::from(Refusal::Other)
                };
                let opened = tokio::task::spawn_blocking(move || {
                    let mut first = [0; 64];
                    let read = file.read(&mut first)?;
                    file.seek(SeekFrom::Start(start))?;
                    Ok::<_, std::io::Error>((kind(&first[..read]), file))
                });
                let (kind, file) =
                    opened.await.map_err(|_| Problem::from(Refusal::Other))?.map_err(broken)?;
                Ok((kind, Body::from_stream(pieces(file, end - start))))
            }
        }
    }
}

/// The next `left` bytes of a file, piece by piece, each read on a thread that may wait.
fn pieces(
    file: File,
    left: u64,
) -> impl futures_util::Stream<Item = Result<Bytes, std::io::Error>> + Send {
    futures_util::stream::try_unfold((file, left), |(mut file, left)| async move {
        let most = usize::try_from(left).unwrap_or(usize::MAX).min(SENT_PIECE_BYTES);
        if most == 0 {
            return Ok(None);
        }
        let read = tokio::task::spawn_blocking(move || {
            let mut piece = vec![0; most];
            file.read_exact(&mut piece)?;
            Ok::<_, std::io::Error>((piece, file))
        });
        let (piece, file) = read.await.map_err(std::io::Error::other)??;
        let left = left - u64::try_from(piece.len()).unwrap_or(left);
        Ok(Some((Bytes::from(piece), (file, left))))
    })
}

/// Whether a photo is here, as far as this device may know.
fn is_here(
    store: &Store,
    device: &Device,
    job: &store::JobId,
    hash: &Sha256Hex,
) -> Result<bool, Problem> {
    let may_know = device.job.is_none() || store.job_has_blob(job, hash)?;
    Ok(may_know && store.has_blob(hash)?)
}

fn no_such_photo() -> Problem {
    Problem::new(StatusCode::NOT_FOUND, "no_such_blob", "the server has no such photo for this job")
}

fn blob_hash(text: &str) -> Result<BlobHash, Problem> {
    BlobHash::new(text).map_err(|error| Refusal::Unreadable { why: error.to_string() }.into())
}

fn name(blob: BlobHash) -> Result<Sha256Hex, Problem> {
    Ok(Sha256Hex::new(&blob.to_string())?)
}

fn upload_size(headers: &HeaderMap) -> Result<u64, Problem> {
    let size = number(headers, "upload-length")?;
    if size > limits::BLOB_BYTES {
        let most = limits::BLOB_BYTES;
        let why = format!("a photo or film of {size} bytes; at most {most} are accepted");
        return Err(Refusal::TooLarge { why }.into());
    }
    Ok(size)
}

fn number(headers: &HeaderMap, name: &'static str) -> Result<u64, Problem> {
    let text = headers.get(HeaderName::from_static(name)).and_then(|value| value.to_str().ok());
    let digits = text.filter(|text| text.bytes().all(|byte| byte.is_ascii_digit()));
    digits.and_then(|text| text.parse().ok()).ok_or_else(|| {
        Refusal::Unreadable { why: format!("the header {name} takes a whole number of bytes") }
            .into()
    })
}

fn state(upload: Upload, size: u64) -> Result<Response, Problem> {
    let state = match upload {
        Upload::Waiting { offset } => UploadState { offset, stored: false },
        Upload::Stored => UploadState { offset: size, stored: true },
        Upload::WrongOffset { offset } => return Err(Refusal::WrongOffset { offset }.into()),
        Upload::Damaged => return Err(Refusal::BlobDamaged.into()),
    };
    let mut response = json(state.to_json());
    let headers = response.headers_mut();
    headers.insert("upload-offset", HeaderValue::from(state.offset));
    headers.insert(
        "upload-complete",
        HeaderValue::from_static(if state.stored { "?1" } else { "?0" }),
    );
    Ok(response)
}

/// What a `Range` header asks for.
#[derive(Debug, PartialEq, Eq)]
enum Asked {
    /// From `start` to before `end`.
    Part { start: u64, end: u64 },
    /// Nothing that is there.
    Beyond,
}

/// One range of bytes (RFC 9110, section 14.1.2); several, or what is no range, is as none.
fn read_range(text: &str, total: u64) -> Option<Asked> {
    let (first, last) = text.strip_prefix("bytes=")?.split_once('-')?;
    let part = match (first.trim(), last.trim()) {
        ("", last) => (total.saturating_sub(last.parse().ok()?), total),
        (first, "") => (first.parse().ok()?, total),
        (first, last) => {
            let (first, last): (u64, u64) = (first.parse().ok()?, last.parse().ok()?);
            (first, last.saturating_add(1).min(total))
        }
    };
    let (start, end) = part;
    Some(if start < end { Asked::Part { start, end } } else { Asked::Beyond })
}

const OTHER: &str = "application/octet-stream";

/// What bytes are, by how they begin: only what a browser may show.
fn kind(bytes: &[u8]) -> &'static str {
    let brand = (bytes.get(4..8) == Some(b"ftyp")).then(|| bytes.get(8..12).unwrap_or_default());
    match (bytes, brand) {
        ([0xff, 0xd8, 0xff, ..], _) => "image/jpeg",
        ([0x89, b'P', b'N', b'G', b'\r', b'\n', 0x1a, b'\n', ..], _) => "image/png",
        ([b'R', b'I', b'F', b'F', _, _, _, _, b'W', b'E', b'B', b'P', ..], _) => "image/webp",
        ([b'R', b'I', b'F', b'F', _, _, _, _, b'W', b'A', b'V', b'E', ..], _) => "audio/wav",
        ([b'O', b'g', b'g', b'S', ..], _) => "audio/ogg",
        ([0x1a, 0x45, 0xdf, 0xa3, ..], _) => "video/webm",
        ([b'%', b'P', b'D', b'F', b'-', ..], _) => "application/pdf",
        (_, Some(b"heic" | b"heix" | b"mif1")) => "image/heic",
        (_, Some(b"avif")) => "image/avif",
        (_, Some(b"M4A ")) => "audio/mp4",
        (_, Some(b"qt  ")) => "video/quicktime",
        (_, Some(_)) => "video/mp4",
        _ => OTHER,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn ranges_are_read_as_the_standard_says() {
        // The examples of RFC 9110, section 14.1.2, for a representation of 10,000 bytes.
        let part = |start, end| Some(Asked::Part { start, end });
        assert_eq!(read_range("bytes=0-499", 10_000), part(0, 500));
        assert_eq!(read_range("bytes=500-999", 10_000), part(500, 1_000));
        assert_eq!(read_range("bytes=-500", 10_000), part(9_500, 10_000));
        assert_eq!(read_range("bytes=9500-", 10_000), part(9_500, 10_000));
        assert_eq!(read_range("bytes=-20000", 10_000), part(0, 10_000));
        assert_eq!(read_range("bytes=10000-", 10_000), Some(Asked::Beyond));
        assert_eq!(read_range("bytes=0-0,-1", 10_000), None, "several ranges: the whole is sent");
        assert_eq!(read_range("lines=1-2", 10_000), None);
    }

    #[test]
    fn only_what_a_browser_may_show_is_named() {
        assert_eq!(kind(&[0xff, 0xd8, 0xff, 0xe0]), "image/jpeg");
        assert_eq!(kind(b"\0\0\0\x18ftypmp42...."), "video/mp4");
        assert_eq!(kind(b"<html><script>"), OTHER);
        assert_eq!(kind(b"<svg xmlns="), OTHER);
        assert_eq!(kind(b""), OTHER);
    }
}

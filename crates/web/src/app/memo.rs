//! A voice memo: recorded here, its bytes on the disk first, then its entry in the record.
//!
//! Between the two its entry lies among the settings: a memo whose job was closed meanwhile, or whose app was killed,
//! comes into the record when the job is opened next.

use std::cell::RefCell;

use field::{Act, MEMO_BYTES_MOST, MEMO_ENDS_AFTER_SECONDS, MemoSpoken};
use inspection::{MemoId, Moment, PointId};
use js_sys::{ArrayBuffer, Reflect};
use leptos::prelude::*;
use serde::{Deserialize, Serialize};
use sync::{BlobHash, JobId, NewBlob, Rank};
use wasm_bindgen::{JsCast as _, JsValue};
use wasm_bindgen_futures::{JsFuture, spawn_local};
use web_sys::{
    Blob, BlobEvent, BlobPropertyBag, MediaRecorder, MediaRecorderOptions, MediaStream,
    MediaStreamConstraints, MediaStreamTrack,
};

use super::{App, core::core, photo::turn, work_here};
use crate::browser::{listen, milliseconds, moment, name_of, said, sha256, wait, window};

/// Speech is clear at this rate, and five minutes of it are a megabyte.
const BITS_PER_SECOND: u32 = 32_000;
/// What is asked for, the first that the browser can; else it takes its own.
const KINDS: [&str; 4] =
    ["audio/webm;codecs=opus", "audio/mp4;codecs=mp4a.40.2", "audio/mp4", "audio/ogg;codecs=opus"];
/// The setting that holds memos on their way into the record.
const PENDING: &str = "memos";

/// How far a recording has come.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub(crate) enum Recording {
    /// None runs.
    #[default]
    Idle,
    /// The browser was asked for the microphone.
    Asking,
    /// It runs since this time of the page.
    Running {
        /// Milliseconds since the page was opened.
        since: u64,
    },
    /// It is on its way to the disk.
    Keeping,
}

/// A recording under way.
struct Running {
    recorder: MediaRecorder,
    stream: MediaStream,
    pieces: js_sys::Array,
    job: JobId,
    point: PointId,
    began: Moment,
    since: u64,
}

/// A memo whose bytes are on the disk and whose entry is not in the record yet.
#[derive(Debug, Clone, Serialize, Deserialize)]
struct Pending {
    job: String,
    memo: String,
    point: String,
    media_type: String,
    milliseconds: u64,
    began: String,
    size: u64,
}

thread_local! {
    static RUNNING: RefCell<Option<Running>> = const { RefCell::new(None) };
}

impl App {
    /// How far a recording has come.
    pub(crate) fn recording(self) -> Signal<Recording> {
        self.recording.into()
    }

    /// Begins to record a memo at a point of the open job. The tap is what lets the browser ask for the microphone.
    pub(crate) fn record_memo(self, point: PointId) {
        let idle = self.recording.with_untracked(|it| *it == Recording::Idle);
        let Some(job) = self.open.get_untracked().filter(|_| idle) else { return };
        self.recording.set(Recording::Asking);
        spawn_local(async move {
            match begin(job, point).await {
                Ok(running) => {
                    let since = running.since;
                    self.follow(&running);
                    RUNNING.set(Some(running));
                    self.recording.set(Recording::Running { since });
                    spawn_local(self.end_in_time(since));
                }
                Err(why) => {
                    self.recording.set(Recording::Idle);
                    self.say(why);
                }
            }
        });
    }

    /// Ends the recording; what was recorded is kept.
    pub(crate) fn end_memo(self) {
        RUNNING.with_borrow(|running| {
            if let Some(running) = running {
                // A recorder that has ended by itself has told so already.
                drop(running.recorder.stop());
            }
        });
    }

    /// Hears the recorder's pieces, and its end, whoever ended it: a tap, the time, a microphone pulled out.
    fn follow(self, running: &Running) {
        let pieces = running.pieces.clone();
        listen(&running.recorder, "dataavailable", move |event| {
            if let Some(data) = event.dyn_into::<BlobEvent>().ok().and_then(|event| event.data()) {
                pieces.push(&data);
            }
        });
        listen(&running.recorder, "stop", move |_| {
            let Some(running) = RUNNING.take() else { return };
            self.recording.set(Recording::Keeping);
            spawn_local(async move {
                let done = turn().await;
                if let Err(why) = self.keep_memo(running).await {
                    self.say(self.texts().say_with("memo-not-kept", &[("why", &why)]));
                }
                self.recording.set(Recording::Idle);
                drop(done.call0(&JsValue::NULL));
            });
        });
    }

    async fn end_in_time(self, since: u64) {
        while self.recording.with_untracked(|it| *it == Recording::Running { since }) {
            wait(500).await;
            if milliseconds().saturating_sub(since) >= u64::from(MEMO_ENDS_AFTER_SECONDS) * 1_000 {
                self.end_memo();
                let minutes = (MEMO_ENDS_AFTER_SECONDS / 60).to_string();
                return self.say(self.texts().say_with("memo-ended", &[("minutes", &minutes)]));
            }
        }
    }

    async fn keep_memo(self, running: Running) -> Result<(), String> {
        let core = core().ok_or_else(|| self.texts().say("browser-not-started"))?;
        let milliseconds = milliseconds().saturating_sub(running.since);
        for track in running.stream.get_tracks().iter() {
            track.unchecked_into::<MediaStreamTrack>().stop();
        }
        let media_type = running.recorder.mime_type();
        let options = BlobPropertyBag::new();
        options.set_type(&media_type);
        let blob = Blob::new_with_blob_sequence_and_options(&running.pieces, &options)
            .map_err(|error| said(&error))?;
        let bytes: ArrayBuffer = JsFuture::from(blob.array_buffer())
            .await
            .map_err(|error| said(&error))?
            .dyn_into()
            .map_err(|_| super::app().texts().say("browser-no-bytes"))?;
        let size = u64::from(bytes.byte_length());
        if size == 0 {
            return Err(self.texts().say("refusal-memo-empty"));
        }
        if size > MEMO_BYTES_MOST {
            let megabytes = |bytes: u64| bytes.div_ceil(1 << 20).to_string();
            let with = [("size", megabytes(size)), ("most", megabytes(MEMO_BYTES_MOST))];
            let with = [("size", with[0].1.as_str()), ("most", with[1].1.as_str())];
            return Err(self.texts().say_with("memo-large", &with));
        }
        let id = BlobHash(sha256(&bytes).await?);
        core.disk.keep_blobs(&[(id, blob)]).await?;
        let pending = Pending {
            job: running.job.to_string(),
            memo: id.to_string(),
            point: running.point.to_string(),
            media_type,
            milliseconds,
            began: running.began.to_string(),
            size,
        };
        let mut all = pending_memos(core).await?;
        all.push(pending);
        set_pending(core, &all).await?;
        self.enter_pending().await
    }

    /// Enters the memos of the open job that are on their way into the record.
    pub(super) async fn enter_memos(self) -> Result<(), String> {
        let done = turn().await;
        let entered = self.enter_pending().await;
        drop(done.call0(&JsValue::NULL));
        entered
    }

    /// The same, by whoever has the turn: two at once would forget each other's.
    async fn enter_pending(self) -> Result<(), String> {
        let Some(core) = core() else { return Ok(()) };
        let all = pending_memos(core).await?;
        if all.is_empty() {
            return Ok(());
        }
        let mut left = Vec::new();
        for memo in all {
            let open = self.open.get_untracked().map(|job| job.to_string());
            let Ok(hash) = BlobHash::new(&memo.memo) else { continue };
            let (true, Some(work)) = (open.as_ref() == Some(&memo.job), work_here()) else {
                left.push(memo);
                continue;
            };
            let id = MemoId(memo.memo.clone());
            let there = self.visit_untracked(|it| it.inspection().memos.contains_key(&id));
            if there == Some(true) {
                continue;
            }
            let act = Act::AddMemo(MemoSpoken {
                id,
                point: memo.point.as_str().into(),
                media_type: memo.media_type.clone(),
                milliseconds: memo.milliseconds,
                began: Moment::parse(&memo.began).ok(),
            });
            let blob = NewBlob { blob: hash, size: memo.size, rank: Rank::Photo };
            // A refusal is told; the bytes stay on the disk, and the entry is tried again at the next opening.
            if !self.change(vec![blob], |visit, now| (work.act)(visit, act, now)) {
                left.push(memo);
            }
        }
        set_pending(core, &left).await
    }
}

async fn pending_memos(core: &super::core::Core) -> Result<Vec<Pending>, String> {
    let text = core.disk.setting(PENDING).await?;
    Ok(text.and_then(|text| serde_json::from_str(&text).ok()).unwrap_or_default())
}

async fn set_pending(core: &super::core::Core, all: &[Pending]) -> Result<(), String> {
    let text = serde_json::to_string(all).map_err(|error| error.to_string())?;
    core.disk.set(&[(PENDING, (!all.is_empty()).then_some(&text))]).await
}

/// Asks for the microphone and starts a recorder; else a sentence for the person.
async fn begin(job: JobId, point: PointId) -> Result<Running, String> {
    let texts = super::texts();
    let unsupported = || texts.say("memo-unsupported");
    let window = window().ok_or_else(unsupported)?;
    if !Reflect::has(&window, &"MediaRecorder".into()).unwrap_or(false) {
        return Err(unsupported());
    }
    // Absent where the page is not secure.
    let devices = window.navigator().media_devices().map_err(|_| unsupported())?;
    if devices.is_undefined() {
        return Err(unsupported());
    }
    let wanted = MediaStreamConstraints::new();
    wanted.set_audio(&JsValue::TRUE);
    let asked =
        devices.get_user_media_with_constraints(&wanted).map_err(|error| refused(&error))?;
    let stream = JsFuture::from(asked).await.map_err(|error| refused(&error))?;
    let stream: MediaStream = stream.unchecked_into();
    let options = MediaRecorderOptions::new();
    options.set_audio_bits_per_second(BITS_PER_SECOND);
    if let Some(kind) = KINDS.into_iter().find(|kind| MediaRecorder::is_type_supported(kind)) {
        options.set_mime_type(kind);
    }
    let broken = |error: &JsValue| texts.say_with("memo-broken", &[("why", &said(error))]);
    let recorder =
        MediaRecorder::new_with_media_stream_and_media_recorder_options(&stream, &options)
            .map_err(|error| broken(&error))?;
    recorder.start().map_err(|error| broken(&error))?;
    let (began, since) = (moment(), milliseconds());
    let pieces = js_sys::Array::new();
    Ok(Running { recorder, stream, pieces, job, point, began, since })
}

/// Why there is no microphone, by the names of the W3C's "Media Capture and Streams", section 10.
fn refused(error: &JsValue) -> String {
    let texts = super::texts();
    match name_of(error).as_deref() {
        Some("NotAllowedError" | "SecurityError") => texts.say("memo-blocked"),
        Some("NotFoundError" | "OverconstrainedError") => texts.say("memo-no-microphone"),
        Some("NotReadableError" | "AbortError") => texts.say("memo-microphone-busy"),
        Some("TypeError") => texts.say("memo-unsupported"),
        _ => texts.say_with("memo-broken", &[("why", &said(error))]),
    }
}

//! Listening for pokes: a stream that only says where there is something new. Losing it is harmless; without it the
//! replica asks every half minute.

use js_sys::{Reflect, Uint8Array};
use sync::wire::Poke;
use wasm_bindgen::JsCast as _;
use wasm_bindgen_futures::JsFuture;
use web_sys::{AbortSignal, ReadableStreamDefaultReader};

use super::address::{Asking, ask};

/// The longest line that is a poke; a longer one is none of ours.
const LONGEST_LINE: usize = 4096;

/// Listens until the stream ends or is cut; tells when it is open, and then each poke. Answers whether it was ever open.
pub(crate) async fn follow(
    key: &str,
    stop: &AbortSignal,
    opened: impl FnOnce(),
    mut poked: impl FnMut(Poke),
) -> bool {
    let asking = Asking {
        method: "GET",
        path: "/v1/pokes",
        key: Some(key),
        headers: vec![("accept", "text/event-stream".to_owned())],
        body: None,
        give_up: Some(stop),
    };
    let Some(stream) =
        ask(&asking).await.ok().filter(web_sys::Response::ok).and_then(|it| it.body())
    else {
        return false;
    };
    opened();
    let reader: ReadableStreamDefaultReader = stream.get_reader().unchecked_into();
    let mut line = Vec::new();
    while let Ok(read) = JsFuture::from(reader.read()).await {
        let done = Reflect::get(&read, &"done".into()).ok().and_then(|it| it.as_bool());
        let Ok(value) = Reflect::get(&read, &"value".into()) else { break };
        if done != Some(false) {
            break;
        }
        for byte in Uint8Array::new(&value).to_vec() {
            if byte == b'\n' {
                if let Some(poke) = poke_of(&line) {
                    poked(poke);
                }
                line.clear();
            } else if line.len() < LONGEST_LINE {
                line.push(byte);
            }
        }
    }
    true
}

/// The poke of a line of the stream (WHATWG HTML, server-sent events); each of ours is one `data` line.
fn poke_of(line: &[u8]) -> Option<Poke> {
    let text = std::str::from_utf8(line).ok()?.strip_prefix("data:")?;
    Poke::from_json(text.trim().as_bytes()).ok()
}

//! Small things that the browser knows: the time, chance, timers, what an error says.

use jiff::civil::DateTime;
use js_sys::{Date, Function, Promise, Reflect};
use wasm_bindgen::{JsCast as _, JsValue, closure::Closure};
use wasm_bindgen_futures::JsFuture;

/// The window; the app only runs in one.
pub(crate) fn window() -> Option<web_sys::Window> {
    web_sys::window()
}

/// Milliseconds since the page was opened; they only ever go forward.
#[allow(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "milliseconds since the page was opened fit, and are never negative"
)]
pub(crate) fn milliseconds() -> u64 {
    window().and_then(|window| window.performance()).map_or(0.0, |it| it.now()) as u64
}

/// Seconds since 1970, by this device's clock.
#[allow(clippy::cast_possible_truncation, reason = "seconds of any date fit")]
pub(crate) fn unix_seconds() -> i64 {
    (Date::now() / 1000.0) as i64
}

/// The local time with its offset from UTC, to the second.
pub(crate) fn moment() -> inspection::Moment {
    moment_of(&Date::new_0())
}

/// The local time of a date, with its offset from UTC then.
pub(crate) fn moment_of(date: &Date) -> inspection::Moment {
    let small = |value: u32| i8::try_from(value).unwrap_or_default();
    let year = i16::try_from(date.get_full_year()).unwrap_or_default();
    let local = DateTime::new(
        year,
        small(date.get_month() + 1),
        small(date.get_date()),
        small(date.get_hours()),
        small(date.get_minutes()),
        small(date.get_seconds()),
        0,
    );
    #[allow(clippy::cast_possible_truncation, reason = "an offset is less than a day of minutes")]
    let offset = -date.get_timezone_offset() as i16;
    inspection::Moment { local: local.unwrap_or_default(), offset_minutes: Some(offset) }
}

/// Random bytes from the system.
pub(crate) fn random<const N: usize>() -> Result<[u8; N], String> {
    let mut bytes = [0; N];
    let crypto = window().and_then(|window| window.crypto().ok());
    crypto
        .and_then(|crypto| crypto.get_random_values_with_u8_array(&mut bytes).ok())
        .map(|_| bytes)
        .ok_or_else(|| crate::app::app().texts().say("browser-no-random"))
}

/// The SHA-256 of some bytes, by the browser, which does it beside the page.
pub(crate) async fn sha256(bytes: &js_sys::ArrayBuffer) -> Result<[u8; 32], String> {
    let promise = window()
        .and_then(|window| window.crypto().ok())
        .and_then(|crypto| crypto.subtle().digest_with_str_and_buffer_source("SHA-256", bytes).ok())
        .ok_or_else(|| crate::app::app().texts().say("browser-no-hash"))?;
    let digest = JsFuture::from(promise).await.map_err(|error| said(&error))?;
    let bytes = js_sys::Uint8Array::new(&digest).to_vec();
    bytes.try_into().map_err(|_| "the browser's SHA-256 has not 32 bytes".to_owned())
}

/// What an error of the browser says, on one line.
pub(crate) fn said(error: &JsValue) -> String {
    let text = Reflect::get(error, &"message".into()).ok().and_then(|text| text.as_string());
    let text = text.filter(|text| !text.is_empty()).or_else(|| error.as_string());
    text.unwrap_or_else(|| name_of(error).unwrap_or_else(|| "no reason given".to_owned()))
}

/// The kind of an error of the browser, such as `QuotaExceededError`.
pub(crate) fn name_of(error: &JsValue) -> Option<String> {
    Reflect::get(error, &"name".into()).ok()?.as_string()
}

/// Waits so many milliseconds.
pub(crate) async fn wait(milliseconds: i32) {
    let promise = Promise::new(&mut |resolve: Function, _| {
        if let Some(window) = window() {
            // A timer that cannot be set ends the wait at once.
            let set = window
                .set_timeout_with_callback_and_timeout_and_arguments_0(&resolve, milliseconds);
            if set.is_err() {
                drop(resolve.call0(&JsValue::NULL));
            }
        }
    });
    drop(JsFuture::from(promise).await);
}

/// Waits until the browser draws the next picture.
pub(crate) async fn next_picture() {
    let promise = Promise::new(&mut |resolve: Function, _| {
        let asked = window().map(|window| window.request_animation_frame(&resolve));
        // A hidden page draws nothing: then there is nothing to wait for.
        let hidden = window().and_then(|it| it.document()).is_some_and(|it| it.hidden());
        if hidden || !matches!(asked, Some(Ok(_))) {
            drop(resolve.call0(&JsValue::NULL));
        }
    });
    drop(JsFuture::from(promise).await);
}

/// A mark on the browser's own timeline.
pub(crate) fn mark(name: &str) {
    if let Some(performance) = window().and_then(|window| window.performance()) {
        drop(performance.mark(name));
    }
}

/// Calls back for every such event, as long as the page is open.
pub(crate) fn listen(
    target: &web_sys::EventTarget,
    event: &str,
    act: impl FnMut(web_sys::Event) + 'static,
) {
    let callback = Closure::<dyn FnMut(web_sys::Event)>::new(act);
    let listener = callback.as_ref().unchecked_ref();
    if target.add_event_listener_with_callback(event, listener).is_ok() {
        callback.forget();
    }
}

/// A method of a JavaScript object that the typed interfaces do not have, called with these arguments.
pub(crate) fn call(
    object: &JsValue,
    method: &str,
    arguments: &[JsValue],
) -> Result<JsValue, JsValue> {
    let function: Function = Reflect::get(object, &method.into())?.dyn_into()?;
    function.apply(object, &arguments.iter().collect::<js_sys::Array>())
}

/// Does something and writes on the browser's own timeline how long it took.
pub(crate) fn measure<R>(name: &str, act: impl FnOnce() -> R) -> R {
    let begin = format!("{name} begins");
    mark(&begin);
    let done = act();
    if let Some(performance) = window().and_then(|window| window.performance()) {
        drop(performance.measure_with_start_mark(name, &begin));
        performance.clear_marks_with_mark_name(&begin);
    }
    done
}

/// Whether there is room for two columns, as in the style sheet.
pub(crate) fn wide() -> bool {
    let query = window().and_then(|it| it.match_media("(min-width: 60rem)").ok().flatten());
    query.is_some_and(|query| query.matches())
}

/// Whether what has the focus takes letters.
pub(crate) fn typing() -> bool {
    let focused = window().and_then(|it| it.document()).and_then(|it| it.active_element());
    focused.is_some_and(|it| {
        let takes = matches!(it.tag_name().as_str(), "TEXTAREA" | "SELECT");
        let line = it.dyn_ref::<web_sys::HtmlInputElement>();
        takes
            || line.is_some_and(|it| {
                !matches!(it.type_().as_str(), "radio" | "checkbox" | "file" | "button")
            })
    })
}

/// Gives the keyboard's focus to an element with the next picture, once what is shown now is there.
pub(crate) fn focus_soon(id: &'static str) {
    wasm_bindgen_futures::spawn_local(async move {
        next_picture().await;
        let element = window().and_then(|it| it.document()).and_then(|it| it.get_element_by_id(id));
        if let Some(element) = element.and_then(|it| it.dyn_into::<web_sys::HtmlElement>().ok()) {
            drop(element.focus());
        }
    });
}

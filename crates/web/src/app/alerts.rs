//! Alerts of waits: a tone and a shake in this page, a notification by the service worker, as far as the browser lets it.

use std::cell::RefCell;

use field::{Bell, Due, WaitClock};
use js_sys::{Array, Object, Reflect};
use leptos::prelude::*;
use wasm_bindgen::{JsCast as _, JsValue};
use wasm_bindgen_futures::{JsFuture, spawn_local};
use web_sys::{
    AudioContext, Notification, NotificationOptions, NotificationPermission,
    ServiceWorkerRegistration,
};

use super::{App, Place, update::container};
use crate::browser::{call, listen, unix_seconds, window};
use crate::screens::Screen;

/// Shake, rest, shake, milliseconds.
const SHAKES: [u32; 5] = [400, 150, 400, 150, 400];
/// The tones of an alert: when each begins, seconds. Far apart enough to be heard beside a generator.
const TONES: [f64; 3] = [0.0, 0.35, 0.7];
/// How long a tone lasts, seconds, and how high it is, hertz.
const TONE: (f64, f32) = (0.22, 880.0);

/// What the browser lets this page do when a wait is over.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub(crate) enum Alerts {
    /// It knows no notifications for this page.
    #[default]
    Unsupported,
    /// It was not asked yet.
    NotAsked,
    /// Notifications come.
    Allowed,
    /// It refuses them.
    Refused,
}

thread_local! {
    static BELL: RefCell<Bell> = RefCell::default();
    /// Made in a gesture: without one a browser lets no page make sounds.
    static SOUND: RefCell<Option<AudioContext>> = const { RefCell::new(None) };
}

impl App {
    /// What the browser lets this page do when a wait is over.
    pub(crate) fn alerts(self) -> Signal<Alerts> {
        self.alerts.into()
    }

    /// Asks the browser for notifications; called in a tap.
    pub(crate) fn ask_for_alerts(self) {
        ready_to_sound();
        let Ok(asked) = Notification::request_permission() else {
            return self.alerts.set(now_allowed());
        };
        spawn_local(async move {
            drop(JsFuture::from(asked).await);
            self.alerts.set(now_allowed());
        });
    }

    /// Looks at what is allowed, now and whenever the page is seen again; opens what an alert that was tapped is about.
    pub(super) fn start_alerts(self) {
        self.alerts.set(now_allowed());
        let Some(window) = window() else { return };
        if let Some(document) = window.document() {
            listen(&document, "visibilitychange", move |_| self.alerts.set(now_allowed()));
            // Any tap while a wait runs lets its alert be heard, after a restart too.
            listen(&document, "pointerdown", move |_| {
                if self.clocks.with_untracked(|clocks| !clocks.is_empty()) {
                    ready_to_sound();
                }
            });
        }
        let Some(container) = container() else { return };
        listen(&container, "message", move |event| {
            let data = event.dyn_into::<web_sys::MessageEvent>().map(|event| event.data());
            let path = data.ok().and_then(|data| data.as_string());
            if let Some(place @ Place::Job(..)) = path.as_deref().and_then(Place::from_path) {
                self.go(place);
            }
        });
    }

    /// Tells what is due and was not told yet, and takes back alerts of waits that are ended.
    pub(super) fn ring(self, clocks: &[WaitClock]) {
        let now = unix_seconds();
        let rung: Vec<(WaitClock, Due)> = BELL.with_borrow_mut(|bell| {
            bell.ring(clocks, now).into_iter().map(|(clock, due)| (clock.clone(), due)).collect()
        });
        let running: Vec<String> = clocks.iter().map(tag).collect();
        if rung.is_empty() {
            return spawn_local(take_back(running));
        }
        if let Some(window) = window() {
            let shakes: Array = SHAKES.iter().map(|length| JsValue::from(*length)).collect();
            // Refused before the first tap, and by devices that cannot.
            window.navigator().vibrate_with_pattern(&shakes);
        }
        sound();
        let allowed = now_allowed() == Alerts::Allowed;
        let told = rung.into_iter().filter(|_| allowed);
        let told: Vec<(WaitClock, String)> = told
            .map(|(clock, due)| (self.alarm_words(&clock, due, now), clock))
            .map(|(words, clock)| (clock, words))
            .collect();
        spawn_local(async move {
            take_back(running).await;
            for (clock, words) in told {
                notify(&clock, &words).await;
            }
        });
    }

    /// What an alarm says.
    pub(crate) fn alarm_words(self, clock: &WaitClock, due: Due, now: i64) -> String {
        let texts = super::texts();
        let what = self.titles.with_untracked(|titles| {
            let job = titles.iter().find(|(job, _)| job.as_str() == clock.job);
            let here = self.open.get_untracked().is_some_and(|open| open.as_str() == clock.job);
            match job {
                Some((_, title)) if !here => format!("{} · {title}", clock.title),
                _ => clock.title.clone(),
            }
        });
        let count = clock.minutes_left(now).unwrap_or_default().to_string();
        match due {
            Due::Over => texts.say_with("shell-alarm", &[("what", &what)]),
            Due::Hurry => {
                texts.say_with("shell-alarm-hurry", &[("what", &what), ("count", &count)])
            }
            Due::TooLong => texts.say_with("shell-alarm-too-long", &[("what", &what)]),
        }
    }
}

/// One notification a wait: a later one takes its place.
fn tag(clock: &WaitClock) -> String {
    format!("{}/{}", clock.job, clock.wait)
}

fn now_allowed() -> Alerts {
    let known = window().is_some_and(|window| {
        Reflect::has(&window, &"Notification".into()).unwrap_or(false)
            && Reflect::has(&window, &"ServiceWorkerRegistration".into()).unwrap_or(false)
    });
    if !known {
        return Alerts::Unsupported;
    }
    match Notification::permission() {
        NotificationPermission::Granted => Alerts::Allowed,
        NotificationPermission::Denied => Alerts::Refused,
        _ => Alerts::NotAsked,
    }
}

async fn registration() -> Option<ServiceWorkerRegistration> {
    let found = JsFuture::from(container()?.get_registration()).await.ok()?;
    found.dyn_into().ok()
}

/// Through the service worker, since phones let no page do it by itself; and a tap opens the app there.
async fn notify(clock: &WaitClock, words: &str) {
    let Some(registration) = registration().await else { return };
    let options = NotificationOptions::new();
    options.set_tag(&tag(clock));
    options.set_renotify(true);
    options.set_require_interaction(true);
    let shakes: Array = SHAKES.iter().map(|length| JsValue::from(*length)).collect();
    options.set_vibrate(&shakes);
    if let Ok(job) = sync::JobId::new(&clock.job) {
        let path = Place::Job(job, Screen::Waits).to_path();
        options.set_data(&JsValue::from_str(&path));
    }
    // One that is refused leaves the alarm in the page.
    if let Ok(shown) = registration.show_notification_with_options(words, &options) {
        drop(JsFuture::from(shown).await);
    }
}

/// Closes the notifications of waits that run no more.
async fn take_back(running: Vec<String>) {
    if now_allowed() != Alerts::Allowed {
        return;
    }
    let Some(registration) = registration().await else { return };
    let Ok(asked) = call(&registration, "getNotifications", &[Object::new().into()]) else {
        return;
    };
    let Ok(shown) = JsFuture::from(js_sys::Promise::from(asked)).await else { return };
    for one in Array::from(&shown).iter() {
        let one: Notification = one.unchecked_into();
        if !one.tag().is_some_and(|tag| running.contains(&tag)) {
            one.close();
        }
    }
}

/// Lets tones be heard from now on; a browser heeds it only in a gesture.
pub(super) fn ready_to_sound() {
    SOUND.with_borrow_mut(|sound| {
        if sound.is_none() {
            *sound = AudioContext::new().ok();
        }
        if let Some(sound) = sound {
            drop(sound.resume());
        }
    });
}

fn sound() {
    SOUND.with_borrow(|sound| {
        if let Some(sound) = sound {
            // A device without sound still shakes and shows it.
            drop(tones(sound));
        }
    });
}

fn tones(sound: &AudioContext) -> Result<(), JsValue> {
    for begins in TONES {
        let (tone, loudness) = (sound.create_oscillator()?, sound.create_gain()?);
        let from = sound.current_time() + begins;
        let until = from + TONE.0;
        tone.frequency().set_value(TONE.1);
        loudness.gain().set_value_at_time(0.6, from)?;
        // Faded out: a tone cut off clicks.
        loudness.gain().linear_ramp_to_value_at_time(0.0, until)?;
        tone.connect_with_audio_node(&loudness)?;
        loudness.connect_with_audio_node(&sound.destination())?;
        tone.start_with_when(from)?;
        tone.stop_with_when(until)?;
    }
    Ok(())
}

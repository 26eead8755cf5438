//! Where the person is, and the same in the page's address: the back button works, and a reload comes back here.

use leptos::prelude::*;
use sync::JobId;

use super::App;
use crate::{
    browser::{listen, window},
    line,
    screens::Screen,
};

/// Where the person is.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) enum Place {
    /// Pairing this device, with a code from the address, if there was one.
    Pairing(Option<String>),
    /// The list of jobs.
    Jobs,
    /// Making a new job.
    NewJob,
    /// What can be chosen.
    Settings,
    /// All jobs of the server together.
    Archive,
    /// In a job.
    Job(JobId, Screen),
}

impl Place {
    /// The part of the address after `#`.
    pub(crate) fn to_path(&self) -> String {
        match self {
            Self::Pairing(_) => "/pairing".into(),
            Self::Jobs => "/jobs".into(),
            Self::NewJob => "/new".into(),
            Self::Settings => "/settings".into(),
            Self::Archive => "/archive".into(),
            Self::Job(job, screen) => format!("/job/{job}/{}", screen.to_path()),
        }
    }

    /// The place of such an address.
    pub(crate) fn from_path(path: &str) -> Option<Self> {
        let path = path.trim_start_matches('#');
        if let Some(code) = line::code_in(path) {
            return Some(Self::Pairing(Some(code)));
        }
        Some(match path.trim_start_matches('/') {
            "pairing" => Self::Pairing(None),
            "jobs" => Self::Jobs,
            "new" => Self::NewJob,
            "settings" => Self::Settings,
            "archive" => Self::Archive,
            other => {
                let (job, screen) = other.strip_prefix("job/")?.split_once('/')?;
                Self::Job(JobId::new(job).ok()?, Screen::from_path(screen)?)
            }
        })
    }

    /// The job, if the place is in one.
    pub(crate) fn job(&self) -> Option<&JobId> {
        match self {
            Self::Job(job, _) => Some(job),
            Self::Pairing(_) | Self::Jobs | Self::NewJob | Self::Settings | Self::Archive => None,
        }
    }
}

impl App {
    /// Goes somewhere. The back button comes back.
    pub(crate) fn go(self, place: Place) {
        let path = format!("#{}", place.to_path());
        if let Some(window) = window()
            && fragment() != path
        {
            let state = wasm_bindgen::JsValue::NULL;
            let pushed =
                window.history().and_then(|it| it.push_state_with_url(&state, "", Some(&path)));
            // An address that cannot be changed changes nothing else.
            drop(pushed);
        }
        self.arrive(place);
    }

    /// Is there from now on; a job that is not open yet is opened.
    pub(super) fn arrive(self, place: Place) {
        match place.job() {
            Some(job) => self.open_job(job.clone()),
            None => self.close_job(),
        }
        self.remember_place(&place);
        self.place.set(place);
    }

    /// Follows the back button.
    pub(super) fn follow_address(self) {
        let Some(window) = window() else { return };
        listen(&window, "popstate", move |_| {
            self.arrive(Place::from_path(&fragment()).unwrap_or(Place::Jobs));
        });
        // A link scanned while the app is open changes only this part of the address.
        listen(&window, "hashchange", move |_| {
            if let Some(place @ Place::Pairing(Some(_))) = Place::from_path(&fragment()) {
                self.take_code_away();
                self.arrive(place);
            }
        });
    }

    /// A code in the address is used once and does not stay there.
    pub(super) fn take_code_away(self) {
        let state = wasm_bindgen::JsValue::NULL;
        let history = window().and_then(|window| window.history().ok());
        if let Some(history) = history {
            drop(history.replace_state_with_url(&state, "", Some("#/pairing")));
        }
    }
}

/// The part of the page's address after and with `#`.
pub(super) fn fragment() -> String {
    window().and_then(|window| window.location().hash().ok()).unwrap_or_default()
}

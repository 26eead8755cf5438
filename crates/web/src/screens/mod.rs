//! The screens of a job.

use leptos::prelude::*;

use crate::app::app;

/// Where in a job the person is.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub(crate) enum Screen {
    /// The job's opening page.
    #[default]
    Opening,
}

impl Screen {
    /// The part of the address behind the job.
    pub(crate) fn to_path(&self) -> String {
        match self {
            Self::Opening => String::new(),
        }
    }

    /// The screen of such an address.
    pub(crate) fn from_path(path: &str) -> Option<Self> {
        path.is_empty().then_some(Self::Opening)
    }
}

/// A job's screen.
#[component]
pub(crate) fn JobScreen() -> impl IntoView {
    let app = app();
    view! { <h1>{move || app.visit(|visit| visit.title())}</h1> }
}

//! The plans that a new job may follow: a file of their own beside the app, which starts without it.

use std::sync::Arc;

use field::Plans;
use leptos::prelude::*;
use wasm_bindgen_futures::spawn_local;

use super::App;
use crate::{browser::wait, line};

/// How far the plans have come.
#[derive(Debug, Clone, Default)]
pub(crate) enum Shelf {
    /// They are being read.
    #[default]
    Coming,
    /// They can be chosen from.
    Here(Arc<Plans>),
    /// They cannot be had. Why, in a sentence.
    Missing(String),
}

impl App {
    /// The plans that a new job may follow.
    pub(crate) fn plans(self) -> Signal<Shelf> {
        self.plans.into()
    }

    /// Reads the plans, unless they are here or on their way.
    pub(crate) fn fetch_plans(self) {
        if self.fetching_plans.get_untracked() || self.shelf_is_full() {
            return;
        }
        self.fetching_plans.set(true);
        self.plans.set(Shelf::Coming);
        spawn_local(async move {
            self.plans.set(match self.read_plans().await {
                Ok(plans) => Shelf::Here(Arc::new(plans)),
                Err(why) => Shelf::Missing(why),
            });
            self.fetching_plans.set(false);
        });
    }

    /// The plans as soon as they are here; else why they cannot be had, in a sentence.
    pub(super) async fn plans_here(self) -> Result<Arc<Plans>, String> {
        self.fetch_plans();
        loop {
            match self.plans.get_untracked() {
                Shelf::Here(plans) => return Ok(plans),
                Shelf::Missing(why) => return Err(why),
                Shelf::Coming => wait(20).await,
            }
        }
    }

    async fn read_plans(self) -> Result<Plans, String> {
        let work = self.work().await?;
        let text = line::file_of_app("plans").await;
        text.and_then(|text| (work.read_plans)(&text).map_err(|said| self.texts().of(&said)))
            .map_err(|why| self.texts().say_with("shell-new-plans-missing", &[("why", &why)]))
    }

    fn shelf_is_full(self) -> bool {
        self.plans.with_untracked(|shelf| matches!(shelf, Shelf::Here(_)))
    }
}

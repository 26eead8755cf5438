//! What a plan says in the chosen language: texts of a file of their own, laid over whatever plan is shown.

use std::sync::Arc;

use field::Language;
use leptos::prelude::*;
use plan::Texts;
use wasm_bindgen_futures::spawn_local;

use super::{App, core::core};
use crate::line;

/// Texts of a language; none where plans are shown as they are, in English.
#[derive(Clone, Default)]
pub(crate) struct Spoken {
    pub(super) language: Language,
    pub(super) texts: Option<Arc<Texts>>,
}

impl App {
    /// Texts of the language that was chosen last, as far as they are here.
    pub(crate) fn spoken(self) -> Option<Arc<Texts>> {
        let chosen = self.settings.with(|settings| settings.language);
        self.spoken.with(|spoken| spoken.texts.clone().filter(|_| spoken.language == chosen))
    }

    /// The texts of the chosen language, as soon as they are here. Where they cannot be had, a sentence says so, and plans
    /// stay in English.
    pub(super) async fn plan_texts(self) -> Spoken {
        let language = self.settings.with_untracked(|settings| settings.language);
        if language == Language::English {
            return Spoken::default();
        }
        let here = self.spoken.get_untracked();
        if here.language == language && here.texts.is_some() {
            return here;
        }
        match self.read_texts(language).await {
            Ok(texts) => {
                let spoken = Spoken { language, texts: Some(Arc::new(texts)) };
                self.spoken.set(spoken.clone());
                spoken
            }
            Err(why) => {
                self.say(self.texts().say_with("shell-plan-texts-missing", &[("why", &why)]));
                Spoken { language, texts: None }
            }
        }
    }

    async fn read_texts(self, language: Language) -> Result<Texts, String> {
        let work = self.work().await?;
        let text = line::file_of_app(&format!("texts-{}", language.code())).await?;
        Ok((work.read_texts)(&text))
    }

    /// Reads the texts of the chosen language, so that plans can be shown in it.
    pub(crate) fn fetch_plan_texts(self) {
        spawn_local(async move { drop(self.plan_texts().await) });
    }

    /// Another language was chosen: the open job's plan is shown in it.
    pub(super) fn speak_plan(self) {
        spawn_local(async move {
            let spoken = self.plan_texts().await;
            // Chosen anew meanwhile: that choice does it.
            if spoken.language != self.settings.with_untracked(|settings| settings.language) {
                return;
            }
            let (Some(core), Some(work)) = (core(), super::work_here()) else { return };
            if let Some((_, visit)) = core.visit.borrow_mut().as_mut() {
                (work.speak)(visit, spoken.texts.as_deref());
            }
            self.revision.update(|count| *count += 1);
        });
    }
}

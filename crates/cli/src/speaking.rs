//! In which language a job's pages speak, and in whose words.

use std::path::{Path, PathBuf};

use clap::Args;
use plan::{Files, Plan, load_texts};

use crate::commands::near_hint;
use crate::commands::plan::shipped;
use crate::commands::texts::languages_in;
use crate::data_folder::Place;
use crate::failure::Failure;

/// The language of pages, and a firm's own texts.
#[derive(Args, Clone, Debug, Default)]
pub(crate) struct Speaking {
    /// Language of the pages: `en`, or `es` for Spanish; what a person wrote stays as it was written
    #[arg(long, value_name = "CODE", default_value = "en")]
    language: String,
    /// Texts of your own, a folder as `nearside texts write` makes it; `texts` in the data folder if left out
    #[arg(long, value_name = "DIR")]
    texts: Option<PathBuf>,
}

/// A plan as the pages say it.
pub(crate) struct Spoken {
    pub(crate) plan: Plan,
    /// SHA-256 of the texts laid over the plan's own; none where it speaks for itself.
    pub(crate) texts: Option<String>,
}

impl Spoken {
    /// The plan in its own words.
    pub(crate) fn plain(plan: &Plan) -> Self {
        Self { plan: plan.clone(), texts: None }
    }
}

impl Speaking {
    /// In this language, and in the firm's own texts if there are any.
    pub(crate) fn in_language(language: &str) -> Self {
        Self { language: language.to_owned(), texts: None }
    }

    /// The plan in the language and words that were asked for.
    pub(crate) fn of(&self, place: &Place, plan: &Plan) -> Result<Spoken, Failure> {
        let language = self.language.as_str();
        let known: Vec<&str> = Files::languages().collect();
        if !known.contains(&language) {
            return Err(Failure::input(format!("no texts are in the language `{language}`"))
                .hint(near_hint(language, known)));
        }
        let own = self.own(place)?;
        if language == "en" && own.is_none() {
            return Ok(Spoken::plain(plan));
        }
        let library = shipped()?;
        let shipped = match language {
            "en" => Files::none(),
            other => Files::of_language(other).unwrap_or_default(),
        };
        let mut texts = load_texts(language, &shipped, &library).texts;
        if let Some(folder) = &own {
            let files = languages_in(folder)?
                .into_iter()
                .find_map(|(known, files)| (known == language).then_some(files))
                .unwrap_or_default();
            let loaded = load_texts(language, &files, &library);
            if !loaded.problems.is_empty() {
                let lines: Vec<String> =
                    loaded.problems.iter().map(|problem| format!("{language}/{problem}")).collect();
                return Err(Failure::input(format!(
                    "{} holds texts with problems:\n{}",
                    folder.display(),
                    lines.join("\n")
                ))
                .hint("mend them, or see them alone with `nearside texts check DIR`"));
            }
            texts.add(loaded.texts);
        }
        if language == "en" && texts.count() == 0 {
            return Ok(Spoken::plain(plan));
        }
        let (plan, missing) = plan.with_texts(&texts);
        if language != "en" && !missing.is_empty() {
            eprintln!(
                "note: {} texts of the plan are in English only (nearside texts check --missing all)",
                missing.len()
            );
        }
        Ok(Spoken { plan, texts: Some(texts.revision()) })
    }

    /// The folder of a firm's own texts: the one that was named, else the data folder's, if there is one.
    fn own(&self, place: &Place) -> Result<Option<PathBuf>, Failure> {
        if let Some(folder) = &self.texts {
            if !folder.is_dir() {
                return Err(Failure::input(format!("{} is no folder", folder.display()))
                    .hint("`nearside texts write DIR` makes one"));
            }
            return Ok(Some(folder.clone()));
        }
        Ok(Some(place.folder()?.join("texts")).filter(|folder| Path::is_dir(folder)))
    }
}

//! What the person chose: language, units, paper, theme, who they are. Kept on the device.

use field::{Language, UnitSystem};
use leptos::prelude::*;
use serde::{Deserialize, Serialize};
use wasm_bindgen_futures::spawn_local;

use super::{App, core::core};
use crate::browser::window;

const SETTINGS: &str = "settings";

/// How the screen looks.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub(crate) enum Theme {
    /// Dark on light.
    #[default]
    Light,
    /// Light on dark.
    Dark,
    /// Black on white with the strongest contrast.
    Sunlight,
}

impl Theme {
    /// All of them.
    pub(crate) const ALL: [Self; 3] = [Self::Light, Self::Dark, Self::Sunlight];

    /// The word in the page and on the disk.
    pub(crate) fn word(self) -> &'static str {
        match self {
            Self::Light => "light",
            Self::Dark => "dark",
            Self::Sunlight => "sunlight",
        }
    }
}

/// What the person chose.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Settings {
    /// The language of the interface.
    pub(crate) language: Language,
    /// The units that readings are typed and shown in.
    pub(crate) units: UnitSystem,
    /// What the pages beside one's work are laid out for.
    pub(crate) paper: Paper,
    /// How the screen looks.
    pub(crate) theme: Theme,
    /// The name that stands in the trail and the report.
    pub(crate) person: String,
    /// Licence or membership, as it should be printed.
    pub(crate) credentials: String,
    /// Whether single letters are keys.
    pub(crate) letter_keys: bool,
}

impl Default for Settings {
    fn default() -> Self {
        Self {
            language: Language::default(),
            units: UnitSystem::default(),
            paper: Paper::default(),
            theme: Theme::default(),
            person: String::new(),
            credentials: String::new(),
            letter_keys: true,
        }
    }
}

/// What pages are laid out for.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub(crate) enum Paper {
    /// US Letter.
    #[default]
    Letter,
    /// ISO 216 A4.
    A4,
}

impl Paper {
    /// As the server reads it and the device keeps it.
    pub(crate) fn word(self) -> &'static str {
        match self {
            Self::Letter => "letter",
            Self::A4 => "a4",
        }
    }

    /// The paper of this word; the usual one for any other.
    pub(crate) fn from_word(word: &str) -> Self {
        if word == Self::A4.word() { Self::A4 } else { Self::default() }
    }
}

/// The same as text.
#[derive(Serialize, Deserialize)]
struct Written {
    language: String,
    units: String,
    /// Absent in older ones.
    #[serde(default)]
    paper: String,
    theme: String,
    person: String,
    credentials: String,
    /// Absent in older ones.
    #[serde(default)]
    no_letter_keys: bool,
}

impl Settings {
    fn to_text(&self) -> Option<String> {
        let units = match self.units {
            UnitSystem::Us => "us",
            UnitSystem::Si => "si",
        };
        let written = Written {
            language: self.language.code().to_owned(),
            units: units.to_owned(),
            paper: self.paper.word().to_owned(),
            theme: self.theme.word().to_owned(),
            person: self.person.clone(),
            credentials: self.credentials.clone(),
            no_letter_keys: !self.letter_keys,
        };
        serde_json::to_string(&written).ok()
    }

    /// What cannot be read is as on a new device.
    fn from_text(text: &str) -> Option<Self> {
        let written: Written = serde_json::from_str(text).ok()?;
        Some(Self {
            language: Language::from_code(&written.language).unwrap_or_default(),
            units: if written.units == "si" { UnitSystem::Si } else { UnitSystem::Us },
            paper: Paper::from_word(&written.paper),
            theme: Theme::ALL.into_iter().find(|it| it.word() == written.theme).unwrap_or_default(),
            person: written.person,
            credentials: written.credentials,
            letter_keys: !written.no_letter_keys,
        })
    }

    /// On a new device: the browser's language and brightness.
    fn first() -> Self {
        let mut settings = Self::default();
        let Some(window) = window() else { return settings };
        let language = window.navigator().language().unwrap_or_default();
        settings.language = language.get(..2).and_then(Language::from_code).unwrap_or_default();
        let dark = window.match_media("(prefers-color-scheme: dark)").ok().flatten();
        if dark.is_some_and(|query| query.matches()) {
            settings.theme = Theme::Dark;
        }
        settings
    }
}

impl App {
    /// Reads the settings, and from now on keeps whatever is set.
    pub(super) async fn restore_settings(self) -> Result<(), String> {
        let Some(core) = core() else { return Ok(()) };
        let text = core.disk.setting(SETTINGS).await?;
        let settings = text.as_deref().and_then(Settings::from_text);
        self.settings.set(settings.unwrap_or_else(Settings::first));
        Effect::new(move |before: Option<Settings>| {
            let settings = self.settings.get();
            show(&settings);
            if before.as_ref().is_some_and(|before| before.language != settings.language) {
                self.speak_plan();
            }
            if before.is_some_and(|before| before != settings) {
                self.person_is(settings.person.clone());
                if let Some(text) = settings.to_text() {
                    spawn_local(async move {
                        if let Err(why) = core.disk.set(&[(SETTINGS, Some(&text))]).await {
                            self.say(why);
                        }
                    });
                }
            }
            settings
        });
        Ok(())
    }
}

/// Language and theme on the page itself.
fn show(settings: &Settings) {
    let root = window().and_then(|window| window.document()).and_then(|it| it.document_element());
    if let Some(root) = root {
        // An attribute that cannot be set leaves the page as it is.
        drop(root.set_attribute("lang", settings.language.code()));
        drop(root.set_attribute("data-theme", settings.theme.word()));
    }
}

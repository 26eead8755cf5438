//! The words of the interface, in English and Spanish, from the Fluent files in `texts/`.
//!
//! What a plan says (titles, acts, cautions, statements) is data of the job: [`crate::Visit::speak`] shows it in another language.

use fluent_bundle::{FluentArgs, FluentBundle, FluentResource, FluentValue};

use crate::Said;

/// A language of the interface.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Language {
    /// English, as used in the United States.
    #[default]
    English,
    /// Spanish.
    Spanish,
}

impl Language {
    /// Both.
    pub const ALL: [Self; 2] = [Self::English, Self::Spanish];

    /// The language's code, as in a page's `lang`.
    #[must_use]
    pub fn code(self) -> &'static str {
        match self {
            Self::English => "en",
            Self::Spanish => "es",
        }
    }

    /// The language's own name.
    #[must_use]
    pub fn own_name(self) -> &'static str {
        match self {
            Self::English => "English",
            Self::Spanish => "Español",
        }
    }

    /// The language with this code.
    #[must_use]
    pub fn from_code(code: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|one| one.code() == code)
    }

    /// Its Fluent file.
    #[must_use]
    pub fn file(self) -> &'static str {
        match self {
            Self::English => include_str!("../texts/en.ftl"),
            Self::Spanish => include_str!("../texts/es.ftl"),
        }
    }
}

/// The texts of one language.
pub struct Texts {
    language: Language,
    bundle: FluentBundle<FluentResource>,
}

impl std::fmt::Debug for Texts {
    fn fmt(&self, formatter: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(formatter, "Texts({})", self.language.code())
    }
}

impl Texts {
    /// Reads the texts of a language. A message that cannot be read is left out; a test says there is none.
    #[must_use]
    pub fn new(language: Language) -> Self {
        let mut bundle = FluentBundle::new(vec![language.code().parse().unwrap_or_default()]);
        // Marks around arguments would be read aloud and copied; both languages run the same way.
        bundle.set_use_isolating(false);
        let resource = FluentResource::try_new(language.file().to_owned())
            .unwrap_or_else(|(readable, _)| readable);
        // Only a message that stands twice is refused, and the first one stays.
        drop(bundle.add_resource(resource));
        Self { language, bundle }
    }

    /// The language.
    #[must_use]
    pub fn language(&self) -> Language {
        self.language
    }

    /// A text without arguments; the key itself if there is none.
    #[must_use]
    pub fn say(&self, key: &str) -> String {
        self.say_with(key, &[])
    }

    /// A text with arguments. One that is a whole number chooses plurals.
    #[must_use]
    pub fn say_with(&self, key: &str, arguments: &[(&str, &str)]) -> String {
        let Some(pattern) = self.bundle.get_message(key).and_then(|message| message.value()) else {
            return key.to_owned();
        };
        let mut given = FluentArgs::new();
        for (name, value) in arguments {
            // A number that is written otherwise than numbers are counts as text: 007 stays 007.
            let value = match value.parse::<i32>() {
                Ok(number) if number.to_string() == *value => FluentValue::from(number),
                Ok(_) | Err(_) => FluentValue::from((*value).to_owned()),
            };
            given.set((*name).to_owned(), value);
        }
        self.bundle.format_pattern(pattern, Some(&given), &mut Vec::new()).into_owned()
    }

    /// A sentence in this language.
    #[must_use]
    pub fn of(&self, said: &Said) -> String {
        let words: Vec<String> = said.with.iter().map(|(_, word)| self.word(word)).collect();
        let arguments: Vec<(&str, &str)> =
            said.with.iter().zip(&words).map(|((name, _), word)| (*name, word.as_str())).collect();
        self.say_with(said.key, &arguments)
    }

    fn word(&self, word: &crate::said::Word) -> String {
        match word {
            crate::said::Word::Plain(text) => text.clone(),
            crate::said::Word::Key(key) => self.say(key),
        }
    }
}

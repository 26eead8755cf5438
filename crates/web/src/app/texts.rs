//! The words of the interface in the language that is chosen.

use std::cell::RefCell;
use std::rc::Rc;

use field::{Language, Texts};
use leptos::prelude::*;

thread_local! {
    /// Each language is read once.
    static TEXTS: RefCell<Vec<Rc<Texts>>> = const { RefCell::new(Vec::new()) };
}

/// The texts of the chosen language; inside a view, another choice asks again.
pub(crate) fn texts() -> Rc<Texts> {
    let chosen = super::the_app().map(|app| app.settings.with(|settings| settings.language));
    of(chosen.unwrap_or_default())
}

/// One text.
pub(crate) fn say(key: &str) -> String {
    texts().say(key)
}

/// One text with something filled in.
pub(crate) fn say_with(key: &str, with: &[(&str, &str)]) -> String {
    texts().say_with(key, with)
}

impl super::App {
    /// The texts of the chosen language, wherever one is.
    pub(crate) fn texts(self) -> Rc<Texts> {
        of(self.settings.with_untracked(|settings| settings.language))
    }
}

fn of(language: Language) -> Rc<Texts> {
    TEXTS.with_borrow_mut(|known| {
        if let Some(texts) = known.iter().find(|texts| texts.language() == language) {
            return Rc::clone(texts);
        }
        let texts = Rc::new(Texts::new(language));
        known.push(Rc::clone(&texts));
        texts
    })
}

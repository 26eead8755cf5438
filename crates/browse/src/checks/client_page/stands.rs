//! What stands on a page as the browser has laid it out, asked of the browser itself and not of a script in the page: so the
//! answer is to be had without scripts too.

use serde_json::{Value, json};

use crate::{Outcome, browser::Browser};

/// What is laid out of a page.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(super) struct Stands {
    /// Every text, in the order of the page, with single spaces.
    pub(super) texts: Vec<String>,
    pub(super) tables: usize,
    pub(super) rows: usize,
    pub(super) pictures: usize,
    pub(super) links: usize,
    /// Where somebody could enter or choose something.
    pub(super) fields: usize,
}

impl Stands {
    pub(super) fn on(browser: &Browser) -> Outcome<Self> {
        let taken =
            browser.command("DOMSnapshot.captureSnapshot", &json!({"computedStyles": []}))?;
        let strings = taken["strings"].as_array().ok_or("the browser gave no strings")?;
        let word = |index: &Value| -> Option<&str> {
            strings.get(usize::try_from(index.as_i64()?).ok()?)?.as_str()
        };
        let page = &taken["documents"][0];
        let names = page["nodes"]["nodeName"].as_array().ok_or("the browser gave no nodes")?;
        let laid_out = page["layout"]["nodeIndex"].as_array().ok_or("nothing is laid out")?;
        let texts = page["layout"]["text"].as_array().ok_or("no text is laid out")?;
        let mut stands = Self::default();
        for (node, text) in laid_out.iter().zip(texts) {
            if let Some(text) = word(text).map(plain).filter(|text| !text.is_empty()) {
                stands.texts.push(text);
            }
            let at = node.as_u64().and_then(|at| usize::try_from(at).ok());
            match at.and_then(|at| names.get(at)).and_then(word) {
                Some("TABLE") => stands.tables += 1,
                Some("TR") => stands.rows += 1,
                Some("IMG") => stands.pictures += 1,
                Some("A") => stands.links += 1,
                Some("INPUT" | "BUTTON" | "SELECT" | "TEXTAREA") => stands.fields += 1,
                _ => {}
            }
        }
        Ok(stands)
    }

    /// The first thing in which it is not as expected.
    pub(super) fn difference(&self, expected: &Self) -> Option<String> {
        for (at, text) in expected.texts.iter().enumerate() {
            if self.texts.get(at) != Some(text) {
                return Some(format!("{:?} stands in the place of {text:?}", self.texts.get(at)));
            }
        }
        if let Some(more) = self.texts.get(expected.texts.len()) {
            return Some(format!("{more:?} stands there besides"));
        }
        let counts = |it: &Self| (it.tables, it.rows, it.pictures, it.links, it.fields);
        let (own, other) = (counts(self), counts(expected));
        (own != other).then(|| {
            format!("tables, rows, pictures, links, fields are {own:?} and should be {other:?}")
        })
    }
}

/// A text with single spaces.
fn plain(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

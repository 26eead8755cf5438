//! The inspector's own stock sentences: a copy on this device, so that they are there without a line. What is added here is
//! kept here first, and goes to the server as soon as it can be reached.

use field::Sentences;
use leptos::prelude::*;
use wasm_bindgen_futures::spawn_local;

use super::{App, core::core};
use crate::line::{self, NoAnswer};

/// The settings that hold the list, as its file has it, and the names of those that the server has not got.
const LIST: &str = "sentences";
const UNSENT: &str = "sentences-unsent";

/// The list, and how it stands to the server's.
#[derive(Debug, Clone, Default, PartialEq)]
pub(crate) struct Stock {
    /// The sentences.
    pub(crate) list: Sentences,
    /// Names of those that are only here.
    unsent: Vec<String>,
    /// What the server said when it refused one; none if it did not.
    pub(crate) refused: Option<String>,
    restored: bool,
}

impl App {
    /// The stock sentences.
    pub(crate) fn stock(self) -> Signal<Stock> {
        self.stock.into()
    }

    /// Reads them from this device, then from the server, as far as it can be reached.
    pub(crate) fn fetch_stock(self) {
        spawn_local(async move {
            if !self.stock.with_untracked(|stock| stock.restored) {
                self.restore_stock().await;
            }
            self.exchange_stock().await;
        });
    }

    /// Keeps a sentence under a name; false where it is none, which is said.
    pub(crate) fn keep_sentence(self, name: &str, text: &str) -> bool {
        let added = self.stock.try_update(|stock| {
            stock.list.add(name, text)?;
            let name = name.trim().to_owned();
            if !stock.unsent.contains(&name) {
                stock.unsent.push(name);
            }
            Ok(())
        });
        match added {
            Some(Ok(())) => {
                spawn_local(async move {
                    self.remember_stock().await;
                    self.exchange_stock().await;
                });
                true
            }
            Some(Err(said)) => {
                let said: field::Said = said;
                self.say(self.texts().of(&said));
                false
            }
            None => false,
        }
    }

    async fn restore_stock(self) {
        let Some(core) = core() else { return };
        let list = core.disk.setting(LIST).await.ok().flatten().unwrap_or_default();
        let unsent = core.disk.setting(UNSENT).await.ok().flatten().unwrap_or_default();
        // One that cannot be read is replaced by the server's.
        let list = Sentences::read(&list).unwrap_or_default();
        let unsent = serde_json::from_str(&unsent).unwrap_or_default();
        self.stock.set(Stock { list, unsent, refused: None, restored: true });
    }

    async fn remember_stock(self) {
        let Some(core) = core() else { return };
        let stock = self.stock.get_untracked();
        let unsent = serde_json::to_string(&stock.unsent).unwrap_or_default();
        let list = stock.list.write();
        if let Err(why) = core.disk.set(&[(LIST, Some(&list)), (UNSENT, Some(&unsent))]).await {
            self.say(why);
        }
    }

    /// Sends what is only here, then takes the server's list over. Where the line breaks off, what is left is sent next time.
    async fn exchange_stock(self) {
        let Some(key) = core().and_then(|core| core.identity.borrow().key.clone()) else { return };
        for name in self.stock.with_untracked(|stock| stock.unsent.clone()) {
            let text = self
                .stock
                .with_untracked(|stock| stock.list.find(&name).map(|one| one.text.clone()));
            if let Some(text) = text {
                match line::keep_sentence(&key, &name, &text).await {
                    Ok(_) => {}
                    Err(NoAnswer::NoLine) => return,
                    Err(NoAnswer::Refused(reason, why)) => {
                        // A device of one job keeps its sentences to itself.
                        let own = reason == "one_job";
                        return self.stock.update(|stock| stock.refused = (!own).then_some(why));
                    }
                }
            }
            self.stock.update(|stock| stock.unsent.retain(|one| *one != name));
        }
        let Ok(text) = line::sentences(&key).await else { return };
        let Ok(list) = Sentences::read(&text) else { return };
        self.stock.update(|stock| {
            let mut list = list;
            // Added while the answer was on its way.
            for name in &stock.unsent {
                if let Some(own) = stock.list.find(name) {
                    drop(list.add(&own.name, &own.text));
                }
            }
            (stock.list, stock.refused) = (list, None);
        });
        self.remember_stock().await;
    }
}

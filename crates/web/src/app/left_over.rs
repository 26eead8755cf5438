//! What is left over from other jobs in the open job's texts: only the server knows the other jobs. Asked for anew when the
//! record has changed and what was entered is there.

use std::cell::RefCell;
use std::rc::Rc;

use field::view::Remark;
use leptos::prelude::*;
use wasm_bindgen_futures::spawn_local;
use web_sys::AbortController;

use super::{App, core::core};
use crate::browser::wait;
use crate::line;

/// How often it is looked whether the entries have arrived at the server, milliseconds, and how often at most.
const LOOK_AGAIN: (i32, u32) = (100, 100);

impl App {
    /// Remarks of the server's on the open job's texts, for as long as the caller's owner lives. None without a line.
    pub(crate) fn left_over(self) -> Signal<Vec<Remark>> {
        let remarks = RwSignal::new(Vec::new());
        let asked: Rc<RefCell<Option<AbortController>>> = Rc::default();
        let given_up = StoredValue::new_local(Rc::clone(&asked));
        on_cleanup(move || {
            given_up.with_value(|asked| {
                if let Some(asked) = asked.borrow_mut().take() {
                    asked.abort();
                }
            });
        });
        Effect::new(move |_| {
            self.revision.track();
            self.open.track();
            self.line().track();
            let Ok(stop) = AbortController::new() else { return };
            if let Some(older) = asked.borrow_mut().replace(stop.clone()) {
                older.abort();
            }
            spawn_local(async move {
                for _ in 0..LOOK_AGAIN.1 {
                    wait(LOOK_AGAIN.0).await;
                    if stop.signal().aborted() || untrack(|| self.copied().get()).only_here == 0 {
                        break;
                    }
                }
                let key = core().and_then(|core| core.identity.borrow().key.clone());
                let (Some(key), Some(job), false) =
                    (key, self.open.get_untracked(), stop.signal().aborted())
                else {
                    return;
                };
                let Ok(found) = line::left_over(&key, &job, &stop.signal()).await else { return };
                let found =
                    found.left_over.iter().filter_map(Remark::left_over_from_json).collect();
                if !stop.signal().aborted() {
                    // The screen may be gone by now.
                    let _shown = remarks.try_set(found);
                }
            });
        });
        remarks.into()
    }
}

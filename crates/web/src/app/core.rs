//! What the app works on, once in the page: disk, replica, the open visit.

use std::cell::{Cell, RefCell};
use std::collections::BTreeMap;

use field::Visit;
use leptos::prelude::ArcRwSignal;
use sync::{JobId, Replica};

use super::identity::Identity;
use crate::disk::Disk;

pub(super) struct Core {
    pub(super) disk: Disk,
    pub(super) replica: RefCell<Replica>,
    pub(super) identity: RefCell<Identity>,
    pub(super) visit: RefCell<Option<(JobId, Visit)>>,
    /// Changes of others that came while a job was being read.
    pub(super) opening: RefCell<Option<(JobId, Vec<Vec<u8>>)>>,
    /// Addresses of pictures in memory, by photo.
    pub(super) pictures: RefCell<BTreeMap<String, ArcRwSignal<Option<String>>>>,
    /// The timer that wakes the replica.
    pub(super) timer: Cell<Option<i32>>,
    /// Ends the listening for pokes.
    pub(super) pokes: RefCell<Option<web_sys::AbortController>>,
}

thread_local! {
    static CORE: Cell<Option<&'static Core>> = const { Cell::new(None) };
}

impl Core {
    pub(super) fn new(disk: Disk, replica: Replica, identity: Identity) -> Self {
        Self {
            disk,
            replica: RefCell::new(replica),
            identity: RefCell::new(identity),
            visit: RefCell::default(),
            opening: RefCell::default(),
            pictures: RefCell::default(),
            timer: Cell::default(),
            pokes: RefCell::default(),
        }
    }
}

/// Puts it in place, for as long as the page is open.
pub(super) fn place(core: Core) {
    CORE.set(Some(Box::leak(Box::new(core))));
}

/// It, once the app has started.
pub(super) fn core() -> Option<&'static Core> {
    CORE.get()
}

//! Starting: the disk first, then the screen, then the line.

use leptos::prelude::*;
use sync::{Event, Replica};
use wasm_bindgen_futures::spawn_local;

use super::{
    App, Place, Stage, alone,
    core::{Core, core, place},
    identity::Identity,
    job::PLACE,
    place::fragment,
};
use crate::{
    browser::{milliseconds, random},
    disk::Disk,
    line::{self, Paired, PairingRefused},
};

/// Starts the app; what goes wrong becomes a sentence on the screen.
pub(crate) async fn boot(app: App) {
    alone::alone(|| app.stage.set(Stage::Elsewhere)).await;
    alone::leave_when_asked();
    match start(app).await {
        Ok(()) => {
            app.stage.set(Stage::Ready);
            // For the speed test: the screen is there with the next picture.
            crate::browser::next_picture().await;
            crate::browser::mark("ready");
            // Sooner or later it is wanted; a failure is told then, and it is tried again.
            spawn_local(async move { drop(app.work().await) });
        }
        Err(why) => app.stage.set(Stage::Broken(why)),
    }
    app.install();
}

async fn start(app: App) -> Result<(), String> {
    let disk = Disk::open().await?;
    let identity = Identity::restore(&disk).await?;
    let local = disk.restore().await?;
    let seed = u64::from_le_bytes(random()?);
    app.paired_with.set(identity.key.as_ref().map(|_| identity.server.clone().unwrap_or_default()));
    let paired = identity.key.is_some();
    let remembered = disk.setting(PLACE).await?;
    let replica = Replica::restore(local, seed, milliseconds());
    place(Core::new(disk, replica, identity));
    app.restore_settings().await?;
    app.restore_titles().await;
    app.restore_clocks().await?;
    app.follow_network();
    app.follow_address();
    app.start_clock();
    let here = Place::from_path(&fragment());
    let jobs = app.titles.with_untracked(|titles| !titles.is_empty());
    let here = match here {
        Some(pairing @ Place::Pairing(Some(_))) => {
            app.take_code_away();
            pairing
        }
        Some(here) if paired || jobs => here,
        None if paired || jobs => {
            remembered.as_deref().and_then(Place::from_path).unwrap_or(Place::Jobs)
        }
        Some(_) | None => Place::Pairing(None),
    };
    app.arrive(here);
    app.happened(Event::Tick);
    app.listen_for_pokes();
    spawn_local(async move { app.room.set(Disk::ask_for_room().await) });
    Ok(())
}

impl App {
    /// Pairs this device with a code; then everything on it is copied.
    pub(crate) async fn pair(self, code: &str, name: &str) -> Result<(), PairingRefused> {
        let paired: Paired = line::pair(code, name).await?;
        let Some(core) = core() else { return Ok(()) };
        let identity =
            Identity::paired(&core.disk, &paired).await.map_err(PairingRefused::Other)?;
        self.close_job();
        self.paired_with.set(Some(paired.server.clone()));
        *core.identity.borrow_mut() = identity;
        self.happened(Event::Paired);
        self.listen_for_pokes();
        Ok(())
    }

    /// Asks the browser again to keep the storage for good.
    pub(crate) fn ask_for_room(self) {
        spawn_local(async move { self.room.set(Disk::ask_for_room().await) });
    }
}

//! Who this device is: the id that stands in its changes, and the key that the server gave it.

use record::Author;

use super::{App, say};
use crate::{browser::random, disk::Disk, line::Paired};

const DEVICE: &str = "device";
const KEY: &str = "key";
const SERVER: &str = "server";

/// Who this device is.
#[derive(Debug, Clone, Default)]
pub(super) struct Identity {
    /// Stands in every change. Drawn here at first; the server's own once paired.
    pub(super) device: [u8; 16],
    /// The device's key, if it is paired.
    pub(super) key: Option<String>,
    /// What the server calls itself.
    pub(super) server: Option<String>,
}

impl Identity {
    /// As the disk says; on a new device an id is drawn and kept first.
    pub(super) async fn restore(disk: &Disk) -> Result<Self, String> {
        let device = match disk.setting(DEVICE).await?.as_deref().and_then(device_of) {
            Some(device) => device,
            None => {
                let device = random::<16>()?;
                disk.set(&[(DEVICE, Some(&hexadecimal(&device)))]).await?;
                device
            }
        };
        let (key, server) = (disk.setting(KEY).await?, disk.setting(SERVER).await?);
        Ok(Self { device, key, server })
    }

    /// As the server said, once the disk has it.
    pub(super) async fn paired(disk: &Disk, paired: &Paired) -> Result<Self, String> {
        let device = device_of(&paired.device).ok_or_else(|| say("browser-no-device-id"))?;
        let settings = [
            (DEVICE, Some(paired.device.as_str())),
            (KEY, Some(paired.key.as_str())),
            (SERVER, Some(paired.server.as_str())),
        ];
        disk.set(&settings).await?;
        Ok(Self { device, key: Some(paired.key.clone()), server: Some(paired.server.clone()) })
    }
}

impl App {
    /// Who acts at this device.
    pub(super) fn author(self, identity: &Identity) -> Author {
        use leptos::prelude::GetUntracked as _;
        Author::new(identity.device, self.settings.get_untracked().person)
    }
}

fn device_of(text: &str) -> Option<[u8; 16]> {
    let mut device = [0; 16];
    if text.len() != 32 || !text.is_ascii() {
        return None;
    }
    for (byte, at) in device.iter_mut().zip((0..32).step_by(2)) {
        *byte = u8::from_str_radix(text.get(at..at + 2)?, 16).ok()?;
    }
    Some(device)
}

fn hexadecimal(bytes: &[u8]) -> String {
    bytes.iter().map(|byte| format!("{byte:02x}")).collect()
}

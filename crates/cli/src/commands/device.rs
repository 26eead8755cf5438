//! `nearside device`: the phones that are let in, and shutting one out.

use std::io::Write;

use clap::{Args, Subcommand};
use jiff::Timestamp;
use jiff::tz::TimeZone;
use serde_json::json;
use store::StoredDevice;

use crate::arguments::print_help_of;
use crate::commands::near_hint;
use crate::data_folder::Place;
use crate::failure::Failure;

/// Lists the devices that may copy to the server, and removes one.
#[derive(Args, Debug)]
#[command(after_help = "Examples:\n  nearside device list\n  nearside device remove 4f0c")]
pub(crate) struct DeviceArguments {
    #[command(subcommand)]
    command: Option<DeviceCommand>,
}

#[derive(Subcommand, Debug)]
enum DeviceCommand {
    List(ListArguments),
    Remove(RemoveArguments),
}

/// Lists the devices: who is in, since when, and when each last spoke.
#[derive(Args, Debug)]
#[command(after_help = "Examples:\n  nearside device list\n  nearside device list --json")]
struct ListArguments {
    /// Print a JSON array
    #[arg(long)]
    json: bool,
}

/// Shuts a device out at once; what it has not copied yet stays on it.
#[derive(Args, Debug)]
#[command(
    after_help = "Examples:\n  nearside device remove 4f0c\n  nearside device remove \"Kitchen phone\""
)]
struct RemoveArguments {
    /// The beginning of its id, or its name
    device: String,
}

pub(crate) fn run(place: &Place, arguments: &DeviceArguments) -> Result<(), Failure> {
    match &arguments.command {
        None => {
            print_help_of(&["device"]);
            Ok(())
        }
        Some(DeviceCommand::List(list)) => self::list(place, list),
        Some(DeviceCommand::Remove(remove)) => self::remove(place, remove),
    }
}

fn list(place: &Place, arguments: &ListArguments) -> Result<(), Failure> {
    let devices = place.store()?.devices()?;
    let mut out = std::io::stdout().lock();
    if arguments.json {
        let all: Vec<_> = devices
            .iter()
            .map(|device| {
                json!({
                    "device": device.id,
                    "name": device.name,
                    "person": device.person,
                    "role": device.role,
                    "job": device.job.as_ref().map(store::JobId::as_str),
                    "added": time(device.added_unix_ms),
                    "seen": device.seen_unix_ms.map(time),
                    "removed": device.removed_unix_ms.map(time),
                })
            })
            .collect();
        writeln!(out, "{}", serde_json::Value::Array(all))?;
        return Ok(());
    }
    if devices.is_empty() {
        writeln!(out, "no device is paired; `nearside pair` makes a code")?;
    }
    for device in &devices {
        let id = short(&device.id);
        let mut line = format!("{id}  {}  added {}", device.name, time(device.added_unix_ms));
        if let Some(job) = &device.job {
            line.push_str(&format!(", only job {job}"));
        }
        match (device.removed_unix_ms, device.seen_unix_ms) {
            (Some(removed), _) => line.push_str(&format!(", removed {}", time(removed))),
            (None, Some(seen)) => line.push_str(&format!(", last spoke about {}", time(seen))),
            (None, None) => line.push_str(", has not spoken yet"),
        }
        writeln!(out, "{line}")?;
    }
    Ok(())
}

fn remove(place: &Place, arguments: &RemoveArguments) -> Result<(), Failure> {
    let store = place.store()?;
    let devices = store.devices()?;
    let in_now: Vec<&StoredDevice> =
        devices.iter().filter(|device| device.removed_unix_ms.is_none()).collect();
    let asked = arguments.device.trim();
    let found: Vec<&&StoredDevice> = in_now
        .iter()
        .filter(|device| device.name == asked || (asked.len() >= 4 && device.id.starts_with(asked)))
        .collect();
    let device = match found.as_slice() {
        [device] => device,
        [] => {
            let names = in_now.iter().map(|device| device.name.as_str());
            return Err(Failure::input(format!("no device that is in is called `{asked}`"))
                .hint(format!("{}; `nearside device list` lists all", near_hint(asked, names))));
        }
        several => {
            let ids: Vec<&str> = several.iter().map(|device| short(&device.id)).collect();
            return Err(Failure::input(format!("several devices are called `{asked}`"))
                .hint(format!("name one by its id: {}", ids.join(", "))));
        }
    };
    store.remove_device(&device.id, Timestamp::now().as_millisecond())?;
    let mut out = std::io::stdout().lock();
    writeln!(out, "{} ({}) is shut out from now on", device.name, short(&device.id))?;
    writeln!(out, "what it has copied stays here; what it has not copied stays on it")?;
    Ok(())
}

/// Enough of an id to tell devices apart.
fn short(id: &str) -> &str {
    id.get(..8).unwrap_or(id)
}

/// A time as people here write it.
fn time(unix_ms: i64) -> String {
    let at = Timestamp::from_millisecond(unix_ms).unwrap_or(Timestamp::UNIX_EPOCH);
    at.to_zoned_datetime(TimeZone::system()).strftime("%Y-%m-%d %H:%M").to_string()
}

//! What a verification amounts to, in words.

use std::collections::BTreeMap;
use std::io::Write;

use bag::{Role, Standing, State, Verification};

use crate::bags::time_stamps;
use crate::failure::Failure;

/// Everything there is to say of a bag, a line each.
pub(crate) fn write(out: &mut impl Write, found: &Verification) -> Result<(), Failure> {
    if let Some(state) = &found.state {
        writeln!(out, "job {}, {}", state.job, kind(found))?;
        if let Some(words) = corrects(state) {
            writeln!(out, "  {words}")?;
        }
        writeln!(
            out,
            "  record: {} changes, heads {}",
            state.record_changes,
            state.record_heads.iter().map(|head| short(head)).collect::<Vec<_>>().join(" ")
        )?;
        writeln!(
            out,
            "  plan {}, data {}, {}",
            short(&state.plan_sha256.to_string()),
            short(&state.data_revision),
            state.program
        )?;
        if !state.absent_photos.is_empty() {
            writeln!(
                out,
                "  {} photos of the record are not in the bag",
                state.absent_photos.len()
            )?;
        }
        if !state.absent_memos.is_empty() {
            let count = state.absent_memos.len();
            writeln!(out, "  {count} voice memos of the record are not in the bag")?;
        }
        accepted(out, state)?;
    }
    writeln!(out, "{} files, {} bytes", found.files, found.bytes)?;
    for fault in &found.faults {
        writeln!(out, "DIFFERS  {}: {}", fault.file, fault.what)?;
    }
    for signed in &found.signed {
        let who = match signed.role {
            Role::Inspector => "signed",
            Role::Countersigner => "countersigned",
        };
        writeln!(out, "{who} {} by a key that calls itself {}", signed.signed_at, signed.name)?;
        writeln!(out, "  key {}", signed.key.thumbprint())?;
    }
    for stamped in &found.time_stamps {
        for line in time_stamps::lines(&stamped.stamp) {
            writeln!(out, "{line}")?;
        }
        if let Some(words) = clocks(found, &stamped.stamp.at) {
            writeln!(out, "  {words}")?;
        }
    }
    writeln!(out, "{}", verdict(found))?;
    Ok(())
}

/// What is to be said where a release was stamped before the moment that it states itself.
fn clocks(found: &Verification, stamped_at: &str) -> Option<String> {
    let release = found.state.as_ref()?.release.as_ref()?;
    let seconds = |moment: &str| Some(moment.parse::<jiff::Timestamp>().ok()?.as_second());
    let ahead = seconds(&release.released_at)?.checked_sub(seconds(stamped_at)?)?;
    // A second or two is what two good clocks differ by.
    (ahead > 2).then(|| {
        format!(
            "that is {ahead} s before the release says it was made: the clock it was made with was ahead, or it was set"
        )
    })
}

/// What was open at the release: the matters that were accepted in the same words together.
fn accepted(out: &mut impl Write, state: &State) -> Result<(), Failure> {
    let accepted = state.release.iter().flat_map(|release| &release.accepted);
    let mut by_words: BTreeMap<&str, Vec<&str>> = BTreeMap::new();
    for one in accepted {
        by_words.entry(&one.words).or_default().push(&one.matter);
    }
    for (words, matters) in by_words {
        writeln!(out, "  open at the release, accepted in the words: {words}")?;
        for matter in matters {
            writeln!(out, "    {matter}")?;
        }
    }
    Ok(())
}

fn kind(found: &Verification) -> String {
    let release = found.state.as_ref().and_then(|state| state.release.as_ref());
    release.map_or_else(
        || "a working copy".to_owned(),
        |release| {
            format!(
                "release {} of {} by {}",
                release.number, release.released_at, release.released_by
            )
        },
    )
}

/// What a correction says of itself.
fn corrects(state: &State) -> Option<String> {
    let corrects = state.release.as_ref()?.corrects.as_ref()?;
    let of = corrects.released_at.as_ref().map_or_else(String::new, |at| format!(" of {at}"));
    Some(format!(
        "it corrects release {}{of}, and stands in its place: {}",
        corrects.release, corrects.because
    ))
}

/// The first letters of a hash, enough to tell it by.
fn short(hash: &str) -> String {
    hash.chars().take(12).collect()
}

/// What it amounts to, in a sentence or two.
pub(crate) fn verdict(found: &Verification) -> String {
    match found.standing() {
        Standing::Differs => "this bag is not what was packed: the lines above name what differs".to_owned(),
        Standing::Unsigned => {
            "every file is what the bag's own manifest names, but nobody signed it: it is a working copy, and whoever can \
             change a file can change the manifest"
                .to_owned()
        }
        Standing::Demonstration => {
            "every byte is what was signed, but with the demonstration key, which everybody has: it shows nothing about who \
             signed"
                .to_owned()
        }
        Standing::Awaited => format!(
            "every byte is what was signed; the countersignature of {} is still awaited",
            found.awaited
        ),
        Standing::Signed => {
            "every byte is what was signed. That the key belongs to the person named is for you to know: compare it with \
             the one that person gave you (--signer)"
                .to_owned()
        }
    }
}

/// The word for programs.
pub(crate) fn word(standing: Standing) -> &'static str {
    match standing {
        Standing::Differs => "differs",
        Standing::Unsigned => "unsigned",
        Standing::Demonstration => "demonstration key",
        Standing::Awaited => "countersignature awaited",
        Standing::Signed => "signed",
    }
}

//! What else has a budget and is cheap to measure: reading a record, keeping changes, taking in photos.

use std::hint::black_box;

use inspection::{Dwelling, Job};
use record::{Author, Edit, Record};
use store::{Chunk, JobId, Store};

use super::results::{Measured, Results};
use super::{Outcome, full_record, times, times_by_the_clock};

/// One edit in a change, as when readings are typed one by one.
const CHANGES: usize = 400;

pub(super) fn measure(results: &mut Results) -> Outcome {
    record(results)?;
    keeping(results)?;
    photos(results)
}

/// A record with 1,500 readings, each its own change, read back from its bytes.
fn record(results: &mut Results) -> Outcome {
    let (_, inspection) = full_record::full()?;
    let author = Author::new([7; 16], "bench");
    let job = Job { number: "BENCH".to_owned(), ..Job::default() };
    let said = |error: record::RecordError| error.to_string();
    let mut record = Record::create(&author, 0, &job, &Dwelling::default(), "").map_err(said)?;
    for (second, reading) in (0..).zip(inspection.readings.values()) {
        let id = inspection::ReadingId::from(record.fresh_id(&author, 0));
        let edit = Edit::AddReading { id, reading: reading.clone() };
        record.edit_together(&author, second, vec![edit]).map_err(said)?;
    }
    let bytes = record.save();
    let (best, median) = times(9, || {
        let record = Record::load([black_box(bytes.as_slice())]).map_err(said)?;
        let count = record.inspection().0.readings.len();
        if count == inspection.readings.len() { Ok(()) } else { Err(format!("{count} readings")) }
    })?;
    results.push(Measured {
        id: "record_load",
        what: "read a record of 1,500 readings from bytes".to_owned(),
        best: best * 1e3,
        median: median * 1e3,
        unit: "ms",
        goal: None,
        note: format!("{} KB, {} changes", bytes.len() / 1_000, inspection.readings.len() + 1),
    });
    Ok(())
}

/// Changes a second that one writer gets acknowledged, each on disk before the next is given.
fn keeping(results: &mut Results) -> Outcome {
    let folder = tempfile::tempdir().map_err(|error| error.to_string())?;
    let said = |error: store::StoreError| error.to_string();
    let store = Store::open(folder.path()).map_err(said)?;
    let mut round = 0_u32;
    let (best, median) = times_by_the_clock(5, || {
        round += 1;
        let job = JobId::new(&format!("bench-{round}")).map_err(said)?;
        store.create_job(&job, "bench").map_err(said)?;
        for number in 0..CHANGES {
            let mut hash = [0; 32];
            hash[..8].copy_from_slice(&number.to_le_bytes());
            store.append(&job, &[Chunk { hash, bytes: vec![7; 300] }]).map_err(said)?;
        }
        Ok(())
    })?;
    #[allow(clippy::cast_precision_loss, reason = "a few hundred")]
    let count = CHANGES as f64;
    results.push(Measured {
        id: "store_changes",
        what: "keep changes, one by one".to_owned(),
        best: count / best,
        median: count / median,
        unit: "changes/s",
        goal: None,
        note: "one writer, 300 bytes each, every one on disk before the next".to_owned(),
    });
    Ok(())
}

/// Megapixels that one thread takes in: hash, notes, upright copy, thumbnail, sharpness.
fn photos(results: &mut Results) -> Outcome {
    let shots = demo::shots();
    let (name, shot) = shots.first().ok_or_else(|| "the demonstration has no photo".to_owned())?;
    let jpeg = demo::photos::draw(shot).map_err(|error| error.to_string())?;
    let limits = photo::Limits::default();
    let mut pixels = 0.0;
    let (best, median) = times(9, || {
        let taken = photo::take_in(name, black_box(&jpeg), &limits).map_err(|it| it.to_string())?;
        let size = taken.size.ok_or_else(|| "the photo has no size".to_owned())?;
        pixels = f64::from(size.width) * f64::from(size.height);
        Ok(())
    })?;
    results.push(Measured {
        id: "photos",
        what: "take in photos".to_owned(),
        best: pixels / 1e6 / best,
        median: pixels / 1e6 / median,
        unit: "MP/s, 1 thread",
        goal: None,
        note: format!("a drawn photo of {:.1} MP, {} KB", pixels / 1e6, jpeg.len() / 1_000),
    });
    Ok(())
}

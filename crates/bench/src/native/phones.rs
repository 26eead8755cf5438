//! A hundred phones at once against one server process: how long a change's round trip takes, how many changes a second
//! are made durable, how much memory the server needs; and that nothing was lost.

#[allow(dead_code, reason = "the server's own tests use all of it")]
#[path = "../../../server/tests/it/line.rs"]
mod line;

use std::collections::BTreeSet;
use std::io::{BufRead, BufReader, Write};
use std::net::SocketAddr;
use std::path::Path;
use std::process::{Child, Command, Stdio};
use std::sync::Barrier;
use std::time::{Duration, Instant};

use inspection::{Dwelling, DwellingKind, Job, Reading};
use record::{Author, Edit, Record};
use store::{JobId, NewDevice, Sha256Hex, Store};
use sync::wire::{Push, Pushed};

use self::line::Line;
use super::Outcome;
use super::results::{Goal, Measured, Results};

const PHONES: u8 = 100;
/// So many phones work on one job.
const TOGETHER: u8 = 4;
/// One change at a time, at the pace of hurried people.
const PACED: usize = 30;
const PACE: Duration = Duration::from_millis(100);
/// What was done without signal, sent as fast as it goes.
const GROUPS: usize = 20;
const GROUP: usize = 16;
/// A photo of each phone, in pieces as they begin.
const PHOTO: usize = 1 << 20;
const PIECE: usize = 256 << 10;

const SAYS: &str = "listening at ";

/// Serves a folder until the process is killed: the measured server.
pub(super) fn serve(folder: &Path) -> Outcome {
    let settings = server::Settings {
        data: folder.to_owned(),
        at: SocketAddr::from(([127, 0, 0, 1], 0)),
        name: "bench".to_owned(),
        certificate: server::Certificate::Own { install_port: None },
        log: server::LogFormat::Off,
        live: None,
        office: None,
    };
    let started = |running: &server::Running| {
        println!("{SAYS}{}", running.at);
        // Whoever measures reads a pipe.
        let _read = std::io::stdout().flush();
    };
    server::run(settings, std::future::pending(), started).map_err(|error| error.to_string())
}

/// The server's process, ended when dropped.
struct Process(Child);

impl Drop for Process {
    fn drop(&mut self) {
        // It may have ended by itself.
        let _dead = self.0.kill();
        let _reaped = self.0.wait();
    }
}

struct Phone {
    job: String,
    key: String,
    paced: Vec<Vec<u8>>,
    groups: Vec<Vec<Vec<u8>>>,
    photo: Vec<u8>,
}

pub(super) fn measure(results: &mut Results) -> Outcome {
    let folder = tempfile::tempdir().map_err(said)?;
    let phones = phones(folder.path())?;
    let expected: Vec<(String, usize)> = (0..PHONES / TOGETHER)
        .map(|group| (format!("job-{group}"), 1 + usize::from(TOGETHER) * (PACED + GROUPS * GROUP)))
        .collect();
    let photos: Vec<Sha256Hex> = phones.iter().map(|phone| Sha256Hex::of(&phone.photo)).collect();
    let (process, at) = start(folder.path())?;
    let pid = process.0.id();

    let begin = Barrier::new(usize::from(PHONES) + 1);
    let (mut round_trips, mut flood, mut upload) = (Vec::new(), 0.0, 0.0);
    let mut processor = 0.0;
    std::thread::scope(|scope| -> Outcome {
        let threads: Vec<_> = phones
            .into_iter()
            .enumerate()
            .map(|(number, phone)| {
                let begin = &begin;
                scope.spawn(move || one_phone(number, phone, at, begin))
            })
            .collect();
        begin.wait();
        begin.wait();
        let (start, before) = (Instant::now(), processor_seconds(pid));
        begin.wait();
        flood = start.elapsed().as_secs_f64();
        processor =
            processor_seconds(pid).zip(before).map_or(f64::NAN, |(after, before)| after - before);
        let start = Instant::now();
        begin.wait();
        upload = start.elapsed().as_secs_f64();
        for thread in threads {
            let outcome = thread.join().map_err(|_| "a phone stopped".to_owned())?;
            round_trips.extend(outcome?);
        }
        Ok(())
    })?;
    let memory = memory_mib(pid);
    drop(process);

    let store = Store::open(folder.path()).map_err(said)?;
    for (job, count) in expected {
        let id = JobId::new(&job).map_err(said)?;
        let changes = store.changes(&id, 0, usize::MAX).map_err(said)?;
        let different: BTreeSet<[u8; 32]> = changes.iter().map(|change| change.hash).collect();
        if changes.len() != count || different.len() != count {
            return Err(format!("{job} has {} changes, {count} were acknowledged", changes.len()));
        }
    }
    for photo in photos {
        if !store.has_blob(&photo).map_err(said)? {
            return Err(format!("photo {photo} was acknowledged and is not there"));
        }
    }
    push(results, &mut round_trips, (flood, processor), upload, memory);
    Ok(())
}

fn push(
    results: &mut Results,
    round_trips: &mut [f64],
    (flood, processor): (f64, f64),
    upload: f64,
    memory: Option<f64>,
) {
    round_trips.sort_by(f64::total_cmp);
    let at = |percent: usize| round_trips[(round_trips.len() - 1) * percent / 100] * 1e3;
    results.push(Measured {
        id: "phones_round_trip",
        what: format!("{PHONES} phones: a change's round trip, 99 %"),
        best: at(50),
        median: at(99),
        unit: "ms",
        goal: Some(Goal::Under(250.0)),
        note: format!(
            "{} round trips; best is the median one; slowest {:.0} ms",
            round_trips.len(),
            at(100)
        ),
    });
    let changes = f64::from(PHONES) * count(GROUPS * GROUP);
    results.push(Measured {
        id: "phones_changes",
        what: format!("{PHONES} phones: durable changes"),
        best: changes / flood,
        median: changes / flood,
        unit: "changes/s",
        goal: Some(Goal::AtLeast(6_000.0)),
        note: format!(
            "{changes:.0} changes, {GROUP} a request, the phones on the same processors; {processor:.1} s of processor time \
             of the server"
        ),
    });
    results.push(Measured {
        id: "phones_photos",
        what: format!("{PHONES} phones: photos"),
        best: f64::from(PHONES) * count(PHOTO) / f64::from(1 << 20) / upload,
        median: f64::from(PHONES) * count(PHOTO) / f64::from(1 << 20) / upload,
        unit: "MiB/s",
        goal: None,
        note: String::new(),
    });
    match memory {
        Some(memory) => results.push(Measured {
            id: "phones_memory",
            what: format!("{PHONES} phones: most memory of the server"),
            best: memory,
            median: memory,
            unit: "MiB",
            goal: Some(Goal::Under(300.0)),
            note: String::new(),
        }),
        None => results.skip("the server's memory: this system does not tell it"),
    }
}

/// What one phone does; the times of its round trips at pace, seconds.
fn one_phone(number: usize, phone: Phone, at: SocketAddr, begin: &Barrier) -> Outcome<Vec<f64>> {
    let mut line = Line::new(at, Some(phone.key));
    let path = format!("/v1/jobs/{}/changes", phone.job);
    let mut outcome = Ok(());
    let mut send = |line: &mut Line, changes: Vec<Vec<u8>>| {
        let sent = changes.len();
        let body = Push { changes }.to_json();
        let start = Instant::now();
        let kind = [("content-type", "application/json")];
        let kept = line.ask("POST", &path, &kind, &body).map_err(said).and_then(|answer| {
            let kept = Pushed::from_json(&answer.body).map(|pushed| pushed.kept.len());
            if answer.status == 200 && kept == Ok(sent) {
                Ok(())
            } else {
                Err(String::from_utf8_lossy(&answer.body).into_owned())
            }
        });
        if outcome.is_ok() {
            outcome = kept;
        }
        start.elapsed().as_secs_f64()
    };
    begin.wait();
    // Not all in step.
    std::thread::sleep(PACE * u32::try_from(number).unwrap_or(0) / u32::from(PHONES));
    let mut round_trips = Vec::new();
    for change in phone.paced {
        let took = send(&mut line, vec![change]);
        round_trips.push(took);
        std::thread::sleep(PACE.saturating_sub(Duration::from_secs_f64(took)));
    }
    begin.wait();
    for group in phone.groups {
        send(&mut line, group);
    }
    begin.wait();
    let sent = send_photo(&mut line, &phone.job, &phone.photo);
    begin.wait();
    outcome.and(sent)?;
    Ok(round_trips)
}

fn send_photo(line: &mut Line, job: &str, photo: &[u8]) -> Outcome {
    let path = format!("/v1/jobs/{job}/blobs/{}", Sha256Hex::of(photo));
    let size = photo.len().to_string();
    let begun = line.ask("POST", &path, &[("upload-length", &size)], &[]).map_err(said)?;
    if begun.status != 200 {
        return Err(String::from_utf8_lossy(&begun.body).into_owned());
    }
    for (number, piece) in photo.chunks(PIECE).enumerate() {
        let offset = (number * PIECE).to_string();
        let headers = [
            ("content-type", "application/partial-upload"),
            ("upload-length", &size),
            ("upload-offset", &offset),
        ];
        let answer = line.ask("PATCH", &path, &headers, piece).map_err(said)?;
        if answer.status != 200 {
            return Err(String::from_utf8_lossy(&answer.body).into_owned());
        }
    }
    Ok(())
}

/// The phones with what they have to send; each is let in.
fn phones(folder: &Path) -> Outcome<Vec<Phone>> {
    let store = Store::open(folder).map_err(said)?;
    let mut phones = Vec::new();
    for group in 0..PHONES / TOGETHER {
        let job = format!("job-{group}");
        let beginner = author(group * TOGETHER);
        let about = Job { number: job.clone(), purpose: "purchase".into(), ..Job::default() };
        let dwelling = Dwelling { kind: DwellingKind::TravelTrailer, ..Dwelling::default() };
        let record = Record::create(&beginner, NOON, &about, &dwelling, "id = \"purchase\"\n")
            .map_err(said)?;
        let beginning =
            record.changes_after(&[]).into_iter().map(|change| change.bytes).collect::<Vec<_>>();
        store.create_job(&JobId::new(&job).map_err(said)?, "").map_err(said)?;
        let chunks: Vec<store::Chunk> = record
            .changes_after(&[])
            .into_iter()
            .map(|change| store::Chunk { hash: change.hash.0, bytes: change.bytes })
            .collect();
        store.append(&JobId::new(&job).map_err(said)?, &chunks).map_err(said)?;
        for member in 0..TOGETHER {
            let number = group * TOGETHER + member;
            let author = author(number);
            let mut record = Record::load(beginning.iter().map(Vec::as_slice)).map_err(said)?;
            let mut changes = Vec::new();
            for _ in 0..PACED + GROUPS * GROUP {
                changes.push(one_more(&mut record, &author)?);
            }
            let groups = changes.split_off(PACED).chunks(GROUP).map(<[_]>::to_vec).collect();
            let key = format!("{number:064x}");
            let device = NewDevice {
                id: format!("device-{number}"),
                name: format!("Phone {number}"),
                person: "inspector".into(),
                key: sha256(&key)?,
            };
            store.add_device(0, &device).map_err(said)?;
            let photo = (0..PHOTO).map(|at| number ^ u8::try_from(at % 251).unwrap_or(0)).collect();
            phones.push(Phone { job: job.clone(), key, paced: changes, groups, photo });
        }
    }
    Ok(phones)
}

const NOON: i64 = 1_781_265_600;

fn author(number: u8) -> Author {
    Author::new([number.wrapping_add(1); 16], format!("Person {number}"))
}

fn one_more(record: &mut Record, author: &Author) -> Outcome<Vec<u8>> {
    let edit = Edit::AddReading {
        id: record.fresh_id(author, 0).into(),
        reading: Reading {
            point: "shore_power".into(),
            name: "voltage".into(),
            entry: "121 V".into(),
            position: String::new(),
            instrument: None,
            at: None,
            by: author.person.clone(),
            struck_out: None,
        },
    };
    let change = record.edit(author, NOON, edit).map_err(said)?;
    change.map(|change| change.bytes).ok_or_else(|| "a reading made no change".to_owned())
}

/// The SHA-256 that the store knows a key by.
fn sha256(key: &str) -> Outcome<Vec<u8>> {
    let digits = Sha256Hex::of(key.as_bytes());
    (0..32)
        .map(|at| u8::from_str_radix(&digits.as_str()[2 * at..2 * at + 2], 16).map_err(said))
        .collect()
}

fn start(folder: &Path) -> Outcome<(Process, SocketAddr)> {
    let program = std::env::current_exe().map_err(said)?;
    let mut child = Command::new(program)
        .arg("serve")
        .arg(folder)
        .stdout(Stdio::piped())
        .spawn()
        .map_err(said)?;
    let output = child.stdout.take();
    let process = Process(child);
    for line in output.map(BufReader::new).into_iter().flat_map(BufReader::lines) {
        if let Some(at) = line.map_err(said)?.strip_prefix(SAYS) {
            return Ok((process, at.parse().map_err(said)?));
        }
    }
    Err("the server did not say where it listens".to_owned())
}

/// Most memory that a process has had, as Linux tells it.
fn memory_mib(pid: u32) -> Option<f64> {
    let text = std::fs::read_to_string(format!("/proc/{pid}/status")).ok()?;
    let line = text.lines().find_map(|line| line.strip_prefix("VmHWM:"))?;
    let kib: f64 = line.split_whitespace().next()?.parse().ok()?;
    Some(kib / 1024.0)
}

/// Seconds that a process has been on a processor, as Linux tells them in hundredths.
fn processor_seconds(pid: u32) -> Option<f64> {
    let text = std::fs::read_to_string(format!("/proc/{pid}/stat")).ok()?;
    let (_, after_name) = text.rsplit_once(')')?;
    let fields: Vec<&str> = after_name.split_whitespace().collect();
    let ticks = |at: usize| fields.get(at)?.parse::<f64>().ok();
    Some((ticks(11)? + ticks(12)?) / 100.0)
}

fn count(number: usize) -> f64 {
    u32::try_from(number).map_or(f64::INFINITY, f64::from)
}

fn said(error: impl std::fmt::Display) -> String {
    error.to_string()
}

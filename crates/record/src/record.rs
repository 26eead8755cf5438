//! The job's document itself: making, loading, saving, and what it begins with.

use std::collections::{BTreeMap, BTreeSet};

use automerge::{
    ActorId, Automerge, LoadOptions, ObjId, ObjType, ROOT, ReadDoc, TextEncoding,
    transaction::{CommitOptions, Transactable},
};
use inspection::{Dwelling, Job};
use sha2::{Digest, Sha256};

use crate::{
    Author, Hash, RecordError, RefusalKind,
    author::device_in_hexadecimal,
    chunk::{self, Kind},
    receive::guarded,
    schema::{self, Fact, SCHEMA, Section},
    trail::message,
    write::{self, Write},
};

/// One job's document.
#[derive(Clone, Debug)]
pub struct Record {
    pub(crate) doc: Automerge,
    /// The job's first change.
    pub(crate) beginning: Hash,
    /// Where each section stands; a section can be missing from a damaged record.
    pub(crate) sections: BTreeMap<Section, ObjId>,
    /// The schema's number as the document says it now.
    pub(crate) schema: u64,
    /// Every change that is part of the document, with the number of its last operation.
    pub(crate) known: BTreeMap<Hash, u64>,
    /// How many changes each device has made.
    pub(crate) sequences: BTreeMap<Vec<u8>, u64>,
    /// Changes that wait for others before them.
    pub(crate) waiting: BTreeMap<Hash, automerge::Change>,
    /// Changes that had waited and then turned out unfit, with the reason.
    pub(crate) unfit: BTreeMap<Hash, RecordError>,
}

impl Record {
    /// A new job's record: the job, the unit, and the plan's whole text as it is now, so that the job
    /// reads the same for ever. The same arguments give the same bytes.
    ///
    /// An empty `job.plan_hash` is filled in; one that is there must be the text's SHA-256 in
    /// lower-case hexadecimal.
    ///
    /// # Errors
    /// [`RecordError::Refused`] with a sentence when something cannot be kept as it is.
    pub fn create(
        author: &Author,
        at_unix_seconds: i64,
        job: &Job,
        dwelling: &Dwelling,
        plan_text: &str,
    ) -> Result<Self, RecordError> {
        author.check()?;
        let mut job = job.clone();
        let hash = hash_of_plan(plan_text);
        if job.plan_hash.is_empty() {
            job.plan_hash = hash;
        } else if job.plan_hash != hash {
            return Err(RecordError::Refused(RefusalKind::Fixed.refusal(format!(
                "the job names a plan with the SHA-256 {}, but the plan's text given has {hash}; give the text that belongs to the job",
                job.plan_hash
            ))));
        }
        let mut writes = vec![Write::put(Section::Plan, schema::PLAN_TEXT, Fact::text(plan_text))];
        let facts = schema::job_facts(&job).map_err(RecordError::Refused)?;
        writes.extend(facts.into_iter().map(|(key, fact)| Write::put(Section::Job, key, fact)));
        let facts = schema::dwelling_facts(dwelling);
        writes
            .extend(facts.into_iter().map(|(key, fact)| Write::put(Section::Dwelling, key, fact)));

        let mut doc = Automerge::new_with_encoding(TextEncoding::UnicodeCodePoint)
            .with_actor(ActorId::from(author.device));
        let options = CommitOptions::default()
            .with_message(message(author, "made the job"))
            .with_time(at_unix_seconds);
        let mut sections = BTreeMap::new();
        doc.transact_with(
            |()| options,
            |transaction| {
                transaction.put(ROOT, schema::KIND_KEY, schema::KIND)?;
                transaction.put(ROOT, schema::SCHEMA_KEY, SCHEMA)?;
                for section in Section::ALL {
                    let id = transaction.put_object(ROOT, section.key(), ObjType::Map)?;
                    sections.insert(section, id);
                }
                write::into(transaction, &sections, &writes)
            },
        )
        .map_err(|failure| RecordError::damaged("the new record", failure.error))?;
        Self::around(doc)
    }

    /// Reads a record back from stored pieces: a saved record, single changes, or both, in any order
    /// and any number of times.
    ///
    /// Changes whose predecessors are missing are kept waiting; [`Self::missing`] and the problems of
    /// [`Self::inspection`] name them.
    ///
    /// # Errors
    /// A sentence that says what is wrong with the bytes, and what to do.
    pub fn load<'a>(pieces: impl IntoIterator<Item = &'a [u8]>) -> Result<Self, RecordError> {
        let mut documents = Vec::new();
        let mut changes = Vec::new();
        for piece in pieces {
            if piece.is_empty() {
                return Err(RecordError::Empty);
            }
            for chunk in chunk::chunks(piece, documents.len() + changes.len() + 1)? {
                match chunk.kind {
                    Kind::Document => documents.push(load_document(chunk.bytes)?),
                    Kind::Change => changes.push(Self::read_change(chunk)?),
                }
            }
        }
        let mut documents = documents.into_iter();
        let mut record = if let Some(doc) = documents.next() {
            Self::around(doc)?
        } else {
            if changes.is_empty() {
                return Err(RecordError::Empty);
            }
            let doc = Automerge::new_with_encoding(TextEncoding::UnicodeCodePoint);
            Self::begin(doc, &changes)?
        };
        for other in documents {
            record.receive(other.get_changes(&[]))?;
        }
        record.receive(changes)?;
        Ok(record)
    }

    /// The whole record as bytes: the document, and the changes that still wait for others.
    #[must_use]
    pub fn save(&self) -> Vec<u8> {
        let mut bytes = self.doc.save();
        for change in self.waiting.values() {
            bytes.extend_from_slice(change.raw_bytes());
        }
        bytes
    }

    /// The changes that no other change of this record names as its predecessor: together they name
    /// everything in it. Sign these.
    #[must_use]
    pub fn heads(&self) -> Vec<Hash> {
        self.doc.get_heads().into_iter().map(Hash::from).collect()
    }

    /// The job's first change; it tells one job from another.
    #[must_use]
    pub fn beginning(&self) -> Hash {
        self.beginning
    }

    /// The plan's whole text as it was when the job was made.
    ///
    /// # Errors
    /// When the text is not there, or is no longer the one whose hash the job names.
    pub fn plan(&self) -> Result<String, RecordError> {
        let fact = |section, key| match self.fact(section, key) {
            Some(Fact::Text(text)) => Some(text),
            _ => None,
        };
        let text = fact(Section::Plan, schema::PLAN_TEXT)
            .ok_or_else(|| RecordError::damaged("the job's plan", "its text is missing"))?;
        let hash = hash_of_plan(&text);
        let named = fact(Section::Job, schema::PLAN_HASH).unwrap_or_default();
        if hash != named {
            return Err(RecordError::damaged(
                "the job's plan",
                format!("its text has the SHA-256 {hash}, the job names `{named}`"),
            ));
        }
        Ok(text)
    }

    /// An id that no other device and no earlier change of this device has used, for something that
    /// the author's next edit adds. `nth` counts the things that this one edit adds, from 0.
    ///
    /// It is made of the device's id and the number of its next change: no randomness, and no
    /// collision as long as no two devices share an id.
    #[must_use]
    pub fn fresh_id(&self, author: &Author, nth: u32) -> String {
        let device = device_in_hexadecimal(&author.device);
        let next = self.sequences.get(author.device.as_slice()).copied().unwrap_or_default() + 1;
        if nth == 0 { format!("{device}-{next}") } else { format!("{device}-{next}-{nth}") }
    }

    /// A record around a document that has its beginning.
    fn around(doc: Automerge) -> Result<Self, RecordError> {
        let mut known = BTreeMap::new();
        let mut sequences: BTreeMap<Vec<u8>, u64> = BTreeMap::new();
        let mut beginnings = Vec::new();
        for change in doc.get_changes_meta(&[]) {
            let hash = Hash::from(change.hash);
            known.insert(hash, change.max_op);
            let last = sequences.entry(change.actor.to_bytes().to_vec()).or_default();
            *last = change.seq.max(*last);
            if change.deps.is_empty() {
                beginnings.push(hash);
            }
        }
        let beginning = match beginnings[..] {
            [] => {
                return Err(RecordError::NotARecord {
                    found: "it is a document without any change".into(),
                });
            }
            [beginning] => beginning,
            [beginning, change, ..] => return Err(RecordError::OtherJob { change, beginning }),
        };
        let mut record = Self {
            doc,
            beginning,
            sections: BTreeMap::new(),
            schema: 0,
            known,
            sequences,
            waiting: BTreeMap::new(),
            unfit: BTreeMap::new(),
        };
        record.check_kind()?;
        record.look_again();
        if record.schema > SCHEMA {
            return Err(RecordError::NewerSchema { found: record.schema, known: SCHEMA });
        }
        Ok(record)
    }

    /// A record from single changes: the first change alone, to which the others are then added.
    fn begin(mut doc: Automerge, changes: &[automerge::Change]) -> Result<Self, RecordError> {
        let Some(first) = changes.iter().find(|change| change.deps().is_empty()) else {
            let there: BTreeSet<_> = changes.iter().map(automerge::Change::hash).collect();
            let missing: BTreeSet<_> = changes
                .iter()
                .flat_map(automerge::Change::deps)
                .filter(|hash| !there.contains(hash))
                .map(|hash| Hash::from(*hash))
                .collect();
            return Err(RecordError::NoBeginning {
                waiting: there.len(),
                missing: missing.into_iter().collect(),
            });
        };
        let place = format!("change {}", Hash::from(first.hash()));
        if first.seq() != 1 {
            return Err(RecordError::damaged(
                place,
                "it has no predecessor, yet is not its device's first",
            ));
        }
        let first = first.clone();
        let doc = guarded(&place, move || {
            doc.apply_changes([first])?;
            Ok::<_, automerge::AutomergeError>(doc)
        })?;
        Self::around(doc)
    }

    fn check_kind(&self) -> Result<(), RecordError> {
        match self.doc.get(ROOT, schema::KIND_KEY) {
            Ok(Some((value, _))) if value.as_str() == Some(schema::KIND) => Ok(()),
            Ok(Some((value, _))) => Err(RecordError::NotARecord {
                found: format!("it says that it is {value}, where `{}` belongs", schema::KIND),
            }),
            Ok(None) | Err(_) => Err(RecordError::NotARecord {
                found: format!(
                    "it is a document, but does not say that it is a `{}`",
                    schema::KIND
                ),
            }),
        }
    }

    /// Looks up schema and sections; needed whenever the root may have changed.
    pub(crate) fn look_again(&mut self) {
        let schema = self.doc.get(ROOT, schema::SCHEMA_KEY).ok().flatten();
        // A schema that is no number counts as unknown, hence newer.
        self.schema = schema.and_then(|(value, _)| value.as_u64()).unwrap_or(u64::MAX);
        self.sections = Section::ALL
            .into_iter()
            .filter_map(|section| {
                let (value, id) = self.doc.get(ROOT, section.key()).ok()??;
                (value.to_objtype() == Some(ObjType::Map)).then_some((section, id))
            })
            .collect();
    }
}

/// The SHA-256 of a plan's text, in lower-case hexadecimal.
fn hash_of_plan(text: &str) -> String {
    Hash(Sha256::digest(text.as_bytes()).into()).to_string()
}

fn load_document(bytes: &[u8]) -> Result<Automerge, RecordError> {
    guarded("the saved record", || {
        let options = LoadOptions::new().text_encoding(TextEncoding::UnicodeCodePoint);
        Automerge::load_with_options(bytes, options)
    })
}

//! A writer in a process of its own: this same test program, told by its environment to run one
//! test, which says on its output what was acknowledged.

use std::{
    env,
    io::{BufRead, BufReader, Write, stdout},
    path::{Path, PathBuf},
    process::{Child, ChildStdout, Command, Stdio},
    str::FromStr,
};

use store::{Chunk, JobId, Sha256Hex, Store};

/// What a writer is to do.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Orders {
    pub(crate) folder: PathBuf,
    pub(crate) job: String,
    /// Tells this writer's changes from any other's.
    pub(crate) writer: u64,
    /// The first change to append, and how many.
    pub(crate) from: u64,
    pub(crate) count: u64,
    /// A blob after every so many changes; none if 0.
    pub(crate) blob_every: u64,
    /// The changes are of all lengths up to this.
    pub(crate) longest: usize,
    /// Lines are filled up with blanks to this width. A pipe takes 64 KiB before whoever writes
    /// has to wait, so that a writer with wide lines cannot run far ahead of whoever reads.
    pub(crate) width: usize,
}

/// What a writer says.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum Word {
    /// The change `number` is kept as `seq`.
    Change {
        number: u64,
        seq: u64,
    },
    Blob {
        hash: Sha256Hex,
    },
    Failed {
        sentence: String,
    },
    /// After a failure: this many changes can be read from the same handle.
    Readable {
        changes: usize,
    },
}

const VARIABLE: &str = "STORE_TEST_WRITER";

impl Orders {
    pub(crate) fn new(folder: &Path, job: &str) -> Self {
        Self {
            folder: folder.to_owned(),
            job: job.to_owned(),
            writer: 1,
            from: 0,
            count: 5,
            blob_every: 2,
            longest: 9_000,
            width: 0,
        }
    }

    pub(crate) fn chunk(&self, number: u64) -> Chunk {
        chunk(self.writer, number, 20 + Dice(number).up_to(self.longest))
    }

    /// Starts the writer, below the shell line `before` if there is one.
    pub(crate) fn start(&self, before: &str) -> Writer {
        let Self { folder, job, writer, from, count, blob_every, longest, width } = self;
        let mut child = Command::new("bash")
            .arg("-c")
            .arg(format!("{before}\nexec \"$@\""))
            .arg("bash")
            .arg(env::current_exe().unwrap())
            .args(["--exact", TEST, "--nocapture", "--test-threads=1"])
            .env(
                VARIABLE,
                format!(
                    "{job} {writer} {from} {count} {blob_every} {longest} {width} {}",
                    folder.to_str().unwrap()
                ),
            )
            .stdout(Stdio::piped())
            .stderr(Stdio::null())
            .spawn()
            .unwrap();
        let words = BufReader::new(child.stdout.take().unwrap());
        Writer { child, words }
    }

    fn from_environment() -> Option<Self> {
        let text = env::var(VARIABLE).ok()?;
        let mut words = text.splitn(8, ' ');
        let mut next = || words.next().unwrap().to_owned();
        fn number<T: FromStr>(text: &str) -> T {
            text.parse().ok().unwrap()
        }
        Some(Self {
            job: next(),
            writer: number(&next()),
            from: number(&next()),
            count: number(&next()),
            blob_every: number(&next()),
            longest: number(&next()),
            width: number(&next()),
            folder: next().into(),
        })
    }

    /// Appends, one change a transaction, until all are kept or one fails; says each word after
    /// the store has acknowledged it.
    fn carry_out(&self, say: &mut dyn FnMut(Word)) {
        let store = Store::open(&self.folder).unwrap();
        let job = JobId::new(&self.job).unwrap();
        store.create_job(&job, "written by a child").unwrap();
        let mut kept = 0;
        let outcome = (self.from..self.from + self.count).try_for_each(|number| {
            let appended = store.append(&job, &[self.chunk(number)])?;
            kept = appended.head_seq;
            say(Word::Change { number, seq: appended.head_seq });
            if self.blob_every > 0 && number % self.blob_every == 0 {
                say(Word::Blob { hash: store.put_blob(&blob(number))? });
            }
            Ok::<_, store::StoreError>(())
        });
        if let Err(error) = outcome {
            say(Word::Failed { sentence: error.to_string() });
            let changes = store.changes(&job, 0, usize::MAX).unwrap().len();
            say(Word::Readable { changes });
            let error = store.put_blob(&vec![7; 2_000_000]).unwrap_err();
            say(Word::Failed { sentence: error.to_string() });
        }
    }
}

/// A running writer.
pub(crate) struct Writer {
    pub(crate) child: Child,
    words: BufReader<ChildStdout>,
}

impl Writer {
    /// The next word; none when the writer has ended.
    pub(crate) fn next(&mut self) -> Option<Word> {
        loop {
            let mut line = String::new();
            self.words.read_line(&mut line).unwrap();
            // A line without an end was cut off by the kill and acknowledges nothing.
            let line = line.strip_suffix('\n')?;
            if let Some(word) = line.strip_prefix("writer: ") {
                return Some(Word::parse(word.trim_end()));
            }
        }
    }

    /// Everything it still says, until it has ended.
    pub(crate) fn rest(&mut self) -> Vec<Word> {
        let words = std::iter::from_fn(|| self.next()).collect();
        self.child.wait().unwrap();
        words
    }
}

impl Drop for Writer {
    fn drop(&mut self) {
        // A test that failed leaves nobody writing.
        let _ended_already = self.child.kill();
        let _status = self.child.wait();
    }
}

impl Word {
    fn parse(line: &str) -> Self {
        let (kind, rest) = line.split_once(' ').unwrap();
        match kind {
            "change" => {
                let (number, seq) = rest.split_once(' ').unwrap();
                Self::Change { number: number.parse().unwrap(), seq: seq.parse().unwrap() }
            }
            "blob" => Self::Blob { hash: Sha256Hex::new(rest).unwrap() },
            "failed" => Self::Failed { sentence: rest.to_owned() },
            "readable" => Self::Readable { changes: rest.parse().unwrap() },
            _ => panic!("no such word: {line}"),
        }
    }

    fn line(&self) -> String {
        match self {
            Self::Change { number, seq } => format!("change {number} {seq}"),
            Self::Blob { hash } => format!("blob {hash}"),
            Self::Failed { sentence } => format!("failed {sentence}"),
            Self::Readable { changes } => format!("readable {changes}"),
        }
    }
}

const TEST: &str = "child::a_writer_says_only_what_can_be_read_back";

/// By itself a test like any other; started by one of the others, the writer they need.
#[test]
fn a_writer_says_only_what_can_be_read_back() {
    if let Some(orders) = Orders::from_environment() {
        orders.carry_out(&mut |word| {
            // One call a word, past the test harness: nothing said is held back.
            let mut out = stdout().lock();
            writeln!(out, "\nwriter: {:1$}", word.line(), orders.width).unwrap();
            out.flush().unwrap();
        });
        return;
    }
    let folder = tempfile::tempdir().unwrap();
    let orders = Orders::new(folder.path(), "alone");
    let mut words = Vec::new();
    orders.carry_out(&mut |word| words.push(Word::parse(&word.line())));
    assert_eq!(words.len(), 8, "five changes and three blobs: {words:?}");
    check_kept(&Store::open(folder.path()).unwrap(), &orders, &words);
}

/// Checks that everything acknowledged is in the store, where and as it was acknowledged.
pub(crate) fn check_kept(store: &Store, orders: &Orders, words: &[Word]) {
    let job = JobId::new(&orders.job).unwrap();
    let changes = store.changes(&job, 0, usize::MAX).unwrap();
    for word in words {
        match word {
            Word::Change { number, seq } => {
                let kept = &changes[usize::try_from(*seq).unwrap() - 1];
                let chunk = orders.chunk(*number);
                assert_eq!(kept.seq, *seq);
                assert!(kept.hash == chunk.hash && kept.bytes == chunk.bytes, "{word:?}");
            }
            Word::Blob { hash } => {
                assert!(store.has_blob(hash).unwrap(), "{word:?}");
                assert!(store.blob(hash).unwrap().is_some(), "{word:?}");
            }
            Word::Failed { .. } | Word::Readable { .. } => {}
        }
    }
}

/// The bytes of a change, all different, under a hash of their own.
pub(crate) fn chunk(writer: u64, number: u64, length: usize) -> Chunk {
    let mut dice = Dice(writer << 32 | number);
    let length = if length > 0 { length } else { 20 + dice.up_to(9_000) };
    let bytes = dice.bytes(length);
    let mut hash = [0; 32];
    hash[..8].copy_from_slice(&writer.to_be_bytes());
    hash[8..16].copy_from_slice(&number.to_be_bytes());
    hash[16..].copy_from_slice(&Dice(number).bytes(16));
    Chunk { hash, bytes }
}

/// The same for every writer, so that writers meet at the same blob.
pub(crate) fn blob(number: u64) -> Vec<u8> {
    let mut dice = Dice(number ^ 0xb10b);
    let length = dice.up_to(60_000);
    dice.bytes(length)
}

/// Numbers that look random and are the same in every run: SplitMix64 (Steele, Lea and Flood,
/// "Fast Splittable Pseudorandom Number Generators", OOPSLA 2014, figure 17).
pub(crate) struct Dice(pub(crate) u64);

impl Dice {
    pub(crate) fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut mixed = self.0;
        mixed = (mixed ^ mixed >> 30).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        mixed = (mixed ^ mixed >> 27).wrapping_mul(0x94d0_49bb_1331_11eb);
        mixed ^ mixed >> 31
    }

    /// A number below `bound`.
    pub(crate) fn up_to(&mut self, bound: usize) -> usize {
        usize::try_from(self.next() % u64::try_from(bound).unwrap()).unwrap()
    }

    pub(crate) fn bytes(&mut self, length: usize) -> Vec<u8> {
        let mut bytes = Vec::with_capacity(length + 8);
        while bytes.len() < length {
            bytes.extend_from_slice(&self.next().to_le_bytes());
        }
        bytes.truncate(length);
        bytes
    }
}

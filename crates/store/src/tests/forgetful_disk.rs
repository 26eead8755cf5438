//! A disk in memory, under SQLite, that forgets in a power cut what was not flushed.
//!
//! It is a virtual file system (SQLite documentation, "The OS Backend (VFS)"). Each file has what was
//! last flushed and the writes since. In a power cut each of those is lost, kept, or torn at 512-byte
//! sectors; files that were made or removed without their folder being flushed since may be there or
//! not. The first flush of a new file also makes its folder's entries last, as SQLite itself relies
//! on. SQLite is tested this way by its makers ("How SQLite Is Tested", section 3.3).
#![allow(
    unsafe_code,
    reason = "SQLite asks its file system through C functions; only tests do this"
)]

use std::{
    collections::BTreeMap,
    ffi::{CStr, CString, c_char, c_int, c_void},
    ptr, slice,
    sync::{Mutex, MutexGuard, PoisonError},
};

use rusqlite::ffi;

/// A drive writes a sector whole or not at all.
const SECTOR: usize = 512;
/// SQLite asks for shared memory in pieces of this size.
const SHARED: usize = 32_768;

enum Op {
    Write(usize, Vec<u8>),
    Truncate(usize),
}

impl Op {
    fn apply(&self, bytes: &mut Vec<u8>) {
        match self {
            Self::Write(at, written) => {
                if bytes.len() < at + written.len() {
                    bytes.resize(at + written.len(), 0);
                }
                bytes[*at..at + written.len()].copy_from_slice(written);
            }
            Self::Truncate(length) => bytes.resize(*length, 0),
        }
    }
}

#[derive(Default)]
struct File {
    now: Vec<u8>,
    flushed: Vec<u8>,
    /// Since the last flush.
    pending: Vec<Op>,
    /// Its name is in the folder for good.
    linked: bool,
    removed: bool,
    /// An earlier file of this name whose removal is not there for good.
    earlier: Option<Vec<u8>>,
}

#[derive(Default)]
struct State {
    files: BTreeMap<String, File>,
    /// Shared memory goes with the power.
    shared: BTreeMap<String, Vec<Box<[u8; SHARED]>>>,
    operations: u64,
    /// The power goes at this operation; 0 never.
    cut_at: u64,
    dark: bool,
    unnamed: u64,
}

impl State {
    /// Whether the power is gone; the operation at which it goes is told by itself.
    fn operation(&mut self) -> (bool, bool) {
        self.operations += 1;
        let now = self.operations == self.cut_at;
        self.dark |= now;
        (self.dark, now)
    }

    fn flush_folder(&mut self) {
        self.files.retain(|_, file| !file.removed);
        for file in self.files.values_mut() {
            file.linked = true;
            file.earlier = None;
        }
    }
}

/// One such disk, known to SQLite by its name for as long as the program runs.
pub(super) struct ForgetfulDisk {
    pub(super) name: CString,
    state: &'static Mutex<State>,
}

impl ForgetfulDisk {
    pub(super) fn new(name: &str) -> Self {
        let state: &'static Mutex<State> = Box::leak(Box::default());
        let name = CString::new(name).unwrap();
        let vfs = ffi::sqlite3_vfs {
            iVersion: 1,
            szOsFile: c_int::try_from(size_of::<OpenFile>()).unwrap(),
            mxPathname: 512,
            pNext: ptr::null_mut(),
            zName: name.clone().into_raw(),
            pAppData: ptr::from_ref(state).cast_mut().cast(),
            xOpen: Some(open),
            xDelete: Some(delete),
            xAccess: Some(access),
            xFullPathname: Some(full_path),
            xDlOpen: None,
            xDlError: None,
            xDlSym: None,
            xDlClose: None,
            xRandomness: Some(randomness),
            xSleep: Some(sleep),
            xCurrentTime: Some(current_time),
            xGetLastError: None,
            xCurrentTimeInt64: None,
            xSetSystemCall: None,
            xGetSystemCall: None,
            xNextSystemCall: None,
        };
        // SAFETY: the structure, its name and its state live as long as the program.
        let outcome = unsafe { ffi::sqlite3_vfs_register(Box::leak(Box::new(vfs)), 0) };
        assert_eq!(outcome, ffi::SQLITE_OK);
        Self { name, state }
    }

    fn state(&self) -> MutexGuard<'static, State> {
        self.state.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// An empty disk whose power goes at the operation `cut_at`; 0 never.
    pub(super) fn begin(&self, cut_at: u64) {
        *self.state() = State { cut_at, ..State::default() };
    }

    pub(super) fn operations(&self) -> u64 {
        self.state().operations
    }

    /// The power comes back: what the disk may hold by then.
    pub(super) fn power_on(&self, chance: &mut impl FnMut(u64) -> u64) {
        let mut state = self.state();
        let keep = [0, 20, 50, 80, 100][usize::try_from(chance(5)).unwrap()];
        let torn = chance(2) == 0;
        let mut after = State::default();
        for (name, file) in std::mem::take(&mut state.files) {
            let mut kept = || chance(100) < keep;
            let earlier = |after: &mut State, name, file: File| {
                if let Some(bytes) = file.earlier {
                    after.files.insert(name, whole(bytes));
                }
            };
            if file.removed {
                if (!file.linked && file.earlier.is_none()) || kept() {
                    continue;
                }
                earlier(&mut after, name, file);
                continue;
            }
            if !file.linked && !kept() {
                earlier(&mut after, name, file);
                continue;
            }
            let mut bytes = file.flushed.clone();
            for op in &file.pending {
                match op {
                    Op::Write(at, written) if torn => {
                        let mut from = 0;
                        while from < written.len() {
                            let to = (from + SECTOR - (at + from) % SECTOR).min(written.len());
                            if kept() {
                                Op::Write(at + from, written[from..to].to_vec()).apply(&mut bytes);
                            }
                            from = to;
                        }
                    }
                    op if kept() => op.apply(&mut bytes),
                    Op::Write(..) | Op::Truncate(_) => {}
                }
            }
            after.files.insert(name, whole(bytes));
        }
        *state = after;
    }
}

fn whole(bytes: Vec<u8>) -> File {
    File { now: bytes.clone(), flushed: bytes, linked: true, ..File::default() }
}

/// What SQLite holds for each open file.
#[repr(C)]
struct OpenFile {
    base: ffi::sqlite3_file,
    state: *const Mutex<State>,
    name: *mut String,
}

/// The disk and the name of an open file.
///
/// # Safety
/// `file` must have been opened by [`open`] and not closed.
unsafe fn of<'a>(file: *mut ffi::sqlite3_file) -> (MutexGuard<'a, State>, &'a str) {
    // SAFETY: `open` has put both there, and they live until `close` or longer.
    let (state, name) = unsafe {
        let file = &*file.cast::<OpenFile>();
        (&*file.state, &*file.name)
    };
    (state.lock().unwrap_or_else(PoisonError::into_inner), name)
}

/// The disk of a file system.
///
/// # Safety
/// `vfs` must be one of [`ForgetfulDisk::new`].
unsafe fn disk_of<'a>(vfs: *mut ffi::sqlite3_vfs) -> MutexGuard<'a, State> {
    // SAFETY: `new` has put it there for good.
    let state = unsafe { &*(*vfs).pAppData.cast::<Mutex<State>>() };
    state.lock().unwrap_or_else(PoisonError::into_inner)
}

static METHODS: ffi::sqlite3_io_methods = ffi::sqlite3_io_methods {
    iVersion: 2,
    xClose: Some(close),
    xRead: Some(read),
    xWrite: Some(write),
    xTruncate: Some(truncate),
    xSync: Some(flush),
    xFileSize: Some(size),
    xLock: Some(lock),
    xUnlock: Some(lock),
    xCheckReservedLock: Some(check_reserved),
    xFileControl: Some(control),
    xSectorSize: Some(sector_size),
    xDeviceCharacteristics: Some(characteristics),
    xShmMap: Some(shared_map),
    xShmLock: Some(shared_lock),
    xShmBarrier: Some(shared_barrier),
    xShmUnmap: Some(shared_unmap),
    xFetch: None,
    xUnfetch: None,
};

unsafe extern "C" fn open(
    vfs: *mut ffi::sqlite3_vfs,
    path: ffi::sqlite3_filename,
    file: *mut ffi::sqlite3_file,
    flags: c_int,
    flags_out: *mut c_int,
) -> c_int {
    // SAFETY: SQLite gives room for an `OpenFile`, a path that ends in zero or none, and a place
    // for the flags or none.
    unsafe {
        (*file).pMethods = ptr::null();
        let state: *const Mutex<State> = (*vfs).pAppData.cast();
        let mut disk = disk_of(vfs);
        if disk.dark {
            return ffi::SQLITE_CANTOPEN;
        }
        let name = if path.is_null() {
            disk.unnamed += 1;
            format!("unnamed {}", disk.unnamed)
        } else {
            CStr::from_ptr(path).to_string_lossy().into_owned()
        };
        let entry = disk.files.entry(name.clone()).or_default();
        if entry.removed {
            *entry = File { earlier: entry.earlier.take(), ..File::default() };
        }
        let file = file.cast::<OpenFile>();
        (*file).state = state;
        (*file).name = Box::into_raw(Box::new(name));
        (*file).base.pMethods = &raw const METHODS;
        if !flags_out.is_null() {
            *flags_out = flags;
        }
    }
    ffi::SQLITE_OK
}

unsafe extern "C" fn close(file: *mut ffi::sqlite3_file) -> c_int {
    // SAFETY: `open` has made it from a box, and SQLite closes once.
    drop(unsafe { Box::from_raw((*file.cast::<OpenFile>()).name) });
    ffi::SQLITE_OK
}

unsafe extern "C" fn read(
    file: *mut ffi::sqlite3_file,
    into: *mut c_void,
    length: c_int,
    at: ffi::sqlite3_int64,
) -> c_int {
    // SAFETY: SQLite gives room for `length` bytes in a file that is open.
    let (out, (disk, name)) = unsafe {
        (
            slice::from_raw_parts_mut(into.cast::<u8>(), usize::try_from(length).unwrap_or(0)),
            of(file),
        )
    };
    if disk.dark {
        return ffi::SQLITE_IOERR_READ;
    }
    let bytes = disk.files.get(name).map_or(&[][..], |file| &file.now);
    let from = usize::try_from(at).unwrap_or(usize::MAX).min(bytes.len());
    let there = (bytes.len() - from).min(out.len());
    out[..there].copy_from_slice(&bytes[from..from + there]);
    out[there..].fill(0);
    if there < out.len() { ffi::SQLITE_IOERR_SHORT_READ } else { ffi::SQLITE_OK }
}

unsafe extern "C" fn write(
    file: *mut ffi::sqlite3_file,
    from: *const c_void,
    length: c_int,
    at: ffi::sqlite3_int64,
) -> c_int {
    // SAFETY: SQLite gives `length` bytes for a file that is open.
    let (bytes, (mut disk, name)) = unsafe {
        (slice::from_raw_parts(from.cast::<u8>(), usize::try_from(length).unwrap_or(0)), of(file))
    };
    let (dark, now) = disk.operation();
    let Some(file) = disk.files.get_mut(name) else { return ffi::SQLITE_IOERR_WRITE };
    let op = Op::Write(usize::try_from(at).unwrap_or(0), bytes.to_vec());
    if dark {
        // The very write in which the power goes may still get there, in part.
        if now {
            file.pending.push(op);
        }
        return ffi::SQLITE_IOERR_WRITE;
    }
    op.apply(&mut file.now);
    file.pending.push(op);
    ffi::SQLITE_OK
}

unsafe extern "C" fn truncate(file: *mut ffi::sqlite3_file, length: ffi::sqlite3_int64) -> c_int {
    // SAFETY: the file is open.
    let (mut disk, name) = unsafe { of(file) };
    if disk.operation().0 {
        return ffi::SQLITE_IOERR_TRUNCATE;
    }
    let Some(file) = disk.files.get_mut(name) else { return ffi::SQLITE_IOERR_TRUNCATE };
    let op = Op::Truncate(usize::try_from(length).unwrap_or(0));
    op.apply(&mut file.now);
    file.pending.push(op);
    ffi::SQLITE_OK
}

unsafe extern "C" fn flush(file: *mut ffi::sqlite3_file, _: c_int) -> c_int {
    // SAFETY: the file is open.
    let (mut disk, name) = unsafe { of(file) };
    if disk.operation().0 {
        return ffi::SQLITE_IOERR_FSYNC;
    }
    let Some(file) = disk.files.get_mut(name) else { return ffi::SQLITE_IOERR_FSYNC };
    for op in std::mem::take(&mut file.pending) {
        op.apply(&mut file.flushed);
    }
    if !file.linked {
        disk.flush_folder();
    }
    ffi::SQLITE_OK
}

unsafe extern "C" fn size(file: *mut ffi::sqlite3_file, out: *mut ffi::sqlite3_int64) -> c_int {
    // SAFETY: the file is open, and there is room for the answer.
    unsafe {
        let (disk, name) = of(file);
        let length = disk.files.get(name).map_or(0, |file| file.now.len());
        *out = ffi::sqlite3_int64::try_from(length).unwrap_or(0);
    }
    ffi::SQLITE_OK
}

/// One connection at a time: every lock is free.
unsafe extern "C" fn lock(_: *mut ffi::sqlite3_file, _: c_int) -> c_int {
    ffi::SQLITE_OK
}

unsafe extern "C" fn check_reserved(_: *mut ffi::sqlite3_file, out: *mut c_int) -> c_int {
    // SAFETY: there is room for the answer.
    unsafe { *out = 0 };
    ffi::SQLITE_OK
}

unsafe extern "C" fn control(_: *mut ffi::sqlite3_file, _: c_int, _: *mut c_void) -> c_int {
    ffi::SQLITE_NOTFOUND
}

unsafe extern "C" fn sector_size(_: *mut ffi::sqlite3_file) -> c_int {
    4_096
}

unsafe extern "C" fn characteristics(_: *mut ffi::sqlite3_file) -> c_int {
    ffi::SQLITE_IOCAP_POWERSAFE_OVERWRITE
}

unsafe extern "C" fn shared_map(
    file: *mut ffi::sqlite3_file,
    page: c_int,
    _: c_int,
    extend: c_int,
    out: *mut *mut c_void,
) -> c_int {
    // SAFETY: the file is open, and there is room for the answer; boxes do not move.
    unsafe {
        let (mut disk, name) = of(file);
        let pages = disk.shared.entry(name.to_owned()).or_default();
        let page = usize::try_from(page).unwrap_or(0);
        if extend == 0 && pages.len() <= page {
            *out = ptr::null_mut();
            return ffi::SQLITE_OK;
        }
        while pages.len() <= page {
            pages.push(Box::new([0; SHARED]));
        }
        *out = pages[page].as_mut_ptr().cast();
    }
    ffi::SQLITE_OK
}

unsafe extern "C" fn shared_lock(_: *mut ffi::sqlite3_file, _: c_int, _: c_int, _: c_int) -> c_int {
    ffi::SQLITE_OK
}

unsafe extern "C" fn shared_barrier(_: *mut ffi::sqlite3_file) {}

unsafe extern "C" fn shared_unmap(file: *mut ffi::sqlite3_file, remove: c_int) -> c_int {
    if remove != 0 {
        // SAFETY: the file is open.
        let (mut disk, name) = unsafe { of(file) };
        disk.shared.remove(name);
    }
    ffi::SQLITE_OK
}

unsafe extern "C" fn delete(
    vfs: *mut ffi::sqlite3_vfs,
    path: *const c_char,
    flush_folder: c_int,
) -> c_int {
    // SAFETY: the path ends in zero.
    let (mut disk, name) = unsafe { (disk_of(vfs), CStr::from_ptr(path).to_string_lossy()) };
    if disk.operation().0 {
        return ffi::SQLITE_IOERR_DELETE;
    }
    if let Some(file) = disk.files.get_mut(name.as_ref()) {
        if file.linked {
            file.earlier = Some(file.flushed.clone());
        }
        file.removed = true;
    }
    if flush_folder != 0 {
        disk.flush_folder();
    }
    ffi::SQLITE_OK
}

unsafe extern "C" fn access(
    vfs: *mut ffi::sqlite3_vfs,
    path: *const c_char,
    _: c_int,
    out: *mut c_int,
) -> c_int {
    // SAFETY: the path ends in zero, and there is room for the answer.
    unsafe {
        let (disk, name) = (disk_of(vfs), CStr::from_ptr(path).to_string_lossy());
        *out = c_int::from(disk.files.get(name.as_ref()).is_some_and(|file| !file.removed));
    }
    ffi::SQLITE_OK
}

unsafe extern "C" fn full_path(
    _: *mut ffi::sqlite3_vfs,
    path: *const c_char,
    room: c_int,
    out: *mut c_char,
) -> c_int {
    // SAFETY: the path ends in zero, and there is as much room as SQLite says.
    unsafe {
        let bytes = CStr::from_ptr(path).to_bytes_with_nul();
        if bytes.len() > usize::try_from(room).unwrap_or(0) {
            return ffi::SQLITE_CANTOPEN;
        }
        ptr::copy_nonoverlapping(bytes.as_ptr(), out.cast(), bytes.len());
    }
    ffi::SQLITE_OK
}

/// The same in every run.
unsafe extern "C" fn randomness(
    _: *mut ffi::sqlite3_vfs,
    length: c_int,
    out: *mut c_char,
) -> c_int {
    let length_in_memory = usize::try_from(length).unwrap_or(0);
    // SAFETY: there is room for `length` bytes.
    let out = unsafe { slice::from_raw_parts_mut(out.cast::<u8>(), length_in_memory) };
    let mut value = 11_u8;
    for byte in out {
        value = value.wrapping_mul(37).wrapping_add(11);
        *byte = value;
    }
    length
}

unsafe extern "C" fn sleep(_: *mut ffi::sqlite3_vfs, _: c_int) -> c_int {
    0
}

unsafe extern "C" fn current_time(_: *mut ffi::sqlite3_vfs, out: *mut f64) -> c_int {
    // SAFETY: there is room for the answer.
    unsafe { *out = 2_460_000.5 };
    ffi::SQLITE_OK
}

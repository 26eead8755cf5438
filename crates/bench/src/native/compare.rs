//! The same record through the native code and through WebAssembly: the same bytes, or the first that differ.

use std::path::Path;

use store::Store;
use wasmi::{Engine, ExternType, Instance, Linker, Memory, Module, Val};

use super::Outcome;

const HEADING: &[u8; 16] = b"nearside letter\n";

pub(super) fn run(program: &Path, folder: &Path) -> Outcome {
    let record = record_in(folder)?;
    let native = bench::answer(&record)?;
    let said = |error: std::io::Error| format!("{}: {error}", program.display());
    let browser = by_letter(&std::fs::read(program).map_err(said)?, &record)?;
    match difference(&native, &browser) {
        None => {
            println!(
                "the same {} bytes natively and as WebAssembly, of a record of {} bytes",
                native.len(),
                record.len()
            );
            Ok(())
        }
        Some(sentence) => Err(sentence),
    }
}

/// The one job of a data folder, as the bytes of its record.
fn record_in(folder: &Path) -> Outcome<Vec<u8>> {
    let said = |error: store::StoreError| format!("{}: {error}", folder.display());
    let store = Store::open(folder).map_err(said)?;
    let jobs = store.jobs().map_err(said)?;
    let [job] = jobs.as_slice() else {
        return Err(format!("{} holds {} jobs; one is wanted", folder.display(), jobs.len()));
    };
    let changes = store.changes(&job.id, 0, usize::MAX).map_err(said)?;
    let record = record::Record::load(changes.iter().map(|change| change.bytes.as_slice()))
        .map_err(|error| error.to_string())?;
    Ok(record.save())
}

/// Hands a record to the program of `examples/letter.rs` and reads its answer.
fn by_letter(program: &[u8], record: &[u8]) -> Outcome<String> {
    let said = |error: &dyn std::fmt::Display| format!("the WebAssembly program: {error}");
    let engine = Engine::default();
    let module = Module::new(&engine, program).map_err(|error| said(&error))?;
    let mut store = wasmi::Store::new(&engine, ());
    let mut linker = Linker::new(&engine);
    without_a_browser(&mut linker, &module).map_err(|error| said(&error))?;
    let instance =
        linker.instantiate_and_start(&mut store, &module).map_err(|error| said(&error))?;
    let memory = instance.get_memory(&store, "memory").ok_or_else(|| said(&"has no memory"))?;
    let letter = memory
        .data(&store)
        .windows(HEADING.len())
        .position(|window| window == HEADING)
        .ok_or_else(|| said(&"its letter is not in its memory"))?;
    let field = |number: usize| letter + HEADING.len() + 4 * number;
    let place = word(memory, &store, field(0))?;
    let length = u32::try_from(record.len()).map_err(|error| said(&error))?;
    memory.write(&mut store, place, record).map_err(|error| said(&error))?;
    memory.write(&mut store, field(1), &length.to_le_bytes()).map_err(|error| said(&error))?;
    call_main(instance, &mut store).map_err(|error| said(&error))?;
    let (at, length) = (word(memory, &store, field(2))?, word(memory, &store, field(3))?);
    let refused = memory.data(&store).get(field(4)).is_some_and(|byte| *byte != 0);
    let bytes = at.checked_add(length).and_then(|end| memory.data(&store).get(at..end));
    let text = bytes.ok_or_else(|| said(&"its answer lies outside its memory"))?;
    let text = String::from_utf8(text.to_vec()).map_err(|error| said(&error))?;
    if refused { Err(said(&text)) } else { Ok(text) }
}

/// What the program would ask of a browser, such as random bytes for a new device, answers nothing here: zeros. The
/// answer must not rest on any of it, and the comparison would show if it did.
fn without_a_browser(linker: &mut Linker<()>, module: &Module) -> Result<(), wasmi::Error> {
    for import in module.imports() {
        if let ExternType::Func(kind) = import.ty() {
            linker.func_new(import.module(), import.name(), kind.clone(), |_, _, results| {
                for result in results {
                    *result = Val::default(result.ty());
                }
                Ok(())
            })?;
        }
    }
    Ok(())
}

/// A Rust program's `main`, as it is exported for the target: arguments' count and place, and a status.
fn call_main(instance: Instance, store: &mut wasmi::Store<()>) -> Result<i32, wasmi::Error> {
    instance.get_typed_func::<(i32, i32), i32>(&*store, "main")?.call(store, (0, 0))
}

fn word(memory: Memory, store: &wasmi::Store<()>, at: usize) -> Outcome<usize> {
    let mut bytes = [0; 4];
    memory.read(store, at, &mut bytes).map_err(|error| error.to_string())?;
    usize::try_from(u32::from_le_bytes(bytes)).map_err(|error| error.to_string())
}

/// Where the two answers part, with the line of each; none if they are the same.
fn difference(native: &str, browser: &str) -> Option<String> {
    if native == browser {
        return None;
    }
    let same = native.lines().zip(browser.lines()).take_while(|(one, other)| one == other).count();
    let line = |text: &str| text.lines().nth(same).unwrap_or("(nothing)").trim().to_owned();
    Some(format!(
        "the answers differ from line {} on: natively `{}`, as WebAssembly `{}`",
        same + 1,
        line(native),
        line(browser)
    ))
}

#[cfg(test)]
mod tests {
    use super::{by_letter, difference};

    #[test]
    fn the_first_line_that_differs_is_shown() {
        assert_eq!(difference("a\nb\n", "a\nb\n"), None);
        let told = difference("a\n  1.5\n", "a\n  1.25\n").unwrap();
        assert!(told.contains("from line 2 on: natively `1.5`, as WebAssembly `1.25`"), "{told}");
        assert!(difference("a\nb\n", "a\n").unwrap().contains("`(nothing)`"));
    }

    /// The smallest module there is has neither memory nor `main`.
    #[test]
    fn a_program_without_a_letter_is_refused_in_a_sentence() {
        let told = by_letter(b"\0asm\x01\0\0\0", b"record").unwrap_err();
        assert!(told.contains("has no memory"), "{told}");
        assert!(by_letter(b"no program", b"record").unwrap_err().contains("WebAssembly program"));
    }
}

//! Which file goes where, under which name, and who names whom.
//!
//! `index.html` and `sw.js` keep their names: they are the two addresses that a browser asks for again. In a shell file
//! `{{name}}` stands for the address of another file. The files are named in an order in which each comes after those
//! it names, so that a change anywhere changes every name on the way to the page.

use sha2::{Digest, Sha256};

use crate::{File, glue::Glue, parts::LOADER};

/// The parts of the app.
pub(crate) struct App {
    /// The compiled app and what loads it.
    pub(crate) glue: Glue,
    /// Style sheets, joined in the order of their names.
    pub(crate) styles: Vec<File>,
    /// The page, the service worker, the manifest, pictures.
    pub(crate) shell: Vec<File>,
}

const PAGE: &str = "index.html";
const WORKER: &str = "sw.js";
/// Shell files that name others, each after those it names.
const NAMING: [&str; 2] = ["boot.js", "manifest.webmanifest"];

/// How the names of files begin that come after the start.
const LATER: &str = "later";

/// Whether a browser loads the file before the app can be used for the first time.
pub(crate) fn starts_with(name: &str) -> bool {
    [".html", ".js", ".wasm", ".css"].iter().any(|kind| name.ends_with(kind))
        && name != WORKER
        && !name.starts_with(LATER)
}

impl App {
    /// The files to hand out, by the names that the server knows: `index.html` as `/`, `sw.js` as `/sw.js`, any other
    /// as `/app/` and its name.
    pub(crate) fn lay_out(self) -> Result<Vec<File>, String> {
        let mut named = Named::default();
        named.add("app.wasm", self.glue.wasm);
        let mut loader = self.glue.loader;
        for (number, (name, bytes)) in self.glue.later.into_iter().enumerate() {
            let address = named.add(&format!("{LATER}{number}.wasm"), bytes);
            let before = format!("\"./{name}\"");
            if !loader.contains(&before) {
                return Err(format!("a later part, {name}, is fetched by nobody"));
            }
            loader = loader.replace(&before, &format!("\"{address}\""));
        }
        let loader = named.add("parts.js", loader.into_bytes());
        let mut script = self.glue.script;
        for quote in ['"', '\''] {
            // The name alone also tells the two apart when the module is put together, and stays.
            let from = |name: &str| format!("from {quote}{name}{quote}");
            script = script.replace(&from(LOADER), &from(&loader));
        }
        for (number, (name, bytes)) in self.glue.snippets.into_iter().enumerate() {
            let address = named.add(&format!("snippet{number}.js"), bytes);
            let before = format!("./{name}");
            if !script.contains(&before) {
                return Err(format!("a library's script, {name}, is named by nobody"));
            }
            script = script.replace(&before, &address);
        }
        named.add("app.js", script.into_bytes());
        let mut sheet = Vec::new();
        for (_, text) in self.styles {
            sheet.extend(text);
            sheet.push(b'\n');
        }
        named.add("app.css", sheet);
        let (fixed, free): (Vec<File>, Vec<File>) =
            self.shell.into_iter().partition(|(name, _)| {
                [PAGE, WORKER].contains(&name.as_str()) || NAMING.contains(&name.as_str())
            });
        for (name, bytes) in free {
            named.add(&name, bytes);
        }
        let text_of = |wanted: &str| {
            let (name, bytes) = fixed
                .iter()
                .find(|(name, _)| name == wanted)
                .ok_or_else(|| format!("there is no {wanted} among the shell's files"))?;
            let text = String::from_utf8(bytes.clone());
            text.map_err(|error| format!("{name} is not UTF-8: {error}"))
        };
        for name in NAMING {
            let text = named.fill_in(name, &text_of(name)?)?;
            named.add(name, text.into_bytes());
        }
        let page = named.fill_in(PAGE, &text_of(PAGE)?)?.into_bytes();
        let worker = named.worker(&text_of(WORKER)?, &page)?;
        let mut files = named.files;
        files.push((PAGE.to_owned(), page));
        files.push((WORKER.to_owned(), worker.into_bytes()));
        Ok(files)
    }
}

/// Files with the hash of their content in their names, and the plain names they are known by.
#[derive(Default)]
struct Named {
    plain: Vec<String>,
    files: Vec<File>,
}

impl Named {
    /// Names a file and answers its address.
    fn add(&mut self, plain: &str, bytes: Vec<u8>) -> String {
        let (stem, kind) = plain.rsplit_once('.').unwrap_or((plain, ""));
        let name = format!("{stem}-{}.{kind}", short_hash(&bytes));
        let address = format!("/app/{name}");
        self.files.push((name, bytes));
        self.plain.push(plain.to_owned());
        address
    }

    fn addresses(&self) -> impl Iterator<Item = (&String, String)> {
        self.plain.iter().zip(self.files.iter().map(|(name, _)| format!("/app/{name}")))
    }

    /// The text with every `{{name}}` replaced by that file's address.
    fn fill_in(&self, file: &str, text: &str) -> Result<String, String> {
        let mut filled = text.to_owned();
        for (plain, address) in self.addresses() {
            filled = filled.replace(&format!("{{{{{plain}}}}}"), &address);
        }
        match filled.split_once("{{") {
            None => Ok(filled),
            Some((_, rest)) => {
                let name: String = rest.chars().take_while(|letter| *letter != '}').collect();
                Err(format!("{file} names {name}, which is not there or comes later"))
            }
        }
    }

    /// The service worker with its list of files and a version that changes when any of them does.
    fn worker(&self, text: &str, page: &[u8]) -> Result<String, String> {
        let mut addresses: Vec<String> = self.addresses().map(|(_, address)| address).collect();
        addresses.sort();
        let version = short_hash(&[page, addresses.join("\n").as_bytes()].concat());
        let list: Vec<String> = addresses.iter().map(|address| format!("'{address}'")).collect();
        let (version_mark, list_mark) = ("/*VERSION*/", "/*FILES*/");
        for mark in [version_mark, list_mark] {
            if text.matches(mark).count() != 1 {
                return Err(format!("{WORKER} must have {mark} once"));
            }
        }
        Ok(text.replace(version_mark, &version).replace(list_mark, &list.join(", ")))
    }
}

/// The first 16 hexadecimal digits of the SHA-256.
fn short_hash(bytes: &[u8]) -> String {
    Sha256::digest(bytes).iter().take(8).map(|byte| format!("{byte:02x}")).collect()
}

#[cfg(test)]
mod tests {
    use super::{App, File, Glue};

    fn file(name: &str, text: &str) -> File {
        (name.to_owned(), text.as_bytes().to_vec())
    }

    fn app(style: &str, page: &str) -> App {
        App {
            glue: Glue {
                wasm: b"module".to_vec(),
                loader: "fetch(\"./work.wasm\")".to_owned(),
                later: vec![file("work.wasm", "later")],
                script: "import * as one from './snippets/one-1f/inline0.js'; import * as two from \"./__wasm_split.js\""
                    .to_owned(),
                snippets: vec![file("snippets/one-1f/inline0.js", "export {}")],
            },
            styles: vec![file("00.css", "a{}"), file("10.css", style)],
            shell: vec![
                file("boot.js", "load('{{app.js}}', '{{app.wasm}}', '{{parts.js}}')"),
                file("icon.svg", "<svg/>"),
                file("index.html", page),
                file("manifest.webmanifest", "{{icon.svg}}"),
                file("sw.js", "const V = '/*VERSION*/', F = ['/', /*FILES*/];"),
            ],
        }
    }

    fn text<'a>(files: &'a [File], start: &str) -> (&'a str, &'a str) {
        let (name, bytes) = files.iter().find(|(name, _)| name.starts_with(start)).unwrap();
        (name, std::str::from_utf8(bytes).unwrap())
    }

    #[test]
    fn every_name_that_is_given_is_there() {
        let files =
            app("b{}", "<{{boot.js}} {{app.css}} {{manifest.webmanifest}}>").lay_out().unwrap();
        let (_, page) = text(&files, "index.html");
        for start in ["boot-", "app-", "manifest-"] {
            assert!(page.contains(&format!("/app/{start}")), "{page}");
        }
        let (_, boot) = text(&files, "boot-");
        let (_, worker) = text(&files, "sw.js");
        let glue = files.iter().find(|(name, _)| name.starts_with("app-") && name.ends_with(".js"));
        let glue = String::from_utf8_lossy(&glue.unwrap().1);
        assert!(glue.contains(&format!("'/app/{}'", text(&files, "snippet0-").0)), "{glue}");
        let (loader, fetches) = text(&files, "parts-");
        assert!(glue.contains(&format!("from \"/app/{loader}\"")), "{glue}");
        assert_eq!(fetches, format!("fetch(\"/app/{}\")", text(&files, "later0-").0));
        for (name, _) in &files {
            let fixed = ["index.html", "sw.js"].contains(&name.as_str());
            assert_eq!(worker.contains(&format!("'/app/{name}'")), !fixed, "{worker}");
            if name.ends_with(".wasm") {
                let later = name.starts_with("later");
                assert_eq!(boot.contains(&format!("'/app/{name}'")), !later, "{boot}");
                assert_eq!(super::starts_with(name), !later, "{name}");
            }
        }
        let (sheet, joined) =
            (files.iter().find(|(name, _)| name.ends_with(".css")).unwrap(), "a{}\nb{}\n");
        assert_eq!(sheet.1, joined.as_bytes());
    }

    #[test]
    fn a_change_changes_the_names_on_the_way_to_the_page_and_the_version() {
        let page = "<{{boot.js}} {{app.css}}>";
        let (old, new) = (app("b{}", page).lay_out().unwrap(), app("c{}", page).lay_out().unwrap());
        assert_eq!(text(&old, "boot-").0, text(&new, "boot-").0);
        assert_ne!(text(&old, "index.html").1, text(&new, "index.html").1);
        assert_ne!(text(&old, "sw.js").1, text(&new, "sw.js").1);
        assert_eq!(old, app("b{}", page).lay_out().unwrap());
        // A change of the page alone, too.
        let other = app("b{}", "<{{boot.js}} {{app.css}}!>").lay_out().unwrap();
        assert_ne!(text(&old, "sw.js").1, text(&other, "sw.js").1);
    }

    #[test]
    fn a_name_that_is_not_there_is_refused() {
        let refused = app("", "{{bot.js}}").lay_out().unwrap_err();
        assert_eq!(refused, "index.html names bot.js, which is not there or comes later");
    }
}

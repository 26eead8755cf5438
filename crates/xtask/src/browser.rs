//! A compiler for the browser: the running toolchain's if it has the target, else Debian's own.
//!
//! Debian's packaged compiler builds the standard library once from its packaged source (a standard library must match
//! its compiler). Nothing here fetches a toolchain.

use crate::{
    Outcome,
    needs::{self, on_path},
    steps::spoken,
    workspace::{answer, cargo, root, run_shown, target_dir},
};
use std::{
    fs,
    path::{Path, PathBuf},
    process::{Command, Stdio},
    time::Instant,
};

/// What the browser runs.
pub(crate) const TARGET: &str = "wasm32-unknown-unknown";

const DEBIAN_PACKAGES: &[&str] = &["rustc-web", "cargo-web", "rust-web-src"];
const DEBIAN_CLIPPY: &[&str] = &["rust-web-clippy"];

/// A compiler that can build for the browser.
pub(crate) struct Toolchain {
    cargo: PathBuf,
    rustc: PathBuf,
    /// A standard library of our own making, where the compiler brings none for the target.
    sysroot: Option<PathBuf>,
}

impl Toolchain {
    /// A build for the browser into its own folder.
    pub(crate) fn build(&self, target: &Path) -> Command {
        let mut command = Command::new(&self.cargo);
        command.arg("build");
        self.prepare(command, target)
    }

    /// The same for one crate, whose own compiler takes words after `--`.
    pub(crate) fn link(&self, target: &Path) -> Command {
        let mut command = Command::new(&self.cargo);
        command.arg("rustc");
        self.prepare(command, target)
    }

    /// Clippy over the browser's code; Debian's is a package of its own.
    pub(crate) fn clippy(&self, target: &Path) -> Outcome<Command> {
        if self.cargo == cargo() {
            let mut command = Command::new(&self.cargo);
            command.arg("clippy");
            return Ok(self.prepare(command, target));
        }
        let clippy = self.cargo.with_file_name("cargo-clippy");
        if !clippy.exists() {
            install(DEBIAN_CLIPPY)?;
        }
        let mut command = Command::new(clippy);
        command.arg("clippy");
        let mut command = self.prepare(command, target);
        // It would else take the first cargo on the search path.
        command.env("CARGO", &self.cargo);
        Ok(command)
    }

    fn prepare(&self, mut command: Command, target: &Path) -> Command {
        command.current_dir(root()).args(["--locked", "--target", TARGET, "--target-dir"]);
        command.arg(target).env("RUSTC", &self.rustc).stdin(Stdio::null());
        if let Some(sysroot) = &self.sysroot {
            command.env(
                "CARGO_TARGET_WASM32_UNKNOWN_UNKNOWN_RUSTFLAGS",
                format!("--sysroot {}", sysroot.display()),
            );
        }
        if self.cargo != cargo() {
            command.env_remove("CARGO").env_remove("RUSTUP_TOOLCHAIN");
            if let Some(linker) = linker() {
                command.env("CARGO_TARGET_WASM32_UNKNOWN_UNKNOWN_LINKER", linker);
            }
        }
        command
    }
}

/// A linker for the target, which Debian's compiler does not bring: that of the running toolchain, or a packaged one.
fn linker() -> Option<PathBuf> {
    let sysroot = answer(Command::new("rustc").args(["--print", "sysroot"]))?;
    let libraries = fs::read_dir(Path::new(sysroot.trim()).join("lib/rustlib")).ok()?;
    let own = libraries.flatten().map(|folder| folder.path().join("bin/rust-lld"));
    let packaged = ["wasm-ld", "wasm-ld-19", "rust-lld"].into_iter().filter(|name| on_path(name));
    own.filter(|path| path.is_file()).chain(packaged.map(PathBuf::from)).next()
}

/// The first compiler that can do it; on Debian, as root, one is installed after saying so.
pub(crate) fn toolchain() -> Outcome<Toolchain> {
    let running = PathBuf::from(std::env::var_os("RUSTC").unwrap_or_else(|| "rustc".into()));
    if has_standard_library(&running) {
        return Ok(Toolchain { cargo: cargo(), rustc: running, sysroot: None });
    }
    let debian = PathBuf::from("/usr/bin/rustc");
    let has_source = || {
        standard_library_source(&debian).is_some_and(|source| source.join("std").is_dir())
            && Path::new("/usr/bin/cargo").exists()
    };
    if !has_source() {
        install(DEBIAN_PACKAGES)?;
    }
    let debian_cargo = debian.with_file_name("cargo");
    if has_standard_library(&debian) {
        return Ok(Toolchain { cargo: debian_cargo, rustc: debian, sysroot: None });
    }
    if !has_source() {
        return Err(remedies());
    }
    let sysroot = build_standard_library(&debian, &debian_cargo)?;
    Ok(Toolchain { cargo: debian_cargo, rustc: debian, sysroot: Some(sysroot) })
}

fn remedies() -> String {
    format!(
        "the toolchain here has no {TARGET}; type one of:\n  rustup target add {TARGET}\n  \
         sudo apt-get install {}   (Debian)",
        DEBIAN_PACKAGES.join(" ")
    )
}

fn install(packages: &[&str]) -> Outcome {
    let is_root = answer(Command::new("id").arg("-u")).is_some_and(|id| id.trim() == "0");
    if !on_path("apt-get") || !is_root {
        return Err(remedies());
    }
    println!("xtask: installing with apt-get, once: {}", packages.join(" "));
    needs::install(packages).map_err(|why| format!("{why}\n{}", remedies()))
}

/// Whether a compiler brings the standard library for the browser.
fn has_standard_library(rustc: &Path) -> bool {
    answer(Command::new(rustc).args(["--print", "target-libdir", "--target", TARGET]))
        .and_then(|folder| fs::read_dir(folder.trim()).ok())
        .is_some_and(|files| {
            files.flatten().any(|file| file.file_name().to_string_lossy().starts_with("libstd-"))
        })
}

fn standard_library_source(rustc: &Path) -> Option<PathBuf> {
    let sysroot = answer(Command::new(rustc).args(["--print", "sysroot"]))?;
    Some(Path::new(sysroot.trim()).join("lib/rustlib/src/rust/library"))
}

/// Builds the standard library once for exactly this compiler and keeps it, so that every later
/// build is an ordinary one. Only this step uses an unstable option of cargo.
fn build_standard_library(rustc: &Path, cargo: &Path) -> Outcome<PathBuf> {
    let version = answer(Command::new(rustc).arg("-vV"))
        .ok_or_else(|| format!("{} does not say its version", rustc.display()))?;
    let base = target_dir().join("wasm-sysroot").join(version_folder(&version));
    let sysroot = base.join("sysroot");
    let finished = sysroot.join("finished");
    if finished.exists() {
        return Ok(sysroot);
    }
    println!("xtask: building the standard library for {TARGET}, once (about two minutes)");
    let start = Instant::now();
    let said = |path: &Path, error: std::io::Error| format!("{}: {error}", path.display());
    let package = base.join("package");
    fs::create_dir_all(package.join("src")).map_err(|error| said(&package, error))?;
    let manifest = "[package]\nname = \"empty\"\nversion = \"0.0.0\"\nedition = \"2021\"\n\
        [workspace]\n";
    for (file, text) in [("Cargo.toml", manifest), ("src/lib.rs", "#![no_std]\n")] {
        let path = package.join(file);
        fs::write(&path, text).map_err(|error| said(&path, error))?;
    }
    run_shown(
        Command::new(cargo)
            .current_dir(&package)
            .args(["build", "--release", "-Z", "build-std=std,panic_abort", "--target", TARGET])
            .env("RUSTC_BOOTSTRAP", "1")
            .env("RUSTC", rustc)
            .env("CARGO_TARGET_DIR", base.join("build"))
            // Without bitcode a later build with link-time optimization fails.
            .env("CARGO_TARGET_WASM32_UNKNOWN_UNKNOWN_RUSTFLAGS", "-C embed-bitcode=yes")
            .env_remove("CARGO")
            .env_remove("RUSTUP_TOOLCHAIN")
            .stdin(Stdio::null()),
    )?;
    let libraries = sysroot.join("lib/rustlib").join(TARGET).join("lib");
    fs::create_dir_all(&libraries).map_err(|error| said(&libraries, error))?;
    let built = base.join("build").join(TARGET).join("release/deps");
    for entry in fs::read_dir(&built).map_err(|error| said(&built, error))?.flatten() {
        let path = entry.path();
        let name = entry.file_name().to_string_lossy().into_owned();
        if name.ends_with(".rlib") && !name.starts_with("libempty") {
            fs::copy(&path, libraries.join(name)).map_err(|error| said(&path, error))?;
        }
    }
    println!("xtask: that took {}", spoken(start.elapsed()));
    fs::write(&finished, "").map_err(|error| said(&finished, error))?;
    Ok(sysroot)
}

/// A folder name that changes with the compiler: its release and the start of its commit.
fn version_folder(version: &str) -> String {
    let field = |name: &str| {
        version.lines().find_map(|line| line.strip_prefix(name)).map_or("unknown", str::trim)
    };
    let commit: String = field("commit-hash:").chars().take(9).collect();
    format!("{}-{commit}", field("release:"))
}

#[cfg(test)]
mod tests {
    use super::version_folder;

    #[test]
    fn another_compiler_gets_another_folder() {
        let version = "rustc 1.96.0\nbinary: rustc\ncommit-hash: 0123456789abcdef\n\
            release: 1.96.0\n";
        assert_eq!(version_folder(version), "1.96.0-012345678");
        assert_eq!(version_folder("rustc"), "unknown-unknown");
    }
}

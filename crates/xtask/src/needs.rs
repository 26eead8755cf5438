//! Programs that the build or the tests need and cargo does not bring: found, installed or asked for.

use crate::Outcome;
use crate::workspace::answer;
use std::{env, path::Path, process::Command, process::Stdio};

/// A program that must be on the machine.
#[derive(Debug, PartialEq, Eq)]
pub(crate) struct Need {
    /// What it is called when speaking to a person.
    what: &'static str,
    /// Any of these on the search path will do.
    programs: &'static [&'static str],
    /// The Debian package that has it.
    debian: &'static str,
    /// What it is needed for.
    why: &'static str,
}

/// A program that must be on the machine.
pub(crate) const fn need(
    what: &'static str,
    programs: &'static [&'static str],
    debian: &'static str,
    why: &'static str,
) -> Need {
    Need { what, programs, debian, why }
}

/// What compiling needs: libjpeg-turbo and SQLite are built from their C sources.
pub(crate) const BUILD: &[Need] = &[
    Need {
        what: "a C compiler",
        programs: &["cc", "gcc", "clang"],
        debian: "build-essential",
        why: "builds libjpeg-turbo and SQLite",
    },
    Need { what: "cmake", programs: &["cmake"], debian: "cmake", why: "configures libjpeg-turbo" },
    Need {
        what: "make",
        programs: &["make", "gmake", "ninja"],
        debian: "make",
        why: "builds libjpeg-turbo",
    },
    Need {
        what: "nasm",
        programs: &["nasm", "yasm"],
        debian: "nasm",
        why: "assembles libjpeg-turbo's fast paths",
    },
];

/// What the tests need besides: outside programs that judge our files.
pub(crate) const TESTS: &[Need] = &[
    Need {
        what: "Python 3",
        programs: &["python3"],
        debian: "python3-venv",
        why: "runs other people's checkers of bags and reports",
    },
    Need {
        what: "openssl",
        programs: &["openssl"],
        debian: "openssl",
        why: "is the time stamp service of the tests",
    },
    Need { what: "qpdf", programs: &["qpdf"], debian: "qpdf", why: "checks PDF structure" },
    Need {
        what: "pdftotext and pdftoppm",
        programs: &["pdftotext"],
        debian: "poppler-utils",
        why: "reads PDF pages back",
    },
];

/// What this machine allows.
struct Machine {
    has_apt: bool,
    is_root: bool,
    has_brew: bool,
}

/// What is to be done about missing programs.
#[derive(Debug, PartialEq, Eq)]
enum Remedy {
    Nothing,
    Install(Vec<&'static str>),
    Ask(String),
}

/// Sees to it that every need is met, or says what to type.
pub(crate) fn ensure(needs: &[&Need]) -> Outcome {
    let machine = Machine {
        has_apt: on_path("apt-get"),
        is_root: answer(Command::new("id").arg("-u")).is_some_and(|id| id.trim() == "0"),
        has_brew: on_path("brew"),
    };
    match remedy(&missing(needs, on_path), &machine) {
        Remedy::Nothing => Ok(()),
        Remedy::Ask(text) => Err(text),
        Remedy::Install(packages) => {
            println!("xtask: installing with apt-get, once: {}", packages.join(" "));
            install(&packages)?;
            match missing(needs, on_path).as_slice() {
                [] => Ok(()),
                still => Err(format!(
                    "apt-get succeeded, yet still missing: {}",
                    still.iter().map(|need| need.what).collect::<Vec<_>>().join(", ")
                )),
            }
        }
    }
}

fn missing<'a>(needs: &[&'a Need], found: impl Fn(&str) -> bool) -> Vec<&'a Need> {
    let lacking = |need: &&&Need| !need.programs.iter().any(|program| found(program));
    needs.iter().filter(lacking).copied().collect()
}

fn remedy(missing: &[&Need], machine: &Machine) -> Remedy {
    if missing.is_empty() {
        return Remedy::Nothing;
    }
    let packages: Vec<&str> = missing.iter().map(|need| need.debian).collect();
    if machine.has_apt && machine.is_root {
        return Remedy::Install(packages);
    }
    let listed: String =
        missing.iter().map(|need| format!("\n  {} ({})", need.what, need.why)).collect();
    let typed = if machine.has_apt {
        format!("type:\n  sudo apt-get install {}", packages.join(" "))
    } else if machine.has_brew {
        // Xcode's command line tools bring the compiler and make; poppler goes by its own name.
        let kegs: Vec<&str> = packages
            .iter()
            .filter(|&&package| package != "build-essential" && package != "make")
            .map(|&package| match package {
                "poppler-utils" => "poppler",
                "python3-venv" => "python3",
                other => other,
            })
            .collect();
        let compiler = if kegs.len() < packages.len() { "\n  xcode-select --install" } else { "" };
        let brew = if kegs.is_empty() {
            String::new()
        } else {
            format!("\n  brew install {}", kegs.join(" "))
        };
        format!("type:{compiler}{brew}")
    } else {
        "install them with your system's package manager".to_owned()
    };
    Remedy::Ask(format!("not on this machine:{listed}\n{typed}\nthen start again"))
}

/// Quietly: what apt-get says is shown only when it fails.
pub(crate) fn install(packages: &[&str]) -> Outcome {
    let apt = |words: &[&str]| {
        Command::new("apt-get")
            .args(["-qq", "-o", "Acquire::Retries=3", "-o", "DPkg::Lock::Timeout=120"])
            .args(words)
            .env("DEBIAN_FRONTEND", "noninteractive")
            .stdin(Stdio::null())
            .output()
            .map_err(|error| format!("apt-get could not be started: {error}"))
    };
    // The package lists of a fresh machine are empty; if refreshing fails, old lists may still do.
    apt(&["update"])?;
    let mut words = vec!["install", "--yes", "--no-install-recommends"];
    words.extend(packages);
    let installed = apt(&words)?;
    if installed.status.success() {
        return Ok(());
    }
    Err(format!(
        "apt-get install {} failed:\n{}",
        packages.join(" "),
        String::from_utf8_lossy(&installed.stderr).trim()
    ))
}

/// Whether a program of that name lies on the search path.
pub(crate) fn on_path(program: &str) -> bool {
    let in_folder = |folder: &Path| {
        folder.join(program).is_file()
            || (cfg!(windows) && folder.join(format!("{program}.exe")).is_file())
    };
    env::var_os("PATH").is_some_and(|path| env::split_paths(&path).any(|it| in_folder(&it)))
}

#[cfg(test)]
mod tests {
    use super::{BUILD, Machine, Need, Remedy, TESTS, missing, remedy};

    const DEBIAN_ROOT: Machine = Machine { has_apt: true, is_root: true, has_brew: false };
    const DEBIAN_USER: Machine = Machine { has_apt: true, is_root: false, has_brew: false };
    const MAC: Machine = Machine { has_apt: false, is_root: false, has_brew: true };
    const OTHER: Machine = Machine { has_apt: false, is_root: false, has_brew: false };

    fn all() -> Vec<&'static Need> {
        BUILD.iter().chain(TESTS).collect()
    }

    #[test]
    fn any_of_the_programs_meets_a_need() {
        let found = |program: &str| !matches!(program, "cc" | "gcc" | "make" | "gmake");
        assert_eq!(missing(&all(), found), Vec::<&Need>::new());
        assert_eq!(missing(&all(), |_| false).len(), all().len());
    }

    #[test]
    fn nothing_missing_asks_nothing() {
        assert_eq!(remedy(&[], &DEBIAN_ROOT), Remedy::Nothing);
    }

    #[test]
    fn on_debian_root_installs_and_others_are_told() {
        let lacking = missing(&all(), |program| !matches!(program, "nasm" | "yasm" | "pdftotext"));
        assert_eq!(remedy(&lacking, &DEBIAN_ROOT), Remedy::Install(vec!["nasm", "poppler-utils"]));
        let told = "not on this machine:\n  nasm (assembles libjpeg-turbo's fast paths)\n  \
            pdftotext and pdftoppm (reads PDF pages back)\ntype:\n  sudo apt-get install nasm \
            poppler-utils\nthen start again";
        assert_eq!(remedy(&lacking, &DEBIAN_USER), Remedy::Ask(told.to_owned()));
    }

    #[test]
    fn elsewhere_the_names_fit_the_system() {
        let lacking = missing(&all(), |_| false);
        let Remedy::Ask(mac) = remedy(&lacking, &MAC) else { panic!("a Mac was not asked") };
        assert!(mac.contains(
            "\n  xcode-select --install\n  brew install cmake nasm python3 openssl qpdf poppler\n"
        ));
        let Remedy::Ask(other) = remedy(&lacking, &OTHER) else { panic!("nobody was asked") };
        assert!(other.contains("your system's package manager"));
    }
}

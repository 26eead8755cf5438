//! `nearside man`: the manual pages.

use std::io::Write;
use std::path::PathBuf;

use clap::{Args, Command, CommandFactory};
use clap_mangen::Man;

use crate::arguments::Arguments;
use crate::data_folder::write_file;
use crate::failure::Failure;

/// Prints the manual page, or writes one for each command into a folder.
#[derive(Args, Debug)]
#[command(
    after_help = "Examples:\n  nearside man | man -l -\n  nearside man --into ~/.local/share/man/man1"
)]
pub(crate) struct ManArguments {
    /// Folder for the pages of all commands
    #[arg(long, value_name = "DIR")]
    into: Option<PathBuf>,
}

pub(crate) fn run(arguments: &ManArguments) -> Result<(), Failure> {
    let mut command = Arguments::command();
    command.build();
    let Some(folder) = &arguments.into else {
        std::io::stdout().lock().write_all(&page(command)?)?;
        return Ok(());
    };
    std::fs::create_dir_all(folder)
        .map_err(|error| Failure::failed(format!("{}: {error}", folder.display())))?;
    let mut pages = vec![("nearside".to_owned(), command)];
    let mut written = 0;
    while let Some((name, command)) = pages.pop() {
        for inner in command.get_subcommands().filter(|inner| inner.get_name() != "help") {
            pages.push((format!("{name}-{}", inner.get_name()), inner.clone()));
        }
        write_file(&folder.join(format!("{name}.1")), &page(command)?)?;
        written += 1;
    }
    writeln!(std::io::stdout().lock(), "{written} pages in {}", folder.display())?;
    Ok(())
}

fn page(command: Command) -> Result<Vec<u8>, Failure> {
    let mut text = Vec::new();
    Man::new(command).render(&mut text)?;
    Ok(text)
}

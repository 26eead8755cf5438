//! `nearside completions`: completions for a shell.

use clap::{Args, CommandFactory};
use clap_complete::Shell;

use crate::arguments::Arguments;
use crate::failure::Failure;

/// Prints the completions of a shell, to be loaded by it.
#[derive(Args, Debug)]
#[command(
    after_help = "Examples:\n  nearside completions bash > ~/.local/share/bash-completion/completions/nearside\n  nearside completions zsh > _nearside"
)]
pub(crate) struct CompletionsArguments {
    /// The shell
    shell: Shell,
}

pub(crate) fn run(arguments: &CompletionsArguments) -> Result<(), Failure> {
    let mut text = Vec::new();
    clap_complete::generate(arguments.shell, &mut Arguments::command(), "nearside", &mut text);
    std::io::Write::write_all(&mut std::io::stdout().lock(), &text)?;
    Ok(())
}

//! `nearside agreement sign`: the client's consent, given at this machine or on paper.

use std::io::{BufRead, IsTerminal, Write};

use clap::Args;
use inspection::{ConsentWay, DrawnSignature};
use report::content::Paper;
use serde_json::json;
use store::Sha256Hex;

use crate::data_folder::Place;
use crate::failure::Failure;
use crate::office::agreements::{self, Given, Taken};
use crate::open_job::OpenJob;

/// Records that the client agrees: they read the text here and type their name, or they signed it on paper.
///
/// Without --name the text is shown and the name is asked for. What is recorded: name, time, and the text as it was read.
#[derive(Args, Debug)]
#[command(
    after_help = "Examples:\n  nearside agreement sign 2026-001\n  nearside agreement sign 2026-001 --name \"A. Client\"\n  \
                        nearside agreement sign 2026-001 --name \"A. Client\" --on-paper --at 2026-06-03T18:12"
)]
pub(crate) struct SignArguments {
    /// The job's number
    job: String,
    /// Who agrees, by full name; asked for if left out
    #[arg(long, value_name = "NAME")]
    name: Option<String>,
    /// They signed on paper, and you enter it
    #[arg(long, requires = "name")]
    on_paper: bool,
    /// When they signed on paper, such as 2026-06-03 or 2026-06-03T18:12-04:00
    #[arg(long, value_name = "TIME", requires = "on_paper")]
    at: Option<String>,
    /// Print one JSON object
    #[arg(long)]
    json: bool,
}

pub(crate) fn run(place: &Place, arguments: &SignArguments) -> Result<(), Failure> {
    let mut job = OpenJob::open(place, &arguments.job)?;
    let before = job.inspection();
    if before.job.engagement.agreement.is_none() {
        return Err(Failure::input(format!(
            "nothing was put to the client of job {} yet",
            arguments.job
        ))
        .hint(format!("say what is agreed first: nearside agreement set {}", arguments.job)));
    }
    let text = agreements::letter(place, &job, Paper::Letter)?.text();
    let read = Sha256Hex::of(text.as_bytes());
    let typed = match &arguments.name {
        Some(name) => name.clone(),
        None => asked(&text)?,
    };
    let name = agreements::name(&typed).ok_or_else(|| {
        Failure::input(
            "a consent needs the full name of who agrees, on one line; nothing was recorded",
        )
    })?;
    let at = agreements::moment(arguments.at.as_deref())?;
    let by = place.person(&before.job.inspector)?;
    let given = Given {
        name: &name,
        how: if arguments.on_paper { ConsentWay::OnPaper } else { ConsentWay::Typed },
        at,
        address: "",
        drawn: DrawnSignature::default(),
        by: &by,
        text_sha256: Some(read.as_str()),
    };
    let taken = agreements::take(place, &mut job, &given)?;
    if taken == Taken::Outdated {
        return Err(Failure::input(
            "the agreement was changed while it was being read; nothing was recorded",
        )
        .hint("read it again, then sign"));
    }
    let now = job.inspection().job;
    let mut out = std::io::stdout().lock();
    if arguments.json {
        let object = json!({
            "job": arguments.job,
            "recorded": taken == Taken::Kept,
            "state": agreements::state_word(&now),
            "text_sha256": read.as_str(),
        });
        writeln!(out, "{object}")?;
        return Ok(());
    }
    if taken == Taken::Known {
        writeln!(out, "{name} has agreed to this already")?;
    }
    writeln!(out, "agreement: {}", agreements::state_in_words(&now))?;
    writeln!(out, "SHA-256 of the text: {read}")?;
    Ok(())
}

/// Shows the text and asks for the name of who agrees.
fn asked(text: &str) -> Result<String, Failure> {
    if !std::io::stdin().is_terminal() {
        return Err(Failure::input("nobody can be asked here")
            .hint("say who agrees with --name \"A. Client\""));
    }
    let mut out = std::io::stderr().lock();
    writeln!(out, "{text}")?;
    write!(out, "Type your full name to agree to this text, or press Enter to leave it: ")?;
    out.flush()?;
    let mut line = String::new();
    std::io::stdin().lock().read_line(&mut line)?;
    Ok(line)
}

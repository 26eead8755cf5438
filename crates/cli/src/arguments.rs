//! The command line as a whole: commands, options common to all, help.

use std::path::PathBuf;

use clap::{CommandFactory, Parser, Subcommand};

use crate::commands::agreement::AgreementArguments;
use crate::commands::archive::ArchiveArguments;
use crate::commands::assess::AssessArguments;
use crate::commands::backup::{BackupArguments, RestoreArguments};
use crate::commands::compare::CompareArguments;
use crate::commands::completions::CompletionsArguments;
use crate::commands::countersign::CountersignArguments;
use crate::commands::demo::DemoArguments;
use crate::commands::device::DeviceArguments;
use crate::commands::doctor::DoctorArguments;
use crate::commands::export::ExportArguments;
use crate::commands::finding::FindingArguments;
use crate::commands::formula::FormulaArguments;
use crate::commands::invoice::InvoiceArguments;
use crate::commands::job::JobArguments;
use crate::commands::key::KeyCommandArguments;
use crate::commands::man::ManArguments;
use crate::commands::mark::MarkArguments;
use crate::commands::missing::MissingArguments;
use crate::commands::page::PageArguments;
use crate::commands::pair::PairArguments;
use crate::commands::photo::PhotoArguments;
use crate::commands::plan::PlanArguments;
use crate::commands::point::PointArguments;
use crate::commands::read::ReadArguments;
use crate::commands::release::ReleaseArguments;
use crate::commands::report::ReportArguments;
use crate::commands::schedule::ScheduleArguments;
use crate::commands::sentence::SentenceArguments;
use crate::commands::serve::ServeArguments;
use crate::commands::share::ShareArguments;
use crate::commands::stamp::StampArguments;
use crate::commands::texts::TextsArguments;
use crate::commands::units::UnitsArguments;
use crate::commands::verify::VerifyArguments;
use crate::commands::why::WhyArguments;
use crate::data_folder::Place;

/// Inspects dwellings on wheels: from a plan and a day's readings and photos to a finished report.
#[derive(Parser, Debug)]
#[command(
    name = "nearside",
    version,
    propagate_version = true,
    after_help = "Examples:\n  \
        nearside demo --into demo-job\n  \
        nearside job new --kind travel_trailer --client \"A. Client\"\n  \
        nearside formula gas.saturation_pressure temperature=\"70 degF\""
)]
pub(crate) struct Arguments {
    /// Folder of the jobs and photos; the platform's own data folder if left out
    #[arg(long, global = true, value_name = "DIR", env = "NEARSIDE_DATA")]
    pub(crate) data: Option<PathBuf>,
    /// Who makes the entries; the job's inspector if left out
    #[arg(long, global = true, value_name = "NAME")]
    pub(crate) by: Option<String>,
    #[command(subcommand)]
    pub(crate) command: Command,
}

impl Arguments {
    /// Where the data is, and who is asking.
    pub(crate) fn place(&self) -> Place {
        Place { data: self.data.clone(), by: self.by.clone() }
    }
}

/// One command.
#[derive(Subcommand, Debug)]
pub(crate) enum Command {
    Job(JobArguments),
    Agreement(AgreementArguments),
    Schedule(ScheduleArguments),
    Read(ReadArguments),
    Point(PointArguments),
    Photo(PhotoArguments),
    Mark(MarkArguments),
    Finding(FindingArguments),
    Sentence(SentenceArguments),
    Missing(MissingArguments),
    Assess(AssessArguments),
    Why(WhyArguments),
    Report(ReportArguments),
    Page(PageArguments),
    Release(ReleaseArguments),
    Countersign(CountersignArguments),
    Stamp(StampArguments),
    Export(ExportArguments),
    Verify(VerifyArguments),
    Compare(CompareArguments),
    Key(KeyCommandArguments),
    Share(ShareArguments),
    Invoice(InvoiceArguments),
    Archive(ArchiveArguments),
    Demo(DemoArguments),
    Serve(ServeArguments),
    Pair(PairArguments),
    Device(DeviceArguments),
    Backup(BackupArguments),
    Restore(RestoreArguments),
    Doctor(DoctorArguments),
    Formula(FormulaArguments),
    Units(UnitsArguments),
    Plan(PlanArguments),
    Texts(TextsArguments),
    Completions(CompletionsArguments),
    Man(ManArguments),
}

/// Prints the help of a command, as `--help` would.
pub(crate) fn print_help_of(path: &[&str]) {
    let mut command = Arguments::command();
    command.build();
    let mut found = &mut command;
    for name in path {
        match found.find_subcommand_mut(name) {
            Some(inner) => found = inner,
            None => return,
        }
    }
    // A closed pipe behind `--help | head` is not worth a message.
    found.print_long_help().ok();
}

//! `nearside archive search`: words in any job.

use std::io::Write;

use ::archive::{Hit, Place as Where, Searched};
use clap::Args;

use super::up_to_date;
use crate::data_folder::Place;
use crate::failure::Failure;

const BOLD: &str = "\u{1b}[1m";
const PLAIN: &str = "\u{1b}[0m";

/// Finds the jobs that have all these words: in findings, notes, captions, unit, client, site, titles of points and names
/// of readings.
///
/// A word of three letters and more also finds words that begin with it. Words in quotation marks are found as they
/// stand, one after the other. Neither capitals nor accents count: banera finds bañera.
#[derive(Args, Debug)]
#[command(after_help = "Examples:\n  \
        nearside archive search regul lock\n  \
        nearside archive search '\"does not lock up\"' --most 5\n  \
        nearside archive search 1ABCD23E --json")]
pub(crate) struct SearchArguments {
    /// Words to find; all of them must be there
    #[arg(required = true, value_name = "WORDS")]
    words: Vec<String>,
    /// How many jobs to show
    #[arg(long, default_value_t = 20, value_name = "COUNT")]
    most: usize,
    /// Print one JSON object
    #[arg(long)]
    json: bool,
}

pub(crate) fn run(place: &Place, arguments: &SearchArguments) -> Result<(), Failure> {
    let typed = typed(&arguments.words);
    let found = up_to_date(place)?.search(&typed, arguments.most, None)?;
    if arguments.json {
        writeln!(std::io::stdout().lock(), "{}", found.json())?;
        return Ok(());
    }
    tell(&mut anstream::stdout().lock(), &found)
}

/// The words as one text. What the shell took out of quotation marks with a space in it was a phrase.
fn typed(words: &[String]) -> String {
    let words = words.iter().map(|word| {
        let phrase = words.len() > 1 && word.contains(' ') && !word.contains('"');
        if phrase { format!("\"{word}\"") } else { word.clone() }
    });
    words.collect::<Vec<_>>().join(" ")
}

fn tell(out: &mut impl Write, found: &Searched) -> Result<(), Failure> {
    match found.jobs {
        0 => writeln!(out, "no job has all these words")?,
        1 => writeln!(out, "1 job")?,
        several if several > found.hits.len() => {
            writeln!(out, "{several} jobs; the best {} of them", found.hits.len())?;
        }
        several => writeln!(out, "{several} jobs")?,
    }
    for hit in &found.hits {
        job(out, hit)?;
    }
    Ok(())
}

fn job(out: &mut impl Write, hit: &Hit) -> Result<(), Failure> {
    let day = hit.job.row.visited.map(|day| format!("{day}, ")).unwrap_or_default();
    writeln!(out, "\n{}  {day}{}", hit.job.row.job, hit.job.line())?;
    for place in &hit.places {
        writeln!(out, "  {}: {}", named(place), marked(place))?;
    }
    if hit.more > 0 {
        writeln!(
            out,
            "  and {} more {}",
            hit.more,
            if hit.more == 1 { "place" } else { "places" }
        )?;
    }
    Ok(())
}

fn named(place: &Where) -> String {
    let of = if place.title.is_empty() { &place.point } else { &place.title };
    let kind = place.kind.word();
    if of.is_empty() { kind.to_owned() } else { format!("{kind}, {of}") }
}

fn marked(place: &Where) -> String {
    let parts = place.snippet.parts.iter();
    parts
        .map(|(text, found)| if *found { format!("{BOLD}{text}{PLAIN}") } else { text.clone() })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::typed;

    #[test]
    fn what_the_shell_took_apart_is_a_phrase_again() {
        let words =
            |words: &[&str]| typed(&words.iter().map(|it| (*it).to_owned()).collect::<Vec<_>>());
        assert_eq!(words(&["gas", "lock up"]), "gas \"lock up\"");
        assert_eq!(words(&["gas lock"]), "gas lock");
        assert_eq!(words(&["\"lock up\" gas"]), "\"lock up\" gas");
    }
}

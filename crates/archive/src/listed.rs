//! A job as lists show it.

use inspection::DwellingKind;
use serde_json::{Value as Json, json};

use crate::rows::JobRow;

/// A job with its client, for lists and results; and what was wrong if its record could not be read.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct ListedJob {
    /// Its row.
    pub row: JobRow,
    /// The client's name.
    pub client: String,
    /// Why its record could not be read; empty if it could.
    pub trouble: String,
}

impl ListedJob {
    /// `2019 travel trailer, Maker Model, for A. Client`, or what is wrong with it.
    #[must_use]
    pub fn line(&self) -> String {
        if !self.trouble.is_empty() {
            return self.trouble.clone();
        }
        let row = &self.row;
        let mut line = row.model_year.map(|year| format!("{year} ")).unwrap_or_default();
        line.push_str(row.kind.title());
        let named = format!("{} {}", row.maker, row.model);
        if !named.trim().is_empty() {
            line.push_str(", ");
            line.push_str(named.trim());
        }
        if !self.client.is_empty() {
            line.push_str(", for ");
            line.push_str(&self.client);
        }
        line
    }

    /// The same as JSON, for the index and for programs.
    #[must_use]
    pub fn json(&self) -> Json {
        let row = &self.row;
        json!({
            "job": row.job,
            "line": self.line(),
            "client": self.client,
            "kind": row.kind.word(),
            "maker": row.maker,
            "model": row.model,
            "model_year": row.model_year,
            "built": row.built.map(|day| day.to_string()),
            "visited": row.visited.map(|day| day.to_string()),
            "age": row.age,
            "region": row.region,
            "purpose": row.purpose,
            "points": row.points,
            "examined": row.examined,
            "findings": row.findings,
            "trouble": (!self.trouble.is_empty()).then_some(&self.trouble),
        })
    }

    /// Read back from the index; what cannot be read is left as it is in an empty row.
    pub(crate) fn from_json(job: &str, text: &str) -> Self {
        let json: Json = serde_json::from_str(text).unwrap_or_default();
        let word = |key: &str| json[key].as_str().unwrap_or_default().to_owned();
        let number = |key: &str| json[key].as_i64();
        let count = |key: &str| number(key).and_then(|it| u32::try_from(it).ok()).unwrap_or(0);
        let row = JobRow {
            job: job.to_owned(),
            kind: json["kind"].as_str().and_then(DwellingKind::from_word).unwrap_or_default(),
            maker: word("maker"),
            model: word("model"),
            model_year: number("model_year").and_then(|it| i16::try_from(it).ok()),
            built: json["built"].as_str().and_then(|day| day.parse().ok()),
            visited: json["visited"].as_str().and_then(|day| day.parse().ok()),
            age: number("age").and_then(|it| u16::try_from(it).ok()),
            region: word("region"),
            purpose: word("purpose"),
            points: count("points"),
            examined: count("examined"),
            findings: count("findings"),
        };
        Self { row, client: word("client"), trouble: word("trouble") }
    }
}

#[cfg(test)]
mod tests {
    use jiff::civil::date;

    use super::*;

    #[test]
    fn a_row_reads_back_as_it_was_written() {
        let row = JobRow {
            job: "2026-001".into(),
            kind: DwellingKind::FifthWheel,
            maker: "Maker \"x\"".into(),
            model: "Modèle".into(),
            model_year: Some(2019),
            built: Some(date(2018, 11, 1)),
            visited: Some(date(2026, 6, 12)),
            age: Some(7),
            region: "US-VT".into(),
            purpose: "purchase".into(),
            points: 150,
            examined: 120,
            findings: 9,
        };
        let job = ListedJob { row, client: "A. Client".into(), trouble: String::new() };
        assert_eq!(ListedJob::from_json("2026-001", &job.json().to_string()), job);
        assert_eq!(job.line(), "2019 fifth wheel, Maker \"x\" Modèle, for A. Client");
        assert_eq!(ListedJob::from_json("x", "no JSON").row.job, "x");
    }
}

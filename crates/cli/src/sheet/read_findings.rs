//! Reading a sheet's free findings, and the decisions on drafted ones.

use inspection::{FindingId, PointId, TimeToAct, Use};

use super::read::Against;
use super::read_points::{photos, unknown_point};
use super::toml::Table;
use super::{Decision, Filled, FilledFinding};
use crate::commands::near_hint;

pub(crate) fn read(root: &Table<'_>, against: &Against<'_>, filled: &mut Filled) {
    for table in root.list("finding") {
        let finding = finding(&table, against);
        table.finish();
        filled.findings.extend(finding);
    }
    for table in root.list("decide") {
        let decision = decision(&table);
        table.finish();
        filled.decisions.extend(decision);
    }
}

fn finding(table: &Table<'_>, against: &Against<'_>) -> Option<FilledFinding> {
    let mut sound = true;
    let id = table.filled("id").map(|text| FindingId::from(text.value.as_str()));
    if let Some(id) = &id
        && !against.inspection.findings.contains_key(id)
    {
        table.file.problem(
            table.spot(),
            format!("the record has no finding `{id}`"),
            "leave `id` out to write a new one",
        );
        sound = false;
    }
    let point = table.filled("point").map(|text| {
        if against.plan.point(&text.value).is_none() {
            let (message, hint) = unknown_point(against.plan, &text.value);
            table.file.problem(text.spot, message, hint);
        }
        PointId::from(text.value)
    });
    let title = table.filled("title").map_or_else(String::new, |text| text.value);
    if title.is_empty() {
        table.file.problem(table.spot(), "the finding has no title", "write title = \"…\"");
        sound = false;
    }
    let mut stops = Vec::new();
    for text in table.texts("stops") {
        match Use::from_word(&text.value) {
            Some(one) if stops.contains(&one) => {}
            Some(one) => stops.push(one),
            None => table.file.problem(
                text.spot,
                format!("no use is called `{}`", text.value),
                near_hint(&text.value, Use::ALL.map(Use::word)),
            ),
        }
    }
    let when = match table.filled("when") {
        None => Some(TimeToAct::Soon),
        Some(text) => TimeToAct::from_words(&text.value).or_else(|| {
            table.file.problem(
                text.spot,
                format!("`{}` is no time to act", text.value),
                "write \"before use\", \"soon\" or \"in time\"",
            );
            None
        }),
    };
    let finding = FilledFinding {
        id,
        point,
        title,
        statement: table.filled("statement").map_or_else(String::new, |text| text.value),
        stops,
        when: when?,
        who: table.filled("who").map_or_else(String::new, |text| text.value),
        photos: photos(table, against),
    };
    sound.then_some(finding)
}

fn decision(table: &Table<'_>) -> Option<Decision> {
    let key = table.filled("key");
    let decision = table.filled("decision");
    let reason = table.filled("reason").map_or_else(String::new, |text| text.value);
    let Some(key) = key else {
        table.file.problem(table.spot(), "the decision has no key", "write key = \"point/defect\"");
        return None;
    };
    let Some(decision) = decision else {
        table.file.problem(
            table.spot(),
            format!("nothing is decided on {}", key.value),
            "write decision = \"confirm\" or decision = \"withdraw\" with a reason",
        );
        return None;
    };
    match decision.value.as_str() {
        "confirm" => Some(Decision { key, withdraw: None }),
        "withdraw" if reason.is_empty() => {
            table.file.problem(
                decision.spot,
                format!("{} is withdrawn, and no reason is given", key.value),
                "write reason = \"…\"",
            );
            None
        }
        "withdraw" => Some(Decision { key, withdraw: Some(reason) }),
        other => {
            table.file.problem(
                decision.spot,
                format!("`{other}` is no decision"),
                "write \"confirm\" or \"withdraw\"",
            );
            None
        }
    }
}

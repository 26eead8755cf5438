//! The list of findings and its keys.

use field::Act;
use field::view::{FindingRow, FindingStanding};
use leptos::prelude::*;

use super::super::marks::{Icon, Shape};
use super::super::tray::focus;
use crate::app::app;

/// The name of its row.
pub(super) fn option_id(key: &str) -> String {
    let plain = |letter: char| if letter.is_ascii_alphanumeric() { letter } else { '-' };
    format!("finding-{}", key.chars().map(plain).collect::<String>())
}

/// Scrolls a list of findings so that one of its rows is seen.
pub(in super::super) fn in_sight(id: &str) {
    let document = crate::browser::window().and_then(|it| it.document());
    if let Some(element) = document.and_then(|it| it.get_element_by_id(id)) {
        // The list alone scrolls: the page stays where it is.
        let list = element.closest(".finding-list").ok().flatten();
        let (Some(list), row) = (list, element.get_bounding_client_rect()) else { return };
        let seen = list.get_bounding_client_rect();
        #[allow(clippy::cast_possible_truncation, reason = "pixels of a screen")]
        let by = if row.top() < seen.top() {
            (row.top() - seen.top()).floor() as i32
        } else if row.bottom() > seen.bottom() {
            (row.bottom() - seen.bottom()).ceil() as i32
        } else {
            0
        };
        list.set_scroll_top(list.scroll_top() + by);
    }
}

/// A finding in a line.
#[component]
pub(super) fn Row(row: FindingRow, at_hand: RwSignal<String>) -> impl IntoView {
    let (of, chosen) = (row.key.clone(), row.key.clone());
    let here = Memo::new(move |_| at_hand.with(|key| *key == of));
    let shape = match row.standing {
        FindingStanding::Drafted => Shape::Begun,
        FindingStanding::Confirmed | FindingStanding::Corrected => Shape::Done,
        FindingStanding::Withdrawn(_) | FindingStanding::Merged(_) => Shape::NotExamined,
    };
    let number = row.number.map(|number| format!("{number} · "));
    view! {
        <div class="finding-row" role="option" id=option_id(&row.key) class:at-hand=here aria-selected=move || here.get().to_string()
            on:click=move |_| { at_hand.set(chosen.clone()); focus("finding-list"); }>
            <Icon shape/>
            <span class="row-words">
                <span class="row-title">{number}{row.title}</span>
                <span class="row-facts"><span>{row.point_title}</span>
                    {(!row.stops.is_empty()).then(|| view! { <span class="fact"><Icon shape=Shape::Bad/></span> })}
                </span>
            </span>
        </div>
    }
}

/// The keys of the list. They work where the list has the focus, and nowhere else.
pub(super) fn keys(
    rows: Memo<Vec<FindingRow>>,
    at_hand: RwSignal<String>,
    event: &web_sys::KeyboardEvent,
) {
    if event.ctrl_key() || event.alt_key() || event.meta_key() {
        return;
    }
    let rows = rows.get_untracked();
    let here = at_hand.get_untracked();
    let at = rows.iter().position(|row| row.key == here).unwrap_or(0);
    let go_to = |to: usize| {
        if let Some(row) = rows.get(to.min(rows.len().saturating_sub(1))) {
            at_hand.set(row.key.clone());
            in_sight(&option_id(&row.key));
        }
    };
    match event.key().as_str() {
        "ArrowDown" => go_to(at + 1),
        "ArrowUp" => go_to(at.saturating_sub(1)),
        "Home" => go_to(0),
        "End" => go_to(rows.len()),
        "Enter" => focus("finding-heading"),
        _ if !app().settings().with_untracked(|settings| settings.letter_keys) => return,
        "y" => {
            // The next that nobody decided on comes to hand.
            let drafted =
                |row: &&FindingRow| row.standing == FindingStanding::Drafted && row.key != here;
            let next = rows
                .iter()
                .skip(at)
                .chain(rows.iter().take(at))
                .find(drafted)
                .map(|row| row.key.clone());
            if app().act(Act::Confirm { key: here })
                && let Some(next) = next
            {
                in_sight(&option_id(&next));
                at_hand.set(next);
            }
        }
        "w" => focus("withdraw"),
        "e" => focus("finding-statement"),
        "t" => focus("stock-find"),
        _ => return,
    }
    event.prevent_default();
    event.stop_propagation();
}

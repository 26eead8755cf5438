//! Marks over a photo: shown, and drawn with mouse, finger or keys. The photo itself is never altered.

use field::Act;
use field::view::{MarkRow, PhotoSheet};
use inspection::{Crop, Mark, PhotoId};
use leptos::ev::PointerEvent;
use leptos::prelude::*;
use leptos::svg::Svg;

use super::{report_language, seen};
use crate::app::{app, say, say_with, texts};

/// What the drawing is as wide and high as, where the photo's size is not known.
const UNKNOWN: (u32, u32) = (1600, 1200);
/// How far a key moves the place, in parts of the picture: usually, with Shift, and with Alt.
const STEPS: [f64; 3] = [0.02, 0.1, 0.002];

/// What is drawn next.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Tool {
    Arrow,
    Box,
    Circle,
    Words,
    Blur,
    /// No mark: the part that is shown.
    Crop,
}

impl Tool {
    const ALL: [Self; 6] =
        [Self::Arrow, Self::Box, Self::Circle, Self::Words, Self::Blur, Self::Crop];

    fn key(self) -> &'static str {
        match self {
            Self::Arrow => "mark-arrow",
            Self::Box => "mark-box",
            Self::Circle => "mark-circle",
            Self::Words => "mark-words",
            Self::Blur => "mark-blur",
            Self::Crop => "mark-crop",
        }
    }

    fn of(mark: &Mark) -> Self {
        match mark {
            Mark::Arrow { .. } => Self::Arrow,
            Mark::Box { .. } => Self::Box,
            Mark::Circle { .. } => Self::Circle,
            Mark::Words { .. } => Self::Words,
            Mark::Blur { .. } => Self::Blur,
        }
    }

    /// Its mark; none for what draws none.
    fn mark(self, from: (f64, f64), to: (f64, f64), text: String) -> Option<Mark> {
        Some(match self {
            Self::Arrow => Mark::Arrow { from, to },
            Self::Box => Mark::Box { from, to },
            Self::Circle => Mark::Circle { from, to },
            Self::Words => Mark::Words { at: to, text },
            Self::Blur => Mark::Blur { from, to },
            Self::Crop => return None,
        })
    }

    fn hint(self) -> &'static str {
        match self {
            Self::Words => "mark-hint-words",
            Self::Crop => "mark-hint-crop",
            Self::Arrow | Self::Box | Self::Circle | Self::Blur => "mark-hint",
        }
    }
}

/// A mark where it lies on what is shown.
fn in_view(view: Option<Crop>, mark: &Mark) -> Option<Mark> {
    view.map_or_else(|| Some(mark.clone()), |view| view.mark(mark))
}

/// The photo with its marks.
#[component]
pub(super) fn Marked(id: PhotoId) -> impl IntoView {
    let of = id.clone();
    let sheet = seen(move |visit| visit.photo(&of));
    view! {
        {move || sheet.get().map(|sheet| {
            let view = sheet.crop;
            let size = size_of(&sheet, view);
            let marks = sheet.marks.iter().filter_map(|row| Some(shape(&in_view(view, &row.mark)?, size))).collect_view();
            view! {
                <div class="marked">
                    <Picture id=id.clone() sheet view/>
                    <svg class="drawn" viewBox=format!("0 0 {} {}", size.0, size.1) aria-hidden="true" focusable="false">{marks}</svg>
                </div>
            }
        })}
    }
}

/// The upright copy as soon as it is there; before that the thumbnail.
#[component]
fn Picture(id: PhotoId, sheet: PhotoSheet, view: Option<Crop>) -> impl IntoView {
    let full = app().full(&sheet.shown, view);
    // The small picture shows the part that is kept, so it stands in for that alone.
    let small = (view == sheet.crop).then(|| app().picture(id.as_str()));
    let (width, height) = if sheet.size.0 > 0 { size_of(&sheet, view) } else { (0, 0) };
    let trouble = sheet.trouble();
    let alt = if sheet.caption.is_empty() { say("photo-no-caption") } else { sheet.caption };
    move || {
        match full.get().or_else(|| small.and_then(|small| small.get())) {
        Some(address) => view! {
            <img class="whole" src=address alt=alt.clone() width=(width > 0).then_some(width) height=(height > 0).then_some(height) draggable="false"/>
        }
        .into_any(),
        None => trouble.clone().map(|said| view! { <p class="bad">{texts().of(&said)}</p> }).into_any(),
    }
    }
}

/// Width and height of what is shown of the copy.
fn size_of(sheet: &PhotoSheet, view: Option<Crop>) -> (u32, u32) {
    let whole = if sheet.size.0 > 0 && sheet.size.1 > 0 { sheet.size } else { UNKNOWN };
    view.map_or(whole, |view| view.size(whole))
}

/// The photo with its marks, and what draws more.
#[component]
pub(super) fn Drawing(id: PhotoId) -> impl IntoView {
    let of = id.clone();
    let sheet = seen(move |visit| visit.photo(&of));
    let crop = Memo::new(move |_| sheet.with(|sheet| sheet.as_ref().and_then(|sheet| sheet.crop)));
    let marks = Memo::new(move |_| {
        sheet.with(|sheet| sheet.as_ref().map(|sheet| sheet.marks.clone()).unwrap_or_default())
    });
    let tool = RwSignal::new(Tool::Arrow);
    // Whoever cuts sees the whole photo, turned as it is kept; else what is kept is shown.
    let view = Memo::new(move |_| match (tool.get(), crop.get()) {
        (Tool::Crop, Some(Crop { turns, .. })) => {
            (turns > 0).then_some(Crop { turns, ..Crop::WHOLE })
        }
        (_, crop) => crop,
    });
    let size = Memo::new(move |_| {
        sheet.with(|sheet| sheet.as_ref().map_or(UNKNOWN, |sheet| size_of(sheet, view.get())))
    });
    let (start, place) = (RwSignal::new(None::<(f64, f64)>), RwSignal::new((0.5, 0.5)));
    let (words, happened) = (RwSignal::new(String::new()), RwSignal::new(String::new()));
    // By keys the place is shown; a pointer is where it is.
    let by_keys = RwSignal::new(false);
    let board: NodeRef<Svg> = NodeRef::new();
    let draws = id.clone();
    let cut = {
        let photo = id.clone();
        move |crop: Option<Crop>, said: &'static str| {
            start.set(None);
            if app().act(Act::CropPhoto { photo: photo.clone(), crop }) {
                happened.set(say(said));
            }
        }
    };
    let (cut_drawn, cut_key, cut_turned, cut_whole) = (cut.clone(), cut.clone(), cut.clone(), cut);
    let turned = move || {
        let crop = crop.get_untracked().unwrap_or(Crop::WHOLE);
        Some(Crop { turns: (crop.turns + 1) % 4, ..crop })
    };
    let draw = move |from: (f64, f64), to: (f64, f64)| {
        // What is kept are places on the whole photo.
        let whole = |place| view.get_untracked().map_or(place, |view| view.of_whole(place));
        let (from, to) = (whole(from), whole(to));
        let Some(mark) = tool.get_untracked().mark(from, to, words.get_untracked()) else {
            let turns = crop.get_untracked().map_or(0, |crop| crop.turns);
            return cut_drawn(Some(Crop { from, to, turns }), "mark-cropped");
        };
        start.set(None);
        if app().act(Act::MarkPhoto { photo: draws.clone(), mark_id: None, mark }) {
            happened.set(say_with("mark-drawn", &[("what", &say(tool.get_untracked().key()))]));
            words.set(String::new());
        }
    };
    let (by_pointer, by_key) = (draw.clone(), draw);
    let at = move |event: &PointerEvent| {
        let board = board.get_untracked()?.get_bounding_client_rect();
        let part =
            |at: f64, from: f64, length: f64| ((at - from) / length.max(1.0)).clamp(0.0, 1.0);
        let across = part(f64::from(event.client_x()), board.left(), board.width());
        Some((across, part(f64::from(event.client_y()), board.top(), board.height())))
    };
    let erased = id.clone();
    view! {
        <fieldset class="choice mark-tools">
            <legend>{move || say("mark-tools")}</legend>
            <div class="choice-buttons">
                {Tool::ALL.into_iter().map(|one| view! {
                    <button type="button" aria-pressed=move || (tool.get() == one).to_string()
                        on:click=move |_| { tool.set(one); start.set(None); }>{move || say(one.key())}</button>
                }).collect_view()}
            </div>
        </fieldset>
        <Show when=move || tool.get() == Tool::Words>
            <div class="field">
                <label for="mark-text">{move || say("mark-text")}</label>
                <input id="mark-text" type="text" autocomplete="off" spellcheck="true" lang=report_language prop:value=move || words.get()
                    data-unsaved=move || (!words.get().is_empty()).then_some("true")
                    on:input=move |event| words.set(event_target_value(&event))/>
            </div>
        </Show>
        <p class="hint" id="mark-hint">{move || say(tool.get().hint())}</p>
        <Show when=move || tool.get() == Tool::Crop>
            <p class="actions">
                <button type="button" id="crop-turn" on:click={let cut = cut_turned.clone(); move |_| cut(turned(), "mark-turned")}>{move || say("mark-turn")}</button>
                {
                    let cut = cut_whole.clone();
                    move || crop.get().map(|_| {
                        let cut = cut.clone();
                        view! { <button type="button" id="crop-whole" on:click=move |_| cut(None, "mark-whole-again")>{say("mark-whole")}</button> }
                    })
                }
            </p>
        </Show>
        <div class="marked board" id="mark-board" tabindex="0" role="group" aria-label=move || say("mark-board") aria-describedby="mark-hint"
            on:blur=move |_| by_keys.set(false)
            on:keydown=move |event| {
                let step = if event.shift_key() { STEPS[1] } else if event.alt_key() { STEPS[2] } else { STEPS[0] };
                let moved = |(across, down): (f64, f64)| {
                    place.update(|place| *place = ((place.0 + across * step).clamp(0.0, 1.0), (place.1 + down * step).clamp(0.0, 1.0)));
                    let percent = |part: f64| format!("{:.0}", part * 100.0);
                    let (across, down) = place.get_untracked();
                    happened.set(say_with("mark-at", &[("across", &percent(across)), ("down", &percent(down))]));
                };
                match event.key().as_str() {
                    "ArrowLeft" => moved((-1.0, 0.0)),
                    "ArrowRight" => moved((1.0, 0.0)),
                    "ArrowUp" => moved((0.0, -1.0)),
                    "ArrowDown" => moved((0.0, 1.0)),
                    "Escape" => start.set(None),
                    "t" | "w" if tool.get_untracked() == Tool::Crop && app().settings().with_untracked(|it| it.letter_keys) => {
                        if event.key() == "t" { cut_key(turned(), "mark-turned") } else { cut_key(None, "mark-whole-again") }
                    }
                    "Enter" => match start.get_untracked() {
                        None if tool.get_untracked() != Tool::Words => {
                            start.set(Some(place.get_untracked()));
                            happened.set(say("mark-begun"));
                        }
                        begun => by_key(begun.unwrap_or_default(), place.get_untracked()),
                    },
                    _ => return,
                }
                by_keys.set(true);
                event.prevent_default();
                event.stop_propagation();
            }>
            {move || sheet.get().map(|sheet| { let view = view.get(); view! { <Picture id=id.clone() sheet view/> } })}
            <svg class="drawn" node_ref=board viewBox=move || { let (width, height) = size.get(); format!("0 0 {width} {height}") } aria-hidden="true" focusable="false"
                on:pointerdown=move |event| {
                    let Some(here) = at(&event) else { return };
                    event.prevent_default();
                    by_keys.set(false);
                    if let Some(board) = board.get_untracked() {
                        // Without it, a mark that ends outside the picture is only not finished.
                        drop(board.set_pointer_capture(event.pointer_id()));
                    }
                    place.set(here);
                    start.set(Some(here));
                }
                on:pointermove=move |event| if let (Some(here), true) = (at(&event), start.get_untracked().is_some()) { place.set(here) }
                on:pointercancel=move |_| start.set(None)
                on:pointerup=move |event| {
                    let (Some(from), Some(to)) = (start.get_untracked(), at(&event)) else { return };
                    by_pointer(from, to);
                }>
                {move || marks.get().iter().filter_map(|row| Some(shape(&in_view(view.get(), &row.mark)?, size.get()))).collect_view()}
                {move || {
                    let one = tool.get();
                    let begun = start.get().filter(|_| one != Tool::Words).map(|from| (from, place.get()));
                    if one == Tool::Crop {
                        let kept = crop.get().filter(|crop| crop.cuts()).map(|crop| {
                            let on = |place| view.get().map_or(place, |view| view.shown(place));
                            (on(crop.from), on(crop.to))
                        });
                        return begun.or(kept).map(|(from, to)| cut_off(from, to, size.get()));
                    }
                    begun.and_then(|(from, to)| Some(shape(&one.mark(from, to, String::new())?, size.get())))
                }}
                {move || by_keys.get().then(|| cross(place.get(), size.get()))}
            </svg>
        </div>
        <p role="status" class="unseen" id="mark-happened">{move || happened.get()}</p>
        <ul class="mark-list" aria-label=move || say("mark-list")>
            {move || marks.get().into_iter().map(|row| view! { <Listed photo=erased.clone() row/> }).collect_view()}
        </ul>
    }
}

#[component]
fn Listed(photo: PhotoId, row: MarkRow) -> impl IntoView {
    let kind = say(Tool::of(&row.mark).key());
    let words = match &row.mark {
        Mark::Words { text, .. } => format!("{kind}: {text}"),
        Mark::Arrow { .. } | Mark::Box { .. } | Mark::Circle { .. } | Mark::Blur { .. } => kind,
    };
    let name = say_with("mark-erase", &[("what", &words)]);
    view! {
        <li>
            <span>{words}</span>
            <button class="plain" aria-label=name on:click=move |_| {
                app().act(Act::EraseMark { photo: photo.clone(), mark_id: row.id.clone() });
            }>{say("mark-take-off")}</button>
        </li>
    }
}

/// A mark as it is drawn: once broad and light, once narrow and dark, so that it shows on any picture.
fn shape(mark: &Mark, (width, height): (u32, u32)) -> AnyView {
    let (wide, high) = (f64::from(width), f64::from(height));
    let spot = |(across, down): (f64, f64)| (across * wide, down * high);
    let unit = wide.max(high) / 100.0;
    let path = match mark {
        Mark::Arrow { from, to } => {
            let ((x0, y0), (x1, y1)) = (spot(*from), spot(*to));
            let (dx, dy) = (x1 - x0, y1 - y0);
            let length = (dx * dx + dy * dy).sqrt().max(0.001);
            let (along, beside) = (dx / length * 3.0 * unit, dy / length * 3.0 * unit);
            format!(
                "M{x0:.1} {y0:.1}L{x1:.1} {y1:.1}M{:.1} {:.1}L{x1:.1} {y1:.1}L{:.1} {:.1}",
                x1 - along + beside * 0.6,
                y1 - beside - along * 0.6,
                x1 - along - beside * 0.6,
                y1 - beside + along * 0.6,
            )
        }
        Mark::Box { from, to } | Mark::Blur { from, to } => {
            let ((x0, y0), (x1, y1)) = (spot(*from), spot(*to));
            format!("M{x0:.1} {y0:.1}H{x1:.1}V{y1:.1}H{x0:.1}Z")
        }
        Mark::Circle { from, to } => {
            let ((x0, y0), (x1, y1)) = (spot(*from), spot(*to));
            let (rx, ry) = ((x1 - x0).abs() / 2.0, (y1 - y0).abs() / 2.0);
            let (left, middle) = (x0.min(x1), y0.midpoint(y1));
            format!(
                "M{left:.1} {middle:.1}a{rx:.1} {ry:.1} 0 1 0 {:.1} 0a{rx:.1} {ry:.1} 0 1 0 {:.1} 0",
                2.0 * rx,
                -2.0 * rx
            )
        }
        Mark::Words { at, text } => {
            let (x, y) = spot(*at);
            let size = format!("{:.1}", unit * 3.2);
            return view! {
                <text class="halo" x=x y=y font-size=size.clone()>{text.clone()}</text>
                <text class="ink" x=x y=y font-size=size>{text.clone()}</text>
            }
            .into_any();
        }
    };
    let class = if matches!(mark, Mark::Blur { .. }) { "ink blurred" } else { "ink" };
    view! { <path class="halo" d=path.clone()></path><path class=class d=path></path> }.into_any()
}

/// What lies beside the part that is shown, darkened.
fn cut_off(from: (f64, f64), to: (f64, f64), (width, height): (u32, u32)) -> AnyView {
    let (wide, high) = (f64::from(width), f64::from(height));
    let (x0, x1) = (from.0.min(to.0) * wide, from.0.max(to.0) * wide);
    let (y0, y1) = (from.1.min(to.1) * high, from.1.max(to.1) * high);
    let part = format!("M{x0:.1} {y0:.1}V{y1:.1}H{x1:.1}V{y0:.1}Z");
    view! {
        <path class="cut-off" d=format!("M0 0H{wide}V{high}H0Z{part}")></path>
        <path class="halo" d=part.clone()></path><path class="ink" d=part></path>
    }
    .into_any()
}

/// The place that keys move.
fn cross(at: (f64, f64), (width, height): (u32, u32)) -> AnyView {
    let (wide, high) = (f64::from(width), f64::from(height));
    let (x, y, reach) = (at.0 * wide, at.1 * high, wide.max(high) / 30.0);
    let path = format!(
        "M{:.1} {y:.1}h{:.1}M{x:.1} {:.1}v{:.1}",
        x - reach,
        2.0 * reach,
        y - reach,
        2.0 * reach
    );
    view! { <path class="halo" d=path.clone()></path><path class="ink" d=path></path> }.into_any()
}

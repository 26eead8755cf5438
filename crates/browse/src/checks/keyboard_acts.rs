//! What is done by keys alone, act by act, each with its effect.

use crate::keys::{DOWN, ENTER, SPACE};

/// One act: where the focus goes, what is pressed, and what is true afterwards.
pub(super) struct Act {
    pub(super) what: &'static str,
    /// A JavaScript expression of `it`, the element with the focus; none where the focus is there already.
    pub(super) at: &'static str,
    pub(super) press: &'static str,
    /// A JavaScript expression.
    pub(super) then: &'static str,
}

const fn act(what: &'static str, at: &'static str, press: &'static str, then: &'static str) -> Act {
    Act { what, at, press, then }
}

pub(super) const PAIRING: &[Act] = &[
    act(
        "a name",
        "it.id === 'person'",
        "Dane Hollworth",
        "document.activeElement.value === 'Dane Hollworth'",
    ),
    act("pairing", "", ENTER, "document.querySelector('#jobs-here')"),
];

pub(super) const NEW_JOB: &[Act] = &[act(
    "New job",
    "it.innerText?.trim() === 'New job'",
    ENTER,
    "document.querySelector('#number') && document.querySelector('#plan-purchase')",
)];

pub(super) const MAKING: &[Act] = &[
    act(
        "the number",
        "it.id === 'number'",
        "2026-047",
        "document.activeElement.value === '2026-047'",
    ),
    act(
        "the kind of unit",
        "it.name === 'kind'",
        DOWN,
        "document.querySelector('#kind-fifth_wheel')?.checked",
    ),
    act(
        "the kind before",
        "",
        "\u{e013}",
        "document.querySelector('#kind-travel_trailer')?.checked",
    ),
    act(
        "the maker",
        "it.id === 'maker'",
        "Quillhaven",
        "document.activeElement.value === 'Quillhaven'",
    ),
    act(
        "making the job",
        "",
        ENTER,
        "location.hash.startsWith('#/job/') && document.querySelector('nav.tabs')",
    ),
];

pub(super) const OPENING: &[Act] = &[
    act("what is fitted", "it.matches('.switch')", SPACE, "document.querySelector('.step')"),
    act(
        "taking it back",
        "it.matches('.step:not(.again)')",
        ENTER,
        "document.querySelector('.step.again')",
    ),
    act(
        "doing it again",
        "it.matches('.step.again')",
        ENTER,
        "!document.querySelector('.step.again')",
    ),
    act(
        "taking it back again",
        "it.matches('.step:not(.again)')",
        ENTER,
        "document.querySelector('.step.again')",
    ),
    act(
        "the site",
        "it.closest('.act-bar') && it.innerText.trim() === 'Site'",
        ENTER,
        "location.hash.endsWith('/site')",
    ),
    act(
        "a state of the site",
        "it.matches('.switch')",
        SPACE,
        "document.querySelector('.switch[aria-checked=true]')",
    ),
    act(
        "the line",
        "it.matches('.tab') && it.innerText.includes('Line')",
        ENTER,
        "location.hash.endsWith('/line')",
    ),
    act(
        "a stop",
        "it.matches('.row.stop')",
        ENTER,
        "location.hash.includes('/stop/') && document.querySelector('.points .row')",
    ),
    act("a point", "it.matches('.points .row')", ENTER, "location.hash.includes('/point/')"),
    act(
        "search",
        "it.matches('.tab') && it.innerText.includes('Search')",
        ENTER,
        "document.querySelector('#search')",
    ),
    act(
        "a word",
        "it.id === 'search'",
        "lock-up pressure",
        "document.querySelector('.points .row')",
    ),
    act(
        "what was found",
        "it.matches('.points .row') && it.innerText.startsWith('Regulator lock-up pressure')",
        ENTER,
        "location.hash.endsWith('/point/regulator_lockup')",
    ),
];

pub(super) const POINT: &[Act] = &[
    act(
        "a reading",
        "it.matches('form.entry input.figure')",
        "15.5",
        "document.querySelector('.live')?.innerText.includes('15.5')",
    ),
    act("entering it", "", ENTER, "document.querySelector('.stored')"),
    act("striking it out", "it.closest('.stored')", ENTER, "!document.querySelector('.stored')"),
    act(
        "a unit",
        "it.matches('form.entry select')",
        DOWN,
        "document.querySelector('form.entry select').selectedIndex === 1",
    ),
    act(
        "not examined",
        "it.innerText?.trim().startsWith('Can’t examine')",
        ENTER,
        "document.activeElement.closest('.reasons')",
    ),
    act(
        "no words of one's own",
        "it.id === 'own-reason'",
        ENTER,
        "document.querySelector('#sentences .sentence')",
    ),
    act(
        "putting the sentence away",
        "it.closest('#sentences')",
        ENTER,
        "!document.querySelector('#sentences .sentence')",
    ),
    act(
        "not examined, again",
        "it.innerText?.trim().startsWith('Can’t examine')",
        ENTER,
        "document.activeElement.closest('.reasons')",
    ),
    act(
        "words of one's own",
        "it.id === 'own-reason'",
        "No gauge here",
        "document.activeElement.value === 'No gauge here'",
    ),
    act(
        "giving the reason",
        "",
        ENTER,
        "document.querySelector('.act-bar.answered .answer')?.innerText.includes('No gauge here')",
    ),
    act(
        "taking the answer back",
        "it.innerText?.trim() === 'Take back'",
        ENTER,
        "document.querySelector('.act-bar.answers')",
    ),
    act(
        "not fitted",
        "it.innerText?.trim() === 'Not fitted'",
        ENTER,
        "document.querySelector('.act-bar.answered .answer')?.innerText.includes('not fitted')",
    ),
    act(
        "taking that back",
        "it.innerText?.trim() === 'Take back'",
        ENTER,
        "document.querySelector('.act-bar.answers')",
    ),
    act(
        "examined",
        "it.innerText?.trim() === 'Examined'",
        SPACE,
        "document.querySelector('.act-bar.answered')",
    ),
    act(
        "a defect",
        "it.matches('.switch')",
        SPACE,
        "document.querySelector('.switch[aria-checked=true]') && document.querySelector('.finding')",
    ),
    act(
        "a note",
        "it.id === 'note'",
        "Read twice.",
        "document.querySelector('#note').dataset.unsaved === 'true'",
    ),
    act(
        "leaving the note",
        "",
        "\u{e004}",
        "document.querySelector('#note').dataset.unsaved !== 'true'",
    ),
];

pub(super) const FINDINGS: &[Act] = &[
    act(
        "findings",
        "it.matches('.tab') && it.innerText.includes('Findings')",
        ENTER,
        "location.hash.endsWith('/findings')",
    ),
    act(
        "confirming",
        "it.innerText?.trim() === 'Confirm'",
        ENTER,
        "document.querySelector('.finding')?.innerText.includes('confirmed')",
    ),
    act(
        "deciding",
        "it.innerText?.trim() === 'Decide'",
        ENTER,
        "location.hash.includes('/finding/') && document.querySelector('#withdraw')",
    ),
    act(
        "a reason",
        "it.id === 'withdraw'",
        "Seen wrongly",
        "document.activeElement.value === 'Seen wrongly'",
    ),
    act(
        "withdrawing",
        "",
        ENTER,
        "document.querySelector('.finding')?.innerText.includes('Seen wrongly')",
    ),
    act(
        "its point",
        "it.innerText?.trim() === 'Go to the point'",
        ENTER,
        "location.hash.endsWith('/point/regulator_lockup')",
    ),
    act(
        "writing a finding",
        "it.closest('.actions') && it.innerText.includes('Write')",
        ENTER,
        // It begins with what most defects of its point say.
        "document.querySelector('#finding-heading') && document.querySelector('#finding-who').value.includes('gas fitter')",
    ),
    act(
        "its heading",
        "it.id === 'finding-heading'",
        "Hose worn",
        "document.activeElement.value === 'Hose worn'",
    ),
    act(
        "what was found",
        "it.id === 'finding-statement'",
        "The hose is worn.",
        "document.activeElement.value === 'The hose is worn.'",
    ),
    act(
        "a use that it stops",
        "it.matches('[aria-pressed]')",
        SPACE,
        "document.activeElement.getAttribute('aria-pressed') === 'true'",
    ),
    act(
        "entering the finding",
        "it.matches('[type=submit]')",
        ENTER,
        "location.hash.endsWith('/point/regulator_lockup') && document.querySelector('main').innerText.includes('Hose worn')",
    ),
];

pub(super) const PHOTO: &[Act] = &[
    act("a photo", "it.matches('.tile')", ENTER, "location.hash.includes('/photo/')"),
    act(
        "its caption",
        "it.id === 'caption'",
        "The gauge",
        "document.querySelector('#caption').dataset.unsaved === 'true'",
    ),
    act("saving it", "", ENTER, "document.querySelector('#caption').dataset.unsaved !== 'true'"),
    act(
        "back to the point",
        "it.innerText?.trim() === 'Go to the point'",
        ENTER,
        "location.hash.endsWith('/point/regulator_lockup')",
    ),
];

pub(super) const MEMO: &[Act] = &[
    act(
        "recording a memo",
        "it.id === 'record'",
        ENTER,
        // Less than a second is no memo.
        "/0:0[2-9]/.test(document.querySelector('#recording .time')?.innerText)",
    ),
    act("keeping it", "it.id === 'end-memo'", ENTER, "document.querySelector('.memo .play')"),
    act(
        "playing it",
        "it.matches('.memo .play')",
        ENTER,
        "document.querySelector('.memo .play').innerText.includes('Stop')",
    ),
    act(
        "stopping it",
        "",
        ENTER,
        "document.querySelector('.memo .play').innerText.includes('Play')",
    ),
    act("striking it out", "it.matches('.memo .plain')", ENTER, "!document.querySelector('.memo')"),
];

pub(super) const SCHEDULE: &[Act] = &[
    act(
        "the line again",
        "it.matches('.tab') && it.innerText.includes('Line')",
        ENTER,
        "location.hash.endsWith('/line')",
    ),
    act(
        "what comes next",
        "it.innerText?.trim() === 'What now?'",
        ENTER,
        "document.querySelector('.now .why li')",
    ),
    act(
        "two people",
        "it.innerText?.trim().endsWith('Two people')",
        ENTER,
        "document.querySelectorAll('.now').length === 2",
    ),
    act(
        "one person",
        "it.innerText?.trim().endsWith('One person')",
        ENTER,
        "document.querySelectorAll('.now').length === 1",
    ),
    act(
        "its first point",
        "it.matches('.now button')",
        ENTER,
        "location.hash.includes('/point/') || document.querySelector('.step:not(.again)')",
    ),
];

pub(super) const WAIT: &[Act] = &[act(
    "starting a wait",
    "it.innerText?.trim() === 'Start the wait'",
    ENTER,
    "document.querySelector('section.wait .clock')",
)];

pub(super) const ALERTS: &[Act] = &[act(
    "alerts",
    "it.id === 'alerts'",
    ENTER,
    "document.querySelector('.wait .alerts').innerText.includes('Alerts are allowed')",
)];

pub(super) const WAITS: &[Act] = &[
    act(
        "waits",
        "it.matches('.tab') && it.innerText.includes('Waits')",
        ENTER,
        "document.querySelector('.card .clock')",
    ),
    // The clock beside the button goes on, and the button keeps the focus.
    act(
        "ending it, two seconds later",
        "it.innerText?.trim() === 'End the wait' && (window.since ??= Date.now()) && (globalThis.kept = it)",
        "",
        "Date.now() - window.since > 2000 && document.activeElement === globalThis.kept && globalThis.kept.isConnected",
    ),
    act("ending it", "", ENTER, "!document.querySelector('.card .clock')"),
];

pub(super) const NEWER: &[Act] = &[act(
    "a newer version",
    "it.closest('.update')",
    ENTER,
    "window.sameDocument === undefined && document.querySelector('nav.tabs')",
)];

pub(super) const TAKE_OVER: &[Act] =
    &[act("using it here", "it.matches('.primary')", ENTER, "document.querySelector('nav.tabs')")];

pub(super) const OUTSIDE: &[Act] = &[
    act(
        "what is left",
        "it.matches('.tab') && it.innerText.includes('Left')",
        ENTER,
        "location.hash.endsWith('/left') && document.querySelector('.points .row')",
    ),
    act(
        "what keeps a use open",
        "it.matches('.points .row')",
        ENTER,
        "location.hash.includes('/point/')",
    ),
    act("the jobs", "it.matches('.back')", ENTER, "document.querySelector('#jobs-here')"),
    act(
        "copying now",
        "it.innerText?.trim() === 'Copy now'",
        ENTER,
        "document.querySelector('#jobs-here .row')?.innerText.includes('Copied to the server')",
    ),
    act(
        "settings",
        "it.innerText?.trim() === 'Settings'",
        ENTER,
        "document.querySelector('#theme-light')",
    ),
    act("a look", "it.name === 'theme'", DOWN, "document.documentElement.dataset.theme === 'dark'"),
    act("another", "", DOWN, "document.documentElement.dataset.theme === 'sunlight'"),
    act("units", "it.name === 'units'", DOWN, "document.querySelector('#units-si').checked"),
    act("a paper", "it.name === 'paper'", DOWN, "document.querySelector('#paper-a4').checked"),
    act("a language", "it.name === 'language'", DOWN, "document.documentElement.lang === 'es'"),
    act("the first language", "", "\u{e013}", "document.documentElement.lang === 'en'"),
    act("the jobs again", "it.matches('.back')", ENTER, "document.querySelector('#jobs-here')"),
    act("the job", "it.matches('#jobs-here .row')", ENTER, "document.querySelector('nav.tabs')"),
];

pub(super) const ARCHIVE: &[Act] = &[
    act(
        "the archive",
        "it.id === 'to-archive'",
        ENTER,
        "document.querySelector('#archive-standing')?.dataset.standing === 'fresh' && document.querySelector('#archive-jobs .row')",
    ),
    act(
        "another kind of unit",
        "it.id === 'archive-kind'",
        "fifth",
        "document.querySelector('#archive-count')?.dataset.count === '0'",
    ),
    act(
        "all jobs again",
        "it.id === 'archive-all'",
        ENTER,
        "document.querySelector('#archive-kind').value === '' && document.querySelector('#archive-jobs .row')",
    ),
    act(
        "what is counted",
        "it.id === 'archive-of'",
        DOWN,
        "document.querySelector('#archive-of').value === 'not-conforming'",
    ),
    act("findings again", "", "\u{e013}", "document.querySelector('#archive-of').value === ''"),
    act(
        "kinds told apart",
        "it.id === 'archive-per-kind'",
        SPACE,
        "document.querySelector('#archive-per-kind').getAttribute('aria-pressed') === 'true'",
    ),
];

pub(super) const A_JOB_OF_IT: &[Act] = &[act(
    "a job of the list",
    "it.closest('#archive-jobs')",
    ENTER,
    "location.hash.startsWith('#/job/') && document.querySelector('nav.tabs')",
)];

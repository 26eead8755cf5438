//! Everything with the keyboard alone: each screen's targets are reached with Tab, seen when they have the focus and not
//! hidden by bars; and a whole visit is done without a pointer.

use super::{World, go_in_job};
use crate::{
    Outcome, Tools,
    browser::Browser,
    keys::{DOWN, ENTER, SPACE},
};

/// One act: where the focus goes, what is pressed, and what is true afterwards.
struct Act {
    what: &'static str,
    /// A JavaScript expression of `it`, the element with the focus; none where the focus is there already.
    at: &'static str,
    press: &'static str,
    /// A JavaScript expression.
    then: &'static str,
}

const fn act(what: &'static str, at: &'static str, press: &'static str, then: &'static str) -> Act {
    Act { what, at, press, then }
}

/// Screens in a job whose targets are walked through.
const SCREENS: [&str; 14] = [
    "",
    "line",
    "stop/gas_locker",
    "point/tyres",
    "point/regulator_lockup",
    "point/refrigerator",
    "findings",
    "new-finding",
    "waits",
    "site",
    "search",
    "left",
    "release",
    "instruments",
];

pub(super) fn check(tools: &Tools) -> Outcome {
    let world = World::new(tools, "keyboard")?;
    let browser = world.browser("phone")?;
    let mut walk = Walk { browser, acts: 0, targets: 0, faults: Vec::new() };
    walk.browser.go(&world.server.address())?;
    walk.browser.wait_for("#code")?;
    walk.targets("pairing")?;
    walk.browser.tab_to("the code", "it.id === 'code'")?;
    walk.browser.press(&world.server.code()?)?;
    walk.all(PAIRING)?;
    walk.targets("jobs, none")?;
    walk.all(NEW_JOB)?;
    walk.targets("new job")?;
    walk.all(MAKING)?;
    let job = walk.browser.script("return location.hash.split('/')[2]", &[])?;
    let job = job.as_str().ok_or("the address names no job")?.to_owned();
    walk.all(OPENING)?;
    walk.all(POINT)?;
    walk.all(FINDINGS)?;
    photo(&walk.browser)?;
    walk.all(PHOTO)?;
    go_in_job(&walk.browser, &world, &job, "point/refrigerator")?;
    walk.browser.wait_for("section.wait button")?;
    walk.all(WAIT)?;
    walk.all(OUTSIDE)?;
    for screen in SCREENS {
        go_in_job(&walk.browser, &world, &job, screen)?;
        walk.browser.wait_for("main h1")?;
        if screen == "release" {
            // What is open comes from the server.
            walk.browser.wait_for("#release")?;
        }
        walk.targets(if screen.is_empty() { "opening page" } else { screen })?;
    }
    walk.archive(&world)?;
    // The check must be able to fail.
    walk.browser.script(
        "document.querySelector('main').insertAdjacentHTML('beforeend',
           '<button tabindex=-1>unreached</button><span id=hand>pointer alone</span><button id=dim>dim</button>');
         // The page's policy lets no style stand in markup.
         document.querySelector('#hand').style.cursor = 'pointer';
         document.querySelector('#dim').style.setProperty('outline', 'none', 'important')",
        &[],
    )?;
    let (found, _) = walk.browser.keyboard_faults()?;
    for planted in ["unreached", "pointer alone", "id=\"dim\""] {
        if !found.iter().any(|fault| fault.contains(planted)) {
            return Err(format!("a planted fault, {planted}, was not found: {found:?}"));
        }
    }
    if walk.faults.is_empty() {
        return Ok(format!("{} targets reached and seen, {} acts done", walk.targets, walk.acts));
    }
    Err(format!("{} faults:\n  {}", walk.faults.len(), walk.faults.join("\n  ")))
}

struct Walk {
    browser: Browser,
    acts: usize,
    targets: u64,
    faults: Vec<String>,
}

impl Walk {
    /// Does acts in order; each must have its effect.
    fn all(&mut self, acts: &[Act]) -> Outcome<()> {
        for act in acts {
            if !act.at.is_empty() {
                self.browser.tab_to(act.what, act.at)?;
            }
            self.browser.press(act.press)?;
            self.browser.wait(act.what, act.then, 20)?;
            self.acts += 1;
        }
        Ok(())
    }

    /// All jobs together: filtered, counted, told apart, and a job of the list opened.
    fn archive(&mut self, world: &World) -> Outcome<()> {
        world.server.run(&["archive", "list"])?;
        self.browser.go(&format!("{}#/jobs", world.server.address()))?;
        self.browser.wait_for("#to-archive")?;
        self.all(ARCHIVE)?;
        self.targets("archive")?;
        self.all(A_JOB_OF_IT)
    }

    /// Walks through the targets of the screen as it is.
    fn targets(&mut self, screen: &str) -> Outcome<()> {
        let (faults, targets) = self.browser.keyboard_faults()?;
        self.faults.extend(faults.into_iter().map(|fault| format!("{screen}: {fault}")));
        self.targets += targets;
        Ok(())
    }
}

/// A photo at the point that is open: the browser's own dialog for files cannot be driven.
fn photo(browser: &Browser) -> Outcome<()> {
    browser.wait_for("#files")?;
    browser.script(
        "return (async () => {
           const canvas = new OffscreenCanvas(64, 48);
           canvas.getContext('2d').fillRect(8, 8, 20, 20);
           const blob = await canvas.convertToBlob({type: 'image/jpeg'});
           const chosen = new DataTransfer();
           chosen.items.add(new File([blob], 'gauge.jpg', {type: 'image/jpeg', lastModified: 1781190000000}));
           const input = document.querySelector('#files');
           input.files = chosen.files;
           input.dispatchEvent(new Event('change', {bubbles: true}));
         })()",
        &[],
    )?;
    browser.wait_for(".photos .tile")
}

const PAIRING: &[Act] = &[
    act(
        "a name",
        "it.id === 'person'",
        "Dane Hollworth",
        "document.activeElement.value === 'Dane Hollworth'",
    ),
    act("pairing", "", ENTER, "document.querySelector('#jobs-here')"),
];

const NEW_JOB: &[Act] = &[act(
    "New job",
    "it.innerText?.trim() === 'New job'",
    ENTER,
    "document.querySelector('#number') && document.querySelector('#plan-purchase')",
)];

const MAKING: &[Act] = &[
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

const OPENING: &[Act] = &[
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

const POINT: &[Act] = &[
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

const FINDINGS: &[Act] = &[
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

const PHOTO: &[Act] = &[
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

const WAIT: &[Act] = &[
    act(
        "starting a wait",
        "it.innerText?.trim() === 'Start the wait'",
        ENTER,
        "document.querySelector('section.wait .clock')",
    ),
    act(
        "waits",
        "it.matches('.tab') && it.innerText.includes('Waits')",
        ENTER,
        "document.querySelector('.card .clock')",
    ),
    act(
        "ending it",
        "it.innerText?.trim() === 'End the wait'",
        ENTER,
        "!document.querySelector('.card .clock')",
    ),
];

const OUTSIDE: &[Act] = &[
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
    act("a language", "it.name === 'language'", DOWN, "document.documentElement.lang === 'es'"),
    act("the first language", "", "\u{e013}", "document.documentElement.lang === 'en'"),
    act("the jobs again", "it.matches('.back')", ENTER, "document.querySelector('#jobs-here')"),
    act("the job", "it.matches('#jobs-here .row')", ENTER, "document.querySelector('nav.tabs')"),
];

const ARCHIVE: &[Act] = &[
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

const A_JOB_OF_IT: &[Act] = &[act(
    "a job of the list",
    "it.closest('#archive-jobs')",
    ENTER,
    "location.hash.startsWith('#/job/') && document.querySelector('nav.tabs')",
)];

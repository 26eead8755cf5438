## Acts, on the button that takes them back
act-answer = answer, { $what }
act-defect = defect seen, { $what }
act-note = note, { $what }
act-reading = reading, { $what }
act-photo = photo
act-photos = { $count ->
    [one] one photo
   *[other] { $count } photos
}
act-mark = mark on a photo
act-crop = shown part of a photo
act-clock = a camera’s clock
act-memo = voice memo, { $what }
act-finding = finding, { $what }
act-evidence = evidence of a finding, { $what }
act-merge = two findings as one, { $what }
act-recheck = carried finding, { $what }
act-decision = decision on a finding
act-equipment = equipment, { $what }
act-wait = wait, { $what }
act-state = site, { $what }
act-instrument = instrument, { $what }
act-instruments = { $count ->
    [one] one instrument taken over
   *[other] { $count } instruments taken over
}
act-unit = what is known of the unit
act-job = what is known of the job
act-agreement = agreement
act-fee = fee

## Why something cannot be, and what can
refusal-nothing-typed = { $reading }: nothing is typed yet.
refusal-no-quantity = { $reading }: “{ $entry }” cannot be read. Write a number with its unit, such as { $example }. Units: { $units }.
refusal-no-choice = { $reading }: “{ $entry }” is not one of its words: { $choices }.
refusal-no-date = { $reading }: “{ $entry }” is no date. Write it like 2026-06-11, or a month like 2026-06.
refusal-one-place = { $reading } is read in one place only, not at “{ $position }”.
refusal-no-such-place = { $reading } is not read at “{ $position }”. Places: { $places }.
refusal-place-needs-name = { $reading } is read in several places: name this one.
refusal-no-point = The plan has no point “{ $point }”.
refusal-point-not-here = { $point }: this unit does not have it, by its kind and equipment. Correct the equipment first.
refusal-not-fitted = { $point } was said to be not fitted. Take that back first.
refusal-fitted-after-all = { $point } has readings or defects, so it is fitted. Strike them out first.
refusal-no-such-reading = { $point } has no such reading.
refusal-no-reading = There is no such reading.
refusal-struck-already = This reading is struck out already.
refusal-no-defect = { $point } has no such defect in its list. Write a finding in your own words.
refusal-no-instrument = There is no instrument “{ $instrument }” in the list.
refusal-no-instrument-name = Give the instrument a name.
refusal-instrument-day = “{ $typed }” is no day. Write it like 2026-06-11.
refusal-instrument-days = The calibration runs out before the day of the calibration. Correct one of the two days.
refusal-instrument-number = “{ $typed }” is no part of an accuracy. Write a number of 0 or more, such as 0.5.
refusal-instrument-step = “{ $typed }” is no smallest step. Write a number with its unit, such as 0.1 V.
refusal-instrument-used = { $count ->
    [one] { $instrument } stays in the list: one reading was taken with it. Strike that out, or enter it again with another instrument.
   *[other] { $instrument } stays in the list: { $count } readings were taken with it. Strike those out, or enter them again with another instrument.
}
refusal-no-photo = There is no such photo.
refusal-photo-there = This photo is there already.
refusal-no-mark = There is no such mark on the photo any more.
refusal-mark-small = The mark is too small to be seen. Draw it larger.
refusal-mark-beyond = The mark lies beyond the photo.
refusal-crop-small = So small a part shows nothing. Draw it larger.
refusal-mark-no-words = Write the words first, then show where they belong.
refusal-no-such-time = With that correction a photo’s time would leave the calendar.
refusal-memo-type = A recording of the type “{ $type }” cannot be kept. Accepted: { $types }.
refusal-memo-there = This voice memo is there already.
refusal-memo-empty = Nothing was recorded. Speak for at least a second.
refusal-memo-long = The recording takes { $minutes } min; at most { $most } min are kept.
refusal-memo-struck = This voice memo is struck out already.
refusal-no-memo = There is no such voice memo.
refusal-no-finding = There is no such finding any more.
refusal-sentence-name = “{ $name }” is no name; 1 to 40 letters, digits, - or _ are.
refusal-sentence-empty = The sentence is empty; write one.
refusal-merged = This finding is a part of another; take it out first.
refusal-not-carried = This finding was not carried from an earlier job.
refusal-photo-earlier = This photo belongs to job { $job } and stays as it is; take one of today.
refusal-merge-itself = A finding cannot become a part of itself; choose another one.
refusal-not-merged = This finding is no part of another.
refusal-point-of-draft = This finding comes from its point and stays there.
refusal-reading-brought-up = This reading brought the finding up; strike the reading out, or withdraw the finding.
refusal-no-title = Give the finding a heading.
refusal-agreement-there = There is an agreement already; change what it says.
refusal-no-agreement = Nothing is put to the client yet. Begin an agreement first.
refusal-no-day = “{ $entry }” is no day. Write it like 2026-06-12.
refusal-no-currency = “{ $code }” is no currency. Write three letters, such as USD, MXN, CAD or EUR.
refusal-no-amount = “{ $entry }” is no amount in { $currency }. Write it with at most { $places } decimal places, such as { $example }, and at most { $most }.
refusal-no-rate = { $name }: “{ $entry }” is no rate. Write percent with at most four decimal places, from 0 to 100, such as 8.8125 %.
refusal-tax-no-name = Give the tax of { $rate } a name.
refusal-tax-twice = The tax “{ $name }” is named twice; name it once.
refusal-line-no-words = Say what { $amount } is charged for.
refusal-line-no-tax = The line “{ $line }” names a tax, “{ $name }”, that the fee does not have.
refusal-fee-large = The fee’s sums are too large to be added up.
refusal-no-reason = Say why.
refusal-no-equipment = No equipment is called “{ $equipment }”.
refusal-no-state = No state of the site is called “{ $state }”.
refusal-no-wait = { $point } has no wait.
refusal-wait-runs = { $point }: its wait runs already.
refusal-wait-over = This wait is ended already.
refusal-nothing-to-undo = There is nothing to take back.
refusal-nothing-to-redo = There is nothing to do again.
refusal-changed-since = Somebody else has changed the same since, so it stays as it is.
refusal-record-newer = This job was written by a newer version. Update the app on this device, then enter it again.
refusal-device-twice = This device was set back to an older copy, and its later work is known elsewhere. Pair it again, then enter it again.
refusal-record = It could not be entered: { $why }
record-refuses-there = this stands in the record already.
record-refuses-gone = what it is about is not in the record any more; look at it again, another device may have taken it back.
record-refuses-no-words = a reason or a name is needed, and it is empty.
record-refuses-line-break = a name or a heading has a line break or a sign that cannot be shown; write it on one line.
record-refuses-number = one of its numbers is none; enter it again.
record-refuses-time = its time cannot be kept; look at this device's clock and time zone.
record-refuses-twice = something in it is named twice; name it once.
record-refuses-fixed = what stands there is never changed, or in another way.
record-refuses-unfit = the record holds no such thing.
record-empty = This job’s copy on this device is empty. Nothing was entered in it here; open it again once the server can be reached.
record-no-record = What lies under this job’s name on this device is no job. To have the server’s copy here, copy all other jobs first, then delete this site’s data in the browser and pair again.
record-damaged = This job’s copy on this device is damaged. What was copied to the server is whole there. To have it here again, copy all other jobs first, then delete this site’s data in the browser and pair again.
record-newer = This job was written by a newer version (schema { $found }; this app knows up to { $known }). Update the app on this device; nothing of the job is lost.
record-other-job = A change that belongs to another job came for this one, and was left out.
record-no-beginning = The beginning of this job has not come to this device yet; { $count ->
        [one] one change waits
       *[other] { $count } changes wait
    } for it. Connect to the server once.
record-device-twice = Two devices, or an older copy of one, entered under the same id. One of their changes was left out: pair that device again and enter it again.
record-unread = { $count ->
        [one] One entry of this job cannot be read by this app. It is kept; a newer app may show it.
       *[other] { $count } entries of this job cannot be read by this app. They are kept; a newer app may show them.
    }
plan-unreadable = The plan of this job cannot be read: { $count ->
        [one] one problem, in { $file }, line { $line }
       *[other] { $count } problems, the first in { $file }, line { $line }
    }. What was entered is kept.
plans-unreadable = { $count ->
        [one] one problem, in { $file }, line { $line }
       *[other] { $count } problems, the first in { $file }, line { $line }
    }
refusal-no-number = Give the job a number.
refusal-no-plan = There is no plan “{ $plan }”.

## Verdicts
verdict-conforms = conforms
verdict-does-not-conform = does not conform
verdict-undecided = undecided
verdict-within-practice = within common practice
verdict-within-unconfirmed = within an unconfirmed limit
verdict-beyond-practice = beyond common practice
verdict-beyond-unconfirmed = beyond an unconfirmed limit
verdict-no-limit = no limit
bound-at-most = at most { $most }
bound-at-least = at least { $least }
bound-between = { $least } to { $most }
bound-one-of = { $words }
note-build-date = Not held to { $section }: it depends on the day the unit was built, which is not recorded.
as-it-stands = { $text }
footing-build = owed by the maker when built
footing-in-use = rule for units in use
footing-good-practice = good practice

## What became of a point
point-open = open
point-begun = begun
point-incomplete = reading missing
point-examined = examined
point-not-examined = not examined
point-not-fitted = not fitted

## Why a point cannot be examined
reason-no-access = No access
reason-covered = Covered or blocked by stored things
reason-unsafe = Not safe
reason-locked = Locked, no key
reason-no-power = No power on site
reason-no-gas = No gas on site
reason-no-water = No water on site
reason-weather = Weather
reason-not-agreed = Not agreed

## What to bring
kit-multimeter = Multimeter
kit-clamp-meter = Clamp meter
kit-manometer = Manometer
kit-pressure-gauge = Water pressure gauge
kit-tyre-gauge = Tire gauge
kit-tape = Tape measure and tread gauge
kit-scale = Scales
kit-thermometer = Thermometer
kit-moisture-meter = Moisture meter and hygrometer
kit-carbon-monoxide-meter = Carbon-monoxide meter
kit-torque-wrench = Torque wrench
kit-level = Level with angle
kit-watch = Watch or timer
kit-ohmmeter = Low-resistance ohmmeter
kit-frequency-meter = Frequency meter
kit-measuring-jug = Measuring jug or bucket
kit-air-flow-meter = Air-flow meter
kit-sun-meter = Sun meter
kit-hydrometer = Hydrometer

## What is left
gap-not-settled = nothing entered
gap-no-reason = no reason given
gap-no-reading = a reading is missing
gap-no-photo = the photo is missing
gap-undecided = undecided: measure again, or better
gap-no-evidence = a finding without reading or photo
gap-calibration = calibration
gap-calibration-ran-out = its calibration ran out on { $day }, before the visit
gap-calibration-none = no calibration is recorded
gap-not-agreed = the client has not agreed to the terms yet
gap-agreed-otherwise = what was agreed has changed since: the client must agree again
gap-wait-running = its wait runs
gap-photo-not-placed = a photo of no point
gap-not-rechecked = carried: corrected, not corrected or not seen?
gap-corrected-but-found = said to be corrected, and found again today
gaps-not-settled = Points with nothing entered
gaps-no-reason = Not examined, no reason given
gaps-no-reading = Readings that are missing
gaps-no-photo = Photos that are missing
gaps-undecided = Undecided verdicts
gaps-no-evidence = Findings without evidence
gaps-calibration = Instruments
gaps-wait-running = Waits that run
gaps-photo-not-placed = Photos of no point
gaps-not-agreed = Agreement that waits for a consent
gaps-agreed-otherwise = Agreement that needs a new consent
gaps-not-rechecked = Carried findings of which nothing is said
gaps-corrected-but-found = Said to be corrected, and found again
recheck-corrected = corrected
recheck-not-corrected = not corrected
recheck-not-seen = not seen
recheck-open = not yet said
recheck-withdrawn = withdrawn
again-title = Since the earlier inspection
again-first = This job inspects no unit again: there is no earlier job whose findings it carries.
again-of = Findings of job { $job }.
again-of-day = Findings of job { $job }, visited { $day }.
again-none = The earlier job had no findings.
again-all-said = Of every finding it is said what became of it.
again-left = { $count ->
    [one] One of { $all } is still to be said.
   *[other] { $count } of { $all } are still to be said.
}
again-open = { $count ->
    [0] Findings of job { $job }: all said
   *[other] Findings of job { $job }: { $count } still to be said
}
again-then = Then
again-now = Now
again-no-photo = No photo.
again-became = What became of it?
again-corrected = Corrected
again-not-corrected = Not corrected
again-not-seen = Not seen
again-note = What is seen now
again-why = Why was it not seen?
again-take-back = Take back what was said
again-said-by = said by { $by }, { $day }
again-finding = The finding
again-take = Take a photo of now
again-attach = Shows it now
again-attach-what = Shows it now: { $what }
again-further = { $count ->
    [one] One more photo that may show it
   *[other] { $count } more photos that may show it
}
again-at-point = Found here at the earlier inspection
decides-now = { $value }, limit { $bound }
decides-known-to = known to ± { $needed } or better { $verdict } (now ± { $now })
decides-conforms = it would conform
decides-does-not-conform = it would not conform
decides-within = it would be within the limit, which only informs
decides-beyond = it would be beyond the limit, which only informs
decides-other-value = no better reading of the same value decides it, only another value
decides-reading = for that, { $what } to ± { $needed } or better (now ± { $now })
decides-instrument = good enough: { $which }
remark-promise = “{ $word }” promises { $what }, and no inspection can
remark-left-over = “{ $word }” is { $what } of job { $job }; is it left over?
promise-guarantee = a guarantee
promise-certificate = a certificate
promise-safe = that it is safe
promise-nothing-wrong = that nothing is wrong
promise-future = what will be
promise-code = that a code is met as a whole
fact-client = the client
fact-contact = how to reach the client
fact-site = the site
fact-identification = the identification number
fact-maker = the maker
fact-model = the model
text-of-job = the job’s facts
text-note = note
text-not-examined = why it was not examined
text-struck-out = why a reading was struck out
text-heading = heading
text-statement = statement
text-who = whom to call
text-rechecked = what was seen of it again
text-withdrawn = why it was withdrawn
text-caption = caption
text-words = words on the photo

## Screens: going about
nav-label = The job's screens
nav-line = Line
nav-photos = Photos
nav-findings = Findings
nav-waits = Waits
nav-search = Search
nav-left = Left
nav-report = Report
nav-engagement = Agreement
undo-what = Take back: { $what }
redo-what = Do again: { $what }

## Screens: opening page
opening-counts = { $done } of { $points } points done · { $hours } hands-on
opening-kind = Kind
opening-year = Model year
opening-built = Built
opening-identification = Identification number
opening-size = Size
opening-site = Site
opening-client = Client
opening-contact = Contact
opening-scope = Agreed
opening-limits = Not agreed
opening-cautions = Cautions
opening-unit = The unit
opening-kit = What to bring
opening-equipment = What is fitted
opening-equipment-hint = The points of the walk follow from it.
opening-site-states = Site
opening-begin = Begin
opening-go-on = Go on
kind-travel-trailer = travel trailer
kind-fifth-wheel = fifth wheel
kind-park-trailer = park trailer
kind-manufactured-home = manufactured home
kit-points = { $count ->
    [one] one point
   *[other] { $count } points
}
kit-overdue = Its calibration ran out.
kit-until = calibrated until { $day }
kit-ran-out = calibration ran out on { $day }
kit-no-calibration = no calibration recorded

## Screens: line, stop, site
line-title = The line
line-counts = { $done } done · { $left } left · { $time } hands-on
line-stop = { $done } of { $total } done
line-findings = { $count ->
    [one] one finding
   *[other] { $count } findings
}
line-waiting = wait runs
line-next = Next: { $what }
line-through = What is left
line-job = Job
stop-none = There is no such stop.
stop-before = Stop before
stop-after = Next stop
states-title = The site
states-hint = Say what is switched on, open or out. A point that needs another state warns first.
states-nothing = Site: nothing said to be on
states-on = is so
states-off = is not so
states-unknown = not said yet
states-needed = { $count ->
    [one] one open point needs it
   *[other] { $count } open points need it
}
states-against = { $count ->
    [one] one open point needs it off
   *[other] { $count } open points need it off
}

## Screens: the point at hand
point-none = This point is not on this unit.
point-none-why = By its kind and equipment the unit does not have it.
point-caution = Caution
point-needs = First, at the site
point-need-not-so = it is not so now
point-need-unknown = not said yet
point-need-set = Now so: { $state }
point-after = These come first
point-look = Look
point-operate = Operate
point-measure = Measure
point-wait = Wait, { $minutes } min
point-readings = Readings
point-computed = Computed
point-defects = Seen here
point-findings = Findings here
point-no-findings = None so far.
point-note = Note
point-missing = { $count ->
    [one] one reading missing
   *[other] { $count } readings missing
}
point-essential = essential
point-defect-seen = defect seen
point-photos = { $count ->
    [one] one photo
   *[other] { $count } photos
}
answer-label = What became of this point
answer-examined = Examined
answer-not-examined = Can’t examine
answer-not-fitted = Not fitted
answer-take-back = Take back
answer-why = Why can’t it be examined?
answer-own-words = In your own words
answer-cancel = Go back
reading-optional = (optional)
reading-places = Places
reading-new-place = + place
reading-place-name = Name of the place
reading-date-hint = 2019-06 or 2019-06-30
reading-unit = Unit: { $reading }
reading-instrument = Instrument: { $reading }
reading-no-instrument = no instrument
reading-enter = Enter
reading-would-draft = Would bring up: { $what }
reading-times = Read { $count } times; the last one counts.
reading-strike = Strike out
verdict-unfit = The instrument is too coarse for this limit.
verdict-probability = Likely within the limit: { $percent } %

## Screens: photos
photos-title = Photos
photos-wanted = Wanted: { $what }
photos-take = Take a photo
photos-choose = From files
photos-under-way = { $count ->
    [one] One photo is being kept …
   *[other] { $count } photos are being kept …
}
photo-no-caption = Photo without a caption
photo-elsewhere = from another device
photo-writing = being kept …
photo-kept = kept here
photo-gone = this device does not give it any more; it is looked for again
photo-sending = kept here · { $percent } % copied
photo-copied = kept and copied
photo-trouble = not copied: { $why }
photo-nowhere = Photo at no point
photo-caption = What it shows
photo-save = Save caption
photo-take-off = Take off the point
photo-damaged = It cannot be shown: { $why }
photo-undrawn = The browser that took it in could not draw it, so it is on no page of the report. Set the camera to JPEG (often called “most compatible”), or save the picture as JPEG and add that one.
photo-all = All photos

## Screens: marks on a photo
mark-tools = Draw
mark-arrow = Arrow
mark-box = Box
mark-circle = Circle
mark-words = Words
mark-blur = Blur
mark-text = The words
mark-board = Photo to draw on
mark-hint = Drag over the photo. Or with keys: arrows move the cross, Enter begins, Enter again ends, Esc drops it.
mark-hint-words = Write the words, then tap where they belong. Or with keys: arrows move the cross, Enter sets them.
mark-crop = Cut
mark-hint-crop = Drag over the part that is to be shown. Or with keys: arrows move the cross, Enter begins, Enter again ends. The photo itself stays whole.
mark-cropped = Only this part is shown now
mark-turn = Turn clockwise
mark-turned = Turned
mark-whole = Show all of it
mark-whole-again = All of it is shown again
mark-drawn = { $what }: drawn
mark-begun = Begun here
mark-at = { $across } % across, { $down } % down
mark-list = Marks on this photo
mark-erase = Take off: { $what }
mark-take-off = Take off

## Screens: the photo tray
tray-title = Photos
tray-counts = { $photos } in all · { $open } at no point
tray-unmeasured = { $count ->
    [one] One photo was never measured: it is stacked by its time alone, and not looked at for sharpness.
   *[other] { $count } photos were never measured: they are stacked by their time alone, and not looked at for sharpness.
}
tray-files = Add photos
tray-keeping = { $kept } of { $chosen } kept
tray-list = Photos in time
tray-to-place = To place
tray-all = All
tray-none = No photos yet. Add some, or drop them here.
tray-all-placed = Every photo stands at a point.
tray-at-hand = The photo at hand
tray-alike = { $count } alike
tray-unsharp = unsharp
tray-dark = dark
tray-bright = too bright
tray-marks = { $count ->
    [one] one mark
   *[other] { $count } marks
}
tray-sure = { $what }, surely
tray-likely = { $what }, likely
tray-guess = { $what }, perhaps
tray-no-hint = Nothing hints at a point
tray-before = Taken { $minutes } min { $seconds } s before an entry there
tray-after = Taken { $minutes } min { $seconds } s after an entry there
tray-between = Taken between two entries there
tray-neighbours = The photos before and after it, by their files’ names, are of that point
tray-or = Taken between two points; it may as well be { $what }
tray-at = At { $what }
tray-place-at = Place at { $what }
tray-behind = { $count ->
    [one] One nearly alike
   *[other] { $count } nearly alike
}
tray-draw = Draw on it
tray-caption-hint = Also what a screen reader says in its place.
tray-points = Points
tray-find = Find a point
tray-find-hint = Type, then Enter. Or drop photos on a point.
tray-enter-places = Enter places at { $what }
tray-nothing-meant = No photo is chosen
tray-no-suggestion = Nothing hints at a point: choose one
tray-placed = { $count ->
    [one] One photo placed at { $what }
   *[other] { $count } photos placed at { $what }
}
tray-moved = { $count ->
    [one] One photo placed
   *[other] { $count } photos placed
}
tray-chosen = { $count ->
    [one] One photo chosen
   *[other] { $count } photos chosen
}
tray-clock-camera = The camera
tray-clock-slow = { $camera }: its clock seems { $span } slow. Corrected, { $then } of { $photos } photos lie within a minute of an entry; now { $now } do.
tray-clock-fast = { $camera }: its clock seems { $span } fast. Corrected, { $then } of { $photos } photos lie within a minute of an entry; now { $now } do.
tray-clock-correct = Correct the times

## Keys at the desk
key-open = Keys (?)
key-title = Keys
key-letters = Single letters are keys
key-close = Close
key-everywhere = In a job
key-list = this list
key-line = line
key-photos = photos
key-findings = findings
key-missing = what is left
key-report = report
key-engagement = agreement and invoice
key-instruments = instruments
key-instrument = In the list of instruments
key-instrument-go = go to an instrument
key-instrument-change = change it
key-instrument-calibration = until when its calibration is valid
key-instrument-add = add one
key-instrument-out = take it out
key-now = what now?
key-search = search
key-find = search all jobs
key-again = findings of then
key-again-note = what is seen now
key-again-attach = take the first photo that may show it
key-undo = take back
key-redo = do again
key-tray = In the list of photos
key-tray-go = go to a photo
key-tray-take = take the suggestion
key-tray-sure = take all sure suggestions
key-tray-point = find another point
key-tray-choose = choose a photo too
key-tray-extend = choose several
key-tray-none = choose none
key-tray-caption = say what it shows
key-tray-draw = draw on it
key-tray-off = take off its point
key-finding = In the list of findings
key-finding-go = go to a finding
key-finding-confirm = confirm, go to the next draft
key-finding-withdraw = say why it is withdrawn
key-finding-heading = its heading
key-finding-statement = its statement
key-back = back to the list
key-board = On a photo that is drawn on
key-board-move = move the cross
key-board-steps = move it farther, or finely
key-board-set = begin a mark, end it
key-board-drop = drop it

## The report at the desk
live-title = As it will be printed
live-under-way = Being laid out …
live-older = An older state; the new one is being laid out …
live-fresh = Up to date
live-no-line = The server cannot be reached: these pages are older than the record here.
live-no-line-none = The server cannot be reached: it lays out the pages.
live-refused = The server has no such pages now: { $why }
live-page = Page { $number } of { $count } of this part
report-title = Report
report-parts = Parts of the report
report-front = Front page
report-overview = Findings at a glance
report-finding = New finding
report-further-photos = Further photos
report-readings = Readings
report-not-examined = Not examined
report-examined = Examined without remark
report-visit = The visit
report-instruments = Instruments
report-sources = Sources
report-terms = Terms
report-signature = Trail and signature

# Releasing the job.
left-release = Release…
nav-release = Release
key-release = release
key-matter = In the list of open matters
key-matter-go = go to a matter
key-matter-close = go where it is closed
key-matter-accept = accept it in words
release-title = Release
release-asking = The server is asked what is open …
release-no-line = The server cannot be reached. What was typed stays here; try again when there is a line.
release-line-lost = The line broke before the server answered. Whether it was released is shown here as soon as there is a line again; what was typed stays here.
release-unpaired = This device is not paired with a server. A release is made by the server, so pair it first.
release-wrong-passphrase = That passphrase does not open the key. Nothing was released; type it again.
release-still-open = Something is open that was not accepted. Nothing was released; the list is looked up anew.
release-changed = The job has changed meanwhile. Nothing was made; look at what is open now, then try again.
release-busy = Another release or page is being made. Try again when it is done.
release-patience = It was asked for too often. Nothing was released; try again in some minutes.
release-not-private = A passphrase is taken over HTTPS or on the server's own machine alone. Nothing was released; open the app at the server's https address.
release-refused = Nothing was made: { $why }.
release-open-title = What must be true first
release-nothing-open = Nothing is open.
release-all-accepted = All that is open is accepted in words.
release-open-count = { $count ->
    [one] One matter is open: settle it, or accept it in words.
   *[other] { $count } matters are open: settle them, or accept them in words.
}
release-kind-draft = A draft
release-kind-conflict = Entered in different ways at once
release-kind-problem = A problem of the record
release-entries-here = { $count ->
    [one] One entry is not on the server yet. It is copied by itself.
   *[other] { $count } entries are not on the server yet. They are copied by themselves.
}
release-files-here = { $count ->
    [one] One photo of this device is not on the server yet. It is copied by itself.
   *[other] { $count } photos of this device are not on the server yet. They are copied by themselves.
}
release-photos-absent = { $count ->
    [one] One photo of the record is not on the server. A release holds every photo; the device that took it copies it.
   *[other] { $count } photos of the record are not on the server. A release holds every photo; the devices that took them copy them.
}
release-memos-absent = { $count ->
    [one] One voice memo of the record is not on the server. The device that recorded it copies it, or strikes it out.
   *[other] { $count } voice memos of the record are not on the server. The devices that recorded them copy them, or strike them out.
}
release-see-photos = See the photos
release-remarks = Remarks, which stop nothing
release-accepted = Accepted: { $words }
release-in-english = In the release it stands in English:
release-go = Go where it is closed
release-accept-why = Released all the same, because
release-accept = Accept
release-accept-rest = Accept all that are left in these words
release-sign-title = Sign and release
release-no-inspector = The job names no inspector, and nobody else can release it.
release-by = Released by { $name }, the job's inspector.
release-no-key = There is no signing key in the server's data folder. The command “nearside key new” makes one there.
release-key = Signed with
release-key-of = { $name }, key { $key }…, made { $made }
release-passphrase = Passphrase of the key
release-passphrase-hint = It goes to the server for this one signature, and is kept nowhere.
release-passphrase-needed = Type the key's passphrase.
release-language = Language of the report
release-paper = Paper
release-letter = US Letter
release-a4 = A4
release-countersigner = Who is to countersign (nobody, if empty)
release-because = What changed since the last release, and why
release-because-hint = It stands in the release, and the client reads it.
release-because-needed = Say what changed since the last release, and why.
release-stays = What is released never changes. A correction is another release that says what changed.
release-do = Release
release-left-open = { $count ->
    [one] One matter is open. Settle it, or accept it in words.
   *[other] { $count } matters are open. Settle them, or accept them in words.
}
release-not-there-yet = Not everything is on the server yet. A release is made of all of it, so wait until it is.
release-seconds = { $count } s
release-step-checking = What is open is looked through …
release-step-photos = Photos are fetched …
release-step-layout = Pages are laid out …
release-step-writing = The PDF is written …
release-step-signing = The files are packed and signed …
release-step-keeping = They are written to the disk …
release-kept-title = What was released
release-of = Release { $number }, { $at }
release-fact-by = By
release-fact-key = Signed by key
release-fact-digest = Digest of everything
release-fact-report = Digest of the report
release-fact-pages = Pages
release-fact-because = Because
release-fact-countersigner = Countersigned by
release-fact-bag = Bag
release-bag-place = { $name }, { $files } files, kept in the server's data folder; “Bag” saves it as one file
release-accepted-count = { $count ->
    [one] One matter was open and accepted
   *[other] { $count } matters were open and accepted
}
release-report = Report (PDF)
release-bag = Bag (zip)
release-fetching = It is fetched …
release-saved = Saved as { $name }.
release-since = What has changed since
release-since-until = Up to release { $number }:
release-since-now = Up to the job as it stands now:
release-since-nothing = Nothing that a reader of the report would see.
release-new = new: { $key }: { $after }
release-gone = gone: { $key }: { $before }
release-other = { $key }: was { $before }; is { $after }
since-uses = Uses
since-findings = Findings
since-values = Values and verdicts
since-not-examined = Not examined
since-missing = Missing or open
since-unit = The unit
since-photos = Photos
since-accepted = Accepted in words
since-program = Program and data
since-pages = Paper, language and title
since-engagement = The engagement
since-summary = The result in short
since-at-once = At once
since-cautions = Cautions
since-earlier = The earlier inspection
since-drawings = Drawings of values
since-examined = Examined without remark
since-visit = The visit
since-instruments = Instruments
since-sources = Sources
since-terms = Terms
since-unused = Entries that could not be used
since-signature = Who signs
since-release = What each release says of itself
since-record = The record
since-further = Further
share-title = The client's page
share-changed = The job has changed since this release. Release it again; the client then gets a page of that one.
share-days = Days for which the address is good
share-days-wrong = An address is good for 1 to 3660 days.
share-waits = Shows nothing until the invoices are paid
share-no-invoice = The job has no invoice that the page could wait for.
share-make = Make an address
share-address = The address, shown this once
share-once = Good until { $until }. Copy it now: nobody can be told it again.
share-open = Open the page
share-revoke = Shut it
share-revoke-one = Shut it: { $link }
share-good = good until { $until }
share-waiting = waits for payment, good until { $until }
share-over = over since { $until }
share-revoked = shut { $at }
share-no-views = not opened yet
share-views = { $count ->
    [one] opened once, { $first }
   *[other] opened { $count } times, first { $first }, last { $last }
}

## Screens: voice memos
memo-title = Voice memos
memo-hint = Kept with the job and in its package; not part of the report.
memo-record = Record a memo
memo-asking = Waiting for the microphone …
memo-recording = Recording: { $time }
memo-stop = Stop and keep
memo-keeping = The memo is being kept …
memo-play = Play, { $time }
memo-playing = Stop, { $time }
memo-strike = Strike out the memo of { $time }
memo-not-kept = The voice memo is not kept: { $why }
memo-large = it has { $size } MB, and at most { $most } MB are kept
memo-ended = The memo ended by itself after { $minutes } min and is kept. Record another one to go on.
memo-blocked = The browser blocks the microphone for this page. Allow it in the browser’s settings for this page, then try again. Everything else works without it.
memo-no-microphone = The browser finds no microphone on this device.
memo-microphone-busy = The microphone is in use elsewhere. Close the other app, then try again.
memo-unsupported = This browser cannot record sound here. Recording needs a newer browser and a page opened by https.
memo-broken = The recording could not be made: { $why }
memo-not-here = Its sound is not on this device, and the server does not answer. Try again with a signal.

## Screens: findings
findings-title = Findings
findings-none = No findings so far.
findings-write = Write a finding
finding-title = Finding
finding-gone = There is no such finding any more.
finding-drafted = drafted; nobody decided yet
finding-confirmed = confirmed
finding-withdrawn = withdrawn: { $why }
finding-merged = part of another finding
finding-corrected = corrected since the earlier inspection
findings-drafted = Drafted: { $count }
findings-confirmed = Confirmed: { $count }
findings-merged = Parts of others: { $count }
findings-corrected = Corrected since: { $count }
findings-withdrawn = Withdrawn: { $count }
finding-confirm = Confirm
finding-open = Decide
finding-as-drafted = Drafted as: { $text }
finding-evidence = What shows it
finding-further = { $count } more that may show it
finding-attach = Shows it
finding-attach-what = Shows it: { $what }
finding-parts = Also says: { $what }
finding-merge = Make it a part of another
finding-merge-into = Of which
finding-unmerge = Take it out of the other
finding-stops = stops: { $uses }
finding-withdraw-why = Why it does not stand
finding-withdraw = Withdraw
finding-at = At: { $point }
finding-at-none = At no point
finding-heading = Heading
finding-statement = What was found
finding-stops-what = Which uses does it stop?
finding-when = How soon to act?
finding-who = Who is to act?
finding-enter = Enter the finding
stock-find = Stock sentence
stock-hint = Type any word of it; the arrow keys choose, Enter puts it in where the cursor stands.
stock-none = You have no stock sentences yet. Keep words that you use again, below.
stock-refused = The server did not take a stock sentence, which is kept here: { $why }
stock-keep = Keep as a stock sentence
stock-name = Its name, such as gas-off; kept is what is chosen above, else all of it
stock-keep-do = Keep
stock-kept = Kept as “{ $name }”.
when-before-use = before use
when-soon = soon
when-in-time = in time

## Screens: what comes next
ahead-title = What now?
ahead-open = What now?
ahead-people = Who is there
ahead-one = One person
ahead-two = Two people
ahead-ends = All done at about { $clock }, in { $time }
ahead-nothing = Nothing is left to do.
ahead-looking = A good order is being looked for …
ahead-reordered = The order was changed: it saves time, or keeps to a limit.
ahead-now = Now
ahead-now-of = Now, person { $number }
ahead-person = person { $number }
ahead-idle = { $count ->
    [one] can begin in one minute
   *[other] can begin in { $count } min
}
ahead-return = Take the reading: { $what }
ahead-set = At the site: { $what }
ahead-unset = At the site, end it: { $what }
ahead-done = Done
ahead-waits = Waits that run
ahead-after = After that
ahead-blocked = Blocked by what was left out ({ $count })
ahead-late = No order was found that keeps every limit of time: a wait may run too long. Begin with the waits.
ahead-no-plan = The visit cannot be planned. The line of stops works as before.
ahead-no-plan-circle = The visit cannot be planned: each of these must come before the next, in a circle: { $points }. The line of stops works as before.
ahead-no-plan-window = The visit cannot be planned: these do not fit into the hours they may be done in: { $points }. The line of stops works as before.
ahead-no-plan-wait = The visit cannot be planned: a wait would be over too late for what comes meanwhile: { $points }. The line of stops works as before.
ahead-no-plan-contradiction = The visit cannot be planned: two states of the site would have to hold at once that shut each other out: { $points }. The line of stops works as before.
ahead-no-plan-unreachable = The visit cannot be planned: the site cannot be brought to what is needed: { $points }. The line of stops works as before.
ahead-safety = A plan makes nothing safe: local codes, makers’ manuals and licensed people go before it.
why-starts-wait = starts a wait of { $time }: the sooner, the better
why-ends-wait = { $time } after its start
why-ends-wait-most = { $time } after its start; of use up to { $most }
why-ends-wait-late = { $time } after its start, and of use only up to { $most }: too late
why-wait-ended = its wait was ended, and its reading is missing
why-makes-safe = { $more ->
    [0] makes this safe: { $what }
   *[other] makes this safe: { $what } and { $more } more
}
why-opens-the-way = { $more ->
    [0] comes before: { $what }
   *[other] comes before: { $what } and { $more } more
}
why-needed = { $more ->
    [0] needed for: { $what }
   *[other] needed for: { $what } and { $more } more
}
why-guards = comes before this is brought about: { $what }
why-guards-end = comes before this is ended: { $what }
why-while-so = while this is so: { $what }
why-while-not-so = while this is not so: { $what }
why-leaves = leaves the site as it was found
why-window = only at certain hours
why-same-place = at the same place
why-near = { $time } on foot
blocked-safety = the safety step before it was left out: { $what }
blocked-start = what starts it was left out: { $what }
blocked-guard = it needs this: { $state }; and what comes before that was left out: { $what }
blocked-state = it needs this, which cannot be brought about now: { $state }
site-caution-shore-power-on = Main breaker off, the pedestal tested before the plug goes in. Nobody touches the unit's metal until the test for voltage on its skin is done, and after each change again.
site-caution-gas-on = Every burner shut, no flame, no switch, doors open. Opened slowly; with a smell of gas shut it, everybody out, call for help from outside.
site-caution-water-main = Taps shut, a regulator on the hose; somebody watches inside while the pressure comes up.
site-caution-water-pump = The pump starts by itself: fingers out of its cover.
site-caution-tanks-filled = Nobody under filled tanks.
site-caution-generator-on = Exhaust kills: outdoors, doors and windows shut, the carbon-monoxide alarm working, nobody asleep inside.
site-caution-slide-outs = The way clear inside and out, nobody under it or in its path, hands off the edges.
site-caution-awnings-out = Not in wind; arms under spring tension.
site-caution-unit-level = Wheels chocked first; nobody under it or inside while jacks move.
site-caution-coupling = Wheels chocked; nobody between the unit and the tow vehicle.
site-caution-uncoupling = Wheels chocked before anything is undone.

## Screens: waits, search, what is left
waits-title = Waits
waits-none = No wait runs.
waits-left = { $time } left
waits-over = Over: go back to it
waits-too-long = It has run too long to be of use
waits-untouched = Leave alone: { $what }
waits-start = Start the wait
waits-end = End the wait
waits-go = Go to the point
waits-of-use = { $count ->
    [one] of use for one minute more
   *[other] of use for { $count } min more
}
alerts-offer = When a wait is over, this device can alert you while another app is in front, too. The browser asks you once.
alerts-allow = Let it alert me
alerts-granted = Alerts are allowed. In the background a browser may put the page to sleep: then the alert comes late, or when you come back. With the app in front it comes on time.
alerts-denied = The browser refuses alerts for this page. With the app in front it still rings. For alerts from the background, allow notifications in the browser’s settings for this page.
alerts-unsupported = This browser alerts only with the app in front. On an iPhone or iPad, add the app to the home screen and open it there: then alerts can be allowed.
search-title = Search
search-label = Any word
search-hint = Points, readings, notes and findings, by the beginning of any word.
search-nothing = Nothing found.
search-count = { $count ->
    [one] One hit
   *[other] { $count } hits
}
search-point = point
search-finding = finding
search-reading = reading
search-note = note
search-act = to do
find-label = Search all jobs
find-hint = Any word: names, sites, units, findings, notes. A word finds what begins with it, “lock up” what stands just so.
find-nothing = Nothing found.
find-count = { $count ->
    [one] One job.
   *[other] { $count } jobs.
}
find-under-way = The server is being asked …
find-behind = { $count ->
    [one] One job has just changed; it is looked through in a few seconds.
   *[other] { $count } jobs have just changed; they are looked through in a few seconds.
}
find-no-line = The server is out of reach: only the jobs on this device were searched.
find-refused = The server did not search: { $why }
find-left = { $count ->
    [one] One job of this device is still to be looked through.
   *[other] { $count } jobs of this device are still to be looked through.
}
find-on-server = Only on the server; opening it brings it here
find-more = { $count ->
    [one] One more place in this job
   *[other] { $count } more places in this job
}
find-unit = unit
find-client = client
find-site = site
find-photo = photo
find-job = job
find-agreement = agreement
find-invoice = invoice
left-title = Before leaving
left-no-warranty = Clear means clear on this day, as far as examined; it is no warranty.
left-nothing = Nothing is left.
missing-count = { $count ->
    [one] One thing is missing
   *[other] { $count } things are missing
}
left-essential = Keeps a use open ({ $count })
left-other = Other gaps ({ $count })
left-keeps-open = keeps open: { $uses }
use-tow = tow
use-power = power
use-gas = gas
use-water = water
use-stay = stay
use-clear = clear
use-held = held
use-open = open

## shell: starting, pairing, the list of jobs, settings
shell-skip = To the screen itself
shell-work-missing = A part of the app has not come yet. Connect to the server once and try again; afterwards it is kept on this device.
shell-starting = Nearside is starting …
shell-reload = Load again
shell-elsewhere-title = Open in another tab
shell-elsewhere = Nearside is open in another tab or window of this browser. Only one may write at a time; nothing is lost by changing over.
shell-elsewhere-use-here = Use it here
shell-broken-title = Nearside could not start
shell-broken = { $why }. Nothing that was kept before is lost.
shell-messages = Messages
shell-put-away = Put away
shell-update-label = Newer version
shell-update = A new version is ready. It is taken when you say so; nothing entered is lost.
shell-update-use = Use the new version
shell-update-half-typed = Something is typed and not entered yet. Enter it or clear it first, then take the new version.
shell-jobs = Jobs
shell-no-jobs = No job on this device yet.
shell-jobs-on-server = Only on the server
shell-job-fetch = Open it to have it here, with and without a signal
shell-opening-job = The job is being opened …
shell-try-now = Copy now
shell-kept = Kept on this device
shell-kept-writing = Being kept …
shell-not-kept = Not kept yet: { $why }
shell-gone = Kept here once, not readable now: { $count }. It is looked for again
shell-copied = Copied to the server
shell-copied-rest = Everything else is copied
shell-copied-unpaired = Only on this device: it is not paired with a server
shell-copied-shut-out = Only on this device: { $why }
shell-copied-off = { $count ->
    [one] No network; 1 entry waits to be copied
   *[other] No network; { $count } entries wait to be copied
}
shell-copied-waiting = { $count ->
    [one] The server cannot be reached; 1 entry waits to be copied
   *[other] The server cannot be reached; { $count } entries wait to be copied
}
shell-copied-working = { $count ->
    [one] 1 entry is being copied
   *[other] { $count } entries are being copied
}
shell-copied-trouble = { $count ->
    [one] 1 entry is not copied: { $why }
   *[other] { $count } entries are not copied: { $why }
}
shell-line-working = Connected to the server
shell-line-waiting = The server cannot be reached; this is tried again by itself
shell-line-off = No network: everything is kept on this device
shell-line-shut-out = The server does not take this device any more
shell-line-unpaired = Not paired with a server
shell-alarm = Time to go back: { $what }
shell-alarm-hurry = { $count ->
    [one] Go back now, one minute is left: { $what }
   *[other] Go back now, { $count } min are left: { $what }
}
shell-alarm-too-long = Has run too long to be of use: { $what }
shell-alarm-go = To the waits
shell-photo-not-kept = { $file } is not kept: { $why }
shell-photo-undrawn = { $file } is kept, but this browser cannot draw it, so it will be on no page of the report. Set the camera to JPEG (often called “most compatible”), or save the picture as JPEG and add that one.
shell-pairing = Pairing
shell-pairing-title = Pair this device
shell-pairing-what = Someone at the server makes a code, with “nearside pair”. It works once. From then on this device copies its jobs there; no password is needed.
shell-pairing-code = Code
shell-pairing-code-hint = Eight letters and digits, as the server shows them. Scanning its QR code fills them in.
shell-pairing-do = Pair
shell-pairing-under-way = Pairing …
shell-pairing-later = Later: work on this device alone
shell-pairing-incomplete = Fill in the code, your name and a name for this device.
shell-pairing-unknown = The server does not know this code. Look at it again, or make a new one.
shell-pairing-expired = This code has run out. Make a new one at the server.
shell-pairing-used = This code was used already. Make a new one at the server.
shell-pairing-busy = Too many attempts. Wait a minute, then try again.
shell-pairing-no-line = The server cannot be reached. Check that this device is on its network, then try again.
shell-pairing-other = The server did not pair this device: { $why }
shell-pairing-already = This device is paired with { $server }. Pairing again replaces its key; nothing on it is lost.
shell-pair-first = This device is not paired with a server. What you enter is kept here alone until it is.
shell-pair-again = { $why }
shell-paired = Paired with a server
shell-paired-with = Paired with { $server }
shell-person = Your name
shell-person-hint = As it should stand in the record and the report
shell-device = A name for this device
shell-device-browser = Browser
shell-credentials = Licence or membership, as it should be printed
shell-new-job = New job
shell-new-number = Job number
shell-new-number-hint = As you count your jobs, such as 2026-041
shell-new-kind = What is inspected
shell-kind-travel-trailer = Travel trailer
shell-kind-fifth-wheel = Fifth wheel
shell-kind-park-trailer = Park trailer
shell-kind-manufactured-home = Manufactured home
shell-new-maker = Maker, as on the plate
shell-new-model = Model
shell-new-year = Model year
shell-new-year-wrong = The model year takes four digits, such as 2017, or nothing.
shell-new-site = Where it stands
shell-new-client = Client's name
shell-new-contact = How to reach the client
shell-new-plan = Plan
shell-new-plans-coming = The plans are being read …
shell-new-plans-missing = The plans cannot be read: { $why }. Connect to the server once and try again; afterwards jobs can be made without a network.
shell-plan-texts-missing = What the plan says cannot be shown in this language yet: { $why }. It stays in English; connect to the server once and open the job again.
shell-new-equipment = What is usually fitted is taken over and can be changed on the job's opening page.
shell-new-incomplete = Fill in the job number and your name.
shell-new-make = Make the job
disk-full = this device’s storage is full. What was kept before is still there; make room on the device, and it is tried again by itself
disk-refused = the browser’s storage refused it: { $why }
disk-closed = this browser does not open its storage ({ $why }). In a private window nothing can be kept: use an ordinary one
disk-took-back = the browser took the entry back and gave no reason
browser-no-random = this browser gives no random numbers; use another one
browser-no-hash = this browser cannot name files by their SHA-256; open the app by https
browser-no-bytes = the browser gave no bytes
browser-no-page = the app has lost its page; load it again
browser-no-file = the page does not name its file “{ $name }”; load it again
browser-file-unreachable = the server cannot be reached
browser-file-refused = the server answered { $status } when asked for the file “{ $name }”
browser-not-started = the app has not started yet
browser-no-job-id = the new job got no id; make it once more
browser-no-device-id = the server gave this device an id that cannot be read; pair it with a new code
refused-not-paired = this device is not paired with the server; pair it, nothing on it is lost
refused-removed = this device was removed from the server; what is not copied yet stays on it
refused-no-such-job = the server has no such job for this device
refused-missing-changes = entries before those sent are not on the server yet
refused-other-log = the server’s copy is not the one this device has read; everything is compared again
refused-change = an entry does not fit: { $why }
refused-unreadable = what arrived could not be read: { $why }
refused-too-large = too large: { $why }
refused-wrong-offset = the upload goes on from elsewhere
refused-damaged = what arrived of the photo has another SHA-256 than its name
refused-busy = the server is busy; this is tried again by itself
refused-full = the server’s disk is full; what is on this device stays there
refused-other = the server could not do it; this is tried again by itself
shell-settings = Settings
shell-theme = Look
shell-theme-light = Light
shell-theme-dark = Dark
shell-theme-sunlight = Sunlight
shell-units = Units
shell-units-us = US: °F, psi, lb
shell-units-si = SI: °C, kPa, kg
shell-paper = Paper of the pages beside your work
shell-paper-letter = US Letter
shell-paper-a4 = A4
shell-language = Language
shell-device-title = This device
shell-installed = Starts without a network
shell-not-installed = Does not start without a network yet: load it once more with one
shell-room = Room: { $used } of { $allowed } in use
shell-room-not-told = The browser does not say how much room there is
shell-room-ask = Ask for lasting storage
shell-room-promised = The browser has promised to keep what is here even when the device runs short of room.
shell-room-refused = The browser has not promised to keep what is here when the device runs short of room. Copy to the server often; adding Nearside to the home screen helps.
shell-room-unknown = The browser does not say whether it keeps what is here when the device runs short of room. Copy to the server often.

## Agreement and invoice, at the desk
engagement-title = Agreement and invoice
agreement-title = Agreement
agreement-nothing = Nothing was put to the client yet.
agreement-in-words = Recorded in words: { $words }
agreement-not-sent = Not sent yet: the client has no address to read and sign it.
agreement-waiting = Waits for the client’s consent.
agreement-agreed = Agreed by { $name }, { $at }.
agreement-agreed-from = Agreed by { $name }, { $at }, from the network address { $address }.
agreement-changed = Changed since { $name } agreed, { $at }: it needs a new consent.
agreement-begin = Begin an agreement
agreement-begin-hint = It begins with the unit, the first visit’s day and the terms. The client reads and signs it at an address of their own; their consent is theirs alone to give.
agreement-client = Client
agreement-contact = How to reach them
agreement-unit = Unit, as you both speak of it
agreement-site = Site
agreement-purpose = Purpose
agreement-day = Day of the visit
agreement-scope = What will be examined
agreement-limits = What will not, or only in part
agreement-payment = When and how it is paid
agreement-terms = Language and terms
agreement-terms-text = Terms, with an empty line between paragraphs
agreement-language = Language of the agreement
agreement-language-hint = Another language brings its own terms. What you wrote yourself stays as you wrote it.
agreement-pdf = Save as PDF
fee-title = Fee
fee-line = A line of the fee
fee-tax = A tax
fee-text = For
fee-amount = Amount
fee-taxed = Taxed by
fee-taxed-all = every tax
fee-taxed-none = no tax
fee-taxed-only = { $name } only
fee-tax-name = Name of the tax
fee-rate = Rate, percent
fee-currency = Currency
fee-add-line = Add a line
fee-add-tax = Add a tax
fee-remove-line = Remove the line
fee-remove-tax = Remove the tax
fee-enter = Enter the fee
fee-sums = The fee added up
fee-net = Sum without tax
fee-tax-of = { $name }, { $rate } of { $base }
fee-total = Total
address-title = The client’s address
address-hint = Whoever has the address can read and sign: send it as you would send a letter. It shows the agreement as it stands when it is opened.
address-days = Good for days
address-make = Make an address
address-once = The address, shown this once
address-until = Good until { $time }.
address-copy = Copy the address
address-copied = Copied.
address-not-copied = This browser does not let it be copied: it is marked, copy it with the keys.
address-not-opened = Made { $made }, not opened yet.
address-opened = { $count ->
    [one] Made { $made }, opened once, { $last }.
   *[other] Made { $made }, opened { $count } times, last { $last }.
}
address-over = Made { $made }, shows nothing any more.
consents-title = Consents
consent-typed = typed name
consent-drawn = typed name and drawn signature
consent-on-paper = signed on paper
consent-from = from { $address }
consent-entered-by = entered by { $name }
consent-signature = The signature that { $name } drew
consent-holds = Holds for what is agreed now.
consent-earlier = Was given to an earlier text.
invoice-title = Invoice
invoice-no-fee = No fee is agreed yet.
invoice-days = To be paid within days
invoice-make = Make the invoice
invoice-make-another = Make another invoice
invoices-title = Invoices and credit notes
invoices-none = There is none yet.
invoice-number = Invoice { $number }
invoice-credit-number = Credit note { $number }
invoice-open = Open
invoice-part-paid = Paid in part, { $left } left
invoice-paid = Paid, { $day }
invoice-cancelled = Taken back by a credit note
invoice-credit-note = Takes invoice { $number } back
invoice-due = to be paid by { $day }
invoice-because = because: { $why }
invoice-pdf = Save as PDF
invoice-pdf-of = Save as PDF: { $number }
invoice-payment = Paid { $day }, { $how }
invoice-left = Still to be paid
pay-title = Payment on invoice { $number }
pay-amount = Amount
pay-day = Paid on
pay-how = How: card, cheque, cash
pay-note = Record the payment
credit-title = Take invoice { $number } back
credit-hint = A credit note of the same lines gets the next number. The invoice stays; what was paid on it is to be returned.
credit-why = Why, for the credit note
credit-make = Make the credit note
pages-wait = The client’s page waits for payment
pages-wait-hint = It then says that the report is ready and shows nothing of it until every invoice of the job is paid. It opens by itself.
pages-wait-older = An address given earlier does not wait: its page was made without what would stand for it meanwhile.
seller-title = Who charges
seller-hint = Stands on every invoice from then on; those made before keep what stood there.
seller-name = Name of the person or firm
seller-contact = How to reach you
seller-tax-number = Tax number, with what it is called
seller-prefix = Before each number, such as 2026-
seller-address = Address
seller-payment = How to pay
seller-keep = Keep
office-under-way = Asking the server …
office-fresh = Addresses and invoices are as the server has them now.
office-no-line-standing = The server cannot be reached. What is agreed can be entered here all the same; addresses, numbers and PDFs come from the server.
office-no-line = The server cannot be reached, so nothing was done there. Try it again when the line works.
office-not-copied = What was entered here is not all on the server yet, so nothing was done. Try it again when it says “Copied to the server”.
office-no-fee = No fee is agreed yet. Enter it in the agreement first.
office-no-seller = An invoice names who charges. Say it under “Who charges” first.
office-no-client = An invoice names who pays. Enter the client first.
office-less-than-nothing = The fee is less than nothing. A credit note takes an invoice back.
office-changed-since = It has changed since you saw it, so nothing was done. Look at it as it is now, then decide again.
office-no-agreement = Nothing was put to the client yet.
office-no-reason = Say why, in a few words on one line.
office-no-way = Say how it was paid, in a few words on one line.
office-no-amount = A payment of nothing is none. Write an amount.
office-no-day = Write the day like 2026-06-12.
office-days = Write a whole number of days: 1 to 3660 for an address, at most 366 for an invoice.
office-not-one-line = Write each on one line of at most 500 letters.
office-long-prefix = At most 20 letters stand before an invoice’s number.
office-one-job = This device was let in for one job. Who charges is said for all of them, on another device.
office-busy = The server has much to do just now. Try it again in a moment.
office-refused = The server did not do it: { $why }

## Screens: instruments
instruments-title = Instruments
instruments-open = Instruments and their calibration
instruments-none = No instrument is listed yet. A reading with a listed instrument is as uncertain as the instrument’s own sheet says; without one the usual uncertainty of the trade is taken.
instruments-fine = Every calibration lasts until the visit.
instruments-fine-day = Every calibration lasts until the visit on { $day }.
instruments-see-to = { $count ->
    [one] One instrument is to be seen to before the visit.
   *[other] { $count } instruments are to be seen to before the visit.
}
instruments-list = Instruments of this job
instrument-until = calibration valid until { $day }
instrument-calibrated-on = calibrated on { $day }, without an end
instrument-no-calibration = No calibration is recorded: enter when it was calibrated, or until when that is valid.
instrument-ran-out = Its calibration ran out on { $day }: calibrate it, or take another.
instrument-ran-out-visit = Its calibration ran out on { $day }, before the visit on { $visit }: calibrate it, or take another.
instrument-runs-out = Its calibration runs out on { $day }, before the visit on { $visit }: calibrate it, or take another.
instrument-serial-is = serial number { $serial }
instrument-readings = { $count ->
    [one] one reading with it
   *[other] { $count } readings with it
}
instrument-name = Name or model
instrument-kind = What it is
instrument-kind-hint = Such as { $example }: by that it is found again among what to bring.
instrument-serial = Serial number
instrument-calibrated = Calibrated on
instrument-due = Valid until
instrument-percent = Accuracy, percent of the reading
instrument-counts = Accuracy, counts of the last digit
instrument-resolution = Smallest step it shows
instrument-accuracy-hint = From its own sheet. A reading with it gets its uncertainty from these; where all three are empty, the usual one is taken.
instrument-add = Add an instrument
instrument-new = A new instrument
instrument-add-do = Add it
instrument-cancel = Not now
instrument-take-out = Take it out
instrument-gone = This instrument is not in the list any more.
instruments-over = Take over from another job
instruments-over-hint = Instruments of a job on this device, with their calibration as it is there. Those that are listed here already stay as they are.
instruments-over-job = Job
instruments-over-reading = The job is read …
instruments-over-none = That job lists no instruments that this one does not have.
instruments-over-one = Take over: { $what }
instruments-over-all = { $count ->
    [one] Take it over
   *[other] Take all { $count } over
}
instruments-over-trouble = That job cannot be read: { $why }

inspect-again-title = Inspect this unit again
inspect-again-hint = A job of its own: client, site, unit, equipment and instruments as they are here, and every finding that stands, with its photos of then.
inspect-again-carries = { $count ->
    [one] One finding would be carried.
   *[other] { $count } findings would be carried.
}
inspect-again-day = Day of the visit
inspect-again-inspector = Who inspects
inspect-again-make = Make the job and open it
inspect-again-busy = The job is being made …
inspect-again-incomplete = Fill in the job number and who inspects.
inspect-again-taken = There is a job of that number already. Another number is proposed; try again with it.
inspect-again-no-number = A job number takes 1 to 64 letters a to z, digits, - or _, such as 2026-041.
inspect-again-no-line = Inspecting a unit again needs the server, and it cannot be reached: the server has the photos of then and the next number. Try it again when the line works.
inspect-again-one-job = This device was let in for one job. A new one is made on another device.
inspect-again-absent = { $count ->
    [one] One photo of then is not at the server; the job was made without it.
   *[other] { $count } photos of then are not at the server; the job was made without them.
}

# All jobs together.
archive-title = Archive
archive-coming = The archive is being opened …
archive-hint = All jobs of the server: which there are, how often something was found, and tables for other programs. Figures are of your own jobs alone; nothing follows from them about other units.
archive-fresh = { $count ->
    [one] One job, as the server has it now.
   *[other] { $count } jobs, as the server has them now.
}
archive-no-line = The archive needs the server, and it cannot be reached. What stands here is what it said last; the jobs on this device are in the list of jobs.
archive-unpaired = The archive is at the server: pair this device first.
archive-one-job = This device was let in for one job, and the archive is of all of them. Another device shows it.
archive-turned-days = The last day lies before the first.
archive-refused = The archive gave no answer: { $why }
archive-filter = Which jobs count
archive-any = any
archive-kind = Kind of unit
archive-age = Age at the visit
archive-region = Region
archive-purpose = Purpose
archive-from = From
archive-to = To
archive-everybody = All jobs
archive-age-years = { $years } years
archive-age-unknown = age unknown
archive-region-unknown = region unknown
archive-count = { $count ->
    [0] No job is like that.
    [one] One job
   *[other] { $count } jobs
}
archive-findings = { $count ->
    [one] 1 finding
   *[other] { $count } findings
}
archive-no-visit = no visit
archive-more-jobs = { $count ->
    [one] Show one more
   *[other] Show more of { $count } others
}
archive-figures = How often what was found
archive-point = Point
archive-every-point = every point
archive-every-point-worst-first = Every point, the worst first
archive-of = What is counted
archive-of-found = findings that a person confirmed
archive-of-not-conforming = values that do not conform
archive-of-held = uses that are held
archive-examined-found = { $what }: examined, with a confirmed finding
archive-examined-not-conforming = { $what }: examined, with a value that does not conform
archive-examined-held = { $what }: examined, with a finding that stops a use
archive-per = What is told apart
archive-per-what = by { $what }
archive-column-point = Point
archive-column-group = Units
archive-column-share = Of the examined, with its 95 % interval
archive-column-not-examined = Not examined
archive-share = { $part } of { $whole }: { $share } % ({ $low } to { $high } %)
archive-few = { $part } of { $whole } (too few for a percentage)
archive-never-examined = never examined
archive-none = No job counts.
archive-more-lines = { $count ->
    [one] Show one more line
   *[other] Show more of { $count } other lines
}
archive-never = { $count ->
    [one] One point was never examined.
   *[other] { $count } points were never examined.
}
archive-how-to-read = Beside each share stands where it would lie among very many inspections like these (95 %, Wilson). Of fewer than { $few } examined there is no percentage. They are your own jobs, which nobody drew at random; a unit inspected twice counts twice.
archive-plot-what = { $count } lines, each with its share of the examined as a dot and the 95 % interval as a bar; of too few there are words alone. The table below says the same.
archive-no-drawing = Of every line too few were examined for a percentage, so there is nothing to draw. The table has the counts.
archive-axis = share of the examined, with its 95 % interval
archive-what-jobs = jobs
archive-what-figures = these figures
archive-what-points = every point of the jobs
archive-save-csv = Save { $what } as CSV
archive-save-parquet = Save { $what } as Parquet
archive-export-hint = Every file has the jobs that are filtered above. No client’s name, address or identification number is in them; maker and model with a day and a region may still tell who was meant.
archive-export-busy = Another table is being written. Try it again when it is done.
key-archive = all jobs together

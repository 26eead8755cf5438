## Acts, on the button that takes them back
act-answer = answer, { $what }
act-defect = defect seen, { $what }
act-note = note, { $what }
act-reading = reading, { $what }
act-photo = photo
act-finding = finding, { $what }
act-decision = decision on a finding
act-equipment = equipment, { $what }
act-wait = wait, { $what }
act-state = site, { $what }
act-instrument = instrument, { $what }
act-unit = what is known of the unit
act-job = what is known of the job

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
refusal-no-photo = There is no such photo.
refusal-photo-there = This photo is there already.
refusal-no-finding = There is no such finding any more.
refusal-no-title = Give the finding a heading.
refusal-no-reason = Say why.
refusal-no-equipment = No equipment is called “{ $equipment }”.
refusal-no-state = No state of the site is called “{ $state }”.
refusal-no-wait = { $point } has no wait.
refusal-wait-runs = { $point }: its wait runs already.
refusal-wait-over = This wait is ended already.
refusal-nothing-to-undo = There is nothing to take back.
refusal-nothing-to-redo = There is nothing to do again.
refusal-changed-since = Somebody else has changed the same since, so it stays as it is.
refusal-record = It could not be entered: { $why }
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
verdict-sentence = { $verdict }: { $bound } ({ $source })
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
gap-wait-running = its wait runs

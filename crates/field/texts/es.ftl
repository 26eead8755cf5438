## Acts, on the button that takes them back
act-answer = respuesta, { $what }
act-defect = defecto visto, { $what }
act-note = nota, { $what }
act-reading = lectura, { $what }
act-photo = foto
act-finding = hallazgo, { $what }
act-decision = decisión sobre un hallazgo
act-equipment = equipo, { $what }
act-wait = espera, { $what }
act-state = sitio, { $what }
act-instrument = instrumento, { $what }
act-unit = lo que se sabe de la unidad
act-job = lo que se sabe del encargo

## Why something cannot be, and what can
refusal-nothing-typed = { $reading }: todavía no hay nada escrito.
refusal-no-quantity = { $reading }: no se entiende «{ $entry }». Escriba un número con su unidad, como { $example }. Unidades: { $units }.
refusal-no-choice = { $reading }: «{ $entry }» no es una de sus palabras: { $choices }.
refusal-no-date = { $reading }: «{ $entry }» no es una fecha. Escríbala así: 2026-06-11, o un mes: 2026-06.
refusal-one-place = { $reading } se lee en un solo lugar, no en «{ $position }».
refusal-no-such-place = { $reading } no se lee en «{ $position }». Lugares: { $places }.
refusal-place-needs-name = { $reading } se lee en varios lugares: dé un nombre a este.
refusal-no-point = El plan no tiene ningún punto «{ $point }».
refusal-point-not-here = { $point }: esta unidad no lo tiene, por su tipo y equipo. Corrija primero el equipo.
refusal-not-fitted = { $point }: se dijo que no está instalado. Retire eso primero.
refusal-fitted-after-all = { $point } tiene lecturas o defectos, así que está instalado. Táchelos primero.
refusal-no-such-reading = { $point } no tiene esa lectura.
refusal-no-reading = No existe esa lectura.
refusal-struck-already = Esta lectura ya está tachada.
refusal-no-defect = { $point } no tiene ese defecto en su lista. Escriba un hallazgo con sus propias palabras.
refusal-no-instrument = No hay ningún instrumento «{ $instrument }» en la lista.
refusal-no-instrument-name = Dé un nombre al instrumento.
refusal-no-photo = No existe esa foto.
refusal-photo-there = Esta foto ya está.
refusal-no-finding = Ese hallazgo ya no existe.
refusal-no-title = Dé un título al hallazgo.
refusal-no-reason = Diga por qué.
refusal-no-equipment = Ningún equipo se llama «{ $equipment }».
refusal-no-state = Ningún estado del sitio se llama «{ $state }».
refusal-no-wait = { $point } no tiene espera.
refusal-wait-runs = { $point }: su espera ya corre.
refusal-wait-over = Esta espera ya terminó.
refusal-nothing-to-undo = No hay nada que deshacer.
refusal-nothing-to-redo = No hay nada que rehacer.
refusal-changed-since = Otra persona cambió lo mismo después, así que queda como está.
refusal-record = No se pudo anotar: { $why }
refusal-no-number = Dé un número al encargo.
refusal-no-plan = No hay ningún plan «{ $plan }».

## Verdicts
verdict-conforms = cumple
verdict-does-not-conform = no cumple
verdict-undecided = sin decidir
verdict-within-practice = dentro de la práctica común
verdict-within-unconfirmed = dentro de un límite sin confirmar
verdict-beyond-practice = fuera de la práctica común
verdict-beyond-unconfirmed = fuera de un límite sin confirmar
verdict-no-limit = sin límite
verdict-sentence = { $verdict }: { $bound } ({ $source })
footing-build = obligación del fabricante al construir
footing-in-use = regla para unidades en uso
footing-good-practice = buena práctica

## What became of a point
point-open = pendiente
point-begun = empezado
point-incomplete = falta una lectura
point-examined = examinado
point-not-examined = no examinado
point-not-fitted = no instalado

## Why a point cannot be examined
reason-no-access = Sin acceso
reason-covered = Tapado o bloqueado por objetos
reason-unsafe = No es seguro
reason-locked = Cerrado, sin llave
reason-no-power = Sin electricidad en el sitio
reason-no-gas = Sin gas en el sitio
reason-no-water = Sin agua en el sitio
reason-weather = El tiempo
reason-not-agreed = No acordado

## What to bring
kit-multimeter = Multímetro
kit-clamp-meter = Pinza amperimétrica
kit-manometer = Manómetro de columna
kit-pressure-gauge = Manómetro de agua
kit-tyre-gauge = Manómetro de neumáticos
kit-tape = Cinta métrica y medidor de banda
kit-scale = Básculas
kit-thermometer = Termómetro
kit-moisture-meter = Medidor de humedad e higrómetro
kit-carbon-monoxide-meter = Medidor de monóxido de carbono
kit-torque-wrench = Llave dinamométrica
kit-level = Nivel con ángulo
kit-watch = Reloj o cronómetro
kit-ohmmeter = Óhmetro de baja resistencia
kit-frequency-meter = Frecuencímetro
kit-measuring-jug = Jarra medidora o cubo
kit-air-flow-meter = Medidor de caudal de aire
kit-sun-meter = Medidor de radiación solar
kit-hydrometer = Densímetro

## What is left
gap-not-settled = nada anotado
gap-no-reason = falta la razón
gap-no-reading = falta una lectura
gap-no-photo = falta la foto
gap-undecided = sin decidir: mida otra vez, o mejor
gap-no-evidence = un hallazgo sin lectura ni foto
gap-calibration = calibración
gap-wait-running = su espera corre

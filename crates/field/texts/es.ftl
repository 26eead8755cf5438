## Acts, on the button that takes them back
act-answer = respuesta, { $what }
act-defect = defecto visto, { $what }
act-note = nota, { $what }
act-reading = lectura, { $what }
act-photo = foto
act-photos = { $count ->
    [one] una foto
   *[other] { $count } fotos
}
act-mark = marca en una foto
act-crop = parte mostrada de una foto
act-clock = reloj de una cámara
act-memo = nota de voz, { $what }
act-finding = hallazgo, { $what }
act-evidence = prueba de un hallazgo, { $what }
act-merge = dos hallazgos en uno, { $what }
act-recheck = hallazgo traído, { $what }
act-decision = decisión sobre un hallazgo
act-equipment = equipo, { $what }
act-wait = espera, { $what }
act-state = sitio, { $what }
act-instrument = instrumento, { $what }
act-instruments = { $count ->
    [one] un instrumento tomado de otro encargo
   *[other] { $count } instrumentos tomados de otro encargo
}
act-unit = lo que se sabe de la unidad
act-job = lo que se sabe del encargo
act-agreement = acuerdo
act-fee = honorarios

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
refusal-instrument-day = «{ $typed }» no es un día. Escríbalo así: 2026-06-11.
refusal-instrument-days = La calibración vence antes del día en que se calibró. Corrija uno de los dos días.
refusal-instrument-number = «{ $typed }» no es parte de una exactitud. Escriba un número de 0 o más, como 0.5.
refusal-instrument-step = «{ $typed }» no es un paso mínimo. Escriba un número con su unidad, como 0.1 V.
refusal-instrument-used = { $count ->
    [one] { $instrument } se queda en la lista: una lectura se tomó con él. Táchela, o anótela de nuevo con otro instrumento.
   *[other] { $instrument } se queda en la lista: { $count } lecturas se tomaron con él. Táchelas, o anótelas de nuevo con otro instrumento.
}
refusal-no-photo = No existe esa foto.
refusal-photo-there = Esta foto ya está.
refusal-no-mark = Esa marca ya no está en la foto.
refusal-mark-small = La marca es demasiado pequeña para verse. Dibújela más grande.
refusal-mark-beyond = La marca queda fuera de la foto.
refusal-crop-small = Una parte tan pequeña no muestra nada. Dibújela más grande.
refusal-mark-no-words = Escriba primero las palabras y luego muestre dónde van.
refusal-no-such-time = Con esa corrección la hora de una foto saldría del calendario.
refusal-memo-type = Una grabación del tipo «{ $type }» no se puede guardar. Se aceptan: { $types }.
refusal-memo-there = Esta nota de voz ya está.
refusal-memo-empty = No se grabó nada. Hable al menos un segundo.
refusal-memo-long = La grabación dura { $minutes } min; se guardan como máximo { $most } min.
refusal-memo-struck = Esta nota de voz ya está tachada.
refusal-no-memo = No hay tal nota de voz.
refusal-no-finding = Ese hallazgo ya no existe.
refusal-sentence-name = «{ $name }» no sirve de nombre; valen de 1 a 40 letras, cifras, - o _.
refusal-sentence-empty = La frase está vacía; escriba una.
refusal-merged = Este hallazgo es parte de otro; sepárelo primero.
refusal-not-carried = Este hallazgo no viene de un trabajo anterior.
refusal-photo-earlier = Esta foto es del trabajo { $job } y se queda como está; haga una de hoy.
refusal-merge-itself = Un hallazgo no puede ser parte de sí mismo; elija otro.
refusal-not-merged = Este hallazgo no es parte de otro.
refusal-point-of-draft = Este hallazgo viene de su punto y se queda allí.
refusal-reading-brought-up = Esta lectura dio lugar al hallazgo; tache la lectura o retire el hallazgo.
refusal-no-title = Dé un título al hallazgo.
refusal-agreement-there = Ya hay un acuerdo; cambie lo que dice.
refusal-no-agreement = Aún no se ha propuesto nada al cliente. Empiece primero un acuerdo.
refusal-no-day = «{ $entry }» no es un día. Escríbalo como 2026-06-12.
refusal-no-currency = «{ $code }» no es una moneda. Escriba tres letras, como USD, MXN, CAD o EUR.
refusal-no-amount = «{ $entry }» no es un importe en { $currency }. Escríbalo con { $places } decimales como máximo, por ejemplo { $example }, y no más de { $most }.
refusal-no-rate = { $name }: «{ $entry }» no es un tipo de impuesto. Escriba un porcentaje con cuatro decimales como máximo, de 0 a 100, por ejemplo 8.8125 %.
refusal-tax-no-name = Dé un nombre al impuesto del { $rate }.
refusal-tax-twice = El impuesto «{ $name }» aparece dos veces; póngalo una sola.
refusal-line-no-words = Diga por qué concepto se cobra { $amount }.
refusal-line-no-tax = La línea «{ $line }» nombra un impuesto, «{ $name }», que los honorarios no tienen.
refusal-fee-large = Las sumas de los honorarios son demasiado grandes para calcularlas.
refusal-no-reason = Diga por qué.
refusal-no-equipment = Ningún equipo se llama «{ $equipment }».
refusal-no-state = Ningún estado del sitio se llama «{ $state }».
refusal-no-wait = { $point } no tiene espera.
refusal-wait-runs = { $point }: su espera ya corre.
refusal-wait-over = Esta espera ya terminó.
refusal-nothing-to-undo = No hay nada que deshacer.
refusal-nothing-to-redo = No hay nada que rehacer.
refusal-changed-since = Otra persona cambió lo mismo después, así que queda como está.
refusal-record-newer = Este encargo lo escribió una versión más nueva. Actualice la aplicación en este dispositivo e introdúzcalo de nuevo.
refusal-device-twice = Este dispositivo volvió a una copia anterior, y su trabajo posterior se conoce en otra parte. Emparéjelo de nuevo e introdúzcalo de nuevo.
refusal-record = No se pudo anotar: { $why }
record-refuses-there = esto ya consta en el registro.
record-refuses-gone = aquello de lo que trata ya no está en el registro; mírelo de nuevo, otro dispositivo pudo haberlo retirado.
record-refuses-no-words = hace falta un motivo o un nombre, y está vacío.
record-refuses-line-break = un nombre o un título tiene un salto de línea o un signo que no se puede mostrar; escríbalo en una sola línea.
record-refuses-number = uno de sus números no lo es; introdúzcalo de nuevo.
record-refuses-time = su hora no se puede guardar; revise el reloj y la zona horaria de este dispositivo.
record-refuses-twice = algo se nombra dos veces; nómbrelo una sola vez.
record-refuses-fixed = lo que consta ahí no se cambia nunca, o se cambia de otra manera.
record-refuses-unfit = el registro no guarda cosas así.
record-empty = La copia de este encargo en este dispositivo está vacía. Aquí no se anotó nada en él; ábralo de nuevo cuando se alcance el servidor.
record-no-record = Lo que hay bajo el nombre de este encargo en este dispositivo no es un encargo. Para tener aquí la copia del servidor, copie antes los demás encargos; luego borre los datos de este sitio en el navegador y empareje de nuevo.
record-damaged = La copia de este encargo en este dispositivo está dañada. Lo copiado al servidor está entero allí. Para tenerlo aquí otra vez, copie antes los demás encargos; luego borre los datos de este sitio en el navegador y empareje de nuevo.
record-newer = Este encargo lo escribió una versión más nueva (esquema { $found }; esta aplicación conoce hasta { $known }). Actualice la aplicación en este dispositivo; no se pierde nada del encargo.
record-other-job = Llegó para este encargo un cambio que pertenece a otro, y se dejó fuera.
record-no-beginning = El comienzo de este encargo no ha llegado todavía a este dispositivo; { $count ->
        [one] un cambio lo espera
       *[other] { $count } cambios lo esperan
    }. Conéctese una vez al servidor.
record-device-twice = Dos dispositivos, o una copia anterior de uno, anotaron con la misma identidad. Uno de sus cambios se dejó fuera: empareje de nuevo ese dispositivo y anótelo otra vez.
record-unread = { $count ->
        [one] Esta aplicación no puede leer una anotación de este encargo. Se conserva; una aplicación más nueva quizá la muestre.
       *[other] Esta aplicación no puede leer { $count } anotaciones de este encargo. Se conservan; una aplicación más nueva quizá las muestre.
    }
plan-unreadable = El plan de este encargo no se puede leer: { $count ->
        [one] un problema, en { $file }, línea { $line }
       *[other] { $count } problemas, el primero en { $file }, línea { $line }
    }. Lo anotado se conserva.
plans-unreadable = { $count ->
        [one] un problema, en { $file }, línea { $line }
       *[other] { $count } problemas, el primero en { $file }, línea { $line }
    }
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
bound-at-most = como máximo { $most }
bound-at-least = como mínimo { $least }
bound-between = de { $least } a { $most }
bound-one-of = { $words }
note-build-date = No se aplica { $section }: depende del día en que se construyó la unidad, que no consta.
as-it-stands = { $text }
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
kit-tyre-gauge = Manómetro de llantas
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
kit-measuring-jug = Jarra medidora o cubeta
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
gap-calibration-ran-out = su calibración venció el { $day }, antes de la visita
gap-calibration-none = no consta ninguna calibración
gap-not-agreed = el cliente aún no aceptó las condiciones
gap-agreed-otherwise = lo acordado cambió desde entonces: el cliente debe aceptarlo de nuevo
gap-wait-running = su espera corre
gap-photo-not-placed = una foto de ningún punto
gap-not-rechecked = traído: ¿corregido, sin corregir o no visto?
gap-corrected-but-found = dado por corregido y hallado otra vez hoy
gaps-not-settled = Puntos sin nada anotado
gaps-no-reason = No examinados, sin razón
gaps-no-reading = Lecturas que faltan
gaps-no-photo = Fotos que faltan
gaps-undecided = Veredictos sin decidir
gaps-no-evidence = Hallazgos sin pruebas
gaps-calibration = Instrumentos
gaps-wait-running = Esperas que corren
gaps-photo-not-placed = Fotos de ningún punto
gaps-not-agreed = Acuerdo que espera la aceptación
gaps-agreed-otherwise = Acuerdo que necesita una nueva aceptación
gaps-not-rechecked = Hallazgos traídos de los que no se dice nada
gaps-corrected-but-found = Dados por corregidos y hallados otra vez
recheck-corrected = corregido
recheck-not-corrected = sin corregir
recheck-not-seen = no visto
recheck-open = aún sin decir
recheck-withdrawn = retirado
again-title = Desde la inspección anterior
again-first = Este trabajo no inspecciona de nuevo ninguna unidad: no hay trabajo anterior cuyos hallazgos traiga.
again-of = Hallazgos del trabajo { $job }.
again-of-day = Hallazgos del trabajo { $job }, visitado el { $day }.
again-none = El trabajo anterior no tuvo hallazgos.
again-all-said = De cada hallazgo está dicho qué fue de él.
again-left = { $count ->
    [one] De { $all } falta por decir uno.
   *[other] De { $all } faltan por decir { $count }.
}
again-open = { $count ->
    [0] Hallazgos del trabajo { $job }: todo dicho
   *[other] Hallazgos del trabajo { $job }: { $count } por decir
}
again-then = Entonces
again-now = Ahora
again-no-photo = Sin foto.
again-became = ¿Qué fue de él?
again-corrected = Corregido
again-not-corrected = Sin corregir
again-not-seen = No visto
again-note = Qué se ve ahora
again-why = ¿Por qué no se vio?
again-take-back = Retirar lo dicho
again-said-by = dicho por { $by }, { $day }
again-finding = El hallazgo
again-take = Fotografiar lo de ahora
again-attach = Lo muestra ahora
again-attach-what = Lo muestra ahora: { $what }
again-further = { $count ->
    [one] Otra foto que quizá lo muestre
   *[other] { $count } fotos más que quizá lo muestren
}
again-at-point = Hallado aquí en la inspección anterior
decides-now = { $value }, límite { $bound }
decides-known-to = conocido con ± { $needed } o mejor, { $verdict } (ahora ± { $now })
decides-conforms = sería conforme
decides-does-not-conform = no sería conforme
decides-within = estaría dentro del límite, que solo informa
decides-beyond = estaría fuera del límite, que solo informa
decides-other-value = no lo decide una lectura mejor del mismo valor, solo otro valor
decides-reading = para eso, { $what } con ± { $needed } o mejor (ahora ± { $now })
decides-instrument = basta con: { $which }
remark-promise = «{ $word }» promete { $what }, y ninguna inspección puede
remark-left-over = «{ $word }» es { $what } del trabajo { $job }; ¿quedó de él?
promise-guarantee = una garantía
promise-certificate = un certificado
promise-safe = que es seguro
promise-nothing-wrong = que nada está mal
promise-future = lo que será
promise-code = que se cumple una norma entera
fact-client = el cliente
fact-contact = el contacto del cliente
fact-site = el lugar
fact-identification = el número de identificación
fact-maker = el fabricante
fact-model = el modelo
text-of-job = datos del trabajo
text-note = nota
text-not-examined = por qué no se examinó
text-struck-out = por qué se tachó una lectura
text-heading = título
text-statement = descripción
text-who = a quién llamar
text-rechecked = lo que se vio de nuevo
text-withdrawn = por qué se retiró
text-caption = pie de foto
text-words = palabras sobre la foto

## Screens: going about
nav-label = Pantallas del encargo
nav-line = Recorrido
nav-photos = Fotos
nav-findings = Hallazgos
nav-waits = Esperas
nav-search = Buscar
nav-left = Falta
nav-report = Informe
nav-engagement = Acuerdo
undo-what = Deshacer: { $what }
redo-what = Rehacer: { $what }

## Screens: opening page
opening-counts = { $done } de { $points } puntos hechos · { $hours } de trabajo
opening-kind = Tipo
opening-year = Año del modelo
opening-built = Construido
opening-identification = Número de identificación
opening-size = Tamaño
opening-site = Sitio
opening-client = Cliente
opening-contact = Contacto
opening-scope = Acordado
opening-limits = No acordado
opening-cautions = Precauciones
opening-unit = La unidad
opening-kit = Qué llevar
opening-equipment = Qué está instalado
opening-equipment-hint = De ello resultan los puntos del recorrido.
opening-site-states = Sitio
opening-begin = Empezar
opening-go-on = Seguir
kind-travel-trailer = remolque de viaje
kind-fifth-wheel = remolque de quinta rueda
kind-park-trailer = remolque de parque
kind-manufactured-home = casa prefabricada
kit-points = { $count ->
    [one] un punto
   *[other] { $count } puntos
}
kit-overdue = Su calibración venció.
kit-until = calibrado hasta { $day }
kit-ran-out = la calibración venció el { $day }
kit-no-calibration = sin calibración anotada

## Screens: line, stop, site
line-title = El recorrido
line-counts = { $done } hechos · { $left } faltan · { $time } de trabajo
line-stop = { $done } de { $total } hechos
line-findings = { $count ->
    [one] un hallazgo
   *[other] { $count } hallazgos
}
line-waiting = espera en curso
line-next = Siguiente: { $what }
line-through = Qué falta
line-job = Encargo
stop-none = No existe esa parada.
stop-before = Parada anterior
stop-after = Parada siguiente
states-title = El sitio
states-hint = Diga qué está conectado, abierto o desplegado. Un punto que necesita otro estado avisa antes.
states-nothing = Sitio: nada dicho como conectado
states-on = es así
states-off = no es así
states-unknown = aún sin decir
states-needed = { $count ->
    [one] un punto pendiente lo necesita
   *[other] { $count } puntos pendientes lo necesitan
}
states-against = { $count ->
    [one] un punto pendiente lo necesita apagado
   *[other] { $count } puntos pendientes lo necesitan apagado
}

## Screens: the point at hand
point-none = Este punto no existe en esta unidad.
point-none-why = Por su tipo y equipo la unidad no lo tiene.
point-caution = Precaución
point-needs = Primero, en el sitio
point-need-not-so = ahora no es así
point-need-unknown = aún sin decir
point-need-set = Ya es así: { $state }
point-after = Esto va primero
point-look = Mirar
point-operate = Accionar
point-measure = Medir
point-wait = Espera, { $minutes } min
point-readings = Lecturas
point-computed = Calculado
point-defects = Visto aquí
point-findings = Hallazgos aquí
point-no-findings = Ninguno hasta ahora.
point-note = Nota
point-missing = { $count ->
    [one] falta una lectura
   *[other] faltan { $count } lecturas
}
point-essential = esencial
point-defect-seen = defecto visto
point-photos = { $count ->
    [one] una foto
   *[other] { $count } fotos
}
answer-label = Qué fue de este punto
answer-examined = Examinado
answer-not-examined = No se puede
answer-not-fitted = No instalado
answer-take-back = Retirar
answer-why = ¿Por qué no se puede examinar?
answer-own-words = Con sus propias palabras
answer-cancel = Volver
reading-optional = (opcional)
reading-places = Lugares
reading-new-place = + lugar
reading-place-name = Nombre del lugar
reading-date-hint = 2019-06 o 2019-06-30
reading-unit = Unidad: { $reading }
reading-instrument = Instrumento: { $reading }
reading-no-instrument = sin instrumento
reading-enter = Anotar
reading-would-draft = Propondría: { $what }
reading-times = Leído { $count } veces; cuenta la última.
reading-strike = Tachar
verdict-unfit = El instrumento es demasiado impreciso para este límite.
verdict-probability = Probablemente dentro del límite: { $percent } %

## Screens: photos
photos-title = Fotos
photos-wanted = Se pide: { $what }
photos-take = Tomar una foto
photos-choose = De archivos
photos-under-way = { $count ->
    [one] Se está guardando una foto …
   *[other] Se están guardando { $count } fotos …
}
photo-no-caption = Foto sin leyenda
photo-elsewhere = de otro dispositivo
photo-writing = guardándose …
photo-kept = guardada aquí
photo-gone = este dispositivo ya no la entrega; se vuelve a buscar
photo-sending = guardada aquí · { $percent } % copiado
photo-copied = guardada y copiada
photo-trouble = sin copiar: { $why }
photo-nowhere = Foto en ningún punto
photo-caption = Qué muestra
photo-save = Guardar leyenda
photo-take-off = Quitar del punto
photo-damaged = No se puede mostrar: { $why }
photo-undrawn = El navegador que la recibió no pudo dibujarla, así que no está en ninguna página del informe. Ponga la cámara en JPEG (a menudo «más compatible»), o guarde la imagen como JPEG y añádala.
photo-all = Todas las fotos

## Screens: marks on a photo
mark-tools = Dibujar
mark-arrow = Flecha
mark-box = Recuadro
mark-circle = Círculo
mark-words = Palabras
mark-blur = Difuminar
mark-text = Las palabras
mark-board = Foto para dibujar
mark-hint = Arrastre sobre la foto. O con teclas: las flechas mueven la cruz, Intro empieza, Intro otra vez termina, Esc la descarta.
mark-hint-words = Escriba las palabras y toque donde van. O con teclas: las flechas mueven la cruz, Intro las pone.
mark-crop = Recorte
mark-hint-crop = Arrastre sobre la parte que se ha de mostrar. O con teclas: las flechas mueven la cruz, Intro empieza e Intro termina. La foto misma queda entera.
mark-cropped = Ahora se muestra solo esta parte
mark-turn = Girar a la derecha
mark-turned = Girada
mark-whole = Mostrarla toda
mark-whole-again = Se muestra de nuevo toda
mark-drawn = { $what }: dibujada
mark-begun = Empieza aquí
mark-at = { $across } % a lo ancho, { $down } % a lo alto
mark-list = Marcas en esta foto
mark-erase = Quitar: { $what }
mark-take-off = Quitar

## Screens: the photo tray
tray-title = Fotos
tray-counts = { $photos } en total · { $open } en ningún punto
tray-unmeasured = { $count ->
    [one] Una foto nunca se midió: se agrupa solo por su hora y no se mira su nitidez.
   *[other] { $count } fotos nunca se midieron: se agrupan solo por su hora y no se mira su nitidez.
}
tray-files = Añadir fotos
tray-keeping = { $kept } de { $chosen } guardadas
tray-list = Fotos en el tiempo
tray-to-place = Por colocar
tray-all = Todas
tray-none = Aún no hay fotos. Añada algunas o suéltelas aquí.
tray-all-placed = Todas las fotos están en un punto.
tray-at-hand = La foto en curso
tray-alike = { $count } parecidas
tray-unsharp = borrosa
tray-dark = oscura
tray-bright = demasiado clara
tray-marks = { $count ->
    [one] una marca
   *[other] { $count } marcas
}
tray-sure = { $what }, seguro
tray-likely = { $what }, probable
tray-guess = { $what }, quizá
tray-no-hint = Nada indica un punto
tray-before = Tomada { $minutes } min { $seconds } s antes de una anotación allí
tray-after = Tomada { $minutes } min { $seconds } s después de una anotación allí
tray-between = Tomada entre dos anotaciones allí
tray-neighbours = Las fotos anterior y siguiente, por el nombre de sus archivos, son de ese punto
tray-or = Tomada entre dos puntos; podría ser también { $what }
tray-at = En { $what }
tray-place-at = Colocar en { $what }
tray-behind = { $count ->
    [one] Una casi igual
   *[other] { $count } casi iguales
}
tray-draw = Dibujar encima
tray-caption-hint = También lo que dice un lector de pantalla en su lugar.
tray-points = Puntos
tray-find = Buscar un punto
tray-find-hint = Escriba y pulse Intro. O suelte fotos sobre un punto.
tray-enter-places = Intro coloca en { $what }
tray-nothing-meant = Ninguna foto elegida
tray-no-suggestion = Nada indica un punto: elija uno
tray-placed = { $count ->
    [one] Una foto colocada en { $what }
   *[other] { $count } fotos colocadas en { $what }
}
tray-moved = { $count ->
    [one] Una foto colocada
   *[other] { $count } fotos colocadas
}
tray-chosen = { $count ->
    [one] Una foto elegida
   *[other] { $count } fotos elegidas
}
tray-clock-camera = La cámara
tray-clock-slow = { $camera }: su reloj parece ir { $span } atrasado. Corregido, { $then } de { $photos } fotos quedan a menos de un minuto de una anotación; ahora { $now }.
tray-clock-fast = { $camera }: su reloj parece ir { $span } adelantado. Corregido, { $then } de { $photos } fotos quedan a menos de un minuto de una anotación; ahora { $now }.
tray-clock-correct = Corregir las horas

## Keys at the desk
key-open = Teclas (?)
key-title = Teclas
key-letters = Las letras sueltas son teclas
key-close = Cerrar
key-everywhere = En un trabajo
key-list = esta lista
key-line = línea
key-photos = fotos
key-findings = hallazgos
key-missing = lo que falta
key-report = informe
key-engagement = acuerdo y factura
key-instruments = instrumentos
key-instrument = En la lista de instrumentos
key-instrument-go = ir a un instrumento
key-instrument-change = cambiarlo
key-instrument-calibration = hasta cuándo vale su calibración
key-instrument-add = añadir uno
key-instrument-out = quitarlo
key-now = ¿y ahora?
key-search = buscar
key-find = buscar en todos los trabajos
key-again = hallazgos de entonces
key-again-note = qué se ve ahora
key-again-attach = tomar la primera foto que quizá lo muestre
key-undo = deshacer
key-redo = rehacer
key-tray = En la lista de fotos
key-tray-go = ir a una foto
key-tray-take = aceptar la sugerencia
key-tray-sure = aceptar todas las seguras
key-tray-point = buscar otro punto
key-tray-choose = elegir también una foto
key-tray-extend = elegir varias
key-tray-none = no elegir ninguna
key-tray-caption = decir qué muestra
key-tray-draw = dibujar encima
key-tray-off = quitar de su punto
key-finding = En la lista de hallazgos
key-finding-go = ir a un hallazgo
key-finding-confirm = confirmar, ir al siguiente borrador
key-finding-withdraw = decir por qué se retira
key-finding-heading = su título
key-finding-statement = su texto
key-back = volver a la lista
key-board = En una foto en la que se dibuja
key-board-move = mover la cruz
key-board-steps = moverla más, o poco a poco
key-board-set = empezar una marca, terminarla
key-board-drop = descartarla

## The report at the desk
live-title = Como se imprimirá
live-under-way = Componiéndose …
live-older = Un estado anterior; el nuevo se está componiendo …
live-fresh = Al día
live-no-line = No se alcanza el servidor: estas páginas son anteriores a lo anotado aquí.
live-no-line-none = No se alcanza el servidor, que es quien compone las páginas.
live-refused = El servidor no tiene ahora esas páginas: { $why }
live-page = Página { $number } de { $count } de esta parte
report-title = Informe
report-parts = Partes del informe
report-front = Portada
report-overview = Hallazgos de un vistazo
report-finding = Hallazgo nuevo
report-further-photos = Otras fotos
report-readings = Lecturas
report-not-examined = Sin examinar
report-examined = Examinado sin observaciones
report-visit = La visita
report-instruments = Instrumentos
report-sources = Fuentes
report-terms = Condiciones
report-signature = Historial y firma

# Emitir el trabajo.
left-release = Emitir…
nav-release = Emitir
key-release = emitir
key-matter = En la lista de asuntos abiertos
key-matter-go = ir a un asunto
key-matter-close = ir a donde se cierra
key-matter-accept = aceptarlo con palabras
release-title = Emitir
release-asking = Se pregunta al servidor qué está abierto …
release-no-line = No se llega al servidor. Lo escrito queda aquí; inténtelo de nuevo cuando haya conexión.
release-line-lost = La conexión se cortó antes de la respuesta del servidor. En cuanto vuelva se muestra aquí si se emitió; lo escrito queda aquí.
release-unpaired = Este dispositivo no está emparejado con un servidor. La emisión la hace el servidor; emparéjelo primero.
release-wrong-passphrase = Esa frase no abre la clave. No se emitió nada; escríbala de nuevo.
release-still-open = Hay algo abierto que no se aceptó. No se emitió nada; la lista se consulta de nuevo.
release-changed = El trabajo cambió entretanto. No se hizo nada; mire lo que está abierto ahora e inténtelo de nuevo.
release-busy = Se está haciendo otra emisión o página. Inténtelo de nuevo cuando termine.
release-patience = Se pidió demasiadas veces. No se emitió nada; inténtelo de nuevo en unos minutos.
release-not-private = Una frase de paso solo se acepta por HTTPS o en la propia máquina del servidor. No se emitió nada; abra la aplicación en la dirección https del servidor.
release-refused = No se hizo nada: { $why }.
release-open-title = Lo que debe cumplirse antes
release-nothing-open = No hay nada abierto.
release-all-accepted = Todo lo abierto está aceptado con palabras.
release-open-count = { $count ->
    [one] Hay un asunto abierto: resuélvalo o acéptelo con palabras.
   *[other] Hay { $count } asuntos abiertos: resuélvalos o acéptelos con palabras.
}
release-kind-draft = Un borrador
release-kind-conflict = Anotado de varias maneras a la vez
release-kind-problem = Un problema del registro
release-entries-here = { $count ->
    [one] Una anotación aún no está en el servidor. Se copia sola.
   *[other] { $count } anotaciones aún no están en el servidor. Se copian solas.
}
release-files-here = { $count ->
    [one] Una foto de este dispositivo aún no está en el servidor. Se copia sola.
   *[other] { $count } fotos de este dispositivo aún no están en el servidor. Se copian solas.
}
release-photos-absent = { $count ->
    [one] Una foto del registro no está en el servidor. Una emisión contiene todas las fotos; la copia el dispositivo que la tomó.
   *[other] { $count } fotos del registro no están en el servidor. Una emisión contiene todas las fotos; las copian los dispositivos que las tomaron.
}
release-memos-absent = { $count ->
    [one] Una nota de voz del registro no está en el servidor. El dispositivo que la grabó la copia o la tacha.
   *[other] { $count } notas de voz del registro no están en el servidor. Los dispositivos que las grabaron las copian o las tachan.
}
release-see-photos = Ver las fotos
release-remarks = Observaciones, que no impiden nada
release-accepted = Aceptado: { $words }
release-in-english = En la emisión figura en inglés:
release-go = Ir a donde se cierra
release-accept-why = Se emite de todos modos, porque
release-accept = Aceptar
release-accept-rest = Aceptar con estas palabras todo lo que queda
release-sign-title = Firmar y emitir
release-no-inspector = El trabajo no nombra inspector, y nadie más puede emitirlo.
release-by = Lo emite { $name }, quien inspecciona.
release-no-key = No hay clave de firma en la carpeta de datos del servidor. La orden «nearside key new» crea una allí.
release-key = Firmado con
release-key-of = { $name }, clave { $key }…, creada el { $made }
release-passphrase = Frase de paso de la clave
release-passphrase-hint = Va al servidor para esta única firma y no se guarda en ninguna parte.
release-passphrase-needed = Escriba la frase de paso de la clave.
release-language = Idioma del informe
release-paper = Papel
release-letter = Carta
release-a4 = A4
release-countersigner = Quién debe refrendar (nadie, si está vacío)
release-because = Qué cambió desde la última emisión, y por qué
release-because-hint = Figura en la emisión, y el cliente lo lee.
release-because-needed = Diga qué cambió desde la última emisión, y por qué.
release-stays = Lo emitido no cambia nunca. Una corrección es otra emisión que dice qué cambió.
release-do = Emitir
release-left-open = { $count ->
    [one] Hay un asunto abierto. Resuélvalo o acéptelo con palabras.
   *[other] Hay { $count } asuntos abiertos. Resuélvalos o acéptelos con palabras.
}
release-not-there-yet = Aún no está todo en el servidor. Una emisión se hace con todo; espere a que esté.
release-seconds = { $count } s
release-step-checking = Se revisa lo que está abierto …
release-step-photos = Se traen las fotos …
release-step-layout = Se componen las páginas …
release-step-writing = Se escribe el PDF …
release-step-signing = Se empaquetan y firman los archivos …
release-step-keeping = Se escriben en el disco …
release-kept-title = Lo emitido
release-of = Emisión { $number }, { $at }
release-fact-by = Por
release-fact-key = Firmada con la clave
release-fact-digest = Resumen de todo
release-fact-report = Resumen del informe
release-fact-pages = Páginas
release-fact-because = Porque
release-fact-countersigner = La refrenda
release-fact-bag = Paquete
release-bag-place = { $name }, { $files } archivos, guardados en la carpeta de datos del servidor; «Paquete» los baja como un solo archivo
release-accepted-count = { $count ->
    [one] Un asunto estaba abierto y se aceptó
   *[other] { $count } asuntos estaban abiertos y se aceptaron
}
release-report = Informe (PDF)
release-bag = Paquete (zip)
release-fetching = Se está trayendo …
release-saved = Guardado como { $name }.
release-since = Qué ha cambiado desde entonces
release-since-until = Hasta la emisión { $number }:
release-since-now = Hasta el trabajo como está ahora:
release-since-nothing = Nada que note quien lee el informe.
release-new = nuevo: { $key }: { $after }
release-gone = quitado: { $key }: { $before }
release-other = { $key }: era { $before }; es { $after }
since-uses = Usos
since-findings = Hallazgos
since-values = Valores y veredictos
since-not-examined = Sin examinar
since-missing = Falta o está abierto
since-unit = La unidad
since-photos = Fotos
since-accepted = Aceptado con palabras
since-program = Programa y datos
since-pages = Papel, idioma y título
since-engagement = El encargo
since-summary = El resultado en breve
since-at-once = De inmediato
since-cautions = Precauciones
since-earlier = La inspección anterior
since-drawings = Dibujos de valores
since-examined = Examinado sin observaciones
since-visit = La visita
since-instruments = Instrumentos
since-sources = Fuentes
since-terms = Condiciones
since-unused = Entradas que no se pudieron usar
since-signature = Quién firma
since-release = Lo que cada emisión dice de sí misma
since-record = El registro
since-further = Otros
share-title = La página del cliente
share-changed = El trabajo cambió desde esta emisión. Emítalo de nuevo; el cliente recibe entonces la página de esa.
share-days = Días que vale la dirección
share-days-wrong = Una dirección vale de 1 a 3660 días.
share-waits = No muestra nada hasta que se paguen las facturas
share-no-invoice = No hay factura que la página pueda esperar.
share-make = Crear una dirección
share-address = La dirección, mostrada solo esta vez
share-once = Vale hasta { $until }. Cópiela ahora: nadie puede volver a verla.
share-open = Abrir la página
share-revoke = Cerrarla
share-revoke-one = Cerrarla: { $link }
share-good = vale hasta { $until }
share-waiting = espera el pago, vale hasta { $until }
share-over = vencida desde { $until }
share-revoked = cerrada { $at }
share-no-views = aún sin abrir
share-views = { $count ->
    [one] abierta una vez, { $first }
   *[other] abierta { $count } veces, la primera { $first }, la última { $last }
}

## Screens: voice memos
memo-title = Notas de voz
memo-hint = Se guardan con el encargo y en su paquete; no forman parte del informe.
memo-record = Grabar una nota
memo-asking = Esperando al micrófono …
memo-recording = Grabando: { $time }
memo-stop = Parar y guardar
memo-keeping = La nota se está guardando …
memo-play = Escuchar, { $time }
memo-playing = Parar, { $time }
memo-strike = Tachar la nota de { $time }
memo-not-kept = La nota de voz no está guardada: { $why }
memo-large = tiene { $size } MB, y se guardan como máximo { $most } MB
memo-ended = La nota terminó por sí sola a los { $minutes } min y está guardada. Grabe otra para seguir.
memo-blocked = El navegador bloquea el micrófono en esta página. Permítalo en los ajustes del navegador para esta página e inténtelo de nuevo. Todo lo demás funciona sin él.
memo-no-microphone = El navegador no encuentra ningún micrófono en este dispositivo.
memo-microphone-busy = El micrófono está en uso en otra parte. Cierre la otra aplicación e inténtelo de nuevo.
memo-unsupported = Este navegador no puede grabar sonido aquí. Hace falta un navegador más nuevo y una página abierta por https.
memo-broken = No se pudo hacer la grabación: { $why }
memo-not-here = Su sonido no está en este dispositivo y el servidor no responde. Inténtelo de nuevo con señal.

## Screens: findings
findings-title = Hallazgos
findings-none = Ningún hallazgo hasta ahora.
findings-write = Escribir un hallazgo
finding-title = Hallazgo
finding-gone = Ese hallazgo ya no existe.
finding-drafted = propuesto; nadie ha decidido aún
finding-confirmed = confirmado
finding-withdrawn = retirado: { $why }
finding-merged = parte de otro hallazgo
finding-corrected = corregido desde la inspección anterior
findings-drafted = Propuestos: { $count }
findings-confirmed = Confirmados: { $count }
findings-merged = Partes de otros: { $count }
findings-corrected = Corregidos desde entonces: { $count }
findings-withdrawn = Retirados: { $count }
finding-confirm = Confirmar
finding-open = Decidir
finding-as-drafted = Borrador: { $text }
finding-evidence = Qué lo muestra
finding-further = { $count } más que pueden mostrarlo
finding-attach = Lo muestra
finding-attach-what = Lo muestra: { $what }
finding-parts = Dice también: { $what }
finding-merge = Hacerlo parte de otro
finding-merge-into = De cuál
finding-unmerge = Sacarlo del otro
finding-stops = impide: { $uses }
finding-withdraw-why = Por qué no vale
finding-withdraw = Retirar
finding-at = En: { $point }
finding-at-none = En ningún punto
finding-heading = Título
finding-statement = Qué se encontró
finding-stops-what = ¿Qué usos impide?
finding-when = ¿Cuándo hay que actuar?
finding-who = ¿Quién debe actuar?
finding-enter = Anotar el hallazgo
stock-find = Frase guardada
stock-hint = Escriba cualquier palabra de ella; las flechas eligen, Intro la pone donde está el cursor.
stock-none = Aún no tiene frases guardadas. Guarde abajo las palabras que vuelva a usar.
stock-refused = El servidor no aceptó una frase, que queda guardada aquí: { $why }
stock-keep = Guardar como frase
stock-name = Su nombre, como gas-cerrado; se guarda lo elegido arriba, o todo
stock-keep-do = Guardar
stock-kept = Guardada como «{ $name }».
when-before-use = antes del uso
when-soon = pronto
when-in-time = a su tiempo

## Screens: what comes next
ahead-title = ¿Y ahora?
ahead-open = ¿Y ahora?
ahead-people = Quién está
ahead-one = Una persona
ahead-two = Dos personas
ahead-ends = Todo hecho hacia las { $clock }, en { $time }
ahead-nothing = No queda nada por hacer.
ahead-looking = Se busca un buen orden …
ahead-reordered = El orden cambió: ahorra tiempo o respeta un límite.
ahead-now = Ahora
ahead-now-of = Ahora, persona { $number }
ahead-person = persona { $number }
ahead-idle = { $count ->
    [one] se puede empezar en un minuto
   *[other] se puede empezar en { $count } min
}
ahead-return = Tomar la lectura: { $what }
ahead-set = En el sitio: { $what }
ahead-unset = En el sitio, terminar: { $what }
ahead-done = Hecho
ahead-waits = Esperas en curso
ahead-after = Después
ahead-blocked = Bloqueado por lo que se dejó ({ $count })
ahead-late = No se encontró ningún orden que respete todos los límites de tiempo: una espera puede durar demasiado. Empiece por las esperas.
ahead-no-plan = No se puede planificar la visita. La línea de paradas funciona como antes.
ahead-no-plan-circle = No se puede planificar la visita: cada uno de estos puntos debe ir antes del siguiente, en círculo: { $points }. La línea de paradas funciona como antes.
ahead-no-plan-window = No se puede planificar la visita: esto no cabe en las horas en que se puede hacer: { $points }. La línea de paradas funciona como antes.
ahead-no-plan-wait = No se puede planificar la visita: una espera terminaría demasiado tarde para lo que se hace mientras tanto: { $points }. La línea de paradas funciona como antes.
ahead-no-plan-contradiction = No se puede planificar la visita: tendrían que darse a la vez dos estados del sitio que se excluyen: { $points }. La línea de paradas funciona como antes.
ahead-no-plan-unreachable = No se puede planificar la visita: no se puede poner el sitio en el estado que hace falta: { $points }. La línea de paradas funciona como antes.
ahead-safety = Un plan no hace nada seguro: las normas locales, los manuales de los fabricantes y las personas con licencia van antes.
why-starts-wait = inicia una espera de { $time }: cuanto antes, mejor
why-ends-wait = { $time } después de su inicio
why-ends-wait-most = { $time } después de su inicio; sirve hasta { $most }
why-ends-wait-late = { $time } después de su inicio, y sirve solo hasta { $most }: demasiado tarde
why-wait-ended = su espera terminó y falta su lectura
why-makes-safe = { $more ->
    [0] hace seguro esto: { $what }
   *[other] hace seguro esto: { $what } y { $more } más
}
why-opens-the-way = { $more ->
    [0] va antes de: { $what }
   *[other] va antes de: { $what } y { $more } más
}
why-needed = { $more ->
    [0] hace falta para: { $what }
   *[other] hace falta para: { $what } y { $more } más
}
why-guards = va antes de lograr esto: { $what }
why-guards-end = va antes de terminar esto: { $what }
why-while-so = mientras esto es así: { $what }
why-while-not-so = mientras esto no es así: { $what }
why-leaves = deja el sitio como se encontró
why-window = solo a ciertas horas
why-same-place = en el mismo lugar
why-near = a { $time } a pie
blocked-safety = se dejó el paso de seguridad anterior: { $what }
blocked-start = se dejó lo que lo inicia: { $what }
blocked-guard = necesita esto: { $state }; y se dejó lo que va antes: { $what }
blocked-state = necesita esto, que ahora no se puede lograr: { $state }
site-caution-shore-power-on = Interruptor principal apagado, el poste comprobado antes de enchufar. Nadie toca el metal de la unidad hasta hacer la prueba de tensión en su superficie, y de nuevo después de cada cambio.
site-caution-gas-on = Todos los quemadores cerrados, sin llama, sin interruptores, puertas abiertas. Se abre despacio; si huele a gas, cierre, todos fuera, y pida ayuda desde fuera.
site-caution-water-main = Llaves de agua cerradas, un regulador en la manguera; alguien vigila dentro mientras sube la presión.
site-caution-water-pump = La bomba arranca sola: los dedos fuera de su tapa.
site-caution-tanks-filled = Nadie debajo de tanques llenos.
site-caution-generator-on = El escape mata: al aire libre, puertas y ventanas cerradas, la alarma de monóxido de carbono en marcha, nadie dormido dentro.
site-caution-slide-outs = El camino libre dentro y fuera, nadie debajo ni en su recorrido, las manos lejos de los bordes.
site-caution-awnings-out = No con viento; los brazos están bajo tensión de resorte.
site-caution-unit-level = Primero las ruedas calzadas; nadie debajo ni dentro mientras se mueven los gatos.
site-caution-coupling = Ruedas calzadas; nadie entre la unidad y el vehículo tractor.
site-caution-uncoupling = Ruedas calzadas antes de soltar nada.

## Screens: waits, search, what is left
waits-title = Esperas
waits-none = No corre ninguna espera.
waits-left = faltan { $time }
waits-over = Terminó: vuelva allí
waits-too-long = Ha corrido demasiado para servir
waits-untouched = No tocar: { $what }
waits-start = Empezar la espera
waits-end = Terminar la espera
waits-of-use = { $count ->
    [one] sirve un minuto más
   *[other] sirve { $count } min más
}
alerts-offer = Cuando una espera termina, este dispositivo puede avisarle también con otra aplicación delante. El navegador se lo pregunta una vez.
alerts-allow = Que me avise
alerts-granted = Los avisos están permitidos. En segundo plano el navegador puede dormir la página: entonces el aviso llega tarde, o cuando usted vuelve. Con la aplicación delante llega a tiempo.
alerts-denied = El navegador rechaza los avisos de esta página. Con la aplicación delante suena igualmente. Para avisos en segundo plano, permita las notificaciones en los ajustes del navegador para esta página.
alerts-unsupported = Este navegador avisa solo con la aplicación delante. En un iPhone o iPad, añada la aplicación a la pantalla de inicio y ábrala allí: entonces se pueden permitir los avisos.
waits-go = Ir al punto
search-title = Buscar
search-label = Cualquier palabra
search-hint = Puntos, lecturas, notas y hallazgos, por el comienzo de cualquier palabra.
search-nothing = No se encontró nada.
search-count = { $count ->
    [one] Un resultado
   *[other] { $count } resultados
}
search-point = punto
search-finding = hallazgo
search-reading = lectura
search-note = nota
search-act = por hacer
find-label = Buscar en todos los trabajos
find-hint = Cualquier palabra: nombres, lugares, unidades, hallazgos, notas. Una palabra encuentra lo que empieza por ella; «cierre lento», lo que está escrito así.
find-nothing = No se encontró nada.
find-count = { $count ->
    [one] Un trabajo.
   *[other] { $count } trabajos.
}
find-under-way = Se pregunta al servidor…
find-behind = { $count ->
    [one] Un trabajo acaba de cambiar; se revisa en unos segundos.
   *[other] { $count } trabajos acaban de cambiar; se revisan en unos segundos.
}
find-no-line = No se llega al servidor: se buscó solo en los trabajos de este dispositivo.
find-refused = El servidor no buscó: { $why }
find-left = { $count ->
    [one] Falta por revisar un trabajo de este dispositivo.
   *[other] Faltan por revisar { $count } trabajos de este dispositivo.
}
find-on-server = Solo en el servidor; al abrirlo viene aquí
find-more = { $count ->
    [one] Un lugar más en este trabajo
   *[other] { $count } lugares más en este trabajo
}
find-unit = unidad
find-client = cliente
find-site = lugar
find-photo = foto
find-job = trabajo
find-agreement = acuerdo
find-invoice = factura
left-title = Antes de irse
left-no-warranty = Despejado quiere decir despejado ese día, hasta donde se examinó; no es garantía.
left-nothing = No falta nada.
missing-count = { $count ->
    [one] Falta una cosa
   *[other] Faltan { $count } cosas
}
left-essential = Deja un uso abierto ({ $count })
left-other = Otros huecos ({ $count })
left-keeps-open = deja abierto: { $uses }
use-tow = remolcar
use-power = electricidad
use-gas = gas
use-water = agua
use-stay = quedarse
use-clear = despejado
use-held = detenido
use-open = abierto

## shell: starting, pairing, the list of jobs, settings
shell-skip = A la pantalla misma
shell-work-missing = Una parte de la aplicación no ha llegado todavía. Conéctese una vez al servidor e inténtelo de nuevo; después se queda en este dispositivo.
shell-starting = Nearside se está iniciando …
shell-reload = Cargar de nuevo
shell-elsewhere-title = Abierto en otra pestaña
shell-elsewhere = Nearside está abierto en otra pestaña o ventana de este navegador. Solo una puede escribir a la vez; al cambiar no se pierde nada.
shell-elsewhere-use-here = Usarlo aquí
shell-broken-title = Nearside no pudo iniciarse
shell-broken = { $why }. No se pierde nada de lo guardado antes.
shell-messages = Avisos
shell-put-away = Quitar
shell-update-label = Versión más nueva
shell-update = Hay una versión nueva lista. Se toma cuando usted lo diga; no se pierde nada de lo anotado.
shell-update-use = Usar la versión nueva
shell-update-half-typed = Hay algo escrito que aún no se anotó. Anótelo o bórrelo primero y luego tome la versión nueva.
shell-jobs = Encargos
shell-no-jobs = Aún no hay encargos en este dispositivo.
shell-jobs-on-server = Solo en el servidor
shell-job-fetch = Ábralo para tenerlo aquí, con o sin señal
shell-opening-job = Se está abriendo el encargo …
shell-try-now = Copiar ahora
shell-kept = Guardado en este dispositivo
shell-kept-writing = Guardando …
shell-not-kept = Aún no guardado: { $why }
shell-gone = Se guardó aquí y ahora no se puede leer: { $count }. Se vuelve a buscar
shell-copied = Copiado al servidor
shell-copied-rest = Todo lo demás está copiado
shell-copied-unpaired = Solo en este dispositivo: no está emparejado con un servidor
shell-copied-shut-out = Solo en este dispositivo: { $why }
shell-copied-off = { $count ->
    [one] Sin red; 1 anotación espera la copia
   *[other] Sin red; { $count } anotaciones esperan la copia
}
shell-copied-waiting = { $count ->
    [one] No se alcanza el servidor; 1 anotación espera la copia
   *[other] No se alcanza el servidor; { $count } anotaciones esperan la copia
}
shell-copied-working = { $count ->
    [one] Se está copiando 1 anotación
   *[other] Se están copiando { $count } anotaciones
}
shell-copied-trouble = { $count ->
    [one] 1 anotación sin copiar: { $why }
   *[other] { $count } anotaciones sin copiar: { $why }
}
shell-line-working = Conectado al servidor
shell-line-waiting = No se alcanza el servidor; se intenta de nuevo solo
shell-line-off = Sin red: todo se guarda en este dispositivo
shell-line-shut-out = El servidor ya no acepta este dispositivo
shell-line-unpaired = Sin emparejar con un servidor
shell-alarm-hurry = { $count ->
    [one] Vuelva ahora, queda un minuto: { $what }
   *[other] Vuelva ahora, quedan { $count } min: { $what }
}
shell-alarm-too-long = Duró demasiado para servir: { $what }
shell-alarm-go = A las esperas
shell-alarm = Hora de volver: { $what }
shell-photo-not-kept = { $file } no se guardó: { $why }
shell-photo-undrawn = { $file } se guardó, pero este navegador no puede dibujarla, así que no estará en ninguna página del informe. Ponga la cámara en JPEG (a menudo «más compatible»), o guarde la imagen como JPEG y añádala.
shell-pairing = Emparejar
shell-pairing-title = Emparejar este dispositivo
shell-pairing-what = Alguien en el servidor crea un código con «nearside pair». Sirve una sola vez. Desde entonces este dispositivo copia allí sus encargos; no hace falta contraseña.
shell-pairing-code = Código
shell-pairing-code-hint = Ocho letras y cifras, como las muestra el servidor. Al escanear su código QR se rellenan solas.
shell-pairing-do = Emparejar
shell-pairing-under-way = Emparejando …
shell-pairing-later = Más tarde: trabajar solo en este dispositivo
shell-pairing-incomplete = Escriba el código, su nombre y un nombre para este dispositivo.
shell-pairing-unknown = El servidor no conoce este código. Revíselo o cree uno nuevo.
shell-pairing-expired = Este código ha caducado. Cree uno nuevo en el servidor.
shell-pairing-used = Este código ya se usó. Cree uno nuevo en el servidor.
shell-pairing-busy = Demasiados intentos. Espere un minuto y pruebe de nuevo.
shell-pairing-no-line = No se alcanza el servidor. Compruebe que este dispositivo está en su red y pruebe de nuevo.
shell-pairing-other = El servidor no emparejó este dispositivo: { $why }
shell-pairing-already = Este dispositivo está emparejado con { $server }. Emparejarlo de nuevo cambia su clave; no se pierde nada.
shell-pair-first = Este dispositivo no está emparejado con un servidor. Lo que anote se guarda solo aquí hasta que lo esté.
shell-pair-again = { $why }
shell-paired = Emparejado con un servidor
shell-paired-with = Emparejado con { $server }
shell-person = Su nombre
shell-person-hint = Como debe figurar en el registro y en el informe
shell-device = Un nombre para este dispositivo
shell-device-browser = Navegador
shell-credentials = Licencia o colegiación, como debe imprimirse
shell-new-job = Encargo nuevo
shell-new-number = Número del encargo
shell-new-number-hint = Según su numeración, por ejemplo 2026-041
shell-new-kind = Qué se inspecciona
shell-kind-travel-trailer = Remolque de viaje
shell-kind-fifth-wheel = Remolque de quinta rueda
shell-kind-park-trailer = Remolque de parque
shell-kind-manufactured-home = Casa prefabricada
shell-new-maker = Fabricante, según la placa
shell-new-model = Modelo
shell-new-year = Año del modelo
shell-new-year-wrong = El año del modelo lleva cuatro cifras, por ejemplo 2017, o nada.
shell-new-site = Dónde está
shell-new-client = Nombre del cliente
shell-new-contact = Cómo localizar al cliente
shell-new-plan = Plan
shell-new-plans-coming = Leyendo los planes …
shell-new-plans-missing = No se pueden leer los planes: { $why }. Conéctese una vez al servidor e inténtelo de nuevo; después se pueden crear encargos sin red.
shell-plan-texts-missing = Lo que dice el plan no se puede mostrar todavía en este idioma: { $why }. Queda en inglés; conéctese una vez al servidor y abra el encargo de nuevo.
shell-new-equipment = Se toma lo que suele estar instalado; se cambia en la página inicial del encargo.
shell-new-incomplete = Escriba el número del encargo y su nombre.
shell-new-make = Crear el encargo
disk-full = el almacenamiento de este dispositivo está lleno. Lo guardado antes sigue ahí; haga sitio en el dispositivo y se intenta de nuevo por sí solo
disk-refused = el almacenamiento del navegador lo rechazó: { $why }
disk-closed = este navegador no abre su almacenamiento ({ $why }). En una ventana privada no se puede guardar nada: use una normal
disk-took-back = el navegador retiró la entrada sin dar razón
browser-no-random = este navegador no da números aleatorios; use otro
browser-no-hash = este navegador no puede nombrar archivos por su SHA-256; abra la aplicación por https
browser-no-bytes = el navegador no entregó los bytes
browser-no-page = la aplicación perdió su página; vuelva a cargarla
browser-no-file = la página no nombra su archivo «{ $name }»; vuelva a cargarla
browser-file-unreachable = no se alcanza el servidor
browser-file-refused = el servidor respondió { $status } al pedirle el archivo «{ $name }»
browser-not-started = la aplicación aún no ha arrancado
browser-no-job-id = el encargo nuevo no obtuvo identificador; créelo de nuevo
browser-no-device-id = el servidor dio a este dispositivo un identificador ilegible; emparéjelo con un código nuevo
refused-not-paired = este dispositivo no está emparejado con el servidor; emparéjelo, no se pierde nada de él
refused-removed = este dispositivo se retiró del servidor; lo que no está copiado sigue en él
refused-no-such-job = el servidor no tiene tal encargo para este dispositivo
refused-missing-changes = faltan en el servidor entradas anteriores a las enviadas
refused-other-log = la copia del servidor no es la que leyó este dispositivo; se compara todo de nuevo
refused-change = una entrada no encaja: { $why }
refused-unreadable = no se pudo leer lo que llegó: { $why }
refused-too-large = demasiado grande: { $why }
refused-wrong-offset = la subida sigue desde otro punto
refused-damaged = lo que llegó de la foto tiene otro SHA-256 que su nombre
refused-busy = el servidor está ocupado; se intenta de nuevo por sí solo
refused-full = el disco del servidor está lleno; lo que hay en este dispositivo se queda en él
refused-other = el servidor no pudo hacerlo; se intenta de nuevo por sí solo
shell-settings = Ajustes
shell-theme = Aspecto
shell-theme-light = Claro
shell-theme-dark = Oscuro
shell-theme-sunlight = Sol
shell-units = Unidades
shell-units-us = EE. UU.: °F, psi, lb
shell-units-si = SI: °C, kPa, kg
shell-paper = Papel de las páginas junto a su trabajo
shell-paper-letter = Carta (EE. UU.)
shell-paper-a4 = A4
shell-language = Idioma
shell-device-title = Este dispositivo
shell-installed = Se inicia sin red
shell-not-installed = Aún no se inicia sin red: cárguelo una vez más con ella
shell-room = Espacio: { $used } de { $allowed } en uso
shell-room-not-told = El navegador no dice cuánto espacio hay
shell-room-ask = Pedir almacenamiento duradero
shell-room-promised = El navegador ha prometido conservar lo que hay aquí aunque al dispositivo le falte espacio.
shell-room-refused = El navegador no ha prometido conservar lo que hay aquí si al dispositivo le falta espacio. Copie a menudo al servidor; ayuda añadir Nearside a la pantalla de inicio.
shell-room-unknown = El navegador no dice si conserva lo que hay aquí cuando al dispositivo le falta espacio. Copie a menudo al servidor.

## Acuerdo y factura, en el escritorio
engagement-title = Acuerdo y factura
agreement-title = Acuerdo
agreement-nothing = Aún no se ha propuesto nada al cliente.
agreement-in-words = Anotado en palabras: { $words }
agreement-not-sent = Aún sin enviar: el cliente no tiene una dirección donde leerlo y firmarlo.
agreement-waiting = Espera el consentimiento del cliente.
agreement-agreed = Aceptado por { $name }, { $at }.
agreement-agreed-from = Aceptado por { $name }, { $at }, desde la dirección de red { $address }.
agreement-changed = Cambió desde que { $name } aceptó, { $at }: hace falta un consentimiento nuevo.
agreement-begin = Empezar un acuerdo
agreement-begin-hint = Empieza con la unidad, el día de la primera visita y las condiciones. El cliente lo lee y lo firma en una dirección propia; su consentimiento solo lo da él.
agreement-client = Cliente
agreement-contact = Cómo contactar
agreement-unit = Unidad, como la llaman ambos
agreement-site = Lugar
agreement-purpose = Finalidad
agreement-day = Día de la visita
agreement-scope = Qué se examinará
agreement-limits = Qué no, o solo en parte
agreement-payment = Cuándo y cómo se paga
agreement-terms = Idioma y condiciones
agreement-terms-text = Condiciones, con una línea vacía entre párrafos
agreement-language = Idioma del acuerdo
agreement-language-hint = Otro idioma trae sus propias condiciones. Lo que usted escribió queda como lo escribió.
agreement-pdf = Guardar como PDF
fee-title = Honorarios
fee-line = Una línea de los honorarios
fee-tax = Un impuesto
fee-text = Concepto
fee-amount = Importe
fee-taxed = Con impuesto
fee-taxed-all = todos los impuestos
fee-taxed-none = sin impuesto
fee-taxed-only = solo { $name }
fee-tax-name = Nombre del impuesto
fee-rate = Tipo, por ciento
fee-currency = Moneda
fee-add-line = Añadir una línea
fee-add-tax = Añadir un impuesto
fee-remove-line = Quitar la línea
fee-remove-tax = Quitar el impuesto
fee-enter = Anotar los honorarios
fee-sums = Los honorarios sumados
fee-net = Suma sin impuestos
fee-tax-of = { $name }, { $rate } de { $base }
fee-total = Total
address-title = La dirección del cliente
address-hint = Quien tenga la dirección puede leer y firmar: envíela como enviaría una carta. Muestra el acuerdo tal como esté cuando se abra.
address-days = Válida por días
address-make = Crear una dirección
address-once = La dirección, que se muestra solo esta vez
address-until = Válida hasta { $time }.
address-copy = Copiar la dirección
address-copied = Copiada.
address-not-copied = Este navegador no deja copiarla: está marcada, cópiela con las teclas.
address-not-opened = Creada { $made }, aún sin abrir.
address-opened = { $count ->
    [one] Creada { $made }, abierta una vez, { $last }.
   *[other] Creada { $made }, abierta { $count } veces, la última { $last }.
}
address-over = Creada { $made }, ya no muestra nada.
consents-title = Consentimientos
consent-typed = nombre escrito
consent-drawn = nombre escrito y firma dibujada
consent-on-paper = firmado en papel
consent-from = desde { $address }
consent-entered-by = anotado por { $name }
consent-signature = La firma que dibujó { $name }
consent-holds = Vale para lo acordado ahora.
consent-earlier = Se dio a un texto anterior.
invoice-title = Factura
invoice-no-fee = Aún no se han acordado honorarios.
invoice-days = A pagar en días
invoice-make = Hacer la factura
invoice-make-another = Hacer otra factura
invoices-title = Facturas y abonos
invoices-none = Aún no hay ninguna.
invoice-number = Factura { $number }
invoice-credit-number = Abono { $number }
invoice-open = Pendiente
invoice-part-paid = Pagada en parte, quedan { $left }
invoice-paid = Pagada, { $day }
invoice-cancelled = Anulada por un abono
invoice-credit-note = Anula la factura { $number }
invoice-due = a pagar hasta { $day }
invoice-because = porque: { $why }
invoice-pdf = Guardar como PDF
invoice-pdf-of = Guardar como PDF: { $number }
invoice-payment = Pagado { $day }, { $how }
invoice-left = Queda por pagar
pay-title = Pago de la factura { $number }
pay-amount = Importe
pay-day = Pagado el
pay-how = Cómo: tarjeta, cheque, efectivo
pay-note = Anotar el pago
credit-title = Anular la factura { $number }
credit-hint = Un abono con las mismas líneas recibe el número siguiente. La factura queda; lo que se pagó por ella se devuelve.
credit-why = Por qué, para el abono
credit-make = Hacer el abono
pages-wait = La página del cliente espera el pago
pages-wait-hint = Dice entonces que el informe está listo y no muestra nada de él hasta que estén pagadas todas las facturas del encargo. Se abre sola.
pages-wait-older = Una dirección dada antes no espera: su página se hizo sin lo que la sustituiría mientras tanto.
seller-title = Quién cobra
seller-hint = Figura en cada factura desde ahora; las anteriores conservan lo que figuraba.
seller-name = Nombre de la persona o empresa
seller-contact = Cómo contactar con usted
seller-tax-number = Número fiscal, con su denominación
seller-prefix = Antes de cada número, como 2026-
seller-address = Dirección postal
seller-payment = Cómo pagar
seller-keep = Guardar
office-under-way = Preguntando al servidor …
office-fresh = Direcciones y facturas están como las tiene ahora el servidor.
office-no-line-standing = No se alcanza el servidor. Lo acordado se puede anotar aquí de todos modos; direcciones, números y PDF vienen del servidor.
office-no-line = No se alcanza el servidor, así que allí no se hizo nada. Inténtelo de nuevo cuando haya línea.
office-not-copied = Lo anotado aquí aún no está todo en el servidor, así que no se hizo nada. Inténtelo de nuevo cuando esté copiado.
office-no-fee = Aún no se han acordado honorarios. Anótelos primero en el acuerdo.
office-no-seller = Una factura dice quién cobra. Dígalo primero en «Quién cobra».
office-no-client = Una factura dice quién paga. Anote primero el cliente.
office-less-than-nothing = Los honorarios son menos que nada. Una factura se anula con un abono.
office-changed-since = Ha cambiado desde que usted lo vio, así que no se hizo nada. Mírelo como está ahora y decida de nuevo.
office-no-agreement = Aún no se ha propuesto nada al cliente.
office-no-reason = Diga por qué, con pocas palabras en una línea.
office-no-way = Diga cómo se pagó, con pocas palabras en una línea.
office-no-amount = Un pago de nada no lo es. Escriba un importe.
office-no-day = Escriba el día como 2026-06-12.
office-days = Escriba un número entero de días: de 1 a 3660 para una dirección, 366 como máximo para una factura.
office-not-one-line = Escriba cada cosa en una línea de 500 letras como máximo.
office-long-prefix = Antes del número de una factura van 20 letras como máximo.
office-one-job = Este dispositivo se admitió para un solo encargo. Quién cobra se dice para todos, en otro dispositivo.
office-busy = El servidor tiene mucho que hacer ahora. Inténtelo de nuevo en un momento.
office-refused = El servidor no lo hizo: { $why }

## Screens: instruments
instruments-title = Instrumentos
instruments-open = Instrumentos y su calibración
instruments-none = Todavía no hay ningún instrumento en la lista. Una lectura con un instrumento de la lista es tan incierta como dice su propia hoja; sin él se toma la incertidumbre usual del oficio.
instruments-fine = Todas las calibraciones duran hasta la visita.
instruments-fine-day = Todas las calibraciones duran hasta la visita del { $day }.
instruments-see-to = { $count ->
    [one] Hay que ocuparse de un instrumento antes de la visita.
   *[other] Hay que ocuparse de { $count } instrumentos antes de la visita.
}
instruments-list = Instrumentos de este encargo
instrument-until = calibración válida hasta el { $day }
instrument-calibrated-on = calibrado el { $day }, sin vencimiento
instrument-no-calibration = No hay ninguna calibración anotada: anote cuándo se calibró, o hasta cuándo vale.
instrument-ran-out = Su calibración venció el { $day }: calíbrelo, o lleve otro.
instrument-ran-out-visit = Su calibración venció el { $day }, antes de la visita del { $visit }: calíbrelo, o lleve otro.
instrument-runs-out = Su calibración vence el { $day }, antes de la visita del { $visit }: calíbrelo, o lleve otro.
instrument-serial-is = número de serie { $serial }
instrument-readings = { $count ->
    [one] una lectura con él
   *[other] { $count } lecturas con él
}
instrument-name = Nombre o modelo
instrument-kind = Qué es
instrument-kind-hint = Por ejemplo { $example }: por eso se lo encuentra entre lo que hay que llevar.
instrument-serial = Número de serie
instrument-calibrated = Calibrado el
instrument-due = Válida hasta el
instrument-percent = Exactitud, por ciento de la lectura
instrument-counts = Exactitud, cuentas de la última cifra
instrument-resolution = Paso mínimo que muestra
instrument-accuracy-hint = De su propia hoja. De aquí toma su incertidumbre una lectura con él; si los tres están vacíos, se toma la usual.
instrument-add = Añadir un instrumento
instrument-new = Un instrumento nuevo
instrument-add-do = Añadirlo
instrument-cancel = Ahora no
instrument-take-out = Quitarlo
instrument-gone = Este instrumento ya no está en la lista.
instruments-over = Tomar de otro encargo
instruments-over-hint = Instrumentos de un encargo de este dispositivo, con su calibración como está allí. Los que ya están en esta lista quedan como están.
instruments-over-job = Encargo
instruments-over-reading = Se lee el encargo …
instruments-over-none = Ese encargo no tiene instrumentos que falten en este.
instruments-over-one = Tomar: { $what }
instruments-over-all = { $count ->
    [one] Tomarlo
   *[other] Tomar los { $count }
}
instruments-over-trouble = No se puede leer ese encargo: { $why }

inspect-again-title = Inspeccionar de nuevo esta unidad
inspect-again-hint = Un trabajo propio: cliente, lugar, unidad, equipo e instrumentos como están aquí, y cada hallazgo vigente con sus fotos de entonces.
inspect-again-carries = { $count ->
    [one] Se llevaría un hallazgo.
   *[other] Se llevarían { $count } hallazgos.
}
inspect-again-day = Día de la visita
inspect-again-inspector = Quién inspecciona
inspect-again-make = Crear el trabajo y abrirlo
inspect-again-busy = Se está creando el trabajo …
inspect-again-incomplete = Rellene el número del trabajo y quién inspecciona.
inspect-again-taken = Ya hay un trabajo con ese número. Se propone otro número; inténtelo de nuevo con él.
inspect-again-no-number = Un número de trabajo lleva de 1 a 64 letras de la a a la z, cifras, - o _, como 2026-041.
inspect-again-no-line = Inspeccionar de nuevo una unidad necesita el servidor, y no se puede llegar a él: el servidor tiene las fotos de entonces y el número siguiente. Inténtelo de nuevo cuando haya línea.
inspect-again-one-job = Este dispositivo se admitió para un solo trabajo. Uno nuevo se crea en otro dispositivo.
inspect-again-absent = { $count ->
    [one] Una foto de entonces no está en el servidor; el trabajo se creó sin ella.
   *[other] { $count } fotos de entonces no están en el servidor; el trabajo se creó sin ellas.
}

# All jobs together.
archive-title = Archivo
archive-coming = Se está abriendo el archivo …
archive-hint = Todos los trabajos del servidor: cuáles hay, con qué frecuencia se halló algo, y tablas para otros programas. Las cifras son solo de sus propios trabajos; de ellas no se deduce nada sobre otras unidades.
archive-fresh = { $count ->
    [one] Un trabajo, como lo tiene ahora el servidor.
   *[other] { $count } trabajos, como los tiene ahora el servidor.
}
archive-no-line = El archivo necesita el servidor, y no se puede llegar a él. Lo que está aquí es lo último que dijo; los trabajos de este dispositivo están en la lista de trabajos.
archive-unpaired = El archivo está en el servidor: empareje primero este dispositivo.
archive-one-job = Este dispositivo se admitió para un solo trabajo, y el archivo es de todos. Otro dispositivo lo muestra.
archive-turned-days = El último día está antes del primero.
archive-refused = El archivo no dio respuesta: { $why }
archive-filter = Qué trabajos cuentan
archive-any = cualquiera
archive-kind = Tipo de unidad
archive-age = Edad en la visita
archive-region = Región
archive-purpose = Finalidad
archive-from = Desde
archive-to = Hasta
archive-everybody = Todos los trabajos
archive-age-years = { $years } años
archive-age-unknown = edad desconocida
archive-region-unknown = región desconocida
archive-count = { $count ->
    [0] Ningún trabajo es así.
    [one] Un trabajo
   *[other] { $count } trabajos
}
archive-findings = { $count ->
    [one] 1 hallazgo
   *[other] { $count } hallazgos
}
archive-no-visit = sin visita
archive-more-jobs = { $count ->
    [one] Mostrar uno más
   *[other] Mostrar más de otros { $count }
}
archive-figures = Con qué frecuencia se halló qué
archive-point = Punto
archive-every-point = todos los puntos
archive-every-point-worst-first = Todos los puntos, primero los peores
archive-of = Qué se cuenta
archive-of-found = hallazgos confirmados por una persona
archive-of-not-conforming = valores no conformes
archive-of-held = usos retenidos
archive-examined-found = { $what }: examinados, con un hallazgo confirmado
archive-examined-not-conforming = { $what }: examinados, con un valor no conforme
archive-examined-held = { $what }: examinados, con un hallazgo que impide un uso
archive-per = Qué se distingue
archive-per-what = por { $what }
archive-column-point = Punto
archive-column-group = Unidades
archive-column-share = De los examinados, con su intervalo del 95 %
archive-column-not-examined = No examinados
archive-share = { $part } de { $whole }: { $share } % ({ $low } a { $high } %)
archive-few = { $part } de { $whole } (muy pocos para un porcentaje)
archive-never-examined = nunca examinado
archive-none = Ningún trabajo cuenta.
archive-more-lines = { $count ->
    [one] Mostrar una línea más
   *[other] Mostrar más de otras { $count } líneas
}
archive-never = { $count ->
    [one] Un punto nunca se examinó.
   *[other] { $count } puntos nunca se examinaron.
}
archive-how-to-read = Junto a cada proporción está dónde quedaría entre muchísimas inspecciones como estas (95 %, Wilson). Con menos de { $few } examinados no hay porcentaje. Son sus propios trabajos, que nadie sacó al azar; una unidad inspeccionada dos veces cuenta dos veces.
archive-plot-what = { $count } líneas, cada una con su proporción de los examinados como punto y el intervalo del 95 % como barra; donde son muy pocos solo hay palabras. La tabla de abajo dice lo mismo.
archive-no-drawing = De cada línea se examinaron muy pocos para un porcentaje; no hay nada que dibujar. La tabla tiene los números.
archive-axis = proporción de los examinados, con su intervalo del 95 %
archive-what-jobs = los trabajos
archive-what-figures = estas cifras
archive-what-points = cada punto de los trabajos
archive-save-csv = Guardar { $what } como CSV
archive-save-parquet = Guardar { $what } como Parquet
archive-export-hint = Cada archivo tiene los trabajos filtrados arriba. No contiene nombres de clientes, direcciones ni números de identificación; aun así, marca y modelo con un día y una región pueden revelar de quién se trata.
archive-export-busy = Se está escribiendo otra tabla. Inténtelo de nuevo cuando esté lista.
key-archive = todos los trabajos juntos

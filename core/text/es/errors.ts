import type { errors as english } from '../en/errors.ts';
import { EDITED } from './edited.ts';
import type { SameAs } from '../room.ts';
import type { Words } from '../words.ts';

const NOT_CSV = {
  workbook: 'un libro de hojas de cálculo o un zip',
  'old-workbook': 'un libro de hojas de cálculo antiguo',
  pdf: 'un PDF',
  database: 'una base de datos',
  picture: 'una imagen',
};
const STATE = { planned: 'prevista', done: 'hecha', cancelled: 'cancelada' };
const THIS: Readonly<Record<string, string>> = {
  client: 'Este cliente',
  property: 'Esta propiedad',
  route: 'Esta ruta',
  technician: 'Este técnico',
  truck: 'Este camión',
  'watering restriction': 'Esta restricción',
  'weather station': 'Esta estación',
};

const OUTSIDE = { call: 'llame a un número', mail: 'escriba correos' };
const LOST = { file: 'El archivo', journal: 'El diario', 'index of the journal': 'El índice del diario' };
const lostPart = ({ part, lost }: { part: keyof typeof LOST; lost: string }) =>
  `${LOST[part]} del libro (${lost}) fue borrado o intercambiado por otro programa mientras Valvebook tenía el libro abierto, así que ya no se pueden guardar cambios ahí.`;
const by = (who: string | null) => (who === null ? '' : ` por ${who}`);
const typedDate = (words: Words, typed: string | null) =>
  typed === null ? 'dejarlo vacío' : `el ${words.date(typed)}`;

export const errors: SameAs<typeof english> = {
  'errors.diskRead':
    'El disco no devolvió lo que hay en el libro. No se cambió nada; revise el disco o la unidad de red e intente de nuevo.',
  'errors.diskFull':
    'El disco no aceptó el cambio (puede estar lleno). No se cambió nada; libere espacio e intente de nuevo.',
  'errors.readOnly':
    'El libro o su carpeta es de solo lectura, así que no se cambió nada. Mueva el libro a una carpeta donde pueda escribir, o cambie sus permisos.',
  'errors.closedToYou':
    'El libro o su carpeta es de solo lectura, o no le está permitido, así que no se pudo abrir. No se cambió nada; pregunte a su dueño, o cambie sus permisos.',
  'errors.busy':
    'Otro programa está escribiendo en este libro. No se cambió nada; ciérrelo ahí o intente de nuevo en un momento.',
  'errors.damaged': 'El archivo del libro está dañado. No se cambió nada; restaure una copia.',
  'errors.internal':
    'Valvebook no pudo hacerlo por una falla propia. No se cambió nada; la causa está en el registro técnico.',
  'errors.openBookItself': 'Este es el mismo libro abierto. Elija una de sus copias.',
  'errors.stationNeeded': 'Elija la estación a la que pertenecen estos registros.',
  'errors.severalGhcnStations': 'Este archivo tiene varias estaciones meteorológicas; importe el archivo de una sola.',
  'errors.cancelled': 'Cancelado. No se cambió nada.',
  'errors.cancelledBefore': 'Cancelado antes de empezar. No se cambió nada.',
  'errors.changedMeanwhile': 'Otro programa cambió este libro mientras tanto. Intente de nuevo.',
  'errors.keepsChanging': 'Otro programa sigue cambiando este libro. Intente de nuevo en un momento.',
  'errors.bookClosed': 'El libro se cerró.',
  'errors.readingOnly': 'Este libro se abrió solo para leer, así que no se puede cambiar nada.',
  'errors.writeIdUsed': 'Este id de escritura ya se usó para otro cambio. Haga un id nuevo para cada cambio.',
  'errors.brokenOff':
    'El libro se cerró antes de que terminara esta tarea, así que se interrumpió. Abra el libro de nuevo y empiécela otra vez.',
  'errors.taskStopped': 'La tarea se detuvo antes de terminar. No se cambió nada.',
  'errors.partStopped': 'Una parte de la tarea se detuvo antes de terminar. No se cambió nada.',
  'errors.tooManyFiles': 'Hay demasiados archivos abiertos a la vez.',
  'errors.startUpWindow': 'El período de puestas en marcha debe terminar después de empezar.',
  'errors.winterWindow': 'El período de preparación para el invierno debe terminar después de empezar.',
  'errors.spell':
    'Un período prohibido debe terminar a otra hora que la de inicio; para prohibir días enteros, use la regla de días.',
  'errors.upperMinutes': 'Los minutos de arriba no deben ser menos que los de abajo.',
  'errors.noVisit': 'Esta visita no está en el libro.',
  'errors.noEntry': 'Esta entrada del registro no está en el libro.',
  'errors.entryIdTaken': 'El registro ya tiene una entrada con este id. Haga un id nuevo para cada entrada.',
  'errors.noProperty': 'Esta propiedad no está en el libro.',
  'errors.noClient': 'Este cliente no está en el libro.',
  'errors.noProgram': 'Este programa no está en el libro.',
  'errors.noTechnician': 'Este técnico no está en el libro.',
  'errors.zoneController': 'Una zona debe estar en un controlador de su propia propiedad.',
  'errors.sensorController': 'Un sensor debe estar en un controlador de su propia propiedad.',
  'errors.sensorElsewhere': 'Este sensor es de otra propiedad.',
  'errors.zoneElsewhere': 'Esta zona es de otra propiedad.',
  'errors.controllerElsewhere': 'Este controlador es de otra propiedad.',
  'errors.partsId': 'Cada parte que se guarda con una propiedad debe llevar el id de esa propiedad.',
  'errors.ownZones': 'Un programa solo puede regar zonas de su propio controlador.',
  'errors.revisionIdTaken': 'Ya hay una revisión de programa con este id. Haga un id nuevo para cada revisión.',
  'errors.visitIdTaken': 'Ya hay una visita con este id. Haga un id nuevo para cada visita.',
  'errors.locked': 'Esta visita está fija en su día. Quite antes el seguro.',
  'errors.lastBeforeFirst': 'La última fecha no debe ser anterior a la primera.',
  'errors.lostCount':
    'El libro perdió la cuenta de su registro: alguien cambió su archivo sin pasar por Valvebook. Revise el libro (Empresa, El libro) y restaure una copia.',
  'errors.nameTooLong': 'Ese nombre de archivo es demasiado largo. Elija uno más corto.',
  'errors.pathTooLong': 'Esa ruta es demasiado larga para esta máquina. Elija una carpeta de la lista.',
  'errors.takesPlace': (_words, given) =>
    `Otro programa tiene abierto ${given.path}, así que nada puede ocupar su lugar y no se cambió nada. Ciérrelo ahí (o espere a que termine un antivirus o un programa de sincronización) e intente de nuevo.`,
  'errors.backupNotOpened': (_words, given) =>
    `La copia ${given.path} no se pudo abrir en el lugar del libro, así que el libro está como antes. Intente de nuevo, o elija otra copia.`,
  'errors.existsAlready': (_words, given) =>
    `${given.path} ya existe y no se escribe encima. Elija otro nombre, o mueva antes ese archivo.`,
  'errors.noFolder': (_words, given) => `No hay una carpeta ${given.folder}. Hágala antes, o elija otra.`,
  'errors.fullOf': (_words, given) =>
    `El disco está lleno, así que no se pudo escribir ${given.path}. No quedó nada a medias; libere espacio e intente de nuevo.`,
  'errors.quotaOf': (_words, given) =>
    `Su parte del disco se agotó, así que no se pudo escribir ${given.path}. No quedó nada a medias; libere espacio e intente de nuevo.`,
  'errors.tooBig': (_words, given) =>
    `${given.path} sería más grande de lo que su disco permite a un archivo. No quedó nada a medias; elija otro disco.`,
  'errors.diskReadOnly': (_words, given) =>
    `El disco de ${given.folder} es de solo lectura, así que no se puede escribir en esa carpeta. Elija otra.`,
  'errors.folderReadOnly': (_words, given) =>
    `No se puede escribir en la carpeta ${given.folder}. Elija otra, o cambie sus permisos.`,
  'errors.cannotOpen': (_words, given) =>
    `${given.path} no se puede crear ni abrir. Elija otro nombre u otra carpeta, o mire qué hay ahí.`,
  'errors.folderGone': (_words, given) => `La carpeta ${given.folder} ya no está. Hágala de nuevo, o elija otra.`,
  'errors.noPlaceForFiles': (_words, given) =>
    `${given.folder} no es una carpeta donde se puedan poner archivos. Elija otra.`,
  'errors.isFolder': (_words, given) => `${given.path} es una carpeta. Dé también un nombre de archivo.`,
  'errors.notTaken': (_words, given) =>
    `El disco no aceptó ${given.path}. No quedó nada a medias; revise el disco e intente de nuevo.`,
  'errors.secondGone': (_words, given) =>
    `El segundo lugar ${given.folder} no está ahora. Conecte el disco o la red, o elija otro lugar.`,
  'errors.noAnswerFrom': (_words, given) =>
    `${given.place} no responde. Elija otro lugar, o intente de nuevo en un minuto.`,
  'errors.notFullHere': (_words, given) =>
    `${given.path} no es una ruta completa en esta máquina. Elija una carpeta de la lista.`,
  'errors.noFolderThere': (_words, given) => `No hay una carpeta ${given.folder}. Elija otra, o hágala antes.`,
  'errors.mayNotLook': (_words, given) => `Esta cuenta no puede mirar en ${given.folder}. Elija otra carpeta.`,
  'errors.linkToItself': (_words, given) => `${given.path} es un enlace que lleva a sí mismo. Elija otra carpeta.`,
  'errors.cannotLook': (_words, given) =>
    `No se puede mirar en ${given.folder} (${given.code || 'sin motivo'}). Elija otra carpeta.`,
  'errors.newerBackup': (_words, given) =>
    `La copia ${given.path} se hizo con un Valvebook más nuevo (versión ${given.version} de su formato; este conoce la ${given.known}). No se cambió nada. Instale el Valvebook más nuevo para restaurarla.`,
  'errors.newerBook': (_words, given) =>
    `El libro ${given.path} se hizo con un Valvebook más nuevo (versión ${given.version} de su formato; este conoce la ${given.known}). No se cambió nada. Instale el Valvebook más nuevo para abrirlo.`,
  'errors.backupDamaged': (_words, given) =>
    `La copia ${given.path} está dañada (${given.inner}) No se cambió nada. Elija otra copia.`,
  'errors.secondIsFirst': (_words, given) =>
    `El segundo lugar, ${given.folder}, es la carpeta en la que ya están las copias. Elija una en otro disco o en una carpeta compartida (Empresa, Libro).`,
  'errors.copiedOtherwise': (_words, given) =>
    `La copia en ${given.path} no salió igual que el archivo del que se hizo, así que no se guardó. Puede que el disco o la carpeta compartida estén fallando: elija otro.`,
  'errors.olderBook': (_words, given) =>
    `El libro ${given.path} es de un Valvebook más viejo. Ábralo una vez para escribir (inicie la aplicación con él) para ponerlo al día; antes se hace una copia.`,
  'errors.notReadNow': 'El libro no se pudo leer en este momento. Inténtelo de nuevo.',
  'errors.backupEmpty': (_words, given) =>
    `La copia ${given.path} todavía no contiene ningún libro. Elija otra copia. No se cambió nada.`,
  'errors.backupNoLayout': (_words, given) =>
    `La copia ${given.path} dice que tiene la estructura ${given.version}, que nunca existió. Elija otra copia. No se cambió nada.`,
  'errors.copyNotSound': (_words, given) =>
    `La copia no pasó su revisión, así que no se guardó: ${given.inner} Haga la revisión del libro mismo.`,
  'errors.notCsv': (_words, given) =>
    `Este archivo es ${NOT_CSV[given.what]}, no un CSV. Ábralo en su propio programa, guarde la lista como CSV y elija ese archivo.`,
  'errors.tooManyCells': (words, given) =>
    `La lista tiene más de ${words.count(given.most)} celdas. Guarde solo las columnas necesarias, o divídala en varios archivos.`,
  'errors.tooManyLines': (words, given) =>
    `La lista tiene más de ${words.count(given.most)} líneas. Divídala en varios archivos, cada uno con el encabezado, e impórtelos uno tras otro.`,
  'errors.longLine': (words, given) =>
    `La línea ${words.count(given.line)} del archivo tiene ${words.count(given.characters)} caracteres; una línea de una lista tiene como máximo ${words.count(given.most)}. Tal vez se perdieron sus saltos de línea: ábralo donde se hizo, guárdelo como CSV con una fila por línea y elija ese archivo.`,
  'errors.wideLine': (words, given) =>
    `La línea ${words.count(given.line)} del archivo tiene ${words.count(given.columns)} columnas; una lista tiene como máximo ${words.count(given.most)}. Guarde como CSV solo las columnas necesarias (clientes o zonas hacia abajo, uno por fila), o elija otro separador.`,
  'errors.noColumn': (_words, given) => `El archivo no tiene columna ${given.column}; tiene ${given.count}.`,
  'errors.noFolderFor': (_words, given) =>
    `No se puede crear la carpeta ${given.folder}, así que no hay lugar para el libro. Revise su unidad o red, y que ningún archivo tenga ese nombre.`,
  'errors.sameRestriction': (_words, given) =>
    `Las restricciones ${given.first} y ${given.second} tienen el mismo id. Omita una, o dele un id propio.`,
  'errors.sameThumbId': (_words, given) =>
    `Las reglas prácticas ${given.first} y ${given.second} tienen el mismo id. Omita una, o dele un id propio.`,
  'errors.sameThumb': (_words, given) =>
    `Las reglas prácticas ${given.first} y ${given.second} son para el mismo emisor, plantas y lugar, así que solo contaría una. Cambie o quite una.`,
  'errors.currentStage': (words, given) =>
    `La etapa vigente debe ser ${words.plural(given.stages, { one: 'la única', other: 'una de las #' })} de la lista.`,
  'errors.meanMinimum': (words, given) =>
    `La mínima media (${words.measure(given.lowest)}) no debe superar la máxima media (${words.measure(given.highest)}).`,
  'errors.notReopened': (_words, given) =>
    `El libro ${given.book} no se pudo abrir de nuevo. Inicie Valvebook otra vez; si aún no se puede abrir, restaure una copia.`,
  'errors.openHere': (_words, given) =>
    `${given.path} es un libro abierto aquí, así que su archivo no se toca. Elija otro archivo, o cierre antes el libro.`,
  'errors.noBookAt': (_words, given) => `No hay un libro en ${given.path}.`,
  'errors.justCopied': (_words, given) => `El archivo ${given.path} se está copiando. Intente de nuevo en un momento.`,
  'errors.besideName': (_words, given) =>
    `«${given.name}» es un nombre de los archivos junto a un libro: lo que termina en ${given.end} se toma por parte del libro que lo precede. Elija otro nombre.`,
  'errors.journalAlone': (_words, given) =>
    `No hay un libro en ${given.path}, pero sí el diario de uno (${given.journal}) con cambios dentro. Ponga el libro junto a su diario, restaure una copia con otro nombre, o mueva el diario para empezar un libro nuevo.`,
  'errors.justPut': (_words, given) =>
    `Alguien acaba de poner un archivo en ${given.path}. Se dejó como está; ábralo, o elija otro nombre.`,
  'errors.stationMissing': (words, given) =>
    `${given.controller} tiene ${words.plural(given.stations, { one: '# estación', other: '# estaciones' })}; la estación ${given.station} no existe.`,
  'errors.stationTwice': (_words, given) =>
    `Dos zonas están en la estación ${given.station} de un controlador. Dé otra estación a una, o retírela.`,
  'errors.notInBook': (_words, given) => `${THIS[given.what] ?? 'Esto'} no está en el libro.`,
  'errors.notThereToChange': (_words, given) =>
    `${THIS[given.what] ?? 'Esto'} no está en el libro, así que no se puede cambiar.`,
  'errors.sendVersion': (_words, given) =>
    `${THIS[given.what] ?? 'Esto'} ya está en el libro. Envíe la versión que leyó para cambiarlo.`,
  'errors.savedMeanwhile': (_words, given) =>
    `Alguien guardó lo mismo después de que usted lo abrió (${(THIS[given.what] ?? 'esto').toLowerCase()}). Ábralo de nuevo y haga su cambio.`,
  'errors.olderBattery': (words, given) =>
    `El registro tiene una batería más nueva, cambiada el ${words.date(given.date)}${by(given.who)}, así que ${typedDate(words, given.typed)} no contaría. Deje aquí el ${words.date(given.date)}, o corrija esa entrada en el registro de la propiedad si está mal.`,
  'errors.olderTest': (words, given) =>
    `El registro tiene una prueba antirreflujo superada el ${words.date(given.date)}${by(given.who)}, según la cual la próxima vence el ${words.date(given.due)}, así que ${typedDate(words, given.typed)} no contaría. Deje aquí el ${words.date(given.due)} o un día posterior, o corrija esa entrada en el registro de la propiedad si está mal.`,
  'errors.failedTest': (words, given) =>
    `El registro tiene una prueba antirreflujo no superada el ${words.date(given.date)}${by(given.who)}, así que la próxima vence de inmediato y ningún otro día contaría. Deje aquí el ${words.date(given.due)} hasta que se supere una prueba, o corrija esa entrada en el registro de la propiedad si está mal.`,
  'errors.changedField': (_words, given) =>
    `Otra persona cambió ${EDITED[given.field] ?? given.field} después de que usted abrió esto. No se guardó nada de lo suyo: mire lo que dice ahora y haga su cambio otra vez si sigue siendo válido.`,
  'errors.programChanged': (words, given) =>
    `El programa ${given.name} ya no está como usted lo abrió. ${given.who ?? 'La oficina'}, desde el ${words.date(given.date)}: ${given.inner}. No se guardó nada de lo suyo; mire esto primero.`,
  'errors.programVoided': (_words, given) =>
    `Los ajustes del programa ${given.name} que usted abrió ya no cuentan: su entrada del registro se corrigió o se declaró nula. Lo que hay ahora, comparado con ellos: ${given.inner}. No se guardó nada de lo suyo; mire esto primero.`,
  'errors.programGone': (_words, given) =>
    `Los ajustes del programa ${given.name} que usted abrió ya no cuentan y no queda ninguno: su entrada del registro se declaró nula. No se guardó nada de lo suyo.`,
  'errors.noSuchRevision': 'La revisión desde la que usted empezó no es de este programa.',
  'errors.retiredZone': (_words, given) => `${given.zone} está retirada y no puede regar.`,
  'errors.linkToNothing': (_words, given) =>
    `${given.path} es un enlace a ${given.to}, y ahí no hay archivo. Vuelva a ponerlo, o elija otro libro.`,
  'errors.bookLinkToItself': (_words, given) => `${given.path} es un enlace que lleva a sí mismo. Elija otro libro.`,
  'errors.notAFile': (_words, given) => `${given.path} no es un archivo, así que no puede ser un libro.`,
  'errors.emptyFile': (_words, given) =>
    `${given.path} es un archivo vacío: no hay un libro en él. Elija otro archivo.`,
  'errors.notABook': (_words, given) =>
    `${given.path} no es un libro de Valvebook (no es un archivo SQLite, o quedó cortado). No se cambió nada. Elija otro archivo, o restaure una copia.`,
  'errors.otherSqlite': (_words, given) =>
    `${given.path} es un archivo SQLite, pero no un libro de Valvebook. No se cambió nada. Elija otro archivo.`,
  'errors.cutShort': (_words, given) =>
    `${given.path} quedó cortado: debería tener ${given.wantedBytes} bytes y tiene ${given.bytes}. No se cambió nada. Restaure una copia.`,
  'errors.mayNotRead': (_words, given) =>
    `Usted no puede leer ${given.path}. Pregunte a su dueño, o elija otro archivo.`,
  'errors.exchanged': (_words, given) => `${given.path} se acaba de intercambiar. No se cambió nada; intente de nuevo.`,
  'errors.noFileAt': (_words, given) => `No hay un archivo en ${given.path}.`,
  'errors.bookDamaged': (_words, given) =>
    `El libro ${given.path} está dañado y no se puede leer. No se cambió nada. Restaure una copia.`,
  'errors.openElsewhere': (_words, given) =>
    `El libro ${given.path} ya está abierto en otro Valvebook o en otro programa${given.oneName ? '' : ', tal vez con otro nombre'}. Use esa ventana, o ciérrela antes.`,
  'errors.openInOther': (_words, given) =>
    `El libro ${given.path} ya está abierto en otro Valvebook. Use esa ventana, o ciérrela antes.`,
  'errors.folderForLooking': (_words, given) =>
    `La carpeta ${given.folder} es de solo lectura para usted, así que un libro ahí se puede mirar pero no cambiar. No se cambió nada. Mueva el libro a una carpeta donde pueda escribir, o cambie los permisos de la carpeta.`,
  'errors.needsDrive': (_words, given) =>
    `${given.path} no dice en qué unidad. Dé la ruta completa, con su unidad (C:\\…) o su recurso (\\\\server\\share\\…).`,
  'errors.needsSlash': (_words, given) =>
    `${given.path} no es una ruta completa en este sistema. Dé una que empiece con /.`,
  'errors.tooDeep': (_words, given) =>
    `${given.folder} es demasiado profunda para un libro: con sus carpetas el nombre es demasiado largo. Elija una carpeta más cerca de la raíz del disco.`,
  'errors.longName': (_words, given) =>
    `El nombre de archivo «${given.name}…» es demasiado largo. Elija uno más corto.`,
  'errors.isDevice': (_words, given) =>
    `${given.place} es un dispositivo de esta computadora y no un archivo. Elija un archivo en una carpeta.`,
  'errors.deviceName': (_words, given) =>
    `Windows reserva el nombre ${given.device} para un dispositivo, así que ningún archivo ni carpeta puede llamarse «${given.name}». Elija otro nombre.`,
  'errors.dropsEnd': (_words, given) =>
    `Windows quita un punto o un espacio al final de un nombre, así que «${given.name}» sería otro archivo. Elija un nombre que termine en letra o cifra.`,
  'errors.controlCharacter': (_words, given) =>
    `«${given.name}» tiene un carácter de control, que Windows no permite en un nombre. Elija otro nombre.`,
  'errors.badCharacter': (_words, given) =>
    `Windows no permite el carácter ${given.character} en un nombre, y «${given.name}» lo tiene. Elija un nombre sin él.`,
  'errors.visitNotMoved': (_words, given) => `Esta visita está ${STATE[given.state]}, así que no se puede mover.`,
  'errors.nothingToBringBack': (_words, given) =>
    `Esta visita está ${STATE[given.state]}, así que no hay nada que recuperar.`,
  'errors.visitNotCancelled': (_words, given) =>
    `Esta visita ya está ${STATE[given.state]}, así que no se puede cancelar.`,
  'errors.visitWindow': (_words, given) =>
    `El horario debe terminar después de empezar: de ${given.from} a ${given.to} no.`,
  'errors.noProgramYet': 'Este programa no está en el libro. Para hacer uno nuevo, diga en qué controlador.',
  'errors.programElsewhere': 'Este programa no está en esta propiedad.',
  'errors.controllerNotHere': 'Este controlador no está en esta propiedad.',
  'errors.upgradeStopped':
    'Se detuvo la puesta al día del libro. No se pierde nada: sigue cuando el libro se abra la próxima vez.',
  'errors.opensAnother': 'Se está abriendo otro libro. No se cambió nada; intente de nuevo en un momento.',
  'errors.presentDamaged': (_words, given) =>
    `La copia del libro actual salió dañada (${given.inner}), así que no se intercambió nada. Revise el disco y restaure de nuevo.`,
  'errors.upgradeCopyDamaged': (_words, given) =>
    `La copia de ${given.path} que se hace antes de ponerlo al día salió dañada (${given.inner}), así que el libro se dejó como está. Revise el disco y abra el libro de nuevo.`,
  'errors.notClosed': (_words, given) =>
    `El libro ${given.path} no se cerró en orden, y sus últimos cambios están a su lado en ${given.path}-wal. Para leerlos, Valvebook tiene que escribir en esa carpeta, que es de solo lectura para usted. Copie ambos archivos a una carpeta suya y abra ahí el libro, o pida permiso de escritura.`,
  'errors.rescueUnsound': (_words, given) => `La copia no pasó su revisión: ${given.inner}`,
  'errors.rescued': (_words, given) =>
    `${lostPart(given)} Todo hasta ahora está guardado en ${given.path}. Cierre Valvebook, abra ese libro, y mire si su último cambio está en él.`,
  'errors.taskRuns': (_words, given) =>
    `Una tarea larga (una revisión, una importación, una exportación o una copia) sigue corriendo en ${given.open}. Espere o cancélela, y abra ${given.asked} de nuevo.`,
  'errors.noFolderForBook': (_words, given) =>
    `No se puede crear la carpeta ${given.folder}, así que no hay lugar para el libro. Elija una carpeta donde pueda escribir.`,
  'errors.notRescued': (_words, given) =>
    `${lostPart(given)} Tampoco se pudo guardar lo que contiene en ${given.path}: ${given.inner} Deje Valvebook abierto, haga espacio o permita escribir ahí, e intente de nuevo: cada intento lo guarda otra vez.`,
  'errors.theBookIs': (_words, given) => `${given.inner} El libro es ${given.path}.`,
  'errors.noProgramFor': (_words, given) =>
    `Esta máquina no tiene un programa que ${OUTSIDE[given.does]}. Elija uno en sus ajustes, o cópielo de la pantalla.`,
  'errors.asSaid': (_words, given) => `${given.said}`,
};

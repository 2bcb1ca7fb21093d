import type { check as english } from '../en/check.ts';
import type { SameAs } from '../room.ts';
import type { Words } from '../words.ts';

const THINGS = { sensor: 'El sensor', zone: 'La zona', finding: 'El hallazgo' } as const;
const PARTS: Record<string, string> = {
  table: 'la tabla',
  index: 'el índice',
  trigger: 'la guarda',
  view: 'la vista',
};
const part = (type: string) => PARTS[type] ?? type;
const raised = (text: string) => text[0]!.toUpperCase() + text.slice(1);
const lowered = (text: string) => text[0]!.toLowerCase() + text.slice(1);
const held = (value: string | null) => value ?? 'nada';
const guard = (type: string) => (type === 'trigger' ? ', así que el pasado podría cambiarse' : '');
const where = ({ thing, id, year }: { thing: keyof typeof THINGS | 'season'; id: string; year: number | null }) =>
  thing === 'season' ? `La temporada ${year} de la propiedad ${id}` : `${THINGS[thing]} ${id}`;
const sealOf = ({ date, seal }: { date: string | null; seal: string }) =>
  `El sello ${date === null ? '' : `del ${date}, `}${seal}…,`;

const links = (words: Words, count: number) =>
  words.plural(count, { one: '# entrada o revisión de programa', other: '# entradas y revisiones de programas' });

export const check: SameAs<typeof english> = {
  'check.of.file': 'El archivo está entero y nada apunta a lo que no existe',
  'check.of.layout': 'Las tablas y guardas del libro son como las hizo Valvebook',
  'check.of.past': 'El pasado es tal como se selló',
  'check.of.seals': 'Los sellos anotados antes se encuentran de nuevo',
  'check.of.corrections': 'Cada corrección apunta a una entrada de su misma clase y propiedad',
  'check.of.entries': 'Cada entrada del registro se puede leer',
  'check.of.sensors': 'Fechas de baterías, revisiones de sensores y puntos de ajuste concuerdan con el registro',
  'check.of.zones': 'Las tasas de las zonas son las de la oficina, o lo que midió la última prueba con recipientes',
  'check.of.backflow': 'Las fechas de pruebas antirreflujo concuerdan con el registro',
  'check.of.seasons':
    'Las temporadas concuerdan con las puestas en marcha y preparaciones para el invierno del registro',
  'check.of.findings': 'Los hallazgos están abiertos o cerrados como dice el registro',
  'check.of.programs': 'Las revisiones de programas están completas y concuerdan con el registro',
  'check.of.visits': 'Las visitas concuerdan con lo que se anotó en ellas',
  'check.of.values': 'Cada fila tiene valores permitidos y se encuentra al buscar',
  'check.of.texts': 'Cada fecha es del calendario y cada ajuste guardado se puede leer',
  'check.screenShut': (_words, given) => `las pantallas que piden «${given.request}» no se abrirían.`,
  'check.notToEnd': 'no se puede leer hasta el final.',
  'check.more': (words, given) => `… y ${words.count(given.count)} más de esta clase.`,
  'check.openToOthers': (_words, given) =>
    `Otros usuarios de esta máquina pueden ${given.others === 'read' ? 'leer' : 'cambiar'} ${given.path} (modo ${given.mode}). Empresa → Libro → Hacerlo privado.`,

  'check.damaged': (_words, given) => `El archivo está dañado: ${given.said}.`,
  'check.dangling': (_words, given) =>
    `Una fila de ${given.table} (fila ${given.row ?? 'sin número'}) apunta a ${given.parent}, que no existe.`,

  'check.layoutVersion': (_words, given) =>
    `El libro dice que su estructura es la versión ${given.version}, que no existe en este Valvebook. Restaure una copia.`,
  'check.encoding': (_words, given) =>
    `El libro guarda sus textos como ${given.encoding}; Valvebook los guarda como UTF-8. Restaure una copia hecha antes.`,
  'check.partMissing': (_words, given) =>
    `Falta ${part(given.type)} ${given.name}${guard(given.type)}. Restaure una copia hecha antes.`,
  'check.partExchanged': (_words, given) =>
    `En lugar de ${part(given.type)} ${given.name} hay otra cosa de ese nombre (${given.other}). Restaure una copia hecha antes.`,
  'check.partChanged': (_words, given) =>
    `${raised(part(given.type))} ${given.name} no es como la hizo Valvebook${guard(given.type)}. Restaure una copia hecha antes.`,
  'check.partAdded': (_words, given) =>
    `${raised(part(given.type))} ${given.name}${given.table === null ? '' : ` (de ${given.table})`} no es obra de Valvebook. Restaure una copia hecha antes.`,

  'check.entry': (_words, given) =>
    `La entrada ${given.id} de la propiedad ${given.propertyId} (${given.kind}, ${given.doneOn})`,
  'check.revision': (_words, given) =>
    `La revisión de programa ${given.id} de la propiedad ${given.propertyId} (número ${given.number}, desde ${given.from})`,
  'check.noPlace': (_words, given) =>
    `${given.inner} no tiene lugar en la cadena: se metió en el archivo sin pasar por Valvebook.`,
  'check.oneMissing': (_words, given) =>
    `Falta el número ${given.number} del libro: se sacó una entrada o revisión de programa, antes de ${lowered(given.inner)}.`,
  'check.someMissing': (_words, given) =>
    `Faltan los números ${given.from} a ${given.to} del libro: se sacaron ${given.to - given.from + 1} entradas o revisiones de programas, antes de ${lowered(given.inner)}.`,
  'check.wrongNumber': (_words, given) =>
    `${given.inner} tiene el número ${given.number} del libro, lo que no puede ser: sigue el número ${given.next}.`,
  'check.notSealed': (_words, given) => `${given.inner}: lo que dice no es lo que se selló.`,
  'check.notFollowing': (_words, given) =>
    `${given.inner} no sigue a lo que está antes en la cadena de su propiedad: allí se cambió, sacó o metió algo.`,
  'check.otherZones': (words, given) =>
    `${given.inner} se hizo con ${words.plural(given.made, { one: '# zona', other: '# zonas' })} y tiene ${given.has}.`,
  'check.lastMissing': (words, given) =>
    `El libro cuenta ${given.counts === null ? 'nada' : links(words, given.counts)}, y tiene ${given.holds}: las últimas se sacaron o metieron sin pasar por Valvebook.`,
  'check.sameNumber': (_words, given) =>
    `Hay ${given.inFile} entradas y revisiones de programas en el archivo, y se hallaron ${given.met} en el orden de anotación: dos tienen el mismo número.`,
  'check.otherEnd': (_words, given) =>
    `Propiedad ${given.propertyId}: su cadena termina en el lugar ${given.ends}, y debería terminar en el ${given.shouldEnd} con otra entrada o revisión: las últimas se cambiaron, sacaron o metieron.`,
  'check.noEnd': (_words, given) =>
    `Propiedad ${given.propertyId}: el libro no guarda el fin de su cadena, aunque la tiene.`,
  'check.revisionElsewhere': (_words, given) =>
    `La revisión de programa ${given.id} se hizo en la propiedad ${given.propertyId}, pero su programa está en ${given.programAt}.`,
  'check.sealCountsMore': (words, given) =>
    `${sealOf(given)} cuenta ${links(words, given.count)}, y este libro tiene ${given.holds}: se sacaron las últimas, se restauró una copia más vieja, o el sello es de otro libro.`,
  'check.sealDiffers': (words, given) =>
    `${sealOf(given)} no es lo que da este libro hasta ${links(words, given.count)}: algo anotado hasta entonces se cambió después, o el sello es de otro libro.`,
  'check.beginning': 'Lo que el libro guarda del comienzo de su cadena se cambió sin pasar por Valvebook.',

  'check.correctsNothing': (_words, given) =>
    `La entrada ${given.id} corrige ${given.correctsId}, que no está en el registro.`,
  'check.correctsOtherKind': (_words, given) =>
    `La entrada ${given.id} (${given.kind}) corrige ${given.correctsId}, que es de otra clase (${given.otherKind}).`,
  'check.correctsElsewhere': (_words, given) =>
    `La entrada ${given.id} corrige ${given.correctsId}, que es de otra propiedad.`,
  'check.correctsItself': (_words, given) => `La entrada ${given.id} se corrige a sí misma.`,
  'check.correctedTwice': (_words, given) =>
    `La entrada ${given.id} está corregida dos veces, por ${given.by} y por ${given.and}.`,
  'check.halfCorrection': (_words, given) =>
    `La entrada ${given.id} nombra una corrección sin decir de qué, o al revés.`,
  'check.entryNotJson': (_words, given) => `La entrada ${given.id}: lo que dice no se puede leer (no es JSON).`,
  'check.entryOdd': (_words, given) =>
    `La entrada ${given.id} (${given.kind}): ${given.field ?? 'su contenido'} ${given.inner}.`,
  'check.filedKind': (_words, given) =>
    `La entrada ${given.id} está archivada como ${given.filed} y dice ${given.says}.`,
  'check.filedSensor': (_words, given) =>
    `La entrada ${given.id} está archivada con el sensor ${given.filed ?? 'ninguno'} y dice ${given.says ?? 'ninguno'}.`,
  'check.filedZone': (_words, given) =>
    `La entrada ${given.id} está archivada con la zona ${given.filed ?? 'ninguna'} y dice ${given.says ?? 'ninguna'}.`,

  'check.differs': (_words, given) =>
    `${where(given)}: ${given.column} dice ${held(given.is)}; ${given.thing === 'zone' ? 'según la oficina y el registro es' : 'el registro dice'} ${held(given.should)}.`,
  'check.backflowDiffers': (_words, given) =>
    `Propiedad ${given.propertyId}: la próxima prueba antirreflujo dice ${held(given.is)}; el registro dice ${held(given.should)}.`,
  'check.seasonAlone': (_words, given) =>
    `Se guarda la temporada ${given.year} de la propiedad ${given.propertyId}, pero ninguna puesta en marcha ni preparación para el invierno del registro la respalda.`,
  'check.noSeason': (_words, given) =>
    `La entrada ${given.entryId} no tiene detrás la temporada ${given.year} de la propiedad ${given.propertyId}.`,
  'check.findingAlone': (_words, given) =>
    `Se guarda el hallazgo ${given.id}, pero ninguna entrada del registro lo respalda.`,
  'check.noFinding': (_words, given) =>
    `La entrada ${given.entryId} es un hallazgo que no se guarda como tal (${given.id}).`,
  'check.closesNoFinding': (_words, given) =>
    `La entrada ${given.id} dice que cierra ${given.findingId}, que no es la primera versión de un hallazgo.`,
  'check.closesElsewhere': (_words, given) =>
    `La entrada ${given.id} dice que cierra el hallazgo ${given.findingId}, que es de otra propiedad.`,

  'check.revisionMissing': (_words, given) =>
    `Programa ${given.programId}: falta la revisión ${given.expected} (${given.id} tiene el número ${given.number}).`,
  'check.voidAlone': (_words, given) =>
    `La revisión de programa ${given.id} está anulada, pero ninguna entrada la respalda.`,
  'check.namesNoChange': (_words, given) =>
    `La revisión de programa ${given.id} nombra la entrada ${given.entryId}, que no es un cambio de tiempos de riego.`,
  'check.voidStands': (_words, given) =>
    `La revisión de programa ${given.id} está anulada, pero su entrada ${given.entryId} sigue en pie.`,
  'check.inForceCorrected': (_words, given) =>
    `La revisión de programa ${given.id} está vigente, pero su entrada ${given.entryId} fue corregida por ${given.by}.`,
  'check.voidByOther': (_words, given) =>
    `La revisión de programa ${given.id} está anulada por ${given.voidBy}, pero su entrada fue corregida por ${given.by}.`,
  'check.noRevision': (_words, given) =>
    `La entrada ${given.entryId} es un cambio de tiempos de riego sin su revisión de programa.`,
  'check.otherRevision': (_words, given) =>
    `La entrada ${given.entryId} dice revisión ${given.says} del programa ${given.ofProgram ?? 'ninguno'}, pero la nombra ${given.id} de ${given.programId}.`,
  'check.programEmpty': (_words, given) => `El programa ${given.name} (${given.id}) no tiene ninguna revisión.`,
  'check.runElsewhere': (_words, given) =>
    `La revisión de programa ${given.revisionId} riega la zona ${given.zoneId}, que es de otro controlador.`,
  'check.misplaced': (_words, given) => `${given.table} ${given.id} está en otra propiedad que su controlador.`,
  'check.doneNoDay': (_words, given) => `La visita ${given.id} está hecha sin el día en que se hizo.`,
  'check.dayNotDone': (_words, given) =>
    `La visita ${given.id} no está hecha (${given.state}), pero tiene un día en que se hizo (${given.doneOn}).`,
  'check.loggedElsewhere': (_words, given) =>
    `La entrada ${given.id} se anotó en la visita ${given.visitId}, que es de otra propiedad.`,

  'check.rowNotJson': (_words, given) =>
    `${given.table} ${given.id}: una lista o ajuste suyo no se puede leer (no es JSON).`,
  'check.rowOdd': (_words, given) => `${given.table} ${given.id}: ${given.field} ${given.inner}.`,
  'check.notFound': (_words, given) =>
    `${given.table === 'client' ? 'El cliente' : 'La propiedad'} ${given.id} no se encuentra por lo que dice: guárdelo una vez más.`,
  'check.timeZone': (_words, given) => `La propiedad ${given.id}: timeZone ${given.zone} no es un huso horario.`,
  'check.settings': 'Los ajustes de la empresa no se pueden leer.',
  'check.settingDay': (_words, given) =>
    `Los ajustes de la empresa: ${given.name} es ${given.value}, un día que ningún año tiene; se lee como ${given.last} y se corrige cuando se guarden los ajustes (Empresa → Ajustes).`,
  'check.textNotJson': (_words, given) =>
    `${given.table} ${given.key}: su ${given.column} no se puede leer (no es JSON).`,
  'check.textNoDay': (_words, given) =>
    `${given.table} ${given.key}: su ${given.column}, «${given.value}», no es ${given.what === 'day' ? 'un día del calendario de 1900 a 2199' : 'un momento del tiempo'}.`,
};

import type { LedgerDetail } from '../../ledger/entry-contract.ts';
import type { PipeMaterial } from '../../properties/contract.ts';
import type { VisitKind } from '../../contract/parts.ts';
import type { ledger as english } from '../en/ledger.ts';
import type { SameAs } from '../room.ts';
import type { Words } from '../words.ts';

type Part = string | false | null;

const list = (parts: readonly Part[]) => parts.filter((part) => typeof part === 'string' && part !== '').join(', ');
const withList = (parts: readonly Part[]) => {
  const text = list(parts);
  return text === '' ? '' : `: ${text}`;
};
const zones = (words: Words, count: number) => words.plural(count, { one: '# zona', other: '# zonas' });

const METHODS = {
  'compressed-air': 'con aire comprimido',
  'gravity-drain': 'con drenaje por gravedad',
  'automatic-drain': 'con drenaje automático',
  vacuum: 'con vacío',
} as const;
const OLD_CELLS = {
  working: 'la anterior funcionaba',
  low: 'la anterior estaba baja',
  dead: 'la anterior estaba agotada',
  unknown: null,
} as const;
const TRIP = { pass: 'pasó', fail: 'falló' } as const;
const SIGNAL = { strong: 'señal fuerte', weak: 'señal débil', none: 'sin señal' } as const;
const OVERDUE: Record<VisitKind, (date: string) => string> = {
  'start-up': (date) => `Una puesta en marcha estaba planificada para el ${date} y no está registrada como hecha.`,
  winterization: (date) =>
    `Una preparación para el invierno estaba planificada para el ${date} y no está registrada como hecha.`,
  'sensor-check': (date) =>
    `Una revisión de sensor estaba planificada para el ${date} y no está registrada como hecha.`,
  'battery-swap': (date) => `Un cambio de batería estaba planificado para el ${date} y no está registrado como hecho.`,
  'program-adjustment': (date) =>
    `Un ajuste de programa estaba planificado para el ${date} y no está registrado como hecho.`,
  repair: (date) => `Una reparación estaba planificada para el ${date} y no está registrada como hecha.`,
  'backflow-test': (date) =>
    `Una prueba de reflujo estaba planificada para el ${date} y no está registrada como hecha.`,
  'walk-through': (date) => `Un recorrido estaba planificado para el ${date} y no está registrado como hecho.`,
};
const PIPES: Record<PipeMaterial, string> = {
  pvc: 'tubería de PVC',
  polyethylene: 'tubería de polietileno',
  copper: 'tubería de cobre',
  mixed: 'tubería mixta',
  unknown: 'tubería de material desconocido',
};
const KINDS: Record<LedgerDetail['kind'], string> = {
  'battery-swap': 'cambio de batería',
  'sensor-check': 'revisión de sensor',
  'run-time-change': 'cambio de tiempos de riego',
  'start-up': 'puesta en marcha',
  winterization: 'preparación para el invierno',
  repair: 'reparación',
  'part-used': 'pieza usada',
  'meter-read': 'lectura de medidor',
  'backflow-test': 'prueba de reflujo',
  'walk-through': 'recorrido',
  'zone-audit': 'auditoría de zona',
  'manual-run': 'riego a mano',
  finding: 'hallazgo',
  decision: 'decisión',
  'not-done': 'no hecho',
  photo: 'foto',
  note: 'nota',
};

export const ledger: SameAs<typeof english> = {
  'ledger.battery-swap': (words, given) =>
    `Batería cambiada: ${list([words.plural(given.cells, { one: '# pila nueva', other: '# pilas nuevas' }), given.batteryType, OLD_CELLS[given.oldBatteryState]])}`,
  'ledger.sensor-check': (words, given) => {
    const trips = list([
      given.rainTrip !== 'not-tested' && `corte por lluvia ${TRIP[given.rainTrip]}`,
      given.freezeTrip !== 'not-tested' && `corte por helada ${TRIP[given.freezeTrip]}`,
      given.signal !== 'not-tested' && SIGNAL[given.signal],
      given.cellsGood !== null &&
        words.plural(given.cellsGood, { one: '# pila en buen estado', other: '# pilas en buen estado' }),
      given.controllerObeys !== null &&
        (given.controllerObeys ? 'el controlador obedece' : 'el controlador no obedece'),
    ]);
    return `Sensor revisado: ${trips === '' ? 'visto, sin probar nada' : trips}`;
  },
  'ledger.run-time-change': (words, given) => {
    const changed = list([
      given.zones > 0 &&
        `${zones(words, given.zones)} de ${words.number(given.minutesFrom)} a ${words.number(given.minutesTo)} min`,
      given.percentFrom !== given.percentTo &&
        `porcentaje estacional de ${words.count(given.percentFrom)} % a ${words.count(given.percentTo)} %`,
      given.daysChanged && 'días de riego',
      given.startTimesChanged && 'horas de inicio',
      given.cyclesChanged && 'ciclos y remojos',
      given.switched !== null && (given.switched === 'on' ? 'encendido' : 'apagado'),
    ]);
    return `Programa ${given.madeProgram ? 'creado' : 'cambiado'}: ${changed === '' ? 'nada' : changed}`;
  },
  'ledger.start-up': (words, given) =>
    `Puesto en marcha${withList([given.staticPressure !== null && `presión estática ${words.measure(given.staticPressure)}`, given.zonesRun !== null && words.plural(given.zonesRun, { one: '# zona probada', other: '# zonas probadas' }), given.backflowOpened && 'dispositivo antirreflujo abierto', given.sensorsTested && 'sensores probados'])}`,
  'ledger.winterization': (words, given) =>
    `Preparado para el invierno ${METHODS[given.method]}${withList([given.airPressure !== null && words.measure(given.airPressure), given.zonesBlown !== null && zones(words, given.zonesBlown), given.backflowDrained && 'dispositivo antirreflujo drenado', given.controllerOff && 'controlador apagado'])}`,
  'ledger.repair': (words, given) =>
    `Reparado: ${list([given.what, words.zone(given.zone)])}${given.minutesSpent === null ? '' : ` (${words.count(given.minutesSpent)} min)`}`,
  'ledger.part-used': (words, given) =>
    `Pieza usada: ${words.number(given.quantity, 2)} × ${given.part}${given.unitPriceCents === null ? '' : ` a ${words.cents(given.unitPriceCents)}${given.quantity === 1 ? '' : ' cada una'}`}`,
  'ledger.meter-read': (words, given) => `Medidor «${given.meter}» leído: ${words.measure(given.reading, 2)}`,
  'ledger.backflow-test': (words, given) =>
    `Prueba de reflujo ${given.passed ? 'aprobada' : 'no aprobada'}${withList([given.tester !== '' && `por ${given.tester}`, given.nextDue !== null && `próxima el ${words.date(given.nextDue)}`])}`,
  'ledger.walk-through': (_words, given) =>
    `Recorrido${given.clientPresent ? ' con el cliente' : ''}${given.topics === '' ? '' : `: ${given.topics}`}`,
  'ledger.zone-audit': (words, given) =>
    `Prueba con recipientes: ${words.measure(given.rate)}, uniformidad ${words.count(given.uniformityPercent)} % con ${words.plural(given.cans, { one: '# recipiente', other: '# recipientes' })}${given.zone === null ? '' : `, ${words.zone(given.zone)}`}`,
  'ledger.photo': (_words, given) => `Foto ${given.fileName}${given.caption === '' ? '' : `: ${given.caption}`}`,
  'ledger.note': (_words, given) => given.text,

  'due.noBatteryDate': 'No se conoce la fecha de la batería.',
  'due.cellsGood': (words, given) =>
    given.good === 0
      ? `En la última revisión ${words.plural(given.cells, { one: 'su pila no estaba', other: 'ninguna de sus # pilas estaba' })} en buen estado.`
      : `En la última revisión solo ${given.good === 1 ? 'estaba' : 'estaban'} en buen estado ${words.count(given.good)} de ${words.plural(given.cells, { one: '# pila', other: '# pilas' })}.`,
  'due.findingOpen': (words, given) =>
    `Hallado el ${words.date(given.date)}, hay que atenderlo de inmediato: ${list([given.what, words.zone(given.zone), given.place])}.`,
  'due.batterySince': (words, given) =>
    `Batería puesta desde el ${words.date(given.date)}; se cambia cada ${words.plural(given.months, { one: 'mes', other: '# meses' })}.`,
  'due.checkFailed': (words, given) => `La revisión del ${words.date(given.date)} falló.`,
  'due.neverChecked': 'Nunca se ha revisado.',
  'due.lastChecked': (words, given) => `Última revisión: ${words.date(given.date)}.`,
  'due.backflow': 'Un probador con licencia debe probar el dispositivo antirreflujo.',
  'due.notStartedUp': (_words, given) => `Sin puesta en marcha en ${given.year}.`,
  'due.notWinterized': (_words, given) => `Sin preparar para el invierno en el otoño de ${given.year}.`,
  'due.overdue': (words, given) => OVERDUE[given.kind](words.date(given.date)),

  'ledger.airPressure': (words, given) =>
    `${words.measure(given.pressure)} está por encima de los ${words.measure(given.usual)} habituales para ${PIPES[given.pipe]}. Mandan los límites del fabricante de la tubería y los locales: busque accesorios agrietados en la puesta en marcha.`,

  'ledger.notYet': (words, given) =>
    `No se puede registrar trabajo para el ${words.date(given.doneOn)}: ese día todavía no ha llegado (hoy es ${words.date(given.today)}).`,
  'ledger.otherVisit': 'Esta visita es en otra propiedad.',
  'ledger.cancelledVisit': 'Esta visita se canceló. Recupérela primero, o registre el trabajo sin ella.',
  'ledger.noSensorHere': 'Este sensor no está en esta propiedad.',
  'ledger.noZoneHere': 'Esta zona no está en esta propiedad.',
  'ledger.noChange': (_words, given) =>
    `El programa ${given.name} ya tiene estos ajustes, así que no hay cambio que registrar.`,
  'ledger.correctedAlready': 'Este registro ya se corrigió. Corrija su versión más reciente.',
  'ledger.voidAlready': 'Este registro ya dice que el trabajo no se hizo.',
  'ledger.otherKind': (_words, given) =>
    `Una corrección debe ser del mismo tipo que lo que corrige (${KINDS[given.kind]}).`,
};

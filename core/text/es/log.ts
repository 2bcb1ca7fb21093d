import type { log as english } from '../en/log.ts';
import type { SameAs } from '../room.ts';

/** Hallazgos y lo que los cerró, riegos manuales, visitas sin trabajo. */
export const log: SameAs<typeof english> = {
  'log.kinds.manual-run': 'Riegos manuales',
  'log.kinds.finding': 'Hallazgos',
  'log.kinds.decision': 'Decisiones',
  'log.kinds.not-done': 'No realizados',
  'log.do.manual-run': 'Anotar riego manual',
  'log.do.finding': 'Anotar hallazgo',
  'log.do.decision': 'Anotar decisión',
  'log.do.not-done': 'No se pudo trabajar',
  'log.urgency.at-once': 'De inmediato',
  'log.urgency.soon': 'Pronto',
  'log.urgency.when-convenient': 'Cuando se pueda',
  'log.by.client': 'El cliente',
  'log.by.office': 'La oficina',
  'log.by.technician': 'El técnico',
  'log.why.no-access': 'No se pudo entrar',
  'log.why.client-away': 'Cliente ausente',
  'log.why.declined': 'El cliente no quiso',
  'log.why.weather': 'El clima',
  'log.why.other': 'Otro motivo',
  'log.place': 'Dónde',
  'log.placeHint': 'Por ejemplo: junto a la caja del medidor, lado norte',
  'log.what': 'Qué se encontró',
  'log.urgency': 'Qué tan urgente es',
  'log.atOnceCautionTitle': 'qué hacer primero',
  'log.atOnceCaution':
    'Si alguien podría lastimarse (hielo en un paso, cables pelados, una caja de válvulas sin tapa), mantenga alejada a la gente y cierre el agua o corte la corriente en su propia llave antes de seguir. Los cables de más que tensión muy baja son trabajo de un electricista con licencia.',
  'log.decided': 'Qué se decidió',
  'log.decidedBy': 'Quién decidió',
  'log.closes': 'Cierra el hallazgo',
  'log.closesNone': 'Ninguno',
  'log.closesAnother': 'Otro hallazgo, cerrado o nulo',
  'log.runMinutes': 'Regó durante',
  'log.whyRun': 'Por qué se regó',
  'log.whyNotDone': 'Por qué no',
  'log.staysToBook': 'La visita no se cierra: queda por programarse otra vez.',
  'log.staysUnless': (_words, given) =>
    `La visita no se cierra: queda por programarse otra vez, salvo que se anote con esto su ${given.work === 'start-up' ? 'puesta en marcha' : 'preparación para el invierno'}.`,
  'log.closedBySeason': (_words, given) =>
    `La visita se cierra de todos modos: con esto se anota la ${given.work === 'start-up' ? 'puesta en marcha' : 'preparación para el invierno'} para la que se reservó.`,
  'log.wasDone': 'La visita ya está hecha, y esto no la abre otra vez.',
  'log.noVisit': 'No se nombra ninguna visita, así que ninguna queda por programarse otra vez.',
  'log.openFindings': 'Hallazgos abiertos',
  'log.closeIt': 'Cerrarlo',
  'log.closeThis': (_words, given) => `Cerrarlo: ${given.finding}`,
  'log.isOpen': 'Abierto',
  'log.closedBy': (words, given) => `Cerrado el ${words.date(given.date)}: ${given.what}`,
  'log.closed': (words, given) => `Cierra el hallazgo del ${words.date(given.date)}: ${given.what}`,
  'log.sayZone': 'Elija la zona que se regó.',
  'log.sayMinutes': 'Diga cuánto tiempo regó, de 0.5 a 720 minutos.',
  'log.sayWhere': 'Diga dónde está o elija la zona.',
  'log.sayWhat': 'Diga qué se encontró.',
  'log.sayDecided': 'Diga qué se decidió.',
  'log.sayWhyNot': 'Diga por qué no se pudo hacer el trabajo.',
  'log.told.manualRun': (words, given) =>
    `Riego manual: ${[words.zone(given.zone), words.minutes(given.runMinutes), given.why].filter((part) => part !== '').join(', ')}`,
  'log.told.finding': (words, given) => {
    const soon = {
      'at-once': 'hay que atenderlo de inmediato',
      soon: 'hay que atenderlo pronto',
      'when-convenient': 'cuando se pueda',
    }[given.urgency];
    return `Hallazgo: ${[given.what, words.zone(given.zone), given.place, soon].filter((part) => part !== undefined && part !== '').join(', ')}`;
  },
  'log.told.decision': (_words, given) => {
    const who = { client: 'el cliente', office: 'la oficina', technician: 'el técnico' }[given.decidedBy];
    return `Decidió ${who ?? given.decidedBy}: ${given.what}`;
  },
  'log.told.notDone': (_words, given) => {
    const why = {
      'no-access': 'no se pudo entrar',
      'client-away': 'el cliente no estaba',
      declined: 'el cliente no quiso',
      weather: 'por el clima',
      other: 'otro motivo',
    }[given.why];
    return `No realizado: ${why ?? given.why}`;
  },
  'log.findingNotHere': 'El hallazgo que nombra esta anotación no está en esta propiedad.',
  'log.findingIsVoid':
    'El hallazgo que nombra esta anotación se declaró como no ocurrido. Quite el enlace o corrija primero el hallazgo.',
  'log.dayIsFull': (words, given) =>
    `Este día ya tiene ${words.count(given.most)} visitas, que es lo más que cabe en un día. Elija otro día u otro técnico.`,
};

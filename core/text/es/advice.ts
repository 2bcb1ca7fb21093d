import type {
  AllowedDays,
  BreakingRun,
  GuessedField,
  Law,
  Measurement,
  Soil,
  ThumbAgainst,
  WateringDays,
  ZoneName,
} from '../advice-facts.ts';
import type { advice as english } from '../en/advice.ts';
import type { SameAs } from '../room.ts';
import type { Words } from '../words.ts';

const law = ({ stage, restriction }: Law) => `${stage} de ${restriction}`;
const minutes = (words: Words, count: number) => `${words.number(count)} min`;
const days = (words: Words, count: number) =>
  words.plural(Math.round(count * 10) / 10, { one: '# día', other: '# días' });
const weekdays = (words: Words, list: readonly number[]) =>
  words.list([...list].sort((a, b) => a - b).map((weekday) => words.weekday(weekday, 'long')));

/** “a las 5:10 a. m.”, “a la 1:00 p. m.”, “a medianoche” */
function at(words: Words, minute: number): string {
  const said = words.moment(minute);
  if (!/^\d/.test(said)) return said === 'mediodía' ? 'al mediodía' : `a ${said}`;
  return said.startsWith('1:') ? `a la ${said}` : `a las ${said}`;
}
/** “las 5:10 a. m.”, “la 1:00 p. m.”, “la medianoche” */
function hour(words: Words, minute: number): string {
  const said = words.moment(minute);
  if (!/^\d/.test(said)) return said === 'mediodía' ? 'el mediodía' : `la ${said}`;
  return said.startsWith('1:') ? `la ${said}` : `las ${said}`;
}
const until = (words: Words, minute: number) => `hasta ${hour(words, minute)}`;
/** “de las 10:00 a. m. a las 6:00 p. m.”, “del mediodía a medianoche” */
const span = (words: Words, from: number, to: number) =>
  `${`de ${hour(words, from)}`.replace(/^de el /, 'del ')} ${at(words, to)}`;

function wateringDays(words: Words, given: WateringDays): string {
  switch (given.kind) {
    case 'weekdays':
      return given.weekdays.length === 0
        ? 'ningún día'
        : given.weekdays.length === 7
          ? 'todos los días'
          : weekdays(words, given.weekdays);
    case 'odd':
      return given.monthEnd === 'skip' ? 'las fechas impares sin el día 31' : 'las fechas impares';
    case 'even':
      return 'las fechas pares';
    case 'interval':
      return given.everyDays === 1 ? 'todos los días' : `cada ${words.count(given.everyDays)} días`;
  }
}

const PARITY = { odd: 'impares', even: 'pares' } as const;

function allowedDays(words: Words, { dayRule, parity }: AllowedDays): string {
  switch (dayRule.kind) {
    case 'any-day':
      return 'regar cualquier día';
    case 'no-watering':
      return 'regar ningún día';
    case 'date-parity':
      return parity === null
        ? 'regar en fechas impares a las direcciones impares y en fechas pares a las direcciones pares'
        : `regar solo en fechas ${PARITY[parity]} a las direcciones ${PARITY[parity]}`;
    case 'weekdays': {
      const only = (list: readonly number[]) =>
        list.length === 0 ? 'regar ningún día' : `regar solo ${weekdays(words, list)}`;
      const [odd, even] = [only(dayRule.oddAddress), only(dayRule.evenAddress)];
      if (odd === even) return odd;
      if (parity !== null) return `${parity === 'odd' ? odd : even} a las direcciones ${PARITY[parity]}`;
      return `${odd} a las direcciones impares y ${even} a las direcciones pares`;
    }
  }
}
/** “permite regar solo …”, “no permite regar ningún día” */
function permits(words: Words, given: AllowedDays): string {
  const said = allowedDays(words, given);
  return said.startsWith('regar ningún día') ? `no permite ${said}` : `permite ${said}`;
}

const starts = (words: Words, run: BreakingRun) =>
  `La estación ${run.station} ${run.zoneName} empieza ${at(words, run.startMinute)} el ${words.fullDay(run.date)}${run.until === null ? '' : ` y sigue hasta el ${words.fullDay(run.until)}`}`;
const inWeek = (words: Words, { breachesInWeek }: BreakingRun) =>
  breachesInWeek === undefined
    ? ''
    : ` (${words.plural(breachesInWeek, { one: '# infracción', other: '# infracciones' })} en la semana)`;

const physics = (words: Words, { runMinutes, minutesFrom, minutesTo }: ThumbAgainst) =>
  `El cálculo da ${minutes(words, runMinutes)} por riego; la regla práctica, ${minutesFrom === minutesTo ? minutes(words, minutesFrom) : `de ${words.number(minutesFrom)} a ${minutes(words, minutesTo)}`}`;

const FIELDS: Record<GuessedField, string> = {
  precipitationRateInPerHour: 'Tasa de aplicación',
  flowGpm: 'Caudal',
  areaFt2: 'Área',
  distributionUniformity: 'Uniformidad',
  soil: 'Suelo',
  rootDepthInches: 'Profundidad de raíces',
};
const SETTLED_BY: Record<Measurement, { name: string; one: string }> = {
  'catch-can-test': { name: 'prueba con recipientes', one: 'una prueba con recipientes' },
  'flow-reading': { name: 'lectura de caudal', one: 'una lectura de caudal' },
  'area-measure': { name: 'medición del área', one: 'una medición del área' },
  'soil-check': { name: 'revisión del suelo', one: 'una revisión del suelo' },
};
const SOILS: Record<Soil, string> = {
  sand: 'Arena',
  'loamy-sand': 'Arena franca',
  'sandy-loam': 'Franco arenoso',
  loam: 'Franco',
  'silt-loam': 'Franco limoso',
  'clay-loam': 'Franco arcilloso',
  clay: 'Arcilla',
};
const capital = (text: string) => text.charAt(0).toUpperCase() + text.slice(1);
const zones = (list: readonly ZoneName[]) =>
  list.map((zone, index) => `${index === 0 ? 'La' : 'la'} estación ${zone.station} ${zone.zoneName}`).join(', ');
const needMore = (list: readonly ZoneName[]) => (list.length === 1 ? 'necesitaría' : 'necesitarían');

const nothingToAdvise = {
  'advice.noDayAtAll': (_words: Words, given: Law) =>
    `${law(given)} no permite regar ningún día, así que no hay programa que aconsejar. Elija otra etapa de la restricción cuando se levante.`,
  'advice.noHour': (_words: Words, given: Law) =>
    `${law(given)} prohíbe regar a todas las horas del día, así que no hay programa que aconsejar. Revise sus horas prohibidas.`,
  'advice.noHouseNumber': (words: Words, given: Law & AllowedDays) =>
    `${law(given)} ${permits(words, given)}, pero no se conoce el número de la casa. Ponga par o impar a mano en la propiedad.`,
  'advice.datesAndCap': (words: Words, given: Law & AllowedDays & { maxDays: number; mostDates: number }) =>
    `${law(given)} ${permits(words, given)} y como máximo ${days(words, given.maxDays)} por semana. Un controlador en fechas ${given.parity === null ? 'alternas' : PARITY[given.parity]} riega hasta ${days(words, given.mostDates)} por semana, así que ningún programa cumple ambas cosas por sí solo.`,
  'advice.noWeekday': (_words: Words, given: Law & { parity: AllowedDays['parity'] }) =>
    `${law(given)} no permite ningún día de la semana${given.parity === null ? '' : ` a las direcciones ${PARITY[given.parity]}`}, así que no hay programa que aconsejar. Revise los días de esa etapa.`,
};

export const advice: SameAs<typeof english> = {
  ...nothingToAdvise,
  'advice.noZones': 'Esta propiedad todavía no tiene zonas. Agregue primero sus zonas; entonces habrá qué aconsejar.',
  'advice.tooFewMinutes': (words, given) =>
    `${given.law === null ? 'Un día' : law(given.law)} deja como máximo ${words.plural(given.freeMinutes, { one: '# minuto', other: '# minutos' })} seguidos libres para regar, muy pocos para hacer funcionar todas las zonas aunque sea un poco. Reparta las zonas entre más controladores o revise las horas prohibidas.`,

  'advice.notReviewed': (_words, given) => given.why,
  'advice.whichController': 'Un programa nuevo debe indicar en qué controlador de esta propiedad está.',
  'advice.notYet': (words, given) =>
    `Un programa no se puede registrar como puesto el ${words.date(given.doneOn)}: ese día todavía no ha llegado (hoy es ${words.date(given.today)}).`,
  'advice.noZone': 'Esta zona no está en el libro.',
  'advice.traceTooLong': (words, given) =>
    `Como máximo se pueden seguir ${words.count(given.days)} días a la vez (tres años).`,

  'breach.no-watering': (words, given) =>
    `${starts(words, given)}, pero ${law(given)} no permite regar.${inWeek(words, given)}`,
  'breach.forbidden-day': (words, given) =>
    `${starts(words, given)}, pero ${law(given)} ${permits(words, given)}.${inWeek(words, given)}`,
  'breach.too-many-days': (words, given) =>
    `${starts(words, given)}: para entonces la propiedad ha regado más ${words.plural(given.maxDays, { one: 'del único día', other: 'de los # días' })} por semana que permite ${law(given)}.${inWeek(words, given)}`,
  'breach.forbidden-hours': (words, given) =>
    `${starts(words, given)} y riega ${until(words, given.endMinute)}, pero ${law(given)} prohíbe regar ${span(words, given.fromMinute, given.toMinute)}.${inWeek(words, given)}`,

  'advice.runsForNothing': 'Este mes no se aconseja regar esta zona, pero riega.',
  'advice.notWatered': 'Ningún programa encendido riega esta zona.',
  'advice.tooMuch': (words, given) => `Recibe ${words.count(given.percent)} % más de lo que necesita.`,
  'advice.tooLittle': (words, given) => `Recibe ${words.count(given.percent)} % menos de lo que necesita.`,
  'advice.tooOften': (words, given) =>
    `Riega ${days(words, given.daysNow)} por semana; sus raíces aprovechan el suelo lo suficiente para ${days(words, given.daysAdvised)}, y los riegos más largos y espaciados las hacen crecer más hondo.`,
  'advice.tooRarely': (words, given) =>
    `Riega ${days(words, given.daysNow)} por semana; el suelo guarda muy poca agua para eso: hacen falta ${days(words, given.daysAdvised)}.`,
  'advice.seasonalPercent': (words, given) =>
    `Puesto ${minutes(words, given.setMinutes)}, riega ${minutes(words, given.runMinutes)} al ${words.list(given.percents.map((one) => words.count(one)))} %.`,
  'advice.severalPrograms': (words, given) =>
    given.names.length === 2
      ? `La riegan los dos programas ${words.list(given.names)}.`
      : `La riegan todos los programas ${words.list(given.names)}.`,
  'advice.runsOff': (words, given) =>
    `El agua escurre después de unos ${minutes(words, given.longestMinutes)}, pero riega ${minutes(words, given.cycleMinutes)} de una vez: necesita ciclos con pausas de remojo.`,
  'advice.slowSoil': (words, given) =>
    `Suelo «${SOILS[given.soil]}»: absorbe solo ${words.measure(given.intake)} de ${words.measure(given.rate)} que caen.`,
  'advice.slope': (words, given) =>
    `En una pendiente del ${words.count(given.percent)} % se acumula menos agua antes de que escurra.`,
  'advice.betweenHouses': 'Los vecinos también riegan esta franja; el cálculo no cuenta su agua, la regla práctica sí.',
  'advice.flowUnknown': 'No se conoce su caudal; no se puede decir el volumen.',
  'advice.flowUnknownUsualRate':
    'No se conoce su caudal, así que se usa la tasa habitual de esos aspersores; no se puede decir el volumen.',
  'advice.areaUnknown': 'No se conoce su área, así que su tasa no se puede calcular con su caudal.',
  'advice.fast': (words, given) =>
    `Aplica el agua rápido (${words.measure(given.rate)}; lo habitual para este emisor es ${words.measure(given.usual)}), así que necesita menos minutos.`,
  'advice.slow': (words, given) =>
    `Aplica el agua despacio (${words.measure(given.rate)}; lo habitual para este emisor es ${words.measure(given.usual)}), así que necesita más minutos.`,
  'advice.runsOffAnyway': (words, given) =>
    `El agua llega tan rápido para lo que absorbe el suelo que hasta el ciclo más corto escurre (seguro: ${minutes(words, given.safeMinutes)}). Ayudarían boquillas de menor caudal.`,
  'advice.runTooLong': (words, given) =>
    `La necesidad pide ${words.count(given.minutes)} min por riego, pero un controlador acepta como máximo ${words.count(given.most)}.`,
  'advice.setAndAdvised': (words, given) =>
    `${words.plural(given.minutesNow, { one: '# min por semana puesto', other: '# min por semana puestos' })}, ${words.plural(given.minutesAdvised, { one: '# aconsejado', other: '# aconsejados' })}.`,

  'advice.ofZone': (_words, given) => `Estación ${given.station} ${given.zoneName}: ${given.said}`,

  'thumb.neighbors': (words, given) => `${physics(words, given)}: la regla cuenta con el agua de los vecinos.`,
  'thumb.slow': (words, given) =>
    `${physics(words, given)}: esta zona aplica el agua más despacio de lo habitual en esos aspersores.`,
  'thumb.fast': (words, given) =>
    `${physics(words, given)}: esta zona aplica el agua más rápido de lo habitual en esos aspersores.`,
  'thumb.guess': (words, given) =>
    `${physics(words, given)}: el cálculo se apoya aquí en una suposición (${FIELDS[given.field].toLowerCase()}); ${SETTLED_BY[given.measurement].one} diría quién tiene razón.`,
  'thumb.fewDays': (words, given) =>
    `${physics(words, given)}: el consejo riega solo ${days(words, given.daysAdvised)} por semana, así que cada riego lleva más.`,
  'thumb.month': (words, given) => `${physics(words, given)}: este mes pide más de lo que prevé la regla.`,
  'thumb.monthOrPlants': (words, given) =>
    `${physics(words, given)}: este mes, o estas plantas, piden menos de lo que prevé la regla.`,

  'finding.rainCovers':
    'La lluvia cubre lo que las plantas necesitan este mes: todos los programas pueden quedar apagados.',
  'finding.moreDays': (words, given) =>
    `El riego se reparte en más días de los que pide el suelo, porque con menos días los riegos no terminarían antes de ${hour(words, given.endsBy)}.`,
  'finding.dripOnly': (words, given) =>
    `${nothingToAdvise[given.why.key](words, given.why.given)} Solo las zonas fuera de la regla (goteo y manguera porosa) reciben consejo; las demás quedan apagadas.`,
  'finding.tooDryByRule': (_words, given) =>
    `${zones(given.zones)} ${needMore(given.zones)} agua más seguido de lo que permite la regla: entre riegos el suelo ahí se seca más de lo debido. Se aconsejan todos los días posibles.`,
  'finding.tooDryDaily': (_words, given) =>
    `${zones(given.zones)} ${needMore(given.zones)} agua más de una vez al día: entre riegos el suelo ahí se seca más de lo debido. Se aconsejan todos los días posibles.`,
  'finding.alternateDates': (words, given) =>
    `La regla va por fecha, así que todos los programas sujetos a ella riegan ${wateringDays(words, given.days)}, con riegos más cortos donde bastaría menos.`,
  'finding.endsLate': (words, given) =>
    `Un riego tarda ${words.duration(given.windowMinutes)} y no puede terminar antes de ${hour(words, given.endsBy)}: va ${span(words, given.startMinute, given.endMinute)}.`,
  'finding.minutesCut': (words, given) =>
    `Las horas libres de un día alcanzan solo para cerca del ${words.count(given.percent)} % del agua necesaria, aun con todos los días posibles. Los riegos se recortan para que quepan; las plantas recibirán muy poco.`,
  'finding.percentageOfMonth': (words, given) =>
    `Lo puesto ahora se muestra con el porcentaje estacional que tuvo este mes la última vez, porque desde entonces no cambió nada más: programa ${given.programs.map((one) => `${one.name} al ${words.count(one.percentThen)} % (hoy ${words.count(one.percentToday)} %)`).join(', ')}.`,
  'finding.fewCans': (words, given) =>
    `${words.plural(given.cans, { one: 'Solo se leyó # recipiente', other: 'Solo se leyeron # recipientes' })}. Las guías de auditoría piden más; tómelo como un indicio.`,
  'finding.uneven':
    'Los aspersores riegan de forma muy despareja. Repárelos o nivélelos y cambie las boquillas gastadas antes de alargar cualquier riego.',

  'guess.field': (_words, given) => FIELDS[given.field],
  'guess.notKnown': 'no se conoce',
  'guess.figure': (words, given) => words.measure(given.figure, given.digits),
  'guess.span': (words, given) =>
    `${words.figure(given.from, given.digits)} a ${words.measure(given.to, given.digits)}`,
  'guess.percent': (words, given) => `${words.count(given.percent)} %`,
  'guess.percentSpan': (words, given) => `${words.count(given.from)} % a ${words.count(given.to)} %`,
  'guess.soil': (_words, given) => SOILS[given.soil],
  'guess.soilSpan': (_words, given) => `${SOILS[given.from]} a ${SOILS[given.to]}`,
  'guess.settledBy': (_words, given) => SETTLED_BY[given.measurement].name,
  'guess.best': (_words, given) =>
    `${capital(SETTLED_BY[given.measurement].one)} es lo que más precisaría este consejo.`,

  'rate.catchCans': 'medida con recipientes',
  'rate.entered': 'ingresada',
  'rate.flowAndArea': 'calculada con caudal y área',
  'rate.spacing': 'calculada con la separación de aspersores',
  'rate.emitters': 'calculada con los goteros',
  'rate.usual': 'tasa habitual de esos aspersores',
};

import type {
  AllowedDays,
  BreakingRun,
  GuessedField,
  InnerFact,
  Law,
  Measurement,
  RateFound,
  Soil,
  ThumbAgainst,
  WateringDays,
  ZoneName,
} from '../advice-facts.ts';
import type { Room } from '../room.ts';
import type { Measured, Words } from '../words.ts';

// What the recommender and the review say: breaches, reasons, findings, guesses, and why there is nothing to advise.

const law = ({ stage, restriction }: Law) => `${stage} of ${restriction}`;
const minutes = (words: Words, count: number) => `${words.number(count)} min`;
const days = (words: Words, count: number) =>
  words.plural(Math.round(count * 10) / 10, { one: '# day', other: '# days' });
const weekdays = (words: Words, list: readonly number[]) =>
  [...list]
    .sort((a, b) => a - b)
    .map((weekday) => words.weekday(weekday))
    .join(', ');

function wateringDays(words: Words, given: WateringDays): string {
  switch (given.kind) {
    case 'weekdays':
      return given.weekdays.length === 0
        ? 'no day'
        : given.weekdays.length === 7
          ? 'every day'
          : weekdays(words, given.weekdays);
    case 'odd':
      return given.monthEnd === 'skip' ? 'odd dates without the 31st' : 'odd dates';
    case 'even':
      return 'even dates';
    case 'interval':
      return given.everyDays === 1 ? 'every day' : `every ${words.count(given.everyDays)} days`;
  }
}

/** What a stage allows: "only Wed, Sat at odd addresses". */
function allowedDays(words: Words, { dayRule, parity }: AllowedDays): string {
  switch (dayRule.kind) {
    case 'any-day':
      return 'any day';
    case 'no-watering':
      return 'no watering at all';
    case 'date-parity':
      return parity === null
        ? 'odd addresses on odd dates and even addresses on even dates'
        : `only ${parity} dates at ${parity} addresses`;
    case 'weekdays': {
      const only = (list: readonly number[]) => (list.length === 0 ? 'no day' : `only ${weekdays(words, list)}`);
      const [odd, even] = [only(dayRule.oddAddress), only(dayRule.evenAddress)];
      if (odd === even) return odd;
      if (parity !== null) return `${parity === 'odd' ? odd : even} at ${parity} addresses`;
      return `${odd} at odd addresses and ${even} at even addresses`;
    }
  }
}

const starts = (words: Words, run: BreakingRun) =>
  `Station ${run.station} ${run.zoneName} starts at ${words.moment(run.startMinute)} on ${words.fullDay(run.date)}${run.until === null ? '' : ` and runs on into ${words.fullDay(run.until)}`}`;
const inWeek = (words: Words, { breachesInWeek }: BreakingRun) =>
  breachesInWeek === undefined
    ? ''
    : ` (${words.plural(breachesInWeek, { one: '# breach', other: '# breaches' })} in the week)`;

const physics = (words: Words, { runMinutes, minutesFrom, minutesTo }: ThumbAgainst) =>
  `Physics says ${minutes(words, runMinutes)} a run, the rule of thumb ${minutesFrom === minutesTo ? minutes(words, minutesFrom) : `${words.number(minutesFrom)} to ${minutes(words, minutesTo)}`}`;

const FIELDS: Record<GuessedField, string> = {
  precipitationRateInPerHour: 'Precipitation rate',
  flowGpm: 'Flow',
  areaFt2: 'Area',
  distributionUniformity: 'Uniformity',
  soil: 'Soil',
  rootDepthInches: 'Root depth',
};
const SETTLED_BY: Record<Measurement, { name: string; one: string }> = {
  'catch-can-test': { name: 'catch-can test', one: 'a catch-can test' },
  'flow-reading': { name: 'flow reading', one: 'a flow reading' },
  'area-measure': { name: 'area measure', one: 'an area measure' },
  'soil-check': { name: 'soil check', one: 'a soil check' },
};
const SOILS: Record<Soil, string> = {
  sand: 'Sand',
  'loamy-sand': 'Loamy sand',
  'sandy-loam': 'Sandy loam',
  loam: 'Loam',
  'silt-loam': 'Silt loam',
  'clay-loam': 'Clay loam',
  clay: 'Clay',
};
const capital = (text: string) => text.charAt(0).toUpperCase() + text.slice(1);
const zones = (list: readonly ZoneName[]) =>
  capital(list.map((zone) => `station ${zone.station} ${zone.zoneName}`).join(', '));

const nothingToAdvise = {
  'advice.noDayAtAll': (_words: Words, given: Law) =>
    `${law(given)} allows no watering on any day, so there is no program to advise. Choose another stage of the restriction when it is lifted.`,
  'advice.noHour': (_words: Words, given: Law) =>
    `${law(given)} forbids watering at every hour of the day, so there is no program to advise. Check its forbidden hours.`,
  'advice.noHouseNumber': (words: Words, given: Law & AllowedDays) =>
    `${law(given)} allows ${allowedDays(words, given)}, but the house number of this property is not known. Set odd or even by hand on the property.`,
  'advice.datesAndCap': (words: Words, given: Law & AllowedDays & { maxDays: number; mostDates: number }) =>
    `${law(given)} allows ${allowedDays(words, given)} and at most ${days(words, given.maxDays)} a week. A controller set to ${given.parity ?? 'such'} dates waters on up to ${days(words, given.mostDates)} a week, so no program keeps both by itself.`,
  'advice.noWeekday': (_words: Words, given: Law & { parity: AllowedDays['parity'] }) =>
    `${law(given)} allows no day of the week${given.parity === null ? '' : ` at ${given.parity} addresses`}, so there is no program to advise. Check the days of that stage.`,
};
type Nothing = keyof typeof nothingToAdvise;

export const advice = {
  ...nothingToAdvise,
  'advice.noZones': 'This property has no zones yet. Add its zones first; then there is something to advise.',
  'advice.tooFewMinutes': (words, given: { law: Law | null; freeMinutes: number }) =>
    `${given.law === null ? 'A day' : law(given.law)} leaves at most ${words.plural(given.freeMinutes, { one: '# minute', other: '# minutes' })} in a row free for watering, too few to run every zone even briefly. Split the zones over more controllers, or check the forbidden hours.`,

  'advice.notReviewed': (_words, given: { why: string }) => given.why,
  'advice.whichController': 'A new program must say on which controller of this property it is.',
  'advice.notYet': (_words, given: { doneOn: string; today: string }) =>
    `A program cannot be logged as set on ${given.doneOn}: that day has not come yet (today is ${given.today}).`,
  'advice.noZone': 'This zone is not in the book.',
  'advice.traceTooLong': (words, given: { days: number }) =>
    `At most ${words.count(given.days)} days can be traced at once (three years).`,

  'breach.no-watering': (words, given: BreakingRun) =>
    `${starts(words, given)}, but ${law(given)} allows no watering at all.${inWeek(words, given)}`,
  'breach.forbidden-day': (words, given: BreakingRun & AllowedDays) =>
    `${starts(words, given)}, but ${law(given)} allows ${allowedDays(words, given)}.${inWeek(words, given)}`,
  'breach.too-many-days': (words, given: BreakingRun & { maxDays: number }) =>
    `${starts(words, given)}: by then the property has watered on more than the ${days(words, given.maxDays)} a week that ${law(given)} allows.${inWeek(words, given)}`,
  'breach.forbidden-hours': (words, given: BreakingRun & { endMinute: number; fromMinute: number; toMinute: number }) =>
    `${starts(words, given)} and runs to ${words.moment(given.endMinute)}, but ${law(given)} forbids watering from ${words.moment(given.fromMinute)} to ${words.moment(given.toMinute)}.${inWeek(words, given)}`,

  'advice.runsForNothing': 'Nothing is advised for this zone in this month, but it runs.',
  'advice.notWatered': 'No program that is on runs this zone.',
  'advice.tooMuch': (words, given: { percent: number }) =>
    `It gets ${words.count(given.percent)} % more than it needs.`,
  'advice.tooLittle': (words, given: { percent: number }) =>
    `It gets ${words.count(given.percent)} % less than it needs.`,
  'advice.tooOften': (words, given: { daysNow: number; daysAdvised: number }) =>
    `It waters on ${days(words, given.daysNow)} a week; its roots can draw on the soil long enough for ${days(words, given.daysAdvised)}, and longer runs further apart make them grow deeper.`,
  'advice.tooRarely': (words, given: { daysNow: number; daysAdvised: number }) =>
    `It waters on ${days(words, given.daysNow)} a week; the soil holds too little for that, ${days(words, given.daysAdvised)} are needed.`,
  'advice.seasonalPercent': (words, given: { setMinutes: number; runMinutes: number; percents: readonly number[] }) =>
    `Set ${minutes(words, given.setMinutes)}, run ${minutes(words, given.runMinutes)} at ${words.list(given.percents.map((one) => words.count(one)))} %.`,
  'advice.severalPrograms': (words, given: { names: readonly string[] }) =>
    `Programs ${words.list(given.names)} ${given.names.length === 2 ? 'both' : 'all'} run it.`,
  'advice.runsOff': (words, given: { longestMinutes: number; cycleMinutes: number }) =>
    `Water runs off after about ${minutes(words, given.longestMinutes)}, but it runs ${minutes(words, given.cycleMinutes)} in one go: it needs cycles with soaks.`,
  'advice.slowSoil': (words, given: { soil: Soil; intake: Measured; rate: Measured }) =>
    `${SOILS[given.soil]} takes in only ${words.measure(given.intake)} of the ${words.measure(given.rate)} that comes down.`,
  'advice.slope': (words, given: { percent: number }) =>
    `On a slope of ${words.count(given.percent)} % less water can stand before it runs off.`,
  'advice.betweenHouses': 'Neighbors water this strip too; physics does not count their water, the rule of thumb does.',
  'advice.flowUnknown': 'Its flow is not known; gallons cannot be said.',
  'advice.flowUnknownUsualRate':
    'Its flow is not known, so the usual rate of such heads is used; gallons cannot be said.',
  'advice.areaUnknown': 'Its area is not known, so its rate cannot be computed from its flow.',
  'advice.fast': (words, given: RateFound) =>
    `It applies water fast (${words.measure(given.rate)}, usual for this device is ${words.measure(given.usual)}), so it needs fewer minutes.`,
  'advice.slow': (words, given: RateFound) =>
    `It applies water slowly (${words.measure(given.rate)}, usual for this device is ${words.measure(given.usual)}), so it needs more minutes.`,
  'advice.runsOffAnyway': (words, given: { safeMinutes: number }) =>
    `Water comes so much faster than the soil takes it that even the shortest cycle runs off (safe: ${minutes(words, given.safeMinutes)}). Lower-rate nozzles would help.`,
  'advice.runTooLong': (words, given: { minutes: number; most: number }) =>
    `The need asks for ${words.count(given.minutes)} min a run, but a controller takes at most ${words.count(given.most)}.`,
  'advice.setAndAdvised': (words, given: { minutesNow: number; minutesAdvised: number }) =>
    `${words.count(given.minutesNow)} min a week set, ${words.count(given.minutesAdvised)} advised.`,

  'advice.ofZone': (_words, given: ZoneName & { said: string }) =>
    `Station ${given.station} ${given.zoneName}: ${given.said.replace(/^(It|Its) /, (word) => word.toLowerCase())}`,

  'thumb.neighbors': (words, given: ThumbAgainst) =>
    `${physics(words, given)}: the rule allows for the water of the neighbors.`,
  'thumb.slow': (words, given: ThumbAgainst) =>
    `${physics(words, given)}: this zone applies water more slowly than such heads usually do.`,
  'thumb.fast': (words, given: ThumbAgainst) =>
    `${physics(words, given)}: this zone applies water faster than such heads usually do.`,
  'thumb.guess': (words, given: ThumbAgainst & { field: GuessedField; measurement: Measurement }) =>
    `${physics(words, given)}: physics rests on a guess here (${FIELDS[given.field].toLowerCase()}); ${SETTLED_BY[given.measurement].one} would tell who is right.`,
  'thumb.fewDays': (words, given: ThumbAgainst & { daysAdvised: number }) =>
    `${physics(words, given)}: the advice waters on only ${days(words, given.daysAdvised)} a week, so each run brings more.`,
  'thumb.month': (words, given: ThumbAgainst) =>
    `${physics(words, given)}: this month asks for more than the rule is made for.`,
  'thumb.monthOrPlants': (words, given: ThumbAgainst) =>
    `${physics(words, given)}: this month, or these plants, ask for less than the rule is made for.`,

  'finding.rainCovers': 'Rain covers what the plants need in this month: every program can stay off.',
  'finding.moreDays': (words, given: { endsBy: number }) =>
    `Watering is spread over more days than the soil asks for, because the runs of fewer days would not end by ${words.moment(given.endsBy)}.`,
  'finding.dripOnly': (words, given: { why: InnerFact<Nothing, any> }) =>
    `${nothingToAdvise[given.why.key](words, given.why.given)} Only zones outside the rule (drip and soaker hose) get advice; the others are off.`,
  'finding.tooDryByRule': (_words, given: { zones: readonly ZoneName[] }) =>
    `${zones(given.zones)} would need water more often than the rule allows: between waterings the soil there gets drier than it should. The most days that are possible are advised.`,
  'finding.tooDryDaily': (_words, given: { zones: readonly ZoneName[] }) =>
    `${zones(given.zones)} would need water more often than once a day: between waterings the soil there gets drier than it should. The most days that are possible are advised.`,
  'finding.alternateDates': (words, given: { days: WateringDays }) =>
    `The rule goes by date, so every program inside it waters on ${wateringDays(words, given.days)}, with shorter runs where less would do.`,
  'finding.endsLate': (
    words,
    given: { windowMinutes: number; endsBy: number; startMinute: number; endMinute: number },
  ) =>
    `A watering takes ${words.duration(given.windowMinutes)} and cannot end by ${words.moment(given.endsBy)}: it runs from ${words.moment(given.startMinute)} to ${words.moment(given.endMinute)}.`,
  'finding.minutesCut': (words, given: { percent: number }) =>
    `The hours left free in a day hold only about ${words.count(given.percent)} % of the water needed, even on the most days possible. The runs are cut to fit; the plants will get too little.`,
  'finding.percentageOfMonth': (
    words,
    given: { programs: readonly { name: string; percentThen: number; percentToday: number }[] },
  ) =>
    `What is set now is shown at the seasonal percentage this month had last, because nothing else was changed since: program ${given.programs.map((one) => `${one.name} at ${words.count(one.percentThen)} % (today ${words.count(one.percentToday)} %)`).join(', ')}.`,
  'finding.fewCans': (words, given: { cans: number }) =>
    `Only ${words.count(given.cans)} cans were read. Audit guidelines ask for more; take this as a hint.`,
  'finding.uneven':
    'The heads water very unevenly. Mend or level them and change worn nozzles before lengthening any run.',

  'guess.field': (_words, given: { field: GuessedField }) => FIELDS[given.field],
  'guess.notKnown': 'not known',
  'guess.figure': (words, given: { figure: Measured; digits?: number }) => words.measure(given.figure, given.digits),
  'guess.span': (words, given: { from: Measured; to: Measured; digits?: number }) =>
    `${words.figure(given.from, given.digits)} to ${words.measure(given.to, given.digits)}`,
  'guess.percent': (words, given: { percent: number }) => `${words.count(given.percent)} %`,
  'guess.percentSpan': (words, given: { from: number; to: number }) =>
    `${words.count(given.from)} % to ${words.count(given.to)} %`,
  'guess.soil': (_words, given: { soil: Soil }) => SOILS[given.soil],
  'guess.soilSpan': (_words, given: { from: Soil; to: Soil }) => `${SOILS[given.from]} to ${SOILS[given.to]}`,
  'guess.settledBy': (_words, given: { measurement: Measurement }) => SETTLED_BY[given.measurement].name,
  'guess.best': (_words, given: { measurement: Measurement }) =>
    `${capital(SETTLED_BY[given.measurement].one)} would narrow this advice most.`,

  'rate.catchCans': 'measured by catch cans',
  'rate.entered': 'entered',
  'rate.flowAndArea': 'computed from flow and area',
  'rate.spacing': 'computed from head spacing',
  'rate.emitters': 'computed from emitters',
  'rate.usual': 'usual rate of such heads',
} satisfies Room;

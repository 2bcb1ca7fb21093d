import type { Room } from '../room.ts';

export const charts = {
  'charts.waterWeek': 'Water week',
  'charts.nothingRuns': 'nothing runs this week',
  'charts.day': 'Day',
  'charts.zone': 'Zone',
  'charts.program': 'Program',
  'charts.from': 'From',
  'charts.to': 'To',
  'charts.minutes': 'Minutes',
  'charts.letZoneStandOut': 'Let one zone stand out',
  'charts.notAllowed': 'Watering is not allowed here',
  'charts.midnight': 'midnight',
  'charts.noon': 'noon',
  'charts.date': 'Date',
  'charts.what': 'What',
  'charts.state': 'State',
  'charts.seasonalPercentage': 'Seasonal percentage',
  'charts.waterOn': 'Water on',
  'charts.waterOff': 'Water off',
  'charts.startedUp': 'started up',
  'charts.winterized': 'winterized',
  'charts.startUpWindow': 'start-up window',
  'charts.winterizationWindow': 'winterization window',
  'charts.notStartedUp': 'not started up',
  'charts.notWinterized': 'not winterized',
  'charts.today': 'today',
  'charts.legendWaterOn': 'water on',
  'charts.legendStartUp': 'start-up',
  'charts.legendWinterization': 'winterization',
  'charts.legendOther': 'other visit',
  'charts.legendPlanned': 'planned',
  'charts.asSet': 'as set',
  'charts.asAdvised': 'as advised',
  'charts.AsSet': 'As set',
  'charts.AsAdvised': 'As advised',
  'charts.noneChosen': 'none chosen',
  'charts.pointAtDay': 'Point at a day, or move the slider, to read it.',
  'charts.rain': 'Rain',
  'charts.full': 'Full',
  'charts.refillPoint': 'Refill point',
  'charts.irrigation': 'Irrigation',
  'charts.drierThanLiked': 'drier than plants like',
  'charts.legendRain': 'rain',
  'charts.legendIrrigation': 'irrigation',
  'charts.belowRefill': ' below the refill point',
  'charts.endedAsBegan': 'and the soil ended as it began',
  'charts.seasonalWhole': 'Seasonal percentages, whole table',
  'charts.month': 'Month',
  'charts.percentSign': '%',
  'charts.pictureAndRemark': 'Picture and remark',
  'charts.minutesThen': 'Minutes of each zone then',
  'charts.base': ' base',
  'charts.needsNone': 'needs none',
  'charts.clampedNote':
    '▲ A controller takes 10 to 200 %; where the need is outside, the nearest is given. Where a month needs none, switch the program off. ',
  'charts.roundedNote': 'Minutes are rounded as the controller rounds.',
  'charts.printTable': 'Print table',
  'charts.cansTitle': 'What the cans caught',
  'charts.can': 'Can',
  'charts.ml': 'mL',
  'charts.part': 'Part',
  'charts.lowestQuarter': 'lowest quarter',
  'charts.axisCan': 'can',
  'charts.legendCan': 'can',
  'charts.legendLowest': 'lowest quarter ▾',
  'charts.aWeek': (words, given: { minutes: number }) => `${words.minutes(given.minutes)} a week`,
  'charts.aWeekGallons': (words, given: { minutes: number; gallons: number }) =>
    `${words.minutes(given.minutes)} a week, about ${words.estimate({ quantity: 'volume', value: given.gallons })} (estimate)`,
  'charts.aWeekGallonsOf': (words, given: { minutes: number; gallons: number; known: number; zones: number }) =>
    `${words.minutes(given.minutes)} a week, about ${words.estimate({ quantity: 'volume', value: given.gallons })} for ${words.count(given.known)} of ${words.count(given.zones)} zones (estimate)`,
  'charts.offWouldRun': (_words, given: { off: string; amount: string }) =>
    `${given.off}. As set, the program would run ${given.amount}`,
  'charts.titled': (_words, given: { title: string; caption: string }) => `${given.title}: ${given.caption}`,
  'charts.runsBreak': (words, given: { count: number }) =>
    words.plural(given.count, {
      one: '# run breaks the watering restriction.',
      other: '# runs break the watering restriction.',
    }),
  'charts.runsWouldBreak': (words, given: { count: number }) =>
    words.plural(given.count, {
      one: '# run would break the watering restriction.',
      other: '# runs would break the watering restriction.',
    }),
  'charts.andMore': (words, given: { count: number }) =>
    `and ${words.count(given.count)} more, outlined in the drawing`,
  'charts.sunriseAt': (words, given: { clock: string }) => `Sunrise ${words.clock(given.clock)}`,
  'charts.sunrise': (words, given: { clock: string }) => `sunrise ${words.clock(given.clock)}`,
  'charts.am': (words, given: { hour: number }) => `${words.count(given.hour)} am`,
  'charts.pm': (words, given: { hour: number }) => `${words.count(given.hour)} pm`,
  'charts.run': (
    words,
    given: { weekday: number; clock: string; station: number; zone: string; minutes: number; program: string },
  ) =>
    `${words.weekday(given.weekday)} ${words.clock(given.clock)}: ${given.station} ${given.zone}, ${words.number(given.minutes, 1)} min, program ${given.program}`,
  'charts.runBreaks': (_words, given: { run: string }) => `${given.run}. Breaks the restriction`,
  'charts.season': (_words, given: { year: number }) => `Season ${given.year}`,
  'charts.percent': (words, given: { percent: number }) => `${words.number(given.percent)} %`,
  'charts.startedUpOn': (words, given: { date: string }) => `started up ${words.day(given.date)}`,
  'charts.winterizedOn': (words, given: { date: string }) => `winterized ${words.day(given.date)}`,
  'charts.seasonRead': (words, given: { year: number; start: string; end: string; visits: number }) =>
    `Season ${given.year}: ${given.start}, ${given.end}, ${words.plural(given.visits, { one: '# visit', other: '# visits' })}`,
  'charts.spell': (words, given: { name: string; first: string; last: string }) =>
    `${given.name}: ${words.day(given.first)} to ${words.day(given.last)}`,
  'charts.visit': (words, given: { kind: string; state: string; date: string }) =>
    `${given.kind}, ${given.state.toLowerCase()}, ${words.day(given.date)}`,
  'charts.soilOf': (_words, given: { zone: string }) => `Soil moisture, zone ${given.zone}`,
  'charts.weatherBy': (_words, given: { station: string; method: string; guess: boolean }) =>
    `weather: ${given.station}, ${given.method}${given.guess ? ' (guess)' : ''}`,
  'charts.plantsUsed': (_words, given: { unit: string }) => `Plants used, ${given.unit}`,
  'charts.rainIn': (_words, given: { unit: string }) => `Rain, ${given.unit}`,
  'charts.irrigationOf': (_words, given: { how: string; unit: string }) => `Irrigation ${given.how}, ${given.unit}`,
  'charts.drainedOf': (_words, given: { how: string; unit: string }) => `Drained ${given.how}, ${given.unit}`,
  'charts.shortOf': (_words, given: { how: string; unit: string }) => `Short of full ${given.how}, ${given.unit}`,
  'charts.dayRead': (words, given: { date: string; used: string; rain: string }) =>
    `${words.day(given.date)}: plants used ${given.used}, rain ${given.rain}`,
  'charts.traceRead': (_words, given: { how: string; irrigation: string; short: string }) =>
    `${given.how}: irrigation ${given.irrigation}, ${given.short} short of full`,
  'charts.soilRead': (words, given: { zone: string; from: string; to: string; below: string }) =>
    `Soil moisture of zone ${given.zone} from ${words.date(given.from)} to ${words.date(given.to)}. ${given.below}`,
  'charts.daysBelow': (words, given: { how: string; days: number }) =>
    `${given.how}: ${words.plural(given.days, { one: '# day', other: '# days' })} below the refill point`,
  'charts.soilHow': (_words, given: { how: string }) => `soil ${given.how}`,
  'charts.oneScale': (_words, given: { top: string; unit: string }) =>
    `Rain and irrigation bars share one scale, 0 to ${given.top} ${given.unit} a day`,
  'charts.days': (words, given: { count: number }) => words.plural(given.count, { one: '# day', other: '# days' }),
  'charts.endedWetter': (words, given: { inches: number }) =>
    `and the soil ended ${words.measure({ quantity: 'depth', value: given.inches })} wetter`,
  'charts.endedDrier': (words, given: { inches: number }) =>
    `and the soil ended ${words.measure({ quantity: 'depth', value: given.inches })} drier`,
  'charts.cameIn': (words, given: { rain: number; irrigation: number }) =>
    `In: rain ${words.measure({ quantity: 'depth', value: given.rain })} and irrigation ${words.measure({ quantity: 'depth', value: given.irrigation })}.`,
  'charts.wentOut': (words, given: { used: number; drained: number; lostPercent: number; kept: string }) =>
    `Out: the plants used ${words.measure({ quantity: 'depth', value: given.used })}, ${words.measure({ quantity: 'depth', value: given.drained })} drained below the roots${given.lostPercent > 0 ? ` (${given.lostPercent} % of what came)` : ''}, ${given.kept}.`,
  'charts.percentagesOf': (_words, given: { heading: string }) => `Seasonal percentages, ${given.heading}`,
  'charts.byMonth': (words, given: { month: number }) =>
    `Seasonal percentage by month, against the minutes of ${words.month(given.month)}`,
  'charts.eto': (_words, given: { unit: string }) => `ETo, ${given.unit}`,
  'charts.wouldBe': (words, given: { percent: number }) => `would be ${words.number(given.percent, 0)} %`,
  'charts.cansCaption': (words, given: { cans: number; low: number }) =>
    `${words.plural(given.cans, { one: '# can', other: '# cans' })}, the lowest quarter (${words.count(given.low)}) hatched`,
  'charts.depth': (_words, given: { unit: string }) => `Depth, ${given.unit}`,
  'charts.cansRead': (words, given: { cans: number; mean: number; low: number }) =>
    `${words.count(given.cans)} cans caught ${words.number(given.mean, 1)} mL on average, the lowest quarter ${words.number(given.low, 1)} mL`,
  'charts.canRead': (words, given: { can: string; volume: number; low: boolean }) =>
    `Can ${given.can}: ${words.number(given.volume)} mL${given.low ? ', lowest quarter' : ''}`,
  'charts.mean': (words, given: { value: number }) => `mean ${words.number(given.value, 1)}`,
  'charts.lowest': (words, given: { value: number }) => `lowest ¼ ${words.number(given.value, 1)}`,
  'charts.firstAutumn': 'First of autumn, come by',
  'charts.lastSpring': 'Last of spring, still to come after',
  'charts.chance': 'Chance',
  'charts.freezeThin':
    'Fewer than ten seasons have enough days of records, so take these dates as a hint and not as a chance.',
  'charts.freezeOf': (_words, given: { station: string }) => `Freeze dates, ${given.station}`,
  'charts.freezeHow': (words, given: { autumns: number; springs: number }) =>
    `An estimate from the lowest temperatures recorded in ${words.plural(given.autumns, { one: '# autumn', other: '# autumns' })} and ${words.plural(given.springs, { one: '# spring', other: '# springs' })} with at most ten days missing. On the left the chance that the first such day of autumn has come, on the right that one is still to come in spring. A yard in a hollow is colder than its station.`,
  'charts.freezeRead': (_words, given: { threshold: string; autumn: string; spring: string }) =>
    `${given.threshold}: even chance by ${given.autumn} in autumn and of one later than ${given.spring} in spring.`,
  'charts.freezeAt': (_words, given: { threshold: string }) => `${given.threshold} or colder`,
  'charts.threshold': (words, given: { number: number }) => `Threshold ${words.count(given.number)}`,
} satisfies Room;

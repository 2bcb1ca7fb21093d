import type { Bounds, BoundUnit } from '../advice-facts.ts';
import type { Room } from '../room.ts';
import type { Measured, Words } from '../words.ts';

// What the water science says: steps of ETo, where weather comes from, and figures that no sum can be made of.

const UNITS: Partial<Record<BoundUnit, string>> = {
  share: '(share)',
  'share-of-eto': '(share of ETo)',
  'share-not-percent': '(share, not percent)',
  'mj-a-day': 'MJ/m² a day',
  'inches-a-day': 'in/day',
  'gpm-per-100-ft': 'gpm per 100 ft',
};
/** A figure of a request, as it came: ranges are told in the field's own unit. */
const raw = (words: Words, value: number) => words.number(value, 10);
const to = (words: Words, max: number, unit: BoundUnit) =>
  unit === '' ? raw(words, max) : `${raw(words, max)} ${UNITS[unit] ?? unit}`;

export const agronomy = {
  'agronomy.noneFrom': (words, given: Bounds) =>
    `${given.field} must be a number from ${raw(words, given.min)} to ${to(words, given.max, given.unit)}, but none was given.`,
  'agronomy.outside': (words, given: Bounds & { value: number }) =>
    `${given.field} is ${raw(words, given.value)}, but must be from ${raw(words, given.min)} to ${to(words, given.max, given.unit)}.`,
  'agronomy.noneAbove': (words, given: Bounds) =>
    `${given.field} must be a number above ${raw(words, given.min)} and up to ${to(words, given.max, given.unit)}, but none was given.`,
  'agronomy.notAbove': (words, given: Bounds & { value: number }) =>
    `${given.field} is ${raw(words, given.value)}, but must be above ${raw(words, given.min)} and at most ${to(words, given.max, given.unit)}.`,
  'agronomy.notAboveOther': (
    words,
    given: { field: string; value: number; other: string; most: number; unit: BoundUnit },
  ) =>
    `${given.field} is ${raw(words, given.value)}, but must not be above ${given.other} (${to(words, given.most, given.unit)}).`,
  'agronomy.noTallReference': (_words, given: { method: string }) =>
    `method is "${given.method}", which has no tall reference; use "asce" or the short reference.`,
  'agronomy.tooMuchSunshine': (words, given: { hours: number; daylightHours: number }) =>
    `sunshineHours is ${raw(words, given.hours)}, but that day has only ${words.plural(Math.round(given.daylightHours * 10) / 10, { one: '# hour', other: '# hours' })} of daylight at this latitude; allowed is 0 to that.`,
  'agronomy.tooMuchSun': (words, given: { solarMjM2: number; topMjM2: number }) =>
    `solarMjM2 is ${raw(words, given.solarMjM2)}, but only ${words.number(given.topMjM2)} MJ/m² reach the top of the air there on that day; allowed is 0 to that.`,
  'agronomy.unequalDays': (words, given: { field: string; days: number; other: string; needed: number }) =>
    `${given.field} has ${words.plural(given.days, { one: '# day', other: '# days' })}, but must have as many as ${given.other} (${words.count(given.needed)}).`,
  'agronomy.unequalZones': (words, given: { field: string; zones: number; needed: number }) =>
    `${given.field} has ${words.plural(given.zones, { one: '# zone', other: '# zones' })}, but must have ${words.count(given.needed)}.`,
  'agronomy.badZone': (words, given: { field: string; stations: number }) =>
    `${given.field} must have 0 < readilyInches < totalInches, depletion from 0 to total, a plant factor from 0 to 2 and a station below ${words.count(given.stations)}.`,
  'agronomy.noneOf': (_words, given: { field: string; value: string; known: readonly string[] }) =>
    `${given.field} is "${given.value}", but must be one of ${given.known.join(', ')}.`,
  'agronomy.noSuchDay': (_words, given: { field: string; date: string }) =>
    `${given.field} is "${given.date}", but must be a day that exists, written as YYYY-MM-DD.`,
  'agronomy.noDate': (_words, given: { field: string; date: string }) =>
    `${given.field} must be a date written YYYY-MM-DD, but is "${given.date}".`,
  'agronomy.notInCalendar': (_words, given: { field: string; date: string }) =>
    `${given.field} is ${given.date}, which is not a day of the calendar.`,
  'agronomy.cans': (words, given: { min: number; max: number; cans: number }) =>
    `volumesMl must hold from ${words.count(given.min)} to ${words.count(given.max)} cans, but holds ${words.count(given.cans)}.`,
  'agronomy.dryCans': (words, given: { cans: number }) =>
    `volumesMl has ${words.count(given.cans)} or more dry cans in its lowest quarter; at least one there must hold water, so mend the heads and test again.`,
  'agronomy.rateTooHigh': (words, given: { rate: Measured; most: Measured }) =>
    `These figures make a precipitation rate of ${words.measure(given.rate, 1)}, but at most ${words.measure(given.most, 1)} is possible. Check the flow and the area.`,
  'agronomy.percentage': (words, given: { percent: number }) =>
    `The seasonal percentage must be 0 to 300 %, but is ${raw(words, given.percent)}.`,
  'agronomy.runMinutes': (words, given: { minutes: number }) =>
    `Run minutes must be 0 or more, but are ${raw(words, given.minutes)}.`,
  'agronomy.roundingStep': (words, given: { stepMinutes: number }) =>
    `The rounding step must be 1/60 to 5 minutes, but is ${raw(words, given.stepMinutes)}.`,
  'agronomy.tooFewDays': (words, given: { count: number; allowed: number }) =>
    `Cannot choose ${raw(words, given.count)} watering ${given.count === 1 ? 'day' : 'days'} out of ${words.count(given.allowed)}.`,
  'agronomy.badRange': (_words, given: { from: string; to: string }) =>
    `The last day must be on or after ${given.from} and at most ten years after it, but is ${given.to}.`,
  'agronomy.twelveNeeds': 'The yearly table needs twelve monthly needs of 0 or more.',
  'agronomy.month': (words, given: { month: number }) =>
    `The month must be 1 to 12, but is ${raw(words, given.month)}.`,
  'agronomy.noStation':
    'There is no weather station in this book, so what the plants need is not known. Add one with its twelve monthly normals on the Company desk, then look again.',

  'weather.daily': 'daily records',
  'weather.normals': 'monthly normals (no daily records)',
  'weather.dailyAndNormals': (words, given: { filledDays: number; days: number }) =>
    `daily records; ${words.count(given.filledDays)} of ${words.count(given.days)} days from monthly normals`,

  'eto.meanTemperature': 'Mean temperature',
  'eto.reference': 'Reference evapotranspiration',
  'eto.airPressure': 'Air pressure',
  'eto.psychrometric': 'Psychrometric constant',
  'eto.slope': 'Slope of the vapor pressure curve',
  'eto.saturationTmax': 'Saturation pressure at Tmax',
  'eto.saturationTmin': 'Saturation pressure at Tmin',
  'eto.meanSaturation': 'Mean saturation pressure',
  'eto.vapor': 'Actual vapor pressure',
  'eto.deficit': 'Vapor pressure deficit',
  'eto.clearSky': 'Clear-sky radiation',
  'eto.solar': 'Solar radiation',
  'eto.relativeShortwave': 'Relative shortwave radiation',
  'eto.netShortwave': 'Net shortwave radiation',
  'eto.netLongwave': 'Net longwave radiation',
  'eto.netRadiation': 'Net radiation',
  'eto.soilHeat': 'Soil heat flux',
  'eto.wind': 'Wind at 2 m',
  'eto.dayOfYear': 'Day of the year',
  'eto.latitude': 'Latitude',
  'eto.distance': 'Inverse relative distance Earth–sun',
  'eto.declination': 'Solar declination',
  'eto.sunset': 'Sunset hour angle',
  'eto.extraterrestrial': 'Extraterrestrial radiation',
  'eto.daylight': 'Daylight hours',
  'eto.eq9': 'eq. 9: mean of Tmax and Tmin',
  'eto.eq52': 'eq. 52: Hargreaves–Samani with 0.408 Ra; not below 0',
  'eto.eq7': 'eq. 7: from elevation',
  'eto.eq8': 'eq. 8',
  'eto.eq13': 'eq. 13 at Tmean',
  'eto.eq11': 'eq. 11',
  'eto.eq12': 'eq. 12',
  'eto.deficitHow': 'es − ea, not below 0',
  'eto.appendixD': 'ASCE-EWRI appendix D: sun height and water in the air',
  'eto.eq37': 'eq. 37: (0.75 + 2·10⁻⁵ z) Ra',
  'eto.limited': 'limited to 0.3…1 (ASCE-EWRI; upper limit FAO-56)',
  'eto.eq38': 'eq. 38: albedo 0.23',
  'eto.eq39': 'eq. 39',
  'eto.eq40': 'eq. 40: Rns − Rnl',
  'eto.eq6': 'eq. 6: FAO-56 Penman–Monteith; not below 0',
  'eto.fromDate': 'from the date',
  'eto.eq22': 'eq. 22',
  'eto.eq23': 'eq. 23',
  'eto.eq24': 'eq. 24',
  'eto.eq25': 'eq. 25; 0 in polar night, π in polar day',
  'eto.eq21': 'eq. 21',
  'eto.eq34': 'eq. 34',
  'eto.eq14': 'eq. 14: from dew point',
  'eto.eq17': 'eq. 17: from RHmax and RHmin',
  'eto.eq18': 'eq. 18: from RHmax',
  'eto.eq19': 'eq. 19: from RHmean',
  'eto.rhMin': 'e°(Tmax) × RHmin (no numbered equation)',
  'eto.eq48': 'eq. 48: dew point taken as Tmin',
  'eto.eq42': 'eq. 42: a day: 0',
  'eto.eq43': 'eq. 43: a month, from the months before and after',
  'eto.eq44': 'eq. 44: a month, from the month before',
  'eto.windDefault': 'not measured: 2 m/s (FAO-56 chapter 3)',
  'eto.windAt2m': 'measured at 2 m',
  'eto.measured': 'measured',
  'eto.asceTall': 'ASCE-EWRI eq. 1, tall (Cn 1600, Cd 0.38); not below 0',
  'eto.asceShort': 'ASCE-EWRI eq. 1, short (Cn 900, Cd 0.34); not below 0',
  'eto.eq35': (words, given: { a: number; b: number }) =>
    `eq. 35: Angström with ${raw(words, given.a)} and ${raw(words, given.b)}`,
  'eto.eq50': (words, given: { krs: number }) =>
    `eq. 50: temperature range with kRs ${raw(words, given.krs)}, at most Rso`,
  'eto.eq47': (words, given: { heightM: number }) => `eq. 47: measured at ${raw(words, given.heightM)} m`,
} satisfies Room;

import type { BoundUnit } from '../advice-facts.ts';
import type { agronomy as english } from '../en/agronomy.ts';
import type { SameAs } from '../room.ts';
import type { Words } from '../words.ts';

const UNITS: Partial<Record<BoundUnit, string>> = {
  degrees: 'grados',
  hours: 'horas',
  minutes: 'minutos',
  inches: 'pulgadas',
  share: '(fracción)',
  'share-of-eto': '(fracción de ETo)',
  'share-not-percent': '(fracción, no porcentaje)',
  'mj-a-day': 'MJ/m² al día',
  'inches-a-day': 'in/día',
  'gpm-per-100-ft': 'gpm por 100 ft',
};
const raw = (words: Words, value: number) => words.number(value, 10);
const to = (words: Words, max: number, unit: BoundUnit) =>
  unit === '' ? raw(words, max) : `${raw(words, max)} ${UNITS[unit] ?? unit}`;

export const agronomy: SameAs<typeof english> = {
  'agronomy.noneFrom': (words, given) =>
    `${given.field} debe ser un número de ${raw(words, given.min)} a ${to(words, given.max, given.unit)}, pero no se dio ninguno.`,
  'agronomy.outside': (words, given) =>
    `${given.field} es ${raw(words, given.value)}, pero debe estar entre ${raw(words, given.min)} y ${to(words, given.max, given.unit)}.`,
  'agronomy.noneAbove': (words, given) =>
    `${given.field} debe ser un número mayor que ${raw(words, given.min)} y de hasta ${to(words, given.max, given.unit)}, pero no se dio ninguno.`,
  'agronomy.notAbove': (words, given) =>
    `${given.field} es ${raw(words, given.value)}, pero debe ser mayor que ${raw(words, given.min)} y como máximo ${to(words, given.max, given.unit)}.`,
  'agronomy.notAboveOther': (words, given) =>
    `${given.field} es ${raw(words, given.value)}, pero no debe pasar de ${given.other} (${to(words, given.most, given.unit)}).`,
  'agronomy.noTallReference': (_words, given) =>
    `method es "${given.method}", que no tiene referencia alta; use "asce" o la referencia corta.`,
  'agronomy.tooMuchSunshine': (words, given) =>
    `sunshineHours es ${raw(words, given.hours)}, pero ese día solo tiene ${words.plural(Math.round(given.daylightHours * 10) / 10, { one: '# hora', other: '# horas' })} de luz en esta latitud; se permite de 0 a ese valor.`,
  'agronomy.tooMuchSun': (words, given) =>
    `solarMjM2 es ${raw(words, given.solarMjM2)}, pero ese día allí solo llegan ${words.number(given.topMjM2)} MJ/m² a la parte alta de la atmósfera; se permite de 0 a ese valor.`,
  'agronomy.unequalDays': (words, given) =>
    `${given.field} tiene ${words.plural(given.days, { one: '# día', other: '# días' })}, pero debe tener tantos como ${given.other} (${words.count(given.needed)}).`,
  'agronomy.unequalZones': (words, given) =>
    `${given.field} tiene ${words.plural(given.zones, { one: '# zona', other: '# zonas' })}, pero debe tener ${words.count(given.needed)}.`,
  'agronomy.badZone': (words, given) =>
    `${given.field} debe tener 0 < readilyInches < totalInches, un agotamiento de 0 al total, un factor de planta de 0 a 2 y una estación menor que ${words.count(given.stations)}.`,
  'agronomy.noneOf': (_words, given) =>
    `${given.field} es "${given.value}", pero debe ser uno de estos: ${given.known.join(', ')}.`,
  'agronomy.noSuchDay': (_words, given) =>
    `${given.field} es "${given.date}", pero debe ser un día que exista, escrito AAAA-MM-DD.`,
  'agronomy.noDate': (_words, given) =>
    `${given.field} debe ser una fecha escrita AAAA-MM-DD, pero es "${given.date}".`,
  'agronomy.notInCalendar': (_words, given) => `${given.field} es ${given.date}, que no es un día del calendario.`,
  'agronomy.cans': (words, given) =>
    `volumesMl debe tener de ${words.count(given.min)} a ${words.count(given.max)} recipientes, pero tiene ${words.count(given.cans)}.`,
  'agronomy.dryCans': (words, given) =>
    `volumesMl tiene ${words.count(given.cans)} o más recipientes secos en su cuarto más bajo; al menos uno de ellos debe tener agua, así que repare los aspersores y repita la prueba.`,
  'agronomy.rateTooHigh': (words, given) =>
    `Estos datos dan una tasa de aplicación de ${words.measure(given.rate, 1)}, pero como máximo es posible ${words.measure(given.most, 1)}. Revise el caudal y el área.`,
  'agronomy.percentage': (words, given) =>
    `El porcentaje estacional debe ser de 0 a 300 %, pero es ${raw(words, given.percent)}.`,
  'agronomy.runMinutes': (words, given) =>
    `Los minutos de riego deben ser 0 o más, pero son ${raw(words, given.minutes)}.`,
  'agronomy.roundingStep': (words, given) =>
    `El paso de redondeo debe ser de 1/60 a 5 minutos, pero es ${raw(words, given.stepMinutes)}.`,
  'agronomy.tooFewDays': (words, given) =>
    `No se pueden elegir ${raw(words, given.count)} ${given.count === 1 ? 'día' : 'días'} de riego entre ${words.count(given.allowed)}.`,
  'agronomy.badRange': (_words, given) =>
    `El último día debe ser ${given.from} o posterior y como máximo diez años después, pero es ${given.to}.`,
  'agronomy.twelveNeeds': 'La tabla anual necesita doce necesidades mensuales de 0 o más.',
  'agronomy.month': (words, given) => `El mes debe ser de 1 a 12, pero es ${raw(words, given.month)}.`,
  'agronomy.noStation':
    'No hay ninguna estación meteorológica en este libro, así que no se sabe cuánta agua necesitan las plantas. Agregue una con sus doce normales mensuales en el escritorio de la empresa y vuelva a mirar.',

  'weather.daily': 'registros diarios',
  'weather.normals': 'normales mensuales (sin registros diarios)',
  'weather.dailyAndNormals': (words, given) =>
    `registros diarios; ${words.count(given.filledDays)} de ${words.count(given.days)} días con normales mensuales`,

  'eto.meanTemperature': 'Temperatura media',
  'eto.reference': 'Evapotranspiración de referencia',
  'eto.airPressure': 'Presión del aire',
  'eto.psychrometric': 'Constante psicrométrica',
  'eto.slope': 'Pendiente de la curva de presión de vapor',
  'eto.saturationTmax': 'Presión de saturación a Tmax',
  'eto.saturationTmin': 'Presión de saturación a Tmin',
  'eto.meanSaturation': 'Presión de saturación media',
  'eto.vapor': 'Presión de vapor real',
  'eto.deficit': 'Déficit de presión de vapor',
  'eto.clearSky': 'Radiación con cielo despejado',
  'eto.solar': 'Radiación solar',
  'eto.relativeShortwave': 'Radiación relativa de onda corta',
  'eto.netShortwave': 'Radiación neta de onda corta',
  'eto.netLongwave': 'Radiación neta de onda larga',
  'eto.netRadiation': 'Radiación neta',
  'eto.soilHeat': 'Flujo de calor del suelo',
  'eto.wind': 'Viento a 2 m',
  'eto.dayOfYear': 'Día del año',
  'eto.latitude': 'Latitud',
  'eto.distance': 'Distancia relativa inversa Tierra–Sol',
  'eto.declination': 'Declinación solar',
  'eto.sunset': 'Ángulo horario de la puesta del sol',
  'eto.extraterrestrial': 'Radiación extraterrestre',
  'eto.daylight': 'Horas de luz',
  'eto.eq9': 'ec. 9: media de Tmax y Tmin',
  'eto.eq52': 'ec. 52: Hargreaves–Samani con 0.408 Ra; nunca menor que 0',
  'eto.eq7': 'ec. 7: por la altitud',
  'eto.eq8': 'ec. 8',
  'eto.eq13': 'ec. 13 a Tmean',
  'eto.eq11': 'ec. 11',
  'eto.eq12': 'ec. 12',
  'eto.deficitHow': 'es − ea, nunca menor que 0',
  'eto.appendixD': 'ASCE-EWRI apéndice D: altura del sol y agua en el aire',
  'eto.eq37': 'ec. 37: (0.75 + 2·10⁻⁵ z) Ra',
  'eto.limited': 'limitada a 0.3…1 (ASCE-EWRI; límite superior de FAO-56)',
  'eto.eq38': 'ec. 38: albedo 0.23',
  'eto.eq39': 'ec. 39',
  'eto.eq40': 'ec. 40: Rns − Rnl',
  'eto.eq6': 'ec. 6: FAO-56 Penman–Monteith; nunca menor que 0',
  'eto.fromDate': 'por la fecha',
  'eto.eq22': 'ec. 22',
  'eto.eq23': 'ec. 23',
  'eto.eq24': 'ec. 24',
  'eto.eq25': 'ec. 25; 0 en la noche polar, π en el día polar',
  'eto.eq21': 'ec. 21',
  'eto.eq34': 'ec. 34',
  'eto.eq14': 'ec. 14: por el punto de rocío',
  'eto.eq17': 'ec. 17: por RHmax y RHmin',
  'eto.eq18': 'ec. 18: por RHmax',
  'eto.eq19': 'ec. 19: por RHmean',
  'eto.rhMin': 'e°(Tmax) × RHmin (sin ecuación numerada)',
  'eto.eq48': 'ec. 48: punto de rocío igual a Tmin',
  'eto.eq42': 'ec. 42: un día: 0',
  'eto.eq43': 'ec. 43: un mes, por los meses anterior y siguiente',
  'eto.eq44': 'ec. 44: un mes, por el mes anterior',
  'eto.windDefault': 'sin medir: 2 m/s (FAO-56, capítulo 3)',
  'eto.windAt2m': 'medido a 2 m',
  'eto.measured': 'medido',
  'eto.asceTall': 'ASCE-EWRI ec. 1, alta (Cn 1600, Cd 0.38); nunca menor que 0',
  'eto.asceShort': 'ASCE-EWRI ec. 1, corta (Cn 900, Cd 0.34); nunca menor que 0',
  'eto.eq35': (words, given) => `ec. 35: Angström con ${raw(words, given.a)} y ${raw(words, given.b)}`,
  'eto.eq50': (words, given) => `ec. 50: amplitud térmica con kRs ${raw(words, given.krs)}, como máximo Rso`,
  'eto.eq47': (words, given) => `ec. 47: medido a ${raw(words, given.heightM)} m`,
};

import type { input as english } from '../en/input.ts';
import { rangeOf, type Unfit, type Wanted } from '../input-facts.ts';
import type { SameAs } from '../room.ts';
import { rangeIn, type Words } from '../words.ts';

const WANTED: Record<Wanted, string> = {
  text: 'texto',
  number: 'un número',
  whole: 'un número entero',
  boolean: 'sí o no (true o false)',
  list: 'una lista',
  object: 'un objeto con campos',
  empty: 'vacío (null)',
  date: 'una fecha',
  other: 'de otro tipo',
};

function predicate(words: Words, unfit: Unfit): string {
  switch (unfit.is) {
    case 'missing':
      return `falta: debe ser ${WANTED[unfit.wanted]}`;
    case 'kind':
      return `debe ser ${WANTED[unfit.wanted]}`;
    case 'short':
      return `debe tener al menos ${words.plural(unfit.count, { one: '# carácter', other: '# caracteres' })}`;
    case 'long':
      return `debe tener como máximo ${words.plural(unfit.count, { one: '# carácter', other: '# caracteres' })}`;
    case 'few':
      return `debe tener al menos ${words.plural(unfit.count, { one: '# elemento', other: '# elementos' })}`;
    case 'many':
      return `debe tener como máximo ${words.plural(unfit.count, { one: '# elemento', other: '# elementos' })}`;
    case 'at-least':
      return `debe ser al menos ${unfit.value}`;
    case 'above':
      return `debe ser mayor que ${unfit.value}`;
    case 'at-most':
      return `debe ser como máximo ${unfit.value}`;
    case 'below':
      return `debe ser menor que ${unfit.value}`;
    case 'one-of':
      return `debe ser uno de: ${unfit.names.join(', ')}`;
    case 'unknown-fields':
      return `tiene campos que nadie conoce: ${unfit.names.join(', ')}`;
    case 'no-known':
      return `debe llevar un «${unfit.field}» conocido`;
    case 'no-form':
      return 'no tiene ninguna de las formas posibles';
    case 'bad-field-name':
      return 'tiene un nombre de campo que no se permite';
    case 'malformed':
      return 'no tiene la forma debida';
    case 'own':
      return own(words, unfit.says);
  }
}

/** The schemas' own sentences. A test holds every one of them against this list. */
const OWN: Readonly<Record<string, string>> = {
  'must be a ULID: 26 characters, digits and capital letters, first character 0 to 7':
    'debe ser un ULID: 26 caracteres, cifras y mayúsculas, el primero de 0 a 7',
  'must be a real calendar date written YYYY-MM-DD, from 1900 to 2199':
    'debe ser una fecha real escrita AAAA-MM-DD, de 1900 a 2199',
  'must be a time from 00:00 to 23:59 written HH:MM': 'debe ser una hora de 00:00 a 23:59 escrita HH:MM',
  'must be a day that its month has, written MM-DD (02-29 stands for the last day of February)':
    'debe ser un día que tenga su mes, escrito MM-DD (02-29 es el último de febrero)',
  'must be a moment in UTC written 2026-01-31T17:05:00Z': 'debe ser un momento en UTC escrito 2026-01-31T17:05:00Z',
  'must be one line without control characters': 'debe ser una sola línea sin caracteres de control',
  'must not be empty': 'no debe estar vacío',
  'must not hold control characters': 'no debe tener caracteres de control',
  'must not name a weekday twice': 'no debe nombrar dos veces un día de la semana',
  'must be a full path, from the root of the disk': 'debe ser una ruta completa, desde la raíz del disco',
  'must be base64': 'debe ser base64',
  'must be 0 or more': 'debe ser 0 o más',
  'must be at most 1,000,000,000,000': 'debe ser como máximo 1,000,000,000,000',
  'must be the digits 0 to 9 and a to f of a seal, at least 16':
    'deben ser las cifras 0 a 9 y letras a a f de un sello, al menos 16',
  'must be an e-mail address or empty': 'debe ser un correo electrónico o quedar vacío',
  'must be an IANA time zone such as America/Denver': 'debe ser una zona horaria IANA como America/Denver',
  'must be an IANA time zone': 'debe ser una zona horaria IANA',
  'must not name a start time twice': 'no debe nombrar dos veces una hora de inicio',
  'must not name a zone twice': 'no debe nombrar dos veces una zona',
  'must hold at least one stage': 'debe tener al menos una etapa',
  'must hold twelve months': 'debe tener doce meses',
  'must be at most 80,000 days': 'debe ser como máximo 80,000 días',
  'must come alone: either records or a station': 'debe venir solo: registros o una estación',
  'must be a two-letter country code': 'debe ser un código de país de dos letras',
  'must be an ending without its dot': 'debe ser una terminación sin su punto',
  'must hold at least 4 cans': 'debe tener al menos 4 vasos',
  'must hold at least one entry, unless a visit is being closed':
    'debe tener al menos una entrada, salvo que se cierre una visita',
  'may hold at most 8 start times': 'puede tener como máximo 8 horas de inicio',
  'must say where, or name a zone': 'debe decir dónde, o nombrar una zona',
  "must be given with 'replace' and left out with 'void'": "debe darse con 'replace' y omitirse con 'void'",
  'must say why': 'debe decir por qué',
};

function own(words: Words, says: string): string {
  const range = rangeOf(says);
  if (range !== null) return `debe ser de ${rangeIn(words, range, 'a')}`;
  const most = /^must be at most (\d+) characters(?: long)?$/.exec(says);
  if (most !== null) return `debe tener como máximo ${most[1]} caracteres`;
  const end = /^must be at (least|most) (-?[\d.]+)$/.exec(says);
  if (end !== null) return `debe ser ${end[1] === 'least' ? 'al menos' : 'como máximo'} ${end[2]}`;
  return OWN[says] ?? says;
}

export const input: SameAs<typeof english> = {
  'input.unfit': (words, given) =>
    `${given.field === null ? 'Lo enviado' : `«${given.field}»`} ${predicate(words, given.unfit)}.${given.more > 0 ? ` (Y ${given.more} más.)` : ''}`,
  'input.own': (words, given) => own(words, given.says),
};

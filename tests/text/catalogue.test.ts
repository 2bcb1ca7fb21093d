import { describe, expect, it } from 'vitest';
import { en } from '../../core/text/en.ts';
import { es } from '../../core/text/es.ts';
import { PLAIN_READER, fact, factAround, say, sayFact } from '../../core/text/say.ts';
import { wordsFor } from '../../core/text/words.ts';
import { keepStored, sayStored, STORED } from '../../core/text/stored.ts';
import { BookError, sayFailure, toFailure } from '../../core/errors.ts';

const spanish = { language: 'es', units: 'metric' } as const;

describe('the catalogue', () => {
  it('has the same keys in both languages, plain where the other is plain', () => {
    expect(Object.keys(es).sort()).toEqual(Object.keys(en).sort());
    for (const [key, text] of Object.entries(en)) {
      expect(typeof (es as Record<string, unknown>)[key], key).toBe(typeof text);
    }
  });

  it('says a plain sentence under one key only', () => {
    const keys = Map.groupBy(
      Object.entries(en).flatMap(([key, text]) =>
        typeof text === 'string' && text.endsWith('.') ? [{ key, text }] : [],
      ),
      ({ text }) => text,
    );
    expect(keys.size).toBeGreaterThan(300);
    const twice = [...keys].filter(([, told]) => told.length > 1);
    expect(twice.map(([text, told]) => ({ text, keys: told.map(({ key }) => key) }))).toEqual([]);
  });

  it('says a text with what it tells, by the rules of the language', () => {
    expect(say(PLAIN_READER, 'parts.days', { count: 1 })).toBe('1 day');
    expect(say(PLAIN_READER, 'parts.days', { count: 1200 })).toBe('1,200 days');
    expect(say(spanish, 'parts.days', { count: 1 })).toBe('1 día');
    expect(sayFact(spanish, fact('parts.days', { count: 2 }))).toBe('2 días');
  });

  it('ends a Spanish sentence that ends with a clock with one point', () => {
    expect(say(spanish, 'charts.titled', { title: 'x', caption: 'a las 5:00 p. m..' })).toBe('x: a las 5:00 p. m.');
  });

  // NIST Handbook 44, Appendix C: °C = (°F − 32) / 1.8, so −60 °F are −51.1 °C and 130 °F are 54.4 °C.
  it('says a range that a schema allows in the reader’s units', () => {
    const says = 'must be -60 to 130 °F';
    expect(say(PLAIN_READER, 'input.own', { says })).toBe(says);
    expect(say({ language: 'en', units: 'metric' }, 'input.own', { says })).toBe('must be -51.1 to 54.4 °C');
    expect(say(spanish, 'input.own', { says })).toBe('debe ser de -51.1 a 54.4 °C');
  });

  it('says a fact inside a fact to the same reader', () => {
    const inner = fact('import.why.notNumber');
    const outer = factAround('import.rows', inner, { rows: [3, 4], count: 7 });
    expect(sayFact(spanish, outer)).toBe('Filas 3, 4 y 5 más: no es un número');
    expect(sayFact(PLAIN_READER, outer)).toBe('Rows 3, 4 and 5 more: is not a number');
  });

  it('shows a key it does not know rather than nothing', () => {
    expect(sayFact(spanish, { key: 'from.a.newer.version' })).toBe('from.a.newer.version');
  });

  it('carries a failure as a fact, with the English sentence for logs', () => {
    const failure = toFailure(new BookError('conflict', fact('parts.days', { count: 3 }), 'days'));
    expect(failure).toMatchObject({ code: 'conflict', message: '3 days', field: 'days' });
    expect(sayFailure(spanish, failure)).toBe('3 días');
  });
});

describe('what Valvebook itself writes into a book', () => {
  it('is kept in the same words whoever writes it, and said to each reader', () => {
    expect(sayStored(spanish, STORED.office)).toBe('oficina');
    expect(sayStored(PLAIN_READER, STORED.office)).toBe('office');
    expect(keepStored(spanish, 'oficina')).toBe(STORED.office);
    expect(keepStored(spanish, 'Ada Marsh')).toBe('Ada Marsh');
    // A reason somebody typed is nobody else's to change.
    expect(sayStored(spanish, 'the client called')).toBe('the client called');
    for (const text of Object.values(STORED)) expect(sayStored(PLAIN_READER, text)).toBe(text);
  });
});

describe('words', () => {
  // Unit factors: NIST Handbook 44, Appendix C (1 in = 25.4 mm exactly).
  it('writes stored figures in the reader’s units', () => {
    expect(wordsFor('en', 'us').measure({ quantity: 'depth', value: 0.5 })).toBe('0.5 in');
    expect(wordsFor('es', 'metric').measure({ quantity: 'depth', value: 0.5 })).toBe('13 mm');
    expect(wordsFor('es', 'metric').measure({ quantity: 'temperature', value: 32 })).toBe('0 °C');
  });

  it('writes days, weekdays and clocks', () => {
    const words = wordsFor('es', 'us');
    expect(words.weekday('2026-11-25', 'long')).toBe('miércoles');
    expect(words.month(3)).toBe('marzo');
    expect(words.clock('17:05')).toBe('5:05 p. m.');
    expect(wordsFor('en', 'us').clock('00:30')).toBe('12:30 am');
    expect(wordsFor('en', 'us').date('2026-11-25')).toBe('Nov 25, 2026');
    expect(words.list(['lunes', 'martes', 'viernes'])).toBe('lunes, martes y viernes');
  });
});

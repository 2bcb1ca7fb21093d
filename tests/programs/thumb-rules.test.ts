import { describe, expect, test } from 'vitest';
import { DEFAULT_THUMB_RULES } from '../../core/settings/thumb-rules.ts';
import { matchThumb, thumbDistance } from '../../core/programs/thumb-rules.ts';
import { makeThumb, makeZone } from './builders.ts';

describe('rules of thumb', () => {
  const match = (changes: Parameters<typeof makeZone>[1]) => {
    const rule = matchThumb(makeZone(1, changes), DEFAULT_THUMB_RULES);
    return rule && [rule.minutesFrom, rule.minutesTo];
  };

  // Common practice, no source: the company's own table as a new book starts.
  test('the table a new book starts with', () => {
    expect(match({ emissionDevice: 'soaker-hose', plantKind: 'shrubs' })).toEqual([15, 20]);
    expect(match({ emissionDevice: 'pop-up-spray' })).toEqual([7, 9]);
    expect(match({ emissionDevice: 'pop-up-spray', betweenHouses: true })).toEqual([3, 4]);
    expect(match({ emissionDevice: 'bubbler', plantKind: 'trees' })).toEqual([9, 9]);
    expect(match({ emissionDevice: 'rotor' })).toBeNull();
    expect(DEFAULT_THUMB_RULES.every((rule) => rule.note.includes('common practice, no source'))).toBe(true);
  });

  test('the rule that names most about the zone wins, wherever it stands', () => {
    const general = makeThumb({ note: 'general' });
    const spray = makeThumb({ emissionDevice: 'pop-up-spray', note: 'spray' });
    const sprayTrees = makeThumb({ emissionDevice: 'pop-up-spray', plantKind: 'trees', note: 'spray on trees' });
    const between = makeThumb({ betweenHouses: true, note: 'between' });
    const notBetween = makeThumb({ betweenHouses: false, note: 'not between' });
    const zone = makeZone(1, { plantKind: 'trees', betweenHouses: true });
    for (const rules of [
      [general, spray, sprayTrees, between, notBetween],
      [notBetween, between, sprayTrees, spray, general],
    ]) {
      expect(matchThumb(zone, rules)?.note).toBe('spray on trees');
      expect(matchThumb({ ...zone, plantKind: 'shrubs' }, rules)?.note).toBe('between');
      expect(matchThumb({ ...zone, plantKind: 'shrubs', betweenHouses: false }, rules)?.note).toBe('not between');
      expect(
        matchThumb(
          { ...zone, plantKind: 'shrubs', betweenHouses: false },
          rules.filter((rule) => rule !== notBetween),
        )?.note,
      ).toBe('spray');
    }
    expect(matchThumb(zone, [])).toBeNull();
    expect(
      matchThumb(zone, [
        makeThumb({ minutesFrom: 1, minutesTo: 9, note: 'wide' }),
        makeThumb({ minutesFrom: 4, minutesTo: 5, note: 'narrow' }),
      ])?.note,
    ).toBe('narrow');
  });

  test('how far minutes lie outside a span', () => {
    expect(thumbDistance(8, { minutesFrom: 7, minutesTo: 9 })).toBe(0);
    expect(thumbDistance(18, { minutesFrom: 7, minutesTo: 9 })).toBe(1);
    expect(thumbDistance(3.5, { minutesFrom: 7, minutesTo: 9 })).toBe(0.5);
    expect(thumbDistance(18, { minutesFrom: 9, minutesTo: 7 })).toBe(1);
    expect(thumbDistance(1, { minutesFrom: 0, minutesTo: 0 })).toBe(Infinity);
    expect(thumbDistance(0, { minutesFrom: 0, minutesTo: 0 })).toBe(0);
    expect([7, 9].map((minutes) => thumbDistance(minutes, { minutesFrom: 7, minutesTo: 9 }))).toEqual([0, 0]);
  });
});

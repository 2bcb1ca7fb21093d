import { describe, expect, test } from 'vitest';
import { inForceOn, revisionStands, shownOn } from '../../core/programs/in-force.ts';

// The rule in words: of the revisions that stand, the latest dated on or before the day counts; of one day, the one recorded last.

const made = [
  { effectiveDate: '2026-06-01', revisionNumber: 2 },
  { effectiveDate: '2026-06-01', revisionNumber: 3 },
  { effectiveDate: '2026-05-01', revisionNumber: 4 },
  { effectiveDate: '2026-07-01', revisionNumber: 1 },
];
const at = (index: number) => made[index]!;

describe('the revision in force', () => {
  test.each([
    ['2026-04-30', null, at(2)],
    ['2026-05-01', at(2), at(2)],
    ['2026-05-31', at(2), at(2)],
    ['2026-06-01', at(1), at(1)],
    ['2026-06-30', at(1), at(1)],
    ['2026-07-01', at(3), at(3)],
  ])('on %s, in whatever order they are given', (onDate, inForce, shown) => {
    for (const list of [made, made.toReversed(), [at(1), at(3), at(0), at(2)]]) {
      expect(inForceOn(list, onDate)).toEqual(inForce);
      expect(shownOn(list, onDate)).toEqual(shown);
    }
  });

  test('is none where none stands', () => {
    expect(inForceOn([], '2026-06-01')).toBeNull();
    expect(shownOn([], '2026-06-01')).toBeNull();
    expect([{ voidedByEntryId: null }, { voidedByEntryId: '01A' }].map(revisionStands)).toEqual([true, false]);
  });
});

import { ulid } from 'ulid';
import { describe, expect, it } from 'vitest';
import { makeBook } from './make-book.ts';

const rule = (id: string, more: object = {}) => ({ id, minutesFrom: 5, minutesTo: 9, ...more });
const stage = { title: 'Stage 1', dayRule: { kind: 'any-day' }, maxDaysPerWeek: null };

describe('rules.save', () => {
  it('refuses one id twice at the later row, and saves nothing', async () => {
    const book = await makeBook();
    const before = await book.call('rules.list', {});
    const id = ulid();
    const thumbRules = [rule(ulid(), { plantKind: 'trees' }), rule(id), rule(id, { betweenHouses: true })];
    expect(await book.fails('rules.save', { writeId: ulid(), thumbRules })).toMatchObject({
      code: 'bad-input',
      field: 'thumbRules.2.id',
      message: expect.stringContaining('Rules of thumb 2 and 3 have the same id'),
    });
    const restriction = (name: string) => ({ id, name, stages: [stage] });
    expect(
      await book.fails('rules.save', { writeId: ulid(), restrictions: [restriction('A'), restriction('B')] }),
    ).toMatchObject({ code: 'bad-input', field: 'restrictions.1.id' });
    expect(await book.call('rules.list', {})).toEqual(before);
  });

  it('refuses two rules of thumb for the same thing, of which only one would ever count', async () => {
    const book = await makeBook();
    const same = { emissionDevice: 'pop-up-spray', plantKind: 'trees', betweenHouses: null };
    expect(
      await book.fails('rules.save', { writeId: ulid(), thumbRules: [rule(ulid(), same), rule(ulid(), same)] }),
    ).toMatchObject({ code: 'bad-input', field: 'thumbRules.1.emissionDevice' });
    const thumbRules = [rule(ulid(), same), rule(ulid(), { ...same, betweenHouses: false })] as never;
    expect(await book.call('rules.save', { writeId: ulid(), thumbRules })).toEqual({ saved: 2 });
  });
});

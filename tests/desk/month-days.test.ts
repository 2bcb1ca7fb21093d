import fc from 'fast-check';
import { ulid } from 'ulid';
import { describe, expect, it } from 'vitest';
import { settingsSchema, type Settings } from '../../core/settings/contract.ts';
import { monthDaySchema } from '../../core/contract/parts.ts';
import { findRequest } from '../../core/contract/index.ts';
import { addDays, dateOfMonthDay } from '../../core/dates.ts';
import { dueJudge, type DueFacts } from '../../core/due/due.ts';
import { connect } from '../../core/store/sqlite.ts';
import { firstMonth, isOffMonth } from '../../renderer/office/program-review/review-month.ts';
import { makeBook, makeSite, TODAY, type TestBook } from './make-book.ts';
import { openDesk } from '../../core/desk/desk.ts';
import { english } from '../book/english.ts';

const two = (figure: number) => String(figure).padStart(2, '0');
/** Every MM-DD with a month and a day that look right, and those that some year has (2000 has them all). */
const written = Array.from({ length: 12 }, (_month, month) =>
  Array.from({ length: 31 }, (_day, day) => [month + 1, day + 1]),
)
  .flat()
  .map(([month, day]) => ({ month: month!, day: day!, monthDay: `${two(month!)}-${two(day!)}` }));
const inTwoThousand = (month: number, day: number) =>
  new Date(Date.UTC(2000, month - 1, day)).getUTCMonth() === month - 1;
const real = written.filter(({ month, day }) => inTwoThousand(month, day)).map(({ monthDay }) => monthDay);
const unreal = written.filter(({ month, day }) => !inTwoThousand(month, day)).map(({ monthDay }) => monthDay);

const year = fc.integer({ min: 1900, max: 2199 });
const monthDay = fc.constantFrom(...real);
const ordered = fc
  .tuple(monthDay, monthDay)
  .map(([one, other]) => (one <= other ? ([one, other] as const) : ([other, one] as const)));
const seasonDays = fc
  .tuple(ordered, ordered)
  .map(([[startUpFrom, startUpTo], [winterizationFrom, winterizationTo]]) => ({
    startUpFrom,
    startUpTo,
    winterizationFrom,
    winterizationTo,
  }));

describe('a day of the year', () => {
  it('is taken by the contract where its month has it, and refused with a sentence where no year does', () => {
    expect(real).toHaveLength(366);
    expect(unreal).toEqual(['02-30', '02-31', '04-31', '06-31', '09-31', '11-31']);
    for (const day of real) expect(monthDaySchema.safeParse(day).success, day).toBe(true);
    for (const day of [...unreal, '00-10', '13-01', '01-00', '1-1', '0101', '01-32', ' 01-01'])
      expect(monthDaySchema.safeParse(day).success, day).toBe(false);
  });

  it('is a real date in every year from 1900 to 2200: its own, or the last of February', () => {
    for (let inYear = 1900; inYear <= 2200; inYear += 1) {
      for (const day of real) {
        // Date's own calendar is the other judge: in a year without 29 February it rolls over into March.
        const [month, date] = day.split('-').map(Number) as [number, number];
        const judge = new Date(Date.UTC(inYear, month - 1, date));
        if (judge.getUTCMonth() !== month - 1) judge.setUTCDate(0);
        if (dateOfMonthDay(inYear, day) !== judge.toISOString().slice(0, 10))
          expect.fail(`${inYear} ${day}: ${dateOfMonthDay(inYear, day)}`);
      }
    }
    expect(dateOfMonthDay(2100, '02-29')).toBe('2100-02-28');
    expect(dateOfMonthDay(2028, '02-29')).toBe('2028-02-29');
  });

  it('as an end of a season never breaks what is due, in any year', () => {
    const facts: DueFacts = {
      propertyId: ulid(),
      servicesStartUp: true,
      servicesWinterization: true,
      backflowTestDue: null,
      sensors: [],
      seasons: [],
      planned: [],
      urgent: [],
    };
    fc.assert(
      fc.property(year, monthDay, seasonDays, fc.integer({ min: 0, max: 366 }), (inYear, day, days, horizon) => {
        const onDate = dateOfMonthDay(inYear, day);
        for (const due of dueJudge(onDate, horizon, settingsSchema.parse(days))(facts))
          expect(new Date(`${due.dueOn}T00:00:00Z`).toISOString().slice(0, 10)).toBe(due.dueOn);
      }),
      { numRuns: 2000 },
    );
  });

  it('29 February as an end of the season is the last of February in a review too', () => {
    const season = { startUpFrom: '02-29', winterizationTo: '11-15' };
    expect(firstMonth('2027-02-28', season, 40)).toEqual({ month: 2, why: null });
    expect(firstMonth('2028-02-28', season, 40).month).toBe(7);
    expect(firstMonth('2028-02-29', season, 40)).toEqual({ month: 2, why: null });
    expect(isOffMonth(2, season)).toBe(false);
    expect(isOffMonth(1, season)).toBe(true);
  });
});

const save = (book: TestBook, settings: Partial<Settings>) =>
  book.desk.call('settings.save', { writeId: ulid(), settings });

describe('season days through the desk', () => {
  it('those that no year has are refused, each at its field, with how to write one', async () => {
    const book = await makeBook();
    for (const field of ['startUpFrom', 'startUpTo', 'winterizationFrom', 'winterizationTo'] as const) {
      for (const day of unreal) {
        const reply = await save(book, { [field]: day });
        expect(reply).toMatchObject({ ok: false, error: { code: 'bad-input', field: `settings.${field}` } });
        expect(!reply.ok && reply.error.message).toContain('must be a day that its month has, written MM-DD');
      }
    }
  });

  it('whatever they are, every screen that shows a season answers on any day of any year', async () => {
    const book = await makeBook();
    const site = await makeSite(book);
    await fc.assert(
      fc.asyncProperty(
        seasonDays,
        fc.array(fc.tuple(year, monthDay), { minLength: 4, maxLength: 4 }),
        async (days, moments) => {
          expect(await save(book, days)).toMatchObject({ ok: true });
          for (const [inYear, day] of [...moments, [2027, '02-28'], [2028, '02-29']] as const) {
            const onDate = dateOfMonthDay(inYear, day);
            const { items } = await book.call('due.list', { onDate, horizonDays: 366 });
            for (const { dueOn } of items) expect(addDays(dueOn, 0)).toBe(dueOn);
            await book.call('property.open', { propertyId: site.propertyId, onDate });
            await book.call('client.list', { onDate, due: 'winterization' });
            await book.call('work.summary', { year: Math.max(1990, inYear), onDate });
          }
        },
      ),
      { numRuns: 25 },
    );
  });

  it('29 February closes a start-up window on the last of February', async () => {
    const book = await makeBook('2027-02-10');
    const site = await makeSite(book);
    expect(await save(book, { startUpFrom: '02-01', startUpTo: '02-29' })).toMatchObject({ ok: true });
    const dueOn = async (onDate: string) =>
      (await book.call('due.list', { onDate })).items.find(
        (item) => item.kind === 'start-up' && item.propertyId === site.propertyId,
      )?.dueOn;
    expect(await dueOn('2027-02-10')).toBe('2027-02-28');
    expect(await dueOn('2028-02-10')).toBe('2028-02-29');
  });

  it('a book from before that holds such a day opens, reads it as the last of its month, and the check says so', async () => {
    const book = await makeBook();
    const site = await makeSite(book);
    await save(book, {});
    await book.desk.close();
    const connection = connect(book.path, 'write');
    connection.raw
      .prepare(
        `UPDATE setting SET value = json_set(value, '$.winterizationTo', '11-31', '$.startUpFrom', '02-30') WHERE key = 'company'`,
      )
      .run();
    await connection.close();

    const desk = await openDesk({ bookPath: book.path, today: () => TODAY });
    try {
      const call = async (name: string, input: unknown) => {
        const reply = await desk.call(name, input);
        if (!reply.ok) throw new Error(`${name}: ${reply.error.code} ${reply.error.message}`);
        // What a handler returns must be what the contract promises.
        return findRequest(name)!.output.parse(reply.data) as any;
      };
      expect(await call('settings.get', {})).toMatchObject({ winterizationTo: '11-30', startUpFrom: '02-29' });
      for (const onDate of ['2026-11-20', '2027-02-28', '2028-02-29'])
        await call('due.list', { onDate, horizonDays: 366 });
      await call('property.open', { propertyId: site.propertyId });
      const found = (english(await call('book.check', {})) as any).checks.flatMap((check: any) => check.findings);
      expect(found).toHaveLength(2);
      expect(found.join(' ')).toContain('winterizationTo is 11-31, a day that no year has; it is read as 11-30');
      expect(found.join(' ')).toContain('startUpFrom is 02-30, a day that no year has; it is read as 02-29');
      // As the check says: saving them puts it right.
      const settings = await call('settings.get', {});
      await call('settings.save', { writeId: ulid(), settings });
      expect((await call('book.check', {})).clean).toBe(true);
    } finally {
      await desk.close();
    }
  });
});

import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { chainEndOf } from '../../core/store/chain-queries.ts';
import { plantGround } from './ground.ts';
import { base64, makeBook, type TestBook } from './job-context.ts';
import { english } from './english.ts';

let book: TestBook;
let ground: Awaited<ReturnType<typeof plantGround>>;
beforeEach(async () => {
  book = await makeBook();
  ground = await plantGround(book);
  await book.run('import.apply', {
    target: 'zones',
    bytesBase64: base64('account,station,name,minutes,start,days\n1001,1,Lawn,10,5:00,odd\n1001,2,Beds,5,,\n'),
  });
  await book.run('import.apply', {
    target: 'work',
    bytesBase64: base64(
      'account,date,work,result\n1001,10/14/2024,winterized,\n1001,4/14/2025,start up,\n1001,4/15/2025,battery,\n1001,4/16/2025,sensor test,pass\n1001,4/17/2025,backflow test,pass\n',
    ),
  });
});
afterEach(() => book.close());

const findings = async () => english((await book.run('book.check', {})).checks.flatMap((check) => check.findings));
const entryOf = async (kind: string) =>
  await book.connection.db
    .selectFrom('ledgerEntry')
    .selectAll()
    .where('kind', '=', kind as never)
    .executeTakeFirstOrThrow();

/** Changes a book behind the app's back, past its triggers and foreign keys. */
function tamper(...statements: string[]): void {
  const { raw } = book.connection;
  raw.pragma('foreign_keys = OFF');
  raw.pragma('ignore_check_constraints = ON');
  for (const statement of statements) raw.exec(statement);
  raw.pragma('ignore_check_constraints = OFF');
  raw.pragma('foreign_keys = ON');
}
const noTriggers = [
  'ledgerEntryNoUpdate',
  'ledgerEntryNoDelete',
  'ledgerEntryCorrectsSameProperty',
  'programRevisionNoDelete',
  'programRunNoDelete',
  'programRunNoUpdate',
  'programRevisionNoUpdate',
].map((name) => `DROP TRIGGER ${name}`);
const restOf = (found: string[]) => found.filter((sentence) => !sentence.startsWith('The trigger'));

describe('book.check', () => {
  it('finds nothing in a book made by the app, and looks at all of it', async () => {
    const result = await book.run('book.check', {});
    expect(result).toMatchObject({ clean: true });
    const looked = Object.fromEntries(english(result).checks.map((check) => [check.name, check.looked]));
    expect(looked['Every ledger entry can be read']).toBe(5);
    expect(looked['Seasons agree with the start-ups and winterizations in the ledger']).toBe(2);
    expect(
      english(result).checks.every((check) => check.looked > 0 || /correction|Visits|[Ff]inding/.test(check.name)),
    ).toBe(true);
  });

  it('misses no trigger that is gone', async () => {
    tamper('DROP TRIGGER ledgerEntryNoUpdate');
    expect(await findings()).toEqual([expect.stringContaining('ledgerEntryNoUpdate is missing')]);
  });

  it.each([
    [
      'batteryDate',
      "UPDATE sensor SET batteryDate = '2020-01-01' WHERE batteryDate IS NOT NULL",
      /batteryDate says 2020-01-01, the ledger says 2025-04-15/,
    ],
    [
      'lastCheckDate',
      'UPDATE sensor SET lastCheckDate = NULL WHERE lastCheckDate IS NOT NULL',
      /lastCheckDate says nothing, the ledger says 2025-04-16/,
    ],
    [
      'lastCheckPassed',
      'UPDATE sensor SET lastCheckPassed = 0 WHERE lastCheckPassed = 1',
      /lastCheckPassed says 0, the ledger says 1/,
    ],
    [
      'backflow',
      "UPDATE property SET backflowTestDue = '2031-01-01' WHERE backflowTestDue IS NOT NULL",
      /next backflow test says 2031-01-01, the ledger says 2026-04-17/,
    ],
    ['season gone', 'DELETE FROM season WHERE year = 2024', /has no season 2024/],
    [
      'season made up',
      `INSERT INTO season SELECT propertyId, 2001, NULL, NULL, NULL, NULL FROM season LIMIT 1`,
      /Season 2001 .* no start-up or winterization/,
    ],
    [
      'season moved',
      "UPDATE season SET winterizedOn = '2024-12-01' WHERE year = 2024",
      /winterizedOn says 2024-12-01, the ledger says 2024-10-14/,
    ],
    [
      'search text',
      "UPDATE client SET searchText = 'x' WHERE accountNumber = '1001'",
      /cannot be found by what it says/,
    ],
    ['a value', 'UPDATE zone SET slopePercent = 400 WHERE station = 1', /slopePercent must be 0 to 100 %/],
    ['JSON', "UPDATE technician SET skills = '[' WHERE name = 'Tess Vale'", /technician .* not JSON/],
    ['a time zone', "UPDATE property SET timeZone = 'Mars/Base'", /Mars\/Base is not a time zone/],
    [
      'a foreign key',
      "UPDATE zone SET controllerId = '01M89G142THQ4T01D3AF4RW5DM' WHERE station = 2",
      /points at a controller that does not exist/,
    ],
    ['settings', "INSERT INTO setting VALUES ('company', '{')", /settings cannot be read/],
    ['another setting', "INSERT INTO setting VALUES ('other', 'yes')", /setting other: its value cannot be read/],
    [
      'a day no calendar has',
      "DROP TRIGGER ledgerEntryNoUpdate; UPDATE ledgerEntry SET doneOn = '2025-02-30' WHERE kind = 'battery-swap'",
      /its doneOn, “2025-02-30”, is no day of the calendar/,
    ],
    [
      'a day that is no text',
      'UPDATE property SET baseBackflowTestDue = 20250101',
      /baseBackflowTestDue, “20250101”, is no day/,
    ],
    [
      'a moment that is none',
      "DROP TRIGGER ledgerEntryNoUpdate; UPDATE ledgerEntry SET recordedAt = 'yesterday' WHERE kind = 'battery-swap'",
      /its recordedAt, “yesterday”, is no moment/,
    ],
  ])('finds %s', async (_what, statement, sentence) => {
    tamper(statement);
    const found = await findings();
    expect(found.length).toBeGreaterThan(0);
    expect(found.join('\n')).toMatch(sentence);
  });

  it('finds entries that say something else than they are filed as', async () => {
    const swap = await entryOf('battery-swap');
    tamper(...noTriggers, `UPDATE ledgerEntry SET detail = '{"kind":"note","text":"x"}' WHERE id = '${swap.id}'`);
    expect(restOf(await findings()).join('\n')).toMatch(
      new RegExp(`${swap.id} is filed as battery-swap and says note`),
    );
    tamper(`UPDATE ledgerEntry SET detail = 'x' WHERE id = '${swap.id}'`);
    expect(restOf(await findings()).join('\n')).toMatch(new RegExp(`${swap.id}: what it says cannot be read`));
    tamper(`UPDATE ledgerEntry SET detail = '{"kind":"battery-swap","sensorId":"y"}' WHERE id = '${swap.id}'`);
    expect(restOf(await findings()).join('\n')).toMatch(
      new RegExp(`${swap.id} \\(battery-swap\\): sensorId must be a ULID`),
    );
  });

  it('finds corrections that point wrong', async () => {
    const [swap, start] = [await entryOf('battery-swap'), await entryOf('start-up')];
    tamper(
      ...noTriggers,
      `UPDATE ledgerEntry SET correctsId = '${swap.id}', correction = 'void' WHERE id = '${start.id}'`,
    );
    expect(restOf(await findings()).join('\n')).toMatch(
      new RegExp(`${start.id} \\(start-up\\) corrects ${swap.id}, which is of another kind`),
    );
    tamper(`UPDATE ledgerEntry SET correctsId = '${start.id}' WHERE id = '${start.id}'`);
    expect(restOf(await findings()).join('\n')).toMatch(/corrects itself/);
  });

  it('takes a voided entry for not done', async () => {
    const swap = await entryOf('battery-swap');
    await book.connection.db
      .insertInto('ledgerEntry')
      .values(
        (await chainEndOf(book.connection.db, [swap.propertyId])).entry({
          ...swap,
          id: '7ZZZZZZZZZZZZZZZZZZZZZZZZZ',
          correctsId: swap.id,
          correction: 'void' as const,
          correctionReason: 'wrong house',
        }),
      )
      .execute();
    expect((await findings()).join('\n')).toMatch(/batteryDate says 2025-04-15, the ledger says nothing/);
    tamper(`UPDATE sensor SET batteryDate = NULL WHERE id = '${ground.oakSensor}'`);
    expect((await findings()).filter((sentence) => !/cellsGood/.test(sentence))).toEqual([]);
  });

  it('finds revisions that do not agree with their entries', async () => {
    const { db } = book.connection;
    const program = await db.selectFrom('program').selectAll().executeTakeFirstOrThrow();
    const zone = await db.selectFrom('zone').selectAll().executeTakeFirstOrThrow();
    const entryId = '01M89G142THQ4T01D3AF4RW5DM';
    const revisionId = '01M89G142THQ4T01D3AF4RW5DN';
    await db
      .insertInto('ledgerEntry')
      .values(
        (await chainEndOf(db, [ground.oak])).entry({
          id: entryId,
          propertyId: ground.oak,
          visitId: null,
          technicianId: null,
          kind: 'run-time-change' as const,
          doneOn: '2026-03-01',
          recordedAt: '2026-03-01T15:00:00Z',
          sensorId: null,
          zoneId: null,
          note: '',
          correctsId: null,
          correction: null,
          correctionReason: '',
          detail: JSON.stringify({
            kind: 'run-time-change',
            programId: program.id,
            revisionId,
            changes: [{ zoneId: zone.id, oldMinutes: 10, newMinutes: 12 }],
            oldSeasonalPercent: 100,
            newSeasonalPercent: 100,
          }),
        }),
      )
      .execute();
    expect(await findings()).toEqual([`Ledger entry ${entryId} is a run-time change without its program revision.`]);
    const revision = {
      programId: program.id,
      effectiveDate: '2026-03-01',
      recordedAt: '2026-03-01T15:00:00Z',
      madeBy: '',
      reason: '',
      days: '{"kind":"even"}',
      startTimes: '[]',
      seasonalPercent: 100,
      enabled: 1 as const,
      voidedByEntryId: null,
    };
    await db
      .insertInto('programRevision')
      .values(
        (await chainEndOf(db, [ground.oak])).revision(
          { ...revision, id: revisionId, propertyId: ground.oak, revisionNumber: 3, ledgerEntryId: entryId },
          [],
        ),
      )
      .execute();
    expect(await findings()).toEqual([expect.stringContaining(`revision 2 is missing (${revisionId} has number 3)`)]);
    tamper(
      `DROP TRIGGER programRevisionNoUpdate`,
      `UPDATE programRevision SET revisionNumber = 2, voidedByEntryId = '${entryId}' WHERE id = '${revisionId}'`,
    );
    expect(restOf(await findings())).toEqual([
      expect.stringContaining(
        `${revisionId} of property ${ground.oak} (number 2, from 2026-03-01): what it says is not`,
      ),
      expect.stringContaining('is void, but its ledger entry'),
    ]);
    tamper(`UPDATE programRevision SET voidedByEntryId = NULL, ledgerEntryId = NULL WHERE id = '${revisionId}'`);
    expect(restOf(await findings())).toEqual([
      expect.stringContaining('what it says is not what was sealed in'),
      expect.stringContaining('without its program revision'),
    ]);
  });

  it('finds visits without their day, and work logged on another property’s visit', async () => {
    const { db } = book.connection;
    const visit = {
      kind: 'repair' as const,
      date: '2026-02-02',
      windowFrom: null,
      windowTo: null,
      technicianId: null,
      orderInDay: 1,
      expectedMinutes: 30,
      locked: 0 as const,
      note: '',
      cancelReason: '',
    };
    await db
      .insertInto('visit')
      .values({ ...visit, id: '01M89G142THQ4T01D3AF4RW5DA', propertyId: ground.elm, state: 'done', doneOn: null })
      .execute();
    await db
      .insertInto('visit')
      .values({
        ...visit,
        id: '01M89G142THQ4T01D3AF4RW5DB',
        propertyId: ground.elm,
        state: 'planned',
        doneOn: '2026-02-02',
      })
      .execute();
    await db
      .insertInto('ledgerEntry')
      .values(
        (await chainEndOf(db, [ground.oak])).entry({
          id: '01M89G142THQ4T01D3AF4RW5DC',
          propertyId: ground.oak,
          visitId: '01M89G142THQ4T01D3AF4RW5DB',
          technicianId: null,
          kind: 'note' as const,
          doneOn: '2026-02-02',
          recordedAt: '2026-03-01T15:00:00Z',
          sensorId: null,
          zoneId: null,
          note: '',
          detail: '{"kind":"note","text":"x"}',
          correctsId: null,
          correction: null,
          correctionReason: '',
        }),
      )
      .execute();
    expect(await findings()).toEqual([
      expect.stringMatching(/5DA is done without a day/),
      expect.stringMatching(/5DB is planned, but has a day/),
      expect.stringMatching(/5DC was logged on visit .*5DB, which is at another property/),
    ]);
  });

  it('stops when cancelled', async () => {
    book.cancelAfter = 0;
    await expect(book.run('book.check', {})).rejects.toMatchObject({ code: 'cancelled' });
  });
});

import { createHash } from 'node:crypto';
import { copyFileSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import Database from 'better-sqlite3';
import fc from 'fast-check';
import { ulid } from 'ulid';
import { describe, expect, it } from 'vitest';
import { makeBook, makeSite, TODAY, type Site, type TestBook } from '../desk/make-book.ts';
import { tamperings } from './tamperings.ts';
import { checkFile, onCopy, pastFindings, pastTheGuards } from './chain-book.ts';
import { english } from './english.ts';

// The chain against its description, against tampering, and seals noted earlier.

const ROOT = join(import.meta.dirname, '../..');

/** The forms as DEVELOPERS.md describes them: a mark, then names of columns. */
const FORMS: Record<string, string[]> = Object.fromEntries(
  /```chain\n([^`]*)```/
    .exec(readFileSync(join(ROOT, 'DEVELOPERS.md'), 'utf8'))![1]!
    .trim()
    .split('\n')
    .map((line) => {
      const [name, ...parts] = line.trim().split(/\s+/);
      return [name!, parts];
    }),
);
const byText = (a: string, b: string) => (a < b ? -1 : a > b ? 1 : 0);
const form = (name: string, row: Record<string, unknown>): unknown[] =>
  FORMS[name]!.map((part) => (part.startsWith('"') ? JSON.parse(part) : row[part]));
const sha256 = (value: unknown): string => createHash('sha256').update(JSON.stringify(value), 'utf8').digest('hex');

/** Works out every hash and the seal after every link from a book's tables, by the description alone. */
function recompute(path: string): { hashes: [stored: string, worked: string][]; seals: string[] } {
  const raw = new Database(path, { readonly: true });
  try {
    const rows = (sql: string, ...values: unknown[]) => raw.prepare(sql).all(...values) as Record<string, any>[];
    const links: [kind: string, row: Record<string, any>][] = [
      ...rows('SELECT * FROM ledgerEntry').map((row) => ['entry', row] as [string, Record<string, any>]),
      ...rows('SELECT * FROM programRevision').map((row) => {
        const runs = rows('SELECT * FROM programRun WHERE revisionId = ?', row['id'])
          .sort((a, b) => byText(a['zoneId'], b['zoneId']))
          .map((run) => form('run', run));
        return ['revision', { ...row, runs }] as [string, Record<string, any>];
      }),
    ].sort(([, a], [, b]) => a['bookPlace'] - b['bookPlace']);
    const heads = new Map<string, Record<string, any>>();
    const hashes: [string, string][] = [];
    const sealNow = (count: number) =>
      sha256(
        form('seal', {
          count,
          heads: [...heads.values()]
            .sort((a, b) => byText(a['propertyId'], b['propertyId']))
            .map((head) => form('head', head)),
        }),
      );
    const seals = [sealNow(0)];
    for (const [index, [kind, row]] of links.entries()) {
      const before = heads.get(row['propertyId']);
      expect([row['bookPlace'], row['place'], row['previousHash']]).toEqual([
        index + 1,
        (before?.['place'] ?? 0) + 1,
        before?.['hash'] ?? '',
      ]);
      hashes.push([row['hash'], sha256(form(kind, row))]);
      heads.set(row['propertyId'], row);
      seals.push(sealNow(index + 1));
    }
    return { hashes, seals };
  } finally {
    raw.close();
  }
}

const TEXTS = ['Gate sticks', 'Müller’s “valve”', 'half \ud800 a pair', 'tab\there', '=1+1', ''];

/** One thing that an office does; numbers choose among what there is. */
async function act(book: TestBook, sites: Site[], made: string[], [what, n, m]: readonly number[]): Promise<void> {
  const site = sites[n! % sites.length]!;
  const write = async (name: Parameters<TestBook['call']>[0], input: object) =>
    (await book.call(name, { writeId: ulid(), ...input } as never)) as any;
  const text = TEXTS[m! % TEXTS.length]!;
  switch (what! % 6) {
    case 0:
    case 1: {
      const entries = [
        { id: ulid(), detail: { kind: 'note', text: text || 'x' }, note: text },
        {
          id: ulid(),
          detail: {
            kind: 'battery-swap',
            sensorId: site.sensorId,
            batteryType: 'CR2032',
            cells: 2,
            oldBatteryState: 'low',
          },
        },
      ].slice(0, 1 + (m! % 2));
      await write('visit.record', {
        propertyId: site.propertyId,
        technicianId: site.technicianId,
        doneOn: TODAY,
        entries,
      });
      made.push(...entries.map((entry) => entry.id));
      return;
    }
    case 2: {
      const id = ulid();
      await write('visit.record', {
        propertyId: site.propertyId,
        technicianId: null,
        doneOn: '2026-06-10',
        entries: [
          {
            id,
            detail: {
              kind: 'run-time-change',
              programId: site.programId,
              revisionId: ulid(),
              runs: [{ zoneId: site.zoneIds[m! % 3]!, runMinutes: 1 + made.length + m! / 8 }],
              reason: text,
            },
          },
        ],
      });
      made.push(id);
      return;
    }
    case 3:
      await write('program.revise', {
        programId: site.programId,
        revisionId: ulid(),
        effectiveDate: '2026-06-01',
        reason: text,
        settings: {
          days: { kind: 'odd' },
          startTimes: ['04:00'],
          seasonalPercent: 50 + (m! % 50),
          runs: site.zoneIds.slice(0, m! % 3).map((zoneId) => ({ zoneId, runMinutes: 0.1 + m!, cycleMinutes: 7.5 })),
        },
      });
      return;
    default: {
      const correctsId = made[m! % Math.max(1, made.length)];
      if (correctsId === undefined) return;
      const id = ulid();
      const reply = await book.desk.call('ledger.correct', {
        writeId: ulid(),
        id,
        correctsId,
        correction: 'void',
        reason: 'not done',
      });
      if (reply.ok) made.push(id);
    }
  }
}

async function history(
  steps: readonly (readonly number[])[],
): Promise<{ book: TestBook; seals: { count: number; seal: string }[] }> {
  const book = await makeBook();
  const sites = [await makeSite(book), await makeSite(book)];
  const made: string[] = [];
  const seals = [await book.call('book.seal', {})];
  for (const step of [[0, 0, 1], [0, 1, 0], [2, 0, 3], [4, 0, 2], ...steps]) {
    await act(book, sites, made, step);
    seals.push(await book.call('book.seal', {}));
  }
  await book.desk.close();
  return { book, seals };
}

const steps = fc.array(fc.tuple(fc.nat(5), fc.nat(1), fc.nat(30)), { minLength: 2, maxLength: 8 });

describe('the chain', () => {
  it('is what DEVELOPERS.md says, link by link, and so is every seal there ever was', async () => {
    await fc.assert(
      fc.asyncProperty(steps, async (some) => {
        const { book, seals } = await history(some);
        const worked = recompute(book.path);
        expect(worked.hashes.length).toBeGreaterThan(6);
        for (const [stored, hash] of worked.hashes) expect(stored).toBe(hash);
        for (const { count, seal } of seals) expect(seal).toBe(worked.seals[count]);
        const checked = await checkFile(book.path, seals);
        expect(checked.checks.flatMap((check) => check.findings)).toEqual([]);
        expect(checked.chain).toMatchObject({ ...seals.at(-1), chainedLinks: 0, chainedAt: null });
      }),
      { numRuns: 4 },
    );
  });

  it('of an older book is made at the upgrade, in the order of recording, and says since when it proves', async () => {
    const { book } = await history([]);
    copyFileSync(join(ROOT, 'tests/books/layout-1.valvebook'), book.path);
    const checked = await checkFile(book.path);
    expect(checked.clean).toBe(true);
    const { hashes, seals } = recompute(book.path);
    expect(hashes.length).toBeGreaterThan(200);
    for (const [stored, hash] of hashes) expect(stored).toBe(hash);
    expect(checked.chain).toMatchObject({ count: hashes.length, chainedLinks: hashes.length, seal: seals.at(-1) });
    expect(Math.abs(Date.parse(checked.chain!.chainedAt!) - Date.now())).toBeLessThan(600_000);
    const raw = new Database(book.path, { readonly: true });
    const order = raw
      .prepare(
        'SELECT recordedAt, id FROM (SELECT recordedAt, id, bookPlace FROM ledgerEntry UNION ALL SELECT recordedAt, id, bookPlace FROM programRevision) ORDER BY bookPlace',
      )
      .all() as { recordedAt: string; id: string }[];
    raw.close();
    expect(order).toEqual([...order].sort((a, b) => byText(a.recordedAt, b.recordedAt) || byText(a.id, b.id)));
  });
});

/** Followed by later entries, not by the hash: other checks hold these. */
const OUTSIDE = /^programRevision\.(voidedByEntryId)/;

describe('tampering', () => {
  it('past the triggers, which are put back: whatever it is, the check finds it; without it, nothing', async () => {
    const kinds = new Set<string>();
    await fc.assert(
      fc.asyncProperty(steps, fc.nat(11), async (some, pick) => {
        const { book } = await history(some);
        await onCopy(book.path, async (copy) => {
          pastTheGuards(copy, () => undefined);
          expect((await checkFile(copy)).checks.flatMap((check) => check.findings)).toEqual([]);
        });
        for (const [what, work] of tamperings(book.path, pick)) {
          await onCopy(book.path, async (copy) => {
            // A key of the table itself refuses some of them.
            if (pastTheGuards(copy, work) === 0) return;
            kinds.add(what.split(':')[0]!);
            const checked = await checkFile(copy);
            expect(checked.clean, what).toBe(false);
            if (!OUTSIDE.test(what)) expect(pastFindings(checked), what).not.toEqual([]);
          });
        }
      }),
      { numRuns: 3 },
    );
    expect(kinds.size).toBeGreaterThan(45);
  });

  it('says which entry was changed', async () => {
    const { book } = await history([]);
    const raw = new Database(book.path, { readonly: true });
    const id = raw.prepare("SELECT id FROM ledgerEntry WHERE kind = 'note' ORDER BY bookPlace LIMIT 1").pluck().get();
    raw.close();
    pastTheGuards(book.path, (on) => void on.prepare("UPDATE ledgerEntry SET note = 'x' WHERE id = ?").run(id));
    expect(pastFindings(await checkFile(book.path))).toEqual([
      expect.stringMatching(
        new RegExp(`^Ledger entry ${String(id)} of property .*: what it says is not what was sealed in\\.$`),
      ),
    ]);
  });

  it('by somebody who works the whole chain out anew is found by a seal kept elsewhere, and only by that', async () => {
    const { book, seals } = await history([]);
    const noted = seals.slice(1);
    pastTheGuards(book.path, (raw) => {
      raw.exec("UPDATE ledgerEntry SET note = 'never said' WHERE bookPlace = (SELECT min(bookPlace) FROM ledgerEntry)");
      const heads = new Map<string, { place: number; hash: string }>();
      const entries = raw.prepare('SELECT * FROM ledgerEntry').all() as Record<string, any>[];
      const revisions = (raw.prepare('SELECT * FROM programRevision').all() as Record<string, any>[]).map((row) => ({
        ...row,
        table: 'programRevision',
        runs: (
          raw.prepare('SELECT * FROM programRun WHERE revisionId = ? ORDER BY zoneId').all(row['id']) as any[]
        ).map((run) => form('run', run)),
      }));
      const links: Record<string, any>[] = [...entries.map((row) => ({ ...row, table: 'ledgerEntry' })), ...revisions];
      for (const row of links.sort((a, b) => a['bookPlace'] - b['bookPlace'])) {
        row['previousHash'] = heads.get(row['propertyId'])?.hash ?? '';
        row['hash'] = sha256(form(row['table'] === 'ledgerEntry' ? 'entry' : 'revision', row));
        raw
          .prepare(`UPDATE ${row['table']} SET previousHash = ?, hash = ? WHERE id = ?`)
          .run(row['previousHash'], row['hash'], row['id']);
        heads.set(row['propertyId'], { place: row['place'], hash: row['hash'] });
      }
      for (const [propertyId, { hash }] of heads)
        raw.prepare('UPDATE chainHead SET hash = ? WHERE propertyId = ?').run(hash, propertyId);
    });
    expect((await checkFile(book.path)).clean).toBe(true);
    for (const seal of noted) {
      const checked = await checkFile(book.path, [seal]);
      expect(checked.clean).toBe(false);
      expect(
        english(checked).checks.find((check) => check.name === 'Seals noted earlier are found again')?.findings,
      ).toEqual([expect.stringContaining('was changed since, or the seal is of another book')]);
    }
  });

  it('a seal may be given by its beginning, in any case, with blanks; one of a longer book is said so', async () => {
    const { book, seals } = await history([]);
    const last = seals.at(-1)!;
    const shown = last.seal
      .slice(0, 24)
      .toUpperCase()
      .replaceAll(/(.{8})/g, '$1 ');
    expect(await checkFile(book.path, [{ count: last.count, seal: shown }])).toMatchObject({ clean: true });
    const longer = await checkFile(book.path, [{ count: last.count + 1, seal: last.seal }]);
    expect(english(longer).checks.flatMap((check) => check.findings)).toEqual([
      expect.stringContaining('an older backup was put back'),
    ]);
    const wrong = await checkFile(book.path, [
      { count: last.count, seal: last.seal.replace(/^./, (first) => (first === '0' ? '1' : '0')) },
    ]);
    expect(wrong.clean).toBe(false);
  });
});

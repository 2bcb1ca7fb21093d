import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';

// Conditions that decide what counts stand once; whoever writes one out again makes a second rule.

const ONCE = [
  {
    rule: 'an entry that stands',
    homes: ['core/ledger/standing.ts', 'core/ledger/standing-queries.ts'],
    // Of the migration to layout 3, which stands still whatever later versions mean by it; and the readers of the chain of corrections.
    except: ['core/store/effects-upgrade.ts'],
    written: [
      /NOT EXISTS \(SELECT 1 FROM (?:ledgerEntry|\$\{sql\.table\('ledgerEntry)/,
      /'[a-z]+\.correctsId', '=', 'e\.id'/,
      /correction !== 'void'/,
    ],
  },
  {
    rule: 'a revision that stands and is in force',
    homes: ['core/programs/in-force.ts'],
    except: ['core/book/check/programs-visits.ts', 'core/store/effects-upgrade.ts'],
    written: [/voidedByEntryId [!=]== null/, /'effectiveDate', '<='/, /effectiveDate <= (?:onDate|fromDate|monthDate)/],
  },
  {
    rule: 'a code of the engine that keeps the book',
    homes: ['core/store/fault.ts'],
    // The switch for names with options is set there, before the first connection.
    except: ['core/store/sqlite.ts'],
    written: [/SQLITE_/],
  },
];

const FILES = ['core', 'renderer', 'electron'].flatMap((folder) =>
  readdirSync(folder, { recursive: true, encoding: 'utf8' })
    .filter((name) => /\.tsx?$/.test(name))
    .map((name) => `${folder}/${name.replaceAll('\\', '/')}`),
);

describe.each(ONCE)('$rule', ({ homes, except, written }) => {
  it('is written where it is at home, and nowhere else', () => {
    const found = FILES.filter((file) => {
      const text = readFileSync(file, 'utf8');
      return written.some((pattern) => pattern.test(text));
    });
    expect(found.filter((file) => !homes.includes(file) && !except.includes(file))).toEqual([]);
    // A pattern that no longer fits its own home finds nothing elsewhere either.
    for (const home of homes) expect(found).toContain(home);
  });
});

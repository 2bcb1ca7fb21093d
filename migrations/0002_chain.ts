import { sql, type Kysely } from 'kysely';
import { chainWhatIsThere } from '../core/store/chain-upgrade.ts';
import type { Migration } from '../core/store/migration.ts';

// Why: triggers alone did not keep the past. INSERT OR REPLACE met a row by its rowid, by the entry it corrects or by a
// revision's number, and a row slipped in with an old date looked like any other. Now every way to meet a row is
// refused, and every entry and revision stands at the next place of its property's chain, with a hash over what it says.

const HISTORY = 'a program revision is history: make a new one';
const LEDGER = 'the ledger is append-only';
const CHAIN = 'the chain follows from the ledger';

/** Not the next link: place, number in the book, the hash before it, a hash of its own. */
const NOT_NEXT = `NEW.bookPlace IS NULL
  OR NEW.bookPlace IS NOT (SELECT links + 1 FROM ledgerChain)
  OR NEW.place IS NOT coalesce((SELECT place FROM chainHead WHERE propertyId = NEW.propertyId), 0) + 1
  OR NEW.previousHash IS NOT coalesce((SELECT hash FROM chainHead WHERE propertyId = NEW.propertyId), '')
  OR length(NEW.hash) IS NOT 64`;

/** What a new link leaves behind: the book's count, then the end of its property's chain. */
const LINKED = `UPDATE ledgerChain SET links = NEW.bookPlace;
  INSERT INTO chainHead (propertyId, place, hash) SELECT NEW.propertyId, NEW.place, NEW.hash WHERE NEW.place = 1;
  UPDATE chainHead SET place = NEW.place, hash = NEW.hash WHERE propertyId = NEW.propertyId AND NEW.place > 1;`;

/** The end of a chain is what the book's last link says, nothing else. */
const NOT_LAST_LINK = ['ledgerEntry', 'programRevision']
  .map(
    (table) =>
      `NOT EXISTS (SELECT 1 FROM ${table} WHERE bookPlace = (SELECT links FROM ledgerChain) AND propertyId = NEW.propertyId AND place = NEW.place AND hash = NEW.hash)`,
  )
  .join(' AND ');

const REVISION_COLUMNS = [
  'rowid',
  'id',
  'programId',
  'propertyId',
  'revisionNumber',
  'effectiveDate',
  'recordedAt',
  'madeBy',
  'reason',
  'days',
  'startTimes',
  'seasonalPercent',
  'enabled',
  'ledgerEntryId',
  'runCount',
  'bookPlace',
  'place',
  'previousHash',
  'hash',
];

export const migration: Migration = {
  number: 2,
  name: '0002_chain',
  reason: 'Every ledger entry and program revision stands in its property’s hash chain; no REPLACE meets one.',
  async up(db: Kysely<any>, tell) {
    const run = (text: string) => sql.raw(text).execute(db);
    for (const table of ['ledgerEntry', 'programRevision']) {
      for (const [column, type] of [
        ['bookPlace', 'integer'],
        ['place', 'integer'],
        ['previousHash', 'text'],
        ['hash', 'text'],
      ] as const) {
        await db.schema.alterTable(table).addColumn(column, type).execute();
      }
    }
    // A revision belongs to the chain of the property it was made for, and says how many runs it has: no run is added later.
    await db.schema
      .alterTable('programRevision')
      .addColumn('propertyId', 'text', (c) => c.references('property.id'))
      .execute();
    await db.schema.alterTable('programRevision').addColumn('runCount', 'integer').execute();
    await db.schema
      .createTable('chainHead')
      .addColumn('propertyId', 'text', (c) => c.primaryKey().references('property.id'))
      .addColumn('place', 'integer', (c) => c.notNull())
      .addColumn('hash', 'text', (c) => c.notNull())
      .modifyEnd(sql`WITHOUT ROWID`)
      .execute();
    // One row: how many links the book has, and how many of them were there before the chain was, and since when.
    await db.schema
      .createTable('ledgerChain')
      .addColumn('id', 'integer', (c) => c.primaryKey().check(sql`id = 1`))
      .addColumn('links', 'integer', (c) => c.notNull())
      .addColumn('chainedLinks', 'integer', (c) => c.notNull())
      .addColumn('chainedAt', 'text')
      .execute();

    for (const name of ['ledgerEntryNoUpdate', 'ledgerEntryNoReplace', 'programRevisionNoUpdate'])
      await run(`DROP TRIGGER ${name}`);
    await chainWhatIsThere(db, tell);

    await db.schema.createIndex('ledgerBookPlace').unique().on('ledgerEntry').column('bookPlace').execute();
    await db.schema.createIndex('revisionBookPlace').unique().on('programRevision').column('bookPlace').execute();
    // What happened last on a day is what was recorded last, not what has the higher id.
    await db.schema.dropIndex('ledgerProperty').execute();
    await db.schema
      .createIndex('ledgerProperty')
      .on('ledgerEntry')
      .columns(['propertyId', 'doneOn', 'bookPlace'])
      .execute();

    const refuse = (name: string, when: string, message: string) =>
      run(`CREATE TRIGGER ${name} ${when} BEGIN SELECT RAISE(ABORT, '${message}'); END`);
    await refuse('ledgerEntryNoUpdate', 'BEFORE UPDATE ON ledgerEntry', `${LEDGER}: write a correction instead`);
    await refuse(
      'ledgerEntryNoReplace',
      `BEFORE INSERT ON ledgerEntry WHEN EXISTS (SELECT 1 FROM ledgerEntry WHERE id = NEW.id)
  OR EXISTS (SELECT 1 FROM ledgerEntry WHERE rowid = NEW.rowid)
  OR (NEW.correctsId IS NOT NULL AND EXISTS (SELECT 1 FROM ledgerEntry WHERE correctsId = NEW.correctsId))`,
      `${LEDGER}: this entry is in it already`,
    );
    await refuse(
      'ledgerEntryNext',
      `BEFORE INSERT ON ledgerEntry WHEN ${NOT_NEXT}`,
      `${LEDGER}: an entry takes the next place in the chain`,
    );
    await run(`CREATE TRIGGER ledgerEntryLinked AFTER INSERT ON ledgerEntry BEGIN ${LINKED} END`);

    await refuse(
      'programRevisionNoReplace',
      `BEFORE INSERT ON programRevision WHEN EXISTS (SELECT 1 FROM programRevision WHERE id = NEW.id)
  OR EXISTS (SELECT 1 FROM programRevision WHERE rowid = NEW.rowid)
  OR EXISTS (SELECT 1 FROM programRevision WHERE programId = NEW.programId AND revisionNumber = NEW.revisionNumber)`,
      `${HISTORY} with the next number`,
    );
    await refuse(
      'programRevisionNext',
      `BEFORE INSERT ON programRevision WHEN ${NOT_NEXT}
  OR NEW.runCount IS NULL OR NEW.voidedByEntryId IS NOT NULL
  OR NEW.propertyId IS NOT (SELECT propertyId FROM program WHERE id = NEW.programId)`,
      `${HISTORY} at the next place in the chain`,
    );
    await run(`CREATE TRIGGER programRevisionLinked AFTER INSERT ON programRevision BEGIN ${LINKED} END`);
    // Only the void mark may be set, once, and only to the entry that corrects the one behind the revision.
    await refuse(
      'programRevisionNoUpdate',
      `BEFORE UPDATE ON programRevision WHEN OLD.voidedByEntryId IS NOT NULL
  OR NOT EXISTS (SELECT 1 FROM ledgerEntry WHERE id = NEW.voidedByEntryId AND correctsId = OLD.ledgerEntryId)
  OR ${REVISION_COLUMNS.map((column) => `NEW.${column} IS NOT OLD.${column}`).join(' OR ')}`,
      HISTORY,
    );
    await refuse(
      'programRunNoReplace',
      `BEFORE INSERT ON programRun WHEN EXISTS (SELECT 1 FROM programRun WHERE revisionId = NEW.revisionId AND zoneId = NEW.zoneId)
  OR (SELECT count(*) FROM programRun WHERE revisionId = NEW.revisionId) >= coalesce((SELECT runCount FROM programRevision WHERE id = NEW.revisionId), 0)`,
      HISTORY,
    );

    await refuse('chainHeadNoDelete', 'BEFORE DELETE ON chainHead', CHAIN);
    await refuse(
      'chainHeadNoInsert',
      `BEFORE INSERT ON chainHead WHEN EXISTS (SELECT 1 FROM chainHead WHERE propertyId = NEW.propertyId) OR NEW.place IS NOT 1 OR (${NOT_LAST_LINK})`,
      CHAIN,
    );
    await refuse(
      'chainHeadNoUpdate',
      `BEFORE UPDATE ON chainHead WHEN NEW.propertyId IS NOT OLD.propertyId OR NEW.place IS NOT OLD.place + 1 OR (${NOT_LAST_LINK})`,
      CHAIN,
    );
    await refuse('ledgerChainNoDelete', 'BEFORE DELETE ON ledgerChain', CHAIN);
    await refuse('ledgerChainNoInsert', 'BEFORE INSERT ON ledgerChain', CHAIN);
    await refuse(
      'ledgerChainNoUpdate',
      `BEFORE UPDATE ON ledgerChain WHEN NEW.id IS NOT OLD.id OR NEW.chainedLinks IS NOT OLD.chainedLinks OR NEW.chainedAt IS NOT OLD.chainedAt OR NEW.links IS NOT OLD.links + 1
  OR (NOT EXISTS (SELECT 1 FROM ledgerEntry WHERE bookPlace = NEW.links) AND NOT EXISTS (SELECT 1 FROM programRevision WHERE bookPlace = NEW.links))`,
      CHAIN,
    );
  },
};

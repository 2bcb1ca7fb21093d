import type { JobContext, JobHandler } from '../../context.ts';
import { inSnapshot } from '../export-queries.ts';
import { layoutFindings } from '../layout.ts';
import { engine } from '../../store/book-engine.ts';
import type { Db } from '../../store/tables.ts';
import { ChainCheck, type NotedSeal, type SealedPast } from './chain.ts';
import { privacyNotes } from '../privacy.ts';
import { Check } from './check.ts';
import { readLedger } from './ledger-pass.ts';
import { checkBackflow, checkFindings, checkSeasons, checkSensors, checkZones } from './projections.ts';
import { checkOddTexts } from './odd-texts.ts';
import { checkPrograms, checkVisits } from './programs-visits.ts';
import { checkValues } from './stored-values.ts';
import { fact, type Fact } from '../../text/say.ts';

/** Checks the file, and that everything the ledger decides agrees with it. Every finding tells the ids it is about. */
export const checkBook: JobHandler<'book.check'> = async (context, { seals }) => {
  const file = new Check(fact('check.of.file'));
  file.looked = 1;
  context.progress(0, 0, fact('book.checkingFile'));
  // Both at once: SQLite's own look at the file takes about as long as ours at what stands in it.
  const looking = Promise.resolve(context.fileFindings());
  const reading = inSnapshot(context.db, (db) => checkContents(context, db, seals));
  // What reading met is said below, unless the file itself is why.
  await reading.catch(() => context.checkCancelled());
  for (const finding of await heardOut(context, looking)) file.find(finding);
  // Reading through a damaged file fails half-way or says what is not so.
  const damaged = file.findings.some((finding) => finding.key === 'check.damaged');
  const { checks, chain }: Contents = damaged ? { checks: [], chain: null } : await reading;
  const results = [file, ...checks].map((check) => check.result());
  return {
    clean: results.every((check) => check.passed),
    checks: results,
    chain: chain === null ? null : { ...chain, date: context.today },
    notes: await privacyNotes(context),
  };
};

interface Contents {
  checks: Check[];
  chain: SealedPast | null;
}

const STILL_AT_IT_MS = 100;

/** Waits for SQLite's look at the file, with a sign of life and an ear for who cancels. */
async function heardOut(context: JobContext, looking: Promise<Fact[]>): Promise<Fact[]> {
  for (;;) {
    context.checkCancelled();
    const findings = await Promise.race([looking, pause(STILL_AT_IT_MS)]);
    if (findings) return findings;
    context.progress(0, 0, fact('book.checkingFile'));
  }
}

const pause = (milliseconds: number) => new Promise<void>((resolve) => setTimeout(resolve, milliseconds));

async function checkContents(context: JobContext, db: Db, seals: readonly NotedSeal[]): Promise<Contents> {
  const { check: layout, readable } = await checkLayout(db);
  // Rows of a table that is not what it should be cannot be read as a book's.
  if (!readable) return { checks: [layout], chain: null };
  const past = new ChainCheck(seals);
  const ledger = await readLedger(context, db, past);
  const chain = await past.finish(db);
  context.checkCancelled();
  const checks = [
    layout,
    past.check,
    ...(seals.length > 0 ? [past.seals] : []),
    ...ledger.checks,
    await checkSensors(db, ledger),
    await checkZones(db, ledger),
    await checkBackflow(db, ledger),
    await checkSeasons(db, ledger),
    await checkFindings(db, ledger),
    await checkPrograms(db, ledger),
    await checkVisits(db),
    await checkValues(context, db),
    await checkOddTexts(context, db),
  ];
  return { checks, chain };
}

/** Every table, index, trigger and view, word for word, against a fresh book of the same layout. */
async function checkLayout(db: Db): Promise<{ check: Check; readable: boolean }> {
  const check = new Check(fact('check.of.layout'));
  const { looked, findings, readable } = await layoutFindings(db, await engine.layoutVersion(db));
  check.looked = looked;
  for (const finding of findings) check.find(finding);
  return { check, readable };
}

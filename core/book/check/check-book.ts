import type { JobContext, JobHandler } from '../../context.ts';
import { triggerNames } from '../../store/check-queries.ts';
import { inSnapshot } from '../../store/export-queries.ts';
import type { Db } from '../../store/tables.ts';
import { Check } from './check.ts';
import { readLedger } from './ledger-pass.ts';
import { checkBackflow, checkSeasons, checkSensors } from './projections.ts';
import { checkPrograms, checkVisits } from './programs-visits.ts';
import { checkValues } from './values.ts';

/** Triggers that keep the past as it was, made by the first migration. */
const TRIGGERS = [
  'ledgerEntryNoUpdate',
  'ledgerEntryNoDelete',
  'ledgerEntryNoReplace',
  'ledgerEntryCorrectsSameProperty',
  'programRunNoUpdate',
  'programRunNoDelete',
  'programRevisionNoDelete',
  'programRevisionNoUpdate',
];

/** Checks the file, and that everything the ledger decides agrees with it. Every finding is a sentence with the ids it is about. */
export const checkBook: JobHandler<'book.check'> = async (context) => {
  const file = new Check('The file is whole and nothing points at what does not exist');
  context.progress(0, 0, 'Checking the file');
  file.looked = 1;
  for (const finding of context.fileFindings()) file.find(finding);
  // Reading on through a damaged file would only fail half-way.
  const damaged = file.findings.some((finding) => finding.startsWith('The file is damaged'));
  const checks = damaged ? [file] : [file, ...(await inSnapshot(context.db, (db) => checkContents(context, db)))];
  const results = checks.map((check) => check.result());
  return { clean: results.every((check) => check.passed), checks: results };
};

async function checkContents(context: JobContext, db: Db): Promise<Check[]> {
  const triggers = new Check('The database itself refuses to change the ledger');
  const present = new Set(await triggerNames(db));
  triggers.looked = TRIGGERS.length;
  for (const name of TRIGGERS)
    if (!present.has(name))
      triggers.find(
        `The trigger ${name} is missing, so the past could be changed. Restore a backup made before it was removed.`,
      );
  const ledger = await readLedger(context, db);
  context.checkCancelled();
  return [
    triggers,
    ...ledger.checks,
    await checkSensors(db, ledger),
    await checkBackflow(db, ledger),
    await checkSeasons(db, ledger),
    await checkPrograms(db, ledger),
    await checkVisits(db, ledger),
    await checkValues(context, db),
  ];
}

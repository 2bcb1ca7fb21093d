import type { JobContext, JobHandler } from '../context.ts';
import type { OutputOf, ParsedInputOf } from '../contract/index.ts';
import { BookError } from '../errors.ts';
import { linkRows } from '../store/chain-queries.ts';
import { insertMany, rememberedMapping, rememberMapping } from './queries.ts';
import { readSettings } from '../settings/index.ts';
import type { Db } from '../store/tables.ts';
import { backUpBeforeImport } from '../book/index.ts';
import { planClients } from './clients.ts';
import { orderOf, type DateOrder } from './dates.ts';
import { fieldsOf, labelOf, NEEDED, type ImportTarget } from './fields.ts';
import { matchColumns, type ColumnMatch } from './mapping.ts';
import { plainDays } from './ghcn-list.ts';
import { Findings } from './notes.ts';
import { Plan, type Planning } from './plan.ts';
import { columnCells, readSource, RowReader, type Source } from './source.ts';
import { planWeather } from './weather.ts';
import { planWork } from './work.ts';
import { planZones } from './zones.ts';
import { fact, type Fact, factAround } from '../text/say.ts';

type ImportInput = ParsedInputOf<'import.preview'>;

const PLANNERS: Record<ImportTarget, (planning: Planning) => Promise<void>> = {
  clients: planClients,
  zones: planZones,
  work: planWork,
  weather: planWeather,
};
const ROWS_A_TICK = 250;
/** A longer list is not undone by hand, so the book is backed up before it. */
const BACKED_UP_FROM_ROWS = 200;

interface Prepared {
  source: Source;
  matches: ColumnMatch[];
  findings: Findings;
  plan: Plan;
  /** What is needed and matched to no column, in words. */
  missing: Fact[];
}

/** A list as it was sent, whatever form it has. */
function sourceOf(context: JobContext, input: ImportInput, findings: Findings): Source {
  const tick = () => reading(context);
  return readSource(plainDays(input, findings, tick), findings, tick);
}

/** Shows what an import would do; reads only. */
export const importPreview: JobHandler<'import.preview'> = async (context, input) => {
  const findings = new Findings();
  const source = sourceOf(context, input, findings);
  const prepared = await prepare(context, context.db, input, source, findings);
  const { matches, plan } = prepared;
  return {
    ...planFields(prepared),
    columns: matches.map((match) => ({
      index: match.index,
      header: match.header,
      samples: columnCells(source, match.index, 5).map((cell) => cell.slice(0, 80)),
      field: match.field,
      how: match.how,
    })),
    fields: fieldsOf(input.target).map((field) => ({
      name: field.name,
      label: field.label,
      required: field.required ?? false,
    })),
    sample: plan.sample,
    wouldAdd: plan.added,
    wouldJoin: plan.joined,
    wouldSkip: plan.skipped,
  };
};

/** Imports a list in one transaction: every good row, or (as asked) nothing unless every row is good. */
export const importApply: JobHandler<'import.apply'> = async (context, input) => {
  const findings = new Findings();
  const source = sourceOf(context, input, findings);
  if (context.automaticBackups && source.rows.length > BACKED_UP_FROM_ROWS) {
    const unsaved = await backUpBeforeImport(context);
    if (unsaved !== null) findings.tell(unsaved);
  }
  const result = await context.transaction(async (db) => {
    const prepared = await prepare(context, db, input, source, findings);
    if (prepared.missing.length > 0) {
      throw new BookError('bad-input', factAround('import.noMatch', prepared.missing), 'mapping');
    }
    const { plan, matches } = prepared;
    const applied = input.mode === 'good-rows' || findings.badRows.size === 0;
    if (applied) {
      await write(context, db, plan);
      const mapping = Object.fromEntries(matches.map((match) => [String(match.index), match.field]));
      await rememberMapping(db, input.target, source.signature, mapping, context.now);
      context.progress(source.rows.length, source.rows.length, fact('book.saving'));
    }
    return {
      ...planFields(prepared),
      applied,
      added: applied ? plan.added : {},
      joined: applied ? plan.joined : 0,
      skipped: applied ? plan.skipped : 0,
      outcomes: applied ? plan.outcomes : [],
    };
  });
  // Handing over what became of every row takes a moment too.
  context.progress(source.rows.length, source.rows.length, fact('book.done'));
  return result;
};

/** How many rows there are is not known yet. */
function reading(context: JobContext): void {
  context.progress(0, 0, fact('book.readingList'));
  context.checkCancelled();
}

async function prepare(
  context: JobContext,
  db: Db,
  input: ImportInput,
  source: Source,
  findings: Findings,
): Promise<Prepared> {
  context.progress(0, source.rows.length, fact('book.readingList'));
  const remembered = await rememberedMapping(db, input.target, source.signature);
  const samples = source.headers.map((_, index): (() => string[]) => {
    let cells: string[] | null = null;
    return () => (cells ??= columnCells(source, index));
  });
  const matches = matchColumns(
    input.target,
    source.headers,
    source.hasHeader,
    (index) => samples[index]!(),
    remembered,
    input.mapping,
  );
  const matched = new Set(matches.map((match) => match.field));
  const missing = NEEDED[input.target]
    .filter((group) => !group.some((field) => matched.has(field)))
    .map((group) => labelOf(input.target, group[0]!));
  const plan = new Plan();
  if (source.rows.length === 0) {
    findings.tell(fact('import.why.noListRows'));
    return { source, matches, findings, plan, missing: [] };
  }
  if (missing.length > 0) {
    // Told once, not for every row: with such a column missing no row can be good.
    for (const name of missing)
      findings.problem(source.rows[0]!.row, '', '', factAround('import.why.notMatched', name));
    for (const record of source.rows) findings.badRows.add(record.row);
    return { source, matches, findings, plan, missing };
  }
  const joins = new Map(
    fieldsOf(input.target)
      .filter((field) => field.join !== undefined)
      .map((field) => [field.name, field.join!]),
  );
  let seen = 0;
  await PLANNERS[input.target]({
    db,
    source,
    findings,
    plan,
    reader: new RowReader(matches, joins, findings),
    settings: await readSettings(db),
    today: context.today,
    now: context.now,
    fileName: input.fileName,
    stationId: input.stationId,
    dateOrder: dateOrders(input, source, matches, findings),
    tick: () => {
      seen += 1;
      if (seen % ROWS_A_TICK !== 0) return undefined;
      return breathe(context, seen, source.rows.length, fact('book.checkingRows'));
    },
  });
  return { source, matches, findings, plan, missing };
}

/** Lets messages in (a cancel among them), reports, and stops when cancelled. */
async function breathe(context: JobContext, done: number, total: number, label: Fact): Promise<void> {
  context.progress(done, total, label);
  await new Promise((resolve) => setImmediate(resolve));
  context.checkCancelled();
}

function dateOrders(
  input: ImportInput,
  source: Source,
  matches: readonly ColumnMatch[],
  findings: Findings,
): (field: string) => DateOrder {
  const found = new Map<string, DateOrder>();
  return (field) => {
    if (input.dateOrder !== 'auto') return input.dateOrder;
    const known = found.get(field);
    if (known) return known;
    const match = matches.find((one) => one.field === field);
    const evidence = orderOf(match ? columnCells(source, match.index, Infinity) : []);
    const column = match?.header || `Column ${(match?.index ?? 0) + 1}`;
    if (evidence.mixed)
      findings.tell(fact('import.why.mixedDates', { column, dayFirst: evidence.order === 'day-first' }));
    else if (evidence.guessed) findings.tell(fact('import.why.guessedDates', { column }));
    found.set(field, evidence.order);
    return evidence.order;
  };
}

async function write(context: JobContext, db: Db, plan: Plan): Promise<void> {
  const total = plan.inserts.reduce((sum, insert) => sum + insert.rows.length, 0);
  let done = 0;
  for (const { table, rows } of plan.inserts) {
    const ready = await linkRows(db, table, rows, plan.inserts.find((one) => one.table === 'programRun')?.rows ?? []);
    await insertMany(db, table, ready, (inserted) => breathe(context, done + inserted, total, fact('book.writing')));
    done += rows.length;
  }
  for (const step of plan.afterwards) await step(db, () => breathe(context, total, total, fact('book.upToDate')));
}

function planFields({
  source,
  findings,
}: Prepared): Pick<
  OutputOf<'import.preview'>,
  | 'target'
  | 'encoding'
  | 'delimiter'
  | 'rowCount'
  | 'goodRows'
  | 'badRows'
  | 'ignoredRows'
  | 'problems'
  | 'ignored'
  | 'warnings'
> {
  // Planners set totals lines aside as they meet them, so good rows are what is left.
  const setAsideEarlier = source.ignoredBefore;
  const rowCount = source.rows.length + setAsideEarlier;
  return {
    target: source.target,
    encoding: source.encoding,
    delimiter: source.delimiter,
    rowCount,
    goodRows: rowCount - findings.ignoredRows - findings.badRows.size,
    badRows: findings.badRows.size,
    ignoredRows: findings.ignoredRows,
    problems: findings.problems,
    ignored: findings.ignored,
    warnings: findings.warnings(),
  };
}

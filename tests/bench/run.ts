// npm run bench [-- NAME …] [--properties N] [--entries N] [--quick]: prints one table; names choose rows by any part.
import { cpus, loadavg, totalmem } from 'node:os';
import { parseArgs } from 'node:util';
import { run as agronomy } from './agronomy.bench.ts';
import { BENCH_SEED, BENCH_TODAY, largeBook } from './book.ts';
import { fromBenchRow, notMeasured, renderTable, type Measured } from './table.ts';

const { values, positionals } = parseArgs({
  allowPositionals: true,
  options: {
    properties: { type: 'string', default: '5000' },
    entries: { type: 'string', default: '200' },
    quick: { type: 'boolean', default: false },
  },
});
const say = (text: string) => process.stderr.write(`${text}\n`);
const share = values.quick ? 0.2 : 1;
const times = (rounds: number) => Math.max(3, Math.round(rounds * share));

let book: string | null = null;
const large = async () => (book ??= await largeBook(Number(values.properties), Number(values.entries), say));

const PARTS: [name: string, measure: () => Promise<Measured[]>][] = [
  ['client.list', async () => [await (await import('./reads.bench.ts')).listRow(await large(), times(300))]],
  ['property.open', async () => [await (await import('./reads.bench.ts')).openRow(await large(), times(300))]],
  ['visit.record', async () => [await (await import('./record.bench.ts')).recordRow(await large(), times(200))]],
  ['due.list', async () => [await (await import('./reads.bench.ts')).dueRow(await large(), times(30))]],
  ['book.check', async () => (await import('./check.bench.ts')).checkRows(await large(), times(3))],
  ['import', async () => (await import('./import.bench.ts')).importRow(50_000, times(3))],
  ['weather', async () => [await (await import('./import.bench.ts')).weatherRow(times(5))]],
  ['renderer', async () => [await (await import('./renderer.bench.ts')).rendererRow(await large(), times(9))]],
  ['program.review', async () => [await (await import('./review.bench.ts')).reviewRow(await large(), times(150))]],
  ['reviewAll', async () => (await import('./review.bench.ts')).reviewAllRows(await large(), times(3))],
  ['agronomy', async () => (await agronomy()).map((row) => fromBenchRow(row))],
];

const loadBefore = loadavg()[0]!;
const rows: Measured[] = [];
for (const [name, measure] of PARTS) {
  if (positionals.length > 0 && !positionals.some((part) => name.includes(part))) continue;
  say(`measuring ${name} …`);
  try {
    rows.push(...(await measure()));
  } catch (error) {
    // One part that cannot run must not hide the others; the table says so.
    say(error instanceof Error ? (error.stack ?? error.message) : String(error));
    rows.push(notMeasured(name, error instanceof Error ? error.message.split('\n')[0]! : String(error)));
  }
}
console.log(
  `Valvebook bench: ${cpus().length} × ${cpus()[0]?.model.trim()}, ${Math.round(totalmem() / 2 ** 30)} GB, Node ${process.version}; demo company of ${values.properties} properties, seed ${BENCH_SEED}, ${BENCH_TODAY}`,
);
console.log(
  `Load of the machine before and after: ${loadBefore.toFixed(1)} and ${loadavg()[0]!.toFixed(1)} (a figure above ${cpus().length} means that other work took part of the time).`,
);
console.log(
  'Ours goes through openDesk().call as every host does; ours and bare take turns; ratio = median to median.\n',
);
console.log(renderTable(rows));

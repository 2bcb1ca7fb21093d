import { existsSync, mkdirSync, rmSync } from 'node:fs';
import { dirname, join } from 'node:path';
import fc from 'fast-check';
import { REQUESTS, type Reply } from '../../core/contract/index.ts';
import { openDesk } from '../../core/desk/desk.ts';
import { chance, type Chance } from '../../core/demo/random.ts';
import { makeDemo } from '../../electron/demo.ts';
import { fittingInputs, inputsFor } from './arbitrary-input.ts';
import { NoAnswer, serveInProcess, type ServedProcess } from './host-client.ts';
import { sendGarbage } from './garbage.ts';
import { RECIPES } from './recipes.ts';
import { TODAY } from './recipes-work.ts';
import { spoil } from './spoil.ts';
import { faultOf } from './verdict.ts';
import { ask, idsOf, learn, readWorld, type World } from './world.ts';

// Requests of every kind, right, nearly right and wrong, over real HTTP to a process that serves a small book.

export interface FuzzOptions {
  requests: number;
  seed: number;
  folder: string;
  lanes?: number;
  say?: (text: string) => void;
}
export interface FuzzResult {
  sent: number;
  /** Answers by request and by what they were: 'ok' or a code. */
  tally: Map<string, Map<string, number>>;
  /** What went wrong, each with its input, at most 200. */
  faults: string[];
}

type Kind = 'recipe' | 'fitting' | 'spoiled' | 'nasty' | 'again' | 'garbage';
type Request = (typeof REQUESTS)[number];
interface Card {
  kind: Kind;
  request: Request;
}

/** Jobs take half a second where a read takes one thousandth: they get a smaller share of the right requests. */
const SHARES: Record<'job' | 'other', readonly (readonly [Kind, number])[]> = {
  other: [
    ['recipe', 38],
    ['fitting', 10],
    ['spoiled', 40],
    ['nasty', 10],
    ['again', 2],
  ],
  job: [
    ['recipe', 20],
    ['fitting', 2],
    ['spoiled', 22],
    ['nasty', 30],
  ],
};

/** Which request is asked in which way, in an order of chance; one in twelve is no request at all. */
function deckOf(count: number, dice: Chance): Card[] {
  const cards: Card[] = [];
  // Whatever the shares say, each request is asked properly a few times, so that even a short run hears a yes from each.
  for (let round = 0; round < 3; round += 1) for (const request of REQUESTS) cards.push({ kind: 'recipe', request });
  const jobs = REQUESTS.filter((request) => request.kind === 'job');
  const others = REQUESTS.filter((request) => request.kind !== 'job');
  while (cards.length < count) {
    const request = dice.yes(0.02) ? dice.pick(jobs) : dice.pick(others);
    const kind = dice.yes(1 / 12) ? 'garbage' : dice.weighted(SHARES[request.kind === 'job' ? 'job' : 'other']);
    cards.push({ kind, request });
  }
  for (let at = cards.length - 1; at > 0; at -= 1) {
    const other = dice.int(0, at);
    [cards[at], cards[other]] = [cards[other]!, cards[at]!];
  }
  return cards.slice(0, Math.max(count, REQUESTS.length * 3));
}

/** Runs the whole of it in a folder of its own. */
export async function fuzzHost(options: FuzzOptions): Promise<FuzzResult> {
  const { folder, seed } = options;
  const bookPath = join(folder, 'book.valvebook');
  mkdirSync(join(folder, 'out'), { recursive: true });
  await makeDemo({ path: bookPath, properties: 8, seed, today: TODAY });
  const host = await serveInProcess(bookPath, options.lanes ?? 4);
  try {
    const run = new FuzzRun(host, options);
    await run.all();
    const clean = await ask(host.client, 'book.check', {});
    if (!clean.clean) run.fault('book.check at the end', JSON.stringify(clean.checks.filter((check) => !check.passed)));
    host.client.close();
    host.child.kill('SIGTERM');
    const end = await host.ended;
    if (end.code !== 0) run.fault('the host’s end', JSON.stringify(end));
    for (const line of host.faults)
      if (/^(internal fault|\w*Error\b)/.test(line) && !line.includes('aborted')) run.fault('the host’s log', line);
    const desk = await openDesk({ bookPath, today: () => TODAY });
    const again = await desk.call('book.check', {});
    await desk.close();
    if (!again.ok || !(again.data as { clean: boolean }).clean)
      run.fault('book.check of the closed book', JSON.stringify(again));
    return run.result;
  } finally {
    if (host.child.exitCode === null) host.child.kill('SIGKILL');
  }
}

class FuzzRun {
  readonly result: FuzzResult = { sent: 0, tally: new Map(), faults: [] };
  private readonly dice: Chance;
  private readonly host: ServedProcess;
  private readonly options: FuzzOptions;
  private readonly deck: Card[];
  private readonly stock = new Map<string, unknown[]>();
  private readonly answered: { name: string; input: any; data: unknown; era: number | null }[] = [];
  private world!: World;
  private ids!: ReturnType<typeof idsOf>;
  /** Counts the restores, begun or done: what was answered before one may be unknown after it. */
  private era = 0;
  private restoring = 0;
  private ended = false;

  constructor(host: ServedProcess, options: FuzzOptions) {
    this.host = host;
    this.options = options;
    this.dice = chance(options.seed, 'fuzz');
    this.deck = deckOf(options.requests, this.dice);
    void host.ended.then(() => (this.ended = true));
  }

  async all(): Promise<void> {
    const { client } = this.host;
    const first = join(this.options.folder, 'out', 'first.valvebook');
    await ask(client, 'book.backup', { toPath: first });
    await this.lookAround([first]);
    const total = this.deck.length;
    const lane = async () => {
      for (let card = this.deck.pop(); card; card = this.deck.pop()) {
        if (this.ended) return this.fault('the host', 'ended by itself');
        await this.play(card);
        // The other lanes count on while this one looks around.
        const sent = (this.result.sent += 1);
        if (sent % 5000 === 0)
          this.options.say?.(`fuzz: ${sent} of ${total} requests, ${this.result.faults.length} faults`);
        if (sent % 500 === 0) await this.lookAround([first]);
      }
    };
    await Promise.all(Array.from({ length: this.options.lanes ?? 4 }, lane));
  }

  fault(where: string, what: string): void {
    if (this.result.faults.length < 200) this.result.faults.push(`${where}: ${what.slice(0, 1500)}`);
  }

  /** Reads the book anew; a restore in between may have taken what was being looked at, so it looks again. */
  private async lookAround(backups: string[]): Promise<void> {
    for (let tries = 1; ; tries += 1) {
      try {
        this.world = await readWorld(this.host.client, this.options.folder, backups);
        break;
      } catch (error) {
        if (this.ended || tries === 10) throw error;
        if (String(error).includes(': internal:')) this.fault('looking around', String(error));
      }
    }
    this.ids = idsOf(this.world);
    this.stock.clear();
  }

  private async play({ kind, request }: Card): Promise<void> {
    const { client } = this.host;
    try {
      if (kind === 'garbage') {
        const { what, status, text } = await sendGarbage(client, this.dice);
        this.count('(no request)', String(status));
        if (typeof status === 'number' && (status >= 500 || text.includes('"internal"')))
          this.fault(what, `${status} ${text}`);
        return;
      }
      const again = kind === 'again' ? this.dice.pick(this.answered.slice(-40)) : undefined;
      const name = again?.name ?? request.name;
      const input = again?.input ?? this.inputFor(kind, request);
      if (input === undefined) return;
      // A restore looks at its backup for a while before it takes the book's place: what is written until then goes with the
      // old book. So a write is of an era only if no restore was under way, from before it was sent until it was answered.
      const era = this.era;
      if (name === 'book.restore') this.restoreBegins();
      const stream = this.dice.yes(0.1);
      const answer = await client
        .post(name, JSON.stringify(input) ?? '', stream ? { accept: 'application/x-ndjson' } : {})
        .finally(() => name === 'book.restore' && this.restoreEnded());
      const reply = replyOf(answer.text, stream && answer.status === 200);
      this.count(name, reply.ok ? 'ok' : reply.error.code);
      const fault = faultOf(
        request.name === name ? request : REQUESTS.find((one) => one.name === name)!,
        answer.status,
        reply,
      );
      if (fault !== null) this.fault(name, `${fault}; input ${JSON.stringify(input)}`);
      if (!reply.ok) return;
      const certain = era === this.era && this.restoring === 0;
      if (again && certain && again.era === era && JSON.stringify(again.data) !== JSON.stringify(reply.data))
        this.fault(name, `sent again, it answered otherwise; input ${JSON.stringify(input)}`);
      learn(this.world, name, input, reply.data);
      if (REQUESTS.find((one) => one.name === name)!.kind === 'write')
        this.answered.push({ name, input, data: reply.data, era: certain ? era : null });
      if (name === 'book.restore') await this.lookAround(this.world.backups);
      for (const file of ['path', 'previousSavedAs'])
        if (kind !== 'recipe' || this.result.sent % 3 !== 0) this.forget((reply.data as Record<string, unknown>)[file]);
    } catch (error) {
      if (this.ended) return;
      if (error instanceof NoAnswer)
        this.fault(request.name, `${kind}: ${error.hung ? 'hung' : 'no answer'}: ${error.message}`);
      else throw error;
    }
  }

  private restoreBegins(): void {
    this.era += 1;
    this.restoring += 1;
  }

  private restoreEnded(): void {
    this.era += 1;
    this.restoring -= 1;
  }

  /** Files a request made are not kept for long: thousands of backups would fill the disk. */
  private forget(path: unknown): void {
    const { folder } = this.options;
    const ours =
      typeof path === 'string' &&
      path.startsWith(folder) &&
      [join(folder, 'out'), join(folder, 'backups'), join(folder, 'exports')].includes(dirname(path));
    if (ours && path !== this.world.backups[0] && existsSync(path)) rmSync(path);
  }

  private inputFor(kind: Kind, request: Request): unknown {
    const recipe = RECIPES[request.name] as ((world: World, dice: Chance) => unknown) | undefined;
    const right = () =>
      recipe ? (recipe(this.world, this.dice) ?? this.drawn(request, 'fitting')) : this.drawn(request, 'fitting');
    if (kind === 'recipe' || kind === 'again') return right();
    if (kind === 'spoiled') return spoil(right(), this.dice, this.ids.get('')!);
    return this.drawn(request, kind === 'nasty' ? 'nasty' : 'fitting');
  }

  /** One input from the schema, drawn fifty at a time. */
  private drawn(request: Request, how: 'fitting' | 'nasty'): unknown {
    const key = `${how} ${request.name}`;
    let stock = this.stock.get(key);
    if (!stock || stock.length === 0) {
      const inputs = how === 'nasty' ? inputsFor(request.input, this.ids) : fittingInputs(request.input, this.ids);
      stock = fc.sample(inputs, { numRuns: 25, seed: this.dice.int(1, 2 ** 31 - 1) });
      this.stock.set(key, stock);
    }
    return stock.pop();
  }

  private count(name: string, what: string): void {
    const row = this.result.tally.get(name) ?? new Map<string, number>();
    row.set(what, (row.get(what) ?? 0) + 1);
    this.result.tally.set(name, row);
  }
}

function replyOf(text: string, stream: boolean): Reply {
  try {
    if (!stream) return JSON.parse(text) as Reply;
    return (JSON.parse(text.trimEnd().split('\n').at(-1)!) as { reply: Reply }).reply;
  } catch {
    return { ok: false, error: { code: 'internal', message: `no reply, but: ${text.slice(0, 200)}` } };
  }
}

/** Requests of the contract that were not answered with a yes often enough. */
export function shortfalls(tally: FuzzResult['tally'], atLeast: number): string[] {
  return REQUESTS.filter((request) => (tally.get(request.name)?.get('ok') ?? 0) < atLeast).map(
    (request) => `${request.name}: ${tally.get(request.name)?.get('ok') ?? 0} of ${atLeast}`,
  );
}

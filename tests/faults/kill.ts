import { chance } from '../../core/demo/random.ts';
import { scenariosIn, type Scenario } from './kill-scenarios.ts';
import type { Finding, Harm } from './kill-writes.ts';

// Kills spread over every operation that writes: its length is measured first, then each kill comes at a moment of chance in it.

export interface KillOptions {
  kills: number;
  seed: number;
  folder: string;
  say?: (text: string) => void;
  /** Only scenarios whose name holds this. */
  only?: string;
}
export interface KillRow {
  scenario: string;
  /** Processes ended by the signal before they were done; of these, so many by SIGTERM. */
  kills: number;
  terms: number;
  /** Rounds in which the process was done before the kill came: looked at all the same, and not counted. */
  late: number;
  acknowledged: number;
  harm: Partial<Record<Harm, number>>;
  examples: Finding[];
  skipped: string | null;
}
const TERM_SHARE = 0.15;

/** Kills so many times, shared out among the scenarios by their weights. */
export async function killLoop(options: KillOptions): Promise<KillRow[]> {
  const scenarios = scenariosIn(options.folder, options.seed).filter((one) => one.name.includes(options.only ?? ''));
  const ready: Scenario[] = [];
  const rows: KillRow[] = [];
  for (const scenario of scenarios) {
    const skipped = await scenario.prepare();
    if (skipped === null) ready.push(scenario);
    else
      rows.push({
        scenario: scenario.name,
        kills: 0,
        terms: 0,
        late: 0,
        acknowledged: 0,
        harm: {},
        examples: [],
        skipped,
      });
  }
  const total = ready.reduce((sum, one) => sum + one.weight, 0);
  let given = 0;
  let weight = 0;
  for (const scenario of ready) {
    // Shared so that the sum is what was asked for.
    weight += scenario.weight;
    const share = Math.round((options.kills * weight) / total) - given;
    given += share;
    const row = await killOne(scenario, share, options);
    options.say?.(`kills: ${row.scenario}: ${row.kills} done, harm ${JSON.stringify(row.harm)}`);
    rows.push(row);
  }
  return rows;
}

async function killOne(scenario: Scenario, kills: number, { seed, say }: KillOptions): Promise<KillRow> {
  const dice = chance(seed, 'kill', scenario.name);
  const row: KillRow = {
    scenario: scenario.name,
    kills: 0,
    terms: 0,
    late: 0,
    acknowledged: 0,
    harm: {},
    examples: [],
    skipped: null,
  };
  const note = (findings: Finding[]) => {
    for (const finding of findings) {
      row.harm[finding.harm] = (row.harm[finding.harm] ?? 0) + 1;
      if (row.examples.length < 8) row.examples.push(finding);
    }
  };
  const whole = await scenario.run(null, dice);
  note(whole.faults.map((what) => ({ harm: 'other', what })));
  note(await scenario.check(whole));
  let spanMs = whole.tookMs;
  for (let round = 0; row.kills < kills && round < kills * 4 + 10; round += 1) {
    const signal = dice.yes(TERM_SHARE) ? 'SIGTERM' : 'SIGKILL';
    const ran = await scenario.run({ afterMs: dice.next() * spanMs, signal }, dice);
    if (ran.midway) {
      row.kills += 1;
      if (signal === 'SIGTERM') row.terms += 1;
    } else {
      row.late += 1;
      // The machine is quicker now than when it was measured.
      spanMs = Math.min(spanMs, ran.tookMs * 1.05);
    }
    row.acknowledged +=
      ran.sent.filter((one) => one.answer !== undefined).length + (ran.acked && ran.sent.length === 0 ? 1 : 0);
    // An errand that is broken off in order may say that it was.
    note(
      ran.faults
        .filter((what) => !(signal === 'SIGTERM' && /"refused"|ended with code 4/.test(what)))
        .map((what) => ({ harm: 'other', what })),
    );
    note(await scenario.check(ran));
    if ((round + 1) % 20 === 0)
      say?.(`kills: ${scenario.name}: ${row.kills} of ${kills}, harm ${JSON.stringify(row.harm)}`);
  }
  if (row.kills < kills) note([{ harm: 'other', what: `only ${row.kills} of ${kills} kills came in time` }]);
  return row;
}

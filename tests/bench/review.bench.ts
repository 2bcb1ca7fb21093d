import { monitorEventLoopDelay } from 'node:perf_hooks';
import Database from 'better-sqlite3';
import { chance } from '../../core/demo/random.ts';
import { openBench, settle } from './call.ts';
import { duel, longestGap, summarise } from './stats.ts';
import type { Measured } from './table.ts';

const MONTH = 7;
const WARM = 5;

/** Reads what a review needs and works out the barest advice: need of the month over rate, minutes a week now. */
function bareReview(raw: Database.Database): (propertyId: string | null) => number {
  const where = (column: string) => (one: boolean) => (one ? ` WHERE ${column} = ?` : '');
  const pair = (sql: (one: boolean) => string) => ({ one: raw.prepare(sql(true)), all: raw.prepare(sql(false)) });
  const zones = pair(
    (one) =>
      `SELECT id, propertyId, plantKind, plantFactor, emissionDevice, flowGpm, areaFt2, prMethod, prInputs, precipitationRateInPerHour, distributionUniformity, soil, slopePercent, sunExposure, rootDepthInches FROM zone${where('propertyId')(one)}`,
  );
  const runs = pair(
    (one) =>
      `SELECT r.zoneId, r.runMinutes, v.days, v.startTimes, v.seasonalPercent FROM program g JOIN programRevision v ON v.id = (SELECT x.id FROM programRevision x WHERE x.programId = g.id AND x.voidedByEntryId IS NULL ORDER BY x.effectiveDate DESC, x.revisionNumber DESC LIMIT 1) JOIN programRun r ON r.revisionId = v.id${where('g.propertyId')(one)}`,
  );
  const properties = pair(
    (one) =>
      `SELECT p.*, s.normals FROM property p LEFT JOIN weatherStation s ON s.id = p.weatherStationId${where('p.id')(one)}`,
  );
  const FACTOR: Record<string, number> = { 'cool-turf': 0.8, 'warm-turf': 0.6, annuals: 0.8, desert: 0.3 };
  return (propertyId) => {
    const read = (statement: { one: Database.Statement; all: Database.Statement }) =>
      (propertyId === null ? statement.all.all() : statement.one.all(propertyId)) as any[];
    const need = new Map<string, number>();
    for (const site of read(properties)) {
      const normal = JSON.parse(site.normals)[MONTH - 1];
      const [tx, tn] = [((normal.tmaxF - 32) * 5) / 9, ((normal.tminF - 32) * 5) / 9];
      need.set(site.id, (0.0023 * ((tx + tn) / 2 + 17.8) * Math.sqrt(tx - tn) * 16.5 * 7) / 25.4);
    }
    const minutes = new Map<string, number>();
    for (const run of read(runs)) {
      const days = JSON.parse(run.days);
      const perWeek =
        days.kind === 'weekdays' ? days.weekdays.length : days.kind === 'interval' ? 7 / days.everyDays : 3.5;
      minutes.set(
        run.zoneId,
        (minutes.get(run.zoneId) ?? 0) +
          run.runMinutes * perWeek * (run.seasonalPercent / 100) * JSON.parse(run.startTimes).length,
      );
    }
    let distance = 0;
    for (const zone of read(zones)) {
      const inputs = JSON.parse(zone.prInputs);
      const rate =
        zone.precipitationRateInPerHour ??
        (inputs.emitterGph
          ? (1.604 * inputs.emitterGph) / (inputs.emitterSpacingFt * inputs.rowSpacingFt)
          : zone.flowGpm && zone.areaFt2
            ? (96.25 * zone.flowGpm) / zone.areaFt2
            : 1);
      const wanted =
        (60 * need.get(zone.propertyId)! * (zone.plantFactor ?? FACTOR[zone.plantKind] ?? 0.5)) /
        rate /
        (0.4 + 0.6 * (zone.distributionUniformity ?? 0.65));
      distance += Math.abs((minutes.get(zone.id) ?? 0) - wanted);
    }
    return distance;
  };
}

const READS =
  'bare: the same rows read by prepared statements and a one-line need per zone; no days, cycles, weeks, breaches or sentences, so the ratio says what the science costs over the reading';

export async function reviewRow(book: string, rounds: number): Promise<Measured> {
  const { desk, call } = await openBench(book, 'read');
  const raw = new Database(book, { readonly: true });
  try {
    const ids = raw.prepare('SELECT id FROM property WHERE archived = 0 ORDER BY id').pluck().all() as string[];
    const rng = chance('review');
    const chosen = Array.from({ length: rounds + WARM }, () => rng.pick(ids));
    const times = await duel(
      chosen,
      WARM,
      (propertyId) => call('program.review', { propertyId, month: MONTH }),
      bareReview(raw),
    );
    return {
      name: 'program.review, one property',
      unit: 'ms',
      ...times,
      aim: { of: 'p95', atMost: 30, ratioAtMost: null },
      note: READS,
    };
  } finally {
    raw.close();
    await desk.close();
  }
}

const RESOLUTION_MS = 5;

/** The longest time the main thread did not come round, ms. */
async function blockedWhile(work: () => Promise<unknown>): Promise<number> {
  const delay = monitorEventLoopDelay({ resolution: RESOLUTION_MS });
  delay.enable();
  await work();
  delay.disable();
  // The histogram holds the whole interval of its timer; what is above its own interval is waiting.
  return Math.max(0, delay.max / 1e6 - RESOLUTION_MS);
}

/** The whole company in the job's worker, while the main thread's own delay is watched and the office goes on searching. */
export async function reviewAllRows(book: string, rounds: number): Promise<Measured[]> {
  const { desk, call } = await openBench(book, 'read');
  const raw = new Database(book, { readonly: true });
  const times: Record<'ours' | 'bare' | 'gap' | 'block' | 'idle' | 'search', number[]> = {
    ours: [],
    bare: [],
    gap: [],
    block: [],
    idle: [],
    search: [],
  };
  let reviewed = 0;
  try {
    const bare = bareReview(raw);
    for (let round = 0; round < rounds; round += 1) {
      for (const side of round % 2 === 0 ? ['ours', 'bare'] : ['bare', 'ours']) {
        await settle();
        const start = performance.now();
        if (side === 'bare') {
          bare(null);
          times.bare.push((performance.now() - start) / 1000);
          times.idle.push(await blockedWhile(() => new Promise((resolve) => setTimeout(resolve, 4000))));
          continue;
        }
        const moments: number[] = [];
        const blocked = await blockedWhile(async () => {
          ({ reviewed } = await call('program.reviewAll', { month: MONTH }, () => moments.push(performance.now())));
        });
        const end = performance.now();
        times.ours.push((end - start) / 1000);
        times.gap.push(longestGap(start, moments, end));
        times.block.push(blocked);
      }
    }
    const job = call('program.reviewAll', { month: MONTH });
    const state = { running: true };
    const ended = () => {
      state.running = false;
    };
    job.then(ended, ended);
    while (state.running) {
      const start = performance.now();
      await call('client.list', { search: 'hal' });
      times.search.push(performance.now() - start);
      await new Promise((resolve) => setTimeout(resolve, 60));
    }
    await job;
    return [
      {
        name: `program.reviewAll, ${reviewed.toLocaleString('en')} properties`,
        unit: 's',
        ours: summarise(times.ours),
        bare: summarise(times.bare),
        aim: { of: 'max', atMost: 20, ratioAtMost: null },
        note: READS,
      },
      {
        name: 'reviewAll: longest wait for progress',
        unit: 'ms',
        ours: summarise(times.gap),
        bare: null,
        aim: { of: 'max', atMost: 200, ratioAtMost: null },
        note: 'from the call to the first report, between reports, from the last to the answer',
      },
      {
        name: 'reviewAll: main thread blocked',
        unit: 'ms',
        ours: summarise(times.block),
        bare: summarise(times.idle),
        aim: { of: 'max', atMost: 50, ratioAtMost: null },
        note: `the longest delay by monitorEventLoopDelay (${RESOLUTION_MS} ms) while the job runs, its own interval taken off; bare: the same watch over 4 s with nothing to do, which is what the machine itself adds`,
      },
      {
        name: 'client.list while reviewAll runs',
        unit: 'ms',
        ours: summarise(times.search),
        bare: null,
        aim: { of: 'p95', atMost: 50, ratioAtMost: null },
        note: 'what the office feels: a search every 60 ms during the job',
      },
    ];
  } finally {
    raw.close();
    await desk.close();
  }
}

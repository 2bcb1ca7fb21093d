import { spawn } from 'node:child_process';
import { createInterface } from 'node:readline';
import { serveInProcess } from './host-client.ts';
import type { Chance } from '../../core/demo/random.ts';
import type { Errand } from './kill-child.ts';
import { nextWrite, type Sent, type WriteSite } from './kill-writes.ts';

// Starting something, and killing it at a moment.

export interface Ran {
  /** True where the signal came before the end of the errand. */
  midway: boolean;
  /** Milliseconds from the beginning of the errand to its end. */
  tookMs: number;
  sent: Sent[];
  /** The answer of a call that was acknowledged. */
  acked: { data: any } | null;
  /** What the process said was wrong, or how it ended that it should not. */
  faults: string[];
}
export interface Stroke {
  afterMs: number;
  signal: 'SIGKILL' | 'SIGTERM';
}
/** An orderly stop may take its time; one that takes this long has hung. */
const HUNG_MS = 120_000;

/** Runs an errand in a process of its own; with a stroke, ends it so many milliseconds after it began. */
export function runErrand(errand: Errand, stroke: Stroke | null, stopAfterAcks = Infinity): Promise<Ran> {
  return new Promise((resolve) => {
    const child = spawn(process.execPath, [new URL('./kill-child.ts', import.meta.url).pathname], {
      stdio: ['pipe', 'pipe', 'inherit'],
    });
    child.stdin.end(JSON.stringify(errand));
    const ran: Ran = { midway: false, tookMs: 0, sent: [], acked: null, faults: [] };
    let began = 0;
    let done = false;
    let acks = 0;
    let timer: NodeJS.Timeout | undefined;
    let hung: NodeJS.Timeout | undefined;
    const strike = (signal: Stroke['signal']) => {
      ran.midway = !done;
      child.kill(signal);
      hung = setTimeout(() => {
        ran.faults.push(`still running ${HUNG_MS / 1000} s after ${signal}`);
        child.kill('SIGKILL');
      }, HUNG_MS);
    };
    createInterface({ input: child.stdout }).on('line', (text) => {
      let line: any;
      try {
        line = JSON.parse(text);
      } catch {
        // Cut off by the kill: what it would have said was not said.
        return;
      }
      if (line.begin) {
        began = performance.now();
        if (stroke) timer = setTimeout(() => strike(stroke.signal), stroke.afterMs);
      } else if (line.sent) ran.sent.push({ write: line.sent });
      else if (line.acked) {
        ran.acked = line.acked;
        ran.tookMs = performance.now() - began;
        const last = ran.sent.at(-1);
        if (last && last.write.input.writeId === line.acked.writeId) last.answer = line.acked.data;
        if (++acks === stopAfterAcks) strike('SIGKILL');
      } else if (line.done) {
        done = true;
        ran.tookMs = performance.now() - began;
      } else ran.faults.push(text.slice(0, 800));
    });
    child.on('close', (code, signal) => {
      clearTimeout(timer);
      clearTimeout(hung);
      if (signal === null && code !== 0) ran.faults.push(`ended with code ${code}`);
      resolve(ran);
    });
  });
}

/** Serves a book from a process and writes to it over three connections; kills the host at a moment. */
export async function runHost(
  bookPath: string,
  site: WriteSite,
  dice: Chance,
  stroke: Stroke | null,
  stopAfterAcks = Infinity,
): Promise<Ran> {
  const ran: Ran = { midway: false, tookMs: 0, sent: [], acked: null, faults: [] };
  const host = await serveInProcess(bookPath, 3);
  const began = performance.now();
  const stop = { called: false };
  let acks = 0;
  const strike = (signal: Stroke['signal']) => {
    if (stop.called) return;
    stop.called = true;
    ran.midway = true;
    ran.tookMs = performance.now() - began;
    host.child.kill(signal);
  };
  const timer = stroke ? setTimeout(() => strike(stroke.signal), stroke.afterMs) : undefined;
  let n = 0;
  const lane = async () => {
    while (!stop.called) {
      const sent: Sent = { write: nextWrite(site, dice, (n += 1)) };
      ran.sent.push(sent);
      try {
        const reply = await host.client.call(sent.write.name, sent.write.input);
        if (reply.ok) {
          sent.answer = reply.data;
          if (++acks === stopAfterAcks) strike('SIGKILL');
        } else if (!stop.called) ran.faults.push(JSON.stringify(reply.error));
      } catch {
        // The host went away before it answered: this write is not acknowledged.
        if (!stop.called) ran.faults.push('no answer from a host that runs');
        return;
      }
    }
  };
  await Promise.all([lane(), lane(), lane()]);
  const hung = setTimeout(() => {
    ran.faults.push(`the host still runs ${HUNG_MS / 1000} s after the signal`);
    host.child.kill('SIGKILL');
  }, HUNG_MS);
  const end = await host.ended;
  clearTimeout(timer);
  clearTimeout(hung);
  host.client.close();
  if (end.signal === null && end.code !== 0) ran.faults.push(`the host ended with code ${end.code}`);
  for (const line of host.faults)
    if (/^(internal fault|\w*Error\b)/.test(line) && !line.includes('aborted')) ran.faults.push(line);
  return ran;
}

import { spawn } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { request } from 'node:http';
import path from 'node:path';
import { setTimeout as sleep } from 'node:timers/promises';
import { describe, expect, it } from 'vitest';
import { BODY_BUDGET, BodyReader } from '../../electron/loopback-body.ts';
import { startLoopback } from '../../electron/loopback.ts';

const MB = 1024 * 1024;

/** A host in a process of its own, so that what it takes can be measured; it answers with the length of what came. */
const HOST = `
import { startLoopback } from ${JSON.stringify(path.resolve(import.meta.dirname, '../../electron/loopback.ts'))};
const host = await startLoopback({
  rendererDir: '.',
  desk: { call: async (_name, input) => ({ ok: true, data: input.bytesBase64.length }), onChange: () => () => undefined },
});
console.log(host.newAddress());
`;
const memoryOf = (pid: number, what: 'VmRSS' | 'VmHWM') =>
  Number(new RegExp(`^${what}:\\s+(\\d+) kB`, 'm').exec(readFileSync(`/proc/${pid}/status`, 'utf8'))?.[1]) * 1024;

describe('the memory of bodies being read', () => {
  it.runIf(process.platform === 'linux')(
    'six bodies of 150 MB at once are all answered within a few times the budget',
    async () => {
      const child = spawn(process.execPath, ['--input-type=module', '-e', HOST], {
        stdio: ['ignore', 'pipe', 'inherit'],
      });
      try {
        const address = await new Promise<string>((resolve) =>
          child.stdout.once('data', (text: Buffer) => resolve(text.toString().trim())),
        );
        const { origin, hash } = new URL(address);
        const secret = 'S'.repeat(43);
        await fetch(`${origin}/session`, {
          method: 'POST',
          headers: { origin, 'content-type': 'application/json' },
          body: JSON.stringify({ key: hash.slice('#key='.length), secret }),
        });
        const before = memoryOf(child.pid ?? 0, 'VmRSS');
        const length = 150 * MB;
        const piece = Buffer.alloc(MB, 'A');
        const upload = () =>
          new Promise<string>((resolve, reject) => {
            const sending = request(`${origin}/request/import.preview`, {
              method: 'POST',
              headers: {
                origin,
                'content-type': 'application/json',
                'valvebook-session': secret,
                'content-length': length + 18,
              },
            });
            sending.on('error', reject);
            sending.on('response', (response) => {
              let text = '';
              response.on('data', (chunk: Buffer) => (text += chunk.toString()));
              response.on('end', () => resolve(text));
            });
            sending.write('{"bytesBase64":"');
            let left = length / MB;
            const more = () => {
              while (left > 0) {
                left -= 1;
                if (!sending.write(piece)) return void sending.once('drain', more);
              }
              sending.end('"}');
            };
            more();
          });
        const answers = await Promise.all(Array.from({ length: 6 }, upload));
        expect(answers).toEqual(Array.from({ length: 6 }, () => JSON.stringify({ ok: true, data: length })));
        const taken = memoryOf(child.pid ?? 0, 'VmHWM') - before;
        console.log(
          `six bodies of 150 MB: ${Math.round(taken / MB)} MB more than before, budget ${BODY_BUDGET / MB} MB`,
        );
        // Of one body there are the bytes, the text and what is read from it, and what is not collected yet.
        expect(taken).toBeLessThan(4 * BODY_BUDGET);
      } finally {
        child.kill('SIGKILL');
      }
    },
  );

  it('refuses an announced length over the limit before a byte of it is read, and counts an unannounced one as it comes', async () => {
    let called = 0;
    const host = await startLoopback({
      rendererDir: import.meta.dirname,
      bodies: { limit: 1000, budget: 1500 },
      desk: {
        call: async () => {
          called += 1;
          return { ok: true, data: null };
        },
        onChange: () => () => undefined,
      },
    });
    try {
      const secret = 'S'.repeat(43);
      const post = (target: string, headers: Record<string, string | number>) => {
        const sending = request(host.origin + target, {
          method: 'POST',
          agent: false,
          headers: { origin: host.origin, 'content-type': 'application/json', 'valvebook-session': secret, ...headers },
        });
        const answer = new Promise<{ status: number; text: string }>((resolve, reject) => {
          sending.on('error', reject);
          sending.on('response', (response) => {
            let text = '';
            response.on('data', (chunk: Buffer) => (text += chunk.toString()));
            response.on('end', () => resolve({ status: response.statusCode ?? 0, text }));
          });
        });
        answer.catch(() => undefined);
        return { sending, answer };
      };
      const entering = post('/session', {});
      entering.sending.end(JSON.stringify({ key: new URL(host.newAddress()).hash.slice('#key='.length), secret }));
      expect((await entering.answer).status).toBe(200);

      const large = post('/request/a.b', { 'content-length': 1001 });
      large.sending.flushHeaders();
      // Nothing of the body has been sent when the refusal is here.
      expect(await large.answer).toMatchObject({ status: 413, text: expect.stringContaining('at once') });
      large.sending.destroy();

      // Two that announce nothing: together over the budget, so the one that meets its end is refused, the other goes on.
      const first = post('/request/a.b', { 'transfer-encoding': 'chunked' });
      first.sending.write(`"${'a'.repeat(899)}`);
      await sleep(100);
      const second = post('/request/a.b', { 'transfer-encoding': 'chunked' });
      second.sending.write(`"${'a'.repeat(899)}`);
      expect(await second.answer).toMatchObject({ status: 503, text: expect.stringContaining('other large files') });
      second.sending.destroy();
      // One that says how long it is waits until there is room.
      const third = post('/request/a.b', { 'content-length': 902 });
      third.sending.end(`"${'a'.repeat(900)}"`);
      let answered = false;
      void third.answer.then(() => (answered = true));
      await sleep(100);
      expect(answered).toBe(false);
      // A small one does not queue behind it.
      const small = post('/request/a.b', { 'content-length': 2 });
      small.sending.end('{}');
      expect((await small.answer).status).toBe(200);
      expect(answered).toBe(false);
      first.sending.end('"');
      expect((await first.answer).status).toBe(200);
      expect((await third.answer).status).toBe(200);
      expect(called).toBe(3);
      // Who leaves in the middle gives the room back.
      for (let round = 0; round < 20; round += 1) {
        const leaver = post('/request/a.b', { 'content-length': 1000 });
        leaver.sending.write('{');
        await sleep(5);
        leaver.sending.destroy();
      }
      const last = post('/request/a.b', { 'content-length': 902 });
      last.sending.end(`"${'a'.repeat(900)}"`);
      expect((await last.answer).status).toBe(200);
    } finally {
      await host.close();
    }
  });

  it('has room for at least one body of the largest size', () => {
    expect(new BodyReader({ limit: 300 * MB })).toHaveProperty('limits.budget', 300 * MB);
  });
});

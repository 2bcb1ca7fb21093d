import { expect, test } from 'vitest';
import { UseGate } from '../../core/desk/use-gate.ts';

const pending = () => Promise.withResolvers<void>();

test('an exchange waits for those who use, those who come later wait for it, and nobody is refused', async () => {
  const gate = new UseGate();
  const said: string[] = [];
  const [first, exchange] = [pending(), pending()];
  const using = gate.use(async () => {
    await first.promise;
    said.push('first');
  });
  const exchanging = gate.alone(async () => {
    said.push('exchange begins');
    await exchange.promise;
    said.push('exchange ends');
  });
  const later = [1, 2].map((n) => gate.use(async () => void said.push(`later ${n}`)));
  const secondExchange = gate.alone(async () => void said.push('second exchange'));
  first.resolve();
  await using;
  await Promise.resolve();
  exchange.resolve();
  await Promise.all([exchanging, ...later, secondExchange]);
  expect(said.slice(0, 3)).toEqual(['first', 'exchange begins', 'exchange ends']);
  expect(said.slice(3).sort()).toEqual(['later 1', 'later 2', 'second exchange']);
});

test('who has answered and still holds on is waited for', async () => {
  const gate = new UseGate();
  const held = pending();
  let exchanged = false;
  // The exchange waits already when the user answers: what lingers must not slip in behind it.
  const using = gate.use(async () => {
    await new Promise((resolve) => setImmediate(resolve));
    gate.linger(held.promise);
    return 'answered';
  });
  const exchanging = gate.alone(async () => void (exchanged = true));
  expect(await using).toBe('answered');
  await new Promise((resolve) => setImmediate(resolve));
  expect(exchanged).toBe(false);
  held.resolve();
  await exchanging;
  expect(exchanged).toBe(true);
});

test('a failed exchange opens the gate again, and so does one that is given up', async () => {
  const gate = new UseGate();
  await expect(gate.alone(() => Promise.reject(new Error('no')))).rejects.toThrow('no');
  expect(await gate.use(async () => 'served')).toBe('served');

  const busy = pending();
  const using = gate.use(() => busy.promise);
  const giveUp = new AbortController();
  const exchanging = gate.alone(async () => 'never', giveUp.signal);
  const waiting = gate.use(async () => 'waited');
  giveUp.abort(new Error('given up'));
  await expect(exchanging).rejects.toThrow('given up');
  expect(await waiting).toBe('waited');
  busy.resolve();
  await using;
});

test('never two at once: a thousand uses and exchanges in any order', async () => {
  const gate = new UseGate();
  let users = 0;
  let exchanging = false;
  const wrong: string[] = [];
  const tick = () => new Promise((resolve) => setImmediate(resolve));
  await Promise.all(
    Array.from({ length: 1000 }, async (_, n) => {
      if (n % 7 === 0) await tick();
      if (n % 13 === 0)
        await gate.alone(async () => {
          if (users > 0 || exchanging) wrong.push(`exchange ${n}`);
          exchanging = true;
          await tick();
          exchanging = false;
        });
      else
        await gate.use(async () => {
          if (exchanging) wrong.push(`use ${n}`);
          users += 1;
          if (n % 3 === 0) await tick();
          users -= 1;
        });
    }),
  );
  expect(wrong).toEqual([]);
});

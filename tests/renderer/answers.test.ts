import { QueryObserver } from '@tanstack/react-query';
import { afterAll, afterEach, beforeAll, expect, test, vi } from 'vitest';
import type { Reply, Topic } from '../../core/contract/index.ts';

// The window's answers, on a stand-in of the bridge to the book: what a change does to what is on screen, lately on screen and
// on its way.

type Answers = typeof import('../../renderer/state/answers.ts');
let window_: Answers;
let tell: (topics: Topic[]) => void;
let asked: { name: string; answer: (reply: Reply) => void }[] = [];

beforeAll(async () => {
  vi.stubGlobal('window', {
    valvebook: {
      call: (name: string) => new Promise<Reply>((answer) => void asked.push({ name, answer })),
      onChange(listener: typeof tell) {
        tell = listener;
        return () => undefined;
      },
    },
  });
  window_ = await import('../../renderer/state/answers.ts');
});
afterAll(() => void vi.unstubAllGlobals());
afterEach(() => {
  window_.answers.clear();
  asked = [];
});

const settled = () => new Promise((resolve) => setTimeout(resolve, 5));
const good = (data: unknown): Reply => ({ ok: true, data });

function onScreen(name: 'client.list' | 'people.list', meta?: Record<string, unknown>) {
  const observer = new QueryObserver(window_.answers, {
    ...window_.questionOf(name, {}),
    ...(meta === undefined ? {} : { meta }),
  });
  const seen: unknown[] = [];
  const leave = observer.subscribe(({ data }) => {
    if (data !== undefined && seen.at(-1) !== data) seen.push(data);
  });
  return { observer, seen, leave };
}

test('an answer stays until a topic of its question changes, and is asked again then', async () => {
  const { seen, leave } = onScreen('people.list');
  asked[0]!.answer(good('first'));
  await settled();
  tell(['weather']);
  await settled();
  expect(asked).toHaveLength(1);
  tell(['visit', 'people']);
  await settled();
  expect(asked).toHaveLength(2);
  expect(seen).toEqual(['first']);
  asked[1]!.answer(good('second'));
  await settled();
  expect(seen).toEqual(['first', 'second']);
  leave();
});

test('a first answer that a change overtook is never shown', async () => {
  const { seen, leave } = onScreen('people.list');
  tell(['people']);
  asked[0]!.answer(good('before the change'));
  await settled();
  expect(asked).toHaveLength(2);
  asked[1]!.answer(good('after it'));
  await settled();
  expect(seen).toEqual(['after it']);
  leave();
});

test('nor is a fresh one, however often it happens', async () => {
  const { seen, leave } = onScreen('people.list');
  asked[0]!.answer(good('old'));
  await settled();
  for (let round = 1; round <= 3; round += 1) {
    tell(['people']);
    await settled();
    asked.at(-1)!.answer(good('overtaken'));
    tell(['people']);
    await settled();
  }
  asked.at(-1)!.answer(good('new'));
  await settled();
  expect(seen).toEqual(['old', 'new']);
  leave();
});

test('what left the screen is forgotten by a change, and a page of a list only marked as old', async () => {
  const plain = onScreen('people.list');
  const page = onScreen('client.list', window_.KEPT);
  for (const { answer } of asked) answer(good('held'));
  await settled();
  plain.leave();
  page.leave();
  tell(['people']);
  await settled();
  expect(window_.answers.getQueryData(['people.list', {}])).toBeUndefined();
  expect(window_.answers.getQueryData(['client.list', {}])).toBe('held');
  expect(asked).toHaveLength(2);
  // Back on screen it is asked again, and the old one stands there until then.
  const again = onScreen('client.list', window_.KEPT);
  expect(again.observer.getCurrentResult()).toMatchObject({ data: 'held', isFetching: true });
  again.leave();
});

test('a refusal keeps the last answer beside its reason', async () => {
  const { observer, leave } = onScreen('people.list');
  asked[0]!.answer(good('held'));
  await settled();
  tell(['people']);
  await settled();
  const error = { code: 'disk', message: 'The disk does not answer.' } as const;
  asked[1]!.answer({ ok: false, error });
  await settled();
  expect(observer.getCurrentResult()).toMatchObject({ data: 'held', error, isFetching: false });
  leave();
});

import { afterEach, beforeEach, expect, test, vi } from 'vitest';
import type { MessageBoxOptions } from 'electron';

// The box while an older book is brought up to date, on a stand-in of Electron's dialog.

let asked: MessageBoxOptions[];
let press: () => void;
let now: number;
beforeEach(() => {
  asked = [];
  now = 0;
  vi.resetModules();
  vi.spyOn(performance, 'now').mockImplementation(() => now);
  vi.doMock('electron', () => ({
    dialog: {
      // As Electron's: it answers when a button is pressed, or when its signal closes it.
      showMessageBox: (options: MessageBoxOptions) => {
        asked.push(options);
        return new Promise((resolve) => {
          press = () => resolve({ response: 0, checkboxChecked: false });
          options.signal?.addEventListener('abort', () => resolve({ response: 0, checkboxChecked: false }));
        });
      },
    },
    shell: {},
  }));
});
afterEach(() => void vi.doUnmock('electron'));
const dialogs = () => import('../../electron/book-dialogs.ts');
const step = { done: 1, total: 9, label: 'Bringing the book up to date' };

test('a quick one shows nothing', async () => {
  const { whileUpgrading } = await dialogs();
  const answer = await whileUpgrading('/shelf/company.valvebook', async ({ progress }) => {
    progress(step);
    now = 900;
    progress(step);
    return 'open';
  });
  expect(answer).toBe('open');
  expect(asked).toEqual([]);
});

test('a long one says so once, goes by itself, and was not stopped by going', async () => {
  const { whileUpgrading } = await dialogs();
  let stopped: AbortSignal | undefined;
  await whileUpgrading('/shelf/company.valvebook', async ({ progress, signal }) => {
    stopped = signal;
    progress(step);
    now = 1500;
    progress(step);
    progress(step);
  });
  await Promise.resolve();
  expect(asked).toHaveLength(1);
  expect(asked[0]).toMatchObject({ message: 'company.valvebook is being brought up to date.', buttons: ['Stop'] });
  expect(asked[0]!.signal?.aborted).toBe(true);
  expect(stopped?.aborted).toBe(false);
});

test('its button stops the work', async () => {
  const { whileUpgrading } = await dialogs();
  const work = whileUpgrading('/shelf/company.valvebook', async ({ progress, signal }) => {
    progress(step);
    now = 1500;
    progress(step);
    press();
    await new Promise((resolve) => setTimeout(resolve, 5));
    if (signal?.aborted) throw new Error('stopped');
  });
  await expect(work).rejects.toThrow('stopped');
});

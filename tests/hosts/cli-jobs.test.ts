import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { afterEach, beforeEach, expect, it, vi } from 'vitest';
import type { Reply } from '../../core/contract/index.ts';
import type { CallOptions, DeskOptions } from '../../core/desk/desk.ts';
import { runCli } from '../../electron/cli.ts';

// Long requests and mistyped commands, on a stand-in of the desk that can be held still.

const desk = vi.hoisted(() => ({
  opened: [] as unknown[],
  closed: 0,
  behave: (async () => ({ ok: true, data: null })) as (options: {
    signal?: AbortSignal;
    onProgress?: (progress: { done: number; total: number; label: string }) => void;
  }) => Promise<unknown>,
}));
vi.mock('../../core/desk/desk.ts', () => ({
  openDesk: async (options: DeskOptions) => {
    desk.opened.push(options);
    return {
      call: (_name: string, _input: unknown, callOptions: CallOptions) => desk.behave(callOptions) as Promise<Reply>,
      close: async () => void (desk.closed += 1),
    };
  },
}));

let folder: string;
let book: string;
let stdout: string;
let stderr: string;
beforeEach(() => {
  folder = mkdtempSync(path.join(tmpdir(), 'valvebook-jobs-'));
  book = path.join(folder, 'a.valvebook');
  writeFileSync(book, '');
  stdout = '';
  stderr = '';
  desk.opened = [];
  desk.closed = 0;
  vi.spyOn(process.stdout, 'write').mockImplementation((text) => ((stdout += String(text)), true));
  vi.spyOn(process.stderr, 'write').mockImplementation((text) => ((stderr += String(text)), true));
});
afterEach(() => {
  vi.restoreAllMocks();
  rmSync(folder, { recursive: true, force: true });
});

it('opens the book for reading unless the request changes it', async () => {
  for (const name of ['client.list', 'book.check', 'program.reviewAll'])
    await runCli(['call', name, '{}', '--book', book]);
  expect(desk.opened).toMatchObject([
    { access: 'read', create: false },
    { access: 'read', create: false },
    { access: 'read', create: false },
  ]);
  desk.opened = [];
  for (const name of ['rules.save', 'import.apply', 'book.restore']) await runCli(['call', name, '{}', '--book', book]);
  expect(desk.opened).toMatchObject([{ access: 'write' }, { access: 'write' }, { access: 'write' }]);
  expect(desk.closed).toBe(6);
});

it('tells of progress in lines of JSON, not more than one a second', async () => {
  desk.behave = async ({ onProgress }) => {
    for (let done = 1; done <= 1000; done += 1) onProgress?.({ done, total: 1000, label: 'Looking' });
    return { ok: true, data: { clean: true } };
  };
  expect(await runCli(['call', 'book.check', '{}', '--book', book])).toBe(0);
  expect(JSON.parse(stdout)).toEqual({ clean: true });
  const lines = stderr
    .trim()
    .split('\n')
    .map((line) => JSON.parse(line) as unknown);
  expect(lines[0]).toEqual({ progress: { done: 1, total: 1000, label: 'Looking' } });
  expect(lines.length).toBeLessThan(100);
});

it('cancels the job on Ctrl-C, closes the book and says so', async () => {
  const listenersBefore = process.listenerCount('SIGINT');
  desk.behave = ({ signal }) =>
    new Promise((resolve) => {
      signal?.addEventListener('abort', () =>
        resolve({ ok: false, error: { code: 'cancelled', message: 'Cancelled. Nothing was changed.' } }),
      );
      // npm and the bootstrap may each pass the same Ctrl-C on.
      setImmediate(() => {
        process.emit('SIGINT');
        process.emit('SIGINT');
      });
    });
  expect(await runCli(['call', 'book.check', '{}', '--book', book])).toBe(1);
  expect(JSON.parse(stderr)).toMatchObject({ code: 'cancelled' });
  expect(stdout).toBe('');
  expect(desk.closed).toBe(1);
  expect(process.listenerCount('SIGINT')).toBe(listenersBefore);
});

it.each([
  [[]],
  [['nonsense']],
  [['call']],
  [['call', 'a', 'b', 'c']],
  [['call', 'book.info', '--bok', 'x']],
  [['call', 'import.preview', '--file', 'x']],
  [['requests', 'a', 'b']],
  [['demo']],
  [['demo', '--book', 'x', '--properties', '0']],
  [['demo', '--book', 'x', '--seed', '1.5']],
  [['demo', '--book', 'x', '--today', '2026-02-30']],
])('%j ends with exit code 2, an explanation, nothing on stdout and no book opened', async (args) => {
  expect(await runCli(args)).toBe(2);
  expect(stdout).toBe('');
  expect(stderr).toContain('valvebook call NAME');
  expect(desk.opened).toEqual([]);
});

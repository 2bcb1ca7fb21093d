import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import type { WebContents } from 'electron';
import { expect, vi } from 'vitest';
import type { Reply, Topic } from '../../core/contract/index.ts';
import type { CallOptions } from '../../core/desk/desk.ts';
import { CHANNEL, type ToMain } from '../../electron/bridge.ts';
import { eventFrom, makeStandIn, type fakeContents, type Recorded } from './stand-in.ts';

// main.ts itself runs here, on a stand-in of Electron and of the core.

export interface FakeDesk {
  bookPath: string;
  created: boolean;
  calls: { name: string; input: unknown; signal: AbortSignal | undefined }[];
  listeners: ((topics: Topic[]) => void)[];
  closed: boolean;
  behave: (options: CallOptions) => Promise<Reply>;
}

export interface Shell {
  folder: string;
  desks: FakeDesk[];
  /** Whose opening is refused, with the sentence; '*' = every book. */
  refused: Map<string, string>;
  readonly standIn: Recorded;
  start(options?: { firstInstance?: boolean; ready?: boolean; argv?: string[] }): Promise<void>;
  window(index?: number): Recorded['record']['windows'][number];
  contents(): ReturnType<typeof fakeContents>;
  invoke(message: ToMain | unknown, contents?: WebContents, frame?: unknown): Promise<Reply>;
  end(): void;
}

/** A folder for one test's shell, and the way to start main.ts in it. */
export function makeShell(): Shell {
  const folder = mkdtempSync(path.join(tmpdir(), 'valvebook-shell-'));
  mkdirSync(path.join(folder, 'site', 'assets'), { recursive: true });
  writeFileSync(path.join(folder, 'site', 'index.html'), '<html><head></head></html>');
  writeFileSync(path.join(folder, 'secret.txt'), 'secret');
  const argv = process.argv;
  let standIn: Recorded;
  const shell: Shell = {
    folder,
    desks: [],
    refused: new Map(),
    get standIn() {
      return standIn;
    },
    async start(options = {}) {
      standIn = makeStandIn({ firstInstance: options.firstInstance });
      process.argv = [argv[0]!, ...(options.argv ?? [])];
      vi.resetModules();
      vi.stubEnv('LC_ALL', 'C');
      vi.doMock('electron', () => ({ ...standIn.module, default: standIn.module }));
      vi.doMock('../../core/desk/desk.ts', () => ({
        openDesk: async ({ bookPath, create }: { bookPath: string; create: boolean }) => {
          const refusal = shell.refused.get(bookPath) ?? shell.refused.get('*');
          if (refusal !== undefined) {
            // The class as this run of main.ts knows it: modules are loaded afresh for each test.
            const { BookError } = await import('../../core/errors.ts');
            throw new BookError('book-unreadable', refusal);
          }
          const desk: FakeDesk = {
            bookPath,
            created: create,
            calls: [],
            listeners: [],
            closed: false,
            behave: async () => ({ ok: true, data: 'answer' }),
          };
          shell.desks.push(desk);
          return {
            bookPath,
            call: (name: string, input: unknown, callOptions: CallOptions = {}) => {
              desk.calls.push({ name, input, signal: callOptions.signal });
              return desk.behave(callOptions);
            },
            onChange: (listener: (topics: Topic[]) => void) => {
              desk.listeners.push(listener);
              return () => undefined;
            },
            close: async () => {
              desk.closed = true;
            },
          };
        },
      }));
      vi.doMock('../../electron/places.ts', async (original) => ({
        ...(await original<typeof import('../../electron/places.ts')>()),
        dataFolder: () => path.join(folder, 'data'),
        rendererFolder: () => path.join(folder, 'site'),
        defaultBook: () => path.join(folder, 'company.valvebook'),
        writeLog: () => undefined,
      }));
      await import('../../electron/main.ts');
      if (options.ready === false) return;
      standIn.record.becomeReady();
      if (options.firstInstance !== false && !shell.refused.has('*'))
        await vi.waitFor(() => expect(standIn.record.windows).toHaveLength(1));
    },
    window: (index = 0) => standIn.record.windows[index]!,
    contents: () => shell.window().webContents as ReturnType<typeof fakeContents>,
    invoke: (message, contents = shell.window().webContents, frame) =>
      standIn.record.channels.get(CHANNEL)!(
        frame === undefined ? eventFrom(contents) : eventFrom(contents, frame),
        message,
      ) as Promise<Reply>,
    end() {
      process.argv = argv;
      vi.unstubAllEnvs();
      vi.doUnmock('electron');
      vi.doUnmock('../../core/desk/desk.ts');
      vi.doUnmock('../../electron/places.ts');
      rmSync(folder, { recursive: true, force: true });
    },
  };
  return shell;
}

/** A request as the preload sends it. */
export const call = (name = 'client.list', callId = '1'): ToMain => ({
  kind: 'call',
  callId,
  name,
  input: { search: 'x' },
});

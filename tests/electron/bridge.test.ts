import { EventEmitter } from 'node:events';
import { afterEach, beforeEach, expect, it, vi } from 'vitest';
import type { Bridge } from '../../core/contract/bridge.ts';
import { CHANNEL, type ToMain } from '../../electron/bridge.ts';

// preload.ts itself runs here, on a stand-in of the sandbox's Electron.

let exposed: Record<string, unknown>;
let sent: ToMain[];
let channels: Set<string>;
let renderer: EventEmitter & { invoke: (channel: string, message: ToMain) => Promise<unknown> };

beforeEach(async () => {
  exposed = {};
  sent = [];
  channels = new Set();
  renderer = Object.assign(new EventEmitter(), {
    invoke: async (channel: string, message: ToMain) => {
      channels.add(channel);
      sent.push(message);
      if (message.kind === 'call')
        renderer.emit(
          CHANNEL,
          {},
          { kind: 'progress', callId: message.callId, progress: { done: 1, total: 3, label: 'x' } },
        );
      return { ok: true, data: 'answer' };
    },
  });
  vi.resetModules();
  vi.doMock('electron', () => ({
    contextBridge: { exposeInMainWorld: (name: string, api: unknown) => void (exposed[name] = api) },
    ipcRenderer: renderer,
  }));
  await import('../../electron/preload.ts');
});
afterEach(() => void vi.doUnmock('electron'));

const bridge = () => exposed.valvebook as Bridge;

it('hands the page a few functions and nothing of Electron', () => {
  expect(Object.keys(exposed)).toEqual(['valvebook']);
  expect(Object.keys(bridge()).sort()).toEqual(['call', 'cancel', 'choosePath', 'onChange', 'reader', 'unsaved']);
  expect(Object.values(bridge()).every((value) => typeof value === 'function')).toBe(true);
});

it('passes a call, its progress and its cancelling on', async () => {
  const seen: unknown[] = [];
  expect(await bridge().call('client.list', { search: 'x' }, '5', (progress) => seen.push(progress))).toEqual({
    ok: true,
    data: 'answer',
  });
  bridge().cancel('5');
  expect(sent).toEqual([
    { kind: 'call', callId: '5', name: 'client.list', input: { search: 'x' } },
    { kind: 'cancel', callId: '5' },
  ]);
  expect([...channels]).toEqual([CHANNEL]);
  expect(seen).toEqual([{ done: 1, total: 3, label: 'x' }]);
  // Progress that comes after the answer has nobody waiting.
  renderer.emit(CHANNEL, {}, { kind: 'progress', callId: '5', progress: { done: 2, total: 3, label: 'x' } });
  expect(seen).toHaveLength(1);
});

it('asks for a path by the name of what it is for', async () => {
  expect(await bridge().choosePath('backup-to', '/a.valvebook')).toEqual({ ok: true, data: 'answer' });
  expect(sent).toEqual([{ kind: 'choose', callId: 'choose', choice: 'backup-to', from: '/a.valvebook' }]);
});

it('tells that the page holds changes', () => {
  bridge().unsaved(true);
  expect(sent).toEqual([{ kind: 'unsaved', callId: 'unsaved', holds: true }]);
});

it('passes changes on until the listener stops', () => {
  const seen: unknown[] = [];
  const stop = bridge().onChange((topics) => seen.push(topics));
  renderer.emit(CHANNEL, {}, { kind: 'changed', topics: ['client'] });
  stop();
  renderer.emit(CHANNEL, {}, { kind: 'changed', topics: ['visit'] });
  expect(seen).toEqual([['client']]);
});

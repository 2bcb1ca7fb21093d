import { mkdirSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { afterEach, beforeEach, expect, it } from 'vitest';
import { todayIn } from '../../core/dates.ts';
import { makeShell, type Shell } from './run-shell.ts';
import { fakeContents } from './stand-in.ts';

let shell: Shell;
beforeEach(async () => {
  shell = makeShell();
  await shell.start();
});
afterEach(() => shell.end());

const at = (...names: string[]) => path.join(shell.folder, ...names);
const choose = (choice: string, from = '') => shell.invoke({ kind: 'choose', callId: 'choose', choice, from });
const record = () => shell.standIn.record;

it('saves by the system’s dialog over the window, with a name, a filter and the ending', async () => {
  record().saveDialog = { canceled: false, filePath: at('copies', 'today') };
  expect(await choose('backup-to')).toEqual({ ok: true, data: at('copies', 'today.valvebook') });
  expect(record().saveAsked).toEqual([
    {
      over: true,
      title: 'Back up to',
      buttonLabel: 'Use this place',
      defaultPath: at(`company-${todayIn()}.valvebook`),
      filters: [{ name: 'Valvebook book', extensions: ['valvebook'] }],
      properties: ['createDirectory'],
    },
  ]);
  record().saveDialog = { canceled: false, filePath: at('all.ZIP') };
  expect(await choose('export-to')).toEqual({ ok: true, data: at('all.ZIP') });
  expect(record().saveAsked[1]).toMatchObject({
    defaultPath: at(`company-${todayIn()}.zip`),
    filters: [{ name: 'Zip file', extensions: ['zip'] }],
  });
});

it('opens one file of the wanted kind, beginning at the backups', async () => {
  mkdirSync(at('backups'));
  record().openDialog = { canceled: false, filePaths: [at('backups', 'a.valvebook')] };
  expect(await choose('restore-from')).toEqual({ ok: true, data: at('backups', 'a.valvebook') });
  expect(record().openAsked).toEqual([
    {
      over: true,
      title: 'Restore from',
      buttonLabel: 'Use this backup',
      defaultPath: at('backups'),
      filters: [{ name: 'Valvebook book', extensions: ['valvebook'] }],
      properties: ['openFile'],
    },
  ]);
});

it('chooses a folder, and lets one be made', async () => {
  record().openDialog = { canceled: false, filePaths: [at('second')] };
  expect(await choose('backup-folder')).toEqual({ ok: true, data: at('second') });
  expect(record().openAsked[0]).toMatchObject({
    properties: ['openDirectory', 'createDirectory'],
    defaultPath: shell.folder,
  });
  expect(record().openAsked[0]).not.toHaveProperty('filters');
});

it('begins where the field says, as far as that is there', async () => {
  writeFileSync(at('a.valvebook'), '');
  for (const [choice, from, begins] of [
    ['backup-to', at('new.valvebook'), at('new.valvebook')],
    ['backup-to', at('nowhere', 'new.valvebook'), at(`company-${todayIn()}.valvebook`)],
    ['backup-to', 'relative.valvebook', at(`company-${todayIn()}.valvebook`)],
  ] as const) {
    await choose(choice, from);
    expect(record().saveAsked.at(-1)?.defaultPath).toBe(begins);
  }
  for (const [from, begins] of [
    [at('a.valvebook'), at('a.valvebook')],
    [at('gone.valvebook'), shell.folder],
    [`${at('a')}\0`, shell.folder],
    ['/'.repeat(4000), path.resolve('/')],
  ] as const) {
    await choose('restore-from', from);
    expect(path.resolve(record().openAsked.at(-1)?.defaultPath ?? '')).toBe(begins);
  }
});

it('answers null where nothing is chosen', async () => {
  expect(await choose('backup-to')).toEqual({ ok: true, data: null });
  expect(await choose('restore-from')).toEqual({ ok: true, data: null });
});

it('shows one dialog at a time, and none for another page', async () => {
  const both = await Promise.all([choose('backup-to'), choose('restore-from')]);
  expect(both).toMatchObject([{ ok: true }, { ok: false, error: { code: 'conflict' } }]);
  expect(await choose('restore-from')).toMatchObject({ ok: true });
  const message = { kind: 'choose', callId: 'choose', choice: 'backup-to', from: '' };
  expect(await shell.invoke(message, fakeContents())).toMatchObject({ ok: false });
  expect(await shell.invoke(message, undefined, { url: 'app://valvebook/' })).toMatchObject({ ok: false });
  expect(record().saveAsked).toHaveLength(1);
});

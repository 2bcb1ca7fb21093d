import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { en } from '../../core/text/en.ts';
import { es } from '../../core/text/es.ts';
import { say } from '../../core/text/say.ts';
import { askedBy, findSentences, findTexts, namedKeys } from './find-texts.ts';

const root = join(import.meta.dirname, '../..');
const sources = (folder: string): string[] =>
  readdirSync(join(root, folder), { recursive: true, encoding: 'utf8' })
    .filter((name) => /\.tsx?$/.test(name) && !name.endsWith('.d.ts'))
    .map((name) => `${folder}/${name.replaceAll('\\', '/')}`);
const read = (name: string) => readFileSync(join(root, name), 'utf8');

/** Texts in a source that are not for a reader of a screen, with the reason. */
const ALLOWED: ReadonlyMap<string, RegExp> = new Map([
  // Example lists to be saved as CSV: invented rows whose headings the import knows.
  ['renderer/office/import/import-lists.ts', /,/],
  // The start of a new property's form: the name of a time zone.
  ['renderer/office/property/edit/property-form.tsx', /^America\/Denver$/],
  // What seals a draft and proves the host.
  ['renderer/field/draft-store.ts', /^valvebook/],
  ['renderer/state/session.ts', /^valvebook/],
  // Selectors and a border of style sheets.
  ['renderer/parts/toasts.tsx', /\[contenteditable\]/],
  ['renderer/owner/chart-dress.tsx', /^1px solid/],
]);

describe('the source of the screens', () => {
  it('is searched by something that finds texts', () => {
    const source = `
      export function Room({ late, name }: { late: boolean; name: string }) {
        const label = 'not seen as a sentence';
        return (
          <section aria-label="Stops" title={late ? \`\${name} is late\` : say('room.ok')} className="two words">
            Read me {late && 'late'} {late ? 'now' : <b>then</b>}
            <Field label={\`Stop \${name}\`} options={[{ id: 'a', label: 'First choice' }]} />
            {say('room.key')} {name} <Unit unit="min" />
          </section>
        );
      }
      const AHEAD = { id: 'x', label: 'Two weeks' };
      toast({ text: 'Saved.' });
      throw new Error('for the log only');`;
    expect(findTexts(source, true).map(({ text }) => text)).toEqual([
      'not seen as a sentence',
      'Stops',
      '${} is late',
      'Read me',
      'late',
      'now',
      'then',
      'Stop ${}',
      'First choice',
      'Two weeks',
      'Saved.',
    ]);
  });

  it('holds no text that bypasses the catalogue', () => {
    const files = sources('renderer');
    expect(files.length).toBeGreaterThan(100);
    const found = files.flatMap((name) =>
      findTexts(read(name), name.endsWith('x'))
        .filter(({ text }) => ALLOWED.get(name)?.test(text) !== true)
        .map(({ line, where, text }) => `${name}:${line} ${where}: ${text}`),
    );
    expect(found).toEqual([]);
  });
});

/** Sentences of the core and the hosts that stand in their source, with the reason. */
const NOT_SAID: readonly (readonly [file: RegExp, reason: string])[] = [
  [
    /^core\/(?:\w+\/)?(?:[\w-]+-)?contract\.ts$|^core\/contract\//,
    'what a request does, for those who write against it',
  ],
  [/^core\/agronomy\//, 'names of sources, as they are published'],
  [/^core\/demo\//, 'what the invented people wrote, and the steps of making it, for a terminal'],
  [
    /^core\/text\/stored\.ts$|^core\/settings\/thumb-rules\.ts$/,
    'kept in the book, said in each language where it is shown',
  ],
  [/^core\/import\/(?:client-row|work)\.ts$/, 'kept in the book as a note, or a heading that lists have'],
  [/^core\/book\/seal-file\.ts$/, 'not in the catalogue yet: the file of a seal'],
  [
    /^electron\/(?:loopback[\w-]*|app-protocol)\.ts$/,
    'not in the catalogue yet: refusals of what no window of ours sends',
  ],
  [/^electron\/(?:release-settings|package|build)\.ts$/, 'for those who build installers'],
];

describe('the source of the core and the hosts', () => {
  it('is searched by something that finds sentences', () => {
    const source = `
      throw new BookError('conflict', 'There is a file here already.');
      const said = \`The file \${name} cannot be read.\`;
      throw new Error('The log alone is told this sentence.');
      const state = 'not-a-sentence'; sql\`Select all from where it is\`;
      const label = ['Stay', 'Leave without saving it'];`;
    expect(findSentences(source).map(({ text }) => text)).toEqual([
      'There is a file here already.',
      'The file ${} cannot be read.',
      'Leave without saving it',
    ]);
  });

  it('holds no sentence that bypasses the catalogue', () => {
    const files = [...sources('core'), ...sources('electron')].filter((name) => !/^core\/text\/e[ns]\//.test(name));
    expect(files.length).toBeGreaterThan(200);
    const found = files
      .map((name) => ({ name, texts: findSentences(read(name)) }))
      .filter(({ texts }) => texts.length > 0);
    const excepted = (name: string) => NOT_SAID.find(([file]) => file.test(name));
    expect(
      found
        .filter(({ name }) => excepted(name) === undefined)
        .flatMap(({ name, texts }) => texts.map(({ line, text }) => `${name}:${line} ${text}`)),
    ).toEqual([]);
    // An exception that nothing needs any more goes.
    expect(NOT_SAID.filter((one) => !found.some(({ name }) => excepted(name) === one))).toEqual([]);
  });
});

describe('the keys of the catalogue', () => {
  const named = [...sources('renderer'), ...sources('electron'), ...sources('core')]
    .filter((name) => !/^core\/text\/(?:en|es)[./]/.test(name))
    .map((name) => namedKeys(read(name), name.endsWith('x')));
  const keys = new Set(named.flatMap((one) => [...one.keys]));
  const beginnings = [...new Set(named.flatMap((one) => [...one.beginnings]))];

  it('are all used, whole or by the beginning that a source puts together', () => {
    const unused = Object.keys(en).filter(
      (key) => !keys.has(key) && !beginnings.some((beginning) => key.startsWith(beginning)),
    );
    expect(unused).toEqual([]);
  });

  it('are there for every beginning that a source puts together', () => {
    const rooms = new Set(Object.keys(en).map((key) => key.slice(0, key.indexOf('.'))));
    const told = beginnings.filter((beginning) => rooms.has(beginning.slice(0, beginning.indexOf('.'))));
    expect(told.length).toBeGreaterThan(10);
    const missing = told.filter((beginning) => !Object.keys(en).some((key) => key.startsWith(beginning)));
    expect(missing.filter((beginning) => !FIELDS.has(beginning))).toEqual([]);
  });
});

/** Beginnings of the paths of input fields, which are written as keys are. */
const FIELDS = new Set<string>([]);

/** Where the schemas stand: the shared parts, and each area's contract. */
const contracts = () => sources('core').filter((name) => /^core\/contract\/|\/(?:.+-)?contract\.ts$/.test(name));

describe('both languages', () => {
  const asked = (language: string) =>
    new Map(sources(`core/text/${language}`).flatMap((name) => [...askedBy(read(name))]));
  const [english, spanish] = [asked('en'), asked('es')];

  it('ask for the same facts and leave the same places', () => {
    expect([...english.keys()].sort()).toEqual(Object.keys(en).sort());
    const differing = [...english].filter(([key, one]) => JSON.stringify(one) !== JSON.stringify(spanish.get(key)));
    expect(differing.map(([key, one]) => ({ key, en: one, es: spanish.get(key) }))).toEqual([]);
  });

  it('both say every sentence that a schema of the contract has for a wrong value', () => {
    const own = new Set(
      contracts().flatMap((name) =>
        [...namedKeys(read(name), false).keys].filter((text) => /^(?:must|may)\b/.test(text)),
      ),
    );
    expect(own.size).toBeGreaterThan(20);
    const reader = { language: 'es', units: 'us' } as const;
    expect([...own].filter((says) => say(reader, 'input.own', { says }) === says)).toEqual([]);
  });

  it('differ wherever more than a word is said', () => {
    const same = Object.entries(en).filter(
      ([key, text]) =>
        typeof text === 'string' &&
        /\p{L}{3,}\s+\p{L}{3,}/u.test(text) &&
        (es as Record<string, unknown>)[key] === text,
    );
    expect(same).toEqual([]);
  });
});

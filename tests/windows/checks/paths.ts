import assert from 'node:assert/strict';
import { existsSync, mkdirSync, readdirSync } from 'node:fs';
import path from 'node:path';
import { makeDemo } from '../../../electron/demo.ts';
import { call, refusalOf, refusedRequest, TODAY, type Check } from '../check.ts';

/** Names Windows gives to something else than a file, and what the sentence must say of each. */
const REFUSED: [string, RegExp][] = [
  ['CON.valvebook', /keeps the name CON for a device/],
  ['NUL', /keeps the name NUL for a device/],
  ['nul.valvebook', /keeps the name nul for a device/],
  ['COM1.valvebook', /keeps the name COM1 for a device/],
  ['LPT³.valvebook', /keeps the name LPT³ for a device/],
  ['aux\\b.valvebook', /keeps the name aux for a device/],
  ['trail.', /drops a dot or a blank/],
  ['trail.valvebook ', /drops a dot or a blank/],
  ['folder \\b.valvebook', /drops a dot or a blank/],
  ['a:b.valvebook', /does not allow the character :/],
  ['a?b.valvebook', /does not allow the character \?/],
  ['a|b.valvebook', /does not allow the character \|/],
  ['"b".valvebook', /does not allow the character "/],
  ['tab\tb.valvebook', /control character/],
  [`${'x'.repeat(250)}.valvebook`, /too long/],
];

export const checks: Check[] = [
  {
    name: 'names that Windows keeps for itself are answered in a true sentence, everywhere a path is taken',
    async run(ground) {
      const desk = await ground.open(path.join(ground.folder, 'b.valvebook'), { create: true });
      const before = readdirSync(ground.folder);
      for (const [name, sentence] of REFUSED) {
        const place = `${ground.folder}\\${name}`;
        const answers = [
          [await refusalOf(() => ground.open(place, { create: true })), 'book'],
          [await refusalOf(() => ground.open(place)), 'book'],
          [await refusalOf(() => makeDemo({ path: place, properties: 1, today: TODAY })), 'book'],
          [await refusedRequest(desk, 'book.backup', { toPath: place }), 'toPath'],
          [await refusedRequest(desk, 'export.book', { toPath: place }), 'toPath'],
          [await refusedRequest(desk, 'book.restore', { fromPath: place }), 'fromPath'],
        ] as const;
        for (const [answer, field] of answers) {
          assert.match(answer.message, sentence, name);
          assert.deepEqual([answer.code, answer.field], ['bad-input', field], name);
        }
      }
      assert.deepEqual(readdirSync(ground.folder), before);
      await call(desk, 'book.info', {});
      return `${REFUSED.length} names`;
    },
  },
  {
    name: 'paths of more than 260 characters work',
    async run(ground) {
      const deep = path.join(ground.folder, ...Array.from({ length: 6 }, (_, n) => `${n}${'ordner'.repeat(9)}`));
      const book = path.join(deep, 'b.valvebook');
      assert.ok(book.length > 330);
      await makeDemo({ path: book, properties: 2, today: TODAY });
      const desk = await ground.open(book);
      const { path: backup } = await call(desk, 'book.backup', {});
      await call(desk, 'export.book', {});
      await call(desk, 'book.restore', { fromPath: backup });
      assert.equal((await call(desk, 'book.check', {})).clean, true);
      assert.equal((await refusalOf(() => ground.open(book))).code, 'book-busy');
      return `${book.length} characters`;
    },
  },
  {
    name: 'a path too deep even for that is refused in a sentence',
    async run(ground) {
      const deep = path.join(ground.folder, ...Array.from({ length: 20 }, (_, n) => `${n}${'ordner'.repeat(9)}`));
      const refused = await refusalOf(() => ground.open(path.join(deep, 'b.valvebook'), { create: true }));
      assert.match(refused.message, /too deep/);
      assert.equal(refused.code, 'bad-input');
    },
  },
  {
    name: 'drive letters in either case, both slashes, and the long form mean the same book',
    async run(ground) {
      const folder = path.join(ground.folder, 'x');
      mkdirSync(folder);
      const book = path.join(folder, 'b.valvebook');
      const desk = await ground.open(book, { create: true });
      for (const other of [
        book.replace(/^./, (letter) => letter.toLowerCase()),
        book.replaceAll('\\', '/'),
        `\\\\?\\${book}`,
        path.join(folder, '..', 'x', '.', 'b.valvebook'),
      ]) {
        assert.equal((await refusalOf(() => ground.open(other))).code, 'book-busy', other);
      }
      const toPath = path.join(folder, 'c.valvebook').replaceAll('\\', '/');
      assert.equal((await call(desk, 'book.backup', { toPath })).path, path.join(folder, 'c.valvebook'));
      await desk.close();
      const long = await ground.open(`\\\\?\\${book}`);
      await call(long, 'book.backup', {});
      assert.equal((await call(long, 'book.check', {})).clean, true);
    },
  },
  {
    name: 'the list of places shows drives, and ends at the top of one',
    async run(ground) {
      const desk = await ground.open(path.join(ground.folder, 'b.valvebook'), { create: true });
      const own = await call(desk, 'place.list', {});
      assert.deepEqual([own.path, own.separator], [ground.folder, '\\']);
      assert.ok(own.entries.some((entry) => entry.path === path.join(ground.folder, 'b.valvebook')));
      const drive = path.parse(ground.folder).root;
      assert.ok(own.places.some((place) => place.kind === 'drive' && place.path === drive));
      const top = await call(desk, 'place.list', { path: drive });
      assert.deepEqual([top.path, top.parent], [drive, null]);
      for (const missing of ['Q:\\', '\\\\no-such-server\\share'])
        assert.match((await refusedRequest(desk, 'place.list', { path: missing })).message, /[.]$/, missing);
    },
  },
  {
    name: 'drives and shares that are not there, and paths without a drive, are answered in sentences',
    async run(ground) {
      const desk = await ground.open(path.join(ground.folder, 'b.valvebook'), { create: true });
      for (const place of [
        'Q:\\Bücher\\b.valvebook',
        '\\\\no-such-server\\share\\b.valvebook',
        '\\\\?\\Q:\\b.valvebook',
      ]) {
        const missing = await refusalOf(() => ground.open(place));
        assert.deepEqual([missing.code, missing.field], ['not-found', 'book'], place);
        const unmade = await refusalOf(() => ground.open(place, { create: true }));
        assert.deepEqual([unmade.code, unmade.field], ['disk', 'book'], place);
        assert.match(unmade.message, /cannot be made, so there is no place for the book/, place);
        for (const name of ['book.backup', 'export.book'] as const) {
          const refused = await refusedRequest(desk, name, { toPath: place });
          assert.deepEqual([refused.code, refused.field], ['disk', 'toPath'], place);
          assert.match(refused.message, /There is no folder/, place);
        }
        assert.equal((await refusedRequest(desk, 'book.restore', { fromPath: place })).code, 'not-found', place);
      }
      for (const place of ['\\b.valvebook', '/b.valvebook', 'C:b.valvebook', 'b.valvebook']) {
        const refused = await refusedRequest(desk, 'book.backup', { toPath: place });
        assert.deepEqual([refused.code, refused.field], ['bad-input', 'toPath'], place);
      }
      const device = await refusalOf(() => ground.open('\\\\.\\PhysicalDrive0'));
      assert.match(device.message, /is a device of this computer/);
      assert.equal(existsSync(path.join(ground.folder, 'Bücher')), false);
    },
  },
];

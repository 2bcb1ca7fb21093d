import assert from 'node:assert/strict';
import { readdirSync, statSync } from 'node:fs';
import { homedir } from 'node:os';
import path from 'node:path';
import { dataFolder, defaultBook, demoBook } from '../../../electron/places.ts';
import { call, type Check } from '../check.ts';

// Windows has no mode bits: who may read a file is what its folder says, and a user's own profile says "this user".

export const checks: Check[] = [
  {
    name: "books that are not placed by name lie in the user's own profile",
    async run() {
      const inside = (place: string) => !path.relative(homedir(), place).startsWith('..') && place !== homedir();
      for (const place of [defaultBook(), demoBook(), dataFolder()]) assert.equal(inside(place), true, place);
    },
  },
  {
    name: 'everything written stays writable to its owner (a mode never makes it read-only)',
    async run(ground) {
      const desk = await ground.open(path.join(ground.folder, 'b.valvebook'), { create: true });
      await call(desk, 'book.backup', {});
      await call(desk, 'export.book', {});
      // Mode bits, which Windows makes up, must raise no false alarm, and nothing may be “mended” by them.
      assert.equal((await call(desk, 'book.info', {})).openToOthers, null);
      assert.deepEqual((await call(desk, 'book.makePrivate', {})).changed, []);
      let files = 0;
      for (const entry of readdirSync(ground.folder, { recursive: true, withFileTypes: true })) {
        if (!entry.isFile()) continue;
        files += 1;
        assert.ok(statSync(path.join(entry.parentPath, entry.name)).mode & 0o200, entry.name);
      }
      assert.ok(files >= 5);
      return `${files} files`;
    },
  },
];

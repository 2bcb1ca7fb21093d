import assert from 'node:assert/strict';
import path from 'node:path';
import { REQUESTS } from '../../../core/contract/index.ts';
import { makeDemo } from '../../../electron/demo.ts';
import { call, TODAY, umlautFolder, type Check } from '../check.ts';
import { companyOf, EXAMPLES, type Company } from '../examples.ts';

export const checks: Check[] = [
  {
    name: 'every request of the contract answers with data that fits it',
    async run(ground) {
      const folder = umlautFolder(ground);
      const book = path.join(folder, 'b.valvebook');
      await makeDemo({ path: book, properties: 12, today: TODAY });
      const desk = await ground.open(book);
      const company = await companyOf(desk, folder);
      const faults: string[] = [];
      // The restore comes last: it takes the book back to its backup.
      const all = REQUESTS.toSorted((a, b) => Number(a.name === 'book.restore') - Number(b.name === 'book.restore'));
      for (const { name, output } of all) {
        const example = EXAMPLES[name] as (company: Company) => unknown;
        const reply = await desk.call(name, await example(company));
        if (!reply.ok) faults.push(`${name}: ${reply.error.code}: ${reply.error.message} (${reply.error.field ?? ''})`);
        else {
          const issue = output.safeParse(reply.data).error?.issues[0];
          if (issue !== undefined) faults.push(`${name}: ${issue.path.join('.')}: ${issue.message}`);
        }
      }
      assert.deepEqual(faults, []);
      assert.equal((await call(desk, 'book.check', {})).clean, true);
      return `${all.length} requests`;
    },
  },
];

import { basename } from 'node:path';
import { writeTextFile } from '../store/book-file.ts';
import { readSeal } from '../store/chain-queries.ts';
import { withClosedBook } from './closed-book.ts';
import { readSettings } from '../settings/index.ts';

/** Where the seal of a copy of the book is written down. */
export const sealPathOf = (copyPath: string): string => `${copyPath}.seal.txt`;

/** Writes the seal of a copy of the book into a text file beside it; null where that cannot be done. */
export async function writeSealBeside(copyPath: string, { today }: { today: string }): Promise<string | null> {
  const { count, seal, companyName } = await withClosedBook(copyPath, async ({ db }) => ({
    ...(await readSeal(db)),
    companyName: (await readSettings(db)).companyName,
  }));
  const path = sealPathOf(copyPath);
  const lines = [
    `Seal of the book of ${companyName}, as it stands in ${basename(copyPath)}`,
    `date   ${today}`,
    `count  ${count}`,
    `seal   ${seal}`,
    '',
    `The seal is worked out from all ${count} ledger entries and program revisions of the book.`,
    'Keep these lines outside this machine as well: Company, Book, Seal in Valvebook tells whether any of them was changed since.',
  ];
  try {
    writeTextFile(path, `${lines.join('\r\n')}\r\n`);
    return path;
  } catch {
    return null;
  }
}

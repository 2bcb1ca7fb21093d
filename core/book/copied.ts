import { engine } from '../store/book-engine.ts';
import type { Fact } from '../text/say.ts';

/**
 * What is wrong with a fresh copy that is not wrong with the book it was made of: the damage came in copying, and the copy
 * must not count as one. A book that is damaged itself is copied as it is; its check says so once it is open.
 * @param ofOriginal looks at the book itself; asked only where the copy is not sound
 */
export async function damageInCopying(copyPath: string, ofOriginal: () => Fact[]): Promise<Fact | null> {
  const copy = engine.open(copyPath, 'write');
  let found: Fact | undefined;
  try {
    found = copy.findings()[0];
  } finally {
    await copy.close();
  }
  return found !== undefined && ofOriginal().length === 0 ? found : null;
}

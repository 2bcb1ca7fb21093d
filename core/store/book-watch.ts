import { identityOf, sameFile } from './open-files.ts';

/** The files a running book consists of; what is written while one of them is gone is lost when the last connection closes. */
const PARTS = [
  { end: '', name: 'file' },
  { end: '-wal', name: 'journal' },
  { end: '-shm', name: 'index of the journal' },
] as const;

export interface LostPart {
  path: string;
  name: (typeof PARTS)[number]['name'];
  /** Files of the journal that are still ours: beside an exchanged book they would be taken for its own. */
  leftBehind: string[];
}

/**
 * Remembers which files a book that has just been opened for writing consists of. Returns a look, cheap enough for every
 * write, that says which of them somebody has deleted or exchanged since; null while all is well.
 */
export function watchBook(path: string): () => LostPart | null {
  const parts = PARTS.map(({ end, name }) => ({ path: `${path}${end}`, name, identity: identityOf(`${path}${end}`) }));
  return () => {
    const isOurs = (part: (typeof parts)[number]) => sameFile(identityOf(part.path), part.identity);
    const lost = parts.find((part) => !isOurs(part));
    if (lost === undefined) return null;
    return { path: lost.path, name: lost.name, leftBehind: parts.filter(isOurs).map((part) => part.path) };
  };
}

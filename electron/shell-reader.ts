import type { Reader } from '../core/text/say.ts';
import { readerOf } from './terminal-reader.ts';

// Who reads the menu and the boxes. The page knows (this machine's choice, else the company's) and tells; until it has,
// and where no book is open, it is the language of the machine.

let reader: Reader = readerOf([]).reader;

export const shellReader = (): Reader => reader;

/** @returns whether the language is another than before, so that the menu has to be made anew */
export function setShellReader(next: Reader): boolean {
  const changed = next.language !== reader.language;
  reader = next;
  return changed;
}

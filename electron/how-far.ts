import type { Progress } from '../core/contract/index.ts';
import { PLAIN_READER, sayFact, type Reader } from '../core/text/say.ts';

/** A line when something else begins, and one for every tenth of it. */
export function sayingHowFar(
  print: (text: string) => void,
  reader: Reader = PLAIN_READER,
): (progress: Progress) => void {
  let last = '';
  return ({ done, total, label, text: told }) => {
    const doing = told === undefined ? label : sayFact(reader, told);
    const tenth = total > 0 ? Math.floor((10 * done) / total) : 0;
    const text = tenth === 0 ? `${doing} …` : `${doing}: ${tenth * 10} %`;
    if (text !== last) print(text);
    last = text;
  };
}

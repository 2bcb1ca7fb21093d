import type { Progress } from '../core/contract/index.ts';

/** A line when something else begins, and one for every tenth of it. */
export function sayingHowFar(say: (text: string) => void): (progress: Progress) => void {
  let last = '';
  return ({ done, total, label }) => {
    const tenth = total > 0 ? Math.floor((10 * done) / total) : 0;
    const text = tenth === 0 ? `${label} …` : `${label}: ${tenth * 10} %`;
    if (text !== last) say(text);
    last = text;
  };
}

import type { JobContext } from '../../context.ts';
import { oddTexts } from '../check-queries.ts';
import type { Db } from '../../store/tables.ts';
import { Check } from './check.ts';
import { fact } from '../../text/say.ts';

/** Dates, moments and stored settings that no reader could make sense of. */
export async function checkOddTexts(context: JobContext, db: Db): Promise<Check> {
  const check = new Check(fact('check.of.texts'));
  for await (const { what, looked, odd } of oddTexts(db)) {
    context.checkCancelled();
    context.progress(check.looked, 0, fact('book.checkingDates'));
    check.looked += looked;
    for (const { table, key, column, value } of odd) {
      check.find(
        what === 'json'
          ? fact('check.textNotJson', { table, key, column })
          : fact('check.textNoDay', { table, key, column, value, what }),
      );
    }
  }
  return check;
}

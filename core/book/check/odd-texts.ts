import type { JobContext } from '../../context.ts';
import { oddTexts } from '../check-queries.ts';
import type { Db } from '../../store/tables.ts';
import { Check } from './check.ts';
import { fact } from '../../text/say.ts';

/** Dates, moments and stored settings that no reader could make sense of. */
export async function checkOddTexts(context: JobContext, db: Db): Promise<Check> {
  const check = new Check('Every date is one of the calendar, and every stored setting can be read');
  for await (const { what, looked, odd } of oddTexts(db)) {
    context.checkCancelled();
    context.progress(check.looked, 0, fact('book.checkingDates'));
    check.looked += looked;
    for (const { table, key, column, value } of odd) {
      check.find(
        what === 'json'
          ? `The ${table} ${key}: its ${column} cannot be read (it is not JSON).`
          : `The ${table} ${key}: its ${column}, “${value}”, is no ${what === 'day' ? 'day of the calendar from 1900 to 2199' : 'moment in time'}.`,
      );
    }
  }
  return check;
}

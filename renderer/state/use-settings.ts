import { todayIn } from '../../core/dates.ts';
import type { UnitSystem } from '../../core/units.ts';
import { currentReader } from './say.ts';
import { useRequest } from './use-request.ts';

/** The company's settings, once read. */
export function useSettings() {
  return useRequest('settings.get', {}).data;
}

/** The units people read and type: the reader's own, drawn anew when they change (app.tsx). */
export function useUnits(): UnitSystem {
  return currentReader().units;
}

/** The book's today (the host may be told another day than the clock's). */
export function useToday(): string {
  return useRequest('book.today', {}).data?.today ?? todayIn();
}

import { todayIn } from '../../core/dates.ts';
import type { UnitSystem } from '../../core/units.ts';
import { useRequest } from './use-request.ts';

/** The company's settings, once read. */
export function useSettings() {
  return useRequest('settings.get', {}).data;
}

/** The units people read and type. */
export function useUnits(): UnitSystem {
  return useSettings()?.units ?? 'us';
}

/** The book's today (the host may be told another day than the clock's). */
export function useToday(): string {
  return useRequest('book.info', {}).data?.today ?? todayIn();
}

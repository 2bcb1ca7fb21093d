import { formatCount } from './format.ts';
import { sayTold } from '../state/say.ts';

/** What imports count, by the counter each stands for. */
const COUNTERS: Readonly<Record<string, string>> = {
  clients: 'client',
  properties: 'property',
  routes: 'route',
  controllers: 'controller',
  sensors: 'sensor',
  zones: 'zone',
  programs: 'program',
  ledgerEntries: 'ledgerEntry',
  weatherDays: 'weatherDay',
  weatherDaysReplaced: 'weatherDayReplaced',
};

/** A counter's name beside its figure: client of 1, technicians of 8. A table without a name of its own is shown as it is written. */
export function countedWords(name: string, count: number): string {
  const key = `count.${COUNTERS[name] ?? name}`;
  const said = sayTold({ key, given: { count } });
  return said === key ? countWords(name) : said;
}

/** A counter's name without a figure: "ledger entries"; a table's name in words where it has none. */
export function countWords(name: string): string {
  const key = `count.${COUNTERS[name] ?? name}`;
  const said = sayTold({ key, given: { count: 2 } });
  if (said !== key) return said;
  return name
    .replace(/([a-z])([A-Z])/g, '$1 $2')
    .replaceAll(/[_-]/g, ' ')
    .toLowerCase();
}

/** A counter with its figure: "1 client", "3 ledger entries". */
export const countedFigure = (name: string, count: number) => `${formatCount(count)} ${countedWords(name, count)}`;

import { PLAIN_READER, say } from '../text/say.ts';
import type { Language } from '../text/words.ts';
import type { TableName } from './export-queries.ts';

/** The unit that a column's name tells. */
const UNITS = [
  [/InPerHour$/, 'inPerHour'],
  [/Inches$/, 'inches'],
  [/Ft2$/, 'ft2'],
  [/Ft$/, 'ft'],
  [/Gpm$/, 'gpm'],
  [/Psi$/, 'psi'],
  [/Cfm$/, 'cfm'],
  [/Mph$/, 'mph'],
  [/Minutes$|minutesFrom|minutesTo/, 'minutes'],
  [/Percent$|Pct$/, 'percent'],
  [/Deg$/, 'degrees'],
  [/MjM2$/, 'mjM2'],
  [/(tmax|tmin|SetPoint)F$/, 'f'],
  [/^(date|doneOn|effectiveDate|startedUpOn|winterizedOn|base.*On|.*Date|.*TestDue)$/, 'date'],
  [/^(recordedAt|at)$/, 'moment'],
  [/^(window(From|To)|day(Start|End))$/, 'time'],
  [/^(plantFactor|.*[dD]istributionUniformity)$/, 'share'],
  [/^(archived|retired|active|enabled|locked|betweenHouses|services.*|lastCheckPassed)$/, 'yesNo'],
] as const satisfies readonly (readonly [ending: RegExp, unit: string])[];

/** The text that explains an export to somebody who has only the zip. */
export function exportReadme(
  { companyName, language }: { companyName: string; language: Language },
  at: string,
  columns: ReadonlyMap<TableName, readonly string[]>,
  counts: ReadonlyMap<TableName, number>,
  { count, seal }: { count: number; seal: string },
): string {
  // Figures stand in the book's own units, whoever reads.
  const reader = { ...PLAIN_READER, language };
  const lines = [
    say(reader, 'export.title', { company: companyName, at }),
    '',
    say(reader, 'export.csv'),
    say(reader, 'export.quotes'),
    say(reader, 'export.formulas'),
    say(reader, 'export.ids'),
    say(reader, 'export.figures'),
    '',
    say(reader, 'export.seal', { count, seal }),
    say(reader, 'export.sealProves'),
  ];
  for (const [table, names] of columns) {
    lines.push(
      '',
      say(reader, 'export.table', { table, rows: counts.get(table) ?? 0 }),
      say(reader, `export.about.${table}`),
    );
    for (const name of names) {
      const unit = UNITS.find(([ending]) => ending.test(name))?.[1];
      lines.push(unit === undefined ? `  ${name}` : `  ${name}: ${say(reader, `export.unit.${unit}`)}`);
    }
  }
  return `${lines.join('\r\n')}\r\n`;
}

import { readdirSync, readFileSync } from 'node:fs';
import { parseSync } from 'oxc-parser';
import { describe, expect, it } from 'vitest';

// What fits a screen is read as one thought: no function over 150 lines (from its first line to its last), no line over
// 140 characters. The limits are this project's own, common practice, no source.

const MOST_LINES = 150;
const MOST_CHARACTERS = 140;

/** Not told in parts yet: "file function". Whoever mends one takes it off; nothing is ever added. */
const STILL_LONG: readonly string[] = [
  'core/demo/history.ts historyOf',
  'renderer/charts/depletion-trace.tsx Drawing',
  'renderer/charts/season-ribbon.tsx SeasonRibbon',
  'renderer/charts/water-week.tsx WaterWeekDrawing',
  'renderer/company/book-page.tsx BookPage',
  'renderer/company/people-page.tsx PeoplePage',
  'renderer/company/settings-page.tsx SettingsPage',
  'renderer/company/thumb-rules.tsx ThumbRules',
  'renderer/field/stop-page.tsx StopPage',
  'renderer/field/visit-bar.tsx VisitBar',
  'renderer/office/calendar/calendar-page.tsx CalendarPage',
  'renderer/office/calendar/use-calendar-actions.ts useCalendarActions',
  'renderer/office/import/use-import.ts useImport',
  'renderer/office/list/client-list-pane.tsx ClientListPane',
  'renderer/office/program-review/accept-dialog.tsx AcceptDialog',
  'renderer/office/program-review/catch-can-sheet.tsx CatchCanSheet',
  'renderer/office/program-review/review-body.tsx ReviewBody',
  'renderer/office/program-review/review-table.tsx ZoneRows',
  'renderer/office/property/log/book-visit-dialog.tsx BookVisitDialog',
  'renderer/office/property/log/log-work-dialog.tsx LogWorkDialog',
  'renderer/parts/edit-grid.tsx EditGrid',
  'renderer/parts/path-dialog.tsx PathDialog',
];
/** Files with lines still to be broken. */
const STILL_WIDE: readonly string[] = [
  'core/agronomy/eto-equations.ts',
  'core/agronomy/plant-need.ts',
  'core/agronomy/soil.ts',
  'core/book/check-queries.ts',
  'core/book/check/ledger-pass.ts',
  'core/book/contract.ts',
  'core/book/files.ts',
  'core/book/privacy.ts',
  'core/book/sweep.ts',
  'core/contract/parts.ts',
  'core/contract/places.ts',
  'core/csv/records.ts',
  'core/demo/weather-days.ts',
  'core/due/contract.ts',
  'core/import/address.ts',
  'core/import/cell-values.ts',
  'core/import/client-row.ts',
  'core/import/plan.ts',
  'core/import/queries.ts',
  'core/import/source.ts',
  'core/ledger/standing-queries.ts',
  'core/programs/queries.ts',
  'core/programs/review.ts',
  'core/programs/seasonal-table.ts',
  'core/programs/zone-run.ts',
  'core/properties/contract.ts',
  'core/properties/queries.ts',
  'core/recording/contract.ts',
  'core/recording/record.ts',
  'core/recording/visit-after.ts',
  'core/store/chain-upgrade.ts',
  'core/weather/ghcn.ts',
  'electron/loopback-body.ts',
  'electron/release-settings.ts',
  'renderer/field/entry-words.ts',
  'renderer/field/glyphs.tsx',
  'renderer/office/import/import-lists.ts',
  'renderer/office/list/client-list-pane.tsx',
  'renderer/office/list/use-client-rows.ts',
  'renderer/office/program-review/can-volumes.ts',
  'renderer/parts/edit-grid.tsx',
  'renderer/state/tabs.ts',
  'renderer/state/toasts.ts',
];
/** Lines that cannot be broken, by what they hold, each with its reason. */
const UNBREAKABLE: ReadonlyArray<{ file: string; holds: string; why: string }> = [];

interface Long {
  name: string;
  lines: number;
}
type SyntaxNode = Record<string, unknown> & { type: string; start: number; end: number };

const isNode = (value: unknown): value is SyntaxNode =>
  typeof value === 'object' && value !== null && typeof (value as { type?: unknown }).type === 'string';
const nameIn = (value: unknown) => (isNode(value) && typeof value['name'] === 'string' ? value['name'] : undefined);

/** Every function longer than `most` lines, also one inside another, by its name or by what it is given to. */
function longFunctions(file: string, text: string, most: number): Long[] {
  const { program, errors } = parseSync(file, text);
  if (errors.length > 0) throw new Error(`${file} cannot be read: ${errors[0]?.message}`);
  const lineAt = (offset: number) => text.slice(0, offset).split('\n').length;
  const found: Long[] = [];
  const visit = (value: unknown, givenTo: string): void => {
    if (Array.isArray(value)) {
      for (const item of value) visit(item, givenTo);
      return;
    }
    if (!isNode(value)) return;
    const own = nameIn(value['id']) ?? nameIn(value['key']) ?? givenTo;
    if (/^(?:FunctionDeclaration|FunctionExpression|ArrowFunctionExpression)$/.test(value.type)) {
      const lines = lineAt(value.end) - lineAt(value.start) + 1;
      if (lines > most) found.push({ name: own, lines });
    }
    for (const part of Object.values(value)) visit(part, own);
  };
  visit(program, 'a function without a name');
  return found;
}
/** Lines, counted from 1, of more than `most` characters. */
const wideLines = (text: string, most: number) =>
  text.split(/\r?\n/).flatMap((line, index) => ([...line].length > most ? [{ number: index + 1, line }] : []));

const FILES = ['core', 'electron', 'renderer'].flatMap((folder) =>
  readdirSync(folder, { recursive: true, encoding: 'utf8' })
    .filter((name) => /\.tsx?$/.test(name))
    .map((name) => `${folder}/${name.replaceAll('\\', '/')}`),
);

describe('the measure', () => {
  const six = (open: string, close: string) => `${open}\n  1;\n  2;\n  3;\n  4;\n${close}`;
  it.each([
    ['a declaration', six('function told() {', '}'), 'told'],
    ['an arrow function', six('export const told = () => {', '};'), 'told'],
    ['a function given to another', six('const told = useMemo(() => {', '}, []);'), 'told'],
    ['a method', `class Shelf {\n${six('told() {', '}')}\n}`, 'told'],
    ['a member of an object', `const shelf = {\n${six('told: async () => {', '},')}\n};`, 'told'],
    ['a component', 'const Told = () => (\n  <p>\n    1\n    2\n    3\n  </p>\n);', 'Told'],
    ['one inside another', six(`function outer() {\n${six('const inner = () => {', '};')}`, '}'), 'inner'],
  ])('finds %s of more than five lines', (_what, text, name) => {
    expect(longFunctions('told.tsx', text, 5).map((one) => one.name)).toContain(name);
  });
  it('counts the first and the last line, and lets one of exactly the most lines be', () => {
    expect(longFunctions('told.ts', six('function told() {', '}'), 5)).toEqual([{ name: 'told', lines: 6 }]);
    expect(longFunctions('told.ts', six('function told() {', '}'), 6)).toEqual([]);
  });
  it('counts characters, not the units that write them', () => {
    expect(wideLines(`${'𝄞'.repeat(5)}\n${'x'.repeat(6)}\r\n`, 5)).toEqual([{ number: 2, line: 'xxxxxx' }]);
  });
});

describe('core, electron and renderer', () => {
  it(`hold no function over ${MOST_LINES} lines`, () => {
    const long = FILES.flatMap((file) =>
      longFunctions(file, readFileSync(file, 'utf8'), MOST_LINES).map((one) => ({ ...one, id: `${file} ${one.name}` })),
    );
    expect(long.filter(({ id }) => !STILL_LONG.includes(id)).map(({ id, lines }) => `${id}: ${lines} lines`)).toEqual(
      [],
    );
    expect(
      STILL_LONG.filter((id) => !long.some((one) => one.id === id)),
      'mended: take it off the list',
    ).toEqual([]);
  });

  it(`hold no line over ${MOST_CHARACTERS} characters, texts for people aside`, () => {
    const wide = FILES.filter((file) => !file.startsWith('core/text/')).flatMap((file) =>
      wideLines(readFileSync(file, 'utf8'), MOST_CHARACTERS).map((one) => ({ file, ...one })),
    );
    const excused = (one: { file: string; line: string }) =>
      UNBREAKABLE.find(({ file, holds }) => file === one.file && one.line.includes(holds));
    const open = wide.filter((one) => excused(one) === undefined);
    expect(open.filter(({ file }) => !STILL_WIDE.includes(file)).map((one) => `${one.file}:${one.number}`)).toEqual([]);
    expect(
      STILL_WIDE.filter((file) => !open.some((one) => one.file === file)),
      'mended: take it off the list',
    ).toEqual([]);
    expect(
      UNBREAKABLE.filter((one) => !wide.some((line) => excused(line) === one)),
      'holds for no line any more',
    ).toEqual([]);
  });
});

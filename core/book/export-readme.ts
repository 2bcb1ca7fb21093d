import type { TableName } from './export-queries.ts';

const ABOUT: Record<TableName, string> = {
  client: 'Who pays: households, associations, businesses. searchText and sortName are made from the other columns.',
  property:
    'Served sites. searchText is made from the other columns; baseBackflowTestDue is what the office entered, backflowTestDue what follows from it and the tests in the ledger.',
  controller: 'The boxes that run valves by a program.',
  zone: 'One valve and what it waters. prInputs is JSON. What the office said of the rate is kept in basePrMethod, basePrecipitationRateInPerHour and baseDistributionUniformity, since the day baseRateOn (none = before all work) and the link baseRatePlace; prMethod, precipitationRateInPerHour and distributionUniformity are that, or what the latest catch-can audit after it measured.',
  sensor:
    'Rain and freeze sensors. The columns that begin with base are what the office entered, and when; batteryDate and the set points follow from that and the ledger, lastCheckDate, lastCheckPassed, lastSignal and cellsGood from the ledger.',
  program: 'Programs of controllers; what they say stands in programRevision.',
  programRevision:
    'Every dated revision of a program. days and startTimes are JSON. A revision with voidedByEntryId is history only.',
  programRun: 'Run minutes per zone of a revision.',
  visit: 'Planned, done and cancelled visits.',
  ledgerEntry:
    'Work done; never changed afterwards. detail is JSON. An entry with correctsId corrects that one (correction: replace, or void = it did not happen).',
  chainHead: 'The end of each property’s chain: the place and hash of its latest ledger entry or program revision.',
  ledgerChain:
    'How many ledger entries and program revisions the book holds; how many of them were chained by an upgrade, and when.',
  finding:
    'Findings that stand: id is the entry that first said it, entryId the one that says it now, closedByEntryId the repair or decision that closed it (none = open). Follows from the ledger.',
  season: 'Start-up and winterization of a property by year; follows from the ledger.',
  technician: 'The people. skills and workWeekdays (1 = Monday) are JSON.',
  truck: 'The trucks.',
  route: 'The routes properties belong to.',
  restriction: 'Watering restrictions of water providers. stages is JSON.',
  thumbRule: 'The company’s own rules of thumb for run minutes.',
  weatherStation: 'Weather stations. normals is JSON: January to December.',
  weatherDay: 'Daily weather records.',
  setting: 'The company’s settings, as JSON.',
  importMapping: 'How columns of imported lists were matched.',
  writeLog: 'Ids of changes already made, so that a repeated one is made once.',
};

const UNITS: readonly (readonly [ending: RegExp, unit: string])[] = [
  [/InPerHour$/, 'inches an hour'],
  [/Inches$/, 'inches'],
  [/Ft2$/, 'square feet'],
  [/Ft$/, 'feet'],
  [/Gpm$/, 'gallons a minute'],
  [/Psi$/, 'psi'],
  [/Cfm$/, 'cubic feet a minute'],
  [/Mph$/, 'miles an hour'],
  [/Minutes$|minutesFrom|minutesTo/, 'minutes'],
  [/Percent$|Pct$/, 'percent'],
  [/Deg$/, 'degrees (north and east positive)'],
  [/MjM2$/, 'megajoules a square metre a day'],
  [/(tmax|tmin|SetPoint)F$/, 'degrees Fahrenheit'],
  [/^(date|doneOn|effectiveDate|startedUpOn|winterizedOn|base.*On|.*Date|.*TestDue)$/, 'date, YYYY-MM-DD'],
  [/^(recordedAt|at)$/, 'moment, UTC'],
  [/^(window(From|To)|day(Start|End))$/, 'local time, HH:MM'],
  [/^(plantFactor|.*[dD]istributionUniformity)$/, 'share, 0 to 1'],
  [/^(archived|retired|active|enabled|locked|betweenHouses|services.*|lastCheckPassed)$/, '1 = yes, 0 = no'],
];

/** The text that explains an export to somebody who has only the zip. */
export function exportReadme(
  companyName: string,
  at: string,
  columns: ReadonlyMap<string, readonly string[]>,
  counts: ReadonlyMap<string, number>,
  { count, seal }: { count: number; seal: string },
): string {
  const lines = [
    `${companyName}: everything in the book, written ${at}`,
    '',
    'One CSV file a table: UTF-8 with a byte-order mark, comma, \\r\\n at the end of a line, a header line (RFC 4180).',
    'Text stands in quotation marks, numbers do not. Nothing between two commas = not known; "" = an empty text.',
    'Text that a spreadsheet could take for a formula (it begins with = + - @, also after blanks or in full width, or with a tab or line break) has one apostrophe before it; importing takes it off again.',
    'Rows belong together by their ids: property.clientId is the id of a row of client.csv, and so on.',
    'Figures are in the units named below, whatever units the screens show.',
    '',
    `Seal of the book over ${count} ledger entries and program revisions: ${seal}`,
    'It proves whether any of them was changed later: Valvebook checks it against the book (Company, Book, Check), and DEVELOPERS.md says how anyone can work it out from these files.',
  ];
  for (const [table, names] of columns) {
    lines.push('', `${table}.csv  (${counts.get(table) ?? 0} rows)`, ABOUT[table as TableName] ?? '');
    for (const name of names) {
      const unit = UNITS.find(([ending]) => ending.test(name))?.[1];
      lines.push(unit ? `  ${name}: ${unit}` : `  ${name}`);
    }
  }
  return `${lines.join('\r\n')}\r\n`;
}

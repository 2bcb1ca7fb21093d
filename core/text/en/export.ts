import type { Room } from '../room.ts';

// The README of an export. Names of tables and columns are those of the files, in every language.

export const exported = {
  'export.title': (_words, given: { company: string; at: string }) =>
    `${given.company}: everything in the book, written ${given.at}`,
  'export.csv':
    'One CSV file a table: UTF-8 with a byte-order mark, comma, \\r\\n at the end of a line, a header line (RFC 4180).',
  'export.quotes':
    'Text stands in quotation marks, numbers do not. Nothing between two commas = not known; "" = an empty text.',
  'export.formulas':
    'Text that a spreadsheet could take for a formula (it begins with = + - @, also after blanks or in full width, or with a tab or line break) has one apostrophe before it; importing takes it off again.',
  'export.ids': 'Rows belong together by their ids: property.clientId is the id of a row of client.csv, and so on.',
  'export.figures': 'Figures are in the units named below, whatever units the screens show.',
  'export.sealProves':
    'It proves whether any of them was changed later: Valvebook checks it against the book (Company, Book, Check), and DEVELOPERS.md says how anyone can work it out from these files.',
  'export.seal': (words, given: { count: number; seal: string }) =>
    `Seal of the book over ${words.plural(given.count, { one: '# ledger entry or program revision', other: '# ledger entries and program revisions' })}: ${given.seal}`,
  'export.table': (words, given: { table: string; rows: number }) =>
    `${given.table}.csv  (${words.plural(given.rows, { one: '# row', other: '# rows' })})`,
  'export.about.client':
    'Who pays: households, associations, businesses. searchText and sortName are made from the other columns.',
  'export.about.property':
    'Served sites. searchText is made from the other columns; baseBackflowTestDue is what the office entered, backflowTestDue what follows from it and the tests in the ledger.',
  'export.about.controller': 'The boxes that run valves by a program.',
  'export.about.zone':
    'One valve and what it waters. prInputs is JSON. What the office said of the rate is kept in basePrMethod, basePrecipitationRateInPerHour and baseDistributionUniformity, since the day baseRateOn (none = before all work) and the link baseRatePlace; prMethod, precipitationRateInPerHour and distributionUniformity are that, or what the latest catch-can audit after it measured.',
  'export.about.sensor':
    'Rain and freeze sensors. The columns that begin with base are what the office entered, and when; batteryDate and the set points follow from that and the ledger, lastCheckDate, lastCheckPassed, lastSignal and cellsGood from the ledger.',
  'export.about.program': 'Programs of controllers; what they say stands in programRevision.',
  'export.about.programRevision':
    'Every dated revision of a program. days and startTimes are JSON. A revision with voidedByEntryId is history only.',
  'export.about.programRun': 'Run minutes per zone of a revision.',
  'export.about.visit': 'Planned, done and cancelled visits.',
  'export.about.ledgerEntry':
    'Work done; never changed afterwards. detail is JSON. An entry with correctsId corrects that one (correction: replace, or void = it did not happen).',
  'export.about.chainHead':
    'The end of each property’s chain: the place and hash of its latest ledger entry or program revision.',
  'export.about.ledgerChain':
    'How many ledger entries and program revisions the book holds; how many of them were chained by an upgrade, and when.',
  'export.about.finding':
    'Findings that stand: id is the entry that first said it, entryId the one that says it now, closedByEntryId the repair or decision that closed it (none = open). Follows from the ledger.',
  'export.about.season': 'Start-up and winterization of a property by year; follows from the ledger.',
  'export.about.technician': 'The people. skills and workWeekdays (1 = Monday) are JSON.',
  'export.about.truck': 'The trucks.',
  'export.about.route': 'The routes properties belong to.',
  'export.about.restriction': 'Watering restrictions of water providers. stages is JSON.',
  'export.about.thumbRule': 'The company’s own rules of thumb for run minutes.',
  'export.about.weatherStation': 'Weather stations. normals is JSON: January to December.',
  'export.about.weatherDay': 'Daily weather records.',
  'export.about.setting': 'The company’s settings, as JSON.',
  'export.about.importMapping': 'How columns of imported lists were matched.',
  'export.about.writeLog': 'Ids of changes already made, so that a repeated one is made once.',
  'export.unit.inPerHour': 'inches an hour',
  'export.unit.inches': 'inches',
  'export.unit.ft2': 'square feet',
  'export.unit.ft': 'feet',
  'export.unit.gpm': 'gallons a minute',
  'export.unit.psi': 'psi',
  'export.unit.cfm': 'cubic feet a minute',
  'export.unit.mph': 'miles an hour',
  'export.unit.minutes': 'minutes',
  'export.unit.percent': 'percent',
  'export.unit.degrees': 'degrees (north and east positive)',
  'export.unit.mjM2': 'megajoules a square metre a day',
  'export.unit.f': 'degrees Fahrenheit',
  'export.unit.date': 'date, YYYY-MM-DD',
  'export.unit.moment': 'moment, UTC',
  'export.unit.time': 'local time, HH:MM',
  'export.unit.share': 'share, 0 to 1',
  'export.unit.yesNo': '1 = yes, 0 = no',
} satisfies Room;

import type { Room } from '../room.ts';
import type { Words } from '../words.ts';

/** A value as a file holds it; null = none. */
type Held = string | null;
type Differing = { thing: 'sensor' | 'zone' | 'finding' | 'season'; id: string; year: number | null; column: string };
const THINGS = { sensor: 'Sensor', zone: 'Zone', finding: 'Finding' } as const;
const held = (value: Held) => value ?? 'nothing';
const lowered = (text: string) => text[0]!.toLowerCase() + text.slice(1);
const where = ({ thing, id, year }: Differing) =>
  thing === 'season' ? `Season ${year} of property ${id}` : `${THINGS[thing]} ${id}`;
const sealOf = ({ date, seal }: { date: string | null; seal: string }) =>
  `The seal ${date === null ? '' : `of ${date}, `}${seal}…,`;
const links = (words: Words, count: number) =>
  words.plural(count, { one: '# ledger entry or program revision', other: '# ledger entries and program revisions' });
type Seal = { date: string | null; seal: string; count: number };

export const check = {
  'check.of.file': 'The file is whole and nothing points at what does not exist',
  'check.of.layout': 'The book’s tables and guards are as Valvebook made them',
  'check.of.past': 'The past is as it was sealed in',
  'check.of.seals': 'Seals noted earlier are found again',
  'check.of.corrections': 'Every correction points at an entry of its own kind and property',
  'check.of.entries': 'Every ledger entry can be read',
  'check.of.sensors': 'Battery dates, sensor checks and set points agree with the ledger',
  'check.of.zones': 'Zone rates are the office’s, or what the latest catch-can test measured',
  'check.of.backflow': 'Backflow test dates agree with the ledger',
  'check.of.seasons': 'Seasons agree with the start-ups and winterizations in the ledger',
  'check.of.findings': 'Findings are open or closed as the ledger says',
  'check.of.programs': 'Program revisions are complete and agree with the ledger',
  'check.of.visits': 'Visits agree with what was logged on them',
  'check.of.values': 'Every row holds values that are allowed, and can be found by search',
  'check.of.texts': 'Every date is one of the calendar, and every stored setting can be read',
  'check.screenShut': (_words, given: { request: string }) =>
    `the screens that ask for “${given.request}” would not open.`,
  'check.notToEnd': 'it cannot be read to its end.',
  'check.more': (words, given: { count: number }) => `… and ${words.count(given.count)} more of this kind.`,
  'check.openToOthers': (_words, given: { others: 'read' | 'change'; path: string; mode: string }) =>
    `Other users of this machine may ${given.others} ${given.path} (mode ${given.mode}). Company → Book → Make it private.`,

  'check.damaged': (_words, given: { said: string }) => `The file is damaged: ${given.said}.`,
  'check.dangling': (_words, given: { table: string; row: number | null; parent: string }) =>
    `A row of ${given.table} (row ${given.row ?? 'without number'}) points at a ${given.parent} that does not exist.`,

  'check.layoutVersion': (_words, given: { version: number }) =>
    `The book says its layout is version ${given.version}, which there is not in this Valvebook. Restore a backup.`,
  'check.encoding': (_words, given: { encoding: string }) =>
    `The book keeps its texts as ${given.encoding}; Valvebook keeps them as UTF-8. Restore a backup made before.`,
  'check.partMissing': (_words, given: { type: string; name: string }) =>
    `The ${given.type} ${given.name} is missing${given.type === 'trigger' ? ', so the past could be changed' : ''}. Restore a backup made before.`,
  'check.partExchanged': (_words, given: { type: string; name: string; other: string }) =>
    `In place of the ${given.type} ${given.name} there is a ${given.other} of that name. Restore a backup made before.`,
  'check.partChanged': (_words, given: { type: string; name: string }) =>
    `The ${given.type} ${given.name} is not as Valvebook made it${given.type === 'trigger' ? ', so the past could be changed' : ''}. Restore a backup made before.`,
  'check.partAdded': (_words, given: { type: string; name: string; table: string | null }) =>
    `There is ${given.type === 'index' ? 'an' : 'a'} ${given.type} ${given.name}${given.table === null ? '' : ` (of ${given.table})`} that Valvebook did not make. Restore a backup made before it.`,

  'check.entry': (_words, given: { id: string; propertyId: string; kind: string; doneOn: string }) =>
    `Ledger entry ${given.id} of property ${given.propertyId} (${given.kind}, ${given.doneOn})`,
  'check.revision': (_words, given: { id: string; propertyId: string; number: number; from: string }) =>
    `Program revision ${given.id} of property ${given.propertyId} (number ${given.number}, from ${given.from})`,
  'check.noPlace': (_words, given: { inner: string }) =>
    `${given.inner} has no place in the chain: it was put into the file past Valvebook.`,
  'check.oneMissing': (_words, given: { inner: string; number: number }) =>
    `Number ${given.number} of the book is missing: a ledger entry or program revision was taken out, before ${lowered(given.inner)}.`,
  'check.someMissing': (_words, given: { inner: string; from: number; to: number }) =>
    `Numbers ${given.from} to ${given.to} of the book are missing: ${given.to - given.from + 1} ledger entries or program revisions were taken out, before ${lowered(given.inner)}.`,
  'check.wrongNumber': (_words, given: { inner: string; number: number; next: number }) =>
    `${given.inner} has number ${given.number} of the book, which cannot be: number ${given.next} comes next.`,
  'check.notSealed': (_words, given: { inner: string }) => `${given.inner}: what it says is not what was sealed in.`,
  'check.notFollowing': (_words, given: { inner: string }) =>
    `${given.inner} does not follow what stands before it in its property’s chain: something there was changed, taken out or put in.`,
  'check.otherZones': (words, given: { inner: string; made: number; has: number }) =>
    `${given.inner} was made with ${words.plural(given.made, { one: '# zone', other: '# zones' })} and has ${given.has}.`,
  'check.lastMissing': (words, given: { counts: number | null; holds: number }) =>
    `The book counts ${given.counts === null ? 'nothing' : links(words, given.counts)}, and holds ${given.holds}: the last ones were taken out or put in past Valvebook.`,
  'check.sameNumber': (_words, given: { inFile: number; met: number }) =>
    `${given.inFile} ledger entries and program revisions are in the file, and ${given.met} were met in the order of recording: two have one number.`,
  'check.otherEnd': (_words, given: { propertyId: string; ends: number; shouldEnd: number }) =>
    `Property ${given.propertyId}: its chain ends at place ${given.ends}, and should end at ${given.shouldEnd} with another entry or revision: its latest were changed, taken out or put in.`,
  'check.noEnd': (_words, given: { propertyId: string }) =>
    `Property ${given.propertyId}: the book keeps no end of its chain, though it has one.`,
  'check.revisionElsewhere': (_words, given: { id: string; propertyId: string; programAt: string }) =>
    `Program revision ${given.id} was made at property ${given.propertyId}, but its program stands at ${given.programAt}.`,
  'check.sealCountsMore': (words, given: Seal & { holds: number }) =>
    `${sealOf(given)} counts ${links(words, given.count)}, and this book holds ${given.holds}: later ones were taken out, an older backup was put back, or the seal is of another book.`,
  'check.sealDiffers': (words, given: Seal) =>
    `${sealOf(given)} is not what this book gives up to its first ${links(words, given.count)}: something recorded until then was changed since, or the seal is of another book.`,
  'check.beginning': 'What the book keeps about the beginning of its chain was changed past Valvebook.',

  'check.correctsNothing': (_words, given: { id: string; correctsId: string }) =>
    `Ledger entry ${given.id} corrects ${given.correctsId}, which is not in the ledger.`,
  'check.correctsOtherKind': (_words, given: { id: string; kind: string; correctsId: string; otherKind: string }) =>
    `Ledger entry ${given.id} (${given.kind}) corrects ${given.correctsId}, which is of another kind (${given.otherKind}).`,
  'check.correctsElsewhere': (_words, given: { id: string; correctsId: string }) =>
    `Ledger entry ${given.id} corrects ${given.correctsId}, which belongs to another property.`,
  'check.correctsItself': (_words, given: { id: string }) => `Ledger entry ${given.id} corrects itself.`,
  'check.correctedTwice': (_words, given: { id: string; by: string; and: string }) =>
    `Ledger entry ${given.id} is corrected twice, by ${given.by} and ${given.and}.`,
  'check.halfCorrection': (_words, given: { id: string }) =>
    `Ledger entry ${given.id} names a correction without saying of what, or the other way round.`,
  'check.entryNotJson': (_words, given: { id: string }) =>
    `Ledger entry ${given.id}: what it says cannot be read (it is not JSON).`,
  'check.entryOdd': (_words, given: { id: string; kind: string; field: Held; inner: string }) =>
    `Ledger entry ${given.id} (${given.kind}): ${given.field ?? 'its content'} ${given.inner}.`,
  'check.filedKind': (_words, given: { id: string; filed: string; says: string }) =>
    `Ledger entry ${given.id} is filed as ${given.filed} and says ${given.says}.`,
  'check.filedSensor': (_words, given: { id: string; filed: Held; says: Held }) =>
    `Ledger entry ${given.id} is filed under sensor ${given.filed ?? 'none'} and says ${given.says ?? 'none'}.`,
  'check.filedZone': (_words, given: { id: string; filed: Held; says: Held }) =>
    `Ledger entry ${given.id} is filed under zone ${given.filed ?? 'none'} and says ${given.says ?? 'none'}.`,

  'check.differs': (_words, given: Differing & { is: Held; should: Held }) =>
    `${where(given)}: ${given.column} says ${held(given.is)}, ${given.thing === 'zone' ? 'by the office and the ledger it is' : 'the ledger says'} ${held(given.should)}.`,
  'check.backflowDiffers': (_words, given: { propertyId: string; is: Held; should: Held }) =>
    `Property ${given.propertyId}: the next backflow test says ${held(given.is)}, the ledger says ${held(given.should)}.`,
  'check.seasonAlone': (_words, given: { propertyId: string; year: number }) =>
    `Season ${given.year} of property ${given.propertyId} is kept, but no start-up or winterization in the ledger stands behind it.`,
  'check.noSeason': (_words, given: { entryId: string; propertyId: string; year: string }) =>
    `Ledger entry ${given.entryId} has no season ${given.year} of property ${given.propertyId} behind it.`,
  'check.findingAlone': (_words, given: { id: string }) =>
    `Finding ${given.id} is kept, but no entry in the ledger stands behind it.`,
  'check.noFinding': (_words, given: { entryId: string; id: string }) =>
    `Ledger entry ${given.entryId} is a finding that is not kept as one (${given.id}).`,
  'check.closesNoFinding': (_words, given: { id: string; findingId: string }) =>
    `Ledger entry ${given.id} says that it closes ${given.findingId}, which is not the first version of a finding.`,
  'check.closesElsewhere': (_words, given: { id: string; findingId: string }) =>
    `Ledger entry ${given.id} says that it closes finding ${given.findingId}, which is at another property.`,

  'check.revisionMissing': (_words, given: { programId: string; expected: number; id: string; number: number }) =>
    `Program ${given.programId}: revision ${given.expected} is missing (${given.id} has number ${given.number}).`,
  'check.voidAlone': (_words, given: { id: string }) =>
    `Program revision ${given.id} is void, but no ledger entry stands behind it.`,
  'check.namesNoChange': (_words, given: { id: string; entryId: string }) =>
    `Program revision ${given.id} names ledger entry ${given.entryId}, which is no run-time change.`,
  'check.voidStands': (_words, given: { id: string; entryId: string }) =>
    `Program revision ${given.id} is void, but its ledger entry ${given.entryId} still stands.`,
  'check.inForceCorrected': (_words, given: { id: string; entryId: string; by: string }) =>
    `Program revision ${given.id} is in force, but its ledger entry ${given.entryId} was corrected by ${given.by}.`,
  'check.voidByOther': (_words, given: { id: string; voidBy: string; by: string }) =>
    `Program revision ${given.id} is void by ${given.voidBy}, but its ledger entry was corrected by ${given.by}.`,
  'check.noRevision': (_words, given: { entryId: string }) =>
    `Ledger entry ${given.entryId} is a run-time change without its program revision.`,
  'check.otherRevision': (
    _words,
    given: { entryId: string; says: string; ofProgram: Held; id: string; programId: string },
  ) =>
    `Ledger entry ${given.entryId} says revision ${given.says} of program ${given.ofProgram ?? 'none'}, but ${given.id} of ${given.programId} names it.`,
  'check.programEmpty': (_words, given: { name: string; id: string }) =>
    `Program ${given.name} (${given.id}) has no revision.`,
  'check.runElsewhere': (_words, given: { revisionId: string; zoneId: string }) =>
    `Program revision ${given.revisionId} runs zone ${given.zoneId}, which belongs to another controller.`,
  'check.misplaced': (_words, given: { table: string; id: string }) =>
    `The ${given.table} ${given.id} stands at another property than its controller.`,
  'check.doneNoDay': (_words, given: { id: string }) => `Visit ${given.id} is done without a day on which it was.`,
  'check.dayNotDone': (_words, given: { id: string; state: string; doneOn: string }) =>
    `Visit ${given.id} is ${given.state}, but has a day on which it was done (${given.doneOn}).`,
  'check.loggedElsewhere': (_words, given: { id: string; visitId: string }) =>
    `Ledger entry ${given.id} was logged on visit ${given.visitId}, which is at another property.`,

  'check.rowNotJson': (_words, given: { table: string; id: string }) =>
    `The ${given.table} ${given.id}: a list or setting in it cannot be read (it is not JSON).`,
  'check.rowOdd': (_words, given: { table: string; id: string; field: string; inner: string }) =>
    `The ${given.table} ${given.id}: ${given.field} ${given.inner}.`,
  'check.notFound': (_words, given: { table: 'client' | 'property'; id: string }) =>
    `The ${given.table} ${given.id} cannot be found by what it says: save it once more.`,
  'check.timeZone': (_words, given: { id: string; zone: string }) =>
    `The property ${given.id}: timeZone ${given.zone} is not a time zone.`,
  'check.settings': 'The company’s settings cannot be read.',
  'check.settingDay': (_words, given: { name: string; value: string; last: string }) =>
    `The company’s settings: ${given.name} is ${given.value}, a day that no year has; it is read as ${given.last}, and put right when the settings are saved next (Company → Settings).`,
  'check.textNotJson': (_words, given: { table: string; key: string; column: string }) =>
    `The ${given.table} ${given.key}: its ${given.column} cannot be read (it is not JSON).`,
  'check.textNoDay': (
    _words,
    given: { table: string; key: string; column: string; value: string; what: 'day' | 'moment' },
  ) =>
    `The ${given.table} ${given.key}: its ${given.column}, “${given.value}”, is no ${given.what === 'day' ? 'day of the calendar from 1900 to 2199' : 'moment in time'}.`,
} satisfies Room;

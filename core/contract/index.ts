import type { z } from 'zod';
import * as clients from '../clients/contract.ts';
import * as properties from '../properties/contract.ts';
import * as due from '../due/contract.ts';
import * as visits from '../visits/contract.ts';
import * as recording from '../recording/contract.ts';
import * as ledger from '../ledger/contract.ts';
import * as people from '../people/contract.ts';
import * as programs from '../programs/contract.ts';
import * as agronomy from '../agronomy/contract.ts';
import * as settings from '../settings/contract.ts';
import * as weather from '../weather/contract.ts';
import * as book from '../book/contract.ts';
import * as imports from '../import/contract.ts';
import * as places from './places.ts';

// The whole of what a host may be asked for, in one list. A new request is one more line here.
export const REQUESTS = [
  clients.clientList,
  clients.clientOpen,
  clients.clientSave,
  clients.propertyOpen,
  properties.propertySave,
  due.dueList,
  visits.visitBook,
  visits.visitMove,
  visits.visitCancel,
  recording.visitRecord,
  visits.visitList,
  visits.dayOpen,
  ledger.ledgerList,
  recording.ledgerCorrect,
  people.peopleList,
  people.peopleSave,
  visits.workSummary,
  recording.programRevise,
  programs.programHistory,
  programs.programWeek,
  programs.programRecommend,
  programs.programReview,
  programs.programReviewAll,
  recording.programAccept,
  agronomy.agronomyEto,
  agronomy.zoneAudit,
  programs.zoneTrace,
  settings.settingsGet,
  settings.settingsSave,
  settings.rulesList,
  settings.rulesSave,
  weather.stationList,
  weather.stationSave,
  weather.weatherFreezeDates,
  book.bookInfo,
  book.bookToday,
  book.bookSeal,
  book.bookCheck,
  book.bookBackup,
  book.bookBackups,
  book.bookBackupState,
  book.bookMakePrivate,
  book.bookRestore,
  book.exportBook,
  places.placeList,
  imports.importPreview,
  imports.importApply,
] as const;

type Definition = (typeof REQUESTS)[number];
export type RequestName = Definition['name'];
type ByName<N extends RequestName> = Extract<Definition, { name: N }>;
/** What a caller may send (fields with defaults may be left out). */
export type InputOf<N extends RequestName> = z.input<ByName<N>['input']>;
/** What a handler receives, checked and with defaults. */
export type ParsedInputOf<N extends RequestName> = z.output<ByName<N>['input']>;
export type OutputOf<N extends RequestName> = z.output<ByName<N>['output']>;

const byName = new Map<string, Definition>();
for (const request of REQUESTS) {
  if (byName.has(request.name)) throw new Error(`request ${request.name} is declared twice`);
  byName.set(request.name, request);
}

/** The declaration of a request, or undefined for an unknown name. */
export function findRequest(name: string): Definition | undefined {
  return byName.get(name);
}

export type { Progress, Reply, Transport } from './define-request.ts';
export type { Topic } from './parts.ts';

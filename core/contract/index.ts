import type { z } from 'zod';
import * as clients from './clients.ts';
import * as visits from './visits.ts';
import * as programs from './programs.ts';
import * as backups from './backups.ts';
import * as book from './book.ts';
import * as places from './places.ts';

// The whole of what a host may be asked for, in one list. A new request is one more line here.
export const REQUESTS = [
  clients.clientList,
  clients.clientOpen,
  clients.clientSave,
  clients.propertyOpen,
  clients.propertySave,
  clients.dueList,
  visits.visitBook,
  visits.visitMove,
  visits.visitCancel,
  visits.visitRecord,
  visits.visitList,
  visits.dayOpen,
  visits.ledgerList,
  visits.ledgerCorrect,
  visits.peopleList,
  visits.peopleSave,
  visits.workSummary,
  programs.programRevise,
  programs.programHistory,
  programs.programWeek,
  programs.programRecommend,
  programs.programReview,
  programs.programReviewAll,
  programs.programAccept,
  programs.agronomyEto,
  programs.zoneAudit,
  programs.zoneTrace,
  book.settingsGet,
  book.settingsSave,
  book.rulesList,
  book.rulesSave,
  book.stationList,
  book.stationSave,
  book.bookInfo,
  book.bookToday,
  book.bookSeal,
  book.bookCheck,
  book.bookBackup,
  backups.bookBackups,
  backups.bookBackupState,
  book.bookMakePrivate,
  book.bookRestore,
  book.exportBook,
  places.placeList,
  book.importPreview,
  book.importApply,
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

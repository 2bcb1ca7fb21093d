import { newId, write } from '../state/write.ts';
import { ask } from '../state/use-request.ts';
import type { OutputOf } from '../../core/contract/index.ts';
import { useDrafts, type Draft, type DraftEntry, type RecordInput } from './draft.ts';
import { visitKindOf } from './visit-kind.ts';
import { say, sayError } from '../state/say.ts';
import { STORED } from '../../core/text/stored.ts';

export type SaveResult =
  | { ok: true; saved: OutputOf<'visit.record'>; closed: boolean; sentEntries: DraftEntry[] }
  | { ok: false; message: string; /** The book may or may not hold it. */ unsure: boolean };

/**
 * Saves the draft. Before anything is sent, the very input is put aside in the draft: where no answer comes, it is
 * sent again unchanged under the same write id, and what was typed since waits for a write of its own.
 */
export async function saveDraft(visitId: string, close: boolean): Promise<SaveResult> {
  const first = currentDraft(visitId);
  if (first === undefined) return { ok: false, message: say('field.nothingToSave'), unsure: false };
  let before: SaveResult | null = null;
  if (first.sent !== null) {
    before = await send(visitId, first.sent);
    if (!before.ok) return before;
  }
  const draft = currentDraft(visitId);
  const closedAlready = before?.ok === true && before.closed;
  if (draft === undefined || (draft.entries.length === 0 && (!close || closedAlready))) {
    return before ?? { ok: false, message: say('field.nothingToSave'), unsure: false };
  }
  const input: RecordInput = {
    writeId: draft.writeId,
    propertyId: draft.propertyId,
    visitId: draft.visitId,
    technicianId: draft.technicianId,
    doneOn: draft.doneOn,
    unplannedKind:
      draft.planned || closedAlready
        ? null
        : (draft.unplannedKind ?? visitKindOf(draft.entries.map((entry) => entry.detail.kind))),
    closeVisit: close,
    entries: draft.entries,
  };
  useDrafts.getState().put({ ...draft, entries: [], sent: input, writeId: newId() });
  const result = await send(visitId, input);
  if (!result.ok || before?.ok !== true) return result;
  return {
    ...result,
    closed: result.closed || before.closed,
    sentEntries: [...before.sentEntries, ...result.sentEntries],
    saved: { ...result.saved, entries: [...before.saved.entries, ...result.saved.entries] },
  };
}

async function send(visitId: string, input: RecordInput): Promise<SaveResult> {
  const reply = await write('visit.record', input, { quiet: true });
  const sentEntries = input.entries as DraftEntry[];
  if (reply.ok) {
    settle(visitId, null);
    return { ok: true, saved: reply.data, closed: reply.data.visit?.state === 'done', sentEntries };
  }
  // These codes are the book's own "no": nothing was written. Any other failure may be a lost answer.
  if (reply.error.code !== 'internal' && reply.error.code !== 'cancelled') {
    settle(visitId, input);
    return { ok: false, message: sayError(reply.error), unsure: false };
  }
  return {
    ok: false,
    message: say('field.noAnswer'),
    unsure: true,
  };
}

/** Clears what was sent; a refused batch goes back among the entries to be mended. */
function settle(visitId: string, refused: RecordInput | null): void {
  const draft = currentDraft(visitId);
  if (draft === undefined) return;
  const next: Draft = {
    ...draft,
    sent: null,
    planned: draft.planned || refused === null,
    entries: refused === null ? draft.entries : [...(refused.entries as DraftEntry[]), ...draft.entries],
    writeId: refused === null ? draft.writeId : newId(),
  };
  const empty = next.entries.length === 0 && !Object.values(next.forms).some((form) => form.touched);
  if (empty) useDrafts.getState().drop(visitId);
  else useDrafts.getState().put(next);
}

/** Asks the book whether it holds what was sent; if it certainly does not, the entries can be changed again. */
export async function releaseSent(visitId: string): Promise<'released' | 'saved' | 'no-answer'> {
  const draft = currentDraft(visitId);
  if (draft === undefined || draft.sent === null) return 'released';
  const reply = await ask('ledger.list', { visitId, includeVoid: true, limit: 500 });
  if (!reply.ok) return 'no-answer';
  const there = new Set(reply.data.entries.map((entry) => entry.id));
  const held = draft.sent.entries.length > 0 && draft.sent.entries.every((entry) => there.has(entry.id));
  settle(visitId, held ? null : draft.sent);
  return held ? 'saved' : 'released';
}

export interface Undone {
  undone: number;
  /** Why it stopped, if it did. */
  message: string | null;
  /** Where the entries are on the list again; another visit than before where the unplanned one was cancelled by this. */
  visitId: string;
  stillClosed: boolean;
}

/** Takes a save back: every entry is declared not to have happened, and goes back on the list to be mended. */
export async function undoSave(before: Draft, savedEntries: readonly DraftEntry[]): Promise<Undone> {
  const back: DraftEntry[] = [];
  let message: string | null = null;
  for (const entry of [...savedEntries].reverse()) {
    const reply = await write(
      'ledger.correct',
      { writeId: newId(), id: newId(), correctsId: entry.id, correction: 'void', reason: STORED.undoneAfterSaving },
      { quiet: true },
    );
    if (!reply.ok) {
      message = sayError(reply.error);
      break;
    }
    const detail = entry.detail.kind === 'run-time-change' ? { ...entry.detail, revisionId: newId() } : entry.detail;
    back.unshift({ ...entry, id: newId(), detail });
  }
  const page = await ask('property.open', { propertyId: before.propertyId, ledgerLimit: 0 });
  const visit = page.ok ? page.data.visits.find((one) => one.id === before.visitId) : undefined;
  // An unplanned visit of which nothing is left is cancelled by the book; the work goes onto a new one.
  const visitId = visit?.state === 'cancelled' ? newId() : before.visitId;
  if (back.length > 0) {
    const now = currentDraft(visitId) ?? {
      ...before,
      visitId,
      forms: {},
      openForm: null,
      sent: null,
      entries: [],
      writeId: newId(),
    };
    useDrafts.getState().put({
      ...now,
      planned: visit !== undefined && visitId === before.visitId,
      unplannedKind: null,
      entries: [...back, ...now.entries],
    });
  }
  return { undone: back.length, message, visitId, stillClosed: visit?.state === 'done' };
}

function currentDraft(visitId: string): Draft | undefined {
  return useDrafts.getState().drafts[visitId];
}

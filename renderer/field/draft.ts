import { create } from 'zustand';
import type { InputOf } from '../../core/contract/index.ts';
import type { LedgerDetailInput } from '../../core/ledger/entry-contract.ts';
import type { VisitKind } from '../../core/contract/parts.ts';
import type { PlainKey } from '../../core/text/say.ts';
import { changeOf, dropText, keepText, readAll } from './draft-store.ts';

// Work that is typed but not in the book yet. It lives on this device only, so every change is written to
// the device's storage at once (draft-store.ts): a phone may drop the page at any moment.

export type FormKind = Exclude<LedgerDetailInput['kind'], 'zone-audit'>;
export type RecordInput = InputOf<'visit.record'>;

export interface DraftEntry {
  id: string;
  detail: LedgerDetailInput;
  note: string;
}

export interface Draft {
  /** The visit's id; for unplanned work the id the visit will get. */
  visitId: string;
  planned: boolean;
  unplannedKind: VisitKind | null;
  propertyId: string;
  technicianId: string;
  doneOn: string;
  clientName: string;
  street: string;
  /** Of the next save. Kept here so that a retried save is the same write. */
  writeId: string;
  entries: DraftEntry[];
  /** Half-filled forms by kind. */
  forms: Partial<Record<FormKind, FormDraft>>;
  openForm: FormKind | null;
  /** Sent, but no answer came: the book may hold it already, so it is sent again exactly as it was. */
  sent: RecordInput | null;
}

export interface FormDraft {
  values: Record<string, unknown>;
  note: string;
  /** The entry being changed; null = a new one. */
  entryId: string | null;
  touched: boolean;
}

interface DraftState {
  bookPath: string | null;
  drafts: Record<string, Draft>;
  /** Set when this device would not keep the draft, or cannot read one: the text that says it. */
  storeFault: PlainKey | null;
  open(bookPath: string): void;
  put(draft: Draft): void;
  drop(visitId: string): void;
}

function load(bookPath: string): Pick<DraftState, 'drafts' | 'storeFault'> {
  const drafts: Record<string, Draft> = {};
  try {
    const { texts, unreadable } = readAll(bookPath);
    for (const text of texts.values()) {
      const draft = parse(text);
      if (draft !== null) drafts[draft.visitId] = draft;
    }
    return { drafts, storeFault: unreadable > 0 ? 'field.unreadable' : null };
  } catch {
    // Without storage there is nothing to load; `store` says so as soon as something is typed.
    return { drafts, storeFault: null };
  }
}

function parse(text: string | null): Draft | null {
  try {
    const value: unknown = JSON.parse(text ?? 'null');
    return isDraft(value) ? value : null;
  } catch {
    return null;
  }
}

function isDraft(value: unknown): value is Draft {
  if (typeof value !== 'object' || value === null) return false;
  const draft = value as Partial<Draft>;
  return (
    typeof draft.visitId === 'string' &&
    typeof draft.propertyId === 'string' &&
    typeof draft.writeId === 'string' &&
    Array.isArray(draft.entries) &&
    typeof draft.forms === 'object' &&
    draft.forms !== null
  );
}

function store(bookPath: string | null, visitId: string, draft: Draft | null): PlainKey | null {
  if (bookPath === null) return null;
  try {
    // Each under a name of its own, so that two windows on one device never write over each other's.
    if (draft === null) dropText(bookPath, visitId);
    else keepText(bookPath, visitId, JSON.stringify(draft));
    return null;
  } catch {
    return 'field.storeFull';
  }
}

/** Unsaved work of the open book, kept on this device. */
export const useDrafts = create<DraftState>((set, get) => ({
  bookPath: null,
  drafts: {},
  storeFault: null,
  open(bookPath) {
    if (get().bookPath !== bookPath) set({ bookPath, ...load(bookPath) });
  },
  put(draft) {
    set({
      drafts: { ...get().drafts, [draft.visitId]: draft },
      storeFault: store(get().bookPath, draft.visitId, draft),
    });
  },
  drop(visitId) {
    set({ drafts: without(get().drafts, visitId), storeFault: store(get().bookPath, visitId, null) });
  },
}));

function without(drafts: Record<string, Draft>, visitId: string): Record<string, Draft> {
  return Object.fromEntries(Object.entries(drafts).filter(([id]) => id !== visitId));
}

/** Follows what another window of this device does to a draft. Returns the way to stop. */
export function followOtherWindows(): () => void {
  const onStorage = (event: StorageEvent) => {
    const { bookPath, drafts } = useDrafts.getState();
    const change = bookPath === null ? undefined : changeOf(event, bookPath);
    if (change === undefined) return;
    const { visitId } = change;
    const draft = parse(change.text);
    useDrafts.setState({ drafts: draft === null ? without(drafts, visitId) : { ...drafts, [visitId]: draft } });
  };
  window.addEventListener('storage', onStorage);
  return () => window.removeEventListener('storage', onStorage);
}

/** Is there anything in it that would be lost? */
export function holdsWork(draft: Draft | undefined): boolean {
  if (draft === undefined) return false;
  return draft.entries.length > 0 || draft.sent !== null || Object.values(draft.forms).some((form) => form.touched);
}

/** How many facts wait to be saved. */
export function waitingCount(draft: Draft | undefined): number {
  return draft === undefined ? 0 : draft.entries.length + (draft.sent?.entries.length ?? 0);
}

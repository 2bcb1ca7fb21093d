import { create } from 'zustand';
import type { InputOf } from '../../core/contract/index.ts';
import type { LedgerDetailInput } from '../../core/contract/ledger-entries.ts';
import type { VisitKind } from '../../core/contract/entities.ts';

// Work that is typed but not in the book yet. It lives on this device only, so every change is written to
// localStorage at once: a phone may drop the page at any moment.

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
  /** Set when this device would not keep the draft. */
  storeFault: string | null;
  open(bookPath: string): void;
  put(draft: Draft): void;
  drop(visitId: string): void;
}

const storageKey = (bookPath: string) => `valvebook.field.drafts ${bookPath}`;

function load(bookPath: string): Record<string, Draft> {
  try {
    const parsed: unknown = JSON.parse(localStorage.getItem(storageKey(bookPath)) ?? '{}');
    if (typeof parsed !== 'object' || parsed === null) return {};
    return Object.fromEntries(Object.entries(parsed).filter(([, draft]) => isDraft(draft))) as Record<string, Draft>;
  } catch {
    return {};
  }
}

function isDraft(value: unknown): value is Draft {
  if (typeof value !== 'object' || value === null) return false;
  const draft = value as Partial<Draft>;
  return typeof draft.visitId === 'string' && typeof draft.propertyId === 'string' && typeof draft.writeId === 'string'
    && Array.isArray(draft.entries) && typeof draft.forms === 'object' && draft.forms !== null;
}

function store(bookPath: string | null, drafts: Record<string, Draft>): string | null {
  if (bookPath === null) return null;
  try {
    localStorage.setItem(storageKey(bookPath), JSON.stringify(drafts));
    return null;
  } catch {
    return 'This device would not keep your notes (its storage is full or switched off). Save before you leave this page.';
  }
}

/** Unsaved work of the open book, kept on this device. */
export const useDrafts = create<DraftState>((set, get) => ({
  bookPath: null,
  drafts: {},
  storeFault: null,
  open(bookPath) {
    if (get().bookPath !== bookPath) set({ bookPath, drafts: load(bookPath) });
  },
  put(draft) {
    const drafts = { ...get().drafts, [draft.visitId]: draft };
    set({ drafts, storeFault: store(get().bookPath, drafts) });
  },
  drop(visitId) {
    const drafts = Object.fromEntries(Object.entries(get().drafts).filter(([id]) => id !== visitId));
    set({ drafts, storeFault: store(get().bookPath, drafts) });
  },
}));

/** Is there anything in it that would be lost? */
export function holdsWork(draft: Draft | undefined): boolean {
  if (draft === undefined) return false;
  return draft.entries.length > 0 || draft.sent !== null || Object.values(draft.forms).some((form) => form.touched);
}

/** How many facts wait to be saved. */
export function waitingCount(draft: Draft | undefined): number {
  return draft === undefined ? 0 : draft.entries.length + (draft.sent?.entries.length ?? 0);
}

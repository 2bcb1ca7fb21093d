import { newId } from '../state/write.ts';
import { useDrafts, type Draft, type DraftEntry, type FormDraft, type FormKind } from './draft.ts';
import { formOf } from './forms/all-forms.ts';
import type { LogContext } from './forms/form-spec.ts';
import type { Stop } from './stop.ts';

/** The ways a stop's draft changes. It comes into being with the first thing typed. */
export function useStopDraft(stop: Stop, technicianId: string, doneOn: string) {
  const ensure = (): Draft =>
    useDrafts.getState().drafts[stop.id] ??
    emptyDraft({
      visitId: stop.id,
      planned: stop.visit !== null,
      propertyId: stop.propertyId,
      technicianId,
      doneOn,
      clientName: stop.clientName,
      street: stop.street,
    });
  const put = (patch: (draft: Draft) => Partial<Draft>) => {
    const draft = ensure();
    useDrafts.getState().put({ ...draft, ...patch(draft) });
  };
  const withoutForm = (draft: Draft, kind: FormKind) =>
    Object.fromEntries(Object.entries(draft.forms).filter(([one]) => one !== kind)) as Draft['forms'];
  return {
    ensure,
    setOpenForm(openForm: FormKind | null) {
      if (openForm !== null || useDrafts.getState().drafts[stop.id] !== undefined) put(() => ({ openForm }));
    },
    putForm: (kind: FormKind, form: FormDraft) => put((draft) => ({ forms: { ...draft.forms, [kind]: form } })),
    dropForm: (kind: FormKind) => put((draft) => ({ forms: withoutForm(draft, kind) })),
    putEntry: (entry: DraftEntry, kind: FormKind) =>
      put((draft) => ({
        forms: withoutForm(draft, kind),
        entries: draft.entries.some((one) => one.id === entry.id)
          ? draft.entries.map((one) => (one.id === entry.id ? entry : one))
          : [...draft.entries, entry],
      })),
    addEntry: (entry: DraftEntry) => put((draft) => ({ entries: [...draft.entries, entry] })),
    removeEntry: (entry: DraftEntry) =>
      put((draft) => ({ entries: draft.entries.filter((one) => one.id !== entry.id) })),
    /** Opens an entry's form with its values; null when this kind has no form here. */
    editEntry(entry: DraftEntry, context: LogContext): FormKind | null {
      const { kind } = entry.detail;
      if (kind === 'zone-audit') return null;
      const values = formOf(kind).begin(context, entry.detail);
      put((draft) => ({
        forms: { ...draft.forms, [kind]: { values, note: entry.note, entryId: entry.id, touched: false } },
      }));
      return kind;
    },
  };
}

/** A draft with nothing in it. */
export function emptyDraft(
  from: Pick<Draft, 'visitId' | 'planned' | 'propertyId' | 'technicianId' | 'doneOn' | 'clientName' | 'street'>,
): Draft {
  return { ...from, unplannedKind: null, writeId: newId(), entries: [], forms: {}, openForm: null, sent: null };
}

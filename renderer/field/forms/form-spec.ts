import type { ReactNode } from 'react';
import type { OutputOf } from '../../../core/contract/index.ts';
import type { VisitKind } from '../../../core/contract/parts.ts';
import type { LedgerDetailInput, LedgerKind } from '../../../core/ledger/entry-contract.ts';
import type { FormKind } from '../draft.ts';

export type PropertyPage = OutputOf<'property.open'>;

/** What a form may lean on. */
export interface LogContext {
  page: PropertyPage | null;
  technicianName: string;
  doneOn: string;
  /** The visit this is logged on, made by the first save where nobody booked it, and what else is on its list. */
  visit: { kind: VisitKind; state: string };
  kinds: readonly LedgerKind[];
}

export type DetailOf<K extends FormKind> = Extract<LedgerDetailInput, { kind: K }>;
export type Finished<K extends FormKind = FormKind> =
  | { detail: DetailOf<K>; problem?: undefined }
  | { problem: string };

export interface FormSpec<K extends FormKind, V> {
  kind: K;
  /** Verb first: the tile and the form's heading. */
  title: string;
  /** Needs the property's sensors, zones or programs. */
  needsPage: boolean;
  /** Why this kind cannot be logged here, or null. */
  blocked?(context: LogContext): string | null;
  begin(context: LogContext, from: DetailOf<K> | null): V;
  Fields(props: { value: V; change: (patch: Partial<V>) => void; context: LogContext }): ReactNode;
  finish(value: V, context: LogContext): Finished<K>;
}

/** A form whose values are no longer typed: what the list of forms holds. */
export type AnyForm = FormSpec<FormKind, Record<string, unknown>>;

/** Declares one form; inside it everything is typed, outside the values are plain data. */
export function defineForm<K extends FormKind, V>(spec: FormSpec<K, V>): AnyForm {
  return spec as unknown as AnyForm;
}

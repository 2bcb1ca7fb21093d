import type { DueKind } from '../../core/due/contract.ts';
import type { Told } from '../../core/contract/parts.ts';
import type { OutputOf } from '../../core/contract/index.ts';
import type { LedgerEntry } from '../../core/ledger/entry-contract.ts';
import type { Visit } from '../../core/visits/contract.ts';
import type { VisitKind } from '../../core/contract/parts.ts';
import type { Draft } from './draft.ts';
import type { PropertyPage } from './forms/form-spec.ts';

/** One place to stand at: a planned or done visit of the day, or work nobody had booked. */
export interface Stop {
  /** The visit's id; for unplanned work the one it will get. */
  id: string;
  propertyId: string;
  visit: Visit | null;
  kind: VisitKind | null;
  clientName: string;
  phone: string;
  street: string;
  city: string;
  label: string;
  gate: Gate | null;
  due: StopDue[];
  lastEntries: LedgerEntry[];
}

export interface StopDue {
  kind: DueKind;
  why: Told;
}

/** What must be known before the gate is opened. */
export interface Gate {
  gateCode: string;
  dogNote: string;
  accessNotes: string;
  shutoffLocation: string;
  waterSupply: string;
  backflowKind: string;
  backflowLocation: string;
  zoneCount: number;
  sensorCount: number;
}

/** A stop of the day's list. */
export function stopOfDay(row: OutputOf<'day.open'>['stops'][number]): Stop {
  const { visit, clientName, phone, street, city, label, due, lastEntries, ...gate } = row;
  return {
    id: visit.id,
    propertyId: visit.propertyId,
    visit,
    kind: visit.kind,
    clientName,
    phone,
    street,
    city,
    label,
    gate,
    due,
    lastEntries,
  };
}

/** A stop nobody had booked, from its draft and, once read, the property's page. */
export function stopOfDraft(draft: Draft, page: PropertyPage | null): Stop {
  const base = { id: draft.visitId, propertyId: draft.propertyId, visit: null, kind: null };
  if (page === null)
    return {
      ...base,
      clientName: draft.clientName,
      phone: '',
      street: draft.street,
      city: '',
      label: '',
      gate: null,
      due: [],
      lastEntries: [],
    };
  const { property, client } = page;
  return {
    ...base,
    clientName: client.name,
    phone: client.phone,
    street: property.street,
    city: property.city,
    label: property.label,
    gate: {
      gateCode: property.gateCode,
      dogNote: property.dogNote,
      accessNotes: property.accessNotes,
      shutoffLocation: property.shutoffLocation,
      waterSupply: property.waterSupply,
      backflowKind: property.backflowKind,
      backflowLocation: property.backflowLocation,
      zoneCount: page.zones.filter((zone) => !zone.retired).length,
      sensorCount: page.sensors.filter((sensor) => !sensor.retired).length,
    },
    due: page.due.map((item) => ({ kind: item.kind, why: item.why })),
    lastEntries: page.ledger.slice(0, 5),
  };
}

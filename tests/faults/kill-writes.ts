import Database from 'better-sqlite3';
import type { Reply } from '../../core/contract/index.ts';
import type { Chance } from '../../core/demo/random.ts';

// The writes of the kill loops, and how to tell afterwards whether one is in the book: whole, once, or not at all.

export interface WriteSite {
  clientId: string;
  propertyId: string;
  sensorId: string;
  programId: string;
  zoneId: string;
  technicianId: string;
}
export interface Write {
  name: string;
  input: { writeId: string } & Record<string, unknown>;
}
export interface Sent {
  write: Write;
  /** The answer, where one came. */
  answer?: unknown;
}
export type Harm = 'lost' | 'doubled' | 'half' | 'unopenable' | 'left over' | 'other';
export interface Finding {
  harm: Harm;
  what: string;
}

/** The n-th write: a new client, a visit with three entries and a new revision, a booking, and again a visit. */
export function nextWrite(site: WriteSite, dice: Chance, n: number): Write {
  const id = () => dice.ulid(1_780_000_000_000);
  const writeId = id();
  if (n % 4 === 1)
    return {
      name: 'client.save',
      input: { writeId, client: { id: id(), name: `Household ${n}`, notes: 'x'.repeat(n % 500) } },
    };
  if (n % 4 === 3)
    return {
      name: 'visit.book',
      input: {
        writeId,
        visitId: id(),
        propertyId: site.propertyId,
        kind: 'repair',
        date: `2026-07-${10 + (n % 20)}`,
        technicianId: n % 8 === 3 ? site.technicianId : null,
      },
    };
  return {
    name: 'visit.record',
    input: {
      writeId,
      propertyId: site.propertyId,
      visitId: id(),
      unplannedKind: 'battery-swap',
      doneOn: `2026-0${1 + (n % 5)}-${String(1 + (n % 28)).padStart(2, '0')}`,
      entries: [
        { id: id(), note: writeId, detail: { kind: 'battery-swap', sensorId: site.sensorId, cells: 1 + (n % 2) } },
        {
          id: id(),
          note: writeId,
          detail: {
            kind: 'run-time-change',
            programId: site.programId,
            revisionId: id(),
            runs: [{ zoneId: site.zoneId, runMinutes: dice.range(0, 600, 4) }],
          },
        },
        { id: id(), note: writeId, detail: { kind: 'note', text: 'x'.repeat(dice.int(1, 4000)) } },
      ],
    },
  };
}

/** Where the parts of a write stand in the book. */
function partsOf({ name, input }: Write): [table: string, id: string][] {
  const parts: [string, string][] = [];
  const any = input as any;
  if (name === 'client.save') parts.push(['client', any.client.id]);
  else parts.push(['visit', any.visitId]);
  for (const entry of any.entries ?? []) {
    parts.push(['ledgerEntry', entry.id]);
    if (entry.detail.revisionId) parts.push(['programRevision', entry.detail.revisionId]);
  }
  return parts;
}

/**
 * What became of writes: each acknowledged one is there, whole and once; each other one is whole or absent; and the same
 * write sent again gives the first answer and changes nothing. `path` is open in this process through `call`.
 */
export async function checkWrites(
  path: string,
  sent: readonly Sent[],
  call: (name: string, input: unknown) => Promise<Reply>,
): Promise<Finding[]> {
  const findings: Finding[] = [];
  const look = (write: Write) => {
    const raw = new Database(path, { readonly: true });
    try {
      const there = partsOf(write).map(
        ([table, id]) => raw.prepare(`SELECT count(*) FROM ${table} WHERE id = ?`).pluck().get(id) as number,
      );
      const logged = raw
        .prepare('SELECT count(*) FROM writeLog WHERE writeId = ?')
        .pluck()
        .get(write.input.writeId) as number;
      const noted = raw
        .prepare('SELECT count(*) FROM ledgerEntry WHERE note = ?')
        .pluck()
        .get(write.input.writeId) as number;
      return { there: [...there, logged], noted };
    } finally {
      raw.close();
    }
  };
  const report = (harm: Harm, write: Write, more: unknown) =>
    findings.push({ harm, what: `${write.name} ${write.input.writeId}: ${JSON.stringify(more).slice(0, 600)}` });
  for (const { write, answer } of sent) {
    const { there, noted } = look(write);
    if (there.some((count) => count > 1)) report('doubled', write, there);
    const whole = there.every((count) => count === 1) && noted === (write.name === 'visit.record' ? 3 : 0);
    const absent = there.every((count) => count === 0) && noted === 0;
    if (!whole && !absent) report('half', write, there);
    else if (answer !== undefined && !whole) report('lost', write, there);
  }
  // All that had no answer yet, and the newest that had one.
  for (const { write, answer } of sent.slice(-8)) {
    const reply = await call(write.name, write.input);
    if (!reply.ok) report('other', write, reply.error);
    else if (answer !== undefined && JSON.stringify(reply.data) !== JSON.stringify(answer))
      report('doubled', write, reply.data);
    const { there, noted } = look(write);
    if (!there.every((count) => count === 1) || noted !== (write.name === 'visit.record' ? 3 : 0))
      report('doubled', write, there);
  }
  return findings;
}

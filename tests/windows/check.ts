import { mkdirSync } from 'node:fs';
import path from 'node:path';
import { openDesk, type Desk, type DeskOptions } from '../../core/desk/desk.ts';
import { BookError } from '../../core/errors.ts';
import type { InputOf, OutputOf, RequestName } from '../../core/contract/index.ts';

// What a check of the Windows table is, and what every one of them stands on. Plain Node: no test runner loads there.

export const TODAY = '2026-06-15';

export interface Check {
  name: string;
  /** Throws where it fails; returns a word for the table, or nothing. */
  run(ground: Ground): Promise<string | void>;
}

/** A folder of its own, gone afterwards. */
export interface Ground {
  folder: string;
  /** Closed after the check, however it ends. */
  open(bookPath: string, options?: Partial<DeskOptions>): Promise<Desk>;
}

/** Thrown by a check that cannot be made here, with the reason. */
export class Skipped extends Error {}

/** Calls a request and returns its data; a failure is thrown with its sentence. */
export async function call<N extends RequestName>(desk: Desk, name: N, input: InputOf<N>): Promise<OutputOf<N>> {
  const reply = await desk.call(name, input);
  if (!reply.ok) throw new Error(`${name}: ${reply.error.code}: ${reply.error.message} (${reply.error.field ?? ''})`);
  return reply.data as OutputOf<N>;
}

/** The failure of something that must be refused. */
export async function refusalOf(work: () => Promise<unknown>): Promise<BookError> {
  let answer: unknown;
  try {
    answer = await work();
  } catch (error) {
    if (error instanceof BookError) return error;
    throw error;
  }
  throw new Error(`It was expected to be refused, and answered ${JSON.stringify(answer)?.slice(0, 200)}`);
}

/** The failure of a request that must be refused. */
export async function refusedRequest<N extends RequestName>(desk: Desk, name: N, input: unknown): Promise<BookError> {
  return refusalOf(async () => {
    const reply = await desk.call(name, input);
    if (!reply.ok) throw new BookError(reply.error.code, reply.error.message, reply.error.field);
    return reply.data;
  });
}

/** A folder as an office may have it. */
export function umlautFolder(ground: Ground): string {
  const folder = path.join(ground.folder, 'Büro Grüße & Söhne', 'Bücher  2026');
  mkdirSync(folder, { recursive: true });
  return folder;
}

export function groundIn(folder: string): Ground & { close(): Promise<void> } {
  const desks: Desk[] = [];
  return {
    folder,
    async open(bookPath, options = {}) {
      const desk = await openDesk({ bookPath, today: () => TODAY, log: (text) => console.error(text), ...options });
      desks.push(desk);
      return desk;
    },
    async close() {
      for (const desk of desks) await desk.close();
    },
  };
}

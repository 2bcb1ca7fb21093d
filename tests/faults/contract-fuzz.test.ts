import Database from 'better-sqlite3';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { REQUESTS } from '../../core/contract/index.ts';
import { makeBook, makeSite } from '../desk/make-book.ts';
import { inputsFor } from './arbitrary-input.ts';

// Bad input at the contract: whatever arrives, the answer is data or one sentence, and a refusal changes nothing.

const CODES = [
  'bad-input',
  'not-found',
  'conflict',
  'stale',
  'book-unreadable',
  'book-busy',
  'disk',
  'cancelled',
  'unknown-request',
];

describe.each(REQUESTS.map((request) => [request.name, request] as const))('%s', (name, request) => {
  test('answers any input with data or a sentence; a refusal writes nothing', { timeout: 120_000 }, async () => {
    const faults: string[] = [];
    const book = await makeBook('2026-06-15', (text) => faults.push(text));
    const site = await makeSite(book);
    const known = [
      site.clientId,
      site.propertyId,
      site.controllerId,
      ...site.zoneIds,
      site.sensorId,
      site.programId,
      site.technicianId,
    ];
    const watcher = new Database(book.path, { readonly: true });
    try {
      const runs = request.kind === 'job' ? 8 : 60;
      await fc.assert(
        fc.asyncProperty(inputsFor(request.input, new Map([['', known]])), async (input) => {
          const before = watcher.pragma('data_version', { simple: true });
          const reply = await book.desk.call(name, input);
          if (reply.ok) {
            if (request.kind !== 'job') expect(request.output.safeParse(reply.data).error?.issues ?? []).toEqual([]);
            return;
          }
          expect(faults).toEqual([]);
          expect(CODES).toContain(reply.error.code);
          expect(reply.error.message).toMatch(/^[^\n]{10,600}[.!)]$/);
          expect(reply.error.message).not.toMatch(/\.ts:\d|node_modules|SQLITE_|\bat \S+ \(\S+:\d|received|\[object/);
          expect(watcher.pragma('data_version', { simple: true })).toBe(before);
        }),
        { numRuns: runs },
      );
    } finally {
      watcher.close();
    }
  });
});

import { readdirSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { ulid } from 'ulid';
import { openDesk } from '../../core/desk/desk.ts';
import { makeDemo } from '../../electron/demo.ts';
import { writeLog } from '../../electron/places.ts';

// A book's life under the habit of a user who lets everybody read and write everything; prints the modes seen on the way.

process.umask(0);
const home = process.argv[2]!;
const seen: Record<string, string[]> = {};
const look = (when: string) => {
  for (const entry of readdirSync(home, { recursive: true, withFileTypes: true })) {
    const path = join(entry.parentPath, entry.name);
    // A temporary file may be gone between the listing and the look.
    const stat = statSync(path, { throwIfNoEntry: false });
    if (stat !== undefined)
      (seen[path.slice(home.length + 1)] ??= []).push(`${when} ${(stat.mode & 0o777).toString(8)}`);
  }
};
const bookPath = join(home, 'Valvebook', 'company.valvebook');
const desk = await openDesk({ bookPath, create: true });
const call = async (name: string, input: object = {}): Promise<any> => {
  const reply = await desk.call(name, input, { onProgress: () => look(`while ${name}`) });
  if (!reply.ok) throw new Error(`${name}: ${reply.error.message}`);
  return reply.data;
};
look('created');
await call('people.save', { writeId: ulid(), trucks: [{ id: ulid(), name: 'T1' }] });
look('written');
const backup = await call('book.backup');
await call('export.book');
await call('import.apply', { bytesBase64: Buffer.from('client,street\nAda,1 Oak St\n').toString('base64') });
look('worked');
await call('book.restore', { fromPath: backup.path });
look('restored');
await call('people.save', { writeId: ulid(), trucks: [{ id: ulid(), name: 'T2' }] });
look('written again');
await desk.close();
look('closed');
writeLog('a cause');
await makeDemo({ path: join(process.env['XDG_DATA_HOME']!, 'valvebook', 'demo.valvebook'), properties: 2 });
look('end');
console.log(JSON.stringify(seen));

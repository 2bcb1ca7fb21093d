import { writeSync } from 'node:fs';
import { openDesk } from '../../core/desk/desk.ts';

// A process that has a book open until it is killed.

const [bookPath, access] = process.argv.slice(2) as [string, 'read' | 'write'];
const desk = await openDesk({ bookPath, access });
const reply = await desk.call('book.info', {});
writeSync(1, reply.ok ? 'open\n' : `fault ${JSON.stringify(reply.error)}`);
// Held by the timer: a desk that nobody can reach any more is collected as garbage, and its lock goes with it.
setInterval(() => void desk.call('book.today', {}), 1000);

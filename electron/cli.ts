import { existsSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { parseArgs } from 'node:util';
import { z } from 'zod';
import { findRequest, REQUESTS, type Progress } from '../core/contract/index.ts';
import { openDesk } from '../core/desk/desk.ts';
import { BookError, sayFailure, toFailure, type Failure } from '../core/errors.ts';
import { placeOf } from '../core/paths.ts';
import { readWholeFile } from '../core/store/book-file.ts';
import { defaultBook, fromCallersFolder, keepToOwner, makeFolderFor, writeLog } from './places.ts';
import { fact, isFact, PLAIN_READER, say, sayFact, type Fact, type Reader } from '../core/text/say.ts';
import { argumentTrouble, readerOf } from './terminal-reader.ts';

// The same requests as the window, from a terminal: data as JSON on stdout, a failure as JSON on stderr.

/** A command that is not understood: said with the help below it. */
class Usage extends Error {
  readonly why: Fact;
  constructor(why: Fact) {
    super(sayFact(PLAIN_READER, why));
    this.why = why;
  }
}

/** Who reads this command line; one process serves one. */
let reader: Reader = PLAIN_READER;

/** Runs one command line. Returns the exit code. */
export async function runCli(args: string[]): Promise<number> {
  const asked = readerOf(args);
  reader = asked.reader;
  const [command, ...rest] = asked.rest;
  try {
    if (asked.refused) throw new Usage(fact('terminal.languageHow'));
    switch (command) {
      case 'requests':
        return listRequests(rest);
      case 'call':
        return await callRequest(rest);
      case 'demo':
        return await demo(rest);
      case 'help':
      case '--help':
      case '-h':
        process.stdout.write(say(reader, 'terminal.help'));
        return 0;
      default:
        throw new Usage(command === undefined ? fact('terminal.sayWhat') : fact('terminal.noCommand', { command }));
    }
  } catch (error) {
    if (error instanceof Usage) {
      process.stderr.write(`${sayFact(reader, error.why)}\n\n${say(reader, 'terminal.help')}`);
      return 2;
    }
    const failure = toFailure(error);
    if (failure.code === 'internal') writeLog(error instanceof Error ? (error.stack ?? error.message) : String(error));
    return fail(failure);
  }
}

function listRequests(args: string[]): number {
  const { positionals } = parse(args, {});
  if (positionals.length > 1) throw new Usage(fact('terminal.requestsTakesOne'));
  const [name] = positionals;
  if (name === undefined) {
    print(
      REQUESTS.map((request) => ({
        name: request.name,
        kind: request.kind,
        title: request.title,
        input: schemaOf(request.input, 'input'),
      })),
    );
    return 0;
  }
  const request = findRequest(name);
  if (request === undefined) return fail(unknownRequest(name));
  print({
    name: request.name,
    kind: request.kind,
    title: request.title,
    topics: request.topics,
    input: schemaOf(request.input, 'input'),
    output: schemaOf(request.output, 'output'),
  });
  return 0;
}

function schemaOf(schema: z.ZodType, io: 'input' | 'output'): unknown {
  return z.toJSONSchema(schema, { io, unrepresentable: 'any' });
}

async function callRequest(args: string[]): Promise<number> {
  const { positionals, values } = parse(args, { book: { type: 'string' }, file: { type: 'string', multiple: true } });
  const [name, text = '{}'] = positionals;
  if (name === undefined || positionals.length > 2) throw new Usage(fact('terminal.callTakesTwo'));
  const request = findRequest(name);
  if (request === undefined) return fail(unknownRequest(name));
  const input = withFiles(
    readInput(text === '-' ? await standardInput() : text),
    asList(values.file),
    'fileName' in request.input.shape,
  );

  const changes = request.kind === 'write' || ('changesBook' in request && request.changesBook === true);
  const named = typeof values.book === 'string' ? placeOf(fromCallersFolder(values.book), 'book') : undefined;
  // Pure calculations need no book: on a machine that has none yet they get an empty one for the moment.
  const passing =
    named === undefined && !changes && request.topics.length === 0 && !existsSync(defaultBook())
      ? mkdtempSync(path.join(tmpdir(), 'valvebook-'))
      : undefined;
  const bookPath = passing === undefined ? (named ?? defaultBook()) : path.join(passing, 'empty.valvebook');

  const creates = changes || passing !== undefined;
  if (!creates && !existsSync(bookPath)) {
    throw new BookError('not-found', fact('terminal.noBook', { path: bookPath }), 'book');
  }

  const cancel = new AbortController();
  const onSignal = () => cancel.abort();
  process.on('SIGINT', onSignal);
  process.on('SIGTERM', onSignal);
  const meter = progressMeter();
  try {
    if (creates) makeFolderFor(bookPath);
    const desk = await openDesk({
      bookPath,
      access: creates ? 'write' : 'read',
      create: creates,
      log: writeLog,
      upgrading: { progress: meter.show, signal: cancel.signal },
    });
    try {
      const reply = await desk.call(name, input, { signal: cancel.signal, onProgress: meter.show });
      meter.end();
      if (!reply.ok) return fail(reply.error);
      print(reply.data);
      return 0;
    } finally {
      await desk.close();
    }
  } finally {
    meter.end();
    process.off('SIGINT', onSignal);
    process.off('SIGTERM', onSignal);
    if (passing !== undefined) rmSync(passing, { recursive: true, force: true });
  }
}

function readInput(text: string): unknown {
  try {
    return JSON.parse(text.replace(/^\uFEFF/, ''));
  } catch (error) {
    throw new BookError(
      'bad-input',
      fact('terminal.notJson', { why: error instanceof Error ? error.message : String(error) }),
    );
  }
}

async function standardInput(): Promise<string> {
  const chunks: Buffer[] = [];
  for await (const chunk of process.stdin as AsyncIterable<Buffer>) chunks.push(chunk);
  return Buffer.concat(chunks).toString('utf8');
}

function withFiles(input: unknown, files: string[], takesFileName: boolean): unknown {
  if (files.length === 0) return input;
  if (typeof input !== 'object' || input === null || Array.isArray(input))
    throw new BookError('bad-input', fact('terminal.fileNeedsObject'));
  const filled: Record<string, unknown> = { ...input };
  for (const entry of files) {
    const at = entry.indexOf('=');
    if (at < 1) throw new Usage(fact('terminal.fileHow'));
    const field = entry.slice(0, at);
    const file = fromCallersFolder(entry.slice(at + 1));
    try {
      filled[field] = readWholeFile(file).toString('base64');
    } catch {
      throw new BookError('bad-input', fact('terminal.fileUnread', { file }), field);
    }
    if (takesFileName) filled.fileName ??= path.basename(file);
  }
  return filled;
}

async function demo(args: string[]): Promise<number> {
  const { positionals, values } = parse(args, {
    book: { type: 'string' },
    properties: { type: 'string' },
    seed: { type: 'string' },
    today: { type: 'string' },
  });
  if (positionals.length > 0 || typeof values.book !== 'string') throw new Usage(fact('terminal.demoNeedsBook'));
  const bookPath = fromCallersFolder(values.book);
  const properties = wholeNumber(values.properties, 'properties', 1, 100_000);
  const seed = wholeNumber(values.seed, 'seed', 0, 2 ** 31 - 1);
  const today = typeof values.today === 'string' ? values.today : undefined;
  if (
    today !== undefined &&
    (!/^\d{4}-\d\d-\d\d$/.test(today) || new Date(`${today}T00:00:00Z`).toJSON()?.slice(0, 10) !== today)
  ) {
    throw new Usage(fact('terminal.todayHow'));
  }
  // The demo company's data is only read when it is wanted.
  const { makeDemo } = await import('./demo.ts');
  const meter = progressMeter();
  try {
    await makeDemo({ path: bookPath, properties, seed, today, onProgress: meter.show });
  } finally {
    meter.end();
  }
  const desk = await openDesk({ bookPath, access: 'read', log: writeLog });
  try {
    const reply = await desk.call('book.info', {});
    if (!reply.ok) return fail(reply.error);
    print(reply.data);
    return 0;
  } finally {
    await desk.close();
  }
}

function wholeNumber(value: unknown, option: string, least: number, most: number): number | undefined {
  if (value === undefined) return undefined;
  const number = Number(value);
  if (!Number.isInteger(number) || number < least || number > most)
    throw new Usage(fact('terminal.wholeNumber', { option, least, most }));
  return number;
}

type Options = NonNullable<NonNullable<Parameters<typeof parseArgs>[0]>['options']>;

function parse(args: string[], options: Options): { positionals: string[]; values: Record<string, unknown> } {
  try {
    return parseArgs({ args, options, allowPositionals: true, strict: true });
  } catch (error) {
    throw new Usage(argumentTrouble(error));
  }
}

function asList(value: unknown): string[] {
  return Array.isArray(value) ? value.map(String) : [];
}

function unknownRequest(name: string): Failure {
  return toFailure(new BookError('unknown-request', fact('terminal.noRequest', { name }), 'name'));
}

/** On a terminal one line that is written over; elsewhere a line of JSON at most every second. */
function progressMeter(): { show(progress: Progress): void; end(): void } {
  let last = -Infinity;
  let drawn = false;
  return {
    show(progress) {
      const now = performance.now();
      const label = progress.text === undefined ? progress.label : sayFact(reader, progress.text);
      if (process.stderr.isTTY) {
        if (now - last < 100 && progress.done !== progress.total) return;
        const share = progress.total > 0 ? `${Math.floor((progress.done / progress.total) * 100)} % ` : '';
        process.stderr.write(`\r\u001b[2K${share}${label}`);
        drawn = true;
      } else {
        if (now - last < 1000) return;
        process.stderr.write(`${JSON.stringify({ progress: { ...progress, label } })}\n`);
      }
      last = now;
    },
    end() {
      if (drawn) process.stderr.write('\r\u001b[2K');
      drawn = false;
    },
  };
}

/** JSON for people and programs alike: beside each fact stands what it says. */
function print(value: unknown): void {
  process.stdout.write(`${JSON.stringify(value, withSaid, 2)}\n`);
}

function withSaid(_name: string, value: unknown): unknown {
  return isFact(value) ? { ...value, said: sayFact(reader, value) } : value;
}

function fail(failure: Failure): number {
  process.stderr.write(`${JSON.stringify({ ...failure, message: sayFailure(reader, failure) })}\n`);
  return 1;
}

if (import.meta.main) {
  // `valvebook requests | head` closes the pipe early; that is no fault.
  process.stdout.on('error', (error: NodeJS.ErrnoException) => {
    if (error.code !== 'EPIPE') throw error;
  });
  keepToOwner();
  process.exitCode = await runCli(process.argv.slice(2));
}

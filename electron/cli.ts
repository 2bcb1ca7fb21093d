import { existsSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { parseArgs } from 'node:util';
import { z } from 'zod';
import { findRequest, REQUESTS, type Progress } from '../core/contract/index.ts';
import { openDesk } from '../core/desk/desk.ts';
import { BookError, toFailure, type Failure } from '../core/errors.ts';
import { placeOf } from '../core/paths.ts';
import { readWholeFile } from '../core/store/book-file.ts';
import { defaultBook, fromCallersFolder, keepToOwner, makeFolderFor, writeLog } from './places.ts';
import { isFact, PLAIN_READER, sayFact } from '../core/text/say.ts';

// The same requests as the window, from a terminal: data as JSON on stdout, a failure as JSON on stderr.

const HELP = `Valvebook from the command line

  valvebook requests [NAME]          every request (or one) with its kind, what it does and the JSON schema of its input
  valvebook call NAME INPUT          runs a request; INPUT is JSON, or - to read it from standard input, or left out for {}
      --book FILE                    the book (else VALVEBOOK_BOOK, else ~/Valvebook/company.valvebook)
      --file FIELD=PATH              puts a file's bytes, as base64, into a field of the input (may be given again)
  valvebook demo --book FILE         makes a demo company, the same for the same seed; never replaces a file
      --properties N  --seed K  --today YYYY-MM-DD
  valvebook help

The result is printed as JSON. A failure is printed as JSON on standard error with exit code 1; a command that is
not understood ends with exit code 2. Ctrl-C cancels a long request. A write makes the book where there is none yet.
`;

class Usage extends Error {}

/** Runs one command line. Returns the exit code. */
export async function runCli(args: string[]): Promise<number> {
  const [command, ...rest] = args;
  try {
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
        process.stdout.write(HELP);
        return 0;
      default:
        throw new Usage(command === undefined ? 'Say what to do.' : `There is no command “${command}”.`);
    }
  } catch (error) {
    if (error instanceof Usage) {
      process.stderr.write(`${error.message}\n\n${HELP}`);
      return 2;
    }
    const failure = toFailure(error);
    if (failure.code === 'internal') writeLog(error instanceof Error ? (error.stack ?? error.message) : String(error));
    return fail(failure);
  }
}

function listRequests(args: string[]): number {
  const { positionals } = parse(args, {});
  if (positionals.length > 1) throw new Usage('“requests” takes one name at most.');
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
  if (name === undefined || positionals.length > 2) throw new Usage("“call” takes a request's name and its input.");
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
    throw new BookError(
      'not-found',
      `There is no book at ${bookPath}. Name one with --book FILE, or make one: start the app, or run valvebook demo --book FILE.`,
      'book',
    );
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
      `The input is not JSON (${error instanceof Error ? error.message : String(error)}). Quote it for your shell, or send it through standard input with -.`,
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
    throw new BookError('bad-input', 'A file can only be put into an input that is a JSON object.');
  const filled: Record<string, unknown> = { ...input };
  for (const entry of files) {
    const at = entry.indexOf('=');
    if (at < 1) throw new Usage('--file is written FIELD=PATH.');
    const field = entry.slice(0, at);
    const file = fromCallersFolder(entry.slice(at + 1));
    try {
      filled[field] = readWholeFile(file).toString('base64');
    } catch {
      throw new BookError(
        'bad-input',
        `The file ${file} cannot be read. Check its name and that you may read it.`,
        field,
      );
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
  if (positionals.length > 0 || typeof values.book !== 'string') throw new Usage('“demo” needs --book FILE.');
  const bookPath = fromCallersFolder(values.book);
  const properties = wholeNumber(values.properties, 'properties', 1, 100_000);
  const seed = wholeNumber(values.seed, 'seed', 0, 2 ** 31 - 1);
  const today = typeof values.today === 'string' ? values.today : undefined;
  if (
    today !== undefined &&
    (!/^\d{4}-\d\d-\d\d$/.test(today) || new Date(`${today}T00:00:00Z`).toJSON()?.slice(0, 10) !== today)
  ) {
    throw new Usage('--today is a date written YYYY-MM-DD.');
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
    throw new Usage(`--${option} is a whole number from ${least} to ${most}.`);
  return number;
}

type Options = NonNullable<NonNullable<Parameters<typeof parseArgs>[0]>['options']>;

function parse(args: string[], options: Options): { positionals: string[]; values: Record<string, unknown> } {
  try {
    return parseArgs({ args, options, allowPositionals: true, strict: true });
  } catch (error) {
    throw new Usage(error instanceof Error ? error.message : String(error));
  }
}

function asList(value: unknown): string[] {
  return Array.isArray(value) ? value.map(String) : [];
}

function unknownRequest(name: string): Failure {
  return {
    code: 'unknown-request',
    message: `There is no request named “${name}”. List them with: valvebook requests`,
    field: 'name',
  };
}

/** On a terminal one line that is written over; elsewhere a line of JSON at most every second. */
function progressMeter(): { show(progress: Progress): void; end(): void } {
  let last = -Infinity;
  let drawn = false;
  return {
    show(progress) {
      const now = performance.now();
      if (process.stderr.isTTY) {
        if (now - last < 100 && progress.done !== progress.total) return;
        const share = progress.total > 0 ? `${Math.floor((progress.done / progress.total) * 100)} % ` : '';
        process.stderr.write(`\r\u001b[2K${share}${progress.label}`);
        drawn = true;
      } else {
        if (now - last < 1000) return;
        process.stderr.write(`${JSON.stringify({ progress })}\n`);
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
  return isFact(value) ? { ...value, said: sayFact(PLAIN_READER, value) } : value;
}

function fail(failure: Failure): number {
  process.stderr.write(`${JSON.stringify(failure)}\n`);
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

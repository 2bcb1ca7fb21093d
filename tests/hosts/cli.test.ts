import { spawn } from 'node:child_process';
import { existsSync, mkdtempSync, readFileSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { ulid } from 'ulid';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { REQUESTS } from '../../core/contract/index.ts';
import type { Failure } from '../../core/errors.ts';

const cli = path.resolve(import.meta.dirname, '../../electron/cli.ts');
let folder: string;
let book: string;

interface Ended {
  code: number | null;
  stdout: string;
  stderr: string;
}
function run(args: string[], input?: string, locale: NodeJS.ProcessEnv = {}): Promise<Ended> {
  return new Promise((resolve) => {
    const env: NodeJS.ProcessEnv = {
      ...process.env,
      HOME: folder,
      USERPROFILE: folder,
      APPDATA: folder,
      XDG_DATA_HOME: folder,
      VALVEBOOK_CALLER_DIR: folder,
    };
    delete env.VALVEBOOK_BOOK;
    for (const name of ['LC_ALL', 'LC_MESSAGES', 'LANG']) delete env[name];
    Object.assign(env, locale);
    const child = spawn(process.execPath, [cli, ...args], { cwd: folder, env });
    let stdout = '';
    let stderr = '';
    child.stdout.on('data', (chunk: Buffer) => (stdout += chunk.toString()));
    child.stderr.on('data', (chunk: Buffer) => (stderr += chunk.toString()));
    child.on('close', (code) => resolve({ code, stdout, stderr }));
    child.stdin.end(input);
  });
}
/** A failure is the last line of standard error, alone, and standard output stays empty. */
function failureOf({ stdout, stderr }: Ended): Failure {
  expect(stdout).toBe('');
  expect(stderr).not.toMatch(/\n\s+at /);
  return JSON.parse(stderr.trim().split('\n').at(-1) ?? '') as Failure;
}

beforeAll(async () => {
  folder = mkdtempSync(path.join(tmpdir(), 'valvebook-cli-'));
  book = path.join(folder, 'company.valvebook');
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

describe('valvebook requests', () => {
  it('lists every request of the contract with its JSON schema', async () => {
    const { code, stdout, stderr } = await run(['requests']);
    expect([code, stderr]).toEqual([0, '']);
    const listed = JSON.parse(stdout) as {
      name: string;
      kind: string;
      title: string;
      input: { type: string; $schema: string };
    }[];
    expect(listed.map(({ name }) => name)).toEqual(REQUESTS.map(({ name }) => name));
    for (const { name, kind, title, input } of listed) {
      expect(['read', 'write', 'job'], name).toContain(kind);
      expect(title.length, name).toBeGreaterThan(10);
      expect(input.type, name).toBe('object');
      expect(input.$schema, name).toContain('json-schema.org');
    }
  });

  it('shows one request with input and output', async () => {
    const { code, stdout } = await run(['requests', 'agronomy.eto']);
    expect(code).toBe(0);
    expect(JSON.parse(stdout)).toMatchObject({
      name: 'agronomy.eto',
      input: { required: expect.arrayContaining(['latitudeDeg', 'tmaxC']) },
      output: { properties: { etoMm: {} } },
    });
    expect(failureOf(await run(['requests', 'no.such'])).code).toBe('unknown-request');
  });
});

describe('valvebook call', () => {
  it('makes the book on the first write and reads it afterwards', async () => {
    const missing = await run(['call', 'book.info', '--book', 'company.valvebook']);
    expect(missing.code).toBe(1);
    expect(failureOf(missing)).toMatchObject({ code: 'not-found', field: 'book' });
    expect(existsSync(book)).toBe(false);
    const written = await run([
      'call',
      'rules.save',
      JSON.stringify({ writeId: ulid() }),
      '--book',
      'company.valvebook',
    ]);
    expect(written).toMatchObject({ code: 0, stderr: '' });
    expect(JSON.parse(written.stdout)).toEqual({ saved: 0 });
    const read = await run(['call', 'book.info', '{}', '--book', book]);
    expect(read.code).toBe(0);
    expect(JSON.parse(read.stdout)).toMatchObject({ path: book });
  });

  it('reads the input from standard input', async () => {
    const answer = await run(
      ['call', 'rules.save', '-', '--book', book],
      `\uFEFF${JSON.stringify({ writeId: ulid() })}\n`,
    );
    expect(answer).toMatchObject({ code: 0 });
    expect(JSON.parse(answer.stdout)).toEqual({ saved: 0 });
    const broken = await run(['call', 'rules.save', '-', '--book', book], '{"writeId":');
    expect(broken.code).toBe(1);
    expect(failureOf(broken).code).toBe('bad-input');
  });

  it('prints a failure as JSON with the field it belongs to', async () => {
    const before = readFileSync(book);
    const wrong = await run(['call', 'rules.save', '{"writeId":"x"}', '--book', book]);
    expect(wrong.code).toBe(1);
    expect(failureOf(wrong)).toMatchObject({ code: 'bad-input', field: 'writeId' });
    expect(failureOf(await run(['call', 'no.such', '{}', '--book', book])).code).toBe('unknown-request');
    expect(failureOf(await run(['call', 'book.info', 'not json', '--book', book])).code).toBe('bad-input');
    expect(readFileSync(book)).toEqual(before);
  });

  it('computes without any book where none is needed, and leaves none behind', async () => {
    const input = {
      latitudeDeg: 50.8,
      elevationM: 100,
      date: '2025-07-06',
      tmaxC: 21.5,
      tminC: 12.3,
      rhMaxPct: 84,
      rhMinPct: 63,
      windMps: 2.78,
      windHeightM: 10,
      sunshineHours: 9.25,
    };
    const answer = await run(['call', 'agronomy.eto', JSON.stringify(input)]);
    expect(answer).toMatchObject({ code: 0, stderr: '' });
    // FAO-56 example 18 prints 3.9 mm/day for this day.
    expect((JSON.parse(answer.stdout) as { etoMm: number }).etoMm).toBeCloseTo(3.9, 1);
    expect(readdirSync(folder)).not.toContain('Valvebook');
  });

  it('puts a file into a field', async () => {
    writeFileSync(path.join(folder, 'list.csv'), 'Name,Street\nAda Example,1 Sample Way\n');
    const answer = await run(['call', 'import.preview', '--book', book, '--file', 'bytesBase64=list.csv']);
    expect(answer).toMatchObject({ code: 0 });
    expect(JSON.parse(answer.stdout)).toMatchObject({
      rowCount: 1,
      columns: [{ header: 'Name' }, { header: 'Street' }],
    });
    const missing = await run(['call', 'import.preview', '--book', book, '--file', 'bytesBase64=none.csv']);
    expect(failureOf(missing)).toMatchObject({ code: 'bad-input', field: 'bytesBase64' });
  });
});

describe('valvebook demo', () => {
  it('makes a book and never replaces a file', async () => {
    const made = await run([
      'demo',
      '--book',
      'demo.valvebook',
      '--properties',
      '3',
      '--seed',
      '5',
      '--today',
      '2026-04-15',
    ]);
    expect(made.code).toBe(0);
    expect(JSON.parse(made.stdout)).toMatchObject({
      path: path.join(folder, 'demo.valvebook'),
      counts: { property: 3 },
    });
    expect(readdirSync(folder).filter((name) => name.includes('making'))).toEqual([]);
    const before = readFileSync(path.join(folder, 'demo.valvebook'));
    const again = await run(['demo', '--book', 'demo.valvebook']);
    expect(again.code).toBe(1);
    expect(failureOf(again)).toMatchObject({ code: 'conflict', field: 'book' });
    expect(readFileSync(path.join(folder, 'demo.valvebook'))).toEqual(before);
  });
});

it('help is no failure, and what is not understood ends with exit code 2', async () => {
  expect(await run(['help'])).toMatchObject({
    code: 0,
    stderr: '',
    stdout: expect.stringContaining('valvebook demo --book FILE'),
  });
  expect(await run(['nonsense'])).toMatchObject({
    code: 2,
    stdout: '',
    stderr: expect.stringContaining('valvebook call NAME'),
  });
});

describe('the language of the terminal', () => {
  const spanish = { LANG: 'es_MX.UTF-8' };

  it("is the machine's, and --language goes before it", async () => {
    expect((await run(['help'], undefined, spanish)).stdout).toContain('Valvebook desde la línea de comandos');
    expect((await run(['help', '--language', 'en'], undefined, spanish)).stdout).toContain('from the command line');
    expect((await run(['--language=es', 'help'])).stdout).toContain('desde la línea de comandos');
    // POSIX.1-2017, Base Definitions 8.2: LC_ALL goes before LANG, and an empty one counts as not set.
    expect((await run(['help'], undefined, { ...spanish, LC_ALL: 'C.UTF-8' })).stdout).toContain('command line');
    expect((await run(['help'], undefined, { ...spanish, LC_ALL: '' })).stdout).toContain('línea de comandos');
  });

  it('says what is not understood, with the help below it', async () => {
    for (const [args, says] of [
      [[], 'Diga qué hacer.'],
      [['riegue'], 'No hay ninguna orden «riegue».'],
      [['call'], '«call» lleva el nombre de una petición y su entrada.'],
      [['call', 'client.list', '--libro', 'x'], 'No hay ninguna opción «--libro».'],
      [['call', 'client.list', '--book'], '«--book» no está escrita como debe'],
      [['demo', '--book', 'x', '--seed', 'y'], '--seed es un número entero de 0 a 2147483647.'],
      [['help', '--language', 'fr'], '--language es en (inglés) o es (español).'],
    ] as const) {
      const { code, stderr } = await run([...args], undefined, spanish);
      expect([code, stderr.split('\n')[0]], args.join(' ')).toEqual([2, expect.stringContaining(says)]);
      expect(stderr).toContain('--properties N');
    }
  });

  it('says failures of the command line and of the core alike', async () => {
    const failed = async (args: string[]) => failureOf(await run(args, undefined, spanish)).message;
    expect(await failed(['call', 'no.hay'])).toBe(
      'No hay ninguna petición llamada «no.hay». Vea la lista con: valvebook requests',
    );
    expect(await failed(['call', 'client.list', '{'])).toMatch(/^La entrada no es JSON/);
    expect(await failed(['call', 'client.list', '{}', '--book', 'nada.valvebook'])).toMatch(/^No hay ningún libro en/);
    writeFileSync(path.join(folder, 'taken.valvebook'), 'x');
    expect(await failed(['demo', '--book', 'taken.valvebook'])).toMatch(/^Ya hay un archivo en/);
  });
});

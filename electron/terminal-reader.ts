import { PLAIN_READER, fact, type Fact, type Reader } from '../core/text/say.ts';
import { LANGUAGES, type Language } from '../core/text/words.ts';

// Who reads a terminal: the language an option names, else that of the machine. Logs are English whoever reads.

/**
 * The language of the machine's locale; English where it names none that Valvebook speaks.
 * Source of the order: POSIX.1-2017, Base Definitions 8.2 (LC_ALL, then the category, then LANG; an empty one counts as not set).
 */
export function localeLanguage(env: NodeJS.ProcessEnv, system: NodeJS.Platform = process.platform): Language {
  const named =
    env.LC_ALL ||
    env.LC_MESSAGES ||
    env.LANG ||
    // Windows sets none of them for its programs, macOS none for those that are started from its desktop.
    (system === 'win32' || system === 'darwin' ? Intl.DateTimeFormat().resolvedOptions().locale : '');
  const language = /^[a-z]+/i.exec(named)?.[0].toLowerCase();
  return LANGUAGES.find((one) => one === language) ?? PLAIN_READER.language;
}

/**
 * Takes `--language` out of a command line, wherever it stands before a `--`.
 * @returns who reads, and the rest of the arguments; `refused` where the option names no language of ours
 */
export function readerOf(
  args: readonly string[],
  env: NodeJS.ProcessEnv = process.env,
): { reader: Reader; rest: string[]; refused: boolean } {
  let language = localeLanguage(env);
  let refused = false;
  const end = args.includes('--') ? args.indexOf('--') : args.length;
  const rest: string[] = [];
  for (let at = 0; at < end; at++) {
    const one = args[at]!;
    if (one !== '--language' && !one.startsWith('--language=')) {
      rest.push(one);
      continue;
    }
    const asked = one === '--language' ? args[++at] : one.slice('--language='.length);
    const known = LANGUAGES.find((name) => name === asked);
    if (known === undefined) refused = true;
    else language = known;
  }
  return { reader: { ...PLAIN_READER, language }, rest: [...rest, ...args.slice(end)], refused };
}

/** What Node's parseArgs has against a command line, as a fact: its own sentence is English. */
export function argumentTrouble(error: unknown): Fact {
  const option = /'([^' ]+)/.exec(error instanceof Error ? error.message : '')?.[1] ?? '';
  switch (error instanceof Error && 'code' in error ? error.code : undefined) {
    case 'ERR_PARSE_ARGS_UNKNOWN_OPTION':
      return fact('terminal.noOption', { option });
    case 'ERR_PARSE_ARGS_INVALID_OPTION_VALUE':
      return fact('terminal.optionHow', { option });
    case 'ERR_PARSE_ARGS_UNEXPECTED_POSITIONAL':
      return fact('terminal.noMoreWords', { option });
    default:
      return fact('terminal.notUnderstood');
  }
}

import { readdirSync, readFileSync } from 'node:fs';
import { builtinModules } from 'node:module';
import path from 'node:path';

// The direction of dependencies, checked on resolved paths: which part of the program may know which.

export interface Violation {
  file: string;
  line: number;
  target: string;
  why: string;
}
interface Rule {
  /** Files the rule speaks of, as paths from the root. */
  from: RegExp;
  except?: RegExp;
  /** Targets it forbids: paths from the root with "./" before them, or package names. */
  forbids: (target: string) => boolean;
  why: string;
}

const FOLDERS = ['core', 'electron', 'renderer', 'migrations'];
/** Targets inside the checkout start with "./", so that the folder electron and the package electron stay two things. */
const below =
  (...folders: string[]) =>
  (target: string) =>
    folders.some((folder) => target === `./${folder}` || target.startsWith(`./${folder}/`));
const packages =
  (...names: RegExp[]) =>
  (target: string) =>
    names.some((name) => name.test(target));
const SCREEN = packages(/^electron$/, /^react($|\/)/, /^react-/, /^recharts/, /^@tanstack\//, /^zustand/);
const SQL = packages(/^kysely/, /^better-sqlite3/, /^node:sqlite$/);
const OWN_FOLDERS = below(...FOLDERS, 'tests', 'assets');

/** Rules of core that a screen needs too, each without I/O: a rule stands once. */
const PURE_RULES_OF_SCREENS = [
  './core/agronomy/precipitation-rate.ts',
  './core/book/csv/write.ts',
  './core/programs/accept-plan.ts',
  './core/programs/seasonal.ts',
  './core/programs/water-off.ts',
];

const RULES: Rule[] = [
  {
    from: /^core\//,
    forbids: (target) => SCREEN(target) || below('electron', 'renderer', 'tests')(target),
    why: 'core runs without a window: it knows neither Electron, React nor the hosts',
  },
  {
    from: /^electron\//,
    forbids: (target) => below('renderer', 'tests')(target) || packages(/^react($|\/)/, /^react-/)(target),
    why: 'the hosts serve the renderer as built files and never import it',
  },
  {
    from: /^renderer\//,
    forbids: (target) =>
      OWN_FOLDERS(target) &&
      !below(
        'renderer',
        'assets',
        'core/contract',
        'core/text',
        'core/errors.ts',
        'core/units.ts',
        'core/dates.ts',
      )(target) &&
      !PURE_RULES_OF_SCREENS.includes(target),
    why: 'the renderer knows the contract, errors, units and dates of core and the pure rules listed, and nothing else of it',
  },
  {
    from: /^renderer\//,
    forbids: (target) => SQL(target) || target === 'electron' || isNodeModule(target),
    why: 'the renderer runs in a page: no Node, no Electron, no database',
  },
  { from: /^core\//, except: /^core\/store\//, forbids: SQL, why: 'SQL lives in core/store only' },
  { from: /^electron\//, forbids: SQL, why: 'SQL lives in core/store only' },
  {
    from: /^core\/(agronomy|programs)\//,
    except: /^core\/(agronomy|programs)\/(.+-)?requests\.ts$/,
    forbids: (target) =>
      below('core/store', 'core/desk.ts', 'core/context.ts')(target) ||
      packages(/^node:(fs|child_process|worker_threads|net|http|https|os)(\/|$)/)(target),
    why: 'agronomy and programs are pure: what they need is handed to them (their requests.ts loads and saves)',
  },
  {
    from: /^core\/contract\//,
    forbids: (target) =>
      OWN_FOLDERS(target) &&
      !below('core/contract', 'core/text', 'core/errors.ts', 'core/units.ts', 'core/dates.ts')(target),
    why: 'the contract stands alone',
  },
  {
    from: new RegExp(`^(${PURE_RULES_OF_SCREENS.map((file) => file.slice(2).replaceAll('.', '\\.')).join('|')})$`),
    forbids: (target) => isNodeModule(target) || SQL(target) || below('core/store')(target),
    why: 'a rule that screens share also runs in a page, where there is no Node and no database',
  },
  { from: /^core\/contract\//, forbids: isNodeModule, why: 'the contract also runs in a page, where there is no Node' },
  {
    from: /^core\/store\//,
    except: /^core\/store\/demo\//,
    forbids: (target) =>
      below('core/agronomy', 'core/programs', 'core/desk.ts', 'core/handlers.ts')(target) ||
      /^\.\/core\/.+requests\.ts$/.test(target),
    why: 'the store keeps and finds; what is computed from it, and who asks, it does not know',
  },
  {
    from: /^migrations\//,
    forbids: (target) => OWN_FOLDERS(target) && !below('migrations', 'core/store', 'core/contract')(target),
    why: 'a migration depends on the store only, so that it means the same for ever',
  },
];

function isNodeModule(target: string): boolean {
  return target.startsWith('node:') || builtinModules.includes(target);
}

/** Every import of a source text: static, re-exported, dynamic, and workers named by address. */
export function importsOf(text: string): { specifier: string; line: number }[] {
  const found: { specifier: string; line: number }[] = [];
  // Comments first, so that an example in one is not an import; strings that hold "//" keep their length.
  const code = text.replace(/\/\*[\s\S]*?\*\/|(?<=^|[\s;{}(,])\/\/[^\n]*/g, (comment) =>
    comment.replace(/[^\n]/g, ' '),
  );
  const patterns = [
    /\b(?:import|export)\s+(?:type\s+)?(?:[\w*$\s{},]+?\s+from\s+)?(['"])([^'"\n]+)\1/g,
    /\bimport\s*\(\s*(['"])([^'"\n]+)\1/g,
    /\bnew\s+URL\s*\(\s*(['"])(\.[^'"\n]+)\1\s*,\s*import\.meta\.url/g,
    /\brequire\s*\(\s*(['"])([^'"\n]+)\1/g,
  ];
  for (const pattern of patterns) {
    for (const match of code.matchAll(pattern)) {
      found.push({ specifier: match[2] ?? '', line: code.slice(0, match.index + match[0].length).split('\n').length });
    }
  }
  return found;
}

/** The violations in one file, given as a path from the root. */
export function checkFile(file: string, text: string): Violation[] {
  const violations: Violation[] = [];
  for (const { specifier, line } of importsOf(text)) {
    const target = specifier.startsWith('.') ? `./${path.posix.join(path.posix.dirname(file), specifier)}` : specifier;
    for (const rule of RULES) {
      if (!rule.from.test(file) || rule.except?.test(file) || !rule.forbids(target)) continue;
      violations.push({ file, line, target, why: rule.why });
    }
  }
  return violations;
}

/** The violations of a whole checkout. */
export function checkTree(root: string): { files: number; violations: Violation[] } {
  let files = 0;
  const violations: Violation[] = [];
  for (const folder of FOLDERS) {
    for (const entry of readdirSync(path.join(root, folder), { recursive: true, withFileTypes: true })) {
      if (!entry.isFile() || !/\.(ts|tsx|mjs)$/.test(entry.name)) continue;
      const full = path.join(entry.parentPath, entry.name);
      files += 1;
      violations.push(...checkFile(path.relative(root, full).split(path.sep).join('/'), readFileSync(full, 'utf8')));
    }
  }
  return { files, violations };
}

if (import.meta.main) {
  const { files, violations } = checkTree(path.resolve(import.meta.dirname, '../..'));
  for (const { file, line, target, why } of violations) console.error(`${file}:${line} imports ${target}: ${why}`);
  console.error(`${files} files, ${violations.length} imports in the wrong direction`);
  process.exitCode = violations.length === 0 && files > 0 ? 0 : 1;
}

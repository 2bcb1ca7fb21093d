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
  forbids: (target: string, file: string) => boolean;
  why: string;
}

/** The folders of core that are areas: each with its contract, rules, queries, handlers, and an index of what others may use. */
export const AREAS =
  'agronomy book clients csv demo due import ledger people programs properties recording settings visits weather'.split(
    ' ',
  );
/** Schemas and requests: they run anywhere, and everybody may read them. */
const CONTRACT = /^\.\/core\/[a-z]+\/(?:[a-z]+-)?contract\.ts$/;
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
  './core/csv/write.ts',
  './core/ledger/standing.ts',
  './core/programs/accept-plan.ts',
  './core/programs/in-force.ts',
  './core/programs/seasonal.ts',
  './core/programs/water-off.ts',
  './core/recording/visit-after.ts',
];

/** What is SQLite's alone. */
const ENGINE_INSIDE = ['sqlite', 'sqlite-engine', 'book-lock', 'bulk-load', 'copy-book'].map(
  (name) => `./core/store/${name}.ts`,
);

/** The area a path belongs to: `core/ledger/…` or `./core/ledger/…`; null for what is in none. */
function areaOf(file: string): string | null {
  const folder = /^(?:\.\/)?core\/([a-z]+)\//.exec(file)?.[1];
  return folder !== undefined && AREAS.includes(folder) ? folder : null;
}
const isInside = (target: string) => {
  const area = areaOf(target);
  return area !== null && target !== `./core/${area}/index.ts` && !CONTRACT.test(target);
};

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
      !CONTRACT.test(target) &&
      !PURE_RULES_OF_SCREENS.includes(target),
    why: 'the renderer knows the contracts, texts, errors, units and dates of core and the pure rules listed, and nothing else of it',
  },
  {
    from: /^renderer\//,
    forbids: (target) => SQL(target) || target === 'electron' || isNodeModule(target),
    why: 'the renderer runs in a page: no Node, no Electron, no database',
  },
  {
    from: /^core\//,
    // Beside store: an area's queries, the projections of the ledger, and the row types of the demo's past.
    except: /^core\/(store\/|[a-z]+\/(.+-)?queries\.ts$|ledger\/projections\.ts$|demo\/journal\.ts$)/,
    forbids: SQL,
    why: "SQL lives in core/store and in an area's queries",
  },
  {
    from: /^core\//,
    except: /^core\/store\//,
    forbids: (target) => ENGINE_INSIDE.includes(target),
    why: 'which engine keeps the book is known in core/store alone: ask core/store/book-engine.ts',
  },
  { from: /^electron\//, forbids: SQL, why: "SQL lives in core/store and in an area's queries" },
  {
    from: /^core\//,
    except: /^core\/(contract|store)\//,
    forbids: (target, file) =>
      isInside(target) &&
      areaOf(target) !== areaOf(file) &&
      !(file === 'core/desk/handlers.ts' && target.endsWith('/requests.ts')),
    why: 'other areas use what its index.ts names, and its contract',
  },
  {
    from: /^core\/(agronomy|programs|due|csv)\//,
    except: /^core\/[a-z]+\/(.+-)?(requests|queries|index)\.ts$/,
    forbids: (target) =>
      below('core/store', 'core/desk', 'core/context.ts')(target) ||
      packages(/^node:(fs|child_process|worker_threads|net|http|https|os)(\/|$)/)(target),
    why: 'these rules are pure: what they need is handed to them (requests.ts loads and saves)',
  },
  {
    from: /^core\/(contract\/|[a-z]+\/([a-z]+-)?contract\.ts$)/,
    forbids: (target) =>
      OWN_FOLDERS(target) &&
      !CONTRACT.test(target) &&
      !below('core/contract', 'core/text', 'core/errors.ts', 'core/units.ts', 'core/dates.ts')(target),
    why: 'contracts stand alone',
  },
  {
    from: new RegExp(`^(${PURE_RULES_OF_SCREENS.map((file) => file.slice(2).replaceAll('.', '\\.')).join('|')})$`),
    forbids: (target) => isNodeModule(target) || SQL(target) || below('core/store')(target),
    why: 'a rule that screens share also runs in a page, where there is no Node and no database',
  },
  {
    from: /^core\/(contract\/|[a-z]+\/([a-z]+-)?contract\.ts$)/,
    forbids: isNodeModule,
    why: 'contracts also run in a page, where there is no Node',
  },
  {
    from: /^core\/store\//,
    forbids: (target) => (areaOf(target) !== null && !CONTRACT.test(target)) || below('core/desk')(target),
    why: 'the store keeps and finds; what areas make of it, and who asks, it does not know',
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
      if (!rule.from.test(file) || rule.except?.test(file) || !rule.forbids(target, file)) continue;
      violations.push({ file, line, target, why: rule.why });
    }
  }
  return violations;
}

/** Circles among areas, each as the areas it goes through: whoever changes one of a circle has to know them all. */
export function circlesOf(uses: ReadonlyMap<string, ReadonlySet<string>>): string[][] {
  const circles: string[][] = [];
  const done = new Set<string>();
  const walk = (area: string, way: readonly string[]) => {
    const at = way.indexOf(area);
    if (at >= 0) return void circles.push([...way.slice(at), area]);
    if (done.has(area)) return;
    for (const next of uses.get(area) ?? []) walk(next, [...way, area]);
    done.add(area);
  };
  for (const area of uses.keys()) walk(area, []);
  return circles;
}

/** Which areas each area's files import. */
function usesOf(file: string, text: string): string[] {
  const own = areaOf(file);
  if (own === null) return [];
  return importsOf(text).flatMap(({ specifier }) => {
    const used = specifier.startsWith('.') ? areaOf(path.posix.join(path.posix.dirname(file), specifier)) : null;
    return used === null || used === own ? [] : used;
  });
}

/** The violations of a whole checkout. */
export function checkTree(root: string): { files: number; violations: Violation[]; circles: string[][] } {
  let files = 0;
  const violations: Violation[] = [];
  const uses = new Map<string, Set<string>>();
  for (const folder of FOLDERS) {
    for (const entry of readdirSync(path.join(root, folder), { recursive: true, withFileTypes: true })) {
      if (!entry.isFile() || !/\.(ts|tsx|mjs)$/.test(entry.name)) continue;
      const full = path.join(entry.parentPath, entry.name);
      const file = path.relative(root, full).split(path.sep).join('/');
      const text = readFileSync(full, 'utf8');
      files += 1;
      violations.push(...checkFile(file, text));
      const area = areaOf(file);
      if (area !== null) uses.set(area, new Set([...(uses.get(area) ?? []), ...usesOf(file, text)]));
    }
  }
  return { files, violations, circles: circlesOf(uses) };
}

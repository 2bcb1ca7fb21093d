import { parseAst } from 'vite';

// Finds texts that a person would read and that stand in the source itself, past the catalogue.

export interface Found {
  line: number;
  where: string;
  text: string;
}
interface Node {
  type: string;
  start: number;
  [field: string]: unknown;
}

/** Attributes of which people read or hear the text. */
const READ = new Set([
  'action',
  'alt',
  'ariaLabel',
  'aria-description',
  'aria-label',
  'aria-roledescription',
  'aria-valuetext',
  'caption',
  'data-label',
  'description',
  'error',
  'heading',
  'hint',
  'keepLabel',
  'label',
  'note',
  'placeholder',
  'summary',
  'text',
  'textValue',
  'title',
  'unit',
]);
/** Attributes that only the machine reads, however much they look like words. */
const UNREAD = new Set(['className', 'template', 'd', 'points', 'viewBox', 'style', 'placement', 'href', 'id']);
/** What is the same in every language: the program's name, names of keys, signs of units. */
const SAME = /^(?:Valvebook|Enter|Esc|mm|mL|min|psi|cfm|gpm|in²?|MJ m² d|mph|m s|CSV|UTF|Windows|ETo|KB|MB|GB)$/;
/** Names of keys as the browser gives them. */
const KEYS = /^(?:Home|End|Escape|Tab|Backspace|Enter|Arrow\w+)$/;

/** A path that an icon is drawn by. */
const PATH = /^[MLHVCSQTAZmlhvcsqtaz\d\s.,-]+$/;

const hasWord = (text: string) =>
  /\p{L}{2,}/u.test(text) && !PATH.test(text) && !SAME.test(text.replaceAll(/[\d\s:·–%=/()+×-]+/g, ' ').trim());
/** Two words in a row, or one that begins a sentence: ids, paths and class names are not written so. */
const reads = (text: string) =>
  hasWord(text) && !KEYS.test(text) && /(?:^|\s)\p{Lu}?\p{Ll}+[,;:]? \p{L}+|^\p{Lu}\p{Ll}+(?:[.…!?]|$)/u.test(text);

const isNode = (value: unknown): value is Node => typeof value === 'object' && value !== null && 'type' in value;
const children = (node: Node): Node[] =>
  Object.values(node).flatMap((value) => (Array.isArray(value) ? value.filter(isNode) : isNode(value) ? [value] : []));
const nameOf = (node: unknown): string =>
  !isNode(node)
    ? ''
    : node.type === 'MemberExpression'
      ? nameOf(node['property'])
      : node.type === 'JSXNamespacedName'
        ? `${nameOf(node['namespace'])}:${nameOf(node['name'])}`
        : String(node['name'] ?? '');

/** The text of a literal or template, with `${}` for what is put in; null for any other node. */
function textOf(node: Node): string | null {
  if (node.type === 'Literal') return typeof node['value'] === 'string' ? node['value'] : null;
  if (node.type !== 'TemplateLiteral') return null;
  return (node['quasis'] as { value: { cooked: string } }[]).map(({ value }) => value.cooked).join('${}');
}

/** Texts written in one source file that bypass the catalogue. */
export function findTexts(source: string, isTsx: boolean): Found[] {
  const found: Found[] = [];
  const add = (node: Node, where: string, text: string): void => {
    found.push({
      line: source.slice(0, node.start).split('\n').length,
      where,
      text: text.trim().replaceAll(/\s+/g, ' '),
    });
  };
  /** Through what a value may be: both ways of a choice, the pieces of a sum. */
  const shown = (node: Node, where: string): void => {
    const text = textOf(node);
    if (text !== null && hasWord(text.replaceAll('${}', ''))) return add(node, where, text);
    if (node.type === 'TemplateLiteral') return (node['expressions'] as Node[]).forEach((one) => shown(one, where));
    if (node.type === 'ConditionalExpression') {
      walk(node['test'] as Node);
      shown(node['consequent'] as Node, where);
      return shown(node['alternate'] as Node, where);
    }
    if (node.type === 'LogicalExpression' || (node.type === 'BinaryExpression' && node['operator'] === '+')) {
      shown(node['left'] as Node, where);
      return shown(node['right'] as Node, where);
    }
    if (node.type === 'JSXExpressionContainer' || node.type === 'ParenthesizedExpression')
      return shown(node['expression'] as Node, where);
    walk(node);
  };
  const walk = (node: Node): void => {
    if (
      node.type.startsWith('TS') &&
      !['TSAsExpression', 'TSSatisfiesExpression', 'TSNonNullExpression'].includes(node.type)
    )
      return;
    if (['ImportDeclaration', 'ExportAllDeclaration'].includes(node.type)) return;
    if (node.type === 'JSXText') {
      if (hasWord(String(node['value']))) add(node, 'text', String(node['value']));
      return;
    }
    if (node.type === 'JSXElement' || node.type === 'JSXFragment') {
      if (node.type === 'JSXElement') walk(node['openingElement'] as Node);
      for (const child of node['children'] as Node[])
        if (child.type === 'JSXExpressionContainer') shown(child, 'text');
        else walk(child);
      return;
    }
    if (node.type === 'JSXAttribute') {
      const name = nameOf(node['name']);
      const value = node['value'];
      if (!isNode(value) || UNREAD.has(name)) return;
      return READ.has(name) ? shown(value, name) : walk(value);
    }
    if (node.type === 'Property' && READ.has(nameOf(node['key'])) && isNode(node['value'])) {
      const text = textOf(node['value']);
      if (text !== null && !/^[a-z]+(?:[.-][\w-]+)*$/.test(text) && hasWord(text.replaceAll('${}', '')))
        return add(node, nameOf(node['key']), text);
    }
    if (
      node.type === 'CallExpression' &&
      ['say', 'fact', 'texts', 'matchMedia', 'querySelector', 'querySelectorAll', 'closest'].includes(
        nameOf(node['callee']),
      )
    )
      return (node['arguments'] as Node[]).slice(1).forEach(walk);
    // An error that no handler turns into a sentence is for the log.
    if (node.type === 'NewExpression' && nameOf(node['callee']) === 'Error') return;
    const text = textOf(node);
    if (text !== null && reads(text.replaceAll('${}', ''))) add(node, 'string', text);
    children(node).forEach(walk);
  };
  walk(parseAst(source, { lang: isTsx ? 'tsx' : 'ts' }) as unknown as Node);
  return found;
}

/** What a text of a catalogue asks for: the names read from `given`, and the places left for elements. */
export interface Asked {
  given: string[];
  places: string[];
}

/** Every text of one catalogue file, by key. */
export function askedBy(source: string): Map<string, Asked> {
  const texts = new Map<string, Asked>();
  const collect = (node: Node, into: { given: Set<string>; places: Set<string> }): void => {
    if (node.type === 'MemberExpression' && nameOf(node['object']) === 'given')
      into.given.add(nameOf(node['property']));
    if (node.type === 'ObjectPattern')
      for (const one of node['properties'] as Node[]) into.given.add(nameOf(one['key']));
    for (const [, place] of (textOf(node) ?? '').matchAll(/(?<!\$)\{(\w+)\}/g)) into.places.add(place!);
    children(node).forEach((child) => collect(child, into));
  };
  const walk = (node: Node): void => {
    if (node.type === 'Property' && isNode(node['key']) && isNode(node['value'])) {
      const key = textOf(node['key']);
      if (key !== null && key.includes('.')) {
        const into = { given: new Set<string>(), places: new Set<string>() };
        collect(node['value'], into);
        texts.set(key, { given: [...into.given].sort(), places: [...into.places].sort() });
        return;
      }
    }
    children(node).forEach(walk);
  };
  walk(parseAst(source, { lang: 'ts' }) as unknown as Node);
  return texts;
}

/** The keys a source names, and the beginnings of those it puts together. */
export function namedKeys(source: string, isTsx: boolean): { keys: Set<string>; beginnings: Set<string> } {
  const keys = new Set<string>();
  const beginnings = new Set<string>();
  const walk = (node: Node): void => {
    if (node.type === 'ImportDeclaration') return;
    if (node.type === 'Literal' && typeof node['value'] === 'string') keys.add(node['value']);
    if (node.type === 'TemplateLiteral') {
      const [first, ...rest] = node['quasis'] as { value: { cooked: string } }[];
      if (rest.length === 0) keys.add(first!.value.cooked);
      else if (/^[a-z][\w-]*\.(?:[\w-]+\.)*$/i.test(first!.value.cooked)) beginnings.add(first!.value.cooked);
    }
    children(node).forEach(walk);
  };
  walk(parseAst(source, { lang: isTsx ? 'tsx' : 'ts' }) as unknown as Node);
  return { keys, beginnings };
}

/** Calls whose texts are for developers and logs: faults of our own, the log, patterns. */
const FOR_THE_LOG = new Set(['Error', 'TypeError', 'RangeError', 'writeLog', 'log', 'RegExp', 'error']);
/** A sentence for a reader: a capital, then at least three more words. Statements to the store begin with a word in capitals. */
const SENTENCE = /^["“«(]?(?:\$\{\} )?\p{Lu}[\p{Ll}’']*(?:[,;:]? (?:--)?[\p{L}$“«’'{}]+){3,}/u;

/** Sentences that stand in a source of the core or of a host, past the catalogue. */
export function findSentences(source: string): Found[] {
  const found: Found[] = [];
  const walk = (node: Node): void => {
    if (/^(?:TS(?!As|Satisfies|NonNull)|Import|ExportAll)/.test(node.type)) return;
    if (['NewExpression', 'CallExpression'].includes(node.type) && FOR_THE_LOG.has(nameOf(node['callee']))) return;
    if (node.type === 'TaggedTemplateExpression') return;
    const text = textOf(node)?.trim().replaceAll(/\s+/g, ' ');
    if (text !== undefined && SENTENCE.test(text))
      found.push({ line: source.slice(0, node.start).split('\n').length, where: node.type, text });
    children(node).forEach(walk);
  };
  walk(parseAst(source, { lang: 'ts' }) as unknown as Node);
  return found;
}

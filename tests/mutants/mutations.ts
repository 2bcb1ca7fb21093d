import { parseSync } from 'vite';

// Small changes of a source, each of which a test should notice: one operator, one number, one condition at a time.

export interface Mutant {
  file: string;
  /** From 1. */
  line: number;
  start: number;
  end: number;
  was: string;
  becomes: string;
  /** The expression around the change that can be exchanged for another while the program runs, and what for. */
  around: Span & { isKey: boolean };
  instead: string;
}

export interface Span {
  start: number;
  end: number;
}

interface Node {
  type: string;
  start: number;
  end: number;
  [key: string]: unknown;
}

const OPERATORS: Readonly<Record<string, string>> = {
  '+': '-',
  '-': '+',
  '*': '/',
  '/': '*',
  '%': '*',
  '<': '<=',
  '<=': '<',
  '>': '>=',
  '>=': '>',
  '===': '!==',
  '!==': '===',
  '&&': '||',
  '||': '&&',
  '+=': '-=',
  '-=': '+=',
  '*=': '/=',
  '++': '--',
  '--': '++',
};
const METHODS: Readonly<Record<string, string>> = {
  min: 'max',
  max: 'min',
  floor: 'ceil',
  ceil: 'floor',
  round: 'floor',
  some: 'every',
  every: 'some',
};
/** What an expression may be asked for at once: such a thing can only be exchanged whole. */
const STANDS_UNDER: Readonly<Record<string, string>> = {
  CallExpression: 'callee',
  TaggedTemplateExpression: 'tag',
  AssignmentExpression: 'left',
  UpdateExpression: 'argument',
};
/** Types only, or texts that no rule looks at. */
const PASSED_OVER = /^(TS|Import|ExportAll)/;

const isNode = (value: unknown): value is Node =>
  typeof value === 'object' && value !== null && typeof (value as Node).type === 'string';
const isText = (node: unknown) =>
  isNode(node) && (node.type === 'TemplateLiteral' || (node.type === 'Literal' && typeof node['value'] === 'string'));

/** Every mutant of a file. Throws where the source cannot be parsed. */
export function mutantsOf(file: string, source: string): Mutant[] {
  const { program, errors } = parseSync(file, source);
  if (errors.length > 0) throw new Error(`${file}: ${errors[0]!.message}`);
  const found: Mutant[] = [];
  const lineOf = (at: number) => source.slice(0, at).split('\n').length;
  const above: Node[] = [];
  const add = (start: number, end: number, becomes: string, within: Node = above.at(-1)!) => {
    const around = exchangeable(within, above);
    const instead = source.slice(around.start, start) + becomes + source.slice(end, around.end);
    const was = source.slice(start, end);
    found.push({ file, line: lineOf(start), start, end, was, becomes, around, instead });
  };
  /** Between two operands stands the operator, with blanks or a comment around it. */
  const swap = (from: number, to: number, operator: string) => {
    const becomes = OPERATORS[operator];
    const at = source.indexOf(operator, from);
    if (becomes !== undefined && at >= 0 && at < to) add(at, at + operator.length, becomes);
  };
  const visit = (value: unknown): void => {
    if (Array.isArray(value)) return value.forEach(visit);
    if (!isNode(value)) return;
    // What stands around an expression only for its type is passed over, the expression is not.
    const isForType = /^TS(As|Satisfies|NonNull)/.test(value.type);
    if (!isForType && PASSED_OVER.test(value.type)) return;
    above.push(value);
    if (!isForType) mutate(value);
    for (const [key, part] of Object.entries(value))
      if (isForType ? key === 'expression' : key !== 'type' && key !== 'parent') visit(part);
    above.pop();
  };
  const mutate = (node: Node): void => {
    const part = (key: string) => node[key] as Node;
    switch (node.type) {
      case 'BinaryExpression':
        if (node['operator'] === '+' && (isText(node['left']) || isText(node['right']))) return;
        return swap(part('left').end, part('right').start, String(node['operator']));
      case 'LogicalExpression':
      case 'AssignmentExpression':
        return swap(part('left').end, part('right').start, String(node['operator']));
      case 'UpdateExpression':
        return swap(node.start, node.end, String(node['operator']));
      case 'UnaryExpression':
        if (node['operator'] === '!' || (node['operator'] === '-' && part('argument').type !== 'Literal'))
          add(node.start, node.start + 1, '');
        return;
      case 'ConditionalExpression':
      case 'IfStatement':
        return add(
          part('test').start,
          part('test').end,
          `!(${source.slice(part('test').start, part('test').end)})`,
          part('test'),
        );
      case 'Literal':
        if (typeof node['value'] === 'number') add(node.start, node.end, otherFigure(node['value']));
        else if (typeof node['value'] === 'boolean') add(node.start, node.end, String(!node['value']));
        return;
      case 'MemberExpression': {
        const property = part('property');
        const becomes = node['computed'] === true ? undefined : METHODS[String(property['name'])];
        if (becomes !== undefined) add(property.start, property.end, becomes);
        return;
      }
      case 'ExpressionStatement':
        if (['CallExpression', 'AssignmentExpression'].includes(part('expression').type) && node['directive'] == null) {
          add(node.start, node.end, ';', part('expression'));
          found.at(-1)!.instead = '0';
        }
        return;
      default:
    }
  };
  visit(program);
  return found;
}

/**
 * The smallest expression around a node that another may stand for: what a method is called on, what is assigned to and the
 * inside of a chain of `?.` mean something only together with what follows them.
 */
function exchangeable(node: Node, above: readonly Node[]): Mutant['around'] {
  const line = above.includes(node) ? above.slice(0, above.indexOf(node)) : above;
  let found = node;
  for (const parent of line.toReversed()) {
    const stands = parent[STANDS_UNDER[parent.type] ?? ''] === found && found.type !== 'Literal';
    const isInChain =
      /^(Member|Call|TSNonNull)/.test(parent.type) && line.some(({ type }) => type === 'ChainExpression');
    const leads =
      parent.type === 'ChainExpression' ||
      (isInChain && (parent['object'] ?? parent['callee'] ?? parent['expression']) === found);
    if (parent.type === 'Property' && parent['key'] === found && parent['computed'] !== true)
      return { start: found.start, end: found.end, isKey: true };
    if (!stands && !leads) break;
    found = parent;
  }
  return { start: found.start, end: found.end, isKey: false };
}

/** A figure that is not this one: whole numbers one more, others a tenth more. */
function otherFigure(figure: number): string {
  return String(Number.isInteger(figure) ? figure + 1 : Number((figure * 1.1).toPrecision(12)));
}

export function mutated(source: string, { start, end, becomes }: Mutant): string {
  return source.slice(0, start) + becomes + source.slice(end);
}

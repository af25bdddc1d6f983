import { parameterAt, typesOf } from '../../expression/functions/define.ts';
import type { Expression } from '../../language/ast.ts';
import { expressionsIn, type Site } from '../analysis.ts';
import type { CheckContext, Rule } from '../rule.ts';
import { comparable, fits, type StaticType, staticType } from '../types.ts';

/**
 * 19.3 <comparison predicate>, 20.20 to 20.24: operands of types that fit. Only what the text itself shows is
 * reported; properties and parameters may be of any type.
 */
export const types: Rule = {
  sentence: 'What is compared, computed or handed to a function is of a type for which that has a meaning.',
  check(context) {
    for (const site of context.analysis.sites) {
      for (const node of expressionsIn(site.root)) look(node as Expression, site, context);
      if (site.part === 'where') truth(site.root, 'A condition after WHERE', site, context);
      if (site.part === 'filter') truth(site.root, 'FILTER', site, context);
    }
  },
};

function look(node: Expression, site: Site, context: CheckContext): void {
  const type = (inner: Expression): StaticType => staticType(inner, site, context.options.functions);
  const wrong = (message: string): void =>
    context.report('type-mismatch', node.span, message[0]!.toUpperCase() + message.slice(1));
  switch (node.kind) {
    case 'comparison': {
      const [left, right] = [type(node.left), type(node.right)];
      if (!comparable(left, right)) {
        wrong(
          `${a(left)} is never ${node.operator === '=' ? 'equal to' : `${node.operator}`} ${a(right)}; the condition can never hold.`,
        );
      } else if (!['=', '<>'].includes(node.operator) && (UNORDERED.has(left) || UNORDERED.has(right))) {
        wrong(
          `${a(UNORDERED.has(left) ? left : right)} is neither smaller nor larger than another; compare with = or <>.`,
        );
      }
      return;
    }
    case 'in':
      if (!fits(type(node.list), ['list']))
        wrong(`IN wants a list in square brackets, not ${a(type(node.list))}.`);
      return;
    case 'arithmetic':
      for (const operand of [type(node.left), type(node.right)]) {
        if (fits(operand, ['number', 'date', 'time', 'datetime', 'duration'])) continue;
        wrong(
          `"${node.operator}" computes with numbers, dates and durations, not with ${a(operand)}${['string', 'list'].includes(operand) ? '; texts and lists are joined with ||' : ''}.`,
        );
        return;
      }
      return;
    case 'sign':
      if (!fits(type(node.operand), ['number', 'duration']))
        wrong(`A sign belongs to a number, not to ${a(type(node.operand))}.`);
      return;
    case 'concatenation':
      for (const operand of [type(node.left), type(node.right)]) {
        if (fits(operand, ['string', 'list', 'path'])) continue;
        wrong(
          `|| joins texts, lists or paths, not ${a(operand)}; ${operand === 'boolean' ? 'conditions are joined with OR' : 'CAST(… AS STRING) makes a text'}.`,
        );
        return;
      }
      return;
    case 'logical':
      for (const operand of node.operands) truth(operand, node.operator, site, context);
      return;
    case 'not':
      truth(node.operand, 'NOT', site, context);
      return;
    case 'call': {
      const definition = context.options.functions.get(node.name);
      if (!definition) return;
      node.arguments.forEach((argument, i) => {
        const parameter = parameterAt(definition, i);
        const given = type(argument);
        if (!parameter || fits(given, typesOf(parameter))) return;
        context.report(
          'type-mismatch',
          argument.span,
          `${node.name} wants ${typesOf(parameter).map(a).join(' or ')} as its ${parameter.name}, not ${a(given)}${node.name === 'SIZE' && given === 'string' ? '; CHAR_LENGTH(text) counts characters' : ''}.`,
        );
      });
      return;
    }
    default:
  }
}

const UNORDERED: ReadonlySet<StaticType> = new Set<StaticType>([
  'node',
  'edge',
  'element',
  'path',
  'list',
  'record',
]);

function truth(node: Expression, what: string, site: Site, { options, report }: CheckContext): void {
  const type = staticType(node, site, options.functions);
  if (!fits(type, ['boolean']))
    report('type-mismatch', node.span, `${what} wants a condition, not ${a(type)}.`);
}

function a(type: StaticType): string {
  const words: Partial<Record<StaticType, string>> = {
    string: 'a text',
    boolean: 'a truth value',
    edge: 'an edge',
    element: 'a node or an edge',
    any: 'a value',
    null: 'NULL',
  };
  return words[type] ?? `a ${type}`;
}

/** Types of expressions, as far as the text shows. */
import type { FunctionTable } from '../expression/functions/define.ts';
import type { TypeName } from '../expression/value.ts';
import type { Arithmetic, Expression } from '../language/ast.ts';
import type { Site } from './analysis.ts';

/** `any` when the text does not show it; `null` for what is certainly null. */
export type StaticType = TypeName | 'null';

export function staticType(node: Expression, site: Site, functions: FunctionTable): StaticType {
  const type = (inner: Expression): StaticType => staticType(inner, site, functions);
  switch (node.kind) {
    case 'number':
    case 'string':
    case 'boolean':
    case 'null':
    case 'list':
    case 'record':
      return node.kind;
    case 'temporal':
      return node.type.toLowerCase() as TypeName;
    case 'variable': {
      const known = site.find(node.name);
      if (known?.items) return 'list';
      if (!known || known.kind === 'value') return 'any';
      return known.degree === 'group' ? 'list' : known.kind;
    }
    case 'parameter':
    case 'property':
    case 'case-subject':
    case 'value-query':
      return 'any';
    case 'sign':
      return type(node.operand) === 'duration' ? 'duration' : type(node.operand) === 'any' ? 'any' : 'number';
    case 'arithmetic':
      return arithmeticType(node, type(node.left), type(node.right));
    case 'concatenation': {
      const [left, right] = [type(node.left), type(node.right)];
      return left === 'any' ? right : left;
    }
    case 'comparison':
    case 'not':
    case 'logical':
    case 'is-null':
    case 'is-truth':
    case 'is-labeled':
    case 'is-directed':
    case 'is-endpoint':
    case 'in':
    case 'exists':
    case 'all-different':
    case 'same':
    case 'property-exists':
      return 'boolean';
    case 'case': {
      const results = [
        ...node.branches.map(({ result }) => result),
        ...(node.otherwise ? [node.otherwise] : []),
      ];
      const types = new Set(results.map(type).filter((one) => one !== 'null'));
      return types.size === 1 ? [...types][0]! : 'any';
    }
    case 'cast':
      return node.type === 'INTEGER' || node.type === 'FLOAT'
        ? 'number'
        : (node.type.toLowerCase() as TypeName);
    case 'trim':
      return 'string';
    case 'call':
      return functions.get(node.name)?.result ?? 'any';
    case 'aggregate':
      return node.name === 'COUNT' ? 'number' : node.name === 'COLLECT_LIST' ? 'list' : 'any';
    default:
      return node satisfies never;
  }
}

function arithmeticType({ operator }: Arithmetic, left: StaticType, right: StaticType): StaticType {
  if (left === 'number' && right === 'number') return 'number';
  if (operator === '+' || operator === '-') {
    if (isInstant(left)) return left;
    if (isInstant(right)) return right;
  }
  return left === 'duration' || right === 'duration'
    ? 'any'
    : left === 'any' || right === 'any'
      ? 'any'
      : 'number';
}

function isInstant(type: StaticType): boolean {
  return type === 'date' || type === 'time' || type === 'datetime';
}

/** Whether values of two types can ever be compared with each other. */
export function comparable(a: StaticType, b: StaticType): boolean {
  if (a === 'any' || b === 'any' || a === 'null' || b === 'null' || a === b) return true;
  const element = (one: StaticType): boolean => one === 'node' || one === 'edge';
  return (a === 'element' && element(b)) || (b === 'element' && element(a));
}

/** Whether a value of a type can be valid for a parameter of these types. */
export function fits(type: StaticType, wanted: readonly TypeName[]): boolean {
  return wanted.some((one) => one === 'any' || comparable(type, one));
}

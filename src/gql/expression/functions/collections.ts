/** Functions of lists, paths and elements, and those that choose among values (ISO/IEC 39075:2024, clause 20). */
import { equals } from '../compare.ts';
import { type ElementReference, isList, type PathValue, type Value } from '../value.ts';
import type { FunctionDefinition } from './define.ts';

function size(value: Value): Value {
  if (value === null) return null;
  if (isList(value)) return value.length;
  const { kind } = value as PathValue;
  if (kind === 'path') return (value as PathValue).elements.length;
  return Object.keys((value as { fields: object }).fields).length;
}

export const COLLECTION_FUNCTIONS: readonly FunctionDefinition[] = [
  {
    name: 'PATH_LENGTH',
    parameters: [{ name: 'path', type: 'path' }],
    result: 'number',
    doc: 'How many edges a path has.',
    standard: 'GF04',
    fn: ([path]) => ((path as PathValue).elements.length - 1) / 2,
  },
  {
    name: 'ELEMENTS',
    parameters: [{ name: 'path', type: 'path' }],
    result: 'list',
    doc: 'Nodes and edges of a path in turn.',
    standard: 'GF04',
    fn: ([path]) => (path as PathValue).elements,
  },
  {
    name: 'CARDINALITY',
    parameters: [{ name: 'collection', type: ['list', 'path', 'record'] }],
    result: 'number',
    doc: 'How many items a list, elements a path or fields a record has.',
    standard: 'GF12',
    fn: ([value]) => size(value!),
  },
  {
    name: 'SIZE',
    parameters: [{ name: 'list', type: 'list' }],
    result: 'number',
    doc: 'How many items a list has.',
    standard: 'GF13',
    fn: ([list]) => (list as readonly Value[]).length,
  },
  {
    name: 'TRIM',
    parameters: [
      { name: 'list', type: 'list' },
      { name: 'count', type: 'number' },
    ],
    result: 'list',
    doc: 'The list without its last items.',
    standard: '20.16',
    fn: ([list, count]) => {
      const items = list as readonly Value[];
      const drop = Math.trunc(count as number);
      return drop < 0 || drop > items.length ? null : items.slice(0, items.length - drop);
    },
  },
  {
    name: 'ELEMENT_ID',
    parameters: [{ name: 'element', type: 'element' }],
    result: 'string',
    doc: 'The id of a node or edge.',
    standard: 'G100',
    fn: ([element], { elements }) => elements.id(element as ElementReference),
  },
  {
    name: 'COALESCE',
    parameters: [
      { name: 'value', type: 'any' },
      { name: 'value', type: 'any', repeated: true },
    ],
    result: 'any',
    doc: 'The first value that is not null.',
    standard: '20.7',
    takesNull: true,
    fn: (values) => values.find((value) => value !== null) ?? null,
  },
  {
    name: 'NULLIF',
    parameters: [
      { name: 'value', type: 'any' },
      { name: 'other', type: 'any' },
    ],
    result: 'any',
    doc: 'Null when both values are equal, else the first.',
    standard: '20.7',
    takesNull: true,
    fn: ([value, other]) => (equals(value!, other!) === true ? null : value!),
  },
];

import type { State } from '../state/state.ts';
import { piecesInTurns, type Scope } from './graph/graph.ts';
import type { ExportEdge, ExportNode, Loss } from './graph/things.ts';

// A state as GraphML (graphml.graphdrawing.org, structure and attributes 1.0). The identifier of a node is an NMTOKEN there, which
// has no slashes; so the id of the archive stands whole in the key `id`, and the identifier is that id with what an NMTOKEN may
// not hold written out.

type Value = string | number | boolean | undefined;

interface Key<T> {
  readonly name: string;
  readonly type: 'string' | 'int' | 'double' | 'boolean';
  readonly of: (thing: T) => Value;
}

const at = ({ details }: ExportNode) => details.at as { readonly x: number; readonly y: number } | undefined;
const detail =
  (name: string) =>
  ({ details }: ExportNode): Value =>
    details[name] as Value;

const NODE_KEYS: readonly Key<ExportNode>[] = [
  { name: 'id', type: 'string', of: ({ id }) => id },
  { name: 'kind', type: 'string', of: ({ kind }) => kind },
  { name: 'name', type: 'string', of: ({ name }) => name },
  { name: 'device', type: 'string', of: ({ device }) => device },
  { name: 'specimen', type: 'string', of: ({ specimen }) => specimen },
  { name: 'side', type: 'string', of: ofComponents(detail('side')) },
  { name: 'x_mm', type: 'double', of: ofComponents((node) => at(node)?.x) },
  { name: 'y_mm', type: 'double', of: ofComponents((node) => at(node)?.y) },
  { name: 'rotation_deg', type: 'double', of: ofComponents(detail('rotation')) },
  { name: 'pin_count', type: 'int', of: ofComponents(detail('pins')) },
  { name: 'fitted', type: 'boolean', of: ofComponents(({ details }) => details.fitted !== false) },
  { name: 'details', type: 'string', of: ({ details }) => JSON.stringify(details) },
];

const EDGE_KEYS: readonly Key<ExportEdge>[] = [
  { name: 'label', type: 'string', of: ({ label }) => label },
  { name: 'probability', type: 'double', of: ({ probability }) => probability },
  { name: 'edgeDetails', type: 'string', of: ({ details }) => details && JSON.stringify(details) },
];

function ofComponents(of: Key<ExportNode>['of']): Key<ExportNode>['of'] {
  return (node) => (node.kind === 'Component' ? of(node) : undefined);
}

/**
 * The graph of a scope as pieces of a GraphML document. Nodes come first, so that readers who add edges as they meet them know
 * both ends.
 * @param lose told of what cannot stand in it
 * @throws the signal's reason
 */
export async function* graphmlOf(
  state: State,
  scope: Scope,
  lose: (loss: Loss) => void,
  signal?: AbortSignal,
): AsyncGenerator<string> {
  const keys = [
    ...NODE_KEYS.map((key) => keyElement(key, 'node')),
    ...EDGE_KEYS.map((key) => keyElement(key, 'edge')),
  ];
  yield `<?xml version="1.0" encoding="UTF-8"?>
<graphml xmlns="http://graphml.graphdrawing.org/xmlns" xmlns:xsi="http://www.w3.org/2001/XMLSchema-instance" xsi:schemaLocation="http://graphml.graphdrawing.org/xmlns http://graphml.graphdrawing.org/xmlns/1.0/graphml.xsd">
${keys.join('\n')}
<graph id="archive" edgedefault="directed">
`;
  for await (const { nodes } of piecesInTurns(state, scope, () => undefined, signal))
    yield nodes
      .map((node) => `<node id="${nmtoken(node.id)}">${dataOf(NODE_KEYS, node, node.id, lose)}</node>\n`)
      .join('');
  let number = 0;
  for await (const { edges } of piecesInTurns(state, scope, lose, signal))
    yield edges
      .map((edge) => {
        const directed = edge.directed ? '' : ' directed="false"';
        const ends = `source="${nmtoken(edge.source)}" target="${nmtoken(edge.target)}"`;
        return `<edge id="e${++number}"${directed} ${ends}>${dataOf(EDGE_KEYS, edge, edge.source, lose)}</edge>\n`;
      })
      .join('');
  yield '</graph>\n</graphml>\n';
}

/**
 * An id as an NMTOKEN (XML 1.0, production 7) that no other id has: ASCII letters, digits, `.`, `:` and `-` as they are, everything
 * else as `_` and four hexadecimal digits for each UTF-16 code unit, `_002F` for a slash.
 */
export function nmtoken(id: string): string {
  return id.replaceAll(
    /[^A-Za-z0-9.:-]/g,
    (unit) => `_${unit.charCodeAt(0).toString(16).toUpperCase().padStart(4, '0')}`,
  );
}

function keyElement<T>({ name, type }: Key<T>, on: 'node' | 'edge'): string {
  return `<key id="${name}" for="${on}" attr.name="${name === 'edgeDetails' ? 'details' : name}" attr.type="${type}"/>`;
}

function dataOf<T>(keys: readonly Key<T>[], thing: T, record: string, lose: (loss: Loss) => void): string {
  return keys
    .map(({ name, of }) => {
      const value = of(thing);
      if (value === undefined) return '';
      const text = String(value);
      const written = text.replaceAll(NOT_XML, '\uFFFD');
      if (written !== text)
        lose({
          record,
          field: name,
          why: 'it has characters that XML 1.0 cannot hold; U+FFFD stands for each',
        });
      return `<data key="${name}">${escaped(written)}</data>`;
    })
    .join('');
}

/** What production 2 of XML 1.0, Char, leaves out; lone surrogates too. */
const NOT_XML = /[^\t\n\r\u0020-\uD7FF\uE000-\uFFFD\u{10000}-\u{10FFFF}]/gu;

/** A carriage return would be read as a line feed (XML 1.0, section 2.11). */
function escaped(text: string): string {
  return text
    .replaceAll('&', '&amp;')
    .replaceAll('<', '&lt;')
    .replaceAll('>', '&gt;')
    .replaceAll('"', '&quot;')
    .replaceAll('\r', '&#13;');
}

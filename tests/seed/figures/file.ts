import { isMap, isSeq, type Node, parseDocument, type YAMLMap } from 'yaml';
import { type Part, partIdOf } from '../../../src/model/catalogue.ts';
import { draw, type Undrawn } from './draw.ts';

/** The parts that a catalogue file holds, by id. */
export function partsOf(text: string): ReadonlyMap<string, Undrawn> {
  const { parts } = parseDocument(text).toJS() as { parts: Part[] };
  return new Map(parts.map((part) => [partIdOf(part), { ...part, parameters: part.parameters ?? {} }]));
}

/**
 * The text of a catalogue file with its parts' outlines and figures drawn; every other character stays as it is.
 * @param parts all parts of the archive by id
 */
export function withFigures(text: string, parts: ReadonlyMap<string, Undrawn>): string {
  const document = parseDocument(text);
  const list = document.get('parts');
  if (!isSeq(list)) throw new Error('a file of parts has no list "parts"');
  const edits: { from: number; to: number; text: string }[] = [];
  const set = (node: unknown, value: string | number | undefined) => {
    const range = (node as Node | undefined)?.range;
    if (range && value !== undefined) edits.push({ from: range[0], to: range[1], text: String(value) });
  };
  for (const item of list.items) {
    const map = item as YAMLMap;
    const part = map.toJS(document) as Part;
    const drawn = draw({ ...part, parameters: part.parameters ?? {} }, parts);
    set(map.get('package', true), drawn.package);
    set(map.get('pins', true), drawn.pins);
    const body = map.get('body');
    if (isMap(body))
      for (const side of ['length', 'width', 'height'] as const)
        set(body.get(side, true), drawn.body?.[side]);
    const parameters = map.get('parameters');
    if (isMap(parameters))
      for (const [name, value] of Object.entries(drawn.parameters)) {
        // Quotes are for the sign of a negative figure.
        set(parameters.get(name, true), String(value).startsWith('-') ? `"${value}"` : value);
      }
  }
  return edits
    .sort((a, b) => b.from - a.from)
    .reduce((done, { from, to, text: value }) => done.slice(0, from) + value + done.slice(to), text);
}

/**
 * A graph from two CSV files (RFC 4180; the first line names the columns).
 *
 * Nodes: `id`, and `labels` separated by `;`, each with a weight after `:` if it is uncertain (`Cat:0.7;Pet`). Edges:
 * `source`, `target`, `label`, and optionally `id` and `directed` (`true`, the default, or `false`). Every other
 * column is a property: `true` and `false` are booleans, what reads as a JSON number is a number, anything else is a
 * string; an empty field means that the property is absent. A column named `name:string` (or `:number`, `:boolean`)
 * is read as that type only.
 */
import { readFile } from 'node:fs/promises';
import { parse } from 'csv-parse/sync';
import type { EdgeInput, LabelInput, NodeInput, PropertyValue } from '../storage/input.ts';

/** Has file and line. */
export class CsvError extends Error {
  override readonly name = 'CsvError';
}

export async function readGraphFiles(
  nodeFile: string,
  edgeFile: string,
): Promise<{ nodes: NodeInput[]; edges: EdgeInput[] }> {
  const nodes = await readRecords(nodeFile, ['id']);
  const edges = await readRecords(edgeFile, ['source', 'target']);
  return {
    nodes: nodes.map((record) => nodeOf(nodeFile, record)),
    edges: edges.map((record) => edgeOf(edgeFile, record)),
  };
}

interface Line {
  readonly number: number;
  readonly fields: Readonly<Record<string, string>>;
}

async function readRecords(file: string, needed: readonly string[]): Promise<Line[]> {
  const text = await readFile(file, 'utf8');
  let records: { record: Record<string, string>; info: { lines: number } }[];
  try {
    records = parse(text, {
      columns: true,
      bom: true,
      skip_empty_lines: true,
      info: true,
    }) as unknown as typeof records;
  } catch (error) {
    throw new CsvError(`${file}: ${error instanceof Error ? error.message : String(error)}`);
  }
  const [first] = records;
  if (first)
    for (const column of needed)
      if (!(column in first.record))
        throw new CsvError(
          `${file}:1: the column ${column} is missing; the columns are ${Object.keys(first.record).join(', ')}`,
        );
  return records.map(({ record, info }) => ({ number: info.lines, fields: record }));
}

function nodeOf(file: string, { number, fields }: Line): NodeInput {
  const { id, labels = '', ...rest } = fields;
  if (!id) throw new CsvError(`${file}:${number}: the id is empty`);
  return {
    id,
    labels: labels
      .split(';')
      .map((label) => label.trim())
      .filter((label) => label !== '')
      .map((label) => labelOf(label, file, number)),
    properties: propertiesOf(rest, file, number),
  };
}

function labelOf(text: string, file: string, line: number): LabelInput {
  const colon = text.lastIndexOf(':');
  if (colon < 0) return text;
  const weight = Number(text.slice(colon + 1));
  if (!(weight > 0 && weight <= 1))
    throw new CsvError(`${file}:${line}: the weight of label ${text} is not a number above 0 and at most 1`);
  return { label: text.slice(0, colon), weight };
}

function edgeOf(file: string, { number, fields }: Line): EdgeInput {
  const { source, target, label, id, directed, ...rest } = fields;
  if (!source || !target) throw new CsvError(`${file}:${number}: source and target must both be given`);
  if (directed && directed !== 'true' && directed !== 'false')
    throw new CsvError(`${file}:${number}: directed is ${directed}; it has to be true or false`);
  return {
    source,
    target,
    directed: directed !== 'false',
    properties: propertiesOf(rest, file, number),
    ...(label ? { label } : {}),
    ...(id ? { id } : {}),
  };
}

function propertiesOf(
  fields: Readonly<Record<string, string>>,
  file: string,
  line: number,
): Record<string, PropertyValue> {
  const properties: Record<string, PropertyValue> = {};
  for (const [column, text] of Object.entries(fields)) {
    if (text === '') continue;
    const [, name, type] = /^(.*):(string|number|boolean)$/.exec(column) ?? [null, column, ''];
    properties[name!] = readValue(
      text,
      type!,
      () => `${file}:${line}: ${column} is ${text}, which is not a ${type}`,
    );
  }
  return properties;
}

const JSON_NUMBER = /^-?(0|[1-9]\d*)(\.\d+)?([eE][+-]?\d+)?$/;

function readValue(text: string, type: string, complaint: () => string): PropertyValue {
  if (type === 'string') return text;
  const isBoolean = text === 'true' || text === 'false';
  if (type === 'boolean' && !isBoolean) throw new CsvError(complaint());
  if (isBoolean && type !== 'number') return text === 'true';
  if (JSON_NUMBER.test(text)) return Number(text);
  if (type === 'number') throw new CsvError(complaint());
  return text;
}

/**
 * A graph from two CSV files (RFC 4180; the first line names the columns).
 *
 * Nodes: `id`, and `labels` separated by `;`, each with a weight after `:` if it is uncertain (`Cat:0.7;Pet`). Edges:
 * `source`, `target`, `label`, and optionally `id` and `directed` (`true`, the default, or `false`). Every other
 * column is a property: `true` and `false` are booleans, what reads as a JSON number is a number, anything else is a
 * string; an empty field means that the property is absent. A column named `name:string` (or `:number`, `:boolean`)
 * is read as that type only.
 */
import { systemTrouble } from '../../text/system-trouble.ts';
import type { EdgeInput, LabelInput, NodeInput, PropertyValue } from '../storage/input.ts';
import { Cells } from './cells.ts';
import { CsvError, type CsvRecord, scanCsv } from './scan-csv.ts';

export { CsvError } from './scan-csv.ts';

/** Fields kept for each column, and ids for each file. */
const KEPT = 2 ** 12;
const KEPT_IDS = 2 ** 16;

const textOf = (text: string) => text;

/** Nodes and edges of two files. Throws CsvError. What is equal in several of them may be one object. */
export async function readGraphFiles(
  nodeFile: string,
  edgeFile: string,
): Promise<{ nodes: NodeInput[]; edges: EdgeInput[] }> {
  return {
    nodes: await opened(nodeFile, 'nodes, with the column id', readNodes),
    edges: await opened(edgeFile, 'edges, with the columns source and target', readEdges),
  };
}

/** Reads a file; a file that cannot be read is a CsvError as well. */
async function opened<T>(file: string, what: string, read: (file: string) => Promise<T>): Promise<T> {
  try {
    return await read(file);
  } catch (error) {
    const trouble = error instanceof CsvError ? undefined : systemTrouble(error);
    throw trouble ? new CsvError(`${file} ${trouble.what}; give the CSV file of ${what}`) : error;
  }
}

async function readNodes(file: string): Promise<NodeInput[]> {
  const nodes: NodeInput[] = [];
  const ids = new Cells(KEPT_IDS, textOf);
  const labels = new Cells(KEPT, labelsOf);
  let id = -1;
  let label = -1;
  let properties: readonly Property[] = [];
  await scanCsv(
    file,
    (record) => {
      id = columnOf(record, 'id');
      label = record.columns.indexOf('labels');
      properties = propertiesOf(record, ['id', 'labels']);
    },
    (record) => {
      if (record.isEmpty(id)) throw record.problem('the id is empty');
      nodes.push({
        id: ids.of(record, id),
        labels: label < 0 ? [] : labels.of(record, label),
        properties: read(record, properties),
      });
    },
  );
  return nodes;
}

async function readEdges(file: string): Promise<EdgeInput[]> {
  const edges: EdgeInput[] = [];
  const ids = new Cells(KEPT_IDS, textOf);
  const labels = new Cells(KEPT, textOf);
  let source = -1;
  let target = -1;
  let label = -1;
  let id = -1;
  let directed = -1;
  let properties: readonly Property[] = [];
  await scanCsv(
    file,
    (record) => {
      source = columnOf(record, 'source');
      target = columnOf(record, 'target');
      [label, id, directed] = ['label', 'id', 'directed'].map((name) => record.columns.indexOf(name)) as [
        number,
        number,
        number,
      ];
      properties = propertiesOf(record, ['source', 'target', 'label', 'id', 'directed']);
    },
    (record) => {
      if (record.isEmpty(source) || record.isEmpty(target))
        throw record.problem('source and target must both be given');
      const isUndirected = directed >= 0 && record.reads(directed, 'false');
      if (directed >= 0 && !isUndirected && !record.isEmpty(directed) && !record.reads(directed, 'true'))
        throw record.problem(`directed is ${record.text(directed)}; it has to be true or false`);
      const edge = {
        source: ids.of(record, source),
        target: ids.of(record, target),
        directed: !isUndirected,
        properties: read(record, properties),
      };
      if (label >= 0 && !record.isEmpty(label)) (edge as { label?: string }).label = labels.of(record, label);
      if (id >= 0 && !record.isEmpty(id)) (edge as { id?: string }).id = record.text(id);
      edges.push(edge);
    },
  );
  return edges;
}

function columnOf(record: CsvRecord, name: string): number {
  const column = record.columns.indexOf(name);
  if (column < 0)
    throw record.problem(`the column ${name} is missing; the columns are ${record.columns.join(', ')}`);
  return column;
}

function labelsOf(text: string, record: CsvRecord): readonly LabelInput[] {
  return text
    .split(';')
    .map((label) => label.trim())
    .filter((label) => label !== '')
    .map((label) => labelOf(label, record));
}

function labelOf(text: string, record: CsvRecord): LabelInput {
  const colon = text.lastIndexOf(':');
  if (colon < 0) return text;
  const weight = Number(text.slice(colon + 1));
  if (!(weight > 0 && weight <= 1))
    throw record.problem(`the weight of label ${text} is not a number above 0 and at most 1`);
  return { label: text.slice(0, colon), weight };
}

/** A column that is a property. */
interface Property {
  readonly name: string;
  readonly field: number;
  readonly cells: Cells<PropertyValue>;
}

/** The columns that are not among `others`. */
function propertiesOf({ columns }: CsvRecord, others: readonly string[]): readonly Property[] {
  return columns.flatMap((column, field) => {
    if (others.includes(column)) return [];
    const [, name = column, type = ''] = /^(.*):(string|number|boolean)$/s.exec(column) ?? [];
    const cells = new Cells(KEPT, (text, record) =>
      readValue(text, type, () => record.problem(`${column} is ${text}, which is not a ${type}`)),
    );
    return { name, field, cells };
  });
}

function read(record: CsvRecord, columns: readonly Property[]): Record<string, PropertyValue> {
  const properties: Record<string, PropertyValue> = {};
  for (const { name, field, cells } of columns)
    if (!record.isEmpty(field)) properties[name] = cells.of(record, field);
  return properties;
}

const JSON_NUMBER = /^-?(0|[1-9]\d*)(\.\d+)?([eE][+-]?\d+)?$/;

function readValue(text: string, type: string, problem: () => CsvError): PropertyValue {
  if (type === 'string') return text;
  const isBoolean = text === 'true' || text === 'false';
  if (type === 'boolean' && !isBoolean) throw problem();
  if (isBoolean && type !== 'number') return text === 'true';
  if (JSON_NUMBER.test(text)) return Number(text);
  if (type === 'number') throw problem();
  return text;
}

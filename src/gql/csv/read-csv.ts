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
export const KEPT = 2 ** 12;
const KEPT_IDS = 2 ** 16;

/** Nodes and edges of two files. Throws CsvError. What is equal in several of them may be one object. */
export async function readGraphFiles(
  nodeFile: string,
  edgeFile: string,
): Promise<{ nodes: NodeInput[]; edges: EdgeInput[] }> {
  const nodes: NodeInput[] = [];
  await scanNodes(nodeFile, (header) => {
    const { id, labels, properties } = nodeColumns(header, (value) => value);
    const ids = idCells();
    const labelsAt = new Cells(KEPT, labelsOf);
    return (record) => {
      checkNode(record, id);
      nodes.push({
        id: ids.of(record, id),
        labels: labels < 0 ? [] : labelsAt.of(record, labels),
        properties: read(record, properties),
      });
    };
  });
  const edges: EdgeInput[] = [];
  await scanEdges(edgeFile, (header) => {
    const { source, target, label, id, directed, properties } = edgeColumns(header, (value) => value);
    const ids = idCells();
    const labels = new Cells(KEPT, (text) => text);
    return (record) => {
      checkEdge(record, source, target);
      const edge = {
        source: ids.of(record, source),
        target: ids.of(record, target),
        directed: isDirected(record, directed),
        properties: read(record, properties),
      };
      if (isGiven(record, label)) (edge as { label?: string }).label = labels.of(record, label);
      if (isGiven(record, id)) (edge as { id?: string }).id = record.text(id);
      edges.push(edge);
    };
  });
  return { nodes, edges };
}

const idCells = () => new Cells(KEPT_IDS, (text) => text);

/** Calls back for what is then called with each line of a file of nodes. Throws CsvError. */
export async function scanNodes(file: string, begin: Parameters<typeof scanCsv>[1]): Promise<void> {
  await opened(file, 'nodes, with the column id', begin);
}

/** The same for a file of edges. */
export async function scanEdges(file: string, begin: Parameters<typeof scanCsv>[1]): Promise<void> {
  await opened(file, 'edges, with the columns source and target', begin);
}

/** Scans a file; a file that cannot be read is a CsvError as well. */
async function opened(file: string, what: string, begin: Parameters<typeof scanCsv>[1]): Promise<void> {
  try {
    await scanCsv(file, begin);
  } catch (error) {
    const trouble = error instanceof CsvError ? undefined : systemTrouble(error);
    throw trouble ? new CsvError(`${file} ${trouble.what}; give the CSV file of ${what}`) : error;
  }
}

/** Where the parts of a node stand in a line; -1 for a column that is not there. */
export interface NodeColumns<T> {
  readonly id: number;
  readonly labels: number;
  readonly properties: readonly Property<T>[];
}

/** The same for an edge. */
export interface EdgeColumns<T> {
  readonly source: number;
  readonly target: number;
  readonly label: number;
  readonly id: number;
  readonly directed: number;
  readonly properties: readonly Property<T>[];
}

/**
 * @param make of the value of a property, once for many lines
 * @param other a column that is no property
 */
export function nodeColumns<T>(
  header: CsvRecord,
  make: (value: PropertyValue) => T,
  other?: string,
): NodeColumns<T> {
  const labels = header.columns.indexOf('labels');
  return {
    id: columnOf(header, 'id'),
    labels,
    properties: propertiesOf(header, ['id', 'labels', other], make),
  };
}

export function edgeColumns<T>(
  header: CsvRecord,
  make: (value: PropertyValue) => T,
  other?: string,
): EdgeColumns<T> {
  const place = (column: string) => header.columns.indexOf(column);
  return {
    source: columnOf(header, 'source'),
    target: columnOf(header, 'target'),
    label: place('label'),
    id: place('id'),
    directed: place('directed'),
    properties: propertiesOf(header, ['source', 'target', 'label', 'id', 'directed', other], make),
  };
}

/** Throws CsvError where a line is not a node. */
export function checkNode(record: CsvRecord, id: number): void {
  if (record.isEmpty(id)) throw record.problem('the id is empty');
}

export function checkEdge(record: CsvRecord, source: number, target: number): void {
  if (record.isEmpty(source) || record.isEmpty(target))
    throw record.problem('source and target must both be given');
}

/** Whether a line has something in a column. */
export function isGiven(record: CsvRecord, column: number): boolean {
  return column >= 0 && !record.isEmpty(column);
}

export function isDirected(record: CsvRecord, column: number): boolean {
  if (!isGiven(record, column) || record.reads(column, 'true')) return true;
  if (record.reads(column, 'false')) return false;
  throw record.problem(`directed is ${record.text(column)}; it has to be true or false`);
}

/** Throws CsvError when there is none. */
export function columnOf(record: CsvRecord, name: string): number {
  const column = record.columns.indexOf(name);
  if (column < 0)
    throw record.problem(`the column ${name} is missing; the columns are ${record.columns.join(', ')}`);
  return column;
}

export function labelsOf(text: string, record: CsvRecord): readonly LabelInput[] {
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

/** A property, and the columns that it is read from: the last one that has a value. */
export interface Property<T> {
  readonly name: string;
  readonly sources: readonly Source<T>[];
}

interface Source<T> {
  readonly column: number;
  readonly cells: Cells<T>;
  /** Whether what reads as a number is one. */
  readonly mayBeNumber: boolean;
}

function propertiesOf<T>(
  { columns }: CsvRecord,
  others: readonly (string | undefined)[],
  make: (value: PropertyValue) => T,
): readonly Property<T>[] {
  const sources = new Map<string, Source<T>[]>();
  columns.forEach((given, column) => {
    if (others.includes(given)) return;
    const [, name = given, type = ''] = /^(.*):(string|number|boolean)$/s.exec(given) ?? [];
    const cells = new Cells(KEPT, (text, record) =>
      make(readValue(text, type, () => record.problem(`${given} is ${text}, which is not a ${type}`))),
    );
    const source = { column, cells, mayBeNumber: type === '' || type === 'number' };
    const known = sources.get(name);
    if (known) known.unshift(source);
    else sources.set(name, [source]);
  });
  return [...sources].map(([name, from]) => ({ name, sources: from }));
}

/** Calls back with each property that a line has: as a number, or as what was made of its value. */
export function eachProperty<T>(
  record: CsvRecord,
  properties: readonly Property<T>[],
  takeNumber: (name: string, value: number) => void,
  take: (name: string, value: T) => void,
): void {
  const { starts, ends } = record;
  for (let p = 0; p < properties.length; p++) {
    const { name, sources } = properties[p]!;
    for (let s = 0; s < sources.length; s++) {
      const { column, cells, mayBeNumber } = sources[s]!;
      if (starts[column] === ends[column]) continue;
      const number = mayBeNumber ? record.number(column) : Number.NaN;
      if (!Number.isNaN(number)) takeNumber(name, number);
      else take(name, cells.of(record, column));
      break;
    }
  }
}

function read(
  record: CsvRecord,
  properties: readonly Property<PropertyValue>[],
): Record<string, PropertyValue> {
  const values: Record<string, PropertyValue> = {};
  const take = (name: string, value: PropertyValue) => {
    values[name] = value;
  };
  eachProperty(record, properties, take, take);
  return values;
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
